/* SPDX-License-Identifier: MIT */
/*
 * slots - one row a slot: what is wanted, what is there, why it is not right,
 * what to do about it.
 */
#include "report/cautions.h"
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "trade/process.h"
#include "unit/length.h"
#include "unit/money.h"

enum {
	KIT, SLOT, WANTED, COUNT, EXISTS, VERDICT, WOULD_BE, TOOLS, FIRST_TOOL,
	FILLED, ON_ORDER, REASON, NOTES, FIT, RESTORE_LOW, RESTORE_LIKELY, RESTORE_HIGH,
	STEPS, BUY_LOW, BUY_LIKELY, BUY_HIGH, OFFER, DECISION, MARGIN,
	CLOSE_CALL, CHOSEN, BY_HAND, BY_HAND_COSTS, DEPENDS, REMARKS, DETAIL,
	COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[WANTED] = { "wanted", NULL, KM_COL_TEXT, false },
	[COUNT] = { "count", NULL, KM_COL_COUNT, false },
	[EXISTS] = { "certainty", NULL, KM_COL_WORD, false },
	[VERDICT] = { "verdict", "verdict", KM_COL_WORD, false },
	[WOULD_BE] = { "would_be", NULL, KM_COL_WORD, false },
	[TOOLS] = { "tools", NULL, KM_COL_LIST, false },
	[FIRST_TOOL] = { NULL, "tool", KM_COL_ID, false },
	[FILLED] = { "filled", NULL, KM_COL_COUNT, false },
	[ON_ORDER] = { "on_order", NULL, KM_COL_LIST, false },
	[REASON] = { "reason", NULL, KM_COL_TEXT, false },
	[NOTES] = { "notes", NULL, KM_COL_LIST, false },
	[FIT] = { "fit_for_use", NULL, KM_COL_WORD, false },
	[RESTORE_LOW] = { "restore_low", NULL, KM_COL_MONEY, false },
	[RESTORE_LIKELY] = { "restore_likely", NULL, KM_COL_MONEY, false },
	[RESTORE_HIGH] = { "restore_high", NULL, KM_COL_MONEY, false },
	[STEPS] = { "restore_steps", NULL, KM_COL_LIST, false },
	[BUY_LOW] = { "buy_low", NULL, KM_COL_MONEY, false },
	[BUY_LIKELY] = { "buy_likely", NULL, KM_COL_MONEY, false },
	[BUY_HIGH] = { "buy_high", NULL, KM_COL_MONEY, false },
	[OFFER] = { "buy_offer", NULL, KM_COL_ID, false },
	[DECISION] = { "decision", NULL, KM_COL_WORD, false },
	[MARGIN] = { "margin", NULL, KM_COL_MONEY, false },
	[CLOSE_CALL] = { "close_call", NULL, KM_COL_FLAG, false },
	[CHOSEN] = { "chosen", NULL, KM_COL_LIST, false },
	[BY_HAND] = { "by_hand", NULL, KM_COL_FLAG, false },
	[BY_HAND_COSTS] = { "by_hand_costs", NULL, KM_COL_MONEY, false },
	[DEPENDS] = { "depends", NULL, KM_COL_FLAG, false },
	[REMARKS] = { "remarks", NULL, KM_COL_LIST, false },
	[DETAIL] = { NULL, "what is wanted, what stands against it",
		     KM_COL_LIST, false },
};

struct maker {
	struct km_page *p;
	struct km_table *t;
	const struct km_kit_audit *k;
	const struct km_slot_audit *s;
	uint32_t place;			/* of the plan, to come next */
	struct km_buf *b;		/* one text */
};

/* The text so far, in the data column and among the details; cleared. */
static void put_both(struct maker *m, uint32_t column)
{
	struct km_buf copy;

	if (!m->b->len)
		return;
	km_buf_init(&copy, m->p->mem);
	km_buf_add(&copy, m->b->text, m->b->len);
	km_put_item(m->t, DETAIL, &copy);
	if (m->t->columns[column].kind == KM_COL_LIST)
		km_put_item(m->t, column, m->b);
	else
		km_put_buf(m->t, column, m->b);
}

static void detail(struct maker *m)
{
	km_put_item(m->t, DETAIL, m->b);
}

/* ------------------------------------------------------------------ */
/* What is wanted, what is there                                       */

