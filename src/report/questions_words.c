/* SPDX-License-Identifier: MIT */
#include "report/questions.h"

#include <string.h>

#include "read/attr.h"
#include "report/words.h"
#include "unit/length.h"
#include "unit/serial.h"

const char *km_ask_word(enum km_question_what w)
{
	static const char *const word[] = {
		[KM_ASK_KIT] = "kit", [KM_ASK_SLOT] = "slot",
		[KM_ASK_CLAIM] = "claim", [KM_ASK_TOOL] = "tool",
	};

	return word[w];
}

const char *km_answer_word(enum km_answer_what w)
{
	static const char *const word[] = {
		[KM_IF_KIT] = "kit", [KM_IF_THERE] = "there",
		[KM_IF_NOT_THERE] = "not-there", [KM_IF_VALUE] = "value",
		[KM_IF_CLAIMED] = "as-claimed",
		[KM_IF_SET_ASIDE] = "set-aside",
		[KM_IF_WANTED] = "as-wanted", [KM_IF_OTHER] = "otherwise",
	};

	return word[w];
}

const char *km_attr_key(enum km_attr a)
{
	return a < KM_ATTRS ? km_attr_fields[a].key : NULL;
}

/* The key as words: "handle colour". */
static void add_attr(struct km_buf *b, enum km_attr a)
{
	if (a == KM_A_TOOL) {
		km_buf_str(b, "kind of tool");
		return;
	}
	for (const char *s = km_attr_key(a); s && *s; s++)
		km_buf_char(b, *s == '_' ? ' ' : *s);
}

/* What is not known of a tool: "size struck", "opening". */
static void add_aspect(struct km_buf *b, const struct km_question *q)
{
	if (q->what == KM_ASK_TOOL && q->aspect == KM_ASP_SIZE_NAME)
		km_buf_str(b, "size struck");
	else
		add_attr(b, q->attr);
}

/* ------------------------------------------------------------------ */
/* The question                                                        */

void km_words_machine(struct km_buf *b, const struct km_machine *m)
{
	const char *between = "";

	if (m->title) {
		km_buf_str(b, m->title);
		between = ", ";
	}
	if (km_serial_recorded(m)) {
		km_buf_printf(b, "%sserial ", between);
		km_buf_serial_of(b, m);
		between = ", ";
	}
	if (m->built_text && !km_serial_recorded(m))
		km_buf_printf(b, "%sbuilt %s", between, m->built_text);
}

static bool has_name(const struct km_machine *m)
{
	return m && (m->title || m->built_text || km_serial_recorded(m));
}

void km_words_question(struct km_buf *b, const struct km_question *q,
		       const struct km_kit *home)
{
	if (q->what == KM_ASK_KIT) {
		km_buf_str(b, "which kit did the machine");
		if (!home && has_name(q->kit->machine)) {
			km_buf_str(b, " (");
			km_words_machine(b, q->kit->machine);
			km_buf_char(b, ')');
		}
		km_buf_str(b, " leave with: ");
		for (uint32_t i = 0; i < q->n_answers; i++)
			km_buf_printf(b, "%s%s", !i ? "" :
				      i + 1 < q->n_answers ? ", " : " or ",
				      q->answers[i].kit->id);
		km_buf_char(b, '?');
		return;
	}
	if (q->what == KM_ASK_TOOL) {
		km_buf_printf(b, "%s for ", q->tool->id);
		km_words_slot_ref(b, q->slot, home);
		km_buf_str(b, ": ");
		add_aspect(b, q);
		km_buf_char(b, '?');
		return;
	}
	km_words_slot_ref(b, q->slot, home);
	km_buf_char(b, ' ');
	km_words_of_slot(b, q->slot, false);
	if (q->what == KM_ASK_SLOT) {
		km_buf_str(b, ": was it there?");
		return;
	}
	km_buf_str(b, ": which ");
	add_attr(b, q->attr);
	km_buf_char(b, '?');
}

void km_words_question_short(struct km_buf *b, const struct km_question *q,
			     const struct km_kit *home)
{
	if (q->what == KM_ASK_KIT) {
		km_buf_str(b, "which kit");
		if (!home && has_name(q->kit->machine)) {
			km_buf_str(b, " of ");
			km_words_machine(b, q->kit->machine);
		}
		return;
	}
	if (q->what != KM_ASK_SLOT) {
		add_aspect(b, q);
		km_buf_str(b, " of ");
	}
	if (q->what == KM_ASK_TOOL)
		km_buf_printf(b, "%s for ", q->tool->id);
	km_words_slot_ref(b, q->slot, home);
}

