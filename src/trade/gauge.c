/* SPDX-License-Identifier: MIT */
#include "trade/gauge.h"

/* Room for the lists, each as long as the book at most. */
static bool make_room(struct km_gauge *g, const struct km_size_book *book,
		      struct km_arena *a)
{
	g->inside = km_arena_alloc(a, book->n, sizeof *g->inside);
	g->spread = km_arena_alloc(a, book->n, sizeof *g->spread);
	g->heads = km_arena_alloc(a, book->n, sizeof *g->heads);
	g->may_be = km_arena_alloc(a, book->n, sizeof *g->may_be);
	return g->inside && g->spread && g->heads && g->may_be;
}

/* A sound opening of the size, or one that is spread and still bites. */
static void add_opening(struct km_gauge *g, const struct km_size *s,
			const struct km_size_book *book)
{
	struct km_opening_check c = km_opening_check(g->reading, s, book);

	if (c.is == KM_OPENING_WITHIN)
		g->inside[g->n_inside++] = s;
	else if (c.is == KM_OPENING_SPREAD || c.is == KM_OPENING_UNFINISHED)
		if (km_fit_reading(g->reading, s).worst.num > 0)
			g->spread[g->n_spread++] = (struct km_gauge_spread){
				s, c.over_nominal_nm, c.beyond_nm
			};
}

/* A head that it goes on at least sometimes, and grips at all. */
static void add_head(struct km_gauge *g, const struct km_size *s)
{
	struct km_fit f = g->asked ? km_fit_size(g->asked, s)
				   : km_fit_reading(g->reading, s);

	if (f.verdict < KM_SERVE_NOT_ON && f.worst.num > 0)
		g->heads[g->n_heads++] = (struct km_gauge_head){ s, f };
}

/* The book is in order of width, so the last below and first above count. */
static void add_near(struct km_gauge *g, const struct km_size *s)
{
	static const enum km_system systems[KM_GAUGE_SYSTEMS] = {
		KM_SYS_METRIC, KM_SYS_AF, KM_SYS_W, KM_SYS_BA
	};

	for (int i = 0; i < KM_GAUGE_SYSTEMS; i++) {
		struct km_gauge_near *n = &g->near[i];

		n->system = systems[i];
		if (s->system != systems[i])
			continue;
		if (s->nominal_nm <= g->reading.nm) {
			n->below = s;
			n->over_below_nm = g->reading.nm - s->nominal_nm;
		} else if (!n->above) {
			n->above = s;
			n->under_above_nm = s->nominal_nm - g->reading.nm;
		}
	}
}

static enum km_status fill(struct km_gauge *g, const struct km_size_book *book,
			   struct km_arena *a)
{
	if (!make_room(g, book, a))
		return KM_ENOMEM;
	for (uint32_t i = 0; i < book->n; i++) {
		add_opening(g, &book->v[i], book);
		add_head(g, &book->v[i]);
		add_near(g, &book->v[i]);
	}
	return KM_OK;
}

enum km_status km_gauge_length(struct km_span reading,
			       const struct km_size_book *book,
			       struct km_arena *a, struct km_gauge *out)
{
	struct km_gauge g = { .reading = reading };
	enum km_status st;
	uint32_t inside;

	if (km_span_low(reading) <= 0 || km_span_high(reading) > KM_MM(1000))
		return KM_ERANGE;
	st = fill(&g, book, a);
	if (st != KM_OK)
		return st;
	g.n_may_be = km_opening_identify(reading, book, g.may_be, book->n,
					 &inside);
	g.undecided = g.n_may_be > 1;
	*out = g;
	return KM_OK;
}

enum km_status km_gauge_size(const struct km_size *size,
			     const struct km_size_book *book,
			     struct km_arena *a, struct km_gauge *out)
{
	const struct km_opening *o = &size->opening;
	struct km_gauge g = { .asked = size };
	enum km_status st;

	if (!km_size_is_hexagon(size) || o->basis == KM_BASIS_NONE)
		return KM_EINPUT;
	g.reading.nm = o->min_nm + (o->max_nm - o->min_nm) / 2;
	g.reading.minus_nm = (int32_t)(g.reading.nm - o->min_nm);
	g.reading.plus_nm = (int32_t)(o->max_nm - g.reading.nm);
	st = fill(&g, book, a);
	if (st == KM_OK)
		*out = g;
	return st;
}
