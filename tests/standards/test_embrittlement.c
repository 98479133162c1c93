/* SPDX-License-Identifier: MIT */
/*
 * Hydrogen in hardened steel: the published bake table, the threshold, and
 * hardness as the tool standards ask for it.
 */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>

#include <cmocka.h>

#include "trade/hardness.h"

/* SOURCE astm-b850 (B850-98(2009), table as reproduced in a plater's chart):
 * strength MPa, hardness HRC, least hours at 190 to 220 C. */
static const struct { int32_t from, to, hrc_from, hrc_to, hours; } b850[] = {
	{ 1001, 1100, 31, 33, 8 }, { 1101, 1200, 33, 36, 10 },
	{ 1201, 1300, 36, 39, 12 }, { 1301, 1400, 39, 43, 14 },
	{ 1401, 1500, 43, 45, 16 }, { 1501, 1600, 45, 47, 18 },
	{ 1601, 1700, 47, 49, 20 }, { 1701, 1800, 49, 51, 22 },
};
#define ROWS (sizeof b850 / sizeof *b850)

static void hours_by_strength(void **state)
{
	(void)state;
	for (size_t i = 0; i < ROWS; i++) {
		struct km_bake low = km_bake_at_mpa(b850[i].from);
		struct km_bake high = km_bake_at_mpa(b850[i].to);

		assert_int_equal(low.is, KM_BAKE_HOURS);
		assert_int_equal(low.hours, b850[i].hours);
		assert_int_equal(high.hours, b850[i].hours);
		assert_int_equal(low.c_from, 190);
		assert_int_equal(low.c_to, 220);
		assert_string_equal(low.source, "astm-b850");
	}
	assert_int_equal(km_bake_at_mpa(1801).is, KM_BAKE_BEYOND);
}

static void hours_by_hardness_longer_at_an_edge(void **state)
{
	(void)state;
	for (size_t i = 0; i < ROWS; i++) {
		int32_t middle = (b850[i].hrc_from + b850[i].hrc_to) * 5;

		assert_int_equal(km_bake_at_hrc(middle).hours, b850[i].hours);
		/* the bands touch: at its upper edge the next one holds */
		if (i + 1 < ROWS)
			assert_int_equal(
				km_bake_at_hrc(b850[i].hrc_to * 10).hours,
				b850[i + 1].hours);
	}
	assert_int_equal(km_bake_at_hrc(510).hours, 22);
	assert_int_equal(km_bake_at_hrc(511).is, KM_BAKE_BEYOND);
	assert_int_equal(km_bake_at_hrc(511).hours, 0);
}

/* SOURCE iso-9587-2007: from 1000 MPa, 31 HRC, 300 HV up. */
static void the_threshold(void **state)
{
	(void)state;
	assert_int_equal(km_bake_at_mpa(999).is, KM_BAKE_NOT_NEEDED);
	assert_int_equal(km_bake_at_mpa(1000).hours, 8);
	assert_int_equal(km_bake_at_hrc(309).is, KM_BAKE_NOT_NEEDED);
	assert_int_equal(km_bake_at_hrc(310).hours, 8);
	assert_int_equal(km_hardness_of("30.9 HRC", NULL).hard, KM_HARD_NO);
	assert_int_equal(km_hardness_of("31 HRC", NULL).hard, KM_HARD_YES);
	assert_int_equal(km_hardness_of("999 MPa", NULL).hard, KM_HARD_NO);
	assert_int_equal(km_hardness_of("1000 MPa", NULL).hard, KM_HARD_YES);
	assert_int_equal(km_hardness_of("299 HV", NULL).hard, KM_HARD_NO);
	assert_int_equal(km_hardness_of("300 HV", NULL).hard, KM_HARD_YES);
}

/* SOURCE asme-b107-21 (38 to 54 HRC), asme-b107-8 (40 to 50),
 * asme-b107-30 (48 and more): where the tool was not tested the harder end of
 * its kind's row decides. */
static void untested_tools_take_their_kind(void **state)
{
	const struct km_kind *kinds = km_kinds;
	struct km_hardness h;

	(void)state;
	h = km_hardness_of(NULL, &kinds[KM_KIND_OPEN_DOUBLE - 1]);
	assert_int_equal(h.hard, KM_HARD_YES);
	assert_int_equal(h.from, 380);
	assert_int_equal(h.to, 540);
	assert_false(h.tested);
	/* 54 is over the table's last row; at 38 it would have been 12 h */
	assert_int_equal(km_bake_for(&h).is, KM_BAKE_BEYOND);
	assert_int_equal(km_bake_at_hrc(h.from).hours, 12);
	h = km_hardness_of("soft", &kinds[KM_KIND_ADJUSTABLE - 1]);
	assert_int_equal(km_bake_for(&h).hours, 22);	/* 50: 49 to 51 */
	h = km_hardness_of(NULL, &kinds[KM_KIND_SCREWDRIVER - 1]);
	assert_int_equal(h.from, 480);
	assert_int_equal(km_bake_for(&h).is, KM_BAKE_BEYOND);
	h = km_hardness_of("38-42 HRC", &kinds[KM_KIND_ADJUSTABLE - 1]);
	assert_true(h.tested);
	assert_int_equal(km_bake_for(&h).hours, 14);	/* 42: 39 to 43 */
	/* no row speaks of tyre levers: the question stays open */
	h = km_hardness_of(NULL, &kinds[KM_KIND_TYRE_LEVER - 1]);
	assert_int_equal(h.hard, KM_HARD_UNKNOWN);
	assert_int_equal(km_bake_for(&h).is, KM_BAKE_UNKNOWN);
	/* said to be hard, no figure: baked, for how long must be asked */
	h = km_hardness_of("Hardened", &kinds[KM_KIND_TYRE_LEVER - 1]);
	assert_int_equal(h.hard, KM_HARD_YES);
	assert_int_equal(km_bake_for(&h).is, KM_BAKE_UNKNOWN);
	h = km_hardness_of("350 HV", NULL);
	assert_int_equal(km_bake_for(&h).is, KM_BAKE_UNKNOWN);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hours_by_strength),
		cmocka_unit_test(hours_by_hardness_longer_at_an_edge),
		cmocka_unit_test(the_threshold),
		cmocka_unit_test(untested_tools_take_their_kind),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
