/* SPDX-License-Identifier: MIT */
/*
 * surplus - what to keep or trade since another kit has a place for it, and
 * what is free to be sold, by kind and size.  It leaves the house: no names of
 * people, no places, and nothing that is not ours.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "trade/kind.h"
#include "unit/date.h"
#include "unit/length.h"
#include "unit/money.h"

enum { TOOL, RIGHT_FOR, CLASS, KIT, SLOT, VERDICT, KIND, SIZE, WHAT, VALUE,
       DATED, OLD, SECOND, LINES, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[TOOL] = { "tool", "tool", KM_COL_ID, false },
	[RIGHT_FOR] = { NULL, "right for", KM_COL_ID, false },
	[CLASS] = { "class", "class", KM_COL_WORD, true },
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[VERDICT] = { "verdict", NULL, KM_COL_WORD, false },
	[KIND] = { "kind", NULL, KM_COL_TEXT, false },
	[SIZE] = { "size", NULL, KM_COL_TEXT, false },
	[WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[VALUE] = { "value", "value", KM_COL_MONEY, false },
	[DATED] = { "value_dated", "dated", KM_COL_ID, false },
	[OLD] = { "value_old", NULL, KM_COL_FLAG, false },
	[SECOND] = { "slot_filled_by_better", NULL, KM_COL_FLAG, false },
	[LINES] = { NULL, "what it is", KM_COL_LIST, false },
};

/* One tool of ours, with what it is sorted by. */
struct spare {
	const struct km_surplus *s;
	const char *kind, *size;
};

struct maker {
	struct km_page *p;
	struct km_table *t;
	struct km_buf *b;
};

/* What is kept by kit and slot, then what is free by kind and size; the
 * cheapest of equals first, those without a value last. */
static int by_class(const void *a, const void *b)
{
	const struct spare *x = a, *y = b;
	const struct km_slot *p = x->s->slot, *q = y->s->slot;
	int order = 0;

	if (!p != !q)
		return p ? -1 : 1;
	if (p && q && p != q) {
		order = km_natural_compare(p->kit->id, q->kit->id);
		return order ? order : p->index < q->index ? -1 : 1;
	}
	if (!p)
		order = strcmp(x->kind, y->kind);
	if (!order && !p)
		order = km_natural_compare(x->size, y->size);
	if (!order && p)
		order = x->s->second - y->s->second;
	return order ? order
		     : km_natural_compare(x->s->tool->id, y->s->tool->id);
}

static void word_size(struct km_buf *b, const struct km_traits *t)
{
	static const enum km_attr order[] = { KM_A_SIZES, KM_A_OPENINGS,
					      KM_A_LENGTH };

	for (size_t i = 0; i < sizeof order / sizeof *order && !b->len; i++) {
		const union km_value *v = km_trait(t, order[i]);

		if (v && order[i] == KM_A_LENGTH) {
			km_buf_mm(b, v->span.nm, 2);
			km_buf_str(b, " mm");
		} else if (v) {
			km_words_value(b, v, order[i]);
		}
	}
}

/* The tools that are ours; those that are not are only counted. */
static size_t collect(struct maker *m, struct spare *v)
{
	const struct km_audit *a = m->p->audit;
	size_t n = 0;

	for (uint64_t i = 0; i < a->n_spare; i++) {
		const struct km_traits *t = &a->spare[i].tool->traits;
		const union km_value *kind = km_trait(t, KM_A_TOOL);

		if (!a->spare[i].own)
			continue;
		word_size(m->b, t);
		v[n].s = &a->spare[i];
		v[n].kind = kind ? kind->kind->name : "kind not recorded";
		v[n].size = km_arena_text(m->p->mem,
					  m->b->len ? m->b->text : "",
					  m->b->len);
		m->p->failed |= !v[n++].size || km_buf_failed(m->b);
		km_buf_clear(m->b);
	}
	return n;
}

