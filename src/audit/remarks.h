/* SPDX-License-Identifier: MIT */
/*
 * remarks - what a person should know about an allocation beside its verdicts:
 * a pin that is not the best, a tool that two places want, one that is not
 * ours, is lent or late, a pair that does not match, a thing bought for a
 * place that has come and is or is not right for it.
 */
#ifndef KM_AUDIT_REMARKS_H
#define KM_AUDIT_REMARKS_H

#include "audit/given.h"
#include "audit/variant.h"
#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/candidates.h"

/* A bar that does not pass the hole of its companion. */
struct km_companion {
	const struct km_slot *slot, *other;
	uint32_t party;
	const struct km_tool *tool;	/* the bar that was taken out */
	int64_t bar_nm, hole_nm;
};

struct km_cure;

struct km_remark_input {
	struct km_audit *audit;		/* slots and pieces are filled */
	struct km_candidates *of;	/* (kit, slot) order, all kits */
	const struct km_given *given;
	const struct km_variants *variants;	/* a party each kit */
	const struct km_companion *companions;
	uint32_t n_companions;
	const struct km_cure *cure;
};

/* Fill remarks and n_remarks of every kit of the audit. */
enum km_status km_remarks_make(struct km_arena *mem,
			       const struct km_remark_input *in);

#endif
