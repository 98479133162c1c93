/* SPDX-License-Identifier: MIT */
#include "match/candidates.h"

#include <string.h>

#include "base/str.h"
#include "match/alike.h"
#include "match/aspects.h"
#include "match/index.h"
#include "match/value.h"
#include "unit/length.h"

#define NOT_OURS_KEPT 3
#define SERIAL_TEXT 24
#define JUDGED_MOST 4096
#define AHEAD 8			/* tools whose values are fetched early */

struct search {
	struct km_arena *mem, *own;	/* of the answer, of the search */
	const struct km_filter *filter;
	const struct km_party *parties;
	uint32_t n_parties;
	char (*serial)[SERIAL_TEXT];	/* of each party's machine, or "" */
	struct km_index index;
	struct km_alikes *alikes;
	struct judged *judged;		/* by hash; an entry is overwritten */
	uint32_t judged_mask;
	struct km_match match;
};

/* What a condition came to. */
struct judged {
	const struct km_condition *condition;
	const struct km_rules *limits;
	uint8_t skins, letters;
	int16_t axis;
};

/* A tool at hand. */
struct held {
	const struct km_tool *tool;
	struct km_span length;		/* if one is recorded, and its ends */
	int64_t low_nm, high_nm;
	bool plain;			/* the condition tells all by itself */
};

/* What it comes to in a group. */
struct worth {
	uint32_t letters;	/* bits 1 << enum km_letter */
	int32_t score;
	bool in_full;		/* s->match holds the comparison */
};

/* ------------------------------------------------------------------ */
/* One tool in one group                                               */

/* A negative number is none. */
static void put_serial(char *out, int64_t serial)
{
	char digit[SERIAL_TEXT];
	size_t n = 0, k = 0;

	if (serial < 0)
		return;
	do {
		digit[n++] = (char)('0' + serial % 10);
		serial /= 10;
	} while (serial);
	while (n)
		out[k++] = digit[--n];
	out[k] = '\0';
}

/* "serial 4417", "serial LM4417", or the title of the machine. */
static bool came_with(const struct km_party *p, const char *serial,
		      const struct km_tool *tool)
{
	const struct km_machine *m = p->machine;
	const char *const name[] = { serial, m ? m->serial_text : NULL,
				     m ? m->title : NULL };
	struct km_slice text;

	if (!m || !tool->more || !tool->more->came_with)
		return false;
	text = km_slice_of(tool->more->came_with);
	for (size_t i = 0; i < sizeof name / sizeof *name; i++)
		if (name[i] && *name[i] &&
		    km_fold_has_words(text, km_slice_of(name[i])))
			return true;
	return false;
}

bool km_came_with(const struct km_party *p, const struct km_tool *tool)
{
	char serial[SERIAL_TEXT] = "";

	if (p->machine)
		put_serial(serial, p->machine->serial);
	return came_with(p, serial, tool);
}

static struct km_thing thing_of(const struct km_tool *tool)
{
	return (struct km_thing){
		.traits = &tool->traits, .condition = tool->condition,
		.at_plater = tool->status == KM_AT_PLATER, .tool = tool,
	};
}

static void compare_in_full(struct search *s, const struct km_group *g,
			    const struct km_tool *tool, struct worth *w)
{
	struct km_thing thing = thing_of(tool);

	km_compare(g->target.rules, g->target.slot, &thing, &s->match);
	w->in_full = true;
	w->score = s->match.score;
	w->letters = 0;
	for (int i = 0; i < KM_ASPECTS; i++)
		w->letters |= (uint32_t)1 << s->match.on[i].letter;
}

/* A spread end of the tool is looked up among the pairs of its ends. */
static bool needs_pairs(const struct km_condition *c)
{
	for (uint32_t i = 0; c && i < c->n_damage; i++)
		if (c->damage[i].what == KM_DMG_SPREAD && c->damage[i].end > 0)
			return true;
	return false;
}

