/* SPDX-License-Identifier: MIT */
/* What is said of a choice of kit that is not plain. */
#include <inttypes.h>

#include "audit/choice.h"
#include "base/buf.h"
#include "unit/serial.h"

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

static void say_outside(struct km_diags *d, struct km_buf b[3],
			const struct km_kit *k, const struct km_machine *m,
			const struct km_kit *to)
{
	int64_t by = km_serial_outside(&k->serials,
				       km_serial_in(&k->serials, m));
	struct km_diag *one;

	km_buf_serial_of(&b[0], m);
	if (by)
		km_buf_printf(&b[1], " by %" PRId64, by);
	else
		km_buf_str(&b[1], ": it is of another form");
	if (km_buf_failed(&b[0]) || km_buf_failed(&b[1]))
		return;
	one = km_diag_add(d, KM_M_OUTSIDE_RANGE, m->at, b[0].text, k->id,
			  b[1].text);
	if (to)
		km_diag_hint(d, one, "kit '%s' covers it", to->id);
}

void km_choice_say(struct km_diags *d, struct km_arena *mem,
		   const struct km_kit *k, const struct km_machine *m,
		   const struct km_choice *c)
{
	for (uint32_t i = 0; i < c->n_elsewhere; i++) {
		const struct km_elsewhere *e = &c->elsewhere[i];
		struct km_buf b[3];

		for (int n = 0; n < 3; n++)
			km_buf_init(&b[n], mem);
		if (e->by == KM_BY_SERIAL) {
			say_outside(d, b, k, m, e->to);
			continue;
		}
		add_means(&b[0], m, e->by);
		add_pointed(&b[1], e->to);
		add_taken(&b[2], k, m, c->by);
		if (!km_buf_failed(&b[0]) && !km_buf_failed(&b[1]) &&
		    !km_buf_failed(&b[2]))
			km_diag_add(d, KM_M_POINTS_ELSEWHERE, m->at, b[0].text,
				    b[1].text, b[2].text);
	}
}

void km_choice_say_none(struct km_diags *d, const struct km_load *l,
			const struct km_machine *m)
{
	struct km_diag *one = km_diag_add(d, KM_M_NO_KIT_FITS, m->at);
	const struct km_kit *k;
	int64_t off = 0;
	bool days = false;

	k = km_nearest_kit(l, m, &off, &days);
	if (!k)
		km_diag_hint(d, one, "name one with 'kit:' or --kit");
	else
		km_diag_hint(d, one, "the nearest is '%s', %" PRId64 "%s away;"
			     " take it with 'kit:' or --kit", k->id, off,
			     days ? off == 1 ? " day" : " days" : "");
}
