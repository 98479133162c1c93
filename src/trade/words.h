/* SPDX-License-Identifier: MIT */
/*
 * words - a sorted table of words and the row that each one names.
 *
 * The tables are src/trade/words.def, derived from the names and aliases of
 * data/kinds.def, drives.def, finishes.def and materials.def, folded and
 * sorted, so that a look-up needs no index in memory that changes.  A unit
 * test compares them with their origin and prints what they should hold.
 */
#ifndef KM_TRADE_WORDS_H
#define KM_TRADE_WORDS_H

#include <stddef.h>
#include <stdint.h>

#include "base/str.h"

#define KM_WORD_ROOM 80		/* longer text is no word of ours */

struct km_word {
	const char *word;	/* folded */
	uint16_t row;
};

/* Fold s as km_fold_compare() does; false: longer than the room. */
bool km_word_fold(struct km_slice s, char out[KM_WORD_ROOM]);
/* The row that a word names, or -1. */
int km_word_find(const struct km_word *table, size_t n, struct km_slice s);

#endif
