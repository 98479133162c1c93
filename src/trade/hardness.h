/* SPDX-License-Identifier: MIT */
/*
 * hardness - how hard a tool is, and the bake that lessens the risk of
 * hydrogen after acid, electrolysis or plating.  No bake does away with it.
 *
 * Units    Rockwell C in tenths, so that a tested 38.5 is exact; strength in
 *          MPa; hours
 * source   data/embrittlement.def [astm-b850]; data/thresholds.def
 *          [iso-9587-2007]: from 1000 MPa, 31 HRC, 300 HV up;
 *          data/tool_hardness.def
 */
#ifndef KM_TRADE_HARDNESS_H
#define KM_TRADE_HARDNESS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"
#include "trade/kind.h"

#define KM_HARDENED_HRC10 310	/* [iso-9587-2007] 31 HRC */
#define KM_HARDENED_MPA 1000	/* [iso-9587-2007] */
#define KM_HARDENED_HV 300	/* [iso-9587-2007] */
#define KM_NO_ZINC_HRC10 450	/* [zinc-guidance-tutorial] 45 HRC: C24 */

enum km_hard { KM_HARD_UNKNOWN, KM_HARD_NO, KM_HARD_YES };

struct km_hardness {
	enum km_hard hard;		/* 31 HRC or more at its harder end */
	int32_t from, to;		/* tenths of HRC; -1: not stated */
	bool tested;			/* of the tool; else of its kind */
	const char *source;		/* of the row; NULL: tested or unknown */
};

/*
 * What was tested ("45 HRC", "38-42 HRC", "1100 MPa", "350 HV"), or the row of
 * the kind, of which the harder end holds.
 *
 * tested   as recorded; NULL or a text without a figure: not tested, but
 *          "hard" and "hardened" are believed
 * kind     NULL: not known
 */
struct km_hardness km_hardness_of(const char *tested,
				  const struct km_kind *kind);

enum km_bake_is {
	KM_BAKE_NOT_NEEDED,	/* below the threshold */
	KM_BAKE_HOURS,		/* the table has a row */
	KM_BAKE_BEYOND,		/* harder than its last row: ask the shop */
	KM_BAKE_UNKNOWN		/* no hardness in HRC is known: ask */
};

struct km_bake {
	enum km_bake_is is;
	int32_t hours;			/* least; 0 without a row */
	int32_t c_from, c_to;		/* degrees Celsius */
	const char *source;
};

/* The least hours by the published table.  Its bands of HRC touch: at an edge
 * the longer bake holds.  Those of MPa begin at 1001: the threshold itself,
 * 1000, takes the first. */
struct km_bake km_bake_at_hrc(int32_t hrc10);
struct km_bake km_bake_at_mpa(int32_t mpa);
/* For a tool: the harder end. */
struct km_bake km_bake_for(const struct km_hardness *h);

#endif
