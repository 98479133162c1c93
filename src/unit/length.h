/* SPDX-License-Identifier: MIT */
/*
 * length - lengths as people write them, exact in integer nanometres.
 *
 * 1 in = 25.4 mm exactly [nist-sp811, app. B.8], so every inch fraction down
 * to 1/64 and every decimal inch of five places is a whole number of
 * nanometres (25 400 000 = 254 x 10^5 = 396 875 x 64); what is not (1/3 in)
 * is refused, never rounded.
 *
 * Output is untouched unless KM_LENGTH_OK is returned.
 */
#ifndef KM_UNIT_LENGTH_H
#define KM_UNIT_LENGTH_H

#include "base/buf.h"
#include "base/str.h"
#include "kitmuster/model.h"

#define KM_NM_PER_MM 1000000
#define KM_NM_PER_IN 25400000
#define KM_LEN_MAX_NM ((int64_t)100000 * KM_NM_PER_MM)	/* 100 m */
#define KM_MM(n) ((int64_t)(n) * KM_NM_PER_MM)

/* What a text that is no length lacks; each has its own message. */
enum km_length_fault {
	KM_LENGTH_OK, KM_LENGTH_NO_NUMBER, KM_LENGTH_NO_UNIT,
	KM_LENGTH_COMMA, KM_LENGTH_RANGE, KM_LENGTH_ZERO, KM_LENGTH_TRAILING,
	KM_LENGTH_TOLERANCE, KM_LENGTH_NEGATIVE, KM_LENGTH_NOT_EXACT
};

enum km_length_unit { KM_UNIT_NONE, KM_UNIT_MM, KM_UNIT_IN };

struct km_length_rules {
	enum km_length_unit bare;	/* unit of a bare number; NONE refuses */
	bool comma;			/* decimal comma (CSV) */
	bool zero;			/* 0 mm allowed (an allowance) */
};

/*
 * A reading: value and unit, known to half its last digit ("149 mm" is
 * 148.5 to 149.5; "13.50 mm" is 13.495 to 13.505), rounded up to whole nm.
 * Whole inches and fractions down to sixteenths are known to 1/32 in, finer
 * fractions to half their step [choice].  Units: mm, cm, in, inch, inches in
 * either case, m, the signs ", '', U+2033, U+201D and two U+2032.  All of s
 * must be used but for blanks at the ends.
 */
enum km_length_fault km_reading_parse(struct km_slice s,
				      const struct km_length_rules *rules,
				      struct km_span *out);

/*
 * A requirement: as a reading with "+-3", "+/-3", the sign U+00B1, "+5/-0",
 * or a range "146..151 mm", kept as its middle and the two halves.  A figure
 * without a unit has the value's, or the last one written ("148 +-3 mm").
 * Without a tolerance: +-2 mm up to and including 100 mm, +-2 per cent above,
 * rounded down to whole nm [choice], and *assumed is set.
 */
enum km_length_fault km_requirement_parse(struct km_slice s,
					  const struct km_length_rules *rules,
					  struct km_span *out, bool *assumed);

/* Do the two closed intervals touch? */
bool km_span_meets(struct km_span a, struct km_span b);
static inline int64_t km_span_low(struct km_span s) { return s.nm - s.minus_nm; }
static inline int64_t km_span_high(struct km_span s) { return s.nm + s.plus_nm; }

/* "148 mm", "13.5 mm": millimetres, at most `places` decimals, rounded half
 * away from zero, trailing zeros dropped; no unit is added. */
void km_buf_mm(struct km_buf *b, int64_t nm, int places);
/* The same with exactly `places` decimals. */
void km_buf_mm_fixed(struct km_buf *b, int64_t nm, int places);
/* "165 +-3", "100 +5/-0" in millimetres, exact; no unit. */
void km_buf_span(struct km_buf *b, struct km_span s);

#endif
