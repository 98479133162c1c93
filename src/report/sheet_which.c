/* SPDX-License-Identifier: MIT */
/*
 * which - the kits in order of how well they explain the tools of a machine,
 * and the tools that tell the first ones apart.
 */
#include <inttypes.h>

#include "kitmuster/kits.h"
#include "report/kitwords.h"
#include "report/page.h"
#include "report/words.h"
#include "unit/serial.h"

#define SHOWN_MOST 10		/* [choice] kits of a screen; --verbose: all */

enum {
	SERIAL, MACHINE, GOES_BY, TOOLS, RANK, KIT, EXPLAINS_WORD, EXPLAINED,
	FULL, PARTLY, VARIANT, STRAY, DIFFER, AGREE, PLACES, EMPTY, EMPTY_WORD,
	OUTSIDE_BY, DATE_OUTSIDE, MARKET_OTHER, AGAINST, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[MACHINE] = { "machine", NULL, KM_COL_TEXT, false },
	[GOES_BY] = { "goes_by", NULL, KM_COL_WORD, false },
	[TOOLS] = { "tools", NULL, KM_COL_COUNT, false },
	[RANK] = { "rank", "rank", KM_COL_COUNT, false },
	[KIT] = { "kit", "kit", KM_COL_ID, false },
	[EXPLAINS_WORD] = { NULL, "explains", KM_COL_WORD, false },
	[EXPLAINED] = { "explained", NULL, KM_COL_COUNT, false },
	[FULL] = { "in_full", NULL, KM_COL_COUNT, false },
	[PARTLY] = { "as_far_as_recorded", NULL, KM_COL_COUNT, false },
	[VARIANT] = { "variants", "variants", KM_COL_COUNT, false },
	[STRAY] = { "strays", "strays", KM_COL_COUNT, false },
	[DIFFER] = { "differences", "differences", KM_COL_COUNT, false },
	[AGREE] = { "agreements", NULL, KM_COL_COUNT, false },
	[PLACES] = { "places", NULL, KM_COL_COUNT, false },
	[EMPTY] = { "empty", NULL, KM_COL_COUNT, false },
	[EMPTY_WORD] = { NULL, "empty", KM_COL_WORD, false },
	[OUTSIDE_BY] = { "serial_outside_by", NULL, KM_COL_COUNT, false },
	[DATE_OUTSIDE] = { "date_outside", NULL, KM_COL_FLAG, false },
	[MARKET_OTHER] = { "market_other", NULL, KM_COL_FLAG, false },
	[AGAINST] = { "against_it", "against it", KM_COL_LIST, true },
};

enum { W_SERIAL, W_TOOL, W_KIT, W_SLOT, W_HOW, W_WHAT, W_WHY, W_COLUMNS };

