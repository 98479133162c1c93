/* SPDX-License-Identifier: MIT */
#include "report/words.h"

#include <inttypes.h>

#include "unit/date.h"
#include "unit/length.h"
#include "unit/money.h"

const char *km_remark_word(enum km_remark_what w)
{
	static const char *const word[] = {
		[KM_REMARK_PIN_WORSE] = "pin-worse",
		[KM_REMARK_SECOND_BEST] = "second-best",
		[KM_REMARK_CLASH] = "clash", [KM_REMARK_NOT_MINE] = "not-ours",
		[KM_REMARK_LENT] = "lent", [KM_REMARK_AT_PLATER] = "at-plater",
		[KM_REMARK_OVERDUE] = "overdue",
		[KM_REMARK_NOT_A_PAIR] = "not-a-pair",
		[KM_REMARK_BAR_HOLE] = "bar-hole",
		[KM_REMARK_COMPANION_OPEN] = "companion-open",
		[KM_REMARK_WEAK] = "weak-evidence",
		[KM_REMARK_MATCH_LIKE] = "match-like",
		[KM_REMARK_OLD_PRICE] = "old-price",
		[KM_REMARK_RECEIVED_RIGHT] = "received-right",
		[KM_REMARK_RECEIVED_WRONG] = "received-wrong",
	};

	return word[w];
}

/* A sentence is a pattern: %s the slot, %o the other slot, %t the tool, %a
 * the aspect, %w the tool's owner. */
static const char *const pattern[] = {
	[KM_REMARK_PIN_WORSE] = "%t would be a better match for %s than what "
				"is pinned there",
	[KM_REMARK_SECOND_BEST] = "%s takes second best: %t went to %o",
	[KM_REMARK_CLASH] = "%t is wanted by %s and %o, given to %o",
	[KM_REMARK_NOT_MINE] = "%t would fill %s, but belongs to %w",
	[KM_REMARK_LENT] = "%s is filled on paper, %t is lent",
	[KM_REMARK_AT_PLATER] = "%t of %s is at the plater",
	[KM_REMARK_OVERDUE] = "%t for %s is overdue by ",
	[KM_REMARK_NOT_A_PAIR] = "the pieces of %s are not a matched pair",
	[KM_REMARK_BAR_HOLE] = "%t does not pass the hole of %o: bar ",
	[KM_REMARK_COMPANION_OPEN] = "%s is there, but %o that goes with it "
				     "is not",
	[KM_REMARK_WEAK] = "%t in %s fails on %a only by weak evidence: spend "
			   "nothing until it is confirmed",
	[KM_REMARK_MATCH_LIKE] = "for %s find one like %t, mark and length",
	[KM_REMARK_OLD_PRICE] = "the price for %s is old: ",
	[KM_REMARK_RECEIVED_RIGHT] = "%t came for %s and is right: order "
				     "closed, ",
	[KM_REMARK_RECEIVED_WRONG] = "%t came for %s and is ",
};

static void add_word(struct km_buf *b, char letter, const struct km_remark *r,
		     const struct km_kit *home)
{
	const struct km_slot *s = letter == 'o' ? r->other : r->slot;

	switch (letter) {
	case 's':
	case 'o':
		if (s)
			km_words_slot_ref(b, s, home);
		else
			km_buf_str(b, "another slot");
		break;
	case 't':
		km_buf_str(b, r->tool ? r->tool->id : "a tool");
		break;
	case 'w':
		km_buf_str(b, r->tool && r->tool->owner ? r->tool->owner
							: "somebody else");
		break;
	default:
		km_buf_str(b, r->aspect < KM_ASPECTS
				      ? km_aspect_word(r->aspect)
				      : "one thing");
		break;
	}
}

static void add_lent(struct km_buf *b, const struct km_tool_more *more)
{
	if (more && more->lent_to)
		km_buf_printf(b, " to %s", more->lent_to);
	if (more && more->since.year) {
		km_buf_str(b, " since ");
		km_buf_date(b, more->since);
	}
}

static void add_fills(struct km_buf *b, const struct km_remark *r,
		      const struct km_kit *home)
{
	km_buf_str(b, r->other == r->slot ? "fills "
		      : r->other ? "but sits in " : "but ");
	km_words_slot_ref(b, r->other ? r->other : r->slot, home);
	if (!r->other)
		km_buf_str(b, " has another");
}

