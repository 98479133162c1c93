/* SPDX-License-Identifier: MIT */
#include "match/few.h"

#include <stdlib.h>
#include <string.h>

#include "base/str.h"

int km_candidate_order(const struct km_candidate *a,
		       const struct km_candidate *b)
{
	if (a->verdict != b->verdict)
		return a->verdict < b->verdict ? -1 : 1;
	if (a->score != b->score)
		return a->score > b->score ? -1 : 1;
	if (a->came_with != b->came_with)
		return a->came_with ? -1 : 1;
	return a->tool == b->tool
		       ? 0 : km_natural_compare(a->tool->id, b->tool->id);
}

static void sift_down(struct km_few *f)
{
	struct km_candidate c = f->v[0];
	uint32_t at = 0;

	for (;;) {
		uint32_t next = 2 * at + 1;

		if (next + 1 < f->n &&
		    km_candidate_order(&f->v[next + 1], &f->v[next]) > 0)
			next++;
		if (next >= f->n || km_candidate_order(&f->v[next], &c) <= 0)
			break;
		f->v[at] = f->v[next];
		at = next;
	}
	f->v[at] = c;
}

static void sift_up(struct km_few *f, uint32_t at)
{
	struct km_candidate c = f->v[at];

	while (at && km_candidate_order(&c, &f->v[(at - 1) / 2]) > 0) {
		f->v[at] = f->v[(at - 1) / 2];
		at = (at - 1) / 2;
	}
	f->v[at] = c;
}

static enum km_status grow(struct km_arena *mem, struct km_few *f)
{
	uint32_t room = f->room ? 2 * f->room : 4;
	struct km_candidate *v;

	if (room > f->most)
		room = f->most;
	v = km_arena_raw(mem, room, sizeof *v);
	if (!v)
		return KM_ENOMEM;
	if (f->n)
		memcpy(v, f->v, f->n * sizeof *v);
	f->v = v;
	f->room = room;
	return KM_OK;
}

bool km_few_takes(const struct km_few *f, const struct km_candidate *c)
{
	return f->n < f->most ||
	       (f->n && km_candidate_order(c, &f->v[0]) < 0);
}

enum km_status km_few_keep(struct km_arena *mem, struct km_few *f,
			   const struct km_candidate *c)
{
	if (f->n < f->most) {
		if (f->n == f->room && grow(mem, f) != KM_OK)
			return KM_ENOMEM;
		f->v[f->n] = *c;
		sift_up(f, f->n++);
	} else {
		f->v[0] = *c;
		sift_down(f);
	}
	if (f->n == f->most)
		f->limit = km_rank((enum km_verdict)f->v[0].verdict,
				   f->v[0].score);
	return KM_OK;
}

static int by_order(const void *a, const void *b)
{
	return km_candidate_order(a, b);
}

void km_few_sort(struct km_few *f)
{
	if (f->n)
		qsort(f->v, f->n, sizeof *f->v, by_order);
}
