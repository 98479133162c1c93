/* SPDX-License-Identifier: MIT */
/*
 * Which kit a machine has, what stands against it, and what depends on it.
 * Kits and machines are invented; numbers and days by hand.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "audit/choice.h"
#include "tests/unit/mem_fixture.h"
#include "tests/unit/run_fixture.h"
#include "unit/date.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define KITS 4

static struct km_kit kit[KITS];
static struct km_kit *list[KITS];
static struct km_load files;

static struct km_period period(const char *text)
{
	struct km_period p = { .uncertain = false };

	if (text)
		assert_true(km_period_parse(km_slice_of(text), &p));
	return p;
}

/* Kit n of the load; to < 0: without serial numbers. */
static void set_kit(int n, const char *id, int64_t from, int64_t to,
		    const char *years, const char *market)
{
	kit[n] = (struct km_kit){ .id = id, .years = period(years),
				  .market = market, .priority = 1 };
	if (to >= 0)
		kit[n].serials = (struct km_serials){ from, from, to, to,
						      .given = true };
}

/* n kits, first to last or last to first. */
static void set_load(int n, bool backwards)
{
	for (int i = 0; i < n; i++)
		list[i] = &kit[backwards ? n - 1 - i : i];
	files = (struct km_load){ .kits = list, .n_kits = (uint32_t)n };
}

static struct km_machine machine(int64_t serial, const char *built,
				 const char *market)
{
	return (struct km_machine){ .serial = serial, .built = period(built),
				    .built_text = built, .market = market };
}

/* The ids of the kits that are left, one letter each. */
static const char *left(struct km_machine m, struct km_choice *c)
{
	static char ids[KITS + 1];
	uint32_t i;

	assert_int_equal(km_choose_kit(mem, &files, &m, c), KM_OK);
	for (i = 0; i < c->n_kits; i++)
		ids[i] = *c->kits[i]->id;
	ids[i] = '\0';
	return ids;
}

/* ------------------------------------------------------------------ */

static const struct {
	int64_t serial;
	const char *built, *market, *left;
	enum km_chosen_by by;
	enum km_undecided undecided;
} choices[] = {
	/* number */
	{ 1, NULL, NULL, "A", KM_BY_SERIAL, KM_DECIDED },
	{ 100, NULL, NULL, "A", KM_BY_SERIAL, KM_DECIDED },
	{ 101, NULL, NULL, "BC", KM_BY_SERIAL, KM_UNDECIDED_MARKET },
	/* number before date */
	{ 100, "1956", NULL, "A", KM_BY_SERIAL, KM_DECIDED },
	/* then date, then market */
	{ -1, "1954", NULL, "A", KM_BY_DATE, KM_DECIDED },
	{ -1, "1955", "home", "AB", KM_BY_DATE, KM_UNDECIDED_DATE },
	{ -1, "1954/1956", "home", "AB", KM_BY_DATE, KM_UNDECIDED_DATE },
	{ -1, "1956", " Export", "C", KM_BY_DATE, KM_DECIDED },
	{ 150, NULL, "EXPORT", "C", KM_BY_SERIAL, KM_DECIDED },
	/* market alone; nothing at all */
	{ -1, NULL, "export", "C", KM_BY_MARKET, KM_DECIDED },
	{ -1, NULL, NULL, "ABC", KM_BY_NOTHING, KM_UNDECIDED_MARKET },
	/* no kit */
	{ 300, NULL, NULL, "", KM_BY_NOTHING, KM_DECIDED },
	{ 300, "1954", NULL, "", KM_BY_NOTHING, KM_DECIDED },
	{ -1, "1960", NULL, "", KM_BY_NOTHING, KM_DECIDED },
};

