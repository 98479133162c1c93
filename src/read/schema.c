/* SPDX-License-Identifier: MIT */
/*
 * The schema, from the rows that read the files.  Words are listed in lower
 * case; the reader takes them in any.  What no row can say (that ids resolve, that lengths can be read)
 * is not in it.
 */
#include "read/schema.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"

#define SCALAR "\"type\":[\"string\",\"number\",\"boolean\"]"
#define NUMBER "\"type\":[\"number\",\"string\"]"
#define SERIAL "\"type\":[\"integer\",\"string\"],\"minimum\":0," \
	"\"maximum\":999999999999999"
#define YES_NO "\"enum\":[true,false,\"yes\",\"no\"]"
#define ID_PATTERN "\"pattern\":\"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$\""
#define SLOT_PATTERN "\"pattern\":\"^[^/]+/[^/]+$\""

void km_schema_slug(struct km_buf *b, const char *name)
{
	for (; *name; name++)
		km_buf_char(b, *name == ' ' ? '-' : *name);
}

static void put_string(struct km_buf *b, const char *text)
{
	km_buf_char(b, '"');
	km_escape_json(b, text, strlen(text));
	km_buf_char(b, '"');
}

static void put_ref(struct km_buf *b, const char *prefix, const char *name)
{
	km_buf_printf(b, "\"$ref\":\"#/definitions/%s", prefix);
	km_schema_slug(b, name);
	km_buf_char(b, '"');
}

/* "at-plater", "at plater", "at_plater" */
static void put_word(struct km_buf *b, const char *word)
{
	static const char between[] = "- _";
	const char *hyphen = strchr(word, '-'), *p;
	size_t i;

	put_string(b, word);
	for (i = 1; hyphen && between[i]; i++) {
		km_buf_str(b, ",\"");
		for (p = word; *p; p++)
			km_buf_char(b, *p == '-' ? between[i] : *p);
		km_buf_char(b, '"');
	}
}

static void put_words(struct km_buf *b, const char *const *words,
		      const char *first)
{
	size_t i;

	km_buf_str(b, "\"enum\":[");
	if (first)
		put_string(b, first);
	for (i = 0; words[i]; i++) {
		if (first && !strcmp(words[i], first))
			continue;
		if (i || first)
			km_buf_char(b, ',');
		put_word(b, words[i]);
	}
	km_buf_char(b, ']');
}

static void put_bounds(struct km_buf *b, const struct km_field *f)
{
	km_buf_printf(b, "\"type\":\"integer\",\"minimum\":%" PRId64, f->min);
	if (f->max && f->max != INT64_MAX)
		km_buf_printf(b, ",\"maximum\":%" PRId64, f->max);
}

/* The members of {}, a list of such, or either of the two. */
static void put_list(struct km_buf *b, const char *of, bool or_one)
{
	if (or_one)
		km_buf_printf(b, "\"anyOf\":[{%s},{", of);
	km_buf_printf(b, "\"type\":\"array\",\"items\":{%s}", of);
	if (or_one)
		km_buf_str(b, "}]");
}

/* ------------------------------------------------------------------ */
/* Values                                                              */

/* A record, or what stands for it: `simple` and then a comma. */
static void put_or_record(struct km_buf *b, const char *simple,
			  const struct km_record *r)
{
	km_buf_printf(b, "\"anyOf\":[{%s},{", simple);
	put_ref(b, "", r->name);
	km_buf_str(b, "}]");
}

static void put_words_or_records(struct km_buf *b, const struct km_field *f)
{
	km_buf_str(b, "\"anyOf\":[{");
	put_words(b, f->choices, "none");
	km_buf_str(b, "},{\"type\":\"array\",\"items\":{\"anyOf\":[{");
	put_words(b, f->choices, NULL);
	km_buf_str(b, "},{");
	put_ref(b, "", f->rec->name);
	km_buf_str(b, "}]}}]");
}

/* Forms that are a record, or hold some. */
static void put_form_of_record(struct km_buf *b, const struct km_field *f)
{
	switch (f->form) {
	case KM_FORM_RECORD:
		put_ref(b, "", f->rec->name);
		break;
	case KM_FORM_RECORDS:
		km_buf_str(b, "\"type\":\"array\",\"items\":{");
		put_ref(b, "", f->rec->name);
		km_buf_char(b, '}');
		break;
	case KM_FORM_PART:
		put_ref(b, "part-of-", f->rec->name);
		break;
	case KM_FORM_WORD_OR_RECORD:
		km_buf_str(b, "\"anyOf\":[{");
		put_words(b, f->choices, NULL);
		km_buf_str(b, "},{");
		put_ref(b, "", f->rec->name);
		km_buf_str(b, "}]");
		break;
	case KM_FORM_WORDS_OR_RECORDS:
		put_words_or_records(b, f);
		break;
	case KM_FORM_SERIAL_OR_RECORD:
		put_or_record(b, SERIAL, f->rec);
		break;
	default:
		break;
	}
}

