/* SPDX-License-Identifier: MIT */
#include "audit/worth.h"

#include "audit/money.h"
#include "base/num.h"

static bool add_tool(const struct km_audit *a, struct km_worth *w,
		     const struct km_tool *t)
{
	const struct km_tool_more *m = t->more;
	bool fits = true;

	w->tools++;
	if (!m)
		return true;
	w->photographed += m->n_photos > 0;
	w->old += km_value_is_old(a, t);
	if (m->paid.minor >= 0) {
		w->paid_for++;
		fits &= km_add(w->paid, m->paid.minor, &w->paid);
	}
	if (m->value.minor >= 0) {
		w->valued++;
		fits &= km_add(w->value, m->value.minor, &w->value);
	}
	return fits;
}

static bool add_kit(const struct km_audit *a, struct km_kit_audit *k)
{
	k->worth = (struct km_worth){ .tools = 0 };
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!s->slot->durable)
			continue;
		for (int32_t n = 0; n < s->slot->count; n++) {
			const struct km_piece *p = &s->pieces[n];

			if (p->match && p->match->tool && !p->expected &&
			    !add_tool(a, &k->worth, p->match->tool))
				return false;
		}
	}
	return true;
}

enum km_status km_worth_add_up(struct km_audit *a)
{
	struct km_worth *all = &a->worth;

	*all = (struct km_worth){ .tools = 0 };
	for (uint32_t i = 0; i < a->n_kits; i++) {
		const struct km_worth *w = &a->kits[i].worth;

		if (!add_kit(a, &a->kits[i]) ||
		    !km_add(all->paid, w->paid, &all->paid) ||
		    !km_add(all->value, w->value, &all->value))
			return KM_ERANGE;
		all->tools += w->tools;
		all->photographed += w->photographed;
		all->paid_for += w->paid_for;
		all->valued += w->valued;
		all->old += w->old;
	}
	return KM_OK;
}

/* Came it with another machine, or was it bought? */
static bool from_elsewhere(const struct km_tool *t)
{
	const struct km_tool_more *m = t->more;

	return m && (m->came_with || m->bought_for_slot ||
		     m->paid.minor >= 0);
}

/* What is wrong is told before where it comes from, and a copy before what
 * else may be wrong with it. */
enum km_origin km_piece_origin(const struct km_slot_audit *s, int32_t piece)
{
	const struct km_piece *p = &s->pieces[piece];
	const struct km_match *m = p->match;
	const union km_value *made;

	if (!m || !m->tool || p->expected)
		return KM_ORIGIN_OPEN;
	made = km_trait(&m->tool->traits, KM_A_MADE);
	if (made && made->made == KM_MADE_REPRODUCTION)
		return KM_ORIGIN_REPRODUCTION;
	if (m->verdict == KM_SUBSTITUTE)
		return KM_ORIGIN_STANDS_IN;
	if (m->verdict == KM_UNVERIFIED)
		return KM_ORIGIN_UNPROVED;
	if (m->came_with)
		return KM_ORIGIN_MACHINE;
	return from_elsewhere(m->tool) ? KM_ORIGIN_ELSEWHERE
				       : KM_ORIGIN_UNRECORDED;
}

void km_origin_count(struct km_kit_audit *k)
{
	for (int i = 0; i < KM_ORIGINS; i++)
		k->origin[i] = 0;
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!s->firm || s->slot->unused || !s->slot->durable)
			continue;
		for (int32_t n = 0; n < s->slot->count; n++)
			k->origin[km_piece_origin(s, n)]++;
	}
}
