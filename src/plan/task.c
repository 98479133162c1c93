/* SPDX-License-Identifier: MIT */
/*
 * task - a comparison read as a piece of work: what is found, what must go,
 * what stands in the way.
 */
#include "plan/state.h"

#include <string.h>

#include "trade/rust.h"

const struct km_work_choices km_work_choices_default = {
	.polish_loses = KM_MARK_LEVEL,
	.tumble_loses = KM_MARK_LEVEL / 24,
	.polish_clears_nm = 20000,
};

static const struct km_traits no_traits;

static const struct km_traits *traits_of(const struct km_match *m)
{
	if (m->traits)
		return m->traits;
	return m->tool ? &m->tool->traits : m->offer ? &m->offer->traits :
	       &no_traits;
}

static const struct km_condition *condition_of(const struct km_match *m)
{
	return m->tool ? m->tool->condition : m->offer ? m->offer->condition :
	       NULL;
}

static const struct km_want *wanted(const struct km_match *m, enum km_attr a)
{
	const struct km_want *w = &m->slot->want[a];

	if (w->own_certainty && w->certainty == KM_UNKNOWN)
		return NULL;
	return w->state == KM_WANT_ANY_OF && w->n ? w : NULL;
}

/* ------------------------------------------------------------------ */
/* Surface                                                             */

struct coat { enum km_finish_id from, to; uint64_t sound, worn, renewed; };
static const struct coat coats[] = {
	{ KM_FINISH_ZINC_CLEAR, KM_FINISH_ZINC_BLACK, KM_S(ZINC),
	  KM_S(WORN_ZINC), KM_S(NEW_ZINC) },
	{ KM_FINISH_CADMIUM_CLEAR, KM_FINISH_CADMIUM_OLIVE, KM_S(CADMIUM),
	  KM_S(WORN_CADMIUM), KM_S(NEW_CADMIUM) },
	{ KM_FINISH_NICKEL, KM_FINISH_NICKEL, KM_S(NICKEL),
	  KM_S(WORN_NICKEL), KM_S(NEW_NICKEL) },
	{ KM_FINISH_NICKEL_CHROME, KM_FINISH_NICKEL_CHROME, KM_S(CHROME),
	  KM_S(WORN_CHROME), KM_S(NEW_CHROME) },
	{ KM_FINISH_BLACK_OXIDE, KM_FINISH_BLACK_OXIDE, KM_S(BLACK),
	  KM_S(WORN_BLACK), KM_S(NEW_BLACK) },
	{ KM_FINISH_BLACK_OXIDE_COLD, KM_FINISH_BLACK_OXIDE_COLD, KM_S(BLACK),
	  KM_S(WORN_BLACK), KM_S(BLACK_COLD) },
	{ KM_FINISH_PHOSPHATE_MN, KM_FINISH_PHOSPHATE_ZN, KM_S(PHOSPHATE),
	  KM_S(WORN_PHOSPHATE), KM_S(NEW_PHOSPHATE) },
	{ KM_FINISH_PAINT, KM_FINISH_PAINT, KM_S(NEW_PAINT),
	  KM_S(PAINT_LOSS), KM_S(NEW_PAINT) },
	{ KM_FINISH_BARE_POLISHED, KM_FINISH_BARE_POLISHED,
	  KM_S(BARE) | KM_S(POLISHED), KM_S(BARE) | KM_S(POLISHED), 0 },
	{ KM_FINISH_BARE_FORGED, KM_FINISH_BARE_FORGED, KM_S(BARE),
	  KM_S(BARE), 0 },
};
#define COATS (sizeof coats / sizeof *coats)

/* Does the standard want work here; of as-found, would as-delivered. */
static bool wants_work(const struct km_task *t, const struct km_match *m,
		       enum km_aspect a, enum km_finding f)
{
	return m->on[a].finding == f &&
	       (!t->recommend || m->on[a].letter == KM_CURABLE);
}

static int word_of(uint64_t bit)
{
	return __builtin_ctzll(bit);
}

