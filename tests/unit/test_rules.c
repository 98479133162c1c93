/* SPDX-License-Identifier: MIT */
/*
 * The verdict rules, cell by cell.  The table is a choice of this project
 * (docs/method.md); the rows below are that table, written out by hand.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "match/rules.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

/* Columns: as-delivered, period-correct, usable, as-found. */
static const struct {
	const char *row;
	enum km_finding finding;
	const char *letters;
} table[] = {
	{ "nothing or unknown wanted", KM_F_NOTHING, "PPPP" },
	{ "all widths right, in any order", KM_F_WIDTHS_RIGHT, "PPPP" },
	{ "width wrong but serves both ways", KM_F_WIDTH_SERVES, "FFNF" },
	{ "other end wrong", KM_F_END_WRONG, "FFFF" },
	{ "undecided", KM_F_WIDTH_UNDECIDED, "UUUU" },
	{ "neither marked nor measured", KM_F_WIDTH_UNRECORDED, "UUUU" },
	{ "mark and opening disagree", KM_F_WIDTH_CONTRADICTS, "UUUU" },
	{ "struck size name listed", KM_F_NAME_LISTED, "PPPP" },
	{ "struck size name not the listed one", KM_F_NAME_OTHER, "FNPF" },
	{ "struck size name not recorded", KM_F_NAME_UNRECORDED, "UNPU" },
	{ "dimension within tolerance", KM_F_DIMENSION_WITHIN, "PPPP" },
	{ "dimension outside, to 10 %", KM_F_DIMENSION_NEAR, "FFNF" },
	{ "dimension outside, over 10 %", KM_F_DIMENSION_OUTSIDE, "FFFF" },
	{ "dimension not recorded", KM_F_DIMENSION_UNRECORDED, "UUNU" },
	{ "mark listed", KM_F_MARK_LISTED, "PPPP" },
	{ "mark not listed", KM_F_MARK_OTHER, "FNPF" },
	{ "`none` against a mark", KM_F_MARK_NONE, "FNPF" },
	{ "a mark against `none`", KM_F_MARK_UNWANTED, "FNPF" },
	{ "mark illegible or gone", KM_F_MARK_UNREAD, "UNPU" },
	{ "mark not recorded", KM_F_MARK_UNRECORDED, "UNPU" },
	{ "made as wanted", KM_F_MADE_RIGHT, "PPPP" },
	{ "reproduction", KM_F_REPRODUCTION, "FFPF" },
	{ "made in period by another", KM_F_MADE_PERIOD, "FNPF" },
	{ "maker's time not recorded", KM_F_MADE_UNRECORDED, "PPPP" },
	{ "the same part", KM_F_PART_SAME, "PPPP" },
	{ "superseding part, on each change", KM_F_PART_SUPERSEDING, "FNPF" },
	{ "another part: as a mark not listed", KM_F_PART_OTHER, "FNPF" },
	{ "part not recorded", KM_F_PART_UNRECORDED, "PPPP" },
	{ "finish the same", KM_F_FINISH_SAME, "PPPP" },
	{ "finish near, cadmium wanted", KM_F_FINISH_NEAR_CADMIUM, "NNPF" },
	{ "finish near", KM_F_FINISH_NEAR, "FNPF" },
	{ "finish at a distance or other", KM_F_FINISH_OTHER, "FFPF" },
	{ "finish not recorded", KM_F_FINISH_UNRECORDED, "UUPU" },
	{ "handle material the same", KM_F_MATERIAL_SAME, "PPPP" },
	{ "handle material differs", KM_F_MATERIAL_OTHER, "FFNF" },
	{ "handle material not recorded", KM_F_MATERIAL_UNRECORDED, "UNPU" },
	{ "handle colour up to 3.5", KM_F_COLOUR_SAME, "PPPP" },
	{ "handle colour up to 6", KM_F_COLOUR_OFF, "NNPN" },
	{ "handle colour over 6", KM_F_COLOUR_WRONG, "FNPF" },
	{ "handle colour not recorded", KM_F_COLOUR_UNRECORDED, "UNPU" },
	{ "condition within its limit", KM_F_SOUND, "PPPP" },
	{ "rust above", KM_F_RUST_ABOVE, "CCCN" },
	{ "pits above", KM_F_PITS_ABOVE, "CCNN" },
	{ "plate left below", KM_F_PLATE_BELOW, "CCNN" },
	{ "curable damage, handle fault", KM_F_DAMAGE_CURABLE, "CCCN" },
	{ "another kind, pinned", KM_F_KIND_OTHER, "FFFF" },
	{ "piece missing", KM_F_PIECE_MISSING, "FFFF" },
	{ "sprung, cracked, large chip", KM_F_UNFIT, "NNFN" },
	{ "condition not recorded", KM_F_CONDITION_UNRECORDED, "NNNN" },
};

