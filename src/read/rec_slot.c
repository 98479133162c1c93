/* SPDX-License-Identifier: MIT */
/* Slots: a copy of every_slot, over which each slot writes its own. */
#include "read/rec_slot.h"

#include <string.h>

#include "read/attr.h"
#include "read/measure.h"
#include "read/rec.h"

struct exists {
	struct km_sources for_it, against_it, silent;
	enum km_certainty certainty;	/* + 1; 0: not stated */
};

static const struct km_field exists_fields[] = {
	{ .key = "for", .type = KM_T_REFS,
	  .at = KM_AT(struct exists, for_it.ids, const char *const *),
	  .at2 = KM_AT(struct exists, for_it.n, uint32_t),
	  .example = "[pl3]", .doc = "The sources that show it." },
	{ .key = "against", .type = KM_T_REFS,
	  .at = KM_AT(struct exists, against_it.ids, const char *const *),
	  .at2 = KM_AT(struct exists, against_it.n, uint32_t),
	  .example = "[rec1]",
	  .doc = "The sources that speak against it: a list that claims to be "
		 "complete and does not show it." },
	{ .key = "silent", .type = KM_T_REFS,
	  .at = KM_AT(struct exists, silent.ids, const char *const *),
	  .at2 = KM_AT(struct exists, silent.n, uint32_t),
	  .example = "[hb1]",
	  .doc = "The sources that do not show it and do not claim to be "
		 "complete." },
	{ .key = "certainty", .type = KM_T_CHOICE, .min = 1,
	  .choices = km_certainty_words,
	  .at = KM_AT(struct exists, certainty, enum km_certainty),
	  .example = "certain",
	  .doc = "How sure it is; as sure as its sources make it, if it does "
		 "not say." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_exists = {
	.no = KM_REC_EXISTS, .name = "statement that a slot exists",
	.size = sizeof(struct exists), .fields = exists_fields,
	.doc = "Whether the kit had this slot at all.",
};

/* A word of certainty, or the record.  What sources come to is not known
 * before all are read: until then, sources on both sides are a dispute. */
static void own_exists(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	struct km_slot *s = rec;
	struct exists e;
	int word;

	memset(&e, 0, sizeof e);
	if (n->type == KM_NODE_MAP) {
		km_bind_record(b, &km_rec_exists, &e, n);
	} else {
		word = km_read_choice(b, n, f->key, km_certainty_words);
		if (word < 0)
			return;
		e.certainty = (enum km_certainty)(word + 1);
	}
	s->for_it = e.for_it;
	s->against_it = e.against_it;
	s->silent = e.silent;
	s->exists_stated = e.certainty > 0;
	s->exists_at = km_bind_at(b, n);
	if (e.certainty > 0)
		s->exists = (enum km_certainty)(e.certainty - 1);
	else
		s->exists = e.against_it.n ? KM_DISPUTED : KM_CERTAIN;
}

/* Sources of the slot as a whole: for the reader, they settle nothing. */
static void own_sources(struct km_bind *b, const struct km_field *f, void *rec,
			const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_REFS };
	struct km_sources from;
	struct km_slot *s = rec;

	memset(&from, 0, sizeof from);
	if (km_read_value(b, &row, &from.ids, &from.n, n))
		s->sources = from;
}

static void own_durable(struct km_bind *b, const struct km_field *f, void *rec,
			const struct km_node *n)
{
	int v = km_read_bool(b, n, f->key);

	if (v >= 0)
		((struct km_slot *)rec)->durable = v > 0;
}

static const struct km_field slot_fields[] = {
	{ .key = "exists", .type = KM_T_OWN, .form = KM_FORM_WORD_OR_RECORD,
	  .choices = km_certainty_words, .flags = KM_FIRST,
	  .own = own_exists, .rec = &km_rec_exists,
	  .shape = "a word of certainty, or sources for and against",
	  .example = "{for: [pl3], certainty: probable}",
	  .doc = "Whether the kit had this slot; certain unless it says "
		 "otherwise." },
	{ .key = "sources", .type = KM_T_OWN, .form = KM_FORM_TEXTS,
	  .own = own_sources,
	  .shape = "a list of ids of sources", .example = "[pl3]",
	  .doc = "The sources that show the slot; how sure it is does not "
		 "follow from them." },
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED | KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, id, const char *),
	  .example = "S-01", .doc = "Names the slot within its kit." },
	{ .key = "title", .type = KM_T_NOTE, .flags = KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, title, const char *),
	  .example = "spanner for the pivot pin",
	  .doc = "What people call it." },
	{ .key = "count", .type = KM_T_INT, .min = 1, .max = 10000,
	  .at = KM_AT(struct km_slot, count, int32_t),
	  .example = "2", .doc = "How many pieces belong here." },
	{ .key = "pocket", .type = KM_T_INT, .flags = KM_SLOT_ONLY, .min = 1,
	  .max = 200, .at = KM_AT(struct km_slot, pocket, int32_t),
	  .example = "1", .doc = "The pocket of the pouch, from 1." },
	{ .key = "durable", .type = KM_T_OWN, .form = KM_FORM_YES,
	  .own = own_durable,
	  .shape = "yes or no", .example = "no",
	  .doc = "no: a consumable, counted apart." },
	{ .key = "unused", .type = KM_T_BOOL, .flags = KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, unused, bool), .example = "yes",
	  .doc = "yes: a pocket that is empty by design." },
	{ .key = "goes_with", .type = KM_T_REF, .flags = KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, goes_with, const char *),
	  .example = "S-04",
	  .doc = "The slot whose tool this one must work with." },
	{ .key = "points", .type = KM_T_CENTS, .flags = KM_MINUS, .max = 10000,
	  .at = KM_AT(struct km_slot, points, int32_t),
	  .example = "0.50", .doc = "Points lost while it is open." },
	{ .key = "most", .type = KM_T_MONEY,
	  .flags = KM_MINUS | KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, most.minor, int64_t),
	  .example = "15.00", .doc = "The most to pay." },
	{ .key = "note", .type = KM_T_NOTE, .flags = KM_SLOT_ONLY,
	  .at = KM_AT(struct km_slot, note, const char *),
	  .example = "flat bar, not round", .doc = "Anything else." },
	{ .type = KM_T_END }
};

