/* SPDX-License-Identifier: MIT */
/*
 * Which tools are listed for which slot: the index against a comparison of
 * every pair, and what is kept.
 */
#include "match_fixture.h"

#include <stdlib.h>

#include "match/candidates.h"

#define TOOLS 40
#define SLOTS 6

/* One kit and a bench of one block. */
struct run {
	struct km_kit kit;
	struct km_slot slots[SLOTS];
	struct km_machine machine;
	struct km_party party;
	struct km_tool tools[KM_TOOL_BLOCK];
	union km_value values[KM_TOOL_BLOCK][4];
	struct km_tool_more more[KM_TOOL_BLOCK];
	char ids[KM_TOOL_BLOCK][8];
	struct km_tool *block[1];
	struct km_tools bench;
	struct km_filter filter;
	enum km_standard standard;
	struct km_candidates *of;
	size_t n;
};

static struct run *begin_run(uint32_t slots)
{
	struct run *r = km_arena_alloc(mem, 1, sizeof *r);

	assert_non_null(r);
	r->kit.limits = (struct km_kit_limits){ -1, -1, -1, -1, -1, -1 };
	r->kit.slots = r->slots;
	r->kit.n_slots = slots;
	for (uint32_t i = 0; i < slots; i++)
		r->slots[i] = (struct km_slot){
			.id = "S", .kit = &r->kit, .index = i, .count = 1,
			.durable = true, .exists = KM_CERTAIN };
	r->machine.serial = 4417;
	r->party = (struct km_party){ .kit = &r->kit,
				      .machine = &r->machine };
	r->block[0] = r->tools;
	r->bench.block = r->block;
	return r;
}

static void slot_wants(struct run *r, uint32_t i, enum km_attr a,
		       union km_value v)
{
	union km_value *one = km_arena_copy(mem, &v, 1, sizeof v);

	assert_non_null(one);
	r->slots[i].want[a].state = KM_WANT_ANY_OF;
	r->slots[i].want[a].n = 1;
	r->slots[i].want[a].any = one;
}

static struct km_tool *add_tool(struct run *r, const char *kind)
{
	struct km_tool *t = &r->tools[r->bench.n];
	char *id = r->ids[r->bench.n];

	memcpy(id, "T-000", 6);
	id[3] = (char)('0' + r->bench.n / 10);
	id[4] = (char)('0' + r->bench.n % 10);
	*t = (struct km_tool){ .id = id, .status = KM_HERE,
			       .more = &r->more[r->bench.n] };
	t->traits.v = r->values[r->bench.n];
	r->values[r->bench.n][0] = kind_of(kind);
	t->traits.has = (uint32_t)1 << KM_A_TOOL;
	r->bench.n++;
	return t;
}

/* Attributes in ascending order only. */
static void tool_has(struct run *r, const struct km_tool *t, enum km_attr a,
		     union km_value v)
{
	size_t i = (size_t)(t - r->tools);
	struct km_traits *traits = &r->tools[i].traits;

	r->values[i][__builtin_popcount(traits->has)] = v;
	traits->has |= (uint32_t)1 << a;
}

static void find(struct run *r)
{
	km_rules_init(&r->party.rules, &r->kit, r->standard);
	r->party.rules.book = &book;
	assert_int_equal(km_candidates_find(mem, NULL, &r->party, 1,
					    &r->bench, &r->filter, &r->of,
					    &r->n), KM_OK);
	assert_int_equal(r->n, r->kit.n_slots);
}

/* Pliers of 165 mm, each tool 1 mm longer than the one before. */
static struct run *pliers(uint32_t slots, int tools)
{
	struct run *r = begin_run(slots);

	for (uint32_t i = 0; i < slots; i++) {
		slot_wants(r, i, KM_A_TOOL, kind_of("combination pliers"));
		slot_wants(r, i, KM_A_LENGTH, length_um(165000, 20000, 20000));
	}
	for (int i = 0; i < tools; i++) {
		struct km_tool *t = add_tool(r, "combination pliers");

		tool_has(r, t, KM_A_LENGTH, length_um(165000 + i * 1000, 0, 0));
	}
	return r;
}

/* ------------------------------------------------------------------ */

