/* SPDX-License-Identifier: MIT */
/*
 * The work of a plan: order, loads, bakes, openings, what must not be done.
 * Kits are invented; minutes, hours and loads are rows of data/processes.def,
 * added up beside each check.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "audit/jobs.h"
#include "base/buf.h"
#include "kitmuster/audit.h"
#include "report/jobs.h"
#include "tests/unit/feed.h"
#include "trade/caution.h"

static struct km_load *load;
static struct km_audit *audit;

/* Read and audit one file; st tells how the audit ended. */
static enum km_status run(const char *text, struct km_fault *fault)
{
	struct feed f = { .bytes = text, .n = strlen(text) };
	struct km_input in = feed_input(&f);
	struct km_options o = { .want_money = true, .want_jobs = true };
	struct km_diags *d = km_diags_new(NULL);
	enum km_status st;

	assert_non_null(d);
	assert_int_equal(km_load(&in, 1, NULL, d, &load), KM_OK);
	load->limits.fault = fault;
	st = km_audit_run(load, &o, d, &audit);
	km_diags_free(d);
	return st;
}

static int tear_down(void **state)
{
	(void)state;
	km_audit_free(audit);
	km_load_free(load);
	audit = NULL;
	load = NULL;
	return 0;
}

static const struct km_jobs *jobs_of(const char *text)
{
	assert_int_equal(run(text, NULL), KM_OK);
	assert_non_null(audit->jobs);
	return audit->jobs;
}

static const struct km_job *job_of(const struct km_jobs *j,
				   enum km_process_id id)
{
	for (uint32_t i = 0; i < j->n_jobs; i++)
		if (j->jobs[i].process->id == id)
			return &j->jobs[i];
	return NULL;
}

static void expect_three(const int32_t v[3], int32_t a, int32_t b, int32_t c)
{
	assert_int_equal(v[0], a);
	assert_int_equal(v[1], b);
	assert_int_equal(v[2], c);
}

/* Only a soak takes rust Ri 4 off here. */
#define ONLY_SOAK \
	"workshop: {currency: GBP, processes: {" \
	"hand_clean: {not_available: yes}, wire_brush_hand: {not_available: yes}," \
	"wire_wheel: {not_available: yes}, blast_bead: {not_available: yes}," \
	"tumble_wet_abrasive: {not_available: yes}," \
	"soak_phosphoric: {not_available: yes}," \
	"soak_chelate: {not_available: yes}," \
	"derust_electrolytic: {not_available: yes}," \
	"acid_pickle: {not_available: yes}, polish: {not_available: yes}}}\n"

static const char levers[] = ONLY_SOAK
	"kit: {id: k-1, title: K, slots: [{id: A1, tool: tyre lever, count: 16,"
	" finish: polished}]}\n"
	"bench: [{id: L, tool: tyre lever, count: 16, finish: polished,"
	" hardness: 25 HRC, condition: {rust: 4, pits: none, damage: none}}]\n";

/* soak_citric: loads of 15, so 16 pieces are 15 and 1; 1, 3, 6 minutes a piece;
 * 2, 8, 24 h a load, two after one another. */
static void loads_are_filled(void **state)
{
	const struct km_jobs *j = jobs_of(levers);
	const struct km_job *soak = job_of(j, KM_PROCESS_SOAK_CITRIC);
	uint32_t of[3] = { 0 };

	(void)state;
	assert_int_equal(j->n_tools, 16);
	assert_non_null(soak);
	assert_int_equal(soak->n_refs, 16);
	assert_int_equal(soak->loads, 2);
	assert_int_equal(soak->load_pieces, 15);
	for (uint32_t i = 0; i < 16; i++) {
		uint32_t load_no = j->tools[soak->refs[i].tool]
					   .steps[soak->refs[i].step].load;

		assert_true(load_no == 1 || load_no == 2);
		of[load_no]++;
	}
	assert_int_equal(of[1], 15);
	assert_int_equal(of[2], 1);
	expect_three(soak->hands_min, 16, 48, 96);
	expect_three(soak->elapsed, 400, 1600, 4800);
	assert_false(soak->shop);
}

