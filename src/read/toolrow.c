/* SPDX-License-Identifier: MIT */
#include "read/toolrow.h"

#include <stdio.h>
#include <string.h>

#include "read/attr.h"
#include "trade/kind.h"
#include "trade/size.h"

/* ------------------------------------------------------------------ */
/* Nodes                                                               */

struct km_node *km_toolrow_node(struct km_toolrow *r, enum km_node_type type,
			    const struct km_cell *at)
{
	struct km_node *n = km_arena_alloc(r->mem, 1, sizeof *n);

	if (!n) {
		r->b->nomem = true;
		return NULL;
	}
	n->type = type;
	n->line = at->line;
	n->column = at->column;
	return n;
}

static struct km_node *value_in(const struct km_node *map, const char *key)
{
	const struct km_node *k;

	for (k = map->first; k; k = k->next->next)
		if (!strcmp(k->text, key))
			return k->next;
	return NULL;
}

/* Without the apostrophe that keeps a spreadsheet from reckoning. */
static struct km_slice text_of(const struct km_cell *cell)
{
	struct km_slice s = { cell->text, cell->n };

	s = km_slice_trim(s);
	if (s.n > 1 && s.p[0] == '\'' && strchr("=+-@\t", s.p[1]))
		s.p++, s.n--;
	return s;
}

/* Line breaks as YAML has them. */
static void mend_breaks(struct km_node *n, char *text)
{
	char *to = text;
	uint32_t i;

	for (i = 0; i < n->n; i++) {
		if (text[i] == '\r' && i + 1 < n->n && text[i + 1] == '\n')
			continue;
		*to++ = text[i] == '\r' ? '\n' : text[i];
	}
	*to = '\0';
	n->n = (uint32_t)(to - text);
}

static bool is(struct km_slice s, const char *word)
{
	return km_slice_is(s, word);
}

struct km_node *km_toolrow_scalar(struct km_toolrow *r, const struct km_cell *at,
			      const char *p, size_t n)
{
	struct km_node *one = km_toolrow_node(r, KM_NODE_SCALAR, at);
	struct km_slice s = { p, n };
	char *text;

	if (!one)
		return NULL;
	/* in quotation marks of its own: that text, whatever it says */
	if (n > 2 && p[0] == '"' && p[n - 1] == '"') {
		one->style = KM_QUOTED;
		s = (struct km_slice){ p + 1, n - 2 };
	} else if (is(s, "null") || is(s, "~")) {
		one->style = KM_QUOTED;
	}
	text = km_arena_text(r->mem, s.p, s.n);
	if (!text) {
		r->b->nomem = true;
		return NULL;
	}
	one->text = text;
	one->n = (uint32_t)s.n;
	if (memchr(text, '\r', s.n))
		mend_breaks(one, text);
	return one;
}

void km_toolrow_append(struct km_node *list, struct km_node *one)
{
	struct km_node **end;

	if (!one || !list)
		return;
	for (end = &list->first; *end; end = &(*end)->next)
		;
	*end = one;
	list->n++;
}

void km_toolrow_pair(struct km_toolrow *r, struct km_node *map,
		 const struct km_cell *at, const char *key,
		 struct km_node *value)
{
	struct km_node *k;

	if (!value || !map)
		return;
	k = km_toolrow_node(r, KM_NODE_SCALAR, at);
	if (!k)
		return;
	k->n = (uint32_t)strlen(key);
	k->text = km_arena_text(r->mem, key, k->n);
	if (!k->text) {
		r->b->nomem = true;
		return;
	}
	km_toolrow_append(map, k);
	km_toolrow_append(map, value);
	map->n--;	/* pairs, not nodes */
}

/* ------------------------------------------------------------------ */
/* Sizes and openings                                                  */

void km_toolrow_look(struct km_toolrow *r, const struct km_column *c,
		 const struct km_cell *cell)
{
	struct km_slice s = km_cell_means(c, text_of(cell));
	const struct km_kind *kind;
	const struct km_drive *drive;

	if (c->goes == KM_TO_SYSTEM && s.n)
		r->system = s;
	if (!c->row || c->row->type != KM_T_ATTR)
		return;
	if (c->row->attr == KM_A_DRIVE) {
		drive = km_drive_find(s);
		if (drive)
			r->drive = drive;
	} else if (c->row->attr == KM_A_TOOL && !r->drive) {
		kind = km_kind_find(s);
		if (kind)
			r->drive = kind->drive;
	}
}

