/* SPDX-License-Identifier: MIT */
/*
 * summary - one screen a kit.  This file words it; screen.c makes it fit, and
 * sheet_kits.c is the same as data.
 */
#include "report/screen.h"

#include <inttypes.h>

#include "report/words.h"
#include "unit/money.h"

struct sheet {
	struct km_screen screen;
	struct km_page *p;
	const struct km_kit_audit *k;
	struct km_buf head, tail;
};

static void item(struct sheet *s)
{
	km_screen_item(&s->screen, &s->head, &s->tail);
}

/* ------------------------------------------------------------------ */
/* Which kit, which machine, how sure                                  */

static void on_kit(struct sheet *s)
{
	const struct km_kit *kit = s->k->kit;

	(void)km_screen_block(&s->screen, "kit");
	km_buf_str(&s->head, kit->id);
	if (kit->revision >= 0)
		km_buf_printf(&s->tail, "rev %" PRId32 "%s", kit->revision,
			      kit->title ? ": " : "");
	if (kit->title)
		km_buf_str(&s->tail, kit->title);
	item(s);
}

static void add_serials(struct km_buf *b, const struct km_serials *s)
{
	km_buf_str(b, "kit serials ");
	if (s->open_start)
		km_buf_str(b, "up");
	else
		km_buf_int(b, s->from_earliest);
	km_buf_str(b, " to ");
	if (s->open_end)
		km_buf_str(b, "the last");
	else
		km_buf_int(b, s->to_latest);
}

static void on_machine(struct sheet *s)
{
	const struct km_machine *m = s->k->machine;
	struct km_buf *b = &s->tail;

	(void)km_screen_block(&s->screen, "machine");
	if (!m) {
		km_buf_str(b, "none recorded");
	} else if (m->serial >= 0) {
		km_buf_printf(b, "serial %" PRId64, m->serial);
	} else {
		km_buf_str(b, "serial not recorded");
	}
	if (m && m->built_text)
		km_buf_printf(b, ", built %s", m->built_text);
	if (m && m->market)
		km_buf_printf(b, ", %s market", m->market);
	if (s->k->serial_outside)
		km_buf_printf(b, "; outside the range by %" PRId64,
			      s->k->outside_by);
	if (s->k->kit->serials.given) {
		km_buf_str(b, "; ");
		add_serials(b, &s->k->kit->serials);
	}
	item(s);
}

static void on_standard(struct sheet *s)
{
	const int32_t *exists = s->k->counts.exists;
	const char *before = "; list: ";

	(void)km_screen_block(&s->screen, "standard");
	km_buf_printf(&s->tail, "%s, %s", km_standard_word(s->k->standard),
		      s->k->meets ? "met today" : "not met today");
	for (int c = KM_CERTAIN; c <= KM_UNKNOWN; c++) {
		if (!exists[c])
			continue;
		km_buf_printf(&s->tail, "%s%" PRId32 " %s", before, exists[c],
			      km_certainty_word((enum km_certainty)c));
		before = ", ";
	}
	item(s);
}

static void on_bench(struct sheet *s)
{
	const struct km_audit *a = s->p->audit;

	(void)km_screen_block(&s->screen, "bench");
	km_buf_printf(&s->tail, "%" PRIu64 " tool%s", a->tools,
		      a->tools == 1 ? "" : "s");
	if (a->fate)
		km_buf_printf(&s->tail, ": %" PRIu64 " given, %" PRIu64
			      " not ours, %" PRIu64 " away, %" PRIu64
			      " surplus",
			      a->given, a->not_ours, a->away, a->surplus);
	item(s);
}

/* ------------------------------------------------------------------ */
/* How complete                                                        */

/* "S-11", or "3 in doubt" */
static void add_doubtful(struct km_buf *b, const struct km_kit_audit *k)
{
	if (k->counts.doubtful != 1) {
		km_buf_printf(b, "%" PRId32 " in doubt", k->counts.doubtful);
		return;
	}
	for (uint32_t i = 0; i < k->kit->n_slots; i++)
		if (!k->slots[i].firm && k->slots[i].slot->durable &&
		    !k->slots[i].slot->unused)
			km_buf_str(b, k->slots[i].slot->id);
}

