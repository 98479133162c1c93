/* SPDX-License-Identifier: MIT */
#include "plan/joint_problem.h"

#include "base/num.h"
#include "plan/ways.h"

#define MOST ((int64_t)1 << 60)		/* of money and points of a plan */

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

/* The rest of a table is its last entry. */
static void cut_table(struct km_solve_charge *c)
{
	while (c->ntable > 1 &&
	       c->table[c->ntable - 1] == c->table[c->ntable - 2])
		c->ntable--;
}

/* A table by the number of pieces, as long as there are places. */
static bool table_of(struct builder *b, const struct km_charge *c,
		     struct km_solve_charge *out)
{
	uint32_t most = c->kind == KM_CHARGE_JOB_LOT && b->n ? 1 : b->n;
	int64_t *table = km_arena_alloc(b->mem, (size_t)most + 1, sizeof *table);
	bool grouped = b->ask->three_highest && km_charge_is_minimum(c);

	if (!table) {
		b->st = KM_ENOMEM;
		return false;
	}
	for (uint32_t i = 0; i <= most; i++) {
		struct km_money3 m;

		if (km_charge_pieces(c, i, &m) != KM_OK) {
			b->st = KM_ERANGE;
			return false;
		}
		table[i] = km_money3_column(m, b->column);
	}
	out->kind = KM_SOLVE_COUNT;
	out->table = table;
	out->ntable = most + 1;
	out->group = KM_SOLVE_NONE;
	if (grouped && most) {
		/* the minimum apart, what goes beyond it in the table */
		out->group = 0;
		out->minimum = table[1];
		for (uint32_t i = 1; i <= most; i++)
			table[i] -= out->minimum;
	}
	cut_table(out);
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

uint32_t km_joint_stock(const struct km_way *w)
{
	const struct km_match *m = w->match;

	if (!m)
		return 0;
	if (m->tool)
		return 1;
	if (m->offer->stock >= 0)
		return (uint32_t)m->offer->stock;
	return m->offer->state == KM_OFFER_USED ? 1 : 0;
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
	if (km_joint_stock(w))
		out[n++] = resource(b, r, km_joint_stock(w));
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

/* What a way brings to a parcel: its price, or that of its job lot. */
static int64_t goods_of(const struct builder *b, const struct km_way *w,
			const struct km_charge *c, bool brings_lot)
{
	const struct km_job_lot *lot = lot_of(b->ask->costs, w);
	const struct km_costs *costs = b->ask->costs;

	if (c->kind != KM_CHARGE_PARCEL)
		return 0;
	if (!lot)
		return km_money3_column(w->price, b->column);
	if (!brings_lot)
		return 0;
	return km_money3_column(
		costs->charges[km_costs_job_lot(costs, lot)].fixed, b->column);
}

static void uses(struct builder *b, const struct km_way *w, bool brings_lot,
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
			b, w, &b->ask->costs->charges[w->charges[i]],
			brings_lot);
	}
	o->use = use;
}

/* Does what a way brings to its parcel matter, and is it a job lot's? */
static bool lot_counts(const struct builder *b, const struct km_way *w)
{
	const struct km_costs *c = b->ask->costs;

	for (uint32_t i = 0; w->kind == KM_WAY_LOT && i < w->n_charges; i++) {
		const struct km_charge *one = &c->charges[w->charges[i]];

		if (one->kind == KM_CHARGE_PARCEL &&
		    (one->minimum_order > 0 || one->free_over >= 0))
			return true;
	}
	return false;
}

static int64_t points_of(const struct builder *b, uint32_t place,
			 const struct km_way *w)
{
	if (b->points == KM_POINTS_SHORT)
		return b->more[place].firm && !w->acceptable;
	return w->points;
}

static bool is_bought(const struct km_way *w)
{
	return w->match && w->match->offer;
}

static bool costs_nothing(const struct km_way *w)
{
	return !w->route && !is_bought(w);
}

static int64_t money_of(struct builder *b, const struct km_way *w)
{
	int64_t money = 0;

	if (is_bought(w) && w->kind != KM_WAY_LOT)
		money = km_money3_column(w->price, b->column);
	if (!work_money(b, w->route, &money) ||
	    !km_add(money, km_money3_column(w->own, b->column), &money))
		b->st = KM_ERANGE;
	return money;
}

static void add_option(struct builder *b, uint32_t place,
		       const struct km_way *w, bool brings_lot)
{
	struct km_joint *j = b->out;
	struct km_solve_option *o = &b->option[j->p.noptions];
	uint32_t *res = km_arena_alloc(b->mem, 3, sizeof *res);
	struct km_problem_resource lot = { 0 };

	if (!res) {
		b->st = KM_ENOMEM;
		return;
	}
	o->place = place;
	o->money = money_of(b, w);
	o->points = points_of(b, place, w);
	o->nresources = resources(b, w, res);
	lot.job_lot = lot_of(b->ask->costs, w);
	if (brings_lot)
		res[o->nresources++] = resource(b, lot, 1);
	o->resource = res;
	uses(b, w, brings_lot, o);
	j->way[j->p.noptions] = w;
	j->barred[j->p.noptions] =
		(!b->more[place].spend && !costs_nothing(w)) ||
		(b->more[place].by_hand && b->more[place].by_hand != w);
	j->p.noptions++;
}

/* The options of a way.  The price of a job lot counts once towards an order:
 * one of the places that use it brings it, the others do not. */
static void add_way(struct builder *b, uint32_t place, const struct km_way *w)
{
	add_option(b, place, w, false);
	if (b->st == KM_OK && lot_counts(b, w))
		add_option(b, place, w, true);
}

/* What the work on a thing that is found costs, what is shared apart. */
static bool found_money(const struct builder *b, const struct km_route *work,
			int64_t *money)
{
	struct km_money3 own;

	return km_own_time(b->ask->costs, work, &own) == KM_OK &&
	       work_money(b, work, money) &&
	       km_add(*money, km_money3_column(own, b->column), money);
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
		if (!use || !found_money(b, work, &o->money)) {
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
			add_way(b, i, &p->ways[k]);
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

/* Room for the options of a place, and for the resources they may name first:
 * see add_way() and add_option(). */
static void count_room(const struct builder *b, size_t *options,
		       size_t *owners)
{
	for (uint32_t i = 0; i < b->n; i++) {
		*options += (size_t)b->places[i].n_ways + 2;
		*owners += b->places[i].n_ways;
		for (uint32_t k = 0; k < b->places[i].n_ways; k++) {
			bool lot = b->places[i].ways[k].kind == KM_WAY_LOT;

			*options += lot;
			*owners += 2 * (size_t)lot;
		}
	}
}

static bool make_owners(struct builder *b, size_t owners)
{
	b->owner = km_arena_alloc(b->mem, owners, sizeof *b->owner);
	b->capacity = km_arena_alloc(b->mem, owners, sizeof *b->capacity);
	for (b->mask = 15; b->mask < 2 * owners;)
		b->mask = 2 * b->mask + 1;
	b->slot = km_arena_alloc(b->mem, (size_t)b->mask + 1, sizeof *b->slot);
	return b->owner && b->capacity && b->slot;
}

static bool make_room(struct builder *b)
{
	const struct km_costs *c = b->ask->costs;
	struct km_joint *j = b->out;
	size_t options = 0, owners = 0;

	count_room(b, &options, &owners);
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
	return make_owners(b, owners) && b->option && j->way && j->barred &&
	       j->first && j->count && j->ready && j->worn && b->charge &&
	       b->charge_at && j->charge_of;
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
	return j->most_money < MOST && j->most_points < MOST;
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
