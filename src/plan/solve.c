/* SPDX-License-Identifier: MIT */
/* solve - what a caller can ask. */
#include <string.h>

#include "base/num.h"
#include "plan/solve_sites.h"
#include "plan/solve_state.h"

static bool alloc_solver(struct km_solver *s, struct km_arena *mem)
{
	const struct km_core *c = &s->core;

	s->mem = mem;
	s->barred = km_arena_alloc(mem, (size_t)c->noptions + 1, 1);
	s->hint = km_arena_alloc(mem, (size_t)c->nplaces + 1, sizeof *s->hint);
	if (!s->barred || !s->hint || !km_relax_init(&s->relax, mem, c) ||
	    !km_tree_init(&s->tree, mem, c, &s->relax))
		return false;
	for (int i = 0; i < KM_WARM; i++) {
		s->warm[i].mult = km_arena_alloc(mem, s->relax.nmult,
						 sizeof *s->warm[i].mult);
		if (!s->warm[i].mult)
			return false;
	}
	return true;
}

enum km_status km_solver_new(struct km_arena *mem, const struct km_solve *p,
			     struct km_solver **out)
{
	struct km_solver *s = km_arena_alloc(mem, 1, sizeof *s);
	enum km_status st;

	if (!s)
		return KM_ENOMEM;
	st = km_core_compile(mem, p, &s->core);
	if (st != KM_OK)
		return st;
	if (!alloc_solver(s, mem))
		return KM_ENOMEM;
	*out = s;
	return KM_OK;
}

/* ---- one search --------------------------------------------------------- */

static struct km_warm *warm_of(struct km_solver *s,
			       const struct km_solve_ask *ask)
{
	return &s->warm[ask->points_weight == 0 ? 0 :
			ask->money_weight == 0 ? 1 : 2];
}

/* Prices found before are a start, if the weights are the same. */
static void warm_up(struct km_solver *s, const struct km_solve_ask *ask)
{
	struct km_warm *w = warm_of(s, ask);
	size_t size = s->relax.nmult * sizeof *w->mult;

	if (w->valid && w->points_weight == ask->points_weight &&
	    w->money_weight == ask->money_weight)
		memcpy(s->relax.mult, w->mult, size);
	else
		memset(s->relax.mult, 0, size);
}

static void keep_warm(struct km_solver *s, const struct km_solve_ask *ask)
{
	struct km_warm *w = warm_of(s, ask);

	memcpy(w->mult, s->tree.root, s->relax.nmult * sizeof *w->mult);
	w->points_weight = ask->points_weight;
	w->money_weight = ask->money_weight;
	w->valid = true;
}

/* Does the ask fit the special case?  It has bounds of its own. */
static bool asks_sites(const struct km_solver *s,
		       const struct km_solve_ask *ask)
{
	const struct km_core *c = &s->core;
	int64_t points, money, worth;

	return c->sites && ask->budget >= c->money_most &&
	       ask->limit >= c->points_most && ask->points_weight >= 0 &&
	       ask->money_weight >= 0 &&
	       km_mul(ask->points_weight, c->points_most, &points) &&
	       km_mul(ask->money_weight, c->money_most, &money) &&
	       km_add(points, money, &worth) && worth <= KM_SOLVE_WORTH;
}

static enum km_status search_sites(struct km_solver *s,
				   const struct km_solve_ask *ask,
				   struct km_solve_plan *out)
{
	const struct km_core *c = &s->core;
	struct km_sites_answer a = { .choice = s->tree.best };
	enum km_status st = km_sites_solve(s->mem, c, ask, &s->sites, &a);

	if (st != KM_OK)
		return st;
	out->feasible = a.found;
	out->proved = !a.stopped;
	out->points = out->money = 0;
	if (a.found)
		km_core_figures(c, a.choice, s->tree.count, s->tree.goods,
				&out->money, &out->points);
	out->value = a.value;
	out->bound = a.bound;
	out->nodes = a.nodes;
	for (uint32_t i = 0; out->option_of && a.found && i < c->nplaces; i++)
		out->option_of[i] = c->orig[a.choice[i]];
	return KM_OK;
}

static enum km_status search_tree(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  const struct km_goal *goal,
				  struct km_solve_plan *out)
{
	struct km_goal g = *goal;
	enum km_status st;

	if (!s->core.by_worth && !km_core_rank(s->mem, &s->core))
		return KM_ENOMEM;
	warm_up(s, ask);
	st = km_relax_ask(&s->relax, ask);
	if (st != KM_OK)
		return st;
	g.nodes = ask->nodes ? ask->nodes : KM_SOLVE_NODES;
	st = km_tree_search(&s->tree, &g, out);
	if (st == KM_OK)
		keep_warm(s, ask);
	return st;
}

