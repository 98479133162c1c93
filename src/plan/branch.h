/* SPDX-License-Identifier: MIT */
/*
 * branch - the search: depth first, charges before options.
 *
 * Owner    everything lives in the arena given to km_tree_init()
 */
#ifndef KM_PLAN_BRANCH_H
#define KM_PLAN_BRANCH_H

#include "plan/relax.h"
#include "plan/solve.h"

enum km_branch_kind {
	KM_BRANCH_PIECES,	/* at most n, or more paid for */
	KM_BRANCH_POSTAGE,	/* a parcel that pays, or a free one */
	KM_BRANCH_OPTION	/* this option, or not */
};

/* One question, answered in two ways; the second waits on the stack. */
struct km_branch {
	enum km_branch_kind kind;
	uint32_t id;		/* charge or place */
	uint32_t n;		/* pieces or option */
	bool side;		/* the side that comes first */
};

/* What was left when the question was put. */
struct km_frame {
	struct km_branch ask;
	int64_t bound;		/* scaled */
	uint32_t *len, *floor, *ceiling;
	uint8_t *mode;
	int64_t *mult;
};

struct km_tree {
	const struct km_core *core;
	struct km_relax *relax;
	struct km_arena *mem;
	struct km_frame *frame;
	uint32_t depth, room;
	int64_t *keep, *root;	/* prices of the best bound: node, first node */
	uint32_t *best;		/* best plan: core option of a place */
	int64_t value, points, money;	/* of it */
	bool found;
	int64_t most;		/* plans worth more are not wanted */
	int64_t cutoff;		/* scaled: what is above cannot be better */
	uint64_t nodes;
	uint32_t *count;	/* scratch, ncharges */
	int64_t *goods;
	struct km_lap mend;	/* the assignment with few charges */
	uint32_t *mend_list, *mend_len;
	int64_t *mend_cost;
};

bool km_tree_init(struct km_tree *t, struct km_arena *mem,
		  const struct km_core *core, struct km_relax *relax);

/* What is known before the search. */
struct km_goal {
	const uint32_t *hint;	/* core options of a plan, or NULL */
	int64_t least;		/* no plan is worth less */
	int64_t most;		/* plans worth more are not wanted */
	uint64_t nodes;
};

/* Search what km_relax_ask() left.  The best plan stays in t->best. */
enum km_status km_tree_search(struct km_tree *t, const struct km_goal *goal,
			      struct km_solve_plan *out);

/* A plan that is known: kept if it is allowed and better. */
void km_tree_offer(struct km_tree *t, const uint32_t *choice);
/* Plans near the last evaluation: only its charges, better prices. */
void km_tree_mend(struct km_tree *t);
/* The question to put. */
void km_tree_choose(const struct km_tree *t, struct km_branch *out);

#endif
