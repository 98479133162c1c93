/* SPDX-License-Identifier: MIT */
#include "match/graph.h"

#include <stdbool.h>

#include "base/arena.h"

#define FAR INT64_MAX

/* ---- building ---------------------------------------------------------- */

static void *words(struct km_arena *mem, size_t n)
{
	return km_arena_alloc(mem, n + 1, sizeof(uint32_t));
}

static void *longs(struct km_arena *mem, size_t n)
{
	return km_arena_alloc(mem, n + 1, sizeof(int64_t));
}

/*
 * Counting sort: turn start[k + 1] = how many have key k into the place where
 * each key begins; returns how many keys occur.
 */
static uint32_t starts(uint32_t *start, uint32_t nkeys)
{
	uint32_t used = 0;

	for (uint32_t k = 0; k < nkeys; k++) {
		used += start[k + 1] > 0;
		start[k + 1] += start[k];
	}
	return used;
}

/* The edge numbers by tool; *used is the number of tools that have one. */
static uint32_t *by_tool(struct km_arena *mem, const struct km_assign *p,
			 uint32_t *used)
{
	uint32_t *start = words(mem, (size_t)p->ntools + 1);
	uint32_t *sorted = words(mem, p->nedges);

	if (!start || !sorted)
		return NULL;
	for (size_t i = 0; i < p->nedges; i++)
		start[p->edge[i].tool + 1]++;
	*used = starts(start, p->ntools);
	for (uint32_t i = 0; i < p->nedges; i++)
		sorted[start[p->edge[i].tool]++] = i;
	return sorted;
}

static bool make_room(struct km_graph *g, struct km_arena *mem, size_t narcs)
{
	size_t rows = g->nrows, cols = g->ncols;

	g->arc = km_arena_alloc(mem, narcs + 1, sizeof *g->arc);
	g->first = words(mem, rows + 1);
	g->end = words(mem, rows);
	g->order = words(mem, rows);
	g->root = words(mem, rows);
	g->u = longs(mem, rows);
	g->v = longs(mem, cols);
	g->got = words(mem, rows);
	g->holder = words(mem, cols);
	g->dist = longs(mem, cols);
	g->from = words(mem, cols);
	g->filler = words(mem, cols);
	g->seen = words(mem, cols);
	g->list = words(mem, cols);
	g->heap = words(mem, cols);
	g->pos = words(mem, cols);
	return g->arc && g->first && g->end && g->order && g->root && g->u &&
	       g->v && g->got && g->holder && g->dist && g->from &&
	       g->filler && g->seen && g->list && g->heap && g->pos;
}

/* Lay the edges, sorted by tool, out by place: the order stays by tool. */
static enum km_status lay_arcs(struct km_graph *g, const struct km_assign *p,
			       const uint32_t *sorted)
{
	uint32_t col = 0;

	for (size_t i = 0; i < p->nedges; i++)
		g->first[p->edge[i].place + 1]++;
	starts(g->first, g->nrows);
	for (uint32_t r = 0; r < g->nrows; r++)
		g->end[r] = g->first[r];
	for (size_t i = 0; i < p->nedges; i++) {
		const struct km_assign_edge *e = &p->edge[sorted[i]];
		uint32_t *end = &g->end[e->place];

		if (i > 0 && p->edge[sorted[i - 1]].tool != e->tool)
			col++;
		if (*end > g->first[e->place] && g->arc[*end - 1].col == col)
			return KM_ERANGE;
		g->arc[(*end)++] = (struct km_arc){ 0, col, sorted[i] };
	}
	return KM_OK;
}

static uint32_t root_of(uint32_t *root, uint32_t r)
{
	while (root[r] != r) {
		root[r] = root[root[r]];
		r = root[r];
	}
	return r;
}

/* Join the rows that share a column; the smallest row is the root. */
static void join_rows(struct km_graph *g)
{
	uint32_t *mate = g->holder;	/* a row seen with this column */

	for (uint32_t c = 0; c < g->ncols; c++)
		mate[c] = KM_NOBODY;
	for (uint32_t r = 0; r < g->nrows; r++)
		g->root[r] = r;
	for (uint32_t r = 0; r < g->nrows; r++) {
		for (uint32_t i = g->first[r]; i < g->end[r]; i++) {
			uint32_t c = g->arc[i].col, a, b;

			if (mate[c] == KM_NOBODY)
				mate[c] = r;
			a = root_of(g->root, mate[c]);
			b = root_of(g->root, r);
			g->root[a > b ? a : b] = a > b ? b : a;
		}
	}
	for (uint32_t r = 0; r < g->nrows; r++)
		g->root[r] = root_of(g->root, r);
}

static void order_rows(struct km_graph *g, uint32_t *start)
{
	for (uint32_t r = 0; r < g->nrows; r++)
		start[g->root[r] + 1]++;
	starts(start, g->nrows);
	for (uint32_t r = 0; r < g->nrows; r++)
		g->order[start[g->root[r]]++] = r;
}

enum km_status km_graph_build(struct km_graph *g, struct km_arena *mem,
			      const struct km_assign *p)
{
	uint32_t *start = words(mem, (size_t)p->nplaces + 1);
	uint32_t *sorted = by_tool(mem, p, &g->ncols);
	enum km_status st;

	g->nrows = p->nplaces;
	if (!start || !sorted || !make_room(g, mem, p->nedges))
		return KM_ENOMEM;
	st = lay_arcs(g, p, sorted);
	if (st != KM_OK)
		return st;
	join_rows(g);
	order_rows(g, start);
	for (uint32_t c = 0; c < g->ncols; c++)
		g->dist[c] = FAR;
	return KM_OK;
}

