/* SPDX-License-Identifier: MIT */
#include "report/view.h"

#include <string.h>

bool km_view_shows(const struct km_row *r)
{
	return r->section || ((r->show & KM_SHOW_TEXT) && r->cells);
}

bool km_view_heads(const struct km_row *section)
{
	for (const struct km_row *r = section->next; r; r = r->next)
		if (km_view_shows(r))
			return !r->section;
	return false;
}

static bool says(const struct km_column *c, const struct km_cell *cell)
{
	if (!cell->there)
		return false;
	if (km_column_is_number(c) || c->kind == KM_COL_FLAG)
		return true;
	return cell->n_list || (cell->text && *cell->text);
}

/* Rows of which a column says something. */
static uint32_t filled(const struct km_table *t, uint32_t column)
{
	uint32_t n = 0;

	for (const struct km_row *r = t->first; r; r = r->next)
		if (!r->section && km_view_shows(r))
			n += says(&t->columns[column], &r->cells[column]);
	return n;
}

/* A row is named by the first column that every row fills, an id if there is
 * one. */
static void choose_columns(struct km_view *v)
{
	uint32_t first = UINT32_MAX, id = UINT32_MAX;

	for (const struct km_row *r = v->t->first; r; r = r->next)
		v->rows += !r->section && km_view_shows(r);
	for (uint32_t i = 0; i < v->t->n_columns; i++) {
		const struct km_column *c = &v->t->columns[i];
		uint32_t n = filled(v->t, i);

		if (!c->heading || c->only_plain || !n)
			continue;
		if (n == v->rows && first == UINT32_MAX)
			first = v->n;
		if (n == v->rows && c->kind == KM_COL_ID && id == UINT32_MAX)
			id = v->n;
		v->column[v->n++] = i;
	}
	v->head = id != UINT32_MAX ? id : first != UINT32_MAX ? first : 0;
}

/* The only section that heads rows is the caption if no row stands before. */
static void choose_caption(struct km_view *v)
{
	bool row_before = false, other = false;

	for (const struct km_row *r = v->t->first; r; r = r->next) {
		if (!km_view_shows(r))
			continue;
		if (!r->section)
			row_before = true;
		else if (km_view_heads(r) && !v->caption && !row_before)
			v->caption = r;
		else if (km_view_heads(r))
			other = true;	/* then each heads its own rows */
	}
	if (other)
		v->caption = NULL;
}

bool km_view_of(struct km_page *p, const struct km_table *t,
		struct km_view *v)
{
	bool any = false;

	*v = (struct km_view){ .t = t };
	if (!(t->show & KM_SHOW_TEXT))
		return false;
	for (const struct km_row *r = t->first; r && !any; r = r->next)
		any = km_view_shows(r);
	if (!any)
		return false;
	v->column = km_arena_alloc(p->mem, t->n_columns, sizeof *v->column);
	if (!v->column) {
		p->failed = true;
		return false;
	}
	choose_columns(v);
	choose_caption(v);
	return true;
}

bool km_view_outside(const struct km_view *v, const struct km_row *section)
{
	const struct km_row *r;

	if (km_view_heads(section))
		return false;
	for (r = v->t->first; r && r != section; r = r->next)
		if (!r->section && km_view_shows(r))
			break;
	if (r == section)
		return true;
	for (r = section->next; r; r = r->next)
		if (!r->section && km_view_shows(r))
			return false;
	return true;
}

bool km_view_is_list(const struct km_view *v)
{
	return v->n == 1 &&
	       v->t->columns[v->column[0]].kind == KM_COL_LIST;
}

/* ------------------------------------------------------------------ */
/* Words                                                               */

void km_view_title(struct km_buf *b, const char *key)
{
	char c = *key;

	if (!strcmp(key, "do_not")) {
		km_buf_str(b, "Not to do");
		return;
	}
	if (!c)
		return;
	km_buf_char(b, c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c);
	for (key++; *key; key++)
		km_buf_char(b, *key == '_' ? ' ' : *key);
}

bool km_view_is_alone(struct km_page *p, const struct km_table *t)
{
	struct km_view v;

	for (const struct km_table *o = p->first; o; o = o->next)
		if (o != t && km_view_of(p, o, &v))
			return false;
	return true;
}

void km_view_heading(struct km_buf *b, struct km_page *p,
		     const struct km_table *t)
{
	enum km_sheet s;

	if (km_sheet_find(p->sheet, &s) && km_view_is_alone(p, t))
		km_view_title(b, km_sheet_info(s)->help);
	else
		km_view_title(b, t->key);
}

bool km_view_is_display(const struct km_page *p)
{
	enum km_sheet s;

	return p->audit && p->audit->n_kits && km_sheet_find(p->sheet, &s) &&
	       km_sheet_info(s)->display;
}

void km_view_page_title(struct km_buf *b, const struct km_page *p)
{
	const struct km_audit *a = p->audit;
	const char *before = ": ";

	if (km_view_is_display(p))
		before = "";
	else
		km_view_title(b, p->sheet);
	for (uint32_t i = 0; a && i < a->n_kits; i++) {
		const struct km_kit *kit = a->kits[i].kit;

		km_buf_str(b, i ? "; " : before);
		km_buf_str(b, kit->title ? kit->title : kit->id);
	}
}

void km_view_cell(struct km_buf *b, const struct km_table *t,
		  const struct km_column *c, const struct km_cell *cell)
{
	if (!cell->there)
		return;
	if (km_column_is_number(c))
		km_cell_number(b, t, c, cell);
	else if (c->kind == KM_COL_FLAG)
		km_buf_str(b, cell->n ? "yes" : "no");
	else if (cell->text)
		km_buf_str(b, cell->text);
}
