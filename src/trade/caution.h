/* SPDX-License-Identifier: MIT */
/*
 * caution - what is printed beside work that can hurt someone, and what
 * brings it.
 *
 * Sets of cautions are masks: bit 0 is C01.  The lines warn; they do not
 * replace the law of the place, a safety data sheet or a licensed shop.
 *
 * source   data/cautions.def; each row names its own and how far it was read
 */
#ifndef KM_TRADE_CAUTION_H
#define KM_TRADE_CAUTION_H

#include <stdbool.h>
#include <stdint.h>

#include "trade/finish.h"

struct km_process;

enum km_caution_id {
#define CAUTION(id, ...) KM_CAUTION_##id,
#include "data/cautions.def"
#undef CAUTION
	KM_CAUTIONS
};
_Static_assert(KM_CAUTIONS <= 64, "a set of cautions is one mask");

#define KM_CAUTION_BIT(id) ((uint64_t)1 << KM_CAUTION_##id)

enum km_caution_basis {
	KM_CAUTION_SEEN, KM_CAUTION_CONCLUDED, KM_CAUTION_MEMORY,
	KM_CAUTION_COMMON_PRACTICE
};

struct km_caution {
	const char *id;			/* "C01" */
	const char *text;
	const char *processes, *finishes, *conditions;	/* "|" lists */
	bool hangs;	/* beside a process only when the finish is listed,
			 * or not known */
	const char *source;
	enum km_caution_basis basis;
};

extern const struct km_caution km_cautions[KM_CAUTIONS];

/* A limit of what may be in the air, tenths of a microgram a cubic metre.
 * source   data/air_limits.def; each row names its own */
struct km_air_limit {
	const char *substance;
	int32_t limit, action;
	int32_t hours;			/* averaged over; 0: not stated */
	const char *cautions;		/* "C01|C39" */
	const char *source;
};

#define KM_AIR_LIMITS 3
extern const struct km_air_limit km_air_limits[KM_AIR_LIMITS];

/* "C09|C10" as a set; what is no id is left out. */
uint64_t km_caution_mask(const char *list);

/* The tool that a process is done to. */
struct km_caution_tool {
	const struct km_finish *body, *faces;	/* NULL: not recorded */
	const struct km_material *handle;	/* NULL: none, or not recorded */
	bool plated_unknown;	/* plated with something that is not known */
	bool old_paint;
};

/* What the process brings on this tool: C01, C02, C03, C10 and C18 only where
 * its finish is listed with them or not known, C18 also on old paint. */
uint64_t km_caution_of_process(const struct km_process *p,
			       const struct km_caution_tool *t);
/* What finish and handle bring by themselves. */
uint64_t km_caution_of_tool(const struct km_caution_tool *t);
/* What a condition brings: one of the words of the table's condition lists,
 * "cracked", "spread", "hrc_31_up" ... */
uint64_t km_caution_of_condition(const char *word);

#endif
