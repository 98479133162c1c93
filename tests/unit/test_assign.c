/* SPDX-License-Identifier: MIT */
/*
 * The allocation: small cases worked by hand beside each test.  Larger ones
 * are compared with enumeration and with SciPy in tests/oracle.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "match/assign.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define OPEN KM_ASSIGN_OPEN
#define WIDE KM_ASSIGN_GAIN

/* Solve and turn edges into tools. */
static enum km_status tools_of(const struct km_assign *p, uint32_t *tool)
{
	struct km_arena *mem = km_arena_new(NULL);
	enum km_status st = km_assign_solve(mem, p, tool);

	km_arena_free(mem);
	for (uint32_t i = 0; st == KM_OK && i < p->nplaces; i++) {
		if (tool[i] == OPEN)
			continue;
		assert_true(tool[i] < p->nedges);
		assert_int_equal(p->edge[tool[i]].place, i);
		tool[i] = p->edge[tool[i]].tool;
	}
	return st;
}

static void expect(const struct km_assign *p, const uint32_t *want)
{
	uint32_t got[16];

	assert_true(p->nplaces <= COUNT(got));
	assert_int_equal(tools_of(p, got), KM_OK);
	for (uint32_t i = 0; i < p->nplaces; i++)
		if (got[i] != want[i])
			fail_msg("place %u: got tool %u, wanted %u",
				 (unsigned)i, (unsigned)got[i],
				 (unsigned)want[i]);
}

/* Sums, key by key: 0-0 1-1 (0, 2000); 0-1 with 1 open (1, 0); 0-1 1-0
 * (1, -1000).  One unit of key 0 outweighs 2000 of key 1; at the same key 0,
 * staying open is better than -1000. */
static void an_earlier_key_beats_any_sum_of_later_ones(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 1 }, { 1000 } },
		{ 1, 1, { 1 }, { 1000 } },
		{ 0, 1, { 0 }, { 1 } },
		{ 1, 0, { 1 }, { -1000 } },
	};
	const struct km_assign p = { 2, 2, 2, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 1, OPEN });
}

/* A pin (key 0) takes the only good tool from a place that could use it, and
 * leaves that place open, whatever key 1 and 2 say. */
static void a_pin_beats_everything(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 1, 2 }, { 1, 900 } },
		{ 1, 0, { 0, 1 }, { 1, 0 } },
		{ 1, 1, { 1, 2 }, { 1, 900 } },
	};
	const struct km_assign p = { 2, 2, 3, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ OPEN, 0 });
}

/* All sums equal: the first place has the smallest tool it can have while the
 * others still get one, then the second.  Place 2 takes only tool 0, so place
 * 0 has 1 and place 1 has 2. */
static void ties_go_to_the_smallest_tool(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 2, { 0 }, { 1 } }, { 0, 1, { 0 }, { 1 } },
		{ 0, 0, { 0 }, { 1 } }, { 1, 2, { 0 }, { 1 } },
		{ 1, 0, { 0 }, { 1 } }, { 1, 1, { 0 }, { 1 } },
		{ 2, 0, { 0 }, { 1 } },
	};
	const struct km_assign p = { 3, 3, 1, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 1, 2, 0 });
}

/* Tools 1 and 2 are worth the same in place 0, but tool 1 there leaves place
 * 1 with 1-0 or 1-2, in all 3, where 0-2 1-1 makes 4. */
static void a_tie_never_costs_worth(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 1, { 0 }, { 2 } }, { 0, 2, { 0 }, { 2 } },
		{ 1, 0, { 0 }, { 1 } }, { 1, 1, { 0 }, { 2 } },
		{ 1, 2, { 0 }, { 1 } },
	};
	const struct km_assign p = { 2, 3, 1, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 2, 1 });
}

/* Open is worth zero: worse than that is left open, exactly that is taken,
 * since open comes after every tool. */
static void open_is_worth_nothing_and_comes_last(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 0 }, { -1 } },
		{ 1, 1, { 0 }, { 0 } },
		{ 2, 2, { 0, 1 }, { 1, -5 } },
		{ 3, 3, { 0, 1 }, { -1, 5 } },
	};
	const struct km_assign p = { 4, 4, 2, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ OPEN, 1, 2, OPEN });
}

