/* SPDX-License-Identifier: MIT */
/*
 * The sheets of the plan, from the audit of report_fixture.h and the plan of
 * plan_fixture.h.  The expected texts are laid out by hand; sums are added up
 * in the fixtures' comments and here.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/str.h"
#include "plan_fixture.h"
#include "report/words.h"

static struct plan_sample x;
static struct page page;

static int set_up(void **state)
{
	(void)state;
	plan_make(&x);
	x.plan.looked_closer = true;
	page.refuse = false;
	return 0;
}

static void write_sheet(enum km_sheet sheet, enum km_format f, uint32_t width)
{
	struct km_report_options o = { .width = width };

	assert_int_equal(page_of(&page, &x.s.audit, sheet, f, &o), KM_OK);
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

static void expect_within(size_t width)
{
	const char *p, *end;

	for (p = page.text; (end = strchr(p, '\n')); p = end + 1)
		if (km_utf8_cells(p, (size_t)(end - p)) > width)
			fail_msg("a line over %zu in:\n%s", width, page.text);
}

/* ------------------------------------------------------------------ */
/* Shortage                                                            */

/* US-46: complete 9 of 11, and the sheet has the 2 short lines only.  Here
 * eleven slots of one bar each, nine of them right, one open, one on order. */
static void shortage_lists_only_open_lines(void **state)
{
	enum { ELEVEN = 11 };
	static struct km_slot slots[ELEVEN];
	static struct km_slot_audit audits[ELEVEN];
	static struct km_piece pieces[ELEVEN];

	(void)state;
	for (int i = 0; i < ELEVEN; i++) {
		slots[i] = x.s.slot[S06];
		slots[i].pocket = i + 1;
		slots[i].want[KM_A_PART].state = KM_WANT_NOTHING;
		pieces[i] = (struct km_piece){ .match = &x.s.match[S01] };
		audits[i] = (struct km_slot_audit){ .slot = &slots[i],
			.firm = true, .pieces = &pieces[i] };
	}
	slots[3].id = "S-04";
	pieces[3].match = NULL;
	slots[7].id = "S-08";
	pieces[7] = (struct km_piece){ .match = &x.s.match[S08],
				       .expected = true };
	x.s.kit.n_slots = ELEVEN;
	x.s.k.slots = audits;
	x.s.k.counts = (struct km_counts){ .firm = 11, .on_paper = 9 };
	write_sheet(KM_SHEET_SHORTAGE, KM_FORMAT_TEXT, 0);
	assert_string_equal(page.text,
"slot  pocket  wanted  have  short  date  initials  date  initials  "
"description, what is on order\n"
"\n"
"kit larkmoor-54-first, 9 of 11 firm slots complete\n"
"S-04       4       1     0      1  ________ ____   ________ ____   tommy bar\n"
"S-08       8       1     0      1  ________ ____   ________ ____   tommy bar\n"
"                                                                   "
"on order: T-050, due 2026-04-16\n");
	write_sheet(KM_SHEET_SHORTAGE, KM_FORMAT_CSV, 0);
	assert_string_equal(page.text,
"kit,slot,part,pocket,wanted,have,short,on_order,due,pieces_on_order,"
"description,there_instead\r\n"
"larkmoor-54-first,S-04,,4,1,0,1,,,0,tommy bar,\r\n"
"larkmoor-54-first,S-08,,8,1,0,1,T-050,2026-04-16,1,tommy bar,\r\n");
}

/* Two wanted, one right: one short.  What stands in is not had. */
static void shortage_counts_what_is_right(void **state)
{
	(void)state;
	x.s.piece[S09].match = &x.s.match[S01];
	write_sheet(KM_SHEET_SHORTAGE, KM_FORMAT_TEXT, 80);
	expect_within(80);
	expect_has(
"S-09               2     1      1  ________ ____   ________ ____\n"
"    tyre lever\n");
	expect_has(
"    combination pliers, 165 +-3 mm\n"
"    T-031 stands in: length +13 mm, 10 over tolerance\n");
	expect_has("    T-022 needs work: rust Ri 3, 2 over the limit\n");
	expect_has("\nin doubt, and so not listed: S-11\n");
	expect_lacks("S-01 ");
	expect_lacks("S-12");
}

