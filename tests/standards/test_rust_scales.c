/* SPDX-License-Identifier: MIT */
/*
 * Three scales of rust and damage by area, in hundredths of a per cent.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/rust.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

/* SOURCE [iso-4628-3] table 1, nominal area of the pictures: 0, 0.05, 0.5, 1,
 * 8 and 40 to 50 per cent, the middle of the last being 45 */
static void the_pictures_have_their_nominal_areas(void **state)
{
	static const int areas[] = { 0, 5, 50, 100, 800, 4500 };

	(void)state;
	for (int ri = 0; ri < (int)LENGTH(areas); ri++) {
		assert_int_equal(km_rust_area(ri), areas[ri]);
		assert_int_equal(km_rust_degree(areas[ri]), ri);
	}
}

/* The worse of two pictures, a choice after ISO 8501-1, which records the
 * worst in sight: worked on the areas above. */
static void an_area_between_pictures_takes_the_worse(void **state)
{
	static const struct { int area, ri; } cases[] = {
		{ 1, 1 }, { 6, 2 }, { 51, 3 }, { 101, 4 }, { 600, 4 },
		{ 801, 5 }, { 810, 5 }, { 5001, 5 }, { 10000, 5 },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(cases); i++)
		assert_int_equal(km_rust_degree(cases[i].area), cases[i].ri);
}

/* SOURCE [iso-10289-1999] table 1: rating by area, "over .. up to" */
static void a_rating_is_read_off_the_table(void **state)
{
	static const struct { int over, upto, rating; } rows[] = {
		{ 0, 10, 9 }, { 10, 25, 8 }, { 25, 50, 7 }, { 50, 100, 6 },
		{ 100, 250, 5 }, { 250, 500, 4 }, { 500, 1000, 3 },
		{ 1000, 2500, 2 }, { 2500, 5000, 1 }, { 5000, 10000, 0 },
	};

	(void)state;
	assert_int_equal(km_rating_of(0), 10);
	for (size_t i = 0; i < LENGTH(rows); i++) {
		assert_int_equal(km_rating_of(rows[i].over + 1),
				 rows[i].rating);
		assert_int_equal(km_rating_of(rows[i].upto), rows[i].rating);
	}
}

/* The formula 3 (2 - log10 A), rounded, says 9, 8, 5, 4 and 2 here; the
 * table of the same standard says one less. */
static void the_rounded_formula_is_not_used(void **state)
{
	static const struct { int area, rating; } traps[] = {
		{ 12, 8 }, { 30, 7 }, { 300, 4 }, { 600, 3 }, { 3000, 1 },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(traps); i++)
		assert_int_equal(km_rating_of(traps[i].area), traps[i].rating);
}

/* SOURCE [astm-d610-08] table 1 */
static void a_d610_grade_has_its_limits(void **state)
{
	static const struct { int over, upto, grade; } rows[] = {
		{ -1, 1, 10 }, { 1, 3, 9 }, { 3, 10, 8 }, { 10, 30, 7 },
		{ 30, 100, 6 }, { 100, 300, 5 }, { 300, 1000, 4 },
		{ 1000, 1600, 3 }, { 1600, 3300, 2 }, { 3300, 5000, 1 },
		{ 5000, 10000, 0 },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(rows); i++) {
		assert_int_equal(km_d610_of(rows[i].over + 1), rows[i].grade);
		assert_int_equal(km_d610_of(rows[i].upto), rows[i].grade);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_pictures_have_their_nominal_areas),
		cmocka_unit_test(an_area_between_pictures_takes_the_worse),
		cmocka_unit_test(a_rating_is_read_off_the_table),
		cmocka_unit_test(the_rounded_formula_is_not_used),
		cmocka_unit_test(a_d610_grade_has_its_limits),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
