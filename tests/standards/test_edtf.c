/* SPDX-License-Identifier: MIT */
/*
 * SOURCE iso-8601-2, EDTF levels 0 and 1, one row a form.  The forms are those
 * of the notation's levels as the reference library knows them; first and last
 * day, and the level, are what it answers for them [edtf-js].
 *
 * Ours, and beside the source: an end that is open or not known is year 1000
 * or 9999, and an unknown one makes the period uncertain; a season covers its
 * year; times of day and years outside 1000 to 9999 are refused.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "unit/date.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define FIRST "1000-01-01"
#define LAST "9999-12-31"

static const struct {
	const char *text, *from, *to;
	bool uncertain, approximate;
} read[] = {
	/* level 0: a date of three precisions */
	{ "1985-04-12", "1985-04-12", "1985-04-12", 0, 0 },
	{ "1985-04", "1985-04-01", "1985-04-30", 0, 0 },
	{ "1985", "1985-01-01", "1985-12-31", 0, 0 },
	/* level 0: intervals */
	{ "1964/2008", "1964-01-01", "2008-12-31", 0, 0 },
	{ "2004-06/2006-08", "2004-06-01", "2006-08-31", 0, 0 },
	{ "2004-02-01/2005-02-08", "2004-02-01", "2005-02-08", 0, 0 },
	{ "2004-02-01/2005-02", "2004-02-01", "2005-02-28", 0, 0 },
	{ "2004-02-01/2005", "2004-02-01", "2005-12-31", 0, 0 },
	{ "2005/2006-02", "2005-01-01", "2006-02-28", 0, 0 },
	/* level 1: a qualifier for the whole date */
	{ "1984?", "1984-01-01", "1984-12-31", 1, 0 },
	{ "2004-06~", "2004-06-01", "2004-06-30", 0, 1 },
	{ "2004-06-11%", "2004-06-11", "2004-06-11", 1, 1 },
	/* level 1: digits not known, from the right */
	{ "201X", "2010-01-01", "2019-12-31", 0, 0 },
	{ "20XX", "2000-01-01", "2099-12-31", 0, 0 },
	{ "2004-XX", "2004-01-01", "2004-12-31", 0, 0 },
	{ "1985-04-XX", "1985-04-01", "1985-04-30", 0, 0 },
	{ "1985-XX-XX", "1985-01-01", "1985-12-31", 0, 0 },
	/* level 1: an end that is open */
	{ "1985-04-12/..", "1985-04-12", LAST, 0, 0 },
	{ "1985-04/..", "1985-04-01", LAST, 0, 0 },
	{ "1985/..", "1985-01-01", LAST, 0, 0 },
	{ "../1985-04-12", FIRST, "1985-04-12", 0, 0 },
	{ "../1985-04", FIRST, "1985-04-30", 0, 0 },
	{ "../1985", FIRST, "1985-12-31", 0, 0 },
	/* level 1: an end that is not known */
	{ "1985-04-12/", "1985-04-12", LAST, 1, 0 },
	{ "1985-04/", "1985-04-01", LAST, 1, 0 },
	{ "1985/", "1985-01-01", LAST, 1, 0 },
	{ "/1985-04-12", FIRST, "1985-04-12", 1, 0 },
	{ "/1985-04", FIRST, "1985-04-30", 1, 0 },
	{ "/1985", FIRST, "1985-12-31", 1, 0 },
	/* level 1: intervals with qualifiers */
	{ "1984~/2004-06", "1984-01-01", "2004-06-30", 0, 1 },
	{ "1984/2004-06~", "1984-01-01", "2004-06-30", 0, 1 },
	{ "1984~/2004~", "1984-01-01", "2004-12-31", 0, 1 },
	{ "1984?/2004%", "1984-01-01", "2004-12-31", 1, 1 },
	{ "2004-06~/2004-06-11", "2004-06-01", "2004-06-11", 0, 1 },
	{ "1984-06-02?/2004-08-08~", "1984-06-02", "2004-08-08", 1, 1 },
	{ "1984-06-02?/", "1984-06-02", LAST, 1, 0 },
	/* level 1: seasons; the days are a choice of ours, the notation has no
	 * months for them (the library divides the year by quarters) */
	{ "2001-21", "2001-01-01", "2001-12-31", 0, 0 },
	{ "2001-22", "2001-01-01", "2001-12-31", 0, 0 },
	{ "2001-23", "2001-01-01", "2001-12-31", 0, 0 },
	{ "2001-24", "2001-01-01", "2001-12-31", 0, 0 },
};

static void levels_0_and_1_are_read(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(read); i++) {
		struct km_period p;
		struct km_date from, to;

		assert_true(km_date_parse(km_slice_of(read[i].from), &from));
		assert_true(km_date_parse(km_slice_of(read[i].to), &to));
		if (!km_period_parse(km_slice_of(read[i].text), &p) ||
		    km_date_compare(p.from, from) ||
		    km_date_compare(p.to, to) ||
		    p.uncertain != read[i].uncertain ||
		    p.approximate != read[i].approximate)
			fail_msg("%s", read[i].text);
	}
}

/* Of these levels, but not of this trade: no machine of a kit was built before
 * year 1000 or after 9999, and no list gives the hour. */
static const char *const not_ours[] = {
	"1985-04-12T23:20:30", "1985-04-12T23:20:30Z",
	"Y170000002", "Y-170000002", "-1985", "-0001", "0000",
};

/* What the library reads at level 2 only. */
static const char *const level_2[] = {
	"156X-12-25", "15XX-12-25", "XXXX-12-XX", "1XXX-XX",
	"2004-06-~01/2004-06-~20",
};

static void all_else_is_refused(void **state)
{
	struct km_period p = { { 1, 2, 3 }, { 4, 5, 6 }, true, true };

	(void)state;
	for (size_t i = 0; i < COUNT(not_ours); i++)
		if (km_period_parse(km_slice_of(not_ours[i]), &p))
			fail_msg("%s", not_ours[i]);
	for (size_t i = 0; i < COUNT(level_2); i++)
		if (km_period_parse(km_slice_of(level_2[i]), &p))
			fail_msg("%s", level_2[i]);
	assert_int_equal(p.from.year, 1);
	assert_int_equal(p.to.day, 6);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(levels_0_and_1_are_read),
		cmocka_unit_test(all_else_is_refused),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
