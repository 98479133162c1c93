/* SPDX-License-Identifier: MIT */
#include "trade/size.h"

#include <string.h>

#include "base/num.h"

#define ROOM 128

/* The text behind the number that text starts with: its letters or unit. */
static struct km_slice letters_of(struct km_slice text, bool comma)
{
	struct km_slice rest = km_slice_trim(text);
	struct km_rational r;
	bool fraction;
	int places;

	if (km_mixed_eat(&rest, comma, &r, &fraction, &places) != KM_OK)
		rest.n = 0;
	return km_slice_trim(rest);
}

/*
 * The first of two ends: "1/4" of "1/4 x 5/16 W" takes the letters of the
 * other, and "PH 1" of "PH 1 x PH 2" keeps its own.
 */
static enum km_size_fault parse_first(struct km_slice first,
				      struct km_slice last,
				      const struct km_size_rules *rules,
				      struct km_arena *a, struct km_size *out)
{
	struct km_slice letters = letters_of(last, rules->comma);
	char text[ROOM];

	first = km_slice_trim(first);
	if (letters.n && !letters_of(first, rules->comma).n
	    && first.n + letters.n + 1 < ROOM) {
		memcpy(text, first.p, first.n);
		text[first.n] = ' ';
		memcpy(text + first.n + 1, letters.p, letters.n);
		if (!km_size_parse((struct km_slice){ text, first.n + 1
							      + letters.n },
				   rules, a, out))
			return KM_SIZE_OK;
	}
	return km_size_parse(first, rules, a, out);
}

/* Bytes of a sign between two ends at the front of s; 0: none. */
static size_t between(struct km_slice s)
{
	static const char *const signs[] = { "x", "\xC3\x97", "-", "/",
					     "\xE2\x80\x93" };

	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		struct km_slice rest = s;

		if (km_slice_eat_word(&rest, signs[i]))
			return s.n - rest.n;
	}
	return 0;
}

/* Two ends, cut at the first sign that leaves a size on either side. */
static enum km_size_fault parse_two(struct km_slice s,
				    const struct km_size_rules *rules,
				    struct km_arena *a, struct km_size out[2])
{
	enum km_size_fault fault = KM_SIZE_PAIR;

	for (size_t i = 1; i < s.n; i++) {
		struct km_slice first = { s.p, i }, last = { s.p + i, s.n - i };
		size_t n = between(last);
		enum km_size_fault other;

		if (!n)
			continue;
		last.p += n;
		last.n -= n;
		other = km_size_parse(last, rules, a, &out[1]);
		if (!other)
			other = parse_first(first, last, rules, a, &out[0]);
		if (!other)
			return KM_SIZE_OK;
		if (other == KM_SIZE_NO_MEMORY)
			return other;
		if (fault == KM_SIZE_PAIR)	/* the first that says more */
			fault = other;
	}
	return fault;
}

static enum km_size_fault parse_part(struct km_slice s,
				     const struct km_size_rules *rules,
				     struct km_arena *a, struct km_size *out,
				     uint32_t most, uint32_t *n)
{
	enum km_size_fault fault;
	struct km_size two[2];

	if (!km_slice_trim(s).n)
		return KM_SIZE_EMPTY;
	if (!most)
		return KM_SIZE_TOO_MANY;
	fault = km_size_parse(s, rules, a, out);
	*n = 1;
	if (fault != KM_SIZE_PAIR)
		return fault;
	fault = parse_two(s, rules, a, two);
	if (fault)
		return fault;
	if (most < 2)
		return KM_SIZE_TOO_MANY;
	out[0] = two[0];
	out[1] = two[1];
	*n = 2;
	return KM_SIZE_OK;
}

enum km_size_fault km_size_parse_cell(struct km_slice s,
				      const struct km_size_rules *rules,
				      struct km_arena *a, struct km_size *out,
				      uint32_t most, uint32_t *n)
{
	uint32_t got = 0;
	const char *end;

	s = km_slice_trim(s);
	do {
		uint32_t more = 0;
		enum km_size_fault fault;
		size_t part;

		end = s.n ? memchr(s.p, ';', s.n) : NULL;
		part = end ? (size_t)(end - s.p) : s.n;
		fault = parse_part((struct km_slice){ s.p, part }, rules, a,
				   out + got, most - got, &more);
		if (fault)
			return fault;
		got += more;
		part += end != NULL;
		s.p += part;
		s.n -= part;
	} while (end);
	*n = got;
	return KM_SIZE_OK;
}
