/* SPDX-License-Identifier: MIT */
/*
 * which - the kits in order of how well they explain the tools of a machine.
 */
#include <inttypes.h>

#include "report/kitwords.h"
#include "report/which.h"
#include "unit/serial.h"

#define SHOWN_MOST 10		/* [choice] kits of a screen; --verbose: all */

enum {
	SERIAL, MACHINE, GOES_BY, TOOLS, RANK, KIT, EXPLAINS_WORD, EXPLAINED,
	FULL, PARTLY, VARIANT, STRAY, DIFFER, AGREE, PLACES, EMPTY, EMPTY_WORD,
	OUTSIDE_BY, DATE_OUTSIDE, MARKET_OTHER, AGAINST, APART,
	COLUMNS
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
	[APART] = { "told_from_first_by", NULL, KM_COL_WORD, false },
};

enum { A_KIT, A_AGAINST, A_COLUMNS };

static const struct km_column against_columns[A_COLUMNS] = {
	[A_KIT] = { NULL, "kit", KM_COL_ID, false },
	[A_AGAINST] = { NULL, "what the machine says against it", KM_COL_LIST,
			false },
};

static const char *by_word(enum km_ranked_by by)
{
	static const char *const word[] = {
		[KM_BY_CAME_WITH] = "came-with", [KM_BY_OWNER] = "owner",
		[KM_BY_BENCH] = "bench",
	};

	return word[by];
}

static const char *apart_word(enum km_told_apart by)
{
	static const char *const word[] = {
		[KM_APART_NOT_ASKED] = NULL, [KM_APART_TOOLS] = "tools",
		[KM_APART_EMPTY] = "empty-places",
		[KM_APART_AGREE] = "agreements",
		[KM_APART_NOTHING] = "nothing",
	};

	return word[by];
}

static bool ruled_out(const struct km_kit_rank *k)
{
	return k->serial_outside || k->date_outside || k->market_other;
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
	km_which_say(p);
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
		      k->kit->id, k->n_explained, r->n_tools);
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
		km_buf_printf(b, "; %" PRIu32 " more %s them equally well", equal,
			      equal == 1 ? "kit explains" : "kits explain");
	add_record(b, k);
	km_which_say(p);
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
			      k->kit->id, k->rank, k->n_explained, r->n_tools);
	else
		km_buf_str(&p->line, "something of the machine speaks against "
			   "every one of the kits");
	km_which_say(p);
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

static void put_machine(struct km_page *p, struct km_table *t,
			const struct km_ranking *r)
{
	km_which_serial(p, t, SERIAL, r);
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
	km_buf_printf(b, "%" PRIu32 " of %" PRIu32, k->n_explained, r->n_tools);
	km_put_buf(t, EXPLAINS_WORD, b);
	km_put_int(t, EXPLAINED, k->n_explained);
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
	if (k->apart != KM_APART_NOT_ASKED)
		km_put_word(t, APART, apart_word(k->apart), KM_TONE_NONE);
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
	km_which_text(p, r);
}

void km_make_which(struct km_page *p, const struct km_which *w,
		   enum km_format f)
{
	struct km_table *t;

	if (f == KM_FORMAT_TEXT) {
		for (uint32_t i = 0; i < w->n; i++)
			text_of(p, &w->rankings[i]);
		return;
	}
	t = km_page_table(p, "kits", columns, COLUMNS);
	for (uint32_t i = 0; i < w->n; i++)
		put_ranking(p, t, &w->rankings[i]);
	if (f == KM_FORMAT_JSON)
		km_which_data(p, w);
}
