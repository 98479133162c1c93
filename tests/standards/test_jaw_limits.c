/* SPDX-License-Identifier: MIT */
/*
 * Opening limits of metric spanners.
 *
 * SOURCE   [gbt-4390-1995] GB/T 4390-1995, stated equivalent to ISO 691:1983
 * A least opening of 0 stands for the two that were not legible in the copy
 * read (6 and 7 mm: in the tables from memory, so nothing is asserted); an
 * unfinished opening of 0 for those not legible.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/jaw.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

static const struct { int nominal, min, max, unfinished; } rows[] = {	/* um */
	{ 3200, 3220, 3280, 0 },
	{ 4000, 4020, 4120, 0 },
	{ 5000, 5020, 5120, 0 },
	{ 5500, 5520, 5620, 0 },
	{ 6000, 0, 6150, 0 },
	{ 7000, 0, 7150, 0 },
	{ 8000, 8030, 8150, 8180 },
	{ 9000, 9030, 9150, 9180 },
	{ 10000, 10040, 10190, 10240 },
	{ 11000, 11040, 11190, 11240 },
	{ 12000, 12040, 12240, 12300 },
	{ 13000, 13040, 13240, 13300 },
	{ 14000, 14050, 14270, 14350 },
	{ 15000, 15050, 15270, 15350 },
	{ 16000, 16050, 16270, 16350 },
	{ 17000, 17050, 17300, 17400 },
	{ 18000, 18050, 18300, 18400 },
	{ 19000, 19060, 19360, 19460 },
	{ 20000, 20060, 20360, 20460 },
	{ 21000, 21060, 21360, 21460 },
	{ 22000, 22060, 22360, 22460 },
	{ 23000, 23060, 23360, 23460 },
	{ 24000, 24060, 24360, 24460 },
	{ 25000, 25060, 25360, 25460 },
	{ 26000, 26080, 26480, 26580 },
	{ 27000, 27080, 27480, 27580 },
	{ 28000, 28080, 28480, 28580 },
	{ 30000, 30080, 30480, 30580 },
	{ 32000, 32080, 32480, 32580 },
	{ 34000, 34100, 34600, 34700 },
	{ 36000, 36100, 36600, 36700 },
	{ 41000, 41100, 41600, 41700 },
	{ 46000, 46100, 46600, 46700 },
	{ 50000, 50100, 50600, 50700 },
	{ 55000, 55120, 55720, 55920 },
	{ 60000, 60120, 60720, 60920 },
	{ 65000, 65120, 65720, 65920 },
	{ 70000, 70120, 70720, 70920 },
};

static void every_printed_limit_is_held(void **state)
{
	struct km_size_book book;
	struct km_arena *a = km_arena_new(NULL);
	size_t met = 0;

	(void)state;
	assert_true(km_size_book_init(&book, a));
	for (size_t i = 0; i < LENGTH(rows); i++)
		for (uint32_t k = 0; k < book.n; k++) {
			const struct km_size *s = &book.v[k];

			if (s->system != KM_SYS_METRIC
			    || s->nominal_nm != rows[i].nominal * 1000)
				continue;
			met++;
			if (rows[i].min)
				assert_int_equal(s->opening.min_nm,
						 rows[i].min * 1000);
			else
				assert_int_equal(s->opening.basis,
						 KM_BASIS_MEMORY);
			assert_int_equal(s->opening.max_nm,
					 rows[i].max * 1000);
			assert_int_equal(s->opening.unfinished_max_nm,
					 rows[i].unfinished * 1000);
		}
	assert_int_equal(met, LENGTH(rows));
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_printed_limit_is_held),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
