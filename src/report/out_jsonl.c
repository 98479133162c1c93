/* SPDX-License-Identifier: MIT */
/*
 * A row a line.  Each line says which sheet and table it is a row of, which
 * kit and in which currency, so that lines may be sorted, filtered and mixed.
 *
 * source   [jsonlines]: UTF-8 without a byte order mark, one value a line, a
 *          line feed after the last too, no empty line; [rfc-8259]
 */
#include "report/encode.h"

#include <string.h>

static bool has_kit(const struct km_table *t)
{
	for (uint32_t i = 0; i < t->n_columns; i++)
		if (t->columns[i].key && !strcmp(t->columns[i].key, "kit"))
			return true;
	return false;
}

/* The kit of a row that has no column for it: that of the run, if it is but
 * one. */
static void write_kit(struct km_page *p)
{
	const struct km_audit *a = p->audit;

	km_buf_str(&p->out, ", \"kit\": ");
	km_json_string(&p->out, a && a->n_kits == 1 ? a->kits[0].kit->id
						    : NULL);
}

static void write_row(struct km_page *p, const struct km_table *t,
		      const struct km_row *r)
{
	struct km_buf *b = &p->out;

	km_buf_printf(b, "{\"schema_version\": %d, \"sheet\": ",
		      KM_JSON_VERSION);
	km_json_string(b, p->sheet);
	km_buf_str(b, ", \"table\": ");
	km_json_string(b, t->key);
	km_buf_str(b, ", \"currency\": ");
	km_json_string(b, p->currency);
	if (!has_kit(t))
		write_kit(p);
	for (uint32_t i = 0; i < t->n_columns; i++) {
		const struct km_column *c = &t->columns[i];

		if (!c->key)
			continue;
		km_buf_str(b, ", ");
		km_json_string(b, c->key);
		km_buf_str(b, ": ");
		km_json_cell(b, t, c, &r->cells[i]);
	}
	km_buf_str(b, "}\n");
}

void km_out_jsonl(struct km_page *p)
{
	for (const struct km_table *t = p->first; t; t = t->next) {
		if (!(t->show & KM_SHOW_DATA))
			continue;
		for (const struct km_row *r = t->first; r; r = r->next)
			if (!r->section && r->show & KM_SHOW_DATA && r->cells)
				write_row(p, t, r);
	}
}