/* " (disputed: against 1, for 1)" */
static void add_doubt(struct maker *m, const struct km_slot *s)
{
	km_buf_printf(m->b, " (%s", km_certainty_word(s->exists));
	if (s->evidence) {
		km_buf_str(m->b, ": ");
		km_words_evidence(m->b, s->evidence);
	}
	km_buf_char(m->b, ')');
}

static void put_wanted(struct maker *m)
{
	const struct km_slot *s = m->s->slot;

	km_words_of_want(m->b, s, false);
	km_put_text(m->t, WANTED, m->b->len ? m->b->text : NULL);
	if (s->count > 1)
		km_buf_printf(m->b, ", %" PRId32 " pieces", s->count);
	if (s->exists > KM_PROBABLE && !s->unused)
		add_doubt(m, s);
	if (!s->durable)
		km_buf_str(m->b, " (consumable)");
	detail(m);
}

static void put_tools(struct maker *m)
{
	const struct km_slot_audit *s = m->s;
	bool first = true;

	km_put_list(m->t, TOOLS);
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_match *match = s->pieces[i].match;

		if (!match)
			continue;
		if (first)
			km_put_text(m->t, FIRST_TOOL, km_match_id(match));
		first = false;
		km_buf_str(m->b, km_match_id(match));
		km_put_item(m->t, TOOLS, m->b);
	}
	first = true;
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_match *match = s->pieces[i].match;

		if (!match)
			continue;
		if (!first)
			km_buf_printf(m->b, "%s%s", m->b->len ? ", " : "with ",
				      km_match_id(match));
		first = false;
	}
	detail(m);
	km_put_int(m->t, FILLED, s->filled);
	km_put_list(m->t, ON_ORDER);
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_piece *x = &s->pieces[i];
		const struct km_match *order = x->expected ? x->match
							   : x->coming;

		if (!order)
			continue;
		km_buf_str(m->b, km_match_id(order));
		km_put_item(m->t, ON_ORDER, m->b);
	}
}

/* A slot that is not the same in every kit that the machine may have left
 * with: what it comes to, and what it is, in each. */
static void put_depends(struct maker *m)
{
	uint32_t i = m->s->slot->index;

	km_put_word(m->t, WOULD_BE, km_verdict_word(m->s->verdict),
		    KM_TONE_NONE);
	km_buf_printf(m->b, "depends on the %s: ",
		      m->k->undecided == KM_UNDECIDED_MARKET ? "market"
							     : "kit");
	km_words_depends(m->b, m->k, m->s);
	detail(m);
	for (uint32_t n = 1; n < m->k->n_readings; n++) {
		const struct km_kit_reading *r = &m->k->readings[n];
		const struct km_slot_audit *s = km_reading_slot(r, i);

		if (!s || !s->depends)
			continue;
		km_words_slot_ref(m->b, s->slot, m->k->kit);
		km_buf_str(m->b, " wants ");
		km_words_of_want(m->b, s->slot, false);
		detail(m);
	}
}

static void put_verdict(struct maker *m)
{
	const struct km_slot_audit *s = m->s;

	km_put_word(m->t, VERDICT, km_slot_verdict_word(s), km_slot_tone(s));
	if (s->slot->unused) {
		km_buf_str(m->b, "empty by design");
		detail(m);
		return;
	}
	if (s->firm)
		return;
	if (s->depends) {
		put_depends(m);
		return;
	}
	km_put_word(m->t, WOULD_BE, km_verdict_word(s->verdict), KM_TONE_NONE);
	km_buf_printf(m->b, "would be %s", km_verdict_word(s->verdict));
	detail(m);
}

/* ------------------------------------------------------------------ */
/* Why not                                                             */

static void put_reason(struct maker *m)
{
	km_reason_of_slot(m->b, m->s);
	put_both(m, REASON);
}

/* Is an aspect worth a note beside the headline? */
static bool is_noted(const struct km_page *p, const struct km_match *match,
		     enum km_aspect a)
{
	enum km_letter letter = match->on[a].letter;

	if (a == match->headline || letter == KM_PASSES)
		return false;
	if (p->o.verbose)
		return true;
	return letter == KM_NOTED &&
	       match->on[a].finding != KM_F_CONDITION_UNRECORDED;
}

