/* SPDX-License-Identifier: MIT */
/*
 * relax_alike - places that have the same options, like the pieces of one
 * slot.  Any plan stays as good when they change what they have, so only the
 * plans in which they have it in order need to be looked for.
 */
#include <stdlib.h>

#include "plan/relax.h"

/* The live options of a place in order; the number of them.  They are not yet
 * moved. */
static uint32_t ranked(const struct km_relax *r, uint32_t s, uint32_t *at)
{
	const struct km_core *c = r->core;

	while (*at < c->start[s + 1] && r->rank[c->by_worth[*at]] == 0)
		++*at;
	return *at < c->start[s + 1] ? c->by_worth[(*at)++] : KM_SOLVE_NONE;
}

/* Number the live options of a place from 1, in order; 0: not live. */
static void number(struct km_relax *r, uint32_t s)
{
	const struct km_core *c = r->core;
	uint64_t h = r->len[s];
	uint32_t n = 0;

	for (uint32_t o = c->start[s]; o < c->start[s + 1]; o++)
		r->rank[o] = 0;
	for (uint32_t i = 0; i < r->len[s]; i++)
		r->rank[r->list[c->start[s] + i]] = 1;
	for (uint32_t i = c->start[s]; i < c->start[s + 1]; i++) {
		uint32_t o = c->by_worth[i];

		if (r->rank[o] == 0)
			continue;
		r->rank[o] = ++n;
		h = (h ^ c->hash[o]) * UINT64_C(0x9e3779b97f4a7c15);
		h ^= h >> 31;
	}
	r->print[s] = h;
}

static bool same(const struct km_relax *r, uint32_t a, uint32_t b)
{
	uint32_t i = r->core->start[a], j = r->core->start[b], o, p;

	if (r->print[a] != r->print[b] || r->len[a] != r->len[b])
		return false;
	do {
		o = ranked(r, a, &i);
		p = ranked(r, b, &j);
		if (o != KM_SOLVE_NONE && p != KM_SOLVE_NONE &&
		    km_core_compare(r->core, o, p) != 0)
			return false;
	} while (o != KM_SOLVE_NONE && p != KM_SOLVE_NONE);
	return o == p;
}

/* Sort places by their print, then by number: a heap, in place. */
static bool before(const struct km_relax *r, uint32_t a, uint32_t b)
{
	return r->print[a] != r->print[b] ? r->print[a] < r->print[b] : a < b;
}

static void sink(const struct km_relax *r, uint32_t *v, uint32_t i, uint32_t n)
{
	for (;;) {
		uint32_t top = i, l = 2 * i + 1, t;

		if (l < n && before(r, v[top], v[l]))
			top = l;
		if (l + 1 < n && before(r, v[top], v[l + 1]))
			top = l + 1;
		if (top == i)
			return;
		t = v[i];
		v[i] = v[top];
		v[top] = t;
		i = top;
	}
}

static void sort_places(struct km_relax *r)
{
	uint32_t n = r->core->nplaces, *v = r->scratch;

	for (uint32_t s = 0; s < n; s++)
		v[s] = s;
	for (uint32_t i = n / 2; i-- > 0;)
		sink(r, v, i, n);
	while (n > 1) {
		uint32_t t = v[0];

		v[0] = v[--n];
		v[n] = t;
		sink(r, v, 0, n);
	}
}

void km_relax_find_alike(struct km_relax *r)
{
	uint32_t n = r->core->nplaces;

	for (uint32_t s = 0; s < n; s++) {
		number(r, s);
		r->alike[s] = KM_SOLVE_NONE;
		r->leads[s] = 0;
	}
	sort_places(r);
	for (uint32_t i = 1; i < n; i++) {
		uint32_t a = r->scratch[i - 1], b = r->scratch[i];

		if (r->len[a] < 2 || !same(r, a, b))
			continue;
		r->alike[a] = b;
		r->leads[a] |= i == 1 || r->alike[r->scratch[i - 2]] != a;
	}
}

/* The lowest, or highest, rank that is left to a place. */
static uint32_t edge(const struct km_relax *r, uint32_t s, bool highest)
{
	const uint32_t *row = r->list + r->core->start[s];
	uint32_t best = r->rank[row[0]];

	for (uint32_t i = 1; i < r->len[s]; i++) {
		uint32_t n = r->rank[row[i]];

		if (highest ? n > best : n < best)
			best = n;
	}
	return best;
}

static bool drop_beyond(struct km_relax *r, uint32_t s, uint32_t rank,
			bool above)
{
	const uint32_t *row = r->list + r->core->start[s];

	for (uint32_t i = r->len[s]; i-- > 0;)
		if (above ? r->rank[row[i]] > rank : r->rank[row[i]] < rank)
			km_relax_drop(r, s, i);
	return r->len[s] > 0;
}

/* Each place has nothing below what the one before it has, and nothing above
 * what the one after it has. */
static bool put_in_order(struct km_relax *r, uint32_t lead)
{
	uint32_t n = 0, *chain = r->scratch;

	for (uint32_t s = lead; s != KM_SOLVE_NONE; s = r->alike[s])
		chain[n++] = s;
	for (uint32_t i = 0; i < n; i++)
		if (r->len[chain[i]] == 0)
			return false;
	for (uint32_t i = 1; i < n; i++)
		if (!drop_beyond(r, chain[i], edge(r, chain[i - 1], false),
				 false))
			return false;
	for (uint32_t i = n - 1; i-- > 0;)
		if (!drop_beyond(r, chain[i], edge(r, chain[i + 1], true),
				 true))
			return false;
	return true;
}

bool km_relax_in_order(struct km_relax *r)
{
	for (uint32_t s = 0; s < r->core->nplaces; s++)
		if (r->leads[s] && !put_in_order(r, s))
			return false;
	return true;
}
