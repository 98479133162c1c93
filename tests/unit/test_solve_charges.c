/* SPDX-License-Identifier: MIT */
/*
 * The exact plan where places share what is paid: parcels, lots, loads and job
 * lots, worked by hand beside each test.
 */
#include "solve_fixture.h"

/*
 * Five items of 12, 9, 15, 8 and 11; five sellers at 6.50 a parcel:
 * 55.00 + 5 x 6.50 = 87.50.  Seller V has the first four at 1.20 more each and
 * one parcel of 9.80: 44.00 + 4.80 + 9.80 = 58.60, and the fifth alone
 * 17.50, together 76.10.
 */
static void one_parcel_beats_five(void **state)
{
	static const int64_t price[5] = { 1200, 900, 1500, 800, 1100 };
	struct made *m = make(5);
	uint32_t v;
	uint8_t barred[OPTIONS_MOST] = { 0 };
	struct km_solve_ask ask = all_of(0, 1);
	struct km_solve_plan plan;

	(void)state;
	for (uint32_t i = 0; i < 5; i++)
		option(m, i, price[i], 0, fixed(m, 650), 0, NONE);
	v = fixed(m, 980);
	for (uint32_t i = 0; i < 4; i++)
		barred[option(m, i, price[i] + 120, 0, v, 0, NONE)] = 1;
	expect_money(m, 7610);
	assert_int_equal(m->option_of[0], 5);
	assert_int_equal(m->option_of[3], 8);
	assert_int_equal(m->option_of[4], 4);
	ask.barred = barred;
	plan = solved(m, ask);
	assert_int_equal(plan.money, 8750);
	gone(m);
}

/* Nickel at 7.00 a piece, 60.00 at least. */
static const int64_t nickel[] = { 0,	6000, 6000, 6000, 6000, 6000,
				  6000, 6000, 6000, 6300, 7000 };

