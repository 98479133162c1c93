/* SPDX-License-Identifier: MIT */
#include "audit/jobs.h"

#include <string.h>

#include "plan/route.h"

#define P(id) KM_BIT(KM_PROCESS_##id)
/* What takes dirt, grease, stain and rust off. */
#define CLEANING (P(WASH_DEGREASE) | P(HAND_CLEAN) | P(WIRE_BRUSH_HAND) | \
		  P(WIRE_WHEEL) | P(BLAST_BEAD) | P(TUMBLE_DRY_MILD) | \
		  P(TUMBLE_WET_ABRASIVE) | P(TUMBLE_STEEL) | \
		  P(SOAK_CITRIC) | P(SOAK_PHOSPHORIC) | P(SOAK_CHELATE) | \
		  P(DERUST_ELECTROLYTIC))
/* What puts a coat of a thickness that counts on the faces of a jaw. */
#define COATING (P(PLATE_ZINC) | P(PLATE_CADMIUM) | P(PLATE_NICKEL) | \
		 P(PLATE_NICKEL_CHROME) | P(PHOSPHATE))

static const struct km_traits *traits_of(const struct km_match *m)
{
	return m->traits ? m->traits : m->tool ? &m->tool->traits
					       : &m->offer->traits;
}

static const struct km_condition *condition_of(const struct km_match *m)
{
	return m->tool ? m->tool->condition : m->offer->condition;
}

/* ------------------------------------------------------------------ */
/* What must not be done                                               */

static bool over_45(const struct km_hardness *h)
{
	return h->from > KM_NO_ZINC_HRC10 || h->to > KM_NO_ZINC_HRC10;
}

static bool is_celluloid(const struct km_match *m)
{
	const union km_value *v = km_trait(traits_of(m), KM_A_HANDLE_MATERIAL);

	return v && v->material->id == KM_MATERIAL_NITRATE_HANDLE;
}

uint32_t km_job_bars(const struct km_task *t, const struct km_match *m)
{
	uint32_t bars = 0;

	if (t->guards & KM_GUARD_CRACKED)
		bars |= KM_BAR_CRACKED;
	if (t->guards & KM_GUARD_LEAD_UNTESTED)
		bars |= KM_BAR_LEAD_PAINT;
	if (t->bar == KM_MARK_SHALLOW)
		bars |= KM_BAR_MARK_SHALLOW;
	if (t->bar == KM_MARK_DEPTH_UNKNOWN)
		bars |= KM_BAR_MARK_DEPTH;
	if (traits_of(m)->unread & (uint32_t)1 << KM_A_MARK)
		bars |= KM_BAR_MARK_UNREAD;
	if (t->plated_unknown)
		bars |= KM_BAR_PLATING_UNKNOWN;
	else if (t->cadmium)
		bars |= KM_BAR_CADMIUM;
	if (is_celluloid(m))
		bars |= KM_BAR_CELLULOID;
	if (t->hardness.tested && over_45(&t->hardness))
		bars |= KM_BAR_TOO_HARD;
	return bars;
}

uint64_t km_job_allowed(const struct km_task *t)
{
	struct km_state s = t->start;
	uint64_t allowed = 0;

	s.done = ~(uint64_t)0;	/* needs aside: only what bars it counts */
	for (int p = 0; p < KM_PROCESSES; p++)
		if ((CLEANING & KM_BIT(p)) &&
		    km_state_allows(t, &s, (enum km_process_id)p))
			allowed |= KM_BIT(p);
	return allowed;
}

/* ------------------------------------------------------------------ */
/* Hydrogen                                                            */

static bool is_plated(const struct km_route *r)
{
	for (uint32_t i = 0; i < r->n_steps; i++)
		if (km_caution_mask(r->steps[i]->cautions) &
		    KM_CAUTION_BIT(C24))
			return true;
	return false;
}

