/* SPDX-License-Identifier: MIT */
#include "kitmuster/load.h"

#include <string.h>

#include "base/near.h"
#include "read/reader.h"
#include "read/rec.h"

static uint32_t or32(uint32_t given, uint32_t otherwise)
{
	return given ? given : otherwise;
}

struct km_limits km_limits_filled(const struct km_limits *lim)
{
	struct km_limits l;

	memset(&l, 0, sizeof l);
	if (lim)
		l = *lim;
	if (!l.file_bytes)
		l.file_bytes = (uint64_t)256 << 20;
	if (!l.item_bytes)
		l.item_bytes = (uint64_t)8 << 20;
	l.depth = or32(l.depth, 64);
	l.tools = or32(l.tools, 2000000);
	l.slots = or32(l.slots, 100000);
	l.note_bytes = or32(l.note_bytes, 64 * 1024);
	l.word_bytes = or32(l.word_bytes, 256);
	l.key_bytes = or32(l.key_bytes, 64);
	l.per_rule = or32(l.per_rule, 20);
	return l;
}

bool km_part_add(struct km_reader *r, struct km_part **list, void *rec,
		 uint32_t n)
{
	struct km_part *part;

	if (!rec)
		return !r->b.nomem;
	part = km_arena_alloc(r->b.scratch, 1, sizeof *part);
	if (!part) {
		r->b.nomem = true;
		return false;
	}
	*part = (struct km_part){ rec, n, *list };
	*list = part;
	return true;
}

/* ------------------------------------------------------------------ */
/* Top-level keys                                                      */

/* The record that has a key of this name; the first of them counts. */
static const struct km_top *top_with(struct km_reader *r, const char *key)
{
	const struct km_top *t;

	for (t = km_tops; t->key; t++)
		if (km_bind_find(&r->b, t->rec, km_slice_of(key)))
			return t;
	return NULL;
}

static void say_unknown_top(struct km_reader *r, const struct km_entry *e)
{
	struct km_node at = { .line = e->key_line, .column = e->key_column };
	const struct km_top *t = top_with(r, e->key);
	struct km_near near;
	struct km_diag *one = KM_SAY(&r->b, &at, UNKNOWN_KEY, "file", e->key);

	r->b.holes = true;
	if (t) {
		KM_HINT(&r->b, one, t->list ? "indent it under an entry of "
			"'%s'" : "indent it under '%s'", t->key);
		return;
	}

	km_near_init(&near, e->key);
	for (t = km_tops; t->key; t++)
		km_near_offer(&near, t->key);
	if (near.n)
		KM_HINT(&r->b, one, "did you mean '%s'?", near.best[0]);
	else
		KM_HINT(&r->b, one, "a file holds kit, bench, prices, "
			"workshop, rubric, machine or decisions");
}

static void *read_map(struct km_reader *r, const struct km_record *rec,
		      const struct km_node *n)
{
	void *obj;

	if (!km_want_map(&r->b, n, rec->name))
		return NULL;
	obj = km_bind_alloc(&r->b, 1, rec->size);
	if (!obj)
		return NULL;
	km_bind_defaults(rec, obj);
	km_bind_record(&r->b, rec, obj, n);
	return obj;
}

static void read_decisions(struct km_reader *r, const struct km_node *n)
{
	struct km_decision *v;
	const struct km_node *item;
	uint32_t i = 0;

	if (!km_want_list(&r->b, n, "decisions") || !n->n)
		return;
	v = km_bind_alloc(&r->b, n->n, sizeof *v);
	for (item = n->first; v && item; item = item->next, i++) {
		r->b.path[r->b.depth - 1].index = i;
		km_bind_record(&r->b, &km_rec_decision, &v[i], item);
	}
	km_part_add(r, &r->decisions, v, n->n);
}

/* A record that a run has once. */
static void say_second(struct km_reader *r, const struct km_record *rec,
		       const struct km_node *n, struct km_place before)
{
	struct km_diag *one = KM_SAY(&r->b, n, SECOND_RECORD, rec->name);

	km_diag_other(r->b.d, one, before, "the first one");
}

static void read_whole(struct km_reader *r, const struct km_entry *e)
{
	struct km_load *l = r->load;
	const struct km_node *n = e->node;

	if (!strcmp(e->key, "kit")) {
		km_part_add(r, &r->kits, km_kit_read(&r->b, n), 1);
	} else if (!strcmp(e->key, "prices")) {
		km_part_add(r, &r->prices, km_prices_read(&r->b, n), 1);
	} else if (!strcmp(e->key, "machine")) {
		km_part_add(r, &r->machines, read_map(r, &km_rec_machine, n),
			    1);
	} else if (!strcmp(e->key, "workshop")) {
		if (l->workshop)
			say_second(r, &km_rec_workshop, n, l->workshop->at);
		else
			l->workshop = km_workshop_read(&r->b, n);
	} else if (!strcmp(e->key, "rubric")) {
		if (l->rubric)
			say_second(r, &km_rec_rubric, n, l->rubric->at);
		else
			l->rubric = read_map(r, &km_rec_rubric, n);
	} else if (!strcmp(e->key, "decisions")) {
		read_decisions(r, n);
	} else {	/* bench, and not a list */
		km_want_list(&r->b, n, e->key);
		r->b.holes = true;
	}
}

