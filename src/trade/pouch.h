/* SPDX-License-Identifier: MIT */
/*
 * pouch - the forms of tool pouches.
 *
 * source   data/pouch_forms.def
 */
#ifndef KM_TRADE_POUCH_H
#define KM_TRADE_POUCH_H

#include "base/str.h"

enum km_pouch_form_id {
#define POUCH(id, ...) KM_POUCH_##id,
#include "data/pouch_forms.def"
#undef POUCH
	KM_POUCH_FORMS
};

struct km_pouch_form {
	enum km_pouch_form_id id;
	const char *name, *aliases, *source;
};

extern const struct km_pouch_form km_pouch_forms[KM_POUCH_FORMS];

/* By name or alias, folded as km_fold_compare() does; NULL: not listed. */
const struct km_pouch_form *km_pouch_form_find(struct km_slice word);

#endif