/* inspect 2, 3, 6; wash 1, 3, 8; soak 1, 3, 6; oil 1, 2, 4: 5, 11, 24. */
static void a_tool_walks_through_its_steps(void **state)
{
	static const enum km_process_id order[] = {
		KM_PROCESS_INSPECT, KM_PROCESS_WASH_DEGREASE,
		KM_PROCESS_SOAK_CITRIC, KM_PROCESS_OIL_WAX };
	const struct km_jobs *j = jobs_of(levers);
	const struct km_job_tool *x = &j->tools[0];

	(void)state;
	assert_int_equal(x->route->n_steps, 4);
	assert_int_equal(j->n_jobs, 4);
	for (int i = 0; i < 4; i++) {
		assert_int_equal(x->steps[i].process->id, order[i]);
		assert_int_equal(j->jobs[i].process->id, order[i]);
	}
	expect_three(x->route->hands_min, 5, 11, 24);
	assert_true(x->found & KM_S(RUST4));
	assert_true(x->steps[1].words & KM_S(RUST4));
	assert_false(x->steps[2].words & KM_S(RUST4));
	assert_false(x->new_coat);
	assert_false(x->sent);
	/* 25 HRC is below 31 [iso-9587-2007] */
	assert_int_equal(x->hardness.bake, KM_JOB_BAKE_NO);
	assert_int_equal(j->n_barred, 0);
}

static const char nickel[] =
	"kit: {id: k-2, title: K, slots: ["
	"{id: B1, tool: tyre lever, finish: nickel},"
	"{id: B2, tool: tyre lever, finish: nickel},"
	"{id: B3, tool: combination pliers, finish: nickel}]}\n"
	"bench:\n"
	"  - {id: L1, tool: tyre lever, finish: nickel, hardness: 32 HRC,"
	" condition: {rust: 0, pits: none, plate_left: 40 %, damage: none}}\n"
	"  - {id: L2, tool: tyre lever, finish: nickel, hardness: 44 HRC,"
	" condition: {rust: 0, pits: none, plate_left: 40 %, damage: none}}\n"
	"  - {id: P1, tool: combination pliers, finish: nickel,"
	" condition: {rust: 0, pits: none, plate_left: 40 %, damage: none}}\n";

static const struct km_job_tool *tool_of(const struct km_jobs *j,
					 const char *id)
{
	for (uint32_t i = 0; i < j->n_tools; i++)
		if (!strcmp(j->tools[i].match->tool->id, id))
			return &j->tools[i];
	fail_msg("no work on %s", id);
	return NULL;
}

/* [astm-b850]: 31 to 33 HRC 8 h, 43 to 45 HRC 16 h.  An oven load bakes as long
 * as its hardest piece: 16 h, and that piece stands first.  Of the pliers
 * nothing is known: they are not baked, and to be asked about. */
static void hardened_pieces_are_baked(void **state)
{
	const struct km_jobs *j = jobs_of(nickel);
	const struct km_job *bake = job_of(j, KM_PROCESS_BAKE_RELIEF);

	(void)state;
	assert_int_equal(tool_of(j, "L1")->hardness.hours, 8);
	assert_int_equal(tool_of(j, "L2")->hardness.hours, 16);
	assert_int_equal(tool_of(j, "P1")->hardness.bake,
			 KM_JOB_BAKE_UNKNOWN);
	assert_non_null(bake);
	assert_int_equal(bake->loads, 1);
	assert_string_equal(
		j->tools[bake->refs[0].tool].match->tool->id, "L2");
	assert_int_equal(bake->elapsed[0], 1600);
	assert_int_equal(bake->elapsed[1], 1600);
	assert_true(bake->shop);
	assert_true(tool_of(j, "L1")->sent);
	assert_true(j->cautions & KM_CAUTION_BIT(C23));
	assert_false(tool_of(j, "L2")->hardness.over_45);
}

static const char jaws[] =
	"kit: {id: k-3, title: K, slots: [{id: C1,"
	" tool: double open-ended spanner, sizes: [13 mm, 10 mm],"
	" finish: zinc clear}]}\n"
	"bench: [{id: S1, tool: double open-ended spanner,"
	" sizes: [13 mm, 10 mm], openings: [13.05 mm, 10.10 mm],"
	" finish: zinc clear, condition: {rust: 0, pits: none,"
	" plate_left: 40 %, damage: none}}]\n";

/* Fe/Zn 5, 8, 12 [astm-b633] on two faces: 0.010, 0.016, 0.024 mm.  Least
 * openings 13.04 and 10.04 mm [gbt-4390-1995]. */
