/* SPDX-License-Identifier: MIT */
/*
 * The bench question.  Limits as in test_jaw.c; figures worked by hand.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/gauge.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

static struct km_arena *mem;
static struct km_size_book book;

static int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	return mem && km_size_book_init(&book, mem) ? 0 : -1;
}

static int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

static struct km_gauge gauge(int hundredths)
{
	struct km_span r = { (int64_t)hundredths * 10000, 5000, 5000 };
	struct km_gauge g;

	assert_int_equal(km_gauge_length(r, &book, mem, &g), KM_OK);
	return g;
}

/*
 * 12.72 mm: within nothing (1/2 in opens from 12.8016, 12 mm to 12.24).
 * It goes on 1/2 in heads (to 12.70) with worst bite
 * (1.13 x 12.4206 - 12.725) / 1.614678 = 1.310278 / 1.614678 = 0.8115; on
 * 12 mm heads with (13.2549 - 12.725) / 1.5249 = 0.347498, mid
 * (13.40745 - 12.72) / 1.54245 = 0.4457: rounds the corners; 13 mm heads start at 12.73.  As 12 mm it is spread by 0.72, or
 * 0.48 over the limit.
 */
static void twelve_seventy_two_is_a_tight_half_inch(void **state)
{
	struct km_gauge g = gauge(1272);

	(void)state;
	assert_null(g.asked);
	assert_int_equal(g.n_inside, 0);
	assert_int_equal(g.n_may_be, 1);
	assert_string_equal(g.may_be[0]->text, "1/2 AF");
	assert_false(g.undecided);
	assert_int_equal(g.n_heads, 2);
	assert_string_equal(g.heads[0].size->text, "12 mm");
	assert_int_equal(g.heads[0].fit.verdict, KM_SERVE_ROUNDS);
	assert_int_equal(g.heads[0].fit.worst_thousandths, 347);
	assert_int_equal(g.heads[0].fit.mid_thousandths, 446);
	assert_string_equal(g.heads[1].size->text, "1/2 AF");
	assert_int_equal(g.heads[1].fit.verdict, KM_SERVES);
	assert_int_equal(g.heads[1].fit.worst_thousandths, 811);
	assert_int_equal(g.n_spread, 1);
	assert_string_equal(g.spread[0].size->text, "12 mm");
	assert_int_equal(g.spread[0].over_nominal_nm, 720000);
	assert_int_equal(g.spread[0].over_limit_nm, 480000);
}

/* Next to 12.72: 12 and 13 mm; 1/2 in (12.70) and 9/16 in (14.2875); 3/16 W
 * (11.303) and 1/4 W (13.335); 0 BA (10.4902) and nothing above it. */
static void the_nearest_sizes_of_each_system_are_named(void **state)
{
	static const struct {
		enum km_system system;
		const char *below, *above;
		int64_t over, under;
	} want[] = {
		{ KM_SYS_METRIC, "12 mm", "13 mm", 720000, 280000 },
		{ KM_SYS_AF, "1/2 AF", "9/16 AF", 20000, 1567500 },
		{ KM_SYS_W, "3/16 W", "1/4 W", 1417000, 615000 },
		{ KM_SYS_BA, "0 BA", NULL, 2229800, 0 },
	};
	struct km_gauge g = gauge(1272);

	(void)state;
	for (size_t i = 0; i < LENGTH(want); i++) {
		const struct km_gauge_near *n = &g.near[i];

		assert_int_equal(n->system, want[i].system);
		assert_string_equal(n->below->text, want[i].below);
		assert_int_equal(n->over_below_nm, want[i].over);
		if (want[i].above)
			assert_string_equal(n->above->text, want[i].above);
		else
			assert_null(n->above);
		assert_int_equal(n->under_above_nm, want[i].under);
	}
}

/* 13.35: within nothing, 13 mm or 1/4 W (see test_jaw.c): undecided.  It is
 * 13 mm spread by 0.35, 0.11 over the limit. */
static void two_candidates_are_both_named(void **state)
{
	struct km_gauge g = gauge(1335);
	bool spread = false;

	(void)state;
	assert_true(g.undecided);
	assert_int_equal(g.n_may_be, 2);
	assert_string_equal(g.may_be[0]->text, "13 mm");
	assert_string_equal(g.may_be[1]->text, "1/4 W");
	for (uint32_t i = 0; i < g.n_spread; i++)
		if (!strcmp(g.spread[i].size->text, "13 mm")) {
			spread = true;
			assert_int_equal(g.spread[i].over_nominal_nm, 350000);
			assert_int_equal(g.spread[i].over_limit_nm, 110000);
		}
	assert_true(spread);
}

