/* SPDX-License-Identifier: MIT */
/*
 * relax_ask - what is asked of a problem: the scale, how far prices may rise,
 * and what is left before anything is decided.
 */
#include <string.h>

#include "base/num.h"
#include "plan/relax.h"

#define SHIFT_MOST 24			/* of the scale */
#define WORTH_MOST ((int64_t)1 << 40)	/* scaled further only up to this */

static uint8_t log2_of(int64_t v)
{
	uint8_t n = 0;

	while (v > 1) {
		v /= 2;
		n++;
	}
	return n;
}

/* How far each price may rise, and how large its gradients are. */
static void limit_prices(struct km_relax *r, int64_t c)
{
	const struct km_core *core = r->core;
	int64_t uses = 2 * (int64_t)core->max_uses + 1;
	int64_t link = c / 4 / uses;
	int64_t all = ((int64_t)1 << 58) / (core->nunits + 1);
	int64_t goods = c / 8 / uses / core->goods_most / (core->ncharges + 1);
	uint8_t size = log2_of(core->goods_most) / 2 + 1;

	for (uint32_t i = 0; i < r->nu; i++) {
		r->most[i] = link < all ? link : all;
		r->fine[i] = 0;
	}
	r->most[core->nlinks] = 0;
	for (uint32_t i = r->nu; i < r->lambda; i++) {
		r->most[i] = goods;
		r->fine[i] = size;
	}
	r->most[r->lambda] = r->budget == KM_SOLVE_FREE ? 0 :
			     c / 8 / (core->money_most + 1);
	r->most[r->mu] = r->limit == KM_SOLVE_FREE ? 0 :
			 c / 8 / (core->points_most + 1);
	r->fine[r->lambda] = log2_of(core->money_most / (core->nplaces + 1));
	r->fine[r->mu] = log2_of(core->points_most / (core->nplaces + 1));
	for (uint32_t i = 0; i < r->nmult; i++)
		if (r->mult[i] > r->most[i])
			r->mult[i] = r->most[i];
}

static int64_t gcd(int64_t a, int64_t b)
{
	while (b) {
		int64_t t = a % b;

		a = b;
		b = t;
	}
	return a < 0 ? -a : a;
}

/* Every value is base + n * step. */
static void find_step(struct km_relax *r)
{
	const struct km_core *c = r->core;
	int64_t step = 0, base = 0, worth, first = 0;

	for (uint32_t o = 0; o < c->noptions; o++) {
		worth = r->points_weight * c->points[o] +
			r->money_weight * c->money[o];
		if (o == 0 || c->place_of[o] != c->place_of[o - 1]) {
			first = worth;
			base += worth;
		}
		step = gcd(step, worth - first);
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];

		step = gcd(step, r->money_weight * q->minimum);
		step = gcd(step, r->money_weight * q->postage);
		if (q->top_up && q->minimum_order > 0)
			step = gcd(step, r->money_weight);
		for (uint32_t n = 0; n < q->ntable; n++)
			step = gcd(step, r->money_weight * q->table[n]);
	}
	r->step = step ? step : 1;
	r->base = base;
}

static void start_over(struct km_relax *r, const uint8_t *barred)
{
	const struct km_core *c = r->core;

	memset(r->live, 0, ((size_t)c->nlinks + 1) * sizeof *r->live);
	for (uint32_t s = 0; s < c->nplaces; s++) {
		uint32_t *row = r->list + c->start[s], n = 0;

		for (uint32_t o = c->start[s]; o < c->start[s + 1]; o++) {
			if (!km_core_may(c, o, barred))
				continue;
			row[n++] = o;
			for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1];
			     i++) {
				r->live[c->use[i].link]++;
				r->live[c->use[i].tie]++;
			}
		}
		r->len[s] = n;
		for (uint32_t o = c->start[s]; o < c->start[s + 1]; o++)
			if (!km_core_may(c, o, barred))
				row[n++] = o;
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		r->floor[k] = 0;
		r->ceiling[k] = c->charge[k].most;
		r->mode[k] = 0;
	}
	for (uint32_t l = 0; l < c->nlinks; l++)
		r->order[l] = l;
	r->turn = 0;
	km_relax_find_alike(r);
	km_relax_forget(r);
}

enum km_status km_relax_ask(struct km_relax *r, const struct km_solve_ask *ask)
{
	const struct km_core *c = r->core;
	int64_t side = KM_LAP_SIDE / (c->nplaces + 2);
	int64_t points, money, worth;

	if (ask->points_weight < 0 || ask->money_weight < 0 ||
	    !km_mul(ask->points_weight, c->points_most, &points) ||
	    !km_mul(ask->money_weight, c->money_most, &money) ||
	    !km_add(points, money, &worth) || worth > side / 8)
		return KM_ERANGE;
	r->points_weight = ask->points_weight;
	r->money_weight = ask->money_weight;
	r->budget = ask->budget < c->money_most ? ask->budget : KM_SOLVE_FREE;
	r->limit = ask->limit < c->points_most ? ask->limit : KM_SOLVE_FREE;
	r->worth_most = worth;
	r->shift = 0;
	while (r->shift < SHIFT_MOST && worth < WORTH_MOST >> r->shift &&
	       worth < (side / 8) >> (r->shift + 1))
		r->shift++;
	find_step(r);
	limit_prices(r, side);
	start_over(r, ask->barred);
	return KM_OK;
}
