/* SPDX-License-Identifier: MIT */
#include "match/index.h"

#include <stdlib.h>
#include <string.h>

#include "match/value.h"
#include "trade/kind.h"

/* Slots whose sizes are no hexagons, or that want none, have this bucket. */
#define BUCKET_OTHER 0

struct km_index_entry {
	const struct km_kind *kind;
	uint32_t bucket;
	uint32_t group;
};

/* ------------------------------------------------------------------ */
/* Groups                                                              */

/* The group of an equal slot seen before, by open addressing. */
static uint32_t *find_group(const struct km_index *x, uint32_t *table,
			    uint32_t mask, const struct km_party *party,
			    const struct km_slot *slot)
{
	uint64_t h = km_mix(km_slot_wants_hash(slot), (uintptr_t)party);

	for (uint32_t at = (uint32_t)(h >> 32) & mask;; at = (at + 1) & mask) {
		const struct km_group *g;

		if (!table[at])
			return &table[at];
		g = &x->groups[table[at] - 1];
		if (g->party == party &&
		    km_slot_wants_same(g->target.slot, slot))
			return &table[at];
	}
}

#define COMPARED 32	/* parties looked at for the same limits, at most */

/* The first party whose rules hold a condition to the same limits. */
static const struct km_rules *limits_like(const struct km_party *parties,
					  uint32_t i)
{
	const struct km_rules *r = &parties[i].rules;

	for (uint32_t k = 0; k < i && k < COMPARED; k++) {
		const struct km_rules *s = &parties[k].rules;

		if (r->standard == s->standard && r->rust == s->rust &&
		    r->pits == s->pits && r->plate_left == s->plate_left)
			return s;
	}
	return r;
}

static void join_group(struct km_index *x, uint32_t *entry, uint32_t at,
		       const struct km_party *party, const struct km_slot *slot,
		       const struct km_rules *limits)
{
	struct km_group *g;

	if (!*entry) {
		g = &x->groups[x->n_groups++];
		km_target_init(&g->target, &party->rules, slot);
		g->party = party;
		g->limits = limits;
		g->first = at;
		*entry = x->n_groups;
	}
	g = &x->groups[*entry - 1];
	g->places += (uint64_t)slot->count;
	x->group_of[at] = *entry - 1;
}