static void on_complete(struct sheet *s)
{
	const struct km_counts *c = &s->k->counts;
	struct km_block *b = km_screen_block(&s->screen, "complete");
	struct km_buf *t = &s->tail;

	b->part = true;
	if (!c->firm) {
		km_buf_str(t, "no firm slot to measure against");
	} else {
		km_buf_printf(t, "%" PRId32 " of %" PRId32 " firm", c->on_paper,
			      c->firm);
		if (c->lent)
			km_buf_printf(t, " (%" PRId32 " lent)", c->lent);
		km_buf_printf(t, ", after work %" PRId32, c->after_work);
		if (c->doubtful) {
			km_buf_printf(t, "; %" PRId32 " of %" PRId32
				      " counting ",
				      c->durable_on_paper, c->durable);
			add_doubtful(t, s->k);
		}
	}
	item(s);
	if (!c->consumables)
		return;
	b->least = 2;
	km_buf_printf(t, "consumables %" PRId32 " of %" PRId32 ", apart",
		      c->consumables_there, c->consumables);
	item(s);
}

/* ------------------------------------------------------------------ */
/* One line a class                                                    */

static const struct km_match *first_piece(const struct km_slot_audit *s)
{
	if (s->worst)
		return s->worst;
	for (int32_t i = 0; s->pieces && i < s->slot->count; i++)
		if (s->pieces[i].match)
			return s->pieces[i].match;
	return NULL;
}

static void add_where(struct km_buf *b, const struct km_tool *t)
{
	if (t && t->status == KM_LENT)
		km_buf_str(b, "(lent)");
	else if (t && t->status == KM_AT_PLATER)
		km_buf_str(b, "(at the plater)");
	else if (t && t->status == KM_ORDERED && t->more && t->more->due.year)
		km_buf_printf(b, "due %04d-%02d-%02d", t->more->due.year,
			      t->more->due.month, t->more->due.day);
}

static void slot_item(struct sheet *s, const struct km_slot_audit *a)
{
	const struct km_match *m = first_piece(a);

	km_buf_str(&s->head, a->slot->id);
	if (!a->firm) {
		km_buf_printf(&s->tail, "%s, would be %s",
			      km_certainty_word(a->slot->exists),
			      km_verdict_word(a->verdict));
	} else if (a->verdict == KM_SHORT) {
		km_words_of_slot(&s->tail, a->slot, false);
		km_buf_printf(&s->tail, ", %" PRId32 " of %" PRId32, a->filled,
			      a->slot->count);
	} else if (a->verdict == KM_GAP) {
		km_words_of_slot(&s->tail, a->slot, false);
	} else if (m) {
		km_buf_printf(&s->head, " %s", km_match_id(m));
		if (a->verdict == KM_RIGHT || a->verdict == KM_EXPECTED)
			add_where(&s->tail, m->tool);
		else
			km_reason(&s->tail, m);
		if (a->verdict == KM_SUBSTITUTE && km_reason_is_weak(m))
			km_buf_str(&s->tail, " (weak evidence)");
	}
	item(s);
}

static bool counts_here(const struct km_slot_audit *a)
{
	return a->slot->durable && !a->slot->unused;
}

static void on_class(struct sheet *s, enum km_verdict v)
{
	int32_t n = s->k->counts.verdict[v];
	struct km_block *b;

	if (!n)
		return;
	b = km_screen_block(&s->screen, km_verdict_word(v));
	b->tone = km_verdict_tone(v);
	b->count = n;
	b->rows = v != KM_RIGHT && v != KM_SHORT && v != KM_EXPECTED;
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (a->firm && a->verdict == v && counts_here(a))
			slot_item(s, a);
	}
}

