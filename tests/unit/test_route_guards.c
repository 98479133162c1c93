/* SPDX-License-Identifier: MIT */
/*
 * Routes of work: what guards the tool and whoever works on it.  Costs as in
 * test_route.c; the guards have their sources in data/processes.def.
 */
#include "route_fixture.h"

/* SOURCE astm-stp47557s and common practice (C03), osha-hib-2001-12-21 (C01),
 * osha-cadmium-pages (C02): cadmium, and soft plating that nobody has tested,
 * is washed, looked at and waxed, no more. */
static void only_washing(struct pair *p)
{
	struct km_costs c = costs();
	struct km_task t = task_of(p, KM_AS_DELIVERED, &c);
	struct km_state s = t.start, after;
	struct found f = routes(p, KM_AS_DELIVERED);

	assert_true(t.cadmium);
	for (int i = 0; i < KM_PROCESSES; i++)
		s.done |= KM_BIT(i);
	for (int i = 0; i < KM_PROCESSES; i++) {
		bool safe = i == KM_PROCESS_INSPECT || i == KM_PROCESS_OIL_WAX ||
			    i == KM_PROCESS_WASH_DEGREASE;

		if (km_state_allows(&t, &s, (enum km_process_id)i) != safe)
			fail_msg("%s", km_processes[i].word);
		km_state_after(&t, &s, (enum km_process_id)i, &after);
	}
	assert_int_equal(f.n, 0);
}

static void cadmium_is_left_alone(void **state)
{
	struct pair p;

	(void)state;
	lever(&p, "cadmium", 3);
	only_washing(&p);
	lever(&p, "cadmium yellow", 3);
	only_washing(&p);
}

static void unknown_plating_counts_as_cadmium(void **state)
{
	static const struct km_finish odd = { .id = KM_FINISH_UNLISTED,
		.name = "soft silver", .bright = -1, .cautions = "" };
	struct pair p;
	union km_value v = { .text = NULL };

	(void)state;
	/* plating is spoken of, its metal is not */
	begin(&p, "tyre lever");
	n_own_terms = 0;
	p.condition.rust = 3;
	p.condition.plate_left = 8000;
	only_washing(&p);
	/* something is there and could not be told */
	begin(&p, "tyre lever");
	p.condition.rust = 3;
	have_unread(&p, KM_A_FINISH);
	only_washing(&p);
	/* a word of no table */
	begin(&p, "tyre lever");
	p.condition.rust = 3;
	v.finish.body = &odd;
	v.finish.faces = NULL;
	have(&p, KM_A_FINISH, v);
	only_washing(&p);
}

/* Pits 0.20 mm deep, the mark 0.15: grinding, tumbling and buffing would take
 * it; a soak and a soft brush would not.  Common practice, no source. */
static void may(struct pair *p, bool abrasive)
{
	static const enum km_process_id harsh[] = {
		KM_PROCESS_WIRE_WHEEL, KM_PROCESS_TUMBLE_WET_ABRASIVE,
		KM_PROCESS_TUMBLE_STEEL, KM_PROCESS_POLISH,
		KM_PROCESS_BLAST_BEAD,
	};
	static const enum km_process_id mild[] = {
		KM_PROCESS_HAND_CLEAN, KM_PROCESS_SOAK_CHELATE,
		KM_PROCESS_SOAK_CITRIC, KM_PROCESS_DERUST_ELECTROLYTIC,
	};
	struct km_costs c = costs();
	struct km_task t = task_of(p, KM_AS_DELIVERED, &c);
	struct km_state s = t.start;

	s.done = KM_BIT(KM_PROCESS_INSPECT) | KM_BIT(KM_PROCESS_WASH_DEGREASE);
	for (size_t i = 0; i < COUNT(harsh); i++)
		assert_int_equal(km_state_allows(&t, &s, harsh[i]), abrasive);
	for (size_t i = 0; i < COUNT(mild); i++)
		assert_true(km_state_allows(&t, &s, mild[i]));
}

