/* SPDX-License-Identifier: MIT */
/*
 * rust - degrees and ratings of a damaged surface by its area.
 *
 * Units    areas in hundredths of a per cent, 0 to 10000
 * source   data/rust.def [iso-4628-3], data/ratings.def [iso-10289-1999],
 *          data/d610.def [astm-d610-08]
 */
#ifndef KM_TRADE_RUST_H
#define KM_TRADE_RUST_H

#include <stdint.h>

/* Ri 0 to 5: the lowest degree whose nominal area is not below the area; over
 * that of Ri 4, Ri 5 [choice: the standard gives pictures, no limits]. */
int km_rust_degree(int32_t area);
/* The nominal area of Ri 0 to 5; of Ri 5 the middle of 40 to 50 per cent. */
int32_t km_rust_area(int ri);
/* The protection rating Rp 10 to 0 of the table, never of the rounded
 * formula, which disagrees with it in part of every band below 10. */
int km_rating_of(int32_t area);
/* The rust grade 10 to 0 of painted steel. */
int km_d610_of(int32_t area);

#endif
