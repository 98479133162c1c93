/* SPDX-License-Identifier: MIT */
#include "read/columns.h"

#include <string.h>

#include "read/rec.h"

static const struct { const char *word, *key; } names[] = {
#define COLUMN(word_, key_) { word_, key_ },
#include "data/columns.def"
#undef COLUMN
};

static const struct { const char *word, *key, *means; } words[] = {
#define CELL(word_, key_, means_) { word_, key_, means_ },
#include "data/cellwords.def"
#undef CELL
};

const char km_cell_damage_hint[] =
	"what it was cannot be recovered: look at the tool, and make the "
	"column one of text";

/* ------------------------------------------------------------------ */
/* Names                                                               */

static const char *alias_of(struct km_slice s)
{
	size_t i;

	for (i = 0; i < sizeof names / sizeof *names; i++)
		if (!km_fold_compare(s, km_slice_of(names[i].word)))
			return names[i].key;
	return NULL;
}

/* Takes "(mm)", "[mm]", "_mm" or " mm" off the end of a name. */
static const char *eat_unit(struct km_slice *s)
{
	static const char *const units[] = { "mm", "in", "cm", "g", "kg", "%",
					     "pct", "deg", "inch", "inches" };
	struct km_slice name = *s;
	size_t i, n;
	bool bracket;

	bracket = name.n > 2 && (name.p[name.n - 1] == ')' ||
				 name.p[name.n - 1] == ']');
	if (bracket)
		name.n--;
	for (i = 0; i < sizeof units / sizeof *units; i++) {
		struct km_slice end = name;

		n = strlen(units[i]);
		if (name.n < n + 2)
			continue;
		end.p += name.n - n;
		end.n = n;
		if (km_fold_compare(end, km_slice_of(units[i])) != 0 ||
		    !strchr(bracket ? "([" : "_ ", end.p[-1]))
			continue;
		s->n = name.n - n - 1;
		*s = km_slice_trim(*s);
		return i == 6 ? "%" : i > 7 ? "in" : units[i];
	}
	return NULL;
}

static bool is_key(const struct km_field *f, struct km_slice s)
{
	return !km_fold_compare(km_slice_of(f->key), s) ||
	       (f->was && !strchr(f->was, '|') &&
		!km_fold_compare(km_slice_of(f->was), s));
}

static const struct km_field *row_in(const struct km_field *f,
				     struct km_slice s)
{
	for (; f->type != KM_T_END; f++)
		if (is_key(f, s))
			return f;
	return NULL;
}

/* 1 of "size 1", 2 of "opening2"; 0: no number. */
static uint8_t number_of(struct km_slice s, const char *word)
{
	if (!km_slice_eat_word(&s, word))
		return 0;
	while (s.n && (s.p[0] == ' ' || s.p[0] == '_' || s.p[0] == '-'))
		s.p++, s.n--;
	return s.n == 1 && s.p[0] >= '1' && s.p[0] <= '9'
		       ? (uint8_t)(s.p[0] - '0') : 0;
}

static void set_split(struct km_column *c)
{
	if (!strcmp(c->key, "damage") || !strcmp(c->key, "photos") ||
	    !strcmp(c->key, "plate_fault"))
		memcpy(c->split, ";,+", 4);
	else if (!strcmp(c->key, "openings") || !strcmp(c->key, "drive"))
		memcpy(c->split, ";/", 3);
	else if (!strcmp(c->key, "history"))
		memcpy(c->split, ";", 2);
}

/* A key by itself or by another name; false: it is none. */
static bool take_key(struct km_column *c, struct km_slice s)
{
	const char *key = alias_of(s);
	const struct km_field *f;

	if (key && !strcmp(key, "grade")) {
		c->goes = KM_TO_GRADE;
		return true;
	}
	if (key)
		s = km_slice_of(key);
	if (!km_fold_compare(s, km_slice_of("system"))) {
		c->goes = KM_TO_SYSTEM;
		c->key = "system";
		return true;
	}
	c->number = number_of(s, "size");
	c->goes = c->number ? KM_TO_SIZE : KM_TO_OPENING;
	c->row = &km_attr_fields[c->number ? KM_A_SIZES : KM_A_OPENINGS];
	c->key = c->row->key;
	if (!c->number)
		c->number = number_of(s, "opening");
	if (c->number)
		return true;
	c->goes = KM_TO_CONDITION;
	f = row_in(km_rec_condition.fields, s);
	if (!f) {
		c->goes = KM_TO_TOOL;
		f = row_in(km_rec_tool.fields, s);
	}
	if (!f)
		f = row_in(km_attr_fields, s);
	if (!f || !strcmp(f->key, "extra"))
		return false;
	c->key = f->key;
	c->row = f;
	set_split(c);
	return true;
}

bool km_column_find(struct km_slice name, struct km_column *c)
{
	struct km_slice s = name;

	memset(c, 0, sizeof *c);
	if (km_slice_eat_word(&s, KM_EXTRA_PREFIX))
		return false;
	/* "rust_pct" and "finish %" are names, not units */
	if (take_key(c, name))
		return true;
	c->unit = eat_unit(&s);
	return c->unit && take_key(c, s);
}

