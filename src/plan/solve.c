/* SPDX-License-Identifier: MIT */
/* solve - what a caller can ask. */
#include <string.h>

#include "base/num.h"
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

enum km_status km_solver_search(struct km_solver *s,
				const struct km_solve_ask *ask,
				const uint32_t *hint, int64_t least,
				struct km_solve_plan *out)
{
	enum km_status st;

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
