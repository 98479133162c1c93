/* SPDX-License-Identifier: MIT */
/*
 * How sure each claim of a kit is by its sources: the word that it does not
 * state, and a note where it states more than they support.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "read/attr.h"
#include "read/link.h"
#include "trade/evidence.h"

/* Slots share what every_slot says: it is weighed once. */
struct last {
	const char *const *ids[3];	/* for, against, silent */
	const struct km_evidence *evidence;
	const struct km_claims *claims;	/* as read */
	enum km_certainty exists;
	struct km_want settled;
};

struct weigher {
	struct km_reader *r;
	struct km_kit *kit;
	const struct km_ids *ids;
	uint8_t *seen;			/* a byte a source */
	struct last last[KM_ATTRS + 1];	/* KM_ATTRS: that it exists */
	struct last slot;		/* `sources` of a slot as a whole */
};

static const struct km_evidence *weigh(struct weigher *w, enum km_attr a,
				       const struct km_sources *for_it,
				       const struct km_sources *against,
				       const struct km_sources *silent)
{
	struct km_evidence *e = km_bind_alloc(&w->r->b, 1, sizeof *e);

	if (!e)
		return NULL;
	e->for_it = *for_it;
	if (against)
		e->against_it = *against;
	if (silent)
		e->silent = *silent;
	km_evidence_weigh(e, km_ground_of(a), w->kit->sources, w->seen);
	return e;
}

/* A list in which an id was not found has no sources. */
static bool is_linked(const struct km_sources *s)
{
	return !s->n || s->v;
}

/* "3 mentions, 1 root", "2 roots, 1 against" */
static void basis(char *text, size_t n, const struct km_evidence *e)
{
	size_t at = 0;

	if (e->mentions != e->roots)
		at = (size_t)snprintf(text, n, "%" PRIu32 " mention%s, ",
				      e->mentions, e->mentions == 1 ? "" : "s");
	at += (size_t)snprintf(text + at, n - at, "%" PRIu32 " root%s",
			       e->roots, e->roots == 1 ? "" : "s");
	if (e->roots_against)
		snprintf(text + at, n - at, ", %" PRIu32 " against",
			 e->roots_against);
}

static void say_less(struct weigher *w, const char *what, struct km_place at,
		     enum km_certainty stated, const struct km_evidence *e)
{
	char text[80];

	if (!km_evidence_is_less(e, stated))
		return;
	basis(text, sizeof text, e);
	km_diag_add(w->r->b.d, KM_M_LESS_SUPPORT, at, what,
		    km_certainty_words[stated], text,
		    km_certainty_words[e->supports]);
}

/* ------------------------------------------------------------------ */
/* That a slot exists                                                  */

static void check_sides(struct weigher *w, const struct km_slot *s)
{
	const struct km_sources *side[] = {
		&s->for_it, &s->against_it, &s->silent
	};
	const struct km_source *twice = NULL;
	struct km_diag *one;

	for (uint8_t i = 0; i < 3; i++)
		for (uint32_t k = 0; k < side[i]->n; k++) {
			uint8_t *seen = &w->seen[side[i]->v[k] -
						 w->kit->sources];

			if (*seen && *seen != i + 1 && !twice)
				twice = side[i]->v[k];
			*seen = (uint8_t)(i + 1);
		}
	for (uint8_t i = 0; i < 3; i++)
		for (uint32_t k = 0; k < side[i]->n; k++)
			w->seen[side[i]->v[k] - w->kit->sources] = 0;
	if (!twice)
		return;
	one = km_diag_add(w->r->b.d, KM_M_BOTH_SIDES, s->exists_at, twice->id);
	km_diag_hint(w->r->b.d, one, "where a source shows it in one place and "
		     "not in another, make two sources of it, each with its "
		     "page");
}

static bool same_ids(const struct last *l, const struct km_slot *s)
{
	return l->evidence && l->ids[0] == s->for_it.ids &&
	       l->ids[1] == s->against_it.ids && l->ids[2] == s->silent.ids;
}

static void of_exists(struct weigher *w, struct km_slot *s)
{
	struct last *l = &w->last[KM_ATTRS];

	if (!is_linked(&s->for_it) || !is_linked(&s->against_it) ||
	    !is_linked(&s->silent))
		return;
	if (!same_ids(l, s)) {
		check_sides(w, s);
		l->evidence = weigh(w, KM_ATTRS, &s->for_it, &s->against_it,
				    &s->silent);
		if (s->exists_stated)
			say_less(w, "exists", s->exists_at, s->exists,
				 l->evidence);
	}
	l->ids[0] = s->for_it.ids;
	l->ids[1] = s->against_it.ids;
	l->ids[2] = s->silent.ids;
	s->evidence = l->evidence;
	if (!s->evidence || s->exists_stated)
		return;
	s->exists_weighed = true;
	s->exists = s->evidence->supports;
}

static void of_slot(struct weigher *w, struct km_slot *s)
{
	if (w->slot.ids[0] != s->sources.ids)
		w->slot.evidence = weigh(w, KM_ATTRS, &s->sources, NULL, NULL);
	w->slot.ids[0] = s->sources.ids;
	s->evidence = w->slot.evidence;
}

