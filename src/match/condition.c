/* SPDX-License-Identifier: MIT */
/*
 * condition - rust, pits, plating and damage against the limits of the
 * standard, and the verdict apart: may this tool turn a nut?
 *
 * What is not recorded is noted and counted, never taken for sound; only a
 * new offer that records nothing is.
 */
#include "match/aspects.h"

#include "trade/finish.h"
#include "trade/jaw.h"
#include "trade/rust.h"

#define ALL 10000		/* hundredths of a per cent */

#define BIT(what) ((uint32_t)1 << KM_DMG_##what)
#define UNFIT_BITS (BIT(SPREAD) | BIT(CRACKED) | BIT(BENT_HARD) | \
		    BIT(CHIPPED_LARGE))
#define CURABLE_BITS (BIT(BENT_SOFT) | BIT(ROUNDED) | BIT(MUSHROOMED) | \
		      BIT(CHIPPED_SMALL))

static void set(struct km_case *c, enum km_aspect aspect,
		enum km_outcome outcome, enum km_finding finding, int score)
{
	struct km_comparison *on = &c->out->on[aspect];

	on->outcome = outcome;
	on->finding = finding;
	on->letter = km_rules_letter(finding, c->rules->standard);
	on->score = (int16_t)score;
}

static void set_unrecorded(struct km_case *c, enum km_aspect aspect)
{
	if (c->thing->unused)
		set(c, aspect, KM_AGREES, KM_F_SOUND, KM_SCORE_AGREES);
	else
		set(c, aspect, KM_NOT_RECORDED, KM_F_CONDITION_UNRECORDED,
		    KM_SCORE_UNRECORDED);
}

/* A fault counted from 0 that may reach the limit. */
static void set_fault(struct km_case *c, enum km_aspect aspect, int64_t fault,
		      int64_t limit, enum km_finding above)
{
	if (fault > limit)
		set(c, aspect, KM_DIFFERS, above, 0);
	else if (fault > 0)
		set(c, aspect, KM_WITHIN, KM_F_SOUND,
		    km_score_within(fault, limit));
	else
		set(c, aspect, KM_AGREES, KM_F_SOUND, KM_SCORE_AGREES);
	c->out->on[aspect].by = fault;
	c->out->on[aspect].over = fault > limit ? fault - limit : 0;
}

static void judge_rust(struct km_case *c, const struct km_condition *k)
{
	if (k && k->rust >= 0)
		set_fault(c, KM_ASP_RUST, k->rust, c->rules->rust,
			  KM_F_RUST_ABOVE);
	else if (k && k->rust_share >= 0)
		set_fault(c, KM_ASP_RUST, km_rust_degree(k->rust_share),
			  c->rules->rust, KM_F_RUST_ABOVE);
	else
		set_unrecorded(c, KM_ASP_RUST);
}

/* A pit that was measured is at least one of few. */
static void judge_pits(struct km_case *c, const struct km_condition *k)
{
	enum km_pits pits = k ? k->pits : KM_PITS_UNRECORDED;

	if (pits == KM_PITS_UNRECORDED && k && k->pit_nm > 0)
		pits = KM_PITS_FEW;
	if (pits == KM_PITS_UNRECORDED)
		set_unrecorded(c, KM_ASP_PITS);
	else
		set_fault(c, KM_ASP_PITS, (int)pits - KM_PITS_NONE,
			  c->rules->pits, KM_F_PITS_ABOVE);
}

/* ------------------------------------------------------------------ */
/* Coats: plating, black, phosphate, paint                             */

enum skin { SKIN_UNKNOWN, SKIN_PLATED, SKIN_PAINTED, SKIN_OTHER };

static enum skin skin_of(const struct km_finish *f)
{
	if (!f || f->id == KM_FINISH_UNLISTED)
		return SKIN_UNKNOWN;
	/* black and phosphate wear like plate, and are recorded as its share */
	if (f->id >= KM_FINISH_ZINC_CLEAR && f->id <= KM_FINISH_PHOSPHATE_ZN)
		return SKIN_PLATED;
	return f->id == KM_FINISH_PAINT || f->id == KM_FINISH_VITREOUS_ENAMEL
	       ? SKIN_PAINTED : SKIN_OTHER;
}

