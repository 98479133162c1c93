/* SPDX-License-Identifier: MIT */
#include "read/tree.h"

#include <string.h>

#include "base/arena.h"
#include "base/escape.h"
#include "base/str.h"
#include "read/comma.h"
#include "read/events.h"
#include "read/keys.h"
#include "read/words.h"

#define DEPTH	   64
#define NOTE_BYTES (64 * 1024)
#define KEY_BYTES  64
#define NODES	   4000000
#define LOOK_AHEAD 1024

/* Kept out of the way of what runs once a node. */
#define RARE __attribute__((cold, noinline))

/* A list or map of the entry being built. */
struct frame {
	struct km_node *node, **tail;
	bool is_map, wants_key;
	const struct km_node *key;	/* of the value that is to come */
	struct km_keys keys;
};

enum state { AT_START, AT_KEY, IN_LIST, AT_END };

struct km_tree {
	struct km_arena *mem, *scratch;
	struct km_input in;
	const char *const *streamed;
	struct km_diags *d;
	uint32_t note_bytes, key_bytes, max_nodes;
	struct km_events *events;
	struct km_event ev;
	bool peeked;			/* ev has not been taken yet */
	enum state state;
	struct frame *frames, *frame;	/* frame: the innermost, or NULL */
	uint32_t nodes;			/* of the entry so far */
	char *room;			/* of the scratch arena, for nodes */
	size_t left;
	struct km_keys top;		/* of the file */
	struct km_entry list;		/* key of the list being handed over */
	uint32_t index;
};

static bool advance(struct km_tree *t)
{
	if (t->peeked) {
		t->peeked = false;
		return true;
	}
	return km_events_next(t->events, &t->ev);
}

static bool no_memory(struct km_tree *t)
{
	return km_events_fail(t->events, KM_ENOMEM);
}

static struct km_place at(const struct km_tree *t, const struct km_node *n)
{
	return (struct km_place){ t->in.name, n->line, n->column };
}

/* ------------------------------------------------------------------ */
/* Nodes                                                               */

/* A character that no text may hold, or -1.  Only an escape in double quotes
 * can bring it here: km_text_read() has refused the others. */
static int32_t bad_character(const struct km_event *ev)
{
	struct km_slice s = { ev->text, ev->n };

	while (s.n) {
		int32_t c = km_utf8_next(&s);

		if ((c < 0x20 && c != '\n' && c != '\t') ||
		    (c >= 0x7F && c < 0xA0) || km_is_bidi((uint32_t)c))
			return c;
	}
	return -1;
}

/* May the text of the scalar event go on?  Else it is said. */
static RARE bool check_scalar(struct km_tree *t, const struct km_node *n)
{
	struct km_diag *one;
	int32_t c;

	if (t->ev.n > t->note_bytes) {
		km_diag_add(t->d, KM_M_LONG_TEXT, at(t, n),
			    (unsigned)t->note_bytes);
		return false;
	}
	if (t->ev.quote != KM_EV_DOUBLE)
		return true;
	c = bad_character(&t->ev);
	if (c < 0)
		return true;
	one = km_diag_add(t->d,
			  c < 0xA0 ? KM_M_CONTROL_CHARACTER
				   : KM_M_BIDI_CONTROL,
			  at(t, n), (unsigned)c);
	km_diag_hint(t->d, one, "take the escape out");
	return false;
}

static RARE bool new_piece(struct km_tree *t, size_t bytes)
{
	enum { PIECE = 3072 };
	size_t size = bytes > PIECE ? bytes : PIECE;

	t->room = km_arena_raw(t->scratch, size, 1);
	t->left = t->room ? size : 0;
	return t->room || no_memory(t);
}

/* Room for a node with its text, cut off pieces of the scratch arena. */
static inline void *node_room(struct km_tree *t, size_t bytes)
{
	enum { ALIGN = 8 };
	void *p;

	bytes = (bytes + ALIGN - 1) & ~(size_t)(ALIGN - 1);
	if (bytes > t->left && !new_piece(t, bytes))
		return NULL;
	p = t->room;
	t->room += bytes;
	t->left -= bytes;
	return p;
}

static RARE struct km_node *too_large(struct km_tree *t)
{
	struct km_place place = { t->in.name, t->ev.line, t->ev.column };

	km_diag_add(t->d, KM_M_ENTRY_TOO_LARGE, place,
		    (unsigned)t->max_nodes);
	km_events_fail(t->events, KM_EINPUT);
	return NULL;
}

