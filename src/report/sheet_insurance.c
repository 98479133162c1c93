/* SPDX-License-Identifier: MIT */
/*
 * insurance - each tool of a kit as an insurer asks for it: number, what it
 * is, marks, condition, photographs, the price paid, what it would cost to
 * replace and when that was said.  The totals are sums of the lines; what is
 * used up has none.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "unit/date.h"

enum { KIT, TOOL, SLOT, PAID, VALUE, DATED, OLD, WHAT, MARK, CONDITION,
       PHOTOS, LINES, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[TOOL] = { "tool", "number", KM_COL_ID, false },
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[PAID] = { "paid", "paid", KM_COL_MONEY, false },
	[VALUE] = { "value", "value", KM_COL_MONEY, false },
	[DATED] = { "value_dated", "valued", KM_COL_ID, false },
	[OLD] = { "value_old", NULL, KM_COL_FLAG, false },
	[WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[MARK] = { "marks", NULL, KM_COL_TEXT, false },
	[CONDITION] = { "condition", NULL, KM_COL_TEXT, false },
	[PHOTOS] = { "photos", NULL, KM_COL_LIST, false },
	[LINES] = { NULL, "what it is, marks, condition, photo",
		    KM_COL_LIST, false },
};

struct maker {
	struct km_page *p;
	struct km_table *t, *totals;
	struct km_buf *b;
};

static void line(struct maker *m)
{
	km_put_item(m->t, LINES, m->b);
}

/* The text in b as a cell and as a line. */
static void put_both(struct maker *m, uint32_t column)
{
	if (!km_buf_failed(m->b) && m->b->len)
		km_put_text(m->t, column, m->b->text);
	line(m);
}

static void put_mark(struct maker *m, const struct km_traits *t)
{
	const union km_value *v = km_trait(t, KM_A_MARK);
	uint32_t bit = (uint32_t)1 << KM_A_MARK;

	if (v)
		km_put_text(m->t, MARK, v->text);
	else if ((t->none | t->unread) & bit)
		km_put_text(m->t, MARK, t->none & bit ? "none" : "illegible");
	if (v)
		km_buf_printf(m->b, "mark %s", v->text);
	else
		km_buf_str(m->b, t->none & bit ? "unmarked"
				 : t->unread & bit ? "mark illegible"
						   : "mark not recorded");
	line(m);
}

static void put_condition(struct maker *m, const struct km_tool *t)
{
	if (t->condition)
		km_words_condition(m->b, t->condition);
	if (m->b->len) {
		put_both(m, CONDITION);
		return;
	}
	km_buf_str(m->b, "condition not recorded");
	line(m);
}

static void put_photos(struct maker *m, const struct km_tool_more *more)
{
	struct km_buf all;

	km_buf_init(&all, m->p->mem);
	km_put_list(m->t, PHOTOS);
	for (uint32_t i = 0; more && i < more->n_photos; i++) {
		km_buf_printf(&all, "%s%s", i ? ", " : "photo ",
			      more->photos[i]);
		km_buf_str(m->b, more->photos[i]);
		km_put_item(m->t, PHOTOS, m->b);
	}
	if (!all.len)
		km_buf_str(&all, "NO PHOTO");
	km_put_item(m->t, LINES, &all);
}

static void put_value(struct maker *m, const struct km_tool *t)
{
	const struct km_audit *a = m->p->audit;
	const struct km_tool_more *more = t->more;
	bool old;

	if (more && more->paid.minor >= 0)
		km_put_int(m->t, PAID, more->paid.minor);
	if (!more || more->value.minor < 0) {
		km_buf_str(m->b, "NO VALUE");
		line(m);
		return;
	}
	km_put_int(m->t, VALUE, more->value.minor);
	if (!more->value_dated.year) {
		km_buf_str(m->b, "value without a date");
		line(m);
		return;
	}
	km_buf_date(m->b, more->value_dated);
	km_put_buf(m->t, DATED, m->b);
	if (!a->options.today.year)
		return;
	old = km_value_is_old(a, t);
	km_put_int(m->t, OLD, old);
	if (old)
		km_buf_str(m->b, "valued more than 24 months ago");
	line(m);
}

static void put_tool(struct maker *m, const struct km_slot *slot,
		     const struct km_tool *t)
{
	km_table_row(m->t);
	km_put_text(m->t, KIT, slot->kit ? slot->kit->id : NULL);
	km_put_text(m->t, TOOL, t->id);
	km_put_text(m->t, SLOT, slot->id);
	km_words_of_traits(m->b, &t->traits);
	put_both(m, WHAT);
	put_mark(m, &t->traits);
	put_condition(m, t);
	put_photos(m, t->more);
	put_value(m, t);
}

