/* SPDX-License-Identifier: MIT */
#define _XOPEN_SOURCE 700	/* realpath */
#include "cli/output.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/buf.h"

/* ---- signals ----------------------------------------------------------- */

static const int deadly[] = { SIGHUP, SIGINT, SIGTERM };
static char *volatile doomed;	/* removed when one of them comes */

static void on_signal(int number)
{
	char *temp = doomed;

	if (temp)
		unlink(temp);
	signal(number, SIG_DFL);	/* the shell sees how we ended */
	raise(number);
}

void km_output_signals(void)
{
	for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++) {
		struct sigaction act;

		if (sigaction(deadly[i], NULL, &act) != 0 ||
		    act.sa_handler == SIG_IGN)
			continue;
		memset(&act, 0, sizeof act);
		act.sa_handler = on_signal;
		sigemptyset(&act.sa_mask);
		sigaction(deadly[i], &act, NULL);
	}
}

/* A signal between making the file and noting its name would leave it. */
static void hold_signals(bool hold)
{
	sigset_t set;

	sigemptyset(&set);
	for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
		sigaddset(&set, deadly[i]);
	sigprocmask(hold ? SIG_BLOCK : SIG_UNBLOCK, &set, NULL);
}

/* ---- opening ----------------------------------------------------------- */

/* name: NULL is standard output */
static enum km_exit cannot_write(const char *name, int error)
{
	char why[128];

	if (strerror_r(error, why, sizeof why))
		snprintf(why, sizeof why, "error %d", error);
	if (name)
		km_say("cannot write '%s': %s", name, why);
	else
		km_say("cannot write standard output: %s", why);
	return KM_EXIT_TROUBLE;
}

static mode_t mode_of_new_file(void)
{
	mode_t mask = umask(0);

	umask(mask);
	return 0666 & ~mask;
}

/* A name of its own in the folder of path, made new. */
static enum km_exit open_beside(struct km_output *o, mode_t mode,
				struct km_arena *mem)
{
	const char *slash = strrchr(o->path, '/');
	struct km_buf name;

	km_buf_init(&name, mem);
	if (slash)
		km_buf_add(&name, o->path, (size_t)(slash - o->path) + 1);
	km_buf_str(&name, ".kitmuster-XXXXXX");
	if (km_buf_failed(&name)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	hold_signals(true);
	o->fd = mkstemp(name.text);
	if (o->fd >= 0)
		doomed = o->temp = name.text;
	hold_signals(false);
	if (o->fd < 0)
		return cannot_write(o->name, errno);
	if (fchmod(o->fd, mode) == 0)
		return KM_EXIT_GOOD;
	cannot_write(o->name, errno);
	km_output_drop(o);
	return KM_EXIT_TROUBLE;
}

static enum km_exit open_straight(struct km_output *o)
{
	o->path = NULL;
	o->fd = open(o->name, O_WRONLY | O_CLOEXEC | O_NOCTTY);
	return o->fd < 0 ? cannot_write(o->name, errno) : KM_EXIT_GOOD;
}

enum km_exit km_output_open(struct km_output *o, const char *path,
			    const struct km_inputs *in, struct km_arena *mem)
{
	struct stat st;
	char *real;

	memset(o, 0, sizeof *o);
	o->fd = STDOUT_FILENO;
	if (!path || strcmp(path, "-") == 0)
		return KM_EXIT_GOOD;
	o->name = o->path = path;
	if (stat(path, &st) != 0) {
		if (errno != ENOENT || lstat(path, &st) == 0)
			return cannot_write(path, errno);
		return open_beside(o, mode_of_new_file(), mem);
	}
	if (in && km_inputs_hold(in, st.st_dev, st.st_ino)) {
		km_say("'%s' is an input: it would be written over", path);
		return KM_EXIT_WRONG;
	}
	if (S_ISDIR(st.st_mode))
		return cannot_write(path, EISDIR);
	if (!S_ISREG(st.st_mode))
		return open_straight(o);
	/* the file that a link names is replaced, not the link */
	real = km_arena_alloc(mem, PATH_MAX, 1);
	if (!real || !realpath(path, real))
		return cannot_write(path, real ? errno : ENOMEM);
	o->path = real;
	if (access(real, W_OK) != 0)
		return cannot_write(path, errno);
	return open_beside(o, st.st_mode & 07777, mem);
}

/* ---- writing ----------------------------------------------------------- */

bool km_output_write(void *output, const char *text, size_t n)
{
	struct km_output *o = output;

	if (!o->error && !km_write_all(o->fd, text, n))
		o->error = errno;
	return !o->error;
}

void km_output_drop(struct km_output *o)
{
	if (o->fd > STDERR_FILENO)
		close(o->fd);
	o->fd = -1;
	if (o->temp) {
		unlink(o->temp);
		doomed = NULL;
		o->temp = NULL;
	}
}

enum km_exit km_output_close(struct km_output *o)
{
	int error = o->error;

	if (!error && o->temp && fsync(o->fd) != 0)
		error = errno;
	if (o->fd >= 0 && close(o->fd) != 0 && !error)
		error = errno;
	o->fd = -1;
	if (!error && o->temp && rename(o->temp, o->path) != 0)
		error = errno;
	if (!error) {
		doomed = NULL;
		o->temp = NULL;
		return KM_EXIT_GOOD;
	}
	km_output_drop(o);
	/* the reader of a closed pipe knows that it has gone */
	return error == EPIPE ? KM_EXIT_TROUBLE : cannot_write(o->name, error);
}
