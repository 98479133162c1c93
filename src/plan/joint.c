/* SPDX-License-Identifier: MIT */
#include "plan/joint.h"

#include <string.h>

#include "base/num.h"
#include "plan/bills.h"
#include "plan/joint_problem.h"

struct planner {
	struct km_arena *mem, *scratch;
	const struct km_joint_ask *ask;
	struct km_plan_place *places;
	const struct km_joint_place *more;
	uint32_t n;
	struct km_plan *out;
	struct km_joint j;		/* the likely column */
	struct km_solver *solver;
	struct km_solve_ask how;
	struct km_solve_plan best;
	int64_t weight;			/* of one point; 1 when money leads */
	enum km_status st;
};

/* What the aim asks of a problem. */
static struct km_solve_ask asks(const struct planner *p,
				const struct km_joint *j)
{
	struct km_solve_ask a = {
		.points_weight = j->most_money + 1, .money_weight = 1,
		.budget = KM_SOLVE_FREE, .limit = KM_SOLVE_FREE,
		.barred = j->barred,
		.nodes = p->ask->limits ? p->ask->limits->nodes : 0,
	};

	if (p->ask->aim == KM_AIM_BUDGET)
		a.budget = p->ask->budget;
	if (p->ask->aim == KM_AIM_POINTS) {
		a.limit = p->ask->points_limit;
		a.points_weight = 1;
		a.money_weight = j->most_points + 1;
	}
	return a;
}

static enum km_points points_of(const struct planner *p)
{
	return p->ask->aim == KM_AIM_COMPLETE ? KM_POINTS_SHORT
					      : KM_POINTS_RUBRIC;
}

/* Make a problem of one column and solve it; the choice of each place goes to
 * option_of. */
static enum km_status solve(struct planner *p, struct km_arena *mem,
			    enum km_column column, struct km_joint *j,
			    struct km_solver **solver,
			    struct km_solve_ask *how,
			    struct km_solve_plan *plan)
{
	enum km_status st = km_joint_build(mem, p->ask, p->places, p->more,
					   p->n, column, points_of(p), j);

	if (st != KM_OK)
		return st;
	plan->option_of = km_arena_alloc(mem, p->n, sizeof *plan->option_of);
	if (!plan->option_of)
		return KM_ENOMEM;
	st = km_solver_new(mem, &j->p, solver);
	*how = asks(p, j);
	return st == KM_OK ? km_solver_first(*solver, how, plan) : st;
}

/* Nothing keeps the limit: the plan that comes nearest. */
static enum km_status nearest(struct planner *p)
{
	p->out->feasible = false;
	p->how.budget = p->how.limit = KM_SOLVE_FREE;
	p->how.points_weight = p->j.most_money + 1;
	p->how.money_weight = 1;
	if (p->ask->aim == KM_AIM_BUDGET) {
		p->how.points_weight = 1;
		p->how.money_weight = p->j.most_points + 1;
	}
	return km_solver_first(p->solver, &p->how, &p->best);
}

/* ------------------------------------------------------------------ */
/* Margins                                                             */

/* What a worse plan costs more; -1: it fills fewer places, or there is
 * none. */
static int64_t dearer(const struct planner *p, const struct km_solve_plan *q)
{
	if (!q->feasible || q->points != p->best.points)
		return -1;
	return q->money - p->best.money;
}

/* The best plan that takes one of n options for a place. */
static enum km_status forced(struct planner *p, uint32_t place,
			     const uint32_t *options, uint32_t n,
			     struct km_solve_plan *out)
{
	struct km_solve_ask how = p->how;
	uint8_t *barred = km_arena_copy(p->scratch, p->j.barred,
					p->j.p.noptions, 1);

	if (!barred)
		return KM_ENOMEM;
	for (uint32_t o = 0; o < p->j.p.noptions; o++)
		if (p->j.p.option[o].place == place)
			barred[o] = 1;
	for (uint32_t i = 0; i < n; i++)
		barred[options[i]] = 0;
	how.barred = barred;
	return km_solver_ask(p->solver, &how, out);
}

