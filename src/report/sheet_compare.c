/* SPDX-License-Identifier: MIT */
/*
 * compare - kits beside the first of them: only what differs.
 */
#include <inttypes.h>

#include "report/compare.h"
#include "report/kitwords.h"

enum { L_KIT, L_SLOT, L_TOOL, L_COLUMNS };

static const struct km_column lone_columns[L_COLUMNS] = {
	[L_KIT] = { NULL, "only in", KM_COL_ID, false },
	[L_SLOT] = { NULL, "slot", KM_COL_ID, false },
	[L_TOOL] = { NULL, "tool", KM_COL_TEXT, false },
};

enum { K_KIT, K_TITLE, K_SERIALS, K_YEARS, K_MARKET, K_OF, K_SLOTS, K_SAME,
       K_DIFFER, K_ONLY_FIRST, K_ONLY_HERE, K_COST, K_COLUMNS };

static const struct km_column kit_columns[K_COLUMNS] = {
	[K_KIT] = { "kit", "kit", KM_COL_ID, false },
	[K_TITLE] = { "title", NULL, KM_COL_TEXT, false },
	[K_SERIALS] = { "serials", NULL, KM_COL_TEXT, false },
	[K_YEARS] = { "years", NULL, KM_COL_TEXT, false },
	[K_MARKET] = { "market", NULL, KM_COL_TEXT, false },
	[K_OF] = { NULL, "of", KM_COL_LIST, false },
	[K_SLOTS] = { "slots", NULL, KM_COL_COUNT, false },
	[K_SAME] = { "same", NULL, KM_COL_COUNT, false },
	[K_DIFFER] = { "differ", NULL, KM_COL_COUNT, false },
	[K_ONLY_FIRST] = { "only_in_first", NULL, KM_COL_COUNT, false },
	[K_ONLY_HERE] = { "only_here", NULL, KM_COL_COUNT, false },
	[K_COST] = { "unlike", NULL, KM_COL_HUNDREDTHS, false },
};

/* "; 1 slot differs" */
static void add_count(struct km_buf *b, uint32_t n, const char *one,
		      const char *many, const char *of)
{
	if (n)
		km_buf_printf(b, "; %" PRIu32 " %s%s", n,
			      n == 1 ? one : many, of);
}

static void sentence(struct km_page *p, const struct km_kit_pair *pair)
{
	static const struct km_column nothing = { NULL, NULL, KM_COL_TEXT,
						  false };
	const struct km_alignment *of = &pair->of;
	struct km_table *t = km_page_table(p, NULL, &nothing, 1);
	struct km_buf *b = &p->line;

	if (!t)
		return;
	t->show = KM_SHOW_TEXT;
	km_buf_printf(b, "%s beside %s: ", of->b->id, of->a->id);
	if (pair->same) {
		km_buf_str(b, "nothing differs");
	} else {
		km_buf_printf(b, "%" PRIu32 " %s the same", of->n_same,
			      of->n_same == 1 ? "slot is" : "slots are");
		add_count(b, of->n_differ, "differs", "differ", "");
		add_count(b, of->n_only_a, "is only in ", "are only in ",
			  of->a->id);
		add_count(b, of->n_only_b, "is only in ", "are only in ",
			  of->b->id);
	}
	if (!km_buf_failed(b))
		km_table_section(t, b->text);
	km_buf_clear(b);
}

/* The slots that one kit has alone. */
static void lone_slots(struct km_page *p, const struct km_alignment *of)
{
	struct km_table *t = km_page_table(p, NULL, lone_columns, L_COLUMNS);

	if (!t)
		return;
	t->show = KM_SHOW_TEXT;
	for (uint32_t i = 0; i < of->n; i++) {
		const struct km_slot *a = of->pairs[i].a, *b = of->pairs[i].b;

		if (a && b)
			continue;
		km_table_row(t);
		km_put_text(t, L_KIT, (a ? of->a : of->b)->id);
		km_put_text(t, L_SLOT, (a ? a : b)->id);
		km_put_text(t, L_TOOL, km_compare_lone(p, a ? a : b));
	}
}

static void text_of_pair(struct km_page *p, const struct km_kit_pair *pair)
{
	sentence(p, pair);
	if (pair->of.n_differ || pair->whole)
		km_compare_text(p, pair);
	if (pair->of.n_only_a || pair->of.n_only_b)
		lone_slots(p, &pair->of);
}

static void kit_words(struct km_page *p, struct km_table *t,
		      const struct km_kit *k)
{
	struct km_buf *b = &p->line;

	km_put_text(t, K_KIT, k->id);
	km_put_text(t, K_TITLE, k->title);
	km_words_serials(b, &k->serials);
	km_put_buf(t, K_SERIALS, b);
	km_put_text(t, K_YEARS, k->years_text);
	km_put_text(t, K_MARKET, k->market);
	km_put_int(t, K_SLOTS, k->n_slots);
	if (k->title)
		km_buf_str(b, k->title);
	km_put_item(t, K_OF, b);
	km_buf_printf(b, "%" PRIu32 " slot%s", k->n_slots,
		      k->n_slots == 1 ? "" : "s");
	if (k->serials.given) {
		km_buf_str(b, "; serials ");
		km_words_serials(b, &k->serials);
	}
	if (k->years_text)
		km_buf_printf(b, "; years %s", k->years_text);
	if (k->market)
		km_buf_printf(b, "; market %s", k->market);
	km_put_item(t, K_OF, b);
}

static void kits(struct km_page *p, const struct km_side_by_side *s)
{
	struct km_table *t = km_page_table(p, "kits", kit_columns,
					   K_COLUMNS);

	if (!t)
		return;
	km_table_row(t);
	kit_words(p, t, s->first);
	for (uint32_t i = 0; i < s->n; i++) {
		const struct km_alignment *of = &s->pairs[i].of;

		km_table_row(t);
		kit_words(p, t, of->b);
		km_put_int(t, K_SAME, of->n_same);
		km_put_int(t, K_DIFFER, of->n_differ);
		km_put_int(t, K_ONLY_FIRST, of->n_only_a);
		km_put_int(t, K_ONLY_HERE, of->n_only_b);
		km_put_int(t, K_COST, of->cost);
	}
}

void km_make_compare(struct km_page *p, const struct km_side_by_side *s,
		     enum km_format f)
{
	if (f != KM_FORMAT_CSV && f != KM_FORMAT_TSV)
		kits(p, s);
	if (f != KM_FORMAT_TEXT) {
		km_compare_data(p, s);
		return;
	}
	for (uint32_t i = 0; i < s->n; i++)
		text_of_pair(p, &s->pairs[i]);
}
