/* SPDX-License-Identifier: MIT */
/*
 * diag - what is wrong in a user's files, as a list of records.
 *
 * Reading goes on after a mistake, so that one run reports all that can be
 * found.  The list has an arena of its own, since it outlives a failed load.
 *
 * Owner    whoever calls km_diags_new() calls km_diags_free().
 * Order    km_diags_sort() sorts by file, line, column and id; file order is
 *          the order of the operands.
 */
#ifndef KITMUSTER_DIAG_H
#define KITMUSTER_DIAG_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "kitmuster/status.h"

enum km_severity { KM_NOTE, KM_WARNING, KM_ERROR };

/* A place in a file.  Lines and columns count from 1, columns in characters;
 * line 0 means the file as a whole. */
struct km_place {
	const char *file;	/* as named by the user; "<stdin>" for - */
	uint32_t line;
	uint32_t column;
};

/* The ids of all messages: enumerator, severity, lasting word, text.  The
 * text is a printf format; what it may take is checked by the compiler where
 * km_diag_add() is called with a literal, and by a test for this list. */
#include "kitmuster/messages.h"

enum km_msg {
#define X(name, severity, id, text) KM_M_##name,
	KM_MESSAGES(X)
#undef X
	KM_M_COUNT
};

struct km_diag {
	enum km_msg msg;
	struct km_place at;
	struct km_place other;	/* line 0 and file NULL: none */
	const char *other_says;	/* "first used here"; NULL: none */
	const char *path;	/* "slots[3].sizes[0]"; may be NULL */
	const char *text;	/* without id and place */
	const char *hint;	/* what to do; may be NULL */
};

enum { KM_DIAG_TEXT = 1000 };

struct km_diags;

/* lim NULL means the defaults. */
struct km_diags *km_diags_new(const struct km_limits *lim);
void km_diags_free(struct km_diags *d);

/*
 * Fix the order of the files: that of the first call for each name.  A file
 * that is first seen in a message comes after those seen before.
 */
void km_diags_file(struct km_diags *d, const char *name);

/*
 * Add one message; the text is the list's format filled with the arguments.
 * Names and texts are copied; a text past KM_DIAG_TEXT bytes is cut.
 * Beyond the ceiling per id only a count is kept.  Returns the record, to
 * which the caller may add path, hint and other with the functions below, or
 * NULL when it was only counted or memory ran out (km_diags_failed()).
 */
struct km_diag *km_diag_add(struct km_diags *d, enum km_msg m,
			    struct km_place at, ...);
void km_diag_hint(struct km_diags *d, struct km_diag *one, const char *format,
		  ...) __attribute__((format(printf, 3, 4)));
void km_diag_path(struct km_diags *d, struct km_diag *one, const char *path);
void km_diag_other(struct km_diags *d, struct km_diag *one,
		   struct km_place at, const char *says);

const char *km_msg_id(enum km_msg m);
enum km_severity km_msg_severity(enum km_msg m);
const char *km_msg_format(enum km_msg m);

/* Nonzero once memory for the list itself ran out. */
bool km_diags_failed(const struct km_diags *d);
/* Messages of a severity, counted-only ones included. */
size_t km_diags_count(const struct km_diags *d, enum km_severity s);
/* Messages of one id that were counted but not kept. */
size_t km_diags_dropped(const struct km_diags *d, enum km_msg m);
/* Files that messages speak of, counted-only ones included. */
size_t km_diags_files(const struct km_diags *d);
/* Sort, then walk. */
void km_diags_sort(struct km_diags *d);
size_t km_diags_size(const struct km_diags *d);
const struct km_diag *km_diags_at(const struct km_diags *d, size_t i);

#endif
