/* SPDX-License-Identifier: MIT */
/*
 * gauge - the question of the bench: what is this opening, and what does it
 * turn?  Structs only; somebody else prints.
 *
 * Owner    lists belong to the arena; sizes to the book's
 */
#ifndef KM_TRADE_GAUGE_H
#define KM_TRADE_GAUGE_H

#include <stdbool.h>
#include <stdint.h>

#include "trade/jaw.h"
#include "trade/size.h"

/* A size whose jaw the opening would be, worn or out of limits. */
struct km_gauge_spread {
	const struct km_size *size;
	int64_t over_nominal_nm;
	int64_t over_limit_nm;	/* over the greatest opening */
};

/* The nearest sizes of one system; NULL: none on that side. */
struct km_gauge_near {
	enum km_system system;
	const struct km_size *below, *above;	/* at the width: below */
	int64_t over_below_nm, under_above_nm;	/* not negative */
};
#define KM_GAUGE_SYSTEMS 4	/* metric, AF, W with BS, BA */

struct km_gauge_head {
	const struct km_size *size;
	struct km_fit fit;
};

struct km_gauge {
	const struct km_size *asked;	/* NULL: a length was asked */
	struct km_span reading;		/* middle of the limits for a size */
	const struct km_size **inside;	uint32_t n_inside;
	struct km_gauge_spread *spread;	uint32_t n_spread;
	struct km_gauge_near near[KM_GAUGE_SYSTEMS];
	/* every head that it goes on at least sometimes and grips at all
	 * (worst bite above 0), in order of width */
	struct km_gauge_head *heads;	uint32_t n_heads;
	/* what it may be if nothing is marked; two or more: undecided */
	const struct km_size **may_be;	uint32_t n_may_be;
	bool undecided;
};

/* errors   KM_ENOMEM; KM_ERANGE: no opening of any spanner (over 1 m) */
enum km_status km_gauge_length(struct km_span reading,
			       const struct km_size_book *book,
			       struct km_arena *a, struct km_gauge *out);
/* A sound tool of a size; KM_EINPUT: it is no hexagon, or has no limits. */
enum km_status km_gauge_size(const struct km_size *size,
			     const struct km_size_book *book,
			     struct km_arena *a, struct km_gauge *out);

#endif
