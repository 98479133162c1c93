/* SPDX-License-Identifier: MIT */
#include "kitmuster/report.h"

#include "kitmuster/changes.h"
#include "kitmuster/kits.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "report/encode.h"
#include "report/html.h"
#include "report/points.h"

#define TEXT_ONLY (1u << KM_FORMAT_TEXT)
#define ALL_TABLES (TEXT_ONLY | 1u << KM_FORMAT_CSV | 1u << KM_FORMAT_TSV | \
		    1u << KM_FORMAT_JSON | 1u << KM_FORMAT_JSONL | \
		    1u << KM_FORMAT_MARKDOWN | 1u << KM_FORMAT_HTML)
#define DRAWING (1u << KM_FORMAT_SVG)
#define PRINTED (1u << KM_FORMAT_HTML)
#define BUILD_LOGS (1u << KM_FORMAT_TAP | 1u << KM_FORMAT_JUNIT | \
		    1u << KM_FORMAT_SARIF | 1u << KM_FORMAT_GITHUB)

/* The sheets; own, where there is one, is how a format writes it that does
 * not go by the tables. */
static const struct sheet {
	struct km_sheet_info info;
	km_sheet_maker *make, *own[KM_FORMATS];
} sheets[KM_SHEETS] = {
	[KM_SHEET_SUMMARY] = {
		{ "summary", "one screen a kit (-v: all): how complete, what is next",
		  ALL_TABLES, .needs_money = true,
		  .needs_pouch = true },
		km_make_summary, { [KM_FORMAT_TEXT] = km_screen_summary } },
	[KM_SHEET_SLOTS] = {
		{ "slots", "each slot: verdict, tool, reason, cost, decision",
		  ALL_TABLES | BUILD_LOGS, .needs_money = true,
		  .needs_margins = true },
		km_make_slots, { [KM_FORMAT_TAP] = km_tap_slots,
				 [KM_FORMAT_JUNIT] = km_junit_slots,
				 [KM_FORMAT_SARIF] = km_sarif_slots,
				 [KM_FORMAT_GITHUB] = km_github_slots } },
	[KM_SHEET_MATCHES] = {
		{ "matches", "each slot's best candidates and why not",
		  ALL_TABLES, .needs_money = false },
		km_make_matches, { NULL } },
	[KM_SHEET_SHOPPING] = {
		{ "shopping", "what to order from whom, with totals",
		  ALL_TABLES, .needs_money = true },
		km_make_shopping, { NULL } },
	[KM_SHEET_SHORTAGE] = {
		{ "shortage", "open lines only, with room for date and initials",
		  ALL_TABLES, .needs_money = false },
		km_make_shortage, { NULL } },
	[KM_SHEET_WANTS] = {
		{ "wants", "for the pocket: what to look for, and at what price",
		  TEXT_ONLY | PRINTED, .needs_money = true,
		  .needs_ceilings = true },
		NULL, { [KM_FORMAT_TEXT] = km_text_wants } },
	[KM_SHEET_HAVES] = {
		{ "haves", "for the pocket: what is owned, by kind and size",
		  TEXT_ONLY | PRINTED, .needs_money = false, .apart = true },
		NULL, { [KM_FORMAT_TEXT] = km_text_haves } },
	[KM_SHEET_FRONTIER] = {
		{ "frontier", "fewest points lost for each sum of money",
		  ALL_TABLES | DRAWING, .needs_money = true,
		  .needs_frontier = true },
		km_make_frontier, { [KM_FORMAT_SVG] = km_draw_frontier,
				    [KM_FORMAT_HTML] = km_html_frontier } },
	[KM_SHEET_WAYS] = {
		{ "ways", "every way of every place; json: the whole problem",
		  ALL_TABLES, .needs_money = true, .needs_problem = true,
		  .needs_margins = true, .apart = true },
		km_make_ways, { [KM_FORMAT_JSON] = km_json_ways } },
	[KM_SHEET_POUCH] = {
		{ "pouch", "does each tool go into the pouch, and by how much not",
		  ALL_TABLES, .needs_pouch = true },
		km_make_pouch, { NULL } },
	[KM_SHEET_OUTLINE] = {
		{ "outline", "each tool at its true size, to print and lay on",
		  DRAWING | PRINTED, .needs_money = false },
		NULL, { [KM_FORMAT_SVG] = km_draw_outline,
			[KM_FORMAT_HTML] = km_html_outline } },
	[KM_SHEET_SIZE_STRIP] = {
		{ "size-strip", "least and most of the jaws wanted, at true size",
		  DRAWING | PRINTED, .needs_money = false },
		NULL, { [KM_FORMAT_SVG] = km_draw_strip,
			[KM_FORMAT_HTML] = km_html_strip } },
	[KM_SHEET_JOBS] = {
		{ "jobs", "the work by process, in order, and what not to do",
		  ALL_TABLES, .needs_money = true, .needs_jobs = true },
		km_make_jobs, { NULL } },
	[KM_SHEET_MANIFEST] = {
		{ "manifest", "for the plater: what goes, counted, in two copies",
		  ALL_TABLES, .needs_money = true, .needs_jobs = true },
		km_make_manifest, { NULL } },
	[KM_SHEET_TRIAGE] = {
		{ "triage", "where each tool goes: place, another kit, or free",
		  ALL_TABLES, .needs_surplus = true },
		km_make_triage, { NULL } },
	[KM_SHEET_SURPLUS] = {
		{ "surplus", "what to keep or trade for another kit, what to sell",
		  ALL_TABLES, .needs_surplus = true },
		km_make_surplus, { NULL } },
	[KM_SHEET_INSURANCE] = {
		{ "insurance", "each tool of the kits: marks, condition, photo, value",
		  ALL_TABLES, .needs_worth = true },
		km_make_insurance, { NULL } },
	[KM_SHEET_PACKING] = {
		{ "packing", "pocket by pocket in order of folding, to tick off",
		  ALL_TABLES, .needs_pouch = true },
		km_make_packing, { NULL } },
	[KM_SHEET_CARD] = {
		{ "card", "for the public and the judge: what comes from where",
		  ALL_TABLES, .needs_money = false, .display = true },
		km_make_card, { NULL } },
	[KM_SHEET_QUESTIONS] = {
		{ "questions", "what to find out next, and what hangs on it",
		  ALL_TABLES, .needs_money = true, .needs_questions = true },
		km_make_questions,
		{ [KM_FORMAT_TEXT] = km_text_questions } },
	[KM_SHEET_EVIDENCE] = {
		{ "evidence", "for a judge: claims, their sources, room to tick",
		  ALL_TABLES, .needs_evidence = true },
		km_make_evidence, { NULL } },
	[KM_SHEET_REPORT] = {
		{ "report", "one page for the house: all sheets but haves and ways",
		  PRINTED, .apart = true },
		NULL, { [KM_FORMAT_HTML] = km_html_report } },
};

