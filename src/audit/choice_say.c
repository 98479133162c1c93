/* SPDX-License-Identifier: MIT */
/* What is said of a choice of kit that is not plain. */
#include <inttypes.h>

#include "audit/choice.h"
#include "base/buf.h"
#include "unit/serial.h"

#define DAYS_A_YEAR 365

/* "serial 27412", "built 1955", "market export" */
static void add_means(struct km_buf *b, const struct km_machine *m,
		      enum km_chosen_by by)
{
	if (by == KM_BY_SERIAL) {
		km_buf_str(b, "serial ");
		km_buf_serial_of(b, m);
	} else if (by == KM_BY_DATE) {
		km_buf_printf(b, "built %s",
			      m->built_text ? m->built_text : "then");
	} else {
		km_buf_printf(b, "market %s", m->market ? m->market : "");
	}
}

static void add_pointed(struct km_buf *b, const struct km_kit *to)
{
	if (to)
		km_buf_printf(b, "to kit '%s'", to->id);
	else
		km_buf_str(b, "to no kit of the files");
}

/* What the kit is taken by, against what points elsewhere. */
static void add_taken(struct km_buf *b, const struct km_kit *k,
		      const struct km_machine *m, enum km_chosen_by by)
{
	if (by == KM_BY_NAME) {
		km_buf_printf(b, "but kit '%s' is asked for", k->id);
	} else if (by == KM_BY_NOTHING) {
		km_buf_printf(b, "kit '%s' is taken for want of another",
			      k->id);
	} else {
		add_means(b, m, by);
		km_buf_printf(b, " to kit '%s', which is taken", k->id);
	}
}

static void add_outside(struct km_buf *b, const struct km_kit *k,
			const struct km_machine *m)
{
	int64_t by = km_serial_outside(&k->serials,
				       km_serial_in(&k->serials, m));

	if (by)
		km_buf_printf(b, " by %" PRId64, by);
	else
		km_buf_str(b, ": it is of another form");
}

enum km_status km_choice_say(struct km_diags *d, struct km_arena *mem,
			     const struct km_kit *k,
			     const struct km_machine *m,
			     const struct km_choice *c)
{
	for (uint32_t i = 0; i < c->n_elsewhere; i++) {
		const struct km_elsewhere *e = &c->elsewhere[i];
		bool serial = e->by == KM_BY_SERIAL;
		struct km_buf from, to, taken;
		struct km_diag *one;

		km_buf_init(&from, mem);
		km_buf_init(&to, mem);
		km_buf_init(&taken, mem);
		add_means(&from, m, e->by);
		add_pointed(&to, e->to);
		if (serial)
			add_outside(&taken, k, m);
		else
			add_taken(&taken, k, m, c->by);
		if (km_buf_failed(&from) || km_buf_failed(&to) ||
		    km_buf_failed(&taken))
			return KM_ENOMEM;
		if (!serial) {
			km_diag_add(d, KM_M_POINTS_ELSEWHERE, m->at, from.text,
				    to.text, taken.text);
			continue;
		}
		one = km_diag_add(d, KM_M_OUTSIDE_RANGE, m->at, from.text,
				  k->id, taken.text);
		if (e->to)
			km_diag_hint(d, one, "kit '%s' covers it", e->to->id);
	}
	return KM_OK;
}

void km_choice_say_none(struct km_diags *d, const struct km_load *l,
			const struct km_machine *m)
{
	struct km_diag *one = km_diag_add(d, KM_M_NO_KIT_FITS, m->at);
	const struct km_kit *k;
	const char *unit = " years";
	int64_t off = 0;
	bool days = false;

	k = km_nearest_kit(l, m, &off, &days);
	if (!k) {
		km_diag_hint(d, one, "name one with 'kit:' or --kit");
		return;
	}
	if (!days)
		unit = "";
	else if (off >= 2 * DAYS_A_YEAR)
		off /= DAYS_A_YEAR;
	else
		unit = off == 1 ? " day" : " days";
	km_diag_hint(d, one, "the nearest is '%s', %" PRId64 "%s off; take it "
		     "with 'kit:' or --kit", k->id, off, unit);
}
