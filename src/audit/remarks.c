/* SPDX-License-Identifier: MIT */
#include "audit/remarks.h"

#include "audit/seats.h"
#include "audit/tally.h"
#include "base/str.h"
#include "unit/date.h"
#include "unit/length.h"

struct pen {
	struct km_arena *mem;
	const struct km_remark_input *in;
	struct km_remark *v;		/* of the kit at hand */
	uint32_t n, room;
	const struct km_tool **received;	/* and bought for a slot */
	uint32_t n_received;
	enum km_status st;
};

static void put(struct pen *p, struct km_remark r)
{
	if (p->n == p->room) {
		uint32_t room = p->room ? p->room * 2 : 16;
		struct km_remark *v = km_arena_alloc(p->mem, room, sizeof *v);

		if (!v) {
			p->st = KM_ENOMEM;
			return;
		}
		for (uint32_t i = 0; i < p->n; i++)
			v[i] = p->v[i];
		p->v = v;
		p->room = room;
	}
	p->v[p->n++] = r;
}

static const struct km_holder *who_has(const struct pen *p,
				       const struct km_tool *t)
{
	return km_given_find(p->in->given, t);
}

/* The aspect in which a candidate is clearly better than b. */
static enum km_aspect better_in(struct pen *p, struct km_candidates *c,
				uint32_t k, const struct km_match *b)
{
	const struct km_match *a = km_candidates_match(p->mem, c, k);

	if (!a) {
		p->st = KM_ENOMEM;
		return KM_ASPECTS;
	}
	for (int i = 0; i < KM_ASPECTS; i++)
		if (a->on[i].letter < b->on[i].letter)
			return (enum km_aspect)i;
	for (int i = 0; i < KM_ASPECTS; i++)
		if (a->on[i].score > b->on[i].score)
			return (enum km_aspect)i;
	return KM_ASPECTS;
}

/* A choice by hand that the scores would not have made. */
static void on_pins(struct pen *p, const struct km_slot_audit *s,
		    struct km_candidates *c)
{
	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		if (!m || !s->pieces[i].pinned)
			continue;
		for (uint32_t k = 0; k < c->n; k++) {
			const struct km_candidate *b = &c->v[k];
			const struct km_holder *g = who_has(p, b->tool);

			if (b->tool == m->tool ||
			    km_candidate_against(b, m) > 0)
				break;
			if (g && g->slot == s->slot)
				continue;
			put(p, (struct km_remark){
				.what = KM_REMARK_PIN_WORSE, .slot = s->slot,
				.other = g ? g->slot : NULL, .tool = b->tool,
				.aspect = better_in(p, c, k, m) });
			break;
		}
	}
}

/* The best candidate sits elsewhere. */
static void on_clash(struct pen *p, const struct km_slot_audit *s,
		     struct km_candidates *c)
{
	const struct km_match *worst = s->worst;
	bool open = s->verdict == KM_GAP || s->verdict == KM_SHORT ||
		    s->verdict == KM_EXPECTED;

	for (uint32_t k = 0; k < c->n; k++) {
		const struct km_candidate *b = &c->v[k];
		const struct km_holder *g = who_has(p, b->tool);

		if (!open && worst && km_candidate_against(b, worst) >= 0)
			return;
		if (!g || g->slot == s->slot)
			continue;
		put(p, (struct km_remark){
			.what = open ? KM_REMARK_CLASH : KM_REMARK_SECOND_BEST,
			.slot = s->slot, .other = g->slot, .tool = b->tool,
			.aspect = open || !worst ? KM_ASPECTS
						 : better_in(p, c, k, worst),
			.a = s->buy ? s->buy->alone.likely : -1 });
		return;
	}
}

static void on_owner(struct pen *p, const struct km_slot_audit *s,
		     const struct km_candidates *c)
{
	if (s->verdict == KM_RIGHT || !c->n_not_ours)
		return;
	if (s->worst && s->verdict < KM_SHORT &&
	    c->not_ours[0].verdict >= s->worst->verdict)
		return;
	put(p, (struct km_remark){ .what = KM_REMARK_NOT_MINE, .slot = s->slot,
				   .tool = c->not_ours[0].tool,
				   .aspect = KM_ASPECTS });
}

