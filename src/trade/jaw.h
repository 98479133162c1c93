/* SPDX-License-Identifier: MIT */
/*
 * jaw - openings of spanners, heads of bolts, and whether the one serves the
 * other.
 *
 * The model holds for hexagon heads in open jaws.  A head's least corner
 * width is 1.13 of its width across flats [iso-4014: 17.77 for 15.73].  With
 * the opening O and the width s, each anywhere between its limits:
 *
 * share    part of the pairs with O >= s, both taken uniform, independent
 * bite     (1.13 s - O) / (0.13 s): 1 a perfect fit, 0 turns round the head;
 *          worst with the greatest O and least s, mid with the middles
 * swing    free turn before the jaw meets the corners, worst case:
 *          30 - acos(O sqrt(3) / (2 s)) degrees, 0 to 30
 *
 * Share and bites are exact fractions and compared so; the rounded figures
 * are for printing.  Below 6 mm even own-size fits fall under the limits:
 * such rows are marked lenient, to be read leniently.
 */
#ifndef KM_TRADE_JAW_H
#define KM_TRADE_JAW_H

#include <stdbool.h>
#include <stdint.h>

#include "base/num.h"
#include "trade/size.h"

enum km_serve {			/* best first */
	KM_SERVES,		/* share >= 0.90 and worst bite >= 0.489 */
	KM_SERVE_LOOSE,		/* worst below, mid at or above the limit */
	KM_SERVE_ROUNDS,	/* mid below the limit: rounds the corners */
	KM_SERVE_TIGHT,		/* share 0.005 to 0.90: some heads only */
	KM_SERVE_NOT_ON,	/* share under 0.005 */
	KM_SERVE_UNKNOWN	/* no limits, or not hexagons */
};

/* The limits of the verdicts: 0.005 and 0.90 are choices; 0.489 is the worst
 * bite that the tables give a jaw on its own size, from 6 mm up. */
#define KM_SHARE_SERVES 900	/* thousandths */
#define KM_SHARE_NONE 5
#define KM_BITE_LEAST 489

struct km_fit {
	enum km_serve verdict;
	struct km_rational share, worst, mid;	/* exact; den 0: unknown */
	int32_t share_thousandths;		/* rounded half away from 0 */
	int32_t worst_thousandths, mid_thousandths;
	int32_t swing_tenths;			/* of a degree, 0 to 300 */
	bool lenient;				/* the head is under 6 mm */
	enum km_basis basis;			/* the weaker of the two */
};

/* An opening anywhere from low to high on a head anywhere in its limits. */
struct km_fit km_fit_opening(int64_t low_nm, int64_t high_nm,
			     enum km_basis basis, const struct km_head *head);
/* A sound tool of one size on the heads of another. */
struct km_fit km_fit_size(const struct km_size *tool,
			  const struct km_size *head);
/* Is the verdict of that KM_SERVES?  Cheaper, without the figures. */
bool km_size_serves(const struct km_size *tool, const struct km_size *head);
/* A jaw as measured on the heads of a size. */
struct km_fit km_fit_reading(struct km_span opening,
			     const struct km_size *head);

/* Both ways: each tool on the other's heads. */
struct km_both {
	struct km_fit a_on_b, b_on_a;
	bool a_first;		/* a_on_b is the better, or equal, verdict */
	enum km_serve best, reverse;
};
struct km_both km_fit_both(const struct km_size *a, const struct km_size *b);
/* Do both verdicts say that it serves? */
bool km_serves_both_ways(const struct km_size *a, const struct km_size *b);

/* What a measured opening is, next to the size that it is marked with. */
enum km_opening_is {
	KM_OPENING_WITHIN,	/* touches the limits */
	KM_OPENING_UNFINISHED,	/* over them, within those of unmachined jaws */
	KM_OPENING_SPREAD,	/* wider: a condition, not another size */
	KM_OPENING_UNDER,	/* narrower, and no other size's */
	KM_OPENING_OTHER,	/* another size's opening: see `other` */
	KM_OPENING_UNKNOWN	/* no limits for this size */
};

struct km_opening_check {
	enum km_opening_is is;
	int64_t over_nominal_nm;	/* reading less nominal; may be < 0 */
	int64_t beyond_nm;		/* over the max, or under the min; 0
					 * when within */
	const struct km_size *other;	/* of the book; only for OTHER */
};
struct km_opening_check km_opening_check(struct km_span reading,
					 const struct km_size *marked,
					 const struct km_size_book *book);

/*
 * What an unmarked opening may be: inside exactly one size's limits, that
 * one; else every size that it goes on (reading >= s_max) with bite enough on
 * the least head.
 *
 * found, most  room for so many; answered in order of width
 * inside       how many sizes' limits the reading touches
 * returns      how many there are (may pass most): 1 decided, 2 or more
 *              undecided, 0 none
 */
#define KM_OPENING_MOST 8
uint32_t km_opening_identify(struct km_span reading,
			     const struct km_size_book *book,
			     const struct km_size **found, uint32_t most,
			     uint32_t *inside);

#endif
