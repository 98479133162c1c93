/* SPDX-License-Identifier: MIT */
/*
 * size - what is struck on a tool, and the width that it means.
 *
 * A size is a system and a nominal.  One jaw may have two names (1/4 W is
 * 5/16 BS): km_size_same() asks for the jaw, km_size_same_name() for what is
 * struck.
 *
 * Units    nanometres
 * Owner    text belongs to the arena given to the parser
 * source   data/jaw_*.def, data/hex_*.def, data/plug_hex.def,
 *          data/size_marks.def
 */
#ifndef KM_TRADE_SIZE_H
#define KM_TRADE_SIZE_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/str.h"
#include "trade/kind.h"
#include "unit/length.h"

enum km_system {
	KM_SYS_METRIC,		/* mm across flats: "13 mm" */
	KM_SYS_AF,		/* inches across flats: "7/16 AF" */
	KM_SYS_W,		/* Whitworth thread, old head: "1/4 W" */
	KM_SYS_BS,		/* BSF, and later BSW: "5/16 BS" */
	KM_SYS_BA,		/* "2 BA" */
	KM_SYS_USS,		/* American bolt size: "3/8 USS" */
	KM_SYS_THREAD,		/* marked with a metric thread: "M8" */
	KM_SYS_SLOTTED,		/* tip thickness x width: "0.8 x 5.5 mm" */
	KM_SYS_PH, KM_SYS_PZ, KM_SYS_JIS_H, KM_SYS_JIS_S,	/* cross */
	KM_SYS_KEY_METRIC,	/* hexagon key: "5 mm" */
	KM_SYS_KEY_INCH,	/* "3/16 AF" */
	KM_SYS_PLUG,		/* hexagon of a spark plug: "21 mm" */
	KM_SYS_SQUARE,		/* square drive: "1/2 in" */
	KM_SYS_HOOK,		/* range of diameters: "45-50 mm" */
	KM_SYS_BLADE,		/* blade of a gauge, any plain length */
	KM_SYSTEMS
};

/* How far a limit can be trusted, best first. */
enum km_basis {
	KM_BASIS_PUBLISHED,
	KM_BASIS_COMPUTED,	/* by a published rule or a neighbour's */
	KM_BASIS_ESTIMATED,	/* by a rule of thumb, e.g. minus 2 per cent */
	KM_BASIS_MEMORY,	/* no published copy was seen: not evidence */
	KM_BASIS_NONE		/* not known at all */
};

/* The limits of a spanner's opening. */
struct km_opening {
	int64_t min_nm, max_nm;		/* 0: not known */
	int64_t unfinished_max_nm;	/* unmachined jaws; 0: not known */
	enum km_basis basis;
	const char *source;		/* of docs/sources.md; NULL: none */
};

/* The limits of the heads that a size is made for. */
struct km_head {
	int64_t min_nm, max_nm;		/* 0: not known */
	enum km_basis basis;
	const char *source;
};

struct km_size {
	enum km_system system;
	int32_t number;			/* BA and cross; else -1 */
	const char *text;		/* as printed: "1/4 W" */
	const char *second;		/* "5/16 BS" of a jaw struck with both
					 * names; else NULL */
	int64_t nominal_nm;		/* across flats, tip thickness, side of
					 * a square, least diameter, blade; 0:
					 * not known (a thread mark) */
	int64_t b_nm;			/* slotted: tip width; hook: greatest
					 * diameter; thread: diameter; else 0 */
	struct km_opening opening;	/* hexagons; basis NONE: none */
	struct km_head head;
	uint32_t bucket;		/* see km_size_bucket_of_width() */
};

