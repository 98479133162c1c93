/* SPDX-License-Identifier: MIT */
/*
 * One tool against one slot: rust, pits, plating, damage, handles, and
 * whether it may turn a nut.  The verdicts follow from the rules that
 * test_rules.c holds cell by cell.
 */
#include "match_fixture.h"

/* Limits: rust Ri 1, 2, 4; pits none, few; plate 90, 75 per cent.  A share of
 * 0.06 per cent is Ri 2 and one of 0.05 is Ri 1: the lowest degree whose
 * nominal area [iso-4628-3] is not below it. */
static void each_standard_has_its_limits(void **state)
{
	static const struct {
		int8_t rust;
		int32_t share;
		enum km_pits pits;
		int32_t plate;
		enum km_verdict verdict[KM_STANDARDS];
	} rows[] = {
#define R KM_RIGHT
#define W KM_AFTER_WORK
		{ 1, -1, KM_PITS_NONE, 9000, { R, R, R, R } },
		{ 2, -1, KM_PITS_NONE, 9000, { W, R, R, R } },
		{ 3, -1, KM_PITS_NONE, 9000, { W, W, R, R } },
		{ 4, -1, KM_PITS_NONE, 9000, { W, W, R, R } },
		{ 5, -1, KM_PITS_NONE, 9000, { W, W, W, R } },
		{ -1, 5, KM_PITS_NONE, 9000, { R, R, R, R } },
		{ -1, 6, KM_PITS_NONE, 9000, { W, R, R, R } },
		{ 0, -1, KM_PITS_FEW, 9000, { W, R, R, R } },
		{ 0, -1, KM_PITS_GENERAL, 9000, { W, W, R, R } },
		{ 0, -1, KM_PITS_NONE, 8999, { W, R, R, R } },
		{ 0, -1, KM_PITS_NONE, 7500, { W, R, R, R } },
		{ 0, -1, KM_PITS_NONE, 7499, { W, W, R, R } },
#undef R
#undef W
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++)
		for (int s = 0; s < KM_STANDARDS; s++) {
			struct pair p;

			begin(&p, "combination pliers");
			have(&p, KM_A_FINISH, finish_of("nickel", NULL));
			p.condition.rust = rows[i].rust;
			p.condition.rust_share = rows[i].share;
			p.condition.pits = rows[i].pits;
			p.condition.plate_left = rows[i].plate;
			if (compare(&p, (enum km_standard)s).verdict !=
			    rows[i].verdict[s])
				fail_msg("row %zu, standard %d", i, s);
		}
}

static void plating_counts_where_there_is_any(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	have(&p, KM_A_FINISH, finish_of("forged", NULL));
	p.condition.plate_left = 1000;
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.on[KM_ASP_PLATE].outcome, KM_NOT_WANTED);
	have(&p, KM_A_FINISH, finish_of("painted", NULL));
	p.condition.paint_left = 9500;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_PLATE, KM_F_SOUND, KM_PASSES);
	/* 5 of the 10 per cent that may be gone: 1000 - 200 x 5 / 10 */
	assert_int_equal(m.on[KM_ASP_PLATE].score, 900);
	assert_int_equal(m.on[KM_ASP_PLATE].by, 9500);
	have(&p, KM_A_FINISH, finish_of("zinc clear", NULL));
	p.condition.plate_left = -1;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_PLATE, KM_F_CONDITION_UNRECORDED, KM_NOTED);
}

static void a_condition_not_looked_at_is_not_sound(void **state)
{
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "combination pliers");
	p.tool.condition = NULL;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_CONDITION, KM_F_CONDITION_UNRECORDED,
		      KM_NOTED);
	assert_int_equal(m.condition, 500);
	assert_int_equal(m.fit, KM_FIT_UNKNOWN);
	assert_int_equal(m.verdict, KM_RIGHT);
	p.condition = blank_condition();
	p.condition.rust = 0;
	p.tool.condition = &p.condition;
	m = compare(&p, KM_AS_DELIVERED);
	assert_aspect(m, KM_ASP_CONDITION, KM_F_NOTHING, KM_PASSES);
	assert_aspect(m, KM_ASP_DAMAGE, KM_F_CONDITION_UNRECORDED, KM_NOTED);
	assert_int_equal(m.condition, 666);	/* of 1000, 500, 500 */
	assert_int_equal(m.fit, KM_FIT);
	/* a new offer that says nothing is sound */
	p.tool.condition = NULL;
	p.thing.unused = true;
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.condition, 1000);
	assert_int_equal(m.fit, KM_FIT);
}

