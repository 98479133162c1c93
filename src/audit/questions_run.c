/* SPDX-License-Identifier: MIT */
/*
 * One answer put into the load, audited, compared, and taken out again.
 */
#include "audit/questions.h"

#include "audit/again.h"

#include <stdbool.h>

/* What an answer changes, and how it was. */
struct change {
	struct km_slot *slot, slot_was;
	struct km_tool *tool, tool_was;
	struct km_machine *machine, machine_was;
};

/* ------------------------------------------------------------------ */
/* In and out                                                          */

static struct km_slot *slot_in(struct km_load *l, const struct km_slot *s)
{
	for (uint32_t i = 0; i < l->n_kits; i++)
		if (l->kits[i] == s->kit)
			return &l->kits[i]->slots[s->index];
	return NULL;
}

static struct km_tool *tool_in(struct km_load *l, const struct km_tool *t)
{
	for (size_t i = 0; i < l->bench.n; i += KM_TOOL_BLOCK) {
		struct km_tool *v = l->bench.block[i / KM_TOOL_BLOCK];

		if (t >= v && t < v + KM_TOOL_BLOCK)
			return v + (t - v);
	}
	return NULL;
}

static struct km_machine *machine_in(struct km_load *l,
				     const struct km_machine *m)
{
	for (uint32_t i = 0; i < l->n_machines; i++)
		if (&l->machines[i] == m)
			return &l->machines[i];
	return NULL;
}

static void set_exists(struct km_slot *s)
{
	s->exists = KM_CERTAIN;
	for (int a = 0; a < KM_ATTRS; a++)
		if (!s->want[a].own_certainty)
			s->want[a].certainty = KM_CERTAIN;
}

/* What is claimed is that alone, and it is certain. */
static void set_claim(struct km_want *w, const struct km_answer *one)
{
	struct km_want now = { .certainty = KM_CERTAIN, .own_certainty = true,
			       .where = w->where, .at = w->at,
			       .assumed = w->assumed };

	now.any = one->values;
	now.n = one->n_values;
	now.or_none = one->none;
	if (one->what == KM_IF_SET_ASIDE)
		now.state = KM_WANT_UNKNOWN;
	else
		now.state = one->n_values ? KM_WANT_ANY_OF : KM_WANT_NONE;
	*w = now;
}

static bool set_trait(struct km_arena *mem, struct km_traits *t,
		      const struct km_answer *one)
{
	uint32_t bit = (uint32_t)1 << one->attr, has;
	union km_value *v;
	size_t n = 0;

	has = one->none ? t->has & ~bit : t->has | bit;
	v = km_arena_alloc(mem, (size_t)__builtin_popcount(has) + 1, sizeof *v);
	if (!v)
		return false;
	for (uint32_t left = has; left; left &= left - 1) {
		enum km_attr a = (enum km_attr)__builtin_ctz(left);

		v[n++] = a == one->attr ? one->values[0] : *km_trait(t, a);
	}
	t->has = has;
	t->none = one->none ? t->none | bit : t->none & ~bit;
	t->unread &= ~bit;
	t->v = v;
	return true;
}

static enum km_status put_in(struct km_asker *q, const struct km_question *about,
			     const struct km_answer *one, struct change *c)
{
	if (one->what == KM_IF_KIT) {
		c->machine = machine_in(q->load, about->kit->machine);
		if (!c->machine)
			return KM_EINPUT;
		c->machine_was = *c->machine;
		c->machine->kit = one->kit;
		c->machine->kit_id = one->kit->id;
		return KM_OK;
	}
	if (about->what == KM_ASK_TOOL) {
		c->tool = tool_in(q->load, about->tool);
		if (!c->tool)
			return KM_EINPUT;
		c->tool_was = *c->tool;
		return set_trait(q->mem, &c->tool->traits, one) ? KM_OK
								: KM_ENOMEM;
	}
	c->slot = slot_in(q->load, about->slot);
	if (!c->slot)
		return KM_EINPUT;
	c->slot_was = *c->slot;
	if (one->what == KM_IF_THERE)
		set_exists(c->slot);
	else if (one->what == KM_IF_NOT_THERE)
		c->slot->unused = true;
	else
		set_claim(&c->slot->want[about->attr], one);
	return KM_OK;
}

