/* SPDX-License-Identifier: MIT */
#include "report/words.h"

#include <inttypes.h>

const char *km_slot_verdict_word(const struct km_slot_audit *s)
{
	if (s->slot->unused)
		return "unused";
	return s->firm ? km_verdict_word(s->verdict) : "doubt";
}

enum km_tone km_verdict_tone(enum km_verdict v)
{
	static const enum km_tone tone[KM_VERDICTS] = {
		[KM_RIGHT] = KM_TONE_GOOD, [KM_AFTER_WORK] = KM_TONE_WORK,
		[KM_UNVERIFIED] = KM_TONE_WORK, [KM_SUBSTITUTE] = KM_TONE_OPEN,
		[KM_SHORT] = KM_TONE_OPEN, [KM_EXPECTED] = KM_TONE_WORK,
		[KM_GAP] = KM_TONE_OPEN,
	};

	return tone[v];
}

enum km_tone km_slot_tone(const struct km_slot_audit *s)
{
	if (!s->firm || s->slot->unused)
		return KM_TONE_DIM;
	return km_verdict_tone(s->verdict);
}

const char *km_decide_word(enum km_decide d)
{
	static const char *const word[] = {
		[KM_DECIDE_KEEP] = "keep", [KM_DECIDE_RESTORE] = "restore",
		[KM_DECIDE_BUY] = "buy", [KM_DECIDE_READ] = "look-again",
		[KM_DECIDE_WAIT] = "wait", [KM_DECIDE_LEAVE] = "leave-open",
		[KM_DECIDE_QUESTION] = "ask-first",
	};

	return word[d];
}

const char *km_fit_word(enum km_fitness f)
{
	static const char *const word[] = {
		[KM_FIT] = "fit", [KM_FIT_AFTER_WORK] = "after-work",
		[KM_FIT_UNKNOWN] = "not-known", [KM_UNFIT] = "unfit",
	};

	return word[f];
}

const char *km_way_word(enum km_way_kind k)
{
	static const char *const word[] = {
		[KM_WAY_OWNED] = "owned", [KM_WAY_WORK] = "work",
		[KM_WAY_OFFER] = "offer",
		[KM_WAY_OFFER_WORK] = "offer-and-work",
		[KM_WAY_LOT] = "job-lot", [KM_WAY_OPEN] = "open",
	};

	return word[k];
}

const char *km_bill_word(enum km_bill_kind k)
{
	static const char *const word[] = {
		[KM_BILL_PARCEL] = "parcel", [KM_BILL_LOT] = "lot",
		[KM_BILL_LOAD] = "load", [KM_BILL_JOB_LOT] = "job-lot",
	};

	return word[k];
}

const char *km_aim_word(enum km_aim a)
{
	static const char *const word[] = {
		[KM_AIM_COMPLETE] = "complete", [KM_AIM_BUDGET] = "budget",
		[KM_AIM_POINTS] = "points",
	};

	return word[a];
}

const char *km_match_id(const struct km_match *m)
{
	return m->tool ? m->tool->id : m->offer ? m->offer->id : "";
}

void km_reason_of_slot(struct km_buf *b, const struct km_slot_audit *s)
{
	switch (s->verdict) {
	case KM_SHORT:
		km_buf_printf(b, "%" PRId32 " of %" PRId32, s->filled,
			      s->slot->count);
		break;
	case KM_EXPECTED:
		km_buf_str(b, "on order");
		break;
	case KM_GAP:
		km_buf_str(b, s->n_candidates
				      ? "nothing is left for it"
				      : "nothing on the bench comes near");
		break;
	default:
		if (s->worst)
			km_reason(b, s->worst);
		break;
	}
}