/* The text of a scalar into the room behind its node. */
static inline void set_text(struct km_tree *t, struct km_node *n)
{
	static const unsigned char styles[] = {
		[KM_EV_BARE] = KM_PLAIN, [KM_EV_SINGLE] = KM_QUOTED,
		[KM_EV_DOUBLE] = KM_QUOTED, [KM_EV_BLOCK] = KM_BLOCK,
	};
	const struct km_event *ev = &t->ev;
	char *text = (char *)(n + 1);
	size_t len = ev->n;

	n->style = (enum km_node_style)styles[ev->quote];
	if (len > t->note_bytes || ev->quote == KM_EV_DOUBLE)
		if (!check_scalar(t, n)) {
			n->style = KM_PLAIN;
			len = 0;
		}
	km_copy_bytes(text, ev->text, len);
	text[len] = '\0';
	n->text = text;
	n->n = (uint32_t)len;
}

/* The node of the event, its text right behind it; NULL: reading ends. */
static inline struct km_node *new_node(struct km_tree *t)
{
	const struct km_event *ev = &t->ev;
	size_t room = sizeof(struct km_node);
	struct km_node *n;

	if (++t->nodes > t->max_nodes)
		return too_large(t);
	if (ev->type == KM_EV_SCALAR)
		room += ev->n > t->note_bytes ? 1 : ev->n + 1;
	n = node_room(t, room);
	if (!n)
		return NULL;
	n->line = ev->line;
	n->column = ev->column;
	n->next = NULL;
	n->first = NULL;
	if (ev->type == KM_EV_SCALAR) {
		n->type = KM_NODE_SCALAR;
		set_text(t, n);
		return n;
	}
	n->type = ev->type == KM_EV_MAP ? KM_NODE_MAP : KM_NODE_LIST;
	n->style = KM_PLAIN;
	n->n = 0;
	n->text = NULL;
	return n;
}

static RARE void say_if_empty(struct km_tree *t, const struct km_node *n)
{
	struct km_diag *one;

	if (n->style != KM_PLAIN)
		return;
	one = km_diag_add(t->d, KM_M_EMPTY_VALUE, at(t, n));
	km_diag_hint(t->d, one, "quote a value that starts with #; write none "
				"for nothing there, or leave the key out");
}

/* ------------------------------------------------------------------ */
/* Keys                                                                */

static void say_duplicate(struct km_tree *t, const struct km_node *key,
			  const struct km_node *first)
{
	struct km_diag *one = km_diag_add(t->d, KM_M_DUPLICATE_KEY, at(t, key),
					  key->text);

	km_diag_other(t->d, one, at(t, first), "it stands here first");
}

/*
 * May the node of the event be a key of the map?  *drop: no, that has been
 * said, and its value is to be passed over.  false: reading ends.
 */
static bool check_key(struct km_tree *t, const struct km_keys *keys,
		      const struct km_node *key, bool *drop)
{
	const struct km_node *first;

	*drop = true;
	if (key->type != KM_NODE_SCALAR)
		return km_events_refuse(t->events, &t->ev, KM_M_KEY_NOT_TEXT,
					NULL);
	if (!key->n) {
		if (!t->ev.n)
			km_diag_add(t->d, KM_M_KEY_NOT_TEXT, at(t, key));
		return true;
	}
	if (key->n > t->key_bytes) {
		km_diag_add(t->d, KM_M_LONG_KEY, at(t, key),
			    (unsigned)t->key_bytes);
		return true;
	}
	if (key->n == 2 && key->style == KM_PLAIN && !memcmp(key->text, "<<", 2))
		return km_events_refuse(t->events, &t->ev, KM_M_MERGE_KEY,
					"write the keys out");
	first = km_keys_find(keys, key);
	if (first) {
		say_duplicate(t, key, first);
		return true;
	}
	if (keys->n == KM_MAP_KEYS) {
		km_diag_add(t->d, KM_M_TOO_MANY_KEYS, at(t, key),
			    (unsigned)KM_MAP_KEYS);
		return km_events_fail(t->events, KM_EINPUT);
	}
	*drop = false;
	return true;
}

/* Most keys, of which check_key() has nothing to say. */
static inline bool is_new_key(const struct km_tree *t,
			      const struct km_keys *keys,
			      const struct km_node *key)
{
	return key->type == KM_NODE_SCALAR && key->n > 2 &&
	       key->n <= t->key_bytes && keys->n < KM_FEW_KEYS &&
	       !(keys->met & km_keys_bit(key));
}

