/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as a bench in CSV; the messages are rendered too.
 */
#include "base/arena.h"
#include "diag/render.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct fuzz_bytes bytes = { data, size };
	struct km_input in = { "fuzz.csv", KM_INPUT_CSV, fuzz_read, &bytes };
	struct km_limits lim = fuzz_limits();
	struct km_arena *mem = km_arena_new(&lim);
	struct km_diags *d = km_diags_new(&lim);
	struct km_load *load = NULL;
	struct km_buf b;

	if (mem && d) {
		km_load(&in, 1, &lim, d, &load);
		km_buf_init(&b, mem);
		km_diags_sort(d);
		km_render_text(&b, d);
		km_render_json(&b, d);
	}
	km_load_free(load);
	km_diags_free(d);
	km_arena_free(mem);
	return 0;
}
