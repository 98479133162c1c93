/* SPDX-License-Identifier: MIT */
#include "read/lane.h"

#include <string.h>

#include "base/str.h"

#define ROOM	32768		/* bytes looked at together */
#define TOKENS	8192
#define NESTING	8		/* brackets in one item */
#define KEY_MOST 256		/* bytes; libyaml gives up at 1024 characters */
#define KEPT_MOST 1024		/* bytes of the text before the buffer */
#define KEPT_LEAST 16

/* What a byte may do in a text without quotes. */
enum { BEGINS = 1, IN_BLOCK = 2, IN_BRACKETS = 4 };

struct token {
	uint32_t line;
	uint16_t column, at, n;	/* at, n: the text of a scalar in buf */
	uint8_t type;		/* enum km_event_type */
	uint8_t how;		/* enum km_event_quote, or the bracket */
};

/* An item of a list, or what looks like one. */
struct item {
	uint32_t line, lines;
	uint32_t dash, column;	/* of its '-' and of its map, from 1 */
};

struct spot { uint32_t line, column; };

struct km_lane {
	struct km_text *text;
	unsigned char *buf;
	size_t kept;		/* bytes before buf that are still there */
	struct spot kept_at;	/* where they begin */
	size_t at, end;		/* not passed on yet */
	uint32_t line;		/* of buf[at] */
	bool raw;		/* nothing of this buffer is looked at */
	bool mid;		/* at is no beginning of a line */
	uint32_t run;		/* plain items right before at: 0, 1 or 2 */
	struct item first, second;	/* the last of them, two or one */
	uint32_t told_line, told_column;
	struct token *token;	/* after the item that begins at line `after` */
	uint32_t n, next, after;
	uint8_t may[256];
};

/* ------------------------------------------------------------------ */
/* A plain item                                                        */

struct scan {
	struct km_lane *l;
	const unsigned char *p, *stop;	/* stop: the end of the line */
	const unsigned char *from;	/* where column 1 would be */
	uint32_t line;
};

static bool value(struct scan *s, unsigned depth);

static bool put(struct scan *s, enum km_event_type type, unsigned how,
		const unsigned char *p, size_t n)
{
	struct km_lane *l = s->l;

	if (l->n == TOKENS)
		return false;
	l->token[l->n++] = (struct token){
		.line = s->line, .column = (uint16_t)(p - s->from + 1),
		.at = (uint16_t)(p - l->buf + (type == KM_EV_SCALAR &&
					       how != KM_EV_BARE)),
		.n = (uint16_t)n, .type = (uint8_t)type, .how = (uint8_t)how,
	};
	return true;
}

static void skip_spaces(struct scan *s)
{
	while (s->p < s->stop && *s->p == ' ')
		s->p++;
}

static bool eat(struct scan *s, unsigned char c)
{
	if (s->p == s->stop || *s->p != c)
		return false;
	s->p++;
	return true;
}

/* Columns count characters: move column 1 on by the bytes that only go on. */
static void count_wide(struct scan *s, const unsigned char *p)
{
	for (; p < s->p; p++)
		s->from += (*p & 0xC0) == 0x80;
}

static bool quoted(struct scan *s, unsigned char mark)
{
	const unsigned char *begun = s->p++;
	bool wide = false;

	for (; s->p < s->stop && *s->p != mark; s->p++) {
		if (*s->p < 0x20 || *s->p == '\\' || *s->p == 0x7F)
			return false;
		wide |= *s->p >= 0x80;
	}
	if (!eat(s, mark) ||
	    !put(s, KM_EV_SCALAR, mark == '"' ? KM_EV_DOUBLE : KM_EV_SINGLE,
		 begun, (size_t)(s->p - begun) - 2))
		return false;
	if (wide)
		count_wide(s, begun);
	return true;
}

static bool scalar(struct scan *s, bool in_brackets)
{
	const uint8_t *may = s->l->may;
	uint8_t inside = in_brackets ? IN_BRACKETS : IN_BLOCK;
	const unsigned char *begun = s->p, *end;
	bool wide = false;

	if (s->p == s->stop)
		return false;
	if (*s->p == '"' || *s->p == '\'')
		return quoted(s, *s->p);
	if (!(may[*s->p] & BEGINS))
		return false;
	for (; s->p < s->stop && may[*s->p] & inside; s->p++)
		wide |= *s->p >= 0x80;
	for (end = s->p; end[-1] == ' '; end--)
		;
	if (!put(s, KM_EV_SCALAR, KM_EV_BARE, begun, (size_t)(end - begun)))
		return false;
	if (wide)
		count_wide(s, begun);
	return true;
}

