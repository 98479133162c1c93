/* SPDX-License-Identifier: MIT */
/*
 * questions - what is worth finding out next: for everything that is not
 * sure, the audit under each answer it may have, and what turns.
 *
 * Asked are
 *
 *	kit     which kit a machine left with, where that is undecided: each
 *	        kit in turn, as if the machine named it
 *	slot    a slot that is neither certain nor probable: it was there (as
 *	        if certain), it was not (as if the kit had no such slot, and
 *	        nothing were pinned to it)
 *	claim   what a kit claims of an attribute, where that is disputed,
 *	        possible or less, or stands against another claim and is not
 *	        certain: each value by itself, as if certain; of a claim that
 *	        stands alone: as claimed, and set aside (unknown)
 *	tool    what is not recorded, or cannot be read, of a tool that is in
 *	        a place, or is the best candidate of a slot that is open,
 *	        short or unverified: what the slot wants, and a definite value
 *	        that fails.  Only where one of the two would change the rule
 *	        that the tool is held to: an open question that passes, and
 *	        could at worst be noted, is none
 *
 * Each answer is one more audit of the same load with that one thing changed.
 * Points and money are sums over the kits of the run.
 */
#ifndef KITMUSTER_QUESTIONS_H
#define KITMUSTER_QUESTIONS_H

#include "kitmuster/audit.h"

/* More are only counted: each answer is one more audit. */
#define KM_QUESTIONS_MOST 200
#define KM_ANSWERS_MOST 400	/* of all questions together */

enum km_question_what {		/* in the order in which they are asked */
	KM_ASK_KIT, KM_ASK_SLOT, KM_ASK_CLAIM, KM_ASK_TOOL
};

enum km_answer_what {
	KM_IF_KIT,		/* it is this kit */
	KM_IF_THERE, KM_IF_NOT_THERE,
	KM_IF_VALUE,		/* this value alone */
	KM_IF_CLAIMED,		/* this claim, with all it allows */
	KM_IF_SET_ASIDE,	/* nothing is known of it */
	KM_IF_WANTED,		/* as the slot wants it */
	KM_IF_OTHER		/* a value that fails */
};

/* How a slot stands. */
struct km_standing {
	enum km_verdict verdict;	/* as if firm */
	bool firm;
	bool out;			/* the kit has no such slot; the rest
					 * says nothing */
};

/* Of a machine that is undecided, the slots that only another reading has
 * stand in doubt, as long as it is. */
struct km_turn {
	const struct km_slot *slot;	/* as it is now, or, of one that is
					 * out, as it was */
	struct km_standing was, is;
};

/* What an audit comes to, all its kits together. */
struct km_figures {
	int32_t firm, on_paper, after_work;	/* as in km_counts */
	int64_t points_now;	/* lost by the rubric, hundredths; 0: none */
	int64_t points_after;	/* lost once the plan is carried out */
	int64_t money;		/* to finish, likely, minor units */
	int32_t left_open;	/* firm places that the plan leaves short */
};

struct km_answer {
	enum km_answer_what what;
	const struct km_kit *kit;	/* KM_IF_KIT */
	enum km_attr attr;		/* that the value is of */
	bool none;			/* the value is: recorded absent */
	const union km_value *values;	/* NULL: not about a value, or none */
	uint32_t n_values;		/* several only if CLAIMED */
	struct km_figures figures;
	const struct km_turn *turns;	/* verdicts not as they are now, in
					 * (kit, slot) order */
	uint32_t n_turns;
};

struct km_question {
	enum km_question_what what;
	const struct km_kit_audit *kit;
	const struct km_slot *slot;	/* NULL: KIT */
	enum km_attr attr;		/* CLAIM, TOOL; else KM_ATTRS */
	const struct km_tool *tool;	/* TOOL */
	enum km_aspect aspect;		/* TOOL: what is not known */
	const struct km_match *match;	/* TOOL: the tool against the slot */
	struct km_answer *answers;
	uint32_t n_answers;
	bool changes;		/* some answer is not as things are now */
	bool differs;		/* the answers are not all the same */
	/* the most that two answers differ by, which is what orders them */
	int32_t by_complete;	/* on paper of firm, in thousandths */
	int64_t by_money, by_points;	/* points once the plan is done */
	uint32_t by_slots;	/* most verdicts that one answer turns */
};

/* Largest change first: those whose answers differ, by completeness, money,
 * points, verdicts; then those that come to the same either way; then those
 * that change nothing.  Ties by kit, slot, attribute, tool and machine. */
struct km_questions {
	struct km_figures now;
	const struct km_question *v;
	uint32_t n;
	uint32_t not_asked;	/* beyond KM_QUESTIONS_MOST, or with more
				 * answers than were left */
};

/*
 * Ask all questions of an audit, and leave them in audit->questions.
 *
 * load      of the audit.  Each answer is put into it and taken out again: it
 *           is as before on return, also after a failure, but must not be
 *           shared meanwhile
 * a         made with want_money; owns the answers
 * errors    KM_ENOMEM, KM_ERANGE, KM_EINPUT (the load is not the audit's)
 */
enum km_status km_questions_ask(struct km_load *load, struct km_audit *a);

#endif
