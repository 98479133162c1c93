/* SPDX-License-Identifier: MIT */
#include "report/encode.h"

#include <string.h>

#include "base/escape.h"
#include "base/str.h"

#define BETWEEN 2		/* blanks between columns */
#define FLEX_LEAST 24		/* narrower, and the text goes underneath */
#define UNDER_INDENT 4
#define JOIN "; "		/* between texts of a list on one line */
#define WIDTH_NONE SIZE_MAX

void km_toned(struct km_buf *b, const char *word, enum km_tone tone,
	      bool colour)
{
	static const char *const code[] = {
		[KM_TONE_GOOD] = "34", [KM_TONE_WORK] = "33",
		[KM_TONE_OPEN] = "1", [KM_TONE_DIM] = "2",
	};

	if (!colour || tone == KM_TONE_NONE) {
		km_buf_str(b, word);
		return;
	}
	km_buf_printf(b, "\x1b[%sm%s\x1b[0m", code[tone], word);
}

size_t km_cells(struct km_buf *scratch, const char *text)
{
	km_buf_clear(scratch);
	km_escape_terminal(scratch, text, strlen(text));
	return scratch->len ? km_utf8_cells(scratch->text, scratch->len) : 0;
}

/*
 * The first line of s that fits into width cells: up to the last blank that
 * does, or, in a word longer than the width, as much as fits.  Moves s past
 * it and the blanks behind.
 */
static struct km_slice take_line(struct km_slice *s, size_t width)
{
	struct km_slice rest = *s, line = *s;
	size_t cells = 0, at = 0, blank = 0;

	while (rest.n) {
		const char *p = rest.p;
		size_t n;

		(void)km_utf8_next(&rest);
		n = (size_t)(rest.p - p);
		cells += km_utf8_cells(p, n);
		if (*p == ' ')
			blank = at;
		else if (cells > width && at)
			break;
		at += n;
		if (!rest.n)
			blank = at;
	}
	line.n = blank ? blank : at;
	s->p += line.n;
	s->n -= line.n;
	km_slice_skip_blanks(s);
	while (line.n && line.p[line.n - 1] == ' ')
		line.n--;
	return line;
}

void km_wrap(struct km_buf *b, const char *text, size_t at, size_t indent,
	     size_t width)
{
	struct km_buf safe;
	struct km_slice s;

	km_buf_init(&safe, b->mem);
	km_escape_terminal(&safe, text, strlen(text));
	s = (struct km_slice){ safe.len ? safe.text : "", safe.len };
	while (s.n) {
		size_t room = !width ? WIDTH_NONE : width > at ? width - at : 1;
		struct km_slice line = take_line(&s, room);

		km_buf_add(b, line.p, line.n);
		km_buf_char(b, '\n');
		if (s.n)
			km_buf_fill(b, ' ', indent);
		at = indent;
	}
	if (!safe.len)
		km_buf_char(b, '\n');
	if (km_buf_failed(&safe))
		b->failed = true;
}

/* ------------------------------------------------------------------ */
/* The grid                                                            */

struct lane {			/* one shown column */
	uint32_t column;
	size_t width, at;
	bool right;
};

struct grid {
	struct km_page *p;
	const struct km_table *t;
	struct lane *lane;
	uint32_t n;
	uint32_t flex;		/* lane that wraps; n: none */
	size_t flex_width;
	bool under;		/* the flexible lane stands below its row */
	struct km_buf safe;	/* one cell, escaped */
	struct km_buf item;	/* one text of the flexible cell */
};

static bool is_shown(const struct km_table *t, const struct km_row *r)
{
	return !r->section && (r->show & KM_SHOW_TEXT) && r->cells &&
	       t->show & KM_SHOW_TEXT;
}

static bool wraps(const struct km_column *c)
{
	return c->kind == KM_COL_TEXT || c->kind == KM_COL_LIST;
}

/* One cell that is no list, escaped, into g->safe. */
static void write_cell(struct grid *g, const struct km_column *c,
		       const struct km_cell *cell)
{
	km_buf_clear(&g->safe);
	if (!cell->there)
		return;
	if (km_column_is_number(c))
		km_cell_number(&g->safe, g->t, c, cell);
	else if (c->kind == KM_COL_FLAG)
		km_buf_str(&g->safe, cell->n ? "yes" : "no");
	else if (cell->text)
		km_escape_terminal(&g->safe, cell->text, strlen(cell->text));
}

static size_t safe_cells(const struct grid *g)
{
	return g->safe.len ? km_utf8_cells(g->safe.text, g->safe.len) : 0;
}

/* Cells of a list: the longest of its texts, or all of them on one line. */
static size_t list_cells(struct grid *g, const struct km_cell *cell)
{
	size_t most = 0, all = 0;

	for (uint32_t i = 0; i < cell->n_list; i++) {
		size_t w = km_cells(&g->safe, cell->list[i]);

		most = w > most ? w : most;
		all += w + (i ? strlen(JOIN) : 0);
	}
	return g->p->o.plain ? all : most;
}

