/* SPDX-License-Identifier: MIT */
/* Part numbers that take the place of each other: no loops. */
#include <string.h>

#include "base/str.h"
#include "read/link.h"

/* The first row, in sorted order, whose old part is `part`; n if none. */
static uint32_t first_of(const struct km_prices *p, const char *part)
{
	uint32_t low = 0, high = p->n_superseded, mid;

	while (low < high) {
		mid = low + (high - low) / 2;
		if (km_natural_compare(p->superseded[mid].old_part, part) < 0)
			low = mid + 1;
		else
			high = mid;
	}
	if (low < p->n_superseded &&
	    !strcmp(p->superseded[low].old_part, part))
		return low;
	return p->n_superseded;
}

static void say_loop(struct km_reader *r, const struct km_supersession *last,
		     const struct km_supersession *first)
{
	struct km_diag *one;

	one = km_diag_add(r->b.d, KM_M_SUPERSESSION_LOOP, last->at,
			  last->old_part, last->new_part);
	if (last != first)
		km_diag_other(r->b.d, one, first->at, "where the loop begins");
	km_diag_hint(r->b.d, one, "a part that each may replace is written "
		     "once, with 'both_ways: yes'");
}

/*
 * A walk in depth over the rows, without recursion: row i leads to the rows
 * whose old part is its new one.  A row that is met again while it is open
 * closes a loop.
 */
void km_link_supersessions(struct km_reader *r)
{
	enum { NEW, OPEN, DONE };
	const struct km_prices *p = r->load->prices;
	const struct km_supersession *s = p->superseded;
	uint32_t n = p->n_superseded, i, top, to, depth;
	uint8_t *state = km_arena_alloc(r->b.scratch, n + 1, 1);
	uint32_t *stack = km_arena_alloc(r->b.scratch, n + 1, sizeof *stack);
	uint32_t *next = km_arena_alloc(r->b.scratch, n + 1, sizeof *next);

	if (!state || !stack || !next) {
		r->b.nomem = true;
		return;
	}
	for (i = 0; i < n; i++)
		if (!s[i].old_part || !s[i].new_part)
			return;		/* in error: a message was given */
	for (i = 0; i < n; i++)
		next[i] = first_of(p, s[i].new_part);
	for (i = 0; i < n; i++) {
		if (state[i] != NEW)
			continue;
		depth = 1;
		stack[0] = i;
		state[i] = OPEN;
		while (depth) {
			top = stack[depth - 1];
			to = next[top]++;
			if (to >= n ||
			    strcmp(s[to].old_part, s[top].new_part) != 0) {
				next[top] = n;
				state[top] = DONE;
				depth--;
			} else if (state[to] == OPEN) {
				say_loop(r, &s[top], &s[to]);
			} else if (state[to] == NEW) {
				state[to] = OPEN;
				stack[depth++] = to;
			}
		}
	}
}
