/* SPDX-License-Identifier: MIT */
#include "read/ids.h"

#include "base/str.h"

enum { FIRST_ROOM = 64 };

static uint32_t half_hash(const char *id)
{
	uint64_t h = km_case_hash(id);

	return (uint32_t)(h ^ (h >> 32));
}

static bool grow(struct km_ids *t, const struct km_limits *lim)
{
	uint32_t room = t->room ? t->room * 2 : FIRST_ROOM, i, at;
	struct km_arena *mem = km_arena_new(lim);
	uint64_t *place = mem ? km_arena_alloc(mem, room, sizeof *place) : NULL;

	if (!place) {
		km_arena_free(mem);
		return false;
	}
	for (i = 0; i < t->room; i++) {
		if (!t->place[i])
			continue;
		at = (uint32_t)(t->place[i] >> 32) & (room - 1);
		while (place[at])
			at = (at + 1) & (room - 1);
		place[at] = t->place[i];
	}
	km_arena_free(t->mem);
	t->mem = mem;
	t->place = place;
	t->room = room;
	return true;
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

bool km_ids_add(struct km_ids *t, const struct km_limits *lim, uint32_t i,
		uint32_t *other)
{
	const char *id = t->name(t->ctx, i);
	uint32_t hash = half_hash(id), at;

	if ((uint64_t)(t->n + 1) * 4 > (uint64_t)t->room * 3 && !grow(t, lim))
		return false;
	at = seek(t, id, hash);
	*other = t->place[at] ? (uint32_t)t->place[at] - 1 : KM_NO_INDEX;
	if (!t->place[at]) {
		t->place[at] = (uint64_t)hash << 32 | (i + 1);
		t->n++;
	}
	return true;
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
	t->room = t->n = 0;
}
