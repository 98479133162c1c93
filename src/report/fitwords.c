/* SPDX-License-Identifier: MIT */
#include "report/words.h"

#include <inttypes.h>

#include "unit/length.h"

static void place(struct km_buf *b, const struct km_way_fit *f)
{
	if (f->pocket)
		km_buf_printf(b, "pocket %" PRId32, f->pocket);
	else
		km_buf_str(b, "the pouch");
}

static void over(struct km_buf *b, int64_t nm, const char *what)
{
	km_buf_mm(b, nm, 1);
	km_buf_printf(b, " mm too %s", what);
}

void km_words_fit(struct km_buf *b, const struct km_way_fit *f)
{
	if (f->too_large) {
		if (f->too_long_nm)
			over(b, f->too_long_nm, "long");
		if (f->too_long_nm && f->too_wide_nm)
			km_buf_str(b, " and ");
		if (f->too_wide_nm)
			over(b, f->too_wide_nm, "wide");
		km_buf_str(b, " for ");
		place(b, f);
	} else if (f->asked && f->unmeasured) {
		km_buf_str(b, "not measured, so not known to go into ");
		place(b, f);
	}
}