/* "key: ", and its value; depth 0 is a line of its own. */
static bool pair(struct scan *s, unsigned depth)
{
	const unsigned char *begun = s->p;

	if (!scalar(s, depth > 0))
		return false;
	skip_spaces(s);
	if (s->p - begun > KEY_MOST || !eat(s, ':') || !eat(s, ' '))
		return false;
	skip_spaces(s);
	return value(s, depth);
}

/* A list or map in brackets; an empty one is not plain. */
static bool brackets(struct scan *s, bool is_map, unsigned depth)
{
	unsigned char close = is_map ? '}' : ']';

	if (depth > NESTING || !put(s, is_map ? KM_EV_MAP : KM_EV_LIST, *s->p,
				    s->p, 0))
		return false;
	do {
		s->p++;
		skip_spaces(s);
		if (is_map ? !pair(s, depth) : !value(s, depth))
			return false;
		skip_spaces(s);
	} while (s->p < s->stop && *s->p == ',');
	if (s->p == s->stop || *s->p != close ||
	    !put(s, KM_EV_CLOSE, close, s->p, 0))
		return false;
	s->p++;
	return true;
}

static bool value(struct scan *s, unsigned depth)
{
	if (s->p < s->stop && (*s->p == '{' || *s->p == '['))
		return brackets(s, *s->p == '{', depth + 1);
	return scalar(s, depth > 0);
}

/* The line that begins at p: false if its end is not in the buffer. */
static bool begin_line(struct scan *s, const unsigned char *p, uint32_t line)
{
	size_t n = (size_t)(s->l->buf + s->l->end - p);
	const unsigned char *stop = n ? memchr(p, '\n', n) : NULL;

	if (!stop)
		return false;
	s->from = s->p = p;
	s->line = line;
	s->stop = stop > p && stop[-1] == '\r' ? stop - 1 : stop;
	return true;
}

/* Nothing more on the line: then on to the next one. */
static bool end_line(struct scan *s)
{
	skip_spaces(s);
	if (s->p != s->stop)
		return false;
	s->p += 1 + (*s->p == '\r');
	return true;
}

/* The keys of an item below one another, s->p at the first. */
static bool keys_below(struct scan *s, const struct item *it)
{
	const unsigned char *p;

	if (!put(s, KM_EV_MAP, 0, s->p, 0))
		return false;
	do {
		if (!pair(s, 0) || !end_line(s))
			return false;
		p = s->p;
		if (!begin_line(s, p, s->line + 1)) {
			s->line++;
			break;
		}
		skip_spaces(s);
	} while (s->p - p == it->column - 1 && s->p < s->stop && *s->p != '#');
	/* a map in block style ends where the next item begins */
	s->p = p;
	s->from = p - (it->dash - 1);
	return put(s, KM_EV_CLOSE, 0, p, 0);
}

/* The bytes of the plain item that begins at p, its tokens added; 0: there is
 * none. */
static size_t plain_item(struct km_lane *l, const unsigned char *p,
			 uint32_t line, struct item *it)
{
	struct scan s = { .l = l };
	uint32_t n = l->n;

	if (!begin_line(&s, p, line))
		return 0;
	skip_spaces(&s);
	it->line = line;
	it->dash = (uint32_t)(s.p - p) + 1;
	if (!eat(&s, '-') || !eat(&s, ' '))
		return 0;
	skip_spaces(&s);
	it->column = (uint32_t)(s.p - p) + 1;
	it->lines = 1;
	if (s.p < s.stop && *s.p == '{') {
		if (brackets(&s, true, 1) && end_line(&s))
			return (size_t)(s.p - p);
	} else if (keys_below(&s, it)) {
		it->lines = s.line - line;
		return (size_t)(s.p - p);
	}
	l->n = n;
	return 0;
}

/* ------------------------------------------------------------------ */
/* What libyaml gets                                                   */

/* A line break that is no end of a line in the buffer. */
static bool has_lone_return(const unsigned char *p, size_t n)
{
	const unsigned char *end = p + n;

	while ((p = memchr(p, '\r', (size_t)(end - p))))
		if (++p == end || *p != '\n')
			return true;
	return false;
}

