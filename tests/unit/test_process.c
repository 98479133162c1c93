/* SPDX-License-Identifier: MIT */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <string.h>

#include <cmocka.h>

#include "trade/caution.h"
#include "trade/hardness.h"
#include "trade/process.h"

static struct km_effect effect(enum km_process_id id)
{
	struct km_effect e;

	if (!km_effect_read(&km_processes[id], &e))
		fail_msg("row %s cannot be read", km_processes[id].word);
	return e;
}

static void every_row_is_read(void **state)
{
	(void)state;
	for (int i = 0; i < KM_PROCESSES; i++) {
		struct km_effect e = effect((enum km_process_id)i);

		assert_true(e.elapsed[0] <= e.elapsed[1]);
		assert_true(e.elapsed[1] <= e.elapsed[2]);
		assert_ptr_equal(km_process_find(km_slice_of(
			km_processes[i].word)), &km_processes[i]);
	}
}

static void a_wrong_word_is_refused(void **state)
{
	struct km_process p = km_processes[KM_PROCESS_POLISH];
	struct km_effect e;

	(void)state;
	p.cures = "scuff>nowhere";
	assert_false(km_effect_read(&p, &e));
	p = km_processes[KM_PROCESS_POLISH];
	p.needs = "wash_degrease;(polish|no_such_step)";
	assert_false(km_effect_read(&p, &e));
	p = km_processes[KM_PROCESS_POLISH];
	p.never_on = "cond:tired";
	assert_false(km_effect_read(&p, &e));
}

static void ids_are_found_folded(void **state)
{
	char word[KM_PROCESS_ROOM];
	const struct km_process *p = km_process_find(km_slice_of("plate zinc"));

	(void)state;
	assert_non_null(p);
	assert_int_equal(p->id, KM_PROCESS_PLATE_ZINC);
	km_process_word(p, word);
	assert_string_equal(word, "plate_zinc");
	assert_null(km_process_find(km_slice_of("gild")));
}

/* The row of zinc plating in data/processes.def, read by eye: needs one of six
 * ways of cleaning, and washing; never on a cracked tool nor on plastic or
 * wooden handles; hours 72, 240, 480. */
static void zinc_plating_reads_as_written(void **state)
{
	struct km_effect e = effect(KM_PROCESS_PLATE_ZINC);

	(void)state;
	assert_int_equal(e.n_needs, 2);
	assert_int_equal(__builtin_popcountll(e.need[0]), 6);
	assert_true(e.need[0] & KM_BIT(KM_PROCESS_SOAK_CHELATE));
	assert_int_equal(e.need[1], KM_BIT(KM_PROCESS_WASH_DEGREASE));
	assert_int_equal(e.never, KM_GUARD_CRACKED);
	assert_true(e.never_finish & KM_BIT(KM_FINISH_WOOD_HANDLE));
	assert_true(e.from & KM_S(WORN_ZINC));
	assert_int_equal(e.elapsed[0], 7200);
	assert_int_equal(e.elapsed[2], 48000);
	assert_true(e.cautions & KM_CAUTION_BIT(C24));
	assert_false(e.cautions & KM_CAUTION_BIT(C01));
}

static const struct km_finish *finish(enum km_finish_id id)
{
	return &km_finishes[id - 1];
}

/* SOURCE osha-hib-2001-12-21 (C01), 29-cfr-1926-62 (C18): what hangs on the
 * tool prints where the finish is listed or not known, else not. */
static void five_cautions_hang_on_the_tool(void **state)
{
	const struct km_process *clean = &km_processes[KM_PROCESS_HAND_CLEAN];
	const struct km_process *soak = &km_processes[KM_PROCESS_SOAK_CITRIC];
	struct km_caution_tool t = { .body = finish(KM_FINISH_BLACK_OXIDE) };
	uint64_t set = km_caution_of_process(clean, &t);

	(void)state;
	assert_false(set & KM_CAUTION_BIT(C01));
	assert_false(set & KM_CAUTION_BIT(C18));
	assert_true(set & KM_CAUTION_BIT(C38));
	t.old_paint = true;
	assert_true(km_caution_of_process(clean, &t) & KM_CAUTION_BIT(C18));
	t = (struct km_caution_tool){ .body = finish(KM_FINISH_CADMIUM_CLEAR) };
	assert_true(km_caution_of_process(clean, &t) & KM_CAUTION_BIT(C01));
	t = (struct km_caution_tool){ .body = NULL };
	set = km_caution_of_process(clean, &t);
	assert_true(set & KM_CAUTION_BIT(C01));
	assert_true(set & KM_CAUTION_BIT(C18));
	t = (struct km_caution_tool){ .body = finish(KM_FINISH_ZINC_CLEAR) };
	assert_true(km_caution_of_process(soak, &t) & KM_CAUTION_BIT(C10));
	t.body = finish(KM_FINISH_NICKEL);
	assert_false(km_caution_of_process(soak, &t) & KM_CAUTION_BIT(C10));
	assert_true(km_caution_of_process(soak, &t) & KM_CAUTION_BIT(C09));
}

/* SOURCE 29-cfr-1926-301: sprung jaws (b), mushroomed heads (c), handles
 * (d); cracked tools by the same section. */
static void conditions_bring_their_cautions(void **state)
{
	(void)state;
	assert_int_equal(km_caution_of_condition("spread"),
			 KM_CAUTION_BIT(C27));
	assert_int_equal(km_caution_of_condition("mushroomed"),
			 KM_CAUTION_BIT(C28));
	assert_int_equal(km_caution_of_condition("cracked"),
			 KM_CAUTION_BIT(C29));
	assert_int_equal(km_caution_of_condition("handle_split"),
			 KM_CAUTION_BIT(C30));
	assert_int_equal(km_caution_of_condition("plating_unknown"),
			 KM_CAUTION_BIT(C03));
	assert_int_equal(km_caution_of_condition("substitute_size"),
			 KM_CAUTION_BIT(C32));
	assert_int_equal(km_caution_of_condition("no such"), 0);
}

/* The process lists of the cautions and the caution lists of the processes
 * say the same, each way. */
static bool lists(const char *list, const char *word)
{
	size_t n = strlen(word);

	while (*list) {
		size_t len = strcspn(list, "|");

		if (len == n && !km_fold_compare(
				(struct km_slice){ list, len },
				(struct km_slice){ word, n }))
			return true;
		list += len + (list[len] == '|');
	}
	return false;
}

static void the_two_tables_agree(void **state)
{
	(void)state;
	for (int i = 0; i < KM_PROCESSES; i++) {
		uint64_t set = km_caution_mask(km_processes[i].cautions);

		for (int k = 0; k < KM_CAUTIONS; k++) {
			bool named = lists(km_cautions[k].processes,
					   km_processes[i].word);

			if (named != (set >> k & 1))
				fail_msg("%s and %s disagree",
					 km_processes[i].word,
					 km_cautions[k].id);
		}
	}
	for (int i = 0; i < KM_FINISH_COUNT - 1; i++)
		assert_true(km_caution_mask(km_finishes[i].cautions) <
			    (uint64_t)1 << KM_CAUTIONS);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_row_is_read),
		cmocka_unit_test(a_wrong_word_is_refused),
		cmocka_unit_test(ids_are_found_folded),
		cmocka_unit_test(zinc_plating_reads_as_written),
		cmocka_unit_test(five_cautions_hang_on_the_tool),
		cmocka_unit_test(conditions_bring_their_cautions),
		cmocka_unit_test(the_two_tables_agree),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
