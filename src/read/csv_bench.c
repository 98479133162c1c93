/* SPDX-License-Identifier: MIT */
/*
 * A bench as CSV: the first row names the columns, every other row is a tool.
 * A row is put into the form of a YAML item and read through the same table.
 */
#include <string.h>

#include "read/csv.h"
#include "read/reader.h"
#include "read/rec.h"

enum goes { TO_TOOL, TO_CONDITION, TO_SIZE, TO_OPENING, TO_EXTRA };

struct column {
	enum goes goes;
	const char *key;		/* of the record, or of `extra` */
	const char *unit;		/* for bare numbers; NULL none */
	char split[4];			/* characters between items, or "" */
};

struct sheet {
	struct km_reader *r;
	struct km_csv csv;
	struct km_arena *row;		/* nodes of one row */
	struct column column[KM_CSV_COLUMNS];
	uint32_t n;
	bool nomem;
};

/* ------------------------------------------------------------------ */
/* The first row                                                       */

static const struct { const char *word, *key; } aliases[] = {
	{ "number", "id" }, { "no", "id" }, { "tag", "id" },
	{ "qty", "count" }, { "quantity", "count" },
	{ "kind", "tool" }, { "type", "tool" }, { "name", "tool" },
	{ "profile", "drive" }, { "location", "place" }, { "bin", "place" },
	{ "notes", "note" }, { "remarks", "note" }, { "comment", "note" },
	{ "part no", "part" }, { "part number", "part" },
	{ "marks", "mark" }, { "came from", "came_with" },
	{ "price paid", "paid" }, { "pit", "pit_depth" },
	{ "faults", "damage" }, { "finish %", "plate_left" },
};

static struct km_slice without_alias(struct km_slice s)
{
	size_t i;

	for (i = 0; i < sizeof aliases / sizeof *aliases; i++)
		if (!km_fold_compare(s, km_slice_of(aliases[i].word)))
			return km_slice_of(aliases[i].key);
	return s;
}

/* Takes "(mm)", "[mm]" or "_mm" off the end of a name. */
static const char *eat_unit(struct km_slice *s)
{
	static const char *const units[] = { "mm", "in", "cm", "g", "kg", "%",
					     "pct", "deg" };
	struct km_slice name = *s;
	size_t i, n;
	bool bracket;

	bracket = name.n > 2 && (name.p[name.n - 1] == ')' ||
				 name.p[name.n - 1] == ']');
	if (bracket)
		name.n--;
	for (i = 0; i < sizeof units / sizeof *units; i++) {
		n = strlen(units[i]);
		if (name.n < n + 2 ||
		    memcmp(name.p + name.n - n, units[i], n) != 0 ||
		    !strchr(bracket ? "([" : "_ ", name.p[name.n - n - 1]))
			continue;
		s->n = name.n - n - 1;
		*s = km_slice_trim(*s);
		return strcmp(units[i], "pct") ? units[i] : "%";
	}
	return NULL;
}

static bool is_key(const struct km_field *f, struct km_slice s)
{
	return !km_fold_compare(km_slice_of(f->key), s) ||
	       (f->was && !strchr(f->was, '|') &&
		!km_fold_compare(km_slice_of(f->was), s));
}

static const char *key_in(const struct km_field *f, struct km_slice s)
{
	for (; f->type != KM_T_END; f++)
		if (is_key(f, s))
			return f->key;
	return NULL;
}

/* "size 1", "opening2": true, and the name without its number. */
static bool is_numbered(struct km_slice s, const char *word)
{
	if (!km_slice_eat_word(&s, word))
		return false;
	while (s.n && (s.p[0] == ' ' || s.p[0] == '_' || s.p[0] == '-'))
		s.p++, s.n--;
	return s.n == 1 && s.p[0] >= '1' && s.p[0] <= '9';
}

static void set_split(struct column *c)
{
	if (!strcmp(c->key, "damage") || !strcmp(c->key, "photos") ||
	    !strcmp(c->key, "plate_fault"))
		memcpy(c->split, ";,+", 4);
	else if (!strcmp(c->key, "openings") || !strcmp(c->key, "drive"))
		memcpy(c->split, ";/", 3);
}

static void name_column(struct sheet *t, const struct km_cell *cell,
			struct column *c)
{
	struct km_slice whole = { cell->text, cell->n }, s = whole;

