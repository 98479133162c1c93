/* SPDX-License-Identifier: MIT */
/*
 * evidence - for a judge: each claim that will be queried, what speaks for
 * it and against it, and room to tick that a copy is attached.  Facts only.
 */
#include "report/page.h"
#include "report/words.h"

#include <inttypes.h>

#include "kitmuster/evidence.h"
#include "read/attr.h"

enum {
	KIT, SLOT, ALIKE, CLAIM, VALUE, CERTAINTY, BY, SUPPORTS, QUERIED, OVERSTATED,
	OUTWEIGHED, MENTIONS, DEPENDENT, ROOTS, MENTIONS_AGAINST,
	ROOTS_AGAINST, ROOTS_SILENT, SAYS, SOURCE, WHAT, COPY, TITLE, DATED,
	PAGE, DEPENDS_ON, STRONG, OTHER_YEARS, LINES, COLUMNS
};

static const struct km_column columns[COLUMNS] = {
	[KIT] = { "kit", "kit", KM_COL_ID, true },
	[SLOT] = { "slot", "slot", KM_COL_ID, true },
	[ALIKE] = { "slots_alike", NULL, KM_COL_LIST, false },
	[CLAIM] = { "claim", "claim", KM_COL_WORD, true },
	[VALUE] = { "value", NULL, KM_COL_TEXT, false },
	[CERTAINTY] = { "certainty", "certainty", KM_COL_WORD, true },
	[BY] = { "certainty_from", NULL, KM_COL_WORD, false },
	[SUPPORTS] = { "supports", NULL, KM_COL_WORD, false },
	[QUERIED] = { "queried", NULL, KM_COL_FLAG, false },
	[OVERSTATED] = { "stated_surer", NULL, KM_COL_FLAG, false },
	[OUTWEIGHED] = { "outweighed", NULL, KM_COL_FLAG, false },
	[MENTIONS] = { "mentions", NULL, KM_COL_COUNT, false },
	[DEPENDENT] = { "dependent", NULL, KM_COL_COUNT, false },
	[ROOTS] = { "roots", NULL, KM_COL_COUNT, false },
	[MENTIONS_AGAINST] = { "mentions_against", NULL, KM_COL_COUNT, false },
	[ROOTS_AGAINST] = { "roots_against", NULL, KM_COL_COUNT, false },
	[ROOTS_SILENT] = { "roots_silent", NULL, KM_COL_COUNT, false },
	[SAYS] = { "says", "says", KM_COL_WORD, false },
	[SOURCE] = { "source", "source", KM_COL_ID, false },
	[WHAT] = { "source_kind", "kind", KM_COL_WORD, false },
	[COPY] = { NULL, "copy", KM_COL_WORD, false },
	[TITLE] = { "title", NULL, KM_COL_TEXT, false },
	[DATED] = { "dated", NULL, KM_COL_TEXT, false },
	[PAGE] = { "page", NULL, KM_COL_TEXT, false },
	[DEPENDS_ON] = { "depends_on", NULL, KM_COL_LIST, false },
	[STRONG] = { "strong_on_it", NULL, KM_COL_FLAG, false },
	[OTHER_YEARS] = { "other_years", NULL, KM_COL_FLAG, false },
	[LINES] = { NULL, "title, date, page", KM_COL_LIST, false },
};

#define TICK "[ ]"
#define ALIKE_SHOWN 7		/* slots of one row, in text, beyond the first */

struct maker {
	struct km_page *p;
	struct km_table *t;
	struct km_buf *b;
	bool shown;			/* in text */
};

static void section(struct maker *m)
{
	if (m->shown)
		km_put_section(m->t, m->b);
	km_buf_clear(m->b);
}

static const char *claim_key(const struct km_claim_audit *c)
{
	return c->attr == KM_ATTRS ? "exists" : km_attr_field(c->attr)->key;
}

/* "handle colour" */
static const char *claim_word(const struct km_claim_audit *c)
{
	for (int a = 0; a < KM_ASPECTS; a++)
		if (km_aspect_attr((enum km_aspect)a) == c->attr)
			return km_aspect_word((enum km_aspect)a);
	return claim_key(c);
}

