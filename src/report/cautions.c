/* SPDX-License-Identifier: MIT */
#include "report/cautions.h"

#include <inttypes.h>
#include <string.h>

#include "report/reason.h"
#include "trade/caution.h"

enum { ID, TEXT, LINES, SOURCES, BASIS, LIMITS, COLUMNS };

static const struct km_column columns[COLUMNS] = {
	[ID] = { "id", NULL, KM_COL_ID, false },
	[TEXT] = { "text", NULL, KM_COL_TEXT, false },
	[LINES] = { NULL, "cautions", KM_COL_LIST, false },
	[SOURCES] = { "sources", NULL, KM_COL_LIST, false },
	[BASIS] = { "basis", NULL, KM_COL_WORD, false },
	[LIMITS] = { "air_limits", NULL, KM_COL_LIST, false },
};

static const char *basis_word(enum km_caution_basis b)
{
	static const char *const word[] = {
		[KM_CAUTION_SEEN] = "read",
		[KM_CAUTION_CONCLUDED] = "concluded",
		[KM_CAUTION_MEMORY] = "from memory",
		[KM_CAUTION_COMMON_PRACTICE] = "common practice, no source",
	};

	return word[b];
}

static uint64_t of_handle(const struct km_match *m)
{
	const struct km_condition *c = km_match_condition(m);
	const union km_value *v = km_trait(km_match_traits(m),
					   KM_A_HANDLE_MATERIAL);

	if (!c || !v || v->material->id != KM_MATERIAL_WOOD_HANDLE)
		return 0;
	if (c->handle == KM_HANDLE_SPLIT)
		return km_caution_of_condition("handle_split");
	if (c->handle == KM_HANDLE_LOOSE)
		return km_caution_of_condition("handle_loose");
	return 0;
}

uint64_t km_cautions_of_use(const struct km_match *m)
{
	static const char *const word[KM_DMG_WHATS] = {
		[KM_DMG_SPREAD] = "spread", [KM_DMG_CRACKED] = "cracked",
		[KM_DMG_BENT_HARD] = "bent_hard",
		[KM_DMG_MUSHROOMED] = "mushroomed",
	};
	uint64_t set = of_handle(m);

	for (int i = 0; i < KM_DMG_WHATS; i++)
		if (word[i] && (m->damage >> i & 1))
			set |= km_caution_of_condition(word[i]);
	if (m->wrong_size)
		set |= km_caution_of_condition("substitute_size");
	return set;
}

bool km_process_is_regulated(const struct km_process *p)
{
	switch (p->id) {
	case KM_PROCESS_STRIP_PLATE:
	case KM_PROCESS_ACID_PICKLE:
	case KM_PROCESS_PLATE_ZINC:
	case KM_PROCESS_PLATE_CADMIUM:
	case KM_PROCESS_PLATE_NICKEL:
	case KM_PROCESS_PLATE_NICKEL_CHROME:
	case KM_PROCESS_BLACK_HOT:
	case KM_PROCESS_PHOSPHATE:
		return true;
	default:
		return false;
	}
}

/* "a|b" as a list; in the long form also behind the line. */
static void put_sources(struct km_page *p, struct km_table *t,
			const struct km_caution *c, struct km_buf *said)
{
	km_put_list(t, SOURCES);
	if (p->o.verbose)
		km_buf_printf(said, " [%s, %s:", c->id, basis_word(c->basis));
	for (const char *s = c->source; *s;) {
		size_t n = strcspn(s, "|");

		km_buf_add(&p->line, s, n);
		if (p->o.verbose)
			km_buf_printf(said, " %s%s",
				      p->line.text ? p->line.text : "",
				      s[n] ? "," : "]");
		km_put_item(t, SOURCES, &p->line);
		s += n + (s[n] == '|');
	}
}

static void put_tenths(struct km_buf *b, int32_t v)
{
	km_buf_printf(b, "%" PRId32, v / 10);
	if (v % 10)
		km_buf_printf(b, ".%" PRId32, v % 10);
}

/* Of the air at a workplace; in the long form also behind the line. */
static void put_limits(struct km_page *p, struct km_table *t, int caution,
		       struct km_buf *said)
{
	km_put_list(t, LIMITS);
	for (int i = 0; i < KM_AIR_LIMITS; i++) {
		const struct km_air_limit *l = &km_air_limits[i];

		if (!(km_caution_mask(l->cautions) >> caution & 1))
			continue;
		km_buf_printf(&p->line, "%s in air: limit ", l->substance);
		put_tenths(&p->line, l->limit);
		km_buf_str(&p->line, ", action level ");
		put_tenths(&p->line, l->action);
		km_buf_str(&p->line, " micrograms a cubic metre");
		if (l->hours)
			km_buf_printf(&p->line, " over %" PRId32 " hours",
				      l->hours);
		km_buf_printf(&p->line, " (%s)", l->source);
		if (p->o.verbose && p->line.text)
			km_buf_printf(said, " [%s]", p->line.text);
		km_put_item(t, LIMITS, &p->line);
	}
}

static void text_row(struct km_table *t)
{
	km_table_row(t);
	if (!t->failed)
		t->last->show = KM_SHOW_TEXT;
}

static void licensed(struct km_page *p, struct km_table *t, uint64_t set)
{
	const char *before = "- Leave to a licensed shop: ";

	for (int i = 0; i < KM_PROCESSES; i++)
		if (set >> i & 1) {
			km_buf_printf(&p->line, "%s%s", before,
				      km_processes[i].name);
			before = ", ";
		}
	if (!p->line.len)
		return;
	km_buf_char(&p->line, '.');
	text_row(t);
	km_put_item(t, LINES, &p->line);
}

void km_page_cautions(struct km_page *p, uint64_t set, uint64_t regulated)
{
	struct km_table *t;
	struct km_buf said;

	if (p->report) {
		p->report->cautions |= set;
		p->report->regulated |= regulated;
		return;
	}
	t = km_page_table(p, "cautions", columns, COLUMNS);
	if (!t)
		return;
	if (!set && !regulated) {
		t->show = KM_SHOW_DATA;
		return;
	}
	km_buf_init(&said, p->mem);
	for (int i = 0; i < KM_CAUTIONS; i++) {
		const struct km_caution *c = &km_cautions[i];

		if (!(set >> i & 1))
			continue;
		km_table_row(t);
		km_put_text(t, ID, c->id);
		km_put_text(t, TEXT, c->text);
		km_buf_printf(&said, "- %s", c->text);
		put_sources(p, t, c, &said);
		put_limits(p, t, i, &said);
		km_put_item(t, LINES, &said);
		km_put_word(t, BASIS, basis_word(c->basis), KM_TONE_NONE);
	}
	licensed(p, t, regulated);
	km_buf_str(&p->line, "- Local rules come first.");
	text_row(t);
	km_put_item(t, LINES, &p->line);
}
