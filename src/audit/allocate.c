/* SPDX-License-Identifier: MIT */
#include "audit/allocate.h"

#include <stdlib.h>
#include <string.h>

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
	struct km_candidates *of;
	size_t n;
	const struct km_pinned *pins;
	size_t n_pins;
	struct ranked *tools;		/* by address, rank in id order */
	uint32_t n_tools;
	uint32_t **rank;		/* of each candidate of a seat's list */
	uint32_t **behind;		/* and how many of those that are used
					 * stand before it in id order */
	uint32_t *alike;		/* places of a list and firmness so far */
	uint32_t *level;		/* of each party */
	uint32_t n_levels;
	uint32_t n_places;
	struct km_assign_edge *edges;
	uint32_t *pick;		/* of each edge: the candidate, or the
					 * number of candidates and the pin */
	struct { uint32_t seat, piece; } *place;
	size_t n_edges;
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

/* Slots that want the same share a list. */
static bool is_first(const struct job *j, size_t i)
{
	return j->of[i].first == i;
}

/* Every tool of a list or a pin, by address. */
static enum km_status list_tools(struct job *j)
{
	size_t all = j->n_pins, n = 0;

	for (size_t i = 0; i < j->n; i++)
		if (is_first(j, i))
			all += j->of[i].n;
	j->tools = km_arena_alloc(j->mem, all, sizeof *j->tools);
	if (!j->tools)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++)
		for (uint32_t k = 0; is_first(j, i) && k < j->of[i].n; k++)
			j->tools[n++].tool = j->of[i].v[k].tool;
	for (size_t i = 0; i < j->n_pins; i++)
		j->tools[n++].tool = j->pins[i].tool;
	qsort(j->tools, n, sizeof *j->tools, by_address);
	n = 0;
	for (size_t i = 0; i < all; i++)
		if (!n || j->tools[n - 1].tool != j->tools[i].tool)
			j->tools[n++] = j->tools[i];
	if (n > UINT32_MAX - 1)
		return KM_ELIMIT;
	j->n_tools = (uint32_t)n;
	return KM_OK;
}

static enum km_status rank_tools(struct job *j)
{
	enum km_status st = list_tools(j);
	struct ranked **order;

	if (st != KM_OK)
		return st;
	order = km_arena_alloc(j->mem, j->n_tools, sizeof *order);
	if (!order)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < j->n_tools; i++)
		order[i] = &j->tools[i];
	qsort(order, j->n_tools, sizeof *order, by_id);
	for (uint32_t i = 0; i < j->n_tools; i++)
		order[i]->rank = i;
	return KM_OK;
}

static uint32_t rank_of(const struct job *j, const struct km_tool *t)
{
	struct ranked key = { t, 0 };
	const struct ranked *r = bsearch(&key, j->tools, j->n_tools, sizeof key,
					 by_address);

	return r->rank;
}

static enum km_status rank_lists(struct job *j)
{
	j->rank = km_arena_alloc(j->mem, j->n, sizeof *j->rank);
	if (!j->rank)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++) {
		uint32_t *rank;

		if (!is_first(j, i)) {
			j->rank[i] = j->rank[j->of[i].first];
			continue;
		}
		rank = km_arena_raw(j->mem, j->of[i].n, sizeof *rank);
		if (!rank)
			return KM_ENOMEM;
		for (uint32_t k = 0; k < j->of[i].n; k++)
			rank[k] = rank_of(j, j->of[i].v[k].tool);
		j->rank[i] = rank;
	}
	return KM_OK;
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

static uint32_t firmness(const struct km_seat *s)
{
	if (!s->slot->durable)
		return 2;
	return s->firm ? 0 : 1;
}

/* What an edge is worth. */
struct worth {
	uint32_t verdict;
	int32_t score;
	bool came_with, pin;
};

/* One edge; room was counted before. */
static void add_edge(struct job *j, uint32_t place, uint32_t tool,
		     const struct km_seat *seat, struct worth w, uint32_t pick)
{
	struct km_assign_edge *e = &j->edges[j->n_edges];
	uint32_t class = FIRST_CLASS + j->level[seat->party] * CLASSES +
			 w.verdict * FIRMNESSES + firmness(seat);
	uint32_t score = FIRST_CLASS + j->n_levels * CLASSES;
	int k = 0;

	*e = (struct km_assign_edge){ .place = place, .tool = tool };
	if (w.pin) {
		e->key[k] = PIN_KEY;
		e->gain[k++] = 1;
	}
	e->key[k] = (uint16_t)class;
	e->gain[k++] = 1;
	e->key[k] = (uint16_t)score;
	e->gain[k++] = w.score;
	e->key[k] = (uint16_t)(score + 1);
	e->gain[k] = w.came_with;
	j->pick[j->n_edges++] = pick;
}