static void add_sources(struct km_buf *b, const char *before,
			const struct km_sources *s)
{
	for (uint32_t i = 0; i < s->n; i++)
		km_buf_printf(b, "%s%s", i ? ", " : before, s->v[i]->id);
}

void km_words_open(struct km_buf *b, const struct km_question *q)
{
	static const char *const undecided[] = {
		[KM_DECIDED] = "",
		[KM_UNDECIDED_SERIAL] = "the serial number lies between them",
		[KM_UNDECIDED_DATE] = "the date lies in the years of several",
		[KM_UNDECIDED_MARKET] = "they differ by market alone",
	};
	const struct km_want *w;

	switch (q->what) {
	case KM_ASK_KIT:
		km_buf_str(b, undecided[q->kit->undecided]);
		return;
	case KM_ASK_SLOT:
		km_buf_str(b, km_certainty_word(q->slot->exists));
		add_sources(b, "; for it ", &q->slot->for_it);
		add_sources(b, "; against it ", &q->slot->against_it);
		add_sources(b, "; not shown by ", &q->slot->silent);
		return;
	case KM_ASK_TOOL:
		km_reason_of(b, q->match, q->aspect);
		return;
	default:
		break;
	}
	w = &q->slot->want[q->attr];
	km_buf_str(b, w->disputed ? "disputed"
				  : km_certainty_word(w->certainty));
	add_sources(b, "; by ", &w->sources);
	for (uint32_t i = 0; i < w->n_outweighed; i++)
		add_sources(b, i ? ", " : "; otherwise by ",
			    &w->outweighed[i].sources);
}

/* ------------------------------------------------------------------ */
/* The answers                                                         */

/* A reading as files write it: "178 mm"; a claim with its limits. */
static void add_span(struct km_buf *b, struct km_span s, enum km_attr a)
{
	if (s.minus_nm || s.plus_nm) {
		km_words_span(b, s, a);
	} else if (a == KM_A_ANGLE) {
		km_buf_mm(b, s.nm * (KM_NM_PER_MM / 100), 2);
		km_buf_str(b, " degrees");
	} else if (s.nm > 0) {
		km_buf_mm(b, s.nm, 3);
		km_buf_str(b, " mm");
	} else {
		km_buf_str(b, "unknown");
	}
}

static void add_value(struct km_buf *b, const union km_value *v,
		      enum km_attr a)
{
	if (a >= KM_A_LENGTH && a <= KM_A_DEPTH)
		add_span(b, v->span, a);
	else if (a != KM_A_OPENINGS)
		km_words_value(b, v, a);
	for (uint32_t i = 0; a == KM_A_OPENINGS && i < v->spans.n; i++) {
		km_buf_str(b, i ? " x " : "");
		add_span(b, v->spans.v[i], a);
	}
}

void km_words_answer_value(struct km_buf *b, const struct km_answer *a)
{
	for (uint32_t i = 0; i < a->n_values; i++) {
		km_buf_str(b, i ? " or " : "");
		add_value(b, &a->values[i], a->attr);
	}
	if (a->none)
		km_buf_str(b, a->n_values ? " or none" : "none");
}

void km_words_answer(struct km_buf *b, const struct km_answer *a)
{
	switch (a->what) {
	case KM_IF_KIT:
		km_buf_str(b, a->kit->id);
		return;
	case KM_IF_THERE:
		km_buf_str(b, "it was there");
		return;
	case KM_IF_NOT_THERE:
		km_buf_str(b, "it was not");
		return;
	case KM_IF_SET_ASIDE:
		km_buf_str(b, "not known");
		return;
	case KM_IF_WANTED:
		km_buf_str(b, "as wanted, ");
		break;
	case KM_IF_OTHER:
		km_buf_str(b, "if not, say ");
		break;
	default:
		break;
	}
	if (a->attr == KM_A_SIZES && (a->what == KM_IF_WANTED ||
				      a->what == KM_IF_OTHER))
		km_buf_str(b, "struck ");
	km_words_answer_value(b, a);
}

const char *km_standing_word(const struct km_standing *s)
{
	return s->out ? "not-there"
		      : s->firm ? km_verdict_word(s->verdict) : "doubt";
}

static void add_standing(struct km_buf *b, const struct km_standing *s)
{
	if (s->out)
		km_buf_str(b, "not in the kit");
	else if (s->firm)
		km_buf_str(b, km_verdict_word(s->verdict));
	else
		km_buf_printf(b, "doubt (%s)", km_verdict_word(s->verdict));
}

void km_words_turn(struct km_buf *b, const struct km_turn *t,
		   const struct km_kit *home)
{
	km_words_slot_ref(b, t->slot, home);
	km_buf_char(b, ' ');
	add_standing(b, &t->is);
	km_buf_str(b, ", was ");
	add_standing(b, &t->was);
}
