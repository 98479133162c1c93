/* SPDX-License-Identifier: MIT */
/* A whole set of files arrives value by value, whatever their order; memory
 * that runs out anywhere.  What claims become is in test_load_claims.c.
 * Lengths are worked by hand: 1 in = 25.4 mm [nist-sp811]. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "kitmuster/evidence.h"
#include "kitmuster/load.h"
#include "tests/unit/feed.h"
#include "trade/finish.h"
#include "trade/kind.h"
#include "trade/pouch.h"
#include "trade/process.h"
#include "trade/size.h"

static const char machine[] =
	"machine: {serial: 4417, built: 1954, market: home, owner: own,\n"
	"  kit: larkmoor-54-first}\n";
static const char kit[] =
	"kit:\n"
	"  id: larkmoor-54-first\n"
	"  title: Larkmoor 54 light tractor, on-board kit, first pattern\n"
	"  serials: {from: 1001, to: {earliest: 8000, latest: 8200}}\n"
	"  years: 1952/1955\n"
	"  market: home\n"
	"  revision: 3\n"
	"  priority: 1\n"
	"  standard: as-delivered\n"
	"  currency: GBP\n"
	"  slots:\n"
	"    - id: S-01\n"
	"      tool: double open-ended spanner\n"
	"      drive: hexagon\n"
	"      sizes: [1/4 W, 5/16 W]\n"
	"      length: 148 mm +-3\n"
	"      mark: {any_of: [LARKMOOR, LM], where: shank}\n"
	"      part: 54-701\n"
	"      pocket: 1\n"
	"    - id: S-07\n"
	"      tool: screwdriver\n"
	"      drive: slotted\n"
	"      sizes: [0.8 x 5.5 mm]\n"
	"      finish: bright nickel\n"
	"      handle_colour: {is: amber, certainty: possible,\n"
	"        sources: [rec1]}\n"
	"      exists: {for: [pl3], certainty: certain}\n"
	"      most: 15.00\n"
	"  colours: {amber: \"#c47a1c\"}\n"	/* below its use, on purpose */
	"  maker_marks: [LARKMOOR, LM]\n"
	"  every_slot: {finish: black oxide, sources: [pl3]}\n"
	"  sources:\n"
	"    - {id: pl3, what: parts-list, title: Parts list no. 3,\n"
	"       dated: 1953}\n"
	"    - {id: rec1, what: recollection, title: First owner,\n"
	"       depends_on: [pl3]}\n"
	"  pouch: {form: roll, pockets: 12, pocket_width: 34 mm,\n"
	"    pocket_depth: 150 mm, closing_allowance: 20 mm}\n";
static const char bench[] =
	"bench:\n"
	"  - id: T-014\n"
	"    tool: double open-ended spanner\n"
	"    sizes: [1/4 W, 5/16 W]\n"
	"    openings: [13.50 mm, 15.59 mm]\n"
	"    length: 149 mm\n"
	"    mark: LARKMOOR\n"
	"    finish: {body: black oxide, faces: polished}\n"
	"    condition: {rust: 3, pits: few, plate_left: 60 %, damage: [\n"
	"      {what: spread, end: 2, by: 0.35 mm}], marking: legible}\n"
	"    came_with: serial 4417\n"
	"    owner: own\n"
	"    place: drawer 2\n"
	"    status: at-plater\n"
	"    since: 2026-03-01\n"
	"    pin: larkmoor-54-first/S-01\n"
	"    paid: 4.5\n"
	"    extra: {bin: A7}\n"
	"  - id: T-020\n"
	"    tool: screwdriver\n"
	"    handle_colour: Amber\n"
	"    mark: none\n"
	"    count: 2\n"
	"  - {tool: tyre lever, mark: illegible, part: 'none'}\n";
