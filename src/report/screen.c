/* SPDX-License-Identifier: MIT */
#include "report/screen.h"

#include <assert.h>
#include <string.h>

#include "base/escape.h"
#include "base/str.h"
#include "report/encode.h"

#define LABEL 10		/* cells of a label */
#define COUNT 3
#define INDENT (LABEL + COUNT + 2)
#define CUT "..."

struct km_block *km_screen_block(struct km_screen *s, const char *label)
{
	struct km_block *b;

	assert(s->n < KM_SCREEN_LINES);
	b = &s->block[s->n++];
	*b = (struct km_block){ .label = label, .count = -1, .rows = true,
				.least = 1 };
	return b;
}

uint32_t km_screen_least(const struct km_screen *s)
{
	uint32_t n = 0;

	for (uint32_t i = 0; i < s->n; i++) {
		const struct km_block *b = &s->block[i];

		n += b->first && b->n > b->least ? b->n : b->least;
	}
	return n;
}

static const char *escaped(struct km_page *p, struct km_buf *raw)
{
	struct km_buf b;

	km_buf_init(&b, p->mem);
	if (raw && raw->len)
		km_escape_terminal(&b, raw->text, raw->len);
	if (km_buf_failed(&b) || (raw && km_buf_failed(raw)))
		p->failed = true;
	if (raw)
		km_buf_clear(raw);
	return b.len ? b.text : "";
}

void km_screen_item(struct km_screen *s, struct km_buf *head,
		    struct km_buf *tail)
{
	struct km_block *b = &s->block[s->n - 1];

	if (b->n == b->room) {
		uint32_t room = b->room ? b->room * 2 : 8;
		struct km_item *v = km_arena_alloc(s->page->mem, room,
						   sizeof *v);

		if (!v) {
			s->page->failed = true;
			return;
		}
		if (b->n)
			memcpy(v, b->items, b->n * sizeof *v);
		b->items = v;
		b->room = room;
	}
	b->items[b->n].head = escaped(s->page, head);
	b->items[b->n++].tail = escaped(s->page, tail);
}

static size_t cells(const char *text)
{
	return km_utf8_cells(text, strlen(text));
}

static size_t digits(uint32_t n)
{
	size_t d = 1;

	while (n /= 10)
		d++;
	return d;
}

/* Cells of " +n"; none when nothing is left over. */
static size_t more_cells(uint32_t n)
{
	return n ? 2 + digits(n) : 0;
}

static size_t item_cells(const struct km_item *i)
{
	size_t gap = *i->head && *i->tail ? 1 : 0;

	return cells(i->head) + gap + cells(i->tail);
}

/* ------------------------------------------------------------------ */
/* Writing one block                                                   */

struct pen {
	struct km_screen *s;
	struct km_buf *out;
	size_t width;		/* of the screen */
	bool dry;		/* only count */
	uint32_t lines;		/* begun so far */
	size_t at;
};

static void begin_line(struct pen *p, const struct km_block *b)
{
	if (p->lines++ && !p->dry)
		km_buf_char(p->out, '\n');
	p->at = INDENT;
	if (p->dry)
		return;
	if (p->lines > 1) {
		km_buf_fill(p->out, ' ', INDENT);
		return;
	}
	km_toned(p->out, b->label, b->tone, p->s->page->o.colour);
	km_buf_fill(p->out, ' ', LABEL - cells(b->label));
	if (b->count >= 0)
		km_buf_printf(p->out, "%*d  ", COUNT, (int)b->count);
	else
		km_buf_fill(p->out, ' ', COUNT + 2);
}

static void put(struct pen *p, const char *text, size_t n)
{
	if (!p->dry)
		km_buf_add(p->out, text, n);
	p->at += km_utf8_cells(text, n);
}

/* As much of text as fits into room cells, and "..." when it was cut. */
static void put_cut(struct pen *p, const char *text, size_t room)
{
	struct km_slice s = km_slice_of(text);
	size_t used = 0, n = 0;

	if (cells(text) <= room) {
		put(p, text, s.n);
		return;
	}
	if (room <= strlen(CUT))
		return;
	room -= strlen(CUT);
	while (s.n) {
		const char *c = s.p;

		(void)km_utf8_next(&s);
		used += km_utf8_cells(c, (size_t)(s.p - c));
		if (used > room)
			break;
		n = (size_t)(s.p - text);
	}
	while (n && text[n - 1] == ' ')
		n--;
	put(p, text, n);
	put(p, CUT, strlen(CUT));
}

