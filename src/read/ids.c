/* SPDX-License-Identifier: MIT */
#include "read/ids.h"

#include "base/str.h"

static uint32_t half_hash(const char *id)
{
	uint64_t h = km_case_hash(id);

	return (uint32_t)(h ^ (h >> 32));
}

bool km_ids_reserve(struct km_ids *t, const struct km_limits *lim, uint32_t n)
{
	uint32_t room = 16;

	while (room < (uint64_t)n + n / 4)
		room *= 2;
	t->mem = km_arena_new(lim);
	t->place = t->mem ? km_arena_alloc(t->mem, room, sizeof *t->place)
			  : NULL;
	t->room = t->place ? room : 0;
	return t->place != NULL;
}

void km_ids_expect(const struct km_ids *t, uint32_t i)
{
	const char *id = t->name(t->ctx, i);

	if (id)
		__builtin_prefetch(&t->place[half_hash(id) & (t->room - 1)]);
}

/* Where the id stands, or the empty place where it would. */
static uint32_t seek(const struct km_ids *t, const char *id, uint32_t hash)
{
	uint32_t at = hash & (t->room - 1);

	while (t->place[at]) {
		if (t->place[at] >> 32 == hash &&
		    km_case_compare(t->name(t->ctx,
					    (uint32_t)t->place[at] - 1),
				    id) == 0)
			break;
		at = (at + 1) & (t->room - 1);
	}
	return at;
}

void km_ids_add(struct km_ids *t, uint32_t i, uint32_t *other)
{
	const char *id = t->name(t->ctx, i);
	uint32_t hash = half_hash(id), at = seek(t, id, hash);

	*other = t->place[at] ? (uint32_t)t->place[at] - 1 : KM_NO_INDEX;
	if (!t->place[at])
		t->place[at] = (uint64_t)hash << 32 | (i + 1);
}

uint32_t km_ids_find(const struct km_ids *t, const char *id)
{
	uint32_t at;

	if (!t->room)
		return KM_NO_INDEX;
	at = seek(t, id, half_hash(id));
	return t->place[at] ? (uint32_t)t->place[at] - 1 : KM_NO_INDEX;
}

void km_ids_release(struct km_ids *t)
{
	km_arena_free(t->mem);
	t->mem = NULL;
	t->place = NULL;
	t->room = 0;
}
