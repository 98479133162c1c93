/* SPDX-License-Identifier: MIT */
#include "audit/explain.h"

#include "audit/allocate.h"
#include "match/assign.h"

/* One tool in one slot. */
struct pairing {
	uint32_t slot, tool;
	enum km_explained how;
	uint32_t n_differ, n_agree;
};

struct work {
	struct km_arena *scratch;
	const struct km_found *e;
	const struct km_kit *kit;
	struct km_rules rules;
	struct pairing *pair;		/* by slot, then by tool */
	size_t n_pairs;
	uint32_t *slot_of;		/* of a place */
	uint32_t n_places;
	struct km_assign_edge *edge;
	uint32_t *pair_of;		/* of an edge */
	size_t n_edges;
	uint32_t *edge_of;		/* of a place */
};

/* ------------------------------------------------------------------ */
/* The tools                                                           */

enum km_status km_found_init(struct km_arena *mem,
			     const struct km_tool *const *tools, uint32_t n,
			     const struct km_prices *prices,
			     struct km_found *out)
{
	struct km_found e = { .tools = tools, .n = n };
	struct km_size_book *book = km_arena_alloc(mem, 1, sizeof *book);
	struct km_readings *read = km_arena_alloc(mem, n, sizeof *read);

	e.things = km_arena_alloc(mem, n, sizeof *e.things);
	if (!book || !read || !e.things || !km_size_book_init(book, mem))
		return KM_ENOMEM;
	e.book = book;
	if (prices) {
		e.superseded = prices->superseded;
		e.n_superseded = prices->n_superseded;
	}
	for (uint32_t i = 0; i < n; i++) {
		km_readings_take(&read[i], &tools[i]->traits, book);
		e.things[i] = (struct km_thing){ .traits = &tools[i]->traits,
						 .tool = tools[i],
						 .readings = &read[i] };
	}
	*out = e;
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Comparisons                                                         */

/* What a comparison tells: the aspects of the tool as it was made. */
static void read_match(const struct km_match *m, struct pairing *p)
{
	bool unknown = false;

	p->n_differ = p->n_agree = 0;
	for (int i = KM_ASP_SIZES; i <= KM_ASP_HANDLE_COLOUR; i++) {
		const struct km_comparison *on = &m->on[i];

		unknown |= on->letter == KM_NOT_KNOWN;
		if (on->letter == KM_FAILS)
			p->n_differ++;
		else if (on->outcome == KM_AGREES || on->outcome == KM_WITHIN)
			p->n_agree++;
	}
	p->how = p->n_differ ? KM_EXPLAINS_AS_VARIANT
		 : unknown ? KM_EXPLAINS_PARTLY : KM_EXPLAINS;
}

static enum km_status compare_all(struct work *w)
{
	size_t room = (size_t)w->kit->n_slots * w->e->n;
	struct km_match m;

	w->pair = km_arena_raw(w->scratch, room, sizeof *w->pair);
	if (!w->pair)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < w->kit->n_slots; i++) {
		const struct km_slot *s = &w->kit->slots[i];

		for (uint32_t k = 0; k < w->e->n && !s->unused; k++) {
			const struct km_thing *t = &w->e->things[k];
			struct pairing *p = &w->pair[w->n_pairs];

			if (!km_compare_is_candidate(&w->rules, s, t))
				continue;
			km_compare(&w->rules, s, t, &m);
			p->slot = i;
			p->tool = k;
			read_match(&m, p);
			w->n_pairs++;
		}
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* The assignment                                                      */

enum { SEATED, DIFFER, FIRM, AGREE, KEYS };

static bool counts(const struct km_slot *s)
{
	return s->durable && !s->unused && km_slot_is_firm(s);
}

/* A slot has no use for more pieces than there are tools. */
static uint32_t pieces_of(const struct work *w, const struct km_slot *s)
{
	uint32_t n = (uint32_t)s->count;

	return s->unused ? 0 : n < w->e->n ? n : w->e->n;
}

/* The places, and room for the edges. */
static enum km_status make_room(struct work *w)
{
	size_t places = 0, edges = 0;

	for (uint32_t i = 0; i < w->kit->n_slots; i++)
		places += pieces_of(w, &w->kit->slots[i]);
	for (size_t k = 0; k < w->n_pairs; k++)
		edges += pieces_of(w, &w->kit->slots[w->pair[k].slot]);
	w->slot_of = km_arena_raw(w->scratch, places, sizeof *w->slot_of);
	w->edge_of = km_arena_raw(w->scratch, places, sizeof *w->edge_of);
	w->edge = km_arena_raw(w->scratch, edges, sizeof *w->edge);
	w->pair_of = km_arena_raw(w->scratch, edges, sizeof *w->pair_of);
	if (!w->slot_of || !w->edge_of || !w->edge || !w->pair_of)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < w->kit->n_slots; i++)
		for (uint32_t k = pieces_of(w, &w->kit->slots[i]); k; k--)
			w->slot_of[w->n_places++] = i;
	return KM_OK;
}

static void add_edges(struct work *w)
{
	const struct pairing *p = w->pair, *end = p + w->n_pairs;

	for (uint32_t i = 0; i < w->n_places; i++) {
		const struct pairing *from;

		while (p < end && p->slot < w->slot_of[i])
			p++;
		for (from = p; from < end && from->slot == w->slot_of[i];
		     from++) {
			bool good = from->how < KM_EXPLAINS_AS_VARIANT;

			w->pair_of[w->n_edges] = (uint32_t)(from - w->pair);
			/* explained, then seated: one sum tells both */
			w->edge[w->n_edges++] = (struct km_assign_edge){
				.place = i, .tool = from->tool,
				.key = { SEATED, DIFFER, FIRM, AGREE },
				.gain = { 1 + good * ((int64_t)w->e->n + 1),
					  -(int64_t)from->n_differ,
					  counts(&w->kit->slots[from->slot]),
					  from->n_agree },
			};
		}
	}
}

static enum km_status seat(struct work *w)
{
	struct km_assign p = { .nkeys = KEYS, .ntools = w->e->n };
	enum km_status st = make_room(w);

