/* SPDX-License-Identifier: MIT */
/*
 * rec - the records of files, each a field table.
 *
 * km_records names them all, for whatever walks the tables: the schema, the
 * format reference, the starter file, and the test that loads every example.
 */
#ifndef KM_READ_REC_H
#define KM_READ_REC_H

#include "read/bind.h"

extern const struct km_record km_rec_kit, km_rec_serials, km_rec_serial_end,
	km_rec_kit_limits, km_rec_source, km_rec_pouch, km_rec_slot,
	km_rec_exists, km_rec_claim, km_rec_tool, km_rec_condition,
	km_rec_damage, km_rec_history, km_rec_prices, km_rec_seller,
	km_rec_offer, km_rec_job_lot, km_rec_supersession, km_rec_money3,
	km_rec_workshop, km_rec_terms, km_rec_open_lot, km_rec_rubric,
	km_rec_machine, km_rec_decision, km_rec_finish;

/* The top-level keys; ends with a NULL key. */
struct km_top {
	const char *key;
	const struct km_record *rec;
	bool list;		/* a list of the record */
	const char *doc;
};
extern const struct km_top km_tops[];

/* All records, by enum km_record_no; NULL: of tests only. */
extern const struct km_record *const km_records[KM_RECORDS];

/* Records that need more than their table; NULL after a message. */
struct km_kit *km_kit_read(struct km_bind *b, const struct km_node *n);
struct km_prices *km_prices_read(struct km_bind *b, const struct km_node *n);
struct km_workshop *km_workshop_read(struct km_bind *b,
				     const struct km_node *n);
/* One tool; false after a message.  id stays NULL where the item has none.
 * count: how many tools the item stands for. */
bool km_tool_read(struct km_bind *b, const struct km_node *n,
		  struct km_tool *t, int32_t *count);

/* Condition of a tool or an offer. */
km_own_fn km_own_condition;

#endif
