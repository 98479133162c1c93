/* SPDX-License-Identifier: MIT */
/* branch_pick - which question to put next, and plans near a bound. */
#include <string.h>

#include "plan/branch.h"

static uint32_t bits(uint32_t v)
{
	uint32_t n = 0;

	for (; v; v &= v - 1)
		n++;
	return n;
}

/* How undecided a share of 32 is: 0 to 16. */
static int64_t doubt(uint32_t share)
{
	return share < 16 ? share : 32 - share;
}

static uint32_t split_of(const struct km_relax *r, uint32_t k)
{
	uint32_t low = r->floor[k], n = r->mean[k] / 256;
	uint32_t high = r->users[k] < r->ceiling[k] ? r->users[k] :
						      r->ceiling[k];

	if (r->state[k] != KM_RELAX_STEPS || low + 1 >= high)
		return low;
	return n < low ? low : n >= high ? high - 1 : n;
}

/* The charge whose answers changed most, weighed by what it costs. */
static int64_t best_charge(const struct km_relax *r, struct km_branch *out)
{
	int64_t best = -1;

	for (uint32_t k = 0; k < r->core->ncharges; k++) {
		const struct km_core_charge *q = &r->core->charge[k];
		bool postage = q->kind == KM_SOLVE_PARCEL && r->floor[k] > 0;
		uint32_t share = bits(r->open_bits[k]);
		int64_t score;

		if (!km_relax_undecided(r, k))
			continue;
		if (postage)
			share = bits(r->free_bits[k]);
		else if (r->state[k] == KM_RELAX_STEPS)
			share = bits(r->clash_bits[k]) / 2;
		score = doubt(share);
		if (score <= best)
			continue;
		best = score;
		out->kind = postage ? KM_BRANCH_POSTAGE : KM_BRANCH_PIECES;
		out->id = k;
		out->n = split_of(r, k);
		out->side = postage || r->state[k] != KM_RELAX_STEPS ?
			    share >= 16 : r->mean[k] / 256 > out->n;
	}
	return best;
}

static uint32_t times(const uint32_t *recent, uint32_t o)
{
	uint32_t n = 0;

	for (uint32_t i = 0; i < KM_RELAX_TURNS; i++)
		n += recent[i] == o;
	return n;
}

static int64_t best_option(const struct km_relax *r, struct km_branch *out)
{
	const struct km_core *c = r->core;
	int64_t best = -1;

	for (uint32_t s = 0; s < c->nplaces; s++) {
		const uint32_t *row = r->list + c->start[s];
		const uint32_t *recent = r->recent +
					 (size_t)s * KM_RELAX_TURNS;

		for (uint32_t i = 0; r->len[s] > 1 && i < r->len[s]; i++) {
			uint32_t n = times(recent, row[i]);

			if (doubt(n) <= best)
				continue;
			best = doubt(n);
			out->kind = KM_BRANCH_OPTION;
			out->id = s;
			out->n = row[i];
			out->side = n >= 16;
		}
	}
	return best;
}

void km_tree_choose(const struct km_tree *t, struct km_branch *out)
{
	struct km_branch other;
	int64_t charge = best_charge(t->relax, out);

	if (charge >= 2)
		return;
	if (best_option(t->relax, &other) > charge || charge < 0)
		*out = other;
}

/* Live options that use no charge but those of the last choice. */
static void list_few(struct km_tree *t)
{
	const struct km_relax *r = t->relax;
	const struct km_core *c = t->core;

	for (uint32_t s = 0; s < c->nplaces; s++) {
		const uint32_t *row = r->list + c->start[s];
		uint32_t *few = t->mend_list + c->start[s], n = 0;

		for (uint32_t i = 0; i < r->len[s]; i++) {
			uint32_t o = row[i], j = c->use_at[o];
			int64_t cost = r->cost[o];

			for (; j < c->use_at[o + 1]; j++) {
				if (r->used[c->use[j].charge] == 0)
					break;
				cost -= r->mult[c->use[j].link] +
					r->mult[c->use[j].tie];
			}
			if (j < c->use_at[o + 1])
				continue;
			few[n++] = o;
			t->mend_cost[o] = cost;
		}
		t->mend_len[s] = n;
	}
}

void km_tree_mend(struct km_tree *t)
{
	int64_t sum;

	list_few(t);
	if (km_lap_solve(&t->mend, &sum))
		km_tree_offer(t, t->mend.got);
}
