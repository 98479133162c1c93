/* SPDX-License-Identifier: MIT */
#include "kitmuster/import.h"

#include <stdio.h>
#include <string.h>

#include "read/benchtext.h"
#include "read/measure.h"
#include "read/notes.h"
#include "read/rec.h"
#include "read/seen.h"
#include "read/table.h"

enum { LETTERED_MOST = 702 };

struct import {
	struct km_bind b;
	struct km_limits lim;
	const struct km_import_options *o;
	struct km_import_counts *counts;
	struct km_bench_table table;
	struct km_buf text;
	bool yaml;		/* the list at hand: ids of a count as there */
};

/* ------------------------------------------------------------------ */
/* Ids                                                                 */

/* Was the id met, and where?  It is from now on. */
static const struct km_place *met(struct import *m, const char *id,
				  const struct km_node *at)
{
	size_t n = strlen(id), i;
	char lower[KM_ID_BYTES + 1];

	for (i = 0; i < n && i < KM_ID_BYTES; i++)
		lower[i] = (char)(id[i] >= 'A' && id[i] <= 'Z' ? id[i] + 32
							       : id[i]);
	return km_seen(&m->b, KM_SEEN_ID, lower, i, at);
}

static bool is_new(struct import *m, const char *id, const struct km_node *at)
{
	const struct km_place *first = met(m, id, at);
	struct km_diag *one;

	if (!first)
		return !m->b.nomem;
	one = KM_SAY(&m->b, at, DUPLICATE_ID, "tool", id);
	km_diag_other(m->b.d, one, *first, "first used here");
	KM_HINT(&m->b, one, "give one of them another id, or take it out if "
		"the two are the same");
	return false;
}

/* T-12 of 3: T-12a, T-12b, T-12c in a table, as the reader numbers them
 * T-12.1 in YAML.  false: too long. */
static bool nth_id(const struct import *m, const char *id, int32_t i,
		   char out[KM_ID_BYTES + 1])
{
	int n;

	if (m->yaml)
		n = snprintf(out, KM_ID_BYTES + 1, "%s.%d", id, (int)i + 1);
	else if (i < 26)
		n = snprintf(out, KM_ID_BYTES + 1, "%s%c", id, 'a' + i);
	else
		n = snprintf(out, KM_ID_BYTES + 1, "%s%c%c", id,
			     'a' + (i - 26) / 26, 'a' + (i - 26) % 26);
	return n <= KM_ID_BYTES;
}

/* ------------------------------------------------------------------ */
/* Rows                                                                */

static void put(struct import *m, const struct km_node *tool)
{
	m->counts->tools++;
	if (m->o->csv)
		km_bench_table_add(&m->table, tool);
	else
		km_bench_yaml(&m->text, tool);
	m->b.nomem |= m->table.nomem || km_buf_failed(&m->text);
}

static struct km_node *value_in(struct km_node *map, const char *key,
				struct km_node ***before)
{
	struct km_node **k;

	for (k = &map->first; *k; k = &(*k)->next->next)
		if (!strcmp((*k)->text, key)) {
			*before = k;
			return (*k)->next;
		}
	return NULL;
}

static void drop_count(struct km_node *tool)
{
	struct km_node **before, *number = value_in(tool, "count", &before);

	if (!number)
		return;
	*before = number->next;
	tool->n--;
}

/* So many tools alike, each with an id of its own. */
static void put_many(struct import *m, struct km_node *tool, const char *id,
		     int32_t count)
{
	struct km_node **before, *name, kept;
	char text[KM_ID_BYTES + 1];
	struct km_diag *one;
	int32_t i;

	for (i = 0; i < count; i++) {
		if (!nth_id(m, id, i, text)) {
			KM_SAY(&m->b, tool, BAD_ID, id);
			return;
		}
		if (!is_new(m, text, tool))
			return;
	}
	drop_count(tool);
	name = value_in(tool, "id", &before);
	kept = *name;
	for (i = 0; i < count && !m->b.nomem; i++) {
		nth_id(m, id, i, text);
		name->text = text;
		name->n = (uint32_t)strlen(text);
		put(m, tool);
	}
	*name = kept;
	one = KM_SAY(&m->b, tool, MANY_AS_ONE, id, (int)count);
	KM_HINT(&m->b, one, "look at each, and write down its mark");
}

/* A row without id that says what one before it said, and photographs that a
 * tool before it names. */
static void warn_of_twins(struct import *m, const struct km_node *row,
			  const struct km_tool *t, int32_t count)
{
	uint64_t hash;
	const struct km_place *first;
	struct km_diag *one;

	km_photos_seen(&m->b, t, row);
	if (t->id || count != 1)
		return;
	hash = km_row_hash(row);
	first = km_seen(&m->b, KM_SEEN_ROW, (const char *)&hash, sizeof hash,
			row);
	if (!first)
		return;
	one = KM_SAY(&m->b, row, SAME_ROW, "tool");
	km_diag_other(m->b.d, one, *first, "the other one");
	KM_HINT(&m->b, one, "give each an id, or one row a 'count'");
}