static void put_place(struct maker *m, const struct km_surplus *s)
{
	km_put_text(m->t, KIT, s->slot->kit->id);
	km_put_text(m->t, SLOT, s->slot->id);
	km_words_slot_ref(m->b, s->slot, NULL);
	km_put_buf(m->t, RIGHT_FOR, m->b);
	km_put_word(m->t, VERDICT, km_verdict_word(s->verdict),
		    km_verdict_tone(s->verdict));
	km_put_int(m->t, SECOND, s->second);
	if (s->verdict == KM_AFTER_WORK)
		km_buf_str(m->b, "right there after work");
	km_put_item(m->t, LINES, m->b);
	if (s->second)
		km_buf_str(m->b, "better ones fill that slot: trade");
	km_put_item(m->t, LINES, m->b);
}

static void put_tool(struct maker *m, const struct spare *x)
{
	const struct km_tool_more *more = x->s->tool->more;

	km_table_row(m->t);
	km_put_text(m->t, TOOL, x->s->tool->id);
	km_put_word(m->t, CLASS, x->s->slot ? "keep-or-trade" : "free",
		    KM_TONE_NONE);
	km_put_text(m->t, KIND, x->kind);
	km_put_text(m->t, SIZE, *x->size ? x->size : NULL);
	km_words_of_traits(m->b, &x->s->tool->traits);
	km_put_text(m->t, WHAT, m->b->len ? m->b->text : NULL);
	km_put_item(m->t, LINES, m->b);
	if (x->s->slot)
		put_place(m, x->s);
	if (!more || more->value.minor < 0)
		return;
	km_put_int(m->t, VALUE, more->value.minor);
	km_buf_date(m->b, more->value_dated);
	km_put_buf(m->t, DATED, m->b);
	if (more->value_dated.year && m->p->audit->options.today.year)
		km_put_int(m->t, OLD, x->s->old_value);
	if (x->s->old_value)
		km_buf_str(m->b, "valued more than 24 months ago");
	km_put_item(m->t, LINES, m->b);
}

/* "free: ring spanner, 3, valued from 4.00" */
static void kind_heading(struct maker *m, const struct spare *v, size_t n)
{
	int64_t least = -1;
	size_t end = 0;

	for (; end < n && !strcmp(v[end].kind, v->kind); end++) {
		const struct km_tool_more *more = v[end].s->tool->more;
		int64_t value = more ? more->value.minor : -1;

		if (value >= 0 && (least < 0 || value < least))
			least = value;
	}
	km_buf_printf(m->b, "free: %s, %zu", v->kind, end);
	if (least >= 0) {
		km_buf_str(m->b, ", valued from ");
		km_buf_money(m->b, least, m->p->decimals);
	}
	km_put_section(m->t, m->b);
}

static void count_line(struct maker *m, size_t kept, size_t n)
{
	uint64_t others = m->p->audit->n_spare - n;

	km_buf_printf(m->b, "keep or trade %zu, free %zu", kept, n - kept);
	if (m->p->currency)
		km_buf_printf(m->b, "; values in %s", m->p->currency);
	km_put_section(m->t, m->b);
	if (!others)
		return;
	km_buf_printf(m->b, "%" PRIu64 " more belong%s to the owner of a "
		      "machine and %s not listed", others,
		      others == 1 ? "s" : "", others == 1 ? "is" : "are");
	km_put_section(m->t, m->b);
}

void km_make_surplus(struct km_page *p)
{
	struct maker m = { .p = p, .b = &p->line };
	struct spare *v = km_arena_alloc(p->mem, p->audit->n_spare, sizeof *v);
	size_t n, kept = 0;

	m.t = km_page_table(p, "surplus", columns, COLUMNS);
	if (!m.t || !v) {
		p->failed = true;
		return;
	}
	n = collect(&m, v);
	if (p->failed)
		return;
	qsort(v, n, sizeof *v, by_class);
	while (kept < n && v[kept].s->slot)
		kept++;
	for (size_t i = 0; i < n; i++) {
		if (!i && kept)
			km_table_section(m.t, "keep or trade: right for "
					      "another kit");
		if (i >= kept && (i == kept ||
				  strcmp(v[i].kind, v[i - 1].kind) != 0))
			kind_heading(&m, &v[i], n - i);
		put_tool(&m, &v[i]);
	}
	count_line(&m, kept, n);
}
