/* SPDX-License-Identifier: MIT */
#include "audit/rubric.h"

#include "audit/seats.h"
#include "plan/ways.h"

static int32_t or_nothing(int32_t points)
{
	return points > 0 ? points : 0;
}

bool km_rubric_judges(const struct km_slot_audit *s)
{
	return !s->slot->unused && s->firm &&
	       (s->slot->durable || s->slot->points >= 0);
}

/* What sits in a piece; what is on order does not. */
static void count_piece(const struct km_rubric *r, const struct km_slot *s,
			const struct km_piece *p, struct km_rubric_audit *out)
{
	bool wrong, worn;

	if (!p->match || p->expected) {
		out->missing += km_points_missing(r, s);
		out->n_missing++;
		return;
	}
	km_match_faults(p->match, false, &wrong, &worn);
	out->incorrect += wrong ? or_nothing(r->incorrect) : 0;
	out->n_incorrect += wrong;
	out->condition += worn ? or_nothing(r->condition) : 0;
	out->n_condition += worn;
}

static void count_kit(const struct km_rubric *r, struct km_kit_audit *k)
{
	k->rubric = (struct km_rubric_audit){ .given = true, .total = r->total };
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!km_rubric_judges(s))
			continue;
		for (int32_t j = 0; j < s->slot->count; j++)
			count_piece(r, s->slot, &s->pieces[j], &k->rubric);
	}
}

static void count_extra(const struct km_variants *v,
			const struct km_given *given, struct km_audit *a)
{
	const struct km_tools *bench = &a->load->bench;
	int32_t points = or_nothing(a->load->rubric->extra);

	for (size_t i = 0; points && i < bench->n; i++) {
		const struct km_tool *t = km_tool_at(bench, i);

		if (t->status != KM_IN_KIT || km_given_find(given, t))
			continue;
		for (uint32_t k = 0; k < v->n_parties; k++)
			if (km_may_use(&v->parties[k], t)) {
				a->kits[k].rubric.extra += points;
				break;
			}
	}
}

/* Places that are settled lose nothing; the others what is chosen for them. */
static void after_plan(struct km_audit *a)
{
	for (uint32_t i = 0; i < a->plan->n_places; i++) {
		const struct km_plan_place *p = &a->plan->places[i];

		a->kits[p->kit - a->kits].rubric.after_plan +=
			p->chosen->points;
	}
}

static int64_t capped(const struct km_rubric_audit *r, int64_t points)
{
	return r->total >= 0 && points > r->total ? r->total : points;
}

void km_rubric_count(const struct km_variants *v, const struct km_given *given,
		     struct km_audit *a)
{
	if (!a->load->rubric)
		return;
	for (uint32_t i = 0; i < a->n_kits; i++)
		count_kit(a->load->rubric, &a->kits[i]);
	count_extra(v, given, a);
	if (a->plan)
		after_plan(a);
	for (uint32_t i = 0; i < a->n_kits; i++) {
		struct km_rubric_audit *r = &a->kits[i].rubric;
		int64_t lost = r->missing + r->incorrect + r->condition;

		r->lost = capped(r, lost + r->extra);
		r->after_plan = a->plan ? capped(r, r->after_plan + r->extra)
					: r->lost;
	}
}
