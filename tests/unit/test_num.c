/* SPDX-License-Identifier: MIT */
/* Checked integers, decimals, fractions; expected values by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "base/num.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static void sums_and_products_stop_at_the_border(void **state)
{
	int64_t v = 7;

	(void)state;
	assert_true(km_add(INT64_MAX - 1, 1, &v));
	assert_true(v == INT64_MAX);
	assert_false(km_add(INT64_MAX, 1, &v));
	assert_false(km_add(INT64_MIN, -1, &v));
	assert_true(km_sub(INT64_MIN + 1, 1, &v));
	assert_true(v == INT64_MIN);
	assert_false(km_sub(INT64_MIN, 1, &v));
	assert_false(km_sub(0, INT64_MIN, &v));
	/* 2^31 * 2^31 = 2^62; 2^32 * 2^31 = 2^63 */
	assert_true(km_mul((int64_t)1 << 31, (int64_t)1 << 31, &v));
	assert_true(v == (int64_t)1 << 62);
	assert_false(km_mul((int64_t)1 << 32, (int64_t)1 << 31, &v));
	assert_true(km_mul((int64_t)1 << 32, -((int64_t)1 << 31), &v));
	assert_true(v == INT64_MIN);
	assert_false(km_mul(INT64_MIN, -1, &v));
}

static const struct { int64_t a, b, c, out; } quotients[] = {
	{ 7, 1, 2, 4 },		{ -7, 1, 2, -4 },	/* 3.5 */
	{ 5, 1, 2, 3 },		{ -5, 1, 2, -3 },	/* 2.5, not to even */
	{ 4, 1, 3, 1 },		{ 5, 1, 3, 2 },		/* 1.33, 1.67 */
	{ -4, 1, 3, -1 },	{ -5, 1, 3, -2 },
	{ 6, 4, 8, 3 },		{ 0, 5, 9, 0 },
	{ 12344, 1, 1000, 12 },	{ 12500, 1, 1000, 13 },
	{ INT64_MAX, INT64_MAX, INT64_MAX, INT64_MAX },
	{ INT64_MIN, INT64_MAX, INT64_MAX, INT64_MIN },
	{ INT64_MAX, 1, INT64_MAX, 1 },
	{ 4611686018427387904, 1, INT64_MAX, 1 },	/* 2^62 / (2^63 - 1) */
	{ 4611686018427387903, 1, INT64_MAX, 0 },	/* just under half */
};

static void quotients_are_rounded_half_away(void **state)
{
	int64_t v = 7;

	(void)state;
	for (size_t i = 0; i < COUNT(quotients); i++)
		if (!km_mul_div(quotients[i].a, quotients[i].b, quotients[i].c,
				&v)
		    || v != quotients[i].out)
			fail_msg("row %zu", i);
	assert_false(km_mul_div(INT64_MAX, 2, 1, &v));
	assert_false(km_mul_div(INT64_MIN, 2, 1, &v));
	assert_false(km_mul_div(INT64_MIN, -1, 1, &v));
	/* (2^64 - 1) / 2 = 2^63 - 0.5 rounds to 2^63, one too much:
	 * 2^64 - 1 = 4294967295 * 4294967297 */
	assert_false(km_mul_div(4294967295, 4294967297, 2, &v));
}

static void rationals_compare_by_value(void **state)
{
	struct km_rational half = { 1, 2 }, two_quarters = { 2, 4 };
	struct km_rational third = { 333333333333333, 999999999999999 };
	struct km_rational less = { 333333333333332, 999999999999997 };

	(void)state;
	assert_int_equal(km_rational_compare(half, two_quarters), 0);
	assert_true(km_rational_compare(third, half) < 0);
	assert_true(km_rational_compare(half, third) > 0);
	/* 3 * 333333333333332 = 999999999999996 < 999999999999997 */
	assert_true(km_rational_compare(less, third) < 0);
	assert_true(km_rational_compare((struct km_rational){ -1, 2 },
					(struct km_rational){ -1, 3 }) < 0);
}