static void plating_closes_openings(void **state)
{
	const struct km_job_tool *x = tool_of(jobs_of(jaws), "S1");

	(void)state;
	assert_int_equal(x->n_openings, 2);
	assert_int_equal(x->openings[0].end, 1);
	assert_int_equal(x->openings[0].at_most_nm, 13040000);
	assert_int_equal(x->openings[0].becomes_nm, 13034000);
	assert_int_equal(x->openings[0].at_least_nm, 13026000);
	assert_int_equal(x->openings[0].least_nm, 13040000);
	assert_int_equal(x->openings[1].becomes_nm, 10084000);
	assert_int_equal(x->openings[1].least_nm, 10040000);
	/* 38 to 54 HRC by its kind [asme-b107-21]: over the bake table's 51 */
	assert_int_equal(x->hardness.bake, KM_JOB_BAKE_ASK);
	assert_true(x->hardness.over_45);
	assert_true(x->cautions & KM_CAUTION_BIT(C24));
	assert_true(x->cautions & KM_CAUTION_BIT(C40));
}

/* Washing harms celluloid, and its handle may not be put on again: no work, and
 * a warning; the lever beside it is worked on. */
static void celluloid_is_left_alone(void **state)
{
	static const char text[] =
		"kit: {id: k-4, title: K, slots: ["
		"{id: D1, tool: screwdriver, drive: slotted,"
		" sizes: [1.2 x 8 mm], finish: polished},"
		"{id: D2, tool: tyre lever, finish: polished}]}\n"
		"bench:\n"
		"  - {id: S1, tool: screwdriver, drive: slotted,"
		" sizes: [1.2 x 8 mm], finish: polished,"
		" handle_material: celluloid, condition: {rust: 2, pits: none,"
		" handle: ok, damage: none}}\n"
		"  - {id: L1, tool: tyre lever, finish: polished,"
		" condition: {rust: 2, pits: none, damage: none}}\n";
	const struct km_jobs *j = jobs_of(text);

	(void)state;
	assert_int_equal(j->n_tools, 1);
	assert_string_equal(j->tools[0].match->tool->id, "L1");
	assert_int_equal(j->n_barred, 1);
	assert_string_equal(j->barred[0].tool->id, "S1");
	assert_int_equal(j->barred[0].bars, KM_BAR_CELLULOID);
}

/* ------------------------------------------------------------------ */
/* Order, with routes as literals                                      */

#define STEPS 3
struct literal { enum km_process_id step[STEPS]; };

/* Group literal routes and write the processes in order, by word. */
static void group(const struct literal *in, uint32_t n, const char *expected)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct km_costs *costs = km_arena_alloc(mem, 1, sizeof *costs);
	struct km_job_tool *t = km_arena_alloc(mem, n, sizeof *t);
	struct km_plan plan = { .n_bills = 0 };
	struct km_jobs jobs = { .tools = t, .n_tools = n };
	struct km_buf b;

	assert_true(costs && t);
	assert_int_equal(km_costs_init(mem, NULL, NULL, NULL, NULL,
		(struct km_date){ 0, 0, 0 }, costs), KM_OK);
	for (uint32_t i = 0; i < n; i++) {
		struct km_route *r = km_arena_alloc(mem, 1, sizeof *r);
		const struct km_process **v = km_arena_alloc(mem, STEPS,
							     sizeof *v);

		assert_true(r && v);
		for (int k = 0; k < STEPS; k++)
			v[k] = &km_processes[in[i].step[k]];
		r->steps = v;
		r->n_steps = STEPS;
		t[i].route = r;
		t[i].steps = km_arena_alloc(mem, STEPS, sizeof *t[i].steps);
	}
	assert_int_equal(km_jobs_group(mem, costs, &plan, &jobs, t), KM_OK);
	km_buf_init(&b, mem);
	for (uint32_t i = 0; i < jobs.n_jobs; i++) {
		char word[KM_PROCESS_ROOM];

		km_process_word(jobs.jobs[i].process, word);
		km_buf_printf(&b, "%s%s %u", i ? ", " : "", word,
			      (unsigned)jobs.jobs[i].n_refs);
	}
	assert_string_equal(b.text, expected);
	km_arena_free(mem);
}

#define P(id) KM_PROCESS_##id

/* One tool must lose its handle before it is washed: the wash of the other
 * waits, and both are washed together.  Where a third must be washed before
 * its handle comes off no one order does, and there are two washes. */
