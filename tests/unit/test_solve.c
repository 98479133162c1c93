/* SPDX-License-Identifier: MIT */
/*
 * The exact plan: limits, orders and refusals, small cases worked by hand
 * beside each test.  Charges are in test_solve_charges.c.  Random ones are
 * compared with enumeration in test_solve_random.c and with two integer
 * programming codes in tests/oracle/plan.py.
 */
#include "solve_fixture.h"

/* One tool, two places: 3 for place 0 and 9 for place 1 without it. */
static void a_tool_serves_one_place(void **state)
{
	struct made *m = make(2);

	(void)state;
	m->p.nresources = 1;
	m->capacity[0] = 1;
	for (uint32_t s = 0; s < 2; s++) {
		option(m, s, 0, 0, NONE, 0, 0);
		option(m, s, s ? 900 : 300, 0, NONE, 0, NONE);
	}
	expect_money(m, 300);
	assert_int_equal(m->option_of[0], 1);
	assert_int_equal(m->option_of[1], 2);
	gone(m);
}

/* An option that takes two tools, each wanted elsewhere as well.  Place 0:
 * both tools, or 10.  Place 1: tool 0, or 4.  Place 2: tool 1, or 5.  Both
 * tools for place 0 cost 4 + 5 = 9, apart they cost 10. */
static void an_option_may_take_two_tools(void **state)
{
	static const uint32_t both[] = { 0, 1 };
	struct made *m = make(3);
	uint32_t o;

	(void)state;
	m->p.nresources = 2;
	m->capacity[0] = m->capacity[1] = 1;
	o = option(m, 0, 0, 0, NONE, 0, 0);
	m->option[o].resource = both;
	m->option[o].nresources = 2;
	option(m, 0, 10, 0, NONE, 0, NONE);
	option(m, 1, 0, 0, NONE, 0, 0);
	option(m, 1, 4, 0, NONE, 0, NONE);
	option(m, 2, 0, 0, NONE, 0, 1);
	option(m, 2, 5, 0, NONE, 0, NONE);
	expect_money(m, 9);
	gone(m);
}

/* Three places, 10, 20 and 30 points if open, 4.00, 6.00 and 7.00 to fill.
 * With 12.00: the last, 7.00, and the first, 4.00: 20 points; not the second
 * and the last, 13.00.  With 13.00 they: 10 points. */
static struct made *three_places(void)
{
	struct made *m = make(3);

	for (uint32_t s = 0; s < 3; s++) {
		option(m, s, 0, 10 * (s + 1), NONE, 0, NONE);
		option(m, s, s == 0 ? 400 : s == 1 ? 600 : 700, 0, NONE, 0,
		       NONE);
	}
	return m;
}

