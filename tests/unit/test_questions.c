/* SPDX-License-Identifier: MIT */
/*
 * What is worth finding out: which questions are open, what each answer turns,
 * and that the load is as it was afterwards.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "audit/again.h"
#include "audit/questions.h"
#include "base/buf.h"
#include "feed.h"
#include "trade/jaw.h"

#define MM(n) ((int64_t)(n) * 1000000)

/* Everything of one run. */
struct run {
	struct km_diags *d;
	struct km_load *load;
	struct km_audit *audit;
};

/* Of one file, or of two. */
static void audit_texts(struct run *r, const char *text, const char *second)
{
	struct feed f[] = { { .bytes = text, .n = strlen(text) },
			    { .bytes = second, .n = strlen(second) } };
	struct km_input in[] = { feed_input(&f[0]), feed_input(&f[1]) };
	struct km_options o = { .want_money = true };

	in[1].name = "u.yaml";
	*r = (struct run){ .d = km_diags_new(NULL) };
	assert_non_null(r->d);
	assert_int_equal(km_load(in, *second ? 2 : 1, NULL, r->d, &r->load),
			 KM_OK);
	assert_int_equal(km_audit_run(r->load, &o, r->d, &r->audit), KM_OK);
}

static void audit_text(struct run *r, const char *text)
{
	audit_texts(r, text, "");
}

static void close_run(struct run *r)
{
	km_audit_free(r->audit);
	km_load_free(r->load);
	km_diags_free(r->d);
}

static const struct km_questions *ask(struct run *r, const char *text)
{
	audit_text(r, text);
	assert_int_equal(km_questions_ask(r->load, r->audit), KM_OK);
	assert_non_null(r->audit->questions);
	return r->audit->questions;
}

/* ------------------------------------------------------------------ */

/* The hammer is right, the chisel is missing: 1 of 2.  If the punch was in the
 * kit, 1 of 3; if not, 1 of 2. */
static void a_slot_was_there_or_not(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - {id: a, tool: hammer}\n"
		"    - {id: b, tool: chisel}\n"
		"    - {id: c, tool: punch, exists: disputed}\n"
		"bench: [{id: t, tool: hammer}]\n");
	const struct km_question *one = &q->v[0];

	(void)state;
	assert_int_equal(q->n, 1);
	assert_int_equal(q->now.firm, 2);
	assert_int_equal(q->now.on_paper, 1);
	assert_int_equal(one->what, KM_ASK_SLOT);
	assert_string_equal(one->slot->id, "c");
	assert_int_equal(one->n_answers, 2);
	assert_int_equal(one->answers[0].what, KM_IF_THERE);
	assert_int_equal(one->answers[0].figures.firm, 3);
	assert_int_equal(one->answers[0].n_turns, 1);
	assert_true(one->answers[0].turns[0].is.firm);
	assert_int_equal(one->answers[0].turns[0].is.verdict, KM_GAP);
	assert_int_equal(one->answers[1].what, KM_IF_NOT_THERE);
	assert_int_equal(one->answers[1].figures.firm, 2);
	assert_true(one->answers[1].turns[0].is.out);
	/* 1000/2 - 1000/3 = 500 - 333 */
	assert_int_equal(one->by_complete, 167);
	assert_true(one->changes && one->differs);
	close_run(&r);
}

/* The only chisel is pinned to a place that may never have been: without that
 * place the other gets it. */
static void without_its_place_a_pinned_tool_is_free(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - {id: a, tool: chisel}\n"
		"    - {id: b, tool: chisel, exists: conjecture}\n"
		"bench: [{id: t, tool: chisel, pin: k/b}]\n");
	const struct km_answer *not_there = &q->v[0].answers[1];

	(void)state;
	assert_int_equal(q->n, 1);
	assert_int_equal(q->now.on_paper, 0);
	assert_int_equal(not_there->figures.on_paper, 1);
	assert_int_equal(not_there->n_turns, 2);
	assert_string_equal(not_there->turns[0].slot->id, "a");
	assert_int_equal(not_there->turns[0].was.verdict, KM_GAP);
	assert_int_equal(not_there->turns[0].is.verdict, KM_RIGHT);
	close_run(&r);
}

