/* SPDX-License-Identifier: MIT */
/*
 * Plating and the rules of use, as published: what a coat takes from an
 * opening, how thick it is at least, which rule a caution rests on.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "trade/caution.h"
#include "trade/finish.h"
#include "trade/process.h"

static const struct km_finish *finish(const char *name)
{
	const struct km_finish *f = km_finish_find(
		(struct km_slice){ name, strlen(name) });

	assert_non_null(f);
	return f;
}

/* SOURCE asme-b107-100, coatings clause of flat wrenches: at least 0.000150 in
 * of nickel and 0.000003 in of chromium.  1 in = 25 400 000 nm [nist-sp811]:
 * 0.000150 x 25.4e6 = 3810 nm (3.8 um), 0.000003 x 25.4e6 = 76.2 nm
 * (0.076 um), together 3886.2 nm; the table, to 0.1 um, may not be thinner. */
static void nickel_and_chromium_of_wrenches(void **state)
{
	const struct km_finish *f = finish("nickel chrome");
	const struct km_process *p = &km_processes[
		KM_PROCESS_PLATE_NICKEL_CHROME];

	(void)state;
	assert_true(f->low_nm >= 3887 && f->low_nm - 3887 < 100);
	assert_string_equal(f->low_source, "asme-b107-100");
	assert_true(p->per_side_nm[0] >= 3887 &&
		    p->per_side_nm[0] - 3887 < 100);
}

/* SOURCE astm-b633, Table 2: classes Fe/Zn 5, 8 and 12 micrometres. */
static void zinc_comes_in_classes(void **state)
{
	static const int64_t um[] = { 5, 8, 12 };
	const struct km_finish *f = finish("zinc clear");
	const int64_t nm[] = { f->low_nm, f->likely_nm, f->high_nm };

	(void)state;
	for (int i = 0; i < 3; i++) {
		assert_int_equal(nm[i], um[i] * 1000);
		assert_int_equal(km_processes[KM_PROCESS_PLATE_ZINC]
					 .per_side_nm[i], um[i] * 1000);
	}
}

/* SOURCE iso-4042 (1999), annex on thick coatings: 8 um on a thread needs 32
 * um of clearance; 32 / 8 = 4.  That an opening closes by twice is geometry:
 * two faces. */
static void a_thread_closes_four_times(void **state)
{
	const struct km_caution *c = &km_cautions[KM_CAUTION_C40];

	(void)state;
	assert_non_null(strstr(c->text, "an opening by twice its thickness"));
	assert_non_null(strstr(c->text, "a thread by four times"));
	assert_string_equal(c->source, "iso-4042");
	/* every process that electroplates brings it */
	for (int i = KM_PROCESS_PLATE_ZINC;
	     i <= KM_PROCESS_PLATE_NICKEL_CHROME; i++)
		assert_true(km_caution_mask(km_processes[i].cautions) &
			    KM_CAUTION_BIT(C40));
}

/* SOURCE 29-cfr-1910-1027: cadmium, limit 5, action level 2.5 micrograms per
 * cubic metre over 8 hours.  SOURCE 29-cfr-1910-1026: chromium(VI), the same
 * figures.  SOURCE 29-cfr-1926-62: lead, limit 50, action level 30. */
static void limits_of_the_air(void **state)
{
	static const struct {
		const char *substance;
		int32_t limit10, action10, hours;
		enum km_caution_id beside;
		const char *source;
	} want[] = {
		{ "cadmium", 50, 25, 8, KM_CAUTION_C01, "29-cfr-1910-1027" },
		{ "chromium(VI)", 50, 25, 8, KM_CAUTION_C05,
		  "29-cfr-1910-1026" },
		{ "lead", 500, 300, 0, KM_CAUTION_C18, "29-cfr-1926-62" },
	};

	(void)state;
	for (int i = 0; i < KM_AIR_LIMITS; i++) {
		const struct km_air_limit *l = &km_air_limits[i];

		assert_string_equal(l->substance, want[i].substance);
		assert_int_equal(l->limit, want[i].limit10);
		assert_int_equal(l->action, want[i].action10);
		assert_int_equal(l->hours, want[i].hours);
		assert_string_equal(l->source, want[i].source);
		assert_true(km_caution_mask(l->cautions) >> want[i].beside & 1);
		/* the caution itself rests on the same rule, or hangs on it */
		assert_non_null(strstr(km_cautions[want[i].beside].source,
				       want[i].source));
	}
}

/* SOURCE 29-cfr-1926-301: (a) no unsafe hand tools, (b) no wrench whose jaws
 * are sprung to the point that it slips, (c) impact tools free of mushroomed
 * heads, (d) wooden handles free of splinters or cracks and tight. */
static void rules_of_use_bring_their_caution(void **state)
{
	static const struct { const char *condition; uint64_t is; } rule[] = {
		{ "cracked", KM_CAUTION_BIT(C29) },
		{ "spread", KM_CAUTION_BIT(C27) },
		{ "mushroomed", KM_CAUTION_BIT(C28) },
		{ "handle_split", KM_CAUTION_BIT(C30) },
		{ "handle_loose", KM_CAUTION_BIT(C30) },
	};

	(void)state;
	for (size_t i = 0; i < sizeof rule / sizeof *rule; i++) {
		uint64_t set = km_caution_of_condition(rule[i].condition);

		assert_int_equal(set, rule[i].is);
		assert_non_null(strstr(
			km_cautions[__builtin_ctzll(set)].source,
			"29-cfr-1926-301"));
	}
}

/* SOURCE 29-cfr-1910-1027 (cadmium: 5 ug/m3 over 8 hours, action level 2.5),
 * 29-cfr-1910-1026 (chromium(VI): 5 and 2.5), 29-cfr-1926-62 (lead: 50 and
 * 30); each is named by the caution on its dust or mist.  SOURCE epa-rrp: no
 * heat gun above 1100 F, (1100 - 32) x 5 / 9 = 593 C, printed as 590, below
 * it. */
static void limits_of_exposure_are_named(void **state)
{
	const char *above;
	int c, f;

	(void)state;
	assert_non_null(strstr(km_cautions[KM_CAUTION_C01].source,
			       "29-cfr-1910-1027"));
	assert_non_null(strstr(km_cautions[KM_CAUTION_C05].source,
			       "29-cfr-1910-1026"));
	assert_non_null(strstr(km_cautions[KM_CAUTION_C18].source,
			       "29-cfr-1926-62"));
	above = strstr(km_cautions[KM_CAUTION_C18].text, "above ");
	assert_non_null(above);
	assert_int_equal(sscanf(above, "above %d C (%d F)", &c, &f), 2);
	assert_int_equal(f, 1100);
	assert_true(c <= 593 && c > 583);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nickel_and_chromium_of_wrenches),
		cmocka_unit_test(zinc_comes_in_classes),
		cmocka_unit_test(a_thread_closes_four_times),
		cmocka_unit_test(limits_of_the_air),
		cmocka_unit_test(rules_of_use_bring_their_caution),
		cmocka_unit_test(limits_of_exposure_are_named),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
