/* SPDX-License-Identifier: MIT */
/*
 * mistake - what the YAML scanner stumbled over, in words a user can act on.
 *
 * The scanner's own texts speak of tokens and tell the place where it gave
 * up.  This turns them into messages of ours with the place that needs a
 * change.
 */
#ifndef KM_READ_MISTAKE_H
#define KM_READ_MISTAKE_H

#include <stdbool.h>
#include <stdint.h>

#include "kitmuster/diag.h"

struct km_mistake {
	const char *problem, *context;	/* of the scanner; may be NULL */
	struct km_place at, opened;	/* of problem and context */
	struct km_place end;		/* of the text read so far */
	struct km_place bracket;	/* innermost open one; line 0: none */
	char bracket_is;		/* '[' or '{' */
	char met;			/* the character at `at`; 0: not known */
	bool at_end;			/* the text ends at `at` */
	bool in_document;		/* its first part has been read */
	/* lines of the last scalar or bracket read */
	uint32_t last_line, last_end_line;
	bool last_quoted;
};

/* Adds exactly one message. */
void km_mistake_report(struct km_diags *d, const struct km_mistake *m);

#endif
