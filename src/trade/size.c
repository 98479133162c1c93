/* SPDX-License-Identifier: MIT */
#include "trade/size.h"

#include <stdlib.h>
#include <string.h>

#include "base/num.h"
#include "trade/size_text.h"
#include "trade/size_table.h"

bool km_size_is_hexagon(const struct km_size *s)
{
	return s->system <= KM_SYS_THREAD;
}

/* ------------------------------------------------------------------ */
/* The same, and in order                                              */

/* Systems of one form: what fits one fits the other at the same figures. */
static enum km_system form_of(enum km_system system)
{
	if (system <= KM_SYS_THREAD)
		return KM_SYS_METRIC;
	if (system == KM_SYS_JIS_H)
		return KM_SYS_PH;
	return system == KM_SYS_KEY_INCH ? KM_SYS_KEY_METRIC : system;
}

static bool is_cross(enum km_system form)
{
	return form == KM_SYS_PH || form == KM_SYS_PZ || form == KM_SYS_JIS_S;
}

bool km_size_same(const struct km_size *a, const struct km_size *b)
{
	enum km_system form = form_of(a->system);

	if (form != form_of(b->system))
		return false;
	if (is_cross(form))
		return a->number == b->number;
	if (!a->nominal_nm || !b->nominal_nm)
		return km_size_same_name(a, b);
	return a->nominal_nm == b->nominal_nm
	       && (form == KM_SYS_METRIC || a->b_nm == b->b_nm);
}

static bool has_name(const struct km_size *s, const char *name)
{
	return !strcmp(s->text, name) || (s->second && !strcmp(s->second, name));
}

bool km_size_same_name(const struct km_size *a, const struct km_size *b)
{
	return has_name(b, a->text) || (a->second && has_name(b, a->second));
}

static int compare_figures(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

int km_size_compare(const struct km_size *a, const struct km_size *b)
{
	int c = compare_figures(a->system, b->system);

	if (!c)
		c = compare_figures(a->nominal_nm, b->nominal_nm);
	if (!c)
		c = compare_figures(a->b_nm, b->b_nm);
	if (!c)
		c = compare_figures(a->number, b->number);
	if (!c)
		c = strcmp(a->text, b->text);
	if (!c)
		c = strcmp(a->second ? a->second : "",
			   b->second ? b->second : "");
	return c;
}

/* ------------------------------------------------------------------ */
/* Buckets                                                             */

/* Steps of a ninth, so that widths within a tenth of one another lie in the
 * same step or in neighbours. */
uint32_t km_size_bucket_of_width(int64_t nm)
{
	int64_t top = KM_NM_PER_MM;
	uint32_t k = 0;

	while (top < nm && k < 128) {
		top += top / 9;
		k++;
	}
	return KM_BUCKET_HEXAGON | k;
}

/*
 * A jaw that serves is at most 1.067 of the least head (bite 0.489), and the
 * tables have no opening over 1.032 nor a head under 0.937 of its nominal
 * width; so widths that serve one another lie within a tenth.
 */
bool km_size_may_serve(const struct km_size *tool, const struct km_size *slot)
{
	if (tool->bucket & slot->bucket & KM_BUCKET_HEXAGON)
		return tool->nominal_nm * 10 <= slot->nominal_nm * 11
		       && slot->nominal_nm * 10 <= tool->nominal_nm * 11;
	return tool->bucket == slot->bucket && km_size_same(tool, slot);
}

/* ------------------------------------------------------------------ */
/* The book                                                            */

static int by_width(const void *a, const void *b)
{
	const struct km_size *x = a, *y = b;
	int c = compare_figures(x->nominal_nm, y->nominal_nm);

	return c ? c : km_size_compare(x, y);
}

/* The size of one row; false: the table has no such row.  The text of s stays
 * NULL when memory runs out. */
static bool size_of_row(enum km_system system, uint32_t i, struct km_arena *a,
			struct km_size *s)
{
	const struct km_whitworth *w = km_whitworth_row(i);
	bool got;

	*s = (struct km_size){ .system = system, .number = -1 };
	if (system == KM_SYS_W) {
		if (!w)
			return false;
		s->nominal_nm = w->width_nm;
		s->text = km_size_text_mark(a, w->mark_w, KM_SYS_W);
		if (*w->mark_bs)
			s->second = km_size_text_mark(a, w->mark_bs, KM_SYS_BS);
		if (*w->mark_bs && !s->second)
			s->text = NULL;
		return true;
	}
	got = system == KM_SYS_METRIC ? km_metric_row(i, &s->nominal_nm)
	      : system == KM_SYS_AF ? km_af_row(i, &s->nominal_nm)
	      : km_ba_row(i, &s->number, &s->nominal_nm);
	if (got)
		s->text = km_size_text(a, s, s->nominal_nm, 0,
				       system == KM_SYS_AF);
	return got;
}

bool km_size_book_init(struct km_size_book *book, struct km_arena *a)
{
	static const enum km_system systems[] = {
		KM_SYS_METRIC, KM_SYS_AF, KM_SYS_W, KM_SYS_BA
	};
	struct km_size *v = km_arena_alloc(a, km_size_rows(), sizeof *v);
	uint32_t n = 0;

	if (!v)
		return false;
	for (size_t k = 0; k < sizeof systems / sizeof *systems; k++)
		for (uint32_t i = 0; size_of_row(systems[k], i, a, &v[n]); i++) {
			if (!v[n].text)
				return false;
			km_size_fill(&v[n++]);
		}
	qsort(v, n, sizeof *v, by_width);
	*book = (struct km_size_book){ v, n };
	return true;
}
