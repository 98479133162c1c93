/* SPDX-License-Identifier: MIT */
/*
 * table - a list of tools as comma-separated text, row by row as nodes: the
 * first row names the columns, every other row is a tool.
 *
 * Owner    a node lives until the next row; the table in the arena given.
 */
#ifndef KM_READ_TABLE_H
#define KM_READ_TABLE_H

#include "read/toolrow.h"

enum km_table_got {
	KM_TABLE_ROW,
	KM_TABLE_WRONG,		/* a row in error; a message was given */
	KM_TABLE_END,
	KM_TABLE_FAILED		/* see status */
};

struct km_table {
	struct km_toolrow row;
	struct km_csv csv;
	struct km_column column[KM_CSV_COLUMNS];
	uint32_t order[KM_CSV_COLUMNS];	/* in which cells are read */
	uint32_t n;
	enum km_status status;
};

/* Read the first row; mem keeps the buffers.  Errors said in b->d. */
enum km_status km_table_open(struct km_table *t, struct km_bind *b,
			     const struct km_input *in, struct km_arena *mem);
/* *node is set for KM_TABLE_ROW. */
enum km_table_got km_table_next(struct km_table *t, struct km_node **node);
void km_table_close(struct km_table *t);

#endif
