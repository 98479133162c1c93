/* SPDX-License-Identifier: MIT */
#include "audit/pouch.h"

#include <string.h>

#include "match/assign.h"
#include "trade/kind.h"
#include "trade/pouch.h"
#include "trade/pouchfit.h"
#include "unit/length.h"

#define PLACED_MOST 1000000	/* pairs of pocket and tool [choice] */
#define PIECES_MOST 100000	/* places of a kit looked at [choice] */

const char *km_fits_word(enum km_fits f)
{
	static const char *const word[KM_FITS_STATES] = {
		[KM_FITS] = "fits", [KM_FITS_UNPROVED] = "not-proved",
		[KM_FITS_UNMEASURED] = "not-measured",
		[KM_FITS_NOT] = "too-large", [KM_FITS_NO_TOOL] = "no-tool",
	};

	return word[f];
}

const char *km_fits_fault_word(enum km_fits_fault f)
{
	static const char *const word[] = {
		[KM_FAULT_NONE] = "none", [KM_FAULT_TOOL] = "tool",
		[KM_FAULT_POUCH] = "pouch", [KM_FAULT_UNKNOWN] = "not-known",
	};

	return word[f];
}

const char *km_pocket_word(enum km_pocket_state s)
{
	static const char *const word[] = {
		[KM_POCKET_HOLDS] = "holds", [KM_POCKET_SHARED] = "shared",
		[KM_POCKET_UNUSED] = "empty on this model",
		[KM_POCKET_UNEXPLAINED] = "unexplained",
	};

	return word[s];
}

/* ------------------------------------------------------------------ */
/* Measures                                                            */

/* A plain round bar or tube is as thick as it is wide. */
static struct km_extent rounded(struct km_extent e, const struct km_kind *kind,
				int64_t bar_nm)
{
	enum km_kind_id id = kind ? kind->id : KM_KIND_UNLISTED;

	if (id == KM_KIND_TOMMY_BAR && e.width_nm < 0)
		e.width_nm = bar_nm;
	if (e.thick_nm < 0 &&
	    (id == KM_KIND_TOMMY_BAR || id == KM_KIND_BOX_SPANNER ||
	     id == KM_KIND_PLUG_SPANNER || id == KM_KIND_SOCKET))
		e.thick_nm = e.width_nm;
	return e;
}

static int64_t length_of(const struct km_traits *t, enum km_attr a)
{
	const union km_value *v = km_trait(t, a);

	return v ? v->span.nm : -1;
}

struct km_extent km_extent_of_traits(const struct km_traits *t)
{
	const union km_value *kind = km_trait(t, KM_A_TOOL);
	struct km_extent e = { length_of(t, KM_A_LENGTH),
			       length_of(t, KM_A_WIDTH),
			       length_of(t, KM_A_THICKNESS) };

	return rounded(e, kind ? kind->kind : NULL, length_of(t, KM_A_BAR));
}

struct km_extent km_extent_of_tool(const struct km_tool *t)
{
	return km_extent_of_traits(&t->traits);
}

static int64_t most_wanted(const struct km_want *w)
{
	int64_t most = -1;

	if (w->state != KM_WANT_ANY_OF)
		return -1;
	for (uint32_t i = 0; i < w->n; i++)
		if (w->any[i].span.nm > most)
			most = w->any[i].span.nm;
	return most;
}

static const struct km_kind *kind_of(const struct km_slot *s)
{
	const struct km_want *w = &s->want[KM_A_TOOL];

	return w->state == KM_WANT_ANY_OF && w->n ? w->any[0].kind : NULL;
}

struct km_extent km_extent_of_slot(const struct km_slot *s)
{
	struct km_extent e = { most_wanted(&s->want[KM_A_LENGTH]),
			       most_wanted(&s->want[KM_A_WIDTH]),
			       most_wanted(&s->want[KM_A_THICKNESS]) };

	return rounded(e, kind_of(s), most_wanted(&s->want[KM_A_BAR]));
}

struct km_room km_room_test(int64_t need_nm, int64_t room_nm, int64_t right_nm)
{
	struct km_room r = { KM_FITS_UNMEASURED, KM_FAULT_NONE, need_nm,
			     room_nm, 0, right_nm, 0 };

