/* SPDX-License-Identifier: MIT */
/* Days and periods. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "unit/date.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static struct km_date day(int y, int m, int d)
{
	return (struct km_date){ (int16_t)y, (int8_t)m, (int8_t)d };
}

static void only_days_that_exist_are_read(void **state)
{
	static const char *const none[] = {
		"", "1954", "1954-03", "1954-3-12", "1954-03-1", "54-03-12",
		"1954-03-12 ", " 1954-03-12", "1954-00-12", "1954-13-01",
		"1954-03-00", "1954-03-32", "1954-04-31", "1954-02-29",
		"1900-02-29", "0999-12-31", "0000-00-00", "1954/03/12",
		"1954-03-12T00", "1954-03-XX", "195X-03-12", "12345-01-01",
		"+1954-03-1", "-954-03-12", "1954-0a-12",
	};
	struct km_date d = day(1, 2, 3);

	(void)state;
	for (size_t i = 0; i < COUNT(none); i++)
		if (km_date_parse(km_slice_of(none[i]), &d))
			fail_msg("'%s'", none[i]);
	assert_int_equal(km_date_compare(d, day(1, 2, 3)), 0);
	assert_true(km_date_parse(km_slice_of("1954-03-12"), &d));
	assert_int_equal(km_date_compare(d, day(1954, 3, 12)), 0);
	/* leap: divisible by 4, of the centuries those by 400 */
	assert_true(km_date_parse(km_slice_of("1952-02-29"), &d));
	assert_true(km_date_parse(km_slice_of("2000-02-29"), &d));
	assert_true(km_date_parse(km_slice_of("1000-01-01"), &d));
	assert_true(km_date_parse(km_slice_of("9999-12-31"), &d));
}

/*
 * SOURCE iso-8601-2, EDTF levels 0 and 1: days covered by each form.  First
 * and last day also as the reference library [edtf-js] gives them, open ends
 * excepted, which here are years 1000 and 9999.
 */
static const struct {
	const char *text, *from, *to;
	bool uncertain, approximate;
} periods[] = {
	{ "1954", "1954-01-01", "1954-12-31", 0, 0 },
	{ "1954-03", "1954-03-01", "1954-03-31", 0, 0 },
	{ "1954-03-12", "1954-03-12", "1954-03-12", 0, 0 },
	{ "1956-02", "1956-02-01", "1956-02-29", 0, 0 },
	{ "1900-02", "1900-02-01", "1900-02-28", 0, 0 },
	{ "195X", "1950-01-01", "1959-12-31", 0, 0 },
	{ "19XX", "1900-01-01", "1999-12-31", 0, 0 },
	{ "1954-XX", "1954-01-01", "1954-12-31", 0, 0 },
	{ "1954-02-XX", "1954-02-01", "1954-02-28", 0, 0 },
	{ "1954-XX-XX", "1954-01-01", "1954-12-31", 0, 0 },
	{ "1954?", "1954-01-01", "1954-12-31", 1, 0 },
	{ "1954~", "1954-01-01", "1954-12-31", 0, 1 },
	{ "1954%", "1954-01-01", "1954-12-31", 1, 1 },
	{ "1954-03~", "1954-03-01", "1954-03-31", 0, 1 },
	{ "1952/1955", "1952-01-01", "1955-12-31", 0, 0 },
	{ "1952-06/1955-02", "1952-06-01", "1955-02-28", 0, 0 },
	{ "1954~/1956?", "1954-01-01", "1956-12-31", 1, 1 },
	{ "1956/..", "1956-01-01", "9999-12-31", 0, 0 },
	{ "../1956", "1000-01-01", "1956-12-31", 0, 0 },
	{ "../1956%", "1000-01-01", "1956-12-31", 1, 1 },
	{ "1956/", "1956-01-01", "9999-12-31", 1, 0 },
	{ "/1956-03", "1000-01-01", "1956-03-31", 1, 0 },
	{ "1954-03-12/1954-03-12", "1954-03-12", "1954-03-12", 0, 0 },
};

static void periods_cover_their_days(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(periods); i++) {
		struct km_period p;
		struct km_date from, to;

		assert_true(km_date_parse(km_slice_of(periods[i].from), &from));
		assert_true(km_date_parse(km_slice_of(periods[i].to), &to));
		if (!km_period_parse(km_slice_of(periods[i].text), &p)
		    || km_date_compare(p.from, from)
		    || km_date_compare(p.to, to)
		    || p.uncertain != periods[i].uncertain
		    || p.approximate != periods[i].approximate)
			fail_msg("%s", periods[i].text);
	}
}

static void what_is_no_period_is_refused(void **state)
{
	static const char *const none[] = {
		"", "54", "195", "19545", "1XXX", "XXXX", "19X5", "195x",
		"1954-3", "1954-13", "1954-00", "1954-02-29", "1954-1X",
		"1954-X1", "195X-03", "1954-XX-12", "1954-", "1954-03-",
		"1954?~", "?1954", "1954 ?", "c. 1954", "1954-1956", "1956/1952",
		"1954-03/1954-02", "..", "../..", "/", "/..", "../", "1956/...",
		"1954-20", "1954-25", "195X-21", "1954-21-01", "1954-21?",
		"1954-21/1955", "1954/1955-22", "0954-21",
		"1952/1954/1956", "1954/x", "0954", "1954 ", "1954-03-12T10",
	};
	struct km_period p = { { 1, 2, 3 }, { 4, 5, 6 }, true, true };

	(void)state;
	for (size_t i = 0; i < COUNT(none); i++)
		if (km_period_parse(km_slice_of(none[i]), &p))
			fail_msg("'%s'", none[i]);
	assert_int_equal(km_date_compare(p.from, day(1, 2, 3)), 0);
	assert_int_equal(km_date_compare(p.to, day(4, 5, 6)), 0);
}