static void read_rust(struct km_task *t, const struct km_condition *k,
		      const struct km_rules *r)
{
	int grade = !k ? 0 : k->rust >= 0 ? k->rust :
		    k->rust_share >= 0 ? km_rust_degree(k->rust_share) : 0;

	if (grade > 0)
		t->start.words |= KM_S(RUST1) << (grade - 1);
	for (int g = r->rust < 0 ? 0 : r->rust; g < 5; g++)
		t->must_go |= KM_S(RUST1) << g;
}

static void read_pits(struct km_task *t, const struct km_condition *k,
		      const struct km_match *m)
{
	enum km_pits pits = k ? k->pits : KM_PITS_UNRECORDED;

	t->pit_nm = k ? k->pit_nm : -1;
	if (pits == KM_PITS_GENERAL)
		t->start.words |= KM_S(PITS_GENERAL);
	else if (pits == KM_PITS_FEW || t->pit_nm > 0)
		t->start.words |= KM_S(PITS_FEW);
	if (!wants_work(t, m, KM_ASP_PITS, KM_F_PITS_ABOVE))
		return;
	t->must_go |= KM_S(PITS_GENERAL);
	if (m->on[KM_ASP_PITS].by == m->on[KM_ASP_PITS].over)
		t->must_go |= KM_S(PITS_FEW) | KM_S(SHOW_THROUGH);
}

/* Letters of the plate faults: F flaking, G blisters [iso-10289-1999]. */
static uint64_t plate_faults(const struct km_condition *k)
{
	uint64_t words = 0;

	for (uint32_t i = 0; k && i < k->n_plate_fault; i++) {
		if (strchr(k->plate_fault[i], 'F'))
			words |= KM_S(PEELING_PLATE);
		if (strchr(k->plate_fault[i], 'G'))
			words |= KM_S(BLISTERED_PLATE);
	}
	return words;
}

static void read_coat(struct km_task *t, const struct km_match *m,
		      const struct km_condition *k)
{
	bool worn = wants_work(t, m, KM_ASP_PLATE, KM_F_PLATE_BELOW);
	bool wrong = m->on[KM_ASP_FINISH].letter == KM_FAILS;

	for (size_t i = 0; i < COATS; i++) {
		const struct coat *c = &coats[i];

		if (t->start.finish < c->from || t->start.finish > c->to)
			continue;
		/* paint that is not wanted is paint to come off */
		if (worn || (wrong && t->start.finish == KM_FINISH_PAINT))
			t->start.words |= c->worn;
		else
			t->start.words |= c->sound;
		if (t->start.finish <= KM_FINISH_NICKEL_CHROME)
			t->start.words |= plate_faults(k);
	}
	if (traits_of(m)->none & (uint32_t)1 << KM_A_FINISH)
		t->start.words |= KM_S(BARE);
	t->new_coat = worn || wrong;
	if (t->new_coat)
		t->must_go |= KM_S_WORN;
	t->coat_may_change = t->new_coat ||
		(t->must_go & t->start.words & KM_S_PITS);
}

/* How a finish would be judged in the slot. */
static bool finish_passes(const struct km_want *w, enum km_finish_id id,
			  enum km_standard s)
{
	for (uint32_t i = 0; i < w->n; i++) {
		const struct km_finish *want = w->any[i].finish.body;
		const struct km_finish *faces = w->any[i].finish.faces;
		enum km_finding f = KM_F_FINISH_OTHER;
		enum km_pass pass;

		if (!want || (faces && faces != want))
			continue;
		pass = km_finish_passes(&km_finishes[id - 1], want);
		if (pass == KM_PASS_SAME)
			f = KM_F_FINISH_SAME;
		else if (pass == KM_PASS_NEAR)
			f = km_finish_is_cadmium(want) ?
			    KM_F_FINISH_NEAR_CADMIUM : KM_F_FINISH_NEAR;
		if (km_rules_letter(f, s) <= KM_NOTED)
			return true;
	}
	return false;
}

