/* SPDX-License-Identifier: MIT */
/*
 * The summary as data: one row a kit, and the remarks of all of them.
 */
#include "report/page.h"
#include "report/words.h"
#include "unit/serial.h"

enum {
	KIT, TITLE, REVISION, SERIAL, OUTSIDE_BY, CHOSEN_BY, ELSEWHERE,
	UNDECIDED, QUESTION, STANDARD, MEETS,
	FIRM, ON_PAPER, TODAY, AFTER_WORK_TOO, LENT, ON_ORDER,
	DOUBTFUL, DOUBTFUL_ON_PAPER, DURABLE, DURABLE_ON_PAPER,
	CONSUMABLES, CONSUMABLES_THERE,
	V_RIGHT, V_AFTER_WORK, V_SUBSTITUTE, V_UNVERIFIED, V_SHORT, V_EXPECTED,
	V_GAP, CONDITION_UNRECORDED,
	L_CERTAIN, L_PROBABLE, L_POSSIBLE, L_DISPUTED, L_CONJECTURE, L_UNKNOWN,
	RESTORE, WORK, RESTORE_LOW, RESTORE_LIKELY, RESTORE_HIGH,
	BUY, BUY_LOW, BUY_LIKELY, BUY_HIGH,
	POSTAGE_LOW, POSTAGE_LIKELY, POSTAGE_HIGH,
	TOP_UP_LOW, TOP_UP, TOP_UP_HIGH,
	TOTAL_LOW, TOTAL_LIKELY, TOTAL_HIGH, UNPRICED,
	OWN_LOW, OWN_LIKELY, OWN_HIGH,
	OWN_MONEY_LOW, OWN_MONEY, OWN_MONEY_HIGH,
	TOOLS, GIVEN, NOT_OURS, AWAY, SURPLUS, PRICES_OLD,
	RUBRIC_TOTAL, RUBRIC_LOST, RUBRIC_AFTER_PLAN, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", NULL, KM_COL_ID, false },
	[TITLE] = { "title", NULL, KM_COL_TEXT, false },
	[REVISION] = { "revision", NULL, KM_COL_COUNT, false },
	[SERIAL] = { "serial", NULL, KM_COL_ID, false },
	[OUTSIDE_BY] = { "serial_outside_by", NULL, KM_COL_COUNT, false },
	[CHOSEN_BY] = { "chosen_by", NULL, KM_COL_WORD, false },
	[ELSEWHERE] = { "points_elsewhere", NULL, KM_COL_LIST, false },
	[UNDECIDED] = { "undecided", NULL, KM_COL_WORD, false },
	[QUESTION] = { "question", NULL, KM_COL_TEXT, false },
	[STANDARD] = { "standard", NULL, KM_COL_WORD, false },
	[MEETS] = { "meets", NULL, KM_COL_FLAG, false },
	[FIRM] = { "firm", NULL, KM_COL_COUNT, false },
	[ON_PAPER] = { "on_paper", NULL, KM_COL_COUNT, false },
	[TODAY] = { "today", NULL, KM_COL_COUNT, false },
	[AFTER_WORK_TOO] = { "after_work", NULL, KM_COL_COUNT, false },
	[LENT] = { "lent", NULL, KM_COL_COUNT, false },
	[ON_ORDER] = { "expected", NULL, KM_COL_COUNT, false },
	[DOUBTFUL] = { "doubtful", NULL, KM_COL_COUNT, false },
	[DOUBTFUL_ON_PAPER] = { "doubtful_on_paper", NULL, KM_COL_COUNT,
				false },
	[DURABLE] = { "durable", NULL, KM_COL_COUNT, false },
	[DURABLE_ON_PAPER] = { "durable_on_paper", NULL, KM_COL_COUNT, false },
	[CONSUMABLES] = { "consumables", NULL, KM_COL_COUNT, false },
	[CONSUMABLES_THERE] = { "consumables_there", NULL, KM_COL_COUNT,
				false },
	[V_RIGHT] = { "slots_right", NULL, KM_COL_COUNT, false },
	[V_AFTER_WORK] = { "slots_after_work", NULL, KM_COL_COUNT, false },
	[V_SUBSTITUTE] = { "slots_substitute", NULL, KM_COL_COUNT, false },
	[V_UNVERIFIED] = { "slots_unverified", NULL, KM_COL_COUNT, false },
	[V_SHORT] = { "slots_short", NULL, KM_COL_COUNT, false },
	[V_EXPECTED] = { "slots_expected", NULL, KM_COL_COUNT, false },
	[V_GAP] = { "slots_gap", NULL, KM_COL_COUNT, false },
	[CONDITION_UNRECORDED] = { "condition_unrecorded", NULL, KM_COL_COUNT,
				   false },
	[L_CERTAIN] = { "list_certain", NULL, KM_COL_COUNT, false },
	[L_PROBABLE] = { "list_probable", NULL, KM_COL_COUNT, false },
	[L_POSSIBLE] = { "list_possible", NULL, KM_COL_COUNT, false },
	[L_DISPUTED] = { "list_disputed", NULL, KM_COL_COUNT, false },
	[L_CONJECTURE] = { "list_conjecture", NULL, KM_COL_COUNT, false },
	[L_UNKNOWN] = { "list_unknown", NULL, KM_COL_COUNT, false },
	[RESTORE] = { "restore", NULL, KM_COL_COUNT, false },
	[WORK] = { "worked_on", NULL, KM_COL_COUNT, false },
	[RESTORE_LOW] = { "restore_low", NULL, KM_COL_MONEY, false },
	[RESTORE_LIKELY] = { "restore_likely", NULL, KM_COL_MONEY, false },
	[RESTORE_HIGH] = { "restore_high", NULL, KM_COL_MONEY, false },
	[BUY] = { "buy", NULL, KM_COL_COUNT, false },
	[BUY_LOW] = { "buy_low", NULL, KM_COL_MONEY, false },
	[BUY_LIKELY] = { "buy_likely", NULL, KM_COL_MONEY, false },
	[BUY_HIGH] = { "buy_high", NULL, KM_COL_MONEY, false },
	[POSTAGE_LOW] = { "postage_low", NULL, KM_COL_MONEY, false },
	[POSTAGE_LIKELY] = { "postage_likely", NULL, KM_COL_MONEY, false },
	[POSTAGE_HIGH] = { "postage_high", NULL, KM_COL_MONEY, false },
	[TOP_UP_LOW] = { "top_up_low", NULL, KM_COL_MONEY, false },
	[TOP_UP] = { "top_up_likely", NULL, KM_COL_MONEY, false },
	[TOP_UP_HIGH] = { "top_up_high", NULL, KM_COL_MONEY, false },
	[TOTAL_LOW] = { "total_low", NULL, KM_COL_MONEY, false },
	[TOTAL_LIKELY] = { "total_likely", NULL, KM_COL_MONEY, false },
	[TOTAL_HIGH] = { "total_high", NULL, KM_COL_MONEY, false },
	[UNPRICED] = { "unpriced", NULL, KM_COL_COUNT, false },
	[OWN_LOW] = { "own_minutes_low", NULL, KM_COL_COUNT, false },
	[OWN_LIKELY] = { "own_minutes_likely", NULL, KM_COL_COUNT, false },
	[OWN_HIGH] = { "own_minutes_high", NULL, KM_COL_COUNT, false },
	[OWN_MONEY_LOW] = { "own_time_low", NULL, KM_COL_MONEY, false },
	[OWN_MONEY] = { "own_time_likely", NULL, KM_COL_MONEY, false },
	[OWN_MONEY_HIGH] = { "own_time_high", NULL, KM_COL_MONEY, false },
	[TOOLS] = { "bench_tools", NULL, KM_COL_COUNT, false },
	[GIVEN] = { "bench_given", NULL, KM_COL_COUNT, false },
	[NOT_OURS] = { "bench_not_ours", NULL, KM_COL_COUNT, false },
	[AWAY] = { "bench_away", NULL, KM_COL_COUNT, false },
	[SURPLUS] = { "bench_surplus", NULL, KM_COL_COUNT, false },
	[PRICES_OLD] = { "prices_old", NULL, KM_COL_COUNT, false },
	[RUBRIC_TOTAL] = { "rubric_total", NULL, KM_COL_HUNDREDTHS, false },
	[RUBRIC_LOST] = { "rubric_lost", NULL, KM_COL_HUNDREDTHS, false },
	[RUBRIC_AFTER_PLAN] = { "rubric_lost_after_plan", NULL,
				KM_COL_HUNDREDTHS, false },
};

