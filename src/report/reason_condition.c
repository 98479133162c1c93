/* SPDX-License-Identifier: MIT */
#include "report/reason.h"

#include <inttypes.h>

#include "trade/rust.h"
#include "unit/length.h"

const char *km_damage_word(enum km_damage_what d)
{
	static const char *const word[KM_DMG_WHATS] = {
		[KM_DMG_SPREAD] = "jaw spread", [KM_DMG_CRACKED] = "cracked",
		[KM_DMG_BENT_SOFT] = "bent", [KM_DMG_BENT_HARD] = "bent, hard",
		[KM_DMG_ROUNDED] = "rounded",
		[KM_DMG_MUSHROOMED] = "mushroomed",
		[KM_DMG_CHIPPED_SMALL] = "small chip",
		[KM_DMG_CHIPPED_LARGE] = "large chip",
		[KM_DMG_MISSING] = "piece missing", [KM_DMG_GROUND] = "ground",
	};

	return word[d];
}

static const char *handle_word(enum km_handle h)
{
	static const char *const word[] = {
		[KM_HANDLE_SCUFFED] = "handle scuffed",
		[KM_HANDLE_FADED] = "handle faded",
		[KM_HANDLE_WRONG_COLOUR] = "handle of a wrong colour",
		[KM_HANDLE_SPLIT] = "handle split",
		[KM_HANDLE_LOOSE] = "handle loose",
		[KM_HANDLE_STICKY] = "handle sticky",
		[KM_HANDLE_MISSING] = "handle missing",
	};

	return h > KM_HANDLE_OK ? word[h] : NULL;
}

/* The record of a damage, or NULL: a spread jaw may only be measured. */
static const struct km_damage *record_of(const struct km_condition *c, int what)
{
	for (uint32_t i = 0; c && i < c->n_damage; i++)
		if ((int)c->damage[i].what == what)
			return &c->damage[i];
	return NULL;
}

static void add_extent(struct km_buf *b, const struct km_damage *d)
{
	if (d->by_nm >= 0) {
		km_buf_str(b, " by ");
		km_buf_mm(b, d->by_nm, 2);
		km_buf_str(b, " mm");
	}
	if (d->where)
		km_buf_printf(b, " (%s)", d->where);
}

static void add_damage(struct km_buf *b, const struct km_match *m,
		       uint32_t bits)
{
	const char *before = "";

	for (int what = 0; what < KM_DMG_WHATS; what++) {
		const struct km_damage *d =
			record_of(km_match_condition(m), what);

		if (!(bits >> what & 1))
			continue;
		km_buf_printf(b, "%s%s", before,
			      km_damage_word((enum km_damage_what)what));
		before = ", ";
		if (d)
			add_extent(b, d);
	}
}

static void add_curable(struct km_buf *b, const struct km_match *m)
{
	const struct km_condition *c = km_match_condition(m);
	size_t before = b->len;

	add_damage(b, m, m->damage & KM_DAMAGE_CURES);
	if (c && c->handle >= KM_HANDLE_FADED && handle_word(c->handle))
		km_buf_printf(b, "%s%s", b->len != before ? ", " : "",
			      handle_word(c->handle));
}

static void add_missing(struct km_buf *b, const struct km_match *m)
{
	const struct km_condition *c = km_match_condition(m);

	if (c && c->handle == KM_HANDLE_MISSING)
		km_buf_str(b, handle_word(c->handle));
	else
		add_damage(b, m, 1u << KM_DMG_MISSING);
}

static void on_plate(struct km_buf *b, const struct km_match *m,
		     const struct km_comparison *c)
{
	const struct km_condition *cond = km_match_condition(m);

	if (!cond || cond->plate_left < 0)
		return;
	km_buf_str(b, "plating ");
	km_buf_mm(b, cond->plate_left * (int64_t)(KM_NM_PER_MM / 100), 2);
	km_buf_str(b, " % left, ");
	km_buf_mm(b, c->over * (KM_NM_PER_MM / 100), 2);
	km_buf_str(b, " % under the limit");
}

void km_reason_condition(struct km_buf *b, const struct km_match *m,
			 enum km_aspect a)
{
	const struct km_comparison *c = &m->on[a];
	const struct km_condition *cond = km_match_condition(m);

	switch (c->finding) {
	case KM_F_RUST_ABOVE:
		km_buf_printf(b, "rust Ri %d, %" PRId64 " over the limit",
			      cond ? cond->rust : 0, c->over);
		break;
	case KM_F_PITS_ABOVE:
		km_buf_str(b, cond && cond->pits == KM_PITS_GENERAL
				      ? "general pits" : "a few pits");
		break;
	case KM_F_PLATE_BELOW:
		on_plate(b, m, c);
		break;
	case KM_F_DAMAGE_CURABLE:
		add_curable(b, m);
		break;
	case KM_F_PIECE_MISSING:
		add_missing(b, m);
		break;
	case KM_F_UNFIT:
		add_damage(b, m, m->damage & KM_DAMAGE_LASTS);
		km_buf_str(b, ", display only");
		break;
	case KM_F_CONDITION_UNRECORDED:
		km_buf_printf(b, "%s not recorded", km_aspect_word(a));
		break;
	default:
		break;
	}
}

/* A comma, unless it is the first of the list. */
static void another(struct km_buf *b, size_t begin)
{
	if (b->len != begin)
		km_buf_str(b, ", ");
}

static void add_surface(struct km_buf *b, const struct km_condition *c,
			size_t begin)
{
	static const char *const pits[] = {
		[KM_PITS_NONE] = "no pits", [KM_PITS_FEW] = "a few pits",
		[KM_PITS_GENERAL] = "general pits",
	};

	if (c->rust >= 0)
		km_buf_printf(b, "rust Ri %d", c->rust);
	if (c->pits > KM_PITS_UNRECORDED) {
		another(b, begin);
		km_buf_str(b, pits[c->pits]);
	}
	if (c->plate_left < 0)
		return;
	another(b, begin);
	km_buf_str(b, "plating ");
	km_buf_mm(b, c->plate_left * (int64_t)(KM_NM_PER_MM / 100), 2);
	km_buf_printf(b, " %% left (Rp %d)",
		      km_rating_of(10000 - c->plate_left));
}

void km_words_condition(struct km_buf *b, const struct km_condition *c)
{
	static const char *const marking[] = {
		[KM_MARKING_CRISP] = "mark crisp",
		[KM_MARKING_LEGIBLE] = "mark legible",
		[KM_MARKING_FAINT] = "mark faint",
		[KM_MARKING_GONE] = "mark gone",
	};
	size_t begin = b->len;

	add_surface(b, c, begin);
	for (uint32_t i = 0; i < c->n_damage; i++) {
		another(b, begin);
		km_buf_str(b, km_damage_word(c->damage[i].what));
		add_extent(b, &c->damage[i]);
	}
	if (c->damage_none) {
		another(b, begin);
		km_buf_str(b, "no damage");
	}
	if (handle_word(c->handle)) {
		another(b, begin);
		km_buf_str(b, handle_word(c->handle));
	}
	if (c->marking > KM_MARKING_UNRECORDED) {
		another(b, begin);
		km_buf_str(b, marking[c->marking]);
	}
}