static void put_notes(struct maker *m)
{
	const struct km_match *worst = m->s->worst;
	const char *before = ": ";

	km_put_list(m->t, NOTES);
	if (!worst)
		return;
	if (km_reason_is_weak(worst)) {
		km_buf_printf(m->b, "weak evidence (%s): spend nothing on it "
			      "until it is confirmed", km_certainty_word(km_reason_certainty(
				      worst, worst->headline)));
		put_both(m, NOTES);
	}
	for (int a = 0; a < KM_ASPECTS; a++) {
		if (!is_noted(m->p, worst, (enum km_aspect)a))
			continue;
		km_reason_of(m->b, worst, (enum km_aspect)a);
		if (m->b->len)
			km_buf_str(m->b, worst->on[a].letter == KM_NOTED
						 ? ", noted" : "");
		put_both(m, NOTES);
	}
	if (worst->wrong_size) {
		km_buf_str(m->b, "fills the pocket, but turn no nut with it");
		put_both(m, NOTES);
	}
	km_put_word(m->t, FIT, km_fit_word(worst->fit), KM_TONE_NONE);
	if (worst->fit == KM_UNFIT) {
		km_buf_str(m->b, "not fit for use");
		for (int d = 0; d < KM_DMG_WHATS; d++)
			if (worst->unfit_for >> d & 1) {
				km_buf_printf(m->b, "%s%s", before,
					km_damage_word((enum km_damage_what)d));
				before = ", ";
			}
		detail(m);
	}
}

/* ------------------------------------------------------------------ */
/* What it costs                                                       */

/* "restore 9.00 (7.00 to 12.00)" */
static void add_cost(struct maker *m, const char *what,
		     const struct km_money3 *c)
{
	km_buf_printf(m->b, "%s%s ", m->b->len ? "; " : "", what);
	km_buf_money(m->b, c->likely, m->p->decimals);
	if (c->low == c->high)
		return;
	km_buf_str(m->b, " (");
	km_buf_money(m->b, c->low, m->p->decimals);
	km_buf_str(m->b, " to ");
	km_buf_money(m->b, c->high, m->p->decimals);
	km_buf_char(m->b, ')');
}

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *c)
{
	km_put_int(t, first, c->low);
	km_put_int(t, first + 1, c->likely);
	km_put_int(t, first + 2, c->high);
}

static void put_steps(struct maker *m, const struct km_route *r)
{
	for (uint32_t i = 0; r && i < r->n_steps; i++) {
		km_buf_str(m->b, r->steps[i]->name);
		km_put_item(m->t, STEPS, m->b);
	}
	for (uint32_t i = 0; r && i < r->n_steps; i++)
		km_buf_printf(m->b, "%s%s", i ? ", then " : "by: ",
			      r->steps[i]->name);
	detail(m);
}

static void put_ways(struct maker *m)
{
	const struct km_way *r = m->s->restore, *b = m->s->buy;
	const struct km_way *no = m->s->rejected_buy;

	if (r && r->priced) {
		put_money3(m->t, RESTORE_LOW, &r->alone);
		add_cost(m, "restore", &r->alone);
	}
	if (b && b->priced) {
		put_money3(m->t, BUY_LOW, &b->alone);
		add_cost(m, "buy", &b->alone);
		if (b->match && b->match->offer)
			km_buf_printf(m->b, " as %s", b->match->offer->id);
	}
	if (b && b->match && b->match->offer)
		km_put_text(m->t, OFFER, b->match->offer->id);
	detail(m);
	if (r)
		put_steps(m, r->route);
	if (no && no->match && no->match->offer) {
		km_buf_printf(m->b, "%s as sold is cheaper, but would not do: ",
			      no->match->offer->id);
		if (no->fit.too_large)
			km_words_fit(m->b, &no->fit);
		else if (no->over_limit)
			km_buf_str(m->b, "dearer than the most to pay");
		else
			km_reason(m->b, no->match);
		detail(m);
	}
}

/* The next place of the plan, if it is one of this slot; places come in the
 * order of the slots. */
static const struct km_plan_place *next_place(struct maker *m)
{
	const struct km_plan *plan = m->p->audit->plan;

	if (!plan || m->place >= plan->n_places ||
	    plan->places[m->place].slot != m->s)
		return NULL;
	return &plan->places[m->place++];
}

static bool takes_something(const struct km_plan_place *p)
{
	return p->chosen->kind != KM_WAY_OPEN && p->chosen->match;
}

