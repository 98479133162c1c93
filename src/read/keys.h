/* SPDX-License-Identifier: MIT */
/*
 * keys - the keys of one map, to find those that stand twice.
 *
 * A few are compared one by one, if they are not told apart by their bit of
 * `met` already; more go into a hash table, so that a map of n keys takes n
 * steps.
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
	uint64_t met;			/* bits of the keys */
};

const struct km_node *km_keys_search(const struct km_keys *k,
				     const struct km_node *key);
bool km_keys_add_more(struct km_keys *k, const struct km_node *key,
		      struct km_arena *mem);

/* Tells the keys of one record well apart; key->n > 0. */
static inline uint64_t km_keys_bit(const struct km_node *key)
{
	const unsigned char *p = (const unsigned char *)key->text;

	return (uint64_t)1 << ((key->n * 5 + p[0] * 3u + p[key->n - 1] * 7u +
				p[key->n / 2] * 31u) & 63);
}

static inline void km_keys_clear(struct km_keys *k)
{
	k->n = 0;
	k->table = NULL;
	k->met = 0;
}

/* The key of the same text, or NULL. */
static inline const struct km_node *km_keys_find(const struct km_keys *k,
						 const struct km_node *key)
{
	return k->met & km_keys_bit(key) ? km_keys_search(k, key) : NULL;
}

/* Add a key that is not there yet and lives as long as k; false: no memory. */
static inline bool km_keys_add(struct km_keys *k, const struct km_node *key,
			       struct km_arena *mem)
{
	k->met |= km_keys_bit(key);
	if (k->n >= KM_FEW_KEYS)
		return km_keys_add_more(k, key, mem);
	k->few[k->n++] = key;
	return true;
}

#endif
