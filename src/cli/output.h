/* SPDX-License-Identifier: MIT */
/*
 * output - where a sheet goes: standard output, or a file that is replaced
 * whole or not at all.
 *
 * A file is written beside the old one under a name of its own, synced, and
 * moved over it; whatever fails before that, a signal too, leaves the old one
 * as it was and nothing beside it.  What is no ordinary file (a device, a
 * FIFO) is written straight.
 */
#ifndef KM_CLI_OUTPUT_H
#define KM_CLI_OUTPUT_H

#include "cli/input.h"
#include "cli/say.h"

struct km_output {
	const char *name;	/* for messages; NULL: standard output */
	const char *path;	/* moved there at the end; NULL: it is not */
	char *temp;		/* the new file; NULL: written straight */
	int fd;
	int error;		/* errno of the first failure; 0: none */
};

/*
 * Open path, NULL or "-" for standard output.  in: the inputs, none of which
 * may be written over; may be NULL.
 *
 * errors    KM_EXIT_WRONG, KM_EXIT_TROUBLE; it has been said
 */
enum km_exit km_output_open(struct km_output *o, const char *path,
			    const struct km_inputs *in, struct km_arena *mem);
/* For struct km_sink. */
bool km_output_write(void *output, const char *text, size_t n);
/* Finish: KM_EXIT_GOOD, or KM_EXIT_TROUBLE after saying why. */
enum km_exit km_output_close(struct km_output *o);
/* Leave the old file as it is; nothing after km_output_close(). */
void km_output_drop(struct km_output *o);

/* Remove a file that is being written when SIGHUP, SIGINT or SIGTERM ends the
 * program; signals that were ignored at the start stay so. */
void km_output_signals(void);

#endif
