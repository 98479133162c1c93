/* SPDX-License-Identifier: MIT */
/*
 * Ring spanners, double-ended: pairs, opening limits, lengths and heads; and
 * the opening limits once more against the table of jaws, which comes from
 * another national standard.
 *
 * SOURCE   [jis-b-4632-1986] JIS B 4632-1986, table 1; -1 no such length
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

struct row {
	int s1, s2, min1, max1, min2, max2;	/* um */
	int brief, length, width1, width2, thick1, thick2;
};

static const struct row table[] = {
	{ 8000, 10000, 8030, 8150, 10040, 10190, -1, 170000, 15000, 17000, 7000, 8000 },
	{ 10000, 13000, 10040, 10190, 13040, 13240, 100000, 180000, 17000, 22500, 8000, 10000 },
	{ 13000, 16000, 13040, 13240, 16050, 16270, 120000, 210000, 22500, 26000, 10000, 11500 },
	{ 16000, 18000, 16050, 16270, 18050, 18300, -1, 240000, 26000, 29000, 11500, 12500 },
	{ 18000, 21000, 18050, 18300, 21060, 21360, -1, 265000, 29000, 33000, 12500, 15000 },
	{ 21000, 24000, 21060, 21360, 24060, 24360, -1, 290000, 33000, 37500, 15000, 16500 },
	{ 24000, 27000, 24060, 24360, 27080, 27480, -1, 320000, 37500, 40000, 16500, 18000 },
};

enum { GBT_4388, JIS_B_4632, DIN_3110, DIN_895 };
static const struct { int standard; struct row row; } held[] = {
#define WRENCH_LEN(standard, kind, s1, s2, min1, max1, min2, max2, brief, \
		   length, width1, width2, thick1, thick2, source, head) \
	{ standard, { s1, s2, min1, max1, min2, max2, brief, length, \
		      width1, width2, thick1, thick2 } },
#include "data/lengths.def"
#undef WRENCH_LEN
};

static void the_rows_are_those_of_the_standard(void **state)
{
	size_t n = 0;

	(void)state;
	for (size_t i = 0; i < LENGTH(held); i++) {
		if (held[i].standard != JIS_B_4632)
			continue;
		assert_true(n < LENGTH(table));
		assert_memory_equal(&held[i].row, &table[n], sizeof *table);
		n++;
	}
	assert_int_equal(n, LENGTH(table));
}

static void openings_equal(struct km_arena *a, int nominal, int min, int max)
{
	static const struct km_size_rules rules = { .drive = NULL };
	char text[8];
	struct km_size s;
	size_t n = 0;

	if (nominal >= 10000)
		text[n++] = (char)('0' + nominal / 10000);
	text[n++] = (char)('0' + nominal / 1000 % 10);
	assert_int_equal(km_size_parse((struct km_slice){ text, n }, &rules, a,
				       &s), KM_SIZE_OK);
	assert_int_equal(s.opening.min_nm, min * 1000);
	assert_int_equal(s.opening.max_nm, max * 1000);
}

static void rings_and_jaws_have_the_same_limits(void **state)
{
	struct km_arena *a = km_arena_new(NULL);

	(void)state;
	for (size_t i = 0; i < LENGTH(table); i++) {
		openings_equal(a, table[i].s1, table[i].min1, table[i].max1);
		openings_equal(a, table[i].s2, table[i].min2, table[i].max2);
	}
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_rows_are_those_of_the_standard),
		cmocka_unit_test(rings_and_jaws_have_the_same_limits),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
