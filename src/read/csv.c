/* SPDX-License-Identifier: MIT */
#include "read/csv.h"

#include <string.h>

enum { END = -1, FAILED = -2 };

static bool fill(struct km_csv *c)
{
	c->used = 0;
	return km_text_read(&c->text, c->chunk, KM_CSV_CHUNK, &c->got);
}

/* The whole first line, if it fits, however few bytes come at a time. */
static bool fill_line(struct km_csv *c)
{
	size_t got;

	do {
		if (!km_text_read(&c->text, c->chunk + c->got,
				  KM_CSV_CHUNK - c->got, &got))
			return false;
		c->got += got;
	} while (got && c->got < KM_CSV_CHUNK &&
		 !memchr(c->chunk, '\n', c->got));
	return true;
}

/* The next byte without taking it, END or FAILED. */
static int peek(struct km_csv *c)
{
	if (c->used == c->got && !fill(c))
		return FAILED;
	return c->got ? c->chunk[c->used] : END;
}

static void take(struct km_csv *c)
{
	unsigned char b = c->chunk[c->used++];

	if (b == '\n' || b == '\r') {
		if (!(b == '\n' && c->after_cr))
			c->line++;
		c->column = 1;
	} else if ((b & 0xc0) != 0x80) {
		c->column++;
	}
	c->after_cr = b == '\r';
}

/* Whichever of , ; and tab the first line has most of. */
static char find_delimiter(const struct km_csv *c)
{
	static const char all[] = ",;\t";
	size_t count[3] = { 0, 0, 0 }, i, best = 0;
	const char *which;
	bool quoted = false;

	for (i = 0; i < c->got; i++) {
		if (c->chunk[i] == '"')
			quoted = !quoted;
		if (quoted || !c->chunk[i])
			continue;
		if (c->chunk[i] == '\n' || c->chunk[i] == '\r')
			break;
		which = strchr(all, c->chunk[i]);
		if (which)
			count[which - all]++;
	}
	for (i = 1; i < 3; i++)
		if (count[i] > count[best])
			best = i;
	return all[best];
}

enum km_status km_csv_open(struct km_csv *c, const struct km_input *in,
			   const char *file, const struct km_limits *lim,
			   struct km_arena *mem, struct km_diags *d)
{
	memset(c, 0, sizeof *c);
	c->d = d;
	c->file = file;
	c->mem = mem;
	c->line = c->column = 1;
	c->chunk = km_arena_raw(mem, KM_CSV_CHUNK, 1);
	if (!c->chunk)
		return KM_ENOMEM;
	km_buf_init(&c->bytes, mem);
	km_text_init(&c->text, in, lim, d);
	c->text.table = true;
	if (!fill_line(c))
		return c->text.status;
	if (c->got >= 3 && !memcmp(c->chunk, "\xef\xbb\xbf", 3))
		c->used = 3;
	c->delimiter = find_delimiter(c);
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Cells                                                               */

static struct km_place here(const struct km_csv *c)
{
	return (struct km_place){ c->file, c->line, c->column };
}

static bool ends_cell(const struct km_csv *c, int b)
{
	return b < 0 || b == c->delimiter || b == '\n' || b == '\r';
}

/* Behind the opening mark; false at a mistake that ends the file. */
static bool quoted_cell(struct km_csv *c, struct km_place open)
{
	struct km_diag *one;
	bool said = false;
	int b;

	for (;;) {
		b = peek(c);
		if (b == FAILED)
			return false;
		if (b == END) {
			km_diag_add(c->d, KM_M_CSV_UNCLOSED, open);
			c->text.status = KM_EINPUT;
			return false;
		}
		take(c);
		if (b != '"') {
			km_buf_char(&c->bytes, (char)b);
			continue;
		}
		b = peek(c);
		if (b != '"')
			break;
		take(c);
		km_buf_char(&c->bytes, '"');
	}
	while (b = peek(c), !ends_cell(c, b)) {
		if (b != ' ' && b != '\t' && !said) {
			one = km_diag_add(c->d, KM_M_CSV_QUOTE, here(c));
			km_diag_hint(c->d, one, "write a quotation mark "
				     "inside a quoted cell twice");
			c->wrong = said = true;
		}
		take(c);
	}
	return b != FAILED;
}

static void trim(struct km_csv *c, size_t start)
{
	while (c->bytes.len > start &&
	       (c->bytes.text[c->bytes.len - 1] == ' ' ||
		c->bytes.text[c->bytes.len - 1] == '\t'))
		c->bytes.len--;
}

/* One cell up to what ends it; false: the file is over by a mistake. */
static bool read_cell(struct km_csv *c)
{
	struct km_cell cell = { NULL, 0, 0, 0, false };
	struct km_place open;
	size_t start;
	int b;

	while (b = peek(c), b == ' ' || (b == '\t' && c->delimiter != '\t'))
		take(c);
	cell.line = c->line;
	cell.column = c->column;
	start = c->bytes.len;
	if (b == '"' && !c->lines) {
		open = here(c);
		take(c);
		cell.quoted = true;
		if (!quoted_cell(c, open))
			return false;
	} else {
		for (; !ends_cell(c, b); b = peek(c)) {
			km_buf_char(&c->bytes, (char)b);
			take(c);
		}
		trim(c, start);
	}
	cell.n = (uint32_t)(c->bytes.len - start);
	km_buf_char(&c->bytes, '\0');
	if (c->n < KM_CSV_COLUMNS) {
		c->start[c->n] = start;
		c->cell[c->n++] = cell;
	} else {
		c->too_many = true;
	}
	return peek(c) != FAILED;
}

static bool read_row(struct km_csv *c)
{
	int b;

	km_buf_clear(&c->bytes);
	c->n = 0;
	c->text.ahead = 0;
	c->wrong = false;
	for (;;) {
		if (!read_cell(c))
			return false;
		b = peek(c);
		if (b != c->delimiter)
			break;
		take(c);
	}
	if (b == '\r') {
		take(c);
		b = peek(c);
	}
	if (b == '\n')
		take(c);
	return b != FAILED;
}

static bool is_blank(const struct km_csv *c)
{
	uint32_t i;

	for (i = 0; i < c->n; i++)
		if (c->cell[i].n)
			return false;
	return true;
}

enum km_status km_csv_next(struct km_csv *c)
{
	struct km_place row;
	uint32_t i;
	int b;

	do {
		b = peek(c);
		if (b == END) {
			c->n = 0;
			return KM_OK;
		}
		row = here(c);
		if (b == FAILED || !read_row(c)) {
			if (c->text.too_long)
				km_diag_add(c->d, KM_M_ITEM_TOO_LONG, row,
					    (unsigned long long)
						    c->text.item_bytes);
			return c->text.status;
		}
		if (km_buf_failed(&c->bytes))
			return KM_ENOMEM;
	} while (is_blank(c));
	if (c->too_many) {
		km_diag_add(c->d, KM_M_CSV_COLUMNS, row,
			    (unsigned)KM_CSV_COLUMNS);
		return KM_EINPUT;
	}
	for (i = 0; i < c->n; i++)
		c->cell[i].text = c->bytes.text + c->start[i];
	return KM_OK;
}