/* Head whole, then the tail in what is left of room. */
static void put_item(struct pen *p, const struct km_item *i, size_t room)
{
	size_t head = cells(i->head);

	put(p, i->head, strlen(i->head));
	if (!*i->tail)
		return;
	if (*i->head) {
		if (room < head + 5)
			return;
		put(p, " ", 1);
		head++;
	}
	put_cut(p, i->tail, room - head);
}

static void put_more(struct pen *p, const struct km_block *b, uint32_t n)
{
	char text[16];	/* '+' and ten digits */
	size_t at = sizeof text;

	if (!n)
		return;
	if (!p->lines)
		begin_line(p, b);
	for (; n; n /= 10)
		text[--at] = (char)('0' + n % 10);
	text[--at] = '+';
	if (p->at > INDENT)
		put(p, " ", 1);
	put(p, text + at, sizeof text - at);
}

/* Several items a line, ", " between. */
static void write_run(struct pen *p, const struct km_block *b, uint32_t lines)
{
	uint32_t i = 0;

	for (; i < b->n; i++) {
		size_t need = item_cells(&b->items[i]);
		size_t head = cells(b->items[i].head);
		uint32_t left = b->n - i - 1;
		size_t comma = left ? 1 : 0;
		size_t end = p->width;

		if (p->lines == lines || (!p->lines && lines == 1))
			end -= more_cells(left);
		if (p->lines && p->at > INDENT &&
		    p->at + 1 + need + comma <= end) {
			put(p, " ", 1);
		} else {
			if (p->lines == lines)
				break;
			end = p->width - (p->lines + 1 == lines
						  ? more_cells(left) : 0);
			if (INDENT + head + comma > end)
				break;
			begin_line(p, b);
		}
		put_item(p, &b->items[i], end - p->at - comma);
		if (left)
			put(p, ",", 1);
	}
	put_more(p, b, b->n - i);
}

/* Lines that an item takes when its tail is wrapped. */
static uint32_t tall(const struct km_item *i, size_t width)
{
	size_t room = width - INDENT;
	size_t need = item_cells(i);

	/* the second line is indented by 2; a word more is allowed for */
	return need <= room ? 1 : need <= 2 * room - 24 ? 2 : 3;
}

/* One item over several lines, broken at blanks; the last is cut. */
static void write_tall(struct pen *p, const struct km_block *b,
		       const struct km_item *i, uint32_t lines, size_t room)
{
	const char *rest = i->tail;

	put(p, i->head, strlen(i->head));
	if (*i->head && *rest)
		put(p, " ", 1);
	while (lines > 1 && p->at + cells(rest) > INDENT + room) {
		const char *cut = NULL, *next = rest;

		while ((next = strchr(next, ' ')) != NULL &&
		       p->at + km_utf8_cells(rest, (size_t)(next - rest)) <=
			       INDENT + room)
			cut = next++;
		if (!cut)
			break;
		put(p, rest, (size_t)(cut - rest));
		rest = cut + 1;
		begin_line(p, b);
		put(p, "  ", 2);
		lines--;
	}
	put_cut(p, rest, p->at < INDENT + room ? INDENT + room - p->at : 0);
}

/* The ids of the items from `from` on, as many as one line takes. */
static uint32_t write_ids(struct pen *p, const struct km_block *b,
			  uint32_t from)
{
	uint32_t i = from;

	for (; i < b->n; i++) {
		const char *id = b->items[i].head;
		uint32_t left = b->n - i - 1;
		size_t need = cells(id) + (i > from) + (left ? 1 : 0);
		size_t at = i == from ? INDENT : p->at;

		if (at + need + more_cells(left) > p->width)
			break;
		if (i == from)
			begin_line(p, b);
		else
			put(p, " ", 1);
		put(p, id, strlen(id));
		if (left)
			put(p, ",", 1);
	}
	return i;
}