/* "chosen by hand, which costs 4.00 more" */
static void put_by_hand(struct maker *m, const struct km_plan_place *p)
{
	km_put_int(m->t, BY_HAND, 1);
	km_buf_str(m->b, "chosen by hand");
	if (p->by_hand_costs >= 0)
		km_put_int(m->t, BY_HAND_COSTS, p->by_hand_costs);
	if (p->by_hand_costs > 0) {
		km_buf_str(m->b, ", which costs ");
		km_buf_money(m->b, p->by_hand_costs, m->p->decimals);
		km_buf_str(m->b, " more");
	}
	detail(m);
}

/* What the plan takes for each place of the slot. */
static void put_places(struct maker *m)
{
	const struct km_plan_place *p;
	struct km_buf ids;

	km_buf_init(&ids, m->p->mem);
	km_put_int(m->t, BY_HAND, 0);
	km_put_list(m->t, CHOSEN);
	while ((p = next_place(m)) != NULL) {
		if (p->by_hand)
			put_by_hand(m, p);
		if (!takes_something(p))
			continue;
		km_buf_printf(m->b, "%s %s", km_way_word(p->chosen->kind),
			      km_match_id(p->chosen->match));
		km_put_item(m->t, CHOSEN, m->b);
		km_buf_printf(&ids, "%s%s", ids.len ? ", " : "",
			      km_match_id(p->chosen->match));
	}
	if (ids.len && m->s->slot->count > 1)	/* of one, it has been said */
		km_buf_printf(m->b, "in the plan: %s", ids.text);
	if (km_buf_failed(&ids))
		m->p->failed = true;
	detail(m);
}

/* What lies there and does not go into its place of the pouch; or is not
 * known to. */
static void put_fit(struct maker *m)
{
	for (uint32_t i = 0; i < m->s->n_ways; i++) {
		const struct km_way *w = &m->s->ways[i];
		bool is_there = false;

		for (int32_t n = 0; w->match && w->match->tool && !w->route &&
				    n < m->s->slot->count; n++)
			is_there |= m->s->pieces[n].match &&
				    m->s->pieces[n].match->tool ==
					    w->match->tool;
		if (!is_there || !(w->fit.too_large || w->fit.unmeasured))
			continue;
		km_buf_printf(m->b, "%s ", w->match->tool->id);
		km_buf_str(m->b, w->fit.too_large ? "is " : "");
		km_words_fit(m->b, &w->fit);
		detail(m);
	}
}

static void put_decision(struct maker *m)
{
	const struct km_slot_audit *s = m->s;

	if (!m->p->audit->options.want_money || s->slot->unused)
		return;
	put_ways(m);
	put_fit(m);
	km_put_word(m->t, DECISION, km_decide_word(s->decide), KM_TONE_NONE);
	km_put_int(m->t, CLOSE_CALL, s->close_call);
	if (s->decide == KM_DECIDE_KEEP) {
		put_places(m);
		return;
	}
	km_buf_printf(m->b, "decision: %s", km_decide_word(s->decide));
	if (s->margin >= 0)
		km_put_int(m->t, MARGIN, s->margin);
	if (s->margin > 0) {
		km_buf_str(m->b, ", better by ");
		km_buf_money(m->b, s->margin, m->p->decimals);
	}
	if (s->close_call)
		km_buf_str(m->b, ", close call");
	detail(m);
	put_places(m);
}

static void put_remarks(struct maker *m)
{
	km_put_list(m->t, REMARKS);
	for (uint32_t i = 0; i < m->k->n_remarks; i++) {
		const struct km_remark *r = &m->k->remarks[i];

		if (r->slot != m->s->slot || r->what == KM_REMARK_WEAK)
			continue;
		km_words_remark(m->b, r, m->k->kit, m->p->decimals);
		put_both(m, REMARKS);
	}
}

static void one_slot(struct maker *m)
{
	const struct km_slot *s = m->s->slot;

	km_table_row(m->t);
	km_put_text(m->t, KIT, m->k->kit->id);
	km_put_text(m->t, SLOT, s->id);
	km_put_int(m->t, COUNT, s->count);
	km_put_word(m->t, EXISTS, km_certainty_word(s->exists), KM_TONE_NONE);
	km_put_int(m->t, DEPENDS, m->s->depends);
	put_wanted(m);
	put_verdict(m);
	if (s->unused)
		return;
	put_tools(m);
	put_reason(m);
	put_notes(m);
	put_decision(m);
	put_remarks(m);
}

static void section(struct maker *m)
{
	if (!km_buf_failed(m->b))
		km_table_section(m->t, m->b->text);
	km_buf_clear(m->b);
}

