/* SPDX-License-Identifier: MIT */
/*
 * which - the parts of the answer to `which`.
 */
#ifndef KM_REPORT_WHICH_H
#define KM_REPORT_WHICH_H

#include "kitmuster/kits.h"
#include "report/page.h"

/* What the first kit does not explain, what tells it from the next, and its
 * empty slots: in text. */
void km_which_text(struct km_page *p, const struct km_ranking *r);
/* The tools under the first kits, and the empty slots of these: as data. */
void km_which_data(struct km_page *p, const struct km_which *w);

/* The line of the page as a sentence across it, in text alone; clears it. */
void km_which_say(struct km_page *p);
/* The serial number of the machine, if there is one. */
void km_which_serial(struct km_page *p, struct km_table *t, uint32_t column,
		     const struct km_ranking *r);

#endif
