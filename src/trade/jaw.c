/* SPDX-License-Identifier: MIT */
#include "trade/jaw.h"

#include <math.h>

/* A length of anything a spanner could hold: keeps every product below in 64
 * bits (113 * 2 * 10^10 and 2 * (2 * 10^9)^2). */
#define OPENING_MAX KM_MM(2000)

static int64_t least(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

static int64_t greatest(int64_t a, int64_t b)
{
	return a > b ? a : b;
}

/* ------------------------------------------------------------------ */
/* Share                                                               */

/*
 * The part of pairs with O >= s, O uniform in [lo, hi] and s in [min, max].
 * Over a single s the part is (hi - s) / (hi - lo) between the ends, 1 below
 * lo, 0 above hi; summed over s that is a rectangle and a piece of a triangle
 *
 *	2 (hi - lo) (max - min) share
 *	    = 2 (hi - lo) (q - min) + (hi - q)^2 - (hi - p)^2
 *
 * with q = lo and p = hi, both held within [min, max].
 */
static struct km_rational share_of(int64_t lo, int64_t hi, int64_t min,
				   int64_t max)
{
	int64_t q = least(greatest(lo, min), max);
	int64_t p = least(greatest(hi, min), max);

	if (hi == lo && max == min)
		return (struct km_rational){ lo >= min, 1 };
	if (hi == lo)			/* one opening: the heads below it */
		return (struct km_rational){ q - min, max - min };
	if (max == min)			/* one head: the openings above it */
		return (struct km_rational){ hi - greatest(lo, least(min, hi)),
					     hi - lo };
	return (struct km_rational){
		2 * (hi - lo) * (q - min) + (hi - q) * (hi - q)
			- (hi - p) * (hi - p),
		2 * (hi - lo) * (max - min)
	};
}

/* (1.13 s - O) / (0.13 s), of sums of as many openings as heads. */
static struct km_rational bite_of(int64_t opening, int64_t head)
{
	return (struct km_rational){ 113 * head - 100 * opening, 13 * head };
}

static bool at_least(struct km_rational r, int64_t thousandths)
{
	return km_rational_compare(r, (struct km_rational){ thousandths, 1000 })
	       >= 0;
}

static int32_t thousandths_of(struct km_rational r)
{
	int64_t v = 0;

	km_mul_div(r.num, 1000, r.den, &v);
	return (int32_t)v;
}

/* Free turn in tenths of a degree of the widest jaw on the least head. */
static int32_t swing_of(int64_t opening, int64_t head)
{
	double c = (double)opening * sqrt(3.0) / (2.0 * (double)head);
	double degrees;

	if (opening <= head)
		return 0;
	if (c >= 1.0)
		return 300;
	degrees = 30.0 - acos(c) * (180.0 / 3.14159265358979323846);
	return (int32_t)lround(degrees * 10.0);
}

/* ------------------------------------------------------------------ */
/* Verdicts                                                            */

static enum km_serve verdict_of(const struct km_fit *f)
{
	if (!at_least(f->share, KM_SHARE_NONE))
		return KM_SERVE_NOT_ON;
	if (!at_least(f->share, KM_SHARE_SERVES))
		return KM_SERVE_TIGHT;
	if (at_least(f->worst, KM_BITE_LEAST))
		return KM_SERVES;
	return at_least(f->mid, KM_BITE_LEAST) ? KM_SERVE_LOOSE
					       : KM_SERVE_ROUNDS;
}

static bool can_be_held(int64_t low_nm, int64_t high_nm, enum km_basis basis,
			const struct km_head *head)
{
	return basis != KM_BASIS_NONE && head->basis != KM_BASIS_NONE
	       && low_nm > 0 && high_nm >= low_nm && high_nm <= OPENING_MAX
	       && head->min_nm > 0;
}

struct km_fit km_fit_opening(int64_t low_nm, int64_t high_nm,
			     enum km_basis basis, const struct km_head *head)
{
	struct km_fit f = { .verdict = KM_SERVE_UNKNOWN,
			    .basis = KM_BASIS_NONE };

	if (!can_be_held(low_nm, high_nm, basis, head))
		return f;
	f.share = share_of(low_nm, high_nm, head->min_nm, head->max_nm);
	f.worst = bite_of(high_nm, head->min_nm);
	f.mid = bite_of(low_nm + high_nm, head->min_nm + head->max_nm);
	f.share_thousandths = thousandths_of(f.share);
	f.worst_thousandths = thousandths_of(f.worst);
	f.mid_thousandths = thousandths_of(f.mid);
	f.swing_tenths = swing_of(high_nm, head->min_nm);
	f.lenient = head->max_nm < KM_MM(6);
	f.basis = basis > head->basis ? basis : head->basis;
	f.verdict = verdict_of(&f);
	return f;
}

struct km_fit km_fit_size(const struct km_size *tool,
			  const struct km_size *head)
{
	return km_fit_opening(tool->opening.min_nm, tool->opening.max_nm,
			      tool->opening.basis, &head->head);
}

struct km_fit km_fit_reading(struct km_span opening,
			     const struct km_size *head)
{
	return km_fit_opening(km_span_low(opening), km_span_high(opening),
			      KM_BASIS_PUBLISHED, &head->head);
}

struct km_both km_fit_both(const struct km_size *a, const struct km_size *b)
{
	struct km_both both = { .a_on_b = km_fit_size(a, b),
				.b_on_a = km_fit_size(b, a) };

	both.a_first = both.a_on_b.verdict <= both.b_on_a.verdict;
	both.best = both.a_first ? both.a_on_b.verdict : both.b_on_a.verdict;
	both.reverse = both.a_first ? both.b_on_a.verdict
				    : both.a_on_b.verdict;
	return both;
}

bool km_size_serves(const struct km_size *tool, const struct km_size *head)
{
	const struct km_opening *o = &tool->opening;
	const struct km_head *h = &head->head;

	return can_be_held(o->min_nm, o->max_nm, o->basis, h)
	       && at_least(bite_of(o->max_nm, h->min_nm), KM_BITE_LEAST)
	       && at_least(share_of(o->min_nm, o->max_nm, h->min_nm,
				    h->max_nm), KM_SHARE_SERVES);
}

bool km_serves_both_ways(const struct km_size *a, const struct km_size *b)
{
	return km_size_serves(a, b) && km_size_serves(b, a);
}

/* ------------------------------------------------------------------ */
/* What an opening is                                                  */

static bool touches(struct km_span reading, const struct km_size *s)
{
	return s->opening.basis != KM_BASIS_NONE
	       && km_span_high(reading) >= s->opening.min_nm
	       && km_span_low(reading) <= s->opening.max_nm;
}

/* Does it still hold its own least head?  In doubt, yes: with the least
 * opening that the reading may be. */
static bool bites_own(struct km_span reading, const struct km_size *s)
{
	return s->head.min_nm > 0
	       && at_least(bite_of(km_span_low(reading), s->head.min_nm),
			   KM_BITE_LEAST);
}

/* The size of the book, other than the marked one, that a reading is within;
 * the one whose middle is nearest. */
static const struct km_size *other_size(struct km_span reading,
					const struct km_size *marked,
					const struct km_size_book *book)
{
	const struct km_size *best = NULL;
	int64_t nearest = 0;

	for (uint32_t i = 0; i < book->n; i++) {
		const struct km_size *s = &book->v[i];
		int64_t off = 2 * reading.nm - s->opening.min_nm
			      - s->opening.max_nm;

		if (off < 0)
			off = -off;
		if (!touches(reading, s) || km_size_same(s, marked)
		    || (best && off >= nearest))
			continue;
		best = s;
		nearest = off;
	}
	return best;
}

struct km_opening_check km_opening_check(struct km_span reading,
					 const struct km_size *marked,
					 const struct km_size_book *book)
{
	const struct km_opening *o = &marked->opening;
	struct km_opening_check c = { .is = KM_OPENING_UNKNOWN };
	bool over;

	if (!marked->nominal_nm || !km_size_is_hexagon(marked))
		return c;
	c.over_nominal_nm = reading.nm - marked->nominal_nm;
	if (o->basis == KM_BASIS_NONE)
		return c;
	if (touches(reading, marked)) {
		c.is = KM_OPENING_WITHIN;
		return c;
	}
	over = reading.nm > o->max_nm;
	c.beyond_nm = over ? reading.nm - o->max_nm : o->min_nm - reading.nm;
	if (over && km_span_low(reading) <= o->unfinished_max_nm) {
		c.is = KM_OPENING_UNFINISHED;
		return c;
	}
	c.is = over ? KM_OPENING_SPREAD : KM_OPENING_UNDER;
	if (over && bites_own(reading, marked))
		return c;
	c.other = other_size(reading, marked, book);
	if (c.other)
		c.is = KM_OPENING_OTHER;
	return c;
}

/* It goes on every head of the size and bites on the least. */
static bool may_be(struct km_span reading, const struct km_size *s)
{
	return s->head.basis != KM_BASIS_NONE
	       && km_span_high(reading) >= s->head.max_nm
	       && bites_own(reading, s);
}

uint32_t km_opening_identify(struct km_span reading,
			     const struct km_size_book *book,
			     const struct km_size **found, uint32_t most,
			     uint32_t *inside)
{
	const struct km_size *last = NULL;
	uint32_t n = 0;

	*inside = 0;
	for (uint32_t i = 0; i < book->n; i++)
		if (touches(reading, &book->v[i])) {
			last = &book->v[i];
			++*inside;
		}
	if (*inside == 1) {
		if (most)
			found[0] = last;
		return 1;
	}
	for (uint32_t i = 0; i < book->n; i++) {
		if (!may_be(reading, &book->v[i]))
			continue;
		if (n < most)
			found[n] = &book->v[i];
		n++;
	}
	return n;
}
