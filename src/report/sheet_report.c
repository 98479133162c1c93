/* SPDX-License-Identifier: MIT */
/*
 * report - every sheet that is not apart on one page, with a table of
 * contents; drawings at true size come last, each on a sheet of paper of its
 * own, and each caution is printed once.  It names owners and prices, and so
 * stays in the house.
 */
#include "report/cautions.h"
#include "report/html.h"
#include "report/view.h"

#define CAUTIONS "cautions"

struct report {
	struct km_page *p;
	struct km_report_parts parts;
	struct km_buf out[KM_SHEETS];
};

static bool is_drawing(enum km_sheet s)
{
	return !km_report_has(s, KM_FORMAT_TEXT) &&
	       km_report_has(s, KM_FORMAT_SVG);
}

static void title_of(struct report *r, const char *word)
{
	struct km_page *p = r->p;

	km_buf_clear(&p->line);
	km_view_title(&p->line, word);
	km_html_text(&p->out, p->line.len ? p->line.text : "");
	km_buf_clear(&p->line);
}

/* ------------------------------------------------------------------ */
/* What is in it                                                       */

static void contents_line(struct report *r, const char *word,
			  const char *help)
{
	struct km_buf *b = &r->p->out;

	km_buf_printf(b, "<li><a href=\"#%s\">", word);
	title_of(r, word);
	km_buf_str(b, "</a>: ");
	km_html_text(b, help);
	km_buf_str(b, "</li>\n");
}

static void contents_of(struct report *r, bool drawings)
{
	for (int i = 0; i < KM_SHEETS; i++) {
		const struct km_sheet_info *info =
			km_sheet_info((enum km_sheet)i);

		if (!km_report_takes((enum km_sheet)i) ||
		    is_drawing((enum km_sheet)i) != drawings)
			continue;
		contents_line(r, info->word, info->help);
		if (i == KM_SHEET_SUMMARY)
			contents_line(r, CAUTIONS,
				      "what can hurt in this work");
	}
}

static void contents(struct report *r)
{
	km_buf_str(&r->p->out, "<nav aria-labelledby=\"contents\">\n"
		   "<h2 id=\"contents\">Contents</h2>\n<ol>\n");
	contents_of(r, false);
	contents_of(r, true);
	km_buf_str(&r->p->out, "</ol>\n</nav>\n");
}

/* ------------------------------------------------------------------ */
/* The parts                                                           */

/* On paper a drawing has a page and a heading of its own. */
static void heading(struct report *r, const char *word, bool screen)
{
	km_buf_printf(&r->p->out, "<h2 id=\"%s\"%s>", word,
		      screen ? " class=\"screen\"" : "");
	title_of(r, word);
	km_buf_str(&r->p->out, "</h2>\n");
}

static void cautions(struct report *r)
{
	struct km_page *p = r->p;

	heading(r, CAUTIONS, false);
	km_page_cautions(p, r->parts.cautions, r->parts.regulated);
	p->report = &r->parts;	/* one table: no heading of its own */
	km_html_tables(p);
	p->report = NULL;
	if (!r->parts.cautions && !r->parts.regulated)
		km_buf_str(&p->out, "<p>Nothing in this report calls for a "
			   "caution of its own. Local rules come first.</p>\n");
}

static void part(struct report *r, enum km_sheet s)
{
	const struct km_buf *made = &r->out[s];

	heading(r, km_sheet_info(s)->word, is_drawing(s));
	if (made->len && !km_buf_failed(made))
		km_buf_add(&r->p->out, made->text, made->len);
	else
		km_buf_str(&r->p->out, "<p>Nothing to show.</p>\n");
	if (s == KM_SHEET_SUMMARY)
		cautions(r);
}

static void parts_of(struct report *r, bool drawings)
{
	for (int i = 0; i < KM_SHEETS; i++)
		if (km_report_takes((enum km_sheet)i) &&
		    is_drawing((enum km_sheet)i) == drawings)
			part(r, (enum km_sheet)i);
}

/* All parts are made before the first is written: the cautions are theirs. */
void km_html_report(struct km_page *p)
{
	struct report r = { .p = p };

	for (int i = 0; i < KM_SHEETS; i++)
		if (km_report_takes((enum km_sheet)i))
			km_page_part(p, (enum km_sheet)i, &r.parts,
				     &r.out[i]);
	km_html_open(p, NULL);
	km_buf_str(&p->out, "<p class=\"house\"><strong>For the house.</strong> "
		   "This page names owners, lenders and prices. For the "
		   "plater, the post, a stall or a display print the sheet "
		   "that is meant for it.</p>\n");
	contents(&r);
	parts_of(&r, false);
	parts_of(&r, true);
	km_html_close(p);
}