static void an_opening_within_limits_says_whose(void **state)
{
	struct km_gauge g = gauge(1620);

	(void)state;
	assert_int_equal(g.n_inside, 1);
	assert_string_equal(g.inside[0]->text, "16 mm");
	assert_false(g.undecided);
}

/* A sound 13 mm jaw serves 13 mm and 1/2 in heads, and some 1/4 W heads
 * only: 13.1572 to 13.335 against 13.04 to 13.24, (0.0828^2 / 2) /
 * (0.2 x 0.1778) = 0.0964. */
static void a_size_may_be_asked_for(void **state)
{
	const struct km_size_rules rules = { .drive = NULL };
	struct km_size thirteen;
	struct km_gauge g;
	uint32_t serves = 0, tight = 0;

	(void)state;
	assert_int_equal(km_size_parse(km_slice_of("13 mm"), &rules, mem,
				       &thirteen), KM_SIZE_OK);
	assert_int_equal(km_gauge_size(&thirteen, &book, mem, &g), KM_OK);
	assert_ptr_equal(g.asked, &thirteen);
	assert_int_equal(g.reading.nm, 13140000);
	for (uint32_t i = 0; i < g.n_heads; i++) {
		const char *text = g.heads[i].size->text;

		if (g.heads[i].fit.verdict == KM_SERVES) {
			assert_true(!strcmp(text, "13 mm")
				    || !strcmp(text, "1/2 AF"));
			serves++;
		}
		if (!strcmp(text, "1/4 W")) {
			assert_int_equal(g.heads[i].fit.share_thousandths, 96);
			assert_int_equal(g.heads[i].fit.verdict,
					 KM_SERVE_TIGHT);
			tight++;
		}
	}
	assert_int_equal(serves, 2);
	assert_int_equal(tight, 1);
}

static void what_is_no_opening_is_refused(void **state)
{
	const struct km_size_rules cross = {
		.drive = &km_drives[KM_DRIVE_CROSS]
	};
	const struct km_size_rules any = { .drive = NULL };
	struct km_span nothing = { 0, 0, 0 }, huge = { KM_MM(2000), 0, 0 };
	struct km_size s;
	struct km_gauge g = { .n_heads = 77 };

	(void)state;
	assert_int_equal(km_gauge_length(nothing, &book, mem, &g), KM_ERANGE);
	assert_int_equal(km_gauge_length(huge, &book, mem, &g), KM_ERANGE);
	assert_int_equal(km_size_parse(km_slice_of("PH 2"), &cross, mem, &s),
			 KM_SIZE_OK);
	assert_int_equal(km_gauge_size(&s, &book, mem, &g), KM_EINPUT);
	assert_int_equal(km_size_parse(km_slice_of("M8"), &any, mem, &s),
			 KM_SIZE_OK);
	assert_int_equal(km_gauge_size(&s, &book, mem, &g), KM_EINPUT);
	assert_int_equal(g.n_heads, 77);
}

static void running_out_of_memory_is_said(void **state)
{
	struct km_fault fault = { 0 };
	struct km_limits limits = { .fault = &fault };
	struct km_arena *a = km_arena_new(&limits);
	struct km_span r = { KM_MM(13), 0, 0 };
	struct km_gauge g;
	int failed = 0;

	(void)state;
	assert_non_null(a);
	do {
		fault.fail_at = fault.seen + (uint64_t)failed + 1;
		failed++;
	} while (km_gauge_length(r, &book, a, &g) == KM_ENOMEM);
	assert_int_equal(failed - 1, 4);	/* four lists */
	km_arena_free(a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(twelve_seventy_two_is_a_tight_half_inch),
		cmocka_unit_test(the_nearest_sizes_of_each_system_are_named),
		cmocka_unit_test(two_candidates_are_both_named),
		cmocka_unit_test(an_opening_within_limits_says_whose),
		cmocka_unit_test(a_size_may_be_asked_for),
		cmocka_unit_test(what_is_no_opening_is_refused),
		cmocka_unit_test(running_out_of_memory_is_said),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
