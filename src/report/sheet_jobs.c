/* SPDX-License-Identifier: MIT */
/*
 * jobs - what not to do, then the work by process in working order, then each
 * tool: what it becomes and what stays.  No prices.
 */
#include "report/jobs.h"

#include <inttypes.h>

#include "report/cautions.h"
#include "report/reason.h"
#include "unit/date.h"
#include "unit/length.h"

struct maker {
	struct km_page *p;
	const struct km_jobs *jobs;
	struct km_table *t;
	struct km_buf *b;
};

static void put_ref(struct maker *m, uint32_t column, const struct km_slot *s,
		    const struct km_kit_audit *k)
{
	km_words_slot_ref(m->b, s, m->p->audit->n_kits > 1 ? NULL : k->kit);
	km_put_buf(m->t, column, m->b);
}

static void put_three(struct km_table *t, uint32_t first, const int32_t v[3])
{
	for (uint32_t i = 0; i < 3; i++)
		km_put_int(t, first + i, v[i]);
}

static void put_process(struct maker *m, uint32_t column,
			const struct km_process *p)
{
	char word[KM_PROCESS_ROOM];

	km_process_word(p, word);
	km_put_text(m->t, column, word);
}

/* ------------------------------------------------------------------ */
/* What not to do                                                      */

enum { N_KIT, N_SLOT, N_REF, N_TOOL, N_WHY, N_MARK, N_PITS, N_ALLOWED,
       N_LINES, N_COLUMNS };