static void a_complete_kit_has_no_open_line(void **state)
{
	(void)state;
	x.s.kit.n_slots = 2;		/* S-01 and S-02, both right */
	write_sheet(KM_SHEET_SHORTAGE, KM_FORMAT_TEXT, 80);
	assert_string_equal(page.text,
		"kit larkmoor-54-first, 2 of 9 firm slots complete\n"
		"no open line\n");
}

/* ------------------------------------------------------------------ */
/* Wants and haves                                                     */

/* US-30: delivered elsewhere 30.50, a rusty one needs 9.00 of work. */
static void wants_fit_the_pocket(void **state)
{
	(void)state;
	for (int i = 2; i < 4; i++)
		x.place[i].ceiling_wanted = true;
	x.place[2].ceiling_ready = 3050;
	x.place[2].ceiling_work = 3050 - 900;
	x.place[3].ceiling_ready = KM_NO_CEILING;
	x.s.slot[S07].want[KM_A_MARK] = (struct km_want){
		.state = KM_WANT_ANY_OF, .n = 2, .any = v_marks,
		.where = "on the left handle" };
	x.s.machine.owner = "customer-a";
	write_sheet(KM_SHEET_WANTS, KM_FORMAT_TEXT, 80);
	assert_string_equal(page.text,
"WANTS, prices in GBP\n"
"\n"
"kit larkmoor-54-first\n"
"\n"
"S-07 combination pliers\n"
"  length 165 +-3 mm\n"
"  mark LARKMOOR or LM, on the left\n"
"    handle\n"
"  no good: length outside 162 to 168 mm\n"
"  ready: up to 30.50\n"
"  needs work: up to 21.50\n"
"\n"
"S-09 tyre lever\n"
"  no good: cracked, bent, badly worn\n"
"  ready: your limit\n"
"  needs work: not worth it\n");
}

/* Sizes in stamped words and in millimetres; two pieces are one item. */
static void wants_name_both_sizes(void **state)
{
	(void)state;
	x.s.slots[S01].worst = NULL;
	for (int i = 0; i < 2; i++)
		x.place[i] = (struct km_plan_place){ .kit = &x.s.k,
			.slot = &x.s.slots[S01], .piece = (uint32_t)i,
			.ceiling_wanted = true, .ceiling_ready = 1500,
			.ceiling_work = -1 };
	x.s.slot[S01].most.minor = 1200;
	write_sheet(KM_SHEET_WANTS, KM_FORMAT_TEXT, 0);
	expect_within(40);
	expect_has(
"S-01 double open-ended spanner 1/4 W\n"
"  (13.3 mm) x 5/16 W (15.2 mm), 2 pieces\n"
"  length 148 +-3 mm\n"
"  mark LARKMOOR or LM\n"
"  no good: another mark, or none\n"
"  ready: up to your most, 12.00 each\n"
"  needs work: not worth it\n");
}

/* What could not be worked out is looked for all the same. */
static void a_price_that_is_missing_is_said(void **state)
{
	static const struct km_way open = { .kind = KM_WAY_OPEN };

	(void)state;
	x.s.slots[S01].worst = NULL;
	for (int i = 0; i < 2; i++)
		x.place[i] = (struct km_plan_place){ .kit = &x.s.k,
			.slot = &x.s.slots[S01], .piece = (uint32_t)i,
			.chosen = &open, .ceiling_unknown = true,
			.ceiling_ready = -1, .ceiling_work = -1 };
	write_sheet(KM_SHEET_WANTS, KM_FORMAT_TEXT, 0);
	expect_within(40);
	expect_has("  (13.3 mm) x 5/16 W (15.2 mm), 2 pieces\n");
	expect_has("  most to pay: not worked out\n\n"
		   "not worked out: too many places or\n"
		   "  offers to try each, or the search\n"
		   "  reached its limit\n");
	expect_lacks("not worth it");
	expect_lacks("nothing to look for");
}

static void no_wants_are_said(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_WANTS, KM_FORMAT_TEXT, 0);
	assert_string_equal(page.text,
			    "WANTS, prices in GBP\nnothing to look for\n");
}

/* Eleven of a kind are one line; what belongs to others is not counted, what
 * is on order is. */
