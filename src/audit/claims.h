/* SPDX-License-Identifier: MIT */
/*
 * claims - what two kits claim of one attribute, compared.
 *
 * A claim is a want made ready: the values of an `any_of`, and the ends
 * inside a value, stand in an order of their own, so that equal claims are
 * equal element by element, whatever file and load they are from.
 */
#ifndef KM_AUDIT_CLAIMS_H
#define KM_AUDIT_CLAIMS_H

#include "base/arena.h"
#include "kitmuster/model.h"

struct km_claim {
	enum { KM_CLAIM_OPEN, KM_CLAIM_NONE, KM_CLAIM_VALUES } state;
	bool or_none;
	uint32_t n;
	const union km_value *v;
	const char *where;		/* of a mark; may be NULL */
};

/* False: memory ran out. */
bool km_claim_make(struct km_arena *mem, enum km_attr a,
		   const struct km_want *w, struct km_claim *out);

/* A total order; 0: they claim the same.  Sizes are compared by what is struck,
 * lengths by their limits, texts and unlisted words folded; a colour by its
 * figure, if it has one. */
int km_claim_order(enum km_attr a, const struct km_claim *x,
		   const struct km_claim *y);

/*
 * How far apart two claims are, in hundredths of a difference: 0 the same, 50
 * if only one of them says anything, 25 if they have a value in common, else
 * as the nearest two values are: 100, but
 *
 *	lengths  25 if their limits overlap, else 50 and up to 50 more, in
 *	         step with what lies between the two, all of it at a quarter
 *	         of the longer one
 *	sizes    the mean over the ends: those that are struck the same 0, of
 *	         the others two and two as they differ least, more in order of
 *	         width so as to differ least; an end 25 if it is the same jaw,
 *	         else as a length is that has no limits, if both are hexagons
 *	         or of one system; else, and an end left over, 100
 */
int32_t km_claim_far(enum km_attr a, const struct km_claim *x,
		     const struct km_claim *y);

#endif
