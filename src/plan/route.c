/* SPDX-License-Identifier: MIT */
#include "plan/route.h"

#include <string.h>

#include "base/buf.h"
#include "plan/search.h"

/* ------------------------------------------------------------------ */
/* What the ends are worth                                             */

#define LEFTOVERS (KM_S_RUSTS | KM_S_PITS | KM_S_SHAPE | KM_S_HANDLE_FAULTS | \
		   KM_S_WORN | KM_S(SHOW_THROUGH) | KM_S(HYDROGEN) | \
		   KM_S(STRAIGHT_DISPLAY) | KM_S(GLUED_DISPLAY) | \
		   KM_S(BENT_HARD))

struct end {
	const struct km_label *l;
	uint64_t left;		/* leftovers; grades count as all below */
	bool meets, reaches;
	uint8_t risk;
};

/* Grades as the bits of all up to them, so that less is a subset. */
static uint64_t left_of(const struct km_search *s, const struct km_state *state)
{
	uint64_t w = state->words & LEFTOVERS, rust = w & KM_S_RUSTS;

	while (rust) {
		w |= rust;
		rust = (rust >> 1) & KM_S_RUSTS;
	}
	if (w & KM_S(PITS_GENERAL))
		w |= KM_S(PITS_FEW);
	if (!(s->t.finish_ok & KM_BIT(state->finish)))
		w |= KM_S(WORN_PLATE);
	return w;
}

static bool no_worse(const struct end *a, const struct end *b)
{
	return a->meets >= b->meets && !(a->left & ~b->left) &&
	       a->risk <= b->risk && a->l->cost.likely <= b->l->cost.likely;
}

static int by_steps(const struct km_search *s, const struct km_label *a,
		    const struct km_label *b)
{
	if (a->n != b->n)
		return a->n < b->n ? -1 : 1;
	while (a != b && a->from != KM_NO_LABEL) {
		if (a->process != b->process)
			return a->process < b->process ? -1 : 1;
		a = &s->v[a->from];
		b = &s->v[b->from];
	}
	return 0;
}

static bool end_first(const struct km_search *s, const struct end *a,
		      const struct end *b)
{
	if (a->reaches != b->reaches)
		return a->reaches;
	if (a->meets != b->meets)
		return a->meets;
	if (a->meets && a->risk != b->risk)
		return a->risk < b->risk;
	if (a->l->cost.likely != b->l->cost.likely)
		return a->l->cost.likely < b->l->cost.likely;
	if (a->l->hands[1] != b->l->hands[1])
		return a->l->hands[1] < b->l->hands[1];
	return by_steps(s, a->l, b->l) < 0;
}

static bool end_beats(const struct km_search *s, const struct end *a,
		      const struct end *b)
{
	return no_worse(a, b) && !(no_worse(b, a) && end_first(s, b, a));
}

/* Leftovers that stand for worse ones. */
#define IN_PLACE (KM_S(HYDROGEN) | KM_S(SHOW_THROUGH) | \
		  KM_S(STRAIGHT_DISPLAY) | KM_S(GLUED_DISPLAY))

/* Keep the ends that better something and that none beats. */
static uint32_t gather(const struct km_search *s, struct end *ends)
{
	uint64_t at_start = left_of(s, &s->t.start);
	uint32_t n = 0;

	for (uint32_t i = 1; i < s->n; i++) {
		struct end e = { .l = &s->v[i] };
		uint32_t k = 0, kept = 0;

		if (s->v[i].dead || !km_state_closed(&s->t, &s->v[i].s))
			continue;
		e.left = left_of(s, &s->v[i].s);
		e.meets = !s->t.hopeless && km_state_meets(&s->t, &s->v[i].s);
		e.risk = km_state_risk(&s->t, &s->v[i].s);
		if ((e.left & ~at_start & ~IN_PLACE) ||
		    !(at_start & ~e.left))
			continue;
		for (k = 0; k < n && !end_beats(s, &ends[k], &e); k++)
			;
		if (k < n)
			continue;
		for (k = 0; k < n; k++)
			if (!end_beats(s, &e, &ends[k]))
				ends[kept++] = ends[k];
		ends[kept++] = e;
		n = kept;
	}
	return n;
}

static int harm(const struct end *e)
{
	return e->risk + (km_state_display(&e->l->s) ? 4 : 0);
}

/* Of the ends that meet the standard, those at the least risk count; one that
 * is for display only counts if there is no other. */
static void judge(const struct km_search *s, struct end *ends, uint32_t n)
{
	int least = INT32_MAX;

	for (uint32_t i = 0; i < n; i++)
		if (ends[i].meets && harm(&ends[i]) < least)
			least = harm(&ends[i]);
	for (uint32_t i = 0; i < n; i++)
		ends[i].reaches = s->t.recommend && ends[i].meets &&
				  harm(&ends[i]) == least;
	for (uint32_t i = 1; i < n; i++) {
		struct end e = ends[i];
		uint32_t k = i;

		for (; k && end_first(s, &e, &ends[k - 1]); k--)
			ends[k] = ends[k - 1];
		ends[k] = e;
	}
}

/* ------------------------------------------------------------------ */
/* Routes                                                              */

static void say(struct km_buf *b, const char *words)
{
	if (b->len)
		km_buf_str(b, ", ");
	km_buf_str(b, words);
}

