/* SPDX-License-Identifier: MIT */
#include "audit/jobs.h"

#include <stdlib.h>

#include "plan/search.h"

struct grouping {
	struct km_arena *mem;
	const struct km_costs *costs;
	const struct km_plan *plan;
	struct km_jobs *jobs;
	struct km_job_tool *tools;
	uint32_t *next;		/* of each tool: its next step */
	struct km_job *v;
};

/* ------------------------------------------------------------------ */
/* Which process is next                                               */

static const struct km_process *next_of(const struct grouping *g, uint32_t tool)
{
	const struct km_route *r = g->tools[tool].route;

	return g->next[tool] < r->n_steps ? r->steps[g->next[tool]] : NULL;
}

/* Does a tool come to the process later, after other work? */
static bool some_come_later(const struct grouping *g, const struct km_process *p)
{
	for (uint32_t i = 0; i < g->jobs->n_tools; i++) {
		const struct km_route *r = g->tools[i].route;

		for (uint32_t s = g->next[i] + 1; s < r->n_steps; s++)
			if (r->steps[s] == p)
				return true;
	}
	return false;
}

static bool is_earlier(const struct km_process *a, const struct km_process *b)
{
	uint8_t x = km_work_order[a->id], y = km_work_order[b->id];

	return x != y ? x < y : a->id < b->id;
}

/* The first in working order that all who need it are ready for; if there is
 * none, the first that anybody is ready for, which then comes twice. */
static const struct km_process *choose(const struct grouping *g)
{
	const struct km_process *ready = NULL, *any = NULL;

	for (uint32_t i = 0; i < g->jobs->n_tools; i++) {
		const struct km_process *p = next_of(g, i);

		if (!p)
			continue;
		if (!any || is_earlier(p, any))
			any = p;
		if ((!ready || is_earlier(p, ready)) && !some_come_later(g, p))
			ready = p;
	}
	return ready ? ready : any;
}

/* ------------------------------------------------------------------ */
/* Loads                                                               */

/* Alike together: an oven load bakes as long as its hardest piece, a tank or
 * a tumbler holds one coat. */
static int alike(const struct km_job_tool *tools, struct km_job_ref a,
		 struct km_job_ref b)
{
	const struct km_job_tool *x = &tools[a.tool], *y = &tools[b.tool];
	int fx = x->becomes ? (int)x->becomes->id : 0;
	int fy = y->becomes ? (int)y->becomes->id : 0;

	if (x->hardness.hours != y->hardness.hours)
		return x->hardness.hours > y->hardness.hours ? -1 : 1;
	if (fx != fy)
		return fx < fy ? -1 : 1;
	return a.tool < b.tool ? -1 : 1;
}

static void sort_refs(const struct km_job_tool *tools, struct km_job_ref *v,
		      uint32_t n)
{
	for (uint32_t i = 1; i < n; i++) {
		struct km_job_ref one = v[i];
		uint32_t k = i;

		for (; k && alike(tools, one, v[k - 1]) < 0; k--)
			v[k] = v[k - 1];
		v[k] = one;
	}
}

static void fill_loads(struct grouping *g, struct km_job *j,
		       struct km_job_ref *refs)
{
	const struct km_charge *c = &g->costs->charges[
		g->costs->step[j->process->id].charge];

	if (c->kind != KM_CHARGE_LOAD || c->load_pieces < 1)
		return;
	sort_refs(g->tools, refs, j->n_refs);
	j->load_pieces = c->load_pieces;
	for (uint32_t i = 0; i < j->n_refs; i++)
		g->tools[refs[i].tool].steps[refs[i].step].load =
			i / (uint32_t)c->load_pieces + 1;
	j->loads = (j->n_refs - 1) / (uint32_t)c->load_pieces + 1;
}

/* ------------------------------------------------------------------ */
/* One process                                                         */

static void open_lot(const struct grouping *g, struct km_job *j)
{
	for (uint32_t i = 0; i < g->plan->n_bills; i++) {
		const struct km_plan_bill *b = &g->plan->bills[i];

		if (b->kind != KM_BILL_LOT || b->process != j->process)
			continue;
		j->committed = b->committed;
		j->closes = b->closes;
	}
}

/* Pieces are worked on one by one; a load takes as long as its slowest, and
 * loads follow one another; a lot is away as long as its slowest. */
static void add_times(const struct grouping *g, struct km_job *j)
{
	uint32_t load = 0;

	for (uint32_t i = 0; i < j->n_refs; i++) {
		const struct km_job_step *s =
			&g->tools[j->refs[i].tool].steps[j->refs[i].step];
		bool first = j->loads ? s->load != load
				      : j->process->charged_by == KM_BY_PIECE;

		load = s->load;
		for (int k = 0; k < 3; k++) {
			j->hands_min[k] += s->hands_min[k];
			if (first)	/* the slowest of a load comes first */
				j->elapsed[k] += s->elapsed[k];
			else if (!j->loads && s->elapsed[k] > j->elapsed[k])
				j->elapsed[k] = s->elapsed[k];
		}
	}
}

static enum km_status add_job(struct grouping *g, const struct km_process *p)
{
	struct km_job *j = &g->v[g->jobs->n_jobs];
	struct km_job_ref *refs = km_arena_alloc(g->mem, g->jobs->n_tools,
						 sizeof *refs);

	if (!refs)
		return KM_ENOMEM;
	j->process = p;
	j->shop = km_job_is_shop(p);
	j->refs = refs;
	for (uint32_t i = 0; i < g->jobs->n_tools; i++)
		if (next_of(g, i) == p)
			refs[j->n_refs++] = (struct km_job_ref){
				i, g->next[i]++ };
	fill_loads(g, j, refs);
	open_lot(g, j);
	add_times(g, j);
	g->jobs->n_jobs++;
	return KM_OK;
}

enum km_status km_jobs_group(struct km_arena *mem,
			     const struct km_costs *costs,
			     const struct km_plan *plan, struct km_jobs *jobs,
			     struct km_job_tool *tools)
{
	struct grouping g = { .mem = mem, .costs = costs, .plan = plan,
			      .jobs = jobs, .tools = tools };
	const struct km_process *p;
	enum km_status st = KM_OK;
	size_t most = 0;

	for (uint32_t i = 0; i < jobs->n_tools; i++)
		most += tools[i].route->n_steps;
	g.next = km_arena_alloc(mem, jobs->n_tools, sizeof *g.next);
	g.v = km_arena_alloc(mem, most, sizeof *g.v);
	if (!g.next || !g.v)
		return KM_ENOMEM;
	jobs->jobs = g.v;
	while (st == KM_OK && (p = choose(&g)) != NULL)
		st = add_job(&g, p);
	return st;
}
