/* SPDX-License-Identifier: MIT */
/*
 * model - the records of the files, as plain structs.
 *
 * Units    lengths in nanometres, money in minor units of its currency,
 *          shares in hundredths of a per cent, angles in hundredths of a
 *          degree, times in minutes.  The unit is the member's name.
 * Owner    everything belongs to the struct km_load that was filled by
 *          km_load(); nothing here is freed alone.
 * States   absent (not recorded), `none` (recorded absent) and a value are
 *          three things.  A pointer to a row of a trade table is NULL where
 *          nothing is recorded; rows are compared as pointers.
 * Text     NUL-ended UTF-8 without control characters, still to be escaped
 *          for its destination.
 */
#ifndef KITMUSTER_MODEL_H
#define KITMUSTER_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "kitmuster/diag.h"

/* Rows of the trade tables; src/trade says what is in them. */
struct km_kind;
struct km_drive;
struct km_size;
struct km_finish;
struct km_material;
struct km_pouch_form;
struct km_process;
/* What sources lead back to, and what they come to; evidence.h. */
struct km_root;
struct km_evidence;

struct km_money { int64_t minor; };
struct km_money3 { int64_t low, likely, high; };	/* minor units */

/* A length with its limits, both ends included.  A reading is known to half
 * its last digit; a requirement has a tolerance. */
struct km_span {
	int64_t nm;
	int32_t minus_nm, plus_nm;	/* not negative */
};

/* A calendar date; year 0 means none is recorded. */
struct km_date { int16_t year; int8_t month, day; };
/* The days an EDTF expression covers, first and last included. */
struct km_period { struct km_date from, to; bool uncertain, approximate; };

enum km_certainty {		/* surest first */
	KM_CERTAIN, KM_PROBABLE, KM_POSSIBLE, KM_DISPUTED, KM_CONJECTURE,
	KM_UNKNOWN
};
enum km_standard {
	KM_AS_DELIVERED, KM_PERIOD_CORRECT, KM_USABLE, KM_AS_FOUND,
	KM_STANDARDS
};

/* ------------------------------------------------------------------ */
/* Attributes: what slot, tool and offer share.                        */

enum km_attr {
	KM_A_TOOL,		/* kind */
	KM_A_DRIVE,		/* drives, one, or one an end */
	KM_A_SIZES,		/* sizes as marked, one an end */
	KM_A_OPENINGS,		/* spans as measured, same order as sizes; nm 0:
				 * that end was not measured */
	KM_A_LENGTH,		/* span, overall */
	KM_A_THICKNESS,		/* span, of the head */
	KM_A_WIDTH,		/* span, greatest, of the head */
	KM_A_ANGLE,		/* span, hundredths of a degree */
	KM_A_BAR,		/* span, diameter of a bar */
	KM_A_HOLE,		/* span, of the cross hole */
	KM_A_BLADE,		/* span, handle to tip */
	KM_A_JAW,		/* span, joint to tip, or greatest opening */
	KM_A_HOOK,		/* span, radial length of a hook */
	KM_A_DEPTH,		/* span, inside, of a plug spanner */
	KM_A_FINISH,		/* finish */
	KM_A_HANDLE_COLOUR,	/* colour */
	KM_A_HANDLE_MATERIAL,	/* material */
	KM_A_MARK,		/* text */
	KM_A_MADE,		/* made */
	KM_A_PART,		/* text */
	KM_ATTRS
};

enum km_made { KM_MADE_ORIGINAL, KM_MADE_PERIOD, KM_MADE_REPRODUCTION };

/* The rgb of a colour of which only the word is known. */
#define KM_COLOUR_WORD_ONLY UINT32_MAX

/* One recorded value; which member holds it follows from the attribute. */
union km_value {
	const struct km_kind *kind;
	struct { const struct km_drive *const *v; uint32_t n; } drives;
	struct { const struct km_size *const *v; uint32_t n; } sizes;
	struct { const struct km_span *v; uint32_t n; } spans;
	struct km_span span;
	struct { const struct km_finish *body, *faces; } finish;
	struct { const char *word; uint32_t rgb; } colour;	/* 0xRRGGBB */
	const struct km_material *material;
	const char *text;
	enum km_made made;
};

/*
 * The attributes of a tool or an offer, packed: only what is recorded takes
 * room.  A bit of `none` says "recorded as absent"; a bit of `unread` says
 * that something is there and cannot be read (`illegible`).  The three masks
 * have no bit in common; a bit in none of them means "not recorded".
 */