static void the_mark_is_protected(void **state)
{
	static const char *const photos[] = { "mark.jpg" };
	struct km_tool_more more = { .photos = photos, .n_photos = 1 };
	struct pair p;
	struct found f;

	(void)state;
	lever(&p, "forged", 4);
	have(&p, KM_A_MARK, text_of("BRANKEL 4"));
	p.condition.pits = KM_PITS_FEW;
	p.condition.pit_nm = UM(200);
	p.condition.mark_depth_nm = UM(150);
	may(&p, false);
	f = routes(&p, KM_PERIOD_CORRECT);
	expect(&f, 0, "inspect wash_degrease soak_citric oil_wax", 700,
	       "few pits");
	assert_true(f.v[0].reaches);
	/* deep enough */
	p.condition.mark_depth_nm = UM(300);
	may(&p, true);
	/* not known: photograph it first */
	p.condition.mark_depth_nm = -1;
	may(&p, false);
	p.tool.more = &more;
	may(&p, true);
	/* no mark, no pits */
	p.tool.more = NULL;
	p.condition.pits = KM_PITS_NONE;
	p.condition.pit_nm = -1;
	may(&p, true);
}

/* Pits as deep as polishing takes off, 0.02 mm [choice], go; deeper stay. */
static void polish_clears_shallow_pits(void **state)
{
	struct pair p;
	struct found f;

	(void)state;
	lever(&p, "polished", 0);
	have_none(&p, KM_A_MARK);
	p.condition.pits = KM_PITS_FEW;
	p.condition.pit_nm = UM(20);
	f = routes(&p, KM_AS_DELIVERED);
	assert_int_equal(n_reaching(&f), 1);
	expect(&f, 0, "inspect wash_degrease polish oil_wax", 600, NULL);
	p.condition.pit_nm = UM(21);
	assert_int_equal(routes(&p, KM_AS_DELIVERED).n, 0);
}

/* A dipped grip of the wrong colour: wash 2.00, hand clean 0.50, off 0, dip
 * 18.00 + 0.60: 21.10.  A moulded one is replaced: 60.00 + 2.00. */
static void a_handle_is_dipped_or_replaced(void **state)
{
	struct pair p;
	struct found f;

	(void)state;
	lever(&p, "nickel", 0);
	want(&p, KM_A_HANDLE_COLOUR, rgb(0xc47a1c));
	have(&p, KM_A_HANDLE_COLOUR, rgb(0x106030));
	have(&p, KM_A_HANDLE_MATERIAL, material_of("vinyl dip"));
	f = routes(&p, KM_AS_DELIVERED);
	assert_int_equal(n_reaching(&f), 1);
	expect(&f, 0, "inspect wash_degrease handle_off hand_clean handle_dip",
	       2110, "a new handle in place of the original");
	have(&p, KM_A_HANDLE_MATERIAL, material_of("moulded sleeve"));
	f = routes(&p, KM_AS_DELIVERED);
	assert_int_equal(n_reaching(&f), 1);
	expect(&f, 0, "inspect handle_off handle_mould", 6200,
	       "a new handle in place of the original");
	/* wood has no such cure */
	have(&p, KM_A_HANDLE_MATERIAL, material_of("wood"));
	f = routes(&p, KM_AS_DELIVERED);
	assert_int_equal(n_reaching(&f), 0);
}

/* SOURCE cci-notes-15-3 (C20): no solvent, no heat on celluloid; and what is
 * taken off has no way back on. */
static void handles_guard_the_tool(void **state)
{
	struct pair p;
	struct found f;
	struct km_costs c;
	struct km_task t;
	struct km_state s;

	(void)state;
	lever(&p, "black oxide", 4);
	have(&p, KM_A_HANDLE_MATERIAL, material_of("celluloid"));
	assert_int_equal(routes(&p, KM_AS_DELIVERED).n, 0);
	/* a wooden one bars tumbling until it is off */
	lever(&p, "forged", 3);
	have(&p, KM_A_HANDLE_MATERIAL, material_of("wood"));
	c = costs();
	t = task_of(&p, KM_AS_DELIVERED, &c);
	s = t.start;
	s.done = KM_BIT(KM_PROCESS_INSPECT) | KM_BIT(KM_PROCESS_WASH_DEGREASE);
	assert_false(km_state_allows(&t, &s, KM_PROCESS_TUMBLE_WET_ABRASIVE));
	assert_true(km_state_after(&t, &s, KM_PROCESS_HANDLE_OFF, &s));
	assert_true(km_state_allows(&t, &s, KM_PROCESS_TUMBLE_WET_ABRASIVE));
	assert_false(km_state_closed(&t, &s));
	assert_true(km_state_after(&t, &s, KM_PROCESS_HANDLE_REFIT, &s));
	assert_true(km_state_closed(&t, &s));
	/* a loose one is refitted, which is all that `usable` asks for */
	lever(&p, "forged", 0);
	have(&p, KM_A_HANDLE_MATERIAL, material_of("wood"));
	p.condition.handle = KM_HANDLE_LOOSE;
	f = routes(&p, KM_USABLE);
	assert_int_equal(n_reaching(&f), 1);
	expect(&f, 0, "inspect handle_refit", 100, NULL);
}

