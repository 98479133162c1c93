/* SPDX-License-Identifier: MIT */
/*
 * relax - one evaluation of the bound, and the step after it.
 *
 * Sums stay within 64 bits: with C = KM_LAP_SIDE / (places + 2), weights
 * times any plan are at most C / 8 after scaling, the budget's and the
 * limit's prices add at most as much each, links at most C / 4 an option and
 * goods at most C / 4; all links together at most 2^58.
 */
#include "plan/relax.h"

#include <string.h>

#define MOMENTUM 154			/* of 256, of the direction before */

static bool alloc_charges(struct km_relax *r, struct km_arena *mem, size_t n)
{
	r->floor = km_arena_alloc(mem, n, sizeof *r->floor);
	r->ceiling = km_arena_alloc(mem, n, sizeof *r->ceiling);
	r->mode = km_arena_alloc(mem, n, sizeof *r->mode);
	r->open_value = km_arena_alloc(mem, n, sizeof *r->open_value);
	r->value = km_arena_alloc(mem, n, sizeof *r->value);
	r->pieces = km_arena_alloc(mem, n, sizeof *r->pieces);
	r->users = km_arena_alloc(mem, n, sizeof *r->users);
	r->state = km_arena_alloc(mem, n, sizeof *r->state);
	r->picked = km_arena_alloc(mem, n, sizeof *r->picked);
	r->used = km_arena_alloc(mem, n, sizeof *r->used);
	r->goods = km_arena_alloc(mem, n, sizeof *r->goods);
	r->open_bits = km_arena_alloc(mem, n, sizeof *r->open_bits);
	r->free_bits = km_arena_alloc(mem, n, sizeof *r->free_bits);
	r->clash_bits = km_arena_alloc(mem, n, sizeof *r->clash_bits);
	r->mean = km_arena_alloc(mem, n, sizeof *r->mean);
	return r->floor && r->ceiling && r->mode && r->open_value && r->value &&
	       r->pieces && r->users && r->state && r->picked && r->used &&
	       r->goods && r->open_bits && r->free_bits && r->clash_bits &&
	       r->mean;
}

static bool alloc_prices(struct km_relax *r, struct km_arena *mem)
{
	size_t n = r->nmult;

	r->mult = km_arena_alloc(mem, n, sizeof *r->mult);
	r->most = km_arena_alloc(mem, n, sizeof *r->most);
	r->grad = km_arena_alloc(mem, n, sizeof *r->grad);
	r->dir = km_arena_alloc(mem, n, sizeof *r->dir);
	r->fine = km_arena_alloc(mem, n, sizeof *r->fine);
	r->live = km_arena_alloc(mem, n, sizeof *r->live);
	r->order = km_arena_alloc(mem, n, sizeof *r->order);
	r->sums = km_arena_alloc(mem, n, sizeof *r->sums);
	return r->mult && r->most && r->grad && r->dir && r->fine && r->live &&
	       r->order && r->sums;
}

bool km_relax_init(struct km_relax *r, struct km_arena *mem,
		   const struct km_core *core)
{
	size_t n = (size_t)core->noptions + 1;

	*r = (struct km_relax){ .core = core };
	r->nu = core->nlinks + 1;	/* one that is no link, and costs 0 */
	r->kappa = r->nu + core->ncharges;
	r->lambda = r->kappa + core->ncharges;
	r->mu = r->lambda + 1;
	r->nmult = r->mu + 1;
	r->list = km_arena_alloc(mem, n, sizeof *r->list);
	r->cost = km_arena_alloc(mem, n, sizeof *r->cost);
	r->len = km_arena_alloc(mem, core->nplaces + 1, sizeof *r->len);
	r->alike = km_arena_alloc(mem, core->nplaces + 1, sizeof *r->alike);
	r->leads = km_arena_alloc(mem, core->nplaces + 1, 1);
	r->scratch = km_arena_alloc(mem, core->nplaces + 1,
				    sizeof *r->scratch);
	r->print = km_arena_alloc(mem, core->nplaces + 1, sizeof *r->print);
	r->rank = km_arena_alloc(mem, n, sizeof *r->rank);
	r->recent = km_arena_alloc(mem, (size_t)core->nplaces + 1,
				   KM_RELAX_TURNS * sizeof *r->recent);
	if (!r->list || !r->cost || !r->len || !r->recent || !r->alike ||
	    !r->leads || !r->scratch || !r->print || !r->rank ||
	    !alloc_charges(r, mem, (size_t)core->ncharges + 1) ||
	    !alloc_prices(r, mem))
		return false;
	r->lap = (struct km_lap){
		.nrows = core->nplaces, .ncols = core->ncols,
		.start = core->start, .len = r->len, .list = r->list,
		.row_of = core->place_of, .col_of = core->col_of,
		.cost = r->cost, .room = core->room
	};
	return km_lap_init(&r->lap, mem);
}

