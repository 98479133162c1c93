/* SPDX-License-Identifier: MIT */
/* schema - what the writers of the schema, the reference and the starter
 * files share. */
#ifndef KM_READ_SCHEMA_H
#define KM_READ_SCHEMA_H

#include "base/buf.h"
#include "kitmuster/schema.h"
#include "read/rec.h"

/* "piece of damage" as "piece-of-damage". */
void km_schema_slug(struct km_buf *b, const char *name);
/* A record of the tables, by name or by the top-level key; NULL: none. */
const struct km_record *km_schema_find(const char *name);
/* The whole reference. */
void km_schema_reference(struct km_buf *b, const struct km_record *only);
/* What a field takes, in words: "a whole number, 1 to 9", "a list of ids".
 * links: names of records lead to their headings, as Markdown. */
void km_schema_takes(struct km_buf *b, const struct km_field *f, bool links);
/* The manual page, section 5. */
void km_schema_manual(struct km_buf *b);
/* KM_OK after the sink has taken all of b. */
enum km_status km_schema_hand(const struct km_buf *b,
			      const struct km_sink *to);
/* May an attribute of the record be a claim? */
static inline bool km_schema_claims(const struct km_record *r)
{
	return r == &km_rec_slot;
}

#endif
