/* SPDX-License-Identifier: MIT */
/*
 * frontier - all plans of which no other is better in points and money.
 *
 * The epsilon-constraint method, exact for two whole-number goals: the fewest
 * points within the budget, then the least money with those points; then the
 * budget becomes one unit less than that money.  [berube-gendreau-potvin-2009]
 */
#include "plan/solve_state.h"

/* The fewest points within the budget: none is better than those of the plan
 * before. */
static enum km_status fewest_points(struct km_solver *s,
				    const struct km_solve_ask *ask,
				    int64_t budget, int64_t least,
				    struct km_solve_plan *out)
{
	struct km_solve_ask a = *ask;
	struct km_goal goal = { .least = least, .most = INT64_MAX };

	a.points_weight = 1;
	a.money_weight = 0;
	a.budget = budget;
	return km_solver_search(s, &a, &goal, out);
}

/* The least money with those points: the budget cannot matter then. */
static enum km_status least_money(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  int64_t points, struct km_solve_plan *out)
{
	struct km_solve_ask a = *ask;
	struct km_goal goal = { .hint = s->hint, .least = 0,
				.most = INT64_MAX };

	km_solver_keep(s);
	a.points_weight = 0;
	a.money_weight = 1;
	a.budget = KM_SOLVE_FREE;
	a.limit = points;
	return km_solver_search(s, &a, &goal, out);
}

enum km_status km_solver_frontier(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  km_solve_seen *seen, void *user)
{
	uint32_t *choice = km_arena_alloc(s->mem, (size_t)s->core.nplaces + 1,
					  sizeof *choice);
	struct km_solve_plan plan = { .option_of = choice };
	int64_t budget = ask->budget, least = 0;
	enum km_status st;

	if (!choice)
		return KM_ENOMEM;
	while (budget >= 0) {
		st = fewest_points(s, ask, budget, least, &plan);
		if (st != KM_OK)
			return st;
		if (!plan.feasible)
			return plan.proved ? KM_OK : KM_ELIMIT;
		if (plan.proved)
			st = least_money(s, ask, plan.points, &plan);
		if (st != KM_OK)
			return st;
		if (!plan.proved)
			return KM_ELIMIT;
		if (!seen(user, &plan))
			return KM_OK;
		budget = plan.money - 1;
		least = plan.points + 1;
	}
	return KM_OK;
}
