/* SPDX-License-Identifier: MIT */
#include "read/bind.h"

#include <assert.h>
#include <string.h>

#include "base/buf.h"
#include "base/near.h"

void *km_bind_alloc(struct km_bind *b, size_t n, size_t size)
{
	void *p = km_arena_alloc(b->mem, n, size);

	if (!p)
		b->nomem = true;
	return p;
}

const char *km_bind_text(struct km_bind *b, const char *p, size_t n)
{
	const char *text = km_arena_text(b->mem, p, n);

	if (!text)
		b->nomem = true;
	return text;
}

/* ------------------------------------------------------------------ */
/* Places and paths                                                    */

struct km_place km_bind_at(const struct km_bind *b, const struct km_node *n)
{
	return (struct km_place){ b->file, n->line, n->column };
}

void km_bind_enter(struct km_bind *b, const char *key, int64_t index)
{
	if (b->depth < KM_PATH_DEPTH) {
		b->path[b->depth].key = key;
		b->path[b->depth].index = index;
	}
	b->depth++;
}

void km_bind_leave(struct km_bind *b)
{
	b->depth--;
}

struct km_diag *km_bind_said(struct km_bind *b, struct km_diag *one)
{
	struct km_buf path;
	unsigned i;

	if (!one || !b->depth)
		return one;
	km_buf_init(&path, b->scratch);
	for (i = 0; i < b->depth && i < KM_PATH_DEPTH; i++) {
		if (b->path[i].key) {
			if (i)
				km_buf_char(&path, '.');
			km_buf_str(&path, b->path[i].key);
		}
		if (b->path[i].index >= 0) {
			km_buf_char(&path, '[');
			km_buf_int(&path, b->path[i].index);
			km_buf_char(&path, ']');
		}
	}
	if (km_buf_failed(&path))
		b->nomem = true;
	else
		km_diag_path(b->d, one, path.text);
	return one;
}

/* ------------------------------------------------------------------ */
/* Keys                                                                */

/* Spreads the few dozen keys of a record well enough; checked by the test
 * that finds every key of every record. */
static unsigned key_place(const char *p, size_t n)
{
	unsigned h = (unsigned)n * 5;

	h += (unsigned)(unsigned char)p[0] * 3;
	h += (unsigned)(unsigned char)p[n - 1] * 7;
	h += (unsigned)(unsigned char)p[n / 2] * 31;
	return h & (KM_KEY_ROOM - 1);
}

static const struct km_field *row_of(const struct km_record *r,
				     const struct km_key_index *x, unsigned i)
{
	return i < x->n_own ? &r->fields[i] : &km_attr_fields[i - x->n_own];
}

/* The number-th of the spellings of a row; 0 is the key. */
static struct km_slice spelling(const struct km_field *f, unsigned number)
{
	struct km_slice s;
	const char *p = f->was, *bar;

	if (!number)
		return km_slice_of(f->key);
	while (--number && p)
		if ((p = strchr(p, '|')))
			p++;
	if (!p)
		return (struct km_slice){ NULL, 0 };
	bar = strchr(p, '|');
	s.p = p;
	s.n = bar ? (size_t)(bar - p) : strlen(p);
	return s;
}

static void index_row(struct km_key_index *x, const struct km_field *f,
		      unsigned row)
{
	struct km_slice s;
	unsigned number, at;

	for (number = 0; (s = spelling(f, number)).p; number++) {
		at = key_place(s.p, s.n);
		while (x->place[at])
			at = (at + 1) & (KM_KEY_ROOM - 1);
		x->place[at] = (uint8_t)(row + 1);
		x->word[at] = (uint8_t)number;
		x->length[at] = (uint8_t)s.n;
	}
	if (f->flags & KM_REQUIRED)
		x->required |= (uint64_t)1 << row;
}

