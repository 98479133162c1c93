/* SPDX-License-Identifier: MIT */
/*
 * One tool against one slot: lengths, candidates, verdict, score and order.
 * The verdicts follow from the rules that test_rules.c holds cell by cell.
 */
#include "match_fixture.h"

/* ------------------------------------------------------------------ */
/* Lengths                                                             */

/* Pliers of 165 +-3 wanted, 178 there: +13, 10 over the tolerance; with half
 * a millimetre in doubt 12.5 <= 16.5, a tenth of 165. */
static void a_wrong_length_says_by_how_much(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_LENGTH, length_um(165000, 3000, 3000));
	have(&p, KM_A_LENGTH, length_um(178000, 500, 500));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_LENGTH);
	assert_int_equal(m.on[KM_ASP_LENGTH].by, UM(13000));
	assert_int_equal(m.on[KM_ASP_LENGTH].over, UM(10000));
	assert_int_equal(m.on[KM_ASP_LENGTH].score, 0);
	assert_true(is_candidate(&p));
	m = compare(&p, KM_USABLE);
	assert_aspect(m, KM_ASP_LENGTH, KM_F_DIMENSION_NEAR, KM_NOTED);
	assert_int_equal(m.verdict, KM_RIGHT);
}

/* Wanted 148 +-3.  Score 1000 - 200 used / allowed, rounded down: 1 of 3 is
 * 933.3, 2 of 3 is 866.7.  Usable to 14.8 off, of what is sure. */
static void a_reading_is_within_if_its_interval_touches(void **state)
{
	static const struct {
		int um, doubt_um;
		enum km_outcome outcome;
		enum km_finding finding;
		int score, over_um;
	} rows[] = {
		{ 148000, 500, KM_AGREES, KM_F_DIMENSION_WITHIN, 1000, 0 },
		{ 148400, 500, KM_AGREES, KM_F_DIMENSION_WITHIN, 1000, 0 },
		{ 149000, 500, KM_WITHIN, KM_F_DIMENSION_WITHIN, 933, 0 },
		{ 146000, 500, KM_WITHIN, KM_F_DIMENSION_WITHIN, 866, 0 },
		{ 151500, 500, KM_WITHIN, KM_F_DIMENSION_WITHIN, 800, 0 },
		{ 152000, 500, KM_DIFFERS, KM_F_DIMENSION_NEAR, 0, 1000 },
		{ 144000, 500, KM_DIFFERS, KM_F_DIMENSION_NEAR, 0, 1000 },
		{ 163300, 500, KM_DIFFERS, KM_F_DIMENSION_NEAR, 0, 12300 },
		{ 163400, 500, KM_DIFFERS, KM_F_DIMENSION_OUTSIDE, 0, 12400 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct pair p;
		struct km_comparison on;

		begin(&p, "tyre lever");
		want(&p, KM_A_LENGTH, length_um(148000, 3000, 3000));
		have(&p, KM_A_LENGTH, length_um(rows[i].um, rows[i].doubt_um,
						rows[i].doubt_um));
		on = compare(&p, KM_AS_DELIVERED).on[KM_ASP_LENGTH];
		assert_int_equal(on.outcome, rows[i].outcome);
		assert_int_equal(on.finding, rows[i].finding);
		assert_int_equal(on.score, rows[i].score);
		assert_int_equal(on.by, UM(rows[i].um - 148000));
		assert_int_equal(on.over, UM(rows[i].over_um));
	}
}

static void a_dimension_that_is_not_recorded_is_not_known(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "tyre lever");
	want(&p, KM_A_LENGTH, length_um(250000, 5000, 5000));
	want(&p, KM_A_WIDTH, length_um(20000, 2000, 2000));
	have(&p, KM_A_WIDTH, length_um(20000, 500, 500));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_LENGTH);
	assert_int_equal(m.dimension, 750);	/* of 500 and 1000 */
	assert_int_equal(compare(&p, KM_USABLE).verdict, KM_RIGHT);
	assert_true(is_candidate(&p));
}

static void of_several_lengths_the_nearest_counts(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "tyre lever");
	want(&p, KM_A_LENGTH, length_um(200000, 4000, 4000));
	want(&p, KM_A_LENGTH, length_um(250000, 5000, 5000));
	have(&p, KM_A_LENGTH, length_um(250000, 500, 500));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
	have(&p, KM_A_LENGTH, length_um(240000, 500, 500));
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.on[KM_ASP_LENGTH].by, -UM(10000));
}

/* ------------------------------------------------------------------ */
/* Candidates                                                          */

/* 165 and a quarter of it is 206.25. */
static void kind_drive_and_length_make_a_candidate(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_LENGTH, length_um(165000, 3000, 3000));
	assert_true(is_candidate(&p));
	have(&p, KM_A_LENGTH, length_um(206000, 500, 500));
	assert_true(is_candidate(&p));
	have(&p, KM_A_LENGTH, length_um(207000, 500, 500));
	assert_false(is_candidate(&p));
	have(&p, KM_A_LENGTH, length_um(165000, 500, 500));
	have(&p, KM_A_TOOL, kind_of("side cutters"));
	assert_false(is_candidate(&p));
}

static void another_fastener_form_is_no_candidate(void **state)
{
	static const struct km_drive *cross[1], *both[2];
	union km_value one, two;
	struct pair p;

	(void)state;
	cross[0] = both[1] = km_drive_find(km_slice_of("cross"));
	both[0] = km_drive_find(km_slice_of("slotted"));
	one.drives.v = cross;
	one.drives.n = 1;
	two.drives.v = both;
	two.drives.n = 2;
	begin(&p, "reversible screwdriver");
	have(&p, KM_A_DRIVE, one);
	assert_false(is_candidate(&p));		/* the kind's is slotted */
	want(&p, KM_A_DRIVE, two);
	assert_true(is_candidate(&p));
}

