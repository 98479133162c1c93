/* SPDX-License-Identifier: MIT */
/* What refers to what, once all files are read. */
#include "read/link.h"

#include <stdlib.h>
#include <string.h>

#include "base/near.h"
#include "base/str.h"
#include "unit/serial.h"

/* KM_SAY() for a record that may stand in another file than the last one. */
#define SAY_AT(r, at, msg, ...) \
	km_diag_add((r)->b.d, KM_M_##msg, at, __VA_ARGS__)

static int place_order(struct km_place a, struct km_place b)
{
	int c = strcmp(a.file, b.file);

	if (!c)
		c = (a.line > b.line) - (a.line < b.line);
	return c ? c : (a.column > b.column) - (a.column < b.column);
}

/* At the later of the two places. */
static void say_duplicate(struct km_reader *r, const char *what,
			  const char *id, struct km_place at,
			  const char *first, struct km_place first_at)
{
	struct km_diag *one;

	if (place_order(at, first_at) < 0) {
		say_duplicate(r, what, first, first_at, id, at);
		return;
	}
	one = SAY_AT(r, at, DUPLICATE_ID, what, id);
	km_diag_other(r->b.d, one, first_at, "first used here");
	if (strcmp(id, first) != 0)
		km_diag_hint(r->b.d, one, "it differs from '%s' only in upper "
			     "and lower case", first);
	else
		km_diag_hint(r->b.d, one, "give one of them another id, or "
			     "remove it if the two are the same");
}

void km_link_enter(struct km_reader *r, struct km_ids *t, uint32_t n,
		   const char *what,
		   struct km_place (*at)(const void *ctx, uint32_t i))
{
	enum { AHEAD = 12 };
	const char *id;
	uint32_t i, other;

	if (!km_ids_reserve(t, r->b.lim, n)) {
		r->b.nomem = true;
		return;
	}
	for (i = 0; i < n; i++) {
		if (i + AHEAD < n)
			km_ids_expect(t, i + AHEAD);
		id = t->name(t->ctx, i);
		if (!id)		/* in error: a message was given */
			continue;
		km_ids_add(t, i, &other);
		if (other != KM_NO_INDEX)
			say_duplicate(r, what, id, at(t->ctx, i),
				      t->name(t->ctx, other),
				      at(t->ctx, other));
	}
}

uint32_t km_link_find(struct km_reader *r, const struct km_ids *t,
		      uint32_t n, const char *what, const char *id,
		      struct km_place at)
{
	uint32_t i = km_ids_find(t, id);
	struct km_near near;
	struct km_diag *one;

	if (i != KM_NO_INDEX || r->b.holes)
		return i;
	one = SAY_AT(r, at, UNRESOLVED_ID, what, id);
	if (!one)
		return i;
	km_near_init(&near, id);
	for (i = 0; i < n && i < 10000; i++)
		if (t->name(t->ctx, i))
			km_near_offer(&near, t->name(t->ctx, i));
	if (near.n)
		km_diag_hint(r->b.d, one, "did you mean '%s'?", near.best[0]);
	return KM_NO_INDEX;
}

static void say_no_slot(struct km_reader *r, const struct km_kit *kit,
			const char *slot, struct km_place at)
{
	struct km_diag *one = SAY_AT(r, at, NO_SUCH_SLOT, kit->id, slot);
	struct km_near near;
	uint32_t i;

	if (!one)
		return;
	km_near_init(&near, slot);
	for (i = 0; i < kit->n_slots; i++)
		if (kit->slots[i].id)
			km_near_offer(&near, kit->slots[i].id);
	if (near.n)
		km_diag_hint(r->b.d, one, "did you mean '%s/%s'?", kit->id,
			     near.best[0]);
}

struct km_slot *km_link_slot(struct km_reader *r, const char *kit,
			     const char *slot, struct km_place at)
{
	struct km_load *l = r->load;
	uint32_t k, s;

	k = km_link_find(r, &r->link->kits, l->n_kits, "kit", kit, at);
	if (k == KM_NO_INDEX)
		return NULL;
	s = km_ids_find(&r->link->slots[k], slot);
	if (s == KM_NO_INDEX && !r->b.holes)
		say_no_slot(r, l->kits[k], slot, at);
	return s == KM_NO_INDEX ? NULL : &l->kits[k]->slots[s];
}

/* ------------------------------------------------------------------ */

static int by_serial(const void *va, const void *vb)
{
	const struct km_machine *a = va, *b = vb;

	int c = km_serial_compare(a, b);

	return c ? c : place_order(a->at, b->at);
}

/* A number that no kit of the files could have. */
static void check_serial(struct km_reader *r, const struct km_machine *m)
{
	const struct km_load *l = r->load;
	const char *form = NULL;
	bool any = false;
	struct km_diag *one;
	uint32_t i;

	for (i = 0; i < l->n_kits; i++) {
		const struct km_serials *s = &l->kits[i]->serials;

		if (!s->given)
			continue;
		if (km_serial_in(s, m) >= 0)
			return;
		any = true;
		form = form ? form : s->pattern;
	}
	if (!any || r->b.holes)
		return;
	if (form) {
		one = SAY_AT(r, m->serial_at, SERIAL_FORM, m->serial_text,
			     form);
		km_diag_hint(r->b.d, one, "# is a digit; the form is the "
			     "'pattern' of a kit's serials");
		return;
	}
	one = SAY_AT(r, m->serial_at, SERIAL_LETTERS, m->serial_text);
	km_diag_hint(r->b.d, one, "add the form of the numbers to the kit's "
		     "serials, such as pattern: \"LM####\"");
}

static void link_machines(struct km_reader *r)
{
	struct km_load *l = r->load;
	const struct km_part *p;
	struct km_machine *m;
	uint32_t n = 0, i, k;

	for (p = r->machines; p; p = p->next)
		n++;
	if (!n)
		return;
	l->machines = km_bind_alloc(&r->b, n, sizeof *l->machines);
	if (!l->machines)
		return;
	for (p = r->machines; p; p = p->next)
		l->machines[l->n_machines++] = *(struct km_machine *)p->rec;
	qsort(l->machines, n, sizeof *l->machines, by_serial);
	for (i = 0; i < n; i++) {
		m = &l->machines[i];
		if (m->serial_text)
			check_serial(r, m);
		if (!m->kit_id)
			continue;
		k = km_link_find(r, &r->link->kits, l->n_kits, "kit",
				 m->kit_id, m->at);
		if (k != KM_NO_INDEX)
			m->kit = l->kits[k];
	}
}

static int by_slot(const void *va, const void *vb)
{
	const struct km_decision *a = va, *b = vb;
	int c = km_natural_compare(a->kit_id, b->kit_id);

	if (!c)
		c = km_natural_compare(a->slot_id, b->slot_id);
	if (!c)
		c = km_natural_compare(a->way, b->way);
	return c ? c : place_order(a->at, b->at);
}

static bool is_way(const struct km_reader *r, const char *way)
{
	return !km_case_compare(way, "open") ||
	       km_ids_find(&r->tool_ids, way) != KM_NO_INDEX ||
	       km_ids_find(&r->link->offers, way) != KM_NO_INDEX ||
	       km_ids_find(&r->link->lots, way) != KM_NO_INDEX;
}

static void link_decisions(struct km_reader *r)
{
	struct km_load *l = r->load;
	struct km_decision *v, *one;
	const struct km_part *p;
	uint32_t n = 0, i;

	for (p = r->decisions; p; p = p->next)
		n += p->n;
	if (!n)
		return;
	v = km_bind_alloc(&r->b, n, sizeof *v);
	if (!v)
		return;
	n = 0;
	for (p = r->decisions; p; p = p->next)
		for (i = 0; i < p->n; i++) {
			one = (struct km_decision *)p->rec + i;
			if (!one->kit_id || !one->way)	/* in error */
				continue;
			one->slot = km_link_slot(r, one->kit_id, one->slot_id,
						 one->slot_at);
			if (!r->b.holes && !is_way(r, one->way))
				SAY_AT(r, one->way_at, UNRESOLVED_ID,
				       "tool, offer or job lot", one->way);
			v[n++] = *one;
		}
	qsort(v, n, sizeof *v, by_slot);
	l->decisions = v;
	l->n_decisions = n;
}

/* Only the tools that carry more than most are looked at closely.  Answers
 * how many have a pin. */
static size_t link_tools(struct km_reader *r)
{
	struct km_tools *bench = &r->load->bench;
	struct km_tool_more *more;
	struct km_tool *t;
	size_t i, pins = 0;

	for (i = 0; i < bench->n; i++) {
		t = km_tool_at(bench, i);
		if (!t->more)
			continue;
		more = (struct km_tool_more *)t->more;
		if (more->pin_kit)
			more->pin = km_link_slot(r, more->pin_kit,
						 more->pin_slot, more->pin_at);
		pins += more->pin != NULL;
		if (more->bought_for_kit)
			more->bought_for = km_link_slot(r,
							more->bought_for_kit,
							more->bought_for_slot,
							t->at);
	}
	return pins;
}

void km_link(struct km_reader *r)
{
	struct km_link *x = km_arena_alloc(r->b.scratch, 1, sizeof *x);
	uint32_t i;

	r->link = x;
	if (!x) {
		r->b.nomem = true;
		return;
	}
	km_bench_ids(r);
	if (!r->b.nomem)
		km_link_kits(r);
	if (!r->b.nomem)
		km_link_prices(r);
	if (!r->b.nomem) {
		link_machines(r);
		link_decisions(r);
		i = (uint32_t)link_tools(r);
		km_link_pins(r, i);
		km_link_decided(r, i);
		km_link_colours(r);
		km_link_money(r);
		km_link_prices_end(r);
	}
	for (i = 0; x->slots && i < r->load->n_kits; i++)
		km_ids_release(&x->slots[i]);
	km_ids_release(&x->kits);
	km_ids_release(&x->sellers);
	km_ids_release(&x->offers);
	km_ids_release(&x->lots);
}
