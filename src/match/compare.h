/* SPDX-License-Identifier: MIT */
/*
 * compare - one tool or offer against one slot: outcomes, axis scores,
 * verdict, the one headline reason, and whether it may turn a nut.
 *
 * Pure: structs in, a struct out, no memory.
 */
#ifndef KM_MATCH_COMPARE_H
#define KM_MATCH_COMPARE_H

#include <stdbool.h>

#include "kitmuster/audit.h"
#include "match/rules.h"

/* The thing compared. */
struct km_thing {
	const struct km_traits *traits;
	const struct km_condition *condition;	/* NULL: not recorded */
	bool at_plater;		/* finish and surface are being renewed */
	bool unused;		/* a new offer: nothing recorded is no fault */
	const struct km_tool *tool;	/* one of these two is set */
	const struct km_offer *offer;
};

/*
 * Is it a candidate at all: the slot's kind and drive; a sized kind has one
 * end right or serving; another has a length within 25 per cent of the
 * slot's or none recorded.
 */
bool km_compare_is_candidate(const struct km_slot *slot,
			     const struct km_thing *thing);

/*
 * Compare everything.  The verdict takes work as possible: a match whose
 * worst letter is KM_CURABLE is KM_AFTER_WORK until km_match_settle() is told
 * that no route reaches the standard.
 */
void km_compare(const struct km_rules *rules, const struct km_slot *slot,
		const struct km_thing *thing, struct km_match *out);

/* Tell a match that needs work whether a permitted route reaches the
 * standard; without one it becomes a substitute, its headline the fault that
 * stays. */
void km_match_settle(struct km_match *m, bool reaches);

/* Order of candidates of one slot: verdict, score, came with the machine,
 * then id as people count.  <0 when a is the better one; never 0 for two
 * different tools. */
int km_match_order(const struct km_match *a, const struct km_match *b);

#endif
