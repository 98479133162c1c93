/* SPDX-License-Identifier: MIT */
/*
 * Pages of true size.  An SVG page is as large as the paper and one user unit
 * of it is a millimetre; the HTML around it names the page box, without which
 * a browser shrinks in silence.  source [css-values-3] 6.2, [css-page-3]
 */
#include "report/outline.h"

#include <inttypes.h>
#include <string.h>

#include "base/escape.h"
#include "report/html.h"
#include "report/words.h"

#define HEAD KM_UM(30)
#define FOOT KM_UM(28)
#define SIDE KM_UM(20)
#define BAR_LONG KM_UM(100)
#define BAR_WIDE KM_UM(0.6)

const char *km_paper_word(enum km_paper_size p)
{
	return p == KM_PAPER_LETTER ? "letter" : "a4";
}

/* 100 % x 100 mm / bar, rounded half up to a tenth. */
int32_t km_reprint_tenths(int64_t bar_nm)
{
	int64_t whole = BAR_LONG * 1000;

	if (bar_nm < whole / 2 || bar_nm > whole * 2)
		return 0;
	return (int32_t)((whole * 1000 + bar_nm / 2) / bar_nm);
}

const struct km_paper *km_paper_of(const struct km_report_options *o)
{
	static const struct km_paper papers[KM_PAPER_SIZES] = {
		[KM_PAPER_A4] = { "A4", KM_UM(210), KM_UM(297) },
		[KM_PAPER_LETTER] = { "letter", 215900, 279400 },
	};

	return &papers[o->paper < KM_PAPER_SIZES ? o->paper : KM_PAPER_A4];
}

struct km_area km_area_of(const struct km_paper *paper)
{
	return (struct km_area){ KM_EDGE, HEAD, paper->width - SIDE,
				 paper->height - FOOT };
}

static void size_of(struct km_buf *b, int64_t width, int64_t height,
		    const char *unit)
{
	km_buf_str(b, " width=\"");
	km_pen_um(b, width);
	km_buf_printf(b, "%s\" height=\"", unit);
	km_pen_um(b, height);
	km_buf_printf(b, "%s\" viewBox=\"0 0 ", unit);
	km_pen_um(b, width);
	km_buf_char(b, ' ');
	km_pen_um(b, height);
	km_buf_char(b, '"');
}

static void escaped(struct km_buf *b, const char *text)
{
	km_escape_xml(b, text, strlen(text));
}

/* ------------------------------------------------------------------ */
/* Documents                                                           */

#define STYLE \
	"svg{display:block;font-family:sans-serif}"

static void open_html(struct km_page *p, const struct km_sheet_page *s)
{
	struct km_buf title;

	km_buf_init(&title, p->mem);
	km_buf_printf(&title, "%s: %s", s->title, s->heading);
	km_html_open(p, km_buf_failed(&title) ? "" : title.text);
	p->failed |= km_buf_failed(&title);
}

static void open_svg(struct km_buf *b, const struct km_sheet_page *s)
{
	km_buf_str(b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
		   "<svg xmlns=\"http://www.w3.org/2000/svg\" lang=\"en-GB\" "
		   "role=\"img\" aria-labelledby=\"title desc\"");
	size_of(b, s->paper->width, s->paper->height * s->pages, "mm");
	km_buf_str(b, ">\n<title id=\"title\">");
	escaped(b, s->title);
	km_buf_str(b, ": ");
	escaped(b, s->heading);
	km_buf_str(b, "</title>\n<desc id=\"desc\">");
	escaped(b, s->note);
	km_buf_str(b, " To print, write it as html: a drawing alone has no "
		   "page.</desc>\n<style>" STYLE "</style>\n");
}

void km_document_open(struct km_page *p, const struct km_sheet_page *s)
{
	if (s->html)
		open_html(p, s);
	else
		open_svg(&p->out, s);
}

void km_document_close(struct km_page *p, const struct km_sheet_page *s)
{
	if (!s->html) {
		km_buf_str(&p->out, "</svg>\n");
		return;
	}
	km_buf_str(&p->out, "<div class=\"screen\">\n");
	km_html_tables(p);
	km_buf_str(&p->out, "</div>\n");
	km_html_close(p);
}

/* ------------------------------------------------------------------ */
/* A page                                                              */

static void filled(struct km_buf *b, int64_t x, int64_t y, int64_t w,
		   int64_t h)
{
	km_buf_str(b, "<rect x=\"");
	km_pen_um(b, x);
	km_buf_str(b, "\" y=\"");
	km_pen_um(b, y);
	km_buf_str(b, "\" width=\"");
	km_pen_um(b, w);
	km_buf_str(b, "\" height=\"");
	km_pen_um(b, h);
	km_buf_str(b, "\"/>\n");
}

