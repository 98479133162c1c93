/* SPDX-License-Identifier: MIT */
/*
 * The whole problem of the plan and the answer, for any other solver to check.
 * docs/ways-json.md says what it means; whole numbers throughout, since sums
 * must be exact.
 */
#include "report/encode.h"
#include "report/ways.h"

#include "report/words.h"
#include "trade/process.h"

struct writer {
	struct km_buf *b;
	const struct km_plan *plan;
	const struct km_plan_problem *x;	/* NULL: there is none */
	bool comma;		/* something stands before in this object */
};

static void key(struct writer *w, const char *name)
{
	km_buf_printf(w->b, "%s\"%s\": ", w->comma ? ", " : "", name);
	w->comma = true;
}

static void text(struct writer *w, const char *name, const char *value)
{
	key(w, name);
	km_json_string(w->b, value);
}

static void number(struct writer *w, const char *name, int64_t value)
{
	key(w, name);
	km_json_integer(w->b, value);
}

/* A number, or null where it says "none". */
static void number_or(struct writer *w, const char *name, int64_t value,
		      int64_t none)
{
	if (value == none)
		text(w, name, NULL);
	else
		number(w, name, value);
}

static void flag(struct writer *w, const char *name, bool value)
{
	key(w, name);
	km_buf_str(w->b, value ? "true" : "false");
}

static void list_begin(struct writer *w, const char *name)
{
	km_buf_printf(w->b, ",\n  \"%s\": [", name);
}

static void list_end(struct writer *w, bool any)
{
	km_buf_str(w->b, any ? "\n  ]" : "]");
}

static void item_begin(struct writer *w, bool first)
{
	km_buf_str(w->b, first ? "\n    {" : ",\n    {");
	w->comma = false;
}

static void item_end(struct writer *w)
{
	km_buf_char(w->b, '}');
}

/* ------------------------------------------------------------------ */

static void resources(struct writer *w)
{
	const struct km_solve *s = &w->x->numbers;

	list_begin(w, "resources");
	for (uint32_t i = 0; i < s->nresources; i++) {
		const struct km_problem_resource *r = &w->x->resources[i];

		item_begin(w, i == 0);
		number(w, "resource", i);
		text(w, "tool", r->tool ? r->tool->id : NULL);
		text(w, "offer", r->offer ? r->offer->id : NULL);
		text(w, "job_lot", r->job_lot ? r->job_lot->id : NULL);
		number(w, "capacity", s->capacity[i]);
		item_end(w);
	}
	list_end(w, s->nresources > 0);
}

static void groups(struct writer *w)
{
	const struct km_solve *s = &w->x->numbers;

	list_begin(w, "groups");
	for (uint32_t i = 0; i < s->ngroups; i++) {
		item_begin(w, i == 0);
		number(w, "group", i);
		number(w, "paid", s->paid[i]);
		item_end(w);
	}
	list_end(w, s->ngroups > 0);
}

static void table(struct writer *w, const struct km_solve_charge *c)
{
	key(w, "table");
	km_buf_char(w->b, '[');
	for (uint32_t i = 0; i < c->ntable; i++) {
		if (i)
			km_buf_str(w->b, ", ");
		km_json_integer(w->b, c->table[i]);
	}
	km_buf_char(w->b, ']');
}

/* What does not belong to the kind of a charge is null. */
static void charge(struct writer *w, uint32_t i)
{
	const struct km_solve_charge *c = &w->x->numbers.charge[i];
	const struct km_problem_charge *is = &w->x->charges[i];
	bool parcel = c->kind == KM_SOLVE_PARCEL;

	number(w, "charge", i);
	text(w, "kind", km_bill_word(is->kind));
	text(w, "seller", is->seller ? is->seller->id : NULL);
	text(w, "process", is->process ? is->process->name : NULL);
	text(w, "job_lot", is->job_lot ? is->job_lot->id : NULL);
	if (parcel) {
		text(w, "table", NULL);
		text(w, "most", NULL);
		text(w, "minimum", NULL);
		text(w, "group", NULL);
		number(w, "postage", c->postage);
		number_or(w, "free_over", c->free_over, KM_SOLVE_FREE);
		number(w, "minimum_order", c->minimum_order);
		flag(w, "top_up", c->top_up);
		return;
	}
	table(w, c);
	number_or(w, "most", c->most, 0);
	number(w, "minimum", c->minimum);
	number_or(w, "group", c->group, KM_SOLVE_NONE);
	text(w, "postage", NULL);
	text(w, "free_over", NULL);
	text(w, "minimum_order", NULL);
	text(w, "top_up", NULL);
}

static void charges(struct writer *w)
{
	list_begin(w, "charges");
	for (uint32_t i = 0; i < w->x->numbers.ncharges; i++) {
		item_begin(w, i == 0);
		charge(w, i);
		item_end(w);
	}
	list_end(w, w->x->numbers.ncharges > 0);
}

