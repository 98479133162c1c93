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
	struct km_match **v;		/* in km_match_order() */
	uint32_t n;
};

/*
 * All of them, one element a slot, in (party, slot) order; *n is the sum of
 * the kits' slots.  Every tool of the bench is compared that is a candidate,
 * whoever owns it and wherever it is; who may use it is settled later.
 */
enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_party *parties, uint32_t n_parties,
				  const struct km_tools *bench,
				  struct km_candidates **out, size_t *n);

#endif
