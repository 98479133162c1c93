/* SPDX-License-Identifier: MIT */
#include "cli/term.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define LEAST 20	/* cells; less cannot hold a table */
#define MOST 1000

static bool set(const char *name)
{
	const char *value = getenv(name);

	return value && *value;
}

static bool is(const char *name, const char *wanted)
{
	const char *value = getenv(name);

	return value && strcmp(value, wanted) == 0;
}

bool km_term_colour(int fd, const char *when)
{
	if (when && strcmp(when, "auto") != 0)
		return strcmp(when, "always") == 0;
	if (set("NO_COLOR"))
		return false;
	if ((set("CLICOLOR_FORCE") && !is("CLICOLOR_FORCE", "0")) ||
	    (set("FORCE_COLOR") && !is("FORCE_COLOR", "0")))
		return true;
	return isatty(fd) && set("TERM") && !is("TERM", "dumb") &&
	       !is("CLICOLOR", "0");
}

/* A number that makes sense as a width, else 0. */
static uint32_t columns(const char *text)
{
	uint32_t n = 0;

	if (!text || !*text)
		return 0;
	for (; *text; text++) {
		if (*text < '0' || *text > '9')
			return 0;
		n = n * 10 + (uint32_t)(*text - '0');
		if (n > MOST)
			return 0;
	}
	return n < LEAST ? 0 : n;
}

uint32_t km_term_width(int fd)
{
	struct winsize size;
	uint32_t n;

	if (!isatty(fd))
		return 0;
	n = columns(getenv("COLUMNS"));
	if (n)
		return n;
	if (ioctl(fd, TIOCGWINSZ, &size) == 0 && size.ws_col >= LEAST &&
	    size.ws_col <= MOST)
		return size.ws_col;
	return 80;
}