/* Of a dispute each value, of a weak claim as claimed and set aside; what is
 * sure, what draws its weakness from the slot, and what two values of one sure
 * claim leave open is not asked. */
static void claims_are_asked_value_by_value(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - id: a\n      tool: punch\n"
		"      mark: [{is: ONE, certainty: probable}, "
		"{is: none, certainty: probable}, "
		"{is: TWO, certainty: possible}]\n"
		"      length: {is: 100 mm, certainty: possible}\n"
		"      finish: {any_of: [nickel, painted], "
		"certainty: certain}\n"
		"bench: [{id: t, tool: punch, mark: TWO, finish: nickel, "
		"length: 100 mm}]\n");
	const struct km_question *mark = &q->v[0], *length = &q->v[1];

	(void)state;
	assert_int_equal(q->n, 2);
	assert_int_equal(mark->attr, KM_A_MARK);
	assert_int_equal(mark->n_answers, 3);
	assert_string_equal(mark->answers[0].values[0].text, "ONE");
	assert_true(mark->answers[1].none);
	assert_int_equal(mark->answers[1].n_values, 0);
	assert_string_equal(mark->answers[2].values[0].text, "TWO");
	/* only TWO makes it right */
	assert_int_equal(mark->answers[0].figures.on_paper, 0);
	assert_int_equal(mark->answers[1].figures.on_paper, 0);
	assert_int_equal(mark->answers[2].figures.on_paper, 1);
	assert_int_equal(mark->by_complete, 1000);
	assert_int_equal(length->attr, KM_A_LENGTH);
	assert_int_equal(length->answers[0].what, KM_IF_CLAIMED);
	assert_int_equal(length->answers[1].what, KM_IF_SET_ASIDE);
	assert_false(length->changes);	/* the mark is wrong either way */
	close_run(&r);
}

/* Red is neither amber nor green: to be bought anew whichever it was, and not
 * before somebody says so, since either claim alone is weak. */
static void the_same_either_way(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - id: a\n      tool: screwdriver\n      part: p1\n"
		"      handle_colour: [{is: \"#c47a1c\", certainty: possible}, "
		"{is: \"#2e7d32\", certainty: possible}]\n"
		"bench: [{id: t, tool: screwdriver, "
		"handle_colour: \"#c01010\"}]\n"
		"prices:\n  currency: GBP\n"
		"  sellers: [{id: s, postage: 0.00}]\n"
		"  offers: [{id: o, part: p1, seller: s, state: nos, "
		"price: 5.00}]\n");

	(void)state;
	assert_int_equal(q->n, 1);
	assert_int_equal(q->now.money, 0);
	assert_int_equal(q->v[0].answers[0].figures.money, 500);
	assert_int_equal(q->v[0].answers[1].figures.money, 500);
	assert_true(q->v[0].changes);
	assert_false(q->v[0].differs);
	close_run(&r);
}

/* A length that was not taken: 100 mm wanted, 120 mm fails.  A mark that is
 * there and cannot be read: it is not none. */
static void tools_are_asked_for_what_they_do_not_show(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - {id: a, tool: punch, length: 100 mm, mark: ONE}\n"
		"bench: [{id: t, tool: punch, mark: illegible}]\n");
	const struct km_question *length = &q->v[0], *mark = &q->v[1];

	(void)state;
	assert_int_equal(q->n, 2);
	assert_int_equal(length->attr, KM_A_LENGTH);
	assert_int_equal(length->answers[0].values[0].span.nm, MM(100));
	assert_int_equal(length->answers[1].values[0].span.nm, MM(120));
	/* the mark keeps it unverified, even so */
	assert_int_equal(length->answers[0].n_turns, 0);
	assert_int_equal(length->answers[1].turns[0].is.verdict,
			 KM_SUBSTITUTE);
	assert_int_equal(mark->attr, KM_A_MARK);
	assert_string_equal(mark->answers[0].values[0].text, "ONE");
	assert_false(mark->answers[1].none);
	assert_string_not_equal(mark->answers[1].values[0].text, "ONE");
	close_run(&r);
}