static enum km_status margin(struct planner *p, uint32_t i, uint32_t *options,
			     uint32_t *option_of)
{
	struct km_plan_place *place = &p->places[i];
	struct km_solve_plan q = { .option_of = option_of };
	uint32_t n = 0, chosen = p->best.option_of[i];
	enum km_status st;

	place->margin = -1;
	for (uint32_t k = 0; k < p->j.count[i]; k++) {
		uint32_t o = p->j.first[i] + k;

		if (o != chosen && !p->j.barred[o])
			options[n++] = o;
	}
	if (!n)
		return KM_OK;
	st = forced(p, i, options, n, &q);
	if (st != KM_OK || !q.feasible)
		return st;
	place->other = p->j.way[option_of[i]];
	place->margin = dearer(p, &q);
	return KM_OK;
}

/* What a decision by hand costs: the plan without it, alone of all. */
static enum km_status by_hand(struct planner *p, uint32_t i, uint8_t *barred)
{
	struct km_plan_place *place = &p->places[i];
	struct km_solve_plan q = { 0 };
	struct km_solve_ask how = p->how;
	enum km_status st;

	place->by_hand = true;
	memcpy(barred, p->j.barred, p->j.p.noptions);
	for (uint32_t k = 0; k < p->j.count[i]; k++)
		barred[p->j.first[i] + k] = 0;
	how.barred = barred;
	st = km_solver_ask(p->solver, &how, &q);
	if (st != KM_OK)
		return st;
	place->by_hand_costs = q.points == p->best.points
				       ? p->best.money - q.money : -1;
	return KM_OK;
}

/* The money that a free thing of this sort would save. */
static enum km_status ceiling(struct planner *p, uint32_t i, uint32_t option,
			      int64_t *most)
{
	struct km_solve_plan q = { 0 };
	enum km_status st;

	*most = -1;
	if (option == KM_SOLVE_NONE)
		return KM_OK;
	st = forced(p, i, &option, 1, &q);
	if (st != KM_OK || !q.feasible)
		return st;
	if (q.points < p->best.points)
		*most = KM_NO_CEILING;
	else if (q.points == p->best.points && p->best.money > q.money)
		*most = p->best.money - q.money;
	return KM_OK;
}

static enum km_status ceilings(struct planner *p, uint32_t i)
{
	struct km_plan_place *place = &p->places[i];
	enum km_status st;

	place->ceiling_ready = place->ceiling_work = -1;
	if (!p->ask->ceilings || !p->more[i].spend ||
	    (place->chosen->kind == KM_WAY_OWNED && place->chosen->acceptable))
		return KM_OK;
	place->ceiling_wanted = place->chosen->kind != KM_WAY_WORK;
	st = ceiling(p, i, p->j.ready[i], &place->ceiling_ready);
	return st == KM_OK ? ceiling(p, i, p->j.worn[i], &place->ceiling_work)
			   : st;
}

static enum km_status look_closer(struct planner *p)
{
	uint32_t *options = km_arena_alloc(p->scratch, p->j.p.noptions,
					   sizeof *options);
	uint32_t *option_of = km_arena_alloc(p->scratch, p->n,
					     sizeof *option_of);
	uint8_t *barred = km_arena_alloc(p->scratch, p->j.p.noptions, 1);
	enum km_status st = KM_OK;

	if (!options || !option_of || !barred)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < p->n && st == KM_OK; i++) {
		if (p->more[i].by_hand)
			st = by_hand(p, i, barred);
		else if (p->more[i].spend)
			st = margin(p, i, options, option_of);
		else
			p->places[i].margin = -1;
		if (st == KM_OK)
			st = ceilings(p, i);
	}
	return st;
}

/* ------------------------------------------------------------------ */
/* Close calls, job lots, the frontier                                 */

static bool same_sort(const struct km_way *a, const struct km_way *b)
{
	return a->kind == b->kind &&
	       (a->match == b->match ||
		(a->match && b->match && a->match->tool == b->match->tool &&
		 a->match->offer == b->match->offer));
}

static enum km_status close_calls(struct planner *p, enum km_column column)
{
	struct km_arena *mem = km_arena_new(p->ask->limits);
	struct km_joint j;
	struct km_solver *solver;
	struct km_solve_ask how;
	struct km_solve_plan plan = { 0 };
	enum km_status st = KM_ENOMEM;

