/* SPDX-License-Identifier: MIT */
#include "match/assign.h"

#include <stdbool.h>

#include "base/arena.h"
#include "match/graph.h"

/*
 * Keys are packed into weights of 64 bits, as many as provably fit: key k is
 * scaled by more than all later keys of the round can add up to.  What does
 * not fit waits for the next round, which sees only the arcs that can be part
 * of a best matching so far, and in which covering a row or column whose
 * price is above zero counts before everything else.  By the rule in graph.h
 * the matchings that are best in the next round are then just those that are
 * best so far and best in the keys of the round.
 *
 * With weights below WEIGHT_MAX, prices stay below it and distances below
 * four times that, so no sum can overflow.
 */
#define WEIGHT_MAX ((int64_t)1 << 60)

struct keys {
	const struct km_assign *p;
	int64_t *range;		/* most the key can differ, over the part */
	int64_t *scale;		/* factor in this round; 0: not in it */
	int64_t *top, *bottom;	/* of one row; zero between rows */
	uint32_t next;		/* first key that waits for a round */
};

static bool edge_is_sound(const struct km_assign *p,
			  const struct km_assign_edge *e)
{
	uint32_t next = 0;	/* smallest key the next term may have */

	if (e->place >= p->nplaces || e->tool >= p->ntools)
		return false;
	for (int t = 0; t < KM_ASSIGN_TERMS; t++) {
		if (e->gain[t] == 0 && e->key[t] == 0)
			continue;
		if (e->key[t] >= p->nkeys || e->gain[t] > KM_ASSIGN_GAIN ||
		    e->gain[t] < -KM_ASSIGN_GAIN)
			return false;
		if (e->gain[t] == 0)
			continue;
		if (e->key[t] < next)
			return false;
		next = e->key[t] + 1U;
	}
	return true;
}

static bool is_sound(const struct km_assign *p)
{
	if (p->nplaces > KM_ASSIGN_PLACES || p->ntools == UINT32_MAX ||
	    p->nkeys > KM_ASSIGN_KEYS || p->nedges >= UINT32_MAX)
		return false;
	for (size_t i = 0; i < p->nedges; i++)
		if (!edge_is_sound(p, &p->edge[i]))
			return false;
	return true;
}

/* Widen the range of the keys by what one edge of a row adds. */
static void widen(struct keys *k, const struct km_assign_edge *e)
{
	for (int t = 0; t < KM_ASSIGN_TERMS; t++) {
		uint16_t key = e->key[t];
		int64_t gain = e->gain[t];

		if (gain > k->top[key]) {
			k->range[key] += gain - k->top[key];
			k->top[key] = gain;
		} else if (gain < k->bottom[key]) {
			k->range[key] += k->bottom[key] - gain;
			k->bottom[key] = gain;
		}
	}
}

/* Sums of a key over two matchings of the part differ by its range at most:
 * a row adds something between its least and its greatest gain, or zero. */
static void measure(struct keys *k, const struct km_graph *g,
		    struct km_part part)
{
	for (uint32_t i = 0; i < k->p->nkeys; i++)
		k->range[i] = 0;
	for (uint32_t i = part.lo; i < part.hi; i++) {
		uint32_t r = g->order[i];

		for (uint32_t a = g->first[r]; a < g->end[r]; a++)
			widen(k, &k->p->edge[g->arc[a].edge]);
		for (uint32_t a = g->first[r]; a < g->end[r]; a++) {
			const uint16_t *key = k->p->edge[g->arc[a].edge].key;

			for (int t = 0; t < KM_ASSIGN_TERMS; t++)
				k->top[key[t]] = k->bottom[key[t]] = 0;
		}
	}
}

/*
 * Choose the keys of the next round and scale them.  cover is the most that
 * covering can count, 0 in the first round; *worth is what one covered row or
 * column weighs.
 */
static enum km_status pack(struct keys *k, int64_t cover, int64_t *worth)
{
	uint32_t n = k->next, from = k->next;
	int64_t room = WEIGHT_MAX / (1 + cover), scale = 1;
	bool none = true;

