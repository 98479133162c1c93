/* SPDX-License-Identifier: MIT */
/*
 * Restore or buy, one place looked at alone.  Prices are invented; each sum is
 * worked beside its check.
 */
#include "match_fixture.h"

#include "plan/ways.h"

#define TERMS 20

struct market {
	struct km_prices prices;
	struct km_seller sellers[2];
	struct km_offer offers[4];
	union km_value values[4][KM_ATTRS];
	struct km_condition conditions[4];
	struct km_job_lot lots[1];
	const struct km_offer *held[2];
	struct km_workshop workshop;
	struct km_process_terms terms[TERMS];
	struct km_rubric rubric;
	struct km_costs costs;
};

static struct km_money3 same(int64_t v)
{
	return (struct km_money3){ v, v, v };
}

/* Two sellers, `fair` without postage, and a workshop that has no tank, brush
 * or tumbler, and of which nothing costs anything but what is set afterwards. */
static void open_market(struct market *k)
{
	static const char *const free[] = { "inspect", "wash_degrease",
		"oil_wax", "strip_plate", "polish", "hand_clean" };

	static const char *const none[] = { "soak_citric", "soak_phosphoric",
		"soak_chelate", "derust_electrolytic", "acid_pickle",
		"wire_wheel", "blast_bead", "tumble_wet_abrasive" };

	*k = (struct market){ .prices = { .currency = "GBP" } };
	k->sellers[0] = (struct km_seller){ .id = "fair", .postage = { 0 },
		.free_over = { -1 }, .minimum_order = { -1 } };
	k->sellers[1] = k->sellers[0];
	k->sellers[1].id = "north";
	k->prices.sellers = k->sellers;
	k->prices.n_sellers = 2;
	k->prices.offers = k->offers;
	k->prices.job_lots = k->lots;
	k->workshop.own_time.minor = -1;
	k->workshop.processes = k->terms;
	for (size_t i = 0; i < COUNT(free); i++)
		k->terms[i] = (struct km_process_terms){ .id = free[i],
			.process = km_process_find(km_slice_of(free[i])),
			.lot_minimum = { -1, -1, -1 }, .piece = { 0, 0, 0 },
			.load = { 0, 0, 0 }, .load_pieces = -1, .days = -1,
			.hands_min = 0, .open_lot_pieces = -1 };
	for (size_t i = 0; i < COUNT(none); i++) {
		struct km_process_terms *t = &k->terms[COUNT(free) + i];

		*t = k->terms[0];
		t->id = none[i];
		t->process = km_process_find(km_slice_of(none[i]));
		t->not_available = true;
	}
	k->workshop.n_processes = COUNT(free) + COUNT(none);
	k->rubric = (struct km_rubric){ .total = 400, .missing = 50,
		.incorrect = 25, .condition = 10, .extra = 0 };
}

static struct km_process_terms *work(struct market *k, const char *id)
{
	struct km_process_terms *t = k->terms;

	while (t->id && strcmp(t->id, id))
		t++;
	if (t->id)
		return t;
	*t = k->terms[0];
	t->id = id;
	t->process = km_process_find(km_slice_of(id));
	assert_non_null(t->process);
	k->workshop.n_processes++;
	return t;
}

/* An offer of what the tool of the pair is: copy its traits. */
static struct km_offer *sell(struct market *k, const struct pair *p,
			     enum km_offer_state state, int64_t price)
{
	uint32_t i = k->prices.n_offers++;
	struct km_offer *o = &k->offers[i];

	*o = (struct km_offer){ .id = "o1", .state = state,
		.seller = &k->sellers[0], .price = same(price), .stock = -1,
		.chance = -1 };
	if (p) {
		memcpy(k->values[i], p->values, sizeof p->values);
		o->traits = p->tool.traits;
		o->traits.v = k->values[i];
	}
	k->conditions[i] = blank_condition();
	return o;
}

static void state_part(struct market *k, struct km_offer *o, const char *part)
{
	size_t i = (size_t)(o - k->offers);

	k->values[i][0] = text_of(part);
	o->traits = (struct km_traits){ .has = (uint32_t)1 << KM_A_PART,
					.v = k->values[i] };
}

static struct km_ways ask(struct market *k, struct pair *p,
			  enum km_standard s, const struct km_match *owned)
{
	struct km_arena *scratch = km_arena_new(NULL);
	struct km_ways_ask a = { .slot = &p->slot, .rules = &p->rules,
		.costs = &k->costs, .owned = &owned, .n_owned = owned != NULL };
	struct km_ways w;