static void read_wanted_finish(struct km_task *t, const struct km_match *m,
			       enum km_standard s)
{
	const struct km_want *w = wanted(m, KM_A_FINISH);

	if (m->on[KM_ASP_FINISH].letter != KM_FAILS)
		t->finish_ok |= KM_BIT(t->start.finish);
	for (int id = 1; w && id < KM_FINISH_COUNT; id++)
		if (finish_passes(w, (enum km_finish_id)id, s))
			t->finish_ok |= KM_BIT(id);
	if (m->slot->want[KM_A_FINISH].state == KM_WANT_NONE)
		t->finish_ok |= KM_BIT(KM_FINISH_BARE_POLISHED) |
				KM_BIT(KM_FINISH_BARE_FORGED);
	/* the colour of a new coat is the one that is asked for */
	for (size_t i = 0; i < COATS; i++) {
		if (!coats[i].renewed)
			continue;
		t->made[word_of(coats[i].renewed)] = (uint8_t)coats[i].from;
		for (int id = (int)coats[i].to; id >= (int)coats[i].from;
		     id--)
			if (t->finish_ok & KM_BIT(id))
				t->made[word_of(coats[i].renewed)] =
					(uint8_t)id;
	}
}

static uint8_t finish_id(const struct km_finish *f)
{
	return f ? (uint8_t)f->id : 0;
}

static void read_finish(struct km_task *t, const struct km_match *m,
			const struct km_condition *k)
{
	struct km_caution_tool c = km_task_caution_tool(m);

	t->start.finish = finish_id(c.body);
	t->start.faces = finish_id(c.faces);
	t->plated_unknown = c.plated_unknown;
	t->cadmium = c.plated_unknown ||
		     (c.body && km_finish_is_cadmium(c.body)) ||
		     (c.faces && km_finish_is_cadmium(c.faces));
	t->old_paint = c.old_paint;
	if (t->old_paint && (!k || k->lead_paint != 0))
		t->guards |= KM_GUARD_LEAD_UNTESTED;
}

struct km_caution_tool km_task_caution_tool(const struct km_match *m)
{
	const struct km_traits *traits = traits_of(m);
	const struct km_condition *k = condition_of(m);
	const union km_value *v = km_trait(traits, KM_A_FINISH);
	const union km_value *h = km_trait(traits, KM_A_HANDLE_MATERIAL);
	struct km_caution_tool c = { .handle = h ? h->material : NULL };
	bool unread = traits->unread & ((uint32_t)1 << KM_A_FINISH);
	bool none = traits->none & ((uint32_t)1 << KM_A_FINISH);
	bool plated = k && (k->plate_left >= 0 || k->n_plate_fault);

	c.body = v ? v->finish.body : NULL;
	c.faces = v ? v->finish.faces : NULL;
	c.plated_unknown = !none &&
		(unread || (v && c.body && c.body->id == KM_FINISH_UNLISTED) ||
		 (c.faces && c.faces->id == KM_FINISH_UNLISTED) ||
		 (!c.body && plated));
	c.old_paint = (c.body && c.body->id == KM_FINISH_PAINT) ||
		      (c.faces && c.faces->id == KM_FINISH_PAINT) ||
		      (k && (k->paint_left > 0 || k->lead_paint > 0));
	return c;
}

/* ------------------------------------------------------------------ */
/* Shape and handle                                                    */

