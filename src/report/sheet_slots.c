/* SPDX-License-Identifier: MIT */
/*
 * slots - one row a slot: what is wanted, what is there, why it is not right,
 * what to do about it.
 */
#include "report/cautions.h"
#include "report/slots.h"
#include "report/words.h"

#include <inttypes.h>
#include <string.h>

#include "trade/process.h"
#include "unit/length.h"

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
	[RESTORE_OWN_LOW] = { "restore_own_time_low", NULL, KM_COL_MONEY, false },
	[RESTORE_OWN] = { "restore_own_time_likely", NULL, KM_COL_MONEY, false },
	[RESTORE_OWN_HIGH] = { "restore_own_time_high", NULL, KM_COL_MONEY, false },
	[STEPS] = { "restore_steps", NULL, KM_COL_LIST, false },
	[BUY_LOW] = { "buy_low", NULL, KM_COL_MONEY, false },
	[BUY_LIKELY] = { "buy_likely", NULL, KM_COL_MONEY, false },
	[BUY_HIGH] = { "buy_high", NULL, KM_COL_MONEY, false },
	[BUY_OWN_LOW] = { "buy_own_time_low", NULL, KM_COL_MONEY, false },
	[BUY_OWN] = { "buy_own_time_likely", NULL, KM_COL_MONEY, false },
	[BUY_OWN_HIGH] = { "buy_own_time_high", NULL, KM_COL_MONEY, false },
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

/* The text so far, in the data column and among the details; cleared. */
static void put_both(struct km_slots *m, uint32_t column)
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

/* ------------------------------------------------------------------ */
/* What is wanted, what is there                                       */

/* " (disputed: against 1, for 1)" */
static void add_doubt(struct km_slots *m, const struct km_slot *s)
{
	km_buf_printf(m->b, " (%s", km_certainty_word(s->exists));
	if (s->evidence) {
		km_buf_str(m->b, ": ");
		km_words_evidence(m->b, s->evidence);
	}
	km_buf_char(m->b, ')');
}

static void put_wanted(struct km_slots *m)
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
	km_slots_detail(m);
}

static void put_tools(struct km_slots *m)
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
	km_slots_detail(m);
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

/* What another reading wants there, if it can be told from what is wanted. */
static void put_wanted_by(struct km_slots *m, const struct km_slot_audit *s)
{
	struct km_buf ours, theirs;

	km_buf_init(&ours, m->p->mem);
	km_buf_init(&theirs, m->p->mem);
	km_words_of_want(&ours, m->s->slot, false);
	km_words_of_want(&theirs, s->slot, false);
	if (km_buf_failed(&ours) || km_buf_failed(&theirs)) {
		m->p->failed = true;
		return;
	}
	if (!theirs.len || (ours.len && !strcmp(ours.text, theirs.text)))
		return;
	km_words_slot_ref(m->b, s->slot, m->k->kit);
	km_buf_printf(m->b, " wants %s", theirs.text);
	km_slots_detail(m);
}

/* A slot that is not the same in every kit that the machine may have left
 * with: what it comes to, and what it is, in each. */
static void put_depends(struct km_slots *m)
{
	km_put_word(m->t, WOULD_BE, km_verdict_word(m->s->verdict),
		    KM_TONE_NONE);
	km_buf_printf(m->b, "depends on the %s: ",
		      m->k->undecided == KM_UNDECIDED_MARKET ? "market"
							     : "kit");
	km_words_depends(m->b, m->k, m->s);
	km_slots_detail(m);
	for (uint32_t n = 1; n < m->k->n_readings; n++) {
		const struct km_slot_audit *s = km_reading_slot(
			&m->k->readings[n], m->s->slot->index);

		if (s && s->depends)
			put_wanted_by(m, s);
	}
}

static void put_verdict(struct km_slots *m)
{
	const struct km_slot_audit *s = m->s;

	km_put_word(m->t, VERDICT, km_slot_verdict_word(s), km_slot_tone(s));
	if (s->slot->unused) {
		km_buf_str(m->b, "empty by design");
		km_slots_detail(m);
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
	km_slots_detail(m);
}

/* ------------------------------------------------------------------ */
/* Why not                                                             */

static void put_reason(struct km_slots *m)
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

static void put_notes(struct km_slots *m)
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
		km_slots_detail(m);
	}
}

static void put_remarks(struct km_slots *m)
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

static void one_slot(struct km_slots *m)
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
	km_slots_decision(m);
	put_remarks(m);
}

/* A slot that only reading r has; nothing is decided for it. */
static void slot_alone(struct km_slots *m, const struct km_kit_reading *r,
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
	km_slots_detail(m);
	put_tools(m);
	put_reason(m);
}

static void slots_alone(struct km_slots *m)
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
				km_put_section(m->t, m->b);
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
static void limits_section(struct km_slots *m)
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
	km_put_section(m->t, m->b);
}

static void kit_section(struct km_slots *m)
{
	const struct km_kit *kit = m->k->kit;

	km_buf_printf(m->b, "%s%s%s, standard %s", kit->id,
		      kit->title ? ": " : "", kit->title ? kit->title : "",
		      km_standard_word(m->k->standard));
	km_put_section(m->t, m->b);
	if (m->k->undecided) {
		km_words_which(m->b, m->k);
		km_put_section(m->t, m->b);
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
	struct km_slots m = { .p = p, .b = &p->line };

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
