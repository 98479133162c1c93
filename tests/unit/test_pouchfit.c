/* SPDX-License-Identifier: MIT */
/*
 * Geometry of pouches.  SOURCE computed: a closed tube of cloth of flat width
 * W has the perimeter 2 W; every figure is worked beside its check.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "trade/pouchfit.h"

#define MM(n) ((int64_t)((n) * 1000000))
#define UM(n) ((int64_t)((n) * 1000))

static void pi_is_between_its_fractions(void **state)
{
	(void)state;
	/* pi = 3.141 592 653 5 ...; 355/113 = 3.141 592 92,
	 * 103993/33102 = 3.141 592 653 0 */
	assert_true(INT64_C(355) * 10000000000 > INT64_C(31415926536) * 113);
	assert_true(INT64_C(103993) * 10000000000 <
		    INT64_C(31415926535) * 33102);
}

static void largest_section_of_a_tube(void **state)
{
	(void)state;
	/* 120^2 / pi = 14400 / 3.14159265 = 4583.662 mm2, rounded up */
	assert_in_range(km_pouch_area_most(MM(120)), 4583662000, 4583663000);
	/* an 80 x 50 block has 4000 mm2, less, and yet does not fit: below */
}

static void a_block_fits_by_half_its_girth(void **state)
{
	const struct km_section just = { UM(70), UM(50) };
	const struct km_section over = { UM(80), UM(50) };
	struct km_bundle b;

	(void)state;
	/* 70 + 50 = 120: 2 x 120 = 240 mm of cloth, exactly */
	assert_true(km_bundle_best(&just, 1, UM(240), 0, &b));
	assert_true(b.fits && b.whole);
	assert_int_equal(b.perimeter_um, UM(240));
	/* 80 + 50 = 130 > 120: 260 mm */
	assert_true(km_bundle_best(&over, 1, UM(240), 0, &b));
	assert_false(b.fits);
	assert_int_equal(b.perimeter_um, UM(260));
}

static void five_flat_spanners(void **state)
{
	struct km_section v[5];
	struct km_bundle b;

	(void)state;
	for (int i = 0; i < 5; i++)
		v[i] = (struct km_section){ UM(30), UM(4) };
	/* one stack: 30 + 5 x 4 = 50 mm of W, a hull of 100 */
	assert_true(km_bundle_best(v, 5, UM(100), 0, &b));
	assert_true(b.fits && b.whole);
	assert_int_equal(b.perimeter_um, UM(100));
	/* no layout does with less: 99.9 mm are not enough */
	assert_true(km_bundle_best(v, 5, UM(99.9), 0, &b));
	assert_false(b.fits);
	assert_int_equal(b.perimeter_um, UM(100));
	/* with twice 200 mm they lie in a row, 4 high: 2 x (150 + 4) = 308 */
	assert_true(km_bundle_best(v, 5, UM(400), 0, &b));
	assert_int_equal(b.thick_um, UM(4));
	assert_int_equal(b.perimeter_um, UM(308));
	assert_int_equal(b.stacks, 5);
}

static void a_low_block_beside_a_high_one_saves_a_corner(void **state)
{
	/* 20 x 20 and 15 x 12 side by side: base 35, left side 20, top 20,
	 * slope from (20, 20) to (35, 12): sqrt(15^2 + 8^2) = 17, right side
	 * 12; 35 + 20 + 20 + 17 + 12 = 104.  On each other: 2 x (20 + 32) =
	 * 104.  The small one on edge, 12 x 15: 32 + 20 + 20 +
	 * sqrt(12^2 + 5^2) = 13 + 15 = 100. */
	const struct km_section v[2] = { { UM(20), UM(20) }, { UM(15), UM(12) } };
	struct km_bundle b;

	(void)state;
	assert_true(km_bundle_best(v, 2, UM(90), 0, &b));
	assert_false(b.fits);
	assert_int_equal(b.perimeter_um, UM(100));
	assert_int_equal(b.thick_um, UM(20));
	assert_int_equal(b.across_um, UM(32));
	assert_true(b.on_edge[b.stack[1]]);
}

static void too_many_tools_are_not_searched(void **state)
{
	struct km_section v[KM_BUNDLE_TOOLS + 1];
	struct km_bundle b = { .stacks = 77 };

	(void)state;
	for (unsigned i = 0; i <= KM_BUNDLE_TOOLS; i++)
		v[i] = (struct km_section){ UM(20 + i), UM(3 + i % 5) };
	assert_false(km_bundle_best(v, KM_BUNDLE_TOOLS + 1, UM(100), 0, &b));
	assert_false(km_bundle_best(v, 0, UM(100), 0, &b));
	assert_int_equal(b.stacks, 77);
	/* a search that is cut short still answers, and says so */
	assert_true(km_bundle_best(v, KM_BUNDLE_TOOLS, UM(100), 50, &b));
	assert_false(b.whole);
	assert_true(b.perimeter_um > UM(100));
}

static void allowances(void **state)
{
	(void)state;
	/* 5 per cent of 120 is 6; of 60 it is 3, under the least of 4 */
	assert_int_equal(km_pouch_ease(MM(120), -1), MM(6));
	assert_int_equal(km_pouch_ease(MM(60), -1), MM(4));
	assert_int_equal(km_pouch_ease(MM(120), MM(2)), MM(2));
	/* 2 mm of cloth: pi x 2 / 2 = 3.14159 mm; 120 - 3.1416 - 6 = 110.858
	 * mm, and the fraction takes at most 1 um too much */
	assert_in_range(km_pouch_usable(MM(120), MM(2), MM(6)), 110858000,
			110858408);
	assert_int_equal(km_pouch_usable(MM(120), -1, MM(6)), MM(114));
	assert_int_equal(km_pouch_usable(MM(3), MM(2), MM(6)), 0);
	/* T 40 mm: at least 80 mm of flap; 120 / 3 lost by a neck */
	assert_int_equal(km_pouch_flap(MM(40)), MM(80));
	assert_int_equal(km_pouch_neck(MM(120)), MM(40));
}

static void a_roll_of_eight_tools(void **state)
{
	(void)state;
	/* 400 mm of cloth 2 mm thick: 800 mm2; 8 x 60 / 0.6 = 800 mm2;
	 * sqrt(4 x 1600 / pi) = 45.135 mm */
	assert_in_range(km_roll_diameter(MM(400), MM(2), 480000000), 45135,
			45136);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pi_is_between_its_fractions),
		cmocka_unit_test(largest_section_of_a_tube),
		cmocka_unit_test(a_block_fits_by_half_its_girth),
		cmocka_unit_test(five_flat_spanners),
		cmocka_unit_test(a_low_block_beside_a_high_one_saves_a_corner),
		cmocka_unit_test(too_many_tools_are_not_searched),
		cmocka_unit_test(allowances),
		cmocka_unit_test(a_roll_of_eight_tools),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
