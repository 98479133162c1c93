/* SPDX-License-Identifier: MIT */
/*
 * triage - where does each tool go: one bench held against all kits at once,
 * sorted as a person stands before it, by what becomes of a tool and then by
 * the place it lies in.  Every tool is on one line, and the sum says so.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>
#include <stdlib.h>

#include "base/str.h"
#include "unit/date.h"

enum { TOOL, GOES_TO, STATE, FATE, KIT, SLOT, VERDICT, OWNER, PLACE, SINCE,
       DUE, WHAT, MORE, LINES, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[TOOL] = { "tool", "tool", KM_COL_ID, false },
	[GOES_TO] = { NULL, "goes to", KM_COL_ID, false },
	[STATE] = { "status", NULL, KM_COL_WORD, false },
	[FATE] = { "fate", "fate", KM_COL_WORD, true },
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[VERDICT] = { "verdict", "verdict", KM_COL_WORD, false },
	[OWNER] = { "owner", NULL, KM_COL_TEXT, false },
	[PLACE] = { "place", "place", KM_COL_ID, true },
	[SINCE] = { "since", NULL, KM_COL_ID, false },
	[DUE] = { "due", NULL, KM_COL_ID, false },
	[WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[MORE] = { "right_for_more", NULL, KM_COL_COUNT, false },
	[LINES] = { NULL, "what it is, what is to be known", KM_COL_LIST,
		    false },
};

/* What becomes of a tool, in the order of the sheet. */
enum fate { GIVEN, NOT_OURS, AWAY, KEPT, FREE, FATES };

static const struct { const char *word, *heading; } fates[FATES] = {
	[GIVEN] = { "given", "given" },
	[NOT_OURS] = { "not-ours", "not ours" },
	[AWAY] = { "away", "away" },
	[KEPT] = { "surplus-kept", "surplus, right for another kit: keep or "
				   "trade" },
	[FREE] = { "surplus-free", "surplus, free" },
};

struct line {
	const struct km_tool *tool;
	enum fate fate;
	const struct km_slot *slot;
	const struct km_surplus *spare;
};

struct maker {
	struct km_page *p;
	struct km_table *t;
	struct km_buf *b;
	const struct km_kit *home;	/* where the run has one kit */
};

/* Places as people count them; what lies nowhere comes last. */
static int by_fate(const void *a, const void *b)
{
	const struct line *x = a, *y = b;
	const char *p = x->tool->location, *q = y->tool->location;
	int order = 0;

	if (x->fate != y->fate)
		return x->fate < y->fate ? -1 : 1;
	if (!p != !q)
		return p ? -1 : 1;
	if (p && q)
		order = km_natural_compare(p, q);
	return order ? order : km_natural_compare(x->tool->id, y->tool->id);
}

static bool same_place(const struct line *x, const struct line *y)
{
	const char *p = x->tool->location, *q = y->tool->location;

	return x->fate == y->fate && !p == !q &&
	       (!p || !km_natural_compare(p, q));
}

static size_t collect(struct km_page *p, struct line *v)
{
	const struct km_audit *a = p->audit;
	const struct km_tools *bench = &a->load->bench;
	size_t n = 0;

	for (size_t i = 0; a->fate && i < bench->n; i++) {
		const struct km_tool *t = km_tool_at(bench, i);

		if (a->fate[i] == KM_FATE_SURPLUS)
			continue;
		v[n++] = (struct line){
			.tool = t, .slot = km_page_given(p, t),
			.fate = a->fate[i] == KM_FATE_GIVEN ? GIVEN
				: a->fate[i] == KM_FATE_AWAY ? AWAY
							     : NOT_OURS };
	}
	for (uint64_t i = 0; i < a->n_spare; i++)
		v[n++] = (struct line){
			.tool = a->spare[i].tool, .spare = &a->spare[i],
			.slot = a->spare[i].slot,
			.fate = a->spare[i].slot ? KEPT : FREE };
	return n;
}

static void line(struct maker *m)
{
	km_put_item(m->t, LINES, m->b);
}

