/* SPDX-License-Identifier: MIT */
#include "match/alike.h"

#include <string.h>

#include "match/aspects.h"
#include "match/value.h"

/* Attributes that are judged without a look at the others. */
enum facet_of { ENDS, MARKS, LOOKS, FACETS };

#define BIT(a) ((uint32_t)1 << KM_A_##a)
static const uint32_t facet_attrs[FACETS] = {
	[ENDS] = BIT(TOOL) | BIT(DRIVE) | BIT(SIZES) | BIT(OPENINGS),
	[MARKS] = BIT(MARK) | BIT(MADE) | BIT(PART),
	[LOOKS] = BIT(FINISH) | BIT(HANDLE_COLOUR) | BIT(HANDLE_MATERIAL),
};
#define ALL_BUT_LENGTH (((uint32_t)1 << KM_ATTRS) - 1 - BIT(LENGTH))

/* What one facet comes to in one group. */
struct share {
	uint8_t letters;
	bool known;
	bool fits;		/* ENDS: a candidate, if the length lets it */
	bool near, changes;	/* as in struct km_prospect */
	uint8_t n;		/* ENDS: of the dimension axis; MARKS */
	uint8_t n_more;		/* ENDS: of the marking axis */
	uint8_t skins;		/* LOOKS: km_compare_skins() */
	int16_t sum, more;	/* their scores; LOOKS: both axes, in sum */
};

struct facet {
	uint64_t hash;
	const struct km_tool *like;
	enum facet_of which;
	uint32_t n, *group;	/* ENDS: those of the index, a share each */
	struct share *of;	/* else a share a group */
};

/* Records found again by their hash. */
struct table {
	void **v;
	uint32_t room, n;
};

struct km_alikes {
	struct km_arena *own;
	struct km_index *index;
	const struct km_size_book *book;
	const struct km_filter *filter;
	struct table alikes, facets;
	struct km_prospect *trial;	/* a group each */
	struct km_match match;
};

/* ------------------------------------------------------------------ */
/* Tables                                                              */

static bool grow(struct km_arena *own, struct table *t)
{
	uint32_t room = t->room ? 2 * t->room : 256;
	void **v = km_arena_alloc(own, room, sizeof *v);

	if (!v)
		return false;
	for (uint32_t i = 0; i < t->room; i++) {
		/* the hash stands first in every record */
		const uint64_t *hash = t->v[i];
		uint32_t at;

		if (!hash)
			continue;
		for (at = (uint32_t)*hash & (room - 1); v[at];
		     at = (at + 1) & (room - 1))
			;
		v[at] = t->v[i];
	}
	t->v = v;
	t->room = room;
	return true;
}

static bool add(struct km_arena *own, struct table *t, void *record)
{
	const uint64_t *hash = record;
	uint32_t at;

	if (4 * (t->n + 1) > 3 * t->room && !grow(own, t))
		return false;
	for (at = (uint32_t)*hash & (t->room - 1); t->v[at];
	     at = (at + 1) & (t->room - 1))
		;
	t->v[at] = record;
	t->n++;
	return true;
}

struct hashes { uint64_t facet[FACETS], all; };

static struct hashes hash_of(const struct km_tool *t)
{
	const struct km_traits *x = &t->traits;
	const union km_value *v = x->v;
	struct hashes h = { { ENDS, MARKS, LOOKS }, (uint64_t)t->status };

	for (uint32_t left = x->has; left; left &= left - 1, v++) {
		enum km_attr a = (enum km_attr)__builtin_ctz(left);
		uint64_t *to = &h.all;

		if (a == KM_A_LENGTH)
			continue;
		for (int f = 0; f < FACETS; f++)
			if (facet_attrs[f] >> a & 1)
				to = &h.facet[f];
		*to = km_value_mix(*to + (uint64_t)a, a, v);
	}
	h.all = km_mix(h.all, (uintptr_t)t->owner);
	h.all = km_mix(h.all, (uint64_t)x->has << 32 | x->none);
	for (int f = 0; f < FACETS; f++)
		h.all = km_mix(h.all, h.facet[f]);
	return h;
}

/* ------------------------------------------------------------------ */
/* Shares                                                              */

/* Each aspect is cleared before it is compared. */
static void clear(struct km_match *m, enum km_aspect first,
		  enum km_aspect last)
{
	memset(&m->on[first], 0,
	       ((size_t)last - (size_t)first + 1) * sizeof *m->on);
}