/* Machine 850 may have left with either kit.  The hammer is in both, and there.
 * The oil can of the early one is not; the pump of the late one is.  So 1 of
 * 2, or 2 of 2. */
static void a_machine_may_have_either_kit(void **state)
{
	const struct km_question *one;
	const struct km_answer *early, *late;
	struct run r;

	(void)state;
	audit_texts(&r, "machine: {serial: 850}\n"
		    "kit:\n  id: early\n"
		    "  serials: {from: 1, to: {earliest: 800, latest: 900}}\n"
		    "  slots:\n    - {id: a, tool: hammer}\n"
		    "    - {id: b, tool: oil can}\n"
		    "bench: [{id: t, tool: hammer}, {id: u, tool: tyre pump}]\n",
		    "kit:\n  id: late\n"
		    "  serials: {from: {earliest: 801, latest: 901}}\n"
		    "  slots:\n    - {id: x, tool: tyre pump}\n"
		    "    - {id: y, tool: hammer}\n");
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	assert_int_equal(r.audit->questions->n, 1);
	one = &r.audit->questions->v[0];
	assert_int_equal(one->what, KM_ASK_KIT);
	assert_int_equal(one->n_answers, 2);
	early = &one->answers[0];
	late = &one->answers[1];
	assert_string_equal(early->kit->id, "early");
	assert_int_equal(early->figures.on_paper, 1);
	assert_int_equal(early->figures.firm, 2);
	assert_int_equal(late->figures.on_paper, 2);
	assert_int_equal(late->figures.firm, 2);
	/* 1000/1 now; 500 and 1000 */
	assert_int_equal(one->by_complete, 500);
	/* b turns firm, the pump of the other kit is out */
	assert_int_equal(early->n_turns, 2);
	assert_string_equal(early->turns[0].slot->id, "b");
	assert_true(early->turns[0].is.firm);
	assert_string_equal(early->turns[1].slot->id, "x");
	assert_true(early->turns[1].is.out);
	/* b is out, the pump turns firm; the hammer is the same place */
	assert_int_equal(late->n_turns, 2);
	assert_true(late->turns[0].is.out);
	assert_string_equal(late->turns[1].slot->id, "x");
	assert_int_equal(late->turns[1].is.verdict, KM_RIGHT);
	assert_true(late->turns[1].is.firm);
	assert_null(r.load->machines[0].kit);
	close_run(&r);
}

/* The kit says one thing of its punch, whatever machines have it: one question
 * of the slot and one of its mark, not one for each machine. */
static void what_a_kit_says_is_asked_once(void **state)
{
	struct run r;

	(void)state;
	audit_texts(&r, "machine: {serial: 1, kit: k}\n"
		    "kit:\n  id: k\n  slots:\n"
		    "    - {id: a, tool: punch, exists: possible, mark: "
		    "{is: ONE, certainty: possible}}\n",
		    "machine: {serial: 2, kit: k}\n");
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	assert_int_equal(r.audit->n_kits, 2);
	assert_int_equal(r.audit->questions->n, 2);
	close_run(&r);
}

static uint64_t allocations_again(struct run *r, const struct km_audit *known,
				  const struct km_kit *changed)
{
	static const struct km_options o = { .want_money = true };
	struct km_fault fault = { 0 };
	struct km_audit *a = NULL;

	r->load->limits.fault = &fault;
	assert_int_equal(km_audit_again(r->load, &o, known, changed, r->d, &a),
			 KM_OK);
	r->load->limits.fault = NULL;
	assert_int_equal(a->kits[0].n_readings, 2);
	/* the hammer of late, y, is that of early, a; x is alone */
	assert_int_equal(a->kits[0].readings[1].same_as[1], 0);
	assert_int_equal(a->kits[0].readings[1].same_as[0], UINT32_MAX);
	assert_false(a->kits[0].slots[0].depends);
	assert_true(a->kits[0].slots[1].depends);
	km_audit_free(a);
	return fault.seen;
}

