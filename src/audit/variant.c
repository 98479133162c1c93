/* SPDX-License-Identifier: MIT */
#include "audit/variant.h"

#include <stdlib.h>

#include "audit/pick.h"
#include "base/str.h"

struct chooser {
	struct km_arena *mem;
	const struct km_load *load;
	const struct km_options *o;
	struct km_diags *d;
	struct km_choice *of;		/* a machine each */
	struct km_variants *v;
};

static bool fits(const struct km_choice *c, const struct km_kit *k)
{
	for (uint32_t i = 0; i < c->n_kits; i++)
		if (c->kits[i] == k)
			return true;
	return false;
}

/* The machine of a kit that was asked for by name; may be NULL. */
static const struct km_machine *machine_of(const struct chooser *c,
					   const struct km_kit *k)
{
	const struct km_load *l = c->load;

	for (uint32_t i = 0; i < l->n_machines; i++)
		if (fits(&c->of[i], k))
			return &l->machines[i];
	return l->n_machines == 1 ? &l->machines[0] : NULL;
}

static int by_priority(const void *a, const void *b)
{
	const struct km_party *x = a, *y = b;

	if (x->kit->priority != y->kit->priority)
		return x->kit->priority < y->kit->priority ? -1 : 1;
	if (x->kit != y->kit)
		return km_natural_compare(x->kit->id, y->kit->id);
	if (!x->machine || !y->machine)
		return (x->machine != NULL) - (y->machine != NULL);
	/* the load has them in order */
	return (x->machine > y->machine) - (x->machine < y->machine);
}

static int by_kit_id(const void *a, const void *b)
{
	const struct km_kit *const *x = a, *const *y = b;

	return km_natural_compare((*x)->id, (*y)->id);
}

static bool takes_part(const struct km_variants *v, const struct km_kit *k)
{
	for (uint32_t i = 0; i < v->n_parties; i++)
		if (v->parties[i].kit == k)
			return true;
	return false;
}

static void add_party(struct km_variants *v, const struct km_kit *k,
		      const struct km_machine *m)
{
	for (uint32_t i = 0; i < v->n_parties; i++)
		if (v->parties[i].kit == k && v->parties[i].machine == m)
			return;
	v->parties[v->n_parties].kit = k;
	v->parties[v->n_parties++].machine = m;
}

static enum km_status choose_named(const struct chooser *c)
{
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < c->o->n_kits; i++) {
		const struct km_kit *k = km_kit_named(c->load, c->o->kits[i],
						      c->d);

		if (k)
			add_party(c->v, k, machine_of(c, k));
		else
			st = KM_EINPUT;
	}
	return st;
}

static enum km_status choose(const struct chooser *c)
{
	const struct km_load *l = c->load;
	enum km_status st = KM_OK;

	if (c->o->n_kits)
		return choose_named(c);
	for (uint32_t i = 0; i < l->n_machines; i++) {
		if (c->of[i].n_kits) {
			add_party(c->v, c->of[i].kits[0], &l->machines[i]);
		} else if (l->n_kits) {
			km_choice_say_none(c->d, l, &l->machines[i]);
			st = KM_EINPUT;
		}
	}
	if (!l->n_machines)
		for (uint32_t i = 0; i < l->n_kits; i++)
			add_party(c->v, l->kits[i], NULL);
	return st;
}

/* How each party came by its kit, and what is to be said of it. */
static enum km_status keep_choices(const struct chooser *c)
{
	struct km_variants *v = c->v;
	enum km_status st = KM_OK;

	v->choices = km_arena_alloc(c->mem, v->n_parties, sizeof *v->choices);
	if (!v->choices)
		return KM_ENOMEM;
	for (uint32_t i = 0; st == KM_OK && i < v->n_parties; i++) {
		const struct km_party *p = &v->parties[i];
		struct km_choice *one = &v->choices[i];

		*one = (struct km_choice){ .by = KM_BY_NOTHING };
		if (c->o->n_kits)
			km_choose_named(c->load, p->machine, p->kit, one);
		else if (p->machine)
			*one = c->of[p->machine - c->load->machines];
		if (p->machine)
			st = km_choice_say(c->d, c->mem, p->kit, p->machine,
					   one);
	}
	return st;
}

void km_party_rules(const struct km_load *load, const struct km_options *o,
		    struct km_party *p)
{
	km_rules_init(&p->rules, p->kit,
		      o->standard_given ? o->standard : p->kit->standard);
	if (!load->prices)
		return;
	p->rules.superseded = load->prices->superseded;
	p->rules.n_superseded = load->prices->n_superseded;
}

/* The sizes that a measured opening may be; only where one is measured. */
static enum km_status give_book(struct km_arena *mem, const struct km_load *l,
				struct km_variants *v)
{
	struct km_size_book *book;
	bool measured = false;

	for (size_t i = 0; i < l->bench.n && !measured; i++)
		measured = km_tool_at(&l->bench, i)->traits.has &
			   (uint32_t)1 << KM_A_OPENINGS;
	for (uint32_t i = 0; l->prices && i < l->prices->n_offers; i++)
		measured |= (l->prices->offers[i].traits.has &
			     (uint32_t)1 << KM_A_OPENINGS) != 0;
	if (!measured)
		return KM_OK;
	book = km_arena_alloc(mem, 1, sizeof *book);
	if (!book || !km_size_book_init(book, mem))
		return KM_ENOMEM;
	for (uint32_t i = 0; i < v->n_parties; i++)
		v->parties[i].rules.book = book;
	return KM_OK;
}

/* The kits that take part, in order. */
static enum km_status find_parties(struct chooser *c)
{
	const struct km_load *l = c->load;
	enum km_status st = KM_OK;

	c->of = km_arena_alloc(c->mem, l->n_machines, sizeof *c->of);
	if (!c->of)
		return KM_ENOMEM;
	for (uint32_t i = 0; st == KM_OK && i < l->n_machines; i++)
		st = km_choose_kit(c->mem, l, &l->machines[i], &c->of[i]);
	if (st == KM_OK)
		st = choose(c);
	if (st != KM_OK)
		return st;
	qsort(c->v->parties, c->v->n_parties, sizeof *c->v->parties,
	      by_priority);
	for (uint32_t i = 0; i < c->v->n_parties; i++)
		km_party_rules(l, c->o, &c->v->parties[i]);
	return keep_choices(c);
}

enum km_status km_variants_choose(struct km_arena *mem,
				  const struct km_load *load,
				  const struct km_options *o,
				  struct km_diags *d, struct km_variants *out)
{
	struct km_variants v = { .n_parties = 0 };
	struct chooser c = { .mem = mem, .load = load, .o = o, .d = d,
			     .v = &v };
	size_t room = (size_t)o->n_kits + load->n_machines + load->n_kits;
	enum km_status st;

	v.parties = km_arena_alloc(mem, room, sizeof *v.parties);
	v.library = km_arena_alloc(mem, load->n_kits, sizeof *v.library);
	if (!v.parties || !v.library)
		return KM_ENOMEM;
	st = find_parties(&c);
	if (st != KM_OK)
		return st;
	for (uint32_t i = 0; i < load->n_kits; i++)
		if (!takes_part(&v, load->kits[i]))
			v.library[v.n_library++] = load->kits[i];
	qsort(v.library, v.n_library, sizeof *v.library, by_kit_id);
	st = give_book(mem, load, &v);
	if (st == KM_OK)
		*out = v;
	return st;
}
