/* SPDX-License-Identifier: MIT */
/*
 * assign - who gets which tool: the best whole matching, exactly.
 *
 * Places (one for each piece a slot wants) stand in (kit, slot) order, tools
 * in id order.  An edge says that a tool may fill a place and what that is
 * worth: a tuple of gains, compared key by key, key 0 first.  A place may stay
 * open, which is worth nothing.  The answer has the greatest sum of tuples
 * and, of all matchings with that sum, gives the first place the smallest
 * tool it can have, then the second place, and so on; open comes after every
 * tool.  So there is one answer, whatever the order of the edges.
 *
 * Owner    all memory comes from the arena given, and stays in it until the
 *          caller frees it: give a scratch arena.
 * Failure  KM_ENOMEM or KM_ERANGE; the outputs are untouched unless KM_OK.
 * Time     P places, E edges, T tools that have an edge, S rounds (one for
 *          each 60 bits of keys that a connected part of the graph really
 *          uses, mostly 1): O(S P (E + T log T)) at worst, O(P + E) when the
 *          tools hardly clash.  Each connected part is solved by itself.
 * Memory   about 20 bytes an edge, 40 a place or a tool that has an edge, 4 a
 *          tool without.
 * Source   shortest augmenting paths and prices: [jonker-volgenant-1987]
 */
#ifndef KM_MATCH_ASSIGN_H
#define KM_MATCH_ASSIGN_H

#include <stddef.h>
#include <stdint.h>

#include "kitmuster/status.h"

struct km_arena;

#define KM_ASSIGN_OPEN UINT32_MAX		/* no edge: the place is open */
#define KM_ASSIGN_TERMS 4			/* keys an edge may touch */
#define KM_ASSIGN_KEYS 4096			/* keys of a problem, at most */
#define KM_ASSIGN_PLACES ((uint32_t)1 << 20)	/* places, at most */
#define KM_ASSIGN_GAIN ((int64_t)1 << 40)	/* |gain| of a term, at most */

/*
 * Tool may fill place.  The tuple is zero but for the terms; a term of gain 0
 * says nothing, the others come in ascending order of key.  Most keys count
 * places of one sort ("right, firm, second priority"), so that an edge
 * touches few of them.
 */
struct km_assign_edge {
	uint32_t place;			/* 0 .. nplaces - 1 */
	uint32_t tool;			/* 0 .. ntools - 1 */
	uint16_t key[KM_ASSIGN_TERMS];	/* 0 .. nkeys - 1; 0 weighs most */
	int64_t gain[KM_ASSIGN_TERMS];	/* wanted if positive */
};

/*
 * Each pair of place and tool at most once.  A caller with a large bench may
 * keep only the nplaces best edges of each place (greater tuple first, then
 * smaller tool): the other places can hold at most nplaces - 1 of them, so
 * the answer never needs more.
 */
struct km_assign {
	uint32_t nplaces;
	uint32_t ntools;
	uint32_t nkeys;
	size_t nedges;			/* below UINT32_MAX */
	const struct km_assign_edge *edge;
};

/*
 * The best matching.
 *
 * edge_of   nplaces entries: the index in p->edge of the edge chosen, or
 *           KM_ASSIGN_OPEN
 * errors    KM_ERANGE: a number outside the bounds above, a pair given twice,
 *           keys out of order, or one key too wide for exact sums.  The last
 *           cannot happen while n^2 g < 2^57, for a connected part of n
 *           places and gains within +-g: 362 places with gains of 2^40,
 *           11 585 with gains of 2^30.
 */
enum km_status km_assign_solve(struct km_arena *scratch,
			       const struct km_assign *p, uint32_t *edge_of);

#define KM_DENSE_SIDE 16384			/* rows, at most */

/*
 * The classical problem: one column for each row of a square matrix, least
 * sum.  Which of several best answers is not promised, but it is the same one
 * in each run.  O(n^3).
 *
 * n         0 .. KM_DENSE_SIDE
 * cost      n * n entries by rows, each within +-KM_ASSIGN_GAIN
 * column    n entries: the column of each row
 * errors    KM_ERANGE: n or a cost out of bounds
 * source    [jonker-volgenant-1987]: column reduction, reduction transfer,
 *           augmenting row reduction, then shortest augmenting paths
 */
enum km_status km_assign_dense(struct km_arena *scratch, uint32_t n,
			       const int64_t *cost, uint32_t *column);

#endif