void km_relax_forget(struct km_relax *r)
{
	memset(r->dir, 0, r->nmult * sizeof *r->dir);
}

/* ---- one evaluation ----------------------------------------------------- */

static uint8_t state_of_count(const struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];
	uint32_t top = r->users[k] > r->floor[k] ? r->users[k] : r->floor[k];
	bool grouped = q->group != KM_SOLVE_NONE;

	if (r->floor[k] == 0 && (r->users[k] == 0 || r->ceiling[k] == 0))
		return KM_RELAX_CLOSED;
	if (r->ceiling[k] < r->users[k])
		return KM_RELAX_STEPS;
	if ((r->floor[k] > 0 || !grouped) &&
	    km_core_cost(q, r->floor[k]) == km_core_cost(q, top))
		return KM_RELAX_OPEN;
	if (r->floor[k] == 0 && km_core_cost(q, 1) == km_core_cost(q, top))
		return KM_RELAX_FLAT;
	return KM_RELAX_STEPS;
}

/* What is decided about each charge; links that cannot matter cost nothing. */
static void classify(struct km_relax *r)
{
	const struct km_core *c = r->core;

	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];
		uint32_t end = q->first + q->nlinks;

		r->users[k] = 0;
		for (uint32_t i = q->first; i < end; i++) {
			if (r->live[i])
				r->users[k]++;
			else
				r->mult[i] = 0;
		}
		for (uint32_t i = q->tie; i < q->tie + q->nties; i++)
			if (!r->live[i])
				r->mult[i] = 0;
		if (q->kind == KM_SOLVE_COUNT)
			r->state[k] = state_of_count(r, k);
		else if (r->users[k] == 0)
			r->state[k] = KM_RELAX_CLOSED;
		else
			r->state[k] = r->floor[k] ? KM_RELAX_OPEN :
						    KM_RELAX_PARCEL;
		if (r->state[k] == KM_RELAX_OPEN ||
		    r->state[k] == KM_RELAX_CLOSED) {
			memset(r->mult + q->first, 0,
			       q->nlinks * sizeof *r->mult);
			memset(r->mult + q->tie, 0,
			       q->nties * sizeof *r->mult);
		}
		if (q->kind == KM_SOLVE_COUNT)
			continue;
		if (q->free_over == KM_SOLVE_FREE || r->mode[k] == 1 ||
		    r->state[k] == KM_RELAX_CLOSED)
			r->mult[r->nu + k] = 0;
		if (q->minimum_order == 0 || r->state[k] == KM_RELAX_CLOSED)
			r->mult[r->kappa + k] = 0;
		else if (q->top_up && r->mult[r->kappa + k] > r->money_price)
			r->mult[r->kappa + k] = r->money_price;
	}
}

static void price_options(struct km_relax *r)
{
	const struct km_core *c = r->core;
	int64_t money = r->money_price;
	int64_t points = (r->points_weight << r->shift) + r->mult[r->mu];

	for (uint32_t s = 0; s < c->nplaces; s++) {
		const uint32_t *o = r->list + c->start[s];

		for (uint32_t n = r->len[s]; n-- > 0; o++) {
			const struct km_core_use *u = c->use + c->use_at[*o];
			const struct km_core_use *end = c->use +
							c->use_at[*o + 1];
			int64_t cost = money * c->money[*o] +
				       points * c->points[*o];

			for (; u < end; u++) {
				cost += r->mult[u->link] + r->mult[u->tie];
				if (u->goods)
					cost -= (r->mult[r->nu + u->charge] +
						 r->mult[r->kappa + u->charge])
						* u->goods;
			}
			r->cost[*o] = cost;
		}
	}
}

/* Links by falling price; nearly sorted from the time before. */
static void sort_links(const struct km_relax *r, uint32_t *order, uint32_t n)
{
	for (uint32_t i = 1; i < n; i++) {
		uint32_t link = order[i], j = i;

		for (; j > 0 && (r->mult[order[j - 1]] < r->mult[link] ||
				 (r->mult[order[j - 1]] == r->mult[link] &&
				  (r->live[order[j - 1]] != 0) <
				  (r->live[link] != 0))); j--)
			order[j] = order[j - 1];
		order[j] = link;
	}
}

static int64_t steps_cost(const struct km_relax *r, uint32_t k, uint32_t n)
{
	return r->money_price *
	       km_core_cost(&r->core->charge[k],
			    n > r->floor[k] ? n : r->floor[k]);
}

static uint32_t steps_top(const struct km_relax *r, uint32_t k)
{
	return r->users[k] < r->ceiling[k] ? r->users[k] : r->ceiling[k];
}

