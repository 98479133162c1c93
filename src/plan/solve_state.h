/* SPDX-License-Identifier: MIT */
/* solve_state - what a solver remembers from one ask to the next. */
#ifndef KM_PLAN_SOLVE_STATE_H
#define KM_PLAN_SOLVE_STATE_H

#include "plan/branch.h"

struct km_solver {
	struct km_arena *mem;
	struct km_core core;
	struct km_relax relax;
	struct km_tree tree;
	int64_t points_weight, money_weight;	/* the prices fit these */
	bool warm;
	uint8_t *barred;	/* scratch: of an option */
	uint32_t *hint;		/* scratch: of a place */
};

/*
 * As km_solver_ask(), knowing more.
 *
 * hint   core options of a plan to begin with, or NULL
 * least  no plan is worth less; the search ends when it finds that much
 */
enum km_status km_solver_search(struct km_solver *s,
				const struct km_solve_ask *ask,
				const uint32_t *hint, int64_t least,
				struct km_solve_plan *out);

#endif
