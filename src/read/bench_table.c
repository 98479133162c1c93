/* SPDX-License-Identifier: MIT */
#include <stdlib.h>
#include <string.h>

#include "base/escape.h"
#include "read/benchtext.h"
#include "read/columns.h"
#include "read/rec.h"

/* Where columns stand: id, tool, drive, ends, attributes, condition, the
 * rest of a tool, columns of one's own. */
enum { AT_ENDS = 100, AT_ATTRS = 200, AT_CONDITION = 300, AT_TOOL = 400,
       AT_OWN = KM_RANK_OWN, ROOM = 64 };

struct km_bench_line {
	struct km_bench_cell *cell;
	uint32_t n, room;
	struct km_bench_line *next;
};

void km_bench_table_init(struct km_bench_table *t, struct km_arena *mem)
{
	memset(t, 0, sizeof *t);
	t->mem = mem;
	t->tail = &t->first;
}

static uint32_t row_number(const struct km_field *f, const char *key)
{
	uint32_t i;

	for (i = 0; f[i].type != KM_T_END; i++)
		if (!strcmp(f[i].key, key))
			return i;
	return KM_KEY_ROOM;
}

uint32_t km_bench_rank(const char *key, bool condition)
{
	uint32_t row;

	if (condition)
		return AT_CONDITION + row_number(km_rec_condition.fields, key);
	if (!strcmp(key, "id"))
		return 0;
	if (!strcmp(key, "tool"))
		return 1;
	if (!strcmp(key, "drive"))
		return 2;
	if (!strcmp(key, "condition"))
		return AT_CONDITION;
	row = row_number(km_attr_fields, key);
	if (row == KM_A_SIZES || row == KM_A_OPENINGS)
		return AT_ENDS + row;
	if (row < KM_ATTRS)
		return AT_ATTRS + row;
	return AT_TOOL + row_number(km_rec_tool.fields, key);
}

/* Twice the room of an array; NULL: no memory. */
static void *wider(struct km_bench_table *t, const void *old, uint32_t n,
		   uint32_t *room, size_t size)
{
	uint32_t more = *room ? 2 * *room : ROOM;
	void *v = km_arena_alloc(t->mem, more, size);

	if (!v) {
		t->nomem = true;
		return NULL;
	}
	if (n)
		memcpy(v, old, n * size);
	*room = more;
	return v;
}

/* The column of that name. */
static uint32_t column_of(struct km_bench_table *t, const char *name,
			  uint32_t rank)
{
	uint32_t i, room = t->room;

	for (i = 0; i < t->n; i++)
		if (t->rank[i] == rank && !strcmp(t->name[i], name))
			return i;
	if (t->n == t->room) {
		t->name = wider(t, t->name, t->n, &room, sizeof *t->name);
		room = t->room;
		t->rank = wider(t, t->rank, t->n, &room, sizeof *t->rank);
		if (t->nomem)
			return 0;
		t->room = room;
	}
	t->name[t->n] = km_arena_text(t->mem, name, strlen(name));
	t->rank[t->n] = rank;
	if (!t->name[t->n])
		t->nomem = true;
	return t->n++;
}

static void put_cell(struct km_bench_table *t, struct km_bench_line *line,
		     uint32_t column, const struct km_buf *text)
{
	if (km_buf_failed(text))
		t->nomem = true;
	if (line->n == line->room)
		line->cell = wider(t, line->cell, line->n, &line->room,
				   sizeof *line->cell);
	if (t->nomem)
		return;
	line->cell[line->n++] = (struct km_bench_cell){
		text->text ? text->text : "", column };
}

/* ------------------------------------------------------------------ */
/* Cells                                                               */

/* Would the cell be read as something else than this text? */
static bool needs_marks(const struct km_column *c, const struct km_node *n)
{
	struct km_slice s = { n->text, n->n };
	struct km_slice read = km_cell_means(c, s);

	if (!s.n || s.p[0] == '"' || s.p[0] == '\'' || s.p[0] == ' ' ||
	    s.p[0] == '\t' || s.p[s.n - 1] == ' ' || s.p[s.n - 1] == '\t')
		return true;
	if (read.n != s.n || memcmp(read.p, s.p, s.n) != 0)
		return true;
	return n->style == KM_QUOTED &&
	       (km_slice_is(s, "none") || km_slice_is(s, "illegible") ||
		km_slice_is(s, "unknown"));
}