static struct km_key_index *index_of(struct km_bind *b,
				     const struct km_record *r)
{
	struct km_key_index *x = &b->index[r->no];
	const struct km_field *f;
	unsigned row = 0;

	if (x->built)
		return x;
	for (f = r->fields; f->type != KM_T_END; f++)
		index_row(x, f, row++);
	x->n_own = (uint8_t)row;
	if (r->attrs)
		for (f = km_attr_fields; f->type != KM_T_END; f++)
			index_row(x, f, row++);
	assert(row <= 64);
	x->built = true;
	return x;
}

static bool is_at(const struct km_record *r, const struct km_key_index *x,
		  unsigned at, const char *p, size_t n)
{
	const struct km_field *f;

	if (x->length[at] != n)
		return false;
	f = row_of(r, x, x->place[at] - 1u);
	return km_same_bytes(x->word[at] ? spelling(f, x->word[at]).p : f->key,
			     p, n);
}

/* The place of a key in the index, or -1. */
static int find_place(const struct km_record *r, const struct km_key_index *x,
		      const char *p, size_t n)
{
	unsigned at;

	if (!n)
		return -1;
	for (at = key_place(p, n); x->place[at];
	     at = (at + 1) & (KM_KEY_ROOM - 1))
		if (is_at(r, x, at, p, n))
			return (int)at;
	return -1;
}

/* The row of a key, or -1. */
static int find_row(const struct km_record *r, const struct km_key_index *x,
		    const char *p, size_t n)
{
	int at = find_place(r, x, p, n);

	return at < 0 ? -1 : x->place[at] - 1;
}

/* The same for the key behind that of row `before`, 63 at the start: records
 * of one file mostly have their keys in one order. */
static inline int next_row(const struct km_record *r, struct km_key_index *x,
			   int before, const struct km_node *key)
{
	uint8_t *after = &x->after[before & 63];
	int at = *after - 1;

	if (at < 0 || !is_at(r, x, (unsigned)at, key->text, key->n)) {
		at = find_place(r, x, key->text, key->n);
		*after = (uint8_t)(at + 1);
	}
	return at < 0 ? -1 : x->place[at] - 1;
}

const struct km_field *km_bind_find(struct km_bind *b,
				    const struct km_record *r,
				    struct km_slice key)
{
	struct km_key_index *x = index_of(b, r);
	int row = find_row(r, x, key.p, key.n);

	return row < 0 ? NULL : row_of(r, x, (unsigned)row);
}

bool km_bind_saw(struct km_bind *b, const struct km_record *r, const char *key)
{
	int row = find_row(r, index_of(b, r), key, strlen(key));

	return row >= 0 && b->seen >> row & 1;
}

/* Report a key that no row has; answers the row it was probably meant as. */
static int say_unknown(struct km_bind *b, const struct km_record *r,
		       const struct km_key_index *x, const struct km_node *key)
{
	struct km_near near;
	struct km_diag *one;
	const struct km_field *f;

	km_near_init(&near, key->text);
	for (f = r->fields; f->type != KM_T_END; f++)
		km_near_offer(&near, f->key);
	if (r->attrs)
		for (f = km_attr_fields; f->type != KM_T_END; f++)
			km_near_offer(&near, f->key);
	one = KM_SAY(b, key, UNKNOWN_KEY, r->name, key->text);
	if (near.n == 1)
		KM_HINT(b, one, "did you mean '%s'?", near.best[0]);
	else if (near.n == 2)
		KM_HINT(b, one, "did you mean '%s' or '%s'?", near.best[0],
			near.best[1]);
	else if (near.n)
		KM_HINT(b, one, "did you mean '%s', '%s' or '%s'?",
			near.best[0], near.best[1], near.best[2]);
	else
		KM_HINT(b, one, "the keys of a %s are listed by "
			"'kitmuster schema'", r->name);
	return near.n == 1 ? find_row(r, x, near.best[0],
				      strlen(near.best[0])) : -1;
}

