/* SPDX-License-Identifier: MIT */
/*
 * columns - what the columns and cells of a list of tools mean.
 *
 * Names of columns are the keys of a tool, its condition and its attributes,
 * or one of data/columns.def; words of cells that are states are those of
 * data/cellwords.def.
 */
#ifndef KM_READ_COLUMNS_H
#define KM_READ_COLUMNS_H

#include "base/str.h"
#include "read/bind.h"

enum km_goes {
	KM_TO_TOOL, KM_TO_CONDITION,
	KM_TO_SIZE,		/* "size 1": one of a list */
	KM_TO_OPENING,
	KM_TO_SYSTEM,		/* letters of the sizes of the row */
	KM_TO_EXTRA,		/* not known: kept as it is */
	KM_TO_GRADE,		/* a grade on no scale that is known: kept */
	KM_GOES
};

struct km_column {
	enum km_goes goes;
	const char *key;	/* of the record, or the name as it is */
	const struct km_field *row;	/* of the key; NULL: it has none */
	const char *unit;	/* for bare numbers; NULL none */
	uint8_t number;		/* of "size 1"; 0: none */
	char split[4];		/* characters between items, or "" */
};

/* What a column of that name is; false: no memory. */
bool km_column_name(struct km_words *w, struct km_slice name,
		    struct km_column *c);
/* The same without a name for unknown ones; false: it is not known. */
bool km_column_find(struct km_slice name, struct km_column *c);
/* Is the name a key or one of the table? */
bool km_column_known(struct km_slice name);

/* "extra: bin" names a column of one's own that has the name of a key. */
#define KM_EXTRA_PREFIX "extra:"

/* The cell, or what its word stands for; no bytes: nothing is recorded. */
struct km_slice km_cell_means(const struct km_column *c, struct km_slice s);

/* "a date", "a day number", "a number with an exponent" that a spreadsheet
 * made of a size or length; NULL: it is none, or the column holds neither. */
const char *km_cell_damage(const struct km_column *c, struct km_slice s);
/* What to do about it. */
extern const char km_cell_damage_hint[];

/* Digits, points, commas and strokes only: it has the unit of its column. */
bool km_cell_is_bare(struct km_slice s);

#endif