static void on_whereabouts(struct pen *p, const struct km_slot_audit *s)
{
	struct km_date today = p->in->audit->options.today;

	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].coming
						   ? s->pieces[i].coming
						   : s->pieces[i].match;
		struct km_remark r = { .slot = s->slot, .aspect = KM_ASPECTS };
		struct km_date due;

		if (!m || m->tool->status == KM_HERE ||
		    m->tool->status == KM_RECEIVED ||
		    m->tool->status == KM_IN_KIT)
			continue;
		r.tool = m->tool;
		if (m->tool->status == KM_LENT ||
		    m->tool->status == KM_AT_PLATER) {
			r.what = m->tool->status == KM_LENT
					 ? KM_REMARK_LENT : KM_REMARK_AT_PLATER;
			put(p, r);
		}
		due = m->tool->more ? m->tool->more->due : (struct km_date){ 0 };
		if (due.year && today.year &&
		    km_date_compare(due, today) < 0) {
			r.what = KM_REMARK_OVERDUE;
			r.a = km_date_days(today) - km_date_days(due);
			put(p, r);
		}
	}
}

static bool like(const struct km_tool *a, const struct km_tool *b)
{
	const union km_value *x = km_trait(&a->traits, KM_A_MARK);
	const union km_value *y = km_trait(&b->traits, KM_A_MARK);

	if (x && y && km_fold_compare(km_slice_of(x->text),
				      km_slice_of(y->text)) != 0)
		return false;
	x = km_trait(&a->traits, KM_A_LENGTH);
	y = km_trait(&b->traits, KM_A_LENGTH);
	return !x || !y || km_span_meets(x->span, y->span);
}

/* Several pieces of one slot should be alike. */
static void on_pairs(struct pen *p, const struct km_slot_audit *s)
{
	const struct km_match *first = NULL;

	if (s->slot->count < 2)
		return;
	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		if (!m)
			continue;
		if (!first) {
			first = m;
			continue;
		}
		if (!like(first->tool, m->tool)) {
			put(p, (struct km_remark){
				.what = KM_REMARK_NOT_A_PAIR, .slot = s->slot,
				.tool = m->tool, .aspect = KM_ASPECTS });
			return;
		}
	}
	if (first && s->verdict == KM_SHORT)
		put(p, (struct km_remark){ .what = KM_REMARK_MATCH_LIKE,
					   .slot = s->slot, .tool = first->tool,
					   .aspect = KM_ASPECTS });
}

static void on_evidence(struct pen *p, const struct km_slot_audit *s)
{
	const struct km_match *m = s->worst;

	if (m && m->headline < KM_ASPECTS && m->on[m->headline].weak)
		put(p, (struct km_remark){ .what = KM_REMARK_WEAK,
					   .slot = s->slot, .tool = m->tool,
					   .aspect = m->headline });
}

static void on_companions(struct pen *p, const struct km_slot_audit *s,
			  uint32_t party)
{
	for (uint32_t i = 0; i < p->in->n_companions; i++) {
		const struct km_companion *c = &p->in->companions[i];

		if (c->slot == s->slot && c->party == party)
			put(p, (struct km_remark){
				.what = KM_REMARK_BAR_HOLE, .slot = c->slot,
				.other = c->other, .tool = c->tool,
				.aspect = KM_ASP_BAR,
				.a = c->bar_nm, .b = c->hole_nm });
	}
	if (s->slot->companion && s->verdict == KM_RIGHT) {
		for (size_t i = 0; i < p->in->given->n; i++)
			if (p->in->given->v[i].slot == s->slot->companion &&
			    p->in->given->v[i].party == party)
				return;
		put(p, (struct km_remark){ .what = KM_REMARK_COMPANION_OPEN,
					   .slot = s->slot,
					   .other = s->slot->companion,
					   .aspect = KM_ASPECTS });
	}
}

/* ------------------------------------------------------------------ */
/* What has come                                                       */

static bool came_for_a_slot(const struct km_tool *t)
{
	return t->status == KM_RECEIVED && t->more && t->more->bought_for;
}

