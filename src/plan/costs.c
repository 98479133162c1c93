/* SPDX-License-Identifier: MIT */
#include "plan/charge.h"

#include <string.h>

#include "base/num.h"
#include "unit/date.h"
#include "unit/money.h"

/* ------------------------------------------------------------------ */
/* Currencies                                                          */

static bool same(const char *a, const char *b)
{
	return a && b && !strcmp(a, b);
}

static int decimals_of(const char *currency)
{
	int n = currency ? km_currency_decimals(currency) : 2;

	return n < 0 ? 2 : n;
}

/* One unit of a currency in that of the prices. */
static bool rate_of(const struct km_costs *c, const char *currency,
		    int64_t *num, int64_t *den)
{
	const struct km_prices *p = c->prices;

	*num = *den = 1;
	if (!currency || (p && same(currency, p->currency)))
		return true;
	for (uint32_t i = 0; p && i < p->n_rates; i++)
		if (same(currency, p->rates[i].currency)) {
			*num = p->rates[i].num;
			*den = p->rates[i].den;
			return *num > 0 && *den > 0;
		}
	return false;
}

static int64_t power_of_ten(int n)
{
	int64_t v = 1;

	while (n-- > 0)
		v *= 10;
	return v;
}

enum km_status km_costs_convert(const struct km_costs *c, const char *from,
				int64_t minor, int64_t *out)
{
	int64_t n1, d1, n2, d2;
	const char *base = c->prices ? c->prices->currency : NULL;

	if (!from)
		from = base;
	if (!from || !c->currency || same(from, c->currency)) {
		*out = minor;
		return KM_OK;
	}
	if (!rate_of(c, from, &n1, &d1) || !rate_of(c, c->currency, &n2, &d2))
		return KM_EINPUT;
	if (!km_mul(n1, d2, &n1) ||
	    !km_mul(n1, power_of_ten(c->decimals), &n1) ||
	    !km_mul(d1, n2, &d1) ||
	    !km_mul(d1, power_of_ten(decimals_of(from)), &d1) ||
	    !km_mul_div(minor, n1, d1, out))
		return KM_ERANGE;
	return KM_OK;
}

enum km_status km_costs_convert3(const struct km_costs *c, const char *from,
				 struct km_money3 money, struct km_money3 *out)
{
	struct km_money3 m;
	enum km_status st = km_costs_convert(c, from, money.low, &m.low);

	if (st == KM_OK)
		st = km_costs_convert(c, from, money.likely, &m.likely);
	if (st == KM_OK)
		st = km_costs_convert(c, from, money.high, &m.high);
	if (st == KM_OK)
		*out = m;
	return st;
}

/* ------------------------------------------------------------------ */
/* Processes                                                           */

static const char *workshop_currency(const struct km_costs *c)
{
	if (c->workshop && c->workshop->currency)
		return c->workshop->currency;
	return c->prices && c->prices->currency ? c->prices->currency :
	       c->currency;
}

/* Hundredths of a cost unit as money. */
static enum km_status units(const struct km_costs *c, const int32_t h[3],
			    struct km_money3 *out)
{
	const struct km_workshop *w = c->workshop;
	bool given = w && w->unit_given && w->unit_den > 0;
	const char *from = given ? workshop_currency(c) : c->currency;
	int dec = from ? decimals_of(from) : c->decimals;
	int64_t num = given ? w->unit_num : 1, den = given ? w->unit_den : 1;
	struct km_money3 m;

	if (!km_mul(num, power_of_ten(dec), &num) || !km_mul(den, 100, &den) ||
	    !km_mul_div(h[0], num, den, &m.low) ||
	    !km_mul_div(h[1], num, den, &m.likely) ||
	    !km_mul_div(h[2], num, den, &m.high))
		return KM_ERANGE;
	return km_costs_convert3(c, from, m, out);
}

static enum km_status table_charge(const struct km_costs *c,
				   const struct km_process *p,
				   struct km_charge *out)
{
	enum km_status st = units(c, p->batch_cost, &out->fixed);

	if (st == KM_OK)
		st = units(c, p->piece_cost, &out->piece);
	out->process = p;
	out->priced = true;
	out->kind = p->rule == KM_RULE_MAX ? KM_CHARGE_LOT : KM_CHARGE_LOAD;
	/* a lot is one delivery, however many pieces */
	out->load_pieces = p->charged_by == KM_BY_BATCH &&
			   p->load_pieces[1] > 0 ? p->load_pieces[1] : 0;
	return st;
}

/* The workshop's own figures over those of the table. */
static enum km_status own_charge(const struct km_costs *c,
				 const struct km_process_terms *t,
				 struct km_date today, struct km_charge *out)
{
	const char *from = workshop_currency(c);
	enum km_status st = KM_OK;

	if (t->lot_minimum.low >= 0) {
		out->kind = KM_CHARGE_LOT;
		st = km_costs_convert3(c, from, t->lot_minimum, &out->fixed);
	} else if (t->load.low >= 0) {
		out->kind = KM_CHARGE_LOAD;
		st = km_costs_convert3(c, from, t->load, &out->fixed);
	}
	if (st == KM_OK && t->piece.low >= 0)
		st = km_costs_convert3(c, from, t->piece, &out->piece);
	if (t->load_pieces > 0)
		out->load_pieces = t->load_pieces;
	if (t->open_lot_pieces > 0 && out->kind == KM_CHARGE_LOT &&
	    (!today.year || !t->open_lot_closes.year ||
	     km_date_compare(today, t->open_lot_closes) <= 0))
		out->committed = t->open_lot_pieces;
	return st;
}

