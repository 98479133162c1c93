/* SPDX-License-Identifier: MIT */
/*
 * One tool against one slot: its ends.
 *
 * Widths and openings: metric limits [gbt-4390-1995], inch limits
 * [machinerys-handbook-31], heads [iso-4014, asme-b18-2-1]; the verdicts follow
 * from the rules that test_rules.c holds cell by cell.
 */
#include "match_fixture.h"

static const char *spanner = "double open-ended spanner";

/* 1/4 W and 5/16 BS are one jaw, and so are 5/16 W and 3/8 BS
 * [owners-encyclopaedia]; 13.4 and 15.3 mm read to the tenth touch the limits
 * 0.529 in = 13.437 mm and 0.604 in = 15.342 mm of the two. */
static void begin_same_jaw(struct pair *p)
{
	struct km_span *v = km_arena_alloc(mem, 2, sizeof *v);
	union km_value measured;

	assert_non_null(v);
	v[0] = span_um(13400, 50, 50);
	v[1] = span_um(15300, 50, 50);
	measured.spans.v = v;
	measured.spans.n = 2;
	begin(p, spanner);
	want(p, KM_A_SIZES, hexagons("1/4 W", "5/16 W"));
	have(p, KM_A_SIZES, hexagons("5/16 BS", "3/8 BS"));
	have(p, KM_A_OPENINGS, measured);
}

static void the_same_jaw_with_another_mark_differs_by_its_name(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin_same_jaw(&p);
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.n_ends, 2);
	assert_int_equal(m.end[0].state, KM_END_RIGHT);
	assert_int_equal(m.end[1].state, KM_END_RIGHT);
	assert_false(m.wrong_size);
	assert_aspect(m, KM_ASP_SIZES, KM_F_WIDTHS_RIGHT, KM_PASSES);
	assert_aspect(m, KM_ASP_SIZE_NAME, KM_F_NAME_OTHER, KM_FAILS);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_SIZE_NAME);
	m = compare(&p, KM_PERIOD_CORRECT);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	want(&p, KM_A_SIZES, hexagons("5/16 BS", "3/8 BS"));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
}

static void a_jaw_listed_with_two_names_takes_either(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("1/4 W 5/16 BS", NULL));
	have(&p, KM_A_SIZES, hexagons("5/16 BS", NULL));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
}

static void ends_go_in_any_order(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, spanner);
	want(&p, KM_A_SIZES, hexagons("10 mm", "12 mm"));
	have(&p, KM_A_SIZES, hexagons("12 mm", "10 mm"));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	assert_int_equal(m.end[0].tool_end, 1);
	assert_int_equal(m.end[1].tool_end, 0);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 1000);
}

/* A 13 mm jaw on a 12 mm head, worst bite (1.13 x 11.73 - 13.24) / 1.525 =
 * 0.01: it rounds the corners. */
static void one_end_right_and_the_other_wrong_is_a_substitute(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, spanner);
	want(&p, KM_A_SIZES, hexagons("10 mm", "12 mm"));
	have(&p, KM_A_SIZES, hexagons("10 mm", "13 mm"));
	m = compare(&p, KM_USABLE);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_SIZES);
	assert_int_equal(m.end[0].state, KM_END_RIGHT);
	assert_int_equal(m.end[1].state, KM_END_WRONG);
	assert_string_equal(m.end[1].have->text, "13 mm");
	assert_string_equal(m.end[1].wanted->text, "12 mm");
	assert_true(m.wrong_size);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 500);	/* of 1000, 0 */
	assert_aspect(m, KM_ASP_SIZE_NAME, KM_F_NOTHING, KM_PASSES);
	assert_true(is_candidate(&p));
}

/* tests/standards/test_equivalents.c: 3/4 AF and 19 mm serve both ways;
 * 9/16 AF serves 14 mm, and 14 mm is tight on 9/16 AF. */
