/* SPDX-License-Identifier: MIT */
/*
 * compare - two kits beside each other, a row each difference.
 */
#include "report/compare.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "report/kitwords.h"
#include "report/words.h"

#define VALUE_MOST 34		/* longer values stand below each other */
#define HEADING_MOST 22		/* cells; longer ids head no column */

/* Shown as text without the ids, which sections say, and as data with all. */
enum {
	KIT, OTHER_KIT, SLOT, OTHER_SLOT, TOOL, WHAT, VALUE, CERTAINTY,
	SOURCES, OTHER_VALUE, OTHER_CERTAINTY, OTHER_SOURCES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[OTHER_KIT] = { "other_kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[OTHER_SLOT] = { "other_slot", NULL, KM_COL_ID, false },
	[TOOL] = { "tool", NULL, KM_COL_TEXT, false },
	[WHAT] = { "what", NULL, KM_COL_WORD, false },
	[VALUE] = { "value", NULL, KM_COL_TEXT, false },
	[CERTAINTY] = { "certainty", NULL, KM_COL_WORD, false },
	[SOURCES] = { "sources", NULL, KM_COL_LIST, false },
	[OTHER_VALUE] = { "other_value", NULL, KM_COL_TEXT, false },
	[OTHER_CERTAINTY] = { "other_certainty", NULL, KM_COL_WORD, false },
	[OTHER_SOURCES] = { "other_sources", NULL, KM_COL_LIST, false },
};

enum { T_KIT, T_OTHER, T_SLOT, T_OTHER_SLOT, T_WHAT, T_IS, T_THERE, T_COLUMNS };

static const struct km_column text_columns[T_COLUMNS] = {
	[T_KIT] = { NULL, "kit", KM_COL_ID, true },
	[T_OTHER] = { NULL, "other kit", KM_COL_ID, true },
	[T_SLOT] = { NULL, "slot", KM_COL_ID, true },
	[T_OTHER_SLOT] = { NULL, "other slot", KM_COL_ID, true },
	[T_WHAT] = { NULL, "", KM_COL_WORD, false },
	[T_IS] = { NULL, "first kit", KM_COL_ID, false },
	[T_THERE] = { NULL, "other kit", KM_COL_LIST, false },
};

/* A table of differences in the making. */
struct making {
	struct km_page *p;
	struct km_table *data;		/* NULL: text alone is made */
	struct km_table *text;		/* NULL: data alone */
	const struct km_kit_pair *pair;
	const struct km_slot_pair *at;	/* NULL: of the kits as a whole */
};

/* What one side of a difference says. */
struct side {
	const char *certainty;		/* NULL: none to tell */
	const struct km_sources *sources;
};

/* ------------------------------------------------------------------ */
/* One difference                                                      */

static void put_ids(struct making *m, struct km_table *t, uint32_t kit,
		    uint32_t other, uint32_t slot, uint32_t other_slot)
{
	km_put_text(t, kit, m->pair->of.a->id);
	km_put_text(t, other, m->pair->of.b->id);
	if (m->at && m->at->a)
		km_put_text(t, slot, m->at->a->id);
	if (m->at && m->at->b)
		km_put_text(t, other_slot, m->at->b->id);
}

static void put_sources(struct making *m, uint32_t column,
			const struct km_sources *s)
{
	km_put_list(m->data, column);
	for (uint32_t i = 0; s && s->v && i < s->n; i++) {
		km_buf_str(&m->p->line, s->v[i]->id);
		km_put_item(m->data, column, &m->p->line);
	}
}

static void name_slot(struct km_buf *b, const struct km_slot *s)
{
	if (s->unused)
		km_buf_str(b, "empty pocket");
	else
		km_words_of_slot(b, s, false);
}

static void add_data(struct making *m, const char *what, const char *is,
		     const char *there, const struct side *a,
		     const struct side *b)
{
	if (!m->data)
		return;
	km_table_row(m->data);
	put_ids(m, m->data, KIT, OTHER_KIT, SLOT, OTHER_SLOT);
	if (m->at) {
		name_slot(&m->p->line, m->at->a ? m->at->a : m->at->b);
		km_put_buf(m->data, TOOL, &m->p->line);
	}
	km_put_word(m->data, WHAT, what, KM_TONE_NONE);
	km_put_text(m->data, VALUE, is);
	km_put_text(m->data, OTHER_VALUE, there);
	if (a->certainty)
		km_put_word(m->data, CERTAINTY, a->certainty, KM_TONE_NONE);
	if (b->certainty)
		km_put_word(m->data, OTHER_CERTAINTY, b->certainty,
			    KM_TONE_NONE);
	put_sources(m, SOURCES, a->sources);
	put_sources(m, OTHER_SOURCES, b->sources);
}

/* A value, "possible (rec1)" behind it. */
static void add_side(struct km_buf *b, const char *value,
		     const struct side *s, bool sure)
{
	km_buf_str(b, value);
	if (!s->certainty ||
	    (!sure && s->certainty == km_certainty_word(KM_CERTAIN)))
		return;
	km_buf_printf(b, ", %s", s->certainty);
	for (uint32_t i = 0; s->sources && s->sources->v &&
			     i < s->sources->n; i++)
		km_buf_printf(b, "%s%s", i ? ", " : " (",
			      s->sources->v[i]->id);
	if (s->sources && s->sources->v && s->sources->n)
		km_buf_char(b, ')');
}

/* Beside each other, or below each other where the first is long. */
static void put_sides(struct making *m, const char *is, const char *there,
		      const struct side *a, const struct side *b, bool sure)
{
	struct km_buf *line = &m->p->line;
	const char *before = "";

	add_side(line, is, a, sure);
	if (m->p->o.plain || line->len <= VALUE_MOST) {
		km_put_buf(m->text, T_IS, line);
	} else {
		km_buf_clear(line);
		km_buf_str(line, "first: ");
		add_side(line, is, a, sure);
		km_put_item(m->text, T_THERE, line);
		before = "other: ";
	}
	km_buf_str(line, before);
	add_side(line, there, b, sure);
	km_put_item(m->text, T_THERE, line);
}

/* A row: the values of both kits, how sure they are unless both certain. */
static void add_row(struct making *m, const char *what, const char *is,
		    const char *there, const struct side *a,
		    const struct side *b)
{
	bool sure = a->certainty && b->certainty &&
		    a->certainty != b->certainty;

	add_data(m, what, is, there, a, b);
	if (!m->text)
		return;
	km_table_row(m->text);
	put_ids(m, m->text, T_KIT, T_OTHER, T_SLOT, T_OTHER_SLOT);
	km_put_word(m->text, T_WHAT, what, KM_TONE_NONE);
	put_sides(m, is, there, a, b, sure);
}

/* The text of a buffer, kept; the buffer is cleared. */
static const char *take(struct making *m, struct km_buf *b)
{
	const char *text = b->len ? km_arena_text(m->p->mem, b->text, b->len)
				  : "";

	if (!text) {
		m->p->failed = true;
		text = "";
	}
	km_buf_clear(b);
	return text;
}

static void add_bare(struct making *m, const char *what, const char *is,
		     const char *there)
{
	static const struct side none = { NULL, NULL };

	add_row(m, what, is, there, &none, &none);
}

static struct side side_of(const struct km_slot *s, const struct km_want *w)
{
	struct side out = { NULL, &w->sources };

