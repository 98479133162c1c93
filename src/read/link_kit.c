/* SPDX-License-Identifier: MIT */
/* Kits: their ids, sources, slots, and which slot goes with which. */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "read/link.h"

static int by_id(const void *va, const void *vb)
{
	const struct km_kit *a = *(struct km_kit *const *)va;
	const struct km_kit *b = *(struct km_kit *const *)vb;
	int c = km_natural_compare(a->id ? a->id : "", b->id ? b->id : "");

	return c ? c : strcmp(a->at.file, b->at.file);
}

static const char *kit_name(const void *ctx, uint32_t i)
{
	return ((struct km_kit *const *)ctx)[i]->id;
}

static struct km_place kit_at(const void *ctx, uint32_t i)
{
	return ((struct km_kit *const *)ctx)[i]->at;
}

static const char *slot_name(const void *ctx, uint32_t i)
{
	return ((const struct km_slot *)ctx)[i].id;
}

static struct km_place slot_at(const void *ctx, uint32_t i)
{
	return ((const struct km_slot *)ctx)[i].at;
}

static const char *source_name(const void *ctx, uint32_t i)
{
	return ((const struct km_source *)ctx)[i].id;
}

static struct km_place source_at(const void *ctx, uint32_t i)
{
	return ((const struct km_source *)ctx)[i].at;
}

/* ------------------------------------------------------------------ */
/* Sources                                                             */

void km_link_sources(struct km_reader *r, const struct km_kit *kit,
		     const struct km_ids *ids, struct km_sources *list,
		     struct km_place at)
{
	const struct km_source **v;
	uint32_t i, k;

	if (!list->n || list->v)
		return;
	v = km_bind_alloc(&r->b, list->n, sizeof *v);
	if (!v)
		return;
	for (i = 0; i < list->n; i++) {
		k = km_link_find(r, ids, kit->n_sources, "source",
				 list->ids[i], at);
		if (k == KM_NO_INDEX)
			return;
		v[i] = &kit->sources[k];
	}
	list->v = v;
}

static void link_depends(struct km_reader *r, const struct km_kit *kit,
			 const struct km_ids *ids)
{
	struct km_source *s;
	struct km_sources list;
	uint32_t i;

	for (i = 0; i < kit->n_sources; i++) {
		s = (struct km_source *)&kit->sources[i];
		list = (struct km_sources){ NULL, s->depends_ids,
					    s->n_depends_on };
		km_link_sources(r, kit, ids, &list, s->at);
		s->depends_on = list.v;
		if (!list.v)
			s->n_depends_on = 0;
	}
}

/* The same list as the slot before has, both from every_slot, is linked
 * once. */
static void link_like(struct km_reader *r, const struct km_kit *kit,
		      const struct km_ids *ids, struct km_sources *list,
		      const struct km_sources *before, struct km_place at)
{
	if (before && list->ids == before->ids)
		*list = *before;
	else
		km_link_sources(r, kit, ids, list, at);
}

static void link_want(struct km_reader *r, const struct km_kit *kit,
		      const struct km_ids *ids, struct km_want *w,
		      const struct km_want *before)
{
	uint32_t i;

	if (!w->claims)
		link_like(r, kit, ids, &w->sources,
			  before ? &before->sources : NULL, w->at);
	for (i = 0; w->claims && i < w->claims->n; i++)
		km_link_sources(r, kit, ids,
				(struct km_sources *)&w->claims->v[i].sources,
				w->claims->v[i].at);
}

static void say_cycle(struct km_reader *r, const struct km_source *s,
		      const struct km_source *to)
{
	struct km_diag *one = km_diag_add(r->b.d, KM_M_SOURCE_CYCLE, s->at,
					  s->id, to->id);

	if (to == s) {
		km_diag_hint(r->b.d, one, "take it out of its own "
			     "'depends_on'");
		return;
	}
	km_diag_other(r->b.d, one, to->at, "which rests on it");
	km_diag_hint(r->b.d, one, "write 'depends_on' at the one that came "
		     "later and repeats the other");
}

/* A source that rests on itself, by whatever way; true: none does. */
static bool check_depends(struct km_reader *r, const struct km_kit *kit)
{
	enum { NEW, OPEN, DONE };
	uint8_t *state = km_arena_alloc(r->b.scratch, kit->n_sources + 1, 1);
	uint32_t *stack = km_arena_alloc(r->b.scratch, kit->n_sources + 1,
					 2 * sizeof *stack);
	uint32_t *next = stack ? stack + kit->n_sources + 1 : NULL;
	uint32_t i, depth, at, to;
	const struct km_source *s;
	bool good = true;

	if (!state || !stack) {
		r->b.nomem = true;
		return false;
	}
	for (i = 0; i < kit->n_sources; i++) {
		if (state[i] != NEW)
			continue;
		depth = 1;
		stack[0] = i;
		state[i] = OPEN;
		while (depth) {
			at = stack[depth - 1];
			s = &kit->sources[at];
			if (next[at] == s->n_depends_on) {
				state[at] = DONE;
				depth--;
				continue;
			}
			to = (uint32_t)(s->depends_on[next[at]++] -
					kit->sources);
			if (state[to] == OPEN) {
				say_cycle(r, s, &kit->sources[to]);
				good = false;
			} else if (state[to] == NEW) {
				state[to] = OPEN;
				stack[depth++] = to;
			}
		}
	}
	return good;
}

