/* SPDX-License-Identifier: MIT */
/*
 * outline - every tool of a kit at its true size, on as many pages as it
 * takes.  A tool longer than the paper is wide stands upright; one longer
 * than the paper comes in parts with marks to lay on each other.
 */
#include "report/outline.h"

#include <inttypes.h>

#include "report/words.h"
#include "unit/length.h"

#define CELLS 122		/* of a line of 3 mm text, 180 mm */
#define ROW KM_UM(4)
#define GAP KM_UM(4)
#define UNDER KM_UM(9)		/* the line that says the length */
#define OVERLAP KM_UM(10)	/* of two parts */
#define PARTS_MOST 40

/* One thing on a page: a tool, a part of one, or what is not drawn. */
struct band {
	const struct km_slot_audit *slot;
	struct km_outline o;
	const char *head, *verdict, *measures;
	uint32_t page;			/* from 0 */
	int64_t y, height;		/* on the page */
	uint32_t part, parts;		/* from 0 */
	bool drawn, upright, too_large;
};

struct book {
	struct km_page *p;
	const struct km_paper *paper;
	struct km_area area;
	struct band *bands;
	uint32_t n, room;
	uint32_t *kit_of;		/* a page's kit */
	uint32_t pages;
	bool html;
};

/* ------------------------------------------------------------------ */
/* What is said of a tool                                              */

static const char *kept(struct km_page *p)
{
	const char *text = "";

	if (p->line.len)
		text = km_arena_text(p->mem, p->line.text, p->line.len);
	if (!text)
		p->failed = true;
	km_buf_clear(&p->line);
	return text ? text : "";
}

static const char *head_of(struct km_page *p, const struct km_slot_audit *s)
{
	km_buf_printf(&p->line, "%s  ", s->slot->id);
	km_words_of_slot(&p->line, s->slot, true);
	if (s->slot->count > 1)
		km_buf_printf(&p->line, ", %" PRId32 " pieces",
			      s->slot->count);
	return kept(p);
}

static const char *verdict_of(struct km_page *p, const struct km_slot_audit *s)
{
	const struct km_want *mark = &s->slot->want[KM_A_MARK];
	struct km_buf *b = &p->line;

	km_buf_str(b, km_slot_verdict_word(s));
	if (s->worst && s->worst->tool)
		km_buf_printf(b, ": %s", km_match_id(s->worst));
	if (mark->state == KM_WANT_ANY_OF) {
		km_buf_str(b, "; mark ");
		km_words_wanted_of(b, s->slot, KM_A_MARK);
		if (mark->where)
			km_buf_printf(b, " on the %s", mark->where);
	} else if (mark->state == KM_WANT_NONE) {
		km_buf_str(b, "; unmarked");
	}
	return kept(p);
}

static void say(struct book *k, struct band *b)
{
	struct km_page *p = k->p;

	b->head = head_of(p, b->slot);
	b->verdict = verdict_of(p, b->slot);
	if (b->drawn)
		km_outline_words(&p->line, &b->o);
	else
		km_buf_str(&p->line, b->too_large
			? "not drawn: too large for the paper"
			: "not drawn: the kit states no length");
	if (b->upright)
		km_buf_str(&p->line, "; upright");
	if (b->parts > 1)
		km_buf_printf(&p->line, "; part %" PRIu32 " of %" PRIu32
			      ": lay the crosses on each other", b->part + 1,
			      b->parts);
	b->measures = kept(p);
}

static uint32_t rows(const struct band *b)
{
	return km_page_lines(NULL, b->head, CELLS * 8 / 10, 0, 0, 0, 0) +
	       km_page_lines(NULL, b->verdict, CELLS, 0, 0, 0, 0) +
	       km_page_lines(NULL, b->measures, CELLS, 0, 0, 0, 0);
}

/* ------------------------------------------------------------------ */
/* Which page                                                          */

static int64_t side_at(struct km_reach r)
{
	return r.down + GAP + r.side / 2;
}