static const char prices[] =
	"prices:\n"
	"  currency: GBP\n"
	"  as_of: 2026-04-01\n"
	"  rates: {EUR: 0.86}\n"
	"  sellers:\n"
	"    - {id: north, postage: 4.80, free_over: 50.00,\n"
	"       minimum_order: 10.00, days: 3-7}\n"
	"    - {id: fair, postage: 0.00}\n"
	"    - {id: abroad, currency: EUR}\n"
	"  offers:\n"
	"    - {id: o1, part: 54-702, seller: north, state: new, price: 6.40,\n"
	"       finish: zinc clear}\n"
	"    - {id: o2, tool: combination pliers, length: 165 mm, state: used,\n"
	"       price: {low: 8.00, likely: 12.00, high: 22.00}, seller: fair,\n"
	"       stock: 1}\n"
	"    - {id: o3, tool: tyre lever, length: 250 mm, state: used,\n"
	"       seller: fair}\n"
	"    - {id: o4, part: 54-703, seller: abroad, state: nos, price: 9}\n"
	"  job_lots:\n"
	"    - {id: j1, seller: fair, price: 20.00, holds: [o2, o3]}\n"
	"  superseded:\n"
	"    - {old: 54-701, new: 54-701A, changes: [finish]}\n";
static const char rest[] =
	"workshop:\n"
	"  own_time: 0.00 per hour\n"
	"  unit: 0.95\n"
	"  processes:\n"
	"    plate_zinc: {lot_minimum: 60.00, piece: 2.00, days: 14,\n"
	"      open_lot: {pieces: 5, closes: 2026-05-12}}\n"
	"rubric: {total: 4.00, missing: 0.50, incorrect: 0.25,\n"
	"  condition: 0.10, extra: 0.00}\n"
	"decisions:\n"
	"  - {slot: larkmoor-54-first/S-07, way: o1, dated: 2026-03-03,\n"
	"     why: agreed with the owner}\n";

static const char *const texts[] = { machine, kit, bench, prices, rest };
static const char *const names[] = { "machine.yaml", "kit.yaml",
				     "dir/bench 2.yaml", "prices.yaml",
				     "rest.yaml" };
enum { FILES = 5 };

/* Files in the order of a string of digits. */
static enum km_status load(const char *order, const struct km_limits *lim,
			   struct km_diags *d, struct km_load **out)
{
	struct feed feeds[FILES];
	struct km_input in[FILES];
	size_t n = strlen(order), i;

	for (i = 0; i < n; i++) {
		feeds[i] = (struct feed){ .bytes = texts[order[i] - '0'],
					  .n = strlen(texts[order[i] - '0']) };
		in[i] = feed_input(&feeds[i]);
		in[i].name = names[order[i] - '0'];
	}
	return km_load(in, n, lim, d, out);
}

static void check_kit(const struct km_load *l)
{
	const struct km_kit *k = l->kits[0];

	assert_int_equal(l->n_kits, 1);
	assert_string_equal(k->id, "larkmoor-54-first");
	assert_string_equal(k->title, "Larkmoor 54 light tractor, on-board "
				      "kit, first pattern");
	assert_true(k->serials.given && !k->serials.open_end);
	assert_int_equal(k->serials.from_earliest, 1001);
	assert_int_equal(k->serials.from_latest, 1001);
	assert_int_equal(k->serials.to_earliest, 8000);
	assert_int_equal(k->serials.to_latest, 8200);
	assert_string_equal(k->years_text, "1952/1955");
	assert_int_equal(k->years.from.year, 1952);
	assert_int_equal(k->years.to.year, 1955);
	assert_string_equal(k->market, "home");
	assert_int_equal(k->revision, 3);
	assert_int_equal(k->priority, 1);
	assert_int_equal(k->standard, KM_AS_DELIVERED);
	assert_string_equal(k->currency, "GBP");
	assert_int_equal(k->n_colours, 1);
	assert_int_equal(k->colours[0].rgb, 0xc47a1c);
	assert_int_equal(k->n_maker_marks, 2);
	assert_int_equal(k->limits.rust, -1);
	assert_int_equal(k->n_sources, 2);
	assert_int_equal(k->sources[0].what, KM_SRC_PARTS_LIST);
	assert_int_equal(k->sources[1].what, KM_SRC_RECOLLECTION);
	assert_ptr_equal(k->sources[1].depends_on[0], &k->sources[0]);
	assert_int_equal(k->pouch->form->id, KM_POUCH_ROLL);
	assert_int_equal(k->pouch->pockets, 12);
	assert_int_equal(k->pouch->pocket_width_nm, 34000000);
	assert_int_equal(k->pouch->pocket_depth_nm, 150000000);
	assert_int_equal(k->pouch->closing_allowance_nm, 20000000);
	assert_int_equal(k->pouch->flap_nm, -1);
}

