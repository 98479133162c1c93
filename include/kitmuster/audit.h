/* SPDX-License-Identifier: MIT */
/*
 * audit - what a run found, as plain structs; every figure that a sheet
 * prints is a member here.
 *
 * Owner    the audit's arena owns all below; it points into the load it was
 *          made from and is valid while that is.
 * Units    as in model.h; scores and colour differences in thousandths.
 */
#ifndef KITMUSTER_AUDIT_H
#define KITMUSTER_AUDIT_H

#include "kitmuster/evidence.h"
#include "kitmuster/jobs.h"
#include "kitmuster/load.h"
#include "kitmuster/model.h"
#include "kitmuster/plan.h"
#include "kitmuster/pouch.h"
#include "kitmuster/status.h"

/* ------------------------------------------------------------------ */
/* One tool against one slot                                           */

/* What is compared, in the order in which the first failure becomes the
 * headline reason. */
enum km_aspect {
	KM_ASP_KIND,		/* another kind of tool, put there by hand */
	KM_ASP_PIECE,		/* a piece of the tool is missing */
	KM_ASP_SIZES,		/* widths, tips, numbers: an end each */
	KM_ASP_MADE,
	KM_ASP_LENGTH,
	KM_ASP_THICKNESS, KM_ASP_WIDTH, KM_ASP_ANGLE, KM_ASP_BAR, KM_ASP_HOLE,
	KM_ASP_BLADE, KM_ASP_JAW, KM_ASP_HOOK, KM_ASP_DEPTH,
	KM_ASP_MARK,
	KM_ASP_SIZE_NAME,
	KM_ASP_PART,
	KM_ASP_FINISH,
	KM_ASP_HANDLE_MATERIAL, KM_ASP_HANDLE_COLOUR,
	KM_ASP_RUST, KM_ASP_PITS, KM_ASP_PLATE, KM_ASP_DAMAGE,
	KM_ASP_UNFIT,		/* sprung, cracked, large chip */
	KM_ASP_CONDITION,	/* not recorded at all */
	KM_ASPECTS
};

enum km_outcome {
	KM_NOT_WANTED, KM_AGREES, KM_WITHIN, KM_DIFFERS, KM_NOT_RECORDED
};

/* What an aspect comes to under the standard. */
enum km_letter {
	KM_PASSES, KM_NOTED, KM_NOT_KNOWN, KM_CURABLE, KM_FAILS
};

/* The row of the verdict rules that decided; rules.h in src/match holds the
 * letters of each. */
enum km_finding {
	KM_F_NOTHING,			/* not wanted */
	KM_F_KIND_OTHER,
	KM_F_WIDTHS_RIGHT, KM_F_WIDTH_SERVES, KM_F_END_WRONG,
	KM_F_WIDTH_UNDECIDED, KM_F_WIDTH_UNRECORDED, KM_F_WIDTH_CONTRADICTS,
	KM_F_NAME_LISTED, KM_F_NAME_OTHER, KM_F_NAME_UNRECORDED,
	KM_F_DIMENSION_WITHIN, KM_F_DIMENSION_NEAR, KM_F_DIMENSION_OUTSIDE,
	KM_F_DIMENSION_UNRECORDED,
	KM_F_MARK_LISTED, KM_F_MARK_OTHER, KM_F_MARK_NONE, KM_F_MARK_UNWANTED,
	KM_F_MARK_UNREAD, KM_F_MARK_UNRECORDED,
	KM_F_MADE_RIGHT, KM_F_MADE_PERIOD, KM_F_REPRODUCTION,
	KM_F_MADE_UNRECORDED,
	KM_F_PART_SAME, KM_F_PART_SUPERSEDING, KM_F_PART_OTHER,
	KM_F_PART_UNRECORDED,
	KM_F_FINISH_SAME, KM_F_FINISH_NEAR_CADMIUM, KM_F_FINISH_NEAR,
	KM_F_FINISH_OTHER, KM_F_FINISH_UNRECORDED,
	KM_F_MATERIAL_SAME, KM_F_MATERIAL_OTHER, KM_F_MATERIAL_UNRECORDED,
	KM_F_COLOUR_SAME, KM_F_COLOUR_OFF, KM_F_COLOUR_WRONG,
	KM_F_COLOUR_UNRECORDED,
	KM_F_SOUND,			/* a condition aspect within its limit */
	KM_F_RUST_ABOVE, KM_F_PITS_ABOVE, KM_F_PLATE_BELOW,
	KM_F_DAMAGE_CURABLE, KM_F_PIECE_MISSING, KM_F_UNFIT,
	KM_F_CONDITION_UNRECORDED,
	KM_FINDINGS
};

