/* SPDX-License-Identifier: MIT */
/*
 * frontier - the plans that no other beats: for each sum of money the fewest
 * points that must be lost.
 */
#include "report/frontier.h"

#include <stdlib.h>

#include "report/html.h"
#include "report/words.h"
#include "unit/money.h"

enum { MONEY, POINTS, CHOSEN, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[MONEY] = { "money", "money", KM_COL_MONEY, false },
	[POINTS] = { "points_lost", "points lost", KM_COL_HUNDREDTHS, false },
	[CHOSEN] = { "chosen", "the plan", KM_COL_FLAG, false },
};

static int by_money(const void *one, const void *two)
{
	const struct km_plan_point *a = one, *b = two;

	if (a->money != b->money)
		return a->money < b->money ? -1 : 1;
	return (a->points > b->points) - (a->points < b->points);
}

const struct km_plan_point *km_frontier_points(struct km_page *p, uint32_t *n)
{
	const struct km_plan *plan = p->audit->plan;
	struct km_plan_point *v;

	*n = plan ? plan->n_frontier : 0;
	v = km_arena_alloc(p->mem, (size_t)*n + 1, sizeof *v);
	if (!v) {
		p->failed = true;
		*n = 0;
		return NULL;
	}
	for (uint32_t i = 0; i < *n; i++)
		v[i] = plan->frontier[i];
	qsort(v, *n, sizeof *v, by_money);
	return v;
}

bool km_frontier_is_plan(const struct km_page *p,
			 const struct km_plan_point *at)
{
	const struct km_plan *plan = p->audit->plan;

	return plan->total.likely + plan->own.likely == at->money &&
	       plan->points == at->points;
}

/* Whose points; the plan counts all that its places lose, a judge no more than
 * the total, and extra tools as well. */
static void points_words(struct km_page *p)
{
	const struct km_rubric *r = p->audit->load->rubric;

	if (!r) {
		km_buf_str(&p->line, "no rubric was read: a firm durable place "
				     "short of the standard loses 1.00");
		return;
	}
	km_buf_str(&p->line, "points as the rubric counts them");
	if (r->total < 0)
		return;
	km_buf_str(&p->line, ", not capped at its total of ");
	km_buf_money(&p->line, r->total, 2);
}

static void heading(struct km_page *p, struct km_table *t, uint32_t n)
{
	points_words(p);
	if (p->currency)
		km_buf_printf(&p->line, "; money in %s", p->currency);
	if (km_page_prices_own(p))
		km_buf_str(&p->line, p->currency ? ", with own time"
						 : "; money with own time");
	if (!n)
		km_buf_str(&p->line, "; nothing to plan");
	else if (!p->audit->plan->frontier_whole)
		km_buf_str(&p->line, "; the search ended early: cheaper plans "
				     "that lose more points may be missing");
	if (!km_buf_failed(&p->line))
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

/* The fewest places left short come before points, and places that lose none,
 * such as consumables, cost money all the same. */
static void plan_apart(struct km_page *p, struct km_table *t)
{
	const struct km_plan *plan = p->audit->plan;

	if (plan->aim != KM_AIM_COMPLETE || !p->audit->plan->frontier_whole)
		return;
	km_buf_str(&p->line, "the plan spends ");
	km_buf_money(&p->line, plan->total.likely + plan->own.likely,
		     p->decimals);
	km_buf_str(&p->line, " and loses ");
	km_buf_money(&p->line, plan->points, 2);
	km_buf_str(&p->line, ": it leaves the fewest places short, also where "
			     "that saves no points");
	if (!km_buf_failed(&p->line))
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

void km_html_frontier(struct km_page *p)
{
	km_html_open(p, NULL);
	km_buf_str(&p->out, "<div class=\"plot\">\n");
	km_draw_frontier(p);
	km_buf_str(&p->out, "</div>\n");
	km_make_frontier(p);
	km_html_tables(p);
	km_html_close(p);
}

void km_make_frontier(struct km_page *p)
{
	struct km_table *t = km_page_table(p, "points", columns, COLUMNS);
	const struct km_plan_point *v;
	bool chosen = false;
	uint32_t n;

	if (!t)
		return;
	v = km_frontier_points(p, &n);
	heading(p, t, n);
	for (uint32_t i = 0; v && i < n; i++) {
		km_table_row(t);
		km_put_int(t, MONEY, v[i].money);
		km_put_int(t, POINTS, v[i].points);
		km_put_int(t, CHOSEN, km_frontier_is_plan(p, &v[i]));
		chosen |= km_frontier_is_plan(p, &v[i]);
	}
	if (n && !chosen)
		plan_apart(p, t);
}
