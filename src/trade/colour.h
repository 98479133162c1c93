/* SPDX-License-Identifier: MIT */
/*
 * colour - named colours, CIE L*a*b* and the CIEDE2000 difference.
 *
 * source   data/colours.def [css-color-4]; [iec-61966-2-1] for sRGB, white
 *          x = 0.3127, y = 0.3290 taken exactly; [sharma-2005] for the
 *          difference, k_L = k_C = k_H = 1
 */
#ifndef KM_TRADE_COLOUR_H
#define KM_TRADE_COLOUR_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"

struct km_lab { double L, a, b; };

/* A colour word of the list, ASCII case ignored. */
bool km_colour_find(struct km_slice word, uint32_t *rgb);
/* "#c47a1c" or "#c71"; false: not a hex colour. */
bool km_colour_hex(struct km_slice text, uint32_t *rgb);
/* 2 degree observer, D65. */
struct km_lab km_colour_lab(uint32_t rgb);
double km_ciede2000(struct km_lab x, struct km_lab y);
/* The difference of two sRGB colours in thousandths, rounded once. */
int32_t km_colour_difference(uint32_t rgb_a, uint32_t rgb_b);

#endif
