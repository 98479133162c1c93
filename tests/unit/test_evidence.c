/* SPDX-License-Identifier: MIT */
/*
 * evidence - sources by hand, words by hand.  What a rule rests on stands
 * beside each case: an entry of docs/sources.md, or "common practice, no
 * source"; where the trade has no rule it is the project's choice, told in
 * docs/method.md.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>
#include <cmocka.h>

#include "trade/evidence.h"

/* The sources of the tests; by their place in the kit. */
enum { PL1, PL2, DR1, HB1, PH1, SV1, SV2, SV3, BK1, BK2, SA1, RC1, RC2, RC3,
       DEAL, OT1, MIX, SOURCES };
#define NONE (-1)

static const struct km_period no_years;

struct kit {
	struct km_arena *mem;
	struct km_source s[SOURCES];
	const struct km_source *up[SOURCES][2];
	uint8_t seen[SOURCES];
};

static void depends(struct kit *k, int a, int first, int second)
{
	k->up[a][0] = &k->s[first];
	k->up[a][1] = second == NONE ? NULL : &k->s[second];
	k->s[a].depends_on = k->up[a];
	k->s[a].n_depends_on = second == NONE ? 1 : 2;
}

static int set_up(void **state)
{
	static const enum km_source_what what[SOURCES] = {
		[PL1] = KM_SRC_PARTS_LIST, [PL2] = KM_SRC_PARTS_LIST,
		[DR1] = KM_SRC_DRAWING, [HB1] = KM_SRC_HANDBOOK,
		[PH1] = KM_SRC_PHOTOGRAPH, [SV1] = KM_SRC_SURVIVOR,
		[SV2] = KM_SRC_SURVIVOR, [SV3] = KM_SRC_SURVIVOR,
		[BK1] = KM_SRC_BOOK, [BK2] = KM_SRC_BOOK,
		[SA1] = KM_SRC_SALES, [RC1] = KM_SRC_RECOLLECTION,
		[RC2] = KM_SRC_RECOLLECTION, [RC3] = KM_SRC_RECOLLECTION,
		[DEAL] = KM_SRC_OTHER, [OT1] = KM_SRC_OTHER,
		[MIX] = KM_SRC_BOOK,
	};
	struct km_arena *mem = km_arena_new(NULL);
	struct kit *k = km_arena_alloc(mem, 1, sizeof *k);

	k->mem = mem;
	for (int i = 0; i < SOURCES; i++)
		k->s[i].what = what[i];
	depends(k, PL2, PL1, NONE);	/* a later edition of the same list */
	depends(k, RC1, PH1, NONE);	/* was shown the photograph */
	depends(k, BK2, BK1, NONE);
	depends(k, SA1, BK1, NONE);
	depends(k, RC2, BK2, NONE);	/* in two steps */
	depends(k, SV3, DEAL, NONE);	/* known through one dealer only */
	depends(k, MIX, PL1, SV1);
	assert_true(km_roots_find(mem, mem, k->s, SOURCES, &no_years));
	*state = k;
	return 0;
}

static int tear_down(void **state)
{
	struct kit *k = *state;

	km_arena_free(k->mem);
	return 0;
}

/* Three lists, each ended by NONE or by three of them. */
struct testimony { int yes[3], no[3], silent[3]; };
#define ALL_NONE { NONE, NONE, NONE }
#define ONE(a) { a, NONE, NONE }
#define TWO(a, b) { a, b, NONE }
#define THREE(a, b, c) { a, b, c }

static struct km_sources list(struct kit *k, const int *from)
{
	const struct km_source **v = km_arena_alloc(k->mem, 3, sizeof *v);
	struct km_sources out = { v, NULL, 0 };

	for (int i = 0; i < 3 && from[i] != NONE; i++)
		v[out.n++] = &k->s[from[i]];
	return out;
}

static struct km_evidence weigh(struct kit *k, const struct testimony *t,
				enum km_ground g)
{
	struct km_evidence e = { .for_it = list(k, t->yes),
				 .against_it = list(k, t->no),
				 .silent = list(k, t->silent) };

	km_evidence_weigh(&e, g, k->s, k->seen);
	for (int i = 0; i < SOURCES; i++)
		assert_int_equal(k->seen[i], 0);
	return e;
}

