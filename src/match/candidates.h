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
};

/*
 * All of them, one element a slot, in (party, slot) order; *n is the sum of
 * the kits' slots.
 *
 * Kept     of each slot the best usable candidates, as many as there are
 *          places in the run that could take one of them, and 3 that are not
 *          ours: no more can matter to an exact allocation, since all other
 *          places together take at most one fewer.
 */
enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_party *parties,
				  uint32_t n_parties,
				  const struct km_tools *bench,
				  const struct km_filter *filter,
				  struct km_candidates **out, size_t *n);

#endif
