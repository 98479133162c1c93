/* SPDX-License-Identifier: MIT */
/*
 * candidates - for every slot of a run, the tools that could stand in it.
 *
 * A tool is held only against the slots of its kind (and, for sized kinds,
 * of a size that it could serve), so that a bench of a hundred thousand tools
 * against twenty kits costs far less than every pair.
 *
 * Owner    the arena given.
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
	struct km_rules rules;
};

struct km_candidates {			/* of one slot of one party */
	const struct km_slot *slot;
	uint32_t party;
	struct km_match **v;		/* usable, in km_match_order() */
	uint32_t n;
	struct km_match **not_ours;	/* the best few that may not be used */
	uint32_t n_not_ours;
};

/* Who may use what: a tool that is refused is kept apart. */
struct km_filter {
	enum km_use { KM_USE, KM_USE_NOT_OURS, KM_USE_IGNORE } (*use)(
		const struct km_party *, const struct km_tool *, void *ctx);
	void *ctx;
	/* Does a permitted route take the match to the standard?  Asked of
	 * every candidate that wants work and would be kept, before another is
	 * dropped for it, and told to km_match_settle().  Negative: memory ran
	 * out.  NULL: taken as possible. */
	int (*reaches)(void *cure, const struct km_party *,
		       const struct km_match *);
	void *cure;
	uint32_t spare;		/* further usable candidates to keep a slot */
};

/*
 * All of them, one element a slot, in (party, slot) order; *n is the sum of
 * the kits' slots.  A slot left empty by design has none.
 *
 * filter   NULL: every tool may be used, all work is possible
 * Kept     of each slot the best usable candidates in km_match_order(), as
 *          many as the run has places for a tool of its kind, and one more
 *          for each pinned tool, and `spare`; and the best 3 that are not
 *          ours.  That is exact: if an allocation gave the slot a dropped
 *          tool, one of those kept would be free, since the other places and
 *          the pins hold fewer, and taking it instead raises the first key in
 *          which the two differ (verdict, score, came with, id) and leaves
 *          every other place as it is.
 * Time     one comparison for each tool and slot of its kind that its ends
 *          could serve
 * errors   KM_ENOMEM, KM_ELIMIT (2^32 slots)
 */
enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_party *parties,
				  uint32_t n_parties,
				  const struct km_tools *bench,
				  const struct km_filter *filter,
				  struct km_candidates **out, size_t *n);

#endif
