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
#include <string.h>

#include "base/arena.h"
#include "kitmuster/model.h"

struct km_words;

/* Are n bytes the same?  For the short words of a file, some hundred times a
 * tool, which a call of memcmp() would take twice as long to compare. */
static inline bool km_same_bytes(const char *a, const char *b, size_t n)
{
	uint64_t x, y, v, w;

	while (n > 16) {
		memcpy(&x, a, 8);
		memcpy(&y, a + 8, 8);
		memcpy(&v, b, 8);
		memcpy(&w, b + 8, 8);
		if (x != v || y != w)
			return false;
		a += 16;
		b += 16;
		n -= 16;
	}
	if (n >= 8) {
		memcpy(&x, a, 8);
		memcpy(&y, b, 8);
		memcpy(&v, a + n - 8, 8);
		memcpy(&w, b + n - 8, 8);
		return x == y && v == w;
	}
	if (n >= 4) {
		x = y = v = w = 0;
		memcpy(&x, a, 4);
		memcpy(&y, b, 4);
		memcpy(&v, a + n - 4, 4);
		memcpy(&w, b + n - 4, 4);
		return x == y && v == w;
	}
	while (n--)
		if (a[n] != b[n])
			return false;
	return true;
}

/* Copy n bytes that do not overlap, as quickly. */
static inline void km_copy_bytes(char *to, const char *from, size_t n)
{
	uint64_t x, y;
	uint32_t v, w;

	if (n > 16) {
		memcpy(to, from, n);
	} else if (n >= 8) {
		memcpy(&x, from, 8);
		memcpy(&y, from + n - 8, 8);
		memcpy(to, &x, 8);
		memcpy(to + n - 8, &y, 8);
	} else if (n >= 4) {
		memcpy(&v, from, 4);
		memcpy(&w, from + n - 4, 4);
		memcpy(to, &v, 4);
		memcpy(to + n - 4, &w, 4);
	} else {
		while (n--)
			to[n] = from[n];
	}
}

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