static void a_process_waits_for_all_who_need_it(void **state)
{
	static const struct literal three[] = {
		{ { P(INSPECT), P(WASH_DEGREASE), P(HAND_CLEAN) } },
		{ { P(INSPECT), P(HANDLE_OFF), P(WASH_DEGREASE) } },
		{ { P(INSPECT), P(WASH_DEGREASE), P(HANDLE_OFF) } },
	};

	(void)state;
	group(three, 2, "inspect 2, handle_off 1, wash_degrease 2, "
	      "hand_clean 1");
	group(three, 3, "inspect 3, wash_degrease 2, handle_off 2, "
	      "wash_degrease 1, hand_clean 1");
}

static const char barred[] =
	"kit: {id: k-5, title: K, slots: [{id: E1, tool: tyre lever, count: 4,"
	" finish: polished}, {id: E2, tool: tyre lever, finish: zinc clear}]}\n"
	"machine: {kit: k-5, owner: own}\n"
	"bench:\n"
	"  - {id: U1, tool: tyre lever, condition: {rust: 3, plate_left: 50 %,"
	" damage: none}}\n"
	"  - {id: U2, tool: tyre lever, finish: paint, condition: {rust: 2,"
	" paint_left: 50 %, damage: none}}\n"
	"  - {id: U3, tool: tyre lever, finish: polished, mark: illegible,"
	" condition: {rust: 2, pits: none, damage: [{what: cracked}]}}\n"
	"  - {id: U4, tool: tyre lever, finish: polished, hardness: 47 HRC,"
	" condition: {rust: 3, pits: none, damage: none}}\n";

static uint32_t bars_of(const struct km_jobs *j, const char *id)
{
	for (uint32_t i = 0; i < j->n_barred; i++)
		if (j->barred[i].tool && !strcmp(j->barred[i].tool->id, id))
			return j->barred[i].bars;
	return 0;
}

static void what_must_not_be_done_is_told(void **state)
{
	const struct km_jobs *j = jobs_of(barred);

	(void)state;
	assert_int_equal(bars_of(j, "U1"), KM_BAR_PLATING_UNKNOWN);
	assert_int_equal(bars_of(j, "U2"), KM_BAR_LEAD_PAINT);
	assert_int_equal(bars_of(j, "U3"),
			 KM_BAR_CRACKED | KM_BAR_MARK_UNREAD);
	assert_int_equal(bars_of(j, "U4"), KM_BAR_TOO_HARD);
	for (uint32_t i = 0; i < j->n_barred; i++)
		if (j->barred[i].bars & KM_BAR_PLATING_UNKNOWN)
			assert_int_equal(j->barred[i].allowed,
					 KM_BIT(KM_PROCESS_WASH_DEGREASE));
}

static void as_found_has_no_work(void **state)
{
	static const char text[] =
		"kit: {id: k-6, title: K, standard: as-found, slots: ["
		"{id: F1, tool: tyre lever, finish: polished}]}\n"
		"bench: [{id: L1, tool: tyre lever, finish: polished,"
		" condition: {rust: 3, pits: none, damage: none}}]\n";
	const struct km_jobs *j = jobs_of(text);

	(void)state;
	assert_int_equal(j->n_tools, 0);
	assert_int_equal(j->n_jobs, 0);
	assert_int_equal(j->n_kept, 1);
	assert_true(j->kept[0].route->n_steps > 0);
	assert_false(j->kept[0].route->reaches);
}

static void every_allocation_may_fail(void **state)
{
	struct km_fault fault = { 0 };
	enum km_status st = KM_ENOMEM;
	uint64_t n = 0;

	(void)state;
	while (st == KM_ENOMEM) {
		(void)tear_down(NULL);
		fault = (struct km_fault){ .fail_at = ++n };
		st = run(nickel, &fault);
	}
	assert_int_equal(st, KM_OK);
	assert_true(n > 10);
}

static bool count_bytes(void *ctx, const char *text, size_t n)
{
	(void)text;
	*(size_t *)ctx += n;
	return true;
}

static void sheets_without_memory_write_nothing(void **state)
{
	static const enum km_sheet sheets[] = { KM_SHEET_JOBS,
						KM_SHEET_MANIFEST };
	static const enum km_format formats[] = { KM_FORMAT_TEXT,
						  KM_FORMAT_JSON };

	(void)state;
	(void)jobs_of(nickel);
	for (int i = 0; i < 4; i++) {
		struct km_fault fault = { 0 };
		struct km_limits lim = { .fault = &fault };
		struct km_report_options o = { .width = 80, .verbose = true,
					       .limits = &lim };
		size_t bytes = 0;
		struct km_sink to = { count_bytes, &bytes };
		enum km_status st = KM_ENOMEM;

		for (uint64_t n = 1; st == KM_ENOMEM; n++) {
			assert_int_equal(bytes, 0);
			fault = (struct km_fault){ .fail_at = n };
			st = km_report(audit, sheets[i / 2], formats[i % 2],
				       &o, &to);
		}
		assert_int_equal(st, KM_OK);
		assert_true(bytes > 500);
	}
}