enum km_size_fault {
	KM_SIZE_OK,
	KM_SIZE_EMPTY,
	KM_SIZE_NO_NUMBER,	/* no number and no system that is known */
	KM_SIZE_BARE_FRACTION,	/* "7/16": AF, W, BS or a bolt size? */
	KM_SIZE_BARE_CROSS,	/* "2" on a cross driver: PH, PZ or JIS? */
	KM_SIZE_NO_UNIT,	/* ".525": mm or inches? */
	KM_SIZE_LETTERS,	/* letters of no system: "1/4 X" */
	KM_SIZE_NOT_LISTED,	/* the system has no such size: "99 BA" */
	KM_SIZE_WRONG_FORM,	/* a size of another drive: "PH 2" on a nut */
	KM_SIZE_PAIR,		/* "10x12" where one entry is one end */
	KM_SIZE_HALF,		/* a slotted tip with one figure only */
	KM_SIZE_TWO_JAWS,	/* two names that are not one jaw */
	KM_SIZE_COMMA,		/* a decimal comma outside CSV */
	KM_SIZE_RANGE,		/* zero, over 1 m, or finer than 1 nm */
	KM_SIZE_TRAILING,	/* more text behind a size */
	KM_SIZE_TOO_MANY,	/* more ends than asked for */
	KM_SIZE_NO_MEMORY,
	KM_SIZE_FAULTS
};

struct km_size_rules {
	const struct km_drive *drive;	/* what the end fits; NULL: not known,
					 * any form is read */
	bool comma;			/* decimal comma (CSV) */
	enum km_length_unit bare;	/* of bare numbers; NONE: metric */
};

/*
 * One size, all of s: "13", "13 mm", "SW 13", "7/16 AF", "7/16 in", 7/16",
 * "1 1/8 AF", "1-1/8 AF", "1/4 W", "5/16 BSF", "1/4 W 5/16 BS", "2BA", "PH2",
 * "JIS H 2", "0.8 x 5.5 mm", "45-50 mm" (hook), "M8", .525".
 *
 * out       filled only on KM_SIZE_OK; *s is not kept
 */
enum km_size_fault km_size_parse(struct km_slice s,
				 const struct km_size_rules *rules,
				 struct km_arena *a, struct km_size *out);

/*
 * The ends of a tool in one CSV cell: one size, or "10x12", "12-14",
 * "1/4 x 5/16 W" (letters or unit of the last go for all), "10 mm; 12 mm".
 *
 * out, most  room for so many
 * n          how many were filled
 */
enum km_size_fault km_size_parse_cell(struct km_slice s,
				      const struct km_size_rules *rules,
				      struct km_arena *a, struct km_size *out,
				      uint32_t most, uint32_t *n);

/* The same jaw or tip, whatever it is struck with: 1/4 W and 5/16 BS; PH 2
 * and JIS H 2.  False where a width is not known, unless the names agree. */
bool km_size_same(const struct km_size *a, const struct km_size *b);
/* A name in common: 1/4 W, and 1/4 W 5/16 BS; not 1/4 W and 5/16 BS. */
bool km_size_same_name(const struct km_size *a, const struct km_size *b);
/* A total order: system, width, second figure, number, text. */
int km_size_compare(const struct km_size *a, const struct km_size *b);

/* A hexagon of a head or nut, the only form that the model of jaws covers. */
bool km_size_is_hexagon(const struct km_size *s);

/*
 * Bucketing.  A tool may serve a slot only if km_size_may_serve(), which is
 * cheap and never false for a pair that km_serve() would let pass.  Hexagons
 * of widths that near lie in buckets that differ by at most one (k - 1, k,
 * k + 1); all other sizes, and those without a width, must have the same
 * bucket.  KM_BUCKET_HEXAGON bit set: a hexagon's.
 */
#define KM_BUCKET_HEXAGON ((uint32_t)1 << 31)
bool km_size_may_serve(const struct km_size *tool, const struct km_size *slot);
/* The bucket of a measured opening of a hexagon jaw. */
uint32_t km_size_bucket_of_width(int64_t nm);

/*
 * All hexagon sizes of the tables, in order of width, for what a measured
 * opening may be.  A jaw with two names stands once, as W, with BS as second
 * name.  Built once a load or audit.
 */
struct km_size_book {
	const struct km_size *v;
	uint32_t n;
};
/* False: memory ran out. */
bool km_size_book_init(struct km_size_book *book, struct km_arena *a);

#endif
