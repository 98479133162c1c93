/* SPDX-License-Identifier: MIT */
/*
 * joint_problem - the ways of all places as one problem of numbers.
 */
#ifndef KM_PLAN_JOINT_PROBLEM_H
#define KM_PLAN_JOINT_PROBLEM_H

#include "plan/joint.h"
#include "plan/solve.h"

/* Which price is taken. */
enum km_column { KM_LOW, KM_LIKELY, KM_HIGH };
/* What points count: places short, or the points of the ways. */
enum km_points { KM_POINTS_SHORT, KM_POINTS_RUBRIC };

/* A problem, and what its numbers stand for. */
struct km_joint {
	struct km_solve p;
	const struct km_way **way;	/* of an option; NULL: hypothetical */
	uint32_t *first, *count;	/* options of a place, in order of ways */
	uint32_t *ready, *worn;		/* hypothetical options of a place */
	uint8_t *barred;		/* of an option */
	uint32_t *charge_of;		/* of a problem's charge: of costs */
	const struct km_problem_resource *owner;	/* of a resource */
	int64_t most_money, most_points;	/* no plan has more */
};

enum km_status km_joint_build(struct km_arena *mem,
			      const struct km_joint_ask *ask,
			      const struct km_plan_place *places,
			      const struct km_joint_place *more, uint32_t n,
			      enum km_column column, enum km_points points,
			      struct km_joint *out);

/* How many of the tool or offer of a way there are; 0: any number. */
uint32_t km_joint_stock(const struct km_way *w);

int64_t km_money3_column(struct km_money3 m, enum km_column c);

#endif