static const struct {
	const char *text;
	bool comma;
	enum km_status st;
	int64_t num, den;
	int places;
	const char *rest;
} decimals[] = {
	{ "148", 0, KM_OK, 148, 1, 0, "" },
	{ "13.50 mm", 0, KM_OK, 1350, 100, 2, " mm" },
	{ ".525\"", 0, KM_OK, 525, 1000, 3, "\"" },
	{ "13.", 0, KM_OK, 13, 1, 0, "" },
	{ "007", 0, KM_OK, 7, 1, 0, "" },
	{ "146..151", 0, KM_OK, 146, 1, 0, "..151" },
	{ "1.2.3", 0, KM_OK, 12, 10, 1, ".3" },
	{ "1e9", 0, KM_OK, 1, 1, 0, "e9" },
	{ "13,34", 0, KM_OK, 13, 1, 0, ",34" },
	{ "13,34", 1, KM_OK, 1334, 100, 2, "" },
	{ "13.34", 1, KM_OK, 1334, 100, 2, "" },
	{ ",5", 1, KM_OK, 5, 10, 1, "" },
	{ "13, 34", 1, KM_OK, 13, 1, 0, ", 34" },
	{ "999999999999999", 0, KM_OK, 999999999999999, 1, 0, "" },
	{ ".000000000000001", 0, KM_OK, 1, 1000000000000000, 15, "" },
	{ "1000000000000000", 0, KM_ERANGE, 0, 0, 0, NULL },
	{ "0000000000000000", 0, KM_ERANGE, 0, 0, 0, NULL },
	{ "1.000000000000000", 0, KM_ERANGE, 0, 0, 0, NULL },
	{ "99999999999999999999999999", 0, KM_ERANGE, 0, 0, 0, NULL },
	{ "", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ ".", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ "..5", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ ".inf", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ "-5", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ "+5", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ " 5", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ ",5", 0, KM_EINPUT, 0, 0, 0, NULL },
	{ "\u0665", 0, KM_EINPUT, 0, 0, 0, NULL },	/* Arabic five */
};

static void decimals_are_exact(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(decimals); i++) {
		struct km_slice s = km_slice_of(decimals[i].text);
		struct km_rational r = { -1, -1 };
		int places = -1;
		enum km_status st = km_decimal_eat(&s, decimals[i].comma, &r,
						   &places);

		if (st != decimals[i].st)
			fail_msg("%s: status %d", decimals[i].text, (int)st);
		if (st != KM_OK) {
			assert_ptr_equal(s.p, decimals[i].text);
			assert_int_equal(r.den, -1);
			continue;
		}
		if (r.num != decimals[i].num || r.den != decimals[i].den
		    || places != decimals[i].places
		    || !km_slice_is(s, decimals[i].rest))
			fail_msg("%s", decimals[i].text);
	}
}

static const struct {
	const char *text;
	enum km_status st;
	int64_t num, den;
	bool fraction;
	int places;
	const char *rest;
} mixed[] = {
	{ "7/16", KM_OK, 7, 16, 1, 0, "" },
	{ "2/4 in", KM_OK, 2, 4, 1, 0, " in" },		/* not reduced */
	{ "9/8", KM_OK, 9, 8, 1, 0, "" },
	{ "1 1/8 in", KM_OK, 9, 8, 1, 0, " in" },	/* 1 * 8 + 1 */
	{ "1-1/8", KM_OK, 9, 8, 1, 0, "" },
	{ "6 1/2", KM_OK, 13, 2, 1, 0, "" },
	{ "6\u00bd\"", KM_OK, 13, 2, 1, 0, "\"" },
	{ "6 \u00bd", KM_OK, 13, 2, 1, 0, "" },
	{ "\u00bc", KM_OK, 1, 4, 1, 0, "" },
	{ "\u00be", KM_OK, 3, 4, 1, 0, "" },
	{ "1\u215b", KM_OK, 9, 8, 1, 0, "" },
	{ "\u215c", KM_OK, 3, 8, 1, 0, "" },
	{ "\u215d", KM_OK, 5, 8, 1, 0, "" },
	{ "2\u215e", KM_OK, 23, 8, 1, 0, "" },		/* 2 * 8 + 7 */
	{ "\u2154", KM_OK, 2, 3, 1, 0, "" },
	{ "1\u20442", KM_OK, 1, 2, 1, 0, "" },		/* fraction slash */
	{ "13.50", KM_OK, 1350, 100, 0, 2, "" },
	{ "148", KM_OK, 148, 1, 0, 0, "" },
	{ "148 mm", KM_OK, 148, 1, 0, 0, " mm" },
	{ "12-14", KM_OK, 12, 1, 0, 0, "-14" },
	{ "10 12", KM_OK, 10, 1, 0, 0, " 12" },
	{ "1 9/8", KM_OK, 1, 1, 0, 0, " 9/8" },
	{ "1 0/8", KM_OK, 1, 1, 0, 0, " 0/8" },
	{ "1 - 1/8", KM_OK, 1, 1, 0, 0, " - 1/8" },
	{ "6.5\u00bd", KM_OK, 65, 10, 0, 1, "\u00bd" },
	{ "6. 1/2", KM_OK, 6, 1, 0, 0, " 1/2" },
	{ "3/3/4", KM_OK, 3, 3, 1, 0, "/4" },
	{ "5/", KM_OK, 5, 1, 0, 0, "/" },
	{ "1/.5", KM_OK, 1, 1, 0, 0, "/.5" },
	{ "1/0", KM_ERANGE, 0, 0, 0, 0, NULL },
	{ "6 1/0", KM_ERANGE, 0, 0, 0, 0, NULL },
	{ "1/1000000000000000", KM_ERANGE, 0, 0, 0, 0, NULL },
	{ "1000000000000000/2", KM_ERANGE, 0, 0, 0, 0, NULL },
	/* 999999999999999 * 99999 > 2^63 = 9.2E18 */
	{ "999999999999999 1/99999", KM_ERANGE, 0, 0, 0, 0, NULL },
	{ "", KM_EINPUT, 0, 0, 0, 0, NULL },
	{ "/2", KM_EINPUT, 0, 0, 0, 0, NULL },
	{ "half", KM_EINPUT, 0, 0, 0, 0, NULL },
};

