/* SPDX-License-Identifier: MIT */
/* Single values: texts, numbers, words, dates.  Lengths and money are in
 * measure.c. */
#include <inttypes.h>
#include <string.h>

#include "base/near.h"
#include "base/num.h"
#include "read/bind.h"
#include "read/measure.h"
#include "unit/date.h"
#include "unit/money.h"

struct km_slice km_node_slice(const struct km_node *n)
{
	return (struct km_slice){ n->text, n->n };
}

bool km_node_is(const struct km_node *n, const char *plain_word)
{
	return n->type == KM_NODE_SCALAR && n->style == KM_PLAIN &&
	       strcmp(n->text, plain_word) == 0;
}

const char *km_clip(struct km_bind *b, const struct km_node *n)
{
	enum { MOST = 60 };
	size_t end = MOST;
	char *text;

	if (n->n <= MOST)
		return n->text;
	while (end && ((unsigned char)n->text[end] & 0xc0) == 0x80)
		end--;
	text = km_arena_raw(b->scratch, end + 4, 1);
	if (!text) {
		b->nomem = true;
		return "";
	}
	memcpy(text, n->text, end);
	memcpy(text + end, "...", 4);
	return text;
}

/* ------------------------------------------------------------------ */
/* What kind of thing it is                                            */

static bool is_empty(const struct km_node *n)
{
	if (n->type != KM_NODE_SCALAR || n->n > 4)
		return false;
	return !n->n || km_node_is(n, "null") || km_node_is(n, "~");
}

/* A value that tree.c gave a message for. */
static bool is_reported(const struct km_node *n)
{
	return n->type == KM_NODE_SCALAR && n->style == KM_PLAIN && !n->n;
}

static const char *found(const struct km_node *n)
{
	switch (n->type) {
	case KM_NODE_LIST:
		return "a list";
	case KM_NODE_MAP:
		return "a map";
	default:
		return is_empty(n) ? "an empty value" : "text";
	}
}

void km_say_type(struct km_bind *b, const struct km_node *n, const char *key,
		 const char *takes)
{
	if (!is_reported(n))
		KM_SAY(b, n, WRONG_TYPE, key, takes, found(n));
}

bool km_want_scalar(struct km_bind *b, const struct km_node *n,
		    const char *key, const char *takes)
{
	struct km_diag *one;

	if (n->type != KM_NODE_SCALAR) {
		km_say_type(b, n, key, takes);
		return false;
	}
	if (n->n > 4 || !is_empty(n))
		return true;
	if (is_reported(n))
		return false;
	one = KM_SAY(b, n, EMPTY_VALUE, key);
	KM_HINT(b, one, "leave the key out if nothing is recorded");
	return false;
}

bool km_want_list(struct km_bind *b, const struct km_node *n, const char *key)
{
	if (n->type == KM_NODE_LIST)
		return true;
	km_say_type(b, n, key, "a list");
	return false;
}

bool km_want_map(struct km_bind *b, const struct km_node *n, const char *key)
{
	if (n->type == KM_NODE_MAP)
		return true;
	km_say_type(b, n, key, "a map");
	return false;
}

/* ------------------------------------------------------------------ */
/* Texts, ids, words                                                   */

static const char *read_text(struct km_bind *b, const struct km_node *n,
			     const char *key, uint32_t most)
{
	const char *text;

	if (!km_want_scalar(b, n, key, "text"))
		return NULL;
	if (n->n > most) {
		KM_SAY(b, n, LONG_TEXT, (unsigned)most);
		return NULL;
	}
	if (n->n > b->lim->word_bytes)
		return km_bind_text(b, n->text, n->n);
	text = km_words_text(b->words, n->text, n->n);
	if (!text)
		b->nomem = true;
	return text;
}

static bool id_char(char c, bool first)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
	       (c >= '0' && c <= '9') ||
	       (!first && (c == '.' || c == '_' || c == '-'));
}

bool km_is_id(struct km_slice s)
{
	size_t i;

	for (i = 0; i < s.n; i++)
		if (!id_char(s.p[i], i == 0))
			return false;
	return s.n > 0 && s.n <= KM_ID_BYTES;
}

const char *km_read_id(struct km_bind *b, const struct km_node *n,
		       const char *key)
{
	struct km_diag *one;

	if (!km_want_scalar(b, n, key, "an id"))
		return NULL;
	if (km_is_id(km_node_slice(n)))
		return km_bind_text(b, n->text, n->n);
	one = KM_SAY(b, n, BAD_ID, km_clip(b, n));
	KM_HINT(b, one, "an id has letters, digits, '.', '_' and '-', begins "
		"with a letter or digit and has at most %d characters",
		KM_ID_BYTES);
	b->holes = true;
	return NULL;
}

