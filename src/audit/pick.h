/* SPDX-License-Identifier: MIT */
/*
 * pick - the kits that a question is about.
 */
#ifndef KM_AUDIT_PICK_H
#define KM_AUDIT_PICK_H

#include "base/arena.h"
#include "kitmuster/load.h"

/* The kit of an id, whatever its case; NULL after saying that there is none. */
const struct km_kit *km_kit_named(const struct km_load *load, const char *id,
				  struct km_diags *d);

/*
 * The kits of n ids, in their order and each once; n 0: all, by id.
 *
 * errors    KM_EINPUT: an id that no kit has, or fewer than `least` kits;
 *           reported in d.  KM_ENOMEM.
 */
enum km_status km_kits_pick(struct km_arena *mem, const struct km_load *load,
			    const char *const *ids, uint32_t n,
			    uint32_t least, struct km_diags *d,
			    const struct km_kit *const **out,
			    uint32_t *n_out);

#endif