struct km_traits {
	uint32_t has, none, unread;	/* bit 1 << enum km_attr */
	const union km_value *v;	/* one for each bit of has, in order */
};

/* The recorded value of an attribute, or NULL. */
static inline const union km_value *km_trait(const struct km_traits *t,
					     enum km_attr a)
{
	uint32_t bit = (uint32_t)1 << a;

	if (!(t->has & bit))
		return NULL;
	return &t->v[__builtin_popcount(t->has & (bit - 1))];
}

/* ------------------------------------------------------------------ */
/* The kit                                                             */

enum km_source_what {
	KM_SRC_PARTS_LIST, KM_SRC_DRAWING, KM_SRC_HANDBOOK, KM_SRC_PICTURE,
	KM_SRC_SALES, KM_SRC_PHOTOGRAPH, KM_SRC_SURVIVOR, KM_SRC_BOOK,
	KM_SRC_RECOLLECTION, KM_SRC_OTHER,
	KM_SRC_WHATS
};

struct km_source {
	const char *id, *title, *page, *note;
	const char *dated_text;		/* as written; NULL: not recorded */
	enum km_source_what what;
	struct km_period dated;
	const struct km_source *const *depends_on;
	uint32_t n_depends_on;
	const char *const *depends_ids;	/* as written, until linked */
	const struct km_root *roots;	/* itself, or what it leads back to */
	uint32_t n_roots;
	struct km_place at;
};

struct km_sources {		/* a list of references to sources */
	const struct km_source *const *v;
	const char *const *ids;	/* as written, until linked */
	uint32_t n;
};

enum km_want_state {
	KM_WANT_NOTHING,	/* the kit does not speak of it */
	KM_WANT_UNKNOWN,	/* it says `unknown` */
	KM_WANT_NONE,		/* it says `none`: must be absent */
	KM_WANT_ANY_OF		/* one of n values */
};

/* Claims on one attribute that contradict, as written. */
struct km_want;
struct km_claims { const struct km_want *v; uint32_t n; };

/* What a kit claims of one attribute of one slot. */
struct km_want {
	enum km_want_state state;
	enum km_certainty certainty;
	bool own_certainty;	/* not that of the slot */
	bool weighed;		/* not stated: it follows from the sources */
	bool disputed;		/* claims of equal weight contradict */
	bool assumed;		/* a span whose tolerance is our choice */
	bool or_none;		/* `none` is (one of) what it may be */
	uint32_t n;
	const union km_value *any;
	const char *where;	/* of a mark; may be NULL */
	struct km_sources sources;
	const struct km_evidence *evidence;	/* NULL: names no source */
	const struct km_claims *claims;	/* NULL: there is one */
	const struct km_want *outweighed;	/* claims of less weight */
	uint32_t n_outweighed;
	struct km_place at;
};

struct km_kit;

struct km_slot {
	const char *id, *title, *note;
	const struct km_kit *kit;
	uint32_t index;			/* in the kit */
	struct km_want want[KM_ATTRS];
	enum km_certainty exists;
	bool exists_stated;		/* in so many words */
	bool exists_weighed;		/* it follows from the sources */
	/* of `exists`; silent: cover it and do not show it */
	struct km_sources for_it, against_it, silent;
	struct km_sources sources;	/* of the slot; they inform only */
	const struct km_evidence *evidence;	/* that it exists; NULL: no
						 * source is named */
	struct km_place exists_at;
	int32_t count;			/* pieces, 1 or more */
	int32_t pocket;			/* 0: none stated */
	bool durable, unused;
	const char *goes_with;		/* id of a slot of this kit */
	const struct km_slot *companion;	/* linked goes_with */
	int32_t points;			/* hundredths; -1: not stated */
	struct km_money most;		/* -1: not stated */
	struct km_place at;
};

struct km_serials {		/* a fuzzy end has earliest < latest */
	int64_t from_earliest, from_latest, to_earliest, to_latest;
	bool given, open_start, open_end;
	const char *pattern;	/* "LM####"; NULL: digits alone */
};

struct km_pouch {
	const struct km_pouch_form *form;
	int32_t pockets;		/* 0: not stated */
	/* nm; -1: not measured */
	int64_t pocket_width_nm, pocket_depth_nm, closing_allowance_nm;
	int64_t width_nm, depth_nm, flap_nm, cloth_nm, ease_nm;
	const int64_t *widths_nm;	/* a pocket each, or NULL */
	uint32_t n_widths;
	const char *material;
	struct km_place at;
};

