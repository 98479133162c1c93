/* SPDX-License-Identifier: MIT */
/*
 * Sizes as they are struck and written.  The letters of the systems and their
 * meaning are common practice [british-spanner-pages, iso-8764,
 * jis-b-4633-1991]; inch widths are arithmetic, 1 in = 25.4 mm.
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

/* A drive by its name, or NULL for "". */
static struct km_size_rules rules_for(const char *drive)
{
	return (struct km_size_rules){
		.drive = km_drive_find(km_slice_of(drive))
	};
}

static enum km_size_fault parse(const char *drive, const char *text,
				struct km_size *s)
{
	struct km_size_rules rules = rules_for(drive);

	return km_size_parse(km_slice_of(text), &rules, mem, s);
}

static struct km_size size(const char *drive, const char *text)
{
	struct km_size s;

	assert_int_equal(parse(drive, text, &s), KM_SIZE_OK);
	return s;
}

struct spelling {
	const char *drive, *written, *printed;
	enum km_system system;
	int64_t nominal_nm, b_nm;
};

static void check(const struct spelling *v, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		struct km_size s = size(v[i].drive, v[i].written);

		assert_string_equal(s.text, v[i].printed);
		assert_int_equal(s.system, v[i].system);
		assert_int_equal(s.nominal_nm, v[i].nominal_nm);
		assert_int_equal(s.b_nm, v[i].b_nm);
	}
}

static void every_spelling_of_a_jaw_is_read(void **state)
{
	/* 5/16 in = 7.9375 mm; 7/16 in = 11.1125 mm; 1-1/8 in = 28.575 mm;
	 * 0.525 in = 13.335 mm and 0.600 in = 15.24 mm [bs-1083-1965];
	 * 0.324 in = 8.2296 mm [ba-article] */
	static const struct spelling v[] = {
		{ "hexagon", "13", "13 mm", KM_SYS_METRIC, 13000000, 0 },
		{ "hexagon", "13 mm", "13 mm", KM_SYS_METRIC, 13000000, 0 },
		{ "hexagon", " 13MM ", "13 mm", KM_SYS_METRIC, 13000000, 0 },
		{ "hexagon", "5.5", "5.5 mm", KM_SYS_METRIC, 5500000, 0 },
		{ "hexagon", "SW 13", "13 mm", KM_SYS_METRIC, 13000000, 0 },
		{ "hexagon", "7/16 AF", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "7/16 a/f", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "7/16 in", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "7/16\"", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "7/16\xE2\x80\xB3", "7/16 AF", KM_SYS_AF,
		  11112500, 0 },
		{ "hexagon", "7/16\xE2\x80\xB2\xE2\x80\xB2", "7/16 AF",
		  KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "7/16\xE2\x80\x9D AF", "7/16 AF", KM_SYS_AF,
		  11112500, 0 },
		{ "hexagon", ".4375 in", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "14/32 AF", "7/16 AF", KM_SYS_AF, 11112500, 0 },
		{ "hexagon", "\xC2\xBD AF", "1/2 AF", KM_SYS_AF, 12700000, 0 },
		{ "hexagon", "1 1/8 AF", "1-1/8 AF", KM_SYS_AF, 28575000, 0 },
		{ "hexagon", "1-1/8 AF", "1-1/8 AF", KM_SYS_AF, 28575000, 0 },
		{ "hexagon", "1 AF", "1 AF", KM_SYS_AF, 25400000, 0 },
		{ "hexagon", ".525\"", "0.525 in", KM_SYS_AF, 13335000, 0 },
		{ "hexagon", "1/4W", "1/4 W", KM_SYS_W, 13335000, 0 },
		{ "hexagon", "1/4 WHIT", "1/4 W", KM_SYS_W, 13335000, 0 },
		{ "hexagon", "1/4 BSW", "1/4 W", KM_SYS_W, 13335000, 0 },
		{ "hexagon", "5/16\xE2\x80\xB3 W", "5/16 W", KM_SYS_W,
		  15240000, 0 },
		{ "hexagon", "5/16 BS", "5/16 BS", KM_SYS_BS, 13335000, 0 },
		{ "hexagon", "5/16 bsf", "5/16 BS", KM_SYS_BS, 13335000, 0 },
		{ "hexagon", "2BA", "2 BA", KM_SYS_BA, 8229600, 0 },
		{ "hexagon", "2 B.A.", "2 BA", KM_SYS_BA, 8229600, 0 },
		{ "hexagon", "M8", "M8", KM_SYS_THREAD, 0, 8000000 },
		{ "", "13 mm", "13 mm", KM_SYS_METRIC, 13000000, 0 },
	};

	(void)state;
	check(v, LENGTH(v));
}