static struct km_case begin(struct km_alikes *a, const struct km_target *t,
			    const struct km_thing *thing)
{
	return (struct km_case){ .rules = t->rules, .slot = t->slot,
				 .thing = thing, .out = &a->match,
				 .wants = t->wants };
}

/* Add an aspect up, if it is wanted. */
static void count(const struct km_comparison *on, uint8_t *letters,
		  uint8_t *n, int16_t *sum)
{
	if (on->outcome == KM_NOT_WANTED)
		return;
	*letters |= (uint8_t)(1 << on->letter);
	*sum = (int16_t)(*sum + on->score);
	++*n;
}

static void share_ends(struct km_case *c, struct share *s)
{
	const struct km_comparison *on = c->out->on;
	const struct km_kind *kind = km_compare_kind(c);

	if (!kind)
		return;
	clear(c->out, KM_ASP_SIZES, KM_ASP_SIZES);
	clear(c->out, KM_ASP_SIZE_NAME, KM_ASP_SIZE_NAME);
	s->fits = km_compare_ends(c);
	s->near = !km_compare_is_sized(c, kind);
	s->fits |= s->near;
	count(&on[KM_ASP_SIZES], &s->letters, &s->n, &s->sum);
	count(&on[KM_ASP_SIZE_NAME], &s->letters, &s->n_more, &s->more);
}

/* The condition, which may say that a mark is gone, changes no letter. */
static void share_marks(struct km_case *c, struct share *s)
{
	const struct km_comparison *on = c->out->on;
	uint8_t part = 0;

	clear(c->out, KM_ASP_MADE, KM_ASP_MADE);
	clear(c->out, KM_ASP_MARK, KM_ASP_PART);
	km_compare_marks(c);
	s->changes = on[KM_ASP_PART].finding == KM_F_PART_SUPERSEDING &&
		     on[KM_ASP_PART].letter == KM_FAILS;
	count(&on[KM_ASP_MARK], &s->letters, &s->n, &s->sum);
	count(&on[KM_ASP_MADE], &s->letters, &s->n, &s->sum);
	/* what the part changes may take its place */
	count(&on[KM_ASP_PART], s->changes ? &part : &s->letters, &s->n,
	      &s->sum);
}

static void share_looks(struct km_case *c, struct share *s)
{
	clear(c->out, KM_ASP_FINISH, KM_ASP_PLATE);
	km_compare_looks(c);
	s->skins = (uint8_t)km_compare_skins(c);
	if (c->thing->at_plater)
		km_compare_renewed(c->out);
	for (int i = KM_ASP_FINISH; i <= KM_ASP_HANDLE_COLOUR; i++)
		if (c->out->on[i].outcome != KM_NOT_WANTED)
			s->letters |= (uint8_t)(1 << c->out->on[i].letter);
	s->sum = (int16_t)(km_score_axis(c->out, KM_ASP_FINISH,
					 KM_ASP_FINISH) +
			   km_score_axis(c->out, KM_ASP_HANDLE_MATERIAL,
					 KM_ASP_HANDLE_COLOUR));
}

static struct km_thing thing_of(const struct km_tool *tool)
{
	return (struct km_thing){ .traits = &tool->traits, .tool = tool,
				  .at_plater = tool->status == KM_AT_PLATER };
}

static const struct share *share_of(struct km_alikes *a, struct facet *f,
				    uint32_t group)
{
	struct share *s = &f->of[group];

	if (!s->known) {
		struct km_thing thing = thing_of(f->like);
		struct km_case c = begin(a, &a->index->groups[group].target,
					 &thing);

		if (f->which == MARKS)
			share_marks(&c, s);
		else
			share_looks(&c, s);
		s->known = true;
	}
	return s;
}

/* All groups that the ends may fill; their shares are worked out later. */
static bool list_ends(struct km_alikes *a, struct facet *f,
		      const struct km_readings *r)
{
	const union km_value *kind = km_trait(&f->like->traits, KM_A_TOOL);
	struct km_index *x = a->index;

	if (!kind || !km_index_has(x, kind->kind))
		return true;
	km_index_list(x, kind->kind, r);
	f->n = x->n_found;
	f->group = km_arena_copy(a->own, x->found, f->n, sizeof *f->group);
	f->of = km_arena_alloc(a->own, f->n, sizeof *f->of);
	return f->group && f->of;
}

static const struct share *share_of_ends(struct km_alikes *a, struct facet *f,
					 uint32_t i,
					 const struct km_readings *r)
{
	struct share *s = &f->of[i];

	if (!s->known) {
		struct km_thing thing = thing_of(f->like);
		struct km_case c = begin(
			a, &a->index->groups[f->group[i]].target, &thing);

		thing.readings = r;
		share_ends(&c, s);
		s->known = true;
	}
	return s;
}