static bool read_slot_ref(struct km_bind *b, const struct km_field *f,
			  const char **kit, const char **slot,
			  const struct km_node *n)
{
	struct km_slice k, s;
	struct km_diag *one;
	const char *stroke;

	if (!km_want_scalar(b, n, f->key, "kit/slot"))
		return false;
	stroke = strchr(n->text, '/');
	k.p = n->text;
	k.n = stroke ? (size_t)(stroke - n->text) : 0;
	s.p = stroke ? stroke + 1 : "";
	s.n = strlen(s.p);
	if (!km_is_id(k) || !km_is_id(s)) {
		one = KM_SAY(b, n, BAD_SLOT_REF, km_clip(b, n));
		KM_HINT(b, one, "write the id of the kit, '/', and the id of "
			"the slot");
		return false;
	}
	*kit = km_words_text(b->words, k.p, k.n);
	*slot = km_words_text(b->words, s.p, s.n);
	if (!*kit || !*slot)
		b->nomem = true;
	return true;
}

int km_read_choice(struct km_bind *b, const struct km_node *n, const char *key,
		   const char *const *choices)
{
	struct km_near near;
	struct km_diag *one;
	struct km_buf list;
	int i;

	if (!km_want_scalar(b, n, key, "a word"))
		return -1;
	for (i = 0; choices[i]; i++)
		if (choices[i][0] == n->text[0] &&
		    strcmp(choices[i], n->text) == 0)
			return i;
	for (i = 0; choices[i]; i++)
		if (km_fold_compare(km_slice_of(choices[i]),
				    km_node_slice(n)) == 0)
			return i;
	one = KM_SAY(b, n, NOT_A_CHOICE, km_clip(b, n), key);
	km_near_init(&near, n->text);
	km_buf_init(&list, b->scratch);
	for (i = 0; choices[i]; i++) {
		km_near_offer(&near, choices[i]);
		km_buf_printf(&list, "%s%s", i ? ", " : "", choices[i]);
	}
	if (near.n == 1)
		KM_HINT(b, one, "did you mean '%s'?", near.best[0]);
	else if (!km_buf_failed(&list))
		KM_HINT(b, one, "one of: %s", list.text);
	return -1;
}

/* All or nothing: a list with one wrong text is not kept in part. */
static bool read_texts(struct km_bind *b, const struct km_field *f,
		       const char ***to, uint32_t *n_to,
		       const struct km_node *n)
{
	const struct km_node *item;
	const char **v;
	uint32_t i = 0;
	bool one = n->type == KM_NODE_SCALAR && f->flags & KM_LIST_OR_ONE;

	if (!one && !km_want_list(b, n, f->key))
		return false;
	if (!one && !n->n)
		return true;
	v = km_bind_alloc(b, one ? 1 : n->n, sizeof *v);
	if (!v)
		return false;
	for (item = one ? n : n->first; item && i < (one ? 1 : n->n);
	     item = item->next, i++) {
		if (!one)
			b->path[b->depth - 1].index = i;
		v[i] = f->type == KM_T_REFS
			     ? km_read_id(b, item, f->key)
			     : read_text(b, item, f->key, b->lim->word_bytes);
		if (!v[i])
			return false;
	}
	b->path[b->depth - 1].index = -1;
	*to = v;
	*n_to = i;
	return true;
}

/* ------------------------------------------------------------------ */
/* Numbers                                                             */

void km_say_range(struct km_bind *b, const struct km_field *f,
		  const struct km_node *n)
{
	struct km_diag *one = KM_SAY(b, n, OUT_OF_RANGE, km_clip(b, n), f->key);

	if (f->max == INT64_MAX || (!f->min && !f->max))
		KM_HINT(b, one, "it must be %" PRId64 " or more", f->min);
	else
		KM_HINT(b, one, "it must be %" PRId64 " to %" PRId64, f->min,
			f->max);
}