/* Tools fewer than places: the first places have them. */
static void too_few_tools_leave_the_last_places_open(void **state)
{
	struct km_assign_edge e[8] = { { 0 } };
	const struct km_assign p = { 4, 2, 1, COUNT(e), e };

	(void)state;
	for (uint32_t i = 0; i < COUNT(e); i++)
		e[i] = (struct km_assign_edge){
			3 - i / 2, i % 2, { 0 }, { 7 } };
	expect(&p, (const uint32_t[]){ 0, 1, OPEN, OPEN });
}

static void too_many_tools_leave_the_last_tools(void **state)
{
	struct km_assign_edge e[8] = { { 0 } };
	const struct km_assign p = { 2, 4, 1, COUNT(e), e };

	(void)state;
	for (uint32_t i = 0; i < COUNT(e); i++)
		e[i] = (struct km_assign_edge){
			i % 2, 3 - i / 2, { 0 }, { 7 } };
	expect(&p, (const uint32_t[]){ 0, 1 });
}

/* Whoever has the only tool, the sum is 4: it goes to the first place. */
static void the_first_of_equal_places_has_the_tool(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 1, 0, { 0 }, { 4 } },
		{ 0, 0, { 0 }, { 4 } },
		{ 2, 0, { 0 }, { 4 } },
	};
	const struct km_assign p = { 3, 1, 1, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 0, OPEN, OPEN });
}

/* Place 0 takes 0 or 3, place 1 takes 0 or 1, place 2 takes 3, all worth 1:
 * 0-0 1-1 2-3 is the only matching of worth 3. */
static void a_chain_of_places_gives_way(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 0 }, { 1 } }, { 0, 3, { 0 }, { 1 } },
		{ 1, 0, { 0 }, { 1 } }, { 1, 1, { 0 }, { 1 } },
		{ 2, 3, { 0 }, { 1 } },
	};
	const struct km_assign p = { 3, 4, 1, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 0, 1, 3 });
}

/* 0-1 with place 1 open makes 2, as does 0-0 1-1; tool 0 comes before tool 1,
 * and tool 1 goes to the place that was open. */
static void a_place_changes_down_and_an_open_one_follows(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 0 }, { 1 } },
		{ 0, 1, { 0 }, { 2 } },
		{ 1, 1, { 0 }, { 1 } },
	};
	const struct km_assign p = { 2, 3, 1, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 0, 1 });
}

/* Keys as wide as allowed need a round each: key 0 is level between 0-0 1-1
 * and 0-1 1-0, key 1 too, key 2 decides for the latter by one. */
static void keys_too_wide_for_one_round_still_count(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 0, { 0, 1, 2 }, { WIDE, WIDE, WIDE } },
		{ 1, 1, { 0, 1 }, { WIDE, -WIDE } },
		{ 0, 1, { 0, 2 }, { WIDE, WIDE } },
		{ 1, 0, { 0, 2 }, { WIDE, 1 } },
	};
	const struct km_assign p = { 2, 2, 3, COUNT(e), e };

	(void)state;
	expect(&p, (const uint32_t[]){ 1, 0 });
}

static uint32_t next_random(uint32_t *seed)
{
	*seed = *seed * 1664525u + 1013904223u;
	return *seed >> 16;
}

static void shuffled_edges_give_the_same_tools(void **state)
{
	struct km_assign_edge e[10 * 12] = { { 0 } };
	struct km_assign p = { 10, 12, 2, COUNT(e), e };
	uint32_t seed = 1, want[10];

	(void)state;
	for (uint32_t i = 0; i < COUNT(e); i++)
		e[i] = (struct km_assign_edge){ i / 12, i % 12, { 0, 1 },
			{ next_random(&seed) % 2, next_random(&seed) % 2 } };
	assert_int_equal(tools_of(&p, want), KM_OK);
	for (int round = 0; round < 50; round++) {
		for (uint32_t i = COUNT(e) - 1; i > 0; i--) {
			uint32_t j = next_random(&seed) % (i + 1);
			struct km_assign_edge t = e[i];

			e[i] = e[j];
			e[j] = t;
		}
		expect(&p, want);
	}
}