static void tools_of_the_kind_are_listed_best_first(void **state)
{
	struct run *r = pliers(1, 3);

	(void)state;
	add_tool(r, "side cutters");
	r->slots[0].count = 9;
	find(r);
	assert_int_equal(r->of[0].n, 3);
	for (int i = 0; i < 3; i++)
		assert_ptr_equal(r->of[0].v[i].tool, &r->tools[i]);
	assert_ptr_equal(r->of[0].slot, &r->slots[0]);
	assert_int_equal(r->of[0].party, 0);
}

/* Three places for pliers in two slots: three tools each are enough, since
 * the other places take two at most. */
static void no_more_are_kept_than_the_run_has_places(void **state)
{
	struct run *r = pliers(2, 10);

	(void)state;
	r->slots[1].count = 2;
	find(r);
	for (int i = 0; i < 2; i++) {
		assert_int_equal(r->of[i].n, 3);
		for (int k = 0; k < 3; k++)
			assert_ptr_equal(r->of[i].v[k].tool, &r->tools[k]);
	}
	/* a tool pinned somewhere else takes one more */
	r->more[0].pin = &r->slots[0];
	r->filter.spare = 2;
	find(r);
	assert_int_equal(r->of[0].n, 6);
}

static enum km_use by_owner(const struct km_party *p, const struct km_tool *t,
			    void *ctx)
{
	(void)p;
	(void)ctx;
	if (t->status == KM_ORDERED)
		return KM_USE_IGNORE;
	return t->owner ? KM_USE_NOT_OURS : KM_USE;
}

static void what_is_not_ours_takes_no_place(void **state)
{
	struct run *r = pliers(1, 8);

	(void)state;
	for (int i = 0; i < 5; i++)
		r->tools[i].owner = "customer-b";
	r->tools[5].status = KM_ORDERED;
	r->filter.use = by_owner;
	find(r);
	assert_int_equal(r->of[0].n, 1);
	assert_ptr_equal(r->of[0].v[0].tool, &r->tools[6]);
	assert_int_equal(r->of[0].n_not_ours, 3);
	for (int i = 0; i < 3; i++)
		assert_ptr_equal(r->of[0].not_ours[i].tool, &r->tools[i]);
}

/* Only the tool with an id that ends in 3 can be worked on. */
static int only_the_third(void *cure, const struct km_party *p,
			  const struct km_match *m)
{
	(void)p;
	++*(int *)cure;
	return m->tool->id[4] == '3';
}

static void work_is_settled_before_anything_is_dropped(void **state)
{
	struct km_condition rusty = blank_condition();
	struct run *r = pliers(1, 5);
	int asked = 0;

	(void)state;
	rusty.rust = 5;
	for (int i = 0; i < 5; i++)
		r->tools[i].condition = &rusty;
	r->filter.reaches = only_the_third;
	r->filter.cure = &asked;
	find(r);
	assert_int_equal(r->of[0].n, 1);
	assert_ptr_equal(r->of[0].v[0].tool, &r->tools[3]);
	assert_int_equal(r->of[0].v[0].verdict, KM_AFTER_WORK);
	assert_true(asked >= 4);
}

static void what_came_with_the_machine_breaks_a_tie(void **state)
{
	struct run *r = pliers(1, 0);

	(void)state;
	for (int i = 0; i < 3; i++)
		add_tool(r, "combination pliers");
	r->more[1].came_with = "serial 44170";
	r->more[2].came_with = "Serial 4417";
	find(r);
	assert_int_equal(r->of[0].n, 1);
	assert_ptr_equal(r->of[0].v[0].tool, &r->tools[2]);
	assert_true(r->of[0].v[0].came_with);
}

static void an_empty_pocket_by_design_has_no_candidates(void **state)
{
	struct run *r = pliers(2, 2);

	(void)state;
	r->slots[0].unused = true;
	find(r);
	assert_int_equal(r->of[0].n, 0);
	assert_int_equal(r->of[1].n, 1);
}

/* ------------------------------------------------------------------ */
/* The index misses nothing                                            */

static uint32_t draw(uint32_t *seed, uint32_t n)
{
	*seed = *seed * 1664525u + 1013904223u;
	return (*seed >> 8) % n;
}

