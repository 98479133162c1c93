/* SPDX-License-Identifier: MIT */
/*
 * What is kept of tools that are judged together, against a comparison of
 * every tool with every slot: random kits and benches of all that a claim or a
 * record may be.
 */
#include "match_fixture.h"

#include <stdlib.h>

#include "match/alike.h"
#include "match/candidates.h"

#define KITS 2
#define SLOTS 7
#define TOOLS 160
#define ROUNDS 240

static uint32_t seed;

static uint32_t draw(uint32_t n)
{
	seed = seed * 1664525u + 1013904223u;
	return (seed >> 8) % n;
}

struct run {
	struct km_kit kit[KITS];
	struct km_slot slot[KITS][SLOTS];
	struct km_machine machine[KITS];
	struct km_party party[KITS];
	struct km_supersession chain[3];
	struct km_tools bench;
	struct km_filter filter;
	struct km_candidates *of;
	size_t n;
	int asked;
};

/* ------------------------------------------------------------------ */
/* Values: few of each, so that tools are alike                        */

#define VALUES 6
static union km_value pool[KM_ATTRS][VALUES];
static struct km_condition conditions[12];

static const char *const kinds[VALUES] = {
	"double open-ended spanner", "ring spanner", "combination pliers",
	"screwdriver", "double open-ended spanner", "combination pliers",
};
static const char *const marks[VALUES] = {
	"LARKMOOR", "LM", "LARKMOOR 3", "BRANKEL", "MADE ABROAD", "TARN & SON",
};
static const char *const parts[VALUES] = { "P-1", "P-2", "P-3", "P-4", "P-9",
					   "P-10" };
static const char *const finishes[VALUES] = {
	"black oxide", "nickel", "zinc clear", "cadmium", "forged", "paint",
};
static const char *const materials[VALUES] = {
	"wood", "steel", "rubber", "wood", "vinyl dip", "steel",
};

static void fill_pool(void)
{
	static const char *const a[VALUES] = { "8 mm", "5/16 AF", "10 mm",
					       "1/4 W", "7/16 AF", "11 mm" };
	static const char *const b[VALUES] = { "10 mm", "8 mm", "13 mm",
					       "5/16 W", "1/2 AF", "12 mm" };
	static const int width[VALUES] = { 803, 1011, 1116, 1275, 805, 1310 };
	static const uint32_t colours[VALUES] = { 0xb01020, 0xb21424, 0x102080,
						  0xd03030, 0x202020,
						  0xb01021 };

	for (int i = 0; i < VALUES; i++) {
		pool[KM_A_TOOL][i] = kind_of(kinds[i]);
		pool[KM_A_SIZES][i] = hexagons(a[i], i % 3 ? b[i] : NULL);
		pool[KM_A_OPENINGS][i] = openings(width[i],
						  i % 2 ? width[5 - i] : 0);
		for (int k = KM_A_THICKNESS; k <= KM_A_DEPTH; k++)
			pool[k][i] = length_um(5000 + 400 * i, 100, 300 * i);
		pool[KM_A_FINISH][i] = finish_of(finishes[i],
						 i % 2 ? NULL : finishes[1]);
		pool[KM_A_HANDLE_COLOUR][i] = rgb(colours[i]);
		pool[KM_A_HANDLE_MATERIAL][i] = material_of(materials[i]);
		pool[KM_A_MARK][i] = text_of(marks[i]);
		pool[KM_A_MADE][i] = made((enum km_made)(i % 3));
		pool[KM_A_PART][i] = text_of(parts[i]);
	}
}

static union km_value some(enum km_attr a)
{
	if (a == KM_A_LENGTH)
		return length_um(150000 + (int)draw(60) * 1000,
				 (int32_t)draw(3) * 500,
				 (int32_t)draw(3) * 2000);
	return pool[a][draw(VALUES)];
}

