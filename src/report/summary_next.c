/* SPDX-License-Identifier: MIT */
#include "report/summary.h"

#include <inttypes.h>

#include "report/words.h"
#include "unit/date.h"
#include "unit/money.h"

#define LINES 3u			/* of what is next, where lines are short */

/* ------------------------------------------------------------------ */
/* Money                                                               */

enum { M_WHAT, M_LOW, M_LIKELY, M_HIGH, M_COLUMNS };

struct km_table *km_summary_cost_view(struct km_page *p)
{
	static const struct km_column columns[M_COLUMNS] = {
		[M_WHAT] = { NULL, "what", KM_COL_TEXT, false },
		[M_LOW] = { NULL, "low", KM_COL_MONEY, false },
		[M_LIKELY] = { NULL, "likely", KM_COL_MONEY, false },
		[M_HIGH] = { NULL, "high", KM_COL_MONEY, false },
	};
	struct km_table *t = km_page_table(p, "cost", columns, M_COLUMNS);

	if (t)
		t->show = KM_SHOW_TEXT;
	return t;
}

static void money_row(struct km_summary *s, const struct km_money3 *m)
{
	const int64_t v[] = { m->low, m->likely, m->high };
	struct km_buf one;

	if (s->cost) {
		km_table_row(s->cost);
		km_put_buf(s->cost, M_WHAT, &s->tail);
		for (uint32_t i = 0; i < 3; i++)
			km_put_int(s->cost, M_LOW + i, v[i]);
		return;
	}
	if (s->tail.len < 28 && !s->p->o.plain)
		km_buf_fill(&s->tail, ' ', 28 - s->tail.len);
	km_buf_init(&one, s->p->mem);
	for (int i = 0; i < 3; i++) {
		km_buf_clear(&one);
		km_buf_money(&one, v[i], s->p->decimals);
		if (one.len < 11 && !s->p->o.plain)
			km_buf_fill(&s->tail, ' ', 11 - one.len);
		km_buf_printf(&s->tail, " %s", one.len ? one.text : "");
	}
	s->p->failed |= km_buf_failed(&one);
	km_summary_item(s);
}

/* "GBP", or "GBP, no prices were read" */
static void cost_heading(struct km_summary *s)
{
	struct km_buf *t = &s->tail;
	bool prices = s->p->audit->load->prices != NULL;

	if (s->p->currency)
		km_buf_str(t, s->p->currency);
	if (!prices)
		km_buf_printf(t, "%sno prices were read", t->len ? ", " : "");
	if (!t->len)
		km_buf_str(t, "no currency");
	km_summary_proof(s);
	if (s->cost) {
		if (!km_buf_failed(t))
			km_table_section(s->cost, t->text);
		km_buf_clear(t);
		return;
	}
	if (t->len < 28 && !s->p->o.plain)
		km_buf_fill(t, ' ', 28 - t->len);
	km_buf_printf(t, s->p->o.plain ? " %s %s %s" : "%12s%12s%12s", "low",
		      "likely", "high");
	km_summary_item(s);
}

static bool any(const struct km_money3 *m)
{
	return m->low || m->likely || m->high;
}

/* What only fills an order, and postage apart from it. */
static void carriage(struct km_summary *s)
{
	const struct km_money3 *all = &s->k->postage_total;
	const struct km_money3 *up = &s->k->top_up_total;
	struct km_money3 post = { all->low - up->low, all->likely - up->likely,
				  all->high - up->high };

	if (any(up)) {
		km_buf_str(&s->tail, "to reach the minimum order");
		money_row(s, up);
	}
	if (any(&post)) {
		km_buf_str(&s->tail, "postage");
		money_row(s, &post);
	}
}

/* Does own time have a price? */
static bool has_own(const struct km_kit_audit *k)
{
	return any(&k->own_total);
}

/* Own time apart, and the sum that the plan has made least: a total of two
 * totals that exist, so it cannot overflow what the plan could add. */
static void own_time(struct km_summary *s)
{
	const struct km_kit_audit *k = s->k;
	struct km_money3 sum = { k->total.low + k->own_total.low,
				 k->total.likely + k->own_total.likely,
				 k->total.high + k->own_total.high };

	km_buf_printf(&s->tail, "own time %" PRId32 " min", k->own_min[1]);
	money_row(s, &k->own_total);
	km_buf_str(&s->tail, "with own time");
	money_row(s, &sum);
}

