/* SPDX-License-Identifier: MIT */
/*
 * reach - does work take a tool to the standard?  Asked of many tools, and
 * searched for once for all whose task is the same.
 *
 * Owner    the arena given, a few hundred bytes a task and KM_REACH_KEPT of
 *          them at most; what comes after those is searched for each time
 */
#ifndef KM_AUDIT_REACH_H
#define KM_AUDIT_REACH_H

#include "base/arena.h"
#include "match/candidates.h"
#include "plan/state.h"

#define KM_REACH_KEPT 4096

struct km_reach_answer;
struct km_reach {
	struct km_arena *mem, *scratch;	/* scratch holds nothing else */
	const struct km_limits *limits;
	const struct km_costs *costs;
	struct km_reach_answer **v;	/* chains, by hash of the task */
	uint32_t n;
};

void km_reach_init(struct km_reach *r, struct km_arena *mem,
		   struct km_arena *scratch, const struct km_limits *limits,
		   const struct km_costs *costs);

/* As km_filter.reaches; ctx is a struct km_reach.  Negative: no memory. */
int km_reach_ask(void *ctx, const struct km_party *party,
		 const struct km_match *m);

#endif
