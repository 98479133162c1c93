/* SPDX-License-Identifier: MIT */
/*
 * The pouch of a kit, from files to findings and to the sheet.  Every figure
 * is worked beside its check.  SOURCE common-practice: the rules of pockets
 * (depth and closing allowance; half the girth, and ease).
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "kitmuster/report.h"
#include "report/pouch.h"
#include "tests/unit/run_fixture.h"

#define MM(n) ((int64_t)(n) * 1000000)

static enum km_status try_run(struct run *r, const char *yaml,
			      struct km_fault *fault)
{
	static const struct km_options o = { .want_pouch = true };

	return run_texts(r, &yaml, 1, &o, fault);
}

static void run(struct run *r, const char *yaml)
{
	assert_int_equal(try_run(r, yaml, NULL), KM_OK);
	assert_non_null(r->p);
}

#define KIT(pouch, slots) \
	"kit:\n  id: k\n  title: Garnock 3\n  pouch: " pouch "\n  slots:\n" slots
#define PLIERS_SLOT \
	"    - {id: S-07, tool: combination pliers, length: 165 mm +-3, " \
	"pocket: 1}\n"

static void a_tool_longer_than_its_pocket(void **state)
{
	struct run r;
	struct km_buf b;

	(void)state;
	run(&r, KIT("{form: roll, pockets: 1, pocket_width: 60 mm, "
		    "pocket_depth: 150 mm, closing_allowance: 20 mm}",
		    PLIERS_SLOT)
		"bench:\n  - {id: T-031, tool: combination pliers, "
		"length: 178 mm, width: 45 mm, thickness: 10 mm}\n");
	assert_int_equal(r.p->n_pieces, 1);
	/* 150 + 20 = 170: 178 is 8 too long, 165 leaves 5 */
	assert_int_equal(r.p->pieces[0].length.over_nm, MM(8));
	assert_int_equal(r.p->pieces[0].length.right_over_nm, MM(-5));
	assert_int_equal(r.p->pieces[0].length.fault, KM_FAULT_TOOL);
	assert_int_equal(r.p->pieces[0].fits, KM_FITS_NOT);
	/* 45 + 10 + 4 of ease (5 % of 60 is 3) = 59: 1 to spare; lying open
	 * 45 + 2 x 10 + 4 = 69, 9 too much */
	assert_int_equal(r.p->pieces[0].girth.over_nm, MM(-1));
	assert_int_equal(r.p->pieces[0].open_over_nm, MM(9));
	km_buf_init(&b, r.audit->mem);
	km_pouch_line(&b, &r.audit->kits[0]);
	assert_string_equal(b.text, "0 of 1 fits, 1 too large; S-07 T-031 8 mm "
			    "too long, the right length (165) would fit "
			    "with 5 to spare");
	run_done(&r);
}

static void a_pouch_made_small(void **state)
{
	struct run r;

	(void)state;
	run(&r, KIT("{form: roll, pockets: 1, pocket_width: 34 mm, "
		    "pocket_depth: 140 mm, closing_allowance: 20 mm}",
		    PLIERS_SLOT)
		"bench:\n  - {id: T-032, tool: combination pliers, "
		"length: 164 mm}\n");
	/* 140 + 20 = 160: even the right 165 is 5 too long */
	assert_int_equal(r.p->pieces[0].length.over_nm, MM(4));
	assert_int_equal(r.p->pieces[0].length.right_over_nm, MM(5));
	assert_int_equal(r.p->pieces[0].length.fault, KM_FAULT_POUCH);
	assert_int_equal(r.p->pieces[0].girth.fits, KM_FITS_UNMEASURED);
	run_done(&r);
}

static void what_is_not_measured_never_fits(void **state)
{
	struct run r;

	(void)state;
	run(&r, KIT("{form: roll, pockets: 1, pocket_width: 60 mm, "
		    "pocket_depth: 170 mm}", PLIERS_SLOT)
		"bench:\n  - {id: T-033, tool: combination pliers, "
		"length: 164 mm}\n");
	assert_int_equal(r.p->pieces[0].length.fits, KM_FITS);
	assert_int_equal(r.p->pieces[0].girth.fits, KM_FITS_UNMEASURED);
	assert_int_equal(r.p->pieces[0].fits, KM_FITS_UNMEASURED);
	assert_int_equal(r.p->n[KM_FITS], 0);
	run_done(&r);
}

