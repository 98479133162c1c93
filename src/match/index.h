/* SPDX-License-Identifier: MIT */
/*
 * index - the slots of a run, equal ones of a kit as one group, by kind and by
 * the widths that their ends may be.
 *
 * Owner    the arena given
 */
#ifndef KM_MATCH_INDEX_H
#define KM_MATCH_INDEX_H

#include "match/compare.h"
#include "match/few.h"

/* Slots of one party that want the same: what is searched for once. */
struct km_group {
	struct km_target target;	/* of its first slot */
	const struct km_party *party;
	const struct km_rules *limits;	/* of the first party that holds a
					 * condition to the same */
	uint64_t places;		/* of all its slots */
	struct km_few few[2];		/* usable, not ours */
	uint32_t first;			/* its first slot, (party, slot) order */
	uint32_t round;			/* of the index: when it was listed */
};

struct km_index_entry;
struct km_index {
	struct km_group *groups;
	uint32_t n_groups;
	uint32_t *group_of;		/* of each slot, (party, slot) order */
	uint32_t n_slots;
	struct km_index_entry *v;	/* by kind, bucket, group */
	size_t n, room;
	uint32_t *found, n_found;	/* the last answer */
	uint32_t round;
};

/* errors   KM_ENOMEM, KM_ELIMIT (2^32 slots) */
enum km_status km_index_build(struct km_index *x, struct km_arena *mem,
			      const struct km_party *parties,
			      uint32_t n_parties);

/* How many candidates a group keeps: the places of the slots of its kinds, and
 * `more`. */
enum km_status km_index_set_bounds(struct km_index *x, struct km_arena *mem,
				   uint64_t more, uint32_t not_ours);

/* Does any slot want the kind? */
bool km_index_has(const struct km_index *x, const struct km_kind *kind);

/* List in `found` each group of the kind once that the marked or measured ends
 * could serve; all of the kind where no end is recorded. */
void km_index_list(struct km_index *x, const struct km_kind *kind,
		   const struct km_readings *r);

#endif
