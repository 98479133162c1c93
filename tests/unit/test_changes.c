/* SPDX-License-Identifier: MIT */
/*
 * Two audits, written out by hand, and what turned between them.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "kitmuster/changes.h"

#define HEAD(sheet) "{\"schema_version\": 1, \"program\": \"kitmuster\", " \
	"\"sheet\": \"" sheet "\", \"currency\": \"GBP\", "
#define PLAN(total) ", \"plan\": [{\"total_likely\": " total "}]}"
#define ROW(slot, verdict, tools, order, reason, decision, buy) \
	"{\"kit\": \"k\", \"slot\": \"" slot "\", \"wanted\": \"bar\", " \
	"\"verdict\": \"" verdict "\", \"would_be\": null, \"tools\": [" tools \
	"], \"on_order\": [" order "], \"reason\": " reason \
	", \"decision\": \"" decision "\", \"buy_likely\": " buy "}"

struct bytes { const char *p; size_t n; };

static ptrdiff_t give(void *ctx, void *buf, size_t n)
{
	struct bytes *b = ctx;

	n = n < b->n ? n : b->n;
	memcpy(buf, b->p, n);
	b->p += n;
	b->n -= n;
	return (ptrdiff_t)n;
}

static char page[8192];
static size_t page_n;

static bool page_write(void *ctx, const char *text, size_t n)
{
	(void)ctx;
	if (page_n + n >= sizeof page)
		return false;
	memcpy(page + page_n, text, n);
	page_n += n;
	page[page_n] = '\0';
	return true;
}

static enum km_status find(const char *was, const char *is,
			   const struct km_limits *lim, struct km_changes **c)
{
	struct bytes a = { was, strlen(was) }, b = { is, strlen(is) };
	struct km_input old = { "old.json", KM_INPUT_BY_NAME, give, &a };
	struct km_input now = { "new.json", KM_INPUT_BY_NAME, give, &b };
	struct km_diags *d = km_diags_new(NULL);
	enum km_status st;

	assert_non_null(d);
	st = km_changes_find(&old, &now, lim, d, c);
	km_diags_free(d);
	return st;
}

static struct km_changes *changes_of(const char *was, const char *is)
{
	struct km_changes *c = NULL;

	assert_int_equal(find(was, is, NULL, &c), KM_OK);
	return c;
}

static void write_changes(const struct km_changes *c, enum km_format f)
{
	struct km_sink to = { page_write, NULL };

	page_n = 0;
	assert_int_equal(km_report_changes(c, f, NULL, &to), KM_OK);
}

static const char before[] = HEAD("slots") "\"slots\": ["
	ROW("S-1", "gap", "", "", "\"nothing near\"", "buy", "12.00") ", "
	ROW("S-2", "expected", "\"T-5\"", "\"T-5\"", "\"on order\"", "wait",
	    "null") ", "
	ROW("S-3", "expected", "\"T-6\"", "\"T-6\"", "\"on order\"", "wait",
	    "null") ", "
	ROW("S-4", "right", "\"T-1\"", "", "null", "keep", "null") "]"
	PLAN("16.80");

/* S-1 got a tool that only stands in; S-2 was filled without its order; S-3 is
 * no slot any more; S-4 is as it was; S-5 is new.  5.00 + 4.80 is 9.80, which
 * is 7.00 less than 12.00 + 4.80. */
static const char after[] = HEAD("slots") "\"slots\": ["
	ROW("S-1", "substitute", "\"T-7\"", "", "\"length +4 mm\"", "buy",
	    "5.00") ", "
	ROW("S-2", "right", "\"T-8\"", "", "null", "keep", "null") ", "
	ROW("S-4", "right", "\"T-1\"", "", "null", "keep", "null") ", "
	ROW("S-5", "gap", "", "", "null", "leave-open", "null") "]"
	PLAN("9.80");

