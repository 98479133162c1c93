/* SPDX-License-Identifier: MIT */
/*
 * Whole sheets of the audit in report_fixture.h.  The expected texts are laid
 * out by hand; money is added up in the fixture's comment and here.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>

#include "base/str.h"
#include "report/words.h"
#include "report_fixture.h"
#include "trade/gauge.h"

static struct sample s;
static struct page page;

static int set_up(void **state)
{
	(void)state;
	sample_make(&s, true);
	page.refuse = false;
	return 0;
}

static void write_sheet(enum km_sheet sheet, enum km_format f, uint32_t width)
{
	struct km_report_options o = { .width = width };

	assert_int_equal(page_of(&page, &s.audit, sheet, f, &o), KM_OK);
}

static void expect_has(const char *text)
{
	if (!strstr(page.text, text))
		fail_msg("no '%s' in:\n%s", text, page.text);
}

static void expect_lacks(const char *text)
{
	if (strstr(page.text, text))
		fail_msg("'%s' in:\n%s", text, page.text);
}

/* Lines, and that none is wider than width. */
static int lines_within(size_t width)
{
	const char *p, *end;
	int n = 0;

	for (p = page.text; (end = strchr(p, '\n')); p = end + 1) {
		if (km_utf8_cells(p, (size_t)(end - p)) > width)
			fail_msg("a line over %zu in:\n%s", width, page.text);
		n++;
	}
	return n;
}

static const char summary[] =
"kit            larkmoor-54-first rev 3: Larkmoor 54 light tractor, on-board kit\n"
"machine        serial 4417, built 1954, home market; kit serials 1001 to 8120\n"
"standard       as-delivered, not met today; list: 9 certain, 1 disputed\n"
"bench          64 tools\n"
"complete       2 of 9 firm (1 lent), after work 3; 2 of 10 counting S-11\n"
"               consumables 1 of 1, apart\n"
"right       2  S-01 T-014, S-02 T-009 (lent)\n"
"after-work  1  S-05 T-022 rust Ri 3, 2 over the limit\n"
"substitute  2  S-04 T-011 finish nickel chrome instead of black oxide, over-r...\n"
"               S-07 T-031 length +13 mm, 10 over tolerance\n"
"unverified  1  S-03 T-005 mark illegible: clean gently, read again\n"
"short       1  S-09 tyre lever, 1 of 2\n"
"expected    1  S-08 T-050 due 2026-04-16\n"
"gap         1  S-06 tommy bar\n"
"doubt       1  S-11 disputed, would be gap\n"
"cost           GBP                                  low      likely        high\n"
"               work on 1, own 40 min               7.00        9.00       12.00\n"
"               buy 2                              14.40       15.40       17.40\n"
"               postage                             4.80        4.80        4.80\n"
"               to finish, 1 unpriced              26.20       29.20       34.20\n"
"do not         work on T-005 before its mark is read\n"
"next           look again at T-005\n"
"               ask after T-050, overdue by 4 days\n"
"               restore T-022 +3\n";

static void the_summary_is_one_screen(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	assert_string_equal(page.text, summary);
	assert_int_equal(lines_within(80), 24);
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 0);
	assert_string_equal(page.text, summary);
}

/* Without costs there are lines to spare: the long reason is told whole, and
 * the parts stand apart. */
static void spare_lines_say_more(void **state)
{
	(void)state;
	sample_make(&s, false);
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("S-04 T-011 finish nickel chrome instead of black oxide,\n"
		   "                 over-restored\n");
	expect_has("bench          64 tools\n\ncomplete ");
	expect_lacks("cost");
	assert_true(lines_within(80) <= 24);
}

/* A kit with far too much of everything: 40 slots of each class, ids of the
 * greatest length, and as many remarks. */
