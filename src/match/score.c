/* SPDX-License-Identifier: MIT */
/*
 * score - what the aspects come to: axes, total, verdict, headline.
 *
 * Total = (4 dimension + 3 marking + 2 condition + finish + colour) / 11,
 * rounded half up; an axis is the mean of what is wanted on it, rounded down,
 * and 1000 where nothing is.
 */
#include "match/aspects.h"

int16_t km_score_axis(const struct km_match *m, enum km_aspect first,
		      enum km_aspect last)
{
	int sum = 0, n = 0;

	for (int i = (int)first; i <= (int)last; i++)
		if (m->on[i].outcome != KM_NOT_WANTED) {
			sum += m->on[i].score;
			n++;
		}
	return (int16_t)(n ? sum / n : KM_SCORE_AGREES);
}

/* The same, for aspects that do not stand together. */
static int16_t axis_of(const struct km_match *m, const enum km_aspect *of,
		       int count)
{
	int sum = 0, n = 0;

	for (int i = 0; i < count; i++)
		if (m->on[of[i]].outcome != KM_NOT_WANTED) {
			sum += m->on[of[i]].score;
			n++;
		}
	return (int16_t)(n ? sum / n : KM_SCORE_AGREES);
}

static int16_t dimension_axis(const struct km_match *m)
{
	static const enum km_aspect of[] = {
		KM_ASP_SIZES, KM_ASP_LENGTH, KM_ASP_THICKNESS, KM_ASP_WIDTH,
		KM_ASP_ANGLE, KM_ASP_BAR, KM_ASP_HOLE, KM_ASP_BLADE, KM_ASP_JAW,
		KM_ASP_HOOK, KM_ASP_DEPTH,
	};

	return axis_of(m, of, 11);
}

static int16_t marking_axis(const struct km_match *m)
{
	static const enum km_aspect of[] = {
		KM_ASP_MARK, KM_ASP_SIZE_NAME, KM_ASP_MADE, KM_ASP_PART,
	};

	return axis_of(m, of, 4);
}

static void score_axes(struct km_match *m)
{
	m->dimension = dimension_axis(m);
	m->marking = marking_axis(m);
	m->condition = km_score_axis(m, KM_ASP_RUST, KM_ASP_DAMAGE);
	m->finish = km_score_axis(m, KM_ASP_FINISH, KM_ASP_FINISH);
	m->colour = km_score_axis(m, KM_ASP_HANDLE_MATERIAL,
				  KM_ASP_HANDLE_COLOUR);
	m->score = km_score_total(m->dimension, m->marking, m->condition,
				  m->finish, m->colour);
}

/* The first aspect of a letter; of failures, one on firm evidence first. */
static enum km_aspect first_of(const struct km_match *m, enum km_letter letter)
{
	enum km_aspect weak = KM_ASPECTS;

	for (int i = 0; i < KM_ASPECTS; i++) {
		if (m->on[i].letter != letter || !m->on[i].finding)
			continue;
		if (letter != KM_FAILS || !m->on[i].weak)
			return (enum km_aspect)i;
		if (weak == KM_ASPECTS)
			weak = (enum km_aspect)i;
	}
	return weak;
}

static enum km_verdict verdict_of(enum km_letter worst)
{
	switch (worst) {
	case KM_FAILS:
		return KM_SUBSTITUTE;
	case KM_NOT_KNOWN:
		return KM_UNVERIFIED;
	case KM_CURABLE:
		return KM_AFTER_WORK;
	default:
		return KM_RIGHT;
	}
}

/* Any F: substitute; else any U: unverified; else any C: after work. */
static void judge(struct km_match *m)
{
	static const enum km_letter steps[] = {
		KM_FAILS, KM_NOT_KNOWN, KM_CURABLE,
	};

	m->verdict = KM_RIGHT;
	m->headline = KM_ASPECTS;
	for (int i = 0; i < 3 && m->headline == KM_ASPECTS; i++) {
		m->headline = first_of(m, steps[i]);
		if (m->headline != KM_ASPECTS)
			m->verdict = verdict_of(steps[i]);
	}
}

void km_score(struct km_match *m)
{
	score_axes(m);
	judge(m);
}

bool km_match_wants_work(const struct km_match *m)
{
	return first_of(m, KM_CURABLE) != KM_ASPECTS;
}

void km_match_settle(struct km_match *m, bool reaches)
{
	if (reaches)
		return;
	for (int i = 0; i < KM_ASPECTS; i++)
		if (m->on[i].letter == KM_CURABLE)
			m->on[i].letter = KM_FAILS;
	judge(m);
}
