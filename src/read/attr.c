/* SPDX-License-Identifier: MIT */
#include "read/attr.h"

#include <string.h>

#include "base/near.h"
#include "read/measure.h"
#include "read/trade_words.h"
#include "trade/colour.h"
#include "trade/size.h"

/* Tags of b->words, besides eight times the address of the drive; clear of
 * those of trade_words.c. */
enum { TAG_SIZE = 100 };

/* ------------------------------------------------------------------ */
/* Fastener forms, sizes, openings                                     */

/* The items of a list, or one value as a list of one. */
static const struct km_node *items_of(struct km_bind *b,
				      const struct km_field *f,
				      const struct km_node *n, uint32_t *count)
{
	if (n->type == KM_NODE_SCALAR) {
		*count = 1;
		return n;
	}
	if (n->type != KM_NODE_LIST) {
		km_say_type(b, n, f->key, f->shape);
		return NULL;
	}
	if (!n->n || n->n > KM_ENDS_MOST) {
		KM_SAY(b, n, LIST_LENGTH, f->key, (unsigned)KM_ENDS_MOST);
		return NULL;
	}
	*count = n->n;
	return n->first;
}

static enum km_said read_drives(struct km_bind *b, const struct km_field *f,
				const struct km_node *n, union km_value *out)
{
	const struct km_drive *v[KM_ENDS_MOST];
	const struct km_node *item;
	uint32_t count, i;

	item = items_of(b, f, n, &count);
	if (!item)
		return KM_SAID_WRONG;
	for (i = 0; i < count; i++, item = item->next) {
		v[i] = km_drive_word(b, f, item);
		if (!v[i])
			return KM_SAID_WRONG;
	}
	out->drives.v = km_words_bytes(b->words, v, count * sizeof *v);
	out->drives.n = count;
	if (!out->drives.v)
		b->nomem = true;
	return out->drives.v ? KM_SAID_VALUE : KM_SAID_WRONG;
}

static const struct km_drive *drive_of_end(const struct km_attr_scope *scope,
					   uint32_t end)
{
	if (scope->n_drives)
		return scope->drives[end < scope->n_drives
					     ? end : scope->n_drives - 1];
	return scope->kind ? scope->kind->drive : NULL;
}

static const struct km_size *read_size(struct km_bind *b,
				       const struct km_field *f,
				       const struct km_node *n,
				       const struct km_drive *drive)
{
	struct km_size_rules rules = { drive, false, KM_UNIT_NONE };
	uintptr_t tag = (uintptr_t)drive * 8 + TAG_SIZE;
	const union km_value *known;
	union km_value v = { .text = NULL };
	enum km_size_fault fault;
	struct km_size size;
	struct km_size *kept;

	if (!km_want_scalar(b, n, f->key, "a size"))
		return NULL;
	known = km_words_find(b->words, tag, n->text, n->n);
	if (known)
		return *known->sizes.v;
	fault = km_size_parse(km_node_slice(n), &rules, b->mem, &size);
	if (fault != KM_SIZE_OK) {
		km_say_size(b, n, drive, fault);
		return NULL;
	}
	kept = km_arena_copy(b->mem, &size, 1, sizeof size);
	v.sizes.v = kept ? km_words_bytes(b->words, &kept, sizeof kept) : NULL;
	v.sizes.n = 1;
	if (!v.sizes.v || !km_words_keep(b->words, tag, n->text, n->n, v))
		b->nomem = true;
	return kept;
}

static enum km_said read_sizes(struct km_bind *b, const struct km_field *f,
			       const struct km_node *n,
			       const struct km_attr_scope *scope,
			       union km_value *out)
{
	const struct km_size *v[KM_ENDS_MOST];
	const struct km_node *item;
	struct km_diag *one;
	uint32_t count, i;

