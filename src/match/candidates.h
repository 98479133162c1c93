/* SPDX-License-Identifier: MIT */
/*
 * candidates - for every slot of a run, the tools that could stand in it.
 *
 * Only verdict and score of a candidate are kept; the whole comparison, fifty
 * times as large, is made when it is asked for.  Slots of one kit that want
 * the same share one list.
 *
 * Owner    the arena given
 */
#ifndef KM_MATCH_CANDIDATES_H
#define KM_MATCH_CANDIDATES_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/compare.h"

/* One kit that takes part in the run, with the rules it is held to. */
struct km_party {
	const struct km_kit *kit;
	const struct km_machine *machine;	/* may be NULL */
	/* a slot each: is it not the same in every kit that the machine may
	 * have left with?  NULL: it is in all slots */
	const bool *depends;
	struct km_rules rules;
};

struct km_candidate {
	const struct km_tool *tool;
	int32_t score;			/* thousandths, as km_match.score */
	uint8_t verdict;		/* enum km_verdict, settled */
	bool came_with;			/* the machine of the kit */
	bool reaches;			/* false: no work takes it there */
};

struct km_candidates {			/* of one slot of one party */
	const struct km_slot *slot;
	const struct km_party *of;
	uint32_t party;			/* its index */
	uint32_t first;			/* slot whose lists these are: the first
					 * that wants the same, or itself */
	const struct km_candidate *v;	/* usable, in km_candidate_order() */
	uint32_t n;
	const struct km_candidate *not_ours;	/* the best few of those that
						 * may not be used */
	uint32_t n_not_ours;
	struct km_match **match;	/* made so far, one of v each; or NULL */
};

/* Who may use what: a tool that is refused is kept apart. */
struct km_filter {
	/* The answer follows from the party, and the owner and the status of
	 * the tool; it is not asked again for the same. */
	enum km_use { KM_USE, KM_USE_NOT_OURS, KM_USE_IGNORE } (*use)(
		const struct km_party *, const struct km_tool *, void *ctx);
	void *ctx;
	/* Does a permitted route take the match to the standard?  Asked of a
	 * candidate that wants work and would be kept if it does; negative:
	 * memory ran out.  NULL: taken as possible. */
	int (*reaches)(void *cure, const struct km_party *,
		       const struct km_match *);
	void *cure;
	uint32_t spare;		/* further usable candidates to keep a slot */
};

/*
 * All of them, one element a slot, in (party, slot) order; *n is the sum of
 * the kits' slots.  A slot left empty by design has none.
 *
 * limits   of the arenas it works in; NULL: the defaults
 * filter   NULL: every tool may be used, all work is possible
 * Kept     of each slot the best usable candidates in km_candidate_order(), as
 *          many as the run has places for a tool of its kind, and one more
 *          for each pinned tool, and `spare`; and the best 3 that are not
 *          ours.  That is exact: if an allocation gave the slot a dropped
 *          tool, one of those kept would be free, since the other places and
 *          the pins hold fewer, and taking it instead raises the first key in
 *          which the two differ (verdict, score, came with, id) and leaves
 *          every other place as it is.
 * Time     tools that differ in length and condition alone are looked at
 *          together (alike.h); the other work is one step for each tool and
 *          slot that it could still be among the best of
 * Memory   24 bytes a candidate kept, once for slots that want the same, and
 *          as much again for what a list outgrew; while it works, 10 MB and
 *          some 250 bytes a slot
 * errors   KM_ENOMEM, KM_ELIMIT (2^30 slots)
 */
enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_limits *limits,
				  const struct km_party *parties,
				  uint32_t n_parties,
				  const struct km_tools *bench,
				  const struct km_filter *filter,
				  struct km_candidates **out, size_t *n);

/* Did a tool come with the machine of a kit?  By its serial number, or its
 * title. */
bool km_came_with(const struct km_party *p, const struct km_tool *tool);

/* The whole comparison of candidate k of v, settled as it was when it was
 * found: the same object each time.  NULL: no memory. */
struct km_match *km_candidates_match(struct km_arena *mem,
				     struct km_candidates *c, uint32_t k);

/* As km_match_order(): verdict, score, came with the machine, then id as
 * people count. */
int km_candidate_order(const struct km_candidate *a,
		       const struct km_candidate *b);
/* A candidate against a comparison of the same slot, in the same order. */
int km_candidate_against(const struct km_candidate *c,
			 const struct km_match *m);

#endif