static const char *const sure_by[] = {
	[KM_SURE_BY_WORD] = "on the file's word",
	[KM_SURE_BY_STATEMENT] = "stated",
	[KM_SURE_BY_SOURCES] = "by its sources",
	[KM_SURE_BY_SLOT] = "as its slot",
};

/* "S-07 handle colour amber: possible, stated; for 1" */
static void head(struct maker *m, const struct km_claim_audit *c)
{
	km_buf_str(m->b, c->slot->id);
	for (uint32_t i = 0; i < c->n_alike && i < ALIKE_SHOWN; i++)
		km_buf_printf(m->b, ", %s", c->alike[i]->id);
	if (c->n_alike > ALIKE_SHOWN)
		km_buf_printf(m->b, " and %" PRIu32 " more",
			      c->n_alike - ALIKE_SHOWN);
	if (c->attr == KM_ATTRS && c->n_alike) {
		km_buf_str(m->b, ", each in the kit");
	} else if (c->attr == KM_ATTRS) {
		km_buf_char(m->b, ' ');
		if (c->slot->unused)
			km_buf_str(m->b, "empty by design");
		else
			km_words_of_slot(m->b, c->slot, false);
		km_buf_str(m->b, ", in the kit");
	} else {
		km_buf_printf(m->b, " %s ", claim_word(c));
		km_words_wanted(m->b, c->want, c->attr);
		if (c->want->state == KM_WANT_UNKNOWN)
			km_buf_str(m->b, "unknown");
	}
	km_buf_printf(m->b, ": %s, %s", km_certainty_word(c->certainty),
		      sure_by[c->by]);
	if (c->outweighed)
		km_buf_str(m->b, ", outweighed");
	km_buf_str(m->b, "; ");
	if (c->evidence)
		km_words_evidence(m->b, c->evidence);
	else
		km_buf_str(m->b, "no source is named");
	if (c->overstated)
		km_buf_printf(m->b, ": supports %s",
			      km_certainty_word(c->evidence->supports));
	section(m);
}

/* What each row of a claim has; the first also the slots alike. */
static void put_claim(struct maker *m, const struct km_claim_audit *c,
		      bool first)
{
	const struct km_evidence *e = c->evidence;
	struct km_table *t = m->t;

	km_table_row(t);
	if (t->failed)
		return;
	/* the section says it all, where there is one */
	t->last->show = m->shown && (c->n_sources || m->p->o.plain)
				? KM_SHOW_BOTH : KM_SHOW_DATA;
	km_put_text(t, KIT, c->slot->kit ? c->slot->kit->id : NULL);
	km_put_text(t, SLOT, c->slot->id);
	if (first)
		km_put_list(t, ALIKE);
	for (uint32_t i = 0; first && i < c->n_alike; i++) {
		km_buf_str(m->b, c->alike[i]->id);
		km_put_item(t, ALIKE, m->b);
	}
	km_put_word(t, CLAIM, claim_key(c), KM_TONE_NONE);
	if (c->want)
		km_words_wanted(m->b, c->want, c->attr);
	km_put_buf(t, VALUE, m->b);
	km_put_word(t, CERTAINTY, km_certainty_word(c->certainty),
		    KM_TONE_NONE);
	km_put_word(t, BY, km_sure_by_word(c->by), KM_TONE_NONE);
	km_put_int(t, QUERIED, c->queried);
	km_put_int(t, OVERSTATED, c->overstated);
	km_put_int(t, OUTWEIGHED, c->outweighed);
	km_put_int(t, MENTIONS, e ? e->mentions : 0);
	km_put_int(t, DEPENDENT, e ? e->dependent : 0);
	km_put_int(t, ROOTS, e ? e->roots : 0);
	km_put_int(t, MENTIONS_AGAINST, e ? e->mentions_against : 0);
	km_put_int(t, ROOTS_AGAINST, e ? e->roots_against : 0);
	km_put_int(t, ROOTS_SILENT, e ? e->roots_silent : 0);
	if (e)
		km_put_word(t, SUPPORTS, km_certainty_word(e->supports),
			    KM_TONE_NONE);
}

