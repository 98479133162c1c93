/* SPDX-License-Identifier: MIT */
/* Which kit a machine has, where that is open: the question, and what each of
 * its readings comes to. */
#include "report/words.h"

#include <inttypes.h>

#include "base/str.h"
#include "unit/serial.h"

const char *km_undecided_word(enum km_undecided u)
{
	static const char *const word[] = {
		[KM_DECIDED] = NULL, [KM_UNDECIDED_SERIAL] = "serial",
		[KM_UNDECIDED_DATE] = "date", [KM_UNDECIDED_MARKET] = "market",
	};

	return word[u];
}

const char *km_chosen_by_word(enum km_chosen_by by)
{
	static const char *const word[] = {
		[KM_BY_NAME] = "name", [KM_BY_SERIAL] = "serial",
		[KM_BY_DATE] = "date", [KM_BY_MARKET] = "market",
		[KM_BY_NOTHING] = "nothing",
	};

	return word[by];
}

/* Do all readings have a market of their own? */
static bool markets_tell(const struct km_kit_audit *k)
{
	for (uint32_t i = 0; i < k->n_readings; i++) {
		const char *m = k->readings[i].kit->market;

		for (uint32_t n = 0; m && n < i; n++)
			if (!km_fold_compare(
				    km_slice_of(k->readings[n].kit->market),
				    km_slice_of(m)))
				return false;
		if (!m)
			return false;
	}
	return k->undecided == KM_UNDECIDED_MARKET;
}

const char *km_reading_name(const struct km_kit_audit *k,
			    const struct km_kit_reading *r)
{
	return markets_tell(k) ? r->kit->market : r->kit->id;
}

const struct km_slot_audit *km_reading_slot(const struct km_kit_reading *r,
					    uint32_t i)
{
	for (uint32_t n = 0; n < r->kit->n_slots; n++)
		if (r->same_as[n] == i)
			return &r->slots[n];
	return NULL;
}

bool km_reading_alone(const struct km_kit_audit *k,
		      const struct km_kit_reading *r, uint32_t i)
{
	return r->kit != k->kit && r->same_as[i] == UINT32_MAX &&
	       !r->slots[i].slot->unused;
}

int32_t km_readings_alone(const struct km_kit_audit *k)
{
	int32_t count = 0;

	for (uint32_t r = 0; r < k->n_readings; r++)
		for (uint32_t i = 0; i < k->readings[r].kit->n_slots; i++)
			count += km_reading_alone(k, &k->readings[r], i) &&
				 k->readings[r].slots[i].slot->durable;
	return count;
}

/* ------------------------------------------------------------------ */
/* The question                                                        */

/* "a or b", or "home (a) or export (b)" */
static void add_kits(struct km_buf *b, const struct km_kit_audit *k)
{
	bool markets = markets_tell(k);

	for (uint32_t i = 0; i < k->n_readings; i++) {
		const struct km_kit *kit = k->readings[i].kit;

		if (i)
			km_buf_str(b, i + 1 < k->n_readings ? ", " : " or ");
		if (markets)
			km_buf_printf(b, "%s (%s)", kit->market, kit->id);
		else
			km_buf_str(b, kit->id);
	}
}

void km_words_which(struct km_buf *b, const struct km_kit_audit *k)
{
	const struct km_machine *m = k->machine;

	switch (k->undecided) {
	case KM_UNDECIDED_MARKET:
		km_buf_str(b, "market not recorded: ");
		break;
	case KM_UNDECIDED_DATE:
		if (m->built_text)
			km_buf_printf(b, "built %s may be of ", m->built_text);
		else
			km_buf_str(b, "date not recorded: ");
		break;
	default:
		if (km_serial_recorded(m)) {
			km_buf_str(b, "serial ");
			km_buf_serial_of(b, m);
			km_buf_str(b, " may be of ");
		} else {
			km_buf_str(b, "serial not recorded: ");
		}
	}
	add_kits(b, k);
	if (k->undecided == KM_UNDECIDED_DATE && !km_serial_recorded(m) &&
	    k->kit->serials.given)
		km_buf_str(b, "; the serial number would tell");
}

void km_words_outside(struct km_buf *b, const struct km_kit_audit *k)
{
	if (!k->serial_outside)
		return;
	if (k->outside_by)
		km_buf_printf(b, "outside its range by %" PRId64,
			      k->outside_by);
	else
		km_buf_str(b, "none of its serials by its form");
}

static void add_means(struct km_buf *b, const struct km_machine *m,
		      enum km_chosen_by by)
{
	if (by == KM_BY_SERIAL) {
		km_buf_str(b, "serial ");
		km_buf_serial_of(b, m);
	} else if (by == KM_BY_DATE) {
		km_buf_printf(b, "built %s", m->built_text ? m->built_text
							   : "then");
	} else {
		km_buf_printf(b, "%s market", m->market ? m->market : "");
	}
}