/* An answer lays kits side by side again only if it changes one of them. */
static void kits_lie_as_they_lay(void **state)
{
	uint64_t anew, early, late, known;
	struct run r;

	(void)state;
	audit_texts(&r, "machine: {serial: 850}\n"
		    "kit:\n  id: early\n"
		    "  serials: {from: 1, to: {earliest: 800, latest: 900}}\n"
		    "  slots:\n    - {id: a, tool: hammer}\n"
		    "    - {id: b, tool: oil can}\n",
		    "kit:\n  id: late\n"
		    "  serials: {from: {earliest: 801, latest: 901}}\n"
		    "  slots:\n    - {id: x, tool: tyre pump}\n"
		    "    - {id: y, tool: hammer}\n");
	anew = allocations_again(&r, NULL, NULL);
	early = allocations_again(&r, r.audit, r.load->kits[0]);
	late = allocations_again(&r, r.audit, r.load->kits[1]);
	known = allocations_again(&r, r.audit, NULL);
	assert_int_equal(early, anew);
	assert_int_equal(late, anew);
	assert_true(known < anew);
	close_run(&r);
}

/* Two machines between the same kits: two questions that are alike but for the
 * machine, in the order of the machines. */
static void machines_are_asked_of_in_their_order(void **state)
{
	const struct km_question *v;
	struct run r;

	(void)state;
	audit_texts(&r, "machine: {serial: 850}\n"
		    "kit:\n  id: early\n"
		    "  serials: {from: 1, to: {earliest: 800, latest: 900}}\n"
		    "  slots:\n    - {id: a, tool: hammer}\n",
		    "machine: {serial: 860}\n"
		    "kit:\n  id: late\n"
		    "  serials: {from: {earliest: 801, latest: 901}}\n"
		    "  slots:\n    - {id: x, tool: tyre pump}\n");
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	assert_int_equal(r.audit->questions->n, 2);
	v = r.audit->questions->v;
	assert_ptr_equal(v[0].kit, &r.audit->kits[0]);
	assert_ptr_equal(v[1].kit, &r.audit->kits[1]);
	assert_int_equal(v[0].kit->machine->serial, 850);
	assert_int_equal(v[1].kit->machine->serial, 860);
	close_run(&r);
}

/* Two claims that say the same are one answer; the other is that nothing is
 * known, without the value of the answer that was dropped. */
static void what_is_set_aside_has_no_value(void **state)
{
	struct run r;
	const struct km_questions *q = ask(&r,
		"kit:\n  id: k\n  slots:\n"
		"    - id: a\n      tool: punch\n"
		"      mark: [{is: ONE, certainty: possible}, "
		"{any_of: [ONE], certainty: conjecture}]\n"
		"bench: []\n");
	const struct km_answer *last;

	(void)state;
	assert_int_equal(q->n, 1);
	assert_int_equal(q->v[0].n_answers, 2);
	last = &q->v[0].answers[1];
	assert_int_equal(last->what, KM_IF_SET_ASIDE);
	assert_int_equal(last->n_values, 0);
	assert_null(last->values);
	assert_false(last->none);
	close_run(&r);
}

/* Margins, evidence and all the other sheets cost an answer nothing: asking
 * takes as many allocations as without them. */
