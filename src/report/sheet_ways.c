/* SPDX-License-Identifier: MIT */
/*
 * ways - every way of every place that the plan weighed: what it costs by
 * itself, what it shares, and which was chosen.  json_ways.c is the same as a
 * problem of numbers.
 */
#include "report/ways.h"

#include <inttypes.h>

#include "report/words.h"
#include "trade/process.h"
#include "unit/length.h"
#include "unit/money.h"

enum {
	KIT, SLOT, PIECE, PLAN, WAY, TOOL, OFFER, ID, STEPS,
	PRICE_LOW, PRICE, PRICE_HIGH, ALONE_LOW, ALONE, ALONE_HIGH,
	OWN_LOW, OWN, OWN_HIGH, POINTS, ACCEPTABLE, OVER_LIMIT, CHARGES,
	REASON, LINES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, true },
	[PIECE] = { "piece", NULL, KM_COL_COUNT, false },
	[PLAN] = { "chosen", "plan", KM_COL_FLAG, false },
	[WAY] = { "way", "way", KM_COL_WORD, false },
	[TOOL] = { "tool", NULL, KM_COL_ID, false },
	[OFFER] = { "offer", NULL, KM_COL_ID, false },
	[ID] = { NULL, "of", KM_COL_ID, false },
	[STEPS] = { "steps", NULL, KM_COL_LIST, false },
	[PRICE_LOW] = { "price_low", NULL, KM_COL_MONEY, false },
	[PRICE] = { "price_likely", "price", KM_COL_MONEY, false },
	[PRICE_HIGH] = { "price_high", NULL, KM_COL_MONEY, false },
	[ALONE_LOW] = { "alone_low", NULL, KM_COL_MONEY, false },
	[ALONE] = { "alone_likely", "alone", KM_COL_MONEY, false },
	[ALONE_HIGH] = { "alone_high", NULL, KM_COL_MONEY, false },
	[OWN_LOW] = { "own_time_low", NULL, KM_COL_MONEY, false },
	[OWN] = { "own_time_likely", NULL, KM_COL_MONEY, false },
	[OWN_HIGH] = { "own_time_high", NULL, KM_COL_MONEY, false },
	[POINTS] = { "points", "points", KM_COL_HUNDREDTHS, false },
	[ACCEPTABLE] = { "acceptable", "will do", KM_COL_FLAG, false },
	[OVER_LIMIT] = { "over_limit", NULL, KM_COL_FLAG, false },
	[CHARGES] = { "charges", NULL, KM_COL_LIST, false },
	[REASON] = { "reason", NULL, KM_COL_TEXT, false },
	[LINES] = { NULL, "work, shared charges, why not", KM_COL_LIST,
		    false },
};

struct maker {
	struct km_page *p;
	struct km_table *t;
	const struct km_plan *plan;
	struct km_buf *b;
};

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *c)
{
	km_put_int(t, first, c->low);
	km_put_int(t, first + 1, c->likely);
	km_put_int(t, first + 2, c->high);
}

/* The text so far as data and as a line; cleared. */
static void put_both(struct maker *m, uint32_t column)
{
	struct km_buf copy;

	if (!m->b->len)
		return;
	km_buf_init(&copy, m->p->mem);
	km_buf_add(&copy, m->b->text, m->b->len);
	km_put_item(m->t, LINES, &copy);
	if (m->t->columns[column].kind == KM_COL_LIST)
		km_put_item(m->t, column, m->b);
	else
		km_put_buf(m->t, column, m->b);
}

void km_words_charge(struct km_buf *b, const struct km_problem_charge *c)
{
	switch (c->kind) {
	case KM_BILL_PARCEL:
		km_buf_printf(b, "parcel from %s",
			      c->seller ? c->seller->id : "somebody");
		break;
	case KM_BILL_LOT:
		km_buf_printf(b, "lot: %s", c->process ? c->process->name : "");
		break;
	case KM_BILL_LOAD:
		km_buf_printf(b, "load: %s",
			      c->process ? c->process->name : "");
		break;
	case KM_BILL_JOB_LOT:
		km_buf_printf(b, "job lot %s",
			      c->job_lot ? c->job_lot->id : "");
		break;
	}
}

