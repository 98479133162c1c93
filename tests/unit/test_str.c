/* SPDX-License-Identifier: MIT */
/* Slices, UTF-8, folding and the order of ids. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

#include "base/str.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static struct km_slice of(const char *s)
{
	return km_slice_of(s);
}

static void slices_are_eaten_from_the_front(void **state)
{
	struct km_slice s = of(" \t5 Inch, x \t");

	(void)state;
	s = km_slice_trim(s);
	assert_true(km_slice_is(s, "5 Inch, x"));
	assert_false(km_slice_is(s, "5 inch, x"));
	assert_false(km_slice_is(s, "5 Inch, x "));
	assert_false(km_slice_eat(&s, '6'));
	assert_true(km_slice_eat(&s, '5'));
	km_slice_skip_blanks(&s);
	assert_false(km_slice_eat_word(&s, "inches"));
	assert_true(km_slice_eat_word(&s, "INCH"));
	assert_true(km_slice_is(s, ", x"));
	s.n = 0;
	assert_false(km_slice_eat(&s, ','));
	assert_false(km_slice_eat_word(&s, ","));
	assert_true(km_slice_eat_word(&s, ""));
	assert_int_equal(km_slice_trim(of(" \t ")).n, 0);
}

/* ------------------------------------------------------------------ */

/*
 * SOURCE utf-8-7: bits of the code point fill 0xxxxxxx, 110xxxxx and one
 * 10xxxxxx, 1110xxxx and two, 11110xxx and three.  U+00A9 and U+2260 are its
 * examples; worked by hand:
 *   U+00BD  00010 111101             C2 BD
 *   U+2262  0010 001001 100010       E2 89 A2
 *   U+233B4 000 100011 001110 110100 F0 A3 8E B4
 * and the first and last of each length.
 */
static const struct { uint32_t code; const char *bytes; } utf8_rows[] = {
	{ 0x41, "A" },		{ 0x7F, "\x7F" },
	{ 0x80, "\xC2\x80" },	{ 0xA9, "\xC2\xA9" },
	{ 0x2260, "\xE2\x89\xA0" }, { 0xBD, "\xC2\xBD" },
	{ 0x7FF, "\xDF\xBF" },	{ 0x800, "\xE0\xA0\x80" },
	{ 0x2262, "\xE2\x89\xA2" }, { 0xD7FF, "\xED\x9F\xBF" },
	{ 0xE000, "\xEE\x80\x80" }, { 0xFFFF, "\xEF\xBF\xBF" },
	{ 0x10000, "\xF0\x90\x80\x80" }, { 0x233B4, "\xF0\xA3\x8E\xB4" },
	{ 0x10FFFF, "\xF4\x8F\xBF\xBF" },
};

static void code_points_are_read_and_written(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(utf8_rows); i++) {
		struct km_slice s = of(utf8_rows[i].bytes);
		char out[4];

		assert_int_equal(km_utf8_put(utf8_rows[i].code, out), s.n);
		assert_memory_equal(out, s.p, s.n);
		assert_int_equal(km_utf8_next(&s), utf8_rows[i].code);
		assert_int_equal(s.n, 0);
	}
}

/* SOURCE utf-8-7: overlong forms, surrogates, values past
 * U+10FFFF, lone and missing continuation bytes are not UTF-8. */
static const char *const bad_utf8[] = {
	"\x80", "\xBF", "\xC0\x80", "\xC1\xBF", "\xC2", "\xC2\x41",
	"\xE0\x80\x80", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xED\xBF\xBF",
	"\xE2\x89", "\xE2\x41\x80", "\xF0\x80\x80\x80", "\xF0\x8F\xBF\xBF",
	"\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xF8\x88\x80\x80\x80",
	"\xF0\x9F\x98", "\xFE", "\xFF",
};

