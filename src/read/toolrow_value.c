/* SPDX-License-Identifier: MIT */
/* Cells that need rewriting: lengths, numbers, money, damage, work done. */
#include <string.h>

#include "read/measure.h"
#include "read/toolrow.h"

/* The text with points for decimal commas, and room for `more` bytes. */
static char *with_points(struct km_toolrow *r, struct km_slice s, size_t more)
{
	char *text = km_arena_raw(r->mem, s.n + more + 1, 1);
	size_t i;

	if (!text) {
		r->b->nomem = true;
		return NULL;
	}
	memcpy(text, s.p, s.n);
	text[s.n] = '\0';
	for (i = 1; i < s.n; i++)
		if (text[i] == ',' && i + 1 < s.n && text[i + 1] >= '0' &&
		    text[i + 1] <= '9')
			text[i] = '.';
	return text;
}

/* Both units in one cell: what stands before the bracket, if they agree;
 * false after a message. */
static bool take_first(struct km_toolrow *r, const struct km_column *c,
		       const struct km_cell *cell, struct km_slice *s)
{
	enum { WITHIN_NM = 500000 };	/* [choice] */
	static const struct km_length_rules rules = { KM_UNIT_NONE, true,
						      false };
	const char *open = memchr(s->p, '(', s->n);
	struct km_span x, y;
	struct km_slice first, other;
	struct km_diag *one;

	if (!open || s->p[s->n - 1] != ')')
		return true;
	first = (struct km_slice){ s->p, (size_t)(open - s->p) };
	other = (struct km_slice){ open + 1, s->n - first.n - 2 };
	if (km_reading_parse(first, &rules, &x) != KM_LENGTH_OK ||
	    km_reading_parse(other, &rules, &y) != KM_LENGTH_OK)
		return true;
	*s = km_slice_trim(first);
	if (x.nm - y.nm <= WITHIN_NM && y.nm - x.nm <= WITHIN_NM)
		return true;
	one = km_diag_add(r->b->d, KM_M_UNITS_DISAGREE,
			  (struct km_place){ r->b->file, cell->line,
					     cell->column },
			  cell->text, c->key);
	KM_HINT(r->b, one, "measure it again, and write one of them");
	return false;
}

struct km_node *km_toolrow_measure(struct km_toolrow *r, const struct km_column *c,
			       const struct km_cell *cell, struct km_slice s)
{
	static const struct km_length_rules rules = { KM_UNIT_NONE, true,
						      true };
	const char *unit = c->unit;
	struct km_span span;
	char *text;

	if (!take_first(r, c, cell, &s)) {
		r->wrong = true;
		return NULL;
	}
	if (!unit && r->unit != KM_UNIT_NONE)
		unit = r->unit == KM_UNIT_MM ? "mm" : "in";
	text = with_points(r, s, 8);
	if (!text)
		return NULL;
	if (unit && km_reading_parse(s, &rules, &span) == KM_LENGTH_NO_UNIT) {
		strcat(text, " ");
		strcat(text, unit);
	}
	return km_toolrow_scalar(r, cell, text, strlen(text));
}

struct km_node *km_toolrow_number(struct km_toolrow *r, const struct km_cell *cell,
			      struct km_slice s)
{
	char *text;

	if (km_slice_eat_word(&s, "Ri"))
		s = km_slice_trim(s);
	text = with_points(r, s, 0);
	return text ? km_toolrow_scalar(r, cell, text, strlen(text)) : NULL;
}

/* The signs of pound and euro; a dollar is of many countries. */
struct km_node *km_toolrow_money(struct km_toolrow *r, const struct km_cell *cell,
			     struct km_slice s)
{
	static const struct { const char *sign, *code; } signs[] = {
		{ "\xc2\xa3", " GBP" }, { "\xe2\x82\xac", " EUR" },
	};
	const char *code = NULL;
	size_t i, n;
	char *text;

