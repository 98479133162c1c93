/* SPDX-License-Identifier: MIT */
#include "match/compare.h"

static void check_mark(struct km_reading *r, const struct km_size_book *book)
{
	struct km_opening_check k = km_opening_check(r->opening, r->marked,
						     book);

	r->is = k.is;
	if (k.is == KM_OPENING_SPREAD || k.is == KM_OPENING_UNFINISHED)
		r->spread_nm = k.beyond_nm;
	if (k.is == KM_OPENING_OTHER)
		r->other = k.other;
}

static void read_opening(struct km_reading *r, const struct km_size_book *book)
{
	uint32_t inside;

	r->n_found = km_opening_identify(r->opening, book, r->found,
					 KM_OPENING_MOST, &inside);
	if (r->n_found > KM_OPENING_MOST)
		r->n_found = KM_OPENING_MOST;
}

void km_readings_take(struct km_readings *r, const struct km_traits *t,
		      const struct km_size_book *book)
{
	const union km_value *m = km_trait(t, KM_A_SIZES);
	const union km_value *o = km_trait(t, KM_A_OPENINGS);
	const union km_value *length = km_trait(t, KM_A_LENGTH);
	uint32_t n = m ? m->sizes.n : 0;

	r->has_length = length != NULL;
	r->length = length ? length->span : (struct km_span){ 0 };
	if (o && o->spans.n > n)
		n = o->spans.n;
	r->none = t->none >> KM_A_SIZES & 1;
	r->n = n < KM_ENDS_READ ? n : KM_ENDS_READ;
	for (uint32_t i = 0; i < r->n; i++) {
		struct km_reading *e = &r->v[i];

		*e = (struct km_reading){ .is = KM_OPENING_UNKNOWN };
		if (m && i < m->sizes.n)
			e->marked = m->sizes.v[i];
		if (!book || !o || i >= o->spans.n || o->spans.v[i].nm <= 0)
			continue;
		e->opening = o->spans.v[i];
		if (e->marked)
			check_mark(e, book);
		else
			read_opening(e, book);
	}
}
