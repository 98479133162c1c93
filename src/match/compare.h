/* SPDX-License-Identifier: MIT */
/*
 * compare - one tool or offer against one slot: outcomes, axis scores,
 * verdict, the one headline reason, and whether it may turn a nut.
 *
 * Pure: structs in, a struct out, no memory.
 */
#ifndef KM_MATCH_COMPARE_H
#define KM_MATCH_COMPARE_H

#include <stdbool.h>

#include "kitmuster/audit.h"
#include "match/rules.h"
#include "trade/jaw.h"

/*
 * The ends of a thing as marked and as measured, read once: what an opening
 * may be does not depend on the slot.
 */
#define KM_ENDS_READ 16		/* ends of one tool that are compared */

struct km_reading {
	const struct km_size *marked;	/* NULL: not marked */
	struct km_span opening;		/* nm 0: not measured */
	/* marked and measured, a hexagon: */
	enum km_opening_is is;		/* else KM_OPENING_UNKNOWN */
	const struct km_size *other;	/* whose opening it is instead */
	int64_t spread_nm;		/* over the greatest opening; 0 */
	/* measured alone: what it may be */
	const struct km_size *found[KM_OPENING_MOST];
	uint32_t n_found;
};

struct km_readings {
	uint32_t n;
	bool has_length;
	struct km_span length;
	bool none;			/* recorded as having no sizes */
	struct km_reading v[KM_ENDS_READ];
};

/* Ends and length of a thing; book NULL: openings are not read. */
void km_readings_take(struct km_readings *r, const struct km_traits *t,
		      const struct km_size_book *book);

/* The thing compared. */
struct km_thing {
	const struct km_traits *traits;
	const struct km_condition *condition;	/* NULL: not recorded */
	bool at_plater;		/* finish and surface are being renewed */
	bool unused;		/* a new offer: nothing recorded is no fault */
	bool came_with;		/* the machine of the kit; only breaks ties */
	const struct km_tool *tool;	/* one of these two is set */
	const struct km_offer *offer;
	const struct km_readings *readings;	/* NULL: read anew */
};

/*
 * Is it a candidate at all: the slot's kind and a drive of it; where sizes
 * are wanted, one end right, serving, undecided or contradicting its own mark,
 * or no end recorded at all; else a length within 25 per cent of the slot's,
 * or none recorded.
 */
bool km_compare_is_candidate(const struct km_rules *rules,
			     const struct km_slot *slot,
			     const struct km_thing *thing);

/*
 * Compare everything.  The verdict takes work as possible: a match whose
 * worst letter is KM_CURABLE is KM_AFTER_WORK until km_match_settle() is told
 * that no route reaches the standard.
 */
void km_compare(const struct km_rules *rules, const struct km_slot *slot,
		const struct km_thing *thing, struct km_match *out);

/* A slot made ready for a search among many things. */
struct km_target {
	const struct km_rules *rules;
	const struct km_slot *slot;
	/* the attributes it asks for, bits 1 << enum km_attr: those with a
	 * value or `none`, unless their certainty is `unknown` */
	uint32_t wants;
	/* where one length is wanted, its limits, else all there are; and the
	 * letters of a thing that lies outside by little and by more */
	int64_t low_nm, high_nm;
	enum km_letter outside, far;
};

void km_target_init(struct km_target *t, const struct km_rules *rules,
		    const struct km_slot *slot);

/* Does anything of the match want work? */
bool km_match_wants_work(const struct km_match *m);

/* Tell a match that wants work whether a permitted route reaches the
 * standard; without one all that is curable fails, as the rules say, and the
 * verdict and the headline follow. */
void km_match_settle(struct km_match *m, bool reaches);

/* Order of candidates of one slot: verdict, score, came with the machine,
 * then id as people count.  <0 when a is the better one; never 0 for two
 * different tools. */
int km_match_order(const struct km_match *a, const struct km_match *b);

#endif