static void put_depends(struct maker *m, const struct km_source *s)
{
	km_put_list(m->t, DEPENDS_ON);
	for (uint32_t i = 0; i < s->n_depends_on; i++) {
		km_buf_str(m->b, s->depends_on[i]->id);
		km_put_item(m->t, DEPENDS_ON, m->b);
	}
}

static bool is_listed(const struct km_claim_audit *c,
		      const struct km_source *s)
{
	for (uint32_t i = 0; i < c->n_sources; i++)
		if (c->sources[i].source == s)
			return true;
	return false;
}

/* "depends on bk1, Saw benches of the valley": the title of what the claim
 * does not cite itself. */
static void add_depends(struct maker *m, const struct km_claim_audit *claim,
			const struct km_source *s)
{
	for (uint32_t i = 0; i < s->n_depends_on; i++) {
		const struct km_source *on = s->depends_on[i];

		km_buf_printf(m->b, "%s%s", i ? "; " : "depends on ", on->id);
		if (on->title && !is_listed(claim, on))
			km_buf_printf(m->b, ", %s", on->title);
	}
	km_put_item(m->t, LINES, m->b);
}

/* "Parts list no. 3, 1955, page 12" */
static void put_lines(struct maker *m, const struct km_claim_audit *claim,
		      const struct km_claim_source *c)
{
	const struct km_source *s = c->source;

	km_buf_str(m->b, s->title ? s->title : "");
	if (s->dated_text)
		km_buf_printf(m->b, "%s%s", m->b->len ? ", " : "",
			      s->dated_text);
	if (s->page)
		km_buf_printf(m->b, "%s%s", m->b->len ? ", " : "", s->page);
	km_put_item(m->t, LINES, m->b);
	add_depends(m, claim, s);
	if (c->other_years)
		km_buf_str(m->b, "dated outside the years of the kit");
	km_put_item(m->t, LINES, m->b);
}

static void put_source(struct maker *m, const struct km_claim_audit *claim,
		       const struct km_claim_source *c)
{
	const struct km_source *s = c->source;

	km_put_word(m->t, SAYS, km_says_word(c->says), KM_TONE_NONE);
	km_put_text(m->t, SOURCE, s->id);
	km_put_word(m->t, WHAT, km_source_word(s->what), KM_TONE_NONE);
	km_put_word(m->t, COPY, TICK, KM_TONE_NONE);
	km_put_text(m->t, TITLE, s->title);
	km_put_text(m->t, DATED, s->dated_text);
	km_put_text(m->t, PAGE, s->page);
	km_put_int(m->t, STRONG, c->strong);
	km_put_int(m->t, OTHER_YEARS, c->other_years);
	put_depends(m, s);
	put_lines(m, claim, c);
}

static void one_claim(struct maker *m, const struct km_claim_audit *c)
{
	m->shown = c->queried || m->p->o.verbose;
	head(m, c);
	if (!c->n_sources)
		put_claim(m, c, true);
	for (uint32_t i = 0; i < c->n_sources; i++) {
		put_claim(m, c, !i);
		put_source(m, c, &c->sources[i]);
	}
}

void km_make_evidence(struct km_page *p)
{
	struct maker m = { .p = p, .b = &p->line };

	m.t = km_page_table(p, "claims", columns, COLUMNS);
	for (uint32_t k = 0; m.t && k < p->audit->n_kits; k++) {
		const struct km_kit_audit *kit = &p->audit->kits[k];
		const struct km_evidence_audit *e = kit->evidence;

		if (!e)
			continue;
		m.shown = true;
		km_buf_printf(m.b, "kit %s", kit->kit->id);
		if (kit->kit->revision >= 0)
			km_buf_printf(m.b, " revision %" PRId32,
				      kit->kit->revision);
		km_buf_printf(m.b, ": %" PRIu32 " claim%s to be queried",
			      e->n_queried, e->n_queried == 1 ? "" : "s");
		if (e->n_claims > e->n_queried && !p->o.verbose)
			km_buf_printf(m.b, "; %" PRIu32 " more with sources: "
				      "--verbose", e->n_claims - e->n_queried);
		section(&m);
		for (uint32_t i = 0; i < e->n_claims; i++)
			one_claim(&m, &e->claims[i]);
	}
}
