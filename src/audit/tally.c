/* SPDX-License-Identifier: MIT */
#include "audit/tally.h"

#include "audit/allocate.h"

enum km_slot_class km_slot_class(const struct km_slot_audit *s)
{
	if (s->slot->unused)
		return KM_SLOT_UNUSED;
	if (!s->slot->durable)
		return KM_SLOT_CONSUMABLE;
	return s->firm ? KM_SLOT_FIRM : KM_SLOT_DOUBTFUL;
}

static bool held(const struct km_piece *p)
{
	return p->match && !p->expected;
}

void km_slot_verdict(struct km_slot_audit *s)
{
	int32_t filled = 0, coming = 0;

	s->worst = NULL;
	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		coming += s->pieces[i].expected;
		if (!held(&s->pieces[i]))
			continue;
		filled++;
		if (!s->worst || m->verdict > s->worst->verdict)
			s->worst = m;
	}
	if (filled == s->slot->count)
		s->verdict = s->worst->verdict;
	else if (filled)
		s->verdict = KM_SHORT;
	else
		s->verdict = coming ? KM_EXPECTED : KM_GAP;
}

bool km_slot_on_paper(const struct km_slot_audit *s)
{
	return s->verdict == KM_RIGHT;
}

static bool any_status(const struct km_slot_audit *s, enum km_tool_status st)
{
	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		if (m && m->tool && m->tool->status == st)
			return true;
	}
	return false;
}

static void tally_firm(struct km_counts *c, const struct km_slot_audit *s)
{
	bool paper = km_slot_on_paper(s);
	bool lent = any_status(s, KM_LENT);
	bool away = any_status(s, KM_AT_PLATER);

	c->firm++;
	c->verdict[s->verdict]++;
	c->on_paper += paper && !away;
	c->lent += paper && lent;
	c->today += s->there;
	c->after_work += paper || s->verdict == KM_AFTER_WORK;
	c->expected += s->verdict == KM_EXPECTED;
}

void km_kit_tally(struct km_kit_audit *k)
{
	struct km_counts c = { 0 };

	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		struct km_slot_audit *s = &k->slots[i];

		s->there = km_slot_on_paper(s) && !any_status(s, KM_LENT) &&
			   !any_status(s, KM_AT_PLATER);
		switch (km_slot_class(s)) {
		case KM_SLOT_FIRM:
			tally_firm(&c, s);
			c.exists[s->slot->exists]++;
			break;
		case KM_SLOT_DOUBTFUL:
			c.doubtful++;
			c.doubtful_on_paper += km_slot_on_paper(s);
			c.exists[s->slot->exists]++;
			break;
		case KM_SLOT_CONSUMABLE:
			c.consumables++;
			c.consumables_there += km_slot_on_paper(s);
			break;
		case KM_SLOT_UNUSED:
			break;
		}
		for (int32_t j = 0; j < s->slot->count; j++) {
			const struct km_match *m = s->pieces[j].match;

			c.condition_unrecorded +=
				held(&s->pieces[j]) && m->tool &&
				!m->tool->condition;
		}
	}
	c.durable = c.firm + c.doubtful;
	c.durable_on_paper = c.on_paper + c.doubtful_on_paper;
	k->counts = c;
	k->meets = c.firm > 0 && c.today == c.firm;
}
