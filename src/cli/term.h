/* SPDX-License-Identifier: MIT */
/*
 * term - what the terminal at the other end wants.
 */
#ifndef KM_CLI_TERM_H
#define KM_CLI_TERM_H

#include <stdbool.h>
#include <stdint.h>

/*
 * Colour?  when: "always", "never", "auto" or NULL for auto, which asks, in
 * this order, NO_COLOR [no-color], CLICOLOR_FORCE or FORCE_COLOR [clicolors],
 * then whether fd is a terminal that is not `dumb` and CLICOLOR is not 0.
 */
bool km_term_colour(int fd, const char *when);

/* Cells of a line: COLUMNS, else what the terminal says, else 80; 0, never
 * wrap, when fd is no terminal. */
uint32_t km_term_width(int fd);

#endif