/* Line breaks, as km_text counts them. */
static uint32_t breaks_in(const unsigned char *p, const unsigned char *end)
{
	uint32_t n = 0;
	bool after_return = false;

	for (; p < end; p++) {
		n += *p == '\r' || (*p == '\n' && !after_return);
		after_return = *p == '\r';
	}
	return n;
}

/* Keep the end of the text at hand in front of the buffer, from the beginning
 * of a line on or, if that is too long, the end of the line: libyaml may still
 * stumble there. */
static void keep_end(struct km_lane *l)
{
	const unsigned char *from = l->buf - l->kept, *end = l->buf + l->end;
	const unsigned char *p = end;
	struct spot at = { l->text->line, l->text->column + 1 };

	while (p > from && end - p < KEPT_MOST &&
	       (end - p < KEPT_LEAST || p[-1] != '\n'))
		p--;
	while (p < end && (*p & 0xC0) == 0x80)
		p++;
	if (p > from && p[-1] == '\n')
		at = (struct spot){ at.line - breaks_in(p, end), 1 };
	else if (p > from && !breaks_in(p, end))
		for (const unsigned char *q = p; q < end; q++)
			at.column -= (*q & 0xC0) != 0x80;
	else if (p > from)
		p = end;
	else if (p < end)
		at = l->kept_at;
	l->kept = (size_t)(end - p);
	l->kept_at = at;
	memmove(l->buf - l->kept, p, l->kept);
}

static bool refill(struct km_lane *l)
{
	struct km_text *t = l->text;
	bool begun = t->total > 0, after_return = begun && t->last == '\r';

	l->mid = begun && t->last != '\n';
	l->line = t->line;
	l->run = 0;
	keep_end(l);
	l->at = l->n = l->next = 0;
	if (!km_text_read(t, l->buf, ROOM, &l->end))
		return false;
	l->raw = after_return || has_lone_return(l->buf, l->end);
	return true;
}

/* n bytes as they stand, with so many ends of lines. */
static void pass_on(struct km_lane *l, unsigned char *out, size_t n,
		    uint32_t lines)
{
	memcpy(out, l->buf + l->at, n);
	l->at += n;
	l->line += lines;
	l->mid = l->buf[l->at - 1] != '\n';
}

/* The bytes before the first line that may begin an item, n at most; a line
 * that is under way is none. */
static size_t before_dash(const struct km_lane *l, size_t n, uint32_t *lines)
{
	const unsigned char *p = l->buf + l->at, *end = p + n, *q, *begun = p;
	bool mid = l->mid;

	for (*lines = 0; p < end; p = q + 1, ++*lines, mid = false) {
		for (q = p; q < end && *q == ' '; q++)
			;
		if (q < end && *q == '-' && !mid)
			return (size_t)(p - begun);
		if (q < end && *q != '\n')
			q = memchr(q, '\n', (size_t)(end - q));
		if (!q || q == end)
			break;
	}
	return n;
}

/* The bytes to the end of the line, n at most. */
static size_t rest_of_line(const struct km_lane *l, size_t n, uint32_t *lines)
{
	const unsigned char *p = l->buf + l->at, *stop = memchr(p, '\n', n);

	*lines = stop != NULL;
	return stop ? (size_t)(stop - p) + 1 : n;
}

/* Lines up to the second of two plain items; the bytes. */
static size_t pass_lines(struct km_lane *l, unsigned char *out, size_t n)
{
	size_t done = 0, room, size;
	struct item it;

	for (; l->at < l->end && done < n && l->run < 2; done += size) {
		room = l->end - l->at < n - done ? l->end - l->at : n - done;
		size = before_dash(l, room, &it.lines);
		if (!size) {
			size = plain_item(l, l->buf + l->at, l->line, &it);
			l->n = 0;		/* libyaml will tell */
		} else {
			l->run = 0;
			pass_on(l, out + done, size, it.lines);
			continue;
		}
		if (size && size <= room) {
			l->run = l->run && it.dash == l->second.dash ? 2 : 1;
			l->first = l->second;
			l->second = it;
		} else {
			l->run = 0;
			size = rest_of_line(l, room, &it.lines);
		}
		pass_on(l, out + done, size, it.lines);
	}
	return done;
}

