/* SPDX-License-Identifier: MIT */
/*
 * kind - the kinds of tools and the fastener forms, by any of their names.
 *
 * Listed rows are constant and live for ever.  A kind that is not listed is
 * made by the reader with id KM_KIND_UNLISTED and the folded word as name,
 * one object a word, so that kinds compare as pointers.
 *
 * source   data/kinds.def, data/drives.def
 */
#ifndef KM_TRADE_KIND_H
#define KM_TRADE_KIND_H

#include <stdbool.h>
#include <stdint.h>

#include "base/str.h"
#include "kitmuster/model.h"

enum km_drive_id {
#define DRIVE(id, ...) KM_DRIVE_##id,
#include "data/drives.def"
#undef DRIVE
	KM_DRIVE_COUNT
};

struct km_drive {
	enum km_drive_id id;
	const char *name;	/* as printed and as written in files */
	const char *aliases;	/* "|" between them */
	const char *source;
};

enum km_kind_id {
	KM_KIND_UNLISTED,
#define KIND(id, ...) KM_KIND_##id,
#include "data/kinds.def"
#undef KIND
	KM_KIND_COUNT
};

struct km_kind {
	enum km_kind_id id;
	const char *name;		/* British: as printed */
	const char *american;		/* "" where it is the same */
	const char *aliases;		/* "|" between them */
	const struct km_drive *drive;	/* unless the file says another; NULL
					 * for an unlisted kind */
	uint8_t ends;			/* most sizes one tool carries, 0-2 */
	bool sized;			/* told apart by its sizes */
	bool own_length;		/* not sized, told apart by length */
	const char *identify;		/* attributes, "|" between, most
					 * telling first */
	const char *source;
};

/* The listed rows: drives by their id; kinds by id - 1. */
extern const struct km_drive km_drives[KM_DRIVE_COUNT];
extern const struct km_kind km_kinds[KM_KIND_COUNT - 1];

/* By name, American name or alias, folded as km_fold_compare() does; NULL:
 * not listed.  "spanner" and "wrench" alone name no kind. */
const struct km_kind *km_kind_find(struct km_slice word);
const struct km_drive *km_drive_find(struct km_slice word);

/* Is the word "spanner" or "wrench" alone, which says too little? */
bool km_kind_is_vague(struct km_slice word);

/* The attributes that tell one tool of the kind from another, as bits
 * 1 << enum km_attr; reads k->identify, so ask once. */
uint32_t km_kind_identify(const struct km_kind *k);

static inline bool km_kind_listed(const struct km_kind *k)
{
	return k->id != KM_KIND_UNLISTED;
}

#endif
