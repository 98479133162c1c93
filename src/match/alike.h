/* SPDX-License-Identifier: MIT */
/*
 * alike - tools that say the same but for their length and condition, judged
 * once for all of them.
 *
 * A long bench repeats itself: some thousand combinations of kind, sizes,
 * mark and finish.  What such a combination comes to in each group of slots
 * is put together from three parts, each worked out once: its ends, its marks
 * and its looks.  A group that has better candidates already, whatever the
 * length and condition, is struck off for good.
 *
 * Owner    an arena of its own, which is emptied when it holds KM_ALIKE_BYTES:
 *          then all is worked out anew.
 */
#ifndef KM_MATCH_ALIKE_H
#define KM_MATCH_ALIKE_H

#include "match/aspects.h"
#include "match/candidates.h"
#include "match/index.h"

#define KM_ALIKE_BYTES ((size_t)8 << 20)

/* What tools that are alike come to in one group. */
struct km_prospect {
	uint32_t group;
	/* the rank of a tool, if its condition and an open length turn out
	 * as well as they can: [is a condition recorded][does the length lie
	 * outside]; [1][0] is the best of all */
	int32_t at_best[2][2];
	uint8_t letters;	/* bits 1 << enum km_letter, without condition
				 * and, while it is open, length */
	uint8_t n;		/* lengths and ends so far, ... */
	int16_t dimension;	/* ... and the sum of their scores */
	int16_t marking, looks;	/* axes; looks: finish and colour added */
	bool length;		/* open: wanted, and the tools have one */
	bool near;		/* a candidate only if its length is near */
	bool changes;		/* a superseding part: compare in full */
	uint8_t skins;		/* as km_compare_skins() */
	uint8_t few;		/* where it is kept: 0 usable, 1 not ours */
};

struct km_alike {
	uint64_t hash;
	const struct km_tool *like;	/* the first of them */
	struct km_prospect *v;
	uint32_t n;			/* those not struck off */
};

struct km_alikes;

/*
 * mem      for the struct itself
 * limits   NULL: the defaults
 * filter   may be NULL
 * returns  NULL: no memory
 */
struct km_alikes *km_alikes_new(struct km_arena *mem,
				const struct km_limits *limits,
				struct km_index *index,
				const struct km_size_book *book,
				const struct km_filter *filter);
void km_alikes_free(struct km_alikes *a);

/* Those that a tool is one of; valid until the next call.  NULL: no memory. */
struct km_alike *km_alikes_find(struct km_alikes *a,
				const struct km_tool *tool);

/* The verdict of a set of letters. */
static inline enum km_verdict km_verdict_of_set(uint32_t letters)
{
	if (letters >> KM_FAILS & 1)
		return KM_SUBSTITUTE;
	if (letters >> KM_NOT_KNOWN & 1)
		return KM_UNVERIFIED;
	return letters >> KM_CURABLE & 1 ? KM_AFTER_WORK : KM_RIGHT;
}

/* The rank of a prospect with these letters, n scores of the dimension axis
 * and this axis of condition. */
static inline int32_t km_prospect_rank(const struct km_prospect *p,
				       uint32_t letters, int dimension, int n,
				       int condition)
{
	return km_rank(km_verdict_of_set(letters),
		       km_score_total(n ? dimension / n : KM_SCORE_AGREES,
				      p->marking, condition, p->looks, 0));
}

#endif
