/* SPDX-License-Identifier: MIT */
/* What the place of a slot costs, what is decided for it, and what the plan
 * takes. */
#include "report/slots.h"

#include "report/words.h"
#include "trade/process.h"
#include "unit/money.h"

static void add_range(struct km_slots *m, const struct km_money3 *c)
{
	km_buf_money(m->b, c->likely, m->p->decimals);
	if (c->low == c->high)
		return;
	km_buf_str(m->b, " (");
	km_buf_money(m->b, c->low, m->p->decimals);
	km_buf_str(m->b, " to ");
	km_buf_money(m->b, c->high, m->p->decimals);
	km_buf_char(m->b, ')');
}

/* "restore 9.00 (7.00 to 12.00)"; where own time has a price also ", with own
 * time 15.00": restore and buy are compared by that. */
static void add_cost(struct km_slots *m, const char *what,
		     const struct km_way *w)
{
	struct km_money3 sum = { w->alone.low + w->own.low,
				 w->alone.likely + w->own.likely,
				 w->alone.high + w->own.high };

	km_buf_printf(m->b, "%s%s ", m->b->len ? "; " : "", what);
	add_range(m, &w->alone);
	if (!w->own.high)
		return;
	km_buf_str(m->b, ", with own time ");
	add_range(m, &sum);
}

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *c)
{
	km_put_int(t, first, c->low);
	km_put_int(t, first + 1, c->likely);
	km_put_int(t, first + 2, c->high);
}

/* Not recorded where an hour has no price. */
static void put_own(struct km_slots *m, uint32_t first, const struct km_way *w)
{
	if (km_page_prices_own(m->p))
		put_money3(m->t, first, &w->own);
}

/* "o1 at 9.00 is dearer than the most to pay, 5.00" */
static void put_dear(struct km_slots *m, const struct km_way *w)
{
	km_buf_printf(m->b, "%s at ", w->match->offer->id);
	km_buf_money(m->b, w->price.likely, m->p->decimals);
	km_buf_str(m->b, " is dearer than the most to pay, ");
	km_buf_money(m->b, m->s->slot->most.minor, m->p->decimals);
}

/* The offer that is passed over, unless it is the one that is taken. */
static void put_rejected(struct km_slots *m)
{
	const struct km_way *no = m->s->rejected_buy, *buy = m->s->buy;
	const struct km_offer *o = no && no->match ? no->match->offer : NULL;

	if (!o || (buy && buy->match && buy->match->offer == o))
		return;
	if (no->over_limit && !no->fit.too_large) {
		put_dear(m, no);
		km_slots_detail(m);
		return;
	}
	km_buf_printf(m->b, "%s as sold is cheaper, but would not do: ", o->id);
	if (no->fit.too_large)
		km_words_fit(m->b, &no->fit);
	else
		km_reason(m->b, no->match);
	km_slots_detail(m);
}

static void put_ways(struct km_slots *m)
{
	const struct km_way *r = m->s->restore, *b = m->s->buy;

	if (r && r->priced) {
		put_money3(m->t, RESTORE_LOW, &r->alone);
		put_own(m, RESTORE_OWN_LOW, r);
		add_cost(m, "restore", r);
	}
	if (b && b->priced) {
		put_money3(m->t, BUY_LOW, &b->alone);
		put_own(m, BUY_OWN_LOW, b);
		add_cost(m, "buy", b);
		if (b->match && b->match->offer)
			km_buf_printf(m->b, " as %s", b->match->offer->id);
	}
	if (b && b->match && b->match->offer)
		km_put_text(m->t, OFFER, b->match->offer->id);
	km_slots_detail(m);
	if (r)
		km_put_steps(m->t, STEPS, DETAIL, r->route, m->b);
	put_rejected(m);
}

/* The next place of the plan, if it is one of this slot; places come in the
 * order of the slots. */