/* Bind the node as a load would; true if nothing is wrong with it. */
static void take_row(struct import *m, struct km_node *tool)
{
	size_t wrong = km_diags_count(m->b.d, KM_ERROR);
	struct km_tool t;
	int32_t count;

	m->counts->rows++;
	if (!km_tool_read(&m->b, tool, &t, &count) || m->b.nomem ||
	    km_diags_count(m->b.d, KM_ERROR) > wrong) {
		m->counts->refused++;
		return;
	}
	warn_of_twins(m, tool, &t, count);
	if (count == 1)
		drop_count(tool);
	if (t.id && !is_new(m, t.id, tool))
		;
	else if (t.id && count > 1 && count <= LETTERED_MOST)
		put_many(m, tool, t.id, count);
	else
		put(m, tool);
	if (km_diags_count(m->b.d, KM_ERROR) > wrong)
		m->counts->refused++;
	else
		m->counts->read++;
}

/* A row that could not even be made a node; what can be bound of it is, for
 * the messages. */
static void refuse_row(struct import *m, struct km_node *tool)
{
	struct km_tool t;
	int32_t count;

	m->counts->rows++;
	m->counts->refused++;
	if (tool)
		km_tool_read(&m->b, tool, &t, &count);
}

/* ------------------------------------------------------------------ */
/* Lists                                                               */

static void say_columns(struct import *m, const struct km_table *t)
{
	const struct km_column *c;
	struct km_node at = { .line = 1 };
	struct km_diag *one;
	uint32_t i;

	for (i = 0; i < t->n; i++) {
		c = &t->column[i];
		at.line = t->csv.cell[i].line;
		at.column = t->csv.cell[i].column;
		if (c->goes == KM_TO_EXTRA && t->csv.cell[i].n) {
			KM_SAY(&m->b, &at, COLUMN_KEPT, c->key);
		} else if (c->goes == KM_TO_GRADE) {
			one = KM_SAY(&m->b, &at, NO_SCALE, c->key);
			KM_HINT(&m->b, one, "it is kept and not read; write "
				"what is seen as rust, pits, plate left and "
				"damage");
		}
	}
}

static enum km_length_unit unit_of(const struct import *m)
{
	return m->o->unit == KM_LIST_MM ? KM_UNIT_MM
	       : m->o->unit == KM_LIST_IN ? KM_UNIT_IN : KM_UNIT_NONE;
}

static enum km_status read_table(struct import *m, const struct km_input *in,
				 struct km_arena *mem)
{
	struct km_table *t = km_arena_alloc(mem, 1, sizeof *t);
	struct km_node *node = NULL;
	enum km_table_got got = KM_TABLE_FAILED;

	if (!t)
		return KM_ENOMEM;
	t->status = km_table_open(t, &m->b, in, mem);
	t->row.unit = unit_of(m);
	if (t->status == KM_OK) {
		say_columns(m, t);
		while ((got = km_table_next(t, &node)) < KM_TABLE_END &&
		       !m->b.nomem)
			if (got == KM_TABLE_ROW)
				take_row(m, node);
			else
				refuse_row(m, t->row.wrong ? node : NULL);
	}
	km_table_close(t);
	return got == KM_TABLE_END ? KM_OK : t->status;
}

static enum km_status read_notes(struct import *m, const struct km_input *in,
				 struct km_arena *mem)
{
	struct km_notes *t = km_arena_alloc(mem, 1, sizeof *t);
	struct km_node *node = NULL;
	enum km_table_got got = KM_TABLE_FAILED;

	if (!t)
		return KM_ENOMEM;
	t->status = km_notes_open(t, &m->b, in, mem);
	t->row.unit = unit_of(m);
	while (t->status == KM_OK && !m->b.nomem &&
	       (got = km_notes_next(t, &node)) < KM_TABLE_END)
		if (got == KM_TABLE_ROW)
			take_row(m, node);
		else
			refuse_row(m, NULL);
	km_notes_close(t);
	return got == KM_TABLE_END ? KM_OK : t->status;
}

static enum km_status read_bench(struct import *m, const struct km_input *in)
{
	static const char *const streamed[] = { "bench", NULL };
	struct km_tree *tree = NULL;
	struct km_entry e;
	enum km_status st;
	bool any = false;

