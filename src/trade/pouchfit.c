/* SPDX-License-Identifier: MIT */
#include "trade/pouchfit.h"

#include <string.h>

#include "base/num.h"

#define NM_PER_UM 1000
#define LEAST_EASE 4000000	/* nm */
#define OVERLAP 40000000	/* nm */
#define LARGE INT64_MAX
#define EVEN_MOST 12		/* stacks: 2^10 orders at most */

/* a / b rounded up, for a >= 0, b > 0. */
static int64_t up(int64_t a, int64_t b)
{
	return a / b + (a % b != 0);
}

int64_t km_pouch_ease(int64_t width_nm, int64_t given_nm)
{
	int64_t part = up(width_nm, 20);

	if (given_nm >= 0)
		return given_nm;
	return part > LEAST_EASE ? part : LEAST_EASE;
}

int64_t km_pouch_usable(int64_t width_nm, int64_t cloth_nm, int64_t ease_nm)
{
	int64_t turn = cloth_nm < 0 ? 0 : up(cloth_nm * KM_PI_OVER_NUM,
					     2 * KM_PI_OVER_DEN);
	int64_t left = width_nm - turn - ease_nm;

	return left > 0 ? left : 0;
}

int64_t km_pouch_area_most(int64_t width_nm)
{
	int64_t um = up(width_nm, NM_PER_UM), area;

	if (!km_mul_div(um, um * KM_PI_UNDER_DEN, KM_PI_UNDER_NUM, &area))
		return LARGE;
	return area + 1;
}

int64_t km_pouch_neck(int64_t width_nm)
{
	return up(width_nm, 3);
}

int64_t km_pouch_flap(int64_t thick_nm)
{
	return thick_nm + OVERLAP;
}

/* The root of n, rounded up. */
static int64_t root_up(uint64_t n)
{
	uint64_t root = 0, bit = (uint64_t)1 << 62, rest = n;

	while (bit > n)
		bit >>= 2;
	for (; bit; bit >>= 2) {
		if (rest >= root + bit) {
			rest -= root + bit;
			root = (root >> 1) + bit;
		} else {
			root >>= 1;
		}
	}
	return (int64_t)root + (rest != 0);
}

int64_t km_roll_diameter(int64_t cloth_length_nm, int64_t cloth_nm,
			 int64_t sections_um2)
{
	int64_t length = up(cloth_length_nm, NM_PER_UM);
	int64_t area = length * up(cloth_nm, NM_PER_UM) +
		       up(sections_um2 * 10, 6);
	int64_t square;

	if (!km_mul_div(area, 4 * KM_PI_UNDER_DEN, KM_PI_UNDER_NUM, &square))
		return LARGE;
	return root_up((uint64_t)square + 1);
}

struct km_section km_section_of(int64_t width_nm, int64_t thick_nm)
{
	return (struct km_section){ up(width_nm, NM_PER_UM),
				  up(thick_nm, NM_PER_UM) };
}

/* ------------------------------------------------------------------ */
/* Stacks side by side                                                 */

struct stack { int64_t wide, high; bool on_edge; };
struct box { int64_t across, up; };

struct search {
	struct km_section tools[KM_BUNDLE_TOOLS];	/* widest first */
	uint8_t was[KM_BUNDLE_TOOLS];		/* a tool's place as given */
	uint32_t n;
	int64_t room;
	uint64_t steps;
	struct stack stacks[KM_BUNDLE_TOOLS];
	uint32_t n_stacks;
	uint8_t stack[KM_BUNDLE_TOOLS];
	struct km_bundle best;
	bool any;
};

static int64_t hypot_up(int64_t a, int64_t b)
{
	return root_up((uint64_t)(a * a) + (uint64_t)(b * b));
}

static struct box box_of(const struct stack *s)
{
	return s->on_edge ? (struct box){ s->high, s->wide }
			  : (struct box){ s->wide, s->high };
}

