/* SPDX-License-Identifier: MIT */
/*
 * seen - what the rows of a bench have said before, and where.
 */
#ifndef KM_READ_SEEN_H
#define KM_READ_SEEN_H

#include "read/bind.h"

/* Tags of b->words, clear of those of other files. */
enum { KM_SEEN_ID = 101, KM_SEEN_PHOTO = 102, KM_SEEN_ROW = 104 };

/* Where n bytes were met before under a tag.  NULL: not at all, and they are
 * met here from now on; or memory ran out, as b says. */
const struct km_place *km_seen(struct km_bind *b, uintptr_t tag, const char *p,
			       size_t n, const struct km_node *at);

/* What a row says: the order of keys does not matter, that of list items
 * does, and so do quotes, as "none" is a text and none is not. */
uint64_t km_row_hash(const struct km_node *row);

/* Warn of each photograph of a tool that another tool names too. */
void km_photos_seen(struct km_bind *b, const struct km_tool *t,
		    const struct km_node *row);

#endif
