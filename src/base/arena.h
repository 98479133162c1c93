/* SPDX-License-Identifier: MIT */
/*
 * arena - memory that lives exactly as long as one load, one audit or one
 * search.  The only file of the project that calls malloc and free.
 *
 * Owner    whoever calls km_arena_new() calls km_arena_free(); single objects
 *          are never freed.  Pointers stay valid until km_arena_free() or
 *          km_arena_reset().
 * Failure  NULL, when memory runs out, lim->arena_bytes would be passed, or
 *          lim->fault says so.
 */
#ifndef KM_BASE_ARENA_H
#define KM_BASE_ARENA_H

#include <stddef.h>

#include "kitmuster/status.h"

struct km_arena;

/* An empty arena; lim NULL means the default limits.  Keeps no pointer to lim
 * itself, only to lim->fault. */
struct km_arena *km_arena_new(const struct km_limits *lim);

/* Room for n objects of size bytes, zeroed and aligned for any object; NULL
 * also if n * size overflows. */
void *km_arena_alloc(struct km_arena *a, size_t n, size_t size);

/* As km_arena_alloc(), not zeroed: for buffers about to be overwritten. */
void *km_arena_raw(struct km_arena *a, size_t n, size_t size);

/* len bytes of text copied and ended with NUL, aligned to nothing. */
char *km_arena_text(struct km_arena *a, const char *text, size_t len);

/* n bytes copied. */
void *km_arena_copy(struct km_arena *a, const void *from, size_t n, size_t size);

/* Forget every object but keep one block for the next use: the scratch arena
 * of a list item. */
void km_arena_reset(struct km_arena *a);

/* Bytes taken from the system so far, for --stats and the benchmarks. */
size_t km_arena_bytes(const struct km_arena *a);

/* Give everything back, a itself included; NULL is fine. */
void km_arena_free(struct km_arena *a);

#endif
