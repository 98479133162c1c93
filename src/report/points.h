/* SPDX-License-Identifier: MIT */
/*
 * points - what a build log asks of an audit, or of the messages of `check`:
 * passed or not, where, and why in a line.  Four formats write the same list.
 *
 * A slot passes when it counts today; a slot that is not firm, and one that
 * is no durable tool, is skipped and never fails.  A message fails when it is
 * an error or a warning.
 */
#ifndef KM_REPORT_POINTS_H
#define KM_REPORT_POINTS_H

#include "report/page.h"

enum km_point_result { KM_POINT_PASSES, KM_POINT_FAILS, KM_POINT_SKIPPED };

struct km_point {
	const char *group;	/* a kit; the id of a message */
	const char *name;	/* a slot, once a group; where in a file, as
				 * "slots[3].sizes[0]"; NULL: nowhere */
	const char *rule;	/* its verdict; the id of a message */
	const char *text;	/* one line, raw */
	struct km_place at;	/* file NULL: the run as a whole */
	enum km_point_result result;
	enum km_severity severity;	/* of one that does not pass */
};

/* A rule of a list, and what it means. */
struct km_point_rule { const char *id, *text; };

struct km_points {
	struct km_page *p;
	const struct km_point *v;	size_t n;
	const struct km_point_rule *rules;	size_t n_rules;
};

/* The slots of an audit, kit by kit; false: memory ran out. */
bool km_points_of_audit(struct km_page *p, struct km_points *out);
/* Messages, sorted before. */
bool km_points_of_diags(struct km_page *p, const struct km_diags *d,
			struct km_points *out);

/* Into the page.
 * source   [tap-14]; [junit-shape]; [sarif-2.1.0]; [github-commands] */
/* "kit/S-03", "unknown-key/slots[3]", "unknown-key"; raw. */
void km_point_name(struct km_buf *b, const struct km_point *x);
void km_out_tap(const struct km_points *list);
void km_out_junit(const struct km_points *list);
void km_out_sarif(const struct km_points *list);
void km_out_github(const struct km_points *list);

/* The same of the page's audit, as a sheet's own writers. */
km_sheet_maker km_tap_slots, km_junit_slots, km_sarif_slots, km_github_slots;

#endif