static void answers_make_only_what_the_figures_need(void **state)
{
	static const struct km_options all = {
		.want_money = true, .want_frontier = true,
		.want_ceilings = true, .want_problem = true,
		.want_fates = true, .want_pouch = true, .want_jobs = true,
		.want_surplus = true, .want_worth = true,
		.want_margins = true, .want_evidence = true,
	};
	struct km_fault plain = { 0 }, much = { 0 };
	struct run r;

	(void)state;
	audit_text(&r, "kit:\n  id: k\n  slots:\n"
		   "    - {id: a, tool: punch, part: p1}\n"
		   "    - {id: b, tool: chisel, exists: disputed}\n"
		   "bench: [{id: t, tool: punch, finish: nickel}]\n"
		   "prices:\n  currency: GBP\n"
		   "  sellers: [{id: s, postage: 1.00}]\n"
		   "  offers: [{id: o, part: p1, seller: s, state: nos, "
		   "price: 5.00}, {id: o2, part: p1, seller: s, "
		   "state: nos, price: 6.00}]\n");
	r.load->limits.fault = &plain;
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	r.load->limits.fault = NULL;
	km_audit_free(r.audit);
	assert_int_equal(km_audit_run(r.load, &all, r.d, &r.audit), KM_OK);
	r.load->limits.fault = &much;
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	r.load->limits.fault = NULL;
	assert_true(plain.seen > 10);
	assert_int_equal(much.seen, plain.seen);
	close_run(&r);
}

/* ------------------------------------------------------------------ */
/* The load afterwards                                                 */

static const char much_open[] =
	"kit:\n  id: k\n  slots:\n"
	"    - {id: a, tool: punch, length: 100 mm, mark: ONE}\n"
	"    - {id: b, tool: chisel, exists: disputed, finish: nickel}\n"
	"    - id: c\n      tool: single open-ended spanner\n"
	"      sizes: [13 mm]\n"
	"      finish: [{is: nickel, certainty: probable}, "
	"{is: painted, certainty: probable}]\n"
	"bench:\n"
	"  - {id: t, tool: punch, mark: illegible}\n"
	"  - {id: u, tool: single open-ended spanner, openings: [13.1 mm]}\n";

static void remember(const struct km_load *l, struct km_slot slots[3],
		     struct km_tool tools[2])
{
	memcpy(slots, l->kits[0]->slots, 3 * sizeof *slots);
	for (size_t i = 0; i < 2; i++)
		memcpy(&tools[i], km_tool_at(&l->bench, i), sizeof *tools);
}

static void the_load_is_as_before(void **state)
{
	struct km_slot slots[3], slots_now[3];
	struct km_tool tools[2], tools_now[2];
	struct run r;

	(void)state;
	audit_text(&r, much_open);
	remember(r.load, slots, tools);
	assert_int_equal(km_questions_ask(r.load, r.audit), KM_OK);
	remember(r.load, slots_now, tools_now);
	assert_memory_equal(slots, slots_now, sizeof slots);
	assert_memory_equal(tools, tools_now, sizeof tools);
	/* length and mark of t, size struck and finish of u, b, finish of c */
	assert_int_equal(r.audit->questions->n, 6);
	close_run(&r);
}

/* The k-th allocation fails, for every k until all is done. */
static void also_when_memory_runs_out(void **state)
{
	struct km_slot slots[3], slots_now[3];
	struct km_tool tools[2], tools_now[2];
	struct km_fault fault = { 0 };
	enum km_status st = KM_ENOMEM;
	unsigned failed = 0;
	struct run r;

	(void)state;
	audit_text(&r, much_open);
	remember(r.load, slots, tools);
	r.load->limits.fault = &fault;
	for (uint64_t k = 1; st != KM_OK; k += 1 + k / 40) {
		fault = (struct km_fault){ .fail_at = k };
		r.audit->questions = NULL;
		st = km_questions_ask(r.load, r.audit);
		if (st != KM_OK) {
			assert_int_equal(st, KM_ENOMEM);
			assert_null(r.audit->questions);
			failed++;
		}
		remember(r.load, slots_now, tools_now);
		assert_memory_equal(slots, slots_now, sizeof slots);
		assert_memory_equal(tools, tools_now, sizeof tools);
	}
	assert_true(failed > 20);
	r.load->limits.fault = NULL;
	close_run(&r);
}

