/* SPDX-License-Identifier: MIT */
/*
 * pouch - the findings on a pouch in words.
 */
#ifndef KM_REPORT_POUCH_H
#define KM_REPORT_POUCH_H

#include "base/buf.h"
#include "kitmuster/audit.h"

/* One line for a summary: how many fit, the first that does not and why,
 * pockets that nothing explains.  Raw text; nothing for a kit whose pouch is
 * not recorded or was not looked at. */
void km_pouch_line(struct km_buf *b, const struct km_kit_audit *k);

/* "8 mm too long, the right length (165) would fit with 5 to spare"; nothing
 * for what fits.  too: "too long". */
void km_words_room(struct km_buf *b, const struct km_room *r, const char *too,
		   const char *right);

#endif
