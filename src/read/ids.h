/* SPDX-License-Identifier: MIT */
/*
 * ids - which record has which id, ASCII case ignored.
 *
 * Eight bytes a place: half a hash and the index of the record; the id itself
 * stays in the record and is fetched through name().
 *
 * Owner    km_ids_release() gives the table back.
 */
#ifndef KM_READ_IDS_H
#define KM_READ_IDS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"

#define KM_NO_INDEX UINT32_MAX

struct km_ids {
	/* The id of record i; set both before the first use. */
	const char *(*name)(const void *ctx, uint32_t i);
	const void *ctx;
	struct km_arena *mem;
	uint64_t *place;
	uint32_t room;
};

/* Room for n records, so that the table need not grow; false: no memory. */
bool km_ids_reserve(struct km_ids *t, const struct km_limits *lim,
		    uint32_t n);
/* Have the place of record i at hand soon. */
void km_ids_expect(const struct km_ids *t, uint32_t i);

/*
 * Enter record i, in room that was reserved.  *other is the record that has the id already, which then
 * keeps it, or KM_NO_INDEX.
 */
void km_ids_add(struct km_ids *t, uint32_t i, uint32_t *other);
/* KM_NO_INDEX: no record has the id. */
uint32_t km_ids_find(const struct km_ids *t, const char *id);
void km_ids_release(struct km_ids *t);

#endif