int km_pinned_order(const struct km_pinned *a, const struct km_pinned *b)
{
	uintptr_t p = (uintptr_t)a->slot, q = (uintptr_t)b->slot;

	if (p != q)
		return p < q ? -1 : 1;
	return (a->party > b->party) - (a->party < b->party);
}

/* The pins of a seat: [from, to) of j->pins. */
static void pins_of(const struct job *j, const struct km_seat *s, size_t *from,
		    size_t *to)
{
	const struct km_pinned key = { .slot = s->slot, .party = s->party };
	size_t low = 0, high = j->n_pins;

	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if (km_pinned_order(&j->pins[mid], &key) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	*from = low;
	while (low < j->n_pins && km_pinned_order(&j->pins[low], &key) == 0)
		low++;
	*to = low;
}

static bool is_pinned(const struct job *j, const struct km_seat *s,
		      const struct km_tool *t)
{
	size_t from, to;

	pins_of(j, s, &from, &to);
	for (size_t i = from; i < to; i++)
		if (j->pins[i].tool == t)
			return true;
	return false;
}

/* Pinned tools that are no candidates of their slot. */
static void edges_of_pins(struct job *j, uint32_t place,
			  const struct km_seat *seat,
			  const struct km_candidates *c, size_t from, size_t to)
{
	for (size_t i = from; i < to; i++) {
		const struct km_match *m = j->pins[i].match;
		bool listed = false;

		for (uint32_t k = 0; k < c->n && !listed; k++)
			listed = c->v[k].tool == j->pins[i].tool;
		for (size_t k = from; k < i && !listed; k++)
			listed = j->pins[k].tool == j->pins[i].tool;
		if (!listed)
			add_edge(j, place, rank_of(j, j->pins[i].tool), seat,
				 (struct worth){ m->verdict, m->score,
						 m->came_with, true },
				 c->n + (uint32_t)i);
	}
}

/*
 * Places that are worth the same with each tool are given tools in the order
 * of their ids: to swap two would change no sum and give an earlier place a
 * smaller tool.  So the t-th of them never needs the t smallest tools, which
 * halves the edges where many places are alike.  Answers t, from 0; pins make
 * a slot unlike others.
 */
static uint32_t number_alike(struct job *j, size_t at, bool pinned)
{
	size_t class = j->of[at].first * (size_t)FIRMNESSES +
		       firmness(&j->seats[at]);

	return pinned ? 0 : j->alike[class]++;
}

/* Edges of one place: of as many of its candidates, best first, as there are
 * places, those that it may need, and what is pinned. */
static void edges_of(struct job *j, uint32_t place, size_t at)
{
	const struct km_seat *seat = &j->seats[at];
	const struct km_candidates *c = &j->of[at];
	uint32_t before;
	size_t from, to;

	pins_of(j, seat, &from, &to);
	before = number_alike(j, at, from < to);
	for (uint32_t k = 0; k < c->n; k++) {
		bool pin = from < to &&
			   is_pinned(j, seat, c->v[k].tool);

		if (pin || (k < j->n_places && j->behind[at][k] >= before))
			add_edge(j, place, j->rank[at][k], seat,
				 (struct worth){ c->v[k].verdict,
						 c->v[k].score,
						 c->v[k].came_with, pin }, k);
	}
	edges_of_pins(j, place, seat, c, from, to);
}

static bool open_piece(const struct km_piece *p)
{
	return !p->match;
}

static uint32_t used_of(const struct job *j, size_t i)
{
	return j->of[i].n < j->n_places ? j->of[i].n : j->n_places;
}

static int by_number(const void *a, const void *b)
{
	const uint32_t *x = a, *y = b;

	return (*x > *y) - (*x < *y);
}

/* The order of each list's candidates by id. */
static enum km_status order_lists(struct job *j)
{
	j->behind = km_arena_alloc(j->mem, j->n, sizeof *j->behind);
	if (!j->behind)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++) {
		uint32_t n = used_of(j, i), *sorted, *behind;

		if (!is_first(j, i)) {
			j->behind[i] = j->behind[j->of[i].first];
			continue;
		}
		sorted = km_arena_copy(j->mem, j->rank[i], n, sizeof *sorted);
		behind = km_arena_raw(j->mem, n, sizeof *behind);
		if (!sorted || !behind)
			return KM_ENOMEM;
		qsort(sorted, n, sizeof *sorted, by_number);
		for (uint32_t k = 0; k < n; k++) {
			const uint32_t *at = bsearch(&j->rank[i][k], sorted, n,
						     sizeof *sorted, by_number);

			behind[k] = (uint32_t)(at - sorted);
		}
		j->behind[i] = behind;
	}
	return KM_OK;
}

