/* SPDX-License-Identifier: MIT */
/* problem - a problem checked and brought into the shape of the search. */
#include <string.h>

#include "base/num.h"
#include "plan/solve_core.h"

#define PLACES_MOST ((uint32_t)1 << 20)
#define GOODS_MOST ((int64_t)1 << 40)
#define SUM_MOST ((int64_t)1 << 50)	/* of money, points or goods */

static bool charge_is_sound(const struct km_solve *p,
			    const struct km_solve_charge *c)
{
	if (c->minimum < 0 || c->postage < 0 || c->free_over < 0 ||
	    c->minimum_order < 0 || c->minimum_order > GOODS_MOST)
		return false;
	if (c->free_over > GOODS_MOST && c->free_over != KM_SOLVE_FREE)
		return false;
	if (c->kind == KM_SOLVE_PARCEL)
		return true;
	if (c->kind != KM_SOLVE_COUNT || c->ntable == 0 || c->table[0] != 0)
		return false;
	for (uint32_t n = 1; n < c->ntable; n++)
		if (c->table[n] < c->table[n - 1])
			return false;
	return c->group == KM_SOLVE_NONE || c->group < p->ngroups;
}

static bool option_is_sound(const struct km_solve *p,
			    const struct km_solve_option *o)
{
	if (o->place >= p->nplaces || o->money < 0 || o->points < 0)
		return false;
	for (uint32_t i = 0; i < o->nresources; i++) {
		if (o->resource[i] >= p->nresources)
			return false;
		for (uint32_t j = 0; j < i; j++)
			if (o->resource[j] == o->resource[i])
				return false;
	}
	for (uint32_t i = 0; i < o->nuses; i++) {
		if (o->use[i].charge >= p->ncharges || o->use[i].goods < 0 ||
		    o->use[i].goods > GOODS_MOST)
			return false;
		for (uint32_t j = 0; j < i; j++)
			if (o->use[j].charge == o->use[i].charge)
				return false;
	}
	return true;
}

static bool is_sound(const struct km_solve *p)
{
	if (p->nplaces > PLACES_MOST || p->noptions > UINT32_MAX / 2)
		return false;
	for (uint32_t k = 0; k < p->ncharges; k++)
		if (!charge_is_sound(p, &p->charge[k]))
			return false;
	for (uint32_t o = 0; o < p->noptions; o++)
		if (!option_is_sound(p, &p->option[o]))
			return false;
	return true;
}

/* Options by place, in the caller's order there. */
static bool sort_options(struct km_arena *mem, struct km_core *c)
{
	const struct km_solve *p = c->p;
	uint32_t *next;

	c->start = km_arena_alloc(mem, c->nplaces + 2, sizeof *c->start);
	c->orig = km_arena_alloc(mem, c->noptions + 1, sizeof *c->orig);
	if (!c->start || !c->orig)
		return false;
	next = c->start + 1;
	for (uint32_t o = 0; o < c->noptions; o++)
		next[p->option[o].place + 1]++;
	for (uint32_t s = 0; s < c->nplaces; s++)
		next[s + 1] += next[s];
	for (uint32_t o = 0; o < c->noptions; o++)
		c->orig[next[p->option[o].place]++] = o;
	return true;
}

static bool copy_options(struct km_arena *mem, struct km_core *c)
{
	uint32_t n = c->noptions;

	c->place_of = km_arena_alloc(mem, n + 1, sizeof *c->place_of);
	c->col_of = km_arena_alloc(mem, n + 1, sizeof *c->col_of);
	c->money = km_arena_alloc(mem, n + 1, sizeof *c->money);
	c->points = km_arena_alloc(mem, n + 1, sizeof *c->points);
	c->never = km_arena_alloc(mem, n + 1, sizeof *c->never);
	if (!c->place_of || !c->col_of || !c->money || !c->points || !c->never)
		return false;
	for (uint32_t o = 0; o < n; o++) {
		const struct km_solve_option *from = &c->p->option[c->orig[o]];

		c->place_of[o] = from->place;
		c->money[o] = from->money;
		c->points[o] = from->points;
	}
	return true;
}

