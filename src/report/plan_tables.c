/* SPDX-License-Identifier: MIT */
/*
 * The plan as data: one row of totals, and the bills that they hold.
 */
#include "report/page.h"
#include "report/words.h"
#include "trade/process.h"
#include "unit/date.h"

enum {
	AIM, BUDGET, POINTS_LIMIT, FEASIBLE, PROVED, GAP, NODES,
	GOODS_LOW, GOODS, GOODS_HIGH, WORK_LOW, WORK, WORK_HIGH,
	POST_LOW, POST, POST_HIGH, LOW, LIKELY, HIGH,
	SINGLY_LOW, SINGLY, SINGLY_HIGH, OWN_LOW, OWN, OWN_HIGH,
	POINTS, SHORT_FIRM, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[AIM] = { "aim", NULL, KM_COL_WORD, false },
	[BUDGET] = { "budget", NULL, KM_COL_MONEY, false },
	[POINTS_LIMIT] = { "points_limit", NULL, KM_COL_HUNDREDTHS, false },
	[FEASIBLE] = { "feasible", NULL, KM_COL_FLAG, false },
	[PROVED] = { "proved", NULL, KM_COL_FLAG, false },
	[GAP] = { "gap", NULL, KM_COL_MONEY, false },
	[NODES] = { "nodes", NULL, KM_COL_COUNT, false },
	[GOODS_LOW] = { "goods_low", NULL, KM_COL_MONEY, false },
	[GOODS] = { "goods_likely", NULL, KM_COL_MONEY, false },
	[GOODS_HIGH] = { "goods_high", NULL, KM_COL_MONEY, false },
	[WORK_LOW] = { "work_low", NULL, KM_COL_MONEY, false },
	[WORK] = { "work_likely", NULL, KM_COL_MONEY, false },
	[WORK_HIGH] = { "work_high", NULL, KM_COL_MONEY, false },
	[POST_LOW] = { "postage_low", NULL, KM_COL_MONEY, false },
	[POST] = { "postage_likely", NULL, KM_COL_MONEY, false },
	[POST_HIGH] = { "postage_high", NULL, KM_COL_MONEY, false },
	[LOW] = { "total_low", NULL, KM_COL_MONEY, false },
	[LIKELY] = { "total_likely", NULL, KM_COL_MONEY, false },
	[HIGH] = { "total_high", NULL, KM_COL_MONEY, false },
	[SINGLY_LOW] = { "singly_low", NULL, KM_COL_MONEY, false },
	[SINGLY] = { "singly_likely", NULL, KM_COL_MONEY, false },
	[SINGLY_HIGH] = { "singly_high", NULL, KM_COL_MONEY, false },
	[OWN_LOW] = { "own_time_low", NULL, KM_COL_MONEY, false },
	[OWN] = { "own_time_likely", NULL, KM_COL_MONEY, false },
	[OWN_HIGH] = { "own_time_high", NULL, KM_COL_MONEY, false },
	[POINTS] = { "points_lost", NULL, KM_COL_HUNDREDTHS, false },
	[SHORT_FIRM] = { "places_short", NULL, KM_COL_COUNT, false },
};

enum {
	B_KIND, B_SELLER, B_PROCESS, B_JOB_LOT, B_PIECES, B_COMMITTED,
	B_CLOSES, B_GOODS, B_LOW, B_COST, B_HIGH, B_UP_LOW, B_UP, B_UP_HIGH,
	B_FREE, B_COLUMNS
};

