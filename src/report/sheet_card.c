/* SPDX-License-Identifier: MIT */
/*
 * card - what stands beside the kit on the day: what came with the machine,
 * what is from elsewhere, what is a copy, what only stands in and why.  To be
 * read in seconds on half a page; no prices, no names of people.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "trade/kind.h"
#include "unit/serial.h"

enum { KIT, WHAT, PIECES, WHICH, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[WHAT] = { "what", "of the tools", KM_COL_WORD, false },
	[PIECES] = { "pieces", "no.", KM_COL_COUNT, false },
	[WHICH] = { "which", "which", KM_COL_LIST, false },
};

static const struct { const char *word; enum km_tone tone; }
origins[KM_ORIGINS] = {
	[KM_ORIGIN_MACHINE] = { "came with the machine", KM_TONE_GOOD },
	[KM_ORIGIN_ELSEWHERE] = { "from elsewhere", KM_TONE_GOOD },
	[KM_ORIGIN_UNRECORDED] = { "origin not recorded", KM_TONE_NONE },
	[KM_ORIGIN_REPRODUCTION] = { "reproduction", KM_TONE_WORK },
	[KM_ORIGIN_UNPROVED] = { "not verified", KM_TONE_WORK },
	[KM_ORIGIN_STANDS_IN] = { "stands in", KM_TONE_OPEN },
	[KM_ORIGIN_OPEN] = { "missing", KM_TONE_OPEN },
};

struct maker {
	struct km_page *p;
	struct km_table *t, *cards;
	struct km_buf *b;
	const struct km_kit_audit *k;
	const struct km_slot_audit **slots;	/* of it, by name and id */
};

static void item(struct maker *m)
{
	km_put_item(m->t, WHICH, m->b);
}

static bool counts(const struct km_slot_audit *s)
{
	return !s->slot->unused && s->slot->durable && s->pieces;
}

/* Why what belongs here is not to be seen today; NULL: it is, or there is
 * nothing that could be. */
static const char *away(const struct km_piece *p)
{
	const struct km_tool *t = p->match ? p->match->tool : NULL;

	if (p->expected)
		return "on order";
	if (t && t->status == KM_LENT)
		return "lent";
	return t && t->status == KM_AT_PLATER ? "at the plater" : NULL;
}

/* What is away is told by itself, whatever it came with. */
static bool is_of(const struct km_slot_audit *s, int32_t i, enum km_origin o)
{
	return !away(&s->pieces[i]) && km_piece_origin(s, i) == o;
}

static int32_t pieces_of(const struct km_slot_audit *s, enum km_origin o)
{
	int32_t n = 0;

	for (int32_t i = 0; s->firm && counts(s) && i < s->slot->count; i++)
		n += is_of(s, i, o);
	return n;
}

static int32_t shown(const struct maker *m, enum km_origin o)
{
	int32_t n = 0;

	for (uint32_t i = 0; i < m->k->kit->n_slots; i++)
		n += pieces_of(&m->k->slots[i], o);
	return n;
}

static int32_t away_pieces(const struct km_slot_audit *s)
{
	int32_t n = 0;

	for (int32_t i = 0; s->firm && counts(s) && i < s->slot->count; i++)
		n += away(&s->pieces[i]) != NULL;
	return n;
}

static int32_t count_away(const struct maker *m)
{
	int32_t n = 0;

	for (uint32_t i = 0; i < m->k->kit->n_slots; i++)
		n += away_pieces(&m->k->slots[i]);
	return n;
}

/* What a stranger calls a slot: the kind of its tool, or its title. */
static const char *name_of(const struct km_slot_audit *s)
{
	const struct km_want *w = &s->slot->want[KM_A_TOOL];

	if (w->state == KM_WANT_ANY_OF && w->n)
		return w->any[0].kind->name;
	return s->slot->title ? s->slot->title : s->slot->id;
}

static int by_name(const void *a, const void *b)
{
	const struct km_slot_audit *const *x = a, *const *y = b;
	int order = strcmp(name_of(*x), name_of(*y));

	return order ? order : km_natural_compare((*x)->slot->id,
						  (*y)->slot->id);
}

