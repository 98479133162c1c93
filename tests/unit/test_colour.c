/* SPDX-License-Identifier: MIT */
/*
 * Colour words and hex colours.  The difference and the conversion have their
 * published values in tests/standards.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/colour.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

/* SOURCE [css-color-4], named colours */
static void named_colours_have_their_values(void **state)
{
	static const struct { const char *name; uint32_t rgb; } v[] = {
		{ "aliceblue", 0xf0f8ff }, { "black", 0x000000 },
		{ "goldenrod", 0xdaa520 }, { "gray", 0x808080 },
		{ "grey", 0x808080 }, { "rebeccapurple", 0x663399 },
		{ "yellowgreen", 0x9acd32 }, { "aqua", 0x00ffff },
		{ "cyan", 0x00ffff }, { "DarkSlateGrey", 0x2f4f4f },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(v); i++) {
		uint32_t rgb = 1;

		assert_true(km_colour_find(km_slice_of(v[i].name), &rgb));
		assert_int_equal(rgb, v[i].rgb);
	}
}

/* The look-up halves the list, so every word of it must be found. */
static void every_word_of_the_list_is_found(void **state)
{
	static const struct { const char *name; uint32_t rgb; } all[] = {
#define COLOUR(name, rgb, source) { name, rgb },
#include "data/colours.def"
#undef COLOUR
	};

	(void)state;
	assert_int_equal(LENGTH(all), 148);	/* as the standard counts */
	for (size_t i = 0; i < LENGTH(all); i++) {
		uint32_t rgb = ~all[i].rgb;

		assert_true(km_colour_find(km_slice_of(all[i].name), &rgb));
		assert_int_equal(rgb, all[i].rgb);
	}
}

static void other_words_are_no_colours(void **state)
{
	uint32_t rgb = 7;

	(void)state;
	assert_false(km_colour_find(km_slice_of("amber"), &rgb));
	assert_false(km_colour_find(km_slice_of(""), &rgb));
	assert_false(km_colour_find(km_slice_of("zzz"), &rgb));
	assert_false(km_colour_find(
		km_slice_of("lightgoldenrodyellowlightgoldenrodyellow"), &rgb));
	assert_int_equal(rgb, 7);
}

static void hex_colours_have_six_digits_or_three(void **state)
{
	static const char *const bad[] = {
		"c47a1c", "#c47a1", "#c47a1c0", "#c47a1g", "#", "", "#12"
	};
	uint32_t rgb = 0;

	(void)state;
	assert_true(km_colour_hex(km_slice_of("#c47a1c"), &rgb));
	assert_int_equal(rgb, 0xc47a1c);
	assert_true(km_colour_hex(km_slice_of("#C47A1C"), &rgb));
	assert_int_equal(rgb, 0xc47a1c);
	assert_true(km_colour_hex(km_slice_of("#c71"), &rgb));
	assert_int_equal(rgb, 0xcc7711);
	for (size_t i = 0; i < LENGTH(bad); i++)
		assert_false(km_colour_hex(km_slice_of(bad[i]), &rgb));
}

/* Grey has no hue, whatever rounding leaves in a* and b*; black to white is
 * a difference of lightness alone: dL 100, S_L 1 at L 50, so exactly 100. */
static void black_and_white_differ_by_a_hundred(void **state)
{
	struct km_lab black = { 0, 0, 0 }, white = { 100, 0, 0 };

	(void)state;
	assert_true(fabs(km_ciede2000(black, white) - 100.0) < 1e-9);
	assert_int_equal(km_colour_difference(0x000000, 0xffffff), 100000);
	assert_int_equal(km_colour_difference(0xc47a1c, 0xc47a1c), 0);
}

/* Neutral against coloured: the hue difference is 0 and the mean hue is the
 * sum of the two [sharma-2005].  L 50, a 0 b 0 against a 10 b 0:
 * mean C* 5, G = 0.5 (1 - sqrt(5^7 / (5^7 + 25^7))) = 0.498211;
 * a' = 14.98211, mean C' 7.491056, S_C = 1.337098, dC'/S_C = 11.20495; the
 * hue term is 0, so that is the difference. */
static void a_neutral_colour_has_no_hue(void **state)
{
	struct km_lab grey = { 50, 0, 0 }, red = { 50, 10, 0 };

	(void)state;
	assert_true(fabs(km_ciede2000(grey, red) - 11.20495) < 0.0001);
	assert_true(fabs(km_ciede2000(red, grey) - 11.20495) < 0.0001);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(named_colours_have_their_values),
		cmocka_unit_test(every_word_of_the_list_is_found),
		cmocka_unit_test(other_words_are_no_colours),
		cmocka_unit_test(hex_colours_have_six_digits_or_three),
		cmocka_unit_test(black_and_white_differ_by_a_hundred),
		cmocka_unit_test(a_neutral_colour_has_no_hue),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
