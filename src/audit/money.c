/* SPDX-License-Identifier: MIT */
#include "audit/money.h"

#include "audit/allocate.h"
#include "audit/tally.h"
#include "base/str.h"
#include "plan/joint_problem.h"

struct purse {
	struct km_arena *mem;
	const struct km_money_input *in;
	struct km_open_place *open;
	uint32_t n;
	struct km_plan_place *places;
	struct km_joint_place *more;
	struct km_plan *plan;
};

/* May money go into a place: not where a person must look, ask or wait
 * first. */
static bool may_spend(const struct km_ways *w)
{
	return w->decide == KM_DECIDE_RESTORE || w->decide == KM_DECIDE_BUY ||
	       w->decide == KM_DECIDE_LEAVE;
}

/* ------------------------------------------------------------------ */
/* Decisions of the files                                              */

static bool names_way(const struct km_decision *d, const struct km_way *w)
{
	const char *id = NULL;

	if (!w->priced)
		return false;
	if (w->match && w->match->offer)
		id = w->match->offer->id;
	else if (w->match)
		id = w->match->tool->id;
	else
		id = "open";
	return km_case_compare(d->way, id) == 0;
}

/* The way a decision names: of a tool or offer with work, the cheapest that
 * reaches the standard. */
static const struct km_way *decided(const struct km_load *l,
				    const struct km_slot *s,
				    const struct km_ways *w)
{
	const struct km_way *best = NULL;

	for (uint32_t i = 0; i < l->n_decisions; i++) {
		const struct km_decision *d = &l->decisions[i];

		if (d->slot != s || !d->way)
			continue;
		for (uint32_t k = 0; k < w->n; k++) {
			const struct km_way *one = &w->v[k];

			if (!names_way(d, one))
				continue;
			if (!best || one->acceptable > best->acceptable ||
			    (one->acceptable == best->acceptable &&
			     km_way_cost(one, 1) < km_way_cost(best, 1)))
				best = one;
		}
	}
	return best;
}

static const struct km_tool *tool_of(const struct km_way *w)
{
	return w->match ? w->match->tool : NULL;
}

static const struct km_offer *offer_of(const struct km_way *w)
{
	return w->match ? w->match->offer : NULL;
}

static const struct km_job_lot *lot_of(const struct km_costs *c,
				       const struct km_way *w)
{
	for (uint32_t i = 0; w->kind == KM_WAY_LOT && i < w->n_charges; i++)
		if (c->charges[w->charges[i]].job_lot)
			return c->charges[w->charges[i]].job_lot;
	return NULL;
}

static bool is_pinned_to_other(const struct purse *p, uint32_t place,
			       const struct km_tool *t)
{
	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_piece *one =
			&p->open[i].slot->pieces[p->open[i].piece];

		if (i != place && one->pinned && one->match &&
		    one->match->tool == t)
			return true;
	}
	return false;
}

/* Is what a decision names still there: not pinned elsewhere, and not decided
 * for an earlier place? */
static bool is_left(const struct purse *p, uint32_t place,
		    const struct km_way *w)
{
	const struct km_offer *o = offer_of(w);
	const struct km_costs *c = p->in->costs;
	uint32_t stock = km_joint_stock(w), used = 0, of_lot = 0;

	if (tool_of(w) && is_pinned_to_other(p, place, tool_of(w)))
		return false;
	for (uint32_t i = 0; i < place; i++) {
		const struct km_way *v = p->more[i].by_hand;

		if (!v || tool_of(v) != tool_of(w) || offer_of(v) != o)
			continue;
		used++;
		of_lot += lot_of(c, w) && lot_of(c, v) == lot_of(c, w);
	}
	return !of_lot && (!stock || used < stock);
}

/* ------------------------------------------------------------------ */
/* The plan                                                            */

static enum km_status set_places(struct purse *p)
{
	const struct km_audit *a = p->in->audit;
	const struct km_route *worn = NULL;
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < p->n && st == KM_OK; i++) {
		const struct km_open_place *o = &p->open[i];
		struct km_plan_place *place = &p->places[i];
		struct km_joint_place *more = &p->more[i];

		place->kit = &a->kits[o->kit];
		place->slot = o->slot;
		place->piece = o->piece;
		place->ways = o->ways.v;
		place->n_ways = o->ways.n;
		more->firm = o->slot->firm && !o->arrives;
		more->spend = may_spend(&o->ways);
		more->by_hand = decided(a->load, o->slot->slot, &o->ways);
		if (more->by_hand && !is_left(p, i, more->by_hand))
			more->by_hand = NULL;
		more->spend |= more->by_hand != NULL;
		if (!a->options.want_ceilings || !more->spend)
			continue;
		if (!i || p->open[i - 1].slot != o->slot)
			st = km_worn_route(p->mem, p->in, o->kit,
					   o->slot->slot, &worn);
		more->work = worn;
	}
	return st;
}

static enum km_status plan(struct purse *p)
{
	const struct km_audit *a = p->in->audit;
	struct km_joint_ask ask = {
		.costs = p->in->costs, .limits = &a->load->limits,
		.aim = a->options.aim, .budget = a->options.budget,
		.points_limit = a->options.points_limit,
		.three_highest = a->load->prices &&
				 a->load->prices->only_three_highest,
		.frontier = a->options.want_frontier,
		.ceilings = a->options.want_ceilings,
		.margins = a->options.want_margins,
		.problem = a->options.want_problem,
	};

	return km_joint_plan(p->mem, &ask, p->places, p->more, p->n, p->plan);
}

/* ------------------------------------------------------------------ */
/* What it comes to                                                    */

static bool is_bought(const struct km_way *w)
{
	return w->match && w->match->offer;
}

