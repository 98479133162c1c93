/* SPDX-License-Identifier: MIT */
/*
 * evidence - what the sources of a claim come to, and the claims of a kit as
 * a judge will query them.
 *
 * A source that depends on others is a mention of theirs; what is counted
 * are roots, sources that depend on none.  A root is strong or weak on what
 * is claimed; seen only through a source that is weak on it, it is weak.  A
 * paper whose edition is of other years than the kit is weak on everything.
 *
 * Owner    evidence: the load; the sheet: the audit
 */
#ifndef KITMUSTER_EVIDENCE_H
#define KITMUSTER_EVIDENCE_H

#include "kitmuster/model.h"

/* What a claim is about: a source is good on some of these, and weak on the
 * others. */
enum km_ground {
	KM_G_EXISTS,		/* that the piece was in the kit */
	KM_G_QUANTITY, KM_G_KIND, KM_G_SIZES,
	KM_G_DIMENSION,		/* length and the other measures */
	KM_G_FINISH, KM_G_COLOUR, KM_G_MARK, KM_G_PART,
	KM_GROUNDS
};

/* A root of a source, itself if it depends on none. */
struct km_root {
	const struct km_source *source;
	uint16_t strong;	/* bits 1 << enum km_ground: some way to it
				 * holds sources alone that are strong on it */
};

struct km_evidence {
	struct km_sources for_it, against_it;
	struct km_sources silent;	/* cover it and do not show it */
	/* dependent: mentions that depend on a source */
	uint32_t mentions, dependent, roots, strong;	/* for it */
	uint32_t mentions_against, dependent_against, roots_against,
		strong_against;
	uint32_t roots_silent;
	/* what it rests on: the kind of its one mention, else the kind that
	 * all its roots have; KM_SRC_WHATS: of several kinds, or none */
	enum km_source_what rests_on;
	enum km_certainty supports;	/* UNKNOWN: no source is named */
};

/* ------------------------------------------------------------------ */
/* The sheet                                                           */

enum km_says { KM_SAYS_FOR, KM_SAYS_AGAINST, KM_SAYS_SILENT };

struct km_claim_source {
	const struct km_source *source;
	enum km_says says;
	bool strong;		/* on what is claimed, and so are those that
				 * it depends on, by some way */
	bool other_years;	/* dated outside the years of the kit */
};

/* Where the certainty of a claim comes from. */
enum km_sure_by {
	KM_SURE_BY_WORD,	/* the file says no more than the claim */
	KM_SURE_BY_STATEMENT,
	KM_SURE_BY_SOURCES,	/* computed from them */
	KM_SURE_BY_SLOT		/* that of its slot */
};

struct km_claim_audit {
	const struct km_slot *slot;
	/* further slots of which every_slot says the same, in order */
	const struct km_slot *const *alike;
	uint32_t n_alike;
	enum km_attr attr;		/* KM_ATTRS: that the slot exists */
	const struct km_want *want;	/* NULL for that */
	enum km_certainty certainty;
	enum km_sure_by by;
	const struct km_evidence *evidence;	/* NULL: names no source */
	bool queried;		/* less than probable, disputed, or stated
				 * surer than its sources support */
	bool overstated;	/* the last of these */
	bool outweighed;	/* a surer claim counts instead */
	const struct km_claim_source *sources;	/* for, against,
						 * silent; roots first;
						 * by id */
	uint32_t n_sources;
};

/* The claims of one kit that have sources or are queried: what is queried
 * first, each part in the order of slots, existence before attributes. */
struct km_evidence_audit {
	const struct km_claim_audit *claims;
	uint32_t n_claims, n_queried;
};

#endif
