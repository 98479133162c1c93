/* SPDX-License-Identifier: MIT */
/*
 * explain - one kit against the tools that came with a machine: which of them
 * it explains, and how.
 *
 * A tool is compared with a slot as delivered and without its condition: rust
 * and wear came after the factory and tell nothing about the kit.  The tools
 * go to the places (one for each piece of a slot) that explain most of them;
 * then that leave fewest strays; then with fewest aspects that differ; then in
 * most firm durable places; then with most aspects that agree; then, place by
 * place, the smallest tool id.
 */
#ifndef KM_AUDIT_EXPLAIN_H
#define KM_AUDIT_EXPLAIN_H

#include "base/arena.h"
#include "kitmuster/kits.h"
#include "match/compare.h"

/* The tools, made ready once for all kits. */
struct km_found {
	const struct km_tool *const *tools;
	struct km_thing *things;	/* one a tool */
	uint32_t n;
	const struct km_size_book *book;	/* NULL: none was measured */
	const struct km_supersession *superseded;
	uint32_t n_superseded;
};

/*
 * errors   KM_ENOMEM
 */
enum km_status km_found_init(struct km_arena *mem,
			     const struct km_tool *const *tools, uint32_t n,
			     const struct km_prices *prices,
			     struct km_found *out);

/*
 * Fill what of a rank follows from the tools; the rest is left as it is.
 *
 * keep      owns out->tools, out->empty and their matches; NULL: only count
 * scratch   working memory, reset here
 * errors    KM_ENOMEM, KM_ERANGE
 */
enum km_status km_kit_explain(struct km_arena *keep, struct km_arena *scratch,
			      const struct km_found *e,
			      const struct km_kit *kit,
			      struct km_kit_rank *out);

#endif