	for (; n < k->p->nkeys; n++) {
		if (k->range[n] >= room)
			break;
		room /= 1 + k->range[n];
		none = none && k->range[n] == 0;
	}
	if (none && n < k->p->nkeys)
		return KM_ERANGE;
	k->next = n;
	while (n-- > from) {
		k->scale[n] = k->range[n] > 0 ? scale : 0;
		scale *= 1 + k->range[n];
	}
	*worth = scale;
	return KM_OK;
}

static void weigh(const struct keys *k, struct km_graph *g,
		  struct km_part part, int64_t worth)
{
	for (uint32_t i = part.lo; i < part.hi; i++) {
		uint32_t r = g->order[i];

		for (uint32_t n = g->first[r]; n < g->end[r]; n++) {
			struct km_arc *a = &g->arc[n];
			const struct km_assign_edge *e = &k->p->edge[a->edge];

			a->weight = (g->u[r] > 0) * worth +
				    (g->v[a->col] > 0) * worth;
			for (int t = 0; t < KM_ASSIGN_TERMS; t++)
				a->weight += e->gain[t] * k->scale[e->key[t]];
		}
	}
}

static bool keys_wait(const struct keys *k)
{
	for (uint32_t i = k->next; i < k->p->nkeys; i++)
		if (k->range[i] > 0)
			return true;
	return false;
}

static enum km_status solve_part(struct keys *k, struct km_graph *g,
				 struct km_part part)
{
	int64_t cover = 0, worth;

	k->next = 0;
	measure(k, g, part);
	do {
		uint32_t from = k->next;
		enum km_status st = pack(k, cover, &worth);

		if (st != KM_OK)
			return st;
		weigh(k, g, part, worth);
		for (uint32_t i = from; i < k->next; i++)
			k->scale[i] = 0;
		km_graph_match(g, part);
		km_graph_tighten(g, part);
		measure(k, g, part);
		cover = 2 * (int64_t)(part.hi - part.lo);
	} while (keys_wait(k));
	km_graph_settle(g, part);
	return KM_OK;
}

static enum km_status solve_parts(struct keys *k, struct km_graph *g)
{
	struct km_part part = { 0, 0 };

	for (; part.lo < g->nrows; part.lo = part.hi) {
		uint32_t root = g->root[g->order[part.lo]];
		enum km_status st;

		while (part.hi < g->nrows && g->root[g->order[part.hi]] == root)
			part.hi++;
		st = solve_part(k, g, part);
		if (st != KM_OK)
			return st;
	}
	return KM_OK;
}

static void answer(const struct km_graph *g, uint32_t *edge_of)
{
	for (uint32_t r = 0; r < g->nrows; r++) {
		edge_of[r] = KM_ASSIGN_OPEN;
		for (uint32_t i = g->first[r]; i < g->end[r]; i++)
			if (g->arc[i].col == g->got[r])
				edge_of[r] = g->arc[i].edge;
	}
}

enum km_status km_assign_solve(struct km_arena *scratch,
			       const struct km_assign *p, uint32_t *edge_of)
{
	struct keys k = { .p = p };
	struct km_graph g = { 0 };
	size_t n = (size_t)p->nkeys + 1;
	enum km_status st;

	if (!is_sound(p))
		return KM_ERANGE;
	k.range = km_arena_alloc(scratch, n, sizeof *k.range);
	k.scale = km_arena_alloc(scratch, n, sizeof *k.scale);
	k.top = km_arena_alloc(scratch, n, sizeof *k.top);
	k.bottom = km_arena_alloc(scratch, n, sizeof *k.bottom);
	if (!k.range || !k.scale || !k.top || !k.bottom)
		return KM_ENOMEM;
	st = km_graph_build(&g, scratch, p);
	if (st == KM_OK)
		st = solve_parts(&k, &g);
	if (st == KM_OK)
		answer(&g, edge_of);
	return st;
}
