/* SPDX-License-Identifier: MIT */
/*
 * Openings and heads.  Limits are those of [gbt-4390-1995], [iso-4014],
 * [asme-b18-2-1] and [machinerys-handbook-31]; the figures expected here are
 * worked by hand beside each check.
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

static struct km_size size(const char *text)
{
	static const struct km_size_rules rules = { .drive = NULL };
	struct km_size s;

	assert_int_equal(km_size_parse(km_slice_of(text), &rules, mem, &s),
			 KM_SIZE_OK);
	return s;
}

/* A reading with two decimals, known to 0.005 mm. */
static struct km_span reading(int hundredths)
{
	return (struct km_span){ (int64_t)hundredths * 10000, 5000, 5000 };
}

static void share_is(int64_t lo, int64_t hi, int64_t min, int64_t max,
		     int64_t num, int64_t den)
{
	struct km_head head = { min, max, KM_BASIS_PUBLISHED, "" };
	struct km_fit f = km_fit_opening(lo, hi, KM_BASIS_PUBLISHED, &head);

	assert_int_equal(km_rational_compare(f.share,
			 (struct km_rational){ num, den }), 0);
}

/* The part of a rectangle on one side of its diagonal line O = s. */
static void the_share_is_an_area(void **state)
{
	(void)state;
	share_is(12, 14, 9, 11, 1, 1);		/* all above */
	share_is(7, 8, 9, 11, 0, 1);		/* all below */
	share_is(9, 11, 9, 11, 1, 2);		/* half of a square */
	/* O 10..12, s 9..11: a triangle of 1/2 out of 4 does not go on */
	share_is(10, 12, 9, 11, 7, 8);
	/* O 8..10, s 9..11: a triangle of 1/2 out of 4 goes on */
	share_is(8, 10, 9, 11, 1, 8);
	/* O 8..14, s 10..12: above 12 one third; 10..12 half of a third */
	share_is(8, 14, 10, 12, 1, 2);
	/* O 10..11, s 8..14: s below 10 one third, and half of a sixth */
	share_is(10, 11, 8, 14, 5, 12);
	/* limits without width: a part of a line, or all or nothing */
	share_is(10, 10, 9, 11, 1, 2);
	share_is(9, 13, 10, 10, 3, 4);
	share_is(10, 10, 10, 10, 1, 1);
	share_is(9, 9, 10, 10, 0, 1);
}

/* 13 mm (13.04..13.24) on 1/2 in (0.489..0.500 in = 12.4206..12.7 mm): every
 * opening is wider than every head; worst bite
 * (1.13 x 12.4206 - 13.24) / (0.13 x 12.4206) = 0.795278 / 1.614678 = 0.4925;
 * mid (1.13 x 12.5603 - 13.14) / (0.13 x 12.5603) = 1.053139 / 1.632839
 * = 0.6450.  Back: 1/2 in is 0.504..0.510 in = 12.8016..12.954 mm on
 * 12.73..13 mm: below 12.8016 lie 0.0716 of the heads' 0.27, and of the rest
 * from 12.8016 to 12.954 half; (0.0716 + 0.0762) / 0.27 = 0.5474. */
static void thirteen_serves_half_an_inch_one_way(void **state)
{
	struct km_size a = size("13 mm"), b = size("1/2 AF");
	struct km_both both = km_fit_both(&a, &b);

	(void)state;
	assert_int_equal(both.a_on_b.share_thousandths, 1000);
	assert_int_equal(both.a_on_b.worst_thousandths, 493);
	assert_int_equal(both.a_on_b.mid_thousandths, 645);
	assert_int_equal(both.a_on_b.verdict, KM_SERVES);
	assert_int_equal(both.b_on_a.share_thousandths, 547);
	assert_int_equal(both.b_on_a.verdict, KM_SERVE_TIGHT);
	assert_true(both.a_first);
	assert_int_equal(both.best, KM_SERVES);
	assert_int_equal(both.reverse, KM_SERVE_TIGHT);
	assert_false(km_serves_both_ways(&a, &b));
}

/* 11 mm (11.04..11.19) on 7/16 in (0.428..0.438 in = 10.8712..11.1252 mm):
 * not on: O < s in the triangle from 11.04 to 11.1252, 0.0852^2 / 2 =
 * 0.00362952 of 0.15 x 0.254 = 0.0381, so share 1 - 0.0953 = 0.9047; worst
 * (12.284456 - 11.19) / 1.413256 = 0.7744. */
static void eleven_and_seven_sixteenths_serve_both_ways(void **state)
{
	struct km_size a = size("11 mm"), b = size("7/16 AF");
	struct km_fit f = km_fit_size(&a, &b);

	(void)state;
	assert_int_equal(f.share_thousandths, 905);
	assert_int_equal(f.worst_thousandths, 774);
	assert_true(km_serves_both_ways(&a, &b));
	assert_true(km_serves_both_ways(&b, &a));
}

/* 10 mm (10.04..10.19) on 3/8 in (0.362..0.375 in = 9.1948..9.525 mm): mid
 * (1.13 x 9.3599 - 10.115) / (0.13 x 9.3599) = 0.461687 / 1.216787 = 0.3794,
 * below the limit; 3/8 in does not go on 10 mm. */
