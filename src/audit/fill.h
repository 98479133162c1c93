/* SPDX-License-Identifier: MIT */
/*
 * fill - the audit of a kit from who sits where.
 */
#ifndef KM_AUDIT_FILL_H
#define KM_AUDIT_FILL_H

#include "audit/seats.h"

/*
 * Fill kit, machine, standard, limits, slots and where the serial number lies.
 *
 * seats, of     of the kit's slots, in order
 * most          candidates to keep a slot; 0: the usual number
 * errors        KM_ENOMEM
 */
enum km_status km_kit_fill(struct km_arena *mem, const struct km_party *p,
			   const struct km_seat *seats,
			   struct km_candidates *of, uint32_t most,
			   struct km_kit_audit *kit);

#endif