static void exists(struct weigher *w, struct km_slot *s)
{
	if (s->for_it.n || s->against_it.n || s->silent.n)
		of_exists(w, s);
	else if (s->sources.n && s->sources.v)
		of_slot(w, s);
}

/* ------------------------------------------------------------------ */
/* Attributes                                                          */

static void settle(struct km_want *c, const struct km_evidence *e)
{
	c->evidence = e;
	if (!e || c->own_certainty)
		return;
	c->own_certainty = true;
	c->weighed = true;
	c->certainty = e->supports;
}

static void one_claim(struct weigher *w, enum km_attr a, struct km_want *c)
{
	struct last *l = &w->last[a];

	if (!c->sources.n || !c->sources.v)
		return;
	if (!l->evidence || l->ids[0] != c->sources.ids) {
		l->evidence = weigh(w, a, &c->sources, NULL, NULL);
		if (c->own_certainty)
			say_less(w, km_attr_field(a)->key, c->at, c->certainty,
				 l->evidence);
	}
	l->ids[0] = c->sources.ids;
	settle(c, l->evidence);
}

/* The sources of the claims that say the same as one of them, or of those
 * that do not. */
static struct km_sources pool(struct weigher *w, enum km_attr a,
			      const struct km_claims *all, uint32_t one,
			      bool same)
{
	struct km_sources out = { NULL, NULL, 0 };
	const struct km_source **v;
	const char **ids;
	uint32_t n = 0;

	for (uint32_t i = 0; i < all->n; i++)
		n += all->v[i].sources.v ? all->v[i].sources.n : 0;
	v = km_bind_alloc(&w->r->b, n + 1, sizeof *v);
	ids = km_bind_alloc(&w->r->b, n + 1, sizeof *ids);
	if (!v || !ids)
		return out;
	for (uint32_t i = 0; i < all->n; i++) {
		const struct km_want *c = &all->v[i];

		if (!c->sources.v ||
		    km_claims_agree(a, c, &all->v[one]) != same)
			continue;
		for (uint32_t k = 0; k < c->sources.n; k++, out.n++) {
			v[out.n] = c->sources.v[k];
			ids[out.n] = c->sources.ids[k];
		}
	}
	out.v = v;
	out.ids = ids;
	return out;
}

static void weigh_claims(struct weigher *w, enum km_attr a, struct km_want *v,
			 const struct km_claims *all)
{
	struct km_sources yes, no;

	for (uint32_t i = 0; i < all->n && !w->r->b.nomem; i++) {
		if (!v[i].sources.n || !v[i].sources.v)
			continue;
		yes = pool(w, a, all, i, true);
		no = pool(w, a, all, i, false);
		if (w->r->b.nomem)
			return;
		settle(&v[i], weigh(w, a, &yes, &no, NULL));
		if (!v[i].weighed)
			say_less(w, km_attr_field(a)->key, v[i].at,
				 v[i].certainty, v[i].evidence);
	}
}

static void several(struct weigher *w, enum km_attr a, struct km_slot *s,
		    struct km_want *want)
{
	struct km_bind *b = &w->r->b;
	const struct km_claims *read = want->claims;
	struct last *l = &w->last[a];
	struct km_claims *mine;
	struct km_want *v;

	if (l->claims == read && l->exists == s->exists) {
		*want = l->settled;
		return;
	}
	v = km_bind_alloc(b, read->n, sizeof *v);
	mine = km_bind_alloc(b, 1, sizeof *mine);
	if (!v || !mine)
		return;
	memcpy(v, read->v, read->n * sizeof *v);
	weigh_claims(w, a, v, read);
	*mine = (struct km_claims){ v, read->n };
	if (!b->nomem && km_claims_settle(b, a, mine, s->exists, want))
		km_link_sources(w->r, w->kit, w->ids, &want->sources, want->at);
	l->claims = read;
	l->exists = s->exists;
	l->settled = *want;
}

static void attributes(struct weigher *w, struct km_slot *s)
{
	for (int a = 0; a < KM_ATTRS && !w->r->b.nomem; a++) {
		struct km_want *want = &s->want[a];

		if (want->claims)
			several(w, (enum km_attr)a, s, want);
		else
			one_claim(w, (enum km_attr)a, want);
		if (!want->own_certainty)
			want->certainty = s->exists;
	}
}

void km_link_evidence(struct km_reader *r, struct km_kit *kit,
		      const struct km_ids *sources)
{
	struct weigher *w;

	if (kit->n_sources > KM_SOURCES_MOST)
		return;		/* a message was given */
	w = km_arena_alloc(r->b.scratch, 1, sizeof *w);
	if (!w || !km_roots_find(r->b.mem, r->b.scratch,
				 (struct km_source *)kit->sources,
				 kit->n_sources, &kit->years)) {
		r->b.nomem = true;
		return;
	}
	w->r = r;
	w->kit = kit;
	w->ids = sources;
	w->seen = km_arena_alloc(r->b.scratch, kit->n_sources + 1, 1);
	r->b.nomem |= !w->seen;
	for (uint32_t i = 0; i < kit->n_slots && !r->b.nomem; i++) {
		exists(w, &kit->slots[i]);
		attributes(w, &kit->slots[i]);
	}
}