static struct km_node **list_of(struct km_toolrow *r, struct km_node **to,
				const struct km_cell *cell)
{
	if (!*to)
		*to = km_toolrow_node(r, KM_NODE_LIST, cell);
	return *to && (*to)->type == KM_NODE_LIST ? to : NULL;
}

/* "1/4" in a column of W: "1/4 W". */
static struct km_slice with_letters(struct km_toolrow *r,
				    const struct km_column *c,
				    struct km_slice s)
{
	struct km_slice letters = r->system;
	char *text;

	if (!letters.n && c->unit)
		letters = km_slice_of(c->unit);
	if (!letters.n || !km_cell_is_bare(s))
		return s;
	text = km_arena_raw(r->mem, s.n + letters.n + 1, 1);
	if (!text) {
		r->b->nomem = true;
		return s;
	}
	memcpy(text, s.p, s.n);
	text[s.n] = ' ';
	memcpy(text + s.n + 1, letters.p, letters.n);
	return (struct km_slice){ text, s.n + letters.n + 1 };
}

static void put_size(struct km_toolrow *r, const struct km_cell *cell,
		     const struct km_size *size)
{
	size_t n = strlen(size->text);
	char *text;

	if (!size->second) {
		km_toolrow_append(r->sizes, km_toolrow_scalar(r, cell, size->text, n));
		return;
	}
	text = km_arena_raw(r->mem, n + strlen(size->second) + 2, 1);
	if (!text) {
		r->b->nomem = true;
		return;
	}
	memcpy(text, size->text, n);
	text[n] = ' ';
	strcpy(text + n + 1, size->second);
	km_toolrow_append(r->sizes, km_toolrow_scalar(r, cell, text, strlen(text)));
}

static void put_sizes(struct km_toolrow *r, const struct km_column *c,
		      const struct km_cell *cell, struct km_slice s)
{
	struct km_size_rules rules = { r->drive, true, r->unit };
	struct km_size size[KM_ENDS_MOST];
	struct km_node at = { .line = cell->line, .column = cell->column };
	enum km_size_fault fault;
	uint32_t n, i;

	if (is(s, "none") || is(s, "illegible") || is(s, "unknown")) {
		if (!r->sizes)
			r->sizes = km_toolrow_scalar(r, cell, s.p, s.n);
		return;
	}
	if (!list_of(r, &r->sizes, cell))
		return;
	s = with_letters(r, c, s);
	fault = km_size_parse_cell(s, &rules, r->mem, size, KM_ENDS_MOST, &n);
	if (fault != KM_SIZE_OK) {
		at.text = km_arena_text(r->mem, s.p, s.n);
		at.n = (uint32_t)s.n;
		if (at.text)
			km_say_size(r->b, &at, r->drive, fault);
		r->wrong = true;
		/* empty and plain: nothing more is said of it */
		r->sizes = km_toolrow_scalar(r, cell, "", 0);
		return;
	}
	for (i = 0; i < n; i++)
		put_size(r, cell, &size[i]);
}

static void put_openings(struct km_toolrow *r, const struct km_column *c,
			 const struct km_cell *cell, struct km_slice s)
{
	struct km_slice one;

	if (is(s, "none")) {
		if (!r->openings)
			r->openings = km_toolrow_scalar(r, cell, s.p, s.n);
		return;
	}
	if (!list_of(r, &r->openings, cell))
		return;
	/* an end that was not measured keeps its place */
	while (r->openings->n + 1 < c->number && !r->b->nomem)
		km_toolrow_append(r->openings,
			      km_toolrow_scalar(r, cell, "unknown", 7));
	while (s.n) {
		const char *end = memchr(s.p, ';', s.n);

		one.p = s.p;
		one.n = end ? (size_t)(end - s.p) : s.n;
		s.p += one.n + !!end;
		s.n -= one.n + !!end;
		one = km_slice_trim(one);
		if (is(one, "unknown") || is(one, "?"))
			km_toolrow_append(r->openings, km_toolrow_scalar(
				r, cell, "unknown", 7));
		else if (one.n)
			km_toolrow_append(r->openings,
				      km_toolrow_measure(r, c, cell, one));
	}
}

