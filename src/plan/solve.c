/* SPDX-License-Identifier: MIT */
/* solve - what a caller can ask. */
#include <string.h>

#include "base/num.h"
#include "plan/branch.h"

struct km_solver {
	struct km_core core;
	struct km_relax relax;
	struct km_tree tree;
	struct km_solve_ask last;	/* the prices fit it */
	bool warm;
	uint8_t *barred;		/* scratch: of an option */
};

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
	if (!s->barred || !km_relax_init(&s->relax, mem, &s->core) ||
	    !km_tree_init(&s->tree, mem, &s->core, &s->relax))
		return KM_ENOMEM;
	*out = s;
	return KM_OK;
}

/* Prices found before are a start, if the weights are the same. */
static void warm_up(struct km_solver *s, const struct km_solve_ask *ask)
{
	bool same = s->warm &&
		    s->last.points_weight == ask->points_weight &&
		    s->last.money_weight == ask->money_weight;

	if (same)
		memcpy(s->relax.mult, s->tree.root,
		       s->relax.nmult * sizeof *s->relax.mult);
	else
		memset(s->relax.mult, 0,
		       s->relax.nmult * sizeof *s->relax.mult);
	s->last = *ask;
	s->warm = true;
}

enum km_status km_solver_ask(struct km_solver *s,
			     const struct km_solve_ask *ask,
			     struct km_solve_plan *out)
{
	enum km_status st;

	warm_up(s, ask);
	st = km_relax_ask(&s->relax, ask);
	if (st != KM_OK)
		return st;
	return km_tree_search(&s->tree, NULL, INT64_MIN,
			      ask->nodes ? ask->nodes : KM_SOLVE_NODES, out);
}

enum km_status km_solver_first(struct km_solver *s,
			       const struct km_solve_ask *ask,
			       struct km_solve_plan *out)
{
	return km_solver_ask(s, ask, out);
}
enum km_status km_solver_frontier(struct km_solver *s,
				  const struct km_solve_ask *ask,
				  km_solve_seen *seen, void *user)
{
	(void)s; (void)ask; (void)seen; (void)user;
	return KM_ELIMIT;
}
