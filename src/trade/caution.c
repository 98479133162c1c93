/* SPDX-License-Identifier: MIT */
#include "trade/caution.h"

#include <string.h>

#include "trade/process.h"

#define SEEN KM_CAUTION_SEEN
#define CONCLUDED KM_CAUTION_CONCLUDED
#define MEMORY KM_CAUTION_MEMORY
#define COMMON_PRACTICE KM_CAUTION_COMMON_PRACTICE
const struct km_caution km_cautions[KM_CAUTIONS] = {
#define CAUTION(id, text, processes, finishes, conditions, hangs, source, \
		basis) \
	{ #id, text, processes, finishes, conditions, hangs, source, basis },
#include "data/cautions.def"
#undef CAUTION
};
#undef SEEN
#undef CONCLUDED
#undef MEMORY
#undef COMMON_PRACTICE

const struct km_air_limit km_air_limits[KM_AIR_LIMITS] = {
#define AIR_LIMIT(substance, limit, action, hours, cautions, source) \
	{ substance, limit, action, hours, cautions, source },
#include "data/air_limits.def"
#undef AIR_LIMIT
};

uint64_t km_caution_mask(const char *list)
{
	uint64_t set = 0;

	for (const char *p = list; *p; p++) {
		int n;

		if (p[0] != 'C' || p[1] < '0' || p[1] > '9' || p[2] < '0' ||
		    p[2] > '9')
			continue;
		n = (p[1] - '0') * 10 + (p[2] - '0') - 1;
		if (n >= 0 && n < KM_CAUTIONS)
			set |= (uint64_t)1 << n;
		p += 2;
	}
	return set;
}

static uint64_t of_finish(const struct km_finish *f)
{
	return f && f->cautions ? km_caution_mask(f->cautions) : 0;
}

static bool not_known(const struct km_caution_tool *t)
{
	return !t->body || t->body->id == KM_FINISH_UNLISTED ||
	       t->plated_unknown;
}

static uint64_t hanging(void)
{
	uint64_t set = 0;

	for (int i = 0; i < KM_CAUTIONS; i++)
		if (km_cautions[i].hangs)
			set |= (uint64_t)1 << i;
	return set;
}

uint64_t km_caution_of_tool(const struct km_caution_tool *t)
{
	uint64_t set = of_finish(t->body) | of_finish(t->faces);

	if (t->handle && t->handle->cautions)
		set |= km_caution_mask(t->handle->cautions);
	if (t->plated_unknown)
		set |= km_caution_of_condition("plating_unknown");
	if (t->old_paint)
		set |= km_caution_of_condition("old_paint");
	return set;
}

uint64_t km_caution_of_process(const struct km_process *p,
			       const struct km_caution_tool *t)
{
	uint64_t set = km_caution_mask(p->cautions), hangs = hanging();

	if (not_known(t))
		return set;
	return set & (~hangs | km_caution_of_tool(t));
}

/* Is word one of a "|" list? */
static bool listed(const char *list, const char *word)
{
	size_t n = strlen(word);

	for (const char *p = list; *p;) {
		size_t len = strcspn(p, "|");

		if (len == n && !memcmp(p, word, n))
			return true;
		p += len + (p[len] == '|');
	}
	return false;
}

uint64_t km_caution_of_condition(const char *word)
{
	uint64_t set = 0;

	for (int i = 0; i < KM_CAUTIONS; i++)
		if (listed(km_cautions[i].conditions, word))
			set |= (uint64_t)1 << i;
	return set;
}
