/* SPDX-License-Identifier: MIT */
#include "plan/search.h"

#include <string.h>

#define P(id) KM_BIT(KM_PROCESS_##id)
#define MOST_LABELS 50000

/* ------------------------------------------------------------------ */
/* Which processes, in which order                                     */

const uint8_t km_work_order[KM_PROCESSES] = {
	[KM_PROCESS_INSPECT] = 0, [KM_PROCESS_WASH_DEGREASE] = 1,
	[KM_PROCESS_HANDLE_OFF] = 2, [KM_PROCESS_STRAIGHTEN] = 3,
	[KM_PROCESS_DRESS] = 3, [KM_PROCESS_BAKE_STRESS] = 4,
	[KM_PROCESS_STRIP_PLATE] = 5, [KM_PROCESS_HAND_CLEAN] = 6,
	[KM_PROCESS_WIRE_BRUSH_HAND] = 6, [KM_PROCESS_WIRE_WHEEL] = 6,
	[KM_PROCESS_BLAST_BEAD] = 6, [KM_PROCESS_TUMBLE_DRY_MILD] = 6,
	[KM_PROCESS_TUMBLE_WET_ABRASIVE] = 6, [KM_PROCESS_TUMBLE_STEEL] = 6,
	[KM_PROCESS_SOAK_CITRIC] = 6, [KM_PROCESS_SOAK_PHOSPHORIC] = 6,
	[KM_PROCESS_SOAK_CHELATE] = 6, [KM_PROCESS_DERUST_ELECTROLYTIC] = 6,
	[KM_PROCESS_ACID_PICKLE] = 6, [KM_PROCESS_POLISH] = 7,
	[KM_PROCESS_PLATE_ZINC] = 8, [KM_PROCESS_PLATE_CADMIUM] = 8,
	[KM_PROCESS_PLATE_NICKEL] = 8, [KM_PROCESS_PLATE_NICKEL_CHROME] = 8,
	[KM_PROCESS_BLACK_COLD] = 8, [KM_PROCESS_BLACK_HOT] = 8,
	[KM_PROCESS_PHOSPHATE] = 8, [KM_PROCESS_BAKE_RELIEF] = 9,
	[KM_PROCESS_PAINT] = 10, [KM_PROCESS_HANDLE_DIP] = 11,
	[KM_PROCESS_HANDLE_MOULD] = 11, [KM_PROCESS_HANDLE_REFIT] = 11,
	[KM_PROCESS_OIL_WAX] = 12,
};

/* Would the coat that a process gives do? */
static bool gives_wanted_coat(const struct km_task *t,
			      const struct km_effect *e)
{
	bool gives = false;

	for (uint32_t i = 0; i < e->n_changes; i++) {
		uint8_t to = e->change[i].to;

		if (to == KM_S_NOTHING || !(KM_BIT(to) & KM_S_NEW_COAT))
			continue;
		gives = true;
		if (t->finish_ok & KM_BIT(t->made[to]))
			return true;
	}
	return !gives;
}

static uint64_t made_by(const struct km_effect *e)
{
	uint64_t words = 0;

	for (uint32_t i = 0; i < e->n_changes; i++)
		if (e->change[i].to != KM_S_NOTHING)
			words |= KM_BIT(e->change[i].to);
	return words;
}

static uint64_t needs_of(const struct km_effect *e)
{
	uint64_t set = 0;

	for (uint32_t i = 0; i < e->n_needs; i++)
		set |= e->need[i];
	return set;
}

/* What could be bettered, and is looked at: rust, pits, shape and handle, the
 * coat only where it must or may change. */
static uint64_t first_words(const struct km_task *t)
{
	uint64_t words = t->start.words & (KM_S_RUSTS | KM_S_PITS |
		KM_S_SHAPE | (t->must_go & KM_S_HANDLE_FAULTS));

	if (t->coat_may_change)
		words |= t->start.words & KM_S_COAT;
	return words;
}

/* Processes from which work on the words may be made up, and what they need
 * before and after. */
static void choose(struct km_search *s)
{
	const struct km_step *step = s->t.costs->step;
	uint64_t words = first_words(&s->t), before;

	do {
		before = s->useful;
		for (int p = 0; p < KM_PROCESSES; p++) {
			const struct km_effect *e = &step[p].effect;

			if (!step[p].available || !gives_wanted_coat(&s->t, e))
				continue;
			if (!(e->from & words) && !(s->needed & KM_BIT(p)))
				continue;
			s->useful |= KM_BIT(p);
			s->needed |= needs_of(e);
			if (e->never_finish & s->t.handle)
				s->needed |= P(HANDLE_OFF);
			words |= made_by(e) & (s->t.coat_may_change ?
				 ~(uint64_t)0 : ~KM_S_COAT);
		}
		if (s->t.hardness.hard == KM_HARD_YES && s->useful)
			s->needed |= P(BAKE_RELIEF);
		if (s->needed & P(HANDLE_OFF))
			words |= KM_S(HANDLE_OFF) | KM_S(HANDLE_SPLIT);
	} while (s->useful != before);
	if (s->useful)
		s->useful |= P(OIL_WAX);
	memcpy(s->rank, km_work_order, sizeof s->rank);
	/* where washing harms the handle it comes off first */
	if (step[KM_PROCESS_WASH_DEGREASE].effect.never_finish & s->t.handle)
		s->rank[KM_PROCESS_WASH_DEGREASE] = 3;
}

/* ------------------------------------------------------------------ */
/* The queue: by likely cost, own time, steps, age                     */

static bool before(const struct km_search *s, uint32_t a, uint32_t b)
{
	const struct km_label *x = &s->v[a], *y = &s->v[b];

	if (x->cost.likely != y->cost.likely)
		return x->cost.likely < y->cost.likely;
	if (x->hands[1] != y->hands[1])
		return x->hands[1] < y->hands[1];
	if (x->n != y->n)
		return x->n < y->n;
	return a < b;
}