	if (room_nm < 0)
		return r;
	if (right_nm >= 0)
		r.right_over_nm = right_nm - room_nm;
	if (need_nm < 0)
		return r;
	r.over_nm = need_nm - room_nm;
	r.fits = r.over_nm > 0 ? KM_FITS_NOT : KM_FITS;
	if (r.fits == KM_FITS_NOT)
		r.fault = right_nm < 0 ? KM_FAULT_UNKNOWN
			  : r.right_over_nm > 0 ? KM_FAULT_POUCH
						: KM_FAULT_TOOL;
	return r;
}

/* ------------------------------------------------------------------ */
/* Pieces and pockets                                                  */

static bool is_pouch(const struct km_slot *s)
{
	const struct km_kind *k = kind_of(s);

	return k && (k->id == KM_KIND_TOOL_ROLL ||
		     k->id == KM_KIND_TOOL_POUCH ||
		     k->id == KM_KIND_TOOL_BAG || k->id == KM_KIND_TOOL_BOX ||
		     k->id == KM_KIND_STRAP);
}

/* Consumables go in only where the kit gives them a pocket. */
bool km_pouch_takes(const struct km_slot *s)
{
	return !s->unused && !is_pouch(s) && (s->durable || s->pocket > 0);
}

static bool list_pieces(struct km_arena *mem, const struct km_kit_audit *k,
			struct km_pouch_audit *p)
{
	uint32_t room = 0;

	for (uint32_t i = 0; i < k->kit->n_slots; i++)
		if (km_pouch_takes(k->slots[i].slot) && room < PIECES_MOST)
			room += (uint32_t)k->slots[i].slot->count;
	p->pieces = km_arena_alloc(mem, room, sizeof *p->pieces);
	if (!p->pieces)
		return false;
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (!km_pouch_takes(s->slot) || p->n_pieces == room)
			continue;
		for (int32_t n = 0; n < s->slot->count; n++) {
			const struct km_match *m = s->pieces ?
				s->pieces[n].match : NULL;

			p->pieces[p->n_pieces++] = (struct km_pouch_piece){
				.slot = s->slot, .piece = (uint32_t)n,
				.tool = m ? m->tool : NULL,
				.pocket = s->slot->pocket };
		}
	}
	return true;
}

int64_t km_pocket_width(const struct km_pouch *p, int32_t number)
{
	if (number > 0 && (uint32_t)number <= p->n_widths)
		return p->widths_nm[number - 1];
	return p->pocket_width_nm;
}

static bool list_pockets(struct km_arena *mem, const struct km_kit *kit,
			 struct km_pouch_audit *p)
{
	const struct km_pouch *pouch = p->pouch;
	int32_t n = pouch->pockets > (int32_t)pouch->n_widths
			    ? pouch->pockets : (int32_t)pouch->n_widths;

	for (uint32_t i = 0; !n && i < kit->n_slots; i++)
		p->n_pockets = kit->slots[i].pocket > (int32_t)p->n_pockets
				       ? (uint32_t)kit->slots[i].pocket
				       : p->n_pockets;
	if (n)
		p->n_pockets = (uint32_t)n;
	if (p->n_pockets > PIECES_MOST)
		p->n_pockets = PIECES_MOST;
	p->pockets = km_arena_alloc(mem, p->n_pockets, sizeof *p->pockets);
	if (!p->pockets)
		return false;
	for (uint32_t i = 0; i < p->n_pockets; i++)
		p->pockets[i] = (struct km_pocket){
			(int32_t)i + 1, km_pocket_width(pouch, (int32_t)i + 1),
			KM_POCKET_UNEXPLAINED, NULL, NULL };
	return true;
}

