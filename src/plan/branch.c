/* SPDX-License-Identifier: MIT */
#include "plan/branch.h"

#include <string.h>

#define ROOT_TURNS 300		/* evaluations of the first node */
#define NODE_TURNS 24		/* and of the others */
#define THETA 256
#define THETA_LEAST 6
#define PATIENCE 4		/* evaluations without a better bound */

bool km_tree_init(struct km_tree *t, struct km_arena *mem,
		  const struct km_core *core, struct km_relax *relax)
{
	size_t n = (size_t)core->noptions + 1;

	*t = (struct km_tree){ .core = core, .relax = relax, .mem = mem };
	t->keep = km_arena_alloc(mem, relax->nmult, sizeof *t->keep);
	t->root = km_arena_alloc(mem, relax->nmult, sizeof *t->root);
	t->best = km_arena_alloc(mem, core->nplaces + 1, sizeof *t->best);
	t->count = km_arena_alloc(mem, core->ncharges + 1, sizeof *t->count);
	t->goods = km_arena_alloc(mem, core->ncharges + 1, sizeof *t->goods);
	t->mend_list = km_arena_alloc(mem, n, sizeof *t->mend_list);
	t->mend_cost = km_arena_alloc(mem, n, sizeof *t->mend_cost);
	t->mend_len = km_arena_alloc(mem, core->nplaces + 1,
				     sizeof *t->mend_len);
	if (!t->keep || !t->root || !t->best || !t->count || !t->goods || !t->mend_list ||
	    !t->mend_cost || !t->mend_len)
		return false;
	t->mend = (struct km_lap){
		.nrows = core->nplaces, .ncols = core->ncols,
		.start = core->start, .len = t->mend_len,
		.list = t->mend_list, .row_of = core->place_of,
		.col_of = core->col_of, .cost = t->mend_cost,
		.room = core->room
	};
	return km_lap_init(&t->mend, mem);
}

/* ---- plans -------------------------------------------------------------- */

void km_tree_offer(struct km_tree *t, const uint32_t *choice)
{
	const struct km_relax *r = t->relax;
	int64_t money, points, value;

	if (!km_core_figures(t->core, choice, t->count, t->goods, &money,
			     &points) ||
	    money > r->budget || points > r->limit)
		return;
	value = r->points_weight * points + r->money_weight * money;
	if (value > t->most || (t->found && value >= t->value))
		return;
	t->found = true;
	t->value = value;
	t->points = points;
	t->money = money;
	memcpy(t->best, choice, t->core->nplaces * sizeof *choice);
	t->cutoff = (value - r->step) * ((int64_t)1 << r->shift);
}

/* ---- one node ----------------------------------------------------------- */

static bool all_single(const struct km_relax *r)
{
	for (uint32_t s = 0; s < r->core->nplaces; s++)
		if (r->len[s] != 1)
			return false;
	return true;
}

static int64_t target(const struct km_tree *t)
{
	const struct km_relax *r = t->relax;
	int64_t unit = (int64_t)1 << r->shift;

	if (t->found)
		return t->cutoff + r->step * unit;
	return r->bound + (r->bound < 0 ? -r->bound : r->bound) / 16 + unit;
}

/* A better bound than any of this node: remember its prices and drop what it
 * rules out. */
static bool take_bound(struct km_tree *t, int64_t *best)
{
	struct km_relax *r = t->relax;

	*best = r->bound;
	memcpy(t->keep, r->mult, r->nmult * sizeof *t->keep);
	return km_relax_fix(r, t->cutoff);
}

/* Raise the bound of what is left; false: nothing in it is better than the
 * best plan. */
