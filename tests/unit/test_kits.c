/* SPDX-License-Identifier: MIT */
/*
 * Kits beside each other and in order, through the public headers: what counts
 * before what, which tools a ranking goes by, what is refused, and every
 * allocation failing in turn.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "feed.h"
#include "kitmuster/kits.h"

#define KIT(id, slots) "kit:\n  id: " id "\n  slots:\n" slots
#define BENCH(tools) "machine: {serial: 7, title: Old Bess, owner: ann}\n" \
		     "bench:\n" tools
#define SPANNER "{id: A, tool: double open-ended spanner, " \
		"sizes: [10 mm, 12 mm]"
#define LEVER "{id: B, tool: tyre lever, length: 250 mm +-5"
#define CAME ", came_with: serial 7}\n"

#define TEXTS 4

static struct km_diags *d;

/* A load of so many texts; the names are those of files a, b, c. */
static struct km_load *load(const char *const *text, const struct km_limits *l,
			    enum km_status *st)
{
	static const char *const names[TEXTS] = { "a.yaml", "b.yaml",
						  "c.yaml", "d.yaml" };
	struct feed feeds[TEXTS];
	struct km_input in[TEXTS];
	struct km_load *out = NULL;
	size_t n = 0;

	for (; n < TEXTS && text[n]; n++) {
		feeds[n] = (struct feed){ .bytes = text[n],
					  .n = strlen(text[n]) };
		in[n] = feed_input(&feeds[n]);
		in[n].name = names[n];
	}
	*st = km_load(in, n, l, d, &out);
	return out;
}

static struct km_load *must_load(const char *const *text)
{
	enum km_status st;
	struct km_load *l;

	d = km_diags_new(NULL);
	assert_non_null(d);
	l = load(text, NULL, &st);
	assert_int_equal(st, KM_OK);
	return l;
}

static struct km_which *rank(const struct km_load *l)
{
	struct km_which *w = NULL;

	assert_int_equal(km_kits_rank(l, NULL, 0, d, &w), KM_OK);
	return w;
}

static void drop(struct km_load *l, struct km_which *w)
{
	km_which_free(w);
	km_load_free(l);
	km_diags_free(d);
	d = NULL;
}

/* The ids of the kits in order, one letter each. */
static void assert_order(const struct km_which *w, const char *letters)
{
	assert_int_equal(w->rankings[0].n_kits, strlen(letters));
	for (uint32_t i = 0; i < w->rankings[0].n_kits; i++)
		assert_int_equal(w->rankings[0].kits[i].kit->id[0],
				 letters[i]);
}

/* ------------------------------------------------------------------ */
/* What counts before what                                             */

/* One more tool explained outweighs all that is empty. */
static void test_explained_before_empty(void **state)
{
	const char *text[] = {
		KIT("few", "    - " LEVER "}\n"),
		KIT("many", "    - " SPANNER "}\n    - " LEVER "}\n"
		    "    - {id: C, tool: hammer}\n"
		    "    - {id: D, tool: oil can}\n"
		    "    - {id: E, tool: side cutters}\n"),
		BENCH("  - " SPANNER CAME
		      "  - {id: L, tool: tyre lever, length: 250 mm" CAME),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);
	const struct km_kit_rank *k = w->rankings[0].kits;

	(void)state;
	assert_order(w, "mf");
	assert_int_equal(k[0].n_full, 2);
	assert_int_equal(k[0].n_empty, 3);
	assert_int_equal(k[0].n_empty_slots, 3);
	assert_int_equal(k[1].n_full, 1);
	assert_int_equal(k[1].n_stray, 1);
	assert_int_equal(k[1].n_empty, 0);
	assert_int_equal(k[1].tools[0].how, KM_EXPLAINS_NOT);
	drop(l, w);
}

/* A variant is better than a stray, and a stray outweighs what is empty. */
static void test_variant_before_stray(void **state)
{
	const char *text[] = {
		KIT("stray", "    - " LEVER "}\n"),
		KIT("variant", "    - " LEVER "}\n    - {id: C, tool: double "
		    "open-ended spanner, sizes: [10 mm, 17 mm]}\n"
		    "    - {id: D, tool: hammer}\n"),
		BENCH("  - " SPANNER CAME
		      "  - {id: L, tool: tyre lever, length: 250 mm" CAME),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);
	const struct km_kit_rank *k = w->rankings[0].kits;

	(void)state;
	assert_order(w, "vs");
	assert_int_equal(k[0].n_variant, 1);
	assert_int_equal(k[0].n_differ, 1);	/* the sizes alone */
	assert_int_equal(k[0].n_empty, 1);
	assert_int_equal(k[1].n_stray, 1);
	drop(l, w);
}

