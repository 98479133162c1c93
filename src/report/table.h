/* SPDX-License-Identifier: MIT */
/*
 * table - what a sheet says, before anybody decides how it is written.
 *
 * A sheet fills tables of typed cells with raw text; an encoder escapes and
 * lays them out.  A cell that was never put is null: empty in text and CSV,
 * null in JSON.
 *
 * Owner    the arena given to km_table_new(); text is copied unless it is
 *          said to be kept.
 * Failure  the first one sticks in `failed`, as with km_buf.
 */
#ifndef KM_REPORT_TABLE_H
#define KM_REPORT_TABLE_H

#include "base/arena.h"
#include "base/buf.h"

enum km_column_kind {
	KM_COL_ID,		/* never wrapped, never cut */
	KM_COL_WORD,		/* a word of ours; may carry a tone */
	KM_COL_TEXT,		/* wraps; at most one text or list column a
				 * table is shown in text */
	KM_COL_LIST,		/* several texts */
	KM_COL_COUNT,
	KM_COL_MONEY,		/* minor units */
	KM_COL_MM,		/* nanometres, written as millimetres */
	KM_COL_THOUSANDTHS,
	KM_COL_HUNDREDTHS,	/* of a point */
	KM_COL_FLAG		/* yes or no */
};

enum { KM_SHOW_TEXT = 1, KM_SHOW_DATA = 2, KM_SHOW_BOTH = 3 };

struct km_column {
	const char *key;	/* CSV header and JSON name; NULL if not data */
	const char *heading;	/* in text; NULL if not shown */
	enum km_column_kind kind;
	bool only_plain;	/* in text shown only as one record a line,
				 * since a section says it otherwise */
};

enum km_tone { KM_TONE_NONE, KM_TONE_GOOD, KM_TONE_WORK, KM_TONE_OPEN,
	       KM_TONE_DIM };

struct km_cell {
	bool there;
	enum km_tone tone;
	const char *text;
	int64_t n;
	const char *const *list;
	uint32_t n_list;
};

struct km_row {
	struct km_row *next;
	const char *section;	/* a line across the table; no cells then */
	uint8_t show;		/* KM_SHOW_... */
	struct km_cell *cells;
};

struct km_table {
	const char *key;	/* JSON name of the array */
	uint8_t show;
	const struct km_column *columns;
	uint32_t n_columns;
	struct km_row *first, *last;	/* last: the one that puts go to */
	int decimals;		/* of money */
	struct km_arena *mem;
	bool failed;
	struct km_table *next;	/* of the same sheet */
};

struct km_table *km_table_new(struct km_arena *mem, const char *key,
			      const struct km_column *columns, uint32_t n,
			      int decimals);
/* Start a row; later puts go to it. */
void km_table_row(struct km_table *t);
/* A line across the table, in text only; the first of several has an empty
 * line before it. */
void km_table_section(struct km_table *t, const char *text);

/* The text of a buffer as such a line, and clear it; an empty one is none. */
void km_put_section(struct km_table *t, struct km_buf *b);

/* NULL text leaves the cell null. */
void km_put_text(struct km_table *t, uint32_t column, const char *text);
/* The text of a buffer, which is then cleared; an empty one leaves null. */
void km_put_buf(struct km_table *t, uint32_t column, struct km_buf *b);
void km_put_word(struct km_table *t, uint32_t column, const char *word,
		 enum km_tone tone);	/* word is kept by pointer */
void km_put_int(struct km_table *t, uint32_t column, int64_t n);
/* One more text of a list; the buffer is cleared.  Empty texts are left out. */
void km_put_item(struct km_table *t, uint32_t column, struct km_buf *b);
/* An empty list, which is not the same as none. */
void km_put_list(struct km_table *t, uint32_t column);

/* A number cell as JSON, CSV and text have it in common: 6.40, 13.335, 0.943,
 * 12. */
void km_cell_number(struct km_buf *b, const struct km_table *t,
		    const struct km_column *c, const struct km_cell *cell);
static inline bool km_column_is_number(const struct km_column *c)
{
	return c->kind == KM_COL_COUNT || c->kind == KM_COL_MONEY ||
	       c->kind == KM_COL_MM || c->kind == KM_COL_THOUSANDTHS ||
	       c->kind == KM_COL_HUNDREDTHS;
}

#endif
