/* SPDX-License-Identifier: MIT */
/*
 * shopping - what to order from whom.  Every total can be added up by hand
 * from the lines printed above it.  This sheet leaves the house: it names no
 * owner of a machine or a tool.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "base/str.h"
#include "unit/date.h"
#include "unit/money.h"

enum {
	WHAT, SELLER, KIT, SLOT, REF, OFFER, JOB_LOT, PART, ASK_FOR, ASK_LINES, PIECES,
	EACH_LOW, EACH, EACH_HIGH, LOW, LIKELY, HIGH, NOTES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[WHAT] = { "what", "what", KM_COL_WORD, true },
	[SELLER] = { "seller", "seller", KM_COL_ID, true },
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[REF] = { NULL, "slot", KM_COL_ID, false },
	[OFFER] = { "offer", "offer", KM_COL_ID, false },
	[JOB_LOT] = { "job_lot", NULL, KM_COL_ID, false },
	[PART] = { "part", NULL, KM_COL_ID, false },
	[ASK_FOR] = { "ask_for", NULL, KM_COL_TEXT, false },
	[ASK_LINES] = { NULL, "ask for", KM_COL_LIST, false },
	[PIECES] = { "pieces", "no.", KM_COL_COUNT, false },
	[EACH_LOW] = { "each_low", NULL, KM_COL_MONEY, false },
	[EACH] = { "each_likely", "each", KM_COL_MONEY, false },
	[EACH_HIGH] = { "each_high", NULL, KM_COL_MONEY, false },
	[LOW] = { "amount_low", "low", KM_COL_MONEY, false },
	[LIKELY] = { "amount_likely", "likely", KM_COL_MONEY, false },
	[HIGH] = { "amount_high", "high", KM_COL_MONEY, false },
	[NOTES] = { "notes", NULL, KM_COL_LIST, false },
};

enum { P_SELLER, P_GOODS_LOW, P_GOODS, P_GOODS_HIGH, P_POST_LOW, P_POST,
       P_POST_HIGH, P_LOW, P_LIKELY, P_HIGH, P_BELOW, P_COLUMNS };

static const struct km_column parcel_columns[P_COLUMNS] = {
	[P_SELLER] = { "seller", NULL, KM_COL_ID, false },
	[P_GOODS_LOW] = { "goods_low", NULL, KM_COL_MONEY, false },
	[P_GOODS] = { "goods_likely", NULL, KM_COL_MONEY, false },
	[P_GOODS_HIGH] = { "goods_high", NULL, KM_COL_MONEY, false },
	[P_POST_LOW] = { "postage_low", NULL, KM_COL_MONEY, false },
	[P_POST] = { "postage_likely", NULL, KM_COL_MONEY, false },
	[P_POST_HIGH] = { "postage_high", NULL, KM_COL_MONEY, false },
	[P_LOW] = { "total_low", NULL, KM_COL_MONEY, false },
	[P_LIKELY] = { "total_likely", NULL, KM_COL_MONEY, false },
	[P_HIGH] = { "total_high", NULL, KM_COL_MONEY, false },
	[P_BELOW] = { "below_minimum_order", NULL, KM_COL_FLAG, false },
};

enum { T_LOW, T_LIKELY, T_HIGH, T_OLD, T_COLUMNS };

static const struct km_column total_columns[T_COLUMNS] = {
	[T_LOW] = { "total_low", NULL, KM_COL_MONEY, false },
	[T_LIKELY] = { "total_likely", NULL, KM_COL_MONEY, false },
	[T_HIGH] = { "total_high", NULL, KM_COL_MONEY, false },
	[T_OLD] = { "prices_old", NULL, KM_COL_COUNT, false },
};

struct maker {
	struct km_page *p;
	struct km_table *t;
	const struct km_parcel *parcel;
	struct km_buf *b;
};

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *m)
{
	km_put_int(t, first, m->low);
	km_put_int(t, first + 1, m->likely);
	km_put_int(t, first + 2, m->high);
}

/* A row of money: its word as data, and what text says. */
static void money_row(struct maker *m, const char *what, const char *says,
		      const struct km_money3 *v, uint8_t show)
{
	km_table_row(m->t);
	if (m->t->failed)
		return;
	m->t->last->show = show;
	km_put_word(m->t, WHAT, what, KM_TONE_NONE);
	if (m->parcel && m->parcel->seller)
		km_put_text(m->t, SELLER, m->parcel->seller->id);
	km_buf_str(m->b, says);
	km_put_item(m->t, ASK_LINES, m->b);
	put_money3(m->t, LOW, v);
}

