/* SPDX-License-Identifier: MIT */
/*
 * assign_oracle - a second opinion on the allocation.
 *
 * Without arguments: thousands of small random problems, each also solved by
 * trying every matching; then the large dense cases, whose answers are plain.
 * With "-": reads problems from standard input and prints the answers, for
 * assign.py to compare with SciPy:
 *
 *	S places tools edges	then a line "place tool gain0 gain1 gain2" each
 *	D n			then n * n costs
 *
 * answers with one line: the tool of each place (-1 open), or the column of
 * each row.
 */
#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "match/assign.h"

#define OPEN KM_ASSIGN_OPEN
#define CASES 6000
#define SIDE 7			/* most places and most tools of a small case */
#define KEYS 6

/* ---- every matching ---------------------------------------------------- */

/* A small problem, and the best matching found so far. */
struct trial {
	struct km_assign p;
	struct km_assign_edge edge[SIDE * SIDE];
	int at[SIDE][SIDE];		/* edge of a place and tool, or -1 */
	uint32_t now[SIDE], best[SIDE];	/* tool of a place, or OPEN */
	int64_t sum[KEYS], best_sum[KEYS];
	bool any;
};

static void add(struct trial *t, int edge, int sign)
{
	const struct km_assign_edge *e = &t->edge[edge];

	for (int i = 0; i < KM_ASSIGN_TERMS; i++)
		t->sum[e->key[i]] += sign * e->gain[i];
}

static bool sum_is_greater(const struct trial *t)
{
	for (uint32_t k = 0; k < t->p.nkeys; k++)
		if (t->sum[k] != t->best_sum[k])
			return t->sum[k] > t->best_sum[k];
	return false;
}

/* Matchings come in the order of the tie rule, so the first one with the
 * greatest sum is the answer. */
static void try_all(struct trial *t, uint32_t place, unsigned used)
{
	if (place == t->p.nplaces) {
		if (!t->any || sum_is_greater(t)) {
			memcpy(t->best, t->now, sizeof t->best);
			memcpy(t->best_sum, t->sum, sizeof t->best_sum);
			t->any = true;
		}
		return;
	}
	for (uint32_t tool = 0; tool < t->p.ntools; tool++) {
		int e = t->at[place][tool];

		if (e < 0 || used >> tool & 1)
			continue;
		t->now[place] = tool;
		add(t, e, 1);
		try_all(t, place + 1, used | 1u << tool);
		add(t, e, -1);
	}
	t->now[place] = OPEN;
	try_all(t, place + 1, used);
}

/* ---- small random cases ------------------------------------------------ */

static uint32_t below(uint64_t *seed, uint32_t n)
{
	*seed = *seed * 6364136223846793005u + 1442695040888963407u;
	return (uint32_t)(*seed >> 33) % n;
}

/* Few different gains, so that ties abound; factor widens them until keys
 * need a round each. */
static void make_edge(struct km_assign_edge *e, uint64_t *seed,
		      uint32_t nkeys, uint32_t spread, int64_t factor)
{
	uint32_t key = below(seed, nkeys);

	for (int i = 0; i < KM_ASSIGN_TERMS && key < nkeys; i++) {
		e->key[i] = (uint16_t)key;
		e->gain[i] = factor * below(seed, spread);
		if (below(seed, 12) == 0)
			e->gain[i] = -e->gain[i];
		key += 1 + below(seed, 3);
	}
}

static void make_trial(struct trial *t, uint64_t *seed)
{
	uint32_t thick = 1 + below(seed, 10), spread = 1 + below(seed, 4);
	int64_t factor = below(seed, 3) ? 1 : KM_ASSIGN_GAIN / 4;
	size_t n = 0;

	memset(t, 0, sizeof *t);
	t->p.nplaces = 1 + below(seed, SIDE);
	t->p.ntools = 1 + below(seed, SIDE);
	t->p.nkeys = 1 + below(seed, KEYS);
	t->p.edge = t->edge;
	for (uint32_t i = 0; i < t->p.nplaces; i++) {
		for (uint32_t j = 0; j < t->p.ntools; j++) {
			t->at[i][j] = -1;
			if (below(seed, 10) >= thick)
				continue;
			t->edge[n].place = i;
			t->edge[n].tool = j;
			make_edge(&t->edge[n], seed, t->p.nkeys, spread,
				  factor);
			t->at[i][j] = (int)n++;
		}
	}
	t->p.nedges = n;
}

static bool solve(const struct km_assign *p, uint32_t *tool)
{
	struct km_arena *mem = km_arena_new(NULL);
	enum km_status st = mem ? km_assign_solve(mem, p, tool) : KM_ENOMEM;

	km_arena_free(mem);
	for (uint32_t i = 0; st == KM_OK && i < p->nplaces; i++)
		if (tool[i] != OPEN)
			tool[i] = p->edge[tool[i]].tool;
	return st == KM_OK;
}

static bool agrees(const struct trial *t)
{
	uint32_t tool[SIDE];

	if (!solve(&t->p, tool))
		return false;
	return memcmp(tool, t->best, t->p.nplaces * sizeof *tool) == 0;
}

