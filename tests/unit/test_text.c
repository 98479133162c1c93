/* SPDX-License-Identifier: MIT */
/* The promises of read/text.h. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>

#include "read/text.h"
#include "tests/unit/feed.h"

enum { ROOM = 4096 };

struct outcome {
	char text[ROOM];
	size_t n;
	enum km_status status;
	bool too_long;
	char said[128];		/* "LINE:COLUMN id" of the only message */
};

/* Read a feed to its end, chunk bytes a call. */
static void read_all(struct feed *f, size_t chunk, const struct km_limits *lim,
		     struct outcome *out)
{
	struct km_diags *d = km_diags_new(NULL);
	struct km_input in = feed_input(f);
	struct km_text t;
	size_t got;

	*out = (struct outcome){ 0 };
	km_text_init(&t, &in, lim, d);
	while (km_text_read(&t, (unsigned char *)out->text + out->n, chunk,
			    &got) && got) {
		out->n += got;
		assert_true(out->n + chunk <= ROOM);
	}
	out->status = t.status;
	out->too_long = t.too_long;
	assert_true(km_diags_size(d) <= 1);
	if (km_diags_size(d)) {
		const struct km_diag *one = km_diags_at(d, 0);

		snprintf(out->said, sizeof out->said, "%u:%u %s",
			 (unsigned)one->at.line, (unsigned)one->at.column,
			 km_msg_id(one->msg));
		/* and a failed text stays failed, in silence */
		assert_false(km_text_read(&t, (unsigned char *)out->text, 1,
					  &got));
		assert_int_equal(km_diags_size(d), 1);
	}
	km_diags_free(d);
}

struct row { const char *bytes; size_t n; size_t clean; const char *said; };
#define ROW(bytes, clean, said) { bytes, sizeof bytes - 1, clean, said }

/*
 * SOURCE utf-8-7, "Encoding": the shortest sequence only, no surrogates,
 * nothing above U+10FFFF; the rows next to its edges are worked by hand.  clean counts the bytes that pass before the
 * mistake.
 */
static const struct row rows[] = {
	ROW("", 0, ""),
	ROW("a: b\n", 5, ""),
	ROW("a\tb\r\nc\rd\n", 9, ""),
	/* the first and the last of each length */
	ROW("\xC2\xA0 \xDF\xBF", 5, ""),
	ROW("\xE0\xA0\x80 \xED\x9F\xBF", 7, ""),
	ROW("\xEE\x80\x80 \xEF\xBF\xBD", 7, ""),
	ROW("\xF0\x90\x80\x80 \xF4\x8F\xBF\xBF", 9, ""),
	ROW("a\xC1\xBF", 1, "1:2 not-utf8"),
	ROW("a\xE0\x9F\xBF", 1, "1:2 not-utf8"),
	ROW("a\xED\xA0\x80", 1, "1:2 not-utf8"),
	ROW("a\xF0\x8F\xBF\xBF", 1, "1:2 not-utf8"),
	ROW("a\xF4\x90\x80\x80", 1, "1:2 not-utf8"),
	ROW("a\xF5\x80\x80\x80", 1, "1:2 not-utf8"),
	ROW("a\x80", 1, "1:2 not-utf8"),
	/* cut off by the end, which is known only after they have passed */
	ROW("ab\xE2\x82", 4, "1:3 not-utf8"),
	ROW("ab\xE2\x82\n", 2, "1:3 not-utf8"),
	ROW("caf\xE9\n", 3, "1:4 not-utf8"),
	/* columns are characters, lines end with LF, CR LF or CR */
	ROW("\xC3\xA9\xE2\x82\xAC\xF0\x9D\x84\x9E\x01", 9,
	    "1:4 control-character"),
	ROW("a\nb\r\nc\rd\x01", 8, "4:2 control-character"),
	ROW("\r\r\n\n\x01", 4, "4:1 control-character"),
	ROW("\xEF\xBB\xBF" "ab\x01", 5, "1:3 control-character"),
	/* characters */
	ROW("abcd\0e", 4, "1:5 control-character"),
	ROW("ab\x1B", 2, "1:3 control-character"),
	ROW("ab\x7F", 2, "1:3 control-character"),
	ROW("0123456789abcdef\x7F", 16, "1:17 control-character"),
	ROW("0123456789abcdef~}|{zyxw\x1F", 24, "1:25 control-character"),
	ROW("ab\xC2\x80", 2, "1:3 control-character"),
	ROW("ab\xC2\x9F", 2, "1:3 control-character"),
	ROW("ab\xEF\xBF\xBE", 2, "1:3 control-character"),
	ROW("ab\xC2\x85", 2, "1:3 line-separator"),
	ROW("ab\xE2\x80\xA8", 2, "1:3 line-separator"),
	ROW("ab\xE2\x80\xA9", 2, "1:3 line-separator"),
	ROW("ab\xE2\x80\xAE", 2, "1:3 bidi-control"),
	ROW("ab\xE2\x81\xA6", 2, "1:3 bidi-control"),
	/* marks of encodings */
	ROW("\xEF\xBB\xBF\xEF\xBB\xBF", 3, "1:1 stray-bom"),
	ROW("ab\xEF\xBB\xBF", 2, "1:3 stray-bom"),
	ROW("\xFF\xFE" "a\0", 0, "1:1 utf-16"),
	ROW("\xFE\xFF\0a", 0, "1:1 utf-16"),
	ROW("a\0b\0", 0, "1:1 utf-16"),
	ROW("\0a\0b", 0, "1:1 utf-16"),
	ROW("\0\0\xFE\xFF\0\0\0a", 0, "1:1 utf-16"),
	ROW("\0\0\0a", 0, "1:1 utf-16"),
	ROW("\0\0\0\0", 0, "1:1 control-character"),
	ROW("\xFF\xFF", 0, "1:1 not-utf8"),
	/* directives */
	ROW("%YAML 1.2\n---\n", 14, ""),
	ROW("a % b\n %\n", 9, ""),
	ROW("a\n%YAML 1.2\n", 12, ""),
	ROW("%TAG ! x\n", 0, "1:1 directive"),
	ROW("a\n%YAMX\n", 2, "2:1 directive"),
	ROW("a\r\n%\n", 3, "2:1 directive"),
	ROW("%YAML 1.2\n%YAML 1.2\n", 10, "2:1 directive"),
	ROW("\xEF\xBB\xBF%TAG\n", 3, "1:1 directive"),
	ROW("a\n%YA", 5, "2:1 directive"),
};

