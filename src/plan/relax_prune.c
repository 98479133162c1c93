/* SPDX-License-Identifier: MIT */
/*
 * relax_prune - what plain counting rules out, before any bound: floors that
 * cannot be reached, orders that stay too small, options that alone break the
 * budget or the limit.
 */
#include "plan/relax.h"

static bool uses(const struct km_core *c, uint32_t o, uint32_t charge)
{
	for (uint32_t j = c->use_at[o]; j < c->use_at[o + 1]; j++)
		if (c->use[j].charge == charge)
			return true;
	return false;
}

/* As many places as the floor: each of them must use the charge. */
static bool force_users(struct km_relax *r, uint32_t k)
{
	const struct km_core *c = r->core;
	const struct km_core_charge *q = &c->charge[k];

	for (uint32_t l = q->first; l < q->first + q->nlinks; l++) {
		uint32_t s = c->link_place[l];
		const uint32_t *row = r->list + c->start[s];

		if (!r->live[l] || r->live[l] == r->len[s])
			continue;
		for (uint32_t i = r->len[s]; i-- > 0;)
			if (!uses(c, row[i], k))
				km_relax_drop(r, s, i);
	}
	return true;
}

/* A plan with fewer pieces than the floor is looked for elsewhere. */
static bool reach_floor(struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];
	uint32_t users = 0;

	if (r->floor[k] == 0)
		return true;
	for (uint32_t l = q->first; l < q->first + q->nlinks; l++)
		users += r->live[l] != 0;
	if (users < r->floor[k] || r->ceiling[k] < r->floor[k])
		return false;
	return users > r->floor[k] || force_users(r, k);
}

/* The most goods each parcel could get, in r->goods. */
static void most_goods(struct km_relax *r)
{
	const struct km_core *c = r->core;
	int64_t *top = r->sums;		/* of a link */

	for (uint32_t l = 0; l < c->nlinks; l++)
		top[l] = 0;
	for (uint32_t s = 0; s < c->nplaces; s++) {
		const uint32_t *row = r->list + c->start[s];

		for (uint32_t i = 0; i < r->len[s]; i++)
			for (uint32_t j = c->use_at[row[i]];
			     j < c->use_at[row[i] + 1]; j++)
				if (c->use[j].goods > top[c->use[j].link])
					top[c->use[j].link] = c->use[j].goods;
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];

		r->goods[k] = 0;
		for (uint32_t l = q->first; l < q->first + q->nlinks; l++)
			r->goods[k] += top[l];
	}
}

static bool reach_goods(struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];

	if (q->kind != KM_SOLVE_PARCEL || r->ceiling[k] == 0)
		return true;
	if (r->goods[k] < q->free_over) {
		if (r->mode[k] == 2)
			return false;
		r->mode[k] = 1;
	}
	if (q->top_up || r->goods[k] >= q->minimum_order)
		return true;
	return r->floor[k] == 0 && km_relax_close(r, k);
}

/* What a charge costs at least, once it is used. */
static int64_t least_open(const struct km_relax *r, uint32_t k, uint32_t n)
{
	const struct km_core_charge *q = &r->core->charge[k];
	int64_t money;

	if (q->kind == KM_SOLVE_COUNT)
		return km_core_cost(q, n);
	money = r->mode[k] == 1 ? q->postage : 0;
	if (q->top_up && q->minimum_order > r->goods[k])
		money += q->minimum_order - r->goods[k];
	return money;
}

/* Money of an option and of the charges that nothing else is known to use. */
static int64_t least_money(const struct km_relax *r, uint32_t o)
{
	const struct km_core *c = r->core;
	int64_t money = c->money[o];

	for (uint32_t j = c->use_at[o]; j < c->use_at[o + 1]; j++)
		if (r->floor[c->use[j].charge] == 0)
			money += least_open(r, c->use[j].charge, 1);
	return money;
}

static int64_t least_of(const struct km_relax *r, uint32_t s, bool money)
{
	const struct km_core *c = r->core;
	const uint32_t *row = r->list + c->start[s];
	int64_t least = INT64_MAX;

	for (uint32_t i = 0; i < r->len[s]; i++) {
		int64_t v = money ? c->money[row[i]] : c->points[row[i]];

		least = v < least ? v : least;
	}
	return least;
}

/* Options that break the bound even if all else is as small as can be. */
static bool keep_within(struct km_relax *r, int64_t bound, bool money)
{
	const struct km_core *c = r->core;
	int64_t sum = 0;

	if (bound == KM_SOLVE_FREE)
		return true;
	for (uint32_t s = 0; s < c->nplaces; s++)
		sum += least_of(r, s, money);
	for (uint32_t k = 0; money && k < c->ncharges; k++)
		if (r->floor[k] > 0)
			sum += least_open(r, k, r->floor[k]);
	if (sum > bound)
		return false;
	for (uint32_t s = 0; s < c->nplaces; s++) {
		const uint32_t *row = r->list + c->start[s];
		int64_t most = bound - sum + least_of(r, s, money);

		for (uint32_t i = r->len[s]; i-- > 0;)
			if ((money ? least_money(r, row[i]) :
				     c->points[row[i]]) > most)
				km_relax_drop(r, s, i);
		if (r->len[s] == 0)
			return false;
	}
	return true;
}

bool km_relax_prune(struct km_relax *r)
{
	if (!km_relax_in_order(r))
		return false;
	most_goods(r);
	for (uint32_t k = 0; k < r->core->ncharges; k++)
		if (!reach_goods(r, k) || !reach_floor(r, k))
			return false;
	return keep_within(r, r->budget, true) &&
	       keep_within(r, r->limit, false);
}
