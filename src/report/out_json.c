/* SPDX-License-Identifier: MIT */
/*
 * One object; keys always in the same order, every key of a row always there.
 *
 * source   [rfc-8259]; [rfc-7493] for whole numbers within 2^53
 */
#include "report/encode.h"

#include <string.h>

#include "base/escape.h"

#define WHOLE_MOST ((int64_t)1 << 53)

void km_json_string(struct km_buf *b, const char *text)
{
	if (!text) {
		km_buf_str(b, "null");
		return;
	}
	km_buf_char(b, '"');
	km_escape_json(b, text, strlen(text));
	km_buf_char(b, '"');
}

static void write_list(struct km_buf *b, const struct km_cell *cell)
{
	km_buf_char(b, '[');
	for (uint32_t i = 0; i < cell->n_list; i++) {
		if (i)
			km_buf_str(b, ", ");
		km_json_string(b, cell->list[i]);
	}
	km_buf_char(b, ']');
}

/* A number whose digits a reader of doubles would change goes as text. */
static void write_number(struct km_buf *b, const struct km_table *t,
			 const struct km_column *c, const struct km_cell *cell)
{
	bool wide = cell->n > WHOLE_MOST || cell->n < -WHOLE_MOST;

	if (wide)
		km_buf_char(b, '"');
	km_cell_number(b, t, c, cell);
	if (wide)
		km_buf_char(b, '"');
}

void km_json_cell(struct km_buf *b, const struct km_table *t,
		  const struct km_column *c, const struct km_cell *cell)
{
	if (!cell->there)
		km_buf_str(b, "null");
	else if (km_column_is_number(c))
		write_number(b, t, c, cell);
	else if (c->kind == KM_COL_FLAG)
		km_buf_str(b, cell->n ? "true" : "false");
	else if (c->kind == KM_COL_LIST)
		write_list(b, cell);
	else
		km_json_string(b, cell->text ? cell->text : "");
}

static void write_row(struct km_buf *b, const struct km_table *t,
		      const struct km_row *r)
{
	bool first = true;

	km_buf_str(b, "    {");
	for (uint32_t i = 0; i < t->n_columns; i++) {
		const struct km_column *c = &t->columns[i];

		if (!c->key)
			continue;
		if (!first)
			km_buf_str(b, ", ");
		first = false;
		km_json_string(b, c->key);
		km_buf_str(b, ": ");
		km_json_cell(b, t, c, &r->cells[i]);
	}
	km_buf_char(b, '}');
}

static void write_table(struct km_buf *b, const struct km_table *t)
{
	bool any = false;

	km_buf_str(b, ",\n  ");
	km_json_string(b, t->key);
	km_buf_str(b, ": [");
	for (const struct km_row *r = t->first; r; r = r->next) {
		if (r->section || !(r->show & KM_SHOW_DATA) || !r->cells)
			continue;
		km_buf_str(b, any ? ",\n" : "\n");
		write_row(b, t, r);
		any = true;
	}
	km_buf_str(b, any ? "\n  ]" : "]");
}

void km_json_integer(struct km_buf *b, int64_t n)
{
	bool wide = n > WHOLE_MOST || n < -WHOLE_MOST;

	km_buf_str(b, wide ? "\"" : "");
	km_buf_int(b, n);
	km_buf_str(b, wide ? "\"" : "");
}

void km_json_begin(struct km_page *p)
{
	struct km_buf *b = &p->out;

	km_buf_printf(b, "{\n  \"schema_version\": %d,\n"
		      "  \"program\": \"kitmuster\",\n  \"sheet\": ",
		      KM_JSON_VERSION);
	km_json_string(b, p->sheet);
	km_buf_str(b, ",\n  \"currency\": ");
	km_json_string(b, p->currency);
}

void km_out_json(struct km_page *p)
{
	struct km_buf *b = &p->out;

	km_json_begin(p);
	for (const struct km_table *t = p->first; t; t = t->next)
		if (t->show & KM_SHOW_DATA)
			write_table(b, t);
	km_buf_str(b, "\n}\n");
}