/* How one end of a sized tool stands to one end of the slot. */
enum km_end_state {
	KM_END_RIGHT, KM_END_SERVES_BOTH, KM_END_SERVES, KM_END_WRONG,
	KM_END_UNDECIDED, KM_END_UNRECORDED, KM_END_CONTRADICTS, KM_END_MISSING
};

struct km_end {
	uint8_t slot_end, tool_end;	/* from 0, or KM_NO_END */
	enum km_end_state state;
	const struct km_size *wanted;
	const struct km_size *have;	/* marked, or read from the opening */
	const struct km_size *or_else;	/* undecided: the other candidate */
	int64_t spread_nm;		/* over the greatest opening; 0 */
	bool name_listed, name_recorded;
};

#define KM_NO_END 255	/* there is no such end */
#define KM_ENDS 4	/* ends kept for printing; more are only counted */

struct km_comparison {
	enum km_outcome outcome;
	enum km_finding finding;
	enum km_letter letter;
	bool weak;		/* the kit's claim is possible or less */
	int16_t score;		/* thousandths */
	/* lengths: by how much it differs, and how much of that is over the
	 * tolerance (nm); colour: dE00 in thousandths; rust: grades;
	 * plate: hundredths of a per cent */
	int64_t by, over;
};

enum km_verdict {
	KM_RIGHT, KM_AFTER_WORK, KM_UNVERIFIED, KM_SUBSTITUTE,
	/* of a slot only: */
	KM_SHORT, KM_EXPECTED, KM_GAP,
	KM_VERDICTS
};

enum km_fitness { KM_FIT, KM_FIT_AFTER_WORK, KM_FIT_UNKNOWN, KM_UNFIT };

/* Damage that makes a tool unfit for good, and damage that work cures: bits
 * of enum km_damage_what. */
#define KM_DAMAGE_LASTS (1u << KM_DMG_SPREAD | 1u << KM_DMG_CRACKED | \
			 1u << KM_DMG_BENT_HARD | 1u << KM_DMG_CHIPPED_LARGE)
#define KM_DAMAGE_CURES (1u << KM_DMG_BENT_SOFT | 1u << KM_DMG_ROUNDED | \
			 1u << KM_DMG_MUSHROOMED | 1u << KM_DMG_CHIPPED_SMALL)

struct km_match {
	const struct km_slot *slot;
	const struct km_tool *tool;	/* NULL when an offer was compared */
	const struct km_offer *offer;
	/* an offer that only names a part: what it states, and for the rest
	 * what the slot wants; NULL: the offer's own */
	const struct km_traits *traits;
	struct km_comparison on[KM_ASPECTS];
	struct km_end end[KM_ENDS];
	uint8_t n_ends;
	enum km_verdict verdict;
	enum km_aspect headline;	/* KM_ASPECTS: none */
	uint32_t damage;		/* bits of enum km_damage_what found */
	int16_t dimension, marking, condition, finish, colour;	/* axes */
	int32_t score;			/* thousandths */
	enum km_fitness fit;
	uint32_t unfit_for;		/* bits of enum km_damage_what */
	bool over_restored;
	bool wrong_size;		/* C32: fill the pocket, turn no nut */
	bool came_with;			/* the machine of the kit */
};

/* ------------------------------------------------------------------ */
/* Work and money                                                      */

