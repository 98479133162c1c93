/* SPDX-License-Identifier: MIT */
/*
 * given - who has a tool: every tool that sits in a place of the run, to be
 * asked by tool.
 *
 * Owner    the arena given
 */
#ifndef KM_AUDIT_GIVEN_H
#define KM_AUDIT_GIVEN_H

#include "audit/allocate.h"
#include "base/arena.h"

struct km_holder {
	const struct km_tool *tool;
	const struct km_slot *slot;
	uint32_t party;		/* whose slot it is */
};

struct km_given {
	struct km_holder *v;	/* by address of the tool */
	size_t n;
};

/* Is a piece settled: its tool right, or on its way? */
bool km_piece_settled(const struct km_piece *p);
/* Is its tool on order, lent or at the plater? */
bool km_piece_waits(const struct km_piece *p);

enum km_status km_given_list(struct km_arena *mem, const struct km_seat *seats,
			     size_t n, bool settled_only,
			     struct km_given *out);
/* NULL: the tool sits nowhere. */
const struct km_holder *km_given_find(const struct km_given *g,
				      const struct km_tool *t);

#endif
