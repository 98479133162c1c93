/* SPDX-License-Identifier: MIT */
/*
 * rules - the verdict rules as a table: what a finding comes to under each
 * standard, and the limits (rust, pits, plate, colour, length) that a kit may
 * set for itself.
 */
#ifndef KM_MATCH_RULES_H
#define KM_MATCH_RULES_H

#include "kitmuster/audit.h"
#include "trade/size.h"

/*
 * The limits of one kit under one standard; the kit's own `limits`, or what
 * data/limits.def says.  Where that has no figure for a standard, the figure
 * of the first standard that has one says from where on a note is printed.
 */
struct km_rules {
	enum km_standard standard;
	const struct km_kit *kit;
	int32_t rust;			/* Ri allowed; 5: any */
	int32_t pits;			/* 0 none, 1 few, 2 any */
	int32_t plate_left;		/* least, hundredths of a per cent */
	int32_t colour_pass, colour_note;	/* dE00 in thousandths */
	int32_t length_usable;		/* hundredths of a per cent */
	const struct km_supersession *superseded;
	uint32_t n_superseded;
	/* what a measured opening may be; NULL: openings are not read */
	const struct km_size_book *book;
};

/* A kind without sizes is a candidate within so many per cent of the length;
 * a choice, the same under every standard. */
enum {
#define LIMIT(key, delivered, period, usable, found, unit, doc, source) \
	KM_LIMIT_##key = delivered,
#include "data/limits.def"
#undef LIMIT
};

/* The limits; no supersessions and no book, which the caller adds. */
void km_rules_init(struct km_rules *r, const struct km_kit *kit,
		   enum km_standard standard);

/* The letter of a finding; of DAMAGE_CURABLE under `usable` it is CURABLE
 * only when the damage makes the tool unfit, which the caller decides. */
enum km_letter km_rules_letter(enum km_finding f, enum km_standard s);

#endif
