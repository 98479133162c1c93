/* SPDX-License-Identifier: MIT */
#include "match/aspects.h"

#include <string.h>

#include "base/str.h"
#include "trade/kind.h"
#include "unit/length.h"

void km_case_set(struct km_case *c, enum km_aspect aspect, enum km_attr a,
		 enum km_outcome outcome, enum km_finding finding, int score)
{
	const struct km_want *w = &c->slot->want[a];
	struct km_comparison *on = &c->out->on[aspect];

	on->outcome = outcome;
	on->finding = finding;
	on->letter = km_rules_letter(finding, c->rules->standard);
	on->weak = km_case_wants(c, a) &&
		   km_case_certainty(c, w) >= KM_POSSIBLE;
	on->score = (int16_t)score;
}

bool km_case_settle(struct km_case *c, enum km_aspect aspect, enum km_attr a,
		    const struct km_findings *f)
{
	const struct km_want *w = &c->slot->want[a];
	enum km_have have = km_case_have(c, a);
	bool none = w->state == KM_WANT_NONE;

	if (!km_case_wants(c, a))
		return true;
	if (have == KM_HAVE_VALUE && !none)
		return false;
	if (have == KM_HAVE_NOTHING || have == KM_HAVE_UNREAD)
		km_case_set(c, aspect, a, KM_NOT_RECORDED, f->unrecorded,
			    KM_SCORE_UNRECORDED);
	else if (have == KM_HAVE_NONE && (none || w->or_none))
		km_case_set(c, aspect, a, KM_AGREES, f->same, KM_SCORE_AGREES);
	else
		km_case_set(c, aspect, a, KM_DIFFERS, f->other, 0);
	return true;
}

int km_score_within(int64_t used, int64_t allowed)
{
	return (int)((KM_SCORE_AGREES * allowed - KM_SCORE_TOLERANCE * used) /
		     allowed);
}

/* ------------------------------------------------------------------ */
/* Candidates                                                          */

static bool wants_kind(const struct km_case *c, const struct km_kind *kind)
{
	const struct km_want *w = &c->slot->want[KM_A_TOOL];

	for (uint32_t i = 0; w->state == KM_WANT_ANY_OF && i < w->n; i++)
		if (w->any[i].kind == kind)
			return true;
	return false;
}

static bool drives_meet(const struct km_drive *const *a, uint32_t n,
			const struct km_drive *const *b, uint32_t m)
{
	for (uint32_t i = 0; i < n; i++)
		for (uint32_t k = 0; k < m; k++)
			if (a[i] == b[k])
				return true;
	return false;
}

/* One fastener form in common; who says none has the one of the kind, and a
 * kind that is not listed has none to disagree with. */
static bool same_drive(const struct km_case *c, const struct km_kind *kind)
{
	const struct km_drive *usual = kind->drive;
	const struct km_drive *const no = &km_drives[KM_DRIVE_NONE];
	const struct km_want *w = &c->slot->want[KM_A_DRIVE];
	const union km_value *v = km_trait(c->thing->traits, KM_A_DRIVE);
	const struct km_drive *const *have = v ? v->drives.v : &usual;
	uint32_t n = v ? v->drives.n : 1;

	if (!v && km_case_have(c, KM_A_DRIVE) == KM_HAVE_NONE)
		have = &no;
	if (!n || !have[0])
		return true;
	if (!km_case_wants(c, KM_A_DRIVE))
		return !usual || drives_meet(have, n, &usual, 1);
	if (w->state == KM_WANT_NONE)
		return drives_meet(have, n, &no, 1);
	for (uint32_t i = 0; i < w->n; i++)
		if (drives_meet(have, n, w->any[i].drives.v, w->any[i].drives.n))
			return true;
	return false;
}

bool km_compare_is_sized(const struct km_case *c, const struct km_kind *kind)
{
	return (kind->sized || !km_kind_listed(kind)) &&
	       km_case_wants(c, KM_A_SIZES);
}

