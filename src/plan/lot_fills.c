/* SPDX-License-Identifier: MIT */
#include "plan/lot_fills.h"

#include <string.h>

struct filler {
	const struct km_joint *j;
	uint32_t charge;
	const struct km_offer **thing;	/* that the lot holds and a way is of */
	uint32_t *goes_to;		/* of a thing: its place, or none */
	uint8_t *tried;			/* of a thing, for one place */
	uint32_t n;
};

/* The thing of an option, if it is out of the lot; NULL. */
static const struct km_offer *thing_of(const struct filler *f, uint32_t option)
{
	const struct km_solve_option *o = &f->j->p.option[option];
	const struct km_way *w = f->j->way[option];

	for (uint32_t k = 0; w && w->match && k < o->nuses; k++)
		if (o->use[k].charge == f->charge)
			return w->match->offer;
	return NULL;
}

static uint32_t index_of(struct filler *f, const struct km_offer *o)
{
	for (uint32_t i = 0; i < f->n; i++)
		if (f->thing[i] == o)
			return i;
	f->thing[f->n] = o;
	f->goes_to[f->n] = KM_SOLVE_NONE;
	return f->n++;
}

/* Find a thing for a place, moving others on where that helps; no deeper than
 * there are things. */
static bool fill(struct filler *f, uint32_t place)
{
	const struct km_joint *j = f->j;

	for (uint32_t o = j->first[place];
	     o < j->first[place] + j->count[place]; o++) {
		const struct km_offer *thing = thing_of(f, o);
		uint32_t i;

		if (!thing)
			continue;
		i = index_of(f, thing);
		if (f->tried[i])
			continue;
		f->tried[i] = 1;
		if (f->goes_to[i] == KM_SOLVE_NONE || fill(f, f->goes_to[i])) {
			f->goes_to[i] = place;
			return true;
		}
	}
	return false;
}

enum km_status km_lot_fills(struct km_arena *mem, const struct km_joint *j,
			    uint32_t charge, uint32_t *out)
{
	uint32_t n = j->p.noptions;
	struct filler f = {
		.j = j, .charge = charge,
		.thing = km_arena_alloc(mem, n, sizeof(*f.thing)),
		.goes_to = km_arena_alloc(mem, n, sizeof *f.goes_to),
		.tried = km_arena_alloc(mem, n, 1),
	};

	if (!f.thing || !f.goes_to || !f.tried)
		return KM_ENOMEM;
	*out = 0;
	for (uint32_t i = 0; i < j->p.nplaces; i++) {
		memset(f.tried, 0, n);
		*out += fill(&f, i);
	}
	return KM_OK;
}
