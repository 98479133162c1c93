/* SPDX-License-Identifier: MIT */
/*
 * plan_text - problems of src/plan/solve.h as plain text, for the programs
 * that compare them with other solvers.
 *
 * Whole numbers, separated by blanks:
 *
 *	places resources charges groups options asks
 *	capacity of each resource
 *	minimums paid by each group
 *	each charge:  0 most minimum group(-1) n table[0..n-1]
 *		  or  1 postage free_over(-1) minimum_order top_up
 *	each option:  place money points
 *		      n resources.. n (charge goods)..
 *	each ask:     what points_weight money_weight budget(-1) limit(-1)
 *		      what: 0 the best plan, 1 the first of the best,
 *		      2 the frontier
 */
#ifndef PLAN_TEXT_H
#define PLAN_TEXT_H

#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "base/arena.h"
#include "plan/solve.h"

struct plan_ask {
	int what;
	struct km_solve_ask ask;
};

struct plan_text {
	struct km_solve p;
	struct plan_ask *ask;
	uint32_t nasks;
};

static bool plan_number(int64_t *v)
{
	return scanf("%" SCNd64, v) == 1;
}

static bool plan_count(uint32_t *v)
{
	return scanf("%" SCNu32, v) == 1;
}

/* -1 stands for none. */
static bool plan_bound(int64_t *v)
{
	if (!plan_number(v))
		return false;
	if (*v < 0)
		*v = KM_SOLVE_FREE;
	return true;
}

static bool plan_charge(struct km_arena *mem, struct km_solve_charge *c)
{
	int64_t kind, group, top_up;
	int64_t *table;

	if (!plan_number(&kind))
		return false;
	if (kind == 1) {
		c->kind = KM_SOLVE_PARCEL;
		if (!plan_number(&c->postage) || !plan_bound(&c->free_over) ||
		    !plan_number(&c->minimum_order) || !plan_number(&top_up))
			return false;
		c->top_up = top_up != 0;
		return true;
	}
	if (!plan_count(&c->most) || !plan_number(&c->minimum) ||
	    !plan_number(&group) || !plan_count(&c->ntable))
		return false;
	c->group = group < 0 ? KM_SOLVE_NONE : (uint32_t)group;
	table = km_arena_alloc(mem, c->ntable, sizeof *table);
	for (uint32_t i = 0; i < c->ntable; i++)
		if (!plan_number(&table[i]))
			return false;
	c->table = table;
	return true;
}

static bool plan_option(struct km_arena *mem, struct km_solve_option *o)
{
	uint32_t *resource;
	struct km_solve_use *use;

	if (!plan_count(&o->place) || !plan_number(&o->money) ||
	    !plan_number(&o->points) || !plan_count(&o->nresources))
		return false;
	resource = km_arena_alloc(mem, o->nresources + 1, sizeof *resource);
	for (uint32_t i = 0; i < o->nresources; i++)
		if (!plan_count(&resource[i]))
			return false;
	o->resource = resource;
	if (!plan_count(&o->nuses))
		return false;
	use = km_arena_alloc(mem, o->nuses + 1, sizeof *use);
	for (uint32_t i = 0; i < o->nuses; i++)
		if (!plan_count(&use[i].charge) || !plan_number(&use[i].goods))
			return false;
	o->use = use;
	return true;
}

static bool plan_counts(struct km_arena *mem, uint32_t n, const uint32_t **out)
{
	uint32_t *v = km_arena_alloc(mem, (size_t)n + 1, sizeof *v);

	for (uint32_t i = 0; i < n; i++)
		if (!plan_count(&v[i]))
			return false;
	*out = v;
	return true;
}

static bool plan_asks(struct km_arena *mem, struct plan_text *t)
{
	t->ask = km_arena_alloc(mem, t->nasks + 1, sizeof *t->ask);
	for (uint32_t i = 0; i < t->nasks; i++) {
		struct km_solve_ask *a = &t->ask[i].ask;
		int64_t what;

		if (!plan_number(&what) || !plan_number(&a->points_weight) ||
		    !plan_number(&a->money_weight) || !plan_bound(&a->budget) ||
		    !plan_bound(&a->limit))
			return false;
		t->ask[i].what = (int)what;
	}
	return true;
}

/* false: the input has ended, or makes no sense. */
static bool plan_read(struct km_arena *mem, struct plan_text *t)
{
	struct km_solve *p = &t->p;
	struct km_solve_charge *charge;
	struct km_solve_option *option;

	*t = (struct plan_text){ 0 };
	if (!plan_count(&p->nplaces) || !plan_count(&p->nresources) ||
	    !plan_count(&p->ncharges) || !plan_count(&p->ngroups) ||
	    !plan_count(&p->noptions) || !plan_count(&t->nasks) ||
	    !plan_counts(mem, p->nresources, &p->capacity) ||
	    !plan_counts(mem, p->ngroups, &p->paid))
		return false;
	charge = km_arena_alloc(mem, p->ncharges + 1, sizeof *charge);
	option = km_arena_alloc(mem, p->noptions + 1, sizeof *option);
	for (uint32_t i = 0; i < p->ncharges; i++)
		if (!plan_charge(mem, &charge[i]))
			return false;
	for (uint32_t i = 0; i < p->noptions; i++)
		if (!plan_option(mem, &option[i]))
			return false;
	p->charge = charge;
	p->option = option;
	return plan_asks(mem, t);
}

#endif
