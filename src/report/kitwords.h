/* SPDX-License-Identifier: MIT */
/*
 * kitwords - what kits claim, in words, for kits beside each other.
 *
 * All text is raw, as in words.h.
 */
#ifndef KM_REPORT_KITWORDS_H
#define KM_REPORT_KITWORDS_H

#include "base/buf.h"
#include "kitmuster/model.h"

/* "handle colour" */
const char *km_attr_word(enum km_attr a);
/* "1001 to 8120", "8121 on", "up to 8120"; nothing if none are given. */
void km_words_serials(struct km_buf *b, const struct km_serials *s);
/* What a pouch is, and one of its facts in words; "not said" without a pouch and
 * where the kit does not state it. */
enum km_pouch_fact {
	KM_FACT_FORM, KM_FACT_CLOTH, KM_FACT_POCKETS,
	KM_FACT_POCKET_WIDTH, KM_FACT_POCKET_DEPTH, KM_FACT_CLOSING,
	KM_FACT_WIDTH, KM_FACT_DEPTH, KM_FACT_FLAP, KM_FACT_CLOTH_THICK,
	KM_FACT_EASE, KM_POUCH_FACTS
};
const char *km_pouch_fact_word(enum km_pouch_fact f);
void km_words_pouch(struct km_buf *b, const struct km_pouch *p,
		    enum km_pouch_fact f);
/* What a kit claims of an attribute: "LARKMOOR or LM (shank)", "none",
 * "unknown", "not said". */
void km_words_claim(struct km_buf *b, const struct km_want *w, enum km_attr a);

#endif
