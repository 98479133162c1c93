/* SPDX-License-Identifier: MIT */
/*
 * One tool against one slot: marks, parts, finish and handle.  The verdicts
 * follow from the rules that test_rules.c holds cell by cell; which finish
 * passes for which is data/finish_passes.def (common practice).
 */
#include "match_fixture.h"

/* ------------------------------------------------------------------ */
/* Marks                                                               */

static void an_unread_mark_is_neither_match_nor_mismatch(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_MARK, text_of("BRANKEL 4"));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_MARK);
	assert_aspect(m, KM_ASP_MARK, KM_F_MARK_UNRECORDED, KM_NOT_KNOWN);
	p.condition.marking = KM_MARKING_GONE;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_MARK, KM_F_MARK_UNREAD, KM_NOT_KNOWN);
	p.condition.marking = KM_MARKING_UNRECORDED;
	have_unread(&p, KM_A_MARK);
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_MARK);
	assert_aspect(m, KM_ASP_MARK, KM_F_MARK_UNREAD, KM_NOT_KNOWN);
	assert_int_equal(compare(&p, KM_PERIOD_CORRECT).verdict, KM_RIGHT);
}

static void a_recorded_none_is_a_mismatch(void **state)
{
	struct pair p, q;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_MARK, text_of("BRANKEL 4"));
	have_none(&p, KM_A_MARK);
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_MARK);
	assert_aspect(m, KM_ASP_MARK, KM_F_MARK_NONE, KM_FAILS);
	begin(&q, "combination pliers");
	want_none(&q, KM_A_MARK);
	have_none(&q, KM_A_MARK);
	assert_int_equal(compare(&q, KM_AS_DELIVERED).verdict, KM_RIGHT);
	have(&q, KM_A_MARK, text_of("BRANKEL 4"));
	m = compare(&q, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_MARK, KM_F_MARK_UNWANTED, KM_FAILS);
}

static void one_of_several_marks_may_be_none(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_MARK, text_of("BRANKEL"));
	p.slot.want[KM_A_MARK].or_none = true;
	have_none(&p, KM_A_MARK);
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
}

static void a_listed_mark_stands_as_whole_words(void **state)
{
	static const struct { const char *mark; enum km_finding finding; }
	rows[] = {
		{ "LARKMOOR", KM_F_MARK_LISTED },
		{ "larkmoor  made in x", KM_F_MARK_LISTED },
		{ "LM 4", KM_F_MARK_LISTED },
		{ "LARKMOORE", KM_F_MARK_OTHER },
		{ "ALM", KM_F_MARK_OTHER },
		{ "OTHERMAKE", KM_F_MARK_OTHER },
	};
	static const char *const makers[] = { "LARKMOOR", "LM" };

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct pair p;

		begin(&p, "combination pliers");
		p.kit.maker_marks = makers;
		p.kit.n_maker_marks = 2;
		want(&p, KM_A_MARK, text_of("Maker"));
		have(&p, KM_A_MARK, text_of(rows[i].mark));
		assert_int_equal(compare(&p, KM_AS_DELIVERED)
					 .on[KM_ASP_MARK].finding,
				 rows[i].finding);
	}
}

static void who_made_it_counts_as_the_rules_say(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	have(&p, KM_A_MADE, made(KM_MADE_PERIOD));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
	have(&p, KM_A_MADE, made(KM_MADE_REPRODUCTION));
	m = compare(&p, KM_PERIOD_CORRECT);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_MADE);
	assert_aspect(m, KM_ASP_MADE, KM_F_REPRODUCTION, KM_FAILS);
	assert_int_equal(compare(&p, KM_USABLE).verdict, KM_RIGHT);
	want(&p, KM_A_MADE, made(KM_MADE_ORIGINAL));
	have(&p, KM_A_MADE, made(KM_MADE_PERIOD));
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_MADE, KM_F_MADE_PERIOD, KM_FAILS);
	assert_int_equal(compare(&p, KM_PERIOD_CORRECT).verdict, KM_RIGHT);
	want(&p, KM_A_MADE, made(KM_MADE_REPRODUCTION));
	have(&p, KM_A_MADE, made(KM_MADE_REPRODUCTION));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
}

static void made_that_is_not_recorded_passes_at_half_the_score(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_MADE, made(KM_MADE_ORIGINAL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_MADE, KM_F_MADE_UNRECORDED, KM_PASSES);
	assert_int_equal(m.marking, 500);
	assert_int_equal(m.verdict, KM_RIGHT);
}

/* ------------------------------------------------------------------ */
/* Parts                                                               */

static const struct km_supersession chain[] = {
	{ .old_part = "40-118", .new_part = "40-118A" },
	{ .old_part = "40-118A", .new_part = "51-020",
	  .changes = (uint32_t)1 << KM_A_FINISH, .n_changes = 1 },
	{ .old_part = "51-020", .new_part = "51-021", .n_changes = 1 },
};