	if (!owned)
		compare(p, s);		/* sets the rules */
	assert_non_null(scratch);
	assert_int_equal(km_costs_init(mem, "GBP", &k->prices, &k->workshop,
		&k->rubric, (struct km_date){ 0, 0, 0 }, &k->costs), KM_OK);
	assert_int_equal(km_ways_find(mem, scratch, &a, &w), KM_OK);
	km_arena_free(scratch);
	return w;
}

/* A tyre lever, black, that a slot wants. */
static void wanted(struct pair *p)
{
	begin(p, "tyre lever");
	p->slot.most.minor = -1;
	want(p, KM_A_FINISH, finish_of("black oxide", NULL));
	have(p, KM_A_FINISH, finish_of("black oxide", NULL));
}

/* ------------------------------------------------------------------ */

/* New old stock 85.00; used 22.00 and 14.00 of work, 36.00; a reproduction
 * 18.00.  As delivered: 36.00, the reproduction is shown and left out;
 * complete and usable: 18.00. */
static void three_roads_to_one_tool(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_offer *o;

	(void)state;
	wanted(&p);
	open_market(&k);
	work(&k, "hand_clean")->piece = same(1400);
	o = sell(&k, &p, KM_OFFER_NOS, 8500);
	o = sell(&k, &p, KM_OFFER_USED, 2200);
	k.conditions[1].rust = 2;
	o->condition = &k.conditions[1];
	o = sell(&k, &p, KM_OFFER_REPRODUCTION, 1800);
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_BUY);
	assert_int_equal(w.buy->kind, KM_WAY_OFFER_WORK);
	assert_int_equal(w.buy->price.likely, 2200);
	assert_int_equal(w.buy->alone.likely, 3600);
	assert_non_null(w.rejected_buy);
	assert_ptr_equal(w.rejected_buy->match->offer, o);
	assert_int_equal(w.rejected_buy->match->headline, KM_ASP_MADE);
	assert_int_equal(w.rejected_buy->points, 25);
	assert_null(w.restore);
	assert_int_equal(w.margin, -1);
	w = ask(&k, &p, KM_USABLE, NULL);
	assert_ptr_equal(w.buy->match->offer, o);
	assert_int_equal(w.buy->alone.likely, 1800);
	/* the last way leaves it open, half a point */
	assert_int_equal(w.v[w.n - 1].kind, KM_WAY_OPEN);
	assert_int_equal(w.v[w.n - 1].points, 50);
}

/* Pliers: bought 24.00 + 6.50 = 30.50.  Restored: an hour of own time at 9.00
 * and a nickel lot of 60.00: 69.00.  Buy, by 38.50.  With three pieces in an
 * open lot of 7.00 a piece the fourth rides free: 9.00; restore, by 21.50. */
static void an_open_lot_turns_the_decision(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_match m;
	struct km_process_terms *nickel;

	(void)state;
	begin(&p, "combination pliers");
	p.slot.most.minor = -1;
	want(&p, KM_A_FINISH, finish_of("nickel", NULL));
	have(&p, KM_A_FINISH, finish_of("nickel", NULL));
	have_none(&p, KM_A_MARK);
	open_market(&k);
	k.workshop.own_time.minor = 900;
	work(&k, "polish")->hands_min = 60;
	nickel = work(&k, "plate_nickel");
	nickel->lot_minimum = same(6000);
	nickel->piece = same(700);
	sell(&k, &p, KM_OFFER_NEW, 2400)->seller = &k.sellers[1];
	k.sellers[1].postage.minor = 650;
	p.condition.plate_left = 5000;
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.verdict, KM_AFTER_WORK);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_BUY);
	assert_int_equal(w.restore->alone.likely, 6000);
	assert_int_equal(w.restore->own.likely, 900);
	assert_int_equal(km_way_cost(w.restore, 1), 6900);
	assert_int_equal(w.buy->alone.likely, 3050);
	assert_int_equal(w.margin, 3850);
	assert_false(w.close_call);
	/* the lot is what it shares, and the parcel of the other */
	assert_int_equal(w.restore->n_charges, 1);
	assert_int_equal(k.costs.charges[w.restore->charges[0]].process->id,
			 KM_PROCESS_PLATE_NICKEL);
	assert_int_equal(w.buy->n_charges, 1);
	assert_ptr_equal(k.costs.charges[w.buy->charges[0]].seller,
			 &k.sellers[1]);
	nickel->open_lot_pieces = 3;
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_RESTORE);
	assert_int_equal(km_way_cost(w.restore, 1), 900);
	assert_int_equal(w.margin, 2150);
}

/* Restore 30 36 50, buy 38 40 42: restore by 4.00, and the high column would
 * turn it. */
