/* SPDX-License-Identifier: MIT */
/* Escapes for escape.py: with the argument `serve`, lines "MODE HEX" in and
 * lines of hex out.  Alone it only sees that an escape is written at all. */
#include <stdio.h>
#include <string.h>

#include "base/escape.h"

enum { ROOM = 1 << 16 };

static int escape(struct km_buf *b, const char *mode, const char *text,
		  size_t n)
{
	if (!strcmp(mode, "terminal"))
		km_escape_terminal(b, text, n);
	else if (!strcmp(mode, "json"))
		km_escape_json(b, text, n);
	else if (!strcmp(mode, "csv"))
		km_escape_csv(b, text, n);
	else if (!strcmp(mode, "html"))
		km_escape_html(b, text, n);
	else if (!strcmp(mode, "xml"))
		km_escape_xml(b, text, n);
	else if (!strcmp(mode, "github"))
		km_escape_github(b, text, n, false);
	else
		return 0;
	return !km_buf_failed(b);
}

static int value(char digit)
{
	return digit <= '9' ? digit - '0' : digit - 'a' + 10;
}

static int alone(struct km_arena *mem)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	return escape(&b, "terminal", "\x1B", 1) &&
	       !strcmp(b.text, "\\x1b") ? 0 : 1;
}

int main(int argc, char **argv)
{
	static char line[ROOM], text[ROOM];
	struct km_arena *mem = km_arena_new(NULL);
	int status;

	if (!mem)
		return 2;
	if (argc < 2 || strcmp(argv[1], "serve") != 0) {
		status = alone(mem);
		km_arena_free(mem);
		return status;
	}
	while (fgets(line, sizeof line, stdin)) {
		char *hex = strchr(line, ' ');
		size_t n = 0;
		struct km_buf b;

		if (!hex)
			return 2;
		*hex++ = '\0';
		for (; hex[0] > ' ' && hex[1] > ' '; hex += 2)
			text[n++] = (char)(value(hex[0]) * 16 + value(hex[1]));
		km_buf_init(&b, mem);
		if (!escape(&b, line, text, n))
			return 2;
		for (size_t i = 0; i < b.len; i++)
			printf("%02x", (unsigned char)b.text[i]);
		putchar('\n');
		km_arena_reset(mem);
	}
	km_arena_free(mem);
	return 0;
}