static void every_other_form_is_read(void **state)
{
	static const struct spelling v[] = {
		{ "slotted", "0.8 x 5.5 mm", "0.8 x 5.5 mm", KM_SYS_SLOTTED,
		  800000, 5500000 },
		{ "slotted", "0.8x5.5", "0.8 x 5.5 mm", KM_SYS_SLOTTED,
		  800000, 5500000 },
		{ "slotted", "0.8 mm \xC3\x97 5.5 mm", "0.8 x 5.5 mm",
		  KM_SYS_SLOTTED, 800000, 5500000 },
		{ "cross", "PH2", "PH 2", KM_SYS_PH, 0, 0 },
		{ "cross", "pz 1", "PZ 1", KM_SYS_PZ, 0, 0 },
		{ "cross", "JIS 2", "JIS H 2", KM_SYS_JIS_H, 0, 0 },
		{ "cross", "JIS H 2", "JIS H 2", KM_SYS_JIS_H, 0, 0 },
		{ "cross", "JIS S", "JIS S", KM_SYS_JIS_S, 0, 0 },
		{ "hex-socket", "5", "5 mm", KM_SYS_KEY_METRIC, 5000000, 0 },
		{ "hex-socket", "3/16 AF", "3/16 in", KM_SYS_KEY_INCH,
		  4762500, 0 },
		{ "plug", "21", "21 mm", KM_SYS_PLUG, 20800000, 0 },
		{ "plug", "13/16", "13/16 AF", KM_SYS_PLUG, 20800000, 0 },
		{ "plug", "10 mm", "10 mm", KM_SYS_METRIC, 10000000, 0 },
		{ "square", "1/2", "1/2 in", KM_SYS_SQUARE, 12700000, 0 },
		{ "hook", "45-50 mm", "45-50 mm", KM_SYS_HOOK, 45000000,
		  50000000 },
		{ "hook", "45..50 mm", "45-50 mm", KM_SYS_HOOK, 45000000,
		  50000000 },
		{ "hook", "68", "68 mm", KM_SYS_HOOK, 68000000, 68000000 },
		{ "none", "0.05 mm", "0.05 mm", KM_SYS_BLADE, 50000, 0 },
		{ "none", ".010 in", "0.01 in", KM_SYS_BLADE, 254000, 0 },
	};

	(void)state;
	check(v, LENGTH(v));
	assert_int_equal(size("cross", "PH2").number, 2);
}

/* What is printed is read as the same size: nothing is lost in a round. */
static void what_is_printed_is_read_back(void **state)
{
	(void)state;
	for (uint32_t i = 0; i < book.n; i++) {
		struct km_size s = size("hexagon", book.v[i].text);

		assert_string_equal(s.text, book.v[i].text);
		assert_true(km_size_same(&s, &book.v[i]));
		assert_int_equal(s.opening.min_nm, book.v[i].opening.min_nm);
		assert_int_equal(s.head.min_nm, book.v[i].head.min_nm);
		assert_int_equal(s.bucket, book.v[i].bucket);
	}
}

