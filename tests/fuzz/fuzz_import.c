/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as a list of tools: the first says whether they are a table or
 * notes, in which unit, and what is to be written.  Whatever was read is
 * written as a bench that loads without an error.
 */
#include <stdio.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/buf.h"
#include "diag/render.h"
#include "fuzz.h"
#include "kitmuster/import.h"

static bool keep(void *buf, const char *text, size_t n)
{
	km_buf_add(buf, text, n);
	return !km_buf_failed(buf);
}

/* What was written must load. */
static void load_again(const struct km_buf *b, bool csv,
		       const struct km_limits *lim)
{
	struct fuzz_bytes bytes = { (const uint8_t *)b->text, b->len };
	struct km_input in = { csv ? "again.csv" : "again.yaml",
			       KM_INPUT_BY_NAME, fuzz_read, &bytes };
	struct km_diags *d = km_diags_new(lim);
	struct km_load *load = NULL;

	if (d && km_load(&in, 1, lim, d, &load) == KM_EINPUT) {
		for (size_t i = 0; i < km_diags_size(d); i++)
			fprintf(stderr, "%s: %s\n",
				km_msg_id(km_diags_at(d, i)->msg),
				km_diags_at(d, i)->text);
		fwrite(b->text, 1, b->len, stderr);
		abort();
	}
	km_load_free(load);
	km_diags_free(d);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	uint8_t how = size ? data[0] : 0;
	struct fuzz_bytes bytes = { data + (size > 0), size - (size > 0) };
	struct km_input in = { how & 1 ? "list.notes" : "list.csv",
			       KM_INPUT_BY_NAME, fuzz_read, &bytes };
	struct km_import_options o = {
		.unit = (enum km_list_unit)(how >> 1 & 3) % 3,
		.csv = how & 8,
	};
	struct km_limits lim = fuzz_limits();
	struct km_arena *mem = km_arena_new(&lim);
	struct km_diags *d = km_diags_new(&lim);
	struct km_import_counts counts;
	struct km_buf out, said;

	if (mem && d) {
		struct km_sink to = { keep, &out };

		km_buf_init(&out, mem);
		km_buf_init(&said, mem);
		if (km_import(&in, 1, &o, &lim, d, &to, &counts) == KM_OK &&
		    counts.tools && !km_buf_failed(&out))
			load_again(&out, o.csv, &lim);
		km_diags_sort(d);
		km_render_text(&said, d);
	}
	km_diags_free(d);
	km_arena_free(mem);
	return 0;
}
