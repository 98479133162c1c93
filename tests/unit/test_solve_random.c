/* SPDX-License-Identifier: MIT */
/*
 * The exact plan against enumeration: small problems of every feature, made
 * from a fixed seed, each choice of each place tried and paid for by a second,
 * plain reading of the rules.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "plan/solve.h"

#define PLACES 6
#define OPTIONS 5		/* of a place */
#define CHARGES 6
#define RESOURCES 4
#define GROUPS 1
#define STEPS 8
#define PROBLEMS 1500
#define FRONTIERS 150

struct small {
	struct km_solve p;
	struct km_solve_option option[PLACES * OPTIONS];
	struct km_solve_use use[PLACES * OPTIONS][3];
	uint32_t resource[PLACES * OPTIONS][2];
	struct km_solve_charge charge[CHARGES];
	int64_t table[CHARGES][STEPS];
	uint32_t capacity[RESOURCES], paid[GROUPS];
	uint8_t barred[PLACES * OPTIONS];
};

static uint64_t seed;

/* 0 .. n - 1; xorshift64*, [memory] */
static uint32_t any(uint32_t n)
{
	seed ^= seed >> 12;
	seed ^= seed << 25;
	seed ^= seed >> 27;
	return (uint32_t)((seed * 2685821657736338717u) >> 33) % n;
}

static void make_charge(struct small *s, uint32_t k)
{
	struct km_solve_charge *c = &s->charge[k];

	*c = (struct km_solve_charge){ .table = s->table[k],
				       .group = KM_SOLVE_NONE };
	if (any(3) == 0) {
		c->kind = KM_SOLVE_PARCEL;
		c->postage = any(30);
		c->free_over = any(2) ? 20 + any(60) : KM_SOLVE_FREE;
		c->minimum_order = any(2) ? any(70) : 0;
		c->top_up = any(2);
		return;
	}
	c->ntable = 1 + any(STEPS);
	for (uint32_t n = 1; n < c->ntable; n++)
		s->table[k][n] = s->table[k][n - 1] +
				 (any(2) ? any(25) : 0);
	c->most = any(4) ? 0 : 1 + any(3);
	c->minimum = any(2) ? any(40) : 0;
	if (s->p.ngroups && any(3))
		c->group = 0;
}

static void make_option(struct small *s, uint32_t o, uint32_t place)
{
	struct km_solve_option *q = &s->option[o];

	*q = (struct km_solve_option){
		.place = place, .money = any(60), .points = 5 * any(12),
		.use = s->use[o], .resource = s->resource[o]
	};
	for (uint32_t k = 0; k < s->p.ncharges && q->nuses < 3; k++) {
		bool goods = s->charge[k].kind == KM_SOLVE_PARCEL;

		if (any(4) == 0)
			s->use[o][q->nuses++] = (struct km_solve_use){
				k, goods ? any(40) : 0 };
	}
	for (uint32_t r = 0; r < s->p.nresources && q->nresources < 2; r++)
		if (any(5) == 0)
			s->resource[o][q->nresources++] = r;
	s->barred[o] = any(12) == 0;
}

/* Nothing shared but one flat charge an option: sites and clients. */
static void make_sites(struct small *s)
{
	s->p.nresources = s->p.ngroups = 0;
	for (uint32_t k = 0; k < s->p.ncharges; k++) {
		s->charge[k] = (struct km_solve_charge){
			.table = s->table[k], .ntable = 2,
			.group = KM_SOLVE_NONE
		};
		s->table[k][1] = any(40);
	}
	for (uint32_t o = 0; o < s->p.noptions; o++) {
		s->option[o].nresources = 0;
		s->option[o].nuses = any(6) && s->p.ncharges ? 1 : 0;
		s->use[o][0] = (struct km_solve_use){
			any(s->p.ncharges + 1), 0 };
		if (s->use[o][0].charge == s->p.ncharges)
			s->option[o].nuses = 0;
	}
}

/* Option o is option from again, in the place after: the pieces of a slot have
 * the same ways, and the same used thing is to be had for any of them. */
