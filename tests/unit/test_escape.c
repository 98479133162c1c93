/* SPDX-License-Identifier: MIT */
/* The promises of base/escape.h.  Expected texts are written by hand from the
 * rules named beside them; escape.py among the oracles reads the same forms
 * back with parsers of other people's making. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "base/escape.h"

typedef void escape_fn(struct km_buf *b, const char *text, size_t n);

struct row { const char *text; size_t n; const char *expected; };
#define ROW(text, expected) { text, sizeof text - 1, expected }

static void check(escape_fn *f, const struct row *rows, size_t n)
{
	struct km_arena *mem = km_arena_new(NULL);

	assert_non_null(mem);
	for (size_t i = 0; i < n; i++) {
		struct km_buf b;

		km_buf_init(&b, mem);
		km_buf_str(&b, "");
		f(&b, rows[i].text, rows[i].n);
		assert_false(km_buf_failed(&b));
		if (strcmp(b.text, rows[i].expected) != 0)
			fail_msg("row %zu: got '%s', expected '%s'", i,
				 b.text, rows[i].expected);
	}
	km_arena_free(mem);
}
#define CHECK(f, rows) check(f, rows, sizeof(rows) / sizeof *(rows))

/* SOURCE cwe-150: no control sequence reaches the terminal. */
static void nothing_acts_on_a_terminal(void **state)
{
	static const struct row rows[] = {
		ROW("", ""),
		ROW("1/4 W \\ caf\xC3\xA9", "1/4 W \\ caf\xC3\xA9"),
		ROW("\x1B[31mred\a", "\\x1b[31mred\\x07"),
		ROW("a\nb\tc\rd\0e", "a\\x0ab\\x09c\\x0dd\\x00e"),
		ROW("\x7F", "\\x7f"),
		/* C1: U+0080, U+009B (control sequence introducer), U+009F */
		ROW("\xC2\x80\xC2\x9B\xC2\x9F", "\\u0080\\u009b\\u009f"),
		ROW("\xC2\xA0", "\xC2\xA0"),
		ROW("\xE2\x80\xA8\xE2\x80\xA9", "\\u2028\\u2029"),
		ROW("\xE2\x80\xAE" "evil", "\\u202eevil"),
		ROW("\xD8\x9C\xE2\x80\x8E\xE2\x80\x8F",
		    "\\u061c\\u200e\\u200f"),
		ROW("\xE2\x81\xA6\xE2\x81\xA9", "\\u2066\\u2069"),
		ROW("\xE2\x81\xA5", "\xE2\x81\xA5"),
		ROW("\xEF\xBB\xBF", "\\ufeff"),
		/* invalid bytes: lone, overlong, cut off */
		ROW("caf\xE9", "caf\\xe9"),
		ROW("\xC0\xAF", "\\xc0\\xaf"),
		ROW("\xE2\x82", "\\xe2\\x82"),
		ROW("\xF0\x9D\x84\x9E", "\xF0\x9D\x84\x9E"),
	};

	(void)state;
	CHECK(km_escape_terminal, rows);
}

/* SOURCE rfc-8259, section 7: '"', '\' and U+0000 to U+001F are escaped. */
static void json_strings_are_valid(void **state)
{
	static const struct row rows[] = {
		ROW("7/16\" \\", "7/16\\\" \\\\"),
		ROW("a\nb\tc\0", "a\\nb\\tc\\u0000"),
		ROW("\x1F\x7F", "\\u001f\\u007f"),
		ROW("</script>", "\\u003c/script>"),
		ROW("\xE2\x80\xA8\xE2\x80\xAE", "\\u2028\\u202e"),
		ROW("caf\xC3\xA9 \xE9", "caf\xC3\xA9 \xEF\xBF\xBD"),
	};

	(void)state;
	CHECK(km_escape_json, rows);
}

