/* SPDX-License-Identifier: MIT */
/*
 * The promise of read/lane.h: with it and without, a text is the same events
 * and messages.  libyaml itself is the reference: fed byte by byte the lane
 * never has two items before it, so that all of the text goes to libyaml.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <glob.h>
#include <stdio.h>

#include "base/buf.h"
#include "read/events.h"
#include "read/lane.h"
#include "tests/unit/feed.h"

/* "3:4{ 3:5a 3:8'x' E": places, texts in their quotes; a list is L, a map M,
 * or else its bracket, and an end is E alone: that of a map in block style has
 * no place of its own. */
static void put_event(struct km_buf *b, const struct km_event *ev, char bracket)
{
	static const char kinds[] = { 'F', 'D', ' ', 'L', 'M', 'E', 'e', 'f' };
	static const char *const quotes[] = { "", "'", "\"", "|" };

	if (ev->type == KM_EV_CLOSE) {
		km_buf_str(b, " E");
		return;
	}
	km_buf_printf(b, "%s%u:%u", b->len ? " " : "", (unsigned)ev->line,
		      (unsigned)ev->column);
	if (ev->type != KM_EV_SCALAR) {
		km_buf_char(b, bracket ? bracket : kinds[ev->type]);
		return;
	}
	km_buf_str(b, quotes[ev->quote]);
	km_buf_add(b, ev->text, ev->n);
	km_buf_str(b, quotes[ev->quote]);
}

/* ------------------------------------------------------------------ */
/* What libyaml gets                                                   */

static void expect_read(struct km_lane *l, const char *expected)
{
	unsigned char out[4096];
	size_t n;

	assert_true(km_lane_read(l, out, sizeof out - 1, &n));
	out[n] = '\0';
	assert_string_equal((char *)out, expected);
}

/* Two items go to libyaml; once it has told the first, all but the last of
 * the others are empty lines to it. */
static void items_between_are_empty_lines(void **state)
{
	struct feed f = { .bytes = "bench:\n- {a: 1}\n- {a: 2}\n- {a: 'x y'}\n"
				   "- k: \xc3\xa4 , b\n  b: [5]\n- {a: 6}\nkit:\n" };
	struct km_input in = feed_input(&f);
	struct km_arena *mem = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_event ev = { 0 };
	struct km_text text;
	struct km_lane *l;
	struct km_buf got;

	(void)state;
	f.n = strlen(f.bytes);
	assert_true(mem && d);
	km_text_init(&text, &in, NULL, d);
	l = km_lane_new(mem, &text);
	assert_non_null(l);
	expect_read(l, "bench:\n- {a: 1}\n- {a: 2}\n");
	km_lane_told(l, 2, 3);
	expect_read(l, "\n\n\n- {a: 6}\n");
	assert_false(km_lane_is_due(l));
	km_lane_told(l, 3, 3);
	km_buf_init(&got, mem);
	while (km_lane_is_due(l)) {
		char bracket = km_lane_next(l, &ev);

		put_event(&got, &ev, bracket);
	}
	assert_string_equal(got.text,
			    "4:3{ 4:4a 4:7'x y' E "
			    "5:3M 5:3k 5:6\xc3\xa4 , b 6:3b 6:6[ 6:7""5 E E");
	expect_read(l, "kit:\n");
	expect_read(l, "");
	km_diags_free(d);
	km_arena_free(mem);
}

/* What libyaml has not told goes to libyaml, to the last byte. */
static void text_that_looks_like_items_stays(void **state)
{
	struct feed f = { .bytes = "note: |\n  - {a: 1}\n  - {a: 2}\n"
				   "  - {a: 3}\n  - {a: 4}\n  - {a: 5}\n" };
	struct km_input in = feed_input(&f);
	struct km_arena *mem = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_text text;
	struct km_lane *l;

	(void)state;
	f.n = strlen(f.bytes);
	assert_true(mem && d);
	km_text_init(&text, &in, NULL, d);
	l = km_lane_new(mem, &text);
	assert_non_null(l);
	expect_read(l, "note: |\n  - {a: 1}\n  - {a: 2}\n");
	expect_read(l, "  - {a: 3}\n");
	km_lane_told(l, 1, 1);		/* something, but not the item before */
	expect_read(l, "  - {a: 4}\n");
	expect_read(l, "  - {a: 5}\n");
	expect_read(l, "");
	km_diags_free(d);
	km_arena_free(mem);
}

/* ------------------------------------------------------------------ */
/* The same events                                                     */

static void put_messages(struct km_buf *b, struct km_diags *d)
{
	km_diags_sort(d);
	for (size_t i = 0; i < km_diags_size(d); i++) {
		const struct km_diag *one = km_diags_at(d, i);

		km_buf_printf(b, "\n%u:%u %u:%u %s", (unsigned)one->at.line,
			      (unsigned)one->at.column,
			      (unsigned)one->other.line,
			      (unsigned)one->other.column,
			      km_msg_id(one->msg));
		km_buf_printf(b, " %s %s", one->text,
			      one->hint ? one->hint : "");
	}
}

