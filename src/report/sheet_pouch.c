/* SPDX-License-Identifier: MIT */
/*
 * pouch - does each tool go in, by how much not, and whose fault is it; what
 * each pocket holds; whether the whole goes in at once.
 */
#include "report/pouch.h"

#include <inttypes.h>

#include "kitmuster/pouch.h"
#include "report/page.h"
#include "report/words.h"
#include "trade/pouch.h"
#include "unit/length.h"

static void add_mm(struct km_buf *b, int64_t nm)
{
	km_buf_mm(b, nm, 1);
}

void km_words_room(struct km_buf *b, const struct km_room *r, const char *too,
		   const char *right)
{
	if (r->fits != KM_FITS_NOT)
		return;
	add_mm(b, r->over_nm);
	km_buf_printf(b, " mm %s", too);
	if (r->fault == KM_FAULT_UNKNOWN || r->fault == KM_FAULT_NONE)
		return;
	km_buf_printf(b, ", the right %s (", right);
	add_mm(b, r->right_nm);
	km_buf_str(b, r->fault == KM_FAULT_TOOL ? ") would fit"
						: ") would not fit either");
	if (r->fault == KM_FAULT_TOOL && r->right_over_nm == 0)
		km_buf_str(b, " exactly");
	if (r->right_over_nm == 0)
		return;
	km_buf_str(b, r->fault == KM_FAULT_TOOL ? " with " : ", by ");
	add_mm(b, r->fault == KM_FAULT_TOOL ? -r->right_over_nm
					    : r->right_over_nm);
	if (r->fault == KM_FAULT_TOOL)
		km_buf_str(b, " to spare");
}

/* ------------------------------------------------------------------ */
/* One line                                                            */

static const struct km_pouch_piece *first_that(const struct km_pouch_audit *p,
					       enum km_fits f)
{
	for (uint32_t i = 0; i < p->n_pieces; i++)
		if (p->pieces[i].fits == f)
			return &p->pieces[i];
	return NULL;
}

static const char *why_not(const struct km_pouch_piece *x)
{
	return x->length.fits == KM_FITS_NOT ? "too long" : "too wide";
}

/* ", 9 not measured" */
static void add_count(struct km_buf *b, uint32_t n, const char *what)
{
	if (n)
		km_buf_printf(b, ", %" PRIu32 " %s", n, what);
}

static void add_misfit(struct km_buf *b, const struct km_pouch_piece *x)
{
	bool length = x->length.fits == KM_FITS_NOT;

	km_buf_printf(b, "; %s %s ", x->slot->id, x->tool->id);
	km_words_room(b, length ? &x->length : &x->girth, why_not(x),
		      length ? "length" : "half girth");
}

/* The counts first: the words on one tool may not have room. */
void km_pouch_line(struct km_buf *b, const struct km_kit_audit *k)
{
	const struct km_pouch_audit *p = k->pouch;
	const struct km_pouch_piece *x;
	uint32_t given;

	if (!p)
		return;
	given = p->n_pieces - p->n[KM_FITS_NO_TOOL];
	km_buf_printf(b, "%" PRIu32 " of %" PRIu32 " %s", p->n[KM_FITS], given,
		      given == 1 ? "fits" : "fit");
	add_count(b, p->n[KM_FITS_NOT], "too large");
	add_count(b, p->n[KM_FITS_UNMEASURED], "not measured");
	add_count(b, p->n[KM_FITS_UNPROVED], "not proved");
	add_count(b, p->n_shared, p->n_shared == 1 ? "pocket shared"
						   : "pockets shared");
	add_count(b, p->n_unexplained, p->n_unexplained == 1
		  ? "pocket unexplained" : "pockets unexplained");
	if (p->rule == KM_POUCH_BUNDLE && p->bundle.fits == KM_FITS_NOT)
		km_buf_str(b, "; all together are too much");
	x = first_that(p, KM_FITS_NOT);
	if (x)
		add_misfit(b, x);
}