static void verdicts_and_orders_are_told(void **state)
{
	struct km_changes *c = changes_of(before, after);

	(void)state;
	assert_false(c->same);
	write_changes(c, KM_FORMAT_TEXT);
	assert_string_equal(page,
"kit  slot  was       is          cost was  cost is  why\n"
"k    S-1   gap       substitute     12.00     5.00  T-7 instead of none\n"
"                                                    was: nothing near\n"
"                                                    now: length +4 mm\n"
"k    S-2   expected  right                          T-8 instead of T-5\n"
"                                                    was: on order\n"
"                                                    decision keep instead "
"of wait\n"
"k    S-5             gap                            bar\n"
"k    S-3   expected                                 bar\n"
"\n"
"cancel  kit  slot  why\n"
"T-5     k    S-2   the slot is right without it\n"
"T-6     k    S-3   the slot is gone\n"
"\n"
"to finish 9.80, was 16.80: 7.00 less, GBP\n");
	km_changes_free(c);
}

static void data_of_the_changes(void **state)
{
	struct km_changes *c = changes_of(before, after);

	(void)state;
	write_changes(c, KM_FORMAT_CSV);
	assert_string_equal(page,
"kit,slot,what,was,is,cost_was,cost_is,why,same_in,"
"same_in_more\r\n"
"k,S-1,turned,gap,substitute,12.00,5.00,T-7 instead of none; was: nothing "
"near; now: length +4 mm,,\r\n"
"k,S-2,turned,expected,right,,,T-8 instead of T-5; was: on order; decision "
"keep instead of wait,,\r\n"
"k,S-5,new-slot,,gap,,,bar,,\r\n"
"k,S-3,slot-gone,expected,,,,bar,,\r\n");
	write_changes(c, KM_FORMAT_JSON);
	assert_non_null(strstr(page, "\"orders_to_cancel\": [\n    {\"tool\": "
		"\"T-5\", \"kit\": \"k\", \"slot\": \"S-2\", "));
	assert_non_null(strstr(page, "\"totals\": [\n    {\"total_was\": 16.80, "
			       "\"total_is\": 9.80}\n  ]\n}\n"));
	km_changes_free(c);
}

/* An order that has arrived, or that another slot waits for, stands. */
static void orders_that_serve_stand(void **state)
{
	static const char arrived[] = HEAD("slots") "\"slots\": ["
		ROW("S-2", "right", "\"T-5\"", "", "null", "keep", "null") ", "
		ROW("S-9", "expected", "\"T-6\"", "\"T-6\"", "null", "wait",
		    "null") "]" PLAN("0.00");
	struct km_changes *c = changes_of(before, arrived);

	(void)state;
	assert_int_equal(c->n_orders, 0);
	km_changes_free(c);
}

static void the_same_is_the_same(void **state)
{
	struct km_changes *c = changes_of(before, before);

	(void)state;
	assert_true(c->same);
	write_changes(c, KM_FORMAT_TEXT);
	assert_string_equal(page, "nothing has changed\n");
	km_changes_free(c);
}

/* Sums in two currencies are not compared. */
static void currencies_are_not_mixed(void **state)
{
	static const char other[] = "{\"program\": \"kitmuster\", \"sheet\": "
		"\"slots\", \"currency\": \"EUR\", \"slots\": ["
		ROW("S-1", "gap", "", "", "\"nothing near\"", "buy", "9.00")
		"]" PLAN("9.00");
	struct km_changes *c = changes_of(before, other);

	(void)state;
	assert_null(c->currency);
	assert_false(c->totals);
	for (uint32_t i = 0; i < c->n_slots; i++)
		assert_int_equal(c->slots[i].cost_is, -1);
	km_changes_free(c);
}

static void summaries_are_compared_by_figures(void **state)
{
	static const char was[] = HEAD("summary") "\"kits\": [{\"kit\": \"k\", "
		"\"firm\": 9, \"on_paper\": 2, \"meets\": false, \"title\": "
		"null}, {\"kit\": \"old\", \"firm\": 1}]}";
	static const char is[] = HEAD("summary") "\"kits\": [{\"kit\": \"k\", "
		"\"firm\": 9, \"on_paper\": 9, \"meets\": true, \"title\": "
		"\"K\"}]}";
	struct km_changes *c = changes_of(was, is);

	(void)state;
	write_changes(c, KM_FORMAT_TEXT);
	assert_string_equal(page,
"kit  figure    was  is\n"
"k    on_paper  2    9\n"
"k    meets     no   yes\n"
"k    title          K\n"
"old  kit       old\n");
	write_changes(c, KM_FORMAT_TSV);
	assert_string_equal(page, "kit\tfigure\twas\tis\nk\ton_paper\t2\t9\n"
			    "k\tmeets\tno\tyes\nk\ttitle\t\tK\n"
			    "old\tkit\told\t\n");
	km_changes_free(c);
}

