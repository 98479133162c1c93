/* SPDX-License-Identifier: MIT */
#include "read/notes.h"

#include <string.h>

#include "read/attr.h"
#include "read/measure.h"
#include "trade/finish.h"
#include "trade/kind.h"
#include "trade/size.h"

enum { WORDS = 128, JOIN = 5 };

static const struct { const char *word, *kinds; } spoken[] = {
#define SPOKEN(word_, kind_) { word_, kind_ },
#define KEYWORD(word_, column_)
#include "data/notewords.def"
#undef SPOKEN
#undef KEYWORD
};

static const struct { const char *word, *column; } keywords[] = {
#define SPOKEN(word_, kind_)
#define KEYWORD(word_, column_) { word_, column_ },
#include "data/notewords.def"
#undef SPOKEN
#undef KEYWORD
};

/* One line, cut into words; a word knows its place. */
struct line {
	struct km_notes *t;
	struct km_cell word[WORDS];
	uint32_t n, at;
	const struct km_kind *kind;
	const char *kinds;		/* of a spoken word, until the sizes
					 * are counted */
	struct km_cell kind_cell;
	uint32_t sizes;
};

static struct km_slice slice(const struct km_cell *w)
{
	return (struct km_slice){ w->text, w->n };
}

/* Words first to first + n - 1 as they stand in the line. */
static struct km_slice joined(const struct line *l, uint32_t first, uint32_t n)
{
	const struct km_cell *a = &l->word[first], *b = &l->word[first + n - 1];

	return (struct km_slice){ a->text, (size_t)(b->text + b->n - a->text) };
}

static void cut(struct line *l, const struct km_cell *all)
{
	const char *p = all->text, *end = p + all->n, *close;
	struct km_cell *w;

	while (l->n < WORDS) {
		while (p < end && (*p == ' ' || *p == '\t'))
			p++;
		if (p == end)
			return;
		w = &l->word[l->n++];
		*w = (struct km_cell){ p, 0, all->line, all->column, false };
		w->column += (uint32_t)km_utf8_count(all->text,
						     (size_t)(p - all->text));
		close = *p == '"' ? memchr(p + 1, '"', (size_t)(end - p - 1))
				  : NULL;
		if (close) {
			w->quoted = true;
			w->n = (uint32_t)(close + 1 - p);
		} else {
			while (p + w->n < end && p[w->n] != ' ' &&
			       p[w->n] != '\t')
				w->n++;
		}
		p += w->n;
	}
}

/* Quotation marks hold words together; around a word that is a state they
 * also say that the word itself is meant. */
static struct km_slice without_marks(struct km_slice s)
{
	struct km_slice in = { s.p + 1, s.n - 2 };

	if (s.n < 3 || s.p[0] != '"' || s.p[s.n - 1] != '"' ||
	    memchr(in.p, '"', in.n) || km_slice_is(in, "none") ||
	    km_slice_is(in, "illegible"))
		return s;
	return in;
}

static void put(struct line *l, const char *column, const struct km_cell *at,
		struct km_slice s)
{
	struct km_cell cell = *at;
	struct km_column c;
	char *text;

	s = without_marks(s);
	text = km_arena_text(l->t->row.mem, s.p, s.n);
	if (!text || !km_column_find(km_slice_of(column), &c)) {
		l->t->row.b->nomem |= !text;
		return;
	}
	cell.text = text;
	cell.n = (uint32_t)s.n;
	km_toolrow_look(&l->t->row, &c, &cell);
	km_toolrow_put(&l->t->row, &c, &cell);
}

/* ------------------------------------------------------------------ */
/* What a word may be                                                  */

static const char *column_of_keyword(const struct km_cell *w)
{
	size_t i;

	for (i = 0; i < sizeof keywords / sizeof *keywords; i++)
		if (!w->quoted && !km_fold_compare(slice(w), km_slice_of(
							 keywords[i].word)))
			return keywords[i].column;
	return NULL;
}