static void note(struct maker *m)
{
	struct km_buf copy;

	if (!m->b->len)
		return;
	km_buf_init(&copy, m->p->mem);
	km_buf_add(&copy, m->b->text, m->b->len);
	km_put_item(m->t, ASK_LINES, &copy);
	km_put_item(m->t, NOTES, m->b);
}

static const struct km_offer *offer_of(const struct km_purchase *l)
{
	return l->way && l->way->match ? l->way->match->offer : NULL;
}

static bool same_part(const char *a, const char *b)
{
	return !km_fold_compare(km_slice_of(a), km_slice_of(b));
}

/* Does an old number stand for a new one by the files, over some steps? */
static bool superseded_by(const struct km_prices *p, const char *old,
			  const char *now)
{
	for (uint32_t n = 0; p && n < p->n_superseded; n++) {
		uint32_t i = 0;

		while (i < p->n_superseded &&
		       !same_part(p->superseded[i].old_part, old))
			i++;
		if (i == p->n_superseded)
			return false;
		old = p->superseded[i].new_part;
		if (same_part(old, now))
			return true;
	}
	return false;
}

/* What an old number has become, to be ordered under now; itself if it is
 * not superseded. */
static const char *newest_part(const struct km_prices *p, const char *part)
{
	for (uint32_t n = 0; p && n < p->n_superseded; n++)
		for (uint32_t i = 0; i < p->n_superseded; i++)
			if (same_part(p->superseded[i].old_part, part)) {
				part = p->superseded[i].new_part;
				break;
			}
	return part;
}

/* "part 54-701A, which superseded 54-701": the number that the slot has, where
 * the one to order is another of the same line. */
static void put_number(struct maker *m, const struct km_want *w,
		       const char *part)
{
	const struct km_prices *prices = m->p->audit->load->prices;

	km_put_text(m->t, PART, part);
	km_buf_printf(m->b, "part %s", part);
	for (uint32_t i = 0; i < w->n && w->state == KM_WANT_ANY_OF; i++)
		if (superseded_by(prices, w->any[i].text, part))
			km_buf_printf(m->b, ", which superseded %s",
				      w->any[i].text);
	km_put_item(m->t, ASK_LINES, m->b);
}

/* The number to ask for: the offer's; else the slot's, as it is called now. */
static void put_part(struct maker *m, const struct km_purchase *l)
{
	const struct km_want *w = &l->slot->slot->want[KM_A_PART];
	const struct km_offer *o = offer_of(l);
	const union km_value *v = o ? km_trait(&o->traits, KM_A_PART) : NULL;

	if (v) {
		put_number(m, w, v->text);
		return;
	}
	if (w->state == KM_WANT_ANY_OF && w->n == 1) {
		put_number(m, w, newest_part(m->p->audit->load->prices,
					     w->any[0].text));
		return;
	}
	km_words_wanted(m->b, w, KM_A_PART);
	if (!m->b->len)
		return;
	km_put_text(m->t, PART, m->b->text);
	km_buf_clear(m->b);
	km_buf_str(m->b, "part ");
	km_words_wanted(m->b, w, KM_A_PART);
	km_put_item(m->t, ASK_LINES, m->b);
}

/* What is known to be otherwise than wanted with the thing as delivered. */
static void put_differences(struct maker *m, const struct km_match *x)
{
	for (int a = 0; x && a < KM_ASPECTS; a++) {
		const struct km_comparison *c = &x->on[a];

		if (c->letter == KM_PASSES || c->letter == KM_NOT_KNOWN ||
		    c->finding == KM_F_CONDITION_UNRECORDED)
			continue;
		km_reason_of(m->b, x, (enum km_aspect)a);
		note(m);
	}
}

