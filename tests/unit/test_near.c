/* SPDX-License-Identifier: MIT */
/*
 * Edit distances worked by hand: one edit a step.  The limit of a third of
 * the word is common practice, no source.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/near.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))

static const struct { const char *a, *b; size_t distance; } pairs[] = {
	{ "", "", 0 },
	{ "", "abc", 3 },
	{ "finish", "finish", 0 },
	{ "finish", "Finish", 0 },		/* case */
	{ "handle_colour", "handle-colour", 0 },
	{ "handle colour", "HANDLE_COLOUR", 0 },
	{ "finsh", "finish", 1 },		/* insert i */
	{ "finissh", "finish", 1 },		/* delete s */
	{ "finich", "finish", 1 },		/* c to s */
	{ "fniish", "finish", 1 },		/* swap n and i */
	{ "handle_color", "handle_colour", 1 },
	{ "kitten", "sitting", 3 },		/* k-s, e-i, +g */
	{ "ca", "abc", 3 },			/* no edit inside a swap: -c, */
						/* +b, +c */
	{ "abcd", "badc", 2 },			/* two swaps */
	{ "abc", "xyz", 3 },
};

static void distances_are_those_worked_by_hand(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(pairs); i++) {
		size_t d = pairs[i].distance;

		if (km_edit_distance(pairs[i].a, pairs[i].b, 9) != d
		    || km_edit_distance(pairs[i].b, pairs[i].a, 9) != d
		    || km_edit_distance(pairs[i].a, pairs[i].b, d) != d)
			fail_msg("%s, %s: not %zu", pairs[i].a, pairs[i].b, d);
		if (d && km_edit_distance(pairs[i].a, pairs[i].b, d - 1) != d)
			fail_msg("%s, %s: past the limit", pairs[i].a,
				 pairs[i].b);
	}
	/* far past the limit it is limit + 1, not the distance */
	assert_int_equal(km_edit_distance("abcdef", "uvwxyz", 2), 3);
	assert_int_equal(km_edit_distance("a", "abcdef", 2), 3);
}

static void long_words_are_near_nothing(void **state)
{
	char word[KM_NEAR_WORD + 2];

	(void)state;
	memset(word, 'a', sizeof word);
	word[KM_NEAR_WORD + 1] = '\0';
	assert_int_equal(km_edit_distance(word, word, 5), 6);
	word[KM_NEAR_WORD] = '\0';
	assert_int_equal(km_edit_distance(word, word, 5), 0);
}

static void the_nearest_words_are_kept(void **state)
{
	struct km_near n;

	(void)state;
	km_near_init(&n, "finihs");	/* 6 letters: within 2 */
	km_near_offer(&n, "price");
	assert_int_equal(n.n, 0);
	km_near_offer(&n, "finis");	/* without h: 1 */
	km_near_offer(&n, "finish");	/* a swap: 1 */
	km_near_offer(&n, "finish");	/* the same word again */
	assert_int_equal(n.n, 2);
	assert_int_equal(n.distance, 1);
	km_near_offer(&n, "finihs");
	assert_int_equal(n.n, 1);
	assert_string_equal(n.best[0], "finihs");
	km_near_offer(&n, "finish");	/* farther than the best */
	assert_int_equal(n.n, 1);
}

static void the_limit_is_a_third_and_at_least_one(void **state)
{
	struct km_near n;

	(void)state;
	km_near_init(&n, "my");		/* 2 / 3 = 0, so 1 */
	km_near_offer(&n, "xyz");	/* 2: m-x, +z */
	assert_int_equal(n.n, 0);
	km_near_offer(&n, "by");
	assert_int_equal(n.n, 1);
	km_near_init(&n, "abcde");	/* 5 / 3 = 1 */
	km_near_offer(&n, "abcxy");
	assert_int_equal(n.n, 0);
	km_near_init(&n, "abcdef");	/* 6 / 3 = 2 */
	km_near_offer(&n, "abcdxy");
	assert_int_equal(n.n, 1);
}

static void four_alike_tell_nothing(void **state)
{
	struct km_near n;

	(void)state;
	km_near_init(&n, "abcdef");
	km_near_offer(&n, "abcdxx");
	km_near_offer(&n, "abcdyy");
	km_near_offer(&n, "abcdzz");
	assert_int_equal(n.n, 3);
	km_near_offer(&n, "abcduu");
	assert_int_equal(n.n, 0);
	km_near_offer(&n, "abcdvv");	/* a fifth does not start anew */
	assert_int_equal(n.n, 0);
	km_near_offer(&n, "abcdex");	/* a nearer one does */
	assert_int_equal(n.n, 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(distances_are_those_worked_by_hand),
		cmocka_unit_test(long_words_are_near_nothing),
		cmocka_unit_test(the_nearest_words_are_kept),
		cmocka_unit_test(the_limit_is_a_third_and_at_least_one),
		cmocka_unit_test(four_alike_tell_nothing),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