static void begin_parts(struct pair *p, const char *wanted, const char *got)
{
	begin(p, "combination pliers");
	p->rules.superseded = chain;
	p->rules.n_superseded = COUNT(chain);
	want(p, KM_A_PART, text_of(wanted));
	have(p, KM_A_PART, text_of(got));
	want(p, KM_A_FINISH, finish_of("black oxide", NULL));
}

static void a_superseding_part_fails_on_what_changed(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin_parts(&p, "40-118", "51-020");
	have(&p, KM_A_FINISH, finish_of("nickel", NULL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_FINISH);
	assert_aspect(m, KM_ASP_PART, KM_F_PART_SUPERSEDING, KM_NOTED);
	assert_int_equal(compare(&p, KM_USABLE).verdict, KM_RIGHT);
	/* the tool shows that its finish is as it was */
	have(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
}

static void a_change_fails_what_the_tool_does_not_record(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin_parts(&p, "40-118", "51-020");
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_FINISH);
	assert_aspect(m, KM_ASP_FINISH, KM_F_PART_SUPERSEDING, KM_FAILS);
	assert_int_equal(m.on[KM_ASP_FINISH].outcome, KM_NOT_RECORDED);
	/* without a change, the number alone is no fault */
	begin_parts(&p, "40-118", "40-118a");
	have(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
}

static void a_change_that_nothing_wanted_shows_fails_the_part(void **state)
{
	struct pair p;

	(void)state;
	begin_parts(&p, "51-020", "51-021");	/* a word of no attribute */
	have(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	assert_verdict(compare(&p, KM_AS_DELIVERED), KM_SUBSTITUTE,
		       KM_ASP_PART);
	begin_parts(&p, "40-118", "51-020");	/* a finish not wanted */
	p.slot.want[KM_A_FINISH] = (struct km_want){ .n = 0 };
	assert_verdict(compare(&p, KM_AS_DELIVERED), KM_SUBSTITUTE,
		       KM_ASP_PART);
}

static void an_older_part_does_not_supersede(void **state)
{
	struct km_supersession both = chain[0];
	struct pair p;
	struct km_match m;

	(void)state;
	begin_parts(&p, "40-118A", "40-118");
	have(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_PART);
	assert_aspect(m, KM_ASP_PART, KM_F_PART_OTHER, KM_FAILS);
	both.both_ways = true;
	p.rules.superseded = &both;
	p.rules.n_superseded = 1;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_PART, KM_F_PART_SUPERSEDING, KM_NOTED);
}

/* ------------------------------------------------------------------ */
/* Finish and handle                                                   */

static void a_finish_passes_as_far_as_the_table_says(void **state)
{
	static const struct {
		const char *have, *wanted;
		enum km_finding finding;
		int score;
	} rows[] = {
		{ "black oxide", "black oxide", KM_F_FINISH_SAME, 1000 },
		{ "zinc clear", "cadmium", KM_F_FINISH_NEAR_CADMIUM, 800 },
		{ "cadmium", "zinc clear", KM_F_FINISH_NEAR, 800 },
		{ "nickel", "nickel chrome", KM_F_FINISH_NEAR, 800 },
		{ "zinc clear", "nickel", KM_F_FINISH_OTHER, 400 },
		{ "painted", "nickel", KM_F_FINISH_OTHER, 0 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct pair p;
		struct km_match m;

		begin(&p, "combination pliers");
		want(&p, KM_A_FINISH, finish_of(rows[i].wanted, NULL));
		have(&p, KM_A_FINISH, finish_of(rows[i].have, NULL));
		m = compare(&p, KM_AS_DELIVERED);
		assert_int_equal(m.on[KM_ASP_FINISH].finding, rows[i].finding);
		assert_int_equal(m.finish, rows[i].score);
	}
}

static void better_than_new_is_over_restored(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_FINISH, finish_of("black oxide", "forged"));
	have(&p, KM_A_FINISH, finish_of("nickel chrome", NULL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_FINISH);
	assert_true(m.over_restored);
	have(&p, KM_A_FINISH, finish_of("forged", "forged"));	/* duller */
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_FINISH);
	assert_false(m.over_restored);
}

static void faces_count_where_they_are_wanted(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_FINISH, finish_of("black oxide", "polished"));
	have(&p, KM_A_FINISH, finish_of("black oxide", NULL));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_UNVERIFIED, KM_ASP_FINISH);
	have(&p, KM_A_FINISH, finish_of("black oxide", "polished"));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
	have(&p, KM_A_FINISH, finish_of("black oxide", "painted"));
	assert_verdict(compare(&p, KM_AS_DELIVERED), KM_SUBSTITUTE,
		       KM_ASP_FINISH);
}

static void at_the_plater_a_wrong_finish_is_being_cured(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_FINISH, finish_of("nickel", NULL));
	have(&p, KM_A_FINISH, finish_of("forged", NULL));
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_SUBSTITUTE);
	p.thing.at_plater = true;
	assert_verdict(compare(&p, KM_AS_DELIVERED), KM_AFTER_WORK,
		       KM_ASP_FINISH);
}