static void read_damage(struct km_task *t, const struct km_match *m,
			const struct km_condition *k)
{
	static const uint64_t words[KM_DMG_WHATS] = {
		[KM_DMG_BENT_SOFT] = KM_S(BENT_SOFT),
		[KM_DMG_BENT_HARD] = KM_S(BENT_HARD),
		[KM_DMG_ROUNDED] = KM_S(ROUNDED),
		[KM_DMG_MUSHROOMED] = KM_S(MUSHROOMED),
		[KM_DMG_CHIPPED_SMALL] = KM_S(CHIPPED_SMALL),
	};
	uint32_t bits = m->damage;

	for (uint32_t i = 0; k && i < k->n_damage; i++)
		bits |= (uint32_t)1 << k->damage[i].what;
	for (int i = 0; i < KM_DMG_WHATS; i++)
		if (bits & (uint32_t)1 << i)
			t->start.words |= words[i];
	if (bits & (uint32_t)1 << KM_DMG_CRACKED)
		t->guards |= KM_GUARD_CRACKED;
	if (bits & (uint32_t)1 << KM_DMG_SPREAD)
		t->guards |= KM_GUARD_SPREAD;
	if (k && k->soldered)
		t->guards |= KM_GUARD_SOLDERED;
	if (wants_work(t, m, KM_ASP_DAMAGE, KM_F_DAMAGE_CURABLE))
		t->must_go |= KM_S_SHAPE;
}

static bool has_handle(const struct km_match *m, const struct km_material *have,
		       const struct km_condition *k)
{
	if (have)
		return have->id != KM_MATERIAL_STEEL;
	return (k && k->handle > KM_HANDLE_UNRECORDED) ||
	       km_trait(traits_of(m), KM_A_HANDLE_COLOUR) ||
	       wanted(m, KM_A_HANDLE_MATERIAL) ||
	       wanted(m, KM_A_HANDLE_COLOUR);
}

/* A material that no guard names is held to those of all plastics and wood;
 * only celluloid is not taken for granted. */
static uint64_t material_guards(const struct km_material *have)
{
	uint64_t all = 0, one = have ? km_material_guard(have) : 0;

	if (one)
		return one;
	for (int i = 1; i < KM_MATERIAL_COUNT; i++)
		if (i != KM_MATERIAL_NITRATE_HANDLE)
			all |= km_material_guard(&km_materials[i - 1]);
	return all;
}

static bool is_mouldable(enum km_material_id id)
{
	return id == KM_MATERIAL_MOULDED_SLEEVE || id == KM_MATERIAL_RUBBER ||
	       id == KM_MATERIAL_ACETATE_HANDLE ||
	       id == KM_MATERIAL_PHENOLIC_HANDLE;
}

/* Which of dipping and moulding gives the handle that is wanted. */
static void read_new_handle(struct km_task *t, const struct km_match *m,
			    const struct km_material *have)
{
	const struct km_want *w = wanted(m, KM_A_HANDLE_MATERIAL);
	enum km_material_id is = have ? have->id : KM_MATERIAL_UNLISTED;

	for (uint32_t i = 0; w && i < w->n; i++) {
		t->dip |= w->any[i].material->id == KM_MATERIAL_VINYL_DIP;
		t->mould |= is_mouldable(w->any[i].material->id);
	}
	if (!w) {
		t->dip = is == KM_MATERIAL_VINYL_DIP || !have;
		t->mould = is_mouldable(is) || !have;
	}
	t->vinyl = is == KM_MATERIAL_VINYL_DIP;
}

static void read_handle(struct km_task *t, const struct km_match *m,
			const struct km_condition *k)
{
	static const uint64_t words[] = {
		[KM_HANDLE_FADED] = KM_S(HANDLE_FADED),
		[KM_HANDLE_WRONG_COLOUR] = KM_S(HANDLE_WRONG_COLOUR),
		[KM_HANDLE_SPLIT] = KM_S(HANDLE_SPLIT),
		[KM_HANDLE_LOOSE] = KM_S(HANDLE_LOOSE),
		[KM_HANDLE_STICKY] = KM_S(HANDLE_STICKY),
		[KM_HANDLE_MISSING] = KM_S(HANDLE_MISSING),
	};
	const union km_value *v = km_trait(traits_of(m), KM_A_HANDLE_MATERIAL);
	const struct km_material *have = v ? v->material : NULL;
	bool wood = !have || have->id == KM_MATERIAL_WOOD_HANDLE;

	if (!has_handle(m, have, k))
		return;
	if (!k || k->handle != KM_HANDLE_MISSING)
		t->handle = material_guards(have);
	t->start.words |= k ? words[k->handle] : 0;
	if (!(t->start.words & KM_S(HANDLE_MISSING)))
		t->start.words |= KM_S(HANDLE_ON);
	read_new_handle(t, m, have);
	if (m->on[KM_ASP_HANDLE_COLOUR].letter == KM_FAILS ||
	    m->on[KM_ASP_HANDLE_MATERIAL].letter == KM_FAILS) {
		t->start.words |= KM_S(HANDLE_WRONG_COLOUR);
		t->must_go |= KM_S(HANDLE_WRONG_COLOUR);
	}
	if (!wants_work(t, m, KM_ASP_DAMAGE, KM_F_DAMAGE_CURABLE))
		return;
	t->must_go |= t->for_use ? KM_S(HANDLE_LOOSE) : KM_S_HANDLE_FAULTS;
	if (wood)
		t->must_go |= KM_S(HANDLE_SPLIT);
}

