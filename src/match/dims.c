/* SPDX-License-Identifier: MIT */
/*
 * dims - lengths and angles: a reading against what is wanted.
 *
 * A reading is known to half its last digit; it is within the tolerance if
 * that interval touches it.  It agrees when the interval holds the nominal
 * figure itself.
 */
#include "match/aspects.h"

#include "unit/length.h"

#define SHARE_ONE 10000		/* hundredths of a per cent */
#define SHARE_MOST 1000000	/* a share that a kit may set, at most */

/* How one reading stands to one wanted span. */
struct distance {
	enum km_outcome outcome;
	enum km_finding finding;
	int score;
	int64_t by, over;
};

static int64_t magnitude(int64_t v)
{
	return v < 0 ? -v : v;
}

static struct distance hold(struct km_span want, struct km_span have,
			    int32_t usable)
{
	struct distance d = { KM_AGREES, KM_F_DIMENSION_WITHIN,
			      KM_SCORE_AGREES, have.nm - want.nm, 0 };
	int64_t used = magnitude(d.by);
	int64_t allowed = d.by > 0 ? want.plus_nm : want.minus_nm;
	/* what may lie between the reading and the thing itself */
	int64_t slack = d.by > 0 ? have.minus_nm : have.plus_nm;

	if (used > allowed)
		d.over = used - allowed;
	if (used <= slack)
		return d;
	if (km_span_meets(want, have)) {
		d.outcome = KM_WITHIN;
		d.over = 0;
		/* allowed > 0, or the nominal would lie in the interval */
		d.score = km_score_within(used < allowed ? used : allowed,
					  allowed);
		return d;
	}
	d.outcome = KM_DIFFERS;
	d.score = 0;
	d.finding = (used - slack) * SHARE_ONE <= want.nm * usable
		    ? KM_F_DIMENSION_NEAR : KM_F_DIMENSION_OUTSIDE;
	return d;
}

/* Of several alternatives the nearest one counts. */
static bool is_better(const struct distance *a, const struct distance *b)
{
	if (a->outcome != b->outcome)
		return a->outcome < b->outcome;
	if (a->finding != b->finding)
		return a->finding < b->finding;
	if (a->score != b->score)
		return a->score > b->score;
	return magnitude(a->by) < magnitude(b->by);
}

static struct distance nearest(const struct km_rules *rules,
			       const struct km_want *w, struct km_span have)
{
	int32_t usable = rules->length_usable;
	struct distance best = { 0 };

	if (usable > SHARE_MOST)
		usable = SHARE_MOST;
	for (uint32_t i = 0; i < w->n; i++) {
		struct distance d = hold(w->any[i].span, have, usable);

		if (!i || is_better(&d, &best))
			best = d;
	}
	return best;
}

static void compare_one(struct km_case *c, enum km_aspect aspect,
			enum km_attr a)
{
	static const struct km_findings findings = {
		KM_F_DIMENSION_WITHIN, KM_F_DIMENSION_OUTSIDE,
		KM_F_DIMENSION_UNRECORDED,
	};
	struct distance d;

	if (km_case_settle(c, aspect, a, &findings))
		return;
	d = nearest(c->rules, &c->slot->want[a],
		    km_trait(c->thing->traits, a)->span);
	km_case_set(c, aspect, a, d.outcome, d.finding, d.score);
	c->out->on[aspect].by = d.by;
	c->out->on[aspect].over = d.over;
}

void km_compare_dims(struct km_case *c)
{
	uint32_t wants = c->wants & KM_LENGTHS;

	/* the aspects stand in the order of the attributes */
	for (int i = KM_A_LENGTH; wants >> i; i++)
		if (wants >> i & 1)
			compare_one(c, (enum km_aspect)(KM_ASP_LENGTH + i -
							KM_A_LENGTH),
				    (enum km_attr)i);
}

bool km_compare_length_may_be(const struct km_want *w, struct km_span have)
{
	for (uint32_t i = 0; i < w->n; i++) {
		int64_t by = magnitude(have.nm - w->any[i].span.nm);

		if (by * 100 <= w->any[i].span.nm * KM_LIMIT_candidate_length)
			return true;
	}
	return false;
}

bool km_compare_length_near(const struct km_case *c)
{
	const struct km_want *w = &c->slot->want[KM_A_LENGTH];
	const union km_value *v = km_trait(c->thing->traits, KM_A_LENGTH);

	return !v || !km_case_wants(c, KM_A_LENGTH) ||
	       w->state == KM_WANT_NONE || km_compare_length_may_be(w, v->span);
}

void km_compare_length(const struct km_target *t, struct km_span have,
		       enum km_letter *letter, int *score)
{
	struct distance d = nearest(t->rules, &t->slot->want[KM_A_LENGTH],
				    have);

	*letter = km_rules_letter(d.finding, t->rules->standard);
	*score = d.score;
}

void km_target_length(struct km_target *t)
{
	const struct km_want *w = &t->slot->want[KM_A_LENGTH];
	enum km_standard s = t->rules->standard;

	t->outside = km_rules_letter(KM_F_DIMENSION_NEAR, s);
	t->far = km_rules_letter(KM_F_DIMENSION_OUTSIDE, s);
	t->low_nm = INT64_MIN;
	t->high_nm = INT64_MAX;
	if ((t->wants >> KM_A_LENGTH & 1) && w->state == KM_WANT_ANY_OF &&
	    w->n == 1) {
		t->low_nm = km_span_low(w->any[0].span);
		t->high_nm = km_span_high(w->any[0].span);
	}
}
