/* SPDX-License-Identifier: MIT */
#include "report/summary.h"

#include <inttypes.h>

#include "report/words.h"
#include "trade/process.h"
#include "unit/money.h"

#define HEADING 28		/* cells before the columns of money */

/* ", singly 95.00" behind the heading, if it finds room there. */
static void add_if_room(struct km_summary *s, const struct km_buf *more)
{
	if (more->len && s->tail.len + more->len <= HEADING)
		km_buf_str(&s->tail, more->text);
}

void km_summary_proof(struct km_summary *s)
{
	const struct km_plan *plan = s->p->audit->plan;
	struct km_buf more;

	if (!plan || !plan->n_places)
		return;
	km_buf_init(&more, s->p->mem);
	if (plan->proved) {
		km_buf_str(&more, ", proved");
	} else {
		km_buf_str(&more, ", within ");
		km_buf_money(&more, plan->gap, s->p->decimals);
	}
	add_if_room(s, &more);
	km_buf_clear(&more);
	if (plan->aim == KM_AIM_COMPLETE &&
	    plan->singly.likely >
		    plan->total.likely + plan->own.likely) {
		km_buf_str(&more, ", singly ");
		km_buf_money(&more, plan->singly.likely, s->p->decimals);
		add_if_room(s, &more);
	}
	if (km_buf_failed(&more))
		s->p->failed = true;
}

/* ------------------------------------------------------------------ */

/* The rubric takes off no more than its total. */
static void on_cap(struct km_summary *s, const struct km_plan *plan)
{
	const struct km_rubric_audit *r = &s->k->rubric;

	if (!r->given || r->total < 0 || plan->points <= r->total)
		return;
	km_buf_str(&s->tail, ", no more than ");
	km_buf_money(&s->tail, r->total, 2);
	km_buf_str(&s->tail, " count");
}

/* "within 40.00: loses 5.00 points", "no plan loses only 0.50, at least
 * 1.00" */
static void on_aim(struct km_summary *s, const struct km_plan *plan)
{
	bool budget = plan->aim == KM_AIM_BUDGET;
	int decimals = budget ? s->p->decimals : 2;
	int64_t asked = budget ? plan->budget : plan->points_limit;
	struct km_buf *t = &s->tail;

	if (plan->aim == KM_AIM_COMPLETE)
		return;
	if (plan->feasible) {
		km_buf_str(t, budget ? "within " : "at most ");
		km_buf_money(t, asked, decimals);
		km_buf_str(t, !budget ? " points"
			      : km_page_prices_own(s->p) ? " with own time"
							 : "");
		km_buf_str(t, ": loses ");
		km_buf_money(t, plan->points, 2);
		km_buf_str(t, budget ? " points" : "");
		on_cap(s, plan);
	} else {
		km_buf_str(t, budget ? "no plan costs only "
				     : "no plan loses only ");
		km_buf_money(t, asked, decimals);
		km_buf_str(t, ", at least ");
		km_buf_money(t, budget ? plan->total.likely + plan->own.likely
				       : plan->points, decimals);
		km_buf_str(t, budget && km_page_prices_own(s->p)
				      ? " with own time" : "");
	}
	km_summary_item(s);
}

/* "rubric 3.25 of 4.00, after the plan 3.75" */
static void on_rubric(struct km_summary *s)
{
	const struct km_rubric_audit *r = &s->k->rubric;
	struct km_buf *t = &s->tail;

	if (!r->given)
		return;
	km_buf_str(t, "rubric ");
	if (r->total < 0) {
		km_buf_money(t, r->lost, 2);
		km_buf_str(t, " lost, after the plan ");
		km_buf_money(t, r->after_plan, 2);
	} else {
		km_buf_money(t, r->total - r->lost, 2);
		km_buf_str(t, " of ");
		km_buf_money(t, r->total, 2);
		km_buf_str(t, ", after the plan ");
		km_buf_money(t, r->total - r->after_plan, 2);
	}
	km_summary_item(s);
}

static void on_close_calls(struct km_summary *s, const struct km_plan *plan)
{
	bool first = true;

	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		if (!s->k->slots[i].close_call)
			continue;
		km_buf_printf(&s->head, "%s%s", first ? "close call " : "",
			      s->k->slots[i].slot->id);
		first = false;
		km_summary_item(s);
	}
	if (plan->looked_closer)
		return;
	km_buf_str(&s->tail, first ? "close calls not all looked for"
				   : "not all looked for");
	km_summary_item(s);
}

/* Lots that take more for nothing: what makes the next piece cheap. */
static void on_lots(struct km_summary *s, const struct km_plan *plan)
{
	for (uint32_t i = 0; i < plan->n_bills; i++) {
		const struct km_plan_bill *b = &plan->bills[i];

		if (b->kind != KM_BILL_LOT || b->ride_free <= 0 || !b->process)
			continue;
		km_buf_printf(&s->tail, "%s lot ", b->process->name);
		km_buf_money(&s->tail, b->cost.likely, s->p->decimals);
		km_buf_printf(&s->tail, ", room for %" PRId64 " more",
			      b->ride_free);
		km_summary_item(s);
	}
}

static void on_all_kits(struct km_summary *s, const struct km_plan *plan)
{
	if (s->p->audit->n_kits < 2)
		return;
	km_buf_str(&s->tail, "all kits together ");
	km_buf_money(&s->tail, plan->total.likely, s->p->decimals);
	if (km_page_prices_own(s->p)) {
		km_buf_str(&s->tail, ", with own time ");
		km_buf_money(&s->tail, plan->total.likely + plan->own.likely,
			     s->p->decimals);
	}
	km_summary_item(s);
}

/* Without a line of its own a close call is named all the same. */
static void leave_out(struct km_summary *s)
{
	uint32_t n = 0;

	km_summary_leave_out(s, "plan");
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++)
		if (s->k->slots[i].close_call && !n++)
			km_buf_printf(&s->left_out, " with close call %s",
				      s->k->slots[i].slot->id);
	if (n > 1)
		km_buf_printf(&s->left_out, " +%" PRIu32, n - 1);
}

void km_summary_plan(struct km_summary *s)
{
	const struct km_plan *plan = s->p->audit->plan;
	bool room = km_summary_has_a_line(s);
	struct km_block *b;

	if (!plan || !plan->n_places)
		return;
	b = km_screen_block(&s->screen, "plan");
	b->rows = false;
	on_aim(s, plan);
	on_rubric(s);
	on_all_kits(s, plan);
	on_close_calls(s, plan);
	if (b->n && room) {
		on_lots(s, plan);
		return;
	}
	s->screen.n--;		/* not worth a line of its own, or none left */
	if (b->n)
		leave_out(s);
}