static void ten_rounds_the_corners_of_three_eighths(void **state)
{
	struct km_size a = size("10 mm"), b = size("3/8 AF");
	struct km_both both = km_fit_both(&a, &b);

	(void)state;
	assert_int_equal(both.a_on_b.mid_thousandths, 379);
	assert_int_equal(both.best, KM_SERVE_ROUNDS);
	assert_int_equal(both.b_on_a.verdict, KM_SERVE_NOT_ON);
	assert_int_equal(both.b_on_a.swing_tenths, 0);
}

/* A jaw as wide as the corners turns round the head: 1.13 x 10 = 11.3, bite
 * 0.  At 2 / sqrt(3) of the width, 11.547, an ideal hexagon turns freely. */
static void a_jaw_wider_than_the_corners_turns_freely(void **state)
{
	const struct km_head head = { 10000000, 10000000, KM_BASIS_PUBLISHED,
				      "" };
	struct km_fit f = km_fit_opening(11300000, 11300000,
					 KM_BASIS_PUBLISHED, &head);

	(void)state;
	assert_int_equal(f.worst.num, 0);
	f = km_fit_opening(11548000, 11548000, KM_BASIS_PUBLISHED, &head);
	assert_int_equal(f.swing_tenths, 300);
	/* 10.5 mm: 30 - acos(0.909327) = 30 - 24.58 = 5.4 degrees */
	f = km_fit_opening(10500000, 10500000, KM_BASIS_PUBLISHED, &head);
	assert_int_equal(f.swing_tenths, 54);
}

/* The least bite of 0.489 is that of 1/4 in on its own No. 4 nut:
 * (1.13 x 0.241 - 0.257) / (0.13 x 0.241) = 0.01533 / 0.03133 = 0.4893.
 * So every size from 6 mm up serves its own heads. */
static void every_size_serves_its_own_heads(void **state)
{
	int32_t poorest = 1000;

	(void)state;
	for (uint32_t i = 0; i < book.n; i++) {
		const struct km_size *s = &book.v[i];
		struct km_fit f = km_fit_size(s, s);

		if (s->nominal_nm < KM_MM(6)) {
			assert_true(f.lenient);
			continue;
		}
		assert_false(f.lenient);
		assert_int_equal(f.verdict, KM_SERVES);
		if (f.worst_thousandths < poorest)
			poorest = f.worst_thousandths;
	}
	assert_int_equal(poorest, KM_BITE_LEAST);
}

static void without_limits_there_is_no_verdict(void **state)
{
	struct km_size thread = size("M8"), odd = size("13.7 mm");
	struct km_size jaw = size("13 mm");

	(void)state;
	assert_int_equal(km_fit_size(&thread, &jaw).verdict, KM_SERVE_UNKNOWN);
	assert_int_equal(km_fit_size(&jaw, &thread).verdict, KM_SERVE_UNKNOWN);
	assert_int_equal(km_fit_size(&odd, &jaw).verdict, KM_SERVE_UNKNOWN);
	/* heads of a width without a row follow the rule of their grade */
	assert_int_equal(odd.head.basis, KM_BASIS_COMPUTED);
}

static void the_weaker_basis_counts(void **state)
{
	struct km_size ba = size("0 BA"), mm = size("10 mm");
	struct km_size inch = size("1 AF");	/* no row of heads */

	(void)state;
	assert_int_equal(km_fit_size(&mm, &mm).basis, KM_BASIS_PUBLISHED);
	assert_int_equal(km_fit_size(&mm, &ba).basis, KM_BASIS_MEMORY);
	assert_int_equal(km_fit_size(&inch, &inch).basis, KM_BASIS_ESTIMATED);
}

static struct km_opening_check check(int hundredths, const char *marked)
{
	struct km_size s = size(marked);

	return km_opening_check(reading(hundredths), &s, &book);
}

/* 13 mm: 13.04 to 13.24, unmachined to 13.30. */
static void a_spread_jaw_keeps_its_size(void **state)
{
	struct km_opening_check c = check(1335, "13 mm");

	(void)state;
	assert_int_equal(c.is, KM_OPENING_SPREAD);
	assert_int_equal(c.over_nominal_nm, 350000);	/* 13.35 - 13 */
	assert_int_equal(c.beyond_nm, 110000);		/* 13.35 - 13.24 */
	assert_int_equal(check(1304, "13 mm").is, KM_OPENING_WITHIN);
	assert_int_equal(check(1324, "13 mm").is, KM_OPENING_WITHIN);
	/* within half of the last digit counts: 13.035 to 13.245 */
	assert_int_equal(check(1329, "13 mm").is, KM_OPENING_UNFINISHED);
	assert_int_equal(check(1302, "13 mm").is, KM_OPENING_UNDER);
	assert_int_equal(check(1302, "13 mm").beyond_nm, 20000);
}

