/* SPDX-License-Identifier: MIT */
/*
 * Widths across flats of heads, each group with its source.
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

#define THOU 25400	/* nm */

static struct km_arena *mem;
static struct km_size_book book;

static int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	return mem && km_size_book_init(&book, mem) ? 0 : -1;
}

static int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

static struct km_size size(const char *text)
{
	static const struct km_size_rules rules = { .drive = NULL };
	struct km_size s;

	assert_int_equal(km_size_parse(km_slice_of(text), &rules, mem, &s),
			 KM_SIZE_OK);
	return s;
}

enum { ISO, DIN_OLD, JIS_ANNEX, JIS_SMALL, DIN_PREWAR };
enum { BOLT, NUT, BOLT_AND_NUT };
static const struct { const char *thread; int series, part, nominal, max, min; }
held[] = {
#define HEX_MM(thread, series, part, nominal, max, min, ...) \
	{ thread, series, part, nominal, max, min },
#include "data/hex_metric.def"
#undef HEX_MM
};

/* The row of a thread's head in a series; the length of the table: none. */
static size_t row_of(const char *thread, int series)
{
	size_t i = 0;

	while (i < LENGTH(held) && (strcmp(held[i].thread, thread)
				    || held[i].series != series
				    || held[i].part == NUT))
		i++;
	return i;
}

/* SOURCE [iso-4014] product grade A dimension sheet: greatest and least
 * width, micrometres */
static const struct { const char *thread; int max, min; } iso[] = {
	{ "M3", 5500, 5320 },
	{ "M4", 7000, 6780 },
	{ "M5", 8000, 7780 },
	{ "M6", 10000, 9780 },
	{ "M8", 13000, 12730 },
	{ "M10", 16000, 15730 },
	{ "M12", 18000, 17730 },
	{ "M14", 21000, 20670 },
	{ "M16", 24000, 23670 },
	{ "M20", 30000, 29670 },
	{ "M24", 36000, 35380 },
};

static void iso_heads_have_these_limits(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(iso); i++) {
		size_t k = row_of(iso[i].thread, ISO);
		bool met = false;

		assert_true(k < LENGTH(held));
		assert_int_equal(held[k].nominal, iso[i].max);
		assert_int_equal(held[k].max, iso[i].max);
		assert_int_equal(held[k].min, iso[i].min);
		/* and the size takes them as those of its heads */
		for (uint32_t n = 0; n < book.n; n++) {
			const struct km_size *s = &book.v[n];

			if (s->system != KM_SYS_METRIC
			    || s->nominal_nm != iso[i].max * 1000)
				continue;
			met = true;
			assert_int_equal(s->head.max_nm, iso[i].max * 1000);
			assert_int_equal(s->head.min_nm, iso[i].min * 1000);
		}
		assert_true(met);
	}
}

struct width { const char *thread; int tenths; };	/* of a mm */

static void widths_are(const struct width *w, size_t n, int series)
{
	for (size_t i = 0; i < n; i++) {
		size_t k = row_of(w[i].thread, series);

		assert_true(k < LENGTH(held));
		assert_int_equal(held[k].nominal, w[i].tenths * 100);
	}
}

/* SOURCE [bolts], [fastenerswb] DIN 931, 933 and 934 before 1982: M10, M12,
 * M14 and M22 differ from the widths since */
static void old_german_heads_have_these_widths(void **state)
{
	static const struct width rows[] = {
		{ "M3", 55 }, { "M4", 70 }, { "M5", 80 }, { "M6", 100 },
		{ "M7", 110 }, { "M8", 130 }, { "M10", 170 }, { "M12", 190 },
		{ "M14", 220 }, { "M16", 240 }, { "M18", 270 }, { "M20", 300 },
		{ "M22", 320 }, { "M24", 360 }, { "M27", 410 }, { "M30", 460 },
		{ "M33", 500 }, { "M36", 550 },
	};

	(void)state;
	widths_are(rows, LENGTH(rows), DIN_OLD);
}

/* SOURCE [jis-b-1180-annex] JIS B 1180 and 1181, annexes, small series */
static void small_japanese_heads_have_these_widths(void **state)
{
	static const struct width rows[] = {
		{ "M8", 120 }, { "M10", 140 }, { "M12", 170 }, { "M14", 190 },
		{ "M16", 220 }, { "M18", 240 }, { "M20", 270 }, { "M22", 300 },
		{ "M24", 320 }, { "M27", 360 }, { "M30", 410 }, { "M33", 460 },
		{ "M36", 500 },
	};

	(void)state;
	widths_are(rows, LENGTH(rows), JIS_SMALL);
}