static bool is_damage(struct km_slice s)
{
	static const char *const words[] = {
		"spread", "cracked", "bent soft", "bent hard", "rounded",
		"mushroomed", "chipped small", "chipped large", "ground", NULL
	};
	size_t i;

	for (i = 0; words[i]; i++)
		if (!km_fold_compare(s, km_slice_of(words[i])))
			return true;
	return false;
}

/* The first kind with one size, the second with more. */
static struct km_slice kind_by_count(const struct line *l)
{
	const char *bar = strchr(l->kinds, '|');
	struct km_slice s = km_slice_of(l->kinds);

	if (!bar)
		return s;
	if (l->sizes > 1)
		return km_slice_of(bar + 1);
	s.n = (size_t)(bar - l->kinds);
	return s;
}

static bool take_kind(struct line *l)
{
	uint32_t n = l->n - l->at < JOIN ? l->n - l->at : JOIN;
	const struct km_kind *kind = NULL;
	size_t i;

	if (l->kind)
		return false;
	for (; n && !kind; n--)
		if ((kind = km_kind_find(joined(l, l->at, n))))
			break;
	for (i = 0; !kind && i < sizeof spoken / sizeof *spoken; i++)
		if (!km_fold_compare(slice(&l->word[l->at]),
				     km_slice_of(spoken[i].word)))
			l->kinds = spoken[i].kinds;
	if (!kind && !l->kinds)
		return false;
	l->kind_cell = l->word[l->at];
	if (kind) {
		put(l, "tool", &l->kind_cell, joined(l, l->at, n));
	} else {
		n = 1;
		kind = km_kind_find(kind_by_count(l));
	}
	l->kind = kind;
	if (!l->t->row.drive && kind)
		l->t->row.drive = kind->drive;
	l->at += n;
	return true;
}

/* A size of the tool: "1/4W", "1 1/8 AF", "0.8x5.5", "PH 2", "10mm" while
 * an end is without one; more than 80 mm is a length [choice]. */
static bool take_size(struct line *l)
{
	struct km_size_rules rules = { l->t->row.drive, true,
				       l->t->row.unit };
	struct km_size size;
	struct km_slice s;
	uint32_t n = l->n - l->at < 3 ? l->n - l->at : 3, most;

	most = l->kinds && strchr(l->kinds, '|') ? 2
	       : l->kind ? l->kind->ends : 0;
	if (l->sizes >= most || l->word[l->at].quoted)
		return false;
	for (; n; n--) {
		s = joined(l, l->at, n);
		if (km_size_parse(s, &rules, l->t->row.mem, &size) ==
			    KM_SIZE_OK &&
		    !(size.system == KM_SYS_METRIC &&
		      size.nominal_nm > KM_MM(80)))
			break;
	}
	if (!n)
		return false;
	put(l, "sizes", &l->word[l->at], s);
	l->sizes++;
	l->at += n;
	return true;
}

/* "148mm", "5 1/2 in" without a word before it: the length overall. */
static bool take_length(struct line *l)
{
	const struct km_length_rules rules = { l->t->row.unit, true, false };
	uint32_t n = l->n - l->at < 3 ? l->n - l->at : 3;
	struct km_span span;

	for (; n; n--)
		if (km_reading_parse(joined(l, l->at, n), &rules, &span) ==
		    KM_LENGTH_OK)
			break;
	if (!n)
		return false;
	put(l, "length", &l->word[l->at], joined(l, l->at, n));
	l->at += n;
	if (l->at < l->n && km_slice_is(slice(&l->word[l->at]), "long"))
		l->at++;
	return true;
}

