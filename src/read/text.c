/* SPDX-License-Identifier: MIT */
#include "read/text.h"

#include <errno.h>
#include <string.h>

#include "base/escape.h"

#define FILE_BYTES ((uint64_t)256 << 20)
#define ITEM_BYTES ((uint64_t)8 << 20)

static const char directive[] = "%YAML";

void km_text_init(struct km_text *t, const struct km_input *in,
		  const struct km_limits *lim, struct km_diags *d)
{
	*t = (struct km_text){ .in = in, .d = d, .line = 1 };
	t->file_bytes = lim && lim->file_bytes ? lim->file_bytes : FILE_BYTES;
	t->item_bytes = lim && lim->item_bytes ? lim->item_bytes : ITEM_BYTES;
}

/* ------------------------------------------------------------------ */
/* Places                                                              */

/* Characters that begin in p[0] to p[n - 1]. */
static uint32_t characters(const unsigned char *p, size_t n)
{
	uint32_t c = 0;

	for (size_t i = 0; i < n; i++)
		c += (p[i] & 0xC0) != 0x80;
	return c;
}

/* Note what is wrong with the character whose first byte is the at-th of the
 * chunk, or lies before the chunk if began says so; answers how many bytes of
 * the chunk are clean. */
static size_t found(struct km_text *t, const unsigned char *p, size_t at,
		    enum km_msg m, uint32_t what)
{
	bool before = t->need && t->began < t->total;

	t->bad.found = true;
	t->bad.msg = m;
	t->bad.what = what;
	t->bad.column = t->column;
	if (!before)
		t->bad.column += characters(p + t->from, at - t->from) + 1;
	return before ? 0 : at;
}

/* ------------------------------------------------------------------ */
/* The scan                                                            */

static void line_break(struct km_text *t, const unsigned char *p, size_t i)
{
	unsigned char before = i ? p[i - 1] : t->last;

	if (p[i] == '\r' || before != '\r')
		t->line++;
	t->column = 0;
	t->from = i + 1;
}

/* Begin a sequence with its lead byte; false if there is no such lead.  low
 * and high bound the second byte, which rules out overlong forms, surrogates
 * and all past U+10FFFF.  source [utf-8-7] */
static bool lead_byte(struct km_text *t, unsigned char c, uint64_t offset)
{
	if (c < 0xC2 || c > 0xF4)
		return false;
	t->lead = c;
	t->began = offset;
	t->need = c < 0xE0 ? 1 : c < 0xF0 ? 2 : 3;
	t->code = c & (0x3Fu >> t->need);
	t->low = c == 0xE0 ? 0xA0 : c == 0xF0 ? 0x90 : 0x80;
	t->high = c == 0xED ? 0x9F : c == 0xF4 ? 0x8F : 0xBF;
	return true;
}

/* Is a complete character one that may stand in a text? */
static bool allowed(const struct km_text *t, enum km_msg *m)
{
	uint32_t code = t->code;

	if (code == 0x85 || code == 0x2028 || code == 0x2029)
		*m = KM_M_LINE_SEPARATOR;
	else if (code < 0xA0 || code == 0xFFFE || code == 0xFFFF)
		*m = KM_M_CONTROL_CHARACTER;
	else if (code == 0xFEFF && t->began)
		*m = KM_M_STRAY_BOM;
	else if (km_is_bidi(code))
		*m = KM_M_BIDI_CONTROL;
	else
		return true;
	return false;
}

/* One byte after a lead byte.  false: found() has been called and *clean is
 * its answer. */
static bool next_byte(struct km_text *t, const unsigned char *p, size_t i,
		      size_t *clean)
{
	/* of the first byte, if it is in this chunk; found() knows */
	size_t at = t->began < t->total ? 0 : (size_t)(t->began - t->total);
	enum km_msg m;

	if (p[i] < t->low || p[i] > t->high) {
		*clean = found(t, p, at, KM_M_NOT_UTF8, t->lead);
		return false;
	}
	t->low = 0x80;
	t->high = 0xBF;
	t->code = t->code << 6 | (p[i] & 0x3Fu);
	if (t->need == 1 && !allowed(t, &m)) {
		*clean = found(t, p, at, m, t->code);
		return false;
	}
	t->need--;
	if (!t->need && t->code == 0xFEFF) {	/* takes no column */
		t->column = 0;
		t->from = i + 1;
	}
	return true;
}

