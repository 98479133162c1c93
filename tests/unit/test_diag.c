/* SPDX-License-Identifier: MIT */
/* The promises of kitmuster/diag.h and diag/render.h. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "diag/render.h"
#include "kitmuster/diag.h"

static struct km_place at(const char *file, uint32_t line, uint32_t column)
{
	return (struct km_place){ file, line, column };
}

typedef void render_fn(struct km_buf *b, const struct km_diags *d);

static void check(render_fn *f, struct km_diags *d, const char *expected)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_buf b;

	km_diags_sort(d);
	km_buf_init(&b, mem);
	km_buf_str(&b, "");
	f(&b, d);
	assert_string_equal(b.text, expected);
	km_arena_free(mem);
}

static void an_empty_list_prints_nothing(void **state)
{
	struct km_diags *d = km_diags_new(NULL);

	(void)state;
	check(km_render_text, d, "");
	check(km_render_json, d,
	      "{\"schema_version\":1,\"messages\":[],\n\"not_kept\":{},\n"
	      "\"errors\":0,\"warnings\":0,\"notes\":0}\n");
	assert_int_equal(km_diags_files(d), 0);
	km_diags_free(d);
	km_diags_free(NULL);
}

/* Files in the order of the operands, not of the messages or the names. */
static void messages_are_sorted_by_place(void **state)
{
	struct km_diags *d = km_diags_new(NULL);

	(void)state;
	km_diags_file(d, "b.yaml");
	km_diags_file(d, "a.yaml");
	km_diag_add(d, KM_M_ANCHOR, at("a.yaml", 1, 1));
	km_diag_add(d, KM_M_TAG, at("b.yaml", 2, 1));
	km_diag_add(d, KM_M_TAG, at("b.yaml", 1, 9));
	km_diag_add(d, KM_M_ALIAS, at("b.yaml", 1, 9));
	km_diag_add(d, KM_M_EMPTY_VALUE, at("b.yaml", 1, 10));
	check(km_render_text, d,
	      "b.yaml:1:9: error: aliases (*name) are not read [alias]\n"
	      "b.yaml:1:9: error: tags (!name) are not read [tag]\n"
	      "b.yaml:1:10: error: the value is missing [empty-value]\n"
	      "b.yaml:2:1: error: tags (!name) are not read [tag]\n"
	      "a.yaml:1:1: error: anchors (&name) are not read [anchor]\n"
	      "5 errors in 2 files\n");
	km_diags_free(d);
}

/* Whatever order they come in, the list is the same. */
static void order_of_adding_changes_nothing(void **state)
{
	static const char *const keys[] = { "b", "a", "c" };
	struct km_diags *d = NULL;

	(void)state;
	for (size_t turn = 0; turn < 3; turn++) {
		d = km_diags_new(NULL);
		for (size_t i = 0; i < 3; i++)
			km_diag_add(d, KM_M_DUPLICATE_KEY, at("f", 1, 1),
				    keys[(i + turn) % 3]);
		km_diags_sort(d);
		for (size_t i = 0; i < 3; i++) {
			char expected[] = "key 'a' stands twice";

			expected[5] = (char)('a' + i);
			assert_string_equal(km_diags_at(d, i)->text, expected);
		}
		km_diags_free(d);
	}
}

