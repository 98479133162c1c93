/* SPDX-License-Identifier: MIT */
/*
 * reason - the parts of reason.c that have files of their own.
 */
#ifndef KM_REPORT_REASON_H
#define KM_REPORT_REASON_H

#include "report/words.h"

static inline const struct km_traits *km_match_traits(const struct km_match *m)
{
	return m->tool ? &m->tool->traits : &m->offer->traits;
}

static inline const struct km_condition *
km_match_condition(const struct km_match *m)
{
	return m->tool ? m->tool->condition : m->offer->condition;
}

void km_reason_sizes(struct km_buf *b, const struct km_match *m,
		     const struct km_comparison *c);
void km_reason_size_name(struct km_buf *b, const struct km_match *m,
			 const struct km_comparison *c);
void km_reason_condition(struct km_buf *b, const struct km_match *m,
			 enum km_aspect a);

#endif