static void put_all(struct km_buf *b, struct km_arena *mem, const char *text,
		    size_t n, size_t step, const struct km_limits *lim)
{
	struct feed f = { .bytes = text, .n = n, .step = step };
	struct km_diags *d = km_diags_new(NULL);
	struct km_input in = feed_input(&f);
	struct km_event ev = { .line = 1, .column = 1 };
	struct km_events *e;

	assert_non_null(d);
	assert_int_equal(km_events_open(mem, &in, lim, d, &e), KM_OK);
	km_buf_init(b, mem);
	while (km_events_next(e, &ev)) {
		put_event(b, &ev, 0);
		if (ev.type == KM_EV_FILE_END)
			break;
	}
	km_buf_printf(b, "\n%d", (int)km_events_status(e));
	put_messages(b, d);
	assert_false(km_buf_failed(b));
	km_events_close(e);
	km_diags_free(d);
}

static void expect_same(const char *what, const char *text, size_t n)
{
	static const struct km_limits shallow = { .depth = 4 };
	static const size_t steps[] = { 0, 61, 500, 5000 };
	struct km_buf alone, with;
	size_t at, from;

	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
		const struct km_limits *lim = i == 1 ? &shallow : NULL;
		struct km_arena *mem = km_arena_new(NULL);

		assert_non_null(mem);
		put_all(&alone, mem, text, n, 1, lim);
		put_all(&with, mem, text, n, steps[i], lim);
		for (at = 0; at < alone.len && at < with.len &&
		     alone.text[at] == with.text[at]; at++)
			;
		from = at > 60 ? at - 60 : 0;
		if (at < alone.len || at < with.len)
			fail_msg("%s, %zu bytes a step:\nlibyaml: %.160s\n"
				 "lane: %.160s\n%.*s", what, steps[i],
				 alone.text + from, with.text + from, (int)n,
				 text);
		km_arena_free(mem);
		if (i && steps[i] > n)
			break;
	}
}

static void texts_of_the_project_are_the_same(void **state)
{
	static const char *const where[] = {
		"demo/*.yaml", "tests/bad/*.yaml", "tests/golden/*/*.yaml",
		"tests/fuzz/corpus/*/*",
	};
	static char text[65536];
	size_t files = 0;

	(void)state;
	for (size_t k = 0; k < sizeof where / sizeof *where; k++) {
		glob_t g = { 0 };

		if (glob(where[k], 0, NULL, &g))
			continue;
		for (size_t i = 0; i < g.gl_pathc; i++, files++) {
			FILE *f = fopen(g.gl_pathv[i], "rb");
			size_t n;

			assert_non_null(f);
			n = fread(text, 1, sizeof text, f);
			fclose(f);
			expect_same(g.gl_pathv[i], text, n);
		}
		globfree(&g);
	}
	assert_true(files > 200);
}

/* ------------------------------------------------------------------ */
/* Texts by chance                                                     */

static uint32_t chance(uint32_t n)
{
	static uint64_t seed = 20260401;

	seed = seed * UINT64_C(6364136223846793005) + 1442695040888963407u;
	return (uint32_t)(seed >> 33) % n;
}

static const char *const openings[] = {
	"bench:\n", "bench:\n", "bench:\n", "kit:\n  slots:\n", "kit: {a: 1}\nb:\n",
	"note: |\n", "note: >\n", "note: \"\n", "note: 'x\n", "a: [\n", "a: [x\n",
	"a: {b: x\n", "a: {\n", "a: x\n", "--- |\n", "- - {a: 1}\n", "? |\n", "",
	"bench:\n  - x: |\n", "bench:\n  - x:\n", ("\xef\xbb\xbf" "bench:\n"),
	"a:\r\n", "a: # b\n\n", "- {a: 1}\n- {a: 2}\n",
};

/* '~' stands for a line break and the indentation of the keys. */
static const char *const plain[] = {
	"- {a: 1}", "- {a: 1, b: [x, y z], c: {d: e}}", "- a: 1~b: two words",
	"- {\"q\": 'it', s: \"\"}", "- {a: \xc3\xa4 \xe2\x82\xac, b: x}",
	"- id: 'T'~c: {d: [1]}", "- {a: 60 p, b: T & S, c: 1/4 W}",
	"- a: x, y~b: \"z\"~c: d", "- {a : 1 , b : [ 2 ] }", "-   {a: 1}  ",
	"- {a: 1}\r",
};