static void fill_conditions(void)
{
	static struct km_damage damage[4] = {
		{ KM_DMG_SPREAD, 0, -1, NULL }, { KM_DMG_SPREAD, 1, 40000, NULL },
		{ KM_DMG_ROUNDED, 0, -1, NULL }, { KM_DMG_MISSING, 0, -1, NULL },
	};

	for (int i = 0; i < 12; i++) {
		struct km_condition *k = &conditions[i];

		*k = blank_condition();
		k->rust = (int8_t)(i % 6 - 1);
		k->pits = (enum km_pits)(i % 4);
		k->plate_left = i % 3 ? 7000 + 250 * i : -1;
		k->paint_left = i == 5 ? 4000 : -1;
		k->damage_none = i % 5 == 0;
		k->handle = i < 9 ? (enum km_handle)(i % 4 ? 0 : i)
				  : KM_HANDLE_SPLIT;
		k->marking = i == 7 ? KM_MARKING_GONE : KM_MARKING_UNRECORDED;
		if (i >= 8) {
			k->damage = &damage[i - 8];
			k->n_damage = 1;
			k->damage_none = false;
		}
	}
	/* nothing to find fault with: many that are equal in all */
	conditions[1].damage_none = true;
	conditions[1].plate_left = 10000;
	/* a fault by itself only of a handle of wood */
	conditions[4] = conditions[1];
	conditions[4].handle = KM_HANDLE_SPLIT;
}

/* ------------------------------------------------------------------ */
/* Kits and tools                                                      */

static void claim(struct km_slot *s, enum km_attr a)
{
	struct km_want *w = &s->want[a];
	uint32_t what = draw(12);
	union km_value *any = km_arena_alloc(mem, 2, sizeof *any);

	assert_non_null(any);
	any[0] = some(a);
	any[1] = some(a);
	if (what < 2 || a == KM_A_OPENINGS)
		return;
	w->state = what == 2 ? KM_WANT_UNKNOWN
		 : what == 3 ? KM_WANT_NONE : KM_WANT_ANY_OF;
	w->or_none = what == 3 || what == 4;
	w->own_certainty = draw(4) == 0;
	w->certainty = (enum km_certainty)draw(KM_UNKNOWN + 1);
	if (w->state == KM_WANT_ANY_OF) {
		w->any = any;
		w->n = 1 + (what > 9);
	}
}

static void draw_slot(struct run *r, int kit, int i)
{
	static const enum km_attr often[] = {
		KM_A_SIZES, KM_A_LENGTH, KM_A_MARK, KM_A_FINISH, KM_A_MADE,
		KM_A_PART, KM_A_HANDLE_COLOUR, KM_A_HANDLE_MATERIAL,
	};
	struct km_slot *s = &r->slot[kit][i];

	/* now and then as another slot of the kit, or nearly so */
	if (i && draw(3) == 0) {
		*s = r->slot[kit][draw((uint32_t)i)];
		if (draw(3) == 0)
			s->want[often[draw(COUNT(often))]].or_none ^= true;
	}
	s->id = "S";
	s->kit = &r->kit[kit];
	s->index = (uint32_t)i;
	s->count = 1 + (int32_t)(draw(5) == 0);
	s->durable = true;
	if (s->want[KM_A_TOOL].n)
		return;
	s->exists = (enum km_certainty)draw(3);
	while (s->want[KM_A_TOOL].state != KM_WANT_ANY_OF ||
	       s->want[KM_A_TOOL].or_none)
		claim(s, KM_A_TOOL);
	for (size_t k = 0; k < COUNT(often); k++)
		claim(s, often[k]);
	if (draw(3) == 0)
		claim(s, (enum km_attr)(KM_A_THICKNESS +
					(int)draw(KM_A_DEPTH -
						  KM_A_THICKNESS + 1)));
	s->unused = draw(20) == 0;
}

