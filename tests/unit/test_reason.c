/* SPDX-License-Identifier: MIT */
/*
 * The wording of a reason: comparisons written out by hand, exact texts.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "report/words.h"
#include "report_fixture.h"

static struct km_arena *mem;
static struct km_buf b;
static struct sample s;

static int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	if (!mem)
		return -1;
	km_buf_init(&b, mem);
	sample_make(&s, false);
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

static void expect(int slot, const char *text)
{
	km_buf_clear(&b);
	km_reason(&b, &s.match[slot]);
	assert_false(km_buf_failed(&b));
	assert_string_equal(b.len ? b.text : "", text);
}

/* A fault of S-01, with a value recorded for one attribute. */
static struct km_comparison *fault(enum km_aspect a, enum km_finding f,
				   enum km_attr attr,
				   const union km_value *value)
{
	s.tool[S01].traits.has = value ? 1u << attr : 0;
	if (value)
		s.value[S01][0] = *value;
	sample_fault(&s, S01, a, f, KM_FAILS);
	return &s.match[S01].on[a];
}

static void end(uint32_t i, enum km_end_state state,
		const struct km_size *wanted, const struct km_size *have)
{
	struct km_match *m = &s.match[S01];

	m->end[i] = (struct km_end){ .slot_end = (uint8_t)i,
		.tool_end = (uint8_t)i, .state = state, .wanted = wanted,
		.have = have };
	m->n_ends = (uint8_t)(i + 1);
}

static void a_right_match_has_no_reason(void **state)
{
	(void)state;
	expect(S01, "");
}

static void lengths_say_by_how_much(void **state)
{
	struct km_comparison *c;

	(void)state;
	expect(S07, "length +13 mm, 10 over tolerance");
	c = fault(KM_ASP_LENGTH, KM_F_DIMENSION_NEAR, KM_A_LENGTH, NULL);
	c->by = -4500000;
	c->over = 1500000;
	expect(S01, "length -4.5 mm, 1.5 over tolerance");
	c->letter = KM_NOTED;
	expect(S01, "length -4.5 mm, 1.5 over tolerance, near enough for use");
	c = fault(KM_ASP_ANGLE, KM_F_DIMENSION_OUTSIDE, KM_A_ANGLE, NULL);
	c->by = 750;		/* hundredths of a degree */
	c->over = 500;
	expect(S01, "angle +7.5 degrees, 5 over tolerance");
	(void)fault(KM_ASP_LENGTH, KM_F_DIMENSION_UNRECORDED, KM_A_LENGTH,
		    NULL);
	expect(S01, "length not recorded: 148 +-3 mm wanted, measure it");
}

static void one_end_right_names_the_other(void **state)
{
	(void)state;
	(void)fault(KM_ASP_SIZES, KM_F_END_WRONG, KM_A_SIZES, NULL);
	end(0, KM_END_RIGHT, &m10, &m10);
	end(1, KM_END_WRONG, &m12, &m13);
	expect(S01, "one end right (10), other 13 instead of 12");
	end(1, KM_END_WRONG, &m12, &af12);
	expect(S01, "one end right (10 mm), other 1/2 AF instead of 12 mm");
	end(1, KM_END_MISSING, &m12, NULL);
	expect(S01, "one end right (10), no end for 12");
	s.match[S01].on[KM_ASP_SIZES].finding = KM_F_WIDTH_SERVES;
	end(0, KM_END_SERVES_BOTH, &m12, &af12);
	s.match[S01].n_ends = 1;
	expect(S01, "1/2 AF instead of 12 mm, serves both ways");
}

static void undecided_sizes_name_both(void **state)
{
	static const struct km_span measured = { 12720000, 5000, 5000 };
	static const union km_value opening = { .spans = { &measured, 1 } };

	(void)state;
	(void)fault(KM_ASP_SIZES, KM_F_WIDTH_UNDECIDED, KM_A_SIZES, NULL);
	end(0, KM_END_UNDECIDED, &m12, &m12);
	s.match[S01].end[0].or_else = &af12;
	expect(S01, "sizes undecided: 12 mm or 1/2 AF, read the mark or use a "
		    "gauge");
	(void)fault(KM_ASP_SIZES, KM_F_WIDTH_UNRECORDED, KM_A_SIZES, NULL);
	end(0, KM_END_UNRECORDED, &w14, NULL);
	expect(S01, "sizes not recorded: 1/4 W wanted, measure or read the "
		    "mark");
	(void)fault(KM_ASP_SIZES, KM_F_WIDTH_CONTRADICTS, KM_A_OPENINGS,
		    &opening);
	end(0, KM_END_CONTRADICTS, &m10, &m10);
	expect(S01, "marked 10 mm but measures 12.72 mm, measure again");
}

