/* SPDX-License-Identifier: MIT */
/*
 * shopping - what to order from whom.  Every total can be added up by hand
 * from the lines printed above it.  This sheet leaves the house: it names no
 * owner of a machine or a tool.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "unit/date.h"
#include "unit/money.h"

enum {
	WHAT, SELLER, KIT, SLOT, REF, OFFER, PART, ASK_FOR, ASK_LINES, PIECES,
	EACH_LOW, EACH, EACH_HIGH, LOW, LIKELY, HIGH, NOTES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[WHAT] = { "what", "what", KM_COL_WORD, true },
	[SELLER] = { "seller", "seller", KM_COL_ID, true },
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[REF] = { NULL, "slot", KM_COL_ID, false },
	[OFFER] = { "offer", "offer", KM_COL_ID, false },
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

static void section(struct maker *m)
{
	if (!km_buf_failed(m->b) && m->b->len)
		km_table_section(m->t, m->b->text);
	km_buf_clear(m->b);
}

/* A row of money with a word beside it. */
static void money_row(struct maker *m, const char *what,
		      const struct km_money3 *v, uint8_t show)
{
	km_table_row(m->t);
	if (m->t->failed)
		return;
	m->t->last->show = show;
	km_put_word(m->t, WHAT, what, KM_TONE_NONE);
	if (m->parcel && m->parcel->seller)
		km_put_text(m->t, SELLER, m->parcel->seller->id);
	km_buf_str(m->b, what);
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

/* The part number to ask for: the offer's, else the slot's. */
static void put_part(struct maker *m, const struct km_purchase *l)
{
	const struct km_offer *o = offer_of(l);
	const union km_value *v = o ? km_trait(&o->traits, KM_A_PART) : NULL;

	if (v)
		km_buf_str(m->b, v->text);
	else
		km_words_wanted(m->b, &l->slot->slot->want[KM_A_PART],
				KM_A_PART);
	if (!m->b->len)
		return;
	km_put_text(m->t, PART, m->b->text);
	km_buf_clear(m->b);
	km_buf_printf(m->b, "part %s", v ? v->text : "");
	if (!v)
		km_words_wanted(m->b, &l->slot->slot->want[KM_A_PART],
				KM_A_PART);
	km_put_item(m->t, ASK_LINES, m->b);
}

static void put_notes(struct maker *m, const struct km_purchase *l)
{
	const struct km_offer *o = offer_of(l);

	km_put_list(m->t, NOTES);
	if (l->way && (l->way->kind == KM_WAY_OFFER_WORK || l->way->route)) {
		km_buf_str(m->b, "will need work");
		note(m);
	}
	if (l->way && l->way->kind == KM_WAY_LOT) {
		km_buf_str(m->b, "sold in a job lot");
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
	km_words_of_want(m->b, s, true);
	km_put_text(m->t, ASK_FOR, m->b->len ? m->b->text : NULL);
	km_put_item(m->t, ASK_LINES, m->b);
	put_part(m, l);
	put_notes(m, l);
	km_put_int(m->t, PIECES, l->pieces);
	if (!priced)
		return;
	put_money3(m->t, EACH_LOW, &l->price);
	put_money3(m->t, LOW, &l->amount);
}

static void parcel_heading(struct maker *m)
{
	const struct km_seller *s = m->parcel->seller;

	if (!s) {
		km_buf_str(m->b, "no acceptable offer is known: ask for");
		section(m);
		return;
	}
	km_buf_printf(m->b, "from %s", s->id);
	if (s->days_least >= 0 && s->days_most > s->days_least)
		km_buf_printf(m->b, ", %" PRId32 " to %" PRId32 " days",
			      s->days_least, s->days_most);
	else if (s->days_least >= 0)
		km_buf_printf(m->b, ", %" PRId32 " days", s->days_least);
	section(m);
	if (!m->parcel->below_minimum)
		return;
	km_buf_str(m->b, "below the minimum order");
	if (s->minimum_order.minor >= 0 && !s->currency) {
		km_buf_str(m->b, " of ");
		km_buf_money(m->b, s->minimum_order.minor, m->p->decimals);
	}
	section(m);
}

static void one_parcel(struct maker *m, struct km_table *parcels)
{
	const struct km_parcel *p = m->parcel;

	parcel_heading(m);
	for (uint32_t i = 0; i < p->n_lines; i++)
		one_line(m, &p->lines[i]);
	if (!p->seller)
		return;
	money_row(m, "postage", &p->postage, KM_SHOW_BOTH);
	money_row(m, "parcel", &p->total, KM_SHOW_TEXT);
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
	section(m);
	m->parcel = NULL;
	money_row(m, "total", &a->shopping_total, KM_SHOW_TEXT);
	if (a->prices_old) {
		km_buf_printf(m->b, "prices older than 24 months: %" PRIu64,
			      a->prices_old);
		section(m);
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
		km_table_section(m.t, "nothing to buy");
		return;
	}
	for (uint32_t i = 0; i < a->n_parcels; i++) {
		m.parcel = &a->parcels[i];
		one_parcel(&m, parcels);
	}
	grand_total(&m, totals);
}
