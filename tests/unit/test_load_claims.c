/* SPDX-License-Identifier: MIT */
/*
 * What a kit claims once it is loaded: which of several claims counts, how
 * sure it is, and that equal words are kept once.
 */
#include "tests/unit/load_fixture.h"

#include "kitmuster/evidence.h"
#include "trade/finish.h"
#include "trade/kind.h"

#define SLOT "kit:\n  id: k\n  sources: [{id: a, what: book}, "               \
	     "{id: b, what: survivor}]\n  slots:\n    - id: S\n"               \
	     "      tool: screwdriver\n      drive: slotted\n"

static const struct km_want *want_of(const struct km_load *l, enum km_attr a)
{
	return &l->kits[0]->slots[0].want[a];
}

static void the_surest_claim_counts(void **state)
{
	struct km_load *l = load_text(SLOT
		"      length: [{is: 200 mm, certainty: possible, sources: [a]},"
		" {is: 150 mm, certainty: probable, sources: [b]}]\n", 0);
	const struct km_want *w = want_of(l, KM_A_LENGTH);

	(void)state;
	assert_int_equal(w->n, 1);
	assert_int_equal(w->any[0].span.nm, 150000000);
	assert_int_equal(w->certainty, KM_PROBABLE);
	assert_false(w->disputed);
	assert_true(w->assumed);	/* 2 per cent over 100 mm [choice] */
	assert_int_equal(w->any[0].span.plus_nm, 3000000);
	assert_int_equal(w->n_outweighed, 1);
	assert_int_equal(w->outweighed[0].any[0].span.nm, 200000000);
	assert_string_equal(w->outweighed[0].sources.v[0]->id, "a");
	km_load_free(l);
}

static void equal_claims_stand_side_by_side(void **state)
{
	struct km_load *l = load_text(SLOT
		"      mark: [{is: A}, {any_of: [B, none]},"
		" {is: C, certainty: conjecture}]\n", 0);
	const struct km_want *w = want_of(l, KM_A_MARK);

	(void)state;
	assert_true(w->disputed && w->or_none);
	assert_int_equal(w->n, 2);
	assert_string_equal(w->any[0].text, "A");
	assert_string_equal(w->any[1].text, "B");
	assert_int_equal(w->n_outweighed, 1);
	km_load_free(l);
}

static void claims_that_agree_are_no_dispute(void **state)
{
	struct km_load *l = load_text(SLOT
		"      mark: [{is: A, sources: [a]}, {is: A, sources: [b]}]\n",
		0);
	const struct km_want *w = want_of(l, KM_A_MARK);

	(void)state;
	assert_false(w->disputed);
	assert_int_equal(w->n, 1);
	assert_int_equal(w->sources.n, 2);
	/* a survivor is good on marks, a book on nothing: together probable */
	assert_int_equal(w->certainty, KM_PROBABLE);
	assert_true(w->weighed);
	assert_int_equal(w->evidence->roots, 2);
	km_load_free(l);
}

/* For A a survivor, for B a book: the one has a weaker source against it, the
 * other a stronger.  One claim with a source and one without: as sure as it,
 * and as the slot. */
static void a_claim_is_as_sure_as_its_sources(void **state)
{
	struct km_load *l = load_text(SLOT
		"      exists: {for: [b]}\n"
		"      mark: [{is: A, sources: [b]}, {is: B, sources: [a]}]\n"
		"      length: {is: 150 mm, sources: [a]}\n"
		"      finish: nickel\n", 0);
	const struct km_want *w = want_of(l, KM_A_MARK);

	(void)state;
	assert_int_equal(l->kits[0]->slots[0].exists, KM_PROBABLE);
	assert_true(l->kits[0]->slots[0].exists_weighed);
	assert_false(w->disputed);
	assert_int_equal(w->n, 1);
	assert_string_equal(w->any[0].text, "A");
	assert_int_equal(w->certainty, KM_PROBABLE);
	assert_int_equal(w->evidence->roots_against, 1);
	assert_int_equal(w->claims->n, 2);
	assert_int_equal(w->claims->v[1].certainty, KM_DISPUTED);
	assert_int_equal(w->outweighed[0].certainty, KM_DISPUTED);
	w = want_of(l, KM_A_LENGTH);
	assert_true(w->own_certainty && w->weighed);
	assert_int_equal(w->certainty, KM_POSSIBLE);
	w = want_of(l, KM_A_FINISH);
	assert_false(w->own_certainty);
	assert_int_equal(w->certainty, KM_PROBABLE);
	km_load_free(l);
}

/* Sources of a slot inform; exists may be silent of a source, or say a word
 * over that of every_slot. */
