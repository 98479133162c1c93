/* SPDX-License-Identifier: MIT */
/*
 * input - the files of the command line, each opened when its turn comes, so
 * that any number of them needs one descriptor.
 *
 * A file that cannot be opened fails at its first read, and so becomes a
 * message like any other.  A FIFO is read like a file: opening it waits for
 * its writer, as it does in any program.
 */
#ifndef KM_CLI_INPUT_H
#define KM_CLI_INPUT_H

#include <sys/types.h>

#include "cli/say.h"
#include "kitmuster/load.h"

struct km_input_file {
	const char *path;	/* "-": standard input */
	int fd;			/* -1: not open */
	bool begun;
	bool exists;		/* then: */
	dev_t device;
	ino_t inode;
};

struct km_inputs {
	struct km_input *in;
	struct km_input_file *files;
	uint32_t n;
};

/*
 * The inputs of n operands.
 *
 * form      of standard input
 * errors    KM_EXIT_WRONG: a file stands twice; it has been said
 */
enum km_exit km_inputs_init(struct km_inputs *in, const char *const *paths,
			    uint32_t n, enum km_input_form form,
			    struct km_arena *mem);
bool km_inputs_has_stdin(const struct km_inputs *in);
/* Is this file one of them? */
bool km_inputs_hold(const struct km_inputs *in, dev_t device, ino_t inode);
/* Close what a failed load left open. */
void km_inputs_release(struct km_inputs *in);

#endif
