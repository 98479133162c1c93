/* SPDX-License-Identifier: MIT */
#include "base/buf.h"

#include <stdio.h>
#include <string.h>

#define FIRST_ROOM ((size_t)128)

/* Make sure that `more` bytes and the NUL fit; false once b has failed. */
static bool reserve(struct km_buf *b, size_t more)
{
	size_t need, size;
	char *text;

	if (b->failed)
		return false;
	if (more < b->room - b->len)	/* len < room, or both are 0 */
		return true;
	if (more > SIZE_MAX / 4 || b->len > SIZE_MAX / 4)
		goto fail;
	need = b->len + more + 1;
	size = b->room ? 2 * b->room : FIRST_ROOM;
	if (size < need)
		size = need;
	text = km_arena_raw(b->mem, size, 1);
	if (!text)
		goto fail;
	if (b->len)
		memcpy(text, b->text, b->len);
	b->text = text;
	b->room = size;
	return true;
fail:
	b->failed = true;
	return false;
}

void km_buf_init(struct km_buf *b, struct km_arena *mem)
{
	*b = (struct km_buf){ .mem = mem };
}

void km_buf_add(struct km_buf *b, const char *text, size_t len)
{
	if (!reserve(b, len))
		return;
	if (len)
		memcpy(b->text + b->len, text, len);
	b->len += len;
	b->text[b->len] = '\0';
}

void km_buf_str(struct km_buf *b, const char *text)
{
	km_buf_add(b, text, strlen(text));
}

void km_buf_char(struct km_buf *b, char c)
{
	if (!reserve(b, 1))
		return;
	b->text[b->len++] = c;
	b->text[b->len] = '\0';
}

void km_buf_fill(struct km_buf *b, char c, size_t n)
{
	if (!reserve(b, n))
		return;
	memset(b->text + b->len, c, n);
	b->len += n;
	b->text[b->len] = '\0';
}

void km_buf_int(struct km_buf *b, int64_t v)
{
	/* the magnitude without overflow at INT64_MIN */
	uint64_t u = v < 0 ? 0 - (uint64_t)v : (uint64_t)v;
	char digits[20];
	size_t at = sizeof digits;

	do
		digits[--at] = (char)('0' + u % 10);
	while (u /= 10);
	if (v < 0)
		digits[--at] = '-';
	km_buf_add(b, digits + at, sizeof digits - at);
}

void km_buf_vprintf(struct km_buf *b, const char *format, va_list ap)
{
	va_list again;
	int n;

	if (!reserve(b, 1))
		return;
	va_copy(again, ap);
	n = vsnprintf(b->text + b->len, b->room - b->len, format, ap);
	if (n < 0) {
		b->text[b->len] = '\0';
		b->failed = true;
	} else if ((size_t)n < b->room - b->len) {
		b->len += (size_t)n;
	} else if (reserve(b, (size_t)n)) {
		vsnprintf(b->text + b->len, (size_t)n + 1, format, again);
		b->len += (size_t)n;
	} else {
		b->text[b->len] = '\0';
	}
	va_end(again);
}

void km_buf_printf(struct km_buf *b, const char *format, ...)
{
	va_list ap;

	va_start(ap, format);
	km_buf_vprintf(b, format, ap);
	va_end(ap);
}

void km_buf_clear(struct km_buf *b)
{
	b->len = 0;
	if (b->room)
		b->text[0] = '\0';
}

bool km_buf_failed(const struct km_buf *b)
{
	return b->failed;
}
