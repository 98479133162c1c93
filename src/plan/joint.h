/* SPDX-License-Identifier: MIT */
/*
 * joint - the plan of all places together: the ways of each become options of
 * one problem, what they share becomes its charges, and the answer becomes
 * bills, margins, ceilings and a frontier again.
 *
 * Modelled so
 *   resources   an owned tool goes to one place; an offer to as many as its
 *               stock says, a used thing without a stock to one; a piece of a
 *               job lot to one
 *   parcels     goods are the prices of what comes in them; that of a job lot
 *               counts once, however many places it fills
 *   work        a step that has a part paid once is a piece of its lot or
 *               load; the other steps, and own time where it has a price, are
 *               money of the way
 *   points      those of the ways
 *
 * Owner    the arena given
 * Units    minor units; hundredths of a point
 */
#ifndef KM_PLAN_JOINT_H
#define KM_PLAN_JOINT_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "plan/charge.h"

/* What is asked of one place beside its ways. */
struct km_joint_place {
	bool firm;	/* it counts as short unless its way is acceptable */
	bool spend;	/* money may be spent on it; else only what is free */
	const struct km_way *by_hand;	/* must be taken; NULL: free choice */
	const struct km_route *work;	/* what a worn one that is found would
					 * need; NULL: not known */
};

struct km_joint_ask {
	const struct km_costs *costs;
	const struct km_limits *limits;	/* nodes of the search; NULL: default */
	enum km_aim aim;
	int64_t budget, points_limit;
	bool three_highest;		/* the shop rule on lot minimums */
	bool frontier, ceilings, margins;
	bool problem;			/* set out->problem */
};

/*
 * Plan.  places come with kit, slot, piece and ways filled; the rest of each
 * is filled here, and out->places is set to them.
 *
 * Some plan must be there: each place can be left as it is or open, unless it
 * is decided by hand, and what is decided can be had as often as it is.
 *
 * errors    KM_ENOMEM; KM_ERANGE: sums that do not fit; KM_ELIMIT: no plan
 */
enum km_status km_joint_plan(struct km_arena *mem,
			     const struct km_joint_ask *ask,
			     struct km_plan_place *places,
			     const struct km_joint_place *more, uint32_t n,
			     struct km_plan *out);

#endif
