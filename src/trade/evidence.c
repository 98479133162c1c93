/* SPDX-License-Identifier: MIT */
#include "trade/evidence.h"

#include "unit/date.h"

/* What each kind of source is strong on: bits 1 << enum km_ground. */
static const uint16_t strong_on[KM_SRC_WHATS][KM_GROUNDS] = {
#define STRONG(what, ground, source) [KM_SRC_##what][KM_G_##ground] = 1,
#include "data/evidence.def"
#undef STRONG
};

enum km_ground km_ground_of(enum km_attr a)
{
	switch (a) {
	case KM_A_TOOL:
	case KM_A_DRIVE:
		return KM_G_KIND;
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		return KM_G_SIZES;
	case KM_A_FINISH:
	case KM_A_HANDLE_MATERIAL:
		return KM_G_FINISH;
	case KM_A_HANDLE_COLOUR:
		return KM_G_COLOUR;
	case KM_A_MARK:
	case KM_A_MADE:
		return KM_G_MARK;
	case KM_A_PART:
		return KM_G_PART;
	case KM_ATTRS:
		return KM_G_EXISTS;
	default:
		return KM_G_DIMENSION;
	}
}

bool km_source_is_strong(enum km_source_what what, enum km_ground g)
{
	return strong_on[what][g];
}

bool km_source_other_years(const struct km_source *s,
			   const struct km_period *years)
{
	if (!s->dated.from.year || !years->from.year)
		return false;
	return km_date_compare(s->dated.to, years->from) < 0 ||
	       km_date_compare(years->to, s->dated.from) < 0;
}

/* Does its date say that it is about other machines?  The date of a
 * photograph, a book and the like is that of the print, the find or the
 * telling; a drawing is made before the thing, and holds until another
 * replaces it. */
static bool is_other_edition(const struct km_source *s,
			     const struct km_period *years)
{
	switch (s->what) {
	case KM_SRC_PARTS_LIST:
	case KM_SRC_HANDBOOK:
	case KM_SRC_PICTURE:
	case KM_SRC_SALES:
		return km_source_other_years(s, years);
	case KM_SRC_DRAWING:
		return km_source_other_years(s, years) &&
		       km_date_compare(years->to, s->dated.from) < 0;
	default:
		return false;
	}
}

static uint16_t grounds_of(const struct km_source *s,
			   const struct km_period *years)
{
	uint16_t bits = 0;

	if (is_other_edition(s, years))
		return 0;
	for (int g = 0; g < KM_GROUNDS; g++)
		if (strong_on[s->what][g])
			bits |= (uint16_t)(1u << g);
	return bits;
}

/* ------------------------------------------------------------------ */
/* Roots                                                               */

struct finder {
	struct km_arena *mem;
	struct km_source *s;
	const struct km_period *years;
	uint16_t *strong;	/* of a root, through the source at hand */
	uint32_t *met;		/* its roots */
	uint8_t *is_met;
	struct km_root *list;	/* as long as it can get */
};

/* The roots of what it depends on are its own, no stronger than itself. */
static bool gather(struct finder *f, struct km_source *s)
{
	uint16_t own = grounds_of(s, f->years);
	struct km_root *v;
	uint32_t n = 0;

	for (uint32_t i = 0; i < s->n_depends_on; i++)
		for (uint32_t k = 0; k < s->depends_on[i]->n_roots; k++) {
			const struct km_root *r = &s->depends_on[i]->roots[k];
			size_t at = (size_t)(r->source - f->s);

			if (!f->is_met[at])
				f->met[n++] = (uint32_t)at;
			f->is_met[at] = 1;
			f->strong[at] |= r->strong & own;
		}
	v = km_arena_alloc(f->mem, n ? n : 1, sizeof *v);
	if (!v)
		return false;
	for (uint32_t i = 0; i < n; i++) {
		v[i].source = &f->s[f->met[i]];
		v[i].strong = f->strong[f->met[i]];
		f->is_met[f->met[i]] = 0;
		f->strong[f->met[i]] = 0;
	}
	if (!n)
		v[n++] = (struct km_root){ s, own };
	s->roots = v;
	s->n_roots = n;
	return true;
}

/* No deeper than there are sources, since nothing leads in a circle. */
static bool find(struct finder *f, struct km_source *s)
{
	for (uint32_t i = 0; i < s->n_depends_on; i++)
		if (!s->depends_on[i]->n_roots &&
		    !find(f, &f->s[s->depends_on[i] - f->s]))
			return false;
	return gather(f, s);
}

