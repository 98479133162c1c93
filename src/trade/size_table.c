/* SPDX-License-Identifier: MIT */
#include "trade/size_table.h"

#include <string.h>

#define LENGTH(a) (sizeof(a) / sizeof *(a))
#define NM_PER_UM 1000
#define THOU_NM 25400			/* 0.001 in */

/* Micro-inches as nanometres; -1 stays. */
#define UIN(v) ((v) < 0 ? -1 : (int64_t)(v) * 254 / 10)
#define UM(v) ((v) < 0 ? -1 : (int64_t)(v) * NM_PER_UM)

enum grade { A, B, FINE, UNKNOWN };
enum inch_kind { CAP_SCREW, NUT, MACHINE_SCREW_NUT, INCH_KINDS };

struct limits { int64_t nominal, min, max, wide; const char *min_source, *source; };
struct width { int64_t nominal, min, max; int kind; const char *source; };

static const struct limits metric_jaws[] = {
#define JAW_MM(nominal, min, max, unfinished, class, min_source, source) \
	{ UM(nominal), UM(min), UM(max), UM(unfinished), min_source, source },
#include "data/jaw_metric.def"
#undef JAW_MM
};

static const struct limits inch_jaws[] = {
#define JAW_IN(fraction, nominal, min, max, source) \
	{ UIN(nominal), UIN(min), UIN(max), -1, source, source },
#include "data/jaw_inch.def"
#undef JAW_IN
};

static const struct width metric_heads[] = {
#define HEX_MM(thread, series, part, nominal, max, min, grade, width_source, \
	       limit_source) \
	{ UM(nominal), UM(min), UM(max), grade, limit_source },
#include "data/hex_metric.def"
#undef HEX_MM
};

static const struct width inch_heads[] = {
#define HEX_IN(kind, thread, fraction, nominal, max, min, source) \
	{ UIN(nominal), UIN(min), UIN(max), kind, source },
#include "data/hex_inch.def"
#undef HEX_IN
};

static const struct km_whitworth whitworth[] = {
#define HEX_W(w, bs, max, min, jaw_min, jaw_max, width_source, pairing_source, \
	      jaw_source) { w, bs, UIN(max) },
#include "data/hex_whitworth.def"
#undef HEX_W
};

static const struct width whitworth_heads[] = {
#define HEX_W(w, bs, max, min, jaw_min, jaw_max, width_source, pairing_source, \
	      jaw_source) { UIN(max), UIN(min), UIN(max), 0, width_source },
#include "data/hex_whitworth.def"
#undef HEX_W
};

static const struct { int32_t number; int64_t max, min; const char *source; }
ba[] = {
#define HEX_BA(number, max, min, source_max, source_min) \
	{ number, UIN(max), UIN(min), source_min },
#include "data/hex_ba.def"
#undef HEX_BA
};

static const struct { int64_t mm, inch; } plugs[] = {
#define PLUG(name, hex, inch_name, inch, thread, source, thread_source) \
	{ UM(hex), UIN(inch) },
#include "data/plug_hex.def"
#undef PLUG
};

static const struct { int64_t name, side; } squares[] = {
#define SQUARE(name, metric, male_max, male_min, female_max, female_min, \
	       male_source, female_source, female_min_source) \
	{ UM(metric), UM(male_max) },
#include "data/square_drive.def"
#undef SQUARE
};

static const struct { enum km_system system; int32_t number; } crosses[] = {
#define CROSS(system, number, ...) { KM_SYS_##system, number },
#include "data/cross.def"
#undef CROSS
};

/* ------------------------------------------------------------------ */
/* Widths by their marks                                               */

const struct km_whitworth *km_whitworth_find(enum km_system system,
					     const char *mark)
{
	for (size_t i = 0; i < LENGTH(whitworth); i++) {
		const char *m = system == KM_SYS_W ? whitworth[i].mark_w
						   : whitworth[i].mark_bs;

		if (!strcmp(m, mark))
			return &whitworth[i];
	}
	return NULL;
}

int64_t km_ba_width(int64_t number)
{
	for (size_t i = 0; i < LENGTH(ba); i++)
		if (ba[i].number == number)
			return ba[i].max;
	return 0;
}

/* A plug spanner is named by a rounded width: 21 for 20.8 mm. */
#define PLUG_ROUNDING (KM_NM_PER_MM / 4)

int64_t km_plug_width(int64_t nm, bool inch)
{
	for (size_t i = 0; i < LENGTH(plugs); i++) {
		int64_t off = nm - plugs[i].mm;

		if (inch ? nm == plugs[i].inch
			 : off <= PLUG_ROUNDING && -off <= PLUG_ROUNDING)
			return plugs[i].mm;
	}
	return 0;
}

