/* SPDX-License-Identifier: MIT */
/*
 * Driving squares: the side of the square and of the hole.
 *
 * SOURCE   [gost-24372-80] GOST 24372-80, tables 1 and 2, types A, B and C.
 *          0: not legible or not in the text read, in the tables from memory,
 *          so nothing is asserted.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/size.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

struct row {			/* um */
	const char *name;
	int metric, male_max, male_min, female_max, female_min;
};

static const struct row table[] = {
	{ "1/4 in", 6300, 6350, 6260, 6625, 6405 },
	{ "3/8 in", 10000, 9525, 9435, 9800, 9580 },
	{ "1/2 in", 12500, 12700, 12590, 13025, 0 },
	{ "3/4 in", 20000, 19050, 18920, 0, 0 },
	{ "1 in", 25000, 25400, 25270, 0, 0 },
};

static const struct row held[] = {
#define SQUARE(name, metric, male_max, male_min, female_max, female_min, ...) \
	{ name, metric, male_max, male_min, female_max, female_min },
#include "data/square_drive.def"
#undef SQUARE
};

static void the_rows_are_those_of_the_standard(void **state)
{
	(void)state;
	assert_int_equal(LENGTH(held), LENGTH(table));
	for (size_t i = 0; i < LENGTH(table); i++) {
		assert_string_equal(held[i].name, table[i].name);
		assert_int_equal(held[i].metric, table[i].metric);
		assert_int_equal(held[i].male_max, table[i].male_max);
		assert_int_equal(held[i].male_min, table[i].male_min);
		if (table[i].female_max)
			assert_int_equal(held[i].female_max,
					 table[i].female_max);
		if (table[i].female_min)
			assert_int_equal(held[i].female_min,
					 table[i].female_min);
	}
}

/* The metric figure is a name only: both names mean one square. */
static void both_names_mean_the_same_square(void **state)
{
	static const char *const names[][2] = {
		{ "1/4 in", "6.3 mm" }, { "3/8 in", "10 mm" },
		{ "1/2 in", "12.5 mm" }, { "3/4 in", "20 mm" },
		{ "1 in", "25 mm" },
	};
	const struct km_size_rules rules = {
		.drive = &km_drives[KM_DRIVE_SQUARE]
	};
	struct km_arena *a = km_arena_new(NULL);

	(void)state;
	for (size_t i = 0; i < LENGTH(names); i++) {
		struct km_size inch, metric;

		assert_int_equal(km_size_parse(km_slice_of(names[i][0]), &rules,
					       a, &inch), KM_SIZE_OK);
		assert_int_equal(km_size_parse(km_slice_of(names[i][1]), &rules,
					       a, &metric), KM_SIZE_OK);
		assert_int_equal(inch.nominal_nm, table[i].male_max * 1000);
		assert_true(km_size_same(&inch, &metric));
		assert_false(km_size_same_name(&inch, &metric));
	}
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_rows_are_those_of_the_standard),
		cmocka_unit_test(both_names_mean_the_same_square),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
