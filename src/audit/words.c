/* SPDX-License-Identifier: MIT */
#include "kitmuster/audit.h"

const char *km_verdict_word(enum km_verdict v)
{
	static const char *const word[KM_VERDICTS] = {
		[KM_RIGHT] = "right", [KM_AFTER_WORK] = "after-work",
		[KM_UNVERIFIED] = "unverified", [KM_SUBSTITUTE] = "substitute",
		[KM_SHORT] = "short", [KM_EXPECTED] = "expected",
		[KM_GAP] = "gap",
	};

	return word[v];
}

const char *km_standard_word(enum km_standard s)
{
	static const char *const word[KM_STANDARDS] = {
		[KM_AS_DELIVERED] = "as-delivered",
		[KM_PERIOD_CORRECT] = "period-correct",
		[KM_USABLE] = "usable", [KM_AS_FOUND] = "as-found",
	};

	return word[s];
}

const char *km_certainty_word(enum km_certainty c)
{
	static const char *const word[] = {
		[KM_CERTAIN] = "certain", [KM_PROBABLE] = "probable",
		[KM_POSSIBLE] = "possible", [KM_DISPUTED] = "disputed",
		[KM_CONJECTURE] = "conjecture", [KM_UNKNOWN] = "unknown",
	};

	return word[c];
}
