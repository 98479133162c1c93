/* SPDX-License-Identifier: MIT */
#include "audit/money.h"

#include "audit/tally.h"
#include "base/num.h"
#include "plan/route.h"
#include "plan/ways.h"

#define OWNED_MOST 6		/* tools weighed for one place */

struct purse {
	struct km_arena *mem;
	const struct km_money_input *in;
	struct km_kit_audit *kit;
	const struct km_rules *rules;
	int64_t *work;		/* pieces of each charge of work, this kit */
};

static bool needs_filling(const struct km_piece *p)
{
	return !p->match;
}

static bool waits(const struct km_piece *p)
{
	return p->expected ||
	       (p->match && p->match->tool &&
		(p->match->tool->status == KM_LENT ||
		 p->match->tool->status == KM_AT_PLATER));
}

/* Ask for the ways of one place: what sits there first, then free tools. */
static enum km_status ask(struct purse *p, const struct km_slot_audit *s,
			  const struct km_candidates *c,
			  const struct km_piece *piece, struct km_ways *out)
{
	const struct km_match *owned[OWNED_MOST];
	struct km_ways_ask a = {
		.slot = s->slot, .rules = p->rules, .costs = p->in->costs,
		.owned = owned, .wait = waits(piece),
	};

	if (piece->match && !piece->expected)
		owned[a.n_owned++] = piece->match;
	for (uint32_t k = 0; k < c->n && a.n_owned < OWNED_MOST; k++)
		if ((!piece->match || c->v[k] != piece->match) &&
		    !km_given_find(p->in->given, c->v[k]->tool))
			owned[a.n_owned++] = c->v[k];
	return km_ways_find(p->mem, p->in->scratch, &a, out);
}

static bool add_to(struct km_money3 *sum, struct km_money3 m)
{
	return km_money3_add(*sum, m, sum);
}

/* Take one decision into the kit's figures. */
static enum km_status count_in(struct purse *p, struct km_slot_audit *s,
			       const struct km_ways *w)
{
	const struct km_route *r;

	if (w->decide == KM_DECIDE_LEAVE) {
		p->kit->n_unpriced++;
		return KM_OK;
	}
	if (w->decide == KM_DECIDE_BUY) {
		s->to_buy++;
		p->kit->n_buy++;
		r = w->buy->route;
		if (!add_to(&p->kit->buy_total, w->buy->price))
			return KM_ERANGE;
	} else if (w->decide == KM_DECIDE_RESTORE) {
		p->kit->n_restore++;
		r = w->restore->route;
	} else {
		return KM_OK;
	}
	for (uint32_t i = 0; r && i < r->n_steps; i++)
		p->work[p->in->costs->step[r->steps[i]->id].charge]++;
	for (int i = 0; r && i < 3; i++)
		p->kit->own_min[i] += r->hands_min[i];
	return KM_OK;
}

static void keep(struct km_slot_audit *s, const struct km_ways *w)
{
	s->ways = w->v;
	s->n_ways = w->n;
	s->restore = w->restore;
	s->buy = w->buy;
	s->rejected_buy = w->rejected_buy;
	s->decide = w->decide;
	s->margin = w->margin;
	s->close_call = w->close_call;
}

static bool is_worst(const struct km_slot_audit *s, const struct km_piece *p)
{
	return p->match == s->worst;
}

/*
 * Decide a slot: every piece that is not right, the same answer for every
 * empty one.  The slot shows what an empty place comes to, else its worst.
 */
static enum km_status decide_slot(struct purse *p, struct km_slot_audit *s,
				  const struct km_candidates *c)
{
	bool asked_empty = false, shown = false;
	struct km_ways empty = { 0 };
	enum km_status st = KM_OK;

	s->margin = -1;
	s->decide = KM_DECIDE_KEEP;
	if (km_slot_class(s->slot) == KM_SLOT_UNUSED)
		return KM_OK;
	for (int32_t i = 0; i < s->slot->count && st == KM_OK; i++) {
		const struct km_piece *piece = &s->pieces[i];
		struct km_ways w;

		if (piece->match && !waits(piece) &&
		    piece->match->verdict == KM_RIGHT)
			continue;
		if (needs_filling(piece) && asked_empty) {
			st = count_in(p, s, &empty);
			continue;
		}
		st = ask(p, s, c, piece, &w);
		if (st != KM_OK)
			break;
		if (needs_filling(piece)) {
			asked_empty = true;
			empty = w;
			keep(s, &w);
			shown = true;
		} else if (!shown && (is_worst(s, piece) || piece->expected)) {
			keep(s, &w);
		}
		st = count_in(p, s, &w);
	}
	return st;
}

/* Work of the kit, its lots and loads paid once. */
static enum km_status total_work(struct purse *p)
{
	const struct km_costs *costs = p->in->costs;

	for (uint32_t i = 0; i < costs->n_charges; i++) {
		struct km_money3 m;
		enum km_status st;

		if (!p->work[i])
			continue;
		st = km_charge_pieces(&costs->charges[i], p->work[i], &m);
		if (st != KM_OK)
			return st;
		if (!add_to(&p->kit->restore_total, m))
			return KM_ERANGE;
		p->work[i] = 0;
	}
	return KM_OK;
}

enum km_status km_money_decide(struct km_arena *mem,
			       const struct km_money_input *in)
{
	struct purse p = { .mem = mem, .in = in };
	size_t at = 0;
	enum km_status st = KM_OK;

	p.work = km_arena_alloc(mem, in->costs->n_charges, sizeof *p.work);
	if (!p.work)
		return KM_ENOMEM;
	for (uint32_t k = 0; k < in->audit->n_kits && st == KM_OK; k++) {
		p.kit = &in->audit->kits[k];
		p.rules = &in->variants->parties[k].rules;
		for (uint32_t i = 0; i < p.kit->kit->n_slots && st == KM_OK; i++)
			st = decide_slot(&p, &p.kit->slots[i],
					 &in->seating->of[at++]);
		if (st == KM_OK)
			st = total_work(&p);
	}
	return st;
}