static void marks_are_quoted(void **state)
{
	static const union km_value other = { .text = "BRANKEL 4" };

	(void)state;
	expect(S03, "mark illegible: clean gently, read again");
	s.condition[S03].marking = KM_MARKING_GONE;
	expect(S03, "mark gone");
	(void)fault(KM_ASP_MARK, KM_F_MARK_OTHER, KM_A_MARK, &other);
	expect(S01, "mark BRANKEL 4 instead of LARKMOOR or LM");
	(void)fault(KM_ASP_MARK, KM_F_MARK_NONE, KM_A_MARK, NULL);
	expect(S01, "unmarked instead of mark LARKMOOR or LM");
	(void)fault(KM_ASP_MARK, KM_F_MARK_UNWANTED, KM_A_MARK, &other);
	expect(S01, "mark BRANKEL 4 where none belongs");
	(void)fault(KM_ASP_MARK, KM_F_MARK_UNRECORDED, KM_A_MARK, NULL);
	expect(S01, "mark not recorded: LARKMOOR or LM wanted, look for it");
}

static void a_size_name_says_what_is_struck(void **state)
{
	(void)state;
	(void)fault(KM_ASP_SIZE_NAME, KM_F_NAME_OTHER, KM_A_SIZES, NULL);
	end(0, KM_END_RIGHT, &w14, &bs516);
	s.match[S01].end[0].name_recorded = true;
	expect(S01, "mark 5/16 BS instead of 1/4 W");
	(void)fault(KM_ASP_SIZE_NAME, KM_F_NAME_UNRECORDED, KM_A_SIZES, NULL);
	s.match[S01].end[0].name_recorded = false;
	expect(S01, "size mark not recorded: look for 1/4 W");
}

static void finish_and_handle(void **state)
{
	struct km_comparison *c;

	(void)state;
	expect(S04, "finish nickel chrome instead of black oxide, "
		    "over-restored");
	s.slot[S01].want[KM_A_HANDLE_COLOUR] = (struct km_want)WANT(v_amber);
	c = fault(KM_ASP_HANDLE_COLOUR, KM_F_COLOUR_WRONG, KM_A_HANDLE_COLOUR,
		  &v_green);
	c->by = 45180;		/* thousandths; to the tenth 45.2 */
	expect(S01, "handle colour green instead of amber (dE00 45.2)");
}

static void condition_says_what_and_how_far(void **state)
{
	struct km_comparison *c;

	(void)state;
	expect(S05, "rust Ri 3, 2 over the limit");
	c = fault(KM_ASP_PLATE, KM_F_PLATE_BELOW, KM_ATTRS, NULL);
	s.condition[S01].plate_left = 6000;
	c->over = 3000;		/* hundredths of a per cent */
	expect(S01, "plating 60 % left, 30 % under the limit");
	(void)fault(KM_ASP_PITS, KM_F_CONDITION_UNRECORDED, KM_ATTRS, NULL);
	expect(S01, "pits not recorded");
}

/* What work cures and what lasts are told apart, and a jaw that was only
 * measured to be spread is named as well as one so recorded. */
static void damage_is_named_by_what_becomes_of_it(void **state)
{
	static const struct km_damage both[] = {
		{ KM_DMG_ROUNDED, 0, 1000000, NULL },
		{ KM_DMG_CRACKED, 0, -1, "jaw" },
	};

	(void)state;
	s.condition[S01].damage = both;
	s.condition[S01].n_damage = 2;
	s.condition[S01].handle = KM_HANDLE_LOOSE;
	s.match[S01].damage = 1u << KM_DMG_ROUNDED | 1u << KM_DMG_CRACKED |
			      1u << KM_DMG_SPREAD;
	s.match[S01].unfit_for = s.match[S01].damage;
	(void)fault(KM_ASP_DAMAGE, KM_F_DAMAGE_CURABLE, KM_ATTRS, NULL);
	expect(S01, "rounded by 1 mm, handle loose");
	(void)fault(KM_ASP_UNFIT, KM_F_UNFIT, KM_ATTRS, NULL);
	expect(S01, "jaw spread, cracked (jaw), display only");
	s.condition[S01].handle = KM_HANDLE_MISSING;
	(void)fault(KM_ASP_PIECE, KM_F_PIECE_MISSING, KM_ATTRS, NULL);
	expect(S01, "handle missing");
}

static void parts_and_makers(void **state)
{
	static const union km_value part = { .text = "51-020" };

	(void)state;
	s.slot[S01].want[KM_A_PART] = (struct km_want)WANT(v_part);
	(void)fault(KM_ASP_PART, KM_F_PART_OTHER, KM_A_PART, &part);
	expect(S01, "part 51-020 instead of 54-702");
	(void)fault(KM_ASP_PART, KM_F_PART_SUPERSEDING, KM_A_PART, &part);
	expect(S01, "part 51-020 supersedes 54-702");
	/* what changed with the number and was not written down */
	(void)fault(KM_ASP_FINISH, KM_F_PART_SUPERSEDING, KM_A_PART, &part);
	expect(S01, "finish not as before with part 51-020");
	(void)fault(KM_ASP_MADE, KM_F_REPRODUCTION, KM_A_MADE, NULL);
	expect(S01, "reproduction");
}

