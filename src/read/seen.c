/* SPDX-License-Identifier: MIT */
#include "read/seen.h"

#include <string.h>

#include "base/str.h"
#include "read/words.h"

const struct km_place *km_seen(struct km_bind *b, uintptr_t tag, const char *p,
			       size_t n, const struct km_node *at)
{
	const union km_value *known = km_words_find(b->words, tag, p, n);
	union km_value v = { .text = NULL };
	struct km_place *place;

	if (known)
		return (const struct km_place *)(const void *)known->text;
	place = km_bind_alloc(b, 1, sizeof *place);
	if (!place)
		return NULL;
	*place = km_bind_at(b, at);
	v.text = (const char *)(const void *)place;
	if (!km_words_keep(b->words, tag, p, n, v))
		b->nomem = true;
	return NULL;
}

/* For each h no two x come to the same. */
static uint64_t mix(uint64_t h, uint64_t x)
{
	h = (h ^ x) * 0x9e3779b97f4a7c15u;
	return h ^ h >> 29;
}

uint64_t km_row_hash(const struct km_node *n)
{
	const struct km_node *p;
	uint64_t h = 0;

	if (n->type == KM_NODE_SCALAR)
		return km_hash(n->text, n->n) * 3 + n->style;
	if (n->type == KM_NODE_LIST) {
		for (p = n->first; p; p = p->next)
			h = mix(h + 1, km_row_hash(p));
		return h;
	}
	for (p = n->first; p; p = p->next->next)
		h += mix(mix(1, km_row_hash(p)), km_row_hash(p->next));
	return mix(h, n->n);
}

void km_photos_seen(struct km_bind *b, const struct km_tool *t,
		    const struct km_node *row)
{
	const struct km_tool_more *more = t->more;
	struct km_place here = km_bind_at(b, row);

	for (uint32_t i = 0; more && i < more->n_photos && !b->nomem; i++) {
		const char *name = more->photos[i];
		const struct km_place *first =
			km_seen(b, KM_SEEN_PHOTO, name, strlen(name), row);
		struct km_diag *one;

		if (!first || (first->line == here.line &&
			       first->column == here.column &&
			       first->file == here.file))
			continue;
		one = KM_SAY(b, row, PHOTO_TWICE, name);
		km_diag_other(b->d, one, *first, "the other one");
		KM_HINT(b, one, "one picture may show both; if not, name the "
			"right one");
	}
}
