/* SPDX-License-Identifier: MIT */
#include "kitmuster/audit.h"

#include "audit/again.h"
#include "audit/evidence.h"
#include "audit/fates.h"
#include "audit/fill.h"
#include "audit/jobs.h"
#include "audit/money.h"
#include "audit/pouch.h"
#include "audit/reach.h"
#include "audit/readings.h"
#include "audit/remarks.h"
#include "audit/rubric.h"
#include "audit/seats.h"
#include "audit/surplus.h"
#include "audit/tally.h"
#include "audit/variant.h"
#include "audit/worth.h"
#include "unit/money.h"

struct run {
	struct km_arena *mem, *scratch;
	struct km_audit *a;
	struct km_variants v;
	struct km_seating seating;
	struct km_given given;
	struct km_costs *costs;		/* large: kept off the stack */
	struct km_reach reach;
	struct km_cure cure;
	struct km_diags *d;
	const struct km_audit *known;	/* see again.h */
	const struct km_kit *changed;
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
	if (!code)
		code = l->currency;
	r->a->currency = code;
	r->a->decimals = code ? km_currency_decimals(code) : 2;
}

static struct km_readings_input readings_input(const struct run *r)
{
	return (struct km_readings_input){
		.mem = r->mem, .scratch = r->scratch, .load = r->a->load,
		.options = &r->a->options, .cure = &r->cure, .d = r->d,
		.known = r->known, .changed = r->changed,
	};
}

/* How the kit was come by, and what it might be instead. */
static enum km_status fill_choice(struct run *r, uint32_t k)
{
	struct km_readings_input in = readings_input(r);
	const struct km_choice *c = &r->v.choices[k];
	struct km_kit_audit *kit = &r->a->kits[k];

	kit->chosen_by = c->by;
	for (uint32_t i = 0; i < c->n_elsewhere; i++)
		kit->elsewhere[i] = c->elsewhere[i];
	kit->n_elsewhere = c->n_elsewhere;
	return c->undecided ? km_readings_fill(&in, &r->v.parties[k], c, kit)
			    : KM_OK;
}

static enum km_status fill_kits(struct run *r)
{
	struct km_audit *a = r->a;
	enum km_status st = KM_OK;
	size_t at = 0;

	a->n_kits = r->v.n_parties;
	a->kits = km_arena_alloc(r->mem, a->n_kits, sizeof *a->kits);
	if (!a->kits)
		return KM_ENOMEM;
	for (uint32_t k = 0; st == KM_OK && k < a->n_kits; k++) {
		const struct km_party *p = &r->v.parties[k];

		st = km_kit_fill(r->mem, p, &r->seating.seats[at],
				 &r->seating.of[at], a->options.candidates,
				 &a->kits[k]);
		if (st == KM_OK)
			st = fill_choice(r, k);
		at += p->kit->n_slots;
	}
	return st;
}

static enum km_status price(struct run *r)
{
	struct km_money_input in = {
		.audit = r->a, .variants = &r->v, .seating = &r->seating,
		.costs = r->costs, .scratch = r->scratch,
	};
	enum km_status st = km_money_plan(r->mem, &in);

	for (uint32_t k = 0; r->a->options.must_fit && st == KM_OK &&
			     k < r->a->n_kits; k++) {
		km_arena_reset(r->scratch);
		st = km_pouch_planned(r->mem, r->scratch, r->a, k,
				      &r->a->kits[k].planned);
	}
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

static enum km_status finish(struct run *r)
{
	struct km_audit *a = r->a;
	struct km_remark_input in = {
		.cure = &r->cure,
		.audit = a, .of = r->seating.of, .given = &r->given,
		.variants = &r->v,
		.companions = r->seating.companions,
		.n_companions = r->seating.n_companions,
	};
	enum km_status st = km_remarks_make(r->mem, &in);

	km_rubric_count(&r->v, &r->given, a);
	a->meets = a->n_kits > 0;
	for (uint32_t k = 0; k < a->n_kits; k++) {
		km_kit_tally(&a->kits[k]);
		for (uint32_t i = 0; i < a->kits[k].n_readings; i++)
			a->kits[k].meets &= a->kits[k].readings[i].meets;
		km_origin_count(&a->kits[k]);
		a->meets &= a->kits[k].meets;
	}
	if (st == KM_OK)
		st = km_fates_find(r->mem, &r->v, &r->given, a);
	if (st == KM_OK && a->options.want_surplus)
		st = km_surplus_find(r->mem, &r->v, &r->cure, a);
	if (st == KM_OK && a->options.want_worth)
		st = km_worth_add_up(a);
	return st;
}

static enum km_status list_evidence(struct run *r)
{
	enum km_status st = KM_OK;

	for (uint32_t k = 0; st == KM_OK && k < r->a->n_kits; k++)
		st = km_evidence_list(r->mem, r->a->kits[k].kit,
				      &r->a->kits[k].evidence);
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

static enum km_status steps(struct run *r)
{
	const struct km_load *l = r->a->load;
	struct km_readings_input in;
	struct km_diags *d = r->d;
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
	r->cure = (struct km_cure){ km_reach_ask, &r->reach };
	in = readings_input(r);
	if (st == KM_OK)
		st = km_readings_align(&in, &r->v);
	if (st == KM_OK)
		st = km_seats_fill(r->mem, l, &r->v, &r->cure, &r->seating);
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
		st = finish(r);
	if (st == KM_OK && r->a->options.want_evidence)
		st = list_evidence(r);
	if (st == KM_OK && r->a->plan && r->a->options.want_jobs)
		st = list_jobs(r);
	return st;
}

enum km_status km_audit_again(const struct km_load *load,
			      const struct km_options *o,
			      const struct km_audit *known,
			      const struct km_kit *changed, struct km_diags *d,
			      struct km_audit **out)
{
	static const struct km_options none;
	struct run r = { .mem = km_arena_new(&load->limits),
			 .scratch = km_arena_new(&load->limits),
			 .d = d, .known = known, .changed = changed };
	enum km_status st = KM_ENOMEM;

	if (r.mem && r.scratch) {
		r.a = km_arena_alloc(r.mem, 1, sizeof *r.a);
		r.costs = km_arena_alloc(r.mem, 1, sizeof *r.costs);
	}
	if (r.a && r.costs) {
		r.a->mem = r.mem;
		r.a->load = load;
		r.a->options = o ? *o : none;
		st = steps(&r);
	}
	km_arena_free(r.scratch);
	if (st != KM_OK) {
		km_arena_free(r.mem);
		return st;
	}
	*out = r.a;
	return KM_OK;
}

enum km_status km_audit_run(const struct km_load *load,
			    const struct km_options *o, struct km_diags *d,
			    struct km_audit **out)
{
	return km_audit_again(load, o, NULL, NULL, d, out);
}

void km_audit_free(struct km_audit *a)
{
	if (a)
		km_arena_free(a->mem);
}
