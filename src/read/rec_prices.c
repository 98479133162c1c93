/* SPDX-License-Identifier: MIT */
/* Prices: sellers, offers, job lots, rates, superseded part numbers. */
#include <string.h>

#include "base/num.h"
#include "read/attr.h"
#include "read/measure.h"
#include "read/rec.h"
#include "unit/money.h"

/* ------------------------------------------------------------------ */
/* Sellers                                                             */

static void own_currency(struct km_bind *b, const struct km_field *f,
			 void *rec, const struct km_node *n)
{
	const char *code = km_read_currency(b, n, f->key);

	memcpy((char *)rec + f->at, &code, sizeof code);
}

/* The sums below are in the currency of the record itself, if it has one. */
static void keep_currency(struct km_bind *b, const char **own)
{
	b->keeps_currency = own;
}

static void own_seller_money(struct km_bind *b, const struct km_field *f,
			     void *rec, const struct km_node *n)
{
	struct km_seller *s = rec;

	keep_currency(b, &s->currency);
	km_read_money(b, n, f->key, (int64_t *)(void *)((char *)rec + f->at));
	keep_currency(b, NULL);
}

#define SELLER_MONEY(key_, member, example_, doc_)                             \
	{ .key = key_, .type = KM_T_MONEY, .flags = KM_MINUS,                  \
	  .own = own_seller_money,                                             \
	  .at = KM_AT(struct km_seller, member.minor, int64_t),                \
	  .example = example_, .doc = doc_ }

static const struct km_field seller_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY, .flags = KM_FIRST,
	  .own = own_currency,
	  .at = KM_AT(struct km_seller, currency, const char *),
	  .example = "GBP",
	  .doc = "The currency of the seller, if not that of the prices." },
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_seller, id, const char *),
	  .example = "north", .doc = "The word that offers name it by." },
	SELLER_MONEY("postage", postage, "4.80", "Postage of one parcel."),
	SELLER_MONEY("free_over", free_over, "50.00",
		     "From this sum on the parcel is free."),
	SELLER_MONEY("minimum_order", minimum_order, "10.00",
		     "The least that it sells for."),
	{ .key = "days", .type = KM_T_DAYS, .flags = KM_MINUS, .max = 10000,
	  .at = KM_AT(struct km_seller, days_least, int32_t),
	  .at2 = KM_AT(struct km_seller, days_most, int32_t),
	  .example = "3-7", .doc = "Days until it is here." },
	{ .key = "note", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_seller, note, const char *),
	  .example = "autumn fair only", .doc = "Anything else." },
	{ .type = KM_T_END }
};