/* ------------------------------------------------------------------ */
/* Slots                                                               */

/* Each slot goes with at most one, so a walk meets a cycle or an end. */
static void check_companions(struct km_reader *r, const struct km_kit *kit)
{
	uint32_t *walk = km_arena_alloc(r->b.scratch, kit->n_slots + 1,
					sizeof *walk);
	const struct km_slot *s;
	struct km_diag *one;
	uint32_t i;

	if (!walk) {
		r->b.nomem = true;
		return;
	}
	for (i = 0; i < kit->n_slots; i++) {
		for (s = &kit->slots[i]; s && !walk[s->index];
		     s = s->companion)
			walk[s->index] = i + 1;
		if (!s || walk[s->index] != i + 1)
			continue;
		one = km_diag_add(r->b.d, KM_M_GOES_WITH_CYCLE, s->at, s->id,
				  s->companion->id);
		if (s->companion != s)
			km_diag_other(r->b.d, one, s->companion->at,
				      "which goes with it in turn");
		km_diag_hint(r->b.d, one, "write goes_with at the one that is "
			     "chosen second, such as the bar of a spanner");
	}
}

static void link_slot(struct km_reader *r, const struct km_kit *kit,
		      const struct km_ids *ids, struct km_slot *s,
		      const struct km_slot *b)
{
	link_like(r, kit, ids, &s->for_it, b ? &b->for_it : NULL,
		  s->exists_at);
	link_like(r, kit, ids, &s->against_it, b ? &b->against_it : NULL,
		  s->exists_at);
	link_like(r, kit, ids, &s->silent, b ? &b->silent : NULL,
		  s->exists_at);
	link_like(r, kit, ids, &s->sources, b ? &b->sources : NULL, s->at);
	for (int a = 0; a < KM_ATTRS; a++)
		link_want(r, kit, ids, &s->want[a], b ? &b->want[a] : NULL);
}

static void link_slots(struct km_reader *r, struct km_kit *kit,
		       struct km_ids *slots, const struct km_ids *sources)
{
	struct km_slot *s;
	uint32_t i, k;

	for (i = 0; i < kit->n_slots; i++) {
		s = &kit->slots[i];
		link_slot(r, kit, sources, s, i ? &kit->slots[i - 1] : NULL);
		if (!s->goes_with)
			continue;
		k = km_link_find(r, slots, kit->n_slots, "slot", s->goes_with,
				 s->at);
		if (k != KM_NO_INDEX)
			s->companion = &kit->slots[k];
	}
}

static void link_kit(struct km_reader *r, struct km_kit *kit,
		     struct km_ids *slots)
{
	struct km_ids sources = { .name = source_name, .ctx = kit->sources };

	km_link_enter(r, &sources, kit->n_sources, "source", source_at);
	slots->name = slot_name;
	slots->ctx = kit->slots;
	km_link_enter(r, slots, kit->n_slots, "slot", slot_at);
	link_depends(r, kit, &sources);
	link_slots(r, kit, slots, &sources);
	if (!r->b.nomem && check_depends(r, kit))
		km_link_evidence(r, kit, &sources);
	km_ids_release(&sources);
	if (!r->b.nomem)
		check_companions(r, kit);
}

void km_link_kits(struct km_reader *r)
{
	struct km_load *l = r->load;
	const struct km_part *p;
	uint32_t n = 0, i;

	for (p = r->kits; p; p = p->next)
		n++;
	l->kits = km_bind_alloc(&r->b, n + 1, sizeof *l->kits);
	r->link->slots = km_arena_alloc(r->b.scratch, n + 1,
					sizeof *r->link->slots);
	if (!l->kits || !r->link->slots) {
		r->b.nomem = true;
		return;
	}
	for (p = r->kits; p; p = p->next)
		l->kits[l->n_kits++] = p->rec;
	qsort(l->kits, n, sizeof *l->kits, by_id);
	r->link->kits.name = kit_name;
	r->link->kits.ctx = l->kits;
	km_link_enter(r, &r->link->kits, n, "kit", kit_at);
	for (i = 0; i < n && !r->b.nomem; i++)
		link_kit(r, l->kits[i], &r->link->slots[i]);
}
