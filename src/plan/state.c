/* SPDX-License-Identifier: MIT */
#include "plan/state.h"

#define P(id) KM_BIT(KM_PROCESS_##id)

/* All that is open to what may be cadmium [C01, C02, C03]. */
#define SAFE_ON_CADMIUM (P(INSPECT) | P(WASH_DEGREASE) | P(OIL_WAX))
#define HANDLE_WORK (P(HANDLE_OFF) | P(HANDLE_DIP) | P(HANDLE_MOULD) | \
		     P(HANDLE_REFIT))
#define BAKES (P(BAKE_STRESS) | P(BAKE_RELIEF))
/* Work that takes zinc, cadmium, black, phosphate and paint off beside the rust
 * [choice; C17].  Polishing takes 20 um a side, and they are thinner. */
#define STRIPS (P(WIRE_WHEEL) | P(BLAST_BEAD) | P(TUMBLE_WET_ABRASIVE) | \
		P(POLISH))
#define THIN_COATS (KM_S(ZINC) | KM_S(WORN_ZINC) | KM_S(NEW_ZINC) | \
		    KM_S(CADMIUM) | KM_S(WORN_CADMIUM) | \
		    KM_S(NEW_CADMIUM) | KM_S(BLACK) | KM_S(WORN_BLACK) | \
		    KM_S(NEW_BLACK) | KM_S(BLACK_COLD) | KM_S(PATCHED) | \
		    KM_S(PHOSPHATE) | KM_S(WORN_PHOSPHATE) | \
		    KM_S(NEW_PHOSPHATE) | KM_S(NEW_PAINT) | KM_S(PAINT_LOSS))
/* Coats under which steel wants no oil. */
#define COVERS (KM_S(ZINC) | KM_S(WORN_ZINC) | KM_S(NEW_ZINC) | \
		KM_S(CADMIUM) | KM_S(WORN_CADMIUM) | KM_S(NEW_CADMIUM) | \
		KM_S(NICKEL) | KM_S(WORN_NICKEL) | KM_S(NEW_NICKEL) | \
		KM_S(CHROME) | KM_S(WORN_CHROME) | KM_S(NEW_CHROME) | \
		KM_S(NEW_PAINT) | KM_S(PAINT_LOSS))
#define PLATED (COVERS | KM_S(WORN_PLATE) | KM_S(PEELING_PLATE) | \
		KM_S(BLISTERED_PLATE))

bool km_step_is_abrasive(const struct km_step *s)
{
	return s->effect.cautions &
	       (KM_CAUTION_BIT(C17) | KM_CAUTION_BIT(C39));
}

/* ------------------------------------------------------------------ */
/* What stands in the way                                              */

static bool too_hard_to_plate(const struct km_task *t,
			      const struct km_step *step)
{
	return t->hardness.tested && t->hardness.from > KM_NO_ZINC_HRC10 &&
	       (step->effect.cautions & KM_CAUTION_BIT(C24));
}

static bool guarded(const struct km_task *t, const struct km_state *s,
		    enum km_process_id p)
{
	const struct km_step *step = &t->costs->step[p];
	uint64_t finishes = 0;

	if (s->finish)
		finishes |= KM_BIT(s->finish);
	if (s->faces)
		finishes |= KM_BIT(s->faces);
	/* a handle that is off is out of the way of all but its own work */
	if ((s->words & KM_S(HANDLE_ON)) || (HANDLE_WORK & KM_BIT(p)))
		finishes |= t->handle;
	return !step->available || (step->effect.never_finish & finishes) ||
	       (step->effect.never & t->guards) ||
	       (t->cadmium && !(SAFE_ON_CADMIUM & KM_BIT(p))) ||
	       (t->bar != KM_MARK_FREE && km_step_is_abrasive(step)) ||
	       (p == KM_PROCESS_PLATE_CADMIUM && !step->named) ||
	       (p == KM_PROCESS_HANDLE_DIP && !t->dip) ||
	       (p == KM_PROCESS_HANDLE_MOULD && !t->mould) ||
	       too_hard_to_plate(t, step);
}

/* A need is met by a step that was done, or where there is nothing for it to
 * do: no handle to take off, no plate to strip; and a bake is needed by
 * hydrogen, whatever put it in. */
static bool need_met(const struct km_state *s, enum km_process_id p,
		     uint64_t set)
{
	if (set & s->done)
		return true;
	if ((set & P(HANDLE_OFF)) && !(s->words & KM_S(HANDLE_ON)))
		return true;
	if ((set & P(STRIP_PLATE)) && !(s->words & PLATED))
		return true;
	return p == KM_PROCESS_BAKE_RELIEF && !(set & P(HANDLE_OFF)) &&
	       (s->words & KM_S(HYDROGEN));
}

uint64_t km_state_open_needs(const struct km_task *t, const struct km_state *s,
			     enum km_process_id p)
{
	const struct km_effect *e = &t->costs->step[p].effect;
	uint64_t open = 0;

	for (uint32_t i = 0; i < e->n_needs; i++)
		if (!need_met(s, p, e->need[i]))
			open |= e->need[i];
	return open;
}

bool km_state_allows(const struct km_task *t, const struct km_state *s,
		     enum km_process_id p)
{
	return !guarded(t, s, p) && !km_state_open_needs(t, s, p);
}

/* ------------------------------------------------------------------ */
/* What a step does                                                    */

/* Deep pits are not polished out, and none is covered by a coat that does not
 * go on. */
static bool skips(const struct km_task *t, const struct km_state *s,
		  enum km_process_id p, const struct km_change *c)
{
	if (c->to == KM_S_SHOW_THROUGH || c->to == KM_S_FILLED)
		return !(t->costs->step[p].effect.from & s->words & KM_S_COAT);
	return p == KM_PROCESS_POLISH && (KM_S_PITS & KM_BIT(c->from)) &&
	       t->pit_nm > t->choices.polish_clears_nm;
}

