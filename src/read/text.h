/* SPDX-License-Identifier: MIT */
/*
 * text - the bytes of an input, passed on chunk by chunk once they are known
 * to be clean UTF-8 text.
 *
 * libyaml tells no line for a bad byte, accepts UTF-16 in silence and takes
 * three more characters than an editor does for the end of a line; so all of
 * this is settled here, before it sees the bytes.
 *
 * Memory   none of its own; a stream of any length passes through the buffer
 *          of the caller.
 * Errors   the clean text before a mistake is passed on first, so that a
 *          mistake of YAML in front of it is the one that is reported.
 */
#ifndef KM_READ_TEXT_H
#define KM_READ_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "kitmuster/diag.h"
#include "kitmuster/load.h"

struct km_text {
	const struct km_input *in;
	struct km_diags *d;
	uint64_t file_bytes, item_bytes;	/* ceilings */
	uint64_t total;		/* bytes passed on */
	uint64_t ahead;		/* of these, since the caller set it to 0 */
	enum km_status status;	/* KM_OK until a read has failed */
	bool too_long;		/* failed since ahead reached item_bytes; the
				 * caller knows the place and reports it */

	/* where the next byte stands */
	uint32_t line;		/* from 1 */
	uint32_t column;	/* characters before this chunk in the line */
	size_t from;		/* where in the chunk the line begins */
	unsigned char last;	/* the byte before this chunk */

	/* a UTF-8 sequence that is not complete yet */
	unsigned char lead, low, high;
	unsigned need;		/* bytes to come */
	uint32_t code;
	uint64_t began;		/* offset in the file of its first byte */

	bool table;		/* not YAML: a line may start with % */
	unsigned directive;	/* characters of "%YAML" seen so far */
	bool yaml_seen;		/* one %YAML line has passed */

	struct { bool found; enum km_msg msg; uint32_t column, what; } bad;
	bool ended;		/* read() has answered 0 */
};

/* in and d must live as long as t; lim NULL means the defaults. */
void km_text_init(struct km_text *t, const struct km_input *in,
		  const struct km_limits *lim, struct km_diags *d);

/*
 * Up to n bytes into buf; *got is 0 at the end of the text.  false: the
 * mistake has been reported (but see too_long) and t->status says KM_EINPUT
 * or KM_EIO; later calls fail too.
 */
bool km_text_read(struct km_text *t, unsigned char *buf, size_t n,
		  size_t *got);

#endif
