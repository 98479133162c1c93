/* SPDX-License-Identifier: MIT */
/* Pins, when every slot and machine is known: is there a place for each, and
 * is the tool ours? */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "read/link.h"

/* By kit and slot, then in the order of the files. */
static int by_slot(const void *va, const void *vb)
{
	const struct km_tool *a = *(const struct km_tool *const *)va;
	const struct km_tool *b = *(const struct km_tool *const *)vb;
	const struct km_slot *s = a->more->pin, *t = b->more->pin;
	struct km_place p = a->more->pin_at, q = b->more->pin_at;
	int c = km_natural_compare(s->kit->id ? s->kit->id : "",
				   t->kit->id ? t->kit->id : "");

	if (!c)
		c = (s->index > t->index) - (s->index < t->index);
	if (!c)
		c = strcmp(p.file, q.file);
	if (!c)
		c = (p.line > q.line) - (p.line < q.line);
	if (!c)
		c = (p.column > q.column) - (p.column < q.column);
	return c ? c : km_natural_compare(a->id, b->id);
}

const struct km_tool **km_link_pinned(struct km_reader *r, size_t n)
{
	const struct km_tools *bench = &r->load->bench;
	const struct km_tool **v, *t;
	size_t i, k = 0;

	v = km_arena_raw(r->b.scratch, n, sizeof *v);
	if (!v) {
		r->b.nomem = true;
		return NULL;
	}
	for (i = 0; k < n; i++) {
		t = km_tool_at(bench, i);
		if (t->more && t->more->pin)
			v[k++] = t;
	}
	qsort(v, n, sizeof *v, by_slot);
	return v;
}

/* As the audit has it: no owner, `own`, or the owner of a machine that has
 * the kit or may have it. */
static bool is_ours(const struct km_load *l, const struct km_tool *t)
{
	const struct km_machine *m;
	uint32_t i;

	if (!t->owner || !km_case_compare(t->owner, "own"))
		return true;
	for (i = 0; i < l->n_machines; i++) {
		m = &l->machines[i];
		if ((!m->kit || m->kit == t->more->pin->kit) && m->owner &&
		    !km_fold_compare(km_slice_of(t->owner),
				     km_slice_of(m->owner)))
			return true;
	}
	return false;
}

static void say_twice(struct km_reader *r, const struct km_tool *t,
		      const struct km_tool *first)
{
	struct km_diag *one = km_diag_add(r->b.d, KM_M_PINNED_TWICE,
					  t->more->pin_at, t->id);

	km_diag_other(r->b.d, one, first->more->pin_at, "the first pin");
	km_diag_hint(r->b.d, one, "take one of the pins out, or give the slot "
		     "a 'count' of %d", (int)t->more->pin->count + 1);
}

void km_link_pins(struct km_reader *r, size_t n)
{
	const struct km_tool **v = n ? km_link_pinned(r, n) : NULL;
	struct km_diag *one;
	size_t i, first = 0;

	for (i = 0; v && i < n; i++) {
		if (v[i]->more->pin != v[first]->more->pin)
			first = i;
		if (i - first >= (size_t)v[i]->more->pin->count)
			say_twice(r, v[i], v[first]);
		if (is_ours(r->load, v[i]))
			continue;
		one = km_diag_add(r->b.d, KM_M_PIN_NOT_OURS,
				  v[i]->more->pin_at, v[i]->id, v[i]->owner);
		km_diag_hint(r->b.d, one, "the pin stays; say whose the "
			     "machine is with 'owner' under 'machine', or "
			     "take the pin out");
	}
}
