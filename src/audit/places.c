/* SPDX-License-Identifier: MIT */
#include "audit/given.h"
#include "audit/money.h"
#include "audit/pouch.h"
#include "audit/rubric.h"
#include "audit/tally.h"
#include "plan/route.h"

#define OWNED_MOST 8		/* tools weighed for one place */

struct finder {
	struct km_arena *mem;
	const struct km_money_input *in;
	struct km_given settled;
	struct km_open_place *v;
	uint32_t n;
};

/* What sits there first, then those that are not settled elsewhere. */
static enum km_status list_owned(const struct finder *f,
				 const struct km_piece *piece,
				 struct km_candidates *c,
				 const struct km_match *owned[OWNED_MOST],
				 uint32_t *count)
{
	uint32_t n = 0;

	if (piece->match && !piece->expected)
		owned[n++] = piece->match;
	for (uint32_t k = 0; k < c->n && n < OWNED_MOST; k++) {
		const struct km_tool *tool = c->v[k].tool;

		if (piece->pinned && n)
			break;
		if ((piece->match && piece->match->tool == tool) ||
		    km_given_find(&f->settled, tool))
			continue;
		owned[n] = km_candidates_match(f->mem, c, k);
		if (!owned[n++])
			return KM_ENOMEM;
	}
	*count = n;
	return KM_OK;
}

/* A choice by hand leaves only ways with its tool. */
static enum km_status keep_pinned(struct finder *f, const struct km_match *pin,
				  struct km_ways *w)
{
	struct km_way *v = km_arena_alloc(f->mem, w->n, sizeof *v);
	uint32_t n = 0;

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < w->n; i++)
		if (w->v[i].match == pin)
			v[n++] = w->v[i];
	w->v = v;
	w->n = n;
	w->restore = w->buy = w->rejected_buy = NULL;
	for (uint32_t i = n; i-- > 0;)
		if (v[i].kind == KM_WAY_WORK && v[i].acceptable)
			w->restore = &v[i];
	if (w->decide == KM_DECIDE_BUY)
		w->decide = w->restore ? KM_DECIDE_RESTORE : KM_DECIDE_LEAVE;
	return KM_OK;
}

/* Is a thing too large for its place, where it must fit? */
static bool is_too_large(const struct km_audit *a, const struct km_slot *slot,
			 const struct km_match *m)
{
	struct km_way_fit fit = { .too_large = false };

	if (a->options.must_fit && m)
		km_pouch_alone(slot, m, &fit);
	return fit.too_large;
}

/* What is on order for a piece and goes in there; NULL: nothing. */
static const struct km_match *coming(const struct km_audit *a,
				     const struct km_slot *slot,
				     const struct km_piece *p)
{
	const struct km_match *m = p->coming ? p->coming
				   : p->expected ? p->match : NULL;

	return is_too_large(a, slot, m) ? NULL : m;
}

static enum km_status find_ways(struct finder *f, uint32_t kit,
				const struct km_slot_audit *s,
				struct km_candidates *c, uint32_t piece,
				struct km_ways *out)
{
	const struct km_piece *p = &s->pieces[piece];
	const struct km_match *owned[OWNED_MOST];
	const struct km_match *comes = coming(f->in->audit, s->slot, p);
	struct km_ways_ask a = {
		.slot = s->slot,
		.rules = &f->in->variants->parties[kit].rules,
		.costs = f->in->costs, .owned = owned,
		.in_doubt = s->depends, .wait = km_piece_waits(p),
		.comes = comes, .no_points = !km_rubric_judges(s),
		.fit = f->in->audit->options.must_fit ? km_pouch_alone : NULL,
	};
	enum km_status st = list_owned(f, p, c, owned, &a.n_owned);

	if (st == KM_OK)
		st = km_ways_find(f->mem, f->in->scratch, &a, out);
	if (st == KM_OK && p->pinned && p->match)
		st = keep_pinned(f, p->match, out);
	return st;
}

/* A tool that is too large where it sits may go elsewhere. */
static void free_large(const struct km_money_input *in, struct km_given *g)
{
	for (size_t i = 0; i < in->seating->n; i++) {
		const struct km_seat *s = &in->seating->seats[i];

		for (int32_t k = 0; k < s->slot->count; k++) {
			const struct km_piece *p = &s->pieces[k];
			size_t n = 0;

			if (p->pinned || km_piece_waits(p) ||
			    !is_too_large(in->audit, s->slot, p->match))
				continue;
			for (size_t j = 0; j < g->n; j++)
				if (g->v[j].tool != p->match->tool)
					g->v[n++] = g->v[j];
			g->n = n;
		}
	}
}