/* ------------------------------------------------------------------ */
/* Trees                                                               */

static void push(struct km_tree *t, struct km_node *n)
{
	struct frame *f = t->frame ? t->frame + 1 : t->frames;

	t->frame = f;
	f->node = n;
	f->tail = &n->first;
	f->is_map = f->wants_key = n->type == KM_NODE_MAP;
	km_keys_clear(&f->keys);
}

static void append(struct frame *f, struct km_node *n)
{
	*f->tail = n;
	f->tail = &n->next;
}

/* A key of the innermost map. */
static bool take_key(struct km_tree *t, struct frame *f, struct km_node *key)
{
	bool drop = false;

	if (!is_new_key(t, &f->keys, key) &&
	    !check_key(t, &f->keys, key, &drop))
		return false;
	if (drop)
		return km_events_skip(t->events, &t->ev);
	if (!km_keys_add(&f->keys, key, t->scratch))
		return no_memory(t);
	append(f, key);
	f->key = key;
	f->wants_key = false;
	return true;
}

/* Put the node of the event where it belongs; false ends the reading. */
static bool take_event(struct km_tree *t, struct km_node **root)
{
	struct frame *f = t->frame;
	struct km_node *n;

	if (t->ev.type == KM_EV_CLOSE) {
		t->frame = f == t->frames ? NULL : f - 1;
		return true;
	}
	n = new_node(t);
	if (!n)
		return false;
	if (f && f->wants_key)
		return take_key(t, f, n);
	if (!t->ev.n && n->type == KM_NODE_SCALAR) {
		if (f && f->is_map && km_events_in_braces(t->events) &&
		    km_is_rest(f->key, n)) {
			f->tail = km_drop_rest(t->d, t->in.name, f->node,
					       f->key);
			f->wants_key = true;
			return true;
		}
		say_if_empty(t, n);
	}
	if (f) {
		append(f, n);
		f->wants_key = f->is_map;
		f->node->n++;
	} else {
		*root = n;
	}
	if (n->type != KM_NODE_SCALAR)
		push(t, n);
	return true;
}

/* The tree that begins with the event at hand. */
static bool build(struct km_tree *t, struct km_node **root)
{
	t->frame = NULL;
	while (take_event(t, root)) {
		if (!t->frame)
			return true;
		if (!advance(t))
			break;
	}
	return false;
}

/* ------------------------------------------------------------------ */
/* The file                                                            */

static bool refuse_top(struct km_tree *t, const char *what, const char *hint)
{
	struct km_place place = { t->in.name, t->ev.line, t->ev.column };
	struct km_diag *one = km_diag_add(t->d, KM_M_NOT_A_MAPPING, place,
					  what);

	km_diag_hint(t->d, one, "%s", hint);
	return km_events_fail(t->events, KM_EINPUT);
}

/* libyaml looks for the ':' of a key in 1024 characters and takes a longer
 * one for a text. */
static bool refuse_long_key(struct km_tree *t)
{
	struct km_place place = { t->in.name, t->ev.line, t->ev.column };

	km_diag_add(t->d, KM_M_LONG_KEY, place, (unsigned)t->key_bytes);
	return km_events_fail(t->events, KM_EINPUT);
}

/* As far as the first key. */
static bool begin(struct km_tree *t)
{
	struct km_place start = { t->in.name, 1, 1 };

	if (!advance(t) || !advance(t))		/* the file, a document */
		return false;
	if (t->ev.type == KM_EV_FILE_END) {
		km_diag_add(t->d, KM_M_EMPTY_FILE, start);
		return km_events_fail(t->events, KM_EINPUT);
	}
	if (!advance(t))
		return false;
	if (t->ev.type == KM_EV_LIST)
		return refuse_top(t, "a list", "write 'bench:' above the list "
					       "if it is one of tools");
	if (t->ev.type == KM_EV_SCALAR && t->ev.n > LOOK_AHEAD)
		return refuse_long_key(t);
	if (t->ev.type == KM_EV_SCALAR)
		return refuse_top(t, t->ev.n ? "a text" : "nothing",
				  "write 'kit:', 'bench:' or another record "
				  "first");
	t->state = AT_KEY;
	return true;
}

/* The file ends behind its document, or the events refuse the next one. */
static bool finish(struct km_tree *t)
{
	t->state = AT_END;
	return advance(t) && advance(t);
}

static void begin_entry(struct km_tree *t)
{
	km_arena_reset(t->scratch);
	t->left = 0;
	t->nodes = 0;
}