static void push(struct km_search *s, uint32_t label)
{
	uint32_t i = s->n_heap++;

	while (i && before(s, label, s->heap[(i - 1) / 2])) {
		s->heap[i] = s->heap[(i - 1) / 2];
		i = (i - 1) / 2;
	}
	s->heap[i] = label;
}

static uint32_t pop(struct km_search *s)
{
	uint32_t top = s->heap[0], last = s->heap[--s->n_heap], i = 0;

	for (;;) {
		uint32_t k = 2 * i + 1;

		if (k >= s->n_heap)
			break;
		if (k + 1 < s->n_heap &&
		    before(s, s->heap[k + 1], s->heap[k]))
			k++;
		if (!before(s, s->heap[k], last))
			break;
		s->heap[i] = s->heap[k];
		i = k;
	}
	s->heap[i] = last;
	return top;
}

/* ------------------------------------------------------------------ */
/* Labels                                                              */

static uint32_t bucket_of(const struct km_state *s)
{
	uint64_t h = s->words * 0x9E3779B97F4A7C15u ^ s->finish;

	return (uint32_t)(h >> 56) % KM_LABEL_BUCKETS;
}

/* Is a in every way as good to go on from as b? */
static bool beats(const struct km_search *s, const struct km_label *a,
		  const struct km_label *b)
{
	return a->s.words == b->s.words && a->s.finish == b->s.finish &&
	       a->s.faces == b->s.faces &&
	       !(b->s.done & s->needed & ~a->s.done) &&
	       a->rank <= b->rank && a->s.marking >= b->s.marking &&
	       a->s.abraded <= b->s.abraded &&
	       a->cost.likely <= b->cost.likely &&
	       (a->cost.likely < b->cost.likely ||
		a->hands[1] <= b->hands[1]);
}

static bool is_beaten(struct km_search *s, const struct km_label *l)
{
	for (uint32_t i = s->bucket[bucket_of(&l->s)]; i != KM_NO_LABEL;
	     i = s->v[i].next)
		if (!s->v[i].dead && beats(s, &s->v[i], l))
			return true;
	return false;
}

static enum km_status grow(struct km_search *s)
{
	uint32_t room = s->room ? s->room * 2 : 64;
	struct km_label *v;
	uint32_t *heap;

	if (s->room >= MOST_LABELS)
		return KM_ELIMIT;
	v = km_arena_raw(s->mem, room, sizeof *v);
	heap = km_arena_raw(s->mem, room, sizeof *heap);
	if (!v || !heap)
		return KM_ENOMEM;
	if (s->n) {
		memcpy(v, s->v, s->n * sizeof *v);
		memcpy(heap, s->heap, s->n_heap * sizeof *heap);
	}
	s->v = v;
	s->heap = heap;
	s->room = room;
	return KM_OK;
}

static enum km_status add(struct km_search *s, struct km_label *l)
{
	uint32_t b = bucket_of(&l->s);
	enum km_status st;

	if (is_beaten(s, l))
		return KM_OK;
	for (uint32_t i = s->bucket[b]; i != KM_NO_LABEL; i = s->v[i].next)
		if (beats(s, l, &s->v[i]))
			s->v[i].dead = true;
	if (s->n == s->room) {
		st = grow(s);
		if (st != KM_OK)
			return st;
	}
	l->next = s->bucket[b];
	s->v[s->n] = *l;
	s->bucket[b] = s->n;
	push(s, s->n++);
	return KM_OK;
}

/* Does a step open the way for one that is still to come? */
static bool opens(const struct km_search *s, const struct km_state *state, int p)
{
	if (!(s->needed & KM_BIT(p)) || (state->done & KM_BIT(p)))
		return false;
	for (int q = 0; q < KM_PROCESSES; q++)
		if ((s->useful & KM_BIT(q)) && !(state->done & KM_BIT(q)) &&
		    (km_state_open_needs(&s->t, state,
			(enum km_process_id)q) & KM_BIT(p)))
			return true;
	return false;
}

static enum km_status try(struct km_search *s, uint32_t at, int p)
{
	const struct km_step *step = &s->t.costs->step[p];
	struct km_label from = s->v[at], l = from;

	if (s->rank[p] < from.rank ||
	    !km_state_allows(&s->t, &from.s, (enum km_process_id)p))
		return KM_OK;
	if (!km_state_after(&s->t, &from.s, (enum km_process_id)p, &l.s) &&
	    !opens(s, &from.s, p))
		return KM_OK;
	if (!s->t.coat_may_change && l.s.finish != from.s.finish)
		return KM_OK;
	if (!km_money3_add(from.cost, step->one, &l.cost))
		return KM_ERANGE;
	for (int i = 0; i < 3; i++) {
		l.hands[i] += step->hands_min[i];
		l.elapsed[i] += step->elapsed[i];
	}
	l.from = at;
	l.n++;
	l.process = (uint8_t)p;
	l.rank = s->rank[p];
	l.dead = false;
	return add(s, &l);
}

enum km_status km_search_run(struct km_search *s)
{
	struct km_label start = { .s = s->t.start, .from = KM_NO_LABEL };
	enum km_status st;

	choose(s);
	for (int i = 0; i < KM_LABEL_BUCKETS; i++)
		s->bucket[i] = KM_NO_LABEL;
	st = add(s, &start);
	while (st == KM_OK && s->n_heap) {
		uint32_t at = pop(s);

		for (int p = 0; p < KM_PROCESSES && st == KM_OK; p++)
			if (!s->v[at].dead && (s->useful & KM_BIT(p)))
				st = try(s, at, p);
	}
	return st;
}

