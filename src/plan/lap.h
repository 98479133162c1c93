/* SPDX-License-Identifier: MIT */
/*
 * lap - the assignment inside the plan: one option a row, no column fuller
 * than its room, least sum; with its prices.
 *
 * Rows take one live option each.  An option stands in a column that rows
 * compete for, or in none (KM_LAP_OWN).
 *
 * Owner    all arrays are the caller's; km_lap_init() takes the rest from the
 *          arena
 * Bounds   costs lie within +-KM_LAP_SIDE / (rows + 2); then no sum of the
 *          search leaves 64 bits
 * Source   shortest augmenting paths and prices: [jonker-volgenant-1987]
 */
#ifndef KM_PLAN_LAP_H
#define KM_PLAN_LAP_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"

#define KM_LAP_OWN UINT32_MAX
#define KM_LAP_SIDE ((int64_t)1 << 60)

struct km_lap {
	uint32_t nrows, ncols;
	const uint32_t *start;		/* of a row, in list */
	const uint32_t *len;		/* live options of a row */
	const uint32_t *list;		/* options by row */
	const uint32_t *row_of;		/* of an option */
	const uint32_t *col_of;		/* of an option */
	const int64_t *cost;		/* of an option */
	const uint32_t *room;		/* of a column */
	uint32_t *got;			/* answer: option of a row */
	int64_t *u;			/* answer: price of a row */
	int64_t *v;			/* answer: price of a column, <= 0, and 0
					 * while there is room */

	uint32_t *held;			/* rows in a column */
	uint32_t *seat;			/* of a column, in holder */
	uint32_t *holder;		/* rows of the columns */
	int64_t *dist;			/* of a column, in one search */
	uint32_t *from;			/* option a column was reached by */
	uint32_t *seen;			/* columns reached; the first are done */
	uint8_t *mark;			/* 0 new, 1 reached, 2 done */
};

/* The fields down to room are set; room and row lengths are not yet needed to
 * be final, but no column may ever get more room.  false: no memory. */
bool km_lap_init(struct km_lap *l, struct km_arena *mem);

/* The least sum; false: some row cannot be seated. */
bool km_lap_solve(struct km_lap *l, int64_t *sum);

#endif