static enum km_decide decision(const struct km_open_place *o,
			       const struct km_plan_place *p, bool spend)
{
	if (!spend)
		return o->ways.decide;
	if (is_bought(p->chosen))
		return KM_DECIDE_BUY;
	if (p->chosen->kind == KM_WAY_WORK)
		return KM_DECIDE_RESTORE;
	if (p->chosen->kind == KM_WAY_OWNED && p->chosen->acceptable)
		return KM_DECIDE_KEEP;
	return KM_DECIDE_LEAVE;
}

/* A slot shows what its first open place comes to; an empty one before a
 * worn one. */
static void show(const struct km_open_place *o, const struct km_plan_place *p,
		 enum km_decide d)
{
	struct km_slot_audit *s = o->slot;

	s->ways = o->ways.v;
	s->n_ways = o->ways.n;
	s->restore = o->ways.restore;
	s->buy = is_bought(p->chosen) ? p->chosen : o->ways.buy;
	if (p->chosen->kind == KM_WAY_WORK)
		s->restore = p->chosen;
	s->rejected_buy = o->ways.rejected_buy;
	s->decide = d;
	s->margin = p->margin;
	s->close_call = p->close_call;
}

static void clear_slots(struct km_audit *a)
{
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++) {
			a->kits[k].slots[i].decide = KM_DECIDE_KEEP;
			a->kits[k].slots[i].margin = -1;
		}
}

static void decide_slots(struct purse *p)
{
	clear_slots(p->in->audit);
	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_open_place *o = &p->open[i];
		struct km_kit_audit *kit = &p->in->audit->kits[o->kit];
		bool empty = !o->slot->pieces[o->piece].match;
		enum km_decide d = decision(o, &p->places[i], p->more[i].spend);

		o->slot->to_buy += d == KM_DECIDE_BUY;
		kit->n_buy += d == KM_DECIDE_BUY;
		kit->n_restore += d == KM_DECIDE_RESTORE;
		kit->n_unpriced += d == KM_DECIDE_LEAVE && p->more[i].firm;
		if (!o->slot->n_ways ||
		    (empty && o->slot->decide != KM_DECIDE_BUY))
			show(o, &p->places[i], d);
	}
}

static bool add_to(struct km_money3 *sum, struct km_money3 m)
{
	return km_money3_add(*sum, m, sum);
}

/* The first kit that a bill serves pays it. */
static struct km_kit_audit *payer(const struct purse *p,
				  const struct km_plan_bill *b)
{
	const struct km_costs *c = p->in->costs;

	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_way *w = p->places[i].chosen;

		for (uint32_t k = 0; k < w->n_charges; k++) {
			const struct km_charge *x = &c->charges[w->charges[k]];
			bool parcel = x->kind == KM_CHARGE_PARCEL;

			if (b->kind == KM_BILL_PARCEL
				    ? parcel && x->seller == b->seller
				    : !parcel && x->process == b->process &&
					      x->job_lot == b->job_lot)
				return &p->in->audit->kits[p->open[i].kit];
		}
	}
	return &p->in->audit->kits[0];
}

static enum km_status total_kits(struct purse *p)
{
	struct km_audit *a = p->in->audit;

	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_way *w = p->places[i].chosen;
		struct km_kit_audit *k = &a->kits[p->open[i].kit];
		const struct km_route *r = w->route;

		if (is_bought(w) && w->kind != KM_WAY_LOT &&
		    !add_to(&k->buy_total, w->price))
			return KM_ERANGE;
		for (uint32_t s = 0; r && s < r->n_steps; s++) {
			const struct km_step *step =
				&p->in->costs->step[r->steps[s]->id];

			if (!step->shared &&
			    !add_to(&k->restore_total, step->one))
				return KM_ERANGE;
		}
		for (int c = 0; r && c < 3; c++)
			k->own_min[c] += r->hands_min[c];
		k->n_work += r != NULL;
		if (!add_to(&k->own_total, w->own))
			return KM_ERANGE;
	}
	for (uint32_t i = 0; i < p->plan->n_bills; i++) {
		const struct km_plan_bill *b = &p->plan->bills[i];
		struct km_kit_audit *k = payer(p, b);

		if (!add_to(b->kind == KM_BILL_PARCEL ? &k->postage_total
			    : b->kind == KM_BILL_JOB_LOT ? &k->buy_total
							 : &k->restore_total,
			    b->cost) ||
		    !add_to(&k->top_up_total, b->top_up))
			return KM_ERANGE;
	}
	for (uint32_t i = 0; i < a->n_kits; i++) {
		struct km_kit_audit *k = &a->kits[i];

		if (!add_to(&k->total, k->restore_total) ||
		    !add_to(&k->total, k->buy_total) ||
		    !add_to(&k->total, k->postage_total))
			return KM_ERANGE;
	}
	return KM_OK;
}

enum km_status km_money_plan(struct km_arena *mem,
			     const struct km_money_input *in)
{
	struct purse p = { .mem = mem, .in = in };
	enum km_status st = km_places_find(mem, in, &p.open, &p.n);

	if (st != KM_OK)
		return st;
	p.places = km_arena_alloc(mem, p.n, sizeof *p.places);
	p.more = km_arena_alloc(mem, p.n, sizeof *p.more);
	p.plan = km_arena_alloc(mem, 1, sizeof *p.plan);
	if (!p.places || !p.more || !p.plan)
		return KM_ENOMEM;
	st = set_places(&p);
	if (st == KM_OK)
		st = plan(&p);
	if (st != KM_OK)
		return st;
	in->audit->plan = p.plan;
	decide_slots(&p);
	return total_kits(&p);
}
