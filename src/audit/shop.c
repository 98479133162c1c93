/* SPDX-License-Identifier: MIT */
#include "audit/money.h"

#include <stdlib.h>
#include <string.h>

#include "base/num.h"
#include "base/str.h"
#include "unit/date.h"

int32_t km_price_months(const struct km_audit *a, const struct km_offer *o)
{
	struct km_date since = o->as_of;

	if (!since.year && a->load->prices)
		since = a->load->prices->as_of;
	if (!since.year || !a->options.today.year)
		return -1;
	return km_date_months(since, a->options.today);
}

static bool is_old(const struct km_audit *a, const struct km_offer *o)
{
	return km_price_months(a, o) > KM_PRICE_OLD;
}

bool km_value_is_old(const struct km_audit *a, const struct km_tool *t)
{
	const struct km_tool_more *m = t->more;

	return m && m->value.minor >= 0 && m->value_dated.year &&
	       a->options.today.year &&
	       km_date_months(m->value_dated, a->options.today) > KM_PRICE_OLD;
}

/* The parcel and the job lot that a bought thing comes in. */
static void find_seller(const struct km_costs *costs, struct km_purchase *p)
{
	for (uint32_t i = 0; p->way && i < p->way->n_charges; i++) {
		const struct km_charge *c = &costs->charges[p->way->charges[i]];

		if (c->kind == KM_CHARGE_PARCEL)
			p->seller = c->seller;
		else if (c->kind == KM_CHARGE_JOB_LOT)
			p->lot = c->job_lot;
	}
}

/* What is bought before what is only asked for, by number of the offer and of
 * the job lot. */
static int by_thing(const struct km_purchase *x, const struct km_purchase *y)
{
	const struct km_offer *a = x->way ? x->way->match->offer : NULL;
	const struct km_offer *b = y->way ? y->way->match->offer : NULL;

	if (a != b)
		return !a || (b && a > b) ? 1 : -1;
	if (x->lot != y->lot)
		return x->lot > y->lot ? 1 : -1;
	return x->way && y->way ? (int)x->way->kind - (int)y->way->kind : 0;
}

/* By seller, those without last; then kit and slot as audited. */
static int by_seller(const void *a, const void *b)
{
	const struct km_purchase *x = a, *y = b;
	const struct km_seller *s = x->seller, *t = y->seller;

	if (s != t) {
		if (!s || !t)
			return s ? -1 : 1;
		return km_natural_compare(s->id, t->id);
	}
	if (x->kit != y->kit)
		return x->kit < y->kit ? -1 : 1;
	if (x->slot != y->slot)
		return x->slot < y->slot ? -1 : 1;
	return by_thing(x, y);
}

static bool times(struct km_money3 m, int32_t n, struct km_money3 *out)
{
	return km_mul(m.low, n, &out->low) && km_mul(m.likely, n, &out->likely) &&
	       km_mul(m.high, n, &out->high);
}

/* Is a place on the list: bought for, or open with nothing to be had. */
static bool is_listed(const struct km_plan_place *p)
{
	enum km_decide d = p->slot->decide;

	if (p->chosen->match && p->chosen->match->offer)
		return true;
	/* a slot of several pieces may buy one and find nothing for the next */
	return !p->chosen->acceptable && p->slot->slot->exists <= KM_PROBABLE &&
	       (d == KM_DECIDE_LEAVE || d == KM_DECIDE_BUY ||
		d == KM_DECIDE_RESTORE);
}

/* The same thing in the same parcel, be it listed for another piece. */
static bool same_thing(const struct km_way *a, const struct km_way *b)
{
	return a == b || (a && b && a->match->offer == b->match->offer &&
			  a->kind == b->kind && a->n_charges == b->n_charges &&
			  !memcmp(a->charges, b->charges,
				  a->n_charges * sizeof *a->charges));
}

static struct km_purchase *line_of(struct km_purchase *v, uint32_t n,
				   const struct km_plan_place *p,
				   const struct km_way *way)
{
	for (uint32_t i = n; i-- > 0 && v[i].slot == p->slot;)
		if (same_thing(v[i].way, way))
			return &v[i];
	return NULL;
}

/* One line a slot and way. */
static enum km_status collect(struct km_arena *mem, const struct km_audit *a,
			      const struct km_costs *costs,
			      struct km_purchase **out, uint32_t *n_out)
{
	const struct km_plan *plan = a->plan;
	struct km_purchase *v = km_arena_alloc(mem, plan->n_places, sizeof *v);
	uint32_t n = 0;

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < plan->n_places; i++) {
		const struct km_plan_place *p = &plan->places[i];
		const struct km_way *way = p->chosen;
		struct km_purchase *line;

		if (!is_listed(p))
			continue;
		if (!way->match || !way->match->offer)
			way = NULL;
		line = line_of(v, n, p, way);
		if (!line) {
			line = &v[n++];
			line->kit = p->kit;
			line->slot = p->slot;
			line->way = way;
			if (way && way->kind != KM_WAY_LOT)
				line->price = way->price;
			line->old_price = way && is_old(a, way->match->offer);
			find_seller(costs, line);
		}
		line->pieces++;
	}
	for (uint32_t i = 0; i < n; i++)
		if (!times(v[i].price, v[i].pieces, &v[i].amount))
			return KM_ERANGE;
	qsort(v, n, sizeof *v, by_seller);
	*out = v;
	*n_out = n;
	return KM_OK;
}

/* Lines, and the job lots that come in the parcel, once each; postage is the
 * plan's bill. */
static enum km_status total_parcel(const struct km_plan *plan,
				   struct km_parcel *p)
{
	for (uint32_t i = 0; i < p->n_lines; i++)
		if (!km_money3_add(p->goods, p->lines[i].amount, &p->goods))
			return KM_ERANGE;
	for (uint32_t i = 0; p->seller && i < plan->n_bills; i++) {
		const struct km_plan_bill *b = &plan->bills[i];

		if (b->seller != p->seller)
			continue;
		if (b->kind == KM_BILL_JOB_LOT &&
		    !km_money3_add(p->goods, b->cost, &p->goods))
			return KM_ERANGE;
		if (b->kind == KM_BILL_PARCEL) {
			p->postage = b->cost;
			p->below_minimum = b->top_up.likely > 0;
		}
	}
	return km_money3_add(p->goods, p->postage, &p->total) ? KM_OK
							      : KM_ERANGE;
}

static void count_old(struct km_audit *a)
{
	const struct km_prices *p = a->load->prices;

	for (uint32_t i = 0; p && i < p->n_offers; i++)
		a->prices_old += is_old(a, &p->offers[i]);
}

enum km_status km_money_shop(struct km_arena *mem,
			     const struct km_money_input *in)
{
	struct km_audit *a = in->audit;
	struct km_parcel *parcels;
	struct km_purchase *v;
	uint32_t n, m = 0;
	enum km_status st = collect(mem, a, in->costs, &v, &n);

	if (st != KM_OK)
		return st;
	parcels = km_arena_alloc(mem, n, sizeof *parcels);
	if (!parcels)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n; m++) {
		struct km_parcel *p = &parcels[m];

		p->seller = v[i].seller;
		p->lines = &v[i];
		while (i < n && v[i].seller == p->seller) {
			p->n_lines++;
			i++;
		}
		st = total_parcel(a->plan, p);
		if (st != KM_OK)
			return st;
		if (p->seller && !km_money3_add(a->shopping_total, p->total,
						&a->shopping_total))
			return KM_ERANGE;
	}
	a->parcels = parcels;
	a->n_parcels = m;
	count_old(a);
	return KM_OK;
}
