/* SPDX-License-Identifier: MIT */
#include "read/measure.h"

#include <string.h>

#include "base/num.h"
#include "unit/length.h"
#include "unit/money.h"

/* ------------------------------------------------------------------ */
/* Lengths                                                             */

/* No default: the compiler misses a fault that has no text. */
static const char *why_length(enum km_length_fault fault)
{
	switch (fault) {
	case KM_LENGTH_NO_NUMBER:
		return "there is no number in it";
	case KM_LENGTH_RANGE:
		return "it is over 100 m, or has too many digits";
	case KM_LENGTH_ZERO:
		return "it must be more than 0";
	case KM_LENGTH_TRAILING:
		return "there is more text behind it";
	case KM_LENGTH_TOLERANCE:
		return "its tolerance cannot be read";
	case KM_LENGTH_NEGATIVE:
		return "it is negative";
	case KM_LENGTH_NOT_EXACT:
		return "it is no whole number of nanometres";
	case KM_LENGTH_OK:
	case KM_LENGTH_NO_UNIT:		/* these have messages of their own */
	case KM_LENGTH_COMMA:
		break;
	}
	return "write it as 148 mm or 5 1/2 in";
}

void km_say_length(struct km_bind *b, const struct km_node *n, const char *key,
		   int fault)
{
	const char *text = km_clip(b, n);
	struct km_diag *one;

	switch (fault) {
	case KM_LENGTH_NO_UNIT:
		one = KM_SAY(b, n, LENGTH_WITHOUT_UNIT, text, key);
		KM_HINT(b, one, "write the unit: '%s mm' or '%s in'", text,
			text);
		break;
	case KM_LENGTH_COMMA:
		one = KM_SAY(b, n, DECIMAL_COMMA, text, key);
		KM_HINT(b, one, "write a point; commas are read in tables only");
		break;
	default:
		one = KM_SAY(b, n, BAD_LENGTH, text, key);
		KM_HINT(b, one, "%s",
			why_length((enum km_length_fault)fault));
	}
}

/* What was measured; false after a message. */
static bool read_reading(struct km_bind *b, const struct km_node *n,
			 const char *key, bool zero, struct km_span *out)
{
	const struct km_length_rules rules = { .zero = zero };
	enum km_length_fault fault;

	fault = km_reading_parse(km_node_slice(n), &rules, out);
	if (fault != KM_LENGTH_OK)
		km_say_length(b, n, key, (int)fault);
	return fault == KM_LENGTH_OK;
}

bool km_read_length(struct km_bind *b, const struct km_node *n,
		    const char *key, bool zero, int64_t *nm)
{
	struct km_span span;

	if (!km_want_scalar(b, n, key, "a length") ||
	    !read_reading(b, n, key, zero, &span))
		return false;
	*nm = span.nm;
	return true;
}

/*
 * "149 mm" and "13.50 mm", which is how nearly all readings are written, at
 * once; whatever is written otherwise goes the long way.
 */
static bool plain_mm(struct km_slice s, struct km_span *out)
{
	enum { BEFORE = 4, BEHIND = 5 };
	int64_t v = 0, step = KM_NM_PER_MM;
	size_t i = 0, point;

	while (i < s.n && i <= BEFORE && s.p[i] >= '0' && s.p[i] <= '9')
		v = v * 10 + (s.p[i++] - '0');
	if (!i || i > BEFORE)
		return false;
	if (i < s.n && s.p[i] == '.') {
		point = i++;
		while (i < s.n && i - point <= BEHIND && s.p[i] >= '0' &&
		       s.p[i] <= '9') {
			v = v * 10 + (s.p[i++] - '0');
			step /= 10;
		}
		if (i == point + 1)
			return false;
	}
	if (i < s.n && s.p[i] == ' ')
		i++;
	if (!v || s.n - i != 2 || s.p[i] != 'm' || s.p[i + 1] != 'm')
		return false;
	out->nm = v * step;
	out->minus_nm = out->plus_nm = (int32_t)(step / 2);
	return true;
}

bool km_read_span(struct km_bind *b, const struct km_node *n, const char *key,
		  struct km_span *out, bool *assumed)
{
	static const struct km_length_rules rules = { .zero = false };
	enum km_length_fault fault;
	struct km_span span;

	if (!km_want_scalar(b, n, key, "a length"))
		return false;
	if (!assumed && plain_mm(km_node_slice(n), out))
		return true;
	if (!assumed)
		return read_reading(b, n, key, false, out);
	fault = km_requirement_parse(km_node_slice(n), &rules, &span,
				     assumed);
	if (fault != KM_LENGTH_OK) {
		km_say_length(b, n, key, (int)fault);
		return false;
	}
	*out = span;
	return true;
}

