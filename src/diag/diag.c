/* SPDX-License-Identifier: MIT */
#include "kitmuster/diag.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/buf.h"
#include "base/str.h"

#define PER_RULE 20

struct file {
	struct file *next;	/* in order of rank */
	uint64_t hash;
	uint32_t rank;
	bool spoken_of;
	char name[];
};

struct entry {
	struct km_diag d;	/* first: a km_diag is its entry */
	uint32_t rank;		/* of its file; 0: none */
	struct entry *next;
};

struct km_diags {
	struct km_arena *mem;
	struct entry *first, **tail;
	struct entry **sorted;	/* NULL until km_diags_sort() */
	size_t n;
	struct file *files, **files_tail, *last;
	struct file **by_hash;	/* room of them, a power of two; NULL: none */
	size_t room;
	uint32_t n_files;
	uint32_t per_rule;
	size_t total[KM_M_COUNT], kept[KM_M_COUNT];
	bool failed;
};

static const struct {
	const char *id, *text;
	enum km_severity severity;
} messages[KM_M_COUNT] = {
#define X(name, severity, id, text) { id, text, KM_##severity },
	KM_MESSAGES(X)
#undef X
};

const char *km_msg_id(enum km_msg m)
{
	return messages[m].id;
}

enum km_severity km_msg_severity(enum km_msg m)
{
	return messages[m].severity;
}

const char *km_msg_format(enum km_msg m)
{
	return messages[m].text;
}

struct km_diags *km_diags_new(const struct km_limits *lim)
{
	struct km_arena *mem = km_arena_new(lim);
	struct km_diags *d;

	if (!mem)
		return NULL;
	d = km_arena_alloc(mem, 1, sizeof *d);
	if (!d) {
		km_arena_free(mem);
		return NULL;
	}
	d->mem = mem;
	d->tail = &d->first;
	d->files_tail = &d->files;
	d->per_rule = lim && lim->per_rule ? lim->per_rule : PER_RULE;
	return d;
}

void km_diags_free(struct km_diags *d)
{
	if (d)
		km_arena_free(d->mem);
}

/* ------------------------------------------------------------------ */
/* Files                                                               */

/* The place of a name in the table: its file, or NULL where it would be. */
static struct file **file_place(const struct km_diags *d, uint64_t hash,
				const char *name)
{
	size_t at = hash & (d->room - 1);

	while (d->by_hash[at] && (d->by_hash[at]->hash != hash ||
				  strcmp(d->by_hash[at]->name, name) != 0))
		at = (at + 1) & (d->room - 1);
	return &d->by_hash[at];
}

/* Twice the table, or the first one; false: no memory. */
static bool grow_files(struct km_diags *d)
{
	size_t room = d->room ? 2 * d->room : 16;
	struct file **v = km_arena_alloc(d->mem, room, sizeof(struct file *));
	struct file *f;

	if (!v)
		return false;
	d->by_hash = v;
	d->room = room;
	for (f = d->files; f; f = f->next)
		*file_place(d, f->hash, f->name) = f;
	return true;
}

/* The file of that name, added if it is new; NULL when memory ran out. */
static struct file *find_file(struct km_diags *d, const char *name)
{
	size_t size = strlen(name) + 1;
	uint64_t hash;
	struct file *f;

	if (d->last && !strcmp(d->last->name, name))
		return d->last;
	hash = km_hash(name, size);
	f = d->room ? *file_place(d, hash, name) : NULL;
	if (f)
		return d->last = f;
	f = km_arena_alloc(d->mem, 1, sizeof *f + size);
	if (!f || (2 * d->n_files >= d->room && !grow_files(d))) {
		d->failed = true;
		return NULL;
	}
	memcpy(f->name, name, size);
	f->hash = hash;
	f->rank = ++d->n_files;
	*file_place(d, hash, name) = f;
	*d->files_tail = f;
	d->files_tail = &f->next;
	return d->last = f;
}

void km_diags_file(struct km_diags *d, const char *name)
{
	find_file(d, name);
}

size_t km_diags_files(const struct km_diags *d)
{
	size_t n = 0;

	for (const struct file *f = d->files; f; f = f->next)
		n += f->spoken_of;
	return n;
}

/* ------------------------------------------------------------------ */
/* Adding                                                              */

/* Text of a format, cut between two characters at KM_DIAG_TEXT bytes. */
static const char *fill(struct km_diags *d, const char *format, va_list ap)
{
	struct km_buf b;

	km_buf_init(&b, d->mem);
	km_buf_vprintf(&b, format, ap);
	if (!km_buf_failed(&b) && b.len > KM_DIAG_TEXT) {
		b.len = KM_DIAG_TEXT - 3;
		while (b.len && ((unsigned char)b.text[b.len] & 0xC0) == 0x80)
			b.len--;
		km_buf_str(&b, "...");
	}
	if (km_buf_failed(&b)) {
		d->failed = true;
		return NULL;
	}
	return b.text ? b.text : "";
}

