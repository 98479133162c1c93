/* SPDX-License-Identifier: MIT */
/*
 * Any bytes as a YAML file with whatever records are in it: load, and if it
 * loads, audit, and write every sheet in every format.
 */
#include "fuzz.h"
#include "kitmuster/report.h"

static bool count(void *ctx, const char *text, size_t n)
{
	size_t *sum = ctx;

	for (size_t i = 0; i < n; i++)	/* so that every byte is read */
		*sum += (unsigned char)text[i];
	return true;
}

static void write_all(const struct km_audit *a)
{
	size_t sum = 0;
	struct km_sink to = { count, &sum };
	struct km_report_options o = { .width = 60, .verbose = true };

	for (int s = 0; s < KM_SHEETS; s++)
		for (int f = 0; f < KM_FORMATS; f++)
			km_report(a, (enum km_sheet)s, (enum km_format)f, &o,
				  &to);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct fuzz_bytes bytes = { data, size };
	struct km_input in = { "fuzz.yaml", KM_INPUT_YAML, fuzz_read, &bytes };
	struct km_options o = { .today = { 2026, 4, 1 },
				.want_money = true, .want_margins = true,
				.want_fates = true };
	struct km_limits lim = fuzz_limits();
	struct km_diags *d = km_diags_new(&lim);
	struct km_audit *audit = NULL;
	struct km_load *load = NULL;

	if (d && km_load(&in, 1, &lim, d, &load) == KM_OK &&
	    km_audit_run(load, &o, d, &audit) == KM_OK)
		write_all(audit);
	km_audit_free(audit);
	km_load_free(load);
	km_diags_free(d);
	return 0;
}