bool km_column_known(struct km_slice name)
{
	struct km_column c;

	return km_column_find(km_slice_trim(name), &c);
}

bool km_column_name(struct km_words *w, struct km_slice name,
		    struct km_column *c)
{
	bool found = km_column_find(name, c);

	if (km_slice_eat_word(&name, KM_EXTRA_PREFIX))
		name = km_slice_trim(name);
	if (found && c->goes != KM_TO_GRADE)
		return true;
	if (!found)
		c->goes = KM_TO_EXTRA;
	c->unit = NULL;
	c->row = NULL;
	c->key = name.n ? km_words_text(w, name.p, name.n) : "unnamed";
	return c->key != NULL;
}

/* ------------------------------------------------------------------ */
/* Cells                                                               */

struct km_slice km_cell_means(const struct km_column *c, struct km_slice s)
{
	size_t i;

	s = km_slice_trim(s);
	if (c->goes == KM_TO_EXTRA || c->goes == KM_TO_GRADE || s.n > 16 ||
	    !strcmp(c->key, "note"))
		return s;
	for (i = 0; i < sizeof words / sizeof *words; i++)
		if ((!words[i].key[0] || !strcmp(words[i].key, c->key)) &&
		    !km_fold_compare(s, km_slice_of(words[i].word)))
			return km_slice_of(words[i].means);
	return s;
}

bool km_cell_is_bare(struct km_slice s)
{
	size_t i;

	for (i = 0; i < s.n; i++)
		if (!strchr("0123456789.,/ -", s.p[i]))
			return false;
	return s.n > 0;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static size_t digits(struct km_slice *s)
{
	size_t n = 0;

	while (s->n && is_digit(s->p[0]))
		s->p++, s->n--, n++;
	return n;
}

/* A month by the first letters of its name. */
static bool eat_month(struct km_slice *s)
{
	static const char *const months[] = {
		"jan", "feb", "mar", "m\xc3\xa4r", "apr", "may", "mai", "jun",
		"jul", "aug", "sep", "oct", "okt", "nov", "dec", "dez"
	};
	size_t i;

	for (i = 0; i < sizeof months / sizeof *months; i++) {
		if (!km_slice_eat_word(s, months[i]))
			continue;
		while (s->n && (s->p[0] | 32) >= 'a' && (s->p[0] | 32) <= 'z')
			s->p++, s->n--;
		return true;
	}
	return false;
}

static bool eat_sign(struct km_slice *s, char *sign)
{
	char c = s->n ? s->p[0] : '\0';

	if (!c || !strchr("-/. ", c) || (*sign && c != *sign))
		return false;
	*sign = c;
	s->p++;
	s->n--;
	return true;
}

/* 5-Nov, Nov-05, 5 Nov 2026, 2026-05-16, 16.05.2026; a time may follow. */
static bool is_date(struct km_slice s)
{
	bool month = false;
	char sign = '\0';
	unsigned parts = 0;
	size_t n;

	do {
		n = digits(&s);
		if (n > 4 || (!n && (month || !eat_month(&s))))
			return false;
		month |= !n;
		parts++;
	} while (parts < 3 && eat_sign(&s, &sign));
	if (parts < (month ? 2 : 3) || (sign == ' ' && !month))
		return false;
	/* behind it nothing, or hours and minutes */
	km_slice_skip_blanks(&s);
	km_slice_eat(&s, 'T');
	return !s.n || (digits(&s) && km_slice_eat(&s, ':') && digits(&s));
}

/* Days since 1900: 20000 is of 1954, 60000 of 2064. */
static bool is_day_number(struct km_slice s)
{
	return s.n == 5 && s.p[0] >= '2' && s.p[0] <= '5' && digits(&s) == 5;
}

static bool has_exponent(struct km_slice s)
{
	if (!digits(&s))
		return false;
	if (km_slice_eat(&s, '.') || km_slice_eat(&s, ','))
		digits(&s);
	if (!km_slice_eat(&s, 'E') && !km_slice_eat(&s, 'e'))
		return false;
	if (!km_slice_eat(&s, '+'))
		km_slice_eat(&s, '-');
	return digits(&s) && !s.n;
}

static bool holds_measures(const struct km_column *c)
{
	const struct km_field *f;

	if (c->goes == KM_TO_SIZE || c->goes == KM_TO_OPENING)
		return true;
	if (c->goes == KM_TO_CONDITION)
		return !strcmp(c->key, "pit_depth") ||
		       !strcmp(c->key, "mark_depth");
	if (c->goes != KM_TO_TOOL)
		return false;
	f = row_in(km_attr_fields, km_slice_of(c->key));
	return f && f->attr >= KM_A_SIZES && f->attr <= KM_A_DEPTH;
}

const char *km_cell_damage(const struct km_column *c, struct km_slice s)
{
	s = km_slice_trim(s);
	if (!s.n || !holds_measures(c))
		return NULL;
	if (is_date(s))
		return "a date that a spreadsheet made of a size";
	if (is_day_number(s))
		return "a day number that a spreadsheet made of a size";
	if (has_exponent(s))
		return "a number with an exponent, as spreadsheets write them";
	return NULL;
}
