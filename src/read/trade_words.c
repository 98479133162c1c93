/* SPDX-License-Identifier: MIT */
#include "read/trade_words.h"

#include <string.h>

#include "base/near.h"
#include "read/attr.h"
#include "read/measure.h"
#include "trade/finish.h"
#include "trade/kind.h"

/* Tags of b->words; small numbers, so never the address of a row. */
enum tag { TAG_KIND = 1, TAG_FINISH, TAG_MATERIAL, TAG_FINISH_WORD,
	   TAG_UNLISTED };

/* Lower case, runs of blanks, hyphens and underscores as one blank. */
static struct km_slice fold(struct km_bind *b, struct km_slice s)
{
	struct km_slice out = { NULL, 0 };
	char *p = km_arena_raw(b->scratch, s.n + 1, 1);
	size_t i;
	char c;

	if (!p) {
		b->nomem = true;
		return out;
	}
	for (i = 0; i < s.n; i++) {
		c = s.p[i];
		if (c >= 'A' && c <= 'Z')
			c = (char)(c + 32);
		if (c == '-' || c == '_' || c == '\t')
			c = ' ';
		if (c != ' ' || (out.n && p[out.n - 1] != ' '))
			p[out.n++] = c;
	}
	if (out.n && p[out.n - 1] == ' ')
		out.n--;
	out.p = p;
	return out;
}

static bool too_long(struct km_bind *b, const struct km_node *n)
{
	if (n->n <= b->lim->word_bytes)
		return false;
	KM_SAY(b, n, LONG_TEXT, (unsigned)b->lim->word_bytes);
	return true;
}

/* Make or find the private row of an unlisted word: a copy of `blank`, a row
 * of `size` bytes, whose name is put at name_at.  *fresh: it is new. */
static void *unlisted_row(struct km_bind *b, enum tag tag, struct km_slice s,
			  const void *blank, size_t size, size_t name_at,
			  bool *fresh)
{
	struct km_slice word = fold(b, s);
	uintptr_t key = (uintptr_t)tag * 8 + TAG_UNLISTED;
	const union km_value *known;
	union km_value v = { .text = NULL };
	const char *name;
	char *row;

	*fresh = false;
	if (!word.p)
		return NULL;
	known = km_words_find(b->words, key, word.p, word.n);
	if (known) {
		memcpy(&row, &known->text, sizeof row);
		return row;
	}
	row = km_arena_copy(b->mem, blank, 1, size);
	name = km_words_text(b->words, word.p, word.n);
	if (!row || !name) {
		b->nomem = true;
		return NULL;
	}
	memcpy(row + name_at, &name, sizeof name);
	v.text = row;
	if (!km_words_keep(b->words, key, word.p, word.n, v))
		b->nomem = true;
	*fresh = true;
	return row;
}

static void hint_near(struct km_bind *b, struct km_diag *one,
		      const struct km_near *near)
{
	if (near->n)
		KM_HINT(b, one, "did you mean '%s'? Otherwise it is compared "
			"as text", near->best[0]);
	else
		KM_HINT(b, one, "it is compared as text");
}

/* ------------------------------------------------------------------ */

static const struct km_kind *unlisted_kind(struct km_bind *b,
					   const struct km_node *n)
{
	static const struct km_kind blank = {
		.id = KM_KIND_UNLISTED, .american = "", .aliases = "",
		.ends = 2, .identify = "sizes|openings|length", .source = "",
	};
	struct km_near near;
	struct km_diag *one;
	bool fresh;
	unsigned i;
	const struct km_kind *k;

	k = unlisted_row(b, TAG_KIND, km_node_slice(n), &blank, sizeof blank,
			 offsetof(struct km_kind, name), &fresh);
	if (!fresh)
		return k;
	one = KM_SAY(b, n, UNLISTED_KIND, km_clip(b, n));
	if (km_kind_is_vague(km_node_slice(n))) {
		KM_HINT(b, one, "say which, such as 'double open-ended "
			"spanner', 'ring spanner' or 'box spanner'");
		return k;
	}
	km_near_init(&near, n->text);
	for (i = 0; i < KM_KIND_COUNT - 1; i++) {
		km_near_offer(&near, km_kinds[i].name);
		km_near_offer(&near, km_kinds[i].american);
	}
	hint_near(b, one, &near);
	return k;
}

const struct km_kind *km_kind_word(struct km_bind *b, const struct km_field *f,
				   const struct km_node *n)
{
	const union km_value *known;
	union km_value v = { .text = NULL };

	if (!km_want_scalar(b, n, f->key, "a kind of tool"))
		return NULL;
	known = km_words_find(b->words, TAG_KIND, n->text, n->n);
	if (known)
		return known->kind;
	if (too_long(b, n))
		return NULL;
	v.kind = km_kind_find(km_node_slice(n));
	if (!v.kind)
		v.kind = unlisted_kind(b, n);
	if (v.kind && !km_words_keep(b->words, TAG_KIND, n->text, n->n, v))
		b->nomem = true;
	return v.kind;
}

const struct km_drive *km_drive_word(struct km_bind *b,
				     const struct km_field *f,
				     const struct km_node *n)
{
	const struct km_drive *d;
	struct km_diag *one;

	if (!km_want_scalar(b, n, f->key, "a fastener form"))
		return NULL;
	d = km_drive_find(km_node_slice(n));
	if (d)
		return d;
	one = KM_SAY(b, n, NOT_A_CHOICE, km_clip(b, n), f->key);
	KM_HINT(b, one, "one of: hexagon, bihexagon, square, slotted, cross, "
		"hex-socket, plug, hook, pin, none; the form of the tool goes "
		"under 'tool'");
	return NULL;
}

