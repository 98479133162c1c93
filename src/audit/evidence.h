/* SPDX-License-Identifier: MIT */
/*
 * evidence - the claims of a kit, what a judge will query first.
 *
 * source   queried is what is less than probable, contradicted, or stated
 *          surer than its sources support [choice]
 */
#ifndef KM_AUDIT_EVIDENCE_H
#define KM_AUDIT_EVIDENCE_H

#include "base/arena.h"
#include "kitmuster/evidence.h"

/* KM_OK or KM_ENOMEM. */
enum km_status km_evidence_list(struct km_arena *mem, const struct km_kit *kit,
				const struct km_evidence_audit **out);

#endif