static void an_overfull_kit_still_fits(void **state)
{
	enum { EACH = 40, ALL = EACH * KM_VERDICTS };
	static struct km_slot slots[ALL];
	static struct km_slot_audit audits[ALL];
	static struct km_piece pieces[ALL];
	static struct km_remark remarks[ALL];
	static char ids[ALL][65];

	(void)state;
	for (int i = 0; i < ALL; i++) {
		snprintf(ids[i], sizeof ids[i], "S-%d-%060d", i % 10, i);
		if (i % 3)
			snprintf(ids[i], sizeof ids[i], "S-%d", i);
		slots[i] = s.slot[S01];
		slots[i].id = ids[i];
		pieces[i].match = &s.match[S07];
		pieces[i].pinned = true;
		audits[i] = (struct km_slot_audit){ .slot = &slots[i],
			.firm = i % 11 != 0, .verdict = (enum km_verdict)
			(i / EACH), .pieces = &pieces[i], .margin = -1,
			.worst = &s.match[S07],
			.decide = (enum km_decide)(i % 7) };
		remarks[i] = (struct km_remark){ .what = i % 2
			? KM_REMARK_CLASH : KM_REMARK_NOT_MINE,
			.slot = &slots[i], .other = &slots[i],
			.tool = &s.tool[S07], .aspect = KM_ASPECTS };
	}
	s.tool[S07].owner = ids[0];
	s.kit.slots = slots;
	s.kit.n_slots = ALL;
	s.k.slots = audits;
	s.k.remarks = remarks;
	s.k.n_remarks = ALL;
	for (int v = 0; v < KM_VERDICTS; v++)
		s.k.counts.verdict[v] = EACH;
	s.k.counts.doubtful = 26;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	assert_int_equal(lines_within(80), 24);
	for (int v = 0; v < KM_VERDICTS; v++)
		expect_has(km_verdict_word((enum km_verdict)v));
	expect_has("+");
	expect_has("counting 26 in doubt");
}

/* Four substitutes and a clash, nothing to restore and no gap: 4 lines of
 * heading, 2 of counts, 5 other classes, 1 clash, 5 of cost, 1 and 3 at the
 * end are 21, which leaves 3 of 24 lines to the four. */
static void a_crowded_class_names_the_rest(void **state)
{
	(void)state;
	for (int i = S04; i <= S07; i++) {
		s.slots[i].verdict = KM_SUBSTITUTE;
		s.slots[i].worst = &s.match[S07];
	}
	s.k.counts.verdict[KM_SUBSTITUTE] = 4;
	s.k.counts.verdict[KM_AFTER_WORK] = 0;
	s.k.counts.verdict[KM_GAP] = 0;
	s.remark[3] = (struct km_remark){ .what = KM_REMARK_CLASH,
		.slot = &s.slot[S06], .other = &s.slot[S07],
		.tool = &s.tool[S07], .aspect = KM_ASPECTS, .a = -1 };
	s.k.n_remarks = 4;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("substitute  4  S-04 T-031 length +13 mm, 10 over tolerance\n"
		   "               S-05 T-031 length +13 mm, 10 over tolerance\n"
		   "               S-06 T-031, S-07 T-031\n"
		   "unverified");
	assert_int_equal(lines_within(80), 24);
}

static void missing_prices_are_said(void **state)
{
	(void)state;
	s.load.prices = NULL;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("cost           GBP, no prices were read             low"
		   "      likely        high\n");
}

/* The loser's screen says who has the tool, and what another costs. */
static void a_clash_names_both_slots(void **state)
{
	static struct km_kit other_kit = { .id = "larkmoor-56" };
	static struct km_slot other = { .id = "S-05", .kit = &other_kit };

	(void)state;
	s.remark[3] = (struct km_remark){ .what = KM_REMARK_CLASH,
		.slot = &s.slot[S06], .other = &other, .tool = &s.tool[S07],
		.aspect = KM_ASPECTS, .a = 1800 };
	s.k.n_remarks = 4;
	s.audit.options.want_money = false;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("clash          T-031 is wanted by S-06 and larkmoor-56/S-05, "
		   "given to\n                 larkmoor-56/S-05; another costs "
		   "18.00\n");
}

/* US-50: no firm slot, no figure. */
static void without_a_firm_slot_there_is_no_figure(void **state)
{
	(void)state;
	s.k.counts = (struct km_counts){ .doubtful = 3, .durable = 3 };
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("complete       no firm slot to measure against\n");
	expect_lacks("0 of 0");
	expect_lacks("%");
}

static void plain_is_a_record_a_line(void **state)
{
	struct km_report_options o = { .width = 80, .plain = true };

	(void)state;
	assert_int_equal(page_of(&page, &s.audit, KM_SHEET_SUMMARY,
				 KM_FORMAT_TEXT, &o), KM_OK);
	expect_has("\nsubstitute 2: S-04 T-011 finish nickel chrome instead of "
		   "black oxide, over-restored; S-07 T-031 length +13 mm, "
		   "10 over tolerance\n");
	assert_int_equal(page_of(&page, &s.audit, KM_SHEET_SLOTS,
				 KM_FORMAT_TEXT, &o), KM_OK);
	assert_int_equal(lines_within(400), SLOTS);
	expect_has("larkmoor-54-first  S-12  unused             bulb; "
		   "empty by design\n");
}