/* Two NULs of four, or the mark of UTF-16, where a text begins. */
static bool is_wide(const struct km_text *t, const unsigned char *p, size_t n,
		    size_t i)
{
	if (t->total || i > 1 || n < 2)
		return false;
	if (p[i] >= 0xFE)
		return p[0] + p[1] == 0xFE + 0xFF;
	return p[i] == 0 && (p[0] || p[1] || (n > 3 && (p[2] || p[3])));
}

/* A byte that may not stand where it does. */
static size_t bad_byte(struct km_text *t, const unsigned char *p, size_t n,
		       size_t i)
{
	if (is_wide(t, p, n, i)) {
		t->line = 1;	/* half of a character looked like a line */
		t->from = 0;
		return found(t, p, 0, KM_M_UTF_16, 0);
	}
	if (p[i] < 0x80)
		return found(t, p, i, KM_M_CONTROL_CHARACTER, p[i]);
	return found(t, p, i, KM_M_NOT_UTF8, p[i]);
}

/*
 * A line that starts with % is a directive.  Only the first %YAML passes, as
 * libyaml compares each %TAG with all before it.  false: as next_byte().
 */
static bool directive_byte(struct km_text *t, const unsigned char *p, size_t i,
			   size_t *clean)
{
	if (p[i] == (unsigned char)directive[t->directive] && !t->yaml_seen) {
		if (directive[++t->directive] == '\0') {
			t->directive = 0;
			t->yaml_seen = true;
		}
		return true;
	}
	*clean = found(t, p, t->from, KM_M_DIRECTIVE, 0);
	t->bad.column = 1;
	return false;
}

/* Printable ASCII or a tab: what most bytes are. */
static bool is_plain(unsigned char c)
{
	return (c >= 0x20 && c < 0x7F) || c == '\t';
}

/* The first byte from i on that is not plain; eight bytes at a time first,
 * which stop early at a tab but never late. */
static size_t skip_plain(const unsigned char *p, size_t i, size_t n)
{
	const uint64_t ones = UINT64_C(0x0101010101010101);
	uint64_t w;

	for (; n - i >= sizeof w; i += sizeof w) {
		memcpy(&w, p + i, sizeof w);
		/* a top bit: 0x80 and up, 0x7F and up, below 0x20 */
		if ((w | (w + ones) | (w - 0x20 * ones)) & (0x80 * ones))
			break;
	}
	while (i < n && is_plain(p[i]))
		i++;
	return i;
}

/* How many bytes of the chunk are clean; fewer than n if t->bad.found. */
static size_t scan(struct km_text *t, const unsigned char *p, size_t n)
{
	size_t i = 0, clean = 0;

	for (;;) {
		bool start = i == t->from && !t->column && !t->need &&
			     !t->table;

		if (i < n && (t->directive || (start && p[i] == '%'))) {
			if (!directive_byte(t, p, i++, &clean))
				return clean;
			continue;
		}
		if (!t->need)
			i = skip_plain(p, i, n);
		if (i == n)
			return n;
		if (t->need) {
			if (!next_byte(t, p, i, &clean))
				return clean;
		} else if (p[i] == '\n' || p[i] == '\r') {
			line_break(t, p, i);
		} else if (!lead_byte(t, p[i], t->total + i)) {
			return bad_byte(t, p, n, i);
		}
		i++;
	}
}

/* ------------------------------------------------------------------ */
/* Reading                                                             */

static struct km_place place(const struct km_text *t, uint32_t column)
{
	return (struct km_place){ t->in->name, t->line, column };
}