static void haves_count_by_kind_and_size(void **state)
{
	enum { BENCH = 14 };
	static struct km_tool tools[BENCH];
	static struct km_tool *block = tools;
	static union km_value two[2], only_kind[1], opened[2];
	static const struct km_span jaws[] = { { 12720000, 5000, 5000 } };

	(void)state;
	two[0] = v_spanner;
	two[1] = v_two_w;
	only_kind[0] = v_lever;
	opened[0] = v_box;
	opened[1].spans.v = jaws;
	opened[1].spans.n = 1;
	for (int i = 0; i < BENCH; i++)
		tools[i] = (struct km_tool){ .id = "T", .traits = {
			.has = 1u << KM_A_TOOL | 1u << KM_A_SIZES, .v = two } };
	tools[10].status = KM_ORDERED;
	tools[11].owner = "customer-b";
	tools[12].traits = (struct km_traits){ .has = 1u << KM_A_TOOL,
					       .v = only_kind };
	tools[13].traits = (struct km_traits){
		.has = 1u << KM_A_TOOL | 1u << KM_A_OPENINGS, .v = opened };
	x.s.load.bench = (struct km_tools){ &block, BENCH };
	write_sheet(KM_SHEET_HAVES, KM_FORMAT_TEXT, 200);
	assert_string_equal(page.text,
"HAVES: 13 tools\n"
"box spanner\n"
"   1  opening 12.72 mm\n"
"double open-ended spanner\n"
"  11  1/4 W (13.3 mm) x 5/16 W (15.2 mm)\n"
"        (1 on order)\n"
"tyre lever\n"
"   1  size not recorded\n");
	expect_within(40);
}

/* ------------------------------------------------------------------ */
/* Frontier                                                            */

static void the_frontier_marks_the_plan(void **state)
{
	static struct km_rubric rubric = { .total = -1 };
	static struct km_workshop workshop = { .own_time = { 1800 } };

	(void)state;
	x.s.load.rubric = &rubric;
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_TEXT, 80);
	assert_string_equal(page.text,
"money  points lost  the plan\n"
"\n"
"points as the rubric counts them; money in GBP\n"
" 0.00         2.00  no\n"
" 9.00         1.50  no\n"
"29.20         0.50  yes\n");
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_CSV, 0);
	assert_string_equal(page.text, "money,points_lost,chosen\r\n"
			    "0.00,2.00,no\r\n9.00,1.50,no\r\n"
			    "29.20,0.50,yes\r\n");
	rubric.total = 400;
	x.s.load.workshop = &workshop;
	x.plan.own.likely += 250;	/* 31.70, on no line */
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_TEXT, 0);
	expect_has("points as the rubric counts them, not capped at its total "
		   "of 4.00; money in GBP, with own time\n");
	expect_has("\nthe plan spends 31.70 and loses 0.50: it leaves the "
		   "fewest places short, also where that saves no points\n");
	x.s.load.workshop = NULL;
	x.plan.frontier_whole = false;
	x.s.load.rubric = NULL;
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_TEXT, 0);
	expect_has("no rubric was read: a firm durable place short of the "
		   "standard loses 1.00; money in GBP; the search ended early: cheaper "
		   "plans that lose more points may be missing\n");
}

/*
 * Money to 29.20: steps of 5.00, six of them, to 30.00 over 126 mm from 24; so
 * 0.00 lies at 24, 9.00 at 24 + 126 x 0.3 = 61.8, 29.20 at 24 + 126 x 29.2 / 30
 * = 146.64.  Points to 2.00: steps of 0.50 to 2.00 over 76 mm upwards from 90;
 * 2.00 lies at 14, 1.50 at 90 - 57 = 33, 0.50 at 90 - 19 = 71.
 */