uint32_t km_compare_skins(const struct km_case *c)
{
	const struct km_want *w = &c->slot->want[KM_A_FINISH];
	const union km_value *v = km_trait(c->thing->traits, KM_A_FINISH);
	uint32_t skins = 0;

	if (v)
		skins |= (uint32_t)1 << skin_of(v->finish.body);
	if (w->state == KM_WANT_ANY_OF && w->n)
		skins |= (uint32_t)1 << skin_of(w->any[0].finish.body);
	return skins;
}

/* What there is to measure, and the share of it that is left; -1: not
 * recorded.  False: nothing plated or painted is spoken of. */
static bool skin_left(const struct km_case *c, const struct km_condition *k,
		      int32_t *left)
{
	int32_t plate = k ? k->plate_left : -1, paint = k ? k->paint_left : -1;
	uint32_t skins = km_compare_skins(c);

	if (skins >> SKIN_PLATED & 1)
		*left = plate;
	else if (skins >> SKIN_PAINTED & 1)
		*left = paint;
	else if (skins >> SKIN_OTHER & 1)
		return false;
	else
		*left = plate >= 0 ? plate : paint;
	return *left >= 0 ||
	       (skins & (1u << SKIN_PLATED | 1u << SKIN_PAINTED));
}

static void judge_plate(struct km_case *c, const struct km_condition *k)
{
	struct km_comparison *on = &c->out->on[KM_ASP_PLATE];
	int32_t left;

	if (!skin_left(c, k, &left))
		return;
	if (left < 0) {
		set_unrecorded(c, KM_ASP_PLATE);
		return;
	}
	set_fault(c, KM_ASP_PLATE, ALL - left, ALL - c->rules->plate_left,
		  KM_F_PLATE_BELOW);
	on->by = left;
}

/* ------------------------------------------------------------------ */
/* Damage                                                              */

/* The size that a tool end is marked with, or was paired as; NULL: none. */
static const struct km_size *size_of_end(const struct km_case *c, uint32_t end)
{
	const union km_value *v = km_trait(c->thing->traits, KM_A_SIZES);
	const struct km_match *m = c->out;

	if (v && end < v->sizes.n)
		return v->sizes.v[end];
	for (uint32_t i = 0; i < m->n_ends && i < KM_ENDS; i++)
		if (m->end[i].tool_end == end)
			return m->end[i].have;
	return NULL;
}

/* Is an end that was found spread by so much over its nominal width beyond
 * the greatest opening?  Yes where that cannot be told. */
static bool is_beyond(const struct km_size *s, int64_t by_nm)
{
	return by_nm < 0 || !s || s->opening.max_nm <= 0 ||
	       s->nominal_nm + by_nm > s->opening.max_nm;
}

static bool recorded_spread(const struct km_case *c, const struct km_damage *d)
{
	const union km_value *v = km_trait(c->thing->traits, KM_A_SIZES);

	if (d->end > 0)
		return is_beyond(size_of_end(c, (uint32_t)d->end - 1),
				 d->by_nm);
	for (uint32_t i = 0; v && i < v->sizes.n; i++)
		if (is_beyond(v->sizes.v[i], d->by_nm))
			return true;
	return !v || !v->sizes.n;
}

/* Is an end wider than it may be, by its mark and its opening? */
static bool measured_spread(const struct km_case *c)
{
	const union km_value *m = km_trait(c->thing->traits, KM_A_SIZES);
	const union km_value *o = km_trait(c->thing->traits, KM_A_OPENINGS);

	if (!m || !o || !c->rules->book)
		return false;
	for (uint32_t i = 0; i < m->sizes.n && i < o->spans.n; i++) {
		const struct km_size *s = m->sizes.v[i];
		struct km_opening_check k;

		if (!s || s->opening.max_nm <= 0 ||
		    km_span_low(o->spans.v[i]) <= s->opening.max_nm)
			continue;
		k = km_opening_check(o->spans.v[i], s, c->rules->book);
		if (k.is == KM_OPENING_SPREAD || k.is == KM_OPENING_UNFINISHED)
			return true;
	}
	return false;
}