/* ------------------------------------------------------------------ */
/* Verdict, score, order                                               */

/* Wanted: sizes (1000), length 1 of 3 off (933), a mark not recorded (500),
 * finish another (0).  Condition: rust Ri 1 of 1 (800), pits none and damage
 * none (1000 each), what is left of the black not recorded (500).
 * dimension (1000 + 933) / 2 = 966, marking (500 + 1000) / 2 = 750 with the
 * size name, condition 3300 / 4 = 825, finish 0, colour 1000;
 * 4 x 966 + 3 x 750 + 2 x 825 + 0 + 1000 = 8764; / 11 = 796.7. */
static void the_score_is_the_weighted_mean_of_the_axes(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	want(&p, KM_A_LENGTH, length_um(148000, 3000, 3000));
	have(&p, KM_A_LENGTH, length_um(149000, 500, 500));
	want(&p, KM_A_MARK, text_of("LARKMOOR"));
	want(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	have(&p, KM_A_FINISH, finish_of("polished", NULL));
	p.condition.rust = 1;
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.dimension, 966);
	assert_int_equal(m.marking, 750);
	assert_int_equal(m.condition, 825);
	assert_int_equal(m.finish, 0);
	assert_int_equal(m.colour, 1000);
	assert_int_equal(m.score, 797);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_FINISH);
}

static void firm_evidence_gives_the_headline_before_weak(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_LENGTH, length_um(165000, 3000, 3000));
	sure(&p, KM_A_LENGTH, KM_POSSIBLE);
	have(&p, KM_A_LENGTH, length_um(178000, 500, 500));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_LENGTH);
	assert_true(m.on[KM_ASP_LENGTH].weak);
	want(&p, KM_A_MARK, text_of("LARKMOOR"));
	have_none(&p, KM_A_MARK);
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_MARK);
	assert_false(m.on[KM_ASP_MARK].weak);
}

static void an_attribute_inherits_the_certainty_of_its_slot(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_MARK, text_of("LARKMOOR"));
	have_none(&p, KM_A_MARK);
	p.slot.exists = KM_PROBABLE;
	assert_false(compare(&p, KM_AS_DELIVERED).on[KM_ASP_MARK].weak);
	p.slot.exists = KM_POSSIBLE;
	assert_true(compare(&p, KM_AS_DELIVERED).on[KM_ASP_MARK].weak);
	sure(&p, KM_A_MARK, KM_CERTAIN);
	assert_false(compare(&p, KM_AS_DELIVERED).on[KM_ASP_MARK].weak);
}

static void what_is_unknown_never_fails_a_tool(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	p.slot.want[KM_A_MARK].state = KM_WANT_UNKNOWN;
	have(&p, KM_A_MARK, text_of("OTHER"));
	want(&p, KM_A_LENGTH, length_um(165000, 3000, 3000));
	sure(&p, KM_A_LENGTH, KM_UNKNOWN);
	have(&p, KM_A_LENGTH, length_um(250000, 500, 500));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	assert_int_equal(m.on[KM_ASP_MARK].outcome, KM_NOT_WANTED);
	assert_int_equal(m.score, 1000);
}

static void without_a_route_work_becomes_a_failure(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	p.condition.rust = 3;
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_AFTER_WORK, KM_ASP_RUST);
	assert_true(km_match_wants_work(&m));
	km_match_settle(&m, true);
	assert_int_equal(m.verdict, KM_AFTER_WORK);
	km_match_settle(&m, false);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_RUST);
	assert_false(km_match_wants_work(&m));
	/* what is not known does not hide it */
	want(&p, KM_A_MARK, text_of("LARKMOOR"));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_MARK);
	km_match_settle(&m, false);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_RUST);
}

static void candidates_are_ordered_to_the_last_tie(void **state)
{
	struct km_tool t9 = { .id = "T-9" }, t10 = { .id = "T-10" };
	struct km_match a = { .tool = &t9, .verdict = KM_RIGHT, .score = 900 };
	struct km_match b = a;

	(void)state;
	b.tool = &t10;
	assert_true(km_match_order(&a, &b) < 0);	/* 9 before 10 */
	assert_true(km_match_order(&b, &a) > 0);
	assert_int_equal(km_match_order(&a, &a), 0);
	b.came_with = true;
	assert_true(km_match_order(&a, &b) > 0);
	a.score = 901;
	assert_true(km_match_order(&a, &b) < 0);
	b.verdict = KM_AFTER_WORK;
	b.score = 1000;
	assert_true(km_match_order(&a, &b) < 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_wrong_length_says_by_how_much),
		cmocka_unit_test(a_reading_is_within_if_its_interval_touches),
		cmocka_unit_test(a_dimension_that_is_not_recorded_is_not_known),
		cmocka_unit_test(of_several_lengths_the_nearest_counts),
		cmocka_unit_test(kind_drive_and_length_make_a_candidate),
		cmocka_unit_test(another_fastener_form_is_no_candidate),
		cmocka_unit_test(the_score_is_the_weighted_mean_of_the_axes),
		cmocka_unit_test(firm_evidence_gives_the_headline_before_weak),
		cmocka_unit_test(
			an_attribute_inherits_the_certainty_of_its_slot),
		cmocka_unit_test(what_is_unknown_never_fails_a_tool),
		cmocka_unit_test(without_a_route_work_becomes_a_failure),
		cmocka_unit_test(candidates_are_ordered_to_the_last_tie),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
