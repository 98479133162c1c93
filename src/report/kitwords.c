/* SPDX-License-Identifier: MIT */
#include "report/kitwords.h"

#include <inttypes.h>

#include "base/str.h"
#include "report/words.h"
#include "trade/pouch.h"
#include "unit/length.h"
#include "unit/serial.h"

const char *km_attr_word(enum km_attr a)
{
	static const char *const word[KM_ATTRS] = {
		[KM_A_TOOL] = "kind of tool", [KM_A_DRIVE] = "drive",
		[KM_A_SIZES] = "sizes", [KM_A_OPENINGS] = "openings",
		[KM_A_LENGTH] = "length", [KM_A_THICKNESS] = "thickness",
		[KM_A_WIDTH] = "width", [KM_A_ANGLE] = "angle",
		[KM_A_BAR] = "bar", [KM_A_HOLE] = "hole",
		[KM_A_BLADE] = "blade", [KM_A_JAW] = "jaw",
		[KM_A_HOOK] = "hook", [KM_A_DEPTH] = "depth",
		[KM_A_FINISH] = "finish",
		[KM_A_HANDLE_COLOUR] = "handle colour",
		[KM_A_HANDLE_MATERIAL] = "handle", [KM_A_MARK] = "mark",
		[KM_A_MADE] = "made", [KM_A_PART] = "part",
	};

	return word[a];
}

/* "8120", or "between 8000 and 8200" of a fuzzy end. */
static void add_end(struct km_buf *b, const char *pattern, int64_t earliest,
		    int64_t latest)
{
	if (earliest != latest)
		km_buf_str(b, "between ");
	km_buf_serial(b, pattern, earliest);
	if (earliest == latest)
		return;
	km_buf_str(b, " and ");
	km_buf_serial(b, pattern, latest);
}

void km_words_serials(struct km_buf *b, const struct km_serials *s)
{
	if (!s->given)
		return;
	if (s->open_start && s->open_end) {
		km_buf_str(b, s->pattern ? s->pattern : "any");
		return;
	}
	if (s->open_start) {
		km_buf_str(b, "up to ");
		add_end(b, s->pattern, s->to_earliest, s->to_latest);
		return;
	}
	add_end(b, s->pattern, s->from_earliest, s->from_latest);
	if (s->open_end) {
		km_buf_str(b, " on");
		return;
	}
	km_buf_str(b, " to ");
	add_end(b, s->pattern, s->to_earliest, s->to_latest);
}

const char *km_pouch_fact_word(enum km_pouch_fact f)
{
	static const char *const word[] = {
		[KM_FACT_FORM] = "pouch", [KM_FACT_CLOTH] = "pouch of",
		[KM_FACT_POCKETS] = "pockets",
		[KM_FACT_POCKET_WIDTH] = "pocket width",
		[KM_FACT_POCKET_DEPTH] = "pocket depth",
		[KM_FACT_CLOSING] = "closing allowance",
		[KM_FACT_WIDTH] = "pouch width",
		[KM_FACT_DEPTH] = "pouch depth", [KM_FACT_FLAP] = "flap",
		[KM_FACT_CLOTH_THICK] = "cloth", [KM_FACT_EASE] = "ease",
	};

	return word[f];
}

static void add_mm(struct km_buf *b, int64_t nm)
{
	if (nm < 0)
		return;
	km_buf_mm(b, nm, 6);
	km_buf_str(b, " mm");
}

static void add_widths(struct km_buf *b, const struct km_pouch *p)
{
	if (!p->n_widths) {
		add_mm(b, p->pocket_width_nm);
		return;
	}
	for (uint32_t i = 0; i < p->n_widths; i++) {
		km_buf_str(b, i ? ", " : "");
		km_buf_mm(b, p->widths_nm[i], 6);
	}
	km_buf_str(b, " mm");
}

/* Nothing where it is not stated. */
static void add_fact(struct km_buf *b, const struct km_pouch *p,
		     enum km_pouch_fact f)
{
	const int64_t nm[KM_POUCH_FACTS] = {
		[KM_FACT_POCKET_DEPTH] = p->pocket_depth_nm,
		[KM_FACT_CLOSING] = p->closing_allowance_nm,
		[KM_FACT_WIDTH] = p->width_nm,
		[KM_FACT_DEPTH] = p->depth_nm, [KM_FACT_FLAP] = p->flap_nm,
		[KM_FACT_CLOTH_THICK] = p->cloth_nm,
		[KM_FACT_EASE] = p->ease_nm,
	};

	switch (f) {
	case KM_FACT_FORM:
		km_buf_str(b, p->form ? p->form->name : "form not said");
		break;
	case KM_FACT_CLOTH:
		km_buf_str(b, p->material ? p->material : "");
		break;
	case KM_FACT_POCKETS:
		if (p->pockets)
			km_buf_int(b, p->pockets);
		break;
	case KM_FACT_POCKET_WIDTH:
		add_widths(b, p);
		break;
	default:
		add_mm(b, nm[f]);
		break;
	}
}

void km_words_pouch(struct km_buf *b, const struct km_pouch *p,
		    enum km_pouch_fact f)
{
	size_t before = b->len;

	if (p)
		add_fact(b, p, f);
	if (b->len == before)
		km_buf_str(b, "not said");
}

/* The figure behind the only word of a colour: the same word may stand for
 * other colours in other kits. */
static void add_figure(struct km_buf *b, const struct km_want *w)
{
	const union km_value *v = w->any;

	if (w->n == 1 && v->colour.word && v->colour.rgb != KM_COLOUR_WORD_ONLY)
		km_buf_printf(b, " #%06" PRIx32, v->colour.rgb);
}

void km_words_claim(struct km_buf *b, const struct km_want *w, enum km_attr a)
{
	switch (w->state) {
	case KM_WANT_NOTHING:
		km_buf_str(b, "not said");
		return;
	case KM_WANT_UNKNOWN:
		km_buf_str(b, "unknown");
		return;
	case KM_WANT_NONE:
	case KM_WANT_ANY_OF:
		km_words_wanted(b, w, a);
		break;
	}
	if (w->state != KM_WANT_ANY_OF)
		return;
	if (a == KM_A_HANDLE_COLOUR)
		add_figure(b, w);
	if (w->or_none)
		km_buf_str(b, " or none");
	if (a == KM_A_MARK && w->where)
		km_buf_printf(b, " (%s)", w->where);
}
