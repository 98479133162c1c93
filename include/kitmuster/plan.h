/* SPDX-License-Identifier: MIT */
/*
 * plan - all places of a run together, what is shared paid once: what was
 * chosen for each, the charges, and the same as numbers for another solver.
 *
 * Owner    the arena of the audit
 * Units    minor units of money; points in hundredths
 */
#ifndef KITMUSTER_PLAN_H
#define KITMUSTER_PLAN_H

#include "kitmuster/model.h"
#include "kitmuster/problem.h"

struct km_kit_audit;		/* audit.h */
struct km_slot_audit;
struct km_way;

enum km_aim {
	KM_AIM_COMPLETE,	/* fewest firm places short, then least money */
	KM_AIM_BUDGET,		/* fewest points lost within a budget */
	KM_AIM_POINTS		/* least money that loses no more points */
};

/* One place in the plan: a piece of a slot that is not settled already. */
struct km_plan_place {
	const struct km_kit_audit *kit;
	const struct km_slot_audit *slot;
	uint32_t piece;			/* of the slot, from 0 */
	const struct km_way *ways;	/* all that were weighed, KM_WAY_OPEN last */
	uint32_t n_ways;
	const struct km_way *chosen;
	const struct km_way *other;	/* chosen instead if it were barred; NULL */
	int64_t margin;			/* what the plan costs more with `other`:
					 * money at the same number of places
					 * filled; -1: no other, or fewer filled */
	bool close_call;		/* the low or the high column turns it */
	bool by_hand;			/* a decision of the files; its margin
					 * is -1 */
	int64_t by_hand_costs;		/* what that costs more; 0, or -1: not
					 * comparable */
	/* The most to pay for a thing found, so that the plan is no worse;
	 * -1: not worth it at any price, KM_NO_CEILING: nothing else is known,
	 * your own limit decides.  Within a budget: what is left of it when
	 * the thing lets the plan lose fewer points. */
	int64_t ceiling_ready, ceiling_work;
	bool ceiling_wanted;		/* the place is bought for or left open */
	bool ceiling_unknown;		/* it was asked for and not found: see
					 * km_plan.looked_closer */
};
#define KM_NO_CEILING INT64_MAX

enum km_bill_kind { KM_BILL_PARCEL, KM_BILL_LOT, KM_BILL_LOAD, KM_BILL_JOB_LOT };

/* A charge that the plan pays once for several places. */
struct km_plan_bill {
	enum km_bill_kind kind;
	const struct km_seller *seller;		/* PARCEL, JOB_LOT; or NULL */
	const struct km_process *process;	/* LOT, LOAD */
	const struct km_job_lot *job_lot;
	int32_t pieces;			/* of the plan that use it */
	int32_t committed;		/* pieces in an open lot before */
	struct km_date closes;		/* of an open lot; year 0: none */
	int64_t goods;			/* PARCEL, likely */
	struct km_money3 cost;		/* postage, lot, loads, price */
	struct km_money3 top_up;	/* PARCEL: short of the minimum order, in
					 * cost already */
	int64_t ride_free;		/* pieces more at no cost; -1: any */
};

struct km_plan_point { int64_t money; int64_t points; };	/* hundredths */

/* What a job lot is worth to the plan: up to `most`; -1: nothing, or not
 * known. */
struct km_plan_job_lot {
	const struct km_job_lot *lot;
	int64_t most;
	struct km_money3 price;
	uint32_t fills;			/* places it can fill at most: a piece
					 * each */
	bool chosen, known;
};

/* What the numbers of a problem stand for. */
struct km_problem_charge {
	enum km_bill_kind kind;
	const struct km_seller *seller;		/* PARCEL, JOB_LOT; or NULL */
	const struct km_process *process;	/* LOT, LOAD */
	const struct km_job_lot *job_lot;	/* JOB_LOT */
};
struct km_problem_resource {
	const struct km_tool *tool;
	const struct km_offer *offer;		/* where tool is NULL */
	/* a piece of it; with offer NULL its price, which counts once towards
	 * an order */
	const struct km_job_lot *job_lot;
};

/* The plan as numbers, likely column: all that another solver needs.  Places
 * are those of the plan, in order. */
struct km_plan_problem {
	struct km_solve numbers;
	struct km_solve_ask ask;	/* with its barred options */
	const struct km_way *const *way;	/* of an option; NULL: a thing
						 * that might be found, barred */
	const struct km_problem_charge *charges;
	const struct km_problem_resource *resources;
	const uint32_t *chosen;		/* of a place: its option */
	/* not feasible: ask is without the limit that nothing keeps, chosen
	 * comes nearest to it */
	bool feasible, proved;
	int64_t points, money, value, bound;
};

struct km_plan {
	enum km_aim aim;
	int64_t budget;			/* minor units; KM_AIM_BUDGET */
	int64_t points_limit;		/* hundredths; KM_AIM_POINTS */
	bool feasible;			/* false: nothing keeps the limit */
	const struct km_plan_place *places;	uint32_t n_places;
	const struct km_plan_bill *bills;	uint32_t n_bills;
	const struct km_plan_job_lot *job_lots;	uint32_t n_job_lots;
	struct km_money3 goods, work, postage, total;	/* work: lots, loads
							 * and single steps */
	struct km_money3 own;		/* own time, where it is priced */
	int32_t own_min[3];
	int64_t points;			/* lost, hundredths */
	int32_t short_firm;		/* firm places still short */
	struct km_money3 singly;	/* the places it fills, each in its
					 * cheapest way and paid by itself: to
					 * be held against total and own */
	bool proved;
	int64_t gap;			/* when not proved: likely money, to the
					 * best plan with as many points */
	uint64_t nodes;
	bool looked_closer;		/* false: there are too many places, or
					 * the node limit was reached: margins
					 * and ceilings not found are -1, close
					 * calls and job lots are not all told */
	const struct km_plan_point *frontier;	uint32_t n_frontier;
	bool frontier_whole;		/* false: the node limit ended it */
	const struct km_plan_problem *problem;	/* NULL: not asked for */
};

#endif
