/* SPDX-License-Identifier: MIT */
#include "read/table.h"

#include <string.h>

#include "read/reader.h"

static bool same_column(const struct km_column *a, const struct km_column *b)
{
	/* marks are of either side */
	return a->goes == b->goes && a->number == b->number &&
	       !strcmp(a->key, b->key) && strcmp(a->key, "mark") != 0;
}

/* Another sign that stands between cells, where a name that is known begins or
 * ends; a comma with a blank behind it is one of a sentence. */
static bool is_mixed(struct km_table *t, const struct km_cell *cell)
{
	static const char signs[] = ",;\t";
	struct km_slice first = { cell->text, strcspn(cell->text, signs) };
	const char *sign = cell->text + first.n;
	struct km_slice rest = { sign + 1, cell->n - first.n - 1 };
	struct km_diag *one;

	if (cell->quoted || !*sign || sign[1] == ' ')
		return false;
	rest.n = strcspn(rest.p, signs);
	if (!km_column_known(first) && !km_column_known(rest))
		return false;
	one = km_diag_add(t->row.b->d, KM_M_CSV_MIXED,
			  (struct km_place){ t->csv.file, cell->line,
					     cell->column },
			  t->csv.delimiter, *sign);
	km_diag_hint(t->row.b->d, one, "use one of them in the whole file; a "
		     "name that holds it stands in quotation marks");
	return true;
}

/* "size 1" is read before "size 2", wherever the columns stand. */
static void set_order(struct km_table *t)
{
	uint32_t i, n = 0;
	unsigned number;

	for (number = 0; number < 10; number++)
		for (i = 0; i < t->n; i++)
			if (t->column[i].number == number)
				t->order[n++] = i;
}

static enum km_status read_header(struct km_table *t)
{
	struct km_csv *v = &t->csv;
	struct km_diag *one;
	uint32_t i, k, known = 0;
	struct km_slice s;
	struct km_place at;

	for (i = 0; i < v->n; i++) {
		s = (struct km_slice){ v->cell[i].text, v->cell[i].n };
		if (!km_column_name(t->row.b->words, s, &t->column[i]))
			return KM_ENOMEM;
		if (is_mixed(t, &v->cell[i]))
			return KM_EINPUT;
		known += t->column[i].goes < KM_TO_EXTRA;
		at = (struct km_place){ v->file, v->cell[i].line,
					v->cell[i].column };
		for (k = 0; k < i && v->cell[i].n; k++) {
			if (!same_column(&t->column[k], &t->column[i]))
				continue;
			one = km_diag_add(t->row.b->d, KM_M_CSV_COLUMN_TWICE, at,
					  t->column[i].key);
			km_diag_other(t->row.b->d, one,
				      (struct km_place){ v->file,
							 v->cell[k].line,
							 v->cell[k].column },
				      "the first one");
			return KM_EINPUT;
		}
	}
	t->n = v->n;
	set_order(t);
	if (known)
		return KM_OK;
	one = km_diag_add(t->row.b->d, KM_M_CSV_HEADER,
			  (struct km_place){ v->file, 1, 1 });
	km_diag_hint(t->row.b->d, one, "the first line names the columns, such "
		     "as id,tool,sizes,length,mark,finish,rust");
	return KM_EINPUT;
}

/* ------------------------------------------------------------------ */

enum km_status km_table_open(struct km_table *t, struct km_bind *b,
			     const struct km_input *in, struct km_arena *mem)
{
	enum km_status st;

	memset(t, 0, sizeof *t);
	t->row.b = b;
	t->row.mem = km_arena_new(b->lim);
	if (!t->row.mem)
		return KM_ENOMEM;
	st = km_csv_open(&t->csv, in, b->file, b->lim, mem, b->d);
	if (st == KM_OK)
		st = km_csv_next(&t->csv);
	if (st == KM_OK && !t->csv.n) {
		km_diag_add(b->d, KM_M_EMPTY_FILE,
			    (struct km_place){ b->file, 1, 1 });
		st = KM_EINPUT;
	}
	return st == KM_OK ? read_header(t) : st;
}

static struct km_node *make_row(struct km_table *t)
{
	const struct km_cell *cell = t->csv.cell;
	uint32_t i, at;

	km_arena_reset(t->row.mem);
	km_toolrow_begin(&t->row, cell);
	for (i = 0; i < t->n && !t->row.b->nomem; i++)
		if (cell[i].n)
			km_toolrow_look(&t->row, &t->column[i], &cell[i]);
	for (i = 0; i < t->n && !t->row.b->nomem; i++) {
		at = t->order[i];
		if (cell[at].n)
			km_toolrow_put(&t->row, &t->column[at], &cell[at]);
	}
	return km_toolrow_end(&t->row);
}

static void say_ragged(struct km_table *t)
{
	struct km_csv *v = &t->csv;
	struct km_diag *one;

	one = km_diag_add(t->row.b->d, KM_M_CSV_RAGGED,
			  (struct km_place){ v->file, v->cell[0].line,
					     v->cell[0].column },
			  (unsigned)v->n, (unsigned)t->n);
	km_diag_hint(t->row.b->d, one, "quote a cell that holds the character "
		     "between the cells");
}

enum km_table_got km_table_next(struct km_table *t, struct km_node **node)
{
	struct km_csv *v = &t->csv;

	t->status = km_csv_next(v);
	if (t->status != KM_OK)
		return KM_TABLE_FAILED;
	if (!v->n)
		return KM_TABLE_END;
	t->row.wrong = false;
	if (v->wrong)
		return KM_TABLE_WRONG;
	if (v->n != t->n) {
		say_ragged(t);
		return KM_TABLE_WRONG;
	}
	*node = make_row(t);
	if (*node)
		return t->row.wrong ? KM_TABLE_WRONG : KM_TABLE_ROW;
	t->status = KM_ENOMEM;
	return KM_TABLE_FAILED;
}

void km_table_close(struct km_table *t)
{
	km_arena_free(t->row.mem);
	t->row.mem = NULL;
}

/* ------------------------------------------------------------------ */

static enum km_status read_rows(struct km_reader *r, struct km_table *t)
{
	struct km_node *node = NULL;
	uint32_t index = 0;

	for (;;) {
		enum km_table_got got = km_table_next(t, &node);

		if (got == KM_TABLE_END)
			return KM_OK;
		if (got == KM_TABLE_FAILED)
			return t->status;
		/* a row in part is bound too: it may hold more mistakes */
		if (got == KM_TABLE_ROW || t->row.wrong) {
			km_bind_enter(&r->b, "bench", index++);
			km_bench_item(r, node);
			km_bind_leave(&r->b);
		}
		if (r->b.nomem)
			return KM_ENOMEM;
	}
}

enum km_status km_csv_read(struct km_reader *r, const struct km_input *in)
{
	struct km_arena *own = km_arena_new(r->b.lim);
	struct km_table *t = own ? km_arena_alloc(own, 1, sizeof *t) : NULL;
	enum km_status st = KM_ENOMEM;

	if (t) {
		st = km_table_open(t, &r->b, in, own);
		if (st == KM_OK) {
			r->load->has_bench = true;
			st = read_rows(r, t);
		}
		km_table_close(t);
	}
	km_arena_free(own);
	return st;
}