/* ------------------------------------------------------------------ */
/* Angles and weights                                                  */

/* Hundredths of a degree, and half of the last digit written. */
static bool eat_degrees(struct km_slice *s, int64_t *v, int32_t *half)
{
	struct km_rational r;
	int places;

	if (km_decimal_eat(s, false, &r, &places) != KM_OK || places > 2 ||
	    !km_mul_div(r.num, 100, r.den, v))
		return false;
	*half = places == 0 ? 50 : places == 1 ? 5 : 1;
	return true;
}

bool km_read_angle(struct km_bind *b, const struct km_node *n, const char *key,
		   struct km_span *out, bool *assumed)
{
	enum { MOST = 18000, ASSUMED = 200 };
	struct km_slice s;
	int64_t v, tolerance = 0;
	int32_t half, unused;
	struct km_diag *one;
	bool given = false;

	if (!km_want_scalar(b, n, key, "an angle"))
		return false;
	s = km_slice_trim(km_node_slice(n));
	if (!eat_degrees(&s, &v, &half) || v > MOST)
		goto bad;
	km_slice_skip_blanks(&s);
	if (!km_slice_eat_word(&s, "degrees") && !km_slice_eat_word(&s, "deg"))
		km_slice_eat_word(&s, "\xc2\xb0");
	km_slice_skip_blanks(&s);
	if (assumed && (km_slice_eat_word(&s, "+-") ||
			km_slice_eat_word(&s, "\xc2\xb1"))) {
		km_slice_skip_blanks(&s);
		if (!eat_degrees(&s, &tolerance, &unused) ||
		    tolerance > MOST)
			goto bad;
		given = true;
	}
	if (s.n)
		goto bad;
	if (assumed) {
		*assumed = !given;
		half = given ? (int32_t)tolerance : ASSUMED;
	}
	*out = (struct km_span){ v, half, half };
	return true;
bad:
	one = KM_SAY(b, n, BAD_ANGLE, km_clip(b, n), key);
	KM_HINT(b, one, "write '15 deg', 0 to 180%s",
		assumed ? ", or '15 deg +-2'" : "");
	return false;
}

bool km_read_weight(struct km_bind *b, const struct km_node *n,
		    const char *key, int64_t *mg)
{
	struct km_slice s;
	struct km_rational r;
	struct km_diag *one;
	int64_t scale;
	int places;

	if (!km_want_scalar(b, n, key, "a weight"))
		return false;
	s = km_slice_trim(km_node_slice(n));
	if (km_decimal_eat(&s, false, &r, &places) != KM_OK)
		goto bad;
	km_slice_skip_blanks(&s);
	if (km_slice_eat_word(&s, "kg"))
		scale = 1000000;
	else if (km_slice_eat_word(&s, "g"))
		scale = 1000;
	else
		goto bad;
	if (s.n || !r.num || !km_mul_div(r.num, scale, r.den, mg))
		goto bad;
	return true;
bad:
	one = KM_SAY(b, n, BAD_WEIGHT, km_clip(b, n), key);
	KM_HINT(b, one, "write '120 g' or '0.12 kg'");
	return false;
}

/* ------------------------------------------------------------------ */
/* Money                                                               */

const char *km_read_currency(struct km_bind *b, const struct km_node *n,
			     const char *key)
{
	const char *code;
	struct km_diag *one;

	if (!km_want_scalar(b, n, key, "a currency"))
		return NULL;
	if (n->n != 3 || km_currency_decimals(n->text) < 0) {
		one = KM_SAY(b, n, UNKNOWN_CURRENCY, km_clip(b, n));
		KM_HINT(b, one, "write the three capitals of ISO 4217, such "
			"as GBP");
		return NULL;
	}
	code = km_words_text(b->words, n->text, n->n);
	if (!code)
		b->nomem = true;
	return code;
}

static void say_money(struct km_bind *b, const struct km_node *n,
		      const char *key, enum km_money_fault fault)
{
	static const char *const why[] = {
		[KM_MONEY_OK] = "",
		[KM_MONEY_NO_NUMBER] = "there is no number in it",
		[KM_MONEY_DECIMALS] = "it has too many decimals",
		[KM_MONEY_RANGE] = "it is too large",
		[KM_MONEY_NEGATIVE] = "",	/* the message says so */
		[KM_MONEY_COMMA] = "write a point; commas are read in tables only",
		[KM_MONEY_TRAILING] = "write 12.50 or 12.50 GBP",
	};
	struct km_diag *one;

	if (fault == KM_MONEY_COMMA)
		one = KM_SAY(b, n, DECIMAL_COMMA, km_clip(b, n), key);
	else if (fault == KM_MONEY_NEGATIVE)
		one = KM_SAY(b, n, NEGATIVE_MONEY, km_clip(b, n), key);
	else
		one = KM_SAY(b, n, BAD_MONEY, km_clip(b, n), key);
	if (*why[fault])
		KM_HINT(b, one, "%s", why[fault]);
}