/* Until when, or since when no more, it can be sent back; ", " before it. */
static void add_return(struct km_buf *b, const struct km_remark *r)
{
	const struct km_tool_more *more = r->tool ? r->tool->more : NULL;

	if (!more || !more->return_by.year)
		return;
	if (r->a != KM_NO_DAY && r->a < 0) {
		km_buf_str(b, ", it could be sent back until ");
		km_buf_date(b, more->return_by);
		km_buf_printf(b, ", %" PRId64 " day%s ago", -r->a,
			      r->a == -1 ? "" : "s");
		return;
	}
	km_buf_str(b, ", send it back by ");
	km_buf_date(b, more->return_by);
	if (r->a == 0)
		km_buf_str(b, ", today");
	else if (r->a != KM_NO_DAY)
		km_buf_printf(b, ", %" PRId64 " day%s left", r->a,
			      r->a == 1 ? "" : "s");
}

/* "not right, send it back by 2026-05-01, 11 days left: length +13 mm, 10 over
 * tolerance; order closed, S-08 is open again": what has a day comes first */
static void add_wrong(struct km_buf *b, const struct km_remark *r,
		      const struct km_kit *home)
{
	enum km_verdict v = r->match ? r->match->verdict : KM_SUBSTITUTE;

	km_buf_str(b, v == KM_AFTER_WORK ? "right only after work"
		      : v == KM_UNVERIFIED ? "not proved right"
					   : "not right");
	add_return(b, r);
	km_buf_str(b, ": ");
	if (r->match)
		km_reason(b, r->match);
	km_buf_str(b, "; order closed, ");
	if (r->other != r->slot || v == KM_SUBSTITUTE) {
		km_words_slot_ref(b, r->slot, home);
		km_buf_str(b, r->b == KM_RIGHT ? " has another"
					       : " is open again");
	}
	if (r->other == r->slot) {
		km_buf_str(b, v == KM_SUBSTITUTE ? ", it stands in there"
						 : "it sits there");
	} else if (r->other) {
		km_buf_str(b, ", it sits in ");
		km_words_slot_ref(b, r->other, home);
	}
}

/* What the pattern leaves open at its end. */
static void add_end(struct km_buf *b, const struct km_remark *r,
		    const struct km_kit *home, int decimals)
{
	switch (r->what) {
	case KM_REMARK_PIN_WORSE:
	case KM_REMARK_SECOND_BEST:
		if (r->aspect < KM_ASPECTS)
			km_buf_printf(b, " (%s)", km_aspect_word(r->aspect));
		break;
	case KM_REMARK_CLASH:
		if (r->a < 0)
			break;
		km_buf_str(b, "; another costs ");
		km_buf_money(b, r->a, decimals);
		break;
	case KM_REMARK_LENT:
	case KM_REMARK_AT_PLATER:
		add_lent(b, r->tool ? r->tool->more : NULL);
		break;
	case KM_REMARK_OVERDUE:
		km_buf_printf(b, "%" PRId64 " day%s", r->a,
			      r->a == 1 ? "" : "s");
		break;
	case KM_REMARK_OLD_PRICE:
		km_buf_printf(b, "%" PRId64 " months", r->a);
		break;
	case KM_REMARK_RECEIVED_RIGHT:
		add_fills(b, r, home);
		break;
	case KM_REMARK_RECEIVED_WRONG:
		add_wrong(b, r, home);
		break;
	case KM_REMARK_BAR_HOLE:
		km_buf_mm(b, r->a, 2);
		km_buf_str(b, " mm, hole ");
		km_buf_mm(b, r->b, 2);
		km_buf_str(b, " mm");
		break;
	default:
		break;
	}
}

void km_words_remark(struct km_buf *b, const struct km_remark *r,
		     const struct km_kit *home, int decimals)
{
	for (const char *p = pattern[r->what]; *p; p++) {
		if (*p == '%')
			add_word(b, *++p, r, home);
		else
			km_buf_char(b, *p);
	}
	add_end(b, r, home, decimals);
}
