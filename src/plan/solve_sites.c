/* SPDX-License-Identifier: MIT */
#include "plan/solve_sites.h"

#include <stdlib.h>
#include <string.h>

#define SHUT ((int64_t)1 << 61)		/* slack of a closed site */
#define NEVER INT64_MAX
#define NOBODY UINT32_MAX
#define ROUNDS 12			/* of dual adjustment, a node */

enum { MAYBE, OPEN, CLOSED };

/* A way to serve a client, by rising cost; the last of a client has no site
 * and costs NEVER. */
struct way {
	int64_t cost;
	uint32_t site, option;
};

struct node {
	int64_t *v;		/* of a client */
	int64_t *slack;		/* of a site */
	uint8_t *state;		/* of a site */
	int64_t bound;		/* sum of v, and of the open sites */
};

struct km_sites {
	uint32_t nclients, nsites;
	struct way *way;
	uint32_t *start;	/* of a client */
	uint32_t *level;	/* of a client: ways at or below v */
	int64_t *fixed;		/* of a site */
	struct node *node;	/* node[depth] is at work */
	uint32_t depth;
	uint8_t *built;		/* sites of the plan at hand */
	uint32_t *tight;	/* scratch: clients */
	uint32_t *first, *next;	/* of a site, of a client: chains of clients */
	int64_t *strain;	/* scratch: of a site */
	int64_t best;		/* NEVER: no plan yet */
	uint32_t *choice;
	struct km_arena *mem;
};

static int by_cost(const void *a, const void *b)
{
	const struct way *p = a, *q = b;

	if (p->cost != q->cost)
		return p->cost < q->cost ? -1 : 1;
	return p->option < q->option ? -1 : p->option > q->option;
}

/* ---- setting up --------------------------------------------------------- */

/* Only the cheapest way to each site counts; there are n, sorted. */
static uint32_t thin(struct km_sites *s, struct way *w, uint32_t n)
{
	uint32_t kept = 0;

	for (uint32_t i = 0; i < n; i++) {
		if (s->strain[w[i].site])
			continue;
		s->strain[w[i].site] = 1;
		w[kept++] = w[i];
	}
	for (uint32_t i = 0; i < kept; i++)
		s->strain[w[i].site] = 0;
	return kept;
}

/* Options without a charge stand at a site that costs nothing. */
static void list_ways(struct km_sites *s, const struct km_core *c,
		      const struct km_solve_ask *ask)
{
	uint32_t n = 0;

	for (uint32_t j = 0; j < c->nplaces; j++) {
		s->start[j] = n;
		for (uint32_t o = c->start[j]; o < c->start[j + 1]; o++) {
			struct way *w = &s->way[n];

			if (ask->barred && ask->barred[c->orig[o]])
				continue;
			w->cost = ask->points_weight * c->points[o] +
				  ask->money_weight * c->money[o];
			w->option = o;
			w->site = c->use_at[o] < c->use_at[o + 1] ?
				  c->use[c->use_at[o]].charge : c->ncharges;
			n++;
		}
		qsort(s->way + s->start[j], n - s->start[j], sizeof *s->way,
		      by_cost);
		n = s->start[j] + thin(s, s->way + s->start[j],
				       n - s->start[j]);
		s->way[n++] = (struct way){ NEVER, c->ncharges, 0 };
	}
	s->start[c->nplaces] = n;
	for (uint32_t k = 0; k < c->ncharges; k++)
		s->fixed[k] = ask->money_weight *
			      km_core_cost(&c->charge[k], 1);
}

static bool node_init(struct km_sites *s, struct node *d)
{
	if (d->v)
		return true;
	d->v = km_arena_alloc(s->mem, s->nclients + 1, sizeof *d->v);
	d->slack = km_arena_alloc(s->mem, s->nsites, sizeof *d->slack);
	d->state = km_arena_alloc(s->mem, s->nsites, 1);
	return d->v && d->slack && d->state;
}

static bool sites_init(struct km_sites *s, struct km_arena *mem,
		       const struct km_core *c)
{
	uint32_t n = c->nplaces, m = c->ncharges + 1;

	*s = (struct km_sites){ .nclients = n, .nsites = m, .mem = mem };
	s->way = km_arena_alloc(mem, (size_t)c->noptions + n + 1,
				sizeof *s->way);
	s->start = km_arena_alloc(mem, (size_t)n + 1, sizeof *s->start);
	s->level = km_arena_alloc(mem, (size_t)n + 1, sizeof *s->level);
	s->tight = km_arena_alloc(mem, (size_t)n + 2, sizeof *s->tight);
	s->choice = km_arena_alloc(mem, (size_t)n + 1, sizeof *s->choice);
	s->next = km_arena_alloc(mem, (size_t)n + 1, sizeof *s->next);
	s->first = km_arena_alloc(mem, m, sizeof *s->first);
	s->fixed = km_arena_alloc(mem, m, sizeof *s->fixed);
	s->built = km_arena_alloc(mem, m, 1);
	s->strain = km_arena_alloc(mem, m, sizeof *s->strain);
	s->node = km_arena_alloc(mem, (size_t)m + 1, sizeof *s->node);
	return s->way && s->start && s->level && s->tight && s->choice &&
	       s->next && s->first && s->fixed && s->built && s->strain &&
	       s->node && node_init(s, &s->node[0]);
}

