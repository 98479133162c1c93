/* SPDX-License-Identifier: MIT */
/*
 * num - checked integers, exact decimals and fractions.
 *
 * No locale, no floating point: strtod obeys the one and accepts too much.
 */
#ifndef KM_BASE_NUM_H
#define KM_BASE_NUM_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"
#include "kitmuster/status.h"

bool km_add(int64_t a, int64_t b, int64_t *sum);	/* false: overflow */
bool km_sub(int64_t a, int64_t b, int64_t *difference);
bool km_mul(int64_t a, int64_t b, int64_t *product);

/* a * b / c, the product in 128 bits, rounded half away from zero.
 * c > 0.  false: the result does not fit. */
bool km_mul_div(int64_t a, int64_t b, int64_t c, int64_t *out);

/* An exact number as written: num / den, den > 0.  Not reduced; a decimal
 * has den = 10^places. */
struct km_rational { int64_t num, den; };
int km_rational_compare(struct km_rational a, struct km_rational b);

/*
 * A decimal off the front of s: digits, at most one point, at most 15 digits
 * in all, no exponent, no sign, ".525" and "13." allowed.  Two points in a row
 * are no decimal sign ("146..151"), nor is a comma without a digit behind it.
 *
 * comma     also accept a comma as the decimal sign (CSV)
 * places    digits behind the decimal sign
 * errors    KM_EINPUT: no number here; KM_ERANGE: too long; s untouched
 */
enum km_status km_decimal_eat(struct km_slice *s, bool comma,
			      struct km_rational *out, int *places);

/*
 * A whole number, fraction or mixed number off the front of s, as tools are
 * measured: "7/16", "1 1/8", "1-1/8", "6 1/2" with the Unicode signs for
 * quarter, half, eighths and so on ("6\u00bd"), and any decimal.  The fraction
 * of a mixed number lies between 0 and 1, else only the whole part is taken.
 *
 * fraction  whether one was written; places is then 0 and the denominator the
 *           one written
 *
 * errors    as above; KM_ERANGE also for a denominator of 0
 */
enum km_status km_mixed_eat(struct km_slice *s, bool comma,
			    struct km_rational *out, bool *fraction,
			    int *places);

/* A non-negative integer that is all of s; KM_EINPUT, KM_ERANGE. */
enum km_status km_integer(struct km_slice s, int64_t *out);

#endif
