/* SPDX-License-Identifier: MIT */
#include "match/value.h"

static uint64_t mix_span(uint64_t h, const struct km_span *s)
{
	h = km_mix(h, (uint64_t)s->nm);
	return km_mix(h, (uint64_t)s->minus_nm << 32 | (uint32_t)s->plus_nm);
}

static uint64_t mix_pointer(uint64_t h, const void *p)
{
	return km_mix(h, (uint64_t)(uintptr_t)p);
}

uint64_t km_value_mix(uint64_t h, enum km_attr a, const union km_value *v)
{
	switch (a) {
	case KM_A_TOOL:
		return mix_pointer(h, v->kind);
	case KM_A_DRIVE:
		return mix_pointer(h + v->drives.n, v->drives.v);
	case KM_A_SIZES:
		return mix_pointer(h + v->sizes.n, v->sizes.v);
	case KM_A_OPENINGS:
		for (uint32_t i = 0; i < v->spans.n; i++)
			h = mix_span(h, &v->spans.v[i]);
		return h;
	case KM_A_FINISH:
		return mix_pointer(mix_pointer(h, v->finish.body),
				   v->finish.faces);
	case KM_A_HANDLE_COLOUR:
		return mix_pointer(h + v->colour.rgb, v->colour.word);
	case KM_A_HANDLE_MATERIAL:
		return mix_pointer(h, v->material);
	case KM_A_MARK:
	case KM_A_PART:
		return mix_pointer(h, v->text);
	case KM_A_MADE:
		return km_mix(h, (uint64_t)v->made);
	default:
		return mix_span(h, &v->span);
	}
}

static bool same_span(const struct km_span *x, const struct km_span *y)
{
	return x->nm == y->nm && x->minus_nm == y->minus_nm &&
	       x->plus_nm == y->plus_nm;
}

static bool same_spans(const union km_value *x, const union km_value *y)
{
	if (x->spans.n != y->spans.n)
		return false;
	for (uint32_t i = 0; i < x->spans.n; i++)
		if (!same_span(&x->spans.v[i], &y->spans.v[i]))
			return false;
	return true;
}

bool km_value_same(enum km_attr a, const union km_value *x,
		   const union km_value *y)
{
	switch (a) {
	case KM_A_TOOL:
		return x->kind == y->kind;
	case KM_A_DRIVE:
		return x->drives.v == y->drives.v &&
		       x->drives.n == y->drives.n;
	case KM_A_SIZES:
		return x->sizes.v == y->sizes.v && x->sizes.n == y->sizes.n;
	case KM_A_OPENINGS:
		return same_spans(x, y);
	case KM_A_FINISH:
		return x->finish.body == y->finish.body &&
		       x->finish.faces == y->finish.faces;
	case KM_A_HANDLE_COLOUR:
		return x->colour.word == y->colour.word &&
		       x->colour.rgb == y->colour.rgb;
	case KM_A_HANDLE_MATERIAL:
		return x->material == y->material;
	case KM_A_MARK:
	case KM_A_PART:
		return x->text == y->text;
	case KM_A_MADE:
		return x->made == y->made;
	default:
		return same_span(&x->span, &y->span);
	}
}

bool km_traits_same(const struct km_traits *x, const struct km_traits *y,
		    uint32_t attrs)
{
	const union km_value *v = x->v, *w = y->v;

	if (((x->has ^ y->has) & attrs) || ((x->none ^ y->none) & attrs) ||
	    ((x->unread ^ y->unread) & attrs))
		return false;
	if (v == w)
		return true;
	/* a step in each list for each bit of it */
	for (uint32_t left = x->has | y->has; left; left &= left - 1) {
		uint32_t bit = left & (~left + 1);

		if ((bit & attrs) && (x->has & bit) &&
		    !km_value_same((enum km_attr)__builtin_ctz(bit), v, w))
			return false;
		v += (x->has & bit) != 0;
		w += (y->has & bit) != 0;
	}
	return true;
}

static bool same_want(enum km_attr a, const struct km_want *x,
		      const struct km_want *y)
{
	if (x->state != y->state || x->n != y->n ||
	    x->or_none != y->or_none ||
	    x->own_certainty != y->own_certainty ||
	    (x->own_certainty && x->certainty != y->certainty))
		return false;
	for (uint32_t i = 0; i < x->n; i++)
		if (!km_value_same(a, &x->any[i], &y->any[i]))
			return false;
	return true;
}

bool km_slot_wants_same(const struct km_slot *x, const struct km_slot *y)
{
	if (x->unused != y->unused)
		return false;
	for (int a = 0; a < KM_ATTRS; a++)
		if (!same_want((enum km_attr)a, &x->want[a], &y->want[a]))
			return false;
	return true;
}

uint64_t km_slot_wants_hash(const struct km_slot *s)
{
	uint64_t h = s->unused;

	for (int a = 0; a < KM_ATTRS; a++) {
		const struct km_want *w = &s->want[a];

		h = km_mix(h, (uint64_t)w->state << 32 | w->n);
		for (uint32_t i = 0; i < w->n; i++)
			h = km_value_mix(h, (enum km_attr)a, &w->any[i]);
	}
	return h;
}