void km_words_elsewhere(struct km_buf *b, const struct km_kit_audit *k,
			const struct km_elsewhere *e)
{
	static const char *const counts[] = {
		[KM_BY_NAME] = ", which was asked for",
		[KM_BY_SERIAL] = ": the number counts",
		[KM_BY_DATE] = ": the date counts",
		[KM_BY_MARKET] = "", [KM_BY_NOTHING] = ": there is no other",
	};

	add_means(b, k->machine, e->by);
	km_buf_printf(b, " points to %s, ", e->to ? e->to->id : "no kit here");
	if (k->chosen_by == KM_BY_SERIAL || k->chosen_by == KM_BY_DATE) {
		add_means(b, k->machine, k->chosen_by);
		km_buf_printf(b, " to %s%s", k->kit->id,
			      counts[k->chosen_by]);
	} else {
		km_buf_printf(b, "not to %s%s", k->kit->id,
			      counts[k->chosen_by]);
	}
}

/* ------------------------------------------------------------------ */
/* What depends on it                                                  */

static void add_tools(struct km_buf *b, const struct km_slot_audit *s)
{
	const char *before = " (";

	for (int32_t i = 0; i < s->slot->count; i++) {
		const struct km_match *m = s->pieces[i].match;

		if (!m)
			continue;
		km_buf_printf(b, "%s%s", before, km_match_id(m));
		before = ", ";
	}
	km_buf_str(b, *before == ',' ? ")" : "");
}

/* Do two readings of a slot come to the same, with the same tools? */
static bool come_to_the_same(const struct km_slot_audit *a,
			     const struct km_slot_audit *b)
{
	if (!a || !b)
		return a == b;
	if (a->slot->unused || b->slot->unused)
		return a->slot->unused == b->slot->unused;
	if (a->verdict != b->verdict || a->slot->count != b->slot->count)
		return false;
	for (int32_t i = 0; i < a->slot->count; i++) {
		const struct km_match *x = a->pieces[i].match;
		const struct km_match *y = b->pieces[i].match;

		if ((x ? x->tool : NULL) != (y ? y->tool : NULL))
			return false;
	}
	return true;
}

/* "home or export": the readings from i on that come to what i does. */
static void add_names(struct km_buf *b, const struct km_kit_audit *k,
		      uint32_t slot, uint32_t i)
{
	const struct km_slot_audit *s = km_reading_slot(&k->readings[i], slot);

	for (uint32_t n = i; n < k->n_readings; n++) {
		const struct km_kit_reading *r = &k->readings[n];

		if (come_to_the_same(s, km_reading_slot(r, slot)))
			km_buf_printf(b, "%s%s", n > i ? " or " : "",
				      km_reading_name(k, r));
	}
}

/* "right as home (T-3)", "export has none" */
static void add_under(struct km_buf *b, const struct km_kit_audit *k,
		      uint32_t slot, uint32_t i)
{
	const struct km_slot_audit *s = km_reading_slot(&k->readings[i], slot);

	if (!s)
		km_buf_str(b, "none as ");
	else if (s->slot->unused)
		km_buf_str(b, "empty by design as ");
	else
		km_buf_printf(b, "%s as ", km_verdict_word(s->verdict));
	add_names(b, k, slot, i);
	if (s && !s->slot->unused)
		add_tools(b, s);
}

void km_words_depends(struct km_buf *b, const struct km_kit_audit *k,
		      const struct km_slot_audit *s)
{
	uint32_t slot = s->slot->index;

	for (uint32_t i = 0; i < k->n_readings; i++) {
		const struct km_slot_audit *one =
			km_reading_slot(&k->readings[i], slot);
		bool told = false;

		for (uint32_t n = 0; n < i && !told; n++)
			told = come_to_the_same(one, km_reading_slot(
							 &k->readings[n], slot));
		if (told)
			continue;
		km_buf_str(b, i ? ", " : "");
		add_under(b, k, slot, i);
	}
}

void km_words_alone(struct km_buf *b, const struct km_kit_audit *k,
		    const struct km_kit_reading *r, uint32_t i)
{
	km_buf_str(b, km_verdict_word(r->slots[i].verdict));
	add_tools(b, &r->slots[i]);
	for (uint32_t n = 0; n < k->n_readings && k->n_readings == 2; n++)
		if (&k->readings[n] != r)
			km_buf_printf(b, ", none as %s",
				      km_reading_name(k, &k->readings[n]));
}

static void add_range(struct km_buf *b, struct km_range r)
{
	km_buf_int(b, r.low);
	if (r.high != r.low)
		km_buf_printf(b, " to %" PRId32, r.high);
}

/* Two readings of unlike length are told one by one. */
static void add_two(struct km_buf *b, const struct km_kit_audit *k)
{
	for (uint32_t i = 0; i < 2; i++) {
		const struct km_kit_reading *r = &k->readings[i];

		km_buf_printf(b, "%s%" PRId32 " of %" PRId32 " as %s",
			      i ? ", " : "", r->counts.on_paper,
			      r->counts.firm, km_reading_name(k, r));
	}
}

void km_words_range(struct km_buf *b, const struct km_kit_audit *k)
{
	if (k->n_readings == 2 && k->firm_read.low != k->firm_read.high) {
		add_two(b, k);
		return;
	}
	add_range(b, k->on_paper_read);
	km_buf_str(b, " of ");
	add_range(b, k->firm_read);
	km_buf_str(b, k->n_readings == 2 ? " under either reading"
					 : " by reading");
}
