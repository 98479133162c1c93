/* SPDX-License-Identifier: MIT */
#include "kitmuster/audit.h"

#include "audit/fates.h"
#include "audit/jobs.h"
#include "audit/money.h"
#include "audit/pouch.h"
#include "audit/reach.h"
#include "audit/remarks.h"
#include "audit/rubric.h"
#include "audit/seats.h"
#include "audit/surplus.h"
#include "audit/tally.h"
#include "audit/variant.h"
#include "audit/worth.h"
#include "unit/money.h"

#define CANDIDATES_SHOWN 5

struct run {
	struct km_arena *mem, *scratch;
	struct km_audit *a;
	struct km_variants v;
	struct km_seating seating;
	struct km_given given;
	struct km_costs *costs;		/* large: kept off the stack */
	struct km_reach reach;
};

/* The money of the run: that of the prices, else the workshop's, else the
 * first kit's. */
static void choose_currency(struct run *r)
{
	const struct km_load *l = r->a->load;
	const char *code = NULL;

	if (l->prices)
		code = l->prices->currency;
	if (!code && l->workshop)
		code = l->workshop->currency;
	for (uint32_t i = 0; !code && i < r->v.n_parties; i++)
		code = r->v.parties[i].kit->currency;
	r->a->currency = code;
	r->a->decimals = code ? km_currency_decimals(code) : 2;
}

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

static enum km_status fill_slot(struct run *r, const struct km_party *party,
				const struct km_seat *seat,
				struct km_candidates *c,
				struct km_slot_audit *s)
{
	uint32_t most = r->a->options.candidates ? r->a->options.candidates
						 : CANDIDATES_SHOWN;