struct km_colour_word { const char *word; uint32_t rgb; };

/* Limits of the verdict rules that a kit sets for itself; -1: the default. */
struct km_kit_limits {
	int32_t rust;			/* Ri 0 to 5 */
	int32_t pits;			/* 0 none, 1 few, 2 general */
	int32_t plate_left;		/* hundredths of a per cent */
	int32_t colour_pass, colour_note;	/* dE00 in thousandths */
	int32_t length_usable;		/* hundredths of a per cent */
};

struct km_kit {
	const char *id, *title, *market, *years_text, *note;
	struct km_period years;
	struct km_serials serials;
	int32_t revision;		/* -1: not stated */
	int32_t priority;		/* 1 is first; default 1 */
	enum km_standard standard;
	bool standard_given;
	const char *currency;		/* ISO 4217 code, or NULL */
	const struct km_colour_word *colours;
	uint32_t n_colours;
	const char *const *maker_marks;
	uint32_t n_maker_marks;
	const struct km_source *sources;
	uint32_t n_sources;
	const struct km_pouch *pouch;	/* NULL: none recorded */
	struct km_kit_limits limits;
	struct km_slot *slots;
	uint32_t n_slots;
	struct km_place at;
};

/* ------------------------------------------------------------------ */
/* The bench                                                           */

enum km_pits { KM_PITS_UNRECORDED, KM_PITS_NONE, KM_PITS_FEW, KM_PITS_GENERAL };
enum km_handle {
	KM_HANDLE_UNRECORDED, KM_HANDLE_OK, KM_HANDLE_SCUFFED, KM_HANDLE_FADED,
	KM_HANDLE_WRONG_COLOUR, KM_HANDLE_SPLIT, KM_HANDLE_LOOSE,
	KM_HANDLE_STICKY, KM_HANDLE_MISSING
};
enum km_marking {
	KM_MARKING_UNRECORDED, KM_MARKING_CRISP, KM_MARKING_LEGIBLE,
	KM_MARKING_FAINT, KM_MARKING_GONE
};
enum km_damage_what {
	KM_DMG_SPREAD, KM_DMG_CRACKED, KM_DMG_BENT_SOFT, KM_DMG_BENT_HARD,
	KM_DMG_ROUNDED, KM_DMG_MUSHROOMED, KM_DMG_CHIPPED_SMALL,
	KM_DMG_CHIPPED_LARGE, KM_DMG_MISSING, KM_DMG_GROUND, KM_DMG_WHATS
};

struct km_damage {
	enum km_damage_what what;
	int32_t end;			/* from 1; 0: the tool as a whole */
	int64_t by_nm;			/* -1: not measured */
	const char *where;		/* a word, or NULL */
};

struct km_condition {
	int8_t rust;			/* Ri 0 to 5; -1 not recorded */
	int32_t rust_share;		/* hundredths of a per cent; -1 */
	enum km_pits pits;
	int64_t pit_nm, mark_depth_nm;	/* -1 not recorded */
	int32_t plate_left, paint_left;	/* hundredths of a per cent; -1 */
	const char *const *plate_fault;	/* "sF": degree and letter */
	uint32_t n_plate_fault;
	const struct km_damage *damage;
	uint32_t n_damage;
	bool damage_none;		/* `damage: none` was written */
	enum km_handle handle;
	enum km_marking marking;
	int8_t ground;			/* 1 yes, 0 no, -1 not recorded */
	int8_t lead_paint;		/* 1, 0, -1 not tested */
	bool soldered;
};

enum km_tool_status {
	KM_HERE, KM_LENT, KM_ORDERED, KM_AT_PLATER, KM_IN_KIT, KM_RECEIVED
};

struct km_history { const char *process, *by; struct km_date dated; };
struct km_pair { const char *key, *value; };

/* What few tools carry; NULL members and -1 mean not recorded. */
struct km_tool_more {
	const char *pin_kit, *pin_slot;		/* as written */
	const struct km_slot *pin;		/* linked */
	struct km_place pin_at;
	const char *came_with, *lent_to, *note, *hardness;
	const char *bought_for_kit, *bought_for_slot;
	const struct km_slot *bought_for;
	struct km_date since, due, return_by, value_dated;
	struct km_money paid, value;		/* -1 */
	int64_t weight_mg;			/* -1 */
	const char *const *photos;
	uint32_t n_photos;
	const struct km_history *history;
	uint32_t n_history;
	const struct km_pair *extra;		/* unknown CSV columns */
	uint32_t n_extra;
};

