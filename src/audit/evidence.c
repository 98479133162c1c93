/* SPDX-License-Identifier: MIT */
#include "audit/evidence.h"

#include <stdlib.h>

#include "base/str.h"
#include "trade/evidence.h"

#define TOGETHER 64		/* claims on one attribute that are kept apart */

/* One claim of one slot, and the row that tells it. */
struct told { const struct km_slot *slot; uint32_t row; };

struct lister {
	struct km_arena *mem;
	const struct km_kit *kit;
	struct km_claim_audit *v;	/* NULL: only counted */
	uint32_t n;
	struct told *told;
	uint32_t n_told;
	/* of each attribute and place in its list: the last row and one */
	uint32_t last[KM_ATTRS + 1][TOGETHER];
	bool nomem;
};

/* ------------------------------------------------------------------ */
/* Sources of one claim                                                */

static bool is_strong(const struct km_source *s, enum km_ground g)
{
	for (uint32_t i = 0; i < s->n_roots; i++)
		if (s->roots[i].strong >> g & 1)
			return true;
	return false;
}

static int by_side(const void *va, const void *vb)
{
	const struct km_claim_source *a = va, *b = vb;

	if (a->says != b->says)
		return a->says < b->says ? -1 : 1;
	if (!a->source->n_depends_on != !b->source->n_depends_on)
		return a->source->n_depends_on ? 1 : -1;
	return km_natural_compare(a->source->id, b->source->id);
}

static void list_sources(struct lister *l, struct km_claim_audit *c)
{
	const struct km_evidence *e = c->evidence;
	const struct km_sources *side[] = {
		[KM_SAYS_FOR] = &e->for_it, [KM_SAYS_AGAINST] = &e->against_it,
		[KM_SAYS_SILENT] = &e->silent,
	};
	struct km_claim_source *v;
	uint32_t n = 0, kept = 0;

	v = km_arena_alloc(l->mem, e->for_it.n + e->against_it.n + e->silent.n,
			   sizeof *v);
	if (!v) {
		l->nomem = true;
		return;
	}
	for (int s = KM_SAYS_FOR; s <= KM_SAYS_SILENT; s++)
		for (uint32_t i = 0; i < side[s]->n; i++)
			v[n++] = (struct km_claim_source){
				.source = side[s]->v[i],
				.says = (enum km_says)s,
				.strong = is_strong(side[s]->v[i],
						    km_ground_of(c->attr)),
				.other_years = km_source_other_years(
					side[s]->v[i], &l->kit->years),
			};
	qsort(v, n, sizeof *v, by_side);
	for (uint32_t i = 0; i < n; i++)	/* cited twice is cited once */
		if (!i || by_side(&v[i], &v[kept - 1]) != 0)
			v[kept++] = v[i];
	c->sources = v;
	c->n_sources = kept;
}

/* ------------------------------------------------------------------ */
/* Claims                                                              */

/* What every_slot says has the same evidence in every slot. */
static bool is_alike(const struct km_claim_audit *a,
		     const struct km_claim_audit *b)
{
	return a->evidence && a->evidence == b->evidence &&
	       a->certainty == b->certainty && a->by == b->by &&
	       a->outweighed == b->outweighed && a->queried == b->queried;
}

static void add(struct lister *l, struct km_claim_audit c, uint32_t place)
{
	uint32_t *last = &l->last[c.attr][place % TOGETHER];

	c.overstated = c.by == KM_SURE_BY_STATEMENT &&
		       km_evidence_is_less(c.evidence, c.certainty);
	c.queried |= c.overstated || c.certainty > KM_PROBABLE;
	if (!c.evidence && !c.queried)
		return;
	if (!l->v) {
		l->n++;
		return;
	}
	if (!*last || !is_alike(&c, &l->v[*last - 1])) {
		if (c.evidence)
			list_sources(l, &c);
		l->v[l->n++] = c;
		*last = l->n;
	}
	l->v[*last - 1].n_alike++;	/* itself among them, for now */
	l->told[l->n_told++] = (struct told){ c.slot, *last - 1 };
}