static void what_serves_both_ways_passes_for_use_alone(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("19 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("3/4 AF", NULL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.end[0].state, KM_END_SERVES_BOTH);
	assert_aspect(m, KM_ASP_SIZES, KM_F_WIDTH_SERVES, KM_FAILS);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 400);
	assert_true(is_candidate(&p));
	assert_verdict(compare(&p, KM_USABLE), KM_RIGHT, KM_ASPECTS);
}

static void what_serves_one_way_is_a_candidate_and_fails(void **state)
{
	struct pair p, q;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("14 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("9/16 AF", NULL));
	m = compare(&p, KM_USABLE);
	assert_int_equal(m.end[0].state, KM_END_SERVES);
	assert_aspect(m, KM_ASP_SIZES, KM_F_END_WRONG, KM_FAILS);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 200);
	assert_true(is_candidate(&p));
	begin(&q, "single open-ended spanner");
	want(&q, KM_A_SIZES, hexagons("9/16 AF", NULL));
	have(&q, KM_A_SIZES, hexagons("14 mm", NULL));
	assert_int_equal(compare(&q, KM_USABLE).end[0].state, KM_END_WRONG);
	assert_false(is_candidate(&q));
}

/* 19.20 mm lies within 19.06 to 19.36 (19 mm) and within 0.755 to 0.763 in,
 * 19.177 to 19.380 mm (3/4 AF). */
static void an_unmarked_jaw_between_two_sizes_is_undecided(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("3/4 AF", NULL));
	have(&p, KM_A_OPENINGS, openings(1920, 0));
	m = compare(&p, KM_USABLE);
	assert_int_equal(m.end[0].state, KM_END_UNDECIDED);
	assert_string_equal(m.end[0].have->text, "3/4 AF");
	assert_string_equal(m.end[0].or_else->text, "19 mm");
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_SIZES);
	assert_aspect(m, KM_ASP_SIZES, KM_F_WIDTH_UNDECIDED, KM_NOT_KNOWN);
	assert_false(m.wrong_size);
	assert_true(is_candidate(&p));
}

/* 13.10 mm lies within 13.04 to 13.24 and no other limits; the struck name
 * is then not recorded. */
static void an_unmarked_jaw_of_one_size_is_that_size(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_OPENINGS, openings(1310, 0));
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.end[0].state, KM_END_RIGHT);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 900);
	assert_aspect(m, KM_ASP_SIZE_NAME, KM_F_NAME_UNRECORDED, KM_NOT_KNOWN);
	assert_int_equal(compare(&p, KM_PERIOD_CORRECT).verdict, KM_RIGHT);
}

/* Marked 13: 14.15 mm lies within 14.05 to 14.27, the limits of 14; 12.50 mm
 * is below 13.04 and no other's. */
static void mark_and_opening_may_disagree(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_OPENINGS, openings(1415, 0));
	m = compare(&p, KM_USABLE);
	assert_int_equal(m.end[0].state, KM_END_CONTRADICTS);
	assert_string_equal(m.end[0].or_else->text, "14 mm");
	assert_aspect(m, KM_ASP_SIZES, KM_F_WIDTH_CONTRADICTS, KM_NOT_KNOWN);
	assert_true(is_candidate(&p));
	have(&p, KM_A_OPENINGS, openings(1250, 0));
	m = compare(&p, KM_USABLE);
	assert_int_equal(m.end[0].state, KM_END_CONTRADICTS);
	assert_null(m.end[0].or_else);
}

/* Marked 13, measured 13.35: the right size, spread by 13.35 - 13.24. */
static void a_spread_jaw_has_the_right_size_and_is_for_display(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_OPENINGS, openings(1335, 0));
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.end[0].state, KM_END_RIGHT);
	assert_int_equal(m.end[0].spread_nm, UM(110));
	assert_aspect(m, KM_ASP_UNFIT, KM_F_UNFIT, KM_NOTED);
	assert_int_equal(m.fit, KM_UNFIT);
	assert_int_equal(m.unfit_for, 1 << KM_DMG_SPREAD);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	m = compare(&p, KM_USABLE);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_UNFIT);
}

