/* SPDX-License-Identifier: MIT */
#include "match/rules.h"

/*
 * The letters of the verdict rules, one row a finding, one column a standard:
 * as-delivered, period-correct, usable, as-found.  P passes, N passes with a
 * note, U not known, C curable by work, F fails.
 */
#define P KM_PASSES
#define N KM_NOTED
#define U KM_NOT_KNOWN
#define C KM_CURABLE
#define F KM_FAILS
static const uint8_t letters[KM_FINDINGS][KM_STANDARDS] = {
	[KM_F_NOTHING]			= { P, P, P, P },
	[KM_F_KIND_OTHER]		= { F, F, F, F },
	[KM_F_WIDTHS_RIGHT]		= { P, P, P, P },
	[KM_F_WIDTH_SERVES]		= { F, F, N, F },
	[KM_F_END_WRONG]		= { F, F, F, F },
	[KM_F_WIDTH_UNDECIDED]		= { U, U, U, U },
	[KM_F_WIDTH_UNRECORDED]		= { U, U, U, U },
	[KM_F_WIDTH_CONTRADICTS]	= { U, U, U, U },
	[KM_F_NAME_LISTED]		= { P, P, P, P },
	[KM_F_NAME_OTHER]		= { F, N, P, F },
	[KM_F_NAME_UNRECORDED]		= { U, N, P, U },
	[KM_F_DIMENSION_WITHIN]		= { P, P, P, P },
	[KM_F_DIMENSION_NEAR]		= { F, F, N, F },
	[KM_F_DIMENSION_OUTSIDE]	= { F, F, F, F },
	[KM_F_DIMENSION_UNRECORDED]	= { U, U, N, U },
	[KM_F_MARK_LISTED]		= { P, P, P, P },
	[KM_F_MARK_OTHER]		= { F, N, P, F },
	[KM_F_MARK_NONE]		= { F, N, P, F },
	[KM_F_MARK_UNWANTED]		= { F, N, P, F },
	[KM_F_MARK_UNREAD]		= { U, N, P, U },
	[KM_F_MARK_UNRECORDED]		= { U, N, P, U },
	[KM_F_MADE_RIGHT]		= { P, P, P, P },
	[KM_F_MADE_PERIOD]		= { F, N, P, F },
	[KM_F_REPRODUCTION]		= { F, F, P, F },
	[KM_F_MADE_UNRECORDED]		= { P, P, P, P },
	[KM_F_PART_SAME]		= { P, P, P, P },
	[KM_F_PART_SUPERSEDING]		= { F, N, P, F },
	[KM_F_PART_OTHER]		= { F, N, P, F },
	[KM_F_PART_UNRECORDED]		= { P, P, P, P },
	[KM_F_FINISH_SAME]		= { P, P, P, P },
	[KM_F_FINISH_NEAR_CADMIUM]	= { N, N, P, F },
	[KM_F_FINISH_NEAR]		= { F, N, P, F },
	[KM_F_FINISH_OTHER]		= { F, F, P, F },
	[KM_F_FINISH_UNRECORDED]	= { U, U, P, U },
	[KM_F_MATERIAL_SAME]		= { P, P, P, P },
	[KM_F_MATERIAL_OTHER]		= { F, F, N, F },
	[KM_F_MATERIAL_UNRECORDED]	= { U, N, P, U },
	[KM_F_COLOUR_SAME]		= { P, P, P, P },
	[KM_F_COLOUR_OFF]		= { N, N, P, N },
	[KM_F_COLOUR_WRONG]		= { F, N, P, F },
	[KM_F_COLOUR_UNRECORDED]	= { U, N, P, U },
	[KM_F_SOUND]			= { P, P, P, P },
	[KM_F_RUST_ABOVE]		= { C, C, C, N },
	[KM_F_PITS_ABOVE]		= { C, C, N, N },
	[KM_F_PLATE_BELOW]		= { C, C, N, N },
	[KM_F_DAMAGE_CURABLE]		= { C, C, C, N },
	[KM_F_PIECE_MISSING]		= { F, F, F, F },
	[KM_F_UNFIT]			= { N, N, F, N },
	[KM_F_CONDITION_UNRECORDED]	= { N, N, N, N },
};
#undef P
#undef N
#undef U
#undef C
#undef F

enum km_letter km_rules_letter(enum km_finding f, enum km_standard s)
{
	return (enum km_letter)letters[f][s];
}

/* The figures of data/limits.def. */
enum {
#define LIMIT(key, delivered, period, usable, found, unit, doc, source) \
	LIMIT_##key,
#include "data/limits.def"
#undef LIMIT
	LIMITS
};
static const int32_t figures[LIMITS][KM_STANDARDS] = {
#define LIMIT(key, delivered, period, usable, found, unit, doc, source) \
	{ delivered, period, usable, found },
#include "data/limits.def"
#undef LIMIT
};

/*
 * The kit's own figure, or the table's.  A standard without one notes what
 * the first that has one would not pass; the letters of its own column say
 * that nothing fails by it.
 */
static int32_t figure(int row, enum km_standard s, int32_t unit, int32_t kits)
{
	int32_t v = figures[row][s];

	if (kits >= 0)
		return kits;
	for (int i = 0; v < 0 && i < KM_STANDARDS; i++)
		v = figures[row][i];
	return v * unit;
}

void km_rules_init(struct km_rules *r, const struct km_kit *kit,
		   enum km_standard standard)
{
	static const struct km_kit_limits none = { -1, -1, -1, -1, -1, -1 };
	const struct km_kit_limits *k = kit ? &kit->limits : &none;

	*r = (struct km_rules){ .standard = standard, .kit = kit };
	r->rust = figure(LIMIT_rust_most, standard, 1, k->rust);
	r->pits = figure(LIMIT_pits_most, standard, 1, k->pits);
	r->plate_left = figure(LIMIT_plate_left_least, standard, 100,
			       k->plate_left);
	r->colour_pass = figure(LIMIT_colour_passes, standard, 10,
				k->colour_pass);
	r->colour_note = figure(LIMIT_colour_noted, standard, 10,
				k->colour_note);
	r->length_usable = figure(LIMIT_dimension_noted, standard, 100,
				  k->length_usable);
}
