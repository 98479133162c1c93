/* SPDX-License-Identifier: MIT */
/*
 * outline - tools drawn at their true size, to be laid on the paper.
 *
 * One user unit of a drawing is one millimetre; coordinates are whole
 * micrometres until they are written.  What nobody recorded is dashed, and
 * said to be typical (by a table) or assumed (by habit).
 */
#ifndef KM_REPORT_OUTLINE_H
#define KM_REPORT_OUTLINE_H

#include "base/buf.h"
#include "kitmuster/audit.h"
#include "report/page.h"
#include "trade/kind.h"
#include "trade/size.h"

#define KM_UM(mm) ((int64_t)((mm) * 1000))

/* ------------------------------------------------------------------ */
/* outline_dims.c: what is to be drawn                                  */

enum km_known { KM_KNOWN_NOT, KM_KNOWN_ASSUMED, KM_KNOWN_TYPICAL,
		KM_KNOWN_RECORDED };

struct km_dim { int64_t um; enum km_known known; };

#define KM_OUTLINE_ENDS 2
struct km_outline {
	enum km_kind_id kind;
	enum km_drive_id drive[KM_OUTLINE_ENDS];
	const struct km_size *size[KM_OUTLINE_ENDS];
	uint32_t n_sizes;
	/* greatest head widths, one an end; of a bar the one width */
	struct km_dim head[KM_OUTLINE_ENDS];
	struct km_dim length, thick, bar, hole, blade, jaw, hook, depth;
	struct km_dim shank;		/* width of a shank, or diameter */
	struct km_dim arm, wall, tip;
	bool bar_only;			/* too little is known of its shape */
	struct km_dim angle;		/* thousandths of a degree */
};

/* False: no length is known, so that there is nothing to draw. */
bool km_outline_of_slot(const struct km_slot *s, struct km_outline *o);
/* "length 148 mm; heads 35 mm wide (typical)". */
void km_outline_words(struct km_buf *b, const struct km_outline *o);

/* ------------------------------------------------------------------ */
/* outline_pen.c: lines on paper                                        */

/* Where a tool's own coordinates lie on the page: x along it from its left
 * end, y downwards from its axis. */
struct km_pen {
	struct km_buf *b;
	int64_t x, y;		/* of the tool's origin, micrometres */
	bool upright;		/* turned a quarter, its left end on top */
	bool flip;		/* turned half: from its right end */
	int64_t length;		/* for flip */
};

void km_pen_um(struct km_buf *b, int64_t um);	/* "12.345" */
/* Start, go on, end one path. */
void km_pen_path(const struct km_pen *p, enum km_known known);
void km_pen_move(const struct km_pen *p, int64_t x, int64_t y);
void km_pen_line(const struct km_pen *p, int64_t x, int64_t y);
/* An arc of a circle to (x, y); clockwise as seen. */
void km_pen_arc(const struct km_pen *p, int64_t r, bool large, bool clockwise,
		int64_t x, int64_t y);
void km_pen_curve(const struct km_pen *p, int64_t x1, int64_t y1, int64_t x,
		  int64_t y);	/* one control point */
void km_pen_close(const struct km_pen *p);
void km_pen_end(const struct km_pen *p);
/* Whole shapes. */
void km_pen_stroke(const struct km_pen *p, enum km_known known, int64_t x1,
		   int64_t y1, int64_t x2, int64_t y2);
void km_pen_box(const struct km_pen *p, enum km_known known, int64_t x1,
		int64_t y1, int64_t x2, int64_t y2);
void km_pen_circle(const struct km_pen *p, enum km_known known, int64_t x,
		   int64_t y, int64_t r);
/* A hexagon by its width across flats, a corner on the axis. */
void km_pen_hexagon(const struct km_pen *p, enum km_known known, int64_t x,
		    int64_t y, int64_t flats);
/* Raw text on the page, escaped; size in micrometres. */
void km_pen_text(struct km_buf *b, int64_t x, int64_t y, int64_t size,
		 bool bold, const char *text);
/* r cos and r sin of thousandths of a degree, rounded once. */
int64_t km_pen_cos(int64_t r, int64_t angle);
int64_t km_pen_sin(int64_t r, int64_t angle);
/* The angle whose sine is part / whole, thousandths of a degree. */
int64_t km_pen_asin(int64_t part, int64_t whole);

/* ------------------------------------------------------------------ */
/* outline_spanner.c, outline_tool.c: the shapes                        */

/* What a shape takes above and below its axis, and its side view. */
struct km_reach { int64_t up, down, side; };
struct km_reach km_outline_reach(const struct km_outline *o);
/* Seen from above, and, `side` below the axis, from the side. */
void km_outline_draw(const struct km_pen *p, const struct km_outline *o,
		     int64_t side);
void km_outline_spanner(const struct km_pen *p, const struct km_outline *o);
/* outline_sketch.c: is there a sketch of its kind, in its proportions? */
bool km_outline_is_sketch(const struct km_outline *o);
void km_outline_sketch(const struct km_pen *p, const struct km_outline *o,
		       int64_t side);
void km_outline_side(const struct km_pen *p, const struct km_outline *o,
		     int64_t y);
/* How far the leftmost point of an open head lies from its middle. */
int64_t km_outline_open_reach(int64_t head, int64_t jaw, int64_t angle);

/* ------------------------------------------------------------------ */
/* outline_page.c: sheets of paper                                      */

struct km_paper { const char *word; int64_t width, height; };	/* um */
const struct km_paper *km_paper_of(const struct km_report_options *o);

#define KM_EDGE KM_UM(10)	/* a printer leaves that much free */
/* Room for drawings: left, top, right and bottom edge on the page. */
struct km_area { int64_t left, top, right, bottom; };
struct km_area km_area_of(const struct km_paper *paper);

/* One page of a document: the element, the heading, both check bars. */
struct km_sheet_page {
	const struct km_paper *paper;
	const char *id;			/* the sheet's word, for ids */
	const char *title, *heading;	/* raw text */
	const char *note;
	uint32_t number, pages;
	bool html;		/* a page of its own; else one below the other */
};
void km_page_open(struct km_buf *b, const struct km_sheet_page *s);
void km_page_close(struct km_buf *b, const struct km_sheet_page *s);
/* Around lines of km_pen. */
void km_lines_open(struct km_buf *b);
void km_lines_close(struct km_buf *b);
/* Before the first and after the last page; html ends with the tables of the
 * page, which say the same in words. */
void km_document_open(struct km_page *p, const struct km_sheet_page *s);
void km_document_close(struct km_page *p, const struct km_sheet_page *s);
/* The verdict as a shape, 4 mm across, its middle at (x, y). */
void km_page_mark(struct km_buf *b, const struct km_slot_audit *s, int64_t x,
		  int64_t y);
/* A line of text in rows of at most `cells`; returns how many rows. */
uint32_t km_page_lines(struct km_buf *b, const char *text, uint32_t cells,
		       int64_t x, int64_t y, int64_t size, int64_t step);

#endif