/* Report what scan() found. */
static void report(struct km_text *t)
{
	struct km_place at = place(t, t->bad.column);
	struct km_diag *one = km_diag_add(t->d, t->bad.msg, at,
					  (unsigned)t->bad.what);

	switch (t->bad.msg) {
	case KM_M_NOT_UTF8:
		km_diag_hint(t->d, one, "save the file as UTF-8; it may be "
					"Latin-1 or Windows-1252 now");
		break;
	case KM_M_UTF_16:
		km_diag_hint(t->d, one, "save the file as UTF-8");
		break;
	case KM_M_LINE_SEPARATOR:
		km_diag_hint(t->d, one, "end the line as all others end, or "
					"take the character out");
		break;
	case KM_M_DIRECTIVE:
		km_diag_hint(t->d, one, "take the line out; a text that starts "
					"with %% must be quoted");
		break;
	default:
		km_diag_hint(t->d, one, "take the character out");
		break;
	}
}

static bool fail(struct km_text *t, enum km_status status)
{
	t->status = status;
	return false;
}

/* read() of the input, called again after EINTR; -1 with the message added */
static ptrdiff_t read_some(struct km_text *t, unsigned char *buf, size_t n)
{
	struct km_place whole = { t->in->name, 0, 0 };
	char why[128];
	ptrdiff_t got;
	int error;

	if (t->ended)
		return 0;
	do
		got = t->in->read(t->in->ctx, buf, n);
	while (got < 0 && errno == EINTR);
	error = errno;
	t->ended = got == 0;
	if (got >= 0)
		return got;
	if (strerror_r(error, why, sizeof why))
		strcpy(why, "input error");
	km_diag_add(t->d, KM_M_CANNOT_READ, whole, why);
	fail(t, KM_EIO);
	return -1;
}

/* At a ceiling: is there more?  Then the text is too long. */
static bool at_ceiling(struct km_text *t)
{
	unsigned char one;
	ptrdiff_t got = read_some(t, &one, 1);

	if (got <= 0)
		return got == 0;
	if (t->total >= t->file_bytes)
		km_diag_add(t->d, KM_M_FILE_TOO_LARGE,
			    place(t, t->column + 1),
			    (unsigned long long)t->file_bytes);
	else
		t->too_long = true;
	return fail(t, KM_EINPUT);
}

/* The first four bytes come together, since they tell the encoding. */
static bool fill(struct km_text *t, unsigned char *buf, size_t n, size_t *have)
{
	size_t want = t->total || n < 4 ? 1 : 4;

	*have = 0;
	while (*have < want) {
		ptrdiff_t got = read_some(t, buf + *have, n - *have);

		if (got < 0)
			return false;
		if (!got)
			break;
		*have += (size_t)got;
	}
	return true;
}

/* The end of the text: nothing may be half done. */
static bool at_end(struct km_text *t)
{
	static const unsigned char none[1];

	if (t->need)
		found(t, none, 0, KM_M_NOT_UTF8, t->lead);
	else if (t->directive)
		found(t, none, 0, KM_M_DIRECTIVE, 0);
	else
		return true;
	if (t->directive)
		t->bad.column = 1;
	report(t);
	return fail(t, KM_EINPUT);
}

bool km_text_read(struct km_text *t, unsigned char *buf, size_t n, size_t *got)
{
	uint64_t room = t->file_bytes - t->total;
	size_t have;

	*got = 0;
	if (t->status != KM_OK)
		return false;
	if (t->bad.found) {
		report(t);
		return fail(t, KM_EINPUT);
	}
	if (t->ahead >= t->item_bytes)
		room = 0;
	else if (room > t->item_bytes - t->ahead)
		room = t->item_bytes - t->ahead;
	if (!room)
		return at_ceiling(t) && at_end(t);
	if (!fill(t, buf, n < room ? n : (size_t)room, &have))
		return false;
	if (!have)
		return at_end(t);
	t->from = 0;
	have = scan(t, buf, have);
	if (!have) {
		report(t);
		return fail(t, KM_EINPUT);
	}
	t->column += characters(buf + t->from, have - t->from);
	t->from = 0;
	t->last = buf[have - 1];
	t->total += have;
	t->ahead += have;
	*got = have;
	return true;
}
