/* SPDX-License-Identifier: MIT */
/*
 * choice - which kit a machine left with: by its serial number, then its
 * date, then its market.
 *
 * Each of the three fits a kit, says nothing of it, or stands against it.  A
 * serial number against a kit excludes it, and so does a date, unless the
 * number fits.  Of the others those are left that fit best by number, of
 * these by date, of these by market.  More than one: it is undecided.
 */
#ifndef KM_AUDIT_CHOICE_H
#define KM_AUDIT_CHOICE_H

#include "base/arena.h"
#include "kitmuster/audit.h"

struct km_choice {
	enum km_chosen_by by;
	enum km_undecided undecided;
	/* the kits that the machine may have left with, by id; n 0: none */
	const struct km_kit **kits;
	uint32_t n_kits;
	struct km_kit_reading *readings;	/* n_kits, once they are aligned;
						 * NULL: it is decided */
	struct km_elsewhere elsewhere[KM_ELSEWHERE];
	uint32_t n_elsewhere;
};

/* What the record of a machine says of a kit, one by one. */
enum km_speaks { KM_SPEAKS_AGAINST, KM_SPEAKS_NOT, KM_SPEAKS_FOR };
struct km_witness { enum km_speaks serial, date, market; };

struct km_witness km_witness_of(const struct km_kit *k,
				const struct km_machine *m);

/* The kit of a machine, from all kits of the load; the one that it names, if
 * it names one. */
enum km_status km_choose_kit(struct km_arena *mem, const struct km_load *l,
			     const struct km_machine *m,
			     struct km_choice *out);

/* The same for a kit that was asked for by name. */
void km_choose_named(const struct km_load *l, const struct km_machine *m,
		     const struct km_kit *k, struct km_choice *out);

/* Which kit of the load is nearest to a machine that none fits, and how far
 * off it is, by number or, where *days is set, by date.  NULL: nothing tells. */
const struct km_kit *km_nearest_kit(const struct km_load *l,
				    const struct km_machine *m,
				    int64_t *off, bool *days);

/* Warn of what points elsewhere.  errors: KM_ENOMEM */
enum km_status km_choice_say(struct km_diags *d, struct km_arena *mem,
			     const struct km_kit *k,
			     const struct km_machine *m,
			     const struct km_choice *c);
/* No kit fits. */
void km_choice_say_none(struct km_diags *d, const struct km_load *l,
			const struct km_machine *m);

#endif