bool km_roots_find(struct km_arena *mem, struct km_arena *scratch,
		   struct km_source *s, uint32_t n,
		   const struct km_period *years)
{
	struct finder f = { .mem = mem, .s = s, .years = years };

	f.strong = km_arena_alloc(scratch, n + 1, sizeof *f.strong);
	f.met = km_arena_alloc(scratch, n + 1, sizeof *f.met);
	f.is_met = km_arena_alloc(scratch, n + 1, sizeof *f.is_met);
	if (!f.strong || !f.met || !f.is_met)
		return false;
	for (uint32_t i = 0; i < n; i++)
		if (!s[i].n_roots && !find(&f, &s[i]))
			return false;
	return true;
}

/* ------------------------------------------------------------------ */
/* Weighing                                                            */

enum { MENTIONED = 1, ROOT = 2, STRONG_ROOT = 4 };

struct side {
	uint32_t mentions, dependent, roots, strong;
	uint32_t survivors;		/* of the strong roots */
	enum km_source_what mention, root;	/* WHATS: of several kinds */
};

static void take_kind(enum km_source_what *kind, enum km_source_what what,
		      bool first)
{
	*kind = first || *kind == what ? what : KM_SRC_WHATS;
}

static void count_root(struct side *c, const struct km_root *r, bool strong,
		       uint8_t *seen)
{
	if (!(*seen & ROOT)) {
		take_kind(&c->root, r->source->what, !c->roots);
		c->roots++;
	}
	if (strong && !(*seen & STRONG_ROOT)) {
		c->strong++;
		c->survivors += r->source->what == KM_SRC_SURVIVOR;
	}
	*seen |= strong ? ROOT | STRONG_ROOT : ROOT;
}

static struct side count(const struct km_sources *list, enum km_ground g,
			 const struct km_source *s, uint8_t *seen)
{
	struct side c = { .mention = KM_SRC_WHATS, .root = KM_SRC_WHATS };

	for (uint32_t i = 0; i < list->n; i++) {
		const struct km_source *m = list->v[i];

		if (seen[m - s] & MENTIONED)
			continue;
		seen[m - s] |= MENTIONED;
		take_kind(&c.mention, m->what, !c.mentions);
		c.mentions++;
		c.dependent += m->n_depends_on > 0;
		for (uint32_t k = 0; k < m->n_roots; k++)
			count_root(&c, &m->roots[k], m->roots[k].strong >> g & 1,
				   &seen[m->roots[k].source - s]);
	}
	for (uint32_t i = 0; i < list->n; i++) {
		seen[list->v[i] - s] = 0;
		for (uint32_t k = 0; k < list->v[i]->n_roots; k++)
			seen[list->v[i]->roots[k].source - s] = 0;
	}
	return c;
}

/*
 * [choice], after the words of the trade [common-practice]: nothing is
 * certain by one source alone [toolkit-pliers-page], nor where a list that
 * covers it is silent; what is against it, if it is no poorer than what is
 * for it, makes a dispute.
 */
static enum km_certainty verdict(const struct side *yes, const struct side *no,
				 const struct side *silent)
{
	if (!yes->mentions)
		return no->mentions || silent->mentions ? KM_CONJECTURE
							: KM_UNKNOWN;
	if (no->strong || (no->roots && !yes->strong))
		return KM_DISPUTED;
	if (!yes->strong)
		return KM_POSSIBLE;
	if (yes->strong >= 2 && yes->survivors && !no->roots && !silent->roots)
		return KM_CERTAIN;
	return KM_PROBABLE;
}

void km_evidence_weigh(struct km_evidence *e, enum km_ground g,
		       const struct km_source *s, uint8_t *seen)
{
	struct side yes = count(&e->for_it, g, s, seen);
	struct side no = count(&e->against_it, g, s, seen);
	struct side silent = count(&e->silent, g, s, seen);

	e->mentions = yes.mentions;
	e->dependent = yes.dependent;
	e->roots = yes.roots;
	e->strong = yes.strong;
	e->mentions_against = no.mentions;
	e->dependent_against = no.dependent;
	e->roots_against = no.roots;
	e->strong_against = no.strong;
	e->roots_silent = silent.roots;
	e->rests_on = yes.mentions == 1 ? yes.mention : yes.root;
	e->supports = verdict(&yes, &no, &silent);
}
