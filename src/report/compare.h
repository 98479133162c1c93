/* SPDX-License-Identifier: MIT */
/*
 * compare - the parts of the answer to `compare`.
 */
#ifndef KM_REPORT_COMPARE_H
#define KM_REPORT_COMPARE_H

#include "kitmuster/kits.h"
#include "report/page.h"

/* What differs between two kits, the values beside each other: in text. */
void km_compare_text(struct km_page *p, const struct km_kit_pair *pair);
/* All differences and lone slots of all pairs: as data. */
void km_compare_data(struct km_page *p, const struct km_side_by_side *s);
/* A slot that has no like, in words; lives as long as the page. */
const char *km_compare_lone(struct km_page *p, const struct km_slot *s);

#endif