static int64_t depth_of(struct km_reach r)
{
	return r.up + side_at(r) + r.side / 2 + UNDER;
}

static int64_t part_long(const struct book *k)
{
	return k->area.right - k->area.left - OVERLAP;
}

static void choose_parts(const struct book *k, struct band *b)
{
	struct km_reach r = km_outline_reach(&b->o);
	int64_t across = k->area.right - k->area.left;
	int64_t down = k->area.bottom - k->area.top - 6 * ROW;
	int64_t length = b->o.length.um;

	b->parts = 1;
	if (length <= across)
		return;
	if (length <= down && depth_of(r) <= across) {
		b->upright = true;
		return;
	}
	b->parts = (uint32_t)((length - OVERLAP + part_long(k) - 1) /
			      part_long(k));
}

static struct band *add_band(struct book *k)
{
	if (k->n == k->room) {
		uint32_t more = k->room ? 2 * k->room : 32;
		struct band *v = km_arena_alloc(k->p->mem, more, sizeof *v);

		if (!v) {
			k->p->failed = true;
			return NULL;
		}
		for (uint32_t i = 0; i < k->n; i++)
			v[i] = k->bands[i];
		k->bands = v;
		k->room = more;
	}
	return &k->bands[k->n++];
}

/* Room for a band on the page that is begun, else a new page; y moves on. */
static void place(const struct book *k, struct band *b, uint32_t *page,
		  int64_t *y)
{
	int64_t top = k->area.top + KM_UM(2);

	b->height = (int64_t)rows(b) * ROW + KM_UM(3);
	if (b->drawn && b->upright)
		b->height = k->area.bottom - top;
	else if (b->drawn)
		b->height += depth_of(km_outline_reach(&b->o));
	if (*y + b->height > k->area.bottom && *y > top) {
		*y = top;
		++*page;
	}
	b->page = *page;
	b->y = *y;
	*y += b->height + KM_UM(2);
}

/* upright: only what stands upright; else only the rest. */
static void plan_slot(struct book *k, const struct km_slot_audit *s,
		      bool upright, uint32_t *page, int64_t *y)
{
	struct band first = { .slot = s, .parts = 1 };

	if (s->slot->unused)
		return;
	first.drawn = km_outline_of_slot(s->slot, &first.o);
	if (first.drawn)
		choose_parts(k, &first);
	if (first.drawn && (first.parts > PARTS_MOST ||
			    depth_of(km_outline_reach(&first.o)) >
			    k->area.bottom - k->area.top - 6 * ROW)) {
		first.drawn = first.upright = false;
		first.too_large = true;
		first.parts = 1;
	}
	if (first.upright != upright)
		return;
	for (uint32_t i = 0; i < first.parts; i++) {
		struct band *b = add_band(k);

		if (!b)
			return;
		*b = first;
		b->part = i;
		say(k, b);
		place(k, b, page, y);
	}
}

/* Every kit begins a page; what stands upright comes last. */
static bool plan(struct book *k)
{
	const struct km_audit *a = k->p->audit;
	uint32_t page = 0;

	for (uint32_t i = 0; i < a->n_kits; i++) {
		int64_t y = k->area.top + KM_UM(2);

		for (int up = 0; up < 2; up++)
			for (uint32_t n = 0; n < a->kits[i].kit->n_slots; n++)
				plan_slot(k, &a->kits[i].slots[n], up, &page,
					  &y);
		page++;
	}
	k->pages = page;
	k->kit_of = km_arena_alloc(k->p->mem, page, sizeof *k->kit_of);
	if (!k->kit_of || k->p->failed)
		return false;
	page = 0;
	for (uint32_t i = 0, n = 0; i < a->n_kits; i++, page++) {
		k->kit_of[page] = i;
		for (; n < k->n && k->bands[n].slot->slot->kit ==
				   a->kits[i].kit; n++)
			while (page < k->bands[n].page)
				k->kit_of[++page] = i;
	}
	return true;
}

/* ------------------------------------------------------------------ */
/* Ink                                                                 */

