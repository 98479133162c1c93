/* SPDX-License-Identifier: MIT */
/*
 * assign_bench - time km_assign_dense on one matrix.
 *
 * Reads n and n * n integer costs from standard input, solves REPEATS times
 * and prints "n least-sum best-seconds", the time of the solve alone.
 * tests/oracle/assign.py --bench FOLDER PROGRAM runs it over the OR-Library
 * files and sets the times against SciPy's.
 */
#define _POSIX_C_SOURCE 200809L

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "base/arena.h"
#include "match/assign.h"

#define REPEATS 9

static int64_t *read_costs(uint32_t n)
{
	size_t size = (size_t)n * n;
	int64_t *cost = calloc(size, sizeof *cost);

	for (size_t i = 0; cost && i < size; i++) {
		if (scanf("%" SCNd64, &cost[i]) != 1) {
			free(cost);
			return NULL;
		}
	}
	return cost;
}

static double seconds(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int solve_once(uint32_t n, const int64_t *cost, uint32_t *column,
		      double *took)
{
	struct km_arena *scratch = km_arena_new(NULL);
	double start = seconds();
	int ok = scratch &&
		 km_assign_dense(scratch, n, cost, column) == KM_OK;

	*took = seconds() - start;
	km_arena_free(scratch);
	return ok;
}

static int run(uint32_t n, const int64_t *cost, uint32_t *column)
{
	double best = 1e9, took;
	int64_t sum = 0;

	for (int i = 0; i < REPEATS; i++) {
		if (!solve_once(n, cost, column, &took))
			return 1;
		best = took < best ? took : best;
	}
	for (uint32_t r = 0; r < n; r++)
		sum += cost[(size_t)r * n + column[r]];
	printf("%" PRIu32 " %" PRId64 " %.9f\n", n, sum, best);
	return 0;
}

int main(void)
{
	uint32_t n, *column = NULL;
	int64_t *cost = NULL;
	int bad = 1;

	if (scanf("%" SCNu32, &n) == 1 && n > 0 && n <= KM_DENSE_SIDE) {
		column = calloc(n, sizeof *column);
		cost = read_costs(n);
		if (column && cost)
			bad = run(n, cost, column);
	}
	if (bad)
		fputs("assign_bench: no solvable matrix on input\n", stderr);
	free(column);
	free(cost);
	return bad;
}
