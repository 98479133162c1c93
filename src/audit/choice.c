/* SPDX-License-Identifier: MIT */
#include "audit/choice.h"

#include <stdlib.h>

#include "base/str.h"
#include "unit/date.h"
#include "unit/serial.h"

static enum km_speaks serial_speaks(const struct km_kit *k,
				   const struct km_machine *m)
{
	switch (km_serial_place(&k->serials, m)) {
	case KM_SERIAL_UNKNOWN:
		return KM_SPEAKS_NOT;
	case KM_SERIAL_INSIDE:
	case KM_SERIAL_FUZZY:
		return KM_SPEAKS_FOR;
	default:
		return KM_SPEAKS_AGAINST;
	}
}

static enum km_speaks date_speaks(const struct km_kit *k,
				 const struct km_machine *m)
{
	if (!k->years.from.year || !m->built.from.year)
		return KM_SPEAKS_NOT;
	return km_date_compare(k->years.from, m->built.to) <= 0 &&
	       km_date_compare(m->built.from, k->years.to) <= 0
		       ? KM_SPEAKS_FOR : KM_SPEAKS_AGAINST;
}

static enum km_speaks market_speaks(const struct km_kit *k,
				   const struct km_machine *m)
{
	if (!k->market || !m->market)
		return KM_SPEAKS_NOT;
	return km_fold_compare(km_slice_of(k->market),
			       km_slice_of(m->market)) == 0
		       ? KM_SPEAKS_FOR : KM_SPEAKS_AGAINST;
}

struct km_witness km_witness_of(const struct km_kit *k,
				const struct km_machine *m)
{
	return (struct km_witness){ serial_speaks(k, m), date_speaks(k, m),
				    market_speaks(k, m) };
}

/* May the machine have left with the kit? */
static bool possible(struct km_witness f)
{
	return f.serial == KM_SPEAKS_FOR ||
	       (f.serial == KM_SPEAKS_NOT && f.date != KM_SPEAKS_AGAINST);
}

static int better(struct km_witness a, struct km_witness b)
{
	if (a.serial != b.serial)
		return a.serial > b.serial ? 1 : -1;
	if (a.date != b.date)
		return a.date > b.date ? 1 : -1;
	return (a.market > b.market) - (a.market < b.market);
}

static int by_id(const void *a, const void *b)
{
	const struct km_kit *const *x = a, *const *y = b;

	return km_natural_compare((*x)->id, (*y)->id);
}

static enum km_chosen_by means(struct km_witness f)
{
	if (f.serial == KM_SPEAKS_FOR)
		return KM_BY_SERIAL;
	if (f.date == KM_SPEAKS_FOR)
		return KM_BY_DATE;
	return f.market == KM_SPEAKS_FOR ? KM_BY_MARKET : KM_BY_NOTHING;
}

/* ------------------------------------------------------------------ */
/* What points elsewhere                                               */

static enum km_speaks one_of(struct km_witness f, enum km_chosen_by by)
{
	if (by == KM_BY_SERIAL)
		return f.serial;
	return by == KM_BY_DATE ? f.date : f.market;
}

/* The kit that one of the three points to: of those that it fits the one that
 * the others fit best, the first by id. */
static const struct km_kit *pointed_to(const struct km_load *l,
				       const struct km_machine *m,
				       enum km_chosen_by by)
{
	const struct km_kit *best = NULL;
	struct km_witness of_best = { 0, 0, 0 };

	for (uint32_t i = 0; i < l->n_kits; i++) {
		const struct km_kit *k = l->kits[i];
		struct km_witness f = km_witness_of(k, m);
		int c = best ? better(f, of_best) : 1;

		if (one_of(f, by) != KM_SPEAKS_FOR)
			continue;
		if (c > 0 || (c == 0 && km_natural_compare(k->id,
							   best->id) < 0)) {
			best = k;
			of_best = f;
		}
	}
	return best;
}

