/* SPDX-License-Identifier: MIT */
#include "base/num.h"

#include <assert.h>

#define MOST_DIGITS 15

__extension__ typedef __int128 wide;

bool km_add(int64_t a, int64_t b, int64_t *sum)
{
	return !__builtin_add_overflow(a, b, sum);
}

bool km_sub(int64_t a, int64_t b, int64_t *difference)
{
	return !__builtin_sub_overflow(a, b, difference);
}

bool km_mul(int64_t a, int64_t b, int64_t *product)
{
	return !__builtin_mul_overflow(a, b, product);
}

bool km_mul_div(int64_t a, int64_t b, int64_t c, int64_t *out)
{
	wide product = (wide)a * b, quotient, rest;

	assert(c > 0);
	quotient = product / c;		/* towards zero */
	rest = product % c;		/* the sign of the product */
	if (rest >= c - rest)
		quotient++;
	else if (-rest >= c + rest)
		quotient--;
	if (quotient < INT64_MIN || quotient > INT64_MAX)
		return false;
	*out = (int64_t)quotient;
	return true;
}

int km_rational_compare(struct km_rational a, struct km_rational b)
{
	wide left = (wide)a.num * b.den, right = (wide)b.num * a.den;

	return (left > right) - (left < right);
}

/* ------------------------------------------------------------------ */

static bool digit_at(const struct km_slice *s, size_t i)
{
	return i < s->n && s->p[i] >= '0' && s->p[i] <= '9';
}

/* Is the byte at i a decimal sign?  Two points are a range, and a comma
 * without a digit behind it ends a list item. */
static bool sign_at(const struct km_slice *s, size_t i, bool comma)
{
	if (i >= s->n)
		return false;
	if (s->p[i] == '.')
		return i + 1 >= s->n || s->p[i + 1] != '.';
	return comma && s->p[i] == ',' && digit_at(s, i + 1);
}

/* The digits of s from i on go to *value and are counted; beyond MOST_DIGITS
 * only the count goes on. */
static size_t digits_at(const struct km_slice *s, size_t i, int64_t *value,
			int *count)
{
	for (; digit_at(s, i); i++)
		if (++*count <= MOST_DIGITS)
			*value = *value * 10 + (s->p[i] - '0');
	return i;
}

/* As km_decimal_eat(), and whether a decimal sign was written. */
static enum km_status decimal_eat(struct km_slice *s, bool comma,
				  struct km_rational *out, int *places,
				  bool *sign)
{
	struct km_rational r = { 0, 1 };
	int before = 0, all;
	size_t i = digits_at(s, 0, &r.num, &before);

	all = before;
	*sign = sign_at(s, i, comma);
	if (*sign)
		i = digits_at(s, i + 1, &r.num, &all);
	if (!all)
		return KM_EINPUT;
	if (all > MOST_DIGITS)
		return KM_ERANGE;
	for (int k = before; k < all; k++)
		r.den *= 10;
	s->p += i;
	s->n -= i;
	*out = r;
	*places = all - before;
	return KM_OK;
}

enum km_status km_decimal_eat(struct km_slice *s, bool comma,
			      struct km_rational *out, int *places)
{
	bool sign;

	return decimal_eat(s, comma, out, places, &sign);
}

/* The signs for fractions, U+00BC to U+00BE and U+2150 to U+215E. */
static bool fraction_sign_eat(struct km_slice *s, struct km_rational *out)
{
	static const struct { int32_t code; int8_t num, den; } signs[] = {
		{ 0xBC, 1, 4 },	  { 0xBD, 1, 2 },   { 0xBE, 3, 4 },
		{ 0x2150, 1, 7 }, { 0x2151, 1, 9 }, { 0x2152, 1, 10 },
		{ 0x2153, 1, 3 }, { 0x2154, 2, 3 }, { 0x2155, 1, 5 },
		{ 0x2156, 2, 5 }, { 0x2157, 3, 5 }, { 0x2158, 4, 5 },
		{ 0x2159, 1, 6 }, { 0x215A, 5, 6 }, { 0x215B, 1, 8 },
		{ 0x215C, 3, 8 }, { 0x215D, 5, 8 }, { 0x215E, 7, 8 },
	};
	struct km_slice rest = *s;
	int32_t code = km_utf8_next(&rest);

	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
		if (signs[i].code != code)
			continue;
		*out = (struct km_rational){ signs[i].num, signs[i].den };
		*s = rest;
		return true;
	}
	return false;
}