/* What agrees comes last: a kit that says more is not worse for it. */
static void test_empty_before_agreements(void **state)
{
	const char *text[] = {
		KIT("terse", "    - {id: A, tool: tyre lever}\n"),
		KIT("said", "    - " LEVER "}\n"),
		KIT("wide", "    - " LEVER ", mark: LM}\n"
		    "    - {id: C, tool: hammer}\n"),
		BENCH("  - {id: L, tool: tyre lever, length: 250 mm, mark: LM"
		      CAME),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);

	(void)state;
	assert_order(w, "stw");
	assert_int_equal(w->rankings[0].kits[0].rank, 1);
	assert_int_equal(w->rankings[0].kits[2].rank, 3);
	drop(l, w);
}

/* Kits that explain as well share a rank; the record orders them. */
static void test_equals_share_a_rank(void **state)
{
	const char *text[] = {
		"kit:\n  id: a\n  serials: {from: 100}\n  slots:\n"
		"    - " LEVER "}\n",
		"kit:\n  id: b\n  serials: {from: 1, to: 50}\n  slots:\n"
		"    - " LEVER "}\n",
		BENCH("  - {id: L, tool: tyre lever, length: 250 mm" CAME),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);
	const struct km_kit_rank *k = w->rankings[0].kits;

	(void)state;
	assert_order(w, "ba");
	assert_int_equal(k[0].rank, 1);
	assert_int_equal(k[1].rank, 1);
	assert_false(k[0].serial_outside);
	assert_true(k[1].serial_outside);
	assert_int_equal(k[1].outside_by, 93);	/* 100 - 7 */
	drop(l, w);
}

/* ------------------------------------------------------------------ */
/* Which tools count                                                   */

static void test_by_title_or_serial(void **state)
{
	const char *text[] = {
		KIT("k", "    - " LEVER "}\n"),
		BENCH("  - {id: T1, tool: hammer, came_with: old bess 1963}\n"
		      "  - {id: T2, tool: hammer, came_with: serial 7}\n"
		      "  - {id: T3, tool: hammer, came_with: serial 77}\n"
		      "  - {id: T4, tool: hammer, owner: ann}\n"),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);
	const struct km_ranking *r = &w->rankings[0];

	(void)state;
	assert_int_equal(r->by, KM_BY_CAME_WITH);
	assert_int_equal(r->n_tools, 2);
	assert_string_equal(r->tools[0]->id, "T1");
	assert_string_equal(r->tools[1]->id, "T2");
	drop(l, w);
}

/* Without such a tool those of the owner that came from nowhere else and
 * were not bought. */
static void test_by_owner(void **state)
{
	const char *text[] = {
		KIT("k", "    - " LEVER "}\n"),
		BENCH("  - {id: T1, tool: hammer, owner: Ann}\n"
		      "  - {id: T2, tool: hammer, owner: ben}\n"
		      "  - {id: T3, tool: hammer, owner: ann, status: ordered}\n"
		      "  - {id: T4, tool: hammer, owner: ann, "
		      "came_with: serial 8}\n"
		      "  - {id: T5, tool: hammer}\n"),
		NULL };
	struct km_load *l = must_load(text);
	struct km_which *w = rank(l);
	const struct km_ranking *r = &w->rankings[0];

	(void)state;
	assert_int_equal(r->by, KM_BY_OWNER);
	assert_int_equal(r->n_tools, 1);
	assert_string_equal(r->tools[0]->id, "T1");
	drop(l, w);
}

/* ------------------------------------------------------------------ */
/* Side by side                                                        */