	for (i = 0; i < sizeof signs / sizeof *signs && !code; i++) {
		n = strlen(signs[i].sign);
		if (km_slice_eat_word(&s, signs[i].sign)) {
			code = signs[i].code;
		} else if (s.n > n &&
			   !memcmp(s.p + s.n - n, signs[i].sign, n)) {
			s.n -= n;
			code = signs[i].code;
		}
	}
	text = with_points(r, km_slice_trim(s), 4);
	if (text && code)
		strcat(text, code);
	return text ? km_toolrow_scalar(r, cell, text, strlen(text)) : NULL;
}

/* ------------------------------------------------------------------ */
/* Phrases                                                             */

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

/* The text up to the first of the words, which stand between blanks. */
static struct km_slice up_to(struct km_slice s, const char *const *stops)
{
	size_t i, k, n;

	for (i = 1; i < s.n; i++) {
		if (!is_blank(s.p[i - 1]))
			continue;
		for (k = 0; stops[k]; k++) {
			n = strlen(stops[k]);
			if (s.n - i > n && !memcmp(s.p + i, stops[k], n) &&
			    is_blank(s.p[i + n]))
				return (struct km_slice){ s.p, i };
		}
	}
	return s;
}

static void put_part(struct km_toolrow *r, struct km_node *map,
		     const struct km_cell *cell, const char *key,
		     struct km_slice s)
{
	s = km_slice_trim(s);
	if (s.n)
		km_toolrow_pair(r, map, cell, key,
			    km_toolrow_scalar(r, cell, s.p, s.n));
}

struct km_node *km_toolrow_damage(struct km_toolrow *r, const struct km_cell *cell,
			      struct km_slice s)
{
	static const char *const stops[] = { "end", "by", "at", NULL };
	static const struct km_column by = { .key = "by" };
	struct km_slice what = up_to(s, stops), part;
	struct km_node *map, *length;

	if (what.n == s.n)
		return km_toolrow_scalar(r, cell, s.p, s.n);
	map = km_toolrow_node(r, KM_NODE_MAP, cell);
	put_part(r, map, cell, "what", what);
	while (map && what.n < s.n) {
		s.p += what.n;
		s.n -= what.n;
		what = up_to(s, stops);
		part = what;
		if (km_slice_eat_word(&part, "end ")) {
			put_part(r, map, cell, "end", part);
		} else if (km_slice_eat_word(&part, "by ")) {
			length = km_toolrow_measure(r, &by, cell,
						km_slice_trim(part));
			if (length)
				km_toolrow_pair(r, map, cell, "by", length);
		} else if (km_slice_eat_word(&part, "at ")) {
			put_part(r, map, cell, "where", part);
		}
	}
	return map;
}

static bool looks_like_day(struct km_slice s)
{
	return s.n >= 4 && s.p[0] >= '0' && s.p[0] <= '9' &&
	       s.p[s.n - 1] >= '0' && s.p[s.n - 1] <= '9';
}

struct km_node *km_toolrow_history(struct km_toolrow *r, const struct km_cell *cell,
			       struct km_slice s)
{
	static const char *const stops[] = { "by", NULL };
	struct km_node *map = km_toolrow_node(r, KM_NODE_MAP, cell);
	struct km_slice what = up_to(s, stops), who, day;
	size_t i;

	if (!map)
		return NULL;
	who = (struct km_slice){ s.p + what.n, s.n - what.n };
	what = km_slice_trim(what);
	for (i = what.n; i && !is_blank(what.p[i - 1]); i--)
		;
	day = (struct km_slice){ what.p + i, what.n - i };
	if (!i || !looks_like_day(day))
		day.n = 0;
	what.n -= day.n;
	put_part(r, map, cell, "process", what);
	put_part(r, map, cell, "dated", day);
	if (km_slice_eat_word(&who, "by "))
		put_part(r, map, cell, "by", who);
	return map;
}
