/* SPDX-License-Identifier: MIT */
/*
 * summary - one screen a kit.  This file words it; screen.c makes it fit, and
 * sheet_kits.c is the same as data.
 */
#include "report/summary.h"

#include <inttypes.h>

#include "report/pouch.h"
#include "report/words.h"
#include "unit/serial.h"

/* ------------------------------------------------------------------ */
/* Which kit, which machine, how sure                                  */

static void on_kit(struct km_summary *s)
{
	const struct km_kit *kit = s->k->kit;

	(void)km_screen_block(&s->screen, "kit");
	km_buf_printf(&s->head, "%s%s", kit->id, !s->k->serial_outside &&
		      kit->revision < 0 && kit->title ? ":" : "");
	if (s->k->serial_outside) {
		km_buf_str(&s->tail, "(the machine is ");
		km_words_outside(&s->tail, s->k);
		km_buf_str(&s->tail, kit->revision >= 0 ? "), "
				     : kit->title ? "): " : ")");
	}
	if (kit->revision >= 0)
		km_buf_printf(&s->tail, "rev %" PRId32 "%s", kit->revision,
			      kit->title ? ": " : "");
	if (kit->title)
		km_buf_str(&s->tail, kit->title);
	km_summary_item(s);
}

/* At its widest, so that it finds room. */
static void add_serials(struct km_buf *b, const struct km_serials *s)
{
	km_buf_str(b, "kit serials ");
	if (s->open_start)
		km_buf_str(b, "up");
	else
		km_buf_serial(b, s->pattern, s->from_earliest);
	km_buf_str(b, " to ");
	if (s->open_end)
		km_buf_str(b, "the last");
	else
		km_buf_serial(b, s->pattern, s->to_latest);
}

static void on_machine(struct km_summary *s)
{
	const struct km_machine *m = s->k->machine;
	struct km_buf *b = &s->tail;

	(void)km_screen_block(&s->screen, "machine");
	if (!m) {
		km_buf_str(b, "none recorded");
	} else if (km_serial_recorded(m)) {
		km_buf_str(b, "serial ");
		km_buf_serial_of(b, m);
	} else {
		km_buf_str(b, "serial not recorded");
	}
	if (m && m->built_text)
		km_buf_printf(b, ", built %s", m->built_text);
	if (m && m->market)
		km_buf_printf(b, ", %s market", m->market);
	if (s->k->kit->serials.given) {
		km_buf_str(b, "; ");
		add_serials(b, &s->k->kit->serials);
	}
	km_summary_item(s);
}

/* What leaves the kit open, or stands against it. */
static void on_which(struct km_summary *s)
{
	const struct km_kit_audit *k = s->k;
	struct km_block *b = NULL;

	if (k->undecided) {
		b = km_screen_block(&s->screen, "which kit");
		km_words_which(&s->tail, k);
		km_summary_item(s);
	}
	for (uint32_t i = 0; i < k->n_elsewhere; i++) {
		if (k->elsewhere[i].by == KM_BY_SERIAL &&
		    !k->elsewhere[i].to)
			continue;	/* the first line says so */
		if (!b)
			b = km_screen_block(&s->screen, "which kit");
		km_words_elsewhere(&s->tail, k, &k->elsewhere[i]);
		km_summary_item(s);
	}
	if (b)
		b->least = b->n;
}

static void on_standard(struct km_summary *s)
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
	km_summary_item(s);
}

/* ", 3 surplus", but nothing for none. */
static void add_fate(struct km_summary *s, const char **before, uint64_t n,
		     const char *what)
{
	if (!n)
		return;
	km_buf_printf(&s->tail, "%s%" PRIu64 " %s", *before, n, what);
	*before = ", ";
}

static void on_bench(struct km_summary *s)
{
	const struct km_audit *a = s->p->audit;
	const char *before = ": ";

	(void)km_screen_block(&s->screen, "bench");
	km_buf_printf(&s->tail, "%" PRIu64 " tool%s", a->tools,
		      a->tools == 1 ? "" : "s");
	if (a->fate) {
		add_fate(s, &before, a->given, "given");
		add_fate(s, &before, a->not_ours, "not ours");
		add_fate(s, &before, a->away, "away");
		add_fate(s, &before, a->surplus, "surplus");
	}
	km_summary_item(s);
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

static void on_complete(struct km_summary *s)
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
		if (c->doubtful && !s->k->undecided) {
			km_buf_printf(t, "; %" PRId32 " of %" PRId32
				      " counting ",
				      c->durable_on_paper, c->durable);
			add_doubtful(t, s->k);
		}
	}
	if (s->k->undecided) {
		km_buf_str(t, "; ");
		km_words_range(t, s->k);
	}
	km_summary_item(s);
	if (!c->consumables)
		return;
	b->least = 2;
	km_buf_printf(t, "consumables %" PRId32 " of %" PRId32 ", apart",
		      c->consumables_there, c->consumables);
	km_summary_item(s);
}

/* ------------------------------------------------------------------ */
/* One line a class                                                    */

const struct km_match *km_summary_piece(const struct km_slot_audit *s)
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

static void slot_item(struct km_summary *s, const struct km_slot_audit *a)
{
	const struct km_match *m = km_summary_piece(a);

	km_buf_str(&s->head, a->slot->id);
	if (a->depends) {
		km_words_depends(&s->tail, s->k, a);
	} else if (!a->firm) {
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
	}
	km_summary_item(s);
}

static bool counts_here(const struct km_slot_audit *a)
{
	return a->slot->durable && !a->slot->unused;
}