static void on_doubt(struct sheet *s)
{
	struct km_block *b;

	if (!s->k->counts.doubtful)
		return;
	b = km_screen_block(&s->screen, "doubt");
	b->tone = KM_TONE_DIM;
	b->count = s->k->counts.doubtful;
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (!a->firm && counts_here(a))
			slot_item(s, a);
	}
}

static void on_clash(struct sheet *s)
{
	bool begun = false;

	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_CLASH &&
		    r->what != KM_REMARK_SECOND_BEST)
			continue;
		if (!begun)
			(void)km_screen_block(&s->screen, "clash");
		begun = true;
		km_words_remark(&s->tail, r, s->k->kit, s->p->decimals);
		item(s);
	}
}

/* ------------------------------------------------------------------ */
/* Money                                                               */

static void money_row(struct sheet *s, const struct km_money3 *m)
{
	const int64_t v[] = { m->low, m->likely, m->high };
	struct km_buf one;

	if (s->tail.len < 28 && !s->p->o.plain)
		km_buf_fill(&s->tail, ' ', 28 - s->tail.len);
	km_buf_init(&one, s->p->mem);
	for (int i = 0; i < 3; i++) {
		km_buf_clear(&one);
		km_buf_money(&one, v[i], s->p->decimals);
		if (one.len < 11 && !s->p->o.plain)
			km_buf_fill(&s->tail, ' ', 11 - one.len);
		km_buf_printf(&s->tail, " %s", one.len ? one.text : "");
	}
	item(s);
}

static void on_cost(struct sheet *s)
{
	const struct km_kit_audit *k = s->k;
	struct km_block *b;

	if (!s->p->audit->options.want_money)
		return;
	b = km_screen_block(&s->screen, "cost");
	b->part = true;
	km_buf_printf(&s->tail, s->p->o.plain ? "%s %s %s %s"
					      : "%-28s%12s%12s%12s",
		      s->p->currency ? s->p->currency : "no currency given",
		      "low", "likely", "high");
	item(s);
	if (k->n_restore || k->restore_total.high) {
		km_buf_printf(&s->tail, "restore %" PRId32, k->n_restore);
		if (k->own_min[1])
			km_buf_printf(&s->tail, ", own %" PRId32 " min",
				      k->own_min[1]);
		money_row(s, &k->restore_total);
	}
	if (k->n_buy || k->buy_total.high) {
		km_buf_printf(&s->tail, "buy %" PRId32, k->n_buy);
		money_row(s, &k->buy_total);
	}
	if (k->postage_total.high) {
		km_buf_str(&s->tail, "postage");
		money_row(s, &k->postage_total);
	}
	km_buf_str(&s->tail, "to finish");
	if (k->n_unpriced)
		km_buf_printf(&s->tail, ", %" PRId32 " unpriced",
			      k->n_unpriced);
	money_row(s, &k->total);
	b->least = b->n;
}

/* ------------------------------------------------------------------ */
/* What not to do, what to do                                          */

static void care_item(struct sheet *s, const struct km_piece *p,
		      const struct km_slot_audit *a)
{
	const char *id = p->match ? km_match_id(p->match) : "";

	if (p->care & KM_CARE_MARK_UNREAD)
		km_buf_printf(&s->head, "work on %s before its mark is read",
			      id);
	else if (p->care & KM_CARE_MARK_SHALLOW)
		km_buf_printf(&s->head, "grind or buff %s (shallow mark)", id);
	else if (p->care & KM_CARE_MARK_DEPTH)
		km_buf_printf(&s->head, "grind or buff %s before its mark is "
			      "photographed", id);
	else if (p->pinned)
		km_buf_printf(&s->head, "move %s (pinned to %s)", id,
			      a->slot->id);
	else
		return;
	item(s);
}

/* Begin the block when there is a first item for it. */
static void care_block(struct sheet *s, bool *begun)
{
	if (!*begun)
		km_screen_block(&s->screen, "do not")->rows = false;
	*begun = true;
}

