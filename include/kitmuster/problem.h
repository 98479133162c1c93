/* SPDX-License-Identifier: MIT */
/*
 * problem - the plan of a kit as numbers: places, options, charges and what is
 * asked.  src/plan/solve.h says what the best plan of it is; the sheet `ways`
 * prints all of it, so that any other solver can check the answer.
 *
 * Units    minor units of money, hundredths of a point
 */
#ifndef KITMUSTER_PROBLEM_H
#define KITMUSTER_PROBLEM_H

#include <stdbool.h>
#include <stdint.h>

#define KM_SOLVE_NONE UINT32_MAX		/* no resource, group, option */
#define KM_SOLVE_FREE INT64_MAX			/* no budget, no limit */

/* An option adds one piece to a charge. */
struct km_solve_use {
	uint32_t charge;
	int64_t goods;		/* PARCEL: its price, >= 0; else 0 */
};

/* A charge or a resource at most once in an option. */
struct km_solve_option {
	uint32_t place;
	int64_t money, points;		/* >= 0 */
	const uint32_t *resource;
	uint32_t nresources;
	const struct km_solve_use *use;
	uint32_t nuses;
};

enum km_solve_kind {
	KM_SOLVE_COUNT,		/* by the number of pieces */
	KM_SOLVE_PARCEL		/* by the goods */
};

/*
 * COUNT: n pieces cost table[n], or the last entry where the table ends; the
 * table is nondecreasing and table[0] is 0.  Fixed postage F is { 0, F }, a
 * lot { 0, 60, 60, ..., 63, 70 }, loads a staircase.  minimum is paid besides
 * once n > 0, except that a group pays only its highest minimums.  most > 0:
 * no more pieces than that.
 *
 * PARCEL: postage once n > 0, unless the goods reach free_over.  Goods must
 * reach minimum_order once n > 0; with top_up, what is short of it is bought
 * besides instead, and counts towards free_over.
 */
struct km_solve_charge {
	enum km_solve_kind kind;
	const int64_t *table;
	uint32_t ntable;		/* >= 1 */
	uint32_t most;			/* 0: any number */
	int64_t minimum;
	uint32_t group;			/* or KM_SOLVE_NONE */
	int64_t postage;
	int64_t free_over;		/* KM_SOLVE_FREE: never */
	int64_t minimum_order;		/* 0: none */
	bool top_up;
};

struct km_solve {
	uint32_t nplaces, noptions, nresources, ncharges, ngroups;
	const struct km_solve_option *option;
	const uint32_t *capacity;	/* of a resource: options that may use it */
	const struct km_solve_charge *charge;
	const uint32_t *paid;		/* of a group: minimums paid in full */
};

/* What is asked of a problem; { 0 } and the weights ask for all. */
struct km_solve_ask {
	int64_t points_weight, money_weight;	/* >= 0 */
	int64_t budget;			/* most money, or KM_SOLVE_FREE */
	int64_t limit;			/* most points, or KM_SOLVE_FREE */
	const uint8_t *barred;		/* of an option: nonzero, may not be
					 * chosen; NULL: none */
	uint64_t nodes;			/* of the search; 0: the default */
};

#endif