/* A route: processes in working order that take a tool to the standard. */
struct km_route {
	const struct km_process *const *steps;
	uint32_t n_steps;
	struct km_money3 cost;		/* by itself: lots and loads paid alone */
	int32_t hands_min[3];		/* own time, minutes, low likely high */
	int32_t elapsed_h[3];
	uint8_t risk;			/* to the mark: 0 none, 1 some, 2 lost */
	bool reaches;			/* the standard */
	const char *leaves;		/* what stays; may be NULL */
};

enum km_way_kind {
	KM_WAY_OWNED,		/* as it lies */
	KM_WAY_WORK,		/* owned, after its route */
	KM_WAY_OFFER,		/* bought, ready */
	KM_WAY_OFFER_WORK,	/* bought, then its route */
	KM_WAY_LOT,		/* one piece of a job lot */
	KM_WAY_OPEN		/* left open */
};

/* One thing alone against its place in the pouch. */
struct km_way_fit {
	bool asked;			/* false: nothing below is filled */
	bool too_large, unmeasured;
	int32_t pocket;			/* 0: the kit names none */
	int64_t too_long_nm, too_wide_nm;	/* 0: not */
};

/* One means to fill one place of a slot. */
struct km_way {
	enum km_way_kind kind;
	const struct km_match *match;	/* NULL for KM_WAY_OPEN */
	const struct km_route *route;	/* NULL: no work */
	struct km_money3 price;		/* of the thing itself, run currency */
	struct km_money3 alone;		/* with every charge it needs, alone */
	struct km_money3 own;		/* own time, where an hour has a price;
					 * counts beside alone */
	const uint32_t *charges;	/* that it needs; a table of the plan */
	uint32_t n_charges;
	bool acceptable;		/* reaches the standard, and where it
					 * must fit is not known to be too large */
	struct km_way_fit fit;		/* where it must */
	bool over_limit;		/* dearer than the slot's most */
	bool priced;			/* false: no figure is known */
	int32_t points;			/* hundredths lost when chosen */
};

enum km_decide {
	KM_DECIDE_KEEP,		/* right as it lies */
	KM_DECIDE_RESTORE, KM_DECIDE_BUY,
	KM_DECIDE_READ,		/* unverified: look again first */
	KM_DECIDE_WAIT,		/* expected, lent or at the plater */
	KM_DECIDE_LEAVE,	/* nothing reaches the standard */
	KM_DECIDE_QUESTION	/* weak evidence: no money by default */
};

/* ------------------------------------------------------------------ */
/* Slots and kits                                                      */

/* What work on a tool could destroy. */
enum km_care {
	KM_CARE_MARK_UNREAD = 1,	/* a mark is there and was not read */
	KM_CARE_MARK_SHALLOW = 2,	/* no deeper than the pits */
	KM_CARE_MARK_DEPTH = 4		/* pits, and the depth is not known */
};

struct km_piece {		/* one place of a slot */
	const struct km_match *match;	/* NULL: nothing is given to it */
	bool pinned;
	bool expected;			/* match->tool is ordered */
	const struct km_match *coming;	/* ordered and better than what sits
					 * here; NULL: none */
	uint32_t care;			/* bits of enum km_care; 0 if as-found
					 * or nothing is to be done to it */
};

enum km_remark_what {
	KM_REMARK_PIN_WORSE,		/* tool would match better than the pin */
	KM_REMARK_SECOND_BEST,		/* tool went to other because ... */
	KM_REMARK_CLASH,		/* wanted by several; given to other */
	KM_REMARK_NOT_MINE,		/* tool would fill it, is not ours */
	KM_REMARK_LENT, KM_REMARK_AT_PLATER, KM_REMARK_OVERDUE,
	KM_REMARK_NOT_A_PAIR,		/* pieces of unlike mark or length */
	KM_REMARK_BAR_HOLE,		/* bar does not pass the hole */
	KM_REMARK_COMPANION_OPEN,
	KM_REMARK_WEAK,			/* fails on weak evidence only */
	KM_REMARK_MATCH_LIKE,		/* buy one like tool */
	KM_REMARK_OLD_PRICE,
	KM_REMARK_RECEIVED_RIGHT,	/* what was bought for the slot is */
	KM_REMARK_RECEIVED_WRONG	/* it is not: send it back? */
};

