/* SPDX-License-Identifier: MIT */
#include "read/events.h"

#include <string.h>

#include <yaml.h>

#include "read/mistake.h"
#include "read/text.h"

#define DEPTH 64
#define CHUNK ((size_t)16384)	/* bytes that libyaml gets at once */

/* Kept out of the way of what runs once an event. */
#define RARE __attribute__((cold, noinline))

static const char quote_it[] = "quote the value if it is meant as text";

/* A list or map that is open; bracket is 0 for one made by indentation. */
struct open {
	uint32_t line, column;
	char bracket;
};

/* Text that libyaml has got. */
struct passed {
	uint32_t line;		/* of the first byte, */
	uint32_t column;	/* the characters before it there, */
	unsigned char last;	/* and the byte before it */
	size_t n;
	unsigned char bytes[2 * CHUNK];
};

struct km_events {
	struct km_text text;
	struct passed *now, *before;	/* the end of the text so far */
	struct km_diags *d;
	const char *file;
	yaml_parser_t parser;
	yaml_event_t raw;
	bool has_parser, has_raw;
	enum km_status status;
	struct open *open;		/* max_depth of them */
	uint32_t depth, max_depth;
	bool in_document;
	/* the last event with text of its own: where it began and ended,
	 * counted from 0 */
	struct {
		uint32_t line, end_line, end_column;
		bool quoted;
	} last;
};

/* ------------------------------------------------------------------ */
/* Failing                                                             */

bool km_events_fail(struct km_events *e, enum km_status status)
{
	if (e->status == KM_OK)
		e->status = status;
	return false;
}

enum km_status km_events_status(const struct km_events *e)
{
	return e->status;
}

uint32_t km_events_depth(const struct km_events *e)
{
	return e->depth;
}

bool km_events_in_braces(const struct km_events *e)
{
	return e->depth && e->open[e->depth - 1].bracket == '{';
}

static struct km_place place(const struct km_events *e, uint32_t line,
			     uint32_t column)
{
	return (struct km_place){ e->file, line, column };
}

static struct km_place mark_place(const struct km_events *e, yaml_mark_t m)
{
	return place(e, (uint32_t)m.line + 1, (uint32_t)m.column + 1);
}

bool km_events_refuse(struct km_events *e, const struct km_event *ev,
		      enum km_msg m, const char *hint)
{
	struct km_place at = place(e, ev->line, ev->column);
	struct km_diag *one = km_diag_add(e->d, m, at);

	if (hint)
		km_diag_hint(e->d, one, "%s", hint);
	return km_events_fail(e, KM_EINPUT);
}

/* The i-th byte of the text at hand; 0 at its end, as no text holds it. */
static unsigned char passed_byte(const struct km_events *e, size_t i)
{
	if (i < e->before->n)
		return e->before->bytes[i];
	i -= e->before->n;
	return i < e->now->n ? e->now->bytes[i] : 0;
}

static bool begins_word(const struct km_events *e, size_t i)
{
	unsigned char c = passed_byte(e, i);

	return c && !strchr(" \t\r\n", c);
}

/* The character at a place of the text; 0 if it is not known, none of ASCII,
 * or a '-' that belongs to a word. */
static char met_at(const struct km_events *e, uint32_t line, uint32_t column)
{
	const struct passed *p = e->before->n ? e->before : e->now;
	uint32_t l = p->line, c = p->column;
	unsigned char byte, last = p->last;
	size_t i = p->n < 3 || memcmp(p->bytes, "\xEF\xBB\xBF", 3) ? 0 : 3;

	for (; (byte = passed_byte(e, i)); i++, last = byte) {
		if (byte == '\n' && last == '\r')
			continue;
		c += (byte & 0xC0) != 0x80;
		if (l == line && c == column)
			break;
		if (byte == '\n' || byte == '\r') {
			l++;
			c = 0;
		}
	}
	if (byte >= 0x80 || (byte == '-' && begins_word(e, i + 1)))
		return 0;
	return (char)byte;
}

/* libyaml ends a line that the file leaves open. */
static bool is_end(const struct km_place *at, const struct km_place *end)
{
	if (at->line == end->line)
		return at->column == end->column;
	return at->line == end->line + 1 && at->column == 1 && end->column > 1;
}