/* Room is taken once a solver: asks come by the hundred. */
static struct km_sites *begin(struct km_arena *mem, const struct km_core *c,
			      const struct km_solve_ask *ask,
			      struct km_sites **kept)
{
	struct km_sites *s = *kept;

	if (!s) {
		s = km_arena_alloc(mem, 1, sizeof *s);
		if (!s || !sites_init(s, mem, c))
			return NULL;
		*kept = s;
	}
	s->best = NEVER;
	s->depth = 0;
	s->node[0].bound = 0;
	list_ways(s, c, ask);
	return s;
}

/* ---- dual ascent -------------------------------------------------------- */

static struct way *ways_of(const struct km_sites *s, uint32_t j)
{
	return s->way + s->start[j];
}

static void find_level(struct km_sites *s, const struct node *d, uint32_t j)
{
	const struct way *w = ways_of(s, j);
	uint32_t n = 0;

	while (w[n].cost <= d->v[j] && w[n].cost != NEVER)
		n++;
	s->level[j] = n;
}

/* Raise a client to its next cost, or as far as its sites have slack. */
static bool raise_client(struct km_sites *s, struct node *d, uint32_t j)
{
	const struct way *w = ways_of(s, j);
	uint32_t n = s->level[j], next = n;
	int64_t by = SHUT;
	bool more;

	for (uint32_t i = 0; i < n; i++)
		if (d->slack[w[i].site] < by)
			by = d->slack[w[i].site];
	if (by == 0)
		return false;
	while (w[next].cost != NEVER && d->state[w[next].site] == CLOSED)
		next++;
	more = w[next].cost != NEVER && w[next].cost - d->v[j] <= by;
	if (more)
		by = w[next].cost - d->v[j];
	if (by >= SHUT / 2) {
		d->bound = SHUT;	/* nobody can serve it */
		return false;
	}
	d->v[j] += by;
	for (uint32_t i = 0; i < n; i++)
		d->slack[w[i].site] -= by;
	d->bound += by;
	while (w[next].cost <= d->v[j] && w[next].cost != NEVER)
		next++;
	s->level[j] = next;
	return more;
}

static void ascend(struct km_sites *s, struct node *d, const uint32_t *list,
		   uint32_t n)
{
	bool more = true;

	while (more) {
		more = false;
		for (uint32_t i = 0; i < n; i++)
			more |= raise_client(s, d, list ? list[i] : i);
	}
}

/* ---- plans -------------------------------------------------------------- */

static bool is_tight(const struct node *d, const struct way *w)
{
	return d->slack[w->site] == 0 && d->state[w->site] != CLOSED;
}

/* A site without slack for each client that pays for none built yet: where
 * there is but one, then the cheapest. */
static void build(struct km_sites *s, const struct node *d)
{
	memset(s->built, 0, s->nsites);
	for (uint32_t k = 0; k < s->nsites; k++)
		s->built[k] = d->state[k] == OPEN;
	for (int pass = 0; pass < 2; pass++) {
		for (uint32_t j = 0; j < s->nclients; j++) {
			const struct way *w = ways_of(s, j), *own = NULL;
			uint32_t n = 0;
			bool served = false;

			for (uint32_t i = 0; i < s->level[j]; i++) {
				if (!is_tight(d, &w[i]))
					continue;
				served |= s->built[w[i].site];
				own = own ? own : &w[i];
				n++;
			}
			if (own && !served && (pass == 1 || n == 1))
				s->built[own->site] = 1;
		}
	}
}

static const struct way *cheapest(const struct km_sites *s, uint32_t j)
{
	const struct way *w = ways_of(s, j);

	while (w->cost != NEVER && !s->built[w->site])
		w++;
	return w;
}

