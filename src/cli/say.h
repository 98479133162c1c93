/* SPDX-License-Identifier: MIT */
/*
 * say - what the tool itself tells its user, on standard error.
 */
#ifndef KM_CLI_SAY_H
#define KM_CLI_SAY_H

#include <stdbool.h>
#include <stddef.h>

/* [posix-utilities] grep, cmp and diff: 0 good, 1 it ran and differs, more: trouble. */
enum km_exit {
	KM_EXIT_GOOD,
	KM_EXIT_DIFFERS,	/* a kit does not meet its standard */
	KM_EXIT_WRONG,		/* of the command line or of an input */
	KM_EXIT_TROUBLE		/* could not read, write or allocate */
};

/* "kitmuster: text" and a line feed; the text is escaped for a terminal, so
 * that names and operands may stand in it as they are. */
void km_say(const char *format, ...) __attribute__((format(printf, 1, 2)));
/* Text that is escaped already, as it is. */
void km_say_raw(const char *text, size_t n);
/* Was a message lost? */
bool km_say_failed(void);

/* All n bytes to a descriptor; false with errno set. */
bool km_write_all(int fd, const char *text, size_t n);

#endif
