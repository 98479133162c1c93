/* SPDX-License-Identifier: MIT */
/*
 * which - the tools of a machine under its first kits, and what tells these
 * apart.
 */
#include "report/which.h"

#include <inttypes.h>

#include "report/words.h"
#include "unit/serial.h"

enum { W_SERIAL, W_TOOL, W_KIT, W_SLOT, W_HOW, W_WHAT, W_WHY,
       W_DECIDES, W_COLUMNS };

static const struct km_column tool_columns[W_COLUMNS] = {
	[W_SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[W_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[W_KIT] = { "kit", "kit", KM_COL_ID, false },
	[W_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[W_HOW] = { "how", NULL, KM_COL_WORD, false },
	[W_WHAT] = { "is", NULL, KM_COL_TEXT, false },
	[W_WHY] = { "why", "", KM_COL_LIST, false },
	[W_DECIDES] = { "tells_from_first", NULL, KM_COL_FLAG, false },
};

enum { E_SERIAL, E_KIT, E_SLOT, E_WHAT, E_COLUMNS };

static const struct km_column empty_columns[E_COLUMNS] = {
	[E_SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[E_KIT] = { "kit", "empty in", KM_COL_ID, false },
	[E_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[E_WHAT] = { "wants", "tool", KM_COL_TEXT, false },
};

static const char *how_word(enum km_explained how)
{
	static const char *const word[] = {
		[KM_EXPLAINS] = "explained",
		[KM_EXPLAINS_PARTLY] = "as-far-as-recorded",
		[KM_EXPLAINS_AS_VARIANT] = "variant",
		[KM_EXPLAINS_NOT] = "stray",
	};

	return word[how];
}

void km_which_say(struct km_page *p)
{
	static const struct km_column nothing = { NULL, NULL, KM_COL_TEXT,
						  false };
	struct km_table *t = km_page_table(p, NULL, &nothing, 1);

	if (!t)
		return;
	t->show = KM_SHOW_TEXT;
	if (!km_buf_failed(&p->line))
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

void km_which_serial(struct km_page *p, struct km_table *t, uint32_t column,
		     const struct km_ranking *r)
{
	if (r->machine)
		km_buf_serial_of(&p->line, r->machine);
	km_put_buf(t, column, &p->line);
}

/* What the tool is, for the reader; then one text a reason: what differs, else
 * what is not recorded. */
static void put_reasons(struct km_page *p, struct km_table *t,
			const struct km_explained_tool *x,
			const struct km_tool *tool)
{
	enum km_letter letter = x->how == KM_EXPLAINS_AS_VARIANT
					? KM_FAILS : KM_NOT_KNOWN;

	km_put_list(t, W_WHY);
	if (tool)
		km_words_of_traits(&p->line, &tool->traits);
	km_put_item(t, W_WHY, &p->line);
	if (x->how == KM_EXPLAINS)
		km_buf_str(&p->line, "all that is recorded agrees");
	if (x->how == KM_EXPLAINS_NOT)
		km_buf_str(&p->line, "a stray: no place for it");
	km_put_item(t, W_WHY, &p->line);
	if (!x->match || x->how == KM_EXPLAINS)
		return;
	for (int a = KM_ASP_SIZES; a <= KM_ASP_HANDLE_COLOUR; a++) {
		if (x->match->on[a].letter != letter)
			continue;
		km_reason_of(&p->line, x->match, (enum km_aspect)a);
		km_put_item(t, W_WHY, &p->line);
	}
}

static void put_tool(struct km_page *p, struct km_table *t,
		     const struct km_ranking *r, const struct km_kit_rank *k,
		     uint32_t i, bool name, bool of)
{
	const struct km_explained_tool *x = &k->tools[i];

	km_table_row(t);
	km_which_serial(p, t, W_SERIAL, r);
	if (name)
		km_put_text(t, W_TOOL, r->tools[i]->id);
	if (of)
		km_put_text(t, W_KIT, k->kit->id);
	km_put_text(t, W_SLOT, x->slot ? x->slot->id : NULL);
	km_put_word(t, W_HOW, how_word(x->how), KM_TONE_NONE);
	km_words_of_traits(&p->line, &r->tools[i]->traits);
	km_put_buf(t, W_WHAT, &p->line);
	put_reasons(p, t, x, t->key || p->o.plain || !name ? NULL
							   : r->tools[i]);
	km_put_int(t, W_DECIDES, x->decides);
}

static bool is_explained(const struct km_explained_tool *x)
{
	return x->how <= KM_EXPLAINS_PARTLY;
}

static struct km_table *new_tools(struct km_page *p, const char *key)
{
	struct km_table *t = km_page_table(p, key, tool_columns, W_COLUMNS);

	if (t)
		t->show = key ? KM_SHOW_DATA : KM_SHOW_TEXT;
	return t;
}

/* The tools that the best kit does not explain. */
static void not_explained(struct km_page *p, const struct km_ranking *r)
{
	const struct km_kit_rank *k = &r->kits[0];
	struct km_table *t;

	if (!k->n_variant && !k->n_stray)
		return;
	km_buf_printf(&p->line, "%s does not explain:", k->kit->id);
	km_which_say(p);
	t = new_tools(p, NULL);
	for (uint32_t i = 0; t && i < r->n_tools; i++)
		if (!is_explained(&k->tools[i]))
			put_tool(p, t, r, k, i, true, p->o.plain);
}

/* How the order of two kits came about where no tool tells them apart. */
static void on_order(struct km_page *p, const struct km_kit_rank *a,
		     const struct km_kit_rank *b)
{
	struct km_buf *buf = &p->line;

	km_buf_printf(buf, "no tool tells %s from %s: ", a->kit->id,
		      b->kit->id);
	if (b->apart == KM_APART_EMPTY)
		km_buf_printf(buf, "it comes first with fewer empty places "
			      "(%" PRIu32 ", %" PRIu32 "), which is weak "
			      "evidence, since tools get lost", a->n_empty,
			      b->n_empty);
	else if (b->apart == KM_APART_AGREE)
		km_buf_printf(buf, "it comes first with more that agrees "
			      "(%" PRIu32 ", %" PRIu32 "), which may only "
			      "mean that it says more", a->n_agree,
			      b->n_agree);
	else
		km_buf_str(buf, "they explain the tools equally well");
	km_which_say(p);
}

static void what_decides(struct km_page *p, const struct km_ranking *r,
			 uint32_t k)
{
	const struct km_kit_rank *a = &r->kits[0], *b = &r->kits[k];
	struct km_table *t;

	if (b->apart != KM_APART_TOOLS) {
		on_order(p, a, b);
		return;
	}
	km_buf_printf(&p->line, "what tells %s from %s:", a->kit->id,
		      b->kit->id);
	km_which_say(p);
	t = new_tools(p, NULL);
	for (uint32_t i = 0; t && i < r->n_tools; i++) {
		if (!b->tools[i].decides)
			continue;
		put_tool(p, t, r, a, i, true, true);
		put_tool(p, t, r, b, i, p->o.plain, true);
	}
}

static void put_empty(struct km_page *p, struct km_table *t,
		      const struct km_ranking *r, const struct km_kit_rank *k)
{
	for (uint32_t i = 0; t && i < k->n_empty_slots; i++) {
		km_table_row(t);
		km_which_serial(p, t, E_SERIAL, r);
		km_put_text(t, E_KIT, k->kit->id);
		km_put_text(t, E_SLOT, k->empty[i]->id);
		km_words_of_want(&p->line, k->empty[i], false);
		km_put_buf(t, E_WHAT, &p->line);
	}
}

void km_which_text(struct km_page *p, const struct km_ranking *r)
{
	struct km_table *t;

	not_explained(p, r);
	for (uint32_t k = 1; k < r->n_kits && k < KM_RANKS_IN_FULL; k++)
		what_decides(p, r, k);
	if (!r->kits[0].n_empty_slots)
		return;
	t = km_page_table(p, NULL, empty_columns, E_COLUMNS);
	if (t)
		t->show = KM_SHOW_TEXT;
	put_empty(p, t, r, &r->kits[0]);
}

static void data_of_kit(struct km_page *p, struct km_table *t,
			const struct km_ranking *r,
			const struct km_kit_rank *k)
{
	for (uint32_t i = 0; i < r->n_tools && k->tools; i++)
		put_tool(p, t, r, k, i, true, true);
}

void km_which_data(struct km_page *p, const struct km_which *w)
{
	struct km_table *t = new_tools(p, "tools");

	for (uint32_t i = 0; t && i < w->n; i++)
		for (uint32_t k = 0; k < w->rankings[i].n_kits; k++)
			data_of_kit(p, t, &w->rankings[i],
				    &w->rankings[i].kits[k]);
	t = km_page_table(p, "empty", empty_columns, E_COLUMNS);
	for (uint32_t i = 0; t && i < w->n; i++)
		for (uint32_t k = 0; k < w->rankings[i].n_kits; k++)
			put_empty(p, t, &w->rankings[i],
				  &w->rankings[i].kits[k]);
}
