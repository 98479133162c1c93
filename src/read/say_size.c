/* SPDX-License-Identifier: MIT */
/* A size that cannot be read: why, and how it is written. */
#include "base/buf.h"
#include "read/attr.h"
#include "read/measure.h"

/* No default: the compiler misses a fault that has no text. */
static const char *why(enum km_size_fault fault)
{
	switch (fault) {
	case KM_SIZE_EMPTY:
		return "there is nothing in it";
	case KM_SIZE_NO_NUMBER:
		return "there is no size in it";
	case KM_SIZE_BARE_CROSS:
		return "write the system: PH 2, PZ 2 or JIS H 2";
	case KM_SIZE_NO_UNIT:
		return "write the unit, mm or in";
	case KM_SIZE_LETTERS:
		return "the letters name no system of sizes; there are mm, "
		       "AF, W, BS, BA, USS, PH, PZ and JIS";
	case KM_SIZE_NOT_LISTED:
		return "the system has no such size";
	case KM_SIZE_WRONG_FORM:
		return "it is a size for another drive";
	case KM_SIZE_HALF:
		return "a slotted tip has two figures, thickness by width: "
		       "write 0.8 x 5.5 mm";
	case KM_SIZE_TWO_JAWS:
		return "the two names are not one jaw; write one entry an end";
	case KM_SIZE_RANGE:
		return "it must be more than 0 and at most 1 m";
	case KM_SIZE_TRAILING:
		return "there is more text behind the size";
	case KM_SIZE_TOO_MANY:
		return "there are too many sizes in it";
	case KM_SIZE_OK:		/* these have a message of their own */
	case KM_SIZE_BARE_FRACTION:
	case KM_SIZE_PAIR:
	case KM_SIZE_COMMA:
	case KM_SIZE_NO_MEMORY:
	case KM_SIZE_FAULTS:
		break;
	}
	return "write it as it is struck, with its letters or unit";
}

/* Two sizes in one entry: how to write them as two. */
static void hint_pair(struct km_bind *b, struct km_diag *one,
		      const struct km_node *n, const struct km_drive *drive)
{
	struct km_size_rules rules = { drive, false, KM_UNIT_NONE };
	struct km_size two[2];
	uint32_t count = 0;

	if (km_size_parse_cell(km_node_slice(n), &rules, b->scratch, two, 2,
			       &count) == KM_SIZE_OK && count == 2)
		KM_HINT(b, one, "write one entry an end: [%s, %s]",
			two[0].text, two[1].text);
	else
		KM_HINT(b, one, "write one entry an end, such as [10 mm, "
			"12 mm]; only a slotted tip has a size of the form "
			"0.8 x 5.5 mm");
}

void km_say_size(struct km_bind *b, const struct km_node *n,
		 const struct km_drive *drive, enum km_size_fault fault)
{
	const char *text = km_clip(b, n);
	struct km_diag *one;

	switch (fault) {
	case KM_SIZE_BARE_FRACTION:
		one = KM_SAY(b, n, AMBIGUOUS_SIZE, text);
		KM_HINT(b, one, "write the letters: '%s AF' across flats, "
			"'%s W' or '%s BS' by the thread", text, text, text);
		break;
	case KM_SIZE_PAIR:
		one = KM_SAY(b, n, SIZE_PAIR, text);
		hint_pair(b, one, n, drive);
		break;
	case KM_SIZE_COMMA:
		one = KM_SAY(b, n, DECIMAL_COMMA, text, "sizes");
		KM_HINT(b, one, "write a point; commas are read in tables only");
		break;
	case KM_SIZE_NO_MEMORY:
		b->nomem = true;
		break;
	default:
		one = KM_SAY(b, n, BAD_SIZE, text);
		KM_HINT(b, one, "%s", why(fault));
	}
}
