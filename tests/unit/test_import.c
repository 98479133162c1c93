/* SPDX-License-Identifier: MIT */
/* Import as a library call: counts, what is written, memory that runs out
 * anywhere.  Expected texts follow from the lists beside them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "base/arena.h"
#include "base/buf.h"
#include "kitmuster/import.h"
#include "tests/unit/feed.h"

static const char table[] =
	"id,tool,qty,size 1,size 2,length mm,mark,faults,paid,shed\n"
	"A,ring spanner,2,1/4W,5/16W,\"148,5\",plain,cracked,4.50,7\n"
	"B,ring spanner,,05-Nov,,165,?,,,\n"
	"C,thingamajig,,,,10 in,\"\"\"none\"\"\",,,\n";
static const char notes[] =
	"D1 open 13mm 125mm mark LM spread\n"
	"E1 ring sideways\n";
static const char *const expected =
	"bench:\n"
	"  - id: Aa\n    tool: ring spanner\n    sizes: [1/4 W, 5/16 W]\n"
	"    length: 148.5 mm\n    mark: none\n"
	"    condition: {damage: cracked}\n    paid: 4.50\n"
	"    extra: {shed: 7}\n"
	"  - id: Ab\n    tool: ring spanner\n    sizes: [1/4 W, 5/16 W]\n"
	"    length: 148.5 mm\n    mark: none\n"
	"    condition: {damage: cracked}\n    paid: 4.50\n"
	"    extra: {shed: 7}\n"
	"  - id: C\n    tool: thingamajig\n    length: 10 in\n"
	"    mark: \"none\"\n"
	"  - id: D1\n    tool: single open-ended spanner\n    sizes: [13 mm]\n"
	"    length: 125mm\n    mark: LM\n    condition: {damage: spread}\n";

static bool add(void *buf, const char *text, size_t n)
{
	km_buf_add(buf, text, n);
	return !km_buf_failed(buf);
}

static enum km_status run(const struct km_limits *lim, bool csv,
			  struct km_buf *out, struct km_diags *d,
			  struct km_import_counts *counts)
{
	struct feed f[2] = { { .bytes = table, .n = sizeof table - 1 },
			     { .bytes = notes, .n = sizeof notes - 1 } };
	struct km_input in[2] = { feed_input(&f[0]), feed_input(&f[1]) };
	struct km_import_options o = { .csv = csv };
	struct km_sink to = { add, out };

	in[0].name = "a.csv";
	in[1].name = "b.txt";
	return km_import(in, 2, &o, lim, d, &to, counts);
}

static void lists_become_a_bench(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_import_counts n;
	struct km_buf out;

	(void)state;
	km_buf_init(&out, mem);
	assert_int_equal(run(NULL, false, &out, d, &n), KM_OK);
	assert_string_equal(out.text, expected);
	assert_int_equal(n.rows, 5);
	assert_int_equal(n.read, 3);
	assert_int_equal(n.refused, 2);
	assert_int_equal(n.tools, 4);
	assert_int_equal(n.words, 1);
	km_diags_free(d);
	km_arena_free(mem);
}

static void walk_memory(bool csv)
{
	enum km_status st = KM_ENOMEM;
	struct km_arena *mem;
	uint64_t at;

	for (at = 1; st != KM_OK; at++) {
		struct km_fault fault = { .fail_at = at };
		struct km_limits lim = { .fault = &fault };
		struct km_diags *d = km_diags_new(NULL);
		struct km_import_counts n;
		struct km_buf out;

		mem = km_arena_new(NULL);
		km_buf_init(&out, mem);
		st = run(&lim, csv, &out, d, &n);
		if (st != KM_OK) {
			assert_int_equal(st, KM_ENOMEM);
			assert_int_equal(out.len, 0);
		}
		km_diags_free(d);
		km_arena_free(mem);
	}
	assert_true(at > 40);
}

static void memory_may_run_out_anywhere(void **state)
{
	(void)state;
	walk_memory(false);
	walk_memory(true);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(lists_become_a_bench),
		cmocka_unit_test(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
