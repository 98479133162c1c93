/* SPDX-License-Identifier: MIT */
/* The condition of a tool or an offer: what can be noted in a minute, every
 * part of it optional.  Equal conditions are kept once. */
#include <string.h>

#include "read/measure.h"
#include "read/rec.h"

static const char *const pits_words[] = { "none", "few", "general", NULL };
static const char *const handle_words[] = {
	"ok", "scuffed", "faded", "wrong-colour", "split", "loose", "sticky",
	"missing", NULL
};
static const char *const marking_words[] = {
	"crisp", "legible", "faint", "gone", NULL
};
static const char *const damage_words[] = {
	"spread", "cracked", "bent-soft", "bent-hard", "rounded",
	"mushroomed", "chipped-small", "chipped-large", "missing", "ground",
	NULL
};

static const struct km_field damage_fields[] = {
	{ .key = "what", .type = KM_T_CHOICE, .flags = KM_REQUIRED,
	  .choices = damage_words,
	  .at = KM_AT(struct km_damage, what, enum km_damage_what),
	  .example = "spread", .doc = "What is wrong." },
	{ .key = "end", .type = KM_T_INT, .min = 1, .max = 16,
	  .at = KM_AT(struct km_damage, end, int32_t), .example = "2",
	  .doc = "At which end, in the order of the sizes." },
	{ .key = "by", .type = KM_T_LENGTH, .flags = KM_MINUS,
	  .at = KM_AT(struct km_damage, by_nm, int64_t),
	  .example = "0.35 mm", .doc = "By how much." },
	{ .key = "where", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_damage, where, const char *),
	  .example = "tip", .doc = "Where." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_damage = {
	.no = KM_REC_DAMAGE, .name = "piece of damage",
	.size = sizeof(struct km_damage), .fields = damage_fields,
	.doc = "One thing that is wrong with a tool.",
};

static bool read_damage(struct km_bind *b, const struct km_field *f,
			const struct km_node *n, struct km_damage *d)
{
	int word;

	km_bind_defaults(&km_rec_damage, d);
	if (n->type == KM_NODE_MAP) {
		km_bind_record(b, &km_rec_damage, d, n);
		return true;
	}
	word = km_read_choice(b, n, f->key, damage_words);
	if (word >= 0)
		d->what = (enum km_damage_what)word;
	return word >= 0;
}

/* `none`, a word, or a list of words and records. */
static void own_damage(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	enum { MOST = 64 };
	struct km_condition *c = rec;
	struct km_damage v[MOST];
	const struct km_node *item;
	uint32_t i = 0, count = n->type == KM_NODE_LIST ? n->n : 1;

	if (km_node_is(n, "none")) {
		c->damage_none = true;
		return;
	}
	if (!count || count > MOST) {
		KM_SAY(b, n, LIST_LENGTH, f->key, (unsigned)MOST);
		return;
	}
	memset(v, 0, sizeof *v * count);
	item = n->type == KM_NODE_LIST ? n->first : n;
	for (; i < count; i++, item = item->next)
		if (!read_damage(b, f, item, &v[i]))
			return;
	c->damage = km_words_bytes(b->words, v, sizeof *v * count);
	c->n_damage = count;
	if (!c->damage)
		b->nomem = true;
}

/* "sF": how much (v, s, m, x) and which fault of the coat (A to J). */
static void own_faults(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_TEXTS,
				.flags = KM_LIST_OR_ONE };
	struct km_condition *c = rec;
	struct km_diag *one;
	const char *const *v = NULL;
	uint32_t i, count = 0;
	size_t len;

	if (!km_read_value(b, &row, &v, &count, n) || !count)
		return;
	for (i = 0; i < count; i++) {
		len = strlen(v[i]);
		if (len >= 2 && len <= 3 && v[i][len - 1] >= 'A' &&
		    v[i][len - 1] <= 'J' &&
		    (len == 3 ? v[i][0] == 'v' && v[i][1] == 's'
			      : strchr("smx", v[i][0]) != NULL))
			continue;
		one = KM_SAY(b, n, NOT_A_CHOICE, v[i], f->key);
		KM_HINT(b, one, "write how much (vs, s, m or x) and the letter "
			"of the fault (A to J), such as sF");
		return;
	}
	c->plate_fault = km_words_bytes(b->words, v, count * sizeof *v);
	c->n_plate_fault = count;
	if (!c->plate_fault)
		b->nomem = true;
}

