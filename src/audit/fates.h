/* SPDX-License-Identifier: MIT */
/*
 * fates - where every tool of the bench ended up: given + not ours + away +
 * surplus are all tools, always.
 */
#ifndef KM_AUDIT_FATES_H
#define KM_AUDIT_FATES_H

#include "audit/given.h"
#include "audit/variant.h"
#include "base/arena.h"
#include "kitmuster/audit.h"

/* Fill the counts of the bench, and `fate` when the options ask for it. */
enum km_status km_fates_find(struct km_arena *mem, const struct km_variants *v,
			     const struct km_given *given, struct km_audit *a);

#endif
