/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "report/words.h"

const char *km_verdict_shape(const char *word)
{
	static const char *const shape[KM_VERDICTS] = {
		[KM_RIGHT] = "M-2 0A2 2 0 1 1 2 0A2 2 0 1 1-2 0Z",
		[KM_AFTER_WORK] = "M0-2A2 2 0 0 1 0 2ZM0-2A2 2 0 0 0 0 2"
				  "V1.5A1.5 1.5 0 0 1 0-1.5Z",
		[KM_UNVERIFIED] = "M0-2L2 0L0 2L-2 0ZM0-1.2L-1.2 0L0 1.2"
				  "L1.2 0Z",
		[KM_SUBSTITUTE] = "M0-2L2 1.7L-2 1.7Z",
		[KM_SHORT] = "M-2-2H2V2H-2ZM-1.5-1.5V0H1.5V-1.5Z",
		[KM_EXPECTED] = "M-2-.8H.4V-2L2 0L.4 2V.8H-2Z",
		[KM_GAP] = "M-2-2H2V2H-2ZM-1.5-1.5V1.5H1.5V-1.5Z",
	};

	if (!strcmp(word, "doubt"))
		return "M-2-2H-1.2L2 2H1.2ZM1.2-2H2L-1.2 2H-2Z";
	for (int v = 0; v < KM_VERDICTS; v++)
		if (!strcmp(word, km_verdict_word((enum km_verdict)v)))
			return shape[v];
	return NULL;
}