/* The length with its ends, on the line under the tool; `y` from its axis. */
static void draw_length(const struct km_pen *p, const struct km_outline *o,
			int64_t y)
{
	int64_t tick = KM_UM(1.5);

	km_pen_stroke(p, o->length.known, 0, y, o->length.um, y);
	km_pen_stroke(p, KM_KNOWN_RECORDED, 0, y - tick, 0, y + tick);
	km_pen_stroke(p, KM_KNOWN_RECORDED, o->length.um, y - tick,
		      o->length.um, y + tick);
}

static void label_length(struct km_page *page, const struct km_outline *o,
			 int64_t x, int64_t y)
{
	km_buf_mm(&page->line, o->length.um * 1000, 1);
	km_buf_str(&page->line, " mm");
	if (!km_buf_failed(&page->line))
		km_pen_text(&page->out, x, y, KM_UM(3), false,
			    page->line.text);
	km_buf_clear(&page->line);
}

static void draw_tool(struct km_page *p, const struct band *b, int64_t x,
		      int64_t y, bool upright)
{
	struct km_reach r = km_outline_reach(&b->o);
	struct km_pen pen = { .b = &p->out, .x = x, .y = y,
			      .upright = upright };

	km_lines_open(&p->out);
	km_outline_draw(&pen, &b->o, side_at(r));
	draw_length(&pen, &b->o, side_at(r) + r.side / 2 + KM_UM(3));
	km_lines_close(&p->out);
}

/* A cross where two parts meet. */
static void cross(struct km_page *p, int64_t x, int64_t y)
{
	struct km_pen pen = { .b = &p->out };
	int64_t arm = KM_UM(2.5);

	km_pen_stroke(&pen, KM_KNOWN_RECORDED, x - arm, y, x + arm, y);
	km_pen_stroke(&pen, KM_KNOWN_RECORDED, x, y - arm, x, y + arm);
}

/* A window on the tool, as wide as the area; the marks at each seam lie in
 * both parts at the same place of the tool. */
static void draw_part(struct book *k, const struct band *b, int64_t top,
		      int64_t height)
{
	struct km_reach r = km_outline_reach(&b->o);
	struct km_buf *out = &k->p->out;
	int64_t from = part_long(k) * b->part;
	int64_t wide = k->area.right - k->area.left;

	km_buf_str(out, "<svg x=\"");
	km_pen_um(out, k->area.left);
	km_buf_str(out, "\" y=\"");
	km_pen_um(out, top);
	km_buf_str(out, "\" width=\"");
	km_pen_um(out, wide);
	km_buf_str(out, "\" height=\"");
	km_pen_um(out, height);
	km_buf_str(out, "\" viewBox=\"");
	km_pen_um(out, from);
	km_buf_str(out, " 0 ");
	km_pen_um(out, wide);
	km_buf_char(out, ' ');
	km_pen_um(out, height);
	km_buf_str(out, "\">\n");
	draw_tool(k->p, b, 0, r.up, false);
	km_lines_open(out);
	for (uint32_t seam = 1; seam < b->parts; seam++) {
		int64_t x = part_long(k) * seam + OVERLAP / 2;

		cross(k->p, x, KM_UM(2.6));
		cross(k->p, x, height - KM_UM(2.6));
	}
	km_lines_close(out);
	km_buf_str(out, "</svg>\n");
}

static int64_t draw_words(struct book *k, const struct band *b)
{
	struct km_buf *out = &k->p->out;
	int64_t x = k->area.left, y = b->y + KM_UM(3.2);

	y += ROW * km_page_lines(out, b->head, CELLS * 8 / 10, x, y,
				 KM_UM(3.5), ROW);
	km_page_mark(out, b->slot, x + KM_UM(2), y - KM_UM(1.1));
	y += ROW * km_page_lines(out, b->verdict, CELLS, x + KM_UM(6), y,
				 KM_UM(3), ROW);
	y += ROW * km_page_lines(out, b->measures, CELLS, x, y, KM_UM(3),
				 ROW);
	return y - KM_UM(2);
}

