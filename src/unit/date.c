/* SPDX-License-Identifier: MIT */
#include "unit/date.h"

#define FIRST_YEAR 1000
#define LAST_YEAR  9999

static bool leap(int y)
{
	return (y % 4 == 0 && y % 100 != 0) || y % 400 == 0;
}

static int month_days(int y, int m)
{
	static const int8_t days[12] = { 31, 28, 31, 30, 31, 30,
					 31, 31, 30, 31, 30, 31 };

	return days[m - 1] + (m == 2 && leap(y));
}

static struct km_date date_of(int y, int m, int d)
{
	return (struct km_date){ (int16_t)y, (int8_t)m, (int8_t)d };
}

/* n characters, digits first and then `X` for those not known: the least and
 * the greatest number this may be. */
static bool digits_eat(struct km_slice *s, int n, int *least, int *greatest)
{
	bool unknown = false;

	*least = *greatest = 0;
	for (int i = 0; i < n; i++) {
		char c;

		if (!s->n)
			return false;
		c = *s->p++;
		s->n--;
		unknown = unknown || c == 'X';
		if (unknown ? c != 'X' : c < '0' || c > '9')
			return false;
		*least = *least * 10 + (unknown ? 0 : c - '0');
		*greatest = *greatest * 10 + (unknown ? 9 : c - '0');
	}
	return true;
}

bool km_date_parse(struct km_slice s, struct km_date *out)
{
	int y, m, d, same;

	for (size_t i = 0; i < s.n; i++)
		if (s.p[i] == 'X')
			return false;
	if (!digits_eat(&s, 4, &y, &same) || !km_slice_eat(&s, '-')
	    || !digits_eat(&s, 2, &m, &same) || !km_slice_eat(&s, '-')
	    || !digits_eat(&s, 2, &d, &same) || s.n)
		return false;
	if (y < FIRST_YEAR || m < 1 || m > 12 || d < 1 || d > month_days(y, m))
		return false;
	*out = date_of(y, m, d);
	return true;
}

/* A month or day: two digits from 1 to most, or XX, which is `all`. */
static bool part_eat(struct km_slice *s, int most, int *value, bool *all)
{
	int greatest;

	if (!digits_eat(s, 2, value, &greatest))
		return false;
	*all = *value == 0 && greatest == 99;
	return *all || (*value == greatest && *value >= 1 && *value <= most);
}

/* One date of whatever precision; what is not known covers all it may be,
 * and nothing known may follow it. */
static bool fuzzy_eat(struct km_slice *s, struct km_period *out)
{
	int low, high, m, d;
	bool all;

	if (!digits_eat(s, 4, &low, &high) || low < FIRST_YEAR
	    || high - low > 99)
		return false;
	out->from = date_of(low, 1, 1);
	out->to = date_of(high, 12, 31);
	if (!km_slice_eat(s, '-'))
		return true;
	if (low != high || !part_eat(s, 12, &m, &all))
		return false;
	if (all)
		return !km_slice_eat(s, '-')
		       || (part_eat(s, 0, &d, &all) && all);
	out->from = date_of(low, m, 1);
	out->to = date_of(low, m, month_days(low, m));
	if (!km_slice_eat(s, '-'))
		return true;
	if (!part_eat(s, month_days(low, m), &d, &all))
		return false;
	if (!all)
		out->from = out->to = date_of(low, m, d);
	return true;
}

/* The qualifier for the whole of a date. */
static void qualifier_eat(struct km_slice *s, struct km_period *out)
{
	bool both = km_slice_eat(s, '%');

	if (both || km_slice_eat(s, '?'))
		out->uncertain = true;
	else if (km_slice_eat(s, '~'))
		out->approximate = true;
	if (both)
		out->approximate = true;
}

/* A date with its qualifier; ".." for what `open` says; or nothing for an end
 * that is not known, which may lie as far. */
