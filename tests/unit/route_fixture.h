/* SPDX-License-Identifier: MIT */
/*
 * route_fixture - the routes of a tool of its own, as lines.
 */
#ifndef KM_TESTS_ROUTE_FIXTURE_H
#define KM_TESTS_ROUTE_FIXTURE_H

#include "match_fixture.h"

#include "plan/route.h"
#include "plan/search.h"

struct found {
	const struct km_route *v;
	uint32_t n;
};

static struct km_process_terms own_terms[1];
static uint32_t n_own_terms;

static inline struct km_costs costs(void)
{
	static struct km_workshop w;
	struct km_costs c;

	w = (struct km_workshop){ .own_time = { -1 },
		.processes = own_terms, .n_processes = n_own_terms };
	assert_int_equal(km_costs_init(mem, "GBP", NULL, &w, NULL,
		(struct km_date){ 0, 0, 0 }, &c), KM_OK);
	return c;
}

static inline void without(const char *process)
{
	own_terms[0] = (struct km_process_terms){ .id = process,
		.process = km_process_find(km_slice_of(process)),
		.lot_minimum = { -1, -1, -1 }, .piece = { -1, -1, -1 },
		.load = { -1, -1, -1 }, .load_pieces = -1, .days = -1,
		.hands_min = -1, .open_lot_pieces = -1,
		.not_available = true };
	n_own_terms = 1;
}

static inline struct found routes(struct pair *p, enum km_standard s)
{
	struct km_match m = compare(p, s);
	struct km_arena *scratch = km_arena_new(NULL);
	struct km_costs c = costs();
	struct found f = { NULL, 0 };

	assert_non_null(scratch);
	assert_int_equal(km_route_find(mem, scratch, &m, &p->rules, &c, NULL,
				       &f.v, &f.n), KM_OK);
	km_arena_free(scratch);
	return f;
}

static inline struct km_task task_of(struct pair *p, enum km_standard s,
				     const struct km_costs *c)
{
	struct km_match m = compare(p, s);
	struct km_task t;

	km_task_init(&t, &m, &p->rules, c, NULL);
	return t;
}

/* The steps of a route as one line. */
static const char *line(const struct km_route *r)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	for (uint32_t i = 0; i < r->n_steps; i++) {
		char word[KM_PROCESS_ROOM];

		km_process_word(r->steps[i], word);
		if (i)
			km_buf_char(&b, ' ');
		km_buf_str(&b, word);
	}
	return b.text;
}

static inline void expect(const struct found *f, uint32_t i, const char *steps,
			  int64_t likely, const char *leaves)
{
	if (i >= f->n)
		fail_msg("only %u routes, no %s", (unsigned)f->n, steps);
	assert_string_equal(line(&f->v[i]), steps);
	assert_int_equal(f->v[i].cost.likely, likely);
	if (leaves)
		assert_string_equal(f->v[i].leaves, leaves);
	else
		assert_null(f->v[i].leaves);
}

static inline uint32_t n_reaching(const struct found *f)
{
	uint32_t n = 0;

	while (n < f->n && f->v[n].reaches)
		n++;
	for (uint32_t i = n; i < f->n; i++)
		assert_false(f->v[i].reaches);
	return n;
}

/* A tyre lever, of which no standard gives a hardness. */
static inline void lever(struct pair *p, const char *finish, int rust)
{
	begin(p, "tyre lever");
	want(p, KM_A_FINISH, finish_of(finish, NULL));
	have(p, KM_A_FINISH, finish_of(finish, NULL));
	p->condition.rust = (int8_t)rust;
	n_own_terms = 0;
}

#endif
