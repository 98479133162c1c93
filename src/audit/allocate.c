/* SPDX-License-Identifier: MIT */
#include "audit/allocate.h"

#include <stdlib.h>

#include "base/str.h"
#include "match/assign.h"

/* Keys of an edge: pins, a class for each priority level, score, came-with. */
#define PIN_KEY 0
#define FIRST_CLASS 1
#define FIRMNESSES 3
#define CLASSES (4 * FIRMNESSES)	/* four verdicts of a piece */

bool km_slot_is_firm(const struct km_slot *s)
{
	return s->exists == KM_CERTAIN || s->exists == KM_PROBABLE;
}

struct ranked { const struct km_tool *tool; uint32_t rank; };

struct job {
	struct km_arena *mem;		/* scratch */
	const struct km_party *parties;
	struct km_seat *seats;
	const struct km_candidates *of;
	size_t n;
	const struct km_pinned *pins;
	size_t n_pins;
	struct ranked *tools;		/* by address, rank in id order */
	uint32_t n_tools;
	uint32_t *level;		/* of each party */
	uint32_t n_levels;
	uint32_t n_places;
	struct km_assign_edge *edges;
	struct km_match **match;	/* of each edge */
	struct { uint32_t seat, piece; } *place;
	size_t n_edges, edge_room;
};

static int by_address(const void *a, const void *b)
{
	const struct ranked *x = a, *y = b;
	uintptr_t p = (uintptr_t)x->tool, q = (uintptr_t)y->tool;

	return (p > q) - (p < q);
}

static int by_id(const void *a, const void *b)
{
	const struct ranked *const *x = a, *const *y = b;

	return km_natural_compare((*x)->tool->id, (*y)->tool->id);
}

static enum km_status rank_tools(struct job *j)
{
	size_t all = j->n_pins, n = 0;
	struct ranked **order;

	for (size_t i = 0; i < j->n; i++)
		all += j->of[i].n;
	j->tools = km_arena_alloc(j->mem, all, sizeof *j->tools);
	if (!j->tools)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++)
		for (uint32_t k = 0; k < j->of[i].n; k++)
			j->tools[n++].tool = j->of[i].v[k]->tool;
	for (size_t i = 0; i < j->n_pins; i++)
		j->tools[n++].tool = j->pins[i].tool;
	qsort(j->tools, n, sizeof *j->tools, by_address);
	all = n;
	n = 0;
	for (size_t i = 0; i < all; i++)
		if (!n || j->tools[n - 1].tool != j->tools[i].tool)
			j->tools[n++] = j->tools[i];
	if (n > UINT32_MAX - 1)
		return KM_ELIMIT;
	j->n_tools = (uint32_t)n;
	order = km_arena_alloc(j->mem, n, sizeof *order);
	if (!order)
		return KM_ENOMEM;
	for (size_t i = 0; i < n; i++)
		order[i] = &j->tools[i];
	qsort(order, n, sizeof *order, by_id);
	for (size_t i = 0; i < n; i++)
		order[i]->rank = (uint32_t)i;
	return KM_OK;
}

static uint32_t rank_of(const struct job *j, const struct km_tool *t)
{
	struct ranked key = { t, 0 };
	const struct ranked *r = bsearch(&key, j->tools, j->n_tools, sizeof key,
					 by_address);

	return r->rank;
}

static int by_value(const void *a, const void *b)
{
	const int32_t *x = a, *y = b;

	return (*x > *y) - (*x < *y);
}

/* Number the distinct priorities from 0. */
static enum km_status number_levels(struct job *j, uint32_t n_parties)
{
	int32_t *p = km_arena_alloc(j->mem, n_parties, sizeof *p);
	uint32_t n = 0;

	j->level = km_arena_alloc(j->mem, n_parties, sizeof *j->level);
	if (!p || !j->level)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n_parties; i++)
		p[i] = j->parties[i].kit->priority;
	qsort(p, n_parties, sizeof *p, by_value);
	for (uint32_t i = 0; i < n_parties; i++)
		if (!n || p[n - 1] != p[i])
			p[n++] = p[i];
	for (uint32_t i = 0; i < n_parties; i++) {
		const int32_t *at = bsearch(&j->parties[i].kit->priority, p, n,
					    sizeof *p, by_value);

		j->level[i] = (uint32_t)(at - p);
	}
	j->n_levels = n;
	return n > (KM_ASSIGN_KEYS - 3) / CLASSES ? KM_ELIMIT : KM_OK;
}

static uint32_t firmness(const struct km_slot *s)
{
	if (!s->durable)
		return 2;
	return km_slot_is_firm(s) ? 0 : 1;
}

/* One edge; room was counted before. */
static void add_edge(struct job *j, uint32_t place, uint32_t tool,
		     const struct km_seat *seat, struct km_match *m, bool pin)
{
	struct km_assign_edge *e = &j->edges[j->n_edges];
	uint32_t class = FIRST_CLASS + j->level[seat->party] * CLASSES +
			 (uint32_t)m->verdict * FIRMNESSES +
			 firmness(seat->slot);
	uint32_t score = FIRST_CLASS + j->n_levels * CLASSES;
	int k = 0;

	e->place = place;
	e->tool = tool;
	if (pin) {
		e->key[k] = PIN_KEY;
		e->gain[k++] = 1;
	}
	e->key[k] = (uint16_t)class;
	e->gain[k++] = 1;
	e->key[k] = (uint16_t)score;
	e->gain[k++] = m->score;
	e->key[k] = (uint16_t)(score + 1);
	e->gain[k] = m->came_with;
	j->match[j->n_edges++] = m;
}