/* A reader looks for a tool by its name, not by its number in a list. */
static void sort_slots(struct maker *m)
{
	uint32_t n = m->k->kit->n_slots;

	m->slots = km_arena_alloc(m->p->mem, n, sizeof(*m->slots));
	if (!m->slots) {
		m->p->failed = true;
		return;
	}
	for (uint32_t i = 0; i < n; i++)
		m->slots[i] = &m->k->slots[i];
	qsort(m->slots, n, sizeof(*m->slots), by_name);
}

/* "double open-ended spanner (3), screwdriver" */
static void by_kind(struct maker *m, enum km_origin o)
{
	uint32_t n = m->k->kit->n_slots, end;
	const char *before = "";

	for (uint32_t i = 0; i < n; i = end) {
		const char *name = name_of(m->slots[i]);
		int32_t pieces = 0;

		for (end = i; end < n && !strcmp(name_of(m->slots[end]), name);
		     end++)
			pieces += pieces_of(m->slots[end], o);
		if (!pieces)
			continue;
		km_buf_printf(m->b, "%s%s", before, name);
		if (pieces > 1)
			km_buf_printf(m->b, " (%" PRId32 ")", pieces);
		before = ", ";
	}
	item(m);
}

/* What is to be done about it is no matter of the card. */
static size_t without_advice(const char *why)
{
	const char *end = strstr(why, ": ");

	return end ? (size_t)(end - why) : strlen(why);
}

/* "combination pliers: length +13 mm, 10 over tolerance" */
static void one_fault(struct maker *m, const struct km_slot_audit *s,
		      const struct km_match *x)
{
	struct km_buf why;

	km_buf_init(&why, m->p->mem);
	if (x->headline != KM_ASP_MADE)
		km_reason(&why, x);
	km_buf_str(m->b, name_of(s));
	if (why.len) {
		km_buf_str(m->b, ": ");
		km_buf_add(m->b, why.text,
			   x->verdict == KM_UNVERIFIED
				   ? without_advice(why.text) : why.len);
	}
	m->p->failed |= km_buf_failed(&why);
	item(m);
}

static void each(struct maker *m, enum km_origin o)
{
	for (uint32_t i = 0; i < m->k->kit->n_slots; i++) {
		const struct km_slot_audit *s = m->slots[i];

		if (!s->firm || !counts(s))
			continue;
		for (int32_t n = 0; n < s->slot->count; n++)
			if (is_of(s, n, o))
				one_fault(m, s, s->pieces[n].match);
	}
}

static void row(struct maker *m, const char *word, enum km_tone tone,
		int32_t n)
{
	km_table_row(m->t);
	km_put_text(m->t, KIT, m->k->kit->id);
	km_put_word(m->t, WHAT, word, tone);
	km_put_int(m->t, PIECES, n);
	km_put_list(m->t, WHICH);
}

/* What is right only once it has been worked on is not hidden. */
static void needs_work(struct maker *m)
{
	int32_t n = 0;

	for (int pass = 0; pass < 2; pass++) {
		if (pass && !n)
			return;
		if (pass)
			row(m, "of which need work", KM_TONE_WORK, n);
		for (uint32_t i = 0; i < m->k->kit->n_slots; i++) {
			const struct km_slot_audit *s = m->slots[i];

			if (!s->firm || !counts(s))
				continue;
			for (int32_t k = 0; k < s->slot->count; k++) {
				const struct km_piece *x = &s->pieces[k];

				if (!x->match || away(x) ||
				    x->match->verdict != KM_AFTER_WORK)
					continue;
				if (pass)
					one_fault(m, s, x->match);
				else
					n++;
			}
		}
	}
}

/* What belongs to the kit and is not beside it: "plug spanner, lent" */
static void on_away(struct maker *m)
{
	int32_t n = count_away(m);

	if (!n)
		return;
	row(m, "away", KM_TONE_WORK, n);
	for (uint32_t i = 0; i < m->k->kit->n_slots; i++) {
		const struct km_slot_audit *s = m->slots[i];

		if (!away_pieces(s))
			continue;
		for (int32_t k = 0; k < s->slot->count; k++) {
			if (!away(&s->pieces[k]))
				continue;
			km_buf_printf(m->b, "%s, %s", name_of(s),
				      away(&s->pieces[k]));
			item(m);
		}
	}
}