static const char *const other[] = {
	"", "# c", "- {a: 1} # c", "- x", "- [a]", "- {a: }", "- {a: 1", "x",
	"- a: 1~ b", "\tq: 1", "- {a: &x 1}", "- {a: *x}", "end: 1", "}", "]",
	"\"", "'", "- {a: 1}\rx", "- {a: @}", "- {a: x: y}", "- {a: b:c}",
	"- a: x # y", "- {a: x#y}", "- {a: x #y}", "- {? a: 1}", "- {a?: 1}",
	"- a?: 1", "...", "---", "- {a: [1, 2,]}", "- {}", "- a: - b",
	"- {a: -5}", "- !t {a: 1}", "- {a: \"b\"c}", "- {'a''b': 1}",
	"- a: \"x\\n\"", "- a : 1", "- - a: 1", "- a:~  b: 1", "- {[a]: 1}",
	"- {a: 1}: b", "- {a: 1}, ", "-", "- ", "- ? a", "- a: |~  t", "- {<<: 1}",
	"- a: [1~ ,2]", "- a: b~~c: d", "- a: b~# c~d: e", "- {a: 1}\t", "-\t{a: 1}",
	"- {\"a\":1}", "- {a, b: 1}", "- [[[[[[1]]]]]]", "- {a: {a: {a: {a: 1}}}}",
	"- {a: \x01}", "- {a: \xc3}", "- a: `x", "- a: b: c", "~b: c",
};

static size_t put_line(char *p, const char *from, unsigned indent)
{
	const char *begun = p;

	for (unsigned i = 0; i < indent; i++)
		*p++ = ' ';
	for (; *from; from++) {
		*p++ = *from == '~' ? '\n' : *from;
		for (unsigned i = 0; *from == '~' && i < indent + 2; i++)
			*p++ = ' ';
	}
	*p++ = '\n';
	return (size_t)(p - begun);
}

static size_t make_text(char *text, unsigned lines)
{
	static const unsigned depths[] = { 0, 2, 2, 2, 4, 1 };
	const char *opening = openings[chance(sizeof openings / sizeof *openings)];
	unsigned usual = depths[chance(6)], rare = 3 + chance(40);
	size_t n = strlen(opening);

	memcpy(text, opening, n);
	while (lines--) {
		unsigned indent = chance(rare) ? usual : depths[chance(6)];
		const char *line =
			chance(rare)
				? plain[chance(sizeof plain / sizeof *plain)]
				: other[chance(sizeof other / sizeof *other)];

		n += put_line(text + n, line, indent);
	}
	if (!chance(3))
		text[chance((uint32_t)n)] = "\n \t-:,{}[]#'\"ax&\r"[chance(17)];
	return chance(8) ? n : chance((uint32_t)n) + 1;
}

static void texts_by_chance_are_the_same(void **state)
{
	enum { TEXTS = 6000, LONG = 30, LINES = 1500 };
	static char text[64 * LINES];
	char what[32];

	(void)state;
	for (unsigned i = 0; i < TEXTS; i++) {
		unsigned lines = i < LONG ? LINES : 4 + chance(30);

		snprintf(what, sizeof what, "text %u", i);
		expect_same(what, text, make_text(text, lines));
	}
}

/* The message of a text with one mistake, with the places counted by hand. */
static void expect_said(const char *text, const char *expected)
{
	static const size_t steps[] = { 0, 1, 3 };

	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
		struct km_arena *mem = km_arena_new(NULL);
		struct km_buf b;
		const char *said;

		assert_non_null(mem);
		put_all(&b, mem, text, strlen(text), steps[i], NULL);
		said = strstr(b.text, "\n1\n");
		assert_non_null(said);
		if (strncmp(said + 3, expected, strlen(expected)))
			fail_msg("%s: %s", text, said + 3);
		km_arena_free(mem);
	}
}

/* What stands where libyaml gave up is looked up in the text it got, also
 * where that came in pieces. */
static void mistakes_tell_what_stands_there(void **state)
{
	(void)state;
	expect_said("a: [b\n", "1:4 2:1 unclosed-bracket ");
	expect_said("a: [b", "1:4 1:6 unclosed-bracket ");
	expect_said("a: ['b',\n- c\n", "1:4 2:1 unclosed-bracket ");
	expect_said("a: [b,\n\tc, \"\n", "2:5 3:1 unclosed-quote ");
	expect_said("a:\n\tb: c\n", "2:1 0:0 tab-indent ");
	expect_said("a: @b\n", "1:4 0:0 quote-value ");
	expect_said("\xc3\xa9: `\n", "1:4 0:0 quote-value ");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(items_between_are_empty_lines),
		cmocka_unit_test(text_that_looks_like_items_stays),
		cmocka_unit_test(mistakes_tell_what_stands_there),
		cmocka_unit_test(texts_of_the_project_are_the_same),
		cmocka_unit_test(texts_by_chance_are_the_same),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
