/* SPDX-License-Identifier: MIT */
#include "report/html.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"
#include "report/encode.h"
#include "report/outline.h"
#include "report/view.h"
#include "report/words.h"

/* ------------------------------------------------------------------ */
/* Documents                                                           */

/* Every pair of a text colour and a background has a contrast of 4.5 or more
 * (tests/oracle/html_pages.py).  Narrow screens show a row as a block, each cell
 * behind the name of its column; paper repeats the head of a table and breaks
 * no row. */
static const char style[] =
	":root{color-scheme:light}\n"
	"*{box-sizing:border-box}\n"
	"body{margin:0;background:#fff;color:#1a1a1a;"
	"font:1rem/1.4 sans-serif;overflow-wrap:break-word}\n"
	"main{max-width:75rem;margin:0 auto;padding:1rem}\n"
	"h1{font-size:1.6rem;line-height:1.2}\n"
	"h2{font-size:1.3rem;margin:2rem 0 .5rem}\n"
	"h3{font-size:1.1rem;margin:1.2rem 0 .3rem}\n"
	"a{color:#0b3d91}\n"
	"ul,ol{padding-left:1.9rem}\n"
	"nav ol{columns:25rem;column-gap:2.5rem}\n"
	"table{border-collapse:collapse;min-width:min(100%,30rem);"
	"max-width:100%;margin:0 0 1.2rem}\n"
	"caption{text-align:left;padding:.3rem 0;color:#3d3d3d}\n"
	"th,td{border:1px solid #767676;padding:.2rem .45rem;"
	"text-align:left;vertical-align:top}\n"
	"thead th{background:#e6eaf0}\n"
	"tbody th{font-weight:normal}\n"
	"th[scope=row]:not(.l){font-weight:bold}\n"
	"th[scope=rowgroup]{background:#f2f4f7;font-weight:bold}\n"
	".n{text-align:right;white-space:nowrap;"
	"font-variant-numeric:tabular-nums}\n"
	".i{white-space:nowrap}\n"
	".good,.work,.open,.dim{white-space:nowrap}\n"
	".good{color:#14532d}\n"
	".work{color:#6b3a00}\n"
	".open{color:#8b1a1a;font-weight:bold}\n"
	".dim{color:#4d4d4d;font-style:italic}\n"
	".v{margin-right:.1em;vertical-align:-.1em;fill:currentColor}\n"
	".house{border:2px solid #1a1a1a;padding:.5rem .8rem}\n"
	"pre{font:.9rem/1.3 monospace;margin:0 0 1.2rem;"
	"white-space:pre-wrap}\n"
	"svg{font-family:sans-serif}\n"
	".page>svg{display:block}\n";

static const char screen_style[] =
	"@media screen{\n"
	".page,.plot{margin:0 0 1rem;overflow:hidden}\n"
	".page>svg,.plot>svg{max-width:100%;height:auto}\n"
	".page>svg{border:1px solid #767676}\n"
	"}\n"
	"@media screen and (max-width:45rem){\n"
	"table,caption,tbody,tr,th,td{display:block}\n"
	"thead{position:absolute;width:1px;height:1px;overflow:hidden;"
	"clip-path:inset(50%)}\n"
	"tr{border:1px solid #767676;margin:0 0 .5rem;padding:.2rem 0}\n"
	"th,td{border:0}\n"
	"td:empty,th:empty{display:none}\n"
	"[data-head]::before{content:attr(data-head) \": \";"
	"font-weight:normal;font-style:normal;color:#3d3d3d}\n"
	".n{text-align:left}\n"
	".n,.i,.good,.work,.open,.dim{white-space:normal}\n"
	"}\n";

static const char print_style[] =
	"@media print{\n"
	"main{max-width:none;margin:0;padding:0}\n"
	"body{font-size:9.5pt}\n"
	"h1{font-size:15pt}\n"
	"h2{font-size:12.5pt}\n"
	"h3{font-size:11pt}\n"
	"h1,h2,h3,caption{break-after:avoid}\n"
	"thead{display:table-header-group}\n"
	"tr,li{break-inside:avoid}\n"
	"tr:has(th[scope=rowgroup]){break-after:avoid}\n"
	"a{text-decoration:none}\n"
	".page{page:paper;break-before:page;break-after:page;"
	"break-inside:avoid}\n"
	".plot{break-inside:avoid}\n"
	".screen{display:none}\n"
	"}\n";

/* The page box: the paper with a margin, and without one for a drawing at
 * true size, which a browser would shrink in silence. */
static void page_box(struct km_page *p)
{
	const struct km_paper *paper = km_paper_of(&p->o);
	struct km_buf *b = &p->out;

	for (int bare = 0; bare < 2; bare++) {
		km_buf_str(b, bare ? "@page paper{size:" : "@page{size:");
		km_pen_um(b, paper->width);
		km_buf_str(b, "mm ");
		km_pen_um(b, paper->height);
		km_buf_str(b, bare ? "mm;margin:0}\n" : "mm;margin:14mm}\n");
	}
}