/* How many places may want each resource. */
static bool count_wants(struct km_arena *mem, const struct km_core *c,
			uint32_t **out)
{
	const struct km_solve *p = c->p;
	uint32_t n = p->nresources;
	uint32_t *wants = km_arena_alloc(mem, n + 1, sizeof *wants);
	uint32_t *last = km_arena_alloc(mem, n + 1, sizeof *last);

	if (!wants || !last)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++) {
		const struct km_solve_option *from = &p->option[c->orig[o]];

		for (uint32_t i = 0; i < from->nresources; i++) {
			uint32_t r = from->resource[i];

			if (last[r] != from->place + 1)
				wants[r]++;
			last[r] = from->place + 1;
		}
	}
	*out = wants;
	return true;
}

/* Which of an option's resources is its column: the first that is short.
 * Others that are short become count charges that cost nothing and are
 * limited: extra[r]. */
static bool share_resources(struct km_arena *mem, struct km_core *c,
			    uint32_t **out, uint32_t *nextra)
{
	const struct km_solve *p = c->p;
	uint32_t *extra = km_arena_alloc(mem, p->nresources + 1, sizeof *extra);
	uint32_t *wants;

	c->room = km_arena_alloc(mem, p->nresources + 1, sizeof *c->room);
	if (!extra || !c->room || !count_wants(mem, c, &wants))
		return false;
	*nextra = 0;
	c->ncols = p->nresources;
	for (uint32_t r = 0; r < p->nresources; r++)
		c->room[r] = p->capacity[r] < wants[r] ? p->capacity[r] :
							 wants[r];
	for (uint32_t o = 0; o < c->noptions; o++) {
		const struct km_solve_option *from = &p->option[c->orig[o]];

		c->col_of[o] = KM_LAP_OWN;
		for (uint32_t i = 0; i < from->nresources; i++) {
			uint32_t r = from->resource[i];

			c->never[o] |= p->capacity[r] == 0;
			if (p->capacity[r] >= wants[r])
				continue;
			if (c->col_of[o] == KM_LAP_OWN)
				c->col_of[o] = r;
			else if (!extra[r])
				extra[r] = ++*nextra;
		}
	}
	*out = extra;
	return true;
}

static const int64_t nothing[1] = { 0 };

/* The caller's charges, then the capacities that are no columns. */
static bool copy_charges(struct km_arena *mem, struct km_core *c,
			 const uint32_t *extra, uint32_t nextra)
{
	const struct km_solve *p = c->p;

	c->ncharges = p->ncharges + nextra;
	c->charge = km_arena_alloc(mem, c->ncharges + 1, sizeof *c->charge);
	if (!c->charge)
		return false;
	for (uint32_t k = 0; k < p->ncharges; k++) {
		const struct km_solve_charge *from = &p->charge[k];
		struct km_core_charge *to = &c->charge[k];
		bool count = from->kind == KM_SOLVE_COUNT;

		to->kind = from->kind;
		to->table = count ? from->table : nothing;
		to->ntable = count ? from->ntable : 1;
		to->most = from->most ? from->most : KM_CORE_MANY;
		to->minimum = count ? from->minimum : 0;
		to->group = count && to->minimum > 0 ? from->group :
						       KM_SOLVE_NONE;
		to->free_over = from->free_over;
		to->minimum_order = count ? 0 : from->minimum_order;
		to->top_up = from->top_up;
		to->postage = count || from->free_over == 0 ||
			      (from->top_up &&
			       from->minimum_order >= from->free_over) ?
			      0 : from->postage;
		if (to->postage == 0)
			to->free_over = KM_SOLVE_FREE;
	}
	for (uint32_t r = 0; r < p->nresources; r++) {
		struct km_core_charge *to;

		if (!extra[r])
			continue;
		to = &c->charge[p->ncharges + extra[r] - 1];
		to->table = nothing;
		to->ntable = 1;
		to->most = p->capacity[r] ? p->capacity[r] : KM_CORE_MANY;
		to->group = KM_SOLVE_NONE;
		to->free_over = KM_SOLVE_FREE;
	}
	return true;
}

