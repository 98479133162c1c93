/* SPDX-License-Identifier: MIT */
/*
 * The frontier as a drawing: a step line, since between two plans there is no
 * other, and a mark for each plan.  One user unit is a millimetre; black on
 * white; nothing outside the file is needed to show it.
 *
 * source   [svg-2] text alternatives by title and desc; [xml-1.0]
 */
#include "report/frontier.h"

#include <string.h>

#include "base/escape.h"
#include "base/num.h"
#include "unit/length.h"
#include "unit/money.h"

#define MM(n) ((int64_t)(n) * KM_NM_PER_MM)
#define WIDE 160
#define HIGH 110
#define LEFT MM(24)		/* the field of the plot */
#define RIGHT MM(150)
#define TOP MM(14)
#define BOTTOM MM(90)
#define TICKS 6			/* at most, of an axis */

struct axis {
	int64_t from, to;	/* on paper, nm */
	int64_t end, step;	/* values */
	int decimals;
};

struct drawing {
	struct km_page *p;
	struct km_buf *b;
	const struct km_plan_point *v;
	uint32_t n;
	struct axis x, y;
};

/* The least step of 1, 2, 5, 10, 20 ... with which TICKS steps reach most. */
static struct axis make_axis(int64_t from, int64_t to, int64_t most,
			     int decimals)
{
	static const int64_t next[] = { 1, 2, 5 };
	struct axis a = { from, to, 0, 1, decimals };
	int64_t ten = 1;

	if (most < 100)
		most = 100;
	for (int i = 0; a.step < (most + TICKS - 1) / TICKS; i++) {
		if (i % 3 == 2)
			ten *= 10;
		a.step = next[(i + 1) % 3] * ten;
	}
	a.end = (most + a.step - 1) / a.step * a.step;
	return a;
}

static int64_t place(const struct axis *a, int64_t value)
{
	int64_t d = 0;

	(void)km_mul_div(a->to - a->from, value, a->end, &d);
	return a->from + d;
}

static void put_mm(struct drawing *d, int64_t nm)
{
	km_buf_mm(d->b, nm, 2);
}

/* An attribute in millimetres, as x1="24". */
static void attr(struct drawing *d, const char *name, int64_t nm)
{
	km_buf_printf(d->b, " %s=\"", name);
	put_mm(d, nm);
	km_buf_char(d->b, '"');
}

static void stroke(struct drawing *d, int64_t x1, int64_t y1, int64_t x2,
		   int64_t y2)
{
	km_buf_str(d->b, "<line");
	attr(d, "x1", x1);
	attr(d, "y1", y1);
	attr(d, "x2", x2);
	attr(d, "y2", y2);
	km_buf_str(d->b, " stroke=\"#000\" stroke-width=\"0.25\"/>\n");
}

static void text_at(struct drawing *d, int64_t x, int64_t y, const char *anchor)
{
	km_buf_str(d->b, "<text");
	attr(d, "x", x);
	attr(d, "y", y);
	km_buf_printf(d->b, " text-anchor=\"%s\">", anchor);
}

static void escaped(struct drawing *d, const char *text)
{
	km_escape_xml(d->b, text, strlen(text));
}

static void ticks(struct drawing *d, const struct axis *a, bool across)
{
	for (int64_t v = 0; v <= a->end; v += a->step) {
		int64_t at = place(a, v);

		if (across) {
			stroke(d, at, BOTTOM, at, BOTTOM + MM(1));
			text_at(d, at, BOTTOM + MM(5), "middle");
		} else {
			stroke(d, LEFT - MM(1), at, LEFT, at);
			text_at(d, LEFT - MM(2), at + MM(1), "end");
		}
		km_buf_money(d->b, v, a->decimals);
		km_buf_str(d->b, "</text>\n");
	}
}

static void axes(struct drawing *d)
{
	km_buf_str(d->b, "<g font-family=\"sans-serif\" font-size=\"3.2\">\n");
	text_at(d, (LEFT + RIGHT) / 2, BOTTOM + MM(12), "middle");
	km_buf_str(d->b, "money to spend");
	if (d->p->currency) {
		km_buf_str(d->b, ", ");
		escaped(d, d->p->currency);
	}
	km_buf_str(d->b, "</text>\n");
	text_at(d, LEFT - MM(20), TOP - MM(5), "start");
	km_buf_str(d->b, "points lost</text>\n");
	stroke(d, LEFT, BOTTOM, RIGHT, BOTTOM);
	stroke(d, LEFT, TOP, LEFT, BOTTOM);
	ticks(d, &d->x, true);
	ticks(d, &d->y, false);
	km_buf_str(d->b, "</g>\n");
}

