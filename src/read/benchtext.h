/* SPDX-License-Identifier: MIT */
/*
 * benchtext - tools written down again, as YAML or as a table.
 *
 * What is written reads back as the same node: texts that would be taken for
 * something else are quoted, in a table with quotation marks inside the cell.
 */
#ifndef KM_READ_BENCHTEXT_H
#define KM_READ_BENCHTEXT_H

#include "base/buf.h"
#include "read/bind.h"

/* One tool as an entry of `bench:`. */
void km_bench_yaml(struct km_buf *b, const struct km_node *tool);

struct km_bench_cell { const char *text; uint32_t column; };

/* Where the keys of a tool, or of its condition, stand in what is written;
 * all below KM_RANK_OWN differ. */
enum { KM_RANK_OWN = 500 };
uint32_t km_bench_rank(const char *key, bool condition);

/* Rows of a table, until all columns are known. */
struct km_bench_table {
	struct km_arena *mem;
	const char **name;		/* of the columns */
	uint32_t *rank;			/* where they stand */
	uint32_t n, room;
	struct km_bench_line *first, **tail;
	bool nomem;
};

void km_bench_table_init(struct km_bench_table *t, struct km_arena *mem);
void km_bench_table_add(struct km_bench_table *t, const struct km_node *tool);
/* The whole table; t->nomem when memory ran out. */
void km_bench_table_write(struct km_bench_table *t, struct km_buf *b);

#endif
