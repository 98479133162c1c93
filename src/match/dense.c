/* SPDX-License-Identifier: MIT */
#include "match/assign.h"

#include <stdbool.h>
#include <string.h>

#include "base/arena.h"

/*
 * Jonker and Volgenant 1987, in integers.  Throughout, cost - v of a row is
 * least at the column the row has; v starts at the least cost of a column and
 * only falls.
 *
 * No sum overflows: taking a column lowers the lowest price by at most the
 * spread of the costs, 2^41, and there are fewer than 2^18 such steps in the
 * two passes of reduce_rows; a search ends at a free column, whose price
 * never fell, and so lowers no price further than 2^42.  Prices stay within
 * 2^60, differences and distances within 2^62.
 */
#define NOBODY UINT32_MAX

struct dense {
	uint32_t n;
	const int64_t *cost;
	int64_t *v;		/* price of a column */
	int64_t *dist;		/* of a column, in one search */
	uint32_t *got;		/* column of a row */
	uint32_t *holder;	/* row of a column */
	uint32_t *list;		/* rows without a column */
	uint32_t *from;		/* row a column was reached from */
	uint32_t *cols;		/* columns: settled, at hand, the rest */
};

static const int64_t *row_of(const struct dense *d, uint32_t r)
{
	return d->cost + (size_t)r * d->n;
}

/* Lower each price to the least cost of its column, kept by its first row. */
static bool column_minima(struct dense *d)
{
	for (uint32_t r = 0; r < d->n; r++) {
		const int64_t *cost = row_of(d, r);

		for (uint32_t c = 0; c < d->n; c++) {
			if (cost[c] > KM_ASSIGN_GAIN ||
			    cost[c] < -KM_ASSIGN_GAIN)
				return false;
			if (r == 0 || cost[c] < d->v[c]) {
				d->v[c] = cost[c];
				d->holder[c] = r;
			}
		}
	}
	return true;
}

/* Each row takes one of the columns that are least in it; count how many it
 * could have had, in d->from. */
static void reduce_columns(struct dense *d)
{
	for (uint32_t r = 0; r < d->n; r++)
		d->got[r] = NOBODY;
	for (uint32_t c = d->n; c-- > 0;) {
		uint32_t r = d->holder[c];

		d->from[r]++;
		if (d->got[r] == NOBODY)
			d->got[r] = c;
		else
			d->holder[c] = NOBODY;
	}
}

/* A row with one column only lowers its price to where its second best column
 * draws level; the rows without any are listed. */
static uint32_t transfer_reduction(struct dense *d)
{
	uint32_t nfree = 0;

	for (uint32_t r = 0; r < d->n; r++) {
		const int64_t *cost = row_of(d, r);
		int64_t least = INT64_MAX;

		if (d->got[r] == NOBODY)
			d->list[nfree++] = r;
		if (d->from[r] != 1 || d->n == 1)
			continue;
		for (uint32_t c = 0; c < d->n; c++)
			if (c != d->got[r] && cost[c] - d->v[c] < least)
				least = cost[c] - d->v[c];
		d->v[d->got[r]] -= least - (cost[d->got[r]] - d->v[d->got[r]]);
	}
	return nfree;
}

struct two {
	int64_t least, second;
	uint32_t col, next;	/* where they are; next NOBODY if n is 1 */
};

static struct two two_least(const struct dense *d, uint32_t r)
{
	const int64_t *cost = row_of(d, r), *v = d->v;
	struct two t = { cost[0] - v[0], INT64_MAX, 0, NOBODY };

	for (uint32_t c = 1; c < d->n; c++) {
		int64_t h = cost[c] - v[c];

		if (h >= t.second)
			continue;
		if (h >= t.least) {
			t.second = h;
			t.next = c;
		} else {
			t.second = t.least;
			t.next = t.col;
			t.least = h;
			t.col = c;
		}
	}
	return t;
}

/*
 * Each row without a column takes its best one and lowers the price to where
 * its second best draws level; who held it goes on at once, or in the next
 * pass if nothing was lowered.  Steps are limited: with wide costs rows could
 * go on outbidding each other by small amounts.
 */
static uint32_t reduce_rows(struct dense *d, uint32_t nfree)
{
	uint32_t kept = 0, at = 0;
	uint64_t steps = 4 * (uint64_t)d->n;

	while (at < nfree) {
		uint32_t r = d->list[at++], col, old;
		struct two t = two_least(d, r);

		col = t.col;
		if (t.next != NOBODY && t.second == t.least &&
		    d->holder[col] != NOBODY)
			col = t.next;
		old = d->holder[col];
		if (t.next != NOBODY && t.second > t.least)
			d->v[col] -= t.second - t.least;
		d->got[r] = col;
		d->holder[col] = r;
		if (old == NOBODY)
			continue;
		d->got[old] = NOBODY;
		if (t.second > t.least && steps > 0) {
			steps--;
			d->list[--at] = old;
		} else {
			d->list[kept++] = old;
		}
	}
	return kept;
}