static void make_same(struct small *s, uint32_t o, uint32_t from)
{
	s->option[o] = s->option[from];
	memcpy(s->use[o], s->use[from], sizeof s->use[o]);
	memcpy(s->resource[o], s->resource[from], sizeof s->resource[o]);
	s->option[o].use = s->use[o];
	s->option[o].resource = s->resource[o];
	s->option[o].place++;
	if (any(4) == 0)
		s->barred[o] = any(2) == 0;
	else
		s->barred[o] = s->barred[from];
	if (any(20) == 0)
		s->option[o].money = any(60);
}

/* A place like the one before it, in the same or in the opposite order. */
static uint32_t make_like_last(struct small *s, uint32_t o, uint32_t n)
{
	bool turned = any(3) == 0;

	for (uint32_t i = 0; i < n; i++)
		make_same(s, o + i, turned ? o - 1 - i : o + i - n);
	return o + n;
}

/* The last option of a place is to leave it open, mostly. */
static void make(struct small *s)
{
	uint32_t o = 0, last = 0;
	bool alike = any(2);

	memset(s, 0, sizeof *s);
	s->p = (struct km_solve){
		.nplaces = 1 + any(PLACES), .ncharges = any(CHARGES + 1),
		.nresources = any(RESOURCES + 1), .ngroups = any(2),
		.option = s->option, .charge = s->charge,
		.capacity = s->capacity, .paid = s->paid
	};
	s->paid[0] = any(4);
	for (uint32_t r = 0; r < s->p.nresources; r++)
		s->capacity[r] = any(8) ? 1 + (any(4) == 0) : 0;
	for (uint32_t k = 0; k < s->p.ncharges; k++)
		make_charge(s, k);
	for (uint32_t place = 0; place < s->p.nplaces; place++) {
		uint32_t n = 1 + any(OPTIONS);

		if (alike && place > 0 && any(3)) {
			o = make_like_last(s, o, last);
			continue;
		}
		last = n;
		for (uint32_t i = 0; i < n; i++)
			make_option(s, o++, place);
		if (any(8)) {
			s->option[o - 1].nuses = s->option[o - 1].nresources =
				0;
			s->option[o - 1].money = 0;
			s->option[o - 1].points = 40 + 5 * any(20);
		}
	}
	s->p.noptions = o;
	if (any(4) == 0)
		make_sites(s);
}

/* ---- a plain reading of the rules --------------------------------------- */

static bool charge_money(const struct km_solve_charge *c, uint32_t n,
			 int64_t goods, int64_t *money)
{
	if (n == 0)
		return true;
	if (c->kind == KM_SOLVE_COUNT) {
		if (c->most && n > c->most)
			return false;
		*money += n < c->ntable ? c->table[n] :
					  c->table[c->ntable - 1];
		return true;
	}
	if (goods < c->minimum_order) {
		if (!c->top_up)
			return false;
		*money += c->minimum_order - goods;
		goods = c->minimum_order;
	}
	*money += goods >= c->free_over ? 0 : c->postage;
	return true;
}

/* Minimums: those outside the group, and the highest few in it. */
static int64_t minimums(const struct small *s, const uint32_t *pieces)
{
	int64_t money = 0, in[CHARGES];
	uint32_t n = 0;

	for (uint32_t k = 0; k < s->p.ncharges; k++) {
		const struct km_solve_charge *c = &s->charge[k];

		if (c->kind != KM_SOLVE_COUNT || pieces[k] == 0)
			continue;
		if (c->group == KM_SOLVE_NONE)
			money += c->minimum;
		else
			in[n++] = c->minimum;
	}
	for (uint32_t paid = 0; paid < s->paid[0] && n > 0; paid++) {
		uint32_t best = 0;

		for (uint32_t i = 1; i < n; i++)
			best = in[i] > in[best] ? i : best;
		money += in[best];
		in[best] = in[--n];
	}
	return money;
}

