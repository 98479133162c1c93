/* SPDX-License-Identifier: MIT */
/*
 * bills - what a plan's choices come to: each shared charge once, and totals
 * that add up from what is printed.
 */
#ifndef KM_PLAN_BILLS_H
#define KM_PLAN_BILLS_H

#include "plan/joint.h"

/* Fill bills, totals and own time of a plan whose places are chosen. */
enum km_status km_bills_make(struct km_arena *mem,
			     const struct km_joint_ask *ask,
			     const struct km_plan_place *places, uint32_t n,
			     struct km_plan *out);

enum km_bill_kind km_bill_kind_of(enum km_charge_kind k);

#endif