static void hint_and_second_place_follow(void **state)
{
	struct km_diags *d = km_diags_new(NULL);
	struct km_diag *one;

	(void)state;
	one = km_diag_add(d, KM_M_DUPLICATE_KEY, at("k.yaml", 7, 3), "id");
	km_diag_other(d, one, at("k.yaml", 5, 3), "it stands here first");
	km_diag_hint(d, one, "remove one of the %s", "two");
	km_diag_path(d, one, "kit.slots[3].id");
	check(km_render_text, d,
	      "k.yaml:7:3: error: key 'id' stands twice [duplicate-key]\n"
	      "k.yaml:5:3: note: it stands here first\n"
	      "    hint: remove one of the two\n"
	      "1 error in 1 file\n");
	check(km_render_json, d,
	      "{\"schema_version\":1,\"messages\":[\n"
	      "{\"id\":\"duplicate-key\",\"severity\":\"error\","
	      "\"file\":\"k.yaml\",\"line\":7,\"column\":3,"
	      "\"path\":\"kit.slots[3].id\","
	      "\"text\":\"key 'id' stands twice\","
	      "\"hint\":\"remove one of the two\","
	      "\"other\":{\"text\":\"it stands here first\","
	      "\"file\":\"k.yaml\",\"line\":5,\"column\":3}}],\n"
	      "\"not_kept\":{},\n\"errors\":1,\"warnings\":0,\"notes\":0}\n");
	/* a message that was only counted takes none of these */
	km_diag_hint(d, NULL, "%s", "x");
	km_diag_path(d, NULL, "x");
	km_diag_other(d, NULL, at("x", 1, 1), "x");
	km_diags_free(d);
}

static void only_so_many_of_one_id_are_kept(void **state)
{
	struct km_limits lim = { .per_rule = 2 };
	struct km_diags *d = km_diags_new(&lim);

	(void)state;
	for (uint32_t line = 1; line <= 1000; line++) {
		struct km_diag *one = km_diag_add(d, KM_M_UNKNOWN_KEY,
						  at("f", line, 1), "slot",
						  "x");

		assert_true((one != NULL) == (line <= 2));
	}
	km_diag_add(d, KM_M_TAG, at("g", 1, 1));
	assert_int_equal(km_diags_size(d), 3);
	assert_int_equal(km_diags_dropped(d, KM_M_UNKNOWN_KEY), 998);
	assert_int_equal(km_diags_dropped(d, KM_M_TAG), 0);
	assert_int_equal(km_diags_count(d, KM_ERROR), 1001);
	check(km_render_text, d,
	      "f:1:1: error: no such key in a slot: 'x' [unknown-key]\n"
	      "f:2:1: error: no such key in a slot: 'x' [unknown-key]\n"
	      "g:1:1: error: tags (!name) are not read [tag]\n"
	      "and 998 more of [unknown-key]\n"
	      "1001 errors in 2 files\n");
	km_diags_free(d);
}

/* The default: 20 of an id. */
static void twenty_of_one_id_are_kept_by_default(void **state)
{
	struct km_diags *d = km_diags_new(NULL);

	(void)state;
	for (uint32_t line = 1; line <= 21; line++)
		km_diag_add(d, KM_M_TAG, at("f", line, 1));
	assert_int_equal(km_diags_size(d), 20);
	assert_int_equal(km_diags_dropped(d, KM_M_TAG), 1);
	km_diags_free(d);
}

/* Names and texts come from users: nothing of them acts on a terminal or
 * begins a line of its own. */
static void hostile_names_and_texts_are_escaped(void **state)
{
	struct km_diags *d = km_diags_new(NULL);
	struct km_diag *one;

	(void)state;
	one = km_diag_add(d, KM_M_DUPLICATE_KEY, at("a\n\x1B[1m", 1, 2),
			  "k\n::error::x");
	km_diag_hint(d, one, "not '%s'", "\xE2\x80\xAE");
	km_diag_add(d, KM_M_CANNOT_READ, at("::error", 0, 0), "gone");
	check(km_render_text, d,
	      "a\\x0a\\x1b[1m:1:2: error: key 'k\\x0a::error::x' stands twice"
	      " [duplicate-key]\n"
	      "    hint: not '\\u202e'\n"
	      "./::error: error: cannot read this file: gone [cannot-read]\n"
	      "2 errors in 2 files\n");
	km_diags_free(d);
}

