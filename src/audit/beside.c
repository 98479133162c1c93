/* SPDX-License-Identifier: MIT */
/*
 * beside - kits beside each other: slot by slot, and as a whole.
 */
#include "audit/align.h"
#include "audit/pick.h"
#include "base/str.h"
#include "kitmuster/kits.h"

/* The same marks, in any order. */
static bool same_marks(const struct km_kit *a, const struct km_kit *b)
{
	if (a->n_maker_marks != b->n_maker_marks)
		return false;
	for (uint32_t i = 0; i < a->n_maker_marks; i++) {
		bool found = false;

		for (uint32_t k = 0; k < b->n_maker_marks && !found; k++)
			found = km_fold_compare(
				km_slice_of(a->maker_marks[i]),
				km_slice_of(b->maker_marks[k])) == 0;
		if (!found)
			return false;
	}
	return true;
}

static bool same_widths(const struct km_pouch *a, const struct km_pouch *b)
{
	if (a->n_widths != b->n_widths)
		return false;
	for (uint32_t i = 0; i < a->n_widths; i++)
		if (a->widths_nm[i] != b->widths_nm[i])
			return false;
	return true;
}

static bool same_words(const char *a, const char *b)
{
	if (!a || !b)
		return a == b;
	return km_fold_compare(km_slice_of(a), km_slice_of(b)) == 0;
}

static bool same_pouch(const struct km_pouch *a, const struct km_pouch *b)
{
	if (!a || !b)
		return a == b;
	return a->form == b->form && a->pockets == b->pockets &&
	       a->pocket_width_nm == b->pocket_width_nm &&
	       a->pocket_depth_nm == b->pocket_depth_nm &&
	       a->closing_allowance_nm == b->closing_allowance_nm &&
	       a->width_nm == b->width_nm && a->depth_nm == b->depth_nm &&
	       a->flap_nm == b->flap_nm && a->cloth_nm == b->cloth_nm &&
	       a->ease_nm == b->ease_nm && same_widths(a, b) &&
	       same_words(a->material, b->material);
}

static enum km_status lay(struct km_arena *mem, struct km_arena *scratch,
			  const struct km_kit *a, const struct km_kit *b,
			  struct km_diags *d, struct km_kit_pair *out)
{
	enum km_status st;

	km_arena_reset(scratch);
	st = km_kits_align(mem, scratch, a, b, d, &out->of);
	if (st != KM_OK)
		return st;
	if (!same_marks(a, b))
		out->whole |= KM_DIFF_MAKER_MARKS;
	if (!same_pouch(a->pouch, b->pouch))
		out->whole |= KM_DIFF_POUCH;
	out->same = !out->whole && out->of.n_same == out->of.n;
	return KM_OK;
}

static enum km_status lay_all(struct km_side_by_side *s,
			      struct km_arena *scratch,
			      const struct km_kit *const *kits, uint32_t n,
			      struct km_diags *d)
{
	struct km_kit_pair *v = km_arena_alloc(s->mem, n, sizeof *v);
	enum km_status st = v ? KM_OK : KM_ENOMEM;

	s->first = kits[0];
	s->pairs = v;
	s->same = true;
	for (uint32_t i = 1; st == KM_OK && i < n; i++) {
		st = lay(s->mem, scratch, kits[0], kits[i], d, &v[s->n]);
		if (st == KM_OK)
			s->same &= v[s->n++].same;
	}
	return st;
}

enum km_status km_kits_compare(const struct km_load *load,
			       const char *const *kits, uint32_t n,
			       struct km_diags *d,
			       struct km_side_by_side **out)
{
	struct km_arena *mem = km_arena_new(&load->limits);
	struct km_arena *scratch = km_arena_new(&load->limits);
	struct km_side_by_side *s = NULL;
	const struct km_kit *const *picked;
	enum km_status st = KM_ENOMEM;
	uint32_t n_picked;

	if (mem && scratch)
		s = km_arena_alloc(mem, 1, sizeof *s);
	if (s) {
		s->mem = mem;
		st = km_kits_pick(mem, load, kits, n, 2, d, &picked,
				  &n_picked);
	}
	if (st == KM_OK)
		st = lay_all(s, scratch, picked, n_picked, d);
	km_arena_free(scratch);
	if (st != KM_OK) {
		km_arena_free(mem);
		return st;
	}
	*out = s;
	return KM_OK;
}

void km_side_by_side_free(struct km_side_by_side *s)
{
	if (s)
		km_arena_free(s->mem);
}
