/* SPDX-License-Identifier: MIT */
/*
 * What the choices of a plan come to.  Prices are invented but where a source
 * is named; each sum is worked beside its check.
 */
#include "joint_fixture.h"

static struct market k;		/* large: kept off the stack */

/* Every place takes its first way. */
static enum km_status try_bills(void)
{
	k.plan = (struct km_plan){ .n_places = k.n };
	for (uint32_t i = 0; i < k.n; i++)
		k.places[i].chosen = &k.ways[i][0];
	return km_bills_make(mem, &k.ask, k.places, k.n, &k.plan);
}

static const struct km_plan *bills(void)
{
	assert_int_equal(try_bills(), KM_OK);
	return &k.plan;
}

/* Nickel at 7.00 a piece, 60.00 at least.  3 pieces 60.00, and 5 more ride
 * free, 8 x 7 = 56; 9 pieces 63.00, the ninth adds 3.00; 10 pieces 70.00. */
static void a_lot_has_a_minimum(void **state)
{
	static const struct { uint32_t n; int64_t cost, free; } rows[] = {
		{ 1, 6000, 7 }, { 3, 6000, 5 }, { 8, 6000, 0 },
		{ 9, 6300, 0 }, { 10, 7000, 0 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		const struct km_plan_bill *b;

		open_market(&k, 0);
		lot(&k, KM_PROCESS_PLATE_NICKEL, 6000, 700);
		price(&k);
		for (uint32_t p = 0; p < rows[i].n; p++) {
			place(&k);
			work(&k, p, p, KM_PROCESS_PLATE_NICKEL, -1, 0, 0);
		}
		b = bill(bills(), KM_BILL_LOT);
		assert_int_equal(b->pieces, rows[i].n);
		assert_int_equal(b->cost.likely, rows[i].cost);
		assert_int_equal(b->ride_free, rows[i].free);
		assert_int_equal(b->closes.year, 0);
		assert_int_equal(k.plan.total.likely, rows[i].cost);
		assert_int_equal(k.plan.work.likely, rows[i].cost);
	}
}

/* A tank of 4.00 a load of 2, and 0.50 a piece: 1 piece 4.50, 2 pieces 5.00,
 * 3 pieces 2 x 4 + 1.50 = 9.50. */
static void loads_go_up_in_steps(void **state)
{
	static const int64_t cost[] = { 450, 500, 950 };

	(void)state;
	for (uint32_t n = 1; n <= 3; n++) {
		struct km_process_terms *t;
		const struct km_plan_bill *b;

		open_market(&k, 0);
		t = terms(&k, KM_PROCESS_SOAK_CITRIC);
		t->load = same(400);
		t->load_pieces = 2;
		t->piece = same(50);
		price(&k);
		for (uint32_t p = 0; p < n; p++) {
			place(&k);
			work(&k, p, p, KM_PROCESS_SOAK_CITRIC, -1, 20, 0);
		}
		b = bill(bills(), KM_BILL_LOAD);
		assert_int_equal(b->cost.likely, cost[n - 1]);
		assert_int_equal(b->ride_free, 0);	/* each costs 0.50 */
		assert_int_equal(k.plan.own_min[1], 20 * (int32_t)n);
	}
}

/* SOURCE price-list-2014: of several lot minimums on one delivery only the
 * three highest are charged.  Lots of 110, 100, 50 and 40: 260, not 300. */
static void only_the_three_highest_minimums(void **state)
{
	static const enum km_process_id ids[] = { KM_PROCESS_PLATE_ZINC,
		KM_PROCESS_PLATE_NICKEL, KM_PROCESS_BLACK_HOT,
		KM_PROCESS_PHOSPHATE };
	static const int64_t minimums[] = { 5000, 11000, 4000, 10000 };

	(void)state;
	for (int rule = 0; rule < 2; rule++) {
		open_market(&k, 0);
		for (uint32_t i = 0; i < 4; i++)
			lot(&k, ids[i], minimums[i], 200);
		price(&k);
		k.ask.three_highest = rule;
		for (uint32_t i = 0; i < 4; i++) {
			place(&k);
			work(&k, i, i, ids[i], -1, 0, 0);
		}
		assert_int_equal(bills()->total.likely, rule ? 26000 : 30000);
		/* the problem counts the same */
		assert_int_equal(plan(&k)->total.likely, rule ? 26000 : 30000);
	}
	/* what goes beyond a minimum that is let off stays: the 40.00 lot at
	 * 25.00 a piece, two of them 50.00: 260.00 and 10.00 */
	k.terms[2].piece = same(2500);
	price(&k);
	place(&k);
	work(&k, 4, 4, ids[2], -1, 0, 0);
	assert_int_equal(bills()->total.likely, 27000);
	assert_int_equal(plan(&k)->total.likely, 27000);
	assert_int_equal(k.plan.n_bills, 4);
}

/* SOURCE price-list-2014: bakes are priced by their hours beside the lot
 * minimums.  Lots of 110, 100 and 50 and a bake of 60: 320, of which nothing is
 * let off; with a lot of 40 more, 320 still. */
static void a_bake_is_no_minimum(void **state)
{
	static const enum km_process_id ids[] = { KM_PROCESS_PLATE_ZINC,
		KM_PROCESS_PLATE_NICKEL, KM_PROCESS_BLACK_HOT,
		KM_PROCESS_BAKE_RELIEF, KM_PROCESS_PHOSPHATE };
	static const int64_t minimums[] = { 11000, 10000, 5000, 6000, 4000 };

	(void)state;
	open_market(&k, 0);
	for (uint32_t i = 0; i < 5; i++)
		lot(&k, ids[i], minimums[i], 200);
	price(&k);
	k.ask.three_highest = true;
	for (uint32_t i = 0; i < 5; i++) {
		place(&k);
		work(&k, i, i, ids[i], -1, 0, 0);
		if (i < 3)
			continue;
		assert_int_equal(bills()->total.likely, 32000);
		assert_int_equal(plan(&k)->total.likely, 32000);
	}
}

/* Three columns, each added up apart: goods 10 to 14, likely 12, free over
 * 13.00, minimum order 11.00, postage 5.00.
 *   low     10 + 1 top-up + 5     = 16.00
 *   likely  12 + 5                = 17.00
 *   high    14, free              = 14.00 */
static void columns_add_up_apart(void **state)
{
	const struct km_plan *p;

	(void)state;
	open_market(&k, 1);
	k.sellers[0].postage.minor = 500;
	k.sellers[0].free_over.minor = 1300;
	k.sellers[0].minimum_order.minor = 1100;
	price(&k);
	place(&k);
	buy(&k, 0, 0, 0, 1200)->price = (struct km_money3){ 1000, 1200, 1400 };
	p = bills();
	assert_int_equal(p->goods.low, 1000);
	assert_int_equal(p->total.low, 1600);
	assert_int_equal(p->total.likely, 1700);
	assert_int_equal(p->total.high, 1400);
	assert_int_equal(bill(p, KM_BILL_PARCEL)->top_up.low, 100);
	assert_int_equal(bill(p, KM_BILL_PARCEL)->top_up.likely, 0);
	assert_int_equal(bill(p, KM_BILL_PARCEL)->goods, 1200);
	assert_int_equal(p->n_bills, 1);
}

/* A route that sends the same tool twice to the tank is one piece of its
 * load; single steps of 1.50 are paid each time. */
static void a_step_done_twice(void **state)
{
	struct km_process_terms *t;

	(void)state;
	open_market(&k, 0);
	t = terms(&k, KM_PROCESS_SOAK_CITRIC);
	t->load = same(400);
	t->load_pieces = 1;
	terms(&k, KM_PROCESS_POLISH)->piece = same(150);
	price(&k);
	place(&k);
	work(&k, 0, 0, KM_PROCESS_SOAK_CITRIC, KM_PROCESS_SOAK_CITRIC, 0, 0);
	place(&k);
	work(&k, 1, 1, KM_PROCESS_POLISH, KM_PROCESS_POLISH, 0, 300);
	assert_int_equal(bill(bills(), KM_BILL_LOAD)->pieces, 1);
	assert_int_equal(k.plan.work.likely, 400 + 300);
	assert_int_equal(k.plan.own.likely, 300);
	/* own time stands beside the total */
	assert_int_equal(k.plan.total.likely, 700);
	assert_int_equal(plan(&k)->total.likely, 700);
}

/* Nothing chosen that costs: no bills. */
static void nothing_to_pay(void **state)
{
	(void)state;
	open_market(&k, 1);
	price(&k);
	place(&k);
	leave(&k, 0);
	assert_int_equal(bills()->n_bills, 0);
	assert_int_equal(k.plan.total.high, 0);
}

static void sums_that_do_not_fit(void **state)
{
	(void)state;
	open_market(&k, 2);
	k.sellers[0].postage.minor = 500;
	price(&k);
	for (uint32_t i = 0; i < 2; i++) {
		place(&k);
		buy(&k, i, i, i, INT64_MAX / 2 + 1);
	}
	assert_int_equal(try_bills(), KM_ERANGE);
	k.n = 1;			/* one fits, with postage not */
	assert_int_equal(try_bills(), KM_OK);
	k.ways[0][0].price = same(INT64_MAX - 499);
	assert_int_equal(try_bills(), KM_ERANGE);
	k.ways[0][0].price = same(INT64_MAX - 500);
	assert_int_equal(try_bills(), KM_OK);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_lot_has_a_minimum),
		cmocka_unit_test(loads_go_up_in_steps),
		cmocka_unit_test(only_the_three_highest_minimums),
		cmocka_unit_test(a_bake_is_no_minimum),
		cmocka_unit_test(columns_add_up_apart),
		cmocka_unit_test(a_step_done_twice),
		cmocka_unit_test(nothing_to_pay),
		cmocka_unit_test(sums_that_do_not_fit),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
