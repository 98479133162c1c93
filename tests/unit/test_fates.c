/* SPDX-License-Identifier: MIT */
/*
 * What becomes of every tool.  Benches are drawn at random; what each tool must
 * come to is told again here from the few rules that these kits have: a kind,
 * a length within 5 mm, an owner.  Values are invented, sums worked beside
 * their checks.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "run_fixture.h"


static struct run now;

static int forget(void **state)
{
	(void)state;
	run_done(&now);
	return 0;
}

static void run_audit(const char *const *texts, size_t n)
{
	struct km_options o = { .want_surplus = true, .want_worth = true,
				.today = { 2026, 4, 20 } };

	assert_int_equal(run_texts(&now, texts, n, &o, NULL), KM_OK);
}

/* ------------------------------------------------------------------ */
/* Random benches                                                      */

static uint32_t drawn;

static uint32_t draw(uint32_t below)
{
	drawn = drawn * 1664525u + 1013904223u;	/* a plain congruence */
	return (drawn >> 8) % below;
}

#define TOOLS_MOST 40

/* The kits: two machines, one a customer's, and two kits that are only
 * known.  A hammer of 300 +-5 mm, a chisel of 180 +-5 mm. */
static const char ours[] =
	"machine: {serial: 1, owner: own, kit: k-1}\n"
	"kit: {id: k-1, slots: [{id: A, tool: hammer, length: 250 mm +-5},"
	" {id: B, tool: punch, count: 2}]}\n";
static const char theirs[] =
	"machine: {serial: 2, owner: customer-a, kit: k-2}\n"
	"kit: {id: k-2, slots: [{id: C, tool: jack}]}\n";
static const char library[] =
	"kit: {id: k-3, slots: [{id: D, tool: hammer, length: 300 mm +-5},"
	" {id: E, tool: chisel, length: 180 mm +-5}]}\n";

struct drawn_tool { uint32_t kind, length, owner, status; };

static size_t draw_bench(char *text, size_t room, struct drawn_tool *v)
{
	static const char *const kinds[] = { "hammer", "chisel", "punch",
					     "jack", "dipstick" };
	static const char *const owners[] = { "own", "customer-a",
					      "customer-b" };
	static const char *const statuses[] = { "here", "lent", "ordered",
		"at-plater", "in-kit", "received" };
	size_t n = draw(TOOLS_MOST + 1), at;

	at = (size_t)snprintf(text, room, "%sbench:%s\n", ours,
			      n ? "" : " []");
	for (size_t i = 0; i < n; i++) {
		v[i] = (struct drawn_tool){
			.kind = draw(5), .owner = draw(4), .status = draw(6),
			.length = (draw(2) ? 170 : 290) + draw(21) };
		at += (size_t)snprintf(text + at, room - at,
			"  - {id: T-%zu, tool: %s, length: %u mm, status: %s",
			i, kinds[v[i].kind], v[i].length,
			statuses[v[i].status]);
		if (v[i].owner < 3)
			at += (size_t)snprintf(text + at, room - at,
					       ", owner: %s",
					       owners[v[i].owner]);
		at += (size_t)snprintf(text + at, room - at, "}\n");
		assert_true(at < room);
	}
	return n;
}

/* How many places have the tool. */
static int places_of(const struct km_tool *t)
{
	int n = 0;

	for (uint32_t k = 0; k < now.audit->n_kits; k++)
		for (uint32_t i = 0; i < now.audit->kits[k].kit->n_slots; i++) {
			const struct km_slot_audit *s =
				&now.audit->kits[k].slots[i];

			for (int32_t p = 0; p < s->slot->count; p++)
				n += s->pieces[p].match &&
				     s->pieces[p].match->tool == t;
		}
	return n;
}

static const struct km_surplus *spare_of(const struct km_tool *t, int *times)
{
	const struct km_surplus *found = NULL;

	*times = 0;
	for (uint64_t i = 0; i < now.audit->n_spare; i++)
		if (now.audit->spare[i].tool == t) {
			found = &now.audit->spare[i];
			++*times;
		}
	return found;
}

/* The slot of the library for a tool, or NULL: a reading in whole millimetres
 * is known to half of one, so 5 over is within, 6 is not. */
static const char *known_for(const struct drawn_tool *t)
{
	if (t->kind == 0 && t->length >= 295 && t->length <= 305)
		return "D";
	if (t->kind == 1 && t->length >= 175 && t->length <= 185)
		return "E";
	return NULL;
}

static void check_spare(const struct km_tool *t, const struct drawn_tool *d)
{
	int times;
	const struct km_surplus *s = spare_of(t, &times);
	const char *slot = known_for(d);

	assert_int_equal(times, 1);
	assert_true(d->owner != 2);
	assert_int_equal(s->own, d->owner != 1);
	if (slot) {
		assert_non_null(s->slot);
		assert_string_equal(s->slot->id, slot);
		assert_int_equal(s->verdict, KM_RIGHT);
	} else {
		assert_null(s->slot);
	}
}

