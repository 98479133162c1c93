/* SPDX-License-Identifier: MIT */
/*
 * Encoders, byte by byte: regression by hand-written texts.  The
 * rules named beside them are told from memory (docs/sources.md); the evidence
 * that the formats are what they say is in tests/oracle: json_csv.py,
 * markdown.py and html_pages.py read them with parsers that are not of this
 * project.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "report/encode.h"

static struct km_page page;

enum { NAME, WORD, LIST, PIECES, PRICE, WIDTH, SCORE, OPEN, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[NAME] = { "name", "name", KM_COL_TEXT, false },
	[WORD] = { "word", NULL, KM_COL_WORD, false },
	[LIST] = { "list", NULL, KM_COL_LIST, false },
	[PIECES] = { "pieces", NULL, KM_COL_COUNT, false },
	[PRICE] = { "price", NULL, KM_COL_MONEY, false },
	[WIDTH] = { "width", NULL, KM_COL_MM, false },
	[SCORE] = { "score", NULL, KM_COL_THOUSANDTHS, false },
	[OPEN] = { "open", NULL, KM_COL_FLAG, false },
};
static const struct km_column three[] = {
	{ "a", NULL, KM_COL_TEXT, false }, { "b", NULL, KM_COL_TEXT, false },
	{ "c", NULL, KM_COL_TEXT, false },
};

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

static struct km_table *table(const struct km_column *c, uint32_t n)
{
	struct km_table *t = km_table_new(page.mem, "rows", c, n, 2);

	assert_non_null(t);
	page.first = page.last = t;
	return t;
}

static void put3(struct km_table *t, const char *a, const char *b,
		 const char *c)
{
	km_table_row(t);
	km_put_text(t, 0, a);
	km_put_text(t, 1, b);
	km_put_text(t, 2, c);
}

static void fill(struct km_table *t, int64_t price)
{
	km_table_row(t);
	km_put_text(t, NAME, "bar");
	km_put_word(t, WORD, "right", KM_TONE_NONE);
	km_buf_str(&page.line, "T-1");
	km_put_item(t, LIST, &page.line);
	km_buf_str(&page.line, "T-2");
	km_put_item(t, LIST, &page.line);
	km_put_int(t, PIECES, -3);
	km_put_int(t, PRICE, price);
	km_put_int(t, WIDTH, 13335000);
	km_put_int(t, SCORE, 943);
	km_put_int(t, OPEN, 1);
}

/* SOURCE rfc-4180, section 2, rules 1, 3, 4, 6 and 7: the records of its
 * examples; a line ends in CR LF, the last one too. */
static void csv_writes_the_examples_of_its_standard(void **state)
{
	struct km_table *t = table(three, 3);

	(void)state;
	put3(t, "aaa", "bbb", "ccc");
	put3(t, "aaa", "b\r\nbb", "ccc");
	put3(t, "aaa", "b\"bb", "ccc");
	put3(t, "a,a", "", NULL);
	km_out_csv(&page);
	assert_string_equal(page.out.text,
			    "a,b,c\r\n"
			    "aaa,bbb,ccc\r\n"
			    "aaa,\"b\r\nbb\",ccc\r\n"
			    "aaa,\"b\"\"bb\",ccc\r\n"
			    "\"a,a\",,\r\n");
}

static void csv_writes_numbers_exactly(void **state)
{
	(void)state;
	fill(table(columns, COLUMNS), 640);
	km_out_csv(&page);
	assert_string_equal(page.out.text,
			    "name,word,list,pieces,price,width,score,open\r\n"
			    "bar,right,T-1; T-2,-3,6.40,13.335,0.943,yes\r\n");
}

/* SOURCE cwe-1236: text that a spreadsheet would compute is made text; a
 * number column may be negative. */
static void formulas_are_made_text_in_text_columns_only(void **state)
{
	static const char *const formulas[] = { "=1+1", "+44", "-12 mm", "@x",
						" =1" };
	struct km_table *t = table(columns, COLUMNS);

	(void)state;
	for (size_t i = 0; i < sizeof formulas / sizeof *formulas; i++) {
		km_table_row(t);
		km_put_text(t, NAME, formulas[i]);
		km_put_int(t, PRICE, -640);
	}
	km_out_csv(&page);
	assert_string_equal(page.out.text,
			    "name,word,list,pieces,price,width,score,open\r\n"
			    "'=1+1,,,,-6.40,,,\r\n"
			    "'+44,,,,-6.40,,,\r\n"
			    "'-12 mm,,,,-6.40,,,\r\n"
			    "'@x,,,,-6.40,,,\r\n"
			    "\"' =1\",,,,-6.40,,,\r\n");
}