/* Fills the sizes on the way, since they decide. */
static bool is_candidate(struct km_case *c, const struct km_kind *kind)
{
	bool fits = km_compare_ends(c);

	return km_compare_is_sized(c, kind) ? fits : km_compare_length_near(c);
}

const struct km_kind *km_compare_kind(const struct km_case *c)
{
	const union km_value *v = km_trait(c->thing->traits, KM_A_TOOL);

	return v && wants_kind(c, v->kind) && same_drive(c, v->kind) ? v->kind
								     : NULL;
}

static uint32_t wants_of(const struct km_slot *slot)
{
	uint32_t wants = 0;

	for (int a = 0; a < KM_ATTRS; a++) {
		const struct km_want *w = &slot->want[a];

		if (w->own_certainty && w->certainty == KM_UNKNOWN)
			continue;
		if (w->state == KM_WANT_NONE ||
		    (w->state == KM_WANT_ANY_OF && w->n))
			wants |= (uint32_t)1 << a;
	}
	return wants;
}

void km_target_init(struct km_target *t, const struct km_rules *rules,
		    const struct km_slot *slot)
{
	*t = (struct km_target){ .rules = rules, .slot = slot,
				 .wants = wants_of(slot) };
	km_target_length(t);
}

static void start(const struct km_case *c)
{
	struct km_match *m = c->out;

	memset(m, 0, sizeof *m);
	m->slot = c->slot;
	m->tool = c->thing->tool;
	m->offer = c->thing->offer;
	m->came_with = c->thing->came_with;
}

void km_compare_renewed(struct km_match *m)
{
	static const enum km_aspect surface[] = {
		KM_ASP_FINISH, KM_ASP_RUST, KM_ASP_PITS, KM_ASP_PLATE,
	};

	for (size_t i = 0; i < sizeof surface / sizeof *surface; i++)
		if (m->on[surface[i]].letter == KM_FAILS)
			m->on[surface[i]].letter = KM_CURABLE;
}

/* All but ends, lengths and marks. */
static void compare_rest(struct km_case *c)
{
	km_compare_looks(c);
	km_compare_condition(c);
	km_compare_changes(c);
	if (c->thing->at_plater)
		km_compare_renewed(c->out);
	km_score(c->out);
}

bool km_compare_is_candidate(const struct km_rules *rules,
			     const struct km_slot *slot,
			     const struct km_thing *thing)
{
	struct km_match m;
	struct km_case c = { .rules = rules, .slot = slot, .thing = thing,
			     .out = &m, .wants = wants_of(slot) };
	const struct km_kind *kind = km_compare_kind(&c);

	if (!kind)
		return false;
	start(&c);
	return is_candidate(&c, kind);
}

void km_compare(const struct km_rules *rules, const struct km_slot *slot,
		const struct km_thing *thing, struct km_match *out)
{
	struct km_case c = { .rules = rules, .slot = slot, .thing = thing,
			     .out = out, .wants = wants_of(slot) };

	start(&c);
	if (!km_compare_kind(&c))
		out->on[KM_ASP_KIND] = (struct km_comparison){
			.outcome = KM_DIFFERS, .finding = KM_F_KIND_OTHER,
			.letter = km_rules_letter(KM_F_KIND_OTHER,
						  rules->standard) };
	km_compare_ends(&c);
	km_compare_dims(&c);
	km_compare_marks(&c);
	compare_rest(&c);
}

int km_match_order(const struct km_match *a, const struct km_match *b)
{
	if (a->verdict != b->verdict)
		return a->verdict < b->verdict ? -1 : 1;
	if (a->score != b->score)
		return a->score > b->score ? -1 : 1;
	if (a->came_with != b->came_with)
		return a->came_with ? -1 : 1;
	if (!a->tool != !b->tool)
		return a->tool ? -1 : 1;
	return km_natural_compare(a->tool ? a->tool->id : a->offer->id,
				  b->tool ? b->tool->id : b->offer->id);
}