static void draw_band(struct book *k, const struct band *b)
{
	int64_t y = draw_words(k, b);
	struct km_reach r;

	if (!b->drawn)
		return;
	r = km_outline_reach(&b->o);
	if (b->upright) {
		int64_t x = k->area.left + UNDER + side_at(r) + r.side / 2;

		draw_tool(k->p, b, x, y + KM_UM(1), true);
		label_length(k->p, &b->o, k->area.left,
			     y + KM_UM(5) + b->o.length.um);
	} else if (b->parts > 1) {
		draw_part(k, b, y, depth_of(r));
	} else {
		draw_tool(k->p, b, k->area.left, y + r.up, false);
		label_length(k->p, &b->o, k->area.left + KM_UM(2),
			     y + depth_of(r) - UNDER + KM_UM(6.6));
	}
}

/* The same in words, for who cannot see the drawing. */
static void list(struct book *k)
{
	enum { SLOT, VERDICT, TOOL, LENGTH, DRAWN, COLUMNS };
	static const struct km_column columns[COLUMNS] = {
		[SLOT] = { NULL, "slot", KM_COL_ID, false },
		[VERDICT] = { NULL, "verdict", KM_COL_WORD, false },
		[TOOL] = { NULL, "tool and size", KM_COL_TEXT, false },
		[LENGTH] = { NULL, "length, mm", KM_COL_MM, false },
		[DRAWN] = { NULL, "as drawn", KM_COL_TEXT, false },
	};
	struct km_table *t = km_page_table(k->p, "tools", columns, COLUMNS);
	const struct km_kit *kit = NULL;

	for (uint32_t i = 0; t && i < k->n; i++) {
		const struct band *b = &k->bands[i];
		const struct km_slot *s = b->slot->slot;

		if (b->part)
			continue;
		if (s->kit != kit && k->p->audit->n_kits > 1)
			km_table_section(t, s->kit->title ? s->kit->title
							  : s->kit->id);
		kit = s->kit;
		km_table_row(t);
		km_put_text(t, SLOT, s->id);
		km_put_word(t, VERDICT, km_slot_verdict_word(b->slot),
			    km_slot_tone(b->slot));
		km_words_of_slot(&k->p->line, s, true);
		km_put_buf(t, TOOL, &k->p->line);
		if (b->drawn)
			km_put_int(t, LENGTH, b->o.length.um * 1000);
		km_put_text(t, DRAWN, b->measures);
	}
}

static const char note[] =
	"Solid lines are as the kit states them; dashed ones are typical or "
	"assumed. Paper is true to about 0.5 mm.";

static void draw_page(struct book *k, uint32_t page, uint32_t *band)
{
	const struct km_audit *a = k->p->audit;
	const struct km_kit_audit *kit = &a->kits[k->kit_of[page]];
	struct km_sheet_page s = {
		.paper = k->paper, .note = note, .id = k->p->sheet, .number = page + 1,
		.pages = k->pages, .html = k->html,
		.title = kit->kit->title ? kit->kit->title : kit->kit->id,
		.heading = "tools at true size" };

	if (page == 0)
		km_document_open(k->p, &s);
	km_page_open(&k->p->out, &s);
	while (*band < k->n && k->bands[*band].page == page)
		draw_band(k, &k->bands[(*band)++]);
	km_page_close(&k->p->out, &s);
	if (page + 1 < k->pages)
		return;
	if (k->html)
		list(k);
	km_document_close(k->p, &s);
}

static void draw(struct km_page *p, bool html)
{
	struct book k = { .p = p, .html = html,
			  .paper = km_paper_of(&p->o) };
	uint32_t band = 0;

	k.area = km_area_of(k.paper);
	if (!plan(&k)) {
		p->failed = true;
		return;
	}
	for (uint32_t page = 0; page < k.pages; page++)
		draw_page(&k, page, &band);
}

void km_draw_outline(struct km_page *p)
{
	draw(p, false);
}

void km_html_outline(struct km_page *p)
{
	draw(p, true);
}
