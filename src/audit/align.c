/* SPDX-License-Identifier: MIT */
#include "audit/align.h"

#include <stdlib.h>

#include "audit/claims.h"
#include "base/str.h"
#include "match/assign.h"

#define WHOLE 100			/* of km_claim_far() */
#define NO_PAIR INT32_MAX

/* What each attribute weighs, in points. */
static const int32_t weight[KM_ATTRS] = {
#define ALIGN(attr, points, source) [KM_A_##attr] = points,
#include "data/align.def"
#undef ALIGN
};

/* A slot made ready. */
struct place {
	const struct km_slot *slot;
	struct km_claim claim[KM_ATTRS];
};

struct side {
	const struct km_kit *kit;
	struct place *v;		/* by what is claimed, the id last */
	uint32_t n;
	uint32_t *at;			/* of a slot of the kit, its place */
	const struct km_slot **mate;	/* of a slot of the kit; NULL: alone */
};

/* ------------------------------------------------------------------ */
/* Places                                                              */

static int order(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int by_claims(const void *va, const void *vb)
{
	const struct place *a = va, *b = vb;
	const struct km_slot *s = a->slot, *t = b->slot;
	int c = 0;

	for (int i = 0; !c && i < KM_ATTRS; i++)
		c = km_claim_order((enum km_attr)i, &a->claim[i],
				   &b->claim[i]);
	if (!c)
		c = order(s->pocket, t->pocket);
	if (!c)
		c = order(s->count, t->count);
	if (!c)
		c = order(s->unused, t->unused);
	if (!c)
		c = order(s->durable, t->durable);
	if (!c)
		c = order(s->exists, t->exists);
	if (!c)
		c = order(s->points, t->points);
	return c ? c : km_natural_compare(s->id, t->id);
}

static enum km_status make_side(struct km_arena *scratch,
				const struct km_kit *kit, struct side *out)
{
	uint32_t n = kit->n_slots;

	*out = (struct side){ .kit = kit, .n = n };
	out->v = km_arena_alloc(scratch, n, sizeof *out->v);
	out->at = km_arena_alloc(scratch, n, sizeof *out->at);
	out->mate = km_arena_alloc(scratch, n, sizeof *out->mate);
	if (!out->v || !out->at || !out->mate)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n; i++) {
		out->v[i].slot = &kit->slots[i];
		for (int a = 0; a < KM_ATTRS; a++)
			if (!km_claim_make(scratch, (enum km_attr)a,
					   &kit->slots[i].want[a],
					   &out->v[i].claim[a]))
				return KM_ENOMEM;
	}
	qsort(out->v, n, sizeof *out->v, by_claims);
	for (uint32_t i = 0; i < n; i++)
		out->at[out->v[i].slot->index] = i;
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* What a pair costs                                                   */

/* `silent` stands for what a kit does not state: half of it. */
static int32_t figure_cost(int32_t a, int32_t b, int32_t silent, int32_t cost)
{
	if (a == b)
		return 0;
	return a == silent || b == silent ? cost / 2 : cost;
}

static int32_t rest_cost(const struct km_slot *a, const struct km_slot *b)
{
	return (a->count != b->count) * KM_ALIGN_COUNT +
	       (a->durable != b->durable) * KM_ALIGN_DURABLE +
	       (a->exists != b->exists) * KM_ALIGN_EXISTS +
	       figure_cost(a->pocket, b->pocket, 0, KM_ALIGN_POCKET) +
	       figure_cost(a->points, b->points, -1, KM_ALIGN_POINTS);
}

static bool both_say(const struct place *a, const struct place *b,
		     enum km_attr at)
{
	return a->claim[at].state == KM_CLAIM_VALUES &&
	       b->claim[at].state == KM_CLAIM_VALUES;
}

/* May slots of other kinds be one place: same part, or a size in common? */
static bool kin(const struct place *a, const struct place *b,
		const int32_t *far)
{
	return far[KM_A_TOOL] < WHOLE ||
	       (both_say(a, b, KM_A_PART) && far[KM_A_PART] < WHOLE / 2) ||
	       (both_say(a, b, KM_A_SIZES) && far[KM_A_SIZES] <= WHOLE / 2);
}

static int32_t pair_cost(const struct place *a, const struct place *b)
{
	int32_t far[KM_ATTRS], cost = rest_cost(a->slot, b->slot);

	if (a->slot->unused != b->slot->unused)
		return NO_PAIR;
	for (int i = 0; i < KM_ATTRS; i++) {
		far[i] = km_claim_far((enum km_attr)i, &a->claim[i],
				      &b->claim[i]);
		cost += weight[i] * far[i];
	}
	return kin(a, b, far) ? cost : NO_PAIR;
}

/* ------------------------------------------------------------------ */
/* The assignment                                                      */

enum { SAVED, PAIRS, IDS, KEYS };	/* what a pair gains */

static bool make_edge(const struct side *a, const struct side *b, uint32_t i,
		      uint32_t k, struct km_assign_edge *e)
{
	int32_t cost = pair_cost(&a->v[i], &b->v[k]);
	bool same_id = km_case_compare(a->v[i].slot->id,
				       b->v[k].slot->id) == 0;

	if (cost > 2 * KM_ALIGN_ALONE)
		return false;
	*e = (struct km_assign_edge){
		.place = i, .tool = k,
		.key = { SAVED, PAIRS, IDS },
		.gain = { 2 * KM_ALIGN_ALONE - cost, 1, same_id },
	};
	return true;
}

static enum km_status all_edges(struct km_arena *scratch,
				const struct side *a, const struct side *b,
				struct km_assign *p)
{
	struct km_assign_edge one, *edge;
	size_t room = 64;

	edge = km_arena_raw(scratch, room, sizeof *edge);
	if (!edge)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < a->n; i++)
		for (uint32_t k = 0; k < b->n; k++) {
			if (!make_edge(a, b, i, k, &one))
				continue;
			if (p->nedges == room) {
				struct km_assign_edge *more = km_arena_raw(
					scratch, 2 * room, sizeof *more);

				if (!more)
					return KM_ENOMEM;
				for (size_t x = 0; x < room; x++)
					more[x] = edge[x];
				edge = more;
				room *= 2;
			}
			edge[p->nedges++] = one;
		}
	p->edge = edge;
	return KM_OK;
}

