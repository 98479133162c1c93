/* SPDX-License-Identifier: MIT */
/*
 * jobs - the work of a plan in working order, and what stands against it.
 *
 * source   the order [choice, in parts sourced: strip before polish before
 *          plate, bake before chromate, blast right before phosphate]; the
 *          cautions of data/cautions.def
 */
#ifndef KM_AUDIT_JOBS_H
#define KM_AUDIT_JOBS_H

#include "audit/variant.h"
#include "base/arena.h"
#include "kitmuster/audit.h"
#include "kitmuster/jobs.h"
#include "plan/charge.h"
#include "plan/state.h"

struct km_jobs_input {
	const struct km_audit *audit;	/* planned, with its remarks */
	const struct km_variants *variants;
	const struct km_costs *costs;
	struct km_arena *scratch;	/* holds nothing else */
};

/* errors    KM_ENOMEM, KM_ERANGE */
enum km_status km_jobs_make(struct km_arena *mem,
			    const struct km_jobs_input *in,
			    const struct km_jobs **out);

/* --- jobs_care.c ---------------------------------------------------- */

/* Bits of enum km_job_bar, but for KM_BAR_NOT_OURS. */
uint32_t km_job_bars(const struct km_task *t, const struct km_match *m);
/* The cleaning processes that nothing stands against. */
uint64_t km_job_allowed(const struct km_task *t);
struct km_job_hardness km_job_hardness(const struct km_match *m,
				       const struct km_route *r);
/* The openings that a new coat closes. */
enum km_status km_job_openings(struct km_arena *mem, struct km_job_tool *t);
/* The cautions of all of a tool's work, and of what a shop does. */
void km_job_cautions(struct km_job_tool *t);
/* Is the step one that a shop does? */
bool km_job_is_shop(const struct km_process *p);

/* --- jobs_group.c --------------------------------------------------- */

/* By process in working order; numbers the loads of the tools' steps. */
enum km_status km_jobs_group(struct km_arena *mem,
			     const struct km_costs *costs,
			     const struct km_plan *plan, struct km_jobs *jobs,
			     struct km_job_tool *tools);

#endif
