/* SPDX-License-Identifier: MIT */
/*
 * Two machines that share one kit: whose a choice by hand is, and whose
 * remark.  Machines and people are invented.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "base/buf.h"
#include "feed.h"
#include "kitmuster/audit.h"

static struct km_diags *diags;
static struct km_load *load;
static struct km_audit *audit;

static void run(const char *const *texts, size_t n)
{
	struct feed f[4];
	struct km_input in[4];

	assert_in_range(n, 1, 4);
	for (size_t i = 0; i < n; i++) {
		static const char *const name[] = { "a", "b", "c", "d" };

		f[i] = (struct feed){ .bytes = texts[i],
				      .n = strlen(texts[i]) };
		in[i] = feed_input(&f[i]);
		in[i].name = name[i];
	}
	diags = km_diags_new(NULL);
	assert_non_null(diags);
	assert_int_equal(km_load(in, n, NULL, diags, &load), KM_OK);
	assert_int_equal(km_audit_run(load, NULL, diags, &audit), KM_OK);
}

static void done(void)
{
	km_audit_free(audit);
	km_load_free(load);
	km_diags_free(diags);
}

/* Ann's machine comes first: no priority, and the lower serial number. */
#define ANN "machine: {serial: 17, title: Fenling 2, owner: Ann, kit: k}\n"
#define BOB "machine: {serial: 23, title: Fenling 3, owner: Bob, kit: k}\n"
#define KIT "kit:\n  id: k\n  slots:\n    - {id: S, tool: hammer}\n"

static const struct km_slot_audit *slot_of(const char *owner)
{
	for (uint32_t k = 0; k < audit->n_kits; k++)
		if (!strcmp(audit->kits[k].machine->owner, owner))
			return &audit->kits[k].slots[0];
	fail_msg("no machine of %s", owner);
	return NULL;
}

static void run_two(const char *bench)
{
	const char *const texts[] = { ANN, BOB, KIT, bench };

	run(texts, 4);
	assert_int_equal(audit->n_kits, 2);
}

static const char *seated(const char *owner)
{
	const struct km_slot_audit *s = slot_of(owner);

	return s->pieces[0].match ? s->pieces[0].match->tool->id : "none";
}

static void an_order_is_expected_by_its_owner(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: hammer, owner: Bob, status: ordered, "
		"bought_for: k/S}]\n");
	assert_int_equal(slot_of("Bob")->verdict, KM_EXPECTED);
	assert_int_equal(slot_of("Ann")->verdict, KM_GAP);
	done();
}

static void a_strangers_order_fills_nothing(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: hammer, owner: Cis, status: ordered, "
		"bought_for: k/S}]\n");
	assert_int_equal(slot_of("Bob")->verdict, KM_GAP);
	assert_int_equal(slot_of("Ann")->verdict, KM_GAP);
	done();
}

/* A chisel is no candidate for a hammer: the pin alone puts it there. */
static void a_pin_goes_to_its_owner(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: chisel, owner: Bob, pin: k/S}]\n");
	assert_string_equal(seated("Ann"), "none");
	assert_string_equal(seated("Bob"), "T");
	assert_true(slot_of("Bob")->pieces[0].pinned);
	done();
}

static void a_pin_goes_to_what_the_tool_came_with(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: chisel, came_with: Fenling 3, "
		"pin: k/S}]\n");
	assert_string_equal(seated("Ann"), "none");
	assert_string_equal(seated("Bob"), "T");
	done();
}

/* Bob's hammer came with Ann's machine; it is still his. */
static void whose_it_is_comes_before_what_it_came_with(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: chisel, owner: Bob, "
		"came_with: Fenling 2, pin: k/S}]\n");
	assert_string_equal(seated("Ann"), "none");
	assert_string_equal(seated("Bob"), "T");
	done();
}

/* The machines have one slot each, and may both use what is nobody's. */
static void two_orders_for_one_slot_serve_both_machines(void **state)
{
	(void)state;
	run_two("bench: [{id: T1, tool: chisel, status: ordered, "
		"bought_for: k/S}, {id: T2, tool: chisel, status: ordered, "
		"bought_for: k/S}]\n");
	assert_string_equal(seated("Ann"), "T1");
	assert_string_equal(seated("Bob"), "T2");
	done();
}

