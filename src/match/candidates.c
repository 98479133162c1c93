/* SPDX-License-Identifier: MIT */
#include "match/candidates.h"

#include <stdlib.h>
#include <string.h>

#include "base/num.h"
#include "base/str.h"
#include "trade/kind.h"

#define NOT_OURS_KEPT 3
#define SERIAL_TEXT 24

/* Slots whose sizes are no hexagons, or that want none, have this bucket. */
#define BUCKET_OTHER 0

/* The slots of a run by kind, then by the bucket of a size they want. */
struct entry {
	const struct km_kind *kind;
	uint32_t bucket;
	uint32_t seat;			/* index in (party, slot) order */
};

/* The best so far, the worst of them on top. */
struct heap {
	struct km_match **v;
	uint32_t n, room, most;
};

struct seat {
	struct km_target target;
	const struct km_party *party;
	struct heap usable, not_ours;
	size_t tried;			/* number of the last tool held to it */
};

struct search {
	struct km_arena *mem;
	const struct km_filter *filter;
	const struct km_party *parties;
	uint32_t n_parties;
	char (*serial)[SERIAL_TEXT];	/* of each party's machine, or "" */
	struct seat *seats;
	uint32_t n_seats;
	struct entry *entries;
	size_t n_entries, room;
	struct km_match trial;
};

/* ------------------------------------------------------------------ */
/* The index                                                           */

static enum km_status add_entry(struct search *s, const struct km_kind *kind,
				uint32_t bucket, uint32_t seat)
{
	if (s->n_entries == s->room) {
		size_t room = s->room ? 2 * s->room : 64;
		struct entry *v = km_arena_raw(s->mem, room, sizeof *v);

		if (!v)
			return KM_ENOMEM;
		if (s->n_entries)
			memcpy(v, s->entries, s->n_entries * sizeof *v);
		s->entries = v;
		s->room = room;
	}
	s->entries[s->n_entries++] = (struct entry){ kind, bucket, seat };
	return KM_OK;
}

static uint32_t bucket_of(const struct km_size *size)
{
	return size->bucket & KM_BUCKET_HEXAGON ? size->bucket : BUCKET_OTHER;
}

/* A slot under one kind, once for each width that one of its ends may be. */
static enum km_status add_kind(struct search *s, const struct km_kind *kind,
			       uint32_t seat)
{
	const struct km_want *w = &s->seats[seat].target.slot->want[KM_A_SIZES];
	enum km_status st = KM_OK;

	if (!(s->seats[seat].target.wants >> KM_A_SIZES & 1) ||
	    w->state == KM_WANT_NONE || w->or_none ||
	    (km_kind_listed(kind) && !kind->sized))
		return add_entry(s, kind, BUCKET_OTHER, seat);
	for (uint32_t i = 0; i < w->n; i++)
		for (uint32_t k = 0; k < w->any[i].sizes.n && st == KM_OK; k++)
			st = add_entry(s, kind,
				       bucket_of(w->any[i].sizes.v[k]), seat);
	return st;
}

static int by_kind(const void *a, const void *b)
{
	const struct entry *x = a, *y = b;
	uintptr_t p = (uintptr_t)x->kind, q = (uintptr_t)y->kind;

	if (p != q)
		return p < q ? -1 : 1;
	if (x->bucket != y->bucket)
		return x->bucket < y->bucket ? -1 : 1;
	return (x->seat > y->seat) - (x->seat < y->seat);
}

static enum km_status build_index(struct search *s)
{
	for (uint32_t i = 0; i < s->n_seats; i++) {
		const struct km_slot *slot = s->seats[i].target.slot;
		const struct km_want *w = &slot->want[KM_A_TOOL];

		if (slot->unused || w->state != KM_WANT_ANY_OF)
			continue;
		for (uint32_t k = 0; k < w->n; k++) {
			enum km_status st = add_kind(s, w->any[k].kind, i);

			if (st != KM_OK)
				return st;
		}
	}
	if (s->n_entries)
		qsort(s->entries, s->n_entries, sizeof *s->entries, by_kind);
	return KM_OK;
}

