/* SPDX-License-Identifier: MIT */
/* relax_fix - what can be dropped, and how it comes back; groups. */
#include "plan/relax.h"

void km_relax_drop(struct km_relax *r, uint32_t place, uint32_t i)
{
	const struct km_core *c = r->core;
	uint32_t *row = r->list + c->start[place];
	uint32_t last = --r->len[place], o = row[i];

	row[i] = row[last];
	row[last] = o;
	for (uint32_t j = c->use_at[o]; j < c->use_at[o + 1]; j++) {
		r->live[c->use[j].link]--;
		r->live[c->use[j].tie]--;
	}
}

void km_relax_keep(struct km_relax *r, uint32_t place, uint32_t option)
{
	const uint32_t *row = r->list + r->core->start[place];

	for (uint32_t i = r->len[place]; i-- > 0;)
		if (row[i] != option)
			km_relax_drop(r, place, i);
}

void km_relax_restore(struct km_relax *r, uint32_t place, uint32_t len)
{
	const struct km_core *c = r->core;
	const uint32_t *row = r->list + c->start[place];

	while (r->len[place] < len) {
		uint32_t o = row[r->len[place]++];

		for (uint32_t j = c->use_at[o]; j < c->use_at[o + 1]; j++) {
			r->live[c->use[j].link]++;
			r->live[c->use[j].tie]++;
		}
	}
}

static bool uses(const struct km_core *c, uint32_t o, uint32_t charge)
{
	for (uint32_t j = c->use_at[o]; j < c->use_at[o + 1]; j++)
		if (c->use[j].charge == charge)
			return true;
	return false;
}

bool km_relax_close(struct km_relax *r, uint32_t charge)
{
	const struct km_core *c = r->core;
	const struct km_core_charge *q = &c->charge[charge];

	r->ceiling[charge] = 0;
	for (uint32_t l = q->first; l < q->first + q->nlinks; l++) {
		uint32_t s = c->link_place[l];
		const uint32_t *row = r->list + c->start[s];

		if (!r->live[l])
			continue;
		for (uint32_t i = r->len[s]; i-- > 0;)
			if (uses(c, row[i], charge))
				km_relax_drop(r, s, i);
		if (r->len[s] == 0)
			return false;
	}
	return true;
}

bool km_relax_undecided(const struct km_relax *r, uint32_t k)
{
	const struct km_core_charge *q = &r->core->charge[k];

	if (r->state[k] == KM_RELAX_CLOSED)
		return false;
	if (q->kind == KM_SOLVE_PARCEL && r->floor[k] > 0)
		return r->mode[k] == 0 && q->free_over != KM_SOLVE_FREE;
	if (r->state[k] != KM_RELAX_STEPS)
		return r->state[k] != KM_RELAX_OPEN;
	return r->floor[k] < r->ceiling[k] &&
	       km_core_cost(q, r->floor[k]) !=
	       km_core_cost(q, r->ceiling[k] < r->users[k] ? r->ceiling[k] :
							     r->users[k]);
}

/* Prune pieces of a charge with steps from below and from above. */
static bool fix_steps(struct km_relax *r, uint32_t k, int64_t rest,
		      int64_t cutoff)
{
	const struct km_core_charge *q = &r->core->charge[k];
	uint32_t top = r->users[k] < r->ceiling[k] ? r->users[k] :
						     r->ceiling[k];
	uint32_t low = top, high = r->floor[k];
	bool any = false;
	struct km_ladder up = { 0 };
	int64_t sum = 0;

	for (uint32_t n = 0; n <= top; n++) {
		uint32_t paid = n > r->floor[k] ? n : r->floor[k];

		if (rest + r->money_price * km_core_cost(q, paid) - sum <=
		    cutoff) {
			low = any ? low : n;
			high = n;
			any = true;
		}
		if (n < top)
			sum += km_relax_rung(r, q, &up);
	}
	if (!any)
		return false;
	if (low > r->floor[k])
		r->floor[k] = low;
	if (high >= r->floor[k] && high < top)
		r->ceiling[k] = high;
	return r->ceiling[k] > 0 || km_relax_close(r, k);
}

static bool fix_charge(struct km_relax *r, uint32_t k, int64_t bound,
		       int64_t cutoff)
{
	int64_t rest = bound - r->value[k];

	if (r->core->charge[k].group != KM_SOLVE_NONE)
		return true;
	switch (r->state[k]) {
	case KM_RELAX_STEPS:
		return fix_steps(r, k, rest, cutoff);
	case KM_RELAX_FLAT:
	case KM_RELAX_PARCEL:
		if (rest + r->open_value[k] > cutoff)
			return km_relax_close(r, k);
		if (rest > cutoff)
			r->floor[k] = 1;
		return true;
	default:
		return true;
	}
}

static bool fix_place(struct km_relax *r, uint32_t s, int64_t slack)
{
	const struct km_core *c = r->core;
	const uint32_t *row = r->list + c->start[s];
	int64_t most = slack + r->lap.u[s];

	for (uint32_t i = r->len[s]; i-- > 0;) {
		uint32_t col = c->col_of[row[i]];
		int64_t v = col == KM_LAP_OWN ? 0 : r->lap.v[col];

		if (r->cost[row[i]] - v > most)
			km_relax_drop(r, s, i);
	}
	return r->len[s] > 0;
}