static const struct km_column tool_columns[W_COLUMNS] = {
	[W_SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[W_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[W_KIT] = { "kit", "kit", KM_COL_ID, false },
	[W_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[W_HOW] = { "how", NULL, KM_COL_WORD, false },
	[W_WHAT] = { "is", NULL, KM_COL_TEXT, false },
	[W_WHY] = { "why", "", KM_COL_LIST, false },
};

enum { A_KIT, A_AGAINST, A_COLUMNS };

static const struct km_column against_columns[A_COLUMNS] = {
	[A_KIT] = { NULL, "kit", KM_COL_ID, false },
	[A_AGAINST] = { NULL, "what the machine says against it", KM_COL_LIST,
			false },
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

static const char *by_word(enum km_ranked_by by)
{
	static const char *const word[] = {
		[KM_BY_CAME_WITH] = "came-with", [KM_BY_OWNER] = "owner",
		[KM_BY_BENCH] = "bench",
	};

	return word[by];
}

static uint32_t explained(const struct km_kit_rank *k)
{
	return k->n_full + k->n_partly;
}

static bool ruled_out(const struct km_kit_rank *k)
{
	return k->serial_outside || k->date_outside || k->market_other;
}

/* A sentence across the page, in text only; clears the line. */
static void say(struct km_page *p)
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

/* ------------------------------------------------------------------ */
/* The tools, and the answer                                           */

static void name_machine(struct km_buf *b, const struct km_machine *m)
{
	if (km_serial_recorded(m)) {
		km_buf_str(b, "serial ");
		km_buf_serial_of(b, m);
	} else {
		km_buf_str(b, m->title ? m->title : "the machine");
	}
}

static void on_tools(struct km_page *p, const struct km_ranking *r)
{
	struct km_buf *b = &p->line;
	const char *s = r->n_tools == 1 ? "" : "s";

	switch (r->by) {
	case KM_BY_CAME_WITH:
		km_buf_printf(b, "%" PRIu32 " tool%s came with ", r->n_tools,
			      s);
		name_machine(b, r->machine);
		break;
	case KM_BY_OWNER:
		km_buf_str(b, "no tool is said to have come with ");
		name_machine(b, r->machine);
		km_buf_printf(b, ": all %" PRIu32 " tool%s of its owner (%s) "
			      "count", r->n_tools, s,
			      r->machine->owner ? r->machine->owner : "own");
		break;
	case KM_BY_BENCH:
		km_buf_printf(b, "no machine is recorded: all %" PRIu32
			      " tool%s of the bench count", r->n_tools, s);
		break;
	}
	say(p);
}

static void add_record(struct km_buf *b, const struct km_kit_rank *k)
{
	const char *between = "; but ";

	if (k->serial_outside) {
		km_buf_printf(b, "%sthe serial number", between);
		between = " and ";
	}
	if (k->date_outside) {
		km_buf_printf(b, "%sthe date", between);
		between = " and ";
	}
	if (k->market_other)
		km_buf_printf(b, "%sthe market", between);
	if (ruled_out(k))
		km_buf_printf(b, " of the machine speak%s against it",
			      k->serial_outside + k->date_outside +
			      k->market_other > 1 ? "" : "s");
}

/* "explains 9 of 10 tools, 1 more as a variant; 2 of 11 places are empty" */
static void on_best(struct km_page *p, const struct km_ranking *r)
{
	const struct km_kit_rank *k = &r->kits[0];
	struct km_buf *b = &p->line;
	uint32_t equal = 0;

	while (equal + 1 < r->n_kits && r->kits[equal + 1].rank == k->rank)
		equal++;
	km_buf_printf(b, "%s explains %" PRIu32 " of %" PRIu32 " tools",
		      k->kit->id, explained(k), r->n_tools);
	if (k->n_partly)
		km_buf_printf(b, " (%" PRIu32 " as far as recorded)",
			      k->n_partly);
	if (k->n_variant)
		km_buf_printf(b, ", %" PRIu32 " more as %s", k->n_variant,
			      k->n_variant == 1 ? "a variant" : "variants");
	if (k->n_stray)
		km_buf_printf(b, ", %" PRIu32 " %s", k->n_stray,
			      k->n_stray == 1 ? "is a stray" : "are strays");
	if (k->n_places)
		km_buf_printf(b, "; %" PRIu32 " of %" PRIu32 " places %s empty",
			      k->n_empty, k->n_places,
			      k->n_empty == 1 ? "is" : "are");
	if (equal)
		km_buf_printf(b, "; %" PRIu32 " more %s them as well", equal,
			      equal == 1 ? "kit explains" : "kits explain");
	add_record(b, k);
	say(p);
}

/* Where the record speaks against the best, which is the first it lets stand. */
static void on_first_left(struct km_page *p, const struct km_ranking *r)
{
	const struct km_kit_rank *k = NULL;

	if (!ruled_out(&r->kits[0]))
		return;
	for (uint32_t i = 1; i < r->n_kits && !k; i++)
		if (!ruled_out(&r->kits[i]))
			k = &r->kits[i];
	if (k)
		km_buf_printf(&p->line, "the first that nothing of the machine "
			      "speaks against is %s, rank %" PRIu32
			      ": it explains %" PRIu32 " of %" PRIu32,
			      k->kit->id, k->rank, explained(k), r->n_tools);
	else
		km_buf_str(&p->line, "something of the machine speaks against "
			   "every one of the kits");
	say(p);
}

/* ------------------------------------------------------------------ */
/* The ranking                                                         */

static void put_against(struct km_page *p, struct km_table *t,
			uint32_t column, const struct km_ranking *r,
			const struct km_kit_rank *k)
{
	struct km_buf *b = &p->line;

	km_put_list(t, column);
	if (k->serial_outside) {
		km_buf_str(b, "serial ");
		km_buf_serial_of(b, r->machine);
		km_buf_str(b, " is outside ");
		km_words_serials(b, &k->kit->serials);
		if (k->outside_by)
			km_buf_printf(b, " by %" PRId64, k->outside_by);
		km_put_item(t, column, b);
	}
	if (k->date_outside) {
		km_buf_printf(b, "built %s, the kit is of %s",
			      r->machine->built_text ? r->machine->built_text
						     : "at another time",
			      k->kit->years_text ? k->kit->years_text
						 : "other years");
		km_put_item(t, column, b);
	}
	if (k->market_other) {
		km_buf_printf(b, "market %s, the kit is for %s",
			      r->machine->market, k->kit->market);
		km_put_item(t, column, b);
	}
}

static void put_serial(struct km_page *p, struct km_table *t, uint32_t column,
		       const struct km_ranking *r)
{
	if (r->machine)
		km_buf_serial_of(&p->line, r->machine);
	km_put_buf(t, column, &p->line);
}

static void put_machine(struct km_page *p, struct km_table *t,
			const struct km_ranking *r)
{
	put_serial(p, t, SERIAL, r);
	if (r->machine)
		km_put_text(t, MACHINE, r->machine->title);
	km_put_word(t, GOES_BY, by_word(r->by), KM_TONE_NONE);
	km_put_int(t, TOOLS, r->n_tools);
}

static void put_kit(struct km_page *p, struct km_table *t,
		    const struct km_ranking *r, const struct km_kit_rank *k)
{
	struct km_buf *b = &p->line;

	put_machine(p, t, r);
	km_put_int(t, RANK, k->rank);
	km_put_text(t, KIT, k->kit->id);
	km_buf_printf(b, "%" PRIu32 " of %" PRIu32, explained(k), r->n_tools);
	km_put_buf(t, EXPLAINS_WORD, b);
	km_put_int(t, EXPLAINED, explained(k));
	km_put_int(t, FULL, k->n_full);
	km_put_int(t, PARTLY, k->n_partly);
	km_put_int(t, VARIANT, k->n_variant);
	km_put_int(t, STRAY, k->n_stray);
	km_put_int(t, DIFFER, k->n_differ);
	km_put_int(t, AGREE, k->n_agree);
	km_put_int(t, PLACES, k->n_places);
	km_put_int(t, EMPTY, k->n_empty);
	km_buf_printf(b, "%" PRIu32 " of %" PRIu32, k->n_empty, k->n_places);
	km_put_buf(t, EMPTY_WORD, b);
	if (k->outside_by)
		km_put_int(t, OUTSIDE_BY, k->outside_by);
	km_put_int(t, DATE_OUTSIDE, k->date_outside);
	km_put_int(t, MARKET_OTHER, k->market_other);
	put_against(p, t, AGAINST, r, k);
}

static uint32_t shown_most(const struct km_page *p)
{
	return p->o.verbose || p->o.plain ? UINT32_MAX : SHOWN_MOST;
}

/* What the machine's record says, of the kits that are shown. */
static void on_record(struct km_page *p, const struct km_ranking *r)
{
	struct km_table *t = NULL;

	if (p->o.plain)
		return;
	for (uint32_t i = 0; i < r->n_kits && i < shown_most(p); i++) {
		if (!ruled_out(&r->kits[i]))
			continue;
		if (!t)
			t = km_page_table(p, NULL, against_columns,
					  A_COLUMNS);
		if (!t)
			return;
		t->show = KM_SHOW_TEXT;
		km_table_row(t);
		km_put_text(t, A_KIT, r->kits[i].kit->id);
		put_against(p, t, A_AGAINST, r, &r->kits[i]);
	}
}

static void put_ranking(struct km_page *p, struct km_table *t,
			const struct km_ranking *r)
{
	uint32_t most = shown_most(p);

	for (uint32_t i = 0; t && i < r->n_kits; i++) {
		km_table_row(t);
		put_kit(p, t, r, &r->kits[i]);
		if (i >= most && !t->failed)
			t->last->show = KM_SHOW_DATA;
	}
	if (!t || r->n_kits <= most)
		return;
	km_buf_printf(&p->line, "%" PRIu32 " more kits: --verbose shows them",
		      r->n_kits - most);
	if (!km_buf_failed(&p->line))
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

/* ------------------------------------------------------------------ */
/* The tools under a kit                                               */

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
	put_serial(p, t, W_SERIAL, r);
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
	say(p);
	t = new_tools(p, NULL);
	for (uint32_t i = 0; t && i < r->n_tools; i++)
		if (!is_explained(&k->tools[i]))
			put_tool(p, t, r, k, i, true, p->o.plain);
}

/* Does a tool tell two kits apart? */
static bool decides(const struct km_explained_tool *x,
		    const struct km_explained_tool *y)
{
	return is_explained(x) != is_explained(y) ||
	       (x->how == KM_EXPLAINS_NOT) != (y->how == KM_EXPLAINS_NOT) ||
	       x->n_differ != y->n_differ;
}

static bool any_decides(const struct km_ranking *r, uint32_t k)
{
	for (uint32_t i = 0; i < r->n_tools; i++)
		if (decides(&r->kits[0].tools[i], &r->kits[k].tools[i]))
			return true;
	return false;
}

/* How the order of two kits came about where no tool tells them apart. */
static void on_order(struct km_page *p, const struct km_kit_rank *a,
		     const struct km_kit_rank *b)
{
	struct km_buf *buf = &p->line;

	km_buf_printf(buf, "no tool tells %s from %s: ", a->kit->id,
		      b->kit->id);
	if (a->n_empty != b->n_empty)
		km_buf_printf(buf, "it comes first with fewer empty places "
			      "(%" PRIu32 ", %" PRIu32 "), which is weak "
			      "evidence, since tools get lost", a->n_empty,
			      b->n_empty);
	else if (a->n_agree != b->n_agree)
		km_buf_printf(buf, "it comes first with more that agrees "
			      "(%" PRIu32 ", %" PRIu32 "), which may only "
			      "mean that it says more", a->n_agree,
			      b->n_agree);
	else
		km_buf_str(buf, "they explain the tools equally well");
	say(p);
}

static void what_decides(struct km_page *p, const struct km_ranking *r,
			 uint32_t k)
{
	const struct km_kit_rank *a = &r->kits[0], *b = &r->kits[k];
	struct km_table *t;

	if (!any_decides(r, k)) {
		on_order(p, a, b);
		return;
	}
	km_buf_printf(&p->line, "what tells %s from %s:", a->kit->id,
		      b->kit->id);
	say(p);
	t = new_tools(p, NULL);
	for (uint32_t i = 0; t && i < r->n_tools; i++) {
		if (!decides(&a->tools[i], &b->tools[i]))
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
		put_serial(p, t, E_SERIAL, r);
		km_put_text(t, E_KIT, k->kit->id);
		km_put_text(t, E_SLOT, k->empty[i]->id);
		km_words_of_want(&p->line, k->empty[i], false);
		km_put_buf(t, E_WHAT, &p->line);
	}
}

/* ------------------------------------------------------------------ */
/* The page                                                            */

static void text_of(struct km_page *p, const struct km_ranking *r)
{
	struct km_table *t;

	on_tools(p, r);
	on_best(p, r);
	on_first_left(p, r);
	t = km_page_table(p, NULL, columns, COLUMNS);
	if (t)
		t->show = KM_SHOW_TEXT;
	put_ranking(p, t, r);
	on_record(p, r);
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

static void data_of(struct km_page *p, const struct km_which *w,
		    bool rows_alone)
{
	struct km_table *t = km_page_table(p, "kits", columns, COLUMNS);

	for (uint32_t i = 0; i < w->n; i++)
		put_ranking(p, t, &w->rankings[i]);
	if (rows_alone)
		return;
	t = new_tools(p, "tools");
	for (uint32_t i = 0; t && i < w->n; i++)
		for (uint32_t k = 0; k < w->rankings[i].n_kits &&
				     w->rankings[i].kits[k].tools; k++)
			for (uint32_t j = 0; j < w->rankings[i].n_tools; j++)
				put_tool(p, t, &w->rankings[i],
					 &w->rankings[i].kits[k], j, true,
					 true);
	t = km_page_table(p, "empty", empty_columns, E_COLUMNS);
	for (uint32_t i = 0; t && i < w->n; i++)
		for (uint32_t k = 0; k < w->rankings[i].n_kits; k++)
			put_empty(p, t, &w->rankings[i],
				  &w->rankings[i].kits[k]);
}

void km_make_which(struct km_page *p, const struct km_which *w,
		   enum km_format f)
{
	if (f != KM_FORMAT_TEXT) {
		data_of(p, w, f != KM_FORMAT_JSON);
		return;
	}
	for (uint32_t i = 0; i < w->n; i++)
		text_of(p, &w->rankings[i]);
}