static void the_frontier_is_drawn_to_scale(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_SVG, 0);
	expect_has("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"160mm\" "
		   "height=\"110mm\" viewBox=\"0 0 160 110\" role=\"img\">\n"
		   "<title>Points lost against money to spend</title>\n"
		   "<desc>3 plans that no other beats, from 0.00, 2.00 lost to "
		   "29.20, 0.50 lost.</desc>\n");
	expect_has("d=\"M24 14 H61.8 V33 H146.64 V71 H150\"/>\n");
	expect_has("<circle cx=\"61.8\" cy=\"33\" r=\"0.9\" fill=\"#000\"/>\n");
	expect_has("<circle cx=\"146.64\" cy=\"71\" r=\"2\" fill=\"none\" ");
	expect_has("the plan: 29.20, 0.50 lost</text>");
	expect_has(">30.00</text>");
	expect_lacks(">35.00</text>");
	expect_lacks("<script");
	expect_lacks("href");
	expect_has("</svg>\n");
}

static void text_in_a_drawing_is_escaped(void **state)
{
	(void)state;
	x.s.audit.currency = "<&\x1b";
	x.plan.n_frontier = 0;
	write_sheet(KM_SHEET_FRONTIER, KM_FORMAT_SVG, 0);
	expect_has("money to spend, &lt;&amp;\xEF\xBF\xBD</text>");
	expect_has("<desc>Nothing to plan.</desc>");
	expect_lacks("<path");
}

/* ------------------------------------------------------------------ */
/* Ways                                                                */

static void ways_show_every_way_of_every_place(void **state)
{
	(void)state;
	x.place[0].margin = 350;
	x.place[0].other = &x.way[0][1];
	x.place[0].close_call = true;
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_TEXT, 0);
	expect_has(
"plan  way    of     price  alone  points  will do  "
"work, shared charges, why not\n"
"\n"
"S-05  box spanner: work is better by 3.50, close call\n"
"yes   work   T-022   0.00   9.00    0.00  yes      load: wash\n"
"no    open           0.00   0.00    0.50  no\n"
"\n"
"S-06  tommy bar\n"
"yes   offer  o1      6.40  11.20    0.00  yes      parcel from north\n");
	expect_has("\nS-09  tyre lever, piece 2 of 2\n");
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_CSV, 0);
	expect_has("\r\nlarkmoor-54-first,S-06,1,yes,offer,,o1,,6.40,6.40,6.40,"
		   "11.20,11.20,11.20,0.00,0.00,0.00,0.00,yes,no,"
		   "parcel from north,\r\n");
}

/* US-26 and the like: worth up to the sum of what it would fill. */
static void job_lots_are_weighed(void **state)
{
	static const struct km_job_lot lot = { .id = "j1" };
	static struct km_plan_job_lot j = { .lot = &lot, .most = 1750,
		.price = { 2000, 2000, 2000 }, .fills = 2, .known = true };

	(void)state;
	x.plan.job_lots = &j;
	x.plan.n_job_lots = 1;
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_TEXT, 0);
	expect_has("\njob lot j1 at 20.00, fills at most 2 places: worth up to 17.50, "
		   "too dear by 2.50; not bought\n");
	expect_lacks("not every place");
	j.known = false;		/* not found is not worth nothing */
	j.most = -1;
	x.plan.looked_closer = false;
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_TEXT, 0);
	expect_has("\njob lot j1 at 20.00, fills at most 2 places: what it is worth was "
		   "not worked out; not bought\n");
	expect_has("not every place was tried another way, so some margins "
		   "and close calls may be missing");
}