/* Along at the points of one plan, down where the next begins. */
static void step_line(struct drawing *d)
{
	km_buf_str(d->b, "<path fill=\"none\" stroke=\"#000\" "
			 "stroke-width=\"0.4\" d=\"");
	for (uint32_t i = 0; i < d->n; i++) {
		km_buf_str(d->b, i ? " H" : "M");
		put_mm(d, place(&d->x, d->v[i].money));
		km_buf_str(d->b, i ? " V" : " ");
		put_mm(d, place(&d->y, d->v[i].points));
	}
	km_buf_str(d->b, " H");
	put_mm(d, d->x.to);
	km_buf_str(d->b, "\"/>\n");
}

static void sum_of(struct drawing *d, const struct km_plan_point *at)
{
	km_buf_money(d->b, at->money, d->p->decimals);
	km_buf_str(d->b, ", ");
	km_buf_money(d->b, at->points, 2);
	km_buf_str(d->b, " lost");
}

static void ring(struct drawing *d, int64_t x, int64_t y, const char *how)
{
	km_buf_str(d->b, "<circle");
	attr(d, "cx", x);
	attr(d, "cy", y);
	km_buf_printf(d->b, " %s/>\n", how);
}

/* A mark for each plan; the chosen one has a ring and its figures. */
static void marks(struct drawing *d)
{
	for (uint32_t i = 0; i < d->n; i++) {
		int64_t x = place(&d->x, d->v[i].money);
		int64_t y = place(&d->y, d->v[i].points);
		bool right = x > (LEFT + RIGHT) / 2;

		ring(d, x, y, "r=\"0.9\" fill=\"#000\"");
		if (!km_frontier_is_plan(d->p, &d->v[i]))
			continue;
		ring(d, x, y, "r=\"2\" fill=\"none\" stroke=\"#000\" "
			      "stroke-width=\"0.4\"");
		km_buf_str(d->b, "<g font-family=\"sans-serif\" "
				 "font-size=\"3.2\">\n");
		text_at(d, right ? x - MM(3) : x + MM(3), y - MM(3),
			right ? "end" : "start");
		km_buf_str(d->b, "the plan: ");
		sum_of(d, &d->v[i]);
		km_buf_str(d->b, "</text>\n</g>\n");
	}
}

static void describe(struct drawing *d)
{
	km_buf_str(d->b, "<title>Points lost against money to spend</title>\n"
			 "<desc>");
	if (!d->n) {
		km_buf_str(d->b, "Nothing to plan.");
	} else {
		km_buf_printf(d->b, "%u plan%s that no other beats, from ",
			      (unsigned)d->n, d->n == 1 ? "" : "s");
		sum_of(d, &d->v[0]);
		km_buf_str(d->b, " to ");
		sum_of(d, &d->v[d->n - 1]);
		km_buf_str(d->b, d->p->audit->plan->frontier_whole
					 ? "." : "; the search ended early.");
	}
	km_buf_str(d->b, "</desc>\n");
}

static int64_t most(const struct drawing *d, bool money)
{
	int64_t m = 0;

	for (uint32_t i = 0; i < d->n; i++) {
		int64_t v = money ? d->v[i].money : d->v[i].points;

		m = v > m ? v : m;
	}
	return m;
}

void km_draw_frontier(struct km_page *p)
{
	struct drawing d = { .p = p, .b = &p->out };

	d.v = km_frontier_points(p, &d.n);
	if (!d.v)
		return;
	d.x = make_axis(LEFT, RIGHT, most(&d, true), p->decimals);
	d.y = make_axis(BOTTOM, TOP, most(&d, false), 2);
	km_buf_printf(d.b, "<svg xmlns=\"http://www.w3.org/2000/svg\" "
		      "width=\"%dmm\" height=\"%dmm\" viewBox=\"0 0 %d %d\" "
		      "role=\"img\">\n", WIDE, HIGH, WIDE, HIGH);
	describe(&d);
	km_buf_printf(d.b, "<rect width=\"%d\" height=\"%d\" "
		      "fill=\"#fff\"/>\n", WIDE, HIGH);
	axes(&d);
	if (d.n) {
		step_line(&d);
		marks(&d);
	}
	km_buf_str(d.b, "</svg>\n");
}
