/* SPDX-License-Identifier: MIT */
/*
 * What to do to find out: common practice, by what each kind of source is
 * good for.
 */
#include "report/questions.h"

#include "report/words.h"

static bool has_source(const struct km_sources *s, enum km_source_what w)
{
	for (uint32_t i = 0; i < s->n; i++)
		if (s->v[i]->what == w)
			return true;
	return false;
}

/* Whoever remembers it can be asked again. */
static void ask_again(struct km_buf *b, const struct km_sources *s)
{
	for (uint32_t i = 0; i < s->n; i++)
		if (s->v[i]->what == KM_SRC_RECOLLECTION) {
			km_buf_printf(b, "%sask %s what the recollection "
				      "rests on", b->len ? "; " : "",
				      s->v[i]->title ? s->v[i]->title
						     : s->v[i]->id);
			return;
		}
}

/* The kinds of source that tell best whether a tool was there, but for those
 * that were heard already. */
static void find_slot(struct km_buf *b, const struct km_slot *s)
{
	static const struct { enum km_source_what w; const char *what; } best[] = {
		{ KM_SRC_PARTS_LIST, "a parts list that covers the machine" },
		{ KM_SRC_PHOTOGRAPH, "a dated photograph of the tools" },
		{ KM_SRC_SURVIVOR, "a kit that is known to be untouched" },
	};
	int n = 0;

	for (size_t i = 0; i < sizeof best / sizeof *best; i++) {
		if (has_source(&s->for_it, best[i].w) ||
		    has_source(&s->against_it, best[i].w) ||
		    has_source(&s->silent, best[i].w))
			continue;
		km_buf_printf(b, "%s%s", n++ ? ", or " : "look for ",
			      best[i].what);
	}
	if (!n)
		km_buf_str(b, "see which of the sources covers the machine");
	ask_again(b, &s->for_it);
}

static void find_claim(struct km_buf *b, const struct km_question *q)
{
	switch (q->attr) {
	case KM_A_TOOL:
	case KM_A_DRIVE:
		km_buf_str(b, "look for its picture in the handbook, or for "
			   "a kit that is known to be untouched");
		break;
	case KM_A_FINISH:
	case KM_A_HANDLE_COLOUR:
	case KM_A_HANDLE_MATERIAL:
		km_buf_str(b, "look at one that is known to be untouched, "
			   "where light and hands did not reach, or for a "
			   "dated colour photograph");
		break;
	case KM_A_MARK:
	case KM_A_MADE:
		km_buf_str(b, "read the mark on one that is known to be "
			   "untouched");
		break;
	case KM_A_PART:
		km_buf_str(b, "look it up in a parts list that covers the "
			   "machine");
		break;
	default:
		km_buf_str(b, "measure one that is known to be untouched, or "
			   "look for the factory's drawing");
		break;
	}
	ask_again(b, &q->slot->want[q->attr].sources);
}

static void find_kit(struct km_buf *b, const struct km_question *q)
{
	static const char *const how[] = {
		[KM_DECIDED] = "",
		[KM_UNDECIDED_SERIAL] =
			"see which kit the nearest serial numbers left with",
		[KM_UNDECIDED_DATE] =
			"read the serial number, or date it more closely",
		[KM_UNDECIDED_MARKET] = "find out where it was first sold",
	};

	km_buf_str(b, how[q->kit->undecided]);
}

/* Of a mark or size that is there and was not read. */
#define READ_GENTLY "after gentle cleaning, without abrasive, wire wheel or acid"

static void find_sizes(struct km_buf *b, const struct km_question *q)
{
	const char *id = q->tool->id;

	if (q->match->on[q->aspect].finding == KM_F_WIDTH_CONTRADICTS)
		km_buf_printf(b, "measure the jaw of %s again, and read what "
			      "is struck " READ_GENTLY, id);
	else if (q->attr == KM_A_OPENINGS)
		km_buf_printf(b, "measure the openings of %s", id);
	else
		km_buf_printf(b, "read the size struck on %s " READ_GENTLY
			      ", and measure it", id);
}

static void find_tool(struct km_buf *b, const struct km_question *q)
{
	const char *id = q->tool->id;

	if (q->tool->status == KM_LENT)
		km_buf_str(b, "ask who has it: ");
	else if (q->tool->status == KM_AT_PLATER)
		km_buf_str(b, "ask the plater before work begins: ");
	switch (q->attr) {
	case KM_A_SIZES:
	case KM_A_OPENINGS:
		find_sizes(b, q);
		break;
	case KM_A_MARK:
		km_buf_printf(b, q->match->on[q->aspect].finding ==
				 KM_F_MARK_UNREAD
				 ? "read the mark of %s " READ_GENTLY
				 : "look whether %s is marked, all round", id);
		break;
	case KM_A_FINISH:
		km_buf_printf(b, "look at the finish of %s where no hand "
			      "rubs it", id);
		break;
	case KM_A_HANDLE_COLOUR:
	case KM_A_HANDLE_MATERIAL:
		km_buf_printf(b, "look at the handle of %s in daylight", id);
		break;
	case KM_A_JAW:
		km_buf_printf(b, "measure the jaws of %s", id);
		break;
	default:
		km_buf_printf(b, "measure the %s of %s",
			      km_aspect_word(q->aspect), id);
		break;
	}
}

void km_words_find_out(struct km_buf *b, const struct km_question *q)
{
	switch (q->what) {
	case KM_ASK_KIT:
		find_kit(b, q);
		break;
	case KM_ASK_SLOT:
		find_slot(b, q->slot);
		break;
	case KM_ASK_CLAIM:
		find_claim(b, q);
		break;
	default:
		find_tool(b, q);
		break;
	}
}
