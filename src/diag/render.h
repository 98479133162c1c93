/* SPDX-License-Identifier: MIT */
/*
 * render - the list of messages as text for people and as JSON.
 *
 * Both are pure functions of the list; sort it first.  Names and texts of
 * files are escaped here.
 */
#ifndef KM_DIAG_RENDER_H
#define KM_DIAG_RENDER_H

#include "base/buf.h"
#include "kitmuster/diag.h"

/*
 * One message:
 *
 *   bench.yaml:7:3: error: key 'id' stands twice [duplicate-key]
 *   bench.yaml:5:3: note: first stands here
 *       hint: remove one of the two
 *
 * source   [gnu-standards] "Formatting Error Messages": line and column from
 *          1, lower case, no full stop
 */
void km_render_one(struct km_buf *b, const struct km_diag *one);

/* What a message says whenever it is given; what it then names as "...". */
void km_render_format(struct km_buf *b, enum km_msg m);

/* All messages, the counts of those that were not kept, and one line such as
 * "3 errors, 1 warning in 2 files".  Nothing for an empty list. */
void km_render_text(struct km_buf *b, const struct km_diags *d);
/* The same without what is less than `least`. */
void km_render_text_from(struct km_buf *b, const struct km_diags *d,
			 enum km_severity least);

/* One object: `messages`, `not_kept` (a count by id), `errors`, `warnings`,
 * `notes`. */
void km_render_json(struct km_buf *b, const struct km_diags *d);

#endif