static uint32_t damage_bits(const struct km_case *c,
			    const struct km_condition *k)
{
	uint32_t bits = measured_spread(c) ? BIT(SPREAD) : 0;

	for (uint32_t i = 0; k && i < k->n_damage; i++)
		if (k->damage[i].what != KM_DMG_SPREAD ||
		    recorded_spread(c, &k->damage[i]))
			bits |= (uint32_t)1 << k->damage[i].what;
	if (k && k->handle == KM_HANDLE_MISSING)
		bits |= BIT(MISSING);
	if (k && k->ground > 0)
		bits |= BIT(GROUND);
	return bits;
}

static bool handle_is(const struct km_condition *k, enum km_handle from,
		      enum km_handle to)
{
	return k && k->handle >= from && k->handle <= to;
}

/* A loose handle, and a split one of wood, may come off in use. */
static bool handle_is_unfit(const struct km_case *c,
			    const struct km_condition *k)
{
	const union km_value *v = km_trait(c->thing->traits,
					   KM_A_HANDLE_MATERIAL);

	if (!k || k->handle != KM_HANDLE_SPLIT)
		return k && k->handle == KM_HANDLE_LOOSE;
	return !v || v->material->id == KM_MATERIAL_WOOD_HANDLE;
}

static void judge_damage(struct km_case *c, const struct km_condition *k,
			 uint32_t bits)
{
	struct km_comparison *on = &c->out->on[KM_ASP_DAMAGE];
	bool unfit = (bits & CURABLE_BITS) || handle_is_unfit(c, k);
	bool curable = unfit || handle_is(k, KM_HANDLE_FADED,
					  KM_HANDLE_STICKY);

	if (curable) {
		set(c, KM_ASP_DAMAGE, KM_DIFFERS, KM_F_DAMAGE_CURABLE, 0);
		if (c->rules->standard == KM_USABLE && !unfit)
			on->letter = KM_NOTED;
	} else if (!bits && !(k && (k->n_damage || k->damage_none ||
				    k->handle != KM_HANDLE_UNRECORDED))) {
		set_unrecorded(c, KM_ASP_DAMAGE);
	} else {
		set(c, KM_ASP_DAMAGE, KM_AGREES, KM_F_SOUND, KM_SCORE_AGREES);
		if (bits & BIT(GROUND))
			on->letter = KM_NOTED;
	}
	if (bits & UNFIT_BITS)
		set(c, KM_ASP_UNFIT, KM_DIFFERS, KM_F_UNFIT, 0);
	if (bits & BIT(MISSING))
		set(c, KM_ASP_PIECE, KM_DIFFERS, KM_F_PIECE_MISSING, 0);
	if (bits & (UNFIT_BITS | BIT(MISSING)))
		on->score = 0;
}

static bool nothing_recorded(const struct km_condition *k)
{
	return !k || (k->rust < 0 && k->rust_share < 0 &&
		      k->pits == KM_PITS_UNRECORDED && k->pit_nm <= 0 &&
		      k->plate_left < 0 && k->paint_left < 0 &&
		      !k->n_plate_fault && !k->n_damage && !k->damage_none &&
		      k->handle == KM_HANDLE_UNRECORDED && k->ground < 0);
}

static enum km_fitness fit_of(const struct km_case *c,
			  const struct km_condition *k, uint32_t bits)
{
	if (bits & (UNFIT_BITS | BIT(MISSING)))
		return KM_UNFIT;
	if ((bits & CURABLE_BITS) ||
	    handle_is(k, KM_HANDLE_SPLIT, KM_HANDLE_LOOSE))
		return KM_FIT_AFTER_WORK;
	if (nothing_recorded(k) && !c->thing->unused)
		return KM_FIT_UNKNOWN;
	return KM_FIT;
}

void km_compare_condition(struct km_case *c)
{
	const struct km_condition *k = c->thing->condition;
	uint32_t bits = damage_bits(c, k);
	struct km_match *m = c->out;

	judge_rust(c, k);
	judge_pits(c, k);
	judge_plate(c, k);
	judge_damage(c, k, bits);
	if (nothing_recorded(k) && !c->thing->unused)
		set(c, KM_ASP_CONDITION, KM_NOT_RECORDED,
		    KM_F_CONDITION_UNRECORDED, KM_SCORE_UNRECORDED);
	m->damage = bits;
	m->unfit_for = bits & (UNFIT_BITS | CURABLE_BITS | BIT(MISSING));
	m->fit = fit_of(c, k, bits);
}