static enum km_status assign(struct km_arena *scratch, struct side *a,
			     struct side *b)
{
	struct km_assign p = { .nplaces = a->n, .ntools = b->n,
			       .nkeys = KEYS };
	uint32_t *edge_of = km_arena_alloc(scratch, a->n, sizeof *edge_of);
	enum km_status st = edge_of ? all_edges(scratch, a, b, &p)
				    : KM_ENOMEM;

	if (st == KM_OK)
		st = km_assign_solve(scratch, &p, edge_of);
	for (uint32_t i = 0; st == KM_OK && i < a->n; i++) {
		const struct km_slot *s = a->v[i].slot, *t;

		if (edge_of[i] == KM_ASSIGN_OPEN)
			continue;
		t = b->v[p.edge[edge_of[i]].tool].slot;
		a->mate[s->index] = t;
		b->mate[t->index] = s;
	}
	return st;
}

/* ------------------------------------------------------------------ */
/* What differs                                                        */

static enum km_certainty certainty_of(const struct km_slot *s,
				      const struct km_want *w)
{
	return w->own_certainty ? w->certainty : s->exists;
}

/* Claims that take their certainty from the slot differ with the slot. */
static bool as_sure(const struct km_slot *s, const struct km_slot *t,
		    enum km_attr a)
{
	const struct km_want *x = &s->want[a], *y = &t->want[a];

	if (x->disputed != y->disputed)
		return false;
	return (!x->own_certainty && !y->own_certainty) ||
	       certainty_of(s, x) == certainty_of(t, y);
}