/* 8 pieces 56.00, so 60.00; 9 pieces 63.00; 10 pieces 70.00. */
static void a_lot_costs_its_minimum_first(void **state)
{
	static const struct { uint32_t pieces; int64_t money; } rows[] = {
		{ 1, 6000 }, { 3, 6000 }, { 8, 6000 }, { 9, 6300 },
		{ 10, 7000 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = make(rows[i].pieces);
		uint32_t lot = table(m, nickel, COUNT(nickel));

		for (uint32_t s = 0; s < rows[i].pieces; s++)
			option(m, s, 0, 0, lot, 0, NONE);
		expect_money(m, rows[i].money);
		gone(m);
	}
}

/*
 * Each of n pliers: buy 24.00 + 6.50 = 30.50, or restore 9.00 and nickel.
 * One: 69.00 or 30.50.  Two: 78.00 or 61.00.  Three: 87.00 or 91.50.
 */
static void three_together_are_worth_a_lot(void **state)
{
	static const int64_t least[] = { 3050, 6100, 8700 };

	(void)state;
	for (uint32_t n = 1; n <= 3; n++) {
		struct made *m = make(n);
		uint32_t lot = table(m, nickel, COUNT(nickel));

		for (uint32_t s = 0; s < n; s++) {
			option(m, s, 2400, 0, fixed(m, 650), 0, NONE);
			option(m, s, 900, 0, lot, 0, NONE);
		}
		expect_money(m, least[n - 1]);
		for (uint32_t s = 0; s < n; s++)
			assert_int_equal(m->option_of[s], 2 * s + (n == 3));
		gone(m);
	}
}

/*
 * Loads of two at 10.00, five pieces; buying costs 6.00 each.  Two loads and
 * one bought 26.00; three loads 30.00; one load and three bought 28.00; all
 * bought 30.00.
 */
static void loads_are_filled(void **state)
{
	static const int64_t loads[] = { 0, 1000, 1000, 2000, 2000, 3000 };
	struct made *m = make(5);
	uint32_t load = table(m, loads, COUNT(loads)), bought = 0;

	(void)state;
	for (uint32_t s = 0; s < 5; s++) {
		option(m, s, 0, 0, load, 0, NONE);
		option(m, s, 600, 0, NONE, 0, NONE);
	}
	expect_money(m, 2600);
	for (uint32_t s = 0; s < 5; s++)
		bought += m->option_of[s] % 2;
	assert_int_equal(bought, 1);
	gone(m);
}

/* The same, with room for three pieces in all: one load and three bought
 * 28.00, or two loads, three pieces, and two bought 32.00. */
static void a_full_load_takes_no_more(void **state)
{
	static const int64_t loads[] = { 0, 1000, 1000, 2000 };
	struct made *m = make(5);
	uint32_t load = table(m, loads, COUNT(loads));

	(void)state;
	m->charge[load].most = 3;
	for (uint32_t s = 0; s < 5; s++) {
		option(m, s, 0, 0, load, 0, NONE);
		option(m, s, 600, 0, NONE, 0, NONE);
	}
	expect_money(m, 2800);
	gone(m);
}

/* A job lot of 20.00 fills three places, each 8.00 elsewhere: 20 < 24.  With
 * one of them owned 20 > 16, so that it is not bought. */
static void a_job_lot_is_bought_whole(void **state)
{
	(void)state;
	for (uint32_t owned = 0; owned < 2; owned++) {
		struct made *m = make(3);
		uint32_t job = fixed(m, 2000);

		for (uint32_t s = 0; s < 3; s++) {
			option(m, s, 0, 0, job, 0, NONE);
			option(m, s, 800, 0, NONE, 0, NONE);
		}
		if (owned)
			option(m, 0, 0, 0, NONE, 0, NONE);
		expect_money(m, owned ? 1600 : 2000);
		gone(m);
	}
}

/*
 * Seller A: 20.00 and 18.00, postage 5.00, free from 40.00.  Place 0 has a
 * dearer piece of A at 22.00.  20 + 18 + 5 = 43.00; 22 + 18 = 40.00 free.  A
 * threshold of 40.01 is not reached.
 */
static void postage_falls_at_the_threshold(void **state)
{
	(void)state;
	for (int64_t over = 4000; over <= 4001; over++) {
		struct made *m = make(2);
		uint32_t a = parcel(m, 500, over, 0);

		option(m, 0, 2000, 0, a, 2000, NONE);
		option(m, 0, 2200, 0, a, 2200, NONE);
		option(m, 1, 1800, 0, a, 1800, NONE);
		expect_money(m, over == 4000 ? 4000 : 4300);
		gone(m);
	}
}

/*
 * Seller B takes orders from 30.00: 12.00 and 15.00 are 27.00, too little.
 * Elsewhere 20.00 each, so one of them there is no order either: 40.00.  With
 * an order topped up: 27 + 3 + postage 4 = 34.00.  From 27.00: 31.00.
 */
static void a_minimum_order_must_be_reached(void **state)
{
	static const struct { int64_t from, money; bool top_up; } rows[] = {
		{ 3000, 4000, false }, { 3000, 3400, true },
		{ 2700, 3100, false },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct made *m = make(2);
		uint32_t b = parcel(m, 400, FREE, rows[i].from);

		m->charge[b].top_up = rows[i].top_up;
		option(m, 0, 1200, 0, b, 1200, NONE);
		option(m, 1, 1500, 0, b, 1500, NONE);
		option(m, 0, 2000, 0, NONE, 0, NONE);
		option(m, 1, 2000, 0, NONE, 0, NONE);
		expect_money(m, rows[i].money);
		gone(m);
	}
}

/*
 * Four lots with minimums 95, 145, 125 and 50; the three highest are paid:
 * 145 + 125 + 95 = 365.  Only three lots used: 95 + 125 + 50 = 270.  With a
 * way of 40 to do without the last lot: the fourth lot comes free, 365 still.
 */
static void a_shop_charges_three_minimums(void **state)
{
	static const int64_t minimum[] = { 95, 145, 125, 50 };

	(void)state;
	for (uint32_t skip = 0; skip < 3; skip++) {
		struct made *m = make(4);

		m->p.ngroups = 1;
		m->paid[0] = 3;
		for (uint32_t s = 0; s < 4; s++) {
			uint32_t k = table(m, (int64_t[]){ 0 }, 1);

			m->charge[k].group = 0;
			m->charge[k].minimum = minimum[s];
			option(m, s, 0, 0, k, 0, NONE);
		}
		if (skip == 1)
			option(m, 1, 0, 0, NONE, 0, NONE);
		if (skip == 2)
			option(m, 3, 40, 0, NONE, 0, NONE);
		expect_money(m, skip == 1 ? 270 : 365);
		gone(m);
	}
}

/* With two pliers, buying is best, 61.00.  Place 0 restored: 69.00 and 30.50,
 * or both restored, 78.00: the margin is 17.00. */
static void a_choice_can_be_forced(void **state)
{
	struct made *m = make(2);
	uint32_t lot = table(m, nickel, COUNT(nickel)), o;
	struct km_solve_ask ask = all_of(0, 1);
	struct km_solve_plan plan = { .option_of = m->option_of };

	(void)state;
	option(m, 0, 2400, 0, fixed(m, 650), 0, NONE);
	o = option(m, 0, 900, 0, lot, 0, NONE);
	option(m, 1, 2400, 0, fixed(m, 650), 0, NONE);
	option(m, 1, 900, 0, lot, 0, NONE);
	expect_money(m, 6100);
	assert_int_equal(km_solver_forced(solver(m), &ask, 0, &o, 1, &plan),
			 KM_OK);
	assert_int_equal(plan.money, 7800);
	assert_int_equal(m->option_of[0], o);
	assert_int_equal(km_solver_forced(solver(m), &ask, 1, &o, 1, &plan),
			 KM_ERANGE);
	gone(m);
}

/* Two used levers that three places could have, from two sellers whose postage
 * is 5.00 each; 1.00 and 1.20 apiece, and a new one for 9.00 without postage.
 * One used and two new: 1 + 5 + 18 = 24; three new: 27; two used and one new:
 * 2.20 + 10 + 9 = 21.20.  Each piece is one of its parcel, whichever place it
 * goes to: one node, since the prices of the places alone say a third of it. */
static void alike_pieces_are_bound_by_their_parcel(void **state)
{
	struct made *m = make(3);
	struct km_solve_ask ask = all_of(1000000, 1);
	struct km_solve_plan p;

	(void)state;
	parcel(m, 500, FREE, 0);
	parcel(m, 500, FREE, 0);
	m->capacity[0] = m->capacity[1] = 1;
	m->p.nresources = 2;
	for (uint32_t place = 0; place < 3; place++) {
		option(m, place, 100, 0, 0, 100, 0);
		option(m, place, 120, 0, 1, 120, 1);
		option(m, place, 900, 0, NONE, 0, NONE);
		option(m, place, 0, 100, NONE, 0, NONE);
	}
	p = solved(m, ask);
	assert_int_equal(p.points, 0);
	assert_int_equal(p.money, 2120);
	assert_in_range(p.nodes, 1, 2);	/* points, money */
	gone(m);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_parcel_beats_five),
		cmocka_unit_test(a_lot_costs_its_minimum_first),
		cmocka_unit_test(three_together_are_worth_a_lot),
		cmocka_unit_test(loads_are_filled),
		cmocka_unit_test(a_full_load_takes_no_more),
		cmocka_unit_test(a_job_lot_is_bought_whole),
		cmocka_unit_test(postage_falls_at_the_threshold),
		cmocka_unit_test(a_minimum_order_must_be_reached),
		cmocka_unit_test(a_shop_charges_three_minimums),
		cmocka_unit_test(a_choice_can_be_forced),
		cmocka_unit_test(alike_pieces_are_bound_by_their_parcel),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
