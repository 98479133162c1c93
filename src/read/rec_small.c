/* SPDX-License-Identifier: MIT */
/* Rubric, machine, decisions; and the lists of all records. */
#include "read/rec.h"
#include "read/rec_serial.h"

#define POINTS(key_, member, example_, doc_)                                   \
	{ .key = key_, .type = KM_T_CENTS, .flags = KM_MINUS | KM_STARTER,     \
	  .max = 10000,                                                        \
	  .at = KM_AT(struct km_rubric, member, int32_t),                      \
	  .example = example_, .doc = doc_ }

static const struct km_field rubric_fields[] = {
	POINTS("total", total, "4.00", "The points that the kit is worth."),
	POINTS("missing", missing, "0.50", "Lost for a missing tool."),
	POINTS("incorrect", incorrect, "0.25", "Lost for a wrong tool."),
	POINTS("condition", condition, "0.10", "Lost for poor condition."),
	POINTS("extra", extra, "0.00", "Lost for a tool too many."),
	{ .type = KM_T_END }
};

static void check_rubric(struct km_bind *b, void *rec,
			 const struct km_node *n)
{
	((struct km_rubric *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_rubric = {
	.no = KM_REC_RUBRIC, .name = "rubric", .size = sizeof(struct km_rubric),
	.fields = rubric_fields, .check = check_rubric,
	.doc = "How a judge takes points off.",
};

static const struct km_field machine_fields[] = {
	{ .key = "title", .type = KM_T_NOTE, .flags = KM_STARTER,
	  .at = KM_AT(struct km_machine, title, const char *),
	  .example = "the red one", .doc = "What people call it." },
	{ .key = "serial", .type = KM_T_OWN, .form = KM_FORM_SERIAL,
	  .flags = KM_STARTER,
	  .own = km_own_serial, .shape = "a serial number",
	  .at = KM_AT(struct km_machine, serial_text, const char *),
	  .example = "4417",
	  .doc = "The serial number; with letters where the kits say their "
		 "form in serials." },
	{ .key = "built", .type = KM_T_PERIOD, .flags = KM_STARTER,
	  .at = KM_AT(struct km_machine, built, struct km_period),
	  .at2 = KM_AT(struct km_machine, built_text, const char *),
	  .example = "1954", .doc = "When it was built." },
	{ .key = "market", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_machine, market, const char *),
	  .example = "home", .doc = "The market that it was built for." },
	{ .key = "owner", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_machine, owner, const char *),
	  .example = "own", .doc = "Whose it is." },
	{ .key = "kit", .type = KM_T_REF,
	  .at = KM_AT(struct km_machine, kit_id, const char *),
	  .example = "larkmoor-54-first",
	  .doc = "The kit that it had; by serial or date if absent." },
	{ .type = KM_T_END }
};

static void check_machine(struct km_bind *b, void *rec,
			  const struct km_node *n)
{
	struct km_machine *m = rec;

	m->at = km_bind_at(b, n);
	if (!m->serial_text)
		m->serial = -1;
}

const struct km_record km_rec_machine = {
	.no = KM_REC_MACHINE, .name = "machine",
	.size = sizeof(struct km_machine), .fields = machine_fields,
	.check = check_machine,
	.doc = "The machine that the kit goes with.",
};

static void own_slot(struct km_bind *b, const struct km_field *f, void *rec,
		     const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_SLOT_REF };
	struct km_decision *d = rec;

	d->slot_at = km_bind_at(b, n);
	km_read_value(b, &row, &d->kit_id, &d->slot_id, n);
}

static void own_way(struct km_bind *b, const struct km_field *f, void *rec,
		    const struct km_node *n)
{
	struct km_decision *d = rec;

	d->way_at = km_bind_at(b, n);
	d->way = km_read_id(b, n, f->key);
}

static const struct km_field decision_fields[] = {
	{ .key = "slot", .type = KM_T_OWN, .form = KM_FORM_SLOT,
	  .flags = KM_REQUIRED,
	  .own = own_slot, .shape = "kit/slot",
	  .example = "larkmoor-54-first/S-07", .doc = "The slot." },
	{ .key = "way", .type = KM_T_OWN, .flags = KM_REQUIRED,
	  .own = own_way, .shape = "an id, or open",
	  .example = "o1",
	  .doc = "The tool, offer or job lot that fills it, or open." },
	{ .key = "dated", .type = KM_T_DATE,
	  .at = KM_AT(struct km_decision, dated, struct km_date),
	  .example = "2026-03-03", .doc = "When it was decided." },
	{ .key = "why", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_decision, why, const char *),
	  .example = "agreed with the owner", .doc = "Why." },
	{ .type = KM_T_END }
};

static void check_decision(struct km_bind *b, void *rec,
			   const struct km_node *n)
{
	((struct km_decision *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_decision = {
	.no = KM_REC_DECISION, .name = "decision",
	.size = sizeof(struct km_decision), .fields = decision_fields,
	.check = check_decision, .doc = "A choice that stands.",
};

const struct km_top km_tops[] = {
	{ "machine", &km_rec_machine, false,
	  "The machine that the kit goes with." },
	{ "kit", &km_rec_kit, false, "What left the factory with it." },
	{ "bench", &km_rec_tool, true, "The loose tools on hand." },
	{ "prices", &km_rec_prices, false, "What can be bought." },
	{ "workshop", &km_rec_workshop, false, "What work costs." },
	{ "rubric", &km_rec_rubric, false, "How points are taken off." },
	{ "decisions", &km_rec_decision, true, "Choices that stand." },
	{ NULL, NULL, false, NULL }
};

const struct km_record *const km_records[KM_RECORDS] = {
	[KM_REC_KIT] = &km_rec_kit,
	[KM_REC_SERIALS] = &km_rec_serials,
	[KM_REC_SERIAL_END] = &km_rec_serial_end,
	[KM_REC_KIT_LIMITS] = &km_rec_kit_limits,
	[KM_REC_SOURCE] = &km_rec_source,
	[KM_REC_POUCH] = &km_rec_pouch,
	[KM_REC_SLOT] = &km_rec_slot,
	[KM_REC_EXISTS] = &km_rec_exists,
	[KM_REC_CLAIM] = &km_rec_claim,
	[KM_REC_TOOL] = &km_rec_tool,
	[KM_REC_CONDITION] = &km_rec_condition,
	[KM_REC_DAMAGE] = &km_rec_damage,
	[KM_REC_HISTORY] = &km_rec_history,
	[KM_REC_PRICES] = &km_rec_prices,
	[KM_REC_SELLER] = &km_rec_seller,
	[KM_REC_OFFER] = &km_rec_offer,
	[KM_REC_JOB_LOT] = &km_rec_job_lot,
	[KM_REC_SUPERSESSION] = &km_rec_supersession,
	[KM_REC_MONEY3] = &km_rec_money3,
	[KM_REC_WORKSHOP] = &km_rec_workshop,
	[KM_REC_TERMS] = &km_rec_terms,
	[KM_REC_OPEN_LOT] = &km_rec_open_lot,
	[KM_REC_RUBRIC] = &km_rec_rubric,
	[KM_REC_MACHINE] = &km_rec_machine,
	[KM_REC_DECISION] = &km_rec_decision,
	[KM_REC_FINISH] = &km_rec_finish,
};
