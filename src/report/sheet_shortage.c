/* SPDX-License-Identifier: MIT */
/*
 * shortage - the open lines of each kit, and room to tick them off.  What
 * stands in or still needs work is not had: a substitute completes nothing.
 * This sheet leaves the house: it names no owner of a machine or a tool.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "unit/date.h"

enum {
	KIT, SLOT, PART, POCKET, WANTED, HAVE, SHORT, ORDER_REF, ORDER_DUE,
	ORDERED, FIRST, SECOND, DESCRIPTION, NOTES, LINES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[PART] = { "part", "part", KM_COL_ID, false },
	[POCKET] = { "pocket", "pocket", KM_COL_COUNT, false },
	[WANTED] = { "wanted", "wanted", KM_COL_COUNT, false },
	[HAVE] = { "have", "have", KM_COL_COUNT, false },
	[SHORT] = { "short", "short", KM_COL_COUNT, false },
	[ORDER_REF] = { "on_order", NULL, KM_COL_LIST, false },
	[ORDER_DUE] = { "due", NULL, KM_COL_LIST, false },
	[ORDERED] = { "pieces_on_order", NULL, KM_COL_COUNT, false },
	[FIRST] = { NULL, "date  initials", KM_COL_WORD, false },
	[SECOND] = { NULL, "date  initials", KM_COL_WORD, false },
	[DESCRIPTION] = { "description", NULL, KM_COL_TEXT, false },
	[NOTES] = { "there_instead", NULL, KM_COL_LIST, false },
	[LINES] = { NULL, "description, what is on order", KM_COL_LIST,
		    false },
};

#define BLANK "________ ____"

struct maker {
	struct km_page *p;
	struct km_table *t;
	struct km_buf *b;
};

static void line(struct maker *m)
{
	km_put_item(m->t, LINES, m->b);
}

/* Pieces that are right, on order or not, by kind of answer. */
static int32_t have(const struct km_slot_audit *s)
{
	int32_t n = 0;

	for (int32_t i = 0; s->pieces && i < s->slot->count; i++)
		n += s->pieces[i].match && !s->pieces[i].expected &&
		     s->pieces[i].match->verdict == KM_RIGHT;
	return n;
}

static void put_orders(struct maker *m, const struct km_slot_audit *s)
{
	int32_t n = 0;

	km_put_list(m->t, ORDER_REF);
	km_put_list(m->t, ORDER_DUE);
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_tool *t = s->pieces[i].match
						  ? s->pieces[i].match->tool
						  : NULL;

		if (!s->pieces[i].expected || !t)
			continue;
		n++;
		km_buf_str(m->b, t->id);
		km_put_item(m->t, ORDER_REF, m->b);
		km_buf_printf(m->b, "on order: %s", t->id);
		if (t->more && t->more->due.year) {
			km_buf_str(m->b, ", due ");
			km_buf_date(m->b, t->more->due);
		}
		line(m);
		if (t->more)
			km_buf_date(m->b, t->more->due);
		km_put_item(m->t, ORDER_DUE, m->b);
	}
	km_put_int(m->t, ORDERED, n);
}

/* What lies in the place and is not right. */
static void put_instead(struct maker *m, const struct km_slot_audit *s)
{
	km_put_list(m->t, NOTES);
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_match *x = s->pieces[i].match;
		struct km_buf copy;

		if (!x || s->pieces[i].expected || x->verdict == KM_RIGHT)
			continue;
		km_buf_printf(m->b, "%s %s: ", km_match_id(x),
			      x->verdict == KM_SUBSTITUTE ? "stands in"
			      : x->verdict == KM_AFTER_WORK ? "needs work"
							    : "is unverified");
		km_reason(m->b, x);
		km_buf_init(&copy, m->p->mem);
		km_buf_add(&copy, m->b->text, m->b->len);
		km_put_item(m->t, LINES, &copy);
		km_put_item(m->t, NOTES, m->b);
	}
}

static void open_line(struct maker *m, const struct km_slot_audit *s,
		      int32_t n_have)
{
	const struct km_slot *slot = s->slot;

	km_table_row(m->t);
	km_put_text(m->t, KIT, slot->kit ? slot->kit->id : NULL);
	km_put_text(m->t, SLOT, slot->id);
	km_words_wanted(m->b, &slot->want[KM_A_PART], KM_A_PART);
	km_put_buf(m->t, PART, m->b);
	if (slot->pocket)
		km_put_int(m->t, POCKET, slot->pocket);
	km_put_int(m->t, WANTED, slot->count);
	km_put_int(m->t, HAVE, n_have);
	km_put_int(m->t, SHORT, slot->count - n_have);
	km_put_word(m->t, FIRST, BLANK, KM_TONE_NONE);
	km_put_word(m->t, SECOND, BLANK, KM_TONE_NONE);
	km_words_of_want(m->b, slot, true);
	km_put_text(m->t, DESCRIPTION, m->b->len ? m->b->text : NULL);
	if (!slot->durable)
		km_buf_str(m->b, " (consumable)");
	line(m);
	put_orders(m, s);
	put_instead(m, s);
}

/* Slots whose existence is in doubt are only named. */
static void in_doubt(struct maker *m, const struct km_kit_audit *k)
{
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!s->firm && !s->slot->unused &&
		    have(s) < s->slot->count)
			km_buf_printf(m->b, "%s%s", m->b->len ? ", " :
				      "in doubt, and so not listed: ",
				      s->slot->id);
	}
	for (uint32_t n = 0; n < k->n_readings; n++)
		for (uint32_t i = 0; i < k->readings[n].kit->n_slots; i++) {
			const struct km_slot_audit *s =
				&k->readings[n].slots[i];

			if (!km_reading_alone(k, &k->readings[n], i) ||
			    have(s) >= s->slot->count)
				continue;
			km_buf_str(m->b, m->b->len ? ", " :
				   "in doubt, and so not listed: ");
			km_words_slot_ref(m->b, s->slot, k->kit);
		}
	km_put_section(m->t, m->b);
}

void km_make_shortage(struct km_page *p)
{
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "lines", columns, COLUMNS);
	if (!m.t)
		return;
	for (uint32_t i = 0; i < p->audit->n_kits; i++) {
		const struct km_kit_audit *k = &p->audit->kits[i];
		uint32_t n = 0;

		km_buf_printf(m.b, "kit %s", k->kit->id);
		if (k->counts.firm)
			km_buf_printf(m.b, ", %" PRId32 " of %" PRId32
				      " firm slots complete",
				      k->counts.on_paper, k->counts.firm);
		km_put_section(m.t, m.b);
		for (uint32_t s = 0; s < k->kit->n_slots; s++) {
			const struct km_slot_audit *a = &k->slots[s];
			int32_t there = have(a);

			if (!a->firm || a->slot->unused ||
			    there >= a->slot->count)
				continue;
			open_line(&m, a, there);
			n++;
		}
		if (!n)
			km_table_section(m.t, "no open line");
		in_doubt(&m, k);
	}
}