static const char *keep(struct km_diags *d, const char *text)
{
	const char *copy = km_arena_text(d->mem, text, strlen(text));

	if (!copy)
		d->failed = true;
	return copy;
}

struct km_diag *km_diag_add(struct km_diags *d, enum km_msg m,
			    struct km_place at, ...)
{
	struct file *f = NULL;
	struct entry *e;
	va_list ap;

	d->total[m]++;
	if (at.file) {
		f = find_file(d, at.file);
		if (!f)
			return NULL;
		f->spoken_of = true;
		at.file = f->name;
	}
	if (d->kept[m] >= d->per_rule)
		return NULL;
	e = km_arena_alloc(d->mem, 1, sizeof *e);
	if (!e) {
		d->failed = true;
		return NULL;
	}
	e->d.msg = m;
	e->d.at = at;
	e->rank = f ? f->rank : 0;
	va_start(ap, at);
	e->d.text = fill(d, messages[m].text, ap);
	va_end(ap);
	if (!e->d.text)
		return NULL;
	d->kept[m]++;
	d->n++;
	d->sorted = NULL;
	*d->tail = e;
	d->tail = &e->next;
	return &e->d;
}

void km_diag_hint(struct km_diags *d, struct km_diag *one, const char *format,
		  ...)
{
	va_list ap;

	if (!one)
		return;
	va_start(ap, format);
	one->hint = fill(d, format, ap);
	va_end(ap);
}

void km_diag_path(struct km_diags *d, struct km_diag *one, const char *path)
{
	if (one)
		one->path = keep(d, path);
}

void km_diag_other(struct km_diags *d, struct km_diag *one,
		   struct km_place at, const char *says)
{
	struct file *f;

	if (!one)
		return;
	one->other_says = keep(d, says);
	one->other = at;
	if (!at.file)
		return;
	f = find_file(d, at.file);
	one->other.file = f ? f->name : NULL;
}

/* ------------------------------------------------------------------ */
/* Asking                                                              */

bool km_diags_failed(const struct km_diags *d)
{
	return d->failed;
}

size_t km_diags_count(const struct km_diags *d, enum km_severity s)
{
	size_t n = 0;

	for (size_t m = 0; m < KM_M_COUNT; m++)
		if (messages[m].severity == s)
			n += d->total[m];
	return n;
}

size_t km_diags_dropped(const struct km_diags *d, enum km_msg m)
{
	return d->total[m] - d->kept[m];
}

static int order(uint32_t a, uint32_t b)
{
	return (a > b) - (a < b);
}

static int order_text(const char *a, const char *b)
{
	return strcmp(a ? a : "", b ? b : "");
}

/* Total: two messages that are equal here print the same. */
static int compare(const void *pa, const void *pb)
{
	const struct entry *a = *(struct entry *const *)pa;
	const struct entry *b = *(struct entry *const *)pb;
	int c = order(a->rank, b->rank);

	if (!c)
		c = order(a->d.at.line, b->d.at.line);
	if (!c)
		c = order(a->d.at.column, b->d.at.column);
	if (!c)
		c = order_text(messages[a->d.msg].id, messages[b->d.msg].id);
	if (!c)
		c = order_text(a->d.text, b->d.text);
	if (!c)
		c = order_text(a->d.path, b->d.path);
	if (!c)
		c = order_text(a->d.hint, b->d.hint);
	if (!c)
		c = order_text(a->d.other.file, b->d.other.file);
	if (!c)
		c = order(a->d.other.line, b->d.other.line);
	if (!c)
		c = order(a->d.other.column, b->d.other.column);
	return c ? c : order_text(a->d.other_says, b->d.other_says);
}

/* Without memory for the sorted list the order of adding stays, and
 * km_diags_failed() tells. */
void km_diags_sort(struct km_diags *d)
{
	struct entry **v, *e;
	size_t i = 0;

	if (!d->n)
		return;
	v = km_arena_raw(d->mem, d->n, sizeof(struct entry *));
	if (!v) {
		d->failed = true;
		return;
	}
	for (e = d->first; e; e = e->next)
		v[i++] = e;
	qsort(v, d->n, sizeof *v, compare);
	d->sorted = v;
	/* the chain follows, so that walking works without the list too */
	d->tail = &d->first;
	for (i = 0; i < d->n; i++) {
		*d->tail = v[i];
		d->tail = &v[i]->next;
	}
	*d->tail = NULL;
}

size_t km_diags_size(const struct km_diags *d)
{
	return d->n;
}

const struct km_diag *km_diags_at(const struct km_diags *d, size_t i)
{
	const struct entry *e = d->first;

	if (d->sorted)
		return &d->sorted[i]->d;
	while (i--)
		e = e->next;
	return &e->d;
}
