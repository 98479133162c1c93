/* SPDX-License-Identifier: MIT */
/*
 * graph - places, tools and the arcs between them, with prices that prove a
 * matching best.
 *
 * Places are rows and tools columns; columns are counted over the tools that
 * have an arc, in tool order.  For the weights of the arcs, a matching and
 * prices u (rows), v (columns), none below zero, are kept such that
 *
 *	u + v >= weight on every arc, with equality on the matched ones,
 *	u = 0 on open rows, v = 0 on free columns.
 *
 * Then the matching is of greatest weight; and another one is as good just if
 * it uses arcs with u + v = weight alone ("tight") and covers every row and
 * column whose price is above zero.
 *
 * Owner    the arena given to km_graph_build
 */
#ifndef KM_MATCH_GRAPH_H
#define KM_MATCH_GRAPH_H

#include "match/assign.h"

#define KM_NOBODY UINT32_MAX

struct km_arc {
	int64_t weight;
	uint32_t col;
	uint32_t edge;		/* index in the caller's list */
};

struct km_graph {
	uint32_t nrows, ncols;
	struct km_arc *arc;	/* by row, then by column */
	uint32_t *first, *end;	/* arcs of a row: first <= i < end */
	uint32_t *order;	/* rows by connected part, ascending in each */
	uint32_t *root;		/* smallest row of a row's part */
	int64_t *u, *v;		/* prices of rows and of columns */
	uint32_t *got;		/* column of a row, or KM_NOBODY */
	uint32_t *holder;	/* row of a column, or KM_NOBODY */
	/* working space, a column each (one more for "nowhere") */
	int64_t *dist;
	uint32_t *from, *filler, *seen, *list, *heap, *pos;
	uint32_t mark;		/* last mark put into seen */
};

/* A connected part: rows order[lo] .. order[hi - 1]. */
struct km_part {
	uint32_t lo, hi;
};

/* Take over the edges, sorted; KM_ERANGE for a pair given twice. */
enum km_status km_graph_build(struct km_graph *g, struct km_arena *mem,
			      const struct km_assign *p);
/* A matching of greatest weight over the part, and its prices. */
void km_graph_match(struct km_graph *g, struct km_part part);
/* Forget the arcs of the part that no best matching uses. */
void km_graph_tighten(struct km_graph *g, struct km_part part);
/*
 * After km_graph_tighten: of the best matchings, the one that gives each row
 * in order the smallest column it can have, open after all columns.
 */
void km_graph_settle(struct km_graph *g, struct km_part part);

#endif