static void check_bench(const struct drawn_tool *drawn_tools, size_t n)
{
	uint64_t count[4] = { 0 }, kept = 0, first[2] = { 0 };

	assert_int_equal(now.audit->tools, n);
	for (size_t i = 0; i < n; i++) {
		const struct km_tool *t = km_tool_at(&now.load->bench, i);
		const struct drawn_tool *d = &drawn_tools[i];
		bool out = d->status >= 1 && d->status <= 3;
		int times, placed = places_of(t);

		(void)spare_of(t, &times);
		count[now.audit->fate[i]]++;
		assert_int_equal(placed, now.audit->fate[i] == KM_FATE_GIVEN);
		assert_int_equal(times, now.audit->fate[i] == KM_FATE_SURPLUS);
		assert_int_equal(d->owner == 2,
				 now.audit->fate[i] == KM_FATE_NOT_OURS);
		if (!placed && d->owner != 2)
			assert_int_equal(out, now.audit->fate[i] ==
						  KM_FATE_AWAY);
		if (now.audit->fate[i] != KM_FATE_SURPLUS)
			continue;
		check_spare(t, d);
		kept += known_for(d) != NULL;
	}
	assert_int_equal(count[KM_FATE_GIVEN], now.audit->given);
	assert_int_equal(count[KM_FATE_NOT_OURS], now.audit->not_ours);
	assert_int_equal(count[KM_FATE_AWAY], now.audit->away);
	assert_int_equal(count[KM_FATE_SURPLUS], now.audit->surplus);
	assert_int_equal(now.audit->given + now.audit->not_ours +
			 now.audit->away + now.audit->surplus, n);
	assert_int_equal(now.audit->n_spare, now.audit->surplus);
	assert_int_equal(now.audit->spare_kept, kept);
	/* each slot of the library takes one; all others are second to it */
	for (uint64_t i = 0; i < now.audit->n_spare; i++)
		if (now.audit->spare[i].slot && !now.audit->spare[i].second)
			first[now.audit->spare[i].slot->id[0] == 'E']++;
	assert_true(first[0] <= 1 && first[1] <= 1);
	assert_int_equal(first[0] + first[1] > 0, kept > 0);
}

static void the_fates_are_all_tools(void **state)
{
	static char bench[16384];
	static struct drawn_tool v[TOOLS_MOST];
	const char *const texts[] = { bench, theirs, library };
	uint64_t kept = 0;

	(void)state;
	for (uint32_t seed = 1; seed <= 200; seed++) {
		size_t n;

		drawn = seed;
		n = draw_bench(bench, sizeof bench, v);
		run_audit(texts, 3);
		check_bench(v, n);
		kept += now.audit->spare_kept;
		forget(NULL);
	}
	assert_true(kept > 100);	/* the draw does reach the library */
}

/* ------------------------------------------------------------------ */
/* Which of two kits, which of two tools                               */

/* R1 is rusted: right after work, and second where R2 is right.  Both suit two
 * slots, and the one whose length they meet better is named. */
static void the_best_slot_is_named_and_the_rest_counted(void **state)
{
	static const char *const texts[] = {
		"kit: {id: run, slots: [{id: Z, tool: jack}]}\n"
		"machine: {serial: 1, kit: run}\n"
		"bench:\n"
		"  - {id: R1, tool: hammer, length: 300 mm, mark: LM,"
		" condition: {rust: 4}}\n"
		"  - {id: R2, tool: hammer, length: 300 mm, mark: LM}\n"
		"  - {id: R3, tool: punch}\n",
		("kit: {id: lib-b, slots: [{id: S1, tool: hammer, length:"
		 " 300 mm +-5, mark: LM}, {id: S2, tool: hammer, length:"
		 " 300 mm +-5, mark: OTHER}]}\n"),
		("kit: {id: lib-a, slots: [{id: S9, tool: hammer, length:"
		 " 304 mm +-5, mark: LM}]}\n")
	};

	(void)state;
	run_audit(texts, 3);
	assert_int_equal(now.audit->n_spare, 3);
	/* 300 mm is S1's length, and 4 of the 5 mm allowed off S9's */
	for (int i = 0; i < 2; i++) {
		assert_string_equal(now.audit->spare[i].slot->kit->id, "lib-b");
		assert_string_equal(now.audit->spare[i].slot->id, "S1");
		assert_int_equal(now.audit->spare[i].more, 1);
	}
	assert_int_equal(now.audit->spare[0].verdict, KM_AFTER_WORK);
	assert_true(now.audit->spare[0].second);
	assert_int_equal(now.audit->spare[1].verdict, KM_RIGHT);
	assert_false(now.audit->spare[1].second);
	assert_null(now.audit->spare[2].slot);
	assert_int_equal(now.audit->spare_kept, 2);
}

