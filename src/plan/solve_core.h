/* SPDX-License-Identifier: MIT */
/*
 * solve_core - what the files of the solver share.
 *
 * problem.c compiles a problem, relax.c bounds what is left of it, branch.c
 * searches; solve.c and frontier.c ask.
 *
 */
#ifndef KM_PLAN_SOLVE_CORE_H
#define KM_PLAN_SOLVE_CORE_H

#include "plan/lap.h"
#include "plan/solve.h"

#define KM_CORE_MANY UINT32_MAX		/* no ceiling */

struct km_core_use {
	uint32_t link, charge;
	int64_t goods;
};

struct km_core_charge {
	enum km_solve_kind kind;
	const int64_t *table;
	uint32_t ntable;
	uint32_t most;			/* KM_CORE_MANY: any number */
	int64_t minimum;
	uint32_t group;
	int64_t postage, free_over, minimum_order;
	bool top_up;
	uint32_t first, nlinks;		/* its links stand together */
};

/* A compiled problem: options by place, in the caller's order there. */
struct km_core {
	const struct km_solve *p;
	uint32_t nplaces, noptions, ncols, ncharges, nlinks, ngroups;
	uint32_t max_uses;
	uint32_t *start;		/* of a place; nplaces + 1 entries */
	uint32_t *orig;			/* the caller's number of an option */
	uint32_t *place_of, *col_of;	/* of an option */
	int64_t *money, *points;
	uint32_t *use_at;		/* of an option; noptions + 1 entries */
	struct km_core_use *use;
	uint8_t *never;			/* uses a resource that has no capacity */
	uint32_t *room;			/* of a column */
	uint32_t *link_place;
	struct km_core_charge *charge;
	uint32_t *member_at;		/* of a group; ngroups + 1 entries */
	uint32_t *member;		/* charges, highest minimum first */
	uint32_t *paid;			/* of a group */
	int64_t money_most, points_most;	/* of any plan */
	int64_t goods_most;		/* of an option; thresholds too */
	bool sites;			/* one flat charge an option, nothing
					 * shared: see solve_ufl.c */
};

/* What n pieces cost by table and minimum of a charge outside a group. */
int64_t km_core_cost(const struct km_core_charge *c, uint32_t n);
/* The exact figures of a choice (core options by place); false: it breaks a
 * capacity or a minimum order.  count: ncharges, goods: ncharges of scratch */
bool km_core_figures(const struct km_core *c, const uint32_t *choice,
		     uint32_t *count, int64_t *goods, int64_t *money,
		     int64_t *points);
enum km_status km_core_compile(struct km_arena *mem, const struct km_solve *p,
			       struct km_core *out);

#endif