static void claim_pockets(const struct km_kit *kit, struct km_pouch_audit *p)
{
	for (uint32_t i = 0; i < kit->n_slots; i++) {
		const struct km_slot *s = &kit->slots[i];
		struct km_pocket *k;

		if (s->pocket < 1 || (uint32_t)s->pocket > p->n_pockets)
			continue;
		k = &p->pockets[s->pocket - 1];
		if (k->slot && !k->slot->unused && !s->unused) {
			k->state = KM_POCKET_SHARED;
			if (!k->other)
				k->other = s;
			continue;
		}
		if (k->slot && s->unused)
			continue;
		k->slot = s;
		k->state = s->unused ? KM_POCKET_UNUSED : KM_POCKET_HOLDS;
	}
}

/* ------------------------------------------------------------------ */
/* Fit in a pocket                                                     */

/* Half the girth and ease, for a pocket; -1 where it is not measured. */
static int64_t girth_of(struct km_extent e, int64_t width_nm, int64_t ease_nm,
			int layers)
{
	if (e.width_nm < 0 || e.thick_nm < 0 || width_nm < 0)
		return -1;
	return e.width_nm + layers * e.thick_nm +
	       km_pouch_ease(width_nm, ease_nm);
}

int64_t km_pouch_depth_room(const struct km_pouch *p)
{
	int64_t more = p->closing_allowance_nm;

	return p->pocket_depth_nm < 0 ? -1
		: p->pocket_depth_nm + (more > 0 ? more : 0);
}

static enum km_fits worse(enum km_fits a, enum km_fits b)
{
	return a > b ? a : b;
}

static void test_in_pocket(const struct km_pouch *p, struct km_pouch_piece *x,
			   int32_t pocket)
{
	struct km_extent e = { -1, -1, -1 }, right;
	int64_t width = km_pocket_width(p, pocket);

	right = km_extent_of_slot(x->slot);
	if (x->tool)
		e = km_extent_of_tool(x->tool);
	x->length = km_room_test(e.length_nm, km_pouch_depth_room(p), right.length_nm);
	x->girth = km_room_test(girth_of(e, width, p->ease_nm, 1), width,
				girth_of(right, width, p->ease_nm, 1));
	if (x->girth.need_nm >= 0)
		x->open_over_nm = girth_of(e, width, p->ease_nm, 2) - width;
	x->fits = x->tool ? worse(x->length.fits, x->girth.fits)
			  : KM_FITS_NO_TOOL;
}

/* Several tools in one pocket lie on each other: the widest, and all the
 * thicknesses.  Whose fault it is cannot be told then. */
static void test_shared(struct km_pouch_audit *p, struct km_pouch_piece *x)
{
	int64_t width = km_pocket_width(p->pouch, x->pocket), thick = 0, wide = 0;
	bool all = true;
	uint32_t n = 0;

	for (uint32_t i = 0; i < p->n_pieces; i++) {
		struct km_extent e;

		if (p->pieces[i].pocket != x->pocket || !p->pieces[i].tool)
			continue;
		e = km_extent_of_tool(p->pieces[i].tool);
		all &= e.width_nm >= 0 && e.thick_nm >= 0;
		thick += e.thick_nm > 0 ? e.thick_nm : 0;
		wide = e.width_nm > wide ? e.width_nm : wide;
		n++;
	}
	if (!x->tool || n < 2 || width < 0 || x->girth.fits == KM_FITS_NOT)
		return;
	wide += thick + km_pouch_ease(width, p->pouch->ease_nm);
	x->girth = km_room_test(all || wide > width ? wide : -1, width, -1);
	x->open_over_nm = wide + thick - width;
	x->fits = worse(x->length.fits, x->girth.fits);
}

/* What placing a piece in a pocket is worth: both measures fit; nothing says
 * that it does not; it has a place; little room is wasted. */
static void weigh_place(const struct km_pouch *p, const struct km_pouch_piece *x,
			int32_t pocket, struct km_assign_edge *e)
{
	struct km_extent m = x->tool ? km_extent_of_tool(x->tool)
				     : km_extent_of_slot(x->slot);
	int64_t width = km_pocket_width(p, pocket);
	struct km_room length = km_room_test(m.length_nm, km_pouch_depth_room(p), -1);
	struct km_room girth = km_room_test(
		girth_of(m, width, p->ease_nm, 1), width, -1);
	enum km_fits f = worse(length.fits, girth.fits);

	for (uint16_t i = 0; i < KM_ASSIGN_TERMS; i++)
		e->key[i] = i;
	e->gain[0] = f == KM_FITS;
	e->gain[1] = f != KM_FITS_NOT;
	e->gain[2] = 1;
	e->gain[3] = girth.need_nm < 0 ? 0 : -(girth.over_nm < 0
				? -girth.over_nm : girth.over_nm) / 1000;
}