static void check_slots(const struct km_load *l)
{
	const struct km_kit *k = l->kits[0];
	const struct km_slot *a = &k->slots[0], *b = &k->slots[1];
	const struct km_want *w;

	assert_int_equal(k->n_slots, 2);
	assert_string_equal(a->id, "S-01");
	assert_ptr_equal(a->kit, k);
	assert_int_equal(a->at.line, 12);
	assert_int_equal(a->want[KM_A_TOOL].any[0].kind->id,
			 KM_KIND_OPEN_DOUBLE);
	w = &a->want[KM_A_SIZES];
	assert_int_equal(w->any[0].sizes.n, 2);
	assert_int_equal(w->any[0].sizes.v[1]->system, KM_SYS_W);
	w = &a->want[KM_A_LENGTH];
	assert_int_equal(w->any[0].span.nm, 148000000);
	assert_int_equal(w->any[0].span.minus_nm, 3000000);
	assert_false(w->assumed);
	w = &a->want[KM_A_MARK];
	assert_int_equal(w->n, 2);
	assert_string_equal(w->any[1].text, "LM");
	assert_string_equal(w->where, "shank");
	assert_int_equal(a->pocket, 1);
	assert_int_equal(a->count, 1);
	assert_true(a->durable && !a->unused);
	/* from every_slot */
	w = &a->want[KM_A_FINISH];
	assert_int_equal(w->any[0].finish.body->id, KM_FINISH_BLACK_OXIDE);
	assert_ptr_equal(a->sources.v[0], &k->sources[0]);
	assert_int_equal(a->exists, KM_CERTAIN);
	/* and written over */
	w = &b->want[KM_A_FINISH];
	assert_int_equal(w->any[0].finish.body->id, KM_FINISH_NICKEL);
	assert_int_equal(w->certainty, KM_CERTAIN);
	w = &b->want[KM_A_HANDLE_COLOUR];
	assert_int_equal(w->any[0].colour.rgb, 0xc47a1c);
	assert_int_equal(w->certainty, KM_POSSIBLE);
	assert_ptr_equal(w->sources.v[0], &k->sources[1]);
	assert_int_equal(b->most.minor, 1500);
	assert_int_equal(a->most.minor, -1);
	assert_int_equal(b->want[KM_A_MARK].state, KM_WANT_NOTHING);
}

static void check_bench(const struct km_load *l)
{
	const struct km_tool *t = km_tool_at(&l->bench, 0);
	const struct km_traits *v = &t->traits;

	assert_true(l->has_bench);
	assert_int_equal(l->bench.n, 4);
	assert_string_equal(t->id, "T-014");
	assert_int_equal(km_trait(v, KM_A_SIZES)->sizes.n, 2);
	/* known to half of the last digit */
	assert_int_equal(km_trait(v, KM_A_OPENINGS)->spans.v[1].nm, 15590000);
	assert_int_equal(km_trait(v, KM_A_OPENINGS)->spans.v[1].plus_nm, 5000);
	assert_int_equal(km_trait(v, KM_A_LENGTH)->span.nm, 149000000);
	assert_int_equal(km_trait(v, KM_A_LENGTH)->span.minus_nm, 500000);
	assert_string_equal(km_trait(v, KM_A_MARK)->text, "LARKMOOR");
	assert_int_equal(km_trait(v, KM_A_FINISH)->finish.faces->id,
			 KM_FINISH_BARE_POLISHED);
	assert_null(km_trait(v, KM_A_BAR));
	assert_int_equal(t->condition->rust, 3);
	assert_int_equal(t->condition->pits, KM_PITS_FEW);
	assert_int_equal(t->condition->plate_left, 6000);
	assert_int_equal(t->condition->marking, KM_MARKING_LEGIBLE);
	assert_int_equal(t->condition->n_damage, 1);
	assert_int_equal(t->condition->damage[0].what, KM_DMG_SPREAD);
	assert_int_equal(t->condition->damage[0].end, 2);
	assert_int_equal(t->condition->damage[0].by_nm, 350000);
	assert_int_equal(t->condition->ground, -1);
	assert_int_equal(t->condition->handle, KM_HANDLE_UNRECORDED);
	assert_string_equal(t->more->came_with, "serial 4417");
	assert_string_equal(t->owner, "own");
	assert_string_equal(t->location, "drawer 2");
	assert_int_equal(t->status, KM_AT_PLATER);
	assert_int_equal(t->more->since.month, 3);
	assert_ptr_equal(t->more->pin, &l->kits[0]->slots[0]);
	assert_int_equal(t->more->paid.minor, 450);
	assert_int_equal(t->more->value.minor, -1);
	assert_string_equal(t->more->extra[0].value, "A7");
	t = km_tool_at(&l->bench, 2);
	assert_string_equal(t->id, "T-020.2");
	assert_int_equal(km_trait(&t->traits, KM_A_HANDLE_COLOUR)->colour.rgb,
			 0xc47a1c);
	assert_int_equal(t->traits.none, 1u << KM_A_MARK);
	t = km_tool_at(&l->bench, 3);
	assert_string_equal(t->id, "bench-2-24");
	assert_true(t->made_id);
	assert_int_equal(t->traits.unread, 1u << KM_A_MARK);
	assert_string_equal(km_trait(&t->traits, KM_A_PART)->text, "none");
	assert_null(t->condition);
	assert_null(t->more);
}