static void what_is_wrong_has_a_name_of_its_own(void **state)
{
	static const struct {
		const char *drive, *text;
		enum km_size_fault fault;
	} v[] = {
		{ "hexagon", "", KM_SIZE_EMPTY },
		{ "hexagon", "  ", KM_SIZE_EMPTY },
		{ "hexagon", "big", KM_SIZE_NO_NUMBER },
		{ "hexagon", "-13", KM_SIZE_NO_NUMBER },
		{ "hexagon", "7/16", KM_SIZE_BARE_FRACTION },
		{ "hexagon", "1 1/8", KM_SIZE_BARE_FRACTION },
		{ "cross", "2", KM_SIZE_BARE_CROSS },
		{ "hexagon", ".525", KM_SIZE_NO_UNIT },
		{ "hexagon", "1/4 X", KM_SIZE_LETTERS },
		{ "hexagon", "13 furlongs", KM_SIZE_LETTERS },
		{ "hexagon", "99 BA", KM_SIZE_NOT_LISTED },
		{ "hexagon", "2 1/2 BA", KM_SIZE_NOT_LISTED },
		{ "hexagon", "9/32 W", KM_SIZE_NOT_LISTED },
		{ "cross", "PH 7", KM_SIZE_NOT_LISTED },
		{ "hexagon", "PH 2", KM_SIZE_WRONG_FORM },
		{ "cross", "13 mm", KM_SIZE_WRONG_FORM },
		{ "hex-socket", "1/4 W", KM_SIZE_WRONG_FORM },
		{ "hexagon", "10x12", KM_SIZE_PAIR },
		{ "hexagon", "12-14", KM_SIZE_PAIR },
		{ "hexagon", "1/4 W x 5/16 W", KM_SIZE_PAIR },
		{ "slotted", "5.5 mm", KM_SIZE_HALF },
		{ "hexagon", "1/4 W 3/8 BS", KM_SIZE_TWO_JAWS },
		{ "hexagon", "1/4 W 5/16 W", KM_SIZE_TWO_JAWS },
		{ "hexagon", "1/4 W 5/16", KM_SIZE_BARE_FRACTION },
		{ "hexagon", "13,5 mm", KM_SIZE_COMMA },
		{ "hexagon", "0 mm", KM_SIZE_RANGE },
		{ "hexagon", "1001 mm", KM_SIZE_RANGE },
		{ "hexagon", "1/3 in", KM_SIZE_RANGE },
		{ "hexagon", "999999999999999999999", KM_SIZE_RANGE },
		{ "hexagon", "1/0 AF", KM_SIZE_RANGE },
		{ "hook", "50-45 mm", KM_SIZE_RANGE },
		{ "hexagon", "13 mm left", KM_SIZE_TRAILING },
		{ "hexagon", "7/16 AF 2", KM_SIZE_TRAILING },
		{ "hexagon", "M8x1", KM_SIZE_PAIR },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(v); i++) {
		struct km_size s = { .number = 77 };

		assert_int_equal(parse(v[i].drive, v[i].text, &s), v[i].fault);
		assert_int_equal(s.number, 77);	/* out is untouched */
	}
}

static void a_comma_is_a_point_only_where_it_is_allowed(void **state)
{
	struct km_size_rules rules = rules_for("hexagon");
	struct km_size s;

	(void)state;
	rules.comma = true;
	assert_int_equal(km_size_parse(km_slice_of("13,34 mm"), &rules, mem,
				       &s), KM_SIZE_OK);
	assert_string_equal(s.text, "13.34 mm");
	assert_int_equal(s.nominal_nm, 13340000);
}

static void a_bare_number_takes_the_unit_of_its_column(void **state)
{
	struct km_size_rules rules = rules_for("hexagon");
	struct km_size s;

	(void)state;
	rules.bare = KM_UNIT_IN;
	assert_int_equal(km_size_parse(km_slice_of("7/16"), &rules, mem, &s),
			 KM_SIZE_OK);
	assert_string_equal(s.text, "7/16 AF");
	assert_int_equal(km_size_parse(km_slice_of(".5"), &rules, mem, &s),
			 KM_SIZE_OK);
	assert_string_equal(s.text, "1/2 AF");
}

static void one_jaw_may_have_two_names(void **state)
{
	struct km_size both = size("hexagon", "1/4 W 5/16 BS");
	struct km_size w = size("hexagon", "1/4 W");
	struct km_size bs = size("hexagon", "5/16 BS");
	struct km_size wide = size("hexagon", "5/16 W");

	(void)state;
	assert_string_equal(both.text, "1/4 W");
	assert_string_equal(both.second, "5/16 BS");
	assert_true(km_size_same(&w, &bs));
	assert_false(km_size_same_name(&w, &bs));
	assert_true(km_size_same_name(&w, &both));
	assert_true(km_size_same_name(&both, &bs));
	assert_false(km_size_same(&w, &wide));
	assert_false(km_size_same_name(&both, &wide));
}

