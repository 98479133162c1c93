/* SPDX-License-Identifier: MIT */
#include "trade/size.h"

#include <string.h>

#include "trade/size_figure.h"
#include "trade/size_table.h"
#include "trade/size_text.h"

struct reader {
	struct km_slice s;		/* what is still to be read */
	const struct km_size_rules *rules;
	struct km_arena *a;
	struct km_size *out;
};

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
	if (km_figure_pair(r->s))
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
	if ((km_figure_times(&rest) || km_slice_eat(&rest, '-')
	     || km_slice_eat(&rest, '/')) && rest.n)
		return KM_SIZE_PAIR;
	return rest.n ? KM_SIZE_TRAILING : KM_SIZE_OK;
}

static enum km_size_fault read_cross(struct reader *r, enum km_system system)
{
	struct km_figure f = { .n = { 0, 1 } };
	enum km_size_fault fault = KM_SIZE_OK;

	if (r->rules->drive && !drive_is(r, KM_DRIVE_CROSS))
		return KM_SIZE_WRONG_FORM;
	km_slice_eat(&r->s, '-');
	if (system != KM_SYS_JIS_S)
		fault = km_figure_number(&r->s, r->rules, &f);
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
	struct km_figure f = { .inch = false };
	enum km_size_fault fault;
	int64_t nm = 0;

	if (!takes_hexagons(r))
		return KM_SIZE_WRONG_FORM;
	fault = km_figure_number(&r->s, r->rules, &f);
	if (!fault)
		fault = at_end(r);
	if (!fault)
		fault = f.fraction ? KM_SIZE_NOT_LISTED : km_figure_length(&f, &nm);
	if (fault)
		return fault;
	r->out->system = KM_SYS_THREAD;
	r->out->b_nm = nm;
	return finish(r, r->out->text = km_size_text(r->a, r->out, 0, nm,
						     false));
}

/* The second figure of 0.8 x 5.5 mm or 45-50 mm: the unit goes for both. */
static enum km_size_fault read_two(struct reader *r, struct km_figure *one,
				   enum km_system system)
{
	struct km_figure two;
	enum km_size_fault fault = km_figure_number(&r->s, r->rules, &two);
	int64_t a = 0, b = 0;

	if (!fault)
		fault = km_figure_suffix(&r->s, r->rules, &two);
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
	fault = km_figure_length(one, &a);
	if (!fault)
		fault = km_figure_length(&two, &b);
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
	struct km_figure f;
	char mark[KM_MARK_ROOM];
	enum km_size_fault fault;

	km_slice_skip_blanks(&r->s);
	if (!r->s.n || !km_figure_follows(r->s))
		return at_end(r);
	fault = km_figure_number(&r->s, r->rules, &f);
	if (!fault)
		fault = km_figure_suffix(&r->s, r->rules, &f);
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
					 const struct km_figure *f)
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

static enum km_size_fault read_ba(struct reader *r, const struct km_figure *f)
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
					 const struct km_figure *f)
{
	struct km_figure inch = *f;
	char mark[KM_MARK_ROOM], text[KM_MARK_ROOM + 16];
	size_t n;
	int64_t nm = 0;
	enum km_size_fault fault;

	inch.inch = true;
	fault = km_figure_length(&inch, &nm);
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
	if (km_letters_are(f->letters, "USS", 3))
		r->out->nominal_nm = nm * 3 / 2 + KM_NM_PER_IN / 8;
	return finish(r, r->out->text = km_arena_text(r->a, text, n));
}

/* ------------------------------------------------------------------ */
/* Plain widths                                                        */

/* Is a bare figure enough?  A fraction is, where only one thing is meant. */
static enum km_size_fault check_bare(const struct reader *r,
				     const struct km_figure *f)
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

static enum km_size_fault read_special(struct reader *r, struct km_figure *f,
				       bool *done)
{
	int64_t nm = 0, width;
	bool bare_fraction = f->fraction && !f->unit_given;

	*done = false;
	if (bare_fraction)
		f->inch = true;
	if (km_figure_length(f, &nm))
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

static enum km_size_fault read_width(struct reader *r, struct km_figure *f)
{
	enum km_size_fault fault;
	int64_t nm = 0;
	bool done;

	fault = read_special(r, f, &done);
	if (done || fault)
		return fault;
	fault = check_bare(r, f);
	if (!fault)
		fault = km_figure_length(f, &nm);
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
	if (drive_is(r, KM_DRIVE_SLOTTED) && km_figure_times(&rest)) {
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

static enum km_size_fault read_letters(struct reader *r, struct km_figure *f)
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
	struct km_figure f;
	enum km_system system;
	enum km_size_fault fault = km_figure_number(&r->s, r->rules, &f);

	if (!fault)
		fault = km_figure_suffix(&r->s, r->rules, &f);
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
		   && km_figure_follows((struct km_slice){ r.s.p + 1, 1 })) {
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
