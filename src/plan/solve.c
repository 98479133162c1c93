/* SPDX-License-Identifier: MIT */
/* solve - what a caller can ask. */
#include <string.h>

#include "base/num.h"
#include "plan/solve_sites.h"
#include "plan/solve_state.h"

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
	s->barred = km_arena_alloc(mem, (size_t)p->noptions + 1, 1);
	s->mem = mem;
	s->hint = km_arena_alloc(mem, (size_t)p->nplaces + 1, sizeof *s->hint);
	if (!s->barred || !s->hint || !km_relax_init(&s->relax, mem, &s->core) ||
	    !km_tree_init(&s->tree, mem, &s->core, &s->relax))
		return KM_ENOMEM;
	*out = s;
	return KM_OK;
}

/* Prices found before are a start, if the weights are the same. */
static void warm_up(struct km_solver *s, const struct km_solve_ask *ask)
{
	size_t size = s->relax.nmult * sizeof *s->relax.mult;

	if (s->warm && s->points_weight == ask->points_weight &&
	    s->money_weight == ask->money_weight)
		memcpy(s->relax.mult, s->tree.root, size);
	else
		memset(s->relax.mult, 0, size);
	s->points_weight = ask->points_weight;
	s->money_weight = ask->money_weight;
	s->warm = false;
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
	       km_add(points, money, &worth) && worth <= (int64_t)1 << 56;
}

static enum km_status search_sites(struct km_solver *s,
				   const struct km_solve_ask *ask,
				   struct km_solve_plan *out)
{
	const struct km_core *c = &s->core;
	struct km_sites_answer a = { .choice = s->tree.best };
	enum km_status st = km_sites_solve(s->mem, c, ask, &a);

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

enum km_status km_solver_search(struct km_solver *s,
				const struct km_solve_ask *ask,
				const uint32_t *hint, int64_t least,
				struct km_solve_plan *out)
{
	enum km_status st;

	if (asks_sites(s, ask))
		return search_sites(s, ask, out);
	warm_up(s, ask);
	st = km_relax_ask(&s->relax, ask);
	if (st == KM_OK)
		st = km_tree_search(&s->tree, hint, least, ask->nodes ?
				    ask->nodes : KM_SOLVE_NODES, out);
	s->warm = st == KM_OK;
	return st;
}

enum km_status km_solver_ask(struct km_solver *s,
			     const struct km_solve_ask *ask,
			     struct km_solve_plan *out)
{
	return km_solver_search(s, ask, NULL, INT64_MIN, out);
}

enum km_status km_solver_first(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       struct km_solve_plan *out)
{
	return km_solver_ask(s, ask, out);
}
