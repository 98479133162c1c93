/* SPDX-License-Identifier: MIT */
/*
 * One run; a result for every point that does not pass.  Columns are counted
 * in code points; a fingerprint is made of rule and slot, not of the line, so
 * that it lasts while a file grows.
 *
 * source   [sarif-2.1.0]; the limit of 5000 results [sarif-limits]
 */
#include "report/points.h"

#include <inttypes.h>
#include <string.h>

#include "report/encode.h"

#define RESULTS_MOST 5000

static void pair(struct km_buf *b, const char *before, const char *key,
		 const char *text)
{
	km_buf_printf(b, "%s\"%s\": ", before, key);
	km_json_string(b, text);
}

/* A path as a relative reference: what may not stand there as %41. */
static void uri(struct km_buf *b, const char *path)
{
	static const char plain[] =
		"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
		"0123456789-._~/";

	for (; *path; path++) {
		if (strchr(plain, *path))
			km_buf_char(b, *path);
		else
			km_buf_printf(b, "%%%02X",
				      (unsigned)(unsigned char)*path);
	}
}

static void place(struct km_buf *b, const struct km_place *at)
{
	km_buf_str(b, ", \"locations\": [{\"physicalLocation\": "
		   "{\"artifactLocation\": {\"uri\": \"");
	uri(b, at->file);
	km_buf_str(b, "\"}");
	if (at->line)
		km_buf_printf(b, ", \"region\": {\"startLine\": %" PRIu32,
			      at->line);
	if (at->line && at->column)
		km_buf_printf(b, ", \"startColumn\": %" PRIu32, at->column);
	km_buf_str(b, at->line ? "}}}]" : "}}]");
}

static size_t rule_index(const struct km_points *list, const char *id)
{
	size_t i = 0;

	while (i < list->n_rules && strcmp(list->rules[i].id, id))
		i++;
	return i;
}

static void result(const struct km_points *list, const struct km_point *x)
{
	static const char *const level[] = { "note", "warning", "error" };
	struct km_buf *b = &list->p->out;

	pair(b, "        {", "ruleId", x->rule);
	km_buf_printf(b, ", \"ruleIndex\": %zu, \"level\": \"%s\"",
		      rule_index(list, x->rule), level[x->severity]);
	pair(b, ", \"message\": {", "text", x->text);
	km_buf_char(b, '}');
	if (x->at.file)
		place(b, &x->at);
	km_buf_printf(&list->p->line, "%s/", x->rule);
	km_point_name(&list->p->line, x);
	if (!km_buf_failed(&list->p->line)) {
		pair(b, ", \"partialFingerprints\": {", "ruleAndSlot/v1",
		     list->p->line.text);
		km_buf_str(b, "}}");
	}
	km_buf_clear(&list->p->line);
}

static void driver(const struct km_points *list)
{
	struct km_buf *b = &list->p->out;

	km_buf_str(b, "      \"tool\": {\"driver\": {\n");
	pair(b, "        ", "name", "kitmuster");
	pair(b, ",\n        ", "semanticVersion", KM_VERSION);
	km_buf_str(b, ",\n        \"rules\": [\n");
	for (size_t i = 0; i < list->n_rules; i++) {
		pair(b, "          {", "id", list->rules[i].id);
		pair(b, ", \"shortDescription\": {", "text",
		     list->rules[i].text);
		pair(b, "}, \"help\": {", "text", list->rules[i].text);
		km_buf_str(b, i + 1 < list->n_rules ? "}},\n" : "}}\n");
	}
	km_buf_str(b, "        ]\n      }},\n");
}

/* What was left out is said, never silently. */
static void notice(struct km_buf *b, size_t left_out)
{
	km_buf_str(b, "      \"invocations\": [{\"executionSuccessful\": true");
	if (left_out)
		km_buf_printf(b, ", \"toolExecutionNotifications\": [{"
			      "\"level\": \"warning\", \"message\": {\"text\": "
			      "\"%zu results more than %d are left out\"}}]",
			      left_out, RESULTS_MOST);
	km_buf_str(b, "}],\n");
}

void km_out_sarif(const struct km_points *list)
{
	struct km_buf *b = &list->p->out;
	size_t written = 0, all = 0;

	for (size_t i = 0; i < list->n; i++)
		all += list->v[i].result != KM_POINT_PASSES;
	km_buf_str(b, "{\n  \"$schema\": \"https://docs.oasis-open.org/sarif/"
		   "sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json\",\n"
		   "  \"version\": \"2.1.0\",\n"
		   "  \"runs\": [\n    {\n");
	driver(list);
	notice(b, all > RESULTS_MOST ? all - RESULTS_MOST : 0);
	km_buf_str(b, "      \"columnKind\": \"unicodeCodePoints\",\n"
		   "      \"results\": [");
	for (size_t i = 0; i < list->n && written < RESULTS_MOST; i++) {
		if (list->v[i].result == KM_POINT_PASSES)
			continue;
		km_buf_str(b, written++ ? ",\n" : "\n");
		result(list, &list->v[i]);
	}
	km_buf_str(b, written ? "\n      ]\n    }\n  ]\n}\n"
			      : "]\n    }\n  ]\n}\n");
}