/* The widest cell of a column; 0: it is empty throughout. */
static size_t widest(struct grid *g, uint32_t column)
{
	size_t most = 0;

	for (const struct km_row *r = g->t->first; r; r = r->next) {
		const struct km_cell *cell;
		size_t w;

		if (!is_shown(g->t, r))
			continue;
		cell = &r->cells[column];
		if (cell->n_list) {
			w = list_cells(g, cell);
		} else {
			write_cell(g, &g->t->columns[column], cell);
			w = safe_cells(g);
		}
		most = w > most ? w : most;
	}
	return most;
}

static void choose_lanes(struct grid *g)
{
	for (uint32_t i = 0; i < g->t->n_columns; i++) {
		const struct km_column *c = &g->t->columns[i];
		size_t w, head;

		if (!c->heading || (c->only_plain && !g->p->o.plain))
			continue;
		w = widest(g, i);
		if (!w)
			continue;
		head = g->p->o.plain ? 0
				     : km_utf8_cells(c->heading,
						     strlen(c->heading));
		if (wraps(c))
			g->flex = g->n;
		g->lane[g->n++] = (struct lane){
			.column = i, .width = w > head ? w : head,
			.right = km_column_is_number(c) };
	}
}

/* Where each lane begins, and what is left for the one that wraps. */
static void place_lanes(struct grid *g, size_t width)
{
	size_t fixed = 0, at = 0;

	for (uint32_t i = 0; i < g->n; i++)
		if (i != g->flex)
			fixed += g->lane[i].width + BETWEEN;
	g->flex_width = WIDTH_NONE;
	if (width && g->flex < g->n) {
		g->under = width < fixed + FLEX_LEAST;
		if (!g->under)
			g->flex_width = width - fixed;
		else
			g->flex_width = width > 2 * UNDER_INDENT
						? width - UNDER_INDENT
						: UNDER_INDENT;
	}
	for (uint32_t i = 0; i < g->n; i++) {
		bool flex = i == g->flex;
		bool last = i + 1 == g->n;

		g->lane[i].at = flex && g->under ? UNDER_INDENT : at;
		if (!flex)
			at += g->lane[i].width + BETWEEN;
		else if (!g->under)
			at += last || g->flex_width == WIDTH_NONE
				      ? g->lane[i].width + BETWEEN
				      : g->flex_width + BETWEEN;
	}
}

/* What is left to print of a flexible cell. */
struct rest {
	const struct km_cell *cell;
	uint32_t next;
	struct km_slice s;
	bool begun;		/* later lines of one text are indented */
};

static bool load_item(struct grid *g, struct rest *r)
{
	const char *text = NULL;

	if (r->cell->n_list) {
		if (r->next < r->cell->n_list)
			text = r->cell->list[r->next++];
	} else if (!r->next++) {
		text = r->cell->text;
	}
	if (!text)
		return false;
	km_buf_clear(&g->item);
	km_escape_terminal(&g->item, text, strlen(text));
	r->s = (struct km_slice){ g->item.len ? g->item.text : "",
				  g->item.len };
	r->begun = false;
	return true;
}

/* The next line of a flexible cell; *indent says how far it moves in. */
static bool next_line(struct grid *g, struct rest *r, struct km_slice *line,
		      size_t *indent)
{
	if (!r->s.n && !load_item(g, r))
		return false;
	*indent = r->begun && g->flex_width > FLEX_LEAST / 2 ? 2 : 0;
	*line = take_line(&r->s, g->flex_width == WIDTH_NONE
					? WIDTH_NONE
					: g->flex_width - *indent);
	r->begun = true;
	return true;
}

/* Blanks up to a cell, then text: so no line ends in blanks. */
static void write_at(struct grid *g, size_t *now, size_t at, const char *text,
		     size_t n)
{
	if (!n)
		return;
	if (at > *now) {
		km_buf_fill(&g->p->out, ' ', at - *now);
		*now = at;
	}
	km_buf_add(&g->p->out, text, n);
	*now += km_utf8_cells(text, n);
}

static void write_lane(struct grid *g, const struct km_row *r, uint32_t i,
		       size_t *now)
{
	const struct lane *l = &g->lane[i];
	const struct km_cell *cell = &r->cells[l->column];
	size_t cells, at = l->at;

	write_cell(g, &g->t->columns[l->column], cell);
	cells = safe_cells(g);
	if (l->right && l->width > cells)
		at += l->width - cells;
	if (cell->tone == KM_TONE_NONE || !g->p->o.colour || !cells) {
		write_at(g, now, at, g->safe.text, g->safe.len);
		return;
	}
	if (at > *now)
		km_buf_fill(&g->p->out, ' ', at - *now);
	*now = at + cells;
	km_toned(&g->p->out, g->safe.text, cell->tone, true);
}

