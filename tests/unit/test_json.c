/* SPDX-License-Identifier: MIT */
/*
 * The reader of JSON.  What a text means is taken from SOURCE rfc-8259,
 * sections 3 to 7; the code points of \u escapes are worked out beside them.
 * Broken texts, with the places of the messages, are in tests/bad/json_files.py.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "read/json.h"

struct bytes { const char *p; size_t n, step; };

static ptrdiff_t give(void *ctx, void *buf, size_t n)
{
	struct bytes *b = ctx;

	n = n < b->n ? n : b->n;
	n = b->step && n > b->step ? b->step : n;
	memcpy(buf, b->p, n);
	b->p += n;
	b->n -= n;
	return (ptrdiff_t)n;
}

static struct km_arena *mem;
static struct km_diags *d;

static int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	d = km_diags_new(NULL);
	return !mem || !d;
}

static int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	km_diags_free(d);
	return 0;
}

static enum km_status read_text(const char *text, size_t step,
				const struct km_limits *lim,
				const struct km_json **out)
{
	struct bytes b = { text, strlen(text), step };
	struct km_input in = { "a.json", KM_INPUT_BY_NAME, give, &b };

	return km_json_read(mem, &in, lim, d, out);
}

static const struct km_json *tree_of(const char *text)
{
	const struct km_json *v = NULL;

	assert_int_equal(read_text(text, 0, NULL, &v), KM_OK);
	assert_non_null(v);
	return v;
}

static void values_are_of_seven_kinds(void **state)
{
	static const enum km_json_kind kinds[] = {
		KM_JSON_NULL, KM_JSON_TRUE, KM_JSON_FALSE, KM_JSON_NUMBER,
		KM_JSON_STRING, KM_JSON_ARRAY, KM_JSON_OBJECT
	};
	const struct km_json *v;
	size_t n = 0;

	(void)state;
	v = tree_of(" [null, true,\tfalse,\r\n-0.5e+10, \"x\", [], {}] ");
	assert_int_equal(v->kind, KM_JSON_ARRAY);
	for (v = v->first; v; v = v->next, n++)
		assert_int_equal(v->kind, kinds[n]);
	assert_int_equal(n, 7);
}

/* Numbers stay as written; members keep their order. */
static void figures_and_names_stay_as_written(void **state)
{
	const struct km_json *v = tree_of("{\"b\": 6.40, \"a\": 12, \"c\": 0}");

	(void)state;
	assert_string_equal(v->first->key, "b");
	assert_string_equal(km_json_text(km_json_get(v, "b")), "6.40");
	assert_string_equal(km_json_text(km_json_get(v, "a")), "12");
	assert_string_equal(km_json_text(km_json_get(v, "c")), "0");
	assert_null(km_json_get(v, "d"));
	assert_null(km_json_get(NULL, "a"));
	assert_null(km_json_get(v->first, "a"));
	assert_null(km_json_text(v));
	assert_null(km_json_text(NULL));
}

/*
 * U+00E9: 0xE9 is 11 101001, so C3 A9.  U+1F600 is the pair D83D DE00: 0x10000
 * + 0x3D x 0x400 + 0x200 = 0x1F600; in UTF-8 000 011111 011000 000000, so F0
 * 9F 98 80.
 */
static void escapes_become_characters(void **state)
{
	const struct km_json *v =
		tree_of("\"\\\"\\\\\\/\\b\\f\\n\\r\\t\\u00e9\\u00E9"
			"\\uD83D\\ude00\xC3\xA9\"");

	(void)state;
	assert_string_equal(v->text, "\"\\/\b\f\n\r\t\xC3\xA9\xC3\xA9"
				     "\xF0\x9F\x98\x80\xC3\xA9");
	assert_string_equal(tree_of("\"\"")->text, "");
}