void km_solver_keep(struct km_solver *s)
{
	memcpy(s->hint, s->tree.best, s->core.nplaces * sizeof *s->hint);
}

/* Each search has a node at least. */
static uint64_t nodes_left(const struct km_solve_ask *ask, uint64_t used)
{
	uint64_t most = ask->nodes ? ask->nodes : KM_SOLVE_NODES;

	return used < most ? most - used : 1;
}

/*
 * Can the budget and the limit be kept at all?  A plan that keeps them, as
 * s->hint; out->feasible is false where there is none.  A search that has to
 * keep them is lost without a plan to begin with.
 */
static enum km_status find_hint(struct km_solver *s,
				const struct km_solve_ask *ask,
				struct km_solve_plan *out)
{
	struct km_goal goal = { .most = INT64_MAX };
	struct km_solve_ask a = *ask;
	uint64_t nodes;
	enum km_status st;

	a.points_weight = 0;
	a.money_weight = 1;
	a.budget = a.limit = KM_SOLVE_FREE;
	st = search_tree(s, &a, &goal, out);
	if (st != KM_OK || !out->feasible || out->money > ask->budget)
		goto judge;
	if (out->points <= ask->limit)
		goto judge;
	km_solver_keep(s);
	goal.hint = s->hint;
	a.points_weight = 1;
	a.money_weight = 0;
	a.budget = ask->budget;
	a.nodes = nodes_left(ask, nodes = out->nodes);
	st = search_tree(s, &a, &goal, out);
	out->nodes += nodes;
judge:
	if (st != KM_OK)
		return st;
	out->feasible = out->feasible && out->money <= ask->budget &&
			out->points <= ask->limit;
	if (out->feasible)
		km_solver_keep(s);
	return st;
}

enum km_status km_solver_weigh(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       const struct km_goal *goal,
			       struct km_solve_plan *out)
{
	struct km_goal g = *goal;
	struct km_solve_plan first = { 0 };
	struct km_solve_ask left = *ask;
	enum km_status st;

	if (!g.hint && (ask->budget < s->core.money_most ||
			ask->limit < s->core.points_most)) {
		st = find_hint(s, ask, &first);
		if (st != KM_OK)
			return st;
		if (!first.feasible && first.proved) {
			first.option_of = out->option_of;
			first.points = first.money = first.value = 0;
			first.bound = 0;
			*out = first;
			return KM_OK;
		}
		g.hint = first.feasible ? s->hint : NULL;
	}
	left.nodes = nodes_left(ask, first.nodes);
	st = search_tree(s, &left, &g, out);
	if (st == KM_OK)
		out->nodes += first.nodes;
	return st;
}

enum km_status km_solver_search(struct km_solver *s,
				const struct km_solve_ask *ask,
				const struct km_goal *goal,
				struct km_solve_plan *out)
{
	if (asks_sites(s, ask))
		return search_sites(s, ask, out);
	if (km_solver_in_order(s, ask))
		return km_solver_one_by_one(s, ask, goal, out);
	return km_solver_weigh(s, ask, goal, out);
}

enum km_status km_solver_ask(struct km_solver *s,
			     const struct km_solve_ask *ask,
			     struct km_solve_plan *out)
{
	struct km_goal goal = { .least = 0, .most = INT64_MAX };

	return km_solver_search(s, ask, &goal, out);
}

/* ---- the first of the best ---------------------------------------------- */

/* Bar what is not allowed: mine is a copy of what the ask bars. */
static void bar_by_ask(struct km_solver *s, const struct km_solve_ask *ask)
{
	if (ask->barred)
		memcpy(s->barred, ask->barred, s->core.noptions);
	else
		memset(s->barred, 0, s->core.noptions);
}

/* Bar all options of a place that come after or at this one; or before. */
static void bar_from(struct km_solver *s, uint32_t place, uint32_t option)
{
	for (uint32_t o = s->core.start[place]; o < s->core.start[place + 1];
	     o++)
		if (s->core.orig[o] >= option)
			s->barred[s->core.orig[o]] = 1;
}

static void bar_others(struct km_solver *s, uint32_t place, uint32_t option)
{
	for (uint32_t o = s->core.start[place]; o < s->core.start[place + 1];
	     o++)
		s->barred[s->core.orig[o]] = s->core.orig[o] != option;
}

static bool has_open(const struct km_solver *s, uint32_t place)
{
	for (uint32_t o = s->core.start[place]; o < s->core.start[place + 1];
	     o++)
		if (!s->barred[s->core.orig[o]])
			return true;
	return false;
}

