/* SPDX-License-Identifier: MIT */
/*
 * align - which slot of one kit is which of another.
 *
 * Slots are told apart by what the kits claim of them, never by their ids or
 * their order.  A pair of slots costs the sum of the weights (data/align.def)
 * of what differs, a slot that is left alone costs KM_ALIGN_ALONE, and the
 * alignment costs the least that any can.  So two slots that have less than
 * two lone slots' worth in common are not the same place.
 *
 * Of several alignments of that cost the one is taken whose pairs have most
 * ids in common; where that leaves several, slots are taken in the order of
 * what they claim, the id last: the order of the slots in the files changes
 * nothing.
 */
#ifndef KM_AUDIT_ALIGN_H
#define KM_AUDIT_ALIGN_H

#include "base/arena.h"
#include "kitmuster/kits.h"

#define KM_ALIGN_ALONE 50

/*
 * Align two kits; they may be of different loads.
 *
 * mem       owns out->pairs
 * scratch   working memory, 16 KB and 2 KB a slot; not reset here
 * out       untouched unless KM_OK is returned
 * errors    KM_ENOMEM; KM_ERANGE: more slots than km_assign_solve() takes
 */
enum km_status km_kits_align(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_kit *a, const struct km_kit *b,
			     struct km_alignment *out);

/* Do two wants of an attribute claim the same?  Sizes are compared by the
 * names struck on them, in any order of the ends; texts folded; the values of
 * an `any_of` in any order. */
bool km_wants_equal(enum km_attr a, const struct km_want *x,
		    const struct km_want *y);

#endif