static void slots_say_what_and_why(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_TEXT, 80);
	(void)lines_within(80);
	expect_has(
"S-05  after-work  T-022  box spanner\n"
"                         rust Ri 3, 2 over the limit\n"
"                         restore 9.00 (7.00 to 12.00)\n"
"                         decision: restore, better by 3.50, close call\n"
"S-06  gap                tommy bar\n"
"                         nothing on the bench comes near\n"
"                         buy 11.20 as o1\n"
"                         decision: buy\n"
"S-07  substitute  T-031  combination pliers, 165 +-3 mm\n"
"                         length +13 mm, 10 over tolerance\n");
	expect_has(
"S-09  short       T-020  tyre lever, 2 pieces\n"
"                         1 of 2\n");
	expect_has(
"S-11  doubt              double open-ended spanner 1/4 W x 5/16 W (disputed)\n"
"                         would be gap\n");
}

static void slots_as_data_keep_the_three_states(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_CSV, 0);
	expect_has("kit,slot,wanted,count,certainty,verdict,would_be,tools,");
	expect_has("\r\nlarkmoor-54-first,S-05,box spanner,1,certain,"
		   "after-work,,T-022,1,,\"rust Ri 3, 2 over the limit\",,fit,"
		   "7.00,9.00,12.00,,,,,,,,,,,,restore,3.50,yes,,no,,no,\r\n");
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_JSON, 0);
	expect_has("\"slot\": \"S-11\", \"wanted\": \"double open-ended spanner "
		   "1/4 W x 5/16 W\", \"count\": 1, \"certainty\": "
		   "\"disputed\", \"verdict\": \"doubt\", \"would_be\": "
		   "\"gap\", \"tools\": []");
}

/* 6.40 + 9.00 + 4.80 = 20.20; low 6.40 + 8.00 + 4.80 = 19.20; high 6.40 +
 * 11.00 + 4.80 = 22.20: each total is the sum of what stands above it. */
static void shopping_adds_up_by_hand(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_TEXT, 80);
	assert_string_equal(page.text,
"slot  offer  ask for                             no.  each    low  likely   high\n"
"\n"
"from north, 3 to 7 days\n"
"S-06  o1     tommy bar                             1  6.40   6.40    6.40   6.40\n"
"             part 54-702\n"
"S-09  o2     tyre lever                            1  9.00   8.00    9.00  11.00\n"
"             part 54-709\n"
"             price older than 24 months, of\n"
"               2023-12-01\n"
"             postage                                         4.80    4.80   4.80\n"
"             parcel                                         19.20   20.20  22.20\n"
"\n"
"no acceptable offer is known: ask for\n"
"S-07         combination pliers, 165 +-3 mm        1\n"
"\n"
"all parcels, GBP\n"
"             total                                          19.20   20.20  22.20\n"
"\n"
"prices older than 24 months: 1\n");
}

/* The amounts of the CSV are lines and postage only, so that a sum over the
 * column is the total. */
static void shopping_as_data_sums_to_the_total(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_CSV, 0);
	expect_has("\r\npostage,north,,,,,,,,,,,4.80,4.80,4.80,\r\n");
	expect_lacks("20.20");
	expect_lacks("15.40");
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_JSON, 0);
	expect_has("\"totals\": [\n    {\"total_low\": 19.20, "
		   "\"total_likely\": 20.20, \"total_high\": 22.20");
}

/* What leaves the house names nobody. */
static void shopping_names_no_customer(void **state)
{
	static const enum km_format all[] = { KM_FORMAT_TEXT, KM_FORMAT_CSV,
					      KM_FORMAT_JSON };

	(void)state;
	s.machine.owner = "customer-a";
	s.tool[S07].owner = "customer-b";
	s.more[S02].lent_to = "customer-c";
	for (size_t i = 0; i < COUNT(all); i++) {
		write_sheet(KM_SHEET_SHOPPING, all[i], 80);
		expect_lacks("customer");
	}
}

