/* SPDX-License-Identifier: MIT */
/*
 * marks - what is struck on the thing, who made it and when, and its part
 * number with what superseded what.
 */
#include "match/aspects.h"

#include <string.h>

#include "base/str.h"
#include "match/part.h"

#define SCORE_SUPERSEDING 800	/* a choice, for ordering alone */
#define CHAIN_MOST 64		/* parts looked at on the way, at most */

/* ------------------------------------------------------------------ */
/* Mark                                                                */

static bool holds(const char *mark, const char *listed)
{
	return km_fold_has_words(km_slice_of(mark), km_slice_of(listed));
}

/* The word `maker` stands for all marks of the kit's maker. */
static bool mark_is_listed(const struct km_case *c, const char *mark)
{
	const struct km_want *w = &c->slot->want[KM_A_MARK];
	const struct km_kit *kit = c->rules->kit;

	for (uint32_t i = 0; i < w->n; i++) {
		const char *listed = w->any[i].text;

		if (holds(mark, listed))
			return true;
		if (!kit || km_fold_compare(km_slice_of(listed),
					    km_slice_of("maker")) != 0)
			continue;
		for (uint32_t k = 0; k < kit->n_maker_marks; k++)
			if (holds(mark, kit->maker_marks[k]))
				return true;
	}
	return false;
}

static void judge_mark(struct km_case *c)
{
	struct km_findings f = {
		KM_F_MARK_LISTED, KM_F_MARK_NONE, KM_F_MARK_UNRECORDED,
	};
	const struct km_condition *k = c->thing->condition;
	bool same;

	if (km_case_have(c, KM_A_MARK) == KM_HAVE_UNREAD ||
	    (k && k->marking == KM_MARKING_GONE))
		f.unrecorded = KM_F_MARK_UNREAD;
	if (c->slot->want[KM_A_MARK].state == KM_WANT_NONE)
		f.other = KM_F_MARK_UNWANTED;
	if (km_case_settle(c, KM_ASP_MARK, KM_A_MARK, &f))
		return;
	same = mark_is_listed(c, km_trait(c->thing->traits, KM_A_MARK)->text);
	km_case_set(c, KM_ASP_MARK, KM_A_MARK, same ? KM_AGREES : KM_DIFFERS,
		    same ? KM_F_MARK_LISTED : KM_F_MARK_OTHER,
		    same ? KM_SCORE_AGREES : 0);
}

/* ------------------------------------------------------------------ */
/* Made                                                                */

static bool lists_made(const struct km_case *c, enum km_made made)
{
	const struct km_want *w = &c->slot->want[KM_A_MADE];

	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (w->any[i].made == made)
			return true;
	return false;
}

/* Is it recorded, or does the offer say so? */
static bool made_of(const struct km_case *c, enum km_made *made)
{
	const union km_value *v = km_trait(c->thing->traits, KM_A_MADE);
	const struct km_offer *o = c->thing->offer;

	if (v)
		*made = v->made;
	else if (o && o->state == KM_OFFER_REPRODUCTION)
		*made = KM_MADE_REPRODUCTION;
	else
		return false;
	return true;
}

/* A reproduction is one whether the kit speaks of it or not; a tool made in
 * period by another stands for a mark that is not listed. */
static void judge_made(struct km_case *c)
{
	bool wanted = km_case_wants(c, KM_A_MADE);
	enum km_finding finding = KM_F_MADE_RIGHT;
	enum km_made made;

	if (!made_of(c, &made)) {
		if (wanted)
			km_case_set(c, KM_ASP_MADE, KM_A_MADE, KM_NOT_RECORDED,
				    KM_F_MADE_UNRECORDED, KM_SCORE_UNRECORDED);
		return;
	}
	if (made == KM_MADE_REPRODUCTION && !lists_made(c, made))
		finding = KM_F_REPRODUCTION;
	else if (made == KM_MADE_PERIOD && !lists_made(c, made) &&
		 (wanted || km_case_wants(c, KM_A_MARK)))
		finding = KM_F_MADE_PERIOD;
	else if (!wanted)
		return;
	km_case_set(c, KM_ASP_MADE, KM_A_MADE,
		    finding == KM_F_MADE_RIGHT ? KM_AGREES : KM_DIFFERS,
		    finding, finding == KM_F_MADE_RIGHT ? KM_SCORE_AGREES : 0);
}

/* ------------------------------------------------------------------ */
/* Part                                                                */

static bool same_part(const char *a, const char *b)
{
	return km_fold_compare(km_slice_of(a), km_slice_of(b)) == 0;
}

/* A part that the wanted one leads to, and what changed on the way. */
struct successor {
	const char *part;
	uint32_t changes;	/* bits of enum km_attr */
	bool unnamed;		/* a change of something else, too */
};

static struct successor step(const struct successor *from, const char *part,
			     const struct km_supersession *s)
{
	return (struct successor){
		part, from->changes | s->changes,
		from->unnamed ||
		s->n_changes > (uint32_t)__builtin_popcount(s->changes),
	};
}

/* Where one step leads from a part; NULL: nowhere. */
static const char *next_part(const struct km_supersession *s, const char *part)
{
	if (same_part(s->old_part, part))
		return s->new_part;
	if (s->both_ways && same_part(s->new_part, part))
		return s->old_part;
	return NULL;
}