	item = items_of(b, f, n, &count);
	if (!item)
		return KM_SAID_WRONG;
	for (i = 0; i < count; i++, item = item->next) {
		b->path[b->depth - 1].index = i;
		v[i] = read_size(b, f, item, drive_of_end(scope, i));
		if (!v[i])
			return KM_SAID_WRONG;
	}
	b->path[b->depth - 1].index = -1;
	if (scope->kind && scope->kind->ends && count > scope->kind->ends) {
		one = KM_SAY(b, n, MORE_SIZES, scope->kind->name,
			     (unsigned)scope->kind->ends, (unsigned)count);
		KM_HINT(b, one, "two names of one jaw go into one entry: "
			"1/4 W 5/16 BS");
	}
	out->sizes.v = km_words_bytes(b->words, v, count * sizeof *v);
	out->sizes.n = count;
	if (!out->sizes.v)
		b->nomem = true;
	return out->sizes.v ? KM_SAID_VALUE : KM_SAID_WRONG;
}

static bool read_one_span(struct km_bind *b, const struct km_field *f,
			  const struct km_node *n, struct km_attr_scope *scope,
			  struct km_span *out)
{
	bool assumed = false, ok;

	if (f->attr == KM_A_ANGLE)
		ok = km_read_angle(b, n, f->key, out,
				   scope->want ? &assumed : NULL);
	else
		ok = km_read_span(b, n, f->key, out,
				  scope->want ? &assumed : NULL);
	scope->assumed |= ok && assumed;
	return ok;
}

/* An end that was not measured is `unknown`: nm 0. */
static enum km_said read_openings(struct km_bind *b, const struct km_field *f,
				  const struct km_node *n,
				  struct km_attr_scope *scope,
				  union km_value *out)
{
	struct km_span v[KM_ENDS_MOST];
	const struct km_node *item;
	uint32_t count, i;

	item = items_of(b, f, n, &count);
	if (!item)
		return KM_SAID_WRONG;
	for (i = 0; i < count; i++, item = item->next) {
		b->path[b->depth - 1].index = i;
		v[i] = (struct km_span){ 0, 0, 0 };
		if (!km_node_is(item, "unknown") &&
		    !read_one_span(b, f, item, scope, &v[i]))
			return KM_SAID_WRONG;
	}
	b->path[b->depth - 1].index = -1;
	out->spans.v = km_arena_copy(b->mem, v, count, sizeof *v);
	out->spans.n = count;
	if (!out->spans.v)
		b->nomem = true;
	return out->spans.v ? KM_SAID_VALUE : KM_SAID_WRONG;
}

/* ------------------------------------------------------------------ */
/* Colours and texts                                                   */

bool km_colour_read(struct km_bind *b, const struct km_node *n,
		    const char *key, union km_value *out)
{
	struct km_slice s = km_node_slice(n);
	const struct km_kit *kit = b->kit;
	struct km_diag *one;
	uint32_t i, rgb = KM_COLOUR_WORD_ONLY;

	if (!km_want_scalar(b, n, key, "a colour"))
		return false;
	if (s.p[0] == '#' && !km_colour_hex(s, &rgb)) {
		one = KM_SAY(b, n, BAD_COLOUR, km_clip(b, n));
		KM_HINT(b, one, "write \"#rrggbb\", six hexadecimal digits");
		return false;
	}
	if (s.n > b->lim->word_bytes) {
		KM_SAY(b, n, LONG_TEXT, (unsigned)b->lim->word_bytes);
		return false;
	}
	for (i = 0; kit && i < kit->n_colours; i++)
		if (!km_fold_compare(km_slice_of(kit->colours[i].word), s))
			break;
	if (kit && i < kit->n_colours)
		rgb = kit->colours[i].rgb;
	else if (s.p[0] != '#')
		km_colour_find(s, &rgb);
	out->colour.word = km_words_text(b->words, s.p, s.n);
	out->colour.rgb = rgb;
	if (!out->colour.word)
		b->nomem = true;
	return out->colour.word != NULL;
}

static enum km_said read_text_value(struct km_bind *b,
				    const struct km_field *f,
				    const struct km_node *n,
				    union km_value *out)
{
	struct km_field row = { .key = f->key, .type = KM_T_TEXT };

	return km_read_value(b, &row, &out->text, NULL, n) ? KM_SAID_VALUE
							   : KM_SAID_WRONG;
}

static enum km_said read_made(struct km_bind *b, const struct km_field *f,
			      const struct km_node *n, union km_value *out)
{
	static const char *const words[] = { "original", "period",
					     "reproduction", NULL };
	int i = km_read_choice(b, n, f->key, words);

	if (i < 0)
		return KM_SAID_WRONG;
	out->made = (enum km_made)i;
	return KM_SAID_VALUE;
}

