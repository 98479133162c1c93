/* SPDX-License-Identifier: MIT */
#include "unit/length.h"

#include <assert.h>

#include "base/num.h"

#define PRIME	     0x2032
#define DOUBLE_PRIME 0x2033
#define CLOSE_QUOTE  0x201D	/* what word processors make of " */
#define MINUS	     0x2212
#define PLUS_MINUS   0xB1

/* A number as written and the length it is in the unit `unit` nm. */
struct figure {
	struct km_rational value;
	int64_t unit;		/* nm; 0: none was written */
	int places;		/* decimals; 0: whole or a fraction */
	int64_t nm;		/* set by settle() */
};

static bool code_eat(struct km_slice *s, int32_t code)
{
	struct km_slice rest = *s;

	if (km_utf8_next(&rest) != code)
		return false;
	*s = rest;
	return true;
}

/* The sign itself, ASCII or Unicode. */
static bool minus_eat(struct km_slice *s)
{
	return km_slice_eat(s, '-') || code_eat(s, MINUS);
}

static bool starts_number(struct km_slice s)
{
	return s.n && ((*s.p >= '0' && *s.p <= '9')
		       || (*s.p == '.' && s.n > 1 && s.p[1] >= '0'
			   && s.p[1] <= '9'));
}

static bool comma_ahead(struct km_slice s)
{
	return km_slice_eat(&s, ',') && s.n && *s.p >= '0' && *s.p <= '9';
}

/* A unit off the front of s, blanks before it too: its nm, or 0 with s
 * untouched. */
static int64_t unit_eat(struct km_slice *s)
{
	struct km_slice rest = *s;
	int64_t nm = 0;

	km_slice_skip_blanks(&rest);
	if (km_slice_eat_word(&rest, "mm"))
		nm = KM_NM_PER_MM;
	else if (km_slice_eat_word(&rest, "cm"))
		nm = 10 * (int64_t)KM_NM_PER_MM;
	else if (km_slice_eat(&rest, 'm'))
		nm = 1000 * (int64_t)KM_NM_PER_MM;
	else if (km_slice_eat_word(&rest, "inches")
		 || km_slice_eat_word(&rest, "inch")
		 || km_slice_eat_word(&rest, "in")
		 || km_slice_eat(&rest, '"') || code_eat(&rest, DOUBLE_PRIME)
		 || code_eat(&rest, CLOSE_QUOTE)
		 || km_slice_eat_word(&rest, "''")
		 || (code_eat(&rest, PRIME) && code_eat(&rest, PRIME)))
		nm = KM_NM_PER_IN;
	if (nm)
		*s = rest;
	return nm;
}

/* A number and, if there is one, its unit off the front of s. */
static enum km_length_fault figure_eat(struct km_slice *s, bool comma,
				       struct figure *out)
{
	struct km_slice rest;
	bool fraction;

	km_slice_skip_blanks(s);
	rest = *s;
	if (minus_eat(&rest)) {
		km_slice_skip_blanks(&rest);
		return starts_number(rest) ? KM_LENGTH_NEGATIVE
					   : KM_LENGTH_NO_NUMBER;
	}
	if (!comma && comma_ahead(*s))
		return KM_LENGTH_COMMA;
	switch (km_mixed_eat(s, comma, &out->value, &fraction,
			     &out->places)) {
	case KM_OK:
		break;
	case KM_ERANGE:
		return KM_LENGTH_RANGE;
	default:
		return KM_LENGTH_NO_NUMBER;
	}
	if (!comma && comma_ahead(*s))
		return KM_LENGTH_COMMA;
	out->unit = unit_eat(s);
	return KM_LENGTH_OK;
}

/* The length of f, which has a unit by now. */
static enum km_length_fault settle(struct figure *f)
{
	int64_t nm;

	if (!km_mul_div(f->value.num, f->unit, f->value.den, &nm)
	    || nm > KM_LEN_MAX_NM)
		return KM_LENGTH_RANGE;
	if (km_rational_compare((struct km_rational){ nm, f->unit }, f->value))
		return KM_LENGTH_NOT_EXACT;
	f->nm = nm;
	return KM_LENGTH_OK;
}

static int64_t bare_unit(const struct km_length_rules *rules)
{
	switch (rules->bare) {
	case KM_UNIT_MM:
		return KM_NM_PER_MM;
	case KM_UNIT_IN:
		return KM_NM_PER_IN;
	default:
		return 0;
	}
}

/* An inch rule is divided in sixteenths, and fractions on it are written in
 * lowest terms: 7 in and 6 1/2 in are known as well as 6 7/16 in. */
#define RULE_STEP 16

