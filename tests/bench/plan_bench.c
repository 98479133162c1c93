/* SPDX-License-Identifier: MIT */
/*
 * plan_bench - time the exact plan.
 *
 *	plan_bench REPEATS < problem
 *
 * The problem comes in the plain text of tests/oracle/plan_text.h.  Each ask
 * is answered REPEATS times by a new solver, setting up included, and printed
 * as "plan value proved bound nodes best-seconds"; a frontier as "frontier n
 * best-seconds", then its n points and moneys.
 */
#define _POSIX_C_SOURCE 200809L

#include <stdlib.h>
#include <time.h>

#include "tests/oracle/plan_text.h"

#define POINTS_MOST 4096

struct points {
	size_t n;
	int64_t at[POINTS_MOST][2];
};

static double seconds(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool note(void *user, const struct km_solve_plan *plan)
{
	struct points *p = user;

	if (p->n == POINTS_MOST)
		return false;
	p->at[p->n][0] = plan->points;
	p->at[p->n++][1] = plan->money;
	return true;
}

static bool answer(const struct plan_text *t, const struct plan_ask *a,
		   struct km_solve_plan *plan, struct points *points)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_solver *s;
	bool good = km_solver_new(mem, &t->p, &s) == KM_OK;

	points->n = 0;
	if (a->what == 2)
		good = good && km_solver_frontier(s, &a->ask, note, points) ==
			       KM_OK;
	else if (a->what == 1)
		good = good && km_solver_first(s, &a->ask, plan) == KM_OK;
	else
		good = good && km_solver_ask(s, &a->ask, plan) == KM_OK;
	km_arena_free(mem);
	return good;
}

static bool bench(const struct plan_text *t, const struct plan_ask *a,
		  int repeats, struct points *points)
{
	struct km_solve_plan plan = { 0 };
	double best = 1e9;

	for (int i = 0; i < repeats; i++) {
		double start = seconds(), took;

		if (!answer(t, a, &plan, points))
			return false;
		took = seconds() - start;
		best = took < best ? took : best;
	}
	if (a->what != 2) {
		printf("plan %" PRId64 " %d %" PRId64 " %" PRIu64 " %.9f\n",
		       plan.value, plan.proved, plan.bound, plan.nodes, best);
		return true;
	}
	printf("frontier %zu %.9f\n", points->n, best);
	for (size_t i = 0; i < points->n; i++)
		printf("%" PRId64 " %" PRId64 "\n", points->at[i][0],
		       points->at[i][1]);
	return true;
}

int main(int argc, char **argv)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct points *points = calloc(1, sizeof *points);
	int repeats = argc == 2 ? atoi(argv[1]) : 0;
	struct plan_text t;
	bool good = repeats > 0 && mem && points;

	while (good && plan_read(mem, &t))
		for (uint32_t i = 0; good && i < t.nasks; i++)
			good = bench(&t, &t.ask[i], repeats, points);
	if (!good)
		fputs("plan_bench: usage, memory or a bad problem\n", stderr);
	free(points);
	km_arena_free(mem);
	return !good;
}