/* The scanner gave up. */
static void report_mistake(struct km_events *e)
{
	const yaml_parser_t *p = &e->parser;
	struct km_mistake m = {
		.problem = p->problem,
		.context = p->context,
		.at = mark_place(e, p->problem_mark),
		.opened = mark_place(e, p->context_mark),
		.end = place(e, e->text.line, e->text.column + 1),
		.in_document = e->in_document,
		.last_line = e->last.line + 1,
		.last_end_line = e->last.end_line + 1,
		.last_quoted = e->last.quoted,
	};

	/* a block of text ends where the next line begins */
	if (!e->last.end_column && e->last.end_line > e->last.line)
		m.last_end_line--;

	m.met = met_at(e, m.at.line, m.at.column);
	m.at_end = e->text.ended && is_end(&m.at, &m.end);
	if (e->depth && e->open[e->depth - 1].bracket) {
		const struct open *o = &e->open[e->depth - 1];

		m.bracket = place(e, o->line, o->column);
		m.bracket_is = o->bracket;
	}
	km_mistake_report(e->d, &m);
}

/* last is the event before; its place is the last one known. */
static RARE bool parser_failed(struct km_events *e,
			       const struct km_event *last)
{
	if (e->text.too_long)
		km_diag_add(e->d, KM_M_ITEM_TOO_LONG, place(e, last->line, last->column),
			    (unsigned long long)e->text.item_bytes);
	if (e->text.status != KM_OK)
		return km_events_fail(e, e->text.status);
	if (e->parser.error == YAML_MEMORY_ERROR)
		return km_events_fail(e, KM_ENOMEM);
	report_mistake(e);
	return km_events_fail(e, KM_EINPUT);
}

/* ------------------------------------------------------------------ */
/* Checks                                                              */

/* Remember where text was last, for the words of a later mistake. */
static void note_text(struct km_events *e, bool quoted)
{
	e->last.line = (uint32_t)e->raw.start_mark.line;
	e->last.end_line = (uint32_t)e->raw.end_mark.line;
	e->last.end_column = (uint32_t)e->raw.end_mark.column;
	e->last.quoted = quoted;
}

/* Without anchor and tag an event that is no scalar has no memory to give
 * back. */
static bool check_node(struct km_events *e, const struct km_event *ev,
		       const yaml_char_t *anchor, const yaml_char_t *tag)
{
	if (anchor)
		return km_events_refuse(e, ev, KM_M_ANCHOR, quote_it);
	if (tag)
		return km_events_refuse(e, ev, KM_M_TAG, quote_it);
	e->has_raw = e->raw.type == YAML_SCALAR_EVENT;
	return true;
}

/* A list or map begins; bracket 0 if by indentation. */
static bool opens(struct km_events *e, const struct km_event *ev, char bracket)
{
	if (e->depth == e->max_depth) {
		km_diag_add(e->d, KM_M_TOO_DEEP,
			    place(e, ev->line, ev->column),
			    (unsigned)e->max_depth);
		return km_events_fail(e, KM_EINPUT);
	}
	e->open[e->depth++] = (struct open){ ev->line, ev->column, bracket };
	if (bracket)
		note_text(e, false);
	return true;
}

static bool closes(struct km_events *e, struct km_event *ev)
{
	ev->type = KM_EV_CLOSE;
	e->has_raw = false;		/* nothing to give back */
	e->depth--;
	if (e->raw.start_mark.index != e->raw.end_mark.index)
		note_text(e, false);
	return true;
}

static bool scalar(struct km_events *e, struct km_event *ev)
{
	static const unsigned char quotes[] = {
		[YAML_PLAIN_SCALAR_STYLE] = KM_EV_BARE,
		[YAML_SINGLE_QUOTED_SCALAR_STYLE] = KM_EV_SINGLE,
		[YAML_DOUBLE_QUOTED_SCALAR_STYLE] = KM_EV_DOUBLE,
		[YAML_LITERAL_SCALAR_STYLE] = KM_EV_BLOCK,
		[YAML_FOLDED_SCALAR_STYLE] = KM_EV_BLOCK,
	};
	const yaml_event_t *raw = &e->raw;

	ev->type = KM_EV_SCALAR;
	ev->text = (const char *)raw->data.scalar.value;
	ev->n = raw->data.scalar.length;
	ev->quote = (enum km_event_quote)quotes[raw->data.scalar.style];
	note_text(e, ev->quote == KM_EV_SINGLE || ev->quote == KM_EV_DOUBLE);
	return check_node(e, ev, raw->data.scalar.anchor,
			  raw->data.scalar.tag);
}

static bool document(struct km_events *e, struct km_event *ev)
{
	ev->type = KM_EV_DOCUMENT;
	if (e->in_document)
		return km_events_refuse(e, ev, KM_M_SECOND_DOCUMENT,
					"put it into a file of its own");
	e->in_document = true;
	return true;
}