const struct km_material *km_material_word(struct km_bind *b,
					   const struct km_field *f,
					   const struct km_node *n)
{
	static const struct km_material blank = {
		.id = KM_MATERIAL_UNLISTED, .aliases = "", .cautions = "",
		.source = "",
	};
	const struct km_material *m;
	struct km_diag *one;
	struct km_near near;
	bool fresh;
	unsigned i;

	if (!km_want_scalar(b, n, f->key, "a handle material") ||
	    too_long(b, n))
		return NULL;
	m = km_material_find(km_node_slice(n));
	if (m)
		return m;
	m = unlisted_row(b, TAG_MATERIAL, km_node_slice(n), &blank,
			 sizeof blank, offsetof(struct km_material, name),
			 &fresh);
	if (!fresh)
		return m;
	one = KM_SAY(b, n, UNLISTED_MATERIAL, km_clip(b, n));
	km_near_init(&near, n->text);
	for (i = 0; i < KM_MATERIAL_COUNT - 1; i++)
		km_near_offer(&near, km_materials[i].name);
	hint_near(b, one, &near);
	return m;
}

/* ------------------------------------------------------------------ */
/* Finishes                                                            */

static const struct km_finish *finish_word(struct km_bind *b,
					   const struct km_node *n,
					   struct km_slice s)
{
	static const struct km_finish blank = {
		.id = KM_FINISH_UNLISTED, .aliases = "", .low_nm = -1,
		.likely_nm = -1, .high_nm = -1, .bright = -1, .cautions = "",
		.low_source = "none", .likely_source = "none",
		.high_source = "none",
	};
	const struct km_finish *finish = km_finish_find(s);
	struct km_near near;
	struct km_diag *one;
	bool fresh;
	unsigned i;

	if (finish)
		return finish;
	finish = unlisted_row(b, TAG_FINISH, s, &blank, sizeof blank,
			      offsetof(struct km_finish, name), &fresh);
	if (!fresh)
		return finish;
	one = KM_SAY(b, n, UNLISTED_FINISH, km_clip(b, n));
	km_near_init(&near, n->text);
	for (i = 0; i < KM_FINISH_COUNT - 1; i++)
		km_near_offer(&near, km_finishes[i].name);
	hint_near(b, one, &near);
	return finish;
}

/* "black, forged faces": the finish of the faces behind a comma. */
static bool split_faces(struct km_slice *s, struct km_slice *faces)
{
	static const char word[] = " faces";
	const char *comma = memchr(s->p, ',', s->n);
	struct km_slice rest;

	if (!comma)
		return false;
	rest.p = comma + 1;
	rest.n = s->n - (size_t)(rest.p - s->p);
	rest = km_slice_trim(rest);
	if (rest.n < sizeof word ||
	    memcmp(rest.p + rest.n - (sizeof word - 1), word, sizeof word - 1))
		return false;
	rest.n -= sizeof word - 1;
	*faces = km_slice_trim(rest);
	s->n = (size_t)(comma - s->p);
	*s = km_slice_trim(*s);
	return s->n && faces->n;
}

static bool finish_text(struct km_bind *b, const struct km_field *f,
			const struct km_node *n, union km_value *out)
{
	struct km_slice body = km_node_slice(n), faces;
	const union km_value *known;

	if (!km_want_scalar(b, n, f->key, "a finish"))
		return false;
	known = km_words_find(b->words, TAG_FINISH, n->text, n->n);
	if (known) {
		*out = *known;
		return true;
	}
	if (too_long(b, n))
		return false;
	out->finish.faces = split_faces(&body, &faces)
				    ? finish_word(b, n, faces) : NULL;
	out->finish.body = finish_word(b, n, body);
	if (!out->finish.body)
		return false;
	if (!km_words_keep(b->words, TAG_FINISH, n->text, n->n, *out))
		b->nomem = true;
	return true;
}

static void read_part(struct km_bind *b, const struct km_field *f, void *rec,
		      const struct km_node *n)
{
	const struct km_finish **to = (void *)((char *)rec + f->at);
	union km_value v;

	if (finish_text(b, f, n, &v))
		*to = v.finish.body;
}

struct two_finishes { const struct km_finish *body, *faces; };

static const struct km_field finish_fields[] = {
	{ .key = "body", .type = KM_T_OWN, .own = read_part,
	  .flags = KM_REQUIRED, .shape = "a finish",
	  .at = KM_AT(struct two_finishes, body, const struct km_finish *),
	  .example = "black oxide", .doc = "The finish of the tool." },
	{ .key = "faces", .type = KM_T_OWN, .own = read_part,
	  .shape = "a finish",
	  .at = KM_AT(struct two_finishes, faces, const struct km_finish *),
	  .example = "polished", .doc = "The finish of the faces of the head." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_finish = {
	.no = KM_REC_FINISH, .name = "finish",
	.size = sizeof(struct two_finishes), .fields = finish_fields,
	.doc = "A tool whose faces are finished otherwise than its body.",
};

bool km_finish_value(struct km_bind *b, const struct km_field *f,
		     const struct km_node *n, union km_value *out)
{
	struct two_finishes two = { NULL, NULL };

	if (n->type != KM_NODE_MAP)
		return finish_text(b, f, n, out);
	km_bind_record(b, &km_rec_finish, &two, n);
	out->finish.body = two.body;
	out->finish.faces = two.faces;
	return two.body != NULL;
}
