/* SPDX-License-Identifier: MIT */
/*
 * solve_fixture - a problem put together line by line, and its plan.
 */
#ifndef KM_TESTS_SOLVE_FIXTURE_H
#define KM_TESTS_SOLVE_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "plan/solve.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define NONE KM_SOLVE_NONE
#define FREE KM_SOLVE_FREE
#define OPTIONS_MOST 64

/* A problem put together line by line. */
struct made {
	struct km_solve p;
	struct km_solve_option option[OPTIONS_MOST];
	struct km_solve_use use[OPTIONS_MOST];
	uint32_t resource[OPTIONS_MOST];
	struct km_solve_charge charge[8];
	uint32_t capacity[8];
	uint32_t paid[2];
	int64_t table[8][12];
	struct km_arena *mem;
	struct km_solver *solver;
	uint32_t option_of[16];
};

static inline struct made *make(uint32_t places)
{
	struct made *m = calloc(1, sizeof *m);

	assert_non_null(m);
	m->p.nplaces = places;
	m->p.option = m->option;
	m->p.charge = m->charge;
	m->p.capacity = m->capacity;
	m->p.paid = m->paid;
	return m;
}

static inline void gone(struct made *m)
{
	km_arena_free(m->mem);
	free(m);
}

/* An option of a place; charge and resource may be NONE. */
static inline uint32_t option(struct made *m, uint32_t place, int64_t money,
			      int64_t points, uint32_t charge, int64_t goods,
			      uint32_t resource)
{
	uint32_t o = m->p.noptions++;

	assert_true(o < OPTIONS_MOST);
	m->use[o] = (struct km_solve_use){ charge, goods };
	m->resource[o] = resource;
	m->option[o] = (struct km_solve_option){
		.place = place, .money = money, .points = points,
		.use = &m->use[o], .nuses = charge != NONE,
		.resource = &m->resource[o], .nresources = resource != NONE
	};
	return o;
}

static inline uint32_t table(struct made *m, const int64_t *t, uint32_t n)
{
	uint32_t k = m->p.ncharges++;

	memcpy(m->table[k], t, n * sizeof *t);
	m->charge[k] = (struct km_solve_charge){ .table = m->table[k],
						 .ntable = n, .group = NONE };
	return k;
}

/* Paid once, however many. */
static inline uint32_t fixed(struct made *m, int64_t money)
{
	return table(m, (int64_t[]){ 0, money }, 2);
}

static inline uint32_t parcel(struct made *m, int64_t postage,
			      int64_t free_over, int64_t minimum_order)
{
	uint32_t k = m->p.ncharges++;

	m->charge[k] = (struct km_solve_charge){
		.kind = KM_SOLVE_PARCEL, .postage = postage,
		.free_over = free_over, .minimum_order = minimum_order,
		.group = NONE
	};
	return k;
}

static inline struct km_solver *solver(struct made *m)
{
	if (!m->solver) {
		m->mem = km_arena_new(NULL);
		assert_int_equal(km_solver_new(m->mem, &m->p, &m->solver),
				 KM_OK);
	}
	return m->solver;
}

static inline struct km_solve_ask all_of(int64_t points_weight,
					 int64_t money_weight)
{
	return (struct km_solve_ask){ points_weight, money_weight, FREE, FREE,
				      NULL, 0 };
}

static inline struct km_solve_plan solved(struct made *m,
					  struct km_solve_ask ask)
{
	struct km_solve_plan plan = { .option_of = m->option_of };

	assert_int_equal(km_solver_ask(solver(m), &ask, &plan), KM_OK);
	assert_true(plan.proved);
	if (plan.feasible)
		assert_int_equal(plan.bound, plan.value);
	return plan;
}

static inline void expect_money(struct made *m, int64_t money)
{
	struct km_solve_plan plan = solved(m, all_of(0, 1));

	assert_true(plan.feasible);
	assert_int_equal(plan.money, money);
}

#endif
