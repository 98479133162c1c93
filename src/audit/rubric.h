/* SPDX-License-Identifier: MIT */
/*
 * rubric - what a judge would take off, by the rubric of the files.
 *
 * Originality and condition are separate accounts, and each fault counts
 * once: a piece loses what it is missing or, there and wrong, `incorrect`; and
 * `condition` if it is below the limits in force.  What is not known loses
 * nothing.  A slot that is not firm, one left empty by design, and a consumable
 * whose slot states no points of its own are not judged.  A tool that lies in
 * the kit (status in-kit) and sits in no slot is `extra`, in the first kit that
 * may use it.
 */
#ifndef KM_AUDIT_RUBRIC_H
#define KM_AUDIT_RUBRIC_H

#include "audit/given.h"
#include "audit/variant.h"
#include "kitmuster/audit.h"

/* Does a slot lose points at all? */
bool km_rubric_judges(const struct km_slot_audit *s);

/* Fill the rubric of every kit; nothing without one.  after_plan equals lost
 * where there is no plan. */
void km_rubric_count(const struct km_variants *v, const struct km_given *given,
		     struct km_audit *a);

#endif
