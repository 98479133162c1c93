/* SPDX-License-Identifier: MIT */
/*
 * view - a table as people see it, for the formats that have real tables:
 * which columns, which of them names the row, what stands above.
 *
 * Text that a page shows is raw here; the encoder escapes it.
 */
#ifndef KM_REPORT_VIEW_H
#define KM_REPORT_VIEW_H

#include "report/page.h"

struct km_view {
	const struct km_table *t;
	uint32_t *column;	/* the shown ones */
	uint32_t n;
	uint32_t head;		/* index into column: the name of a row */
	uint32_t rows;
	/* the one section that heads all the rows, or NULL */
	const struct km_row *caption;
};

/* False: people are not shown the table, or it has nothing to show. */
bool km_view_of(struct km_page *p, const struct km_table *t,
		struct km_view *v);
/* Is the row, or the section, to be shown? */
bool km_view_shows(const struct km_row *r);
/* Does a row follow the section, before any other section? */
bool km_view_heads(const struct km_row *section);
/* Is the section before the first row or behind the last, so that it is a
 * paragraph? */
bool km_view_outside(const struct km_view *v, const struct km_row *section);
/* One column alone is a list, without its name. */
bool km_view_is_list(const struct km_view *v);

/* Raw: "Not to do" for the key do_not, "Slots" for slots. */
void km_view_title(struct km_buf *b, const char *key);
/* Are people shown this table of the page, and no other? */
bool km_view_is_alone(struct km_page *p, const struct km_table *t);
/* Raw: what the sheet is for, above its only table; else the table's title. */
void km_view_heading(struct km_buf *b, struct km_page *p,
		     const struct km_table *t);
/* Raw: "Slots: Garnock 3". */
bool km_view_is_display(const struct km_page *p);
void km_view_page_title(struct km_buf *b, const struct km_page *p);
/* A cell that is no list, raw. */
void km_view_cell(struct km_buf *b, const struct km_table *t,
		  const struct km_column *c, const struct km_cell *cell);

#endif
