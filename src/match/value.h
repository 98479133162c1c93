/* SPDX-License-Identifier: MIT */
/*
 * value - recorded values told apart, for tables of what was compared before.
 *
 * What the reader keeps once (texts, lists of sizes and drives) is told apart
 * by its address: two values that only say the same count as different, which
 * costs time and nothing else.
 */
#ifndef KM_MATCH_VALUE_H
#define KM_MATCH_VALUE_H

#include "kitmuster/model.h"

/* Fold one more number into a hash. */
static inline uint64_t km_mix(uint64_t h, uint64_t x)
{
	h = (h ^ x) * UINT64_C(0x9e3779b97f4a7c15);
	return h ^ h >> 29;
}

/* Fold the value of an attribute into a hash. */
uint64_t km_value_mix(uint64_t h, enum km_attr a, const union km_value *v);
bool km_value_same(enum km_attr a, const union km_value *x,
		   const union km_value *y);

/* Of those attributes (bits 1 << enum km_attr), do two things record the
 * same? */
bool km_traits_same(const struct km_traits *x, const struct km_traits *y,
		    uint32_t attrs);

/* Do two slots want the same of a tool?  Their counts, ids and places in the
 * kit may differ. */
bool km_slot_wants_same(const struct km_slot *x, const struct km_slot *y);
uint64_t km_slot_wants_hash(const struct km_slot *s);

#endif
