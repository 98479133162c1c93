/* SPDX-License-Identifier: MIT */
#include "plan/joint_problem.h"

#include <stdlib.h>

#include "base/num.h"

struct builder {
	struct km_arena *mem;
	const struct km_joint_ask *ask;
	const struct km_plan_place *places;
	const struct km_joint_place *more;
	uint32_t n;
	enum km_column column;
	enum km_points points;
	struct km_joint *out;
	struct km_solve_option *option;
	struct km_solve_charge *charge;
	uint32_t *charge_at;		/* of costs' charge: index + 1 */
	struct km_problem_resource *owner;	/* of a resource */
	uint32_t *capacity;
	uint32_t n_owners;
	uint32_t *slot;			/* by hash: resource + 1; 0: free */
	uint32_t mask;			/* slots less one */
	enum km_status st;
};

int64_t km_money3_column(struct km_money3 m, enum km_column c)
{
	return c == KM_LOW ? m.low : c == KM_LIKELY ? m.likely : m.high;
}

/* ------------------------------------------------------------------ */
/* Charges                                                             */

/* A table by the number of pieces, as long as there are places. */
static bool table_of(struct builder *b, const struct km_charge *c,
		     struct km_solve_charge *out)
{
	int64_t *table = km_arena_alloc(b->mem, (size_t)b->n + 1, sizeof *table);
	bool grouped = b->ask->three_highest && c->kind == KM_CHARGE_LOT;

	if (!table) {
		b->st = KM_ENOMEM;
		return false;
	}
	for (uint32_t i = 0; i <= b->n; i++) {
		struct km_money3 m;

		if (km_charge_pieces(c, i, &m) != KM_OK) {
			b->st = KM_ERANGE;
			return false;
		}
		table[i] = km_money3_column(m, b->column);
	}
	out->kind = KM_SOLVE_COUNT;
	out->table = table;
	out->ntable = b->n + 1;
	out->group = KM_SOLVE_NONE;
	if (grouped && b->n) {
		/* the minimum apart, what goes beyond it in the table */
		out->group = 0;
		out->minimum = table[1];
		for (uint32_t i = 1; i <= b->n; i++)
			table[i] -= out->minimum;
	}
	return true;
}

static bool make_charge(struct builder *b, const struct km_charge *c,
			struct km_solve_charge *out)
{
	if (c->kind != KM_CHARGE_PARCEL)
		return table_of(b, c, out);
	out->kind = KM_SOLVE_PARCEL;
	out->group = KM_SOLVE_NONE;
	out->postage = km_money3_column(c->fixed, b->column);
	out->free_over = c->free_over < 0 ? KM_SOLVE_FREE : c->free_over;
	out->minimum_order = c->minimum_order;
	out->top_up = true;
	return true;
}

/* The problem's charge of a charge of the costs. */
static uint32_t charge(struct builder *b, uint32_t id)
{
	struct km_solve *p = &b->out->p;

	if (!b->charge_at[id]) {
		if (!make_charge(b, &b->ask->costs->charges[id],
				 &b->charge[p->ncharges]))
			return 0;
		b->out->charge_of[p->ncharges] = id;
		b->charge_at[id] = ++p->ncharges;
	}
	return b->charge_at[id] - 1;
}

/* ------------------------------------------------------------------ */
/* Resources                                                           */

static bool same_owner(const struct km_problem_resource *a,
		       const struct km_problem_resource *b)
{
	return a->tool == b->tool && a->offer == b->offer &&
	       a->job_lot == b->job_lot;
}

/* Where a resource stands in the hash, or would.  Numbers follow the order in
 * which resources are asked for, so that addresses change nothing. */
static uint32_t slot_of(const struct builder *b,
			const struct km_problem_resource *r)
{
	uint64_t key = (uintptr_t)r->tool ^ (uintptr_t)r->offer * 3 ^
		       (uintptr_t)r->job_lot * 5;
	uint32_t at = (uint32_t)(key * UINT64_C(0x9e3779b97f4a7c15) >> 32);

	at &= b->mask;
	while (b->slot[at] && !same_owner(&b->owner[b->slot[at] - 1], r))
		at = (at + 1) & b->mask;
	return at;
}

static uint32_t resource(struct builder *b, struct km_problem_resource r,
			 uint32_t capacity)
{
	uint32_t at = slot_of(b, &r);

	if (!b->slot[at]) {
		b->owner[b->n_owners] = r;
		b->capacity[b->n_owners] = capacity;
		b->slot[at] = ++b->n_owners;
	}
	return b->slot[at] - 1;
}

/* How many of an offer there are; 0: any number. */
static uint32_t stock_of(const struct km_offer *o)
{
	if (o->stock >= 0)
		return (uint32_t)o->stock;
	return o->state == KM_OFFER_USED ? 1 : 0;
}

static const struct km_job_lot *lot_of(const struct km_costs *c,
				       const struct km_way *w)
{
	for (uint32_t i = 0; i < w->n_charges; i++)
		if (c->charges[w->charges[i]].kind == KM_CHARGE_JOB_LOT)
			return c->charges[w->charges[i]].job_lot;
	return NULL;
}