static void own_time(const struct km_process_terms *t, struct km_step *s)
{
	s->available = !t->not_available;
	s->named = true;
	for (int i = 0; i < 3; i++) {
		if (t->hands_min >= 0)
			s->hands_min[i] = t->hands_min;
		if (t->days >= 0 && t->days < INT32_MAX / 2400)
			s->elapsed[i] = t->days * 2400;
	}
}

static const struct km_process_terms *terms_of(const struct km_workshop *w,
					       const struct km_process *p)
{
	for (uint32_t i = 0; w && i < w->n_processes; i++)
		if (w->processes[i].process == p ||
		    (!w->processes[i].process && w->processes[i].id &&
		     km_process_find(km_slice_of(w->processes[i].id)) == p))
			return &w->processes[i];
	return NULL;
}

static enum km_status step_init(struct km_costs *c, int i,
				struct km_date today, struct km_charge *charge)
{
	const struct km_process *p = &km_processes[i];
	const struct km_process_terms *t = terms_of(c->workshop, p);
	struct km_step *s = &c->step[i];
	enum km_status st;

	*s = (struct km_step){ .available = true };
	if (!km_effect_read(p, &s->effect))
		return KM_ERANGE;
	memcpy(s->hands_min, p->hands_min, sizeof s->hands_min);
	memcpy(s->elapsed, s->effect.elapsed, sizeof s->elapsed);
	st = table_charge(c, p, charge);
	if (st == KM_OK && t) {
		own_time(t, s);
		st = own_charge(c, t, today, charge);
	}
	if (st != KM_OK)
		return st;
	s->charge = c->first_process + (uint32_t)i;
	s->shared = charge->fixed.high > 0;
	return km_charge_pieces(charge, 1, &s->one);
}

/* ------------------------------------------------------------------ */
/* Sellers and job lots                                                */

static enum km_status or_none(const struct km_costs *c, const char *from,
			      int64_t minor, int64_t none, int64_t *out)
{
	*out = none;
	return minor < 0 ? KM_OK : km_costs_convert(c, from, minor, out);
}

static enum km_status seller_charge(const struct km_costs *c,
				    const struct km_seller *s,
				    struct km_charge *out)
{
	int64_t postage;
	enum km_status st;

	out->kind = KM_CHARGE_PARCEL;
	out->seller = s;
	st = or_none(c, s->currency, s->postage.minor, 0, &postage);
	if (st == KM_OK)
		st = or_none(c, s->currency, s->free_over.minor, -1,
			     &out->free_over);
	if (st == KM_OK)
		st = or_none(c, s->currency, s->minimum_order.minor, 0,
			     &out->minimum_order);
	if (st == KM_OK)
		out->fixed = (struct km_money3){ postage, postage, postage };
	return st;
}

static enum km_status lot_charge(const struct km_costs *c,
				 const struct km_job_lot *j,
				 struct km_charge *out)
{
	out->kind = KM_CHARGE_JOB_LOT;
	out->job_lot = j;
	out->seller = j->seller;
	return km_costs_convert3(c, j->currency, j->price, &out->fixed);
}

uint32_t km_costs_seller(const struct km_costs *c, const struct km_seller *s)
{
	return (uint32_t)(s - c->prices->sellers);
}

uint32_t km_costs_job_lot(const struct km_costs *c, const struct km_job_lot *j)
{
	return c->first_job_lot + (uint32_t)(j - c->prices->job_lots);
}

static enum km_status fill(struct km_costs *c, struct km_date today,
			   struct km_charge *v)
{
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < c->first_process; i++) {
		st = seller_charge(c, &c->prices->sellers[i], &v[i]);
		v[i].priced = st == KM_OK;
		if (st == KM_ERANGE)
			return st;
	}
	for (int i = 0; i < KM_PROCESSES; i++) {
		st = step_init(c, i, today, &v[c->first_process + (uint32_t)i]);
		if (st != KM_OK)
			return st;
	}
	for (uint32_t i = c->first_job_lot; i < c->n_charges; i++) {
		st = lot_charge(c, &c->prices->job_lots[i - c->first_job_lot],
				&v[i]);
		v[i].priced = st == KM_OK;
		if (st == KM_ERANGE)
			return st;
	}
	return KM_OK;
}

enum km_status km_costs_init(struct km_arena *mem, const char *currency,
			     const struct km_prices *prices,
			     const struct km_workshop *workshop,
			     const struct km_rubric *rubric,
			     struct km_date today, struct km_costs *out)
{
	struct km_costs c = { .currency = currency, .prices = prices,
			      .workshop = workshop, .rubric = rubric };
	struct km_charge *v;
	enum km_status st;

	c.decimals = decimals_of(currency);
	c.first_process = prices ? prices->n_sellers : 0;
	c.first_job_lot = c.first_process + KM_PROCESSES;
	c.n_charges = c.first_job_lot + (prices ? prices->n_job_lots : 0);
	v = km_arena_alloc(mem, c.n_charges, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	c.charges = v;
	st = fill(&c, today, v);
	if (st == KM_OK)
		*out = c;
	return st;
}