static void a_close_call(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_match m;

	(void)state;
	wanted(&p);
	open_market(&k);
	work(&k, "hand_clean")->piece = (struct km_money3){ 3000, 3600, 5000 };
	sell(&k, &p, KM_OFFER_NEW, 0)->price =
		(struct km_money3){ 3800, 4000, 4200 };
	p.condition.rust = 2;
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_RESTORE);
	assert_int_equal(w.margin, 400);
	assert_true(w.close_call);
	work(&k, "hand_clean")->piece.high = 4200;
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_false(w.close_call);
}

/* 6.40 at a seller with a minimum order of 10.00 and 4.80 postage: 3.60 more
 * must be bought: 6.40 + 3.60 + 4.80 = 14.80.  12.50 EUR at 0.86: 10.75.  In
 * dollars there is no rate, and no figure. */
static void delivered_prices(void **state)
{
	static const struct km_rate rates[] = { { "EUR", 86, 100 } };
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_offer *o;

	(void)state;
	wanted(&p);
	open_market(&k);
	k.prices.rates = rates;
	k.prices.n_rates = 1;
	k.sellers[1].postage.minor = 480;
	k.sellers[1].minimum_order.minor = 1000;
	o = sell(&k, &p, KM_OFFER_NEW, 640);
	o->seller = &k.sellers[1];
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.buy->alone.likely, 1480);
	o->seller = &k.sellers[0];
	o->currency = "EUR";
	o->price = same(1250);
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.buy->alone.likely, 1075);
	o->currency = "USD";
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_null(w.buy);
	assert_false(w.v[0].priced);
	assert_int_equal(w.decide, KM_DECIDE_LEAVE);
}

/* The most to pay is 15.00: at 15.00 it is bought, at 15.01 it is not. */
static void your_limit(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_offer *o;

	(void)state;
	wanted(&p);
	p.slot.most.minor = 1500;
	open_market(&k);
	o = sell(&k, &p, KM_OFFER_NEW, 1500);
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_BUY);
	o->price = same(1501);
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_LEAVE);
	assert_non_null(w.rejected_buy);
	assert_true(w.rejected_buy->over_limit);
}

/* A job lot of 20.00 and 4.80 postage, its piece not sold alone: 24.80. */
static void a_piece_of_a_job_lot(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;

	(void)state;
	wanted(&p);
	open_market(&k);
	k.sellers[1].postage.minor = 480;
	k.held[0] = sell(&k, &p, KM_OFFER_NOS, -1);
	k.lots[0] = (struct km_job_lot){ .id = "j1", .seller = &k.sellers[1],
		.price = same(2000), .holds = k.held, .n_holds = 1 };
	k.prices.n_job_lots = 1;
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.buy->kind, KM_WAY_LOT);
	assert_int_equal(w.buy->price.likely, 0);
	assert_int_equal(w.buy->alone.likely, 2480);
	assert_int_equal(w.buy->n_charges, 2);
	assert_ptr_equal(k.costs.charges[w.buy->charges[0]].job_lot,
			 &k.lots[0]);
}

/* An offer that only names the part is what the slot wants, in all that it
 * does not state; a part that superseded it, in all that did not change. */
static void an_offer_by_its_part(void **state)
{
	static const struct km_supersession chain[] = {
		{ .old_part = "54-701", .new_part = "54-701A" },
		{ .old_part = "54-701A", .new_part = "54-702",
		  .changes = (uint32_t)1 << KM_A_FINISH },
	};
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_offer *o;

	(void)state;
	wanted(&p);
	want(&p, KM_A_PART, text_of("54-701"));
	want(&p, KM_A_LENGTH, length_um(250000, 5000, 5000));
	p.rules.superseded = chain;
	p.rules.n_superseded = 2;
	open_market(&k);
	o = sell(&k, NULL, KM_OFFER_NEW, 640);
	state_part(&k, o, "54-701");
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_BUY);
	assert_int_equal(w.buy->match->on[KM_ASP_LENGTH].outcome, KM_AGREES);
	/* the same, by another number */
	state_part(&k, o, "54-701A");
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_BUY);
	/* the finish changed on the way */
	state_part(&k, o, "54-702");
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.decide, KM_DECIDE_LEAVE);
	assert_int_equal(w.v[0].match->headline, KM_ASP_FINISH);
	assert_int_equal(w.v[0].match->verdict, KM_SUBSTITUTE);
	/* a part of something else */
	state_part(&k, o, "99-001");
	w = ask(&k, &p, KM_AS_DELIVERED, NULL);
	assert_int_equal(w.n, 1);
	assert_int_equal(w.v[0].kind, KM_WAY_OPEN);
}