/* The first entry that is not before (kind, bucket). */
static size_t first_entry(const struct search *s, const struct km_kind *kind,
			  uint32_t bucket)
{
	struct entry key = { kind, bucket, 0 };
	size_t low = 0, high = s->n_entries;

	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if (by_kind(&s->entries[mid], &key) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	return low;
}

/* ------------------------------------------------------------------ */
/* How many to keep                                                    */

/* Places of the slots that take a kind; each slot counts once. */
static uint64_t places_of(const struct search *s, const struct km_kind *kind,
			  uint8_t *counted)
{
	size_t from = first_entry(s, kind, 0);
	uint64_t places = 0;

	for (size_t i = from; i < s->n_entries && s->entries[i].kind == kind;
	     i++) {
		uint32_t seat = s->entries[i].seat;

		if (!counted[seat])
			places += (uint64_t)s->seats[seat].target.slot->count;
		counted[seat] = 1;
	}
	for (size_t i = from; i < s->n_entries && s->entries[i].kind == kind;
	     i++)
		counted[s->entries[i].seat] = 0;
	return places;
}

static uint32_t clamp(uint64_t n)
{
	return n < UINT32_MAX ? (uint32_t)n : UINT32_MAX;
}

/* A slot of several kinds keeps as many as all of them together ask for. */
static enum km_status set_bounds(struct search *s, uint64_t spare)
{
	uint8_t *counted = km_arena_alloc(s->mem, s->n_seats + 1, 1);

	if (!counted)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_seats; i++) {
		s->seats[i].usable.most = clamp(spare);
		s->seats[i].not_ours.most = NOT_OURS_KEPT;
	}
	for (size_t i = 0; i < s->n_entries;) {
		const struct km_kind *kind = s->entries[i].kind;
		uint64_t places = places_of(s, kind, counted);
		size_t from = i;

		for (; i < s->n_entries && s->entries[i].kind == kind; i++) {
			struct seat *seat = &s->seats[s->entries[i].seat];

			if (counted[s->entries[i].seat])
				continue;
			counted[s->entries[i].seat] = 1;
			seat->usable.most = clamp(places + seat->usable.most);
		}
		for (; from < i; from++)
			counted[s->entries[from].seat] = 0;
	}
	return KM_OK;
}

/* A pinned tool may sit in a slot of another kind. */
static uint64_t count_pins(const struct km_tools *bench)
{
	uint64_t n = 0;

	for (size_t i = 0; i < bench->n; i++) {
		const struct km_tool_more *more = km_tool_at(bench, i)->more;

		n += more && more->pin;
	}
	return n;
}

/* ------------------------------------------------------------------ */
/* The best few                                                        */

static void sift_down(struct heap *h, uint32_t at)
{
	for (;;) {
		uint32_t worst = at, left = 2 * at + 1, right = left + 1;
		struct km_match *m = h->v[at];

		if (left < h->n && km_match_order(h->v[left],
						  h->v[worst]) > 0)
			worst = left;
		if (right < h->n && km_match_order(h->v[right],
						   h->v[worst]) > 0)
			worst = right;
		if (worst == at)
			return;
		h->v[at] = h->v[worst];
		h->v[worst] = m;
		at = worst;
	}
}

static void sift_up(struct heap *h, uint32_t at)
{
	while (at) {
		uint32_t above = (at - 1) / 2;
		struct km_match *m = h->v[at];

		if (km_match_order(m, h->v[above]) <= 0)
			return;
		h->v[at] = h->v[above];
		h->v[above] = m;
		at = above;
	}
}

static enum km_status grow(struct search *s, struct heap *h)
{
	uint32_t room = h->room ? 2 * h->room : 4;
	struct km_match **v = km_arena_raw(s->mem, room, sizeof(*v));

	if (!v)
		return KM_ENOMEM;
	if (h->n)
		memcpy(v, h->v, h->n * sizeof(*v));
	h->v = v;
	h->room = room;
	return KM_OK;
}

/* The match that another has to come before; NULL: there is room. */
static const struct km_match *worst_of(const struct heap *h)
{
	return h->n && h->n == h->most ? h->v[0] : NULL;
}

/* Keep the trial if it is among the best. */
static enum km_status keep(struct search *s, struct heap *h)
{
	struct km_match *m;