static bool pay(const struct small *s, const uint32_t *choice, int64_t *money,
		int64_t *points)
{
	uint32_t pieces[CHARGES] = { 0 }, taken[RESOURCES] = { 0 };
	int64_t goods[CHARGES] = { 0 };

	*money = *points = 0;
	for (uint32_t i = 0; i < s->p.nplaces; i++) {
		const struct km_solve_option *o = &s->option[choice[i]];

		if (s->barred[choice[i]])
			return false;
		*money += o->money;
		*points += o->points;
		for (uint32_t j = 0; j < o->nuses; j++) {
			pieces[o->use[j].charge]++;
			goods[o->use[j].charge] += o->use[j].goods;
		}
		for (uint32_t j = 0; j < o->nresources; j++)
			if (++taken[o->resource[j]] >
			    s->capacity[o->resource[j]])
				return false;
	}
	for (uint32_t k = 0; k < s->p.ncharges; k++)
		if (!charge_money(&s->charge[k], pieces[k], goods[k], money))
			return false;
	*money += minimums(s, pieces);
	return true;
}

/* Choices in lexicographic order; false after the last. */
static bool next(const struct small *s, uint32_t *choice)
{
	for (uint32_t i = s->p.nplaces; i-- > 0;) {
		if (choice[i] + 1 < s->p.noptions &&
		    s->option[choice[i] + 1].place == i) {
			choice[i]++;
			return true;
		}
		while (choice[i] > 0 && s->option[choice[i] - 1].place == i)
			choice[i]--;
	}
	return false;
}

static void first_choice(const struct small *s, uint32_t *choice)
{
	for (uint32_t o = s->p.noptions; o-- > 0;)
		choice[s->option[o].place] = o;
}

/* The first of the best; false: there is none. */
static bool best_of_all(const struct small *s, const struct km_solve_ask *ask,
			uint32_t *best, int64_t *value)
{
	uint32_t choice[PLACES];
	bool found = false;
	int64_t money, points, v;

	first_choice(s, choice);
	do {
		if (!pay(s, choice, &money, &points) || money > ask->budget ||
		    points > ask->limit)
			continue;
		v = ask->points_weight * points + ask->money_weight * money;
		if (found && v >= *value)
			continue;
		found = true;
		*value = v;
		memcpy(best, choice, sizeof choice);
	} while (next(s, choice));
	return found;
}

/* ---- the comparison ----------------------------------------------------- */

static struct km_solve_ask make_ask(const struct small *s)
{
	static const int64_t weight[][2] = {
		{ 1, 0 }, { 0, 1 }, { 3, 1 }, { 1, 7 }, { 100000, 1 },
		{ 1, 100000 },
		{ (int64_t)1 << 42, (int64_t)1 << 40 },	/* near the edge */
	};
	const int64_t *w = weight[any(7)];

	return (struct km_solve_ask){
		w[0], w[1], any(2) ? any(200) : KM_SOLVE_FREE,
		any(3) ? KM_SOLVE_FREE : any(300), s->barred, 0
	};
}

static void compare(const struct small *s, struct km_solver *solver,
		    const struct km_solve_ask *ask, uint32_t number)
{
	uint32_t got[PLACES], first[PLACES], want[PLACES];
	struct km_solve_plan plan = { .option_of = got };
	struct km_solve_plan least = { .option_of = first };
	int64_t value = 0, money = 0, points = 0;
	bool found = best_of_all(s, ask, want, &value);

	assert_int_equal(km_solver_ask(solver, ask, &plan), KM_OK);
	if (!plan.proved || plan.feasible != found ||
	    (found && (plan.value != value || plan.bound != value)))
		fail_msg("problem %u: %d %ld, not %d %ld", (unsigned)number,
			 plan.feasible, (long)plan.value, found, (long)value);
	if (!found)
		return;
	assert_true(pay(s, got, &money, &points));
	assert_int_equal(money, plan.money);
	assert_int_equal(points, plan.points);
	assert_true(money <= ask->budget && points <= ask->limit);
	assert_int_equal(km_solver_first(solver, ask, &least), KM_OK);
	assert_memory_equal(first, want, s->p.nplaces * sizeof *want);
	assert_int_equal(least.value, value);
	assert_true(pay(s, first, &money, &points));
	assert_int_equal(money, least.money);
	assert_int_equal(points, least.points);
}