/* The uses of each option; links are numbered afterwards. */
static bool copy_uses(struct km_arena *mem, struct km_core *c,
		      const uint32_t *extra)
{
	const struct km_solve *p = c->p;
	size_t total = 0;
	uint32_t at = 0;

	for (uint32_t o = 0; o < p->noptions; o++)
		total += (size_t)p->option[o].nuses + p->option[o].nresources;
	if (total > UINT32_MAX / 2)
		return false;
	c->use_at = km_arena_alloc(mem, (size_t)c->noptions + 1,
				   sizeof *c->use_at);
	c->use = km_arena_alloc(mem, total + 1, sizeof *c->use);
	if (!c->use_at || !c->use)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++) {
		const struct km_solve_option *from = &p->option[c->orig[o]];

		c->use_at[o] = at;
		for (uint32_t i = 0; i < from->nuses; i++) {
			uint32_t k = from->use[i].charge;
			bool goods = c->charge[k].kind == KM_SOLVE_PARCEL;

			c->use[at++] = (struct km_core_use){
				.charge = k,
				.goods = goods ? from->use[i].goods : 0
			};
		}
		for (uint32_t i = 0; i < from->nresources; i++) {
			uint32_t r = from->resource[i];

			if (extra[r] && r != c->col_of[o])
				c->use[at++] = (struct km_core_use){
					.charge = p->ncharges + extra[r] - 1
				};
		}
		if (at - c->use_at[o] > c->max_uses)
			c->max_uses = at - c->use_at[o];
	}
	c->use_at[c->noptions] = at;
	return true;
}

/* An extra resource that is a column for one option and a charge for
 * another would be counted twice over: all its options get both. */
static void columns_that_are_charges(struct km_core *c, const uint32_t *extra)
{
	for (uint32_t o = 0; o < c->noptions; o++)
		if (c->col_of[o] != KM_LAP_OWN && extra[c->col_of[o]])
			c->col_of[o] = KM_LAP_OWN;
}

/* Members of a group by falling minimum, then by number; a group that pays
 * for all its members is none. */
static bool sort_groups(struct km_arena *mem, struct km_core *c)
{
	uint32_t n = 0;

	c->ngroups = c->p->ngroups;
	c->member_at = km_arena_alloc(mem, (size_t)c->ngroups + 1,
				      sizeof *c->member_at);
	c->member = km_arena_alloc(mem, c->ncharges + 1, sizeof *c->member);
	c->paid = km_arena_alloc(mem, (size_t)c->ngroups + 1, sizeof *c->paid);
	if (!c->member_at || !c->member || !c->paid)
		return false;
	for (uint32_t g = 0; g < c->ngroups; g++) {
		uint32_t first = n;

		c->paid[g] = c->p->paid[g];
		for (uint32_t k = 0; k < c->ncharges; k++) {
			uint32_t i = n;

			if (c->charge[k].group != g)
				continue;
			for (; i > first && c->charge[c->member[i - 1]].minimum <
					    c->charge[k].minimum; i--)
				c->member[i] = c->member[i - 1];
			c->member[i] = k;
			n++;
		}
		if (n - first <= c->paid[g]) {
			while (n > first)
				c->charge[c->member[--n]].group = KM_SOLVE_NONE;
		}
		c->member_at[g + 1] = n;
	}
	return true;
}

static int64_t dearest(const struct km_core *c, const int64_t *of, uint32_t s)
{
	int64_t most = 0;

	for (uint32_t o = c->start[s]; o < c->start[s + 1]; o++)
		most = of[o] > most ? of[o] : most;
	return most;
}

/* What no plan can exceed; false: it is too much. */
static bool measure(struct km_core *c)
{
	int64_t goods = 1;

	for (uint32_t s = 0; s < c->nplaces; s++)
		if (!km_add(c->money_most, dearest(c, c->money, s),
			    &c->money_most) ||
		    !km_add(c->points_most, dearest(c, c->points, s),
			    &c->points_most))
			return false;
	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];
		int64_t top = q->table[q->ntable - 1];

		if (!km_add(top, q->minimum, &top) ||
		    !km_add(top, q->postage, &top) ||
		    (q->top_up && !km_add(top, q->minimum_order, &top)) ||
		    !km_add(c->money_most, top, &c->money_most))
			return false;
		if (q->minimum_order > goods)
			goods = q->minimum_order;
		if (q->free_over > goods && q->free_over != KM_SOLVE_FREE)
			goods = q->free_over;
	}
	for (uint32_t i = 0; i < c->use_at[c->noptions]; i++)
		if (c->use[i].goods > goods)
			goods = c->use[i].goods;
	c->goods_most = goods;
	return c->money_most <= SUM_MOST && c->points_most <= SUM_MOST &&
	       goods <= SUM_MOST / ((int64_t)c->nplaces + 1);
}