static void check_seller(struct km_bind *b, void *rec,
			 const struct km_node *n)
{
	((struct km_seller *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_seller = {
	.no = KM_REC_SELLER, .name = "seller", .size = sizeof(struct km_seller),
	.fields = seller_fields, .check = check_seller,
	.doc = "Somebody who sends parcels, or a stall.",
};

/* ------------------------------------------------------------------ */
/* Offers                                                              */

enum { PRICE_WRONG = -2 };

static const char *const offer_words[] = {
	"new", "used", "nos", "reproduction", NULL
};

/* Nothing to pay would make it the way of every plan. */
static void refuse_nothing(struct km_bind *b, const struct km_node *n,
			   const char *key, const struct km_money3 *price)
{
	struct km_diag *one;

	if (price->likely)
		return;
	one = KM_SAY(b, n, ZERO_PRICE, key);
	KM_HINT(b, one, "what is given to you goes on the bench, with 'status: "
		"ordered' until it comes; leave out an offer whose price is "
		"not known");
}

static void own_offer_price(struct km_bind *b, const struct km_field *f,
			    void *rec, const struct km_node *n)
{
	struct km_offer *o = rec;

	keep_currency(b, &o->currency);
	km_read_money3(b, n, f->key, &o->price);
	if (o->price.low < 0)		/* in error: a message was given */
		o->price.low = PRICE_WRONG;
	else
		refuse_nothing(b, n, f->key, &o->price);
	keep_currency(b, NULL);
}

static void own_fits(struct km_bind *b, const struct km_field *f, void *rec,
		     const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_SLOT_REF };
	struct km_offer *o = rec;
	const char *kit, *slot;

	if (!km_read_value(b, &row, &kit, &slot, n))
		return;
	o->fits = km_words_text(b->words, n->text, n->n);
	if (!o->fits)
		b->nomem = true;
}

static const struct km_field offer_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY, .flags = KM_FIRST,
	  .own = own_currency,
	  .at = KM_AT(struct km_offer, currency, const char *),
	  .example = "EUR",
	  .doc = "The currency of the price, if not that of the prices." },
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_offer, id, const char *),
	  .example = "o1", .doc = "Names the offer." },
	{ .key = "seller", .type = KM_T_REF, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_offer, seller_id, const char *),
	  .example = "north", .doc = "The id of the seller." },
	{ .key = "state", .type = KM_T_CHOICE, .choices = offer_words,
	  .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_offer, state, enum km_offer_state),
	  .example = "new",
	  .doc = "new, used, nos (old stock never used) or reproduction." },
	{ .key = "price", .type = KM_T_MONEY3, .flags = KM_STARTER | KM_MINUS,
	  .own = own_offer_price, .rec = &km_rec_money3,
	  .at = KM_AT(struct km_offer, price, struct km_money3),
	  .example = "{low: 8.00, likely: 12.00, high: 22.00}",
	  .doc = "What one costs; without it only sold in a job lot." },
	{ .key = "stock", .type = KM_T_INT, .flags = KM_MINUS, .max = 1000000,
	  .at = KM_AT(struct km_offer, stock, int32_t), .example = "1",
	  .doc = "How many there are." },
	{ .key = "chance", .type = KM_T_INT, .flags = KM_MINUS, .max = 100,
	  .at = KM_AT(struct km_offer, chance, int32_t), .example = "40",
	  .doc = "The chance of finding it, per cent; printed only." },
	{ .key = "condition", .type = KM_T_OWN, .form = KM_FORM_RECORD,
	  .own = km_own_condition,
	  .rec = &km_rec_condition, .shape = "a condition",
	  .at = KM_AT(struct km_offer, condition, const struct km_condition *),
	  .example = "{rust: 2}", .doc = "What it is like." },
	{ .key = "as_of", .type = KM_T_DATE,
	  .at = KM_AT(struct km_offer, as_of, struct km_date),
	  .example = "2026-04-01", .doc = "When the price was seen." },
	{ .key = "fits", .type = KM_T_OWN, .form = KM_FORM_SLOT,
	  .own = own_fits,
	  .shape = "kit/slot",
	  .at = KM_AT(struct km_offer, fits, const char *),
	  .example = "larkmoor-54-first/S-07",
	  .doc = "The slot that the seller offers it for." },
	{ .key = "note", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_offer, note, const char *),
	  .example = "boxed", .doc = "Anything else." },
	{ .type = KM_T_END }
};

static void offer_traits(struct km_bind *b, void *rec,
			 const struct km_attr_nodes *nodes)
{
	km_traits_read(b, nodes, &((struct km_offer *)rec)->traits);
}

static void check_offer(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_offer *o = rec;
	uint32_t bits = (uint32_t)1 << KM_A_TOOL | (uint32_t)1 << KM_A_PART;
	struct km_diag *one;

	o->at = km_bind_at(b, n);
	if (!o->fits && !(o->traits.has & bits)) {
		one = KM_SAY(b, n, MISSING_KEY, "offer", "tool");
		KM_HINT(b, one, "say what it is: 'tool', 'part', or the slot "
			"that it 'fits'");
	}
}

const struct km_record km_rec_offer = {
	.no = KM_REC_OFFER, .name = "offer", .size = sizeof(struct km_offer),
	.fields = offer_fields, .attrs = true, .traits = offer_traits,
	.check = check_offer,
	.doc = "Something that can be bought, described as delivered.",
};

/* ------------------------------------------------------------------ */
/* Job lots                                                            */

static void own_lot_price(struct km_bind *b, const struct km_field *f,
			  void *rec, const struct km_node *n)
{
	struct km_job_lot *lot = rec;

	keep_currency(b, &lot->currency);
	km_read_money3(b, n, f->key, &lot->price);
	refuse_nothing(b, n, f->key, &lot->price);
	keep_currency(b, NULL);
}

