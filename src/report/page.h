/* SPDX-License-Identifier: MIT */
/*
 * page - one sheet in the making: the audit, how it is to be written, the
 * tables so far.
 */
#ifndef KM_REPORT_PAGE_H
#define KM_REPORT_PAGE_H

#include "kitmuster/report.h"
#include "report/table.h"

struct km_page {
	struct km_arena *mem;
	const struct km_audit *audit;	/* NULL: a sheet without an audit */
	struct km_report_options o;
	enum km_format format;
	const char *sheet;		/* its word */
	const char *currency;		/* of its money; NULL: none */
	int decimals;
	struct km_table *first, *last;
	struct km_buf line;		/* for a sheet to word one cell */
	struct km_buf out;
	const struct km_given *given;	/* by tool; see km_page_given() */
	size_t n_given;
	struct km_report_parts *report;	/* NULL: a sheet of its own */
	bool failed;
};

/* What the parts of a report have in common: the cautions of all of them are
 * printed once. */
struct km_report_parts { uint64_t cautions, regulated; };

/* What makes a sheet: tables, or, for text that is no table, words in out. */
typedef void km_sheet_maker(struct km_page *p);

/* A new table at the end of the page; NULL after a failure, which sticks. */
struct km_table *km_page_table(struct km_page *p, const char *key,
			       const struct km_column *columns, uint32_t n);

/* Has memory run out for any part of the page?  Its tables are not to be read
 * then. */
bool km_page_failed(const struct km_page *p);

/* Has an hour of own time a price? */
static inline bool km_page_prices_own(const struct km_page *p)
{
	const struct km_workshop *w = p->audit->load->workshop;

	return w && w->own_time.minor > 0;
}

/* The slot that a tool was given to, or NULL. */
struct km_given { const struct km_tool *tool; const struct km_slot *slot; };
const struct km_slot *km_page_given(struct km_page *p, const struct km_tool *t);

/* Another sheet as a part of a report, written to out. */
void km_page_part(struct km_page *p, enum km_sheet s,
		  struct km_report_parts *parts, struct km_buf *out);

/* The steps of a route: a list in one column, "by: a, then b" among the lines
 * of another; r NULL: an empty list. */
void km_put_steps(struct km_table *t, uint32_t list, uint32_t lines,
		  const struct km_route *r, struct km_buf *b);

struct km_changes;
/* rows_alone: the format has room for one table. */
void km_make_changes(struct km_page *p, const struct km_changes *c,
		     bool rows_alone);
struct km_side_by_side;
struct km_which;
void km_make_compare(struct km_page *p, const struct km_side_by_side *s,
		     enum km_format f);
void km_make_which(struct km_page *p, const struct km_which *w,
		   enum km_format f);
void km_make_gauge(struct km_page *p, const struct km_gauge *g);

km_sheet_maker km_make_summary, km_make_summary_view, km_html_frontier,
	km_html_report;
km_sheet_maker km_screen_summary, km_make_slots,
	km_make_matches, km_make_shopping, km_make_shortage, km_text_wants,
	km_text_haves, km_make_frontier, km_draw_frontier, km_make_ways,
	km_json_ways, km_make_plan_tables, km_make_readings,
	km_make_reading_slots;
km_sheet_maker km_make_pouch, km_draw_outline, km_html_outline, km_draw_strip,
	km_html_strip;
km_sheet_maker km_make_questions, km_text_questions;
km_sheet_maker km_make_triage, km_make_surplus, km_make_insurance,
	km_make_packing, km_make_card;
km_sheet_maker km_make_jobs, km_make_manifest, km_make_evidence;

#endif
