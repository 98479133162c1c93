/* SPDX-License-Identifier: MIT */
#include "audit/jobs.h"

#include "plan/route.h"
#include "unit/date.h"

struct maker {
	struct km_arena *mem;
	const struct km_jobs_input *in;
	struct km_jobs *jobs;
	struct km_job_tool *tools;
	struct km_job_barred *barred;
};

static const struct km_rules *rules_of(const struct maker *m,
				       const struct km_kit_audit *k)
{
	return &m->in->variants->parties[k - m->in->audit->kits].rules;
}

static void set_task(const struct maker *m, const struct km_kit_audit *k,
		     const struct km_match *x, struct km_task *t)
{
	km_task_init(t, x, rules_of(m, k), m->in->costs, NULL);
}

/* ------------------------------------------------------------------ */
/* One tool through its steps                                          */

/* A bake takes at least the hours that the tool's hardness asks for. */
static void bake_hours(struct km_job_step *s, const struct km_job_hardness *h)
{
	if (s->process->id != KM_PROCESS_BAKE_RELIEF ||
	    h->bake != KM_JOB_BAKE_HOURS)
		return;
	for (int i = 0; i < 3; i++)
		if (i < 2 || s->elapsed[i] < h->hours * 100)
			s->elapsed[i] = h->hours * 100;
}

static void walk(const struct maker *m, const struct km_task *t,
		 struct km_job_tool *x)
{
	struct km_state s = t->start;

	x->found = s.words;
	for (uint32_t i = 0; i < x->route->n_steps; i++) {
		const struct km_process *p = x->route->steps[i];
		const struct km_step *step = &m->in->costs->step[p->id];
		struct km_job_step *one = &x->steps[i];
		int16_t before = s.marking;

		(void)km_state_after(t, &s, p->id, &s);
		one->process = p;
		one->words = s.words;
		one->mark_fainter = t->has_mark && s.marking < before;
		for (int k = 0; k < 3; k++) {
			one->hands_min[k] = step->hands_min[k];
			one->elapsed[k] = step->elapsed[k];
		}
		bake_hours(one, &x->hardness);
		for (int k = 0; k < 3; k++)
			x->elapsed[k] += one->elapsed[k];
		x->sent |= km_job_is_shop(p);
	}
	x->new_coat = s.finish != t->start.finish ||
		      (s.words & ~t->start.words & KM_S_NEW_COAT);
	if (s.finish)
		x->becomes = &km_finishes[s.finish - 1];
}

static enum km_status add_tool(struct maker *m, const struct km_plan_place *p)
{
	struct km_job_tool *x = &m->tools[m->jobs->n_tools++];
	struct km_task t;
	enum km_status st;

	x->kit = p->kit;
	x->slot = p->slot;
	x->match = p->chosen->match;
	x->route = p->chosen->route;
	x->steps = km_arena_alloc(m->mem, x->route->n_steps, sizeof *x->steps);
	if (!x->steps)
		return KM_ENOMEM;
	set_task(m, x->kit, x->match, &t);
	x->hardness = km_job_hardness(x->match, x->route);
	x->bars = km_job_bars(&t, x->match);
	walk(m, &t, x);
	st = km_job_openings(m->mem, x);
	km_job_cautions(x);
	m->jobs->cautions |= x->cautions;
	for (int k = 0; k < 3; k++)
		m->jobs->hands_min[k] += x->route->hands_min[k];
	return st;
}

static bool has_work(const struct km_plan_place *p)
{
	return p->chosen->match && p->chosen->route &&
	       p->chosen->route->n_steps;
}

static enum km_status add_tools(struct maker *m)
{
	const struct km_plan *plan = m->in->audit->plan;
	enum km_status st = KM_OK;

	m->tools = km_arena_alloc(m->mem, plan->n_places, sizeof *m->tools);
	if (!m->tools)
		return KM_ENOMEM;
	m->jobs->tools = m->tools;
	for (uint32_t i = 0; i < plan->n_places && st == KM_OK; i++)
		if (has_work(&plan->places[i]))
			st = add_tool(m, &plan->places[i]);
	return st;
}

/* ------------------------------------------------------------------ */
/* What must not be done                                               */

static struct km_job_barred *barred_of(struct maker *m,
				       const struct km_kit_audit *k,
				       const struct km_slot *slot,
				       const struct km_tool *tool)
{
	struct km_job_barred *b = &m->barred[m->jobs->n_barred];

	*b = (struct km_job_barred){ .kit = k, .slot = slot, .tool = tool,
				     .pit_nm = -1, .mark_nm = -1 };
	return b;
}

static void bar(struct maker *m, const struct km_kit_audit *k,
		const struct km_match *x)
{
	struct km_job_barred *b = barred_of(m, k, x->slot, x->tool);
	const struct km_condition *c = x->tool ? x->tool->condition
					       : x->offer->condition;
	struct km_task t;

	set_task(m, k, x, &t);
	b->offer = x->tool ? NULL : x->offer;
	b->bars = km_job_bars(&t, x);
	b->allowed = km_job_allowed(&t);
	if (c) {
		b->pit_nm = c->pit_nm;
		b->mark_nm = c->mark_depth_nm;
	}
	m->jobs->n_barred += b->bars != 0;
}

/* Is a tool that sits in a place, or that the plan works on, to be warned
 * of: what is right, or kept as found, is left alone anyhow. */
static bool is_open(const struct km_kit_audit *k, const struct km_match *x)
{
	return x && x->tool && x->verdict != KM_RIGHT &&
	       k->standard != KM_AS_FOUND;
}

static const struct km_match *seated(const struct km_slot_audit *s, int32_t i)
{
	return s->pieces ? s->pieces[i].match : NULL;
}