static void check_prices(const struct km_load *l)
{
	const struct km_prices *p = l->prices;

	assert_string_equal(p->currency, "GBP");
	assert_int_equal(p->as_of.day, 1);
	assert_int_equal(p->rates[0].num, 86);
	assert_int_equal(p->rates[0].den, 100);
	assert_int_equal(p->n_sellers, 3);	/* in order of ids */
	assert_string_equal(p->sellers[0].id, "abroad");
	assert_int_equal(p->sellers[2].postage.minor, 480);
	assert_int_equal(p->sellers[2].free_over.minor, 5000);
	assert_int_equal(p->sellers[2].minimum_order.minor, 1000);
	assert_int_equal(p->sellers[2].days_least, 3);
	assert_int_equal(p->sellers[2].days_most, 7);
	assert_int_equal(p->sellers[1].free_over.minor, -1);
	assert_int_equal(p->n_offers, 4);
	assert_ptr_equal(p->offers[0].seller, &p->sellers[2]);
	assert_int_equal(p->offers[0].price.likely, 640);
	assert_int_equal(p->offers[0].as_of.year, 2026);
	assert_int_equal(p->offers[1].price.low, 800);
	assert_int_equal(p->offers[1].price.likely, 1200);
	assert_int_equal(p->offers[1].price.high, 2200);
	assert_int_equal(p->offers[1].stock, 1);
	assert_int_equal(p->offers[1].state, KM_OFFER_USED);
	assert_int_equal(p->offers[2].price.low, -1);
	assert_int_equal(p->offers[2].stock, -1);
	assert_string_equal(p->offers[3].currency, "EUR");
	assert_int_equal(p->offers[3].price.high, 900);
	assert_ptr_equal(p->job_lots[0].holds[1], &p->offers[2]);
	assert_int_equal(p->job_lots[0].price.low, 2000);
	assert_string_equal(p->superseded[0].new_part, "54-701A");
	assert_int_equal(p->superseded[0].changes, 1u << KM_A_FINISH);
}

static void check_rest(const struct km_load *l)
{
	const struct km_process_terms *t = l->workshop->processes;

	assert_int_equal(l->n_machines, 1);
	assert_int_equal(l->machines[0].serial, 4417);
	assert_int_equal(l->machines[0].built.from.year, 1954);
	assert_ptr_equal(l->machines[0].kit, l->kits[0]);
	assert_int_equal(l->workshop->own_time.minor, 0);
	assert_int_equal(l->workshop->unit_num, 95);
	assert_int_equal(l->workshop->unit_den, 100);
	assert_int_equal(t->process->id, KM_PROCESS_PLATE_ZINC);
	assert_int_equal(t->lot_minimum.likely, 6000);
	assert_int_equal(t->piece.high, 200);
	assert_int_equal(t->load.low, -1);
	assert_int_equal(t->days, 14);
	assert_int_equal(t->hands_min, -1);
	assert_int_equal(t->open_lot_pieces, 5);
	assert_int_equal(t->open_lot_closes.month, 5);
	assert_int_equal(l->rubric->total, 400);
	assert_int_equal(l->rubric->extra, 0);
	assert_int_equal(l->n_decisions, 1);
	assert_ptr_equal(l->decisions[0].slot, &l->kits[0]->slots[1]);
	assert_string_equal(l->decisions[0].way, "o1");
	assert_string_equal(l->decisions[0].why, "agreed with the owner");
}

