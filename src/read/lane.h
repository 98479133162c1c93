/* SPDX-License-Identifier: MIT */
/*
 * lane - the plain items of a list, read beside libyaml.
 *
 * Most of a large file is one list whose items are all written in the same
 * few simple ways: `- {key: text, key: [text, text]}` on a line, or keys below
 * one another.  Such items are cut into events right here; libyaml gets an
 * empty line in place of each of theirs, and everything else as it stands.
 *
 * When     only behind two plain items that follow each other, the first of
 *          which libyaml has told to be an item of a list, so that what looks
 *          like an item cannot be a part of a text; and only up to the last
 *          plain item before anything else, which is left to libyaml with
 *          what follows it.  So libyaml always stands where it would stand
 *          without the lane, and what it makes of the rest, mistakes and
 *          places too, is the same.
 * Plain    each key and text of an item on a line of its own or in brackets,
 *          without an escape, a comment, a tab, an anchor, a tag, an empty
 *          value or a line that goes on.  Whatever is not plain goes to
 *          libyaml: the lane refuses nothing.
 * Memory   some 130 KB, however long the list
 */
#ifndef KM_READ_LANE_H
#define KM_READ_LANE_H

#include "read/events.h"
#include "read/text.h"

struct km_lane;

/* NULL: no memory.  text must live as long. */
struct km_lane *km_lane_new(struct km_arena *mem, struct km_text *text);

/* As km_text_read(), for libyaml. */
bool km_lane_read(struct km_lane *l, unsigned char *buf, size_t n,
		  size_t *got);

/* libyaml has told the whole item of a list in block style that begins at
 * line and column. */
void km_lane_told(struct km_lane *l, uint32_t line, uint32_t column);

/* Does the next event come from the lane? */
bool km_lane_is_due(const struct km_lane *l);
/* That event; the character that opens or closes a list or map, 0 if that is
 * done by indentation or it is a scalar. */
char km_lane_next(struct km_lane *l, struct km_event *ev);

/* The character at a place of the text that libyaml got last; 0 if it is not
 * known, none of ASCII, or a '-' that begins a word. */
char km_lane_met(const struct km_lane *l, uint32_t line, uint32_t column);

#endif
