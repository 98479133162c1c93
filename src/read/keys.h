/* SPDX-License-Identifier: MIT */
/*
 * keys - the keys of one map, to find those that stand twice.
 *
 * A few are compared one by one; more go into a hash table, so that a map of
 * n keys takes n steps.
 */
#ifndef KM_READ_KEYS_H
#define KM_READ_KEYS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "read/tree.h"

#define KM_FEW_KEYS 16

/* All zero: empty; `few` may hold anything then. */
struct km_keys {
	const struct km_node *few[KM_FEW_KEYS];
	const struct km_node **table;
	uint32_t n, room;		/* room: a power of two */
};

/* The key of the same text, or NULL. */
const struct km_node *km_keys_find(const struct km_keys *k,
				   const struct km_node *key);
/* Add a key that is not there yet and lives as long as k; false: no memory. */
bool km_keys_add(struct km_keys *k, const struct km_node *key,
		 struct km_arena *mem);

#endif
