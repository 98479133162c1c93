/* SPDX-License-Identifier: MIT */
/* The workshop: what work costs and takes, where it differs from the table. */
#include <string.h>

#include "base/num.h"
#include "read/measure.h"
#include "read/rec.h"
#include "trade/process.h"

/* "0.00 per hour", "18.00 GBP per hour". */
static void own_own_time(struct km_bind *b, const struct km_field *f,
			 void *rec, const struct km_node *n)
{
	static const char words[] = "per hour";
	struct km_workshop *w = rec;
	struct km_slice s;
	struct km_diag *one;
	const char *code;
	int64_t v;

	if (!km_want_scalar(b, n, f->key, f->shape))
		return;
	s = km_slice_trim(km_node_slice(n));
	if (s.n < sizeof words ||
	    memcmp(s.p + s.n - (sizeof words - 1), words, sizeof words - 1)) {
		one = KM_SAY(b, n, BAD_MONEY, km_clip(b, n), f->key);
		KM_HINT(b, one, "write '0.00 per hour'");
		return;
	}
	s.n -= sizeof words - 1;
	if (!km_money_text(b, n, f->key, s, &v, &code))
		return;
	w->own_time.minor = v;
	km_money_later(b, n, &w->own_time.minor, code);
}

/* Money for one cost unit, exact. */
static void own_unit(struct km_bind *b, const struct km_field *f, void *rec,
		     const struct km_node *n)
{
	struct km_workshop *w = rec;
	struct km_rational r;
	struct km_slice s;
	int places;

	if (!km_want_scalar(b, n, f->key, f->shape))
		return;
	s = km_node_slice(n);
	if (n->style != KM_PLAIN ||
	    km_decimal_eat(&s, false, &r, &places) != KM_OK || s.n) {
		KM_SAY(b, n, NOT_A_NUMBER, km_clip(b, n), f->key);
		return;
	}
	w->unit_num = r.num;
	w->unit_den = r.den;
	w->unit_given = true;
}

struct open_lot { int32_t pieces; struct km_date closes; };