static void the_best_plan_is_the_best_of_all(void **state)
{
	struct small *s = calloc(1, sizeof *s);
	uint32_t feasible = 0;

	(void)state;
	assert_non_null(s);
	seed = 20240601;
	for (uint32_t i = 0; i < PROBLEMS; i++) {
		struct km_arena *mem = km_arena_new(NULL);
		struct km_solver *solver;
		uint32_t want[PLACES];
		int64_t value;

		make(s);
		assert_int_equal(km_solver_new(mem, &s->p, &solver), KM_OK);
		for (int n = 0; n < 3; n++) {
			struct km_solve_ask ask = make_ask(s);

			compare(s, solver, &ask, i);
			feasible += best_of_all(s, &ask, want, &value);
		}
		km_arena_free(mem);
	}
	assert_in_range(feasible, PROBLEMS, 3 * PROBLEMS - 1);
	free(s);
}

/* Stopped at any number of nodes, the best lies between bound and value, and
 * the same is found again. */
static void stopped_early(const struct small *s, const struct km_solve_ask *ask,
			  uint64_t nodes, uint32_t number)
{
	uint32_t got[PLACES], again[PLACES], want[PLACES];
	struct km_solve_plan plan = { .option_of = got };
	struct km_solve_plan twice = { .option_of = again };
	struct km_arena *mem = km_arena_new(NULL);
	struct km_solve_ask a = *ask;
	struct km_solver *solver;
	int64_t value = 0;
	bool found = best_of_all(s, ask, want, &value);

	a.nodes = nodes;
	assert_int_equal(km_solver_new(mem, &s->p, &solver), KM_OK);
	assert_int_equal(km_solver_ask(solver, &a, &plan), KM_OK);
	if ((plan.feasible && (!found || plan.value < value)) ||
	    (found && plan.bound > value) ||
	    (plan.proved && (plan.feasible != found ||
			     (found && plan.value != value))))
		fail_msg("problem %u, %u nodes: %d %d %ld..%ld, not %d %ld",
			 (unsigned)number, (unsigned)nodes, plan.feasible,
			 plan.proved, (long)plan.bound, (long)plan.value,
			 found, (long)value);
	assert_int_equal(km_solver_new(mem, &s->p, &solver), KM_OK);
	assert_int_equal(km_solver_ask(solver, &a, &twice), KM_OK);
	assert_int_equal(plan.value, twice.value);
	assert_int_equal(plan.bound, twice.bound);
	assert_int_equal(plan.nodes, twice.nodes);
	if (plan.feasible)
		assert_memory_equal(got, again, s->p.nplaces * sizeof *got);
	km_arena_free(mem);
}

static void a_bound_holds_wherever_it_stops(void **state)
{
	struct small *s = calloc(1, sizeof *s);

	(void)state;
	assert_non_null(s);
	seed = 31415;
	for (uint32_t i = 0; i < FRONTIERS; i++) {
		struct km_solve_ask ask;

		make(s);
		ask = make_ask(s);
		for (uint64_t nodes = 1; nodes < 6; nodes++)
			stopped_early(s, &ask, nodes, i);
	}
	free(s);
}

/* The best without an option, less the best with it as a gift. */
static void compare_ceiling(struct small *s, struct km_solver *solver,
			    uint32_t number)
{
	uint32_t o = any(s->p.noptions), want[PLACES];
	struct km_solve_ask ask = { 2, 3, KM_SOLVE_FREE, KM_SOLVE_FREE,
				    s->barred, 0 };
	int64_t with, without, most, expect, gain, money = s->option[o].money;
	uint8_t keep[PLACES * OPTIONS];
	bool can, other, proved = false;

	memcpy(keep, s->barred, sizeof keep);
	s->barred[o] = 1;
	other = best_of_all(s, &ask, want, &without);
	memcpy(s->barred, keep, sizeof keep);
	for (uint32_t i = 0; i < s->p.noptions; i++)
		if (s->option[i].place == s->option[o].place && i != o)
			s->barred[i] = 1;
	s->option[o].money = 0;
	can = best_of_all(s, &ask, want, &with);
	s->option[o].money = money;
	memcpy(s->barred, keep, sizeof keep);
	gain = can && other ? without - with : 0;
	expect = !can ? -1 : !other ? KM_SOLVE_FREE :
		 gain < 0 ? -1 : gain / ask.money_weight;
	assert_int_equal(km_solver_ceiling(solver, &ask, o, &most, &proved),
			 KM_OK);
	if (!proved || most != expect)
		fail_msg("problem %u, option %u: worth %ld, not %ld",
			 (unsigned)number, (unsigned)o, (long)most,
			 (long)expect);
}