static void a_green_handle_is_not_an_amber_one(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	want(&p, KM_A_HANDLE_COLOUR, rgb(0xc47a1c));
	have(&p, KM_A_HANDLE_COLOUR, rgb(0x008000));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_HANDLE_COLOUR);
	assert_true(m.on[KM_ASP_HANDLE_COLOUR].by > 6000);
	want(&p, KM_A_HANDLE_COLOUR, rgb(0x008000));
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	assert_int_equal(m.colour, 1000);
}

/* Whatever the difference d is: it passes up to d, is noted up to d, fails
 * over less.  All of the tolerance used leaves 800. */
static void the_limits_of_a_colour_are_inclusive(void **state)
{
	int32_t d = km_colour_difference(0xc47a1c, 0xc87a1c);
	struct pair p;
	struct km_comparison on;

	(void)state;
	assert_true(d > 1);
	begin(&p, "combination pliers");
	want(&p, KM_A_HANDLE_COLOUR, rgb(0xc47a1c));
	have(&p, KM_A_HANDLE_COLOUR, rgb(0xc87a1c));
	p.kit.limits.colour_pass = d;
	on = compare(&p, KM_AS_DELIVERED).on[KM_ASP_HANDLE_COLOUR];
	assert_int_equal(on.finding, KM_F_COLOUR_SAME);
	assert_int_equal(on.score, 800);
	assert_int_equal(on.by, d);
	p.kit.limits.colour_pass = d - 1;
	p.kit.limits.colour_note = d;
	on = compare(&p, KM_AS_DELIVERED).on[KM_ASP_HANDLE_COLOUR];
	assert_int_equal(on.finding, KM_F_COLOUR_OFF);
	assert_int_equal(on.over, 1);
	p.kit.limits.colour_note = d - 1;
	on = compare(&p, KM_AS_DELIVERED).on[KM_ASP_HANDLE_COLOUR];
	assert_int_equal(on.finding, KM_F_COLOUR_WRONG);
}

static void a_colour_of_a_word_alone_is_compared_as_a_word(void **state)
{
	union km_value a = rgb(KM_COLOUR_WORD_ONLY), b = a, c = a;
	struct pair p;
	struct km_match m;

	(void)state;
	a.colour.word = "marsh brown";
	b.colour.word = "Marsh-Brown";
	c.colour.word = "marsh grey";
	begin(&p, "combination pliers");
	want(&p, KM_A_HANDLE_COLOUR, a);
	have(&p, KM_A_HANDLE_COLOUR, b);
	assert_int_equal(compare(&p, KM_AS_DELIVERED).verdict, KM_RIGHT);
	have(&p, KM_A_HANDLE_COLOUR, c);
	m = compare(&p, KM_AS_DELIVERED);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_HANDLE_COLOUR);
	assert_int_equal(m.on[KM_ASP_HANDLE_COLOUR].by, -1);
}

static void another_handle_material_is_noted_for_use(void **state)
{
	struct pair p;

	(void)state;
	begin(&p, "hammer");
	want(&p, KM_A_HANDLE_MATERIAL, material_of("wood"));
	have(&p, KM_A_HANDLE_MATERIAL, material_of("rubber"));
	assert_verdict(compare(&p, KM_PERIOD_CORRECT), KM_SUBSTITUTE,
		       KM_ASP_HANDLE_MATERIAL);
	assert_int_equal(compare(&p, KM_USABLE).verdict, KM_RIGHT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_unread_mark_is_neither_match_nor_mismatch),
		cmocka_unit_test(a_recorded_none_is_a_mismatch),
		cmocka_unit_test(one_of_several_marks_may_be_none),
		cmocka_unit_test(a_listed_mark_stands_as_whole_words),
		cmocka_unit_test(who_made_it_counts_as_the_rules_say),
		cmocka_unit_test(
			made_that_is_not_recorded_passes_at_half_the_score),
		cmocka_unit_test(a_superseding_part_fails_on_what_changed),
		cmocka_unit_test(a_change_fails_what_the_tool_does_not_record),
		cmocka_unit_test(
			a_change_that_nothing_wanted_shows_fails_the_part),
		cmocka_unit_test(an_older_part_does_not_supersede),
		cmocka_unit_test(a_finish_passes_as_far_as_the_table_says),
		cmocka_unit_test(better_than_new_is_over_restored),
		cmocka_unit_test(faces_count_where_they_are_wanted),
		cmocka_unit_test(at_the_plater_a_wrong_finish_is_being_cured),
		cmocka_unit_test(a_green_handle_is_not_an_amber_one),
		cmocka_unit_test(the_limits_of_a_colour_are_inclusive),
		cmocka_unit_test(
			a_colour_of_a_word_alone_is_compared_as_a_word),
		cmocka_unit_test(another_handle_material_is_noted_for_use),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