/* 5/16 W: 0.6 in, 15.24 mm; its jaw, by the rule, to 15.5194 mm. */
static void a_whitworth_jaw_is_held_against_the_rule(void **state)
{
	struct km_opening_check c = check(1559, "5/16 W");

	(void)state;
	assert_int_equal(c.is, KM_OPENING_SPREAD);
	assert_int_equal(c.over_nominal_nm, 350000);
	assert_int_equal(c.beyond_nm, 70600);
	assert_int_equal(check(1350, "1/4 W").is, KM_OPENING_WITHIN);
}

/* Marked 13, measured 14.1: the bite on its own least head is
 * (1.13 x 12.73 - 14.095) / (0.13 x 12.73) = 0.175, and 14 mm opens 14.05 to
 * 14.27: another size.  Marked 14, measured 13.1: 13 mm. */
static void a_jaw_that_lost_its_size_is_another(void **state)
{
	struct km_opening_check c = check(1410, "13 mm");

	(void)state;
	assert_int_equal(c.is, KM_OPENING_OTHER);
	assert_string_equal(c.other->text, "14 mm");
	c = check(1310, "14 mm");
	assert_int_equal(c.is, KM_OPENING_OTHER);
	assert_string_equal(c.other->text, "13 mm");
	assert_int_equal(check(1310, "13.7 mm").is, KM_OPENING_UNKNOWN);
	assert_int_equal(check(1310, "M8").is, KM_OPENING_UNKNOWN);
}

static uint32_t identify(int hundredths, const struct km_size *found[4],
			 uint32_t *inside)
{
	return km_opening_identify(reading(hundredths), &book, found, 4,
				   inside);
}

/* 18.30 lies within 18 mm (18.05..18.30) and within 3/8 W (18.1503..18.3414);
 * 19.20 within 19 mm and 3/4 in (19.177..19.3802); 16.20 only in 16 mm. */
static void an_unmarked_opening_within_one_size_is_that_size(void **state)
{
	const struct km_size *found[4];
	uint32_t inside;

	(void)state;
	assert_int_equal(identify(1620, found, &inside), 1);
	assert_int_equal(inside, 1);
	assert_string_equal(found[0]->text, "16 mm");
	assert_int_equal(identify(1350, found, &inside), 1);
	assert_string_equal(found[0]->text, "1/4 W");
	assert_string_equal(found[0]->second, "5/16 BS");
}

/* 13.35 lies within nothing.  It goes on 13 mm (13) with bite
 * (14.3849 - 13.345) / 1.6549 = 0.628 and on 1/4 W (13.335) with 0.890; on
 * 1/2 in the bite is (14.0353 - 13.345) / 1.6147 = 0.428: too little. */
static void an_opening_between_two_sizes_is_undecided(void **state)
{
	const struct km_size *found[4];
	uint32_t inside;

	(void)state;
	assert_int_equal(identify(1335, found, &inside), 2);
	assert_int_equal(inside, 0);
	assert_string_equal(found[0]->text, "13 mm");
	assert_string_equal(found[1]->text, "1/4 W");
}

/* 8.05 lies within 8 mm (8.03..8.15) and 5/16 in (8.0264..8.1788), and no
 * other size goes on with bite enough. */
static void an_opening_within_two_sizes_is_undecided(void **state)
{
	const struct km_size *found[4];
	uint32_t inside;

	(void)state;
	assert_int_equal(identify(805, found, &inside), 2);
	assert_int_equal(inside, 2);
	assert_string_equal(found[0]->text, "5/16 AF");
	assert_string_equal(found[1]->text, "8 mm");
	/* there may be more than there is room for */
	assert_int_equal(km_opening_identify(reading(805), &book, found, 1,
					     &inside), 2);
	assert_int_equal(km_opening_identify(reading(805), &book, NULL, 0,
					     &inside), 2);
}

static void an_opening_of_no_spanner_is_nothing(void **state)
{
	const struct km_size *found[4];
	uint32_t inside;

	(void)state;
	assert_int_equal(identify(100, found, &inside), 0);
	assert_int_equal(identify(9000, found, &inside), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_share_is_an_area),
		cmocka_unit_test(thirteen_serves_half_an_inch_one_way),
		cmocka_unit_test(eleven_and_seven_sixteenths_serve_both_ways),
		cmocka_unit_test(ten_rounds_the_corners_of_three_eighths),
		cmocka_unit_test(a_jaw_wider_than_the_corners_turns_freely),
		cmocka_unit_test(every_size_serves_its_own_heads),
		cmocka_unit_test(without_limits_there_is_no_verdict),
		cmocka_unit_test(the_weaker_basis_counts),
		cmocka_unit_test(a_spread_jaw_keeps_its_size),
		cmocka_unit_test(a_whitworth_jaw_is_held_against_the_rule),
		cmocka_unit_test(a_jaw_that_lost_its_size_is_another),
		cmocka_unit_test(an_unmarked_opening_within_one_size_is_that_size),
		cmocka_unit_test(an_opening_between_two_sizes_is_undecided),
		cmocka_unit_test(an_opening_within_two_sizes_is_undecided),
		cmocka_unit_test(an_opening_of_no_spanner_is_nothing),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
