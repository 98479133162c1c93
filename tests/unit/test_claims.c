/* SPDX-License-Identifier: MIT */
/*
 * claims - the list for a judge: which claims, in which order, on what they
 * rest; and memory that runs out while files are weighed or listed.  Which
 * claims a judge queries is a choice of the project, told in docs/method.md.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#include "tests/unit/run_fixture.h"

static const char kit[] =
	"kit:\n"
	"  id: k\n"
	"  years: 1951/1955\n"
	"  every_slot: {sources: [pl2]}\n"
	"  sources:\n"
	"    - {id: sv1, what: survivor, title: No. 9}\n"
	"    - {id: pl2, what: parts-list, dated: 1952}\n"
	"    - {id: pl3, what: parts-list, dated: 1961, depends_on: [pl2]}\n"
	"    - {id: ow1, what: recollection, depends_on: [sv1]}\n"
	"    - {id: ow2, what: recollection}\n"
	"  slots:\n"
	/* 0: as sure as the file says; nothing of it is queried */
	"    - {id: A, tool: jack, finish: paint}\n"
	/* 1: disputed by its sources; the list is no rival of itself */
	"    - {id: B, tool: jack, exists: {for: [ow1, sv1, sv1],"
	" against: [pl3, pl2]}, finish: paint}\n"
	/* 2: two claims; a doubt without a source; one stated too sure */
	"    - id: C\n"
	"      tool: jack\n"
	"      mark: [{is: K, sources: [ow2]}, {is: L, sources: [sv1]}]\n"
	"      finish: {is: paint, certainty: possible}\n"
	"      length: {is: 200 mm, certainty: certain, sources: [ow2]}\n"
	/* 3: good enough, and not queried */
	"    - {id: D, tool: jack, exists: {for: [sv1, pl2], silent: [ow2]},"
	" length: {is: 200 mm, sources: [sv1]}}\n";

static enum km_status try_run(struct run *r, struct km_fault *fault)
{
	static const struct km_options o = { .want_evidence = true };
	const char *text = kit;

	return run_texts(r, &text, 1, &o, fault);
}

static const struct {
	const char *slot;
	enum km_attr attr;
	enum km_certainty certainty;
	enum km_sure_by by;
	bool queried, overstated, outweighed;
	uint32_t n_sources;
} rows[] = {
	/* against a strong root, that of the list, stands a strong one */
	{ "B", KM_ATTRS, KM_DISPUTED, KM_SURE_BY_SOURCES, true, false, false, 4 },
	/* one recollection is weak on length: possible at most */
	{ "C", KM_A_LENGTH, KM_CERTAIN, KM_SURE_BY_STATEMENT, true, true, false,
	  1 },
	{ "C", KM_A_FINISH, KM_POSSIBLE, KM_SURE_BY_STATEMENT, true, false,
	  false, 0 },
	/* K has the survivor against it, L the recollection */
	{ "C", KM_A_MARK, KM_DISPUTED, KM_SURE_BY_SOURCES, true, false, true, 2 },
	{ "C", KM_A_MARK, KM_PROBABLE, KM_SURE_BY_SOURCES, true, false, false,
	  2 },
	{ "A", KM_ATTRS, KM_CERTAIN, KM_SURE_BY_WORD, false, false, false, 1 },
	/* and with A also C; list and survivor, but a source is silent */
	{ "D", KM_ATTRS, KM_PROBABLE, KM_SURE_BY_SOURCES, false, false, false,
	  3 },
	{ "D", KM_A_LENGTH, KM_PROBABLE, KM_SURE_BY_SOURCES, false, false, false,
	  1 },
};

