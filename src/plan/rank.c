/* SPDX-License-Identifier: MIT */
/*
 * rank - options held against each other: those of a place of which another is
 * as good in every plan, and those of two places that are the same.
 */
#include <stdlib.h>

#include "plan/solve_core.h"

#define LOOK_MOST 256	/* [choice] options held against another, at most */

static int by_size(int64_t a, int64_t b)
{
	return a < b ? -1 : a > b;
}

int km_core_compare(const struct km_core *c, uint32_t a, uint32_t b)
{
	uint32_t i = c->use_at[a], j = c->use_at[b];
	uint32_t n = c->use_at[a + 1] - i;
	int d = by_size(c->points[a], c->points[b]);

	d = d ? d : by_size(c->money[a], c->money[b]);
	d = d ? d : by_size(n, c->use_at[b + 1] - j);
	/* KM_LAP_OWN first: it is worth more */
	d = d ? d : by_size((uint32_t)(c->col_of[a] + 1),
			    (uint32_t)(c->col_of[b] + 1));
	for (; d == 0 && n > 0; n--, i++, j++) {
		d = by_size(c->use[i].charge, c->use[j].charge);
		d = d ? d : by_size(c->use[i].goods, c->use[j].goods);
	}
	return d;
}

static uint64_t stir(uint64_t h, uint64_t v)
{
	return (h ^ v) * UINT64_C(0x100000001b3) ^ h >> 29;
}

static uint64_t hash_of(const struct km_core *c, uint32_t o)
{
	uint64_t h = stir(stir(c->col_of[o], (uint64_t)c->points[o]),
			  (uint64_t)c->money[o]);

	for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++)
		h = stir(stir(h, c->use[i].charge),
			 (uint64_t)c->use[i].goods);
	return h;
}

/* Uses of an option in the order of charges. */
static void sort_uses(struct km_core *c, uint32_t o)
{
	for (uint32_t i = c->use_at[o] + 1; i < c->use_at[o + 1]; i++) {
		struct km_core_use u = c->use[i];
		uint32_t j = i;

		for (; j > c->use_at[o] && c->use[j - 1].charge > u.charge; j--)
			c->use[j] = c->use[j - 1];
		c->use[j] = u;
	}
}

/* What a parcel may cost more by bringing fewer goods; -1: there is no
 * telling. */
static int64_t loss(const struct km_core_charge *q, int64_t fewer)
{
	if (fewer <= 0 || (q->minimum_order == 0 &&
			   q->free_over == KM_SOLVE_FREE))
		return 0;
	return q->top_up && q->free_over == KM_SOLVE_FREE ? fewer : -1;
}

/* Is a, in each plan with b, as good or better?  It wants no column but b's,
 * and no charge but b's. */
static bool serves_as(const struct km_core *c, uint32_t a, uint32_t b)
{
	uint32_t i = c->use_at[a];
	int64_t more = c->money[b] - c->money[a];

	if (c->never[a] || more < 0 || c->points[a] > c->points[b] ||
	    (c->col_of[a] != KM_LAP_OWN && c->col_of[a] != c->col_of[b]))
		return false;
	for (uint32_t j = c->use_at[b]; j < c->use_at[b + 1]; j++) {
		const struct km_core_use *u = &c->use[j];
		int64_t goods = u->goods, l;

		if (i < c->use_at[a + 1] && c->use[i].charge == u->charge)
			goods -= c->use[i++].goods;
		l = loss(&c->charge[u->charge], goods);
		if (l < 0 || l > more)
			return false;
		more -= l;
	}
	return i == c->use_at[a + 1];
}

struct ranked {
	const struct km_core *core;
	uint32_t option;
	uint64_t charges;	/* a bit each, of 64 that are shared */
};

/* The first option of a row, in order, that serves as the i-th. */
static uint32_t find_better(const struct km_core *c, const struct ranked *row,
			    uint32_t i)
{
	for (uint32_t n = 0; n < i && n < LOOK_MOST; n++) {
		uint32_t o = row[n].option;

		if (!(row[n].charges & ~row[i].charges) && c->behind[o] == o &&
		    serves_as(c, o, row[i].option))
			return o;
	}
	return row[i].option;
}

static uint64_t charges_of(const struct km_core *c, uint32_t o)
{
	uint64_t bits = 0;

	for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++)
		bits |= (uint64_t)1 << c->use[i].charge % 64;
	return bits;
}

static int by_worth(const void *a, const void *b)
{
	const struct ranked *p = a, *q = b;
	int d = km_core_compare(p->core, p->option, q->option);

	return d ? d : by_size(p->option, q->option);
}

bool km_core_rank(struct km_arena *mem, struct km_core *c)
{
	size_t n = (size_t)c->noptions + 1;
	struct ranked *v = km_arena_alloc(mem, n, sizeof *v);
	uint32_t *row = km_arena_alloc(mem, n, sizeof *row);

	c->behind = km_arena_alloc(mem, n, sizeof *c->behind);
	c->hash = km_arena_alloc(mem, n, sizeof *c->hash);
	if (!v || !row || !c->behind || !c->hash)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++) {
		sort_uses(c, o);
		c->hash[o] = hash_of(c, o);
		v[o] = (struct ranked){ c, o, charges_of(c, o) };
	}
	for (uint32_t s = 0; s < c->nplaces; s++) {
		uint32_t first = c->start[s], len = c->start[s + 1] - first;

		qsort(v + first, len, sizeof *v, by_worth);
		for (uint32_t i = 0; i < len; i++) {
			row[first + i] = v[first + i].option;
			c->behind[v[first + i].option] =
				find_better(c, v + first, i);
		}
	}
	c->by_worth = row;		/* ranked: only now */
	return true;
}

bool km_core_may(const struct km_core *c, uint32_t o, const uint8_t *barred)
{
	if (c->never[o] || (barred && barred[c->orig[o]]))
		return false;
	return c->behind[o] == o ||
	       (barred && barred[c->orig[c->behind[o]]]);
}