	if (w->state == KM_WANT_NONE || w->state == KM_WANT_ANY_OF)
		out.certainty = km_certainty_word(
			w->disputed ? KM_DISPUTED
			: w->own_certainty ? w->certainty : s->exists);
	return out;
}

static void attribute(struct making *m, enum km_attr a)
{
	const struct km_want *x = &m->at->a->want[a], *y = &m->at->b->want[a];
	struct side p = side_of(m->at->a, x), q = side_of(m->at->b, y);
	const char *is, *there;

	km_words_claim(&m->p->line, x, a);
	is = take(m, &m->p->line);
	km_words_claim(&m->p->line, y, a);
	there = take(m, &m->p->line);
	add_row(m, km_attr_word(a), is, there, &p, &q);
}

static const char *figure(struct making *m, int32_t v, int32_t none)
{
	if (v == none)
		return "not said";
	km_buf_int(&m->p->line, v);
	return take(m, &m->p->line);
}

static const char *points(struct making *m, int32_t v)
{
	if (v < 0)
		return "not said";
	km_buf_printf(&m->p->line, "%" PRId32 ".%02" PRId32, v / 100, v % 100);
	return take(m, &m->p->line);
}

static void existence(struct making *m, const struct km_slot *a,
		      const struct km_slot *b)
{
	struct side p = { km_certainty_word(a->exists), &a->for_it };
	struct side q = { km_certainty_word(b->exists), &b->for_it };

	add_row(m, "existence", "it exists", "it exists", &p, &q);
}

static void the_rest(struct making *m)
{
	const struct km_slot *a = m->at->a, *b = m->at->b;
	uint32_t rest = m->at->rest;

	if (rest & KM_DIFF_COUNT)
		add_bare(m, "count", figure(m, a->count, -1),
			 figure(m, b->count, -1));
	if (rest & KM_DIFF_EXISTS)
		existence(m, a, b);
	if (rest & KM_DIFF_POCKET)
		add_bare(m, "pocket", figure(m, a->pocket, 0),
			 figure(m, b->pocket, 0));
	if (rest & KM_DIFF_DURABLE)
		add_bare(m, "durable", a->durable ? "yes" : "no",
			 b->durable ? "yes" : "no");
	if (rest & KM_DIFF_POINTS)
		add_bare(m, "points", points(m, a->points),
			 points(m, b->points));
	if (rest & KM_DIFF_GOES_WITH)
		add_bare(m, "goes with",
			 a->companion ? a->companion->id : "nothing",
			 b->companion ? b->companion->id : "nothing");
}

/* ------------------------------------------------------------------ */
/* One pair of kits                                                    */

/* "S-03, there B-4: tyre lever" */
static void head_slot(struct making *m)
{
	struct km_buf *b = &m->p->line;
	const struct km_slot *s = m->at->a, *t = m->at->b;

	km_buf_str(b, s->id);
	if (km_case_compare(s->id, t->id))
		km_buf_printf(b, ", there %s", t->id);
	km_buf_str(b, ": ");
	name_slot(b, s);
	if (m->text && !km_buf_failed(b))
		km_table_section(m->text, b->text);
	km_buf_clear(b);
}

static void slot_pair(struct making *m)
{
	head_slot(m);
	for (int a = 0; a < KM_ATTRS; a++)
		if ((m->at->attrs | m->at->sure) & (uint32_t)1 << a)
			attribute(m, (enum km_attr)a);
	the_rest(m);
}

static void marks(struct km_buf *b, const struct km_kit *k)
{
	if (!k->n_maker_marks)
		km_buf_str(b, "not said");
	for (uint32_t i = 0; i < k->n_maker_marks; i++)
		km_buf_printf(b, "%s%s", i ? ", " : "", k->maker_marks[i]);
}

/* Of the pouch only what differs, a row each. */
static void pouches(struct making *m, const struct km_pouch *a,
		    const struct km_pouch *b)
{
	for (int i = 0; i < KM_POUCH_FACTS; i++) {
		const char *is, *there;

		km_words_pouch(&m->p->line, a, (enum km_pouch_fact)i);
		is = take(m, &m->p->line);
		km_words_pouch(&m->p->line, b, (enum km_pouch_fact)i);
		there = take(m, &m->p->line);
		/* without a pouch, all that is not said is no news */
		if (strcmp(is, there) != 0 &&
		    (i == KM_FACT_FORM || (a && b) ||
		     strcmp(a ? is : there, "not said") != 0))
			add_bare(m, km_pouch_fact_word((enum km_pouch_fact)i),
				 is, there);
	}
}

static void as_a_whole(struct making *m)
{
	const struct km_kit *a = m->pair->of.a, *b = m->pair->of.b;
	const char *is;

	m->at = NULL;
	if (m->text && m->pair->whole)
		km_table_section(m->text, "the kit as a whole");
	if (m->pair->whole & KM_DIFF_MAKER_MARKS) {
		marks(&m->p->line, a);
		is = take(m, &m->p->line);
		marks(&m->p->line, b);
		add_bare(m, "maker marks", is, take(m, &m->p->line));
	}
	if (m->pair->whole & KM_DIFF_POUCH)
		pouches(m, a->pouch, b->pouch);
}

static void differences(struct making *m)
{
	const struct km_alignment *of = &m->pair->of;

	as_a_whole(m);
	for (uint32_t i = 0; i < of->n; i++) {
		m->at = &of->pairs[i];
		if (m->at->a && m->at->b &&
		    (m->at->attrs || m->at->sure || m->at->rest))
			slot_pair(m);
	}
}

static const char *lone_words(struct making *m, const struct km_slot *s)
{
	struct km_buf *b = &m->p->line;

	if (s->unused) {
		km_buf_str(b, "a pocket empty by design");
		if (s->pocket)
			km_buf_printf(b, ": %" PRId32, s->pocket);
		return take(m, b);
	}
	km_words_of_want(b, s, false);
	if (s->count > 1)
		km_buf_printf(b, ", %" PRId32 " of them", s->count);
	if (s->exists != KM_CERTAIN)
		km_buf_printf(b, " (%s)", km_certainty_word(s->exists));
	return take(m, b);
}

/* ------------------------------------------------------------------ */
/* Tables                                                              */

/* The columns of one pair: the ids as headings, where they are short. */
static struct km_table *text_table(struct making *m)
{
	const char *a = m->pair->of.a->id, *b = m->pair->of.b->id;
	struct km_column *c = km_arena_copy(m->p->mem, text_columns,
					    T_COLUMNS, sizeof *c);
	struct km_table *t;