static const struct km_field lot_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY, .flags = KM_FIRST,
	  .own = own_currency,
	  .at = KM_AT(struct km_job_lot, currency, const char *),
	  .example = "EUR",
	  .doc = "The currency of the price, if not that of the prices." },
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_job_lot, id, const char *),
	  .example = "j1", .doc = "Names the job lot." },
	{ .key = "seller", .type = KM_T_REF, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_job_lot, seller_id, const char *),
	  .example = "fair", .doc = "The id of the seller." },
	{ .key = "price", .type = KM_T_MONEY3,
	  .flags = KM_REQUIRED | KM_MINUS, .own = own_lot_price,
	  .rec = &km_rec_money3,
	  .at = KM_AT(struct km_job_lot, price, struct km_money3),
	  .example = "20.00", .doc = "What the whole of it costs." },
	{ .key = "holds", .type = KM_T_REFS, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_job_lot, hold_ids, const char *const *),
	  .at2 = KM_AT(struct km_job_lot, n_holds, uint32_t),
	  .example = "[o2, o3]", .doc = "The offers that it holds." },
	{ .type = KM_T_END }
};

static void check_lot(struct km_bind *b, void *rec, const struct km_node *n)
{
	((struct km_job_lot *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_job_lot = {
	.no = KM_REC_JOB_LOT, .name = "job lot",
	.size = sizeof(struct km_job_lot), .fields = lot_fields,
	.check = check_lot, .doc = "Several things sold together only.",
};

/* ------------------------------------------------------------------ */
/* Superseded part numbers                                             */

/* Words that are attributes set a bit; others are kept as they are. */
static void own_changes(struct km_bind *b, const struct km_field *f, void *rec,
			const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_TEXTS,
				.flags = KM_LIST_OR_ONE };
	struct km_supersession *s = rec;
	uint32_t i, a;

	if (!km_read_value(b, &row, &s->change_words, &s->n_changes, n))
		return;
	for (i = 0; i < s->n_changes; i++)
		for (a = 0; a < KM_ATTRS; a++)
			if (!km_fold_compare(km_slice_of(s->change_words[i]),
					     km_slice_of(km_attr_fields[a].key)))
				s->changes |= (uint32_t)1 << a;
}

static const struct km_field supersession_fields[] = {
	{ .key = "old", .type = KM_T_TEXT, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_supersession, old_part, const char *),
	  .example = "54-701", .doc = "The part number that ended." },
	{ .key = "new", .type = KM_T_TEXT, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_supersession, new_part, const char *),
	  .example = "54-701A", .doc = "The part number that is sold now." },
	{ .key = "changes", .type = KM_T_OWN, .form = KM_FORM_TEXTS,
	  .own = own_changes,
	  .shape = "a list of keys of attributes", .example = "[finish]",
	  .doc = "What is different in the new one." },
	{ .key = "both_ways", .type = KM_T_BOOL,
	  .at = KM_AT(struct km_supersession, both_ways, bool),
	  .example = "no", .doc = "Whether the old one also replaces the "
				  "new one." },
	{ .type = KM_T_END }
};

