/* SPDX-License-Identifier: MIT */
#include "audit/seats.h"

#include <stdlib.h>

#include "base/str.h"
#include "unit/length.h"

/* Candidates kept beyond those the allocation can need: for a companion that
 * does not pass and is seated again. */
#define SPARE 4

bool km_may_use(const struct km_party *p, const struct km_tool *t)
{
	if (!t->owner || km_case_compare(t->owner, "own") == 0)
		return true;
	return p->machine && p->machine->owner &&
	       km_fold_compare(km_slice_of(t->owner),
			       km_slice_of(p->machine->owner)) == 0;
}

static enum km_use use_held(const struct km_party *p, const struct km_tool *t,
			    void *ctx)
{
	(void)ctx;
	if (t->status == KM_ORDERED)
		return KM_USE_IGNORE;
	return km_may_use(p, t) ? KM_USE : KM_USE_NOT_OURS;
}

static enum km_use use_ordered(const struct km_party *p,
			       const struct km_tool *t, void *ctx)
{
	(void)ctx;
	return t->status == KM_ORDERED && km_may_use(p, t) ? KM_USE
							   : KM_USE_IGNORE;
}

struct table {			/* the work at hand */
	struct km_arena *mem;
	const struct km_load *load;
	const struct km_variants *v;
	const struct km_cure *cure;
	struct km_seating *out;
	struct km_pinned *pins, *orders;
	size_t n_pins, n_orders;
	const struct km_decision **decided;	/* tools, by their ids */
	size_t n_decided;
};

static void compare_tool(const struct km_party *p, const struct km_slot *s,
			 const struct km_tool *tool, struct km_match *m)
{
	struct km_thing thing = {
		.traits = &tool->traits, .condition = tool->condition,
		.at_plater = tool->status == KM_AT_PLATER, .tool = tool,
		.came_with = km_came_with(p, tool),
	};

	km_compare(&p->rules, s, &thing, m);
}

/* One pair that a person chose; the match holds whatever the comparison
 * says, also of a tool that is no candidate. */
static enum km_status add_pair(struct table *t, struct km_pinned *list,
			       size_t *n, const struct km_slot *s,
			       const struct km_tool *tool, uint32_t party)
{
	const struct km_party *p = &t->v->parties[party];
	struct km_match *m = km_arena_alloc(t->mem, 1, sizeof *m);

	if (!m)
		return KM_ENOMEM;
	compare_tool(p, s, tool, m);
	if (m->verdict == KM_AFTER_WORK) {
		int yes = t->cure->reaches(t->cure->ctx, p, m);

		if (yes < 0)
			return KM_ENOMEM;
		km_match_settle(m, yes);
	}
	list[(*n)++] = (struct km_pinned){ s, party, tool, m };
	return KM_OK;
}

/* How near a tool is to a party: who may use it comes first. */
static int nearness(const struct km_party *p, const struct km_tool *tool)
{
	return 2 * km_may_use(p, tool) + km_came_with(p, tool);
}

/*
 * A choice by hand names a slot of a kit, not which of the machines that have
 * the kit: it holds for those that may use the tool, of them for the one that
 * it came with.  A pin stays, even if nobody may use the tool; an order of
 * somebody else's fills nothing.
 */
static enum km_status add_pin(struct table *t, struct km_pinned *list,
			      size_t *n, const struct km_slot *s,
			      const struct km_tool *tool)
{
	int nearest = tool->status == KM_ORDERED ? 2 : 0;
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < t->v->n_parties; i++)
		if (t->v->parties[i].kit == s->kit &&
		    nearness(&t->v->parties[i], tool) > nearest)
			nearest = nearness(&t->v->parties[i], tool);
	for (uint32_t i = 0; i < t->v->n_parties && st == KM_OK; i++)
		if (t->v->parties[i].kit == s->kit &&
		    nearness(&t->v->parties[i], tool) == nearest)
			st = add_pair(t, list, n, s, tool, i);
	return st;
}

