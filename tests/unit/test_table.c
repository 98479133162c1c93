/* SPDX-License-Identifier: MIT */
/*
 * Tables of cells, and how text lays them out.  Expected layouts are written
 * by hand: two blanks between columns, numbers to the right, text wrapped at
 * the width.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "report/encode.h"

static struct km_page page;

static int set_up(void **state)
{
	(void)state;
	page = (struct km_page){ .decimals = 2, .sheet = "test" };
	page.mem = km_arena_new(NULL);
	if (!page.mem)
		return -1;
	km_buf_init(&page.line, page.mem);
	km_buf_init(&page.out, page.mem);
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	km_arena_free(page.mem);
	return 0;
}

enum { ID, WORD, TEXT, PIECES, PRICE, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[ID] = { "id", "id", KM_COL_ID, false },
	[WORD] = { "word", "word", KM_COL_WORD, false },
	[TEXT] = { "text", "text", KM_COL_LIST, false },
	[PIECES] = { "pieces", "no.", KM_COL_COUNT, false },
	[PRICE] = { "price", "price", KM_COL_MONEY, false },
};

static struct km_table *table(void)
{
	struct km_table *t = km_table_new(page.mem, "rows", columns, COLUMNS,
					  2);

	assert_non_null(t);
	page.first = page.last = t;
	return t;
}

static void row(struct km_table *t, const char *id, const char *word,
		const char *text, int64_t pieces, int64_t price)
{
	km_table_row(t);
	km_put_text(t, ID, id);
	km_put_word(t, WORD, word, KM_TONE_GOOD);
	km_buf_str(&page.line, text);
	km_put_item(t, TEXT, &page.line);
	km_put_int(t, PIECES, pieces);
	km_put_int(t, PRICE, price);
}

static void expect(size_t width, const char *text)
{
	km_buf_clear(&page.out);
	page.o.width = (uint32_t)width;
	km_out_text(&page);
	assert_false(page.failed);
	assert_string_equal(page.out.text, text);
}

static void columns_are_aligned_and_numbers_stand_right(void **state)
{
	struct km_table *t = table();

	(void)state;
	row(t, "S-1", "right", "a bar", 1, 640);
	row(t, "S-10", "gap", "tommy bar", 12, 12345);
	expect(0, "id    word   text       no.   price\n"
		  "S-1   right  a bar        1    6.40\n"
		  "S-10  gap    tommy bar   12  123.45\n");
}

/* The other columns take 4 + 2, 5 + 2, 2 + 3 and 2 + 5, that is 25: a screen of
 * 50 leaves 25 for the text, which wraps beside them; one of 44 leaves 19, too
 * few, and the text goes below. */
static void text_wraps_beside_or_below(void **state)
{
	struct km_table *t = table();
	char text[256];

	(void)state;
	row(t, "S-10", "right", "one two three four five six", 1, 640);
	snprintf(text, sizeof text, "%-13s%-25s  %s\n%-13s%-25s  %s\n%-13s%s\n",
		 "id    word", "text", "no.  price",
		 "S-10  right", "one two three four five", "  1   6.40",
		 "", "  six");
	expect(50, text);
	expect(44, "id    word   no.  price\n"
		   "S-10  right\n"
		   "    one two three four five six\n"
		   "               1   6.40\n");
}

static void an_id_is_never_cut(void **state)
{
	static const char id[] =
		"a-long-id-of-a-slot-in-a-kit-that-is-wider-than-the-screen";
	struct km_table *t = table();

	(void)state;
	row(t, id, "right", "text", 1, 640);
	page.o.width = 30;
	km_out_text(&page);
	assert_non_null(strstr(page.out.text, id));
}

static void lists_stand_below_each_other(void **state)
{
	struct km_table *t = table();

	(void)state;
	row(t, "S-1", "right", "first", 1, 640);
	km_buf_str(&page.line, "second");
	km_put_item(t, TEXT, &page.line);
	expect(0, "id   word   text    no.  price\n"
		  "S-1  right  first     1   6.40\n"
		  "            second\n");
	page.o.plain = true;
	expect(80, "S-1  right  first; second  1  6.40\n");
}

