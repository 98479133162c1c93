/* SPDX-License-Identifier: MIT */
/* The reference of the file format, to be read; from the same rows. */
#include <inttypes.h>
#include <string.h>

#include "read/schema.h"

static const struct { const char *word, *key; } columns[] = {
#define COLUMN(word_, key_) { word_, key_ },
#include "data/columns.def"
#undef COLUMN
};

static const struct { const char *word, *key, *means; } cells[] = {
#define CELL(word_, key_, means_) { word_, key_, means_ },
#include "data/cellwords.def"
#undef CELL
};

static const char *takes(const struct km_field *f)
{
	static const char *const words[] = {
		[KM_T_TEXT] = "text", [KM_T_NOTE] = "text of any length",
		[KM_T_ID] = "an id, given here", [KM_T_REF] = "an id",
		[KM_T_SLOT_REF] = "kit/slot", [KM_T_INT] = "a whole number",
		[KM_T_BIG] = "a whole number", [KM_T_SMALL] = "a whole number",
		[KM_T_BOOL] = "yes or no", [KM_T_MAYBE] = "yes or no",
		[KM_T_LENGTH] = "a length with its unit",
		[KM_T_SHARE] = "a share in %", [KM_T_CENTS] = "a number",
		[KM_T_MILLI] = "a number", [KM_T_WEIGHT] = "g or kg",
		[KM_T_MONEY] = "money", [KM_T_MONEY3] = "money, or three sums",
		[KM_T_CURRENCY] = "a code of ISO 4217",
		[KM_T_DATE] = "year-month-day",
		[KM_T_PERIOD] = "a date or span of dates",
		[KM_T_TEXTS] = "a list of texts", [KM_T_REFS] = "a list of ids",
		[KM_T_DAYS] = "days, or from-to",
	};

	if (f->shape)
		return f->shape;
	return f->type < sizeof words / sizeof *words ? words[f->type] : NULL;
}

/* A cell of a table: no bar may stand in it. */
static void put_cell(struct km_buf *b, const char *text)
{
	for (; *text; text++) {
		if (*text == '|')
			km_buf_char(b, '\\');
		km_buf_char(b, *text);
	}
}

static void put_record_link(struct km_buf *b, const char *before,
			    const struct km_record *r)
{
	km_buf_printf(b, "%s[%s](#", before, r->name);
	km_schema_slug(b, r->name);
	km_buf_char(b, ')');
}

void km_schema_takes(struct km_buf *b, const struct km_field *f, bool links)
{
	const char *words = takes(f);
	const char *before = words ? ": " : f->type == KM_T_LIST ? "a list: "
			     : f->type == KM_T_BY_NAME ? "by name: " : "";
	size_t i;

	if (words)
		km_buf_str(b, words);
	if (f->rec && links)
		put_record_link(b, before, f->rec);
	else if (f->rec)
		km_buf_printf(b, "%s%s", before, f->rec->name);
	for (i = 0; f->choices && f->choices[i] && (!words || f->rec); i++)
		km_buf_printf(b, "%s%s", i ? ", " : words ? "; " : "",
			      f->choices[i]);
	if (f->max && f->type >= KM_T_INT && f->type <= KM_T_SMALL)
		km_buf_printf(b, ", %" PRId64 " to %" PRId64, f->min, f->max);
}

static void put_takes(struct km_buf *b, const struct km_field *f)
{
	struct km_buf words;

	km_buf_init(&words, b->mem);
	km_schema_takes(&words, f, true);
	if (km_buf_failed(&words))
		b->failed = true;
	else if (words.len)
		put_cell(b, words.text);
}

static void put_row(struct km_buf *b, const struct km_field *f)
{
	km_buf_printf(b, "| `%s`%s | ", f->key,
		      f->flags & KM_REQUIRED ? " (must be there)" : "");
	put_takes(b, f);
	km_buf_str(b, " | `");
	put_cell(b, f->example);
	km_buf_str(b, "` | ");
	put_cell(b, f->doc);
	if (f->was) {
		km_buf_str(b, " Also read: ");
		put_cell(b, f->was);
		km_buf_char(b, '.');
	}
	km_buf_str(b, " |\n");
}

static void put_rows(struct km_buf *b, const struct km_field *f)
{
	km_buf_str(b, "\n| key | takes | example | meaning |\n"
		      "| --- | --- | --- | --- |\n");
	for (; f->type != KM_T_END; f++)
		put_row(b, f);
}

static void put_record(struct km_buf *b, const struct km_record *r)
{
	km_buf_printf(b, "\n## %s\n\n%s", r->name, r->doc);
	if (r->attrs)
		km_buf_printf(b, " It takes the [attributes](#attributes)%s "
			      "as well.", km_schema_claims(r)
			      ? ", each as a value or a [claim](#claim)," : "");
	km_buf_char(b, '\n');
	put_rows(b, r->fields);
}

static void put_attributes(struct km_buf *b)
{
	km_buf_str(b, "\n## attributes\n\n"
		      "What slots, tools and offers share. A key that is left "
		      "out is not recorded; `none` is recorded\nas absent; "
		      "`unknown` of a slot asks nothing; a mark, part or size "
		      "that cannot be read is\n`illegible`. Quoted \"none\" "
		      "is text.\n");
	put_rows(b, km_attr_fields);
}

static void put_tables(struct km_buf *b)
{
	size_t i;

	km_buf_str(b, "\n## columns of a table\n\n"
		      "A bench may be a table, one tool a row. The first row "
		      "names the columns: the keys of a tool, its\ncondition "
		      "and its attributes, or one of these. `size 1`, `size 2`"
		      " and `opening 1`, `opening 2` are one\nend each. A unit"
		      " behind the name, as in `length (mm)`, goes for cells "
		      "without one. Columns of other\nnames are kept under "
		      "`extra`. A grade is kept there too, since it does not "
		      "say on which scale.\n\n| column | key |\n"
		      "| --- | --- |\n");
	for (i = 0; i < sizeof columns / sizeof *columns; i++)
		km_buf_printf(b, "| %s | `%s` |\n", columns[i].word,
			      columns[i].key);
	km_buf_str(b, "\n## words in the cells of a table\n\n"
		      "An empty cell records nothing. These words stand for "
		      "something else than themselves.\n\n"
		      "| cell | column | means |\n| --- | --- | --- |\n");
	for (i = 0; i < sizeof cells / sizeof *cells; i++)
		km_buf_printf(b, "| `%s` | %s | %s |\n", cells[i].word,
			      cells[i].key[0] ? cells[i].key : "any",
			      cells[i].means[0] ? cells[i].means
						: "not recorded");
}

void km_schema_reference(struct km_buf *b, const struct km_record *only)
{
	const struct km_top *t;
	unsigned i;

	km_buf_str(b, "# What files hold\n\n"
		      "Written by `kitmuster schema --format markdown` from "
		      "the tables that read the files.\n");
	if (only) {
		put_record(b, only);
		if (only->attrs)
			put_attributes(b);
		return;
	}
	km_buf_str(b, "\nA file is a map with one or more of these keys. A run "
		      "takes any number of files in any order.\n\n"
		      "| key | holds | meaning |\n| --- | --- | --- |\n");
	for (t = km_tops; t->key; t++) {
		km_buf_printf(b, "| `%s` | ", t->key);
		put_record_link(b, t->list ? "a list: " : "", t->rec);
		km_buf_printf(b, " | %s |\n", t->doc);
	}
	for (i = 0; i < KM_RECORDS; i++)
		put_record(b, km_records[i]);
	put_attributes(b);
	put_tables(b);
}