/* The match of a given tool in the slot that it was given to. */
static const struct km_match *match_of(const struct maker *m,
				       const struct line *x)
{
	const struct km_audit *a = m->p->audit;

	for (uint32_t k = 0; x->slot && k < a->n_kits; k++) {
		const struct km_slot_audit *s;

		if (a->kits[k].kit != x->slot->kit)
			continue;
		s = &a->kits[k].slots[x->slot->index];
		for (int32_t i = 0; i < s->slot->count; i++)
			if (s->pieces[i].match &&
			    s->pieces[i].match->tool == x->tool)
				return s->pieces[i].match;
	}
	return NULL;
}

static const char *state_word(enum km_tool_status s)
{
	static const char *const word[] = {
		[KM_HERE] = "here", [KM_LENT] = "lent",
		[KM_ORDERED] = "ordered", [KM_AT_PLATER] = "at-plater",
		[KM_IN_KIT] = "in-kit", [KM_RECEIVED] = "received",
	};

	return word[s];
}

/* Where it is, if it is not here: "lent to a friend since 2026-03-03". */
static void put_whereabouts(struct maker *m, const struct km_tool *t)
{
	const struct km_tool_more *more = t->more;
	bool out = t->status == KM_LENT || t->status == KM_AT_PLATER ||
		   t->status == KM_ORDERED;

	km_put_word(m->t, STATE, state_word(t->status), KM_TONE_NONE);
	if (more) {
		km_buf_date(m->b, more->since);
		km_put_buf(m->t, SINCE, m->b);
		km_buf_date(m->b, more->due);
		km_put_buf(m->t, DUE, m->b);
	}
	if (!out)
		return;
	km_buf_str(m->b, t->status == KM_LENT ? "lent"
			 : t->status == KM_AT_PLATER ? "at the plater"
						     : "on order");
	if (more && more->lent_to && t->status == KM_LENT)
		km_buf_printf(m->b, " to %s", more->lent_to);
	km_words_since(m->b, t);
	line(m);
}

static void put_given(struct maker *m, const struct line *x)
{
	const struct km_match *match = match_of(m, x);

	if (!match)
		return;
	km_put_word(m->t, VERDICT, km_verdict_word(match->verdict),
		    km_verdict_tone(match->verdict));
	if (match->verdict != KM_RIGHT)
		km_reason(m->b, match);
	line(m);
}

/* What it would fill if it were ours. */
static void put_not_ours(struct maker *m, const struct km_tool *t)
{
	const struct km_audit *a = m->p->audit;

	km_put_text(m->t, OWNER, t->owner);
	km_buf_printf(m->b, "belongs to %s",
		      t->owner ? t->owner : "somebody else");
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].n_remarks; i++) {
			const struct km_remark *r = &a->kits[k].remarks[i];

			if (r->what != KM_REMARK_NOT_MINE || r->tool != t)
				continue;
			km_buf_str(m->b, ", would fill ");
			km_words_slot_ref(m->b, r->slot, m->home);
		}
	line(m);
}

static void put_spare(struct maker *m, const struct km_surplus *s)
{
	km_put_word(m->t, VERDICT, km_verdict_word(s->verdict),
		    km_verdict_tone(s->verdict));
	km_put_int(m->t, MORE, s->more);
	if (s->more)
		km_buf_printf(m->b, "and for %" PRIu32 " more slot%s", s->more,
			      s->more == 1 ? "" : "s");
	line(m);
	if (s->second)
		km_buf_str(m->b, "better ones of this bench fill that slot");
	line(m);
}

static void put_line(struct maker *m, const struct line *x)
{
	km_table_row(m->t);
	km_put_text(m->t, TOOL, x->tool->id);
	km_put_word(m->t, FATE, fates[x->fate].word, KM_TONE_NONE);
	km_put_text(m->t, PLACE, x->tool->location);
	if (x->slot) {
		km_put_text(m->t, KIT, x->slot->kit ? x->slot->kit->id : NULL);
		km_put_text(m->t, SLOT, x->slot->id);
		km_words_slot_ref(m->b, x->slot, m->home);
		km_put_buf(m->t, GOES_TO, m->b);
	}
	km_words_of_traits(m->b, &x->tool->traits);
	km_put_text(m->t, WHAT, m->b->len ? m->b->text : NULL);
	if (!m->b->len)
		km_buf_str(m->b, "nothing is recorded of it");
	line(m);
	if (x->fate == GIVEN)
		put_given(m, x);
	if (x->fate == NOT_OURS)
		put_not_ours(m, x->tool);
	if (x->fate == KEPT)
		put_spare(m, x->spare);
	put_whereabouts(m, x->tool);
}