/* The edges that a seat's open places have at most. */
static size_t count_edges(struct job *j, size_t i)
{
	size_t from, to, edges = 0;

	pins_of(j, &j->seats[i], &from, &to);
	for (int32_t k = 0; k < j->seats[i].slot->count; k++) {
		uint32_t before, used = used_of(j, i);

		if (!open_piece(&j->seats[i].pieces[k]))
			continue;
		before = number_alike(j, i, from < to);
		edges += (before < used ? used - before : 0) + (to - from);
	}
	return edges;
}

/* Count the places, and the edges they have at most. */
static enum km_status make_room(struct job *j)
{
	size_t classes = j->n * FIRMNESSES, places = 0, edges = 0;

	for (size_t i = 0; i < j->n; i++)
		for (int32_t k = 0; k < j->seats[i].slot->count; k++)
			places += open_piece(&j->seats[i].pieces[k]);
	if (places > KM_ASSIGN_PLACES)
		return KM_ELIMIT;
	j->n_places = (uint32_t)places;
	j->alike = km_arena_alloc(j->mem, classes, sizeof *j->alike);
	if (!j->alike || order_lists(j) != KM_OK)
		return KM_ENOMEM;
	for (size_t i = 0; i < j->n; i++)
		edges += count_edges(j, i);
	memset(j->alike, 0, classes * sizeof *j->alike);
	if (edges >= UINT32_MAX)
		return KM_ELIMIT;
	j->edges = km_arena_raw(j->mem, edges, sizeof *j->edges);
	j->pick = km_arena_raw(j->mem, edges, sizeof *j->pick);
	j->place = km_arena_alloc(j->mem, places, sizeof *j->place);
	return j->edges && j->pick && j->place ? KM_OK : KM_ENOMEM;
}

static enum km_status make_edges(struct job *j)
{
	enum km_status st = make_room(j);
	uint32_t at = 0;

	for (size_t i = 0; i < j->n && st == KM_OK; i++)
		for (int32_t k = 0; k < j->seats[i].slot->count; k++) {
			if (!open_piece(&j->seats[i].pieces[k]))
				continue;
			j->place[at].seat = (uint32_t)i;
			j->place[at].piece = (uint32_t)k;
			edges_of(j, at++, i);
		}
	return st;
}

/* Give a place what was picked for it. */
static enum km_status give(struct job *j, struct km_arena *mem, uint32_t place,
			   uint32_t pick)
{
	uint32_t at = j->place[place].seat;
	struct km_candidates *c = &j->of[at];
	struct km_piece *piece = &j->seats[at].pieces[j->place[place].piece];

	piece->match = pick < c->n ? km_candidates_match(mem, c, pick)
				   : j->pins[pick - c->n].match;
	if (!piece->match)
		return KM_ENOMEM;
	piece->pinned = is_pinned(j, &j->seats[at], piece->match->tool);
	return KM_OK;
}

static enum km_status solve(struct job *j, struct km_arena *mem)
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
	for (uint32_t i = 0; i < j->n_places && st == KM_OK; i++)
		if (edge_of[i] != KM_ASSIGN_OPEN)
			st = give(j, mem, i, j->pick[edge_of[i]]);
	return st;
}

enum km_status km_allocate(struct km_arena *mem, const struct km_party *parties,
			   struct km_seat *seats, struct km_candidates *of,
			   size_t n,
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
		st = rank_lists(&j);
	if (st == KM_OK)
		st = number_levels(&j, n_parties);
	if (st == KM_OK)
		st = make_edges(&j);
	if (st == KM_OK)
		st = solve(&j, mem);
	km_arena_free(j.mem);
	return st;
}