/* ---- heap of columns by distance --------------------------------------- */

static void heap_put(struct km_graph *g, uint32_t at, uint32_t col)
{
	g->heap[at] = col;
	g->pos[col] = at;
}

/* Column col, at or above its place in the heap, moves towards the root. */
static void heap_rise(struct km_graph *g, uint32_t at, uint32_t col)
{
	while (at > 0 && g->dist[g->heap[(at - 1) / 2]] > g->dist[col]) {
		heap_put(g, at, g->heap[(at - 1) / 2]);
		at = (at - 1) / 2;
	}
	heap_put(g, at, col);
}

/* Take the nearest of n columns. */
static uint32_t heap_pop(struct km_graph *g, uint32_t n)
{
	uint32_t top = g->heap[0], last = g->heap[--n], at = 0, kid;

	while ((kid = 2 * at + 1) < n) {
		if (kid + 1 < n &&
		    g->dist[g->heap[kid + 1]] < g->dist[g->heap[kid]])
			kid++;
		if (g->dist[g->heap[kid]] >= g->dist[last])
			break;
		heap_put(g, at, g->heap[kid]);
		at = kid;
	}
	heap_put(g, at, last);
	return top;
}

/* ---- greatest weight --------------------------------------------------- */

/* One search for the cheapest way to take in a row. */
struct search {
	int64_t best;		/* length of the shortest way out so far */
	uint32_t col;		/* it ends at this free column ... */
	uint32_t row;		/* ... or, col KM_NOBODY, by opening this row */
	uint32_t nheap;		/* columns in the heap */
	uint32_t nlist;		/* columns reached, in g->list */
};

/* Reach out from a row at distance d along its arcs. */
static void scan_row(struct km_graph *g, struct search *s, uint32_t row,
		     int64_t d)
{
	if (d + g->u[row] < s->best) {
		s->best = d + g->u[row];
		s->col = KM_NOBODY;
		s->row = row;
	}
	for (uint32_t i = g->first[row]; i < g->end[row] && s->best > d; i++) {
		uint32_t c = g->arc[i].col;
		int64_t nd = d + g->u[row] + g->v[c] - g->arc[i].weight;
		bool fresh = g->dist[c] == FAR;

		if (nd >= s->best || nd >= g->dist[c])
			continue;
		if (fresh)
			g->list[s->nlist++] = c;
		g->dist[c] = nd;
		g->from[c] = row;
		if (g->holder[c] == KM_NOBODY) {
			s->best = nd;
			s->col = c;
		} else {
			heap_rise(g, fresh ? s->nheap++ : g->pos[c], c);
		}
	}
}

/*
 * Shift the prices by the way found; forget the distances.  What was reached
 * below the length of the way was settled; the rest keeps its price.
 */
static void shift_prices(struct km_graph *g, const struct search *s)
{
	for (uint32_t i = 0; i < s->nlist; i++) {
		uint32_t c = g->list[i];
		int64_t gap = s->best - g->dist[c];

		if (gap > 0) {
			g->v[c] += gap;
			g->u[g->holder[c]] -= gap;
		}
		g->dist[c] = FAR;
	}
}

/* Hand the columns on along the way, back to the row it began with. */
static void hand_on(struct km_graph *g, const struct search *s, uint32_t start)
{
	uint32_t c = s->col;

	if (c == KM_NOBODY) {
		c = g->got[s->row];
		g->got[s->row] = KM_NOBODY;
		if (s->row == start)
			return;
	}
	for (;;) {
		uint32_t row = g->from[c], next = g->got[row];

		g->got[row] = c;
		g->holder[c] = row;
		if (row == start)
			return;
		c = next;
	}
}

/* Take a row in, so that all rows taken in so far are matched best. */
static void take_in(struct km_graph *g, uint32_t start)
{
	struct search s = { .best = FAR, .col = KM_NOBODY, .row = start };

	g->u[start] = 0;
	for (uint32_t i = g->first[start]; i < g->end[start]; i++) {
		const struct km_arc *a = &g->arc[i];

		if (a->weight - g->v[a->col] > g->u[start])
			g->u[start] = a->weight - g->v[a->col];
	}
	scan_row(g, &s, start, 0);
	while (s.nheap > 0 && g->dist[g->heap[0]] < s.best) {
		uint32_t c = heap_pop(g, s.nheap--);

		scan_row(g, &s, g->holder[c], g->dist[c]);
	}
	shift_prices(g, &s);
	g->u[start] -= s.best;
	hand_on(g, &s, start);
}

void km_graph_match(struct km_graph *g, struct km_part part)
{
	for (uint32_t k = part.lo; k < part.hi; k++) {
		uint32_t r = g->order[k];

		g->got[r] = KM_NOBODY;
		for (uint32_t i = g->first[r]; i < g->end[r]; i++) {
			g->v[g->arc[i].col] = 0;
			g->holder[g->arc[i].col] = KM_NOBODY;
		}
	}
	for (uint32_t k = part.lo; k < part.hi; k++)
		take_in(g, g->order[k]);
}

void km_graph_tighten(struct km_graph *g, struct km_part part)
{
	for (uint32_t k = part.lo; k < part.hi; k++) {
		uint32_t r = g->order[k], keep = g->first[r];

		for (uint32_t i = g->first[r]; i < g->end[r]; i++) {
			struct km_arc a = g->arc[i];

			if (g->u[r] + g->v[a.col] == a.weight)
				g->arc[keep++] = a;
		}
		g->end[r] = keep;
	}
}
