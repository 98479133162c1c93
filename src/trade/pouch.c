/* SPDX-License-Identifier: MIT */
#include "trade/pouch.h"

#include <string.h>

const struct km_pouch_form km_pouch_forms[KM_POUCH_FORMS] = {
#define POUCH(id, name, aliases, source) \
	{ KM_POUCH_##id, name, aliases, source },
#include "data/pouch_forms.def"
#undef POUCH
};

static bool is_alias(const char *aliases, struct km_slice word)
{
	struct km_slice one;
	size_t n;

	for (one.p = aliases; *one.p; one.p += n + (one.p[n] == '|')) {
		n = strcspn(one.p, "|");
		one.n = n;
		if (!km_fold_compare(one, word))
			return true;
	}
	return false;
}

const struct km_pouch_form *km_pouch_form_find(struct km_slice word)
{
	unsigned i;

	for (i = 0; i < KM_POUCH_FORMS; i++)
		if (!km_fold_compare(km_slice_of(km_pouch_forms[i].name),
				     word) ||
		    is_alias(km_pouch_forms[i].aliases, word))
			return &km_pouch_forms[i];
	return NULL;
}
