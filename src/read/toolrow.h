/* SPDX-License-Identifier: MIT */
/*
 * toolrow - the cells of a table, or the words of a note, as the node of a tool,
 * written as a YAML bench would have it: sizes one entry an end, lengths with
 * their unit and a decimal point, states in the words of the files.
 *
 * Owner    nodes live in the arena of the row, until it is reset.
 * Errors   messages in b->d at the place of the cell; then `wrong` is set.
 *          b->nomem when memory ran out.
 */
#ifndef KM_READ_TOOLROW_H
#define KM_READ_TOOLROW_H

#include "read/bind.h"
#include "read/columns.h"
#include "read/csv.h"
#include "unit/length.h"

struct km_toolrow {
	struct km_bind *b;
	struct km_arena *mem;
	enum km_length_unit unit;	/* of lengths without one; NONE */
	const struct km_drive *drive;	/* of the tool; NULL: not known */
	struct km_slice system;		/* letters of its sizes; or empty */
	bool wrong;
	struct km_node *tool, *condition, *extra, *sizes, *openings;
};

/* Begin a row at the place of its first cell. */
void km_toolrow_begin(struct km_toolrow *r, const struct km_cell *at);
/* What all cells of a row together say of its sizes; before the cells. */
void km_toolrow_look(struct km_toolrow *r, const struct km_column *c,
		 const struct km_cell *cell);
void km_toolrow_put(struct km_toolrow *r, const struct km_column *c,
		const struct km_cell *cell);
/* The node of the tool; NULL when memory ran out. */
struct km_node *km_toolrow_end(struct km_toolrow *r);

struct km_node *km_toolrow_node(struct km_toolrow *r, enum km_node_type type,
			    const struct km_cell *at);
/* A plain scalar, quoted where the plain text would mean something else. */
struct km_node *km_toolrow_scalar(struct km_toolrow *r, const struct km_cell *at,
			      const char *p, size_t n);
void km_toolrow_append(struct km_node *list, struct km_node *one);
void km_toolrow_pair(struct km_toolrow *r, struct km_node *map,
		 const struct km_cell *at, const char *key,
		 struct km_node *value);

/* Values of one cell, of the forms that need more than copying. */
struct km_node *km_toolrow_measure(struct km_toolrow *r, const struct km_column *c,
			       const struct km_cell *cell, struct km_slice s);
struct km_node *km_toolrow_number(struct km_toolrow *r, const struct km_cell *cell,
			      struct km_slice s);
struct km_node *km_toolrow_money(struct km_toolrow *r, const struct km_cell *cell,
			     struct km_slice s);
/* "spread end 2 by 0.35 mm at tip", "soak_citric 2026-02-14 by own hands" */
struct km_node *km_toolrow_damage(struct km_toolrow *r, const struct km_cell *cell,
			      struct km_slice s);
struct km_node *km_toolrow_history(struct km_toolrow *r, const struct km_cell *cell,
			       struct km_slice s);

#endif
