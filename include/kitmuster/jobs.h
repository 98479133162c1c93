/* SPDX-License-Identifier: MIT */
/*
 * jobs - the work of a plan as the bench sees it: tools by process in working
 * order, what each is after a step, what must not be done to it.
 *
 * Owner    the audit's arena
 * Units    nanometres, minutes, hundredths of an hour, tenths of HRC
 */
#ifndef KITMUSTER_JOBS_H
#define KITMUSTER_JOBS_H

#include <stdbool.h>
#include <stdint.h>

#include "kitmuster/model.h"

struct km_kit_audit;
struct km_match;
struct km_route;
struct km_slot_audit;

/* Why something must not be done to a tool; bits. */
enum km_job_bar {
	KM_BAR_NOT_OURS = 1,
	KM_BAR_CRACKED = 2,
	KM_BAR_MARK_SHALLOW = 4,	/* no deeper than the pits */
	KM_BAR_MARK_DEPTH = 8,		/* pits, depth of the mark not known */
	KM_BAR_MARK_UNREAD = 16,
	KM_BAR_LEAD_PAINT = 32,		/* old paint, not tested */
	KM_BAR_CADMIUM = 64,
	KM_BAR_PLATING_UNKNOWN = 128,	/* counts as cadmium */
	KM_BAR_CELLULOID = 256,
	KM_BAR_TOO_HARD = 512		/* above 45 HRC: for ordinary zinc */
};

struct km_job_barred {
	const struct km_kit_audit *kit;
	const struct km_slot *slot;
	const struct km_tool *tool;	/* NULL: an offer */
	const struct km_offer *offer;
	uint32_t bars;			/* never 0 */
	int64_t pit_nm, mark_nm;	/* -1: not recorded */
	uint64_t allowed;		/* of the cleaning processes: bits
					 * 1 << enum km_process_id */
};

enum km_job_bake {
	KM_JOB_BAKE_NO,		/* not hard, or nothing puts hydrogen in */
	KM_JOB_BAKE_HOURS,
	KM_JOB_BAKE_ASK,	/* harder than the published table goes */
	KM_JOB_BAKE_UNKNOWN	/* hardness not known: ask */
};

struct km_job_hardness {
	int32_t from, to;		/* tenths of HRC; -1: not stated */
	bool tested;			/* of the tool; else of its kind */
	bool over_45;			/* its harder end, and it is plated:
					 * caution C24 */
	enum km_job_bake bake;
	int32_t hours, c_from, c_to;	/* of the bake; 0 without one */
	const char *source;		/* of the hours; NULL: none */
};

/* An opening that a coat closes by twice its thickness. */
struct km_job_opening {
	uint32_t end;			/* from 1 */
	int64_t was_nm;
	int64_t becomes_nm;		/* with the likely thickness */
	int64_t at_most_nm, at_least_nm;	/* thinnest, thickest coat */
	int64_t least_nm;		/* of its size; 0: not known */
};

struct km_job_step {
	const struct km_process *process;
	uint64_t words;			/* what it is then: bits 1 << enum
					 * km_state_word */
	bool mark_fainter;
	int32_t hands_min[3];
	int32_t elapsed[3];
	uint32_t load;			/* from 1; 0: the process has no loads */
};

struct km_job_tool {
	const struct km_kit_audit *kit;
	const struct km_slot_audit *slot;
	const struct km_match *match;	/* a tool, or an offer to be bought */
	const struct km_route *route;
	struct km_job_step *steps;	/* route->n_steps of them */
	uint64_t found;			/* words before the first step */
	const struct km_finish *becomes;	/* NULL: not known */
	bool new_coat;
	struct km_job_hardness hardness;
	const struct km_job_opening *openings;
	uint32_t n_openings;
	uint32_t bars;			/* bits of enum km_job_bar */
	int32_t elapsed[3];		/* of its steps */
	uint64_t cautions;		/* bit 0 is C01 */
	uint64_t sent_cautions;		/* of what a shop does alone */
	bool sent;			/* a shop does some step */
};

/* One process, done to all whose turn it is. */
struct km_job_ref { uint32_t tool, step; };	/* indexes */
struct km_job {
	const struct km_process *process;
	const struct km_job_ref *refs;	/* load by load */
	uint32_t n_refs;
	uint32_t loads;			/* 0: no loads */
	int32_t load_pieces;		/* in a full one */
	int32_t committed;		/* pieces in an open lot before these */
	struct km_date closes;		/* of it; year 0: not known */
	bool shop;
	int32_t hands_min[3];
	int32_t elapsed[3];		/* loads one after another */
};

/* A tool of a kit that is kept as found, and what restoring it would be. */
struct km_job_kept {
	const struct km_kit_audit *kit;
	const struct km_slot_audit *slot;
	const struct km_match *match;
	const struct km_route *route;	/* for comparison only */
};

/* A tool that is at the plater. */
struct km_job_away {
	const struct km_tool *tool;
	const struct km_slot *slot;	/* that it is given to; NULL: none */
	int32_t overdue;		/* days; 0: not, or not known */
};

struct km_jobs {
	const struct km_job_tool *tools;	uint32_t n_tools;
	const struct km_job *jobs;		uint32_t n_jobs;
	const struct km_job_barred *barred;	uint32_t n_barred;
	const struct km_job_kept *kept;		uint32_t n_kept;
	const struct km_job_away *away;		uint32_t n_away;
	int32_t hands_min[3];
	uint64_t cautions;		/* of all tools */
};

#endif
