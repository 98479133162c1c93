/* SPDX-License-Identifier: MIT */
/* The kit: what it is, its sources, its pouch.  Slots are in rec_slot.c. */
#include <string.h>

#include "read/attr.h"
#include "read/measure.h"
#include "read/rec.h"
#include "read/rec_serial.h"
#include "read/rec_slot.h"
#include "trade/evidence.h"
#include "trade/pouch.h"

/* ------------------------------------------------------------------ */
/* Sources                                                             */

const char *const km_source_words[] = {
	"parts-list", "drawing", "handbook", "picture", "sales", "photograph",
	"survivor", "book", "recollection", "other", NULL
};

static const struct km_field source_fields[] = {
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_source, id, const char *),
	  .example = "pl3", .doc = "The word that slots cite it by." },
	{ .key = "what", .type = KM_T_CHOICE, .flags = KM_REQUIRED,
	  .choices = km_source_words,
	  .at = KM_AT(struct km_source, what, enum km_source_what),
	  .example = "parts-list", .doc = "What kind of source it is." },
	{ .key = "title", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_source, title, const char *),
	  .example = "Parts list no. 3", .doc = "What it is called." },
	{ .key = "page", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_source, page, const char *),
	  .example = "page 12", .doc = "Where in it." },
	{ .key = "dated", .type = KM_T_PERIOD,
	  .at = KM_AT(struct km_source, dated, struct km_period),
	  .at2 = KM_AT(struct km_source, dated_text, const char *),
	  .example = "1953", .doc = "When it was made." },
	{ .key = "depends_on", .type = KM_T_REFS,
	  .at = KM_AT(struct km_source, depends_ids, const char *const *),
	  .at2 = KM_AT(struct km_source, n_depends_on, uint32_t),
	  .example = "[pl1]",
	  .doc = "The sources that it repeats, so that it counts for less." },
	{ .key = "note", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_source, note, const char *),
	  .example = "seen as a copy", .doc = "Anything else." },
	{ .type = KM_T_END }
};

static void check_source(struct km_bind *b, void *rec,
			 const struct km_node *n)
{
	((struct km_source *)rec)->at = km_bind_at(b, n);
}

const struct km_record km_rec_source = {
	.no = KM_REC_SOURCE, .name = "source", .size = sizeof(struct km_source),
	.fields = source_fields, .check = check_source,
	.doc = "What the kit list rests on.",
};

/* ------------------------------------------------------------------ */
/* The pouch                                                           */

static void own_form(struct km_bind *b, const struct km_field *f, void *rec,
		     const struct km_node *n)
{
	const struct km_pouch_form *form;
	struct km_diag *one;

	if (!km_want_scalar(b, n, f->key, f->shape))
		return;
	form = km_pouch_form_find(km_node_slice(n));
	if (form) {
		memcpy((char *)rec + f->at, &form, sizeof form);
		return;
	}
	one = KM_SAY(b, n, NOT_A_CHOICE, km_clip(b, n), f->key);
	KM_HINT(b, one, "one of: roll, plain roll, envelope, side-loaded "
		"envelope, bag, box pouch");
}

static void own_widths(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	struct km_pouch *p = rec;
	const struct km_node *item;
	int64_t *v;
	uint32_t i = 0;

	if (!km_want_list(b, n, f->key) || !n->n)
		return;
	v = km_bind_alloc(b, n->n, sizeof *v);
	for (item = n->first; v && item; item = item->next, i++)
		if (!km_read_length(b, item, f->key, false, &v[i]))
			return;
	p->widths_nm = v;
	p->n_widths = i;
}

static void check_pouch(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_pouch *p = rec;

	p->at = km_bind_at(b, n);
	if (p->n_widths && p->pockets && p->n_widths != (uint32_t)p->pockets)
		KM_SAY(b, n, POCKET_WIDTHS, (unsigned)p->n_widths,
		       (int)p->pockets);
}

#define POUCH_LENGTH(key_, member, flags_, example_, doc_)                     \
	{ .key = key_, .type = KM_T_LENGTH, .flags = KM_MINUS | (flags_),      \
	  .at = KM_AT(struct km_pouch, member, int64_t),                       \
	  .example = example_, .doc = doc_ }

