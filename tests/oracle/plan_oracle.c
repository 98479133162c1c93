/* SPDX-License-Identifier: MIT */
/*
 * plan_oracle - the exact plan, for comparison with other solvers.
 *
 *	plan_oracle -	reads problems in the plain text of plan_text.h and
 *			answers each ask on a line: "plan value money points",
 *			"none", or "frontier n points money points money ..."
 *	plan_oracle	checks laws that need no second solver on problems
 *			larger than enumeration can do
 */
#include <stdlib.h>
#include <string.h>

#include "tests/oracle/plan_text.h"

#define POINTS_MOST 1024

struct points {
	size_t n;
	int64_t at[POINTS_MOST][2];
};

static bool note(void *user, const struct km_solve_plan *plan)
{
	struct points *p = user;

	if (p->n == POINTS_MOST)
		return false;
	p->at[p->n][0] = plan->points;
	p->at[p->n++][1] = plan->money;
	return true;
}

static bool answer_frontier(struct km_solver *s, const struct km_solve_ask *ask)
{
	static struct points p;

	p.n = 0;
	if (km_solver_frontier(s, ask, note, &p) != KM_OK)
		return false;
	printf("frontier %zu", p.n);
	for (size_t i = 0; i < p.n; i++)
		printf(" %" PRId64 " %" PRId64, p.at[i][0], p.at[i][1]);
	putchar('\n');
	return true;
}

static bool answer(struct km_solver *s, const struct plan_ask *a)
{
	struct km_solve_plan plan = { 0 };
	enum km_status st;

	if (a->what == 2)
		return answer_frontier(s, &a->ask);
	st = a->what == 1 ? km_solver_first(s, &a->ask, &plan) :
			    km_solver_ask(s, &a->ask, &plan);
	if (st != KM_OK || !plan.proved)
		return false;
	if (plan.feasible)
		printf("plan %" PRId64 " %" PRId64 " %" PRId64 "\n",
		       plan.value, plan.money, plan.points);
	else
		puts("none");
	return true;
}

static int answer_all(void)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct plan_text t;
	bool good = mem != NULL;

	while (good && plan_read(mem, &t)) {
		struct km_solver *s;

		good = km_solver_new(mem, &t.p, &s) == KM_OK;
		for (uint32_t i = 0; good && i < t.nasks; i++)
			good = answer(s, &t.ask[i]);
		km_arena_reset(mem);
	}
	if (!good)
		fputs("plan_oracle: bad problem\n", stderr);
	km_arena_free(mem);
	return !good;
}

/* ---- laws --------------------------------------------------------------- */

#define PLACES 20
#define OPTIONS 120
#define CHARGES 8
#define TOOLS 10
#define ROUNDS 60

struct mixed {
	struct km_solve p;
	struct km_solve_option option[OPTIONS];
	struct km_solve_use use[OPTIONS];
	uint32_t tool[OPTIONS], capacity[TOOLS];
	struct km_solve_charge charge[CHARGES];
	int64_t table[CHARGES][PLACES + 1];
};

static uint64_t seed = 12;

static uint32_t any(uint32_t n)
{
	seed = seed * 6364136223846793005u + 1442695040888963407u;
	return (uint32_t)(seed >> 33) % n;
}

static void make(struct mixed *m)
{
	m->p = (struct km_solve){ PLACES, OPTIONS, TOOLS, CHARGES, 0,
				  m->option, m->capacity, m->charge, NULL };
	for (uint32_t r = 0; r < TOOLS; r++)
		m->capacity[r] = 1;
	for (uint32_t k = 0; k < CHARGES; k++) {
		m->charge[k] = (struct km_solve_charge){
			.table = m->table[k], .ntable = PLACES + 1,
			.group = KM_SOLVE_NONE
		};
		for (uint32_t n = 1; n <= PLACES; n++)
			m->table[k][n] = m->table[k][n - 1] +
					 (n == 1 || any(4) == 0 ? any(900) : 0);
	}
	for (uint32_t o = 0; o < OPTIONS; o++) {
		bool open = o < PLACES;

		m->use[o] = (struct km_solve_use){ any(CHARGES), 0 };
		m->tool[o] = any(TOOLS);
		m->option[o] = (struct km_solve_option){
			.place = o % PLACES, .money = open ? 0 : any(2000),
			.points = open ? 100 : any(60), .use = &m->use[o],
			.nuses = !open && any(3), .resource = &m->tool[o],
			.nresources = !open && any(2)
		};
	}
}

static int64_t value_of(const struct km_solve *p, int64_t budget)
{
	struct km_solve_ask ask = { 30, 1, budget, KM_SOLVE_FREE, NULL, 0 };
	struct km_solve_plan plan = { 0 };
	struct km_arena *mem = km_arena_new(NULL);
	struct km_solver *s;
	bool good = km_solver_new(mem, p, &s) == KM_OK &&
		    km_solver_ask(s, &ask, &plan) == KM_OK && plan.proved &&
		    plan.feasible;

	km_arena_free(mem);
	return good ? plan.value : -1;
}

/* The order of the options changes nothing, one less never makes it better,
 * and neither does a smaller budget. */
static bool laws_hold(struct mixed *m)
{
	int64_t budget = 2000 + any(8000), all = value_of(&m->p, budget);
	struct km_solve_option spare;

	for (uint32_t o = OPTIONS; o-- > 1;) {
		uint32_t other = any(o + 1);

		spare = m->option[o];
		m->option[o] = m->option[other];
		m->option[other] = spare;
	}
	if (all < 0 || value_of(&m->p, budget) != all ||
	    value_of(&m->p, budget - 500) < all ||
	    value_of(&m->p, KM_SOLVE_FREE) > all)
		return false;
	while (m->option[OPTIONS - 1].points == 100) {	/* open: needed */
		spare = m->option[OPTIONS - 1];
		memmove(m->option + 1, m->option,
			(OPTIONS - 1) * sizeof spare);
		m->option[0] = spare;
	}
	m->p.noptions--;
	return value_of(&m->p, budget) >= all;
}

int main(int argc, char **argv)
{
	struct mixed *m;
	int bad = 0;

	if (argc == 2 && strcmp(argv[1], "-") == 0)
		return answer_all();
	m = calloc(1, sizeof *m);
	for (int i = 0; m && i < ROUNDS; i++) {
		make(m);
		bad += !laws_hold(m);
	}
	if (bad || !m)
		fprintf(stderr, "plan_oracle: %d of %d break a law\n", bad,
			ROUNDS);
	free(m);
	return bad || !m;
}