/* A day that is not recorded, or no today to count from. */
#define KM_NO_DAY INT64_MIN

struct km_remark {
	enum km_remark_what what;
	const struct km_slot *slot, *other;
	const struct km_tool *tool;
	enum km_aspect aspect;		/* KM_ASPECTS: none */
	/* figures.  OVERDUE: a days.  BAR_HOLE: a bar, b hole, nm.
	 * OLD_PRICE: a whole months.  CLASH: a what the loser's cheapest
	 * other way costs, minor units, -1 not known.  RECEIVED: a days left
	 * to send it back, below 0 when they are over, or KM_NO_DAY. */
	int64_t a, b;
	const struct km_match *match;	/* RECEIVED: held against the slot */
};

struct km_slot_audit {
	const struct km_slot *slot;
	bool firm;			/* certain or probable, and the same
					 * under every reading of the machine */
	bool depends;			/* not the same under every reading */
	enum km_verdict verdict;	/* as if firm; doubt is !firm */
	struct km_piece *pieces;	/* slot->count of them */
	bool there;			/* right, and neither lent nor at the
					 * plater: it counts today */
	const struct km_match *worst;	/* the piece that gave the verdict */
	const struct km_match **candidates;	/* best first, few */
	uint32_t n_candidates;
	uint32_t n_more;		/* candidates beyond those kept */
	/* restore or buy, for the places that are not right */
	const struct km_way *ways;
	uint32_t n_ways;
	const struct km_way *restore, *buy;	/* cheapest acceptable; NULL */
	const struct km_way *rejected_buy;	/* cheaper, not acceptable */
	enum km_decide decide;
	int64_t margin;			/* minor units; -1: no other way */
	bool close_call;		/* low or high would turn it */
	int32_t to_buy;			/* pieces */
	int32_t filled;			/* pieces given, without expected ones */
};

struct km_counts {
	int32_t firm;			/* F: firm, durable, not unused slots */
	int32_t on_paper, today, after_work, lent, expected;
	int32_t doubtful;		/* durable slots that are not firm */
	int32_t doubtful_on_paper;
	int32_t consumables, consumables_there;
	int32_t durable;		/* firm + doubtful */
	int32_t durable_on_paper;	/* on_paper + doubtful_on_paper */
	/* of the durable ones, by enum km_certainty */
	int32_t exists[KM_UNKNOWN + 1];
	int32_t verdict[KM_VERDICTS];	/* of the firm slots */
	int32_t condition_unrecorded;	/* allocated tools */
};

/* The rubric's arithmetic for one kit: originality and condition apart, each
 * fault once; hundredths of a point. */
struct km_rubric_audit {
	bool given;
	int64_t total;			/* cap; -1: none */
	int64_t missing, incorrect, condition, extra;	/* lost under each */
	int64_t lost;			/* capped */
	int32_t n_missing, n_incorrect, n_condition;
	int64_t after_plan;		/* lost once the plan is carried out */
};

/* Where what lies in a place comes from, as told to strangers. */
enum km_origin {
	KM_ORIGIN_MACHINE,		/* came with it, and is right */
	KM_ORIGIN_ELSEWHERE,		/* right, with another or bought */
	KM_ORIGIN_UNRECORDED,		/* right, from where is not recorded */
	KM_ORIGIN_REPRODUCTION,
	KM_ORIGIN_UNPROVED,		/* nothing wrong, not all verified */
	KM_ORIGIN_STANDS_IN,
	KM_ORIGIN_OPEN,
	KM_ORIGINS
};

/* What the tools of a kit are worth as recorded, minor units; neither what is
 * on order nor what is used up counts. */
struct km_worth {
	uint32_t tools, photographed;
	uint32_t paid_for, valued;	/* with a price paid, with a value */
	uint32_t old;			/* valued more than 24 months ago */
	int64_t paid, value;		/* sums of those */
};

