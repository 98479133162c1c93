/* SPDX-License-Identifier: MIT */
/*
 * frontier - all plans of which no other is better in points and money.
 *
 * The epsilon-constraint method, exact for two whole-number goals: the fewest
 * points within the budget, then the least money with those points; then the
 * budget becomes one unit less than that money.  [berube-gendreau-potvin-2009]
 */
#include "base/num.h"
#include <stdio.h>
#include <string.h>
#include "plan/solve_state.h"

enum km_status km_solver_frontier(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  km_solve_seen *seen, void *user)
{
	struct km_solve_ask a = *ask;
	enum km_status st;
	int64_t points = INT64_MIN;

	while (a.budget >= 0) {
		struct km_solve_plan plan = { .option_of = 0 };

		a.points_weight = 1; a.money_weight = 0;
		a.limit = ask->limit;
		st = km_solver_search(s, &a, NULL, points+1, &plan);
		fprintf(stderr,"A nodes %lu ",(unsigned long)plan.nodes);
		if (st != KM_OK)
			return st;
		if (!plan.proved)
			return KM_ELIMIT;
		if (!plan.feasible) return KM_OK;
		points = plan.points;
		a.points_weight = 0; a.money_weight = 1;
		a.limit = plan.points; memcpy(s->hint, s->tree.best, s->core.nplaces*sizeof *s->hint);
		a.budget = KM_SOLVE_FREE;
		st = km_solver_search(s, &a, s->hint, INT64_MIN, &plan);
		if (!seen(user, &plan))
			return KM_OK;
		fprintf(stderr,"pts %ld nodes",(long)points),fprintf(stderr," %lu money %ld\n",(unsigned long)plan.nodes,(long)plan.money);
		a.budget = plan.money - 1;
	}
	return KM_OK;
}
