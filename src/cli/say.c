/* SPDX-License-Identifier: MIT */
#include "cli/say.h"

#include <errno.h>
#include <stdarg.h>
#include <string.h>
#include <unistd.h>

#include "base/escape.h"

static bool lost;

bool km_write_all(int fd, const char *text, size_t n)
{
	while (n > 0) {
		ssize_t did = write(fd, text, n);

		if (did < 0 && errno == EINTR)
			continue;
		if (did < 0)
			return false;
		text += did;
		n -= (size_t)did;
	}
	return true;
}

void km_say_raw(const char *text, size_t n)
{
	if (!km_write_all(STDERR_FILENO, text, n))
		lost = true;
}

void km_say(const char *format, ...)
{
	static const char no_memory[] = "kitmuster: out of memory\n";
	struct km_arena *mem = km_arena_new(NULL);
	struct km_buf plain, line;
	va_list ap;

	km_buf_init(&plain, mem);
	km_buf_init(&line, mem);
	if (mem) {
		va_start(ap, format);
		km_buf_vprintf(&plain, format, ap);
		va_end(ap);
		km_buf_str(&line, "kitmuster: ");
		km_escape_terminal(&line, plain.text, plain.len);
		km_buf_char(&line, '\n');
	}
	if (!mem || km_buf_failed(&plain) || km_buf_failed(&line))
		km_say_raw(no_memory, sizeof no_memory - 1);
	else
		km_say_raw(line.text, line.len);
	km_arena_free(mem);
}

bool km_say_failed(void)
{
	return lost;
}
