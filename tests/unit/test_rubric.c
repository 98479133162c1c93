/* SPDX-License-Identifier: MIT */
/*
 * What a judge takes off, and money as a whole audit tells it.  Rubrics and
 * prices are invented; each sum is worked beside its check.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "feed.h"
#include "kitmuster/audit.h"

#define KIT "kit:\n  id: k\n  currency: GBP\n  standard: as-delivered\n" \
	    "  slots:\n"
/* one black lever a slot, or more */
#define LEVER(id, more) "    - {id: " id ", tool: tyre lever, length: 165 mm" \
			" +-3, finish: black oxide, part: P-" id more "}\n"
#define SOUND "condition: {rust: 0, pits: none, plate_left: 95 %, damage: none}"
#define RUSTY "condition: {rust: 3, pits: none, plate_left: 95 %, damage: none}"
#define TOOL(id, length, finish, more) "  - {id: " id ", tool: tyre lever, " \
	"length: " length ", finish: " finish ", " more "}\n"

static struct km_diags *diags;
static struct km_load *load;
static struct km_audit *audit;

static void forget(void)
{
	km_audit_free(audit);
	km_load_free(load);
	km_diags_free(diags);
	audit = NULL;
	load = NULL;
}

static const struct km_kit_audit *run_audit(const char *text,
					    const struct km_options *o)
{
	struct feed f = { .bytes = text, .n = strlen(text) };
	struct km_input in = feed_input(&f);

	diags = km_diags_new(NULL);
	assert_non_null(diags);
	assert_int_equal(km_load(&in, 1, NULL, diags, &load), KM_OK);
	assert_int_equal(km_audit_run(load, o, diags, &audit), KM_OK);
	return audit->kits;
}

static const struct km_options with_money = { .want_money = true,
					      .want_ceilings = true };
static const struct km_options with_frontier = { .want_money = true,
						 .want_frontier = true };

/*
 * Rubric: missing 0.50, incorrect 0.25, condition 0.10, extra 0.05, of 4.00.
 *   A  right                              0
 *   B  chromed                            incorrect 0.25
 *   C  rusted                             condition 0.10
 *   D  chromed, 13 mm too long, rusted    incorrect once 0.25, condition 0.10
 *   E  two, one there                     missing 0.50
 *   F  open, worth 0.75                   missing 0.75
 *   G  disputed                           not judged
 * missing 1.25, incorrect 0.50, condition 0.20, two in the kit that belong to
 * no slot 0.10: 2.05.
 */
#define JUDGED KIT LEVER("A", "") LEVER("B", "") LEVER("C", "") \
	LEVER("D", "") LEVER("E", ", count: 2") LEVER("F", ", points: 0.75") \
	LEVER("G", ", exists: {certainty: disputed}") "bench:\n" \
	TOOL("T1", "165 mm", "black oxide", SOUND ", pin: k/A") \
	TOOL("T2", "165 mm", "chrome", SOUND ", pin: k/B") \
	TOOL("T3", "165 mm", "black oxide", RUSTY ", pin: k/C") \
	TOOL("T4", "178 mm", "chrome", RUSTY ", pin: k/D") \
	TOOL("T5", "165 mm", "black oxide", SOUND ", pin: k/E") \
	"  - {id: X1, tool: hammer, status: in-kit}\n" \
	"  - {id: X2, tool: oil can, status: in-kit}\n" \
	"  - {id: X3, tool: hammer, status: here}\n" \
	"  - {id: X4, tool: hammer, status: in-kit, owner: somebody else}\n"
#define RUBRIC(total) "rubric: {total: " total ", missing: 0.50, incorrect: " \
	"0.25, condition: 0.10, extra: 0.05}\n"

static void two_accounts_and_each_fault_once(void **state)
{
	const struct km_rubric_audit *r;

	(void)state;
	r = &run_audit(JUDGED RUBRIC("4.00"), NULL)->rubric;
	assert_true(r->given);
	assert_int_equal(r->missing, 125);
	assert_int_equal(r->n_missing, 2);
	assert_int_equal(r->incorrect, 50);
	assert_int_equal(r->n_incorrect, 2);
	assert_int_equal(r->condition, 20);
	assert_int_equal(r->n_condition, 2);
	assert_int_equal(r->extra, 10);
	assert_int_equal(r->total, 400);
	assert_int_equal(r->lost, 205);
	assert_int_equal(r->after_plan, 205);	/* no plan was asked for */
	forget();
}