/* The pins of a slot: [from, to) of j->pins, which are sorted by slot. */
static void pins_of(const struct job *j, const struct km_slot *s, size_t *from,
		    size_t *to)
{
	size_t low = 0, high = j->n_pins;

	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if ((uintptr_t)j->pins[mid].slot < (uintptr_t)s)
			low = mid + 1;
		else
			high = mid;
	}
	*from = low;
	while (low < j->n_pins && j->pins[low].slot == s)
		low++;
	*to = low;
}

static bool is_pinned(const struct job *j, const struct km_slot *s,
		      const struct km_tool *t)
{
	size_t from, to;

	pins_of(j, s, &from, &to);
	for (size_t i = from; i < to; i++)
		if (j->pins[i].tool == t)
			return true;
	return false;
}

/* Edges of one place: its candidates, and pinned tools that are none. */
static void edges_of(struct job *j, uint32_t place, const struct km_seat *seat,
		     const struct km_candidates *c)
{
	size_t from, to;

	pins_of(j, seat->slot, &from, &to);
	for (uint32_t k = 0; k < c->n; k++)
		add_edge(j, place, rank_of(j, c->v[k]->tool), seat, c->v[k],
			 from < to &&
			 is_pinned(j, seat->slot, c->v[k]->tool));
	for (size_t i = from; i < to; i++) {
		const struct km_pinned *p = &j->pins[i];
		bool listed = false;

		for (uint32_t k = 0; k < c->n && !listed; k++)
			listed = c->v[k]->tool == p->tool;
		for (size_t k = from; k < i && !listed; k++)
			listed = j->pins[k].tool == p->tool;
		if (!listed)
			add_edge(j, place, rank_of(j, p->tool), seat, p->match,
				 true);
	}
}

static bool open_piece(const struct km_piece *p)
{
	return !p->match;
}

static enum km_status make_edges(struct job *j)
{
	size_t places = 0, edges = 0, at = 0;

	for (size_t i = 0; i < j->n; i++)
		for (int32_t k = 0; k < j->seats[i].slot->count; k++)
			if (open_piece(&j->seats[i].pieces[k])) {
				size_t from, to;

				pins_of(j, j->seats[i].slot, &from, &to);
				places++;
				edges += j->of[i].n + (to - from);
			}
	if (places > KM_ASSIGN_PLACES || edges >= UINT32_MAX)
		return KM_ELIMIT;
	j->edges = km_arena_alloc(j->mem, edges, sizeof *j->edges);
	j->match = km_arena_alloc(j->mem, edges, sizeof(*j->match));
	j->place = km_arena_alloc(j->mem, places, sizeof *j->place);
	if (!j->edges || !j->match || !j->place)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++)
		for (int32_t k = 0; k < j->seats[i].slot->count; k++) {
			if (!open_piece(&j->seats[i].pieces[k]))
				continue;
			j->place[at].seat = (uint32_t)i;
			j->place[at].piece = (uint32_t)k;
			edges_of(j, (uint32_t)at++, &j->seats[i], &j->of[i]);
		}
	j->n_places = (uint32_t)at;
	return KM_OK;
}

static enum km_status solve(struct job *j)
{
	uint32_t *edge_of = km_arena_alloc(j->mem, j->n_places, sizeof *edge_of);
	struct km_assign p = {
		.nplaces = j->n_places, .ntools = j->n_tools,
		.nkeys = FIRST_CLASS + j->n_levels * CLASSES + 2,
		.nedges = j->n_edges, .edge = j->edges,
	};
	enum km_status st;

	if (!edge_of)
		return KM_ENOMEM;
	st = km_assign_solve(j->mem, &p, edge_of);
	if (st != KM_OK)
		return st;
	for (uint32_t i = 0; i < j->n_places; i++) {
		struct km_seat *seat = &j->seats[j->place[i].seat];
		struct km_piece *piece = &seat->pieces[j->place[i].piece];

		if (edge_of[i] == KM_ASSIGN_OPEN)
			continue;
		piece->match = j->match[edge_of[i]];
		piece->pinned = is_pinned(j, seat->slot,
					  piece->match->tool);
	}
	return KM_OK;
}

enum km_status km_allocate(const struct km_party *parties,
			   struct km_seat *seats,
			   const struct km_candidates *of, size_t n,
			   const struct km_pinned *pins, size_t n_pins,
			   const struct km_limits *lim)
{
	struct job j = { .parties = parties, .seats = seats, .of = of, .n = n,
			 .pins = pins, .n_pins = n_pins };
	uint32_t n_parties = n ? seats[n - 1].party + 1 : 0;
	enum km_status st;

	if (!n)
		return KM_OK;
	j.mem = km_arena_new(lim);
	if (!j.mem)
		return KM_ENOMEM;
	st = rank_tools(&j);
	if (st == KM_OK)
		st = number_levels(&j, n_parties);
	if (st == KM_OK)
		st = make_edges(&j);
	if (st == KM_OK)
		st = solve(&j);
	km_arena_free(j.mem);
	return st;
}