static void write_joined(struct grid *g, const struct km_cell *c, size_t *now)
{
	size_t at = g->lane[g->flex].at;

	for (uint32_t i = 0; i < c->n_list; i++) {
		km_buf_clear(&g->item);
		km_escape_terminal(&g->item, c->list[i], strlen(c->list[i]));
		if (i)
			write_at(g, now, *now, JOIN, strlen(JOIN));
		write_at(g, now, i ? *now : at, g->item.text, g->item.len);
	}
}

static void end_line(struct grid *g, size_t now)
{
	if (now)
		km_buf_char(&g->p->out, '\n');
}

/* The lines of a flexible cell that are still to come. */
static void write_rest(struct grid *g, struct rest *rest)
{
	struct km_slice line;
	size_t indent;

	while (next_line(g, rest, &line, &indent)) {
		size_t now = 0;

		write_at(g, &now, g->lane[g->flex].at + indent, line.p, line.n);
		end_line(g, now);
	}
}

/* Where the text finds no room beside the rest, it stands between what comes
 * before it and what comes after. */
static void write_row_under(struct grid *g, const struct km_row *r)
{
	struct rest rest = { .cell = &r->cells[g->lane[g->flex].column] };
	size_t now = 0;

	for (uint32_t i = 0; i < g->flex; i++)
		write_lane(g, r, i, &now);
	end_line(g, now);
	write_rest(g, &rest);
	now = 0;
	for (uint32_t i = g->flex + 1; i < g->n; i++)
		write_lane(g, r, i, &now);
	end_line(g, now);
}

static void write_row(struct grid *g, const struct km_row *r)
{
	struct rest rest = { 0 };
	struct km_slice line;
	size_t now = 0, indent;
	bool more = false;

	if (g->flex < g->n)
		rest.cell = &r->cells[g->lane[g->flex].column];
	for (uint32_t i = 0; i < g->n; i++) {
		if (i != g->flex) {
			write_lane(g, r, i, &now);
		} else if (g->p->o.plain && rest.cell->n_list) {
			write_joined(g, rest.cell, &now);
		} else {
			more = next_line(g, &rest, &line, &indent);
			if (more)
				write_at(g, &now, g->lane[i].at + indent,
					 line.p, line.n);
		}
	}
	km_buf_char(&g->p->out, '\n');
	if (more)
		write_rest(g, &rest);
}

static void write_heading(struct grid *g)
{
	size_t now = 0;

	for (uint32_t i = 0; i < g->n; i++) {
		const char *text =
			g->t->columns[g->lane[i].column].heading;
		size_t cells = km_utf8_cells(text, strlen(text));
		size_t at = g->lane[i].at;

		if (i == g->flex && g->under)
			continue;
		if (g->lane[i].right)
			at += g->lane[i].width - cells;
		write_at(g, &now, at, text, strlen(text));
	}
	if (now)
		km_buf_char(&g->p->out, '\n');
}

static bool any_row(const struct km_table *t)
{
	for (const struct km_row *r = t->first; r; r = r->next)
		if (is_shown(t, r))
			return true;
	return false;
}

static void write_table(struct km_page *p, const struct km_table *t)
{
	struct grid g = { .p = p, .t = t };
	bool line_before = false;

	g.lane = km_arena_alloc(p->mem, t->n_columns, sizeof *g.lane);
	if (!g.lane) {
		p->failed = true;
		return;
	}
	km_buf_init(&g.safe, p->mem);
	km_buf_init(&g.item, p->mem);
	g.flex = UINT32_MAX;
	choose_lanes(&g);
	if (g.flex > g.n)
		g.flex = g.n;
	place_lanes(&g, p->o.plain ? 0 : p->o.width);
	if (!p->o.plain && any_row(t)) {
		write_heading(&g);
		line_before = true;
	}
	for (const struct km_row *r = t->first; r; r = r->next) {
		if (r->section && !p->o.plain) {
			if (line_before)
				km_buf_char(&p->out, '\n');
			km_wrap(&p->out, r->section, 0, 2, p->o.width);
		} else if (is_shown(t, r) && g.under) {
			write_row_under(&g, r);
		} else if (is_shown(t, r)) {
			write_row(&g, r);
		}
		line_before = !r->section;
	}
	if (km_buf_failed(&g.safe) || km_buf_failed(&g.item))
		p->failed = true;
}

void km_out_text(struct km_page *p)
{
	for (const struct km_table *t = p->first; t; t = t->next)
		if (t->show & KM_SHOW_TEXT) {
			if (p->out.len && !p->o.plain)
				km_buf_char(&p->out, '\n');
			write_table(p, t);
		}
}
