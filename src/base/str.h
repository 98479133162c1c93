/* SPDX-License-Identifier: MIT */
/*
 * str - slices of text, UTF-8, and the folding by which words are compared.
 *
 * A slice points into somebody else's text and owns nothing.
 */
#ifndef KM_BASE_STR_H
#define KM_BASE_STR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct km_slice { const char *p; size_t n; };

struct km_slice km_slice_of(const char *text);
struct km_slice km_slice_trim(struct km_slice s);	/* blanks and tabs */
bool km_slice_is(struct km_slice s, const char *text);	/* exact */
/* Take one character off the front; false when s is empty or differs. */
bool km_slice_eat(struct km_slice *s, char c);
/* Take word off the front, ASCII case ignored; more letters may follow. */
bool km_slice_eat_word(struct km_slice *s, const char *word);
void km_slice_skip_blanks(struct km_slice *s);

/*
 * One code point off the front of valid or invalid UTF-8: its value, and
 * s moved past it; -1 for an invalid byte (one byte is taken), also for
 * surrogates, overlong forms and values past U+10FFFF.
 */
int32_t km_utf8_next(struct km_slice *s);
/* Bytes written to out (1 to 4). */
size_t km_utf8_put(uint32_t code, char out[4]);
/* Code points of valid UTF-8. */
size_t km_utf8_count(const char *text, size_t n);
/* Terminal cells: combining marks 0, wide East Asian 2 [unicode-ucd], all
 * others 1, an invalid byte too. */
size_t km_utf8_cells(const char *text, size_t n);

/*
 * Compare as the words of this trade are compared: ASCII case ignored; runs
 * of blanks, hyphens and underscores are one blank; none at the ends.
 * Returns <0, 0, >0.
 *
 * Hashes of equal words are equal.  They differ between machines, so that
 * nothing may be ordered by them or kept in a file.
 */
int km_fold_compare(struct km_slice a, struct km_slice b);
uint64_t km_fold_hash(struct km_slice s);
/* Does whole, folded, contain part, folded, as whole words?  Letters, digits
 * and bytes past ASCII make words: "LM" is in "LM/5" and not in "LMS"; an
 * empty part is in nothing. */
bool km_fold_has_words(struct km_slice whole, struct km_slice part);
uint64_t km_hash(const void *p, size_t n);
/* ASCII case ignored, nothing else folded: for ids. */
int km_case_compare(const char *a, const char *b);
uint64_t km_case_hash(const char *s);
/* Order of ids as people count: digit runs by value ("T-9" before "T-10"),
 * other characters as bytes; of two that differ in leading zeros alone the
 * one with fewer, where they first differ.  Never 0 for different strings. */
int km_natural_compare(const char *a, const char *b);

#endif
