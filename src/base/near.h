/* SPDX-License-Identifier: MIT */
/*
 * near - which known word was probably meant.
 */
#ifndef KM_BASE_NEAR_H
#define KM_BASE_NEAR_H

#include <stdbool.h>
#include <stddef.h>

#define KM_NEAR_WORD 64		/* longer words are never near anything */

/* Edits (insert, delete, replace, swap neighbours) between two words, ASCII
 * case ignored, hyphen, underscore and blank the same; or limit + 1. */
size_t km_edit_distance(const char *a, const char *b, size_t limit);

/* The best words so far.  A fourth as good shows that none of them is meant:
 * n is 0 again, and only nearer words count from there. */
struct km_near {
	const char *meant;
	const char *best[3];
	size_t n;
	size_t distance;	/* of best; with n 0 the most that counts */
};

/* Start a search; a word counts when it lies within a third of meant's
 * length, at least 1 (common practice). */
void km_near_init(struct km_near *n, const char *meant);
void km_near_offer(struct km_near *n, const char *word);

#endif
