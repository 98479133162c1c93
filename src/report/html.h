/* SPDX-License-Identifier: MIT */
/*
 * html - one document, or a part of one: headings in order, tables with
 * captions and header cells, words rather than colour, no script and nothing
 * that is fetched.
 *
 * A page whose `report` is set is a part: it opens and closes no document,
 * and its headings are a level lower.
 *
 * source   [wcag-2.2] 1.1.1, 1.3.1, 1.4.1, 1.4.3, 1.4.10, 2.4.2, 3.1.1;
 *          [html] for what may stand where; [css-page-3] for the page box
 */
#ifndef KM_REPORT_HTML_H
#define KM_REPORT_HTML_H

#include "report/page.h"

/* Up to and with the h1, "Slots: Garnock 3".  drawing: its title instead;
 * pages of true size have their own headings, so that it is not printed. */
void km_html_open(struct km_page *p, const char *drawing);
void km_html_close(struct km_page *p);
/* Text from a file: one line, nothing in it acts. */
void km_html_text(struct km_buf *b, const char *raw);
/* Every table of the page that people are shown. */
void km_html_tables(struct km_page *p);
/* What p->out holds as laid out text, as it stands; and in a document. */
void km_html_pre(struct km_page *p);

#endif
