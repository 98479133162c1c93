/* SPDX-License-Identifier: MIT */
#include "read/json.h"

#include <string.h>

#include "base/buf.h"
#include "base/str.h"
#include "read/text.h"

#define CHUNK 65536
/* As struct km_limits says. */
#define DEPTH 64u
#define NODES 4000000u
#define WORD_BYTES 256u
#define KEY_BYTES 64u
#define KEYS 1000u		/* of an object [choice] */

struct parser {
	struct km_arena *mem;
	struct km_diags *d;
	const char *file;
	const char *p, *end;
	const char *line;		/* where this line begins */
	uint32_t line_no;
	const char *mark;		/* in this line: so many characters */
	uint32_t mark_column;		/* stand before it */
	uint32_t depth, nodes;
	uint32_t max_depth, max_nodes, word_bytes, key_bytes;
	struct km_buf text;		/* the string in hand */
	enum km_status st;
};

/* ------------------------------------------------------------------ */
/* Places and mistakes                                                 */

/* Places mostly go forward; so a long line is counted once. */
static struct km_place place_at(struct parser *p, const char *at)
{
	struct km_place where = { p->file, p->line_no, 1 };

	if (p->mark < p->line || at < p->mark) {
		p->mark = p->line;
		p->mark_column = 0;
	}
	p->mark_column += (uint32_t)km_utf8_count(p->mark,
						  (size_t)(at - p->mark));
	p->mark = at;
	where.column += p->mark_column;
	return where;
}

/* Only the first mistake is told; what is left would follow from it. */
static bool wrong(struct parser *p, const char *at, const char *expected)
{
	if (p->st == KM_OK)
		km_diag_add(p->d, KM_M_JSON_SYNTAX, place_at(p, at), expected);
	p->st = KM_EINPUT;
	return false;
}

static bool too_much(struct parser *p, enum km_msg m, const char *at,
		     uint32_t most)
{
	if (p->st == KM_OK)
		km_diag_add(p->d, m, place_at(p, at), most);
	p->st = KM_EINPUT;
	return false;
}

static bool no_memory(struct parser *p)
{
	p->st = KM_ENOMEM;
	return false;
}

static void skip_blanks(struct parser *p)
{
	for (; p->p < p->end; p->p++) {
		if (*p->p == '\n') {
			p->line = p->p + 1;
			p->line_no++;
		} else if (*p->p != ' ' && *p->p != '\t' && *p->p != '\r') {
			return;
		}
	}
}

static bool eat(struct parser *p, char c)
{
	if (p->p == p->end || *p->p != c)
		return false;
	p->p++;
	return true;
}

/* ------------------------------------------------------------------ */
/* Strings                                                             */

