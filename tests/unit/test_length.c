/* SPDX-License-Identifier: MIT */
/*
 * Lengths as people write them.
 *
 * SOURCE nist-sp811, app. B.8, row "inch (in)": 1 in = 2.54 E-02 m, exact.
 * All other values follow from it by the arithmetic shown.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "unit/length.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static const struct km_length_rules strict = { KM_UNIT_NONE, false, false };
static const struct km_length_rules csv_mm = { KM_UNIT_MM, true, false };
static const struct km_length_rules csv_in = { KM_UNIT_IN, true, false };
static const struct km_length_rules zero = { KM_UNIT_NONE, false, true };

static struct km_span untouched = { -7, -7, -7 };

static int same(struct km_span a, struct km_span b)
{
	return a.nm == b.nm && a.minus_nm == b.minus_nm
	       && a.plus_nm == b.plus_nm;
}

/* half: half the last digit or the fraction's step, up to whole nm */
static const struct {
	const char *text;
	const struct km_length_rules *rules;
	int64_t nm, half;
} readings[] = {
	{ "149 mm", &strict, 149000000, 500000 },
	{ " 149mm\t", &strict, 149000000, 500000 },
	{ "149 MM", &strict, 149000000, 500000 },
	{ "13.50 mm", &strict, 13500000, 5000 },
	{ "13. mm", &strict, 13000000, 500000 },
	{ "14.9 cm", &strict, 149000000, 500000 },	/* 0.05 cm */
	{ "0.149 m", &strict, 149000000, 500000 },	/* 0.0005 m */
	{ "100 m", &strict, 100000000000, 500000000 },	/* the longest */
	{ "100000 mm", &strict, 100000000000, 500000 },
	{ "0.000001 mm", &strict, 1, 1 },		/* 0.5 nm, rounded up */
	/* 6.5 * 25.4 = 165.1; a rule's step is 1/16 in, half of it 0.79375 mm */
	{ "6 1/2 in", &strict, 165100000, 793750 },
	{ "6-1/2 in", &strict, 165100000, 793750 },
	{ "6\u00bd\"", &strict, 165100000, 793750 },
	{ "6\u00bd in", &strict, 165100000, 793750 },
	{ "6 1/2\u2033", &strict, 165100000, 793750 },
	{ "6 1/2 \u2032\u2032", &strict, 165100000, 793750 },
	{ "6 1/2''", &strict, 165100000, 793750 },
	{ "6 1/2\u201d", &strict, 165100000, 793750 },
	{ "6 1/2 inch", &strict, 165100000, 793750 },
	{ "6 1/2 Inches", &strict, 165100000, 793750 },
	/* decimal: half of 0.1 in = 1.27 mm */
	{ "6.5 in", &strict, 165100000, 1270000 },
	/* 1.5 * 25.4 = 38.1 */
	{ "1 1/2 in", &strict, 38100000, 793750 },
	/* 0.525 * 25.4 = 13.335; half of 0.001 in = 0.0127 mm */
	{ ".525\"", &strict, 13335000, 12700 },
	/* 7 * 25.4 / 16 = 177.8 / 16 = 11.1125; 25.4 / 32 = 0.79375 */
	{ "7/16\"", &strict, 11112500, 793750 },
	/* 25.4 / 64 = 0.396875; half 0.1984375, up to 198438 nm */
	{ "1/64 in", &strict, 396875, 198438 },
	/* 0.00001 in = 254 nm, half of it 127 */
	{ "0.00001 in", &strict, 254, 127 },
	/* a whole number of inches is read on the same rule: 1/32 in */
	{ "7 in", &strict, 177800000, 793750 },
	{ "7.0 in", &strict, 177800000, 1270000 },
	{ "5/16 mm", &strict, 312500, 31250 },
	{ "165", &csv_mm, 165000000, 500000 },
	{ "6 1/2", &csv_in, 165100000, 793750 },
	{ "6 1/2 in", &csv_mm, 165100000, 793750 },
	{ "13,34 mm", &csv_mm, 13340000, 5000 },
	{ "13,34", &csv_mm, 13340000, 5000 },
	{ "13.34", &csv_mm, 13340000, 5000 },
	{ "0 mm", &zero, 0, 500000 },
	{ "0.0 in", &zero, 0, 1270000 },
};