/* Try smaller options of a place, the places before it being fixed, until
 * none keeps the value. */
static enum km_status lower_place(struct km_solver *s, struct km_solve_ask *a,
				  const struct km_goal *goal,
				  uint32_t place, struct km_solve_plan *plan,
				  uint32_t *spare, uint8_t *keep)
{
	const struct km_core *c = &s->core;

	for (;;) {
		struct km_solve_plan try = { .option_of = spare };
		enum km_status st;

		memcpy(keep, s->barred, c->noptions);
		bar_from(s, place, plan->option_of[place]);
		if (!has_open(s, place))
			break;
		st = search_tree(s, a, goal, &try);
		if (st != KM_OK)
			return st;
		plan->nodes += try.nodes;
		if (!try.proved)
			return KM_ELIMIT;
		if (!try.feasible)
			break;
		memcpy(plan->option_of, spare, c->nplaces * sizeof *spare);
		plan->points = try.points;
		plan->money = try.money;
		memcpy(s->barred, keep, c->noptions);
	}
	memcpy(s->barred, keep, c->noptions);
	bar_others(s, place, plan->option_of[place]);
	return KM_OK;
}

enum km_status km_solver_first(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       struct km_solve_plan *out)
{
	size_t places = (size_t)s->core.nplaces + 1;
	struct km_solve_ask a = *ask;
	struct km_solve_plan plan = { 0 };
	struct km_goal goal = { 0 };
	uint32_t *spare = km_arena_alloc(s->mem, places, sizeof *spare);
	uint8_t *keep = km_arena_alloc(s->mem, (size_t)s->core.noptions + 1, 1);
	enum km_status st;

	plan.option_of = km_arena_alloc(s->mem, places,
					sizeof *plan.option_of);
	if (!spare || !keep || !plan.option_of)
		return KM_ENOMEM;
	st = km_solver_ask(s, ask, &plan);
	goal.least = goal.most = plan.value;
	if (st == KM_OK && plan.feasible && km_solver_in_order(s, ask))
		goal.least = goal.most = km_solver_second(ask, &plan, &a);
	bar_by_ask(s, ask);
	a.barred = s->barred;
	for (uint32_t i = 0; st == KM_OK && plan.feasible && plan.proved &&
			     i < s->core.nplaces; i++)
		st = lower_place(s, &a, &goal, i, &plan, spare, keep);
	if (st != KM_OK && st != KM_ELIMIT)
		return st;
	spare = out->option_of;
	if (spare)
		memcpy(spare, plan.option_of,
		       s->core.nplaces * sizeof *spare);
	*out = plan;
	out->option_of = spare;
	return KM_OK;
}

/* ---- what if ------------------------------------------------------------ */

enum km_status km_solver_forced(struct km_solver *s,
				const struct km_solve_ask *ask, uint32_t place,
				const uint32_t *option, uint32_t n,
				struct km_solve_plan *out)
{
	const struct km_core *c = &s->core;
	struct km_solve_ask a = *ask;

	if (place >= c->nplaces)
		return KM_ERANGE;
	for (uint32_t i = 0; i < n; i++)
		if (option[i] >= c->noptions ||
		    c->p->option[option[i]].place != place)
			return KM_ERANGE;
	bar_by_ask(s, ask);
	bar_from(s, place, 0);
	for (uint32_t i = 0; i < n; i++)
		s->barred[option[i]] = ask->barred && ask->barred[option[i]];
	a.barred = s->barred;
	return km_solver_ask(s, &a, out);
}

enum km_status km_solver_ceiling(struct km_solver *s,
				 const struct km_solve_ask *ask,
				 uint32_t option, int64_t *most, bool *proved)
{
	struct km_solve_plan with = { 0 }, without = { 0 };
	struct km_solve_ask a = *ask;
	const struct km_solve_option *o = s->core.p->option + option;
	enum km_status st;
	int64_t gain;

	if (option >= s->core.noptions || ask->money_weight <= 0 ||
	    ask->budget < s->core.money_most)
		return KM_ERANGE;
	st = km_solver_forced(s, ask, o->place, &option, 1, &with);
	if (st != KM_OK)
		return st;
	bar_by_ask(s, ask);
	s->barred[option] = 1;
	a.barred = s->barred;
	st = km_solver_ask(s, &a, &without);
	if (st != KM_OK)
		return st;
	*proved = with.proved && without.proved;
	gain = without.bound - with.value + ask->money_weight * o->money;
	if (!with.feasible)
		*most = -1;
	else if (without.proved && !without.feasible)
		*most = KM_SOLVE_FREE;
	else
		*most = gain < 0 ? -1 : gain / ask->money_weight;
	return KM_OK;
}