/* Half of the last digit's worth, or of the fraction's step, up to whole nm. */
static int32_t half_step(const struct figure *f)
{
	int64_t den = f->value.den;

	if (f->unit == KM_NM_PER_IN && !f->places && den < RULE_STEP)
		den = RULE_STEP;
	return (int32_t)((f->unit + 2 * den - 1) / (2 * den));
}

enum km_length_fault km_reading_parse(struct km_slice s,
				      const struct km_length_rules *rules,
				      struct km_span *out)
{
	struct figure f;
	enum km_length_fault fault = figure_eat(&s, rules->comma, &f);
	int32_t half;

	if (fault)
		return fault;
	if (km_slice_trim(s).n)
		return KM_LENGTH_TRAILING;
	if (!f.unit)
		f.unit = bare_unit(rules);
	if (!f.unit)
		return KM_LENGTH_NO_UNIT;
	fault = settle(&f);
	if (fault)
		return fault;
	if (!f.nm && !rules->zero)
		return KM_LENGTH_ZERO;
	half = half_step(&f);
	*out = (struct km_span){ f.nm, half, half };
	return KM_LENGTH_OK;
}

/* ------------------------------------------------------------------ */
/* Requirements                                                        */

/* What may stand behind the nominal length. */
enum limits { NO_LIMITS, BOTH_WAYS, UP_AND_DOWN, UP_TO };

struct requirement {
	struct figure at, plus, minus;	/* UP_TO: plus is the upper end */
	enum limits limits;
};

/* "+-", "+/-" or the sign */
static bool both_ways_eat(struct km_slice *s)
{
	return km_slice_eat_word(s, "+-") || km_slice_eat_word(s, "+/-")
	       || code_eat(s, PLUS_MINUS);
}

/* A figure of the limits: its faults are all theirs, but for a comma. */
static enum km_length_fault tolerance_eat(struct km_slice *s, bool comma,
					  struct figure *out)
{
	enum km_length_fault fault = figure_eat(s, comma, out);

	return fault && fault != KM_LENGTH_COMMA ? KM_LENGTH_TOLERANCE : fault;
}

/* Behind "+": "5/-0" or "5 -0". */
static enum km_length_fault up_and_down_eat(struct km_slice *s, bool comma,
					    struct requirement *r)
{
	enum km_length_fault fault = tolerance_eat(s, comma, &r->plus);

	if (fault)
		return fault;
	km_slice_skip_blanks(s);
	if (km_slice_eat(s, '/'))
		km_slice_skip_blanks(s);
	if (!minus_eat(s))
		return KM_LENGTH_TOLERANCE;
	return tolerance_eat(s, comma, &r->minus);
}

static enum km_length_fault limits_eat(struct km_slice *s, bool comma,
				       struct requirement *r)
{
	struct km_slice rest;

	km_slice_skip_blanks(s);
	r->limits = NO_LIMITS;
	if (!s->n)
		return KM_LENGTH_OK;
	if (both_ways_eat(s)) {
		r->limits = BOTH_WAYS;
		return tolerance_eat(s, comma, &r->plus);
	}
	if (km_slice_eat(s, '+')) {
		r->limits = UP_AND_DOWN;
		return up_and_down_eat(s, comma, r);
	}
	if (km_slice_eat_word(s, "..")) {
		r->limits = UP_TO;
		return tolerance_eat(s, comma, &r->plus);
	}
	rest = *s;
	return minus_eat(&rest) && starts_number(rest) ? KM_LENGTH_TOLERANCE
						       : KM_LENGTH_TRAILING;
}

/* One unit serves all figures that have none: the value's, else the last
 * one written ("146..151 mm"), else the bare one. */
static bool share_unit(struct requirement *r,
		       const struct km_length_rules *rules)
{
	int64_t unit = r->at.unit;

	if (!unit && r->limits == UP_AND_DOWN)
		unit = r->minus.unit;
	if (!unit && r->limits != NO_LIMITS)
		unit = r->plus.unit;
	if (!unit)
		unit = bare_unit(rules);
	if (!r->at.unit)
		r->at.unit = unit;
	if (!r->plus.unit)
		r->plus.unit = unit;
	if (!r->minus.unit)
		r->minus.unit = unit;
	return unit != 0;
}

/* A tolerance in nm. */
static enum km_length_fault settle_tolerance(struct figure *f, int32_t *out)
{
	enum km_length_fault fault = settle(f);

	if (fault == KM_LENGTH_RANGE || (!fault && f->nm > INT32_MAX))
		return KM_LENGTH_TOLERANCE;
	*out = (int32_t)f->nm;
	return fault;
}

/* [choice] 10 per cent, at most 2 mm, up to 100 mm; 2 per cent above; at most
 * 2 m, at 100 m */
