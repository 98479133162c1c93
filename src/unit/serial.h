/* SPDX-License-Identifier: MIT */
/*
 * serial - serial numbers, and the pattern of those that have letters.
 *
 * A pattern is the serial number with a # for each digit that counts:
 * "LM####" takes LM4417, which counts as 4417.  All else stands as it is,
 * letters in either case.  Without a pattern a serial number is digits alone.
 */
#ifndef KM_UNIT_SERIAL_H
#define KM_UNIT_SERIAL_H

#include "base/buf.h"
#include "base/str.h"
#include "kitmuster/model.h"

#define KM_SERIAL_DIGITS 15		/* a number has at most so many */
#define KM_SERIAL_MOST INT64_C(999999999999999)
#define KM_SERIAL_BYTES 40		/* of a serial number with letters */

/* Letters, digits, blanks, '-', '/' and '.', with 1 to KM_SERIAL_DIGITS #,
 * in at most KM_SERIAL_BYTES. */
bool km_serial_pattern_ok(struct km_slice pattern);
/* Could it be a serial number, with or without letters? */
bool km_serial_text_ok(struct km_slice text);

/* What a serial number counts as under a pattern, NULL: digits alone; -1: it
 * is none of that form. */
int64_t km_serial_number(const char *pattern, struct km_slice text);

/* The number of a machine in a kit's range; -1: none is recorded, or it is not
 * of the kit's form. */
int64_t km_serial_in(const struct km_serials *s, const struct km_machine *m);
bool km_serial_recorded(const struct km_machine *m);

/*
 * Where a machine lies in a range.  A fuzzy end counts as inside, for the
 * machine may have been this side of it.
 */
enum km_serial_place {
	KM_SERIAL_UNKNOWN,	/* no range, or no number */
	KM_SERIAL_INSIDE,
	KM_SERIAL_FUZZY,	/* between earliest and latest of an end */
	KM_SERIAL_OUTSIDE,
	KM_SERIAL_OTHER_FORM	/* the pattern does not take it */
};
enum km_serial_place km_serial_place(const struct km_serials *s,
				     const struct km_machine *m);
/* By how much a number lies outside a range; 0: it does not, or one of the two
 * is not known. */
int64_t km_serial_outside(const struct km_serials *s, int64_t n);

/* A number as the pattern writes it: LM0417. */
void km_buf_serial(struct km_buf *b, const char *pattern, int64_t n);
/* The serial number of a machine as recorded; nothing if none is. */
void km_buf_serial_of(struct km_buf *b, const struct km_machine *m);
/* By number, those without one first, then as text. */
int km_serial_compare(const struct km_machine *a, const struct km_machine *b);

#endif