/* 999 bytes of '\u00e9' and quotes do not fit; no character is halved. */
static void long_texts_are_cut(void **state)
{
	struct km_diags *d = km_diags_new(NULL);
	char key[2001];
	const char *text;
	size_t n;

	(void)state;
	for (size_t i = 0; i < 2000; i += 2)
		memcpy(key + i, "\xC3\xA9", 2);
	key[2000] = '\0';
	text = km_diag_add(d, KM_M_DUPLICATE_KEY, at("f", 1, 1), key)->text;
	n = strlen(text);
	assert_true(n <= KM_DIAG_TEXT && n > KM_DIAG_TEXT - 4);
	assert_string_equal(text + n - 5, "\xC3\xA9...");
	km_diags_free(d);
}

static void names_are_copied(void **state)
{
	struct km_diags *d = km_diags_new(NULL);
	char name[] = "f.yaml";

	(void)state;
	km_diag_add(d, KM_M_TAG, at(name, 1, 1));
	name[0] = 'g';
	assert_string_equal(km_diags_at(d, 0)->at.file, "f.yaml");
	km_diags_free(d);
}

/* Ids last and are words; texts are lower case without a full stop; formats
 * take only what va_arg of km_diag_add() is given: words and unsigned. */
static void the_list_of_messages_keeps_its_form(void **state)
{
	(void)state;
	for (int m = 0; m < KM_M_COUNT; m++) {
		const char *id = km_msg_id((enum km_msg)m);
		const char *f = km_msg_format((enum km_msg)m);
		size_t n = strlen(f);

		for (const char *p = id; *p; p++)
			if (!islower((unsigned char)*p) &&
			    !isdigit((unsigned char)*p) && *p != '-')
				fail_msg("id '%s'", id);
		if (!n || f[n - 1] == '.' ||
		    (isupper((unsigned char)f[0]) && strncmp(f, "U+", 2)))
			fail_msg("text of '%s'", id);
		for (int other = 0; other < m; other++)
			assert_string_not_equal(id,
						km_msg_id((enum km_msg)other));
		assert_true(km_msg_severity((enum km_msg)m) <= KM_ERROR);
	}
}

/* Fail each allocation in turn: the list says so, or the text is complete. */
static void every_failed_allocation_is_noticed(void **state)
{
	static const char expected[] =
		"f:1:1: error: key 'a' stands twice [duplicate-key]\n"
		"g:2:2: note: first\n"
		"    hint: go\n"
		"1 error in 1 file\n";
	uint64_t at_fault = 1;
	bool fired = true;

	(void)state;
	for (; fired; at_fault++) {
		struct km_fault fault = { .fail_at = at_fault };
		struct km_limits lim = { .fault = &fault };
		struct km_diags *d = km_diags_new(&lim);
		struct km_diag *one;

		if (!d)
			continue;
		km_diags_file(d, "f");
		one = km_diag_add(d, KM_M_DUPLICATE_KEY, at("f", 1, 1), "a");
		km_diag_other(d, one, at("g", 2, 2), "first");
		km_diag_hint(d, one, "%s", "go");
		km_diag_path(d, one, "a");
		km_diags_sort(d);
		fired = fault.seen >= at_fault;
		assert_true(km_diags_failed(d) == fired);
		if (!fired)
			check(km_render_text, d, expected);
		km_diags_free(d);
	}
	assert_true(at_fault > 8);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_empty_list_prints_nothing),
		cmocka_unit_test(messages_are_sorted_by_place),
		cmocka_unit_test(order_of_adding_changes_nothing),
		cmocka_unit_test(hint_and_second_place_follow),
		cmocka_unit_test(only_so_many_of_one_id_are_kept),
		cmocka_unit_test(twenty_of_one_id_are_kept_by_default),
		cmocka_unit_test(hostile_names_and_texts_are_escaped),
		cmocka_unit_test(long_texts_are_cut),
		cmocka_unit_test(names_are_copied),
		cmocka_unit_test(the_list_of_messages_keeps_its_form),
		cmocka_unit_test(every_failed_allocation_is_noticed),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
