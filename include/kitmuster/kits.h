/* SPDX-License-Identifier: MIT */
/*
 * kits - kits beside each other: which slot is which, what differs, and which
 * kit explains the tools that came with a machine.
 *
 * Owner    whoever made the struct; it points into the kits' load and is
 *          valid while that is.
 * Units    as in model.h
 */
#ifndef KITMUSTER_KITS_H
#define KITMUSTER_KITS_H

#include "kitmuster/audit.h"
#include "kitmuster/load.h"
#include "kitmuster/model.h"
#include "kitmuster/report.h"
#include "kitmuster/status.h"

/* ------------------------------------------------------------------ */
/* Kits side by side                                                   */

/* What else of two slots may differ, beside their attributes. */
enum km_slot_diff {
	KM_DIFF_COUNT = 1 << 0,
	KM_DIFF_EXISTS = 1 << 1,	/* how sure it is that there is one */
	KM_DIFF_POCKET = 1 << 2,
	KM_DIFF_DURABLE = 1 << 3,
	KM_DIFF_POINTS = 1 << 4,
	KM_DIFF_GOES_WITH = 1 << 5	/* with slots that are not the same */
};

/* A slot of each kit that are the same place, or a slot of one kit alone. */
struct km_slot_pair {
	const struct km_slot *a, *b;	/* NULL: that kit has no such slot */
	uint32_t attrs;			/* bits 1 << enum km_attr: the kits
					 * claim other values */
	uint32_t sure;			/* the same: equal values, claimed with
					 * another certainty */
	uint32_t rest;			/* bits of enum km_slot_diff */
	int32_t cost;			/* how unlike they are; see align.h */
};

/* Two kits, slot by slot. */
struct km_alignment {
	const struct km_kit *a, *b;
	/* every slot once: those of a in the order of a, then those that b
	 * alone has, in the order of b */
	const struct km_slot_pair *pairs;
	uint32_t n;
	uint32_t n_same, n_differ, n_only_a, n_only_b;	/* they add up to n */
	int64_t cost;			/* of all pairs and lone slots */
};

/* What two kits may claim otherwise of the kit as a whole.  What says only
 * which machines a kit is of (serials, years, market) is no difference. */
enum km_kit_diff {
	KM_DIFF_MAKER_MARKS = 1 << 0,
	KM_DIFF_POUCH = 1 << 1
};

struct km_kit_pair {
	struct km_alignment of;
	uint32_t whole;			/* bits of enum km_kit_diff */
	bool same;			/* nothing differs */
};

/* Several kits, each laid beside the first. */
struct km_side_by_side {
	struct km_arena *mem;
	const struct km_kit *first;
	const struct km_kit_pair *pairs;
	uint32_t n;			/* 1 or more */
	bool same;			/* all of them */
};

/*
 * Lay the kits of a load beside each other.
 *
 * kits, n   ids, the one to compare with first; n 0: all kits, by id
 * d         gets what is wrong
 * out       untouched unless KM_OK is returned; freed by
 *           km_side_by_side_free() before the load is
 * errors    KM_EINPUT: no such kit, or fewer than two; KM_ENOMEM, KM_ERANGE
 */
enum km_status km_kits_compare(const struct km_load *load,
			       const char *const *kits, uint32_t n,
			       struct km_diags *d,
			       struct km_side_by_side **out);
void km_side_by_side_free(struct km_side_by_side *s);

/* In a format of tables; else as km_report(). */
enum km_status km_report_compare(const struct km_side_by_side *s,
				 enum km_format f,
				 const struct km_report_options *o,
				 const struct km_sink *to);

/* ------------------------------------------------------------------ */
/* Which kit explains the tools                                        */

/* How a kit explains a tool, best first. */
enum km_explained {
	KM_EXPLAINS,		/* all that is recorded agrees */
	KM_EXPLAINS_PARTLY,	/* so far; something is not recorded */
	KM_EXPLAINS_AS_VARIANT,	/* the place is its own, but it differs */
	KM_EXPLAINS_NOT		/* a stray: the kit has no place for it */
};

struct km_explained_tool {	/* one tool under one kit */
	enum km_explained how;
	const struct km_slot *slot;	/* NULL for a stray */
	/* what differs, or is not recorded, or NULL: a comparison without the
	 * condition, since wear tells nothing about the kit */
	const struct km_match *match;
	uint32_t n_differ, n_agree;	/* aspects */
	bool decides;			/* tells this kit from the first */
};

/* What tells a kit from the first of the ranking. */
enum km_told_apart {
	KM_APART_NOT_ASKED,	/* it is the first, or its tools are not kept */
	KM_APART_TOOLS,
	KM_APART_EMPTY,		/* no tool does; the first has fewer places
				 * empty */
	KM_APART_AGREE,		/* nor that: more agrees with the first */
	KM_APART_NOTHING
};

/* One kit under one machine's tools. */
struct km_kit_rank {
	const struct km_kit *kit;
	/* from 1; kits that explain the tools equally well share a rank */
	uint32_t rank;
	uint32_t n_full, n_partly, n_variant, n_stray;	/* of the tools */
	uint32_t n_explained;		/* in full or partly */
	uint32_t n_differ;		/* aspects in which variants differ */
	uint32_t n_agree;		/* aspects that tools bear out */
	/* places of firm durable slots that are not empty by design: all, and
	 * those that got no tool */
	uint32_t n_places, n_empty;
	/* what the machine's record says against it */
	bool serial_outside, date_outside, market_other;
	int64_t outside_by;		/* 0: inside, not known, or a serial
					 * number of another form */
	/* one each of the ranking's tools; NULL but for the first few kits */
	const struct km_explained_tool *tools;
	enum km_told_apart apart;
	const struct km_slot *const *empty;	/* with places that are empty */
	uint32_t n_empty_slots;
};

#define KM_RANKS_IN_FULL 3		/* kits of which tools are kept */

/* Which tools a ranking goes by. */
enum km_ranked_by {
	KM_BY_CAME_WITH,	/* those that came with the machine */
	KM_BY_OWNER,		/* none did: all of its owner */
	KM_BY_BENCH		/* there is no machine: all */
};

/* The kits for one machine. */
struct km_ranking {
	const struct km_machine *machine;	/* NULL: none recorded */
	enum km_ranked_by by;
	const struct km_tool *const *tools;	/* by id */
	uint32_t n_tools;
	const struct km_kit_rank *kits;		/* best first */
	uint32_t n_kits;
};

struct km_which {
	struct km_arena *mem;
	const struct km_ranking *rankings;	/* one a machine, or one */
	uint32_t n;
};

/*
 * Rank the kits of a load by how well they explain the tools of each machine.
 * Parameters, ownership and errors as km_kits_compare(), but one kit is
 * enough, and KM_EINPUT also where there is no tool to go by.
 */
enum km_status km_kits_rank(const struct km_load *load,
			    const char *const *kits, uint32_t n,
			    struct km_diags *d, struct km_which **out);
void km_which_free(struct km_which *w);

/* In a format of tables; else as km_report(). */
enum km_status km_report_which(const struct km_which *w, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to);

#endif
