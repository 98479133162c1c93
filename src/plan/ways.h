/* SPDX-License-Identifier: MIT */
/*
 * ways - every means to fill one place of a slot, what each costs by itself,
 * and whether to restore or to buy when the place is looked at alone.
 *
 * A way lists the charges that it needs (of struct km_costs), so that a plan
 * of the whole kit can pay each of them once.
 *
 * Owner    the arena given; ways point to the matches and offers they are of
 * Units    minor units of the run's currency
 */
#ifndef KM_PLAN_WAYS_H
#define KM_PLAN_WAYS_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/compare.h"
#include "plan/charge.h"
#include "plan/state.h"

struct km_ways_ask {
	const struct km_slot *slot;
	const struct km_rules *rules;
	const struct km_costs *costs;
	const struct km_work_choices *choices;	/* NULL: the defaults */
	/* tools that may be used for the place, the one given to it first */
	const struct km_match *const *owned;
	uint32_t n_owned;
	bool in_doubt;	/* the slot may not be there as it stands: another
			 * reading of the machine has none like it */
	/* Does a thing go into its place of the pouch?  NULL: it need not.  What
	 * is too large is not acceptable; what is not measured is not barred. */
	void (*fit)(const struct km_slot *slot, const struct km_match *m,
		    struct km_way_fit *out);
	bool wait;	/* what was given is on order, lent or at the plater */
	const struct km_match *comes;	/* on order for the place: whatever is
					 * chosen, it will sit there; NULL */
	bool no_points;	/* the place loses none: in doubt, or a consumable */
};

struct km_ways {
	const struct km_way *v;		/* owned, offers, job lots, open */
	uint32_t n;
	const struct km_way *restore, *buy;	/* cheapest acceptable; NULL */
	const struct km_way *rejected_buy;	/* cheaper, not acceptable */
	enum km_decide decide;
	int64_t margin;			/* to the other; -1: no other way */
	bool close_call;		/* low or high would turn it */
};

/*
 * Find the ways and decide.
 *
 * Restore and buy are compared by `alone` and `own` together; the same, the
 * tool in hand is restored.
 *
 * scratch   an arena that holds nothing else; it is reset
 * errors    KM_ENOMEM, KM_ERANGE
 */
enum km_status km_ways_find(struct km_arena *mem, struct km_arena *scratch,
			    const struct km_ways_ask *ask,
			    struct km_ways *out);

/*
 * An offer against a slot, compared exactly as a tool is.  One that names no
 * kind but a part that the slot wants, or one that superseded it, or that is
 * said to fit the slot, has what the slot wants except what it states and what
 * the supersession changes.
 *
 * returns   KM_OK with *out NULL: it does not belong to the slot
 */
enum km_status km_offer_match(struct km_arena *mem,
			      const struct km_rules *rules,
			      const struct km_slot *slot,
			      const struct km_offer *offer,
			      struct km_match **out);

/* Would work on the match's finish, handle, surface or damage alone make it
 * right? */
bool km_match_is_workable(const struct km_match *m);

/* What a judge would find: a wrong thing, and one below its condition; worked:
 * after a route that reaches the standard. */
void km_match_faults(const struct km_match *m, bool worked, bool *wrong,
		     bool *worn);
/* What an open piece of a slot loses, hundredths; r NULL: no rubric. */
int32_t km_points_missing(const struct km_rubric *r, const struct km_slot *s);

/* The minutes of a route as money; nothing where an hour has no price, or r is
 * NULL.  errors: KM_EINPUT: no rate; KM_ERANGE */
enum km_status km_own_time(const struct km_costs *c, const struct km_route *r,
			   struct km_money3 *out);

/* Alone and own time together, one column: 0 low, 1 likely, 2 high. */
int64_t km_way_cost(const struct km_way *w, int column);

#endif
