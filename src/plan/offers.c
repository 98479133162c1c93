/* SPDX-License-Identifier: MIT */
/*
 * offers - what is for sale, held against a slot.
 */
#include "plan/ways.h"

#include <string.h>

#include "base/str.h"
#include "match/part.h"

#define BIT(a) ((uint32_t)1 << (a))

/* Is it "kit/slot" of this slot? */
static bool is_this_slot(const char *fits, const struct km_slot *slot)
{
	const char *slash = strchr(fits, '/');
	size_t n;

	if (!slash)
		return !km_case_compare(fits, slot->id);
	n = (size_t)(slash - fits);
	return !km_case_compare(slash + 1, slot->id) && slot->kit &&
	       slot->kit->id && strlen(slot->kit->id) == n &&
	       !km_fold_compare((struct km_slice){ fits, n },
				(struct km_slice){ slot->kit->id, n });
}

static bool is_asked(const struct km_want *w)
{
	return !(w->own_certainty && w->certainty == KM_UNKNOWN);
}

/* What the offer states, and for the rest what the slot wants. */
static struct km_traits *inherit(struct km_arena *mem,
				 const struct km_slot *slot,
				 const struct km_offer *o, uint32_t changes)
{
	struct km_traits *t = km_arena_copy(mem, &o->traits, 1, sizeof *t);
	union km_value *v = km_arena_alloc(mem, KM_ATTRS, sizeof *v);
	uint32_t known = o->traits.has | o->traits.none | o->traits.unread;
	uint32_t n = 0;

	if (!t || !v)
		return NULL;
	if (o->state == KM_OFFER_REPRODUCTION)
		known |= BIT(KM_A_MADE);
	for (int i = 0; i < KM_ATTRS; i++) {
		enum km_attr a = (enum km_attr)i;
		const struct km_want *w = &slot->want[a];
		const union km_value *own = km_trait(&o->traits, a);

		if (own) {
			v[n++] = *own;
		} else if ((known | changes) & BIT(a) || !is_asked(w)) {
			continue;
		} else if (w->state == KM_WANT_NONE) {
			t->none |= BIT(a);
		} else if (w->state == KM_WANT_ANY_OF && w->n) {
			t->has |= BIT(a);
			v[n++] = w->any[0];
		}
	}
	t->v = v;
	return t;
}

/* Does an offer without a kind belong to the slot, and what did change? */
static bool names_the_slot(const struct km_rules *rules,
			   const struct km_slot *slot,
			   const struct km_offer *o, uint32_t *changes)
{
	const union km_value *part = km_trait(&o->traits, KM_A_PART);

	*changes = 0;
	if (part && km_part_follows(rules, slot, part->text, changes))
		return true;
	return o->fits && is_this_slot(o->fits, slot);
}

enum km_status km_offer_match(struct km_arena *mem,
			      const struct km_rules *rules,
			      const struct km_slot *slot,
			      const struct km_offer *o, struct km_match **out)
{
	struct km_thing thing = {
		.traits = &o->traits, .condition = o->condition, .offer = o,
		.unused = o->state == KM_OFFER_NEW ||
			  o->state == KM_OFFER_NOS ||
			  o->state == KM_OFFER_REPRODUCTION,
	};
	const struct km_traits *own = NULL;
	struct km_match m, *kept;
	uint32_t changes;

	*out = NULL;
	if (o->fits && !is_this_slot(o->fits, slot))
		return KM_OK;
	if (!km_trait(&o->traits, KM_A_TOOL)) {
		if (!names_the_slot(rules, slot, o, &changes))
			return KM_OK;
		own = inherit(mem, slot, o, changes);
		if (!own)
			return KM_ENOMEM;
		thing.traits = own;
	} else if (!km_compare_is_candidate(rules, slot, &thing)) {
		return KM_OK;
	}
	km_compare(rules, slot, &thing, &m);
	kept = km_arena_copy(mem, &m, 1, sizeof m);
	if (!kept)
		return KM_ENOMEM;
	kept->traits = own;
	*out = kept;
	return KM_OK;
}
