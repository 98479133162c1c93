/* SPDX-License-Identifier: MIT */
/* Decisions, when every slot and pin is known: is there a place for each? */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "read/link.h"

static int slot_order(const struct km_slot *a, const struct km_slot *b)
{
	int c = km_natural_compare(a->kit->id ? a->kit->id : "",
				   b->kit->id ? b->kit->id : "");

	return c ? c : (a->index > b->index) - (a->index < b->index);
}

/* By kit and slot, then in the order of the files. */
static int by_slot(const void *va, const void *vb)
{
	const struct km_decision *a = *(const struct km_decision *const *)va;
	const struct km_decision *b = *(const struct km_decision *const *)vb;
	int c = slot_order(a->slot, b->slot);

	if (!c)
		c = strcmp(a->at.file, b->at.file);
	if (!c)
		c = (a->at.line > b->at.line) - (a->at.line < b->at.line);
	return c ? c : (a->at.column > b->at.column) -
			       (a->at.column < b->at.column);
}

static const struct km_decision **decided(struct km_reader *r, size_t *n)
{
	const struct km_load *l = r->load;
	const struct km_decision **v;
	uint32_t i;

	v = km_arena_raw(r->b.scratch, l->n_decisions, sizeof *v);
	if (!v) {
		r->b.nomem = true;
		return NULL;
	}
	*n = 0;
	for (i = 0; i < l->n_decisions; i++)
		if (l->decisions[i].slot)
			v[(*n)++] = &l->decisions[i];
	if (*n)
		qsort(v, *n, sizeof *v, by_slot);
	return v;
}

/* Pieces of the slot, for each machine that has the kit or may have it. */
static size_t places_of(const struct km_load *l, const struct km_slot *s)
{
	size_t machines = 0;
	uint32_t i;

	for (i = 0; i < l->n_machines; i++)
		machines += !l->machines[i].kit ||
			    l->machines[i].kit == s->kit;
	return (machines ? machines : 1) * (size_t)s->count;
}

static void say_twice(struct km_reader *r, const struct km_decision *d,
		      const struct km_decision *first)
{
	struct km_diag *one = km_diag_add(r->b.d, KM_M_DECIDED_TWICE,
					  d->way_at, d->way);

	km_diag_other(r->b.d, one, first->way_at, "the first decision");
	km_diag_hint(r->b.d, one, "take out the one that no longer holds");
}

static void say_pin(struct km_reader *r, const struct km_decision *d,
		    const struct km_tool *t)
{
	struct km_diag *one = km_diag_add(r->b.d, KM_M_PIN_AND_DECISION,
					  d->way_at, d->way, t->id);

	km_diag_other(r->b.d, one, t->more->pin_at, "the pin");
	km_diag_hint(r->b.d, one, "the pin comes first; take out the one that "
		     "no longer holds");
}

/* Decisions of one slot, v[0] to v[n - 1], against its pins, the first of
 * those at pin: as long as there are places for all, they do not meet. */
static void check_pins(struct km_reader *r, const struct km_decision **v,
		       size_t n, const struct km_tool **pin, size_t n_pins)
{
	const struct km_tool *other = NULL;
	size_t taken = 0, i, k;

	for (i = 0; i < n_pins && pin[i]->more->pin == v[0]->slot; i++) {
		for (k = 0; k < n && km_case_compare(v[k]->way, pin[i]->id);
		     k++)
			;
		if (k < n)		/* both say the same */
			continue;
		other = other ? other : pin[i];
		taken++;
	}
	if (other && n + taken > places_of(r->load, v[0]->slot))
		say_pin(r, v[n - 1], other);
}

void km_link_decided(struct km_reader *r, size_t n_pins)
{
	const struct km_decision **v;
	const struct km_tool **pin;
	size_t n = 0, first, i, p = 0, most;

	if (!r->load->n_decisions)
		return;
	v = decided(r, &n);
	pin = n_pins ? km_link_pinned(r, n_pins) : NULL;
	for (first = 0; v && first < n; first = i) {
		const struct km_slot *s = v[first]->slot;

		most = places_of(r->load, s);
		for (i = first; i < n && v[i]->slot == s; i++)
			if (i - first >= most)
				say_twice(r, v[i], v[first]);
		while (pin && p < n_pins &&
		       slot_order(pin[p]->more->pin, s) < 0)
			p++;
		if (pin && i - first <= most)
			check_pins(r, &v[first], i - first, pin + p,
				   n_pins - p);
	}
}
