/* SPDX-License-Identifier: MIT */
/*
 * solve_core - what the files of the solver share.
 *
 * problem.c compiles a problem, relax.c bounds what is left of it, branch.c
 * searches; solve.c and frontier.c ask.
 *
 * The bound is Lagrangian.  A charge sees pieces through links, one for each
 * (place, charge); what couples options and links is priced:
 *
 *	w[link]   >= 0	an option that uses the charge needs the link's piece
 *	nu, kappa >= 0	goods of a free parcel, of a parcel at all
 *	lambda    >= 0	the budget
 *	mu        >= 0	the limit of points
 *
 * For any prices, the sum of one assignment (lap.c), of the best answer of
 * each charge by itself and of the constants is a bound of every plan.  It is
 * kept in integers, scaled by 2^shift, so that no tolerance enters the proof.
 * A subgradient method raises it.  What would lift the bound past the best
 * plan known is dropped: options by their reduced cost, charges by what
 * opening or closing them adds.  [fisher-1981] [erlenkotter-1978]
 *
 * A count charge is bounded within floor..ceiling: pieces are no more than
 * ceiling, and at least floor are paid for.
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
	int64_t goods_most;		/* of any parcel, thresholds too */
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

/* Where the multipliers of a kind stand in one array. */
struct km_relax {
	const struct km_core *core;
	/* what is asked */
	int64_t points_weight, money_weight;
	int64_t budget, limit;		/* KM_SOLVE_FREE: none */
	uint32_t shift;
	int64_t step, base;		/* values are base + n * step */
	/* what is left */
	uint32_t *list, *len;		/* live options of a place come first */
	uint32_t *live;			/* live options of a link */
	uint32_t *floor, *ceiling;	/* of a charge */
	uint8_t *mode;			/* PARCEL: 0 any, 1 paying, 2 free */
	/* prices: w by link, nu, kappa by charge, lambda, mu */
	uint32_t nmult, nu, kappa, lambda, mu;
	int64_t *mult, *most, *grad, *dir;
	uint8_t *fine;			/* log2 of the size of a gradient */
	/* answers of one evaluation */
	struct km_lap lap;
	int64_t *cost;			/* of an option */
	int64_t bound;			/* scaled */
	int64_t *open_value;		/* of a charge, used */
	int64_t *value;			/* of a charge, as chosen */
	uint32_t *pieces;		/* of a charge, as chosen */
	uint8_t *state;			/* RELAX_ below */
	uint32_t *order;		/* links of a charge by falling price */
	int64_t *sums;			/* of the highest prices */
	uint8_t *picked;		/* group members, scratch */
	uint32_t *used;			/* of a charge: pieces of the choice */
	int64_t *goods;			/* scratch */
	/* how the last 32 evaluations went */
	uint32_t *open_bits, *free_bits, *clash_bits;	/* of a charge */
	uint32_t *mean;			/* pieces of a charge, times 256 */
	uint32_t *recent;		/* of a place: 32 options */
	uint32_t turn;
};

enum {
	KM_RELAX_CLOSED,	/* no piece */
	KM_RELAX_OPEN,		/* decided: links cost nothing more */
	KM_RELAX_FLAT,		/* open or not */
	KM_RELAX_STEPS,		/* by the number of pieces */
	KM_RELAX_PARCEL		/* open or not */
};

bool km_relax_init(struct km_relax *r, struct km_arena *mem,
		   const struct km_core *core);
/* All options but the barred ones, nothing decided, prices kept.  KM_ERANGE:
 * the weights are too large. */
enum km_status km_relax_ask(struct km_relax *r, const struct km_solve_ask *ask);
/* One bound at the present prices, and what the prices should do; false:
 * some place has nothing to choose. */
bool km_relax_eval(struct km_relax *r);
/* Move the prices: theta / 256 of the way towards a bound of target. */
void km_relax_step(struct km_relax *r, int64_t target, uint32_t theta);
void km_relax_forget(struct km_relax *r);	/* the direction */
/* Drop what cannot stay within cutoff (scaled); false: nothing is left. */
bool km_relax_fix(struct km_relax *r, int64_t cutoff);
/* Take the i-th live option of a place away. */
void km_relax_drop(struct km_relax *r, uint32_t place, uint32_t i);
void km_relax_keep(struct km_relax *r, uint32_t place, uint32_t option);
bool km_relax_close(struct km_relax *r, uint32_t charge);
/* Bring back what was dropped since the place had len options. */
void km_relax_restore(struct km_relax *r, uint32_t place, uint32_t len);
/* Whether a decision about the charge could still raise the bound. */
bool km_relax_undecided(const struct km_relax *r, uint32_t charge);

/* Multiplier updates share this: a * b / 2^k without leaving 64 bits. */
int64_t km_relax_scaled(int64_t a, int64_t b, uint32_t k);

struct km_tree;
struct km_solver {
	struct km_core core;
	struct km_relax relax;
	struct km_tree *tree;
	struct km_arena *mem;
	bool warm;		/* the prices fit the weights below */
	int64_t points_weight, money_weight;
	int64_t least;		/* a value no plan is below, INT64_MIN */
	const uint32_t *hint;	/* core options of a plan, or NULL */
};

struct km_tree *km_tree_new(struct km_arena *mem, const struct km_core *core);
/* Search; the best plan in core options in *choice. */
enum km_status km_tree_search(struct km_solver *s,
			      const struct km_solve_ask *ask,
			      struct km_solve_plan *out,
			      const uint32_t **choice);

/* Sites and clients: dual ascent and branch and bound. */
enum km_status km_sites_search(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       struct km_solve_plan *out,
			       const uint32_t **choice);

#endif
