/* SPDX-License-Identifier: MIT */
#include "audit/claims.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "trade/finish.h"
#include "trade/size.h"
#include "unit/length.h"

#define SAME 0
#define PARTLY 25
#define ONE_SILENT 50
#define APART 50		/* least of two lengths that do not meet */
#define OTHER 100
#define ENDS_MOST 64		/* further ends count as left over */

static int compare_figures(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int compare_words(const char *a, const char *b)
{
	if (!a || !b)
		return (a != NULL) - (b != NULL);
	return km_fold_compare(km_slice_of(a), km_slice_of(b));
}

/* ------------------------------------------------------------------ */
/* Order of values                                                     */

static int compare_spans(const struct km_span *x, const struct km_span *y)
{
	int c = compare_figures(km_span_low(*x), km_span_low(*y));

	return c ? c : compare_figures(km_span_high(*x), km_span_high(*y));
}

/* Ends in order of width; then what tells sizes apart. */
static int compare_ends(const struct km_size *x, const struct km_size *y)
{
	int c = compare_figures(x->nominal_nm, y->nominal_nm);

	return c ? c : km_size_compare(x, y);
}

static int compare_lists(enum km_attr a, const union km_value *x,
			 const union km_value *y)
{
	uint32_t n = a == KM_A_DRIVE ? x->drives.n
		     : a == KM_A_SIZES ? x->sizes.n : x->spans.n;
	uint32_t m = a == KM_A_DRIVE ? y->drives.n
		     : a == KM_A_SIZES ? y->sizes.n : y->spans.n;

	for (uint32_t i = 0; i < n && i < m; i++) {
		int c = a == KM_A_DRIVE
			? compare_figures(x->drives.v[i]->id,
					  y->drives.v[i]->id)
			: a == KM_A_SIZES
			? compare_ends(x->sizes.v[i], y->sizes.v[i])
			: compare_spans(&x->spans.v[i], &y->spans.v[i]);

		if (c)
			return c;
	}
	return compare_figures(n, m);
}

static int compare_finishes(const struct km_finish *x,
			    const struct km_finish *y)
{
	return compare_words(x ? x->name : NULL, y ? y->name : NULL);
}

static int compare_colours(const union km_value *x, const union km_value *y)
{
	int c = compare_figures(x->colour.rgb, y->colour.rgb);

	if (c || x->colour.rgb != KM_COLOUR_WORD_ONLY)
		return c;
	return compare_words(x->colour.word, y->colour.word);
}

static int compare_values(enum km_attr a, const union km_value *x,
			  const union km_value *y)
{
	int c;

	switch (a) {
	case KM_A_TOOL:
		return compare_words(x->kind->name, y->kind->name);
	case KM_A_DRIVE:
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		return compare_lists(a, x, y);
	case KM_A_FINISH:
		c = compare_finishes(x->finish.body, y->finish.body);
		return c ? c : compare_finishes(x->finish.faces,
						y->finish.faces);
	case KM_A_HANDLE_COLOUR:
		return compare_colours(x, y);
	case KM_A_HANDLE_MATERIAL:
		return compare_words(x->material->name, y->material->name);
	case KM_A_MARK:
	case KM_A_PART:
		return compare_words(x->text, y->text);
	case KM_A_MADE:
		return compare_figures(x->made, y->made);
	default:
		return compare_spans(&x->span, &y->span);
	}
}

/* ------------------------------------------------------------------ */
/* Making                                                              */

static int drives_by_id(const void *a, const void *b)
{
	const struct km_drive *const *x = a, *const *y = b;

	return compare_figures((*x)->id, (*y)->id);
}

static int ends_by_width(const void *a, const void *b)
{
	const struct km_size *const *x = a, *const *y = b;

	return compare_ends(*x, *y);
}

static int spans_by_limits(const void *a, const void *b)
{
	return compare_spans(a, b);
}

static void *sorted(struct km_arena *mem, const void *v, uint32_t n,
		    size_t size, int (*order)(const void *, const void *))
{
	void *copy = km_arena_copy(mem, v, n, size);

	if (copy && n > 1)
		qsort(copy, n, size, order);
	return copy;
}

/* Put the parts of one value into their order; false: no memory. */
static bool settle(struct km_arena *mem, enum km_attr a, union km_value *v)
{
	switch (a) {
	case KM_A_DRIVE:
		v->drives.v = sorted(mem, v->drives.v, v->drives.n,
				     sizeof *v->drives.v, drives_by_id);
		return v->drives.v;
	case KM_A_SIZES:
		v->sizes.v = sorted(mem, v->sizes.v, v->sizes.n,
				    sizeof *v->sizes.v, ends_by_width);
		return v->sizes.v;
	case KM_A_OPENINGS:
		v->spans.v = sorted(mem, v->spans.v, v->spans.n,
				    sizeof *v->spans.v, spans_by_limits);
		return v->spans.v;
	case KM_A_FINISH:
		if (v->finish.faces == v->finish.body)
			v->finish.faces = NULL;
		return true;
	default:
		return true;
	}
}

/* Few values, so put each in its place; equal ones count once. */
static uint32_t sort_values(enum km_attr a, union km_value *v, uint32_t n)
{
	uint32_t kept = 0;

	for (uint32_t i = 0; i < n; i++) {
		union km_value one = v[i];
		uint32_t at = kept;

		while (at && compare_values(a, &one, &v[at - 1]) < 0)
			at--;
		if (at && compare_values(a, &one, &v[at - 1]) == 0)
			continue;
		memmove(&v[at + 1], &v[at], (kept - at) * sizeof *v);
		v[at] = one;
		kept++;
	}
	return kept;
}

bool km_claim_make(struct km_arena *mem, enum km_attr a,
		   const struct km_want *w, struct km_claim *out)
{
	union km_value *v;

	*out = (struct km_claim){ .state = KM_CLAIM_OPEN };
	if (w->state == KM_WANT_NONE)
		out->state = KM_CLAIM_NONE;
	if (w->state != KM_WANT_ANY_OF || !w->n)
		return true;
	v = km_arena_copy(mem, w->any, w->n, sizeof *v);
	if (!v)
		return false;
	for (uint32_t i = 0; i < w->n; i++)
		if (!settle(mem, a, &v[i]))
			return false;
	out->state = KM_CLAIM_VALUES;
	out->or_none = w->or_none;
	out->n = sort_values(a, v, w->n);
	out->v = v;
	out->where = a == KM_A_MARK ? w->where : NULL;
	return true;
}

int km_claim_order(enum km_attr a, const struct km_claim *x,
		   const struct km_claim *y)
{
	int c = compare_figures(x->state, y->state);

	for (uint32_t i = 0; !c && i < x->n && i < y->n; i++)
		c = compare_values(a, &x->v[i], &y->v[i]);
	if (!c)
		c = compare_figures(x->n, y->n);
	if (!c)
		c = compare_figures(x->or_none, y->or_none);
	return c ? c : compare_words(x->where, y->where);
}

/* ------------------------------------------------------------------ */
/* How far                                                             */

/* Two lengths that do not meet: all of it at a quarter of the longer. */
static int32_t apart(int64_t x, int64_t y)
{
	int64_t longer = x > y ? x : y;
	int64_t between = x > y ? x - y : y - x;

	if (longer <= 0 || between >= longer / 4)
		return OTHER;
	return APART + (int32_t)((OTHER - APART) * between / (longer / 4));
}

static int32_t far_spans(const struct km_span *x, const struct km_span *y)
{
	if (km_span_low(*x) <= km_span_high(*y) &&
	    km_span_low(*y) <= km_span_high(*x))
		return PARTLY;
	return apart(x->nm, y->nm);
}

static int32_t far_ends(const struct km_size *x, const struct km_size *y)
{
	bool alike = x->system == y->system ||
		     (km_size_is_hexagon(x) && km_size_is_hexagon(y));

	if (km_size_compare(x, y) == 0)
		return SAME;
	if (km_size_same(x, y))
		return PARTLY;
	return alike ? apart(x->nominal_nm, y->nominal_nm) : OTHER;
}

static int32_t least(int32_t a, int32_t b)
{
	return a < b ? a : b;
}

/* Ends of two tools that are not struck the same. */
struct odd_ends {
	const struct km_size *x[ENDS_MOST], *y[ENDS_MOST];
	uint32_t n, m;
};

/* Both lists are in one order, so those struck the same meet. */
static void take_off_same(const union km_value *x, const union km_value *y,
			  struct odd_ends *o)
{
	uint32_t i = 0, k = 0;

	o->n = o->m = 0;
	while (i < x->sizes.n || k < y->sizes.n) {
		int c = i == x->sizes.n ? 1 : k == y->sizes.n ? -1
			: compare_ends(x->sizes.v[i], y->sizes.v[k]);

		if (c < 0 && o->n < ENDS_MOST)
			o->x[o->n++] = x->sizes.v[i];
		if (c > 0 && o->m < ENDS_MOST)
			o->y[o->m++] = y->sizes.v[k];
		i += c <= 0;
		k += c >= 0;
	}
}

/* In order of width so as to differ least; row[k]: the ends of x so far
 * against the first k of y. */
static int32_t far_in_order(const struct odd_ends *o)
{
	int32_t row[ENDS_MOST + 1];

	for (uint32_t k = 0; k <= o->m; k++)
		row[k] = OTHER * (int32_t)k;
	for (uint32_t i = 0; i < o->n; i++) {
		int32_t before = row[0];

		row[0] += OTHER;
		for (uint32_t k = 0; k < o->m; k++) {
			int32_t pair = before + far_ends(o->x[i], o->y[k]);

			before = row[k + 1];
			row[k + 1] = least(pair, OTHER + least(row[k], before));
		}
	}
	return row[o->m];
}

static int32_t far_sizes(const union km_value *x, const union km_value *y)
{
	uint32_t most = x->sizes.n > y->sizes.n ? x->sizes.n : y->sizes.n;
	struct odd_ends o;
	int32_t far;

	take_off_same(x, y, &o);
	far = far_in_order(&o);
	if (o.n == 2 && o.m == 2)	/* the other way round may be less */
		far = least(far, far_ends(o.x[0], o.y[1]) +
				 far_ends(o.x[1], o.y[0]));
	return least(OTHER, far / (int32_t)most);
}

static int32_t far_values(enum km_attr a, const union km_value *x,
			  const union km_value *y)
{
	if (compare_values(a, x, y) == 0)
		return SAME;
	if (a == KM_A_SIZES)
		return far_sizes(x, y);
	if (a >= KM_A_LENGTH && a <= KM_A_DEPTH)
		return far_spans(&x->span, &y->span);
	return OTHER;
}

int32_t km_claim_far(enum km_attr a, const struct km_claim *x,
		     const struct km_claim *y)
{
	int32_t far = OTHER;

	if (km_claim_order(a, x, y) == 0)
		return SAME;
	if (x->state == KM_CLAIM_OPEN || y->state == KM_CLAIM_OPEN)
		return ONE_SILENT;
	if (x->state != y->state)
		return x->or_none || y->or_none ? PARTLY : OTHER;
	for (uint32_t i = 0; i < x->n; i++)
		for (uint32_t k = 0; k < y->n; k++) {
			int32_t f = far_values(a, &x->v[i], &y->v[k]);

			if (f == SAME)
				return PARTLY;
			far = least(far, f);
		}
	return x->or_none && y->or_none ? least(far, PARTLY) : far;
}
