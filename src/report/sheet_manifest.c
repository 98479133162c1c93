/* SPDX-License-Identifier: MIT */
/*
 * manifest - what goes to the plater, counted, in two copies, and what is
 * still there.  It leaves the house: no prices, no names of people.
 */
#include "report/jobs.h"

#include <inttypes.h>
#include <string.h>

#include "base/str.h"
#include "report/cautions.h"
#include "report/reason.h"
#include "trade/hardness.h"
#include "unit/date.h"
#include "unit/length.h"

enum { NUMBER, LOT, KIT, SLOT, TOOL, WEIGHT, BACK, WHAT, PHOTOS, MAGNETIC,
       FINISH, LOOK, PROCESSES, HARDNESS, BAKE, BAKE_H, LINES, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[NUMBER] = { "number", "no.", KM_COL_COUNT, false },
	[LOT] = { "lot", "lot", KM_COL_ID, true },
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[SLOT] = { "slot", NULL, KM_COL_ID, false },
	[TOOL] = { "tool", "piece", KM_COL_ID, false },
	[WEIGHT] = { "weight_g", "g", KM_COL_MM, false },
	[BACK] = { NULL, "back", KM_COL_WORD, false },
	[WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[PHOTOS] = { "photos", NULL, KM_COL_LIST, false },
	[MAGNETIC] = { "magnetic", NULL, KM_COL_WORD, false },
	[FINISH] = { "finish", NULL, KM_COL_WORD, false },
	[LOOK] = { "look", NULL, KM_COL_WORD, false },
	[PROCESSES] = { "processes", NULL, KM_COL_LIST, false },
	[HARDNESS] = { "hardness", NULL, KM_COL_TEXT, false },
	[BAKE] = { "bake", NULL, KM_COL_TEXT, false },
	[BAKE_H] = { "bake_hours", NULL, KM_COL_COUNT, false },
	[LINES] = { NULL, "what it is, what is wanted", KM_COL_LIST, false },
};

struct maker {
	struct km_page *p;
	const struct km_jobs *jobs;
	struct km_table *t;
	struct km_buf *b;
	uint32_t n, unweighed;
	int64_t weight_mg;
};

static void line(struct maker *m)
{
	km_put_item(m->t, LINES, m->b);
}

/* ------------------------------------------------------------------ */
/* What goes                                                           */

static bool is_shop(const struct km_process *p)
{
	return !strncmp(p->place, "shop", 4);
}

/* The step that names the lot: the last that is charged by the lot, else the
 * first that a shop does. */
static uint32_t lot_step(const struct km_job_tool *x)
{
	uint32_t first = UINT32_MAX, last = UINT32_MAX;

	for (uint32_t i = 0; i < x->route->n_steps; i++) {
		const struct km_process *p = x->route->steps[i];

		if (!is_shop(p))
			continue;
		if (first == UINT32_MAX)
			first = i;
		if (p->charged_by == KM_BY_LOT)
			last = i;
	}
	return last != UINT32_MAX ? last : first;
}

static bool goes_with(const struct maker *m, const struct km_job *j,
		      uint32_t i)
{
	const struct km_job_tool *x = &m->jobs->tools[j->refs[i].tool];

	return j->shop && x->match->tool && lot_step(x) == j->refs[i].step;
}

/* What shows that it is steel: rust, a hardness, a coat that only steel
 * takes. */
static bool is_steel(const struct km_tool *t)
{
	const union km_value *kind = km_trait(&t->traits, KM_A_TOOL);
	const union km_value *f = km_trait(&t->traits, KM_A_FINISH);
	const struct km_finish *body = f ? f->finish.body : NULL;
	struct km_hardness h = km_hardness_of(
		t->more ? t->more->hardness : NULL, kind ? kind->kind : NULL);

	if (h.hard != KM_HARD_UNKNOWN ||
	    (t->condition && t->condition->rust > 0))
		return true;
	return body && body->id >= KM_FINISH_BLACK_OXIDE &&
	       body->id <= KM_FINISH_BARE_FORGED;
}

static const char *magnetic(const struct km_tool *t)
{
	for (uint32_t i = 0; t->more && i < t->more->n_extra; i++) {
		struct km_slice v = km_slice_of(t->more->extra[i].value);

		if (km_fold_compare(km_slice_of(t->more->extra[i].key),
				    km_slice_of("magnetic")))
			continue;
		if (!km_fold_compare(v, km_slice_of("yes")))
			return "yes";
		if (!km_fold_compare(v, km_slice_of("no")))
			return "no";
	}
	return is_steel(t) ? "yes" : "unknown";
}

static void put_wanted(struct maker *m, const struct km_job_tool *x)
{
	const char *look = km_look_word(x->becomes);
	const char *before = "";

	for (uint32_t i = 0; i < x->route->n_steps; i++) {
		char word[KM_PROCESS_ROOM];

		if (!is_shop(x->route->steps[i]))
			continue;
		km_process_word(x->route->steps[i], word);
		km_buf_str(m->b, word);
		km_put_item(m->t, PROCESSES, m->b);
	}
	for (uint32_t i = 0; i < x->route->n_steps; i++)
		if (is_shop(x->route->steps[i])) {
			km_buf_printf(m->b, "%s%s", before,
				      x->route->steps[i]->name);
			before = ", ";
		}
	line(m);
	if (!x->becomes)
		return;
	km_put_word(m->t, FINISH, x->becomes->name, KM_TONE_NONE);
	if (look)
		km_put_word(m->t, LOOK, look, KM_TONE_NONE);
	km_buf_printf(m->b, "wanted: %s, %s", x->becomes->name,
		      look ? look : "[ ] bright [ ] dull");
	line(m);
}

static void put_hardness(struct maker *m, const struct km_job_tool *x)
{
	const struct km_job_hardness *h = &x->hardness;
	struct km_buf both;

	km_buf_init(&both, m->p->mem);
	km_words_hardness(m->b, h);
	if (m->b->len)
		km_buf_str(&both, m->b->text);
	km_put_buf(m->t, HARDNESS, m->b);
	km_words_bake(m->b, h);
	if (m->b->len)
		km_buf_printf(&both, ": %s", m->b->text);
	km_put_buf(m->t, BAKE, m->b);
	km_put_item(m->t, LINES, &both);
	if (h->bake == KM_JOB_BAKE_HOURS)
		km_put_int(m->t, BAKE_H, h->hours);
}

static void put_photos(struct maker *m, const struct km_job_tool *x)
{
	const struct km_tool_more *more = x->match->tool->more;

	km_put_list(m->t, PHOTOS);
	for (uint32_t i = 0; more && i < more->n_photos; i++) {
		km_buf_str(m->b, more->photos[i]);
		km_put_item(m->t, PHOTOS, m->b);
	}
}

static void add_photos(struct maker *m, const struct km_job_tool *x)
{
	km_buf_printf(m->b, "magnetic: %s; ", magnetic(x->match->tool));
	if (x->match->tool->more && x->match->tool->more->n_photos) {
		km_buf_str(m->b, "photo ");
		km_words_photos(m->b, x->match);
	} else {
		km_buf_str(m->b, "no photo: photograph first");
	}
	line(m);
}

static void put_piece(struct maker *m, const struct km_job *j,
		      const struct km_job_tool *x)
{
	const struct km_tool *t = x->match->tool;
	int64_t mg = t->more ? t->more->weight_mg : -1;
	char word[KM_PROCESS_ROOM];

	km_table_row(m->t);
	km_put_int(m->t, NUMBER, ++m->n);
	km_process_word(j->process, word);
	km_put_text(m->t, LOT, word);
	km_put_text(m->t, KIT, x->kit->kit->id);
	km_put_text(m->t, SLOT, x->slot->slot->id);
	km_put_text(m->t, TOOL, t->id);
	if (mg >= 0)
		km_put_int(m->t, WEIGHT, mg * 1000);
	m->unweighed += mg < 0;
	m->weight_mg += mg < 0 ? 0 : mg;
	km_put_word(m->t, BACK, "[ ]", KM_TONE_NONE);
	km_put_word(m->t, MAGNETIC, magnetic(t), KM_TONE_NONE);
	km_words_of_traits(m->b, &t->traits);
	km_put_text(m->t, WHAT, m->b->len ? m->b->text : NULL);
	line(m);
	put_photos(m, x);
	put_wanted(m, x);
	put_hardness(m, x);
	add_photos(m, x);
}

static void lot_heading(struct maker *m, const struct km_job *j, uint32_t n)
{
	km_buf_printf(m->b, "%s: %" PRIu32 " piece%s", j->process->name, n,
		      n == 1 ? "" : "s");
	if (j->committed)
		km_buf_printf(m->b, ", with an open lot of %" PRId32,
			      j->committed);
	if (j->committed && j->closes.year) {
		km_buf_str(m->b, " that closes on ");
		km_buf_date(m->b, j->closes);
	}
	km_put_section(m->t, m->b);
}

static void put_lots(struct maker *m)
{
	m->n = m->unweighed = 0;
	m->weight_mg = 0;
	for (uint32_t i = 0; i < m->jobs->n_jobs; i++) {
		const struct km_job *j = &m->jobs->jobs[i];
		uint32_t n = 0;

		for (uint32_t k = 0; k < j->n_refs; k++)
			n += goes_with(m, j, k);
		if (!n)
			continue;
		lot_heading(m, j, n);
		for (uint32_t k = 0; k < j->n_refs; k++)
			if (goes_with(m, j, k))
				put_piece(m, j,
					  &m->jobs->tools[j->refs[k].tool]);
	}
}

/* ------------------------------------------------------------------ */
/* What is away, what comes later                                      */

enum { A_TOOL, A_KIT, A_SLOT, A_WHAT, A_SINCE, A_DUE, A_OVERDUE, A_COLUMNS };

static const struct km_column away_columns[A_COLUMNS] = {
	[A_TOOL] = { "tool", NULL, KM_COL_ID, false },
	[A_KIT] = { "kit", NULL, KM_COL_ID, false },
	[A_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[A_WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[A_SINCE] = { "since", NULL, KM_COL_ID, false },
	[A_DUE] = { "due", NULL, KM_COL_ID, false },
	[A_OVERDUE] = { "overdue_days", NULL, KM_COL_COUNT, false },
};

static void put_away_data(struct maker *m)
{
	m->t = km_page_table(m->p, "outstanding", away_columns, A_COLUMNS);
	if (!m->t)
		return;
	m->t->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < m->jobs->n_away; i++) {
		const struct km_job_away *x = &m->jobs->away[i];
		const struct km_tool_more *more = x->tool->more;

		km_table_row(m->t);
		km_put_text(m->t, A_TOOL, x->tool->id);
		km_put_text(m->t, A_KIT, x->slot && x->slot->kit
						 ? x->slot->kit->id : NULL);
		km_put_text(m->t, A_SLOT, x->slot ? x->slot->id : NULL);
		km_words_of_traits(m->b, &x->tool->traits);
		km_put_buf(m->t, A_WHAT, m->b);
		if (more)
			km_buf_date(m->b, more->since);
		km_put_buf(m->t, A_SINCE, m->b);
		if (more)
			km_buf_date(m->b, more->due);
		km_put_buf(m->t, A_DUE, m->b);
		if (x->overdue)
			km_put_int(m->t, A_OVERDUE, x->overdue);
	}
}

static void away_section(struct maker *m, const struct km_job_away *x)
{
	km_buf_printf(m->b, "[ ] %s outstanding", x->tool->id);
	if (x->slot)
		km_buf_printf(m->b, " (%s)", x->slot->id);
	km_buf_str(m->b, ": ");
	km_words_of_traits(m->b, &x->tool->traits);
	km_buf_str(m->b, ", at the plater");
	km_words_since(m->b, x->tool);
	if (x->overdue)
		km_buf_printf(m->b, ", overdue by %" PRId32 " day%s",
			      x->overdue, x->overdue == 1 ? "" : "s");
	km_put_section(m->t, m->b);
}

static void later(struct maker *m)
{
	for (uint32_t i = 0; i < m->jobs->n_tools; i++) {
		const struct km_job_tool *x = &m->jobs->tools[i];

		if (x->sent && !x->match->tool)
			km_buf_printf(m->b, "%s%s", m->b->len ? ", " :
				      "to follow once bought: ",
				      x->match->offer->id);
	}
	km_put_section(m->t, m->b);
}

/* ------------------------------------------------------------------ */
/* The copies                                                          */

enum { C_PIECES, C_WEIGHT, C_UNWEIGHED, C_OUTSTANDING, C_COLUMNS };

static const struct km_column total_columns[C_COLUMNS] = {
	[C_PIECES] = { "pieces", NULL, KM_COL_COUNT, false },
	[C_WEIGHT] = { "weight_g", NULL, KM_COL_MM, false },
	[C_UNWEIGHED] = { "not_weighed", NULL, KM_COL_COUNT, false },
	[C_OUTSTANDING] = { "outstanding", NULL, KM_COL_COUNT, false },
};

static void put_totals(struct maker *m)
{
	m->t = km_page_table(m->p, "totals", total_columns, C_COLUMNS);
	if (!m->t)
		return;
	m->t->show = KM_SHOW_DATA;
	km_table_row(m->t);
	km_put_int(m->t, C_PIECES, m->n);
	if (m->unweighed < m->n)
		km_put_int(m->t, C_WEIGHT, m->weight_mg * 1000);
	km_put_int(m->t, C_UNWEIGHED, m->unweighed);
	km_put_int(m->t, C_OUTSTANDING, m->jobs->n_away);
}

static void total_section(struct maker *m)
{
	km_buf_printf(m->b, "in all %" PRIu32 " piece%s", m->n,
		      m->n == 1 ? "" : "s");
	if (m->unweighed < m->n) {
		km_buf_str(m->b, ", ");
		km_buf_mm(m->b, m->weight_mg * 1000, 3);
		km_buf_str(m->b, " g");
	}
	if (m->unweighed)
		km_buf_printf(m->b, ", %" PRIu32 " not weighed", m->unweighed);
	km_put_section(m->t, m->b);
	km_table_section(m->t, "handed over ________ ____   "
			       "counted back ________ ____");
}

static void copy(struct maker *m, int which)
{
	m->t = km_page_table(m->p, "copy", columns, COLUMNS);
	if (!m->t)
		return;
	m->t->show = KM_SHOW_TEXT;
	km_table_section(m->t, which == 1
			 ? "copy 1 of 2, goes with the pieces"
			 : "copy 2 of 2, stays");
	put_lots(m);
	if (m->n)
		total_section(m);
	else
		km_table_section(m->t, "nothing of the plan goes to a shop");
	later(m);
	for (uint32_t i = 0; i < m->jobs->n_away; i++)
		away_section(m, &m->jobs->away[i]);
}

static void cautions(struct maker *m)
{
	uint64_t set = 0, regulated = 0;

	for (uint32_t i = 0; i < m->jobs->n_tools; i++) {
		const struct km_job_tool *x = &m->jobs->tools[i];

		if (!x->sent || !x->match->tool)
			continue;
		set |= x->sent_cautions;
		for (uint32_t s = 0; s < x->route->n_steps; s++)
			if (km_process_is_regulated(x->route->steps[s]))
				regulated |= KM_BIT(x->route->steps[s]->id);
	}
	km_page_cautions(m->p, set, regulated);
}

void km_make_manifest(struct km_page *p)
{
	static const struct km_jobs none;
	struct maker m = { .p = p, .jobs = p->audit->jobs, .b = &p->line };

	if (!m.jobs)
		m.jobs = &none;
	m.t = km_page_table(p, "lines", columns, COLUMNS);
	if (!m.t)
		return;
	m.t->show = KM_SHOW_DATA;
	put_lots(&m);
	put_away_data(&m);
	put_totals(&m);
	copy(&m, 1);
	copy(&m, 2);
	cautions(&m);
}