static bool is_top(const char *key)
{
	const struct km_top *t;

	for (t = km_tops; t->key; t++)
		if (!strcmp(t->key, key))
			return true;
	return false;
}

static void take_entry(struct km_reader *r, const struct km_entry *e)
{
	const char *key = e->item ? "bench" : e->key;

	if (e->item || e->last) {
		r->load->has_bench = true;
		if (e->last)
			return;
	} else if (!is_top(key)) {
		say_unknown_top(r, e);
		return;
	}
	km_bind_enter(&r->b, key, e->item ? (int64_t)e->index : -1);
	if (e->item)
		km_bench_item(r, e->node);
	else
		read_whole(r, e);
	km_bind_leave(&r->b);
}

/* ------------------------------------------------------------------ */
/* Files                                                               */

static enum km_status read_yaml(struct km_reader *r, const struct km_input *in)
{
	static const char *const streamed[] = { "bench", NULL };
	struct km_entry e;
	struct km_tree *tree = NULL;
	enum km_status st;

	st = km_tree_open(in, streamed, r->b.lim, r->b.d, &tree);
	while (st == KM_OK) {
		st = km_tree_next(tree, &e);
		if (st != KM_OK || !e.key)
			break;
		take_entry(r, &e);
		if (r->b.nomem)
			st = KM_ENOMEM;
	}
	km_tree_close(tree);
	return st;
}

static bool is_csv(const struct km_input *in)
{
	size_t n = strlen(in->name);

	if (in->form != KM_INPUT_BY_NAME)
		return in->form == KM_INPUT_CSV;
	return n > 4 && !km_case_compare(in->name + n - 4, ".csv");
}

/* One input; false when nothing more can be done. */
static bool read_input(struct km_reader *r, const struct km_input *in)
{
	enum km_status st;

	r->b.file = km_bind_text(&r->b, in->name, strlen(in->name));
	if (!r->b.file)
		return false;
	r->load->files[r->load->n_files++] = r->b.file;
	km_bench_file(r, in->name);
	st = is_csv(in) ? km_csv_read(r, in) : read_yaml(r, in);
	if (st != KM_OK)
		r->b.holes = true;
	if (st == KM_EIO)
		r->unreadable = true;
	return st != KM_ENOMEM && !r->b.nomem;
}

static enum km_status read_all(struct km_reader *r, const struct km_input *in,
			       size_t n)
{
	size_t i;

	r->load->files = km_bind_alloc(&r->b, n, sizeof *r->load->files);
	if (!r->load->files)
		return KM_ENOMEM;
	for (i = 0; i < n; i++)
		if (!read_input(r, &in[i]))
			return KM_ENOMEM;
	km_link(r);
	if (r->b.nomem || km_diags_failed(r->b.d))
		return KM_ENOMEM;
	if (r->unreadable)
		return KM_EIO;
	return km_diags_count(r->b.d, KM_ERROR) ? KM_EINPUT : KM_OK;
}

static enum km_status start(struct km_reader *r, const struct km_limits *lim)
{
	struct km_arena *mem = km_arena_new(lim);

	if (!mem)
		return KM_ENOMEM;
	r->b.mem = mem;
	r->load = km_arena_alloc(mem, 1, sizeof *r->load);
	if (!r->load)
		return KM_ENOMEM;
	r->load->mem = mem;
	r->load->limits = km_limits_filled(lim);
	r->b.lim = &r->load->limits;
	r->b.scratch = km_arena_new(lim);
	r->b.words = km_words_new(mem, lim);
	return r->b.scratch && r->b.words ? KM_OK : KM_ENOMEM;
}

enum km_status km_load(const struct km_input *in, size_t n,
		       const struct km_limits *lim, struct km_diags *d,
		       struct km_load **out)
{
	struct km_arena *frame = km_arena_new(lim);
	struct km_reader *r;
	enum km_status st = KM_ENOMEM;

	r = frame ? km_arena_alloc(frame, 1, sizeof *r) : NULL;
	if (!r)
		goto done;
	r->b.d = d;
	st = start(r, lim);
	if (st == KM_OK)
		st = read_all(r, in, n);
	km_bench_release(r);
	km_words_free(r->b.words);
	km_arena_free(r->b.scratch);
	if (st == KM_OK)
		*out = r->load;
	else
		km_arena_free(r->b.mem);
done:
	km_arena_free(frame);
	return st;
}

void km_load_free(struct km_load *l)
{
	if (l)
		km_arena_free(l->mem);
}
