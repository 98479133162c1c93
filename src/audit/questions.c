/* SPDX-License-Identifier: MIT */
#include "audit/questions.h"

#include <stdlib.h>

#include "base/str.h"
#include "match/value.h"

/* ------------------------------------------------------------------ */
/* A list that grows                                                   */

/* The next question; NULL: no memory, or there are enough. */
static struct km_question *add_question(struct km_asker *q,
					const struct km_question *like,
					uint32_t answers)
{
	struct km_question *one;

	if (q->st != KM_OK)
		return NULL;
	while (q->n_told < q->n)
		q->answers += q->v[q->n_told++].n_answers;
	if (q->n == KM_QUESTIONS_MOST ||
	    answers > KM_ANSWERS_MOST - q->answers) {
		q->not_asked++;
		return NULL;
	}
	one = &q->v[q->n];
	*one = *like;
	one->answers = km_arena_alloc(q->mem, answers, sizeof *one->answers);
	if (!one->answers) {
		q->st = KM_ENOMEM;
		return NULL;
	}
	q->n++;
	return one;
}

static struct km_answer *add_answer(struct km_question *one,
				    enum km_answer_what what)
{
	struct km_answer *a = &one->answers[one->n_answers++];

	/* the place may be that of an answer that was dropped */
	*a = (struct km_answer){ .what = what, .attr = one->attr };
	return a;
}

/* ------------------------------------------------------------------ */
/* Which kit, which slots                                              */

static void ask_kit(struct km_asker *q, const struct km_kit_audit *k)
{
	struct km_question like = { .what = KM_ASK_KIT, .kit = k,
				    .attr = KM_ATTRS };
	struct km_question *one;

	if (k->undecided == KM_DECIDED || !k->machine || k->n_readings < 2)
		return;
	one = add_question(q, &like, k->n_readings);
	for (uint32_t i = 0; one && i < k->n_readings; i++)
		add_answer(one, KM_IF_KIT)->kit = k->readings[i].kit;
}

static void ask_slot(struct km_asker *q, const struct km_kit_audit *k,
		     const struct km_slot *s)
{
	struct km_question like = { .what = KM_ASK_SLOT, .kit = k, .slot = s,
				    .attr = KM_ATTRS };
	struct km_question *one;

	if (s->exists <= KM_PROBABLE)
		return;
	one = add_question(q, &like, 2);
	if (!one)
		return;
	add_answer(one, KM_IF_THERE);
	add_answer(one, KM_IF_NOT_THERE);
}

/* ------------------------------------------------------------------ */
/* Claims                                                              */

static bool says_something(const struct km_want *w)
{
	return w->state == KM_WANT_NONE || (w->state == KM_WANT_ANY_OF && w->n);
}

/* A claim that draws its weakness from the slot is settled with it. */
static bool is_open(const struct km_want *w)
{
	if (!says_something(w))
		return false;
	if (w->disputed || (w->n_outweighed && w->certainty != KM_CERTAIN))
		return true;
	return w->own_certainty && w->certainty >= KM_POSSIBLE;
}

static bool same_answer(const struct km_answer *a, const struct km_answer *b)
{
	if (a->none != b->none || a->n_values != b->n_values)
		return false;
	for (uint32_t i = 0; i < a->n_values; i++)
		if (!km_value_same(a->attr, &a->values[i], &b->values[i]))
			return false;
	return true;
}

/* The last answer goes if it says the same as one before it. */
static void drop_twice(struct km_question *one)
{
	const struct km_answer *last = &one->answers[one->n_answers - 1];

	for (uint32_t i = 0; i + 1 < one->n_answers; i++)
		if (same_answer(&one->answers[i], last)) {
			one->n_answers--;
			return;
		}
}

static void add_value(struct km_question *one, const union km_value *v)
{
	struct km_answer *a = add_answer(one, KM_IF_VALUE);

	a->none = !v;
	a->values = v;
	a->n_values = v ? 1 : 0;
	drop_twice(one);
}

static void add_claim(struct km_question *one, const struct km_want *w)
{
	struct km_answer *a;

	if (!says_something(w))
		return;
	a = add_answer(one, KM_IF_CLAIMED);
	a->none = w->or_none || w->state == KM_WANT_NONE;
	a->n_values = w->state == KM_WANT_ANY_OF ? w->n : 0;
	a->values = a->n_values ? w->any : NULL;
	drop_twice(one);
}

static void ask_claim(struct km_asker *q, const struct km_kit_audit *k,
		      const struct km_slot *s, enum km_attr attr)
{
	const struct km_want *w = &s->want[attr];
	struct km_question like = { .what = KM_ASK_CLAIM, .kit = k, .slot = s,
				    .attr = attr };
	struct km_question *one;

	if (!is_open(w))
		return;
	one = add_question(q, &like, w->n + w->n_outweighed + 2);
	if (!one)
		return;
	if (w->disputed) {
		for (uint32_t i = 0; i < w->n; i++)
			add_value(one, &w->any[i]);
		if (w->or_none)
			add_value(one, NULL);
	} else {
		add_claim(one, w);
	}
	for (uint32_t i = 0; i < w->n_outweighed; i++)
		add_claim(one, &w->outweighed[i]);
	if (one->n_answers == 1)
		add_answer(one, KM_IF_SET_ASIDE);
}