static void check_supersession(struct km_bind *b, void *rec,
			       const struct km_node *n)
{
	((struct km_supersession *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_supersession = {
	.no = KM_REC_SUPERSESSION, .name = "supersession",
	.size = sizeof(struct km_supersession), .fields = supersession_fields,
	.check = check_supersession,
	.doc = "One part number that took the place of another.",
};

/* ------------------------------------------------------------------ */
/* The record itself                                                   */

static bool read_rate(struct km_bind *b, const struct km_node *key,
		      struct km_rate *rate)
{
	const struct km_node *n = key->next;
	struct km_rational r;
	struct km_slice s;
	int places;

	rate->currency = km_read_currency(b, key, "rates");
	if (!rate->currency || !km_want_scalar(b, n, "rates", "a number"))
		return false;
	s = km_node_slice(n);
	if (n->style != KM_PLAIN ||
	    km_decimal_eat(&s, false, &r, &places) != KM_OK || s.n) {
		KM_SAY(b, n, NOT_A_NUMBER, km_clip(b, n), "rates");
		return false;
	}
	if (!r.num) {
		KM_SAY(b, n, ZERO_RATE, rate->currency);
		return false;
	}
	rate->num = r.num;
	rate->den = r.den;
	return true;
}

static void own_rates(struct km_bind *b, const struct km_field *f, void *rec,
		      const struct km_node *n)
{
	struct km_prices *p = rec;
	const struct km_node *key;
	struct km_rate *v;
	uint32_t i = 0;

	if (!km_want_map(b, n, f->key) || !n->n)
		return;
	v = km_bind_alloc(b, n->n, sizeof *v);
	for (key = n->first; v && key; key = key->next->next)
		if (read_rate(b, key, &v[i]))
			i++;
		else
			b->rates_wrong = true;
	p->rates = v;
	p->n_rates = v ? i : 0;
}

static const struct km_field prices_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY,
	  .flags = KM_STARTER | KM_FIRST,
	  .at = KM_AT(struct km_prices, currency, const char *),
	  .example = "GBP", .doc = "The currency of all sums without one." },
	{ .key = "as_of", .flags = KM_STARTER, .type = KM_T_DATE,
	  .at = KM_AT(struct km_prices, as_of, struct km_date),
	  .example = "2026-04-01", .doc = "When the prices were seen." },
	{ .key = "rates", .type = KM_T_OWN, .form = KM_FORM_NUMBER_MAP,
	  .own = own_rates,
	  .shape = "a map from currencies to numbers",
	  .example = "{EUR: 0.86}",
	  .doc = "What one unit of another currency is worth in this one." },
	{ .key = "sellers", .flags = KM_STARTER, .type = KM_T_LIST,
	  .rec = &km_rec_seller,
	  .at = KM_AT(struct km_prices, sellers, struct km_seller *),
	  .at2 = KM_AT(struct km_prices, n_sellers, uint32_t),
	  .example = "[{id: north, postage: 4.80}]", .doc = "Who sells." },
	{ .key = "offers", .flags = KM_STARTER, .type = KM_T_LIST,
	  .rec = &km_rec_offer,
	  .at = KM_AT(struct km_prices, offers, struct km_offer *),
	  .at2 = KM_AT(struct km_prices, n_offers, uint32_t),
	  .example = "[{id: o1, part: 54-702, seller: north, state: new, "
		     "price: 6.40}]",
	  .doc = "What can be bought." },
	{ .key = "job_lots", .type = KM_T_LIST, .rec = &km_rec_job_lot,
	  .at = KM_AT(struct km_prices, job_lots, struct km_job_lot *),
	  .at2 = KM_AT(struct km_prices, n_job_lots, uint32_t),
	  .example = "[{id: j1, seller: fair, price: 20.00, holds: [o1]}]",
	  .doc = "Things sold together only." },
	{ .key = "superseded", .type = KM_T_LIST,
	  .rec = &km_rec_supersession,
	  .at = KM_AT(struct km_prices, superseded, struct km_supersession *),
	  .at2 = KM_AT(struct km_prices, n_superseded, uint32_t),
	  .example = "[{old: 54-701, new: 54-701A}]",
	  .doc = "Part numbers that took the place of others." },
	{ .key = "only_three_highest", .type = KM_T_BOOL,
	  .at = KM_AT(struct km_prices, only_three_highest, bool),
	  .example = "no",
	  .doc = "Whether of several lot minimums of one delivery only the "
		 "three highest are charged; bakes are charged besides." },
	{ .type = KM_T_END }
};

/* Supersessions alone are no matter of money. */
static void check_prices(struct km_bind *b, void *rec,
			 const struct km_node *n)
{
	const struct km_prices *p = rec;
	struct km_diag *one;

	if (km_bind_saw(b, &km_rec_prices, "currency") ||
	    !(p->n_sellers || p->n_offers || p->n_job_lots || p->n_rates))
		return;
	one = KM_SAY(b, n, MISSING_KEY, km_rec_prices.name, "currency");
	KM_HINT(b, one, "for example 'currency: GBP'");
}

const struct km_record km_rec_prices = {
	.no = KM_REC_PRICES, .name = "record of prices",
	.size = sizeof(struct km_prices), .fields = prices_fields,
	.check = check_prices,
	.doc = "What can be bought, from whom, for how much.",
};

struct km_prices *km_prices_read(struct km_bind *b, const struct km_node *n)
{
	struct km_prices *p = km_bind_alloc(b, 1, sizeof *p);

	if (!p || !km_want_map(b, n, "prices"))
		return NULL;
	b->currency = &p->currency;
	km_bind_record(b, &km_rec_prices, p, n);
	b->currency = NULL;
	p->at = km_bind_at(b, n);
	return p;
}