static int hex_digit(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* The four digits behind \u; -1: there are none. */
static int32_t four_digits(struct parser *p)
{
	int32_t code = 0;

	for (int i = 0; i < 4; i++) {
		int d = p->p < p->end ? hex_digit(*p->p) : -1;

		if (d < 0)
			return -1;
		code = code * 16 + d;
		p->p++;
	}
	return code;
}

/* What \u stands for, with the second half of a pair; -1: nothing that may
 * stand in a text. */
static int32_t escaped_code(struct parser *p)
{
	int32_t code = four_digits(p), low;

	if (code < 0xD800 || code > 0xDFFF)
		return code > 0 ? code : -1;
	if (code > 0xDBFF || !eat(p, '\\') || !eat(p, 'u'))
		return -1;
	low = four_digits(p);
	if (low < 0xDC00 || low > 0xDFFF)
		return -1;
	return 0x10000 + (code - 0xD800) * 0x400 + (low - 0xDC00);
}

static bool escape(struct parser *p, const char *at)
{
	static const char plain[] = "\"\\/bfnrt";
	static const char means[] = "\"\\/\b\f\n\r\t";
	const char *found = p->p < p->end && *p->p
				    ? strchr(plain, *p->p) : NULL;
	char bytes[4];
	int32_t code;

	if (found) {
		p->p++;
		km_buf_char(&p->text, means[found - plain]);
		return true;
	}
	code = eat(p, 'u') ? escaped_code(p) : -1;
	if (code < 0)
		return wrong(p, at, "an escape that JSON has");
	km_buf_add(&p->text, bytes, km_utf8_put((uint32_t)code, bytes));
	return true;
}

/* A string from its quote on, decoded; NULL after a mistake. */
static const char *string(struct parser *p)
{
	const char *start = p->p, *text;

	km_buf_clear(&p->text);
	if (!eat(p, '"')) {
		wrong(p, start, "a quotation mark");
		return NULL;
	}
	while (p->p < p->end && *p->p != '"') {
		const char *at = p->p++;

		if ((unsigned char)*at < 0x20) {
			wrong(p, at, "an escape instead of this character");
			return NULL;
		}
		if (*at != '\\')
			km_buf_char(&p->text, *at);
		else if (!escape(p, at))
			return NULL;
	}
	if (!eat(p, '"')) {
		wrong(p, start, "a closing quotation mark to the one opened");
		return NULL;
	}
	text = km_arena_text(p->mem, p->text.len ? p->text.text : "",
			     p->text.len);
	if (!text || km_buf_failed(&p->text)) {
		no_memory(p);
		return NULL;
	}
	return text;
}

/* ------------------------------------------------------------------ */
/* Numbers and words                                                   */

static size_t digits(struct parser *p)
{
	const char *from = p->p;

	while (p->p < p->end && *p->p >= '0' && *p->p <= '9')
		p->p++;
	return (size_t)(p->p - from);
}

static bool number(struct parser *p, struct km_json *v)
{
	const char *start = p->p;
	bool good;

	(void)eat(p, '-');
	good = eat(p, '0') || digits(p) > 0;
	if (good && eat(p, '.'))
		good = digits(p) > 0;
	if (good && (eat(p, 'e') || eat(p, 'E'))) {
		if (!eat(p, '+'))
			(void)eat(p, '-');
		good = digits(p) > 0;
	}
	if (!good)
		return wrong(p, start, "a value");
	if ((size_t)(p->p - start) > p->word_bytes)
		return too_much(p, KM_M_LONG_TEXT, start, p->word_bytes);
	v->kind = KM_JSON_NUMBER;
	v->text = km_arena_text(p->mem, start, (size_t)(p->p - start));
	return v->text || no_memory(p);
}

static bool word(struct parser *p, const char *w, enum km_json_kind kind,
		 struct km_json *v)
{
	size_t n = strlen(w);

	if ((size_t)(p->end - p->p) < n || memcmp(p->p, w, n) != 0)
		return false;
	p->p += n;
	v->kind = kind;
	return true;
}

/* ------------------------------------------------------------------ */
/* Values                                                              */

static bool value(struct parser *p, struct km_json *v);

static struct km_json *new_node(struct parser *p)
{
	struct km_json *v;

	if (p->nodes == p->max_nodes) {
		too_much(p, KM_M_ENTRY_TOO_LARGE, p->p, p->max_nodes);
		return NULL;
	}
	p->nodes++;
	v = km_arena_alloc(p->mem, 1, sizeof *v);
	if (!v)
		no_memory(p);
	return v;
}

/* A name and its colon; other names of the object are known. */
static bool name(struct parser *p, const struct km_json *object,
		 struct km_json *v)
{
	const char *at = p->p;
	uint32_t n = 1;

	v->key = string(p);
	if (!v->key)
		return false;
	if (strlen(v->key) > p->key_bytes)
		return too_much(p, KM_M_LONG_KEY, at, p->key_bytes);
	for (const struct km_json *o = object->first; o; o = o->next, n++)
		if (!strcmp(o->key, v->key)) {
			km_diag_add(p->d, KM_M_DUPLICATE_KEY, place_at(p, at),
				    v->key);
			p->st = KM_EINPUT;
			return false;
		}
	if (n > KEYS)
		return too_much(p, KM_M_TOO_MANY_KEYS, at, KEYS);
	skip_blanks(p);
	if (!eat(p, ':'))
		return wrong(p, p->p, "':'");
	skip_blanks(p);
	return true;
}

/* What stands between two brackets. */
static bool list(struct parser *p, struct km_json *v, char close)
{
	const char *start = p->p++;
	struct km_json *last = NULL;

	v->kind = close == '}' ? KM_JSON_OBJECT : KM_JSON_ARRAY;
	if (p->depth == p->max_depth)
		return too_much(p, KM_M_TOO_DEEP, start, p->max_depth);
	p->depth++;
	skip_blanks(p);
	if (!eat(p, close)) {
		do {
			struct km_json *one = new_node(p);

			skip_blanks(p);
			if (!one || (close == '}' && !name(p, v, one)) ||
			    !value(p, one))
				return false;
			if (last)
				last->next = one;
			else
				v->first = one;
			last = one;
			skip_blanks(p);
		} while (eat(p, ','));
		if (!eat(p, close))
			return wrong(p, p->p, close == '}' ? "',' or '}'"
							   : "',' or ']'");
	}
	p->depth--;
	return true;
}

static bool value(struct parser *p, struct km_json *v)
{
	v->at = place_at(p, p->p);
	if (p->p == p->end)
		return wrong(p, p->p, "a value");
	switch (*p->p) {
	case '{':
		return list(p, v, '}');
	case '[':
		return list(p, v, ']');
	case '"':
		v->kind = KM_JSON_STRING;
		v->text = string(p);
		return v->text != NULL;
	default:
		return word(p, "null", KM_JSON_NULL, v) ||
		       word(p, "true", KM_JSON_TRUE, v) ||
		       word(p, "false", KM_JSON_FALSE, v) || number(p, v);
	}
}

/* ------------------------------------------------------------------ */
/* The file                                                            */

static enum km_status read_all(struct km_arena *scratch,
			       const struct km_input *in,
			       const struct km_limits *lim, struct km_diags *d,
			       struct km_buf *out)
{
	unsigned char *chunk = km_arena_raw(scratch, CHUNK, 1);
	struct km_text t;
	size_t got;

	if (!chunk)
		return KM_ENOMEM;
	km_text_init(&t, in, lim, d);
	do {
		t.ahead = 0;
		if (!km_text_read(&t, chunk, CHUNK, &got))
			return t.status;
		km_buf_add(out, (const char *)chunk, got);
	} while (got && !km_buf_failed(out));
	return km_buf_failed(out) ? KM_ENOMEM : KM_OK;
}

static uint32_t limit(uint32_t given, uint32_t usual)
{
	return given ? given : usual;
}

static enum km_status parse(struct parser *p, const struct km_limits *lim,
			    const struct km_json **out)
{
	static const struct km_limits none;
	struct km_json *v = km_arena_alloc(p->mem, 1, sizeof *v);

	if (!v)
		return KM_ENOMEM;
	lim = lim ? lim : &none;
	p->max_depth = limit(lim->depth, DEPTH);
	p->max_nodes = limit(lim->entry_nodes, NODES);
	p->word_bytes = limit(lim->word_bytes, WORD_BYTES);
	p->key_bytes = limit(lim->key_bytes, KEY_BYTES);
	skip_blanks(p);
	if (!value(p, v))
		return p->st;
	skip_blanks(p);
	if (p->p < p->end) {
		km_diag_add(p->d, KM_M_TRAILING_TEXT, place_at(p, p->p));
		return KM_EINPUT;
	}
	*out = v;
	return KM_OK;
}

enum km_status km_json_read(struct km_arena *mem, const struct km_input *in,
			    const struct km_limits *lim, struct km_diags *d,
			    const struct km_json **out)
{
	struct km_arena *scratch = km_arena_new(lim);
	struct parser p = { .mem = mem, .d = d, .line_no = 1 };
	enum km_status st = KM_ENOMEM;
	struct km_buf all;

	if (!scratch)
		return st;
	km_buf_init(&all, scratch);
	km_buf_init(&p.text, scratch);
	p.file = km_arena_text(mem, in->name, strlen(in->name));
	if (p.file) {
		km_diags_file(d, in->name);
		st = read_all(scratch, in, lim, d, &all);
	}
	if (st == KM_OK) {
		p.p = p.line = p.mark = all.len ? all.text : "";
		p.end = p.p + all.len;
		st = parse(&p, lim, out);
	}
	km_arena_free(scratch);
	return st;
}

const struct km_json *km_json_get(const struct km_json *v, const char *key)
{
	if (!v || v->kind != KM_JSON_OBJECT)
		return NULL;
	for (v = v->first; v; v = v->next)
		if (!strcmp(v->key, key))
			return v;
	return NULL;
}

const char *km_json_text(const struct km_json *v)
{
	return v && (v->kind == KM_JSON_STRING || v->kind == KM_JSON_NUMBER)
		       ? v->text : NULL;
}