/* Does what a condition comes to follow from it, the coat and the limits? */
static bool is_plain(const struct km_tool *t)
{
	const struct km_condition *c = t->condition;
	uint32_t ends = (uint32_t)1 << KM_A_SIZES |
			(uint32_t)1 << KM_A_OPENINGS;

	/* sizes and openings tell a spread jaw; the handle of wood comes off */
	if (!c || (t->traits.has & ends) == ends ||
	    c->handle == KM_HANDLE_SPLIT)
		return false;
	for (uint32_t i = 0; i < c->n_damage; i++)
		if (c->damage[i].what == KM_DMG_SPREAD)
			return false;
	return true;
}

/* The condition alone: its letters; *axis is its score. */
static uint32_t condition_of(struct search *s, const struct km_group *g,
			     const struct km_tool *tool, int *axis)
{
	struct km_thing thing = thing_of(tool);
	struct km_case c = { .rules = g->target.rules, .slot = g->target.slot,
			     .thing = &thing, .out = &s->match,
			     .wants = g->target.wants };
	struct km_comparison *on = s->match.on;
	uint32_t letters;

	on[KM_ASP_PIECE] = (struct km_comparison){ .by = 0 };
	memset(&on[KM_ASP_RUST], 0,
	       (KM_ASPECTS - KM_ASP_RUST) * sizeof *on);
	km_compare_condition(&c);
	letters = (uint32_t)1 << on[KM_ASP_PIECE].letter;
	for (int i = KM_ASP_RUST; i < KM_ASPECTS; i++)
		letters |= (uint32_t)1 << on[i].letter;
	*axis = km_score_axis(&s->match, KM_ASP_RUST, KM_ASP_DAMAGE);
	return letters;
}

/* The same, remembered. */
static uint32_t judge_condition(struct search *s, const struct km_group *g,
				const struct km_prospect *p,
				const struct held *h, int *axis)
{
	const struct km_condition *k = h->tool->condition;
	uint64_t hash = km_mix((uintptr_t)k, (uintptr_t)g->limits + p->skins);
	struct judged *j = &s->judged[(hash >> 32) & s->judged_mask];

	if (!h->plain)
		return condition_of(s, g, h->tool, axis);
	if (j->condition != k || j->limits != g->limits ||
	    j->skins != p->skins) {
		j->letters = (uint8_t)condition_of(s, g, h->tool, axis);
		j->axis = (int16_t)*axis;
		j->condition = k;
		j->limits = g->limits;
		j->skins = p->skins;
	}
	*axis = j->axis;
	return j->letters;
}

/* The open length: add its letter and score.  False: no candidate. */
static bool add_length(const struct km_target *t, const struct km_prospect *p,
		       const struct held *h, bool outside, struct worth *w,
		       int *sum)
{
	enum km_letter letter = t->far;
	int score = 0;

	if (!outside || t->far != t->outside)
		km_compare_length(t, h->length, &letter, &score);
	w->letters |= (uint32_t)1 << letter;
	*sum += score;
	return !p->near ||
	       km_compare_length_may_be(&t->slot->want[KM_A_LENGTH],
					h->length);
}

/* False: no candidate, or beaten. */
static bool weigh(struct search *s, const struct km_prospect *p,
		  const struct held *h, bool outside, struct worth *w)
{
	const struct km_group *g = &s->index.groups[p->group];
	int32_t limit = g->few[p->few].limit;
	int sum = p->dimension, n = p->n + p->length, axis;

	*w = (struct worth){ .letters = p->letters };
	if (p->length) {
		if (!add_length(&g->target, p, h, outside, w, &sum) ||
		    km_prospect_rank(p, w->letters, sum, n,
				     h->tool->condition
					     ? KM_SCORE_AGREES
					     : KM_SCORE_UNRECORDED) > limit)
			return false;
	}
	if (p->changes || needs_pairs(h->tool->condition)) {
		compare_in_full(s, g, h->tool, w);
	} else {
		w->letters |= judge_condition(s, g, p, h, &axis);
		w->score = km_score_total(n ? sum / n : KM_SCORE_AGREES,
					  p->marking, axis, p->looks, 0);
	}
	return km_rank(km_verdict_of_set(w->letters), w->score) <= limit;
}