struct km_job_hardness km_job_hardness(const struct km_match *m,
				       const struct km_route *r)
{
	static const enum km_job_bake is[] = {
		[KM_BAKE_NOT_NEEDED] = KM_JOB_BAKE_NO,
		[KM_BAKE_HOURS] = KM_JOB_BAKE_HOURS,
		[KM_BAKE_BEYOND] = KM_JOB_BAKE_ASK,
		[KM_BAKE_UNKNOWN] = KM_JOB_BAKE_UNKNOWN,
	};
	struct km_hardness h = km_task_hardness(m);
	struct km_bake b = km_route_bake(m, r);

	return (struct km_job_hardness){
		.from = h.from, .to = h.to, .tested = h.tested,
		.over_45 = over_45(&h) && is_plated(r),
		.bake = is[b.is], .hours = b.hours,
		.c_from = b.c_from, .c_to = b.c_to, .source = b.source,
	};
}

/* ------------------------------------------------------------------ */
/* Openings                                                            */

/* The size that an end is marked with, or was read as. */
static const struct km_size *size_of_end(const struct km_match *m, uint32_t end)
{
	const union km_value *v = km_trait(traits_of(m), KM_A_SIZES);

	if (v && end < v->sizes.n)
		return v->sizes.v[end];
	for (uint32_t i = 0; i < m->n_ends && i < KM_ENDS; i++)
		if (m->end[i].tool_end == end)
			return m->end[i].have;
	return NULL;
}

static bool coat_of(const struct km_route *r, int64_t thick[3])
{
	bool any = false;

	memset(thick, 0, 3 * sizeof *thick);
	for (uint32_t i = 0; i < r->n_steps; i++) {
		if (!(COATING & KM_BIT(r->steps[i]->id)))
			continue;
		for (int k = 0; k < 3; k++)
			thick[k] += r->steps[i]->per_side_nm[k];
		any = true;
	}
	return any;
}

enum km_status km_job_openings(struct km_arena *mem, struct km_job_tool *t)
{
	const union km_value *v = km_trait(traits_of(t->match), KM_A_OPENINGS);
	struct km_job_opening *out;
	int64_t thick[3];

	if (!v || !coat_of(t->route, thick))
		return KM_OK;
	out = km_arena_alloc(mem, v->spans.n, sizeof *out);
	if (!out)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < v->spans.n; i++) {
		const struct km_size *s = size_of_end(t->match, i);
		int64_t was = v->spans.v[i].nm;

		if (!was)
			continue;
		out[t->n_openings++] = (struct km_job_opening){
			.end = i + 1, .was_nm = was,
			.at_most_nm = was - 2 * thick[0],
			.becomes_nm = was - 2 * thick[1],
			.at_least_nm = was - 2 * thick[2],
			.least_nm = s ? s->opening.min_nm : 0,
		};
	}
	t->openings = out;
	return KM_OK;
}

/* ------------------------------------------------------------------ */
/* Cautions                                                            */

static uint64_t of_handle(const struct km_match *m)
{
	const struct km_condition *c = condition_of(m);
	const union km_value *v = km_trait(traits_of(m), KM_A_HANDLE_MATERIAL);
	bool wood = !v || v->material->id == KM_MATERIAL_WOOD_HANDLE;

	if (!c)
		return 0;
	if (c->handle == KM_HANDLE_STICKY)
		return km_caution_of_condition("handle_sticky");
	if (c->handle == KM_HANDLE_SPLIT && wood)
		return km_caution_of_condition("handle_split");
	if (c->handle == KM_HANDLE_LOOSE && wood)
		return km_caution_of_condition("handle_loose");
	return 0;
}

static uint64_t of_hardness(const struct km_job_hardness *h)
{
	uint64_t set = 0;

	if (h->bake == KM_JOB_BAKE_HOURS || h->bake == KM_JOB_BAKE_ASK)
		set |= km_caution_of_condition("hrc_31_up");
	if (h->over_45)
		set |= km_caution_of_condition("hrc_over_45");
	return set;
}

void km_job_cautions(struct km_job_tool *t)
{
	struct km_caution_tool tool = km_task_caution_tool(t->match);
	uint64_t hard = of_hardness(&t->hardness);

	t->cautions = km_route_cautions(t->match, t->route) | hard |
		      of_handle(t->match);
	for (uint32_t i = 0; i < t->route->n_steps; i++)
		if (km_job_is_shop(t->route->steps[i]))
			t->sent_cautions |= hard | km_caution_of_process(
				t->route->steps[i], &tool);
	if (t->sent)
		t->sent_cautions |= km_caution_of_tool(&tool);
}

bool km_job_is_shop(const struct km_process *p)
{
	return !strncmp(p->place, "shop", 4);
}
