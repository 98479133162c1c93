/* SPDX-License-Identifier: MIT */
/*
 * questions - the parts of the questions that have files of their own.
 */
#ifndef KM_AUDIT_QUESTIONS_H
#define KM_AUDIT_QUESTIONS_H

#include "base/arena.h"
#include "kitmuster/questions.h"
#include "trade/size.h"

struct km_asker {
	struct km_arena *mem;		/* of the answers */
	struct km_load *load;
	const struct km_audit *base;	/* as things are now */
	struct km_size_book book;	/* all hexagons */
	struct km_question *v;
	uint32_t n;
	uint32_t n_told, answers;	/* questions whose answers are told,
					 * and how many these are */
	uint32_t not_asked;
	enum km_status st;		/* the first failure sticks */
};

/* Zeroed memory for answers; NULL: there is none, which q->st says. */
void *km_asker_room(struct km_asker *q, size_t n, size_t size);

/* The attribute that is not known where an aspect is not, or KM_ATTRS where
 * it is none that can be asked for. */
enum km_attr km_asked_attr(const struct km_match *m, enum km_aspect a);
/* Would an answer change the rule that the tool is held to? */
bool km_asked_matters(const struct km_match *m, enum km_aspect a,
		      enum km_standard s);

/*
 * What an attribute of a tool is if it is as the slot wants it (what is
 * KM_IF_WANTED), or a definite value that fails (KM_IF_OTHER): fills attr,
 * none and the value.  False: there is no such value to be named, or memory
 * ran out, which q->st says.
 */
bool km_answer_of_tool(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out);
/* The same for sizes and openings. */
bool km_answer_of_ends(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out);
/* A reading that fails: 20 per cent over the nominal, or, if that is still
 * within what may be noted, 10 per cent past it; rounded up to a whole
 * millimetre or degree. */
struct km_span km_span_that_fails(const struct km_question *about,
				  struct km_span wanted, bool angle);

/* A size of the same form that is neither the same nor serves; NULL: none is
 * known, or memory ran out.  larger: rather that than a smaller one. */
const struct km_size *km_size_beside(struct km_asker *q,
				     const struct km_size *s, bool larger);
/* The other name that the same jaw may be struck with; NULL: none. */
const struct km_size *km_size_other_name(struct km_asker *q,
					 const struct km_size *s);

/* Audit under one answer, and fill its figures and turns. */
enum km_status km_answer_run(struct km_asker *q, const struct km_question *about,
			     struct km_answer *one);
bool km_standing_same(struct km_standing a, struct km_standing b);
/* Of the audit as it is. */
struct km_figures km_figures_of(const struct km_audit *a);

#endif