static void nothing_gives_nothing(void **state)
{
	const struct km_assign none = { 0, 0, 0, 0, NULL };
	const struct km_assign no_edges = { 3, 5, 2, 0, NULL };
	uint32_t col = 77;
	struct km_arena *mem = km_arena_new(NULL);

	(void)state;
	expect(&none, NULL);
	expect(&no_edges, (const uint32_t[]){ OPEN, OPEN, OPEN });
	assert_int_equal(km_assign_dense(mem, 0, NULL, &col), KM_OK);
	assert_int_equal(col, 77);
	km_arena_free(mem);
}

/* n equal tools for n equal places: place i has tool i. */
static void a_thousand_equal_tools_for_as_many_places(void **state)
{
	const uint32_t n = 1000;
	struct km_assign_edge *e = calloc((size_t)n * n, sizeof *e);
	struct km_assign p = { n, n, 1, (size_t)n * n, e };
	uint32_t *tool = calloc(n, sizeof *tool);

	(void)state;
	assert_true(e && tool);
	for (uint32_t i = 0; i < n * n; i++) {
		e[i].place = i % n;
		e[i].tool = n - 1 - i / n;
		e[i].gain[0] = 3;
	}
	assert_int_equal(tools_of(&p, tool), KM_OK);
	for (uint32_t i = 0; i < n; i++)
		assert_int_equal(tool[i], i);
	free(tool);
	free(e);
}

/*
 * A worked example: four men, four jobs, ratings to be maximised.  From
 * memory: H. W. Kuhn, The Hungarian method for the assignment problem, Naval
 * Research Logistics Quarterly 2 (1955) 83-97.  What counts here is the
 * enumeration of all 24 permutations below.
 */
static const int64_t ratings[4][4] = {
	{ 8, 7, 9, 9 }, { 5, 2, 7, 8 }, { 6, 1, 4, 9 }, { 2, 3, 2, 6 },
};

/* The greatest sum, and the first permutation in dictionary order with it. */
static int64_t best_of_24(uint32_t *best)
{
	int64_t top = -1;

	for (uint32_t k = 0; k < 256; k++) {
		uint32_t c[4] = { k >> 6, k >> 4 & 3, k >> 2 & 3, k & 3 };
		int64_t sum = 0;
		unsigned used = 0;

		for (int i = 0; i < 4; i++) {
			used |= 1u << c[i];
			sum += ratings[i][c[i]];
		}
		if (used == 15 && sum > top) {
			top = sum;
			memcpy(best, c, sizeof c);
		}
	}
	return top;
}

static void the_four_by_four_example_agrees_with_enumeration(void **state)
{
	struct km_assign_edge e[16] = { { 0 } };
	const struct km_assign p = { 4, 4, 1, COUNT(e), e };
	struct km_arena *mem = km_arena_new(NULL);
	int64_t cost[16], sum = 0, top;
	uint32_t best[4], col[4];

	(void)state;
	top = best_of_24(best);
	/* by hand: jobs 1 3 4 2 make 8 + 7 + 9 + 3 = 27; and prices 8 6 6 3
	 * of the rows and 0 0 1 3 of the columns, 27 in all, are together at
	 * least each rating, so that no sum can exceed 27 */
	assert_int_equal(top, 27);
	for (uint32_t i = 0; i < 16; i++) {
		e[i] = (struct km_assign_edge){ i / 4, i % 4, { 0 },
			{ ratings[i / 4][i % 4] } };
		cost[i] = -ratings[i / 4][i % 4];
	}
	expect(&p, best);
	assert_int_equal(km_assign_dense(mem, 4, cost, col), KM_OK);
	for (uint32_t i = 0; i < 4; i++)
		sum -= cost[4 * i + col[i]];
	assert_int_equal(sum, top);
	km_arena_free(mem);
}

static void refuse(const struct km_assign *p)
{
	uint32_t out[2] = { 77, 77 };
	struct km_arena *mem = km_arena_new(NULL);

	assert_int_equal(km_assign_solve(mem, p, out), KM_ERANGE);
	assert_int_equal(out[0], 77);
	assert_int_equal(out[1], 77);
	km_arena_free(mem);
}

