/* SPDX-License-Identifier: MIT */
/*
 * money - the ways of every place that is not settled, the plan of all of
 * them, and what it comes to for each slot, kit and parcel.
 */
#ifndef KM_AUDIT_MONEY_H
#define KM_AUDIT_MONEY_H

#include "audit/seats.h"
#include "base/arena.h"
#include "kitmuster/audit.h"
#include "plan/charge.h"
#include "plan/joint.h"
#include "plan/ways.h"

struct km_money_input {
	struct km_audit *audit;		/* slots, pieces and verdicts filled */
	const struct km_variants *variants;
	const struct km_seating *seating;
	const struct km_costs *costs;
	struct km_arena *scratch;	/* holds nothing else */
};

/* A place that is not settled, with all that may fill it. */
struct km_open_place {
	struct km_slot_audit *slot;
	uint32_t kit;			/* index in the audit */
	uint32_t piece;
	bool arrives;			/* what is on order for it is right */
	struct km_ways ways;
};

/* Find the open places and their ways: one element each, by kit, slot and
 * piece. */
enum km_status km_places_find(struct km_arena *mem,
			      const struct km_money_input *in,
			      struct km_open_place **out, uint32_t *n);

/* What a piece of the usual wear that is found would need to be right for a
 * slot; NULL: no route is known. */
enum km_status km_worn_route(struct km_arena *mem,
			     const struct km_money_input *in, uint32_t kit,
			     const struct km_slot *slot,
			     const struct km_route **out);

/* Plan, decide every slot, and total every kit. */
enum km_status km_money_plan(struct km_arena *mem,
			     const struct km_money_input *in);

/* The parcels of the audit, by seller id; what nobody offers last. */
enum km_status km_money_shop(struct km_arena *mem,
			     const struct km_money_input *in);

/* Whole months that a price has stood; -1: not known. */
int32_t km_price_months(const struct km_audit *a, const struct km_offer *o);
#define KM_PRICE_OLD 24		/* more months than this: old [choice] */

#endif