/* A code off the end of s; false after a message. */
static bool eat_code(struct km_bind *b, const struct km_node *n,
		     struct km_slice *s, const char **code)
{
	char text[4] = "";
	size_t k = 0;
	struct km_diag *one;

	*code = NULL;
	while (k < s->n && ((s->p[s->n - 1 - k] | 32) >= 'a' &&
			    (s->p[s->n - 1 - k] | 32) <= 'z'))
		k++;
	if (!k || k == s->n)
		return true;
	if (k == 3)
		memcpy(text, s->p + s->n - 3, 3);
	if (k != 3 || km_currency_decimals(text) < 0) {
		one = KM_SAY(b, n, UNKNOWN_CURRENCY, km_clip(b, n));
		KM_HINT(b, one, "write the three capitals of ISO 4217, such "
			"as GBP");
		return false;
	}
	*code = km_words_text(b->words, text, 3);
	if (!*code)
		b->nomem = true;
	s->n -= k;
	*s = km_slice_trim(*s);
	return true;
}

bool km_money_text(struct km_bind *b, const struct km_node *n, const char *key,
		   struct km_slice s, int64_t *out, const char **code)
{
	enum km_money_fault fault;

	s = km_slice_trim(s);
	if (!eat_code(b, n, &s, code))
		return false;
	fault = n->style == KM_PLAIN || *code
			? km_money_parse(s, 4, false, out)
			: KM_MONEY_NO_NUMBER;
	if (fault == KM_MONEY_OK)
		return true;
	say_money(b, n, key, fault);
	return false;
}

void km_money_later(struct km_bind *b, const struct km_node *n, int64_t *minor,
		    const char *code)
{
	struct km_money_fix *fix = km_arena_alloc(b->scratch, 1, sizeof *fix);

	if (!fix) {
		b->nomem = true;
		return;
	}
	fix->minor = minor;
	fix->code = code;
	fix->scope = b->currency;
	fix->keeps = b->keeps_currency;
	fix->at = km_bind_at(b, n);
	fix->next = b->money;
	b->money = fix;
}

bool km_read_money(struct km_bind *b, const struct km_node *n, const char *key,
		   int64_t *minor)
{
	const char *code;
	int64_t v;

	if (!km_want_scalar(b, n, key, "money") ||
	    !km_money_text(b, n, key, km_node_slice(n), &v, &code))
		return false;
	*minor = v;
	km_money_later(b, n, minor, code);
	return true;
}

static void check_order(struct km_bind *b, void *rec, const struct km_node *n)
{
	const struct km_money3 *m = rec;

	if (m->low >= 0 && m->likely >= 0 && m->high >= 0 &&
	    (m->low > m->likely || m->likely > m->high))
		KM_SAY(b, n, MONEY_ORDER, "low, likely and high");
}

static const struct km_field money3_fields[] = {
	{ .key = "low", .type = KM_T_MONEY, .flags = KM_REQUIRED | KM_MINUS,
	  .at = KM_AT(struct km_money3, low, int64_t),
	  .example = "8.00", .doc = "The least that it may cost." },
	{ .key = "likely", .type = KM_T_MONEY, .flags = KM_REQUIRED | KM_MINUS,
	  .at = KM_AT(struct km_money3, likely, int64_t),
	  .example = "12.00", .doc = "What it will probably cost." },
	{ .key = "high", .type = KM_T_MONEY, .flags = KM_REQUIRED | KM_MINUS,
	  .at = KM_AT(struct km_money3, high, int64_t),
	  .example = "22.00", .doc = "The most that it may cost." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_money3 = {
	.no = KM_REC_MONEY3, .name = "sum of money",
	.size = sizeof(struct km_money3), .fields = money3_fields,
	.check = check_order,
	.doc = "A sum that is not certain, as three sums.",
};

bool km_read_money3(struct km_bind *b, const struct km_node *n,
		    const char *key, struct km_money3 *out)
{
	const char *code;
	int64_t v;

	if (n->type == KM_NODE_MAP) {
		km_bind_record(b, &km_rec_money3, out, n);
		return true;
	}
	if (!km_want_scalar(b, n, key, "money") ||
	    !km_money_text(b, n, key, km_node_slice(n), &v, &code))
		return false;
	*out = (struct km_money3){ v, v, v };
	km_money_later(b, n, &out->low, code);
	km_money_later(b, n, &out->likely, code);
	km_money_later(b, n, &out->high, code);
	return true;
}