/* A drawing has no tables to go by. */
static const struct format {
	const char *word;
	void (*write)(struct km_page *p);
} formats[KM_FORMATS] = {
	[KM_FORMAT_TEXT] = { "text", km_out_text },
	[KM_FORMAT_CSV] = { "csv", km_out_csv },
	[KM_FORMAT_TSV] = { "tsv", km_out_tsv },
	[KM_FORMAT_JSON] = { "json", km_out_json },
	[KM_FORMAT_SVG] = { "svg", NULL },
	[KM_FORMAT_HTML] = { "html", km_out_html },
	[KM_FORMAT_JSONL] = { "jsonl", km_out_jsonl },
	[KM_FORMAT_MARKDOWN] = { "markdown", km_out_markdown },
	[KM_FORMAT_TAP] = { "tap", NULL },
	[KM_FORMAT_JUNIT] = { "junit", NULL },
	[KM_FORMAT_SARIF] = { "sarif", NULL },
	[KM_FORMAT_GITHUB] = { "github", NULL },
};

const struct km_sheet_info *km_sheet_info(enum km_sheet s)
{
	return &sheets[s].info;
}

const char *km_format_word(enum km_format f)
{
	return formats[f].word;
}

bool km_sheet_find(const char *word, enum km_sheet *out)
{
	for (int i = 0; i < KM_SHEETS; i++)
		if (!strcmp(sheets[i].info.word, word)) {
			*out = (enum km_sheet)i;
			return true;
		}
	return false;
}

