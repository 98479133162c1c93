/* SPDX-License-Identifier: MIT */
/*
 * wants - for the pocket at a swap meet: what to look for, what rules a thing
 * out, and the most to pay for it.  40 columns, no colour, the same order
 * every run; names neither customers nor what anything here is worth.
 */
#include "report/encode.h"
#include "report/words.h"

#include <inttypes.h>
#include <string.h>

#include "trade/kind.h"
#include "unit/length.h"
#include "unit/money.h"

#define CELLS 40
#define INDENT 2

struct maker {
	struct km_page *p;
	const struct km_plan_place *place;
	int32_t pieces;
	struct km_buf *b;
};

/* The text so far as a line of its item; cleared. */
static void line(struct maker *m)
{
	if (m->b->len) {
		km_buf_fill(&m->p->out, ' ', INDENT);
		km_wrap(&m->p->out, m->b->text, INDENT, 2 * INDENT, CELLS);
	}
	km_buf_clear(m->b);
}

/* ------------------------------------------------------------------ */
/* What it must be                                                     */

static void want(struct maker *m, enum km_attr a, const char *what)
{
	const struct km_want *w = &m->place->slot->slot->want[a];

	if (w->state != KM_WANT_ANY_OF && w->state != KM_WANT_NONE)
		return;
	km_buf_printf(m->b, "%s ", what);
	km_words_wanted_of(m->b, m->place->slot->slot, a);
	if (w->or_none && w->state == KM_WANT_ANY_OF)
		km_buf_str(m->b, " or none");
	if (w->where && w->state == KM_WANT_ANY_OF)
		km_buf_printf(m->b, ", %s", w->where);
	if (w->certainty > KM_PROBABLE)
		km_buf_printf(m->b, " (%s)", km_certainty_word(w->certainty));
	line(m);
}

static void wanted(struct maker *m)
{
	static const struct { enum km_attr a; const char *what; } rest[] = {
		{ KM_A_LENGTH, "length" }, { KM_A_THICKNESS, "thickness" },
		{ KM_A_WIDTH, "head width" }, { KM_A_ANGLE, "head angle" },
		{ KM_A_BAR, "bar" }, { KM_A_HOLE, "hole" },
		{ KM_A_BLADE, "blade" }, { KM_A_JAW, "jaw" },
		{ KM_A_HOOK, "hook" }, { KM_A_DEPTH, "depth inside" },
		{ KM_A_MARK, "mark" }, { KM_A_FINISH, "finish" },
		{ KM_A_HANDLE_MATERIAL, "handle" },
		{ KM_A_HANDLE_COLOUR, "handle" }, { KM_A_PART, "part" },
	};

	for (size_t i = 0; i < sizeof rest / sizeof *rest; i++)
		want(m, rest[i].a, rest[i].what);
}

/* ------------------------------------------------------------------ */
/* What rules it out                                                   */

static bool is_firm(const struct km_want *w)
{
	return (w->state == KM_WANT_ANY_OF || w->state == KM_WANT_NONE) &&
	       w->certainty <= KM_PROBABLE;
}

/* What went wrong with the thing that lies there now; without one, what is
 * overlooked most [choice]. */
static enum km_aspect trap(const struct km_plan_place *p)
{
	const struct km_want *w = p->slot->slot->want;
	const struct km_match *m = p->slot->worst;

	if (m && m->headline < KM_ASPECTS &&
	    m->on[m->headline].letter == KM_FAILS && !m->on[m->headline].weak)
		return m->headline;
	if (p->kit->standard == KM_USABLE)
		return KM_ASP_UNFIT;
	if (is_firm(&w[KM_A_MARK]))
		return KM_ASP_MARK;
	if (is_firm(&w[KM_A_LENGTH]))
		return KM_ASP_LENGTH;
	if (is_firm(&w[KM_A_SIZES]))
		return KM_ASP_SIZES;
	return is_firm(&w[KM_A_FINISH]) ? KM_ASP_FINISH : KM_ASP_UNFIT;
}

/* "length outside 162 to 168 mm" */
static void outside(struct maker *m, const struct km_want *w)
{
	km_buf_str(m->b, "length");
	for (uint32_t i = 0; i < w->n && w->state == KM_WANT_ANY_OF; i++) {
		km_buf_str(m->b, i ? " and " : " outside ");
		km_buf_mm(m->b, km_span_low(w->any[i].span), 2);
		km_buf_str(m->b, " to ");
		km_buf_mm(m->b, km_span_high(w->any[i].span), 2);
	}
	km_buf_str(m->b, " mm");
}

/* Does a kind have jaws, or ends, that spring open with use? */
static bool can_spring(const struct km_kind *k)
{
	switch (k->id) {
	case KM_KIND_OPEN_DOUBLE:
	case KM_KIND_OPEN_SINGLE:
	case KM_KIND_COMBINATION:
	case KM_KIND_ADJUSTABLE:
	case KM_KIND_TAPPET_SPANNER:
	case KM_KIND_IGNITION_SPANNER:
	case KM_KIND_SPOKE_KEY:
		return true;
	default:
		return strstr(k->name, "pliers") != NULL;
	}
}

/* What it cannot be used with: only what can befall the kind [choice].  What
 * is used up is new or it is nothing. */
static void broken(struct maker *m)
{
	const struct km_slot *s = m->place->slot->slot;
	const struct km_want *w = &s->want[KM_A_TOOL];
	bool known = w->state == KM_WANT_ANY_OF && w->n;

	if (!s->durable)
		km_buf_str(m->b, "used before, damaged");
	else if (known && can_spring(w->any[0].kind))
		km_buf_str(m->b, "sprung, cracked, badly chipped");
	else if (known)
		km_buf_str(m->b, "cracked, bent, badly worn");
	else
		km_buf_str(m->b, "damaged");
}