static void put_text(struct km_buf *b, const struct km_column *c,
		     const struct km_node *n)
{
	bool marks = needs_marks(c, n);

	if (marks)
		km_buf_char(b, '"');
	km_buf_add(b, n->text, n->n);
	if (marks)
		km_buf_char(b, '"');
}

static const struct km_node *in_map(const struct km_node *map, const char *key)
{
	const struct km_node *k;

	for (k = map->first; k; k = k->next->next)
		if (!strcmp(k->text, key))
			return k->next;
	return NULL;
}

/* "spread end 2 by 0.35 mm at tip", "plate_zinc 2026-02-14 by a shop",
 * "black oxide, polished faces" */
static void put_phrase(struct km_buf *b, const struct km_node *map)
{
	static const struct { const char *key, *before, *behind; } parts[] = {
		{ "what", "", "" }, { "end", " end ", "" },
		{ "by", " by ", "" }, { "where", " at ", "" },
		{ "body", "", "" }, { "faces", ", ", " faces" },
	};
	static const struct { const char *key, *before; } work[] = {
		{ "process", "" }, { "dated", " " }, { "by", " by " },
	};
	bool is_work = in_map(map, "process") != NULL;
	const struct km_node *n;
	size_t i;

	for (i = 0; is_work && i < sizeof work / sizeof *work; i++) {
		n = in_map(map, work[i].key);
		if (n && n->type == KM_NODE_SCALAR)
			km_buf_printf(b, "%s%s", work[i].before, n->text);
	}
	for (i = 0; !is_work && i < sizeof parts / sizeof *parts; i++) {
		n = in_map(map, parts[i].key);
		if (n && n->type == KM_NODE_SCALAR)
			km_buf_printf(b, "%s%s%s", parts[i].before, n->text,
				      parts[i].behind);
	}
}

static void put_item(struct km_buf *b, const struct km_column *c,
		     const struct km_node *n)
{
	if (n->type == KM_NODE_MAP)
		put_phrase(b, n);
	else if (n->type == KM_NODE_SCALAR)
		put_text(b, c, n);
}

/* A list with semicolons; one item that holds another sign gets one too. */
static void put_value(struct km_buf *b, const struct km_column *c,
		      const struct km_node *n)
{
	const struct km_node *p;

	if (n->type != KM_NODE_LIST) {
		put_item(b, c, n);
		if (n->type == KM_NODE_SCALAR && c->split[0] &&
		    strpbrk(n->text, c->split))
			km_buf_char(b, ';');
		return;
	}
	for (p = n->first; p; p = p->next) {
		if (p != n->first)
			km_buf_str(b, "; ");
		put_item(b, c, p);
	}
	if (n->n == 1 && b->text && strpbrk(b->text, c->split))
		km_buf_char(b, ';');
}

static void add_cell(struct km_bench_table *t, struct km_bench_line *line,
		     const char *name, uint32_t rank, const struct km_node *n)
{
	struct km_column c = { .goes = KM_TO_EXTRA };
	struct km_buf text;

	/* the column as it will be read again */
	if (rank < AT_OWN)
		km_column_find((struct km_slice){ name, strlen(name) }, &c);
	c.key = rank < AT_OWN ? c.key : name;
	km_buf_init(&text, t->mem);
	put_value(&text, &c, n);
	put_cell(t, line, column_of(t, name, rank), &text);
}

/* "size 1", "size 2" */
static void add_ends(struct km_bench_table *t, struct km_bench_line *line,
		     const char *word, uint32_t rank, const struct km_node *n)
{
	const struct km_node *p = n->type == KM_NODE_LIST ? n->first : n;
	char name[16] = "";
	uint32_t i;

	for (i = 0; p && i < 9; i++) {
		strcpy(name, word);
		name[strlen(word)] = (char)('1' + i);
		name[strlen(word) + 1] = '\0';
		add_cell(t, line, name, AT_ENDS + rank + i, p);
		p = n->type == KM_NODE_LIST ? p->next : NULL;
	}
}