/* ------------------------------------------------------------------ */
/* The mark, hardness, what fails for good                             */

static void read_mark(struct km_task *t, const struct km_match *m,
		      const struct km_condition *k)
{
	static const int8_t levels[] = {
		[KM_MARKING_UNRECORDED] = 2, [KM_MARKING_CRISP] = 3,
		[KM_MARKING_LEGIBLE] = 2, [KM_MARKING_FAINT] = 1,
		[KM_MARKING_GONE] = 0
	};
	const struct km_traits *traits = traits_of(m);
	uint32_t bit = (uint32_t)1 << KM_A_MARK;
	bool photo = m->tool && m->tool->more && m->tool->more->n_photos;
	int64_t depth = k ? k->mark_depth_nm : -1;

	t->start.marking = (int16_t)(KM_MARK_LEVEL *
		levels[k ? k->marking : KM_MARKING_UNRECORDED]);
	t->has_mark = !(traits->none & bit) && t->start.marking > 0 &&
		((traits->has | traits->unread) & bit ||
		 wanted(m, KM_A_MARK) ||
		 (k && k->marking != KM_MARKING_UNRECORDED));
	if (!t->has_mark || !(t->start.words & KM_S_PITS))
		return;
	if (depth < 0 && !photo)
		t->bar = KM_MARK_DEPTH_UNKNOWN;
	else if (depth >= 0 && t->pit_nm >= depth)
		t->bar = KM_MARK_SHALLOW;
}

static bool fails_for_good(const struct km_match *m)
{
	for (int i = 0; i < KM_ASPECTS; i++) {
		enum km_aspect a = (enum km_aspect)i;

		if (m->on[i].letter == KM_FAILS && a != KM_ASP_FINISH &&
		    a != KM_ASP_HANDLE_COLOUR && a != KM_ASP_HANDLE_MATERIAL)
			return true;
	}
	return false;
}

struct km_hardness km_task_hardness(const struct km_match *m)
{
	const union km_value *kind = km_trait(traits_of(m), KM_A_TOOL);
	const char *tested = m->tool && m->tool->more ?
			     m->tool->more->hardness : NULL;

	return km_hardness_of(tested, kind ? kind->kind : NULL);
}

void km_task_init(struct km_task *t, const struct km_match *m,
		  const struct km_rules *rules, const struct km_costs *costs,
		  const struct km_work_choices *choices)
{
	const struct km_condition *k = condition_of(m);

	*t = (struct km_task){ .costs = costs };
	t->choices = choices ? *choices : km_work_choices_default;
	t->for_use = rules->standard == KM_USABLE;
	t->recommend = rules->standard != KM_AS_FOUND;
	t->hopeless = fails_for_good(m);
	t->hardness = km_task_hardness(m);
	read_finish(t, m, k);
	read_rust(t, k, rules);
	read_pits(t, k, m);
	read_coat(t, m, k);
	read_wanted_finish(t, m, rules->standard);
	read_damage(t, m, k);
	read_handle(t, m, k);
	read_mark(t, m, k);
	if (t->for_use)
		t->must_go |= KM_S(GLUED_DISPLAY) | KM_S(STRAIGHT_DISPLAY);
}