/* All rows, by any chunk and any manner of reading; the place never depends
 * on it.  What passes may be more than `clean` by the first bytes of a
 * character that proves bad in a later chunk. */
static void check_rows(size_t chunk, size_t step, int interrupted)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct row *r = &rows[i];
		struct feed f = { .bytes = r->bytes, .n = r->n, .step = step,
				  .interrupted = interrupted };
		struct outcome out;

		read_all(&f, chunk, NULL, &out);
		if (strcmp(out.said, r->said) != 0)
			fail_msg("row %zu, chunk %zu: said '%s', expected "
				 "'%s'", i, chunk, out.said, r->said);
		assert_int_equal(out.status, *r->said ? KM_EINPUT : KM_OK);
		if (step || chunk < 64)
			assert_true(out.n >= r->clean && out.n <= r->n);
		else
			assert_int_equal(out.n, r->clean);
		assert_memory_equal(out.text, r->bytes, out.n);
	}
}

static void mistakes_are_found_at_their_place(void **state)
{
	(void)state;
	check_rows(1024, 0, 0);
}

static void one_byte_at_a_time_is_the_same(void **state)
{
	(void)state;
	check_rows(1024, 1, 0);
	for (size_t chunk = 4; chunk < 12; chunk++)
		check_rows(chunk, 0, 0);
}

static void an_interrupted_read_is_repeated(void **state)
{
	(void)state;
	check_rows(1024, 0, 1);
	check_rows(1024, 1, 1);
}

/* The clean text comes first, so that what is wrong in it is told first. */
static void a_broken_read_is_reported_once(void **state)
{
	static const char bytes[] = "bench:\n  - id: T-1\n";

	(void)state;
	for (size_t k = 0; k < sizeof bytes; k++) {
		struct feed f = { .bytes = bytes, .n = sizeof bytes - 1,
				  .breaks = 1, .break_at = k };
		struct outcome out;

		read_all(&f, 1024, NULL, &out);
		assert_int_equal(out.status, KM_EIO);
		assert_string_equal(out.said, "0:0 cannot-read");
		assert_int_equal(out.n, k < 4 ? 0 : k);
	}
}

