/* SPDX-License-Identifier: MIT */
/*
 * seats - who sits where: ownership, pins, the allocation, companions, and
 * what is on order.
 */
#ifndef KM_AUDIT_SEATS_H
#define KM_AUDIT_SEATS_H

#include "audit/allocate.h"
#include "audit/remarks.h"
#include "audit/variant.h"

struct km_seating {
	struct km_candidates *of;	/* (party, slot) order */
	struct km_seat *seats;		/* the same */
	size_t n;
	struct km_companion *companions;	/* bars that did not pass */
	uint32_t n_companions;
};

/* Asked for a match that needs work: does a permitted route reach the
 * standard?  Negative: memory ran out. */
struct km_cure {
	int (*reaches)(void *ctx, const struct km_party *,
		       const struct km_match *);
	void *ctx;
};

/*
 * Find the candidates of every slot, settle those that need work, share them
 * out, check companions, and mark what is on order.
 *
 * errors    KM_ENOMEM, KM_ELIMIT, KM_ERANGE
 */
enum km_status km_seats_fill(struct km_arena *mem, const struct km_load *load,
			     const struct km_variants *v,
			     const struct km_cure *cure,
			     struct km_seating *out);

/* May a kit use this tool?  Its own owner's, ours, and those whose owner is
 * not recorded. */
bool km_may_use(const struct km_party *p, const struct km_tool *t);

#endif