/* What leaves it open which kit a machine left with. */
enum km_undecided {
	KM_DECIDED, KM_UNDECIDED_SERIAL, KM_UNDECIDED_DATE,
	KM_UNDECIDED_MARKET
};

/* By what a machine got its kit, the strongest that speaks for it. */
enum km_chosen_by {
	KM_BY_NAME,		/* it was asked for */
	KM_BY_SERIAL, KM_BY_DATE, KM_BY_MARKET,
	KM_BY_NOTHING		/* nothing speaks against it */
};

/* What of the machine's record stands against its kit. */
struct km_elsewhere {
	enum km_chosen_by by;		/* SERIAL, DATE or MARKET */
	const struct km_kit *to;	/* it points to this one; NULL: to none
					 * of the load */
};
#define KM_ELSEWHERE 3

/* The audit of one of the kits that a machine may have left with, by itself:
 * the whole bench offered to it alone. */
struct km_kit_reading {
	const struct km_kit *kit;
	const struct km_slot_audit *slots;	/* kit->n_slots */
	struct km_counts counts;
	bool meets;			/* the standard, today */
	/* which slot of this kit is which of the kit that is audited: an index
	 * a slot of that kit, UINT32_MAX: none */
	const uint32_t *same_as;
};

/* From the reading with the fewest to the one with the most. */
struct km_range { int32_t low, high; };

struct km_kit_audit {
	const struct km_kit *kit;
	const struct km_machine *machine;	/* NULL: none recorded */
	enum km_standard standard;
	struct km_slot_audit *slots;	/* kit->n_slots */
	struct km_counts counts;
	const struct km_remark *remarks;
	uint32_t n_remarks;
	/* money to finish, likely decisions added up */
	struct km_money3 restore_total, buy_total, total;
	struct km_money3 postage_total;	/* with top_up_total */
	struct km_money3 top_up_total;	/* to reach minimum orders */
	int32_t own_min[3];
	struct km_money3 own_total;	/* own time where an hour has a price;
					 * not in total */
	int32_t n_restore, n_buy;	/* pieces so decided */
	int32_t n_work;			/* pieces worked on, owned or bought */
	int32_t n_unpriced;		/* open places that no total holds */
	struct km_kit_limits limits;	/* in force: the kit's or the table's */
	struct km_rubric_audit rubric;
	const struct km_pouch_audit *pouch;	/* NULL: none recorded, or not
						 * asked for */
	const struct km_pouch_audit *planned;	/* with what the plan puts in;
					 * NULL: it need not fit */
	const struct km_evidence_audit *evidence;	/* NULL: not asked for */
	/* places of firm, durable slots, by enum km_origin */
	int32_t origin[KM_ORIGINS];
	struct km_worth worth;		/* if it was asked for */
	/* KM_DECIDED, or why there are readings: the kit itself first, then
	 * the others that the machine may have left with, by id */
	enum km_undecided undecided;
	const struct km_kit_reading *readings;	uint32_t n_readings;
	struct km_range firm_read, on_paper_read;	/* of the readings */
	enum km_chosen_by chosen_by;
	struct km_elsewhere elsewhere[KM_ELSEWHERE];
	uint32_t n_elsewhere;
	bool serial_outside;		/* the machine lies outside the range */
	int64_t outside_by;		/* 0: its number is of another form */
	bool meets;			/* the standard, today */
};

/* A tool no kit may use, or that none wants. */
enum km_tool_fate {
	KM_FATE_GIVEN, KM_FATE_NOT_OURS, KM_FATE_AWAY, KM_FATE_SURPLUS
};

/* A tool that no place of the run wants. */
struct km_surplus {
	const struct km_tool *tool;
	/* the best slot of the library where it is right, or right after
	 * work; NULL: none, it is free */
	const struct km_slot *slot;
	enum km_verdict verdict;	/* there */
	uint32_t more;			/* further slots where it is */
	bool second;			/* better surplus tools fill that slot */
	bool own;			/* ours, to sell or to trade */
	bool old_value;			/* valued more than 24 months ago */
};

