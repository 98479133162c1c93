/* SPDX-License-Identifier: MIT */
/*
 * pouchfit - what goes into a pocket, an envelope, a bag or a roll, by plain
 * geometry: a cloth tube of flat width W has the perimeter 2 W, whatever shape
 * it takes.
 *
 * Pi is a fraction on the safe side, sizes are rounded up to micrometres and
 * rooms down, so that nothing is said to fit that does not.
 *
 * Units    nanometres, or micrometres where the name says so; -1: not
 *          measured.  Lengths up to 100 m.
 * source   perimeter of a closed tube [computed]; the allowances are
 *          [common-practice]
 */
#ifndef KM_TRADE_POUCHFIT_H
#define KM_TRADE_POUCHFIT_H

#include <stdbool.h>
#include <stdint.h>

/* 103993 / 33102 < pi < 355 / 113, both within 3e-7 */
#define KM_PI_OVER_NUM 355
#define KM_PI_OVER_DEN 113
#define KM_PI_UNDER_NUM 103993
#define KM_PI_UNDER_DEN 33102

/* Ease to slide tools in: as measured, else 5 per cent of the width and at
 * least 4 mm [common-practice]. */
int64_t km_pouch_ease(int64_t width_nm, int64_t given_nm);

/* The flat width that tools may use: W less pi tau / 2 for the cloth inside
 * the turn (cloth -1: not taken off) and less the ease; never below 0. */
int64_t km_pouch_usable(int64_t width_nm, int64_t cloth_nm, int64_t ease_nm);

/* W^2 / pi, the largest cross-section a tube can hold, square micrometres,
 * rounded up: a larger one never fits, a smaller one may not either. */
int64_t km_pouch_area_most(int64_t width_nm);

/* Depth lost by a drawstring's neck: W / 3 [common-practice]. */
int64_t km_pouch_neck(int64_t width_nm);

/* The least flap that reaches round a bundle: T and 40 mm of overlap
 * [common-practice]. */
int64_t km_pouch_flap(int64_t thick_nm);

/* The diameter of a roll: sqrt(4 A / pi), A the cloth's length by thickness
 * and the tools' sections over a fill of 0.6; micrometres, rounded up. */
int64_t km_roll_diameter(int64_t cloth_length_nm, int64_t cloth_nm,
			 int64_t sections_um2);

/* A tool in cross-section. */
struct km_section { int64_t width_um, thick_um; };	/* above 0 */
/* Rounded up from nanometres. */
struct km_section km_section_of(int64_t width_nm, int64_t thick_nm);

/*
 * Tools in stacks side by side.  The tools are parted into stacks; in a stack
 * each lies flat on the next, and the stack counts as a block: as wide as its
 * widest, as high as all together.  A stack may be turned on edge as a whole.
 * The blocks stand on one line in any order.  The best order has the highest
 * in the middle and falls to both sides, so only sides are tried.
 */
#define KM_BUNDLE_TOOLS 24		/* more are not searched */
#define KM_BUNDLE_STEPS 400000		/* of a search, by default */

struct km_bundle {
	int64_t perimeter_um;	/* of the convex hull, rounded up */
	int64_t across_um;	/* all blocks side by side */
	int64_t thick_um;	/* the highest block */
	uint32_t stacks;
	bool fits;		/* within the room asked */
	bool whole;		/* every layout was weighed: it is the best */
	uint8_t stack[KM_BUNDLE_TOOLS];		/* of a tool, from 0 */
	bool on_edge[KM_BUNDLE_TOOLS];		/* of a stack */
};

/*
 * The best layout: of those whose hull is within the room the flattest, then
 * the one with the least hull; if none is, the one with the least hull.
 *
 * room_um   twice the usable width
 * steps     the search ends after so many, 0: the default
 * false     no tools, or too many to search: *out is untouched
 */
bool km_bundle_best(const struct km_section *tools, uint32_t n, int64_t room_um,
		    uint64_t steps, struct km_bundle *out);

#endif