/* ------------------------------------------------------------------ */

/* The words that are states and not values; WRONG: it is a value. */
static enum km_said state_of(const struct km_field *f, const struct km_node *n)
{
	if (n->type != KM_NODE_SCALAR || n->style != KM_PLAIN)
		return KM_SAID_WRONG;
	switch (n->n) {
	case 4:
		if (f->attr != KM_A_DRIVE && f->attr != KM_A_TOOL &&
		    f->attr != KM_A_MADE && !memcmp(n->text, "none", 4))
			return KM_SAID_NONE;
		return KM_SAID_WRONG;
	case 7:
		return memcmp(n->text, "unknown", 7) ? KM_SAID_WRONG
						     : KM_SAID_UNKNOWN;
	case 9:
		if ((f->attr == KM_A_MARK || f->attr == KM_A_PART ||
		     f->attr == KM_A_SIZES) &&
		    !memcmp(n->text, "illegible", 9))
			return KM_SAID_UNREAD;
		return KM_SAID_WRONG;
	default:
		return KM_SAID_WRONG;
	}
}

enum km_said km_attr_read(struct km_bind *b, const struct km_field *f,
			  const struct km_node *n, struct km_attr_scope *scope,
			  union km_value *out)
{
	enum km_said state = state_of(f, n);

	if (state != KM_SAID_WRONG)
		return state;
	switch (f->attr) {
	case KM_A_TOOL:
		out->kind = km_kind_word(b, f, n);
		return out->kind ? KM_SAID_VALUE : KM_SAID_WRONG;
	case KM_A_DRIVE:
		return read_drives(b, f, n, out);
	case KM_A_SIZES:
		return read_sizes(b, f, n, scope, out);
	case KM_A_OPENINGS:
		return read_openings(b, f, n, scope, out);
	case KM_A_FINISH:
		return km_finish_value(b, f, n, out) ? KM_SAID_VALUE
						     : KM_SAID_WRONG;
	case KM_A_HANDLE_COLOUR:
		return km_colour_read(b, n, f->key, out) ? KM_SAID_VALUE
							 : KM_SAID_WRONG;
	case KM_A_HANDLE_MATERIAL:
		out->material = km_material_word(b, f, n);
		return out->material ? KM_SAID_VALUE : KM_SAID_WRONG;
	case KM_A_MARK:
	case KM_A_PART:
		return read_text_value(b, f, n, out);
	case KM_A_MADE:
		return read_made(b, f, n, out);
	default:
		return read_one_span(b, f, n, scope, &out->span)
			       ? KM_SAID_VALUE : KM_SAID_WRONG;
	}
}

void km_traits_read(struct km_bind *b, const struct km_attr_nodes *nodes,
		    struct km_traits *t)
{
	struct km_attr_scope scope = { 0 };
	union km_value v[KM_ATTRS];
	uint32_t left, bit;
	unsigned a, n = 0;

	for (left = nodes->has; left && !b->nomem; left &= left - 1) {
		a = (unsigned)__builtin_ctz(left);
		bit = (uint32_t)1 << a;
		memset(&v[n], 0, sizeof *v);
		km_bind_enter(b, km_attr_fields[a].key, -1);
		switch (km_attr_read(b, &km_attr_fields[a], nodes->v[a],
				     &scope, &v[n])) {
		case KM_SAID_VALUE:
			t->has |= bit;
			if (a == KM_A_TOOL)
				scope.kind = v[n].kind;
			if (a == KM_A_DRIVE) {
				scope.drives = v[n].drives.v;
				scope.n_drives = v[n].drives.n;
			}
			n++;
			break;
		case KM_SAID_NONE:
			t->none |= bit;
			break;
		case KM_SAID_UNREAD:
			t->unread |= bit;
			break;
		default:	/* not recorded */
			break;
		}
		km_bind_leave(b);
	}
	if (!n)
		return;
	t->v = km_arena_copy(b->mem, v, n, sizeof *v);
	if (!t->v) {
		t->has = 0;
		b->nomem = true;
	}
}
