/* SPDX-License-Identifier: MIT */
/*
 * branch - the search: charges first, then options, depth first.
 *
 * Owner    everything lives in the solver's arena
 */
#ifndef KM_PLAN_BRANCH_H
#define KM_PLAN_BRANCH_H

#include "plan/relax.h"
#include "plan/solve.h"

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