static void readings_are_exact(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(readings); i++) {
		struct km_span got = untouched;
		int fault = (int)km_reading_parse(km_slice_of(readings[i].text),
					     readings[i].rules, &got);

		if (fault || got.nm != readings[i].nm
		    || got.minus_nm != readings[i].half
		    || got.plus_nm != readings[i].half)
			fail_msg("%s: fault %d, %" PRId64 " nm +- %" PRId32,
				 readings[i].text, fault, got.nm, got.plus_nm);
	}
}

static const struct {
	const char *text;
	const struct km_length_rules *rules;
	enum km_length_fault fault;
} refused[] = {
	{ "", &strict, KM_LENGTH_NO_NUMBER },
	{ " ", &strict, KM_LENGTH_NO_NUMBER },
	{ "mm", &strict, KM_LENGTH_NO_NUMBER },
	{ "long", &strict, KM_LENGTH_NO_NUMBER },
	{ ".inf", &strict, KM_LENGTH_NO_NUMBER },
	{ ".nan", &strict, KM_LENGTH_NO_NUMBER },
	{ "NaN mm", &strict, KM_LENGTH_NO_NUMBER },
	{ "-.inf", &strict, KM_LENGTH_NO_NUMBER },
	{ "- mm", &strict, KM_LENGTH_NO_NUMBER },
	{ "+5 mm", &strict, KM_LENGTH_NO_NUMBER },
	{ "152", &strict, KM_LENGTH_NO_UNIT },
	{ "6 1/2", &strict, KM_LENGTH_NO_UNIT },
	{ "152,4 mm", &strict, KM_LENGTH_COMMA },
	{ "1,524 m", &strict, KM_LENGTH_COMMA },
	{ ",4 mm", &strict, KM_LENGTH_COMMA },
	{ "1e9 mm", &strict, KM_LENGTH_TRAILING },
	{ "1e400 mm", &strict, KM_LENGTH_TRAILING },
	{ "152 mm extra", &strict, KM_LENGTH_TRAILING },
	{ "152 mmm", &strict, KM_LENGTH_TRAILING },
	{ "152 ft", &strict, KM_LENGTH_TRAILING },
	{ "152 M", &strict, KM_LENGTH_TRAILING },	/* M is no metre */
	{ "6'", &strict, KM_LENGTH_TRAILING },
	{ "6\u2032", &strict, KM_LENGTH_TRAILING },
	{ "3/3/4 in", &strict, KM_LENGTH_TRAILING },
	{ "1 9/8 in", &strict, KM_LENGTH_TRAILING },
	{ "152 mm +-3", &strict, KM_LENGTH_TRAILING },
	{ "152 x 3 mm", &strict, KM_LENGTH_TRAILING },
	{ "1/0 in", &strict, KM_LENGTH_RANGE },
	{ "99999999999999999999 mm", &strict, KM_LENGTH_RANGE },
	{ "1000000000000000 mm", &strict, KM_LENGTH_RANGE },
	{ "999999999999999 mm", &strict, KM_LENGTH_RANGE },
	{ "999999999999999 m", &strict, KM_LENGTH_RANGE },
	{ "100000.000001 mm", &strict, KM_LENGTH_RANGE },
	{ "101 m", &strict, KM_LENGTH_RANGE },
	/* 100 m / 25.4 mm = 3937.007... */
	{ "3938 in", &strict, KM_LENGTH_RANGE },
	{ "0 mm", &strict, KM_LENGTH_ZERO },
	{ "0.00 in", &strict, KM_LENGTH_ZERO },
	{ "0", &csv_mm, KM_LENGTH_ZERO },
	{ "-5 mm", &strict, KM_LENGTH_NEGATIVE },
	{ "- 5 mm", &strict, KM_LENGTH_NEGATIVE },
	{ "-.5 mm", &strict, KM_LENGTH_NEGATIVE },
	{ "\u22125 mm", &strict, KM_LENGTH_NEGATIVE },
	{ "-0 mm", &zero, KM_LENGTH_NEGATIVE },
	{ "1/3 in", &strict, KM_LENGTH_NOT_EXACT },
	{ "\u2153 in", &strict, KM_LENGTH_NOT_EXACT },
	{ "1/128 in", &strict, KM_LENGTH_NOT_EXACT },	/* 198437.5 nm */
	{ "0.000001 in", &strict, KM_LENGTH_NOT_EXACT },	/* 25.4 nm */
	{ "0.0000001 mm", &strict, KM_LENGTH_NOT_EXACT },
};

