/* SPDX-License-Identifier: MIT */
#include "report/outline.h"

#include <math.h>
#include <string.h>

#include "base/escape.h"
#include "unit/length.h"

#define RADIANS (3.14159265358979323846 / 180000.0)

int64_t km_pen_cos(int64_t r, int64_t angle)
{
	return (int64_t)llround((double)r * cos((double)angle * RADIANS));
}

int64_t km_pen_sin(int64_t r, int64_t angle)
{
	return (int64_t)llround((double)r * sin((double)angle * RADIANS));
}

int64_t km_pen_asin(int64_t part, int64_t whole)
{
	if (whole <= 0 || part >= whole)
		return 90000;
	return (int64_t)llround(asin((double)part / (double)whole) / RADIANS);
}

void km_pen_um(struct km_buf *b, int64_t um)
{
	km_buf_mm(b, um * 1000, 3);
}

static void point(const struct km_pen *p, int64_t x, int64_t y)
{
	int64_t across = p->flip ? p->length - x : x;
	int64_t down = p->flip ? -y : y;

	if (p->upright) {
		km_pen_um(p->b, p->x - down);
		km_buf_char(p->b, ' ');
		km_pen_um(p->b, p->y + across);
	} else {
		km_pen_um(p->b, p->x + across);
		km_buf_char(p->b, ' ');
		km_pen_um(p->b, p->y + down);
	}
}

static void dashes(struct km_buf *b, enum km_known known)
{
	if (known != KM_KNOWN_RECORDED)
		km_buf_str(b, " stroke-dasharray=\"1.6 1\"");
}

void km_pen_path(const struct km_pen *p, enum km_known known)
{
	km_buf_str(p->b, "<path");
	dashes(p->b, known);
	km_buf_str(p->b, " d=\"");
}

void km_pen_move(const struct km_pen *p, int64_t x, int64_t y)
{
	km_buf_char(p->b, 'M');
	point(p, x, y);
}

void km_pen_line(const struct km_pen *p, int64_t x, int64_t y)
{
	km_buf_char(p->b, 'L');
	point(p, x, y);
}

void km_pen_arc(const struct km_pen *p, int64_t r, bool large, bool clockwise,
		int64_t x, int64_t y)
{
	km_buf_char(p->b, 'A');
	km_pen_um(p->b, r);
	km_buf_char(p->b, ' ');
	km_pen_um(p->b, r);
	km_buf_printf(p->b, " 0 %d %d ", large, clockwise);
	point(p, x, y);
}

void km_pen_curve(const struct km_pen *p, int64_t x1, int64_t y1, int64_t x,
		  int64_t y)
{
	km_buf_char(p->b, 'Q');
	point(p, x1, y1);
	km_buf_char(p->b, ' ');
	point(p, x, y);
}

void km_pen_close(const struct km_pen *p)
{
	km_buf_char(p->b, 'Z');
}

void km_pen_end(const struct km_pen *p)
{
	km_buf_str(p->b, "\"/>\n");
}

void km_pen_stroke(const struct km_pen *p, enum km_known known, int64_t x1,
		   int64_t y1, int64_t x2, int64_t y2)
{
	km_pen_path(p, known);
	km_pen_move(p, x1, y1);
	km_pen_line(p, x2, y2);
	km_pen_end(p);
}

void km_pen_box(const struct km_pen *p, enum km_known known, int64_t x1,
		int64_t y1, int64_t x2, int64_t y2)
{
	km_pen_path(p, known);
	km_pen_move(p, x1, y1);
	km_pen_line(p, x2, y1);
	km_pen_line(p, x2, y2);
	km_pen_line(p, x1, y2);
	km_pen_close(p);
	km_pen_end(p);
}

void km_pen_circle(const struct km_pen *p, enum km_known known, int64_t x,
		   int64_t y, int64_t r)
{
	km_pen_path(p, known);
	km_pen_move(p, x - r, y);
	km_pen_arc(p, r, false, true, x + r, y);
	km_pen_arc(p, r, false, true, x - r, y);
	km_pen_close(p);
	km_pen_end(p);
}

void km_pen_hexagon(const struct km_pen *p, enum km_known known, int64_t x,
		    int64_t y, int64_t flats)
{
	/* corners lie at s / sqrt(3) */
	int64_t r = (int64_t)llround((double)flats / sqrt(3.0));

	km_pen_path(p, known);
	for (int i = 0; i < 6; i++) {
		int64_t cx = x + km_pen_cos(r, i * 60000);
		int64_t cy = y + km_pen_sin(r, i * 60000);

		if (i == 0)
			km_pen_move(p, cx, cy);
		else
			km_pen_line(p, cx, cy);
	}
	km_pen_close(p);
	km_pen_end(p);
}

void km_pen_text(struct km_buf *b, int64_t x, int64_t y, int64_t size,
		 bool bold, const char *text)
{
	km_buf_str(b, "<text x=\"");
	km_pen_um(b, x);
	km_buf_str(b, "\" y=\"");
	km_pen_um(b, y);
	km_buf_str(b, "\" font-size=\"");
	km_pen_um(b, size);
	km_buf_str(b, bold ? "\" font-weight=\"bold\">" : "\">");
	km_escape_xml(b, text, strlen(text));
	km_buf_str(b, "</text>\n");
}