#define SHARE(key_, member, example_, doc_)                                    \
	{ .key = key_, .type = KM_T_SHARE, .flags = KM_MINUS, .max = 100,      \
	  .at = KM_AT(struct km_condition, member, int32_t),                   \
	  .example = example_, .doc = doc_ }

static const struct km_field condition_fields[] = {
	{ .key = "rust", .type = KM_T_SMALL, .flags = KM_STARTER | KM_MINUS,
	  .max = 5,
	  .at = KM_AT(struct km_condition, rust, int8_t), .example = "3",
	  .doc = "The degree of rust, Ri 0 to Ri 5." },
	SHARE("rust_pct", rust_share, "6 %",
	      "The share of the surface that is rusty."),
	{ .key = "pits", .type = KM_T_CHOICE, .choices = pits_words,
	  .min = KM_PITS_NONE,
	  .at = KM_AT(struct km_condition, pits, enum km_pits),
	  .example = "few", .doc = "Pits felt with a needle." },
	{ .key = "pit_depth", .type = KM_T_LENGTH, .flags = KM_MINUS,
	  .at = KM_AT(struct km_condition, pit_nm, int64_t),
	  .example = "0.1 mm", .doc = "The deepest pit." },
	{ .key = "mark_depth", .type = KM_T_LENGTH, .flags = KM_MINUS,
	  .at = KM_AT(struct km_condition, mark_depth_nm, int64_t),
	  .example = "0.15 mm", .doc = "How deep the mark is struck." },
	SHARE("plate_left", plate_left, "60 %",
	      "The share of the coat that is left."),
	SHARE("paint_left", paint_left, "80 %",
	      "The share of the paint that is left."),
	{ .key = "plate_fault", .type = KM_T_OWN, .form = KM_FORM_TEXTS,
	  .own = own_faults,
	  .shape = "a list of degrees and letters", .example = "[sF]",
	  .doc = "Faults of the coat: how much, and which." },
	{ .key = "damage", .type = KM_T_OWN, .form = KM_FORM_WORDS_OR_RECORDS,
	  .choices = damage_words, .own = own_damage,
	  .rec = &km_rec_damage, .shape = "none, or a list of damage",
	  .example = "[{what: spread, end: 2, by: 0.35 mm}]",
	  .doc = "What is bent, worn or broken." },
	{ .key = "handle", .type = KM_T_CHOICE, .choices = handle_words,
	  .min = KM_HANDLE_OK,
	  .at = KM_AT(struct km_condition, handle, enum km_handle),
	  .example = "scuffed", .doc = "What the handle is like." },
	{ .key = "marking", .type = KM_T_CHOICE, .choices = marking_words,
	  .min = KM_MARKING_CRISP,
	  .at = KM_AT(struct km_condition, marking, enum km_marking),
	  .example = "legible",
	  .doc = "Whether a stranger can read the mark at arm's length." },
	{ .key = "ground", .type = KM_T_MAYBE, .flags = KM_MINUS,
	  .at = KM_AT(struct km_condition, ground, int8_t), .example = "no",
	  .doc = "Whether it was ground or engraved." },
	{ .key = "lead_paint", .type = KM_T_MAYBE, .flags = KM_MINUS,
	  .at = KM_AT(struct km_condition, lead_paint, int8_t),
	  .example = "no", .doc = "Whether old paint was found to hold lead." },
	{ .key = "soldered", .type = KM_T_BOOL,
	  .at = KM_AT(struct km_condition, soldered, bool), .example = "no",
	  .doc = "Whether parts are soldered or brazed on." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_condition = {
	.no = KM_REC_CONDITION, .name = "condition",
	.size = sizeof(struct km_condition), .fields = condition_fields,
	.doc = "What a tool is like; what is left out was not looked at.",
};

void km_own_condition(struct km_bind *b, const struct km_field *f, void *rec,
		      const struct km_node *n)
{
	struct km_condition c;
	const struct km_condition *kept;

	if (!km_want_map(b, n, f->key))
		return;
	memset(&c, 0, sizeof c);
	km_bind_defaults(&km_rec_condition, &c);
	km_bind_record(b, &km_rec_condition, &c, n);
	kept = km_words_bytes(b->words, &c, sizeof c);
	if (!kept)
		b->nomem = true;
	memcpy((char *)rec + f->at, &kept, sizeof kept);
}
