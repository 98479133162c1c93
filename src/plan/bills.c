/* SPDX-License-Identifier: MIT */
#include "plan/bills.h"

#include "base/num.h"

/* What of a charge a plan uses. */
struct tally {
	int32_t pieces;
	bool counted;			/* a job lot, in its parcel */
	struct km_money3 goods;
};

static bool add_to(struct km_money3 *sum, struct km_money3 m)
{
	return km_money3_add(*sum, m, sum);
}

static bool is_offer(const struct km_way *w)
{
	return w->match && w->match->offer && w->kind != KM_WAY_LOT;
}

static enum km_status count(const struct km_joint_ask *ask,
			    const struct km_plan_place *places, uint32_t n,
			    struct tally *t, struct km_plan *out)
{
	for (uint32_t i = 0; i < n; i++) {
		const struct km_way *w = places[i].chosen;
		const struct km_route *r = w->route;

		if (is_offer(w) && !add_to(&out->goods, w->price))
			return KM_ERANGE;
		for (uint32_t k = 0; k < w->n_charges; k++) {
			struct tally *one = &t[w->charges[k]];
			bool twice = false;

			for (uint32_t m = 0; m < k; m++)
				twice |= w->charges[m] == w->charges[k];
			one->pieces += !twice;
			if (!twice && is_offer(w) &&
			    ask->costs->charges[w->charges[k]].kind ==
				    KM_CHARGE_PARCEL &&
			    !add_to(&one->goods, w->price))
				return KM_ERANGE;
		}
		for (uint32_t k = 0; r && k < r->n_steps; k++) {
			const struct km_step *s =
				&ask->costs->step[r->steps[k]->id];

			if (!s->shared && !add_to(&out->work, s->one))
				return KM_ERANGE;
		}
		for (int k = 0; r && k < 3; k++)
			out->own_min[k] += r->hands_min[k];
		if (!add_to(&out->own, w->own))
			return KM_ERANGE;
	}
	return KM_OK;
}

enum km_bill_kind km_bill_kind_of(enum km_charge_kind k)
{
	switch (k) {
	case KM_CHARGE_PARCEL:
		return KM_BILL_PARCEL;
	case KM_CHARGE_LOT:
		return KM_BILL_LOT;
	case KM_CHARGE_LOAD:
		return KM_BILL_LOAD;
	case KM_CHARGE_JOB_LOT:
		break;
	}
	return KM_BILL_JOB_LOT;
}

/* The price of a job lot counts once in the parcel of its seller, however
 * many places it fills. */
static enum km_status lots_in_parcels(const struct km_joint_ask *ask,
				      const struct km_plan_place *places,
				      uint32_t n, struct tally *t)
{
	const struct km_costs *c = ask->costs;

	for (uint32_t i = 0; i < n; i++) {
		const struct km_way *w = places[i].chosen;
		uint32_t lot = c->n_charges, parcel = c->n_charges;

		for (uint32_t k = 0; k < w->n_charges; k++) {
			uint32_t id = w->charges[k];

			if (c->charges[id].kind == KM_CHARGE_JOB_LOT)
				lot = id;
			if (c->charges[id].kind == KM_CHARGE_PARCEL)
				parcel = id;
		}
		if (lot == c->n_charges || parcel == c->n_charges ||
		    t[lot].counted)
			continue;
		t[lot].counted = true;
		if (!add_to(&t[parcel].goods, c->charges[lot].fixed))
			return KM_ERANGE;
	}
	return KM_OK;
}

static int64_t short_by(int64_t minimum, int64_t goods)
{
	return minimum > goods ? minimum - goods : 0;
}

static enum km_status make_bill(const struct km_charge *c,
				const struct tally *t, struct km_plan_bill *b)
{
	b->kind = km_bill_kind_of(c->kind);
	b->seller = c->seller;
	b->process = c->process;
	b->job_lot = c->job_lot;
	b->pieces = t->pieces;
	b->committed = c->committed;
	b->ride_free = km_charge_ride_free(c, t->pieces);
	if (c->kind != KM_CHARGE_PARCEL)
		return km_charge_pieces(c, t->pieces, &b->cost);
	b->goods = t->goods.likely;
	b->ride_free = -1;
	b->top_up.low = short_by(c->minimum_order, t->goods.low);
	b->top_up.likely = short_by(c->minimum_order, t->goods.likely);
	b->top_up.high = short_by(c->minimum_order, t->goods.high);
	return km_charge_parcel(c, t->goods, &b->cost);
}