static void empty_columns_and_empty_cells_print_nothing(void **state)
{
	struct km_table *t = table();

	(void)state;
	km_table_row(t);
	km_put_text(t, ID, "S-1");
	km_put_text(t, WORD, NULL);
	km_table_row(t);
	km_put_text(t, ID, "S-2");
	km_put_int(t, PIECES, 3);
	expect(80, "id   no.\n"
		   "S-1\n"
		   "S-2    3\n");
}

static void sections_have_an_empty_line_before_the_first(void **state)
{
	struct km_table *t = table();

	(void)state;
	km_table_section(t, "kit one");
	km_table_section(t, "standard usable");
	row(t, "S-1", "right", "x", 1, 1);
	km_table_section(t, "kit two");
	row(t, "S-2", "gap", "y", 1, 2);
	expect(0, "id   word   text  no.  price\n"
		  "\n"
		  "kit one\n"
		  "standard usable\n"
		  "S-1  right  x       1   0.01\n"
		  "\n"
		  "kit two\n"
		  "S-2  gap    y       1   0.02\n");
}

static void colour_adds_to_the_word_and_moves_nothing(void **state)
{
	struct km_table *t = table();

	(void)state;
	row(t, "S-1", "right", "x", 1, 1);
	page.o.colour = true;
	expect(0, "id   word   text  no.  price\n"
		  "S-1  \x1b[34mright\x1b[0m  x       1   0.01\n");
}

static void wide_and_combining_characters_count_as_cells(void **state)
{
	struct km_table *t = table();

	(void)state;
	/* two wide characters take four cells; e and an accent take one */
	row(t, "\xE5\xB7\xA5\xE5\x85\xB7", "a", "x", 1, 1);
	row(t, "e\xCC\x81", "b", "y", 1, 1);
	expect(0, "id    word  text  no.  price\n"
		  "\xE5\xB7\xA5\xE5\x85\xB7  a     x       1   0.01\n"
		  "e\xCC\x81     b     y       1   0.01\n");
}

static void a_long_list_keeps_every_text(void **state)
{
	struct km_table *t = table();

	(void)state;
	km_table_row(t);
	for (int i = 0; i < 37; i++) {
		km_buf_printf(&page.line, "item %d", i);
		km_put_item(t, TEXT, &page.line);
	}
	assert_false(t->failed);
	assert_int_equal(t->last->cells[TEXT].n_list, 37);
	for (int i = 0; i < 37; i++) {
		km_buf_printf(&page.line, "item %d", i);
		assert_string_equal(t->last->cells[TEXT].list[i],
				    page.line.text);
		km_buf_clear(&page.line);
	}
}

static void no_line_is_wider_than_asked(void **state)
{
	struct km_table *t = table();

	(void)state;
	row(t, "S-10", "right", "words of a reason that goes on and on, with "
	    "averylongwordthatnolinecouldholdwholebecauseithasnoblankinit", 1,
	    640);
	for (uint32_t width = 24; width < 120; width++) {
		const char *p, *end;

		page.o.width = width;
		km_buf_clear(&page.out);
		km_out_text(&page);
		for (p = page.out.text; (end = strchr(p, '\n')); p = end + 1)
			if (km_utf8_cells(p, (size_t)(end - p)) > width)
				fail_msg("width %u: %s", width, page.out.text);
	}
}

int main(void)
{
#define T(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
	const struct CMUnitTest tests[] = {
		T(columns_are_aligned_and_numbers_stand_right),
		T(text_wraps_beside_or_below), T(an_id_is_never_cut),
		T(lists_stand_below_each_other),
		T(empty_columns_and_empty_cells_print_nothing),
		T(sections_have_an_empty_line_before_the_first),
		T(colour_adds_to_the_word_and_moves_nothing),
		T(wide_and_combining_characters_count_as_cells),
		T(a_long_list_keeps_every_text),
		T(no_line_is_wider_than_asked),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
