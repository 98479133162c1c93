/* SPDX-License-Identifier: MIT */
/*
 * evidence - how sure a claim is, from the sources for and against it.
 *
 * Six words and no percentages [certainty-classes].  Rank counts only within
 * what is claimed: a parts list is good on what was in the kit and poor on
 * its colour.  The rules are told in docs/method.md.
 *
 * source   data/evidence.def
 */
#ifndef KM_TRADE_EVIDENCE_H
#define KM_TRADE_EVIDENCE_H

#include "base/arena.h"
#include "kitmuster/evidence.h"

/* Sources of one kit, so that no file makes their roots grow without end. */
#define KM_SOURCES_MOST 1000

/* What an attribute is a claim about. */
enum km_ground km_ground_of(enum km_attr a);
bool km_source_is_strong(enum km_source_what what, enum km_ground g);
/* Is it dated outside the years of a kit?  No where either is not recorded. */
bool km_source_other_years(const struct km_source *s,
			   const struct km_period *years);

/*
 * Find the roots of all sources of a kit.
 *
 * s, n      at most KM_SOURCES_MOST; depends_on is linked, lies within s and
 *           leads in no circle
 * years     of the kit: a list, handbook, picture or sales paper of other
 *           years, or a later drawing, is weak on everything
 * mem       keeps the roots
 * answers   false: memory ran out
 */
bool km_roots_find(struct km_arena *mem, struct km_arena *scratch,
		   struct km_source *s, uint32_t n,
		   const struct km_period *years);

/*
 * Count and weigh.
 *
 * e         holds the three lists, their sources with roots
 * s, seen   the first source of the kit, and a byte for each of them, all 0,
 *           which they are again afterwards
 */
void km_evidence_weigh(struct km_evidence *e, enum km_ground g,
		       const struct km_source *s, uint8_t *seen);

/* Is a claim stated firmer, and so counted or bought, than its sources
 * support?  e NULL: no. */
static inline bool km_evidence_is_less(const struct km_evidence *e,
				       enum km_certainty stated)
{
	return e && stated <= KM_PROBABLE && e->supports > stated &&
	       e->supports != KM_UNKNOWN;
}

#endif