static void a_ceiling_is_what_an_option_saves(void **state)
{
	struct small *s = calloc(1, sizeof *s);

	(void)state;
	assert_non_null(s);
	seed = 77;
	for (uint32_t i = 0; i < FRONTIERS; i++) {
		struct km_arena *mem = km_arena_new(NULL);
		struct km_solver *solver;

		make(s);
		assert_int_equal(km_solver_new(mem, &s->p, &solver), KM_OK);
		for (int n = 0; n < 4; n++)
			compare_ceiling(s, solver, i);
		km_arena_free(mem);
	}
	free(s);
}

/* ---- frontiers ---------------------------------------------------------- */

#define WORST 4096		/* no plan here has as many points */

struct front {
	const struct small *s;
	int64_t least[WORST];	/* money by points; -1: none */
	int64_t at;		/* points seen last */
	int64_t money;
};

static void enumerate(struct front *f)
{
	uint32_t choice[PLACES];
	int64_t money, points;

	for (size_t i = 0; i < WORST; i++)
		f->least[i] = -1;
	first_choice(f->s, choice);
	do {
		if (!pay(f->s, choice, &money, &points))
			continue;
		assert_in_range(points, 0, WORST - 1);
		if (f->least[points] < 0 || money < f->least[points])
			f->least[points] = money;
	} while (next(f->s, choice));
}

/* The next point of the frontier by enumeration; false: none is left. */
static bool following(struct front *f)
{
	while (++f->at < WORST) {
		int64_t m = f->least[f->at];

		if (m >= 0 && (f->money < 0 || m < f->money)) {
			f->money = m;
			return true;
		}
	}
	return false;
}

static bool check_point(void *user, const struct km_solve_plan *plan)
{
	struct front *f = user;
	int64_t money, points;

	assert_true(following(f));
	assert_int_equal(plan->points, f->at);
	assert_int_equal(plan->money, f->money);
	assert_true(pay(f->s, plan->option_of, &money, &points));
	assert_int_equal(money, plan->money);
	assert_int_equal(points, plan->points);
	return true;
}

static void every_point_of_the_frontier_is_found(void **state)
{
	struct small *s = calloc(1, sizeof *s);
	struct front *f = calloc(1, sizeof *f);
	uint32_t points = 0;

	(void)state;
	assert_true(s && f);
	seed = 4711;
	for (uint32_t i = 0; i < FRONTIERS; i++) {
		struct km_solve_ask ask = { 0, 0, KM_SOLVE_FREE,
					    KM_SOLVE_FREE, s->barred, 0 };
		struct km_arena *mem = km_arena_new(NULL);
		struct km_solver *solver;

		make(s);
		f->s = s;
		f->at = f->money = -1;
		enumerate(f);
		assert_int_equal(km_solver_new(mem, &s->p, &solver), KM_OK);
		assert_int_equal(km_solver_frontier(solver, &ask, check_point,
						    f), KM_OK);
		points += f->at > 0;
		assert_false(following(f));
		km_arena_free(mem);
	}
	assert_true(points > FRONTIERS / 2);
	free(f);
	free(s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_best_plan_is_the_best_of_all),
		cmocka_unit_test(a_bound_holds_wherever_it_stops),
		cmocka_unit_test(a_ceiling_is_what_an_option_saves),
		cmocka_unit_test(every_point_of_the_frontier_is_found),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