static void neither_marked_nor_measured_is_unverified(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, spanner);
	want(&p, KM_A_SIZES, hexagons("10 mm", "12 mm"));
	m = compare(&p, KM_USABLE);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_SIZES);
	assert_aspect(m, KM_ASP_SIZES, KM_F_WIDTH_UNRECORDED, KM_NOT_KNOWN);
	assert_int_equal(m.end[0].tool_end, 255);
	assert_true(is_candidate(&p));
	/* one end right, the other not recorded */
	have(&p, KM_A_SIZES, hexagons("12 mm", NULL));
	m = compare(&p, KM_USABLE);
	assert_int_equal(m.end[0].state, KM_END_UNRECORDED);
	assert_int_equal(m.end[1].state, KM_END_RIGHT);
	assert_true(is_candidate(&p));
	/* one end wrong, the other not recorded */
	have(&p, KM_A_SIZES, hexagons("17 mm", NULL));
	assert_false(is_candidate(&p));
}

/* Within 0.1 mm of the thickness and 0.5 mm of the width: a choice. */
static void tips_of_screwdrivers_have_some_play(void **state)
{
	static const struct {
		const char *tip;
		enum km_end_state state;
	} rows[] = {
		{ "0.8 x 5.5 mm", KM_END_RIGHT },
		{ "0.9 x 6.0 mm", KM_END_RIGHT },
		{ "1.0 x 5.5 mm", KM_END_WRONG },
		{ "0.8 x 6.5 mm", KM_END_WRONG },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct pair p;

		begin(&p, "screwdriver");
		want(&p, KM_A_SIZES, sizes_of("slotted", "0.8 x 5.5 mm", NULL));
		have(&p, KM_A_SIZES, sizes_of("slotted", rows[i].tip, NULL));
		assert_int_equal(compare(&p, KM_USABLE).end[0].state,
				 rows[i].state);
	}
}

static void many_ends_are_paired_too(void **state)
{
	static const char *const wanted[] = { "5 mm", "6 mm", "7 mm", "8 mm",
					      "9 mm", "10 mm" };
	const struct km_size *w[6], *h[6];
	union km_value a, b;
	struct pair p;
	struct km_match m;

	(void)state;
	for (int i = 0; i < 6; i++) {
		w[i] = size_of(wanted[i], "hexagon");
		h[i] = size_of(wanted[5 - i], "hexagon");
	}
	a.sizes.v = w;
	b.sizes.v = h;
	a.sizes.n = b.sizes.n = 6;
	begin(&p, spanner);
	want(&p, KM_A_SIZES, a);
	have(&p, KM_A_SIZES, b);
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	assert_int_equal(m.n_ends, 6);
	assert_int_equal(m.end[0].tool_end, 5);
	h[3] = size_of("17 mm", "hexagon");	/* in place of 7 mm */
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_SIZES);
	assert_int_equal(m.on[KM_ASP_SIZES].score, 833);	/* 5000 / 6 */
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(
			the_same_jaw_with_another_mark_differs_by_its_name),
		cmocka_unit_test(a_jaw_listed_with_two_names_takes_either),
		cmocka_unit_test(ends_go_in_any_order),
		cmocka_unit_test(
			one_end_right_and_the_other_wrong_is_a_substitute),
		cmocka_unit_test(what_serves_both_ways_passes_for_use_alone),
		cmocka_unit_test(what_serves_one_way_is_a_candidate_and_fails),
		cmocka_unit_test(
			an_unmarked_jaw_between_two_sizes_is_undecided),
		cmocka_unit_test(an_unmarked_jaw_of_one_size_is_that_size),
		cmocka_unit_test(mark_and_opening_may_disagree),
		cmocka_unit_test(
			a_spread_jaw_has_the_right_size_and_is_for_display),
		cmocka_unit_test(neither_marked_nor_measured_is_unverified),
		cmocka_unit_test(tips_of_screwdrivers_have_some_play),
		cmocka_unit_test(many_ends_are_paired_too),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