static void add_own(struct km_bench_table *t, struct km_bench_line *line,
		    const struct km_node *key)
{
	struct km_slice s = { key->text, key->n };
	struct km_buf name;

	km_buf_init(&name, t->mem);
	if (km_column_known(s) || km_slice_eat_word(&s, KM_EXTRA_PREFIX) ||
	    km_slice_is(s, "unnamed"))
		km_buf_str(&name, KM_EXTRA_PREFIX " ");
	km_buf_add(&name, key->text, key->n);
	if (km_buf_failed(&name))
		t->nomem = true;
	else
		add_cell(t, line, name.text, AT_OWN, key->next);
}

static void add_each(struct km_bench_table *t, struct km_bench_line *line,
		     const struct km_node *map, uint32_t base)
{
	const struct km_node *key;
	uint32_t attr;

	for (key = map->first; key && !t->nomem; key = key->next->next) {
		attr = row_number(km_attr_fields, key->text);
		if (base == AT_OWN)
			add_own(t, line, key);
		else if (base == AT_TOOL && !strcmp(key->text, "condition"))
			add_each(t, line, key->next, AT_CONDITION);
		else if (base == AT_TOOL && !strcmp(key->text, "extra"))
			add_each(t, line, key->next, AT_OWN);
		else if (base == AT_TOOL && attr == KM_A_SIZES)
			add_ends(t, line, "size ", 0, key->next);
		else if (base == AT_TOOL && attr == KM_A_OPENINGS)
			add_ends(t, line, "opening ", 10, key->next);
		else
			add_cell(t, line, key->text,
				 km_bench_rank(key->text,
					       base == AT_CONDITION),
				 key->next);
	}
}

void km_bench_table_add(struct km_bench_table *t, const struct km_node *tool)
{
	struct km_bench_line *line = km_arena_alloc(t->mem, 1, sizeof *line);

	if (!line) {
		t->nomem = true;
		return;
	}
	add_each(t, line, tool, AT_TOOL);
	*t->tail = line;
	t->tail = &line->next;
}

/* ------------------------------------------------------------------ */

static bool stands_before(const struct km_bench_table *t, uint32_t a,
			  uint32_t b)
{
	if (t->rank[a] != t->rank[b])
		return t->rank[a] < t->rank[b];
	return strcmp(t->name[a], t->name[b]) < 0;
}

/* Columns in order of rank, those of one rank, one's own, by name. */
static uint32_t *in_order(struct km_bench_table *t)
{
	uint32_t *v = km_arena_alloc(t->mem, t->n + 1, sizeof *v), i, k, at;

	for (i = 0; v && i < t->n; i++) {
		for (at = 0, k = 0; k < t->n; k++)
			at += stands_before(t, k, i);
		v[at] = i;
	}
	if (!v)
		t->nomem = true;
	return v;
}

/* A sign of another table in a name stands in quotation marks. */
static void put_name(struct km_buf *b, const char *name)
{
	bool quote = strpbrk(name, ";\t") && !strpbrk(name, ",\"\r\n");

	if (quote)
		km_buf_char(b, '"');
	km_escape_csv(b, name, strlen(name));
	if (quote)
		km_buf_char(b, '"');
}

void km_bench_table_write(struct km_bench_table *t, struct km_buf *b)
{
	const char **cell = km_arena_alloc(t->mem, t->n + 1, sizeof *cell);
	uint32_t *order = in_order(t), i;
	const struct km_bench_line *line;

	if (!cell || !order || !t->n) {
		t->nomem |= !cell || !order;
		return;
	}
	for (i = 0; i < t->n; i++) {
		km_buf_str(b, i ? "," : "");
		put_name(b, t->name[order[i]]);
	}
	km_buf_str(b, "\r\n");
	for (line = t->first; line; line = line->next) {
		memset(cell, 0, t->n * sizeof *cell);
		for (i = 0; i < line->n; i++)
			cell[line->cell[i].column] = line->cell[i].text;
		for (i = 0; i < t->n; i++) {
			km_buf_str(b, i ? "," : "");
			if (cell[order[i]])
				km_escape_csv(b, cell[order[i]],
					      strlen(cell[order[i]]));
		}
		km_buf_str(b, "\r\n");
	}
}
