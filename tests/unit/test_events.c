/* SPDX-License-Identifier: MIT */
/*
 * What a mistake of YAML is said to be, which depends on the character that
 * stands there.  The places are counted by hand.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>

#include "read/events.h"
#include "tests/unit/feed.h"

/* The first message: "4:2 1:6 unclosed-bracket". */
static void expect(const char *text, size_t step, const char *expected)
{
	struct feed f = { .bytes = text, .n = strlen(text), .step = step };
	struct km_input in = feed_input(&f);
	struct km_arena *mem = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_event ev = { .line = 1, .column = 1 };
	const struct km_diag *one;
	struct km_events *e;
	char said[80];

	assert_true(mem && d);
	assert_int_equal(km_events_open(mem, &in, NULL, d, &e), KM_OK);
	while (km_events_next(e, &ev))
		assert_int_not_equal(ev.type, KM_EV_FILE_END);
	assert_int_equal(km_events_status(e), KM_EINPUT);
	assert_int_equal(km_diags_size(d), 1);
	one = km_diags_at(d, 0);
	snprintf(said, sizeof said, "%u:%u %u:%u %s", (unsigned)one->at.line,
		 (unsigned)one->at.column, (unsigned)one->other.line,
		 (unsigned)one->other.column, km_msg_id(one->msg));
	assert_string_equal(said, expected);
	km_events_close(e);
	km_diags_free(d);
	km_arena_free(mem);
}

static void expect_said(const char *text, const char *expected)
{
	static const size_t steps[] = { 0, 1, 3 };

	for (size_t i = 0; i < sizeof steps / sizeof *steps; i++)
		expect(text, steps[i], expected);
}

/* What stands where libyaml gave up is looked up in the text it got, also
 * where that came in pieces. */
static void mistakes_tell_what_stands_there(void **state)
{
	(void)state;
	expect_said("a: [b\n", "1:4 2:1 unclosed-bracket");
	expect_said("a: [b", "1:4 1:6 unclosed-bracket");
	expect_said("a: ['b',\n- c\n", "1:4 2:1 unclosed-bracket");
	expect_said("a: [b,\n\tc, \"\n", "2:5 3:1 unclosed-quote");
	expect_said("a:\n\tb: c\n", "2:1 0:0 tab-indent");
	expect_said("a:\r\n\tb: c\r\n", "2:1 0:0 tab-indent");
	expect_said("a: @b\n", "1:4 0:0 quote-value");
	expect_said("\xc3\xa9: `\n", "1:4 0:0 quote-value");
	expect_said("\xEF\xBB\xBF" "a: @b\n", "1:4 0:0 quote-value");
}

/* The same behind more lines than are kept, wherever the pieces are cut. */
static void long_texts_tell_it_too(void **state)
{
	enum { LINES = 6000, BYTES = 15 };	/* a CRLF and more each */
	char *text = malloc(LINES * BYTES + 16);

	(void)state;
	assert_non_null(text);
	for (size_t by = 0; by < BYTES; by++) {
		char *p = text;

		/* the first line, by characters longer, shifts all others */
		for (unsigned i = 0; i < LINES; i++)
			p += sprintf(p, "k%04u: '%.*s\xc3\xa4'\r\n", i,
				     i ? 1 : (int)by, "aaaaaaaaaaaaaaa");
		strcpy(p, "\tb: 1\r\n");
		expect(text, 0, "6001:1 0:0 tab-indent");
	}
	free(text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(mistakes_tell_what_stands_there),
		cmocka_unit_test(long_texts_tell_it_too),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