#define BAR(id, more) "    - {id: " id ", tool: tommy bar, " more "}\n"

static void an_empty_pocket_may_be_right(void **state)
{
	struct run r;

	(void)state;
	run(&r, KIT("{form: roll, pockets: 4, pocket_width: 34 mm}",
		    BAR("S-01", "length: 100 mm, pocket: 1")
		    BAR("S-02", "length: 120 mm, pocket: 2")
		    BAR("S-07", "unused: yes, pocket: 3")));
	assert_int_equal(r.p->n_pockets, 4);
	assert_int_equal(r.p->pockets[0].state, KM_POCKET_HOLDS);
	assert_int_equal(r.p->pockets[2].state, KM_POCKET_UNUSED);
	assert_int_equal(r.p->pockets[3].state, KM_POCKET_UNEXPLAINED);
	assert_int_equal(r.p->n_unused, 1);
	assert_int_equal(r.p->n_unexplained, 1);
	assert_int_equal(r.p->n[KM_FITS_NO_TOOL], 2);
	run_done(&r);
}

static void two_slots_in_one_pocket(void **state)
{
	struct run r;

	(void)state;
	run(&r, KIT("{form: roll, pockets: 1, pocket_width: 40 mm, "
		    "pocket_depth: 150 mm, ease: 2 mm}",
		    BAR("S-01", "length: 100 mm, bar: 8 mm, pocket: 1")
		    BAR("S-02", "length: 140 mm, bar: 10 mm, pocket: 1"))
		"bench:\n"
		"  - {id: T-1, tool: tommy bar, length: 100 mm, bar: 8 mm}\n"
		"  - {id: T-2, tool: tommy bar, length: 140 mm, bar: 10 mm}\n");
	assert_int_equal(r.p->pockets[0].state, KM_POCKET_SHARED);
	assert_string_equal(r.p->pockets[0].slot->id, "S-01");
	assert_string_equal(r.p->pockets[0].other->id, "S-02");
	/* on each other: the widest 10, both thicknesses 8 + 10, ease 2: 30 */
	assert_int_equal(r.p->pieces[0].girth.need_nm, MM(30));
	assert_int_equal(r.p->pieces[1].girth.need_nm, MM(30));
	assert_int_equal(r.p->n[KM_FITS], 2);
	run_done(&r);
}

static void tools_without_a_pocket_are_placed_by_their_measures(void **state)
{
	struct run r;

	(void)state;
	/* with 2 mm of ease the 8 mm bar needs 18, the 10 mm bar 22: only one
	 * way puts both in, the small one first in neither order of slots */
	run(&r, KIT("{form: roll, pockets: 2, widths: [22 mm, 18 mm], "
		    "pocket_depth: 150 mm, ease: 2 mm}",
		    BAR("S-01", "length: 100 mm, bar: 8 mm")
		    BAR("S-02", "length: 140 mm, bar: 10 mm"))
		"bench:\n"
		"  - {id: T-1, tool: tommy bar, length: 100 mm, bar: 8 mm}\n"
		"  - {id: T-2, tool: tommy bar, length: 140 mm, bar: 10 mm}\n");
	assert_int_equal(r.p->pieces[0].pocket, 2);
	assert_int_equal(r.p->pieces[1].pocket, 1);
	assert_true(r.p->pieces[0].placed && r.p->pieces[1].placed);
	assert_int_equal(r.p->pieces[0].girth.over_nm, 0);
	assert_int_equal(r.p->pieces[1].girth.over_nm, 0);
	assert_int_equal(r.p->n_unexplained, 0);
	run_done(&r);
}

/* Five stamped spanners 30 mm wide and 4 mm thick, one of them long. */
#define SPANNER(n) \
	"    - {id: S-0" n ", tool: double open-ended spanner, " \
	"sizes: [1" n " mm, 2" n " mm]}\n"