static void put_counts(struct km_table *t, const struct km_counts *c)
{
	km_put_int(t, FIRM, c->firm);
	km_put_int(t, ON_PAPER, c->on_paper);
	km_put_int(t, TODAY, c->today);
	km_put_int(t, AFTER_WORK_TOO, c->after_work);
	km_put_int(t, LENT, c->lent);
	km_put_int(t, ON_ORDER, c->expected);
	km_put_int(t, DOUBTFUL, c->doubtful);
	km_put_int(t, DOUBTFUL_ON_PAPER, c->doubtful_on_paper);
	km_put_int(t, DURABLE, c->durable);
	km_put_int(t, DURABLE_ON_PAPER, c->durable_on_paper);
	km_put_int(t, CONSUMABLES, c->consumables);
	km_put_int(t, CONSUMABLES_THERE, c->consumables_there);
	km_put_int(t, V_RIGHT, c->verdict[KM_RIGHT]);
	km_put_int(t, V_AFTER_WORK, c->verdict[KM_AFTER_WORK]);
	km_put_int(t, V_SUBSTITUTE, c->verdict[KM_SUBSTITUTE]);
	km_put_int(t, V_UNVERIFIED, c->verdict[KM_UNVERIFIED]);
	km_put_int(t, V_SHORT, c->verdict[KM_SHORT]);
	km_put_int(t, V_EXPECTED, c->verdict[KM_EXPECTED]);
	km_put_int(t, V_GAP, c->verdict[KM_GAP]);
	km_put_int(t, CONDITION_UNRECORDED, c->condition_unrecorded);
	for (uint32_t i = 0; i <= KM_UNKNOWN; i++)
		km_put_int(t, L_CERTAIN + i, c->exists[i]);
}

