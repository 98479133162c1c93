/* SPDX-License-Identifier: MIT */
/*
 * A test point a slot.  What follows a point stands between --- and ... as
 * YAML, every text of it quoted as JSON is.
 *
 * source   [tap-14]
 */
#include "report/points.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"
#include "report/encode.h"

/* A description: one line, nothing that could begin a directive. */
static void description(struct km_page *p, const char *text)
{
	struct km_buf *safe = &p->line;

	km_escape_terminal(safe, text, strlen(text));
	for (size_t i = 0; !km_buf_failed(safe) && i < safe->len; i++) {
		if (safe->text[i] == '\\' || safe->text[i] == '#')
			km_buf_char(&p->out, '\\');
		km_buf_char(&p->out, safe->text[i]);
	}
	km_buf_clear(safe);
}

static void details(struct km_buf *b, const struct km_point *x)
{
	km_buf_str(b, "  ---\n  message: ");
	km_json_string(b, x->text);
	km_buf_str(b, "\n  verdict: ");
	km_json_string(b, x->rule);
	if (x->at.file) {
		km_buf_str(b, "\n  file: ");
		km_json_string(b, x->at.file);
		km_buf_printf(b, "\n  line: %" PRIu32, x->at.line);
	}
	km_buf_str(b, "\n  ...\n");
}

void km_out_tap(const struct km_points *list)
{
	struct km_buf *b = &list->p->out;

	km_buf_printf(b, "TAP version 14\n1..%zu%s\n", list->n,
		      list->n ? "" : " # no slot to hold a tool against");
	for (size_t i = 0; i < list->n; i++) {
		const struct km_point *x = &list->v[i];

		km_buf_printf(b, "%s %zu - ",
			      x->result == KM_POINT_FAILS ? "not ok" : "ok",
			      i + 1);
		description(list->p, x->group);
		km_buf_char(b, '/');
		description(list->p, x->name);
		km_buf_char(b, ' ');
		description(list->p, x->text);
		if (x->result == KM_POINT_SKIPPED)
			km_buf_str(b, " # SKIP does not count");
		km_buf_char(b, '\n');
		if (x->result == KM_POINT_FAILS)
			details(b, x);
	}
}
