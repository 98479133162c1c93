/* SPDX-License-Identifier: MIT */
#include "audit/pick.h"

#include <stdlib.h>

#include "base/near.h"
#include "base/str.h"

static const struct km_kit *find(const struct km_load *l, const char *id)
{
	for (uint32_t i = 0; i < l->n_kits; i++)
		if (km_case_compare(l->kits[i]->id, id) == 0)
			return l->kits[i];
	return NULL;
}

const struct km_kit *km_kit_named(const struct km_load *l, const char *id,
				  struct km_diags *d)
{
	const struct km_kit *k = find(l, id);
	struct km_place nowhere = { NULL, 0, 0 };
	struct km_diag *one;
	struct km_near near;

	if (k)
		return k;
	one = km_diag_add(d, KM_M_NO_SUCH_KIT, nowhere, id);
	km_near_init(&near, id);
	for (uint32_t i = 0; i < l->n_kits; i++)
		km_near_offer(&near, l->kits[i]->id);
	if (near.n)
		km_diag_hint(d, one, "did you mean '%s'?", near.best[0]);
	return NULL;
}

static int by_id(const void *a, const void *b)
{
	const struct km_kit *const *x = a, *const *y = b;

	return km_natural_compare((*x)->id, (*y)->id);
}

static bool holds(const struct km_kit **v, uint32_t n, const struct km_kit *k)
{
	for (uint32_t i = 0; i < n; i++)
		if (v[i] == k)
			return true;
	return false;
}

static void too_few(const struct km_load *l, const struct km_kit **v,
		    uint32_t n, struct km_diags *d)
{
	struct km_place top = { l->n_files ? l->files[0] : NULL, 0, 0 };

	if (n)
		km_diag_add(d, KM_M_ONE_KIT, v[0]->at, v[0]->id);
	else
		km_diag_add(d, KM_M_NO_KITS, top);
}

enum km_status km_kits_pick(struct km_arena *mem, const struct km_load *load,
			    const char *const *ids, uint32_t n,
			    uint32_t least, struct km_diags *d,
			    const struct km_kit *const **out,
			    uint32_t *n_out)
{
	uint32_t room = n ? n : load->n_kits, kept = 0;
	const struct km_kit **v = km_arena_alloc(mem, room, sizeof *v);
	enum km_status st = KM_OK;

	if (!v)
		return KM_ENOMEM;
	for (uint32_t i = 0; i < room; i++) {
		const struct km_kit *k = n ? km_kit_named(load, ids[i], d)
					   : load->kits[i];

		if (!k) {
			st = KM_EINPUT;
		} else if (!n || !holds(v, kept, k)) {
			v[kept++] = k;
		}
	}
	if (st != KM_OK)
		return st;
	if (!n && kept)
		qsort(v, kept, sizeof *v, by_id);
	if (kept < least) {
		too_few(load, v, kept, d);
		return KM_EINPUT;
	}
	*out = v;
	*n_out = kept;
	return KM_OK;
}
