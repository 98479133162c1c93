/* SPDX-License-Identifier: MIT */
/*
 * encode - tables into bytes, one function a format.
 */
#ifndef KM_REPORT_ENCODE_H
#define KM_REPORT_ENCODE_H

#include "report/page.h"

/* Every table that text shows, one below the other. */
void km_out_text(struct km_page *p);
/* The first data table: RFC 4180, or tab-separated. */
void km_out_csv(struct km_page *p);
void km_out_tsv(struct km_page *p);
/* One object with every data table as an array. */
void km_out_json(struct km_page *p);
/* One object a line, a row each, that says what it is a row of. */
void km_out_jsonl(struct km_page *p);
/* What text shows, as headings, paragraphs and pipe tables. */
void km_out_markdown(struct km_page *p);
/* The same as a document with headings, captions and header cells. */
void km_out_html(struct km_page *p);

/* The first number of everything that is written as JSON. */
#define KM_JSON_VERSION 1

/* For sheets that write their own JSON: a string, or null for NULL; a whole
 * number, as text past 2^53; the keys that every sheet begins with, without a
 * comma after the last. */
void km_json_string(struct km_buf *b, const char *text);
void km_json_integer(struct km_buf *b, int64_t n);
void km_json_begin(struct km_page *p);
void km_json_cell(struct km_buf *b, const struct km_table *t,
		  const struct km_column *c, const struct km_cell *cell);

/* For sheets that lay themselves out: text escaped and wrapped at `width`
 * cells (0: not at all); the first line begins at cell `at`, where the
 * caller has written, later ones after `indent` blanks.  Ends its line. */
void km_wrap(struct km_buf *b, const char *text, size_t at, size_t indent,
	     size_t width);
/* Text escaped for a terminal and measured. */
size_t km_cells(struct km_buf *scratch, const char *text);
/* A word in its tone, if colour is on. */
void km_toned(struct km_buf *b, const char *word, enum km_tone tone,
	      bool colour);

#endif
