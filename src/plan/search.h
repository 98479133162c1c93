/* SPDX-License-Identifier: MIT */
/*
 * search - every way of working on one tool, label by label, in order of
 * likely cost; route.h says what is kept.
 */
#ifndef KM_PLAN_SEARCH_H
#define KM_PLAN_SEARCH_H

#include "base/arena.h"
#include "plan/state.h"

/* The order of the bench: a step never follows one of a higher rank. */
extern const uint8_t km_work_order[KM_PROCESSES];

#define KM_NO_LABEL UINT32_MAX
#define KM_LABEL_BUCKETS 256

struct km_label {
	struct km_state s;
	struct km_money3 cost;
	int32_t hands[3], elapsed[3];
	uint32_t from, next;	/* label before; next of the bucket */
	uint16_t n;		/* steps so far */
	uint8_t process, rank;
	bool dead;		/* beaten by a later one */
};

struct km_search {
	struct km_task t;
	struct km_arena *mem;
	struct km_label *v;
	uint32_t n, room;
	uint32_t *heap, n_heap;
	uint32_t bucket[KM_LABEL_BUCKETS];
	uint64_t useful;	/* processes worth a try */
	uint64_t needed;	/* processes that some useful one needs */
	uint8_t rank[KM_PROCESSES];
};

/* Fill v with all labels; t and mem are set, all else is zero.
 * errors   KM_ENOMEM, KM_ERANGE, KM_ELIMIT */
enum km_status km_search_run(struct km_search *s);

#endif