void km_summary_cost(struct km_summary *s)
{
	const struct km_kit_audit *k = s->k;
	struct km_block *b;

	if (!s->p->audit->options.want_money)
		return;
	b = s->cost ? NULL : km_screen_block(&s->screen, "cost");
	cost_heading(s);
	if (k->n_work || k->restore_total.high) {
		km_buf_printf(&s->tail, "work on %" PRId32, k->n_work);
		if (k->own_min[1] && !has_own(k))
			km_buf_printf(&s->tail, ", own %" PRId32 " min",
				      k->own_min[1]);
		money_row(s, &k->restore_total);
	}
	if (k->n_buy || k->buy_total.high) {
		km_buf_printf(&s->tail, "buy %" PRId32, k->n_buy);
		money_row(s, &k->buy_total);
	}
	carriage(s);
	km_buf_str(&s->tail, "to finish");
	if (k->n_unpriced)
		km_buf_printf(&s->tail, ", %" PRId32 " unpriced",
			      k->n_unpriced);
	money_row(s, &k->total);
	if (has_own(k))
		own_time(s);
	if (!b)
		return;
	b->part = true;
	b->least = b->n;
}

/* ------------------------------------------------------------------ */
/* What not to do, what to do                                          */

static void care_item(struct km_summary *s, const struct km_piece *p,
		      const struct km_slot_audit *a)
{
	const char *id = p->match ? km_match_id(p->match) : "";

	if (p->care & KM_CARE_MARK_UNREAD)
		km_buf_printf(&s->head, "work on %s before its mark is read",
			      id);
	else if (p->care & KM_CARE_MARK_SHALLOW)
		km_buf_printf(&s->head, "grind or buff %s (shallow mark)", id);
	else if (p->care & KM_CARE_MARK_DEPTH)
		km_buf_printf(&s->head, "grind or buff %s before its mark is "
			      "photographed", id);
	else if (p->pinned)
		km_buf_printf(&s->head, "move %s (pinned to %s)", id,
			      a->slot->id);
	else
		return;
	km_summary_item(s);
}

/* Begin the block when there is a first item for it. */
static void care_block(struct km_summary *s, bool *begun)
{
	struct km_block *b;

	if (*begun)
		return;
	b = km_screen_block(&s->screen, "do not");
	b->rows = false;
	b->part = true;
	*begun = true;
}

/* Whether there was anything to warn of. */
bool km_summary_care(struct km_summary *s)
{
	bool begun = false;

	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		for (int32_t n = 0; a->pieces && n < a->slot->count; n++) {
			if (!a->pieces[n].care && !a->pieces[n].pinned)
				continue;
			care_block(s, &begun);
			care_item(s, &a->pieces[n], a);
		}
	}
	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_NOT_MINE || !r->tool)
			continue;
		care_block(s, &begun);
		km_buf_printf(&s->head, "use %s", r->tool->id);
		km_buf_printf(&s->tail, "(belongs to %s)",
			      r->tool->owner ? r->tool->owner
					     : "somebody else");
		km_summary_item(s);
	}
	return begun;
}

/* What is to be done for a slot; where no plan was asked for, by its verdict
 * alone. */
static enum km_decide decision_of(const struct km_summary *s,
				  const struct km_slot_audit *a)
{
	static const enum km_decide plain[KM_VERDICTS] = {
		[KM_RIGHT] = KM_DECIDE_KEEP,
		[KM_AFTER_WORK] = KM_DECIDE_RESTORE,
		[KM_UNVERIFIED] = KM_DECIDE_READ,
		[KM_SUBSTITUTE] = KM_DECIDE_LEAVE,
		[KM_SHORT] = KM_DECIDE_LEAVE, [KM_EXPECTED] = KM_DECIDE_WAIT,
		[KM_GAP] = KM_DECIDE_LEAVE,
	};

	if (s->p->audit->options.want_money)
		return a->decide;
	return a->firm ? plain[a->verdict] : KM_DECIDE_QUESTION;
}

/* The pieces of a slot that a decision is about, ", T-4.1, T-4.2"; else the
 * one that speaks for the slot. */