int64_t km_square_width(int64_t nm)
{
	for (size_t i = 0; i < LENGTH(squares); i++)
		if (nm == squares[i].name || nm == squares[i].side)
			return squares[i].side;
	return 0;
}

bool km_cross_listed(enum km_system system, int64_t number)
{
	for (size_t i = 0; i < LENGTH(crosses); i++)
		if (crosses[i].system == system && crosses[i].number == number)
			return true;
	return false;
}

uint32_t km_size_rows(void)
{
	/* one more: the book asks past the end of the last table */
	return LENGTH(metric_jaws) + LENGTH(inch_jaws) + LENGTH(whitworth)
	       + LENGTH(ba) + 1;
}

bool km_metric_row(uint32_t i, int64_t *nm)
{
	if (i >= LENGTH(metric_jaws))
		return false;
	*nm = metric_jaws[i].nominal;
	return true;
}

bool km_af_row(uint32_t i, int64_t *nm)
{
	if (i >= LENGTH(inch_jaws))
		return false;
	*nm = inch_jaws[i].nominal;
	return true;
}

bool km_ba_row(uint32_t i, int32_t *number, int64_t *nm)
{
	if (i >= LENGTH(ba))
		return false;
	*number = ba[i].number;
	*nm = ba[i].max;
	return true;
}

const struct km_whitworth *km_whitworth_row(uint32_t i)
{
	return i < LENGTH(whitworth) ? &whitworth[i] : NULL;
}

/* ------------------------------------------------------------------ */
/* Openings                                                            */

static enum km_basis basis_of(const char *source)
{
	if (!strcmp(source, "memory"))
		return KM_BASIS_MEMORY;
	return strcmp(source, "computed") ? KM_BASIS_PUBLISHED
					  : KM_BASIS_COMPUTED;
}

static enum km_basis weaker(enum km_basis a, enum km_basis b)
{
	return a > b ? a : b;
}

static struct km_opening opening_of_row(const struct limits *t, size_t n,
					int64_t nm)
{
	struct km_opening o = { .basis = KM_BASIS_NONE };

	for (size_t i = 0; i < n; i++) {
		if (t[i].nominal != nm)
			continue;
		o.min_nm = t[i].min;
		o.max_nm = t[i].max;
		o.unfinished_max_nm = t[i].wide > 0 ? t[i].wide : 0;
		o.basis = weaker(basis_of(t[i].min_source),
				 basis_of(t[i].source));
		o.source = t[i].source;
		break;
	}
	return o;
}

/* The inch rule; exact, since the widths are whole thousandths of an inch. */
static struct km_opening opening_by_rule(int64_t nm)
{
	struct km_opening o = {
		.min_nm = nm * 1005 / 1000 + THOU_NM,
		.basis = KM_BASIS_COMPUTED,
		.source = "machinerys-handbook-31"
	};

	o.max_nm = o.min_nm + nm * 5 / 1000 + 4 * THOU_NM;
	return o;
}

/* ------------------------------------------------------------------ */
/* Heads                                                               */

/* The rows of one nominal and kind, joined; basis NONE: no such row. */
static struct km_head head_of_rows(const struct width *t, size_t n, int64_t nm,
				   int kind)
{
	struct km_head h = { .basis = KM_BASIS_NONE };

	for (size_t i = 0; i < n; i++) {
		if (t[i].nominal != nm || t[i].kind != kind || t[i].min < 0)
			continue;
		if (h.basis == KM_BASIS_NONE || t[i].min < h.min_nm) {
			h.min_nm = t[i].min;
			h.source = t[i].source;
			h.basis = basis_of(t[i].source);
		}
		if (t[i].max > h.max_nm)
			h.max_nm = t[i].max;
	}
	return h;
}

/* h13 and h14 of [iso-286], micrometres, by the width up to which they hold */
static int64_t tolerance_nm(int64_t nm)
{
	static const struct { int32_t upto_mm, h13, h14; } steps[] = {
		{ 3, 140, 250 }, { 6, 180, 300 }, { 10, 220, 360 },
		{ 18, 270, 430 }, { 30, 330, 520 }, { 50, 390, 620 },
		{ 80, 460, 740 }, { 120, 540, 870 }
	};
	size_t i = 0;

	while (i + 1 < LENGTH(steps) && nm > KM_MM(steps[i].upto_mm))
		i++;
	return (int64_t)NM_PER_UM
	       * (nm <= KM_MM(32) ? steps[i].h13 : steps[i].h14);
}

static struct km_head metric_head(int64_t nm)
{
	struct km_head h = head_of_rows(metric_heads, LENGTH(metric_heads), nm,
					A);

