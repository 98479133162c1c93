/* SPDX-License-Identifier: MIT */
#include "audit/given.h"

#include <stdlib.h>

static int by_tool(const void *a, const void *b)
{
	const struct km_holder *x = a, *y = b;
	uintptr_t p = (uintptr_t)x->tool, q = (uintptr_t)y->tool;

	return (p > q) - (p < q);
}

bool km_piece_waits(const struct km_piece *p)
{
	return p->expected || p->coming ||
	       (p->match && p->match->tool &&
		(p->match->tool->status == KM_LENT ||
		 p->match->tool->status == KM_AT_PLATER));
}

bool km_piece_settled(const struct km_piece *p)
{
	return p->match &&
	       (p->match->verdict == KM_RIGHT || km_piece_waits(p));
}

enum km_status km_given_list(struct km_arena *mem, const struct km_seat *seats,
			     size_t n, bool settled_only, struct km_given *out)
{
	struct km_given g = { NULL, 0 };
	size_t room = 0;

	for (size_t i = 0; i < n; i++)
		room += (size_t)seats[i].slot->count;
	g.v = km_arena_alloc(mem, room, sizeof *g.v);
	if (!g.v)
		return KM_ENOMEM;
	for (size_t i = 0; i < n; i++)
		for (int32_t k = 0; k < seats[i].slot->count; k++) {
			const struct km_match *m = seats[i].pieces[k].match;

			if (m && (!settled_only ||
				  km_piece_settled(&seats[i].pieces[k])))
				g.v[g.n++] = (struct km_holder){
					m->tool, seats[i].slot,
					seats[i].party };
		}
	qsort(g.v, g.n, sizeof *g.v, by_tool);
	*out = g;
	return KM_OK;
}

const struct km_holder *km_given_find(const struct km_given *g,
				      const struct km_tool *t)
{
	struct km_holder key = { .tool = t };

	return g->n ? bsearch(&key, g->v, g->n, sizeof key, by_tool) : NULL;
}
