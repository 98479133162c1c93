/* SPDX-License-Identifier: MIT */
/* Prices of all files as one record, in order of ids; sellers of offers, what
 * job lots hold. */
#include <stdlib.h>
#include <string.h>

#include "base/num.h"
#include "base/str.h"
#include "read/link.h"
#include "unit/date.h"

static int place_order(struct km_place a, struct km_place b)
{
	int c = strcmp(a.file, b.file);

	if (!c)
		c = (a.line > b.line) - (a.line < b.line);
	return c ? c : (a.column > b.column) - (a.column < b.column);
}

/* What sorting and looking up by id takes, for each kind of record; an id is
 * NULL only in a record in error. */
#define BY_ID(kind, type)                                                      \
	static const char *kind##_name(const void *ctx, uint32_t i)            \
	{                                                                      \
		return ((type *const *)ctx)[i]->id;                            \
	}                                                                      \
	static struct km_place kind##_at(const void *ctx, uint32_t i)          \
	{                                                                      \
		return ((type *const *)ctx)[i]->at;                            \
	}                                                                      \
	static int kind##_order(const void *va, const void *vb)                \
	{                                                                      \
		const type *a = *(type *const *)va, *b = *(type *const *)vb;   \
		int c = km_natural_compare(a->id ? a->id : "",                 \
					   b->id ? b->id : "");                \
		return c ? c : place_order(a->at, b->at);                      \
	}

BY_ID(seller, struct km_seller)
BY_ID(offer, struct km_offer)
BY_ID(lot, struct km_job_lot)

static int supersession_order(const void *va, const void *vb)
{
	const struct km_supersession *a = va, *b = vb;
	int c = km_natural_compare(a->old_part ? a->old_part : "",
				   b->old_part ? b->old_part : "");

	if (!c)
		c = km_natural_compare(a->new_part ? a->new_part : "",
				       b->new_part ? b->new_part : "");
	return c ? c : place_order(a->at, b->at);
}

/* ------------------------------------------------------------------ */
/* Joining                                                             */

/* A rate that two files give must be the same in both. */
static void join_rates(struct km_reader *r, struct km_prices *all,
		       const struct km_prices *p, struct km_rate *v)
{
	uint32_t i, k;

	for (i = 0; i < p->n_rates; i++) {
		for (k = 0; k < all->n_rates; k++)
			if (!strcmp(v[k].currency, p->rates[i].currency))
				break;
		if (k == all->n_rates)
			v[all->n_rates++] = p->rates[i];
		else if (km_rational_compare(
				 (struct km_rational){ v[k].num, v[k].den },
				 (struct km_rational){ p->rates[i].num,
						       p->rates[i].den }))
			km_diag_add(r->b.d, KM_M_TWO_RATES, p->at,
				    v[k].currency);
	}
}

static void join_one(struct km_reader *r, struct km_prices *all,
		     struct km_prices *p, struct km_rate *rates)
{
	struct km_diag *one;
	uint32_t i;

	if (!all->currency) {
		all->currency = p->currency;
		all->at = p->at;
	} else if (p->currency && strcmp(all->currency, p->currency) != 0) {
		one = km_diag_add(r->b.d, KM_M_MIXED_CURRENCY, p->at,
				  p->currency, all->currency);
		km_diag_other(r->b.d, one, all->at, "the other prices");
		r->b.rates_wrong = true;
	}
	if (km_date_compare(p->as_of, all->as_of) > 0)
		all->as_of = p->as_of;
	all->only_three_highest |= p->only_three_highest;
	join_rates(r, all, p, rates);
	for (i = 0; i < p->n_sellers; i++)
		r->link->seller[all->n_sellers++] = &p->sellers[i];
	for (i = 0; i < p->n_offers; i++) {
		if (!p->offers[i].as_of.year)
			p->offers[i].as_of = p->as_of;
		r->link->offer[all->n_offers++] = &p->offers[i];
	}
	for (i = 0; i < p->n_job_lots; i++)
		r->link->lot[all->n_job_lots++] = &p->job_lots[i];
	for (i = 0; i < p->n_superseded; i++)
		all->superseded[all->n_superseded++] = p->superseded[i];
}