struct km_tool {
	const char *id;			/* never NULL; made for rows without */
	struct km_traits traits;
	const struct km_condition *condition;	/* NULL: not recorded */
	const struct km_tool_more *more;	/* NULL: nothing more */
	const char *owner;		/* NULL: not recorded, counts as own */
	const char *location;		/* `place`; may be NULL */
	enum km_tool_status status;
	bool made_id;			/* the file has none: stem and line */
	struct km_place at;
};

/* Tools in blocks, so that a long bench never moves. */
#define KM_TOOL_BLOCK 256
struct km_tools {
	struct km_tool **block;
	size_t n;
};

static inline struct km_tool *km_tool_at(const struct km_tools *t, size_t i)
{
	return &t->block[i / KM_TOOL_BLOCK][i % KM_TOOL_BLOCK];
}

/* ------------------------------------------------------------------ */
/* Prices, workshop, rubric, machine, decisions                        */

struct km_rate { const char *currency; int64_t num, den; };	/* exact */

struct km_seller {
	const char *id, *note;
	struct km_money postage, free_over, minimum_order;	/* -1: none */
	const char *currency;		/* NULL: that of the prices */
	int32_t days_least, days_most;	/* -1: not stated */
	struct km_place at;
};

enum km_offer_state { KM_OFFER_NEW, KM_OFFER_USED, KM_OFFER_NOS,
		      KM_OFFER_REPRODUCTION };

struct km_offer {
	const char *id, *note, *fits;	/* fits: "kit/slot" it is meant for */
	struct km_traits traits;	/* as delivered */
	const struct km_condition *condition;
	const struct km_seller *seller;
	const char *seller_id;
	enum km_offer_state state;
	struct km_money3 price;		/* in currency; low -1: only in a lot */
	const char *currency;		/* NULL: that of the prices */
	int32_t stock;			/* -1: not stated */
	int32_t chance;			/* per cent of finding; -1 */
	struct km_date as_of;
	struct km_place at;
};

struct km_job_lot {
	const char *id, *seller_id;
	const struct km_seller *seller;
	struct km_money3 price;		/* in currency */
	const char *currency;		/* NULL: that of the prices */
	const char *const *hold_ids;
	const struct km_offer *const *holds;
	uint32_t n_holds;
	struct km_place at;
};

struct km_supersession {
	const char *old_part, *new_part;
	uint32_t changes;		/* bits of enum km_attr */
	const char *const *change_words;
	uint32_t n_changes;
	bool both_ways;
	struct km_place at;
};

struct km_prices {
	const char *currency;
	struct km_date as_of;
	const struct km_rate *rates;		uint32_t n_rates;
	struct km_seller *sellers;		uint32_t n_sellers;
	struct km_offer *offers;		uint32_t n_offers;
	struct km_job_lot *job_lots;		uint32_t n_job_lots;
	struct km_supersession *superseded;	uint32_t n_superseded;
	bool only_three_highest;	/* the shop rule on lot minimums */
	struct km_place at;
};

/* What a workshop says otherwise than the built-in process table; -1 and
 * INT64_MIN members mean "as in the table". */
struct km_process_terms {
	const char *id;
	const struct km_process *process;
	struct km_money3 lot_minimum, piece, load;	/* low -1: table */
	int32_t load_pieces, days;			/* -1: table */
	int32_t hands_min;				/* minutes; -1 */
	bool not_available;
	int32_t open_lot_pieces;			/* -1: no open lot */
	struct km_date open_lot_closes;
	struct km_place at;
};

struct km_workshop {
	struct km_money own_time;	/* an hour; -1: not priced */
	const char *currency;
	int64_t unit_num, unit_den;	/* money for one cost unit; den 0: */
	bool unit_given;
	struct km_process_terms *processes;
	uint32_t n_processes;
	struct km_place at;
};

struct km_rubric {			/* hundredths of a point; -1 absent */
	int32_t total, missing, incorrect, condition, extra;
	struct km_place at;
};

struct km_machine {
	int64_t serial;			/* -1: not recorded, or not digits
					 * alone */
	const char *serial_text;	/* as written; NULL: not recorded */
	struct km_period built;
	const char *market, *owner, *kit_id, *title, *built_text;
	const struct km_kit *kit;
	struct km_place at, serial_at;
};

struct km_decision {
	const char *kit_id, *slot_id, *way, *why;
	const struct km_slot *slot;
	struct km_date dated;
	struct km_place at, slot_at, way_at;
};

#endif
