/* SPDX-License-Identifier: MIT */
/*
 * relax - a bound of every plan that is left.
 *
 * The bound is Lagrangian.  A charge sees pieces through links, one for each
 * (place, charge) and one for each (column, charge) that ties several places;
 * what couples options and links is priced:
 *
 *	w[link]   >= 0	an option that uses the charge needs the link's piece,
 *			and a piece of the tie
 *	nu, kappa >= 0	goods of a free parcel, of a parcel at all
 *	lambda    >= 0	the budget
 *	mu        >= 0	the limit of points
 *
 * For any prices, the sum of one assignment (lap.c), of the best answer of
 * each charge by itself and of the constants is a bound of every plan.  It is
 * kept in integers, scaled by 2^shift, so that no tolerance enters the proof.
 * A subgradient method raises it.  What would lift the bound past the best
 * plan known is dropped: options by their reduced cost, charges by what
 * opening or closing them adds. 
 *
 * A count charge is bounded within floor..ceiling: pieces are no more than
 * ceiling, and at least floor are paid for.
 */
#ifndef KM_PLAN_RELAX_H
#define KM_PLAN_RELAX_H

#include "plan/lap.h"
#include "plan/solve_core.h"

#define KM_RELAX_TURNS 32

/* The state of the bound: what is asked, what is left, the prices, and the
 * answers of one evaluation. */
struct km_relax {
	const struct km_core *core;
	/* what is asked */
	int64_t points_weight, money_weight;
	int64_t budget, limit;		/* KM_SOLVE_FREE: none */
	uint32_t shift;
	int64_t step, base;		/* values are base + n * step */
	int64_t worth_most;		/* no plan is worth more */
	uint32_t *alike;		/* of a place: the next one that has the
					 * same options, or KM_SOLVE_NONE */
	uint8_t *leads;			/* of a place: the first of such places */
	uint32_t *rank;			/* of an option of such a place */
	uint32_t *scratch;		/* places */
	uint64_t *print;		/* of a place: a hash of what is left */
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
	uint32_t *users;		/* of a charge: live links */
	int64_t money_price;		/* of one unit of money */
	uint8_t *state;			/* KM_RELAX_ below */
	uint32_t *order;		/* links of a charge by falling price */
	int64_t *sums;			/* scratch: of a link */
	uint8_t *picked;		/* group members, scratch */
	uint32_t *used;			/* of a charge: pieces of the choice */
	int64_t *goods;			/* scratch */
	/* how the last 32 evaluations went */
	uint32_t *open_bits, *free_bits, *clash_bits;	/* of a charge */
	uint32_t *mean;			/* pieces of a charge, times 256 */
	uint32_t *recent;		/* of a place: 32 options */
	uint32_t turn;
};

/* States of a charge. */
enum {
	KM_RELAX_CLOSED,	/* no piece */
	KM_RELAX_OPEN,		/* decided: links cost nothing more */
	KM_RELAX_FLAT,		/* open or not */
	KM_RELAX_STEPS,		/* by the number of pieces */
	KM_RELAX_PARCEL		/* open or not */
};

/* How many pieces are counted, and of which column the next is. */
struct km_ladder {
	uint32_t n, tie, used;
};
/* What one more piece is worth to a charge: the links are in order. */
int64_t km_relax_rung(const struct km_relax *r,
		      const struct km_core_charge *q, struct km_ladder *up);

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
/* Drop what counting alone rules out; false: nothing is left. */
bool km_relax_prune(struct km_relax *r);
/* Find the places that have the same options: of plans that differ by which of
 * them has which, only the one in order is looked for. */
void km_relax_find_alike(struct km_relax *r);
/* Drop what would not be in order; false: nothing is left. */
bool km_relax_in_order(struct km_relax *r);
/* Take the i-th live option of a place away. */
void km_relax_drop(struct km_relax *r, uint32_t place, uint32_t i);
void km_relax_keep(struct km_relax *r, uint32_t place, uint32_t option);
bool km_relax_close(struct km_relax *r, uint32_t charge);
/* Bring back what was dropped since the place had len options. */
void km_relax_restore(struct km_relax *r, uint32_t place, uint32_t len);
/* Whether a decision about the charge could still raise the bound. */
bool km_relax_undecided(const struct km_relax *r, uint32_t charge);

/* Choose the members of a group to open: sets value and pieces of each, adds
 * the money, gives back the minimums paid, at the money's price. */
int64_t km_relax_group(struct km_relax *r, uint32_t group, int64_t price,
		       int64_t *money);

#endif