/* A slot that only reading r has; nothing is decided for it. */
static void slot_alone(struct maker *m, const struct km_kit_reading *r,
		       uint32_t i)
{
	const struct km_slot *s = r->slots[i].slot;

	m->s = &r->slots[i];
	km_table_row(m->t);
	km_put_text(m->t, KIT, r->kit->id);
	km_put_text(m->t, SLOT, s->id);
	km_put_int(m->t, COUNT, s->count);
	km_put_word(m->t, EXISTS, km_certainty_word(s->exists), KM_TONE_NONE);
	km_put_int(m->t, DEPENDS, 1);
	put_wanted(m);
	km_put_word(m->t, VERDICT, "doubt", KM_TONE_DIM);
	km_put_word(m->t, WOULD_BE, km_verdict_word(m->s->verdict),
		    KM_TONE_NONE);
	km_words_alone(m->b, m->k, r, i);
	detail(m);
	put_tools(m);
	put_reason(m);
}

static void slots_alone(struct maker *m)
{
	for (uint32_t n = 0; n < m->k->n_readings; n++) {
		const struct km_kit_reading *r = &m->k->readings[n];
		bool begun = false;

		for (uint32_t i = 0; i < r->kit->n_slots; i++) {
			if (!km_reading_alone(m->k, r, i))
				continue;
			if (!begun)
				km_buf_printf(m->b, "%s, which the machine may "
					      "have had instead, also has",
					      r->kit->id);
			if (!begun)
				section(m);
			begun = true;
			slot_alone(m, r, i);
		}
	}
}

/* n / parts without trailing zeros, by the rule for millimetres. */
static void add_decimal(struct km_buf *b, int32_t n, int32_t parts)
{
	km_buf_mm(b, (int64_t)n * (KM_NM_PER_MM / parts), 3);
}

/* The limits that the verdicts rest on; choices, so they can be asked for. */
static void limits_section(struct maker *m)
{
	const struct km_kit_limits *l = &m->k->limits;

	km_buf_printf(m->b, "limits: rust Ri %" PRId32 ", pits %s, plating ",
		      l->rust, l->pits < 1 ? "none"
			       : l->pits < 2 ? "few" : "any");
	add_decimal(m->b, l->plate_left, 100);
	km_buf_str(m->b, " % left, handle colour dE00 up to ");
	add_decimal(m->b, l->colour_pass, 1000);
	km_buf_str(m->b, " passes, up to ");
	add_decimal(m->b, l->colour_note, 1000);
	km_buf_str(m->b, " is noted, a dimension off by ");
	add_decimal(m->b, l->length_usable, 100);
	km_buf_str(m->b, " % will do for use");
	if (!km_buf_failed(m->b))
		km_table_section(m->t, m->b->text);
	km_buf_clear(m->b);
}

static void kit_section(struct maker *m)
{
	const struct km_kit *kit = m->k->kit;

	km_buf_printf(m->b, "%s%s%s, standard %s", kit->id,
		      kit->title ? ": " : "", kit->title ? kit->title : "",
		      km_standard_word(m->k->standard));
	section(m);
	if (m->k->undecided) {
		km_words_which(m->b, m->k);
		section(m);
	}
	if (m->p->o.verbose)
		limits_section(m);
}

/* Of the tools in the places that are not to be used, or not on a nut. */
static uint64_t cautions_of_use(const struct km_audit *a)
{
	uint64_t set = 0;

	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++) {
			const struct km_slot_audit *s = &a->kits[k].slots[i];

			for (int32_t n = 0; s->pieces && n < s->slot->count;
			     n++) {
				const struct km_match *m = s->pieces[n].match;

				if (m && m->tool && (m->fit == KM_UNFIT ||
						     m->wrong_size))
					set |= km_cautions_of_use(m);
			}
		}
	return set;
}

void km_make_slots(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "slots", columns, COLUMNS);
	if (!m.t)
		return;
	for (uint32_t i = 0; i < a->n_kits; i++) {
		m.k = &a->kits[i];
		kit_section(&m);
		for (uint32_t k = 0; k < m.k->kit->n_slots; k++) {
			m.s = &m.k->slots[k];
			one_slot(&m);
		}
		slots_alone(&m);
	}
	km_make_readings(p);
	km_make_reading_slots(p);
	km_make_plan_tables(p);
	km_page_cautions(p, cautions_of_use(a), 0);
}