static void list_received(struct pen *p)
{
	const struct km_tools *bench = &p->in->audit->load->bench;
	uint32_t n = 0;

	for (size_t i = 0; i < bench->n; i++)
		n += came_for_a_slot(km_tool_at(bench, i));
	p->received = km_arena_alloc(p->mem, n, sizeof *p->received);
	if (!p->received) {
		p->st = KM_ENOMEM;
		return;
	}
	for (size_t i = 0; n && i < bench->n; i++)
		if (came_for_a_slot(km_tool_at(bench, i)))
			p->received[p->n_received++] = km_tool_at(bench, i);
}

/* The tool against the slot it was bought for, candidate or not. */
static const struct km_match *held_against(struct pen *p,
					   struct km_candidates *c,
					   const struct km_tool *t)
{
	const struct km_cure *cure = p->in->cure;
	struct km_thing thing = {
		.traits = &t->traits, .condition = t->condition, .tool = t,
		.came_with = km_came_with(c->of, t),
	};
	struct km_match *m;

	for (uint32_t k = 0; k < c->n; k++)
		if (c->v[k].tool == t)
			return km_candidates_match(p->mem, c, k);
	m = km_arena_alloc(p->mem, 1, sizeof *m);
	if (!m)
		return NULL;
	km_compare(&c->of->rules, c->slot, &thing, m);
	if (km_match_wants_work(m)) {
		int yes = cure->reaches(cure->ctx, c->of, m);

		if (yes < 0)
			return NULL;
		km_match_settle(m, yes > 0);
	}
	return m;
}

/* Days until it can no longer be sent back. */
static int64_t days_left(const struct pen *p, const struct km_tool *t)
{
	struct km_date today = p->in->audit->options.today;

	if (!t->more->return_by.year || !today.year)
		return KM_NO_DAY;
	return (int64_t)km_date_days(t->more->return_by) -
	       km_date_days(today);
}

/* Whose remark it is, of the machines that have the kit of the slot: the one
 * that the tool sits in, else the first that may use it, else the first. */
static uint32_t party_of(const struct pen *p, const struct km_slot *s,
			 const struct km_tool *t, const struct km_holder *g)
{
	const struct km_variants *v = p->in->variants;
	uint32_t first = v->n_parties;

	if (g && g->slot->kit == s->kit)
		return g->party;
	for (uint32_t i = 0; i < v->n_parties; i++) {
		if (v->parties[i].kit != s->kit)
			continue;
		if (km_may_use(&v->parties[i], t))
			return i;
		if (first == v->n_parties)
			first = i;
	}
	return first;
}

static void on_received(struct pen *p, const struct km_slot_audit *s,
			struct km_candidates *c)
{
	for (uint32_t i = 0; i < p->n_received; i++) {
		const struct km_tool *t = p->received[i];
		const struct km_holder *g;
		const struct km_match *m;

		if (t->more->bought_for != s->slot)
			continue;
		g = who_has(p, t);
		if (party_of(p, s->slot, t, g) != c->party)
			continue;
		m = held_against(p, c, t);
		if (!m) {
			p->st = KM_ENOMEM;
			return;
		}
		put(p, (struct km_remark){
			.what = m->verdict == KM_RIGHT
					? KM_REMARK_RECEIVED_RIGHT
					: KM_REMARK_RECEIVED_WRONG,
			.slot = s->slot, .other = g ? g->slot : NULL,
			.tool = t, .aspect = m->headline, .match = m,
			.a = days_left(p, t), .b = s->verdict });
	}
}

enum km_status km_remarks_make(struct km_arena *mem,
			       const struct km_remark_input *in)
{
	struct pen p = { .mem = mem, .in = in, .st = KM_OK };
	size_t at = 0;

	list_received(&p);
	for (uint32_t k = 0; k < in->audit->n_kits && p.st == KM_OK; k++) {
		struct km_kit_audit *kit = &in->audit->kits[k];

		p.v = NULL;
		p.n = p.room = 0;
		for (uint32_t i = 0; i < kit->kit->n_slots; i++) {
			const struct km_slot_audit *s = &kit->slots[i];
			struct km_candidates *c = &in->of[at++];

			if (s->slot->unused)
				continue;
			on_received(&p, s, c);
			on_pins(&p, s, c);
			on_clash(&p, s, c);
			on_owner(&p, s, c);
			on_whereabouts(&p, s);
			on_pairs(&p, s);
			on_companions(&p, s, k);
			on_evidence(&p, s);
		}
		kit->remarks = p.v;
		kit->n_remarks = p.n;
	}
	return p.st;
}