/* "given, from drawer 2" */
static void heading(struct maker *m, const struct line *x)
{
	km_buf_printf(m->b, "%s, %s%s", fates[x->fate].heading,
		      x->tool->location ? "from " : "place not recorded",
		      x->tool->location ? x->tool->location : "");
	km_put_section(m->t, m->b);
}

enum { N_TOOLS, N_GIVEN, N_NOT_OURS, N_AWAY, N_SURPLUS, N_KEPT, N_FREE,
       N_COLUMNS };

static const struct km_column sum_columns[N_COLUMNS] = {
	[N_TOOLS] = { "tools", NULL, KM_COL_COUNT, false },
	[N_GIVEN] = { "given", NULL, KM_COL_COUNT, false },
	[N_NOT_OURS] = { "not_ours", NULL, KM_COL_COUNT, false },
	[N_AWAY] = { "away", NULL, KM_COL_COUNT, false },
	[N_SURPLUS] = { "surplus", NULL, KM_COL_COUNT, false },
	[N_KEPT] = { "surplus_kept", NULL, KM_COL_COUNT, false },
	[N_FREE] = { "surplus_free", NULL, KM_COL_COUNT, false },
};

static void put_sum(struct maker *m)
{
	const struct km_audit *a = m->p->audit;
	uint64_t unbound = a->surplus - a->spare_kept;

	km_buf_printf(m->b, "given %" PRIu64 " + not ours %" PRIu64 " + away %"
		      PRIu64 " + surplus %" PRIu64, a->given, a->not_ours,
		      a->away, a->surplus);
	if (a->n_library)
		km_buf_printf(m->b, " (%" PRIu64 " right for another kit, %"
			      PRIu64 " free)", a->spare_kept, unbound);
	km_buf_printf(m->b, " = %" PRIu64 " tool%s", a->tools,
		      a->tools == 1 ? "" : "s");
	km_put_section(m->t, m->b);
	if (a->n_kits && !a->n_library && a->surplus)
		km_table_section(m->t, "every kit of the files takes part: "
				       "there is none to keep surplus for");
	m->t = km_page_table(m->p, "totals", sum_columns, N_COLUMNS);
	if (!m->t)
		return;
	m->t->show = KM_SHOW_DATA;
	km_table_row(m->t);
	km_put_int(m->t, N_TOOLS, (int64_t)a->tools);
	km_put_int(m->t, N_GIVEN, (int64_t)a->given);
	km_put_int(m->t, N_NOT_OURS, (int64_t)a->not_ours);
	km_put_int(m->t, N_AWAY, (int64_t)a->away);
	km_put_int(m->t, N_SURPLUS, (int64_t)a->surplus);
	km_put_int(m->t, N_KEPT, (int64_t)a->spare_kept);
	km_put_int(m->t, N_FREE, (int64_t)unbound);
}

void km_make_triage(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct maker m = { .p = p, .b = &p->line };
	struct line *v = km_arena_alloc(p->mem, a->load->bench.n, sizeof *v);
	size_t n;

	m.t = km_page_table(p, "tools", columns, COLUMNS);
	if (!m.t || !v) {
		p->failed = true;
		return;
	}
	if (a->n_kits == 1)
		m.home = a->kits[0].kit;
	n = collect(p, v);
	qsort(v, n, sizeof *v, by_fate);
	for (size_t i = 0; i < n; i++) {
		if (!i || !same_place(&v[i - 1], &v[i]))
			heading(&m, &v[i]);
		put_line(&m, &v[i]);
	}
	put_sum(&m);
}