/* Would work do?  Asked last, since it costs most. */
static enum km_status settle(struct search *s, const struct km_group *g,
			     struct worth *w, struct km_candidate *c)
{
	const struct km_filter *f = s->filter;
	int yes;

	if (!f || !f->reaches || c->verdict == KM_SUBSTITUTE ||
	    !(w->letters >> KM_CURABLE & 1))
		return KM_OK;
	if (!w->in_full)
		compare_in_full(s, g, c->tool, w);
	yes = f->reaches(f->cure, g->party, &s->match);
	if (yes < 0)
		return KM_ENOMEM;
	c->reaches = yes > 0;
	if (!yes)
		c->verdict = KM_SUBSTITUTE;
	return KM_OK;
}

static enum km_status hold(struct search *s, const struct km_prospect *p,
			   const struct held *h, bool outside)
{
	struct km_group *g = &s->index.groups[p->group];
	struct km_few *few = &g->few[p->few];
	struct km_candidate c = { .tool = h->tool, .reaches = true };
	struct worth w;

	if (!weigh(s, p, h, outside, &w))
		return KM_OK;
	c.verdict = (uint8_t)km_verdict_of_set(w.letters);
	c.score = w.score;
	c.came_with = came_with(g->party, s->serial[g->party - s->parties],
				h->tool);
	if (!km_few_takes(few, &c))
		return KM_OK;
	if (settle(s, g, &w, &c) != KM_OK)
		return KM_ENOMEM;
	return km_few_takes(few, &c) ? km_few_keep(s->mem, few, &c) : KM_OK;
}

static struct held take(const struct km_tool *tool)
{
	const union km_value *v = km_trait(&tool->traits, KM_A_LENGTH);
	struct held h = { .tool = tool, .plain = is_plain(tool) };

	if (v) {
		h.length = v->span;
		h.low_nm = km_span_low(v->span);
		h.high_nm = km_span_high(v->span);
	}
	return h;
}

static enum km_status hold_tool(struct search *s, const struct km_tool *tool)
{
	struct km_alike *a = km_alikes_find(s->alikes, tool);
	bool recorded = tool->condition != NULL;
	struct held h;