int64_t km_relax_rung(const struct km_relax *r,
		      const struct km_core_charge *q, struct km_ladder *up)
{
	int64_t sum = r->mult[r->order[q->first + up->n++]];
	uint32_t link;

	if (up->tie == q->nties)
		return sum;
	link = r->order[q->tie + up->tie];
	if (++up->used == r->core->link_room[link]) {
		up->used = 0;
		up->tie++;
	}
	return sum + r->mult[link];
}

/* The best number of pieces; at least 1, or the floor is paid for. */
static int64_t best_steps(struct km_relax *r, uint32_t k, uint32_t *pieces)
{
	const struct km_core_charge *q = &r->core->charge[k];
	uint32_t top = steps_top(r, k);
	struct km_ladder up = { 0 };
	int64_t sum = 0, best = INT64_MAX;

	sort_links(r, r->order + q->first, q->nlinks);
	sort_links(r, r->order + q->tie, q->nties);
	for (uint32_t n = 0; n <= top; n++) {
		int64_t value = steps_cost(r, k, n) - sum;

		if ((n > 0 || r->floor[k] > 0) && value < best) {
			best = value;
			*pieces = n;
		}
		if (n < top)
			sum += km_relax_rung(r, q, &up);
	}
	return best;
}

static int64_t flat_links(const struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];
	int64_t sum = 0;

	for (uint32_t i = q->first; i < q->first + q->nlinks; i++)
		sum += r->mult[i];
	for (uint32_t i = q->tie; i < q->tie + q->nties; i++)
		sum += r->mult[i] * r->core->link_room[i];
	return sum;
}

/* A parcel that is opened: paying, or free for so many goods. */
static int64_t open_parcel(struct km_relax *r, uint32_t k, bool *is_free)
{
	const struct km_core_charge *q = &r->core->charge[k];
	int64_t pay = r->money_price * q->postage;
	int64_t value = r->mult[r->kappa + k] * q->minimum_order;

	*is_free = false;
	if (q->free_over != KM_SOLVE_FREE && r->mode[k] != 1) {
		int64_t free_value = r->mult[r->nu + k] * q->free_over;

		if (r->mode[k] == 2 || free_value < pay) {
			*is_free = true;
			pay = free_value;
		}
	}
	return value + pay;
}

/* Each charge by itself: its best answer, its gradients, its money. */
static int64_t answer(struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];
	int64_t open = 0;
	bool is_free = false, must = r->floor[k] > 0;

	r->pieces[k] = r->users[k];
	switch (r->state[k]) {
	case KM_RELAX_CLOSED:
		r->open_value[k] = 0;
		r->value[k] = 0;
		r->pieces[k] = 0;
		return 0;
	case KM_RELAX_STEPS:
		open = best_steps(r, k, &r->pieces[k]);
		break;
	case KM_RELAX_FLAT:
		open = steps_cost(r, k, 1) - flat_links(r, k);
		break;
	case KM_RELAX_OPEN:
		must = true;
		open = q->kind == KM_SOLVE_COUNT ? steps_cost(r, k, 0) :
						   open_parcel(r, k, &is_free);
		break;
	default:
		open = open_parcel(r, k, &is_free) - flat_links(r, k);
	}
	r->open_value[k] = open;
	if (q->group != KM_SOLVE_NONE)
		return 0;		/* see km_relax_group() */
	if (!must && open >= 0) {
		r->value[k] = 0;
		r->pieces[k] = 0;
		r->free_bits[k] <<= 1;
		return 0;
	}
	r->value[k] = open;
	r->free_bits[k] = r->free_bits[k] << 1 | is_free;
	if (q->kind == KM_SOLVE_PARCEL) {
		r->grad[r->kappa + k] += q->minimum_order;
		if (is_free)
			r->grad[r->nu + k] += q->free_over;
		return is_free ? 0 : q->postage;
	}
	return km_core_cost(q, r->pieces[k] > r->floor[k] ? r->pieces[k] :
							    r->floor[k]);
}

/* The links of so many pieces: the dearest of the places, and as many of the
 * columns. */
static void take_rungs(struct km_relax *r, const struct km_core_charge *q,
		       uint32_t n)
{
	struct km_ladder up = { 0 };

	while (up.n < n) {
		r->grad[r->order[q->first + up.n]]--;
		if (up.tie < q->nties)
			r->grad[r->order[q->tie + up.tie]]--;
		km_relax_rung(r, q, &up);
	}
}

