/* SPDX-License-Identifier: MIT */
/*
 * json - a whole JSON text as a tree, for what this tool itself has written.
 *
 * Strict: one value; no comments, no commas at the end, no duplicate names, no
 * NUL and no lone half of a surrogate pair.  Numbers stay the text they are,
 * so that 6.40 is not 6.4.  The ceilings of struct km_limits hold: file_bytes,
 * depth, entry_nodes (of the whole text), word_bytes (of a number), key_bytes.
 *
 * source   [rfc-8259]; [rfc-7493] for the names
 */
#ifndef KM_READ_JSON_H
#define KM_READ_JSON_H

#include "base/arena.h"
#include "kitmuster/diag.h"
#include "kitmuster/load.h"

enum km_json_kind {
	KM_JSON_NULL, KM_JSON_TRUE, KM_JSON_FALSE, KM_JSON_NUMBER,
	KM_JSON_STRING, KM_JSON_ARRAY, KM_JSON_OBJECT
};

struct km_json {
	enum km_json_kind kind;
	const char *key;		/* in an object; else NULL */
	const char *text;		/* NUMBER as written, STRING decoded */
	const struct km_json *first;	/* ARRAY, OBJECT */
	const struct km_json *next;	/* of the same array or object */
	struct km_place at;
};

/*
 * Read all of an input.
 *
 * mem       gets the tree
 * d         gets the first mistake
 * out       untouched unless KM_OK is returned
 * errors    KM_EINPUT, KM_EIO (both are in d), KM_ENOMEM
 */
enum km_status km_json_read(struct km_arena *mem, const struct km_input *in,
			    const struct km_limits *lim, struct km_diags *d,
			    const struct km_json **out);

/* The member of an object; NULL: none, or v is no object or NULL. */
const struct km_json *km_json_get(const struct km_json *v, const char *key);
/* The text of a string or number; NULL for all else, and for NULL. */
const char *km_json_text(const struct km_json *v);

#endif