static void what_is_not_utf8_costs_one_byte(void **state)
{
	struct km_slice none = { "", 0 };

	(void)state;
	for (size_t i = 0; i < COUNT(bad_utf8); i++) {
		struct km_slice s = of(bad_utf8[i]);
		size_t n = s.n;

		if (km_utf8_next(&s) != -1 || s.n != n - 1)
			fail_msg("row %zu", i);
	}
	assert_int_equal(km_utf8_next(&none), -1);
	assert_int_equal(none.n, 0);
}

/* How many sequences of n bytes, the later ones from 80 to BF, are taken
 * whole?  Each must be what km_utf8_put() writes. */
static size_t whole_sequences(size_t n, unsigned lead_from)
{
	size_t good = 0;

	for (unsigned lead = lead_from; lead <= 0xFF; lead++) {
		for (uint32_t rest = 0; rest >> 6 * (n - 1) == 0; rest++) {
			char bytes[4] = { (char)lead }, back[4];
			struct km_slice s = { bytes, n };
			int32_t code;

			for (size_t k = 1; k < n; k++)
				bytes[k] = (char)(0x80
					| (rest >> 6 * (n - 1 - k) & 0x3F));
			code = km_utf8_next(&s);
			if (code < 0 || s.n)
				continue;
			good++;
			assert_int_equal(km_utf8_put((uint32_t)code, back), n);
			assert_memory_equal(back, bytes, n);
		}
	}
	return good;
}

/* SOURCE utf-8-7: U+0080 to 07FF take two bytes, to FFFF three
 * less the 2048 surrogates, to 10FFFF four. */
static void every_sequence_is_judged(void **state)
{
	(void)state;
	assert_int_equal(whole_sequences(2, 0x80), 0x800 - 0x80);
	assert_int_equal(whole_sequences(3, 0xE0), 0x10000 - 0x800 - 0x800);
	assert_int_equal(whole_sequences(4, 0xF0), 0x110000 - 0x10000);
}

static void code_points_are_counted(void **state)
{
	static const char text[] = "6\u00bd\u2033 \u4e2d\U0001F527 and more \u00e9";
	struct km_slice s;
	size_t n, count;

	(void)state;
	/* 6 1/2 " blank zhong wrench, " and more ", e-acute */
	assert_int_equal(km_utf8_count(text, strlen(text)), 6 + 10 + 1);
	assert_int_equal(km_utf8_count("", 0), 0);
	/* at every start, so that words of eight bytes fall everywhere */
	for (size_t i = 0; i < strlen(text); i++) {
		s = of(text + i);
		if (((unsigned char)*s.p & 0xC0) == 0x80)
			continue;
		n = s.n;
		for (count = 0; s.n; count++)
			assert_true(km_utf8_next(&s) >= 0);
		assert_int_equal(km_utf8_count(text + i, n), count);
	}
}

/* SOURCE unicode-ucd, UnicodeData (Mn, Me) and EastAsianWidth (W, F). */
static const struct { const char *text; size_t cells; } cell_rows[] = {
	{ "", 0 },
	{ "plain text", 10 },
	{ "6\u00bd\u2033", 3 },		/* A, A and A: not wide */
	{ "e\u0301", 1 },		/* U+0301 Mn */
	{ "\u20dd", 0 },		/* U+20DD Me */
	{ "\u4e2d\u6587", 4 },		/* W */
	{ "\uff21", 2 },		/* U+FF21 F */
	{ "\uff71", 1 },		/* U+FF71 H, halfwidth */
	{ "\uac00", 2 },		/* first Hangul syllable, W */
	{ "\U0001F527", 2 },		/* wrench, W */
	{ "\U00020000", 2 },		/* ideograph of plane 2, W */
	{ "\u0300\u036f", 0 },		/* the first range: both ends */
	{ "\u02ff\u0370", 2 },		/* beside it */
	{ "\xFF", 1 },			/* invalid */
};

static void cells_are_those_of_the_terminal(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(cell_rows); i++)
		if (km_utf8_cells(cell_rows[i].text, strlen(cell_rows[i].text))
		    != cell_rows[i].cells)
			fail_msg("row %zu", i);
}

/* ------------------------------------------------------------------ */