/* The blocks of the stacks, highest first. */
static void boxes_of(const struct search *s, struct box *v)
{
	for (uint32_t i = 0; i < s->n_stacks; i++) {
		struct box b = box_of(&s->stacks[i]);
		uint32_t k = i;

		for (; k > 0 && v[k - 1].up < b.up; k--)
			v[k] = v[k - 1];
		v[k] = b;
	}
}

/* A corner of the profile on one side of the highest block. */
struct corner { int64_t out, up; };

/*
 * The hull's way down one side: from the top corner (0, top) over the corners
 * of the blocks, which fall outwards, to the line they stand on.  out of a
 * corner never falls; up never rises.
 */
static int64_t way_down(int64_t top, const struct box *v, uint32_t n,
			uint32_t sides, bool side)
{
	struct corner hull[KM_BUNDLE_TOOLS + 1] = { { 0, top } };
	uint32_t k = 1;
	int64_t out = 0, sum = 0;

	for (uint32_t i = 1; i < n; i++) {
		struct corner c;

		if ((sides >> i & 1) != side)
			continue;
		out += v[i].across;
		c = (struct corner){ out, v[i].up };
		/* drop corners under the line to the new one */
		while (k > 1 && (hull[k - 1].up - hull[k - 2].up) *
					(c.out - hull[k - 2].out) <=
				(c.up - hull[k - 2].up) *
					(hull[k - 1].out - hull[k - 2].out))
			k--;
		hull[k++] = c;
	}
	for (uint32_t i = 1; i < k; i++)
		sum += hypot_up(hull[i].out - hull[i - 1].out,
				hull[i - 1].up - hull[i].up);
	return sum + hull[k - 1].up;
}

static int64_t across_of(const struct box *v, uint32_t n)
{
	int64_t sum = 0;

	for (uint32_t i = 0; i < n; i++)
		sum += v[i].across;
	return sum;
}

/* The least hull over all sides; the first low block goes left, since the
 * mirror image is the same. */
static int64_t least_hull(const struct box *v, uint32_t n)
{
	int64_t flat = across_of(v, n) + v[0].across, least = LARGE;
	uint32_t some = n > 2 ? (uint32_t)1 << (n - 2) : 1;

	for (uint32_t i = 0; i < some; i++) {
		uint32_t sides = i << 2;
		int64_t sum = flat + way_down(v[0].up, v, n, sides, false) +
			      way_down(v[0].up, v, n, sides, true);

		if (sum < least)
			least = sum;
	}
	return least;
}

/* No order of the blocks has a hull below this: its base is all of them, its
 * top the highest, and two equal slopes are the shortest way between. */
static int64_t hull_bound(const struct search *s, int64_t *thick)
{
	int64_t across = 0, top = 0, high = 0, half;

	for (uint32_t i = 0; i < s->n_stacks; i++) {
		struct box b = box_of(&s->stacks[i]);

		across += b.across;
		if (b.up > high || (b.up == high && b.across < top)) {
			high = b.up;
			top = b.across;
		}
	}
	*thick = high;
	half = (across - top) / 2;
	return across + top + 2 * (hypot_up(half, high) - 1);
}

static bool is_better(const struct km_bundle *a, const struct km_bundle *b)
{
	if (a->fits != b->fits)
		return a->fits;
	if (a->fits && a->thick_um != b->thick_um)
		return a->thick_um < b->thick_um;
	return a->perimeter_um < b->perimeter_um;
}

/* Can nothing that grows from here be better than the best so far? */
static bool is_hopeless(const struct search *s)
{
	int64_t thick, bound = hull_bound(s, &thick);

	if (!s->any)
		return false;
	if (!s->best.fits)
		return bound >= s->best.perimeter_um;
	return bound > s->room || thick > s->best.thick_um ||
	       (thick == s->best.thick_um && bound >= s->best.perimeter_um);
}