/* The pairs that a choice may make. */
static size_t count_pairs(const struct table *t, const struct km_slot *s)
{
	size_t n = 0;

	for (uint32_t i = 0; s && i < t->v->n_parties; i++)
		n += t->v->parties[i].kit == s->kit;
	return n;
}

static int by_slot(const void *a, const void *b)
{
	const struct km_pinned *x = a, *y = b;
	int c = km_pinned_order(x, y);

	return c ? c : km_natural_compare(x->tool->id, y->tool->id);
}

/* ------------------------------------------------------------------ */
/* Decisions that are pins                                             */

static int by_way(const void *a, const void *b)
{
	const struct km_decision *const *x = a, *const *y = b;
	int c = km_case_compare((*x)->way, (*y)->way);

	return c ? c : (*x > *y) - (*x < *y);
}

static enum km_status list_decided(struct table *t)
{
	const struct km_load *l = t->load;

	t->decided = km_arena_alloc(t->mem, l->n_decisions,
				    sizeof *t->decided);
	if (!t->decided)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < l->n_decisions; i++)
		if (l->decisions[i].slot && l->decisions[i].way)
			t->decided[t->n_decided++] = &l->decisions[i];
	if (t->n_decided)
		qsort(t->decided, t->n_decided, sizeof *t->decided, by_way);
	return KM_OK;
}

/* A decision may name a tool as the way to fill a slot: that is a pin.  Of
 * several the first that was made holds. */
