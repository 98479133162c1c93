/* SPDX-License-Identifier: MIT */
#include "report/changes.h"

#include <stdlib.h>
#include <string.h>

#include "base/buf.h"

#define CLUES 8			/* of one slot, at most */
#define SHARED_MOST 4		/* slots of other kits that are named */

struct comparer {
	struct km_changes *c;
	const struct km_audit_rows *was, *is;
	const struct km_audit_row **by_wanted;	/* of is */
	struct km_buf b;
	bool failed;
};

/* A value in words: a list with commas between; nothing for null. */
static void add_value(struct km_buf *b, const struct km_json *v)
{
	if (!v)
		return;
	switch (v->kind) {
	case KM_JSON_NULL:
	case KM_JSON_OBJECT:
		break;
	case KM_JSON_TRUE:
		km_buf_str(b, "yes");
		break;
	case KM_JSON_FALSE:
		km_buf_str(b, "no");
		break;
	case KM_JSON_NUMBER:
	case KM_JSON_STRING:
		km_buf_str(b, v->text);
		break;
	case KM_JSON_ARRAY:
		for (v = v->first; v; v = v->next) {
			if (km_json_text(v))
				km_buf_str(b, v->text);
			if (v->next)
				km_buf_str(b, ", ");
		}
		break;
	}
}

/* The text so far, kept; "" after a failure, which sticks. */
static const char *keep(struct comparer *x)
{
	const char *text = NULL;

	if (!km_buf_failed(&x->b))
		text = km_arena_text(x->c->mem, x->b.len ? x->b.text : "",
				     x->b.len);
	km_buf_clear(&x->b);
	x->failed |= !text;
	return text ? text : "";
}

static const char *value_of(struct comparer *x, const struct km_audit_row *r,
			    const char *key)
{
	if (r)
		add_value(&x->b, km_json_get(r->v, key));
	return keep(x);
}

/* ------------------------------------------------------------------ */
/* Slots                                                               */

/* "doubt, would be gap" */
static const char *verdict(struct comparer *x, const struct km_audit_row *r)
{
	const struct km_json *would = km_json_get(r->v, "would_be");

	add_value(&x->b, km_json_get(r->v, "verdict"));
	if (km_json_text(would))
		km_buf_printf(&x->b, ", would be %s", would->text);
	return keep(x);
}

/* What the decision costs by itself; -1: nothing is known. */
static int64_t cost(struct comparer *x, const struct km_audit_row *r)
{
	const char *d = r ? km_json_text(km_json_get(r->v, "decision")) : NULL;

	if (!d || !x->c->currency)
		return -1;
	if (!strcmp(d, "buy"))
		return km_row_money(r->v, "buy_likely", x->c->decimals);
	if (!strcmp(d, "restore"))
		return km_row_money(r->v, "restore_likely", x->c->decimals);
	return -1;
}

struct clues {
	const char *v[CLUES];
	uint32_t n;
};

static void clue(struct comparer *x, struct clues *to)
{
	const char *text = keep(x);

	if (*text && to->n < CLUES)
		to->v[to->n++] = text;
}

/* Does a value differ?  Then a clue says so: "decision buy instead of
 * restore". */
static bool differs(struct comparer *x, const struct km_audit_row *old,
		    const struct km_audit_row *now, const char *key,
		    const char *word, struct clues *to)
{
	const char *was = value_of(x, old, key), *is = value_of(x, now, key);

	if (!strcmp(was, is))
		return false;
	if (!*is && *was && !strcmp(key, "chosen"))
		km_buf_printf(&x->b, "no longer %s %s", word, was);
	else
		km_buf_printf(&x->b, "%s%s%s instead of %s", word,
			      *word ? " " : "", *is ? is : "none",
			      *was ? was : "none");
	clue(x, to);
	return true;
}

static bool reason_differs(struct comparer *x, const struct km_audit_row *old,
			   const struct km_audit_row *now, struct clues *to)
{
	const char *was = value_of(x, old, "reason");
	const char *is = value_of(x, now, "reason");

	if (!strcmp(was, is))
		return false;
	if (*was) {
		km_buf_printf(&x->b, "was: %s", was);
		clue(x, to);
	}
	if (*is) {
		km_buf_printf(&x->b, "now: %s", is);
		clue(x, to);
	}
	return true;
}

/* ------------------------------------------------------------------ */
/* What other kits ask for                                             */

static const char *wanted_of(const struct km_audit_row *r)
{
	const char *text = km_json_text(km_json_get(r->v, "wanted"));

	return text ? text : "";
}

static int by_wanted(const void *one, const void *two)
{
	const struct km_audit_row *const *a = one, *const *b = two;
	int order = strcmp(wanted_of(*a), wanted_of(*b));

	if (!order)
		order = strcmp((*a)->kit, (*b)->kit);
	return order ? order : strcmp((*a)->slot, (*b)->slot);
}

