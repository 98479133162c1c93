/* SPDX-License-Identifier: MIT */
/*
 * testsuites, a testsuite a kit, a testcase a slot.  No schema is official;
 * the shape is the one that most readers take.  Times are 0, so that the same
 * audit gives the same bytes.
 *
 * source   [junit-shape]; [xml-1.0] for what may stand in a text
 */
#include "report/points.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"

static void attribute(struct km_buf *b, const char *key, const char *text)
{
	km_buf_printf(b, " %s=\"", key);
	km_escape_xml(b, text, strlen(text));
	km_buf_char(b, '"');
}

static void counts(struct km_buf *b, const struct km_points *list, size_t from,
		   size_t to)
{
	size_t n[3] = { 0 };

	for (size_t i = from; i < to; i++)
		n[list->v[i].result]++;
	km_buf_printf(b, " tests=\"%zu\" failures=\"%zu\" errors=\"0\" "
		      "skipped=\"%zu\" time=\"0\">\n", to - from,
		      n[KM_POINT_FAILS], n[KM_POINT_SKIPPED]);
}

static void outcome(struct km_buf *b, const struct km_point *x)
{
	const char *tag = x->result == KM_POINT_FAILS ? "failure" : "skipped";

	km_buf_printf(b, ">\n      <%s", tag);
	attribute(b, "message", x->text);
	if (x->result == KM_POINT_FAILS)
		attribute(b, "type", x->rule);
	km_buf_char(b, '>');
	km_escape_xml(b, x->text, strlen(x->text));
	km_buf_printf(b, "</%s>\n    </testcase>\n", tag);
}

static void testcase(struct km_buf *b, const struct km_point *x)
{
	km_buf_str(b, "    <testcase");
	attribute(b, "classname", x->group);
	attribute(b, "name", x->name);
	if (x->at.file) {
		attribute(b, "file", x->at.file);
		km_buf_printf(b, " line=\"%" PRIu32 "\"", x->at.line);
	}
	km_buf_str(b, " time=\"0\"");
	if (x->result == KM_POINT_PASSES)
		km_buf_str(b, "/>\n");
	else
		outcome(b, x);
}

/* The first point after those of the group at `from`. */
static size_t group_end(const struct km_points *list, size_t from)
{
	size_t to = from;

	while (to < list->n &&
	       !strcmp(list->v[to].group, list->v[from].group))
		to++;
	return to;
}

void km_out_junit(const struct km_points *list)
{
	struct km_buf *b = &list->p->out;

	km_buf_str(b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
		   "<testsuites name=\"kitmuster\"");
	counts(b, list, 0, list->n);
	for (size_t from = 0, to; from < list->n; from = to) {
		to = group_end(list, from);
		km_buf_str(b, "  <testsuite");
		attribute(b, "name", list->v[from].group);
		counts(b, list, from, to);
		for (size_t i = from; i < to; i++)
			testcase(b, &list->v[i]);
		km_buf_str(b, "  </testsuite>\n");
	}
	km_buf_str(b, "</testsuites>\n");
}