static const char *leaves(struct km_arena *mem, const struct km_task *t,
			  const struct km_state *s)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	for (int g = 1; g <= 5; g++)
		if (s->words & KM_S(RUST1) << (g - 1)) {
			say(&b, "rust Ri ");
			km_buf_int(&b, g);
		}
	if (s->words & KM_S(PITS_FEW))
		say(&b, "few pits");
	if (s->words & KM_S(PITS_GENERAL))
		say(&b, "pits all over");
	if (s->words & KM_S(SHOW_THROUGH))
		say(&b, "pits that show through the plating");
	if (s->words & KM_S(FILLED))
		say(&b, "filled pits");
	if (s->words & (KM_S_SHAPE | KM_S(BENT_HARD)))
		say(&b, "damage");
	if (s->words & (KM_S_WORN & ~KM_S(PATCHED)))
		say(&b, "worn plating");
	if (s->words & KM_S(PATCHED))
		say(&b, "patched black");
	if (s->words & KM_S_HANDLE_FAULTS)
		say(&b, "the handle's fault");
	if (s->words & KM_S(NEW_HANDLE))
		say(&b, "a new handle in place of the original");
	if (t->has_mark && s->marking < t->start.marking)
		say(&b, s->marking < KM_MARK_LEVEL ? "the mark gone" :
		    "a fainter mark");
	if (s->words & KM_S(HYDROGEN))
		say(&b, "hydrogen in hard steel: display only");
	else if (km_state_display(s))
		say(&b, "display only");
	if (!b.len || km_buf_failed(&b))
		return NULL;
	return b.text;
}

static enum km_status route_of(const struct km_search *s, struct km_arena *mem,
			       const struct end *e, struct km_route *r)
{
	const struct km_label *l = e->l;
	const struct km_process **steps = km_arena_alloc(mem, l->n,
							 sizeof *steps);

	if (!steps)
		return KM_ENOMEM;
	r->steps = steps;
	r->n_steps = l->n;
	r->cost = l->cost;
	for (int i = 0; i < 3; i++) {
		r->hands_min[i] = l->hands[i];
		r->elapsed_h[i] = (l->elapsed[i] + 99) / 100;
	}
	r->risk = e->risk;
	r->reaches = e->reaches;
	r->leaves = leaves(mem, &s->t, &l->s);
	for (uint32_t i = l->n; i-- > 0; l = &s->v[l->from])
		steps[i] = &km_processes[l->process];
	return KM_OK;
}

static enum km_status write_routes(struct km_search *s, struct km_arena *mem,
				   const struct km_route **routes, uint32_t *n)
{
	struct end *ends = km_arena_raw(s->mem, s->n, sizeof *ends);
	enum km_status st = KM_OK;
	struct km_route *v;
	uint32_t count;

	if (!ends)
		return KM_ENOMEM;
	count = gather(s, ends);
	judge(s, ends, count);
	v = km_arena_alloc(mem, count ? count : 1, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < count && st == KM_OK; i++)
		st = route_of(s, mem, &ends[i], &v[i]);
	if (st == KM_OK) {
		*routes = v;
		*n = count;
	}
	return st;
}

enum km_status km_route_find(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_match *m,
			     const struct km_rules *rules,
			     const struct km_costs *costs,
			     const struct km_work_choices *choices,
			     const struct km_route **routes, uint32_t *n)
{
	struct km_search *s = km_arena_alloc(scratch, 1, sizeof *s);
	enum km_status st = KM_ENOMEM;

	if (!s)
		return st;
	s->mem = scratch;
	km_task_init(&s->t, m, rules, costs, choices);
	if (s->t.hopeless) {
		*routes = NULL;
		*n = 0;
		st = KM_OK;
	} else {
		st = km_search_run(s);
		if (st == KM_OK)
			st = write_routes(s, mem, routes, n);
	}
	km_arena_reset(scratch);
	return st;
}

/* ------------------------------------------------------------------ */

struct km_bake km_route_bake(const struct km_match *m,
			     const struct km_route *r)
{
	struct km_hardness h = km_task_hardness(m);
	bool hydrogen = false;

	for (uint32_t i = 0; i < r->n_steps; i++) {
		enum km_process_id id = r->steps[i]->id;

		hydrogen |= id != KM_PROCESS_BAKE_STRESS &&
			    id != KM_PROCESS_BAKE_RELIEF &&
			    (km_caution_mask(r->steps[i]->cautions) &
			     KM_CAUTION_BIT(C23));
	}
	if (!hydrogen)
		return (struct km_bake){ .is = KM_BAKE_NOT_NEEDED };
	return km_bake_for(&h);
}

uint64_t km_route_cautions(const struct km_match *m, const struct km_route *r)
{
	static const char *const damage[KM_DMG_WHATS] = {
		[KM_DMG_SPREAD] = "spread", [KM_DMG_CRACKED] = "cracked",
		[KM_DMG_BENT_HARD] = "bent_hard",
		[KM_DMG_MUSHROOMED] = "mushroomed",
	};
	struct km_caution_tool t = km_task_caution_tool(m);
	uint64_t set = km_caution_of_tool(&t);

	for (uint32_t i = 0; r && i < r->n_steps; i++)
		set |= km_caution_of_process(r->steps[i], &t);
	for (int i = 0; i < KM_DMG_WHATS; i++)
		if (damage[i] && (m->damage & (uint32_t)1 << i))
			set |= km_caution_of_condition(damage[i]);
	if (m->wrong_size)
		set |= km_caution_of_condition("substitute_size");
	return set;
}
