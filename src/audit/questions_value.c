/* SPDX-License-Identifier: MIT */
/*
 * What a tool may be found to be, once somebody looks.
 */
#include "audit/questions.h"

#include "base/str.h"
#include "match/rules.h"
#include "trade/colour.h"
#include "trade/finish.h"

#define SHARE_ONE 10000		/* hundredths of a per cent */
#define SHARE_OVER 2000		/* over the nominal [choice] */
#define SHARE_PAST 1000		/* past what may be noted [choice] */

/* ------------------------------------------------------------------ */
/* What is asked                                                       */

enum km_attr km_asked_attr(const struct km_match *m, enum km_aspect a)
{
	if (a >= KM_ASP_LENGTH && a <= KM_ASP_DEPTH)
		return (enum km_attr)(KM_A_LENGTH + (int)a - KM_ASP_LENGTH);
	switch (a) {
	case KM_ASP_SIZES:
	case KM_ASP_SIZE_NAME:
		return m->n_ends && !m->end[0].wanted ? KM_A_OPENINGS
						      : KM_A_SIZES;
	case KM_ASP_MARK:
		return KM_A_MARK;
	case KM_ASP_FINISH:
		return KM_A_FINISH;
	case KM_ASP_HANDLE_MATERIAL:
		return KM_A_HANDLE_MATERIAL;
	case KM_ASP_HANDLE_COLOUR:
		return KM_A_HANDLE_COLOUR;
	default:
		return KM_ATTRS;
	}
}

/* What it would be found to be at worst. */
static enum km_finding worst(enum km_aspect a)
{
	if (a >= KM_ASP_LENGTH && a <= KM_ASP_DEPTH)
		return KM_F_DIMENSION_OUTSIDE;
	switch (a) {
	case KM_ASP_SIZES:
		return KM_F_END_WRONG;
	case KM_ASP_SIZE_NAME:
		return KM_F_NAME_OTHER;
	case KM_ASP_MARK:
		return KM_F_MARK_OTHER;
	case KM_ASP_FINISH:
		return KM_F_FINISH_OTHER;
	case KM_ASP_HANDLE_MATERIAL:
		return KM_F_MATERIAL_OTHER;
	case KM_ASP_HANDLE_COLOUR:
		return KM_F_COLOUR_WRONG;
	default:
		return KM_F_NOTHING;
	}
}

bool km_asked_matters(const struct km_match *m, enum km_aspect a,
		      enum km_standard s)
{
	const struct km_comparison *on = &m->on[a];

	/* a mark that has gone cannot be read by anybody */
	if (on->outcome != KM_NOT_RECORDED ||
	    (a == KM_ASP_MARK && m->tool->condition &&
	     m->tool->condition->marking == KM_MARKING_GONE))
		return false;
	return on->letter == KM_NOT_KNOWN ||
	       (on->letter == KM_NOTED &&
		km_rules_letter(worst(a), s) == KM_FAILS);
}

/* ------------------------------------------------------------------ */
/* One value                                                           */

void *km_asker_room(struct km_asker *q, size_t n, size_t size)
{
	void *room = km_arena_alloc(q->mem, n, size);

	if (!room)
		q->st = KM_ENOMEM;
	return room;
}

static union km_value *room(struct km_asker *q, struct km_answer *out)
{
	union km_value *v = km_asker_room(q, 1, sizeof *v);

	out->values = v;
	out->n_values = v ? 1 : 0;
	return v;
}

static bool set_none(struct km_answer *out)
{
	out->none = true;
	return true;
}

/* Rounded up to a multiple. */
static int64_t up_to(int64_t v, int64_t step)
{
	return (v + step - 1) / step * step;
}

struct km_span km_span_that_fails(const struct km_question *about,
				  struct km_span wanted, bool angle)
{
	int64_t share = about->kit->limits.length_usable + SHARE_PAST;
	int64_t over, v;

	if (share < SHARE_OVER)
		share = SHARE_OVER;
	over = wanted.nm / SHARE_ONE * share +
	       wanted.nm % SHARE_ONE * share / SHARE_ONE;
	v = wanted.nm + over;
	if (v <= km_span_high(wanted))
		v = km_span_high(wanted) + over;
	return (struct km_span){ .nm = up_to(v, angle ? 100 : KM_NM_PER_MM) };
}

static bool span_value(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out)
{
	const struct km_want *w = &about->slot->want[out->attr];
	bool wanted = out->what == KM_IF_WANTED;
	struct km_span most = { 0 }, one;
	union km_value *v;

	if (w->state == KM_WANT_NONE && wanted)
		return set_none(out);
	v = room(q, out);
	if (!v)
		return false;
	if (w->state == KM_WANT_NONE) {		/* any length fails */
		v->span.nm = 10 * KM_NM_PER_MM;
		return true;
	}
	if (wanted) {
		v->span.nm = w->any[0].span.nm;
		return true;
	}
	for (uint32_t i = 0; i < w->n; i++) {
		one = km_span_that_fails(about, w->any[i].span,
					 out->attr == KM_A_ANGLE);
		if (one.nm > most.nm)
			most = one;
	}
	v->span = most;
	return true;
}

/* ------------------------------------------------------------------ */
/* Marks and looks                                                     */

static bool lists(const struct km_question *about, const char *mark)
{
	const struct km_want *w = &about->slot->want[KM_A_MARK];
	const struct km_kit *kit = about->kit->kit;

	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (km_fold_has_words(km_slice_of(mark),
				      km_slice_of(w->any[i].text)))
			return true;
	for (uint32_t i = 0; i < kit->n_maker_marks; i++)
		if (km_fold_has_words(km_slice_of(mark),
				      km_slice_of(kit->maker_marks[i])))
			return true;
	return false;
}

