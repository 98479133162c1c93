/* SPDX-License-Identifier: MIT */
/*
 * charge - money paid once for several ways: the postage of a parcel, a
 * plating lot, a load of a tank or tumbler, a job lot; and what each process
 * costs in this workshop.
 *
 * Units    minor units of the run's currency, as low, likely, high; the three
 *          columns are added up apart and are no statistical interval
 * Owner    the arena given to km_costs_init()
 * Errors   KM_ERANGE: a sum does not fit
 */
#ifndef KM_PLAN_CHARGE_H
#define KM_PLAN_CHARGE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "kitmuster/model.h"
#include "trade/process.h"

enum km_charge_kind {
	KM_CHARGE_PARCEL,	/* postage and minimum order of one seller */
	KM_CHARGE_LOT,		/* max(minimum, pieces): one delivery */
	KM_CHARGE_LOAD,		/* so much a load, and so much a piece */
	KM_CHARGE_JOB_LOT	/* one price for all that it holds */
};

struct km_charge {
	enum km_charge_kind kind;
	const struct km_seller *seller;		/* PARCEL; a JOB_LOT's or NULL */
	const struct km_process *process;	/* LOT, LOAD */
	const struct km_job_lot *job_lot;
	struct km_money3 fixed;		/* postage, minimum, load, price */
	struct km_money3 piece;		/* LOT, LOAD: of each piece */
	int64_t free_over;		/* PARCEL: goods from which postage is
					 * free; -1: never */
	int64_t minimum_order;		/* PARCEL; 0: none */
	int32_t load_pieces;		/* LOAD: in a load; 0: any number */
	int32_t committed;		/* LOT: pieces in an open lot already */
	bool priced;			/* false: no rate to our currency */
};

bool km_money3_add(struct km_money3 a, struct km_money3 b,
		   struct km_money3 *sum);

/*
 * What n more pieces cost by themselves: LOT max(minimum, all pieces) less
 * what the committed ones cost already; LOAD loads in steps and pieces.
 */
enum km_status km_charge_pieces(const struct km_charge *c, int64_t n,
				struct km_money3 *out);
/* How many more pieces cost nothing once n are in, by the likely column; -1:
 * any number. */
int64_t km_charge_ride_free(const struct km_charge *c, int64_t n);
/*
 * A parcel with goods of a likely sum: postage, unless goods reach free_over;
 * what is short of the minimum order is bought besides and counts.
 */
enum km_status km_charge_parcel(const struct km_charge *c,
				struct km_money3 goods, struct km_money3 *out);
/* The shop rule: of the lot minimums of one delivery only the three highest
 * are paid. [price-list-2014] */
/* Is a charge a minimum that the rule speaks of?  Bakes are priced apart, by
 * their hours, and are paid besides. [price-list-2014] */
bool km_charge_is_minimum(const struct km_charge *c);
enum km_status km_charge_three_highest(const int64_t *minimums, size_t n,
				       int64_t *out);

/* One process as this workshop does it. */
struct km_step {
	struct km_effect effect;
	bool available;
	uint32_t charge;		/* of km_costs.charges */
	bool shared;			/* the charge has a part paid once */
	bool named;			/* the workshop speaks of it */
	struct km_money3 one;		/* a single piece, alone */
	int32_t hands_min[3];
	int32_t elapsed[3];		/* hundredths of an hour */
};

struct km_costs {
	const char *currency;		/* NULL: none; two decimals */
	int decimals;
	const struct km_prices *prices;		/* NULL: none */
	const struct km_workshop *workshop;	/* NULL: the table as it is */
	const struct km_rubric *rubric;		/* NULL: none */
	const struct km_charge *charges;	/* sellers, processes, job lots */
	uint32_t n_charges, first_process, first_job_lot;
	struct km_step step[KM_PROCESSES];
};

/*
 * The built-in table with the workshop's own terms laid over it, in the run's
 * currency; a cost unit is workshop->unit, or 1.00.
 *
 * today     closes open lots; year 0: none is closed
 * out       filled only on KM_OK
 * errors    KM_ENOMEM; KM_ERANGE: a unit or a sum that does not fit; KM_EINPUT:
 *           no rate leads from the workshop's currency to the run's
 */
enum km_status km_costs_init(struct km_arena *mem, const char *currency,
			     const struct km_prices *prices,
			     const struct km_workshop *workshop,
			     const struct km_rubric *rubric,
			     struct km_date today, struct km_costs *out);

/*
 * Money of another currency in the run's, rounded half up, once.
 *
 * from     NULL: that of the prices
 * errors   KM_EINPUT: no rate; KM_ERANGE
 */
enum km_status km_costs_convert(const struct km_costs *c, const char *from,
				int64_t minor, int64_t *out);
enum km_status km_costs_convert3(const struct km_costs *c, const char *from,
				 struct km_money3 money,
				 struct km_money3 *out);

/* The charge of a seller, or of a job lot. */
uint32_t km_costs_seller(const struct km_costs *c, const struct km_seller *s);
uint32_t km_costs_job_lot(const struct km_costs *c,
			  const struct km_job_lot *j);

/* The most to pay for a thing that still needs `work` when the same is to be
 * had ready for `ready`; false: not worth it at any price. */
bool km_ceiling(int64_t ready, int64_t work, int64_t *most);

#endif