static void on_care(struct sheet *s)
{
	bool begun = false;

	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		for (int32_t n = 0; a->pieces && n < a->slot->count; n++) {
			if (!a->pieces[n].care && !a->pieces[n].pinned)
				continue;
			care_block(s, &begun);
			care_item(s, &a->pieces[n], a);
		}
	}
	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_NOT_MINE || !r->tool)
			continue;
		care_block(s, &begun);
		km_buf_printf(&s->head, "use %s", r->tool->id);
		km_buf_printf(&s->tail, "(belongs to %s)",
			      r->tool->owner ? r->tool->owner
					     : "somebody else");
		item(s);
	}
}

/* The slots of one decision, as "S-01 S-02", in `line`; how many. */
static uint32_t decided(struct sheet *s, enum km_decide d, bool with_tool)
{
	uint32_t n = 0;

	km_buf_clear(&s->p->line);
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];
		const struct km_match *m = with_tool ? first_piece(a) : NULL;

		if (a->decide != d || a->slot->unused)
			continue;
		km_buf_printf(&s->p->line, "%s%s", n++ ? ", " : "",
			      m ? km_match_id(m) : a->slot->id);
	}
	return n;
}

static void next_item(struct sheet *s, int *left, const char *what)
{
	if (!*left)
		return;
	--*left;
	km_buf_printf(&s->tail, "%s%s", what,
		      s->p->line.len ? s->p->line.text : "");
	item(s);
}

static void next_overdue(struct sheet *s, int *left)
{
	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_OVERDUE || !r->tool)
			continue;
		km_buf_clear(&s->p->line);
		km_buf_printf(&s->p->line, "%s, overdue by %" PRId64 " day%s",
			      r->tool->id, r->a, r->a == 1 ? "" : "s");
		next_item(s, left, "ask after ");
	}
}

/* What is cheapest to do comes first: look, ask, work, then pay. */
static void on_next(struct sheet *s)
{
	static const struct { enum km_decide d; bool tool; const char *what; }
	after[] = {
		{ KM_DECIDE_RESTORE, true, "restore " },
		{ KM_DECIDE_BUY, false, "buy for " },
		{ KM_DECIDE_QUESTION, false, "find a second source for " },
		{ KM_DECIDE_LEAVE, false, "look out for " },
	};
	struct km_block *b = km_screen_block(&s->screen, "next");
	int left = 3;

	b->part = true;
	if (decided(s, KM_DECIDE_READ, true))
		next_item(s, &left, "look again at ");
	next_overdue(s, &left);
	for (size_t i = 0; i < sizeof after / sizeof *after; i++)
		if (decided(s, after[i].d, after[i].tool))
			next_item(s, &left, after[i].what);
	if (left == 3) {
		km_buf_str(&s->tail, "nothing to do");
		item(s);
	}
	b->least = b->n;
}

static void one_screen(struct km_page *p, const struct km_kit_audit *k)
{
	static const enum km_verdict order[] = {
		KM_RIGHT, KM_AFTER_WORK, KM_SUBSTITUTE, KM_UNVERIFIED,
		KM_SHORT, KM_EXPECTED, KM_GAP
	};
	struct sheet s = { .p = p, .k = k };

	s.screen.page = p;
	km_buf_init(&s.head, p->mem);
	km_buf_init(&s.tail, p->mem);
	on_kit(&s);
	on_machine(&s);
	on_standard(&s);
	on_bench(&s);
	on_complete(&s);
	for (size_t i = 0; i < sizeof order / sizeof *order; i++)
		on_class(&s, order[i]);
	on_doubt(&s);
	on_clash(&s);
	on_cost(&s);
	on_care(&s);
	on_next(&s);
	km_screen_write(&s.screen);
}

void km_screen_summary(struct km_page *p)
{
	for (uint32_t i = 0; i < p->audit->n_kits; i++) {
		if (i)
			km_buf_char(&p->out, '\n');
		one_screen(p, &p->audit->kits[i]);
	}
}
