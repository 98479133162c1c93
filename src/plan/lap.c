/* SPDX-License-Identifier: MIT */
#include "plan/lap.h"

bool km_lap_init(struct km_lap *l, struct km_arena *mem)
{
	uint32_t n = l->ncols, seats = 0;

	l->got = km_arena_alloc(mem, l->nrows + 1, sizeof *l->got);
	l->u = km_arena_alloc(mem, l->nrows + 1, sizeof *l->u);
	l->v = km_arena_alloc(mem, n + 1, sizeof *l->v);
	l->held = km_arena_alloc(mem, n + 1, sizeof *l->held);
	l->seat = km_arena_alloc(mem, n + 1, sizeof *l->seat);
	l->dist = km_arena_alloc(mem, n + 1, sizeof *l->dist);
	l->from = km_arena_alloc(mem, n + 1, sizeof *l->from);
	l->seen = km_arena_alloc(mem, n + 1, sizeof *l->seen);
	l->mark = km_arena_alloc(mem, n + 1, sizeof *l->mark);
	if (!l->got || !l->u || !l->v || !l->held || !l->seat || !l->dist ||
	    !l->from || !l->seen || !l->mark)
		return false;
	for (uint32_t c = 0; c < n; c++) {
		l->seat[c] = seats;
		seats += l->room[c];
	}
	l->holder = km_arena_alloc(mem, seats + 1, sizeof *l->holder);
	return l->holder != NULL;
}

static void sit(struct km_lap *l, uint32_t row, uint32_t option)
{
	uint32_t c = l->col_of[option];

	l->got[row] = option;
	if (c != KM_LAP_OWN)
		l->holder[l->seat[c] + l->held[c]++] = row;
}

/* Let row give up its column, which goes to another row by option. */
static void hand_over(struct km_lap *l, uint32_t row, uint32_t option)
{
	uint32_t c = l->col_of[option];
	uint32_t *h = l->holder + l->seat[c];

	while (*h != row)
		h++;
	*h = l->row_of[option];
	l->got[l->row_of[option]] = option;
}

/* The option by which a search ends, and how far it lies. */
struct end {
	uint32_t option;
	int64_t dist;
};

/* Reach the columns of a row that lies at base: an option with room ends the
 * search. */
static void scan(struct km_lap *l, uint32_t row, int64_t base, struct end *end,
		 uint32_t *nseen)
{
	const uint32_t *o = l->list + l->start[row];

	for (uint32_t n = l->len[row]; n-- > 0; o++) {
		uint32_t c = l->col_of[*o];
		bool own = c == KM_LAP_OWN;
		int64_t d = base + l->cost[*o] - (own ? 0 : l->v[c]);

		if (d >= end->dist)
			continue;
		if (own || l->held[c] < l->room[c]) {
			end->option = *o;
			end->dist = d;
		} else if (l->mark[c] == 0) {
			l->mark[c] = 1;
			l->seen[(*nseen)++] = c;
			l->dist[c] = d;
			l->from[c] = *o;
		} else if (l->mark[c] == 1 && d < l->dist[c]) {
			l->dist[c] = d;
			l->from[c] = *o;
		}
	}
}

/* Move the nearest reached column to the front; false when the end is as
 * near. */
static bool settle(struct km_lap *l, const struct end *end, uint32_t done,
		   uint32_t nseen)
{
	uint32_t best = nseen;
	int64_t least = end->dist;
	uint32_t c;

	for (uint32_t i = done; i < nseen; i++) {
		if (l->dist[l->seen[i]] < least) {
			least = l->dist[l->seen[i]];
			best = i;
		}
	}
	if (best == nseen)
		return false;
	c = l->seen[best];
	l->seen[best] = l->seen[done];
	l->seen[done] = c;
	l->mark[c] = 2;
	return true;
}

/* Along the path each row takes the option it was reached for. */
static void flip(struct km_lap *l, uint32_t start, uint32_t option)
{
	uint32_t row = l->row_of[option];
	uint32_t old = l->got[row];

	if (row == start) {
		sit(l, row, option);
		return;
	}
	sit(l, row, option);
	for (;;) {
		option = l->from[l->col_of[old]];
		uint32_t next = l->row_of[option];
		uint32_t its = l->got[next];

		hand_over(l, row, option);
		if (next == start)
			return;
		row = next;
		old = its;
	}
}

/* Seat one more row by a shortest path over full columns. */
static bool augment(struct km_lap *l, uint32_t start)
{
	struct end end = { KM_LAP_OWN, INT64_MAX };
	uint32_t done = 0, nseen = 0;

	scan(l, start, 0, &end, &nseen);
	while (settle(l, &end, done, nseen)) {
		uint32_t c = l->seen[done++];

		for (uint32_t i = 0; i < l->held[c]; i++) {
			uint32_t r = l->holder[l->seat[c] + i];
			int64_t u = l->cost[l->got[r]] - l->v[c];

			scan(l, r, l->dist[c] - u, &end, &nseen);
		}
	}
	for (uint32_t i = 0; i < nseen; i++) {
		uint32_t c = l->seen[i];

		if (i < done && end.option != KM_LAP_OWN)
			l->v[c] += l->dist[c] - end.dist;
		l->mark[c] = 0;
	}
	if (end.option == KM_LAP_OWN)
		return false;
	flip(l, start, end.option);
	return true;
}

bool km_lap_solve(struct km_lap *l, int64_t *sum)
{
	int64_t s = 0;

	for (uint32_t c = 0; c < l->ncols; c++) {
		l->v[c] = 0;
		l->held[c] = 0;
	}
	for (uint32_t r = 0; r < l->nrows; r++)
		if (!augment(l, r))
			return false;
	for (uint32_t r = 0; r < l->nrows; r++) {
		uint32_t o = l->got[r], c = l->col_of[o];

		l->u[r] = l->cost[o] - (c == KM_LAP_OWN ? 0 : l->v[c]);
		s += l->cost[o];
	}
	*sum = s;
	return true;
}