static void take_out(const struct change *c)
{
	if (c->slot)
		*c->slot = c->slot_was;
	if (c->tool)
		*c->tool = c->tool_was;
	if (c->machine)
		*c->machine = c->machine_was;
}

/* ------------------------------------------------------------------ */
/* What it comes to                                                    */

struct km_figures km_figures_of(const struct km_audit *a)
{
	struct km_figures f = { 0 };

	for (uint32_t k = 0; k < a->n_kits; k++) {
		const struct km_kit_audit *kit = &a->kits[k];

		f.firm += kit->counts.firm;
		f.on_paper += kit->counts.on_paper;
		f.after_work += kit->counts.after_work;
		if (!kit->rubric.given)
			continue;
		f.points_now += kit->rubric.lost;
		f.points_after += kit->rubric.after_plan;
	}
	if (a->plan) {
		f.money = a->plan->total.likely;
		f.left_open = a->plan->short_firm;
	}
	return f;
}

/* One audit against another; gone: the slot that the latter has not got. */
struct turns {
	const struct km_slot *gone;
	struct km_turn *v;		/* NULL: only count them */
	uint32_t n;
};

static const struct km_standing no_slot = { .out = true };

static struct km_standing standing(const struct km_slot_audit *s,
				   const struct km_slot *gone)
{
	return (struct km_standing){ s->verdict, s->firm,
				     s->slot->unused || s->slot == gone };
}

bool km_standing_same(struct km_standing a, struct km_standing b)
{
	return a.out == b.out &&
	       (a.out || (a.verdict == b.verdict && a.firm == b.firm));
}

static void compare(struct turns *t, const struct km_slot *slot,
		    struct km_standing was, struct km_standing is)
{
	if (km_standing_same(was, is))
		return;
	if (t->v)
		t->v[t->n] = (struct km_turn){ slot, was, is };
	t->n++;
}

static const struct km_kit_reading *reading_of(const struct km_kit_audit *k,
					       const struct km_kit *kit)
{
	for (uint32_t i = 0; i < k->n_readings; i++)
		if (k->readings[i].kit == kit)
			return &k->readings[i];
	return NULL;
}

/* The slot of another reading's kit that is slot i of the kit audited. */
static const struct km_slot_audit *same_slot(const struct km_kit_audit *other,
					     const struct km_kit_reading *r,
					     uint32_t i)
{
	for (uint32_t k = 0; k < r->kit->n_slots; k++)
		if (r->same_as[k] == i)
			return &other->slots[k];
	return NULL;
}

/* A slot that only another reading of the machine has is in doubt. */
static struct km_standing alone(const struct km_kit_reading *r, uint32_t i)
{
	return (struct km_standing){ .verdict = r->slots[i].verdict };
}

static bool is_alone(const struct km_kit_reading *r, uint32_t i)
{
	return r->same_as[i] == UINT32_MAX && !r->kit->slots[i].unused;
}

/* The slots that only reading r has, where the kit that the answer leaves is
 * another: they are gone, unless the machine is still undecided. */
static void compare_alone(struct turns *t, const struct km_kit_reading *r,
			  const struct km_kit_audit *is)
{
	const struct km_kit_reading *now = reading_of(is, r->kit);

	for (uint32_t i = 0; i < r->kit->n_slots; i++) {
		if (!is_alone(r, i))
			continue;
		if (is->n_readings < 2)
			compare(t, &r->kit->slots[i], alone(r, i), no_slot);
		else if (now && is_alone(now, i))
			compare(t, &r->kit->slots[i], alone(r, i),
				alone(now, i));
	}
}