static void put_money3(struct km_table *t, uint32_t first,
		       const struct km_money3 *m)
{
	km_put_int(t, first, m->low);
	km_put_int(t, first + 1, m->likely);
	km_put_int(t, first + 2, m->high);
}

static void put_costs(struct km_table *t, const struct km_kit_audit *k)
{
	km_put_int(t, RESTORE, k->n_restore);
	km_put_int(t, WORK, k->n_work);
	put_money3(t, RESTORE_LOW, &k->restore_total);
	km_put_int(t, BUY, k->n_buy);
	put_money3(t, BUY_LOW, &k->buy_total);
	put_money3(t, POSTAGE_LOW, &k->postage_total);
	put_money3(t, TOP_UP_LOW, &k->top_up_total);
	put_money3(t, TOTAL_LOW, &k->total);
	put_money3(t, OWN_MONEY_LOW, &k->own_total);
	km_put_int(t, UNPRICED, k->n_unpriced);
	for (uint32_t i = 0; i < 3; i++)
		km_put_int(t, OWN_LOW + i, k->own_min[i]);
}

static void put_bench(struct km_table *t, const struct km_audit *a)
{
	km_put_int(t, TOOLS, (int64_t)a->tools);
	if (a->fate) {
		km_put_int(t, GIVEN, (int64_t)a->given);
		km_put_int(t, NOT_OURS, (int64_t)a->not_ours);
		km_put_int(t, AWAY, (int64_t)a->away);
		km_put_int(t, SURPLUS, (int64_t)a->surplus);
	}
	if (a->options.want_money)
		km_put_int(t, PRICES_OLD, (int64_t)a->prices_old);
}

static void put_rubric(struct km_table *t, const struct km_rubric_audit *r,
		       bool plan)
{
	if (!r->given)
		return;
	if (r->total >= 0)
		km_put_int(t, RUBRIC_TOTAL, r->total);
	km_put_int(t, RUBRIC_LOST, r->lost);
	if (plan)
		km_put_int(t, RUBRIC_AFTER_PLAN, r->after_plan);
}

