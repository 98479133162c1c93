/* SPDX-License-Identifier: MIT */
/* Serial numbers with and without letters.  Values by hand. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "unit/serial.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static void a_pattern_has_digits(void **state)
{
	static const char *const good[] = {
		"#", "LM####", "54/####", "###############", "A-# #.B",
		"####B", "L 1 ##",
	};
	static const char *const bad[] = {
		"", "LM", "1001", "################", "LM_###", "LM####\"",
		"L\xc3\x9c###", "0123456789012345678901234567890123456789#",
	};

	(void)state;
	for (size_t i = 0; i < COUNT(good); i++)
		if (!km_serial_pattern_ok(km_slice_of(good[i])))
			fail_msg("'%s'", good[i]);
	for (size_t i = 0; i < COUNT(bad); i++)
		if (km_serial_pattern_ok(km_slice_of(bad[i])))
			fail_msg("'%s'", bad[i]);
}

static const struct { const char *pattern, *text; int64_t number; } counted[] = {
	{ NULL, "4417", 4417 }, { NULL, "004417", 4417 }, { NULL, "0", 0 },
	{ NULL, "999999999999999", 999999999999999 },
	{ NULL, "1000000000000000", -1 }, { NULL, "LM4417", -1 },
	{ NULL, "", -1 }, { NULL, "-1", -1 }, { NULL, "44.17", -1 },
	{ "LM####", "LM4417", 4417 }, { "LM####", "lm0417", 417 },
	{ "lm####", "LM4417", 4417 }, { "LM####", "LX4417", -1 },
	{ "LM####", "LM441", -1 }, { "LM####", "LM44170", -1 },
	{ "LM####", "LM44X7", -1 }, { "LM####", "4417", -1 },
	{ "LM####", "LM4417 ", -1 }, { "LM####", "", -1 },
	{ "54/###", "54/007", 7 }, { "##A##", "12A34", 1234 },
	{ "###############", "999999999999999", 999999999999999 },
};

static void letters_do_not_count(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(counted); i++)
		if (km_serial_number(counted[i].pattern,
				     km_slice_of(counted[i].text)) !=
		    counted[i].number)
			fail_msg("'%s' by '%s'", counted[i].text,
				 counted[i].pattern ? counted[i].pattern : "");
}

static void a_number_is_written_by_its_pattern(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	assert_non_null(mem);
	km_buf_init(&b, mem);
	km_buf_serial(&b, "LM####", 417);
	km_buf_char(&b, ' ');
	km_buf_serial(&b, "##A##", 1234);
	km_buf_char(&b, ' ');
	km_buf_serial(&b, NULL, 417);
	assert_string_equal(b.text, "LM0417 12A34 417");
	km_arena_free(mem);
}

static struct km_machine numbered(int64_t serial, const char *text)
{
	return (struct km_machine){ .serial = serial, .serial_text = text };
}

/* From 101, or from a number between 90 and 101; to between 8000 and 8200. */
static void a_fuzzy_end_has_two_numbers(void **state)
{
	static const struct { int64_t n; enum km_serial_place at; int64_t by; }
	at[] = {
		{ 0, KM_SERIAL_OUTSIDE, 90 }, { 89, KM_SERIAL_OUTSIDE, 1 },
		{ 90, KM_SERIAL_FUZZY, 0 }, { 100, KM_SERIAL_FUZZY, 0 },
		{ 101, KM_SERIAL_INSIDE, 0 }, { 8000, KM_SERIAL_INSIDE, 0 },
		{ 8001, KM_SERIAL_FUZZY, 0 }, { 8200, KM_SERIAL_FUZZY, 0 },
		{ 8201, KM_SERIAL_OUTSIDE, 1 }, { 8262, KM_SERIAL_OUTSIDE, 62 },
	};
	struct km_serials s = { .from_earliest = 90, .from_latest = 101,
				.to_earliest = 8000, .to_latest = 8200,
				.given = true };

	(void)state;
	for (size_t i = 0; i < COUNT(at); i++) {
		struct km_machine m = numbered(at[i].n, NULL);

		assert_int_equal(km_serial_place(&s, &m), at[i].at);
		assert_int_equal(km_serial_outside(&s, at[i].n), at[i].by);
	}
}

static void what_is_not_known_is_nowhere(void **state)
{
	struct km_serials none = { .given = false };
	struct km_serials open = { .given = true, .open_start = true,
				   .open_end = true };
	struct km_serials letters = { .from_earliest = 1, .from_latest = 1,
				      .to_earliest = 9, .to_latest = 9,
				      .given = true, .pattern = "LM#" };
	struct km_machine m = numbered(5, "5"), unknown = numbered(-1, NULL);
	struct km_machine lm = numbered(-1, "LM5");

	(void)state;
	assert_int_equal(km_serial_place(&none, &m), KM_SERIAL_UNKNOWN);
	assert_int_equal(km_serial_place(&open, &unknown), KM_SERIAL_UNKNOWN);
	assert_int_equal(km_serial_place(&open, &m), KM_SERIAL_INSIDE);
	assert_int_equal(km_serial_place(&letters, &lm), KM_SERIAL_INSIDE);
	assert_int_equal(km_serial_place(&letters, &m), KM_SERIAL_OTHER_FORM);
	assert_int_equal(km_serial_place(&open, &lm), KM_SERIAL_OTHER_FORM);
	assert_int_equal(km_serial_outside(&letters, -1), 0);
}

static void machines_are_in_order(void **state)
{
	struct km_machine m[] = { numbered(-1, NULL), numbered(-1, "LM2"),
				  numbered(-1, "LM10"), numbered(7, NULL),
				  numbered(7, "7"), numbered(8, "8") };

	(void)state;
	for (int i = 0; i < (int)COUNT(m); i++)
		for (int j = 0; j < (int)COUNT(m); j++) {
			int c = km_serial_compare(&m[i], &m[j]);

			assert_int_equal((c > 0) - (c < 0), (i > j) - (i < j));
		}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_pattern_has_digits),
		cmocka_unit_test(letters_do_not_count),
		cmocka_unit_test(a_number_is_written_by_its_pattern),
		cmocka_unit_test(a_fuzzy_end_has_two_numbers),
		cmocka_unit_test(what_is_not_known_is_nowhere),
		cmocka_unit_test(machines_are_in_order),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