/* like: another tool, or NULL. */
static void draw_tool(struct km_tool *t, uint32_t number,
		      const struct km_tool *like)
{
	static const char *const owners[] = { NULL, NULL, "own", "customer" };
	static const enum km_tool_status status[] = {
		KM_HERE, KM_HERE, KM_HERE, KM_AT_PLATER, KM_ORDERED,
	};
	struct km_tool_more *more = km_arena_alloc(mem, 1, sizeof *more);
	union km_value *v = km_arena_alloc(mem, KM_ATTRS, sizeof *v);
	char *id = km_arena_alloc(mem, 1, 8);
	uint32_t n = 0;

	assert_true(more && v && id);
	memcpy(id, "T-00000", 8);
	for (int i = 6; number; i--, number /= 10)
		id[i] = (char)('0' + number % 10);
	*t = (struct km_tool){ .id = id, .more = more, .owner = owners[draw(4)],
			       .status = status[draw(5)] };
	for (int a = 0; a < KM_ATTRS; a++) {
		bool lengths = a >= KM_A_THICKNESS && a <= KM_A_DEPTH;
		uint32_t what = a == KM_A_TOOL ? 9 : draw(10);

		if (a == KM_A_DRIVE || (lengths && draw(4)))
			continue;
		if (what > 2) {
			t->traits.has |= (uint32_t)1 << a;
			v[n++] = some((enum km_attr)a);
		} else if (what == 1) {
			t->traits.none |= (uint32_t)1 << a;
		} else if (what == 2 && a == KM_A_MARK) {
			t->traits.unread |= (uint32_t)1 << a;
		}
	}
	t->traits.v = v;
	/* much of a bench is alike */
	if (like && draw(2)) {
		t->traits = like->traits;
		t->traits.v = km_arena_copy(mem, like->traits.v, KM_ATTRS,
					    sizeof *v);
		v = (union km_value *)t->traits.v;
		if (draw(3) && (like->traits.has >> KM_A_LENGTH & 1))
			v[km_trait(&t->traits, KM_A_LENGTH) - v] =
				some(KM_A_LENGTH);
	}
	if (draw(4))
		t->condition = &conditions[draw(2) ? 1 : draw(12)];
	if (draw(6) == 0)
		more->came_with = draw(2) ? "serial 4417" : "serial 4418";
}

static void make_bench(struct run *r, size_t n)
{
	size_t blocks = n / KM_TOOL_BLOCK + 1;

	r->bench.n = n;
	r->bench.block = km_arena_alloc(mem, blocks,
					sizeof(*r->bench.block));
	assert_non_null(r->bench.block);
	for (size_t i = 0; i < blocks; i++) {
		r->bench.block[i] = km_arena_alloc(mem, KM_TOOL_BLOCK,
						   sizeof **r->bench.block);
		assert_non_null(r->bench.block[i]);
	}
	for (size_t i = 0; i < n; i++)
		draw_tool(km_tool_at(&r->bench, i), (uint32_t)i,
			  i ? km_tool_at(&r->bench, draw((uint32_t)i)) : NULL);
}

/* ------------------------------------------------------------------ */
/* Who may use what, and what work does                                */

static enum km_use use(const struct km_party *p, const struct km_tool *t,
		       void *ctx)
{
	(void)ctx;
	if (t->status == KM_ORDERED)
		return KM_USE_IGNORE;
	return t->owner && t->owner[0] == 'c' && p->machine->serial != 4418
		       ? KM_USE_NOT_OURS : KM_USE;
}

/* A made-up shop: it cures rust up to Ri 3 of what is not zinc plated. */
static bool cures(const struct km_match *m)
{
	const union km_value *v = km_trait(&m->tool->traits, KM_A_FINISH);

	return m->tool->condition && m->tool->condition->rust <= 3 &&
	       !(v && v->finish.body == pool[KM_A_FINISH][2].finish.body);
}

static int reaches(void *ctx, const struct km_party *p, const struct km_match *m)
{
	(void)p;
	++*(int *)ctx;
	return cures(m);
}

static struct run *begin_run(size_t tools)
{
	struct run *r = km_arena_alloc(mem, 1, sizeof *r);

