/* SPDX-License-Identifier: MIT */
/* Rows of CSV [rfc-4180], and a bench in that form.  Lengths are worked by
 * hand: 1 in = 25.4 mm [nist-sp811], 1/8 in = 3.175 mm. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "read/csv.h"
#include "tests/unit/feed.h"
#include "trade/kind.h"
#include "trade/size.h"

/* All rows of a text as "a|b/c|d/", then the ids of the messages. */
static const char *rows(const char *text, size_t n, size_t step, bool slowly)
{
	static char out[1024];
	struct feed feed = { .bytes = text, .n = n, .step = step,
			     .interrupted = slowly };
	struct km_input in = feed_input(&feed);
	struct km_arena *mem = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_csv *c = km_arena_alloc(mem, 1, sizeof *c);
	enum km_status st;
	size_t used = 0, i;

	out[0] = '\0';
	st = km_csv_open(c, &in, "t.csv", NULL, mem, d);
	while (st == KM_OK) {
		st = km_csv_next(c);
		if (st != KM_OK || !c->n)
			break;
		for (i = 0; i < c->n; i++)
			used += (size_t)snprintf(out + used,
						 sizeof out - used, "%s%c",
						 c->cell[i].text,
						 i + 1 < c->n ? '|' : '/');
	}
	km_diags_sort(d);
	for (i = 0; i < km_diags_size(d); i++)
		used += (size_t)snprintf(out + used, sizeof out - used,
					 " %u:%u %s",
					 km_diags_at(d, i)->at.line,
					 km_diags_at(d, i)->at.column,
					 km_msg_id(km_diags_at(d, i)->msg));
	km_diags_free(d);
	km_arena_free(mem);
	return out;
}

static void is_read_as(const char *text, const char *expected)
{
	static const size_t steps[] = { 0, 1, 2, 3, 7 };
	unsigned i;

	for (i = 0; i < 5; i++)
		assert_string_equal(rows(text, strlen(text), steps[i],
					 i % 2 == 1), expected);
}

/* The rules of section 2 of the standard, one by one. */
static void rows_follow_the_standard(void **state)
{
	(void)state;
	is_read_as("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc/zzz|yyy|xxx/");
	is_read_as("aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc/zzz|yyy|xxx/");
	is_read_as("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nz,y,x",
		   "aaa|b\r\nbb|ccc/z|y|x/");
	is_read_as("\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc/");
	is_read_as("a,,c\n,,x\n", "a||c/||x/");
}

static void what_spreadsheets_write_is_read_too(void **state)
{
	(void)state;
	is_read_as("\xef\xbb\xbf" "a;b,c;d\n1;2;3\n", "a|b,c|d/1|2|3/");
	is_read_as("a\tb\n1\t2\n", "a|b/1|2/");
	is_read_as("a,b\r1,2\r", "a|b/1|2/");
	is_read_as("a,b\n\n,\n1,2\n", "a|b/1|2/");	/* blank rows */
	is_read_as(" a , b\n6\",7\n", "a|b/6\"|7/");	/* inches */
	is_read_as("\"a;b;c\",d\n", "a;b;c|d/");
}

static void places_are_those_of_an_editor(void **state)
{
	(void)state;
	is_read_as("a,b\r\n\"\xc3\xa9\r\n\r\n\", \"x\" y\r\n",
		   "a|b/\xc3\xa9\r\n\r\n|x/ 4:8 csv-quote");
	is_read_as("a,b\n1,\"2\n", "a|b/ 2:3 csv-unclosed");
}

/* ------------------------------------------------------------------ */

static enum km_status load(const char *text, const struct km_limits *lim,
			   struct km_diags *d, struct km_load **out)
{
	struct feed feed = { .bytes = text, .n = strlen(text) };
	struct km_input in = feed_input(&feed);

	in.name = "box.csv";
	in.form = KM_INPUT_BY_NAME;
	return km_load(&in, 1, lim, d, out);
}

static struct km_load *load_good(const char *text)
{
	struct km_diags *d = km_diags_new(NULL);
	struct km_load *l = NULL;
	size_t i;

	load(text, NULL, d, &l);
	km_diags_sort(d);
	for (i = 0; i < km_diags_size(d); i++)
		print_error("%u:%u %s\n", km_diags_at(d, i)->at.line,
			    km_diags_at(d, i)->at.column,
			    km_diags_at(d, i)->text);
	assert_int_equal(km_diags_size(d), 0);
	km_diags_free(d);
	assert_non_null(l);
	return l;
}

static const union km_value *trait(const struct km_load *l, size_t i,
				   enum km_attr a)
{
	return km_trait(&km_tool_at(&l->bench, i)->traits, a);
}

static const char whole[] =
	"No;Type;Size 1;Size 2;Opening 1;Length (mm);Width_in;Mark;"
	"Handle color;Rust;Plate left;Damage;pit_mm;Photos;Bin;Seen by\n"
	"T-1;open-ended spanner;1/4 W;5/16 W;13,50 mm;148,5;1 1/8;LM;;2;60;"
	"spread; 0,1;a.jpg,b.jpg;A7;me\n"
	"T-2;screwdriver;;;;;;none;green;;;none;;;;\n"
	";tyre lever;;;;;;\"none\";;;;\"bent soft, ground\";;;;\n";

