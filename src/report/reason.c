/* SPDX-License-Identifier: MIT */
#include "report/reason.h"

#include "unit/length.h"

/* What an aspect is called, and the attribute that it compares. */
static const struct { const char *word; enum km_attr attr; }
aspects[KM_ASPECTS] = {
	[KM_ASP_KIND] = { "kind of tool", KM_A_TOOL },
	[KM_ASP_PIECE] = { "piece", KM_ATTRS },
	[KM_ASP_SIZES] = { "sizes", KM_A_SIZES },
	[KM_ASP_MADE] = { "made", KM_A_MADE },
	[KM_ASP_LENGTH] = { "length", KM_A_LENGTH },
	[KM_ASP_THICKNESS] = { "thickness", KM_A_THICKNESS },
	[KM_ASP_WIDTH] = { "width", KM_A_WIDTH },
	[KM_ASP_ANGLE] = { "angle", KM_A_ANGLE },
	[KM_ASP_BAR] = { "bar", KM_A_BAR },
	[KM_ASP_HOLE] = { "hole", KM_A_HOLE },
	[KM_ASP_BLADE] = { "blade", KM_A_BLADE },
	[KM_ASP_JAW] = { "jaw", KM_A_JAW },
	[KM_ASP_HOOK] = { "hook", KM_A_HOOK },
	[KM_ASP_DEPTH] = { "depth", KM_A_DEPTH },
	[KM_ASP_MARK] = { "mark", KM_A_MARK },
	[KM_ASP_SIZE_NAME] = { "size mark", KM_A_SIZES },
	[KM_ASP_PART] = { "part", KM_A_PART },
	[KM_ASP_FINISH] = { "finish", KM_A_FINISH },
	[KM_ASP_HANDLE_MATERIAL] = { "handle", KM_A_HANDLE_MATERIAL },
	[KM_ASP_HANDLE_COLOUR] = { "handle colour", KM_A_HANDLE_COLOUR },
	[KM_ASP_RUST] = { "rust", KM_ATTRS },
	[KM_ASP_PITS] = { "pits", KM_ATTRS },
	[KM_ASP_PLATE] = { "plating", KM_ATTRS },
	[KM_ASP_DAMAGE] = { "damage", KM_ATTRS },
	[KM_ASP_UNFIT] = { "fitness", KM_ATTRS },
	[KM_ASP_CONDITION] = { "condition", KM_ATTRS },
};

const char *km_aspect_word(enum km_aspect a)
{
	return aspects[a].word;
}

enum km_attr km_aspect_attr(enum km_aspect a)
{
	return aspects[a].attr;
}

enum km_certainty km_reason_certainty(const struct km_match *m,
				      enum km_aspect a)
{
	if (aspects[a].attr == KM_ATTRS)
		return m->slot->exists;
	return m->slot->want[aspects[a].attr].certainty;
}

bool km_reason_is_weak(const struct km_match *m)
{
	return m->headline < KM_ASPECTS && m->on[m->headline].weak;
}

/* ------------------------------------------------------------------ */
/* Dimensions, marks, finishes                                         */

static void add_signed(struct km_buf *b, int64_t v, bool angle)
{
	km_buf_str(b, v < 0 ? "-" : "+");
	if (v < 0)
		v = -v;
	km_buf_mm(b, angle ? v * (KM_NM_PER_MM / 100) : v, 2);
}

static void on_dimension(struct km_buf *b, const struct km_match *m,
			 enum km_aspect a, const struct km_comparison *c)
{
	bool angle = a == KM_ASP_ANGLE;