static void places(struct writer *w)
{
	list_begin(w, "places");
	for (uint32_t i = 0; i < w->x->numbers.nplaces; i++) {
		const struct km_plan_place *p = &w->plan->places[i];

		item_begin(w, i == 0);
		number(w, "place", i);
		text(w, "kit", p->kit->kit->id);
		text(w, "slot", p->slot->slot->id);
		number(w, "piece", (int64_t)p->piece + 1);
		flag(w, "by_hand", p->by_hand);
		number(w, "chosen", w->x->chosen[i]);
		item_end(w);
	}
	list_end(w, w->x->numbers.nplaces > 0);
}

static void steps(struct writer *w, const struct km_route *r)
{
	key(w, "steps");
	km_buf_char(w->b, '[');
	for (uint32_t i = 0; r && i < r->n_steps; i++) {
		if (i)
			km_buf_str(w->b, ", ");
		km_json_string(w->b, r->steps[i]->name);
	}
	km_buf_char(w->b, ']');
}

static void needs(struct writer *w, const struct km_solve_option *o)
{
	key(w, "resources");
	km_buf_char(w->b, '[');
	for (uint32_t i = 0; i < o->nresources; i++)
		km_buf_printf(w->b, "%s%u", i ? ", " : "",
			      (unsigned)o->resource[i]);
	km_buf_char(w->b, ']');
	key(w, "uses");
	km_buf_char(w->b, '[');
	for (uint32_t i = 0; i < o->nuses; i++) {
		km_buf_str(w->b, i ? ", {" : "{");
		w->comma = false;
		number(w, "charge", o->use[i].charge);
		number(w, "goods", o->use[i].goods);
		km_buf_char(w->b, '}');
	}
	w->comma = true;
	km_buf_char(w->b, ']');
}

static void option(struct writer *w, uint32_t i)
{
	const struct km_solve_option *o = &w->x->numbers.option[i];
	const struct km_way *way = w->x->way[i];
	const struct km_match *m = way->match;

	number(w, "option", i);
	number(w, "place", o->place);
	text(w, "way", km_way_word(way->kind));
	text(w, "tool", m && m->tool ? m->tool->id : NULL);
	text(w, "offer", m && m->offer ? m->offer->id : NULL);
	steps(w, way->route);
	number(w, "money", o->money);
	number(w, "points", o->points);
	flag(w, "acceptable", way->acceptable);
	flag(w, "allowed", !w->x->ask.barred || !w->x->ask.barred[i]);
	needs(w, o);
}

static void options(struct writer *w)
{
	bool any = false;

	list_begin(w, "options");
	for (uint32_t i = 0; i < w->x->numbers.noptions; i++) {
		if (!w->x->way[i])
			continue;	/* a thing that might be found */
		item_begin(w, !any);
		option(w, i);
		item_end(w);
		any = true;
	}
	list_end(w, any);
}

static void asked(struct writer *w)
{
	const struct km_solve_ask *a = &w->x->ask;

	km_buf_str(w->b, ",\n  \"asked\": {");
	w->comma = false;
	text(w, "aim", km_aim_word(w->plan->aim));
	text(w, "points_are", w->plan->aim == KM_AIM_COMPLETE
				      ? "places short" : "hundredths");
	number(w, "points_weight", a->points_weight);
	number(w, "money_weight", a->money_weight);
	if (w->plan->aim == KM_AIM_BUDGET)
		number(w, "budget", w->plan->budget);
	else
		text(w, "budget", NULL);
	if (w->plan->aim == KM_AIM_POINTS)
		number(w, "limit", w->plan->points_limit);
	else
		text(w, "limit", NULL);
	item_end(w);
}

static void answer(struct writer *w)
{
	km_buf_str(w->b, ",\n  \"plan\": {");
	w->comma = false;
	flag(w, "feasible", w->x->feasible);
	flag(w, "proved", w->x->proved);
	number(w, "points", w->x->points);
	number(w, "money", w->x->money);
	number(w, "value", w->x->value);
	number(w, "bound", w->x->bound);
	item_end(w);
}

static void empty(struct writer *w)
{
	static const char *const names[] = { "places", "options", "charges",
					     "resources", "groups" };

	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		km_buf_printf(w->b, ",\n  \"%s\": []", names[i]);
	km_buf_str(w->b, ",\n  \"asked\": null,\n  \"plan\": null");
}

void km_json_ways(struct km_page *p)
{
	struct writer w = { .b = &p->out, .plan = p->audit->plan };

	w.x = w.plan ? w.plan->problem : NULL;
	km_json_begin(p);
	km_buf_printf(w.b, ",\n  \"decimals\": %d", p->decimals);
	if (w.x) {
		places(&w);
		options(&w);
		charges(&w);
		resources(&w);
		groups(&w);
		asked(&w);
		answer(&w);
	} else {
		empty(&w);
	}
	km_buf_str(w.b, "\n}\n");
}