static bool sits_there(const struct km_job_tool *x)
{
	for (int32_t i = 0; i < x->slot->slot->count; i++)
		if (seated(x->slot, i) == x->match &&
		    is_open(x->kit, x->match))
			return true;
	return false;
}

static size_t most_barred(const struct km_audit *a, const struct km_jobs *jobs)
{
	size_t n = jobs->n_tools;

	for (uint32_t k = 0; k < a->n_kits; k++) {
		n += a->kits[k].n_remarks;
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++)
			n += (size_t)a->kits[k].slots[i].slot->count;
	}
	return n;
}

static void not_ours(struct maker *m, const struct km_kit_audit *k)
{
	for (uint32_t i = 0; i < k->n_remarks; i++) {
		const struct km_remark *r = &k->remarks[i];

		if (r->what != KM_REMARK_NOT_MINE || !r->tool)
			continue;
		barred_of(m, k, r->slot, r->tool)->bars = KM_BAR_NOT_OURS;
		m->jobs->n_barred++;
	}
}

static enum km_status add_barred(struct maker *m)
{
	const struct km_audit *a = m->in->audit;

	m->barred = km_arena_alloc(m->mem, most_barred(a, m->jobs),
				   sizeof *m->barred);
	if (!m->barred)
		return KM_ENOMEM;
	m->jobs->barred = m->barred;
	for (uint32_t k = 0; k < a->n_kits; k++) {
		const struct km_kit_audit *kit = &a->kits[k];

		for (uint32_t i = 0; i < kit->kit->n_slots; i++) {
			const struct km_slot_audit *s = &kit->slots[i];

			for (int32_t n = 0; n < s->slot->count; n++)
				if (is_open(kit, seated(s, n)))
					bar(m, kit, seated(s, n));
		}
		for (uint32_t i = 0; i < m->jobs->n_tools; i++)
			if (m->tools[i].kit == kit &&
			    !sits_there(&m->tools[i]))
				bar(m, kit, m->tools[i].match);
		not_ours(m, kit);
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Kept as found, and away                                             */

static enum km_status keep(struct maker *m, const struct km_kit_audit *k,
			   const struct km_slot_audit *s,
			   const struct km_match *x, struct km_job_kept *out)
{
	const struct km_route *routes;
	uint32_t n = 0;
	enum km_status st = km_route_find(m->mem, m->in->scratch, x,
					  rules_of(m, k), m->in->costs, NULL,
					  &routes, &n);

	if (st != KM_OK || !n)
		return st;
	*out = (struct km_job_kept){ k, s, x, &routes[0] };
	m->jobs->n_kept++;
	return KM_OK;
}

static enum km_status add_kept(struct maker *m)
{
	const struct km_audit *a = m->in->audit;
	struct km_job_kept *v = km_arena_alloc(m->mem,
					       most_barred(a, m->jobs),
					       sizeof *v);
	enum km_status st = KM_OK;

	if (!v)
		return KM_ENOMEM;
	m->jobs->kept = v;
	for (uint32_t k = 0; k < a->n_kits; k++) {
		const struct km_kit_audit *kit = &a->kits[k];

		if (kit->standard != KM_AS_FOUND)
			continue;
		for (uint32_t i = 0; i < kit->kit->n_slots; i++)
			for (int32_t n = 0; n < kit->slots[i].slot->count; n++) {
				const struct km_match *x =
					seated(&kit->slots[i], n);

				if (st == KM_OK && x && x->tool)
					st = keep(m, kit, &kit->slots[i], x,
						  &v[m->jobs->n_kept]);
			}
	}
	return st;
}

static const struct km_slot *slot_with(const struct km_audit *a,
				       const struct km_tool *t)
{
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++) {
			const struct km_slot_audit *s = &a->kits[k].slots[i];

			for (int32_t n = 0; n < s->slot->count; n++)
				if (seated(s, n) && seated(s, n)->tool == t)
					return s->slot;
		}
	return NULL;
}

static int32_t overdue(const struct km_audit *a, const struct km_tool *t)
{
	struct km_date due = t->more ? t->more->due : (struct km_date){ 0 };

	if (!a->options.today.year || !due.year ||
	    km_date_compare(due, a->options.today) >= 0)
		return 0;
	return km_date_days(a->options.today) - km_date_days(due);
}

static enum km_status add_away(struct maker *m)
{
	const struct km_audit *a = m->in->audit;
	const struct km_tools *bench = &a->load->bench;
	struct km_job_away *v;
	size_t n = 0;

	for (size_t i = 0; i < bench->n; i++)
		n += km_tool_at(bench, i)->status == KM_AT_PLATER;
	v = km_arena_alloc(m->mem, n, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	m->jobs->away = v;
	for (size_t i = 0; i < bench->n; i++) {
		const struct km_tool *t = km_tool_at(bench, i);

		if (t->status == KM_AT_PLATER)
			v[m->jobs->n_away++] = (struct km_job_away){
				t, slot_with(a, t), overdue(a, t) };
	}
	return KM_OK;
}

/* ------------------------------------------------------------------ */

enum km_status km_jobs_make(struct km_arena *mem,
			    const struct km_jobs_input *in,
			    const struct km_jobs **out)
{
	struct maker m = { .mem = mem, .in = in };
	enum km_status st = KM_ENOMEM;

	m.jobs = km_arena_alloc(mem, 1, sizeof *m.jobs);
	if (m.jobs)
		st = add_tools(&m);
	if (st == KM_OK)
		st = km_jobs_group(mem, in->costs, in->audit->plan, m.jobs,
				   m.tools);
	if (st == KM_OK)
		st = add_barred(&m);
	if (st == KM_OK)
		st = add_kept(&m);
	if (st == KM_OK)
		st = add_away(&m);
	if (st == KM_OK)
		*out = m.jobs;
	return st;
}