static void bad_problems_are_refused(void **state)
{
	static const struct km_assign_edge bad[] = {
		{ 2, 0, { 0 }, { 1 } },		/* no such place */
		{ 0, 2, { 0 }, { 1 } },		/* no such tool */
		{ 0, 0, { 2 }, { 1 } },		/* no such key */
		{ 0, 0, { 2 }, { 0 } },		/* the same, worth nothing */
		{ 0, 0, { 1, 0 }, { 1, 1 } },	/* keys not ascending */
		{ 0, 0, { 1, 1 }, { 1, 1 } },	/* a key twice */
		{ 0, 0, { 0 }, { WIDE + 1 } },
		{ 0, 0, { 0 }, { -WIDE - 1 } },
	};
	static const struct km_assign_edge twice[] = {
		{ 1, 1, { 0 }, { 1 } }, { 0, 1, { 0 }, { 2 } },
		{ 1, 1, { 0 }, { 2 } },
	};
	struct km_assign p = { 2, 2, 2, 1, NULL };

	(void)state;
	for (size_t i = 0; i < COUNT(bad); i++) {
		p.edge = &bad[i];
		refuse(&p);
	}
	p.edge = twice;
	p.nedges = COUNT(twice);
	refuse(&p);
	p.nplaces = KM_ASSIGN_PLACES + 1;
	refuse(&p);
	p.nplaces = 2;
	p.nkeys = KM_ASSIGN_KEYS + 1;
	refuse(&p);
}

/* 2000 places in one part, two keys of 2^40: the second round would need
 * 2000 x 2^40 x (1 + 2 x 2000) = 2^62.9, over the 2^60 there are. */
static void a_key_too_wide_is_refused(void **state)
{
	const uint32_t n = 2000;
	struct km_assign_edge *e = calloc(n, sizeof *e);
	uint32_t *out = calloc(n, sizeof *out);
	struct km_arena *mem = km_arena_new(NULL);
	const struct km_assign p = { n, 1, 2, n, e };

	(void)state;
	assert_true(e && out);
	for (uint32_t i = 0; i < n; i++)
		e[i] = (struct km_assign_edge){ i, 0, { 0, 1 },
			{ WIDE, WIDE } };
	assert_int_equal(km_assign_solve(mem, &p, out), KM_ERANGE);
	km_arena_free(mem);
	free(out);
	free(e);
}

static void dense_takes_any_sign_and_refuses_too_much(void **state)
{
	/* rows 0 and 1: 5 + -7 = -2 against -1 + 2 = 1; swapped sign: 1 */
	static const int64_t cost[] = { 5, -1, 2, -7 };
	static const int64_t high[] = { 0, 0, 0, WIDE + 1 };
	static const int64_t low[] = { 0, 0, -WIDE - 1, 0 };
	static const int64_t edge[] = { WIDE, -WIDE, -WIDE, WIDE };
	static const int64_t one[] = { -3 };
	struct km_arena *mem = km_arena_new(NULL);
	uint32_t col[2] = { 77, 77 };

	(void)state;
	assert_int_equal(km_assign_dense(mem, 2, high, col), KM_ERANGE);
	assert_int_equal(km_assign_dense(mem, 2, low, col), KM_ERANGE);
	assert_int_equal(km_assign_dense(mem, KM_DENSE_SIDE + 1, cost, col),
			 KM_ERANGE);
	assert_int_equal(col[0], 77);
	assert_int_equal(km_assign_dense(mem, 1, one, col), KM_OK);
	assert_int_equal(col[0], 0);
	assert_int_equal(km_assign_dense(mem, 2, cost, col), KM_OK);
	assert_int_equal(col[0], 0);
	assert_int_equal(col[1], 1);
	assert_int_equal(km_assign_dense(mem, 2, edge, col), KM_OK);
	assert_int_equal(col[0], 1);
	assert_int_equal(col[1], 0);
	km_arena_free(mem);
}

/* The least sum over all ways to give rows row .. n - 1 a column. */
static int64_t least_of_all(const int64_t *cost, uint32_t n, uint32_t row,
			    unsigned used)
{
	int64_t best = INT64_MAX;

	if (row == n)
		return 0;
	for (uint32_t c = 0; c < n; c++) {
		int64_t sum;

		if (used >> c & 1)
			continue;
		sum = cost[row * n + c] +
		      least_of_all(cost, n, row + 1, used | 1u << c);
		best = sum < best ? sum : best;
	}
	return best;
}