static void fractions_are_read_as_tools_are_measured(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(mixed); i++) {
		struct km_slice s = km_slice_of(mixed[i].text);
		struct km_rational r = { -1, -1 };
		bool fraction = false;
		int places = -1;
		enum km_status st = km_mixed_eat(&s, false, &r, &fraction,
						 &places);

		if (st != mixed[i].st)
			fail_msg("%s: status %d", mixed[i].text, (int)st);
		if (st != KM_OK) {
			assert_ptr_equal(s.p, mixed[i].text);
			continue;
		}
		if (r.num != mixed[i].num || r.den != mixed[i].den
		    || fraction != mixed[i].fraction
		    || places != mixed[i].places
		    || !km_slice_is(s, mixed[i].rest))
			fail_msg("%s", mixed[i].text);
	}
}

/* What is written is read back, for each number of places. */
static void decimals_come_back(void **state)
{
	int64_t scale = 1;

	(void)state;
	for (int places = 0; places <= 7; places++, scale *= 10) {
		for (int64_t v = 1; v < 10000000; v = v * 7 + 3) {
			char text[40];
			struct km_slice s;
			struct km_rational r;
			int got;

			snprintf(text, sizeof text, "%lld.%0*lld",
				 (long long)(v / scale), places,
				 (long long)(v % scale));
			if (!places)
				*strchr(text, '.') = '\0';
			s = km_slice_of(text);
			assert_int_equal(km_decimal_eat(&s, false, &r, &got),
					 KM_OK);
			assert_int_equal(s.n, 0);
			assert_int_equal(r.num, v);
			assert_int_equal(r.den, scale);
			assert_int_equal(got, places);
		}
	}
}

static void integers_fill_64_bits(void **state)
{
	int64_t v = -1;

	(void)state;
	assert_int_equal(km_integer(km_slice_of(""), &v), KM_EINPUT);
	assert_int_equal(km_integer(km_slice_of("12x"), &v), KM_EINPUT);
	assert_int_equal(km_integer(km_slice_of("-1"), &v), KM_EINPUT);
	assert_int_equal(km_integer(km_slice_of("1 "), &v), KM_EINPUT);
	assert_int_equal(km_integer(km_slice_of("0x1F"), &v), KM_EINPUT);
	assert_int_equal(km_integer(km_slice_of("9223372036854775808"), &v),
			 KM_ERANGE);
	assert_int_equal(km_integer(km_slice_of("99999999999999999999x"), &v),
			 KM_EINPUT);
	assert_int_equal(v, -1);
	assert_int_equal(km_integer(km_slice_of("9223372036854775807"), &v),
			 KM_OK);
	assert_true(v == INT64_MAX);
	assert_int_equal(km_integer(km_slice_of("0004417"), &v), KM_OK);
	assert_int_equal(v, 4417);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(sums_and_products_stop_at_the_border),
		cmocka_unit_test(quotients_are_rounded_half_away),
		cmocka_unit_test(rationals_compare_by_value),
		cmocka_unit_test(decimals_are_exact),
		cmocka_unit_test(fractions_are_read_as_tools_are_measured),
		cmocka_unit_test(decimals_come_back),
		cmocka_unit_test(integers_fill_64_bits),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
