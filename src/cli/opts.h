/* SPDX-License-Identifier: MIT */
/*
 * opts - one table of options: the parser, --help, the manual page and the
 * completions are all made from it.
 *
 * Form     [posix-xbd-12] letters may be grouped, "--" ends the options,
 *          order does not matter, before the command or after it.  Long
 *          names are never shortened: a new option must not change what an
 *          old script means, which is why the C library's parser is not used.
 */
#ifndef KM_CLI_OPTS_H
#define KM_CLI_OPTS_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/buf.h"

enum km_command_id {
	KM_CMD_AUDIT, KM_CMD_CHECK, KM_CMD_COMPARE, KM_CMD_WHICH,
	KM_CMD_CHANGES, KM_CMD_GAUGE, KM_CMD_IMPORT, KM_CMD_SCHEMA, KM_CMD_START, KM_CMD_HELP, KM_COMMANDS
};

enum km_opt {
	KM_OPT_SHEET, KM_OPT_FORMAT, KM_OPT_JSON, KM_OPT_KIT, KM_OPT_STANDARD,
	KM_OPT_BUDGET, KM_OPT_POINTS, KM_OPT_MUST_FIT,
	KM_OPT_TODAY, KM_OPT_PAPER, KM_OPT_MEASURED_BAR, KM_OPT_STDIN_FORM, KM_OPT_UNIT, KM_OPT_DRY_RUN,
	KM_OPT_OUTPUT, KM_OPT_PLAIN,
	KM_OPT_CSV_BOM, KM_OPT_COLOR, KM_OPT_NO_COLOR, KM_OPT_VERBOSE,
	KM_OPT_QUIET, KM_OPT_HELP, KM_OPT_VERSION, KM_OPTS
};

struct km_option {
	char letter;		/* 0: none */
	const char *name;	/* without the dashes */
	const char *value;	/* what to call its value; NULL: it has none */
	const char *without;	/* the value when none is given; only long
				 * options written --name=VALUE may go without */
	/* short for another option with a value; NULL: it stands for itself */
	enum km_opt means;
	const char *means_value;
	bool repeats;		/* every value counts; else see `once` */
	bool once;		/* twice is a mistake; else the last counts */
	uint32_t commands;	/* bits 1 << enum km_command_id */
	const char *help;	/* one or more lines */
};

extern const struct km_option km_options[KM_OPTS];

/* What a command line says; texts are those of argv. */
struct km_args {
	uint32_t times[KM_OPTS];
	const char *value[KM_OPTS];	/* the last one */
	const char **kits;		/* every value of --kit */
	uint32_t n_kits;
	const char **operands;		/* the command's name is the first */
	uint32_t n_operands;
	struct km_buf fault;		/* the first mistake; empty: none */
};

/* Reads all of argv, past a mistake too, so that --help is always heard.
 * False: memory ran out. */
bool km_args_parse(struct km_args *a, int argc, char *const *argv,
		   struct km_arena *mem);
/* Do all options given go with the command?  Else the fault is set. */
bool km_args_allow(struct km_args *a, enum km_command_id c,
		   const char *command);

/* "; did you mean 'a' or 'b'?" for what lies near meant; nothing if none. */
struct km_near;
void km_buf_near(struct km_buf *b, const struct km_near *n, const char *dashes);

#endif
