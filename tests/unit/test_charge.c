/* SPDX-License-Identifier: MIT */
/*
 * Money that is paid once: each figure is worked beside its check.
 */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>

#include <cmocka.h>

#include "plan/charge.h"
#include "tests/unit/mem_fixture.h"

static struct km_money3 same(int64_t v)
{
	return (struct km_money3){ v, v, v };
}

static int64_t likely(const struct km_charge *c, int64_t n)
{
	struct km_money3 m;

	assert_int_equal(km_charge_pieces(c, n, &m), KM_OK);
	return m.likely;
}

static void costs(struct km_costs *c, const char *currency,
		  const struct km_prices *p, const struct km_workshop *w)
{
	assert_int_equal(km_costs_init(mem, currency, p, w, NULL,
		(struct km_date){ 0, 0, 0 }, c), KM_OK);
}

static const struct km_charge *of(const struct km_costs *c,
				  enum km_process_id p)
{
	return &c->charges[c->step[p].charge];
}

/* Common practice, no source for the split; the likely column of the table: 90
 * a lot, 2 a piece, the larger counts.  1 tool 90.0; 3 tools 90 / 3 = 30.0
 * each; 6: 15.0; 12: 7.5; 60 tools: 60 x 2 = 120, 2.0 each. */
static void a_plating_lot_is_shared(void **state)
{
	static const struct { int64_t n, total, each; } rows[] = {
		{ 1, 9000, 9000 }, { 3, 9000, 3000 }, { 6, 9000, 1500 },
		{ 12, 9000, 750 }, { 45, 9000, 200 }, { 60, 12000, 200 },
	};
	struct km_costs c;

	(void)state;
	costs(&c, "GBP", NULL, NULL);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		int64_t total = likely(of(&c, KM_PROCESS_PLATE_ZINC),
				       rows[i].n);

		assert_int_equal(total, rows[i].total);
		assert_int_equal(total / rows[i].n, rows[i].each);
	}
}

/* A load of 15 costs 4: 15 tools 4, 16 tools 8.  Common practice, no source. */
static void a_tank_is_filled_in_loads(void **state)
{
	struct km_costs c;
	const struct km_charge *soak;

	(void)state;
	costs(&c, "GBP", NULL, NULL);
	soak = of(&c, KM_PROCESS_SOAK_CITRIC);
	assert_int_equal(likely(soak, 0), 0);
	assert_int_equal(likely(soak, 1), 400);
	assert_int_equal(likely(soak, 15), 400);
	assert_int_equal(likely(soak, 16), 800);
	assert_int_equal(km_charge_ride_free(soak, 11), 4);
	assert_int_equal(km_charge_ride_free(soak, 15), 0);
}

/* Nickel 7.00 a piece, 60.00 at least: 3 pieces 60.00; 8 x 7 = 56 is still
 * under it, so 5 more ride free; 9 x 7 = 63.00; 10 x 7 = 70.00. */
static const struct km_charge nickel = {
	.kind = KM_CHARGE_LOT, .fixed = { 6000, 6000, 6000 },
	.piece = { 700, 700, 700 }, .priced = true,
};

static void pieces_ride_free_up_to_the_minimum(void **state)
{
	(void)state;
	assert_int_equal(likely(&nickel, 3), 6000);
	assert_int_equal(km_charge_ride_free(&nickel, 3), 5);
	assert_int_equal(likely(&nickel, 8), 6000);
	assert_int_equal(km_charge_ride_free(&nickel, 8), 0);
	assert_int_equal(likely(&nickel, 9), 6300);
	assert_int_equal(likely(&nickel, 9) - likely(&nickel, 8), 300);
	assert_int_equal(likely(&nickel, 10), 7000);
}

/* Seven pieces are in an open lot: the 8th costs 56 - 56 = nothing, the 8th
 * and 9th 63 - 60 = 3.00; with ten in, the next costs its 7.00. */
static void an_open_lot_asks_only_the_margin(void **state)
{
	struct km_charge open = nickel;

	(void)state;
	open.committed = 7;
	assert_int_equal(likely(&open, 1), 0);
	assert_int_equal(likely(&open, 2), 300);
	assert_int_equal(km_charge_ride_free(&open, 0), 1);
	open.committed = 10;
	assert_int_equal(likely(&open, 1), 700);
}

