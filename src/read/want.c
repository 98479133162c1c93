/* SPDX-License-Identifier: MIT */
/* What a kit claims of the attributes of a slot: plain values, claims with
 * certainty and sources, and disputes. */
#include <string.h>

#include "read/attr.h"
#include "trade/kind.h"

const char *const km_certainty_words[] = {
	"certain", "probable", "possible", "disputed", "conjecture", "unknown",
	NULL
};

#define CLAIMS_MOST 64u		/* that contradict on one attribute */

struct claim {
	const struct km_node *is, *any_of;
	enum km_certainty certainty;	/* + 1; 0: not stated */
	struct km_sources sources;
	const char *where;
};

static void keep_node(struct km_bind *b, const struct km_field *f, void *rec,
		      const struct km_node *n)
{
	(void)b;
	memcpy((char *)rec + f->at, &n, sizeof n);
}

static void check_claim(struct km_bind *b, void *rec, const struct km_node *n)
{
	const struct claim *c = rec;
	struct km_diag *one;

	if (!c->is == !c->any_of) {
		one = KM_SAY(b, n, CLAIM_VALUE, b->path[b->depth - 1].key);
		KM_HINT(b, one, "write {is: ...} or {any_of: [...]}");
	}
}

static const struct km_field claim_fields[] = {
	{ .key = "is", .type = KM_T_OWN, .form = KM_FORM_VALUE,
	  .own = keep_node,
	  .shape = "a value of the attribute",
	  .at = KM_AT(struct claim, is, const struct km_node *),
	  .example = "amber", .doc = "What it is." },
	{ .key = "any_of", .type = KM_T_OWN, .form = KM_FORM_VALUES,
	  .own = keep_node,
	  .shape = "a list of values of the attribute",
	  .at = KM_AT(struct claim, any_of, const struct km_node *),
	  .example = "[amber, green]", .doc = "It is one of these." },
	{ .key = "certainty", .type = KM_T_CHOICE, .min = 1,
	  .choices = km_certainty_words,
	  .at = KM_AT(struct claim, certainty, enum km_certainty),
	  .example = "possible",
	  .doc = "How sure that is; by default as sure as its sources make it, "
		 "without sources as sure as the slot." },
	{ .key = "sources", .type = KM_T_REFS,
	  .at = KM_AT(struct claim, sources.ids, const char *const *),
	  .at2 = KM_AT(struct claim, sources.n, uint32_t),
	  .example = "[rec1]", .doc = "The sources that say so." },
	{ .key = "where", .type = KM_T_TEXT,
	  .at = KM_AT(struct claim, where, const char *),
	  .example = "shank", .doc = "Where a mark stands." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_claim = {
	.no = KM_REC_CLAIM, .name = "claim", .size = sizeof(struct claim),
	.fields = claim_fields, .check = check_claim,
	.doc = "What a kit claims of an attribute, and how sure it is.",
};

/* ------------------------------------------------------------------ */

/* `mark: maker` stands for the marks that the kit lists. */
static bool lacks_marks(struct km_bind *b, const struct km_field *f,
			const struct km_node *n)
{
	struct km_diag *one;

	if (f->attr != KM_A_MARK || !b->kit || b->kit->n_maker_marks ||
	    !km_node_is(n, "maker"))
		return false;
	one = KM_SAY(b, n, NO_MAKER_MARKS, "maker_marks");
	KM_HINT(b, one, "list them in the kit, or quote the word if it is "
		"what is struck");
	return true;
}

static bool add_value(struct km_bind *b, const struct km_field *f,
		      const struct km_node *n, struct km_attr_scope *scope,
		      struct km_want *w, union km_value *room)
{
	union km_value v;

	if (lacks_marks(b, f, n))
		return false;
	memset(&v, 0, sizeof v);
	switch (km_attr_read(b, f, n, scope, &v)) {
	case KM_SAID_VALUE:
		w->state = KM_WANT_ANY_OF;
		room[w->n++] = v;
		return true;
	case KM_SAID_NONE:
		if (w->state != KM_WANT_ANY_OF)
			w->state = KM_WANT_NONE;
		w->or_none = true;
		return true;
	case KM_SAID_UNKNOWN:
		if (w->state == KM_WANT_NOTHING)
			w->state = KM_WANT_UNKNOWN;
		return true;
	case KM_SAID_UNREAD:
		KM_SAY(b, n, NOT_A_CHOICE, n->text, f->key);
		return false;
	default:
		return false;
	}
}

static bool read_value(struct km_bind *b, const struct km_field *f,
		       const struct km_node *n, struct km_attr_scope *scope,
		       struct km_want *w)
{
	union km_value *room;

	room = km_bind_alloc(b, 1, sizeof *room);
	w->any = room;
	return room && add_value(b, f, n, scope, w, room);
}

static bool read_any_of(struct km_bind *b, const struct km_field *f,
			const struct km_node *n, struct km_attr_scope *scope,
			struct km_want *w)
{
	const struct km_node *item;
	union km_value *room;

	if (!km_want_list(b, n, "any_of"))
		return false;
	if (!n->n) {
		KM_SAY(b, n, EMPTY_LIST, "any_of");
		return false;
	}
	room = km_bind_alloc(b, n->n, sizeof *room);
	w->any = room;
	for (item = n->first; item && room; item = item->next)
		if (!add_value(b, f, item, scope, w, room))
			return false;
	return room != NULL;
}

static bool read_claim(struct km_bind *b, const struct km_field *f,
		       const struct km_node *n, struct km_attr_scope *scope,
		       struct km_want *w)
{
	struct claim c;

	memset(&c, 0, sizeof c);
	km_bind_record(b, &km_rec_claim, &c, n);
	if (!c.is == !c.any_of)
		return false;
	scope->assumed = false;
	if (!(c.is ? read_value(b, f, c.is, scope, w)
		   : read_any_of(b, f, c.any_of, scope, w)))
		return false;
	w->own_certainty = c.certainty > 0;
	if (w->own_certainty)
		w->certainty = (enum km_certainty)(c.certainty - 1);
	w->sources = c.sources;
	w->where = c.where;
	w->assumed = scope->assumed;
	w->at = km_bind_at(b, n);
	return true;
}

/* Do two claims say the same?  Lists are compared by what they hold. */
static bool same_value(enum km_attr a, const union km_value *x,
		       const union km_value *y)
{
	uint32_t i;

	switch (a) {
	case KM_A_SIZES:
		if (x->sizes.n != y->sizes.n)
			return false;
		for (i = 0; i < x->sizes.n; i++)
			if (km_size_compare(x->sizes.v[i], y->sizes.v[i]))
				return false;
		return true;
	case KM_A_DRIVE:
		return x->drives.n == y->drives.n &&
		       !memcmp(x->drives.v, y->drives.v,
			       x->drives.n * sizeof *x->drives.v);
	case KM_A_OPENINGS:
		return x->spans.n == y->spans.n &&
		       !memcmp(x->spans.v, y->spans.v,
			       x->spans.n * sizeof *x->spans.v);
	default:
		return !memcmp(x, y, sizeof *x);
	}
}

bool km_claims_agree(enum km_attr a, const struct km_want *x,
		     const struct km_want *y)
{
	uint32_t i;

	if (x->n != y->n || x->or_none != y->or_none || x->state != y->state)
		return false;
	for (i = 0; i < x->n; i++)
		if (!same_value(a, &x->any[i], &y->any[i]))
			return false;
	return true;
}

/* Take the values of c into a; their order is that of the file.  Claims that
 * say the same do not contradict. */
static bool merge(struct km_bind *b, enum km_attr attr, struct km_want *a,
		  const struct km_want *c)
{
	union km_value *v = km_bind_alloc(b, a->n + c->n + 1, sizeof *v);
	const char **ids = km_bind_alloc(b, a->sources.n + c->sources.n + 1,
					 sizeof *ids);
	uint32_t i;
	bool same;

	if (!v || !ids)
		return false;
	for (i = 0; i < a->n + c->n; i++)
		v[i] = i < a->n ? a->any[i] : c->any[i - a->n];
	for (i = 0; i < a->sources.n + c->sources.n; i++)
		ids[i] = i < a->sources.n ? a->sources.ids[i]
					  : c->sources.ids[i - a->sources.n];
	same = km_claims_agree(attr, a, c);
	a->any = v;
	a->n += same ? 0 : c->n;
	a->sources.ids = ids;
	a->sources.n += c->sources.n;
	a->sources.v = NULL;
	a->or_none |= c->or_none;
	a->assumed |= c->assumed;
	if (!a->where)
		a->where = c->where;
	if (c->state > a->state)	/* a value outweighs none or unknown */
		a->state = c->state;
	a->disputed |= !same;
	return true;
}

bool km_claims_settle(struct km_bind *b, enum km_attr a,
		      const struct km_claims *c, enum km_certainty of_slot,
		      struct km_want *w)
{
	struct km_want *less = km_bind_alloc(b, c->n, sizeof *less);
	struct km_place at = w->at;
	enum km_certainty best = KM_UNKNOWN;
	uint32_t i, outweighed = 0;
	bool have = false;

	if (!less)
		return false;
	for (i = 0; i < c->n; i++)
		if (km_claim_certainty(&c->v[i], of_slot) < best)
			best = km_claim_certainty(&c->v[i], of_slot);
	memset(w, 0, sizeof *w);
	for (i = 0; i < c->n; i++) {
		if (km_claim_certainty(&c->v[i], of_slot) != best)
			less[outweighed++] = c->v[i];
		else if (have && !merge(b, a, w, &c->v[i]))
			return false;
		else if (!have)
			*w = c->v[i];
		have |= km_claim_certainty(&c->v[i], of_slot) == best;
	}
	w->certainty = best;
	w->claims = c;
	w->outweighed = outweighed ? less : NULL;
	w->n_outweighed = outweighed;
	w->at = at;
	return true;
}

/* A list of claims: the surest count, equals together. */
static bool read_dispute(struct km_bind *b, const struct km_field *f,
			 const struct km_node *n, struct km_attr_scope *scope,
			 enum km_certainty of_slot, struct km_want *w)
{
	struct km_want *all = km_bind_alloc(b, n->n, sizeof *all);
	struct km_claims *claims = km_bind_alloc(b, 1, sizeof *claims);
	const struct km_node *item = n->first;
	uint32_t i;

	if (n->n > CLAIMS_MOST) {
		KM_SAY(b, n, LIST_LENGTH, f->key, CLAIMS_MOST);
		return false;
	}
	if (!all || !claims)
		return false;
	for (i = 0; i < n->n; i++, item = item->next) {
		b->path[b->depth - 1].index = i;
		if (!read_claim(b, f, item, scope, &all[i]))
			return false;
	}
	b->path[b->depth - 1].index = -1;
	*claims = (struct km_claims){ all, n->n };
	w->at = km_bind_at(b, n);
	return km_claims_settle(b, f->attr, claims, of_slot, w);
}

static bool is_finish_map(const struct km_field *f, const struct km_node *n)
{
	const struct km_node *key;

	if (f->attr != KM_A_FINISH)
		return false;
	for (key = n->first; key; key = key->next->next)
		if (!strcmp(key->text, "body") || !strcmp(key->text, "faces"))
			return true;
	return false;
}

static bool takes_list(const struct km_field *f)
{
	return f->attr == KM_A_SIZES || f->attr == KM_A_OPENINGS ||
	       f->attr == KM_A_DRIVE;
}

static bool read_want(struct km_bind *b, const struct km_field *f,
		      const struct km_node *n, struct km_attr_scope *scope,
		      enum km_certainty of_slot, struct km_want *w)
{
	struct km_diag *one;

	if (n->type == KM_NODE_MAP && !is_finish_map(f, n))
		return read_claim(b, f, n, scope, w);
	if (n->type == KM_NODE_LIST && n->first &&
	    n->first->type == KM_NODE_MAP)
		return read_dispute(b, f, n, scope, of_slot, w);
	if (n->type == KM_NODE_LIST && !takes_list(f)) {
		one = KM_SAY(b, n, WRONG_TYPE, f->key, f->shape, "a list");
		KM_HINT(b, one, "for one of several values write {any_of: "
			"[...]}; for claims that contradict, a list of "
			"{is: ...}");
		return false;
	}
	scope->assumed = false;
	if (!read_value(b, f, n, scope, w))
		return false;
	w->assumed = scope->assumed;
	w->at = km_bind_at(b, n);
	return true;
}

static void learn(struct km_attr_scope *scope, const struct km_want *w,
		  unsigned a)
{
	if (w->state != KM_WANT_ANY_OF)
		return;
	if (a == KM_A_TOOL)
		scope->kind = w->any[0].kind;
	if (a == KM_A_DRIVE) {
		scope->drives = w->any[0].drives.v;
		scope->n_drives = w->any[0].drives.n;
	}
}

void km_wants_read(struct km_bind *b, const struct km_attr_nodes *nodes,
		   struct km_slot *s)
{
	struct km_attr_scope scope = { .want = true };
	struct km_want w;
	unsigned a;

	for (a = 0; a < KM_ATTRS && !b->nomem; a++) {
		if (nodes->has >> a & 1) {
			memset(&w, 0, sizeof w);
			km_bind_enter(b, km_attr_fields[a].key, -1);
			if (read_want(b, &km_attr_fields[a], nodes->v[a],
				      &scope, s->exists, &w))
				s->want[a] = w;
			else
				b->wrong_attrs |= (uint32_t)1 << a;
			km_bind_leave(b);
		}
		learn(&scope, &s->want[a], a);
		if (!s->want[a].own_certainty)
			s->want[a].certainty = s->exists;
	}
}