	memset(c, 0, sizeof *c);
	c->unit = eat_unit(&s);
	s = without_alias(s);
	if (is_numbered(s, "size") || is_numbered(s, "opening")) {
		c->goes = s.p[0] == 's' || s.p[0] == 'S' ? TO_SIZE
							 : TO_OPENING;
		return;
	}
	/* rust_pct is a key of its own, not rust with a unit */
	c->key = key_in(km_rec_condition.fields, whole);
	if (c->key)
		c->unit = NULL;
	if (!c->key)
		c->key = key_in(km_rec_condition.fields, s);
	c->goes = TO_CONDITION;
	if (!c->key) {
		c->goes = TO_TOOL;
		c->key = key_in(km_rec_tool.fields, s);
	}
	if (!c->key)
		c->key = key_in(km_attr_fields, s);
	if (c->key) {
		set_split(c);
		return;
	}
	c->goes = TO_EXTRA;
	c->unit = NULL;
	c->key = whole.n ? km_words_text(t->r->b.words, whole.p, whole.n)
			 : "unnamed";
	if (!c->key)
		t->nomem = true;
}

static bool same_column(const struct column *a, const struct column *b)
{
	return a->goes == b->goes && a->goes != TO_SIZE &&
	       a->goes != TO_OPENING && !strcmp(a->key, b->key);
}

static enum km_status read_header(struct sheet *t)
{
	struct km_csv *v = &t->csv;
	struct km_diag *one;
	uint32_t i, k, known = 0;
	struct km_place at;

	for (i = 0; i < v->n && !t->nomem; i++) {
		name_column(t, &v->cell[i], &t->column[i]);
		if (t->nomem)
			return KM_ENOMEM;
		known += t->column[i].goes != TO_EXTRA;
		at = (struct km_place){ v->file, v->cell[i].line,
					v->cell[i].column };
		for (k = 0; k < i && v->cell[i].n; k++) {
			if (!same_column(&t->column[k], &t->column[i]))
				continue;
			one = km_diag_add(t->r->b.d, KM_M_CSV_COLUMN_TWICE, at,
					  t->column[i].key);
			km_diag_other(t->r->b.d, one,
				      (struct km_place){ v->file,
							 v->cell[k].line,
							 v->cell[k].column },
				      "the first one");
			return KM_EINPUT;
		}
	}
	t->n = v->n;
	if (known)
		return KM_OK;
	one = km_diag_add(t->r->b.d, KM_M_CSV_HEADER,
			  (struct km_place){ v->file, 1, 1 });
	km_diag_hint(t->r->b.d, one, "the first line names the columns, such "
		     "as id,tool,sizes,length,mark,finish,rust");
	return KM_EINPUT;
}

/* ------------------------------------------------------------------ */
/* Rows as nodes                                                       */

static struct km_node *new_node(struct sheet *t, enum km_node_type type,
				const struct km_cell *at)
{
	struct km_node *n = km_arena_alloc(t->row, 1, sizeof *n);

	if (!n) {
		t->nomem = true;
		return NULL;
	}
	n->type = type;
	n->line = at->line;
	n->column = at->column;
	return n;
}

static struct km_node *scalar(struct sheet *t, const struct km_cell *at,
			      const char *p, size_t n)
{
	struct km_node *one = new_node(t, KM_NODE_SCALAR, at);
	char *text = one ? km_arena_text(t->row, p, n) : NULL;

	if (!text) {
		t->nomem = true;
		return NULL;
	}
	one->text = text;
	one->n = (uint32_t)n;
	return one;
}

static void append(struct km_node *list, struct km_node *one)
{
	struct km_node **end = &list->first;

	if (!one)
		return;
	while (*end)
		end = &(*end)->next;
	*end = one;
	list->n++;
}

static void put(struct sheet *t, struct km_node *map, const struct km_cell *at,
		const char *key, struct km_node *value)
{
	struct km_node *k = scalar(t, at, key, strlen(key));

	if (!k || !value)
		return;
	append(map, k);
	append(map, value);
	map->n--;	/* pairs, not nodes */
}

static bool is_bare(struct km_slice s)
{
	size_t i;

	for (i = 0; i < s.n; i++)
		if (!strchr("0123456789.,/ -", s.p[i]))
			return false;
	return s.n > 0;
}

/* A cell, or a part of one, with the unit of its column if it has none. */
static struct km_node *value_of(struct sheet *t, const struct km_cell *cell,
				const struct column *c, struct km_slice s)
{
	char *text;
	size_t n = c->unit ? strlen(c->unit) : 0;

	s = km_slice_trim(s);
	if (!n || !is_bare(s))
		return scalar(t, cell, s.p, s.n);
	text = km_arena_raw(t->row, s.n + n + 2, 1);
	if (!text) {
		t->nomem = true;
		return NULL;
	}
	memcpy(text, s.p, s.n);
	text[s.n] = ' ';
	memcpy(text + s.n + 1, c->unit, n + 1);
	return scalar(t, cell, text, s.n + n + 1);
}