static void sources_of_a_slot_settle_nothing(void **state)
{
	struct km_load *l = load_text(
		"kit:\n  id: k\n  sources: [{id: a, what: book}]\n"
		"  every_slot: {exists: {for: [a]}, sources: [a]}\n  slots:\n"
		"    - {id: S, tool: jack}\n"
		"    - {id: T, tool: jack, exists: certain}\n", 0);
	const struct km_slot *s = l->kits[0]->slots;

	(void)state;
	assert_int_equal(s[0].exists, KM_POSSIBLE);
	assert_int_equal(s[0].for_it.n, 1);
	assert_int_equal(s[1].exists, KM_CERTAIN);
	assert_true(s[1].exists_stated);
	assert_int_equal(s[1].for_it.n, 0);
	assert_int_equal(s[1].sources.n, 1);
	/* what the book alone would support */
	assert_int_equal(s[1].evidence->supports, KM_POSSIBLE);
	km_load_free(l);
}

static void unknown_none_and_quoted_none_are_three_things(void **state)
{
	struct km_load *l = load_text(SLOT
		"      mark: 'none'\n      part: none\n      finish: unknown\n",
		0);

	(void)state;
	assert_int_equal(want_of(l, KM_A_MARK)->state, KM_WANT_ANY_OF);
	assert_int_equal(want_of(l, KM_A_PART)->state, KM_WANT_NONE);
	assert_int_equal(want_of(l, KM_A_FINISH)->state, KM_WANT_UNKNOWN);
	assert_int_equal(want_of(l, KM_A_LENGTH)->state, KM_WANT_NOTHING);
	km_load_free(l);
}

static void attributes_are_as_sure_as_their_slot(void **state)
{
	struct km_load *l = load_text(SLOT
		"      exists: {for: [a], against: [b]}\n      mark: A\n", 0);

	(void)state;
	assert_int_equal(l->kits[0]->slots[0].exists, KM_DISPUTED);
	assert_int_equal(want_of(l, KM_A_MARK)->certainty, KM_DISPUTED);
	assert_false(want_of(l, KM_A_MARK)->own_certainty);
	km_load_free(l);
}

static void an_unlisted_word_is_one_row_however_it_is_spelt(void **state)
{
	struct km_load *l = load_text(
		"bench:\n  - {id: a, tool: Wobble-Hook, finish: dull grey}\n"
		"  - {id: b, tool: wobble hook, finish: Dull Grey}\n"
		"  - {id: c, tool: wobble_hooks}\n", 3);
	const struct km_kind *k[3];
	unsigned i;

	(void)state;
	for (i = 0; i < 3; i++)
		k[i] = km_trait(&km_tool_at(&l->bench, i)->traits,
				KM_A_TOOL)->kind;
	assert_ptr_equal(k[0], k[1]);
	assert_ptr_not_equal(k[0], k[2]);
	assert_string_equal(k[0]->name, "wobble hook");
	assert_int_equal(k[0]->id, KM_KIND_UNLISTED);
	km_load_free(l);
}

static void equal_words_and_conditions_are_kept_once(void **state)
{
	struct km_load *l = load_text(
		"bench:\n"
		"  - {id: a, tool: ring spanner, sizes: [10, 13], mark: LM,\n"
		"     condition: {rust: 1, damage: [{what: ground}]}}\n"
		"  - {id: b, tool: ring spanner, sizes: [10, 13], mark: LM,\n"
		"     condition: {damage: [{what: ground}], rust: 1}}\n", 0);
	const struct km_tool *a = km_tool_at(&l->bench, 0);
	const struct km_tool *b = km_tool_at(&l->bench, 1);

	(void)state;
	assert_ptr_equal(a->condition, b->condition);
	assert_ptr_equal(km_trait(&a->traits, KM_A_SIZES)->sizes.v,
			 km_trait(&b->traits, KM_A_SIZES)->sizes.v);
	assert_ptr_equal(km_trait(&a->traits, KM_A_MARK)->text,
			 km_trait(&b->traits, KM_A_MARK)->text);
	km_load_free(l);
}

/* 12.50 EUR at 0.86 is 10.75 GBP; 0.03 EUR is 0.0258, so 0.03 GBP. */
static void a_sum_in_another_currency_is_converted_once(void **state)
{
	struct km_load *l = load_text(
		"bench:\n  - {id: a, tool: jack, paid: 12.50 EUR,\n"
		"     value: 0.03 EUR}\n"
		"prices: {currency: GBP, rates: {EUR: 0.86}}\n", 0);
	const struct km_tool *t = km_tool_at(&l->bench, 0);

	(void)state;
	assert_int_equal(t->more->paid.minor, 1075);
	assert_int_equal(t->more->value.minor, 3);
	km_load_free(l);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_surest_claim_counts),
		cmocka_unit_test(equal_claims_stand_side_by_side),
		cmocka_unit_test(claims_that_agree_are_no_dispute),
		cmocka_unit_test(a_claim_is_as_sure_as_its_sources),
		cmocka_unit_test(sources_of_a_slot_settle_nothing),
		cmocka_unit_test(unknown_none_and_quoted_none_are_three_things),
		cmocka_unit_test(attributes_are_as_sure_as_their_slot),
		cmocka_unit_test(
			an_unlisted_word_is_one_row_however_it_is_spelt),
		cmocka_unit_test(equal_words_and_conditions_are_kept_once),
		cmocka_unit_test(a_sum_in_another_currency_is_converted_once),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
