/* SPDX-License-Identifier: MIT */
/*
 * fuzz - what the fuzz targets share.
 *
 * A target is one file fuzz_NAME.c with the entry that libFuzzer calls; its
 * corpus is corpus/NAME.  `make fuzz` runs it under the fuzzer, `make replay`
 * links it to replay.c and runs it over the corpus.
 */
#ifndef KM_TESTS_FUZZ_H
#define KM_TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>

#include "kitmuster/load.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Bytes as an input. */
struct fuzz_bytes { const uint8_t *p; size_t n; };

static inline ptrdiff_t fuzz_read(void *ctx, void *buf, size_t n)
{
	struct fuzz_bytes *b = ctx;
	unsigned char *to = buf;
	size_t i;

	for (i = 0; i < n && b->n > 0; i++, b->p++, b->n--)
		to[i] = *b->p;
	return (ptrdiff_t)i;
}

/* Ceilings that keep one input short. */
static inline struct km_limits fuzz_limits(void)
{
	struct km_limits lim = {
		.arena_bytes = (size_t)64 << 20, .tools = 2000, .slots = 200,
	};

	return lim;
}

#endif
