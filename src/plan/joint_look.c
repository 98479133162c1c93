/* SPDX-License-Identifier: MIT */
#include "plan/joint_look.h"

#include <string.h>

#include "plan/lot_fills.h"

/* Ask within what is left of the nodes; an answer without a proof is none. */
static enum km_status ask(struct km_planner *p, struct km_solver *s,
			  const struct km_solve_ask *how,
			  struct km_solve_plan *out, bool *known)
{
	struct km_solve_ask a = *how;
	enum km_status st;

	*known = false;
	p->out->looked_closer &= p->nodes_left > 0;
	p->unknown |= !p->nodes_left;
	if (!p->nodes_left)
		return KM_OK;
	if (!a.nodes || a.nodes > p->nodes_left)
		a.nodes = p->nodes_left;
	st = km_solver_ask(s, &a, out);
	if (st != KM_OK)
		return st;
	p->nodes_left -= out->nodes < p->nodes_left ? out->nodes
						    : p->nodes_left;
	*known = out->proved;
	p->out->looked_closer &= out->proved;
	p->unknown |= !out->proved;
	return KM_OK;
}

/* Bar all ways of a place; those of the others stay as they are. */
static void bar_place(struct km_planner *p, uint32_t place, uint8_t *barred)
{
	memcpy(barred, p->j.barred, p->j.p.noptions);
	memset(barred + p->j.first[place], 1, p->j.count[place]);
}

/* ------------------------------------------------------------------ */
/* What a thing is worth                                               */

/* Do fewer points come before less money? */
static bool points_lead(const struct km_planner *p)
{
	return p->out->aim == KM_AIM_COMPLETE ||
	       (p->out->aim == KM_AIM_POINTS && !p->out->feasible);
}

/* Within a budget: what is left of it with the thing and fewer points, or
 * what is saved at the same points. */
static enum km_status worth_in_budget(struct km_planner *p,
				      struct km_solver *s,
				      const uint8_t *barred,
				      const struct km_solve_plan *without,
				      int64_t *most)
{
	const int64_t purse[2] = { without->money, p->out->budget };
	struct km_solve_ask how = {
		.points_weight = 1, .money_weight = p->j.most_points + 1,
		.limit = without->points, .barred = barred,
		.nodes = p->how.nodes,
	};

	for (int i = 0; i < 2 && how.limit >= 0; i++, how.limit--) {
		struct km_solve_plan with = { 0 };
		int64_t left;
		bool known;
		enum km_status st;

		how.budget = purse[i];
		st = ask(p, s, &how, &with, &known);
		if (st != KM_OK)
			return st;
		left = purse[i] - with.money;
		if (known && with.feasible && left > (i ? *most : 0))
			*most = left;
	}
	return KM_OK;
}

/*
 * The most to pay for a thing that solver s has for nothing when `barred` is,
 * so that its plan is no worse than the one without it.
 */
static enum km_status worth(struct km_planner *p, struct km_solver *s,
			    const uint8_t *barred,
			    const struct km_solve_plan *without, int64_t *most)
{
	struct km_solve_ask how = p->how;
	struct km_solve_plan with = { 0 };
	enum km_status st;
	bool known;

	*most = -1;
	if (p->out->aim == KM_AIM_BUDGET && p->out->feasible &&
	    without->feasible)
		return worth_in_budget(p, s, barred, without, most);
	how.barred = barred;
	st = ask(p, s, &how, &with, &known);
	if (st != KM_OK || !known || !with.feasible)
		return st;
	if (!without->feasible ||
	    (points_lead(p) && with.points < without->points))
		*most = KM_NO_CEILING;
	else if ((!points_lead(p) || with.points == without->points) &&
		 without->money > with.money)
		*most = without->money - with.money;
	return KM_OK;
}

static enum km_status ceiling(struct km_planner *p, uint32_t place,
			      uint32_t option, uint8_t *barred, int64_t *most)
{
	if (option == KM_SOLVE_NONE)
		return KM_OK;
	bar_place(p, place, barred);
	barred[option] = 0;
	return worth(p, p->solver, barred, &p->best, most);
}

/* Is there something to look for? */
static bool asks_ceiling(const struct km_planner *p, uint32_t i)
{
	const struct km_way *w = p->places[i].chosen;

	return p->ask->ceilings && p->more[i].spend &&
	       !(w->kind == KM_WAY_OWNED && w->acceptable);
}