static const struct km_slot *decided(const struct table *t,
				     const struct km_tool *tool)
{
	size_t low = 0, high = t->n_decided;

	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if (km_case_compare(t->decided[mid]->way, tool->id) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	return low < t->n_decided &&
	       km_case_compare(t->decided[low]->way, tool->id) == 0
		       ? t->decided[low]->slot : NULL;
}

/* A place that is empty by design holds nothing, whoever chose it. */
static const struct km_slot *pinned_to(const struct table *t,
				       const struct km_tool *tool)
{
	const struct km_slot *s = NULL;

	if (tool->more && tool->more->pin)
		s = tool->more->pin;
	else
		s = decided(t, tool);
	return s && !s->unused ? s : NULL;
}

static const struct km_slot *bought_for(const struct km_tool *tool)
{
	const struct km_slot *s = tool->more ? tool->more->bought_for : NULL;

	return s && !s->unused ? s : NULL;
}

static enum km_status collect_pins(struct table *t)
{
	const struct km_tools *bench = &t->load->bench;
	size_t pins = 0, orders = 0;
	enum km_status st = KM_OK;

	for (size_t i = 0; i < bench->n; i++) {
		const struct km_tool *tool = km_tool_at(bench, i);

		if (tool->status == KM_ORDERED)
			orders += count_pairs(t, bought_for(tool));
		else
			pins += count_pairs(t, pinned_to(t, tool));
	}
	t->pins = km_arena_alloc(t->mem, pins, sizeof *t->pins);
	t->orders = km_arena_alloc(t->mem, orders, sizeof *t->orders);
	if (!t->pins || !t->orders)
		return KM_ENOMEM;
	for (size_t i = 0; i < bench->n && st == KM_OK && pins + orders; i++) {
		const struct km_tool *tool = km_tool_at(bench, i);

		if (tool->status == KM_ORDERED) {
			if (bought_for(tool))
				st = add_pin(t, t->orders, &t->n_orders,
					     bought_for(tool), tool);
		} else if (pinned_to(t, tool)) {
			st = add_pin(t, t->pins, &t->n_pins,
				     pinned_to(t, tool), tool);
		}
	}
	qsort(t->pins, t->n_pins, sizeof *t->pins, by_slot);
	qsort(t->orders, t->n_orders, sizeof *t->orders, by_slot);
	return st;
}

static enum km_status set_table(struct table *t)
{
	struct km_seating *o = t->out;

	o->seats = km_arena_alloc(t->mem, o->n, sizeof *o->seats);
	if (!o->seats)
		return KM_ENOMEM;
	for (size_t i = 0; i < o->n; i++) {
		struct km_seat *s = &o->seats[i];

		s->slot = o->of[i].slot;
		s->party = o->of[i].party;
		s->firm = km_slot_is_firm(s->slot) &&
			  !(o->of[i].of->depends &&
			    o->of[i].of->depends[s->slot->index]);
		s->pieces = km_arena_alloc(t->mem, (size_t)s->slot->count,
					   sizeof *s->pieces);
		if (!s->pieces)
			return KM_ENOMEM;
	}
	return KM_OK;
}

/* Places that an order may still better: all but those that are right. */
static enum km_status better_seats(struct table *t, struct km_seat **out)
{
	struct km_seat *v = km_arena_copy(t->mem, t->out->seats, t->out->n,
					  sizeof *v);

	if (!v)
		return KM_ENOMEM;
	for (size_t i = 0; i < t->out->n; i++) {
		size_t count = (size_t)v[i].slot->count;

		v[i].pieces = km_arena_copy(t->mem, v[i].pieces, count,
					    sizeof *v[i].pieces);
		if (!v[i].pieces)
			return KM_ENOMEM;
		for (size_t k = 0; k < count; k++)
			if (v[i].pieces[k].match && !v[i].pieces[k].pinned &&
			    v[i].pieces[k].match->verdict != KM_RIGHT)
				v[i].pieces[k].match = NULL;
	}
	*out = v;
	return KM_OK;
}

/* An order takes an empty place, or waits behind what it would better. */
static void take_order(struct km_piece *p, const struct km_piece *with)
{
	if (!with->match || with->match == p->match)
		return;
	if (!p->match) {
		p->match = with->match;
		p->expected = true;
	} else if (with->match->verdict < p->match->verdict) {
		p->coming = with->match;
	}
}

/* What is on order is shared out after what is in hand, so that it never takes
 * a place from a tool that is here and right. */
static enum km_status expect(struct table *t)
{
	struct km_filter filter = { .use = use_ordered,
				    .reaches = t->cure->reaches,
				    .cure = t->cure->ctx };
	struct km_candidates *of;
	struct km_seat *seats;
	size_t n;
	enum km_status st;

	st = km_candidates_find(t->mem, &t->load->limits, t->v->parties,
				t->v->n_parties, &t->load->bench, &filter,
				&of, &n);
	if (st == KM_OK)
		st = better_seats(t, &seats);
	if (st == KM_OK)
		st = km_allocate(t->mem, t->v->parties, seats, of, n,
				 t->orders, t->n_orders, &t->load->limits);
	for (size_t i = 0; i < t->out->n && st == KM_OK; i++)
		for (int32_t k = 0; k < seats[i].slot->count; k++)
			take_order(&t->out->seats[i].pieces[k],
				   &seats[i].pieces[k]);
	return st;
}

static bool any_ordered(const struct km_load *l)
{
	for (size_t i = 0; i < l->bench.n; i++)
		if (km_tool_at(&l->bench, i)->status == KM_ORDERED)
			return true;
	return false;
}

/* The seat of a slot's companion: slots of a kit stand in their order. */
static const struct km_seat *companion_of(const struct table *t, size_t i)
{
	const struct km_slot *s = t->out->seats[i].slot;

	return &t->out->seats[i - s->index + s->companion->index];
}

/* The figures of a bar and the hole it is to pass; false: not both known. */
static bool bar_and_hole(const struct km_tool *x, const struct km_tool *y,
			 struct km_span *bar, struct km_span *hole)
{
	const union km_value *b = km_trait(&x->traits, KM_A_BAR);
	const union km_value *h = km_trait(&y->traits, KM_A_HOLE);

	if (!b || !h)
		return false;
	*bar = b->span;
	*hole = h->span;
	return true;
}

/* Does a tool go with the tool that its companion slot was given? */
static bool passes(const struct km_tool *bar_tool, const struct km_seat *other,
		   struct km_companion *c)
{
	for (int32_t k = 0; k < other->slot->count; k++) {
		const struct km_match *m = other->pieces[k].match;
		struct km_span bar, hole;

		if (!m || (!bar_and_hole(bar_tool, m->tool, &bar, &hole) &&
			   !bar_and_hole(m->tool, bar_tool, &bar, &hole)))
			continue;
		if (km_span_low(bar) > km_span_high(hole)) {
			c->bar_nm = bar.nm;
			c->hole_nm = hole.nm;
			return false;
		}
	}
	return true;
}

static bool is_given(const struct table *t, const struct km_tool *tool)
{
	for (size_t i = 0; i < t->out->n; i++)
		for (int32_t k = 0; k < t->out->seats[i].slot->count; k++) {
			const struct km_match *m =
				t->out->seats[i].pieces[k].match;

			if (m && m->tool == tool)
				return true;
		}
	return false;
}

/* Take out a companion that does not pass, and give its place alone to the
 * best free candidate that does. */
static enum km_status reseat(struct table *t, size_t i, struct km_piece *piece,
			     const struct km_seat *other)
{
	struct km_companion *c = &t->out->companions[t->out->n_companions++];
	struct km_companion unused;
	struct km_candidates *of = &t->out->of[i];

	*c = (struct km_companion){ .slot = of->slot, .other = other->slot,
				    .party = t->out->seats[i].party,
				    .tool = piece->match->tool };
	passes(piece->match->tool, other, c);
	piece->match = NULL;
	for (uint32_t k = 0; k < of->n; k++) {
		const struct km_tool *tool = of->v[k].tool;

		if (is_given(t, tool) || !passes(tool, other, &unused))
			continue;
		piece->match = km_candidates_match(t->mem, of, k);
		return piece->match ? KM_OK : KM_ENOMEM;
	}
	return KM_OK;
}

static enum km_status check_companions(struct table *t)
{
	enum km_status st = KM_OK;
	size_t room = 0;

	for (size_t i = 0; i < t->out->n; i++)
		if (t->out->seats[i].slot->companion)
			room += (size_t)t->out->seats[i].slot->count;
	t->out->companions = km_arena_alloc(t->mem, room,
					    sizeof *t->out->companions);
	if (!t->out->companions)
		return KM_ENOMEM;
	for (size_t i = 0; i < t->out->n && room; i++) {
		struct km_seat *s = &t->out->seats[i];
		const struct km_seat *other;
		struct km_companion unused;

		if (!s->slot->companion)
			continue;
		other = companion_of(t, i);
		for (int32_t k = 0; k < s->slot->count && st == KM_OK; k++)
			if (s->pieces[k].match && !s->pieces[k].pinned &&
			    !passes(s->pieces[k].match->tool, other, &unused))
				st = reseat(t, i, &s->pieces[k], other);
	}
	return st;
}

enum km_status km_seats_fill(struct km_arena *mem, const struct km_load *load,
			     const struct km_variants *v,
			     const struct km_cure *cure,
			     struct km_seating *out)
{
	struct table t = { .mem = mem, .load = load, .v = v, .cure = cure,
			   .out = out };
	struct km_filter filter = { .use = use_held, .reaches = cure->reaches,
				    .cure = cure->ctx, .spare = SPARE };
	enum km_status st;

	st = km_candidates_find(mem, &load->limits, v->parties, v->n_parties,
				&load->bench, &filter, &out->of, &out->n);
	if (st == KM_OK)
		st = list_decided(&t);
	if (st == KM_OK)
		st = collect_pins(&t);
	if (st == KM_OK)
		st = set_table(&t);
	if (st == KM_OK)
		st = km_allocate(mem, v->parties, out->seats, out->of, out->n,
				 t.pins, t.n_pins, &load->limits);
	if (st == KM_OK)
		st = check_companions(&t);
	if (st == KM_OK && any_ordered(load))
		st = expect(&t);
	return st;
}
