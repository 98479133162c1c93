/* SPDX-License-Identifier: MIT */
/* Starter files: the rows that every file needs or most have as they stand
 * in the tables, all others commented out. */
#include <string.h>

#include "read/schema.h"

static const char *const starters[] = {
	"kit", "bench", "prices", "workshop", "machine", "rubric", NULL
};

/* Attributes that nearly every tool or slot has. */
static const uint32_t usual = (uint32_t)1 << KM_A_TOOL |
	(uint32_t)1 << KM_A_SIZES | (uint32_t)1 << KM_A_LENGTH |
	(uint32_t)1 << KM_A_FINISH | (uint32_t)1 << KM_A_MARK;

enum { STEP = 2, DEEPEST = 5 };

static bool is_usual(const struct km_field *f)
{
	if (f->type == KM_T_ATTR)
		return usual >> f->attr & 1;
	return f->flags & (KM_REQUIRED | KM_STARTER);
}

static void put_fields(struct km_buf *b, const struct km_record *r,
		       size_t indent, bool in_list);

static bool is_list_of(const struct km_field *f)
{
	return f->type == KM_T_LIST ||
	       (f->type == KM_T_OWN && f->form == KM_FORM_RECORDS);
}

static bool is_nested(const struct km_field *f)
{
	return f->type == KM_T_MAP || f->type == KM_T_MAP_NEW ||
	       (f->type == KM_T_OWN && f->form == KM_FORM_RECORD);
}

/* dash: the row begins an item of a list. */
static void put_field(struct km_buf *b, const struct km_field *f,
		      size_t indent, bool dash)
{
	bool used = is_usual(f);
	bool opens = used && f->rec && indent / STEP < DEEPEST &&
		     (is_list_of(f) || is_nested(f));

	if (!dash) {
		km_buf_fill(b, ' ', indent);
		km_buf_printf(b, "# %s\n", f->doc);
	}
	km_buf_fill(b, ' ', dash ? indent - STEP : indent);
	km_buf_str(b, dash ? "- " : used ? "" : "#");
	km_buf_printf(b, "%s:", f->key);
	if (!opens) {
		km_buf_printf(b, " %s\n", f->example);
		return;
	}
	km_buf_char(b, '\n');
	if (is_list_of(f))
		put_fields(b, f->rec, indent + 2 * STEP, true);
	else
		put_fields(b, f->rec, indent + STEP, false);
}

/* The row that an item of a list begins with: its id, or what must be. */
static const struct km_field *first_of(const struct km_record *r)
{
	const struct km_field *f, *best = NULL;

	for (f = r->fields; f->type != KM_T_END; f++) {
		if (f->type == KM_T_ID)
			return f;
		if (!best && f->flags & KM_REQUIRED)
			best = f;
	}
	return best;
}

static void put_fields(struct km_buf *b, const struct km_record *r,
		       size_t indent, bool in_list)
{
	const struct km_field *first = in_list ? first_of(r) : NULL, *f;
	int pass;

	if (first)
		put_field(b, first, indent, true);
	for (pass = 0; pass < 2; pass++) {	/* the usual ones first */
		for (f = r->fields; f->type != KM_T_END; f++)
			if (f != first && is_usual(f) == !pass)
				put_field(b, f, indent, false);
		for (f = km_attr_fields; r->attrs && f->type != KM_T_END; f++)
			if (is_usual(f) == !pass)
				put_field(b, f, indent, false);
	}
}

const char *km_starter_record(size_t i)
{
	return i < sizeof starters / sizeof *starters ? starters[i] : NULL;
}

static const struct km_top *top_of(const char *record)
{
	const struct km_top *t;
	size_t i;

	for (i = 0; km_starter_record(i); i++)
		if (!strcmp(starters[i], record))
			for (t = km_tops; t->key; t++)
				if (!strcmp(t->key, record))
					return t;
	return NULL;
}

enum km_status km_starter(const char *record, const struct km_sink *to)
{
	const struct km_top *t = top_of(record);
	struct km_arena *mem;
	enum km_status st;
	struct km_buf b;

	if (!t)
		return KM_EINPUT;
	mem = km_arena_new(NULL);
	if (!mem)
		return KM_ENOMEM;
	km_buf_init(&b, mem);
	km_buf_printf(&b, "# %s\n# Take the # off a line that you need; what "
		      "is not known is left out.\n\n%s:\n",
		      t->rec->doc, t->key);
	put_fields(&b, t->rec, t->list ? 2 * STEP : STEP, t->list);
	st = km_schema_hand(&b, to);
	km_arena_free(mem);
	return st;
}
