/* SPDX-License-Identifier: MIT */
/*
 * process - the restoration processes as a table, and what each does to a
 * tool as sets of bits.
 *
 * Units    thickness in nanometres a side; time in minutes and hundredths of
 *          an hour; costs in hundredths of a cost unit
 * source   data/processes.def; each row names its own
 */
#ifndef KM_TRADE_PROCESS_H
#define KM_TRADE_PROCESS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"
#include "trade/finish.h"

enum km_process_id {
#define PROCESS(id, ...) KM_PROCESS_##id,
#include "data/processes.def"
#undef PROCESS
	KM_PROCESSES
};

enum km_charged_by { KM_BY_PIECE, KM_BY_BATCH, KM_BY_LOT };
/* SUM: batch cost times loads, plus pieces times piece cost; MAX: the larger
 * of batch cost and pieces times piece cost, as a lot minimum means. */
enum km_charge_rule { KM_RULE_SUM, KM_RULE_MAX };

/* One row; a list of three is low, likely, high. */
struct km_process {
	enum km_process_id id;
	const char *word;		/* the id in capitals: PLATE_ZINC */
	const char *name, *place;	/* as printed */
	const char *needs, *cures, *improves, *leaves, *harms, *never_on;
	int32_t per_side_nm[3];		/* negative: taken off */
	int32_t hands_min[3];		/* own work, a piece */
	const char *elapsed_h[3];	/* decimal text */
	enum km_charged_by charged_by;
	enum km_charge_rule rule;
	int32_t load_pieces[3];		/* -1: no loads */
	int32_t batch_cost[3], piece_cost[3];
	const char *cautions;		/* "C09|C10" */
	const char *cure_basis, *time_basis, *cost_basis, *source;
};

extern const struct km_process km_processes[KM_PROCESSES];

/* By id, folded ("plate zinc" is PLATE_ZINC); NULL: no such process. */
const struct km_process *km_process_find(struct km_slice word);

/* The id as files write it: "plate_zinc". */
#define KM_PROCESS_ROOM 32
void km_process_word(const struct km_process *p, char out[KM_PROCESS_ROOM]);

/*
 * The words for the state of a tool that the table uses, in its own spelling.
 * Those that say that nothing is left (clean, rust0, bright, tight ...) are
 * KM_S_NOTHING.
 */
#define KM_STATE_WORDS(X) \
	X(DIRT, "dirt") X(GREASE, "grease") X(STAIN, "stain") \
	X(SCALE, "scale") X(HYDROGEN, "hydrogen") \
	X(RUST_LOOSE, "rust_loose") X(RUST1, "rust1") X(RUST2, "rust2") \
	X(RUST3, "rust3") X(RUST4, "rust4") X(RUST5, "rust5") \
	X(PITS_FEW, "pits_few") X(PITS_GENERAL, "pits_general") \
	X(SCUFF, "scuff") X(DULL_PLATE, "dull_plate") \
	/* the coat */ \
	X(PEELING_PLATE, "peeling_plate") X(BLISTERED_PLATE, "blistered_plate") \
	X(WORN_PLATE, "worn_plate") \
	X(WORN_ZINC, "worn_zinc") X(WORN_CADMIUM, "worn_cadmium") \
	X(WORN_NICKEL, "worn_nickel") X(WORN_CHROME, "worn_chrome") \
	X(WORN_BLACK, "worn_black") X(WORN_PHOSPHATE, "worn_phosphate") \
	X(ZINC, "zinc") X(CADMIUM, "cadmium") X(NICKEL, "nickel") \
	X(CHROME, "chrome") X(BLACK, "black") X(PHOSPHATE, "phosphate") \
	X(NEW_ZINC, "new_zinc") X(NEW_CADMIUM, "new_cadmium") \
	X(NEW_NICKEL, "new_nickel") X(NEW_CHROME, "new_chrome") \
	X(NEW_BLACK, "new_black") X(NEW_PHOSPHATE, "new_phosphate") \
	X(BLACK_COLD, "black_cold") X(PATCHED, "patched") \
	X(PAINT_LOSS, "paint_loss") X(NEW_PAINT, "new_paint") \
	X(BARE, "bare") X(STRIPPED, "stripped") X(POLISHED, "polished") \
	/* shape */ \
	X(BENT_SOFT, "bent_soft") X(BENT_HARD, "bent_hard") \
	X(BENT_SET, "bent_set") X(ROUNDED, "rounded") \
	X(MUSHROOMED, "mushroomed") X(CHIPPED_SMALL, "chipped_small") \
	X(STRAIGHT_DISPLAY, "straight_display") \
	/* handle */ \
	X(HANDLE_ON, "handle_on") X(HANDLE_OFF, "handle_off") \
	X(HANDLE_FADED, "handle_faded") \
	X(HANDLE_WRONG_COLOUR, "handle_wrong_colour") \
	X(HANDLE_SPLIT, "handle_split") X(HANDLE_STICKY, "handle_sticky") \
	X(HANDLE_LOOSE, "handle_loose") X(HANDLE_MISSING, "handle_missing") \
	X(NEW_HANDLE, "new_handle") X(GLUED_DISPLAY, "glued_display") \
	/* what stays */ \
	X(SHOW_THROUGH, "show_through") X(FILLED, "filled") \
	X(OPEN, "protected")	/* wants oil; never written by a cure */

enum km_state_word {
#define X(id, text) KM_S_##id,
	KM_STATE_WORDS(X)
#undef X
	KM_STATES,
	KM_S_NOTHING = KM_STATES
};
_Static_assert(KM_STATES <= 64, "the words of a state fill one mask");

#define KM_BIT(n) ((uint64_t)1 << (n))
#define KM_S(word) KM_BIT(KM_S_##word)

/* Guards of never_on that are no finish. */
enum km_guard {
	KM_GUARD_LEAD_UNTESTED = 1, KM_GUARD_CRACKED = 2,
	KM_GUARD_SPREAD = 4, KM_GUARD_SOLDERED = 8
};

struct km_change {
	uint8_t from, to;		/* enum km_state_word */
	bool whole;			/* a cure; else an improvement */
};

#define KM_CHANGES 16
#define KM_NEEDS 4

/* A row's lists, read once a run. */
struct km_effect {
	struct km_change change[KM_CHANGES];
	uint32_t n_changes;
	uint64_t need[KM_NEEDS];	/* processes; one of each set */
	uint32_t n_needs;
	uint64_t from;			/* all words its changes start from */
	uint64_t never_finish;		/* bits 1 << enum km_finish_id */
	uint32_t never;			/* enum km_guard */
	uint64_t cautions;		/* bit 0 is C01 */
	int32_t elapsed[3];		/* hundredths of an hour */
};

/* False: a list of the table has a word that is not known, or too many. */
bool km_effect_read(const struct km_process *p, struct km_effect *out);

/* The bit of a material in never_finish; 0: no guard names it. */
uint64_t km_material_guard(const struct km_material *m);

#endif
