/* SPDX-License-Identifier: MIT */
/*
 * links - through which each charge sees its pieces: one for each place that
 * may use it, and one for each column whose pieces several places could use
 * it by.
 */
#include "plan/solve_core.h"

/* One link for each (place, charge), those of a charge together. */
static bool number_links(struct km_arena *mem, struct km_core *c)
{
	uint32_t *last = km_arena_alloc(mem, c->ncharges + 1, sizeof *last);
	uint32_t *next = km_arena_alloc(mem, c->ncharges + 1, sizeof *next);

	if (!last || !next)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++) {
		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			uint32_t k = c->use[i].charge;

			c->charge[k].nlinks += last[k] != c->place_of[o] + 1;
			last[k] = c->place_of[o] + 1;
		}
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		c->charge[k].first = c->nlinks;
		c->nlinks += c->charge[k].nlinks;
		last[k] = 0;
	}
	c->nplace_links = c->nlinks;
	c->link_place = km_arena_alloc(mem, c->nlinks + 1,
				       sizeof *c->link_place);
	if (!c->link_place)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++) {
		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			uint32_t k = c->use[i].charge;

			next[k] += last[k] != c->place_of[o] + 1;
			last[k] = c->place_of[o] + 1;
			c->use[i].link = c->charge[k].first + next[k] - 1;
			c->link_place[c->use[i].link] = c->place_of[o];
		}
	}
	return true;
}

/* Scratch of the links of columns. */
struct ties {
	uint32_t *at, *list;	/* options by column */
	uint32_t *places, *last;	/* of a charge, within one column */
	uint32_t *next;		/* of a charge: its next link */
};

static bool list_columns(struct km_arena *mem, const struct km_core *c,
			 struct ties *t)
{
	uint32_t charges = c->ncharges + 1;

	t->at = km_arena_alloc(mem, (size_t)c->ncols + 2, sizeof *t->at);
	t->list = km_arena_alloc(mem, (size_t)c->noptions + 1,
				 sizeof *t->list);
	t->places = km_arena_alloc(mem, charges, sizeof *t->places);
	t->last = km_arena_alloc(mem, charges, sizeof *t->last);
	t->next = km_arena_alloc(mem, charges, sizeof *t->next);
	if (!t->at || !t->list || !t->places || !t->last || !t->next)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++)
		if (c->col_of[o] != KM_LAP_OWN)
			t->at[c->col_of[o] + 2]++;
	for (uint32_t r = 0; r < c->ncols; r++)
		t->at[r + 2] += t->at[r + 1];
	for (uint32_t o = 0; o < c->noptions; o++)
		if (c->col_of[o] != KM_LAP_OWN)
			t->list[t->at[c->col_of[o] + 1]++] = o;
	return true;
}

/* How many places use each charge by pieces of a column. */
static void count_places(const struct km_core *c, struct ties *t, uint32_t col)
{
	for (uint32_t n = t->at[col]; n < t->at[col + 1]; n++) {
		uint32_t o = t->list[n];

		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			uint32_t k = c->use[i].charge;

			t->places[k] += t->last[k] != c->place_of[o] + 1;
			t->last[k] = c->place_of[o] + 1;
		}
	}
}

/* Give out, or only count, the links of a column: one to each charge that
 * several places could use by it. */
static void tie_column(struct km_core *c, struct ties *t, uint32_t col,
		       bool count)
{
	for (uint32_t n = t->at[col]; n < t->at[col + 1]; n++) {
		uint32_t o = t->list[n];

		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			struct km_core_use *u = &c->use[i];

			if (t->places[u->charge] < 2)
				continue;
			if (count) {
				c->charge[u->charge].nties++;
				t->places[u->charge] = 0;
				continue;
			}
			u->tie = t->next[u->charge];
			c->link_room[u->tie] = c->room[col];
		}
	}
	for (uint32_t n = t->at[col]; n < t->at[col + 1]; n++) {
		uint32_t o = t->list[n];

		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			uint32_t k = c->use[i].charge;

			t->next[k] += !count && t->places[k] > 1;
			t->places[k] = t->last[k] = 0;
		}
	}
}

/*
 * A piece of a column is one of its charge, whichever place it goes to: where
 * many places may have the same few pieces, the links of places alone bound
 * the charge from far away.
 */
static bool tie_columns(struct km_arena *mem, struct km_core *c)
{
	struct ties t;

	if (!list_columns(mem, c, &t))
		return false;
	for (uint32_t r = 0; r < c->ncols; r++) {
		count_places(c, &t, r);
		tie_column(c, &t, r, true);
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		c->charge[k].tie = t.next[k] = c->nlinks;
		c->nlinks += c->charge[k].nties;
	}
	c->link_room = km_arena_alloc(mem, (size_t)c->nlinks + 1,
				      sizeof *c->link_room);
	if (!c->link_room)
		return false;
	for (uint32_t l = 0; l < c->nplace_links; l++)
		c->link_room[l] = 1;
	for (uint32_t i = 0; i < c->use_at[c->noptions]; i++)
		c->use[i].tie = c->nlinks;
	for (uint32_t r = 0; r < c->ncols; r++) {
		count_places(c, &t, r);
		tie_column(c, &t, r, false);
	}
	for (uint32_t l = 0; l < c->nlinks; l++)
		c->nunits += c->link_room[l];
	return true;
}

bool km_core_link(struct km_arena *mem, struct km_core *c)
{
	return number_links(mem, c) && tie_columns(mem, c);
}