static void small_dense_sums_agree_with_enumeration(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	uint32_t seed = 1987;

	(void)state;
	for (uint32_t round = 0; round < 400; round++) {
		const uint32_t n = 1 + round % 6;
		int64_t cost[36], sum = 0;
		uint32_t col[6];
		unsigned used = 0;

		for (uint32_t i = 0; i < n * n; i++)
			cost[i] = next_random(&seed) % (2 + round % 20);
		assert_int_equal(km_assign_dense(mem, n, cost, col), KM_OK);
		for (uint32_t i = 0; i < n; i++) {
			used |= 1u << col[i];
			sum += cost[i * n + col[i]];
		}
		assert_int_equal(used, (1u << n) - 1);
		assert_int_equal(sum, least_of_all(cost, n, 0, 0));
	}
	km_arena_free(mem);
}

/* Fail the n-th allocation, n = 1, 2, ... until the call gets through; returns
 * how often it failed. */
static unsigned sweep(const struct km_assign *p, const int64_t *cost,
		      uint32_t n, uint32_t *out)
{
	struct km_fault fault = { 0, 0, 0 };
	struct km_limits lim = { .fault = &fault };
	unsigned failed = 0;

	for (;; failed++) {
		struct km_arena *mem;
		enum km_status st;

		fault.fail_at = 0;
		mem = km_arena_new(&lim);
		assert_non_null(mem);
		fault.seen = 0;
		fault.fail_at = failed + 1;
		out[0] = 77;
		st = p ? km_assign_solve(mem, p, out)
		       : km_assign_dense(mem, n, cost, out);
		km_arena_free(mem);
		if (st == KM_OK)
			return failed;
		assert_int_equal(st, KM_ENOMEM);
		assert_int_equal(out[0], 77);
		assert_true(failed < 100);
	}
}

static void every_allocation_may_fail(void **state)
{
	static const struct km_assign_edge e[] = {
		{ 0, 1, { 0 }, { 1 } }, { 1, 0, { 0 }, { 1 } },
	};
	static const int64_t cost[] = { 4, 1, 1, 4 };
	const struct km_assign p = { 2, 2, 1, COUNT(e), e };
	uint32_t out[2];

	(void)state;
	assert_true(sweep(&p, NULL, 0, out) > 0);
	assert_int_equal(out[0], 0);
	assert_int_equal(out[1], 1);
	assert_true(sweep(NULL, cost, 2, out) > 0);
	assert_int_equal(out[0], 1);
	assert_int_equal(out[1], 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_earlier_key_beats_any_sum_of_later_ones),
		cmocka_unit_test(a_pin_beats_everything),
		cmocka_unit_test(ties_go_to_the_smallest_tool),
		cmocka_unit_test(a_tie_never_costs_worth),
		cmocka_unit_test(open_is_worth_nothing_and_comes_last),
		cmocka_unit_test(too_few_tools_leave_the_last_places_open),
		cmocka_unit_test(too_many_tools_leave_the_last_tools),
		cmocka_unit_test(the_first_of_equal_places_has_the_tool),
		cmocka_unit_test(a_chain_of_places_gives_way),
		cmocka_unit_test(a_place_changes_down_and_an_open_one_follows),
		cmocka_unit_test(keys_too_wide_for_one_round_still_count),
		cmocka_unit_test(shuffled_edges_give_the_same_tools),
		cmocka_unit_test(nothing_gives_nothing),
		cmocka_unit_test(a_thousand_equal_tools_for_as_many_places),
		cmocka_unit_test(
			the_four_by_four_example_agrees_with_enumeration),
		cmocka_unit_test(bad_problems_are_refused),
		cmocka_unit_test(a_key_too_wide_is_refused),
		cmocka_unit_test(dense_takes_any_sign_and_refuses_too_much),
		cmocka_unit_test(small_dense_sums_agree_with_enumeration),
		cmocka_unit_test(every_allocation_may_fail),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