/* "/" or U+2044 (fraction slash) with a digit behind it */
static bool slash_eat(struct km_slice *s)
{
	struct km_slice rest = *s;
	int32_t code = km_utf8_next(&rest);

	if ((code != '/' && code != 0x2044) || !digit_at(&rest, 0))
		return false;
	*s = rest;
	return true;
}

/* The digits at the front of s as a whole number. */
static enum km_status whole_eat(struct km_slice *s, int64_t *out)
{
	int count = 0;
	int64_t v = 0;
	size_t n = digits_at(s, 0, &v, &count);

	if (!count)
		return KM_EINPUT;
	if (count > MOST_DIGITS)
		return KM_ERANGE;
	s->p += n;
	s->n -= n;
	*out = v;
	return KM_OK;
}

/* "n/d" off the front; EINPUT when it is none, s then untouched */
static enum km_status fraction_eat(struct km_slice *s, struct km_rational *out)
{
	struct km_slice rest = *s;
	struct km_rational r;
	enum km_status st = whole_eat(&rest, &r.num);

	if (st != KM_OK)
		return st;
	if (!slash_eat(&rest))
		return KM_EINPUT;
	st = whole_eat(&rest, &r.den);
	if (st != KM_OK)
		return st;
	if (!r.den)
		return KM_ERANGE;
	*s = rest;
	*out = r;
	return KM_OK;
}

/* The fraction of a mixed number, behind its whole part: "1/8" after blanks
 * or one hyphen, or a sign after blanks or nothing. */
static enum km_status mixed_part_eat(struct km_slice *s, struct km_rational *out)
{
	struct km_slice rest = *s;
	enum km_status st;

	km_slice_skip_blanks(&rest);
	if (fraction_sign_eat(&rest, out)) {
		*s = rest;
		return KM_OK;
	}
	if (rest.n == s->n && !km_slice_eat(&rest, '-'))
		return KM_EINPUT;
	st = fraction_eat(&rest, out);
	if (st == KM_OK && (!out->num || out->num >= out->den))
		st = KM_EINPUT;		/* "1 9/8" is no mixed number */
	if (st == KM_OK)
		*s = rest;
	return st;
}

enum km_status km_mixed_eat(struct km_slice *s, bool comma,
			    struct km_rational *out, bool *fraction,
			    int *places)
{
	struct km_slice rest = *s;
	struct km_rational whole, part;
	int written = 0;
	bool sign = false;
	enum km_status st;

	if (fraction_sign_eat(&rest, &part))
		goto fraction;
	st = fraction_eat(&rest, &part);
	if (st == KM_OK)
		goto fraction;
	if (st != KM_EINPUT)
		return st;
	st = decimal_eat(&rest, comma, &whole, &written, &sign);
	if (st != KM_OK)
		return st;
	st = sign ? KM_EINPUT : mixed_part_eat(&rest, &part);
	if (st == KM_EINPUT) {		/* nothing more: a plain number */
		*s = rest;
		*out = whole;
		*fraction = false;
		*places = written;
		return KM_OK;
	}
	if (st != KM_OK || !km_mul(whole.num, part.den, &whole.num)
	    || !km_add(part.num, whole.num, &part.num))
		return KM_ERANGE;
fraction:
	*s = rest;
	*out = part;
	*fraction = true;
	*places = 0;
	return KM_OK;
}

enum km_status km_integer(struct km_slice s, int64_t *out)
{
	int64_t v = 0;
	bool fits = true;

	if (!s.n)
		return KM_EINPUT;
	for (size_t i = 0; i < s.n; i++) {
		if (!digit_at(&s, i))
			return KM_EINPUT;
		fits = fits && km_mul(v, 10, &v) && km_add(v, s.p[i] - '0', &v);
	}
	if (!fits)
		return KM_ERANGE;
	*out = v;
	return KM_OK;
}