uint32_t km_way_option(const struct km_plan_problem *x, const struct km_way *w)
{
	for (uint32_t o = 0; x && o < x->numbers.noptions; o++)
		if (x->way[o] == w)
			return o;
	return KM_SOLVE_NONE;
}

static void put_charges(struct maker *m, const struct km_way *w)
{
	const struct km_plan_problem *x = m->plan->problem;
	uint32_t o = km_way_option(x, w);

	km_put_list(m->t, CHARGES);
	for (uint32_t i = 0; o != KM_SOLVE_NONE &&
			     i < x->numbers.option[o].nuses; i++) {
		uint32_t c = x->numbers.option[o].use[i].charge;

		km_words_charge(m->b, &x->charges[c]);
		put_both(m, CHARGES);
	}
}

static void put_reason(struct maker *m, const struct km_way *w)
{
	if (w->acceptable && w->fit.unmeasured) {
		km_words_fit(m->b, &w->fit);
		km_put_item(m->t, LINES, m->b);
	}
	if (w->acceptable || w->kind == KM_WAY_OPEN)
		return;
	if (w->fit.too_large)
		km_words_fit(m->b, &w->fit);
	else if (w->over_limit)
		km_buf_str(m->b, "dearer than the most to pay");
	else if (w->match)
		km_reason(m->b, w->match);
	put_both(m, REASON);
}

static void one_way(struct maker *m, const struct km_plan_place *place,
		    const struct km_way *w)
{
	const struct km_match *x = w->match;

	km_table_row(m->t);
	km_put_text(m->t, KIT, place->kit->kit->id);
	km_put_text(m->t, SLOT, place->slot->slot->id);
	km_put_int(m->t, PIECE, (int64_t)place->piece + 1);
	km_put_int(m->t, PLAN, w == place->chosen);
	km_put_word(m->t, WAY, km_way_word(w->kind), KM_TONE_NONE);
	km_put_text(m->t, TOOL, x && x->tool ? x->tool->id : NULL);
	km_put_text(m->t, OFFER, x && x->offer ? x->offer->id : NULL);
	km_put_text(m->t, ID, x ? km_match_id(x) : NULL);
	km_put_steps(m->t, STEPS, LINES, w->route, m->b);
	if (w->priced) {
		put_money3(m->t, PRICE_LOW, &w->price);
		put_money3(m->t, ALONE_LOW, &w->alone);
		put_money3(m->t, OWN_LOW, &w->own);
	} else {
		km_buf_str(m->b, "no price is known");
		km_put_item(m->t, LINES, m->b);
	}
	km_put_int(m->t, POINTS, w->points);
	km_put_int(m->t, ACCEPTABLE, w->acceptable);
	km_put_int(m->t, OVER_LIMIT, w->over_limit);
	put_charges(m, w);
	put_reason(m, w);
}

/* What will sit there, whatever is chosen; NULL. */
static const struct km_match *on_order(const struct km_plan_place *place)
{
	const struct km_piece *x = place->slot->pieces;

	if (!x)
		return NULL;
	x += place->piece;
	return x->coming ? x->coming : x->expected ? x->match : NULL;
}

static void place_section(struct maker *m, const struct km_plan_place *place)
{
	const struct km_slot *s = place->slot->slot;

	km_words_slot_ref(m->b, s, m->p->audit->n_kits > 1 ? NULL : s->kit);
	km_buf_str(m->b, "  ");
	km_words_of_want(m->b, s, false);
	if (s->count > 1)
		km_buf_printf(m->b, ", piece %" PRIu32 " of %" PRId32,
			      place->piece + 1, s->count);
	if (place->margin >= 0 && place->other) {
		km_buf_printf(m->b, ": %s",
			      km_way_word(place->chosen->kind));
		if (place->margin > 0) {
			km_buf_str(m->b, " is better by ");
			km_buf_money(m->b, place->margin, m->p->decimals);
		} else {
			km_buf_printf(m->b, " is no better than %s",
				      km_way_word(place->other->kind));
		}
	}
	if (on_order(place))
		km_buf_printf(m->b, ", %s is on order for it",
			      km_match_id(on_order(place)));
	if (place->close_call)
		km_buf_str(m->b, ", close call");
	if (place->by_hand)
		km_buf_str(m->b, ", chosen by hand");
	km_put_section(m->t, m->b);
}