static bool end_eat(struct km_slice *s, struct km_date open, bool *is_open,
		    struct km_period *out)
{
	bool unknown = !s->n || *s->p == '/';

	*out = (struct km_period){ open, open, unknown, false };
	*is_open = unknown || km_slice_eat_word(s, "..");
	if (*is_open)
		return true;
	if (!fuzzy_eat(s, out))
		return false;
	qualifier_eat(s, out);
	return true;
}

/* A season stands for a month as 21 to 24.  The notation names no months for
 * it, so that it covers its year [choice]. */
static bool season_parse(struct km_slice s, struct km_period *out)
{
	int y, season, same;

	if (!digits_eat(&s, 4, &y, &same) || y != same || y < FIRST_YEAR ||
	    !km_slice_eat(&s, '-') || !digits_eat(&s, 2, &season, &same) ||
	    season != same || season < 21 || season > 24 || s.n)
		return false;
	*out = (struct km_period){ date_of(y, 1, 1), date_of(y, 12, 31),
				   false, false };
	return true;
}

bool km_period_parse(struct km_slice s, struct km_period *out)
{
	struct km_period a, b;
	bool a_open, b_open;

	if (season_parse(s, out))
		return true;
	if (!end_eat(&s, date_of(FIRST_YEAR, 1, 1), &a_open, &a))
		return false;
	if (!s.n && !a_open) {
		*out = a;
		return true;
	}
	if (!km_slice_eat(&s, '/')
	    || !end_eat(&s, date_of(LAST_YEAR, 12, 31), &b_open, &b) || s.n)
		return false;
	if ((a_open && b_open) || km_date_compare(a.from, b.to) > 0)
		return false;
	*out = (struct km_period){ a.from, b.to, a.uncertain || b.uncertain,
				   a.approximate || b.approximate };
	return true;
}

int km_date_compare(struct km_date a, struct km_date b)
{
	if (a.year != b.year)
		return a.year < b.year ? -1 : 1;
	if (a.month != b.month)
		return a.month < b.month ? -1 : 1;
	return (a.day > b.day) - (a.day < b.day);
}

/* Days from 1 January of year 1 to that of year y. */
static int32_t days_before_year(int32_t y)
{
	y--;
	return 365 * y + y / 4 - y / 100 + y / 400;
}

#define EPOCH_DAYS 719162	/* days_before_year(1970) */

int32_t km_date_days(struct km_date d)
{
	int32_t days = days_before_year(d.year) - EPOCH_DAYS + d.day - 1;

	for (int m = 1; m < d.month; m++)
		days += month_days(d.year, m);
	return days;
}

struct km_date km_date_of_days(int32_t days)
{
	/* 400 years have 146097 days; the guess is off by one at most */
	int32_t y = (int32_t)(((int64_t)days + EPOCH_DAYS) * 400 / 146097) + 1;
	int m = 1;

	days += EPOCH_DAYS;
	while (days_before_year(y) > days)
		y--;
	while (days_before_year(y + 1) <= days)
		y++;
	days -= days_before_year(y);
	while (days >= month_days(y, m))
		days -= month_days(y, m++);
	return date_of(y, m, days + 1);
}

int32_t km_date_months(struct km_date a, struct km_date b)
{
	int32_t months;

	if (km_date_compare(a, b) > 0)
		return -km_date_months(b, a);
	months = (b.year - a.year) * 12 + b.month - a.month;
	return months - (b.day < a.day);
}

void km_buf_date(struct km_buf *b, struct km_date d)
{
	char text[10];
	int y = d.year, m = d.month, day = d.day;

	if (!y)
		return;
	for (int i = 3; i >= 0; i--, y /= 10)
		text[i] = (char)('0' + y % 10);
	text[4] = text[7] = '-';
	text[5] = (char)('0' + m / 10);
	text[6] = (char)('0' + m % 10);
	text[8] = (char)('0' + day / 10);
	text[9] = (char)('0' + day % 10);
	km_buf_add(b, text, sizeof text);
}
