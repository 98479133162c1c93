/* SPDX-License-Identifier: MIT */
/*
 * The other tools, plainly: what tells one from another is to scale, the rest
 * is a sketch and dashed.
 */
#include "report/outline.h"


static int64_t size_um(const struct km_outline *o, uint32_t end)
{
	return o->n_sizes ? o->size[end < o->n_sizes ? end : 0]->nominal_nm /
				    1000 : 0;
}

static int64_t least(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

static int64_t most(int64_t a, int64_t b)
{
	return a > b ? a : b;
}

static enum km_known weaker(enum km_known a, enum km_known b)
{
	return a < b ? a : b;
}

/* Across the corners of a hexagon: 2 / sqrt(3) times the flats. */
static int64_t corners(int64_t flats)
{
	return (flats * 1154701 + 500000) / 1000000;
}

/* ------------------------------------------------------------------ */
/* Tubes                                                               */

/* From the side, with the edges of the hexagon; the ends seen head on below
 * it. */
static void draw_tube(const struct km_pen *p, const struct km_outline *o,
		      int64_t side)
{
	bool one = o->n_sizes < 2;
	int64_t a = corners(o->head[0].um) / 2;
	int64_t b = one ? a : corners(o->head[1].um) / 2;
	int64_t l = o->length.um, third = l * 2 / 5;
	enum km_known k = weaker(o->head[0].known, o->length.known);

	km_pen_path(p, k);
	km_pen_move(p, 0, -a);
	km_pen_line(p, third, -a);
	km_pen_line(p, l - third, -b);
	km_pen_line(p, l, -b);
	km_pen_line(p, l, b);
	km_pen_line(p, l - third, b);
	km_pen_line(p, third, a);
	km_pen_line(p, 0, a);
	km_pen_close(p);
	km_pen_end(p);
	for (int up = -1; up <= 1; up += 2) {
		km_pen_stroke(p, k, 0, up * a / 2, third, up * a / 2);
		km_pen_stroke(p, k, l - third, up * b / 2, l, up * b / 2);
	}
	if (o->hole.um > 0 && o->hole.um < 2 * least(a, b))
		km_pen_circle(p, o->hole.known, l / 2, 0, o->hole.um / 2);
	if (o->depth.known == KM_KNOWN_RECORDED && o->depth.um < l)
		km_pen_stroke(p, o->depth.known, o->depth.um, -a, o->depth.um,
			      a);
	for (uint32_t i = 0; i < (one ? 1u : 2u); i++) {
		int64_t x = i ? l - b : a;

		km_pen_hexagon(p, o->head[i].known, x, side, o->head[i].um);
		km_pen_hexagon(p, KM_KNOWN_RECORDED, x, side, size_um(o, i));
	}
}

/* ------------------------------------------------------------------ */
/* Hooks                                                               */

#define HOOK_TURN 130000	/* the arc, from the handle to the tooth */

struct hook { int64_t r, band, x, half; };

static struct hook hook_of(const struct km_outline *o)
{
	int64_t d = o->n_sizes ? (o->size[0]->b_nm ? o->size[0]->b_nm
						   : o->size[0]->nominal_nm) /
					 1000 : KM_UM(50);
	struct hook h = { .r = d / 2, .band = most(d / 7, KM_UM(4)),
			  .half = least(o->shank.um, d * 2 / 3) / 2 };

	/* leftmost is the back of the band where the arc ends */
	h.x = km_pen_cos(h.r + h.band, 180000 - HOOK_TURN);
	return h;
}

static void draw_hook(const struct km_pen *p, const struct km_outline *o)
{
	struct hook h = hook_of(o);
	enum km_known k = o->n_sizes ? KM_KNOWN_RECORDED : KM_KNOWN_ASSUMED;
	int64_t in = h.r - most(o->hook.um, KM_UM(1)), out = h.r + h.band;
	int64_t join = km_pen_asin(h.half, out);
	int64_t low = km_pen_asin(h.half, h.r), end = -HOOK_TURN;

	/* the arc that bears on the nut, and the tooth in its notch */
	km_pen_path(p, k);
	km_pen_move(p, h.x + km_pen_cos(h.r, low), km_pen_sin(h.r, low));
	km_pen_arc(p, h.r, false, false, h.x + km_pen_cos(h.r, end + 7000),
		   km_pen_sin(h.r, end + 7000));
	km_pen_line(p, h.x + km_pen_cos(in, end + 7000),
		    km_pen_sin(in, end + 7000));
	km_pen_line(p, h.x + km_pen_cos(in, end), km_pen_sin(in, end));
	km_pen_end(p);
	/* back and handle */
	km_pen_path(p, KM_KNOWN_ASSUMED);
	km_pen_move(p, h.x + km_pen_cos(in, end), km_pen_sin(in, end));
	km_pen_line(p, h.x + km_pen_cos(out, end), km_pen_sin(out, end));
	km_pen_arc(p, out, false, true, h.x + km_pen_cos(out, -join),
		   -h.half);
	km_pen_line(p, o->length.um - h.half, -h.half);
	km_pen_arc(p, h.half, false, true, o->length.um - h.half, h.half);
	km_pen_line(p, h.x + km_pen_cos(h.r, low), h.half);
	km_pen_end(p);
}

/* ------------------------------------------------------------------ */
/* Keys, bars, drivers                                                 */

static void draw_key(const struct km_pen *p, const struct km_outline *o,
		     int64_t side)
{
	int64_t s = most(size_um(o, 0), KM_UM(1)), l = o->length.um;
	int64_t arm = most(o->arm.um, 3 * s), bend = 2 * s;
	enum km_known k = weaker(o->length.known, o->arm.known);

	/* the long arm lies on the axis, its outside along y = -s / 2 */
	km_pen_path(p, k);
	km_pen_move(p, l, -s / 2);
	km_pen_line(p, bend, -s / 2);
	km_pen_arc(p, bend, false, false, 0, bend - s / 2);
	km_pen_line(p, 0, arm - s / 2);
	km_pen_line(p, s, arm - s / 2);
	km_pen_line(p, s, bend - s / 2);
	km_pen_arc(p, bend - s, false, true, bend, s / 2);
	km_pen_line(p, l, s / 2);
	km_pen_close(p);
	km_pen_end(p);
	if (o->n_sizes)
		km_pen_hexagon(p, KM_KNOWN_RECORDED, l - s, side, s);
}

static void draw_bar(const struct km_pen *p, const struct km_outline *o,
		     int64_t side)
{
	km_pen_box(p, weaker(o->bar.known, o->length.known), 0, -o->bar.um / 2,
		   o->length.um, o->bar.um / 2);
	km_pen_circle(p, o->bar.known, o->bar.um / 2, side, o->bar.um / 2);
}

static void draw_handle(const struct km_pen *p, int64_t to, int64_t half)
{
	int64_t neck = least(to / 4, KM_UM(14)), round = least(half, to / 4);

	km_pen_path(p, KM_KNOWN_ASSUMED);
	km_pen_move(p, to, -half / 2);
	km_pen_curve(p, to - neck / 2, -half, to - neck, -half);
	km_pen_line(p, round, -half);
	km_pen_curve(p, 0, -half, 0, 0);
	km_pen_curve(p, 0, half, round, half);
	km_pen_line(p, to - neck, half);
	km_pen_curve(p, to - neck / 2, half, to, half / 2);
	km_pen_close(p);
	km_pen_end(p);
}

/* The blade from above (its width) or from the side (its thickness). */
static void draw_blade(const struct km_pen *p, const struct km_outline *o,
		       int64_t y, int64_t tip, enum km_known known)
{
	int64_t from = o->length.um - o->blade.um, to = o->length.um;
	int64_t half = o->shank.um / 2;
	int64_t taper = least(o->blade.um / 3, KM_UM(16));
	int64_t flat = least(taper / 4, KM_UM(4));

	km_pen_path(p, weaker(o->shank.known, o->blade.known));
	km_pen_move(p, from, y - half);
	km_pen_line(p, to - taper, y - half);
	km_pen_line(p, to - flat, y - tip / 2);
	km_pen_move(p, from, y + half);
	km_pen_line(p, to - taper, y + half);
	km_pen_line(p, to - flat, y + tip / 2);
	km_pen_end(p);
	km_pen_path(p, known);
	km_pen_move(p, to - flat, y - tip / 2);
	km_pen_line(p, to, y - tip / 2);
	km_pen_line(p, to, y + tip / 2);
	km_pen_line(p, to - flat, y + tip / 2);
	km_pen_end(p);
}

static void draw_driver(const struct km_pen *p, const struct km_outline *o,
			int64_t side)
{
	bool slot = o->n_sizes && o->size[0]->b_nm > 0;
	int64_t point = o->shank.um / 4;
	struct km_pen below = *p;

	draw_handle(p, o->length.um - o->blade.um, o->head[0].um / 2);
	draw_blade(p, o, 0, slot ? o->size[0]->b_nm / 1000 : point,
		   slot ? KM_KNOWN_RECORDED : KM_KNOWN_ASSUMED);
	if (slot)
		draw_blade(&below, o, side, size_um(o, 0), KM_KNOWN_RECORDED);
}

/* ------------------------------------------------------------------ */
/* Pliers and bars                                                     */

static int64_t spread(const struct km_outline *o)
{
	return most(o->head[0].um / 2, o->length.um * 14 / 100);
}

static void half_of_pliers(const struct km_pen *p, const struct km_outline *o,
			   int up)
{
	int64_t j = least(o->jaw.um > 0 ? o->jaw.um : o->length.um / 5,
			  o->length.um / 2);
	int64_t head = o->head[0].um / 2, l = o->length.um;
	int64_t tip = o->tip.um > 0 ? least(o->tip.um, head) : head * 2 / 3;
	int64_t wide = spread(o), grip = least(KM_UM(9), wide / 2);

	km_pen_path(p, weaker(o->head[0].known, o->jaw.known));
	km_pen_move(p, 0, 0);
	km_pen_line(p, 0, up * tip);
	km_pen_line(p, j / 2, up * (tip + head) / 2);
	km_pen_curve(p, j * 3 / 4, up * head, j, up * head);
	km_pen_end(p);
	km_pen_path(p, KM_KNOWN_ASSUMED);
	km_pen_move(p, j, up * head);
	km_pen_curve(p, j + head, up * head, j + head * 3 / 2,
		     up * (head + wide) / 2);
	km_pen_curve(p, j + 2 * head, up * wide, l * 3 / 5, up * wide);
	km_pen_line(p, l - grip, up * wide);
	km_pen_curve(p, l, up * wide, l, up * (wide - grip / 2));
	km_pen_curve(p, l, up * (wide - grip), l - grip, up * (wide - grip));
	km_pen_line(p, l * 3 / 5, up * (wide - grip));
	km_pen_curve(p, j + 2 * head, up * (wide - grip), j + head,
		     up * head / 5);
	km_pen_end(p);
}

static void draw_pliers(const struct km_pen *p, const struct km_outline *o)
{
	int64_t j = least(o->jaw.um > 0 ? o->jaw.um : o->length.um / 5,
			  o->length.um / 2);

	half_of_pliers(p, o, -1);
	half_of_pliers(p, o, 1);
	km_pen_stroke(p, KM_KNOWN_ASSUMED, 0, 0, j * 4 / 5, 0);
	km_pen_circle(p, KM_KNOWN_ASSUMED, j, 0, o->head[0].um / 6);
}

/* A head with a fixed jaw above and a moving one below. */
static void draw_adjustable(const struct km_pen *p,
			    const struct km_outline *o)
{
	int64_t half = o->jaw.um / 2, out = o->head[0].um / 2;
	int64_t deep = o->jaw.um, back = deep * 3 / 2, l = o->length.um;
	int64_t shank = least(out / 2, l / 16);

	for (int up = -1; up <= 1; up += 2) {
		km_pen_stroke(p, o->jaw.known, 0, up * half, deep, up * half);
		km_pen_path(p, KM_KNOWN_ASSUMED);
		km_pen_move(p, 0, up * half);
		km_pen_line(p, deep / 3, up * out);
		km_pen_line(p, deep, up * out);
		km_pen_curve(p, back, up * out, back + out, up * shank);
		km_pen_line(p, l - shank, up * shank);
		km_pen_curve(p, l, up * shank, l, 0);
		km_pen_end(p);
	}
	km_pen_stroke(p, KM_KNOWN_ASSUMED, deep, -half, deep, half);
}

/* What has no shape of its own here: never solid, since no more than its
 * extents is known. */
static void draw_plain(const struct km_pen *p, const struct km_outline *o)
{
	km_pen_box(p, KM_KNOWN_ASSUMED, 0, -o->head[0].um / 2, o->length.um,
		   o->head[0].um / 2);
}

/* ------------------------------------------------------------------ */
/* Any of them                                                         */

enum look { LOOK_SPANNER, LOOK_TUBE, LOOK_HOOK, LOOK_KEY, LOOK_BAR,
	    LOOK_DRIVER, LOOK_PLIERS, LOOK_ADJUSTABLE, LOOK_SKETCH,
	    LOOK_PLAIN };

static enum look look_of(const struct km_outline *o)
{
	if (o->bar_only)
		return LOOK_PLAIN;
	switch (o->kind) {
	case KM_KIND_OPEN_DOUBLE:
	case KM_KIND_OPEN_SINGLE:
	case KM_KIND_RING_DOUBLE:
	case KM_KIND_RING_SINGLE:
	case KM_KIND_COMBINATION:
		return o->n_sizes ? LOOK_SPANNER : LOOK_PLAIN;
	case KM_KIND_BOX_SPANNER:
	case KM_KIND_PLUG_SPANNER:
		return o->n_sizes ? LOOK_TUBE : LOOK_PLAIN;
	case KM_KIND_HOOK_SPANNER:
		return LOOK_HOOK;
	case KM_KIND_HEX_KEY:
		return LOOK_KEY;
	case KM_KIND_TOMMY_BAR:
		return LOOK_BAR;
	case KM_KIND_SCREWDRIVER:
	case KM_KIND_SCREWDRIVER_REVERSIBLE:
		return LOOK_DRIVER;
	case KM_KIND_PLIERS_COMBINATION:
	case KM_KIND_PLIERS_SLIP_JOINT:
	case KM_KIND_PLIERS_PIPE:
	case KM_KIND_PLIERS_SNIPE_NOSE:
	case KM_KIND_PLIERS_FLAT_NOSE:
	case KM_KIND_PLIERS_CUTTING:
		return LOOK_PLIERS;
	case KM_KIND_ADJUSTABLE:
		return LOOK_ADJUSTABLE;
	default:
		return km_outline_is_sketch(o) ? LOOK_SKETCH : LOOK_PLAIN;
	}
}

static struct km_reach reach_of_hook(const struct km_outline *o)
{
	struct hook h = hook_of(o);

	return (struct km_reach){ h.r + h.band, h.half, o->thick.um };
}

struct km_reach km_outline_reach(const struct km_outline *o)
{
	int64_t half = most(o->head[0].um, o->n_sizes > 1 ? o->head[1].um : 0);
	int64_t s = size_um(o, 0);

	switch (look_of(o)) {
	case LOOK_TUBE:
		return (struct km_reach){ corners(half) / 2, corners(half) / 2,
					  half };
	case LOOK_HOOK:
		return reach_of_hook(o);
	case LOOK_KEY:
		return (struct km_reach){ s / 2 + 500,
			most(o->arm.um, 3 * s) - s / 2, s };
	case LOOK_BAR:
		return (struct km_reach){ o->bar.um / 2, o->bar.um / 2,
					  o->bar.um };
	case LOOK_DRIVER:
		return (struct km_reach){ half / 2, half / 2,
			o->n_sizes && o->size[0]->b_nm ? o->shank.um : 0 };
	case LOOK_PLIERS:
		return (struct km_reach){ spread(o), spread(o), o->thick.um };
	case LOOK_SKETCH:
		if (o->kind == KM_KIND_SOCKET)
			return (struct km_reach){ half / 2, half / 2, half };
		/* fall through */
	default:
		return (struct km_reach){ half / 2, half / 2,
					  most(o->thick.um, 0) };
	}
}

void km_outline_side(const struct km_pen *p, const struct km_outline *o,
		     int64_t y)
{
	km_pen_box(p, weaker(o->thick.known, o->length.known), 0,
		   y - o->thick.um / 2, o->length.um, y + o->thick.um / 2);
}

void km_outline_draw(const struct km_pen *p, const struct km_outline *o,
		     int64_t side)
{
	switch (look_of(o)) {
	case LOOK_SPANNER:
		km_outline_spanner(p, o);
		break;
	case LOOK_TUBE:
		draw_tube(p, o, side);
		return;
	case LOOK_HOOK:
		draw_hook(p, o);
		break;
	case LOOK_KEY:
		draw_key(p, o, side);
		return;
	case LOOK_BAR:
		draw_bar(p, o, side);
		return;
	case LOOK_DRIVER:
		draw_driver(p, o, side);
		return;
	case LOOK_PLIERS:
		draw_pliers(p, o);
		break;
	case LOOK_ADJUSTABLE:
		draw_adjustable(p, o);
		break;
	case LOOK_SKETCH:
		km_outline_sketch(p, o, side);
		return;
	case LOOK_PLAIN:
		draw_plain(p, o);
		break;
	}
	if (o->thick.known != KM_KNOWN_NOT)
		km_outline_side(p, o, side);
}
