/* SPDX-License-Identifier: MIT */
#include "read/words.h"

#include <string.h>

#include "base/str.h"

struct set_row { const void *p; uint32_t n, hash; };
struct set {
	struct km_arena *mem;	/* of the rows; exchanged when they grow */
	struct set_row *row;
	size_t room, n;
};

struct book_row {
	const char *text;
	uintptr_t tag;
	uint32_t n, hash;
	union km_value v;
};
struct book {
	struct km_arena *mem;
	struct book_row *row;
	size_t room, n;
};

struct km_words {
	struct km_arena *own, *keep;
	struct km_limits lim;
	struct set texts, bytes;
	struct book book;
};

enum { FIRST_ROOM = 64 };

struct km_words *km_words_new(struct km_arena *keep,
			      const struct km_limits *lim)
{
	struct km_arena *own = km_arena_new(lim);
	struct km_words *w = own ? km_arena_alloc(own, 1, sizeof *w) : NULL;

	if (!w) {
		km_arena_free(own);
		return NULL;
	}
	w->own = own;
	w->keep = keep;
	if (lim)
		w->lim = *lim;
	return w;
}

void km_words_free(struct km_words *w)
{
	if (!w)
		return;
	km_arena_free(w->texts.mem);
	km_arena_free(w->bytes.mem);
	km_arena_free(w->book.mem);
	km_arena_free(w->own);
}

/* A new table of twice the rows in an arena of its own, so that the old one
 * can be given back at once. */
static void *bigger(const struct km_words *w, size_t room, size_t size,
		    struct km_arena **mem)
{
	void *rows;

	*mem = km_arena_new(&w->lim);
	if (!*mem)
		return NULL;
	rows = km_arena_alloc(*mem, room, size);
	if (!rows)
		km_arena_free(*mem);
	return rows;
}

static bool set_grow(const struct km_words *w, struct set *s)
{
	size_t room = s->room ? s->room * 2 : FIRST_ROOM, i, at;
	struct km_arena *mem;
	struct set_row *row = bigger(w, room, sizeof *row, &mem);

	if (!row)
		return false;
	for (i = 0; i < s->room; i++) {
		if (!s->row[i].p)
			continue;
		at = s->row[i].hash & (room - 1);
		while (row[at].p)
			at = (at + 1) & (room - 1);
		row[at] = s->row[i];
	}
	km_arena_free(s->mem);
	s->mem = mem;
	s->row = row;
	s->room = room;
	return true;
}

static const void *set_take(struct km_words *w, struct set *s, const void *p,
			    size_t n, bool text)
{
	uint32_t hash = (uint32_t)km_hash(p, n);
	struct set_row *r;
	size_t at;

	if ((s->n + 1) * 4 > s->room * 3 && !set_grow(w, s))
		return NULL;
	at = hash & (s->room - 1);
	while (s->row[at].p) {
		r = &s->row[at];
		if (r->hash == hash && r->n == n && km_same_bytes(r->p, p, n))
			return r->p;
		at = (at + 1) & (s->room - 1);
	}
	r = &s->row[at];
	r->p = text ? (const void *)km_arena_text(w->keep, p, n)
		    : km_arena_copy(w->keep, p, n, 1);
	if (!r->p)
		return NULL;
	r->n = (uint32_t)n;
	r->hash = hash;
	s->n++;
	return r->p;
}

const char *km_words_text(struct km_words *w, const char *p, size_t n)
{
	return set_take(w, &w->texts, p, n, true);
}

const void *km_words_bytes(struct km_words *w, const void *p, size_t n)
{
	return set_take(w, &w->bytes, p, n, false);
}

static uint32_t book_hash(uintptr_t tag, const char *p, size_t n)
{
	uint64_t h = km_hash(p, n) ^ ((uint64_t)tag * 0x9e3779b97f4a7c15u);

	return (uint32_t)(h ^ (h >> 32));
}

const union km_value *km_words_find(const struct km_words *w, uintptr_t tag,
				    const char *p, size_t n)
{
	const struct book *k = &w->book;
	uint32_t hash = book_hash(tag, p, n);
	size_t at;

	if (!k->room)
		return NULL;
	for (at = hash & (k->room - 1); k->row[at].text;
	     at = (at + 1) & (k->room - 1)) {
		const struct book_row *r = &k->row[at];

		if (r->hash == hash && r->tag == tag && r->n == n &&
		    km_same_bytes(r->text, p, n))
			return &r->v;
	}
	return NULL;
}

static bool book_grow(const struct km_words *w, struct book *k)
{
	size_t room = k->room ? k->room * 2 : FIRST_ROOM, i, at;
	struct km_arena *mem;
	struct book_row *row = bigger(w, room, sizeof *row, &mem);

	if (!row)
		return false;
	for (i = 0; i < k->room; i++) {
		if (!k->row[i].text)
			continue;
		at = k->row[i].hash & (room - 1);
		while (row[at].text)
			at = (at + 1) & (room - 1);
		row[at] = k->row[i];
	}
	km_arena_free(k->mem);
	k->mem = mem;
	k->row = row;
	k->room = room;
	return true;
}

bool km_words_keep(struct km_words *w, uintptr_t tag, const char *p, size_t n,
		   union km_value v)
{
	struct book *k = &w->book;
	const char *text = km_words_text(w, p, n);
	uint32_t hash = book_hash(tag, p, n);
	size_t at;

	if (!text || ((k->n + 1) * 4 > k->room * 3 && !book_grow(w, k)))
		return false;
	at = hash & (k->room - 1);
	while (k->row[at].text)
		at = (at + 1) & (k->room - 1);
	k->row[at] = (struct book_row){ text, tag, (uint32_t)n, hash, v };
	k->n++;
	return true;
}