static void the_problem_goes_out_whole(void **state)
{
	(void)state;
	x.place[1].by_hand = true;
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_JSON, 0);
	expect_has("{\n  \"schema_version\": 1,\n  \"program\": \"kitmuster\",\n"
		   "  \"sheet\": \"ways\",\n  \"currency\": \"GBP\",\n"
		   "  \"decimals\": 2,\n  \"places\": [\n");
	expect_has("{\"place\": 1, \"kit\": \"larkmoor-54-first\", \"slot\": "
		   "\"S-06\", \"piece\": 1, \"by_hand\": true, \"chosen\": 2}");
	expect_has("{\"option\": 2, \"place\": 1, \"way\": \"offer\", \"tool\": "
		   "null, \"offer\": \"o1\", \"steps\": [], \"money\": 640, "
		   "\"points\": 0, \"acceptable\": true, \"allowed\": true, "
		   "\"resources\": [], \"uses\": [{\"charge\": 0, "
		   "\"goods\": 640}]}");
	expect_has("\"option\": 4, \"place\": 2, \"way\": \"open\", \"tool\": "
		   "null, \"offer\": null, \"steps\": [], \"money\": 0, "
		   "\"points\": 50, \"acceptable\": false, \"allowed\": false");
	expect_lacks("\"option\": 5,");	/* only might be found */
	expect_has("{\"charge\": 0, \"kind\": \"parcel\", \"seller\": \"north\", "
		   "\"process\": null, \"job_lot\": null, \"table\": null, "
		   "\"most\": null, \"minimum\": null, \"group\": null, "
		   "\"postage\": 480, \"free_over\": null, \"minimum_order\": "
		   "1000, \"top_up\": true}");
	expect_has("\"table\": [0, 900], \"most\": null, \"minimum\": 0, "
		   "\"group\": null, \"postage\": null");
	expect_has("  \"resources\": [\n    {\"resource\": 0, \"tool\": "
		   "\"T-022\", \"offer\": null, \"job_lot\": null, "
		   "\"capacity\": 1}\n  ],\n  \"groups\": [],\n"
		   "  \"asked\": {\"aim\": \"complete\", \"points_are\": "
		   "\"places short\", \"points_weight\": 5000, "
		   "\"money_weight\": 1, \"budget\": null, \"limit\": null},\n"
		   "  \"plan\": {\"feasible\": true, \"proved\": true, "
		   "\"points\": 1, \"money\": 2920, \"value\": 7920, "
		   "\"bound\": 7920}\n}\n");
}

static void without_a_plan_there_is_no_problem(void **state)
{
	(void)state;
	x.s.audit.plan = NULL;
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_JSON, 0);
	expect_has("\"groups\": [],\n  \"asked\": null,\n  \"plan\": null\n}\n");
	write_sheet(KM_SHEET_WAYS, KM_FORMAT_TEXT, 0);
	assert_string_equal(page.text, "nothing to plan\n");
}

/* ------------------------------------------------------------------ */
/* Shopping                                                            */

/*
 * From north the bar 6.40 and one lever 9.00, and a job lot of 20.00; the
 * least order is 40.00, so 4.60 go besides: 6.40 + 9.00 + 20.00 + 4.60 + 4.80
 * = 44.80.
 */
static void lots_and_top_ups_are_lines(void **state)
{
	static const struct km_job_lot lot = { .id = "j1" };
	static struct km_plan_bill bills[2];

	(void)state;
	bills[0] = x.bill[0];
	bills[0].top_up = (struct km_money3){ 460, 460, 460 };
	bills[0].cost = (struct km_money3){ 940, 940, 940 };
	bills[1] = (struct km_plan_bill){ .kind = KM_BILL_JOB_LOT,
		.seller = &x.s.seller, .job_lot = &lot, .pieces = 1,
		.cost = { 2000, 2000, 2000 } };
	x.plan.bills = bills;
	x.plan.n_bills = 2;
	x.s.seller.free_over.minor = 6000;
	x.s.parcel[0].postage = bills[0].cost;
	x.s.parcel[0].total = (struct km_money3){ 4480, 4480, 4480 };
	x.s.line[1].price = x.s.line[1].amount =
		(struct km_money3){ 900, 900, 900 };
	x.s.audit.shopping_total = x.s.parcel[0].total;
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_TEXT, 0);
	expect_has("from north, 3 to 7 days, postage free from 60.00\n");
	expect_has(
"j1           job lot                                    "
"  1        20.00   20.00  20.00\n"
"             to reach the minimum order                 "
"            4.60    4.60   4.60\n"
"             postage                                    "
"            4.80    4.80   4.80\n"
"             parcel                                     "
"           44.80   44.80  44.80\n");
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_CSV, 0);
	expect_has("\r\njob-lot,north,,,,j1,,,1,,,,20.00,20.00,20.00,\r\n"
		   "top-up,north,,,,,,,,,,,4.60,4.60,4.60,\r\n"
		   "postage,north,,,,,,,,,,,4.80,4.80,4.80,\r\n");
}

/* The offer is of the number that superseded the slot's, and will not be what
 * the slot asks for. */