	assert_non_null(r);
	for (int i = 0; i < 3; i++)
		r->chain[i] = (struct km_supersession){
			.old_part = parts[i], .new_part = parts[i + 1],
			.changes = draw(2) ? (uint32_t)1 << KM_A_FINISH |
					     (uint32_t)1 << KM_A_MARK : 0,
			.n_changes = draw(3) };
	for (int k = 0; k < KITS; k++) {
		struct km_kit *kit = &r->kit[k];
		struct km_party *p = &r->party[k];

		kit->limits = (struct km_kit_limits){ -1, -1, -1, -1, -1, -1 };
		if (draw(2))
			kit->limits = (struct km_kit_limits){
				(int32_t)draw(4), (int32_t)draw(3), 8000, 2000,
				9000, 500 };
		kit->slots = r->slot[k];
		kit->n_slots = SLOTS;
		for (int i = 0; i < SLOTS; i++)
			draw_slot(r, k, i);
		r->machine[k].serial = 4417 + k;
		p->kit = kit;
		p->machine = &r->machine[k];
		km_rules_init(&p->rules, kit,
			      (enum km_standard)draw(KM_STANDARDS));
		p->rules.book = &book;
		p->rules.superseded = r->chain;
		p->rules.n_superseded = 3;
	}
	make_bench(r, tools);
	r->filter = (struct km_filter){
		.use = use, .reaches = reaches, .cure = &r->asked,
		.spare = draw(3) };
	return r;
}

static void find(struct run *r)
{
	assert_int_equal(km_candidates_find(mem, NULL, r->party, KITS,
					    &r->bench, &r->filter, &r->of,
					    &r->n), KM_OK);
	assert_int_equal(r->n, KITS * SLOTS);
}

/* ------------------------------------------------------------------ */
/* The other way: every pair                                           */

static bool takes_kind(const struct km_slot *s, const struct km_kind *k)
{
	for (uint32_t i = 0; !s->unused && i < s->want[KM_A_TOOL].n; i++)
		if (s->want[KM_A_TOOL].any[i].kind == k)
			return true;
	return false;
}

/* As candidates.h says: places for a tool of the slot's kinds, and `spare`. */
static uint32_t to_keep(const struct run *r, const struct km_slot *s)
{
	const struct km_want *w = &s->want[KM_A_TOOL];
	uint32_t most = r->filter.spare;

	for (uint32_t a = 0; a < w->n; a++) {
		if (a && w->any[a].kind == w->any[0].kind)
			continue;
		for (int k = 0; k < KITS; k++)
			for (int i = 0; i < SLOTS; i++)
				if (takes_kind(&r->slot[k][i], w->any[a].kind))
					most += (uint32_t)r->slot[k][i].count;
	}
	return most;
}

static int by_order(const void *a, const void *b)
{
	return km_match_order(a, b);
}

/* All comparisons of a slot that fall to one use, sorted. */
static uint32_t compare_all(struct run *r, const struct km_candidates *of,
			    enum km_use which, struct km_match *all)
{
	uint32_t n = 0;

	for (size_t i = 0; i < r->bench.n && !of->slot->unused; i++) {
		const struct km_tool *t = km_tool_at(&r->bench, i);
		const char *with = t->more->came_with;
		struct km_thing thing = {
			.traits = &t->traits, .condition = t->condition,
			.tool = t, .at_plater = t->status == KM_AT_PLATER,
			.came_with = with && with[strlen(with) - 1] ==
				     '7' + (char)of->party };
		struct km_match *m = &all[n];

		if (use(of->of, t, NULL) != which ||
		    !km_compare_is_candidate(&of->of->rules, of->slot, &thing))
			continue;
		km_compare(&of->of->rules, of->slot, &thing, m);
		if (m->verdict != KM_SUBSTITUTE && km_match_wants_work(m))
			km_match_settle(m, cures(m));
		n++;
	}
	qsort(all, n, sizeof *all, by_order);
	return n;
}

static bool same(const struct km_match *a, const struct km_match *b)
{
	for (int i = 0; i < KM_ASPECTS; i++)
		if (a->on[i].letter != b->on[i].letter ||
		    a->on[i].finding != b->on[i].finding ||
		    a->on[i].outcome != b->on[i].outcome ||
		    a->on[i].weak != b->on[i].weak ||
		    a->on[i].score != b->on[i].score)
			return false;
	return a->slot == b->slot && a->tool == b->tool &&
	       a->verdict == b->verdict && a->score == b->score &&
	       a->headline == b->headline && a->fit == b->fit &&
	       a->damage == b->damage && a->came_with == b->came_with;
}

