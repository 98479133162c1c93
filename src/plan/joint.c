/* SPDX-License-Identifier: MIT */
#include "plan/joint.h"

#include <string.h>

#include "plan/bills.h"
#include "plan/joint_look.h"
#include "plan/ways.h"

/* A node takes a time that goes with the options; so many of both. */
#define WORK ((uint64_t)1 << 22)	/* [choice] */
#define NODES_LEAST 8			/* [choice] */

uint64_t km_joint_nodes(const struct km_joint_ask *ask,
			const struct km_joint *j)
{
	uint64_t n = WORK / (j->p.noptions + (uint64_t)1);

	if (ask->limits && ask->limits->nodes)
		return ask->limits->nodes;
	return n > NODES_LEAST ? n : NODES_LEAST;
}

/* What the aim asks of a problem. */
static struct km_solve_ask asks(const struct km_planner *p,
				const struct km_joint *j)
{
	struct km_solve_ask a = {
		.points_weight = j->most_money + 1, .money_weight = 1,
		.budget = KM_SOLVE_FREE, .limit = KM_SOLVE_FREE,
		.barred = j->barred,
		.nodes = km_joint_nodes(p->ask, j),
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

static enum km_points points_of(const struct km_planner *p)
{
	return p->ask->aim == KM_AIM_COMPLETE ? KM_POINTS_SHORT
					      : KM_POINTS_RUBRIC;
}

/* The best plan; of equal ones the first, where that is soon found. */
static enum km_status best_plan(const struct km_planner *p,
				const struct km_joint *j, struct km_solver *s,
				const struct km_solve_ask *how,
				struct km_solve_plan *plan)
{
	enum km_status st = km_solver_ask(s, how, plan);
	uint64_t each = (plan->nodes + 1) * j->p.noptions;

	if (st != KM_OK || !plan->proved || !p->n || each > WORK / p->n)
		return st;
	return km_solver_first(s, how, plan);
}

enum km_status km_joint_solve(struct km_planner *p, struct km_arena *mem,
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
	return st == KM_OK ? best_plan(p, j, *solver, how, plan) : st;
}

/* Nothing keeps the limit: the plan that comes nearest. */
static enum km_status nearest(struct km_planner *p)
{
	p->out->feasible = false;
	p->how.budget = p->how.limit = KM_SOLVE_FREE;
	p->how.points_weight = p->j.most_money + 1;
	p->how.money_weight = 1;
	if (p->ask->aim == KM_AIM_BUDGET) {
		p->how.points_weight = 1;
		p->how.money_weight = p->j.most_points + 1;
	}
	return best_plan(p, &p->j, p->solver, &p->how, &p->best);
}

/* ------------------------------------------------------------------ */
/* The frontier                                                        */

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

static enum km_status frontier(struct km_planner *p)
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
		    (!best || km_way_cost(w, 1) < km_way_cost(best, 1)))
			best = w;
	}
	return best;
}

static bool add_singly(struct km_plan *o, const struct km_way *w)
{
	return !w || (km_money3_add(o->singly, w->alone, &o->singly) &&
		      km_money3_add(o->singly, w->own, &o->singly));
}

/* How far the plan may be from the best with the same points, in money: no
 * more than all of it. */
static int64_t gap(const struct km_planner *p)
{
	const struct km_solve_plan *b = &p->best;
	int64_t most = (b->value - b->bound) / p->how.money_weight;

	if (b->proved)
		return 0;
	return most < b->money ? most : b->money;
}

static enum km_status settle(struct km_planner *p)
{
	struct km_plan *o = p->out;

	for (uint32_t i = 0; i < p->n; i++) {
		struct km_plan_place *place = &p->places[i];

		place->chosen = p->j.way[p->best.option_of[i]];
		if (!place->chosen->acceptable)
			o->short_firm += p->more[i].firm;
		else if (p->more[i].spend && !add_singly(o, single(place)))
			return KM_ERANGE;
	}
	o->proved = p->best.proved;
	o->gap = gap(p);
	o->nodes = p->best.nodes;
	return km_bills_make(p->mem, p->ask, p->places, p->n, o);
}

/* The problem as it was asked, for any other solver. */
static enum km_status publish(struct km_planner *p)
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

/* Points lost by the plan, whatever the aim. */
static void count_points(struct km_planner *p)
{
	p->out->points = 0;
	for (uint32_t i = 0; i < p->n; i++)
		p->out->points += p->places[i].chosen->points;
}

/* Files whose decisions and pins contradict are refused before: some plan is
 * always there. */
static enum km_status choose(struct km_planner *p)
{
	enum km_status st = km_joint_solve(
		p, p->ask->problem ? p->mem : p->scratch, KM_LIKELY, &p->j,
		&p->solver, &p->how, &p->best);

	p->out->feasible = p->best.feasible;
	if (st == KM_OK && !p->best.feasible)
		st = nearest(p);
	if (st == KM_OK && !p->best.feasible)
		st = KM_ELIMIT;
	return st;
}

static enum km_status steps(struct km_planner *p)
{
	enum km_status st = choose(p);

	if (st == KM_OK)
		st = settle(p);
	if (st != KM_OK)
		return st;
	count_points(p);
	if (p->ask->problem)
		st = publish(p);
	if (st == KM_OK)
		st = km_joint_look(p);
	return st == KM_OK && p->ask->frontier ? frontier(p) : st;
}

enum km_status km_joint_plan(struct km_arena *mem,
			     const struct km_joint_ask *ask,
			     struct km_plan_place *places,
			     const struct km_joint_place *more, uint32_t n,
			     struct km_plan *out)
{
	struct km_planner p = { .mem = mem, .ask = ask, .places = places,
				.more = more, .n = n, .out = out };
	enum km_status st = KM_ENOMEM;

	*out = (struct km_plan){ .aim = ask->aim, .budget = ask->budget,
				 .points_limit = ask->points_limit,
				 .places = places, .n_places = n,
				 .feasible = true, .proved = true,
				 .looked_closer = true };
	p.scratch = km_arena_new(ask->limits);
	if (p.scratch)
		st = steps(&p);
	km_arena_free(p.scratch);
	return st;
}
