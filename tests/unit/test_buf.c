/* SPDX-License-Identifier: MIT */
/* The promises of base/buf.h. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/buf.h"

static int setup(void **state)
{
	*state = km_arena_new(NULL);
	return *state == NULL;
}

static int teardown(void **state)
{
	km_arena_free(*state);
	return 0;
}

static void pieces_follow_each_other(void **state)
{
	struct km_buf b;

	km_buf_init(&b, *state);
	assert_null(b.text);
	km_buf_str(&b, "");
	assert_string_equal(b.text, "");
	km_buf_str(&b, "tyre");
	km_buf_char(&b, ' ');
	km_buf_add(&b, "lever, long", 5);
	km_buf_fill(&b, '.', 3);
	km_buf_fill(&b, '.', 0);
	km_buf_int(&b, -12);
	km_buf_printf(&b, " %s %d%%", "of", 7);
	assert_string_equal(b.text, "tyre lever...-12 of 7%");
	assert_int_equal(b.len, strlen(b.text));
	assert_false(km_buf_failed(&b));
	km_buf_clear(&b);
	assert_string_equal(b.text, "");
	km_buf_str(&b, "again");
	assert_string_equal(b.text, "again");
}

static void integers_reach_both_ends(void **state)
{
	struct km_buf b;

	/* 2^63 = 9 223 372 036 854 775 808 */
	km_buf_init(&b, *state);
	km_buf_int(&b, INT64_MAX);
	km_buf_char(&b, ' ');
	km_buf_int(&b, INT64_MIN);
	km_buf_char(&b, ' ');
	km_buf_int(&b, 0);
	assert_string_equal(b.text,
			    "9223372036854775807 -9223372036854775808 0");
}

/* Every length on both sides of the places where the buffer grows. */
static void formats_of_any_length_arrive_whole(void **state)
{
	char word[600];

	for (size_t n = 0; n < sizeof word; n++) {
		struct km_buf b;

		memset(word, 'w', n);
		word[n] = '\0';
		km_buf_init(&b, *state);
		km_buf_str(&b, "<");
		km_buf_printf(&b, "%s>", word);
		km_buf_printf(&b, "%s", word);
		assert_int_equal(b.len, 2 * n + 2);
		assert_int_equal(strlen(b.text), b.len);
		assert_int_equal(b.text[n + 1], '>');
		assert_memory_equal(b.text + 1, word, n);
		assert_string_equal(b.text + n + 2, word);
	}
}

static void growth_is_not_square(void **state)
{
	struct km_arena *a = *state;
	struct km_buf b;
	size_t before;

	km_buf_init(&b, a);
	before = km_arena_bytes(a);
	for (int i = 0; i < 200000; i++)
		km_buf_char(&b, (char)('a' + i % 26));
	assert_int_equal(b.len, 200000);
	assert_int_equal(b.text[199999], 'a' + 199999 % 26);
	/* doubling: less than 2 + 2 times the text, blocks rounded up */
	assert_true(km_arena_bytes(a) - before < 10 * (size_t)200000);
}

static void the_first_failure_sticks(void **state)
{
	(void)state;
	for (uint64_t at = 2; at < 6; at++) {
		struct km_fault f = { .fail_at = at };
		struct km_limits lim = { .fault = &f };
		struct km_arena *a = km_arena_new(&lim);
		struct km_buf b;
		size_t len = 0;

		km_buf_init(&b, a);
		for (int i = 0; i < 500 && !km_buf_failed(&b); i++) {
			len = b.len;
			km_buf_printf(&b, "%d ", 1000 + i);
		}
		assert_true(km_buf_failed(&b));
		assert_int_equal(b.len, len);
		/* memory would be there again, yet nothing is added */
		km_buf_str(&b, "x");
		km_buf_char(&b, 'x');
		km_buf_fill(&b, 'x', 3);
		km_buf_int(&b, 1);
		km_buf_printf(&b, "%d", 1);
		assert_int_equal(b.len, len);
		if (b.text)
			assert_int_equal(strlen(b.text), len);
		assert_true(km_buf_failed(&b));
		km_arena_free(a);
	}
}

static void impossible_sizes_fail(void **state)
{
	struct km_buf b;

	km_buf_init(&b, *state);
	km_buf_str(&b, "a");
	km_buf_fill(&b, 'x', SIZE_MAX);
	assert_true(km_buf_failed(&b));
	assert_string_equal(b.text, "a");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pieces_follow_each_other),
		cmocka_unit_test(integers_reach_both_ends),
		cmocka_unit_test(formats_of_any_length_arrive_whole),
		cmocka_unit_test(growth_is_not_square),
		cmocka_unit_test(the_first_failure_sticks),
		cmocka_unit_test(impossible_sizes_fail),
	};

	return cmocka_run_group_tests(tests, setup, teardown);
}
