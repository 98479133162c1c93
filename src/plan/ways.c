/* SPDX-License-Identifier: MIT */
#include "plan/ways.h"

#include <string.h>

#include "base/num.h"
#include "plan/route.h"

struct finder {
	struct km_arena *mem, *scratch;
	const struct km_ways_ask *ask;
	struct km_way *v;
	uint32_t n, room;
	bool reached;		/* a route of the match in hand does */
};

int64_t km_way_cost(const struct km_way *w, int column)
{
	const int64_t alone[3] = { w->alone.low, w->alone.likely,
				   w->alone.high };
	const int64_t own[3] = { w->own.low, w->own.likely, w->own.high };

	return alone[column] + own[column];
}

/* ------------------------------------------------------------------ */
/* What a match comes to                                               */

/* Does work touch the aspect at all? */
static bool is_worked(enum km_aspect a)
{
	return a == KM_ASP_FINISH || a == KM_ASP_HANDLE_COLOUR ||
	       a == KM_ASP_HANDLE_MATERIAL || a == KM_ASP_RUST ||
	       a == KM_ASP_PITS || a == KM_ASP_PLATE || a == KM_ASP_DAMAGE;
}

bool km_match_is_workable(const struct km_match *m)
{
	bool wants = false;

	for (int i = 0; i < KM_ASPECTS; i++) {
		enum km_letter l = m->on[i].letter;

		if (l <= KM_NOTED)
			continue;
		if (l == KM_NOT_KNOWN || !is_worked((enum km_aspect)i))
			return false;
		wants = true;
	}
	return wants;
}

void km_match_faults(const struct km_match *m, bool worked, bool *wrong,
		     bool *worn)
{
	*wrong = *worn = false;
	for (int i = 0; i < KM_ASPECTS; i++) {
		enum km_letter l = m->on[i].letter;
		bool surface = i >= KM_ASP_RUST && i <= KM_ASP_DAMAGE;

		if (worked && is_worked((enum km_aspect)i))
			continue;
		*wrong |= l == KM_FAILS && !surface;
		*worn |= surface && (l == KM_CURABLE || l == KM_FAILS);
	}
}

int32_t km_points_missing(const struct km_rubric *r, const struct km_slot *s)
{
	if (s->points >= 0)
		return s->points;
	return r && r->missing > 0 ? r->missing : 0;
}

#define POINT 100	/* of a place short of the standard, no rubric */

/* A wrong thing, and one below its condition. */
static int32_t points_of_faults(const struct km_rubric *r,
				const struct km_match *m, bool worked)
{
	bool wrong, worn;

	km_match_faults(m, worked, &wrong, &worn);
	return (wrong && r->incorrect > 0 ? r->incorrect : 0) +
	       (worn && r->condition > 0 ? r->condition : 0);
}

/* What the place loses when a way is chosen, hundredths of a point. */
static int32_t points_of(const struct km_ways_ask *ask, const struct km_way *w)
{
	const struct km_rubric *r = ask->costs->rubric;
	const struct km_match *comes = ask->comes;
	int32_t missing = km_points_missing(r, ask->slot), lost;

	if (ask->no_points)
		return 0;
	if (!r)
		return (comes ? comes->verdict == KM_RIGHT : w->acceptable)
			       ? 0 : POINT;
	if (comes)
		return points_of_faults(r, comes, false);
	if (!w->match)
		return missing;
	lost = points_of_faults(r, w->match, w->route != NULL);
	return w->fit.too_large && lost < missing ? missing : lost;
}

/* ------------------------------------------------------------------ */
/* One way                                                             */

static enum km_status keep(struct finder *f, const struct km_way *w)
{
	if (f->n == f->room) {
		uint32_t room = f->room ? f->room * 2 : 8;
		struct km_way *v = km_arena_raw(f->mem, room, sizeof *v);

		if (!v)
			return KM_ENOMEM;
		if (f->n)
			memcpy(v, f->v, f->n * sizeof *v);
		f->v = v;
		f->room = room;
	}
	f->v[f->n++] = *w;
	return KM_OK;
}

enum km_status km_own_time(const struct km_costs *c, const struct km_route *r,
			   struct km_money3 *out)
{
	const struct km_workshop *w = c->workshop;
	struct km_money3 m;
	int64_t hour;
	enum km_status st;

	*out = (struct km_money3){ 0, 0, 0 };
	if (!r || !w || w->own_time.minor <= 0)
		return KM_OK;
	st = km_costs_convert(c, w->currency, w->own_time.minor, &hour);
	if (st != KM_OK)
		return st;
	if (!km_mul_div(hour, r->hands_min[0], 60, &m.low) ||
	    !km_mul_div(hour, r->hands_min[1], 60, &m.likely) ||
	    !km_mul_div(hour, r->hands_min[2], 60, &m.high))
		return KM_ERANGE;
	*out = m;
	return KM_OK;
}

