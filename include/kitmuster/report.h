/* SPDX-License-Identifier: MIT */
/*
 * report - an audit as paper: a sheet is a view, a format an encoding.
 *
 * Every figure on a sheet is a member of struct km_audit; nothing is computed
 * here.  Text from files is escaped for where it goes.  Same audit, same
 * bytes.
 */
#ifndef KITMUSTER_REPORT_H
#define KITMUSTER_REPORT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "kitmuster/audit.h"
#include "kitmuster/status.h"

struct km_gauge;

enum km_sheet {
	KM_SHEET_SUMMARY,	/* one screen a kit */
	KM_SHEET_SLOTS,		/* one row a slot */
	KM_SHEET_MATCHES,	/* the best candidates of each slot */
	KM_SHEET_SHOPPING,	/* by seller, totals that add up by hand */
	KM_SHEET_SHORTAGE,	/* open lines only, with room to tick them off */
	KM_SHEET_WANTS,		/* for the pocket: what to look for */
	KM_SHEET_HAVES,		/* for the pocket: what not to buy again */
	KM_SHEET_FRONTIER,	/* points against money */
	KM_SHEET_WAYS,		/* every way of every place; the problem */
	KM_SHEET_POUCH,		/* does it all go in, and what if not */
	KM_SHEET_OUTLINE,	/* each tool at its true size, to print */
	KM_SHEET_SIZE_STRIP,	/* least and most of the jaws wanted */
	KM_SHEET_JOBS,		/* the work, by process in working order */
	KM_SHEET_MANIFEST,	/* for the plater, in two copies */
	KM_SHEET_TRIAGE,	/* where does each tool go */
	KM_SHEET_SURPLUS,	/* what to keep or trade, what to sell */
	KM_SHEET_INSURANCE,	/* each tool of a kit, and its value */
	KM_SHEET_PACKING,	/* pocket by pocket, to tick off */
	KM_SHEET_CARD,		/* for the public and the judge */
	KM_SHEET_QUESTIONS,	/* what to find out next */
	KM_SHEET_EVIDENCE,	/* for a judge: claims and their sources */
	KM_SHEET_REPORT,	/* all that are not apart, on one page */
	KM_SHEETS
};

enum km_format {
	KM_FORMAT_TEXT, KM_FORMAT_CSV, KM_FORMAT_TSV, KM_FORMAT_JSON,
	KM_FORMAT_SVG, KM_FORMAT_HTML,
	KM_FORMAT_JSONL, KM_FORMAT_MARKDOWN,
	KM_FORMAT_TAP, KM_FORMAT_JUNIT, KM_FORMAT_SARIF, KM_FORMAT_GITHUB,
	KM_FORMATS
};

/* What a sheet is called, what it is for, and its formats. */
struct km_sheet_info {
	const char *word;
	const char *help;	/* one line */
	uint32_t formats;	/* bits 1 << enum km_format */
	bool needs_questions;	/* km_questions_ask() after the audit */
	/* set want_money, and so on, of struct km_options */
	bool needs_money, needs_frontier, needs_ceilings, needs_problem;
	bool needs_pouch, needs_jobs, needs_surplus, needs_worth;
	bool needs_margins;
	bool needs_evidence;
	bool apart;		/* no part of the report */
	bool display;		/* to be shown: says what it tells, not what
				 * it is called */
};

const struct km_sheet_info *km_sheet_info(enum km_sheet s);
/* Is the sheet a part of the report?  Each that has html, unless it is
 * apart; what they need, the report needs. */
bool km_report_takes(enum km_sheet s);
const char *km_format_word(enum km_format f);
/* By word, exact; false: no such sheet or format. */
bool km_sheet_find(const char *word, enum km_sheet *out);
bool km_format_find(const char *word, enum km_format *out);
/* Has the pair sense? */
bool km_report_has(enum km_sheet s, enum km_format f);
/* Is it a format of tables: text, csv, tsv, json, jsonl, markdown, html? */
bool km_format_is_of_tables(enum km_format f);

/* Paper of a drawing at true size: 210 x 297 mm, or 215.9 x 279.4 mm. */
enum km_paper_size { KM_PAPER_A4, KM_PAPER_LETTER, KM_PAPER_SIZES };

struct km_report_options {
	/* cells of a line of text; 0: never wrap.  The summary is laid out
	 * for a screen of 24 lines of 80 whatever this says. */
	uint32_t width;
	bool verbose;		/* every reason, and the limits in force */
	bool colour;		/* text only; adds to the words */
	bool plain;		/* text: one record a line, nothing cut */
	bool csv_bom;		/* CSV and TSV: begin with a byte order mark */
	enum km_paper_size paper;
	const struct km_limits *limits;		/* of memory; may be NULL */
};

/* "a4", "letter" */
const char *km_paper_word(enum km_paper_size p);
/* The percentage to print again at, in tenths, where a check bar of 100 mm
 * measures bar_nm: 98.5 mm gives 1015.  0: no bar of a printer's (50 to
 * 200 mm). */
int32_t km_reprint_tenths(int64_t bar_nm);

/* Where a sheet goes; write answers false when it could not. */
struct km_sink {
	bool (*write)(void *ctx, const char *text, size_t n);
	void *ctx;
};

/*
 * Write one sheet.
 *
 * o         NULL means no options
 * errors    KM_EINPUT: the pair has no sense; KM_ENOMEM; KM_EIO: the sink
 *           refused.  Nothing is written unless the whole sheet was made.
 */
enum km_status km_report(const struct km_audit *a, enum km_sheet s,
			 enum km_format f, const struct km_report_options *o,
			 const struct km_sink *to);

/* What is wrong in files, for build logs: KM_FORMAT_SARIF or
 * KM_FORMAT_GITHUB.  The list is sorted first. */
enum km_status km_report_diags(struct km_diags *d, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to);

/* The answer to a question of the bench; text and JSON only. */
enum km_status km_report_gauge(const struct km_gauge *g, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to);

#endif
