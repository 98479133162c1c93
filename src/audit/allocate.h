/* SPDX-License-Identifier: MIT */
/*
 * allocate - which tool goes to which place of which slot, over all kits of
 * the run together.
 *
 * Compared in this order: pins kept; for each priority of kits, first one
 * first, the number of places right, then after-work, unverified, substitute,
 * each over firm durable places, then places that are not firm, then
 * consumables; the sum of scores; the number of tools that came with the
 * machine; then, place by place, the smallest tool id.
 */
#ifndef KM_AUDIT_ALLOCATE_H
#define KM_AUDIT_ALLOCATE_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/candidates.h"

/* A choice by hand: this tool in this slot, whatever the scores say. */
struct km_pinned {
	const struct km_slot *slot;
	uint32_t party;			/* of the kit's, where it may sit */
	const struct km_tool *tool;
	struct km_match *match;		/* the comparison, also of a misfit */
};

/* What the allocation knows and fills: one element a slot. */
struct km_seat {
	const struct km_slot *slot;
	uint32_t party;
	bool firm;			/* and the same under every reading */
	struct km_piece *pieces;	/* slot->count; those given are kept */
};

/*
 * Give the candidates to the pieces that have none yet.
 *
 * mem           for the comparisons of those that are given a place
 * seats, of     n elements each, in (party, slot) order
 * pins, n_pins  pinned pairs, sorted by km_pinned_order()
 * errors        KM_ENOMEM, KM_ELIMIT (too many priorities or places)
 * Memory        beside `mem`, 72 bytes for each open place and candidate of
 *               it, and for a place no more candidates than there are places
 */
enum km_status km_allocate(struct km_arena *mem, const struct km_party *parties,
			   struct km_seat *seats, struct km_candidates *of,
			   size_t n,
			   const struct km_pinned *pins, size_t n_pins,
			   const struct km_limits *lim);

/* By the address of the slot, then by party. */
int km_pinned_order(const struct km_pinned *a, const struct km_pinned *b);

bool km_slot_is_firm(const struct km_slot *s);

#endif