static const char *const marks[] = {
	"8 mm", "5/16 AF", "11 mm", "7/16 AF", "13 mm", "1/2 AF", "14 mm",
	"9/16 AF", "1/4 W", "5/16 BS", "19 mm", "3/4 AF", "2 BA", "M8", "1/2 W",
	"24 mm",
};

static void draw_spanner(struct run *r, uint32_t *seed)
{
	struct km_tool *t = add_tool(r, "double open-ended spanner");
	uint32_t how = draw(seed, 4);

	if (how & 1)
		tool_has(r, t, KM_A_SIZES,
			 hexagons(marks[draw(seed, COUNT(marks))],
				  marks[draw(seed, COUNT(marks))]));
	if (how & 2)
		tool_has(r, t, KM_A_OPENINGS,
			 openings(750 + (int)draw(seed, 1700),
				  750 + (int)draw(seed, 1700)));
}

/* Is the tool listed for the slot? */
static bool is_listed(const struct km_candidates *c, const struct km_tool *t)
{
	for (uint32_t i = 0; i < c->n; i++)
		if (c->v[i].tool == t)
			return true;
	return false;
}

static void the_index_lists_every_candidate_and_no_other(void **state)
{
	uint32_t seed = 7, listed = 0;

	(void)state;
	for (int round = 0; round < 60; round++) {
		struct run *r = begin_run(SLOTS);

		for (uint32_t i = 0; i < SLOTS; i++) {
			slot_wants(r, i, KM_A_TOOL,
				   kind_of("double open-ended spanner"));
			slot_wants(r, i, KM_A_SIZES,
				   hexagons(marks[draw(&seed, COUNT(marks))],
					    marks[draw(&seed, COUNT(marks))]));
		}
		for (int i = 0; i < TOOLS; i++)
			draw_spanner(r, &seed);
		r->filter.spare = TOOLS;
		find(r);
		for (uint32_t i = 0; i < SLOTS; i++)
			for (size_t k = 0; k < r->bench.n; k++) {
				struct km_thing thing = {
					.traits = &r->tools[k].traits,
					.tool = &r->tools[k] };
				bool yes = km_compare_is_candidate(
					&r->party.rules, &r->slots[i], &thing);

				if (yes != is_listed(&r->of[i], &r->tools[k]))
					fail_msg("round %d, slot %u, tool %zu",
						 round, (unsigned)i, k);
				listed += yes;
			}
	}
	assert_true(listed > 1000);	/* of 14400 pairs: there was a test */
}

static union km_value some_mark(uint32_t *seed)
{
	static const char *const words[] = { "LARKMOOR", "LM", "OTHER" };

	return text_of(words[draw(seed, COUNT(words))]);
}

static void draw_rated(struct run *r, uint32_t *seed,
		       const struct km_condition *conditions)
{
	struct km_tool *t = add_tool(r, "single open-ended spanner");

	if (draw(seed, 8))
		tool_has(r, t, KM_A_SIZES,
			 hexagons(marks[draw(seed, COUNT(marks))], NULL));
	if (draw(seed, 8))
		tool_has(r, t, KM_A_LENGTH,
			 length_um(130000 + (int)draw(seed, 40) * 1000, 500,
				   500));
	if (draw(seed, 8))
		tool_has(r, t, KM_A_MARK, some_mark(seed));
	t->condition = &conditions[draw(seed, 3)];
	r->more[t - r->tools].came_with = draw(seed, 4) ? NULL : "4417";
}

static int by_order(const void *a, const void *b)
{
	const struct km_match *x = a, *y = b;

	return km_match_order(x, y);
}

/* All comparisons of a slot, sorted; how many are candidates. */
static uint32_t sort_all(struct run *r, uint32_t slot, struct km_match *all)
{
	uint32_t n = 0;

	for (size_t k = 0; k < r->bench.n; k++) {
		struct km_thing thing = {
			.traits = &r->tools[k].traits, .tool = &r->tools[k],
			.condition = r->tools[k].condition,
			.came_with = r->more[k].came_with != NULL };

		if (!km_compare_is_candidate(&r->party.rules, &r->slots[slot],
					     &thing))
			continue;
		km_compare(&r->party.rules, &r->slots[slot], &thing,
			   &all[n++]);
	}
	qsort(all, n, sizeof *all, by_order);
	return n;
}

