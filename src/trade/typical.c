/* SPDX-License-Identifier: MIT */
#include "trade/typical.h"

#include <stddef.h>

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define FAR INT64_MAX

static const struct km_typical unknown = { -1, -1, -1, -1, -1,
					   -1, -1, -1, -1, -1 };

int64_t km_typical_open_head(int64_t s_um)
{
	return (21 * s_um + 5) / 10 + 7000;
}

int64_t km_typical_ring_head(int64_t s_um)
{
	return (15 * s_um + 5) / 10 + 3000;
}

static int64_t off(int64_t a, int64_t b)
{
	return a < b ? b - a : a - b;
}

/* A whole number at *p, which moves past it. */
static int64_t digits(const char **p)
{
	int64_t v = 0;

	while (**p >= '0' && **p <= '9')
		v = v * 10 + (*(*p)++ - '0');
	return v;
}

static int64_t um(const struct km_size *s)
{
	return s->nominal_nm / 1000;
}

/* ------------------------------------------------------------------ */
/* Spanners                                                            */

enum { JIS_B_4632, GBT_4388, DIN_3110, DIN_895 };

static const struct spanner {
	int standard;
	enum km_kind_id kind;
	int32_t s1, s2, short_um, long_um, thick1, thick2;
} spanners[] = {
#define WRENCH_LEN(standard, kind, s1, s2, a, b, c, d, short_um, long_um, e, \
		   f, thick1, thick2, source, head_source)                   \
	{ standard, KM_KIND_##kind, s1, s2, short_um, long_um, thick1, thick2 },
#include "data/lengths.def"
#undef WRENCH_LEN
};

/* Tables of the trade's chrome and heavy patterns are left out: a kit's
 * spanners lie at or below the short series. */
static struct km_typical of_spanner(enum km_kind_id kind,
				    const struct km_size *const *sizes,
				    uint32_t n)
{
	struct km_typical t = unknown;
	bool ring = kind == KM_KIND_RING_DOUBLE || kind == KM_KIND_RING_SINGLE;
	int64_t s1 = um(sizes[0]), s2 = um(sizes[n - 1]), best = FAR;

	if (s1 > s2) {
		s2 = s1;
		s1 = um(sizes[n - 1]);
	}
	for (size_t i = 0; i < COUNT(spanners); i++) {
		const struct spanner *r = &spanners[i];
		int64_t far = off(r->s1, s1) + off(r->s2, s2);

		if ((r->kind == KM_KIND_RING_DOUBLE) != ring ||
		    r->standard > GBT_4388 || far >= best)
			continue;
		best = far;
		t.length = r->short_um > 0 ? r->short_um : r->long_um;
		t.thick = r->thick2 > 0 ? r->thick2 : r->thick1;
	}
	return t;
}

static const struct { const char *size1, *size2; int32_t length, wall; }
boxes[] = {
#define BOX(system, size1, size2, length, wall, source) \
	{ size1, size2, length, wall },
#include "data/box.def"
#undef BOX
};

/* The list gives whole millimetres for metric pairs; all walls are 3 or 4 mm,
 * and the shortest is the likeliest in a kit. */
static struct km_typical of_box(const struct km_size *const *sizes, uint32_t n)
{
	struct km_typical t = unknown;
	int64_t best = FAR;

	for (size_t i = 0; i < COUNT(boxes); i++) {
		const char *p = boxes[i].size1;
		int64_t far, s = digits(&p);

		if (*p)
			continue;	/* a fraction of an inch */
		far = off(s * 1000, um(sizes[n - 1]));
		if (far >= best)
			continue;
		best = far;
		t.length = boxes[i].length;
		t.wall = boxes[i].wall;
	}
	return t;
}

static const struct { int32_t from, to, length, thick; } hooks[] = {
#define HOOK(form, from, to, length, thick, source) \
	{ from, to, length, thick },
#include "data/hook.def"
#undef HOOK
};

static struct km_typical of_hook(const struct km_size *s)
{
	struct km_typical t = unknown;
	int64_t to = (s->b_nm ? s->b_nm : s->nominal_nm) / 1000, best = FAR;

	for (size_t i = 0; i < COUNT(hooks); i++) {
		int64_t far = off(hooks[i].from, um(s)) + off(hooks[i].to, to);

		if (hooks[i].length < 0 || hooks[i].thick < 0 || far >= best)
			continue;
		best = far;
		t.length = hooks[i].length;
		t.thick = hooks[i].thick;
	}
	return t;
}

/* ------------------------------------------------------------------ */
/* Keys and drivers                                                    */

enum { METRIC, AF };

static const struct { int system; int32_t s, length, short_arm; } keys[] = {
#define KEY(system, name, s, s_max, s_min, length, b, c, short_arm, d, e, f, \
	    g, h)                                                            \
	{ system, s, length, short_arm },
#include "data/hex_key.def"
#undef KEY
};

static struct km_typical of_key(const struct km_size *s)
{
	struct km_typical t = unknown;
	int64_t best = FAR;

	for (size_t i = 0; i < COUNT(keys); i++) {
		int64_t far = off(keys[i].s, um(s));

		if (keys[i].system != METRIC || keys[i].length < 0 ||
		    keys[i].short_arm < 0 || far >= best)
			continue;
		best = far;
		t.length = keys[i].length;
		t.short_arm = keys[i].short_arm;
	}
	return t;
}

enum { ISO_2380, JIS_B_4609, DIN_5265 };

static const struct { int32_t a, b; const char *lengths; } slotted[] = {
#define SLOTTED(standard, a, b, lengths, threads, source, threads_source) \
	{ a, b, lengths },
#include "data/slotted.def"
#undef SLOTTED
};

