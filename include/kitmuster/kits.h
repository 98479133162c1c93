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

#include "kitmuster/model.h"
#include "kitmuster/status.h"

/* What else of two slots may differ, beside their attributes. */
enum km_slot_diff {
	KM_DIFF_COUNT = 1 << 0,
	KM_DIFF_EXISTS = 1 << 1,	/* how sure it is that there is one */
	KM_DIFF_POCKET = 1 << 2,
	KM_DIFF_DURABLE = 1 << 3,
	KM_DIFF_UNUSED = 1 << 4,	/* a pocket left empty by design */
	KM_DIFF_POINTS = 1 << 5,
	KM_DIFF_GOES_WITH = 1 << 6	/* with slots that are not the same */
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

#endif