void km_html_open(struct km_page *p, const char *drawing)
{
	const char *title = drawing ? drawing : "";
	struct km_buf *b = &p->out, own;

	if (p->report)
		return;
	km_buf_init(&own, p->mem);
	if (!drawing)
		km_view_page_title(&own, p);
	if (own.len)
		title = own.text;
	km_buf_str(b, "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n"
		   "<meta charset=\"utf-8\">\n"
		   "<meta http-equiv=\"Content-Security-Policy\" "
		   "content=\"default-src 'none'; "
		   "style-src 'unsafe-inline'\">\n"
		   "<meta name=\"viewport\" "
		   "content=\"width=device-width, initial-scale=1\">\n"
		   "<title>");
	km_html_text(b, title);
	km_buf_str(b, "</title>\n<style>\n");
	km_buf_str(b, style);
	km_buf_str(b, screen_style);
	page_box(p);
	km_buf_str(b, print_style);
	km_buf_printf(b, "</style>\n</head>\n<body>\n<main>\n<h1%s>",
		      drawing ? " class=\"screen\"" : "");
	km_html_text(b, title);
	km_buf_str(b, "</h1>\n");
	b->failed |= km_buf_failed(&own);
}

void km_html_close(struct km_page *p)
{
	if (!p->report)
		km_buf_str(&p->out, "</main>\n</body>\n</html>\n");
}

void km_html_text(struct km_buf *b, const char *raw)
{
	struct km_buf safe;

	km_buf_init(&safe, b->mem);
	km_escape_terminal(&safe, raw, strlen(raw));
	if (safe.len)
		km_escape_html(b, safe.text, safe.len);
	b->failed |= km_buf_failed(&safe);
}

/* ------------------------------------------------------------------ */
/* Cells                                                               */

static const char *class_of(const struct km_column *c, enum km_tone tone)
{
	static const char *const toned[] = {
		[KM_TONE_NONE] = NULL, [KM_TONE_GOOD] = "good",
		[KM_TONE_WORK] = "work", [KM_TONE_OPEN] = "open",
		[KM_TONE_DIM] = "dim",
	};

	if (toned[tone])
		return toned[tone];
	if (km_column_is_number(c))
		return "n";
	if (c->kind == KM_COL_LIST)
		return "l";
	return c->kind == KM_COL_ID ? "i" : NULL;
}

/* A verdict is a word, and a shape beside it. */
static void write_shape(struct km_buf *b, const char *word)
{
	const char *shape = km_verdict_shape(word);

	if (shape)
		km_buf_printf(b, "<svg class=\"v\" aria-hidden=\"true\" "
			      "width=\"11\" height=\"11\" "
			      "viewBox=\"-2 -2 4 4\"><path fill-rule="
			      "\"evenodd\" d=\"%s\"/></svg> ", shape);
}

static void write_list(struct km_buf *b, const struct km_cell *cell)
{
	for (uint32_t i = 0; i < cell->n_list; i++) {
		km_buf_str(b, i ? "<br>" : "");
		km_html_text(b, cell->list[i]);
	}
}

static void write_content(struct km_page *p, const struct km_table *t,
			  const struct km_column *c,
			  const struct km_cell *cell)
{
	if (c->kind == KM_COL_LIST) {
		write_list(&p->out, cell);
		return;
	}
	km_buf_clear(&p->line);
	km_view_cell(&p->line, t, c, cell);
	if (!p->line.len)
		return;
	if (c->kind == KM_COL_WORD)
		write_shape(&p->out, p->line.text);
	km_html_text(&p->out, p->line.text);
	km_buf_clear(&p->line);
}

static void write_cell(struct km_page *p, const struct km_view *v,
		       const struct km_row *r, uint32_t i)
{
	const struct km_column *c = &v->t->columns[v->column[i]];
	const struct km_cell *cell = &r->cells[v->column[i]];
	const char *class = class_of(c, cell->tone);
	bool head = i == v->head;

	km_buf_str(&p->out, head ? "<th scope=\"row\"" : "<td");
	/* an id says itself what it is */
	if (!head || km_column_is_number(c)) {
		km_buf_str(&p->out, " data-head=\"");
		km_html_text(&p->out, c->heading);
		km_buf_char(&p->out, '"');
	}
	if (class)
		km_buf_printf(&p->out, " class=\"%s\"", class);
	km_buf_char(&p->out, '>');
	write_content(p, v->t, c, cell);
	km_buf_str(&p->out, head ? "</th>" : "</td>");
}

/* ------------------------------------------------------------------ */
/* Tables                                                              */

static void paragraph(struct km_page *p, const char *text)
{
	km_buf_str(&p->out, "<p>");
	km_html_text(&p->out, text);
	km_buf_str(&p->out, "</p>\n");
}

/* Sections before the first row and behind the last are paragraphs. */
static void paragraphs(struct km_page *p, const struct km_view *v, bool after)
{
	bool row_before = false;

	for (const struct km_row *r = v->t->first; r; r = r->next) {
		if (!r->section)
			row_before |= km_view_shows(r);
		else if (row_before == after && km_view_outside(v, r))
			paragraph(p, r->section);
	}
}

