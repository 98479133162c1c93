/* SPDX-License-Identifier: MIT */
/*
 * pouch - does the kit go into its pouch, by how much not, and whose fault is
 * it.  What is not measured is never said to fit.
 *
 * Units    nanometres; -1: not measured
 * Owner    the arena of the audit
 */
#ifndef KITMUSTER_POUCH_H
#define KITMUSTER_POUCH_H

#include "kitmuster/model.h"

enum km_fits {
	KM_FITS,
	KM_FITS_UNPROVED,	/* no arrangement was found, none excluded */
	KM_FITS_UNMEASURED,
	KM_FITS_NOT,
	KM_FITS_NO_TOOL,	/* nothing is given to the place */
	KM_FITS_STATES
};

enum km_fits_fault {
	KM_FAULT_NONE,
	KM_FAULT_TOOL,		/* the right tool would fit */
	KM_FAULT_POUCH,		/* the right tool would not fit either */
	KM_FAULT_UNKNOWN	/* the kit does not say what is right */
};

/* One measure of a tool against the room that there is. */
struct km_room {
	enum km_fits fits;
	enum km_fits_fault fault;
	int64_t need_nm, room_nm;
	int64_t over_nm;	/* need less room: above 0 too much, else to
				 * spare; where both are measured */
	int64_t right_nm;	/* what the right tool needs */
	int64_t right_over_nm;
};

struct km_pouch_piece {		/* one place of a slot */
	const struct km_slot *slot;
	uint32_t piece;			/* from 0 */
	const struct km_tool *tool;	/* NULL: nothing is given */
	int32_t pocket;			/* 0: none */
	bool placed;			/* by its measures, not by the kit */
	struct km_room length;
	struct km_room girth;		/* half of it, with ease */
	/* a pocket of a roll lying open bends in front only: its half girth
	 * less the room; where girth is measured */
	int64_t open_over_nm;
	int32_t stack;			/* of a bundle, from 1; 0: none */
	bool on_edge;			/* that stack */
	enum km_fits fits;
};

enum km_pocket_state {
	KM_POCKET_HOLDS,
	KM_POCKET_SHARED,		/* two slots name it */
	KM_POCKET_UNUSED,		/* empty on this model */
	KM_POCKET_UNEXPLAINED		/* no slot speaks of it */
};

struct km_pocket {
	int32_t number;			/* from 1 */
	int64_t width_nm;
	enum km_pocket_state state;
	const struct km_slot *slot, *other;	/* other: it shares with */
};

enum km_pouch_rule {
	KM_POUCH_POCKETS,	/* each tool by itself */
	KM_POUCH_BUNDLE,	/* all together, in a tube of cloth */
	KM_POUCH_LENGTHS	/* only lengths can be told */
};

/* All tools in stacks side by side. */
struct km_pouch_bundle {
	enum km_fits fits;
	struct km_room hull;		/* of the best arrangement */
	bool whole;			/* every arrangement was weighed */
	bool excluded;			/* no arrangement whatever can fit */
	uint32_t measured, unmeasured;	/* tools */
	uint32_t stacks;
	int64_t thick_nm, across_nm;	/* of that arrangement */
	int64_t usable_nm;		/* flat width less cloth and ease */
	int64_t section_um2, section_most_um2;	/* square micrometres */
	struct km_room flap;		/* over the mouth */
};

struct km_pouch_audit {
	const struct km_pouch *pouch;
	enum km_pouch_rule rule;
	struct km_pouch_piece *pieces;		uint32_t n_pieces;
	struct km_pocket *pockets;		uint32_t n_pockets;
	struct km_pouch_bundle bundle;		/* KM_POUCH_BUNDLE */
	int64_t ease_nm;			/* of a bundle */
	int64_t rolled_nm;			/* diameter of a roll, about */
	uint32_t n[KM_FITS_STATES];		/* pieces */
	uint32_t n_shared, n_unused, n_unexplained;	/* pockets */
};

const char *km_fits_word(enum km_fits f);
const char *km_fits_fault_word(enum km_fits_fault f);
const char *km_pocket_word(enum km_pocket_state s);

#endif
