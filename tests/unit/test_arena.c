/* SPDX-License-Identifier: MIT */
/* The promises of base/arena.h. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/arena.h"

static void memory_is_zeroed_and_aligned(void **state)
{
	struct km_arena *a = km_arena_new(NULL);

	(void)state;
	assert_non_null(a);
	for (size_t n = 1; n < 200; n++) {
		unsigned char *p = km_arena_alloc(a, n, 3);

		assert_non_null(p);
		assert_int_equal((uintptr_t)p % _Alignof(max_align_t), 0);
		for (size_t i = 0; i < 3 * n; i++)
			assert_int_equal(p[i], 0);
		memset(p, 0xA5, 3 * n);
		assert_non_null(km_arena_text(a, "x", 1));	/* misalign */
	}
	km_arena_free(a);
	km_arena_free(NULL);
}

static void objects_keep_their_place(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	char *kept[500];

	(void)state;
	for (size_t i = 0; i < 500; i++) {
		kept[i] = km_arena_raw(a, i + 1, 7);
		assert_non_null(kept[i]);
		memset(kept[i], (int)(i % 251), 7 * (i + 1));
	}
	for (size_t i = 0; i < 500; i++)
		for (size_t k = 0; k < 7 * (i + 1); k++)
			assert_int_equal((unsigned char)kept[i][k], i % 251);
	km_arena_free(a);
}

static void text_and_copies_are_copies(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	char from[] = "spanner";
	int32_t numbers[3] = { 1, -2, 3 }, *copy;
	char *text = km_arena_text(a, from, 4);

	(void)state;
	copy = km_arena_copy(a, numbers, 3, sizeof *numbers);
	memset(from, 'x', 7);
	numbers[1] = 9;
	assert_string_equal(text, "span");
	assert_int_equal(copy[1], -2);
	assert_string_equal(km_arena_text(a, NULL, 0), "");
	km_arena_free(a);
}

static void sizes_that_overflow_are_refused(void **state)
{
	struct km_arena *a = km_arena_new(NULL);

	(void)state;
	assert_null(km_arena_alloc(a, SIZE_MAX / 2, 3));
	assert_null(km_arena_alloc(a, SIZE_MAX, SIZE_MAX));
	assert_null(km_arena_raw(a, SIZE_MAX, 1));
	assert_null(km_arena_text(a, "", SIZE_MAX));
	assert_non_null(km_arena_alloc(a, 1, 1));	/* still of use */
	km_arena_free(a);
}

static void a_ceiling_holds(void **state)
{
	struct km_limits lim = { .arena_bytes = 10000 };
	struct km_arena *a = km_arena_new(&lim);
	size_t n = 0;

	(void)state;
	assert_null(km_arena_raw(a, 10001, 1));
	while (n < 10000 && km_arena_raw(a, 16, 1))
		n++;
	assert_in_range(n, 1, 624);	/* 10000 / 16 = 625, with headers */
	assert_true(km_arena_bytes(a) <= 10000);
	km_arena_free(a);
}

/* Ask for five things; how many came? */
static int five(const struct km_limits *lim)
{
	struct km_arena *a = km_arena_new(lim);
	int got = a != NULL;

	if (!a)
		return 0;
	got += km_arena_alloc(a, 2, 8) != NULL;
	got += km_arena_raw(a, 2, 8) != NULL;
	got += km_arena_text(a, "a", 1) != NULL;
	got += km_arena_copy(a, "ab", 2, 1) != NULL;
	km_arena_free(a);
	return got;
}

static void faults_are_counted_and_fail_once(void **state)
{
	(void)state;
	for (uint64_t at = 1; at <= 5; at++) {
		struct km_fault f = { .fail_at = at };
		struct km_limits lim = { .fault = &f };

		/* without an arena nothing more is asked for */
		assert_int_equal(five(&lim), at == 1 ? 0 : 4);
		assert_int_equal(f.seen, at == 1 ? 1 : 5);
	}
}

static void faults_can_go_on_failing(void **state)
{
	(void)state;
	for (uint64_t at = 1; at <= 6; at++) {
		struct km_fault f = { .fail_at = at, .and_after = 1 };
		struct km_limits lim = { .fault = &f };

		assert_int_equal(five(&lim), (int)at - 1);
	}
}

static void reset_keeps_one_block(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	size_t full, after;
	void *first;

	(void)state;
	km_arena_reset(a);		/* empty: nothing happens */
	for (int i = 0; i < 1000; i++)
		assert_non_null(km_arena_raw(a, 100, 1));
	full = km_arena_bytes(a);
	km_arena_reset(a);
	after = km_arena_bytes(a);
	assert_true(after < full);
	first = km_arena_raw(a, 100, 1);
	assert_int_equal(km_arena_bytes(a), after);	/* from the kept block */
	km_arena_reset(a);
	assert_ptr_equal(km_arena_raw(a, 100, 1), first);
	km_arena_free(a);
}

static void an_outsize_block_is_given_back(void **state)
{
	struct km_arena *a = km_arena_new(NULL);
	size_t empty = km_arena_bytes(a);

	(void)state;
	assert_non_null(km_arena_raw(a, (size_t)3 << 20, 1));
	assert_true(km_arena_bytes(a) > (size_t)3 << 20);
	km_arena_reset(a);
	assert_int_equal(km_arena_bytes(a), empty);
	assert_non_null(km_arena_alloc(a, 10, 10));
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(memory_is_zeroed_and_aligned),
		cmocka_unit_test(objects_keep_their_place),
		cmocka_unit_test(text_and_copies_are_copies),
		cmocka_unit_test(sizes_that_overflow_are_refused),
		cmocka_unit_test(a_ceiling_holds),
		cmocka_unit_test(faults_are_counted_and_fail_once),
		cmocka_unit_test(faults_can_go_on_failing),
		cmocka_unit_test(reset_keeps_one_block),
		cmocka_unit_test(an_outsize_block_is_given_back),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