static void differences_and_numbers_are_told(void **state)
{
	static const union km_value now = { .text = "54-702A" };
	static struct km_supersession one = { .old_part = "54-702",
					      .new_part = "54-702A" };
	static const struct km_finish zinc = { .name = "zinc clear" };
	static union km_value traits[2];
	static struct km_match match;

	(void)state;
	traits[0].finish.body = &zinc;
	traits[1] = now;
	x.s.offer[0].traits = (struct km_traits){
		.has = 1u << KM_A_FINISH | 1u << KM_A_PART, .v = traits };
	x.s.slot[S06].want[KM_A_FINISH] = (struct km_want)WANT(v_black);
	match = x.s.bought[0];
	match.on[KM_ASP_FINISH] = (struct km_comparison){
		.outcome = KM_DIFFERS, .finding = KM_F_FINISH_OTHER,
		.letter = KM_NOTED };
	x.s.way[0].match = &match;
	x.s.prices.superseded = &one;
	x.s.prices.n_superseded = 1;
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_TEXT, 0);
	expect_has("part 54-702A, which superseded 54-702\n"
		   "             finish zinc clear instead of black oxide\n");
	x.s.line[0].way = NULL;		/* nobody offers it */
	write_sheet(KM_SHEET_SHOPPING, KM_FORMAT_TEXT, 0);
	expect_has("part 54-702A, which superseded 54-702\n");
}

/* ------------------------------------------------------------------ */
/* What the plan adds to other sheets                                  */

static void the_summary_tells_the_proof(void **state)
{
	(void)state;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("cost           GBP, proved, singly 34.00            low"
		   "      likely        high\n");
	x.plan.proved = false;
	x.plan.gap = 150;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("cost           GBP, within 1.50             ");
	expect_within(80);
}

/* 4.80 for the parcel, 2.00 of it to reach the minimum order, leave 2.80; 29.20
 * and 12.00 of own time are 41.20. */
static void the_summary_splits_carriage_and_own_time(void **state)
{
	(void)state;
	x.s.k.counts.verdict[KM_SHORT] = 0;
	x.s.k.counts.consumables = 0;
	x.s.k.top_up_total = (struct km_money3){ 200, 200, 200 };
	x.s.k.own_total = (struct km_money3){ 900, 1200, 2400 };
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has(
"               work on 1                           7.00        9.00       12.00\n"
"               buy 2                              14.40       15.40       17.40\n"
"               to reach the minimum order          2.00        2.00        2.00\n"
"               postage                             2.80        2.80        2.80\n"
"               to finish, 1 unpriced              26.20       29.20       34.20\n"
"               own time 40 min                     9.00       12.00       24.00\n"
"               with own time                      35.20       41.20       58.20\n");
	expect_within(80);
}

/* Restore and buy are compared with own time: 9.00 and 5.00 are 14.00. */
static void a_slot_shows_what_was_compared(void **state)
{
	(void)state;
	x.s.way[2].own = (struct km_money3){ 400, 500, 600 };
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_TEXT, 0);
	expect_has("restore 9.00 (7.00 to 12.00), with own time 14.00 (11.00 "
		   "to 18.00)");
}

/* One class less, so that there is a line to spare: 4.00 less 0.75 is 3.25,
 * less 0.25 is 3.75. */
static void the_summary_tells_rubric_and_close_calls(void **state)
{
	(void)state;
	x.s.k.counts.verdict[KM_SHORT] = 0;
	x.s.k.counts.consumables = 0;
	x.s.k.rubric = (struct km_rubric_audit){ .given = true, .total = 400,
		.lost = 75, .after_plan = 25 };
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("plan           rubric 3.25 of 4.00, after the plan 3.75, "
		   "close call S-05\n");
	x.plan.aim = KM_AIM_BUDGET;
	x.plan.budget = 3000;
	x.s.k.rubric.total = 25;	/* the plan loses 0.50 */
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("plan           within 30.00: loses 0.50 points, no more "
		   "than 0.25 count");
	x.s.k.rubric.given = false;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("plan           within 30.00: loses 0.50 points, close call "
		   "S-05\n");
	x.plan.aim = KM_AIM_COMPLETE;
	x.plan.looked_closer = false;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("close call S-05, not all looked for\n");
	x.plan.looked_closer = true;
	x.plan.feasible = false;
	x.plan.aim = KM_AIM_POINTS;
	x.plan.points_limit = 25;
	write_sheet(KM_SHEET_SUMMARY, KM_FORMAT_TEXT, 80);
	expect_has("plan           no plan loses only 0.25, at least 0.50, close "
		   "call S-05\n");
	expect_within(80);
}