#define ON_BENCH(n, length) \
	"  - {id: T-0" n ", tool: double open-ended spanner, sizes: [1" n \
	" mm, 2" n " mm], length: " length ", width: 30 mm, thickness: 4 mm}\n"

static void a_bundle_in_an_envelope(void **state)
{
	struct run r;

	(void)state;
	run(&r, KIT("{form: envelope, width: 56 mm, depth: 200 mm, "
		    "flap: 60 mm, ease: 6 mm}",
		    SPANNER("0") SPANNER("1") SPANNER("2") SPANNER("3")
		    SPANNER("4"))
		"bench:\n" ON_BENCH("0", "120 mm") ON_BENCH("1", "130 mm")
		ON_BENCH("2", "140 mm") ON_BENCH("3", "150 mm")
		ON_BENCH("4", "191 mm"));
	assert_int_equal(r.p->rule, KM_POUCH_BUNDLE);
	/* 56 - 6 = 50 of use, 100 of cloth; a stack needs 2 (30 + 20) = 100 */
	assert_int_equal(r.p->bundle.usable_nm, MM(50));
	assert_int_equal(r.p->bundle.fits, KM_FITS);
	assert_int_equal(r.p->bundle.hull.over_nm, 0);
	assert_int_equal(r.p->bundle.thick_nm, MM(20));
	/* half of 20 is lost at the end: 190 of depth, 191 is 1 too long */
	assert_int_equal(r.p->pieces[3].length.over_nm, MM(150 - 190));
	assert_int_equal(r.p->pieces[4].length.over_nm, MM(1));
	assert_int_equal(r.p->n[KM_FITS], 4);
	assert_int_equal(r.p->n[KM_FITS_NOT], 1);
	/* the flap: 20 round the mouth and 40 over: 60 */
	assert_int_equal(r.p->bundle.flap.over_nm, 0);
	run_done(&r);
}

static void a_tight_bundle_is_not_proved(void **state)
{
	struct run r;

	(void)state;
	/* 49 of use: 98 of cloth for a hull of 100, the least there is; but
	 * 5 x 120 mm2 = 600 are under 55^2 / pi = 962, so nothing excludes it */
	run(&r, KIT("{form: envelope, width: 55 mm, depth: 200 mm, "
		    "ease: 6 mm}",
		    SPANNER("0") SPANNER("1") SPANNER("2") SPANNER("3")
		    SPANNER("4"))
		"bench:\n" ON_BENCH("0", "120 mm") ON_BENCH("1", "130 mm")
		ON_BENCH("2", "140 mm") ON_BENCH("3", "150 mm")
		ON_BENCH("4", "160 mm"));
	assert_int_equal(r.p->bundle.fits, KM_FITS_UNPROVED);
	assert_true(r.p->bundle.whole);
	assert_int_equal(r.p->bundle.hull.over_nm, MM(2));
	assert_int_equal(r.p->n[KM_FITS], 0);
	run_done(&r);
}

static void a_bundle_over_the_largest_section(void **state)
{
	struct run r;

	(void)state;
	/* 40^2 / pi = 509 mm2 is less than 5 x 120 = 600: never */
	run(&r, KIT("{form: envelope, width: 40 mm, depth: 200 mm}",
		    SPANNER("0") SPANNER("1") SPANNER("2") SPANNER("3")
		    SPANNER("4"))
		"bench:\n" ON_BENCH("0", "120 mm") ON_BENCH("1", "130 mm")
		ON_BENCH("2", "140 mm") ON_BENCH("3", "150 mm")
		ON_BENCH("4", "160 mm"));
	assert_true(r.p->bundle.excluded);
	assert_int_equal(r.p->bundle.fits, KM_FITS_NOT);
	run_done(&r);
}

static void loaded_from_the_side(void **state)
{
	struct run r;

	(void)state;
	/* the long side is the mouth: 34 and 4 in 50 - 4 of use; between two
	 * closed ends 200 - 4 = 196 */
	run(&r, KIT("{form: side-loaded envelope, width: 200 mm, "
		    "depth: 50 mm}", SPANNER("0"))
		"bench:\n" ON_BENCH("0", "197 mm"));
	assert_int_equal(r.p->bundle.usable_nm, MM(46));
	assert_int_equal(r.p->bundle.fits, KM_FITS);
	assert_int_equal(r.p->pieces[0].length.room_nm, MM(196));
	assert_int_equal(r.p->pieces[0].length.over_nm, MM(1));
	run_done(&r);
}

