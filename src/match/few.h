/* SPDX-License-Identifier: MIT */
/*
 * few - the best few candidates of a slot, found among many.
 *
 * Owner    the arena given; what a list outgrows stays in it, less than its
 *          final size
 */
#ifndef KM_MATCH_FEW_H
#define KM_MATCH_FEW_H

#include "base/arena.h"
#include "match/candidates.h"

/* Verdict and score as one number, smaller the better. */
#define KM_RANK_NONE INT32_MAX
static inline int32_t km_rank(enum km_verdict v, int32_t score)
{
	return (int32_t)v * 1024 + 1000 - score;
}

struct km_few {
	struct km_candidate *v;		/* a heap, the worst on top */
	uint32_t n, room, most;
	int32_t limit;			/* rank of the worst once full; else
					 * KM_RANK_NONE */
};

/* Would it be kept? */
bool km_few_takes(const struct km_few *f, const struct km_candidate *c);
/* Keep one that would be; KM_ENOMEM. */
enum km_status km_few_keep(struct km_arena *mem, struct km_few *f,
			   const struct km_candidate *c);
/* Best first; nothing may be kept any more. */
void km_few_sort(struct km_few *f);

#endif
