/* SPDX-License-Identifier: MIT */
#include "trade/kind.h"

#include <string.h>

#include "trade/words.h"

const struct km_drive km_drives[KM_DRIVE_COUNT] = {
#define DRIVE(id, name, aliases, source) \
	{ KM_DRIVE_##id, name, aliases, source },
#include "data/drives.def"
#undef DRIVE
};

const struct km_kind km_kinds[KM_KIND_COUNT - 1] = {
#define KIND(id, name, american, aliases, drive, ends, sized, identify, \
	     ownlength, source) \
	{ KM_KIND_##id, name, american, aliases, &km_drives[KM_DRIVE_##drive], \
	  ends, sized, ownlength, identify, source },
#include "data/kinds.def"
#undef KIND
};

static const struct km_word kind_words[] = {
#define KIND_WORD(word, id) { word, KM_KIND_##id - 1 },
#include "trade/words.def"
};

static const struct km_word drive_words[] = {
#define DRIVE_WORD(word, id) { word, KM_DRIVE_##id },
#include "trade/words.def"
};

#define LENGTH(a) (sizeof(a) / sizeof *(a))

const struct km_kind *km_kind_find(struct km_slice word)
{
	int row = km_word_find(kind_words, LENGTH(kind_words), word);

	return row < 0 ? NULL : &km_kinds[row];
}

const struct km_drive *km_drive_find(struct km_slice word)
{
	int row = km_word_find(drive_words, LENGTH(drive_words), word);

	return row < 0 ? NULL : &km_drives[row];
}

bool km_kind_is_vague(struct km_slice word)
{
	return !km_fold_compare(word, km_slice_of("spanner"))
	       || !km_fold_compare(word, km_slice_of("wrench"));
}

/* The attributes by the words of data/kinds.def. */
static uint32_t attribute_bit(struct km_slice word)
{
	static const struct { const char *word; enum km_attr attr; } names[] = {
		{ "sizes", KM_A_SIZES }, { "openings", KM_A_OPENINGS },
		{ "length", KM_A_LENGTH }, { "thickness", KM_A_THICKNESS },
		{ "width", KM_A_WIDTH }, { "angle", KM_A_ANGLE },
		{ "bar", KM_A_BAR }, { "hole", KM_A_HOLE },
		{ "blade", KM_A_BLADE }, { "jaw", KM_A_JAW },
		{ "hook", KM_A_HOOK }, { "depth", KM_A_DEPTH },
		{ "handle_colour", KM_A_HANDLE_COLOUR },
		{ "handle_material", KM_A_HANDLE_MATERIAL },
	};

	for (size_t i = 0; i < LENGTH(names); i++)
		if (km_slice_is(word, names[i].word))
			return (uint32_t)1 << names[i].attr;
	return 0;
}

uint32_t km_kind_identify(const struct km_kind *k)
{
	const char *p = k->identify;
	uint32_t mask = 0;

	while (*p) {
		size_t n = strcspn(p, "|");

		mask |= attribute_bit((struct km_slice){ p, n });
		p += n + (p[n] == '|');
	}
	return mask;
}