/* SOURCE 29-cfr-1926-301, 29-cfr-1910-242 (C29); workshop-safety-sheets. */
static void a_cracked_tool_is_not_worked_on(void **state)
{
	static const struct km_damage cracked[] = {
		{ KM_DMG_CRACKED, 1, -1, NULL }, { KM_DMG_ROUNDED, 1, -1, NULL },
	};
	static const enum km_process_id barred[] = {
		KM_PROCESS_PLATE_ZINC, KM_PROCESS_PLATE_NICKEL,
		KM_PROCESS_PLATE_NICKEL_CHROME, KM_PROCESS_STRAIGHTEN,
		KM_PROCESS_DRESS,
	};
	struct pair p;
	struct km_costs c;
	struct km_task t;
	struct km_state s;
	struct found f;

	(void)state;
	lever(&p, "forged", 0);
	p.condition.damage = &cracked[1];
	p.condition.n_damage = 1;
	p.condition.damage_none = false;
	f = routes(&p, KM_USABLE);
	assert_int_equal(n_reaching(&f), 1);
	expect(&f, 0, "inspect dress", 20, NULL);
	p.condition.damage = cracked;
	p.condition.n_damage = 2;
	assert_int_equal(routes(&p, KM_USABLE).n, 0);
	c = costs();
	t = task_of(&p, KM_AS_DELIVERED, &c);
	s = t.start;
	for (int i = 0; i < KM_PROCESSES; i++)
		s.done |= KM_BIT(i);
	for (size_t i = 0; i < COUNT(barred); i++)
		assert_false(km_state_allows(&t, &s, barred[i]));
}

/* SOURCE 29-cfr-1926-62, epa-rrp (C18): old paint that was not tested is
 * neither brushed nor blasted dry. */
static void untested_paint_is_not_ground(void **state)
{
	struct pair p;
	struct km_costs c;
	struct km_task t;
	struct km_state s;

	(void)state;
	lever(&p, "painted", 3);
	c = costs();
	t = task_of(&p, KM_AS_DELIVERED, &c);
	s = t.start;
	s.done = KM_BIT(KM_PROCESS_INSPECT) | KM_BIT(KM_PROCESS_WASH_DEGREASE);
	assert_false(km_state_allows(&t, &s, KM_PROCESS_WIRE_WHEEL));
	assert_false(km_state_allows(&t, &s, KM_PROCESS_BLAST_BEAD));
	assert_true(km_state_allows(&t, &s, KM_PROCESS_SOAK_CHELATE));
	p.condition.lead_paint = 0;
	t = task_of(&p, KM_AS_DELIVERED, &c);
	assert_true(km_state_allows(&t, &s, KM_PROCESS_WIRE_WHEEL));
	p.condition.lead_paint = 1;
	t = task_of(&p, KM_AS_DELIVERED, &c);
	assert_false(km_state_allows(&t, &s, KM_PROCESS_WIRE_WHEEL));
}

/* As found, no work is recommended; what would be done is shown. */
static void as_found_recommends_nothing(void **state)
{
	struct pair p;
	struct found f;

	(void)state;
	lever(&p, "black oxide", 3);
	f = routes(&p, KM_AS_FOUND);
	assert_true(f.n > 0);
	assert_int_equal(n_reaching(&f), 0);
}

/* What no work cures has no route: it is too long. */
static void a_wrong_length_is_not_worked_on(void **state)
{
	struct pair p;

	(void)state;
	lever(&p, "black oxide", 3);
	want(&p, KM_A_LENGTH, length_um(165000, 3000, 3000));
	have(&p, KM_A_LENGTH, length_um(178000, 500, 500));
	assert_int_equal(routes(&p, KM_AS_DELIVERED).n, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(cadmium_is_left_alone),
		cmocka_unit_test(unknown_plating_counts_as_cadmium),
		cmocka_unit_test(the_mark_is_protected),
		cmocka_unit_test(polish_clears_shallow_pits),
		cmocka_unit_test(a_handle_is_dipped_or_replaced),
		cmocka_unit_test(handles_guard_the_tool),
		cmocka_unit_test(a_cracked_tool_is_not_worked_on),
		cmocka_unit_test(untested_paint_is_not_ground),
		cmocka_unit_test(as_found_recommends_nothing),
		cmocka_unit_test(a_wrong_length_is_not_worked_on),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
