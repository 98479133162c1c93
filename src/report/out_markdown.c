/* SPDX-License-Identifier: MIT */
/*
 * Headings, paragraphs and pipe tables.  Text is first made harmless as for a
 * terminal, which also puts it on one line, and then every character that
 * could begin markup is escaped.  (Readers that look for addresses of mail do
 * so in finished text; such a one becomes a link to itself.)
 *
 * source   [gfm] sections 2.4 (backslash escapes), 4.10 (tables), 6.5 and 6.9
 *          (strikethrough, autolinks)
 */
#include "report/encode.h"

#include <string.h>

#include "base/escape.h"
#include "report/view.h"

#define JOIN "; "		/* between texts of a list in one cell */

static bool is_word(char c)
{
	return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ||
	       (c >= 'A' && c <= 'Z');
}

/* At the start of a paragraph these begin a heading, a list, a rule, a table,
 * an underline or code. */
static bool begins_block(const char *text, size_t at)
{
	size_t i = 0;

	if (text[at] == '.' || text[at] == ')') {
		while (i < at && text[i] >= '0' && text[i] <= '9')
			i++;
		return i == at && at;
	}
	return at == 0 && strchr("#-+=:", text[at]);
}

/* `at` begins something inside a line: emphasis, code, a link, HTML, an
 * entity, a cell, a strike, mathematics, or a web address without brackets. */
static bool begins_inline(const char *text, size_t at)
{
	char c = text[at];

	if (strchr("\\`*_[]<>|~&$@^", c))
		return true;
	if (c == ':')
		return at && is_word(text[at - 1]) && text[at + 1] &&
		       text[at + 1] != ' ';
	if (c == '.')
		return at >= 3 && (text[at - 1] | 32) == 'w' &&
		       (text[at - 2] | 32) == 'w' && (text[at - 3] | 32) == 'w';
	return false;
}

/* start: the text begins a paragraph or a list item */
static void escape(struct km_page *p, const char *raw, bool start)
{
	struct km_buf safe;
	const char *text;

	km_buf_init(&safe, p->mem);
	km_escape_terminal(&safe, raw, strlen(raw));
	if (km_buf_failed(&safe))
		p->failed = true;
	text = safe.len && !p->failed ? safe.text : "";
	while (*text == ' ')
		text++;
	for (size_t i = 0; text[i]; i++) {
		if ((start && begins_block(text, i)) ||
		    begins_inline(text, i))
			km_buf_char(&p->out, '\\');
		km_buf_char(&p->out, text[i]);
	}
}

static void paragraph(struct km_page *p, const char *text, bool strong)
{
	const char *mark = strong ? "**" : "";

	km_buf_printf(&p->out, "\n%s", mark);
	escape(p, text, !strong);
	km_buf_printf(&p->out, "%s\n", mark);
}

static void heading(struct km_page *p, const char *marks, struct km_buf *raw)
{
	km_buf_printf(&p->out, "%s ", marks);
	escape(p, raw->len ? raw->text : "", true);
	km_buf_char(&p->out, '\n');
	if (km_buf_failed(raw))
		p->failed = true;
	km_buf_clear(raw);
}

static void write_cell(struct km_page *p, const struct km_table *t,
		       const struct km_column *c, const struct km_cell *cell)
{
	if (c->kind == KM_COL_LIST) {
		for (uint32_t i = 0; i < cell->n_list; i++) {
			km_buf_str(&p->out, i ? JOIN : "");
			escape(p, cell->list[i], false);
		}
		return;
	}
	km_buf_clear(&p->line);
	km_view_cell(&p->line, t, c, cell);
	if (km_column_is_number(c))
		km_buf_str(&p->out, p->line.len ? p->line.text : "");
	else
		escape(p, p->line.len ? p->line.text : "", false);
	km_buf_clear(&p->line);
}

static void header(struct km_page *p, const struct km_view *v)
{
	km_buf_str(&p->out, "\n|");
	for (uint32_t i = 0; i < v->n; i++) {
		km_buf_char(&p->out, ' ');
		escape(p, v->t->columns[v->column[i]].heading, false);
		km_buf_str(&p->out, " |");
	}
	km_buf_str(&p->out, "\n|");
	for (uint32_t i = 0; i < v->n; i++)
		km_buf_str(&p->out,
			   km_column_is_number(&v->t->columns[v->column[i]])
				   ? " ---: |" : " --- |");
	km_buf_char(&p->out, '\n');
}

static void row(struct km_page *p, const struct km_view *v,
		const struct km_row *r)
{
	km_buf_char(&p->out, '|');
	for (uint32_t i = 0; i < v->n; i++) {
		km_buf_char(&p->out, ' ');
		write_cell(p, v->t, &v->t->columns[v->column[i]],
			   &r->cells[v->column[i]]);
		km_buf_str(&p->out, " |");
	}
	km_buf_char(&p->out, '\n');
}

/* A list says "- " itself where text has it; its further lines follow. */
static void bullet(struct km_page *p, const struct km_view *v,
		   const struct km_row *r)
{
	const struct km_cell *c = &r->cells[v->column[0]];

	for (uint32_t i = 0; i < c->n_list; i++) {
		const char *text = c->list[i];

		if (!strncmp(text, "- ", 2))
			text += 2;
		km_buf_str(&p->out, i ? JOIN : "- ");
		escape(p, text, !i);
	}
	km_buf_char(&p->out, '\n');
}

/* Each section ends a pipe table, and the next row begins another. */
static void write_table(struct km_page *p, const struct km_view *v)
{
	bool open = false;

	for (const struct km_row *r = v->t->first; r; r = r->next) {
		if (!km_view_shows(r))
			continue;
		if (r->section) {
			paragraph(p, r->section, km_view_heads(r));
			open = false;
			continue;
		}
		if (!open && km_view_is_list(v))
			km_buf_char(&p->out, '\n');
		else if (!open)
			header(p, v);
		open = true;
		if (km_view_is_list(v))
			bullet(p, v, r);
		else
			row(p, v, r);
	}
}

void km_out_markdown(struct km_page *p)
{
	struct km_view v;

	km_buf_clear(&p->line);
	km_view_page_title(&p->line, p);
	heading(p, "#", &p->line);
	for (const struct km_table *t = p->first; t; t = t->next) {
		if (!km_view_of(p, t, &v))
			continue;
		km_buf_char(&p->out, '\n');
		km_view_heading(&p->line, p, t);
		heading(p, "##", &p->line);
		write_table(p, &v);
	}
}
