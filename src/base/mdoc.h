/* SPDX-License-Identifier: MIT */
/*
 * mdoc - text for a manual page.
 *
 * source   [mdoc-7]
 */
#ifndef KM_BASE_MDOC_H
#define KM_BASE_MDOC_H

#include "base/buf.h"

/* A text of one or more lines, ending its line: a sentence begins a line, no
 * line begins a macro or grows long, the backslash is itself. */
void km_mdoc_text(struct km_buf *b, const char *text);
/* The argument of a macro, in quotes. */
void km_mdoc_word(struct km_buf *b, const char *text);

#endif
