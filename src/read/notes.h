/* SPDX-License-Identifier: MIT */
/*
 * notes - tools as they are called out at the bench, one a line:
 *
 *     T-12 open 1/4W 5/16W 148mm mark LARKMOOR black rust 3
 *
 * The number on the tag, the kind, the sizes, then what is seen, in any order;
 * text of several words stands in quotation marks, and what follows `note`
 * goes to the end of the line.  Empty lines and lines that begin with # are
 * passed over.
 */
#ifndef KM_READ_NOTES_H
#define KM_READ_NOTES_H

#include "read/table.h"

struct km_notes {
	struct km_toolrow row;
	struct km_csv csv;
	enum km_status status;
};

enum km_status km_notes_open(struct km_notes *t, struct km_bind *b,
			     const struct km_input *in, struct km_arena *mem);
enum km_table_got km_notes_next(struct km_notes *t, struct km_node **node);
void km_notes_close(struct km_notes *t);

#endif
