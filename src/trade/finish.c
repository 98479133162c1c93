/* SPDX-License-Identifier: MIT */
#include "trade/finish.h"

#include "trade/words.h"

const struct km_finish km_finishes[KM_FINISH_COUNT - 1] = {
#define FINISH(id, name, aliases, low, likely, high, silver, bright, \
	       cautions, low_source, likely_source, high_source) \
	{ KM_FINISH_##id, name, aliases, low, likely, high, silver, bright, \
	  cautions, low_source, likely_source, high_source },
#include "data/finishes.def"
#undef FINISH
};

const struct km_material km_materials[KM_MATERIAL_COUNT - 1] = {
#define MATERIAL(id, name, aliases, cautions, source) \
	{ KM_MATERIAL_##id, name, aliases, cautions, source },
#include "data/materials.def"
#undef MATERIAL
};

static const struct km_word finish_words[] = {
#define FINISH_WORD(word, id) { word, KM_FINISH_##id - 1 },
#include "trade/words.def"
};

static const struct km_word material_words[] = {
#define MATERIAL_WORD(word, id) { word, KM_MATERIAL_##id - 1 },
#include "trade/words.def"
};

#define LENGTH(a) (sizeof(a) / sizeof *(a))

const struct km_finish *km_finish_find(struct km_slice word)
{
	int row = km_word_find(finish_words, LENGTH(finish_words), word);

	return row < 0 ? NULL : &km_finishes[row];
}

const struct km_material *km_material_find(struct km_slice word)
{
	int row = km_word_find(material_words, LENGTH(material_words), word);

	return row < 0 ? NULL : &km_materials[row];
}

static bool same_word(const char *a, const char *b)
{
	return !km_fold_compare(km_slice_of(a), km_slice_of(b));
}

enum km_pass km_finish_passes(const struct km_finish *have,
			      const struct km_finish *wanted)
{
	static const struct {
		enum km_finish_id have, wanted;
		enum km_pass pass;
	} pairs[] = {
#define PASSES(finish, wants, grade, source) \
	{ KM_FINISH_##finish, KM_FINISH_##wants, KM_PASS_##grade },
#include "data/finish_passes.def"
#undef PASSES
	};

	if (have == wanted)
		return KM_PASS_SAME;
	if (have->id == KM_FINISH_UNLISTED || wanted->id == KM_FINISH_UNLISTED)
		return have->id == wanted->id && same_word(have->name, wanted->name)
		       ? KM_PASS_SAME : KM_PASS_NO;
	for (size_t i = 0; i < LENGTH(pairs); i++)
		if (pairs[i].have == have->id && pairs[i].wanted == wanted->id)
			return pairs[i].pass;
	return KM_PASS_NO;
}

bool km_finish_is_cadmium(const struct km_finish *f)
{
	return f->id == KM_FINISH_CADMIUM_CLEAR
	       || f->id == KM_FINISH_CADMIUM_YELLOW
	       || f->id == KM_FINISH_CADMIUM_OLIVE;
}

bool km_finish_brighter(const struct km_finish *have,
			const struct km_finish *wanted)
{
	return have->id != KM_FINISH_UNLISTED
	       && wanted->id != KM_FINISH_UNLISTED
	       && have->bright > wanted->bright && wanted->bright >= 0;
}

bool km_material_same(const struct km_material *a, const struct km_material *b)
{
	if (a->id != KM_MATERIAL_UNLISTED || b->id != KM_MATERIAL_UNLISTED)
		return a->id == b->id;
	return same_word(a->name, b->name);
}
