/* SPDX-License-Identifier: MIT */
/*
 * A workflow command a point that does not pass; what fails comes first, as
 * few of them are shown.  Nothing from a file can begin a line.
 *
 * source   [github-commands]
 */
#include "report/points.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"

static void property(struct km_buf *b, const char *before, const char *key,
		     const char *text)
{
	km_buf_printf(b, "%s%s=", before, key);
	km_escape_github(b, text, strlen(text), true);
}

static void command(struct km_page *p, const struct km_point *x)
{
	static const char *const word[] = { "notice", "warning", "error" };
	struct km_buf *b = &p->out;
	const char *before = " ";

	km_buf_printf(b, "::%s", word[x->severity]);
	if (x->at.file) {
		property(b, before, "file", x->at.file);
		before = ",";
		if (x->at.line)
			km_buf_printf(b, ",line=%" PRIu32, x->at.line);
		if (x->at.line && x->at.column)
			km_buf_printf(b, ",col=%" PRIu32, x->at.column);
	}
	km_point_name(&p->line, x);
	if (!km_buf_failed(&p->line))
		property(b, before, "title", p->line.text);
	km_buf_clear(&p->line);
	km_buf_str(b, "::");
	km_escape_github(b, x->text, strlen(x->text), false);
	km_buf_char(b, '\n');
}

void km_out_github(const struct km_points *list)
{
	for (int s = KM_ERROR; s >= KM_NOTE; s--)
		for (size_t i = 0; i < list->n; i++)
			if (list->v[i].result != KM_POINT_PASSES &&
			    (int)list->v[i].severity == s)
				command(list->p, &list->v[i]);
}