static const struct km_match *match_of(struct run *r, uint32_t slot, uint32_t k)
{
	const struct km_match *m = km_candidates_match(mem, &r->of[slot], k);

	assert_non_null(m);
	assert_ptr_equal(m, km_candidates_match(mem, &r->of[slot], k));
	assert_ptr_equal(m->slot, &r->slots[slot]);
	assert_int_equal(km_candidate_against(&r->of[slot].v[k], m), 0);
	return m;
}

static bool alike(const struct km_match *a, const struct km_match *b)
{
	for (int i = 0; i < KM_ASPECTS; i++)
		if (a->on[i].letter != b->on[i].letter ||
		    a->on[i].finding != b->on[i].finding ||
		    a->on[i].score != b->on[i].score)
			return false;
	return a->tool == b->tool && a->verdict == b->verdict &&
	       a->score == b->score && a->headline == b->headline &&
	       a->fit == b->fit && a->came_with == b->came_with;
}

/* What is broken off early would not have been kept. */
static void those_kept_are_the_best_of_all_comparisons(void **state)
{
	static struct km_match all[KM_TOOL_BLOCK];
	struct km_condition conditions[3];
	uint32_t seed = 11, dropped = 0;

	(void)state;
	for (int i = 0; i < 3; i++) {
		conditions[i] = blank_condition();
		conditions[i].rust = (int8_t)(2 * i);
	}
	for (int round = 0; round < 80; round++) {
		struct run *r = begin_run(3);

		for (uint32_t i = 0; i < 3; i++) {
			slot_wants(r, i, KM_A_TOOL,
				   kind_of("single open-ended spanner"));
			slot_wants(r, i, KM_A_SIZES,
				   hexagons(marks[draw(&seed, COUNT(marks))],
					    NULL));
			slot_wants(r, i, KM_A_LENGTH,
				   length_um(150000, 5000, 5000));
			slot_wants(r, i, KM_A_MARK, some_mark(&seed));
		}
		for (int i = 0; i < 90; i++)
			draw_rated(r, &seed, conditions);
		r->standard = (enum km_standard)(round % KM_STANDARDS);
		find(r);
		for (uint32_t i = 0; i < 3; i++) {
			uint32_t n = sort_all(r, i, all);

			assert_int_equal(r->of[i].n, n < 3 ? n : 3);
			for (uint32_t k = 0; k < r->of[i].n; k++)
				if (!alike(match_of(r, i, k), &all[k]))
					fail_msg("round %d, slot %u, place %u",
						 round, (unsigned)i,
						 (unsigned)k);
			dropped += n - r->of[i].n;
		}
	}
	assert_true(dropped > 1000);
}

static void running_out_of_memory_is_said(void **state)
{
	struct run *r = pliers(3, 9);
	int failures = 0;

	(void)state;
	km_rules_init(&r->party.rules, &r->kit, KM_AS_DELIVERED);
	r->party.rules.book = &book;
	for (uint64_t at = 1;; at++) {
		struct km_fault fault = { .fail_at = at };
		struct km_limits lim = { .fault = &fault };
		struct km_arena *own = km_arena_new(&lim);
		struct km_candidates *of = NULL;
		enum km_status st = KM_ENOMEM;
		size_t n = 99;

		if (own)
			st = km_candidates_find(own, &lim, &r->party, 1,
						&r->bench, NULL, &of, &n);
		if (st == KM_OK)
			assert_int_equal(of[2].n, 3);
		else
			assert_true(st == KM_ENOMEM && n == 99 && !of);
		km_arena_free(own);
		if (st == KM_OK)
			break;
		failures++;
	}
	assert_true(failures > 3);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tools_of_the_kind_are_listed_best_first),
		cmocka_unit_test(no_more_are_kept_than_the_run_has_places),
		cmocka_unit_test(what_is_not_ours_takes_no_place),
		cmocka_unit_test(work_is_settled_before_anything_is_dropped),
		cmocka_unit_test(what_came_with_the_machine_breaks_a_tie),
		cmocka_unit_test(an_empty_pocket_by_design_has_no_candidates),
		cmocka_unit_test(the_index_lists_every_candidate_and_no_other),
		cmocka_unit_test(those_kept_are_the_best_of_all_comparisons),
		cmocka_unit_test(running_out_of_memory_is_said),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