static void a_byte_order_mark_only_when_asked(void **state)
{
	(void)state;
	put3(table(three, 3), "x", "y", "z");
	page.o.csv_bom = true;
	km_out_csv(&page);
	assert_string_equal(page.out.text, "\xEF\xBB\xBF" "a,b,c\r\nx,y,z\r\n");
}

/* SOURCE iana-tsv: fields hold no tabs, and there are no quotes. */
static void tsv_has_neither_quotes_nor_tabs_in_fields(void **state)
{
	struct km_table *t = table(three, 3);

	(void)state;
	put3(t, "a,a", "b\"b", "c\tc\nc");
	put3(t, "=1+1", " x", "plain");
	km_out_tsv(&page);
	assert_string_equal(page.out.text, "a\tb\tc\n"
					   "a,a\tb\"b\tc c c\n"
					   "'=1+1\t x\tplain\n");
}

/* SOURCE rfc-8259: numbers without leading zeros or quotes, null, true. */
static void json_has_every_key_in_order(void **state)
{
	struct km_table *t = table(columns, COLUMNS);

	(void)state;
	page.currency = "GBP";
	fill(t, 640);
	km_table_row(t);
	km_put_list(t, LIST);
	km_out_json(&page);
	assert_string_equal(
		page.out.text,
		"{\n  \"schema_version\": 1,\n  \"program\": \"kitmuster\",\n"
		"  \"sheet\": \"test\",\n  \"currency\": \"GBP\",\n"
		"  \"rows\": [\n"
		"    {\"name\": \"bar\", \"word\": \"right\", "
		"\"list\": [\"T-1\", \"T-2\"], \"pieces\": -3, "
		"\"price\": 6.40, \"width\": 13.335, \"score\": 0.943, "
		"\"open\": true},\n"
		"    {\"name\": null, \"word\": null, \"list\": [], "
		"\"pieces\": null, \"price\": null, \"width\": null, "
		"\"score\": null, \"open\": null}\n"
		"  ]\n}\n");
}

/* SOURCE rfc-7493, section 2.2: whole numbers beyond 2^53 may lose digits. */
static void json_writes_numbers_beyond_two_to_the_53_as_text(void **state)
{
	struct km_table *t = table(columns, COLUMNS);

	(void)state;
	km_table_row(t);
	km_put_int(t, PIECES, ((int64_t)1 << 53) + 1);
	km_table_row(t);
	km_put_int(t, PIECES, (int64_t)1 << 53);
	km_out_json(&page);
	assert_non_null(strstr(page.out.text,
			       "\"pieces\": \"9007199254740993\""));
	assert_non_null(strstr(page.out.text, "\"pieces\": 9007199254740992,"));
}

/* SOURCE rfc-8259, section 7; line separators and < for what reads it as
 * script. */
static void json_text_can_start_nothing(void **state)
{
	struct km_table *t = table(three, 3);

	(void)state;
	put3(t, "\"\\\x1b", "</script>", "\xE2\x80\xA8\xE2\x80\xA9");
	km_out_json(&page);
	assert_non_null(strstr(page.out.text,
			       "{\"a\": \"\\\"\\\\\\u001b\", "
			       "\"b\": \"\\u003c/script>\", "
			       "\"c\": \"\\u2028\\u2029\"}"));
}

static void an_empty_table_is_still_valid(void **state)
{
	(void)state;
	(void)table(three, 3);
	km_out_json(&page);
	assert_non_null(strstr(page.out.text, "\"rows\": []\n}\n"));
	km_buf_clear(&page.out);
	km_out_csv(&page);
	assert_string_equal(page.out.text, "a,b,c\r\n");
}

/* SOURCE cwe-150: control sequences and marks of direction are shown. */
static void text_shows_control_sequences(void **state)
{
	struct km_table *t = table(columns, COLUMNS);

	(void)state;
	km_table_row(t);
	km_put_text(t, NAME, "a\x1b[2J\tb\xE2\x80\xAE" "c\xFF");
	km_out_text(&page);
	assert_string_equal(page.out.text,
			    "name\na\\x1b[2J\\x09b\\u202ec\\xff\n");
}

