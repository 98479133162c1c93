/* SPDX-License-Identifier: MIT */
#include "base/escape.h"

#include <string.h>

#include "base/str.h"

#define REPLACEMENT "\xEF\xBF\xBD"	/* U+FFFD */

bool km_is_bidi(uint32_t code)
{
	return code == 0x61C || code == 0x200E || code == 0x200F ||
	       (code >= 0x202A && code <= 0x202E) ||
	       (code >= 0x2066 && code <= 0x2069);
}

/* May act on a terminal: C1, line separators, marks of direction, the byte
 * order mark. */
static bool acts(uint32_t code)
{
	return (code >= 0x7F && code <= 0x9F) || code == 0x2028 ||
	       code == 0x2029 || code == 0xFEFF || km_is_bidi(code);
}

static bool is_nonchar(uint32_t code)
{
	return (code & 0xFFFE) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
}

/* One character of the text: its bytes and its code, -1 if invalid. */
struct one {
	const char *p;
	size_t n;
	int32_t code;
};

static bool next(struct km_slice *s, struct one *c)
{
	if (!s->n)
		return false;
	c->p = s->p;
	c->code = km_utf8_next(s);
	c->n = (size_t)(s->p - c->p);
	return true;
}

void km_escape_terminal(struct km_buf *b, const char *text, size_t n)
{
	struct km_slice s = { text, n };
	struct one c;

	while (next(&s, &c)) {
		uint32_t code = (uint32_t)c.code;

		if (c.code < 0x20 || c.code == 0x7F)
			km_buf_printf(b, "\\x%02x", (unsigned char)*c.p);
		else if (acts(code))
			km_buf_printf(b, "\\u%04x", (unsigned)code);
		else
			km_buf_add(b, c.p, c.n);
	}
}

void km_escape_json(struct km_buf *b, const char *text, size_t n)
{
	struct km_slice s = { text, n };
	struct one c;

	while (next(&s, &c)) {
		uint32_t code = (uint32_t)c.code;

		if (c.code < 0) {
			km_buf_str(b, REPLACEMENT);
		} else if (code == '"' || code == '\\') {
			km_buf_char(b, '\\');
			km_buf_char(b, (char)code);
		} else if (code == '\n') {
			km_buf_str(b, "\\n");
		} else if (code == '\t') {
			km_buf_str(b, "\\t");
		} else if (code < 0x20 || code == '<' || acts(code)) {
			km_buf_printf(b, "\\u%04x", (unsigned)code);
		} else {
			km_buf_add(b, c.p, c.n);
		}
	}
}

/* Would a spreadsheet read it as a formula, blanks and quotes left out? */
static bool is_formula(const char *text, size_t n)
{
	size_t i = 0;

	while (i < n && (text[i] == ' ' || text[i] == '"' || text[i] == '\n'))
		i++;
	return i < n && (text[i] == '\0' || strchr("=+-@\t\r", text[i]));
}

void km_escape_csv(struct km_buf *b, const char *text, size_t n)
{
	struct km_slice s = { text, n };
	bool quote = false;
	struct one c;

	for (size_t i = 0; i < n; i++)
		quote = quote || strchr(",\"\r\n", text[i]) != NULL;
	quote = quote || (n && (text[0] == ' ' || text[n - 1] == ' '));
	if (quote)
		km_buf_char(b, '"');
	if (is_formula(text, n))
		km_buf_char(b, '\'');
	while (next(&s, &c)) {
		bool layout = c.code == '\t' || c.code == '\n' ||
			      c.code == '\r';

		if (c.code == '"')
			km_buf_str(b, "\"\"");
		else if ((c.code < 0x20 && !layout) || c.code == 0x7F)
			km_buf_str(b, REPLACEMENT);
		else
			km_buf_add(b, c.p, c.n);
	}
	if (quote)
		km_buf_char(b, '"');
}

/* & < > " ' by reference; false for any other character */
static bool markup(struct km_buf *b, int32_t code)
{
	switch (code) {
	case '&':
		km_buf_str(b, "&amp;");
		return true;
	case '<':
		km_buf_str(b, "&lt;");
		return true;
	case '>':
		km_buf_str(b, "&gt;");
		return true;
	case '"':
		km_buf_str(b, "&quot;");
		return true;
	case '\'':
		km_buf_str(b, "&#39;");
		return true;
	default:
		return false;
	}
}

void km_escape_html(struct km_buf *b, const char *text, size_t n)
{
	struct km_slice s = { text, n };
	struct one c;

	while (next(&s, &c)) {
		bool layout = c.code == '\t' || c.code == '\n';

		if (markup(b, c.code))
			continue;
		if ((c.code < 0x20 && !layout) ||
		    (c.code >= 0x7F && c.code <= 0x9F) ||
		    is_nonchar((uint32_t)c.code))
			km_buf_str(b, REPLACEMENT);
		else
			km_buf_add(b, c.p, c.n);
	}
}

void km_escape_xml(struct km_buf *b, const char *text, size_t n)
{
	struct km_slice s = { text, n };
	struct one c;

	while (next(&s, &c)) {
		if (markup(b, c.code))
			continue;
		/* by number, since an attribute would make them blanks */
		if (c.code == '\t' || c.code == '\n' || c.code == '\r')
			km_buf_printf(b, "&#%d;", (int)c.code);
		else if (c.code < 0x20 || (c.code >= 0x7F && c.code <= 0x9F) ||
			 is_nonchar((uint32_t)c.code))
			km_buf_str(b, REPLACEMENT);
		else
			km_buf_add(b, c.p, c.n);
	}
}

void km_escape_github(struct km_buf *b, const char *text, size_t n,
		      bool property)
{
	struct km_slice s = { text, n };
	struct one c;

	while (next(&s, &c)) {
		if (c.code == '%' || c.code == '\r' || c.code == '\n' ||
		    (property && (c.code == ':' || c.code == ',')))
			km_buf_printf(b, "%%%02X", (unsigned)c.code);
		else
			km_escape_terminal(b, c.p, c.n);
	}
}
