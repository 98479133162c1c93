/* SPDX-License-Identifier: MIT */
/* Money in minor units. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <inttypes.h>
#include <string.h>

#include "unit/money.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* SOURCE iso-4217, list one: the currencies without two decimals. */
static const struct { int decimals; const char *codes; } exceptions[] = {
	{ 0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF "
	     "XPF" },
	{ 3, "BHD IQD JOD KWD LYD OMR TND" },
	{ 4, "CLF UYW" },
};

static int listed_otherwise(const char *code)
{
	for (size_t i = 0; i < COUNT(exceptions); i++)
		if (strstr(exceptions[i].codes, code))
			return exceptions[i].decimals;
	return 2;
}

/* SOURCE iso-4217, list one: metals, bond market units, test and no currency
 * have no minor unit; funds are not paid in.  And what is no code at all. */
static const char *const no_codes[] = {
	"XAU", "XAG", "XPT", "XPD", "XBA", "XBB", "XBC", "XBD", "XDR", "XSU",
	"XUA", "XTS", "XXX", "BOV", "CHE", "CHW", "COU", "MXV", "USN",
	"gbp", "Gbp", "GB", "GBPX", "", "AAA", "ZZZ", "GBP ",
};

static void every_code_has_its_decimals(void **state)
{
	static const char *const two[] = { "AED", "AUD", "CAD", "CHF", "CZK",
		"DKK", "EUR", "GBP", "HUF", "INR", "NOK", "NZD", "PLN", "SEK",
		"USD", "ZAR" };

	(void)state;
	for (size_t i = 0; i < COUNT(two); i++)
		assert_int_equal(km_currency_decimals(two[i]), 2);
	for (size_t i = 0; i < COUNT(exceptions); i++) {
		for (const char *c = exceptions[i].codes; *c; c += c[3] ? 4 : 3) {
			char code[4] = { c[0], c[1], c[2], '\0' };

			assert_int_equal(km_currency_decimals(code),
					 exceptions[i].decimals);
		}
	}
	for (size_t i = 0; i < COUNT(no_codes); i++)
		if (km_currency_decimals(no_codes[i]) != -1)
			fail_msg("'%s' is no currency", no_codes[i]);
}

/* All 17576 words of three capitals: those found are the rows, in order. */
static void the_table_is_in_order_and_all_of_it_is_found(void **state)
{
	static const char *const rows[] = {
#define CURRENCY(code, decimals, source) code,
#include "data/currencies.def"
#undef CURRENCY
	};
	size_t found = 0;

	(void)state;
	for (int i = 0; i < 26 * 26 * 26; i++) {
		char code[4] = { (char)('A' + i / 676),
				 (char)('A' + i / 26 % 26),
				 (char)('A' + i % 26), '\0' };
		int decimals = km_currency_decimals(code);

		if (decimals < 0)
			continue;
		assert_true(found < COUNT(rows));
		assert_string_equal(code, rows[found++]);
		assert_int_equal(decimals, listed_otherwise(code));
	}
	assert_int_equal(found, COUNT(rows));
}