/* A wrong handle colour by one recollection: no money by default. */
static void weak_evidence_asks_first(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_match m;

	(void)state;
	begin(&p, "screwdriver");
	p.slot.most.minor = -1;
	want(&p, KM_A_SIZES, sizes_of("slotted", "0.8 x 5.5 mm", NULL));
	have(&p, KM_A_SIZES, sizes_of("slotted", "0.8 x 5.5 mm", NULL));
	want(&p, KM_A_HANDLE_COLOUR, rgb(0xc47a1c));
	have(&p, KM_A_HANDLE_COLOUR, rgb(0x106030));
	have(&p, KM_A_HANDLE_MATERIAL, material_of("moulded sleeve"));
	sure(&p, KM_A_HANDLE_COLOUR, KM_POSSIBLE);
	open_market(&k);
	m = compare(&p, KM_AS_DELIVERED);
	assert_int_equal(m.verdict, KM_SUBSTITUTE);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_QUESTION);
	/* the cure is offered: a new handle, 60.00 + 2.00 */
	assert_non_null(w.restore);
	assert_int_equal(w.restore->alone.likely, 6200);
	sure(&p, KM_A_HANDLE_COLOUR, KM_CERTAIN);
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_RESTORE);
	/* the slot itself is in doubt */
	p.slot.exists = KM_DISPUTED;
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_QUESTION);
}

static void what_lies_there_decides(void **state)
{
	struct market k;
	struct pair p;
	struct km_ways w;
	struct km_match m;

	(void)state;
	wanted(&p);
	open_market(&k);
	sell(&k, &p, KM_OFFER_NEW, 100);
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_KEEP);
	assert_int_equal(w.v[0].kind, KM_WAY_OWNED);
	assert_true(w.v[0].acceptable);
	assert_int_equal(w.v[0].alone.high, 0);
	/* rusty, and wanted as found: nothing is to be done */
	p.condition.rust = 4;
	m = compare(&p, KM_AS_FOUND);
	w = ask(&k, &p, KM_AS_FOUND, &m);
	assert_int_equal(w.decide, KM_DECIDE_KEEP);
	assert_null(w.restore);
	/* below its condition, a tenth of a point; after work none */
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.v[0].points, 10);
	assert_int_equal(w.v[1].kind, KM_WAY_WORK);
	assert_int_equal(w.v[1].points, 0);
	/* its mark cannot be read: look again first */
	p.condition.rust = 0;
	want(&p, KM_A_MARK, text_of("BRANKEL 4"));
	have_unread(&p, KM_A_MARK);
	m = compare(&p, KM_AS_DELIVERED);
	w = ask(&k, &p, KM_AS_DELIVERED, &m);
	assert_int_equal(w.decide, KM_DECIDE_READ);
}

static void failed_allocations_are_reported(void **state)
{
	struct km_fault fault = { .seen = 0 };
	struct km_limits lim = { .fault = &fault };
	enum km_status st = KM_ENOMEM;
	struct km_match m;
	const struct km_match *owned = &m;
	struct market k;
	struct pair p;
	struct km_ways w;
	int failed = 0;

	(void)state;
	wanted(&p);
	open_market(&k);
	sell(&k, &p, KM_OFFER_NEW, 3000);
	p.condition.rust = 2;
	m = compare(&p, KM_AS_DELIVERED);
	ask(&k, &p, KM_AS_DELIVERED, &m);
	for (uint64_t at = 1; st != KM_OK && at < 200; at++) {
		struct km_ways_ask a = { .slot = &p.slot, .rules = &p.rules,
			.costs = &k.costs, .owned = &owned, .n_owned = 1 };
		struct km_arena *x, *y;

		w.n = 77;
		fault = (struct km_fault){ .fail_at = at };
		x = km_arena_new(&lim);
		y = km_arena_new(&lim);
		if (x && y)
			st = km_ways_find(x, y, &a, &w);
		if (st != KM_OK)
			assert_int_equal(w.n, 77);
		failed += st == KM_ENOMEM;
		km_arena_free(x);
		km_arena_free(y);
	}
	assert_int_equal(st, KM_OK);
	assert_true(failed > 2);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(three_roads_to_one_tool),
		cmocka_unit_test(an_open_lot_turns_the_decision),
		cmocka_unit_test(a_close_call),
		cmocka_unit_test(delivered_prices),
		cmocka_unit_test(your_limit),
		cmocka_unit_test(a_piece_of_a_job_lot),
		cmocka_unit_test(an_offer_by_its_part),
		cmocka_unit_test(weak_evidence_asks_first),
		cmocka_unit_test(what_lies_there_decides),
		cmocka_unit_test(failed_allocations_are_reported),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
