/* SPDX-License-Identifier: MIT */
/*
 * gauge - what an opening is, and what it turns.
 */
#include "report/page.h"
#include "report/words.h"

#include "trade/gauge.h"
#include "unit/length.h"

enum { R_ASKED, R_READING, R_UNDECIDED, R_COLUMNS };

static const struct km_column reading_columns[R_COLUMNS] = {
	[R_ASKED] = { "asked", NULL, KM_COL_ID, false },
	[R_READING] = { "opening_mm", NULL, KM_COL_MM, false },
	[R_UNDECIDED] = { "undecided", NULL, KM_COL_FLAG, false },
};

/* What the opening is; the grid of heads follows as a table of its own. */
enum { A_WHAT, A_SIZE, A_OVER, A_LIMIT, A_SAYS, A_COLUMNS };

static const struct km_column answer_columns[A_COLUMNS] = {
	[A_WHAT] = { "what", "it is", KM_COL_WORD, false },
	[A_SIZE] = { "size", "size", KM_COL_ID, false },
	[A_OVER] = { "over_nominal_mm", NULL, KM_COL_MM, false },
	[A_LIMIT] = { "over_limit_mm", NULL, KM_COL_MM, false },
	[A_SAYS] = { NULL, "says", KM_COL_TEXT, false },
};

enum { H_SIZE, H_WIDTH, H_VERDICT, H_SHARE, H_WORST, H_MID, H_SWING,
       H_DEGREES, H_BASIS, H_LENIENT, H_COLUMNS };

static const struct km_column head_columns[H_COLUMNS] = {
	[H_SIZE] = { "size", "head", KM_COL_ID, false },
	[H_WIDTH] = { "width_mm", "mm", KM_COL_MM, false },
	[H_VERDICT] = { "verdict", "verdict", KM_COL_WORD, false },
	[H_SHARE] = { "share", "share", KM_COL_THOUSANDTHS, false },
	[H_WORST] = { "worst_bite", "bite", KM_COL_THOUSANDTHS, false },
	[H_MID] = { "mid_bite", NULL, KM_COL_THOUSANDTHS, false },
	[H_SWING] = { "swing_tenths", NULL, KM_COL_COUNT, false },
	[H_DEGREES] = { NULL, "swing", KM_COL_ID, false },
	[H_BASIS] = { "basis", "limits", KM_COL_WORD, false },
	[H_LENIENT] = { "lenient", NULL, KM_COL_FLAG, false },
};

static const char *serve_word(enum km_serve s)
{
	static const char *const word[] = {
		[KM_SERVES] = "serves", [KM_SERVE_LOOSE] = "loose",
		[KM_SERVE_ROUNDS] = "rounds the corners",
		[KM_SERVE_TIGHT] = "tight, some heads only",
		[KM_SERVE_NOT_ON] = "does not go on",
		[KM_SERVE_UNKNOWN] = "not known",
	};

	return word[s];
}

static enum km_tone serve_tone(enum km_serve s)
{
	if (s == KM_SERVES)
		return KM_TONE_GOOD;
	return s == KM_SERVE_LOOSE || s == KM_SERVE_TIGHT ? KM_TONE_WORK
							  : KM_TONE_OPEN;
}

static const char *basis_word(enum km_basis b)
{
	static const char *const word[] = {
		[KM_BASIS_PUBLISHED] = "published",
		[KM_BASIS_COMPUTED] = "computed",
		[KM_BASIS_ESTIMATED] = "estimated",
		[KM_BASIS_MEMORY] = "from memory",
		[KM_BASIS_NONE] = "none",
	};

	return word[b];
}

static void add_size(struct km_buf *b, const struct km_size *s)
{
	km_buf_str(b, s->text);
	if (s->second)
		km_buf_printf(b, " %s", s->second);
}

static void put_size(struct km_page *p, struct km_table *t, uint32_t column,
		     const struct km_size *s)
{
	add_size(&p->line, s);
	km_put_buf(t, column, &p->line);
}

static void answer(struct km_page *p, struct km_table *t, const char *what,
		   const struct km_size *s)
{
	km_table_row(t);
	km_put_word(t, A_WHAT, what, KM_TONE_NONE);
	put_size(p, t, A_SIZE, s);
}

static void put_over(struct km_page *p, struct km_table *t, int64_t nominal,
		     int64_t limit)
{
	km_put_int(t, A_OVER, nominal);
	km_put_int(t, A_LIMIT, limit);
	km_buf_mm(&p->line, nominal, 3);
	km_buf_str(&p->line, " mm over the nominal, ");
	km_buf_mm(&p->line, limit, 3);
	km_buf_str(&p->line, " over the greatest opening");
	km_put_buf(t, A_SAYS, &p->line);
}

