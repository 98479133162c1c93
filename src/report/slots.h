/* SPDX-License-Identifier: MIT */
/*
 * slots - the sheet of slots being made; for its two files.
 */
#ifndef KM_REPORT_SLOTS_H
#define KM_REPORT_SLOTS_H

#include "report/page.h"

enum {
	KIT, SLOT, WANTED, COUNT, EXISTS, VERDICT, WOULD_BE, TOOLS, FIRST_TOOL,
	FILLED, ON_ORDER, REASON, NOTES, FIT, RESTORE_LOW, RESTORE_LIKELY, RESTORE_HIGH,
	RESTORE_OWN_LOW, RESTORE_OWN, RESTORE_OWN_HIGH,
	STEPS, BUY_LOW, BUY_LIKELY, BUY_HIGH,
	BUY_OWN_LOW, BUY_OWN, BUY_OWN_HIGH, OFFER, DECISION, MARGIN,
	CLOSE_CALL, CHOSEN, BY_HAND, BY_HAND_COSTS, DEPENDS, REMARKS, DETAIL,
	COLUMNS
};

struct km_slots {
	struct km_page *p;
	struct km_table *t;
	const struct km_kit_audit *k;
	const struct km_slot_audit *s;
	uint32_t place;			/* of the plan, to come next */
	struct km_buf *b;		/* one text */
};

/* The text so far as one of the details of the slot; cleared. */
static inline void km_slots_detail(struct km_slots *m)
{
	km_put_item(m->t, DETAIL, m->b);
}

/* slots_money.c: what it costs, what is decided, what the plan takes */
void km_slots_decision(struct km_slots *m);

#endif