	if (h.basis == KM_BASIS_NONE && nm > KM_MM(32))
		h = head_of_rows(metric_heads, LENGTH(metric_heads), nm, B);
	if (h.basis != KM_BASIS_NONE)
		return h;
	return (struct km_head){ nm - tolerance_nm(nm), nm, KM_BASIS_COMPUTED,
				 "computed" };
}

static struct km_head estimated_head(int64_t nm)
{
	return (struct km_head){ nm - nm / 50, nm, KM_BASIS_ESTIMATED,
				 "computed" };
}

static struct km_head inch_head(int64_t nm)
{
	for (int kind = CAP_SCREW; kind < INCH_KINDS; kind++) {
		struct km_head h = head_of_rows(inch_heads, LENGTH(inch_heads),
						nm, kind);

		if (h.basis != KM_BASIS_NONE)
			return h;
	}
	return estimated_head(nm);
}

/* A row without its least width takes the tolerance of the next smaller row
 * that has one, else of the next greater. */
static int64_t whitworth_tolerance(size_t i)
{
	for (size_t k = i; k-- > 0;)
		if (whitworth_heads[k].min >= 0)
			return whitworth_heads[k].max - whitworth_heads[k].min;
	for (size_t k = i + 1; k < LENGTH(whitworth_heads); k++)
		if (whitworth_heads[k].min >= 0)
			return whitworth_heads[k].max - whitworth_heads[k].min;
	return 0;
}

static struct km_head whitworth_head(int64_t nm)
{
	struct km_head h = { .basis = KM_BASIS_NONE };

	for (size_t i = 0; i < LENGTH(whitworth_heads); i++) {
		const struct width *w = &whitworth_heads[i];

		if (w->max != nm)
			continue;
		h.max_nm = w->max;
		h.min_nm = w->min;
		h.source = w->source;
		h.basis = basis_of(w->source);
		if (w->min < 0) {
			h.min_nm = nm - whitworth_tolerance(i);
			h.basis = weaker(h.basis, KM_BASIS_ESTIMATED);
		}
	}
	return h;
}

static struct km_head ba_head(int32_t number)
{
	struct km_head h = { .basis = KM_BASIS_NONE };

	for (size_t i = 0; i < LENGTH(ba); i++)
		if (ba[i].number == number)
			h = (struct km_head){ ba[i].min, ba[i].max,
					      basis_of(ba[i].source),
					      ba[i].source };
	return h;
}

/* ------------------------------------------------------------------ */

static uint32_t plain_bucket(const struct km_size *s)
{
	/* PH and JIS H are one form, so are keys in mm and inches */
	enum km_system form = s->system == KM_SYS_JIS_H ? KM_SYS_PH
			      : s->system == KM_SYS_KEY_INCH
			      ? KM_SYS_KEY_METRIC : s->system;
	int64_t figures[4] = { form, s->nominal_nm, s->b_nm, s->number };

	return (uint32_t)km_hash(figures, sizeof figures) & ~KM_BUCKET_HEXAGON;
}

static uint32_t bucket_of(const struct km_size *s)
{
	if (!km_size_is_hexagon(s))
		return plain_bucket(s);
	if (!s->nominal_nm)
		return (uint32_t)km_hash(s->text, strlen(s->text))
		       & ~KM_BUCKET_HEXAGON;
	return km_size_bucket_of_width(s->nominal_nm);
}

void km_size_fill(struct km_size *s)
{
	int64_t nm = s->nominal_nm;

	s->opening = (struct km_opening){ .basis = KM_BASIS_NONE };
	s->head = (struct km_head){ .basis = KM_BASIS_NONE };
	s->bucket = bucket_of(s);
	if (!km_size_is_hexagon(s) || !nm)
		return;
	switch (s->system) {
	case KM_SYS_METRIC:
		s->opening = opening_of_row(metric_jaws, LENGTH(metric_jaws), nm);
		s->head = metric_head(nm);
		break;
	case KM_SYS_AF:
		s->opening = opening_of_row(inch_jaws, LENGTH(inch_jaws), nm);
		s->head = inch_head(nm);
		break;
	case KM_SYS_USS:		/* the widths are from memory */
		s->opening = opening_by_rule(nm);
		s->head = estimated_head(nm);
		s->opening.basis = s->head.basis = KM_BASIS_MEMORY;
		break;
	case KM_SYS_BA:
		s->opening = opening_by_rule(nm);
		s->head = ba_head(s->number);
		break;
	default:
		s->opening = opening_by_rule(nm);
		s->head = whitworth_head(nm);
		break;
	}
}