	if (!a || !a->n)
		return a ? KM_OK : KM_ENOMEM;
	h = take(tool);
	for (uint32_t i = 0; i < a->n;) {
		struct km_prospect *p = &a->v[i];
		const struct km_group *g = &s->index.groups[p->group];
		int32_t limit = g->few[p->few].limit;
		bool outside = h.high_nm < g->target.low_nm ||
			       h.low_nm > g->target.high_nm;

		if (p->at_best[1][0] > limit) {
			*p = a->v[--a->n];
			continue;
		}
		if (p->at_best[recorded][outside] <= limit &&
		    hold(s, p, &h, outside) != KM_OK)
			return KM_ENOMEM;
		i++;
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */

/* A pinned tool may sit in a slot of another kind. */
static uint64_t count_pins(const struct km_tools *bench)
{
	uint64_t n = 0;

	for (size_t i = 0; i < bench->n; i++) {
		const struct km_tool_more *more = km_tool_at(bench, i)->more;

		n += more && more->pin;
	}
	return n;
}

static enum km_status prepare(struct search *s, const struct km_limits *limits,
			      const struct km_tools *bench)
{
	uint64_t more = s->filter ? s->filter->spare : 0;
	enum km_status st;

	s->serial = km_arena_alloc(s->own, (size_t)s->n_parties + 1,
				   sizeof *s->serial);
	if (!s->serial)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_parties; i++)
		if (s->parties[i].machine)
			put_serial(s->serial[i], s->parties[i].machine->serial);
	st = km_index_build(&s->index, s->own, s->parties, s->n_parties);
	if (st == KM_OK)
		st = km_index_set_bounds(&s->index, s->own,
					 more + count_pins(bench),
					 NOT_OURS_KEPT);
	if (st != KM_OK || !s->n_parties)
		return st;
	s->alikes = km_alikes_new(s->own, limits, &s->index,
				  s->parties[0].rules.book, s->filter);
	s->judged_mask = 63;
	while (s->judged_mask < JUDGED_MOST - 1 && s->judged_mask < bench->n)
		s->judged_mask = 2 * s->judged_mask + 1;
	s->judged = km_arena_alloc(s->own, s->judged_mask + (size_t)1,
				   sizeof *s->judged);
	return s->alikes && s->judged ? KM_OK : KM_ENOMEM;
}

static enum km_status answer(struct search *s, struct km_candidates **out)
{
	struct km_index *x = &s->index;
	struct km_candidates *v = km_arena_alloc(s->mem,
						 x->n_slots + (size_t)1,
						 sizeof *v);
	uint32_t at = 0;

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < x->n_groups; i++)
		for (int k = 0; k < 2; k++)
			km_few_sort(&x->groups[i].few[k]);
	for (uint32_t i = 0; i < s->n_parties; i++)
		for (uint32_t k = 0; k < s->parties[i].kit->n_slots; k++) {
			const struct km_group *g =
				&x->groups[x->group_of[at]];

			v[at++] = (struct km_candidates){
				.slot = &s->parties[i].kit->slots[k],
				.of = &s->parties[i], .party = i,
				.first = g->first,
				.v = g->few[0].v, .n = g->few[0].n,
				.not_ours = g->few[1].v,
				.n_not_ours = g->few[1].n,
			};
		}
	*out = v;
	return KM_OK;
}

enum km_status km_candidates_find(struct km_arena *mem,
				  const struct km_limits *limits,
				  const struct km_party *parties,
				  uint32_t n_parties,
				  const struct km_tools *bench,
				  const struct km_filter *filter,
				  struct km_candidates **out, size_t *n)
{
	struct search s = { .mem = mem, .own = km_arena_new(limits),
			    .filter = filter, .parties = parties,
			    .n_parties = n_parties };
	enum km_status st = KM_ENOMEM;

	if (s.own)
		st = prepare(&s, limits, bench);
	for (size_t i = 0; i < bench->n && s.index.n && st == KM_OK; i++) {
		if (i + AHEAD < bench->n)
			__builtin_prefetch(
				km_tool_at(bench, i + AHEAD)->traits.v);
		st = hold_tool(&s, km_tool_at(bench, i));
	}
	if (st == KM_OK)
		st = answer(&s, out);
	if (st == KM_OK)
		*n = s.index.n_slots;
	km_alikes_free(s.alikes);
	km_arena_free(s.own);
	return st;
}

/* ------------------------------------------------------------------ */

struct km_match *km_candidates_match(struct km_arena *mem,
				     struct km_candidates *c, uint32_t k)
{
	struct km_thing thing = thing_of(c->v[k].tool);
	struct km_match *m;

	if (!c->match)
		c->match = km_arena_alloc(mem, c->n, sizeof(*c->match));
	if (!c->match || c->match[k])
		return c->match ? c->match[k] : NULL;
	m = km_arena_raw(mem, 1, sizeof *m);
	if (!m)
		return NULL;
	thing.came_with = c->v[k].came_with;
	km_compare(&c->of->rules, c->slot, &thing, m);
	km_match_settle(m, c->v[k].reaches);
	c->match[k] = m;
	return m;
}

int km_candidate_against(const struct km_candidate *c,
			 const struct km_match *m)
{
	struct km_candidate of = {
		.tool = m->tool, .score = m->score,
		.verdict = (uint8_t)m->verdict, .came_with = m->came_with,
	};

	return km_candidate_order(c, &of);
}