static bool read_integer(struct km_bind *b, const struct km_field *f,
			 const struct km_node *n, int64_t *out)
{
	struct km_slice s = km_node_slice(n);
	bool minus;

	if (!km_want_scalar(b, n, f->key, "a number"))
		return false;
	minus = km_slice_eat(&s, '-');
	switch (n->style == KM_PLAIN ? km_integer(s, out) : KM_EINPUT) {
	case KM_OK:
		break;
	case KM_ERANGE:
		km_say_range(b, f, n);
		return false;
	default:
		KM_SAY(b, n, NOT_A_NUMBER, km_clip(b, n), f->key);
		return false;
	}
	if (minus)
		*out = -*out;
	if (*out < f->min || (f->max && *out > f->max)) {
		km_say_range(b, f, n);
		return false;
	}
	return true;
}

/* A decimal in units of 10^-places, with or without the unit's sign. */
static bool read_scaled(struct km_bind *b, const struct km_field *f,
			const struct km_node *n, int places, const char *unit,
			int32_t *out)
{
	struct km_slice s;
	struct km_rational r;
	int64_t v, scale = 1;
	int behind, i;
	bool minus;

	if (!km_want_scalar(b, n, f->key, "a number"))
		return false;
	s = km_slice_trim(km_node_slice(n));
	minus = km_slice_eat(&s, '-');
	if ((n->style != KM_PLAIN && !unit) ||
	    km_decimal_eat(&s, false, &r, &behind) != KM_OK)
		goto no_number;
	km_slice_skip_blanks(&s);
	if (unit)
		km_slice_eat_word(&s, unit);
	if (s.n)
		goto no_number;
	for (i = 0; i < places; i++)
		scale *= 10;
	if (behind > places || minus || !km_mul_div(r.num, scale, r.den, &v) ||
	    v > INT32_MAX || v < f->min * scale ||
	    (f->max && v > f->max * scale)) {
		km_say_range(b, f, n);
		return false;
	}
	*out = (int32_t)v;
	return true;
no_number:
	KM_SAY(b, n, NOT_A_NUMBER, km_clip(b, n), f->key);
	return false;
}

int km_read_bool(struct km_bind *b, const struct km_node *n, const char *key)
{
	struct km_diag *one;

	if (!km_want_scalar(b, n, key, "yes or no"))
		return -1;
	if (km_node_is(n, "yes") || km_node_is(n, "true"))
		return 1;
	if (km_node_is(n, "no") || km_node_is(n, "false"))
		return 0;
	one = KM_SAY(b, n, NOT_A_CHOICE, km_clip(b, n), key);
	KM_HINT(b, one, "write yes or no, without quotes");
	return -1;
}

/* "14" or "3-7". */
static bool read_days(struct km_bind *b, const struct km_field *f,
		      int32_t *least, int32_t *most, const struct km_node *n)
{
	struct km_slice s;
	struct km_rational r;
	int64_t v[2];
	int places, i;

	if (!km_want_scalar(b, n, f->key, "days"))
		return false;
	s = km_slice_trim(km_node_slice(n));
	for (i = 0; i < 2; i++) {
		if (km_decimal_eat(&s, false, &r, &places) != KM_OK || places)
			goto bad;
		v[i] = r.num;
		km_slice_skip_blanks(&s);
		if (i == 0 && !(most && km_slice_eat(&s, '-'))) {
			v[1] = v[0];
			break;
		}
		km_slice_skip_blanks(&s);
	}
	km_slice_eat_word(&s, "days");
	if (s.n || v[1] < v[0])
		goto bad;
	if (v[1] > f->max) {
		km_say_range(b, f, n);
		return false;
	}
	*least = (int32_t)v[0];
	if (most)
		*most = (int32_t)v[1];
	return true;
bad:
	KM_SAY(b, n, NOT_A_NUMBER, km_clip(b, n), f->key);
	return false;
}

/* ------------------------------------------------------------------ */
/* Dates                                                               */

static void say_date(struct km_bind *b, const struct km_field *f,
		     const struct km_node *n, const char *forms)
{
	struct km_diag *one = KM_SAY(b, n, BAD_DATE, km_clip(b, n), f->key);

	KM_HINT(b, one, "write %s", forms);
}

static bool read_date(struct km_bind *b, const struct km_field *f,
		      struct km_date *to, const struct km_node *n)
{
	if (!km_want_scalar(b, n, f->key, "a date"))
		return false;
	if (km_date_parse(km_node_slice(n), to))
		return true;
	say_date(b, f, n, "year-month-day, such as 1954-03-12");
	return false;
}

