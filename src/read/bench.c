/* SPDX-License-Identifier: MIT */
/* Tools one by one into blocks: ids, made ids, counts, duplicates. */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "read/clash.h"
#include "read/link.h"
#include "read/measure.h"
#include "read/reader.h"
#include "read/rec.h"
#include "read/seen.h"

static const char *tool_name(const void *ctx, uint32_t i)
{
	return km_tool_at(ctx, i)->id;
}

static struct km_place tool_at(const void *ctx, uint32_t i)
{
	return km_tool_at(ctx, i)->at;
}

/* The last part of a path without its ending, in characters of an id. */
void km_bench_file(struct km_reader *r, const char *name)
{
	const char *slash = strrchr(name, '/');
	size_t n = 0;
	char c;

	if (slash)
		name = slash + 1;
	for (; *name && n < sizeof r->stem - 8; name++) {
		c = *name;
		if (!km_is_id((struct km_slice){ &c, 1 }) && c != '.' &&
		    c != '_' && c != '-')
			c = '-';
		if (n || km_is_id((struct km_slice){ &c, 1 }))
			r->stem[n++] = c;
		if (n > 1 && c == '.') {
			n--;
			break;
		}
	}
	while (n && r->stem[n - 1] == '-')
		n--;
	if (!n)
		r->stem[n++] = 't';
	r->stem[n] = '\0';
	r->made_line = 0;
}

void km_bench_ids(struct km_reader *r)
{
	r->tool_ids.name = tool_name;
	r->tool_ids.ctx = &r->load->bench;
	km_link_enter(r, &r->tool_ids, (uint32_t)r->load->bench.n, "tool",
		      tool_at);
}

void km_bench_release(struct km_reader *r)
{
	km_ids_release(&r->tool_ids);
	km_arena_free(r->rows.mem);
}

/* ------------------------------------------------------------------ */
/* Rows that say the same                                              */

static bool rows_grow(struct km_reader *r)
{
	struct km_rows *t = &r->rows;
	uint32_t room = t->room ? t->room * 2 : 64, i, at;
	struct km_arena *mem = km_arena_new(r->b.lim);
	uint64_t *hash = mem ? km_arena_alloc(mem, room, sizeof *hash) : NULL;
	uint32_t *index = hash ? km_arena_alloc(mem, room, sizeof *index)
			       : NULL;

	if (!index) {
		km_arena_free(mem);
		return false;
	}
	for (i = 0; i < t->room; i++) {
		if (!t->hash[i])
			continue;
		for (at = (uint32_t)t->hash[i] & (room - 1); hash[at];
		     at = (at + 1) & (room - 1))
			;
		hash[at] = t->hash[i];
		index[at] = t->index[i];
	}
	km_arena_free(t->mem);
	*t = (struct km_rows){ mem, hash, index, room, t->n };
	return true;
}

/* Warn of a row without id that says what an earlier one said. */
static void same_row(struct km_reader *r, const struct km_node *n,
		     uint32_t tool)
{
	struct km_rows *t = &r->rows;
	struct km_diag *one;
	uint64_t hash = km_row_hash(n);
	uint32_t at;

	hash += !hash;
	if ((t->n + 1) * 4 > t->room * 3 && !rows_grow(r)) {
		r->b.nomem = true;
		return;
	}
	for (at = (uint32_t)hash & (t->room - 1); t->hash[at];
	     at = (at + 1) & (t->room - 1)) {
		if (t->hash[at] != hash)
			continue;
		one = KM_SAY(&r->b, n, SAME_ROW, "tool");
		km_diag_other(r->b.d, one,
			      km_tool_at(&r->load->bench, t->index[at])->at,
			      "the other one");
		KM_HINT(&r->b, one, "give each an id, or one row a 'count'");
		return;
	}
	t->hash[at] = hash;
	t->index[at] = tool;
	t->n++;
}

/* ------------------------------------------------------------------ */
/* Adding                                                              */

static bool more_blocks(struct km_reader *r)
{
	struct km_tools *t = &r->load->bench;
	uint32_t room = r->blocks ? r->blocks * 2 : 16;
	struct km_tool **block = km_bind_alloc(&r->b, room, sizeof *block);

	if (!block)
		return false;
	if (r->blocks)
		memcpy(block, t->block, r->blocks * sizeof *block);
	t->block = block;
	r->blocks = room;
	return true;
}

static struct km_tool *next_place(struct km_reader *r)
{
	struct km_tools *t = &r->load->bench;
	size_t i = t->n / KM_TOOL_BLOCK;

	if (t->n % KM_TOOL_BLOCK == 0) {
		if (i >= r->blocks && !more_blocks(r))
			return NULL;
		if (!t->block[i])
			t->block[i] = km_bind_alloc(&r->b, KM_TOOL_BLOCK,
						    sizeof **t->block);
	}
	return t->block[i] ? km_tool_at(t, t->n) : NULL;
}

/* Add one tool; false when no more can be added. */
static bool add(struct km_reader *r, const struct km_node *n,
		const struct km_tool *tool)
{
	struct km_tools *t = &r->load->bench;
	struct km_tool *place;

	if (++r->n_tools > r->b.lim->tools) {
		if (!r->full)
			KM_SAY(&r->b, n, TOO_MANY_TOOLS,
			       (unsigned)r->b.lim->tools);
		r->full = true;
		return false;
	}
	place = next_place(r);
	if (!place)
		return false;
	*place = *tool;
	t->n++;
	return true;
}

/* An id from the stem and the line, and the column where one line holds
 * several. */
static const char *make_id(struct km_reader *r, const struct km_node *n)
{
	char text[96];
	int len;

	if (n->line == r->made_line)
		len = snprintf(text, sizeof text, "%s-%" PRIu32 "-%" PRIu32,
			       r->stem, n->line, n->column);
	else
		len = snprintf(text, sizeof text, "%s-%" PRIu32, r->stem,
			       n->line);
	r->made_line = n->line;
	return km_bind_text(&r->b, text, (size_t)len);
}

static void add_many(struct km_reader *r, const struct km_node *n,
		     struct km_tool *tool, int32_t count)
{
	const char *stem = tool->id;
	char text[KM_ID_BYTES + 16];
	int32_t i;
	int len;

	for (i = 1; i <= count; i++) {
		len = snprintf(text, sizeof text, "%s.%" PRId32, stem, i);
		if (len > KM_ID_BYTES) {
			KM_SAY(&r->b, n, BAD_ID, text);
			return;
		}
		tool->id = km_bind_text(&r->b, text, (size_t)len);
		if (!tool->id || !add(r, n, tool))
			return;
	}
}

void km_bench_item(struct km_reader *r, const struct km_node *n)
{
	struct km_tool tool;
	bool given;
	int32_t count;

	if (r->full || !km_tool_read(&r->b, n, &tool, &count))
		return;
	given = tool.id != NULL;
	tool.made_id = !given;
	if (!given)
		tool.id = make_id(r, n);
	if (!tool.id)
		return;
	km_tool_clashes(&r->b, n, &tool);
	if (tool.more && tool.more->n_photos)
		km_photos_seen(&r->b, &tool, n);
	if (!given && count == 1)
		same_row(r, n, (uint32_t)r->load->bench.n);
	if (count == 1)
		add(r, n, &tool);
	else
		add_many(r, n, &tool, count);
}
