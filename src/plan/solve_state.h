/* SPDX-License-Identifier: MIT */
/* solve_state - what a solver remembers from one ask to the next. */
#ifndef KM_PLAN_SOLVE_STATE_H
#define KM_PLAN_SOLVE_STATE_H

#include "plan/branch.h"

/* Prices that did well for some weights. */
struct km_warm {
	int64_t points_weight, money_weight;
	bool valid;
	int64_t *mult;
};

#define KM_WARM 3	/* money alone, points alone, both */

struct km_solver {
	struct km_arena *mem;
	struct km_core core;
	struct km_relax relax;
	struct km_tree tree;
	struct km_warm warm[KM_WARM];
	uint8_t *barred;	/* scratch: of an option */
	uint32_t *hint;		/* scratch: of a place */
};

/*
 * As km_solver_ask(), knowing more: goal.nodes is not used.  The plan stays in
 * s->tree.best as well, as core options.
 */
enum km_status km_solver_search(struct km_solver *s,
				const struct km_solve_ask *ask,
				const struct km_goal *goal,
				struct km_solve_plan *out);

/* Keep the plan found last in s->hint. */
void km_solver_keep(struct km_solver *s);

#endif