	if (c->finding == KM_F_DIMENSION_UNRECORDED) {
		km_buf_printf(b, "%s not recorded: ", aspects[a].word);
		km_words_wanted(b, &m->slot->want[aspects[a].attr],
				aspects[a].attr);
		km_buf_str(b, " wanted, measure it");
		return;
	}
	if (c->finding != KM_F_DIMENSION_NEAR &&
	    c->finding != KM_F_DIMENSION_OUTSIDE)
		return;
	km_buf_printf(b, "%s ", aspects[a].word);
	add_signed(b, c->by, angle);
	km_buf_str(b, angle ? " degrees, " : " mm, ");
	km_buf_mm(b, angle ? c->over * (KM_NM_PER_MM / 100) : c->over, 2);
	km_buf_str(b, " over tolerance");
	if (c->letter == KM_NOTED)
		km_buf_str(b, ", near enough for use");
}

/* "WORD HAVE instead of WANTED" */
static void instead(struct km_buf *b, const struct km_match *m,
		    enum km_aspect a)
{
	enum km_attr attr = aspects[a].attr;
	const union km_value *v = km_trait(km_match_traits(m), attr);

	km_buf_printf(b, "%s ", aspects[a].word);
	if (v)
		km_words_value(b, v, attr);
	else
		km_buf_str(b, "none");
	km_buf_str(b, " instead of ");
	km_words_wanted_of(b, m->slot, attr);
}

static void unrecorded(struct km_buf *b, const struct km_match *m,
		       enum km_aspect a, const char *action)
{
	km_buf_printf(b, "%s not recorded: ", aspects[a].word);
	km_words_wanted_of(b, m->slot, aspects[a].attr);
	km_buf_printf(b, " wanted, %s", action);
}

static void on_mark(struct km_buf *b, const struct km_match *m,
		    const struct km_comparison *c)
{
	const struct km_condition *cond = km_match_condition(m);
	const union km_value *v = km_trait(km_match_traits(m), KM_A_MARK);

	switch (c->finding) {
	case KM_F_MARK_OTHER:
		instead(b, m, KM_ASP_MARK);
		break;
	case KM_F_MARK_NONE:
		km_buf_str(b, "unmarked instead of mark ");
		km_words_wanted_of(b, m->slot, KM_A_MARK);
		break;
	case KM_F_MARK_UNWANTED:
		km_buf_printf(b, "mark %s where none belongs",
			      v ? v->text : "there");
		break;
	case KM_F_MARK_UNREAD:
		km_buf_str(b, cond && cond->marking == KM_MARKING_GONE
				      ? "mark gone"
				      : "mark illegible: clean gently, "
					"read again");
		break;
	case KM_F_MARK_UNRECORDED:
		unrecorded(b, m, KM_ASP_MARK, "look for it");
		break;
	default:
		break;
	}
}

/* Only a choice by hand holds another kind of tool against a slot. */
static void on_kind(struct km_buf *b, const struct km_match *m)
{
	const union km_value *v = m->tool ? km_trait(&m->tool->traits, KM_A_TOOL)
					  : NULL;

	if (v)
		km_words_value(b, v, KM_A_TOOL);
	else
		km_buf_str(b, "kind not recorded");
	km_buf_str(b, " instead of ");
	km_words_wanted(b, &m->slot->want[KM_A_TOOL], KM_A_TOOL);
}

static void on_made(struct km_buf *b, const struct km_comparison *c)
{
	if (c->finding == KM_F_REPRODUCTION)
		km_buf_str(b, "reproduction");
	else if (c->finding == KM_F_MADE_PERIOD)
		km_buf_str(b, "made in period by another");
	else if (c->finding == KM_F_MADE_UNRECORDED)
		km_buf_str(b, "maker's period not recorded");
}

static void on_part(struct km_buf *b, const struct km_match *m,
		    const struct km_comparison *c)
{
	const union km_value *v = km_trait(km_match_traits(m), KM_A_PART);

	if (c->finding == KM_F_PART_OTHER) {
		instead(b, m, KM_ASP_PART);
	} else if (c->finding == KM_F_PART_SUPERSEDING) {
		km_buf_printf(b, "part %s supersedes ", v ? v->text : "here");
		km_words_wanted(b, &m->slot->want[KM_A_PART], KM_A_PART);
	}
}