static void put_form(struct km_buf *b, const struct km_field *f)
{
	switch (f->form) {
	case KM_FORM_TEXT:
		km_buf_str(b, SCALAR);
		break;
	case KM_FORM_SLOT:
		km_buf_str(b, "\"type\":\"string\"," SLOT_PATTERN);
		break;
	case KM_FORM_YES:
		km_buf_str(b, YES_NO);
		break;
	case KM_FORM_NUMBER:
		km_buf_str(b, "\"type\":\"number\"");
		break;
	case KM_FORM_WORD:
		put_words(b, f->choices, NULL);
		break;
	case KM_FORM_TEXTS:
		put_list(b, SCALAR, true);
		break;
	case KM_FORM_TEXT_MAP:
		km_buf_str(b, "\"type\":\"object\",\"additionalProperties\":{"
			      SCALAR "}");
		break;
	case KM_FORM_NUMBER_MAP:
		km_buf_str(b, "\"type\":\"object\",\"additionalProperties\":"
			      "{\"type\":\"number\"}");
		break;
	case KM_FORM_SERIAL:
		km_buf_str(b, SERIAL);
		break;
	case KM_FORM_VALUE:
	case KM_FORM_VALUES:
		break;		/* of the attribute: put_claim() */
	default:
		put_form_of_record(b, f);
	}
}

/* The value of an attribute as a tool or offer has it. */
static void put_attr(struct km_buf *b, enum km_attr a)
{
	switch (a) {
	case KM_A_DRIVE:
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		put_list(b, "\"type\":[\"string\",\"number\"]", true);
		break;
	case KM_A_FINISH:
		put_or_record(b, "\"type\":\"string\"", &km_rec_finish);
		break;
	case KM_A_MADE:
		km_buf_str(b, "\"enum\":[\"original\",\"period\","
			      "\"reproduction\",\"unknown\"]");
		break;
	case KM_A_ANGLE:
		km_buf_str(b, NUMBER);
		break;
	case KM_A_MARK:
	case KM_A_PART:
		km_buf_str(b, SCALAR);
		break;
	default:
		km_buf_str(b, "\"type\":\"string\"");
	}
}

/* Numbers, measures, money and days. */
static void put_figure(struct km_buf *b, const struct km_field *f)
{
	switch (f->type) {
	case KM_T_INT:
	case KM_T_BIG:
	case KM_T_SMALL:
		put_bounds(b, f);
		break;
	case KM_T_LENGTH:
	case KM_T_WEIGHT:
		km_buf_str(b, "\"type\":\"string\"");
		break;
	case KM_T_SHARE:
	case KM_T_MONEY:
	case KM_T_PERIOD:
	case KM_T_DAYS:
		km_buf_str(b, NUMBER);
		break;
	case KM_T_CENTS:
	case KM_T_MILLI:
		km_buf_printf(b, "\"type\":\"number\",\"minimum\":%" PRId64
			      ",\"maximum\":%" PRId64, f->min, f->max);
		break;
	case KM_T_MONEY3:
		put_or_record(b, NUMBER, f->rec ? f->rec : &km_rec_money3);
		break;
	case KM_T_CURRENCY:
		km_buf_str(b, "\"type\":\"string\",\"pattern\":\"^[A-Z]{3}$\"");
		break;
	case KM_T_DATE:
		km_buf_str(b, "\"type\":\"string\",\"pattern\":"
			      "\"^[0-9]{4}-[0-9]{2}-[0-9]{2}$\"");
		break;
	default:
		break;
	}
}

/* One record, several, or several by name. */
static void put_records(struct km_buf *b, const struct km_field *f)
{
	switch (f->type) {
	case KM_T_MAP:
	case KM_T_MAP_NEW:
		put_ref(b, "", f->rec->name);
		break;
	case KM_T_LIST:
		km_buf_str(b, "\"type\":\"array\",\"items\":{");
		put_ref(b, "", f->rec->name);
		km_buf_char(b, '}');
		break;
	case KM_T_BY_NAME:
		km_buf_str(b, "\"type\":\"object\",\"additionalProperties\":{");
		put_ref(b, "", f->rec->name);
		km_buf_char(b, '}');
		break;
	default:
		break;
	}
}