	if (h->n == h->most) {
		*h->v[0] = s->trial;
		sift_down(h, 0);
		return KM_OK;
	}
	if (h->n == h->room && grow(s, h) != KM_OK)
		return KM_ENOMEM;
	m = km_arena_raw(s->mem, 1, sizeof *m);
	if (!m)
		return KM_ENOMEM;
	*m = s->trial;
	h->v[h->n++] = m;
	sift_up(h, h->n - 1);
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* One tool                                                            */

/* "serial 4417", or the title of the machine. */
static bool came_with(const struct search *s, const struct km_party *p,
		      const struct km_tool *tool)
{
	const char *serial = s->serial[p - s->parties];
	struct km_slice text;

	if (!p->machine || !tool->more || !tool->more->came_with)
		return false;
	text = km_slice_of(tool->more->came_with);
	if (*serial && km_fold_has_words(text, km_slice_of(serial)))
		return true;
	return p->machine->title &&
	       km_fold_has_words(text, km_slice_of(p->machine->title));
}

static enum km_status settle(struct search *s, const struct seat *seat)
{
	const struct km_filter *f = s->filter;
	int yes;

	if (!f || !f->reaches || s->trial.verdict == KM_SUBSTITUTE ||
	    !km_match_wants_work(&s->trial))
		return KM_OK;
	yes = f->reaches(f->cure, seat->party, &s->trial);
	if (yes < 0)
		return KM_ENOMEM;
	km_match_settle(&s->trial, yes > 0);
	return KM_OK;
}

static enum km_status hold(struct search *s, struct seat *seat,
			   struct km_thing *thing)
{
	const struct km_filter *f = s->filter;
	enum km_use use = KM_USE;
	const struct km_match *worst;
	struct heap *h;

	if (f && f->use)
		use = f->use(seat->party, thing->tool, f->ctx);
	if (use == KM_USE_IGNORE)
		return KM_OK;
	h = use == KM_USE ? &seat->usable : &seat->not_ours;
	worst = worst_of(h);
	thing->came_with = came_with(s, seat->party, thing->tool);
	if (!km_compare_candidate(&seat->target, thing, worst, &s->trial))
		return KM_OK;
	if (settle(s, seat) != KM_OK)
		return KM_ENOMEM;
	if (worst && km_match_order(&s->trial, worst) >= 0)
		return KM_OK;
	return keep(s, h);
}

/* The tool against the slots of its kind with buckets from low to high. */
static enum km_status hold_range(struct search *s, size_t number,
				 struct km_thing *thing,
				 const struct km_kind *kind, uint32_t low,
				 uint32_t high)
{
	for (size_t i = first_entry(s, kind, low); i < s->n_entries; i++) {
		const struct entry *e = &s->entries[i];
		struct seat *seat = &s->seats[e->seat];
		enum km_status st;

		if (e->kind != kind || e->bucket > high)
			break;
		if (seat->tried == number)
			continue;
		seat->tried = number;
		st = hold(s, seat, thing);
		if (st != KM_OK)
			return st;
	}
	return KM_OK;
}

static enum km_status hold_near(struct search *s, size_t number,
				struct km_thing *thing,
				const struct km_kind *kind,
				const struct km_size *size)
{
	if (!(size->bucket & KM_BUCKET_HEXAGON))
		return KM_OK;
	return hold_range(s, number, thing, kind,
			  size->bucket > KM_BUCKET_HEXAGON ? size->bucket - 1
							   : size->bucket,
			  size->bucket + 1);
}

/* Against the slots whose sizes its marked or measured ends could serve;
 * against all of the kind where no end is recorded. */
static enum km_status hold_ends(struct search *s, size_t number,
				struct km_thing *thing,
				const struct km_kind *kind)
{
	const struct km_readings *r = thing->readings;
	bool recorded = false;
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < r->n && st == KM_OK; i++) {
		recorded |= r->v[i].marked || r->v[i].opening.nm > 0;
		if (r->v[i].marked)
			st = hold_near(s, number, thing, kind, r->v[i].marked);
		for (uint32_t k = 0; k < r->v[i].n_found && st == KM_OK; k++)
			st = hold_near(s, number, thing, kind,
				       r->v[i].found[k]);
	}
	if (st != KM_OK)
		return st;
	return hold_range(s, number, thing, kind, BUCKET_OTHER,
			  recorded ? BUCKET_OTHER : UINT32_MAX);
}

