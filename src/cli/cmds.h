/* SPDX-License-Identifier: MIT */
/*
 * cmds - one table of commands, and what they share.
 */
#ifndef KM_CLI_CMDS_H
#define KM_CLI_CMDS_H

#include "cli/opts.h"
#include "cli/output.h"
#include "cli/say.h"
#include "kitmuster/report.h"

struct km_cli;

struct km_command {
	const char *name;
	const char *operands;
	bool needs_operand;
	const char *job;		/* one line */
	const char *more;		/* paragraphs of help; may be NULL */
	const char *examples[3];
	const char *exits;		/* lines */
	enum km_exit (*run)(struct km_cli *c);
	const char *formats;		/* of --format, the first without it;
					 * NULL: those of tables */
};

extern const struct km_command km_commands[KM_COMMANDS];

/* One call of the tool. */
struct km_cli {
	struct km_arena *mem;
	struct km_args args;
	const struct km_command *command;
	const char *const *operands;	/* without the command */
	uint32_t n_operands;
};

enum km_exit km_cmd_audit(struct km_cli *c);
enum km_exit km_cmd_check(struct km_cli *c);
enum km_exit km_cmd_changes(struct km_cli *c);
enum km_exit km_cmd_compare(struct km_cli *c);
enum km_exit km_cmd_which(struct km_cli *c);
enum km_exit km_cmd_gauge(struct km_cli *c);
enum km_exit km_cmd_help(struct km_cli *c);
enum km_exit km_cmd_import(struct km_cli *c);
enum km_exit km_cmd_schema(struct km_cli *c);
enum km_exit km_cmd_start(struct km_cli *c);

/* Help and version go to standard output. */
enum km_exit km_help_print(const struct km_command *command,
			   struct km_arena *mem);
enum km_exit km_version_print(struct km_arena *mem);
/* Two examples and where to read on, to standard error: KM_EXIT_WRONG. */
enum km_exit km_usage_say(const struct km_command *command,
			  struct km_arena *mem);

/* The command of a name; false after saying that there is none, and what may
 * have been meant. */
bool km_command_find(const char *name, enum km_command_id *out,
		     struct km_arena *mem);

/* One of n words, exact; false after saying what there is. */
bool km_choose(struct km_cli *c, const char *what, const char *word,
	       const char *const *words, uint32_t n, uint32_t *out);
/* The value of --format, KM_FORMAT_TEXT without one. */
bool km_choose_format(struct km_cli *c, enum km_format *out);
/* The same for what is told in tables; false after saying which formats
 * there are. */
bool km_choose_table_format(struct km_cli *c, enum km_format *out);
/* Has --color a value that there is? */
bool km_choose_colour(struct km_cli *c);
/* The value of --paper; A4 without one. */
bool km_choose_paper(struct km_cli *c, enum km_paper_size *out);
/* The answer to --measured-bar. */
enum km_exit km_reprint(struct km_cli *c);
/* Everything a sheet wants to know of the terminal and the options. */
struct km_report_options km_paper(const struct km_cli *c);

/* The operands as inputs; a notice when a terminal is to be read. */
enum km_exit km_cli_inputs(struct km_cli *c, struct km_inputs *in);
/* All messages so far to standard error; with --quiet only errors.  Notes are
 * for those who check or import files, or ask for more with --verbose. */
enum km_exit km_cli_tell(struct km_cli *c, struct km_diags *d);
/* What a status comes to; says so when no message did. */
enum km_exit km_cli_exit(enum km_status st, const struct km_diags *d);

#endif