static void slots_tell_what_a_choice_by_hand_costs(void **state)
{
	(void)state;
	x.place[1].by_hand = true;
	x.place[1].by_hand_costs = 400;
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_TEXT, 0);
	expect_has("decision: buy\n                         chosen by hand, "
		   "which costs 4.00 more\n");
	expect_has("in the plan: o2\n");	/* one of the two levers */
	write_sheet(KM_SHEET_SLOTS, KM_FORMAT_JSON, 0);
	expect_has("\"decision\": \"buy\", \"margin\": null, \"close_call\": "
		   "false, \"chosen\": [\"offer o1\"], \"by_hand\": true, "
		   "\"by_hand_costs\": 4.00");
	expect_has("\"total_low\": 26.20, \"total_likely\": 29.20, "
		   "\"total_high\": 34.20, \"singly_low\": 31.00");
}

/* ------------------------------------------------------------------ */

static void sheets_that_leave_name_nobody(void **state)
{
	static const enum km_sheet leaving[] = { KM_SHEET_WANTS,
		KM_SHEET_HAVES, KM_SHEET_SHORTAGE, KM_SHEET_SHOPPING };
	static struct km_tool *block;

	(void)state;
	block = x.s.tool;
	x.s.machine.owner = x.s.machine.title = "customer-a";
	x.s.more[S02].lent_to = "customer-b";
	x.s.tool[S07].owner = "customer-c";
	x.s.more[S01].value.minor = 77777;
	x.s.load.bench = (struct km_tools){ &block, 1 };
	for (int i = 0; i < PLACES; i++)
		x.place[i].ceiling_wanted = true;
	for (size_t i = 0; i < COUNT(leaving); i++) {
		write_sheet(leaving[i], KM_FORMAT_TEXT, 80);
		expect_lacks("customer");
		expect_lacks("777.77");
	}
}

static void memory_may_run_out_anywhere(void **state)
{
	(void)state;
	x.place[2].ceiling_wanted = true;
	for (int i = 0; i < KM_SHEETS; i++)
		for (int f = 0; f < KM_FORMATS; f++) {
			struct km_fault fault = { 0 };
			struct km_limits lim = { .fault = &fault };
			struct km_report_options o = { .limits = &lim };
			enum km_status st = KM_ENOMEM;
			uint64_t n = 0;

			if (!km_report_has((enum km_sheet)i,
					   (enum km_format)f))
				continue;
			while (st == KM_ENOMEM) {
				fault.seen = 0;
				fault.fail_at = ++n;
				st = page_of(&page, &x.s.audit,
					     (enum km_sheet)i,
					     (enum km_format)f, &o);
				if (st != KM_OK)
					assert_int_equal(page.n, 0);
			}
			assert_int_equal(st, KM_OK);
			assert_true(n > 1);
		}
}

int main(void)
{
#define T(f) cmocka_unit_test_setup(f, set_up)
	const struct CMUnitTest tests[] = {
		T(shortage_lists_only_open_lines),
		T(shortage_counts_what_is_right),
		T(a_complete_kit_has_no_open_line),
		T(wants_fit_the_pocket), T(wants_name_both_sizes),
		T(a_price_that_is_missing_is_said),
		T(no_wants_are_said), T(haves_count_by_kind_and_size),
		T(the_frontier_marks_the_plan),
		T(the_frontier_is_drawn_to_scale),
		T(text_in_a_drawing_is_escaped),
		T(ways_show_every_way_of_every_place),
		T(job_lots_are_weighed), T(the_problem_goes_out_whole),
		T(without_a_plan_there_is_no_problem),
		T(lots_and_top_ups_are_lines),
		T(differences_and_numbers_are_told),
		T(the_summary_tells_the_proof),
		T(the_summary_splits_carriage_and_own_time),
		T(a_slot_shows_what_was_compared),
		T(the_summary_tells_rubric_and_close_calls),
		T(slots_tell_what_a_choice_by_hand_costs),
		T(sheets_that_leave_name_nobody),
		T(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