static void each_mistake_has_its_fault(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refused); i++) {
		struct km_span got = untouched;
		int fault = (int)km_reading_parse(km_slice_of(refused[i].text),
					     refused[i].rules, &got);

		if (fault != (int)refused[i].fault)
			fail_msg("'%s': fault %d, not %d", refused[i].text,
				 fault, (int)refused[i].fault);
		assert_true(same(got, untouched));
	}
}

/* Every 64th of an inch up to 4 in, and every thousandth up to 1 in. */
static void inches_are_never_rounded(void **state)
{
	char text[40];
	struct km_span got;

	(void)state;
	for (int64_t den = 1; den <= 64; den *= 2) {
		for (int64_t num = 1; num <= 4 * den; num++) {
			snprintf(text, sizeof text, "%d/%d in", (int)num,
				 (int)den);
			assert_int_equal(km_reading_parse(km_slice_of(text),
							  &strict, &got), 0);
			assert_int_equal(got.nm * den, num * 25400000);
		}
	}
	for (int n = 1; n < 1000; n++) {
		snprintf(text, sizeof text, ".%03d\"", n);
		assert_int_equal(km_reading_parse(km_slice_of(text), &strict,
						  &got), 0);
		assert_int_equal(got.nm, n * (int64_t)25400);
	}
}

/* ------------------------------------------------------------------ */

static const struct {
	const char *text;
	const struct km_length_rules *rules;
	int64_t nm;
	int32_t minus, plus;
	bool assumed;
} requirements[] = {
	{ "148 mm +-3", &strict, 148000000, 3000000, 3000000, false },
	{ "148 mm +/-3", &strict, 148000000, 3000000, 3000000, false },
	{ "148 mm \u00b13", &strict, 148000000, 3000000, 3000000, false },
	{ "148mm\u00b13mm", &strict, 148000000, 3000000, 3000000, false },
	{ "148 \u00b1 3 mm", &strict, 148000000, 3000000, 3000000, false },
	{ "148 mm +- 0.5", &strict, 148000000, 500000, 500000, false },
	{ "148 mm +-0", &strict, 148000000, 0, 0, false },
	/* 1/8 in = 3.175 mm */
	{ "6 1/2 in +-1/8", &strict, 165100000, 3175000, 3175000, false },
	{ "6 1/2 in +-3 mm", &strict, 165100000, 3000000, 3000000, false },
	{ "6\u00bd\" +-\u215b\"", &strict, 165100000, 3175000, 3175000, false },
	{ "100 mm +5/-0", &strict, 100000000, 0, 5000000, false },
	{ "100 mm +5 -2.5", &strict, 100000000, 2500000, 5000000, false },
	{ "100 mm +0/\u22123", &strict, 100000000, 3000000, 0, false },
	{ "100 +5/-3 mm", &strict, 100000000, 3000000, 5000000, false },
	/* (146 + 151) / 2 = 148.5 */
	{ "146..151 mm", &strict, 148500000, 2500000, 2500000, false },
	{ "146 mm .. 151 mm", &strict, 148500000, 2500000, 2500000, false },
	{ "146 mm..151", &strict, 148500000, 2500000, 2500000, false },
	{ "146.5..147 mm", &strict, 146750000, 250000, 250000, false },
	/* 14.6 cm to 151 mm */
	{ "14.6 cm..151 mm", &strict, 148500000, 2500000, 2500000, false },
	{ "150..150 mm", &strict, 150000000, 0, 0, false },
	/* an odd number of nm: the middle is rounded down */
	{ "0.000001..0.000004 mm", &strict, 2, 1, 2, false },
	/* [choice] 2 mm to 100 mm, both included, then 2 per cent */
	{ "50 mm", &strict, 50000000, 2000000, 2000000, true },
	{ "100 mm", &strict, 100000000, 2000000, 2000000, true },
	/* short: 10 per cent, 8 mm / 10 = 0.8 mm; 20 mm / 10 = 2 mm */
	{ "8 mm", &strict, 8000000, 800000, 800000, true },
	{ "20 mm", &strict, 20000000, 2000000, 2000000, true },
	{ "148 mm", &strict, 148000000, 2960000, 2960000, true },
	{ "6 1/2 in", &strict, 165100000, 3302000, 3302000, true },
	/* 100.000049 mm / 50 = 2.00000098 mm, down to 2000000 nm */
	{ "100.000049 mm", &strict, 100000049, 2000000, 2000000, true },
	{ "100.000050 mm", &strict, 100000050, 2000001, 2000001, true },
	{ "100 m", &strict, 100000000000, 2000000000, 2000000000, true },
	{ "148 +-3", &csv_mm, 148000000, 3000000, 3000000, false },
	{ "148,5 +-2,5", &csv_mm, 148500000, 2500000, 2500000, false },
	{ "146..151", &csv_mm, 148500000, 2500000, 2500000, false },
	{ "0 mm +-1", &zero, 0, 1000000, 1000000, false },
};

