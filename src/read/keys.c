/* SPDX-License-Identifier: MIT */
#include "read/keys.h"

#include <string.h>

#include "base/str.h"

static bool same_key(const struct km_node *a, const struct km_node *b)
{
	return a->n == b->n && !memcmp(a->text, b->text, a->n);
}

/* The place of a key in the table: its own or a free one. */
static const struct km_node **slot_of(const struct km_keys *k,
				      const struct km_node *key)
{
	uint32_t mask = k->room - 1;
	uint32_t i = (uint32_t)km_hash(key->text, key->n) & mask;

	while (k->table[i] && !same_key(k->table[i], key))
		i = (i + 1) & mask;
	return &k->table[i];
}

const struct km_node *km_keys_search(const struct km_keys *k,
				     const struct km_node *key)
{
	if (k->table)
		return *slot_of(k, key);
	for (uint32_t i = 0; i < k->n; i++)
		if (same_key(k->few[i], key))
			return k->few[i];
	return NULL;
}

/* A table of twice the room with all keys in it. */
static bool grow_table(struct km_keys *k, struct km_arena *mem)
{
	const struct km_node *const *old = k->table ? k->table : k->few;
	uint32_t n_old = k->table ? k->room : k->n;
	struct km_keys bigger = *k;

	bigger.room = k->table ? 2 * k->room : 4 * KM_FEW_KEYS;
	bigger.table = km_arena_alloc(mem, bigger.room, sizeof *k->table);
	if (!bigger.table)
		return false;
	for (uint32_t i = 0; i < n_old; i++)
		if (old[i])
			*slot_of(&bigger, old[i]) = old[i];
	*k = bigger;
	return true;
}

bool km_keys_add_more(struct km_keys *k, const struct km_node *key,
		      struct km_arena *mem)
{
	if ((!k->table || 2 * k->n >= k->room) && !grow_table(k, mem))
		return false;
	*slot_of(k, key) = key;
	k->n++;
	return true;
}
