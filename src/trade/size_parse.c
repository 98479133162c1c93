/* SPDX-License-Identifier: MIT */
#include "trade/size.h"

#include <string.h>

#include "base/num.h"
#include "trade/size_table.h"
#include "trade/size_text.h"

#define WIDTH_MAX KM_MM(1000)

struct reader {
	struct km_slice s;		/* what is still to be read */
	const struct km_size_rules *rules;
	struct km_arena *a;
	struct km_size *out;
};

/* One number with what is behind it. */
struct figure {
	struct km_rational n;
	bool fraction, point_first;	/* "7/16"; ".525" */
	bool unit_given, inch;
	enum km_system system;		/* of the letters; KM_SYSTEMS: none */
	struct km_slice letters;
};

/* ------------------------------------------------------------------ */
/* Letters and signs                                                   */

/* A multiplication sign between two figures. */
static bool eat_times(struct km_slice *s)
{
	return km_slice_eat(s, 'x') || km_slice_eat(s, 'X')
	       || km_slice_eat_word(s, "\xC3\x97");
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Does a number start here, perhaps behind blanks? */
static bool number_follows(struct km_slice s)
{
	struct km_slice rest = s;
	struct km_rational r;
	bool fraction;
	int places;

	km_slice_skip_blanks(&rest);
	return km_mixed_eat(&rest, false, &r, &fraction, &places)
	       != KM_EINPUT;
}

/* Between the ends of a tool: x, or a dash or stroke before a number. */
static bool pair_follows(struct km_slice s)
{
	km_slice_skip_blanks(&s);
	if (eat_times(&s))
		return number_follows(s);
	if (km_slice_eat(&s, '-') || km_slice_eat(&s, '/')
	    || km_slice_eat_word(&s, "..")
	    || km_slice_eat_word(&s, "\xE2\x80\x93"))	/* en dash */
		return number_follows(s);
	return false;
}

/* Inch signs: straight, curly, double prime, two primes or apostrophes. */
static bool eat_inch_sign(struct km_slice *s)
{
	static const char *const signs[] = {
		"\"", "\xE2\x80\x9D", "\xE2\x80\xB3",
		"\xE2\x80\xB2\xE2\x80\xB2", "''"
	};

	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (km_slice_eat_word(s, signs[i]))
			return true;
	return false;
}

static bool same_letters(struct km_slice a, const char *b, size_t n)
{
	if (a.n != n)
		return false;
	for (size_t i = 0; i < n; i++) {
		char c = a.p[i];

		if (c >= 'a' && c <= 'z')
			c = (char)(c - 'a' + 'A');
		if (c != b[i])
			return false;
	}
	return true;
}

/* The system that letters name; KM_SYSTEMS: none. */
static enum km_system system_of(struct km_slice letters)
{
	static const struct { enum km_system system; const char *list; } m[] = {
#define SYSTEM_MARK(system, list, source) { KM_SYS_##system, list },
#include "data/size_marks.def"
#undef SYSTEM_MARK
	};

	for (size_t i = 0; i < sizeof m / sizeof *m; i++) {
		const char *p = m[i].list;

		while (*p) {
			size_t n = strcspn(p, "|");

			if (same_letters(letters, p, n))
				return m[i].system;
			p += n + (p[n] == '|');
		}
	}
	return KM_SYSTEMS;
}

/* "mm left": is a system's name followed by more words? */
static bool known_and_more(struct km_slice letters)
{
	const char *gap = memchr(letters.p, ' ', letters.n);

	if (!gap)
		return false;
	letters.n = (size_t)(gap - letters.p);
	return system_of(letters) != KM_SYSTEMS;
}

/* Letters up to the next figure, the end, or the sign between two ends. */
static struct km_slice eat_letters(struct km_slice *s)
{
	struct km_slice word = { s->p, 0 };

	while (s->n && !is_digit(*s->p) && !pair_follows(*s)
	       && (unsigned char)*s->p < 0x80) {
		s->p++;
		s->n--;
		word.n++;
	}
	return km_slice_trim(word);
}

/* ------------------------------------------------------------------ */
/* Figures                                                             */

static enum km_size_fault eat_number(struct reader *r, struct figure *f)
{
	int places;
	enum km_status st;

	km_slice_skip_blanks(&r->s);
	f->point_first = r->s.n && *r->s.p == '.';
	st = km_mixed_eat(&r->s, r->rules->comma, &f->n, &f->fraction, &places);
	if (st == KM_EINPUT)
		return KM_SIZE_NO_NUMBER;
	if (st != KM_OK)
		return KM_SIZE_RANGE;
	if (r->s.n > 1 && *r->s.p == ',' && is_digit(r->s.p[1]))
		return KM_SIZE_COMMA;
	return KM_SIZE_OK;
}

/* The unit and letters behind a number. */
static enum km_size_fault eat_suffix(struct reader *r, struct figure *f)
{
	bool sign = eat_inch_sign(&r->s);

	f->system = KM_SYSTEMS;
	f->inch = sign;
	f->letters = eat_letters(&r->s);
	if (f->letters.n) {
		f->system = system_of(f->letters);
		if (f->system == KM_SYSTEMS)
			return known_and_more(f->letters) ? KM_SIZE_TRAILING
							  : KM_SIZE_LETTERS;
		/* 5/16" W: the sign adds nothing to a thread's name */
		f->inch |= f->system == KM_SYS_AF;
		if (sign && f->system == KM_SYS_METRIC)
			return KM_SIZE_LETTERS;
	} else if (sign) {
		f->system = KM_SYS_AF;
	}
	f->unit_given = f->system != KM_SYSTEMS;
	if (!f->unit_given)
		f->inch = r->rules->bare == KM_UNIT_IN;
	return KM_SIZE_OK;
}

/* A figure as an exact length. */
static enum km_size_fault length_of(const struct figure *f, int64_t *nm)
{
	int64_t unit = f->inch ? KM_NM_PER_IN : KM_NM_PER_MM, v;

	if (!km_mul(f->n.num, unit, &v) || v % f->n.den)
		return KM_SIZE_RANGE;
	v /= f->n.den;
	if (v <= 0 || v > WIDTH_MAX)
		return KM_SIZE_RANGE;
	*nm = v;
	return KM_SIZE_OK;
}

/* ------------------------------------------------------------------ */
/* What the drive allows                                               */

static bool drive_is(const struct reader *r, enum km_drive_id id)
{
	return r->rules->drive && r->rules->drive->id == id;
}

/* Can a spanner with jaws or a box be meant? */
static bool takes_hexagons(const struct reader *r)
{
	return !r->rules->drive || drive_is(r, KM_DRIVE_HEXAGON)
	       || drive_is(r, KM_DRIVE_BIHEXAGON)
	       || drive_is(r, KM_DRIVE_SQUARE) || drive_is(r, KM_DRIVE_PLUG);
}

static enum km_size_fault finish(struct reader *r, const char *text)
{
	if (!text)
		return KM_SIZE_NO_MEMORY;
	r->out->text = text;
	km_size_fill(r->out);
	return KM_SIZE_OK;
}

static enum km_size_fault at_end(struct reader *r)
{
	if (pair_follows(r->s))
		return KM_SIZE_PAIR;
	km_slice_skip_blanks(&r->s);
	return r->s.n ? KM_SIZE_TRAILING : KM_SIZE_OK;
}

/* ------------------------------------------------------------------ */
/* One form each                                                       */

/* PH 2, PZ1, JIS 2, JIS H 2, JIS S, H 2; false: no letters of a cross. */
static bool eat_cross(struct reader *r, enum km_system *system)
{
	if (km_slice_eat_word(&r->s, "PH")) {
		*system = KM_SYS_PH;
	} else if (km_slice_eat_word(&r->s, "PZ")) {
		*system = KM_SYS_PZ;
	} else if (km_slice_eat_word(&r->s, "JIS")) {
		km_slice_skip_blanks(&r->s);
		*system = km_slice_eat_word(&r->s, "S") ? KM_SYS_JIS_S
							: KM_SYS_JIS_H;
		if (*system == KM_SYS_JIS_H)
			km_slice_eat_word(&r->s, "H");
	} else if (drive_is(r, KM_DRIVE_CROSS)
		   && km_slice_eat_word(&r->s, "H")) {
		*system = KM_SYS_JIS_H;
	} else {
		return false;
	}
	return true;
}

/* The end, or "x PH 2": another end. */
static enum km_size_fault cross_end(struct reader *r)
{
	struct km_slice rest;

	km_slice_skip_blanks(&r->s);
	rest = r->s;
	if ((eat_times(&rest) || km_slice_eat(&rest, '-')
	     || km_slice_eat(&rest, '/')) && rest.n)
		return KM_SIZE_PAIR;
	return rest.n ? KM_SIZE_TRAILING : KM_SIZE_OK;
}

static enum km_size_fault read_cross(struct reader *r, enum km_system system)
{
	struct figure f = { .n = { 0, 1 } };
	enum km_size_fault fault = KM_SIZE_OK;

	if (r->rules->drive && !drive_is(r, KM_DRIVE_CROSS))
		return KM_SIZE_WRONG_FORM;
	km_slice_eat(&r->s, '-');
	if (system != KM_SYS_JIS_S)
		fault = eat_number(r, &f);
	if (!fault)
		fault = cross_end(r);
	if (fault)
		return fault;
	if (f.n.num % f.n.den || !km_cross_listed(system, f.n.num / f.n.den))
		return KM_SIZE_NOT_LISTED;
	r->out->system = system;
	r->out->number = (int32_t)(f.n.num / f.n.den);
	return finish(r, km_size_text(r->a, r->out, 0, 0, false));
}

/* M8 */
static enum km_size_fault read_thread(struct reader *r)
{
	struct figure f = { .inch = false };
	enum km_size_fault fault;
	int64_t nm = 0;

	if (!takes_hexagons(r))
		return KM_SIZE_WRONG_FORM;
	fault = eat_number(r, &f);
	if (!fault)
		fault = at_end(r);
	if (!fault)
		fault = f.fraction ? KM_SIZE_NOT_LISTED : length_of(&f, &nm);
	if (fault)
		return fault;
	r->out->system = KM_SYS_THREAD;
	r->out->b_nm = nm;
	return finish(r, r->out->text = km_size_text(r->a, r->out, 0, nm,
						     false));
}

/* The second figure of 0.8 x 5.5 mm or 45-50 mm: the unit goes for both. */
static enum km_size_fault read_two(struct reader *r, struct figure *one,
				   enum km_system system)
{
	struct figure two;
	enum km_size_fault fault = eat_number(r, &two);
	int64_t a = 0, b = 0;

	if (!fault)
		fault = eat_suffix(r, &two);
	if (!fault)
		fault = at_end(r);
	if (fault)
		return fault;
	if (two.system > KM_SYS_AF && two.system != KM_SYSTEMS)
		return KM_SIZE_WRONG_FORM;
	if (!one->unit_given)
		one->inch = two.inch;
	else if (!two.unit_given)
		two.inch = one->inch;
	fault = length_of(one, &a);
	if (!fault)
		fault = length_of(&two, &b);
	if (!fault && system == KM_SYS_HOOK && a > b)
		fault = KM_SIZE_RANGE;
	if (fault)
		return fault;
	r->out->system = system;
	r->out->nominal_nm = a;
	r->out->b_nm = b;
	return finish(r, km_size_text(r->a, r->out, a, b, two.inch));
}

/* W and BS: the second name, if one follows, must be of the same jaw. */
static enum km_size_fault read_second_name(struct reader *r,
					   enum km_system first,
					   const struct km_whitworth *jaw)
{
	struct figure f;
	char mark[KM_MARK_ROOM];
	enum km_size_fault fault;

	km_slice_skip_blanks(&r->s);
	if (!r->s.n || !number_follows(r->s))
		return at_end(r);
	fault = eat_number(r, &f);
	if (!fault)
		fault = eat_suffix(r, &f);
	if (!fault)
		fault = at_end(r);
	if (fault)
		return fault;
	if (f.system == first
	    || (f.system != KM_SYS_W && f.system != KM_SYS_BS))
		return f.system == KM_SYSTEMS ? KM_SIZE_BARE_FRACTION
					      : KM_SIZE_TWO_JAWS;
	km_mark_put(f.n, mark);
	if (km_whitworth_find(f.system, mark) != jaw)
		return KM_SIZE_TWO_JAWS;
	r->out->second = km_size_text_mark(r->a, mark, f.system);
	return r->out->second ? KM_SIZE_OK : KM_SIZE_NO_MEMORY;
}

static enum km_size_fault read_whitworth(struct reader *r,
					 const struct figure *f)
{
	const struct km_whitworth *jaw;
	char mark[KM_MARK_ROOM];
	enum km_size_fault fault;

	km_mark_put(f->n, mark);
	jaw = f->n.num ? km_whitworth_find(f->system, mark) : NULL;
	if (!jaw)
		return KM_SIZE_NOT_LISTED;
	r->out->system = f->system;
	r->out->nominal_nm = jaw->width_nm;
	fault = read_second_name(r, f->system, jaw);
	if (fault)
		return fault;
	return finish(r, km_size_text_mark(r->a, mark, f->system));
}

static enum km_size_fault read_ba(struct reader *r, const struct figure *f)
{
	int64_t width = f->n.num % f->n.den ? 0 : km_ba_width(f->n.num
							       / f->n.den);

	if (!width)
		return KM_SIZE_NOT_LISTED;
	r->out->system = KM_SYS_BA;
	r->out->number = (int32_t)(f->n.num / f->n.den);
	r->out->nominal_nm = width;
	return finish(r, km_size_text(r->a, r->out, width, 0, false));
}

/*
 * An old American bolt size.  Only USS has a rule of widths that is known:
 * 1.5 D + 1/8 in [memory]; SAE and cap screws had others, so that their width
 * stays unknown.
 */
static enum km_size_fault read_bolt_size(struct reader *r,
					 const struct figure *f)
{
	struct figure inch = *f;
	char mark[KM_MARK_ROOM], text[KM_MARK_ROOM + 16];
	size_t n;
	int64_t nm = 0;
	enum km_size_fault fault;

	inch.inch = true;
	fault = length_of(&inch, &nm);
	if (fault)
		return fault;
	r->out->system = KM_SYS_USS;
	r->out->b_nm = nm;
	km_mark_put(f->n, mark);
	n = strlen(mark);
	memcpy(text, mark, n);
	text[n++] = ' ';
	for (size_t i = 0; i < f->letters.n; i++) {
		char c = f->letters.p[i];

		if (c >= 'a' && c <= 'z')
			c = (char)(c - 'a' + 'A');
		text[n++] = c;
	}
	if (same_letters(f->letters, "USS", 3))
		r->out->nominal_nm = nm * 3 / 2 + KM_NM_PER_IN / 8;
	return finish(r, r->out->text = km_arena_text(r->a, text, n));
}

/* ------------------------------------------------------------------ */
/* Plain widths                                                        */

/* Is a bare figure enough?  A fraction is, where only one thing is meant. */
static enum km_size_fault check_bare(const struct reader *r,
				     const struct figure *f)
{
	if (f->unit_given)
		return KM_SIZE_OK;
	if (f->point_first && r->rules->bare == KM_UNIT_NONE)
		return KM_SIZE_NO_UNIT;
	if (f->fraction && r->rules->bare != KM_UNIT_IN)
		return KM_SIZE_BARE_FRACTION;
	return KM_SIZE_OK;
}

/* A plug and a square drive are named by few fractions, which are theirs
 * alone; the width they mean, or 0. */
static int64_t special_width(const struct reader *r, int64_t nm, bool inch)
{
	if (drive_is(r, KM_DRIVE_PLUG))
		return km_plug_width(nm, inch);
	return drive_is(r, KM_DRIVE_SQUARE) ? km_square_width(nm) : 0;
}

static enum km_size_fault read_special(struct reader *r, struct figure *f,
				       bool *done)
{
	int64_t nm = 0, width;
	bool bare_fraction = f->fraction && !f->unit_given;

	*done = false;
	if (bare_fraction)
		f->inch = true;
	if (length_of(f, &nm))
		return KM_SIZE_OK;
	width = special_width(r, nm, f->inch);
	if (!width) {
		if (bare_fraction)
			f->inch = r->rules->bare == KM_UNIT_IN;
		return KM_SIZE_OK;
	}
	*done = true;
	r->out->system = drive_is(r, KM_DRIVE_PLUG) ? KM_SYS_PLUG
						    : KM_SYS_SQUARE;
	r->out->nominal_nm = width;
	return finish(r, km_size_text(r->a, r->out, nm, 0, f->inch));
}

static enum km_system plain_system(const struct reader *r, bool inch)
{
	if (takes_hexagons(r))
		return inch ? KM_SYS_AF : KM_SYS_METRIC;
	if (drive_is(r, KM_DRIVE_HEX_SOCKET))
		return inch ? KM_SYS_KEY_INCH : KM_SYS_KEY_METRIC;
	if (drive_is(r, KM_DRIVE_HOOK) || drive_is(r, KM_DRIVE_PIN))
		return KM_SYS_HOOK;
	return KM_SYS_BLADE;
}

static enum km_size_fault read_width(struct reader *r, struct figure *f)
{
	enum km_size_fault fault;
	int64_t nm = 0;
	bool done;

	fault = read_special(r, f, &done);
	if (done || fault)
		return fault;
	fault = check_bare(r, f);
	if (!fault)
		fault = length_of(f, &nm);
	if (fault)
		return fault;
	r->out->system = plain_system(r, f->inch);
	r->out->nominal_nm = nm;
	if (r->out->system == KM_SYS_HOOK)
		r->out->b_nm = nm;
	return finish(r, km_size_text(r->a, r->out, nm, r->out->b_nm, f->inch));
}

/* ------------------------------------------------------------------ */
/* One size                                                            */

/* What lies between two figures that belong together, by the drive. */
static bool eat_between(struct reader *r, enum km_system *system)
{
	struct km_slice rest = r->s;

	km_slice_skip_blanks(&rest);
	if (drive_is(r, KM_DRIVE_SLOTTED) && eat_times(&rest)) {
		*system = KM_SYS_SLOTTED;
	} else if (drive_is(r, KM_DRIVE_HOOK) || drive_is(r, KM_DRIVE_PIN)) {
		if (!km_slice_eat(&rest, '-') && !km_slice_eat_word(&rest, "..")
		    && !km_slice_eat_word(&rest, "\xE2\x80\x93"))
			return false;
		*system = KM_SYS_HOOK;
	} else {
		return false;
	}
	r->s = rest;
	return true;
}

static enum km_size_fault read_letters(struct reader *r, struct figure *f)
{
	enum km_size_fault fault;

	if (f->system == KM_SYS_W || f->system == KM_SYS_BS) {
		if (!takes_hexagons(r))
			return KM_SIZE_WRONG_FORM;
		return read_whitworth(r, f);
	}
	fault = at_end(r);
	if (fault)
		return fault;
	if (drive_is(r, KM_DRIVE_CROSS))
		return f->unit_given ? KM_SIZE_WRONG_FORM : KM_SIZE_BARE_CROSS;
	if (drive_is(r, KM_DRIVE_SLOTTED))
		return KM_SIZE_HALF;
	if (f->system == KM_SYSTEMS || f->system <= KM_SYS_AF)
		return read_width(r, f);
	if (!takes_hexagons(r))
		return KM_SIZE_WRONG_FORM;
	if (f->system == KM_SYS_BA)
		return read_ba(r, f);
	return f->system == KM_SYS_USS ? read_bolt_size(r, f)
				       : KM_SIZE_LETTERS;
}

/* "SW 13": a width by its German letters. */
static enum km_size_fault read_figure(struct reader *r)
{
	bool sw = km_slice_eat_word(&r->s, "SW");
	struct figure f;
	enum km_system system;
	enum km_size_fault fault = eat_number(r, &f);

	if (!fault)
		fault = eat_suffix(r, &f);
	if (fault)
		return fault;
	if (sw) {
		if (f.unit_given && f.system != KM_SYS_METRIC)
			return KM_SIZE_LETTERS;
		f.system = KM_SYS_METRIC;
		f.unit_given = true;
		f.inch = false;
	}
	if ((f.system == KM_SYSTEMS || f.system <= KM_SYS_AF)
	    && eat_between(r, &system))
		return read_two(r, &f, system);
	return read_letters(r, &f);
}

enum km_size_fault km_size_parse(struct km_slice s,
				 const struct km_size_rules *rules,
				 struct km_arena *a, struct km_size *out)
{
	struct km_size one = { .number = -1 };
	struct reader r = { km_slice_trim(s), rules, a, &one };
	enum km_system system;
	enum km_size_fault fault;

	if (!r.s.n)
		return KM_SIZE_EMPTY;
	if (eat_cross(&r, &system)) {
		fault = read_cross(&r, system);
	} else if (r.s.n > 1 && (*r.s.p == 'M' || *r.s.p == 'm')
		   && is_digit(r.s.p[1])) {
		r.s.p++;
		r.s.n--;
		fault = read_thread(&r);
	} else {
		fault = read_figure(&r);
	}
	if (!fault)
		*out = one;
	return fault;
}
