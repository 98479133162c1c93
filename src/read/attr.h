/* SPDX-License-Identifier: MIT */
/*
 * attr - the attributes that slot, tool and offer share.
 *
 * A word that was read once is not read again: kinds, sizes, finishes, marks
 * and materials go through b->words.
 *
 * Errors   messages in b->d; a value in error is as if not there.
 */
#ifndef KM_READ_ATTR_H
#define KM_READ_ATTR_H

#include "read/bind.h"
#include "trade/size.h"

enum km_said {
	KM_SAID_WRONG,		/* a message was given */
	KM_SAID_VALUE,
	KM_SAID_NONE,		/* `none` */
	KM_SAID_UNREAD,		/* `illegible` */
	KM_SAID_UNKNOWN		/* `unknown` */
};

enum { KM_ENDS_MOST = 16 };	/* sizes or openings of one tool */

/* What the reading of one attribute needs of the others. */
struct km_attr_scope {
	const struct km_kind *kind;		/* NULL: not known */
	const struct km_drive *const *drives;	/* one, or one an end */
	uint32_t n_drives;
	bool want;		/* a slot's: lengths have tolerances */
	bool assumed;		/* set when a tolerance was not written */
};

/* One value of the attribute of row f. */
enum km_said km_attr_read(struct km_bind *b, const struct km_field *f,
			  const struct km_node *n, struct km_attr_scope *scope,
			  union km_value *out);
/* The row of an attribute. */
static inline const struct km_field *km_attr_field(enum km_attr a)
{
	return &km_attr_fields[a];
}

/* All attributes of a tool or an offer. */
void km_traits_read(struct km_bind *b, const struct km_attr_nodes *nodes,
		    struct km_traits *t);
/* All attributes of a slot: claims, disputes, certainty and sources. */
void km_wants_read(struct km_bind *b, const struct km_attr_nodes *nodes,
		   struct km_slot *s);

/* Do two claims on an attribute say the same? */
bool km_claims_agree(enum km_attr a, const struct km_want *x,
		     const struct km_want *y);
static inline enum km_certainty km_claim_certainty(const struct km_want *c,
						   enum km_certainty of_slot)
{
	return c->own_certainty ? c->certainty : of_slot;
}
/* What several claims come to, in w, whose place stays: the surest count,
 * equals together.  False: memory ran out. */
bool km_claims_settle(struct km_bind *b, enum km_attr a,
		      const struct km_claims *c, enum km_certainty of_slot,
		      struct km_want *w);

/* What is wrong with a size, in words and with a hint; drive: what the end
 * fits, or NULL. */
void km_say_size(struct km_bind *b, const struct km_node *n,
		 const struct km_drive *drive, enum km_size_fault fault);

/* A colour of the kit being read, of the list, or hexadecimal. */
bool km_colour_read(struct km_bind *b, const struct km_node *n,
		    const char *key, union km_value *out);

extern const char *const km_certainty_words[];
extern const char *const km_source_words[];	/* by enum km_source_what */
extern const struct km_record km_rec_claim, km_rec_finish;

#endif