static void open_lot(const struct km_joint_ask *ask, struct km_plan_bill *b)
{
	const struct km_workshop *w = ask->costs->workshop;

	for (uint32_t i = 0; w && b->committed && i < w->n_processes; i++)
		if (w->processes[i].process == b->process)
			b->closes = w->processes[i].open_lot_closes;
}

/* The shop rule: a lot whose minimum is not among the three highest of its
 * column pays only what goes beyond it. */
static void forgive(const struct km_joint_ask *ask, struct km_plan *out,
		    struct km_plan_bill *bills, const uint32_t *charge,
		    int column)
{
	for (uint32_t i = 0; i < out->n_bills; i++) {
		uint32_t above = 0;
		int64_t mine;
		struct km_money3 one;
		int64_t *cost = column == 0 ? &bills[i].cost.low
				: column == 1 ? &bills[i].cost.likely
					      : &bills[i].cost.high;

		if (!km_charge_is_minimum(&ask->costs->charges[charge[i]]) ||
		    km_charge_pieces(&ask->costs->charges[charge[i]], 1,
				     &one) != KM_OK)
			continue;
		mine = column == 0 ? one.low : column == 1 ? one.likely
							   : one.high;
		for (uint32_t k = 0; k < out->n_bills; k++) {
			struct km_money3 m;
			int64_t its;

			if (k == i ||
			    !km_charge_is_minimum(
				    &ask->costs->charges[charge[k]]) ||
			    km_charge_pieces(&ask->costs->charges[charge[k]],
					     1, &m) != KM_OK)
				continue;
			its = column == 0 ? m.low : column == 1 ? m.likely
								: m.high;
			above += its > mine || (its == mine && k < i);
		}
		if (above >= 3)
			*cost -= mine;
	}
}

static enum km_status add_up(struct km_plan *out)
{
	for (uint32_t i = 0; i < out->n_bills; i++) {
		const struct km_plan_bill *b = &out->bills[i];
		struct km_money3 *sum = b->kind == KM_BILL_PARCEL ? &out->postage
					: b->kind == KM_BILL_JOB_LOT
						? &out->goods : &out->work;

		if (!add_to(sum, b->cost))
			return KM_ERANGE;
	}
	if (!add_to(&out->total, out->goods) ||
	    !add_to(&out->total, out->work) ||
	    !add_to(&out->total, out->postage))
		return KM_ERANGE;
	return KM_OK;
}

enum km_status km_bills_make(struct km_arena *mem,
			     const struct km_joint_ask *ask,
			     const struct km_plan_place *places, uint32_t n,
			     struct km_plan *out)
{
	const struct km_costs *c = ask->costs;
	struct tally *t = km_arena_alloc(mem, c->n_charges, sizeof *t);
	struct km_plan_bill *v = km_arena_alloc(mem, c->n_charges, sizeof *v);
	uint32_t *charge = km_arena_alloc(mem, c->n_charges, sizeof *charge);
	enum km_status st;

	if (!t || !v || !charge)
		return KM_ENOMEM;
	st = count(ask, places, n, t, out);
	if (st == KM_OK)
		st = lots_in_parcels(ask, places, n, t);
	for (uint32_t i = 0; i < c->n_charges && st == KM_OK; i++) {
		if (!t[i].pieces)
			continue;
		charge[out->n_bills] = i;
		st = make_bill(&c->charges[i], &t[i], &v[out->n_bills]);
		open_lot(ask, &v[out->n_bills++]);
	}
	out->bills = v;
	if (st != KM_OK)
		return st;
	for (int column = 0; ask->three_highest && column < 3; column++)
		forgive(ask, out, v, charge, column);
	return add_up(out);
}
