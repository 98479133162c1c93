/* SPDX-License-Identifier: MIT */
/*
 * variant - which kits take part in a run, and for which machine.
 *
 * Kits named by an option take part, nothing else.  Otherwise each machine
 * takes the kit it names, or the one its serial number lies in, or the one
 * its date lies in, the market settling between several; without a machine
 * every kit takes part.  Kits that do not are the library: a tool that fits
 * one of them is worth keeping.
 */
#ifndef KM_AUDIT_VARIANT_H
#define KM_AUDIT_VARIANT_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/candidates.h"

struct km_variants {
	struct km_party *parties;	/* by priority, then id */
	uint32_t n_parties;
	const struct km_kit **library;	/* by id */
	uint32_t n_library;
};

/*
 * errors    KM_EINPUT: a kit named that is not there, or a machine that no
 *           kit fits; reported in d.  KM_ENOMEM.
 */
enum km_status km_variants_choose(struct km_arena *mem,
				  const struct km_load *load,
				  const struct km_options *o,
				  struct km_diags *d, struct km_variants *out);

/* Is a serial number inside a range (a fuzzy end counts as inside), and by
 * how much it lies outside; 0 when inside or when either is not recorded. */
int64_t km_serial_outside(const struct km_serials *s, int64_t serial);

#endif
