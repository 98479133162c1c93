/* SPDX-License-Identifier: MIT */
#include "audit/fates.h"

#include <stdlib.h>

#include "audit/seats.h"

static int by_address(const void *a, const void *b)
{
	const struct km_tool *const *x = a, *const *y = b;
	uintptr_t p = (uintptr_t)*x, q = (uintptr_t)*y;

	return (p > q) - (p < q);
}

static const struct km_tool **list_given(struct km_arena *mem,
					 const struct km_audit *a, size_t *n)
{
	const struct km_tool **v;
	size_t room = 0;

	*n = 0;
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++)
			room += (size_t)a->kits[k].slots[i].slot->count;
	v = km_arena_alloc(mem, room, sizeof *v);
	if (!v)
		return NULL;
	for (uint32_t k = 0; k < a->n_kits; k++)
		for (uint32_t i = 0; i < a->kits[k].kit->n_slots; i++) {
			const struct km_slot_audit *s = &a->kits[k].slots[i];

			for (int32_t j = 0; j < s->slot->count; j++)
				if (s->pieces[j].match)
					v[(*n)++] = s->pieces[j].match->tool;
		}
	qsort(v, *n, sizeof *v, by_address);
	return v;
}

static bool ours(const struct km_variants *v, const struct km_tool *t)
{
	struct km_party nobody = { NULL };

	for (uint32_t i = 0; i < v->n_parties; i++)
		if (km_may_use(&v->parties[i], t))
			return true;
	return v->n_parties == 0 && km_may_use(&nobody, t);
}

static enum km_tool_fate fate_of(const struct km_variants *v,
				 const struct km_tool *t,
				 const struct km_tool **given, size_t n)
{
	if (n && bsearch(&t, given, n, sizeof *given, by_address))
		return KM_FATE_GIVEN;
	if (!ours(v, t))
		return KM_FATE_NOT_OURS;
	if (t->status == KM_LENT || t->status == KM_AT_PLATER ||
	    t->status == KM_ORDERED)
		return KM_FATE_AWAY;
	return KM_FATE_SURPLUS;
}

enum km_status km_fates_find(struct km_arena *mem, const struct km_variants *v,
			     struct km_audit *a)
{
	const struct km_tools *bench = &a->load->bench;
	uint64_t count[KM_FATE_SURPLUS + 1] = { 0 };
	const struct km_tool **given;
	uint8_t *fate = NULL;
	size_t n;

	given = list_given(mem, a, &n);
	if (!given)
		return KM_ENOMEM;
	if (a->options.want_fates) {
		fate = km_arena_alloc(mem, bench->n, 1);
		if (!fate)
			return KM_ENOMEM;
	}
	for (size_t i = 0; i < bench->n; i++) {
		enum km_tool_fate f = fate_of(v, km_tool_at(bench, i), given, n);

		count[f]++;
		if (fate)
			fate[i] = (uint8_t)f;
	}
	a->fate = fate;
	a->tools = bench->n;
	a->given = count[KM_FATE_GIVEN];
	a->not_ours = count[KM_FATE_NOT_OURS];
	a->away = count[KM_FATE_AWAY];
	a->surplus = count[KM_FATE_SURPLUS];
	return KM_OK;
}