static uint32_t resources(struct builder *b, const struct km_way *w,
			  uint32_t *out)
{
	const struct km_match *m = w->match;
	struct km_problem_resource r = { 0 };
	uint32_t n = 0;

	if (!m)
		return 0;
	r.tool = m->tool;
	if (!m->tool)
		r.offer = m->offer;
	if (m->tool || stock_of(m->offer))
		out[n++] = resource(b, r, m->tool ? 1 : stock_of(m->offer));
	r.job_lot = lot_of(b->ask->costs, w);
	if (w->kind == KM_WAY_LOT)
		out[n++] = resource(b, r, 1);
	return n;
}

/* ------------------------------------------------------------------ */
/* Options                                                             */

/* Steps of a route: the money of those paid by the piece; the shared ones are
 * charges. */
static bool work_money(const struct builder *b, const struct km_route *r,
		       int64_t *sum)
{
	for (uint32_t i = 0; r && i < r->n_steps; i++) {
		const struct km_step *s =
			&b->ask->costs->step[r->steps[i]->id];

		if (!s->shared &&
		    !km_add(*sum, km_money3_column(s->one, b->column), sum))
			return false;
	}
	return true;
}

static bool already(const struct km_solve_use *use, uint32_t n, uint32_t charge)
{
	for (uint32_t i = 0; i < n; i++)
		if (use[i].charge == charge)
			return true;
	return false;
}

static int64_t goods_of(const struct builder *b, const struct km_way *w,
			const struct km_charge *c)
{
	const struct km_job_lot *lot = lot_of(b->ask->costs, w);
	int64_t price;

	if (c->kind != KM_CHARGE_PARCEL)
		return 0;
	if (!lot)
		return km_money3_column(w->price, b->column);
	price = km_money3_column(
		b->ask->costs->charges[km_costs_job_lot(b->ask->costs, lot)]
			.fixed, b->column);
	return price < c->minimum_order ? price : c->minimum_order;
}

static void uses(struct builder *b, const struct km_way *w,
		 struct km_solve_option *o)
{
	struct km_solve_use *use = km_arena_alloc(b->mem, w->n_charges,
						  sizeof *use);

	if (!use) {
		b->st = KM_ENOMEM;
		return;
	}
	for (uint32_t i = 0; i < w->n_charges; i++) {
		uint32_t c = charge(b, w->charges[i]);

		if (already(use, o->nuses, c))
			continue;
		use[o->nuses].charge = c;
		use[o->nuses++].goods = goods_of(
			b, w, &b->ask->costs->charges[w->charges[i]]);
	}
	o->use = use;
}

static int64_t points_of(const struct builder *b, uint32_t place,
			 const struct km_way *w)
{
	bool fails = b->more[place].firm && !w->acceptable;

	if (b->points == KM_POINTS_SHORT)
		return fails;
	if (b->ask->rubric)
		return w->points;
	return fails ? 100 : 0;
}

static bool is_bought(const struct km_way *w)
{
	return w->match && w->match->offer;
}

static bool costs_nothing(const struct km_way *w)
{
	return !w->route && !is_bought(w);
}

static void add_option(struct builder *b, uint32_t place,
		       const struct km_way *w)
{
	struct km_joint *j = b->out;
	struct km_solve_option *o = &b->option[j->p.noptions];
	uint32_t *res = km_arena_alloc(b->mem, 2, sizeof *res);
	int64_t money = 0;

	if (!res) {
		b->st = KM_ENOMEM;
		return;
	}
	o->place = place;
	if (is_bought(w) && w->kind != KM_WAY_LOT)
		money = km_money3_column(w->price, b->column);
	if (!work_money(b, w->route, &money) ||
	    !km_add(money, km_money3_column(w->own, b->column), &money))
		b->st = KM_ERANGE;
	o->money = money;
	o->points = points_of(b, place, w);
	o->nresources = resources(b, w, res);
	o->resource = res;
	uses(b, w, o);
	j->way[j->p.noptions] = w;
	j->barred[j->p.noptions] =
		(!b->more[place].spend && !costs_nothing(w)) ||
		(b->more[place].by_hand && b->more[place].by_hand != w);
	j->p.noptions++;
}

/* A thing that might be found: ready, or in need of work; barred until it is
 * asked for. */
static uint32_t add_found(struct builder *b, uint32_t place,
			  const struct km_route *work)
{
	struct km_joint *j = b->out;
	struct km_solve_option *o = &b->option[j->p.noptions];
	struct km_solve_use *use = NULL;

	o->place = place;
	if (work) {
		use = km_arena_alloc(b->mem, work->n_steps, sizeof *use);
		if (!use || !work_money(b, work, &o->money)) {
			b->st = use ? KM_ERANGE : KM_ENOMEM;
			return 0;
		}
	}
	for (uint32_t i = 0; work && i < work->n_steps; i++) {
		const struct km_step *s =
			&b->ask->costs->step[work->steps[i]->id];
		uint32_t c;

		if (!s->shared)
			continue;
		c = charge(b, s->charge);
		if (!already(use, o->nuses, c))
			use[o->nuses++].charge = c;
	}
	o->use = use;
	j->barred[j->p.noptions] = 1;
	return j->p.noptions++;
}