static bool is_streamed(const struct km_tree *t, const char *key)
{
	for (const char *const *s = t->streamed; s && *s; s++)
		if (!strcmp(*s, key))
			return true;
	return false;
}

/* A copy of a top-level key that lasts as long as the file. */
static struct km_node *keep_key(struct km_tree *t, const struct km_node *key)
{
	struct km_node *copy = km_arena_copy(t->mem, key, 1, sizeof *key);

	if (!copy)
		return NULL;
	copy->text = km_arena_text(t->mem, key->text, key->n);
	if (!copy->text || !km_keys_add(&t->top, copy, t->mem))
		return NULL;
	return copy;
}

/* The next top-level key and its value.  *done: out holds something. */
static bool next_key(struct km_tree *t, struct km_entry *out, bool *done)
{
	struct km_node *key;
	bool drop;

	begin_entry(t);
	if (!advance(t))
		return false;
	if (t->ev.type == KM_EV_CLOSE) {
		*done = true;
		return finish(t);
	}
	key = new_node(t);
	if (!key || !check_key(t, &t->top, key, &drop))
		return false;
	if (drop)
		return km_events_skip(t->events, &t->ev);
	key = keep_key(t, key);
	if (!key)
		return no_memory(t);
	t->list = (struct km_entry){ .key = key->text,
				     .key_line = key->line,
				     .key_column = key->column };
	if (!advance(t))
		return false;
	if (t->ev.type == KM_EV_LIST && is_streamed(t, key->text)) {
		t->state = IN_LIST;
		t->index = 0;
		return true;
	}
	*out = t->list;
	*done = true;
	return build(t, &out->node);
}

static bool next_item(struct km_tree *t, struct km_entry *out)
{
	begin_entry(t);
	if (!advance(t))
		return false;
	*out = t->list;
	out->index = t->index;
	if (t->ev.type == KM_EV_CLOSE) {
		out->last = true;
		t->state = AT_KEY;
		return true;
	}
	out->item = true;
	t->index++;
	return build(t, &out->node);
}

enum km_status km_tree_next(struct km_tree *t, struct km_entry *out)
{
	bool done = false, good = true;

	*out = (struct km_entry){ 0 };
	if (t->state == AT_START)
		good = begin(t);
	while (good && !done && t->state == AT_KEY)
		good = next_key(t, out, &done);
	if (good && !done && t->state == IN_LIST)
		good = next_item(t, out);
	/* what stands right before a mistake is mostly a part of it */
	if (good && t->state != AT_END)
		t->peeked = advance(t);
	if (km_diags_failed(t->d))
		no_memory(t);
	if (km_events_status(t->events) != KM_OK)
		*out = (struct km_entry){ 0 };
	return km_diags_failed(t->d) ? KM_ENOMEM : km_events_status(t->events);
}

static bool make(struct km_tree *t, const struct km_limits *lim)
{
	uint32_t depth = lim && lim->depth ? lim->depth : DEPTH;

	t->note_bytes = lim && lim->note_bytes ? lim->note_bytes : NOTE_BYTES;
	t->key_bytes = lim && lim->key_bytes ? lim->key_bytes : KEY_BYTES;
	t->max_nodes = lim && lim->entry_nodes ? lim->entry_nodes : NODES;
	t->scratch = km_arena_new(lim);
	t->frames = km_arena_raw(t->mem, depth, sizeof *t->frames);
	km_diags_file(t->d, t->in.name);
	return t->scratch && t->frames && !km_diags_failed(t->d) &&
	       km_events_open(t->mem, &t->in, lim, t->d, &t->events) == KM_OK;
}

enum km_status km_tree_open(const struct km_input *in,
			    const char *const *streamed,
			    const struct km_limits *lim, struct km_diags *d,
			    struct km_tree **out)
{
	struct km_arena *mem = km_arena_new(lim);
	struct km_tree *t = mem ? km_arena_alloc(mem, 1, sizeof *t) : NULL;

	if (!t) {
		km_arena_free(mem);
		return KM_ENOMEM;
	}
	t->mem = mem;
	t->in = *in;
	t->streamed = streamed;
	t->d = d;
	t->ev.line = t->ev.column = 1;
	if (!make(t, lim)) {
		km_tree_close(t);
		return KM_ENOMEM;
	}
	*out = t;
	return KM_OK;
}

void km_tree_close(struct km_tree *t)
{
	if (!t)
		return;
	km_events_close(t->events);
	km_arena_free(t->scratch);
	km_arena_free(t->mem);
}
