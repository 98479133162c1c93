/* SPDX-License-Identifier: MIT */
#include "base/mdoc.h"

#include <string.h>

#define LINE_MOST 78

static bool at_line_start(const struct km_buf *b)
{
	return !b->len || b->text[b->len - 1] == '\n';
}

/* One character; those that mean something to a formatter by name. */
static void put(struct km_buf *b, char c)
{
	if (at_line_start(b) && (c == '.' || c == '\''))
		km_buf_str(b, "\\&");
	if (c == '\\')
		km_buf_str(b, "\\e");
	else
		km_buf_char(b, c);
}

/* Does a sentence end before the blank at p, and another begin after it? */
static bool ends_sentence(const char *text, const char *p)
{
	return p > text && p[1] && (p[-1] == '.' || p[-1] == '?' ||
				    p[-1] == '!') && p[1] >= 'A' && p[1] <= 'Z';
}

/* Cells of the line that b is at. */
static size_t line_cells(const struct km_buf *b)
{
	size_t n = 0;

	while (n < b->len && b->text[b->len - 1 - n] != '\n')
		n++;
	return n;
}

void km_mdoc_text(struct km_buf *b, const char *text)
{
	for (const char *p = text; *p; p++) {
		size_t word = strcspn(p + 1, " \n");

		if (*p == ' ' && (ends_sentence(text, p) ||
				  line_cells(b) + word >= LINE_MOST))
			km_buf_char(b, '\n');
		else if (*p != ' ' || !at_line_start(b))
			put(b, *p);
	}
	if (!at_line_start(b))
		km_buf_char(b, '\n');
}

void km_mdoc_word(struct km_buf *b, const char *text)
{
	km_buf_str(b, " \"");
	for (; *text; text++)
		if (*text == '"')
			km_buf_str(b, "\\(dq");
		else if (*text == '\\')
			km_buf_str(b, "\\e");
		else
			km_buf_char(b, *text);
	km_buf_char(b, '"');
}