static void say_twice(struct km_bind *b, const struct km_record *r,
		      const struct km_key_index *x, int row,
		      const struct km_node *key, const struct km_node *map)
{
	struct km_diag *one = KM_SAY(b, key, DUPLICATE_KEY, key->text);
	const struct km_node *k;

	for (k = map->first; k != key; k = k->next->next)
		if (find_row(r, x, k->text, k->n) == row)
			break;
	km_diag_other(b->d, one, km_bind_at(b, k), "first here");
}

/* ------------------------------------------------------------------ */
/* Records                                                             */

void km_bind_defaults(const struct km_record *r, void *obj)
{
	const struct km_field *f;
	char *p = obj;

	for (f = r->fields; f->type != KM_T_END; f++) {
		if (!(f->flags & KM_MINUS) || f->flags & KM_APART)
			continue;
		switch (f->type) {
		case KM_T_SMALL:
		case KM_T_MAYBE:
			*(int8_t *)(p + f->at) = -1;
			break;
		case KM_T_INT:
		case KM_T_SHARE:
		case KM_T_CENTS:
		case KM_T_MILLI:
		case KM_T_CHOICE:
			*(int32_t *)(p + f->at) = -1;
			break;
		case KM_T_DAYS:
			*(int32_t *)(p + f->at) = -1;
			if (f->at2)
				*(int32_t *)(p + f->at2) = -1;
			break;
		case KM_T_MONEY3:
			*(struct km_money3 *)(p + f->at) =
				(struct km_money3){ -1, -1, -1 };
			break;
		default:	/* the rest are 64 bits */
			*(int64_t *)(p + f->at) = -1;
		}
	}
}

static void bind_list(struct km_bind *b, const struct km_field *f, char *to,
		      uint32_t *n_to, const struct km_node *n)
{
	const struct km_node *item;
	char *rows;
	uint32_t i = 0;

	if (!km_want_list(b, n, f->key) || !n->n)
		return;
	rows = km_bind_alloc(b, n->n, f->rec->size);
	if (!rows)
		return;
	for (item = n->first; item; item = item->next, i++) {
		b->path[b->depth - 1].index = i;
		km_bind_defaults(f->rec, rows + i * f->rec->size);
		km_bind_record(b, f->rec, rows + i * f->rec->size, item);
	}
	b->path[b->depth - 1].index = -1;
	memcpy(to, &rows, sizeof rows);
	*n_to = n->n;
}

/* A map whose keys are ids: the first member of each record takes the id. */
static void bind_by_name(struct km_bind *b, const struct km_field *f, char *to,
			 uint32_t *n_to, const struct km_node *n)
{
	const struct km_node *key;
	const char *id;
	char *rows, *one;
	uint32_t used = 0;

	if (!km_want_map(b, n, f->key) || !n->n)
		return;
	rows = km_bind_alloc(b, n->n, f->rec->size);
	if (!rows)
		return;
	for (key = n->first; key; key = key->next->next) {
		id = km_read_id(b, key, f->key);
		if (!id)
			continue;
		one = rows + used++ * f->rec->size;
		memcpy(one, &id, sizeof id);
		km_bind_defaults(f->rec, one);
		km_bind_enter(b, id, -1);
		km_bind_record(b, f->rec, one, key->next);
		km_bind_leave(b);
	}
	memcpy(to, &rows, sizeof rows);
	*n_to = used;
}

static void bind_new(struct km_bind *b, const struct km_field *f, char *to,
		     const struct km_node *n)
{
	char *one;

	if (!km_want_map(b, n, f->key))
		return;
	one = km_bind_alloc(b, 1, f->rec->size);
	if (!one)
		return;
	km_bind_defaults(f->rec, one);
	km_bind_record(b, f->rec, one, n);
	memcpy(to, &one, sizeof one);
}

