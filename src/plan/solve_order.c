/* SPDX-License-Identifier: MIT */
/*
 * solve_order - two goals in order: the first weight outweighs whatever the
 * second can come to, so that the best plan has the least of the first goal
 * and, of such plans, the least of the second.
 */
#include "base/num.h"
#include "plan/solve_state.h"

static bool points_first(const struct km_solve_ask *ask)
{
	return ask->points_weight > ask->money_weight;
}

bool km_solver_in_order(const struct km_solver *s,
			const struct km_solve_ask *ask)
{
	int64_t most, sum;

	if (ask->points_weight <= 0 || ask->money_weight <= 0)
		return false;
	/* what is too much is refused where it is asked as it stands */
	if (!km_mul(ask->points_weight, s->core.points_most, &most) ||
	    !km_mul(ask->money_weight, s->core.money_most, &sum) ||
	    !km_add(most, sum, &most) || most > KM_SOLVE_WORTH)
		return false;
	if (points_first(ask))
		return ask->points_weight > sum;
	return km_mul(ask->points_weight, s->core.points_most, &sum) &&
	       ask->money_weight > sum;
}

/* The first goal alone. */
static enum km_status first_goal(struct km_solver *s,
				 const struct km_solve_ask *ask,
				 const struct km_goal *goal,
				 struct km_solve_plan *out)
{
	struct km_solve_ask a = *ask;
	struct km_goal g = { .hint = goal->hint, .most = INT64_MAX };

	a.points_weight = points_first(ask);
	a.money_weight = !points_first(ask);
	return km_solver_weigh(s, &a, &g, out);
}

/* A budget of the ask holds as well, since the plan to begin with keeps it. */
int64_t km_solver_second(const struct km_solve_ask *ask,
			 const struct km_solve_plan *plan,
			 struct km_solve_ask *out)
{
	*out = *ask;
	out->points_weight = !points_first(ask);
	out->money_weight = points_first(ask);
	out->budget = points_first(ask) ? KM_SOLVE_FREE : plan->money;
	out->limit = points_first(ask) ? plan->points : KM_SOLVE_FREE;
	return points_first(ask) ? plan->money : plan->points;
}

static enum km_status second_goal(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  const struct km_solve_plan *first,
				  struct km_solve_plan *out)
{
	struct km_goal g = { .hint = s->hint, .most = INT64_MAX };
	struct km_solve_ask a;

	km_solver_second(ask, first, &a);
	km_solver_keep(s);
	a.nodes = a.nodes ? a.nodes : KM_SOLVE_NODES;
	a.nodes = first->nodes < a.nodes ? a.nodes - first->nodes : 1;
	return km_solver_weigh(s, &a, &g, out);
}

/* What so much of the first goal and of the second is worth. */
static int64_t weigh(const struct km_solve_ask *ask, int64_t first,
		     int64_t second)
{
	if (points_first(ask))
		return ask->points_weight * first + ask->money_weight * second;
	return ask->money_weight * first + ask->points_weight * second;
}

enum km_status km_solver_one_by_one(struct km_solver *s,
				    const struct km_solve_ask *ask,
				    const struct km_goal *goal,
				    struct km_solve_plan *out)
{
	struct km_solve_plan one = { .option_of = out->option_of }, two = one;
	enum km_status st = first_goal(s, ask, goal, &one);

	if (st != KM_OK || !one.feasible) {
		if (st == KM_OK)
			*out = one;
		if (st == KM_OK && !one.proved)
			out->bound = weigh(ask, one.bound, 0);
		return st;
	}
	st = second_goal(s, ask, &one, &two);
	if (st != KM_OK)
		return st;
	*out = two;
	out->nodes += one.nodes;
	out->value = ask->points_weight * two.points +
		     ask->money_weight * two.money;
	out->bound = one.proved ? weigh(ask, one.value, two.bound) :
				  weigh(ask, one.bound, 0);
	if (out->bound > out->value)
		out->bound = out->value;
	out->proved = out->bound == out->value;
	return KM_OK;
}