/* No more is lost than there is: 2.05 of 1.50. */
static void the_total_caps_what_is_lost(void **state)
{
	const struct km_rubric_audit *r;

	(void)state;
	r = &run_audit(JUDGED RUBRIC("1.50"), &with_money)->rubric;
	assert_int_equal(r->lost, 150);
	assert_int_equal(r->missing + r->incorrect + r->condition + r->extra,
			 205);
	assert_int_equal(r->after_plan, 150);
	forget();
	assert_false(run_audit(JUDGED, &with_money)->rubric.given);
	forget();
}

/* F is bought, C cleaned, B stripped and blackened again: 2.05 - 0.75 - 0.10 -
 * 0.25 = 0.95.  D stays: it is pinned, and no work shortens it. */
static void what_the_plan_leaves(void **state)
{
	const struct km_kit_audit *k;

	(void)state;
	k = run_audit(JUDGED RUBRIC("4.00")
		"prices:\n  currency: GBP\n"
		"  sellers: [{id: s, postage: 0.00}]\n"
		"  offers:\n"
		"    - {id: o1, part: P-F, seller: s, state: nos, price: 9.00,"
		" stock: 1}\n"
		"workshop: {unit: 0}\n", &with_money);
	assert_int_equal(k->rubric.lost, 205);
	assert_int_equal(k->rubric.after_plan, 95);
	/* the plan counts no extra tools: D 35, E 50 */
	assert_int_equal(audit->plan->points, 85);
	assert_int_equal(audit->plan->total.likely, 900);
	forget();
}

/* S is on order: missing today, there after the plan; T was lent, and is ours
 * on paper. */
static void what_is_on_its_way(void **state)
{
	const struct km_rubric_audit *r;

	(void)state;
	r = &run_audit(KIT LEVER("S", "") LEVER("T", "") "bench:\n"
		TOOL("T1", "165 mm", "black oxide", SOUND ", status: ordered,"
		     " bought_for: k/S")
		TOOL("T2", "165 mm", "black oxide", SOUND ", status: lent,"
		     " pin: k/T")
		RUBRIC("4.00"), &with_money)->rubric;
	assert_int_equal(r->lost, 50);
	assert_int_equal(r->n_missing, 1);
	assert_int_equal(r->after_plan, 0);
	forget();
}

/* What is on order and right will fill its place: no point is lost there,
 * whatever is chosen, and no place is short; as every sheet has it. */
static void what_is_on_order_loses_nothing(void **state)
{
	const struct km_plan_place *p;

	(void)state;
	run_audit(KIT LEVER("S", "") "bench:\n"
		TOOL("T1", "165 mm", "black oxide", SOUND ", status: ordered,"
		     " bought_for: k/S"), &with_frontier);
	p = audit->plan->places;
	assert_int_equal(audit->plan->n_places, 1);
	for (uint32_t i = 0; i < p->n_ways; i++)
		assert_int_equal(p->ways[i].points, 0);
	assert_int_equal(audit->plan->points, 0);
	assert_int_equal(audit->plan->short_firm, 0);
	assert_int_equal(audit->plan->n_frontier, 1);
	assert_int_equal(audit->plan->frontier[0].points, 0);
	forget();
}

/* Three pins lose nothing, with a rubric or without; where the slot gives them
 * points, 3 x 0.20 = 0.60, and the lever that is open 0.50: 1.10. */
static void consumables_lose_what_their_slot_says(void **state)
{
#define PINS(more) KIT LEVER("A", "") "    - {id: P, tool: split pin, " \
	"durable: no, count: 3" more "}\nbench: []\n"
	const struct km_kit_audit *k;

	(void)state;
	run_audit(PINS(""), &with_frontier);
	assert_int_equal(audit->plan->points, 100);
	assert_int_equal(audit->plan->frontier[0].points, 100);
	assert_int_equal(audit->plan->short_firm, 4);
	forget();
	k = run_audit(PINS("") RUBRIC("4.00"), &with_frontier);
	assert_int_equal(k->rubric.lost, 50);
	assert_int_equal(audit->plan->points, 50);
	forget();
	k = run_audit(PINS(", points: 0.20") RUBRIC("4.00"), &with_frontier);
	assert_int_equal(k->rubric.lost, 110);
	assert_int_equal(k->rubric.after_plan, 110);
	assert_int_equal(audit->plan->points, 110);
	assert_int_equal(audit->plan->frontier[0].points, 110);
	forget();
#undef PINS
}