/* ------------------------------------------------------------------ */
/* Totals                                                              */

enum { T_KIT, T_TOOLS, T_PHOTOS, T_PAID_FOR, T_PAID, T_VALUED, T_VALUE, T_OLD,
       T_COLUMNS };

static const struct km_column total_columns[T_COLUMNS] = {
	[T_KIT] = { "kit", NULL, KM_COL_ID, false },
	[T_TOOLS] = { "tools", NULL, KM_COL_COUNT, false },
	[T_PHOTOS] = { "with_photo", NULL, KM_COL_COUNT, false },
	[T_PAID_FOR] = { "with_price_paid", NULL, KM_COL_COUNT, false },
	[T_PAID] = { "paid", NULL, KM_COL_MONEY, false },
	[T_VALUED] = { "valued", NULL, KM_COL_COUNT, false },
	[T_VALUE] = { "value", NULL, KM_COL_MONEY, false },
	[T_OLD] = { "value_old", NULL, KM_COL_COUNT, false },
};

static void total_data(struct maker *m, const struct km_worth *w,
		       const char *kit)
{
	km_table_row(m->totals);
	km_put_text(m->totals, T_KIT, kit);
	km_put_int(m->totals, T_TOOLS, w->tools);
	km_put_int(m->totals, T_PHOTOS, w->photographed);
	km_put_int(m->totals, T_PAID_FOR, w->paid_for);
	km_put_int(m->totals, T_PAID, w->paid);
	km_put_int(m->totals, T_VALUED, w->valued);
	km_put_int(m->totals, T_VALUE, w->value);
	if (m->p->audit->options.today.year)
		km_put_int(m->totals, T_OLD, w->old);
}

/* A row of the list that a reader can add up to, and what is wanting. */
static void total_row(struct maker *m, const struct km_worth *w,
		      const char *word)
{
	km_table_row(m->t);
	if (m->t->failed)
		return;
	m->t->last->show = KM_SHOW_TEXT;
	km_put_text(m->t, TOOL, word);
	if (w->paid_for)
		km_put_int(m->t, PAID, w->paid);
	if (w->valued)
		km_put_int(m->t, VALUE, w->value);
	km_buf_printf(m->b, "%" PRIu32 " of %" PRIu32 " valued, %" PRIu32
		      " with a price paid", w->valued, w->tools, w->paid_for);
	line(m);
	if (w->photographed < w->tools)
		km_buf_printf(m->b, "%" PRIu32 " without a photo",
			      w->tools - w->photographed);
	line(m);
	if (w->old)
		km_buf_printf(m->b, "%" PRIu32 " valued more than 24 months "
			      "ago", w->old);
	line(m);
}

static void one_kit(struct maker *m, const struct km_kit_audit *k)
{
	km_buf_printf(m->b, "%s%s%s", k->kit->id, k->kit->title ? ": " : "",
		      k->kit->title ? k->kit->title : "");
	if (m->p->currency)
		km_buf_printf(m->b, ", in %s", m->p->currency);
	km_put_section(m->t, m->b);
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!s->slot->durable)
			continue;
		for (int32_t n = 0; s->pieces && n < s->slot->count; n++) {
			const struct km_piece *x = &s->pieces[n];

			if (x->match && x->match->tool && !x->expected)
				put_tool(m, s->slot, x->match->tool);
		}
	}
	total_row(m, &k->worth, "total");
	total_data(m, &k->worth, k->kit->id);
}

/* The sheet is of what the kits have: an owner reads what it leaves out. */
static void not_listed(struct maker *m)
{
	const struct km_audit *a = m->p->audit;
	uint64_t listed = 0;

	for (uint32_t i = 0; i < a->n_kits; i++)
		listed += a->kits[i].worth.tools;
	if (a->tools <= listed)
		return;
	km_buf_printf(m->b, "%" PRIu64 " of the %" PRIu64 " tools of the bench "
		      "%s not on this sheet", a->tools - listed, a->tools,
		      a->tools - listed == 1 ? "is" : "are");
	km_put_section(m->t, m->b);
}

void km_make_insurance(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "tools", columns, COLUMNS);
	m.totals = km_page_table(p, "totals", total_columns, T_COLUMNS);
	if (!m.t || !m.totals)
		return;
	m.totals->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < a->n_kits; i++)
		one_kit(&m, &a->kits[i]);
	if (a->n_kits > 1) {
		km_table_section(m.t, "all kits");
		total_row(&m, &a->worth, "total");
	}
	not_listed(&m);
}