static void put_type(struct km_buf *b, const struct km_field *f)
{
	switch (f->type) {
	case KM_T_TEXT:
	case KM_T_NOTE:
		km_buf_str(b, SCALAR);
		break;
	case KM_T_ID:
	case KM_T_REF:
		km_buf_str(b, SCALAR "," ID_PATTERN);
		break;
	case KM_T_SLOT_REF:
		km_buf_str(b, "\"type\":\"string\"," SLOT_PATTERN);
		break;
	case KM_T_BOOL:
	case KM_T_MAYBE:
		km_buf_str(b, YES_NO);
		break;
	case KM_T_CHOICE:
		put_words(b, f->choices, NULL);
		break;
	case KM_T_TEXTS:
	case KM_T_REFS:
		put_list(b, SCALAR, f->flags & KM_LIST_OR_ONE);
		break;
	case KM_T_OWN:
		put_form(b, f);
		break;
	case KM_T_MAP:
	case KM_T_MAP_NEW:
	case KM_T_LIST:
	case KM_T_BY_NAME:
		put_records(b, f);
		break;
	case KM_T_ATTR:
	case KM_T_END:
		break;
	default:
		put_figure(b, f);
	}
}

/* ------------------------------------------------------------------ */
/* Records                                                             */

/* `"key":{"description":...,` and the type; a reference stands alone in
 * draft 7, so everything goes into allOf. */
static void put_property(struct km_buf *b, const struct km_record *r,
			 const struct km_field *f, struct km_slice key,
			 bool first)
{
	km_buf_str(b, first ? "\n   \"" : ",\n   \"");
	km_buf_add(b, key.p, key.n);
	km_buf_str(b, "\":{\"description\":");
	put_string(b, f->doc);
	km_buf_str(b, ",\"allOf\":[{");
	if (f->type == KM_T_ATTR)
		put_ref(b, km_schema_claims(r) ? "claims-on-" : "value-of-",
			f->key);
	else
		put_type(b, f);
	km_buf_str(b, "}]}");
}

static void put_rows(struct km_buf *b, const struct km_record *r,
		     const struct km_field *f, bool part, bool *first)
{
	struct km_slice old;

	for (; f->type != KM_T_END; f++) {
		if (part && f->flags & KM_SLOT_ONLY)
			continue;
		put_property(b, r, f, km_slice_of(f->key), *first);
		*first = false;
		for (old.p = f->was; old.p; old.p += old.n + !!old.p[old.n]) {
			old.n = strcspn(old.p, "|");
			if (!old.n)
				break;
			put_property(b, r, f, old, false);
		}
	}
}

static void put_required(struct km_buf *b, const struct km_field *f)
{
	const char *comma = "\"required\":[";

	for (; f->type != KM_T_END; f++) {
		if (!(f->flags & KM_REQUIRED))
			continue;
		km_buf_str(b, comma);
		put_string(b, f->key);
		comma = ",";
	}
	if (*comma == ',')
		km_buf_str(b, "],");
}

static void put_record(struct km_buf *b, const struct km_record *r, bool part)
{
	bool first = true;

	km_buf_str(b, part ? "\n \"part-of-" : "\n \"");
	km_schema_slug(b, r->name);
	km_buf_str(b, "\":{\"description\":");
	put_string(b, r->doc);
	km_buf_str(b, ",\n  \"type\":\"object\",\"additionalProperties\":"
		      "false,");
	if (!part)
		put_required(b, r->fields);
	km_buf_str(b, "\n  \"properties\":{");
	put_rows(b, r, r->fields, part, &first);
	if (r->attrs)
		put_rows(b, r, km_attr_fields, part, &first);
	km_buf_str(b, "}}");
}

/* An attribute of a slot: a value, a claim on it, or claims that contradict. */
static void put_claim(struct km_buf *b, const struct km_field *a)
{
	const struct km_field *f;
	const char *comma = "";

	km_buf_str(b, ",\n \"claim-on-");
	km_schema_slug(b, a->key);
	km_buf_str(b, "\":{\"type\":\"object\",\"additionalProperties\":false,"
		      "\n  \"oneOf\":[{\"required\":[\"is\"]},"
		      "{\"required\":[\"any_of\"]}],\n  \"properties\":{");
	for (f = km_rec_claim.fields; f->type != KM_T_END; f++) {
		km_buf_printf(b, "%s\n   \"%s\":{\"description\":", comma,
			      f->key);
		put_string(b, f->doc);
		km_buf_str(b, ",\"allOf\":[{");
		if (f->form == KM_FORM_VALUES)
			km_buf_str(b, "\"type\":\"array\",\"minItems\":1,"
				      "\"items\":{");
		if (f->form >= KM_FORM_VALUE)
			put_ref(b, "value-of-", a->key);
		else
			put_type(b, f);
		km_buf_str(b, f->form == KM_FORM_VALUES ? "}}]}" : "}]}");
		comma = ",";
	}
	km_buf_str(b, "}},\n \"claims-on-");
	km_schema_slug(b, a->key);
	km_buf_str(b, "\":{\"anyOf\":[{");
	put_ref(b, "value-of-", a->key);
	km_buf_str(b, "},{");
	put_ref(b, "claim-on-", a->key);
	km_buf_str(b, "},{\"type\":\"array\",\"minItems\":1,\"items\":{");
	put_ref(b, "claim-on-", a->key);
	km_buf_str(b, "}}]}");
}