static void add_pieces(struct km_summary *s, const struct km_slot_audit *a,
		       enum km_decide d, bool comma)
{
	enum km_verdict v = d == KM_DECIDE_READ ? KM_UNVERIFIED
						: KM_AFTER_WORK;
	const struct km_match *m = km_summary_piece(a);
	bool any = false;

	for (int32_t i = 0; a->pieces && i < a->slot->count; i++) {
		const struct km_piece *x = &a->pieces[i];

		if (!x->match || x->expected || x->match->verdict != v)
			continue;
		km_buf_printf(&s->p->line, "%s%s", comma || any ? ", " : "",
			      km_match_id(x->match));
		any = true;
	}
	if (!any)
		km_buf_printf(&s->p->line, "%s%s", comma ? ", " : "",
			      m ? km_match_id(m) : a->slot->id);
}

/* The slots of one decision, as "S-01, S-02", in `line`; how many. */
static uint32_t decided(struct km_summary *s, enum km_decide d, bool with_tool)
{
	uint32_t n = 0;

	km_buf_clear(&s->p->line);
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (decision_of(s, a) != d || a->slot->unused ||
		    (d == KM_DECIDE_QUESTION && a->depends))
			continue;
		if (with_tool)
			add_pieces(s, a, d, n > 0);
		else
			km_buf_printf(&s->p->line, "%s%s", n ? ", " : "",
				      a->slot->id);
		n++;
	}
	return n;
}

static void next_item(struct km_summary *s, const char *what)
{
	km_buf_printf(&s->tail, "%s%s", what,
		      s->p->line.len ? s->p->line.text : "");
	km_summary_item(s);
}

static void next_overdue(struct km_summary *s)
{
	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_OVERDUE || !r->tool)
			continue;
		km_buf_clear(&s->p->line);
		km_buf_printf(&s->p->line, "%s, overdue by %" PRId64 " day%s",
			      r->tool->id, r->a, r->a == 1 ? "" : "s");
		next_item(s, "ask after ");
	}
}

/* What came wrong goes back while it can. */
static void next_return(struct km_summary *s)
{
	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_RECEIVED_WRONG || !r->tool ||
		    !r->match || r->match->verdict != KM_SUBSTITUTE ||
		    !r->tool->more || !r->tool->more->return_by.year ||
		    (r->a < 0 && r->a != KM_NO_DAY))
			continue;
		km_buf_clear(&s->p->line);
		km_buf_printf(&s->p->line, "%s by ", r->tool->id);
		km_buf_date(&s->p->line, r->tool->more->return_by);
		next_item(s, "send back ");
	}
}

/* The slots that no money is spent on before the kit is known. */
static void next_which(struct km_summary *s)
{
	uint32_t n = 0;

	if (!s->k->undecided)
		return;
	km_buf_clear(&s->p->line);
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (a->depends && !a->slot->unused)
			km_buf_printf(&s->p->line, "%s%s",
				      n++ ? ", " : ", it settles ",
				      a->slot->id);
	}
	next_item(s, "find out which kit");
}

/* What is cheapest to do comes first: look, ask, work, then pay. */
void km_summary_next(struct km_summary *s, bool part)
{
	static const struct { enum km_decide d; bool tool; const char *what; }
	after[] = {
		{ KM_DECIDE_RESTORE, true, "restore " },
		{ KM_DECIDE_BUY, false, "buy for " },
		{ KM_DECIDE_QUESTION, false, "find a second source for " },
		{ KM_DECIDE_LEAVE, false, "look out for " },
	};
	struct km_block *b = km_screen_block(&s->screen, "next");

	b->part = part;
	/* the line that says what is left out is one of those to come */
	b->most = s->left_out.len && !part ? LINES - 1 : LINES;
	next_return(s);
	if (decided(s, KM_DECIDE_READ, true))
		next_item(s, "look again at ");
	next_overdue(s);
	next_which(s);
	for (size_t i = 0; i < sizeof after / sizeof *after; i++)
		if (decided(s, after[i].d, after[i].tool))
			next_item(s, after[i].what);
	if (!b->n) {
		km_buf_str(&s->tail, "nothing to do");
		km_summary_item(s);
	}
	b->least = b->n < b->most ? b->n : b->most;
}
