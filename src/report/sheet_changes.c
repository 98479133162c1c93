/* SPDX-License-Identifier: MIT */
/*
 * changes - what turned between two audits.
 */
#include "kitmuster/changes.h"

#include <inttypes.h>

#include "report/page.h"
#include "unit/money.h"

enum { KIT, SLOT, WHAT, WAS, IS, COST_WAS, COST_IS, WHY, LINES, SHARED,
       SHARED_MORE, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, false },
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[WHAT] = { "what", NULL, KM_COL_WORD, false },
	[WAS] = { "was", "was", KM_COL_ID, false },
	[IS] = { "is", "is", KM_COL_ID, false },
	[COST_WAS] = { "cost_was", "cost was", KM_COL_MONEY, false },
	[COST_IS] = { "cost_is", "cost is", KM_COL_MONEY, false },
	[WHY] = { "why", NULL, KM_COL_LIST, false },
	[LINES] = { NULL, "why", KM_COL_LIST, false },
	[SHARED] = { "same_in", NULL, KM_COL_LIST, false },
	[SHARED_MORE] = { "same_in_more", NULL, KM_COL_COUNT, false },
};

enum { O_TOOL, O_KIT, O_SLOT, O_WHY, O_COLUMNS };

static const struct km_column order_columns[O_COLUMNS] = {
	[O_TOOL] = { "tool", "cancel", KM_COL_ID, false },
	[O_KIT] = { "kit", "kit", KM_COL_ID, false },
	[O_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[O_WHY] = { "why", "why", KM_COL_WORD, false },
};

enum { F_KIT, F_FIGURE, F_WAS, F_IS, F_COLUMNS };

static const struct km_column figure_columns[F_COLUMNS] = {
	[F_KIT] = { "kit", "kit", KM_COL_ID, false },
	[F_FIGURE] = { "figure", "figure", KM_COL_ID, false },
	[F_WAS] = { "was", "was", KM_COL_ID, false },
	[F_IS] = { "is", "is", KM_COL_ID, false },
};

enum { T_WAS, T_IS, T_COLUMNS };

static const struct km_column total_columns[T_COLUMNS] = {
	[T_WAS] = { "total_was", NULL, KM_COL_MONEY, false },
	[T_IS] = { "total_is", NULL, KM_COL_MONEY, false },
};

static const char *what_word(enum km_change_what w)
{
	static const char *const word[] = {
		[KM_CHANGE_TURNED] = "turned", [KM_CHANGE_TOOLS] = "tools",
		[KM_CHANGE_REASON] = "reason",
		[KM_CHANGE_DECISION] = "decision", [KM_CHANGE_COST] = "cost",
		[KM_CHANGE_WANTED] = "wanted", [KM_CHANGE_CAME] = "new-slot",
		[KM_CHANGE_WENT] = "slot-gone",
	};

	return word[w];
}

/* What other kits share of what has changed. */
static void put_shared(struct km_page *p, struct km_table *t,
		       const struct km_slot_change *s)
{
	km_put_list(t, SHARED);
	for (uint32_t i = 0; i < s->n_shared; i++) {
		km_buf_str(&p->line, s->shared[i]);
		km_put_item(t, SHARED, &p->line);
	}
	if (!s->n_shared)
		return;
	km_put_int(t, SHARED_MORE, s->n_shared_more);
	km_buf_str(&p->line, s->is && !s->was ? "asked for as well by "
					      : "as it was, asked for by ");
	for (uint32_t i = 0; i < s->n_shared; i++)
		km_buf_printf(&p->line, "%s%s", i ? ", " : "", s->shared[i]);
	if (s->n_shared_more)
		km_buf_printf(&p->line, " and %" PRIu32 " more",
			      s->n_shared_more);
	km_buf_str(&p->line, ": look there too");
	km_put_item(t, LINES, &p->line);
}

static void slots(struct km_page *p, const struct km_changes *c)
{
	struct km_table *t = km_page_table(p, "changes", columns, COLUMNS);

	for (uint32_t i = 0; t && i < c->n_slots; i++) {
		const struct km_slot_change *s = &c->slots[i];

		km_table_row(t);
		km_put_text(t, KIT, s->kit);
		km_put_text(t, SLOT, s->slot);
		km_put_word(t, WHAT, what_word(s->what), KM_TONE_NONE);
		km_put_text(t, WAS, s->was);
		km_put_text(t, IS, s->is);
		if (s->cost_was >= 0)
			km_put_int(t, COST_WAS, s->cost_was);
		if (s->cost_is >= 0)
			km_put_int(t, COST_IS, s->cost_is);
		km_put_list(t, WHY);
		for (uint32_t k = 0; k < s->n_why; k++) {
			km_buf_str(&p->line, s->why[k]);
			km_put_item(t, WHY, &p->line);
			km_buf_str(&p->line, s->why[k]);
			km_put_item(t, LINES, &p->line);
		}
		put_shared(p, t, s);
	}
}

static void orders(struct km_page *p, const struct km_changes *c)
{
	struct km_table *t = km_page_table(p, "orders_to_cancel",
					   order_columns, O_COLUMNS);

	for (uint32_t i = 0; t && i < c->n_orders; i++) {
		const struct km_order_change *o = &c->orders[i];

		km_table_row(t);
		km_put_text(t, O_TOOL, o->tool);
		km_put_text(t, O_KIT, o->kit);
		km_put_text(t, O_SLOT, o->slot);
		km_put_word(t, O_WHY, o->gone ? "the slot is gone"
					      : "the slot is right without it",
			    KM_TONE_NONE);
	}
	if (t && !c->n_orders)
		t->show = KM_SHOW_DATA;
}

static void figures(struct km_page *p, const struct km_changes *c)
{
	struct km_table *t = km_page_table(p, "figures", figure_columns,
					   F_COLUMNS);

	for (uint32_t i = 0; t && i < c->n_figures; i++) {
		const struct km_figure_change *f = &c->figures[i];

		km_table_row(t);
		km_put_text(t, F_KIT, f->kit);
		km_put_text(t, F_FIGURE, f->figure);
		km_put_text(t, F_WAS, f->was);
		km_put_text(t, F_IS, f->is);
	}
	if (t && !c->n_figures)
		t->show = KM_SHOW_DATA;
}

/* "to finish 139.50, was 148.50: 9.00 less, GBP" */
static void word_totals(struct km_page *p, const struct km_changes *c)
{
	struct km_buf *b = &p->line;
	bool more = c->total_is > c->total_was;

	km_buf_str(b, "to finish ");
	km_buf_money(b, c->total_is, c->decimals);
	if (c->total_is == c->total_was) {
		km_buf_str(b, ", as before");
	} else {
		km_buf_str(b, ", was ");
		km_buf_money(b, c->total_was, c->decimals);
		km_buf_str(b, ": ");
		km_buf_money(b, more ? c->total_is - c->total_was
				     : c->total_was - c->total_is,
			     c->decimals);
		km_buf_str(b, more ? " more" : " less");
	}
	km_buf_printf(b, ", %s", c->currency);
}

static void totals(struct km_page *p, const struct km_changes *c)
{
	struct km_table *t = km_page_table(p, "totals", total_columns,
					   T_COLUMNS);

	if (!t)
		return;
	if (c->same)
		km_table_section(t, "nothing has changed");
	if (!c->totals) {
		if (!c->same)
			t->show = KM_SHOW_DATA;
		return;
	}
	word_totals(p, c);
	if (!km_buf_failed(&p->line) && !c->same)
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
	km_table_row(t);
	if (!t->failed)
		t->last->show = KM_SHOW_DATA;
	km_put_int(t, T_WAS, c->total_was);
	km_put_int(t, T_IS, c->total_is);
}

/* Where there is room for one table, it is the one that says something. */
void km_make_changes(struct km_page *p, const struct km_changes *c,
		     bool rows_alone)
{
	if (rows_alone && c->n_figures) {
		figures(p, c);
		return;
	}
	slots(p, c);
	if (rows_alone)
		return;
	orders(p, c);
	figures(p, c);
	totals(p, c);
}