static void put_definitions(struct km_buf *b)
{
	const struct km_field *f;
	unsigned i;

	km_buf_str(b, " \"definitions\":{");
	for (i = 0; i < KM_RECORDS; i++) {
		if (i == KM_REC_CLAIM || !km_records[i])
			continue;
		if (i)
			km_buf_char(b, ',');
		put_record(b, km_records[i], false);
	}
	km_buf_char(b, ',');
	put_record(b, &km_rec_slot, true);
	for (f = km_attr_fields; f->type != KM_T_END; f++) {
		km_buf_str(b, ",\n \"value-of-");
		km_schema_slug(b, f->key);
		km_buf_str(b, "\":{\"description\":");
		put_string(b, f->doc);
		km_buf_char(b, ',');
		put_attr(b, f->attr);
		km_buf_char(b, '}');
		put_claim(b, f);
	}
	km_buf_str(b, "\n }");
}

static void put_file(struct km_buf *b)
{
	const struct km_top *t;

	km_buf_str(b, " \"type\":\"object\",\"additionalProperties\":false,"
		      "\"minProperties\":1,\n \"properties\":{");
	for (t = km_tops; t->key; t++) {
		km_buf_printf(b, "%s\n  \"%s\":{\"description\":",
			      t == km_tops ? "" : ",", t->key);
		put_string(b, t->doc);
		km_buf_str(b, t->list ? ",\"type\":\"array\",\"items\":{"
				      : ",\"allOf\":[{");
		put_ref(b, "", t->rec->name);
		km_buf_str(b, t->list ? "}}" : "}]}");
	}
	km_buf_str(b, "},\n");
}

/* ------------------------------------------------------------------ */

const struct km_record *km_schema_find(const char *name)
{
	const struct km_top *t;
	unsigned i;

	for (t = km_tops; t->key; t++)
		if (!km_fold_compare(km_slice_of(t->key), km_slice_of(name)))
			return t->rec;
	for (i = 0; i < KM_RECORDS; i++)
		if (i != KM_REC_CLAIM && km_records[i] &&
		    !km_fold_compare(km_slice_of(km_records[i]->name),
				     km_slice_of(name)))
			return km_records[i];
	return NULL;
}

const char *km_schema_record(size_t i)
{
	return i < KM_RECORDS ? km_records[i]->name : NULL;
}

enum km_status km_schema_hand(const struct km_buf *b,
			      const struct km_sink *to)
{
	if (km_buf_failed(b))
		return KM_ENOMEM;
	return to->write(to->ctx, b->text, b->len) ? KM_OK : KM_EIO;
}

enum km_status km_schema(const char *record, enum km_schema_form form,
			 const struct km_sink *to)
{
	const struct km_record *r = record ? km_schema_find(record) : NULL;
	struct km_arena *mem;
	enum km_status st;
	struct km_buf b;

	if (record && !r)
		return KM_EINPUT;
	mem = km_arena_new(NULL);
	if (!mem)
		return KM_ENOMEM;
	km_buf_init(&b, mem);
	if (form == KM_SCHEMA_MARKDOWN) {
		km_schema_reference(&b, r);
	} else if (form == KM_SCHEMA_MDOC) {
		km_schema_manual(&b);
	} else {
		km_buf_str(&b, "{\"$schema\":\"http://json-schema.org/draft-07/"
			       "schema#\",\n \"title\":");
		put_string(&b, r ? r->name : "a file of kitmuster");
		km_buf_str(&b, ",\n");
		if (r) {
			km_buf_str(&b, " \"allOf\":[{");
			put_ref(&b, "", r->name);
			km_buf_str(&b, "}],\n");
		} else {
			put_file(&b);
		}
		put_definitions(&b);
		km_buf_str(&b, "}\n");
	}
	st = km_schema_hand(&b, to);
	km_arena_free(mem);
	return st;
}