static void put(struct km_state *s, uint64_t word)
{
	if (word == KM_S(POLISHED)) {
		s->words |= word;
		return;
	}
	if (word & KM_S_COAT)
		s->words &= ~KM_S_COAT;
	s->words |= word;
}

/* The table: the whole cure of a word before the part. */
static void change(const struct km_task *t, const struct km_state *s,
		   enum km_process_id p, struct km_state *out)
{
	const struct km_effect *e = &t->costs->step[p].effect;
	uint64_t cured = 0;

	for (uint32_t i = 0; i < e->n_changes; i++) {
		const struct km_change *c = &e->change[i];
		uint64_t from = KM_BIT(c->from);

		if (!(s->words & from) || (cured & from) || skips(t, s, p, c))
			continue;
		cured |= from;
		if (c->to != KM_S_POLISHED)
			out->words &= ~from;
		if (c->to != KM_S_NOTHING)
			put(out, KM_BIT(c->to));
	}
}

static void handle(const struct km_task *t, const struct km_state *s,
		   enum km_process_id p, struct km_state *out)
{
	if (p == KM_PROCESS_HANDLE_OFF && t->vinyl &&
	    (s->words & KM_S(HANDLE_ON)))
		out->words |= KM_S(HANDLE_SPLIT);	/* cut off */
	if (p == KM_PROCESS_HANDLE_REFIT && (s->words & KM_S(HANDLE_OFF))) {
		if (t->vinyl)
			out->words |= KM_S(HANDLE_OFF);
		else
			out->words |= KM_S(HANDLE_ON);
	}
	if (out->words & KM_S(NEW_HANDLE))
		out->words = (out->words & ~(KM_S_HANDLE_FAULTS |
			      KM_S(HANDLE_OFF))) | KM_S(HANDLE_ON);
}

static void finish(const struct km_task *t, const struct km_state *s,
		   struct km_state *out)
{
	uint64_t made = out->words & KM_S_NEW_COAT & ~s->words;

	if (!((out->words ^ s->words) & KM_S_COAT))
		return;
	if (made)
		out->finish = t->made[__builtin_ctzll(made)];
	else if (out->words & KM_S(POLISHED))
		out->finish = KM_FINISH_BARE_POLISHED;
	else if (out->words & KM_S(STRIPPED))
		out->finish = 0;
	else
		return;
	out->faces = 0;
}

static void mark(const struct km_task *t, enum km_process_id p,
		 struct km_state *out)
{
	int64_t loses = 0;

	if (p == KM_PROCESS_POLISH)
		loses = t->choices.polish_loses;
	else if (p == KM_PROCESS_TUMBLE_WET_ABRASIVE)
		loses = (int64_t)t->choices.tumble_loses *
			t->costs->step[p].effect.elapsed[1] / 100;
	if (out->marking >= 3 * KM_MARK_LEVEL)
		loses /= 2;
	out->marking = loses >= out->marking ? 0 :
		       (int16_t)(out->marking - loses);
}

bool km_state_after(const struct km_task *t, const struct km_state *from,
		    enum km_process_id p, struct km_state *out)
{
	const struct km_step *step = &t->costs->step[p];
	const struct km_state in = *from, *s = &in;	/* out may be from */
	bool changed;

	*out = *s;
	change(t, s, p, out);
	if ((STRIPS & KM_BIT(p)) && (out->words & THIN_COATS)) {
		put(out, KM_S(STRIPPED));
		if (p == KM_PROCESS_POLISH)
			put(out, KM_S(POLISHED));
	}
	handle(t, s, p, out);
	finish(t, s, out);
	changed = out->words != s->words || out->finish != s->finish ||
		  (p == KM_PROCESS_OIL_WAX && (s->words & KM_S(OPEN)));
	if (t->hardness.hard == KM_HARD_YES && !(BAKES & KM_BIT(p)) &&
	    (step->effect.cautions & KM_CAUTION_BIT(C23)))
		out->words |= KM_S(HYDROGEN);
	if (p == KM_PROCESS_OIL_WAX || (out->words & COVERS))
		out->words &= ~KM_S(OPEN);
	else if ((step->effect.cautions & KM_CAUTION_BIT(C38)) ||
		 (out->words & ~s->words & KM_S_STEEL))
		out->words |= KM_S(OPEN);
	if (km_step_is_abrasive(step))
		out->abraded = true;
	mark(t, p, out);
	out->done |= KM_BIT(p);
	return changed;
}

/* ------------------------------------------------------------------ */
/* Where it may end                                                    */

bool km_state_meets(const struct km_task *t, const struct km_state *s)
{
	return !(s->words & t->must_go) &&
	       (t->finish_ok & KM_BIT(s->finish)) &&
	       !(t->has_mark && s->marking == 0) &&
	       !(t->for_use && km_state_display(s));
}

bool km_state_closed(const struct km_task *t, const struct km_state *s)
{
	if (s->words & (KM_S(HANDLE_OFF) | KM_S(OPEN)))
		return false;
	return !(s->words & ~t->start.words & KM_S(STRIPPED));
}

bool km_state_display(const struct km_state *s)
{
	return s->words & (KM_S(HYDROGEN) | KM_S(STRAIGHT_DISPLAY) |
			   KM_S(GLUED_DISPLAY));
}

uint8_t km_state_risk(const struct km_task *t, const struct km_state *s)
{
	if (!t->has_mark)
		return 0;
	if (s->marking < KM_MARK_LEVEL && s->marking < t->start.marking)
		return 2;
	return s->abraded || s->marking < t->start.marking;
}