	s->slot = seat->slot;
	s->firm = seat->firm;
	s->pieces = seat->pieces;
	s->n_candidates = c->n < most ? c->n : most;
	s->n_more = c->n - s->n_candidates;
	s->candidates = km_arena_alloc(r->mem, s->n_candidates,
				       sizeof(*s->candidates));
	if (!s->candidates)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < s->n_candidates; i++) {
		s->candidates[i] = km_candidates_match(r->mem, c, i);
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

static enum km_status fill_kits(struct run *r)
{
	struct km_audit *a = r->a;
	size_t at = 0;

	a->n_kits = r->v.n_parties;
	a->kits = km_arena_alloc(r->mem, a->n_kits, sizeof *a->kits);
	if (!a->kits)
		return KM_ENOMEM;
	for (uint32_t k = 0; k < a->n_kits; k++) {
		const struct km_party *p = &r->v.parties[k];
		struct km_kit_audit *kit = &a->kits[k];

		kit->kit = p->kit;
		kit->machine = p->machine;
		kit->standard = p->rules.standard;
		limits_in_force(&p->rules, &kit->limits);
		if (p->machine)
			kit->outside_by = km_serial_outside(
				&p->kit->serials, p->machine->serial);
		kit->serial_outside = kit->outside_by > 0;
		kit->slots = km_arena_alloc(r->mem, p->kit->n_slots,
					    sizeof *kit->slots);
		if (!kit->slots)
			return KM_ENOMEM;
		for (uint32_t i = 0; i < p->kit->n_slots; i++, at++) {
			enum km_status st =
				fill_slot(r, p, &r->seating.seats[at],
					  &r->seating.of[at], &kit->slots[i]);

			if (st != KM_OK)
				return st;
		}
	}
	return KM_OK;
}

static enum km_status price(struct run *r)
{
	struct km_money_input in = {
		.audit = r->a, .variants = &r->v, .seating = &r->seating,
		.costs = r->costs, .scratch = r->scratch,
	};
	enum km_status st = km_money_plan(r->mem, &in);

	return st == KM_OK ? km_money_shop(r->mem, &in) : st;
}

static enum km_status pack(struct run *r)
{
	enum km_status st = KM_OK;

	for (uint32_t k = 0; st == KM_OK && k < r->a->n_kits; k++) {
		struct km_kit_audit *kit = &r->a->kits[k];

		km_arena_reset(r->scratch);
		st = km_pouch_make(r->mem, r->scratch, kit, &kit->pouch);
	}
	return st;
}

static enum km_status finish(struct run *r, const struct km_cure *cure)
{
	struct km_audit *a = r->a;
	struct km_remark_input in = {
		.cure = cure,
		.audit = a, .of = r->seating.of, .given = &r->given,
		.companions = r->seating.companions,
		.n_companions = r->seating.n_companions,
	};
	enum km_status st = km_remarks_make(r->mem, &in);

	km_rubric_count(&r->v, &r->given, a);
	a->meets = a->n_kits > 0;
	for (uint32_t k = 0; k < a->n_kits; k++) {
		km_kit_tally(&a->kits[k]);
		km_origin_count(&a->kits[k]);
		a->meets &= a->kits[k].meets;
	}
	if (st == KM_OK)
		st = km_fates_find(r->mem, &r->v, &r->given, a);
	if (st == KM_OK && a->options.want_surplus)
		st = km_surplus_find(r->mem, &r->v, cure, a);
	if (st == KM_OK && a->options.want_worth)
		st = km_worth_add_up(a);
	return st;
}

static enum km_status list_jobs(struct run *r)
{
	struct km_jobs_input in = {
		.audit = r->a, .variants = &r->v, .costs = r->costs,
		.scratch = r->scratch,
	};

	km_arena_reset(r->scratch);
	return km_jobs_make(r->mem, &in, &r->a->jobs);
}

static enum km_status steps(struct run *r, struct km_diags *d)
{
	const struct km_load *l = r->a->load;
	struct km_cure cure = { km_reach_ask, &r->reach };
	enum km_status st;

	st = km_variants_choose(r->mem, l, &r->a->options, d, &r->v);
	if (st != KM_OK)
		return st;
	if (!r->v.n_parties)
		km_diag_add(d, KM_M_NO_KIT, (struct km_place){ NULL, 0, 0 });
	r->a->library = r->v.library;
	r->a->n_library = r->v.n_library;
	choose_currency(r);
	st = km_costs_init(r->mem, r->a->currency, l->prices, l->workshop,
			   l->rubric, r->a->options.today, r->costs);
	km_reach_init(&r->reach, r->mem, r->scratch, &l->limits, r->costs);
	if (st == KM_OK)
		st = km_seats_fill(r->mem, l, &r->v, &cure, &r->seating);
	if (st == KM_OK)
		st = km_given_list(r->mem, r->seating.seats, r->seating.n,
				   false, &r->given);
	if (st == KM_OK)
		st = fill_kits(r);
	if (st == KM_OK && r->a->options.want_money)
		st = price(r);
	if (st == KM_OK && r->a->options.want_pouch)
		st = pack(r);
	if (st == KM_OK)
		st = finish(r, &cure);
	if (st == KM_OK && r->a->plan && r->a->options.want_jobs)
		st = list_jobs(r);
	return st;
}

enum km_status km_audit_run(const struct km_load *load,
			    const struct km_options *o, struct km_diags *d,
			    struct km_audit **out)
{
	static const struct km_options none;
	struct run r = { .mem = km_arena_new(&load->limits),
			 .scratch = km_arena_new(&load->limits) };
	enum km_status st = KM_ENOMEM;

	if (r.mem && r.scratch) {
		r.a = km_arena_alloc(r.mem, 1, sizeof *r.a);
		r.costs = km_arena_alloc(r.mem, 1, sizeof *r.costs);
	}
	if (r.a && r.costs) {
		r.a->mem = r.mem;
		r.a->load = load;
		r.a->options = o ? *o : none;
		st = steps(&r, d);
	}
	km_arena_free(r.scratch);
	if (st != KM_OK) {
		km_arena_free(r.mem);
		return st;
	}
	*out = r.a;
	return KM_OK;
}

void km_audit_free(struct km_audit *a)
{
	if (a)
		km_arena_free(a->mem);
}