/* "black oxide", "bent soft", "reproduction", "no mark". */
static bool take_words(struct line *l)
{
	uint32_t n = l->n - l->at < JOIN ? l->n - l->at : JOIN;
	struct km_slice s;

	for (; n; n--) {
		s = joined(l, l->at, n);
		if (km_finish_find(s))
			put(l, "finish", &l->word[l->at], s);
		else if (is_damage(s))
			put(l, "damage", &l->word[l->at], s);
		else if (!km_fold_compare(s, km_slice_of("no mark")) ||
			 !km_fold_compare(s, km_slice_of("unmarked")))
			put(l, "mark", &l->word[l->at], km_slice_of("none"));
		else if (km_slice_is(s, "original") ||
			 km_slice_is(s, "period") ||
			 km_slice_is(s, "reproduction"))
			put(l, "made", &l->word[l->at], s);
		else
			continue;
		l->at += n;
		return true;
	}
	return false;
}

/* How many words the value of a keyword has: one, but for measures, and for
 * names of finishes, materials and damage in several words. */
static uint32_t words_of_value(const struct line *l, const char *column)
{
	const struct km_length_rules rules = { l->t->row.unit, true, false };
	uint32_t n = l->n - l->at < JOIN ? l->n - l->at : JOIN;
	struct km_span span;
	struct km_slice s;

	for (; n > 1; n--) {
		s = joined(l, l->at, n);
		if (!strcmp(column, "finish") ? !!km_finish_find(s)
		    : !strcmp(column, "handle_material")
			    ? !!km_material_find(s)
		    : !strcmp(column, "damage") ? is_damage(s)
		    : km_reading_parse(s, &rules, &span) == KM_LENGTH_OK ||
		      (n == 2 && km_slice_is(slice(&l->word[l->at + 1]), "%")))
			break;
	}
	return n;
}

/* "measured 13.50mm 15.59mm": lengths as long as there are any. */
static void take_openings(struct line *l)
{
	const struct km_length_rules rules = { l->t->row.unit, true, false };
	struct km_span span;
	uint32_t n, count = 0;

	while (l->at < l->n && count++ < 2) {
		n = words_of_value(l, "openings");
		if (km_reading_parse(joined(l, l->at, n), &rules, &span) !=
			    KM_LENGTH_OK &&
		    !km_slice_is(slice(&l->word[l->at]), "?"))
			return;
		put(l, "openings", &l->word[l->at], joined(l, l->at, n));
		l->at += n;
	}
}

static void say_word(struct line *l, const struct km_cell *w, const char *hint)
{
	struct km_bind *b = l->t->row.b;
	struct km_node at = { .line = w->line, .column = w->column };
	struct km_diag *one;

	at.text = km_arena_text(l->t->row.mem, w->text, w->n);
	at.n = w->n;
	if (!at.text) {
		b->nomem = true;
		return;
	}
	one = km_diag_add(b->d, KM_M_NOTE_WORD,
			  (struct km_place){ b->file, w->line, w->column },
			  km_clip(b, &at));
	KM_HINT(b, one, "%s", hint);
	l->t->row.wrong = true;
}

static bool take_keyword(struct line *l)
{
	const struct km_cell *word = &l->word[l->at];
	const char *column = column_of_keyword(word);
	uint32_t n;

	if (!column)
		return false;
	if (++l->at == l->n) {
		say_word(l, word, "a value must follow");
		return true;
	}
	if (!column[0]) {
		put(l, "note", &l->word[l->at],
		    joined(l, l->at, l->n - l->at));
		l->at = l->n;
	} else if (!strcmp(column, "openings")) {
		take_openings(l);
	} else {
		n = words_of_value(l, column);
		put(l, column, &l->word[l->at], joined(l, l->at, n));
		l->at += n;
	}
	return true;
}

/* The number on the tag: the first word, if there is a digit in it and it is
 * neither a kind nor a size. */
static void take_id(struct line *l)
{
	const struct km_length_rules rules = { KM_UNIT_NONE, true, false };
	struct km_slice s = slice(&l->word[0]);
	struct km_span span;
	bool digit = false;
	size_t i;

	for (i = 0; i < s.n; i++)
		digit |= s.p[i] >= '0' && s.p[i] <= '9';
	if (!digit || !km_is_id(s) || km_kind_find(s) ||
	    km_reading_parse(s, &rules, &span) == KM_LENGTH_OK)
		return;
	put(l, "id", &l->word[0], s);
	l->at = 1;
}