/* The charges of a way: its parcel, its job lot, the shared part of each step;
 * what they come to when it is the only one. */
static enum km_status charge(struct finder *f, struct km_way *w,
			     const struct km_seller *seller,
			     const struct km_job_lot *lot)
{
	const struct km_costs *c = f->ask->costs;
	struct km_money3 goods = w->price, postage = { 0, 0, 0 };
	uint32_t room = 2 + (w->route ? w->route->n_steps : 0), n = 0;
	uint32_t *ids = km_arena_alloc(f->mem, room, sizeof *ids);
	enum km_status st = KM_OK;

	if (!ids)
		return KM_ENOMEM;
	if (lot) {
		ids[n++] = km_costs_job_lot(c, lot);
		w->priced &= c->charges[ids[n - 1]].priced;
		goods = c->charges[ids[n - 1]].fixed;
	}
	if (seller) {
		ids[n++] = km_costs_seller(c, seller);
		w->priced &= c->charges[ids[n - 1]].priced;
		st = km_charge_parcel(&c->charges[ids[n - 1]], goods,
				      &postage);
	}
	for (uint32_t i = 0; w->route && i < w->route->n_steps; i++) {
		const struct km_step *s =
			&c->step[w->route->steps[i]->id];

		if (s->shared)
			ids[n++] = s->charge;
	}
	w->charges = ids;
	w->n_charges = n;
	if (st == KM_OK && !km_money3_add(goods, postage, &w->alone))
		st = KM_ERANGE;
	if (st == KM_OK && w->route &&
	    !km_money3_add(w->alone, w->route->cost, &w->alone))
		st = KM_ERANGE;
	if (st == KM_OK)
		st = km_own_time(c, w->route, &w->own);
	if (st == KM_OK && !km_money3_add(w->alone, w->own, &goods))
		st = KM_ERANGE;		/* km_way_cost() adds them unchecked */
	return st;
}

static enum km_status add(struct finder *f, struct km_way w,
			  const struct km_seller *seller,
			  const struct km_job_lot *lot)
{
	const struct km_slot *slot = f->ask->slot;
	enum km_status st;

	st = charge(f, &w, seller, lot);
	if (st == KM_EINPUT) {		/* no rate: a way without a figure */
		w.priced = false;
		st = KM_OK;
	}
	if (st != KM_OK)
		return st;
	w.over_limit = w.match && w.match->offer && w.priced && !lot &&
		       slot->most.minor >= 0 &&
		       w.price.likely > slot->most.minor;
	if (f->ask->fit && w.match)
		f->ask->fit(slot, w.match, &w.fit);
	w.acceptable = w.acceptable && !w.over_limit && !w.fit.too_large;
	w.points = points_of(f->ask, &w);
	return keep(f, &w);
}

/* As it lies, and after each route that reaches the standard. */
static enum km_status add_match(struct finder *f, struct km_way base,
				const struct km_seller *seller,
				const struct km_job_lot *lot)
{
	const struct km_ways_ask *ask = f->ask;
	const struct km_route *routes = NULL;
	enum km_way_kind worked = base.kind == KM_WAY_OWNED ? KM_WAY_WORK :
		base.kind == KM_WAY_OFFER ? KM_WAY_OFFER_WORK : base.kind;
	uint32_t n = 0;
	enum km_status st;

	base.acceptable = base.match->verdict == KM_RIGHT;
	st = add(f, base, seller, lot);
	if (st != KM_OK || !km_match_is_workable(base.match))
		return st;
	st = km_route_find(f->mem, f->scratch, base.match, ask->rules,
			   ask->costs, ask->choices, &routes, &n);
	for (uint32_t i = 0; i < n && st == KM_OK; i++) {
		struct km_way w = base;

		if (!routes[i].reaches)
			continue;
		f->reached = true;
		w.kind = worked;
		w.route = &routes[i];
		w.acceptable = true;
		st = add(f, w, seller, lot);
	}
	return st;
}

/* ------------------------------------------------------------------ */
/* Offers and job lots                                                 */

static bool holds(const struct km_job_lot *lot, const struct km_offer *o)
{
	for (uint32_t i = 0; i < lot->n_holds; i++)
		if (lot->holds[i] == o)
			return true;
	return false;
}

static enum km_status add_lots(struct finder *f, const struct km_match *m)
{
	const struct km_prices *p = f->ask->costs->prices;
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < p->n_job_lots && st == KM_OK; i++) {
		const struct km_job_lot *lot = &p->job_lots[i];
		struct km_way w = { .kind = KM_WAY_LOT, .match = m,
				    .priced = true };

		if (holds(lot, m->offer))
			st = add_match(f, w, lot->seller ? lot->seller :
				       m->offer->seller, lot);
	}
	return st;
}

static enum km_status add_offer(struct finder *f, const struct km_match *m)
{
	const struct km_offer *o = m->offer;
	struct km_way w = { .kind = KM_WAY_OFFER, .match = m };
	enum km_status st = KM_OK;