static void put_notes(struct maker *m, const struct km_purchase *l)
{
	const struct km_offer *o = offer_of(l);

	km_put_list(m->t, NOTES);
	put_differences(m, l->way ? l->way->match : NULL);
	if (l->way && (l->way->kind == KM_WAY_OFFER_WORK || l->way->route)) {
		km_buf_str(m->b, "will need work");
		note(m);
	}
	if (l->lot) {
		km_buf_printf(m->b, "out of job lot %s", l->lot->id);
		note(m);
	}
	if (o && o->chance >= 0) {
		km_buf_printf(m->b, "chance of finding it %" PRId32 " %%",
			      o->chance);
		note(m);
	}
	if (l->old_price) {
		km_buf_str(m->b, "price older than 24 months");
		if (o && o->as_of.year) {
			km_buf_str(m->b, ", of ");
			km_buf_date(m->b, o->as_of);
		}
		note(m);
	}
}

static void one_line(struct maker *m, const struct km_purchase *l)
{
	const struct km_slot *s = l->slot->slot;
	const struct km_offer *o = offer_of(l);
	bool priced = l->way != NULL && l->way->priced;

	km_table_row(m->t);
	km_put_word(m->t, WHAT, m->parcel->seller ? "line" : "ask",
		    KM_TONE_NONE);
	if (m->parcel->seller)
		km_put_text(m->t, SELLER, m->parcel->seller->id);
	km_put_text(m->t, KIT, l->kit->kit->id);
	km_put_text(m->t, SLOT, s->id);
	km_words_slot_ref(m->b, s, m->p->audit->n_kits > 1 ? NULL
							   : l->kit->kit);
	km_put_buf(m->t, REF, m->b);
	km_put_text(m->t, OFFER, o ? o->id : NULL);
	km_put_text(m->t, JOB_LOT, l->lot ? l->lot->id : NULL);
	km_words_of_want(m->b, s, true);
	km_put_text(m->t, ASK_FOR, m->b->len ? m->b->text : NULL);
	km_put_item(m->t, ASK_LINES, m->b);
	put_part(m, l);
	put_notes(m, l);
	km_put_int(m->t, PIECES, l->pieces);
	if (!priced || l->lot)	/* a lot has one price, apart */
		return;
	put_money3(m->t, EACH_LOW, &l->price);
	put_money3(m->t, LOW, &l->amount);
}

static void parcel_heading(struct maker *m)
{
	const struct km_seller *s = m->parcel->seller;

	if (!s) {
		km_buf_str(m->b, m->p->audit->options.aim == KM_AIM_COMPLETE
			   ? "no acceptable offer is known: ask for"
			   : "the plan leaves these open: ask for");
		km_put_section(m->t, m->b);
		return;
	}
	km_buf_printf(m->b, "from %s", s->id);
	if (s->days_least >= 0 && s->days_most > s->days_least)
		km_buf_printf(m->b, ", %" PRId32 " to %" PRId32 " days",
			      s->days_least, s->days_most);
	else if (s->days_least >= 0)
		km_buf_printf(m->b, ", %" PRId32 " days", s->days_least);
	if (s->free_over.minor >= 0 && !s->currency) {
		km_buf_str(m->b, ", postage free from ");
		km_buf_money(m->b, s->free_over.minor, m->p->decimals);
	}
	km_put_section(m->t, m->b);
	if (!m->parcel->below_minimum)
		return;
	km_buf_str(m->b, "below the minimum order");
	if (s->minimum_order.minor >= 0 && !s->currency) {
		km_buf_str(m->b, " of ");
		km_buf_money(m->b, s->minimum_order.minor, m->p->decimals);
	}
	km_put_section(m->t, m->b);
}

static const struct km_money3 nothing = { 0, 0, 0 };

static bool any_money(const struct km_money3 *m)
{
	return m->low || m->likely || m->high;
}

