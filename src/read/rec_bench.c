/* SPDX-License-Identifier: MIT */
/* The bench: tools.  Their condition is in rec_condition.c. */
#include <string.h>

#include "read/attr.h"
#include "read/measure.h"
#include "read/rec.h"

static const char *const status_words[] = {
	"here", "lent", "ordered", "at-plater", "in-kit", "received", NULL
};

static const struct km_field history_fields[] = {
	{ .key = "process", .type = KM_T_TEXT, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_history, process, const char *),
	  .example = "soak_citric", .doc = "What was done." },
	{ .key = "dated", .type = KM_T_DATE,
	  .at = KM_AT(struct km_history, dated, struct km_date),
	  .example = "2026-02-14", .doc = "When." },
	{ .key = "by", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_history, by, const char *),
	  .example = "own hands", .doc = "By whom." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_history = {
	.no = KM_REC_HISTORY, .name = "piece of work done",
	.size = sizeof(struct km_history), .fields = history_fields,
	.doc = "Work that a tool has had.",
};

/* A tool while it is read: what is kept of it, and what is not. */
struct tool {
	struct km_tool kept;
	struct km_tool_more *more;
	int32_t count;
};

static void *tool_more(struct km_bind *b, void *rec)
{
	struct tool *t = rec;

	if (t->more)
		return t->more;
	t->more = km_bind_alloc(b, 1, sizeof *t->more);
	if (!t->more)
		return NULL;
	t->more->paid.minor = t->more->value.minor = -1;
	t->more->weight_mg = -1;
	t->kept.more = t->more;
	return t->more;
}

static void own_pin(struct km_bind *b, const struct km_field *f, void *rec,
		    const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_SLOT_REF };
	struct km_tool_more *more = rec;

	if (km_read_value(b, &row, &more->pin_kit, &more->pin_slot, n))
		more->pin_at = km_bind_at(b, n);
}

static void own_extra(struct km_bind *b, const struct km_field *f, void *rec,
		      const struct km_node *n)
{
	struct km_tool_more *more = rec;
	struct km_field row = { .key = f->key, .type = KM_T_NOTE };
	const struct km_node *key;
	struct km_pair *v;
	uint32_t i = 0;

	if (!km_want_map(b, n, f->key) || !n->n)
		return;
	v = km_bind_alloc(b, n->n, sizeof *v);
	for (key = n->first; v && key; key = key->next->next) {
		if (key->next->type == KM_NODE_SCALAR && !key->next->n)
			continue;
		v[i].key = km_words_text(b->words, key->text, key->n);
		if (!v[i].key)
			b->nomem = true;
		if (km_read_value(b, &row, &v[i].value, NULL, key->next))
			i++;
	}
	more->extra = v;
	more->n_extra = v ? i : 0;
}

#define APART(key_, type_, member, t, example_, doc_)                          \
	{ .key = key_, .type = type_, .flags = KM_APART,                       \
	  .at = KM_AT(struct km_tool_more, member, t),                         \
	  .example = example_, .doc = doc_ }