static void number_counts_before_date_before_market(void **state)
{
	(void)state;
	set_kit(0, "A", 1, 100, "1954/1955", "home");
	set_kit(1, "B", 101, 200, "1955/1956", "home");
	set_kit(2, "C", 101, 200, "1955/1956", "export");
	for (int backwards = 0; backwards < 2; backwards++) {
		set_load(3, backwards);
		for (size_t i = 0; i < COUNT(choices); i++) {
			struct km_choice c;
			const char *ids = left(machine(choices[i].serial,
						       choices[i].built,
						       choices[i].market), &c);

			if (strcmp(ids, choices[i].left) ||
			    (*ids && c.by != choices[i].by) ||
			    c.undecided != choices[i].undecided)
				fail_msg("row %zu: %s, %d, %d", i, ids, c.by,
					 c.undecided);
		}
	}
}

/* The first kit ends somewhere from 8000 to 8199, the second begins with the
 * number behind. */
static void a_fuzzy_break_leaves_both(void **state)
{
	static const struct { int64_t n; const char *left; } at[] = {
		{ 7999, "A" }, { 8000, "A" }, { 8001, "AB" }, { 8199, "AB" },
		{ 8200, "B" }, { 9000, "B" },
	};
	struct km_choice c;

	(void)state;
	set_kit(0, "A", 1, 8000, "1954/1955", NULL);
	set_kit(1, "B", 8001, 9999, "1956", NULL);
	kit[0].serials.to_latest = 8199;
	kit[1].serials.from_latest = 8200;
	set_load(2, false);
	for (size_t i = 0; i < COUNT(at); i++) {
		assert_string_equal(left(machine(at[i].n, NULL, NULL), &c),
				    at[i].left);
		assert_int_equal(c.undecided, at[i].left[1]
						      ? KM_UNDECIDED_SERIAL
						      : KM_DECIDED);
	}
	/* the date settles what the number leaves open */
	assert_string_equal(left(machine(8100, "1956-03", NULL), &c), "B");
	assert_int_equal(c.undecided, KM_DECIDED);
	assert_int_equal(c.n_elsewhere, 0);
}

/* Without numbers, years that overlap: 1955 is in both. */
static void a_date_may_leave_two(void **state)
{
	struct km_choice c;

	(void)state;
	set_kit(0, "A", 0, -1, "1954/1955", NULL);
	set_kit(1, "B", 0, -1, "1955/..", NULL);
	set_load(2, true);
	assert_string_equal(left(machine(12, "1955?", NULL), &c), "AB");
	assert_int_equal(c.undecided, KM_UNDECIDED_DATE);
	assert_string_equal(left(machine(12, "195X", NULL), &c), "AB");
	assert_string_equal(left(machine(12, "1954-12-31", NULL), &c), "A");
	assert_string_equal(left(machine(12, "1956-01", NULL), &c), "B");
	assert_string_equal(left(machine(-1, NULL, NULL), &c), "AB");
	assert_int_equal(c.undecided, KM_UNDECIDED_DATE);
}

static void what_points_elsewhere_is_named(void **state)
{
	struct km_machine m = machine(27412, "1955", "Export");
	struct km_choice c;

	(void)state;
	set_kit(0, "A", 20001, 27350, "1954/1955", "home");
	set_kit(1, "B", 27351, 29999, "1956", "home");
	set_kit(2, "C", 50001, 50200, "1955", "export");
	set_load(3, false);
	assert_string_equal(left(m, &c), "B");
	assert_int_equal(c.by, KM_BY_SERIAL);
	assert_int_equal(c.n_elsewhere, 2);
	/* 1955 is of A and C; the market of C is that of the machine too */
	assert_int_equal(c.elsewhere[0].by, KM_BY_DATE);
	assert_ptr_equal(c.elsewhere[0].to, &kit[2]);
	assert_int_equal(c.elsewhere[1].by, KM_BY_MARKET);
	assert_ptr_equal(c.elsewhere[1].to, &kit[2]);
	/* by name: only the number is against A */
	m.market = NULL;
	km_choose_named(&files, &m, &kit[0], &c);
	assert_int_equal(c.by, KM_BY_NAME);
	assert_int_equal(c.n_elsewhere, 1);
	assert_int_equal(c.elsewhere[0].by, KM_BY_SERIAL);
	assert_ptr_equal(c.elsewhere[0].to, &kit[1]);
	km_choose_named(&files, NULL, &kit[0], &c);
	assert_int_equal(c.n_elsewhere, 0);
	/* named by the machine's record */
	m.kit = &kit[0];
	assert_string_equal(left(m, &c), "A");
	assert_int_equal(c.by, KM_BY_NAME);
	assert_int_equal(c.n_elsewhere, 1);
	/* to no kit of the load: 1970 */
	m = machine(27412, "1970", NULL);
	assert_string_equal(left(m, &c), "B");
	assert_int_equal(c.n_elsewhere, 1);
	assert_null(c.elsewhere[0].to);
}