bool km_format_find(const char *word, enum km_format *out)
{
	for (int i = 0; i < KM_FORMATS; i++)
		if (!strcmp(formats[i].word, word)) {
			*out = (enum km_format)i;
			return true;
		}
	return false;
}

bool km_report_has(enum km_sheet s, enum km_format f)
{
	return sheets[s].info.formats >> f & 1;
}

bool km_format_is_of_tables(enum km_format f)
{
	return ALL_TABLES >> f & 1;
}

bool km_report_takes(enum km_sheet s)
{
	return km_report_has(s, KM_FORMAT_HTML) && !sheets[s].info.apart;
}

/* ------------------------------------------------------------------ */
/* Pages                                                               */

struct km_table *km_page_table(struct km_page *p, const char *key,
			       const struct km_column *columns, uint32_t n)
{
	struct km_table *t = km_table_new(p->mem, key, columns, n, p->decimals);

	if (!t) {
		p->failed = true;
		return NULL;
	}
	if (p->last)
		p->last->next = t;
	else
		p->first = t;
	p->last = t;
	return t;
}

static int by_tool(const void *a, const void *b)
{
	const struct km_given *x = a, *y = b;
	uintptr_t p = (uintptr_t)x->tool, q = (uintptr_t)y->tool;

	return (p > q) - (p < q);
}

/* The tools of one slot; v NULL: only count. */
static size_t given_of(const struct km_slot_audit *s, struct km_given *v)
{
	size_t n = 0;

	for (int32_t i = 0; s->pieces && i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		if (!m || !m->tool)
			continue;
		if (v)
			v[n] = (struct km_given){ m->tool, s->slot };
		n++;
	}
	return n;
}

static size_t given_of_all(const struct km_audit *a, struct km_given *v)
{
	size_t n = 0;

	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++)
			n += given_of(&a->kits[k].slots[i], v ? v + n : NULL);
	return n;
}

static void list_given(struct km_page *p)
{
	size_t n = given_of_all(p->audit, NULL);
	struct km_given *v = km_arena_alloc(p->mem, n ? n : 1, sizeof *v);

	if (!v) {
		p->failed = true;
		return;
	}
	(void)given_of_all(p->audit, v);
	qsort(v, n, sizeof *v, by_tool);
	p->given = v;
	p->n_given = n;
}

const struct km_slot *km_page_given(struct km_page *p, const struct km_tool *t)
{
	struct km_given key = { t, NULL };
	const struct km_given *g;

	if (!p->given)
		list_given(p);
	if (!p->n_given)
		return NULL;
	g = bsearch(&key, p->given, p->n_given, sizeof key, by_tool);
	return g ? g->slot : NULL;
}

/* False: memory ran out. */
static bool page_init(struct km_page *p, const struct km_report_options *o)
{
	*p = (struct km_page){ .decimals = 2 };
	if (o)
		p->o = *o;
	p->mem = km_arena_new(p->o.limits);
	if (!p->mem)
		return false;
	km_buf_init(&p->line, p->mem);
	km_buf_init(&p->out, p->mem);
	return true;
}

bool km_page_failed(const struct km_page *p)
{
	for (const struct km_table *t = p->first; t; t = t->next)
		if (t->failed)
			return true;
	return p->failed || km_buf_failed(&p->line) || km_buf_failed(&p->out);
}

/* Hand a page over, unless it failed, and free it. */
static enum km_status page_finish(struct km_page *p, const struct km_sink *to)
{
	enum km_status st = km_page_failed(p) ? KM_ENOMEM : KM_OK;

	if (st == KM_OK && p->out.len &&
	    !to->write(to->ctx, p->out.text, p->out.len))
		st = KM_EIO;
	km_arena_free(p->mem);
	return st;
}

/* Other tables for formats that people read and that have no end of lines. */
static km_sheet_maker *const views[KM_SHEETS] = {
	[KM_SHEET_SUMMARY] = km_make_summary_view,
};

static bool is_read_by_people(enum km_format f)
{
	return f == KM_FORMAT_MARKDOWN || f == KM_FORMAT_HTML;
}

