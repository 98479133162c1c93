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
	struct km_sites *sites;	/* room for that special case */
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

#define KM_SOLVE_WORTH ((int64_t)1 << 56)	/* of any plan, by the weights */

/* By the weights as they are: one search. */
enum km_status km_solver_weigh(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       const struct km_goal *goal,
			       struct km_solve_plan *out);

/* Does one weight outweigh all that the other can come to? */
bool km_solver_in_order(const struct km_solver *s,
			const struct km_solve_ask *ask);
/* Then: the least of the one, and with that the least of the other.  Two
 * searches whose bounds are whole points, or whole money, close far sooner
 * than one in which a point is worth all the money. */
enum km_status km_solver_one_by_one(struct km_solver *s,
				    const struct km_solve_ask *ask,
				    const struct km_goal *goal,
				    struct km_solve_plan *out);

/* The ask for the least of the second goal, with no more of the first than a
 * plan has; how much of the second that plan has. */
int64_t km_solver_second(const struct km_solve_ask *ask,
			 const struct km_solve_plan *plan,
			 struct km_solve_ask *out);

/* Keep the plan found last in s->hint. */
void km_solver_keep(struct km_solver *s);

#endif