/* Pieces and pockets that the kit does not bring together. */
struct loose {
	uint32_t *piece, *pocket;
	uint32_t n_pieces, n_pockets;
};

static bool list_loose(struct km_arena *mem, const struct km_pouch_audit *p,
		       struct loose *l)
{
	l->piece = km_arena_alloc(mem, p->n_pieces, sizeof *l->piece);
	l->pocket = km_arena_alloc(mem, p->n_pockets, sizeof *l->pocket);
	if (!l->piece || !l->pocket)
		return false;
	for (uint32_t i = 0; i < p->n_pieces; i++)
		if (p->pieces[i].pocket == 0)
			l->piece[l->n_pieces++] = i;
	for (uint32_t i = 0; i < p->n_pockets; i++)
		if (p->pockets[i].state == KM_POCKET_UNEXPLAINED)
			l->pocket[l->n_pockets++] = i;
	return true;
}

static enum km_status place_loose(struct km_arena *mem,
				  struct km_pouch_audit *p)
{
	struct loose l = { NULL, NULL, 0, 0 };
	struct km_assign_edge *edges;
	struct km_assign a;
	uint32_t *edge_of;
	enum km_status st;

	if (!list_loose(mem, p, &l))
		return KM_ENOMEM;
	if (!l.n_pieces || !l.n_pockets ||
	    l.n_pieces > PLACED_MOST / l.n_pockets)
		return KM_OK;
	edges = km_arena_alloc(mem, (size_t)l.n_pieces * l.n_pockets,
			       sizeof *edges);
	edge_of = km_arena_alloc(mem, l.n_pockets, sizeof *edge_of);
	if (!edges || !edge_of)
		return KM_ENOMEM;
	a = (struct km_assign){ l.n_pockets, l.n_pieces, KM_ASSIGN_TERMS, 0,
				edges };
	for (uint32_t k = 0; k < l.n_pockets; k++)
		for (uint32_t i = 0; i < l.n_pieces; i++) {
			struct km_assign_edge *e = &edges[a.nedges++];

			e->place = k;
			e->tool = i;
			weigh_place(p->pouch, &p->pieces[l.piece[i]],
				    (int32_t)l.pocket[k] + 1, e);
		}
	st = km_assign_solve(mem, &a, edge_of);
	for (uint32_t k = 0; st == KM_OK && k < l.n_pockets; k++) {
		struct km_pouch_piece *x;

		if (edge_of[k] == KM_ASSIGN_OPEN)
			continue;
		x = &p->pieces[l.piece[edges[edge_of[k]].tool]];
		x->pocket = (int32_t)l.pocket[k] + 1;
		x->placed = true;
		p->pockets[l.pocket[k]].slot = x->slot;
		p->pockets[l.pocket[k]].state = KM_POCKET_HOLDS;
	}
	return st;
}

/* ------------------------------------------------------------------ */
/* The whole                                                           */

/* About how thick it is rolled up: only with every tool measured. */
static int64_t rolled(const struct km_pouch_audit *p)
{
	int64_t cloth = 0, sections = 0;

	for (uint32_t i = 0; i < p->n_pockets; i++)
		cloth += p->pockets[i].width_nm > 0 ? p->pockets[i].width_nm
						    : KM_LEN_MAX_NM;
	for (uint32_t i = 0; i < p->n_pieces; i++) {
		struct km_extent e;
		struct km_section b;

		if (!p->pieces[i].tool)
			continue;
		e = km_extent_of_tool(p->pieces[i].tool);
		if (e.width_nm < 0 || e.thick_nm < 0)
			return -1;
		b = km_section_of(e.width_nm, e.thick_nm);
		sections += b.width_um * b.thick_um;
		if (sections > KM_LEN_MAX_NM * 10000)	/* 1 000 m2 */
			return -1;
	}
	if (p->pouch->cloth_nm < 0 || !cloth || cloth >= KM_LEN_MAX_NM)
		return -1;
	return km_roll_diameter(cloth, p->pouch->cloth_nm, sections) * 1000;
}