static bool raise_bound(struct km_tree *t, uint32_t turns, int64_t *best)
{
	struct km_relax *r = t->relax;
	uint32_t theta = THETA, stall = 0;

	*best = INT64_MIN;
	km_relax_forget(r);
	if (!km_relax_prune(r))
		return false;
	for (uint32_t i = 0; i < turns && theta >= THETA_LEAST; i++) {
		if (!km_relax_eval(r))
			return false;
		km_tree_offer(t, r->lap.got);
		if (r->bound > t->cutoff)
			return false;
		if (r->bound > *best) {
			if (!take_bound(t, best))
				return false;
			stall = 0;
		} else if (++stall >= PATIENCE) {
			theta = theta * 5 / 8;
			stall = 0;
		}
		if (i % 16 == 0)
			km_tree_mend(t);
		if (*best > t->cutoff)
			return false;
		km_relax_step(r, target(t), theta);
	}
	memcpy(r->mult, t->keep, r->nmult * sizeof *t->keep);
	if (all_single(r)) {
		if (km_relax_eval(r))
			km_tree_offer(t, r->lap.got);
		return false;
	}
	return true;
}

/* ---- the stack ---------------------------------------------------------- */

static bool alloc_frame(struct km_tree *t, struct km_frame *f)
{
	const struct km_core *c = t->core;
	size_t places = c->nplaces + 1, charges = (size_t)c->ncharges + 1;

	f->len = km_arena_raw(t->mem, places, sizeof *f->len);
	f->floor = km_arena_raw(t->mem, charges, sizeof *f->floor);
	f->ceiling = km_arena_raw(t->mem, charges, sizeof *f->ceiling);
	f->mode = km_arena_raw(t->mem, charges, sizeof *f->mode);
	f->mult = km_arena_raw(t->mem, t->relax->nmult, sizeof *f->mult);
	return f->len && f->floor && f->ceiling && f->mode && f->mult;
}

/* The next frame; frames are made once and used again. */
static struct km_frame *next_frame(struct km_tree *t)
{
	struct km_frame *more;
	uint32_t room = t->room ? t->room * 2 : 32;

	if (t->depth == t->room) {
		more = km_arena_alloc(t->mem, room, sizeof *more);
		if (!more)
			return NULL;
		if (t->room)
			memcpy(more, t->frame, t->room * sizeof *more);
		t->frame = more;
		t->room = room;
	}
	more = &t->frame[t->depth];
	if (!more->mult && !alloc_frame(t, more))
		return NULL;
	t->depth++;
	return more;
}

static void save(const struct km_tree *t, struct km_frame *f)
{
	const struct km_relax *r = t->relax;
	size_t charges = t->core->ncharges;

	memcpy(f->len, r->len, t->core->nplaces * sizeof *f->len);
	memcpy(f->floor, r->floor, charges * sizeof *f->floor);
	memcpy(f->ceiling, r->ceiling, charges * sizeof *f->ceiling);
	memcpy(f->mode, r->mode, charges);
	memcpy(f->mult, r->mult, r->nmult * sizeof *f->mult);
}

static void restore(struct km_tree *t, const struct km_frame *f)
{
	struct km_relax *r = t->relax;
	size_t charges = t->core->ncharges;

	for (uint32_t s = 0; s < t->core->nplaces; s++)
		km_relax_restore(r, s, f->len[s]);
	memcpy(r->floor, f->floor, charges * sizeof *f->floor);
	memcpy(r->ceiling, f->ceiling, charges * sizeof *f->ceiling);
	memcpy(r->mode, f->mode, charges);
	memcpy(r->mult, f->mult, r->nmult * sizeof *f->mult);
}

/* false: nothing is left on that side. */
static bool answer(struct km_relax *r, const struct km_branch *ask, bool side)
{
	const uint32_t *row = r->list + r->core->start[ask->id];
	uint32_t i = 0;

	switch (ask->kind) {
	case KM_BRANCH_PIECES:
		if (side)
			r->floor[ask->id] = ask->n + 1;
		else if (ask->n == 0)
			return km_relax_close(r, ask->id);
		else
			r->ceiling[ask->id] = ask->n;
		return true;
	case KM_BRANCH_POSTAGE:
		r->mode[ask->id] = side ? 2 : 1;
		return true;
	default:
		if (side) {
			km_relax_keep(r, ask->id, ask->n);
			return true;
		}
		while (row[i] != ask->n)
			i++;
		km_relax_drop(r, ask->id, i);
		return r->len[ask->id] > 0;
	}
}