static void memory_runs_out_everywhere(void **state)
{
	static const char yaml[] =
		KIT("{form: roll, pockets: 3, pocket_width: 34 mm, "
		    "pocket_depth: 150 mm, cloth: 1 mm}",
		    BAR("S-01", "length: 100 mm, bar: 8 mm")
		    BAR("S-02", "length: 140 mm, bar: 10 mm"));
	struct km_fault fault = { .fail_at = 0 };
	enum km_status st;
	struct run r;

	(void)state;
	do {
		fault.seen = 0;
		fault.fail_at++;
		st = try_run(&r, yaml, &fault);
		assert_true(st == KM_OK || st == KM_ENOMEM);
		run_done(&r);
	} while (st != KM_OK);
	assert_true(fault.fail_at > 5);
}

/* ------------------------------------------------------------------ */
/* A plan that must fit                                                */

static enum km_status must_fit(struct run *r, const char *yaml,
			       struct km_fault *fault)
{
	static const struct km_options o = { .want_money = true,
					     .must_fit = true };

	return run_texts(r, &yaml, 1, &o, fault);
}

#define SOLD(id, rest, money) \
	"    - {id: " id ", tool: combination pliers, " rest \
	", state: new, seller: n, price: " money "}\n"

/* Usable: 178 is 10 over 168, and a tenth of 165 is 16.5, so it is right; but
 * 150 + 20 = 170, so it is 8 too long.  45 + 10 + 4 = 59 in 60 is not too wide;
 * 48 + 10 + 4 = 62 is, by 2. */
static const char too_long[] =
	"kit:\n  id: k\n  standard: usable\n  currency: GBP\n"
	"  pouch: {form: roll, pockets: 1, pocket_width: 60 mm, "
	"pocket_depth: 150 mm, closing_allowance: 20 mm}\n  slots:\n"
	PLIERS_SLOT
	"bench:\n  - {id: T-031, tool: combination pliers, "
	"length: 178 mm, width: 45 mm, thickness: 10 mm}\n"
	"prices:\n  currency: GBP\n  sellers:\n    - {id: n}\n  offers:\n"
	SOLD("o1", "length: 165 mm, width: 45 mm, thickness: 10 mm", "12.00")
	SOLD("o2", "length: 165 mm, width: 48 mm, thickness: 10 mm", "9.00");

static void what_is_too_long_is_bought_anew(void **state)
{
	const struct km_plan *p;
	const struct km_way *w;
	struct run r;

	(void)state;
	assert_int_equal(must_fit(&r, too_long, NULL), KM_OK);
	p = r.audit->plan;
	assert_int_equal(p->n_places, 1);
	assert_true(p->proved);
	assert_int_equal(p->total.likely, 1200);
	assert_string_equal(p->places[0].chosen->match->offer->id, "o1");
	assert_int_equal(p->short_firm, 0);
	w = p->places[0].ways;
	assert_string_equal(w[0].match->tool->id, "T-031");
	assert_int_equal(w[0].match->verdict, KM_RIGHT);
	assert_true(w[0].fit.too_large && !w[0].acceptable);
	assert_int_equal(w[0].fit.too_long_nm, MM(8));
	assert_int_equal(w[0].fit.too_wide_nm, 0);
	assert_int_equal(w[0].fit.pocket, 1);
	assert_int_equal(w[2].fit.too_wide_nm, MM(2));
	assert_false(w[2].acceptable);
	assert_int_equal(r.audit->kits[0].planned->n[KM_FITS], 1);
	run_done(&r);
}

/* Nothing is known of its girth, and its length goes in: it may be taken, and
 * is never said to fit. */
