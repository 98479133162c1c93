/* SPDX-License-Identifier: MIT */
#include "kitmuster/changes.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "read/json.h"
#include "report/changes.h"
#include "unit/money.h"

/* ------------------------------------------------------------------ */
/* One audit                                                           */

static enum km_status refuse(struct km_diags *d, const struct km_json *at,
			     const char *why)
{
	km_diag_add(d, KM_M_NOT_AN_AUDIT, at->at, why);
	return KM_EINPUT;
}

static int by_key(const void *one, const void *two)
{
	const struct km_audit_row *a = one, *b = two;
	int order = strcmp(a->kit, b->kit);

	return order ? order : strcmp(a->slot, b->slot);
}

/* Of equal rows the one that stands first. */
static int by_key_and_place(const void *one, const void *two)
{
	const struct km_audit_row *a = one, *b = two;
	int order = by_key(a, b);

	if (order)
		return order;
	if (a->v->at.line != b->v->at.line)
		return a->v->at.line < b->v->at.line ? -1 : 1;
	return (a->v->at.column > b->v->at.column) -
	       (a->v->at.column < b->v->at.column);
}

/* The rows, in order and sorted by what they are of. */
static enum km_status list_rows(struct km_arena *mem, struct km_diags *d,
				const struct km_json *list,
				struct km_audit_rows *out)
{
	uint32_t n = 0;

	for (const struct km_json *v = list->first; v; v = v->next)
		n++;
	out->row = km_arena_alloc(mem, (size_t)n + 1, sizeof *out->row);
	out->sorted = km_arena_alloc(mem, (size_t)n + 1, sizeof *out->sorted);
	if (!out->row || !out->sorted)
		return KM_ENOMEM;
	for (const struct km_json *v = list->first; v; v = v->next) {
		const char *kit = km_json_text(km_json_get(v, "kit"));
		const char *slot = km_json_text(km_json_get(v, "slot"));

		if (!kit || (out->slots && !slot))
			return refuse(d, v, "a row names no kit or no slot");
		out->row[out->n++] = (struct km_audit_row){
			kit, slot ? slot : "", v };
	}
	memcpy(out->sorted, out->row, n * sizeof *out->row);
	qsort(out->sorted, n, sizeof *out->sorted, by_key_and_place);
	for (uint32_t i = 1; i < n; i++)
		if (!by_key(&out->sorted[i - 1], &out->sorted[i]))
			return refuse(d, out->sorted[i].v, "a row stands twice");
	return KM_OK;
}

static enum km_status read_audit(struct km_arena *mem,
				 const struct km_input *in,
				 const struct km_limits *lim,
				 struct km_diags *d, struct km_audit_rows *out)
{
	const struct km_json *root, *list;
	const char *program, *sheet;
	enum km_status st = km_json_read(mem, in, lim, d, &root);

	if (st != KM_OK)
		return st;
	program = km_json_text(km_json_get(root, "program"));
	sheet = km_json_text(km_json_get(root, "sheet"));
	if (!program || strcmp(program, "kitmuster") != 0 || !sheet)
		return refuse(d, root, "no sheet at all");
	out->root = root;
	out->slots = !strcmp(sheet, "slots");
	if (!out->slots && strcmp(sheet, "summary") != 0)
		return refuse(d, km_json_get(root, "sheet"), "another sheet");
	list = km_json_get(root, out->slots ? "slots" : "kits");
	if (!list || list->kind != KM_JSON_ARRAY)
		return refuse(d, root, "it has no rows");
	out->currency = km_json_text(km_json_get(root, "currency"));
	return list_rows(mem, d, list, out);
}

const struct km_audit_row *km_row_find(const struct km_audit_rows *in,
				       const struct km_audit_row *like)
{
	return in->n ? bsearch(like, in->sorted, in->n, sizeof *in->sorted,
			       by_key) : NULL;
}

/* ------------------------------------------------------------------ */
/* Money                                                               */

int64_t km_row_money(const struct km_json *row, const char *key, int decimals)
{
	const char *text = km_json_text(km_json_get(row, key));
	int64_t minor;

	if (!text || km_money_parse(km_slice_of(text), decimals, false,
				    &minor) != KM_MONEY_OK)
		return -1;
	return minor;
}

/* The first row of the table `plan`, or NULL. */
static const struct km_json *plan_of(const struct km_audit_rows *a)
{
	const struct km_json *list = km_json_get(a->root, "plan");

	return list && list->kind == KM_JSON_ARRAY ? list->first : NULL;
}

static void totals(struct km_changes *c, const struct km_audit_rows *was,
		   const struct km_audit_rows *is)
{
	if (!c->currency)
		return;
	c->total_was = km_row_money(plan_of(was), "total_likely", c->decimals);
	c->total_is = km_row_money(plan_of(is), "total_likely", c->decimals);
	c->totals = c->total_was >= 0 && c->total_is >= 0;
}

static void choose_currency(struct km_changes *c,
			    const struct km_audit_rows *was,
			    const struct km_audit_rows *is)
{
	int decimals;

	c->decimals = 2;
	if (!was->currency || !is->currency ||
	    strcmp(was->currency, is->currency) != 0)
		return;
	decimals = km_currency_decimals(was->currency);
	if (decimals < 0)
		return;
	c->currency = was->currency;
	c->decimals = decimals;
}

/* ------------------------------------------------------------------ */

static enum km_status find(struct km_changes *c, const struct km_input *was,
			   const struct km_input *is,
			   const struct km_limits *lim, struct km_diags *d)
{
	struct km_audit_rows old = { 0 }, now = { 0 };
	enum km_status st = read_audit(c->mem, was, lim, d, &old);
	enum km_status also = read_audit(c->mem, is, lim, d, &now);

	st = st == KM_OK ? also : st;
	if (st != KM_OK)
		return st;
	if (old.slots != now.slots)
		return refuse(d, now.root, "the two are not the same sheet");
	choose_currency(c, &old, &now);
	totals(c, &old, &now);
	st = now.slots ? km_changes_of_slots(c, &old, &now)
		       : km_changes_of_figures(c, &old, &now);
	c->same = !c->n_slots && !c->n_orders && !c->n_figures &&
		  (!c->totals || c->total_was == c->total_is);
	return st;
}

enum km_status km_changes_find(const struct km_input *was,
			       const struct km_input *is,
			       const struct km_limits *lim, struct km_diags *d,
			       struct km_changes **out)
{
	struct km_arena *mem = km_arena_new(lim);
	struct km_changes *c = mem ? km_arena_alloc(mem, 1, sizeof *c) : NULL;
	enum km_status st = KM_ENOMEM;

	if (c) {
		c->mem = mem;
		st = find(c, was, is, lim, d);
	}
	if (st == KM_OK)
		*out = c;
	else
		km_arena_free(mem);
	return st;
}

void km_changes_free(struct km_changes *c)
{
	if (c)
		km_arena_free(c->mem);
}
