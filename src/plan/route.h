/* SPDX-License-Identifier: MIT */
/*
 * route - the processes, in working order, that take a tool from the state it
 * is in to the one its slot asks for.
 *
 * A search over the process table: labels in order of likely cost, kept per
 * state where none beats another in cost and in what the mark loses; exact on
 * the table.  Steps keep the order of the bench: look, wash, handle off,
 * straighten and dress, stress bake, strip, derust, polish, plate or black,
 * relief bake, paint, handle on, oil.
 *
 * Owner    the arena given; processes are rows of the table
 * Units    costs in the currency of the costs given, minutes, hours
 */
#ifndef KM_PLAN_ROUTE_H
#define KM_PLAN_ROUTE_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/rules.h"
#include "plan/charge.h"
#include "plan/state.h"

/*
 * All routes of which none is beaten in likely cost, in what it leaves and in
 * risk to the mark, each priced alone.
 *
 * scratch   an arena that holds nothing else; reset before the answer
 * m         a comparison with a tool or an offer; none of those that fail by
 *           what no work cures has a route
 * choices   NULL: the defaults
 * routes    first those that reach the standard at the least risk, the
 *           cheapest (mildest) first, flagged `reaches`; then the others,
 *           among them all of as-found, for which no work is recommended
 * errors    KM_ENOMEM, KM_ERANGE; KM_ELIMIT: more labels than any table of
 *           this kind should need
 */
enum km_status km_route_find(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_match *m,
			     const struct km_rules *rules,
			     const struct km_costs *costs,
			     const struct km_work_choices *choices,
			     const struct km_route **routes, uint32_t *n);

/* The bake that a route's acid, electrolysis or plating asks for on this tool:
 * its hours, or that they must be asked for because the hardness is not known
 * or lies over the table; not needed by a route without them. */
struct km_bake km_route_bake(const struct km_match *m,
			     const struct km_route *r);

/* The cautions of a route's steps, finish and condition, as one set. */
uint64_t km_route_cautions(const struct km_match *m, const struct km_route *r);

#endif