static bool mark_value(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out)
{
	static const char *const others[] = { "another mark", "unlisted",
					      "strange" };
	const struct km_want *w = &about->slot->want[KM_A_MARK];
	const struct km_kit *kit = about->kit->kit;
	bool wanted = out->what == KM_IF_WANTED;
	bool there = about->match->on[KM_ASP_MARK].finding == KM_F_MARK_UNREAD;
	union km_value *v;

	if (wanted ? w->state == KM_WANT_NONE
		   : w->state != KM_WANT_NONE && !w->or_none && !there)
		return set_none(out);
	v = room(q, out);
	if (!v)
		return false;
	if (wanted) {
		v->text = w->any[0].text;
		if (!km_fold_compare(km_slice_of(v->text),
				     km_slice_of("maker")) &&
		    kit->n_maker_marks)
			v->text = kit->maker_marks[0];
		return true;
	}
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		if (!lists(about, others[i])) {
			v->text = others[i];
			return true;
		}
	return false;
}

/* One part of a finish: as recorded, else the answer, where it is wanted. */
static const struct km_finish *part(const struct km_finish *have,
				    const struct km_finish *wanted,
				    const struct km_finish *other)
{
	if (have || !wanted)
		return have;
	return other ? other : wanted;
}

static bool passes(const struct km_finish *f, const struct km_want *w)
{
	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++) {
		const struct km_finish *body = w->any[i].finish.body;
		const struct km_finish *faces = w->any[i].finish.faces;

		if ((body && km_finish_passes(f, body) != KM_PASS_NO) ||
		    (faces && km_finish_passes(f, faces) != KM_PASS_NO))
			return true;
	}
	return false;
}

static const struct km_finish *other_finish(const struct km_want *w)
{
	for (int i = 0; i < KM_FINISH_COUNT - 1; i++)
		if (!passes(&km_finishes[i], w))
			return &km_finishes[i];
	return NULL;
}

static bool finish_value(struct km_asker *q, const struct km_question *about,
			 struct km_answer *out)
{
	const struct km_want *w = &about->slot->want[KM_A_FINISH];
	const union km_value *have = km_trait(&about->tool->traits,
					      KM_A_FINISH);
	const union km_value none = { .finish = { NULL, NULL } };
	const struct km_finish *other = NULL;
	union km_value *v;

	if (out->what == KM_IF_WANTED && w->state == KM_WANT_NONE)
		return set_none(out);
	if (out->what == KM_IF_OTHER) {
		other = other_finish(w);
		if (!other)
			return false;
	}
	v = room(q, out);
	if (!v)
		return false;
	if (w->state == KM_WANT_NONE) {
		v->finish.body = other;
		return true;
	}
	if (!have)
		have = &none;
	v->finish.body = part(have->finish.body, w->any[0].finish.body, other);
	v->finish.faces = part(have->finish.faces, w->any[0].finish.faces,
			       other);
	return true;
}

static bool material_value(struct km_asker *q, const struct km_question *about,
			   struct km_answer *out)
{
	const struct km_want *w = &about->slot->want[KM_A_HANDLE_MATERIAL];
	union km_value *v;

	if (out->what == KM_IF_WANTED && w->state == KM_WANT_NONE)
		return set_none(out);
	v = room(q, out);
	if (!v)
		return false;
	if (out->what == KM_IF_WANTED) {
		v->material = w->any[0].material;
		return true;
	}
	for (int i = 0; i < KM_MATERIAL_COUNT - 1; i++) {
		bool same = false;

		for (uint32_t k = 0; k < w->n; k++)
			same |= km_material_same(&km_materials[i],
						 w->any[k].material);
		v->material = &km_materials[i];
		if (!same)
			return true;
	}
	return false;
}

/* Does a colour of the list fail against all that are wanted? */
static bool colour_fails(const struct km_question *about,
			 const struct km_want *w, const char *word,
			 uint32_t rgb)
{
	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++) {
		const char *named = w->any[i].colour.word;
		uint32_t want = w->any[i].colour.rgb;

		if (want == KM_COLOUR_WORD_ONLY
			    ? named && !km_fold_compare(km_slice_of(named),
							km_slice_of(word))
			    : km_colour_difference(want, rgb) <=
				      about->kit->limits.colour_note)
			return false;
	}
	return true;
}

static bool colour_value(struct km_asker *q, const struct km_question *about,
			 struct km_answer *out)
{
	static const char *const words[] = { "black", "white", "red", "green" };
	const struct km_want *w = &about->slot->want[KM_A_HANDLE_COLOUR];
	union km_value *v;
	uint32_t rgb;

	if (out->what == KM_IF_WANTED && w->state == KM_WANT_NONE)
		return set_none(out);
	v = room(q, out);
	if (!v)
		return false;
	if (out->what == KM_IF_WANTED) {
		*v = w->any[0];
		return true;
	}
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (km_colour_find(km_slice_of(words[i]), &rgb) &&
		    colour_fails(about, w, words[i], rgb)) {
			v->colour.word = words[i];
			v->colour.rgb = rgb;
			return true;
		}
	return false;
}

bool km_answer_of_tool(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out)
{
	out->attr = about->attr;
	switch (about->attr) {
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		return km_answer_of_ends(q, about, out);
	case KM_A_MARK:
		return mark_value(q, about, out);
	case KM_A_FINISH:
		return finish_value(q, about, out);
	case KM_A_HANDLE_MATERIAL:
		return material_value(q, about, out);
	case KM_A_HANDLE_COLOUR:
		return colour_value(q, about, out);
	default:
		return span_value(q, about, out);
	}
}
