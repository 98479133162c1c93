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

/* The words --help and --version are heard whatever else is said. */
static enum km_exit asked_for_help(struct km_cli *c)
{
	const struct km_command *command = NULL;

	if (c->args.times[KM_OPT_HELP] == 0)
		return km_version_print(c->mem);
	for (uint32_t i = 0; i < KM_COMMANDS && c->args.n_operands > 0; i++)
		if (strcmp(km_commands[i].name, c->args.operands[0]) == 0)
			command = &km_commands[i];
	return km_help_print(command, c->mem);
}

static enum km_exit wrong(const struct km_cli *c)
{
	km_say("%s", km_buf_failed(&c->args.fault) ? "out of memory"
						   : c->args.fault.text);
	km_say("'kitmuster help%s%s' tells what there is",
	       c->command ? " " : "", c->command ? c->command->name : "");
	return KM_EXIT_WRONG;
}

static enum km_exit run(struct km_cli *c, int argc, char *const *argv)
{
	if (!km_args_parse(&c->args, argc, argv, c->mem)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	if (c->args.times[KM_OPT_HELP] || c->args.times[KM_OPT_VERSION])
		return asked_for_help(c);
	if (c->args.fault.len > 0)
		return wrong(c);
	if (c->args.n_operands == 0)
		return km_usage_say(NULL, c->mem);
	if (!km_command_find(c->args.operands[0], &c->id, c->mem))
		return KM_EXIT_WRONG;
	c->command = &km_commands[c->id];
	c->operands = c->args.operands + 1;
	c->n_operands = c->args.n_operands - 1;
	if (!km_args_allow(&c->args, c->id, c->command->name))
		return wrong(c);
	if (c->command->needs_operand && c->n_operands == 0)
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