/* Look at an event once, whoever takes it. */
static bool check_event(struct km_events *e, struct km_event *ev)
{
	const yaml_event_t *raw = &e->raw;

	switch (raw->type) {
	case YAML_ALIAS_EVENT:
		return km_events_refuse(e, ev, KM_M_ALIAS, quote_it);
	case YAML_SEQUENCE_START_EVENT:
		ev->type = KM_EV_LIST;
		return check_node(e, ev, raw->data.sequence_start.anchor,
				  raw->data.sequence_start.tag) &&
		       opens(e, ev, raw->data.sequence_start.style ==
				    YAML_FLOW_SEQUENCE_STYLE ? '[' : '\0');
	case YAML_MAPPING_START_EVENT:
		ev->type = KM_EV_MAP;
		return check_node(e, ev, raw->data.mapping_start.anchor,
				  raw->data.mapping_start.tag) &&
		       opens(e, ev, raw->data.mapping_start.style ==
				    YAML_FLOW_MAPPING_STYLE ? '{' : '\0');
	case YAML_SEQUENCE_END_EVENT:
	case YAML_MAPPING_END_EVENT:
		return closes(e, ev);
	case YAML_DOCUMENT_START_EVENT:
		return document(e, ev);
	case YAML_DOCUMENT_END_EVENT:
		ev->type = KM_EV_DOCUMENT_END;
		return true;
	case YAML_STREAM_END_EVENT:
		ev->type = KM_EV_FILE_END;
		return true;
	default:
		ev->type = KM_EV_FILE;
		return true;
	}
}

/* ------------------------------------------------------------------ */
/* The stream                                                          */

static void drop_event(struct km_events *e)
{
	if (e->has_raw)
		yaml_event_delete(&e->raw);
	e->has_raw = false;
}

bool km_events_next(struct km_events *e, struct km_event *ev)
{
	drop_event(e);
	if (e->status != KM_OK)
		return false;
	/* after an error libyaml answers 1 with no event, for ever */
	if (!yaml_parser_parse(&e->parser, &e->raw) ||
	    e->raw.type == YAML_NO_EVENT)
		return parser_failed(e, ev);
	e->has_raw = true;
	e->text.ahead = 0;
	ev->line = (uint32_t)e->raw.start_mark.line + 1;
	ev->column = (uint32_t)e->raw.start_mark.column + 1;
	if (e->raw.type == YAML_SCALAR_EVENT)	/* most of them */
		return scalar(e, ev);
	return check_event(e, ev);
}

bool km_events_skip(struct km_events *e, struct km_event *ev)
{
	uint32_t depth = e->depth;

	do
		if (!km_events_next(e, ev))
			return false;
	while (e->depth > depth);
	return true;
}

/* The end of what libyaml has got stays at hand: more than a chunk, so that
 * it cannot stumble over anything before it. */
static int read_handler(void *ctx, unsigned char *buf, size_t n, size_t *got)
{
	struct km_events *e = ctx;
	struct passed *p = e->now;

	n = n < CHUNK ? n : CHUNK;
	if (p->n + n > sizeof p->bytes) {
		e->now = e->before;
		e->before = p;
		p = e->now;
		p->n = 0;
	}
	if (!p->n) {
		p->line = e->text.line;
		p->column = e->text.column;
		p->last = e->text.last;
	}
	if (!km_text_read(&e->text, buf, n, got))
		return false;
	memcpy(p->bytes + p->n, buf, *got);
	p->n += *got;
	return true;
}

enum km_status km_events_open(struct km_arena *mem, const struct km_input *in,
			      const struct km_limits *lim, struct km_diags *d,
			      struct km_events **out)
{
	struct km_events *e = km_arena_alloc(mem, 1, sizeof *e);

	if (!e)
		return KM_ENOMEM;
	e->d = d;
	e->file = in->name;
	e->last.line = e->last.end_line = UINT32_MAX;
	e->max_depth = lim && lim->depth ? lim->depth : DEPTH;
	e->open = km_arena_alloc(mem, e->max_depth, sizeof *e->open);
	e->now = km_arena_raw(mem, 2, sizeof *e->now);
	if (!e->open || !e->now || !yaml_parser_initialize(&e->parser))
		return KM_ENOMEM;
	e->before = e->now + 1;
	e->now->n = e->before->n = 0;
	e->has_parser = true;
	km_text_init(&e->text, in, lim, d);
	yaml_parser_set_input(&e->parser, read_handler, e);
	*out = e;
	return KM_OK;
}

void km_events_close(struct km_events *e)
{
	if (!e)
		return;
	drop_event(e);
	if (e->has_parser)
		yaml_parser_delete(&e->parser);
	e->has_parser = false;
}