/* Take the plain items at hand but the last; the bytes that libyaml gets. */
static size_t take_items(struct km_lane *l, unsigned char *out, size_t n)
{
	const unsigned char *p = l->buf + l->at, *last = p;
	uint32_t line = l->line, n_before = 0, n_last = 0;
	size_t size, breaks;
	struct item it = l->second, one;

	l->n = l->next = 0;
	while ((size = plain_item(l, p, line, &one)) &&
	       one.dash == l->second.dash && line - l->line + size <= n) {
		last = p;
		n_last = n_before;
		n_before = l->n;
		it = one;
		p += size;
		line += one.lines;
	}
	l->n = n_last;
	breaks = it.line - l->line;
	if (!n_last)
		return 0;
	l->after = l->second.line;
	memset(out, '\n', breaks);
	l->at = (size_t)(last - l->buf);
	l->line = it.line;
	pass_on(l, out + breaks, (size_t)(p - last), it.lines);
	l->run = 0;
	return breaks + (size_t)(p - last);
}

bool km_lane_read(struct km_lane *l, unsigned char *out, size_t n, size_t *got)
{
	size_t rest = l->end - l->at;

	*got = 0;
	if (!rest && l->next < l->n) {	/* not so far: it has all it needs */
		l->at = l->end = l->kept = 0;
		return km_text_read(l->text, out, n, got);
	}
	if (!rest && !refill(l))
		return false;
	rest = l->end - l->at;
	if (!rest || !n)
		return true;
	if (l->raw || l->next < l->n) {
		*got = rest < n ? rest : n;
		l->raw = true;
		pass_on(l, out, *got, 0);
		return true;
	}
	if (l->run == 2 && l->told_line == l->first.line &&
	    l->told_column == l->first.column)
		*got = take_items(l, out, n);
	if (!*got) {
		l->run = l->run > 0;
		*got = pass_lines(l, out, n);
	}
	return true;
}

/* ------------------------------------------------------------------ */
/* What the reader gets                                                */

void km_lane_told(struct km_lane *l, uint32_t line, uint32_t column)
{
	l->told_line = line;
	l->told_column = column;
}

bool km_lane_is_due(const struct km_lane *l)
{
	return l->next < l->n && l->told_line == l->after;
}

char km_lane_next(struct km_lane *l, struct km_event *ev)
{
	const struct token *t = &l->token[l->next++];

	ev->type = (enum km_event_type)t->type;
	ev->line = t->line;
	ev->column = t->column;
	if (ev->type != KM_EV_SCALAR)
		return (char)t->how;
	ev->quote = (enum km_event_quote)t->how;
	ev->text = (const char *)l->buf + t->at;
	ev->n = t->n;
	return 0;
}

char km_lane_met(const struct km_lane *l, uint32_t line, uint32_t column)
{
	const unsigned char *p = l->buf - l->kept, *end = l->buf + l->end;
	struct spot at = l->kept_at;

	for (; p < end; p++) {
		if (at.line == line && at.column == column)
			break;
		if (*p == '\n' || (*p == '\r' && p + 1 < end && p[1] != '\n'))
			at = (struct spot){ at.line + 1, 1 };
		else
			at.column += p + 1 < end && (p[1] & 0xC0) != 0x80;
	}
	if (p == end || *p >= 0x80)
		return 0;
	if (*p == '-' && p + 1 < end && !strchr(" \t\r\n", p[1]))
		return 0;
	return (char)*p;
}

/* ------------------------------------------------------------------ */

static void set_may(uint8_t *may)
{
	static const char marks[] = "-?:,[]{}#&*!|>'\"%@`";

	for (unsigned c = 0x20; c < 256; c++)
		may[c] = BEGINS | IN_BLOCK | IN_BRACKETS;
	for (const char *p = marks; *p; p++)
		may[(unsigned char)*p] &= (uint8_t)~BEGINS;
	for (const char *p = ",[]{}?"; *p; p++)
		may[(unsigned char)*p] &= (uint8_t)~IN_BRACKETS;
	may[' '] &= (uint8_t)~BEGINS;
	may[':'] = may['#'] = may[0x7F] = 0;
}

struct km_lane *km_lane_new(struct km_arena *mem, struct km_text *text)
{
	struct km_lane *l = km_arena_alloc(mem, 1, sizeof *l);

	if (!l)
		return NULL;
	l->text = text;
	l->buf = km_arena_raw(mem, KEPT_MOST + ROOM, 1);
	l->token = km_arena_raw(mem, TOKENS, sizeof *l->token);
	set_may(l->may);
	if (!l->buf || !l->token)
		return NULL;
	l->buf += KEPT_MOST;
	return l;
}