/* SOURCE rfc-4180, section 2, rules 5 to 7; cwe-1236 for the apostrophe. */
static void csv_fields_stay_text(void **state)
{
	static const struct row rows[] = {
		ROW("", ""),
		ROW("drawer 2", "drawer 2"),
		ROW("a,b", "\"a,b\""),
		ROW("7/16\"", "\"7/16\"\"\""),
		ROW("two\nlines", "\"two\nlines\""),
		ROW("two\r\nlines", "\"two\r\nlines\""),
		ROW("=1+1", "'=1+1"),
		ROW("@x", "'@x"),
		ROW("+44", "'+44"),
		ROW("-x", "'-x"),
		ROW("-12 mm", "'-12 mm"),
		ROW("\t=1", "'\t=1"),
		ROW("\r=1", "\"'\r=1\""),
		ROW(" =1", "\"' =1\""),
		ROW("\"=1\"", "\"'\"\"=1\"\"\""),
		ROW("a=1", "a=1"),
		ROW("12-14", "12-14"),
		ROW("\x1B[31m", "\xEF\xBF\xBD[31m"),
	};

	(void)state;
	CHECK(km_escape_csv, rows);
}

static void html_has_no_markup_of_files(void **state)
{
	static const struct row rows[] = {
		ROW("<script>alert('x')</script>",
		    "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"),
		ROW("A & B \"C\"", "A &amp; B &quot;C&quot;"),
		ROW("a\nb\0\x1B\x7F", "a\nb\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD"),
		ROW("\xE9", "\xEF\xBF\xBD"),
	};

	(void)state;
	CHECK(km_escape_html, rows);
}

/* SOURCE xml-1.0, section 2.2: Char leaves out most of C0, U+FFFE, U+FFFF. */
static void xml_holds_only_its_characters(void **state)
{
	static const struct row rows[] = {
		ROW("]]>", "]]&gt;"),
		ROW("<a b='c'>&", "&lt;a b=&#39;c&#39;&gt;&amp;"),
		ROW("a\tb\nc\r", "a&#9;b&#10;c&#13;"),
		ROW("\x01\x1B", "\xEF\xBF\xBD\xEF\xBF\xBD"),
		ROW("\xEF\xBF\xBE\xEF\xBF\xBF", "\xEF\xBF\xBD\xEF\xBF\xBD"),
		ROW("\xF0\x9D\x84\x9E", "\xF0\x9D\x84\x9E"),
	};

	(void)state;
	CHECK(km_escape_xml, rows);
}

static void github_message(struct km_buf *b, const char *text, size_t n)
{
	km_escape_github(b, text, n, false);
}

static void github_property(struct km_buf *b, const char *text, size_t n)
{
	km_escape_github(b, text, n, true);
}

static void a_log_line_stays_one_line(void **state)
{
	static const struct row message[] = {
		ROW("60 %\r\n::error::x", "60 %25%0D%0A::error::x"),
		ROW("a:b,c", "a:b,c"),
		ROW("\x1B", "\\x1b"),
	};
	static const struct row property[] = {
		ROW("a:b,c\n%", "a%3Ab%2Cc%0A%25"),
	};

	(void)state;
	CHECK(github_message, message);
	CHECK(github_property, property);
}

/* A buffer that fails stays failed and nothing is written past its room. */
static void no_memory_is_noticed(void **state)
{
	struct km_fault fault = { .fail_at = 2, .and_after = 1 };
	struct km_limits lim = { .fault = &fault };
	struct km_arena *mem = km_arena_new(&lim);
	struct km_buf b;

	(void)state;
	assert_non_null(mem);
	km_buf_init(&b, mem);
	km_escape_terminal(&b, "\x1B", 1);
	assert_true(km_buf_failed(&b));
	km_arena_free(mem);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_acts_on_a_terminal),
		cmocka_unit_test(json_strings_are_valid),
		cmocka_unit_test(csv_fields_stay_text),
		cmocka_unit_test(html_has_no_markup_of_files),
		cmocka_unit_test(xml_holds_only_its_characters),
		cmocka_unit_test(a_log_line_stays_one_line),
		cmocka_unit_test(no_memory_is_noticed),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