static int32_t assumed_tolerance(int64_t nm)
{
	if (nm > KM_MM(100))
		return (int32_t)(nm / 50);
	return (int32_t)(nm / 10 < KM_MM(2) ? nm / 10 : KM_MM(2));
}

/* low..high as the middle, rounded down to whole nm, and what is left */
static enum km_length_fault settle_range(struct requirement *r,
					 struct km_span *out)
{
	enum km_length_fault fault = settle(&r->plus);
	int64_t low = r->at.nm, high = r->plus.nm;

	if (fault)
		return fault;
	if (low > high || high - low > INT32_MAX)
		return KM_LENGTH_TOLERANCE;
	out->nm = low + (high - low) / 2;
	out->minus_nm = (int32_t)(out->nm - low);
	out->plus_nm = (int32_t)(high - out->nm);
	return KM_LENGTH_OK;
}

static enum km_length_fault settle_limits(struct requirement *r,
					  struct km_span *out)
{
	enum km_length_fault fault;

	out->nm = r->at.nm;
	switch (r->limits) {
	case BOTH_WAYS:
		fault = settle_tolerance(&r->plus, &out->plus_nm);
		out->minus_nm = out->plus_nm;
		return fault;
	case UP_AND_DOWN:
		fault = settle_tolerance(&r->plus, &out->plus_nm);
		if (!fault)
			fault = settle_tolerance(&r->minus, &out->minus_nm);
		return fault;
	case UP_TO:
		return settle_range(r, out);
	default:
		out->plus_nm = out->minus_nm = assumed_tolerance(out->nm);
		return KM_LENGTH_OK;
	}
}

enum km_length_fault km_requirement_parse(struct km_slice s,
					  const struct km_length_rules *rules,
					  struct km_span *out, bool *assumed)
{
	struct requirement r = { .limits = NO_LIMITS };
	struct km_span span = { 0, 0, 0 };
	enum km_length_fault fault = figure_eat(&s, rules->comma, &r.at);

	if (!fault)
		fault = limits_eat(&s, rules->comma, &r);
	if (fault)
		return fault;
	if (km_slice_trim(s).n)
		return KM_LENGTH_TRAILING;
	if (!share_unit(&r, rules))
		return KM_LENGTH_NO_UNIT;
	fault = settle(&r.at);
	if (fault)
		return fault;
	if (!r.at.nm && !rules->zero)
		return KM_LENGTH_ZERO;
	fault = settle_limits(&r, &span);
	if (fault)
		return fault;
	*out = span;
	*assumed = r.limits == NO_LIMITS;
	return KM_LENGTH_OK;
}

bool km_span_meets(struct km_span a, struct km_span b)
{
	return km_span_low(a) <= km_span_high(b)
	       && km_span_low(b) <= km_span_high(a);
}

/* ------------------------------------------------------------------ */
/* Printing                                                            */

/* nm in mm with `places` decimals; `fixed` keeps the trailing zeros. */
static void put_mm(struct km_buf *b, int64_t nm, int places, bool fixed)
{
	int64_t scale = 1, units;	/* units of 10^-places mm */
	uint64_t whole, rest;
	char digits[6];

	assert(places >= 0 && places <= 6);
	for (int i = 0; i < places; i++)
		scale *= 10;
	if (!km_mul_div(nm, scale, KM_NM_PER_MM, &units))
		return;		/* not reached: scale <= KM_NM_PER_MM */
	whole = units < 0 ? 0 - (uint64_t)units : (uint64_t)units;
	rest = whole % (uint64_t)scale;
	whole /= (uint64_t)scale;
	if (units < 0)
		km_buf_char(b, '-');
	km_buf_int(b, (int64_t)whole);
	for (int i = places; i-- > 0; rest /= 10)
		digits[i] = (char)('0' + rest % 10);
	while (!fixed && places && digits[places - 1] == '0')
		places--;
	if (places) {
		km_buf_char(b, '.');
		km_buf_add(b, digits, (size_t)places);
	}
}

void km_buf_mm(struct km_buf *b, int64_t nm, int places)
{
	put_mm(b, nm, places, false);
}

void km_buf_mm_fixed(struct km_buf *b, int64_t nm, int places)
{
	put_mm(b, nm, places, true);
}

void km_buf_span(struct km_buf *b, struct km_span s)
{
	km_buf_mm(b, s.nm, 6);
	if (s.plus_nm == s.minus_nm) {
		km_buf_str(b, " +-");
		km_buf_mm(b, s.plus_nm, 6);
		return;
	}
	km_buf_str(b, " +");
	km_buf_mm(b, s.plus_nm, 6);
	km_buf_str(b, "/-");
	km_buf_mm(b, s.minus_nm, 6);
}
