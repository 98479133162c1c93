/* SPDX-License-Identifier: MIT */
/*
 * lot_fills - how many places a job lot can fill at most: each of the things
 * that it holds goes to one, so it is the size of a largest matching of things
 * and places (by augmenting paths), whatever that costs.
 */
#ifndef KM_PLAN_LOT_FILLS_H
#define KM_PLAN_LOT_FILLS_H

#include "plan/joint_problem.h"

/* charge   of the problem, a job lot's
 * errors   KM_ENOMEM */
enum km_status km_lot_fills(struct km_arena *mem, const struct km_joint *j,
			    uint32_t charge, uint32_t *out);

#endif