static int part_order(const void *va, const void *vb)
{
	const struct km_prices *a = *(struct km_prices *const *)va;
	const struct km_prices *b = *(struct km_prices *const *)vb;

	return place_order(a->at, b->at);
}

/* The parts in order of their files' names, so that operands may come in any
 * order. */
static struct km_prices **parts_of(struct km_reader *r, size_t *n)
{
	struct km_prices **v;
	const struct km_part *p;

	*n = 0;
	for (p = r->prices; p; p = p->next)
		++*n;
	v = km_arena_alloc(r->b.scratch, *n + 1, sizeof *v);
	if (!v) {
		r->b.nomem = true;
		return NULL;
	}
	*n = 0;
	for (p = r->prices; p; p = p->next)
		v[(*n)++] = p->rec;
	qsort(v, *n, sizeof *v, part_order);
	return v;
}

static struct km_prices *join(struct km_reader *r)
{
	struct km_link *x = r->link;
	struct km_prices *all = km_bind_alloc(&r->b, 1, sizeof *all), **part;
	struct km_rate *rates;
	uint32_t sellers = 0, offers = 0, lots = 0, chains = 0, n_rates = 0;
	size_t n, i;

	part = parts_of(r, &n);
	if (!all || !part)
		return NULL;
	for (i = 0; i < n; i++) {
		sellers += part[i]->n_sellers;
		offers += part[i]->n_offers;
		lots += part[i]->n_job_lots;
		chains += part[i]->n_superseded;
		n_rates += part[i]->n_rates;
	}
	x->seller = km_arena_alloc(r->b.scratch, sellers + 1, sizeof *x->seller);
	x->offer = km_arena_alloc(r->b.scratch, offers + 1, sizeof *x->offer);
	x->lot = km_arena_alloc(r->b.scratch, lots + 1, sizeof *x->lot);
	all->sellers = km_bind_alloc(&r->b, sellers + 1, sizeof *all->sellers);
	all->offers = km_bind_alloc(&r->b, offers + 1, sizeof *all->offers);
	all->job_lots = km_bind_alloc(&r->b, lots + 1, sizeof *all->job_lots);
	all->superseded = km_bind_alloc(&r->b, chains + 1,
					sizeof *all->superseded);
	rates = km_bind_alloc(&r->b, n_rates + 1, sizeof *rates);
	if (!x->seller || !x->offer || !x->lot)
		r->b.nomem = true;
	if (r->b.nomem)
		return NULL;
	all->rates = rates;
	for (i = 0; i < n; i++)
		join_one(r, all, part[i], rates);
	qsort(x->seller, all->n_sellers, sizeof *x->seller, seller_order);
	qsort(x->offer, all->n_offers, sizeof *x->offer, offer_order);
	qsort(x->lot, all->n_job_lots, sizeof *x->lot, lot_order);
	qsort(all->superseded, all->n_superseded, sizeof *all->superseded,
	      supersession_order);
	return all;
}

/* ------------------------------------------------------------------ */
/* References                                                          */

static const struct km_seller *find_seller(struct km_reader *r,
					   const char *id, struct km_place at)
{
	const struct km_prices *p = r->load->prices;
	uint32_t k;

	if (!id)
		return NULL;
	k = km_link_find(r, &r->link->sellers, p->n_sellers, "seller", id, at);
	return k == KM_NO_INDEX ? NULL : &p->sellers[k];
}

static void link_fits(struct km_reader *r, const struct km_offer *o)
{
	const char *stroke = strchr(o->fits, '/');
	const char *kit = km_words_text(r->b.words, o->fits,
					(size_t)(stroke - o->fits));

	if (!kit)
		r->b.nomem = true;
	else
		km_link_slot(r, kit, stroke + 1, o->at);
}