/* Job lots of this seller, a line each: the price of all that they hold. */
static void job_lots(struct maker *m)
{
	const struct km_plan *plan = m->p->audit->plan;

	for (uint32_t i = 0; plan && i < plan->n_bills; i++) {
		const struct km_plan_bill *b = &plan->bills[i];

		if (b->kind != KM_BILL_JOB_LOT ||
		    b->seller != m->parcel->seller)
			continue;
		money_row(m, "job-lot", "job lot", &b->cost, KM_SHOW_BOTH);
		km_put_text(m->t, JOB_LOT, b->job_lot->id);
		km_put_text(m->t, REF, b->job_lot->id);
		km_put_int(m->t, PIECES, 1);
	}
}

/* What is bought besides, to come to the minimum order. */
static const struct km_money3 *top_up(const struct maker *m)
{
	const struct km_plan *plan = m->p->audit->plan;

	for (uint32_t i = 0; plan && i < plan->n_bills; i++)
		if (plan->bills[i].kind == KM_BILL_PARCEL &&
		    plan->bills[i].seller == m->parcel->seller)
			return &plan->bills[i].top_up;
	return &nothing;
}

/* Postage, and apart from it what only fills the order. */
static void carriage(struct maker *m)
{
	const struct km_money3 *up = top_up(m), *all = &m->parcel->postage;
	struct km_money3 post = { all->low - up->low, all->likely - up->likely,
				  all->high - up->high };

	if (any_money(up))
		money_row(m, "top-up", "to reach the minimum order", up,
			  KM_SHOW_BOTH);
	money_row(m, "postage", "postage", &post, KM_SHOW_BOTH);
}

static void one_parcel(struct maker *m, struct km_table *parcels)
{
	const struct km_parcel *p = m->parcel;

	parcel_heading(m);
	for (uint32_t i = 0; i < p->n_lines; i++)
		one_line(m, &p->lines[i]);
	if (!p->seller)
		return;
	job_lots(m);
	carriage(m);
	money_row(m, "parcel", "parcel", &p->total, KM_SHOW_TEXT);
	km_table_row(parcels);
	km_put_text(parcels, P_SELLER, p->seller->id);
	put_money3(parcels, P_GOODS_LOW, &p->goods);
	put_money3(parcels, P_POST_LOW, &p->postage);
	put_money3(parcels, P_LOW, &p->total);
	km_put_int(parcels, P_BELOW, p->below_minimum);
}

static void grand_total(struct maker *m, struct km_table *totals)
{
	const struct km_audit *a = m->p->audit;

	km_buf_printf(m->b, "all parcels, %s",
		      m->p->currency ? m->p->currency : "no prices were read");
	km_put_section(m->t, m->b);
	m->parcel = NULL;
	money_row(m, "total", "total", &a->shopping_total, KM_SHOW_TEXT);
	if (a->prices_old) {
		km_buf_printf(m->b, "prices older than 24 months: %" PRIu64,
			      a->prices_old);
		km_put_section(m->t, m->b);
	}
	km_table_row(totals);
	put_money3(totals, T_LOW, &a->shopping_total);
	km_put_int(totals, T_OLD, (int64_t)a->prices_old);
}

void km_make_shopping(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct maker m = { .p = p, .b = &p->line };
	struct km_table *parcels, *totals;

	m.t = km_page_table(p, "lines", columns, COLUMNS);
	parcels = km_page_table(p, "parcels", parcel_columns, P_COLUMNS);
	totals = km_page_table(p, "totals", total_columns, T_COLUMNS);
	if (!m.t || !parcels || !totals)
		return;
	parcels->show = totals->show = KM_SHOW_DATA;
	if (!a->n_parcels) {
		km_table_section(m.t, a->plan && !a->plan->feasible
				 ? "nothing to buy: no plan keeps the limit"
				 : "nothing to buy");
		return;
	}
	for (uint32_t i = 0; i < a->n_parcels; i++) {
		m.parcel = &a->parcels[i];
		one_parcel(&m, parcels);
	}
	grand_total(&m, totals);
	if (a->plan && !a->plan->looked_closer)
		km_table_section(m.t, "not every choice was tried another "
				 "way: too many places or offers, or the "
				 "search reached its limit");
}
