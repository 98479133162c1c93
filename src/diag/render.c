/* SPDX-License-Identifier: MIT */
#include "diag/render.h"

#include <string.h>

#include "base/escape.h"

static const char *const severities[] = { "note", "warning", "error" };

/* ------------------------------------------------------------------ */
/* Text                                                                */

static void add_place(struct km_buf *b, const struct km_place *at)
{
	if (!at->file)
		return;
	/* a line of a build log that starts with "::" may be a command */
	if (!strncmp(at->file, "::", 2))
		km_buf_str(b, "./");
	km_escape_terminal(b, at->file, strlen(at->file));
	km_buf_char(b, ':');
	if (at->line) {
		km_buf_int(b, at->line);
		km_buf_char(b, ':');
	}
	if (at->line && at->column) {
		km_buf_int(b, at->column);
		km_buf_char(b, ':');
	}
	km_buf_char(b, ' ');
}

static void add_text(struct km_buf *b, const char *text)
{
	km_escape_terminal(b, text, strlen(text));
}

void km_render_one(struct km_buf *b, const struct km_diag *one)
{
	if (!one->at.file)	/* the run as a whole */
		km_buf_str(b, "kitmuster: ");
	add_place(b, &one->at);
	km_buf_str(b, severities[km_msg_severity(one->msg)]);
	km_buf_str(b, ": ");
	add_text(b, one->text);
	km_buf_printf(b, " [%s]\n", km_msg_id(one->msg));
	if (one->other_says) {
		add_place(b, &one->other);
		km_buf_str(b, "note: ");
		add_text(b, one->other_says);
		km_buf_char(b, '\n');
	}
	if (one->hint) {
		km_buf_str(b, "    hint: ");
		add_text(b, one->hint);
		km_buf_char(b, '\n');
	}
}

void km_render_format(struct km_buf *b, enum km_msg m)
{
	for (const char *f = km_msg_format(m); *f; f++) {
		if (*f != '%') {
			km_buf_char(b, *f);
		} else if (f[1] == '%') {
			km_buf_char(b, *f++);
		} else {
			f += strcspn(f, "csdiux");
			km_buf_str(b, "...");
		}
	}
}

/* "3 errors", with a comma before it if something stands there already */
static bool add_count(struct km_buf *b, bool begun, size_t n, const char *what)
{
	if (!n)
		return begun;
	km_buf_printf(b, "%s%zu %s%s", begun ? ", " : "", n, what,
		      n == 1 ? "" : "s");
	return true;
}

void km_render_text_from(struct km_buf *b, const struct km_diags *d,
			 enum km_severity least)
{
	size_t files = km_diags_files(d), n;
	bool any = false, hidden = false;

	for (size_t i = 0; i < km_diags_size(d); i++)
		if (km_msg_severity(km_diags_at(d, i)->msg) >= least)
			km_render_one(b, km_diags_at(d, i));
	for (int m = 0; m < KM_M_COUNT; m++) {
		n = km_diags_dropped(d, (enum km_msg)m);
		if (n && km_msg_severity((enum km_msg)m) >= least)
			km_buf_printf(b, "and %zu more of [%s]\n", n,
				      km_msg_id((enum km_msg)m));
	}
	for (int s = KM_ERROR; s >= KM_NOTE; s--) {
		n = km_diags_count(d, (enum km_severity)s);
		if (s >= (int)least)
			any = add_count(b, any, n, severities[s]);
		else
			hidden |= n > 0;
	}
	if (any && files && !hidden)	/* else the files are not all theirs */
		km_buf_printf(b, " in %zu file%s", files,
			      files == 1 ? "" : "s");
	if (any)
		km_buf_char(b, '\n');
}

void km_render_text(struct km_buf *b, const struct km_diags *d)
{
	km_render_text_from(b, d, KM_NOTE);
}

/* ------------------------------------------------------------------ */
/* JSON                                                                */

static void add_string(struct km_buf *b, const char *name, const char *text)
{
	if (!text)
		return;
	km_buf_printf(b, ",\"%s\":\"", name);
	km_escape_json(b, text, strlen(text));
	km_buf_char(b, '"');
}

/* file, line and column, as far as they are known; each with a comma before */
static void add_place_json(struct km_buf *b, const struct km_place *at)
{
	add_string(b, "file", at->file);
	if (at->line)
		km_buf_printf(b, ",\"line\":%lu", (unsigned long)at->line);
	if (at->line && at->column)
		km_buf_printf(b, ",\"column\":%lu", (unsigned long)at->column);
}

static void add_one_json(struct km_buf *b, const struct km_diag *one)
{
	km_buf_printf(b, "{\"id\":\"%s\",\"severity\":\"%s\"",
		      km_msg_id(one->msg),
		      severities[km_msg_severity(one->msg)]);
	add_place_json(b, &one->at);
	add_string(b, "path", one->path);
	add_string(b, "text", one->text);
	add_string(b, "hint", one->hint);
	if (one->other_says) {
		km_buf_str(b, ",\"other\":{\"text\":\"");
		km_escape_json(b, one->other_says, strlen(one->other_says));
		km_buf_char(b, '"');
		add_place_json(b, &one->other);
		km_buf_char(b, '}');
	}
	km_buf_char(b, '}');
}

void km_render_json(struct km_buf *b, const struct km_diags *d)
{
	const char *comma = "";

	km_buf_str(b, "{\"schema_version\":1,\"messages\":[");
	for (size_t i = 0; i < km_diags_size(d); i++) {
		km_buf_str(b, i ? ",\n" : "\n");
		add_one_json(b, km_diags_at(d, i));
	}
	km_buf_str(b, "],\n\"not_kept\":{");
	for (int m = 0; m < KM_M_COUNT; m++) {
		size_t n = km_diags_dropped(d, (enum km_msg)m);

		if (!n)
			continue;
		km_buf_printf(b, "%s\"%s\":%zu", comma,
			      km_msg_id((enum km_msg)m), n);
		comma = ",";
	}
	km_buf_printf(b, "},\n\"errors\":%zu,\"warnings\":%zu,\"notes\":%zu}\n",
		      km_diags_count(d, KM_ERROR),
		      km_diags_count(d, KM_WARNING),
		      km_diags_count(d, KM_NOTE));
}