/* ------------------------------------------------------------------ */
/* Other cells                                                         */

/* One value of a cell that may hold several. */
static struct km_node *part_of(struct km_toolrow *r, const struct km_column *c,
			       const struct km_cell *cell, struct km_slice s)
{
	if (!strcmp(c->key, "damage"))
		return km_toolrow_damage(r, cell, s);
	if (!strcmp(c->key, "history"))
		return km_toolrow_history(r, cell, s);
	return km_toolrow_scalar(r, cell, s.p, s.n);
}

/* Does a part end here?  Not at the comma of a decimal. */
static bool is_sign(struct km_slice s, size_t i, const char *signs)
{
	if (!strchr(signs, s.p[i]))
		return false;
	return s.p[i] != ',' || !i || i + 1 == s.n || s.p[i - 1] < '0' ||
	       s.p[i - 1] > '9' || s.p[i + 1] < '0' || s.p[i + 1] > '9';
}

/* A list of what stands between the signs of c->split; where there is a
 * semicolon, it is the only one. */
static struct km_node *split(struct km_toolrow *r, const struct km_column *c,
			     const struct km_cell *cell, struct km_slice s)
{
	const char *signs = memchr(s.p, ';', s.n) ? ";" : c->split;
	struct km_node *list = km_toolrow_node(r, KM_NODE_LIST, cell);
	struct km_slice one;
	size_t i;

	while (list && s.n) {
		for (i = 0; i < s.n && !is_sign(s, i, signs); i++)
			;
		one = km_slice_trim((struct km_slice){ s.p, i });
		if (one.n)
			km_toolrow_append(list, part_of(r, c, cell, one));
		i += i < s.n;
		s.p += i;
		s.n -= i;
	}
	if (list && list->n == 1 && list->first->type == KM_NODE_SCALAR)
		return list->first;
	return list;
}

static struct km_node *value_of(struct km_toolrow *r, const struct km_column *c,
				const struct km_cell *cell, struct km_slice s)
{
	enum km_attr a;

	if (!c->row || (is(s, "none") && !c->split[0]))
		return km_toolrow_scalar(r, cell, s.p, s.n);
	if (c->split[0])
		return split(r, c, cell, s);
	switch (c->row->type) {
	case KM_T_LENGTH:
		return km_toolrow_measure(r, c, cell, s);
	case KM_T_SHARE:
	case KM_T_SMALL:
	case KM_T_INT:
	case KM_T_WEIGHT:
		if (c->unit && c->unit[0] != '%' && km_cell_is_bare(s))
			s = with_letters(r, c, s);
		return km_toolrow_number(r, cell, s);
	case KM_T_MONEY:
		return km_toolrow_money(r, cell, s);
	case KM_T_ATTR:
		a = c->row->attr;
		if (a == KM_A_ANGLE)
			return km_toolrow_number(r, cell, s);
		if (a >= KM_A_LENGTH && a <= KM_A_DEPTH)
			return km_toolrow_measure(r, c, cell, s);
		break;
	default:
		break;
	}
	return km_toolrow_scalar(r, cell, s.p, s.n);
}

/* A second column of marks, of the other side: "A / B". */
static bool join_marks(struct km_toolrow *r, const struct km_column *c,
		       struct km_slice s)
{
	struct km_node *mark = value_in(r->tool, "mark");
	char *text;

	if (strcmp(c->key, "mark") != 0 || !mark)
		return false;
	if (is(s, "none") || (mark->n == s.n && !memcmp(mark->text, s.p, s.n)))
		return true;
	if (km_node_is(mark, "none"))
		mark->n = 0;
	text = km_arena_raw(r->mem, mark->n + s.n + 4, 1);
	if (!text) {
		r->b->nomem = true;
		return true;
	}
	memcpy(text, mark->text, mark->n);
	memcpy(text + mark->n, " / ", 3);
	memcpy(text + mark->n + 3, s.p, s.n);
	text[mark->n + 3 + s.n] = '\0';
	mark->text = mark->n ? text : text + 3;
	mark->n += (uint32_t)s.n + (mark->n ? 3 : 0);
	return true;
}

/* A second column, or word, of what may be a list. */
static bool join_lists(struct km_toolrow *r, struct km_node *map,
		       const struct km_column *c, const struct km_cell *cell,
		       struct km_slice s)
{
	struct km_node *old, *list, *more, *next;