static void what_is_not_measured_may_be_taken(void **state)
{
	struct run r;
	const struct km_way *w;

	(void)state;
	assert_int_equal(must_fit(&r,
		"kit:\n  id: k\n  currency: GBP\n  pouch: {form: roll, "
		"pockets: 1, pocket_width: 60 mm, pocket_depth: 150 mm, "
		"closing_allowance: 20 mm}\n  slots:\n" PLIERS_SLOT
		"prices:\n  currency: GBP\n  sellers:\n    - {id: n}\n"
		"  offers:\n" SOLD("o1", "length: 165 mm", "12.00"), NULL),
		KM_OK);
	w = r.audit->plan->places[0].chosen;
	assert_string_equal(w->match->offer->id, "o1");
	assert_true(w->acceptable && w->fit.unmeasured && !w->fit.too_large);
	assert_int_equal(r.audit->kits[0].planned->n[KM_FITS], 0);
	assert_int_equal(r.audit->kits[0].planned->n[KM_FITS_UNMEASURED], 1);
	run_done(&r);
}

/* An envelope of 80 x 200 mm takes each of two alone, 60 + 12 in 80, but not
 * both: 2 x 60 x 12 = 1440 mm2 would go into 80^2 / pi = 2037, so nothing is
 * excluded; the ease is 5 % of 80 = 4, so 2 x 76 = 152 round, and two of 60 by
 * 12 in one stack are 60 by 24: 168, 16 too much; side by side, 2 x (120 + 12)
 * = 264. */
static void the_bundle_of_the_plan_is_weighed(void **state)
{
	const struct km_pouch_audit *p;
	struct run r;

	(void)state;
	assert_int_equal(must_fit(&r,
		"kit:\n  id: k\n  currency: GBP\n  pouch: {form: envelope, "
		"width: 80 mm, depth: 200 mm}\n  slots:\n"
		"    - {id: A, tool: combination pliers, length: 165 mm +-3}\n"
		"    - {id: B, tool: combination pliers, length: 165 mm +-3}\n"
		"bench:\n  - {id: T-1, tool: combination pliers, "
		"length: 165 mm, width: 60 mm, thickness: 12 mm}\n"
		"prices:\n  currency: GBP\n  sellers:\n    - {id: n}\n"
		"  offers:\n" SOLD("o1", "length: 165 mm, width: 60 mm, "
				   "thickness: 12 mm", "12.00")
		SOLD("o2", "length: 165 mm, width: 75 mm, thickness: 6 mm",
		     "1.00"), NULL), KM_OK);
	/* 75 + 6 = 81: 1 too wide alone */
	assert_int_equal(r.audit->plan->total.likely, 1200);
	p = r.audit->kits[0].planned;
	assert_int_equal(p->bundle.measured, 2);
	assert_int_equal(p->bundle.fits, KM_FITS_UNPROVED);
	assert_int_equal(p->bundle.hull.over_nm, MM(16));
	run_done(&r);
}

static void a_plan_that_must_fit_needs_memory(void **state)
{
	enum km_status st = KM_ENOMEM;
	uint64_t failed = 0;

	(void)state;
	for (uint64_t n = 1; st == KM_ENOMEM; n++) {
		struct km_fault fault = { .fail_at = n };
		struct run r;

		st = must_fit(&r, too_long, &fault);
		failed += st == KM_ENOMEM;
		run_done(&r);
	}
	assert_int_equal(st, KM_OK);
	assert_true(failed > 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_tool_longer_than_its_pocket),
		cmocka_unit_test(a_pouch_made_small),
		cmocka_unit_test(what_is_not_measured_never_fits),
		cmocka_unit_test(an_empty_pocket_may_be_right),
		cmocka_unit_test(two_slots_in_one_pocket),
		cmocka_unit_test(tools_without_a_pocket_are_placed_by_their_measures),
		cmocka_unit_test(a_bundle_in_an_envelope),
		cmocka_unit_test(a_tight_bundle_is_not_proved),
		cmocka_unit_test(a_bundle_over_the_largest_section),
		cmocka_unit_test(loaded_from_the_side),
		cmocka_unit_test(memory_runs_out_everywhere),
		cmocka_unit_test(what_is_too_long_is_bought_anew),
		cmocka_unit_test(what_is_not_measured_may_be_taken),
		cmocka_unit_test(the_bundle_of_the_plan_is_weighed),
		cmocka_unit_test(a_plan_that_must_fit_needs_memory),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
