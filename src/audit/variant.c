/* SPDX-License-Identifier: MIT */
#include "audit/variant.h"

#include <stdlib.h>

#include "base/near.h"
#include "base/str.h"
#include "unit/date.h"

int64_t km_serial_outside(const struct km_serials *s, int64_t serial)
{
	if (!s->given || serial < 0)
		return 0;
	if (!s->open_start && serial < s->from_earliest)
		return s->from_earliest - serial;
	if (!s->open_end && serial > s->to_latest)
		return serial - s->to_latest;
	return 0;
}

/* How well a kit fits a machine: serial first, date second, market third. */
static int fitness(const struct km_kit *k, const struct km_machine *m)
{
	int score = 0;

	if (k->serials.given && m->serial >= 0) {
		if (km_serial_outside(&k->serials, m->serial))
			return -1;
		score += 8;
	}
	if (k->years.from.year && m->built.from.year) {
		bool meet = km_date_compare(k->years.from, m->built.to) <= 0 &&
			    km_date_compare(m->built.from, k->years.to) <= 0;

		if (!meet && score == 0)
			return -1;
		score += meet ? 4 : 0;
	}
	if (k->market && m->market)
		score += km_fold_compare(km_slice_of(k->market),
					 km_slice_of(m->market)) == 0 ? 2 : -1;
	return score;
}

/* The kit of a machine that names none; NULL when none fits. */
static const struct km_kit *kit_for(const struct km_load *l,
				    const struct km_machine *m)
{
	const struct km_kit *best = NULL;
	int best_score = -1;

	for (uint32_t i = 0; i < l->n_kits; i++) {
		const struct km_kit *k = l->kits[i];
		int s = fitness(k, m);

		if (s > best_score ||
		    (s == best_score && best && s >= 0 &&
		     km_natural_compare(k->id, best->id) < 0)) {
			best = k;
			best_score = s;
		}
	}
	return best;
}

static const struct km_kit *kit_named(const struct km_load *l, const char *id)
{
	for (uint32_t i = 0; i < l->n_kits; i++)
		if (km_case_compare(l->kits[i]->id, id) == 0)
			return l->kits[i];
	return NULL;
}

static void no_such_kit(const struct km_load *l, const char *id,
			struct km_diags *d)
{
	struct km_place nowhere = { NULL, 0, 0 };
	struct km_diag *one = km_diag_add(d, KM_M_NO_SUCH_KIT, nowhere, id);
	struct km_near near;

	km_near_init(&near, id);
	for (uint32_t i = 0; i < l->n_kits; i++)
		km_near_offer(&near, l->kits[i]->id);
	if (near.n)
		km_diag_hint(d, one, "did you mean '%s'?", near.best[0]);
}

/* The machine of a kit that was asked for by name; may be NULL. */
static const struct km_machine *machine_of(const struct km_load *l,
					   const struct km_kit *k)
{
	for (uint32_t i = 0; i < l->n_machines; i++) {
		const struct km_machine *m = &l->machines[i];

		if (m->kit == k || (!m->kit && kit_for(l, m) == k))
			return m;
	}
	return l->n_machines == 1 ? &l->machines[0] : NULL;
}

static int by_priority(const void *a, const void *b)
{
	const struct km_party *x = a, *y = b;
	int64_t s, t;

	if (x->kit->priority != y->kit->priority)
		return x->kit->priority < y->kit->priority ? -1 : 1;
	if (x->kit != y->kit)
		return km_natural_compare(x->kit->id, y->kit->id);
	s = x->machine ? x->machine->serial : -1;
	t = y->machine ? y->machine->serial : -1;
	return (s > t) - (s < t);
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

static enum km_status choose(const struct km_load *l,
			     const struct km_options *o, struct km_diags *d,
			     struct km_variants *v)
{
	enum km_status st = KM_OK;

	for (uint32_t i = 0; i < o->n_kits; i++) {
		const struct km_kit *k = kit_named(l, o->kits[i]);

		if (!k) {
			no_such_kit(l, o->kits[i], d);
			st = KM_EINPUT;
			continue;
		}
		add_party(v, k, machine_of(l, k));
	}
	if (o->n_kits)
		return st;
	for (uint32_t i = 0; i < l->n_machines; i++) {
		const struct km_machine *m = &l->machines[i];
		const struct km_kit *k = m->kit ? m->kit : kit_for(l, m);

		if (!k && l->n_kits) {
			km_diag_add(d, KM_M_NO_KIT_FITS, m->at);
			st = KM_EINPUT;
			continue;
		}
		if (k)
			add_party(v, k, m);
	}
	if (!l->n_machines)
		for (uint32_t i = 0; i < l->n_kits; i++)
			add_party(v, l->kits[i], NULL);
	return st;
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

enum km_status km_variants_choose(struct km_arena *mem,
				  const struct km_load *load,
				  const struct km_options *o,
				  struct km_diags *d, struct km_variants *out)
{
	struct km_variants v = { NULL, 0, NULL, 0 };
	size_t room = (size_t)o->n_kits + load->n_machines + load->n_kits;
	enum km_status st;

	v.parties = km_arena_alloc(mem, room, sizeof *v.parties);
	v.library = km_arena_alloc(mem, load->n_kits, sizeof *v.library);
	if (!v.parties || !v.library)
		return KM_ENOMEM;
	st = choose(load, o, d, &v);
	if (st != KM_OK)
		return st;
	qsort(v.parties, v.n_parties, sizeof *v.parties, by_priority);
	for (uint32_t i = 0; i < v.n_parties; i++) {
		struct km_party *p = &v.parties[i];

		km_rules_init(&p->rules, p->kit,
			      o->standard_given ? o->standard
						: p->kit->standard);
		if (load->prices) {
			p->rules.superseded = load->prices->superseded;
			p->rules.n_superseded = load->prices->n_superseded;
		}
	}
	for (uint32_t i = 0; i < load->n_kits; i++)
		if (!takes_part(&v, load->kits[i]))
			v.library[v.n_library++] = load->kits[i];
	qsort(v.library, v.n_library, sizeof *v.library, by_kit_id);
	st = give_book(mem, load, &v);
	if (st == KM_OK)
		*out = v;
	return st;
}