/* What the plan at hand costs, without sites that serve nobody. */
static void offer(struct km_sites *s)
{
	int64_t sum = 0;
	uint8_t *used = s->built;

	for (uint32_t j = 0; j < s->nclients; j++) {
		const struct way *w = cheapest(s, j);

		if (w->cost == NEVER)
			return;
		used[w->site] |= 2;
		sum += w->cost;
	}
	for (uint32_t k = 0; k < s->nsites; k++) {
		sum += used[k] & 2 ? s->fixed[k] : 0;
		used[k] &= 1;
	}
	if (sum >= s->best)
		return;
	s->best = sum;
	for (uint32_t j = 0; j < s->nclients; j++)
		s->choice[j] = cheapest(s, j)->option;
}

/* How many built sites a client pays for; the first of them. */
static uint32_t overpays(const struct km_sites *s, const struct node *d,
			 uint32_t j, uint32_t *site)
{
	const struct way *w = ways_of(s, j);
	uint32_t n = 0;

	for (uint32_t i = 0; i < s->level[j]; i++) {
		if (!s->built[w[i].site] || w[i].cost >= d->v[j])
			continue;
		if (n++ == 0)
			*site = w[i].site;
	}
	return n;
}

/* ---- dual adjustment ---------------------------------------------------- */

/* Lower a client to the cost below. */
static void lower_client(struct km_sites *s, struct node *d, uint32_t j)
{
	const struct way *w = ways_of(s, j);
	uint32_t n = s->level[j];
	int64_t by;

	while (n > 0 && (w[n - 1].cost == d->v[j] ||
			 d->state[w[n - 1].site] == CLOSED))
		n--;
	if (n == 0)
		return;
	by = d->v[j] - w[n - 1].cost;
	for (uint32_t i = 0; i < n; i++)
		d->slack[w[i].site] += by;
	d->v[j] -= by;
	d->bound -= by;
	s->level[j] = n;
}

/* Chain up, by site, the clients for whom it is the only tight one. */
static void chain_loyal(struct km_sites *s, const struct node *d)
{
	for (uint32_t k = 0; k < s->nsites; k++)
		s->first[k] = NOBODY;
	for (uint32_t j = s->nclients; j-- > 0;) {
		const struct way *w = ways_of(s, j), *only = NULL;
		uint32_t tight = 0;

		for (uint32_t i = 0; i < s->level[j] && tight < 2; i++) {
			if (is_tight(d, &w[i])) {
				only = &w[i];
				tight++;
			}
		}
		if (tight != 1)
			continue;
		s->next[j] = s->first[only->site];
		s->first[only->site] = j;
	}
}

/* Clients that wait for the built sites j pays for and for no other: they can
 * use the slack that j gives up. */
static uint32_t followers(struct km_sites *s, const struct node *d, uint32_t j)
{
	const struct way *w = ways_of(s, j);
	uint32_t n = 0;

	for (uint32_t i = 0; i < s->level[j]; i++) {
		if (!s->built[w[i].site] || w[i].cost >= d->v[j])
			continue;
		for (uint32_t o = s->first[w[i].site]; o != NOBODY;
		     o = s->next[o])
			s->tight[n++] = o;
	}
	return n;
}

/* One round over the clients that pay for several built sites; false: there
 * is none, and the bound is what the plan costs. */
static bool adjust(struct km_sites *s, struct node *d)
{
	bool any = false;
	uint32_t site;

	chain_loyal(s, d);
	for (uint32_t j = 0; j < s->nclients; j++) {
		uint32_t n;

		if (overpays(s, d, j, &site) < 2)
			continue;
		any = true;
		n = followers(s, d, j);
		if (n == 0)
			continue;
		lower_client(s, d, j);
		ascend(s, d, s->tight, n);
		s->tight[n++] = j;
		ascend(s, d, s->tight, n);
	}
	ascend(s, d, NULL, s->nclients);
	return any;
}

/* Sites whose slack would lift the bound past the best plan. */
static void shut_dear(struct km_sites *s, struct node *d)
{
	for (uint32_t k = 0; k < s->nsites; k++) {
		if (d->state[k] == MAYBE && s->best != NEVER &&
		    d->bound + d->slack[k] >= s->best) {
			d->state[k] = CLOSED;
			d->slack[k] = SHUT;
		}
	}
}

/* Raise the bound of a node; false: nothing better is in it. */
static bool work(struct km_sites *s, struct node *d)
{
	int64_t before;

	for (uint32_t j = 0; j < s->nclients; j++)
		find_level(s, d, j);
	ascend(s, d, NULL, s->nclients);
	for (int round = 0; round < ROUNDS; round++) {
		build(s, d);
		offer(s);
		if (d->bound >= s->best)
			return false;
		shut_dear(s, d);
		before = d->bound;
		if (!adjust(s, d) || d->bound >= s->best)
			break;
		if (d->bound <= before && round > 0)
			break;
	}
	build(s, d);
	offer(s);
	return d->bound < s->best;
}

/* ---- the search --------------------------------------------------------- */