void km_bind_field(struct km_bind *b, const struct km_record *r,
		   const struct km_field *f, void *obj,
		   const struct km_node *n)
{
	char *p = obj;

	if (b->nomem)
		return;
	if (b->partial && f->flags & KM_SLOT_ONLY) {
		KM_SAY(b, n, NOT_FOR_EVERY_SLOT, f->key);
		return;
	}
	if (f->flags & KM_APART) {
		p = r->part(b, obj);
		if (!p)
			return;
	}
	km_bind_enter(b, f->key, -1);
	if (f->own)
		f->own(b, f, p, n);
	else if (f->type == KM_T_MAP)
		km_bind_record(b, f->rec, p + f->at, n);
	else if (f->type == KM_T_MAP_NEW)
		bind_new(b, f, p + f->at, n);
	else if (f->type == KM_T_LIST)
		bind_list(b, f, p + f->at, (uint32_t *)(p + f->at2), n);
	else if (f->type == KM_T_BY_NAME)
		bind_by_name(b, f, p + f->at, (uint32_t *)(p + f->at2), n);
	else
		km_read_value(b, f, p + f->at, f->at2 ? p + f->at2 : NULL, n);
	km_bind_leave(b);
}

/* The rows that others depend on, in the order of the table. */
static void bind_first(struct km_bind *b, const struct km_record *r, void *obj,
		       const struct km_node *n)
{
	const struct km_key_index *x = &b->index[r->no];
	const struct km_field *f;
	const struct km_node *key;

	for (f = r->fields; f->type != KM_T_END; f++) {
		if (!(f->flags & KM_FIRST))
			continue;
		for (key = n->first; key; key = key->next->next)
			if (find_row(r, x, key->text, key->n) ==
			    (int)(f - r->fields))
				break;
		if (key)
			km_bind_field(b, r, f, obj, key->next);
	}
}

static void say_missing(struct km_bind *b, const struct km_record *r,
			const struct km_key_index *x, uint64_t missing,
			const struct km_node *n)
{
	const struct km_field *f;
	struct km_diag *one;
	unsigned row;

	for (row = 0; missing >> row; row++) {
		if (!(missing >> row & 1))
			continue;
		f = row_of(r, x, row);
		one = KM_SAY(b, n, MISSING_KEY, r->name, f->key);
		KM_HINT(b, one, "for example '%s: %s'", f->key, f->example);
		if (f->type == KM_T_ID)
			b->holes = true;
	}
}

void km_bind_record(struct km_bind *b, const struct km_record *r, void *obj,
		    const struct km_node *n)
{
	struct km_key_index *x = index_of(b, r);
	struct km_attr_nodes attrs;
	const struct km_field *f;
	const struct km_node *key;
	uint64_t seen = 0;
	int row = -1;

	if (!km_want_map(b, n, r->name))
		return;
	attrs.has = 0;
	if (r->fields[0].flags & KM_FIRST)
		bind_first(b, r, obj, n);
	for (key = n->first; key; key = key->next->next) {
		row = next_row(r, x, row, key);
		if (row < 0) {
			row = say_unknown(b, r, x, key);
			if (row >= 0)
				seen |= (uint64_t)1 << row;
			continue;
		}
		if (seen >> row & 1) {
			say_twice(b, r, x, row, key, n);
			continue;
		}
		seen |= (uint64_t)1 << row;
		f = row_of(r, x, (unsigned)row);
		if (f->type == KM_T_ATTR) {
			attrs.has |= (uint32_t)1 << f->attr;
			attrs.v[f->attr] = key->next;
		} else if (!(f->flags & KM_FIRST)) {
			km_bind_field(b, r, f, obj, key->next);
		}
	}
	if (x->required & ~seen && !b->partial)
		say_missing(b, r, x, x->required & ~seen, n);
	if (b->nomem)
		return;
	if (r->traits)
		r->traits(b, obj, &attrs);
	b->seen = seen;
	if (r->check)
		r->check(b, obj, n);
}