/* ------------------------------------------------------------------ */
/* A row a line, and what people read                                  */

/* SOURCE jsonlines: a value a line, and a line feed after the last too.  A
 * row has every key of its object in the JSON sheet. */
static void jsonl_lines_say_what_they_are(void **state)
{
	struct km_table *t = table(columns, COLUMNS);

	(void)state;
	page.currency = "GBP";
	fill(t, 640);
	km_table_section(t, "no row");
	fill(t, 5);
	km_out_jsonl(&page);
	assert_string_equal(
		page.out.text,
		"{\"schema_version\": 1, \"sheet\": \"test\", "
		"\"table\": \"rows\", \"currency\": \"GBP\", "
		"\"kit\": null, \"name\": \"bar\", \"word\": \"right\", "
		"\"list\": [\"T-1\", \"T-2\"], \"pieces\": -3, "
		"\"price\": 6.40, \"width\": 13.335, \"score\": 0.943, "
		"\"open\": true}\n"
		"{\"schema_version\": 1, \"sheet\": \"test\", "
		"\"table\": \"rows\", \"currency\": \"GBP\", "
		"\"kit\": null, \"name\": \"bar\", \"word\": \"right\", "
		"\"list\": [\"T-1\", \"T-2\"], \"pieces\": -3, "
		"\"price\": 0.05, \"width\": 13.335, \"score\": 0.943, "
		"\"open\": true}\n");
}

static void jsonl_of_no_rows_is_no_line(void **state)
{
	(void)state;
	(void)table(three, 3);
	km_out_jsonl(&page);
	assert_int_equal(page.out.len, 0);
}

enum { SLOT, VERDICT, SAYS, COST, SHOWN };
static const struct km_column shown[SHOWN] = {
	[SLOT] = { "slot", "slot", KM_COL_ID, false },
	[VERDICT] = { "verdict", "verdict", KM_COL_WORD, false },
	[SAYS] = { "says", "says", KM_COL_LIST, false },
	[COST] = { "cost", "cost", KM_COL_MONEY, false },
};

static void put_shown(struct km_table *t, const char *slot, const char *verdict,
		      const char *says, int64_t cost)
{
	km_table_row(t);
	km_put_text(t, SLOT, slot);
	km_put_word(t, VERDICT, verdict, KM_TONE_GOOD);
	km_buf_str(&page.line, says);
	km_put_item(t, SAYS, &page.line);
	km_put_int(t, COST, cost);
}

/* Two sections that head rows, and one that ends the sheet. */
static void put_two_kits(struct km_table *t)
{
	km_table_section(t, "kit one");
	put_shown(t, "S-1", "right", "a | b", 100);
	km_buf_str(&page.line, "*c*");
	km_put_item(t, SAYS, &page.line);
	km_table_section(t, "kit two");
	put_shown(t, "S-2", "gap", "<b>", 25);
	km_table_section(t, "in all 2");
}

/* SOURCE gfm, section 4.10: a row of names, one of dashes, the pipes in a cell
 * escaped; section 2.4: a backslash before markup. */
static void markdown_has_a_table_a_section(void **state)
{
	(void)state;
	put_two_kits(table(shown, SHOWN));
	km_out_markdown(&page);
	assert_string_equal(page.out.text,
			    "# Test\n\n## Rows\n"
			    "\n**kit one**\n\n"
			    "| slot | verdict | says | cost |\n"
			    "| --- | --- | --- | ---: |\n"
			    "| S-1 | right | a \\| b; \\*c\\* | 1.00 |\n"
			    "\n**kit two**\n\n"
			    "| slot | verdict | says | cost |\n"
			    "| --- | --- | --- | ---: |\n"
			    "| S-2 | gap | \\<b\\> | 0.25 |\n"
			    "\nin all 2\n");
}

/* A paragraph can start what a cell cannot: SOURCE gfm, sections 4.2 (a
 * heading), 5.2 (lists), 4.1 and 4.3 (rules and underlines). */