static void a_file_has_a_length(void **state)
{
	static const char bytes[] = "a: b\nc: d\n";	/* 10 bytes */
	struct km_limits lim = { .file_bytes = 10 };
	struct feed f = { .bytes = bytes, .n = 10 };
	struct outcome out;

	(void)state;
	read_all(&f, 64, &lim, &out);
	assert_int_equal(out.status, KM_OK);
	assert_int_equal(out.n, 10);
	lim.file_bytes = 9;
	f = (struct feed){ .bytes = bytes, .n = 10 };
	read_all(&f, 64, &lim, &out);
	assert_int_equal(out.status, KM_EINPUT);
	assert_string_equal(out.said, "2:5 file-too-large");
	assert_int_equal(out.n, 9);
}

/* The caller says when something was read, by setting `ahead` to 0; here
 * nobody does. */
static void an_item_has_a_length(void **state)
{
	static const char bytes[] = "a: b\nc: d\n";
	struct km_limits lim = { .item_bytes = 10 };
	struct feed f = { .bytes = bytes, .n = 10 };
	struct outcome out;

	(void)state;
	read_all(&f, 64, &lim, &out);
	assert_int_equal(out.status, KM_OK);
	lim.item_bytes = 9;
	f = (struct feed){ .bytes = bytes, .n = 10 };
	read_all(&f, 64, &lim, &out);
	assert_int_equal(out.status, KM_EINPUT);
	assert_true(out.too_long);
	assert_string_equal(out.said, "");
}

/* ------------------------------------------------------------------ */
/* A file that somebody writes while it is read                        */

/* read() of a file whose length changes: to `then` bytes once `when` have been
 * given, and to `last` after the first answer of 0. */
struct changing {
	const char *bytes;
	size_t n, at, when, then, last;
	unsigned ends;		/* answers of 0 */
};

static ptrdiff_t changing_read(void *ctx, void *buf, size_t n)
{
	struct changing *c = ctx;

	if (c->at >= c->when)
		c->n = c->ends ? c->last : c->then;
	if (c->at >= c->n) {
		c->ends++;
		return 0;
	}
	if (n > c->n - c->at)
		n = c->n - c->at;
	if (c->at < c->when && n > c->when - c->at)
		n = c->when - c->at;
	memcpy(buf, c->bytes + c->at, n);
	c->at += n;
	return (ptrdiff_t)n;
}

/* n bytes are the text, and its end is asked for once. */
static void expect_changing(struct changing c, size_t n, const char *said)
{
	struct km_diags *d = km_diags_new(NULL);
	struct km_input in = { "t.yaml", KM_INPUT_YAML, changing_read, &c };
	char text[ROOM];
	struct km_text t;
	size_t got, have = 0;

	km_text_init(&t, &in, NULL, d);
	while (km_text_read(&t, (unsigned char *)text + have, 16, &got) && got)
		have += got;
	assert_int_equal(have, n);
	assert_memory_equal(text, c.bytes, n);
	assert_int_equal(km_diags_size(d), said ? 1 : 0);
	if (said)
		assert_string_equal(km_msg_id(km_diags_at(d, 0)->msg), said);
	km_text_read(&t, (unsigned char *)text, 1, &got);
	assert_int_equal(got, 0);
	assert_int_equal(c.ends, 1);
	km_diags_free(d);
}

/* Whatever length the file takes, what has been read stays read, and the
 * first end is the end. */
static void a_file_may_shrink_and_grow_while_it_is_read(void **state)
{
	static const char text[] = "bench:\n- {id: A\xC3\xA9, tool: tyre lever}\n";
	const size_t n = sizeof text - 1;

	(void)state;
	for (size_t when = 1; when < n; when++) {
		/* inside of the letter, which is bytes 15 and 16 */
		const char *said = when == 16 ? "not-utf8" : NULL;

		expect_changing((struct changing){ .bytes = text, .n = n,
			.when = when, .then = 0, .last = n }, when, said);
		expect_changing((struct changing){ .bytes = text, .n = when,
			.when = when, .then = n, .last = n }, n, NULL);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_file_may_shrink_and_grow_while_it_is_read),
		cmocka_unit_test(mistakes_are_found_at_their_place),
		cmocka_unit_test(one_byte_at_a_time_is_the_same),
		cmocka_unit_test(an_interrupted_read_is_repeated),
		cmocka_unit_test(a_broken_read_is_reported_once),
		cmocka_unit_test(a_file_has_a_length),
		cmocka_unit_test(an_item_has_a_length),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