static bool sort_by_wanted(struct comparer *x)
{
	x->by_wanted = km_arena_alloc(x->c->mem, (size_t)x->is->n + 1,
				      sizeof(*x->by_wanted));
	if (!x->by_wanted)
		return false;
	for (uint32_t i = 0; i < x->is->n; i++)
		x->by_wanted[i] = &x->is->row[i];
	qsort(x->by_wanted, x->is->n, sizeof(*x->by_wanted), by_wanted);
	return true;
}

/* The first of the rows that ask for this or what comes after it. */
static uint32_t first_wanting(const struct comparer *x, const char *wanted)
{
	uint32_t low = 0, high = x->is->n;

	while (low < high) {
		uint32_t mid = low + (high - low) / 2;

		if (strcmp(wanted_of(x->by_wanted[mid]), wanted) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	return low;
}

/* Slots of other kits that ask for what the row asks for. */
static void list_shared(struct comparer *x, const struct km_audit_row *r,
			struct km_slot_change *change)
{
	const char *wanted = wanted_of(r), *v[SHARED_MOST];
	uint32_t n = 0;

	for (uint32_t i = first_wanting(x, wanted); *wanted && i < x->is->n;
	     i++) {
		const struct km_audit_row *other = x->by_wanted[i];

		if (strcmp(wanted_of(other), wanted) != 0)
			break;
		if (!strcmp(other->kit, r->kit))
			continue;
		if (n == SHARED_MOST) {
			change->n_shared_more++;
			continue;
		}
		km_buf_printf(&x->b, "%s/%s", other->kit, other->slot);
		v[n++] = keep(x);
	}
	if (!n)
		return;
	change->shared = km_arena_copy(x->c->mem, v, n, sizeof *v);
	change->n_shared = n;
	x->failed |= !change->shared;
}

/* ------------------------------------------------------------------ */

static bool keep_change(struct comparer *x, struct km_slot_change *change,
			const struct clues *why)
{
	change->why = km_arena_copy(x->c->mem, why->v, (size_t)why->n + 1,
				    sizeof *why->v);
	change->n_why = why->n;
	x->failed |= !change->why;
	return true;
}

/* Both there; false: nothing that counts has changed. */
static bool compare(struct comparer *x, const struct km_audit_row *old,
		    const struct km_audit_row *now,
		    struct km_slot_change *change)
{
	struct clues why = { .n = 0 };
	bool turned, wants, tools, reason, decision, costs;

	change->was = verdict(x, old);
	change->is = verdict(x, now);
	change->cost_was = cost(x, old);
	change->cost_is = cost(x, now);
	turned = strcmp(change->was, change->is) != 0;
	wants = differs(x, old, now, "wanted", "the kit asks for", &why);
	wants |= differs(x, old, now, "count", "pieces", &why);
	wants |= differs(x, old, now, "certainty", "its place is", &why);
	tools = differs(x, old, now, "tools", "", &why);
	reason = reason_differs(x, old, now, &why);
	decision = differs(x, old, now, "decision", "decision", &why);
	decision |= differs(x, old, now, "chosen", "by", &why);
	costs = change->cost_was != change->cost_is;
	if (!turned && !wants && !tools && !reason && !decision && !costs)
		return false;
	change->what = turned ? KM_CHANGE_TURNED : tools ? KM_CHANGE_TOOLS
		       : reason ? KM_CHANGE_REASON
		       : decision ? KM_CHANGE_DECISION
		       : costs ? KM_CHANGE_COST : KM_CHANGE_WANTED;
	if (wants)
		list_shared(x, old, change);
	return keep_change(x, change, &why);
}

/* The slot is there only once. */
static bool only(struct comparer *x, const struct km_audit_row *r,
		 enum km_change_what what, struct km_slot_change *change)
{
	struct clues why = { .n = 0 };
	bool came = what == KM_CHANGE_CAME;

	change->what = what;
	change->was = came ? NULL : verdict(x, r);
	change->is = came ? verdict(x, r) : NULL;
	change->cost_was = came ? -1 : cost(x, r);
	change->cost_is = came ? cost(x, r) : -1;
	add_value(&x->b, km_json_get(r->v, "wanted"));
	clue(x, &why);
	list_shared(x, r, change);
	return keep_change(x, change, &why);
}

static enum km_status list_slots(struct comparer *x)
{
	size_t room = (size_t)x->was->n + x->is->n;
	struct km_slot_change *v = km_arena_alloc(x->c->mem, room + 1,
						  sizeof *v);
	uint32_t n = 0;

	if (!v || !sort_by_wanted(x))
		return KM_ENOMEM;
	for (uint32_t i = 0; i < x->is->n; i++) {
		const struct km_audit_row *now = &x->is->row[i];
		const struct km_audit_row *old = km_row_find(x->was, now);

		v[n].kit = now->kit;
		v[n].slot = now->slot;
		n += old ? compare(x, old, now, &v[n])
			 : only(x, now, KM_CHANGE_CAME, &v[n]);
	}
	for (uint32_t i = 0; i < x->was->n; i++) {
		const struct km_audit_row *old = &x->was->row[i];

		if (km_row_find(x->is, old))
			continue;
		v[n].kit = old->kit;
		v[n].slot = old->slot;
		n += only(x, old, KM_CHANGE_WENT, &v[n]);
	}
	x->c->slots = v;
	x->c->n_slots = n;
	return x->failed ? KM_ENOMEM : KM_OK;
}

/* ------------------------------------------------------------------ */
/* Orders                                                              */

static int by_text(const void *one, const void *two)
{
	const char *const *a = one, *const *b = two;

	return strcmp(*a, *b);
}

/* Ids of a list of each row; v NULL: only count. */
static size_t ids_of(const struct km_audit_rows *a, const char *key,
		     const char **v)
{
	size_t n = 0;

	for (uint32_t i = 0; i < a->n; i++) {
		const struct km_json *list = km_json_get(a->row[i].v, key);

		if (!list || list->kind != KM_JSON_ARRAY)
			continue;
		for (const struct km_json *e = list->first; e; e = e->next)
			if (km_json_text(e)) {
				if (v)
					v[n] = e->text;
				n++;
			}
	}
	return n;
}

static bool is_right(const struct km_audit_row *r)
{
	const char *v = km_json_text(km_json_get(r->v, "verdict"));

	return v && !strcmp(v, "right");
}

/* An order that no slot waits for or has taken in, and whose own slot is right
 * or gone. */
static enum km_status list_orders(struct comparer *x)
{
	size_t n_tools = ids_of(x->is, "tools", NULL);
	size_t n_used = n_tools + ids_of(x->is, "on_order", NULL);
	size_t most = ids_of(x->was, "on_order", NULL), n = 0;
	const char **used = km_arena_alloc(x->c->mem, n_used + 1, sizeof *used);
	struct km_order_change *v = km_arena_alloc(x->c->mem, most + 1,
						   sizeof *v);

	if (!used || !v)
		return KM_ENOMEM;
	(void)ids_of(x->is, "tools", used);
	(void)ids_of(x->is, "on_order", used + n_tools);
	qsort(used, n_used, sizeof *used, by_text);
	for (uint32_t i = 0; i < x->was->n; i++) {
		const struct km_audit_row *old = &x->was->row[i];
		const struct km_audit_row *now = km_row_find(x->is, old);
		const struct km_json *e = km_json_get(old->v, "on_order");

		if ((now && !is_right(now)) || !e || e->kind != KM_JSON_ARRAY)
			continue;
		for (e = e->first; e; e = e->next)
			if (km_json_text(e) &&
			    !bsearch(&e->text, used, n_used, sizeof *used,
				     by_text))
				v[n++] = (struct km_order_change){
					e->text, old->kit, old->slot, !now };
	}
	x->c->orders = v;
	x->c->n_orders = (uint32_t)n;
	return KM_OK;
}

enum km_status km_changes_of_slots(struct km_changes *c,
				   const struct km_audit_rows *was,
				   const struct km_audit_rows *is)
{
	struct comparer x = { .c = c, .was = was, .is = is };
	enum km_status st;

	km_buf_init(&x.b, c->mem);
	st = list_slots(&x);
	return st == KM_OK ? list_orders(&x) : st;
}

/* ------------------------------------------------------------------ */
/* Figures                                                             */

static size_t members(const struct km_audit_rows *a)
{
	size_t n = 0;

	for (uint32_t i = 0; i < a->n; i++)
		for (const struct km_json *v = a->row[i].v->first; v;
		     v = v->next)
			n++;
	return n;
}

/* Whatever differs in one kit; old or now NULL: the kit itself. */
static void compare_kit(struct comparer *x, const struct km_audit_row *old,
			const struct km_audit_row *now,
			struct km_figure_change *v, uint32_t *n)
{
	if (!old || !now) {
		v[(*n)++] = (struct km_figure_change){
			(now ? now : old)->kit, "kit",
			old ? old->kit : NULL, now ? now->kit : NULL };
		return;
	}
	for (const struct km_json *e = now->v->first; e; e = e->next) {
		const char *was = value_of(x, old, e->key);
		const char *is = value_of(x, now, e->key);

		if (strcmp(was, is) != 0)
			v[(*n)++] = (struct km_figure_change){
				now->kit, e->key, *was ? was : NULL,
				*is ? is : NULL };
	}
}

enum km_status km_changes_of_figures(struct km_changes *c,
				     const struct km_audit_rows *was,
				     const struct km_audit_rows *is)
{
	struct comparer x = { .c = c, .was = was, .is = is };
	struct km_figure_change *v;
	uint32_t n = 0;

	km_buf_init(&x.b, c->mem);
	v = km_arena_alloc(c->mem, members(was) + members(is) + 1, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < is->n; i++)
		compare_kit(&x, km_row_find(was, &is->row[i]), &is->row[i], v,
			    &n);
	for (uint32_t i = 0; i < was->n; i++)
		if (!km_row_find(is, &was->row[i]))
			compare_kit(&x, &was->row[i], NULL, v, &n);
	c->figures = v;
	c->n_figures = n;
	return x.failed ? KM_ENOMEM : KM_OK;
}