/* A list of what stands between the characters of c->split, or one value. */
static struct km_node *split_value(struct sheet *t, const struct km_cell *cell,
				   const struct column *c)
{
	struct km_slice rest = { cell->text, cell->n }, one;
	struct km_node *list;

	one.p = cell->text;
	one.n = strcspn(cell->text, c->split);
	if (!c->split[0] || one.n >= cell->n)
		return value_of(t, cell, c, rest);
	list = new_node(t, KM_NODE_LIST, cell);
	while (list && rest.n) {
		one.p = rest.p;
		one.n = strcspn(rest.p, c->split);
		if (km_slice_trim(one).n)
			append(list, value_of(t, cell, c, one));
		rest.p += one.n;
		rest.n -= one.n;
		if (rest.n)
			rest.p++, rest.n--;
	}
	return list;
}

static void put_cell(struct sheet *t, const struct km_cell *cell,
		     const struct column *c, struct km_node *of[5])
{
	struct km_slice s = { cell->text, cell->n };

	if (!of[c->goes])
		of[c->goes] = new_node(t, c->goes == TO_SIZE ||
					  c->goes == TO_OPENING
						? KM_NODE_LIST : KM_NODE_MAP,
				       cell);
	if (!of[c->goes])
		return;
	if (c->goes == TO_SIZE || c->goes == TO_OPENING)
		append(of[c->goes], value_of(t, cell, c, s));
	else
		put(t, of[c->goes], cell, c->key, split_value(t, cell, c));
}

static void read_tool(struct sheet *t, uint32_t index)
{
	static const char *const keys[] = {
		[TO_CONDITION] = "condition", [TO_SIZE] = "sizes",
		[TO_OPENING] = "openings", [TO_EXTRA] = "extra",
	};
	struct km_csv *v = &t->csv;
	struct km_node *of[5] = { NULL };
	unsigned k;
	uint32_t i;

	km_arena_reset(t->row);
	of[TO_TOOL] = new_node(t, KM_NODE_MAP, &v->cell[0]);
	for (i = 0; i < v->n && of[TO_TOOL]; i++)
		if (v->cell[i].n)
			put_cell(t, &v->cell[i], &t->column[i], of);
	for (k = TO_CONDITION; k <= TO_EXTRA && of[TO_TOOL]; k++)
		if (of[k])
			put(t, of[TO_TOOL], &v->cell[0], keys[k], of[k]);
	if (t->nomem) {
		t->r->b.nomem = true;
		return;
	}
	km_bind_enter(&t->r->b, "bench", index);
	km_bench_item(t->r, of[TO_TOOL]);
	km_bind_leave(&t->r->b);
}

static enum km_status read_rows(struct sheet *t)
{
	struct km_csv *v = &t->csv;
	struct km_diag *one;
	enum km_status st = KM_OK;
	uint32_t index = 0;

	while (st == KM_OK && !t->r->b.nomem) {
		st = km_csv_next(v);
		if (st != KM_OK || !v->n)
			break;
		if (v->wrong)
			continue;
		if (v->n == t->n) {
			read_tool(t, index++);
			continue;
		}
		one = km_diag_add(t->r->b.d, KM_M_CSV_RAGGED,
				  (struct km_place){ v->file, v->cell[0].line,
						     v->cell[0].column },
				  (unsigned)v->n, (unsigned)t->n);
		km_diag_hint(t->r->b.d, one, "quote a cell that holds the "
			     "character between the cells");
	}
	return t->r->b.nomem ? KM_ENOMEM : st;
}

enum km_status km_csv_read(struct km_reader *r, const struct km_input *in)
{
	struct km_arena *own = km_arena_new(r->b.lim);
	struct sheet *t = own ? km_arena_alloc(own, 1, sizeof *t) : NULL;
	enum km_status st = KM_ENOMEM;

	if (!t)
		goto done;
	t->r = r;
	t->row = km_arena_new(r->b.lim);
	if (!t->row)
		goto done;
	st = km_csv_open(&t->csv, in, r->b.file, r->b.lim, own, r->b.d);
	if (st == KM_OK)
		st = km_csv_next(&t->csv);
	if (st == KM_OK && !t->csv.n) {
		km_diag_add(r->b.d, KM_M_EMPTY_FILE,
			    (struct km_place){ r->b.file, 1, 1 });
		st = KM_EINPUT;
	}
	if (st == KM_OK)
		st = read_header(t);
	if (st == KM_OK) {
		r->load->has_bench = true;
		st = read_rows(t);
	}
	km_arena_free(t->row);
done:
	km_arena_free(own);
	return st;
}
