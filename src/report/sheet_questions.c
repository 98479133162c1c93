/* SPDX-License-Identifier: MIT */
/*
 * questions - what to find out next, and what hangs on it.
 */
#include "report/encode.h"
#include "report/questions.h"
#include "report/words.h"

#include <inttypes.h>

#include "unit/money.h"

/* ------------------------------------------------------------------ */
/* As data: one row an answer                                          */

enum {
	NUMBER, ABOUT, KIT, SLOT, ATTRIBUTE, TOOL, MACHINE, READING, VALUE,
	FIRM, ON_PAPER, WORKED, POINTS_NOW, POINTS, MONEY, OPEN, TURNED,
	COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[NUMBER] = { "question", "no", KM_COL_COUNT, true },
	[ABOUT] = { "about", "about", KM_COL_WORD, true },
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, true },
	[ATTRIBUTE] = { "attribute", "attribute", KM_COL_WORD, true },
	[TOOL] = { "tool", "tool", KM_COL_ID, true },
	[MACHINE] = { "machine", NULL, KM_COL_TEXT, false },
	[READING] = { "reading", "if", KM_COL_WORD, false },
	[VALUE] = { "value", "value", KM_COL_ID, false },
	[FIRM] = { "firm", "firm", KM_COL_COUNT, false },
	[ON_PAPER] = { "on_paper", "there", KM_COL_COUNT, false },
	[WORKED] = { "after_work", "after work", KM_COL_COUNT, false },
	[POINTS_NOW] = { "points_now", NULL, KM_COL_HUNDREDTHS, false },
	[POINTS] = { "points_after_plan", NULL, KM_COL_HUNDREDTHS, false },
	[MONEY] = { "to_finish", "to finish", KM_COL_MONEY, false },
	[OPEN] = { "left_open", "open", KM_COL_COUNT, false },
	[TURNED] = { "turned", "turned", KM_COL_LIST, false },
};

static void put_question(struct km_page *p, struct km_table *t,
			 const struct km_question *q, uint32_t number)
{
	km_table_row(t);
	km_put_int(t, NUMBER, number);
	km_put_word(t, ABOUT, km_ask_word(q->what), KM_TONE_NONE);
	km_put_text(t, KIT, q->kit->kit->id);
	km_put_text(t, SLOT, q->slot ? q->slot->id : NULL);
	if (q->attr != KM_ATTRS)
		km_put_word(t, ATTRIBUTE, km_attr_key(q->attr), KM_TONE_NONE);
	km_put_text(t, TOOL, q->tool ? q->tool->id : NULL);
	/* a kit is one, whatever machines have it */
	if (q->kit->machine && (q->what == KM_ASK_KIT || q->tool)) {
		km_words_machine(&p->line, q->kit->machine);
		km_put_buf(t, MACHINE, &p->line);
	}
}

static bool any_rubric(const struct km_page *p)
{
	return p->audit->load->rubric != NULL;
}

static void put_figures(struct km_page *p, struct km_table *t, uint32_t first,
			const struct km_figures *f)
{
	km_put_int(t, first, f->firm);
	km_put_int(t, first + 1, f->on_paper);
	km_put_int(t, first + 2, f->after_work);
	if (any_rubric(p)) {
		km_put_int(t, first + 3, f->points_now);
		km_put_int(t, first + 4, f->points_after);
	}
	km_put_int(t, first + 5, f->money);
	km_put_int(t, first + 6, f->left_open);
}

static void put_answer(struct km_page *p, struct km_table *t,
		       const struct km_answer *a, const struct km_kit *home)
{
	km_put_word(t, READING, km_answer_word(a->what), KM_TONE_NONE);
	if (a->what == KM_IF_KIT)
		km_put_text(t, VALUE, a->kit->id);
	km_words_answer_value(&p->line, a);
	if (p->line.len)
		km_put_buf(t, VALUE, &p->line);
	if (a->n_values || a->none)	/* what is read may be another */
		km_put_word(t, ATTRIBUTE, km_attr_key(a->attr), KM_TONE_NONE);
	put_figures(p, t, FIRM, &a->figures);
	km_put_list(t, TURNED);
	for (uint32_t i = 0; i < a->n_turns; i++) {
		km_words_turn(&p->line, &a->turns[i], home);
		km_put_item(t, TURNED, &p->line);
	}
}

enum { Q_NUMBER, Q_ABOUT, Q_KIT, Q_SLOT, Q_ATTRIBUTE, Q_TOOL, Q_MACHINE,
       Q_ASKS, Q_WHY, Q_FIND, Q_CHANGES, Q_DIFFERS, Q_COMPLETE, Q_MONEY,
       Q_POINTS, Q_SLOTS, Q_COLUMNS };