static void another_load_is_refused(void **state)
{
	struct run r, s;

	(void)state;
	audit_text(&r, much_open);
	audit_text(&s, much_open);
	assert_int_equal(km_questions_ask(s.load, r.audit), KM_EINPUT);
	assert_null(r.audit->questions);
	close_run(&r);
	close_run(&s);
}

static void no_more_than_so_many_are_asked(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_buf b;
	struct run r;

	(void)state;
	km_buf_init(&b, mem);
	km_buf_str(&b, "kit:\n  id: k\n  slots:\n");
	for (int i = 0; i < KM_QUESTIONS_MOST + 7; i++)
		km_buf_printf(&b, "    - {id: s%d, tool: punch, "
			      "exists: possible}\n", i);
	km_buf_str(&b, "bench: []\n");
	assert_false(km_buf_failed(&b));
	ask(&r, b.text);
	assert_int_equal(r.audit->questions->n, KM_QUESTIONS_MOST);
	assert_int_equal(r.audit->questions->not_asked, 7);
	close_run(&r);
	km_arena_free(mem);
}

/* Ten marks a slot: 39 questions have 390 answers, another is one of 10 or
 * more and might pass 400; 50 - 39 = 11 are left. */
static void nor_more_than_so_many_answers(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	const struct km_questions *q;
	uint32_t answers = 0;
	struct km_buf b;
	struct run r;

	(void)state;
	km_buf_init(&b, mem);
	km_buf_str(&b, "kit:\n  id: k\n  slots:\n");
	for (int i = 0; i < 50; i++) {
		km_buf_printf(&b, "    - {id: s%d, tool: punch, mark: [", i);
		for (int k = 0; k < 10; k++)
			km_buf_printf(&b, "%s{is: M%d, certainty: probable}",
				      k ? ", " : "", k);
		km_buf_str(&b, "]}\n");
	}
	km_buf_str(&b, "bench: []\n");
	assert_false(km_buf_failed(&b));
	q = ask(&r, b.text);
	for (uint32_t i = 0; i < q->n; i++)
		answers += q->v[i].n_answers;
	assert_int_equal(q->n, 39);
	assert_int_equal(answers, 390);
	assert_int_equal(q->not_asked, 11);
	close_run(&r);
	km_arena_free(mem);
}

/* ------------------------------------------------------------------ */
/* Values that fail                                                    */

static void a_length_that_fails_is_past_every_limit(void **state)
{
	static const struct {
		int32_t usable;		/* noted up to this share */
		struct km_span want;
		int64_t nm;
	} rows[] = {
		/* a fifth over */
		{ 1000, { MM(100), MM(2), MM(2) }, MM(120) },
		/* 165 + 33 = 198 */
		{ 1000, { MM(165), MM(3), MM(3) }, MM(198) },
		/* 4 + 0.8, up to the next millimetre */
		{ 1000, { MM(4), 100000, 100000 }, MM(5) },
		/* noted up to 30 per cent: 40 over */
		{ 3000, { MM(100), MM(2), MM(2) }, MM(140) },
		/* a fifth over lies within +25: a fifth past that */
		{ 1000, { MM(100), MM(25), MM(25) }, MM(145) },
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct km_kit_audit kit = {
			.limits.length_usable = rows[i].usable };
		struct km_question about = { .kit = &kit };
		struct km_span got = km_span_that_fails(&about, rows[i].want,
							false);

		if (got.nm != rows[i].nm)
			fail_msg("row %zu: %lld nm, by hand %lld", i,
				 (long long)got.nm, (long long)rows[i].nm);
	}
}