static void every_value_arrives_in_any_order_of_the_files(void **state)
{
	static const char *const orders[] = { "01234", "43210", "23401",
					      "31042" };
	struct km_diags *d;
	struct km_load *l;
	unsigned i;

	(void)state;
	for (i = 0; i < 4; i++) {
		d = km_diags_new(NULL);
		l = NULL;
		assert_int_equal(load(orders[i], NULL, d, &l), KM_OK);
		/* S-07 is stated certain; one list makes it probable */
		assert_int_equal(km_diags_size(d), 1);
		assert_int_equal(km_diags_at(d, 0)->msg, KM_M_LESS_SUPPORT);
		assert_int_equal(l->n_files, FILES);
		check_kit(l);
		check_slots(l);
		check_bench(l);
		check_prices(l);
		check_rest(l);
		km_load_free(l);
		km_diags_free(d);
	}
}

/* Every allocation fails once, alone and with all later ones. */
static void memory_may_run_out_anywhere(void **state)
{
	struct km_fault fault;
	struct km_limits lim;
	struct km_diags *d;
	struct km_load *l;
	enum km_status st;
	uint64_t at;
	int after;

	(void)state;
	for (after = 0; after < 2; after++) {
		for (at = 1, st = KM_ENOMEM; st != KM_OK; at++) {
			memset(&lim, 0, sizeof lim);
			fault = (struct km_fault){ 0, at, after };
			lim.fault = &fault;
			d = km_diags_new(NULL);
			l = NULL;
			st = load("01234", &lim, d, &l);
			if (st != KM_OK) {
				assert_int_equal(st, KM_ENOMEM);
				assert_null(l);
			}
			km_load_free(l);
			km_diags_free(d);
			assert_true(at < 100000);
		}
		assert_true(at > 10);
	}
}

/* The same where the files are full of mistakes. */
static void memory_may_run_out_among_mistakes(void **state)
{
	static const char wrong[] =
		"kit: {id: k, lenght: 3, slots: [{id: a, goes_with: a,\n"
		"  tool: jak, sizes: [7/16], mark: [A]}, {id: A}]}\n"
		"bench: [{id: 'x y'}, {length: 3, finish: dull, pin: k/b}]\n"
		"prices: {currency: GBP, offers: [{id: o, part: 1, seller: s,\n"
		"  state: new, price: 3 EUR}]}\n";
	struct feed feed;
	struct km_input in;
	struct km_fault fault;
	struct km_limits lim = { .fault = &fault };
	struct km_diags *d;
	struct km_load *l = NULL;
	enum km_status st = KM_ENOMEM;
	uint64_t at;

	(void)state;
	for (at = 1; st != KM_EINPUT; at++) {
		fault = (struct km_fault){ 0, at, 0 };
		feed = (struct feed){ .bytes = wrong, .n = strlen(wrong) };
		in = feed_input(&feed);
		d = km_diags_new(NULL);
		st = km_load(&in, 1, &lim, d, &l);
		assert_true(st == KM_ENOMEM || st == KM_EINPUT);
		assert_null(l);
		if (st == KM_EINPUT)
			assert_true(km_diags_count(d, KM_ERROR) >= 8);
		km_diags_free(d);
		assert_true(at < 100000);
	}
	assert_true(at > 10);
}

static void limits_are_kept(void **state)
{
	struct km_limits lim = { .tools = 3 };
	struct km_diags *d = km_diags_new(NULL);
	struct km_load *l = NULL;
	size_t i, said = 0;

	(void)state;
	assert_int_equal(load("2", &lim, d, &l), KM_EINPUT);
	assert_null(l);
	km_diags_sort(d);
	for (i = 0; i < km_diags_size(d); i++)
		said += km_diags_at(d, i)->msg == KM_M_TOO_MANY_TOOLS;
	assert_int_equal(said, 1);
	km_diags_free(d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_value_arrives_in_any_order_of_the_files),
		cmocka_unit_test(limits_are_kept),
		cmocka_unit_test(memory_may_run_out_anywhere),
		cmocka_unit_test(memory_may_run_out_among_mistakes),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