static void link_lot(struct km_reader *r, struct km_job_lot *lot)
{
	const struct km_prices *p = r->load->prices;
	const struct km_offer **v;
	uint32_t i, k;

	lot->seller = find_seller(r, lot->seller_id, lot->at);
	v = km_bind_alloc(&r->b, lot->n_holds + 1, sizeof *v);
	if (!v)
		return;
	for (i = 0; i < lot->n_holds; i++) {
		k = km_link_find(r, &r->link->offers, p->n_offers, "offer",
				 lot->hold_ids[i], lot->at);
		if (k == KM_NO_INDEX)
			continue;
		if (r->link->offer[k]->seller_id && lot->seller_id &&
		    km_case_compare(r->link->offer[k]->seller_id,
				    lot->seller_id))
			km_diag_add(r->b.d, KM_M_OTHER_SELLER, lot->at,
				    lot->hold_ids[i]);
		v[i] = &p->offers[k];
	}
	lot->holds = v;
}

/* An offer without a price must be in a job lot. */
static void check_priced(struct km_reader *r)
{
	const struct km_prices *p = r->load->prices;
	const struct km_job_lot *lot;
	struct km_diag *one;
	uint8_t *held;
	uint32_t i, k;

	held = km_arena_alloc(r->b.scratch, p->n_offers + 1, 1);
	if (!held) {
		r->b.nomem = true;
		return;
	}
	for (i = 0; i < p->n_job_lots; i++) {
		lot = r->link->lot[i];
		for (k = 0; lot->holds && k < lot->n_holds; k++)
			if (lot->holds[k])
				held[lot->holds[k] - p->offers] = 1;
	}
	for (i = 0; i < p->n_offers; i++) {
		if (r->link->offer[i]->price.low != -1 || held[i] ||
		    r->b.holes)
			continue;
		one = km_diag_add(r->b.d, KM_M_NO_PRICE,
				  r->link->offer[i]->at,
				  r->link->offer[i]->id);
		km_diag_hint(r->b.d, one, "give it a price, or name it in a "
			     "job lot");
	}
}

void km_link_prices(struct km_reader *r)
{
	struct km_link *x = r->link;
	struct km_prices *all;
	uint32_t i;

	if (!r->prices)
		return;
	all = join(r);
	if (!all)
		return;
	r->load->prices = all;
	x->sellers = (struct km_ids){ .name = seller_name, .ctx = x->seller };
	x->offers = (struct km_ids){ .name = offer_name, .ctx = x->offer };
	x->lots = (struct km_ids){ .name = lot_name, .ctx = x->lot };
	km_link_enter(r, &x->sellers, all->n_sellers, "seller", seller_at);
	km_link_enter(r, &x->offers, all->n_offers, "offer", offer_at);
	km_link_enter(r, &x->lots, all->n_job_lots, "job lot", lot_at);
	for (i = 0; i < all->n_offers && !r->b.nomem; i++) {
		struct km_offer *o = x->offer[i];

		o->seller = find_seller(r, o->seller_id, o->at);
		if (o->seller && !o->currency)
			o->currency = x->seller[o->seller - all->sellers]
					      ->currency;
		if (o->fits)
			link_fits(r, o);
	}
	for (i = 0; i < all->n_job_lots && !r->b.nomem; i++)
		link_lot(r, x->lot[i]);
	if (!r->b.nomem)
		check_priced(r);
	if (!r->b.nomem)
		km_link_supersessions(r);
}

void km_link_prices_end(struct km_reader *r)
{
	struct km_prices *all = r->load->prices;
	struct km_link *x = r->link;
	uint32_t i;

	for (i = 0; all && i < all->n_sellers; i++)
		all->sellers[i] = *x->seller[i];
	for (i = 0; all && i < all->n_offers; i++)
		all->offers[i] = *x->offer[i];
	for (i = 0; all && i < all->n_job_lots; i++)
		all->job_lots[i] = *x->lot[i];
}
