/* SPDX-License-Identifier: MIT */
/*
 * buf - text that grows, for sheets and messages.
 *
 * Owner    memory belongs to the arena given to km_buf_init().
 * Failure  the first one sticks: later calls do nothing and km_buf_failed()
 *          tells, so that a writer tests once, at the end, as with ferror().
 */
#ifndef KM_BASE_BUF_H
#define KM_BASE_BUF_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"

struct km_buf {
	char *text;		/* NUL-ended once anything was added */
	size_t len;
	size_t room;
	struct km_arena *mem;
	bool failed;
};

void km_buf_init(struct km_buf *b, struct km_arena *mem);
void km_buf_add(struct km_buf *b, const char *text, size_t len);
void km_buf_str(struct km_buf *b, const char *text);
void km_buf_char(struct km_buf *b, char c);
void km_buf_fill(struct km_buf *b, char c, size_t n);
void km_buf_int(struct km_buf *b, int64_t v);
void km_buf_printf(struct km_buf *b, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
void km_buf_vprintf(struct km_buf *b, const char *format, va_list ap)
	__attribute__((format(printf, 2, 0)));
/* Forget the text, keep the room. */
void km_buf_clear(struct km_buf *b);
bool km_buf_failed(const struct km_buf *b);

#endif
