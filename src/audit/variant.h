/* SPDX-License-Identifier: MIT */
/*
 * variant - which kits take part in a run, and for which machine.
 *
 * Kits named by an option take part, nothing else.  Otherwise each machine
 * takes the kit it names, or the one that choice.h finds for it; of several
 * that it may have left with the first by id takes part, and the others are
 * readings of the machine.  Without a machine every kit takes part.  Kits that
 * do not are the library: a tool that fits one of them is worth keeping.
 */
#ifndef KM_AUDIT_VARIANT_H
#define KM_AUDIT_VARIANT_H

#include "audit/choice.h"
#include "base/arena.h"
#include "kitmuster/audit.h"
#include "match/candidates.h"
#include "unit/serial.h"

struct km_variants {
	struct km_party *parties;	/* by priority, then id */
	struct km_choice *choices;	/* how each party came by its kit */
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

/* The rules that a kit is held to in this run. */
void km_party_rules(const struct km_load *load, const struct km_options *o,
		    struct km_party *p);

#endif
