/* SPDX-License-Identifier: MIT */
/*
 * A bench as CSV: the first row names the columns, every other row is a tool.
 * A row is put into the form of a YAML item and read through the same table.
 */
#include <string.h>

#include "read/columns.h"
#include "read/csv.h"
#include "read/reader.h"
#include "read/rec.h"

struct sheet {
	struct km_reader *r;
	struct km_csv csv;
	struct km_arena *row;		/* nodes of one row */
	struct km_column column[KM_CSV_COLUMNS];
	uint32_t n;
	struct km_slice system;		/* letters of the sizes of the row */
	bool nomem;
};

/* ------------------------------------------------------------------ */
/* The first row                                                       */

static bool same_column(const struct km_column *a, const struct km_column *b)
{
	return a->goes == b->goes && a->number == b->number &&
	       !strcmp(a->key, b->key);
}

/* Another sign that stands between cells, where a name that is known ends. */
static bool is_mixed(struct sheet *t, const struct km_cell *cell)
{
	static const char signs[] = ",;\t";
	struct km_slice first = { cell->text, strcspn(cell->text, signs) };
	const char *sign = cell->text + first.n;
	struct km_slice rest = { sign + 1, cell->n - first.n - 1 };
	struct km_diag *one;

	if (cell->quoted || !*sign)
		return false;
	rest.n = strcspn(rest.p, signs);
	if (!km_column_known(first) && !km_column_known(rest))
		return false;
	one = km_diag_add(t->r->b.d, KM_M_CSV_MIXED,
			  (struct km_place){ t->csv.file, cell->line,
					     cell->column },
			  t->csv.delimiter, *sign);
	km_diag_hint(t->r->b.d, one, "use one of them in the whole file; a "
		     "name that holds it stands in quotation marks");
	return true;
}

static enum km_status read_header(struct sheet *t)
{
	struct km_csv *v = &t->csv;
	struct km_diag *one;
	uint32_t i, k, known = 0;
	struct km_slice s;
	struct km_place at;

	for (i = 0; i < v->n; i++) {
		s = (struct km_slice){ v->cell[i].text, v->cell[i].n };
		if (!km_column_name(t->r->b.words, s, &t->column[i]))
			return KM_ENOMEM;
		if (is_mixed(t, &v->cell[i]))
			return KM_EINPUT;
		known += t->column[i].goes < KM_TO_EXTRA;
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

/* A cell, or a part of one, with the unit of its column if it has none. */
static struct km_node *value_of(struct sheet *t, const struct km_cell *cell,
				const struct km_column *c, struct km_slice s)
{
	struct km_slice unit = { NULL, 0 };
	char *text;

	if (c->unit)
		unit = km_slice_of(c->unit);
	if (t->system.n && !strcmp(c->key, "sizes"))
		unit = t->system;
	s = km_slice_trim(s);
	if (!unit.n || !km_cell_is_bare(s))
		return scalar(t, cell, s.p, s.n);
	text = km_arena_raw(t->row, s.n + unit.n + 1, 1);
	if (!text) {
		t->nomem = true;
		return NULL;
	}
	memcpy(text, s.p, s.n);
	text[s.n] = ' ';
	memcpy(text + s.n + 1, unit.p, unit.n);
	return scalar(t, cell, text, s.n + unit.n + 1);
}

/* A list of what stands between the characters of c->split, or one value. */
static struct km_node *split_value(struct sheet *t, const struct km_cell *cell,
				   const struct km_column *c)
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

/* A cell that says something. */
static void put_value(struct sheet *t, const struct km_cell *cell,
		      const struct km_column *c, struct km_node *of[KM_GOES])
{
	enum km_goes goes = c->goes == KM_TO_GRADE ? KM_TO_EXTRA : c->goes;
	struct km_slice s = { cell->text, cell->n };
	struct km_node **to = &of[goes];

	if (!*to)
		*to = new_node(t, c->number ? KM_NODE_LIST : KM_NODE_MAP, cell);
	if (!*to)
		return;
	if (!c->number) {
		put(t, *to, cell, c->key, split_value(t, cell, c));
		return;
	}
	/* an end that was not measured keeps its place */
	while (goes == KM_TO_OPENING && (*to)->n + 1 < c->number && !t->nomem)
		append(*to, scalar(t, cell, "unknown", 7));
	append(*to, value_of(t, cell, c, s));
}

static void put_cell(struct sheet *t, const struct km_cell *cell,
		     const struct km_column *c, struct km_node *of[KM_GOES])
{
	struct km_slice s = { cell->text, cell->n };
	const char *damage = km_cell_damage(c, s);
	struct km_cell one = *cell;
	struct km_diag *said;

	s = km_cell_means(c, s);
	if (damage) {
		said = km_diag_add(t->r->b.d, KM_M_SHEET_DAMAGE,
				   (struct km_place){ t->csv.file, cell->line,
						      cell->column },
				   cell->text, damage, c->key);
		km_diag_hint(t->r->b.d, said, "%s", km_cell_damage_hint);
		s.n = 0;
	}
	if ((!s.n && !damage) || c->goes == KM_TO_SYSTEM)
		return;
	one.text = s.n ? s.p : "";
	one.n = (uint32_t)s.n;
	put_value(t, &one, c, of);
}

static void read_tool(struct sheet *t, uint32_t index)
{
	static const char *const keys[] = {
		[KM_TO_CONDITION] = "condition", [KM_TO_SIZE] = "sizes",
		[KM_TO_OPENING] = "openings", [KM_TO_EXTRA] = "extra",
	};
	struct km_csv *v = &t->csv;
	struct km_node *of[KM_GOES] = { NULL };
	unsigned k;
	uint32_t i;

	km_arena_reset(t->row);
	t->system.n = 0;
	for (i = 0; i < v->n; i++)
		if (t->column[i].goes == KM_TO_SYSTEM)
			t->system = (struct km_slice){ v->cell[i].text,
						       v->cell[i].n };
	of[KM_TO_TOOL] = new_node(t, KM_NODE_MAP, &v->cell[0]);
	for (i = 0; i < v->n && of[KM_TO_TOOL]; i++)
		if (v->cell[i].n)
			put_cell(t, &v->cell[i], &t->column[i], of);
	for (k = KM_TO_CONDITION; k <= KM_TO_EXTRA && of[KM_TO_TOOL]; k++)
		if (of[k])
			put(t, of[KM_TO_TOOL], &v->cell[0], keys[k], of[k]);
	if (t->nomem) {
		t->r->b.nomem = true;
		return;
	}
	km_bind_enter(&t->r->b, "bench", index);
	km_bench_item(t->r, of[KM_TO_TOOL]);
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
