/* SPDX-License-Identifier: MIT */
/*
 * status - what a library call answers, and the ceilings it keeps.
 *
 * A status speaks of the world (memory, files).  What is wrong inside a
 * user's file is a message in struct km_diags (diag.h), and the call then
 * answers KM_EINPUT.
 */
#ifndef KITMUSTER_STATUS_H
#define KITMUSTER_STATUS_H

#include <stddef.h>
#include <stdint.h>

enum km_status {
	KM_OK,
	KM_EINPUT,	/* a file was read and is wrong; see the messages */
	KM_ENOMEM,	/* memory ran out, or a byte ceiling was reached */
	KM_EIO,		/* a file could not be opened or read */
	KM_ERANGE,	/* a number does not fit */
	KM_ELIMIT	/* a ceiling other than memory was reached */
};

/*
 * Counts allocations and fails one of them, or all from it on, so that every
 * failure path can be walked.  Shared by all arenas that were made with the
 * same limits.  Tests only.
 */
struct km_fault {
	uint64_t seen;		/* allocations asked for so far */
	uint64_t fail_at;	/* this one fails, from 1; 0 means none */
	int and_after;		/* nonzero: all later ones fail too */
};

/* Every ceiling in one place; tests shrink them.  Zero means the default. */
struct km_limits {
	size_t arena_bytes;	/* bytes of one arena; default no ceiling */
	uint64_t file_bytes;	/* bytes of one input; default 256 MiB */
	uint64_t item_bytes;	/* bytes read ahead of one item; 8 MiB */
	uint32_t depth;		/* nesting of a file; 64 */
	uint32_t entry_nodes;	/* values of one entry or list item; 4 000 000 */
	uint32_t tools;		/* tools of a run; 2 000 000 */
	uint32_t slots;		/* slots of a run; 100 000 */
	uint32_t note_bytes;	/* a note or title; 64 KiB */
	uint32_t word_bytes;	/* any other text; 256 */
	uint32_t key_bytes;	/* a key; 64 */
	uint32_t per_rule;	/* messages printed of one id; 20 */
	uint64_t nodes;		/* steps of the search for a plan */
	struct km_fault *fault;	/* NULL outside tests */
};

#endif