	st = km_tree_open(in, streamed, m->b.lim, m->b.d, &tree);
	while (st == KM_OK && !m->b.nomem) {
		st = km_tree_next(tree, &e);
		if (st != KM_OK || !e.key)
			break;
		any |= !strcmp(e.key, "bench") && (e.item || e.last);
		if (e.item)
			take_row(m, e.node);
	}
	if (st == KM_OK && !any) {
		km_diag_add(m->b.d, KM_M_NO_BENCH,
			    (struct km_place){ m->b.file, 1, 1 });
		st = KM_EINPUT;
	}
	km_tree_close(tree);
	return st;
}

static enum km_list_form form_of(const struct import *m, const char *name)
{
	static const struct { const char *end; enum km_list_form form; }
	ends[] = {
		{ ".yaml", KM_LIST_YAML }, { ".yml", KM_LIST_YAML },
		{ ".txt", KM_LIST_NOTES }, { ".notes", KM_LIST_NOTES },
	};
	size_t i, n = strlen(name), k;

	if (!strcmp(name, "<stdin>") && m->o->form != KM_LIST_BY_NAME)
		return m->o->form;
	for (i = 0; i < sizeof ends / sizeof *ends; i++) {
		k = strlen(ends[i].end);
		if (n > k && !km_case_compare(name + n - k, ends[i].end))
			return ends[i].form;
	}
	return KM_LIST_TABLE;
}

static enum km_status read_list(struct import *m, const struct km_input *in)
{
	enum km_list_form form = form_of(m, in->name);
	struct km_arena *mem = km_arena_new(m->b.lim);
	enum km_status st;

	m->b.file = km_bind_text(&m->b, in->name, strlen(in->name));
	m->yaml = form == KM_LIST_YAML;
	if (!mem || !m->b.file)
		st = KM_ENOMEM;
	else if (m->yaml)
		st = read_bench(m, in);
	else
		st = form == KM_LIST_NOTES ? read_notes(m, in, mem)
					   : read_table(m, in, mem);
	km_arena_free(mem);
	return m->b.nomem ? KM_ENOMEM : st;
}

/* ------------------------------------------------------------------ */

static void count_words(struct import *m)
{
	size_t i;

	for (i = 0; i < km_diags_size(m->b.d); i++)
		switch (km_diags_at(m->b.d, i)->msg) {
		case KM_M_UNLISTED_KIND:
		case KM_M_UNLISTED_FINISH:
		case KM_M_UNLISTED_MATERIAL:
		case KM_M_UNLISTED_COLOUR:
			m->counts->words++;
			break;
		default:
			break;
		}
}

static enum km_status write_all(struct import *m, const struct km_sink *to)
{
	struct km_buf *b = &m->text;

	if (m->o->csv)
		km_bench_table_write(&m->table, b);
	if (m->table.nomem || km_buf_failed(b) || km_diags_failed(m->b.d))
		return KM_ENOMEM;
	if (!to || !b->len)
		return KM_OK;
	return to->write(to->ctx, b->text, b->len) ? KM_OK : KM_EIO;
}

static enum km_status import(struct import *m, const struct km_input *in,
			     size_t n, const struct km_sink *to)
{
	enum km_status st = KM_OK, one;
	size_t i;

	km_buf_init(&m->text, m->b.mem);
	km_bench_table_init(&m->table, m->b.mem);
	if (!m->o->csv)
		km_buf_str(&m->text, "bench:\n");
	for (i = 0; i < n && st != KM_ENOMEM; i++) {
		one = read_list(m, &in[i]);
		if (one != KM_OK && st != KM_EIO)
			st = one;
	}
	if (!m->counts->tools && !m->o->csv) {
		km_buf_clear(&m->text);
		km_buf_str(&m->text, "bench: []\n");
	}
	km_diags_sort(m->b.d);
	count_words(m);
	return st == KM_OK ? write_all(m, to) : st;
}

enum km_status km_import(const struct km_input *in, size_t n,
			 const struct km_import_options *o,
			 const struct km_limits *lim, struct km_diags *d,
			 const struct km_sink *to,
			 struct km_import_counts *counts)
{
	struct km_arena *mem = km_arena_new(lim);
	struct import *m = mem ? km_arena_alloc(mem, 1, sizeof *m) : NULL;
	enum km_status st = KM_ENOMEM;

	memset(counts, 0, sizeof *counts);
	if (!m) {
		km_arena_free(mem);
		return st;
	}
	m->o = o;
	m->counts = counts;
	m->lim = km_limits_filled(lim);
	m->b.lim = &m->lim;
	m->b.d = d;
	m->b.mem = mem;
	m->b.scratch = km_arena_new(lim);
	m->b.words = km_words_new(mem, lim);
	if (m->b.scratch && m->b.words)
		st = import(m, in, n, to);
	km_words_free(m->b.words);
	km_arena_free(m->b.scratch);
	km_arena_free(mem);
	return st;
}