	if (mem)
		st = solve(p, mem, column, &j, &solver, &how, &plan);
	for (uint32_t i = 0; i < p->n && st == KM_OK && plan.feasible; i++)
		if (!same_sort(j.way[plan.option_of[i]], p->places[i].chosen))
			p->places[i].close_call = true;
	km_arena_free(mem);
	return st;
}

/* A job lot is worth what the plan saves by having it for nothing. */
static enum km_status one_lot(struct planner *p, uint32_t charge,
			      struct km_plan_job_lot *out)
{
	struct km_solve_charge *v = km_arena_copy(p->scratch, p->j.p.charge,
						  p->j.p.ncharges, sizeof *v);
	uint8_t *barred = km_arena_copy(p->scratch, p->j.barred,
					p->j.p.noptions, 1);
	static const int64_t nothing = 0;
	struct km_solve gift = p->j.p;
	struct km_solve_ask how = p->how;
	struct km_solve_plan without = { 0 }, with = { 0 };
	struct km_solver *solver;
	enum km_status st;

	if (!v || !barred)
		return KM_ENOMEM;
	v[charge].table = &nothing;
	v[charge].ntable = 1;
	gift.charge = v;
	for (uint32_t o = 0; o < gift.noptions; o++)
		for (uint32_t k = 0; k < gift.option[o].nuses; k++)
			if (gift.option[o].use[k].charge == charge)
				barred[o] = 1;
	st = km_solver_new(p->scratch, &gift, &solver);
	if (st == KM_OK)
		st = km_solver_ask(solver, &how, &with);
	how.barred = barred;
	if (st == KM_OK)
		st = km_solver_ask(p->solver, &how, &without);
	if (st != KM_OK)
		return st;
	out->most = with.points < without.points ? KM_NO_CEILING
		    : without.money > with.money ? without.money - with.money
						 : -1;
	return KM_OK;
}

static uint32_t places_of(const struct planner *p, uint32_t charge)
{
	uint32_t n = 0, last = KM_SOLVE_NONE;

	for (uint32_t o = 0; o < p->j.p.noptions; o++)
		for (uint32_t k = 0; k < p->j.p.option[o].nuses; k++)
			if (p->j.p.option[o].use[k].charge == charge &&
			    p->j.p.option[o].place != last) {
				last = p->j.p.option[o].place;
				n++;
			}
	return n;
}

static enum km_status job_lots(struct planner *p)
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
		v[n].lot = one->job_lot;
		v[n].price = one->fixed;
		v[n].fills = places_of(p, i);
		for (uint32_t k = 0; k < p->out->n_bills; k++)
			v[n].chosen |= p->out->bills[k].job_lot == one->job_lot;
		st = one_lot(p, i, &v[n++]);
	}
	p->out->job_lots = v;
	p->out->n_job_lots = n;
	return st;
}

struct trail {
	struct km_arena *mem;
	struct km_plan_point *v;
	uint32_t n, room;
	bool failed;
};

static bool seen(void *user, const struct km_solve_plan *plan)
{
	struct trail *t = user;

	if (t->n == t->room) {
		uint32_t room = t->room ? t->room * 2 : 32;
		struct km_plan_point *v = km_arena_raw(t->mem, room, sizeof *v);

		if (!v) {
			t->failed = true;
			return false;
		}
		if (t->n)
			memcpy(v, t->v, t->n * sizeof *v);
		t->v = v;
		t->room = room;
	}
	t->v[t->n++] = (struct km_plan_point){ plan->money, plan->points };
	return true;
}

static enum km_status frontier(struct planner *p)
{
	struct trail t = { .mem = p->mem };
	struct km_joint j;
	struct km_solver *solver;
	struct km_solve_ask how;
	enum km_status st = km_joint_build(p->scratch, p->ask, p->places,
					   p->more, p->n, KM_LIKELY,
					   KM_POINTS_RUBRIC, &j);

	if (st == KM_OK)
		st = km_solver_new(p->scratch, &j.p, &solver);
	if (st != KM_OK)
		return st;
	how = asks(p, &j);
	how.budget = how.limit = KM_SOLVE_FREE;
	st = km_solver_frontier(solver, &how, seen, &t);
	p->out->frontier = t.v;
	p->out->n_frontier = t.n;
	p->out->frontier_whole = st == KM_OK;
	if (t.failed)
		return KM_ENOMEM;
	return st == KM_ELIMIT ? KM_OK : st;
}