static bool arrives(const struct km_audit *a, const struct km_slot *slot,
		    const struct km_piece *p)
{
	const struct km_match *m = coming(a, slot, p);

	return m && m->verdict == KM_RIGHT;
}

static enum km_status open_slot(struct finder *f, uint32_t kit,
				struct km_slot_audit *s,
				struct km_candidates *c)
{
	const struct km_open_place *empty = NULL;
	enum km_status st = KM_OK;

	if (s->slot->unused)
		return KM_OK;
	for (int32_t i = 0; i < s->slot->count && st == KM_OK; i++) {
		struct km_open_place *p = &f->v[f->n];

		if (s->pieces[i].match && !km_piece_waits(&s->pieces[i]) &&
		    s->pieces[i].match->verdict == KM_RIGHT &&
		    !is_too_large(f->in->audit, s->slot,
				  s->pieces[i].match))
			continue;
		p->slot = s;
		p->kit = kit;
		p->piece = (uint32_t)i;
		p->arrives = arrives(f->in->audit, s->slot, &s->pieces[i]);
		if (!s->pieces[i].match && empty) {
			p->ways = empty->ways;
		} else {
			st = find_ways(f, kit, s, c, (uint32_t)i, &p->ways);
			if (!s->pieces[i].match)
				empty = p;
		}
		f->n++;
	}
	return st;
}

enum km_status km_places_find(struct km_arena *mem,
			      const struct km_money_input *in,
			      struct km_open_place **out, uint32_t *n)
{
	const struct km_audit *a = in->audit;
	struct finder f = { .mem = mem, .in = in };
	size_t room = 0, at = 0;
	enum km_status st = km_given_list(mem, in->seating->seats,
					  in->seating->n, true, &f.settled);

	if (st != KM_OK)
		return st;
	if (a->options.must_fit)
		free_large(in, &f.settled);
	for (size_t i = 0; i < in->seating->n; i++)
		room += (size_t)in->seating->seats[i].slot->count;
	f.v = km_arena_alloc(mem, room, sizeof *f.v);
	if (!f.v)
		return KM_ENOMEM;
	for (uint32_t k = 0; k < a->n_kits && st == KM_OK; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots && st == KM_OK;
		     i++)
			st = open_slot(&f, k, &a->kits[k].slots[i],
				       &in->seating->of[at++]);
	*out = f.v;
	*n = f.n;
	return st;
}

/* The usual wear of a thing found at a stall [choice]: many rust specks, no
 * pits, half of its coat. */
static const struct km_condition usual_wear = {
	.rust = 3, .rust_share = -1, .pits = KM_PITS_NONE, .pit_nm = -1,
	.mark_depth_nm = -1, .plate_left = 5000, .paint_left = 5000,
	.damage_none = true, .handle = KM_HANDLE_UNRECORDED,
	.marking = KM_MARKING_LEGIBLE, .ground = -1, .lead_paint = 0,
};

enum km_status km_worn_route(struct km_arena *mem,
			     const struct km_money_input *in, uint32_t kit,
			     const struct km_slot *slot,
			     const struct km_route **out)
{
	const struct km_rules *rules = &in->variants->parties[kit].rules;
	struct km_offer *o = km_arena_alloc(mem, 1, sizeof *o);
	static const struct km_route none = { .reaches = true };
	const struct km_route *routes;
	struct km_match *m;
	uint32_t n = 0;
	enum km_status st;

	*out = NULL;
	if (!o)
		return KM_ENOMEM;
	o->id = "";
	o->fits = slot->id;
	o->state = KM_OFFER_USED;
	o->condition = &usual_wear;
	o->stock = o->chance = -1;
	st = km_offer_match(mem, rules, slot, o, &m);
	if (st == KM_OK && m && m->verdict == KM_RIGHT)
		*out = &none;		/* it will do as it is found */
	else if (st == KM_OK && m)
		st = km_route_find(mem, in->scratch, m, rules, in->costs, NULL,
				   &routes, &n);
	if (st == KM_OK && n && routes[0].reaches)
		*out = &routes[0];
	return st;
}