static const struct { const char *a, *b; int order; } fold_rows[] = {
	{ "box end", "Box-End", 0 },
	{ "box end", " BOX__-\tend ", 0 },
	{ "box end", "boxend", -1 },
	{ "", "", 0 },
	{ "", " -_\t", 0 },
	{ "", "a", -1 },
	{ "a", "a b", -1 },
	{ "a b", "ab", -1 },
	{ "a-", "a", 0 },
	{ "ring", "RINGS", -1 },
	{ "zinc", "\u00e9", -1 },		/* bytes past ASCII come last */
	{ "\u00e9", "\u00c9", 1 },		/* and keep their case */
	{ "[", "a", -1 },			/* 5B beside the capitals */
	{ "@", "A", -1 },			/* 40 beside them */
};

static int sign(int v)
{
	return (v > 0) - (v < 0);
}

static void words_are_compared_folded(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(fold_rows); i++) {
		struct km_slice a = of(fold_rows[i].a), b = of(fold_rows[i].b);

		if (sign(km_fold_compare(a, b)) != fold_rows[i].order
		    || sign(km_fold_compare(b, a)) != -fold_rows[i].order)
			fail_msg("%s, %s", a.p, b.p);
		assert_int_equal(km_fold_hash(a) == km_fold_hash(b),
				 !fold_rows[i].order);
	}
}

/* Equal words have equal hashes, and both tell the same, for every text of
 * up to five letters out of four. */
static void folding_and_hash_agree(void **state)
{
	static const char letters[] = "aB- ";
	char text[1024][6];
	size_t n = 0;

	(void)state;
	for (size_t i = 0; i < 1024; i++, n++) {
		for (size_t k = 0; k < 5; k++)
			text[n][k] = letters[i >> 2 * k & 3];
		text[n][5] = '\0';
	}
	for (size_t i = 0; i < n; i += 3)
		for (size_t j = 0; j < n; j += 7)
			assert_int_equal(
				!km_fold_compare(of(text[i]), of(text[j])),
				km_fold_hash(of(text[i]))
					== km_fold_hash(of(text[j])));
}

static void words_are_found_whole(void **state)
{
	(void)state;
	assert_true(km_fold_has_words(of("Made by LARKMOOR, 54-701"),
				      of("larkmoor")));
	assert_true(km_fold_has_words(of("LARKMOOR  54-701"),
				      of("larkmoor 54 701")));
	assert_true(km_fold_has_words(of("LM/5"), of("lm")));
	assert_true(km_fold_has_words(of("LMS LM"), of("LM")));
	assert_true(km_fold_has_words(of("(LM)"), of("(LM)")));
	assert_true(km_fold_has_words(of("x(LM)x"), of("(LM)")));
	assert_false(km_fold_has_words(of("LMS"), of("LM")));
	assert_false(km_fold_has_words(of("ALM"), of("LM")));
	assert_false(km_fold_has_words(of("54-701A"), of("54-701")));
	assert_false(km_fold_has_words(of("LM\u00e9"), of("LM")));
	assert_false(km_fold_has_words(of("LM"), of("LM 5")));
	assert_false(km_fold_has_words(of("LM"), of(" - ")));
	assert_false(km_fold_has_words(of(""), of("LM")));
}

/* One byte more, less or other gives another hash, at every length around
 * the words of eight bytes. */
static void hashes_see_every_byte(void **state)
{
	char text[40];

	(void)state;
	memset(text, 'a', sizeof text);
	for (size_t n = 1; n < sizeof text; n++) {
		uint64_t h = km_hash(text, n);
		struct km_slice s = { text, n };
		uint64_t f = km_fold_hash(s);

		assert_true(h != km_hash(text, n - 1));
		for (size_t i = 0; i < n; i++) {
			text[i] = 'b';
			assert_true(km_hash(text, n) != h);
			assert_true(km_fold_hash(s) != f);
			text[i] = 'a';
		}
		assert_true(km_hash(text, n) == h);
	}
	text[0] = '\0';
	assert_true(km_hash(text, 1) != km_hash(text, 0));
}