/* Has a kit that the machine may have left with no such place? */
static bool absent_from_one(const struct maker *m,
			    const struct km_slot_audit *s)
{
	for (uint32_t i = 0; i < m->k->n_readings; i++) {
		const struct km_slot_audit *there =
			km_reading_slot(&m->k->readings[i], s->slot->index);

		if (!there || there->slot->unused)
			return true;
	}
	return false;
}

/* ", shown", or why what is there of it cannot be. */
static const char *seen(const struct km_slot_audit *s)
{
	const char *why = NULL;
	bool any = false;

	for (int32_t i = 0; i < s->slot->count; i++) {
		if (!away(&s->pieces[i]))
			any |= s->pieces[i].match != NULL;
		else if (!why)
			why = away(&s->pieces[i]);
	}
	return any ? "shown" : why ? why : "not shown";
}

/* Tools of which it is not certain that they belonged. */
static void in_doubt(struct maker *m)
{
	static const char *const belonged[] = {
		[KM_CERTAIN] = "belonged", [KM_PROBABLE] = "probably belonged",
		[KM_POSSIBLE] = "possibly belonged",
		[KM_DISPUTED] = "disputed whether it belonged",
		[KM_CONJECTURE] = "a conjecture that it belonged",
		[KM_UNKNOWN] = "not known whether it belonged",
	};

	if (!m->k->counts.doubtful)
		return;
	row(m, "in doubt", KM_TONE_DIM, m->k->counts.doubtful);
	for (uint32_t i = 0; i < m->k->kit->n_slots; i++) {
		const struct km_slot_audit *s = m->slots[i];

		if (s->firm || !counts(s))
			continue;
		km_buf_printf(m->b, "%s: ", name_of(s));
		if (s->depends)
			km_buf_printf(m->b, "not %s every kit that the machine "
				      "may have had", absent_from_one(m, s)
				      ? "in" : "the same in");
		else
			km_buf_str(m->b, belonged[s->slot->exists]);
		km_buf_printf(m->b, ", %s", seen(s));
		item(m);
	}
}

/* ------------------------------------------------------------------ */
/* The head of the card                                                */

static void put_sum(struct maker *m)
{
	const struct km_counts *c = &m->k->counts;

	if (!c->firm) {
		km_table_section(m->t, "no firm slot to measure against");
		return;
	}
	km_buf_printf(m->b, "%" PRId32 " of %" PRId32 " slots right today, "
		      "standard %s", c->today, c->firm,
		      km_standard_word(m->k->standard));
	km_put_section(m->t, m->b);
}

static void head(struct maker *m)
{
	const struct km_kit *kit = m->k->kit;
	const struct km_machine *x = m->k->machine;

	km_buf_str(m->b, kit->title ? kit->title : kit->id);
	km_put_section(m->t, m->b);
	if (x && km_serial_recorded(x)) {
		km_buf_str(m->b, "machine no. ");
		km_buf_serial_of(m->b, x);
	}
	if (x && x->built_text)
		km_buf_printf(m->b, "%sbuilt %s", m->b->len ? ", " : "machine ",
			      x->built_text);
	if (kit->years_text)
		km_buf_printf(m->b, "%skit of %s", m->b->len ? "; " : "",
			      kit->years_text);
	if (kit->revision >= 0)
		km_buf_printf(m->b, "%slist revision %" PRId32,
			      m->b->len ? ", " : "", kit->revision);
	km_put_section(m->t, m->b);
	put_sum(m);
}

enum { C_KIT, C_TITLE, C_REVISION, C_YEARS, C_SERIAL, C_BUILT, C_STANDARD,
       C_FIRM, C_RIGHT, C_DOUBTFUL, C_AWAY, C_FIRST,
       C_COLUMNS = C_FIRST + KM_ORIGINS };

