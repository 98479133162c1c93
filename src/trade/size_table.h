/* SPDX-License-Identifier: MIT */
/*
 * size_table - the rows behind a size: widths by their marks, and the limits
 * of jaws and heads by width.  For size.c and size_parse.c.
 *
 * Heads    those that a sound jaw must hold: metric product grade A where a
 *          row has it, else h13 to 32 mm and h14 above [iso-286, as every
 *          grade A row read agrees]; inch cap screws, else nuts, else machine
 *          screw nuts; without any row 2 per cent under the nominal width.
 *          Coarser heads of the same width are looser in every jaw.
 * Jaws     as printed; for W, BS and BA, whose published limits were not
 *          found, the inch rule: 1.005 W + 0.001 in, and 0.005 W + 0.004 in
 *          more [machinerys-handbook-31].
 */
#ifndef KM_TRADE_SIZE_TABLE_H
#define KM_TRADE_SIZE_TABLE_H

#include "trade/size.h"

struct km_whitworth { const char *mark_w, *mark_bs; int64_t width_nm; };

/* The jaw that is struck mark W or mark BS ("1-1/8"); NULL: no such. */
const struct km_whitworth *km_whitworth_find(enum km_system system,
					     const char *mark);
/* Widths across flats, nm; 0: no such. */
int64_t km_ba_width(int64_t number);
int64_t km_plug_width(int64_t nm, bool inch);	/* the hexagon meant by nm */
int64_t km_square_width(int64_t nm);	/* 12.5 mm and 1/2 in: 12.7 mm */
bool km_cross_listed(enum km_system system, int64_t number);

/* Fill opening, head and bucket from system, number and widths. */
void km_size_fill(struct km_size *s);

/* The rows of the tables, for the book; false or NULL: i is past the end. */
uint32_t km_size_rows(void);	/* of all four */
bool km_metric_row(uint32_t i, int64_t *nm);
bool km_af_row(uint32_t i, int64_t *nm);
bool km_ba_row(uint32_t i, int32_t *number, int64_t *nm);
const struct km_whitworth *km_whitworth_row(uint32_t i);

#endif
