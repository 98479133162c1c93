/* SPDX-License-Identifier: MIT */
/*
 * packing - pocket by pocket in the order of folding: what goes in, what is
 * out, which pockets stay empty, with boxes to tick and a count at the end.
 * It travels with the kit: no names of people, no prices.
 */
#include "report/page.h"
#include "report/pouch.h"
#include "report/words.h"

#include <inttypes.h>

#include "unit/date.h"

enum { KIT, TICK, POCKET, SLOT, TOOL, STATE, SINCE, DUE, WHAT, LINES,
       COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[TICK] = { NULL, "in", KM_COL_WORD, false },
	[POCKET] = { "pocket", "pocket", KM_COL_COUNT, false },
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[TOOL] = { "tool", "tool", KM_COL_ID, false },
	[STATE] = { "state", "state", KM_COL_WORD, true },
	[SINCE] = { "since", NULL, KM_COL_ID, false },
	[DUE] = { "due", NULL, KM_COL_ID, false },
	[WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[LINES] = { NULL, "what goes in", KM_COL_LIST, false },
};

/* What a line says of its pocket. */
enum state { PACK, LENT, AT_PLATER, ON_ORDER, NOTHING, EMPTY, UNEXPLAINED,
	     STATES };

static const struct { const char *word, *tick; enum km_tone tone; }
states[STATES] = {
	[PACK] = { "pack", "[ ]", KM_TONE_NONE },
	[LENT] = { "lent", "out", KM_TONE_WORK },
	[AT_PLATER] = { "at-plater", "out", KM_TONE_WORK },
	[ON_ORDER] = { "on-order", "out", KM_TONE_WORK },
	[NOTHING] = { "nothing-there", "--", KM_TONE_OPEN },
	[EMPTY] = { "empty-on-this-model", "", KM_TONE_DIM },
	[UNEXPLAINED] = { "unexplained", "?", KM_TONE_OPEN },
};

struct maker {
	struct km_page *p;
	struct km_table *t, *totals;
	struct km_buf *b;
	const struct km_kit_audit *k;
	uint32_t n[STATES];		/* lines */
};

static void line(struct maker *m)
{
	km_put_item(m->t, LINES, m->b);
}

static enum state state_of(const struct km_piece *x)
{
	if (!x->match || !x->match->tool)
		return NOTHING;
	if (x->expected)
		return ON_ORDER;
	switch (x->match->tool->status) {
	case KM_LENT:
		return LENT;
	case KM_AT_PLATER:
		return AT_PLATER;
	default:
		return PACK;
	}
}

static void row(struct maker *m, enum state st, int32_t pocket)
{
	m->n[st]++;
	km_table_row(m->t);
	km_put_text(m->t, KIT, m->k->kit->id);
	km_put_word(m->t, TICK, states[st].tick, states[st].tone);
	km_put_word(m->t, STATE, states[st].word, states[st].tone);
	if (pocket)
		km_put_int(m->t, POCKET, pocket);
}

/* "OUT, lent since 2026-03-03, due 2026-05-01" */
static void put_out(struct maker *m, enum state st, const struct km_tool *t)
{
	static const char *const word[STATES] = {
		[LENT] = "OUT, lent", [AT_PLATER] = "OUT, at the plater",
		[ON_ORDER] = "OUT, on order",
	};
	const struct km_tool_more *more = t->more;

	if (!word[st])
		return;
	km_buf_str(m->b, word[st]);
	km_words_since(m->b, t);
	line(m);
	if (!more)
		return;
	km_buf_date(m->b, more->since);
	km_put_buf(m->t, SINCE, m->b);
	km_buf_date(m->b, more->due);
	km_put_buf(m->t, DUE, m->b);
}

static void put_verdict(struct maker *m, const struct km_match *x)
{
	if (x->verdict == KM_RIGHT)
		return;
	km_buf_printf(m->b, "%s: ",
		      x->verdict == KM_SUBSTITUTE ? "stands in"
		      : x->verdict == KM_AFTER_WORK ? "needs work"
						    : "not verified");
	km_reason(m->b, x);
	line(m);
}

static void put_fit(struct maker *m, const struct km_pouch_piece *f)
{
	bool length = f && f->length.fits == KM_FITS_NOT;

	if (!f || f->fits != KM_FITS_NOT)
		return;
	km_buf_str(m->b, "does not go in: ");
	km_words_room(m->b, length ? &f->length : &f->girth,
		      length ? "too long" : "too wide",
		      length ? "length" : "half girth");
	line(m);
}

/* One place of a slot; f NULL: it is in no pouch. */
static void put_piece(struct maker *m, const struct km_slot_audit *s,
		      uint32_t piece, int32_t pocket,
		      const struct km_pouch_piece *f)
{
	const struct km_piece *x = &s->pieces[piece];
	enum state st = state_of(x);
	const struct km_tool *t = st == NOTHING ? NULL : x->match->tool;

	row(m, st, pocket);
	km_put_text(m->t, SLOT, s->slot->id);
	if (!t) {
		km_words_of_slot(m->b, s->slot, false);
		km_put_text(m->t, WHAT, m->b->text);
		km_buf_str(m->b, ": nothing there");
		line(m);
		return;
	}
	km_put_text(m->t, TOOL, t->id);
	km_words_of_traits(m->b, &t->traits);
	km_put_text(m->t, WHAT, m->b->len ? m->b->text : NULL);
	line(m);
	put_out(m, st, t);
	if (!x->expected)
		put_verdict(m, x->match);
	if (st == PACK)
		put_fit(m, f);
}

/* A piece of the pouch stands for a piece of a slot of the kit. */
static void put_packed(struct maker *m, const struct km_pouch_piece *f,
		       int32_t pocket)
{
	put_piece(m, &m->k->slots[f->slot->index], f->piece, pocket, f);
	if (f->placed)
		km_buf_str(m->b, "pocket chosen by fit");
	line(m);
}

static void put_blank(struct maker *m, const struct km_pocket *x)
{
	bool unused = x->state == KM_POCKET_UNUSED;

	row(m, unused ? EMPTY : UNEXPLAINED, x->number);
	if (unused && x->slot)
		km_put_text(m->t, SLOT, x->slot->id);
	km_buf_str(m->b, unused ? "empty on this model"
				: "unexplained: no slot speaks of it");
	line(m);
}

static void by_pocket(struct maker *m, const struct km_pouch_audit *p)
{
	for (uint32_t i = 0; i < p->n_pockets; i++) {
		const struct km_pocket *x = &p->pockets[i];
		bool any = false;

		for (uint32_t n = 0; n < p->n_pieces; n++) {
			if (p->pieces[n].pocket != x->number)
				continue;
			put_packed(m, &p->pieces[n], x->number);
			any = true;
		}
		if (!any)
			put_blank(m, x);
	}
}

static void no_pocket(struct maker *m, bool *begun)
{
	if (!*begun)
		km_table_section(m->t, "in no pocket");
	*begun = true;
}

/* What has no pocket, and what the pouch does not ask for: itself, and what
 * is used up. */
static void without_pocket(struct maker *m, const struct km_pouch_audit *p)
{
	uint32_t n_slots = m->k->kit->n_slots;
	bool *asked = km_arena_alloc(m->p->mem, n_slots, sizeof *asked);
	bool begun = !p->n_pockets;

	if (!asked) {
		m->p->failed = true;
		return;
	}
	for (uint32_t n = 0; n < p->n_pieces; n++) {
		asked[p->pieces[n].slot->index] = true;
		if (p->pieces[n].pocket)
			continue;
		no_pocket(m, &begun);
		put_packed(m, &p->pieces[n], 0);
	}
	for (uint32_t i = 0; i < n_slots; i++) {
		const struct km_slot_audit *s = &m->k->slots[i];

		if (asked[i] || s->slot->unused || !s->pieces)
			continue;
		no_pocket(m, &begun);
		for (int32_t n = 0; n < s->slot->count; n++)
			put_piece(m, s, (uint32_t)n, 0, NULL);
	}
}

static void by_slot(struct maker *m)
{
	for (uint32_t i = 0; i < m->k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &m->k->slots[i];

		if (s->slot->unused || !s->pieces)
			continue;
		for (int32_t n = 0; n < s->slot->count; n++)
			put_piece(m, s, (uint32_t)n, s->slot->pocket, NULL);
	}
}

enum { T_KIT, T_PACK, T_OUT, T_NOTHING, T_EMPTY, T_UNEXPLAINED, T_COLUMNS };

static const struct km_column total_columns[T_COLUMNS] = {
	[T_KIT] = { "kit", NULL, KM_COL_ID, false },
	[T_PACK] = { "to_pack", NULL, KM_COL_COUNT, false },
	[T_OUT] = { "out", NULL, KM_COL_COUNT, false },
	[T_NOTHING] = { "nothing_there", NULL, KM_COL_COUNT, false },
	[T_EMPTY] = { "empty_pockets", NULL, KM_COL_COUNT, false },
	[T_UNEXPLAINED] = { "unexplained_pockets", NULL, KM_COL_COUNT, false },
};

/* "to pack 9, out 1, nothing there for 1; packed ____ of 9" */
static void put_count(struct maker *m)
{
	uint32_t out = m->n[LENT] + m->n[AT_PLATER] + m->n[ON_ORDER];

	km_buf_printf(m->b, "to pack %" PRIu32 ", out %" PRIu32
		      ", nothing there for %" PRIu32, m->n[PACK], out,
		      m->n[NOTHING]);
	if (m->n[EMPTY])
		km_buf_printf(m->b, ", %" PRIu32 " pocket%s empty on this "
			      "model", m->n[EMPTY],
			      m->n[EMPTY] == 1 ? "" : "s");
	if (m->n[UNEXPLAINED])
		km_buf_printf(m->b, ", %" PRIu32 " unexplained",
			      m->n[UNEXPLAINED]);
	km_put_section(m->t, m->b);
	km_buf_printf(m->b, "packed ____ of %" PRIu32 "   ________ ____",
		      m->n[PACK]);
	km_put_section(m->t, m->b);
	km_table_row(m->totals);
	km_put_text(m->totals, T_KIT, m->k->kit->id);
	km_put_int(m->totals, T_PACK, m->n[PACK]);
	km_put_int(m->totals, T_OUT, out);
	km_put_int(m->totals, T_NOTHING, m->n[NOTHING]);
	km_put_int(m->totals, T_EMPTY, m->n[EMPTY]);
	km_put_int(m->totals, T_UNEXPLAINED, m->n[UNEXPLAINED]);
}

static void one_kit(struct maker *m)
{
	const struct km_kit *kit = m->k->kit;

	for (int i = 0; i < STATES; i++)
		m->n[i] = 0;
	km_buf_printf(m->b, "%s%s%s", kit->id, kit->title ? ": " : "",
		      kit->title ? kit->title : "");
	km_put_section(m->t, m->b);
	if (m->k->pouch) {
		by_pocket(m, m->k->pouch);
		without_pocket(m, m->k->pouch);
	} else {
		by_slot(m);
	}
	put_count(m);
}

void km_make_packing(struct km_page *p)
{
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "lines", columns, COLUMNS);
	m.totals = km_page_table(p, "totals", total_columns, T_COLUMNS);
	if (!m.t || !m.totals)
		return;
	m.totals->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < p->audit->n_kits; i++) {
		m.k = &p->audit->kits[i];
		one_kit(&m);
	}
}
