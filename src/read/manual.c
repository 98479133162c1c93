/* SPDX-License-Identifier: MIT */
/* The manual page of the file format; from the rows that read the files. */
#include <inttypes.h>

#include "base/mdoc.h"
#include "read/schema.h"

static void section(struct km_buf *b, const char *title)
{
	km_buf_printf(b, ".Sh %s\n", title);
}

static void put_field(struct km_buf *b, const struct km_field *f)
{
	struct km_buf words;

	km_buf_init(&words, b->mem);
	km_buf_printf(b, ".It Ic %s%s\n", f->key,
		      f->flags & KM_REQUIRED ? " No (must be there)" : "");
	km_mdoc_text(b, f->doc);
	km_schema_takes(&words, f, false);
	if (!km_buf_failed(&words) && words.len) {
		km_buf_str(b, ".br\nTakes\n");
		km_mdoc_text(b, words.text);
	}
	if (f->example && *f->example) {
		km_buf_str(b, ".br\nExample:\n.Li");
		km_mdoc_word(b, f->example);
		km_buf_char(b, '\n');
	}
}

static void put_fields(struct km_buf *b, const struct km_field *f)
{
	km_buf_str(b, ".Bl -tag -width Ds\n");
	for (; f->type != KM_T_END; f++)
		put_field(b, f);
	km_buf_str(b, ".El\n");
}

static void put_record(struct km_buf *b, const struct km_record *r)
{
	km_buf_printf(b, ".Ss %s\n", r->name);
	km_mdoc_text(b, r->doc);
	if (r->attrs)
		km_mdoc_text(b, km_schema_claims(r)
			     ? "It takes the attributes as well, each as a value or a claim."
			     : "It takes the attributes as well.");
	put_fields(b, r->fields);
}

void km_schema_manual(struct km_buf *b)
{
	km_buf_str(b, ".Dd $Mdocdate$\n.Dt KITMUSTER-FILES 5\n.Os\n"
		   ".Sh NAME\n.Nm kitmuster-files\n"
		   ".Nd what the files of kitmuster hold\n");
	section(b, "DESCRIPTION");
	km_mdoc_text(b, "A file is a YAML map with one or more of these keys. "
		     "A run takes any number of files in any order.");
	km_buf_str(b, ".Bl -tag -width Ds\n");
	for (const struct km_top *t = km_tops; t->key; t++) {
		km_buf_printf(b, ".It Ic %s\n", t->key);
		km_mdoc_text(b, t->doc);
	}
	km_buf_str(b, ".El\n");
	section(b, "WHAT RECORDS HOLD");
	for (unsigned i = 0; i < KM_RECORDS; i++)
		put_record(b, km_records[i]);
	section(b, "ATTRIBUTES");
	km_mdoc_text(b, "What slots, tools and offers share. A key that is "
		     "left out is not recorded; none is recorded as absent; "
		     "unknown of a slot asks nothing; a mark, part or size "
		     "that cannot be read is illegible.");
	put_fields(b, km_attr_fields);
	km_buf_str(b, ".Sh SEE ALSO\n.Xr kitmuster 1\n");
}