static const struct km_plan_place *next_place(struct km_slots *m)
{
	const struct km_plan *plan = m->p->audit->plan;

	if (!plan || m->place >= plan->n_places ||
	    plan->places[m->place].slot != m->s)
		return NULL;
	return &plan->places[m->place++];
}

static bool takes_something(const struct km_plan_place *p)
{
	return p->chosen->kind != KM_WAY_OPEN && p->chosen->match;
}

/* "chosen by hand, which costs 4.00 more" */
static void put_by_hand(struct km_slots *m, const struct km_plan_place *p)
{
	km_put_int(m->t, BY_HAND, 1);
	km_buf_str(m->b, "chosen by hand");
	if (p->by_hand_costs >= 0)
		km_put_int(m->t, BY_HAND_COSTS, p->by_hand_costs);
	if (p->by_hand_costs > 0) {
		km_buf_str(m->b, ", which costs ");
		km_buf_money(m->b, p->by_hand_costs, m->p->decimals);
		km_buf_str(m->b, " more");
	}
	km_slots_detail(m);
}

/* What the plan takes for each place of the slot. */
static void put_places(struct km_slots *m)
{
	const struct km_plan_place *p;
	struct km_buf ids;

	km_buf_init(&ids, m->p->mem);
	km_put_int(m->t, BY_HAND, 0);
	km_put_list(m->t, CHOSEN);
	while ((p = next_place(m)) != NULL) {
		if (p->by_hand)
			put_by_hand(m, p);
		if (!takes_something(p))
			continue;
		km_buf_printf(m->b, "%s %s", km_way_word(p->chosen->kind),
			      km_match_id(p->chosen->match));
		km_put_item(m->t, CHOSEN, m->b);
		km_buf_printf(&ids, "%s%s", ids.len ? ", " : "",
			      km_match_id(p->chosen->match));
	}
	if (ids.len && m->s->slot->count > 1)	/* of one, it has been said */
		km_buf_printf(m->b, "in the plan: %s", ids.text);
	if (km_buf_failed(&ids))
		m->p->failed = true;
	km_slots_detail(m);
}

/* What lies there and does not go into its place of the pouch; or is not
 * known to. */
static void put_fit(struct km_slots *m)
{
	for (uint32_t i = 0; i < m->s->n_ways; i++) {
		const struct km_way *w = &m->s->ways[i];
		bool is_there = false;

		for (int32_t n = 0; w->match && w->match->tool && !w->route &&
				    n < m->s->slot->count; n++)
			is_there |= m->s->pieces[n].match &&
				    m->s->pieces[n].match->tool ==
					    w->match->tool;
		if (!is_there || !(w->fit.too_large || w->fit.unmeasured))
			continue;
		km_buf_printf(m->b, "%s ", w->match->tool->id);
		km_buf_str(m->b, w->fit.too_large ? "is " : "");
		km_words_fit(m->b, &w->fit);
		km_slots_detail(m);
	}
}

void km_slots_decision(struct km_slots *m)
{
	const struct km_slot_audit *s = m->s;

	if (!m->p->audit->options.want_money || s->slot->unused)
		return;
	put_ways(m);
	put_fit(m);
	km_put_word(m->t, DECISION, km_decide_word(s->decide), KM_TONE_NONE);
	km_put_int(m->t, CLOSE_CALL, s->close_call);
	if (s->decide == KM_DECIDE_KEEP) {
		put_places(m);
		return;
	}
	km_buf_printf(m->b, "decision: %s", km_decide_word(s->decide));
	if (s->margin >= 0)
		km_put_int(m->t, MARGIN, s->margin);
	if (s->margin > 0 && (s->decide == KM_DECIDE_RESTORE ||
			      s->decide == KM_DECIDE_BUY)) {
		km_buf_str(m->b, ", better by ");
		km_buf_money(m->b, s->margin, m->p->decimals);
	}
	if (s->close_call)
		km_buf_str(m->b, ", close call");
	km_slots_detail(m);
	put_places(m);
}