enum km_pouch_rule km_pouch_rule_of(const struct km_pouch *p)
{
	enum km_pouch_form_id form = p->form ? p->form->id : KM_POUCH_ROLL;

	if (p->pockets || p->n_widths || p->pocket_width_nm >= 0 ||
	    p->pocket_depth_nm >= 0 || form == KM_POUCH_ROLL)
		return KM_POUCH_POCKETS;
	if (form == KM_POUCH_ENVELOPE || form == KM_POUCH_ENVELOPE_SIDE ||
	    form == KM_POUCH_BAG)
		return KM_POUCH_BUNDLE;
	return KM_POUCH_LENGTHS;
}

int64_t km_pouch_length_room(const struct km_pouch *p)
{
	if (p->form && p->form->id == KM_POUCH_BOX_POUCH &&
	    p->width_nm > p->depth_nm)
		return p->width_nm;
	return p->depth_nm;
}

static void lengths_only(struct km_pouch_audit *p)
{
	int64_t room = km_pouch_length_room(p->pouch);

	for (uint32_t i = 0; i < p->n_pieces; i++) {
		struct km_pouch_piece *x = &p->pieces[i];

		x->girth = km_room_test(-1, -1, -1);
		x->length = km_room_test(
			x->tool ? km_extent_of_tool(x->tool).length_nm : -1,
			room, km_extent_of_slot(x->slot).length_nm);
		x->fits = !x->tool ? KM_FITS_NO_TOOL
			  : x->length.fits == KM_FITS ? KM_FITS_UNPROVED
						      : x->length.fits;
	}
}

static void count(struct km_pouch_audit *p)
{
	for (uint32_t i = 0; i < p->n_pieces; i++)
		p->n[p->pieces[i].fits]++;
	for (uint32_t i = 0; i < p->n_pockets; i++) {
		p->n_shared += p->pockets[i].state == KM_POCKET_SHARED;
		p->n_unused += p->pockets[i].state == KM_POCKET_UNUSED;
		p->n_unexplained +=
			p->pockets[i].state == KM_POCKET_UNEXPLAINED;
	}
}

static enum km_status by_pockets(struct km_arena *mem,
				 struct km_arena *scratch,
				 const struct km_kit *kit,
				 struct km_pouch_audit *p)
{
	enum km_status st;

	if (!list_pockets(mem, kit, p))
		return KM_ENOMEM;
	claim_pockets(kit, p);
	st = place_loose(scratch, p);
	if (st != KM_OK)
		return st;
	for (uint32_t i = 0; i < p->n_pieces; i++)
		test_in_pocket(p->pouch, &p->pieces[i], p->pieces[i].pocket);
	for (uint32_t i = 0; i < p->n_pieces; i++)
		if (p->pieces[i].pocket && !p->pieces[i].placed)
			test_shared(p, &p->pieces[i]);
	p->rolled_nm = rolled(p);
	return KM_OK;
}

enum km_status km_pouch_make(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_kit_audit *k,
			     const struct km_pouch_audit **out)
{
	struct km_pouch_audit *p;
	enum km_status st = KM_OK;

	*out = NULL;
	if (!k->kit->pouch)
		return KM_OK;
	p = km_arena_alloc(mem, 1, sizeof *p);
	if (!p)
		return KM_ENOMEM;
	p->pouch = k->kit->pouch;
	p->rule = km_pouch_rule_of(p->pouch);
	p->rolled_nm = -1;
	if (!list_pieces(mem, k, p))
		return KM_ENOMEM;
	if (p->rule == KM_POUCH_POCKETS)
		st = by_pockets(mem, scratch, k->kit, p);
	else if (p->rule == KM_POUCH_BUNDLE)
		km_pouch_bundle(p);
	else
		lengths_only(p);
	if (st != KM_OK)
		return st;
	count(p);
	*out = p;
	return KM_OK;
}