static void days_are_in_order(void **state)
{
	struct km_date d[] = { day(0, 0, 0), day(1953, 12, 31), day(1954, 1, 1),
			       day(1954, 1, 2), day(1954, 2, 1) };

	(void)state;
	for (int i = 0; i < (int)COUNT(d); i++)
		for (int j = 0; j < (int)COUNT(d); j++)
			assert_int_equal(km_date_compare(d[i], d[j]),
					 (i > j) - (i < j));
}

/*
 * By hand: 30 years to 2000 have 30 * 365 + 7 leap days (72 ... 96) = 10957;
 * to 1 March + 31 + 29 = 11017.  From 1954 to 1970: 16 * 365 + 4 (56 ... 68)
 * = 5844; 12 March is day 31 + 28 + 11 = 70 of 1954, counted from 0.
 */
static const struct { int y, m, d; int32_t days; } counted[] = {
	{ 1970, 1, 1, 0 }, { 1970, 1, 2, 1 }, { 1969, 12, 31, -1 },
	{ 2000, 1, 1, 10957 }, { 2000, 3, 1, 11017 }, { 2000, 2, 29, 11016 },
	{ 1954, 1, 1, -5844 }, { 1954, 3, 12, -5774 },
};

static void days_are_counted_from_1970(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(counted); i++) {
		struct km_date d = day(counted[i].y, counted[i].m,
				       counted[i].d);

		assert_int_equal(km_date_days(d), counted[i].days);
		assert_int_equal(km_date_compare(
			km_date_of_days(counted[i].days), d), 0);
	}
}

/* Every number from the first to the last day gives the day after the one
 * before, which exists, and comes back. */
static void every_day_follows_the_one_before(void **state)
{
	int32_t from = km_date_days(day(1000, 1, 1));
	int32_t to = km_date_days(day(9999, 12, 31));
	struct km_date last = day(999, 12, 31);

	(void)state;
	/* 9000 years: 22 times 400 of 146097 days and the 200 from 9800 on,
	 * which hold 48 leap years (9900 is none, 9800 neither) */
	assert_int_equal(to - from + 1, 22 * 146097 + 200 * 365 + 48);
	for (int32_t n = from; n <= to; n++) {
		struct km_date d = km_date_of_days(n);
		bool next = d.day == last.day + 1 && d.month == last.month
			    && d.year == last.year;
		bool first = d.day == 1 && last.day >= 28
			     && (d.month == last.month + 1
				 || (d.month == 1 && last.month == 12
				     && d.year == last.year + 1));

		if (!(next || first) || km_date_days(d) != n)
			fail_msg("day %d", (int)n);
		last = d;
	}
}

static const struct { int y1, m1, d1, y2, m2, d2, months; } months[] = {
	{ 2026, 1, 15, 2026, 1, 15, 0 },
	{ 2026, 1, 15, 2026, 2, 14, 0 },
	{ 2026, 1, 15, 2026, 2, 15, 1 },
	{ 2026, 1, 31, 2026, 2, 28, 0 },	/* no 31st yet */
	{ 2026, 1, 31, 2026, 3, 31, 2 },
	{ 2025, 12, 31, 2026, 1, 1, 0 },
	{ 2024, 4, 1, 2026, 4, 1, 24 },
	{ 2024, 4, 2, 2026, 4, 1, 23 },
};

static void begun_months_do_not_count(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(months); i++) {
		struct km_date a = day(months[i].y1, months[i].m1,
				       months[i].d1);
		struct km_date b = day(months[i].y2, months[i].m2,
				       months[i].d2);

		assert_int_equal(km_date_months(a, b), months[i].months);
		assert_int_equal(km_date_months(b, a), -months[i].months);
	}
}

static void dates_are_printed_as_read(void **state)
{
	static const char *const texts[] = { "1000-01-01", "1954-03-12",
					     "9999-12-31" };
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	for (size_t i = 0; i < COUNT(texts); i++) {
		struct km_date d;

		assert_true(km_date_parse(km_slice_of(texts[i]), &d));
		km_buf_clear(&b);
		km_buf_date(&b, d);
		assert_string_equal(b.text, texts[i]);
	}
	km_buf_clear(&b);
	km_buf_date(&b, day(0, 0, 0));
	assert_int_equal(b.len, 0);
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(only_days_that_exist_are_read),
		cmocka_unit_test(periods_cover_their_days),
		cmocka_unit_test(what_is_no_period_is_refused),
		cmocka_unit_test(days_are_in_order),
		cmocka_unit_test(days_are_counted_from_1970),
		cmocka_unit_test(every_day_follows_the_one_before),
		cmocka_unit_test(begun_months_do_not_count),
		cmocka_unit_test(dates_are_printed_as_read),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
