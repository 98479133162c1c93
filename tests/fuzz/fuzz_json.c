/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as JSON, and as the older and the newer of two audits.
 */
#include <string.h>

#include "base/arena.h"
#include "fuzz.h"
#include "kitmuster/changes.h"
#include "read/json.h"

static void compare(struct km_input *a, struct km_input *b,
		    const struct km_limits *lim, struct km_diags *d)
{
	struct km_changes *c = NULL;

	if (km_changes_find(a, b, lim, d, &c) == KM_OK)
		km_changes_free(c);
}

/* The first half against the second, and the whole by itself. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct km_limits lim = fuzz_limits();
	struct fuzz_bytes whole = { data, size };
	struct fuzz_bytes one = { data, size / 2 };
	struct fuzz_bytes two = { data + size / 2, size - size / 2 };
	struct km_input in = { "one", KM_INPUT_BY_NAME, fuzz_read, &one };
	struct km_input other = { "two", KM_INPUT_BY_NAME, fuzz_read, &two };
	struct km_input all = { "all", KM_INPUT_BY_NAME, fuzz_read, &whole };
	struct km_arena *mem = km_arena_new(&lim);
	struct km_diags *d = km_diags_new(&lim);
	const struct km_json *v;

	if (mem && d) {
		(void)km_json_read(mem, &all, &lim, d, &v);
		compare(&in, &other, &lim, d);
	}
	km_diags_free(d);
	km_arena_free(mem);
	return 0;
}