/* Every finding that can be a headline says something. */
static void no_fault_is_silent(void **state)
{
	static const struct { enum km_aspect a; enum km_finding f; } faults[] = {
		{ KM_ASP_SIZES, KM_F_WIDTH_SERVES },
		{ KM_ASP_SIZES, KM_F_END_WRONG },
		{ KM_ASP_FINISH, KM_F_FINISH_NEAR },
		{ KM_ASP_HANDLE_COLOUR, KM_F_PART_SUPERSEDING },
		{ KM_ASP_FINISH, KM_F_FINISH_NEAR_CADMIUM },
		{ KM_ASP_FINISH, KM_F_FINISH_UNRECORDED },
		{ KM_ASP_HANDLE_MATERIAL, KM_F_MATERIAL_OTHER },
		{ KM_ASP_HANDLE_MATERIAL, KM_F_MATERIAL_UNRECORDED },
		{ KM_ASP_HANDLE_COLOUR, KM_F_COLOUR_OFF },
		{ KM_ASP_HANDLE_COLOUR, KM_F_COLOUR_UNRECORDED },
		{ KM_ASP_MADE, KM_F_MADE_PERIOD },
		{ KM_ASP_PITS, KM_F_PITS_ABOVE },
		{ KM_ASP_CONDITION, KM_F_CONDITION_UNRECORDED },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(faults); i++) {
		(void)fault(faults[i].a, faults[i].f, KM_ATTRS, NULL);
		km_buf_clear(&b);
		km_reason(&b, &s.match[S01]);
		if (!b.len)
			fail_msg("row %zu is silent", i);
	}
}

static void slots_are_described_in_trade_words(void **state)
{
	(void)state;
	km_buf_clear(&b);
	km_words_of_want(&b, &s.slot[S01], false);
	assert_string_equal(b.text, "double open-ended spanner 1/4 W x 5/16 W, "
				    "148 +-3 mm, mark LARKMOOR or LM");
	km_buf_clear(&b);
	/* 0.525 in = 13.335 mm, 0.600 in = 15.24 mm [nist-sp811] */
	km_words_of_slot(&b, &s.slot[S01], true);
	assert_string_equal(b.text, "double open-ended spanner 1/4 W (13.3 mm) "
				    "x 5/16 W (15.2 mm)");
	km_buf_clear(&b);
	km_words_of_want(&b, &s.slot[S08], true);
	assert_string_equal(b.text, "screwdriver 0.8 x 5.5 mm, handle amber");
	km_buf_clear(&b);
	s.slot[S07].want[KM_A_LENGTH].assumed = true;
	km_words_of_want(&b, &s.slot[S07], false);
	assert_string_equal(b.text, "combination pliers, 165 +-3 mm (assumed)");
}

static void remarks_are_sentences(void **state)
{
	static const struct km_kit other_kit = { .id = "larkmoor-56" };
	struct km_slot other = { .id = "S-05", .kit = &other_kit };
	struct km_remark r = { .slot = &s.slot[S03], .other = &other,
		.tool = &s.tool[S01], .aspect = KM_ASP_MARK };
	static const struct { enum km_remark_what what; const char *says; }
	rows[] = {
		{ KM_REMARK_PIN_WORSE, "T-014 would be a better match for S-03 "
				       "than what is pinned there (mark)" },
		{ KM_REMARK_SECOND_BEST, "S-03 takes second best: T-014 went to "
					 "larkmoor-56/S-05 (mark)" },
		{ KM_REMARK_CLASH, "T-014 is wanted by S-03 and "
				   "larkmoor-56/S-05, given to "
				   "larkmoor-56/S-05; another costs 18.00" },
		{ KM_REMARK_NOT_MINE, "T-014 would fill S-03, but belongs to "
				      "customer-b" },
		{ KM_REMARK_OLD_PRICE, "the price for S-03 is old: "
				       "1800 months" },
	};

	(void)state;
	s.tool[S01].owner = "customer-b";
	r.a = 1800;
	for (size_t i = 0; i < COUNT(rows); i++) {
		r.what = rows[i].what;
		km_buf_clear(&b);
		km_words_remark(&b, &r, &s.kit, 2);
		assert_string_equal(b.text, rows[i].says);
	}
	r.what = KM_REMARK_BAR_HOLE;
	r.a = 10000000;
	r.b = 9500000;
	km_buf_clear(&b);
	km_words_remark(&b, &r, &s.kit, 2);
	assert_string_equal(b.text, "T-014 does not pass the hole of "
				    "larkmoor-56/S-05: bar 10 mm, hole 9.5 mm");
}

int main(void)
{
#define T(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
	const struct CMUnitTest tests[] = {
		T(a_right_match_has_no_reason), T(lengths_say_by_how_much),
		T(one_end_right_names_the_other), T(undecided_sizes_name_both),
		T(marks_are_quoted), T(a_size_name_says_what_is_struck),
		T(finish_and_handle), T(condition_says_what_and_how_far),
		T(damage_is_named_by_what_becomes_of_it),
		T(parts_and_makers), T(no_fault_is_silent),
		T(slots_are_described_in_trade_words),
		T(remarks_are_sentences),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