static void a_budget_is_kept(void **state)
{
	static const struct { int64_t budget, points; } rows[] = {
		{ 0, 60 }, { 399, 60 }, { 400, 50 }, { 1200, 20 },
		{ 1300, 10 }, { 1700, 0 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = three_places();
		struct km_solve_ask ask = all_of(1, 0);
		struct km_solve_plan plan;

		ask.budget = rows[i].budget;
		plan = solved(m, ask);
		assert_int_equal(plan.points, rows[i].points);
		assert_true(plan.money <= rows[i].budget);
		gone(m);
	}
}

/* The same, the least money for at most so many points: 60 nothing, 50 the
 * first 4.00, 30 the last 7.00, 29 first and last 11.00, 9 all 17.00. */
static void a_limit_of_points_is_kept(void **state)
{
	static const struct { int64_t limit, money; } rows[] = {
		{ 60, 0 }, { 50, 400 }, { 30, 700 }, { 29, 1100 }, { 9, 1700 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = three_places();
		struct km_solve_ask ask = all_of(0, 1);

		ask.limit = rows[i].limit;
		assert_int_equal(solved(m, ask).money, rows[i].money);
		gone(m);
	}
}

struct list {
	size_t n;
	int64_t at[16][2];
};

static bool note(void *user, const struct km_solve_plan *plan)
{
	struct list *l = user;

	assert_true(l->n < COUNT(l->at));
	l->at[l->n][0] = plan->points;
	l->at[l->n++][1] = plan->money;
	return true;
}

/* All eight plans: (60, 0) (50, 4) (40, 6) (30, 7) and (30, 10), worse; (20,
 * 11) (10, 13) (0, 17). */
static void the_frontier_has_every_plan_worth_having(void **state)
{
	static const int64_t want[][2] = {
		{ 0, 1700 }, { 10, 1300 }, { 20, 1100 }, { 30, 700 },
		{ 40, 600 }, { 50, 400 }, { 60, 0 },
	};
	struct made *m = three_places();
	struct km_solve_ask ask = all_of(0, 0);
	struct list got = { 0 };

	(void)state;
	assert_int_equal(km_solver_frontier(solver(m), &ask, note, &got),
			 KM_OK);
	assert_int_equal(got.n, COUNT(want));
	assert_memory_equal(got.at, want, sizeof want);
	gone(m);
}

/* Two places and one tool each must have. */
static void no_plan_is_said_to_be_none(void **state)
{
	struct made *m = make(2);
	struct km_solve_ask ask = all_of(0, 1);

	(void)state;
	m->p.nresources = 1;
	m->capacity[0] = 1;
	option(m, 0, 5, 0, NONE, 0, 0);
	option(m, 1, 5, 0, NONE, 0, 0);
	assert_false(solved(m, ask).feasible);
	gone(m);
	m = three_places();
	ask.limit = 5;
	ask.budget = 1600;
	assert_false(solved(m, ask).feasible);
	gone(m);
	m = make(1);			/* a place with no option at all */
	assert_false(solved(m, all_of(1, 1)).feasible);
	gone(m);
	m = make(0);			/* and no place: an empty plan */
	assert_true(solved(m, all_of(1, 1)).feasible);
	gone(m);
}

/*
 * The trap of a mark that stands for "not allowed": points weighted by ten
 * million, money in thousands and a budget, so that a penalised cost passes
 * any such mark.  Place 0: a tool of place 1, or 100 000.00 and 1 point, or
 * open and 9000 points; place 1: that tool, or 90 000.00, or open, 8000.
 * Within 95 000.00: place 0 takes the tool, place 1 buys: 0 points.
 * Within 85 000.00: one stays open, 8000 points, nothing spent.
 */
static void huge_costs_do_not_pass_for_forbidden(void **state)
{
	static const struct { int64_t budget, points, money; } rows[] = {
		{ 9500000, 0, 9000000 }, { 8500000, 8000, 0 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = make(2);
		struct km_solve_ask ask = all_of(10000000, 1);
		struct km_solve_plan plan;

		m->p.nresources = 1;
		m->capacity[0] = 1;
		option(m, 0, 0, 0, NONE, 0, 0);
		option(m, 0, 10000000, 1, NONE, 0, NONE);
		option(m, 0, 0, 9000, NONE, 0, NONE);
		option(m, 1, 0, 0, NONE, 0, 0);
		option(m, 1, 9000000, 0, NONE, 0, NONE);
		option(m, 1, 0, 8000, NONE, 0, NONE);
		ask.budget = rows[i].budget;
		plan = solved(m, ask);
		assert_true(plan.feasible);
		assert_int_equal(plan.points, rows[i].points);
		assert_int_equal(plan.money, rows[i].money);
		gone(m);
	}
}

/*
 * Delivered elsewhere 30.50.  Ready: worth 30.50.  Needing 9.00 of work in a
 * lot that is open: 21.50.  If the lot must be opened, 60.00: 30.50 - 69.00,
 * not as a gift.
 */
static void a_want_is_worth_what_it_saves(void **state)
{
	static const struct { int64_t work, lot, most; } rows[] = {
		{ 0, 0, 3050 }, { 900, 0, 2150 }, { 900, 6000, -1 },
	};
	struct km_solve_ask ask = all_of(0, 1);

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = make(2);
		uint32_t lot = fixed(m, rows[i].lot), wanted, only;
		bool proved = false;
		int64_t most = 0;

		wanted = option(m, 0, rows[i].work, 0, lot, 0, NONE);
		only = option(m, 1, 0, 0, NONE, 0, NONE);
		option(m, 0, 2400, 0, fixed(m, 650), 0, NONE);
		assert_int_equal(km_solver_ceiling(solver(m), &ask, wanted,
						   &most, &proved), KM_OK);
		assert_true(proved);
		/* of the price and the work together */
		assert_int_equal(most, rows[i].most < 0 ? -1 :
				       rows[i].most + rows[i].work);
		assert_int_equal(km_solver_ceiling(solver(m), &ask, only,
						   &most, &proved), KM_OK);
		assert_int_equal(most, FREE);	/* no plan without it */
		gone(m);
	}
}

/* Four options of equal cost in each of three places, one tool shared by the
 * first options: the first place takes it, the others take their second. */
static void equal_plans_are_told_apart_by_order(void **state)
{
	struct made *m = make(3);
	struct km_solve_ask ask = all_of(0, 1);
	struct km_solve_plan plan = { .option_of = m->option_of };

	(void)state;
	m->p.nresources = 1;
	m->capacity[0] = 1;
	for (uint32_t s = 0; s < 3; s++)
		for (uint32_t i = 0; i < 4; i++)
			option(m, s, 7, 0, NONE, 0, i ? NONE : 0);
	assert_int_equal(km_solver_first(solver(m), &ask, &plan), KM_OK);
	assert_int_equal(plan.money, 21);
	assert_int_equal(m->option_of[0], 0);
	assert_int_equal(m->option_of[1], 5);
	assert_int_equal(m->option_of[2], 9);
	gone(m);
}

/* 15 places with odd prices and a budget that none of their sums meets: after
 * one node the plan is not proved, and the bound lies below it. */
static void a_search_that_is_stopped_keeps_its_bound(void **state)
{
	struct made *m = make(15);
	struct km_solve_ask ask = all_of(1, 0);
	struct km_solve_plan few = { 0 }, all = { 0 };

	(void)state;
	for (uint32_t s = 0; s < 15; s++) {
		option(m, s, 0, 1000 + 37 * s, NONE, 0, NONE);
		option(m, s, 2000 + 71 * s, 0, NONE, 0, NONE);
		option(m, s, 900 + 31 * s, 300 + 23 * s, NONE, 0, NONE);
	}
	ask.budget = 14321;
	assert_int_equal(km_solver_ask(solver(m), &ask, &all), KM_OK);
	assert_true(all.proved && all.nodes > 1);
	ask.nodes = 1;
	assert_int_equal(km_solver_ask(solver(m), &ask, &few), KM_OK);
	assert_true(few.feasible && !few.proved);
	assert_int_equal(few.nodes, 2);	/* is there a plan, and how good */
	assert_true(few.bound <= all.value && all.value <= few.value);
	assert_true(few.bound < few.value);
	gone(m);
}

/* Fourteen places, each with four sites that share nothing but their charge;
 * the solver and 20 000 asks in 256 KiB. */
static void asking_again_takes_no_more_room(void **state)
{
	static const struct km_limits lim = { .arena_bytes = 256 * 1024 };
	struct km_solve_ask ask = all_of(0, 1);
	struct km_arena *mem = km_arena_new(&lim);
	struct made *m = make(14);
	struct km_solver *s;

	(void)state;
	for (uint32_t k = 0; k < 4; k++)
		fixed(m, 900 + 10 * k);
	for (uint32_t place = 0; place < 14; place++)
		for (uint32_t k = 0; k < 4; k++)
			option(m, place, 100 * ((place + 3 * k) % 7), 0, k, 0,
			       NONE);
	assert_int_equal(km_solver_new(mem, &m->p, &s), KM_OK);
	for (int i = 0; i < 20000; i++) {
		struct km_solve_plan plan = { 0 };

		assert_int_equal(km_solver_ask(s, &ask, &plan), KM_OK);
		assert_true(plan.proved);
	}
	km_arena_free(mem);
	free(m);
}

static enum km_status status_of(struct made *m, struct km_solve_ask ask)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_solve_plan plan = { 0 };
	struct km_solver *s;
	enum km_status st = km_solver_new(mem, &m->p, &s);

	if (st == KM_OK)
		st = km_solver_ask(s, &ask, &plan);
	km_arena_free(mem);
	return st;
}

static void what_cannot_be_is_refused(void **state)
{
	struct made *m = three_places();

	(void)state;
	assert_int_equal(status_of(m, all_of(1, 1)), KM_OK);
	assert_int_equal(status_of(m, all_of(-1, 1)), KM_ERANGE);
	assert_int_equal(status_of(m, all_of(INT64_MAX, 1)), KM_ERANGE);
	assert_int_equal(status_of(m, all_of(1, INT64_MAX / 4)), KM_ERANGE);
	m->option[0].money = INT64_MAX;
	assert_int_equal(status_of(m, all_of(1, 1)), KM_ERANGE);
	m->option[0].money = -1;
	assert_int_equal(status_of(m, all_of(1, 1)), KM_ERANGE);
	m->option[0].money = 0;
	m->option[0].place = 3;
	assert_int_equal(status_of(m, all_of(1, 1)), KM_ERANGE);
	m->option[0].place = 0;
	m->option[0].nresources = 1;
	m->resource[0] = 0;
	assert_int_equal(status_of(m, all_of(1, 1)), KM_ERANGE);
	gone(m);
	m = make(1);
	option(m, 0, 0, 0, table(m, (int64_t[]){ 0, 5, 4 }, 3), 0, NONE);
	assert_int_equal(status_of(m, all_of(1, 1)), KM_ERANGE);
	gone(m);
}

/* Every allocation fails in turn; nothing leaks, nothing is half done. */
static void running_out_of_memory_is_reported(void **state)
{
	struct made *m = three_places();
	struct km_solve_ask ask = all_of(1, 0);
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	ask.budget = 1200;
	while (st != KM_OK) {
		struct km_fault fault = { .fail_at = ++n, .and_after = 1 };
		struct km_limits lim = { .fault = &fault };
		struct km_arena *mem = km_arena_new(&lim);
		struct km_solve_plan plan = { .value = -7 };
		struct km_solver *s;

		if (!mem)
			continue;
		st = km_solver_new(mem, &m->p, &s);
		if (st == KM_OK)
			st = km_solver_ask(s, &ask, &plan);
		if (st != KM_OK) {
			assert_int_equal(st, KM_ENOMEM);
			assert_int_equal(plan.value, -7);
		}
		km_arena_free(mem);
	}
	assert_true(n > 2);
	gone(m);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_tool_serves_one_place),
		cmocka_unit_test(an_option_may_take_two_tools),
		cmocka_unit_test(a_budget_is_kept),
		cmocka_unit_test(a_limit_of_points_is_kept),
		cmocka_unit_test(the_frontier_has_every_plan_worth_having),
		cmocka_unit_test(no_plan_is_said_to_be_none),
		cmocka_unit_test(huge_costs_do_not_pass_for_forbidden),
		cmocka_unit_test(a_want_is_worth_what_it_saves),
		cmocka_unit_test(equal_plans_are_told_apart_by_order),
		cmocka_unit_test(a_search_that_is_stopped_keeps_its_bound),
		cmocka_unit_test(asking_again_takes_no_more_room),
		cmocka_unit_test(what_cannot_be_is_refused),
		cmocka_unit_test(running_out_of_memory_is_reported),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