/* Nobody says what it is; but it changed with the number. */
static void on_change(struct km_buf *b, const struct km_match *m,
		      enum km_aspect a)
{
	const union km_value *v = km_trait(km_match_traits(m), KM_A_PART);

	km_buf_printf(b, "%s not as before with part %s", km_aspect_word(a),
		      v ? v->text : "that superseded it");
}

static void on_finish(struct km_buf *b, const struct km_match *m,
		      const struct km_comparison *c)
{
	switch (c->finding) {
	case KM_F_FINISH_OTHER:
		instead(b, m, KM_ASP_FINISH);
		break;
	case KM_F_FINISH_NEAR:
		instead(b, m, KM_ASP_FINISH);
		km_buf_str(b, ", near");
		break;
	case KM_F_FINISH_NEAR_CADMIUM:
		instead(b, m, KM_ASP_FINISH);
		km_buf_str(b, ", the usual stand-in");
		break;
	case KM_F_FINISH_UNRECORDED:
		unrecorded(b, m, KM_ASP_FINISH, "look at it");
		break;
	default:
		return;
	}
	if (m->over_restored)
		km_buf_str(b, ", over-restored");
}

static void on_handle(struct km_buf *b, const struct km_match *m,
		      enum km_aspect a, const struct km_comparison *c)
{
	switch (c->finding) {
	case KM_F_MATERIAL_OTHER:
		instead(b, m, a);
		break;
	case KM_F_MATERIAL_UNRECORDED:
	case KM_F_COLOUR_UNRECORDED:
		unrecorded(b, m, a, "look at it");
		break;
	case KM_F_COLOUR_OFF:
	case KM_F_COLOUR_WRONG:
		instead(b, m, a);
		km_buf_str(b, " (dE00 ");
		/* to the tenth; thousandths of 1 are um of 1 mm */
		km_buf_mm_fixed(b, c->by * 1000, 1);
		km_buf_char(b, ')');
		break;
	default:
		break;
	}
}

void km_reason_of(struct km_buf *b, const struct km_match *m, enum km_aspect a)
{
	const struct km_comparison *c = &m->on[a];

	if (c->finding == KM_F_NOTHING || (!m->tool && !m->offer))
		return;
	if (c->finding == KM_F_PART_SUPERSEDING && a != KM_ASP_PART) {
		on_change(b, m, a);
		return;
	}
	switch (a) {
	case KM_ASP_SIZES:
		km_reason_sizes(b, m, c);
		break;
	case KM_ASP_SIZE_NAME:
		km_reason_size_name(b, m, c);
		break;
	case KM_ASP_MADE:
		on_made(b, c);
		break;
	case KM_ASP_MARK:
		on_mark(b, m, c);
		break;
	case KM_ASP_PART:
		on_part(b, m, c);
		break;
	case KM_ASP_FINISH:
		on_finish(b, m, c);
		break;
	case KM_ASP_HANDLE_MATERIAL:
	case KM_ASP_HANDLE_COLOUR:
		on_handle(b, m, a, c);
		break;
	case KM_ASP_KIND:
		on_kind(b, m);
		break;
	case KM_ASP_PIECE:
	case KM_ASP_RUST:
	case KM_ASP_PITS:
	case KM_ASP_PLATE:
	case KM_ASP_DAMAGE:
	case KM_ASP_UNFIT:
	case KM_ASP_CONDITION:
		km_reason_condition(b, m, a);
		break;
	default:
		on_dimension(b, m, a, c);
		break;
	}
}

void km_reason(struct km_buf *b, const struct km_match *m)
{
	enum km_attr a;

	if (m->headline >= KM_ASPECTS)
		return;
	km_reason_of(b, m, m->headline);
	if (!m->on[m->headline].weak || m->verdict != KM_SUBSTITUTE)
		return;
	a = aspects[m->headline].attr;
	km_buf_str(b, ", ");
	km_words_weak(b, m->slot, a < KM_ATTRS ? &m->slot->want[a] : NULL);
}
