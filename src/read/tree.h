/* SPDX-License-Identifier: MIT */
/*
 * tree - the events of a YAML file into nodes.
 *
 * A file is read as a stream of top-level entries.  A list under a key that
 * the caller names as streamed is handed over item by item, each item a tree
 * in a scratch arena that is reset before the next one, so that a bench of a
 * million tools never becomes a tree.
 *
 * Owner    nodes and their text live until the next km_tree_next().
 * Errors   what is wrong with the YAML goes to the messages; km_tree_next()
 *          then answers KM_EINPUT and the file is over.  Where reading can go
 *          on (a key that stands twice, a value that is missing or too long)
 *          it does, and only the messages tell: a key in error is left out
 *          with its value, and a value in error is a plain scalar of no
 *          bytes.  Nothing more need be said about such a scalar.  An entry
 *          right before a mistake that ends the file is not handed over: it is
 *          mostly a part of it.
 */
#ifndef KM_READ_TREE_H
#define KM_READ_TREE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "kitmuster/diag.h"
#include "kitmuster/load.h"

/* Keys of one map; a file with more of them is no kit. */
#define KM_MAP_KEYS 10000

enum km_node_type { KM_NODE_SCALAR, KM_NODE_LIST, KM_NODE_MAP };

/* How a scalar was written: only plain ones can be numbers, none, unknown. */
enum km_node_style { KM_PLAIN, KM_QUOTED, KM_BLOCK };

struct km_node {
	enum km_node_type type;
	enum km_node_style style;	/* scalars */
	uint32_t line, column;		/* from 1, in characters */
	uint32_t n;			/* scalar: bytes; list: items; map: pairs */
	const char *text;		/* scalar, NUL-ended, no NUL inside */
	struct km_node *first;		/* list: items; map: key, value, key... */
	struct km_node *next;
};

/* What km_tree_next() hands over. */
struct km_entry {
	const char *key;	/* top-level key, NUL-ended */
	uint32_t key_line, key_column;
	bool item;		/* node is item `index` of a streamed list */
	uint32_t index;
	bool last;		/* a streamed list has ended; node is NULL and
				 * index the number of its items */
	struct km_node *node;
};

struct km_tree;

/*
 * Begin one input; its name and ctx must stay until km_tree_close().
 * streamed is a NULL-ended list of top-level keys whose
 * list value is handed over item by item; any other value of such a key
 * comes whole.
 */
enum km_status km_tree_open(const struct km_input *in,
			    const char *const *streamed,
			    const struct km_limits *lim, struct km_diags *d,
			    struct km_tree **out);

/*
 * The next entry.  KM_OK with out->key NULL at the end of the file.
 * KM_EINPUT: reported in d.  KM_EIO: reported in d.
 */
enum km_status km_tree_next(struct km_tree *t, struct km_entry *out);
void km_tree_close(struct km_tree *t);

#endif
