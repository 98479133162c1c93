/* SPDX-License-Identifier: MIT */
/*
 * Finishes and handle materials.  Which finish passes for which to the eye is
 * common practice, no source; so are the names.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/finish.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

static const struct km_finish *finish(const char *word)
{
	return km_finish_find(km_slice_of(word));
}

static const struct km_material *material(const char *word)
{
	return km_material_find(km_slice_of(word));
}

static void names_and_aliases_find_one_row(void **state)
{
	(void)state;
	assert_ptr_equal(finish("Zinc Clear"), finish("bright-zinc"));
	assert_ptr_equal(finish("chrome"), finish("nickel chrome"));
	assert_ptr_equal(finish("black oxidized"), finish("black oxidised"));
	assert_int_equal(finish("black oxide")->id, KM_FINISH_BLACK_OXIDE);
	assert_null(finish("gold leaf"));
	assert_ptr_equal(material("beech"), material("wood"));
	assert_null(material("ivory"));
}

static void rows_stand_in_the_order_of_their_ids(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(km_finishes); i++) {
		assert_int_equal(km_finishes[i].id, (int)i + 1);
		assert_ptr_equal(finish(km_finishes[i].name), &km_finishes[i]);
	}
	for (size_t i = 0; i < LENGTH(km_materials); i++) {
		assert_int_equal(km_materials[i].id, (int)i + 1);
		assert_ptr_equal(material(km_materials[i].name),
				 &km_materials[i]);
	}
}

static void zinc_passes_for_cadmium_of_its_colour_only(void **state)
{
	(void)state;
	assert_int_equal(km_finish_passes(finish("zinc yellow"),
					  finish("cadmium yellow")),
			 KM_PASS_NEAR);
	assert_int_equal(km_finish_passes(finish("zinc yellow"),
					  finish("cadmium")), KM_PASS_NO);
	assert_true(km_finish_is_cadmium(finish("cadmium olive")));
	assert_false(km_finish_is_cadmium(finish("zinc olive")));
}

/* Cold black instead of oxide is seen at arm's length only as black; oxide
 * instead of cold black only a close look tells. */
static void passing_need_not_work_both_ways(void **state)
{
	(void)state;
	assert_int_equal(km_finish_passes(finish("cold black"),
					  finish("black oxide")),
			 KM_PASS_AT_DISTANCE);
	assert_int_equal(km_finish_passes(finish("black oxide"),
					  finish("cold black")), KM_PASS_NEAR);
	assert_int_equal(km_finish_passes(finish("nickel"), finish("nickel")),
			 KM_PASS_SAME);
	assert_int_equal(km_finish_passes(finish("painted"),
					  finish("nickel")), KM_PASS_NO);
}

static void unlisted_finishes_agree_by_name_only(void **state)
{
	const struct km_finish a = { .name = "tinned", .bright = -1 };
	const struct km_finish b = { .name = "Tinned", .bright = -1 };
	const struct km_finish c = { .name = "galvanised", .bright = -1 };

	(void)state;
	assert_int_equal(km_finish_passes(&a, &b), KM_PASS_SAME);
	assert_int_equal(km_finish_passes(&a, &c), KM_PASS_NO);
	assert_int_equal(km_finish_passes(&a, finish("nickel")), KM_PASS_NO);
	assert_int_equal(km_finish_passes(finish("nickel"), &a), KM_PASS_NO);
}

static void chrome_over_black_is_over_restored(void **state)
{
	const struct km_finish unlisted = { .name = "tinned", .bright = -1 };

	(void)state;
	assert_true(km_finish_brighter(finish("chrome"), finish("black")));
	assert_false(km_finish_brighter(finish("black"), finish("chrome")));
	assert_false(km_finish_brighter(finish("chrome"), finish("chrome")));
	assert_false(km_finish_brighter(finish("chrome"), &unlisted));
	assert_false(km_finish_brighter(&unlisted, finish("forged")));
}

static void materials_agree_by_row_or_by_name(void **state)
{
	const struct km_material horn = { .name = "horn" };
	const struct km_material also = { .name = "Horn" };

	(void)state;
	assert_true(km_material_same(material("wood"), material("beech")));
	assert_false(km_material_same(material("wood"), material("rubber")));
	assert_true(km_material_same(&horn, &also));
	assert_false(km_material_same(&horn, material("wood")));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(names_and_aliases_find_one_row),
		cmocka_unit_test(rows_stand_in_the_order_of_their_ids),
		cmocka_unit_test(zinc_passes_for_cadmium_of_its_colour_only),
		cmocka_unit_test(passing_need_not_work_both_ways),
		cmocka_unit_test(unlisted_finishes_agree_by_name_only),
		cmocka_unit_test(chrome_over_black_is_over_restored),
		cmocka_unit_test(materials_agree_by_row_or_by_name),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