/* SOURCE price-list-2014: of several lot minimums on one delivery only the
 * three highest are charged.  110 + 100 + 50 = 260, not 300. */
static void only_the_three_highest(void **state)
{
	static const int64_t lots[] = { 4000, 11000, 5000, 10000 };
	int64_t sum;

	(void)state;
	assert_int_equal(km_charge_three_highest(lots, 4, &sum), KM_OK);
	assert_int_equal(sum, 26000);
	assert_int_equal(km_charge_three_highest(lots, 2, &sum), KM_OK);
	assert_int_equal(sum, 15000);
	assert_int_equal(km_charge_three_highest(lots, 0, &sum), KM_OK);
	assert_int_equal(sum, 0);
}

/* Postage 4.80, free from 50.00, minimum order 10.00.  Goods 6.40: 3.60 more
 * must be bought, and 4.80: 8.40.  Goods 49.99: 4.80.  Goods 50.00: free. */
static void a_parcel(void **state)
{
	struct km_charge c = { .kind = KM_CHARGE_PARCEL,
		.fixed = { 480, 480, 480 }, .free_over = 5000,
		.minimum_order = 1000 };
	struct km_money3 m;

	(void)state;
	assert_int_equal(km_charge_parcel(&c, same(640), &m), KM_OK);
	assert_int_equal(m.likely, 840);
	assert_int_equal(km_charge_parcel(&c,
		(struct km_money3){ 1000, 4999, 5000 }, &m), KM_OK);
	assert_int_equal(m.low, 480);
	assert_int_equal(m.likely, 480);
	assert_int_equal(m.high, 0);
}

/* A unit of 0.95 money: 90 units are 85.50; 0.5 units 0.475, half up 0.48. */
static void units_become_money(void **state)
{
	struct km_workshop w = { .own_time = { -1 }, .unit_num = 95,
				 .unit_den = 100, .unit_given = true };
	struct km_costs c;

	(void)state;
	costs(&c, "GBP", NULL, &w);
	assert_int_equal(likely(of(&c, KM_PROCESS_PLATE_ZINC), 1), 8550);
	assert_int_equal(c.step[KM_PROCESS_HAND_CLEAN].one.likely, 48);
	assert_int_equal(c.step[KM_PROCESS_INSPECT].one.high, 0);
	/* no decimals: 90 units of 150 yen */
	w.unit_num = 150;
	w.unit_den = 1;
	costs(&c, "JPY", NULL, &w);
	assert_int_equal(likely(of(&c, KM_PROCESS_PLATE_ZINC), 1), 13500);
}

static struct km_process_terms terms(const char *id)
{
	return (struct km_process_terms){ .id = id,
		.process = km_process_find(km_slice_of(id)),
		.lot_minimum = { -1, -1, -1 }, .piece = { -1, -1, -1 },
		.load = { -1, -1, -1 }, .load_pieces = -1, .days = -1,
		.hands_min = -1, .open_lot_pieces = -1 };
}

/* A workshop's own zinc: 60.00 a lot, 2.00 a piece, 14 days, 5 pieces in an
 * open lot till 12 May; the polisher is away. */
static void the_workshop_overrides_the_table(void **state)
{
	struct km_process_terms own[2] = { terms("plate_zinc"),
					   terms("polish") };
	struct km_workshop w = { .own_time = { -1 }, .processes = own,
				 .n_processes = 2 };
	struct km_costs c;

	(void)state;
	own[0].lot_minimum = same(6000);
	own[0].piece = same(200);
	own[0].days = 14;
	own[0].open_lot_pieces = 5;
	own[0].open_lot_closes = (struct km_date){ 2026, 5, 12 };
	own[1].not_available = true;
	costs(&c, "GBP", NULL, &w);
	assert_int_equal(c.step[KM_PROCESS_PLATE_ZINC].one.likely, 0);
	assert_int_equal(c.step[KM_PROCESS_PLATE_ZINC].elapsed[1], 33600);
	assert_false(c.step[KM_PROCESS_POLISH].available);
	/* the day after, a new lot must be paid */
	assert_int_equal(km_costs_init(mem, "GBP", NULL, &w, NULL,
		(struct km_date){ 2026, 5, 13 }, &c), KM_OK);
	assert_int_equal(c.step[KM_PROCESS_PLATE_ZINC].one.likely, 6000);
	assert_int_equal(km_costs_init(mem, "GBP", NULL, &w, NULL,
		(struct km_date){ 2026, 5, 12 }, &c), KM_OK);
	assert_int_equal(c.step[KM_PROCESS_PLATE_ZINC].one.likely, 0);
}