/* One item a line, some over several when there are lines to spare; when
 * there are too few, the last line has the ids of the rest. */
static void write_rows(struct pen *p, const struct km_block *b, uint32_t lines)
{
	uint32_t shown = b->n < lines ? b->n : lines;
	uint32_t spare = lines - shown;
	bool ids = b->n > lines && *b->items[lines - 1].head;
	uint32_t i;

	for (i = 0; i < shown - ids; i++) {
		const struct km_item *it = &b->items[i];
		uint32_t left = i + 1 == shown ? b->n - shown : 0;
		size_t room = p->width - INDENT - more_cells(left);
		uint32_t extra = tall(it, p->width) - 1;

		extra = extra < spare ? extra : spare;
		spare -= extra;
		if (cells(it->head) > room)
			break;
		begin_line(p, b);
		write_tall(p, b, it, 1 + extra, room);
	}
	if (ids && i + 1 == shown)
		i = write_ids(p, b, i);
	put_more(p, b, b->n - i);
}

static void write_block(struct pen *p, const struct km_block *b, uint32_t lines)
{
	p->lines = 0;
	if (b->rows)
		write_rows(p, b, lines);
	else
		write_run(p, b, lines);
	if (!p->lines)
		begin_line(p, b);	/* a label alone still says something */
	if (!p->dry)
		km_buf_char(p->out, '\n');
}

/* ------------------------------------------------------------------ */
/* The screen                                                          */

/* Lines that a block could use; more than a screen has is never asked for. */
static void measure(struct pen *p, struct km_block *b)
{
	uint32_t n = 0;

	if (!b->rows) {
		p->dry = true;
		p->lines = 0;
		write_run(p, b, KM_SCREEN_LINES);
		p->dry = false;
		b->to_name = b->to_say_all = p->lines ? p->lines : 1;
		return;
	}
	b->to_name = b->n ? b->n : 1;
	if (b->most && b->n > b->most) {
		b->to_name = b->to_say_all = b->most;
		return;
	}
	for (uint32_t i = 0; i < b->n; i++)
		n += tall(&b->items[i], p->width);
	b->to_say_all = n ? n : 1;
}

/* Blocks that come first get a line for each item. */
static uint32_t serve_first(struct km_screen *s, uint32_t budget)
{
	for (uint32_t i = 0; i < s->n; i++) {
		struct km_block *b = &s->block[i];

		while (b->first && budget && b->lines < b->to_name) {
			b->lines++;
			budget--;
		}
	}
	return budget;
}

/* A line to each block in turn, until each has what it could use. */
static uint32_t go_round(struct km_screen *s, uint32_t budget, bool say_all)
{
	bool any = true;

	while (budget && any) {
		any = false;
		for (uint32_t i = 0; i < s->n && budget; i++) {
			struct km_block *b = &s->block[i];

			if (b->lines >= (say_all ? b->to_say_all : b->to_name))
				continue;
			b->lines++;
			budget--;
			any = true;
		}
	}
	return budget;
}

static uint32_t share_out(struct pen *p)
{
	uint32_t budget = KM_SCREEN_LINES;

	for (uint32_t i = 0; i < p->s->n; i++) {
		struct km_block *b = &p->s->block[i];

		measure(p, b);
		b->lines = b->least;
		budget -= b->least < budget ? b->least : budget;
	}
	budget = serve_first(p->s, budget);
	budget = go_round(p->s, budget, false);
	return go_round(p->s, budget, true);
}

/* Broken at blanks, and a word that is longer than a line is left so. */
static void put_wrapped(struct pen *p, const struct km_block *b,
			const char *rest)
{
	while (p->at + cells(rest) > p->width) {
		const char *cut = strchr(rest, ' '), *next = cut;

		while (next && p->at + km_utf8_cells(rest,
						     (size_t)(next - rest)) <=
				       p->width) {
			cut = next;
			next = strchr(next + 1, ' ');
		}
		if (!cut)
			break;
		put(p, rest, (size_t)(cut - rest));
		rest = cut + 1;
		begin_line(p, b);
		put(p, "  ", 2);
	}
	put(p, rest, strlen(rest));
}

