/* SPDX-License-Identifier: MIT */
#include "audit/surplus.h"

#include <stdlib.h>

#include "audit/money.h"
#include "base/str.h"
#include "match/compare.h"

/* A surplus tool, and how well it suits its slot. */
struct found {
	struct km_surplus is;
	int32_t score;
};

struct search {
	struct km_arena *mem;
	const struct km_cure *cure;
	struct km_party *kits;		/* of the library */
	uint32_t n_kits;
	struct km_readings readings;	/* of the tool at hand */
	struct km_match match;
};

/* The kits of the library as if they took part, each by its own standard. */
static enum km_status open_library(struct search *s,
				   const struct km_variants *v,
				   const struct km_audit *a)
{
	s->n_kits = v->n_library;
	s->kits = km_arena_alloc(s->mem, s->n_kits, sizeof *s->kits);
	if (!s->kits)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_kits; i++) {
		struct km_party *k = &s->kits[i];

		k->kit = v->library[i];
		km_party_rules(a->load, &a->options, k);
		k->rules.book = v->n_parties ? v->parties[0].rules.book : NULL;
	}
	return KM_OK;
}

/* Most slots want another kind: asked first, since it costs least. */
static bool wants_kind(const struct km_slot *slot, const struct km_kind *kind)
{
	const struct km_want *w = &slot->want[KM_A_TOOL];

	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (w->any[i].kind == kind)
			return true;
	return false;
}

/* Is the thing right in the slot, or right after work that there is?
 * Negative: memory ran out. */
static int suits(struct search *s, const struct km_party *kit,
		 const struct km_slot *slot, const struct km_thing *thing)
{
	int yes = 1;

	if (slot->unused || !km_compare_is_candidate(&kit->rules, slot, thing))
		return 0;
	km_compare(&kit->rules, slot, thing, &s->match);
	if (s->match.verdict == KM_AFTER_WORK)
		yes = s->cure->reaches(s->cure->ctx, kit, &s->match);
	return yes > 0 ? s->match.verdict <= KM_AFTER_WORK : yes;
}

/* Is it a better slot than the one found so far?  Kits come in the order of
 * their ids; of one kit's equals the first id as people count stays. */
static bool better(const struct found *f, const struct km_match *m)
{
	const struct km_slot *old = f->is.slot;

	if (!old || m->verdict != f->is.verdict)
		return !old || m->verdict < f->is.verdict;
	if (m->score != f->score)
		return m->score > f->score;
	return m->slot->kit == old->kit &&
	       km_natural_compare(m->slot->id, old->id) < 0;
}

static void take(struct found *f, const struct km_match *m)
{
	f->is.more += f->is.slot != NULL;
	if (!better(f, m))
		return;
	f->is.slot = m->slot;
	f->is.verdict = m->verdict;
	f->score = m->score;
}

static enum km_status look(struct search *s, struct found *f)
{
	const struct km_tool *t = f->is.tool;
	const union km_value *kind = km_trait(&t->traits, KM_A_TOOL);
	struct km_thing thing = {
		.traits = &t->traits, .condition = t->condition,
		.at_plater = t->status == KM_AT_PLATER, .tool = t,
		.readings = &s->readings,
	};

	if (s->n_kits)
		km_readings_take(&s->readings, &t->traits,
				 s->kits[0].rules.book);
	for (uint32_t k = 0; kind && k < s->n_kits; k++)
		for (uint32_t i = 0; i < s->kits[k].kit->n_slots; i++) {
			const struct km_slot *slot = &s->kits[k].kit->slots[i];
			int yes = wants_kind(slot, kind->kind)
					  ? suits(s, &s->kits[k], slot, &thing)
					  : 0;

			if (yes < 0)
				return KM_ENOMEM;
			if (yes)
				take(f, &s->match);
		}
	return KM_OK;
}

static int by_id(const void *a, const void *b)
{
	const struct found *x = a, *y = b;

	return km_natural_compare(x->is.tool->id, y->is.tool->id);
}

/* Tools of one slot together, the best of them first. */
static int by_slot(const void *a, const void *b)
{
	const struct found *const *x = a, *const *y = b;
	uintptr_t p = (uintptr_t)(*x)->is.slot, q = (uintptr_t)(*y)->is.slot;

	if (p != q)
		return p < q ? -1 : 1;
	if ((*x)->is.verdict != (*y)->is.verdict)
		return (*x)->is.verdict < (*y)->is.verdict ? -1 : 1;
	if ((*x)->score != (*y)->score)
		return (*x)->score > (*y)->score ? -1 : 1;
	return by_id(*x, *y);
}

/* A slot takes so many; those that come after are second. */
static enum km_status rank(struct search *s, struct found *v, uint64_t n)
{
	struct found **order = km_arena_alloc(s->mem, n, sizeof *order);
	int32_t before = 0;

	if (!order)
		return KM_ENOMEM;
	for (uint64_t i = 0; i < n; i++)
		order[i] = &v[i];
	qsort(order, n, sizeof *order, by_slot);
	for (uint64_t i = 0; i < n; i++) {
		const struct km_slot *slot = order[i]->is.slot;

		before = i && slot == order[i - 1]->is.slot ? before + 1 : 0;
		order[i]->is.second = slot && before >= slot->count;
	}
	return KM_OK;
}

static struct found *list(struct search *s, const struct km_audit *a)
{
	const struct km_tools *bench = &a->load->bench;
	struct found *v = km_arena_alloc(s->mem, a->surplus, sizeof *v);
	struct km_party nobody = { .kit = NULL };
	uint64_t n = 0;

	for (size_t i = 0; v && i < bench->n; i++) {
		const struct km_tool *t = km_tool_at(bench, i);

		if (a->fate[i] != KM_FATE_SURPLUS)
			continue;
		v[n++].is = (struct km_surplus){
			.tool = t, .own = km_may_use(&nobody, t),
			.old_value = km_value_is_old(a, t) };
	}
	return v;
}

enum km_status km_surplus_find(struct km_arena *mem, const struct km_variants *v,
			       const struct km_cure *cure, struct km_audit *a)
{
	struct search s = { .mem = mem, .cure = cure };
	struct found *all = list(&s, a);
	struct km_surplus *out = km_arena_alloc(mem, a->surplus, sizeof *out);
	enum km_status st = all && out ? open_library(&s, v, a) : KM_ENOMEM;

	for (uint64_t i = 0; i < a->surplus && st == KM_OK; i++)
		st = look(&s, &all[i]);
	if (st == KM_OK)
		st = rank(&s, all, a->surplus);
	if (st != KM_OK)
		return st;
	qsort(all, a->surplus, sizeof *all, by_id);
	a->spare_kept = 0;
	for (uint64_t i = 0; i < a->surplus; i++) {
		out[i] = all[i].is;
		a->spare_kept += out[i].slot != NULL;
	}
	a->spare = out;
	a->n_spare = a->surplus;
	return KM_OK;
}