static void find_elsewhere(const struct km_load *l, const struct km_machine *m,
			   const struct km_kit *k, struct km_choice *c)
{
	static const enum km_chosen_by all[] = { KM_BY_SERIAL, KM_BY_DATE,
						 KM_BY_MARKET };
	struct km_witness f = km_witness_of(k, m);

	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		if (one_of(f, all[i]) == KM_SPEAKS_AGAINST)
			c->elsewhere[c->n_elsewhere++] = (struct km_elsewhere){
				all[i], pointed_to(l, m, all[i]) };
}

void km_choose_named(const struct km_load *l, const struct km_machine *m,
		     const struct km_kit *k, struct km_choice *out)
{
	*out = (struct km_choice){ .by = KM_BY_NAME };
	if (m)
		find_elsewhere(l, m, k, out);
}

/* ------------------------------------------------------------------ */
/* The kit that fits                                                   */

static bool same_market(const struct km_kit *a, const struct km_kit *b)
{
	if (!a->market || !b->market)
		return a->market == b->market;
	return km_fold_compare(km_slice_of(a->market),
			       km_slice_of(b->market)) == 0;
}

/* What to ask, so that one of several kits is left. */
static enum km_undecided question(const struct km_choice *c,
				  const struct km_machine *m)
{
	bool serials = false, years = false;

	for (uint32_t i = 0; i < c->n_kits; i++) {
		if (!m->market && !same_market(c->kits[i], c->kits[0]))
			return KM_UNDECIDED_MARKET;
		serials |= c->kits[i]->serials.given;
		years |= c->kits[i]->years.from.year != 0;
	}
	return years && !(serials && km_serial_recorded(m)) &&
			       (m->built.from.year || !serials)
		       ? KM_UNDECIDED_DATE : KM_UNDECIDED_SERIAL;
}

enum km_status km_choose_kit(struct km_arena *mem, const struct km_load *l,
			     const struct km_machine *m,
			     struct km_choice *out)
{
	struct km_choice c = { .by = KM_BY_NAME };
	struct km_witness best = { 0, 0, 0 };

	c.kits = km_arena_alloc(mem, (size_t)l->n_kits + 1, sizeof *c.kits);
	if (!c.kits)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < l->n_kits && !m->kit; i++) {
		struct km_witness f = km_witness_of(l->kits[i], m);
		int order = c.n_kits ? better(f, best) : 1;

		if (!possible(f) || order < 0)
			continue;
		if (order > 0)
			c.n_kits = 0;
		best = f;
		c.kits[c.n_kits++] = l->kits[i];
	}
	if (m->kit) {
		c.kits[c.n_kits++] = m->kit;
	} else {
		qsort(c.kits, c.n_kits, sizeof *c.kits, by_id);
		c.by = means(best);
		if (c.n_kits > 1)
			c.undecided = question(&c, m);
	}
	if (c.n_kits)
		find_elsewhere(l, m, c.kits[0], &c);
	*out = c;
	return KM_OK;
}

/* Days between two periods that do not meet; -1: one is not recorded. */
static int64_t days_off(const struct km_kit *k, const struct km_machine *m)
{
	int64_t before, behind;

	if (date_speaks(k, m) != KM_SPEAKS_AGAINST)
		return -1;
	before = km_date_days(k->years.from) - km_date_days(m->built.to);
	behind = km_date_days(m->built.from) - km_date_days(k->years.to);
	return before > 0 ? before : behind;
}

const struct km_kit *km_nearest_kit(const struct km_load *l,
				    const struct km_machine *m,
				    int64_t *off, bool *days)
{
	const struct km_kit *best = NULL;

	for (int by_date = 0; by_date < 2 && !best; by_date++)
		for (uint32_t i = 0; i < l->n_kits; i++) {
			const struct km_kit *k = l->kits[i];
			int64_t n = by_date ? days_off(k, m)
					    : km_serial_outside(&k->serials,
						km_serial_in(&k->serials, m));

			if (n <= 0 || (best && n > *off) ||
			    (best && n == *off &&
			     km_natural_compare(k->id, best->id) > 0))
				continue;
			best = k;
			*off = n;
			*days = by_date;
		}
	return best;
}
