/* SPDX-License-Identifier: MIT */
/*
 * Spanners for hexagons from above.  A head is a circle of the head's width;
 * an open one has its jaw cut out at an angle to the shank, the two of a
 * double-ended spanner turned half round from each other.
 */
#include "report/outline.h"

#include <math.h>

struct head {
	int64_t width, r;	/* of the circle */
	int64_t x;		/* its middle, from the end of the tool */
	int64_t jaw;		/* across flats */
	int64_t angle, half;	/* of the jaw; half its opening on the circle */
	int64_t shank;		/* half the shank's width */
};

int64_t km_outline_open_reach(int64_t head, int64_t jaw, int64_t angle)
{
	int64_t half = km_pen_asin(jaw / 2, head / 2);
	int64_t past = half > angle ? half - angle : 0;

	/* the tip nearer to the axis, unless the circle itself is there */
	return km_pen_cos(head / 2, angle < half ? past : 0);
}

/* A point on the circle at an angle, clockwise from the shank's way out. */
static int64_t round_x(const struct head *h, int64_t angle)
{
	return h->x + km_pen_cos(h->r, angle);
}

static int64_t round_y(const struct head *h, int64_t angle)
{
	return km_pen_sin(h->r, angle);
}

/* A point of the jaw: a along its mouth, c across it. */
static void jaw_point(const struct km_pen *p, const struct head *h, int64_t a,
		      int64_t c, bool first)
{
	int64_t t = 180000 + h->angle;
	int64_t x = h->x + km_pen_cos(a, t) - km_pen_sin(c, t);
	int64_t y = km_pen_sin(a, t) + km_pen_cos(c, t);

	if (first)
		km_pen_move(p, x, y);
	else
		km_pen_line(p, x, y);
}

/* The flats run from the circle to the hexagon's corners, s tan(30) / 2
 * behind the middle; the root of the jaw lies before the last corner. */
static void draw_jaw(const struct km_pen *p, const struct head *h)
{
	int64_t out = km_pen_cos(h->r, h->half), s = h->jaw;

	km_pen_path(p, KM_KNOWN_RECORDED);
	jaw_point(p, h, out, s / 2, true);
	jaw_point(p, h, -s * 289 / 1000, s / 2, false);
	jaw_point(p, h, -s / 2, s * 134 / 1000, false);
	jaw_point(p, h, -s / 2, -s * 134 / 1000, false);
	jaw_point(p, h, -s * 289 / 1000, -s / 2, false);
	jaw_point(p, h, out, -s / 2, false);
	km_pen_end(p);
}

/* From one tip round to the shank, and from the other. */
static void draw_open(const struct km_pen *p, const struct head *h,
		      enum km_known known)
{
	int64_t join = km_pen_asin(h->shank, h->r);
	int64_t upper = 180000 + h->angle + h->half;
	int64_t lower = 180000 + h->angle - h->half;

	km_pen_path(p, known);
	km_pen_move(p, round_x(h, upper), round_y(h, upper));
	km_pen_arc(p, h->r, 360000 - join - upper > 180000, true,
		   round_x(h, -join), round_y(h, -join));
	km_pen_move(p, round_x(h, lower), round_y(h, lower));
	km_pen_arc(p, h->r, lower - join > 180000, false, round_x(h, join),
		   round_y(h, join));
	km_pen_end(p);
	draw_jaw(p, h);
}

/* A twelve-point ring is two hexagons; its inner corners lie where they
 * cross. */
static void draw_bihexagon(const struct km_pen *p, int64_t x, int64_t flats)
{
	double half = (double)flats / 2;
	int64_t outer = (int64_t)llround(half / cos(3.14159265358979 / 6));
	int64_t inner = (int64_t)llround(half / cos(3.14159265358979 / 12));

	km_pen_path(p, KM_KNOWN_RECORDED);
	for (int i = 0; i < 24; i++) {
		int64_t r = i % 2 ? inner : outer;
		int64_t px = x + km_pen_cos(r, i * 15000);
		int64_t py = km_pen_sin(r, i * 15000);

		if (i == 0)
			km_pen_move(p, px, py);
		else
			km_pen_line(p, px, py);
	}
	km_pen_close(p);
	km_pen_end(p);
}

static void draw_ring(const struct km_pen *p, const struct head *h,
		      enum km_known known, enum km_drive_id drive)
{
	int64_t join = km_pen_asin(h->shank, h->r);

	km_pen_path(p, known);
	km_pen_move(p, round_x(h, -join), round_y(h, -join));
	km_pen_arc(p, h->r, true, false, round_x(h, join), round_y(h, join));
	km_pen_end(p);
	if (drive == KM_DRIVE_BIHEXAGON)
		draw_bihexagon(p, h->x, h->jaw);
	else if (drive == KM_DRIVE_SQUARE)
		km_pen_box(p, KM_KNOWN_RECORDED, h->x - h->jaw / 2,
			   -h->jaw / 2, h->x + h->jaw / 2, h->jaw / 2);
	else
		km_pen_hexagon(p, KM_KNOWN_RECORDED, h->x, 0, h->jaw);
}

static bool has_ring(const struct km_outline *o, uint32_t end)
{
	return o->kind == KM_KIND_RING_DOUBLE ||
	       o->kind == KM_KIND_RING_SINGLE ||
	       (o->kind == KM_KIND_COMBINATION && end == 1);
}

static struct head head_of(const struct km_outline *o, uint32_t end)
{
	const struct km_size *s = o->size[end < o->n_sizes ? end : 0];
	struct head h = { .width = o->head[end].um, .r = o->head[end].um / 2,
			  .jaw = s->nominal_nm / 1000, .angle = o->angle.um,
			  .shank = o->shank.um / 2 };

	h.half = km_pen_asin(h.jaw / 2, h.r);
	h.x = has_ring(o, end) ? h.r
			       : km_outline_open_reach(h.width, h.jaw,
						       h.angle);
	return h;
}

/* Where the shank leaves a head, from the end of the tool. */
static int64_t shank_from(const struct head *h)
{
	return round_x(h, km_pen_asin(h->shank, h->r));
}

static void draw_shank(const struct km_pen *p, const struct km_outline *o,
		       int64_t from, int64_t to, bool plain_end)
{
	int64_t half = o->shank.um / 2;

	if (to <= from)
		return;
	km_pen_path(p, o->shank.known);
	km_pen_move(p, from, -half);
	km_pen_line(p, to, -half);
	if (plain_end)
		km_pen_arc(p, half, false, true, to, half);
	else
		km_pen_move(p, to, half);
	km_pen_line(p, from, half);
	km_pen_end(p);
}

static bool is_single(const struct km_outline *o)
{
	return o->kind == KM_KIND_OPEN_SINGLE ||
	       o->kind == KM_KIND_RING_SINGLE;
}

void km_outline_spanner(const struct km_pen *p, const struct km_outline *o)
{
	struct head left = head_of(o, 0), right = head_of(o, 1);
	struct km_pen back = *p;
	int64_t to = o->length.um - o->shank.um / 2;

	back.flip = true;
	back.length = o->length.um;
	if (has_ring(o, 0))
		draw_ring(p, &left, o->head[0].known, o->drive[0]);
	else
		draw_open(p, &left, o->head[0].known);
	if (!is_single(o)) {
		to = o->length.um - shank_from(&right);
		if (has_ring(o, 1))
			draw_ring(&back, &right, o->head[1].known,
				  o->drive[1]);
		else
			draw_open(&back, &right, o->head[1].known);
	}
	draw_shank(p, o, shank_from(&left), to, is_single(o));
}
