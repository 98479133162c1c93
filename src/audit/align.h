/* SPDX-License-Identifier: MIT */
/*
 * align - which slot of one kit is which of another.
 *
 * Slots are told apart by what the kits claim of them, never by their ids or
 * their order.  A pair of slots costs the sum of the weights of what differs
 * (data/align.def, shares of them by km_claim_far()) and of the rest below; a
 * slot that is left alone costs KM_ALIGN_ALONE; the alignment is one of least
 * cost.  So slots that differ by as much as two lone ones are no pair.  Nor
 * are slots of other kinds, unless a size or the part number agrees, nor a
 * tool and a pocket that is empty by design.
 *
 * Of several alignments of that cost the one with most pairs is taken, then
 * with most ids in common; then the slots take their turn in the order of
 * what is claimed of them, the id last.  So the order of the slots in the
 * files changes nothing, nor do ids unless they settle a tie.
 *
 * Costs are hundredths of a point.
 */
#ifndef KM_AUDIT_ALIGN_H
#define KM_AUDIT_ALIGN_H

#include "base/arena.h"
#include "kitmuster/diag.h"
#include "kitmuster/kits.h"

enum {				/* [choice] */
	KM_ALIGN_ALONE = 5000,
	KM_ALIGN_COUNT = 600, KM_ALIGN_POCKET = 300, KM_ALIGN_DURABLE = 400,
	KM_ALIGN_EXISTS = 100, KM_ALIGN_POINTS = 100
};

/* Pairs of slots that are compared: two kits of 1000 slots.  Time and memory
 * grow with them; two such kits of one kind take a second and 130 MB. [choice] */
#define KM_ALIGN_PAIRS 1000000

/*
 * Align two kits; they may be of different loads.
 *
 * mem       owns out->pairs
 * scratch   working memory, some 2 KB a slot and 64 bytes a pair of slots of
 *           one kind; not reset here
 * out       untouched unless KM_OK is returned
 * errors    KM_ENOMEM; KM_ELIMIT: more than KM_ALIGN_PAIRS, which d says
 */
enum km_status km_kits_align(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_kit *a, const struct km_kit *b,
			     struct km_diags *d, struct km_alignment *out);

#endif