/* A kit against itself, or against the one that the answer puts in its
 * place. */
static void compare_kits(struct turns *t, const struct km_kit_audit *was,
			 const struct km_kit_audit *is)
{
	const struct km_kit_reading *other = NULL;

	if (was->kit != is->kit)
		other = reading_of(was, is->kit);
	for (uint32_t i = 0; i < was->kit->n_slots; i++) {
		const struct km_slot_audit *s = &was->slots[i];
		const struct km_slot_audit *now = &is->slots[i];

		if (was->kit != is->kit)
			now = other ? same_slot(is, other, i) : NULL;
		compare(t, now ? now->slot : s->slot, standing(s, NULL),
			now ? standing(now, t->gone) : no_slot);
	}
	for (uint32_t i = 0; other && i < is->kit->n_slots; i++)
		if (is_alone(other, i))
			compare(t, is->slots[i].slot, alone(other, i),
				standing(&is->slots[i], t->gone));
	for (uint32_t i = 0; i < was->n_readings; i++)
		if (was->readings[i].kit != was->kit &&
		    &was->readings[i] != other)
			compare_alone(t, &was->readings[i], is);
}

/* The kit of an audit that stands in the place of k: the same one, or that of
 * its machine. */
static const struct km_kit_audit *stands_for(const struct km_audit *a,
					     const struct km_kit_audit *k)
{
	for (uint32_t i = 0; i < a->n_kits; i++)
		if (a->kits[i].kit == k->kit &&
		    a->kits[i].machine == k->machine)
			return &a->kits[i];
	for (uint32_t i = 0; k->machine && i < a->n_kits; i++)
		if (a->kits[i].machine == k->machine)
			return &a->kits[i];
	return NULL;
}

static void list_turns(struct turns *t, const struct km_audit *was,
		       const struct km_audit *is)
{
	t->n = 0;
	for (uint32_t k = 0; k < was->n_kits; k++) {
		const struct km_kit_audit *now = stands_for(is, &was->kits[k]);

		if (now)
			compare_kits(t, &was->kits[k], now);
	}
}

/* ------------------------------------------------------------------ */

/* Only what the figures need is made. */
static struct km_options options_of(const struct km_audit *base)
{
	struct km_options o = base->options;

	o.candidates = 1;
	o.want_frontier = o.want_ceilings = o.want_problem = false;
	o.want_fates = o.want_pouch = o.want_jobs = false;
	o.want_surplus = o.want_worth = false;
	o.want_margins = o.want_evidence = false;
	return o;
}

static enum km_status keep(struct km_asker *q, const struct km_audit *is,
			   const struct km_question *about,
			   struct km_answer *one)
{
	struct turns t = { 0 };

	if (one->what == KM_IF_NOT_THERE)
		t.gone = about->slot;
	one->figures = km_figures_of(is);
	list_turns(&t, q->base, is);
	t.v = km_arena_alloc(q->mem, t.n, sizeof *t.v);
	if (!t.v)
		return KM_ENOMEM;
	list_turns(&t, q->base, is);
	one->turns = t.v;
	one->n_turns = t.n;
	return KM_OK;
}

enum km_status km_answer_run(struct km_asker *q, const struct km_question *about,
			     struct km_answer *one)
{
	struct km_options o = options_of(q->base);
	struct km_audit *is = NULL;
	struct change c = { 0 };
	struct km_diags *d = km_diags_new(&q->load->limits);
	enum km_status st = d ? put_in(q, about, one, &c) : KM_ENOMEM;

	if (st == KM_OK)
		st = km_audit_again(q->load, &o, q->base,
				    c.slot ? c.slot->kit : NULL, d, &is);
	take_out(&c);
	if (st == KM_OK)
		st = keep(q, is, about, one);
	km_audit_free(is);
	km_diags_free(d);
	return st;
}
