/* SPDX-License-Identifier: MIT */
/*
 * screen - labelled lines that must fit on one screen.
 *
 * A block is a label and its items.  Each block gets one line; what is left
 * of the screen goes round the blocks, a line each, until all is said.  Where
 * there are more items than lines the last line has ids alone, and items for
 * which there is no room at all are counted: "+3".  A screen that is written
 * whole has no end of lines, and is wrapped where it would be cut.
 */
#ifndef KM_REPORT_SCREEN_H
#define KM_REPORT_SCREEN_H

#include "report/page.h"

#define KM_SCREEN_LINES 24
#define KM_SCREEN_CELLS 80

struct km_item {
	const char *head;	/* ids: never cut; may be "" */
	const char *tail;	/* cut with "..." where there is no room */
};

struct km_block {
	const char *label;
	enum km_tone tone;	/* of the label */
	int32_t count;		/* before the items; -1: none */
	bool rows;		/* one item a line; else as many as fit */
	bool first;		/* its items are named before others' are */
	bool part;		/* an empty line before it, room permitting */
	uint32_t least;		/* lines it cannot do without */
	uint32_t most;		/* items that it shows; 0: all */
	struct km_item *items;
	uint32_t n, room;
	uint32_t to_name;	/* lines that name every item */
	uint32_t to_say_all;	/* and that cut nothing */
	uint32_t lines;		/* what it was given */
};

struct km_screen {
	struct km_page *page;
	struct km_block block[KM_SCREEN_LINES];
	uint32_t n;
	bool whole;		/* as long as it takes: nothing is cut */
	struct km_table *view;	/* not NULL: no screen, but a row a block */
};

/* The table that a screen becomes where there is no end of lines. */
struct km_table *km_screen_view(struct km_page *p);

/* A new block; filled with km_screen_item().  The label is kept. */
struct km_block *km_screen_block(struct km_screen *s, const char *label);
/* Lines that the blocks so far cannot do without, and those whose items come
 * first would have. */
uint32_t km_screen_least(const struct km_screen *s);
/* Add an item: the escaped texts of head and tail, which are cleared. */
void km_screen_item(struct km_screen *s, struct km_buf *head,
		    struct km_buf *tail);
/* Lay it out and write it to the page. */
void km_screen_write(struct km_screen *s);

#endif