static void test_the_first_asked_for_is_the_first(void **state)
{
	static const char *const ids[] = { "c", "A", "c" };
	const char *text[] = {
		KIT("a", "    - " LEVER "}\n"),
		"kit:\n  id: b\n  maker_marks: [LM]\n  slots:\n    - "
		LEVER "}\n",
		KIT("c", "    - " LEVER "}\n    - " SPANNER "}\n"), NULL };
	struct km_load *l = must_load(text);
	struct km_side_by_side *s = NULL;

	(void)state;
	assert_int_equal(km_kits_compare(l, ids, 3, d, &s), KM_OK);
	assert_string_equal(s->first->id, "c");
	assert_int_equal(s->n, 1);
	assert_int_equal(s->pairs[0].of.n_only_a, 1);
	km_side_by_side_free(s);
	assert_int_equal(km_kits_compare(l, NULL, 0, d, &s), KM_OK);
	assert_string_equal(s->first->id, "a");
	assert_int_equal(s->n, 2);
	assert_int_equal(s->pairs[0].whole, KM_DIFF_MAKER_MARKS);
	assert_int_equal(s->pairs[0].of.n_same, 1);
	assert_false(s->pairs[0].same);
	assert_false(s->same);
	km_side_by_side_free(s);
	drop(l, NULL);
}

static void test_what_is_refused(void **state)
{
	static const char *const ids[] = { "nobody" };
	const char *text[] = { KIT("a", "    - " LEVER "}\n"), NULL };
	struct km_load *l = must_load(text);
	struct km_side_by_side *s = NULL;
	struct km_which *w = NULL;

	(void)state;
	assert_int_equal(km_kits_compare(l, NULL, 0, d, &s), KM_EINPUT);
	assert_int_equal(km_kits_compare(l, ids, 1, d, &s), KM_EINPUT);
	assert_int_equal(km_kits_rank(l, NULL, 0, d, &w), KM_EINPUT);
	assert_int_equal(km_kits_rank(l, ids, 1, d, &w), KM_EINPUT);
	assert_null(s);
	assert_null(w);
	assert_int_equal(km_diags_count(d, KM_ERROR), 4);
	drop(l, NULL);
}

/* ------------------------------------------------------------------ */
/* Memory                                                              */

static bool swallow(void *ctx, const char *text, size_t n)
{
	(void)text;
	*(size_t *)ctx += n;
	return true;
}

/* Both questions and their sheets under limits; false: memory ran out. */
static bool ask_all(const struct km_load *l, const struct km_limits *lim)
{
	struct km_report_options o = { .width = 80, .limits = lim };
	struct km_side_by_side *s = NULL;
	struct km_which *w = NULL;
	size_t bytes = 0;
	struct km_sink to = { swallow, &bytes };
	enum km_status st = km_kits_compare(l, NULL, 0, d, &s);

	if (st == KM_OK)
		st = km_kits_rank(l, NULL, 0, d, &w);
	for (int f = 0; st == KM_OK && f <= KM_FORMAT_JSON; f++) {
		st = km_report_compare(s, (enum km_format)f, &o, &to);
		if (st == KM_OK)
			st = km_report_which(w, (enum km_format)f, &o, &to);
	}
	if (st == KM_OK)
		assert_true(bytes > 0);
	else
		assert_int_equal(st, KM_ENOMEM);
	km_side_by_side_free(s);
	km_which_free(w);
	return st == KM_OK;
}

static void test_memory_runs_out(void **state)
{
	const char *text[] = {
		KIT("a", "    - " LEVER "}\n    - " SPANNER "}\n"),
		KIT("b", "    - {id: A, tool: tyre lever, length: 260 mm +-5, "
		    "count: 2}\n    - {id: C, tool: hammer}\n"),
		BENCH("  - " SPANNER CAME
		      "  - {id: L, tool: tyre lever, length: 250 mm" CAME),
		NULL };
	struct km_fault fault = { 0 };
	struct km_limits lim = { .fault = &fault };
	struct km_load *l = must_load(text);
	uint64_t walked = 0;

	(void)state;
	l->limits = lim;
	do {
		fault.seen = 0;
		fault.fail_at = ++walked;
	} while (!ask_all(l, &lim) && walked < 20000);
	assert_in_range(walked, 50, 19999);
	fault.fail_at = 0;
	drop(l, NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_explained_before_empty),
		cmocka_unit_test(test_variant_before_stray),
		cmocka_unit_test(test_empty_before_agreements),
		cmocka_unit_test(test_equals_share_a_rank),
		cmocka_unit_test(test_by_title_or_serial),
		cmocka_unit_test(test_by_owner),
		cmocka_unit_test(test_the_first_asked_for_is_the_first),
		cmocka_unit_test(test_what_is_refused),
		cmocka_unit_test(test_memory_runs_out),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