/* The pin is complained of when it is read, and stays. */
static void a_pin_of_nobody_who_has_the_kit_stays(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: chisel, owner: Cis, pin: k/S}]\n");
	assert_int_equal(!strcmp(seated("Ann"), "T") +
			 !strcmp(seated("Bob"), "T"), 1);
	done();
}

/* ------------------------------------------------------------------ */

static int count_received(uint32_t kit)
{
	int n = 0;

	for (uint32_t i = 0; i < audit->kits[kit].n_remarks; i++) {
		enum km_remark_what w = audit->kits[kit].remarks[i].what;

		n += w == KM_REMARK_RECEIVED_RIGHT ||
		     w == KM_REMARK_RECEIVED_WRONG;
	}
	return n;
}

static void what_came_is_said_where_it_sits(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: hammer, owner: Bob, status: received, "
		"bought_for: k/S}]\n");
	assert_string_equal(seated("Bob"), "T");
	for (uint32_t k = 0; k < 2; k++)
		assert_int_equal(count_received(k),
				 !strcmp(audit->kits[k].machine->owner, "Bob"));
	done();
}

/* A chisel fills no place for a hammer: said once, to Bob, whose it is. */
static void what_came_and_sits_nowhere_is_said_once(void **state)
{
	(void)state;
	run_two("bench: [{id: T, tool: chisel, owner: Bob, status: received, "
		"bought_for: k/S}, {id: U, tool: chisel, status: received, "
		"bought_for: k/S}]\n");
	assert_string_equal(audit->kits[0].machine->owner, "Ann");
	assert_int_equal(count_received(0), 1);	/* U: anybody's */
	assert_int_equal(count_received(1), 1);
	done();
}

/* ------------------------------------------------------------------ */

/* Decisions are asked of every tool: the last of many is still found, and of
 * two the first that was made holds. */
static void decisions_are_found_among_many(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	const char *texts[1];
	struct km_buf b;

	(void)state;
	km_buf_init(&b, mem);
	km_buf_str(&b, "kit:\n  id: k\n  slots:\n");
	for (int i = 0; i < 300; i++)
		km_buf_printf(&b, "    - {id: S-%d, tool: hammer}\n", i);
	km_buf_str(&b, "decisions:\n");
	for (int i = 0; i < 299; i++)
		km_buf_printf(&b, "  - {slot: k/S-%d, way: t-%d}\n", i,
			      298 - i);
	km_buf_str(&b, "  - {slot: k/S-299, way: t-7}\nbench:\n");
	for (int i = 0; i < 300; i++)
		km_buf_printf(&b, "  - {id: T-%d, tool: chisel}\n", i);
	assert_false(km_buf_failed(&b));
	texts[0] = b.text;
	run(texts, 1);
	for (int i = 0; i < 300; i++) {
		const struct km_piece *p =
			&audit->kits[0].slots[i].pieces[0];
		char id[16];

		snprintf(id, sizeof id, "T-%d", 298 - i);
		if (i == 299)
			assert_null(p->match);
		else if (!p->match || strcmp(p->match->tool->id, id))
			fail_msg("S-%d: %s, not %s", i, p->match ?
				 p->match->tool->id : "nothing", id);
	}
	done();
	km_arena_free(mem);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(an_order_is_expected_by_its_owner),
		cmocka_unit_test(a_strangers_order_fills_nothing),
		cmocka_unit_test(a_pin_goes_to_its_owner),
		cmocka_unit_test(a_pin_goes_to_what_the_tool_came_with),
		cmocka_unit_test(whose_it_is_comes_before_what_it_came_with),
		cmocka_unit_test(two_orders_for_one_slot_serve_both_machines),
		cmocka_unit_test(a_pin_of_nobody_who_has_the_kit_stays),
		cmocka_unit_test(what_came_is_said_where_it_sits),
		cmocka_unit_test(what_came_and_sits_nowhere_is_said_once),
		cmocka_unit_test(decisions_are_found_among_many),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