/* Fill a page with its sheet and write it in its format. */
static void write_sheet(struct km_page *p, enum km_sheet s)
{
	const struct sheet *sheet = &sheets[s];

	if (sheet->own[p->format]) {
		sheet->own[p->format](p);
	} else if (!sheet->make) {	/* words alone */
		sheet->own[KM_FORMAT_TEXT](p);
		km_html_pre(p);
	} else {
		if (views[s] && is_read_by_people(p->format))
			views[s](p);
		else
			sheet->make(p);
		if (!km_page_failed(p))
			formats[p->format].write(p);
	}
}

void km_page_part(struct km_page *p, enum km_sheet s,
		  struct km_report_parts *parts, struct km_buf *out)
{
	struct km_page part = *p;

	part.sheet = sheets[s].info.word;
	part.report = parts;
	part.first = part.last = NULL;
	km_buf_init(&part.line, p->mem);
	km_buf_init(&part.out, p->mem);
	write_sheet(&part, s);
	p->failed |= km_page_failed(&part);
	*out = part.out;
}

enum km_status km_report(const struct km_audit *a, enum km_sheet s,
			 enum km_format f, const struct km_report_options *o,
			 const struct km_sink *to)
{
	const struct sheet *sheet = &sheets[s];
	struct km_page p;

	if (!km_report_has(s, f))
		return KM_EINPUT;
	if (!page_init(&p, o))
		return KM_ENOMEM;
	p.audit = a;
	p.sheet = sheet->info.word;
	p.format = f;
	p.currency = a->currency;
	if (a->currency)
		p.decimals = a->decimals;
	write_sheet(&p, s);
	return page_finish(&p, to);
}

enum km_status km_report_diags(struct km_diags *d, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to)
{
	struct km_points list;
	struct km_page p;

	if (f != KM_FORMAT_SARIF && f != KM_FORMAT_GITHUB)
		return KM_EINPUT;
	if (!page_init(&p, o))
		return KM_ENOMEM;
	km_diags_sort(d);
	if (km_points_of_diags(&p, d, &list)) {
		if (f == KM_FORMAT_SARIF)
			km_out_sarif(&list);
		else
			km_out_github(&list);
	}
	return page_finish(&p, to);
}

/* A page of tables that no audit is behind. */
static enum km_status page_begin(struct km_page *p, const char *sheet,
				 enum km_format f,
				 const struct km_report_options *o)
{
	if (!km_format_is_of_tables(f))
		return KM_EINPUT;
	if (!page_init(p, o))
		return KM_ENOMEM;
	p->sheet = sheet;
	p->format = f;
	return KM_OK;
}

static enum km_status page_write(struct km_page *p, const struct km_sink *to)
{
	if (!km_page_failed(p))
		formats[p->format].write(p);
	return page_finish(p, to);
}

enum km_status km_report_gauge(const struct km_gauge *g, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to)
{
	struct km_page p;
	enum km_status st;

	if (f != KM_FORMAT_TEXT && f != KM_FORMAT_JSON)
		return KM_EINPUT;
	st = page_begin(&p, "gauge", f, o);
	if (st != KM_OK)
		return st;
	km_make_gauge(&p, g);
	return page_write(&p, to);
}

enum km_status km_report_changes(const struct km_changes *c, enum km_format f,
				 const struct km_report_options *o,
				 const struct km_sink *to)
{
	struct km_page p;
	enum km_status st = page_begin(&p, "changes", f, o);

	if (st != KM_OK)
		return st;
	p.currency = c->currency;
	p.decimals = c->decimals;
	km_make_changes(&p, c, f == KM_FORMAT_CSV || f == KM_FORMAT_TSV);
	return page_write(&p, to);
}

enum km_status km_report_compare(const struct km_side_by_side *s,
				 enum km_format f,
				 const struct km_report_options *o,
				 const struct km_sink *to)
{
	struct km_page p;
	enum km_status st = page_begin(&p, "compare", f, o);

	if (st != KM_OK)
		return st;
	km_make_compare(&p, s, f);
	return page_write(&p, to);
}

enum km_status km_report_which(const struct km_which *w, enum km_format f,
			       const struct km_report_options *o,
			       const struct km_sink *to)
{
	struct km_page p;
	enum km_status st = page_begin(&p, "which", f, o);

	if (st != KM_OK)
		return st;
	km_make_which(&p, w, f);
	return page_write(&p, to);
}
