/* SPDX-License-Identifier: MIT */
/*
 * size-strip - the jaws still wanted, each as two edges at true size: the
 * least opening and the most.  For the stall: it sorts, it does not gauge.
 */
#include "report/outline.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "report/words.h"
#include "unit/length.h"

#define STEP KM_UM(15)
#define TALL KM_UM(4.5)		/* of each of the two edges */
#define TEXT_AT KM_UM(62)

struct jaw {
	const struct km_size *size;
	const struct km_slot *slot;
	uint32_t order;			/* of the slot in the run */
};

struct strip {
	struct km_page *p;
	struct jaw *v;
	uint32_t n;
	bool html;
};

static bool wanted(const struct km_slot_audit *s)
{
	return !s->slot->unused && (!s->firm || s->verdict != KM_RIGHT) &&
	       s->slot->want[KM_A_SIZES].state == KM_WANT_ANY_OF;
}

static bool has_limits(const struct km_size *s)
{
	return km_size_is_hexagon(s) && s->opening.basis != KM_BASIS_NONE &&
	       s->opening.min_nm > 0 && s->opening.max_nm > 0;
}

static bool is_sure(const struct km_size *s)
{
	return s->opening.basis == KM_BASIS_PUBLISHED ||
	       s->opening.basis == KM_BASIS_COMPUTED;
}

/* The jaws of one slot; v NULL: only count. */
static uint32_t jaws_of(const struct km_slot_audit *s, uint32_t order,
			struct jaw *v)
{
	const struct km_want *w = &s->slot->want[KM_A_SIZES];
	uint32_t n = 0;

	for (uint32_t i = 0; wanted(s) && i < w->n; i++)
		for (uint32_t k = 0; k < w->any[i].sizes.n; k++) {
			const struct km_size *size = w->any[i].sizes.v[k];

			if (!has_limits(size))
				continue;
			if (v)
				v[n] = (struct jaw){ size, s->slot, order };
			n++;
		}
	return n;
}

static uint32_t jaws_of_all(const struct km_audit *a, struct jaw *v)
{
	uint32_t n = 0, order = 0;

	for (uint32_t i = 0; i < a->n_kits; i++)
		for (uint32_t k = 0; k < a->kits[i].kit->n_slots; k++)
			n += jaws_of(&a->kits[i].slots[k], order++,
				     v ? v + n : NULL);
	return n;
}

static int by_opening(const void *a, const void *b)
{
	const struct jaw *x = a, *y = b;
	int c = (x->size->opening.min_nm > y->size->opening.min_nm) -
		(x->size->opening.min_nm < y->size->opening.min_nm);

	if (!c)
		c = km_size_compare(x->size, y->size);
	return c ? c : (x->order > y->order) - (x->order < y->order);
}

static void add_limit(struct km_buf *b, const char *what, int64_t nm)
{
	int64_t tenth_mils = (nm + 1270) / 2540;

	km_buf_printf(b, "%s ", what);
	km_buf_mm_fixed(b, nm, 2);
	km_buf_printf(b, " mm (%" PRId64 ".%04" PRId64 " in)",
		      tenth_mils / 10000, tenth_mils % 10000);
}

static void line(struct strip *s, int64_t x, int64_t y, int64_t size,
		 bool bold)
{
	struct km_buf *b = &s->p->line;

	if (b->len && !km_buf_failed(b))
		km_pen_text(&s->p->out, x, y, size, bold, b->text);
	km_buf_clear(b);
}

/* The slots that want a jaw, from the i-th on while the size is the same. */
static uint32_t add_slots(struct strip *s, uint32_t i)
{
	uint32_t n = i;

	for (; n < s->n && !km_size_compare(s->v[n].size, s->v[i].size); n++)
		if (n == i || s->v[n].slot != s->v[n - 1].slot) {
			km_buf_str(&s->p->line, n == i ? "for " : ", ");
			km_words_slot_ref(&s->p->line, s->v[n].slot,
					  s->p->audit->n_kits > 1 ? NULL
					  : s->v[n].slot->kit);
		}
	return n;
}