/* S-10 and S-9 are alike: the one that people count first is named, in
 * whatever order they stand. */
static void of_equal_slots_the_first_id_is_named(void **state)
{
	static const char *const texts[] = {
		("kit: {id: run, slots: [{id: Z, tool: jack}]}\n"
		 "machine: {serial: 1, kit: run}\n"
		 "bench: [{id: a, tool: hammer}]\n"),
		("kit: {id: lib, slots: [{id: S-10, tool: hammer},"
		 " {id: S-9, tool: hammer}]}\n")
	};

	(void)state;
	run_audit(texts, 2);
	assert_int_equal(now.audit->n_spare, 1);
	assert_string_equal(now.audit->spare[0].slot->id, "S-9");
	assert_int_equal(now.audit->spare[0].more, 1);
}

/* ------------------------------------------------------------------ */
/* Worth                                                               */

/* 1.10 + 2.20 = 3.30 of two; paid 0.50 of one; valued 2024-04-20, 24 months
 * before today and so not old, and 2024-03-20, 25 months before. */
static void the_worth_is_what_the_lines_add_up_to(void **state)
{
	static const char *const texts[] = {
		"kit: {id: k, currency: GBP, slots: [{id: A, tool: hammer,"
		" count: 3}, {id: B, tool: split pin, durable: no},"
		" {id: C, tool: jack}]}\n"
		"bench:\n"
		"  - {id: a, tool: hammer, value: 1.10, value_dated:"
		" 2024-04-20, photos: p.jpg}\n"
		"  - {id: b, tool: hammer, value: 2.20, value_dated:"
		" 2024-03-20, paid: 0.50}\n"
		"  - {id: c, tool: hammer}\n"
		"  - {id: d, tool: split pin, value: 9.00}\n"
		"  - {id: e, tool: jack, status: ordered, value: 40.00}\n"
		"  - {id: f, tool: jack, value: 80.00, owner: customer-b}\n"
	};

	(void)state;
	run_audit(texts, 1);
	assert_int_equal(now.audit->worth.tools, 3);
	assert_int_equal(now.audit->worth.valued, 2);
	assert_int_equal(now.audit->worth.value, 330);
	assert_int_equal(now.audit->worth.paid_for, 1);
	assert_int_equal(now.audit->worth.paid, 50);
	assert_int_equal(now.audit->worth.photographed, 1);
	assert_int_equal(now.audit->worth.old, 1);
}

/* Each allocation of an audit fails once: no answer, and nothing leaks. */
static void memory_may_run_out_anywhere(void **state)
{
	static const char text[] =
		"kit: {id: run, slots: [{id: A, tool: hammer, length: 165 mm"
		" +-3}]}\n"
		"machine: {serial: 1, kit: run}\n"
		"bench:\n"
		"  - {id: a, tool: hammer, length: 178 mm, status: received,"
		" bought_for: run/A}\n"
		"  - {id: b, tool: chisel, condition: {rust: 3}}\n"
		"  - {id: c, tool: punch, status: received, bought_for: run/A}"
		"\n";
	static const char other[] =
		"kit: {id: lib, slots: [{id: B, tool: chisel}]}\n";
	struct km_options o = { .want_surplus = true, .want_worth = true };
	struct km_fault fault = { 0 };
	struct km_limits lim = { .fault = &fault };
	struct feed f[2] = { { .bytes = text, .n = strlen(text) },
			     { .bytes = other, .n = strlen(other) } };
	struct km_input in[2] = { feed_input(&f[0]), feed_input(&f[1]) };
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	now.d = km_diags_new(NULL);
	assert_int_equal(km_load(in, 2, &lim, now.d, &now.load), KM_OK);
	while (st == KM_ENOMEM) {
		fault.seen = 0;
		fault.fail_at = ++n;
		st = km_audit_run(now.load, &o, now.d, &now.audit);
	}
	assert_int_equal(st, KM_OK);
	assert_true(n > 20);
	assert_int_equal(now.audit->spare_kept, 1);
	assert_int_equal(now.audit->kits[0].n_remarks, 2);
}

int main(void)
{
#define T(f) cmocka_unit_test_teardown(f, forget)
	const struct CMUnitTest tests[] = {
		T(the_fates_are_all_tools),
		T(the_best_slot_is_named_and_the_rest_counted),
		T(of_equal_slots_the_first_id_is_named),
		T(the_worth_is_what_the_lines_add_up_to),
		T(memory_may_run_out_anywhere),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