static enum km_status ceilings(struct km_planner *p, uint32_t i,
			       uint8_t *barred)
{
	struct km_plan_place *place = &p->places[i];
	enum km_status st;

	if (!asks_ceiling(p, i))
		return KM_OK;
	p->unknown = false;
	st = ceiling(p, i, p->j.ready[i], barred, &place->ceiling_ready);
	if (st == KM_OK)
		st = ceiling(p, i, p->j.worn[i], barred, &place->ceiling_work);
	place->ceiling_unknown = p->unknown;
	place->ceiling_wanted = place->chosen->kind != KM_WAY_WORK &&
				!p->unknown;
	return st;
}

/* ------------------------------------------------------------------ */
/* Margins                                                             */

static enum km_status margin(struct km_planner *p, uint32_t i, uint8_t *barred,
			     uint32_t *option_of)
{
	struct km_plan_place *place = &p->places[i];
	struct km_solve_plan q = { .option_of = option_of };
	struct km_solve_ask how = p->how;
	bool any = false, known;
	enum km_status st;

	bar_place(p, i, barred);
	for (uint32_t o = p->j.first[i]; o < p->j.first[i] + p->j.count[i]; o++)
		if (p->j.way[o] != place->chosen && !p->j.barred[o]) {
			barred[o] = 0;
			any = true;
		}
	if (!any)
		return KM_OK;
	how.barred = barred;
	st = ask(p, p->solver, &how, &q, &known);
	if (st != KM_OK || !known || !q.feasible)
		return st;
	place->other = p->j.way[option_of[i]];
	if (p->out->aim == KM_AIM_POINTS || q.points == p->best.points)
		place->margin = q.money - p->best.money;
	return KM_OK;
}

/* What a decision by hand costs: the plan without it, alone of all. */
static enum km_status by_hand(struct km_planner *p, uint32_t i, uint8_t *barred)
{
	struct km_plan_place *place = &p->places[i];
	struct km_solve_plan q = { 0 };
	struct km_solve_ask how = p->how;
	enum km_status st;
	bool known;

	memcpy(barred, p->j.barred, p->j.p.noptions);
	memset(barred + p->j.first[i], 0, p->j.count[i]);
	how.barred = barred;
	st = ask(p, p->solver, &how, &q, &known);
	place->by_hand_costs = -1;
	if (st == KM_OK && known && q.feasible &&
	    (p->out->aim == KM_AIM_POINTS || q.points == p->best.points))
		place->by_hand_costs = p->best.money - q.money;
	return st;
}

static enum km_status one_place(struct km_planner *p, uint32_t i,
				uint8_t *barred, uint32_t *option_of)
{
	enum km_status st = KM_OK;

	if (p->ask->margins && p->more[i].by_hand)
		st = by_hand(p, i, barred);
	else if (p->ask->margins && p->more[i].spend)
		st = margin(p, i, barred, option_of);
	return st == KM_OK ? ceilings(p, i, barred) : st;
}

/* ------------------------------------------------------------------ */
/* Close calls                                                         */

static bool same_sort(const struct km_way *a, const struct km_way *b)
{
	return a->kind == b->kind &&
	       (a->match == b->match ||
		(a->match && b->match && a->match->tool == b->match->tool &&
		 a->match->offer == b->match->offer));
}

/* Is the plan of the likely column as good as the best of this one?  The
 * options of all columns are the same. */
static enum km_status holds(struct km_planner *p, const struct km_joint *j,
			    struct km_solver *solver,
			    const struct km_solve_ask *how,
			    const struct km_solve_plan *best, bool *out)
{
	struct km_solve_ask a = *how;
	struct km_solve_plan q = { 0 };
	uint8_t *barred = km_arena_alloc(p->scratch, j->p.noptions, 1);
	enum km_status st;
	bool known;

	if (!barred)
		return KM_ENOMEM;
	memset(barred, 1, j->p.noptions);
	for (uint32_t i = 0; i < p->n; i++)
		barred[p->best.option_of[i]] = 0;
	a.barred = barred;
	st = ask(p, solver, &a, &q, &known);
	*out = known && q.feasible && q.value == best->value;
	return st;
}

static enum km_status close_calls(struct km_planner *p, enum km_column column)
{
	struct km_arena *mem = km_arena_new(p->ask->limits);
	struct km_joint j;
	struct km_solver *solver;
	struct km_solve_ask how;
	struct km_solve_plan plan = { 0 };
	bool same = false;
	enum km_status st = KM_ENOMEM;

	if (mem)
		st = km_joint_solve(p, mem, column, &j, &solver, &how, &plan);
	if (st == KM_OK && plan.feasible)
		st = holds(p, &j, solver, &how, &plan, &same);
	for (uint32_t i = 0; i < p->n && st == KM_OK && plan.feasible && !same;
	     i++)
		p->places[i].close_call = !same_sort(j.way[plan.option_of[i]],
						     p->places[i].chosen) ||
					  p->places[i].close_call;
	km_arena_free(mem);
	return st;
}