/* Put the question of an open node and take its first side. */
static bool descend(struct km_tree *t, int64_t bound, bool *left)
{
	struct km_frame *f = next_frame(t);

	if (!f)
		return false;
	f->bound = bound;
	km_tree_choose(t, &f->ask);
	save(t, f);
	*left = answer(t->relax, &f->ask, f->ask.side);
	return true;
}

/* Take the second side of the nearest question that still matters; false:
 * there is none. */
static bool turn_back(struct km_tree *t, int64_t *bound)
{
	while (t->depth > 0) {
		struct km_frame *f = &t->frame[--t->depth];

		restore(t, f);
		*bound = f->bound;
		if (f->bound <= t->cutoff &&
		    answer(t->relax, &f->ask, !f->ask.side))
			return true;
	}
	return false;
}

/* ---- the search --------------------------------------------------------- */

/* The smallest value that the scaled bound allows. */
static int64_t whole(const struct km_relax *r, int64_t bound)
{
	int64_t unit = (int64_t)1 << r->shift;
	int64_t v = bound / unit + (bound % unit > 0), off;

	off = (v - r->base) % r->step;
	return off > 0 ? v + r->step - off : v - off;
}

static void report(const struct km_tree *t, int64_t open_bound, bool stopped,
		   int64_t least, struct km_solve_plan *out)
{
	uint32_t *choice = out->option_of;

	out->feasible = t->found;
	out->points = t->found ? t->points : 0;
	out->money = t->found ? t->money : 0;
	out->value = t->found ? t->value : 0;
	out->nodes = t->nodes;
	out->bound = t->found ? t->value : 0;
	if (stopped) {
		int64_t b = whole(t->relax, open_bound);

		b = b < least ? least : b;
		out->bound = t->found && b > t->value ? t->value : b;
	}
	out->proved = !stopped || (t->found && out->bound == out->value);
	for (uint32_t s = 0; choice && t->found && s < t->core->nplaces; s++)
		choice[s] = t->core->orig[t->best[s]];
}

/* The lowest bound of what was not searched. */
static int64_t open_bound(const struct km_tree *t, int64_t here)
{
	for (uint32_t i = 0; i < t->depth; i++)
		if (t->frame[i].bound < here)
			here = t->frame[i].bound;
	return here;
}

static void begin(struct km_tree *t, const struct km_goal *goal)
{
	const struct km_relax *r = t->relax;
	int64_t most = goal->most < r->worth_most ? goal->most : r->worth_most;

	t->depth = 0;
	t->nodes = 0;
	t->found = false;
	t->cutoff = most * ((int64_t)1 << r->shift);
	t->most = most;
	if (goal->hint)
		km_tree_offer(t, goal->hint);
}

static bool has_nothing(const struct km_relax *r)
{
	for (uint32_t s = 0; s < r->core->nplaces; s++)
		if (r->len[s] == 0)
			return true;
	return false;
}

enum km_status km_tree_search(struct km_tree *t, const struct km_goal *goal,
			      struct km_solve_plan *out)
{
	int64_t bound = INT64_MIN, best;
	bool left, stopped = false;

	begin(t, goal);
	left = !has_nothing(t->relax);
	while (left || turn_back(t, &bound)) {
		if ((t->found && t->value <= goal->least) ||
		    t->nodes >= goal->nodes) {
			stopped = !t->found || t->value > goal->least;
			break;
		}
		t->nodes++;
		left = raise_bound(t, t->nodes == 1 ? ROOT_TURNS : NODE_TURNS,
				   &best);
		if (t->nodes == 1)
			memcpy(t->root, t->keep,
			       t->relax->nmult * sizeof *t->root);
		if (best > bound)
			bound = best;
		if (left && !descend(t, bound, &left))
			return KM_ENOMEM;
	}
	report(t, open_bound(t, bound), stopped, goal->least, out);
	return KM_OK;
}