static void memory_may_run_out_anywhere(void **state)
{
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	while (st == KM_ENOMEM) {
		struct km_fault fault = { .fail_at = ++n };
		struct km_limits lim = { .fault = &fault };
		struct km_changes *c = NULL;

		st = find(before, after, &lim, &c);
		assert_true((st == KM_OK) == (c != NULL));
		km_changes_free(c);
	}
	assert_int_equal(st, KM_OK);
	assert_true(n > 5);
}

/* Another kit asks for the bar as S-1 did before; S-2 of the same kit does not
 * count, and one that asks for a rod does not either. */
static void other_kits_that_ask_for_the_same_are_named(void **state)
{
	static const char was[] = HEAD("slots") "\"slots\": ["
		"{\"kit\": \"k\", \"slot\": \"S-1\", \"wanted\": \"bar\"}, "
		"{\"kit\": \"k\", \"slot\": \"S-2\", \"wanted\": \"bar\"}, "
		"{\"kit\": \"m\", \"slot\": \"S-9\", \"wanted\": \"bar\"}, "
		"{\"kit\": \"m\", \"slot\": \"S-8\", \"wanted\": \"rod\"}]}";
	static const char is[] = HEAD("slots") "\"slots\": ["
		"{\"kit\": \"k\", \"slot\": \"S-1\", \"wanted\": \"rod\"}, "
		"{\"kit\": \"k\", \"slot\": \"S-2\", \"wanted\": \"bar\"}, "
		"{\"kit\": \"m\", \"slot\": \"S-9\", \"wanted\": \"bar\"}, "
		"{\"kit\": \"m\", \"slot\": \"S-8\", \"wanted\": \"rod\"}]}";
	struct km_changes *c = NULL;

	(void)state;
	assert_int_equal(find(was, is, NULL, &c), KM_OK);
	assert_int_equal(c->n_slots, 1);
	assert_int_equal(c->slots[0].n_shared, 1);
	assert_string_equal(c->slots[0].shared[0], "m/S-9");
	assert_int_equal(c->slots[0].n_shared_more, 0);
	km_changes_free(c);
}

/* What waits behind a tool of another place is no order to cancel. */
static void an_order_that_moved_stands(void **state)
{
	static const char was[] = HEAD("slots") "\"slots\": ["
		ROW("S-1", "substitute", "\"T-1\"", "\"T-5\", \"T-6\"", "\"\"",
		    "wait", "null") ", "
		ROW("S-2", "substitute", "\"T-2\"", "", "\"\"", "buy", "null")
		"]}";
	static const char is[] = HEAD("slots") "\"slots\": ["
		ROW("S-1", "right", "\"T-7\"", "", "\"\"", "keep", "null") ", "
		ROW("S-2", "substitute", "\"T-2\"", "\"T-5\"", "\"\"", "wait",
		    "null") "]}";
	struct km_changes *c = NULL;

	(void)state;
	assert_int_equal(find(was, is, NULL, &c), KM_OK);
	assert_int_equal(c->n_orders, 1);
	assert_string_equal(c->orders[0].tool, "T-6");
	km_changes_free(c);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(verdicts_and_orders_are_told),
		cmocka_unit_test(data_of_the_changes),
		cmocka_unit_test(orders_that_serve_stand),
		cmocka_unit_test(the_same_is_the_same),
		cmocka_unit_test(currencies_are_not_mixed),
		cmocka_unit_test(summaries_are_compared_by_figures),
		cmocka_unit_test(
			other_kits_that_ask_for_the_same_are_named),
		cmocka_unit_test(an_order_that_moved_stands),
		cmocka_unit_test(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
