/* SPDX-License-Identifier: MIT */
/*
 * which - the kits in order of how well they explain the tools of a machine.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "audit/choice.h"
#include "audit/explain.h"
#include "audit/pick.h"
#include "base/str.h"
#include "kitmuster/kits.h"
#include "match/candidates.h"
#include "unit/serial.h"

#define TOOLS_MOST 2000		/* [choice] more are a shop, not a kit */

struct question {
	struct km_arena *mem, *scratch;
	const struct km_load *load;
	const struct km_kit *const *kits;
	uint32_t n_kits;
};

/* ------------------------------------------------------------------ */
/* The tools                                                           */

static bool came_with(const struct km_tool *t, const struct km_machine *m)
{
	struct km_party p = { .machine = m };

	return km_came_with(&p, t);
}

/* Bought for a kit, so no evidence of what came in one. */
static bool is_bought(const struct km_tool *t)
{
	return t->status == KM_ORDERED || t->status == KM_RECEIVED;
}

static bool is_own(const char *owner)
{
	return !owner || km_fold_compare(km_slice_of(owner),
					 km_slice_of("own")) == 0;
}

/* A tool of the machine's owner that is not said to come from elsewhere. */
static bool of_owner(const struct km_tool *t, const struct km_machine *m)
{
	if (is_bought(t) || (t->more && t->more->came_with))
		return false;
	if (is_own(m->owner))
		return is_own(t->owner);
	return t->owner && km_fold_compare(km_slice_of(t->owner),
					   km_slice_of(m->owner)) == 0;
}

static bool goes_by(const struct km_tool *t, const struct km_ranking *r)
{
	switch (r->by) {
	case KM_BY_CAME_WITH:
		return came_with(t, r->machine);
	case KM_BY_OWNER:
		return of_owner(t, r->machine);
	case KM_BY_BENCH:
		break;
	}
	return !is_bought(t);
}

static int by_tool_id(const void *a, const void *b)
{
	const struct km_tool *const *x = a, *const *y = b;

	return km_natural_compare((*x)->id, (*y)->id);
}

static enum km_status list_tools(const struct question *q,
				 struct km_ranking *r)
{
	const struct km_tools *bench = &q->load->bench;
	const struct km_tool **v;
	size_t n = 0;

	for (size_t i = 0; i < bench->n; i++)
		n += goes_by(km_tool_at(bench, i), r);
	v = km_arena_alloc(q->mem, n, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	n = 0;
	for (size_t i = 0; i < bench->n; i++)
		if (goes_by(km_tool_at(bench, i), r))
			v[n++] = km_tool_at(bench, i);
	qsort(v, n, sizeof *v, by_tool_id);
	r->tools = v;
	r->n_tools = (uint32_t)n;
	return KM_OK;
}

static enum km_status no_tools(const struct question *q,
			       const struct km_ranking *r, struct km_diags *d)
{
	struct km_place at = r->machine ? r->machine->at : q->kits[0]->at;
	const char *why = "there is none among the files";
	char text[80];

	if (r->n_tools) {
		snprintf(text, sizeof text, "%" PRIu32 " are more than a kit",
			 r->n_tools);
		why = text;
	} else if (q->load->bench.n && r->machine) {
		why = "none came with the machine or is of its owner";
	} else if (q->load->bench.n) {
		why = "all are bought for a kit";
	}
	km_diag_add(d, KM_M_NO_TOOLS, at, why);
	return KM_EINPUT;
}

static enum km_status choose_tools(const struct question *q,
				   struct km_ranking *r, struct km_diags *d)
{
	enum km_status st;