/* By the tables H of JIS has the form of PH (ISO 4757); Z has another. */
static void forms_that_fit_one_another_are_the_same(void **state)
{
	struct km_size ph = size("cross", "PH 2"), pz = size("cross", "PZ 2");
	struct km_size jis = size("cross", "JIS 2");
	struct km_size one = size("cross", "PH 1");
	struct km_size key = size("hex-socket", "5 mm");
	struct km_size jaw = size("hexagon", "5 mm");

	(void)state;
	assert_true(km_size_same(&ph, &jis));
	assert_false(km_size_same_name(&ph, &jis));
	assert_false(km_size_same(&ph, &pz));
	assert_false(km_size_same(&ph, &one));
	assert_false(km_size_same(&key, &jaw));
	assert_true(km_size_may_serve(&ph, &jis));
	assert_false(km_size_may_serve(&key, &jaw));
}

/* Width across flats by the letters of one mark, mm: a bare 5/16 may be any
 * of these [bs-1083-1965; AF by arithmetic]. */
static void the_letters_make_the_width(void **state)
{
	(void)state;
	assert_int_equal(size("hexagon", "5/16 AF").nominal_nm, 7937500);
	assert_int_equal(size("hexagon", "5/16 BS").nominal_nm, 13335000);
	assert_int_equal(size("hexagon", "5/16 W").nominal_nm, 15240000);
}

/* The width of an early bolt size is not evidence: USS by a rule from memory,
 * SAE by none. */
static void an_early_bolt_size_is_marked_as_doubtful(void **state)
{
	(void)state;
	assert_int_equal(size("hexagon", "3/8 USS").head.basis,
			 KM_BASIS_MEMORY);
	assert_int_equal(size("hexagon", "3/8 SAE").nominal_nm, 0);
	assert_int_equal(size("hexagon", "3/8 SAE").opening.basis,
			 KM_BASIS_NONE);
}

struct cell { const char *drive, *text; const char *ends[3]; };

static void a_cell_may_hold_both_ends(void **state)
{
	static const struct cell v[] = {
		{ "hexagon", "13", { "13 mm" } },
		{ "hexagon", "10x12", { "10 mm", "12 mm" } },
		{ "hexagon", "12-14", { "12 mm", "14 mm" } },
		{ "hexagon", "10 mm x 12 mm", { "10 mm", "12 mm" } },
		{ "hexagon", "1/4 x 5/16 W", { "1/4 W", "5/16 W" } },
		{ "hexagon", "1/4W-5/16W", { "1/4 W", "5/16 W" } },
		{ "hexagon", "1-1/8-1-1/4 AF", { "1-1/8 AF", "1-1/4 AF" } },
		{ "hexagon", "1-1/8 AF", { "1-1/8 AF" } },
		{ "hexagon", "7/16x1/2 AF", { "7/16 AF", "1/2 AF" } },
		{ "hexagon", "1/4 W x 7/16 AF", { "1/4 W", "7/16 AF" } },
		{ "hexagon", "2x4 BA", { "2 BA", "4 BA" } },
		{ "hexagon", "10 mm; 12 mm", { "10 mm", "12 mm" } },
		{ "hexagon", "10;12;13", { "10 mm", "12 mm", "13 mm" } },
		{ "slotted", "0.8x5.5", { "0.8 x 5.5 mm" } },
		{ "cross", "PH1 x PH2", { "PH 1", "PH 2" } },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(v); i++) {
		struct km_size_rules rules = rules_for(v[i].drive);
		struct km_size s[3];
		uint32_t n = 0;

		assert_int_equal(km_size_parse_cell(km_slice_of(v[i].text),
						    &rules, mem, s, 3, &n),
				 KM_SIZE_OK);
		for (uint32_t k = 0; k < n; k++)
			assert_string_equal(s[k].text, v[i].ends[k]);
		assert_true(n == 3 || !v[i].ends[n]);
	}
}

