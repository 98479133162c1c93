/* SPDX-License-Identifier: MIT */
/*
 * Tools that are told by their length and width alone.  The two recorded
 * extents are solid where the sketch touches them; every line between is a
 * habit of the kind, and dashed [choice].
 */
#include "report/outline.h"

/* A point of the upper edge, which the lower one mirrors. */
struct corner {
	int16_t along;		/* per mille of the length, */
	int16_t more;		/* and of the width, from the left end */
	int16_t up;		/* per mille of half the width */
};

#define CORNERS 10
#define END { -1, 0, 0 }

struct sketch {
	enum km_kind_id kind;
	struct corner v[CORNERS];
};

static const struct sketch sketches[] = {
	{ KM_KIND_HAMMER, { { 0, 0, 1000 }, { 0, 280, 1000 }, { 0, 280, 200 },
		{ 550, 0, 160 }, { 800, 0, 270 }, { 1000, 0, 240 }, END } },
	{ KM_KIND_TYRE_LEVER, { { 0, 0, 600 }, { 20, 0, 1000 },
		{ 140, 0, 1000 }, { 250, 0, 700 }, { 940, 0, 700 },
		{ 1000, 0, 450 }, END } },
	{ KM_KIND_OIL_CAN, { { 0, 0, 1000 }, { 330, 0, 1000 },
		{ 500, 0, 260 }, { 540, 0, 120 }, { 1000, 0, 50 }, END } },
	{ KM_KIND_GREASE_GUN, { { 0, 0, 700 }, { 50, 0, 1000 },
		{ 720, 0, 1000 }, { 780, 0, 350 }, { 1000, 0, 200 }, END } },
	{ KM_KIND_TYRE_PUMP, { { 0, 0, 1000 }, { 60, 0, 1000 },
		{ 60, 0, 300 }, { 110, 0, 300 }, { 110, 0, 750 },
		{ 1000, 0, 750 }, END } },
	{ KM_KIND_TYRE_GAUGE, { { 0, 0, 1000 }, { 140, 0, 1000 },
		{ 170, 0, 750 }, { 1000, 0, 750 }, END } },
	{ KM_KIND_PUNCH, { { 0, 0, 850 }, { 20, 0, 1000 }, { 600, 0, 1000 },
		{ 680, 0, 450 }, { 1000, 0, 350 }, END } },
	{ KM_KIND_CHISEL, { { 0, 0, 550 }, { 20, 0, 650 }, { 680, 0, 650 },
		{ 820, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_CONTACT_FILE, { { 0, 0, 300 }, { 220, 0, 350 },
		{ 240, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_FEELER_GAUGE, { { 0, 0, 600 }, { 40, 0, 1000 },
		{ 960, 0, 1000 }, { 1000, 0, 600 }, END } },
	{ KM_KIND_KNIFE, { { 0, 0, 700 }, { 80, 0, 1000 }, { 480, 0, 1000 },
		{ 500, 0, 700 }, { 850, 0, 550 }, { 1000, 0, 60 }, END } },
	{ KM_KIND_SCREWDRIVER_HANDLE, { { 0, 0, 700 }, { 120, 0, 1000 },
		{ 750, 0, 1000 }, { 900, 0, 600 }, { 1000, 0, 700 }, END } },
	/* what is sewn, cut or folded is as long and as wide as it says */
	{ KM_KIND_TOOL_POUCH, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_TOOL_ROLL, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_TOOL_BAG, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_TOOL_BOX, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_STRAP, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
	{ KM_KIND_SOCKET, { { 0, 0, 1000 }, { 1000, 0, 1000 }, END } },
};

static const struct sketch *sketch_of(enum km_kind_id kind)
{
	for (size_t i = 0; i < sizeof sketches / sizeof *sketches; i++)
		if (sketches[i].kind == kind)
			return &sketches[i];
	return NULL;
}

static int64_t along(const struct km_outline *o, struct corner c)
{
	return (o->length.um * c.along + o->head[0].um * c.more) / 1000;
}

static int64_t up(const struct km_outline *o, struct corner c)
{
	return o->head[0].um * c.up / 2000;
}

bool km_outline_is_sketch(const struct km_outline *o)
{
	const struct sketch *s = sketch_of(o->kind);
	int64_t before = 0;

	/* one that would fold back has other proportions */
	for (int i = 0; s && s->v[i].along >= 0; i++) {
		int64_t x = along(o, s->v[i]);

		if (x < before || x > o->length.um)
			return false;
		before = x;
	}
	return s != NULL;
}

/* Solid where both points lie at a recorded extent. */
static enum km_known known(const struct km_outline *o, struct corner a,
			   struct corner b)
{
	bool wide = a.up == 1000 && b.up == 1000;
	bool end = a.along == b.along && a.more == b.more;

	if (!wide)
		return KM_KNOWN_ASSUMED;
	return end && o->length.known < o->head[0].known ? o->length.known
							 : o->head[0].known;
}

static void edge(const struct km_pen *p, const struct km_outline *o,
		 struct corner a, struct corner b, int sign_a, int sign_b)
{
	km_pen_stroke(p, known(o, a, b), along(o, a), sign_a * up(o, a),
		      along(o, b), sign_b * up(o, b));
}

/* What tells the kind from a plain bar, all of it dashed. */
static void details(const struct km_pen *p, const struct km_outline *o)
{
	int64_t l = o->length.um, w = o->head[0].um;

	switch (o->kind) {
	case KM_KIND_FEELER_GAUGE:
		km_pen_circle(p, KM_KNOWN_ASSUMED, w / 2, 0, w / 6);
		break;
	case KM_KIND_TOOL_POUCH:
	case KM_KIND_TOOL_ROLL:
	case KM_KIND_TOOL_BAG:
		km_pen_stroke(p, KM_KNOWN_ASSUMED, l / 4, -w / 2, l / 4, w / 2);
		break;
	case KM_KIND_OIL_CAN:
		km_pen_stroke(p, KM_KNOWN_ASSUMED, l / 20, -w / 2, l / 20,
			      w / 2);
		break;
	default:
		break;
	}
	if (o->blade.known == KM_KNOWN_RECORDED && o->blade.um < l)
		km_pen_stroke(p, KM_KNOWN_RECORDED, l - o->blade.um, -w / 4,
			      l - o->blade.um, w / 4);
}

/* The mouth of a socket, below it. */
static void mouth(const struct km_pen *p, const struct km_outline *o,
		  int64_t side)
{
	int64_t r = o->head[0].um / 2;

	km_pen_circle(p, o->head[0].known, r, side, r);
	if (o->n_sizes)
		km_pen_hexagon(p, KM_KNOWN_RECORDED, r, side,
			       o->size[0]->nominal_nm / 1000);
}

void km_outline_sketch(const struct km_pen *p, const struct km_outline *o,
		       int64_t side)
{
	const struct corner *v = sketch_of(o->kind)->v;
	int n = 0;

	for (; v[n].along >= 0; n++)
		if (n)
			for (int sign = -1; sign <= 1; sign += 2)
				edge(p, o, v[n - 1], v[n], sign, sign);
	edge(p, o, v[0], v[0], -1, 1);
	edge(p, o, v[n - 1], v[n - 1], -1, 1);
	details(p, o);
	if (o->kind == KM_KIND_SOCKET)
		mouth(p, o, side);
	else if (o->thick.known != KM_KNOWN_NOT)
		km_outline_side(p, o, side);
}
