/* SPDX-License-Identifier: MIT */
/*
 * part - part numbers and what superseded them.
 */
#ifndef KM_MATCH_PART_H
#define KM_MATCH_PART_H

#include "match/rules.h"

/* Is a part one that the slot wants, or one that superseded it: the attributes
 * (bits 1 << enum km_attr) that changed on the way, 0 for the part itself. */
bool km_part_follows(const struct km_rules *rules, const struct km_slot *slot,
		     const char *part, uint32_t *changes);

#endif
