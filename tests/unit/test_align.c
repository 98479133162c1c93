/* SPDX-License-Identifier: MIT */
/*
 * Which slot of one kit is which of another.  Costs are worked by hand from
 * the weights and shares of docs/method.md; all are choices of ours.
 */
#include "match_fixture.h"

#include "audit/align.h"
#include "audit/claims.h"

#define SLOTS 6

struct kit {
	struct km_kit kit;
	struct km_slot slots[SLOTS];
};

static void begin_kit(struct kit *k)
{
	*k = (struct kit){ .kit = { .id = "k" } };
	k->kit.slots = k->slots;
}

static struct km_slot *add(struct kit *k, const char *id, const char *kind)
{
	struct km_slot *s = &k->slots[k->kit.n_slots];
	union km_value *v = km_arena_alloc(mem, 1, sizeof *v);

	assert_non_null(v);
	*v = kind_of(kind);
	*s = (struct km_slot){ .id = id, .kit = &k->kit,
			       .index = k->kit.n_slots++, .count = 1,
			       .durable = true, .points = -1 };
	s->want[KM_A_TOOL] = (struct km_want){ .state = KM_WANT_ANY_OF,
					       .n = 1, .any = v };
	return s;
}

/* One more value of an attribute. */
static void says(struct km_slot *s, enum km_attr a, union km_value v)
{
	struct km_want *w = &s->want[a];
	union km_value *any = km_arena_alloc(mem, w->n + 1, sizeof *any);

	assert_non_null(any);
	if (w->n)
		memcpy(any, w->any, w->n * sizeof *any);
	any[w->n++] = v;
	w->any = any;
	w->state = KM_WANT_ANY_OF;
}

static struct km_alignment align(struct kit *a, struct kit *b)
{
	struct km_arena *scratch = km_arena_new(NULL);
	struct km_alignment out;

	assert_non_null(scratch);
	assert_int_equal(km_kits_align(mem, scratch, &a->kit, &b->kit, NULL,
				       &out),
			 KM_OK);
	km_arena_free(scratch);
	assert_int_equal(out.n, out.n_same + out.n_differ + out.n_only_a +
				out.n_only_b);
	return out;
}

/* The cost of the only pair of kits of one slot. */
static int32_t cost_of_pair(struct kit *a, struct kit *b)
{
	struct km_alignment out = align(a, b);

	assert_int_equal(out.n, 1);
	assert_non_null(out.pairs[0].a);
	assert_non_null(out.pairs[0].b);
	return out.pairs[0].cost;
}