enum { JIS_H, JIS_S, PH, PZ };

static const struct { int system; int32_t number, shank, blade; } crosses[] = {
#define CROSS(system, number, shank, shank_min, shank_max, shortest, blade, \
	      screws, a, b, c)                                          \
	{ system, number, shank, blade },
#include "data/cross.def"
#undef CROSS
};

/* The middle one of a list of blade lengths in millimetres. */
static int64_t middle(const char *list)
{
	int64_t v[8];
	size_t n = 0;

	while (*list >= '0' && *list <= '9' && n < COUNT(v)) {
		v[n++] = digits(&list) * 1000;
		list += *list == '|';
	}
	return n ? v[n / 2] : -1;
}

static struct km_typical of_slotted(const struct km_size *s)
{
	struct km_typical t = unknown;
	int64_t best = FAR;

	for (size_t i = 0; i < COUNT(slotted); i++) {
		int64_t far = off(slotted[i].a, um(s)) +
			      off(slotted[i].b, s->b_nm / 1000);

		if (far >= best || !*slotted[i].lengths)
			continue;
		best = far;
		t.blade = middle(slotted[i].lengths);
	}
	return t;
}

static struct km_typical of_cross(const struct km_size *s)
{
	static const struct { enum km_system system; int table; } same[] = {
		{ KM_SYS_PH, PH }, { KM_SYS_PZ, PZ }, { KM_SYS_JIS_H, JIS_H },
		{ KM_SYS_JIS_S, JIS_S },
	};
	struct km_typical t = unknown;

	for (size_t k = 0; k < COUNT(same); k++)
		for (size_t i = 0; i < COUNT(crosses) && t.blade < 0; i++)
			if (same[k].system == s->system &&
			    crosses[i].system == same[k].table &&
			    (crosses[i].number == s->number ||
			     s->system == KM_SYS_JIS_S)) {
				t.blade = crosses[i].blade;
				t.shank = crosses[i].shank;
			}
	return t;
}

/* ------------------------------------------------------------------ */
/* What goes by its length                                             */

static const struct pliers {
	enum km_kind_id kind;
	int32_t nominal, jaw, head, tip, thick;
} pliers[] = {
#define PLIERS(standard, kind, nominal, a, b, jaw, c, head, tip, thick, d, \
	       source)                                                     \
	{ KM_KIND_##kind, nominal, jaw, head, tip, thick },
#include "data/pliers.def"
#undef PLIERS
};

static struct km_typical of_pliers(enum km_kind_id kind, int64_t length)
{
	struct km_typical t = unknown;
	int64_t best = FAR;

	for (int any = 0; any < 2 && best == FAR; any++)
		for (size_t i = 0; i < COUNT(pliers); i++) {
			const struct pliers *p = &pliers[i];
			int64_t far = off(p->nominal,
					  length < 0 ? 160000 : length);

			if ((p->kind != kind && !any) || p->jaw < 0 ||
			    p->head < 0 || far >= best)
				continue;
			best = far;
			t.length = p->nominal;
			t.jaw = p->jaw;
			t.head = p->head;
			t.tip = p->tip;
			t.thick = p->thick;
		}
	return t;
}

/* A kit's lever: the middles of the usual range. */
static struct km_typical of_lever(void)
{
	struct km_typical t = unknown;

	enum { BICYCLE, KIT, WORKSHOP, HEAVY };
#define TYRE_LEVER(use, l1, l2, w1, w2, t1, t2, note, source) \
	if (use == KIT) {                                     \
		t.length = ((l1) + (l2)) / 2;                 \
		t.width = ((w1) + (w2)) / 2;                  \
		t.thick = ((t1) + (t2)) / 2;                  \
	}
#include "data/tyre_lever.def"
#undef TYRE_LEVER
	return t;
}

struct km_typical km_typical_of(enum km_kind_id kind,
				const struct km_size *const *sizes, uint32_t n,
				int64_t length_um)
{
	const struct km_size *s = n ? sizes[0] : NULL;

	switch (kind) {
	case KM_KIND_OPEN_DOUBLE:
	case KM_KIND_OPEN_SINGLE:
	case KM_KIND_RING_DOUBLE:
	case KM_KIND_RING_SINGLE:
	case KM_KIND_COMBINATION:
		return s && um(s) ? of_spanner(kind, sizes, n) : unknown;
	case KM_KIND_BOX_SPANNER:
	case KM_KIND_PLUG_SPANNER:
		return s && um(s) ? of_box(sizes, n) : unknown;
	case KM_KIND_HOOK_SPANNER:
		return s && um(s) ? of_hook(s) : unknown;
	case KM_KIND_HEX_KEY:
		return s && um(s) ? of_key(s) : unknown;
	case KM_KIND_SCREWDRIVER:
	case KM_KIND_SCREWDRIVER_REVERSIBLE:
	case KM_KIND_SCREWDRIVER_SHANK:
		if (s && s->system == KM_SYS_SLOTTED)
			return of_slotted(s);
		return s ? of_cross(s) : unknown;
	case KM_KIND_PLIERS_COMBINATION:
	case KM_KIND_PLIERS_SLIP_JOINT:
	case KM_KIND_PLIERS_PIPE:
	case KM_KIND_PLIERS_SNIPE_NOSE:
	case KM_KIND_PLIERS_FLAT_NOSE:
	case KM_KIND_PLIERS_CUTTING:
		return of_pliers(kind, length_um);
	case KM_KIND_TYRE_LEVER:
		return of_lever();
	default:
		return unknown;
	}
}