bool km_relax_fix(struct km_relax *r, int64_t cutoff)
{
	int64_t bound = r->bound;

	for (uint32_t s = 0; s < r->core->nplaces; s++)
		if (r->len[s] > 1 && !fix_place(r, s, cutoff - bound))
			return false;
	for (uint32_t k = 0; k < r->core->ncharges; k++)
		if (!fix_charge(r, k, bound, cutoff))
			return false;
	return true;
}

/* ---- groups ------------------------------------------------------------- */

static bool may_open(const struct km_relax *r, uint32_t k)
{
	return r->state[k] != KM_RELAX_CLOSED;
}

/*
 * Pick exactly (or, if not exact, up to) n members before the end that are
 * cheapest with their minimum paid, the forced ones first; false: too many
 * are forced, or too few are there.
 */
static bool pick_paid(struct km_relax *r, uint32_t first, uint32_t end,
		      uint32_t n, bool exact, int64_t price, int64_t *sum)
{
	const uint32_t *member = r->core->member;

	for (uint32_t i = first; i < end; i++) {
		uint32_t k = member[i];

		r->picked[k] = r->floor[k] > 0;
		if (!r->picked[k])
			continue;
		if (n-- == 0)
			return false;
		*sum += r->open_value[k] +
			price * r->core->charge[k].minimum;
	}
	while (n > 0) {
		int64_t least = exact ? INT64_MAX : 0;
		uint32_t best = KM_SOLVE_NONE;

		for (uint32_t i = first; i < end; i++) {
			uint32_t k = member[i];
			int64_t value = r->open_value[k] +
				price * r->core->charge[k].minimum;

			if (may_open(r, k) && !r->picked[k] && value < least) {
				least = value;
				best = k;
			}
		}
		if (best == KM_SOLVE_NONE)
			return !exact;
		r->picked[best] = 1;
		*sum += least;
		n--;
	}
	return true;
}

/*
 * The best set of members whose last paid one is the pivot; pivot == end: no
 * more of them than are paid for.
 */
static bool pick_set(struct km_relax *r, uint32_t g, uint32_t pivot,
		     int64_t price, int64_t *sum)
{
	const struct km_core *c = r->core;
	uint32_t first = c->member_at[g], end = c->member_at[g + 1];
	uint32_t k;

	*sum = 0;
	if (pivot == end)
		return pick_paid(r, first, end, c->paid[g], false, price, sum);
	k = c->member[pivot];
	if (!may_open(r, k) || pivot - first + 1 < c->paid[g] ||
	    !pick_paid(r, first, pivot, c->paid[g] - 1, true, price, sum))
		return false;
	*sum += r->open_value[k] + price * c->charge[k].minimum;
	r->picked[k] = 1;
	for (uint32_t i = pivot + 1; i < end; i++) {
		k = c->member[i];
		r->picked[k] = may_open(r, k) &&
			       (r->floor[k] > 0 || r->open_value[k] < 0);
		*sum += r->picked[k] ? r->open_value[k] : 0;
	}
	return true;
}

/* A group that pays for none has members that are paid for by nobody. */
static int64_t pick_free(struct km_relax *r, uint32_t g)
{
	const struct km_core *c = r->core;
	int64_t sum = 0;

	for (uint32_t i = c->member_at[g]; i < c->member_at[g + 1]; i++) {
		uint32_t k = c->member[i];

		r->picked[k] = may_open(r, k) &&
			       (r->floor[k] > 0 || r->open_value[k] < 0);
		sum += r->picked[k] ? r->open_value[k] : 0;
	}
	return sum;
}

static void take_set(struct km_relax *r, uint32_t g, int64_t *money)
{
	const struct km_core *c = r->core;
	uint32_t paid = c->paid[g];

	for (uint32_t i = c->member_at[g]; i < c->member_at[g + 1]; i++) {
		uint32_t k = c->member[i];
		const struct km_core_charge *q = &c->charge[k];

		r->value[k] = r->picked[k] ? r->open_value[k] : 0;
		if (!r->picked[k]) {
			r->pieces[k] = 0;
			continue;
		}
		if (paid > 0) {
			*money += q->minimum;
			paid--;
		}
		*money += km_core_cost(q, r->pieces[k] > r->floor[k] ?
				       r->pieces[k] : r->floor[k]);
	}
}

int64_t km_relax_group(struct km_relax *r, uint32_t g, int64_t price,
		       int64_t *money)
{
	const struct km_core *c = r->core;
	uint32_t first = c->member_at[g], end = c->member_at[g + 1];
	uint32_t best = end;
	int64_t least = INT64_MAX, sum, own = 0;

	if (first == end)
		return 0;
	if (c->paid[g] == 0) {
		least = pick_free(r, g);
	} else {
		for (uint32_t i = first; i <= end; i++) {
			if (pick_set(r, g, i, price, &sum) && sum < least) {
				least = sum;
				best = i;
			}
		}
		pick_set(r, g, best, price, &sum);
	}
	take_set(r, g, money);
	for (uint32_t i = first; i < end; i++)
		own += r->value[c->member[i]];
	return least - own;	/* the minimums paid */
}