/* ------------------------------------------------------------------ */
/* Money, from files                                                   */

#define PRICES "prices:\n  currency: GBP\n  sellers: [{id: s, postage: 0.00}]\n"

/* No more than 15.00 is to be paid: an offer of 16.00 will not do, and what to
 * pay at a stall is one's own limit. */
static void over_the_most_to_pay(void **state)
{
	const struct km_plan_place *p;

	(void)state;
	run_audit(KIT LEVER("A", ", most: 15.00") "bench: []\n" PRICES
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 16.00}]\n", &with_money);
	assert_int_equal(audit->plan->n_places, 1);
	p = audit->plan->places;
	assert_true(p->ways[0].over_limit);
	assert_false(p->ways[0].acceptable);
	assert_int_equal(p->chosen->kind, KM_WAY_OPEN);
	assert_int_equal(audit->plan->short_firm, 1);
	assert_true(p->ceiling_ready == KM_NO_CEILING);
	forget();
}

/* A pinned tool is not replaced: its slot has ways of that tool alone, though
 * a right one is for sale at 1.00. */
static void a_pin_keeps_its_tool(void **state)
{
	const struct km_plan_place *p;

	(void)state;
	run_audit(KIT LEVER("A", "") "bench:\n"
		TOOL("T1", "178 mm", "black oxide", SOUND ", pin: k/A") PRICES
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 1.00}]\n", &with_money);
	p = audit->plan->places;
	assert_int_equal(p->n_ways, 1);
	assert_string_equal(p->chosen->match->tool->id, "T1");
	assert_int_equal(audit->plan->total.likely, 0);
	assert_int_equal(audit->kits->n_buy, 0);
	forget();
}

/* One used lever at 10.00 is decided for two slots: the first has it, the
 * second buys the other at 12.00. */
static void decided_twice(void **state)
{
	const struct km_plan_place *p;

	(void)state;
	run_audit(KIT LEVER("A", "") LEVER("B", "") "bench: []\n" PRICES
		"  offers:\n"
		"    - {id: o1, tool: tyre lever, length: 165 mm, finish: black"
		" oxide, seller: s, state: used, price: 10.00, " SOUND "}\n"
		"    - {id: o2, tool: tyre lever, length: 165 mm, finish: black"
		" oxide, seller: s, state: new, price: 12.00}\n"
		"decisions:\n  - {slot: k/A, way: o1}\n"
		"  - {slot: k/B, way: o1}\n", &with_money);
	p = audit->plan->places;
	assert_int_equal(audit->plan->total.likely, 2200);
	assert_string_equal(p[0].chosen->match->offer->id, "o1");
	assert_true(p[0].by_hand);
	assert_false(p[1].by_hand);
	assert_string_equal(p[1].chosen->match->offer->id, "o2");
	forget();
}

/* Two of a kind wanted, one for sale: one line to buy, one to ask for. */
static void a_piece_bought_and_a_piece_short(void **state)
{
	(void)state;
	run_audit(KIT LEVER("A", ", count: 2") "bench: []\n" PRICES
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 9.00, stock: 1}]\n", &with_money);
	assert_int_equal(audit->n_parcels, 2);
	assert_int_equal(audit->parcels[0].n_lines, 1);
	assert_int_equal(audit->parcels[0].lines[0].pieces, 1);
	assert_int_equal(audit->parcels[0].total.likely, 900);
	assert_null(audit->parcels[1].seller);
	assert_int_equal(audit->parcels[1].lines[0].pieces, 1);
	assert_null(audit->parcels[1].lines[0].way);
	assert_int_equal(audit->shopping_total.likely, 900);
	forget();
}

/* A worn lever and an empty place, the same offer for both: one line of two
 * pieces, 18.00. */