/* 900 is 100 past 800 and 50 before 950.  From 30 December 1955 to 1 January
 * 1956 it is 2 days. */
static void the_nearest_kit_is_named(void **state)
{
	struct km_machine m = machine(900, NULL, NULL);
	int64_t off = 0;
	bool days = true;

	(void)state;
	set_kit(0, "A", 1, 800, "1950", NULL);
	set_kit(1, "B", 950, 999, "1956", NULL);
	set_load(2, false);
	assert_ptr_equal(km_nearest_kit(&files, &m, &off, &days), &kit[1]);
	assert_int_equal(off, 50);
	assert_false(days);
	m = machine(-1, "1955-12-30", NULL);
	assert_ptr_equal(km_nearest_kit(&files, &m, &off, &days), &kit[1]);
	assert_int_equal(off, 2);
	assert_true(days);
	m = machine(-1, NULL, NULL);
	assert_null(km_nearest_kit(&files, &m, &off, &days));
}

/* ------------------------------------------------------------------ */
/* Whole runs                                                          */

static const char first_kit[] =
	"kit:\n  id: early\n  serials: {from: 1, to: {earliest: 8000, latest: 8199}}\n"
	"  years: 1954/1955\n  slots:\n"
	"    - {id: S1, tool: hammer}\n"
	"    - {id: S2, tool: tyre lever, length: 250 mm}\n"
	"    - {id: S3, tool: chisel}\n";
static const char second_kit[] =
	"kit:\n  id: late\n  serials: {from: {earliest: 8001, latest: 8200}}\n"
	"  slots:\n"
	"    - {id: L3, tool: punch}\n"
	"    - {id: L2, tool: tyre lever, length: 300 mm}\n"
	"    - {id: L1, tool: hammer}\n";
static const char bench[] =
	"machine: {serial: 8100, built: 1955}\n"
	"bench:\n  - {id: T1, tool: hammer}\n"
	"  - {id: T2, tool: tyre lever, length: 300 mm}\n"
	"  - {id: T3, tool: punch}\n"
	"rubric: {total: 4.00, missing: 0.50, incorrect: 0.25}\n";


static struct run now;

static enum km_status run(const char *machine_text, struct km_fault *fault)
{
	const char *text[] = { first_kit, second_kit, machine_text };
	struct km_options o = { .want_money = true };

	return run_texts(&now, text, 3, &o, fault);
}

/* The date would settle it, were it not for kit `late`, which has no years:
 * 1955 fits `early` and says nothing of `late`. */
static void a_date_settles_a_break(void **state)
{
	(void)state;
	assert_int_equal(run(bench, NULL), KM_OK);
	assert_string_equal(now.audit->kits[0].kit->id, "early");
	assert_int_equal(now.audit->kits[0].undecided, KM_DECIDED);
	assert_int_equal(now.audit->kits[0].n_readings, 0);
	assert_null(now.audit->kits[0].readings);
	run_done(&now);
}