/* r: of the tool. */
static struct facet *find_facet(struct km_alikes *a, enum facet_of which,
				uint64_t hash, const struct km_tool *tool,
				const struct km_readings *r)
{
	struct table *t = &a->facets;
	struct facet *f;

	for (uint32_t at = (uint32_t)hash & (t->room - 1); t->n && t->v[at];
	     at = (at + 1) & (t->room - 1)) {
		f = t->v[at];
		if (f->hash == hash && f->which == which &&
		    (f->like->status == KM_AT_PLATER) ==
			    (tool->status == KM_AT_PLATER) &&
		    km_traits_same(&f->like->traits, &tool->traits,
				   facet_attrs[which]))
			return f;
	}
	f = km_arena_alloc(a->own, 1, sizeof *f);
	if (!f)
		return NULL;
	f->hash = hash;
	f->like = tool;
	f->which = which;
	if (which == ENDS) {
		if (!list_ends(a, f, r))
			return NULL;
	} else {
		f->of = km_arena_alloc(a->own, a->index->n_groups,
				       sizeof *f->of);
		if (!f->of)
			return NULL;
	}
	return add(a->own, t, f) ? f : NULL;
}

/* ------------------------------------------------------------------ */
/* Prospects                                                           */

/* The lengths, but for one that has to be looked at tool by tool. */
static void add_lengths(struct km_alikes *a, const struct km_target *t,
			const struct km_tool *tool, struct km_prospect *p)
{
	struct km_thing thing = thing_of(tool);
	struct km_case c;

	p->length = (t->wants & BIT(LENGTH)) &&
		    (tool->traits.has & BIT(LENGTH)) &&
		    t->slot->want[KM_A_LENGTH].state == KM_WANT_ANY_OF;
	if (!(t->wants & KM_LENGTHS & ~(p->length ? BIT(LENGTH) : 0)))
		return;
	clear(&a->match, KM_ASP_LENGTH, KM_ASP_DEPTH);
	c = begin(a, t, &thing);
	if (p->length)
		c.wants &= ~BIT(LENGTH);
	km_compare_dims(&c);
	for (int i = KM_ASP_LENGTH; i <= KM_ASP_DEPTH; i++)
		count(&c.out->on[i], &p->letters, &p->n, &p->dimension);
}

static int32_t rank_if(const struct km_target *t, const struct km_prospect *p,
		       bool recorded, bool outside)
{
	bool misses = outside && p->length;

	return km_prospect_rank(
		p, p->letters | (misses ? 1u << t->outside : 0),
		p->dimension + (p->length && !misses ? KM_SCORE_AGREES : 0),
		p->n + p->length,
		recorded ? KM_SCORE_AGREES : KM_SCORE_UNRECORDED);
}

/* All but the condition and an open length, put together. */
static void put_together(struct km_alikes *a, const struct km_tool *tool,
			 const struct share *ends, const struct share *marks,
			 const struct share *looks, struct km_prospect *p)
{
	const struct km_target *t = &a->index->groups[p->group].target;
	int n = marks->n + ends->n_more;

	p->letters = ends->letters | marks->letters | looks->letters;
	p->n = ends->n;
	p->dimension = ends->sum;
	p->near = ends->near;
	p->changes = marks->changes;
	p->marking = (int16_t)(n ? (marks->sum + ends->more) / n
				 : KM_SCORE_AGREES);
	p->looks = looks->sum;
	p->skins = looks->skins;
	add_lengths(a, t, tool, p);
	p->at_best[1][0] = rank_if(t, p, true, false);
}

/* Where the tool is kept; 2: nowhere. */
static int list_of(const struct km_alikes *a, const struct km_group *g,
		   const struct km_tool *tool)
{
	const struct km_filter *f = a->filter;
	enum km_use use = f && f->use ? f->use(g->party, tool, f->ctx)
				      : KM_USE;

	return use == KM_USE ? 0 : use == KM_USE_NOT_OURS ? 1 : 2;
}

/* Would even the best ends and length be beaten by what is kept? */
static bool is_hopeless(const struct km_group *g, const struct share *marks,
			const struct share *looks)
{
	uint32_t letters = marks->letters | looks->letters;
	int marking = (marks->sum + KM_SCORE_AGREES) / (marks->n + 1);
	int32_t rank = km_rank(
		km_verdict_of_set(letters),
		km_score_total(KM_SCORE_AGREES, marking, KM_SCORE_AGREES,
			       looks->sum, 0));

	return rank > g->few[0].limit && rank > g->few[1].limit;
}