static void shuffle(struct trial *t, uint64_t *seed)
{
	for (size_t i = t->p.nedges; i > 1; i--) {
		uint32_t j = below(seed, (uint32_t)i);
		struct km_assign_edge e = t->edge[i - 1];

		t->edge[i - 1] = t->edge[j];
		t->edge[j] = e;
	}
}

/* The comparison itself must be able to fail: exchange the best answer for
 * its first place against another one. */
static bool notices_a_wrong_answer(struct trial *t)
{
	uint32_t right = t->best[0];
	bool wrong;

	t->best[0] = right == OPEN ? 0 : OPEN;
	wrong = !agrees(t);
	t->best[0] = right;
	return wrong;
}

static int small_cases(void)
{
	uint64_t seed = 20240229;
	int good = 0, noticed = 0;
	struct trial t;

	for (int i = 0; i < CASES; i++) {
		bool ok;

		make_trial(&t, &seed);
		try_all(&t, 0, 0);
		noticed += notices_a_wrong_answer(&t);
		ok = agrees(&t);
		shuffle(&t, &seed);
		ok = ok && agrees(&t);
		if (!ok)
			fprintf(stderr, "small case %d differs\n", i);
		good += ok;
	}
	printf("%d of %d small cases agree with enumeration\n", good, CASES);
	if (noticed != CASES)
		fprintf(stderr, "%d spoilt answers went unnoticed\n",
			CASES - noticed);
	return good == CASES && noticed == CASES;
}

/* ---- large dense cases ------------------------------------------------- */

/* All edges equal: place i has tool i while there are any. */
static int equal_case(uint32_t places, uint32_t tools)
{
	struct km_assign p = { places, tools, 1, (size_t)places * tools, NULL };
	struct km_assign_edge *e = calloc(p.nedges, sizeof *e);
	uint32_t *tool = calloc(places, sizeof *tool);
	int good = e && tool;

	for (size_t i = 0; good && i < p.nedges; i++) {
		e[i].place = (uint32_t)(i / tools);
		e[i].tool = tools - 1 - (uint32_t)(i % tools);
		e[i].gain[0] = 1;
	}
	p.edge = e;
	good = good && solve(&p, tool);
	for (uint32_t i = 0; good && i < places; i++)
		good = tool[i] == (i < tools ? i : OPEN);
	free(tool);
	free(e);
	printf("%" PRIu32 " places, %" PRIu32 " equal tools: %s\n", places,
	       tools, good ? "as expected" : "WRONG");
	return good;
}

/* ---- problems from standard input -------------------------------------- */

static int answer_sparse(void)
{
	struct km_assign p = { 0, 0, 3, 0, NULL };
	struct km_assign_edge *e = NULL;
	uint32_t *tool = NULL;
	int good;

	good = scanf("%" SCNu32 " %" SCNu32 " %zu", &p.nplaces, &p.ntools,
		     &p.nedges) == 3;
	if (good) {
		e = calloc(p.nedges + 1, sizeof *e);
		tool = calloc((size_t)p.nplaces + 1, sizeof *tool);
		good = e && tool;
	}
	for (size_t i = 0; good && i < p.nedges; i++) {
		e[i].key[1] = 1;
		e[i].key[2] = 2;
		good = scanf("%" SCNu32 " %" SCNu32 " %" SCNd64 " %" SCNd64
			     " %" SCNd64, &e[i].place, &e[i].tool,
			     &e[i].gain[0], &e[i].gain[1], &e[i].gain[2]) == 5;
	}
	p.edge = e;
	good = good && solve(&p, tool);
	for (uint32_t i = 0; good && i < p.nplaces; i++)
		printf("%" PRId64 " ", tool[i] == OPEN ? -1 : (int64_t)tool[i]);
	free(tool);
	free(e);
	return good;
}

static int answer_dense(void)
{
	struct km_arena *mem = km_arena_new(NULL);
	uint32_t n = 0, *col = NULL;
	int64_t *cost = NULL;
	int good;

	good = mem && scanf("%" SCNu32, &n) == 1 && n <= KM_DENSE_SIDE;
	if (good) {
		cost = calloc((size_t)n * n + 1, sizeof *cost);
		col = calloc((size_t)n + 1, sizeof *col);
		good = cost && col;
	}
	for (size_t i = 0; good && i < (size_t)n * n; i++)
		good = scanf("%" SCNd64, &cost[i]) == 1;
	good = good && km_assign_dense(mem, n, cost, col) == KM_OK;
	for (uint32_t i = 0; good && i < n; i++)
		printf("%" PRIu32 " ", col[i]);
	free(col);
	free(cost);
	km_arena_free(mem);
	return good;
}

static int answer_all(void)
{
	char kind;

	while (scanf(" %c", &kind) == 1) {
		int good = kind == 'S' ? answer_sparse() : answer_dense();

		if (!good) {
			fputs("assign_oracle: bad problem\n", stderr);
			return 1;
		}
		putchar('\n');
	}
	return 0;
}

int main(int argc, char **argv)
{
	int good;

	if (argc == 2 && strcmp(argv[1], "-") == 0)
		return answer_all();
	good = small_cases();
	good &= equal_case(1000, 1000);
	good &= equal_case(2000, 2000);
	good &= equal_case(2000, 1000);
	good &= equal_case(60, 2000);
	return !good;
}