static const struct km_column card_columns[C_COLUMNS] = {
	[C_KIT] = { "kit", NULL, KM_COL_ID, false },
	[C_TITLE] = { "title", NULL, KM_COL_TEXT, false },
	[C_REVISION] = { "revision", NULL, KM_COL_COUNT, false },
	[C_YEARS] = { "years", NULL, KM_COL_TEXT, false },
	[C_SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[C_BUILT] = { "built", NULL, KM_COL_TEXT, false },
	[C_STANDARD] = { "standard", NULL, KM_COL_WORD, false },
	[C_FIRM] = { "firm_slots", NULL, KM_COL_COUNT, false },
	[C_RIGHT] = { "right_slots", NULL, KM_COL_COUNT, false },
	[C_DOUBTFUL] = { "doubtful_slots", NULL, KM_COL_COUNT, false },
	[C_AWAY] = { "away", NULL, KM_COL_COUNT, false },
	[C_FIRST + KM_ORIGIN_MACHINE] = { "came_with_it", NULL, KM_COL_COUNT,
					  false },
	[C_FIRST + KM_ORIGIN_ELSEWHERE] = { "from_elsewhere", NULL,
					    KM_COL_COUNT, false },
	[C_FIRST + KM_ORIGIN_UNRECORDED] = { "origin_not_recorded", NULL,
					     KM_COL_COUNT, false },
	[C_FIRST + KM_ORIGIN_REPRODUCTION] = { "reproductions", NULL,
					       KM_COL_COUNT, false },
	[C_FIRST + KM_ORIGIN_UNPROVED] = { "not_verified", NULL, KM_COL_COUNT,
					   false },
	[C_FIRST + KM_ORIGIN_STANDS_IN] = { "standing_in", NULL, KM_COL_COUNT,
					    false },
	[C_FIRST + KM_ORIGIN_OPEN] = { "missing", NULL, KM_COL_COUNT, false },
};

static void put_data(struct maker *m)
{
	const struct km_kit *kit = m->k->kit;
	const struct km_machine *x = m->k->machine;
	struct km_table *t = m->cards;

	km_table_row(t);
	km_put_text(t, C_KIT, kit->id);
	km_put_text(t, C_TITLE, kit->title);
	if (kit->revision >= 0)
		km_put_int(t, C_REVISION, kit->revision);
	km_put_text(t, C_YEARS, kit->years_text);
	if (x)
		km_buf_serial_of(m->b, x);
	km_put_buf(t, C_SERIAL, m->b);
	km_put_text(t, C_BUILT, x ? x->built_text : NULL);
	km_put_word(t, C_STANDARD, km_standard_word(m->k->standard),
		    KM_TONE_NONE);
	km_put_int(t, C_FIRM, m->k->counts.firm);
	km_put_int(t, C_RIGHT, m->k->counts.today);
	km_put_int(t, C_DOUBTFUL, m->k->counts.doubtful);
	km_put_int(t, C_AWAY, count_away(m));
	for (uint32_t i = 0; i < KM_ORIGINS; i++)
		km_put_int(t, C_FIRST + i, m->k->origin[i]);
}

static void one_card(struct maker *m)
{
	int32_t n;

	head(m);
	for (int o = 0; o < KM_ORIGINS; o++) {
		if (o == KM_ORIGIN_UNRECORDED + 1)
			needs_work(m);
		n = shown(m, (enum km_origin)o);
		if (!n)
			continue;
		row(m, origins[o].word, origins[o].tone, n);
		if (o == KM_ORIGIN_STANDS_IN || o == KM_ORIGIN_UNPROVED ||
		    o == KM_ORIGIN_REPRODUCTION)
			each(m, (enum km_origin)o);
		else
			by_kind(m, (enum km_origin)o);
	}
	on_away(m);
	in_doubt(m);
	put_data(m);
}

void km_make_card(struct km_page *p)
{
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "lines", columns, COLUMNS);
	m.cards = km_page_table(p, "cards", card_columns, C_COLUMNS);
	if (!m.t || !m.cards)
		return;
	m.cards->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < p->audit->n_kits; i++) {
		m.k = &p->audit->kits[i];
		sort_slots(&m);
		if (m.slots)
			one_card(&m);
	}
}
