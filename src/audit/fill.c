/* SPDX-License-Identifier: MIT */
#include "audit/fill.h"

#include "audit/choice.h"
#include "audit/tally.h"
#include "unit/serial.h"

#define CANDIDATES_SHOWN 5

/* What work could do to the mark of a tool that is not to be left as it is. */
static uint32_t care_of(const struct km_rules *rules, const struct km_match *m)
{
	const struct km_condition *c = m->tool ? m->tool->condition : NULL;
	const struct km_traits *t = m->tool ? &m->tool->traits : NULL;
	uint32_t mark = (uint32_t)1 << KM_A_MARK;
	uint32_t care = 0;

	if (!t || rules->standard == KM_AS_FOUND || m->verdict == KM_RIGHT)
		return 0;
	if (t->unread & mark)
		care |= KM_CARE_MARK_UNREAD;
	if (!(t->has & mark) || !c || c->pits <= KM_PITS_NONE)
		return care;
	if (c->mark_depth_nm < 0)
		return care | KM_CARE_MARK_DEPTH;
	if (c->pit_nm >= c->mark_depth_nm)
		care |= KM_CARE_MARK_SHALLOW;
	return care;
}

static enum km_status fill_slot(struct km_arena *mem,
				const struct km_party *party,
				const struct km_seat *seat,
				struct km_candidates *c, uint32_t most,
				struct km_slot_audit *s)
{
	s->slot = seat->slot;
	s->firm = seat->firm;
	s->depends = party->depends && party->depends[s->slot->index];
	s->pieces = seat->pieces;
	s->n_candidates = c->n < most ? c->n : most;
	s->n_more = c->n - s->n_candidates;
	s->candidates = km_arena_alloc(mem, s->n_candidates,
				       sizeof(*s->candidates));
	if (!s->candidates)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_candidates; i++) {
		s->candidates[i] = km_candidates_match(mem, c, i);
		if (!s->candidates[i])
			return KM_ENOMEM;
	}
	for (int32_t i = 0; i < s->slot->count; i++)
		if (s->pieces[i].match) {
			s->pieces[i].care = care_of(&party->rules,
						    s->pieces[i].match);
			s->filled += !s->pieces[i].expected;
		}
	km_slot_verdict(s);
	return KM_OK;
}

static void limits_in_force(const struct km_rules *r, struct km_kit_limits *l)
{
	l->rust = r->rust;
	l->pits = r->pits;
	l->plate_left = r->plate_left;
	l->colour_pass = r->colour_pass;
	l->colour_note = r->colour_note;
	l->length_usable = r->length_usable;
}

static void place_serial(const struct km_party *p, struct km_kit_audit *kit)
{
	const struct km_serials *s = &p->kit->serials;

	if (!p->machine)
		return;
	kit->serial_outside = km_witness_of(p->kit, p->machine).serial ==
			      KM_SPEAKS_AGAINST;
	kit->outside_by = km_serial_outside(s, km_serial_in(s, p->machine));
}

enum km_status km_kit_fill(struct km_arena *mem, const struct km_party *p,
			   const struct km_seat *seats,
			   struct km_candidates *of, uint32_t most,
			   struct km_kit_audit *kit)
{
	enum km_status st = KM_OK;

	kit->kit = p->kit;
	kit->machine = p->machine;
	kit->standard = p->rules.standard;
	limits_in_force(&p->rules, &kit->limits);
	place_serial(p, kit);
	kit->slots = km_arena_alloc(mem, p->kit->n_slots, sizeof *kit->slots);
	if (!kit->slots)
		return KM_ENOMEM;
	for (uint32_t i = 0; st == KM_OK && i < p->kit->n_slots; i++)
		st = fill_slot(mem, p, &seats[i], &of[i],
			       most ? most : CANDIDATES_SHOWN, &kit->slots[i]);
	return st;
}
