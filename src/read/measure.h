/* SPDX-License-Identifier: MIT */
/*
 * measure - lengths, weights and money in a file, and what is wrong with
 * them in words.  Each reader answers false after a message.
 */
#ifndef KM_READ_MEASURE_H
#define KM_READ_MEASURE_H

#include "read/bind.h"

enum { KM_ID_BYTES = 64 };

/* The text of a scalar, cut off for a message if it is long. */
const char *km_clip(struct km_bind *b, const struct km_node *n);
bool km_is_id(struct km_slice s);
/* 1, 0, or -1 after a message. */
int km_read_bool(struct km_bind *b, const struct km_node *n, const char *key);
/* "'9' is not a value for 'rust'", and the bounds of the row. */
void km_say_range(struct km_bind *b, const struct km_field *f,
		  const struct km_node *n);

bool km_read_weight(struct km_bind *b, const struct km_node *n,
		    const char *key, int64_t *mg);
bool km_read_money3(struct km_bind *b, const struct km_node *n,
		    const char *key, struct km_money3 *out);
/* The code, kept once; NULL after a message. */
const char *km_read_currency(struct km_bind *b, const struct km_node *n,
			     const char *key);
/* A span: a requirement if assumed is not NULL, else a reading. */
bool km_read_span(struct km_bind *b, const struct km_node *n, const char *key,
		  struct km_span *out, bool *assumed);
/* "15 deg": hundredths of a degree, tolerance as for lengths. */
bool km_read_angle(struct km_bind *b, const struct km_node *n, const char *key,
		   struct km_span *out, bool *assumed);

/* Ten-thousandths of the currency's unit, and the code behind if any. */
bool km_money_text(struct km_bind *b, const struct km_node *n, const char *key,
		   struct km_slice s, int64_t *out, const char **code);
/* Remember to convert a sum when all currencies are known. */
void km_money_later(struct km_bind *b, const struct km_node *n, int64_t *minor,
		    const char *code);

extern const struct km_record km_rec_money3;

#endif