/* Sites and clients: no option shares anything but one flat charge. */
static bool is_sites(const struct km_core *c)
{
	if (c->ngroups > 0 || c->max_uses > 1)
		return false;
	for (uint32_t o = 0; o < c->noptions; o++)
		if (c->col_of[o] != KM_LAP_OWN || c->never[o])
			return false;
	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];

		if (q->most < q->nlinks || q->minimum_order > 0 ||
		    q->free_over != KM_SOLVE_FREE ||
		    (q->nlinks > 0 && km_core_cost(q, 1) !=
				      km_core_cost(q, q->nlinks)))
			return false;
	}
	return true;
}

enum km_status km_core_compile(struct km_arena *mem, const struct km_solve *p,
			       struct km_core *out)
{
	struct km_core c = { .p = p, .nplaces = p->nplaces,
			     .noptions = p->noptions };
	uint32_t *extra, nextra;

	if (!is_sound(p))
		return KM_ERANGE;
	if (!sort_options(mem, &c) || !copy_options(mem, &c) ||
	    !share_resources(mem, &c, &extra, &nextra) ||
	    !copy_charges(mem, &c, extra, nextra))
		return KM_ENOMEM;
	columns_that_are_charges(&c, extra);
	if (!copy_uses(mem, &c, extra) || !km_core_link(mem, &c) ||
	    !sort_groups(mem, &c))
		return KM_ENOMEM;
	if (!measure(&c))
		return KM_ERANGE;
	c.sites = is_sites(&c);
	*out = c;
	return KM_OK;
}

int64_t km_core_cost(const struct km_core_charge *c, uint32_t n)
{
	if (n == 0)
		return 0;
	return c->table[n < c->ntable ? n : c->ntable - 1] +
	       (c->group == KM_SOLVE_NONE ? c->minimum : 0) + c->postage;
}

static bool parcel_money(const struct km_core_charge *q, uint32_t n,
			 int64_t goods, int64_t *money)
{
	if (n == 0)
		return true;
	if (goods < q->minimum_order) {
		if (!q->top_up)
			return false;
		*money += q->minimum_order - goods;
	}
	if (goods < q->free_over)
		*money += q->postage;
	return true;
}

static int64_t group_money(const struct km_core *c, uint32_t g,
			   const uint32_t *count)
{
	int64_t money = 0;
	uint32_t paid = 0;

	for (uint32_t i = c->member_at[g]; i < c->member_at[g + 1] &&
					   paid < c->paid[g]; i++) {
		if (count[c->member[i]] > 0) {
			money += c->charge[c->member[i]].minimum;
			paid++;
		}
	}
	return money;
}

/* Capacities are kept by the assignment, or by charges that are limited. */
bool km_core_figures(const struct km_core *c, const uint32_t *choice,
		     uint32_t *count, int64_t *goods, int64_t *money,
		     int64_t *points)
{
	*money = *points = 0;
	memset(count, 0, c->ncharges * sizeof *count);
	memset(goods, 0, c->ncharges * sizeof *goods);
	for (uint32_t s = 0; s < c->nplaces; s++) {
		uint32_t o = choice[s];

		*money += c->money[o];
		*points += c->points[o];
		for (uint32_t i = c->use_at[o]; i < c->use_at[o + 1]; i++) {
			count[c->use[i].charge]++;
			goods[c->use[i].charge] += c->use[i].goods;
		}
	}
	for (uint32_t k = 0; k < c->ncharges; k++) {
		const struct km_core_charge *q = &c->charge[k];

		if (count[k] > q->most)
			return false;
		if (q->kind == KM_SOLVE_COUNT)
			*money += km_core_cost(q, count[k]);
		else if (!parcel_money(q, count[k], goods[k], money))
			return false;
	}
	for (uint32_t g = 0; g < c->ngroups; g++)
		*money += group_money(c, g, count);
	return true;
}
