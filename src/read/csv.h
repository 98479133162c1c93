/* SPDX-License-Identifier: MIT */
/*
 * csv - rows of comma-separated text, one at a time.
 *
 * source   [rfc-4180], also semicolons and tabs (whichever the first line has
 *          most of), CR, LF or CRLF, a byte order mark, and quotation marks
 *          inside a cell that does not begin with one (inches)
 * Owner    the cells of a row live until the next row.
 */
#ifndef KM_READ_CSV_H
#define KM_READ_CSV_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/buf.h"
#include "kitmuster/diag.h"
#include "kitmuster/load.h"
#include "read/text.h"

enum { KM_CSV_COLUMNS = 256, KM_CSV_CHUNK = 16384 };

struct km_cell {
	const char *text;	/* NUL-ended, blanks trimmed unless quoted */
	uint32_t n;
	uint32_t line, column;
	bool quoted;
};

struct km_csv {
	struct km_text text;
	struct km_diags *d;
	const char *file;
	struct km_arena *mem;
	unsigned char *chunk;
	size_t got, used;
	uint32_t line, column;		/* of the next byte */
	char delimiter;
	bool after_cr;
	struct km_buf bytes;		/* of the row */
	struct km_cell cell[KM_CSV_COLUMNS];
	size_t start[KM_CSV_COLUMNS];	/* of each cell in bytes */
	uint32_t n;			/* cells of the row */
	bool lines;			/* one cell a line, quotes are text */
	bool too_many;
	bool wrong;			/* a message was given for the row */
};

/* mem keeps the buffers; in and lim must stay. */
enum km_status km_csv_open(struct km_csv *c, const struct km_input *in,
			   const char *file, const struct km_limits *lim,
			   struct km_arena *mem, struct km_diags *d);

/* The next row that is not blank, in c->cell; c->n is 0 at the end.
 * Mistakes are in d. */
enum km_status km_csv_next(struct km_csv *c);

#endif
