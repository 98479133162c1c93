/* SPDX-License-Identifier: MIT */
/*
 * summary - the parts of the summary that have files of their own.
 */
#ifndef KM_REPORT_SUMMARY_H
#define KM_REPORT_SUMMARY_H

#include "report/screen.h"

/* Lines of what not to do and what is next. */
#define KM_SUMMARY_TO_COME 4

struct km_summary {
	struct km_screen screen;
	struct km_page *p;
	const struct km_kit_audit *k;
	struct km_table *cost;		/* not NULL: money in columns */
	struct km_buf head, tail;	/* of the item being worded */
	struct km_buf left_out;		/* what the screen has no line for */
};

/* head and tail as one item; both are cleared. */
static inline void km_summary_item(struct km_summary *s)
{
	km_screen_item(&s->screen, &s->head, &s->tail);
}

/* Has the screen a line for what it could do without? */
bool km_summary_has_a_line(const struct km_summary *s);
/* For the last line: "pouch, plan". */
void km_summary_leave_out(struct km_summary *s, const char *what);

/* The piece that speaks for a slot, or NULL. */
const struct km_match *km_summary_piece(const struct km_slot_audit *s);

/* summary_plan.c: how sure the plan is, as a heading of the cost; and the rest
 * that is to be said of it, where a line is to be had. */
void km_summary_proof(struct km_summary *s);
void km_summary_plan(struct km_summary *s);
/* A table for money: what, low, likely, high. */
struct km_table *km_summary_cost_view(struct km_page *p);
/* summary_next.c: what it costs, what not to do (false: nothing), what to do */
void km_summary_cost(struct km_summary *s);
bool km_summary_care(struct km_summary *s);
void km_summary_next(struct km_summary *s, bool part);

#endif