static void write_whole_block(struct pen *p, const struct km_block *b)
{
	struct km_buf one;

	km_buf_init(&one, p->s->page->mem);
	p->lines = 0;
	for (uint32_t i = 0; i < b->n; i++) {
		const struct km_item *it = &b->items[i];

		km_buf_clear(&one);
		km_buf_printf(&one, "%s%s%s%s", it->head,
			      *it->head && *it->tail ? " " : "", it->tail,
			      b->rows || i + 1 == b->n ? "" : ",");
		if (km_buf_failed(&one)) {
			p->s->page->failed = true;
			return;
		}
		if (!b->rows && i &&
		    p->at + 1 + cells(one.len ? one.text : "") <= p->width)
			put(p, " ", 1);
		else
			begin_line(p, b);
		put_wrapped(p, b, one.len ? one.text : "");
	}
	if (!p->lines)
		begin_line(p, b);
	km_buf_char(p->out, '\n');
}

static void write_whole(struct pen *p)
{
	for (uint32_t i = 0; i < p->s->n; i++) {
		if (p->s->block[i].part && i)
			km_buf_char(p->out, '\n');
		write_whole_block(p, &p->s->block[i]);
	}
}

/* One record a line: label, count, items. */
static void write_plain(struct km_screen *s)
{
	struct km_buf *out = &s->page->out;

	for (uint32_t i = 0; i < s->n; i++) {
		const struct km_block *b = &s->block[i];

		km_buf_str(out, b->label);
		if (b->count >= 0)
			km_buf_printf(out, " %d", (int)b->count);
		km_buf_char(out, ':');
		for (uint32_t k = 0; k < b->n; k++) {
			const struct km_item *it = &b->items[k];

			km_buf_printf(out, "%s%s%s%s", k ? "; " : " ",
				      it->head,
				      *it->head && *it->tail ? " " : "",
				      it->tail);
		}
		km_buf_char(out, '\n');
	}
}

/* ------------------------------------------------------------------ */
/* As a table                                                          */

enum { V_LABEL, V_COUNT, V_ITEMS, V_COLUMNS };

struct km_table *km_screen_view(struct km_page *p)
{
	static const struct km_column columns[V_COLUMNS] = {
		[V_LABEL] = { NULL, "about", KM_COL_WORD, false },
		[V_COUNT] = { NULL, "number", KM_COL_COUNT, false },
		[V_ITEMS] = { NULL, "what", KM_COL_LIST, false },
	};
	struct km_table *t = km_page_table(p, "kit", columns, V_COLUMNS);

	if (t)
		t->show = KM_SHOW_TEXT;
	return t;
}

/* Items that share a line on the screen share one here. */
static void view_items(struct km_screen *s, const struct km_block *b)
{
	struct km_buf line;

	km_buf_init(&line, s->page->mem);
	for (uint32_t i = 0; i < b->n; i++) {
		const struct km_item *it = &b->items[i];

		km_buf_printf(&line, "%s%s%s%s", line.len ? ", " : "",
			      it->head, *it->head && *it->tail ? " " : "",
			      it->tail);
		if (b->rows || i + 1 == b->n)
			km_put_item(s->view, V_ITEMS, &line);
	}
}

static void write_view(struct km_screen *s)
{
	for (uint32_t i = 0; i < s->n; i++) {
		const struct km_block *b = &s->block[i];

		km_table_row(s->view);
		km_put_word(s->view, V_LABEL, b->label, b->tone);
		if (b->count >= 0)
			km_put_int(s->view, V_COUNT, b->count);
		view_items(s, b);
	}
}

void km_screen_write(struct km_screen *s)
{
	struct pen p = { .s = s, .out = &s->page->out,
			 .width = KM_SCREEN_CELLS };
	uint32_t spare;

	if (s->view) {
		write_view(s);
		return;
	}
	if (s->page->o.plain) {
		write_plain(s);
		return;
	}
	if (s->whole) {
		write_whole(&p);
		return;
	}
	spare = share_out(&p);
	for (uint32_t i = 0; i < s->n; i++) {
		if (s->block[i].part && spare && i) {
			km_buf_char(p.out, '\n');
			spare--;
		}
		write_block(&p, &s->block[i], s->block[i].lines);
	}
}
