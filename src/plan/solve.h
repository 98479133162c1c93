/* SPDX-License-Identifier: MIT */
/*
 * solve - the cheapest whole plan, exactly and with a proof.
 *
 * It knows places, options and charges, and nothing of tools: integers in,
 * integers out.  Every place gets exactly one of its options (leaving it open
 * is an option like any other).  A plan's points are those of its options; its
 * money is that of its options and of the charges they use.  The answer has
 * the least
 *
 *	points_weight * points + money_weight * money
 *
 * of all plans that keep the capacities, the minimum orders, the budget and
 * the limit of points.
 *
 * Owner    a solver lives in the arena given to km_solver_new() and points
 *          into the problem, which must outlive it
 * Failure  KM_ENOMEM; KM_ERANGE: a number out of bounds, an index too large,
 *          or sums that could leave 64 bits.  Outputs are untouched then.
 * Same in  the same numbers in the same order give the same plan in each run,
 *          on every machine: no floating point, no clock.  Equal options are
 *          told apart by order: of plans of equal value the search keeps the
 *          first it finds; km_solver_first() finds the one that is
 *          lexicographically least.
 * Method   src/plan/solve_core.h
 */
#ifndef KM_PLAN_SOLVE_H
#define KM_PLAN_SOLVE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "kitmuster/problem.h"
#include "kitmuster/status.h"

#define KM_SOLVE_NODES ((uint64_t)1000000)

/*
 * feasible  a plan was found; without it the figures of the plan are 0
 * proved    nothing better exists (not feasible: no plan exists)
 * bound     no plan has a smaller value; equals value when proved
 */
struct km_solve_plan {
	bool feasible, proved;
	int64_t points, money, value, bound;
	uint64_t nodes;			/* searched */
	uint32_t *option_of;		/* of a place, index in p->option; the
					 * caller's, nplaces entries, or NULL */
};

struct km_solver;

enum km_status km_solver_new(struct km_arena *mem, const struct km_solve *p,
			     struct km_solver **out);

/* The best plan.  A solver keeps its multipliers, so that asking it similar
 * things in turn is quicker than making a new one. */
enum km_status km_solver_ask(struct km_solver *s,
			     const struct km_solve_ask *ask,
			     struct km_solve_plan *out);

/* As above, and of all best plans the one that gives the first place the
 * smallest option it can have, then the second place, and so on. */
enum km_status km_solver_first(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       struct km_solve_plan *out);

/* The best plan with a place's choice forced to one of n options. */
enum km_status km_solver_forced(struct km_solver *s,
				const struct km_solve_ask *ask, uint32_t place,
				const uint32_t *option, uint32_t n,
				struct km_solve_plan *out);

/*
 * The highest money at which an option would still be in a best plan: the
 * value without it, less the value with it forced and free of its own money,
 * by money_weight, rounded down.  money_weight > 0 and no budget.
 *
 * most      -1: not worth having as a gift; KM_SOLVE_FREE: no plan without it
 * proved    false when the node limit was reached: most is then too small or
 *           right, never too large
 */
enum km_status km_solver_ceiling(struct km_solver *s,
				 const struct km_solve_ask *ask,
				 uint32_t option, int64_t *most, bool *proved);

/* One plan of the frontier; false ends the walk. */
typedef bool km_solve_seen(void *user, const struct km_solve_plan *plan);

/*
 * Every plan of (points, money) that no other beats in both, from the fewest
 * points to the least money; ask gives budget, limit, barred and the nodes of
 * each plan, its weights are not used.  KM_ELIMIT: the node limit was reached
 * and the frontier ends early.
 */
enum km_status km_solver_frontier(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  km_solve_seen *seen, void *user);

#endif
