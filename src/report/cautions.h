/* SPDX-License-Identifier: MIT */
/*
 * cautions - what is printed where work or use can hurt someone: each caution
 * once a report, whatever options ask for less.
 */
#ifndef KM_REPORT_CAUTIONS_H
#define KM_REPORT_CAUTIONS_H

#include "report/page.h"
#include "trade/process.h"

/* Of using a tool as it is: damage that lasts, a mushroomed head, a loose
 * wooden handle, the wrong size.  Bit 0 is C01. */
uint64_t km_cautions_of_use(const struct km_match *m);

/* Is the process one that the law leaves to licensed shops: plating,
 * stripping, pickling, hot blacking, hot phosphate? */
bool km_process_is_regulated(const struct km_process *p);

/* The table "cautions" at the end of the page, with sources in the long form;
 * regulated: processes of the report, bits 1 << enum km_process_id.  Nothing
 * is shown for an empty set. */
void km_page_cautions(struct km_page *p, uint64_t set, uint64_t regulated);

#endif