static void requirements_have_their_limits(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(requirements); i++) {
		struct km_span got = untouched, want = { requirements[i].nm,
			requirements[i].minus, requirements[i].plus };
		bool assumed = !requirements[i].assumed;
		int fault = (int)km_requirement_parse(
			km_slice_of(requirements[i].text),
			requirements[i].rules, &got, &assumed);

		if (fault || !same(got, want)
		    || assumed != requirements[i].assumed)
			fail_msg("%s: fault %d, %" PRId64 " nm +%" PRId32
				 "/-%" PRId32, requirements[i].text, fault,
				 got.nm, got.plus_nm, got.minus_nm);
	}
}

static const struct { const char *text; enum km_length_fault fault; }
wrong_limits[] = {
	{ "148 mm +-", KM_LENGTH_TOLERANCE },
	{ "148 mm +-x", KM_LENGTH_TOLERANCE },
	{ "148 mm +--3", KM_LENGTH_TOLERANCE },
	{ "148 mm +5", KM_LENGTH_TOLERANCE },
	{ "148 mm +5/3", KM_LENGTH_TOLERANCE },
	{ "148 mm -3", KM_LENGTH_TOLERANCE },
	{ "148 mm +-1/0", KM_LENGTH_TOLERANCE },
	{ "148 mm +-3 m", KM_LENGTH_TOLERANCE },	/* more than 2^31 nm */
	{ "148 mm +-999 m", KM_LENGTH_TOLERANCE },
	{ "151..146 mm", KM_LENGTH_TOLERANCE },
	{ "146.. mm", KM_LENGTH_TOLERANCE },
	{ "1..50 m", KM_LENGTH_TOLERANCE },
	{ "146..101000 mm", KM_LENGTH_RANGE },
	{ "148 mm +-1/3", KM_LENGTH_NOT_EXACT },
	{ "148 mm +-2,5", KM_LENGTH_COMMA },
	{ "148 mm +-3 or so", KM_LENGTH_TRAILING },
	{ "148 mm about", KM_LENGTH_TRAILING },
	{ "146..148..151 mm", KM_LENGTH_TRAILING },
	{ "148 mm - long", KM_LENGTH_TRAILING },
	{ "148 +-3", KM_LENGTH_NO_UNIT },
	{ "146..151", KM_LENGTH_NO_UNIT },
	{ "148", KM_LENGTH_NO_UNIT },
	{ "0 mm +-1", KM_LENGTH_ZERO },
	{ "-148 mm +-1", KM_LENGTH_NEGATIVE },
	{ "+-3 mm", KM_LENGTH_NO_NUMBER },
};

static void wrong_limits_have_their_fault(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(wrong_limits); i++) {
		struct km_span got = untouched;
		bool assumed = true;
		int fault = (int)km_requirement_parse(
			km_slice_of(wrong_limits[i].text), &strict, &got,
			&assumed);

		if (fault != (int)wrong_limits[i].fault)
			fail_msg("'%s': fault %d, not %d",
				 wrong_limits[i].text, fault,
				 (int)wrong_limits[i].fault);
		assert_true(same(got, untouched));
		assert_true(assumed);
	}
}

/* No beginning of a good text, nor a good text with any one byte changed,
 * may do harm; what is taken lies within the bounds. */
static void nothing_read_leaves_the_bounds(void **state)
{
	static const char bytes[] = "09.,/-+ \"'mx\xC2\xE2\xFF";
	size_t taken = 0;

	(void)state;
	for (size_t i = 0; i < COUNT(requirements); i++) {
		char text[64];
		size_t n = strlen(requirements[i].text);

		for (size_t at = 0; at < n; at++) {
			for (size_t k = 0; k < sizeof bytes; k++) {
				struct km_span got;
				bool assumed;

				memcpy(text, requirements[i].text, n);
				text[at] = bytes[k];
				if (km_requirement_parse(
					(struct km_slice){ text, n },
					requirements[i].rules, &got, &assumed))
					continue;
				taken++;
				assert_true(got.nm >= 0
					    && got.nm <= KM_LEN_MAX_NM);
				assert_true(got.plus_nm >= 0
					    && got.minus_nm >= 0);
			}
		}
	}
	assert_true(taken > 0);
}