	if (st != KM_OK)
		return st;
	add_edges(w);
	p.nplaces = w->n_places;
	p.nedges = w->n_edges;
	p.edge = w->edge;
	return km_assign_solve(w->scratch, &p, w->edge_of);
}

/* ------------------------------------------------------------------ */
/* What it comes to                                                    */

static void tally_tool(struct km_kit_rank *out, const struct pairing *p)
{
	out->n_full += p->how == KM_EXPLAINS;
	out->n_partly += p->how == KM_EXPLAINS_PARTLY;
	out->n_variant += p->how == KM_EXPLAINS_AS_VARIANT;
	out->n_differ += p->n_differ;
	out->n_agree += p->n_agree;
}

static void tally(const struct work *w, struct km_kit_rank *out)
{
	uint32_t seated = 0, firm = 0;

	out->n_full = out->n_partly = out->n_variant = 0;
	out->n_differ = out->n_agree = out->n_places = 0;
	for (uint32_t i = 0; i < w->kit->n_slots; i++)
		if (counts(&w->kit->slots[i]))
			out->n_places += (uint32_t)w->kit->slots[i].count;
	for (uint32_t i = 0; i < w->n_places; i++) {
		if (w->edge_of[i] == KM_ASSIGN_OPEN)
			continue;
		tally_tool(out, &w->pair[w->pair_of[w->edge_of[i]]]);
		firm += counts(&w->kit->slots[w->slot_of[i]]);
		seated++;
	}
	out->n_explained = out->n_full + out->n_partly;
	out->n_stray = w->e->n - seated;
	out->n_empty = out->n_places - firm;
}

static enum km_status keep_tools(const struct work *w, struct km_arena *keep,
				 struct km_explained_tool **out)
{
	struct km_explained_tool *v = km_arena_alloc(keep, w->e->n, sizeof *v);

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < w->e->n; i++)
		v[i].how = KM_EXPLAINS_NOT;
	for (uint32_t i = 0; i < w->n_places; i++) {
		const struct pairing *p;
		struct km_match *m;

		if (w->edge_of[i] == KM_ASSIGN_OPEN)
			continue;
		p = &w->pair[w->pair_of[w->edge_of[i]]];
		m = km_arena_alloc(keep, 1, sizeof *m);
		if (!m)
			return KM_ENOMEM;
		km_compare(&w->rules, &w->kit->slots[p->slot],
			   &w->e->things[p->tool], m);
		v[p->tool] = (struct km_explained_tool){
			.how = p->how, .slot = &w->kit->slots[p->slot],
			.match = m, .n_differ = p->n_differ,
			.n_agree = p->n_agree };
	}
	*out = v;
	return KM_OK;
}

static enum km_status keep_empty(const struct work *w, struct km_arena *keep,
				 struct km_kit_rank *out)
{
	uint32_t n = w->kit->n_slots, *pieces;
	const struct km_slot **v = km_arena_alloc(keep, n, sizeof *v);

	pieces = km_arena_alloc(w->scratch, n, sizeof *pieces);
	if (!v || !pieces)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < w->n_places; i++)
		pieces[w->slot_of[i]] += w->edge_of[i] != KM_ASSIGN_OPEN;
	out->n_empty_slots = 0;
	for (uint32_t i = 0; i < n; i++)
		if (counts(&w->kit->slots[i]) &&
		    pieces[i] < (uint32_t)w->kit->slots[i].count)
			v[out->n_empty_slots++] = &w->kit->slots[i];
	out->empty = v;
	return KM_OK;
}

enum km_status km_kit_explain(struct km_arena *keep, struct km_arena *scratch,
			      const struct km_found *e,
			      const struct km_kit *kit,
			      struct km_kit_rank *out)
{
	struct work w = { .scratch = scratch, .e = e, .kit = kit };
	struct km_explained_tool *tools = NULL;
	enum km_status st;

	km_arena_reset(scratch);
	km_rules_init(&w.rules, kit, KM_AS_DELIVERED);
	w.rules.book = e->book;
	w.rules.superseded = e->superseded;
	w.rules.n_superseded = e->n_superseded;
	st = compare_all(&w);
	if (st == KM_OK)
		st = seat(&w);
	if (st == KM_OK)
		tally(&w, out);
	if (st == KM_OK && keep)
		st = keep_tools(&w, keep, &tools);
	if (st == KM_OK && keep)
		st = keep_empty(&w, keep, out);
	out->tools = tools;
	return st;
}