static void add_place(struct builder *b, uint32_t i)
{
	const struct km_plan_place *p = &b->places[i];
	struct km_joint *j = b->out;

	j->first[i] = j->p.noptions;
	for (uint32_t k = 0; k < p->n_ways; k++)
		if (p->ways[k].priced)
			add_option(b, i, &p->ways[k]);
	j->count[i] = j->p.noptions - j->first[i];
	j->ready[i] = j->worn[i] = KM_SOLVE_NONE;
	if (!b->ask->ceilings || !b->more[i].spend)
		return;
	j->ready[i] = add_found(b, i, NULL);
	if (b->more[i].work)
		j->worn[i] = add_found(b, i, b->more[i].work);
}

/* ------------------------------------------------------------------ */
/* The whole                                                           */

static bool make_room(struct builder *b)
{
	const struct km_costs *c = b->ask->costs;
	struct km_joint *j = b->out;
	size_t options = 0;

	for (uint32_t i = 0; i < b->n; i++)
		options += (size_t)b->places[i].n_ways + 2;
	if (options > UINT32_MAX / 16)
		return false;
	b->option = km_arena_alloc(b->mem, options, sizeof *b->option);
	j->way = km_arena_alloc(b->mem, options, sizeof(*j->way));
	j->barred = km_arena_alloc(b->mem, options, 1);
	j->first = km_arena_alloc(b->mem, b->n, sizeof *j->first);
	j->count = km_arena_alloc(b->mem, b->n, sizeof *j->count);
	j->ready = km_arena_alloc(b->mem, b->n, sizeof *j->ready);
	j->worn = km_arena_alloc(b->mem, b->n, sizeof *j->worn);
	b->charge = km_arena_alloc(b->mem, c->n_charges, sizeof *b->charge);
	b->charge_at = km_arena_alloc(b->mem, c->n_charges,
				      sizeof *b->charge_at);
	j->charge_of = km_arena_alloc(b->mem, c->n_charges,
				      sizeof *j->charge_of);
	b->owner = km_arena_alloc(b->mem, 2 * options, sizeof *b->owner);
	b->capacity = km_arena_alloc(b->mem, 2 * options, sizeof *b->capacity);
	for (b->mask = 15; b->mask < 4 * options;)
		b->mask = 2 * b->mask + 1;
	b->slot = km_arena_alloc(b->mem, (size_t)b->mask + 1, sizeof *b->slot);
	return b->option && j->way && j->barred && j->first && j->count &&
	       j->ready && j->worn && b->charge && b->charge_at &&
	       j->charge_of && b->owner && b->capacity && b->slot;
}

static bool add_most(int64_t *sum, int64_t v)
{
	return km_add(*sum, v, sum);
}

/* More than any plan comes to, for the weights. */
static bool find_most(struct km_joint *j)
{
	for (uint32_t i = 0; i < j->p.nplaces; i++) {
		int64_t money = 0, points = 0;
		uint32_t end = i + 1 < j->p.nplaces ? j->first[i + 1]
						    : j->p.noptions;

		for (uint32_t o = j->first[i]; o < end; o++) {
			const struct km_solve_option *x = &j->p.option[o];

			money = x->money > money ? x->money : money;
			points = x->points > points ? x->points : points;
		}
		if (!add_most(&j->most_money, money) ||
		    !add_most(&j->most_points, points))
			return false;
	}
	for (uint32_t i = 0; i < j->p.ncharges; i++) {
		const struct km_solve_charge *c = &j->p.charge[i];
		int64_t most = c->kind == KM_SOLVE_COUNT
				       ? c->table[c->ntable - 1] : c->postage;

		if (!add_most(&most, c->minimum) ||
		    !add_most(&most, c->minimum_order) ||
		    !add_most(&j->most_money, most))
			return false;
	}
	return true;
}

enum km_status km_joint_build(struct km_arena *mem,
			      const struct km_joint_ask *ask,
			      const struct km_plan_place *places,
			      const struct km_joint_place *more, uint32_t n,
			      enum km_column column, enum km_points points,
			      struct km_joint *out)
{
	static const uint32_t three = 3;
	struct builder b = {
		.mem = mem, .ask = ask, .places = places, .more = more, .n = n,
		.column = column, .points = points, .out = out, .st = KM_OK,
	};

	*out = (struct km_joint){ .p = { .nplaces = n } };
	if (!make_room(&b))
		return KM_ENOMEM;
	for (uint32_t i = 0; i < n && b.st == KM_OK; i++)
		add_place(&b, i);
	if (b.st != KM_OK)
		return b.st;
	out->p.option = b.option;
	out->p.charge = b.charge;
	out->p.capacity = b.capacity;
	out->p.nresources = b.n_owners;
	out->owner = b.owner;
	if (ask->three_highest) {
		out->p.ngroups = 1;
		out->p.paid = &three;
	}
	return find_most(out) ? KM_OK : KM_ERANGE;
}