/* ------------------------------------------------------------------ */
/* Job lots                                                            */

static bool is_used(const struct km_solve_option *o, uint32_t charge)
{
	for (uint32_t k = 0; k < o->nuses; k++)
		if (o->use[k].charge == charge)
			return true;
	return false;
}

/* A job lot is worth what the plan saves by having it for nothing. */
static enum km_status one_lot(struct km_planner *p, uint32_t charge,
			      struct km_plan_job_lot *out)
{
	struct km_solve_charge *v = km_arena_copy(p->scratch, p->j.p.charge,
						  p->j.p.ncharges, sizeof *v);
	uint8_t *barred = km_arena_copy(p->scratch, p->j.barred,
					p->j.p.noptions, 1);
	static const int64_t nothing = 0;
	struct km_solve gift = p->j.p;
	struct km_solve_ask how = p->how;
	struct km_solve_plan without = { 0 };
	struct km_solver *solver;
	bool known;
	enum km_status st;

	if (!v || !barred)
		return KM_ENOMEM;
	v[charge].table = &nothing;
	v[charge].ntable = 1;
	gift.charge = v;
	for (uint32_t o = 0; o < gift.noptions; o++)
		barred[o] |= is_used(&gift.option[o], charge);
	how.barred = barred;
	out->most = -1;
	st = ask(p, p->solver, &how, &without, &known);
	if (st != KM_OK || !known)
		return st;
	st = km_solver_new(p->scratch, &gift, &solver);
	if (st != KM_OK)
		return st;
	return worth(p, solver, p->j.barred, &without, &out->most);
}

static enum km_status job_lots(struct km_planner *p)
{
	const struct km_costs *c = p->ask->costs;
	struct km_plan_job_lot *v;
	uint32_t n = 0;
	enum km_status st = KM_OK;

	v = km_arena_alloc(p->mem, p->j.p.ncharges, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < p->j.p.ncharges && st == KM_OK; i++) {
		const struct km_charge *one = &c->charges[p->j.charge_of[i]];

		if (one->kind != KM_CHARGE_JOB_LOT)
			continue;
		if (n == KM_LOOK_PLACES) {
			p->out->looked_closer = false;
			break;
		}
		v[n].lot = one->job_lot;
		v[n].price = one->fixed;
		st = km_lot_fills(p->scratch, &p->j, i, &v[n].fills);
		if (st != KM_OK)
			return st;
		for (uint32_t k = 0; k < p->out->n_bills; k++)
			v[n].chosen |= p->out->bills[k].job_lot == one->job_lot;
		p->unknown = false;
		st = one_lot(p, i, &v[n]);
		v[n++].known = !p->unknown;
	}
	p->out->job_lots = v;
	p->out->n_job_lots = n;
	return st;
}

/* ------------------------------------------------------------------ */

/* Few enough places with a choice, and options, to solve for each again? */
static bool is_small(const struct km_planner *p)
{
	uint64_t places = 0;

	for (uint32_t i = 0; i < p->n; i++)
		places += p->j.count[i] > 1;
	return places <= KM_LOOK_PLACES &&
	       places * p->j.p.noptions <= KM_LOOK_OPTIONS;
}

static enum km_status look_at_places(struct km_planner *p)
{
	uint32_t *option_of = km_arena_alloc(p->scratch, p->n,
					     sizeof *option_of);
	uint8_t *barred = km_arena_alloc(p->scratch, p->j.p.noptions, 1);
	enum km_status st = KM_OK;

	if (!option_of || !barred)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < p->n && st == KM_OK; i++)
		st = one_place(p, i, barred, option_of);
	return st;
}

enum km_status km_joint_look(struct km_planner *p)
{
	enum km_status st;

	for (uint32_t i = 0; i < p->n; i++) {
		struct km_plan_place *place = &p->places[i];

		place->margin = place->ceiling_ready = place->ceiling_work = -1;
		place->by_hand = p->more[i].by_hand != NULL;
		place->by_hand_costs = place->by_hand ? -1 : 0;
	}
	p->out->looked_closer = is_small(p);
	p->nodes_left = km_joint_nodes(p->ask, &p->j);
	if (!p->out->looked_closer) {
		for (uint32_t i = 0; i < p->n; i++)
			p->places[i].ceiling_unknown = asks_ceiling(p, i);
		return KM_OK;
	}
	st = close_calls(p, KM_LOW);	/* first: the same whatever is asked */
	if (st == KM_OK)
		st = close_calls(p, KM_HIGH);
	if (st == KM_OK && (p->ask->margins || p->ask->ceilings))
		st = look_at_places(p);
	return st == KM_OK && p->ask->margins ? job_lots(p) : st;
}