static const struct {
	const char *name;
	struct testimony t;
	enum km_ground on;
	enum km_certainty word;
} cases[] = {
	/* common practice, no source: the right list and a survivor */
	{ "list and survivor", { TWO(PL1, SV1), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_CERTAIN },
	/* common practice, no source: two independent survivors */
	{ "two survivors", { TWO(SV1, SV2), ALL_NONE, ALL_NONE },
	  KM_G_MARK, KM_CERTAIN },
	/* common practice, no source: one good source, none against */
	{ "one list", { ONE(PL1), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_PROBABLE },
	/* SOURCE toolkit-pliers-page: of two pliers in an untouched kit one
	 * was a stray, so one survivor is not enough to be certain */
	{ "one survivor", { ONE(SV1), ALL_NONE, ALL_NONE },
	  KM_G_DIMENSION, KM_PROBABLE },
	/* SOURCE parts-catalogue-thread: a list left an item out; paper
	 * without a survivor stays probable [choice] */
	{ "list and handbook", { TWO(PL1, HB1), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_PROBABLE },
	/* common practice, no source: one recollection */
	{ "one recollection", { ONE(RC3), ALL_NONE, ALL_NONE },
	  KM_G_COLOUR, KM_POSSIBLE },
	{ "recollections do not add up", { TWO(RC3, OT1), ALL_NONE, ALL_NONE },
	  KM_G_COLOUR, KM_POSSIBLE },
	/* SOURCE light-car-forum: a book on originality took wrong cars as
	 * its models; a book points to sources */
	{ "one book", { ONE(BK1), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_POSSIBLE },
	/* common practice, no source: rank counts within an attribute */
	{ "a list on colour", { ONE(PL1), ALL_NONE, ALL_NONE },
	  KM_G_COLOUR, KM_POSSIBLE },
	{ "a list on a number", { ONE(PL1), ALL_NONE, ALL_NONE },
	  KM_G_PART, KM_PROBABLE },
	{ "list and survivor on colour", { TWO(PL1, SV1), ALL_NONE, ALL_NONE },
	  KM_G_COLOUR, KM_PROBABLE },
	{ "a photograph on sizes", { ONE(PH1), ALL_NONE, ALL_NONE },
	  KM_G_SIZES, KM_POSSIBLE },
	{ "a photograph on colour", { ONE(PH1), ALL_NONE, ALL_NONE },
	  KM_G_COLOUR, KM_PROBABLE },
	{ "a survivor on quantity", { ONE(SV1), ALL_NONE, ALL_NONE },
	  KM_G_QUANTITY, KM_POSSIBLE },
	{ "drawing and survivor on length", { TWO(DR1, SV2), ALL_NONE,
	  ALL_NONE }, KM_G_DIMENSION, KM_CERTAIN },
	/* common practice, no source: good sources disagree */
	{ "photograph against list", { TWO(PH1, RC1), ONE(PL1), ALL_NONE },
	  KM_G_EXISTS, KM_DISPUTED },
	{ "survivor against survivor", { ONE(SV1), ONE(SV2), ALL_NONE },
	  KM_G_COLOUR, KM_DISPUTED },
	/* [choice] what is against is no poorer than what is for it */
	{ "recollection against recollection", { ONE(RC3), ONE(OT1),
	  ALL_NONE }, KM_G_COLOUR, KM_DISPUTED },
	{ "recollection, list against", { ONE(RC3), ONE(PL1), ALL_NONE },
	  KM_G_EXISTS, KM_DISPUTED },
	/* [choice] the poorer one only keeps it from being certain */
	{ "survivor, recollection against", { ONE(SV1), ONE(RC3), ALL_NONE },
	  KM_G_COLOUR, KM_PROBABLE },
	{ "two survivors, recollection against", { TWO(SV1, SV2), ONE(RC3),
	  ALL_NONE }, KM_G_COLOUR, KM_PROBABLE },
	/* common practice, no source: silence is weak evidence against */
	{ "list and survivor, handbook silent", { TWO(PL1, SV1), ALL_NONE,
	  ONE(HB1) }, KM_G_EXISTS, KM_PROBABLE },
	{ "one list, handbook silent", { ONE(PL1), ALL_NONE, ONE(HB1) },
	  KM_G_EXISTS, KM_PROBABLE },
	{ "one recollection, list silent", { ONE(RC3), ALL_NONE, ONE(PL1) },
	  KM_G_EXISTS, KM_POSSIBLE },
	/* [choice] nothing is for it: a question, not a claim */
	{ "only against", { ALL_NONE, ONE(PL1), ALL_NONE },
	  KM_G_EXISTS, KM_CONJECTURE },
	{ "only silent", { ALL_NONE, ALL_NONE, ONE(PL1) },
	  KM_G_EXISTS, KM_CONJECTURE },
	/* no source: the word of the file counts */
	{ "no source", { ALL_NONE, ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_UNKNOWN },
	/* common practice, no source: roots, not mentions */
	{ "two editions of a list", { TWO(PL1, PL2), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_PROBABLE },
	{ "a survivor known through its dealer", { TWO(SV3, DEAL), ALL_NONE,
	  ALL_NONE }, KM_G_MARK, KM_POSSIBLE },
	{ "survivor and its book", { TWO(SV1, MIX), ALL_NONE, ALL_NONE },
	  KM_G_MARK, KM_PROBABLE },
	/* [choice] a list and a survivor by way of a book are as good as it */
	{ "both by way of a book", { ONE(MIX), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_POSSIBLE },
	{ "a later edition alone", { ONE(PL2), ALL_NONE, ALL_NONE },
	  KM_G_EXISTS, KM_PROBABLE },
};

static void each_rule_gives_its_word(void **state)
{
	struct kit *k = *state;

	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct km_evidence e = weigh(k, &cases[i].t, cases[i].on);

		if (e.supports != cases[i].word)
			fail_msg("%s: word %d, by hand %d", cases[i].name,
				 (int)e.supports, (int)cases[i].word);
	}
}

/* Three that cite one book, which is not cited itself, in one or two steps:
 * 3 mentions, 1 root.  Common practice, no source. */
static void borrowed_authority_counts_once(void **state)
{
	struct testimony t = { THREE(BK2, SA1, RC2), ALL_NONE, ALL_NONE };
	struct km_evidence e = weigh(*state, &t, KM_G_EXISTS);

	assert_int_equal(e.mentions, 3);
	assert_int_equal(e.dependent, 3);
	assert_int_equal(e.roots, 1);
	assert_int_equal(e.strong, 0);
	assert_int_equal(e.rests_on, KM_SRC_BOOK);
	assert_int_equal(e.supports, KM_POSSIBLE);
}

/* For: the photograph, and the owner who was shown it.  2 mentions, 1 root;
 * against: 1. */
static void a_dependent_source_is_a_mention(void **state)
{
	struct testimony t = { TWO(PH1, RC1), ONE(PL1), ALL_NONE };
	struct km_evidence e = weigh(*state, &t, KM_G_EXISTS);

	assert_int_equal(e.mentions, 2);
	assert_int_equal(e.dependent, 1);
	assert_int_equal(e.roots, 1);
	assert_int_equal(e.strong, 1);
	assert_int_equal(e.rests_on, KM_SRC_PHOTOGRAPH);
	assert_int_equal(e.mentions_against, 1);
	assert_int_equal(e.roots_against, 1);
}

/* A book that repeats two sources has both as roots; cited twice, a source
 * is one mention; one mention alone says what kind it is. */
static void mentions_and_roots_are_sets(void **state)
{
	struct testimony both = { ONE(MIX), ALL_NONE, ALL_NONE };
	struct testimony twice = { THREE(RC3, RC3, RC3), ALL_NONE, ALL_NONE };
	struct testimony kinds = { TWO(RC3, SV1), ALL_NONE, ALL_NONE };
	struct km_evidence e = weigh(*state, &both, KM_G_EXISTS);

	assert_int_equal(e.mentions, 1);
	assert_int_equal(e.roots, 2);
	assert_int_equal(e.rests_on, KM_SRC_BOOK);
	e = weigh(*state, &twice, KM_G_COLOUR);
	assert_int_equal(e.mentions, 1);
	assert_int_equal(e.roots, 1);
	assert_int_equal(e.rests_on, KM_SRC_RECOLLECTION);
	e = weigh(*state, &kinds, KM_G_COLOUR);
	assert_int_equal(e.rests_on, KM_SRC_WHATS);
}

/* The order of a list says nothing. */
static void order_says_nothing(void **state)
{
	struct testimony a = { THREE(MIX, SV1, RC1), ONE(PL1), ALL_NONE };
	struct testimony b = { THREE(RC1, SV1, MIX), ONE(PL1), ALL_NONE };

	for (int g = 0; g < KM_GROUNDS; g++) {
		struct km_evidence x = weigh(*state, &a, (enum km_ground)g);
		struct km_evidence y = weigh(*state, &b, (enum km_ground)g);

		assert_int_equal(x.supports, y.supports);
		assert_int_equal(x.roots, y.roots);
		assert_int_equal(x.strong, y.strong);
		assert_int_equal(x.rests_on, y.rests_on);
	}
}

/* A parts list is strong on existence and numbers, a recollection on
 * nothing.  Common practice, no source. */
static void ranks_are_those_of_the_table(void **state)
{
	(void)state;
	assert_true(km_source_is_strong(KM_SRC_PARTS_LIST, KM_G_EXISTS));
	assert_false(km_source_is_strong(KM_SRC_PARTS_LIST, KM_G_FINISH));
	assert_true(km_source_is_strong(KM_SRC_DRAWING, KM_G_FINISH));
	assert_false(km_source_is_strong(KM_SRC_HANDBOOK, KM_G_SIZES));
	/* SOURCE line-art-blog: old art for a changed part */
	assert_false(km_source_is_strong(KM_SRC_PICTURE, KM_G_DIMENSION));
	for (int g = 0; g < KM_GROUNDS; g++) {
		assert_false(km_source_is_strong(KM_SRC_RECOLLECTION,
						 (enum km_ground)g));
		assert_false(km_source_is_strong(KM_SRC_SALES,
						 (enum km_ground)g));
	}
	assert_int_equal(km_ground_of(KM_ATTRS), KM_G_EXISTS);
	assert_int_equal(km_ground_of(KM_A_LENGTH), KM_G_DIMENSION);
	assert_int_equal(km_ground_of(KM_A_HANDLE_COLOUR), KM_G_COLOUR);
}

/* A chain as long as a kit may have sources, the last first. */
static void a_long_chain_has_one_root(void **state)
{
	static struct km_source s[KM_SOURCES_MOST];
	static const struct km_source *up[KM_SOURCES_MOST];
	struct kit *k = *state;

	for (int i = 0; i + 1 < KM_SOURCES_MOST; i++) {
		s[i].what = KM_SRC_PARTS_LIST;
		up[i] = &s[i + 1];
		s[i].depends_on = &up[i];
		s[i].n_depends_on = 1;
	}
	s[KM_SOURCES_MOST - 1].what = KM_SRC_PARTS_LIST;
	assert_true(km_roots_find(k->mem, k->mem, s, KM_SOURCES_MOST,
				  &no_years));
	assert_int_equal(s[0].n_roots, 1);
	assert_ptr_equal(s[0].roots[0].source, &s[KM_SOURCES_MOST - 1]);
	assert_true(s[0].roots[0].strong >> KM_G_EXISTS & 1);
	assert_false(s[0].roots[0].strong >> KM_G_COLOUR & 1);
}

/* What a source of a date is worth on what was in a kit of 1952 to 1955.
 * common practice, no source: the edition that covers the machine counts; the
 * date of a print is not that of the picture, nor that of a telling or a find
 * that of the thing. */
static void an_edition_of_other_years_is_weak(void **state)
{
	static const struct {
		enum km_source_what what;
		int16_t from, to;	/* 0: not recorded */
		bool strong;
	} t[] = {
		{ KM_SRC_PARTS_LIST, 1953, 1953, true },
		{ KM_SRC_PARTS_LIST, 1955, 1955, true },
		{ KM_SRC_PARTS_LIST, 1956, 1956, false },
		{ KM_SRC_PARTS_LIST, 1951, 1951, false },
		{ KM_SRC_PARTS_LIST, 1948, 1952, true },	/* the last year */
		{ KM_SRC_PARTS_LIST, 1955, 1961, true },
		{ KM_SRC_PARTS_LIST, 0, 0, true },
		{ KM_SRC_DRAWING, 1961, 1961, false },
		{ KM_SRC_DRAWING, 1951, 1951, true },	/* drawn, then made */
		{ KM_SRC_HANDBOOK, 1961, 1961, false },
		{ KM_SRC_PICTURE, 1961, 1961, false },
		{ KM_SRC_PHOTOGRAPH, 2019, 2019, true },
		{ KM_SRC_SURVIVOR, 2019, 2019, true },
	};
	const struct km_period years = { .from = { 1952, 1, 1 },
					 .to = { 1955, 12, 31 } };
	struct kit *k = *state;

	for (size_t i = 0; i < sizeof t / sizeof *t; i++)
		for (int known = 0; known <= 1; known++) {
			struct km_source s = { .what = t[i].what };
			bool want = !known || t[i].strong;

			if (t[i].from) {
				s.dated.from = (struct km_date){ t[i].from, 1, 1 };
				s.dated.to = (struct km_date){ t[i].to, 12, 31 };
			}
			assert_true(km_roots_find(k->mem, k->mem, &s, 1, known ?
						  &years : &no_years));
			if ((s.roots->strong >> KM_G_EXISTS & 1) != want)
				fail_msg("row %zu, years %d", i, known);
		}
}

/* The list of 1961 and a survivor leave room; the list of 1953 and the
 * survivor do not.  Known through the later list alone, the earlier is no
 * better than that. */
static void certain_takes_the_right_edition(void **state)
{
	static const struct { struct testimony t; enum km_certainty word; } c[] = {
		{ { TWO(PL1, SV1), ALL_NONE, ALL_NONE }, KM_CERTAIN },
		{ { TWO(PL2, SV1), ALL_NONE, ALL_NONE }, KM_PROBABLE },
		{ { ONE(PL2), ALL_NONE, ALL_NONE }, KM_POSSIBLE },
		{ { TWO(PL1, PL2), ALL_NONE, ALL_NONE }, KM_PROBABLE },
		/* the weak list alone against the survivor */
		{ { ONE(SV1), ONE(PL2), ALL_NONE }, KM_PROBABLE },
		{ { ONE(SV1), ONE(PL1), ALL_NONE }, KM_DISPUTED },
	};
	const struct km_period years = { .from = { 1952, 1, 1 },
					 .to = { 1955, 12, 31 } };
	struct kit *k = *state;

	k->s[PL1].dated = (struct km_period){ .from = { 1953, 1, 1 },
					      .to = { 1953, 12, 31 } };
	k->s[PL2].dated = (struct km_period){ .from = { 1961, 1, 1 },
					      .to = { 1961, 12, 31 } };
	for (int i = 0; i < SOURCES; i++)
		k->s[i].n_roots = 0;
	assert_true(km_roots_find(k->mem, k->mem, k->s, SOURCES, &years));
	for (size_t i = 0; i < sizeof c / sizeof *c; i++) {
		struct km_evidence e = weigh(k, &c[i].t, KM_G_EXISTS);

		if (e.supports != c[i].word)
			fail_msg("row %zu: word %d", i, (int)e.supports);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(each_rule_gives_its_word,
						set_up, tear_down),
		cmocka_unit_test_setup_teardown(borrowed_authority_counts_once,
						set_up, tear_down),
		cmocka_unit_test_setup_teardown(a_dependent_source_is_a_mention,
						set_up, tear_down),
		cmocka_unit_test_setup_teardown(mentions_and_roots_are_sets,
						set_up, tear_down),
		cmocka_unit_test_setup_teardown(order_says_nothing, set_up,
						tear_down),
		cmocka_unit_test(ranks_are_those_of_the_table),
		cmocka_unit_test_setup_teardown(
			an_edition_of_other_years_is_weak, set_up, tear_down),
		cmocka_unit_test_setup_teardown(certain_takes_the_right_edition,
						set_up, tear_down),
		cmocka_unit_test_setup_teardown(a_long_chain_has_one_root,
						set_up, tear_down),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