/* What a job lot is worth to the plan. */
static void job_lot(struct maker *m, const struct km_plan_job_lot *j)
{
	km_buf_printf(m->b, "job lot %s at ", j->lot->id);
	km_buf_money(m->b, j->price.likely, m->p->decimals);
	km_buf_printf(m->b, ", fills at most %" PRIu32 " place%s: ",
		      j->fills, j->fills == 1 ? "" : "s");
	if (!j->known) {
		km_buf_str(m->b, "what it is worth was not worked out");
	} else if (j->most == KM_NO_CEILING) {
		km_buf_str(m->b, "nothing else fills as many, your limit");
	} else if (j->most < 0) {
		km_buf_str(m->b, "worth nothing to this plan");
	} else {
		km_buf_str(m->b, "worth up to ");
		km_buf_money(m->b, j->most, m->p->decimals);
		if (j->price.likely > j->most) {
			km_buf_str(m->b, ", too dear by ");
			km_buf_money(m->b, j->price.likely - j->most,
				     m->p->decimals);
		}
	}
	km_buf_str(m->b, j->chosen ? "; bought" : "; not bought");
	km_put_section(m->t, m->b);
}

/* Does the pouch close over what the plan puts in? */
static void as_planned(struct maker *m, const struct km_kit_audit *k)
{
	const struct km_pouch_audit *p = k->planned;
	const struct km_pouch_bundle *u = &p->bundle;

	km_buf_printf(m->b, "the pouch of %s as planned: ", k->kit->id);
	if (p->rule != KM_POUCH_BUNDLE) {
		km_buf_printf(m->b, "%" PRIu32 " fit, %" PRIu32 " too large, "
			      "%" PRIu32 " not measured", p->n[KM_FITS],
			      p->n[KM_FITS_NOT], p->n[KM_FITS_UNMEASURED]);
		if (p->n[KM_FITS_UNPROVED])
			km_buf_printf(m->b, ", %" PRIu32 " not proved",
				      p->n[KM_FITS_UNPROVED]);
	} else if (u->fits == KM_FITS_NOT) {
		km_buf_str(m->b, "it does not close, however they lie");
	} else if (u->fits == KM_FITS_UNMEASURED) {
		km_buf_printf(m->b, "not known to close, %" PRIu32 " of %"
			      PRIu32 " tools not measured", u->unmeasured,
			      u->unmeasured + u->measured);
	} else if (u->fits == KM_FITS) {
		km_buf_str(m->b, p->n[KM_FITS_NOT] ? "it does not close over "
			   "what is too long" : "it closes");
	} else {
		km_buf_str(m->b, "not proved to close: the best layout found "
			   "is ");
		km_buf_mm(m->b, u->hull.over_nm, 1);
		km_buf_str(m->b, " mm too much round");
	}
	km_put_section(m->t, m->b);
}

/* Own time stands beside the money of a way where an hour has a price. */
static const struct km_column *columns_of(const struct km_page *p)
{
	struct km_column *c;

	if (!km_page_prices_own(p))
		return columns;
	c = km_arena_copy(p->mem, columns, COLUMNS, sizeof *columns);
	if (c)
		c[OWN].heading = "own time";
	return c ? c : columns;
}

void km_make_ways(struct km_page *p)
{
	struct maker m = { .p = p, .plan = p->audit->plan, .b = &p->line };

	m.t = km_page_table(p, "ways", columns_of(p), COLUMNS);
	if (!m.t)
		return;
	if (!m.plan || !m.plan->n_places) {
		km_table_section(m.t, "nothing to plan");
		return;
	}
	for (uint32_t i = 0; i < m.plan->n_places; i++) {
		const struct km_plan_place *place = &m.plan->places[i];

		place_section(&m, place);
		for (uint32_t k = 0; k < place->n_ways; k++)
			one_way(&m, place, &place->ways[k]);
	}
	for (uint32_t i = 0; i < m.plan->n_job_lots; i++)
		job_lot(&m, &m.plan->job_lots[i]);
	for (uint32_t i = 0; i < p->audit->n_kits; i++)
		if (p->audit->kits[i].planned)
			as_planned(&m, &p->audit->kits[i]);
	if (!m.plan->looked_closer)
		km_table_section(m.t, "not every place was tried another way, "
				 "so some margins and close calls may be "
				 "missing: too many places or offers, or the "
				 "search reached its limit");
}