static bool is_known(const struct successor *v, uint32_t n, const char *part)
{
	while (n)
		if (same_part(v[--n].part, part))
			return true;
	return false;
}

/* Does a chain of steps lead from one part to another?  The shortest one, of
 * those as short the one written first. */
static bool supersedes(const struct km_rules *r, const char *old,
		       const char *new, struct successor *out)
{
	struct successor v[CHAIN_MOST] = { { old, 0, false } };
	uint32_t n = 1;

	for (uint32_t at = 0; at < n; at++)
		for (uint32_t i = 0; i < r->n_superseded; i++) {
			const char *part = next_part(&r->superseded[i],
						     v[at].part);

			if (!part)
				continue;
			*out = step(&v[at], part, &r->superseded[i]);
			if (same_part(part, new))
				return true;
			if (n < CHAIN_MOST && !is_known(v, n, part))
				v[n++] = *out;
		}
	return false;
}

/* How the thing's part comes after a wanted one; false: it does not. */
static bool successor_of(const struct km_case *c, struct successor *out)
{
	const struct km_want *w = &c->slot->want[KM_A_PART];
	const union km_value *v = km_trait(c->thing->traits, KM_A_PART);

	if (!v || !c->rules->n_superseded)
		return false;
	for (uint32_t i = 0; i < w->n; i++)
		if (supersedes(c->rules, w->any[i].text, v->text, out))
			return true;
	return false;
}

static void judge_part(struct km_case *c)
{
	static const struct km_findings findings = {
		KM_F_PART_SAME, KM_F_PART_OTHER, KM_F_PART_UNRECORDED,
	};
	const struct km_want *w = &c->slot->want[KM_A_PART];
	enum km_finding finding = KM_F_PART_OTHER;
	enum km_outcome outcome = KM_DIFFERS;
	struct successor s;
	const char *part;
	int score = 0;

	if (km_case_settle(c, KM_ASP_PART, KM_A_PART, &findings))
		return;
	part = km_trait(c->thing->traits, KM_A_PART)->text;
	for (uint32_t i = 0; i < w->n && outcome != KM_AGREES; i++)
		if (same_part(w->any[i].text, part)) {
			finding = KM_F_PART_SAME;
			outcome = KM_AGREES;
			score = KM_SCORE_AGREES;
		}
	if (outcome != KM_AGREES && successor_of(c, &s)) {
		finding = KM_F_PART_SUPERSEDING;
		score = SCORE_SUPERSEDING;
	}
	km_case_set(c, KM_ASP_PART, KM_A_PART, outcome, finding, score);
}

void km_compare_marks(struct km_case *c)
{
	judge_mark(c);
	judge_made(c);
	judge_part(c);
}

/* ------------------------------------------------------------------ */
/* What a superseding part changes                                     */

static enum km_aspect aspect_of(enum km_attr a)
{
	switch (a) {
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		return KM_ASP_SIZES;
	case KM_A_FINISH:
		return KM_ASP_FINISH;
	case KM_A_HANDLE_COLOUR:
		return KM_ASP_HANDLE_COLOUR;
	case KM_A_HANDLE_MATERIAL:
		return KM_ASP_HANDLE_MATERIAL;
	case KM_A_MARK:
		return KM_ASP_MARK;
	case KM_A_MADE:
		return KM_ASP_MADE;
	default:
		if (a >= KM_A_LENGTH && a <= KM_A_DEPTH)
			return (enum km_aspect)(KM_ASP_LENGTH + (int)a -
						KM_A_LENGTH);
		return KM_ASPECTS;
	}
}

/* One listed change: the thing shows that it is as wanted, or fails in it.
 * False: the kit says nothing that it could be held against. */
static bool held_to_change(struct km_case *c, enum km_attr a)
{
	enum km_aspect aspect = aspect_of(a);
	struct km_comparison *on;

	if (aspect == KM_ASPECTS)
		return false;
	on = &c->out->on[aspect];
	if (on->outcome == KM_NOT_WANTED)
		return false;
	if (on->outcome == KM_AGREES || on->outcome == KM_WITHIN ||
	    on->letter == KM_FAILS)
		return true;
	on->finding = KM_F_PART_SUPERSEDING;
	on->letter = KM_FAILS;
	return true;
}

void km_compare_changes(struct km_case *c)
{
	struct km_comparison *part = &c->out->on[KM_ASP_PART];
	struct successor s;
	bool held = true;

	if (part->finding != KM_F_PART_SUPERSEDING ||
	    part->letter != KM_FAILS || !successor_of(c, &s))
		return;
	for (int a = 0; a < KM_ATTRS; a++)
		if (s.changes & (uint32_t)1 << a)
			held &= held_to_change(c, (enum km_attr)a);
	/* the changes decide; the number alone is only noted */
	if (held && !s.unnamed)
		part->letter = KM_NOTED;
}

bool km_part_follows(const struct km_rules *rules, const struct km_slot *slot,
		     const char *part, uint32_t *changes)
{
	const struct km_want *w = &slot->want[KM_A_PART];
	struct successor s;

	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (same_part(w->any[i].text, part)) {
			*changes = 0;
			return true;
		}
	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (supersedes(rules, w->any[i].text, part, &s)) {
			*changes = s.changes;
			return true;
		}
	return false;
}
