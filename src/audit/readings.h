/* SPDX-License-Identifier: MIT */
/*
 * readings - a machine that may have left with one of several kits: which
 * slots they have in common, and the audit of each kit by itself.
 */
#ifndef KM_AUDIT_READINGS_H
#define KM_AUDIT_READINGS_H

#include "audit/seats.h"
#include "base/arena.h"
#include "kitmuster/audit.h"

struct km_readings_input {
	struct km_arena *mem, *scratch;	/* scratch holds nothing else */
	const struct km_load *load;
	const struct km_options *options;
	const struct km_cure *cure;
	struct km_diags *d;
	/* an audit of the same kits, but for `changed`: how they lie side by
	 * side is taken from it.  NULL: there is none; nothing is changed */
	const struct km_audit *known;
	const struct km_kit *changed;
};

/*
 * Lay the kits of each undecided machine side by side.  Sets `depends` of its
 * party, and the readings of its choice but for their audits.  A slot is the
 * same where the kits claim the same of it, want as many pieces, and are as
 * sure that there is one.
 */
enum km_status km_readings_align(const struct km_readings_input *in,
				 struct km_variants *v);

/*
 * Audit every kit of the choice by itself over the whole bench, and say in kit
 * what comes of it.
 */
enum km_status km_readings_fill(const struct km_readings_input *in,
				const struct km_party *party,
				const struct km_choice *c,
				struct km_kit_audit *kit);

#endif