/*
 * Without the date both are left.  The hammer is in both; the lever is of
 * another length; chisel and punch stand alone.  early: the hammer, the lever
 * is 50 too long, no chisel: 1 of 3.  late: hammer, lever, punch: 3 of 3.
 */
static const char open_bench[] =
	"machine: {serial: 8100}\n"
	"bench:\n  - {id: T1, tool: hammer}\n"
	"  - {id: T2, tool: tyre lever, length: 300 mm}\n"
	"  - {id: T3, tool: punch}\n"
	"rubric: {total: 4.00, missing: 0.50, incorrect: 0.25}\n"
	"prices:\n  currency: GBP\n  sellers: [{id: s, postage: 0.00}]\n"
	"  offers: [{id: o1, tool: chisel, seller: s, state: nos, price: 2.00}]\n";

static void readings_stand_side_by_side(void **state)
{
	const struct km_kit_audit *k;
	const struct km_kit_reading *r;

	(void)state;
	assert_int_equal(run(open_bench, NULL), KM_OK);
	assert_int_equal(now.audit->n_kits, 1);
	k = &now.audit->kits[0];
	assert_string_equal(k->kit->id, "early");
	assert_int_equal(k->undecided, KM_UNDECIDED_SERIAL);
	assert_int_equal(k->n_readings, 2);
	r = k->readings;
	assert_string_equal(r[0].kit->id, "early");
	assert_string_equal(r[1].kit->id, "late");
	assert_true(k->slots[0].firm && !k->slots[0].depends);
	assert_true(!k->slots[1].firm && k->slots[1].depends);
	assert_true(!k->slots[2].firm && k->slots[2].depends);
	assert_int_equal(r[1].same_as[0], UINT32_MAX);
	assert_int_equal(r[1].same_as[1], 1);
	assert_int_equal(r[1].same_as[2], 0);
	assert_int_equal(r[0].slots[1].verdict, KM_SUBSTITUTE);
	assert_int_equal(r[1].slots[1].verdict, KM_RIGHT);
	assert_true(r[1].slots[0].depends && r[1].slots[1].depends);
	assert_false(r[1].slots[2].depends);
	assert_true(r[1].slots[0].firm);	/* in that kit it is */
	/* counts */
	assert_int_equal(k->counts.firm, 1);
	assert_int_equal(k->counts.on_paper, 1);
	assert_int_equal(k->counts.doubtful, 2);
	assert_int_equal(r[0].counts.on_paper, 1);
	assert_int_equal(r[1].counts.on_paper, 3);
	assert_int_equal(k->firm_read.low, 3);
	assert_int_equal(k->firm_read.high, 3);
	assert_int_equal(k->on_paper_read.low, 1);
	assert_int_equal(k->on_paper_read.high, 3);
	assert_false(r[0].meets);
	assert_true(r[1].meets);
	assert_false(k->meets);
	/* nothing lost, nothing bought, for what is not sure to be wanted */
	assert_int_equal(k->rubric.lost, 0);
	assert_int_equal(k->total.likely, 0);
	assert_int_equal(k->slots[2].decide, KM_DECIDE_QUESTION);
	run_done(&now);
}

static void every_allocation_may_fail(void **state)
{
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	while (st == KM_ENOMEM) {
		struct km_fault fault = { .fail_at = ++n };

		st = run(open_bench, &fault);
		if (st == KM_OK)
			assert_int_equal(now.audit->kits[0].n_readings, 2);
		run_done(&now);
	}
	assert_int_equal(st, KM_OK);
	assert_true(n > 10);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(number_counts_before_date_before_market),
		cmocka_unit_test(a_fuzzy_break_leaves_both),
		cmocka_unit_test(a_date_may_leave_two),
		cmocka_unit_test(what_points_elsewhere_is_named),
		cmocka_unit_test(the_nearest_kit_is_named),
		cmocka_unit_test(a_date_settles_a_break),
		cmocka_unit_test(readings_stand_side_by_side),
		cmocka_unit_test(every_allocation_may_fail),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