static void slot_traits(struct km_bind *b, void *rec,
			const struct km_attr_nodes *nodes)
{
	km_wants_read(b, nodes, rec);
}

static void check_slot(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_slot *s = rec;
	struct km_diag *one;

	s->at = km_bind_at(b, n);
	if (b->partial || s->unused ||
	    s->want[KM_A_TOOL].state != KM_WANT_NOTHING)
		return;
	if (b->wrong_attrs & (uint32_t)1 << KM_A_TOOL)
		return;
	one = KM_SAY(b, n, MISSING_KEY, "slot", "tool");
	KM_HINT(b, one, "write 'tool: unknown' if it is not known, 'unused: "
		"yes' for a pocket that is empty by design");
}

const struct km_record km_rec_slot = {
	.no = KM_REC_SLOT, .name = "slot", .size = sizeof(struct km_slot),
	.fields = slot_fields, .attrs = true, .traits = slot_traits,
	.check = check_slot,
	.doc = "One place in the kit, with the tool that belongs there.",
};

static void fresh_slot(struct km_slot *s)
{
	memset(s, 0, sizeof *s);
	km_bind_defaults(&km_rec_slot, s);
	s->count = 1;
	s->durable = true;
}

void km_own_every_slot(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	struct km_slot *s = km_bind_alloc(b, 1, sizeof *s);

	(void)rec;
	if (!s || !km_want_map(b, n, f->key))
		return;
	fresh_slot(s);
	b->partial = true;
	km_bind_record(b, &km_rec_slot, s, n);
	b->partial = false;
	b->every_slot = s;
}

void km_own_slots(struct km_bind *b, const struct km_field *f, void *rec,
		  const struct km_node *n)
{
	struct km_kit *kit = rec;
	const struct km_node *item;
	struct km_slot *v;
	uint32_t i = 0;

	if (!km_want_list(b, n, f->key)) {
		b->slots_wrong = true;
		return;
	}
	if (!n->n)
		return;
	b->n_slots += n->n;
	if (b->n_slots > b->lim->slots) {
		KM_SAY(b, n, TOO_MANY_SLOTS, (unsigned)b->lim->slots);
		b->slots_wrong = true;
		return;
	}
	v = km_bind_alloc(b, n->n, sizeof *v);
	for (item = n->first; v && item; item = item->next, i++) {
		if (b->every_slot)
			v[i] = *b->every_slot;
		else
			fresh_slot(&v[i]);
		v[i].kit = kit;
		v[i].index = i;
		b->path[b->depth - 1].index = i;
		b->wrong_attrs = 0;
		km_bind_record(b, &km_rec_slot, &v[i], item);
	}
	b->path[b->depth - 1].index = -1;
	kit->slots = v;
	kit->n_slots = v ? i : 0;
}
