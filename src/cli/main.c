/* SPDX-License-Identifier: MIT */
/*
 * kitmuster - the tool around the library: options in, library calls, exit
 * status out.
 */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

#include "cli/cmds.h"

/*
 * A standard descriptor that is closed would be taken by the first file that
 * is opened, and a message would go into it.  It is filled with a /dev/null
 * that cannot be used the way it is meant to be, so that using it is an
 * error like any other.
 */
static bool fill_descriptors(void)
{
	for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++) {
		if (fcntl(fd, F_GETFD) >= 0 || errno != EBADF)
			continue;
		if (open("/dev/null",
			 fd == STDIN_FILENO ? O_WRONLY : O_RDONLY) != fd)
			return false;
	}
	return true;
}

/* The command that the first operand names exactly, or NULL. */
static const struct km_command *named_command(const struct km_args *a)
{
	for (uint32_t i = 0; i < KM_COMMANDS && a->n_operands > 0; i++)
		if (strcmp(km_commands[i].name, a->operands[0]) == 0)
			return &km_commands[i];
	return NULL;
}

static enum km_exit wrong(const struct km_cli *c)
{
	km_say("%s", km_buf_failed(&c->args.fault) ? "out of memory"
						   : c->args.fault.text);
	km_say("'kitmuster help%s%s' tells what there is",
	       c->command ? " " : "", c->command ? c->command->name : "");
	return KM_EXIT_WRONG;
}

/* --help and --version are heard whatever else is said. */
static enum km_exit run(struct km_cli *c, int argc, char *const *argv)
{
	enum km_command_id id;

	if (!km_args_parse(&c->args, argc, argv, c->mem)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	c->command = named_command(&c->args);
	if (c->args.times[KM_OPT_HELP])
		return km_help_print(c->command, c->mem);
	if (c->args.times[KM_OPT_VERSION])
		return km_version_print(c->mem);
	if (c->args.fault.len > 0)
		return wrong(c);
	if (c->args.n_operands == 0)
		return km_usage_say(NULL, c->mem);
	if (!km_command_find(c->args.operands[0], &id, c->mem))
		return KM_EXIT_WRONG;
	c->operands = c->args.operands + 1;
	c->n_operands = c->args.n_operands - 1;
	if (!km_args_allow(&c->args, id, c->command->name))
		return wrong(c);
	if (c->command->needs_operand && c->n_operands == 0 &&
	    !c->args.times[KM_OPT_MEASURED_BAR])	/* needs no files */
		return km_usage_say(c->command, c->mem);
	return c->command->run(c);
}

int main(int argc, char **argv)
{
	struct km_cli c;
	enum km_exit e;

	if (!fill_descriptors())
		return KM_EXIT_TROUBLE;
	signal(SIGXFSZ, SIG_IGN);	/* a full quota is an error to report */
	km_output_signals();
	memset(&c, 0, sizeof c);
	c.mem = km_arena_new(NULL);
	if (!c.mem) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	e = run(&c, argc, argv);
	km_arena_free(c.mem);
	if (km_say_failed())
		e = KM_EXIT_TROUBLE;
	return (int)e;
}