static void put_near(struct km_page *p, struct km_table *t,
		     const struct km_gauge_near *n)
{
	if (n->below) {
		answer(p, t, "near", n->below);
		km_put_int(t, A_OVER, n->over_below_nm);
		km_buf_mm(&p->line, n->over_below_nm, 3);
		km_buf_str(&p->line, n->over_below_nm ? " mm wider than that"
						      : " mm off");
		km_put_buf(t, A_SAYS, &p->line);
	}
	if (n->above) {
		answer(p, t, "near", n->above);
		km_put_int(t, A_OVER, -n->under_above_nm);
		km_buf_mm(&p->line, n->under_above_nm, 3);
		km_buf_str(&p->line, " mm narrower than that");
		km_put_buf(t, A_SAYS, &p->line);
	}
}

static void reading_section(struct km_page *p, struct km_table *t,
			    const struct km_gauge *g)
{
	if (g->asked) {
		km_buf_str(&p->line, "a sound ");
		add_size(&p->line, g->asked);
		km_buf_str(&p->line, " jaw, opening ");
	} else {
		km_buf_str(&p->line, "opening ");
	}
	km_buf_mm(&p->line, g->reading.nm, 3);
	km_buf_str(&p->line, " mm");
	if (!km_buf_failed(&p->line))
		km_table_section(t, p->line.text);
	km_buf_clear(&p->line);
}

static void put_answers(struct km_page *p, struct km_table *t,
			const struct km_gauge *g)
{
	for (uint32_t i = 0; i < g->n_inside; i++)
		answer(p, t, "within limits", g->inside[i]);
	for (uint32_t i = 0; g->n_inside != 1 && i < g->n_may_be; i++) {
		answer(p, t, g->undecided ? "undecided" : "taken for",
		       g->may_be[i]);
		if (g->undecided)
			km_put_text(t, A_SAYS, "read the mark or use a gauge");
	}
	for (uint32_t i = 0; i < g->n_spread; i++) {
		answer(p, t, "spread", g->spread[i].size);
		put_over(p, t, g->spread[i].over_nominal_nm,
			 g->spread[i].over_limit_nm);
	}
	for (int i = 0; i < KM_GAUGE_SYSTEMS; i++)
		put_near(p, t, &g->near[i]);
}

static void put_head(struct km_page *p, struct km_table *t,
		     const struct km_gauge_head *h)
{
	km_table_row(t);
	put_size(p, t, H_SIZE, h->size);
	km_put_int(t, H_WIDTH, h->size->nominal_nm);
	km_put_word(t, H_VERDICT, serve_word(h->fit.verdict),
		    serve_tone(h->fit.verdict));
	km_put_int(t, H_SHARE, h->fit.share_thousandths);
	km_put_int(t, H_WORST, h->fit.worst_thousandths);
	km_put_int(t, H_MID, h->fit.mid_thousandths);
	km_put_int(t, H_SWING, h->fit.swing_tenths);
	/* tenths of a degree, printed by the rule for tenths of a mm */
	km_buf_mm_fixed(&p->line, h->fit.swing_tenths * (KM_NM_PER_MM / 10),
			1);
	km_buf_str(&p->line, " deg");
	km_put_buf(t, H_DEGREES, &p->line);
	km_put_word(t, H_BASIS, basis_word(h->fit.basis), KM_TONE_NONE);
	km_put_int(t, H_LENIENT, h->fit.lenient);
}

void km_make_gauge(struct km_page *p, const struct km_gauge *g)
{
	struct km_table *reading = km_page_table(p, "reading", reading_columns,
						 R_COLUMNS);
	struct km_table *answers = km_page_table(p, "opening", answer_columns,
						 A_COLUMNS);
	struct km_table *heads = km_page_table(p, "heads", head_columns,
					       H_COLUMNS);

	if (!reading || !answers || !heads)
		return;
	reading_section(p, reading, g);
	km_table_row(reading);
	if (!reading->failed)
		reading->last->show = KM_SHOW_DATA;
	if (g->asked)
		put_size(p, reading, R_ASKED, g->asked);
	km_put_int(reading, R_READING, g->reading.nm);
	km_put_int(reading, R_UNDECIDED, g->undecided);
	put_answers(p, answers, g);
	for (uint32_t i = 0; i < g->n_heads; i++)
		put_head(p, heads, &g->heads[i]);
	if (!g->n_heads)
		km_table_section(heads, "it turns no head of the tables");
}