static void matches_show_axes_and_where_it_went(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_MATCHES, KM_FORMAT_TEXT, 80);
	(void)lines_within(80);
	expect_has(
"S-07  combination pliers, 165 +-3 mm: substitute\n"
"T-031  substitute  0.636  0.000  1.000  1.000   1.000   1.000\n"
"    length +13 mm, 10 over tolerance\n"
"    given here\n");
	expect_has("S-06  tommy bar: gap, no candidate\n");
	write_sheet(KM_SHEET_MATCHES, KM_FORMAT_CSV, 0);
	expect_has("\r\nlarkmoor-54-first,S-07,1,T-031,substitute,0.636,0.000,"
		   "1.000,1.000,1.000,1.000,\"length +13 mm, 10 over "
		   "tolerance\",no,larkmoor-54-first,S-07\r\n");
}

static void json_of_the_summary_lists_the_remarks(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_JSON, 0);
	expect_has("{\n  \"schema_version\": 1,\n  \"program\": \"kitmuster\",\n"
		   "  \"sheet\": \"summary\",\n  \"currency\": \"GBP\",\n"
		   "  \"kits\": [\n    {\"kit\": \"larkmoor-54-first\",");
	expect_has("\"what\": \"overdue\", \"tool\": \"T-050\", \"other_kit\": "
		   "null, \"other_slot\": null, \"aspect\": null, \"says\": "
		   "\"T-050 for S-08 is overdue by 4 days\"}");
}

/* ------------------------------------------------------------------ */
/* Hostile text                                                        */

static const char hostile[] = "=1+1\x1b[31m</script>\xE2\x80\xAE,\"\n";

static void make_hostile(void)
{
	static const union km_value marks[] = { { .text = hostile } };

	s.kit.title = hostile;
	s.slot[S06].want[KM_A_TOOL].state = KM_WANT_UNKNOWN;
	s.slot[S06].title = hostile;
	s.slot[S06].want[KM_A_MARK] = (struct km_want){
		.state = KM_WANT_ANY_OF, .n = 1, .any = marks };
	s.more[S02].lent_to = hostile;
	s.machine.built_text = hostile;
	s.audit.currency = "G\x1b[";
}

static void hostile_text_acts_nowhere(void **state)
{
	(void)state;
	make_hostile();
	for (int i = 0; i < KM_SHEETS; i++)
		for (int f = 0; f < KM_FORMATS; f++) {
			struct km_report_options o = { .width = 80 };

			if (!km_report_has((enum km_sheet)i,
					   (enum km_format)f))
				continue;
			assert_int_equal(page_of(&page, &s.audit,
						 (enum km_sheet)i,
						 (enum km_format)f, &o),
					 KM_OK);
			expect_lacks("\x1b");
			if (f == KM_FORMAT_JSON) {
				expect_lacks("</script");
				expect_lacks("\xE2\x80\xAE");
			}
			if (f == KM_FORMAT_TEXT) {
				expect_lacks("\xE2\x80\xAE");
				(void)lines_within(80);
			}
			if (f == KM_FORMAT_CSV)
				expect_lacks(",=1");
			if (f == KM_FORMAT_TSV)
				expect_lacks("\t=1");
		}
}

/* ------------------------------------------------------------------ */
/* The gauge                                                           */

/* 12.72 mm: 0.72 over 12 mm and 0.48 over 12.24, its greatest opening; 0.02
 * over 1/2 in, 12.70 mm. */
static struct km_gauge gauge_of_12_72(void)
{
	static struct km_gauge_spread spread = { &m12, 720000, 480000 };
	static const struct km_size *may_be[] = { &af12 };
	static struct km_gauge_head head = { .size = &af12, .fit = {
		.verdict = KM_SERVES, .share_thousandths = 1000,
		.worst_thousandths = 811, .swing_tenths = 25 } };

	return (struct km_gauge){ .reading = { 12720000, 5000, 5000 },
		.spread = &spread, .n_spread = 1, .may_be = may_be,
		.n_may_be = 1, .heads = &head, .n_heads = 1,
		.near = { { .system = KM_SYS_AF, .below = &af12,
			    .over_below_nm = 20000 } } };
}

