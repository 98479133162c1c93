/* SPDX-License-Identifier: MIT */
#include "report/table.h"

#include <assert.h>
#include <string.h>

#include "unit/length.h"
#include "unit/money.h"

struct km_table *km_table_new(struct km_arena *mem, const char *key,
			      const struct km_column *columns, uint32_t n,
			      int decimals)
{
	struct km_table *t = km_arena_alloc(mem, 1, sizeof *t);

	if (!t)
		return NULL;
	t->key = key;
	t->show = KM_SHOW_BOTH;
	t->columns = columns;
	t->n_columns = n;
	t->decimals = decimals;
	t->mem = mem;
	return t;
}

static struct km_row *add_row(struct km_table *t)
{
	struct km_row *r = km_arena_alloc(t->mem, 1, sizeof *r);

	if (!r) {
		t->failed = true;
		return NULL;
	}
	if (t->last)
		t->last->next = r;
	else
		t->first = r;
	t->last = r;
	return r;
}

void km_table_row(struct km_table *t)
{
	struct km_row *r = add_row(t);

	if (!r)
		return;
	r->show = KM_SHOW_BOTH;
	r->cells = km_arena_alloc(t->mem, t->n_columns, sizeof *r->cells);
	if (!r->cells)
		t->failed = true;
}

void km_table_section(struct km_table *t, const char *text)
{
	struct km_row *r = add_row(t);

	if (!r)
		return;
	r->show = KM_SHOW_TEXT;
	r->section = km_arena_text(t->mem, text, strlen(text));
	if (!r->section)
		t->failed = true;
}

void km_put_section(struct km_table *t, struct km_buf *b)
{
	if (km_buf_failed(b))
		t->failed = true;
	else if (b->len)
		km_table_section(t, b->text);
	km_buf_clear(b);
}

/* The cell to fill, marked as there; NULL after a failure. */
static struct km_cell *cell_of(struct km_table *t, uint32_t column)
{
	struct km_cell *c;

	if (t->failed)
		return NULL;
	assert(t->last && t->last->cells && column < t->n_columns);
	c = &t->last->cells[column];
	c->there = true;
	return c;
}

static const char *copy(struct km_table *t, const char *text, size_t n)
{
	const char *p = km_arena_text(t->mem, text, n);

	if (!p)
		t->failed = true;
	return p;
}

void km_put_text(struct km_table *t, uint32_t column, const char *text)
{
	struct km_cell *c = text ? cell_of(t, column) : NULL;

	if (c)
		c->text = copy(t, text, strlen(text));
}

void km_put_buf(struct km_table *t, uint32_t column, struct km_buf *b)
{
	struct km_cell *c;

	if (km_buf_failed(b))
		t->failed = true;
	c = b->len ? cell_of(t, column) : NULL;
	if (c)
		c->text = copy(t, b->text, b->len);
	km_buf_clear(b);
}

void km_put_word(struct km_table *t, uint32_t column, const char *word,
		 enum km_tone tone)
{
	struct km_cell *c = cell_of(t, column);

	if (!c)
		return;
	c->text = word;
	c->tone = tone;
}

void km_put_int(struct km_table *t, uint32_t column, int64_t n)
{
	struct km_cell *c = cell_of(t, column);

	if (c)
		c->n = n;
}

void km_put_list(struct km_table *t, uint32_t column)
{
	(void)cell_of(t, column);
}

/* Lists are short: each item copies the pointers of those before only when
 * the room of 4, 8, 16 ... is used up. */
void km_put_item(struct km_table *t, uint32_t column, struct km_buf *b)
{
	struct km_cell *c;
	const char **v;
	uint32_t n;

	if (km_buf_failed(b))
		t->failed = true;
	if (!b->len)
		return;
	c = cell_of(t, column);
	if (!c)
		return;
	n = c->n_list;
	v = (const char **)(uintptr_t)c->list;
	if (!n || (n >= 4 && !(n & (n - 1)))) {
		v = km_arena_alloc(t->mem, n ? (size_t)n * 2 : 4, sizeof *v);
		if (!v) {
			t->failed = true;
			return;
		}
		if (n)
			memcpy(v, c->list, n * sizeof *v);
	}
	v[n] = copy(t, b->text, b->len);
	if (!v[n])
		return;
	c->list = v;
	c->n_list = n + 1;
	km_buf_clear(b);
}

void km_cell_number(struct km_buf *b, const struct km_table *t,
		    const struct km_column *c, const struct km_cell *cell)
{
	switch (c->kind) {
	case KM_COL_MONEY:
		km_buf_money(b, cell->n, t->decimals);
		break;
	case KM_COL_MM:
		km_buf_mm(b, cell->n, 6);
		break;
	case KM_COL_THOUSANDTHS:
		km_buf_money(b, cell->n, 3);
		break;
	case KM_COL_HUNDREDTHS:
		km_buf_money(b, cell->n, 2);
		break;
	default:
		km_buf_int(b, cell->n);
		break;
	}
}
