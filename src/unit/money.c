/* SPDX-License-Identifier: MIT */
#include "unit/money.h"

#include <string.h>

struct currency { char code[4]; int decimals; };

static const struct currency currencies[] = {
#define CURRENCY(code, decimals, source) { code, decimals },
#include "data/currencies.def"
#undef CURRENCY
};

int km_currency_decimals(const char *code)
{
	size_t low = 0, high = sizeof currencies / sizeof *currencies;

	while (low < high) {
		size_t mid = low + (high - low) / 2;
		int order = strcmp(code, currencies[mid].code);

		if (!order)
			return currencies[mid].decimals;
		if (order < 0)
			high = mid;
		else
			low = mid + 1;
	}
	return -1;
}

static bool digit_first(struct km_slice s)
{
	return s.n && *s.p >= '0' && *s.p <= '9';
}

static bool comma_ahead(struct km_slice s)
{
	return km_slice_eat(&s, ',') && digit_first(s);
}

static bool negative(struct km_slice s)
{
	if (!km_slice_eat(&s, '-') && km_utf8_next(&s) != 0x2212)
		return false;
	km_slice_skip_blanks(&s);
	return digit_first(s) || (km_slice_eat(&s, '.') && digit_first(s));
}

enum km_money_fault km_money_parse(struct km_slice s, int decimals, bool comma,
				   int64_t *minor)
{
	struct km_rational r;
	int places;
	int64_t v, scale = 1;
	enum km_status st;

	s = km_slice_trim(s);
	if (negative(s))
		return KM_MONEY_NEGATIVE;
	if (!comma && comma_ahead(s))
		return KM_MONEY_COMMA;
	st = km_decimal_eat(&s, comma, &r, &places);
	if (st != KM_OK)
		return st == KM_ERANGE ? KM_MONEY_RANGE : KM_MONEY_NO_NUMBER;
	if (!comma && comma_ahead(s))
		return KM_MONEY_COMMA;
	if (s.n)
		return KM_MONEY_TRAILING;
	if (places > decimals)
		return KM_MONEY_DECIMALS;
	for (int i = places; i < decimals; i++)
		scale *= 10;
	if (!km_mul(r.num, scale, &v) || v > KM_MONEY_MAX)
		return KM_MONEY_RANGE;
	*minor = v;
	return KM_MONEY_OK;
}

void km_buf_money(struct km_buf *b, int64_t minor, int decimals)
{
	/* the magnitude without overflow at INT64_MIN */
	uint64_t u = minor < 0 ? 0 - (uint64_t)minor : (uint64_t)minor;
	char text[24];
	size_t at = sizeof text;

	for (int i = 0; i <= decimals || u; i++, u /= 10) {
		if (i == decimals && i)
			text[--at] = '.';
		text[--at] = (char)('0' + u % 10);
	}
	if (minor < 0)
		text[--at] = '-';
	km_buf_add(b, text + at, sizeof text - at);
}
