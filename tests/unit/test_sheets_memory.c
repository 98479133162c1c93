/* SPDX-License-Identifier: MIT */
/*
 * Memory runs out while a sheet is written: every sheet in every format, one
 * failing allocation after another.  Either KM_ENOMEM and not a byte, or the
 * whole sheet as it is with enough memory.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/arena.h"
#include "base/buf.h"
#include "feed.h"
#include "kitmuster/questions.h"
#include "kitmuster/report.h"

/* Something for every sheet: a source, a doubt, work, offers, a pouch, what is
 * lent, ordered and not ours. */
static const char text[] =
	"machine: {serial: 17, title: Fenling 2, owner: Ann, kit: k}\n"
	"kit:\n  id: k\n  title: Fenling 2, tool roll\n  revision: 2\n"
	"  currency: GBP\n  years: 1951/1955\n"
	"  pouch: {form: roll, pockets: 3, pocket_width: 40 mm, "
	"pocket_depth: 200 mm}\n"
	"  every_slot: {sources: [pl]}\n"
	"  sources:\n"
	"    - {id: pl, what: parts-list, dated: 1952, title: List 3}\n"
	"    - {id: ow, what: recollection, depends_on: [pl]}\n"
	"  slots:\n"
	"    - {id: A, tool: tyre lever, length: 165 mm +-3, "
	"finish: black oxide, part: P-A, pocket: 1, count: 2}\n"
	"    - {id: B, tool: single open-ended spanner, sizes: [13 mm], "
	"part: P-B, pocket: 2}\n"
	"    - {id: C, tool: chisel, exists: {for: [ow], against: [pl]}, "
	"mark: [{is: K, sources: [ow]}, {is: L, sources: [pl]}]}\n"
	"    - {id: D, tool: hammer, part: P-D, finish: nickel}\n"
	"bench:\n"
	"  - {id: T1, tool: tyre lever, length: 165 mm, finish: black oxide, "
	"condition: {rust: 3, pits: none, plate_left: 95 %, damage: none}}\n"
	"  - {id: T2, tool: tyre lever, length: 178 mm, finish: chrome, "
	"status: lent, due: 2026-01-05}\n"
	"  - {id: T3, tool: single open-ended spanner, openings: [13.1 mm]}\n"
	"  - {id: T4, tool: hammer, owner: Bob, finish: nickel}\n"
	"  - {id: T5, tool: chisel, mark: illegible}\n"
	"  - {id: T6, tool: hammer, finish: painted, status: ordered, "
	"bought_for: k/D}\n"
	"  - {id: T7, tool: oil can}\n"
	"prices:\n  currency: GBP\n"
	"  sellers: [{id: s, postage: 1.00}]\n"
	"  offers:\n"
	"    - {id: o1, part: P-A, seller: s, state: nos, price: 5.00}\n"
	"    - {id: o2, part: P-B, seller: s, state: nos, price: 6.00}\n"
	"    - {id: o3, part: P-D, seller: s, state: nos, price: 7.00}\n"
	"rubric: {total: 4.00, missing: 0.50, incorrect: 0.25, "
	"condition: 0.10, extra: 0.05}\n";

static struct km_diags *diags;
static struct km_load *load;
static struct km_audit *audit;

static int set_up(void **state)
{
	static const struct km_options all = {
		.want_money = true, .want_frontier = true,
		.want_ceilings = true, .want_problem = true,
		.want_fates = true, .want_pouch = true, .want_jobs = true,
		.want_surplus = true, .want_worth = true,
		.want_margins = true, .want_evidence = true,
		.today = { 2026, 2, 1 },
	};
	struct feed f = { .bytes = text, .n = sizeof text - 1 };
	struct km_input in = feed_input(&f);

	(void)state;
	diags = km_diags_new(NULL);
	return km_load(&in, 1, NULL, diags, &load) != KM_OK ||
	       km_audit_run(load, &all, diags, &audit) != KM_OK ||
	       km_questions_ask(load, audit) != KM_OK;
}

static int tear_down(void **state)
{
	(void)state;
	km_audit_free(audit);
	km_load_free(load);
	km_diags_free(diags);
	return 0;
}

static bool keep(void *ctx, const char *bytes, size_t n)
{
	km_buf_add(ctx, bytes, n);
	return !km_buf_failed(ctx);
}

/* after: all later allocations fail too. */
static void walk(enum km_sheet s, enum km_format f, bool plain, int after)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_report_options o = { .width = 80, .plain = plain };
	struct km_buf whole, part;
	struct km_sink to = { keep, &whole };
	struct km_limits lim = { 0 };
	struct km_fault fault = { 0 };
	enum km_status st;

	assert_non_null(mem);
	km_buf_init(&whole, mem);
	km_buf_init(&part, mem);
	assert_int_equal(km_report(audit, s, f, &o, &to), KM_OK);
	to.ctx = &part;
	lim.fault = &fault;
	o.limits = &lim;
	/* each of the first 64, then every second, and so on */
	for (uint64_t k = 1; !fault.fail_at || fault.seen >= fault.fail_at;
	     k += 1 + k / 64) {
		fault = (struct km_fault){ .fail_at = k, .and_after = after };
		km_buf_clear(&part);
		st = km_report(audit, s, f, &o, &to);
		if (st == KM_OK && part.len == whole.len &&
		    (!whole.len ||
		     !memcmp(part.text, whole.text, whole.len)))
			continue;
		if (st != KM_ENOMEM || part.len)
			fail_msg("%s %s: allocation %llu failed: status %d, "
				 "%zu of %zu bytes", km_sheet_info(s)->word,
				 km_format_word(f), (unsigned long long)k,
				 (int)st, part.len, whole.len);
	}
	km_arena_free(mem);
}

static void a_sheet_is_whole_or_not_there(void **state)
{
	int pairs = 0;

	(void)state;
	for (int s = 0; s < KM_SHEETS; s++)
		for (int f = 0; f < KM_FORMATS; f++) {
			if (!km_report_has((enum km_sheet)s,
					   (enum km_format)f))
				continue;
			for (int after = 0; after < 2; after++)
				walk((enum km_sheet)s, (enum km_format)f,
				     false, after);
			if (f == KM_FORMAT_TEXT)
				walk((enum km_sheet)s, KM_FORMAT_TEXT, true, 0);
			pairs++;
		}
	assert_true(pairs > KM_SHEETS);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_sheet_is_whole_or_not_there),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