static bool companions_differ(const struct side *a, const struct km_slot *s,
			      const struct km_slot *t)
{
	if (!s->companion || !t->companion)
		return s->companion || t->companion;
	return a->mate[s->companion->index] != t->companion;
}

static uint32_t rest_of(const struct side *a, const struct km_slot *s,
			const struct km_slot *t)
{
	uint32_t rest = 0;

	if (s->count != t->count)
		rest |= KM_DIFF_COUNT;
	if (s->exists != t->exists)
		rest |= KM_DIFF_EXISTS;
	if (s->pocket != t->pocket)
		rest |= KM_DIFF_POCKET;
	if (s->durable != t->durable)
		rest |= KM_DIFF_DURABLE;
	if (s->points != t->points)
		rest |= KM_DIFF_POINTS;
	if (companions_differ(a, s, t))
		rest |= KM_DIFF_GOES_WITH;
	return rest;
}

static void fill_pair(const struct side *a, const struct side *b,
		      const struct km_slot *s, const struct km_slot *t,
		      struct km_slot_pair *out)
{
	const struct place *x = &a->v[a->at[s->index]];
	const struct place *y = &b->v[b->at[t->index]];

	*out = (struct km_slot_pair){ .a = s, .b = t, .cost = pair_cost(x, y),
				      .rest = rest_of(a, s, t) };
	for (int i = 0; i < KM_ATTRS; i++) {
		uint32_t bit = (uint32_t)1 << i;

		if (km_claim_order((enum km_attr)i, &x->claim[i],
				   &y->claim[i]))
			out->attrs |= bit;
		else if (x->claim[i].state != KM_CLAIM_OPEN &&
			 !as_sure(s, t, (enum km_attr)i))
			out->sure |= bit;
	}
}

static void count_pair(struct km_alignment *o, const struct km_slot_pair *p)
{
	if (!p->b)
		o->n_only_a++;
	else if (!p->a)
		o->n_only_b++;
	else if (p->attrs || p->sure || p->rest)
		o->n_differ++;
	else
		o->n_same++;
	o->cost += p->cost;
	o->n++;
}

static enum km_status answer(struct km_arena *mem, const struct side *a,
			     const struct side *b, struct km_alignment *out)
{
	struct km_alignment o = { .a = a->kit, .b = b->kit };
	struct km_slot_pair *v = km_arena_alloc(mem, (size_t)a->n + b->n,
						sizeof *v);

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < a->n; i++) {
		const struct km_slot *s = &a->kit->slots[i];

		if (a->mate[i])
			fill_pair(a, b, s, a->mate[i], &v[o.n]);
		else
			v[o.n] = (struct km_slot_pair){
				.a = s, .cost = KM_ALIGN_ALONE };
		count_pair(&o, &v[o.n]);
	}
	for (uint32_t i = 0; i < b->n; i++) {
		if (b->mate[i])
			continue;
		v[o.n] = (struct km_slot_pair){ .b = &b->kit->slots[i],
						.cost = KM_ALIGN_ALONE };
		count_pair(&o, &v[o.n]);
	}
	o.pairs = v;
	*out = o;
	return KM_OK;
}

enum km_status km_kits_align(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_kit *a, const struct km_kit *b,
			     struct km_diags *d, struct km_alignment *out)
{
	struct side x, y;
	enum km_status st;

	if ((uint64_t)a->n_slots * b->n_slots > KM_ALIGN_PAIRS) {
		km_diag_add(d, KM_M_KITS_TOO_LARGE, b->at, b->id,
			    (unsigned)b->n_slots, a->id, (unsigned)a->n_slots,
			    (unsigned)KM_ALIGN_PAIRS);
		return KM_ELIMIT;
	}
	st = make_side(scratch, a, &x);
	if (st == KM_OK)
		st = make_side(scratch, b, &y);
	if (st == KM_OK)
		st = assign(scratch, &x, &y);
	if (st == KM_OK)
		st = answer(mem, &x, &y, out);
	return st;
}