/* The slots beyond the first of each row. */
static bool list_alike(struct lister *l)
{
	const struct km_slot **all = km_arena_alloc(l->mem, l->n_told,
						    sizeof *all);
	const struct km_slot **at = all;

	if (!all)
		return false;
	for (uint32_t i = 0; i < l->n; i++) {
		l->v[i].alike = at;
		at += l->v[i].n_alike - 1;
		l->v[i].n_alike = 0;
	}
	for (uint32_t i = 0; i < l->n_told; i++) {
		struct km_claim_audit *c = &l->v[l->told[i].row];

		if (l->told[i].slot != c->slot)
			all[c->alike - all + c->n_alike++] = l->told[i].slot;
	}
	return true;
}

static void add_existence(struct lister *l, const struct km_slot *s)
{
	add(l, (struct km_claim_audit){
		.slot = s, .attr = KM_ATTRS, .certainty = s->exists,
		.by = s->exists_stated ? KM_SURE_BY_STATEMENT :
		      s->exists_weighed ? KM_SURE_BY_SOURCES :
					  KM_SURE_BY_WORD,
		.evidence = s->evidence },
	    !s->exists_stated && !s->exists_weighed);
}

static void add_claim(struct lister *l, const struct km_slot *s,
		      enum km_attr a, const struct km_want *w, uint32_t place,
		      bool contested, enum km_certainty best)
{
	enum km_certainty c = w->own_certainty ? w->certainty : s->exists;

	/* what is as doubtful as its slot, and names no source, is told with
	 * the slot */
	if (!w->own_certainty && !contested)
		return;
	add(l, (struct km_claim_audit){
		.slot = s, .attr = a, .want = w, .certainty = c,
		.by = w->weighed ? KM_SURE_BY_SOURCES :
		      w->own_certainty ? KM_SURE_BY_STATEMENT : KM_SURE_BY_SLOT,
		.evidence = w->evidence, .queried = contested,
		.outweighed = c > best }, place);
}

static void add_attribute(struct lister *l, const struct km_slot *s,
			  enum km_attr a)
{
	const struct km_want *w = &s->want[a];
	const struct km_claims *all = w->claims;

	if (w->state == KM_WANT_NOTHING)
		return;
	if (!all) {
		add_claim(l, s, a, w, 0, false, KM_UNKNOWN);
		return;
	}
	for (uint32_t i = 0; i < all->n; i++)
		add_claim(l, s, a, &all->v[i], i,
			  w->disputed || w->n_outweighed > 0, w->certainty);
}

static void list(struct lister *l)
{
	l->n = 0;
	for (uint32_t i = 0; i < l->kit->n_slots; i++) {
		add_existence(l, &l->kit->slots[i]);
		for (int a = 0; a < KM_ATTRS; a++)
			add_attribute(l, &l->kit->slots[i], (enum km_attr)a);
	}
}

enum km_status km_evidence_list(struct km_arena *mem, const struct km_kit *kit,
				const struct km_evidence_audit **out)
{
	struct km_evidence_audit *e = km_arena_alloc(mem, 1, sizeof *e);
	struct lister l = { .mem = mem, .kit = kit };
	struct km_claim_audit *v;
	uint32_t n = 0;

	list(&l);
	l.v = km_arena_alloc(mem, l.n, sizeof *l.v);
	l.told = km_arena_alloc(mem, l.n, sizeof *l.told);
	if (!e || !l.v || !l.told)
		return KM_ENOMEM;
	list(&l);
	v = km_arena_alloc(mem, l.n, sizeof *v);
	if (l.nomem || !v || !list_alike(&l))
		return KM_ENOMEM;
	for (uint32_t i = 0; i < l.n; i++)
		if (l.v[i].queried)
			v[n++] = l.v[i];
	e->n_queried = n;
	for (uint32_t i = 0; i < l.n; i++)
		if (!l.v[i].queried)
			v[n++] = l.v[i];
	e->claims = v;
	e->n_claims = n;
	*out = e;
	return KM_OK;
}