static enum km_status make_groups(struct km_index *x, struct km_arena *mem,
				  const struct km_party *parties, uint32_t n)
{
	uint32_t room = 4, at = 0, *table;
	uint64_t slots = 0;

	for (uint32_t i = 0; i < n; i++)
		slots += parties[i].kit->n_slots;
	if (slots >= UINT32_MAX / 4)
		return KM_ELIMIT;
	while (room < 2 * slots)
		room *= 2;
	x->n_slots = (uint32_t)slots;
	x->groups = km_arena_alloc(mem, slots + 1, sizeof *x->groups);
	x->group_of = km_arena_alloc(mem, slots + 1, sizeof *x->group_of);
	x->found = km_arena_alloc(mem, slots + 1, sizeof *x->found);
	table = km_arena_alloc(mem, room, sizeof *table);
	if (!x->groups || !x->group_of || !x->found || !table)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n; i++) {
		const struct km_rules *limits = limits_like(parties, i);

		for (uint32_t k = 0; k < parties[i].kit->n_slots; k++) {
			const struct km_slot *s = &parties[i].kit->slots[k];

			join_group(x, find_group(x, table, room - 1,
						 &parties[i], s),
				   at++, &parties[i], s, limits);
		}
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Entries                                                             */

static enum km_status add_entry(struct km_index *x, struct km_arena *mem,
				const struct km_kind *kind, uint32_t bucket,
				uint32_t group)
{
	if (x->n == x->room) {
		size_t room = x->room ? 2 * x->room : 64;
		struct km_index_entry *v = km_arena_raw(mem, room, sizeof *v);

		if (!v)
			return KM_ENOMEM;
		if (x->n)
			memcpy(v, x->v, x->n * sizeof *v);
		x->v = v;
		x->room = room;
	}
	x->v[x->n++] = (struct km_index_entry){ kind, bucket, group };
	return KM_OK;
}

static uint32_t bucket_of(const struct km_size *size)
{
	return size->bucket & KM_BUCKET_HEXAGON ? size->bucket : BUCKET_OTHER;
}

/* A group under one kind, once for each width that one of its ends may be. */
static enum km_status add_kind(struct km_index *x, struct km_arena *mem,
			       const struct km_kind *kind, uint32_t group)
{
	const struct km_target *t = &x->groups[group].target;
	const struct km_want *w = &t->slot->want[KM_A_SIZES];
	enum km_status st = KM_OK;

	if (!(t->wants >> KM_A_SIZES & 1) || w->state == KM_WANT_NONE ||
	    w->or_none || (km_kind_listed(kind) && !kind->sized))
		return add_entry(x, mem, kind, BUCKET_OTHER, group);
	for (uint32_t i = 0; i < w->n; i++)
		for (uint32_t k = 0; k < w->any[i].sizes.n && st == KM_OK; k++)
			st = add_entry(x, mem, kind,
				       bucket_of(w->any[i].sizes.v[k]), group);
	return st;
}

static int by_kind(const void *a, const void *b)
{
	const struct km_index_entry *x = a, *y = b;
	uintptr_t p = (uintptr_t)x->kind, q = (uintptr_t)y->kind;

	if (p != q)
		return p < q ? -1 : 1;
	if (x->bucket != y->bucket)
		return x->bucket < y->bucket ? -1 : 1;
	return (x->group > y->group) - (x->group < y->group);
}

enum km_status km_index_build(struct km_index *x, struct km_arena *mem,
			      const struct km_party *parties, uint32_t n)
{
	enum km_status st;

	*x = (struct km_index){ .groups = NULL };
	st = make_groups(x, mem, parties, n);
	for (uint32_t i = 0; i < x->n_groups && st == KM_OK; i++) {
		const struct km_slot *slot = x->groups[i].target.slot;
		const struct km_want *w = &slot->want[KM_A_TOOL];

		if (slot->unused || w->state != KM_WANT_ANY_OF)
			continue;
		for (uint32_t k = 0; k < w->n && st == KM_OK; k++)
			st = add_kind(x, mem, w->any[k].kind, i);
	}
	if (x->n && st == KM_OK)
		qsort(x->v, x->n, sizeof *x->v, by_kind);
	return st;
}

/* The first entry that is not before (kind, bucket). */
static size_t first_entry(const struct km_index *x, const struct km_kind *kind,
			  uint32_t bucket)
{
	struct km_index_entry key = { kind, bucket, 0 };
	size_t low = 0, high = x->n;

	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if (by_kind(&x->v[mid], &key) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	return low;
}

bool km_index_has(const struct km_index *x, const struct km_kind *kind)
{
	size_t at = first_entry(x, kind, 0);

	return at < x->n && x->v[at].kind == kind;
}

/* ------------------------------------------------------------------ */
/* How many to keep                                                    */

static uint32_t clamp(uint64_t n)
{
	return n < UINT32_MAX ? (uint32_t)n : UINT32_MAX;
}

/* Of the entries of one kind from `from` on: the places of their groups, each
 * group counted once; *end is where the kind ends. */
static uint64_t places_of(struct km_index *x, size_t from, size_t *end)
{
	uint64_t places = 0;
	size_t i = from;

	x->round++;
	for (; i < x->n && x->v[i].kind == x->v[from].kind; i++) {
		struct km_group *g = &x->groups[x->v[i].group];

		if (g->round != x->round)
			places += g->places;
		g->round = x->round;
	}
	*end = i;
	return places;
}

/* A group of several kinds keeps as many as all of them together ask for. */
enum km_status km_index_set_bounds(struct km_index *x, struct km_arena *mem,
				   uint64_t more, uint32_t not_ours)
{
	uint64_t *most = km_arena_alloc(mem, x->n_groups + (size_t)1,
					sizeof *most);

	if (!most)
		return KM_ENOMEM;
	for (size_t i = 0, end; i < x->n; i = end) {
		uint64_t places = places_of(x, i, &end);

		x->round++;
		for (size_t k = i; k < end; k++) {
			struct km_group *g = &x->groups[x->v[k].group];

			if (g->round != x->round)
				most[x->v[k].group] += places;
			g->round = x->round;
		}
	}
	for (uint32_t i = 0; i < x->n_groups; i++) {
		struct km_few *few = x->groups[i].few;

		few[0].most = clamp(most[i] + more);
		few[1].most = not_ours;
		few[0].limit = few[1].limit = KM_RANK_NONE;
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Which groups a tool may fill                                        */

static void list_range(struct km_index *x, const struct km_kind *kind,
		       uint32_t low, uint32_t high)
{
	for (size_t i = first_entry(x, kind, low); i < x->n; i++) {
		const struct km_index_entry *e = &x->v[i];
		struct km_group *g = &x->groups[e->group];

		if (e->kind != kind || e->bucket > high)
			return;
		if (g->round == x->round)
			continue;
		g->round = x->round;
		x->found[x->n_found++] = e->group;
	}
}

static void list_near(struct km_index *x, const struct km_kind *kind,
		      const struct km_size *size)
{
	if (size->bucket & KM_BUCKET_HEXAGON)
		list_range(x, kind,
			   size->bucket > KM_BUCKET_HEXAGON ? size->bucket - 1
							    : size->bucket,
			   size->bucket + 1);
}

void km_index_list(struct km_index *x, const struct km_kind *kind,
		   const struct km_readings *r)
{
	bool recorded = false;

	x->round++;
	x->n_found = 0;
	for (uint32_t i = 0; i < r->n; i++) {
		recorded |= r->v[i].marked || r->v[i].opening.nm > 0;
		if (r->v[i].marked)
			list_near(x, kind, r->v[i].marked);
		for (uint32_t k = 0; k < r->v[i].n_found; k++)
			list_near(x, kind, r->v[i].found[k]);
	}
	list_range(x, kind, BUCKET_OTHER, recorded ? BUCKET_OTHER : UINT32_MAX);
}