static void one_line_for_one_thing(void **state)
{
	(void)state;
	run_audit(KIT LEVER("A", ", count: 2") "bench:\n"
		TOOL("T1", "178 mm", "black oxide", SOUND) PRICES
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 9.00}]\n", &with_money);
	assert_int_equal(audit->n_parcels, 1);
	assert_int_equal(audit->parcels[0].n_lines, 1);
	assert_int_equal(audit->parcels[0].lines[0].pieces, 2);
	assert_int_equal(audit->parcels[0].total.likely, 1800);
	forget();
}

/* The usual wear of a find will do where it need only be usable: as much as
 * for a ready one, the 9.00 of the offer. */
static void a_worn_find_that_will_do(void **state)
{
	struct km_options o = with_money;

	(void)state;
	o.standard_given = true;
	o.standard = KM_USABLE;
	run_audit(KIT LEVER("A", "") "bench: []\n" PRICES
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 9.00}]\n", &o);
	assert_int_equal(audit->plan->places->ceiling_ready, 900);
	assert_int_equal(audit->plan->places->ceiling_work, 900);
	forget();
}

/* Inspected 3, washed 3, soaked 3 and oiled 2 minutes (data/processes.def): 11
 * min at 30.00 an hour are 5.50, beside no cash.  The frontier and a budget have the sum. */
static void own_time_is_money_apart(void **state)
{
	static const char text[] = KIT LEVER("A", "") "bench:\n"
		"  - {id: T1, tool: tyre lever, length: 165 mm, finish: black "
		"oxide, condition: {rust: 2, pits: none, plate_left: 95 %, "
		"damage: none}}\n"
		"workshop: {currency: GBP, own_time: 30.00 per hour, unit: 0}\n";
	struct km_options o = with_frontier;
	const struct km_kit_audit *k;

	(void)state;
	k = run_audit(text, &o);
	assert_int_equal(k->total.likely, 0);
	assert_int_equal(k->n_work, 1);
	assert_int_equal(k->own_min[1], 11);
	assert_int_equal(k->own_total.likely, 550);
	assert_int_equal(audit->plan->n_frontier, 2);
	for (int i = 0; i < 2; i++)
		assert_int_equal(audit->plan->frontier[i].money,
				 audit->plan->frontier[i].points ? 0 : 550);
	forget();
	o.aim = KM_AIM_BUDGET;
	o.budget = 549;
	k = run_audit(text, &o);
	assert_int_equal(k->own_total.likely, 0);
	assert_int_equal(k->n_work, 0);
	forget();
}

/* 3.00 where 10.00 is the least order: 7.00 besides, and 4.80 to send. */
static void what_only_fills_an_order(void **state)
{
	const struct km_kit_audit *k;

	(void)state;
	k = run_audit(KIT LEVER("A", "") "bench: []\nprices:\n"
		"  currency: GBP\n"
		"  sellers: [{id: s, postage: 4.80, minimum_order: 10.00}]\n"
		"  offers: [{id: o1, part: P-A, seller: s, state: nos, "
		"price: 3.00}]\n", &with_money);
	assert_int_equal(k->buy_total.likely, 300);
	assert_int_equal(k->top_up_total.likely, 700);
	assert_int_equal(k->postage_total.likely, 1180);
	assert_int_equal(k->total.likely, 1480);
	forget();
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(two_accounts_and_each_fault_once),
		cmocka_unit_test(the_total_caps_what_is_lost),
		cmocka_unit_test(what_the_plan_leaves),
		cmocka_unit_test(what_is_on_its_way),
		cmocka_unit_test(what_is_on_order_loses_nothing),
		cmocka_unit_test(consumables_lose_what_their_slot_says),
		cmocka_unit_test(own_time_is_money_apart),
		cmocka_unit_test(what_only_fills_an_order),
		cmocka_unit_test(over_the_most_to_pay),
		cmocka_unit_test(a_pin_keeps_its_tool),
		cmocka_unit_test(decided_twice),
		cmocka_unit_test(a_piece_bought_and_a_piece_short),
		cmocka_unit_test(one_line_for_one_thing),
		cmocka_unit_test(a_worn_find_that_will_do),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