/* 1 EUR = 0.86 GBP.  12.50 EUR = 10.75; 0.05 EUR = 0.043, 0.04; 25.25 EUR =
 * 21.715, half up 21.72.  Into EUR: 10.75 / 0.86 = 12.50. */
static void rates_round_half_up_once(void **state)
{
	static const struct km_rate rates[] = { { "EUR", 86, 100 } };
	struct km_prices p = { .currency = "GBP", .rates = rates,
			       .n_rates = 1 };
	struct km_costs c;
	int64_t v;

	(void)state;
	costs(&c, "GBP", &p, NULL);
	assert_int_equal(km_costs_convert(&c, "EUR", 1250, &v), KM_OK);
	assert_int_equal(v, 1075);
	assert_int_equal(km_costs_convert(&c, "EUR", 5, &v), KM_OK);
	assert_int_equal(v, 4);
	assert_int_equal(km_costs_convert(&c, "EUR", 2525, &v), KM_OK);
	assert_int_equal(v, 2172);
	assert_int_equal(km_costs_convert(&c, NULL, 640, &v), KM_OK);
	assert_int_equal(v, 640);
	assert_int_equal(km_costs_convert(&c, "USD", 640, &v), KM_EINPUT);
	costs(&c, "EUR", &p, NULL);
	assert_int_equal(km_costs_convert(&c, NULL, 1075, &v), KM_OK);
	assert_int_equal(v, 1250);
}

static void sums_that_do_not_fit_are_refused(void **state)
{
	struct km_charge c = nickel;
	struct km_money3 m;
	int64_t v;
	const int64_t lots[] = { INT64_MAX, 1 };

	(void)state;
	assert_int_equal(km_charge_pieces(&c, INT64_MAX, &m), KM_ERANGE);
	assert_int_equal(km_charge_pieces(&c, -1, &m), KM_ERANGE);
	c.kind = KM_CHARGE_LOAD;
	assert_int_equal(km_charge_pieces(&c, INT64_MAX, &m), KM_ERANGE);
	assert_int_equal(km_charge_three_highest(lots, 2, &v), KM_ERANGE);
}

/* The same is to be had delivered for 30.50.  One that needs 9.00 of work is
 * worth 21.50 while a lot is open; with a new lot of 60.00 it is 69.00 of
 * work, and not worth having. */
static void the_ceiling_at_the_stall(void **state)
{
	int64_t most = -1;

	(void)state;
	assert_true(km_ceiling(3050, 0, &most));
	assert_int_equal(most, 3050);
	assert_true(km_ceiling(3050, 900, &most));
	assert_int_equal(most, 2150);
	assert_false(km_ceiling(3050, 900 + 6000, &most));
}

static void every_allocation_may_fail(void **state)
{
	struct km_fault fault = { .fail_at = 2 };
	struct km_limits lim = { .fault = &fault };
	struct km_arena *a = km_arena_new(&lim);
	struct km_costs c;
	enum km_status st = KM_ENOMEM;
	int failed = 0;

	(void)state;
	assert_non_null(a);
	for (int i = 0; i < 5 && st != KM_OK; i++) {
		fault.seen = 0;
		fault.fail_at = (uint64_t)i + 1;
		st = km_costs_init(a, "GBP", NULL, NULL, NULL,
				   (struct km_date){ 0, 0, 0 }, &c);
		failed += st == KM_ENOMEM;
	}
	assert_int_equal(st, KM_OK);
	assert_true(failed > 0);
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_plating_lot_is_shared),
		cmocka_unit_test(a_tank_is_filled_in_loads),
		cmocka_unit_test(pieces_ride_free_up_to_the_minimum),
		cmocka_unit_test(an_open_lot_asks_only_the_margin),
		cmocka_unit_test(only_the_three_highest),
		cmocka_unit_test(a_parcel),
		cmocka_unit_test(units_become_money),
		cmocka_unit_test(the_workshop_overrides_the_table),
		cmocka_unit_test(rates_round_half_up_once),
		cmocka_unit_test(sums_that_do_not_fit_are_refused),
		cmocka_unit_test(the_ceiling_at_the_stall),
		cmocka_unit_test(every_allocation_may_fail),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
