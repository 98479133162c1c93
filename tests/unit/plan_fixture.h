/* SPDX-License-Identifier: MIT */
/*
 * A plan for the audit of report_fixture.h, written out by hand: S-05 is
 * restored, S-06 bought, S-07 left open, the second lever of S-09 bought.
 * The figures are literals; no solver made them.
 */
#ifndef TEST_PLAN_FIXTURE_H
#define TEST_PLAN_FIXTURE_H

#include "report_fixture.h"
#include "trade/process.h"

#define PLACES 4

struct plan_sample {
	struct sample s;
	struct km_way way[PLACES][3];
	struct km_plan_place place[PLACES];
	struct km_plan_bill bill[1];
	struct km_plan_point point[3];
	struct km_plan plan;
	/* the numbers: an option for each way, in order of places */
	struct km_plan_problem problem;
	struct km_solve_option option[8];
	struct km_solve_use use[2];
	struct km_solve_charge charge[2];
	struct km_problem_charge is[2];
	struct km_problem_resource owner[1];
	const struct km_way *way_of[8];
	uint8_t barred[8];
	uint32_t chosen[PLACES];
};

static const struct km_way plan_open = { .kind = KM_WAY_OPEN, .priced = true,
					 .points = 50 };

static inline void plan_place(struct plan_sample *x, int i, int slot,
			      const struct km_way *best)
{
	x->way[i][0] = *best;
	x->way[i][1] = plan_open;
	x->place[i] = (struct km_plan_place){ .kit = &x->s.k,
		.slot = &x->s.slots[slot], .ways = x->way[i], .n_ways = 2,
		.chosen = &x->way[i][0], .margin = -1, .ceiling_ready = -1,
		.ceiling_work = -1 };
}

/*
 * Goods 6.40 + 9.00 = 15.40, postage 4.80, work 9.00: 29.20; each by itself
 * 11.20 + 13.80 + 9.00 = 34.00, which is 4.80 more.
 */
static inline void plan_money(struct plan_sample *x)
{
	x->bill[0] = (struct km_plan_bill){ .kind = KM_BILL_PARCEL,
		.seller = &x->s.seller, .pieces = 2, .goods = 1540,
		.cost = { 480, 480, 480 }, .ride_free = -1 };
	x->point[0] = (struct km_plan_point){ 2920, 50 };
	x->point[1] = (struct km_plan_point){ 900, 150 };
	x->point[2] = (struct km_plan_point){ 0, 200 };
	x->plan = (struct km_plan){ .feasible = true, .proved = true,
		.places = x->place, .n_places = PLACES, .bills = x->bill,
		.n_bills = 1, .goods = { 1440, 1540, 1740 },
		.work = { 700, 900, 1200 }, .postage = { 480, 480, 480 },
		.total = { 2620, 2920, 3420 }, .singly = { 3100, 3400, 3900 },
		.points = 50, .short_firm = 1, .frontier = x->point,
		.n_frontier = 3, .frontier_whole = true };
	x->s.audit.plan = &x->plan;
}

static inline void plan_numbers(struct plan_sample *x)
{
	static const int64_t lot[] = { 0, 900 };
	static const uint32_t tool[] = { 0 };
	static const uint32_t one[] = { 1 };
	static const struct km_process wash = { .name = "wash" };

	for (uint32_t i = 0; i < 2 * PLACES; i++) {
		const struct km_way *w = &x->way[i / 2][i % 2];

		x->way_of[i] = w;
		x->option[i] = (struct km_solve_option){ .place = i / 2,
			.points = w->points };
	}
	x->way_of[5] = NULL;		/* something that might be found */
	x->barred[4] = x->barred[5] = 1;
	x->option[0].resource = tool;
	x->option[0].nresources = 1;
	x->use[0] = (struct km_solve_use){ .charge = 1 };
	x->option[0].use = &x->use[0];
	x->option[2].money = 640;
	x->use[1] = (struct km_solve_use){ .charge = 0, .goods = 640 };
	x->option[2].use = &x->use[1];
	x->option[0].nuses = x->option[2].nuses = 1;
	x->charge[0] = (struct km_solve_charge){ .kind = KM_SOLVE_PARCEL,
		.group = KM_SOLVE_NONE, .postage = 480,
		.free_over = KM_SOLVE_FREE, .minimum_order = 1000,
		.top_up = true };
	x->charge[1] = (struct km_solve_charge){ .kind = KM_SOLVE_COUNT,
		.table = lot, .ntable = 2, .group = KM_SOLVE_NONE };
	x->is[0] = (struct km_problem_charge){ .kind = KM_BILL_PARCEL,
		.seller = &x->s.seller };
	x->is[1] = (struct km_problem_charge){ .kind = KM_BILL_LOAD,
		.process = &wash };
	x->owner[0].tool = &x->s.tool[S05];
	x->chosen[1] = 2;
	x->chosen[2] = 4;
	x->chosen[3] = 6;
	x->problem = (struct km_plan_problem){
		.numbers = { .nplaces = PLACES, .noptions = 8, .nresources = 1,
			.ncharges = 2, .option = x->option, .capacity = one,
			.charge = x->charge },
		.ask = { .points_weight = 5000, .money_weight = 1,
			.budget = KM_SOLVE_FREE, .limit = KM_SOLVE_FREE,
			.barred = x->barred },
		.way = x->way_of, .charges = x->is, .resources = x->owner,
		.chosen = x->chosen, .feasible = true, .proved = true,
		.points = 1, .money = 2920, .value = 7920, .bound = 7920,
	};
	x->plan.problem = &x->problem;
}

static inline void plan_make(struct plan_sample *x)
{
	memset(x, 0, sizeof *x);
	sample_make(&x->s, true);
	plan_place(x, 0, S05, &x->s.way[2]);
	plan_place(x, 1, S06, &x->s.way[0]);
	plan_place(x, 2, S07, &plan_open);
	plan_place(x, 3, S09, &x->s.way[1]);
	x->way[1][0].price = (struct km_money3){ 640, 640, 640 };
	x->place[3].piece = 1;
	plan_money(x);
	plan_numbers(x);
}

#endif
