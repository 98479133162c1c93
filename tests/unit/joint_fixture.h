/* SPDX-License-Identifier: MIT */
/*
 * joint_fixture - places, ways and a market as literals, for the tests of the
 * plan.  Money in minor units, all three columns the same unless said.
 */
#ifndef KM_TESTS_JOINT_FIXTURE_H
#define KM_TESTS_JOINT_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "plan/bills.h"
#include "plan/joint.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define PLACES 12
#define WAYS 8

struct market {
	struct km_prices prices;
	struct km_seller sellers[PLACES];
	struct km_offer offers[PLACES * 2];
	struct km_job_lot lots[2];
	const struct km_offer *held[2][4];
	struct km_workshop workshop;
	struct km_process_terms terms[6];
	struct km_tool tools[PLACES];
	struct km_match matches[PLACES * WAYS];
	struct km_way ways[PLACES][WAYS];
	uint32_t charges[PLACES * WAYS][6];
	const struct km_process *steps[PLACES * WAYS][4];
	struct km_route routes[PLACES * WAYS];
	struct km_plan_place places[PLACES];
	struct km_joint_place more[PLACES];
	uint32_t n, n_matches;
	struct km_costs costs;
	struct km_joint_ask ask;
	struct km_plan plan;
};

static struct km_arena *mem;

static inline int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	return mem ? 0 : -1;
}

static inline int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

static inline struct km_money3 same(int64_t v)
{
	return (struct km_money3){ v, v, v };
}

/* Sellers v0, v1 ... without postage; a workshop in which nothing costs
 * anything but what is set. */
static inline void open_market(struct market *k, uint32_t sellers)
{
	*k = (struct market){ .prices = { .currency = "GBP" } };
	for (uint32_t i = 0; i < sellers; i++)
		k->sellers[i] = (struct km_seller){ .id = "v",
			.free_over = { -1 }, .minimum_order = { -1 } };
	k->prices.sellers = k->sellers;
	k->prices.n_sellers = sellers;
	k->prices.offers = k->offers;
	k->prices.job_lots = k->lots;
	k->workshop.own_time.minor = -1;
	k->workshop.unit_given = true;		/* 0: the table is free */
	k->workshop.unit_den = 1;
	k->workshop.processes = k->terms;
	k->ask.costs = &k->costs;
	k->ask.margins = true;
}

static inline struct km_process_terms *terms(struct market *k,
					     enum km_process_id id)
{
	struct km_process_terms *t = &k->terms[k->workshop.n_processes++];

	*t = (struct km_process_terms){ .process = &km_processes[id],
		.lot_minimum = same(-1), .piece = same(0), .load = same(-1),
		.load_pieces = -1, .days = -1, .hands_min = 0,
		.open_lot_pieces = -1 };
	return t;
}

/* A lot with a minimum, so much a piece. */
static inline struct km_process_terms *lot(struct market *k,
					   enum km_process_id id,
					   int64_t minimum, int64_t piece)
{
	struct km_process_terms *t = terms(k, id);

	t->lot_minimum = same(minimum);
	t->piece = same(piece);
	return t;
}

/* Sellers, workshop and job lots are as they will be. */
static inline void price(struct market *k)
{
	assert_int_equal(km_costs_init(mem, "GBP", &k->prices, &k->workshop,
		NULL, (struct km_date){ 2026, 4, 20 }, &k->costs), KM_OK);
}

static inline uint32_t place(struct market *k)
{
	k->places[k->n].ways = k->ways[k->n];
	k->more[k->n].firm = k->more[k->n].spend = true;
	return k->n++;
}

static inline struct km_way *way(struct market *k, uint32_t place,
				 enum km_way_kind kind)
{
	struct km_way *w = &k->ways[place][k->places[place].n_ways++];

	assert_in_range(k->places[place].n_ways, 1, WAYS);
	w->kind = kind;
	w->acceptable = kind != KM_WAY_OPEN && kind != KM_WAY_OWNED;
	w->points = w->acceptable ? 0 : 100;
	w->priced = true;
	if (kind == KM_WAY_OPEN)
		return w;
	w->charges = k->charges[k->n_matches];
	w->match = &k->matches[k->n_matches++];
	return w;
}

static inline struct km_match *match_of(struct market *k,
					const struct km_way *w)
{
	return &k->matches[w->match - k->matches];
}

static inline void needs(struct market *k, struct km_way *w, uint32_t charge)
{
	k->charges[w->match - k->matches][w->n_charges++] = charge;
}

/* A route of one or two processes.  own: what its own time comes to. */
static inline const struct km_route *route(struct market *k, struct km_way *w,
					   enum km_process_id a, int b,
					   int32_t hands)
{
	struct km_route *r = &k->routes[w->match - k->matches];
	const struct km_process **steps = k->steps[w->match - k->matches];

	steps[r->n_steps++] = &km_processes[a];
	if (b >= 0)
		steps[r->n_steps++] = &km_processes[b];
	r->steps = steps;
	r->reaches = true;
	for (int i = 0; i < 3; i++)
		r->hands_min[i] = hands;
	for (uint32_t i = 0; i < r->n_steps; i++)
		if (k->costs.step[steps[i]->id].shared)
			needs(k, w, k->costs.step[steps[i]->id].charge);
	w->route = r;
	return r;
}

/* Offer no. o of a seller, new, at a price; alone with its postage. */
static inline struct km_way *buy(struct market *k, uint32_t at, uint32_t o,
				 uint32_t seller, int64_t minor)
{
	struct km_way *w = way(k, at, KM_WAY_OFFER);
	struct km_offer *offer = &k->offers[o];

	if (!offer->id)
		*offer = (struct km_offer){ .id = "o", .stock = -1,
			.seller = &k->sellers[seller], .price = same(minor) };
	match_of(k, w)->offer = offer;
	w->price = same(minor);
	w->alone = same(minor + k->sellers[seller].postage.minor);
	needs(k, w, km_costs_seller(&k->costs, &k->sellers[seller]));
	return w;
}

/* Tool no. t in hand, after two processes. */
static inline struct km_way *work(struct market *k, uint32_t at, uint32_t t,
				  enum km_process_id a, int b, int32_t hands,
				  int64_t own)
{
	struct km_way *w = way(k, at, KM_WAY_WORK);

	match_of(k, w)->tool = &k->tools[t];
	route(k, w, a, b, hands);
	w->own = same(own);
	return w;
}

static inline struct km_way *leave(struct market *k, uint32_t at)
{
	return way(k, at, KM_WAY_OPEN);
}

static inline enum km_status try_plan(struct market *k)
{
	return km_joint_plan(mem, &k->ask, k->places, k->more, k->n, &k->plan);
}

static inline const struct km_plan *plan(struct market *k)
{
	assert_int_equal(try_plan(k), KM_OK);
	assert_true(k->plan.proved);
	return &k->plan;
}

/* The bill of a kind, the only one of it. */
static inline const struct km_plan_bill *bill(const struct km_plan *p,
					      enum km_bill_kind kind)
{
	const struct km_plan_bill *found = NULL;

	for (uint32_t i = 0; i < p->n_bills; i++)
		if (p->bills[i].kind == kind) {
			assert_null(found);
			found = &p->bills[i];
		}
	assert_non_null(found);
	return found;
}

#endif