static void ruled_out(struct maker *m)
{
	const struct km_want *w = m->place->slot->slot->want;
	enum km_aspect a = trap(m->place);

	km_buf_str(m->b, "no good: ");
	if (a == KM_ASP_LENGTH)
		outside(m, &w[KM_A_LENGTH]);
	else if (a == KM_ASP_MARK || a == KM_ASP_SIZE_NAME)
		km_buf_str(m->b, w[KM_A_MARK].state == KM_WANT_NONE
					 ? "any mark" : "another mark, or none");
	else if (a == KM_ASP_SIZES)
		km_buf_str(m->b, "another size at either end");
	else if (a == KM_ASP_MADE)
		km_buf_str(m->b, "a reproduction");
	else if (a == KM_ASP_PIECE)
		km_buf_str(m->b, "a piece missing");
	else if (a == KM_ASP_UNFIT || a >= KM_ASP_RUST)
		broken(m);
	else
		km_buf_printf(m->b, "another %s", km_aspect_word(a));
	line(m);
}

/* ------------------------------------------------------------------ */
/* What to pay                                                         */

/* The kit's own most, where it is in the money of this run. */
static int64_t most_of(const struct maker *m)
{
	const struct km_slot *s = m->place->slot->slot;
	const char *own = s->kit ? s->kit->currency : NULL;

	if (own && m->p->currency && strcmp(own, m->p->currency) != 0)
		return -1;
	return s->most.minor;
}

static void ceiling(struct maker *m, const char *what, int64_t most)
{
	int64_t own = most_of(m);

	km_buf_printf(m->b, "%s: ", what);
	if (most < 0) {
		km_buf_str(m->b, "not worth it");
	} else if (own >= 0 && most >= own) {
		km_buf_str(m->b, "up to your most, ");
		km_buf_money(m->b, own, m->p->decimals);
	} else if (most == KM_NO_CEILING) {
		km_buf_str(m->b, "your limit");
	} else {
		km_buf_str(m->b, "up to ");
		km_buf_money(m->b, most, m->p->decimals);
	}
	if (most >= 0 && m->pieces > 1)
		km_buf_str(m->b, " each");
	line(m);
}

/* ------------------------------------------------------------------ */

static void item(struct maker *m)
{
	const struct km_slot *s = m->place->slot->slot;

	km_buf_char(&m->p->out, '\n');
	km_buf_printf(m->b, "%s ", s->id);
	km_words_of_slot(m->b, s, true);
	if (m->pieces > 1)
		km_buf_printf(m->b, ", %" PRId32 " pieces", m->pieces);
	km_wrap(&m->p->out, m->b->len ? m->b->text : "", 0, INDENT, CELLS);
	km_buf_clear(m->b);
	wanted(m);
	ruled_out(m);
	if (m->place->ceiling_unknown) {
		km_buf_str(m->b, "most to pay: not worked out");
		line(m);
		return;
	}
	ceiling(m, "ready", m->place->ceiling_ready);
	ceiling(m, "needs work", m->place->ceiling_work);
}

/* Something to look for, and not only work to be done. */
static bool is_item(const struct km_plan_place *p)
{
	return p->ceiling_wanted ||
	       (p->ceiling_unknown && p->chosen->kind != KM_WAY_WORK);
}

/* Why a price is missing. */
static void why_unknown(struct maker *m, const struct km_plan *plan)
{
	bool any = false;

	for (uint32_t i = 0; i < plan->n_places; i++)
		any |= plan->places[i].ceiling_unknown;
	if (!any)
		return;
	km_buf_str(m->b, "not worked out: too many places or offers to try "
			 "each, or the search reached its limit");
	km_buf_char(&m->p->out, '\n');
	km_wrap(&m->p->out, m->b->len ? m->b->text : "", 0, INDENT, CELLS);
	km_buf_clear(m->b);
}

static bool same_item(const struct km_plan_place *a,
		      const struct km_plan_place *b)
{
	return is_item(b) && a->slot == b->slot &&
	       a->ceiling_unknown == b->ceiling_unknown &&
	       a->ceiling_ready == b->ceiling_ready &&
	       a->ceiling_work == b->ceiling_work;
}

void km_text_wants(struct km_page *p)
{
	const struct km_plan *plan = p->audit->plan;
	const struct km_kit_audit *kit = NULL;
	struct maker m = { .p = p, .b = &p->line };

	km_buf_str(m.b, "WANTS");
	if (p->currency)
		km_buf_printf(m.b, ", prices in %s", p->currency);
	km_wrap(&p->out, m.b->len ? m.b->text : "", 0, INDENT, CELLS);
	km_buf_clear(m.b);
	for (uint32_t i = 0; plan && i < plan->n_places; i++) {
		m.place = &plan->places[i];
		if (!is_item(m.place))
			continue;
		for (m.pieces = 1; i + 1 < plan->n_places &&
				   same_item(m.place, &plan->places[i + 1]); i++)
			m.pieces++;
		if (m.place->kit != kit) {
			km_buf_printf(m.b, "kit %s", m.place->kit->kit->id);
			km_buf_char(&p->out, '\n');
			km_wrap(&p->out, m.b->len ? m.b->text : "", 0, INDENT,
				CELLS);
			km_buf_clear(m.b);
		}
		kit = m.place->kit;
		item(&m);
	}
	if (!kit)
		km_buf_str(&p->out, "nothing to look for\n");
	else
		why_unknown(&m, plan);
}