static const struct {
	const char *text;
	int decimals;
	bool comma;
	enum km_money_fault fault;
	int64_t minor;
} amounts[] = {
	{ "6.40", 2, 0, KM_MONEY_OK, 640 },
	{ " 6.40\t", 2, 0, KM_MONEY_OK, 640 },
	{ "6.4", 2, 0, KM_MONEY_OK, 640 },
	{ "12", 2, 0, KM_MONEY_OK, 1200 },
	{ "12.", 2, 0, KM_MONEY_OK, 1200 },
	{ ".50", 2, 0, KM_MONEY_OK, 50 },
	{ "0.00", 2, 0, KM_MONEY_OK, 0 },
	{ "12", 0, 0, KM_MONEY_OK, 12 },
	{ "12.345", 3, 0, KM_MONEY_OK, 12345 },
	{ "1.0001", 4, 0, KM_MONEY_OK, 10001 },
	{ "6,40", 2, 1, KM_MONEY_OK, 640 },
	/* 2^50 = 1 125 899 906 842 624: with two decimals 15 digits, and the
	 * largest that 15 digits reach */
	{ "9999999999999.99", 2, 0, KM_MONEY_OK, 999999999999999 },
	{ "11258999068426", 2, 0, KM_MONEY_OK, 1125899906842600 },
	{ "11258999068427", 2, 0, KM_MONEY_RANGE, 0 },
	{ "999999999999999", 0, 0, KM_MONEY_OK, 999999999999999 },
	{ "999999999999999", 2, 0, KM_MONEY_RANGE, 0 },
	{ "999999999999999", 4, 0, KM_MONEY_RANGE, 0 },
	{ "1000000000000000", 0, 0, KM_MONEY_RANGE, 0 },
	{ "12.345", 2, 0, KM_MONEY_DECIMALS, 0 },
	{ "12.000", 2, 0, KM_MONEY_DECIMALS, 0 },
	{ "12.5", 0, 0, KM_MONEY_DECIMALS, 0 },
	{ "12,345", 2, 1, KM_MONEY_DECIMALS, 0 },
	{ "-3", 2, 0, KM_MONEY_NEGATIVE, 0 },
	{ "-.50", 2, 0, KM_MONEY_NEGATIVE, 0 },
	{ "- 3", 2, 0, KM_MONEY_NEGATIVE, 0 },
	{ "\u22123", 2, 0, KM_MONEY_NEGATIVE, 0 },
	{ "6,40", 2, 0, KM_MONEY_COMMA, 0 },
	{ ",40", 2, 0, KM_MONEY_COMMA, 0 },
	{ "1,250.00", 2, 0, KM_MONEY_COMMA, 0 },
	{ "1,250.00", 2, 1, KM_MONEY_TRAILING, 0 },
	{ "1 250.00", 2, 0, KM_MONEY_TRAILING, 0 },
	{ "12 GBP", 2, 0, KM_MONEY_TRAILING, 0 },
	{ "1e3", 2, 0, KM_MONEY_TRAILING, 0 },
	{ "1/2", 2, 0, KM_MONEY_TRAILING, 0 },
	{ "", 2, 0, KM_MONEY_NO_NUMBER, 0 },
	{ "-", 2, 0, KM_MONEY_NO_NUMBER, 0 },
	{ "GBP 12", 2, 0, KM_MONEY_NO_NUMBER, 0 },
	{ "+12", 2, 0, KM_MONEY_NO_NUMBER, 0 },
	{ ".", 2, 0, KM_MONEY_NO_NUMBER, 0 },
};

static void amounts_are_read_exactly(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(amounts); i++) {
		int64_t got = -7;
		int fault = (int)km_money_parse(km_slice_of(amounts[i].text),
					   amounts[i].decimals,
					   amounts[i].comma, &got);

		if (fault != (int)amounts[i].fault
		    || got != (fault ? -7 : amounts[i].minor))
			fail_msg("'%s': fault %d, %" PRId64, amounts[i].text,
				 fault, got);
	}
}

static const struct { int64_t minor; int decimals; const char *text; }
printed[] = {
	{ 640, 2, "6.40" }, { 0, 2, "0.00" }, { 5, 2, "0.05" },
	{ 100, 2, "1.00" }, { -5, 2, "-0.05" }, { -12345, 2, "-123.45" },
	{ 12, 0, "12" }, { 0, 0, "0" }, { 1200, 0, "1200" },
	{ 12345, 3, "12.345" }, { 1, 4, "0.0001" },
	{ INT64_MAX, 2, "92233720368547758.07" },
	{ INT64_MIN, 0, "-9223372036854775808" },
	{ INT64_MIN, 4, "-922337203685477.5808" },
};

static void amounts_have_the_decimals_of_the_currency(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	for (size_t i = 0; i < COUNT(printed); i++) {
		km_buf_clear(&b);
		km_buf_money(&b, printed[i].minor, printed[i].decimals);
		assert_string_equal(b.text, printed[i].text);
	}
	km_arena_free(a);
}

static void printed_amounts_come_back(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	struct km_buf b;

	(void)state;
	km_buf_init(&b, a);
	for (int decimals = 0; decimals <= 4; decimals++) {
		for (int64_t v = 0; v < 999999999999; v = v * 3 + 1) {
			int64_t got = -1;

			km_buf_clear(&b);
			km_buf_money(&b, v, decimals);
			assert_int_equal(km_money_parse(
				(struct km_slice){ b.text, b.len }, decimals,
				false, &got), KM_MONEY_OK);
			assert_int_equal(got, v);
		}
	}
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_code_has_its_decimals),
		cmocka_unit_test(the_table_is_in_order_and_all_of_it_is_found),
		cmocka_unit_test(amounts_are_read_exactly),
		cmocka_unit_test(amounts_have_the_decimals_of_the_currency),
		cmocka_unit_test(printed_amounts_come_back),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
