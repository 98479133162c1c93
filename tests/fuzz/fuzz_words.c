/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as a size, a length and a date.  A length that is read is printed
 * and read again: printed in nanometres' decimals it must be the same length.
 */
#include <stdlib.h>

#include "base/arena.h"
#include "base/buf.h"
#include "fuzz.h"
#include "trade/size.h"
#include "unit/date.h"
#include "unit/length.h"

static void lengths(struct km_slice s, struct km_arena *mem)
{
	struct km_length_rules rules = { KM_UNIT_MM, true, true };
	struct km_span one, again;
	struct km_buf b;
	bool assumed;

	km_requirement_parse(s, &rules, &one, &assumed);
	if (km_reading_parse(s, &rules, &one) != KM_LENGTH_OK)
		return;
	km_buf_init(&b, mem);
	km_buf_mm(&b, one.nm, 6);	/* 1 nm is the sixth decimal */
	if (km_buf_failed(&b))
		return;
	if (km_reading_parse(km_slice_of(b.text), &rules, &again) !=
		    KM_LENGTH_OK || again.nm != one.nm)
		abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct km_size_rules rules = { NULL, true, KM_UNIT_NONE };
	struct km_limits lim = fuzz_limits();
	struct km_arena *mem = km_arena_new(&lim);
	struct km_size sizes[4];
	struct km_slice s = { (const char *)data, size };
	struct km_period period;
	struct km_date date;
	uint32_t n;

	if (!mem)
		return 0;
	lengths(s, mem);
	km_size_parse(s, &rules, mem, sizes);
	km_size_parse_cell(s, &rules, mem, sizes, 4, &n);
	km_date_parse(s, &date);
	km_period_parse(s, &period);
	km_arena_free(mem);
	return 0;
}
