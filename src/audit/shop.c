/* SPDX-License-Identifier: MIT */
#include "audit/money.h"

#include <stdlib.h>

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

/* Is the slot on the list: decided to buy, or open with nothing to be had. */
static int32_t pieces_of(const struct km_slot_audit *s)
{
	if (s->decide == KM_DECIDE_BUY)
		return s->to_buy;
	if (s->decide == KM_DECIDE_LEAVE && s->slot->exists <= KM_PROBABLE)
		return s->slot->count - s->filled > 0
			       ? s->slot->count - s->filled
			       : s->slot->count;
	return 0;
}

static const struct km_seller *seller_of(const struct km_purchase *p)
{
	return p->way ? p->way->match->offer->seller : NULL;
}

/* By seller, those without last; then kit and slot as audited. */
static int by_seller(const void *a, const void *b)
{
	const struct km_purchase *x = a, *y = b;
	const struct km_seller *s = seller_of(x), *t = seller_of(y);

	if (s != t) {
		if (!s || !t)
			return s ? -1 : 1;
		return km_natural_compare(s->id, t->id);
	}
	if (x->kit != y->kit)
		return x->kit < y->kit ? -1 : 1;
	return (x->slot > y->slot) - (x->slot < y->slot);
}

static bool times(struct km_money3 m, int32_t n, struct km_money3 *out)
{
	return km_mul(m.low, n, &out->low) && km_mul(m.likely, n, &out->likely) &&
	       km_mul(m.high, n, &out->high);
}

static enum km_status collect(struct km_arena *mem, const struct km_audit *a,
			      struct km_purchase **out, uint32_t *n_out)
{
	size_t room = 0;
	uint32_t n = 0;
	struct km_purchase *v;

	for (uint32_t k = 0; k < a->n_kits; k++)
		room += a->kits[k].kit->n_slots;
	v = km_arena_alloc(mem, room, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++) {
			const struct km_slot_audit *s = &a->kits[k].slots[i];
			struct km_purchase *p = &v[n];

			p->pieces = pieces_of(s);
			if (!p->pieces)
				continue;
			p->kit = &a->kits[k];
			p->slot = s;
			if (s->decide == KM_DECIDE_BUY) {
				p->way = s->buy;
				p->price = s->buy->price;
				if (!times(p->price, p->pieces, &p->amount))
					return KM_ERANGE;
				p->old_price = is_old(a, p->way->match->offer);
			}
			n++;
		}
	qsort(v, n, sizeof *v, by_seller);
	*out = v;
	*n_out = n;
	return KM_OK;
}

static enum km_status total_parcel(const struct km_costs *costs,
				   struct km_parcel *p)
{
	const struct km_charge *c;
	enum km_status st;

	for (uint32_t i = 0; i < p->n_lines; i++)
		if (!km_money3_add(p->goods, p->lines[i].amount, &p->goods))
			return KM_ERANGE;
	p->total = p->goods;
	if (!p->seller)
		return KM_OK;
	c = &costs->charges[km_costs_seller(costs, p->seller)];
	st = km_charge_parcel(c, p->goods, &p->postage);
	if (st != KM_OK)
		return st;
	p->below_minimum = p->goods.likely < c->minimum_order;
	return km_money3_add(p->goods, p->postage, &p->total) ? KM_OK
							      : KM_ERANGE;
}

static enum km_status count_old(struct km_audit *a)
{
	const struct km_prices *p = a->load->prices;

	for (uint32_t i = 0; p && i < p->n_offers; i++)
		a->prices_old += is_old(a, &p->offers[i]);
	return KM_OK;
}

/* Postage goes to the kits by parcel: a parcel for several kits counts in the
 * first of them. */
static enum km_status total_kits(struct km_audit *a)
{
	for (uint32_t i = 0; i < a->n_parcels; i++) {
		const struct km_parcel *p = &a->parcels[i];
		struct km_kit_audit *k =
			&a->kits[p->lines[0].kit - a->kits];

		if (p->seller &&
		    !km_money3_add(k->postage_total, p->postage,
				   &k->postage_total))
			return KM_ERANGE;
	}
	for (uint32_t i = 0; i < a->n_kits; i++) {
		struct km_kit_audit *k = &a->kits[i];

		if (!km_money3_add(k->restore_total, k->buy_total, &k->total) ||
		    !km_money3_add(k->total, k->postage_total, &k->total))
			return KM_ERANGE;
	}
	return KM_OK;
}

enum km_status km_money_shop(struct km_arena *mem,
			     const struct km_money_input *in)
{
	struct km_audit *a = in->audit;
	struct km_parcel *parcels;
	struct km_purchase *v;
	uint32_t n, m = 0;
	enum km_status st = collect(mem, a, &v, &n);

	if (st != KM_OK)
		return st;
	parcels = km_arena_alloc(mem, n, sizeof *parcels);
	if (!parcels)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n; m++) {
		struct km_parcel *p = &parcels[m];

		p->seller = seller_of(&v[i]);
		p->lines = &v[i];
		while (i < n && seller_of(&v[i]) == p->seller) {
			p->n_lines++;
			i++;
		}
		st = total_parcel(in->costs, p);
		if (st != KM_OK)
			return st;
		if (p->seller && !km_money3_add(a->shopping_total, p->total,
						&a->shopping_total))
			return KM_ERANGE;
	}
	a->parcels = parcels;
	a->n_parcels = m;
	st = total_kits(a);
	return st == KM_OK ? count_old(a) : st;
}
