/* SPDX-License-Identifier: MIT */
#include "report/words.h"

#include <inttypes.h>

#include "base/str.h"
#include "trade/finish.h"
#include "trade/kind.h"
#include "unit/date.h"
#include "unit/length.h"

static void add_number(struct km_buf *b, int64_t hundredths)
{
	km_buf_mm(b, hundredths * (KM_NM_PER_MM / 100), 2);
}

/* An angle is a span of hundredths of a degree; printed by the same rules. */
void km_words_span(struct km_buf *b, struct km_span s, enum km_attr a)
{
	if (a != KM_A_ANGLE) {
		km_buf_span(b, s);
		km_buf_str(b, " mm");
		return;
	}
	add_number(b, s.nm);
	if (s.plus_nm == s.minus_nm && s.plus_nm) {
		km_buf_str(b, " +-");
		add_number(b, s.plus_nm);
	} else if (s.plus_nm || s.minus_nm) {
		km_buf_str(b, " +");
		add_number(b, s.plus_nm);
		km_buf_str(b, "/-");
		add_number(b, s.minus_nm);
	}
	km_buf_str(b, " degrees");
}

static void add_size(struct km_buf *b, const struct km_size *s, bool in_mm)
{
	bool metric = s->system == KM_SYS_METRIC ||
		      s->system == KM_SYS_KEY_METRIC ||
		      s->system == KM_SYS_PLUG || s->system == KM_SYS_HOOK ||
		      s->system == KM_SYS_SLOTTED || s->system == KM_SYS_BLADE;

	km_buf_str(b, s->text);
	if (s->second)
		km_buf_printf(b, " %s", s->second);
	if (!in_mm || metric || s->nominal_nm <= 0)
		return;
	km_buf_str(b, " (");
	km_buf_mm(b, s->nominal_nm, 1);
	km_buf_str(b, " mm)");
}

void km_words_sizes(struct km_buf *b, const union km_value *v, bool in_mm)
{
	for (uint32_t i = 0; i < v->sizes.n; i++) {
		if (i)
			km_buf_str(b, " x ");
		add_size(b, v->sizes.v[i], in_mm);
	}
}

static void add_spans(struct km_buf *b, const union km_value *v)
{
	for (uint32_t i = 0; i < v->spans.n; i++) {
		if (i)
			km_buf_str(b, " and ");
		km_buf_mm(b, v->spans.v[i].nm, 3);
	}
	km_buf_str(b, " mm");
}

static void add_finish(struct km_buf *b, const union km_value *v)
{
	if (v->finish.body)
		km_buf_str(b, v->finish.body->name);
	if (!v->finish.faces || v->finish.faces == v->finish.body)
		return;
	km_buf_printf(b, "%s%s faces", v->finish.body ? ", " : "",
		      v->finish.faces->name);
}

static const char *made_word(enum km_made m)
{
	static const char *const word[] = {
		[KM_MADE_ORIGINAL] = "original",
		[KM_MADE_PERIOD] = "made in period by another",
		[KM_MADE_REPRODUCTION] = "reproduction",
	};

	return word[m];
}

void km_words_value(struct km_buf *b, const union km_value *v, enum km_attr a)
{
	switch (a) {
	case KM_A_TOOL:
		km_buf_str(b, v->kind->name);
		break;
	case KM_A_DRIVE:
		for (uint32_t i = 0; i < v->drives.n; i++)
			km_buf_printf(b, "%s%s", i ? " and " : "",
				      v->drives.v[i]->name);
		break;
	case KM_A_SIZES:
		km_words_sizes(b, v, false);
		break;
	case KM_A_OPENINGS:
		add_spans(b, v);
		break;
	case KM_A_FINISH:
		add_finish(b, v);
		break;
	case KM_A_HANDLE_COLOUR:
		if (v->colour.word)
			km_buf_str(b, v->colour.word);
		else
			km_buf_printf(b, "#%06" PRIx32, v->colour.rgb);
		break;
	case KM_A_HANDLE_MATERIAL:
		km_buf_str(b, v->material->name);
		break;
	case KM_A_MARK:
	case KM_A_PART:
		km_buf_str(b, v->text);
		break;
	case KM_A_MADE:
		km_buf_str(b, made_word(v->made));
		break;
	default:
		km_words_span(b, v->span, a);
		break;
	}
}

