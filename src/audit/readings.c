/* SPDX-License-Identifier: MIT */
#include "audit/readings.h"

#include "audit/align.h"
#include "audit/fill.h"
#include "audit/tally.h"

#define KINDRED (KM_DIFF_COUNT | KM_DIFF_DURABLE)

static bool differ(const struct km_slot_pair *p)
{
	return p->attrs || p->rest & KINDRED ||
	       km_slot_is_firm(p->a) != km_slot_is_firm(p->b);
}

/* One kit beside the one that is audited; depends: of the latter's slots. */
static enum km_status align(const struct km_readings_input *in,
			    const struct km_kit *first,
			    const struct km_kit *other, bool *depends,
			    struct km_kit_reading *out)
{
	uint32_t *same = km_arena_alloc(in->mem, other->n_slots, sizeof *same);
	struct km_alignment lie;
	enum km_status st;

	if (!same)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < other->n_slots; i++)
		same[i] = other == first ? i : UINT32_MAX;
	*out = (struct km_kit_reading){ .kit = other, .same_as = same };
	if (other == first)
		return KM_OK;
	km_arena_reset(in->scratch);
	st = km_kits_align(in->mem, in->scratch, first, other, in->d, &lie);
	for (uint32_t i = 0; st == KM_OK && i < lie.n; i++) {
		const struct km_slot_pair *p = &lie.pairs[i];

		if (p->a && p->b)
			same[p->b->index] = p->a->index;
		if (p->a && (!p->b || differ(p)))
			depends[p->a->index] = true;
	}
	return st;
}

static enum km_status align_choice(const struct km_readings_input *in,
				   struct km_party *party, struct km_choice *c)
{
	const struct km_kit *first = c->kits[0];
	bool *depends = km_arena_alloc(in->mem, first->n_slots,
				       sizeof *depends);
	enum km_status st = KM_OK;

	c->readings = km_arena_alloc(in->mem, c->n_kits, sizeof *c->readings);
	if (!depends || !c->readings)
		return KM_ENOMEM;
	for (uint32_t i = 0; st == KM_OK && i < c->n_kits; i++)
		st = align(in, first, c->kits[i], depends, &c->readings[i]);
	party->depends = depends;
	return st;
}

/* The kit audit that the same choice had, of kits that are as they were. */
static const struct km_kit_audit *known_of(const struct km_readings_input *in,
					   const struct km_party *party,
					   const struct km_choice *c)
{
	for (uint32_t k = 0; in->known && k < in->known->n_kits; k++) {
		const struct km_kit_audit *a = &in->known->kits[k];
		bool same = a->machine == party->machine &&
			    a->n_readings == c->n_kits;

		for (uint32_t i = 0; same && i < c->n_kits; i++)
			same = a->readings[i].kit == c->kits[i] &&
			       c->kits[i] != in->changed;
		if (same)
			return a;
	}
	return NULL;
}

static enum km_status take_over(const struct km_readings_input *in,
				const struct km_kit_audit *known,
				struct km_party *party, struct km_choice *c)
{
	uint32_t n = known->kit->n_slots;
	bool *depends = km_arena_alloc(in->mem, n, sizeof *depends);

	c->readings = km_arena_alloc(in->mem, c->n_kits, sizeof *c->readings);
	if (!depends || !c->readings)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n; i++)
		depends[i] = known->slots[i].depends;
	for (uint32_t i = 0; i < c->n_kits; i++)
		c->readings[i] = (struct km_kit_reading){
			.kit = c->kits[i],
			.same_as = known->readings[i].same_as };
	party->depends = depends;
	return KM_OK;
}

enum km_status km_readings_align(const struct km_readings_input *in,
				 struct km_variants *v)
{
	enum km_status st = KM_OK;

	for (uint32_t i = 0; st == KM_OK && i < v->n_parties; i++) {
		struct km_party *p = &v->parties[i];
		struct km_choice *c = &v->choices[i];
		const struct km_kit_audit *known;

		if (!c->undecided)
			continue;
		known = known_of(in, p, c);
		st = known ? take_over(in, known, p, c)
			   : align_choice(in, p, c);
	}
	return st;
}

/* ------------------------------------------------------------------ */

static enum km_status audit_alone(const struct km_readings_input *in,
				  const struct km_party *party,
				  struct km_kit_reading *r)
{
	struct km_party *p = km_arena_alloc(in->mem, 1, sizeof *p);
	struct km_variants v = { .parties = p, .n_parties = 1 };
	struct km_kit_audit kit = { .kit = NULL };
	struct km_seating s = { .n = 0 };
	enum km_status st;

	if (!p)
		return KM_ENOMEM;
	p->kit = r->kit;
	p->machine = party->machine;
	km_party_rules(in->load, in->options, p);
	p->rules.book = party->rules.book;
	st = km_seats_fill(in->mem, in->load, &v, in->cure, &s);
	if (st == KM_OK)
		st = km_kit_fill(in->mem, p, s.seats, s.of, 1, &kit);
	if (st != KM_OK)
		return st;
	km_kit_tally(&kit);
	for (uint32_t i = 0; i < r->kit->n_slots; i++) {
		uint32_t same = r->same_as[i];

		kit.slots[i].depends = same == UINT32_MAX ||
				       party->depends[same];
	}
	r->slots = kit.slots;
	r->counts = kit.counts;
	r->meets = kit.meets;
	return KM_OK;
}

static void widen(struct km_range *r, int32_t n, bool first)
{
	if (first || n < r->low)
		r->low = n;
	if (first || n > r->high)
		r->high = n;
}

enum km_status km_readings_fill(const struct km_readings_input *in,
				const struct km_party *party,
				const struct km_choice *c,
				struct km_kit_audit *kit)
{
	enum km_status st = KM_OK;

	for (uint32_t i = 0; st == KM_OK && i < c->n_kits; i++) {
		st = audit_alone(in, party, &c->readings[i]);
		widen(&kit->firm_read, c->readings[i].counts.firm, !i);
		widen(&kit->on_paper_read, c->readings[i].counts.on_paper, !i);
	}
	kit->undecided = c->undecided;
	kit->readings = c->readings;
	kit->n_readings = c->n_kits;
	return st;
}
