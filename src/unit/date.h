/* SPDX-License-Identifier: MIT */
/*
 * date - calendar days and the public notation for uncertain ones.
 *
 * source   [iso-8601-2] EDTF level 1: 1954, 1954-03, 1954-03-12, 195X, 19XX,
 *          1954-XX, 1954-03-XX, 1954-XX-XX, 1954? 1954~ 1954%, 1954-21 (a
 *          season), 1952/1955, 1956/.. and ../1956 (open), 1956/ and /1956
 *          (that end is not known).  Not read: times of day, which no kit
 *          has, and years outside 1000 to 9999.
 *
 * Parsers take all of s and leave out untouched when they answer false.
 */
#ifndef KM_UNIT_DATE_H
#define KM_UNIT_DATE_H

#include "base/buf.h"
#include "base/str.h"
#include "kitmuster/model.h"

/* YYYY-MM-DD that exists (Gregorian, years 1000 to 9999). */
bool km_date_parse(struct km_slice s, struct km_date *out);
/* An open or unknown end is year 1000 or 9999; one that is unknown makes the
 * period uncertain. */
bool km_period_parse(struct km_slice s, struct km_period *out);
int km_date_compare(struct km_date a, struct km_date b);
/* Days since 1970-01-01, and back. */
int32_t km_date_days(struct km_date d);
struct km_date km_date_of_days(int32_t days);
/* Whole months from a to b, not counting a begun one. */
int32_t km_date_months(struct km_date a, struct km_date b);
/* YYYY-MM-DD; nothing for a date that is not recorded. */
void km_buf_date(struct km_buf *b, struct km_date d);

#endif
