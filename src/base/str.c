/* SPDX-License-Identifier: MIT */
#include "base/str.h"

#include <string.h>

#define EACH4(f, n)  f(n), f((n) + 1), f((n) + 2), f((n) + 3)
#define EACH16(f, n) EACH4(f, n), EACH4(f, (n) + 4), EACH4(f, (n) + 8), \
		     EACH4(f, (n) + 12)
#define EACH64(f, n) EACH16(f, n), EACH16(f, (n) + 16), EACH16(f, (n) + 32), \
		     EACH16(f, (n) + 48)
#define EACH256(f)   EACH64(f, 0), EACH64(f, 64), EACH64(f, 128), EACH64(f, 192)

#define LOWER(c) (unsigned char)((c) + ((c) >= 'A' && (c) <= 'Z' ? 32 : 0))
#define FOLD(c)	 ((c) == '\t' || (c) == '-' || (c) == '_' ? ' ' : LOWER(c))

static const unsigned char lower_of[256] = { EACH256(LOWER) };
static const unsigned char fold_of[256] = { EACH256(FOLD) };

static int lower(char c)
{
	return lower_of[(unsigned char)c];
}

static int fold(char c)
{
	return fold_of[(unsigned char)c];
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* ------------------------------------------------------------------ */
/* Slices                                                              */

struct km_slice km_slice_of(const char *text)
{
	return (struct km_slice){ text, strlen(text) };
}

struct km_slice km_slice_trim(struct km_slice s)
{
	km_slice_skip_blanks(&s);
	while (s.n && is_blank(s.p[s.n - 1]))
		s.n--;
	return s;
}

bool km_slice_is(struct km_slice s, const char *text)
{
	return s.n == strlen(text) && !memcmp(s.p, text, s.n);
}

bool km_slice_eat(struct km_slice *s, char c)
{
	if (!s->n || *s->p != c)
		return false;
	s->p++;
	s->n--;
	return true;
}

bool km_slice_eat_word(struct km_slice *s, const char *word)
{
	size_t n = strlen(word);

	if (n > s->n)
		return false;
	for (size_t i = 0; i < n; i++)
		if (lower(s->p[i]) != lower(word[i]))
			return false;
	s->p += n;
	s->n -= n;
	return true;
}

void km_slice_skip_blanks(struct km_slice *s)
{
	while (s->n && is_blank(*s->p)) {
		s->p++;
		s->n--;
	}
}

/* ------------------------------------------------------------------ */
/* UTF-8                                                               */

int32_t km_utf8_next(struct km_slice *s)
{
	const unsigned char *p = (const unsigned char *)s->p;
	uint32_t code, least;
	size_t len;

	if (!s->n)
		return -1;
	code = p[0];
	s->p++;
	s->n--;
	if (code < 0x80)
		return (int32_t)code;
	if (code < 0xC2 || code > 0xF4)
		return -1;
	len = code < 0xE0 ? 1 : code < 0xF0 ? 2 : 3;	/* bytes to come */
	least = len == 1 ? 0x80 : len == 2 ? 0x800 : 0x10000;
	if (s->n < len)
		return -1;
	code &= 0x3Fu >> len;
	for (size_t i = 1; i <= len; i++) {
		if ((p[i] & 0xC0) != 0x80)
			return -1;
		code = code << 6 | (p[i] & 0x3Fu);
	}
	if (code < least || code > 0x10FFFF || (code >> 11) == 0x1B)
		return -1;
	s->p += len;
	s->n -= len;
	return (int32_t)code;
}

size_t km_utf8_put(uint32_t code, char out[4])
{
	size_t len = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
	static const unsigned char lead[5] = { 0, 0, 0xC0, 0xE0, 0xF0 };

	for (size_t i = len; i-- > 1; code >>= 6)
		out[i] = (char)(0x80 | (code & 0x3F));
	out[0] = (char)(lead[len] | code);
	return len;
}

size_t km_utf8_count(const char *text, size_t n)
{
	const uint64_t ones = 0x0101010101010101u;
	size_t inner = 0, i = 0;	/* continuation bytes, 10xxxxxx */

	for (; n - i >= 8; i += 8) {
		uint64_t w;

		memcpy(&w, text + i, 8);
		w = (w >> 7) & ~(w >> 6) & ones;
		inner += (size_t)(w * ones >> 56);
	}
	for (; i < n; i++)
		inner += ((unsigned char)text[i] & 0xC0) == 0x80;
	return n - inner;
}

static const struct { uint32_t from, to; uint32_t cells; } cell_rows[] = {
#define CELLS(from, to, cells) { from, to, cells },
#include "data/cells.def"
#undef CELLS
};

static size_t cells_of(uint32_t code)
{
	size_t low = 0, high = sizeof cell_rows / sizeof *cell_rows;

	if (code < cell_rows[0].from)
		return 1;
	while (low < high) {
		size_t mid = low + (high - low) / 2;

		if (code > cell_rows[mid].to)
			low = mid + 1;
		else if (code < cell_rows[mid].from)
			high = mid;
		else
			return cell_rows[mid].cells;
	}
	return 1;
}

size_t km_utf8_cells(const char *text, size_t n)
{
	struct km_slice s = { text, n };
	size_t cells = 0;

	while (s.n) {
		int32_t code;

		if ((unsigned char)*s.p < 0x80) {
			s.p++;
			s.n--;
			cells++;
			continue;
		}
		code = km_utf8_next(&s);
		cells += code < 0 ? 1 : cells_of((uint32_t)code);
	}
	return cells;
}

/* ------------------------------------------------------------------ */
/* Folding                                                             */

static void skip_folded_blanks(struct km_slice *s)
{
	while (s->n && fold(*s->p) == ' ') {
		s->p++;
		s->n--;
	}
}

/* The next folded byte, one blank for a run inside; -1 at the end. */
static inline int fold_next(struct km_slice *s)
{
	int c;

	if (!s->n)
		return -1;
	c = fold(*s->p++);
	s->n--;
	if (c != ' ')
		return c;
	skip_folded_blanks(s);
	return s->n ? ' ' : -1;
}

int km_fold_compare(struct km_slice a, struct km_slice b)
{
	int x, y;

	if (a.n == b.n && (!a.n || !memcmp(a.p, b.p, a.n)))
		return 0;
	skip_folded_blanks(&a);
	skip_folded_blanks(&b);
	do {
		x = fold_next(&a);
		y = fold_next(&b);
	} while (x == y && x >= 0);
	return x - y;
}

/* Letters, digits and whatever lies beyond ASCII; -1 is no part of a word. */
static bool in_word(int c)
{
	return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c >= 0x80;
}

/* Does s begin with part and end a word there? */
static bool starts_with_words(struct km_slice s, struct km_slice part)
{
	int last = -1, c;

	while ((c = fold_next(&part)) >= 0) {
		if (fold_next(&s) != c)
			return false;
		last = c;
	}
	return last >= 0 && !(in_word(last) && in_word(fold_next(&s)));
}

bool km_fold_has_words(struct km_slice whole, struct km_slice part)
{
	int before = -1;

	skip_folded_blanks(&whole);
	skip_folded_blanks(&part);
	if (!part.n)
		return false;
	do {
		if (!(in_word(before) && in_word(fold(*part.p)))
		    && starts_with_words(whole, part))
			return true;
		before = fold_next(&whole);
	} while (before >= 0);
	return false;
}

/* ------------------------------------------------------------------ */
/* Hashes: one multiplication for eight bytes                          */

#define HASH_SEED 0x243F6A8885A308D3u	/* fractional digits of pi */

static inline uint64_t mix(uint64_t h, uint64_t word)
{
	/* 2^64 by the golden ratio, odd */
	h = (h ^ word) * 0x9E3779B97F4A7C15u;
	return h ^ h >> 32;
}

uint64_t km_fold_hash(struct km_slice s)
{
	uint64_t h = HASH_SEED, word = 0, n = 0;
	int c;

	skip_folded_blanks(&s);
	while ((c = fold_next(&s)) >= 0) {
		word = word << 8 | (uint64_t)c;
		if (!(++n & 7))
			h = mix(h, word);
	}
	return mix(mix(h, word), n);
}

/* Up to seven bytes in one word. */
static uint64_t few_bytes(const unsigned char *p, size_t n)
{
	uint32_t a, b;

	if (n >= 4) {
		memcpy(&a, p, 4);
		memcpy(&b, p + n - 4, 4);
		return (uint64_t)a << 32 | b;
	}
	if (!n)
		return 0;
	return (uint64_t)p[0] << 16 | (uint64_t)p[n / 2] << 8 | p[n - 1];
}

uint64_t km_hash(const void *p, size_t n)
{
	const unsigned char *at = p;
	uint64_t h = HASH_SEED, word;
	size_t left = n;

	for (; left > 8; left -= 8, at += 8) {
		memcpy(&word, at, 8);
		h = mix(h, word);
	}
	/* the last bytes once more rather than fewer: no call, no loop */
	if (n >= 8)
		memcpy(&word, at + left - 8, 8);
	else
		word = few_bytes(at, n);
	return mix(mix(h, word), n);
}

uint64_t km_case_hash(const char *s)
{
	uint64_t h = HASH_SEED, word = 0, n = 0;

	for (; *s; s++) {
		word = word << 8 | (uint64_t)lower(*s);
		if (!(++n & 7))
			h = mix(h, word);
	}
	return mix(mix(h, word), n);
}

/* ------------------------------------------------------------------ */
/* Ids                                                                 */

int km_case_compare(const char *a, const char *b)
{
	while (*a && lower(*a) == lower(*b)) {
		a++;
		b++;
	}
	return lower(*a) - lower(*b);
}

/* A run of digits: its zeros in front and what follows them. */
struct run { size_t zeros, digits; };

static struct run run_at(const char *s)
{
	struct run r = { 0, 0 };

	while (s[r.zeros] == '0')
		r.zeros++;
	while (is_digit(s[r.zeros + r.digits]))
		r.digits++;
	return r;
}

int km_natural_compare(const char *a, const char *b)
{
	int tie = 0;	/* fewer zeros in front, where first they differ */

	while (*a && *b) {
		if (is_digit(*a) && is_digit(*b)) {
			struct run x = run_at(a), y = run_at(b);
			int order;

			if (x.digits != y.digits)
				return x.digits < y.digits ? -1 : 1;
			order = memcmp(a + x.zeros, b + y.zeros, x.digits);
			if (order)
				return order;
			if (!tie && x.zeros != y.zeros)
				tie = x.zeros < y.zeros ? -1 : 1;
			a += x.zeros + x.digits;
			b += y.zeros + y.digits;
		} else if (*a != *b) {
			break;
		} else {
			a++;
			b++;
		}
	}
	if (*a != *b)
		return (unsigned char)*a < (unsigned char)*b ? -1 : 1;
	return tie;
}