	old = c->split[0] ? value_in(map, c->key) : NULL;
	if (!old)
		return false;
	list = split(r, c, cell, s);
	more = list && list->type == KM_NODE_LIST ? list->first : list;
	if (old->type != KM_NODE_LIST) {
		list = km_toolrow_node(r, KM_NODE_SCALAR, cell);
		if (!list)
			return true;
		*list = *old;
		list->next = NULL;
		old->type = KM_NODE_LIST;
		old->first = list;
		old->n = 1;
	}
	for (; more; more = next) {
		next = more->next;
		more->next = NULL;
		km_toolrow_append(old, more);
	}
	return true;
}

static void say_damage(struct km_toolrow *r, const struct km_column *c,
		       const struct km_cell *cell, const char *like)
{
	struct km_diag *one;

	one = km_diag_add(r->b->d, KM_M_SHEET_DAMAGE,
			  (struct km_place){ r->b->file, cell->line,
					     cell->column },
			  cell->text, like, c->key);
	KM_HINT(r->b, one, "%s", km_cell_damage_hint);
	r->wrong = true;
}

/* A name that no other column of one's own has, and that can be a key. */
static const char *own_name(struct km_toolrow *r, const char *name)
{
	size_t n = strlen(name), most = r->b->lim->key_bytes - 4;
	unsigned number = 1;
	char *text;

	if (n <= most && !value_in(r->extra, name))
		return name;
	text = km_arena_raw(r->mem, n + 8, 1);
	if (!text) {
		r->b->nomem = true;
		return NULL;
	}
	if (n > most)
		n = most;
	while (n && ((unsigned char)name[n] & 0xC0) == 0x80)
		n--;
	memcpy(text, name, n);
	text[n] = '\0';
	while (value_in(r->extra, text) && ++number < 1000)
		snprintf(text + n, 8, " %u", number);
	return text;
}

void km_toolrow_put(struct km_toolrow *r, const struct km_column *c,
		const struct km_cell *cell)
{
	struct km_slice s = text_of(cell);
	const char *like = km_cell_damage(c, s);
	struct km_node **to = &r->tool;
	const char *key = c->key;

	if (like) {
		say_damage(r, c, cell, like);
		return;
	}
	s = km_cell_means(c, s);
	if (!s.n || c->goes == KM_TO_SYSTEM)
		return;
	if (c->row && c->row->type == KM_T_ATTR &&
	    c->row->attr == KM_A_SIZES) {
		put_sizes(r, c, cell, s);
		return;
	}
	if (c->row && c->row->type == KM_T_ATTR &&
	    c->row->attr == KM_A_OPENINGS) {
		put_openings(r, c, cell, s);
		return;
	}
	if (c->goes == KM_TO_CONDITION)
		to = &r->condition;
	if (c->goes == KM_TO_EXTRA || c->goes == KM_TO_GRADE)
		to = &r->extra;
	if (!*to)
		*to = km_toolrow_node(r, KM_NODE_MAP, cell);
	if (*to && to == &r->extra)
		key = own_name(r, key);
	if (!*to || !key || (to == &r->tool && join_marks(r, c, s)))
		return;
	if (!join_lists(r, *to, c, cell, s))
		km_toolrow_pair(r, *to, cell, key, value_of(r, c, cell, s));
}

void km_toolrow_begin(struct km_toolrow *r, const struct km_cell *at)
{
	r->drive = NULL;
	r->system.n = 0;
	r->wrong = false;
	r->condition = r->extra = r->sizes = r->openings = NULL;
	r->tool = km_toolrow_node(r, KM_NODE_MAP, at);
}

struct km_node *km_toolrow_end(struct km_toolrow *r)
{
	struct km_cell at = { .line = r->tool ? r->tool->line : 0,
			      .column = r->tool ? r->tool->column : 0 };

	km_toolrow_pair(r, r->tool, &at, "sizes", r->sizes);
	km_toolrow_pair(r, r->tool, &at, "openings", r->openings);
	km_toolrow_pair(r, r->tool, &at, "condition", r->condition);
	km_toolrow_pair(r, r->tool, &at, "extra", r->extra);
	return r->b->nomem ? NULL : r->tool;
}