/* ------------------------------------------------------------------ */
/* Tools                                                               */

static bool same_sizes(const union km_value *a, const union km_value *b)
{
	if (a->sizes.n != b->sizes.n)
		return false;
	for (uint32_t i = 0; i < a->sizes.n; i++)
		if (km_size_compare(a->sizes.v[i], b->sizes.v[i]))
			return false;
	return true;
}

static bool same_found(const struct km_answer *a, const struct km_answer *b)
{
	if (a->attr != b->attr)
		return false;
	if (a->attr != KM_A_SIZES || !a->n_values || !b->n_values)
		return same_answer(a, b);
	return same_sizes(a->values, b->values);
}

/* Two slots may leave the same to be found out of one tool. */
static bool is_asked(const struct km_asker *q, const struct km_tool *tool,
		     const struct km_answer *wanted,
		     const struct km_answer *other)
{
	for (uint32_t i = 0; i < q->n; i++) {
		const struct km_question *one = &q->v[i];

		if (one->what == KM_ASK_TOOL && one->tool == tool &&
		    same_found(&one->answers[0], wanted) &&
		    same_found(&one->answers[1], other))
			return true;
	}
	return false;
}

static void ask_aspect(struct km_asker *q, struct km_question *like)
{
	struct km_answer wanted = { .what = KM_IF_WANTED };
	struct km_answer other = { .what = KM_IF_OTHER };
	struct km_question *one;

	like->attr = km_asked_attr(like->match, like->aspect);
	if (like->attr == KM_ATTRS ||
	    !km_answer_of_tool(q, like, &wanted) ||
	    !km_answer_of_tool(q, like, &other) ||
	    is_asked(q, like->tool, &wanted, &other))
		return;
	one = add_question(q, like, 2);
	if (!one)
		return;
	one->answers[one->n_answers++] = wanted;
	one->answers[one->n_answers++] = other;
}

/* What a tool does not show: not of one that is still to come, nor of one of
 * another kind, which was put there by hand. */
static void ask_match(struct km_asker *q, const struct km_kit_audit *k,
		      const struct km_match *m)
{
	struct km_question like = { .what = KM_ASK_TOOL, .kit = k };

	if (!m || !m->tool || m->tool->status == KM_ORDERED ||
	    m->on[KM_ASP_KIND].letter == KM_FAILS)
		return;
	like.slot = m->slot;
	like.tool = m->tool;
	like.match = m;
	for (int a = 0; a < KM_ASPECTS && q->st == KM_OK; a++) {
		like.aspect = (enum km_aspect)a;
		if (km_asked_matters(m, like.aspect, k->standard))
			ask_aspect(q, &like);
	}
}

static void ask_tools(struct km_asker *q, const struct km_kit_audit *k,
		      const struct km_slot_audit *s)
{
	bool wants_more = s->verdict == KM_UNVERIFIED || s->verdict >= KM_SHORT;

	for (int32_t i = 0; s->pieces && i < s->slot->count; i++)
		ask_match(q, k, s->pieces[i].match);
	if (wants_more && s->n_candidates)
		ask_match(q, k, s->candidates[0]);
}

/* ------------------------------------------------------------------ */
/* All of them                                                         */

/* What a kit says is asked once, however many machines have it. */
static bool kit_is_asked(const struct km_asker *q, const struct km_kit_audit *k)
{
	for (const struct km_kit_audit *x = q->base->kits; x < k; x++)
		if (x->kit == k->kit)
			return true;
	return false;
}

static void each_slot(struct km_asker *q,
		      void (*ask)(struct km_asker *, const struct km_kit_audit *,
				  const struct km_slot_audit *))
{
	for (uint32_t k = 0; k < q->base->n_kits; k++)
		for (uint32_t i = 0; i < q->base->kits[k].kit->n_slots; i++) {
			const struct km_kit_audit *kit = &q->base->kits[k];

			if (!kit->slots[i].slot->unused)
				ask(q, kit, &kit->slots[i]);
		}
}

static void slot_of(struct km_asker *q, const struct km_kit_audit *k,
		    const struct km_slot_audit *s)
{
	if (!kit_is_asked(q, k))
		ask_slot(q, k, s->slot);
}

static void claims_of(struct km_asker *q, const struct km_kit_audit *k,
		      const struct km_slot_audit *s)
{
	for (int a = 0; a < KM_ATTRS && !kit_is_asked(q, k); a++)
		ask_claim(q, k, s->slot, (enum km_attr)a);
}