/* ------------------------------------------------------------------ */
/* The tools                                                           */

enum {
	P_KIT, P_SLOT, P_TOOL, P_POCKET, P_PLACED, P_FITS, P_LENGTH,
	P_LENGTH_ROOM, P_LENGTH_OVER, P_LENGTH_FITS, P_LENGTH_FAULT,
	P_LENGTH_RIGHT, P_GIRTH, P_GIRTH_ROOM, P_GIRTH_OVER, P_GIRTH_FITS,
	P_GIRTH_FAULT, P_GIRTH_RIGHT, P_OPEN_OVER, P_STACK, P_ON_EDGE,
	P_DETAIL, P_COLUMNS
};

static const struct km_column piece_columns[P_COLUMNS] = {
	[P_KIT] = { "kit", "kit", KM_COL_ID, true },
	[P_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[P_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[P_POCKET] = { "pocket", "pocket", KM_COL_COUNT, false },
	[P_PLACED] = { "placed_by_fit", NULL, KM_COL_FLAG, false },
	[P_FITS] = { "fits", "fits", KM_COL_WORD, false },
	[P_LENGTH] = { "length_mm", NULL, KM_COL_MM, false },
	[P_LENGTH_ROOM] = { "length_room_mm", NULL, KM_COL_MM, false },
	[P_LENGTH_OVER] = { "length_over_mm", NULL, KM_COL_MM, false },
	[P_LENGTH_FITS] = { "length_fits", NULL, KM_COL_WORD, false },
	[P_LENGTH_FAULT] = { "length_fault", NULL, KM_COL_WORD, false },
	[P_LENGTH_RIGHT] = { "right_length_mm", NULL, KM_COL_MM, false },
	[P_GIRTH] = { "half_girth_mm", NULL, KM_COL_MM, false },
	[P_GIRTH_ROOM] = { "width_room_mm", NULL, KM_COL_MM, false },
	[P_GIRTH_OVER] = { "half_girth_over_mm", NULL, KM_COL_MM, false },
	[P_GIRTH_FITS] = { "half_girth_fits", NULL, KM_COL_WORD, false },
	[P_GIRTH_FAULT] = { "half_girth_fault", NULL, KM_COL_WORD, false },
	[P_GIRTH_RIGHT] = { "right_half_girth_mm", NULL, KM_COL_MM, false },
	[P_OPEN_OVER] = { "lying_open_over_mm", NULL, KM_COL_MM, false },
	[P_STACK] = { "stack", NULL, KM_COL_COUNT, false },
	[P_ON_EDGE] = { "on_edge", NULL, KM_COL_FLAG, false },
	[P_DETAIL] = { NULL, "measures", KM_COL_LIST, false },
};

static enum km_tone tone_of(enum km_fits f)
{
	static const enum km_tone tone[KM_FITS_STATES] = {
		[KM_FITS] = KM_TONE_GOOD, [KM_FITS_UNPROVED] = KM_TONE_WORK,
		[KM_FITS_UNMEASURED] = KM_TONE_WORK,
		[KM_FITS_NOT] = KM_TONE_OPEN, [KM_FITS_NO_TOOL] = KM_TONE_DIM,
	};

	return tone[f];
}

struct room_columns { uint32_t need, room, over, fits, fault, right; };

static void put_length(struct km_table *t, uint32_t column, int64_t nm)
{
	if (nm >= 0)
		km_put_int(t, column, nm);
}

static void put_room(struct km_table *t, const struct km_room *r,
		     const struct room_columns *c)
{
	put_length(t, c->need, r->need_nm);
	put_length(t, c->room, r->room_nm);
	if (r->fits == KM_FITS || r->fits == KM_FITS_NOT)
		km_put_int(t, c->over, r->over_nm);
	km_put_word(t, c->fits, km_fits_word(r->fits), tone_of(r->fits));
	if (r->fault != KM_FAULT_NONE)
		km_put_word(t, c->fault, km_fits_fault_word(r->fault),
			    KM_TONE_NONE);
	put_length(t, c->right, r->right_nm);
}

/* "length 178 mm in 170: 8 mm too long, ..." */
static void add_room(struct km_buf *b, const char *what,
		     const struct km_room *r, const char *too)
{
	km_buf_printf(b, "%s ", what);
	if (r->need_nm < 0 || r->room_nm < 0) {
		km_buf_str(b, r->need_nm < 0 ? "not measured"
					     : "of the pouch not measured");
		return;
	}
	add_mm(b, r->need_nm);
	km_buf_str(b, " mm in ");
	add_mm(b, r->room_nm);
	km_buf_str(b, ": ");
	if (r->fits == KM_FITS_NOT) {
		km_words_room(b, r, too, what);
	} else {
		add_mm(b, -r->over_nm);
		km_buf_str(b, " to spare");
	}
}

static void add_girth(struct km_buf *b, const struct km_pouch_audit *p,
		      const struct km_pouch_piece *x)
{
	if (p->rule == KM_POUCH_LENGTHS)
		return;
	add_room(b, p->rule == KM_POUCH_POCKETS ? "half girth and ease"
						: "half girth",
		 &x->girth, "too wide");
	if (p->rule != KM_POUCH_POCKETS || x->girth.fits != KM_FITS ||
	    x->open_over_nm <= 0)
		return;
	km_buf_str(b, "; lying open, ");
	add_mm(b, x->open_over_nm);
	km_buf_str(b, " too wide");
}

static void put_piece(struct km_page *p, struct km_table *t,
		      const struct km_kit_audit *k,
		      const struct km_pouch_piece *x)
{
	static const struct room_columns length = {
		P_LENGTH, P_LENGTH_ROOM, P_LENGTH_OVER, P_LENGTH_FITS,
		P_LENGTH_FAULT, P_LENGTH_RIGHT };
	static const struct room_columns girth = {
		P_GIRTH, P_GIRTH_ROOM, P_GIRTH_OVER, P_GIRTH_FITS,
		P_GIRTH_FAULT, P_GIRTH_RIGHT };

	km_table_row(t);
	km_put_text(t, P_KIT, k->kit->id);
	km_put_text(t, P_SLOT, x->slot->id);
	km_put_text(t, P_TOOL, x->tool ? x->tool->id : NULL);
	if (x->pocket)
		km_put_int(t, P_POCKET, x->pocket);
	km_put_int(t, P_PLACED, x->placed);
	km_put_word(t, P_FITS, km_fits_word(x->fits), tone_of(x->fits));
	if (!x->tool)
		return;
	put_room(t, &x->length, &length);
	put_room(t, &x->girth, &girth);
	if (k->pouch->rule == KM_POUCH_POCKETS && x->girth.need_nm >= 0)
		km_put_int(t, P_OPEN_OVER, x->open_over_nm);
	if (x->stack) {
		km_put_int(t, P_STACK, x->stack);
		km_put_int(t, P_ON_EDGE, x->on_edge);
	}
	add_room(&p->line, "length", &x->length, "too long");
	km_put_item(t, P_DETAIL, &p->line);
	add_girth(&p->line, k->pouch, x);
	km_put_item(t, P_DETAIL, &p->line);
	if (x->placed)
		km_buf_str(&p->line, "pocket chosen by fit");
	km_put_item(t, P_DETAIL, &p->line);
}

/* ------------------------------------------------------------------ */
/* The pockets                                                         */

enum { K_KIT, K_POCKET, K_WIDTH, K_STATE, K_SLOT, K_OTHER, K_COLUMNS };

static const struct km_column pocket_columns[K_COLUMNS] = {
	[K_KIT] = { "kit", "kit", KM_COL_ID, true },
	[K_POCKET] = { "pocket", "pocket", KM_COL_COUNT, false },
	[K_WIDTH] = { "width_mm", "width mm", KM_COL_MM, false },
	[K_STATE] = { "state", "state", KM_COL_WORD, false },
	[K_SLOT] = { "slot", "slot", KM_COL_ID, false },
	[K_OTHER] = { "shared_with", "shared with", KM_COL_ID, false },
};

static void put_pocket(struct km_table *t, const struct km_kit_audit *k,
		       const struct km_pocket *x)
{
	static const enum km_tone tone[] = {
		[KM_POCKET_HOLDS] = KM_TONE_NONE,
		[KM_POCKET_SHARED] = KM_TONE_WORK,
		[KM_POCKET_UNUSED] = KM_TONE_DIM,
		[KM_POCKET_UNEXPLAINED] = KM_TONE_OPEN,
	};

	km_table_row(t);
	km_put_text(t, K_KIT, k->kit->id);
	km_put_int(t, K_POCKET, x->number);
	put_length(t, K_WIDTH, x->width_nm);
	km_put_word(t, K_STATE, km_pocket_word(x->state), tone[x->state]);
	km_put_text(t, K_SLOT, x->slot ? x->slot->id : NULL);
	km_put_text(t, K_OTHER, x->other ? x->other->id : NULL);
}

/* ------------------------------------------------------------------ */
/* The whole                                                           */

enum {
	W_KIT, W_FORM, W_FITS, W_USABLE, W_HULL, W_ROOM, W_OVER, W_THICK,
	W_STACKS, W_WHOLE, W_EXCLUDED, W_UNMEASURED, W_FLAP_OVER, W_ROLLED,
	W_DETAIL, W_COLUMNS
};

static const struct km_column whole_columns[W_COLUMNS] = {
	[W_KIT] = { "kit", "kit", KM_COL_ID, false },
	[W_FORM] = { "form", "pouch", KM_COL_WORD, false },
	[W_FITS] = { "together", "together", KM_COL_WORD, false },
	[W_USABLE] = { "usable_width_mm", NULL, KM_COL_MM, false },
	[W_HULL] = { "girth_mm", NULL, KM_COL_MM, false },
	[W_ROOM] = { "girth_room_mm", NULL, KM_COL_MM, false },
	[W_OVER] = { "girth_over_mm", NULL, KM_COL_MM, false },
	[W_THICK] = { "thick_mm", NULL, KM_COL_MM, false },
	[W_STACKS] = { "stacks", NULL, KM_COL_COUNT, false },
	[W_WHOLE] = { "all_layouts_weighed", NULL, KM_COL_FLAG, false },
	[W_EXCLUDED] = { "excluded", NULL, KM_COL_FLAG, false },
	[W_UNMEASURED] = { "not_measured", NULL, KM_COL_COUNT, false },
	[W_FLAP_OVER] = { "flap_over_mm", NULL, KM_COL_MM, false },
	[W_ROLLED] = { "rolled_mm", NULL, KM_COL_MM, false },
	[W_DETAIL] = { NULL, "how", KM_COL_LIST, false },
};

static void add_bundle(struct km_buf *b, const struct km_pouch_bundle *u)
{
	if (u->excluded) {
		km_buf_str(b, "no arrangement can fit: ");
		km_buf_str(b, u->section_um2 > u->section_most_um2
				? "the tools have more section than the cloth "
				  "can go round"
				: "one tool alone has too much girth");
		return;
	}
	if (!u->stacks)
		return;
	km_buf_printf(b, "%sin %" PRIu32 " flat stack%s, ",
		      u->unmeasured ? "the measured ones " : "", u->stacks,
		      u->stacks == 1 ? "" : "s side by side");
	add_mm(b, u->thick_nm);
	km_buf_str(b, " mm thick, the girth is ");
	add_mm(b, u->hull.need_nm);
	km_buf_str(b, " mm");
	if (u->hull.room_nm < 0)
		return;
	km_buf_str(b, " of ");
	add_mm(b, u->hull.room_nm);
	km_buf_str(b, u->hull.over_nm > 0 ? ", " : ": ");
	add_mm(b, u->hull.over_nm > 0 ? u->hull.over_nm : -u->hull.over_nm);
	km_buf_str(b, u->hull.over_nm > 0 ? " mm too much" : " mm to spare");
	if (u->hull.over_nm > 0)
		km_buf_str(b, u->whole ? "; no such layout does with less"
				       : "; not all layouts were weighed");
}

static void put_bundle(struct km_page *p, struct km_table *t,
		       const struct km_pouch_audit *x)
{
	const struct km_pouch_bundle *u = &x->bundle;

	km_put_word(t, W_FITS, km_fits_word(u->fits), tone_of(u->fits));
	put_length(t, W_USABLE, u->usable_nm);
	put_length(t, W_HULL, u->hull.need_nm);
	put_length(t, W_ROOM, u->hull.room_nm);
	if (u->hull.fits != KM_FITS_UNMEASURED)
		km_put_int(t, W_OVER, u->hull.over_nm);
	if (u->stacks) {
		km_put_int(t, W_THICK, u->thick_nm);
		km_put_int(t, W_STACKS, u->stacks);
		km_put_int(t, W_WHOLE, u->whole);
	}
	km_put_int(t, W_EXCLUDED, u->excluded);
	km_put_int(t, W_UNMEASURED, u->unmeasured);
	add_bundle(&p->line, u);
	km_put_item(t, W_DETAIL, &p->line);
	if (u->unmeasured)
		km_buf_printf(&p->line, "%" PRIu32 " of %" PRIu32
			      " tools not measured", u->unmeasured,
			      u->unmeasured + u->measured);
	km_put_item(t, W_DETAIL, &p->line);
	if (u->flap.fits == KM_FITS || u->flap.fits == KM_FITS_NOT) {
		km_put_int(t, W_FLAP_OVER, u->flap.over_nm);
		add_room(&p->line, "flap", &u->flap, "too short");
		km_put_item(t, W_DETAIL, &p->line);
	}
}

static void put_whole(struct km_page *p, struct km_table *t,
		      const struct km_kit_audit *k)
{
	const struct km_pouch_audit *x = k->pouch;

	km_table_row(t);
	km_put_text(t, W_KIT, k->kit->id);
	km_put_word(t, W_FORM, x->pouch->form ? x->pouch->form->name
					      : "not recorded", KM_TONE_NONE);
	if (x->rule == KM_POUCH_BUNDLE)
		put_bundle(p, t, x);
	if (x->rolled_nm >= 0) {
		km_put_int(t, W_ROLLED, x->rolled_nm);
		km_buf_str(&p->line, "rolled up about ");
		km_buf_mm(&p->line, x->rolled_nm, 0);
		km_buf_str(&p->line, " mm through");
		km_put_item(t, W_DETAIL, &p->line);
	}
	km_pouch_line(&p->line, k);
	km_put_item(t, W_DETAIL, &p->line);
}

void km_make_pouch(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct km_table *pieces = km_page_table(p, "pieces", piece_columns,
						P_COLUMNS);
	struct km_table *pockets = km_page_table(p, "pockets", pocket_columns,
						 K_COLUMNS);
	struct km_table *whole = km_page_table(p, "pouches", whole_columns,
					       W_COLUMNS);

	for (uint32_t i = 0; pieces && pockets && whole && i < a->n_kits; i++) {
		const struct km_kit_audit *k = &a->kits[i];

		if (!k->pouch) {
			km_buf_printf(&p->line, "%s: no pouch is recorded",
				      k->kit->id);
			if (!km_buf_failed(&p->line))
				km_table_section(whole, p->line.text);
			km_buf_clear(&p->line);
			continue;
		}
		for (uint32_t n = 0; n < k->pouch->n_pieces; n++)
			put_piece(p, pieces, k, &k->pouch->pieces[n]);
		for (uint32_t n = 0; n < k->pouch->n_pockets; n++)
			put_pocket(pockets, k, &k->pouch->pockets[n]);
		put_whole(p, whole, k);
	}
	if (pockets && !pockets->first)
		pockets->show = KM_SHOW_DATA;
}
