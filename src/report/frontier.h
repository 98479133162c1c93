/* SPDX-License-Identifier: MIT */
/*
 * frontier - what the table and the drawing of it share.
 */
#ifndef KM_REPORT_FRONTIER_H
#define KM_REPORT_FRONTIER_H

#include "report/page.h"

/* The frontier by money, least first; NULL after a failure, which sticks. */
const struct km_plan_point *km_frontier_points(struct km_page *p, uint32_t *n);
/* Is it where the chosen plan lies? */
bool km_frontier_is_plan(const struct km_page *p,
			 const struct km_plan_point *at);

#endif