static const struct km_column question_columns[Q_COLUMNS] = {
	[Q_NUMBER] = { "question", NULL, KM_COL_COUNT, false },
	[Q_ABOUT] = { "about", NULL, KM_COL_WORD, false },
	[Q_KIT] = { "kit", NULL, KM_COL_ID, false },
	[Q_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[Q_ATTRIBUTE] = { "attribute", NULL, KM_COL_WORD, false },
	[Q_TOOL] = { "tool", NULL, KM_COL_ID, false },
	[Q_MACHINE] = { "machine", NULL, KM_COL_TEXT, false },
	[Q_ASKS] = { "asks", NULL, KM_COL_TEXT, false },
	[Q_WHY] = { "why_open", NULL, KM_COL_TEXT, false },
	[Q_FIND] = { "find_out", NULL, KM_COL_TEXT, false },
	[Q_CHANGES] = { "changes", NULL, KM_COL_FLAG, false },
	[Q_DIFFERS] = { "answers_differ", NULL, KM_COL_FLAG, false },
	[Q_COMPLETE] = { "complete_by", NULL, KM_COL_THOUSANDTHS, false },
	[Q_MONEY] = { "money_by", NULL, KM_COL_MONEY, false },
	[Q_POINTS] = { "points_by", NULL, KM_COL_HUNDREDTHS, false },
	[Q_SLOTS] = { "slots_by", NULL, KM_COL_COUNT, false },
};

static void question_row(struct km_page *p, struct km_table *t,
			 const struct km_question *q, uint32_t number)
{
	put_question(p, t, q, number);	/* the columns begin alike */
	km_words_question(&p->line, q, q->kit->kit);
	km_put_buf(t, Q_ASKS, &p->line);
	km_words_open(&p->line, q);
	km_put_buf(t, Q_WHY, &p->line);
	km_words_find_out(&p->line, q);
	km_put_buf(t, Q_FIND, &p->line);
	km_put_int(t, Q_CHANGES, q->changes);
	km_put_int(t, Q_DIFFERS, q->differs);
	km_put_int(t, Q_COMPLETE, q->by_complete);
	km_put_int(t, Q_MONEY, q->by_money);
	if (any_rubric(p))
		km_put_int(t, Q_POINTS, q->by_points);
	km_put_int(t, Q_SLOTS, q->by_slots);
}

enum { T_NUMBER, T_READING, T_KIT, T_SLOT, T_WAS, T_WAS_BE, T_IS, T_IS_BE,
       T_COLUMNS };

static const struct km_column turn_columns[T_COLUMNS] = {
	[T_NUMBER] = { "question", NULL, KM_COL_COUNT, false },
	[T_READING] = { "reading", NULL, KM_COL_COUNT, false },
	[T_KIT] = { "kit", NULL, KM_COL_ID, false },
	[T_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[T_WAS] = { "was", NULL, KM_COL_WORD, false },
	[T_WAS_BE] = { "was_would_be", NULL, KM_COL_WORD, false },
	[T_IS] = { "is", NULL, KM_COL_WORD, false },
	[T_IS_BE] = { "is_would_be", NULL, KM_COL_WORD, false },
};

static void put_standing(struct km_table *t, uint32_t column,
			 const struct km_standing *s)
{
	km_put_word(t, column, km_standing_word(s), KM_TONE_NONE);
	if (!s->out && !s->firm)
		km_put_word(t, column + 1, km_verdict_word(s->verdict),
			    KM_TONE_NONE);
}

static void turn_rows(struct km_table *t, const struct km_question *q,
		      uint32_t number)
{
	for (uint32_t i = 0; i < q->n_answers; i++)
		for (uint32_t k = 0; k < q->answers[i].n_turns; k++) {
			const struct km_turn *one = &q->answers[i].turns[k];

			km_table_row(t);
			km_put_int(t, T_NUMBER, number);
			km_put_int(t, T_READING, i + 1);
			km_put_text(t, T_KIT, one->slot->kit->id);
			km_put_text(t, T_SLOT, one->slot->id);
			put_standing(t, T_WAS, &one->was);
			put_standing(t, T_IS, &one->is);
		}
}

enum { N_FIRM, N_ON_PAPER, N_WORKED, N_POINTS_NOW, N_POINTS, N_MONEY, N_OPEN,
       N_MORE, N_COLUMNS };

static const struct km_column now_columns[N_COLUMNS] = {
	[N_FIRM] = { "firm", NULL, KM_COL_COUNT, false },
	[N_ON_PAPER] = { "on_paper", NULL, KM_COL_COUNT, false },
	[N_WORKED] = { "after_work", NULL, KM_COL_COUNT, false },
	[N_POINTS_NOW] = { "points_now", NULL, KM_COL_HUNDREDTHS, false },
	[N_POINTS] = { "points_after_plan", NULL, KM_COL_HUNDREDTHS, false },
	[N_MONEY] = { "to_finish", NULL, KM_COL_MONEY, false },
	[N_OPEN] = { "left_open", NULL, KM_COL_COUNT, false },
	[N_MORE] = { "not_asked", NULL, KM_COL_COUNT, false },
};

/* "1. D7 screwdriver: which handle colour?  Possible ...; find out: ..." */
static void question_section(struct km_page *p, struct km_table *t,
			     const struct km_question *q, uint32_t number)
{
	struct km_buf *b = &p->line;

	km_buf_printf(b, "%" PRIu32 ". ", number);
	km_words_question(b, q, p->audit->n_kits > 1 ? NULL : q->kit->kit);
	if (!q->differs)
		km_buf_str(b, " (the same either way)");
	km_buf_str(b, " - ");
	km_words_open(b, q);
	km_buf_str(b, " - find out: ");
	km_words_find_out(b, q);
	if (!km_buf_failed(b))
		km_table_section(t, b->text);
	km_buf_clear(b);
}

/* What changes nothing, on one line; those questions stand last. */
static void add_rest(struct km_buf *b, const struct km_page *p)
{
	const struct km_questions *all = p->audit->questions;
	const struct km_kit *home = p->audit->n_kits == 1
				    ? p->audit->kits[0].kit : NULL;
	const char *between = "nothing hangs on: ";

	for (uint32_t i = 0; i < all->n; i++) {
		if (all->v[i].changes)
			continue;
		km_buf_str(b, between);
		km_words_question_short(b, &all->v[i], home);
		between = ", ";
	}
	if (all->not_asked)
		km_buf_printf(b, "%s%" PRIu32 " more questions were not asked",
			      b->len ? "; " : "", all->not_asked);
	if (!all->n)
		km_buf_str(b, "no question is open");
}

static void rest_section(struct km_page *p, struct km_table *t)
{
	add_rest(&p->line, p);
	if (p->line.len)
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

/* "9 of 10 firm, after work 9, points lost 0.50, to finish 5.00" */
static void add_figures(struct km_page *p, const struct km_figures *f,
			struct km_buf *b)
{
	if (f->firm)
		km_buf_printf(b, "%" PRId32 " of %" PRId32 " firm, after work "
			      "%" PRId32, f->on_paper, f->firm, f->after_work);
	else
		km_buf_str(b, "no firm slot");
	if (any_rubric(p)) {
		km_buf_str(b, ", points lost ");
		km_buf_money(b, f->points_now, 2);
		if (f->points_after != f->points_now) {
			km_buf_str(b, " (");
			km_buf_money(b, f->points_after, 2);
			km_buf_str(b, " after the plan)");
		}
	}
	km_buf_str(b, ", to finish ");
	km_buf_money(b, f->money, p->decimals);
	if (f->left_open)
		km_buf_printf(b, ", %" PRId32 " left open", f->left_open);
}

/* "now: 9 of 10 firm, to finish 5.00 (money in GBP)" */
static void add_now(struct km_page *p, const struct km_questions *all,
		    struct km_buf *b)
{
	km_buf_str(b, "now: ");
	add_figures(p, &all->now, b);
	if (p->currency)
		km_buf_printf(b, " (money in %s)", p->currency);
}

void km_make_questions(struct km_page *p)
{
	const struct km_questions *all = p->audit->questions;
	struct km_table *readings, *asks, *turns, *now;

	readings = km_page_table(p, "readings", columns, COLUMNS);
	asks = km_page_table(p, "questions", question_columns, Q_COLUMNS);
	turns = km_page_table(p, "turns", turn_columns, T_COLUMNS);
	now = km_page_table(p, "now", now_columns, N_COLUMNS);
	if (!all || !readings || !asks || !turns || !now)
		return;
	asks->show = turns->show = now->show = KM_SHOW_DATA;
	add_now(p, all, &p->line);
	km_put_section(readings, &p->line);
	for (uint32_t i = 0; i < all->n; i++) {
		const struct km_question *q = &all->v[i];

		if (q->changes)
			question_section(p, readings, q, i + 1);
		for (uint32_t k = 0; k < q->n_answers; k++) {
			put_question(p, readings, q, i + 1);
			put_answer(p, readings, &q->answers[k], q->kit->kit);
			if (!q->changes && readings->last && !p->o.plain)
				readings->last->show = KM_SHOW_DATA;
		}
		question_row(p, asks, q, i + 1);
		turn_rows(turns, q, i + 1);
	}
	rest_section(p, readings);
	km_table_row(now);
	put_figures(p, now, N_FIRM, &all->now);
	km_put_int(now, N_MORE, all->not_asked);
}

/* ------------------------------------------------------------------ */
/* As text                                                             */

#define INDENT 4
#define LABEL_MOST 28		/* a longer one has a line of its own */
#define TURNS_SHOWN 6

struct writer {
	struct km_page *p;
	struct km_buf *out, *b;	/* b: one text in the making */
	struct km_buf cells;
	const struct km_kit *home;	/* NULL: there are several kits */
};

/* What stands in b, wrapped, behind what is written of the line. */
static void flush(struct writer *w, size_t at, size_t indent)
{
	km_wrap(w->out, w->b->len ? w->b->text : "", at, indent, w->p->o.width);
	km_buf_clear(w->b);
}

static void add_turns(struct writer *w, const struct km_answer *a)
{
	for (uint32_t i = 0; i < a->n_turns && i < TURNS_SHOWN; i++) {
		km_buf_str(w->b, i ? "; " : "");
		km_words_turn(w->b, &a->turns[i], w->home);
	}
	if (a->n_turns > TURNS_SHOWN)
		km_buf_printf(w->b, "; +%" PRIu32, a->n_turns - TURNS_SHOWN);
}

static size_t label_cells(struct writer *w, const struct km_answer *a)
{
	size_t n;

	km_words_answer(w->b, a);
	n = km_cells(&w->cells, w->b->len ? w->b->text : "") + 1;
	km_buf_clear(w->b);
	return n;
}

static void write_answer(struct writer *w, const struct km_answer *a,
			 size_t lane)
{
	size_t cells = label_cells(w, a), at = INDENT + lane + 2;

	km_buf_fill(w->out, ' ', INDENT);
	km_words_answer(w->b, a);
	km_buf_char(w->b, ':');
	if (cells > lane) {
		flush(w, INDENT, INDENT + 2);
		km_buf_fill(w->out, ' ', at);
	} else {
		(void)km_cells(&w->cells, w->b->len ? w->b->text : "");
		km_buf_str(w->out, w->cells.len ? w->cells.text : "");
		km_buf_clear(w->b);
		km_buf_fill(w->out, ' ', lane - cells + 2);
	}
	add_figures(w->p, &a->figures, w->b);
	flush(w, at, at + 2);
	if (!a->n_turns)
		return;
	km_buf_fill(w->out, ' ', at);
	add_turns(w, a);
	flush(w, at, at + 2);
}

static void write_question(struct writer *w, const struct km_question *q,
			   uint32_t number)
{
	size_t lane = 0;

	for (uint32_t i = 0; i < q->n_answers; i++) {
		size_t n = label_cells(w, &q->answers[i]);

		if (n <= LABEL_MOST && n > lane)
			lane = n;
	}
	km_buf_char(w->out, '\n');
	km_buf_printf(w->b, "%" PRIu32 ". ", number);
	km_words_question(w->b, q, w->home);
	if (!q->differs)
		km_buf_str(w->b, " (the same either way)");
	flush(w, 0, INDENT);
	km_buf_fill(w->out, ' ', INDENT);
	km_words_open(w->b, q);
	flush(w, INDENT, INDENT + 2);
	for (uint32_t i = 0; i < q->n_answers; i++)
		write_answer(w, &q->answers[i], lane);
	km_buf_fill(w->out, ' ', INDENT);
	km_buf_str(w->b, "find out: ");
	km_buf_clear(&w->cells);
	km_words_find_out(&w->cells, q);
	km_buf_str(w->b, w->cells.len ? w->cells.text : "");
	flush(w, INDENT, INDENT + 2);
}

void km_text_questions(struct km_page *p)
{
	const struct km_questions *all = p->audit->questions;
	struct writer w = { .p = p, .out = &p->out, .b = &p->line };

	if (p->o.plain || !all) {
		km_make_questions(p);
		if (!km_page_failed(p))
			km_out_text(p);
		return;
	}
	km_buf_init(&w.cells, p->mem);
	if (p->audit->n_kits == 1)
		w.home = p->audit->kits[0].kit;
	add_now(p, all, w.b);
	flush(&w, 0, INDENT);
	for (uint32_t i = 0; i < all->n && all->v[i].changes; i++)
		write_question(&w, &all->v[i], i + 1);
	add_rest(w.b, p);
	if (w.b->len) {
		km_buf_char(w.out, '\n');
		flush(&w, 0, INDENT);
	}
	if (km_buf_failed(&w.cells))
		p->failed = true;
}