static void every_cell_is_the_one_of_the_table(void **state)
{
	static const char word[] = {
		[KM_PASSES] = 'P', [KM_NOTED] = 'N', [KM_NOT_KNOWN] = 'U',
		[KM_CURABLE] = 'C', [KM_FAILS] = 'F',
	};

	(void)state;
	for (size_t i = 0; i < COUNT(table); i++)
		for (int s = 0; s < KM_STANDARDS; s++) {
			char got = word[km_rules_letter(table[i].finding,
							(enum km_standard)s)];

			if (got != table[i].letters[s])
				fail_msg("%s, column %d: got %c, wanted %c",
					 table[i].row, s + 1, got,
					 table[i].letters[s]);
		}
}

static void every_finding_stands_in_the_table_once(void **state)
{
	int seen[KM_FINDINGS] = { 0 };

	(void)state;
	for (size_t i = 0; i < COUNT(table); i++)
		seen[table[i].finding]++;
	for (int f = 0; f < KM_FINDINGS; f++)
		if (seen[f] != 1)
			fail_msg("finding %d stands there %d times", f, seen[f]);
}

/*
 * Rust Ri 1, 2, 4; pits none, few; plate 90 %, 75 %; colour 3.5 and 6 (350
 * and 600 hundredths are 3500 and 6000 thousandths); a dimension to 10 %.
 * Where the table has no figure, the first one of the row is noted from.
 */
static void limits_are_those_of_the_table(void **state)
{
	static const struct {
		int32_t rust, pits, plate, pass, note, usable;
	} want[KM_STANDARDS] = {
		[KM_AS_DELIVERED] = { 1, 0, 9000, 3500, 6000, 1000 },
		[KM_PERIOD_CORRECT] = { 2, 1, 7500, 3500, 6000, 1000 },
		[KM_USABLE] = { 4, 0, 9000, 3500, 6000, 1000 },
		[KM_AS_FOUND] = { 1, 0, 9000, 3500, 6000, 1000 },
	};

	(void)state;
	for (int s = 0; s < KM_STANDARDS; s++) {
		struct km_rules r;

		km_rules_init(&r, NULL, (enum km_standard)s);
		assert_int_equal(r.standard, s);
		assert_int_equal(r.rust, want[s].rust);
		assert_int_equal(r.pits, want[s].pits);
		assert_int_equal(r.plate_left, want[s].plate);
		assert_int_equal(r.colour_pass, want[s].pass);
		assert_int_equal(r.colour_note, want[s].note);
		assert_int_equal(r.length_usable, want[s].usable);
		assert_null(r.superseded);
	}
}

static void a_kit_may_set_its_own_limits(void **state)
{
	struct km_kit kit = { .limits = { 3, -1, 0, -1, 9000, 500 } };
	struct km_rules r;

	(void)state;
	km_rules_init(&r, &kit, KM_AS_DELIVERED);
	assert_ptr_equal(r.kit, &kit);
	assert_int_equal(r.rust, 3);
	assert_int_equal(r.pits, 0);		/* not set: the table's */
	assert_int_equal(r.plate_left, 0);
	assert_int_equal(r.colour_pass, 3500);
	assert_int_equal(r.colour_note, 9000);
	assert_int_equal(r.length_usable, 500);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_cell_is_the_one_of_the_table),
		cmocka_unit_test(every_finding_stands_in_the_table_once),
		cmocka_unit_test(limits_are_those_of_the_table),
		cmocka_unit_test(a_kit_may_set_its_own_limits),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