static void what_is_queried_comes_first(void **state)
{
	const struct km_evidence_audit *e;
	struct run r;

	(void)state;
	assert_int_equal(try_run(&r, NULL), KM_OK);
	e = r.audit->kits[0].evidence;
	assert_int_equal(e->n_claims, sizeof rows / sizeof *rows);
	assert_int_equal(e->n_queried, 5);
	for (size_t i = 0; i < e->n_claims; i++) {
		const struct km_claim_audit *c = &e->claims[i];

		if (strcmp(c->slot->id, rows[i].slot) != 0 ||
		    c->attr != rows[i].attr ||
		    c->certainty != rows[i].certainty || c->by != rows[i].by ||
		    c->queried != rows[i].queried ||
		    c->overstated != rows[i].overstated ||
		    c->outweighed != rows[i].outweighed ||
		    c->n_sources != rows[i].n_sources)
			fail_msg("row %zu: %s, attribute %d, certainty %d, by "
				 "%d, %d %d %d, %u sources", i, c->slot->id,
				 (int)c->attr, (int)c->certainty, (int)c->by,
				 c->queried, c->overstated, c->outweighed,
				 c->n_sources);
	}
	for (size_t i = 0; i < e->n_claims; i++)
		assert_int_equal(e->claims[i].n_alike, i == 5);
	assert_string_equal(e->claims[5].alike[0]->id, "C");
	run_done(&r);
}

/* For before against, roots before what depends on them, each once; pl3 is of
 * 1961, the kit of 1951 to 1955, so it is weak [common practice, no source]. */
static void sources_stand_in_order(void **state)
{
	static const struct {
		const char *id;
		enum km_says says;
		bool strong, other_years;
	} want[] = {
		{ "sv1", KM_SAYS_FOR, true, false },
		{ "ow1", KM_SAYS_FOR, false, false },
		{ "pl2", KM_SAYS_AGAINST, true, false },
		{ "pl3", KM_SAYS_AGAINST, false, true },
	};
	const struct km_claim_audit *c;
	struct run r;

	(void)state;
	assert_int_equal(try_run(&r, NULL), KM_OK);
	c = &r.audit->kits[0].evidence->claims[0];
	assert_int_equal(c->n_sources, 4);
	for (uint32_t i = 0; i < 4; i++) {
		assert_string_equal(c->sources[i].source->id, want[i].id);
		assert_int_equal(c->sources[i].says, want[i].says);
		assert_int_equal(c->sources[i].strong, want[i].strong);
		assert_int_equal(c->sources[i].other_years,
				 want[i].other_years);
	}
	/* 3 mentions, one of them twice; pl3 repeats pl2 */
	assert_int_equal(c->evidence->mentions, 2);
	assert_int_equal(c->evidence->roots, 1);
	assert_int_equal(c->evidence->mentions_against, 2);
	assert_int_equal(c->evidence->dependent_against, 1);
	assert_int_equal(c->evidence->roots_against, 1);
	run_done(&r);
}

static void nothing_is_listed_unasked(void **state)
{
	const char *text = kit;
	struct run r;

	(void)state;
	assert_int_equal(run_texts(&r, &text, 1, NULL, NULL), KM_OK);
	assert_null(r.audit->kits[0].evidence);
	run_done(&r);
}

static void memory_may_run_out_while_listing(void **state)
{
	struct km_fault fault = { .fail_at = 0 };
	enum km_status st;
	struct run r;

	(void)state;
	do {
		fault.seen = 0;
		fault.fail_at++;
		st = try_run(&r, &fault);
		if (st != KM_OK)
			assert_int_equal(st, KM_ENOMEM);
		run_done(&r);
	} while (st != KM_OK);
	assert_true(fault.fail_at > 5);
}

static void memory_may_run_out_while_weighing(void **state)
{
	struct km_fault fault = { .fail_at = 0 };
	struct km_limits lim = { .fault = &fault };
	struct km_diags *d;
	struct km_load *l;
	enum km_status st;

	(void)state;
	do {
		struct feed f = { .bytes = kit, .n = sizeof kit - 1 };
		struct km_input in = feed_input(&f);

		fault.seen = 0;
		fault.fail_at++;
		l = NULL;
		d = km_diags_new(NULL);
		st = km_load(&in, 1, &lim, d, &l);
		if (st != KM_OK) {
			assert_int_equal(st, KM_ENOMEM);
			assert_null(l);
		}
		km_load_free(l);
		km_diags_free(d);
	} while (st != KM_OK);
	assert_true(fault.fail_at > 10);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_queried_comes_first),
		cmocka_unit_test(sources_stand_in_order),
		cmocka_unit_test(nothing_is_listed_unasked),
		cmocka_unit_test(memory_may_run_out_while_listing),
		cmocka_unit_test(memory_may_run_out_while_weighing),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
