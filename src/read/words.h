/* SPDX-License-Identifier: MIT */
/*
 * words - texts kept once, and what they were read as.
 *
 * A bench of a million tools has some thousand different kinds, sizes, marks
 * and owners.  Each is stored once, and a kind or size that was parsed is not
 * parsed again.
 *
 * Owner    the texts belong to the arena given to km_words_new() and outlive
 *          the struct; the tables go with km_words_free().
 * Failure  NULL or false when memory runs out.
 */
#ifndef KM_READ_WORDS_H
#define KM_READ_WORDS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "kitmuster/model.h"

struct km_words;

struct km_words *km_words_new(struct km_arena *keep,
			      const struct km_limits *lim);
void km_words_free(struct km_words *w);

/* The one copy of a text, NUL-ended. */
const char *km_words_text(struct km_words *w, const char *p, size_t n);

/* The one copy of n bytes, aligned for any object. */
const void *km_words_bytes(struct km_words *w, const void *p, size_t n);

/*
 * What the text was read as under a tag: the tag is whatever else the reading
 * depends on.  find() answers NULL for a text not kept before.
 */
const union km_value *km_words_find(const struct km_words *w, uintptr_t tag,
				    const char *p, size_t n);
bool km_words_keep(struct km_words *w, uintptr_t tag, const char *p, size_t n,
		   union km_value v);

#endif
