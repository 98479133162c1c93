/* SPDX-License-Identifier: MIT */
/*
 * paper - drawings at true size: on which paper, and what to do when the
 * printer was not true.
 */
#include <inttypes.h>

#include "base/str.h"
#include "cli/cmds.h"
#include "unit/length.h"

bool km_choose_paper(struct km_cli *c, enum km_paper_size *out)
{
	const char *words[KM_PAPER_SIZES];
	const char *word = c->args.value[KM_OPT_PAPER];
	uint32_t which = KM_PAPER_A4;

	for (uint32_t i = 0; i < KM_PAPER_SIZES; i++)
		words[i] = km_paper_word((enum km_paper_size)i);
	if (word && !km_choose(c, "paper", word, words, KM_PAPER_SIZES, &which))
		return false;
	*out = (enum km_paper_size)which;
	return true;
}

enum km_exit km_reprint(struct km_cli *c)
{
	static const struct km_length_rules mm = { .bare = KM_UNIT_MM };
	const char *word = c->args.value[KM_OPT_MEASURED_BAR];
	struct km_output out = { .fd = -1 };
	struct km_span bar;
	int32_t tenths = 0;
	struct km_buf b;
	enum km_exit e;

	if (km_reading_parse(km_slice_of(word), &mm, &bar) == KM_LENGTH_OK)
		tenths = km_reprint_tenths(bar.nm);
	if (!tenths) {
		km_say("--measured-bar: '%s' is no bar of 50 to 200 mm; "
		       "write what it measures, as 98.5", word);
		return KM_EXIT_WRONG;
	}
	km_buf_init(&b, c->mem);
	km_buf_str(&b, "the bar of 100 mm measures ");
	km_buf_mm(&b, bar.nm, 3);
	km_buf_printf(&b, " mm: print again at %" PRId32 ".%" PRId32 " %%\n",
		      tenths / 10, tenths % 10);
	if (km_buf_failed(&b))
		return km_cli_exit(KM_ENOMEM, NULL);
	e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], NULL, c->mem);
	if (e != KM_EXIT_GOOD)
		return e;
	(void)km_output_write(&out, b.text, b.len);
	e = km_output_close(&out);
	km_output_drop(&out);
	return e;
}