/* ------------------------------------------------------------------ */

/* The cheapest acceptable way of a place by itself. */
static const struct km_way *single(const struct km_plan_place *p)
{
	const struct km_way *best = NULL;

	for (uint32_t k = 0; k < p->n_ways; k++) {
		const struct km_way *w = &p->ways[k];

		if (w->priced && w->acceptable &&
		    (!best || w->alone.likely < best->alone.likely))
			best = w;
	}
	return best;
}

static enum km_status settle(struct planner *p)
{
	struct km_plan *o = p->out;

	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_way *alone = single(&p->places[i]);

		p->places[i].chosen = p->j.way[p->best.option_of[i]];
		o->short_firm += p->more[i].firm && !p->places[i].chosen->acceptable;
		if (alone && p->more[i].spend &&
		    !km_money3_add(o->singly, alone->alone, &o->singly))
			return KM_ERANGE;
	}
	o->points = p->best.points;
	o->proved = p->best.proved;
	o->gap = p->best.proved ? 0 : p->best.value - p->best.bound;
	o->nodes = p->best.nodes;
	return km_bills_make(p->mem, p->ask, p->places, p->n, o);
}

/* The problem as it was asked, for any other solver. */
static enum km_status publish(struct planner *p)
{
	const struct km_joint *j = &p->j;
	struct km_plan_problem *o = km_arena_alloc(p->mem, 1, sizeof *o);
	struct km_problem_charge *c = km_arena_alloc(p->mem, j->p.ncharges,
						     sizeof *c);

	if (!o || !c)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < j->p.ncharges; i++) {
		const struct km_charge *one =
			&p->ask->costs->charges[j->charge_of[i]];

		c[i] = (struct km_problem_charge){
			.kind = km_bill_kind_of(one->kind),
			.seller = one->seller, .process = one->process,
			.job_lot = one->job_lot,
		};
	}
	*o = (struct km_plan_problem){
		.numbers = j->p, .ask = p->how, .way = j->way, .charges = c,
		.resources = j->owner, .chosen = p->best.option_of,
		.feasible = p->out->feasible, .proved = p->best.proved,
		.points = p->best.points, .money = p->best.money,
		.value = p->best.value, .bound = p->best.bound,
	};
	p->out->problem = o;
	return KM_OK;
}

/* Points lost by the plan as a rubric counts them, whatever the aim. */
static void count_points(struct planner *p)
{
	p->out->points = 0;
	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_way *w = p->places[i].chosen;
		bool fails = p->more[i].firm && !w->acceptable;

		p->out->points += p->ask->rubric ? w->points : fails ? 100 : 0;
	}
}

static enum km_status steps(struct planner *p)
{
	enum km_status st = solve(p, p->ask->problem ? p->mem : p->scratch,
				  KM_LIKELY, &p->j, &p->solver, &p->how,
				  &p->best);

	p->out->feasible = p->best.feasible;
	if (st == KM_OK && !p->best.feasible)
		st = nearest(p);
	if (st == KM_OK)
		st = settle(p);
	if (st != KM_OK)
		return st;
	count_points(p);
	if (p->ask->problem)
		st = publish(p);
	if (st == KM_OK)
		st = look_closer(p);
	if (st == KM_OK)
		st = close_calls(p, KM_LOW);
	if (st == KM_OK)
		st = close_calls(p, KM_HIGH);
	if (st == KM_OK)
		st = job_lots(p);
	return st == KM_OK && p->ask->frontier ? frontier(p) : st;
}

enum km_status km_joint_plan(struct km_arena *mem,
			     const struct km_joint_ask *ask,
			     struct km_plan_place *places,
			     const struct km_joint_place *more, uint32_t n,
			     struct km_plan *out)
{
	struct planner p = { .mem = mem, .ask = ask, .places = places,
			     .more = more, .n = n, .out = out };
	enum km_status st = KM_ENOMEM;

	*out = (struct km_plan){ .aim = ask->aim, .budget = ask->budget,
				 .points_limit = ask->points_limit,
				 .places = places, .n_places = n,
				 .feasible = true, .proved = true };
	if (!n)
		return KM_OK;
	p.scratch = km_arena_new(ask->limits);
	if (p.scratch)
		st = steps(&p);
	km_arena_free(p.scratch);
	return st;
}