/* "1/4" at the place of a size: its letters are missing. */
static bool say_fraction(struct line *l)
{
	struct km_size_rules rules = { l->t->row.drive, true, l->t->row.unit };
	const struct km_cell *w = &l->word[l->at];
	struct km_node at = { .line = w->line, .column = w->column };
	struct km_size size;
	struct km_slice s;
	uint32_t n;

	for (n = 1; (l->kind || l->kinds) && n < 3 && l->at + n <= l->n; n++) {
		s = joined(l, l->at, n);
		if (km_size_parse(s, &rules, l->t->row.mem, &size) !=
		    KM_SIZE_BARE_FRACTION)
			continue;
		at.text = km_arena_text(l->t->row.mem, s.p, s.n);
		at.n = (uint32_t)s.n;
		if (at.text)
			km_say_size(l->t->row.b, &at, l->t->row.drive,
				    KM_SIZE_BARE_FRACTION);
		else
			l->t->row.b->nomem = true;
		l->t->row.wrong = true;
		return true;
	}
	return false;
}

/* A word that stands for nothing where it is. */
static void say_unknown(struct line *l)
{
	const struct km_cell *w = &l->word[l->at];

	if (say_fraction(l))
		return;
	if (!l->kind && !l->kinds && km_kind_is_vague(slice(w)))
		say_word(l, w, "say which, such as 'double open-ended "
			 "spanner', 'ring spanner' or 'box spanner'; 'open' "
			 "and 'ring' alone will do");
	else
		say_word(l, w, "a value needs a word before it, such as mark, "
			 "rust, in or note; text of several words stands in "
			 "quotation marks");
}

static void read_line(struct line *l)
{
	take_id(l);
	while (l->at < l->n && !l->t->row.wrong && !l->t->row.b->nomem)
		if (!take_keyword(l) && !take_kind(l) && !take_size(l) &&
		    !take_length(l) && !take_words(l))
			say_unknown(l);
	if (l->kinds && !l->t->row.wrong)
		put(l, "tool", &l->kind_cell, kind_by_count(l));
}

/* ------------------------------------------------------------------ */

enum km_status km_notes_open(struct km_notes *t, struct km_bind *b,
			     const struct km_input *in, struct km_arena *mem)
{
	enum km_status st;

	memset(t, 0, sizeof *t);
	t->row.b = b;
	t->row.mem = km_arena_new(b->lim);
	if (!t->row.mem)
		return KM_ENOMEM;
	st = km_csv_open(&t->csv, in, b->file, b->lim, mem, b->d);
	t->csv.lines = true;
	t->csv.delimiter = '\0';
	return st;
}

enum km_table_got km_notes_next(struct km_notes *t, struct km_node **node)
{
	struct line *l;

	do {
		t->status = km_csv_next(&t->csv);
		if (t->status != KM_OK)
			return KM_TABLE_FAILED;
		if (!t->csv.n)
			return KM_TABLE_END;
	} while (t->csv.cell[0].text[0] == '#');
	km_arena_reset(t->row.mem);
	l = km_arena_alloc(t->row.mem, 1, sizeof *l);
	if (l) {
		l->t = t;
		cut(l, &t->csv.cell[0]);
		km_toolrow_begin(&t->row, &t->csv.cell[0]);
		read_line(l);
	}
	*node = l ? km_toolrow_end(&t->row) : NULL;
	if (*node)
		return t->row.wrong ? KM_TABLE_WRONG : KM_TABLE_ROW;
	t->status = KM_ENOMEM;
	return KM_TABLE_FAILED;
}

void km_notes_close(struct km_notes *t)
{
	km_arena_free(t->row.mem);
	t->row.mem = NULL;
}
