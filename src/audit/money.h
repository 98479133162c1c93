/* SPDX-License-Identifier: MIT */
/*
 * money - restore or buy for every place that is not right, what it comes to
 * a kit, and the parcels of the shopping list.
 *
 * Each place is decided by itself; what is then shared (a plating lot, a load,
 * the postage of a parcel) is paid once in the totals.
 */
#ifndef KM_AUDIT_MONEY_H
#define KM_AUDIT_MONEY_H

#include "audit/given.h"
#include "audit/seats.h"
#include "base/arena.h"
#include "kitmuster/audit.h"
#include "plan/charge.h"

struct km_money_input {
	struct km_audit *audit;		/* slots, pieces and verdicts filled */
	const struct km_variants *variants;
	const struct km_seating *seating;
	const struct km_given *given;
	const struct km_costs *costs;
	struct km_arena *scratch;	/* holds nothing else */
};

/* Ways and decisions of every slot, and the totals of every kit. */
enum km_status km_money_decide(struct km_arena *mem,
			       const struct km_money_input *in);

/* The parcels of the audit, by seller id; what nobody offers last. */
enum km_status km_money_shop(struct km_arena *mem,
			     const struct km_money_input *in);

/* Whole months that a price has stood; -1: not known. */
int32_t km_price_months(const struct km_audit *a, const struct km_offer *o);
#define KM_PRICE_OLD 24		/* more months than this: old [choice] */

#endif