static void write_head(struct km_page *p, const struct km_view *v)
{
	struct km_buf *b = &p->out;

	km_buf_str(b, "<table>\n<caption>");
	if (v->caption) {
		km_html_text(b, v->caption->section);
	} else {
		km_buf_clear(&p->line);
		km_view_title(&p->line, v->t->key);
		km_html_text(b, p->line.len ? p->line.text : "");
		km_buf_printf(b, ", %" PRIu32 " row%s", v->rows,
			      v->rows == 1 ? "" : "s");
	}
	km_buf_clear(&p->line);
	km_buf_str(b, "</caption>\n<thead>\n<tr>");
	for (uint32_t i = 0; i < v->n; i++) {
		const struct km_column *c = &v->t->columns[v->column[i]];

		km_buf_printf(b, "<th scope=\"col\"%s>",
			      km_column_is_number(c) ? " class=\"n\"" : "");
		km_html_text(b, c->heading);
		km_buf_str(b, "</th>");
	}
	km_buf_str(b, "</tr>\n</thead>\n<tbody>\n");
}

static void write_row(struct km_page *p, const struct km_view *v,
		      const struct km_row *r)
{
	km_buf_str(&p->out, "<tr>");
	for (uint32_t i = 0; i < v->n; i++)
		write_cell(p, v, r, i);
	km_buf_str(&p->out, "</tr>\n");
}

/* A section within the table begins a group of rows; one that no row follows
 * is a remark. */
static void write_section(struct km_page *p, const struct km_view *v,
			  const struct km_row *r, bool first)
{
	bool heads = km_view_heads(r);

	km_buf_str(&p->out, first ? "" : "</tbody>\n<tbody>\n");
	km_buf_printf(&p->out, heads ? "<tr><th scope=\"rowgroup\" "
				       "colspan=\"%" PRIu32 "\">"
				     : "<tr><td colspan=\"%" PRIu32 "\">",
		      v->n);
	km_html_text(&p->out, r->section);
	km_buf_str(&p->out, heads ? "</th></tr>\n" : "</td></tr>\n");
}

static void write_table(struct km_page *p, const struct km_view *v)
{
	bool first = true;

	paragraphs(p, v, false);
	write_head(p, v);
	for (const struct km_row *r = v->t->first; r; r = r->next) {
		if (!km_view_shows(r) || r == v->caption)
			continue;
		if (!r->section)
			write_row(p, v, r);
		else if (!km_view_outside(v, r))
			write_section(p, v, r, first);
		else
			continue;
		first = false;
	}
	km_buf_str(&p->out, "</tbody>\n</table>\n");
	paragraphs(p, v, true);
}

/* Rows of one column without a name of their own. */
static void write_items(struct km_page *p, const struct km_view *v)
{
	paragraphs(p, v, false);
	km_buf_str(&p->out, "<ul>\n");
	for (const struct km_row *r = v->t->first; r; r = r->next) {
		const struct km_cell *c;

		if (r->section || !km_view_shows(r))
			continue;
		c = &r->cells[v->column[0]];
		km_buf_str(&p->out, "<li>");
		for (uint32_t i = 0; i < c->n_list; i++) {
			bool dash = !strncmp(c->list[i], "- ", 2);

			km_buf_str(&p->out, i ? "<br>" : "");
			km_html_text(&p->out, c->list[i] + (dash ? 2 : 0));
		}
		km_buf_str(&p->out, "</li>\n");
	}
	km_buf_str(&p->out, "</ul>\n");
	paragraphs(p, v, true);
}

/* The only table of a part has the heading of the part. */
static void write_heading(struct km_page *p, const struct km_table *t)
{
	int level = p->report ? 3 : 2;

	if ((p->report || km_view_is_display(p)) && km_view_is_alone(p, t))
		return;
	km_buf_clear(&p->line);
	km_view_heading(&p->line, p, t);
	km_buf_printf(&p->out, "<h%d>", level);
	km_html_text(&p->out, p->line.len ? p->line.text : "");
	km_buf_printf(&p->out, "</h%d>\n", level);
	km_buf_clear(&p->line);
}

void km_html_tables(struct km_page *p)
{
	struct km_view v;

	for (const struct km_table *t = p->first; t; t = t->next) {
		if (!km_view_of(p, t, &v))
			continue;
		write_heading(p, t);
		if (!v.rows)
			paragraphs(p, &v, false);
		else if (km_view_is_list(&v))
			write_items(p, &v);
		else
			write_table(p, &v);
	}
}

void km_html_pre(struct km_page *p)
{
	struct km_buf text = p->out;

	km_buf_init(&p->out, p->mem);
	p->failed |= km_buf_failed(&text);
	km_html_open(p, NULL);
	km_buf_str(&p->out, "<pre>");
	if (text.len && !p->failed)
		km_escape_html(&p->out, text.text, text.len);
	km_buf_str(&p->out, "</pre>\n");
	km_html_close(p);
}

void km_out_html(struct km_page *p)
{
	km_html_open(p, NULL);
	km_html_tables(p);
	km_html_close(p);
}