static const struct km_field open_lot_fields[] = {
	{ .key = "pieces", .type = KM_T_INT, .flags = KM_REQUIRED,
	  .max = 1000000, .at = KM_AT(struct open_lot, pieces, int32_t),
	  .example = "5", .doc = "How many pieces are in it already." },
	{ .key = "closes", .type = KM_T_DATE,
	  .at = KM_AT(struct open_lot, closes, struct km_date),
	  .example = "2026-05-12", .doc = "The last day to add one." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_open_lot = {
	.no = KM_REC_OPEN_LOT, .name = "open lot",
	.size = sizeof(struct open_lot), .fields = open_lot_fields,
	.doc = "A delivery to a shop that is agreed and not yet sent.",
};

static void own_open_lot(struct km_bind *b, const struct km_field *f,
			 void *rec, const struct km_node *n)
{
	struct km_process_terms *t = rec;
	struct open_lot lot = { -1, { 0, 0, 0 } };

	if (!km_want_map(b, n, f->key))
		return;
	km_bind_record(b, &km_rec_open_lot, &lot, n);
	t->open_lot_pieces = lot.pieces;
	t->open_lot_closes = lot.closes;
}

#define TERMS_MONEY(key_, member, example_, doc_)                              \
	{ .key = key_, .type = KM_T_MONEY3, .flags = KM_MINUS,                 \
	  .rec = &km_rec_money3,                                               \
	  .at = KM_AT(struct km_process_terms, member, struct km_money3),      \
	  .example = example_, .doc = doc_ }

static const struct km_field terms_fields[] = {
	TERMS_MONEY("lot_minimum", lot_minimum, "60.00",
		    "The least that a delivery costs."),
	TERMS_MONEY("piece", piece, "2.00", "What one piece costs."),
	TERMS_MONEY("load", load, "6.00", "What one load of a tank costs."),
	{ .key = "load_pieces", .type = KM_T_INT, .flags = KM_MINUS, .min = 1,
	  .max = 1000000,
	  .at = KM_AT(struct km_process_terms, load_pieces, int32_t),
	  .example = "8", .doc = "How many pieces go into a load." },
	{ .key = "days", .type = KM_T_DAYS, .flags = KM_MINUS, .max = 10000,
	  .at = KM_AT(struct km_process_terms, days, int32_t),
	  .example = "14", .doc = "Days until it is back." },
	{ .key = "hands", .type = KM_T_INT, .flags = KM_MINUS, .max = 100000,
	  .at = KM_AT(struct km_process_terms, hands_min, int32_t),
	  .example = "20", .doc = "Minutes of own work a piece." },
	{ .key = "not_available", .type = KM_T_BOOL,
	  .at = KM_AT(struct km_process_terms, not_available, bool),
	  .example = "yes", .doc = "yes: it cannot be had." },
	{ .key = "open_lot", .type = KM_T_OWN, .form = KM_FORM_RECORD,
	  .own = own_open_lot,
	  .shape = "an open lot", .rec = &km_rec_open_lot,
	  .example = "{pieces: 5, closes: 2026-05-12}",
	  .doc = "A delivery that is agreed and can still be joined." },
	{ .type = KM_T_END }
};

static void check_terms(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_process_terms *t = rec;
	struct km_diag *one;

	t->at = km_bind_at(b, n);
	t->process = km_process_find(km_slice_of(t->id));
	if (t->process)
		return;
	one = KM_SAY(b, n, UNKNOWN_PROCESS, t->id);
	KM_HINT(b, one, "for example soak_citric, plate_zinc, black_hot, "
		"paint, handle_dip or straighten");
}

const struct km_record km_rec_terms = {
	.no = KM_REC_TERMS, .name = "process",
	.size = sizeof(struct km_process_terms), .fields = terms_fields,
	.check = check_terms,
	.doc = "What a process costs and takes here.",
};

static const struct km_field workshop_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY,
	  .flags = KM_STARTER | KM_FIRST,
	  .at = KM_AT(struct km_workshop, currency, const char *),
	  .example = "GBP", .doc = "The currency of these sums." },
	{ .key = "own_time", .type = KM_T_OWN, .flags = KM_STARTER | KM_MINUS,
	  .own = own_own_time, .shape = "money per hour",
	  .at = KM_AT(struct km_workshop, own_time.minor, int64_t),
	  .example = "0.00 per hour",
	  .doc = "What an hour of own work is worth." },
	{ .key = "unit", .flags = KM_STARTER, .type = KM_T_OWN,
	  .form = KM_FORM_NUMBER, .own = own_unit,
	  .shape = "a number", .example = "0.95",
	  .doc = "Money for one cost unit of the built-in table." },
	{ .key = "processes", .flags = KM_STARTER, .type = KM_T_BY_NAME,
	  .rec = &km_rec_terms,
	  .at = KM_AT(struct km_workshop, processes,
		      struct km_process_terms *),
	  .at2 = KM_AT(struct km_workshop, n_processes, uint32_t),
	  .example = "{plate_zinc: {lot_minimum: 60.00, piece: 2.00}}",
	  .doc = "Processes whose terms differ from the table." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_workshop = {
	.no = KM_REC_WORKSHOP, .name = "workshop",
	.size = sizeof(struct km_workshop), .fields = workshop_fields,
	.doc = "What work costs and takes.",
};

struct km_workshop *km_workshop_read(struct km_bind *b,
				     const struct km_node *n)
{
	struct km_workshop *w = km_bind_alloc(b, 1, sizeof *w);

	if (!w || !km_want_map(b, n, "workshop"))
		return NULL;
	km_bind_defaults(&km_rec_workshop, w);
	b->currency = &w->currency;
	km_bind_record(b, &km_rec_workshop, w, n);
	b->currency = NULL;
	w->at = km_bind_at(b, n);
	return w;
}
