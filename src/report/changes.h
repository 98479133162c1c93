/* SPDX-License-Identifier: MIT */
/*
 * changes - two audits as rows, and their comparison.
 */
#ifndef KM_REPORT_CHANGES_H
#define KM_REPORT_CHANGES_H

#include "kitmuster/changes.h"
#include "read/json.h"

struct km_audit_row {
	const char *kit, *slot;		/* slot "" for a row of a kit */
	const struct km_json *v;
};

struct km_audit_rows {
	const struct km_json *root;
	const char *currency;
	bool slots;			/* rows of slots; else of kits */
	struct km_audit_row *row;	/* as they stand */
	struct km_audit_row *sorted;	/* by kit and slot */
	uint32_t n;
};

/* The row of the same kit and slot, or NULL. */
const struct km_audit_row *km_row_find(const struct km_audit_rows *in,
				       const struct km_audit_row *like);
/* A sum of a row; -1: none is given. */
int64_t km_row_money(const struct km_json *row, const char *key, int decimals);

/* Fill slots and orders, or figures. */
enum km_status km_changes_of_slots(struct km_changes *c,
				   const struct km_audit_rows *was,
				   const struct km_audit_rows *is);
enum km_status km_changes_of_figures(struct km_changes *c,
				     const struct km_audit_rows *was,
				     const struct km_audit_rows *is);

#endif