/* number: of the tool, from 1. */
static enum km_status hold_tool(struct search *s, size_t number,
				const struct km_tool *tool)
{
	const union km_value *v = km_trait(&tool->traits, KM_A_TOOL);
	struct km_readings r;
	struct km_thing thing = {
		.traits = &tool->traits, .condition = tool->condition,
		.at_plater = tool->status == KM_AT_PLATER, .tool = tool,
		.readings = &r,
	};
	size_t at;

	if (!v)
		return KM_OK;
	at = first_entry(s, v->kind, 0);
	if (at == s->n_entries || s->entries[at].kind != v->kind)
		return KM_OK;
	km_readings_take(&r, &tool->traits, s->parties[0].rules.book);
	return hold_ends(s, number, &thing, v->kind);
}

/* ------------------------------------------------------------------ */

/* A negative number is none. */
static void put_serial(char *out, int64_t serial)
{
	char digit[SERIAL_TEXT];
	size_t n = 0, k = 0;

	if (serial < 0)
		return;
	do {
		digit[n++] = (char)('0' + serial % 10);
		serial /= 10;
	} while (serial);
	while (n)
		out[k++] = digit[--n];
	out[k] = '\0';
}

static enum km_status seat_all(struct search *s)
{
	uint64_t n = 0;
	uint32_t at = 0;

	for (uint32_t i = 0; i < s->n_parties; i++)
		n += s->parties[i].kit->n_slots;
	if (n >= UINT32_MAX)
		return KM_ELIMIT;
	s->n_seats = (uint32_t)n;
	s->seats = km_arena_alloc(s->mem, n + 1, sizeof *s->seats);
	s->serial = km_arena_alloc(s->mem, (size_t)s->n_parties + 1,
				   sizeof *s->serial);
	if (!s->seats || !s->serial)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_parties; i++) {
		const struct km_party *p = &s->parties[i];

		if (p->machine)
			put_serial(s->serial[i], p->machine->serial);
		for (uint32_t k = 0; k < p->kit->n_slots; k++) {
			struct seat *seat = &s->seats[at++];

			km_target_init(&seat->target, &p->rules,
				       &p->kit->slots[k]);
			seat->party = p;
		}
	}
	return KM_OK;
}

static int by_order(const void *a, const void *b)
{
	const struct km_match *const *x = a, *const *y = b;

	return km_match_order(*x, *y);
}

static enum km_status answer(struct search *s, struct km_candidates **out)
{
	struct km_candidates *v = km_arena_alloc(s->mem, s->n_seats + 1,
						 sizeof *v);

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_seats; i++) {
		struct seat *seat = &s->seats[i];
		struct heap *both[] = { &seat->usable, &seat->not_ours };

		for (int k = 0; k < 2; k++)
			if (both[k]->n)
				qsort(both[k]->v, both[k]->n,
				      sizeof(*both[k]->v), by_order);
		v[i] = (struct km_candidates){
			.slot = seat->target.slot,
			.party = (uint32_t)(seat->party - s->parties),
			.v = seat->usable.v, .n = seat->usable.n,
			.not_ours = seat->not_ours.v,
			.n_not_ours = seat->not_ours.n,
		};
	}
	*out = v;
	return KM_OK;
}

enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_party *parties,
				  uint32_t n_parties,
				  const struct km_tools *bench,
				  const struct km_filter *filter,
				  struct km_candidates **out, size_t *n)
{
	struct search s = { .mem = mem, .filter = filter, .parties = parties,
			    .n_parties = n_parties };
	uint64_t spare = filter ? filter->spare : 0;
	enum km_status st;

	st = seat_all(&s);
	if (st == KM_OK)
		st = build_index(&s);
	if (st == KM_OK)
		st = set_bounds(&s, spare + count_pins(bench));
	for (size_t i = 0; i < bench->n && st == KM_OK; i++)
		st = hold_tool(&s, i + 1, km_tool_at(bench, i));
	if (st == KM_OK)
		st = answer(&s, out);
	if (st == KM_OK)
		*n = s.n_seats;
	return st;
}
