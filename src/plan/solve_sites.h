/* SPDX-License-Identifier: MIT */
/*
 * solve_sites - plans in which nothing is shared but flat charges, and an
 * option uses at most one: sites to open and clients to serve.
 *
 * Dual ascent, dual adjustment, branch and bound.  A client j pays v_j, a site
 * i has slack f_i - sum_j max(0, v_j - c_ij) >= 0; the sum of v is a bound.
 * Sites without slack make a plan, and the plan is best if no client pays for
 * two of its sites.  [erlenkotter-1978]
 *
 * Owner    everything comes from the arena given; what is kept serves the next
 *          ask of the same problem
 * Errors   KM_ENOMEM
 */
#ifndef KM_PLAN_SOLVE_SITES_H
#define KM_PLAN_SOLVE_SITES_H

#include "plan/solve_core.h"

struct km_sites_answer {
	bool found;		/* a plan worth less than the cutoff */
	bool stopped;		/* the node limit was reached */
	int64_t value, bound;
	uint64_t nodes;
	uint32_t *choice;	/* core option of a client; nplaces entries */
};

struct km_sites;

/*
 * kept: NULL at first.  core->sites holds, ask has no budget and no limit, and no plan is worth more
 * than 2^56.
 */
enum km_status km_sites_solve(struct km_arena *mem, const struct km_core *core,
			      const struct km_solve_ask *ask,
			      struct km_sites **kept,
			      struct km_sites_answer *out);

#endif
