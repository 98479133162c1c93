/* SPDX-License-Identifier: MIT */
/*
 * ways - what the table of ways and the problem as JSON share.
 */
#ifndef KM_REPORT_WAYS_H
#define KM_REPORT_WAYS_H

#include "report/page.h"

/* The option of a problem that a way became; KM_SOLVE_NONE: none, since it
 * has no price. */
uint32_t km_way_option(const struct km_plan_problem *x, const struct km_way *w);
/* "parcel from north", "lot: bright zinc plating" */
void km_words_charge(struct km_buf *b, const struct km_problem_charge *c);

#endif
