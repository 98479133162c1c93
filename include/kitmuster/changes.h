/* SPDX-License-Identifier: MIT */
/*
 * changes - what turned between two audits, why, and what it is in money.
 *
 * Both are given as the JSON of one sheet: `slots`, whose rows are compared
 * slot by slot, or `summary`, whose figures are compared kit by kit.
 *
 * Owner    the changes own all below; nothing points into the inputs
 * Units    minor units, with `decimals` of the currency
 */
#ifndef KITMUSTER_CHANGES_H
#define KITMUSTER_CHANGES_H

#include "kitmuster/diag.h"
#include "kitmuster/load.h"
#include "kitmuster/report.h"
#include "kitmuster/status.h"

enum km_change_what {
	KM_CHANGE_TURNED,	/* the verdict */
	KM_CHANGE_TOOLS,	/* other tools, the same verdict */
	KM_CHANGE_REASON,	/* the same verdict for another reason */
	KM_CHANGE_DECISION,	/* what to do about it */
	KM_CHANGE_COST,		/* only what that costs */
	KM_CHANGE_WANTED,	/* only what the kit asks for */
	KM_CHANGE_CAME, KM_CHANGE_WENT	/* the slot */
};

struct km_slot_change {
	const char *kit, *slot;
	enum km_change_what what;	/* the first of these that is true */
	const char *was, *is;		/* verdicts; NULL: no such slot */
	const char *const *why;		/* the clues, one a text */
	uint32_t n_why;
	/* what the decision costs by itself, likely; -1: nothing is known */
	int64_t cost_was, cost_is;
	/* where the kit itself has changed: slots of other kits that ask for
	 * the same as it did, as kit/slot, and how many there are beside */
	const char *const *shared;
	uint32_t n_shared, n_shared_more;
};

/* An order for a place that needs it no more. */
struct km_order_change {
	const char *tool, *kit, *slot;
	bool gone;			/* the slot; else it is right without */
};

struct km_figure_change {
	const char *kit, *figure, *was, *is;	/* NULL: not given there */
};

struct km_changes {
	struct km_arena *mem;
	const char *currency;		/* NULL: none, or not the same */
	int decimals;
	const struct km_slot_change *slots;	uint32_t n_slots;
	const struct km_order_change *orders;	uint32_t n_orders;
	const struct km_figure_change *figures;	uint32_t n_figures;
	bool totals;			/* both have a plan, in one currency */
	int64_t total_was, total_is;	/* likely, to finish */
	bool same;
};

/*
 * Read and compare two audits.
 *
 * lim       NULL means the defaults
 * d         gets what is wrong with the inputs
 * out       untouched unless KM_OK is returned
 * errors    KM_EINPUT, KM_EIO, KM_ENOMEM
 */
enum km_status km_changes_find(const struct km_input *was,
			       const struct km_input *is,
			       const struct km_limits *lim, struct km_diags *d,
			       struct km_changes **out);
void km_changes_free(struct km_changes *c);

/* Text, CSV, TSV or JSON; else as km_report(). */
enum km_status km_report_changes(const struct km_changes *c, enum km_format f,
				 const struct km_report_options *o,
				 const struct km_sink *to);

#endif
