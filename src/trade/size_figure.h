/* SPDX-License-Identifier: MIT */
/*
 * size_figure - the pieces that a written size is made of: a number, its unit
 * or letters, the sign between two of them.  For size_parse.c.
 */
#ifndef KM_TRADE_SIZE_FIGURE_H
#define KM_TRADE_SIZE_FIGURE_H

#include "base/num.h"
#include "trade/size.h"

/* One number with what is behind it. */
struct km_figure {
	struct km_rational n;
	bool fraction, point_first;	/* "7/16"; ".525" */
	bool unit_given, inch;
	enum km_system system;		/* of the letters; KM_SYSTEMS: none */
	struct km_slice letters;
};

/* A multiplication sign off the front of s. */
bool km_figure_times(struct km_slice *s);
/* Does a number start here, perhaps behind blanks? */
bool km_figure_follows(struct km_slice s);
/* Does the sign between the ends of a tool stand here, and a number behind
 * it?  x, a dash, a stroke, two points. */
bool km_figure_pair(struct km_slice s);
/* Are the letters these capitals, n of them, case ignored? */
bool km_letters_are(struct km_slice letters, const char *capitals, size_t n);

/* The number; blanks before it are taken too. */
enum km_size_fault km_figure_number(struct km_slice *s,
				    const struct km_size_rules *rules,
				    struct km_figure *f);
/* The unit and letters behind a number, none included. */
enum km_size_fault km_figure_suffix(struct km_slice *s,
				    const struct km_size_rules *rules,
				    struct km_figure *f);
/* The figure as an exact length in its unit; KM_SIZE_RANGE: it is none. */
enum km_size_fault km_figure_length(const struct km_figure *f, int64_t *nm);

#endif