static void on_class(struct km_summary *s, enum km_verdict v)
{
	int32_t n = s->k->counts.verdict[v];
	struct km_block *b;

	if (!n)
		return;
	b = km_screen_block(&s->screen, km_verdict_word(v));
	b->tone = km_verdict_tone(v);
	b->count = n;
	b->rows = v != KM_RIGHT && v != KM_SHORT && v != KM_EXPECTED;
	b->first = v == KM_SUBSTITUTE;	/* each with its one reason */
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (a->firm && a->verdict == v && counts_here(a))
			slot_item(s, a);
	}
}

/* What only another kit has that the machine may have left with. */
static void items_alone(struct km_summary *s)
{
	for (uint32_t n = 0; n < s->k->n_readings; n++) {
		const struct km_kit_reading *r = &s->k->readings[n];

		for (uint32_t i = 0; i < r->kit->n_slots; i++) {
			if (!km_reading_alone(s->k, r, i) ||
			    !counts_here(&r->slots[i]))
				continue;
			km_words_slot_ref(&s->head, r->slots[i].slot,
					  s->k->kit);
			km_words_alone(&s->tail, s->k, r, i);
			km_summary_item(s);
		}
	}
}

static void on_doubt(struct km_summary *s)
{
	int32_t n = s->k->counts.doubtful + km_readings_alone(s->k);
	struct km_block *b;

	if (!n)
		return;
	b = km_screen_block(&s->screen, "doubt");
	b->tone = KM_TONE_DIM;
	b->count = n;
	for (uint32_t i = 0; i < s->k->kit->n_slots; i++) {
		const struct km_slot_audit *a = &s->k->slots[i];

		if (!a->firm && counts_here(a))
			slot_item(s, a);
	}
	items_alone(s);
}

static void on_clash(struct km_summary *s)
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
		km_summary_item(s);
	}
}

bool km_summary_has_a_line(const struct km_summary *s)
{
	return s->screen.whole || s->screen.view || s->p->o.plain ||
	       km_screen_least(&s->screen) + KM_SUMMARY_TO_COME <
		       KM_SCREEN_LINES;
}

void km_summary_leave_out(struct km_summary *s, const char *what)
{
	km_buf_printf(&s->left_out, "%s%s", s->left_out.len ? ", " : "", what);
}

static void on_more(struct km_summary *s)
{
	if (km_buf_failed(&s->left_out))
		s->p->failed = true;
	if (!s->left_out.len || s->p->failed)
		return;
	(void)km_screen_block(&s->screen, "more");
	km_buf_printf(&s->tail, "%s; -v shows all", s->left_out.text);
	km_summary_item(s);
}

/* What was bought and has come. */
static void on_arrived(struct km_summary *s)
{
	bool begun = false;

	for (uint32_t i = 0; i < s->k->n_remarks; i++) {
		const struct km_remark *r = &s->k->remarks[i];

		if (r->what != KM_REMARK_RECEIVED_RIGHT &&
		    r->what != KM_REMARK_RECEIVED_WRONG)
			continue;
		if (!begun && !km_summary_has_a_line(s)) {
			km_summary_leave_out(s, "arrived");
			return;
		}
		if (!begun)
			km_screen_block(&s->screen, "arrived")->rows = true;
		begun = true;
		km_words_remark(&s->tail, r, s->k->kit, s->p->decimals);
		km_summary_item(s);
	}
}

/* Does it go into the pouch; where the screen has a line for it. */
static void on_pouch(struct km_summary *s)
{
	if (!s->k->pouch)
		return;
	km_pouch_line(&s->tail, s->k);
	if (!s->tail.len)
		return;
	if (!km_summary_has_a_line(s)) {
		km_buf_clear(&s->tail);
		km_summary_leave_out(s, "pouch");
		return;
	}
	(void)km_screen_block(&s->screen, "pouch");
	km_summary_item(s);
}

/* Where there is no end of lines: nothing is cut, and money has columns. */
static void begin_view(struct km_summary *s)
{
	const struct km_kit *kit = s->k->kit;

	s->screen.view = km_screen_view(s->p);
	if (s->p->audit->options.want_money)
		s->cost = km_summary_cost_view(s->p);
	if (s->screen.view)
		km_table_section(s->screen.view,
				 kit->title ? kit->title : kit->id);
}

static void one_screen(struct km_page *p, const struct km_kit_audit *k,
		       bool view)
{
	static const enum km_verdict order[] = {
		KM_RIGHT, KM_AFTER_WORK, KM_SUBSTITUTE, KM_UNVERIFIED,
		KM_SHORT, KM_EXPECTED, KM_GAP
	};
	struct km_summary s = { .p = p, .k = k };

	s.screen.page = p;
	km_buf_init(&s.head, p->mem);
	km_buf_init(&s.tail, p->mem);
	km_buf_init(&s.left_out, p->mem);
	s.screen.whole = p->o.verbose;
	if (view)
		begin_view(&s);
	on_kit(&s);
	on_machine(&s);
	on_which(&s);
	on_standard(&s);
	on_bench(&s);
	on_complete(&s);
	for (size_t i = 0; i < sizeof order / sizeof *order; i++)
		on_class(&s, order[i]);
	on_doubt(&s);
	on_clash(&s);
	km_summary_cost(&s);
	on_arrived(&s);
	on_pouch(&s);
	km_summary_plan(&s);
	km_summary_next(&s, !km_summary_care(&s));
	on_more(&s);
	km_screen_write(&s.screen);
}

void km_screen_summary(struct km_page *p)
{
	for (uint32_t i = 0; i < p->audit->n_kits; i++) {
		if (i)
			km_buf_char(&p->out, '\n');
		one_screen(p, &p->audit->kits[i], false);
	}
}

void km_make_summary_view(struct km_page *p)
{
	for (uint32_t i = 0; i < p->audit->n_kits; i++)
		one_screen(p, &p->audit->kits[i], true);
}