/* Which machine, and how it came by the kit. */
static void put_choice(struct km_page *p, struct km_table *t,
		       const struct km_kit_audit *k)
{
	km_buf_serial_of(&p->line, k->machine);
	km_put_buf(t, SERIAL, &p->line);
	if (k->serial_outside && k->outside_by)
		km_put_int(t, OUTSIDE_BY, k->outside_by);
	km_put_word(t, CHOSEN_BY, km_chosen_by_word(k->chosen_by),
		    KM_TONE_NONE);
	km_put_list(t, ELSEWHERE);
	for (uint32_t i = 0; i < k->n_elsewhere; i++) {
		km_words_elsewhere(&p->line, k, &k->elsewhere[i]);
		km_put_item(t, ELSEWHERE, &p->line);
	}
	if (!k->undecided)
		return;
	km_put_word(t, UNDECIDED, km_undecided_word(k->undecided),
		    KM_TONE_NONE);
	km_words_which(&p->line, k);
	km_put_buf(t, QUESTION, &p->line);
}

static void kit_row(struct km_page *p, struct km_table *t,
		    const struct km_kit_audit *k)
{
	km_table_row(t);
	km_put_text(t, KIT, k->kit->id);
	km_put_text(t, TITLE, k->kit->title);
	if (k->kit->revision >= 0)
		km_put_int(t, REVISION, k->kit->revision);
	if (k->machine)
		put_choice(p, t, k);
	km_put_word(t, STANDARD, km_standard_word(k->standard), KM_TONE_NONE);
	km_put_int(t, MEETS, k->meets);
	put_counts(t, &k->counts);
	if (p->audit->options.want_money)
		put_costs(t, k);
	put_bench(t, p->audit);
	put_rubric(t, &k->rubric, p->audit->plan != NULL);
}

enum { R_KIT, R_SLOT, R_WHAT, R_TOOL, R_OTHER_KIT, R_OTHER, R_ASPECT, R_SAYS,
       R_COLUMNS };

static const struct km_column remark_columns[R_COLUMNS] = {
	[R_KIT] = { "kit", NULL, KM_COL_ID, false },
	[R_SLOT] = { "slot", NULL, KM_COL_ID, false },
	[R_WHAT] = { "what", NULL, KM_COL_WORD, false },
	[R_TOOL] = { "tool", NULL, KM_COL_ID, false },
	[R_OTHER_KIT] = { "other_kit", NULL, KM_COL_ID, false },
	[R_OTHER] = { "other_slot", NULL, KM_COL_ID, false },
	[R_ASPECT] = { "aspect", NULL, KM_COL_WORD, false },
	[R_SAYS] = { "says", NULL, KM_COL_TEXT, false },
};

static void remark_row(struct km_page *p, struct km_table *t,
		       const struct km_kit_audit *k, const struct km_remark *r)
{
	km_table_row(t);
	km_put_text(t, R_KIT, k->kit->id);
	km_put_text(t, R_SLOT, r->slot ? r->slot->id : NULL);
	km_put_word(t, R_WHAT, km_remark_word(r->what), KM_TONE_NONE);
	km_put_text(t, R_TOOL, r->tool ? r->tool->id : NULL);
	if (r->other) {
		km_put_text(t, R_OTHER_KIT,
			    r->other->kit ? r->other->kit->id : NULL);
		km_put_text(t, R_OTHER, r->other->id);
	}
	if (r->aspect < KM_ASPECTS)
		km_put_word(t, R_ASPECT, km_aspect_word(r->aspect),
			    KM_TONE_NONE);
	km_words_remark(&p->line, r, k->kit, p->decimals);
	km_put_buf(t, R_SAYS, &p->line);
}

void km_make_summary(struct km_page *p)
{
	const struct km_audit *a = p->audit;
	struct km_table *kits = km_page_table(p, "kits", columns, COLUMNS);
	struct km_table *remarks = km_page_table(p, "remarks", remark_columns,
						 R_COLUMNS);

	if (!kits || !remarks)
		return;
	for (uint32_t i = 0; i < a->n_kits; i++) {
		kit_row(p, kits, &a->kits[i]);
		for (uint32_t k = 0; k < a->kits[i].n_remarks; k++)
			remark_row(p, remarks, &a->kits[i],
				   &a->kits[i].remarks[k]);
	}
	km_make_readings(p);
	km_make_plan_tables(p);
}
