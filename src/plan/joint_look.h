/* SPDX-License-Identifier: MIT */
/*
 * joint_look - what the best plan leaves open: margins, ceilings, the price of
 * decisions by hand, close calls, and what job lots are worth.
 *
 * Each is a problem solved again with one thing changed, one or more a place,
 * so it is bounded: places that have a choice, options times such places, and
 * the nodes of all these searches together, as many as the plan itself has.
 * What is not found is -1, and km_plan.looked_closer is false.  Close calls
 * come first and are always looked for; margins and job lots, or ceilings,
 * only if they are asked for.
 */
#ifndef KM_PLAN_JOINT_LOOK_H
#define KM_PLAN_JOINT_LOOK_H

#include "plan/joint_problem.h"

#define KM_LOOK_PLACES 256		/* [choice] */
#define KM_LOOK_OPTIONS ((uint64_t)1 << 20)	/* [choice] */

/* One plan in the making. */
struct km_planner {
	struct km_arena *mem, *scratch;
	const struct km_joint_ask *ask;
	struct km_plan_place *places;
	const struct km_joint_place *more;
	uint32_t n;
	struct km_plan *out;
	struct km_joint j;		/* the likely column */
	struct km_solver *solver;
	struct km_solve_ask how;
	struct km_solve_plan best;
	uint64_t nodes_left;		/* of the closer look */
	bool unknown;			/* it found no answer to a question */
};

/* Nodes of one search: those of the limits, else by the number of options. */
uint64_t km_joint_nodes(const struct km_joint_ask *ask,
			const struct km_joint *j);

/* Build and solve one column; plan->option_of is made here. */
enum km_status km_joint_solve(struct km_planner *p, struct km_arena *mem,
			      enum km_column column, struct km_joint *j,
			      struct km_solver **solver,
			      struct km_solve_ask *how,
			      struct km_solve_plan *plan);

/* Fill the margins and so on of places that are chosen, and out->job_lots;
 * bills are made. */
enum km_status km_joint_look(struct km_planner *p);

#endif