/* One value; of a mark, all that the maker of kit (NULL: not known) struck. */
static void add_value(struct km_buf *b, const union km_value *v,
		      enum km_attr a, const struct km_kit *kit)
{
	if (a != KM_A_MARK || !kit || !kit->n_maker_marks ||
	    km_fold_compare(km_slice_of(v->text), km_slice_of("maker"))) {
		km_words_value(b, v, a);
		return;
	}
	for (uint32_t i = 0; i < kit->n_maker_marks; i++)
		km_buf_printf(b, "%s%s", i ? " or " : "", kit->maker_marks[i]);
}

static void add_wanted(struct km_buf *b, const struct km_want *w,
		       enum km_attr a, const struct km_kit *kit)
{
	if (w->state == KM_WANT_NONE)
		km_buf_str(b, "none");
	if (w->state != KM_WANT_ANY_OF)
		return;
	for (uint32_t i = 0; i < w->n; i++) {
		if (i)
			km_buf_str(b, " or ");
		add_value(b, &w->any[i], a, kit);
	}
	if (w->assumed)
		km_buf_str(b, " (assumed)");
}

void km_words_wanted(struct km_buf *b, const struct km_want *w,
		     enum km_attr a)
{
	add_wanted(b, w, a, NULL);
}

void km_words_wanted_of(struct km_buf *b, const struct km_slot *s,
			enum km_attr a)
{
	add_wanted(b, &s->want[a], a, s->kit);
}

void km_words_of_slot(struct km_buf *b, const struct km_slot *s, bool in_mm)
{
	const struct km_want *kind = &s->want[KM_A_TOOL];
	const struct km_want *sizes = &s->want[KM_A_SIZES];

	if (kind->state == KM_WANT_ANY_OF)
		km_words_wanted(b, kind, KM_A_TOOL);
	else
		km_buf_str(b, s->title ? s->title : "kind of tool not known");
	if (sizes->state != KM_WANT_ANY_OF)
		return;
	km_buf_char(b, ' ');
	for (uint32_t i = 0; i < sizes->n; i++) {
		if (i)
			km_buf_str(b, " or ");
		km_words_sizes(b, &sizes->any[i], in_mm);
	}
}

/* ", mark LARKMOOR or LM" if the slot has anything to say of it. */
static void add_want(struct km_buf *b, const struct km_slot *s, enum km_attr a,
		     const char *before)
{
	const struct km_want *w = &s->want[a];

	if (w->state == KM_WANT_ANY_OF) {
		km_buf_printf(b, ", %s", before);
		km_words_wanted_of(b, s, a);
	} else if (w->state == KM_WANT_NONE && a == KM_A_MARK) {
		km_buf_str(b, ", unmarked");
	}
}

void km_words_of_want(struct km_buf *b, const struct km_slot *s, bool in_mm)
{
	km_words_of_slot(b, s, in_mm);
	add_want(b, s, KM_A_LENGTH, "");
	add_want(b, s, KM_A_FINISH, "");
	add_want(b, s, KM_A_HANDLE_MATERIAL, "handle ");
	add_want(b, s, KM_A_HANDLE_COLOUR, "handle ");
	add_want(b, s, KM_A_MARK, "mark ");
}

void km_words_of_traits(struct km_buf *b, const struct km_traits *t)
{
	const union km_value *v = km_trait(t, KM_A_TOOL);
	size_t before = b->len;

	if (v)
		km_buf_str(b, v->kind->name);
	v = km_trait(t, KM_A_SIZES);
	if (v) {
		if (b->len != before)
			km_buf_char(b, ' ');
		km_words_sizes(b, v, false);
	} else if ((v = km_trait(t, KM_A_OPENINGS)) != NULL) {
		km_buf_str(b, b->len != before ? ", opening " : "opening ");
		add_spans(b, v);
	}
	v = km_trait(t, KM_A_LENGTH);
	if (v) {
		if (b->len != before)
			km_buf_str(b, ", ");
		km_buf_mm(b, v->span.nm, 2);
		km_buf_str(b, " mm");
	}
}

void km_words_slot_ref(struct km_buf *b, const struct km_slot *s,
		       const struct km_kit *home)
{
	if (s->kit && s->kit != home)
		km_buf_printf(b, "%s/", s->kit->id);
	km_buf_str(b, s->id);
}

void km_words_since(struct km_buf *b, const struct km_tool *t)
{
	if (!t->more)
		return;
	if (t->more->since.year) {
		km_buf_str(b, " since ");
		km_buf_date(b, t->more->since);
	}
	if (t->more->due.year) {
		km_buf_str(b, ", due ");
		km_buf_date(b, t->more->due);
	}
}
