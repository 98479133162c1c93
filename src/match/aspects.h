/* SPDX-License-Identifier: MIT */
/*
 * aspects - the comparison of one thing with one slot, aspect by aspect; for
 * the files that compare.c puts together.
 *
 * Each function fills elements of c->out->on, which was zeroed before: not
 * wanted, passes.
 */
#ifndef KM_MATCH_ASPECTS_H
#define KM_MATCH_ASPECTS_H

#include "match/compare.h"

#define KM_SCORE_AGREES 1000
#define KM_SCORE_TOLERANCE 200		/* what all of a tolerance costs */
#define KM_SCORE_UNRECORDED 500

/* The attributes that are one length each: bits 1 << enum km_attr. */
#define KM_LENGTHS (((uint32_t)1 << (KM_A_DEPTH + 1)) - \
		    ((uint32_t)1 << KM_A_LENGTH))

struct km_case {
	const struct km_rules *rules;
	const struct km_slot *slot;
	const struct km_thing *thing;
	struct km_match *out;
	uint32_t wants;			/* as in struct km_target */
};

/* What the thing records of an attribute. */
enum km_have { KM_HAVE_NOTHING, KM_HAVE_NONE, KM_HAVE_UNREAD, KM_HAVE_VALUE };

static inline enum km_have km_case_have(const struct km_case *c,
					enum km_attr a)
{
	uint32_t bit = (uint32_t)1 << a;
	const struct km_traits *t = c->thing->traits;

	if (t->has & bit)
		return KM_HAVE_VALUE;
	if (t->none & bit)
		return KM_HAVE_NONE;
	return t->unread & bit ? KM_HAVE_UNREAD : KM_HAVE_NOTHING;
}

static inline enum km_certainty km_case_certainty(const struct km_case *c,
						  const struct km_want *w)
{
	return w->own_certainty ? w->certainty : c->slot->exists;
}

/* Does the slot ask for anything here? */
static inline bool km_case_wants(const struct km_case *c, enum km_attr a)
{
	return c->wants >> a & 1;
}

/* Set an aspect, its letter by the rules, its weakness by the claim. */
void km_case_set(struct km_case *c, enum km_aspect aspect, enum km_attr a,
		 enum km_outcome outcome, enum km_finding finding, int score);

/* What an aspect comes to where one value is wanted or has. */
struct km_findings { enum km_finding same, other, unrecorded; };

/*
 * Settle what needs no look at the value: nothing wanted, `none` wanted,
 * `none` recorded, nothing recorded or unreadable.
 *
 * returns  true: the aspect is settled; false: both sides have values
 */
bool km_case_settle(struct km_case *c, enum km_aspect aspect, enum km_attr a,
		    const struct km_findings *f);

/* 1000 - 200 used / allowed, rounded down; allowed > 0, 0 <= used <= allowed. */
int km_score_within(int64_t used, int64_t allowed);

/*
 * Sizes and their names; fills out->end.
 *
 * returns  does an end fit, serve or perhaps fit, or is none recorded?
 */
bool km_compare_ends(struct km_case *c);
/* The kind of the thing, if it and its drive are wanted; else NULL. */
const struct km_kind *km_compare_kind(const struct km_case *c);
/* Is the kind told apart by its sizes here? */
bool km_compare_is_sized(const struct km_case *c, const struct km_kind *kind);
/* At the plater: what looks wrong now is being renewed. */
void km_compare_renewed(struct km_match *m);
/* Length to depth. */
void km_compare_dims(struct km_case *c);
/* May the length be that of the slot, within 25 per cent? */
bool km_compare_length_near(const struct km_case *c);
bool km_compare_length_may_be(const struct km_want *w, struct km_span have);
/* One length that is wanted and recorded: its letter and score. */
void km_compare_length(const struct km_target *t, struct km_span have,
		       enum km_letter *letter, int *score);
/* What km_target holds of the length. */
void km_target_length(struct km_target *t);
/* Mark, made, part. */
void km_compare_marks(struct km_case *c);
/* What a superseding part changes: call it when all else is compared. */
void km_compare_changes(struct km_case *c);
/* Finish, handle material and colour. */
void km_compare_looks(struct km_case *c);
/* Rust to condition, the damage and whether it may turn a nut; after ends. */
void km_compare_condition(struct km_case *c);
/* What of the tool's finish and the one it should have decides which coat is
 * measured: a set of bits. */
uint32_t km_compare_skins(const struct km_case *c);
/* Axes, score, verdict, headline: call it last. */
void km_score(struct km_match *m);
/* Mean score of the aspects from first to last that are wanted. */
int16_t km_score_axis(const struct km_match *m, enum km_aspect first,
		      enum km_aspect last);
/* As km_match.score: 4, 3, 2, 1 and 1 parts of 11, rounded half up. */
static inline int32_t km_score_total(int dimension, int marking, int condition,
				     int finish, int colour)
{
	int sum = 4 * dimension + 3 * marking + 2 * condition + finish + colour;

	return (2 * sum + 11) / 22;
}

#endif