static const struct km_field pouch_fields[] = {
	{ .key = "form", .type = KM_T_OWN, .own = own_form,
	  .shape = "a form of pouch",
	  .at = KM_AT(struct km_pouch, form, const struct km_pouch_form *),
	  .example = "roll", .doc = "How it is made." },
	{ .key = "pockets", .type = KM_T_INT, .min = 1, .max = 200,
	  .at = KM_AT(struct km_pouch, pockets, int32_t),
	  .example = "12", .doc = "How many pockets it has." },
	POUCH_LENGTH("pocket_width", pocket_width_nm, 0, "34 mm",
		     "The flat width of a pocket."),
	POUCH_LENGTH("pocket_depth", pocket_depth_nm, 0, "150 mm",
		     "How deep a pocket is."),
	POUCH_LENGTH("closing_allowance", closing_allowance_nm, KM_ZERO,
		     "20 mm", "How far a tool may stand out of its pocket."),
	POUCH_LENGTH("width", width_nm, 0, "420 mm", "The flat width."),
	POUCH_LENGTH("depth", depth_nm, 0, "180 mm", "The flat depth."),
	POUCH_LENGTH("flap", flap_nm, KM_ZERO, "60 mm", "The flap."),
	POUCH_LENGTH("cloth", cloth_nm, 0, "0.8 mm",
		     "The thickness of the cloth."),
	POUCH_LENGTH("ease", ease_nm, KM_ZERO, "6 mm",
		     "What is added to half the girth of a tool."),
	{ .key = "widths", .type = KM_T_OWN, .form = KM_FORM_TEXTS,
	  .own = own_widths,
	  .shape = "a list of lengths, one a pocket", .example = "[34 mm]",
	  .doc = "The flat width of each pocket, where they differ." },
	{ .key = "material", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_pouch, material, const char *),
	  .example = "black cloth", .doc = "What it is made of." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_pouch = {
	.no = KM_REC_POUCH, .name = "pouch", .size = sizeof(struct km_pouch),
	.fields = pouch_fields, .check = check_pouch,
	.doc = "What the kit lies in, as far as it is measured.",
};

/* ------------------------------------------------------------------ */
/* Limits of the verdict rules                                         */

static const char *const pits_words[] = { "none", "few", "general", NULL };

static const struct km_field limits_fields[] = {
	{ .key = "rust", .type = KM_T_INT, .flags = KM_MINUS, .max = 5,
	  .at = KM_AT(struct km_kit_limits, rust, int32_t), .example = "1",
	  .doc = "More rust than this degree (Ri) wants work." },
	{ .key = "pits", .type = KM_T_CHOICE, .flags = KM_MINUS,
	  .choices = pits_words,
	  .at = KM_AT(struct km_kit_limits, pits, int32_t), .example = "few",
	  .doc = "More pits than these want work." },
	{ .key = "plate_left", .type = KM_T_SHARE, .flags = KM_MINUS,
	  .max = 100,
	  .at = KM_AT(struct km_kit_limits, plate_left, int32_t),
	  .example = "90 %", .doc = "Less plating than this wants work." },
	{ .key = "colour_pass", .was = "color_pass", .type = KM_T_MILLI,
	  .flags = KM_MINUS, .max = 100,
	  .at = KM_AT(struct km_kit_limits, colour_pass, int32_t),
	  .example = "3.5",
	  .doc = "A handle colour up to this far off (CIEDE2000) passes." },
	{ .key = "colour_note", .was = "color_note", .type = KM_T_MILLI,
	  .flags = KM_MINUS, .max = 100,
	  .at = KM_AT(struct km_kit_limits, colour_note, int32_t),
	  .example = "6", .doc = "Up to this far off it passes with a note." },
	{ .key = "length_usable", .type = KM_T_SHARE, .flags = KM_MINUS,
	  .max = 100,
	  .at = KM_AT(struct km_kit_limits, length_usable, int32_t),
	  .example = "10 %",
	  .doc = "How far off a length may be to be usable." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_kit_limits = {
	.no = KM_REC_KIT_LIMITS, .name = "set of limits",
	.size = sizeof(struct km_kit_limits), .fields = limits_fields,
	.doc = "Figures of the verdict rules that a kit sets for itself.",
};

/* ------------------------------------------------------------------ */
/* The kit                                                             */

static void own_colours(struct km_bind *b, const struct km_field *f, void *rec,
			const struct km_node *n)
{
	struct km_kit *kit = rec;
	struct km_colour_word *v;
	const struct km_node *key;
	union km_value value;
	uint32_t i = 0;

	if (!km_want_map(b, n, f->key) || !n->n)
		return;
	v = km_bind_alloc(b, n->n, sizeof *v);
	for (key = n->first; v && key; key = key->next->next) {
		km_bind_enter(b, key->text, -1);
		if (km_colour_read(b, key->next, f->key, &value)) {
			if (value.colour.rgb == KM_COLOUR_WORD_ONLY)
				KM_SAY(b, key->next, BAD_COLOUR,
				       km_clip(b, key->next));
			v[i].word = km_words_text(b->words, key->text, key->n);
			v[i].rgb = value.colour.rgb;
			if (v[i].word)
				i++;
			else
				b->nomem = true;
		}
		km_bind_leave(b);
	}
	kit->colours = v;
	kit->n_colours = v ? i : 0;
}

static const char *const standard_words[] = {
	"as-delivered", "period-correct", "usable", "as-found", NULL
};

static void own_standard(struct km_bind *b, const struct km_field *f,
			 void *rec, const struct km_node *n)
{
	struct km_kit *kit = rec;
	int i = km_read_choice(b, n, f->key, standard_words);

	if (i < 0)
		return;
	kit->standard = (enum km_standard)i;
	kit->standard_given = true;
}

static const struct km_field kit_fields[] = {
	{ .key = "currency", .type = KM_T_CURRENCY, .flags = KM_FIRST,
	  .at = KM_AT(struct km_kit, currency, const char *),
	  .example = "GBP", .doc = "The currency of the sums in the kit." },
	{ .key = "colours", .was = "colors", .type = KM_T_OWN,
	  .form = KM_FORM_TEXT_MAP,
	  .flags = KM_FIRST, .own = own_colours,
	  .shape = "a map from words to colours",
	  .example = "{amber: \"#c47a1c\"}",
	  .doc = "Colour words that this kit defines." },
	{ .key = "maker_marks", .type = KM_T_TEXTS,
	  .flags = KM_FIRST | KM_LIST_OR_ONE,
	  .at = KM_AT(struct km_kit, maker_marks, const char *const *),
	  .at2 = KM_AT(struct km_kit, n_maker_marks, uint32_t),
	  .example = "[LARKMOOR, LM]",
	  .doc = "The marks of the maker; a slot says 'mark: maker'." },
	{ .key = "every_slot", .type = KM_T_OWN, .form = KM_FORM_PART,
	  .flags = KM_FIRST,
	  .own = km_own_every_slot, .shape = "a slot without id",
	  .rec = &km_rec_slot, .example = "{finish: black oxide}",
	  .doc = "What every slot has that does not say otherwise." },
	{ .key = "id", .type = KM_T_ID, .flags = KM_REQUIRED,
	  .at = KM_AT(struct km_kit, id, const char *),
	  .example = "larkmoor-54-first", .doc = "Names the kit for ever." },
	{ .key = "title", .flags = KM_STARTER, .type = KM_T_NOTE,
	  .at = KM_AT(struct km_kit, title, const char *),
	  .example = "Larkmoor 54 light tractor, on-board kit",
	  .doc = "What people call it." },
	{ .key = "serials", .type = KM_T_OWN, .form = KM_FORM_RECORD,
	  .own = km_own_serials,
	  .shape = "a range of serial numbers", .rec = &km_rec_serials,
	  .at = KM_AT(struct km_kit, serials, struct km_serials),
	  .example = "{from: 1001, to: 8120}",
	  .doc = "The machines that had it." },
	{ .key = "years", .type = KM_T_PERIOD,
	  .at = KM_AT(struct km_kit, years, struct km_period),
	  .at2 = KM_AT(struct km_kit, years_text, const char *),
	  .example = "1952/1955", .doc = "The years in which it was given." },
	{ .key = "market", .type = KM_T_TEXT,
	  .at = KM_AT(struct km_kit, market, const char *),
	  .example = "home", .doc = "The market that it was for." },
	{ .key = "revision", .type = KM_T_INT, .flags = KM_MINUS,
	  .max = 1000000, .at = KM_AT(struct km_kit, revision, int32_t),
	  .example = "3", .doc = "The number of this version of the list." },
	{ .key = "priority", .type = KM_T_INT, .min = 1, .max = 1000,
	  .at = KM_AT(struct km_kit, priority, int32_t), .example = "1",
	  .doc = "Which kit comes first where two want one tool; 1 is "
		 "first." },
	{ .key = "standard", .type = KM_T_OWN, .form = KM_FORM_WORD,
	  .choices = standard_words, .own = own_standard,
	  .shape = "as-delivered, period-correct, usable or as-found",
	  .example = "as-delivered", .doc = "What is aimed at." },
	{ .key = "sources", .flags = KM_STARTER, .type = KM_T_LIST,
	  .rec = &km_rec_source,
	  .at = KM_AT(struct km_kit, sources, const struct km_source *),
	  .at2 = KM_AT(struct km_kit, n_sources, uint32_t),
	  .example = "[{id: pl3, what: parts-list}]",
	  .doc = "What the list rests on." },
	{ .key = "pouch", .type = KM_T_MAP_NEW, .rec = &km_rec_pouch,
	  .at = KM_AT(struct km_kit, pouch, const struct km_pouch *),
	  .example = "{form: roll, pockets: 12}",
	  .doc = "What the kit lies in." },
	{ .key = "limits", .type = KM_T_MAP, .rec = &km_rec_kit_limits,
	  .at = KM_AT(struct km_kit, limits, struct km_kit_limits),
	  .example = "{rust: 1}",
	  .doc = "Figures of the verdict rules, where they differ." },
	{ .key = "slots", .flags = KM_STARTER, .type = KM_T_OWN,
	  .form = KM_FORM_RECORDS, .own = km_own_slots,
	  .shape = "a list of slots", .rec = &km_rec_slot,
	  .example = "[{id: S-01, tool: tyre lever}]",
	  .doc = "The places of the kit." },
	{ .key = "note", .type = KM_T_NOTE,
	  .at = KM_AT(struct km_kit, note, const char *),
	  .example = "home market list", .doc = "Anything else." },
	{ .type = KM_T_END }
};

static void check_kit(struct km_bind *b, void *rec, const struct km_node *n)
{
	struct km_kit *kit = rec;
	struct km_diag *one;
	uint32_t i;

	kit->at = km_bind_at(b, n);
	if (kit->n_sources > KM_SOURCES_MOST)
		KM_SAY(b, n, LIST_LENGTH, "sources",
		       (unsigned)KM_SOURCES_MOST);
	if (!kit->n_slots && !b->slots_wrong) {
		one = KM_SAY(b, n, KIT_WITHOUT_SLOTS,
			     kit->id ? kit->id : "?");
		KM_HINT(b, one, "list the places of the kit under 'slots'");
	}
	for (i = 0; kit->pouch && kit->pouch->pockets && i < kit->n_slots; i++)
		if (kit->slots[i].pocket > kit->pouch->pockets) {
			struct km_node at = { .line = kit->slots[i].at.line,
					      .column = kit->slots[i].at.column };

			KM_SAY(b, &at, NO_SUCH_POCKET,
			       (int)kit->slots[i].pocket,
			       (int)kit->pouch->pockets);
		}
}

const struct km_record km_rec_kit = {
	.no = KM_REC_KIT, .name = "kit", .size = sizeof(struct km_kit),
	.fields = kit_fields, .check = check_kit,
	.doc = "What left the factory with one machine.",
};

struct km_kit *km_kit_read(struct km_bind *b, const struct km_node *n)
{
	struct km_kit *kit = km_bind_alloc(b, 1, sizeof *kit);

	if (!kit || !km_want_map(b, n, "kit"))
		return NULL;
	km_bind_defaults(&km_rec_kit, kit);
	km_bind_defaults(&km_rec_kit_limits, &kit->limits);
	kit->priority = 1;
	b->kit = kit;
	b->currency = &kit->currency;
	b->every_slot = NULL;
	b->slots_wrong = false;
	km_bind_record(b, &km_rec_kit, kit, n);
	b->kit = NULL;
	b->currency = NULL;
	return kit;
}
