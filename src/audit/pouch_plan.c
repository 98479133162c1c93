/* SPDX-License-Identifier: MIT */
/*
 * pouch_plan - the pouch as a plan sees it: one thing alone against its place,
 * and the whole with all that the plan puts in.
 */
#include "audit/pouch.h"

#include "trade/pouchfit.h"

static const struct km_traits *traits_of(const struct km_match *m)
{
	if (m->tool)
		return &m->tool->traits;
	return m->traits ? m->traits : &m->offer->traits;
}

static void test(int64_t need_nm, int64_t room_nm, struct km_way_fit *out,
		 int64_t *over_nm)
{
	struct km_room r = km_room_test(need_nm, room_nm, -1);

	out->unmeasured |= r.fits == KM_FITS_UNMEASURED;
	if (r.fits != KM_FITS_NOT)
		return;
	out->too_large = true;
	*over_nm = r.over_nm;
}

static int64_t half_girth(struct km_extent e, int64_t ease_nm)
{
	return e.width_nm < 0 || e.thick_nm < 0 ? -1 :
	       e.width_nm + e.thick_nm + ease_nm;
}

static void in_pocket(const struct km_pouch *p, struct km_extent e,
		      struct km_way_fit *out)
{
	int64_t width = km_pocket_width(p, out->pocket);
	int64_t ease = width < 0 ? 0 : km_pouch_ease(width, p->ease_nm);

	test(e.length_nm, km_pouch_depth_room(p), out, &out->too_long_nm);
	if (out->pocket)
		test(half_girth(e, ease), width, out, &out->too_wide_nm);
	else
		out->unmeasured = true;	/* which pocket, the kit does not say */
}

static void in_tube(const struct km_pouch *p, struct km_extent e,
		    struct km_way_fit *out)
{
	int64_t width, length;

	km_pouch_tube(p, &width, &length);
	test(e.length_nm, length, out, &out->too_long_nm);
	test(half_girth(e, 0), width, out, &out->too_wide_nm);
}

void km_pouch_alone(const struct km_slot *slot, const struct km_match *m,
		    struct km_way_fit *out)
{
	const struct km_pouch *p = slot->kit ? slot->kit->pouch : NULL;
	struct km_extent e = km_extent_of_traits(traits_of(m));

	*out = (struct km_way_fit){ .asked = p && km_pouch_takes(slot) };
	if (!out->asked)
		return;
	switch (km_pouch_rule_of(p)) {
	case KM_POUCH_POCKETS:
		out->pocket = slot->pocket;
		in_pocket(p, e, out);
		break;
	case KM_POUCH_BUNDLE:
		in_tube(p, e, out);
		break;
	case KM_POUCH_LENGTHS:
		test(e.length_nm, km_pouch_length_room(p), out,
		     &out->too_long_nm);
	}
}

/* What the plan chose for a place, as a piece that lies there. */
static bool take_chosen(struct km_arena *mem, const struct km_way *w,
			struct km_piece *piece)
{
	struct km_match *m;
	struct km_tool *t;

	piece->match = NULL;
	if (!w->match)
		return true;
	piece->match = w->match;
	if (w->match->tool)
		return true;
	m = km_arena_copy(mem, w->match, 1, sizeof *m);
	t = km_arena_alloc(mem, 1, sizeof *t);
	if (!m || !t)
		return false;
	t->id = w->match->offer->id;
	t->traits = *traits_of(w->match);
	m->tool = t;
	piece->match = m;
	return true;
}

/* The slots of a kit with what the plan puts in. */
static struct km_slot_audit *fill(struct km_arena *mem,
				  const struct km_audit *a, uint32_t kit)
{
	const struct km_kit_audit *k = &a->kits[kit];
	struct km_slot_audit *v = km_arena_copy(mem, k->slots,
						k->kit->n_slots, sizeof *v);

	for (uint32_t i = 0; v && i < k->kit->n_slots; i++) {
		size_t n = (size_t)v[i].slot->count;

		if (v[i].pieces)
			v[i].pieces = km_arena_copy(mem, v[i].pieces, n,
						    sizeof *v[i].pieces);
		if (k->slots[i].pieces && !v[i].pieces)
			return NULL;
	}
	for (uint32_t i = 0; v && i < a->plan->n_places; i++) {
		const struct km_plan_place *p = &a->plan->places[i];
		struct km_piece *piece;

		if (p->kit != k)
			continue;
		piece = v[p->slot - k->slots].pieces + p->piece;
		if (!take_chosen(mem, p->chosen, piece))
			return NULL;
	}
	return v;
}

enum km_status km_pouch_planned(struct km_arena *mem, struct km_arena *scratch,
				const struct km_audit *a, uint32_t kit,
				const struct km_pouch_audit **out)
{
	struct km_kit_audit k = a->kits[kit];

	*out = NULL;
	if (!k.kit->pouch || !a->plan)
		return KM_OK;
	k.slots = fill(mem, a, kit);
	return k.slots ? km_pouch_make(mem, scratch, &k, out) : KM_ENOMEM;
}
