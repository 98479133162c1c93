/* SPDX-License-Identifier: MIT */
/*
 * feed - an input of bytes in memory that behaves as badly as told.
 */
#ifndef KM_TESTS_FEED_H
#define KM_TESTS_FEED_H

#include <errno.h>
#include <stddef.h>
#include <string.h>

#include "kitmuster/load.h"

struct feed {
	const char *bytes;
	size_t n;
	size_t step;		/* bytes a call, 0: as many as asked for */
	int interrupted;	/* every second call is EINTR */
	int breaks;		/* EIO once break_at bytes have been given */
	size_t break_at;
	size_t at;		/* bytes given */
	unsigned calls;
};

static ptrdiff_t feed_read(void *ctx, void *buf, size_t n)
{
	struct feed *f = ctx;
	size_t left = f->n - f->at;

	if (f->interrupted && f->calls++ % 2 == 0) {
		errno = EINTR;
		return -1;
	}
	if (f->breaks && f->at >= f->break_at) {
		errno = EIO;
		return -1;
	}
	if (f->step && n > f->step)
		n = f->step;
	if (f->breaks && n > f->break_at - f->at)
		n = f->break_at - f->at;
	if (n > left)
		n = left;
	memcpy(buf, f->bytes + f->at, n);
	f->at += n;
	return (ptrdiff_t)n;
}

static struct km_input feed_input(struct feed *f)
{
	return (struct km_input){ "t.yaml", KM_INPUT_YAML, feed_read, f };
}

#endif
