/* SPDX-License-Identifier: MIT */
/*
 * escape - text from files and operands, made harmless for where it goes.
 *
 * Every function appends to a buffer and takes n bytes of any kind: valid
 * UTF-8 or not, with control characters or not.
 *
 * source   [cwe-150] control sequences; [rfc-8259] section 7; [rfc-4180]
 *          section 2; [cwe-1236] formulas in spreadsheets; [xml-1.0]
 *          section 2.2
 */
#ifndef KM_BASE_ESCAPE_H
#define KM_BASE_ESCAPE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/buf.h"

/*
 * For a terminal, on one line: C0 (line feed and tab too), DEL and invalid
 * bytes as \x1b; C1, line separators and marks of direction as \u202e.  All
 * else, the backslash too, stays.
 */
void km_escape_terminal(struct km_buf *b, const char *text, size_t n);

/* Between the quotes of a JSON string; the result is ASCII where a character
 * could act on a terminal or end a script, and always valid UTF-8. */
void km_escape_json(struct km_buf *b, const char *text, size_t n);

/* One text field of CSV with its quotes, if it needs any; a text that a
 * spreadsheet would take for a formula gets a leading apostrophe.  Not for
 * columns of numbers. */
void km_escape_csv(struct km_buf *b, const char *text, size_t n);

/* Content or quoted attribute of HTML (SVG) and of XML 1.0; characters that
 * may not stand there, and invalid bytes, become U+FFFD. */
void km_escape_html(struct km_buf *b, const char *text, size_t n);
void km_escape_xml(struct km_buf *b, const char *text, size_t n);

/* A line of a workflow command; property: between `key=` and `,`. */
void km_escape_github(struct km_buf *b, const char *text, size_t n,
		      bool property);

/* Characters that turn the direction of text: U+061C, U+200E, U+200F,
 * U+202A to U+202E, U+2066 to U+2069 [uts-39]. */
bool km_is_bidi(uint32_t code);

#endif
