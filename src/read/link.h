/* SPDX-License-Identifier: MIT */
/* link - shared by the parts of km_link(). */
#ifndef KM_READ_LINK_H
#define KM_READ_LINK_H

#include "read/reader.h"

/* Ids of the kits and of the slots of each, while linking. */
struct km_link {
	struct km_ids kits;
	struct km_ids *slots;		/* one a kit */
	struct km_ids sellers, offers, lots;
	/* The records of all files in the order in which they will stand;
	 * they stay where they were read until all sums are converted. */
	struct km_seller **seller;
	struct km_offer **offer;
	struct km_job_lot **lot;
};

/*
 * Enter n ids into t, which has name and ctx, and report those that are
 * there; at() tells the place of record i.
 */
void km_link_enter(struct km_reader *r, struct km_ids *t, uint32_t n,
		   const char *what,
		   struct km_place (*at)(const void *ctx, uint32_t i));

/* Index of the id, or KM_NO_INDEX after a message "there is no what 'id'". */
uint32_t km_link_find(struct km_reader *r, const struct km_ids *t,
		      uint32_t n, const char *what, const char *id,
		      struct km_place at);

/* The slot of "kit/slot"; NULL after a message. */
struct km_slot *km_link_slot(struct km_reader *r, const char *kit,
			     const char *slot, struct km_place at);

/* Two tools pinned to one place, and tools of somebody else; n tools have a
 * pin. */
void km_link_pins(struct km_reader *r, size_t n);

/* The n tools that have a pin, by kit, index of the slot and place; NULL:
 * memory ran out. */
const struct km_tool **km_link_pinned(struct km_reader *r, size_t n);
/* More decisions on a slot than it has places, and decisions on places that a
 * tool is pinned to; n tools have a pin. */
void km_link_decided(struct km_reader *r, size_t n);

void km_link_kits(struct km_reader *r);
/* References to sources of a kit, whose ids those are; a list that is linked
 * already stays. */
void km_link_sources(struct km_reader *r, const struct km_kit *kit,
		     const struct km_ids *ids, struct km_sources *list,
		     struct km_place at);
/* What sources come to, for every claim of the kit, once all are linked and
 * none rests on itself. */
void km_link_evidence(struct km_reader *r, struct km_kit *kit,
		      const struct km_ids *sources);
void km_link_prices(struct km_reader *r);
/* Move them together, after km_link_money(). */
void km_link_prices_end(struct km_reader *r);
void km_link_supersessions(struct km_reader *r);

#endif