static void test_ids_and_order_say_nothing(void **state)
{
	struct kit a, b;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	says(add(&a, "S-01", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("1/4 W", "5/16 W"));
	says(add(&a, "S-02", "tyre lever"), KM_A_LENGTH,
	     length_um(250000, 5000, 5000));
	begin_kit(&b);
	says(add(&b, "S-01", "tyre lever"), KM_A_LENGTH,
	     length_um(250000, 5000, 5000));
	says(add(&b, "S-02", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("5/16 W", "1/4 W"));	/* the ends the other way */
	out = align(&a, &b);
	assert_int_equal(out.n_same, 2);
	assert_int_equal(out.cost, 0);
	assert_ptr_equal(out.pairs[0].b, &b.slots[1]);
	assert_ptr_equal(out.pairs[1].b, &b.slots[0]);
}

static void test_what_is_alone_costs_fifty(void **state)
{
	struct kit a, b;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	add(&a, "S-01", "tyre lever");
	begin_kit(&b);
	add(&b, "S-01", "combination pliers");
	out = align(&a, &b);
	assert_int_equal(out.n_only_a, 1);
	assert_int_equal(out.n_only_b, 1);
	assert_int_equal(out.cost, 2 * KM_ALIGN_ALONE);
	assert_null(out.pairs[0].b);
	assert_null(out.pairs[1].a);
}

static void test_another_kind_needs_a_size_or_part(void **state)
{
	struct kit a, b;

	(void)state;
	begin_kit(&a);
	says(add(&a, "S-01", "double open-ended spanner"), KM_A_PART,
	     text_of("54-701"));
	begin_kit(&b);
	says(add(&b, "S-01", "double ring spanner"), KM_A_PART,
	     text_of("54-701"));
	/* kind 60, all else the same */
	assert_int_equal(cost_of_pair(&a, &b), 6000);
}

static void test_lengths(void **state)
{
	static const struct { int64_t um; int32_t tol; int32_t cost; } rows[] = {
		{ 148000, 3000, 0 },
		/* 146..150 against 145..151: they overlap, 25 % of 12 */
		{ 148000, 2000, 300 },
		{ 154000, 3000, 300 },		/* 151 is in both */
		/* 158 - 148 = 10; a quarter of 158 is 39.5; 50 + 50 x 10 /
		 * 39.5 = 62.6, whole per cent 62; 62 x 12 = 744 */
		{ 158000, 3000, 744 },
		{ 250000, 3000, 1200 },		/* over a quarter */
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct kit a, b;

		begin_kit(&a);
		says(add(&a, "S", "tyre lever"), KM_A_LENGTH,
		     length_um(148000, 3000, 3000));
		begin_kit(&b);
		says(add(&b, "S", "tyre lever"), KM_A_LENGTH,
		     length_um(rows[i].um, rows[i].tol, rows[i].tol));
		assert_int_equal(cost_of_pair(&a, &b), rows[i].cost);
		assert_int_equal(cost_of_pair(&b, &a), rows[i].cost);
	}
}

static void test_sizes(void **state)
{
	static const struct { const char *one, *two; int32_t cost; } rows[] = {
		{ "10 mm", "12 mm", 0 },
		{ "12 mm", "10 mm", 0 },
		/* 13 for 12: 50 + 50 x 1 / (13 / 4) = 65.38; an end of two:
		 * 65 / 2 = 32; 32 x 40 */
		{ "10 mm", "13 mm", 1280 },
		{ "10 mm", "22 mm", 2000 },	/* 100 / 2 = 50 */
		{ "10 mm", NULL, 2000 },	/* an end left over */
		/* 1/4 W and 12 mm: 13.335 mm [machinerys-handbook-31]; 1.335 /
		 * (13.335 / 4) x 50 = 20.02; 70 / 2 = 35; 35 x 40 */
		{ "10 mm", "1/4 W", 1400 },
	};

	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		struct kit a, b;

		begin_kit(&a);
		says(add(&a, "S", "double open-ended spanner"), KM_A_SIZES,
		     hexagons("10 mm", "12 mm"));
		begin_kit(&b);
		says(add(&b, "S", "double open-ended spanner"), KM_A_SIZES,
		     hexagons(rows[i].one, rows[i].two));
		assert_int_equal(cost_of_pair(&a, &b), rows[i].cost);
		assert_int_equal(cost_of_pair(&b, &a), rows[i].cost);
	}
}

static void test_two_names_of_one_jaw(void **state)
{
	struct kit a, b;

	(void)state;
	begin_kit(&a);
	says(add(&a, "S", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("1/4 W", NULL));
	begin_kit(&b);
	says(add(&b, "S", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("5/16 BS", NULL));
	assert_int_equal(cost_of_pair(&a, &b), 25 * 40);
	assert_int_equal(align(&a, &b).pairs[0].attrs, 1u << KM_A_SIZES);
}

static void test_any_of_in_any_order(void **state)
{
	struct kit a, b;
	struct km_slot *s, *t;

	(void)state;
	begin_kit(&a);
	s = add(&a, "S", "hammer");
	says(s, KM_A_MARK, text_of("LARKMOOR"));
	says(s, KM_A_MARK, text_of("LM"));
	begin_kit(&b);
	t = add(&b, "S", "hammer");
	says(t, KM_A_MARK, text_of("lm"));
	says(t, KM_A_MARK, text_of("Larkmoor"));
	assert_int_equal(cost_of_pair(&a, &b), 0);
	says(t, KM_A_MARK, text_of("LARKMOOR WORKS"));
	/* two of three in common: 25 % of 6 */
	assert_int_equal(cost_of_pair(&a, &b), 150);
	t->want[KM_A_MARK] = (struct km_want){ .state = KM_WANT_NOTHING };
	assert_int_equal(cost_of_pair(&a, &b), 300);	/* one is silent */
	t->want[KM_A_MARK] = (struct km_want){ .state = KM_WANT_NONE };
	assert_int_equal(cost_of_pair(&a, &b), 600);
}

static void test_the_rest(void **state)
{
	struct kit a, b;
	struct km_slot *t;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	add(&a, "S", "hammer")->pocket = 3;
	begin_kit(&b);
	t = add(&b, "S", "hammer");
	assert_int_equal(cost_of_pair(&a, &b), 150);	/* half a pocket */
	t->pocket = 4;
	t->count = 2;
	t->durable = false;
	t->exists = KM_POSSIBLE;
	t->points = 50;
	/* pocket 3, count 6, durable 4, certainty 1, half of points 1 */
	out = align(&a, &b);
	assert_int_equal(out.pairs[0].cost, 1450);
	assert_int_equal(out.pairs[0].rest,
			 KM_DIFF_COUNT | KM_DIFF_EXISTS | KM_DIFF_POCKET |
			 KM_DIFF_DURABLE | KM_DIFF_POINTS);
	assert_int_equal(out.pairs[0].attrs, 0);
	t->unused = true;	/* a tool, and a pocket empty by design */
	assert_int_equal(align(&a, &b).n_only_a, 1);
}

static void test_certainty_of_an_equal_value(void **state)
{
	struct kit a, b;
	struct km_slot *s, *t;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	s = add(&a, "S", "hammer");
	says(s, KM_A_FINISH, finish_of("black oxide", NULL));
	begin_kit(&b);
	t = add(&b, "S", "hammer");
	says(t, KM_A_FINISH, finish_of("black oxide", NULL));
	t->want[KM_A_FINISH].own_certainty = true;
	t->want[KM_A_FINISH].certainty = KM_POSSIBLE;
	out = align(&a, &b);
	assert_int_equal(out.n_differ, 1);
	assert_int_equal(out.pairs[0].attrs, 0);
	assert_int_equal(out.pairs[0].sure, 1u << KM_A_FINISH);
	assert_int_equal(out.pairs[0].cost, 0);
	/* stated, and no other than the slot's */
	t->want[KM_A_FINISH].certainty = KM_CERTAIN;
	assert_int_equal(align(&a, &b).n_same, 1);
	/* all that is inherited goes with the slot, and is said once */
	t->want[KM_A_FINISH].own_certainty = false;
	t->exists = KM_PROBABLE;
	out = align(&a, &b);
	assert_int_equal(out.pairs[0].sure, 0);
	assert_int_equal(out.pairs[0].rest, KM_DIFF_EXISTS);
}

/* Greedy takes 10 x 12 with 10 x 13 and leaves a dear pair behind. */
static void test_the_whole_counts(void **state)
{
	struct kit a, b;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	says(add(&a, "A1", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("10 mm", "13 mm"));
	says(add(&a, "A2", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("12 mm", "13 mm"));
	begin_kit(&b);
	says(add(&b, "B1", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("10 mm", "12 mm"));
	says(add(&b, "B2", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("30 mm", "10 mm"));
	/* A1-B1: 13 for 12, 32 % of 40: 1280.  A2-B2: 10 against 12 is 50 +
	 * 50 x 2 / 3 = 83, 30 against 13 is 100; 183 / 2 = 91; the other way
	 * round 30 against 12 is 100 and 10 against 13 (a quarter is 3.25) 96,
	 * 98: the less is 91: 3640.  Together 4920.
	 * A1-B2: 10 is in both, 30 for 13 is 100; 50: 2000.  A2-B1: 12 is in
	 * both, 10 for 13 is 50 + 50 x 3 / 3.25 = 96; 48: 1920.  Together
	 * 3920. */
	out = align(&a, &b);
	assert_int_equal(out.cost, 3920);
	assert_ptr_equal(out.pairs[0].b, &b.slots[1]);
	assert_ptr_equal(out.pairs[1].b, &b.slots[0]);
}

static void test_ids_settle_only_ties(void **state)
{
	struct kit a, b;
	struct km_alignment out;

	(void)state;
	begin_kit(&a);
	add(&a, "L2", "tyre lever");
	add(&a, "L1", "tyre lever");
	begin_kit(&b);
	add(&b, "L1", "tyre lever");
	add(&b, "L3", "tyre lever");
	add(&b, "L2", "tyre lever");
	out = align(&a, &b);
	assert_int_equal(out.n_same, 2);
	assert_int_equal(out.n_only_b, 1);
	assert_ptr_equal(out.pairs[0].b, &b.slots[2]);	/* L2 */
	assert_ptr_equal(out.pairs[1].b, &b.slots[0]);	/* L1 */
	assert_ptr_equal(out.pairs[2].b, &b.slots[1]);	/* L3 alone */
}

static void test_companions_go_with_the_same(void **state)
{
	struct kit a, b;

	(void)state;
	begin_kit(&a);
	add(&a, "P", "plug spanner");
	add(&a, "B", "tommy bar")->companion = &a.slots[0];
	begin_kit(&b);
	add(&b, "X", "tommy bar");
	add(&b, "Y", "plug spanner");
	b.slots[0].companion = &b.slots[1];
	assert_int_equal(align(&a, &b).n_same, 2);
	b.slots[0].companion = NULL;
	assert_int_equal(align(&a, &b).pairs[1].rest, KM_DIFF_GOES_WITH);
}

static void test_an_empty_kit(void **state)
{
	struct kit a, b;

	(void)state;
	begin_kit(&a);
	begin_kit(&b);
	assert_int_equal(align(&a, &b).n, 0);
	add(&b, "S", "hammer");
	assert_int_equal(align(&a, &b).n_only_b, 1);
	assert_int_equal(align(&b, &a).n_only_a, 1);
}

/* Each allocation fails in turn: the answer is KM_ENOMEM and out untouched. */
static void test_memory_runs_out(void **state)
{
	struct kit a, b;

	(void)state;
	begin_kit(&a);
	says(add(&a, "S", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("10 mm", "12 mm"));
	begin_kit(&b);
	says(add(&b, "S", "double open-ended spanner"), KM_A_SIZES,
	     hexagons("10 mm", "13 mm"));
	for (uint64_t at = 1; at < 200; at++) {
		struct km_fault fault = { .fail_at = at };
		struct km_limits lim = { .fault = &fault };
		struct km_arena *own = km_arena_new(&lim);
		struct km_alignment out = { .n = 77 };
		enum km_status st;

		if (!own)
			continue;
		st = km_kits_align(own, own, &a.kit, &b.kit, NULL, &out);
		km_arena_free(own);
		if (st == KM_OK) {
			assert_true(at > 1);
			return;
		}
		assert_int_equal(st, KM_ENOMEM);
		assert_int_equal(out.n, 77);
	}
	fail_msg("it never came through");
}

/* 1000 x 1000 pairs of slots are the most; 1001 x 1000 are not compared. */
static void test_too_many_pairs_are_refused(void **state)
{
	static struct km_slot slots[1001];
	struct km_kit a = { .id = "a", .slots = slots, .n_slots = 1001 };
	struct km_kit b = { .id = "b", .slots = slots, .n_slots = 1000 };
	struct km_arena *scratch = km_arena_new(NULL);
	struct km_diags *d = km_diags_new(NULL);
	struct km_alignment out = { .n = 77 };

	(void)state;
	assert_non_null(scratch);
	assert_non_null(d);
	assert_int_equal(km_kits_align(mem, scratch, &a, &b, d, &out),
			 KM_ELIMIT);
	assert_int_equal(out.n, 77);
	assert_int_equal(km_diags_count(d, KM_ERROR), 1);
	assert_int_equal(km_diags_at(d, 0)->msg, KM_M_KITS_TOO_LARGE);
	km_diags_free(d);
	km_arena_free(scratch);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_ids_and_order_say_nothing),
		cmocka_unit_test(test_what_is_alone_costs_fifty),
		cmocka_unit_test(test_another_kind_needs_a_size_or_part),
		cmocka_unit_test(test_lengths),
		cmocka_unit_test(test_sizes),
		cmocka_unit_test(test_two_names_of_one_jaw),
		cmocka_unit_test(test_any_of_in_any_order),
		cmocka_unit_test(test_the_rest),
		cmocka_unit_test(test_certainty_of_an_equal_value),
		cmocka_unit_test(test_the_whole_counts),
		cmocka_unit_test(test_ids_settle_only_ties),
		cmocka_unit_test(test_companions_go_with_the_same),
		cmocka_unit_test(test_an_empty_kit),
		cmocka_unit_test(test_too_many_pairs_are_refused),
		cmocka_unit_test(test_memory_runs_out),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