	r->by = r->machine ? KM_BY_CAME_WITH : KM_BY_BENCH;
	st = list_tools(q, r);
	if (st == KM_OK && !r->n_tools && r->machine) {
		r->by = KM_BY_OWNER;
		st = list_tools(q, r);
	}
	if (st == KM_OK && (!r->n_tools || r->n_tools > TOOLS_MOST))
		st = no_tools(q, r, d);
	return st;
}

/* ------------------------------------------------------------------ */
/* The ranking                                                         */

/* What of the machine's record speaks against a kit. */
static void judge_record(const struct km_machine *m, struct km_kit_rank *r)
{
	const struct km_serials *s = &r->kit->serials;
	struct km_witness f;

	if (!m)
		return;
	f = km_witness_of(r->kit, m);
	r->serial_outside = f.serial == KM_SPEAKS_AGAINST;
	r->date_outside = f.date == KM_SPEAKS_AGAINST;
	r->market_other = f.market == KM_SPEAKS_AGAINST;
	r->outside_by = km_serial_outside(s, km_serial_in(s, m));
}

static int order(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int by_evidence(const struct km_kit_rank *a,
		       const struct km_kit_rank *b)
{
	int c = order(b->n_explained, a->n_explained);

	if (!c)
		c = order(a->n_stray, b->n_stray);
	if (!c)
		c = order(a->n_differ, b->n_differ);
	if (!c)
		c = order(a->n_empty, b->n_empty);
	return c ? c : order(b->n_agree, a->n_agree);
}

/* Of kits that explain as well, those that the record speaks least against. */
static int by_rank(const void *va, const void *vb)
{
	const struct km_kit_rank *a = va, *b = vb;
	int c = by_evidence(a, b);

	if (!c)
		c = order(a->serial_outside, b->serial_outside);
	if (!c)
		c = order(a->date_outside, b->date_outside);
	if (!c)
		c = order(a->market_other, b->market_other);
	return c ? c : km_natural_compare(a->kit->id, b->kit->id);
}

static void number(struct km_kit_rank *v, uint32_t n)
{
	for (uint32_t i = 0; i < n; i++)
		v[i].rank = i && by_evidence(&v[i], &v[i - 1]) == 0
				    ? v[i - 1].rank : i + 1;
}

static bool decides(const struct km_explained_tool *x,
		    const struct km_explained_tool *y)
{
	return (x->how <= KM_EXPLAINS_PARTLY) !=
	       (y->how <= KM_EXPLAINS_PARTLY) ||
	       (x->how == KM_EXPLAINS_NOT) != (y->how == KM_EXPLAINS_NOT) ||
	       x->n_differ != y->n_differ;
}

/* What tells a kit from the first; tools are its own. */
static void tell_apart(const struct km_kit_rank *first, struct km_kit_rank *k,
		       struct km_explained_tool *tools, uint32_t n)
{
	k->apart = k->n_empty != first->n_empty ? KM_APART_EMPTY
		   : k->n_agree != first->n_agree ? KM_APART_AGREE
						  : KM_APART_NOTHING;
	for (uint32_t i = 0; i < n; i++) {
		tools[i].decides = decides(&first->tools[i], &tools[i]);
		if (tools[i].decides)
			k->apart = KM_APART_TOOLS;
	}
}

static enum km_status rank_kits(const struct question *q,
				struct km_ranking *r)
{
	struct km_kit_rank *v = km_arena_alloc(q->mem, q->n_kits, sizeof *v);
	struct km_found e;
	enum km_status st;

	if (!v)
		return KM_ENOMEM;
	st = km_found_init(q->mem, r->tools, r->n_tools, q->load->prices, &e);
	for (uint32_t i = 0; st == KM_OK && i < q->n_kits; i++) {
		v[i].kit = q->kits[i];
		judge_record(r->machine, &v[i]);
		st = km_kit_explain(NULL, q->scratch, &e, v[i].kit, &v[i]);
	}
	if (st != KM_OK)
		return st;
	qsort(v, q->n_kits, sizeof *v, by_rank);
	number(v, q->n_kits);
	for (uint32_t i = 0;
	     st == KM_OK && i < q->n_kits && i < KM_RANKS_IN_FULL; i++) {
		st = km_kit_explain(q->mem, q->scratch, &e, v[i].kit, &v[i]);
		if (st == KM_OK && i)
			tell_apart(&v[0], &v[i],
				   (struct km_explained_tool *)v[i].tools,
				   r->n_tools);
	}
	r->kits = v;
	r->n_kits = q->n_kits;
	return st;
}

/* ------------------------------------------------------------------ */
/* One ranking a machine                                               */

static int by_serial(const void *a, const void *b)
{
	const struct km_ranking *x = a, *y = b;
	int c = km_serial_compare(x->machine, y->machine);
	const char *s = x->machine->title, *t = y->machine->title;

	if (!c && s && t)
		c = km_natural_compare(s, t);
	if (!c)
		c = order(s != NULL, t != NULL);
	return c ? c : order(x->machine - y->machine, 0);
}

static enum km_status rank_all(const struct question *q, struct km_diags *d,
			       struct km_which *out)
{
	uint32_t machines = q->load->n_machines, n = machines ? machines : 1;
	struct km_ranking *v = km_arena_alloc(q->mem, n, sizeof *v);
	enum km_status st = KM_OK, one;

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < machines; i++)
		v[i].machine = &q->load->machines[i];
	if (machines)
		qsort(v, n, sizeof *v, by_serial);
	for (uint32_t i = 0; i < n; i++) {
		one = choose_tools(q, &v[i], d);
		st = st == KM_OK || one == KM_ENOMEM ? one : st;
	}
	for (uint32_t i = 0; st == KM_OK && i < n; i++)
		st = rank_kits(q, &v[i]);
	out->rankings = v;
	out->n = n;
	return st;
}

enum km_status km_kits_rank(const struct km_load *load,
			    const char *const *kits, uint32_t n,
			    struct km_diags *d, struct km_which **out)
{
	struct question q = { .mem = km_arena_new(&load->limits),
			      .scratch = km_arena_new(&load->limits),
			      .load = load };
	struct km_which *w = NULL;
	enum km_status st = KM_ENOMEM;

	if (q.mem && q.scratch)
		w = km_arena_alloc(q.mem, 1, sizeof *w);
	if (w) {
		w->mem = q.mem;
		st = km_kits_pick(q.mem, load, kits, n, 1, d, &q.kits,
				  &q.n_kits);
	}
	if (st == KM_OK)
		st = rank_all(&q, d, w);
	km_arena_free(q.scratch);
	if (st != KM_OK) {
		km_arena_free(q.mem);
		return st;
	}
	*out = w;
	return KM_OK;
}

void km_which_free(struct km_which *w)
{
	if (w)
		km_arena_free(w->mem);
}
