/* SPDX-License-Identifier: MIT */
/*
 * comma - a text inside { } that a comma has cut in two.
 *
 * `{title: Parts list, edition 3}` is the key title and, for YAML, a key
 * `edition 3` without a value.
 */
#ifndef KM_READ_COMMA_H
#define KM_READ_COMMA_H

#include "read/tree.h"

/* Is a key in { } with nothing behind it the rest of such a text?  empty: its
 * value, at the place where the next thing stands. */
bool km_is_rest(const struct km_node *key, const struct km_node *empty);

/*
 * Take the key, the last of the map, off it and say so, once a text: what
 * stands before the comma is made a value in error.  Answers where the next
 * key goes.
 */
struct km_node **km_drop_rest(struct km_diags *d, const char *file,
			      struct km_node *map, const struct km_node *key);

#endif
