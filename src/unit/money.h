/* SPDX-License-Identifier: MIT */
/*
 * money - integers of minor units, by the currency's number of decimals.
 *
 * source   [iso-4217] list one: which currencies have 0, 3 or 4 decimals
 */
#ifndef KM_UNIT_MONEY_H
#define KM_UNIT_MONEY_H

#include "base/buf.h"
#include "base/num.h"
#include "base/str.h"

#define KM_MONEY_MAX ((int64_t)1 << 50)	/* one price; sums are checked */

enum km_money_fault {
	KM_MONEY_OK, KM_MONEY_NO_NUMBER, KM_MONEY_DECIMALS, KM_MONEY_RANGE,
	KM_MONEY_NEGATIVE, KM_MONEY_COMMA, KM_MONEY_TRAILING
};

/* Decimals of an ISO 4217 code in capitals: 0, 2, 3 or 4; -1: no such code
 * in data/currencies.def. */
int km_currency_decimals(const char *code);

/* "6.40", "12", ".50"; "1 250.00" is refused.  All of s must be used but for
 * blanks at the ends; *minor is untouched unless KM_MONEY_OK is returned. */
enum km_money_fault km_money_parse(struct km_slice s, int decimals, bool comma,
				   int64_t *minor);

/* "6.40": always the currency's decimals. */
void km_buf_money(struct km_buf *b, int64_t minor, int decimals);

#endif