static const struct km_field tool_fields[] = {
	{ .key = "id", .flags = KM_STARTER, .type = KM_T_ID,
	  .at = KM_AT(struct tool, kept.id, const char *),
	  .example = "T-014",
	  .doc = "The number on its tag; made from file and line if absent." },
	{ .key = "count", .type = KM_T_INT, .min = 1, .max = 2000000,
	  .at = KM_AT(struct tool, count, int32_t), .example = "3",
	  .doc = "So many tools alike: id.1, id.2 and so on." },
	{ .key = "condition", .flags = KM_STARTER, .type = KM_T_OWN,
	  .form = KM_FORM_RECORD, .own = km_own_condition,
	  .rec = &km_rec_condition, .shape = "a condition",
	  .at = KM_AT(struct tool, kept.condition,
		      const struct km_condition *),
	  .example = "{rust: 2, pits: few}", .doc = "What it is like." },
	{ .key = "owner", .type = KM_T_TEXT,
	  .at = KM_AT(struct tool, kept.owner, const char *),
	  .example = "own",
	  .doc = "Whose it is; a kit uses tools of its owner and 'own'." },
	{ .key = "place", .flags = KM_STARTER, .type = KM_T_TEXT,
	  .at = KM_AT(struct tool, kept.location, const char *),
	  .example = "drawer 2", .doc = "Where it lies." },
	{ .key = "status", .type = KM_T_CHOICE, .choices = status_words,
	  .at = KM_AT(struct tool, kept.status, enum km_tool_status),
	  .example = "lent", .doc = "Whether it is at hand." },
	{ .key = "pin", .type = KM_T_OWN, .form = KM_FORM_SLOT,
	  .flags = KM_APART, .own = own_pin,
	  .shape = "kit/slot", .example = "larkmoor-54-first/S-01",
	  .doc = "The slot that it was chosen for by hand." },
	APART("came_with", KM_T_TEXT, came_with, const char *, "serial 4417",
	      "The machine that it came with."),
	APART("lent_to", KM_T_TEXT, lent_to, const char *, "a neighbour",
	      "Who has it."),
	APART("since", KM_T_DATE, since, struct km_date, "2026-03-03",
	      "Since when it has its status."),
	APART("due", KM_T_DATE, due, struct km_date, "2026-04-16",
	      "When it should be here."),
	APART("return_by", KM_T_DATE, return_by, struct km_date, "2026-05-01",
	      "Until when it can be sent back."),
	{ .key = "bought_for", .type = KM_T_SLOT_REF, .flags = KM_APART,
	  .at = KM_AT(struct km_tool_more, bought_for_kit, const char *),
	  .at2 = KM_AT(struct km_tool_more, bought_for_slot, const char *),
	  .example = "larkmoor-54-first/S-01",
	  .doc = "The slot that it was ordered for." },
	APART("paid", KM_T_MONEY, paid.minor, int64_t, "4.50",
	      "What was paid for it."),
	APART("value", KM_T_MONEY, value.minor, int64_t, "15.00",
	      "What it would cost to replace."),
	APART("value_dated", KM_T_DATE, value_dated, struct km_date,
	      "2026-01-31", "When it was valued."),
	APART("weight", KM_T_WEIGHT, weight_mg, int64_t, "120 g",
	      "What it weighs."),
	APART("hardness", KM_T_TEXT, hardness, const char *, "unknown",
	      "How hard it is, for the plater."),
	{ .key = "photos", .was = "photo", .type = KM_T_TEXTS,
	  .flags = KM_APART | KM_LIST_OR_ONE,
	  .at = KM_AT(struct km_tool_more, photos, const char *const *),
	  .at2 = KM_AT(struct km_tool_more, n_photos, uint32_t),
	  .example = "[p-014a.jpg, p-014b.jpg]", .doc = "Pictures of it." },
	{ .key = "history", .type = KM_T_LIST, .flags = KM_APART,
	  .rec = &km_rec_history,
	  .at = KM_AT(struct km_tool_more, history, const struct km_history *),
	  .at2 = KM_AT(struct km_tool_more, n_history, uint32_t),
	  .example = "[{process: soak_citric, dated: 2026-02-14}]",
	  .doc = "Work that it has had." },
	APART("note", KM_T_NOTE, note, const char *, "from the barn",
	      "Anything else."),
	{ .key = "extra", .type = KM_T_OWN, .form = KM_FORM_TEXT_MAP,
	  .flags = KM_APART,
	  .own = own_extra, .shape = "a map of texts",
	  .example = "{bin: A7}", .doc = "Columns of a list of your own." },
	{ .type = KM_T_END }
};

static void tool_traits(struct km_bind *b, void *rec,
			const struct km_attr_nodes *nodes)
{
	km_traits_read(b, nodes, &((struct tool *)rec)->kept.traits);
}

static void check_tool(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_diag *one;

	(void)rec;
	if (km_bind_saw(b, &km_rec_tool, "tool"))
		return;
	one = KM_SAY(b, n, NO_KIND, "tool");
	KM_HINT(b, one, "write 'tool: ring spanner' or what else it is; "
		"'tool: unknown' if that is not known");
}

const struct km_record km_rec_tool = {
	.no = KM_REC_TOOL, .name = "tool", .size = sizeof(struct tool),
	.fields = tool_fields, .attrs = true, .traits = tool_traits,
	.part = tool_more,
	.check = check_tool,
	.doc = "One loose tool, or several alike.",
};

bool km_tool_read(struct km_bind *b, const struct km_node *n,
		  struct km_tool *t, int32_t *count)
{
	struct tool one;

	if (!km_want_map(b, n, "bench"))
		return false;
	memset(&one, 0, sizeof one);
	one.count = 1;
	km_bind_record(b, &km_rec_tool, &one, n);
	one.kept.at = km_bind_at(b, n);
	*t = one.kept;
	*count = one.count;
	return true;
}