static void a_bench_arrives_cell_by_cell(void **state)
{
	struct km_load *l = load_good(whole);
	const struct km_tool *t = km_tool_at(&l->bench, 0);

	(void)state;
	assert_true(l->has_bench);
	assert_int_equal(l->bench.n, 3);
	assert_string_equal(t->id, "T-1");
	assert_int_equal(t->at.line, 2);
	assert_int_equal(trait(l, 0, KM_A_TOOL)->kind->id, KM_KIND_OPEN_DOUBLE);
	assert_int_equal(trait(l, 0, KM_A_SIZES)->sizes.n, 2);
	assert_int_equal(trait(l, 0, KM_A_SIZES)->sizes.v[1]->system,
			 KM_SYS_W);
	assert_int_equal(trait(l, 0, KM_A_OPENINGS)->spans.v[0].nm, 13500000);
	assert_int_equal(trait(l, 0, KM_A_LENGTH)->span.nm, 148500000);
	assert_int_equal(trait(l, 0, KM_A_WIDTH)->span.nm, 28575000);
	assert_string_equal(trait(l, 0, KM_A_MARK)->text, "LM");
	assert_int_equal(t->condition->rust, 2);
	assert_int_equal(t->condition->plate_left, 6000);
	assert_int_equal(t->condition->damage[0].what, KM_DMG_SPREAD);
	assert_int_equal(t->condition->pit_nm, 100000);
	assert_int_equal(t->more->n_photos, 2);
	assert_string_equal(t->location, "A7");
	assert_string_equal(t->more->extra[0].key, "Seen by");
	assert_string_equal(t->more->extra[0].value, "me");
	/* empty is not recorded, none is */
	assert_int_equal(km_tool_at(&l->bench, 1)->traits.none,
			 1u << KM_A_MARK);
	assert_int_equal(trait(l, 1, KM_A_HANDLE_COLOUR)->colour.rgb,
			 0x008000);	/* [css-color-4] */
	assert_true(km_tool_at(&l->bench, 1)->condition->damage_none);
	assert_int_equal(km_tool_at(&l->bench, 1)->condition->rust, -1);
	assert_null(km_tool_at(&l->bench, 1)->more);
	t = km_tool_at(&l->bench, 2);
	assert_string_equal(t->id, "box-4");
	assert_int_equal(t->condition->n_damage, 2);
	assert_int_equal(t->condition->damage[1].what, KM_DMG_GROUND);
	km_load_free(l);
}

static void one_cell_holds_both_ends(void **state)
{
	struct km_load *l = load_good(
		"id,tool,sizes\nT-1,ring spanner,10x12\n"
		"T-2,ring spanner,12-14\nT-3,ring spanner,\"13 mm\"\n");
	const struct km_size *s;

	(void)state;
	assert_int_equal(trait(l, 0, KM_A_SIZES)->sizes.n, 2);
	s = trait(l, 0, KM_A_SIZES)->sizes.v[1];
	assert_int_equal(s->system, KM_SYS_METRIC);
	assert_int_equal(s->nominal_nm, 12000000);
	assert_int_equal(trait(l, 1, KM_A_SIZES)->sizes.v[1]->nominal_nm,
			 14000000);
	assert_int_equal(trait(l, 2, KM_A_SIZES)->sizes.n, 1);
	km_load_free(l);
}

static void a_count_stands_for_so_many_tools(void **state)
{
	struct km_load *l = load_good("id,tool,qty\nT-1,tyre lever,3\n");

	(void)state;
	assert_int_equal(l->bench.n, 3);
	assert_string_equal(km_tool_at(&l->bench, 2)->id, "T-1.3");
	km_load_free(l);
}

static void memory_may_run_out_anywhere(void **state)
{
	struct km_fault fault;
	struct km_limits lim = { .fault = &fault };
	struct km_diags *d;
	struct km_load *l;
	enum km_status st = KM_ENOMEM;
	uint64_t at;

	(void)state;
	for (at = 1; st != KM_OK; at++) {
		fault = (struct km_fault){ 0, at, 0 };
		d = km_diags_new(NULL);
		l = NULL;
		st = load(whole, &lim, d, &l);
		if (st != KM_OK)
			assert_int_equal(st, KM_ENOMEM);
		km_load_free(l);
		km_diags_free(d);
		assert_true(at < 100000);
	}
	assert_true(at > 10);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rows_follow_the_standard),
		cmocka_unit_test(what_spreadsheets_write_is_read_too),
		cmocka_unit_test(places_are_those_of_an_editor),
		cmocka_unit_test(a_bench_arrives_cell_by_cell),
		cmocka_unit_test(one_cell_holds_both_ends),
		cmocka_unit_test(a_count_stands_for_so_many_tools),
		cmocka_unit_test(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
