/* SPDX-License-Identifier: MIT */
#define _DEFAULT_SOURCE		/* madvise */
#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

/* Blocks double from the first size to the last, so that a small load stays
 * small and a large one wastes at most a few per cent. */
#define FIRST_BLOCK ((size_t)4096)
#define LAST_BLOCK  ((size_t)1 << 20)
#define ALIGN	    alignof(max_align_t)

struct block {
	struct block *next;	/* older block */
	size_t size;		/* usable bytes */
	max_align_t data[];
};

struct km_arena {
	struct block *top;
	size_t used;		/* of top */
	size_t total;		/* of all blocks, headers included */
	size_t ceiling;		/* 0: none */
	size_t next_size;
	struct km_fault *fault;
};

static int must_fail(struct km_fault *f)
{
	if (!f)
		return 0;
	f->seen++;
	if (!f->fail_at)
		return 0;
	return f->and_after ? f->seen >= f->fail_at : f->seen == f->fail_at;
}

struct km_arena *km_arena_new(const struct km_limits *lim)
{
	struct km_arena *a;

	if (lim && must_fail(lim->fault))
		return NULL;
	a = calloc(1, sizeof *a);
	if (!a)
		return NULL;
	a->next_size = FIRST_BLOCK;
	a->total = sizeof *a;
	if (lim) {
		a->ceiling = lim->arena_bytes;
		a->fault = lim->fault;
	}
	return a;
}

/* A large block is new from the system and will be filled: have its pages in
 * one call, not one fault each.  Where that is not known, nothing is lost. */
static void fill_pages(void *p, size_t n)
{
#ifdef MADV_POPULATE_WRITE
	const uintptr_t page = 4096;
	uintptr_t from = ((uintptr_t)p + page - 1) & ~(page - 1);

	if (n >= LAST_BLOCK)
		madvise((void *)from,
			((uintptr_t)p + n - from) & ~(page - 1),
			MADV_POPULATE_WRITE);
#else
	(void)p;
	(void)n;
#endif
}

static int grow(struct km_arena *a, size_t need)
{
	size_t size = need > a->next_size ? need : a->next_size;
	size_t all;
	struct block *b;

	if (size > SIZE_MAX - sizeof *b - a->total)
		return 0;
	all = size + sizeof *b;
	if (a->ceiling && a->total + all > a->ceiling)
		return 0;
	b = malloc(all);
	if (!b)
		return 0;
	fill_pages(b, all);
	b->next = a->top;
	b->size = size;
	a->top = b;
	a->used = 0;
	a->total += all;
	if (a->next_size < LAST_BLOCK)
		a->next_size *= 2;
	return 1;
}

/* bytes at an offset that is a multiple of align; NULL when there is none */
static void *take(struct km_arena *a, size_t bytes, size_t align)
{
	size_t at = (a->used + align - 1) & ~(align - 1);

	if (must_fail(a->fault))
		return NULL;
	if (!a->top || at > a->top->size || bytes > a->top->size - at) {
		if (!grow(a, bytes))
			return NULL;
		at = 0;
	}
	a->used = at + bytes;
	return (char *)a->top->data + at;
}

void *km_arena_raw(struct km_arena *a, size_t n, size_t size)
{
	if (size && n > SIZE_MAX / 2 / size)
		return NULL;
	return take(a, n * size, ALIGN);
}

void *km_arena_alloc(struct km_arena *a, size_t n, size_t size)
{
	void *p = km_arena_raw(a, n, size);

	if (p)
		memset(p, 0, n * size);
	return p;
}

char *km_arena_text(struct km_arena *a, const char *text, size_t len)
{
	char *p;

	if (len > SIZE_MAX / 2)
		return NULL;
	p = take(a, len + 1, 1);
	if (!p)
		return NULL;
	if (len)
		memcpy(p, text, len);
	p[len] = '\0';
	return p;
}

void *km_arena_copy(struct km_arena *a, const void *from, size_t n, size_t size)
{
	void *p = km_arena_raw(a, n, size);

	if (p && n && size)
		memcpy(p, from, n * size);
	return p;
}

static void free_blocks(struct km_arena *a, struct block *keep)
{
	struct block *b = a->top;

	while (b) {
		struct block *next = b->next;

		if (b != keep) {
			a->total -= b->size + sizeof *b;
			free(b);
		}
		b = next;
	}
}

void km_arena_reset(struct km_arena *a)
{
	struct block *keep = a->top;

	if (!keep)
		return;
	/* an outsize block of one large item is not kept for ever */
	if (keep->size > LAST_BLOCK)
		keep = NULL;
	free_blocks(a, keep);
	if (keep)
		keep->next = NULL;
	a->top = keep;
	a->used = 0;
}

size_t km_arena_bytes(const struct km_arena *a)
{
	return a->total;
}

void km_arena_free(struct km_arena *a)
{
	if (!a)
		return;
	free_blocks(a, NULL);
	free(a);
}