static void a_cell_that_is_wrong_says_why(void **state)
{
	struct km_size_rules rules = rules_for("hexagon");
	struct km_size s[2];
	uint32_t n = 0;

	(void)state;
	assert_int_equal(km_size_parse_cell(km_slice_of("10;12;13"), &rules,
					    mem, s, 2, &n), KM_SIZE_TOO_MANY);
	assert_int_equal(km_size_parse_cell(km_slice_of("10x12"), &rules, mem,
					    s, 1, &n), KM_SIZE_TOO_MANY);
	assert_int_equal(km_size_parse_cell(km_slice_of("1/4 x 5/16"), &rules,
					    mem, s, 2, &n),
			 KM_SIZE_BARE_FRACTION);
	assert_int_equal(km_size_parse_cell(km_slice_of("10; "), &rules, mem,
					    s, 2, &n), KM_SIZE_EMPTY);
	assert_int_equal(km_size_parse_cell(km_slice_of(""), &rules, mem, s, 2,
					    &n), KM_SIZE_EMPTY);
}

/* Whatever serves is found by bucket: no pair of the book is missed. */
static void no_pair_that_serves_is_kept_apart(void **state)
{
	size_t serving = 0;

	(void)state;
	for (uint32_t i = 0; i < book.n; i++)
		for (uint32_t k = 0; k < book.n; k++) {
			const struct km_size *a = &book.v[i], *b = &book.v[k];

			if (km_fit_size(a, b).verdict != KM_SERVES)
				continue;
			serving++;
			assert_true(km_size_may_serve(a, b));
			assert_in_range(a->bucket + 1 - b->bucket, 0, 2);
		}
	/* at least each size from 6 mm up on its own heads */
	assert_true(serving > book.n / 2);
}

static void far_widths_are_kept_apart(void **state)
{
	struct km_size a = size("hexagon", "13 mm");
	struct km_size b = size("hexagon", "17 mm");

	(void)state;
	assert_false(km_size_may_serve(&a, &b));
	assert_true(a.bucket + 1 < b.bucket);
	assert_int_equal(km_size_bucket_of_width(13000000), a.bucket);
}

static void the_book_is_in_order_and_without_doubles(void **state)
{
	(void)state;
	for (uint32_t i = 1; i < book.n; i++) {
		assert_true(book.v[i - 1].nominal_nm <= book.v[i].nominal_nm);
		assert_int_not_equal(km_size_compare(&book.v[i - 1],
						     &book.v[i]), 0);
	}
}

/* Every allocation in turn fails: no crash, and it is said. */
static void running_out_of_memory_is_said(void **state)
{
	struct km_fault fault = { 0 };
	struct km_limits limits = { .fault = &fault };
	const struct km_size_rules rules = rules_for("hexagon");
	struct km_arena *a = km_arena_new(&limits);
	struct km_size_book other;
	struct km_size s;
	uint64_t n;

	(void)state;
	assert_non_null(a);
	n = fault.seen;
	fault.fail_at = n + 1;
	assert_int_equal(km_size_parse(km_slice_of("1/4 W 5/16 BS"), &rules, a,
				       &s), KM_SIZE_NO_MEMORY);
	fault.fail_at = fault.seen + 2;
	assert_int_equal(km_size_parse(km_slice_of("1/4 W 5/16 BS"), &rules, a,
				       &s), KM_SIZE_NO_MEMORY);
	for (uint64_t k = 1; k < 100; k++) {
		fault.fail_at = fault.seen + k;
		if (km_size_book_init(&other, a))
			break;
	}
	/* a list, and a text for each size and each second name */
	assert_true(fault.seen > book.n);
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_spelling_of_a_jaw_is_read),
		cmocka_unit_test(every_other_form_is_read),
		cmocka_unit_test(what_is_printed_is_read_back),
		cmocka_unit_test(what_is_wrong_has_a_name_of_its_own),
		cmocka_unit_test(a_comma_is_a_point_only_where_it_is_allowed),
		cmocka_unit_test(a_bare_number_takes_the_unit_of_its_column),
		cmocka_unit_test(one_jaw_may_have_two_names),
		cmocka_unit_test(forms_that_fit_one_another_are_the_same),
		cmocka_unit_test(the_letters_make_the_width),
		cmocka_unit_test(an_early_bolt_size_is_marked_as_doubtful),
		cmocka_unit_test(a_cell_may_hold_both_ends),
		cmocka_unit_test(a_cell_that_is_wrong_says_why),
		cmocka_unit_test(no_pair_that_serves_is_kept_apart),
		cmocka_unit_test(far_widths_are_kept_apart),
		cmocka_unit_test(the_book_is_in_order_and_without_doubles),
		cmocka_unit_test(running_out_of_memory_is_said),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
