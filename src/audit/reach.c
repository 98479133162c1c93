/* SPDX-License-Identifier: MIT */
#include "audit/reach.h"

#include <string.h>

#include "match/value.h"
#include "plan/route.h"

#define CHAINS 512

struct km_reach_answer {
	struct km_reach_answer *next;
	uint64_t hash;
	struct km_task task;
	bool yes;
};

void km_reach_init(struct km_reach *r, struct km_arena *mem,
		   struct km_arena *scratch, const struct km_limits *limits,
		   const struct km_costs *costs)
{
	*r = (struct km_reach){ .mem = mem, .scratch = scratch,
				.limits = limits, .costs = costs };
}

static uint64_t hash_of(const struct km_task *t)
{
	uint64_t h = km_mix(t->start.words, t->must_go);

	h = km_mix(h, t->finish_ok);
	h = km_mix(h, t->handle);
	return km_mix(h, (uint64_t)t->start.finish << 32 |
			 (uint64_t)t->start.marking << 8 | t->guards);
}

static bool same_state(const struct km_state *a, const struct km_state *b)
{
	return a->words == b->words && a->done == b->done &&
	       a->finish == b->finish && a->faces == b->faces &&
	       a->marking == b->marking && a->abraded == b->abraded;
}

static bool same_hardness(const struct km_hardness *a,
			  const struct km_hardness *b)
{
	return a->hard == b->hard && a->from == b->from && a->to == b->to &&
	       a->tested == b->tested;
}

/* All that a search reads; costs and choices are those of the run. */
static bool same_task(const struct km_task *a, const struct km_task *b)
{
	return same_state(&a->start, &b->start) &&
	       a->must_go == b->must_go && a->finish_ok == b->finish_ok &&
	       a->new_coat == b->new_coat &&
	       a->coat_may_change == b->coat_may_change &&
	       a->for_use == b->for_use && a->hopeless == b->hopeless &&
	       a->recommend == b->recommend && a->has_mark == b->has_mark &&
	       a->cadmium == b->cadmium &&
	       a->plated_unknown == b->plated_unknown &&
	       a->old_paint == b->old_paint && a->handle == b->handle &&
	       a->dip == b->dip && a->mould == b->mould &&
	       a->vinyl == b->vinyl && a->guards == b->guards &&
	       a->bar == b->bar && a->pit_nm == b->pit_nm &&
	       same_hardness(&a->hardness, &b->hardness) &&
	       !memcmp(a->made, b->made, sizeof a->made);
}

static int search(const struct km_reach *r, const struct km_party *party,
		  const struct km_match *m)
{
	struct km_arena *own = km_arena_new(r->limits);
	const struct km_route *routes;
	enum km_status st = KM_ENOMEM;
	uint32_t n = 0;
	int yes = -1;

	if (own)
		st = km_route_find(own, r->scratch, m, &party->rules,
				   r->costs, NULL, &routes, &n);
	if (st == KM_OK)
		yes = n > 0 && routes[0].reaches;
	km_arena_free(own);
	return yes;
}

int km_reach_ask(void *ctx, const struct km_party *party,
		 const struct km_match *m)
{
	struct km_reach *r = ctx;
	struct km_reach_answer new, *a, **chain;
	int yes;

	if (!r->v)
		r->v = km_arena_alloc(r->mem, CHAINS, sizeof(*r->v));
	if (!r->v)
		return -1;
	km_task_init(&new.task, m, &party->rules, r->costs, NULL);
	new.hash = hash_of(&new.task);
	chain = &r->v[new.hash % CHAINS];
	for (a = *chain; a; a = a->next)
		if (a->hash == new.hash && same_task(&a->task, &new.task))
			return a->yes;
	yes = search(r, party, m);
	if (yes < 0 || r->n == KM_REACH_KEPT)
		return yes;
	new.yes = yes > 0;
	new.next = *chain;
	a = km_arena_copy(r->mem, &new, 1, sizeof new);
	if (!a)
		return -1;
	*chain = a;
	r->n++;
	return yes;
}