/* 65536 ids in a table of as many places: were they scattered at random,
 * 1 - 1/e = 63 % of the places would be taken, give or take 0.2 %. */
static void hashes_scatter_ids(void **state)
{
	static unsigned char taken[2][65536];
	size_t places[2] = { 0, 0 };

	(void)state;
	for (unsigned i = 0; i < 65536; i++) {
		char id[8] = { 'T', '-' };
		uint64_t h[2];

		for (unsigned k = 0, v = i; k < 5; k++, v /= 10)
			id[6 - k] = (char)('0' + v % 10);
		h[0] = km_hash(id, 7);
		h[1] = km_case_hash(id);
		for (size_t k = 0; k < 2; k++)
			places[k] += !taken[k][h[k] & 65535]++;
	}
	for (size_t k = 0; k < 2; k++)
		assert_in_range(places[k], 65536 * 60 / 100, 65536);
}

static void ids_are_compared_without_case(void **state)
{
	(void)state;
	assert_int_equal(km_case_compare("T-1a", "t-1A"), 0);
	assert_true(km_case_compare("T-1", "T_1") < 0);	/* 2D, 5F */
	assert_true(km_case_compare("T-1", "T-10") < 0);
	assert_true(km_case_compare("T-10", "T-1") > 0);
	assert_true(km_case_hash("LongIdentifier-7")
		    == km_case_hash("longidentifier-7"));
	assert_true(km_case_hash("a-b") != km_case_hash("a_b"));
}

/* As people count; each row stands before the next. */
static const char *const natural[] = {
	"", "-", "0", "00", "000", "1", "01", "1a", "01a", "1b", "2", "9", "10",
	"010", "99", "100", "18446744073709551615", "18446744073709551616",
	"T", "T-", "T-1", "T-01", "T-1-2", "T-1-02", "T-01-2", "T-1-03",
	"T-9", "T-10", "T-10.1", "T-10.2", "T-10.10", "T10", "t", "t-1",
	"\u00e9",
};

static void ids_are_in_the_order_people_count(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(natural); i++)
		for (size_t j = 0; j < COUNT(natural); j++)
			if (sign(km_natural_compare(natural[i], natural[j]))
			    != (i > j) - (i < j))
				fail_msg("'%s', '%s'", natural[i], natural[j]);
}

static int by_natural(const void *a, const void *b)
{
	return km_natural_compare(a, b);
}

/* Strict and total over all texts of 0 to 4 characters out of "01a": sorted
 * in a line, every pair agrees with its places. */
static void natural_order_is_total(void **state)
{
	static char text[121][5];
	size_t n = 1;		/* text[0] is empty */

	(void)state;
	for (size_t from = 0, to = 1; n < COUNT(text); from = to, to = n)
		for (size_t i = from; i < to; i++)
			for (size_t k = 0; k < 3; k++, n++) {
				strcpy(text[n], text[i]);
				text[n][strlen(text[i])] = "01a"[k];
			}
	assert_int_equal(n, 1 + 3 + 9 + 27 + 81);
	qsort(text, n, sizeof *text, by_natural);
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < n; j++)
			assert_int_equal(
				sign(km_natural_compare(text[i], text[j])),
				(i > j) - (i < j));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(slices_are_eaten_from_the_front),
		cmocka_unit_test(code_points_are_read_and_written),
		cmocka_unit_test(what_is_not_utf8_costs_one_byte),
		cmocka_unit_test(every_sequence_is_judged),
		cmocka_unit_test(code_points_are_counted),
		cmocka_unit_test(cells_are_those_of_the_terminal),
		cmocka_unit_test(words_are_compared_folded),
		cmocka_unit_test(folding_and_hash_agree),
		cmocka_unit_test(words_are_found_whole),
		cmocka_unit_test(hashes_see_every_byte),
		cmocka_unit_test(hashes_scatter_ids),
		cmocka_unit_test(ids_are_compared_without_case),
		cmocka_unit_test(ids_are_in_the_order_people_count),
		cmocka_unit_test(natural_order_is_total),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
