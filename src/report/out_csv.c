/* SPDX-License-Identifier: MIT */
/*
 * source   [rfc-4180] section 2; [iana-tsv]: no quotes, and so no tab inside
 *          a field; [cwe-1236] for what a spreadsheet would compute
 */
#include "report/encode.h"

#include <string.h>

#include "base/escape.h"

struct writer {
	struct km_page *p;
	const struct km_table *t;
	bool tabs;
	struct km_buf text, field;
};

static const struct km_table *first_data(const struct km_page *p)
{
	const struct km_table *t = p->first;

	while (t && !(t->show & KM_SHOW_DATA))
		t = t->next;
	return t;
}

/* A field of CSV as one without quotes: they are what tabs make needless. */
static void unquote(struct km_buf *out, const char *field, size_t n)
{
	if (!n || *field != '"') {
		km_buf_add(out, field, n);
		return;
	}
	for (size_t i = 1; i + 1 < n; i++) {
		km_buf_char(out, field[i]);
		if (field[i] == '"')
			i++;
	}
}

static void write_text(struct writer *w, const char *text, size_t n)
{
	if (!w->tabs) {
		km_escape_csv(&w->p->out, text, n);
		return;
	}
	km_buf_clear(&w->text);
	km_buf_clear(&w->field);
	for (size_t i = 0; i < n; i++)
		km_buf_char(&w->text, strchr("\t\r\n", text[i]) && text[i]
					      ? ' ' : text[i]);
	km_escape_csv(&w->field, w->text.text, w->text.len);
	unquote(&w->p->out, w->field.text, w->field.len);
}

static void write_list(struct writer *w, const struct km_cell *cell)
{
	struct km_buf joined;

	km_buf_init(&joined, w->p->mem);
	for (uint32_t i = 0; i < cell->n_list; i++) {
		if (i)
			km_buf_str(&joined, "; ");
		km_buf_str(&joined, cell->list[i]);
	}
	if (joined.len)
		write_text(w, joined.text, joined.len);
	if (km_buf_failed(&joined))
		w->p->failed = true;
}

static void write_cell(struct writer *w, const struct km_column *c,
		       const struct km_cell *cell)
{
	if (!cell->there)
		return;
	if (km_column_is_number(c))
		km_cell_number(&w->p->out, w->t, c, cell);
	else if (c->kind == KM_COL_FLAG)
		km_buf_str(&w->p->out, cell->n ? "yes" : "no");
	else if (c->kind == KM_COL_LIST)
		write_list(w, cell);
	else if (cell->text)
		write_text(w, cell->text, strlen(cell->text));
}

static void write_record(struct writer *w, const struct km_row *r)
{
	bool first = true;

	for (uint32_t i = 0; i < w->t->n_columns; i++) {
		const struct km_column *c = &w->t->columns[i];

		if (!c->key)
			continue;
		if (!first)
			km_buf_char(&w->p->out, w->tabs ? '\t' : ',');
		first = false;
		if (r)
			write_cell(w, c, &r->cells[i]);
		else
			km_buf_str(&w->p->out, c->key);
	}
	km_buf_str(&w->p->out, w->tabs ? "\n" : "\r\n");
}

static void write_all(struct km_page *p, bool tabs)
{
	struct writer w = { .p = p, .t = first_data(p), .tabs = tabs };

	if (!w.t)
		return;
	km_buf_init(&w.text, p->mem);
	km_buf_init(&w.field, p->mem);
	if (p->o.csv_bom)
		km_buf_str(&p->out, "\xEF\xBB\xBF");
	write_record(&w, NULL);
	for (const struct km_row *r = w.t->first; r; r = r->next)
		if (!r->section && r->show & KM_SHOW_DATA && r->cells)
			write_record(&w, r);
	if (km_buf_failed(&w.text) || km_buf_failed(&w.field))
		p->failed = true;
}

void km_out_csv(struct km_page *p)
{
	write_all(p, false);
}

void km_out_tsv(struct km_page *p)
{
	write_all(p, true);
}