static const struct km_column not_columns[N_COLUMNS] = {
	[N_KIT] = { "kit", NULL, KM_COL_ID, false },
	[N_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[N_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[N_REF] = { NULL, "slot", KM_COL_ID, false },
	[N_WHY] = { "do_not", NULL, KM_COL_LIST, false },
	[N_MARK] = { "mark_depth_mm", NULL, KM_COL_MM, false },
	[N_PITS] = { "pits_mm", NULL, KM_COL_MM, false },
	[N_ALLOWED] = { "allowed", NULL, KM_COL_LIST, false },
	[N_LINES] = { NULL, "what not to do", KM_COL_LIST, false },
};

static const char *id_of(const struct km_job_barred *x)
{
	return x->tool ? x->tool->id : x->offer ? x->offer->id : "";
}

static void put_allowed(struct maker *m, const struct km_job_barred *x)
{
	km_put_list(m->t, N_ALLOWED);
	for (int i = 0; i < KM_PROCESSES; i++)
		if (x->allowed >> i & 1) {
			char word[KM_PROCESS_ROOM];

			km_process_word(&km_processes[i], word);
			km_buf_str(m->b, word);
			km_put_item(m->t, N_ALLOWED, m->b);
		}
	km_words_allowed(m->b, x);
	km_put_item(m->t, N_LINES, m->b);
}

static void put_barred(struct maker *m, const struct km_job_barred *x)
{
	uint32_t bars = x->bars;

	km_table_row(m->t);
	km_put_text(m->t, N_KIT, x->kit->kit->id);
	km_put_text(m->t, N_SLOT, x->slot->id);
	put_ref(m, N_REF, x->slot, x->kit);
	km_put_text(m->t, N_TOOL, id_of(x));
	if (x->mark_nm >= 0)
		km_put_int(m->t, N_MARK, x->mark_nm);
	if (x->pit_nm >= 0)
		km_put_int(m->t, N_PITS, x->pit_nm);
	while (bars) {
		uint32_t again = bars;

		km_words_bar(m->b, x, &bars);
		km_put_item(m->t, N_WHY, m->b);
		km_words_bar(m->b, x, &again);
		km_put_item(m->t, N_LINES, m->b);
	}
	put_allowed(m, x);
}

static void put_all_barred(struct maker *m, uint8_t show)
{
	m->t = km_page_table(m->p, "do_not", not_columns, N_COLUMNS);
	if (!m->t)
		return;
	m->t->show = m->jobs->n_barred ? show : show & KM_SHOW_DATA;
	for (uint32_t i = 0; i < m->jobs->n_barred; i++)
		put_barred(m, &m->jobs->barred[i]);
}

/* ------------------------------------------------------------------ */
/* The steps                                                           */

enum { S_STEP, S_PROCESS, S_KIT, S_SLOT, S_LOAD, S_DONE, S_TOOL, S_REF, S_THEN,
       S_STAYS, S_LINES, S_MIN_LOW, S_MIN, S_MIN_HIGH, S_H_LOW, S_H, S_H_HIGH,
       S_COLUMNS };

static const struct km_column step_columns[S_COLUMNS] = {
	[S_STEP] = { "step", "step", KM_COL_COUNT, true },
	[S_PROCESS] = { "process", "process", KM_COL_ID, true },
	[S_KIT] = { "kit", NULL, KM_COL_ID, false },
	[S_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[S_LOAD] = { "load", "load", KM_COL_COUNT, false },
	[S_DONE] = { NULL, "done", KM_COL_WORD, false },
	[S_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[S_REF] = { NULL, "slot", KM_COL_ID, false },
	[S_THEN] = { "then", NULL, KM_COL_TEXT, false },
	[S_STAYS] = { "stays", NULL, KM_COL_TEXT, false },
	[S_LINES] = { NULL, "what it is then, what stays", KM_COL_LIST, false },
	[S_MIN_LOW] = { "own_min_low", NULL, KM_COL_COUNT, false },
	[S_MIN] = { "own_min_likely", NULL, KM_COL_COUNT, false },
	[S_MIN_HIGH] = { "own_min_high", NULL, KM_COL_COUNT, false },
	[S_H_LOW] = { "hours_low", NULL, KM_COL_HUNDREDTHS, false },
	[S_H] = { "hours_likely", NULL, KM_COL_HUNDREDTHS, false },
	[S_H_HIGH] = { "hours_high", NULL, KM_COL_HUNDREDTHS, false },
};

static void add_loads(struct km_buf *b, const struct km_job *j)
{
	int64_t room = (int64_t)j->loads * j->load_pieces - j->n_refs;

	if (!j->loads)
		return;
	km_buf_printf(b, "; %" PRIu32 " load%s of at most %" PRId32, j->loads,
		      j->loads == 1 ? "" : "s", j->load_pieces);
	if (room)
		km_buf_printf(b, ", room for %" PRId64 " more", room);
}

static void add_open_lot(struct km_buf *b, const struct km_job *j)
{
	if (!j->committed)
		return;
	km_buf_printf(b, "; joins an open lot of %" PRId32, j->committed);
	if (!j->closes.year)
		return;
	km_buf_str(b, " that closes on ");
	km_buf_date(b, j->closes);
}

static void job_heading(struct maker *m, const struct km_job *j, uint32_t step)
{
	km_buf_printf(m->b, "%" PRIu32 ". %s: %" PRIu32 " piece%s, %s", step,
		      j->process->name, j->n_refs, j->n_refs == 1 ? "" : "s",
		      km_process_is_regulated(j->process) ? "a licensed shop"
						 : j->process->place);
	add_loads(m->b, j);
	add_open_lot(m->b, j);
	if (j->hands_min[2]) {
		km_buf_str(m->b, "; own time ");
		km_words_minutes(m->b, j->hands_min);
	}
	km_buf_str(m->b, "; takes ");
	km_words_times(m->b, j->elapsed);
	km_put_section(m->t, m->b);
}

static void line(struct maker *m)
{
	km_put_item(m->t, S_LINES, m->b);
}

static uint64_t words_before(const struct km_job_tool *x, uint32_t step)
{
	return step ? x->steps[step - 1].words : x->found;
}

/* Before anything is done to it. */
static void put_photo(struct maker *m, const struct km_job_tool *x,
		      uint32_t column)
{
	km_words_photos(m->b, x->match);
	if (m->b->len) {
		struct km_buf copy;

		km_buf_init(&copy, m->p->mem);
		km_buf_printf(&copy, "before-photograph %s", m->b->text);
		km_buf_clear(m->b);
		km_put_item(m->t, column, &copy);
		return;
	}
	km_buf_str(m->b, "photograph first");
	km_put_item(m->t, column, m->b);
}

static bool has_bake(const struct km_job_tool *x)
{
	for (uint32_t i = 0; i < x->route->n_steps; i++)
		if (x->route->steps[i]->id == KM_PROCESS_BAKE_RELIEF)
			return true;
	return false;
}

static void put_hint(struct maker *m, const struct km_job_tool *x,
		     const struct km_job_step *s)
{
	switch (s->process->id) {
	case KM_PROCESS_INSPECT:
		put_photo(m, x, S_LINES);
		return;
	case KM_PROCESS_PLATE_ZINC:
	case KM_PROCESS_PLATE_CADMIUM:
		if (has_bake(x))
			km_buf_str(m->b, "chromate only after the bake");
		break;
	case KM_PROCESS_BAKE_RELIEF:
		km_words_bake(m->b, &x->hardness);
		break;
	default:
		break;
	}
	line(m);
}

static void put_step(struct maker *m, const struct km_job_tool *x, uint32_t at)
{
	const struct km_job_step *s = &x->steps[at];
	uint64_t before = words_before(x, at);
	struct km_buf said;

	km_buf_init(&said, m->p->mem);
	km_words_change(&said, before, s);
	if (said.len)
		km_put_text(m->t, S_THEN, said.text);
	km_words_faults(m->b, s->words);
	if (m->b->len)
		km_put_text(m->t, S_STAYS, m->b->text);
	if (said.len && m->b->len)
		km_buf_printf(&said, "; stays: %s", m->b->text);
	km_buf_clear(m->b);
	put_hint(m, x, s);
	km_put_item(m->t, S_LINES, &said);
	put_three(m->t, S_MIN_LOW, s->hands_min);
	put_three(m->t, S_H_LOW, s->elapsed);
}

static void put_job(struct maker *m, const struct km_job *j, uint32_t step)
{
	job_heading(m, j, step);
	for (uint32_t i = 0; i < j->n_refs; i++) {
		const struct km_job_tool *x = &m->jobs->tools[j->refs[i].tool];
		uint32_t at = j->refs[i].step;

		km_table_row(m->t);
		km_put_int(m->t, S_STEP, step);
		put_process(m, S_PROCESS, j->process);
		km_put_text(m->t, S_KIT, x->kit->kit->id);
		km_put_text(m->t, S_SLOT, x->slot->slot->id);
		if (x->steps[at].load)
			km_put_int(m->t, S_LOAD, x->steps[at].load);
		km_put_word(m->t, S_DONE, "[ ]", KM_TONE_NONE);
		km_put_text(m->t, S_TOOL, km_match_id(x->match));
		put_ref(m, S_REF, x->slot->slot, x->kit);
		put_step(m, x, at);
	}
}

static void put_jobs(struct maker *m)
{
	m->t = km_page_table(m->p, "steps", step_columns, S_COLUMNS);
	if (!m->t)
		return;
	if (!m->jobs->n_jobs)
		km_table_section(m->t, "no work is planned");
	for (uint32_t i = 0; i < m->jobs->n_jobs; i++)
		put_job(m, &m->jobs->jobs[i], i + 1);
}

enum { J_STEP, J_PROCESS, J_PLACE, J_LICENSED, J_PIECES, J_LOADS, J_LOAD_PIECES,
       J_COMMITTED, J_CLOSES, J_MIN_LOW, J_MIN, J_MIN_HIGH, J_H_LOW, J_H,
       J_H_HIGH, J_COLUMNS };

static const struct km_column job_columns[J_COLUMNS] = {
	[J_STEP] = { "step", NULL, KM_COL_COUNT, false },
	[J_PROCESS] = { "process", NULL, KM_COL_ID, false },
	[J_PLACE] = { "place", NULL, KM_COL_WORD, false },
	[J_LICENSED] = { "licensed_shop", NULL, KM_COL_FLAG, false },
	[J_PIECES] = { "pieces", NULL, KM_COL_COUNT, false },
	[J_LOADS] = { "loads", NULL, KM_COL_COUNT, false },
	[J_LOAD_PIECES] = { "pieces_a_load", NULL, KM_COL_COUNT, false },
	[J_COMMITTED] = { "open_lot_pieces", NULL, KM_COL_COUNT, false },
	[J_CLOSES] = { "open_lot_closes", NULL, KM_COL_ID, false },
	[J_MIN_LOW] = { "own_min_low", NULL, KM_COL_COUNT, false },
	[J_MIN] = { "own_min_likely", NULL, KM_COL_COUNT, false },
	[J_MIN_HIGH] = { "own_min_high", NULL, KM_COL_COUNT, false },
	[J_H_LOW] = { "hours_low", NULL, KM_COL_HUNDREDTHS, false },
	[J_H] = { "hours_likely", NULL, KM_COL_HUNDREDTHS, false },
	[J_H_HIGH] = { "hours_high", NULL, KM_COL_HUNDREDTHS, false },
};

static void put_job_data(struct maker *m)
{
	m->t = km_page_table(m->p, "jobs", job_columns, J_COLUMNS);
	if (!m->t)
		return;
	m->t->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < m->jobs->n_jobs; i++) {
		const struct km_job *j = &m->jobs->jobs[i];

		km_table_row(m->t);
		km_put_int(m->t, J_STEP, i + 1);
		put_process(m, J_PROCESS, j->process);
		km_put_word(m->t, J_PLACE, j->process->place, KM_TONE_NONE);
		km_put_int(m->t, J_LICENSED,
			   km_process_is_regulated(j->process));
		km_put_int(m->t, J_PIECES, j->n_refs);
		if (j->loads) {
			km_put_int(m->t, J_LOADS, j->loads);
			km_put_int(m->t, J_LOAD_PIECES, j->load_pieces);
		}
		if (j->committed)
			km_put_int(m->t, J_COMMITTED, j->committed);
		km_buf_date(m->b, j->closes);
		km_put_buf(m->t, J_CLOSES, m->b);
		put_three(m->t, J_MIN_LOW, j->hands_min);
		put_three(m->t, J_H_LOW, j->elapsed);
	}
}

/* ------------------------------------------------------------------ */
/* The tools                                                           */

enum { T_KIT, T_SLOT, T_TOOL, T_REF, T_BOUGHT, T_WHAT, T_BECOMES, T_NEW_COAT,
       T_STAYS, T_HARDNESS, T_BAKE, T_BAKE_H, T_OPENINGS, T_PHOTOS, T_MIN_LOW,
       T_MIN, T_MIN_HIGH, T_H_LOW, T_H, T_H_HIGH, T_LINES, T_COLUMNS };

static const struct km_column tool_columns[T_COLUMNS] = {
	[T_KIT] = { "kit", NULL, KM_COL_ID, false },
	[T_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[T_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[T_REF] = { NULL, "slot", KM_COL_ID, false },
	[T_BOUGHT] = { "to_be_bought", NULL, KM_COL_FLAG, false },
	[T_WHAT] = { "description", NULL, KM_COL_TEXT, false },
	[T_BECOMES] = { "finish", NULL, KM_COL_WORD, false },
	[T_NEW_COAT] = { "new_coat", NULL, KM_COL_FLAG, false },
	[T_STAYS] = { "stays", NULL, KM_COL_TEXT, false },
	[T_HARDNESS] = { "hardness", NULL, KM_COL_TEXT, false },
	[T_BAKE] = { "bake", NULL, KM_COL_TEXT, false },
	[T_BAKE_H] = { "bake_hours", NULL, KM_COL_COUNT, false },
	[T_OPENINGS] = { "openings", NULL, KM_COL_LIST, false },
	[T_PHOTOS] = { "photos", NULL, KM_COL_LIST, false },
	[T_MIN_LOW] = { "own_min_low", NULL, KM_COL_COUNT, false },
	[T_MIN] = { "own_min_likely", NULL, KM_COL_COUNT, false },
	[T_MIN_HIGH] = { "own_min_high", NULL, KM_COL_COUNT, false },
	[T_H_LOW] = { "hours_low", NULL, KM_COL_HUNDREDTHS, false },
	[T_H] = { "hours_likely", NULL, KM_COL_HUNDREDTHS, false },
	[T_H_HIGH] = { "hours_high", NULL, KM_COL_HUNDREDTHS, false },
	[T_LINES] = { NULL, "what becomes of it", KM_COL_LIST, false },
};

/* The words in the line buffer, as a cell and as a line of text. */
static void put_both(struct maker *m, uint32_t column, const char *before)
{
	struct km_buf copy;

	if (!m->b->len || km_buf_failed(m->b))
		return;
	km_buf_init(&copy, m->p->mem);
	km_buf_printf(&copy, "%s%s", before, m->b->text);
	km_put_item(m->t, T_LINES, &copy);
	if (m->t->columns[column].kind == KM_COL_LIST)
		km_put_item(m->t, column, m->b);
	else
		km_put_buf(m->t, column, m->b);
}

static void put_becomes(struct maker *m, const struct km_job_tool *x)
{
	const char *look = km_look_word(x->becomes);

	km_put_int(m->t, T_NEW_COAT, x->new_coat);
	if (!x->becomes)
		return;
	km_put_word(m->t, T_BECOMES, x->becomes->name, KM_TONE_NONE);
	km_buf_printf(m->b, "%s %s%s%s", x->new_coat ? "becomes" : "stays",
		      x->becomes->name, look && x->new_coat ? ", " : "",
		      look && x->new_coat ? look : "");
	km_put_item(m->t, T_LINES, m->b);
}

static void put_hardness(struct maker *m, const struct km_job_tool *x)
{
	const struct km_job_hardness *h = &x->hardness;
	struct km_buf both;

	km_buf_init(&both, m->p->mem);
	km_words_hardness(m->b, h);
	if (h->bake != KM_JOB_BAKE_NO)
		km_buf_printf(&both, "%s: ", m->b->len ? m->b->text : "");
	km_put_buf(m->t, T_HARDNESS, m->b);
	km_words_bake(m->b, h);
	if (m->b->len)
		km_buf_str(&both, m->b->text);
	km_put_buf(m->t, T_BAKE, m->b);
	km_put_item(m->t, T_LINES, &both);
	if (h->bake == KM_JOB_BAKE_HOURS)
		km_put_int(m->t, T_BAKE_H, h->hours);
}

static void put_lists(struct maker *m, const struct km_job_tool *x)
{
	const struct km_tool_more *more = x->match->tool ? x->match->tool->more
							 : NULL;

	km_put_list(m->t, T_OPENINGS);
	for (uint32_t i = 0; i < x->n_openings; i++) {
		km_words_opening(m->b, &x->openings[i]);
		put_both(m, T_OPENINGS, "");
	}
	km_put_list(m->t, T_PHOTOS);
	for (uint32_t i = 0; more && i < more->n_photos; i++) {
		km_buf_str(m->b, more->photos[i]);
		km_put_item(m->t, T_PHOTOS, m->b);
	}
}

static void put_tool(struct maker *m, const struct km_job_tool *x)
{
	km_table_row(m->t);
	km_put_text(m->t, T_KIT, x->kit->kit->id);
	km_put_text(m->t, T_SLOT, x->slot->slot->id);
	km_put_text(m->t, T_TOOL, km_match_id(x->match));
	put_ref(m, T_REF, x->slot->slot, x->kit);
	km_put_int(m->t, T_BOUGHT, !x->match->tool);
	km_words_of_traits(m->b, km_match_traits(x->match));
	if (!m->b->len)
		km_words_of_slot(m->b, x->slot->slot, true);
	put_both(m, T_WHAT, x->match->tool ? "" : "to be bought: ");
	put_becomes(m, x);
	if (x->route->leaves)
		km_buf_str(m->b, x->route->leaves);
	put_both(m, T_STAYS, "what stays: ");
	put_hardness(m, x);
	put_lists(m, x);
	put_three(m->t, T_MIN_LOW, x->route->hands_min);
	put_three(m->t, T_H_LOW, x->elapsed);
	km_buf_str(m->b, "own time ");
	km_words_minutes(m->b, x->route->hands_min);
	km_buf_str(m->b, ", done in ");
	km_words_times(m->b, x->elapsed);
	km_put_item(m->t, T_LINES, m->b);
}

static void put_tools(struct maker *m)
{
	m->t = km_page_table(m->p, "tools", tool_columns, T_COLUMNS);
	if (!m->t)
		return;
	if (!m->jobs->n_tools)
		m->t->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < m->jobs->n_tools; i++)
		put_tool(m, &m->jobs->tools[i]);
	if (!m->jobs->n_tools)
		return;
	km_buf_printf(m->b, "%" PRIu32 " piece%s, own time ", m->jobs->n_tools,
		      m->jobs->n_tools == 1 ? "" : "s");
	km_words_minutes(m->b, m->jobs->hands_min);
	km_put_section(m->t, m->b);
}

/* ------------------------------------------------------------------ */
/* Kept as found                                                       */

enum { K_KIT, K_SLOT, K_TOOL, K_REF, K_CAME_WITH, K_STEPS, K_LEAVES, K_LINES,
       K_COLUMNS };

static const struct km_column kept_columns[K_COLUMNS] = {
	[K_KIT] = { "kit", NULL, KM_COL_ID, false },
	[K_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[K_TOOL] = { "tool", "tool", KM_COL_ID, false },
	[K_REF] = { NULL, "slot", KM_COL_ID, false },
	[K_CAME_WITH] = { "came_with_machine", NULL, KM_COL_FLAG, false },
	[K_STEPS] = { "restoring_would_be", NULL, KM_COL_LIST, false },
	[K_LEAVES] = { "stays", NULL, KM_COL_TEXT, false },
	[K_LINES] = { NULL, "kept as found", KM_COL_LIST, false },
};

static void put_kept(struct maker *m, const struct km_job_kept *x)
{
	struct km_buf said;

	km_table_row(m->t);
	km_put_text(m->t, K_KIT, x->kit->kit->id);
	km_put_text(m->t, K_SLOT, x->slot->slot->id);
	km_put_text(m->t, K_TOOL, km_match_id(x->match));
	put_ref(m, K_REF, x->slot->slot, x->kit);
	km_put_int(m->t, K_CAME_WITH, x->match->came_with);
	km_put_text(m->t, K_LEAVES, x->route->leaves);
	km_buf_printf(m->b, "recommended: no work; clean and oil%s",
		      x->match->came_with ? " (it came with the machine)" : "");
	km_put_item(m->t, K_LINES, m->b);
	km_buf_init(&said, m->p->mem);
	for (uint32_t i = 0; i < x->route->n_steps; i++) {
		km_buf_printf(&said, "%s%s", i ? ", then " :
			      "warning: restoring it may take away for good "
			      "what is original; it would be ", x->route->steps[i]->name);
		km_buf_str(m->b, x->route->steps[i]->name);
		km_put_item(m->t, K_STEPS, m->b);
	}
	km_put_item(m->t, K_LINES, &said);
}

static void put_all_kept(struct maker *m)
{
	m->t = km_page_table(m->p, "kept_as_found", kept_columns, K_COLUMNS);
	if (!m->t)
		return;
	if (!m->jobs->n_kept)
		m->t->show = KM_SHOW_DATA;
	for (uint32_t i = 0; i < m->jobs->n_kept; i++)
		put_kept(m, &m->jobs->kept[i]);
}

void km_make_jobs(struct km_page *p)
{
	struct maker m = { .p = p, .jobs = p->audit->jobs, .b = &p->line };
	static const struct km_jobs none;
	uint64_t regulated = 0;

	if (!m.jobs)
		m.jobs = &none;
	put_all_barred(&m, KM_SHOW_TEXT);
	put_jobs(&m);
	put_tools(&m);
	put_all_kept(&m);
	put_all_barred(&m, KM_SHOW_DATA);
	put_job_data(&m);
	for (uint32_t i = 0; i < m.jobs->n_jobs; i++)
		if (km_process_is_regulated(m.jobs->jobs[i].process))
			regulated |= KM_BIT(m.jobs->jobs[i].process->id);
	km_page_cautions(p, m.jobs->cautions, regulated);
}