/* The built site that most is overpaid for; nsites: none may be asked. */
static uint32_t question(struct km_sites *s, const struct node *d)
{
	uint32_t best = s->nsites, site;

	memset(s->strain, 0, s->nsites * sizeof *s->strain);
	for (uint32_t j = 0; j < s->nclients; j++) {
		const struct way *w = ways_of(s, j);

		if (overpays(s, d, j, &site) < 2)
			continue;
		for (uint32_t i = 0; i < s->level[j]; i++)
			if (s->built[w[i].site])
				s->strain[w[i].site] += d->v[j] - w[i].cost;
	}
	for (uint32_t k = 0; k < s->nsites; k++)
		if (d->state[k] == MAYBE && s->fixed[k] > 0 &&
		    (best == s->nsites || s->strain[k] > s->strain[best]))
			best = k;
	return best;
}

/* Open a site in a node: who pays for it pays no more than its cost. */
static void open_site(struct km_sites *s, struct node *d, uint32_t site)
{
	d->state[site] = OPEN;
	d->bound += s->fixed[site];
	for (uint32_t j = 0; j < s->nclients; j++) {
		const struct way *w = ways_of(s, j);
		uint32_t i = 0;
		int64_t by;

		while (w[i].cost < d->v[j] && w[i].site != site)
			i++;
		if (w[i].cost >= d->v[j])
			continue;
		by = d->v[j] - w[i].cost;
		for (uint32_t k = 0; w[k].cost < d->v[j]; k++)
			d->slack[w[k].site] += d->v[j] - w[k].cost < by ?
					       d->v[j] - w[k].cost : by;
		d->v[j] -= by;
		d->bound -= by;
	}
	d->slack[site] = 0;
}

static bool copy_node(struct km_sites *s, struct node *to,
		      const struct node *from)
{
	if (!node_init(s, to))
		return false;
	memcpy(to->v, from->v, s->nclients * sizeof *to->v);
	memcpy(to->slack, from->slack, s->nsites * sizeof *to->slack);
	memcpy(to->state, from->state, s->nsites);
	to->bound = from->bound;
	return true;
}

static void root(struct km_sites *s)
{
	struct node *d = &s->node[0];

	memcpy(d->slack, s->fixed, s->nsites * sizeof *d->slack);
	for (uint32_t k = 0; k < s->nsites; k++)
		d->state[k] = s->fixed[k] == 0 ? OPEN : MAYBE;
	for (uint32_t j = 0; j < s->nclients; j++) {
		d->v[j] = ways_of(s, j)->cost;
		d->bound += d->v[j];
	}
}

/* The node at hand becomes the side where its site is closed, below it stands
 * the side where it is open: that one is searched first. */
static bool branch(struct km_sites *s, uint32_t site)
{
	struct node *d = &s->node[s->depth], *below = d + 1;

	if (!copy_node(s, below, d))
		return false;
	open_site(s, below, site);
	d->state[site] = CLOSED;
	d->slack[site] = SHUT;
	s->depth++;
	return true;
}

static bool servable(const struct km_sites *s)
{
	for (uint32_t j = 0; j < s->nclients; j++)
		if (ways_of(s, j)->cost == NEVER)
			return false;
	return true;
}

enum km_status km_sites_solve(struct km_arena *mem, const struct km_core *core,
			      const struct km_solve_ask *ask,
			      struct km_sites **kept,
			      struct km_sites_answer *out)
{
	struct km_sites *s = begin(mem, core, ask, kept);
	uint64_t nodes = 0, most = ask->nodes ? ask->nodes : KM_SOLVE_NODES;
	bool stopped = false;
	int64_t bound = NEVER;

	if (!s)
		return KM_ENOMEM;
	if (servable(s)) {
		root(s);
		for (;;) {
			struct node *d = &s->node[s->depth];
			uint32_t site;

			if (nodes >= most) {
				stopped = true;
				break;
			}
			nodes++;
			site = work(s, d) ? question(s, d) : s->nsites;
			if (site < s->nsites) {
				if (!branch(s, site))
					return KM_ENOMEM;
				continue;
			}
			if (s->depth == 0)
				break;
			s->depth--;
		}
	}
	for (uint32_t i = 0; stopped && i <= s->depth; i++)
		if (s->node[i].bound < bound)
			bound = s->node[i].bound;
	stopped = stopped && bound < s->best;	/* what is left is no better */
	out->found = s->best != NEVER;
	out->stopped = stopped;
	out->value = out->found ? s->best : 0;
	out->bound = stopped ? bound : out->value;
	out->nodes = nodes;
	memcpy(out->choice, s->choice, s->nclients * sizeof *s->choice);
	return KM_OK;
}
