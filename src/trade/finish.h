/* SPDX-License-Identifier: MIT */
/*
 * finish - surface finishes and handle materials.
 *
 * Listed rows are constant.  A finish or material that is not listed is made
 * by the reader with id UNLISTED and the folded word as name.
 *
 * source   data/finishes.def, data/finish_passes.def, data/materials.def
 */
#ifndef KM_TRADE_FINISH_H
#define KM_TRADE_FINISH_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"

enum km_finish_id {
	KM_FINISH_UNLISTED,
#define FINISH(id, ...) KM_FINISH_##id,
#include "data/finishes.def"
#undef FINISH
	KM_FINISH_COUNT
};

struct km_finish {
	enum km_finish_id id;
	const char *name, *aliases;
	int64_t low_nm, likely_nm, high_nm;	/* thickness; -1: no meaning */
	bool silver;		/* may be cadmium until it is tested */
	int8_t bright;		/* 0 matt to 3 mirror; -1: not known */
	const char *cautions;	/* "C03|C10"; "" none */
	const char *low_source, *likely_source, *high_source;
};

enum km_material_id {
	KM_MATERIAL_UNLISTED,
#define MATERIAL(id, ...) KM_MATERIAL_##id,
#include "data/materials.def"
#undef MATERIAL
	KM_MATERIAL_COUNT
};

struct km_material {
	enum km_material_id id;
	const char *name, *aliases, *cautions, *source;
};

extern const struct km_finish km_finishes[KM_FINISH_COUNT - 1];
extern const struct km_material km_materials[KM_MATERIAL_COUNT - 1];

/* By name or alias, folded; NULL: not listed. */
const struct km_finish *km_finish_find(struct km_slice word);
const struct km_material *km_material_find(struct km_slice word);

/* How well a finish passes for another to the eye, best first. */
enum km_pass { KM_PASS_SAME, KM_PASS_NEAR, KM_PASS_AT_DISTANCE, KM_PASS_NO };

/* Unlisted finishes pass only when their names are the same, folded. */
enum km_pass km_finish_passes(const struct km_finish *have,
			      const struct km_finish *wanted);
/* Is it cadmium of any colour? */
bool km_finish_is_cadmium(const struct km_finish *f);
/* Over-restored: brighter than wanted; false where either is not known. */
bool km_finish_brighter(const struct km_finish *have,
			const struct km_finish *wanted);
bool km_material_same(const struct km_material *a,
		      const struct km_material *b);

#endif
