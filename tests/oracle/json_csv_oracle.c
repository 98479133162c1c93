/* SPDX-License-Identifier: MIT */
/*
 * json_csv_oracle - writes one sheet of an audit full of hostile text, for
 * json_csv.py to read with other parsers.
 *
 *	json_csv_oracle SHEET FORMAT	to standard output
 *	json_csv_oracle			list the pairs; every one must write
 */
#include <stdio.h>

#include "tests/unit/report_fixture.h"

static struct sample s;
static struct page page;

static void make_hostile(void)
{
	static const char text[] =
		"=1+1 \"a, b\"\n\x1b[31m</script>\xE2\x80\xA8\xC3\xA9\xE5\xB7\xA5";
	static const union km_value marks[] = { { .text = text },
						{ .text = "@x" } };

	sample_make(&s, true);
	s.kit.title = text;
	s.slot[S06].want[KM_A_TOOL].state = KM_WANT_UNKNOWN;
	s.slot[S06].title = text;
	s.slot[S01].want[KM_A_MARK] = (struct km_want){
		.state = KM_WANT_ANY_OF, .n = 2, .any = marks };
	s.more[S02].lent_to = text;
	s.slots[S05].margin = -1;
}

static int list(void)
{
	int pairs = 0;

	for (int i = 0; i < KM_SHEETS; i++)
		for (int f = 0; f < KM_FORMATS; f++) {
			if (!km_report_has((enum km_sheet)i, (enum km_format)f))
				continue;
			if (page_of(&page, &s.audit, (enum km_sheet)i,
				    (enum km_format)f, NULL) != KM_OK)
				return 1;
			/* these have brackets or a header even so */
			if (!page.n && (f == KM_FORMAT_JSON ||
					f == KM_FORMAT_CSV ||
					f == KM_FORMAT_TSV))
				return 1;
			printf("%s %s\n", km_sheet_info((enum km_sheet)i)->word,
			       km_format_word((enum km_format)f));
			pairs++;
		}
	return pairs ? 0 : 1;
}

int main(int argc, char **argv)
{
	enum km_sheet sheet;
	enum km_format f;

	make_hostile();
	if (argc == 1)
		return list();
	if (argc != 3 || !km_sheet_find(argv[1], &sheet) ||
	    !km_format_find(argv[2], &f))
		return 2;
	if (page_of(&page, &s.audit, sheet, f, NULL) != KM_OK)
		return 1;
	return fwrite(page.text, 1, page.n, stdout) == page.n &&
	       !fflush(stdout) ? 0 : 1;
}