/* Returns how many were dropped. */
static uint32_t check_slot(struct run *r, struct km_candidates *of,
			   struct km_match *all, int round)
{
	uint32_t n = compare_all(r, of, KM_USE, all), most, dropped;

	most = to_keep(r, of->slot);
	assert_int_equal(of->n, n < most ? n : most);
	dropped = n - of->n;
	for (uint32_t k = 0; k < of->n; k++) {
		const struct km_match *m = km_candidates_match(mem, of, k);

		assert_non_null(m);
		assert_int_equal(of->v[k].verdict, all[k].verdict);
		assert_int_equal(of->v[k].score, all[k].score);
		if (!same(m, &all[k]))
			fail_msg("round %d, place %u: %s, not %s", round,
				 (unsigned)k, m->tool->id, all[k].tool->id);
	}
	n = compare_all(r, of, KM_USE_NOT_OURS, all);
	assert_int_equal(of->n_not_ours, n < 3 ? n : 3);
	for (uint32_t k = 0; k < of->n_not_ours; k++) {
		assert_ptr_equal(of->not_ours[k].tool, all[k].tool);
		assert_int_equal(of->not_ours[k].verdict, all[k].verdict);
	}
	return dropped;
}

static void what_is_kept_is_the_best_of_every_pair(void **state)
{
	static struct km_match all[TOOLS];
	uint32_t dropped = 0, kept = 0, shared = 0, by_verdict[4] = { 0 };
	int asked = 0;

	(void)state;
	seed = 5;
	fill_pool();
	fill_conditions();
	for (int round = 0; round < ROUNDS; round++) {
		struct run *r = begin_run(TOOLS);

		find(r);
		for (uint32_t i = 0; i < r->n; i++) {
			struct km_candidates *of = &r->of[i];

			dropped += check_slot(r, of, all, round);
			kept += of->n;
			shared += of->first != i;
			for (uint32_t k = 0; k < of->n; k++)
				by_verdict[of->v[k].verdict]++;
		}
		asked += r->asked;
	}
	/* there was a test: of some 540 000 pairs */
	assert_true(dropped > 10000 && kept > 10000 && shared > 300);
	assert_true(asked > 300);
	for (int i = 0; i < 4; i++)
		assert_true(by_verdict[i] > 100);
}

/* Openings that are never the same twice fill the working space over and over;
 * what was forgotten is worked out anew. */
static void forgetting_changes_nothing(void **state)
{
	static struct km_match all[60000];
	struct run *r;

	(void)state;
	seed = 9;
	r = begin_run(COUNT(all));
	for (size_t i = 0; i < COUNT(all); i++) {
		struct km_tool *t = km_tool_at(&r->bench, i);
		union km_value *v = km_arena_alloc(mem, 5, sizeof *v);

		assert_non_null(v);
		v[0] = pool[KM_A_TOOL][0];
		v[1] = openings(700 + (int)(i % 611), 700 + (int)(i % 613));
		v[2] = length_um(150000 + (int)(i % 50) * 1000, 500, 500);
		v[3] = pool[KM_A_FINISH][i % VALUES];
		v[4] = pool[KM_A_MARK][i % 5];
		t->traits = (struct km_traits){
			.has = (uint32_t)1 << KM_A_TOOL |
			       (uint32_t)1 << KM_A_OPENINGS |
			       (uint32_t)1 << KM_A_LENGTH |
			       (uint32_t)1 << KM_A_FINISH |
			       (uint32_t)1 << KM_A_MARK, .v = v };
	}
	find(r);
	for (uint32_t i = 0; i < r->n; i++)
		check_slot(r, &r->of[i], all, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_kept_is_the_best_of_every_pair),
		cmocka_unit_test(forgetting_changes_nothing),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