/* Two bars of 100 mm at right angles: a printer may be true one way only. */
static void check_bars(struct km_buf *b, const struct km_paper *paper)
{
	int64_t y = paper->height - KM_UM(16), x = paper->width - KM_UM(13);
	int64_t tick = KM_UM(3), thin = KM_UM(0.3);

	filled(b, KM_EDGE, y, BAR_LONG, BAR_WIDE);
	filled(b, KM_EDGE, y - tick, thin, tick);
	filled(b, KM_EDGE + BAR_LONG - thin, y - tick, thin, tick);
	filled(b, x, HEAD, BAR_WIDE, BAR_LONG);
	filled(b, x - tick, HEAD, tick, thin);
	filled(b, x - tick, HEAD + BAR_LONG - thin, tick, thin);
	km_pen_text(b, KM_EDGE + KM_UM(2), y - KM_UM(1.4), KM_UM(3), false,
		    "print at 100 %, this bar must measure 100 mm (+-0.5)");
	km_pen_text(b, KM_EDGE, y + KM_UM(4.6), KM_UM(2.6), false,
		    "So must the bar up the right edge. Else say what it "
		    "measures: --measured-bar gives the percentage to print "
		    "again at.");
	km_pen_text(b, x - KM_UM(3), HEAD + BAR_LONG + KM_UM(4), KM_UM(3),
		    false, "100");
	km_pen_text(b, x - KM_UM(3), HEAD + BAR_LONG + KM_UM(7.6), KM_UM(3),
		    false, "mm");
}

void km_page_open(struct km_buf *b, const struct km_sheet_page *s)
{
	struct km_buf line;

	if (s->html) {
		km_buf_printf(b, "<div class=\"page\">\n<svg xmlns="
			      "\"http://www.w3.org/2000/svg\" role=\"img\" "
			      "aria-labelledby=\"%s-t%" PRIu32 " %s-d%" PRIu32
			      "\"", s->id, s->number, s->id, s->number);
		size_of(b, s->paper->width, s->paper->height, "mm");
	} else {
		km_buf_str(b, "<svg x=\"0\" y=\"");
		km_pen_um(b, s->paper->height * (s->number - 1));
		km_buf_char(b, '"');
		size_of(b, s->paper->width, s->paper->height, "");
	}
	km_buf_printf(b, ">\n<title id=\"%s-t%" PRIu32 "\">", s->id,
		      s->number);
	escaped(b, s->title);
	km_buf_printf(b, ", page %" PRIu32 " of %" PRIu32 "</title>\n<desc "
		      "id=\"%s-d%" PRIu32 "\">", s->number, s->pages, s->id,
		      s->number);
	escaped(b, s->note);
	km_buf_str(b, "</desc>\n");
	km_pen_text(b, KM_EDGE, KM_UM(15), KM_UM(5), true, s->title);
	km_buf_init(&line, b->mem);
	km_buf_printf(&line, "%s; page %" PRIu32 " of %" PRIu32 ", %s",
		      s->heading, s->number, s->pages, s->paper->word);
	km_pen_text(b, KM_EDGE, KM_UM(20.5), KM_UM(3.2), false,
		    km_buf_failed(&line) ? "" : line.text);
	b->failed |= km_buf_failed(&line);
	km_pen_text(b, KM_EDGE, KM_UM(25), KM_UM(3), false, s->note);
	check_bars(b, s->paper);
}

void km_page_close(struct km_buf *b, const struct km_sheet_page *s)
{
	km_buf_str(b, s->html ? "</svg>\n</div>\n" : "</svg>\n");
}

void km_lines_open(struct km_buf *b)
{
	km_buf_str(b, "<g fill=\"none\" stroke=\"#000\" "
		   "stroke-width=\".25\">\n");
}

void km_lines_close(struct km_buf *b)
{
	km_buf_str(b, "</g>\n");
}

uint32_t km_page_lines(struct km_buf *b, const char *text, uint32_t cells,
		       int64_t x, int64_t y, int64_t size, int64_t step)
{
	struct km_buf row;
	uint32_t n = 0;

	if (b)
		km_buf_init(&row, b->mem);
	while (*text) {
		size_t len = strlen(text), at = len;

		if (at > cells) {
			at = cells;
			while (at > 0 && text[at] != ' ')
				at--;
			if (at == 0)	/* one long word: between characters */
				for (at = cells; at > 1 &&
				     ((unsigned char)text[at] & 0xc0) == 0x80;)
					at--;
		}
		if (b) {
			km_buf_clear(&row);
			km_buf_add(&row, text, at);
			km_pen_text(b, x, y + step * n, size, false,
				    km_buf_failed(&row) ? "" : row.text);
			b->failed |= km_buf_failed(&row);
		}
		n++;
		text += at;
		while (*text == ' ')
			text++;
	}
	return n;
}

/* ------------------------------------------------------------------ */
/* Verdicts as shapes                                                  */

/* The shapes are few and small: their numbers are moved, not scaled, so that
 * nothing on the page carries a transform. */
void km_page_mark(struct km_buf *b, const struct km_slot_audit *s, int64_t x,
		  int64_t y)
{
	const char *shape = km_verdict_shape(km_slot_verdict_word(s));

	km_buf_str(b, "<svg x=\"");
	km_pen_um(b, x - KM_UM(2));
	km_buf_str(b, "\" y=\"");
	km_pen_um(b, y - KM_UM(2));
	km_buf_printf(b, "\" width=\"4\" height=\"4\" viewBox=\"-2 -2 4 4\">"
		      "<path fill=\"#000\" stroke=\"none\" "
		      "fill-rule=\"evenodd\" d=\"%s\"/></svg>\n",
		      shape ? shape : "");
}