	if (!c) {
		m->p->failed = true;
		return NULL;
	}
	if (km_utf8_cells(a, km_slice_of(a).n) <= HEADING_MOST &&
	    km_utf8_cells(b, km_slice_of(b).n) <= HEADING_MOST) {
		c[T_IS].heading = a;
		c[T_THERE].heading = b;
	}
	t = km_page_table(m->p, NULL, c, T_COLUMNS);
	if (t)
		t->show = KM_SHOW_TEXT;
	return t;
}

void km_compare_text(struct km_page *p, const struct km_kit_pair *pair)
{
	struct making m = { .p = p, .pair = pair };

	m.text = text_table(&m);
	if (m.text)
		differences(&m);
}

const char *km_compare_lone(struct km_page *p, const struct km_slot *s)
{
	struct making m = { .p = p };

	return lone_words(&m, s);
}

/* The slots that one kit has alone. */
static void lone_slots(struct making *m)
{
	static const struct side none = { NULL, NULL };

	for (uint32_t i = 0; i < m->pair->of.n; i++) {
		m->at = &m->pair->of.pairs[i];
		if (!m->at->b)
			add_data(m, "only here", lone_words(m, m->at->a),
				 NULL, &none, &none);
		else if (!m->at->a)
			add_data(m, "only there", NULL,
				 lone_words(m, m->at->b), &none, &none);
	}
}

void km_compare_data(struct km_page *p, const struct km_side_by_side *s)
{
	struct making m = { .p = p };

	m.data = km_page_table(p, "differences", columns, COLUMNS);
	if (!m.data)
		return;
	m.data->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < s->n; i++) {
		m.pair = &s->pairs[i];
		differences(&m);
		lone_slots(&m);
	}
}