/* Columns: verdict as-delivered, usable, and fit. */
static void damage_is_curable_or_unfit_or_a_missing_piece(void **state)
{
	static const struct {
		enum km_damage_what what;
		enum km_verdict delivered, usable;
		enum km_fitness fit;
	} rows[] = {
		{ KM_DMG_SPREAD, KM_RIGHT, KM_SUBSTITUTE, KM_UNFIT },
		{ KM_DMG_CRACKED, KM_RIGHT, KM_SUBSTITUTE, KM_UNFIT },
		{ KM_DMG_BENT_HARD, KM_RIGHT, KM_SUBSTITUTE, KM_UNFIT },
		{ KM_DMG_CHIPPED_LARGE, KM_RIGHT, KM_SUBSTITUTE, KM_UNFIT },
		{ KM_DMG_BENT_SOFT, KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_DMG_ROUNDED, KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_DMG_MUSHROOMED, KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_DMG_CHIPPED_SMALL, KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_DMG_MISSING, KM_SUBSTITUTE, KM_SUBSTITUTE, KM_UNFIT },
		{ KM_DMG_GROUND, KM_RIGHT, KM_RIGHT, KM_FIT },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct km_damage d = { .what = rows[i].what, .by_nm = -1 };
		struct pair p;
		struct km_match m;

		begin(&p, "punch");
		p.condition.damage = &d;
		p.condition.n_damage = 1;
		m = compare(&p, KM_AS_DELIVERED);
		assert_int_equal(m.verdict, rows[i].delivered);
		assert_int_equal(m.fit, rows[i].fit);
		assert_int_equal(m.damage, 1 << rows[i].what);
		assert_int_equal(compare(&p, KM_USABLE).verdict,
				 rows[i].usable);
		assert_int_equal(compare(&p, KM_AS_FOUND).verdict,
				 rows[i].what == KM_DMG_MISSING ? KM_SUBSTITUTE
								: KM_RIGHT);
	}
}

/* A jaw for 13 mm opens to 13.24 at most [gbt-4390-1995]: 0.35 mm over the
 * nominal width is too wide, 0.20 is not. */
static void a_recorded_spread_counts_beyond_the_greatest_opening(void **state)
{
	struct km_damage d = { .what = KM_DMG_SPREAD, .end = 1,
			       .by_nm = UM(350) };
	struct pair p;
	struct km_match m;

	(void)state;
	begin(&p, "single open-ended spanner");
	want(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	have(&p, KM_A_SIZES, hexagons("13 mm", NULL));
	p.condition.damage = &d;
	p.condition.n_damage = 1;
	m = compare(&p, KM_USABLE);
	assert_verdict(m, KM_SUBSTITUTE, KM_ASP_UNFIT);
	d.by_nm = UM(200);
	m = compare(&p, KM_USABLE);
	assert_verdict(m, KM_RIGHT, KM_ASPECTS);
	assert_int_equal(m.fit, KM_FIT);
}

static void handles_are_judged_by_what_can_come_of_them(void **state)
{
	static const struct {
		enum km_handle handle;
		const char *material;
		enum km_verdict delivered, usable;
		enum km_fitness fit;
	} rows[] = {
		{ KM_HANDLE_OK, "wood", KM_RIGHT, KM_RIGHT, KM_FIT },
		{ KM_HANDLE_SCUFFED, "wood", KM_RIGHT, KM_RIGHT, KM_FIT },
		{ KM_HANDLE_FADED, "acetate", KM_AFTER_WORK, KM_RIGHT,
		  KM_FIT },
		{ KM_HANDLE_STICKY, "acetate", KM_AFTER_WORK, KM_RIGHT,
		  KM_FIT },
		{ KM_HANDLE_SPLIT, "wood", KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_HANDLE_SPLIT, "acetate", KM_AFTER_WORK, KM_RIGHT,
		  KM_FIT_AFTER_WORK },
		{ KM_HANDLE_LOOSE, "acetate", KM_AFTER_WORK, KM_AFTER_WORK,
		  KM_FIT_AFTER_WORK },
		{ KM_HANDLE_MISSING, "wood", KM_SUBSTITUTE, KM_SUBSTITUTE,
		  KM_UNFIT },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct pair p;
		struct km_match m;

		begin(&p, "hammer");
		have(&p, KM_A_HANDLE_MATERIAL, material_of(rows[i].material));
		p.condition.handle = rows[i].handle;
		m = compare(&p, KM_AS_DELIVERED);
		assert_int_equal(m.verdict, rows[i].delivered);
		assert_int_equal(m.fit, rows[i].fit);
		assert_int_equal(compare(&p, KM_USABLE).verdict,
				 rows[i].usable);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_standard_has_its_limits),
		cmocka_unit_test(plating_counts_where_there_is_any),
		cmocka_unit_test(a_condition_not_looked_at_is_not_sound),
		cmocka_unit_test(damage_is_curable_or_unfit_or_a_missing_piece),
		cmocka_unit_test(
			a_recorded_spread_counts_beyond_the_greatest_opening),
		cmocka_unit_test(handles_are_judged_by_what_can_come_of_them),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
