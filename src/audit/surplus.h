/* SPDX-License-Identifier: MIT */
/*
 * surplus - what is left over, and for which other kit it is worth keeping:
 * every surplus tool is held against every slot of the library.
 */
#ifndef KM_AUDIT_SURPLUS_H
#define KM_AUDIT_SURPLUS_H

#include "audit/seats.h"
#include "audit/variant.h"
#include "base/arena.h"
#include "kitmuster/audit.h"

/*
 * Fill `spare`, `n_spare` and `spare_kept`; the fates are known.
 *
 * Time      a look at each surplus tool and slot of the library
 * errors    KM_ENOMEM
 */
enum km_status km_surplus_find(struct km_arena *mem, const struct km_variants *v,
			       const struct km_cure *cure, struct km_audit *a);

#endif
