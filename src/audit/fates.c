/* SPDX-License-Identifier: MIT */
#include "audit/fates.h"

#include "audit/seats.h"

static bool ours(const struct km_variants *v, const struct km_tool *t)
{
	struct km_party nobody = { .kit = NULL };

	for (uint32_t i = 0; i < v->n_parties; i++)
		if (km_may_use(&v->parties[i], t))
			return true;
	return v->n_parties == 0 && km_may_use(&nobody, t);
}

static enum km_tool_fate fate_of(const struct km_variants *v,
				 const struct km_tool *t,
				 const struct km_given *given)
{
	if (km_given_find(given, t))
		return KM_FATE_GIVEN;
	if (!ours(v, t))
		return KM_FATE_NOT_OURS;
	if (t->status == KM_LENT || t->status == KM_AT_PLATER ||
	    t->status == KM_ORDERED)
		return KM_FATE_AWAY;
	return KM_FATE_SURPLUS;
}

enum km_status km_fates_find(struct km_arena *mem, const struct km_variants *v,
			     const struct km_given *given, struct km_audit *a)
{
	const struct km_tools *bench = &a->load->bench;
	uint64_t count[KM_FATE_SURPLUS + 1] = { 0 };
	uint8_t *fate = NULL;

	if (a->options.want_fates || a->options.want_surplus) {
		fate = km_arena_alloc(mem, bench->n, 1);
		if (!fate)
			return KM_ENOMEM;
	}
	for (size_t i = 0; i < bench->n; i++) {
		enum km_tool_fate f = fate_of(v, km_tool_at(bench, i), given);

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