/* SOURCE [asme-b18-2-1] hexagon cap screws: thread, width, greatest and least
 * width in thousandths of an inch */
static const struct { const char *thread, *width; int max, min; } cap[] = {
	{ "1/4", "7/16 AF", 438, 428 },
	{ "5/16", "1/2 AF", 500, 489 },
	{ "3/8", "9/16 AF", 562, 551 },
	{ "7/16", "5/8 AF", 625, 612 },
	{ "1/2", "3/4 AF", 750, 736 },
	{ "9/16", "13/16 AF", 812, 798 },
	{ "5/8", "15/16 AF", 938, 922 },
	{ "3/4", "1-1/8 AF", 1125, 1100 },
	{ "7/8", "1-5/16 AF", 1312, 1285 },
	{ "1", "1-1/2 AF", 1500, 1469 },
	{ "1-1/8", "1-11/16 AF", 1688, 1631 },
	{ "1-1/4", "1-7/8 AF", 1875, 1812 },
};

static void inch_cap_screws_have_these_limits(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(cap); i++) {
		struct km_size s = size(cap[i].width);

		assert_int_equal(s.head.max_nm, cap[i].max * THOU);
		assert_int_equal(s.head.min_nm, cap[i].min * THOU);
		assert_int_equal(s.head.basis, KM_BASIS_PUBLISHED);
	}
}

/* SOURCE [bs-1083-1965] tables 1 and 2, thousandths of an inch; that both
 * names mean one width: [owners-encyclopaedia], the last two rows by equal
 * widths */
static const struct { const char *w, *bs; int max, min; } british[] = {
	{ "3/16 W", "1/4 BS", 445, 438 },
	{ "1/4 W", "5/16 BS", 525, 518 },
	{ "5/16 W", "3/8 BS", 600, 592 },
	{ "3/8 W", "7/16 BS", 710, 702 },
	{ "7/16 W", "1/2 BS", 820, 812 },
	{ "1/2 W", "9/16 BS", 920, 912 },
	{ "9/16 W", "5/8 BS", 1010, 1000 },
	{ "11/16 W", "3/4 BS", 1200, 1190 },
	{ "3/4 W", "7/8 BS", 1300, 1288 },
	{ "7/8 W", "1 BS", 1480, 1468 },
	{ "1 W", "1-1/8 BS", 1670, 1640 },
};

static void british_heads_have_these_limits_under_both_names(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(british); i++) {
		struct km_size w = size(british[i].w), bs = size(british[i].bs);

		assert_int_equal(w.head.max_nm, british[i].max * THOU);
		assert_int_equal(w.head.min_nm, british[i].min * THOU);
		assert_int_equal(bs.head.max_nm, british[i].max * THOU);
		assert_int_equal(bs.head.min_nm, british[i].min * THOU);
		assert_true(km_size_same(&w, &bs));
		assert_false(km_size_same_name(&w, &bs));
	}
}

/* SOURCE [ba-article] major diameters of BS 93:1951, 0 BA first, tenths of a
 * mm, and the rule: the width is 1.75 times that, to 0.001 in.  The least
 * widths are from memory and not asserted. */
static void ba_widths_follow_their_rule(void **state)
{
	static const int major[] = { 60, 53, 47, 41, 36, 32, 28, 25, 22, 19, 17, };

	(void)state;
	for (int n = 0; n < (int)LENGTH(major); n++) {
		char text[8] = { 0 };
		size_t at = 0;
		int64_t nm = (int64_t)major[n] * 175000, thou;
		struct km_size s;

		if (n > 9)
			text[at++] = '1';
		text[at] = (char)('0' + n % 10);
		strcat(text, " BA");
		thou = (nm + THOU / 2) / THOU;
		s = size(text);
		assert_int_equal(s.nominal_nm, thou * THOU);
		assert_int_equal(s.head.basis, KM_BASIS_MEMORY);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(iso_heads_have_these_limits),
		cmocka_unit_test(old_german_heads_have_these_widths),
		cmocka_unit_test(small_japanese_heads_have_these_widths),
		cmocka_unit_test(inch_cap_screws_have_these_limits),
		cmocka_unit_test(british_heads_have_these_limits_under_both_names),
		cmocka_unit_test(ba_widths_follow_their_rule),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