static void places_count_characters(void **state)
{
	const struct km_json *v =
		tree_of("{\n  \"\xC3\xA9\": 1, \"b\": [2,\n3]}");

	(void)state;
	assert_string_equal(v->at.file, "a.json");
	assert_int_equal(v->at.line, 1);
	assert_int_equal(v->at.column, 1);
	v = v->first;
	assert_int_equal(v->at.line, 2);
	assert_int_equal(v->at.column, 8);
	v = v->next;
	assert_int_equal(v->at.column, 16);
	assert_int_equal(v->first->at.column, 17);
	assert_int_equal(v->first->next->at.line, 3);
	assert_int_equal(v->first->next->at.column, 1);
}

/* However the bytes come in, the tree is the same. */
static void chunks_make_no_difference(void **state)
{
	static const char text[] = "{\"a\": [\"\xC3\xA9\\u00e9\", 6.40]}";

	(void)state;
	for (size_t step = 1; step < sizeof text; step++) {
		const struct km_json *v = NULL;

		assert_int_equal(read_text(text, step, NULL, &v), KM_OK);
		v = km_json_get(v, "a")->first;
		assert_string_equal(v->text, "\xC3\xA9\xC3\xA9");
		assert_string_equal(v->next->text, "6.40");
	}
}

static void expect_refused(const char *text, const struct km_limits *lim,
			   enum km_msg m, uint32_t column)
{
	const struct km_json *v = NULL;
	size_t before = km_diags_size(d);

	assert_int_equal(read_text(text, 0, lim, &v), KM_EINPUT);
	assert_null(v);
	assert_int_equal(km_diags_size(d), before + 1);
	assert_int_equal(km_diags_at(d, before)->msg, m);
	assert_int_equal(km_diags_at(d, before)->at.column, column);
}

/* Each ceiling holds exactly, and one less is refused. */
static void ceilings_hold(void **state)
{
	struct km_limits deep = { .depth = 3 }, few = { .entry_nodes = 3 };
	struct km_limits words = { .word_bytes = 4 }, keys = { .key_bytes = 2 };
	struct km_limits bytes = { .file_bytes = 5 };
	const struct km_json *v;

	(void)state;
	assert_int_equal(read_text("[[[]]]", 0, &deep, &v), KM_OK);
	expect_refused("[[[[]]]]", &deep, KM_M_TOO_DEEP, 4);
	assert_int_equal(read_text("[1,2,3]", 0, &few, &v), KM_OK);
	expect_refused("[1,2,3,4]", &few, KM_M_ENTRY_TOO_LARGE, 8);
	assert_int_equal(read_text("[1234]", 0, &words, &v), KM_OK);
	expect_refused("[12345]", &words, KM_M_LONG_TEXT, 2);
	assert_int_equal(read_text("{\"ab\":1}", 0, &keys, &v), KM_OK);
	expect_refused("{\"abc\":1}", &keys, KM_M_LONG_KEY, 2);
	assert_int_equal(read_text("[1,2]", 0, &bytes, &v), KM_OK);
	assert_int_equal(read_text("[1,23]", 0, &bytes, &v), KM_EINPUT);
}

static void memory_may_run_out_anywhere(void **state)
{
	static const char text[] = "{\"a\": [\"\\u00e9\", 6.40, {\"b\": null}]}";
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	while (st == KM_ENOMEM) {
		struct km_fault fault = { .fail_at = ++n };
		struct km_limits lim = { .fault = &fault };
		struct km_arena *own = km_arena_new(&lim);
		struct bytes b = { text, sizeof text - 1, 0 };
		struct km_input in = { "a.json", KM_INPUT_BY_NAME, give, &b };
		const struct km_json *v = NULL;

		if (!own)
			continue;
		st = km_json_read(own, &in, &lim, d, &v);
		assert_true(st == KM_OK || st == KM_ENOMEM);
		assert_true((st == KM_OK) == (v != NULL));
		km_arena_free(own);
	}
	assert_true(n > 3);
}

int main(void)
{
#define T(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
	const struct CMUnitTest tests[] = {
		T(values_are_of_seven_kinds),
		T(figures_and_names_stay_as_written),
		T(escapes_become_characters), T(places_count_characters),
		T(chunks_make_no_difference), T(ceilings_hold),
		T(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