static void the_gauge_says_what_an_opening_is(void **state)
{
	struct km_sink to = { page_write, &page };
	struct km_report_options o = { .width = 80 };
	struct km_gauge g = gauge_of_12_72();

	(void)state;
	page.n = 0;
	assert_int_equal(km_report_gauge(&g, KM_FORMAT_TEXT, &o, &to), KM_OK);
	assert_string_equal(page.text,
"opening 12.72 mm\n"
"\n"
"it is      size    says\n"
"taken for  1/2 AF\n"
"spread     12 mm   0.72 mm over the nominal, 0.48 over the greatest opening\n"
"near       1/2 AF  0.02 mm wider than that\n"
"\n"
"head      mm  verdict  share   bite  swing    limits\n"
"1/2 AF  12.7  serves   1.000  0.811  2.5 deg  published\n");
	page.n = 0;
	assert_int_equal(km_report_gauge(&g, KM_FORMAT_JSON, &o, &to), KM_OK);
	expect_has("\"reading\": [\n    {\"asked\": null, \"opening_mm\": 12.72, "
		   "\"undecided\": false}\n  ]");
	assert_int_equal(km_report_gauge(&g, KM_FORMAT_CSV, &o, &to),
			 KM_EINPUT);
}

/* ------------------------------------------------------------------ */
/* Look-up, failures                                                   */

static void sheets_and_formats_are_found_by_word(void **state)
{
	enum km_sheet sheet = KM_SHEETS;
	enum km_format f = KM_FORMATS;

	(void)state;
	for (int i = 0; i < KM_SHEETS; i++) {
		const struct km_sheet_info *info =
			km_sheet_info((enum km_sheet)i);

		assert_true(km_sheet_find(info->word, &sheet));
		assert_int_equal(sheet, i);
		assert_true(info->formats != 0);
		/* what is drawn, and a page of many sheets, has no text */
		assert_true(km_report_has(sheet, KM_FORMAT_TEXT) ||
			    km_report_has(sheet, KM_FORMAT_SVG) ||
			    sheet == KM_SHEET_REPORT);
	}
	for (int i = 0; i < KM_FORMATS; i++) {
		assert_true(km_format_find(km_format_word((enum km_format)i),
					   &f));
		assert_int_equal(f, i);
	}
	assert_false(km_sheet_find("summ", &sheet));
	assert_false(km_format_find("JSON", &f));
}

static void a_sink_that_refuses_is_an_io_error(void **state)
{
	(void)state;
	page.refuse = true;
	assert_int_equal(page_of(&page, &s.audit, KM_SHEET_SUMMARY,
				 KM_FORMAT_TEXT, NULL), KM_EIO);
}

/* Each allocation fails once; nothing may be written then. */
static void every_allocation_may_fail(void **state)
{
	(void)state;
	for (int i = 0; i < KM_SHEETS; i++)
		for (int f = 0; f < KM_FORMATS; f++) {
			struct km_fault fault = { 0 };
			struct km_limits lim = { .fault = &fault };
			struct km_report_options o = { .width = 80,
						       .limits = &lim };
			enum km_status st = KM_ENOMEM;
			uint64_t n = 0;

			if (!km_report_has((enum km_sheet)i,
					   (enum km_format)f))
				continue;
			while (st == KM_ENOMEM) {
				fault.seen = 0;
				fault.fail_at = ++n;
				st = page_of(&page, &s.audit, (enum km_sheet)i,
					     (enum km_format)f, &o);
				if (st != KM_OK)
					assert_int_equal(page.n, 0);
			}
			assert_int_equal(st, KM_OK);
			assert_true(n > 1);
		}
}

static void same_audit_same_bytes(void **state)
{
	static struct page first;

	(void)state;
	write_sheet(KM_SHEET_MATCHES, KM_FORMAT_JSON, 0);
	first = page;
	write_sheet(KM_SHEET_MATCHES, KM_FORMAT_JSON, 0);
	assert_string_equal(first.text, page.text);
}

int main(void)
{
#define T(f) cmocka_unit_test_setup(f, set_up)
	const struct CMUnitTest tests[] = {
		T(the_summary_is_one_screen), T(spare_lines_say_more),
		T(an_overfull_kit_still_fits),
		T(a_crowded_class_names_the_rest), T(missing_prices_are_said),
	 T(a_clash_names_both_slots),
		T(without_a_firm_slot_there_is_no_figure),
		T(plain_is_a_record_a_line), T(slots_say_what_and_why),
		T(slots_as_data_keep_the_three_states),
		T(shopping_adds_up_by_hand),
		T(shopping_as_data_sums_to_the_total),
		T(shopping_names_no_customer),
		T(matches_show_axes_and_where_it_went),
		T(json_of_the_summary_lists_the_remarks),
		T(hostile_text_acts_nowhere),
		T(the_gauge_says_what_an_opening_is),
		T(sheets_and_formats_are_found_by_word),
		T(a_sink_that_refuses_is_an_io_error),
		T(every_allocation_may_fail), T(same_audit_same_bytes),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
