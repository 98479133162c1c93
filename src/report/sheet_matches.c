/* SPDX-License-Identifier: MIT */
/*
 * matches - the best candidates of each slot, axis by axis, and the one
 * reason why not.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

enum {
	KIT, SLOT, RANK, TOOL, VERDICT, TOTAL, DIMENSION, MARKING, CONDITION,
	FINISH, COLOUR, REASON, WEAK, GIVEN_KIT, GIVEN_SLOT, DETAIL, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, true },
	[RANK] = { "rank", NULL, KM_COL_COUNT, false },
	[TOOL] = { "tool", "tool", KM_COL_ID, false },
	[VERDICT] = { "verdict", "verdict", KM_COL_WORD, false },
	[TOTAL] = { "total", "total", KM_COL_THOUSANDTHS, false },
	[DIMENSION] = { "dimension", "size", KM_COL_THOUSANDTHS, false },
	[MARKING] = { "marking", "mark", KM_COL_THOUSANDTHS, false },
	[CONDITION] = { "condition", "state", KM_COL_THOUSANDTHS, false },
	[FINISH] = { "finish", "finish", KM_COL_THOUSANDTHS, false },
	[COLOUR] = { "colour", "colour", KM_COL_THOUSANDTHS, false },
	[REASON] = { "reason", NULL, KM_COL_TEXT, false },
	[WEAK] = { "weak_evidence", NULL, KM_COL_FLAG, false },
	[GIVEN_KIT] = { "given_kit", NULL, KM_COL_ID, false },
	[GIVEN_SLOT] = { "given_slot", NULL, KM_COL_ID, false },
	[DETAIL] = { NULL, "why not, where it is", KM_COL_LIST, false },
};

static void put_given(struct km_page *p, struct km_table *t,
		      const struct km_match *m)
{
	const struct km_slot *at = m->tool ? km_page_given(p, m->tool) : NULL;

	if (!at)
		return;
	km_put_text(t, GIVEN_KIT, at->kit ? at->kit->id : NULL);
	km_put_text(t, GIVEN_SLOT, at->id);
	km_buf_str(&p->line, at == m->slot ? "given here" : "given to ");
	if (at != m->slot)
		km_words_slot_ref(&p->line, at, m->slot->kit);
	km_put_item(t, DETAIL, &p->line);
}

/* The headline, and with --verbose everything that is not as wanted. */
static void put_reasons(struct km_page *p, struct km_table *t,
			const struct km_match *m)
{
	km_reason(&p->line, m);
	km_put_text(t, REASON, p->line.len ? p->line.text : NULL);
	km_put_item(t, DETAIL, &p->line);
	km_put_int(t, WEAK, km_reason_is_weak(m));
	for (int a = 0; p->o.verbose && a < KM_ASPECTS; a++) {
		if (a == (int)m->headline || m->on[a].letter == KM_PASSES)
			continue;
		km_reason_of(&p->line, m, (enum km_aspect)a);
		km_put_item(t, DETAIL, &p->line);
	}
}

static void one_match(struct km_page *p, struct km_table *t,
		      const struct km_match *m, uint32_t rank)
{
	km_table_row(t);
	km_put_text(t, KIT, m->slot->kit ? m->slot->kit->id : NULL);
	km_put_text(t, SLOT, m->slot->id);
	km_put_int(t, RANK, rank);
	km_put_text(t, TOOL, km_match_id(m));
	km_put_word(t, VERDICT, km_verdict_word(m->verdict),
		    km_verdict_tone(m->verdict));
	km_put_int(t, TOTAL, m->score);
	km_put_int(t, DIMENSION, m->dimension);
	km_put_int(t, MARKING, m->marking);
	km_put_int(t, CONDITION, m->condition);
	km_put_int(t, FINISH, m->finish);
	km_put_int(t, COLOUR, m->colour);
	put_reasons(p, t, m);
	put_given(p, t, m);
}

static void slot_section(struct km_page *p, struct km_table *t,
			 const struct km_slot_audit *s, bool several_kits)
{
	struct km_buf *b = &p->line;

	km_words_slot_ref(b, s->slot, several_kits ? NULL : s->slot->kit);
	km_buf_str(b, "  ");
	km_words_of_want(b, s->slot, false);
	km_buf_printf(b, ": %s", km_slot_verdict_word(s));
	if (!s->n_candidates)
		km_buf_str(b, ", no candidate");
	if (s->n_more)
		km_buf_printf(b, ", %" PRIu32 " more not shown", s->n_more);
	if (!km_buf_failed(b))
		km_table_section(t, b->text);
	km_buf_clear(b);
}

void km_make_matches(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct km_table *t = km_page_table(p, "matches", columns, COLUMNS);

	if (!t)
		return;
	for (uint32_t i = 0; i < a->n_kits; i++)
		for (uint32_t k = 0; k < a->kits[i].kit->n_slots; k++) {
			const struct km_slot_audit *s = &a->kits[i].slots[k];

			if (s->slot->unused)
				continue;
			slot_section(p, t, s, a->n_kits > 1);
			for (uint32_t n = 0; n < s->n_candidates; n++)
				one_match(p, t, s->candidates[n], n + 1);
		}
}