/* One line of the shopping list. */
struct km_purchase {
	const struct km_kit_audit *kit;
	const struct km_slot_audit *slot;
	const struct km_way *way;	/* NULL: no acceptable offer known */
	const struct km_seller *seller;	/* of the parcel it comes in; or NULL */
	const struct km_job_lot *lot;	/* it comes out of; its price is apart */
	int32_t pieces;
	struct km_money3 price;		/* a piece, run currency */
	struct km_money3 amount;	/* pieces times price */
	bool old_price;			/* older than 24 months */
};

/* A parcel: all purchases from one seller. */
struct km_parcel {
	const struct km_seller *seller;	/* NULL: no offer known */
	const struct km_purchase *lines;
	uint32_t n_lines;
	struct km_money3 goods, postage, total;
	bool below_minimum;		/* of the order */
};

/* ------------------------------------------------------------------ */
/* The run                                                             */

struct km_questions;

struct km_options {
	const char *const *kits;	/* only these; n 0: by machine, or all */
	uint32_t n_kits;
	bool standard_given;
	enum km_standard standard;	/* overrides the kits' */
	struct km_date today;		/* year 0: nothing dated is computed */
	uint32_t candidates;		/* kept a slot; 0 means 5 */
	bool want_money;		/* ways, parcels, totals */
	bool want_frontier, want_ceilings, want_problem;
	enum km_aim aim;
	int64_t budget;			/* minor units; KM_AIM_BUDGET */
	int64_t points_limit;		/* hundredths; KM_AIM_POINTS */
	bool want_fates;
	bool want_pouch;
	bool want_jobs;			/* needs want_money */
	bool want_surplus, want_worth;
	bool must_fit;			/* the plan goes into the pouch */
	bool want_margins;		/* margins, what decisions by hand cost,
					 * what job lots are worth */
	bool want_evidence;
};

struct km_audit {
	struct km_arena *mem;
	const struct km_load *load;
	struct km_options options;
	struct km_kit_audit *kits;	uint32_t n_kits;
	const struct km_kit *const *library;	uint32_t n_library;
	const char *currency;		/* of all money here; NULL: none */
	int32_t decimals;
	const struct km_parcel *parcels;	uint32_t n_parcels;
	struct km_money3 shopping_total;
	const struct km_plan *plan;	/* NULL: money was not asked for */
	const struct km_jobs *jobs;	/* NULL: not asked for */
	const struct km_questions *questions;	/* see questions.h; NULL */
	/* of the bench */
	uint64_t tools, not_ours, away, given, surplus;
	const uint8_t *fate;		/* enum km_tool_fate a tool; or NULL */
	const struct km_surplus *spare;	uint64_t n_spare;	/* surplus, by
					 * the order of ids; if asked for */
	uint64_t spare_kept;		/* of those, with a slot */
	struct km_worth worth;		/* of all kits; if asked for */
	uint64_t prices_old;		/* older than 24 months */
	bool meets;			/* every kit */
};

/*
 * Audit a load.
 *
 * o         NULL means no options
 * d         gets what options name wrongly (no such kit) and remarks on pins
 * out       untouched unless KM_OK is returned
 * errors    KM_EINPUT, KM_ENOMEM, KM_ERANGE (a sum of money overflows)
 */
enum km_status km_audit_run(const struct km_load *load,
			    const struct km_options *o, struct km_diags *d,
			    struct km_audit **out);
void km_audit_free(struct km_audit *a);

/* The origin of one piece of a slot, from 0. */
enum km_origin km_piece_origin(const struct km_slot_audit *s, int32_t piece);

/* Was a tool valued more than 24 months ago?  No, if it is not known. */
bool km_value_is_old(const struct km_audit *a, const struct km_tool *t);

const char *km_verdict_word(enum km_verdict v);
const char *km_standard_word(enum km_standard s);
const char *km_certainty_word(enum km_certainty c);

#endif
