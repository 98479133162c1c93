/* SPDX-License-Identifier: MIT */
#include "trade/size_text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define ROOM 96

void km_mark_put(struct km_rational r, char out[KM_MARK_ROOM])
{
	int64_t whole = r.num / r.den, num = r.num % r.den, den = r.den;
	int64_t a = num, b = den;

	while (a) {			/* the greatest common divisor */
		int64_t rest = b % a;

		b = a;
		a = rest;
	}
	num /= b;
	den /= b;
	if (!num)
		snprintf(out, KM_MARK_ROOM, "%" PRId64, whole);
	else if (!whole)
		snprintf(out, KM_MARK_ROOM, "%" PRId64 "/%" PRId64, num, den);
	else
		snprintf(out, KM_MARK_ROOM, "%" PRId64 "-%" PRId64 "/%" PRId64,
			 whole, num, den);
}

static const char *keep(struct km_arena *a, const char *text)
{
	return km_arena_text(a, text, strlen(text));
}

const char *km_size_text_mark(struct km_arena *a, const char *mark,
			      enum km_system system)
{
	char text[ROOM];

	snprintf(text, sizeof text, "%s %s", mark,
		 system == KM_SYS_W ? "W" : system == KM_SYS_BS ? "BS" : "USS");
	return keep(a, text);
}

/* nm / unit as an exact decimal; unit is 1 mm or 1 in, so six or seven places
 * hold all there is. */
static void put_decimal(char out[KM_MARK_ROOM], int64_t nm, bool inch)
{
	int64_t tenths = inch ? KM_NM_PER_IN / 10 : KM_NM_PER_MM / 10;
	int64_t whole = nm / (tenths * 10), rest = nm % (tenths * 10);
	int n = snprintf(out, KM_MARK_ROOM, "%" PRId64, whole);

	if (rest)
		out[n++] = '.';
	for (int places = 0; rest && places < 9 && n + 1 < KM_MARK_ROOM;
	     places++) {
		out[n++] = (char)('0' + rest / tenths);
		rest = rest % tenths * 10;
	}
	out[n] = '\0';
}

/* Inches as the fraction that tools are struck with, else as a decimal. */
static bool put_inch(char out[KM_MARK_ROOM], int64_t nm)
{
	const int64_t step = KM_NM_PER_IN / 64;

	if (nm % step == 0) {
		km_mark_put((struct km_rational){ nm / step, 64 }, out);
		return true;
	}
	put_decimal(out, nm, true);
	return false;
}

static void put_width(char text[ROOM], const char *unit, int64_t nm, bool inch)
{
	char mark[KM_MARK_ROOM];
	bool fraction = false;

	if (inch)
		fraction = put_inch(mark, nm);
	else
		put_decimal(mark, nm, false);
	if (inch && !fraction)
		unit = "in";
	snprintf(text, ROOM, "%s %s", mark, inch ? unit : "mm");
}

static void put_two(char text[ROOM], const char *between, int64_t nm,
		    int64_t b_nm, bool inch)
{
	char one[KM_MARK_ROOM], two[KM_MARK_ROOM];

	put_decimal(one, nm, inch);
	put_decimal(two, b_nm, inch);
	snprintf(text, ROOM, "%s%s%s %s", one, between, two,
		 inch ? "in" : "mm");
}

static void put_cross(char text[ROOM], const struct km_size *s)
{
	static const char *const names[] = {
		[KM_SYS_PH] = "PH", [KM_SYS_PZ] = "PZ", [KM_SYS_JIS_H] = "JIS H"
	};

	if (s->system == KM_SYS_JIS_S)	/* it has no number */
		snprintf(text, ROOM, "JIS S");
	else
		snprintf(text, ROOM, "%s %" PRId32, names[s->system], s->number);
}

const char *km_size_text(struct km_arena *a, const struct km_size *s,
			 int64_t nm, int64_t b_nm, bool inch)
{
	char text[ROOM], mark[KM_MARK_ROOM];

	switch (s->system) {
	case KM_SYS_BA:
		snprintf(text, sizeof text, "%" PRId32 " BA", s->number);
		break;
	case KM_SYS_THREAD:
		put_decimal(mark, b_nm, false);
		snprintf(text, sizeof text, "M%s", mark);
		break;
	case KM_SYS_PH: case KM_SYS_PZ: case KM_SYS_JIS_H: case KM_SYS_JIS_S:
		put_cross(text, s);
		break;
	case KM_SYS_SLOTTED:
		put_two(text, " x ", nm, b_nm, inch);
		break;
	case KM_SYS_HOOK:
		if (b_nm != nm)
			put_two(text, "-", nm, b_nm, inch);
		else
			put_width(text, "in", nm, inch);
		break;
	case KM_SYS_METRIC: case KM_SYS_AF: case KM_SYS_PLUG:
		put_width(text, "AF", nm, inch);
		break;
	default:
		put_width(text, "in", nm, inch);
		break;
	}
	return keep(a, text);
}