/* Add a prospect, unless what is kept beats it. */
static void add_prospect(struct km_alikes *a, struct km_alike *like,
			 struct km_prospect *p)
{
	const struct km_group *g = &a->index->groups[p->group];
	const struct km_target *t = &g->target;
	int list;

	if (p->at_best[1][0] > g->few[0].limit &&
	    p->at_best[1][0] > g->few[1].limit)
		return;
	list = list_of(a, g, like->like);
	if (list > 1 || p->at_best[1][0] > g->few[list].limit)
		return;
	p->few = (uint8_t)list;
	p->at_best[0][0] = rank_if(t, p, false, false);
	p->at_best[0][1] = rank_if(t, p, false, true);
	p->at_best[1][1] = rank_if(t, p, true, true);
	a->trial[like->n++] = *p;
}

static bool fill_prospects(struct km_alikes *a, const struct hashes *h,
			   struct km_alike *like)
{
	const struct km_tool *tool = like->like;
	struct facet *ends, *marks, *looks;
	struct km_readings r;

	km_readings_take(&r, &tool->traits, a->book);
	ends = find_facet(a, ENDS, h->facet[ENDS], tool, &r);
	if (!ends || !ends->n)
		return ends != NULL;
	marks = find_facet(a, MARKS, h->facet[MARKS], tool, &r);
	looks = find_facet(a, LOOKS, h->facet[LOOKS], tool, &r);
	if (!marks || !looks)
		return false;
	for (uint32_t i = 0; i < ends->n; i++) {
		struct km_prospect p = { .group = ends->group[i] };
		const struct share *e = &ends->of[i], *m, *l;

		if (e->known && !e->fits)
			continue;
		m = share_of(a, marks, p.group);
		l = share_of(a, looks, p.group);
		if (!e->known &&
		    is_hopeless(&a->index->groups[p.group], m, l))
			continue;
		e = share_of_ends(a, ends, i, &r);
		if (!e->fits)
			continue;
		put_together(a, tool, e, m, l, &p);
		add_prospect(a, like, &p);
	}
	like->v = km_arena_copy(a->own, a->trial, like->n, sizeof *like->v);
	return like->v != NULL;
}

static bool is_one_of(const struct km_alike *a, uint64_t hash,
		      const struct km_tool *t)
{
	const struct km_tool *u = a->like;

	return a->hash == hash && u->status == t->status &&
	       u->owner == t->owner && u->traits.has == t->traits.has &&
	       u->traits.none == t->traits.none &&
	       u->traits.unread == t->traits.unread &&
	       km_traits_same(&u->traits, &t->traits, ALL_BUT_LENGTH);
}

static struct km_alike *add_alike(struct km_alikes *a, const struct hashes *h,
				  const struct km_tool *tool)
{
	struct km_alike *like = km_arena_alloc(a->own, 1, sizeof *like);

	if (!like)
		return NULL;
	like->hash = h->all;
	like->like = tool;
	return fill_prospects(a, h, like) && add(a->own, &a->alikes, like)
		       ? like : NULL;
}

struct km_alike *km_alikes_find(struct km_alikes *a,
				const struct km_tool *tool)
{
	struct table *t = &a->alikes;
	struct hashes h = hash_of(tool);

	for (uint32_t at = (uint32_t)h.all & (t->room - 1); t->n && t->v[at];
	     at = (at + 1) & (t->room - 1))
		if (is_one_of(t->v[at], h.all, tool))
			return t->v[at];
	if (km_arena_bytes(a->own) > KM_ALIKE_BYTES) {
		km_arena_reset(a->own);
		a->alikes = a->facets = (struct table){ NULL, 0, 0 };
	}
	return add_alike(a, &h, tool);
}

/* ------------------------------------------------------------------ */

struct km_alikes *km_alikes_new(struct km_arena *mem,
				const struct km_limits *limits,
				struct km_index *index,
				const struct km_size_book *book,
				const struct km_filter *filter)
{
	struct km_alikes *a = km_arena_alloc(mem, 1, sizeof *a);

	if (!a)
		return NULL;
	a->index = index;
	a->book = book;
	a->filter = filter;
	a->trial = km_arena_raw(mem, index->n_groups, sizeof *a->trial);
	if (a->trial)
		a->own = km_arena_new(limits);
	return a->own ? a : NULL;
}

void km_alikes_free(struct km_alikes *a)
{
	if (a)
		km_arena_free(a->own);
}