static void weigh(struct search *s)
{
	struct box v[KM_BUNDLE_TOOLS] = { { 0, 0 } };
	struct km_bundle b = { .stacks = s->n_stacks };
	uint64_t orders = s->n_stacks > 2 ? (uint64_t)1 << (s->n_stacks - 2)
					  : 1;

	if (orders > s->steps) {
		s->steps = 0;
		return;
	}
	s->steps -= orders;
	boxes_of(s, v);
	b.perimeter_um = least_hull(v, s->n_stacks);
	b.across_um = across_of(v, s->n_stacks);
	b.thick_um = v[0].up;
	b.fits = b.perimeter_um <= s->room;
	if (s->any && !is_better(&b, &s->best))
		return;
	for (uint32_t i = 0; i < s->n; i++)
		b.stack[s->was[i]] = s->stack[i];
	for (uint32_t i = 0; i < s->n_stacks; i++)
		b.on_edge[i] = s->stacks[i].on_edge;
	s->best = b;
	s->any = true;
}

/* Lay tool i and all behind it: on a stack there is, or on a new one. */
static void lay(struct search *s, uint32_t i)
{
	const struct km_section *t = &s->tools[i];
	uint32_t had = s->n_stacks;

	if (s->steps == 0)
		return;
	s->steps--;
	if (i > 0 && is_hopeless(s))
		return;
	if (i == s->n) {
		weigh(s);
		return;
	}
	for (uint32_t k = 0; k < had; k++) {
		struct stack was = s->stacks[k];

		s->stack[i] = (uint8_t)k;
		s->stacks[k].high += t->thick_um;
		if (t->width_um > was.wide)
			s->stacks[k].wide = t->width_um;
		lay(s, i + 1);
		s->stacks[k] = was;
	}
	s->stack[i] = (uint8_t)had;
	s->n_stacks = had + 1;
	for (int edge = 0; edge < 2; edge++) {
		s->stacks[had] = (struct stack){ t->width_um, t->thick_um,
						 edge != 0 };
		lay(s, i + 1);
	}
	s->n_stacks = had;
}

static void sort_tools(struct search *s, const struct km_section *tools)
{
	for (uint32_t i = 0; i < s->n; i++) {
		uint32_t k = i;

		for (; k > 0 && s->tools[k - 1].width_um < tools[i].width_um;
		     k--) {
			s->tools[k] = s->tools[k - 1];
			s->was[k] = s->was[k - 1];
		}
		s->tools[k] = tools[i];
		s->was[k] = (uint8_t)i;
	}
}

/* To begin with: all flat, in k stacks about equally high. */
static void lay_evenly(struct search *s, uint32_t k)
{
	memset(s->stacks, 0, sizeof s->stacks);
	s->n_stacks = k;
	for (uint32_t i = 0; i < s->n; i++) {
		uint32_t low = 0;

		for (uint32_t j = 1; j < k; j++)
			if (s->stacks[j].high < s->stacks[low].high)
				low = j;
		s->stack[i] = (uint8_t)low;
		s->stacks[low].high += s->tools[i].thick_um;
		if (s->tools[i].width_um > s->stacks[low].wide)
			s->stacks[low].wide = s->tools[i].width_um;
	}
	weigh(s);
}

bool km_bundle_best(const struct km_section *tools, uint32_t n, int64_t room_um,
		    uint64_t steps, struct km_bundle *out)
{
	struct search s = { .n = n, .room = room_um,
			    .steps = steps ? steps : KM_BUNDLE_STEPS };

	if (n == 0 || n > KM_BUNDLE_TOOLS)
		return false;
	sort_tools(&s, tools);
	for (uint32_t k = 1; k <= n && k <= EVEN_MOST; k++)
		lay_evenly(&s, k);
	s.n_stacks = 0;
	lay(&s, 0);
	if (!s.any)
		return false;
	s.best.whole = s.steps > 0;
	*out = s.best;
	return true;
}
