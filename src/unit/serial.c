/* SPDX-License-Identifier: MIT */
#include "unit/serial.h"

#include "base/num.h"

static bool digit(char c)
{
	return c >= '0' && c <= '9';
}

static char upper(char c)
{
	return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static bool may_stand(char c)
{
	return digit(c) || (upper(c) >= 'A' && upper(c) <= 'Z') || c == ' ' ||
	       c == '-' || c == '/' || c == '.';
}

bool km_serial_pattern_ok(struct km_slice pattern)
{
	size_t n = 0;

	for (size_t i = 0; i < pattern.n; i++) {
		if (pattern.p[i] == '#')
			n++;
		else if (!may_stand(pattern.p[i]))
			return false;
	}
	return n >= 1 && n <= KM_SERIAL_DIGITS && pattern.n <= KM_SERIAL_BYTES;
}

bool km_serial_text_ok(struct km_slice text)
{
	bool any = false;

	for (size_t i = 0; i < text.n; i++) {
		if (!may_stand(text.p[i]))
			return false;
		any |= digit(text.p[i]);
	}
	return any && text.p[0] != '-' && text.n <= KM_SERIAL_BYTES;
}

int64_t km_serial_number(const char *pattern, struct km_slice text)
{
	int64_t n = 0;
	size_t i;

	if (!pattern)
		return km_integer(text, &n) == KM_OK && n <= KM_SERIAL_MOST
			       ? n : -1;
	for (i = 0; i < text.n && pattern[i]; i++) {
		if (pattern[i] != '#') {
			if (upper(pattern[i]) != upper(text.p[i]))
				return -1;
		} else if (digit(text.p[i])) {
			n = n * 10 + (text.p[i] - '0');
		} else {
			return -1;
		}
	}
	return i == text.n && !pattern[i] ? n : -1;
}

int64_t km_serial_in(const struct km_serials *s, const struct km_machine *m)
{
	if (!m->serial_text)
		return s->pattern ? -1 : m->serial;
	return km_serial_number(s->pattern, km_slice_of(m->serial_text));
}

bool km_serial_recorded(const struct km_machine *m)
{
	return m->serial_text || m->serial >= 0;
}

int64_t km_serial_outside(const struct km_serials *s, int64_t n)
{
	if (!s->given || n < 0)
		return 0;
	if (!s->open_start && n < s->from_earliest)
		return s->from_earliest - n;
	if (!s->open_end && n > s->to_latest)
		return n - s->to_latest;
	return 0;
}

enum km_serial_place km_serial_place(const struct km_serials *s,
				     const struct km_machine *m)
{
	int64_t n = km_serial_in(s, m);

	if (!s->given || !km_serial_recorded(m))
		return KM_SERIAL_UNKNOWN;
	if (n < 0)
		return KM_SERIAL_OTHER_FORM;
	if (km_serial_outside(s, n))
		return KM_SERIAL_OUTSIDE;
	if ((!s->open_start && n < s->from_latest) ||
	    (!s->open_end && n > s->to_earliest))
		return KM_SERIAL_FUZZY;
	return KM_SERIAL_INSIDE;
}

void km_buf_serial(struct km_buf *b, const char *pattern, int64_t n)
{
	int64_t unit = 1;

	if (!pattern) {
		km_buf_int(b, n);
		return;
	}
	for (const char *p = pattern; *p; p++)
		if (*p == '#')
			unit *= 10;
	for (; *pattern; pattern++) {
		if (*pattern != '#') {
			km_buf_char(b, *pattern);
			continue;
		}
		unit /= 10;
		km_buf_char(b, (char)('0' + n / unit % 10));
	}
}

void km_buf_serial_of(struct km_buf *b, const struct km_machine *m)
{
	if (m->serial_text)
		km_buf_str(b, m->serial_text);
	else if (m->serial >= 0)
		km_buf_int(b, m->serial);
}

int km_serial_compare(const struct km_machine *a, const struct km_machine *b)
{
	const char *x = a->serial_text, *y = b->serial_text;

	if (a->serial != b->serial)
		return a->serial < b->serial ? -1 : 1;
	if (!x || !y)
		return (x != NULL) - (y != NULL);
	return km_natural_compare(x, y);
}