/* Two dates that are good by themselves, the later one first. */
static bool say_backwards(struct km_bind *b, const struct km_node *n)
{
	struct km_slice s = km_node_slice(n), end;
	const char *slash = memchr(s.p, '/', s.n);
	struct km_period p;
	char *from, *to;

	if (!slash)
		return false;
	end = (struct km_slice){ slash + 1, s.n - (size_t)(slash + 1 - s.p) };
	s.n = (size_t)(slash - s.p);
	if (!km_period_parse(s, &p) || !km_period_parse(end, &p))
		return false;
	from = km_arena_alloc(b->scratch, s.n + 1, 1);
	to = km_arena_alloc(b->scratch, end.n + 1, 1);
	if (!from || !to) {
		b->nomem = true;
		return true;
	}
	memcpy(from, s.p, s.n);
	memcpy(to, end.p, end.n);
	KM_SAY(b, n, REVERSED, from, to);
	return true;
}

static bool read_period(struct km_bind *b, const struct km_field *f,
			struct km_period *to, const char **text,
			const struct km_node *n)
{
	struct km_period p;

	if (!km_want_scalar(b, n, f->key, "a date or span of dates"))
		return false;
	if (!km_period_parse(km_node_slice(n), &p)) {
		if (say_backwards(b, n))
			return false;
		say_date(b, f, n, "1954, 1954-03, 1954?, 1954~, 195X, "
			 "1952/1955 or 1956/..");
		return false;
	}
	*to = p;
	if (text)
		*text = read_text(b, n, f->key, b->lim->word_bytes);
	return true;
}

/* ------------------------------------------------------------------ */

static bool read_word_or_number(struct km_bind *b, const struct km_field *f,
				void *to, const struct km_node *n)
{
	int64_t v;
	int word;
	unsigned choice;

	switch (f->type) {
	case KM_T_INT:
	case KM_T_BIG:
	case KM_T_SMALL:
		if (!read_integer(b, f, n, &v))
			return false;
		if (f->type == KM_T_INT)
			*(int32_t *)to = (int32_t)v;
		else if (f->type == KM_T_BIG)
			*(int64_t *)to = v;
		else
			*(int8_t *)to = (int8_t)v;
		return true;
	case KM_T_BOOL:
	case KM_T_MAYBE:
		word = km_read_bool(b, n, f->key);
		if (word < 0)
			return false;
		if (f->type == KM_T_BOOL)
			*(bool *)to = word > 0;
		else
			*(int8_t *)to = (int8_t)word;
		return true;
	default:
		word = km_read_choice(b, n, f->key, f->choices);
		if (word < 0)
			return false;
		choice = (unsigned)word + (unsigned)f->min;
		memcpy(to, &choice, sizeof choice);
		return true;
	}
}

bool km_read_value(struct km_bind *b, const struct km_field *f, void *to,
		   void *to2, const struct km_node *n)
{
	const char *text = NULL;

	switch (f->type) {
	case KM_T_TEXT:
		text = read_text(b, n, f->key, b->lim->word_bytes);
		break;
	case KM_T_NOTE:
		text = read_text(b, n, f->key, b->lim->note_bytes);
		break;
	case KM_T_ID:
	case KM_T_REF:
		text = km_read_id(b, n, f->key);
		break;
	case KM_T_SLOT_REF:
		return read_slot_ref(b, f, to, to2, n);
	case KM_T_LENGTH:
		return km_read_length(b, n, f->key, f->flags & KM_ZERO, to);
	case KM_T_SHARE:
		return read_scaled(b, f, n, 2, "%", to);
	case KM_T_CENTS:
		return read_scaled(b, f, n, 2, NULL, to);
	case KM_T_MILLI:
		return read_scaled(b, f, n, 3, NULL, to);
	case KM_T_WEIGHT:
		return km_read_weight(b, n, f->key, to);
	case KM_T_MONEY:
		return km_read_money(b, n, f->key, to);
	case KM_T_MONEY3:
		return km_read_money3(b, n, f->key, to);
	case KM_T_CURRENCY:
		text = km_read_currency(b, n, f->key);
		break;
	case KM_T_DATE:
		return read_date(b, f, to, n);
	case KM_T_PERIOD:
		return read_period(b, f, to, to2, n);
	case KM_T_TEXTS:
	case KM_T_REFS:
		return read_texts(b, f, to, to2, n);
	case KM_T_DAYS:
		return read_days(b, f, to, to2, n);
	default:
		return read_word_or_number(b, f, to, n);
	}
	if (text)
		memcpy(to, &text, sizeof text);
	return text != NULL;
}