/* ------------------------------------------------------------------ */

#define SAYS(call, expected) do { \
	struct km_arena *mem = km_arena_new(NULL); \
	struct km_buf b; \
	km_buf_init(&b, mem); \
	call; \
	assert_string_equal(b.len ? b.text : "", expected); \
	km_arena_free(mem); \
} while (0)

static void words_for_the_bench(void **state)
{
	static const int32_t min[] = { 1, 3, 6 }, same[] = { 5, 5, 5 };
	static const int32_t h[] = { 200, 800, 2400 }, d[] = { 7200, 24000,
							      48000 };
	static const int32_t short_h[] = { 10, 30, 100 };
	struct km_job_hardness hrc = { .from = 380, .to = 540,
				       .bake = KM_JOB_BAKE_ASK };
	struct km_job_opening o = { 1, 13050000, 13034000, 13040000, 13026000,
				    13040000 };

	(void)state;
	SAYS(km_words_minutes(&b, min), "3 min (1 to 6)");
	SAYS(km_words_minutes(&b, same), "5 min");
	SAYS(km_words_times(&b, h), "8 h (2 to 24)");
	SAYS(km_words_times(&b, d), "10 days (3 to 20)");
	SAYS(km_words_times(&b, short_h), "18 min (6 min to 1 h)");
	SAYS(km_words_hardness(&b, &hrc), "38 to 54 HRC by its kind");
	hrc = (struct km_job_hardness){ 445, 445, true, false,
		KM_JOB_BAKE_HOURS, 16, 190, 220, NULL };
	SAYS(km_words_hardness(&b, &hrc), "44.5 HRC as tested");
	SAYS(km_words_bake(&b, &hrc), "bake at least 16 h at 190 to 220 C");
	hrc = (struct km_job_hardness){ -1, -1, false, false,
		KM_JOB_BAKE_UNKNOWN, 0, 0, 0, NULL };
	SAYS(km_words_hardness(&b, &hrc), "hardness unknown");
	SAYS(km_words_bake(&b, &hrc), "ask about relief bake");
	SAYS(km_words_opening(&b, &o), "opening 1 closes from 13.05 to 13.034 "
	     "mm, least 13.04: too tight, gauge again");
	o.was_nm = 13060000;
	o.becomes_nm = 13044000;
	o.at_least_nm = 13036000;
	SAYS(km_words_opening(&b, &o), "opening 1 closes from 13.06 to 13.044 "
	     "mm, least 13.04; a thick coat is too tight: gauge again");
}

static void words_for_a_shallow_mark(void **state)
{
	struct km_job_barred x = { .bars = KM_BAR_MARK_SHALLOW,
		.pit_nm = 200000, .mark_nm = 150000,
		.allowed = KM_BIT(KM_PROCESS_SOAK_CITRIC) |
			   KM_BIT(KM_PROCESS_DERUST_ELECTROLYTIC) };
	uint32_t bars = x.bars;

	(void)state;
	SAYS(km_words_bar(&b, &x, &bars), "do not grind, tumble or buff: the "
	     "mark would go (0.15 mm deep, pits 0.2 mm)");
	assert_int_equal(bars, 0);
	SAYS(km_words_allowed(&b, &x), "allowed: a soft brush, citric acid "
	     "soak, derust by electrolysis");
}

int main(void)
{
#define T(f) cmocka_unit_test_teardown(f, tear_down)
	const struct CMUnitTest tests[] = {
		T(loads_are_filled), T(a_tool_walks_through_its_steps),
		T(hardened_pieces_are_baked), T(plating_closes_openings),
		T(celluloid_is_left_alone),
		T(a_process_waits_for_all_who_need_it),
		T(what_must_not_be_done_is_told), T(as_found_has_no_work),
		T(every_allocation_may_fail), T(words_for_the_bench),
		T(words_for_a_shallow_mark),
		T(sheets_without_memory_write_nothing),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
