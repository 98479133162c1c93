/* SPDX-License-Identifier: MIT */
/*
 * The readings of machines as data: a row for each kit that one may have left
 * with, and a row for each slot of these.
 */
#include "report/page.h"
#include "report/words.h"

enum { KIT, READING, NAME, FIRM, ON_PAPER, TODAY, AFTER_WORK_TOO, DOUBTFUL,
       MEETS, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[READING] = { "reading", NULL, KM_COL_ID, false },
	[NAME] = { "name", NULL, KM_COL_TEXT, false },
	[FIRM] = { "firm", NULL, KM_COL_COUNT, false },
	[ON_PAPER] = { "on_paper", NULL, KM_COL_COUNT, false },
	[TODAY] = { "today", NULL, KM_COL_COUNT, false },
	[AFTER_WORK_TOO] = { "after_work", NULL, KM_COL_COUNT, false },
	[DOUBTFUL] = { "doubtful", NULL, KM_COL_COUNT, false },
	[MEETS] = { "meets", NULL, KM_COL_FLAG, false },
};

enum { S_KIT, S_SLOT, S_READING, S_READING_SLOT, S_DEPENDS, S_WANTED,
       S_VERDICT, S_TOOLS, S_COLUMNS };

static const struct km_column slot_columns[S_COLUMNS] = {
	[S_KIT] = { "kit", NULL, KM_COL_ID, false },
	[S_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[S_READING] = { "reading", NULL, KM_COL_ID, false },
	[S_READING_SLOT] = { "reading_slot", NULL, KM_COL_ID, false },
	[S_DEPENDS] = { "depends", NULL, KM_COL_FLAG, false },
	[S_WANTED] = { "wanted", NULL, KM_COL_TEXT, false },
	[S_VERDICT] = { "verdict", NULL, KM_COL_WORD, false },
	[S_TOOLS] = { "tools", NULL, KM_COL_LIST, false },
};

static void reading_row(struct km_table *t, const struct km_kit_audit *k,
			const struct km_kit_reading *r)
{
	km_table_row(t);
	km_put_text(t, KIT, k->kit->id);
	km_put_text(t, READING, r->kit->id);
	km_put_text(t, NAME, km_reading_name(k, r));
	km_put_int(t, FIRM, r->counts.firm);
	km_put_int(t, ON_PAPER, r->counts.on_paper);
	km_put_int(t, TODAY, r->counts.today);
	km_put_int(t, AFTER_WORK_TOO, r->counts.after_work);
	km_put_int(t, DOUBTFUL, r->counts.doubtful);
	km_put_int(t, MEETS, r->meets);
}

static void slot_row(struct km_page *p, struct km_table *t,
		     const struct km_kit_audit *k,
		     const struct km_kit_reading *r, uint32_t i)
{
	const struct km_slot_audit *s = &r->slots[i];
	uint32_t same = r->same_as[i];

	km_table_row(t);
	km_put_text(t, S_KIT, k->kit->id);
	km_put_text(t, S_SLOT, same == UINT32_MAX ? NULL
						  : k->kit->slots[same].id);
	km_put_text(t, S_READING, r->kit->id);
	km_put_text(t, S_READING_SLOT, s->slot->id);
	km_put_int(t, S_DEPENDS, s->depends);
	km_words_of_want(&p->line, s->slot, false);
	km_put_buf(t, S_WANTED, &p->line);
	if (s->slot->unused)
		return;
	km_put_word(t, S_VERDICT, km_verdict_word(s->verdict), KM_TONE_NONE);
	km_put_list(t, S_TOOLS);
	for (int32_t n = 0; n < s->slot->count; n++) {
		if (!s->pieces[n].match)
			continue;
		km_buf_str(&p->line, km_match_id(s->pieces[n].match));
		km_put_item(t, S_TOOLS, &p->line);
	}
}

void km_make_readings(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct km_table *t = km_page_table(p, "readings", columns, COLUMNS);

	if (!t)
		return;
	t->show = KM_SHOW_DATA;
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].n_readings; i++)
			reading_row(t, &a->kits[k], &a->kits[k].readings[i]);
}

void km_make_reading_slots(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct km_table *t = km_page_table(p, "reading_slots", slot_columns,
					   S_COLUMNS);

	if (!t)
		return;
	t->show = KM_SHOW_DATA;
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].n_readings; i++) {
			const struct km_kit_reading *r =
				&a->kits[k].readings[i];

			for (uint32_t n = 0; n < r->kit->n_slots; n++)
				slot_row(p, t, &a->kits[k], r, n);
		}
}