	if (o->price.low >= 0 && o->stock != 0) {
		st = km_costs_convert3(f->ask->costs, o->currency, o->price,
				       &w.price);
		w.priced = st == KM_OK;
		if (st == KM_EINPUT)
			st = KM_OK;
		if (st == KM_OK)
			st = add_match(f, w, o->seller, NULL);
	}
	return st == KM_OK ? add_lots(f, m) : st;
}

static enum km_status add_offers(struct finder *f)
{
	const struct km_prices *p = f->ask->costs->prices;
	enum km_status st = KM_OK;

	for (uint32_t i = 0; p && i < p->n_offers && st == KM_OK; i++) {
		struct km_match *m;

		st = km_offer_match(f->mem, f->ask->rules, f->ask->slot,
				    &p->offers[i], &m);
		if (st != KM_OK || !m)
			continue;
		f->reached = false;
		st = add_offer(f, m);
		if (!f->reached && km_match_wants_work(m))
			km_match_settle(m, false);
	}
	return st;
}

/* ------------------------------------------------------------------ */
/* The decision                                                        */

static bool is_bought(const struct km_way *w)
{
	return w->kind == KM_WAY_OFFER || w->kind == KM_WAY_OFFER_WORK ||
	       w->kind == KM_WAY_LOT;
}

static bool cheaper(const struct km_way *a, const struct km_way *b)
{
	return !b || km_way_cost(a, 1) < km_way_cost(b, 1);
}

static void choose(struct km_ways *out)
{
	for (uint32_t i = 0; i < out->n; i++) {
		const struct km_way *w = &out->v[i];

		if (!w->priced || !w->acceptable)
			continue;
		if (w->kind == KM_WAY_WORK && cheaper(w, out->restore))
			out->restore = w;
		else if (is_bought(w) && cheaper(w, out->buy))
			out->buy = w;
	}
	for (uint32_t i = 0; i < out->n; i++) {
		const struct km_way *w = &out->v[i];

		if (w->priced && !w->acceptable && is_bought(w) &&
		    cheaper(w, out->buy) && cheaper(w, out->rejected_buy))
			out->rejected_buy = w;
	}
}

static bool restores(const struct km_ways *w, int column)
{
	return km_way_cost(w->restore, column) <= km_way_cost(w->buy, column);
}

static void weigh(struct km_ways *out)
{
	int64_t margin;

	if (!out->restore || !out->buy) {
		out->decide = out->restore ? KM_DECIDE_RESTORE :
			      out->buy ? KM_DECIDE_BUY : KM_DECIDE_LEAVE;
		return;
	}
	out->decide = restores(out, 1) ? KM_DECIDE_RESTORE : KM_DECIDE_BUY;
	margin = km_way_cost(out->buy, 1) - km_way_cost(out->restore, 1);
	out->margin = margin < 0 ? -margin : margin;
	out->close_call = restores(out, 0) != restores(out, 1) ||
			  restores(out, 2) != restores(out, 1);
}

/* Does what stands against the tool rest on weak evidence alone?  The
 * headline is weak only when all that fails is. */
static bool is_weak(const struct km_ways_ask *ask)
{
	const struct km_match *m = ask->n_owned ? ask->owned[0] : NULL;

	if (ask->in_doubt || ask->slot->exists > KM_PROBABLE)
		return true;
	return m && m->headline < KM_ASPECTS && m->on[m->headline].weak;
}

static void decide(const struct km_ways_ask *ask, struct km_ways *out)
{
	const struct km_match *m = ask->n_owned ? ask->owned[0] : NULL;

	weigh(out);
	if (ask->wait)
		out->decide = KM_DECIDE_WAIT;
	else if (m && m->verdict == KM_RIGHT && !out->v[0].fit.too_large)
		out->decide = KM_DECIDE_KEEP;
	else if (is_weak(ask))
		out->decide = KM_DECIDE_QUESTION;
	else if (m && m->verdict == KM_UNVERIFIED)
		out->decide = KM_DECIDE_READ;
}

enum km_status km_ways_find(struct km_arena *mem, struct km_arena *scratch,
			    const struct km_ways_ask *ask, struct km_ways *out)
{
	struct finder f = { .mem = mem, .scratch = scratch, .ask = ask };
	struct km_way open = { .kind = KM_WAY_OPEN, .priced = true };
	struct km_ways ways = { .margin = -1 };
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < ask->n_owned && st == KM_OK; i++) {
		struct km_way w = { .kind = KM_WAY_OWNED,
				    .match = ask->owned[i], .priced = true };

		st = add_match(&f, w, NULL, NULL);
	}
	if (st == KM_OK)
		st = add_offers(&f);
	if (st == KM_OK)
		st = add(&f, open, NULL, NULL);
	if (st != KM_OK)
		return st;
	ways.v = f.v;
	ways.n = f.n;
	choose(&ways);
	decide(ask, &ways);
	*out = ways;
	return KM_OK;
}
