/* SPDX-License-Identifier: MIT */
#include "trade/hardness.h"

#include <string.h>

#include "base/num.h"

static const struct {
	const char *document;
	int32_t mpa_from, mpa_to, hrc_from, hrc_to, c_from, c_to, hours;
	const char *source;
} bakes[] = {
#define BAKE(document, mpa_from, mpa_to, hrc_from, hrc_to, hv_from, hv_to, \
	     section, c_from, c_to, hours, start_within, note, source) \
	{ document, mpa_from, mpa_to, hrc_from, hrc_to, c_from, c_to, hours, \
	  source },
#include "data/embrittlement.def"
#undef BAKE
};
#define BAKES (sizeof bakes / sizeof *bakes)

static const struct { const char *kinds; int32_t from, to; const char *source; }
tool_rows[] = {
#define TOOL_HARDNESS(kinds, applies_to, from, to, source) \
	{ kinds, from, to, source },
#include "data/tool_hardness.def"
#undef TOOL_HARDNESS
};
#define TOOL_ROWS (sizeof tool_rows / sizeof *tool_rows)

static const char *const kind_ids[KM_KIND_COUNT] = {
#define KIND(id, ...) [KM_KIND_##id] = #id,
#include "data/kinds.def"
#undef KIND
};

static bool in_list(const char *list, const char *word)
{
	size_t n = strlen(word);

	while (*list) {
		size_t len = strcspn(list, "|");

		if (len == n && !km_fold_compare(
				(struct km_slice){ list, len },
				(struct km_slice){ word, n }))
			return true;
		list += len + (list[len] == '|');
	}
	return false;
}

/* A figure in tenths off the front; false: none. */
static bool eat_tenths(struct km_slice *s, int32_t *out)
{
	struct km_rational v;
	int64_t tenths;
	int places;

	km_slice_skip_blanks(s);
	if (km_decimal_eat(s, false, &v, &places) != KM_OK ||
	    !km_mul_div(v.num, 10, v.den, &tenths) || tenths > 100000)
		return false;
	*out = (int32_t)tenths;
	km_slice_skip_blanks(s);
	return true;
}

/* MPa or HV as the HRC band of the first table row that holds it; below the
 * threshold 30 HRC, which is soft, above the last row 52. */
static int32_t hrc_of_mpa(int32_t mpa)
{
	if (mpa < KM_HARDENED_MPA)
		return KM_HARDENED_HRC10 - 10;
	for (size_t i = 0; i < BAKES; i++)
		if (!strcmp(bakes[i].source, "astm-b850") &&
		    mpa <= bakes[i].mpa_to)
			return bakes[i].hrc_to * 10 - 1;
	return 520;
}

static bool read_tested(const char *text, struct km_hardness *h)
{
	struct km_slice s = km_slice_of(text);
	int32_t a, b;

	if (!eat_tenths(&s, &a))
		return false;
	b = a;
	if (km_slice_eat(&s, '-') && !eat_tenths(&s, &b))
		return false;
	if (km_slice_eat_word(&s, "HRC")) {
		h->from = a;
		h->to = b;
	} else if (km_slice_eat_word(&s, "MPa")) {
		h->from = hrc_of_mpa(a / 10);
		h->to = hrc_of_mpa(b / 10);
	} else if (km_slice_eat_word(&s, "HV")) {
		/* only the threshold is published for both scales */
		h->hard = b >= KM_HARDENED_HV * 10 ? KM_HARD_YES : KM_HARD_NO;
		h->tested = true;
		return true;
	} else {
		return false;
	}
	h->hard = h->to >= KM_HARDENED_HRC10 ? KM_HARD_YES : KM_HARD_NO;
	h->tested = true;
	return true;
}

struct km_hardness km_hardness_of(const char *tested,
				  const struct km_kind *kind)
{
	struct km_hardness h = { KM_HARD_UNKNOWN, -1, -1, false, NULL };

	if (tested && read_tested(tested, &h))
		return h;
	/* said, not measured: enough for care, not to call it soft */
	if (tested && (!km_fold_compare(km_slice_of(tested),
					km_slice_of("hard")) ||
		       !km_fold_compare(km_slice_of(tested),
					km_slice_of("hardened"))))
		h.hard = KM_HARD_YES;
	for (size_t i = 0; kind && i < TOOL_ROWS; i++) {
		if (kind->id == KM_KIND_UNLISTED ||
		    !in_list(tool_rows[i].kinds, kind_ids[kind->id]))
			continue;
		h.from = tool_rows[i].from < 0 ? -1 : tool_rows[i].from * 10;
		h.to = tool_rows[i].to < 0 ? -1 : tool_rows[i].to * 10;
		if (h.hard == KM_HARD_UNKNOWN)
			h.hard = h.to < 0 || h.to >= KM_HARDENED_HRC10 ?
				 KM_HARD_YES : KM_HARD_NO;
		h.source = tool_rows[i].source;
		break;
	}
	return h;
}

static struct km_bake row_bake(size_t i)
{
	return (struct km_bake){ KM_BAKE_HOURS, bakes[i].hours,
		bakes[i].c_from, bakes[i].c_to, bakes[i].source };
}

/* The longest bake whose band holds v; by MPa or by tenths of HRC. */
static struct km_bake find(int32_t v, bool mpa)
{
	struct km_bake best = { KM_BAKE_BEYOND, 0, 0, 0, "astm-b850" };

	for (size_t i = 0; i < BAKES; i++) {
		int32_t from = mpa ? bakes[i].mpa_from - 1 :
			       bakes[i].hrc_from * 10;
		int32_t to = mpa ? bakes[i].mpa_to : bakes[i].hrc_to * 10;
		bool above = mpa && bakes[i].mpa_from > KM_HARDENED_MPA + 1 ?
			     v > from : v >= from;

		if (!strcmp(bakes[i].source, "astm-b850") && above &&
		    v <= to && bakes[i].hours > best.hours)
			best = row_bake(i);
	}
	return best;
}

struct km_bake km_bake_at_hrc(int32_t hrc10)
{
	if (hrc10 < KM_HARDENED_HRC10)
		return (struct km_bake){ .is = KM_BAKE_NOT_NEEDED };
	return find(hrc10, false);
}

struct km_bake km_bake_at_mpa(int32_t mpa)
{
	if (mpa < KM_HARDENED_MPA)
		return (struct km_bake){ .is = KM_BAKE_NOT_NEEDED };
	return find(mpa, true);
}

struct km_bake km_bake_for(const struct km_hardness *h)
{
	if (h->hard == KM_HARD_NO)
		return (struct km_bake){ .is = KM_BAKE_NOT_NEEDED };
	if (h->hard == KM_HARD_UNKNOWN || (h->from < 0 && h->to < 0))
		return (struct km_bake){ .is = KM_BAKE_UNKNOWN };
	if (h->to < 0)
		return (struct km_bake){ .is = KM_BAKE_BEYOND };
	return km_bake_at_hrc(h->to);
}
