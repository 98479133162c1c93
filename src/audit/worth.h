/* SPDX-License-Identifier: MIT */
/*
 * worth - what the tools of the kits are worth as recorded, and where they
 * come from.
 */
#ifndef KM_AUDIT_WORTH_H
#define KM_AUDIT_WORTH_H

#include "kitmuster/audit.h"

/* Fill `worth` of each kit and of the audit; KM_ERANGE: a sum overflows. */
enum km_status km_worth_add_up(struct km_audit *a);

/* Fill `origin` of a kit. */
void km_origin_count(struct km_kit_audit *k);

#endif