static void a_size_beside_is_another_that_does_not_serve(void **state)
{
	static const struct { const char *text; enum km_drive_id drive; }
	rows[] = {
		{ "13 mm", KM_DRIVE_HEXAGON }, { "1/4 W", KM_DRIVE_HEXAGON },
		{ "5/16 BS", KM_DRIVE_HEXAGON }, { "7/16 AF", KM_DRIVE_HEXAGON },
		{ "2 BA", KM_DRIVE_HEXAGON }, { "0.8 x 5.5 mm", KM_DRIVE_SLOTTED },
		{ "PH 2", KM_DRIVE_CROSS }, { "JIS H 2", KM_DRIVE_CROSS },
		{ "6 mm", KM_DRIVE_HEX_SOCKET }, { "5 mm", KM_DRIVE_HEX_SOCKET },
		{ "21 mm", KM_DRIVE_PLUG }, { "1/2 in", KM_DRIVE_SQUARE },
		{ "45-50 mm", KM_DRIVE_HOOK },
	};
	struct km_asker q = { .mem = km_arena_new(NULL) };

	(void)state;
	assert_non_null(q.mem);
	assert_true(km_size_book_init(&q.book, q.mem));
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct km_size_rules rules = {
			.drive = &km_drives[rows[i].drive] };
		const struct km_size *got;
		struct km_size s;

		assert_int_equal(km_size_parse(km_slice_of(rows[i].text),
					       &rules, q.mem, &s), KM_SIZE_OK);
		got = km_size_beside(&q, &s, true);
		if (!got || km_size_same(got, &s) ||
		    (km_size_is_hexagon(&s) && km_size_serves(got, &s)))
			fail_msg("beside %s: %s", rows[i].text,
				 got ? got->text : "nothing");
	}
	km_arena_free(q.mem);
}

/* 1/4 W and 5/16 BS are one jaw [bs-1083-1965]; no other name is struck on a
 * jaw for 13 mm. */
static void the_other_name_of_a_jaw(void **state)
{
	static const struct { const char *text, *other; } rows[] = {
		{ "1/4 W", "5/16 BS" }, { "5/16 BS", "1/4 W" },
		{ "13 mm", NULL },
	};
	struct km_size_rules rules = { .drive = &km_drives[KM_DRIVE_HEXAGON] };
	struct km_asker q = { .mem = km_arena_new(NULL) };

	(void)state;
	assert_non_null(q.mem);
	assert_true(km_size_book_init(&q.book, q.mem));
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const struct km_size *got;
		struct km_size s;

		assert_int_equal(km_size_parse(km_slice_of(rows[i].text),
					       &rules, q.mem, &s), KM_SIZE_OK);
		got = km_size_other_name(&q, &s);
		if (!rows[i].other)
			assert_null(got);
		else if (!got || strcmp(got->text, rows[i].other) != 0)
			fail_msg("%s: %s", rows[i].text,
				 got ? got->text : "nothing");
	}
	km_arena_free(q.mem);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_slot_was_there_or_not),
		cmocka_unit_test(without_its_place_a_pinned_tool_is_free),
		cmocka_unit_test(claims_are_asked_value_by_value),
		cmocka_unit_test(the_same_either_way),
		cmocka_unit_test(tools_are_asked_for_what_they_do_not_show),
		cmocka_unit_test(a_machine_may_have_either_kit),
		cmocka_unit_test(what_a_kit_says_is_asked_once),
		cmocka_unit_test(kits_lie_as_they_lay),
		cmocka_unit_test(machines_are_asked_of_in_their_order),
		cmocka_unit_test(what_is_set_aside_has_no_value),
		cmocka_unit_test(answers_make_only_what_the_figures_need),
		cmocka_unit_test(the_load_is_as_before),
		cmocka_unit_test(also_when_memory_runs_out),
		cmocka_unit_test(another_load_is_refused),
		cmocka_unit_test(no_more_than_so_many_are_asked),
		cmocka_unit_test(nor_more_than_so_many_answers),
		cmocka_unit_test(a_length_that_fails_is_past_every_limit),
		cmocka_unit_test(a_size_beside_is_another_that_does_not_serve),
		cmocka_unit_test(the_other_name_of_a_jaw),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