/* The pieces that the charges chose, against those that the options use. */
static void compare_links(struct km_relax *r)
{
	const struct km_core *c = r->core;

	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];

		if (r->state[k] == KM_RELAX_CLOSED ||
		    r->state[k] == KM_RELAX_OPEN)
			continue;
		if (r->state[k] == KM_RELAX_STEPS) {
			take_rungs(r, q, r->pieces[k]);
		} else if (r->pieces[k] > 0) {
			for (uint32_t i = q->first; i < q->first + q->nlinks;
			     i++)
				r->grad[i] -= r->live[i] != 0;
			for (uint32_t i = q->tie; i < q->tie + q->nties; i++)
				r->grad[i] -= r->live[i] ?
					      r->core->link_room[i] : 0;
		}
	}
}

static void compare_options(struct km_relax *r)
{
	const struct km_core *c = r->core;
	uint32_t at = r->turn++ % KM_RELAX_TURNS;

	memset(r->used, 0, c->ncharges * sizeof *r->used);
	for (uint32_t s = 0; s < c->nplaces; s++) {
		uint32_t o = r->lap.got[s];

		r->recent[(size_t)s * KM_RELAX_TURNS + at] = o;
		r->grad[r->lambda] += c->money[o];
		r->grad[r->mu] += c->points[o];
		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			const struct km_core_use *u = &c->use[i];

			r->used[u->charge]++;
			if (r->state[u->charge] != KM_RELAX_OPEN) {
				r->grad[u->link]++;
				r->grad[u->tie]++;
			}
			r->grad[r->nu + u->charge] -= u->goods;
			r->grad[r->kappa + u->charge] -= u->goods;
		}
	}
}

static void note_charges(struct km_relax *r)
{
	for (uint32_t k = 0; k < r->core->ncharges; k++) {
		uint32_t n = r->pieces[k];

		r->open_bits[k] = r->open_bits[k] << 1 | (n > 0);
		r->clash_bits[k] = r->clash_bits[k] << 1 | (n != r->used[k]);
		r->mean[k] = r->mean[k] - r->mean[k] / 8 + r->used[k] * 32;
	}
}

bool km_relax_eval(struct km_relax *r)
{
	const struct km_core *c = r->core;
	int64_t bound, money = 0;

	r->money_price = (r->money_weight << r->shift) + r->mult[r->lambda];
	classify(r);
	price_options(r);
	if (!km_lap_solve(&r->lap, &bound))
		return false;
	memset(r->grad, 0, r->nmult * sizeof *r->grad);
	for (uint32_t k = 0; k < c->ncharges; k++)
		money += answer(r, k);
	for (uint32_t g = 0; g < c->ngroups; g++)
		bound += km_relax_group(r, g, r->money_price, &money);
	for (uint32_t k = 0; k < c->ncharges; k++)
		bound += r->value[k];
	compare_links(r);
	compare_options(r);
	note_charges(r);
	if (r->budget != KM_SOLVE_FREE) {
		bound -= r->mult[r->lambda] * r->budget;
		r->grad[r->lambda] += money - r->budget;
	}
	if (r->limit != KM_SOLVE_FREE) {
		bound -= r->mult[r->mu] * r->limit;
		r->grad[r->mu] -= r->limit;
	}
	r->bound = bound;
	return true;
}

/* ---- the step after it -------------------------------------------------- */

/* The direction: this gradient and some of the way before.  Prices at 0 do
 * not fall, prices that mean nothing do not move. */
static int64_t turn_direction(struct km_relax *r)
{
	int64_t norm = 1;

	for (uint32_t i = 0; i < r->nmult; i++) {
		int64_t d = r->grad[i] * 256 / ((int64_t)1 << r->fine[i]) +
			    r->dir[i] * MOMENTUM / 256;

		if (r->most[i] == 0 || (d < 0 && r->mult[i] == 0) ||
		    (r->grad[i] == 0 && r->mult[i] == 0))
			d = 0;
		if (d > 1 << 20)
			d = 1 << 20;
		if (d < -(1 << 20))
			d = -(1 << 20);
		r->dir[i] = d;
		norm += d * d >> 8;
	}
	return norm / 256 + 1;
}

void km_relax_step(struct km_relax *r, int64_t target, uint32_t theta)
{
	int64_t norm = turn_direction(r);
	int64_t way = target - r->bound, stride;

	if (way > (int64_t)1 << 50)
		way = (int64_t)1 << 50;
	stride = way * theta / norm;
	if (stride > (int64_t)1 << 42)
		stride = (int64_t)1 << 42;
	for (uint32_t i = 0; i < r->nmult; i++) {
		int64_t m;

		if (r->dir[i] == 0)
			continue;
		m = r->mult[i] + stride * r->dir[i] / 65536 /
				 ((int64_t)1 << r->fine[i]);
		r->mult[i] = m < 0 ? 0 : m > r->most[i] ? r->most[i] : m;
	}
}
