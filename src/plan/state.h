/* SPDX-License-Identifier: MIT */
/*
 * state - a tool as work finds it, what its slot asks for, and what one
 * process makes of it.
 *
 * The state is a set of the words of the process table and the finish; the
 * table's cures and improvements turn one set into another.  What the table
 * cannot say is said here: what a handle that is off lets pass, what strips a
 * coat beside derusting, what a mark loses.
 *
 * source   data/processes.def; the guards [cautions C01 to C03, C18, C29];
 *          the figures of struct km_work_choices are choices of this project
 */
#ifndef KM_PLAN_STATE_H
#define KM_PLAN_STATE_H

#include <stdbool.h>
#include <stdint.h>

#include "kitmuster/audit.h"
#include "match/rules.h"
#include "plan/charge.h"
#include "trade/caution.h"
#include "trade/hardness.h"

#define KM_MARK_LEVEL 2400	/* a level of legibility; crisp is three */

/* Choices that may be set; source "choice". */
struct km_work_choices {
	int32_t polish_loses;	/* of a level, a polish: 2400 is one */
	int32_t tumble_loses;	/* of a level, an hour of abrasive tumbling */
	int64_t polish_clears_nm;	/* deeper pits stay */
};
extern const struct km_work_choices km_work_choices_default;

struct km_state {
	uint64_t words;		/* bits of enum km_state_word */
	uint64_t done;		/* bits of enum km_process_id */
	uint8_t finish, faces;	/* enum km_finish_id; 0: bare or not known */
	int16_t marking;	/* KM_MARK_LEVEL a level; 0: gone */
	bool abraded;		/* a step has touched the mark */
};

/* What keeps abrasive steps off. */
enum km_mark_bar { KM_MARK_FREE, KM_MARK_SHALLOW, KM_MARK_DEPTH_UNKNOWN };

struct km_task {
	const struct km_costs *costs;
	struct km_work_choices choices;
	struct km_state start;
	uint64_t must_go;	/* words that the standard does not take */
	uint64_t finish_ok;	/* bits of finishes that it takes */
	bool new_coat;		/* the coat as it is does not do */
	bool coat_may_change;
	bool for_use;		/* display only does not do */
	bool hopeless;		/* fails by what no work cures */
	bool recommend;		/* false: as-found, for comparison only */
	bool has_mark, cadmium, plated_unknown, old_paint;
	uint64_t handle;	/* bits of guards of the handle's material */
	bool dip, mould;	/* would give the handle that is wanted */
	bool vinyl;		/* the skin is cut off, not taken off */
	uint32_t guards;	/* enum km_guard */
	enum km_mark_bar bar;
	int64_t pit_nm;		/* -1: not recorded */
	struct km_hardness hardness;
	uint8_t made[KM_STATES];	/* finish that a new coat would be */
};

/*
 * Set a task up from a comparison; as-found is measured by as-delivered, for
 * showing what would be done, and not recommended.
 *
 * choices  NULL: the defaults
 */
void km_task_init(struct km_task *t, const struct km_match *m,
		  const struct km_rules *rules, const struct km_costs *costs,
		  const struct km_work_choices *choices);

/* What the cautions need to know of the match's tool or offer. */
struct km_caution_tool km_task_caution_tool(const struct km_match *m);

/* How hard the tool is, as tested or by its kind. */
struct km_hardness km_task_hardness(const struct km_match *m);

/* May the process be done to a tool in this state: guards and needs. */
bool km_state_allows(const struct km_task *t, const struct km_state *s,
		     enum km_process_id p);
/* The state after, also in place; false: nothing changed but that the step was
 * done. */
bool km_state_after(const struct km_task *t, const struct km_state *s,
		    enum km_process_id p, struct km_state *out);
/* Is a need of p still open that only doing a process can meet? */
uint64_t km_state_open_needs(const struct km_task *t, const struct km_state *s,
			     enum km_process_id p);
/* Does the state meet the task, apart from what must be closed first? */
bool km_state_meets(const struct km_task *t, const struct km_state *s);
/* May work stop here: handle on, steel oiled, no coat stripped and left. */
bool km_state_closed(const struct km_task *t, const struct km_state *s);
/* Only to be looked at: hydrogen left, or straightened hard. */
bool km_state_display(const struct km_state *s);
/* 0 none, 1 some, 2 lost. */
uint8_t km_state_risk(const struct km_task *t, const struct km_state *s);
/* Does the process work by abrasion: caution C17, or a tumbler (C39). */
bool km_step_is_abrasive(const struct km_step *s);

/* Words by kind. */
#define KM_S_RUSTS (KM_S(RUST1) | KM_S(RUST2) | KM_S(RUST3) | \
		    KM_S(RUST4) | KM_S(RUST5))
#define KM_S_PITS (KM_S(PITS_FEW) | KM_S(PITS_GENERAL))
#define KM_S_SHAPE (KM_S(BENT_SOFT) | KM_S(ROUNDED) | KM_S(MUSHROOMED) | \
		    KM_S(CHIPPED_SMALL))
#define KM_S_HANDLE_FAULTS (KM_S(HANDLE_FADED) | KM_S(HANDLE_WRONG_COLOUR) | \
			    KM_S(HANDLE_SPLIT) | KM_S(HANDLE_STICKY) | \
			    KM_S(HANDLE_LOOSE) | KM_S(HANDLE_MISSING))
#define KM_S_WORN (KM_S(WORN_PLATE) | KM_S(WORN_ZINC) | KM_S(WORN_CADMIUM) | \
		   KM_S(WORN_NICKEL) | KM_S(WORN_CHROME) | \
		   KM_S(WORN_BLACK) | KM_S(WORN_PHOSPHATE) | \
		   KM_S(PEELING_PLATE) | KM_S(BLISTERED_PLATE) | \
		   KM_S(PAINT_LOSS) | KM_S(PATCHED))
#define KM_S_STEEL (KM_S(BARE) | KM_S(STRIPPED) | KM_S(POLISHED))
#define KM_S_NEW_COAT (KM_S(NEW_ZINC) | KM_S(NEW_CADMIUM) | \
		       KM_S(NEW_NICKEL) | KM_S(NEW_CHROME) | \
		       KM_S(NEW_BLACK) | KM_S(NEW_PHOSPHATE) | \
		       KM_S(BLACK_COLD) | KM_S(NEW_PAINT))
#define KM_S_COAT (KM_S_WORN | KM_S_STEEL | KM_S_NEW_COAT | KM_S(ZINC) | \
		   KM_S(CADMIUM) | KM_S(NICKEL) | KM_S(CHROME) | \
		   KM_S(BLACK) | KM_S(PHOSPHATE))

#endif
