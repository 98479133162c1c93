/* SPDX-License-Identifier: MIT */
/*
 * tally - the verdict of a slot from its pieces, and the counts of a kit.
 */
#ifndef KM_AUDIT_TALLY_H
#define KM_AUDIT_TALLY_H

#include "kitmuster/audit.h"

/* No piece `gap`, or `expected` when one is on order; some `short`; else the
 * worst piece.  Sets verdict and worst. */
void km_slot_verdict(struct km_slot_audit *s);

/* A slot's place in the counts. */
enum km_slot_class {
	KM_SLOT_FIRM, KM_SLOT_DOUBTFUL, KM_SLOT_CONSUMABLE, KM_SLOT_UNUSED
};
enum km_slot_class km_slot_class(const struct km_slot_audit *s);

/* Every piece right and not on order: the slot is filled on paper. */
bool km_slot_on_paper(const struct km_slot_audit *s);

/*
 * The counts of a kit, from its slots.  On paper: right, whether the tool is
 * here, in the kit or lent.  Today: on paper without what is lent or at the
 * plater.  After work: on paper, and what work makes right.
 */
void km_kit_tally(struct km_kit_audit *k);

#endif