static const struct km_column bill_columns[B_COLUMNS] = {
	[B_KIND] = { "kind", NULL, KM_COL_WORD, false },
	[B_SELLER] = { "seller", NULL, KM_COL_ID, false },
	[B_PROCESS] = { "process", NULL, KM_COL_TEXT, false },
	[B_JOB_LOT] = { "job_lot", NULL, KM_COL_ID, false },
	[B_PIECES] = { "pieces", NULL, KM_COL_COUNT, false },
	[B_COMMITTED] = { "committed", NULL, KM_COL_COUNT, false },
	[B_CLOSES] = { "closes", NULL, KM_COL_ID, false },
	[B_GOODS] = { "goods_likely", NULL, KM_COL_MONEY, false },
	[B_LOW] = { "cost_low", NULL, KM_COL_MONEY, false },
	[B_COST] = { "cost_likely", NULL, KM_COL_MONEY, false },
	[B_HIGH] = { "cost_high", NULL, KM_COL_MONEY, false },
	[B_UP_LOW] = { "top_up_low", NULL, KM_COL_MONEY, false },
	[B_UP] = { "top_up_likely", NULL, KM_COL_MONEY, false },
	[B_UP_HIGH] = { "top_up_high", NULL, KM_COL_MONEY, false },
	[B_FREE] = { "ride_free", NULL, KM_COL_COUNT, false },
};

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *m)
{
	km_put_int(t, first, m->low);
	km_put_int(t, first + 1, m->likely);
	km_put_int(t, first + 2, m->high);
}

static void plan_row(struct km_table *t, const struct km_plan *p)
{
	km_table_row(t);
	km_put_word(t, AIM, km_aim_word(p->aim), KM_TONE_NONE);
	if (p->aim == KM_AIM_BUDGET)
		km_put_int(t, BUDGET, p->budget);
	if (p->aim == KM_AIM_POINTS)
		km_put_int(t, POINTS_LIMIT, p->points_limit);
	km_put_int(t, FEASIBLE, p->feasible);
	km_put_int(t, PROVED, p->proved);
	if (!p->proved)
		km_put_int(t, GAP, p->gap);
	km_put_int(t, NODES, (int64_t)p->nodes);
	put_money3(t, GOODS_LOW, &p->goods);
	put_money3(t, WORK_LOW, &p->work);
	put_money3(t, POST_LOW, &p->postage);
	put_money3(t, LOW, &p->total);
	put_money3(t, SINGLY_LOW, &p->singly);
	put_money3(t, OWN_LOW, &p->own);
	km_put_int(t, POINTS, p->points);
	km_put_int(t, SHORT_FIRM, p->short_firm);
}

static void bill_row(struct km_page *p, struct km_table *t,
		     const struct km_plan_bill *b)
{
	km_table_row(t);
	km_put_word(t, B_KIND, km_bill_word(b->kind), KM_TONE_NONE);
	km_put_text(t, B_SELLER, b->seller ? b->seller->id : NULL);
	km_put_text(t, B_PROCESS, b->process ? b->process->name : NULL);
	km_put_text(t, B_JOB_LOT, b->job_lot ? b->job_lot->id : NULL);
	km_put_int(t, B_PIECES, b->pieces);
	put_money3(t, B_LOW, &b->cost);
	if (b->kind == KM_BILL_PARCEL) {
		km_put_int(t, B_GOODS, b->goods);
		put_money3(t, B_UP_LOW, &b->top_up);
	}
	if (b->kind != KM_BILL_LOT)
		return;
	km_put_int(t, B_COMMITTED, b->committed);
	km_buf_date(&p->line, b->closes);
	km_put_buf(t, B_CLOSES, &p->line);
	if (b->ride_free >= 0)
		km_put_int(t, B_FREE, b->ride_free);
}

void km_make_plan_tables(struct km_page *p)
{
	const struct km_plan *plan = p->audit->plan;
	struct km_table *totals, *bills;

	totals = km_page_table(p, "plan", columns, COLUMNS);
	bills = km_page_table(p, "bills", bill_columns, B_COLUMNS);
	if (!totals || !bills)
		return;
	totals->show = bills->show = KM_SHOW_DATA;
	if (!plan)
		return;
	plan_row(totals, plan);
	for (uint32_t i = 0; i < plan->n_bills; i++)
		bill_row(p, bills, &plan->bills[i]);
}

void km_put_steps(struct km_table *t, uint32_t list, uint32_t lines,
		  const struct km_route *r, struct km_buf *b)
{
	km_put_list(t, list);
	for (uint32_t i = 0; r && i < r->n_steps; i++) {
		km_buf_str(b, r->steps[i]->name);
		km_put_item(t, list, b);
	}
	for (uint32_t i = 0; r && i < r->n_steps; i++)
		km_buf_printf(b, "%s%s", i ? ", then " : "by: ",
			      r->steps[i]->name);
	km_put_item(t, lines, b);
}
