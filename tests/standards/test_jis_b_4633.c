/* SPDX-License-Identifier: MIT */
/*
 * Screwdrivers for cross recesses: shank, its limits, and blade.
 *
 * SOURCE   [jis-b-4633-1991] JIS B 4633-1991, table 2; shank +0.4 -0.2 mm
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

enum { JIS_H, JIS_S, PH, PZ };
struct row { int system, number, shank, min, max, blade; };	/* um */

static const struct row table[] = {
	{ JIS_H, 1, 5000, 4800, 5400, 75000 },
	{ JIS_H, 2, 6000, 5800, 6400, 100000 },
	{ JIS_H, 3, 8000, 7800, 8400, 150000 },
	{ JIS_H, 4, 9000, 8800, 9400, 200000 },
	{ JIS_S, 0, 3000, 2800, 3400, 75000 },
	{ JIS_S, 0, 4000, 3800, 4400, 75000 },
};

static const struct row held[] = {
#define CROSS(system, number, shank, min, max, shortest, blade, ...) \
	{ system, number, shank, min, max, blade },
#include "data/cross.def"
#undef CROSS
};

static void the_rows_are_those_of_the_standard(void **state)
{
	size_t n = 0;

	(void)state;
	for (size_t i = 0; i < LENGTH(held); i++) {
		if (held[i].system != JIS_H && held[i].system != JIS_S)
			continue;
		assert_true(n < LENGTH(table));
		assert_memory_equal(&held[i], &table[n], sizeof *table);
		n++;
	}
	assert_int_equal(n, LENGTH(table));
}

/* H numbers 1 to 4, and no others. */
static void the_numbers_read_are_those_of_the_standard(void **state)
{
	const struct km_size_rules rules = { .drive = &km_drives[KM_DRIVE_CROSS] };
	struct km_arena *a = km_arena_new(NULL);
	char text[] = "JIS H 0";
	struct km_size s;

	(void)state;
	for (int i = 0; i <= 9; i++) {
		text[6] = (char)('0' + i);
		assert_int_equal(km_size_parse(km_slice_of(text), &rules, a, &s),
				 i >= 1 && i <= 4 ? KM_SIZE_OK
						  : KM_SIZE_NOT_LISTED);
	}
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_rows_are_those_of_the_standard),
		cmocka_unit_test(the_numbers_read_are_those_of_the_standard),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
