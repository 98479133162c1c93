/* SPDX-License-Identifier: MIT */
/*
 * solve_core - what the files of the solver share.
 *
 * problem.c compiles a problem, links.c and rank.c with it; relax.c bounds what
 * is left of it, relax_alike.c keeps alike places in order, branch.c searches;
 * solve.c, solve_order.c and frontier.c ask.
 */
#ifndef KM_PLAN_SOLVE_CORE_H
#define KM_PLAN_SOLVE_CORE_H

#include "plan/lap.h"
#include "plan/solve.h"

#define KM_CORE_MANY UINT32_MAX		/* no ceiling */

struct km_core_use {
	uint32_t link, charge;
	uint32_t tie;			/* link of its column, or core.nlinks */
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
	uint32_t tie, nties;		/* and those of columns */
};

/* A compiled problem: options by place, in the caller's order there. */
struct km_core {
	const struct km_solve *p;
	uint32_t nplaces, noptions, ncols, ncharges, nlinks, ngroups;
	uint32_t nplace_links;		/* these come first */
	uint32_t nunits;		/* pieces that all links may be for */
	uint32_t max_uses;
	uint32_t *start;		/* of a place; nplaces + 1 entries */
	uint32_t *orig;			/* the caller's number of an option */
	uint32_t *place_of, *col_of;	/* of an option */
	int64_t *money, *points;
	uint32_t *use_at;		/* of an option; noptions + 1 entries */
	struct km_core_use *use;
	uint32_t *by_worth;		/* NULL: not ranked; options of a place by what they are */
	uint32_t *behind;		/* of an option: one of its place that
					 * is as good in every plan; or itself */
	uint64_t *hash;			/* of what an option is */
	uint8_t *never;			/* uses a resource that has no capacity */
	uint32_t *room;			/* of a column */
	uint32_t *link_place;		/* of a place's link */
	uint32_t *link_room;		/* of any: pieces that it may be for */
	struct km_core_charge *charge;
	uint32_t *member_at;		/* of a group; ngroups + 1 entries */
	uint32_t *member;		/* charges, highest minimum first */
	uint32_t *paid;			/* of a group */
	int64_t money_most, points_most;	/* of any plan */
	int64_t goods_most;		/* of an option; thresholds too */
	bool sites;			/* one flat charge an option, nothing
					 * shared: see solve_sites.c */
};

/* What n pieces cost by table and minimum of a charge outside a group. */
int64_t km_core_cost(const struct km_core_charge *c, uint32_t n);
/* The exact figures of a choice (core options by place); false: it breaks a
 * capacity or a minimum order.  count: ncharges, goods: ncharges of scratch */
bool km_core_figures(const struct km_core *c, const uint32_t *choice,
		     uint32_t *count, int64_t *goods, int64_t *money,
		     int64_t *points);
/* Order the options of each place, and find those that no plan needs, before
 * the first search; false: no memory. */
bool km_core_rank(struct km_arena *mem, struct km_core *c);
/* Two options, of any places, by what they are: 0 if they are the same but for
 * the place. */
int km_core_compare(const struct km_core *c, uint32_t a, uint32_t b);
/* May the option be chosen, and is there no better one? */
bool km_core_may(const struct km_core *c, uint32_t o, const uint8_t *barred);
/* Number the links of a problem whose uses are copied; false: no memory. */
bool km_core_link(struct km_arena *mem, struct km_core *c);
enum km_status km_core_compile(struct km_arena *mem, const struct km_solve *p,
			       struct km_core *out);

#endif