/* One search: cols[0 .. low) are settled, cols[low .. high) at distance min,
 * the rest farther away. */
struct reach {
	uint32_t low, high;
	int64_t min;
};

/* Bring the nearest of the far columns to hand; a free one among them ends
 * the search. */
static uint32_t bring_nearest(struct dense *d, struct reach *s)
{
	uint32_t *cols = d->cols;

	s->min = d->dist[cols[s->high]];
	for (uint32_t k = s->low; k < d->n; k++) {
		uint32_t c = cols[k];

		if (d->dist[c] > s->min)
			continue;
		if (d->dist[c] < s->min) {
			s->high = s->low;
			s->min = d->dist[c];
		}
		cols[k] = cols[s->high];
		cols[s->high++] = c;
	}
	for (uint32_t k = s->low; k < s->high; k++)
		if (d->holder[cols[k]] == NOBODY)
			return cols[k];
	return NOBODY;
}

/* Settle one column at hand: its row reaches out.  A free column at the same
 * distance ends the search. */
static uint32_t settle_one(struct dense *d, struct reach *s)
{
	uint32_t *cols = d->cols, c1 = cols[s->low++], r = d->holder[c1];
	const int64_t *cost = row_of(d, r);
	int64_t base = s->min - (cost[c1] - d->v[c1]);

	for (uint32_t k = s->high; k < d->n; k++) {
		uint32_t c = cols[k];
		int64_t nd = base + cost[c] - d->v[c];

		if (nd >= d->dist[c])
			continue;
		d->dist[c] = nd;
		d->from[c] = r;
		if (nd > s->min)
			continue;
		if (d->holder[c] == NOBODY)
			return c;
		cols[k] = cols[s->high];
		cols[s->high++] = c;
	}
	return NOBODY;
}

/* The nearest free column from a row without one; prices shifted to match. */
static uint32_t search(struct dense *d, uint32_t start)
{
	const int64_t *cost = row_of(d, start);
	struct reach s = { 0, 0, 0 };
	uint32_t end = NOBODY, settled = 0;

	for (uint32_t c = 0; c < d->n; c++) {
		d->dist[c] = cost[c] - d->v[c];
		d->from[c] = start;
		d->cols[c] = c;
	}
	while (end == NOBODY) {
		if (s.low == s.high) {
			settled = s.low;
			end = bring_nearest(d, &s);
		} else {
			end = settle_one(d, &s);
		}
	}
	for (uint32_t k = 0; k < settled; k++) {
		uint32_t c = d->cols[k];

		d->v[c] += d->dist[c] - s.min;
	}
	return end;
}

static void augment(struct dense *d, uint32_t start)
{
	uint32_t c = search(d, start);

	for (;;) {
		uint32_t r = d->from[c], next = d->got[r];

		d->got[r] = c;
		d->holder[c] = r;
		if (r == start)
			return;
		c = next;
	}
}

enum km_status km_assign_dense(struct km_arena *scratch, uint32_t n,
			       const int64_t *cost, uint32_t *column)
{
	struct dense d = { .n = n, .cost = cost };
	size_t room = (size_t)n + 1;
	uint32_t nfree;

	if (n > KM_DENSE_SIDE)
		return KM_ERANGE;
	d.v = km_arena_alloc(scratch, room, sizeof *d.v);
	d.dist = km_arena_alloc(scratch, room, sizeof *d.dist);
	d.got = km_arena_alloc(scratch, room, sizeof *d.got);
	d.holder = km_arena_alloc(scratch, room, sizeof *d.holder);
	d.list = km_arena_alloc(scratch, room, sizeof *d.list);
	d.from = km_arena_alloc(scratch, room, sizeof *d.from);
	d.cols = km_arena_alloc(scratch, room, sizeof *d.cols);
	if (!d.v || !d.dist || !d.got || !d.holder || !d.list || !d.from ||
	    !d.cols)
		return KM_ENOMEM;
	if (!column_minima(&d))
		return KM_ERANGE;
	reduce_columns(&d);
	nfree = transfer_reduction(&d);
	for (int pass = 0; pass < 2; pass++)
		nfree = reduce_rows(&d, nfree);
	for (uint32_t i = 0; i < nfree; i++)
		augment(&d, d.list[i]);
	if (n > 0)
		memcpy(column, d.got, n * sizeof *column);
	return KM_OK;
}