static void markdown_paragraphs_start_nothing(void **state)
{
	static const char *const text[][2] = {
		{ "# a", "\n\\# a\n" }, { "- a", "\n\\- a\n" },
		{ "+ a", "\n\\+ a\n" }, { "=", "\n\\=\n" },
		{ "12. a", "\n12\\. a\n" }, { "1) a", "\n1\\) a\n" },
		{ "12.5 mm", "\n12\\.5 mm\n" }, { "    a", "\na\n" },
		{ "> a", "\n\\> a\n" }, { "a-b #2 1.", "\na-b #2 1.\n" },
	};

	(void)state;
	for (size_t i = 0; i < sizeof text / sizeof *text; i++) {
		km_buf_clear(&page.out);
		km_table_section(table(shown, SHOWN), text[i][0]);
		km_out_markdown(&page);
		assert_non_null(strstr(page.out.text, text[i][1]));
	}
}

/* SOURCE wcag-2.2, 1.3.1: header cells say what they head; 1.4.1: the word
 * stands beside the shape and the colour. */
static void html_tables_name_rows_and_columns(void **state)
{
	const char *body;

	(void)state;
	put_two_kits(table(shown, SHOWN));
	km_out_html(&page);
	body = strstr(page.out.text, "<h2>");
	assert_non_null(body);
	assert_non_null(strstr(body, "<h2>Rows</h2>\n<table>\n"
		"<caption>Rows, 2 rows</caption>\n<thead>\n<tr>"
		"<th scope=\"col\">slot</th><th scope=\"col\">verdict</th>"
		"<th scope=\"col\">says</th>"
		"<th scope=\"col\" class=\"n\">cost</th></tr>\n</thead>\n"
		"<tbody>\n<tr><th scope=\"rowgroup\" colspan=\"4\">kit one"
		"</th></tr>\n<tr><th scope=\"row\" class=\"i\">S-1</th>"
		"<td data-head=\"verdict\" class=\"good\"><svg "));
	assert_non_null(strstr(body, "</svg> right</td>"
		"<td data-head=\"says\" class=\"l\">a | b<br>*c*</td>"
		"<td data-head=\"cost\" class=\"n\">1.00</td></tr>\n"
		"</tbody>\n<tbody>\n<tr><th scope=\"rowgroup\" "));
	assert_non_null(strstr(body, "<td data-head=\"says\" class=\"l\">&lt;b&gt;</td>"));
	assert_non_null(strstr(body, "</table>\n<p>in all 2</p>\n"));
}

/* The one section above all rows is the caption. */
static void html_captions_are_the_section_above(void **state)
{
	struct km_table *t = table(shown, SHOWN);

	(void)state;
	km_table_section(t, "first remark");
	km_table_section(t, "kit one");
	put_shown(t, "S-1", "right", "a", 100);
	km_out_html(&page);
	assert_non_null(strstr(page.out.text, "<p>first remark</p>\n<table>\n"
			       "<caption>kit one</caption>\n"));
	assert_null(strstr(page.out.text, "rowgroup\" colspan"));
}

static void html_text_acts_nowhere(void **state)
{
	struct km_table *t = table(shown, SHOWN);

	(void)state;
	page.sheet = "</title><script>";
	km_table_section(t, "<script>\x1b[2J");
	put_shown(t, "\"onload=", "right", "\xE2\x80\xAE" "&amp;\xFF", 1);
	km_out_html(&page);
	assert_null(strstr(page.out.text, "<script"));
	assert_null(strstr(page.out.text, "\x1b"));
	assert_null(strstr(page.out.text, "\xE2\x80\xAE"));
	assert_non_null(strstr(page.out.text, "\\u202e&amp;amp;\\xff"));
	assert_non_null(strstr(page.out.text, "&quot;onload="));
}

int main(void)
{
#define T(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
	const struct CMUnitTest tests[] = {
		T(csv_writes_the_examples_of_its_standard),
		T(csv_writes_numbers_exactly),
		T(formulas_are_made_text_in_text_columns_only),
		T(a_byte_order_mark_only_when_asked),
		T(tsv_has_neither_quotes_nor_tabs_in_fields),
		T(json_has_every_key_in_order),
		T(json_writes_numbers_beyond_two_to_the_53_as_text),
		T(json_text_can_start_nothing),
		T(an_empty_table_is_still_valid),
		T(text_shows_control_sequences),
		T(jsonl_lines_say_what_they_are),
		T(jsonl_of_no_rows_is_no_line),
		T(markdown_has_a_table_a_section),
		T(markdown_paragraphs_start_nothing),
		T(html_tables_name_rows_and_columns),
		T(html_captions_are_the_section_above),
		T(html_text_acts_nowhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