static void collect(struct km_asker *q)
{
	for (uint32_t k = 0; k < q->base->n_kits; k++)
		ask_kit(q, &q->base->kits[k]);
	each_slot(q, slot_of);
	each_slot(q, claims_of);
	each_slot(q, ask_tools);
}

/* ------------------------------------------------------------------ */
/* What hangs on each                                                  */

static int32_t complete(const struct km_figures *f)
{
	return f->firm ? (int32_t)((int64_t)1000 * f->on_paper / f->firm) : 0;
}

static bool same_figures(const struct km_figures *a, const struct km_figures *b)
{
	return a->firm == b->firm && a->on_paper == b->on_paper &&
	       a->after_work == b->after_work &&
	       a->points_now == b->points_now &&
	       a->points_after == b->points_after && a->money == b->money &&
	       a->left_open == b->left_open;
}

static bool same_outcome(const struct km_answer *a, const struct km_answer *b)
{
	if (!same_figures(&a->figures, &b->figures) ||
	    a->n_turns != b->n_turns)
		return false;
	for (uint32_t i = 0; i < a->n_turns; i++)
		if (a->turns[i].slot != b->turns[i].slot ||
		    !km_standing_same(a->turns[i].is, b->turns[i].is))
			return false;
	return true;
}

/* The range of one figure over the answers. */
struct range { int64_t least, most; };

static void widen(struct range *r, int64_t v, bool first)
{
	if (first || v < r->least)
		r->least = v;
	if (first || v > r->most)
		r->most = v;
}

static void weigh(const struct km_figures *now, struct km_question *one)
{
	struct range complete_is = { 0, 0 }, money = { 0, 0 }, points = { 0, 0 };

	for (uint32_t i = 0; i < one->n_answers; i++) {
		const struct km_answer *a = &one->answers[i];

		one->changes |= a->n_turns || !same_figures(&a->figures, now);
		one->differs |= !same_outcome(a, &one->answers[0]);
		widen(&complete_is, complete(&a->figures), !i);
		widen(&money, a->figures.money, !i);
		widen(&points, a->figures.points_after, !i);
		if (a->n_turns > one->by_slots)
			one->by_slots = a->n_turns;
	}
	one->by_complete = (int32_t)(complete_is.most - complete_is.least);
	one->by_money = money.most - money.least;
	one->by_points = points.most - points.least;
}

static int more_first(int64_t a, int64_t b)
{
	return (a < b) - (a > b);
}

static int by_place(const struct km_question *x, const struct km_question *y)
{
	if (x->kit->kit != y->kit->kit)
		return km_natural_compare(x->kit->kit->id, y->kit->kit->id);
	if (x->slot != y->slot) {
		if (!x->slot || !y->slot)
			return x->slot ? 1 : -1;
		return x->slot->index < y->slot->index ? -1 : 1;
	}
	if (x->attr != y->attr)
		return x->attr < y->attr ? -1 : 1;
	if (x->tool && y->tool && x->tool != y->tool)
		return km_natural_compare(x->tool->id, y->tool->id);
	if (x->what != y->what)
		return x->what < y->what ? -1 : 1;
	return (x->kit > y->kit) - (x->kit < y->kit);	/* of one array */
}

static int by_size(const void *a, const void *b)
{
	const struct km_question *x = a, *y = b;
	int c = (int)y->differs - (int)x->differs;

	if (!c)
		c = (int)y->changes - (int)x->changes;
	if (!c)
		c = more_first(x->by_complete, y->by_complete);
	if (!c)
		c = more_first(x->by_money, y->by_money);
	if (!c)
		c = more_first(x->by_points, y->by_points);
	if (!c)
		c = more_first(x->by_slots, y->by_slots);
	return c ? c : by_place(x, y);
}

static bool is_of(const struct km_load *load, const struct km_audit *a)
{
	return a->load == load && a->plan;
}

enum km_status km_questions_ask(struct km_load *load, struct km_audit *a)
{
	struct km_asker q = { .mem = a->mem, .load = load, .base = a };
	struct km_questions *out;

	if (!is_of(load, a))
		return KM_EINPUT;
	out = km_arena_alloc(q.mem, 1, sizeof *out);
	q.v = km_arena_alloc(q.mem, KM_QUESTIONS_MOST, sizeof *q.v);
	if (!out || !q.v || !km_size_book_init(&q.book, q.mem))
		return KM_ENOMEM;
	out->now = km_figures_of(a);
	collect(&q);
	for (uint32_t i = 0; i < q.n && q.st == KM_OK; i++) {
		struct km_question *one = &q.v[i];

		for (uint32_t k = 0; k < one->n_answers && q.st == KM_OK; k++)
			q.st = km_answer_run(&q, one, &one->answers[k]);
		weigh(&out->now, one);
	}
	if (q.st != KM_OK)
		return q.st;
	qsort(q.v, q.n, sizeof *q.v, by_size);
	out->v = q.v;
	out->n = q.n;
	out->not_asked = q.not_asked;
	a->questions = out;
	return KM_OK;
}