/* The same in words, for who cannot see the drawing. */
static void list(struct strip *s)
{
	enum { SIZE, LEAST, MOST, SURE, SLOTS, COLUMNS };
	static const struct km_column columns[COLUMNS] = {
		[SIZE] = { NULL, "size", KM_COL_ID, false },
		[LEAST] = { NULL, "least, mm", KM_COL_MM, false },
		[MOST] = { NULL, "most, mm", KM_COL_MM, false },
		[SURE] = { NULL, "from", KM_COL_WORD, false },
		[SLOTS] = { NULL, "slots", KM_COL_TEXT, false },
	};
	struct km_table *t = km_page_table(s->p, "jaws", columns, COLUMNS);

	for (uint32_t i = 0; t && i < s->n;) {
		const struct km_size *size = s->v[i].size;

		km_table_row(t);
		km_buf_printf(&s->p->line, "%s%s%s", size->text,
			      size->second ? ", " : "",
			      size->second ? size->second : "");
		km_put_buf(t, SIZE, &s->p->line);
		km_put_int(t, LEAST, size->opening.min_nm);
		km_put_int(t, MOST, size->opening.max_nm);
		km_put_word(t, SURE, is_sure(size) ? "tables" : "estimated",
			    KM_TONE_NONE);
		i = add_slots(s, i);
		km_put_buf(t, SLOTS, &s->p->line);
	}
}

/* One jaw: the upper edge is the least opening, the lower the most. */
static uint32_t draw_jaw(struct strip *s, uint32_t i, struct km_area area,
			 int64_t y)
{
	const struct km_size *size = s->v[i].size;
	int64_t least = (size->opening.min_nm + 500) / 1000;
	int64_t most = (size->opening.max_nm + 500) / 1000;
	struct km_pen pen = { .b = &s->p->out, .x = area.left, .y = y };
	int64_t x = area.left + (most + KM_UM(4) > TEXT_AT ? most + KM_UM(4)
							   : TEXT_AT);
	bool sure = is_sure(size);

	km_lines_open(&s->p->out);
	km_pen_box(&pen, sure ? KM_KNOWN_RECORDED : KM_KNOWN_TYPICAL, 0, 0,
		   least, TALL);
	km_pen_box(&pen, sure ? KM_KNOWN_RECORDED : KM_KNOWN_TYPICAL, 0, TALL,
		   most, 2 * TALL);
	km_lines_close(&s->p->out);
	km_buf_printf(&s->p->line, "%s%s%s", size->text,
		      size->second ? ", " : "",
		      size->second ? size->second : "");
	line(s, x, y + KM_UM(3.4), KM_UM(3.6), true);
	add_limit(&s->p->line, "least", size->opening.min_nm);
	add_limit(&s->p->line, ", most", size->opening.max_nm);
	if (!sure)
		km_buf_str(&s->p->line, " estimated");
	line(s, x, y + KM_UM(7.6), KM_UM(2.8), false);
	i = add_slots(s, i);
	line(s, x, y + KM_UM(11.4), KM_UM(2.8), false);
	return i;
}

static uint32_t different(const struct strip *s)
{
	uint32_t n = 0;

	for (uint32_t i = 0; i < s->n; i++)
		n += i == 0 || km_size_compare(s->v[i].size, s->v[i - 1].size);
	return n;
}

static void write_pages(struct strip *s)
{
	struct km_sheet_page g = { .paper = km_paper_of(&s->p->o),
		.id = s->p->sheet, .title = "Jaws wanted", .number = 1,
		.html = s->html,
		.heading = "openings of spanners at true size",
		.note = "Upper edge: the least opening; lower edge: the most. "
			"Paper is true to about 0.5 mm: it sorts, a calliper "
			"decides." };
	struct km_area area = km_area_of(g.paper);
	uint32_t a_page = (uint32_t)((area.bottom - area.top - KM_UM(2)) /
				     STEP);
	uint32_t i = 0;

	g.pages = (different(s) + a_page - 1) / a_page;
	if (!g.pages)
		g.pages = 1;
	km_document_open(s->p, &g);
	for (; g.number <= g.pages; g.number++) {
		int64_t y = area.top + KM_UM(2);

		km_page_open(&s->p->out, &g);
		if (!s->n)
			km_pen_text(&s->p->out, area.left, y + KM_UM(4),
				    KM_UM(3.6), true, "No jaw is wanted.");
		for (uint32_t k = 0; k < a_page && i < s->n; k++, y += STEP)
			i = draw_jaw(s, i, area, y);
		km_page_close(&s->p->out, &g);
	}
	if (s->html)
		list(s);
	km_document_close(s->p, &g);
}

static void draw(struct km_page *p, bool html)
{
	struct strip s = { .p = p, .html = html };

	s.n = jaws_of_all(p->audit, NULL);
	s.v = km_arena_alloc(p->mem, s.n, sizeof *s.v);
	if (!s.v) {
		p->failed = true;
		return;
	}
	(void)jaws_of_all(p->audit, s.v);
	qsort(s.v, s.n, sizeof *s.v, by_opening);
	write_pages(&s);
}

void km_draw_strip(struct km_page *p)
{
	draw(p, false);
}

void km_html_strip(struct km_page *p)
{
	draw(p, true);
}
