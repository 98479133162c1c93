/* SPDX-License-Identifier: MIT */
#include "audit/pouch.h"

#include "trade/pouch.h"
#include "trade/pouchfit.h"

#define NM_PER_UM 1000
#define SECTION_MOST INT64_C(4000000000000000000)	/* um2: no pouch */

/* The room of a pouch: its flat width, and the inside length along which the
 * tools lie. */
struct tube { int64_t width_nm, length_nm; int halves; /* of T, lost */ };

/* Loaded from the side, the long side is the mouth, and the tools lie between
 * two closed ends; else one end is closed. */
static struct tube tube_of(const struct km_pouch *p)
{
	enum km_pouch_form_id form = p->form->id;
	struct tube t = { p->width_nm, p->depth_nm, 1 };

	if (form == KM_POUCH_ENVELOPE_SIDE && t.width_nm >= 0 &&
	    t.length_nm >= 0) {
		t.halves = 2;
		if (t.width_nm > t.length_nm) {
			t.length_nm = p->width_nm;
			t.width_nm = p->depth_nm;
		}
	}
	if (form == KM_POUCH_BAG && t.width_nm >= 0 && t.length_nm >= 0) {
		t.length_nm -= km_pouch_neck(t.width_nm);
		if (t.length_nm < 0)
			t.length_nm = 0;
	}
	return t;
}

void km_pouch_tube(const struct km_pouch *p, int64_t *width_nm,
		   int64_t *length_nm)
{
	struct tube t = tube_of(p);

	*width_nm = t.width_nm;
	*length_nm = t.length_nm;
}

/* The measured tools as blocks, and which pieces they are; counts all. */
struct blocks {
	struct km_section v[KM_BUNDLE_TOOLS];
	uint32_t piece[KM_BUNDLE_TOOLS];
	uint32_t n;
	bool one_too_large;	/* one alone has more girth than the cloth */
};

static void list_blocks(struct km_pouch_audit *p, int64_t width_nm,
			struct blocks *b)
{
	struct km_pouch_bundle *u = &p->bundle;

	for (uint32_t i = 0; i < p->n_pieces; i++) {
		struct km_extent e;
		struct km_section k;

		if (!p->pieces[i].tool)
			continue;
		e = km_extent_of_tool(p->pieces[i].tool);
		if (e.width_nm < 0 || e.thick_nm < 0) {
			u->unmeasured++;
			continue;
		}
		u->measured++;
		k = km_section_of(e.width_nm, e.thick_nm);
		if (u->section_um2 < SECTION_MOST)
			u->section_um2 += k.width_um * k.thick_um;
		b->one_too_large |= width_nm >= 0 &&
				    e.width_nm + e.thick_nm > width_nm;
		if (b->n < KM_BUNDLE_TOOLS) {
			b->v[b->n] = k;
			b->piece[b->n++] = i;
		}
	}
}

static void take_layout(struct km_pouch_audit *p, const struct blocks *b,
			const struct km_bundle *found)
{
	struct km_pouch_bundle *u = &p->bundle;

	u->hull = km_room_test(found->perimeter_um * NM_PER_UM,
			       u->usable_nm < 0 ? -1 : 2 * u->usable_nm, -1);
	u->hull.fault = KM_FAULT_NONE;
	u->thick_nm = found->thick_um * NM_PER_UM;
	u->across_nm = found->across_um * NM_PER_UM;
	u->stacks = found->stacks;
	u->whole = found->whole;
	for (uint32_t i = 0; i < b->n; i++) {
		struct km_pouch_piece *x = &p->pieces[b->piece[i]];

		x->stack = found->stack[i] + 1;
		x->on_edge = found->on_edge[found->stack[i]];
	}
}

static enum km_fits verdict(const struct km_pouch_bundle *u)
{
	if (u->excluded)
		return KM_FITS_NOT;
	if (u->usable_nm < 0 || u->unmeasured || !u->stacks)
		return KM_FITS_UNMEASURED;
	return u->hull.fits == KM_FITS ? KM_FITS : KM_FITS_UNPROVED;
}

/* Thickness takes depth at each closed end, so that it is known only once
 * every tool is measured; a tool longer than all of it never fits. */
static void test_lengths(struct km_pouch_audit *p, const struct tube *t)
{
	const struct km_pouch_bundle *u = &p->bundle;
	bool known = u->stacks && !u->unmeasured;
	int64_t lost = known ? t->halves * u->thick_nm / 2 : 0;
	int64_t room = t->length_nm < 0 ? -1 : t->length_nm - lost;

	if (t->length_nm >= 0 && room < 0)
		room = 0;
	for (uint32_t i = 0; i < p->n_pieces; i++) {
		struct km_pouch_piece *x = &p->pieces[i];
		struct km_extent e = { -1, -1, -1 };

		if (x->tool)
			e = km_extent_of_tool(x->tool);
		x->length = km_room_test(e.length_nm, room,
					 km_extent_of_slot(x->slot).length_nm);
		x->girth = km_room_test(e.width_nm < 0 || e.thick_nm < 0
					? -1 : e.width_nm + e.thick_nm,
					t->width_nm, -1);
		x->fits = !x->tool ? KM_FITS_NO_TOOL
			  : x->length.fits == KM_FITS && !known
				? KM_FITS_UNMEASURED
			  : x->length.fits > x->girth.fits ? x->length.fits
							   : x->girth.fits;
		if (x->fits == KM_FITS && u->fits != KM_FITS)
			x->fits = u->fits == KM_FITS_NOT ? KM_FITS_UNPROVED
							 : u->fits;
	}
}

void km_pouch_bundle(struct km_pouch_audit *p)
{
	struct km_pouch_bundle *u = &p->bundle;
	struct tube t = tube_of(p->pouch);
	struct blocks b = { .n = 0 };
	struct km_bundle found;

	u->usable_nm = u->section_most_um2 = -1;
	u->flap = km_room_test(-1, p->pouch->flap_nm, -1);
	u->hull = km_room_test(-1, -1, -1);
	if (t.width_nm >= 0) {
		p->ease_nm = km_pouch_ease(t.width_nm, p->pouch->ease_nm);
		u->usable_nm = km_pouch_usable(t.width_nm, p->pouch->cloth_nm,
					       p->ease_nm);
		u->section_most_um2 = km_pouch_area_most(t.width_nm);
	}
	list_blocks(p, t.width_nm, &b);
	u->excluded = t.width_nm >= 0 &&
		      (b.one_too_large || u->section_um2 > u->section_most_um2);
	if (u->measured == b.n &&
	    km_bundle_best(b.v, b.n, u->usable_nm < 0 ? 0 : 2 * u->usable_nm /
			   NM_PER_UM, 0, &found))
		take_layout(p, &b, &found);
	if (u->stacks && !u->unmeasured && p->pouch->flap_nm >= 0)
		u->flap = km_room_test(km_pouch_flap(u->thick_nm),
				       p->pouch->flap_nm, -1);
	u->fits = verdict(u);
	test_lengths(p, &t);
}
