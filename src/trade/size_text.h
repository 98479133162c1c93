/* SPDX-License-Identifier: MIT */
/*
 * size_text - the one spelling in which a size is printed.
 *
 * Text belongs to the arena; NULL: memory ran out.
 */
#ifndef KM_TRADE_SIZE_TEXT_H
#define KM_TRADE_SIZE_TEXT_H

#include "base/num.h"
#include "trade/size.h"

#define KM_MARK_ROOM 32

/* "1/4", "1-1/8", "2": reduced; r not negative. */
void km_mark_put(struct km_rational r, char out[KM_MARK_ROOM]);

/* "1/4 W" */
const char *km_size_text_mark(struct km_arena *a, const char *mark,
			      enum km_system system);

/*
 * The text of a size that is not struck with a thread's name.
 *
 * nm, b_nm  as written, which a plug or a square does not keep
 * inch      written in inches
 */
const char *km_size_text(struct km_arena *a, const struct km_size *s,
			 int64_t nm, int64_t b_nm, bool inch);

#endif