static void closed_intervals_touch(void **state)
{
	struct km_span want = { 148000000, 3000000, 3000000 };	/* 145..151 */
	struct km_span at_151 = { 151500000, 500000, 500000 };	/* 151..152 */
	struct km_span past = { 151500001, 500000, 500000 };
	struct km_span at_145 = { 144500000, 500000, 500000 };
	struct km_span short_of = { 144499999, 500000, 500000 };
	struct km_span within = { 148000000, 0, 0 };

	(void)state;
	assert_true(km_span_meets(want, at_151) && km_span_meets(at_151, want));
	assert_false(km_span_meets(want, past) || km_span_meets(past, want));
	assert_true(km_span_meets(want, at_145) && km_span_meets(at_145, want));
	assert_false(km_span_meets(want, short_of)
		     || km_span_meets(short_of, want));
	assert_true(km_span_meets(want, within) && km_span_meets(within, want));
}

/* ------------------------------------------------------------------ */

static const struct {
	int64_t nm;
	int places;
	const char *text, *fixed;
} printed[] = {
	{ 148000000, 1, "148", "148.0" },
	{ 13500000, 2, "13.5", "13.50" },
	{ 13335000, 3, "13.335", "13.335" },
	{ 13335000, 2, "13.34", "13.34" },	/* 13.335: half goes away */
	{ 13334999, 2, "13.33", "13.33" },
	{ 11112500, 6, "11.1125", "11.112500" },
	{ 165100000, 0, "165", "165" },
	{ 165500000, 0, "166", "166" },
	{ 99950000, 1, "100", "100.0" },	/* 99.95 */
	{ 5000, 2, "0.01", "0.01" },		/* 0.005 */
	{ 4999, 2, "0", "0.00" },
	{ -4999, 2, "0", "0.00" },		/* no minus before nothing */
	{ -5000, 2, "-0.01", "-0.01" },
	{ -1250000, 1, "-1.3", "-1.3" },
	{ 0, 3, "0", "0.000" },
	{ 100000000, 0, "100", "100" },
	/* 2^63 - 1 nm = 9 223 372 036 854.775807 mm */
	{ INT64_MAX, 6, "9223372036854.775807", "9223372036854.775807" },
	{ INT64_MIN, 6, "-9223372036854.775808", "-9223372036854.775808" },
};

static void millimetres_are_printed_rounded(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	for (size_t i = 0; i < COUNT(printed); i++) {
		km_buf_clear(&b);
		km_buf_mm(&b, printed[i].nm, printed[i].places);
		assert_string_equal(b.text, printed[i].text);
		km_buf_clear(&b);
		km_buf_mm_fixed(&b, printed[i].nm, printed[i].places);
		assert_string_equal(b.text, printed[i].fixed);
	}
	km_arena_free(a);
}

static void spans_are_printed_exactly(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	km_buf_span(&b, (struct km_span){ 165000000, 3000000, 3000000 });
	km_buf_str(&b, "; ");
	km_buf_span(&b, (struct km_span){ 100000000, 0, 5000000 });
	km_buf_str(&b, "; ");
	km_buf_span(&b, (struct km_span){ 11112500, 793750, 793750 });
	assert_string_equal(b.text, "165 +-3; 100 +5/-0; 11.1125 +-0.79375");
	km_arena_free(a);
}

/* A printed requirement, read again, is the same requirement. */
static void printed_spans_come_back(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	for (int64_t nm = 1; nm < KM_MM(2000); nm = nm * 3 + 1) {
		struct km_span want = { nm, (int32_t)(nm / 7),
					(int32_t)(nm % 1000) }, got;
		bool assumed = true;

		km_buf_clear(&b);
		km_buf_span(&b, want);
		assert_int_equal(km_requirement_parse(
			(struct km_slice){ b.text, b.len }, &csv_mm, &got,
			&assumed), 0);
		assert_true(same(got, want));
		assert_false(assumed);
	}
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(readings_are_exact),
		cmocka_unit_test(each_mistake_has_its_fault),
		cmocka_unit_test(inches_are_never_rounded),
		cmocka_unit_test(requirements_have_their_limits),
		cmocka_unit_test(wrong_limits_have_their_fault),
		cmocka_unit_test(nothing_read_leaves_the_bounds),
		cmocka_unit_test(closed_intervals_touch),
		cmocka_unit_test(millimetres_are_printed_rounded),
		cmocka_unit_test(spans_are_printed_exactly),
		cmocka_unit_test(printed_spans_come_back),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
