/* SPDX-License-Identifier: MIT */
/* The smallest columns, by walks over the tight arcs. */
#include "match/graph.h"

#include <stdbool.h>

/*
 * A walk over columns: from x to y when the holder of x could take y instead.
 * One more node, nowhere, stands for "left over": from x to nowhere when x is
 * free or its holder may stay open; from nowhere to y when y may stay free,
 * or an open row (the filler) could take y.  Row p may then exchange what it
 * has for column c just if the walk leads from c to what it has.  Rows before
 * p are settled and take no part.
 */
struct walk {
	struct km_part rest;	/* p and the rows after it */
	uint32_t p;
	uint32_t goal;		/* the column p has, or nowhere */
	uint32_t mark;		/* seen[] of what was reached for this p */
	uint32_t nlist;
};

static void reach(struct km_graph *g, struct walk *w, uint32_t x, uint32_t y)
{
	if (g->seen[y] == w->mark)
		return;
	g->seen[y] = w->mark;
	g->from[y] = x;
	g->list[w->nlist++] = y;
}

static bool settled(const struct km_graph *g, const struct walk *w, uint32_t c)
{
	return g->holder[c] != KM_NOBODY && g->holder[c] < w->p;
}

/* From column x on, along the arcs of a row that could leave it; or, x being
 * nowhere, along those of an open row. */
static void reach_arcs(struct km_graph *g, struct walk *w, uint32_t x,
		       uint32_t row)
{
	for (uint32_t i = g->first[row];
	     i < g->end[row] && g->seen[w->goal] != w->mark; i++) {
		uint32_t y = g->arc[i].col;

		if (settled(g, w, y) || g->seen[y] == w->mark)
			continue;
		g->filler[y] = row;
		reach(g, w, x, y);
	}
}

static void reach_from_nowhere(struct km_graph *g, struct walk *w)
{
	for (uint32_t k = w->rest.lo; k < w->rest.hi; k++) {
		uint32_t r = g->order[k], c = g->got[r];

		if (c == KM_NOBODY) {
			reach_arcs(g, w, g->ncols, r);
		} else if (g->v[c] == 0 && g->seen[c] != w->mark) {
			g->filler[c] = KM_NOBODY;
			reach(g, w, g->ncols, c);
		}
	}
}

/* Does the walk lead from column c to the goal? */
static bool leads_home(struct km_graph *g, struct walk *w, uint32_t c)
{
	uint32_t at = w->nlist;

	reach(g, w, KM_NOBODY, c);
	while (at < w->nlist && g->seen[w->goal] != w->mark) {
		uint32_t x = g->list[at++], h;

		if (x == g->ncols) {
			reach_from_nowhere(g, w);
			continue;
		}
		h = g->holder[x];
		if (h == KM_NOBODY || g->u[h] == 0)
			reach(g, w, x, g->ncols);
		if (h != KM_NOBODY)
			reach_arcs(g, w, x, h);
	}
	return g->seen[w->goal] == w->mark;
}

/* Make the moves of the walk from c to the goal, last one first. */
static void move_all(struct km_graph *g, const struct walk *w, uint32_t c)
{
	uint32_t nowhere = g->ncols;

	for (uint32_t y = w->goal; y != c; y = g->from[y]) {
		uint32_t x = g->from[y];
		uint32_t row = x == nowhere ? g->filler[y] : g->holder[x];

		if (y != nowhere)
			g->holder[y] = row;
		if (row != KM_NOBODY)
			g->got[row] = y == nowhere ? KM_NOBODY : y;
	}
	g->holder[c] = w->p;
	g->got[w->p] = c;
}

static void settle_row(struct km_graph *g, struct walk *w)
{
	uint32_t has = g->got[w->p];

	w->goal = has == KM_NOBODY ? g->ncols : has;
	w->nlist = 0;
	for (uint32_t i = g->first[w->p]; i < g->end[w->p]; i++) {
		uint32_t c = g->arc[i].col;

		if (c == has)
			return;
		if (settled(g, w, c) || g->seen[c] == w->mark)
			continue;
		if (leads_home(g, w, c)) {
			move_all(g, w, c);
			return;
		}
	}
}

void km_graph_settle(struct km_graph *g, struct km_part part)
{
	for (uint32_t k = part.lo; k < part.hi; k++) {
		struct walk w = { .rest = { k, part.hi }, .p = g->order[k] };

		w.mark = ++g->mark;
		settle_row(g, &w);
	}
}
