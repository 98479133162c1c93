/* SPDX-License-Identifier: MIT */
/* Records of one tool that contradict each other.  One of the two is a slip,
 * and nothing tells which: warnings, and both stand. */
#include "read/clash.h"

#include <stdio.h>
#include <string.h>

#include "read/measure.h"
#include "trade/size.h"
#include "unit/date.h"
#include "unit/length.h"

enum { FACT = 80 };

/* More than wear and a slip of the caliper [choice]. */
#define OPENING_OFF_NM KM_MM(2)
/* What a hand tool, or a part that lies with it, is long [choice]. */
#define SHORT_NM KM_MM(5)
#define LONG_NM KM_MM(3000)

/* The value of a key, for its place; the item if it is not found. */
static const struct km_node *node_of(const struct km_node *map,
				     const char *key)
{
	const struct km_node *k;

	for (k = map->first; k; k = k->next->next)
		if (!strcmp(k->text, key))
			return k->next;
	return map;
}

static void say(struct km_bind *b, const struct km_node *at, const char *fact,
		const char *other, const char *hint)
{
	struct km_diag *one = KM_SAY(b, at, CONTRADICTS_ITSELF, fact, other);

	KM_HINT(b, one, "%s", hint);
}

static void date_fact(char fact[FACT], const char *key, struct km_date d)
{
	snprintf(fact, FACT, "%s: %04d-%02d-%02d", key, d.year, d.month,
		 d.day);
}

/* A day that cannot come before the tool has its status. */
static void check_day(struct km_bind *b, const struct km_node *n,
		      const char *key, struct km_date day,
		      struct km_date since)
{
	char fact[FACT], other[FACT];

	if (!day.year || !since.year || km_date_compare(day, since) >= 0)
		return;
	date_fact(fact, key, day);
	date_fact(other, "since", since);
	say(b, node_of(n, key), fact, other,
	    "it lies before that day: one of the two dates is wrong");
}

static void check_more(struct km_bind *b, const struct km_node *n,
		       const struct km_tool *t)
{
	const struct km_tool_more *m = t->more;

	check_day(b, n, "due", m->due, m->since);
	check_day(b, n, "return_by", m->return_by, m->since);
	if (t->status == KM_HERE && m->lent_to)
		say(b, node_of(n, "lent_to"), "lent_to", "status: here",
		    "write 'status: lent', or take out who has it");
}

static void check_condition(struct km_bind *b, const struct km_node *n,
			    const struct km_tool *t)
{
	static const uint32_t mark = (uint32_t)1 << KM_A_MARK;
	static const uint32_t sizes = (uint32_t)1 << KM_A_SIZES;
	const struct km_condition *c = t->condition;
	const struct km_node *map = node_of(n, "condition");
	const char *legible = c->marking == KM_MARKING_CRISP
				      ? "marking: crisp" : "marking: legible";
	char fact[FACT];

	if (!c->rust && c->rust_share > 0) {
		snprintf(fact, sizeof fact, "rust_pct: %d.%02d %%",
			 (int)c->rust_share / 100, (int)c->rust_share % 100);
		say(b, node_of(map, "rust_pct"), fact, "rust: 0",
		    "no rust covers nothing: look at the tool again");
	}
	if (c->marking != KM_MARKING_CRISP &&
	    c->marking != KM_MARKING_LEGIBLE)
		return;
	if (t->traits.unread & mark)
		say(b, node_of(map, "marking"), legible, "mark: illegible",
		    "a mark that cannot be read is faint or gone; if it can, "
		    "write it down");
	else if (t->traits.none & mark && !(t->traits.has & sizes))
		say(b, node_of(map, "marking"), legible, "mark: none",
		    "write the mark that can be read, or leave 'marking' out");
}

/* Is the end known to be spread, so that it measures more than it is? */
static bool is_spread(const struct km_tool *t, uint32_t end)
{
	const struct km_condition *c = t->condition;
	uint32_t i;

	for (i = 0; c && i < c->n_damage; i++)
		if (c->damage[i].what == KM_DMG_SPREAD &&
		    (!c->damage[i].end ||
		     (uint32_t)c->damage[i].end == end + 1))
			return true;
	return false;
}

static void check_jaw(struct km_bind *b, const struct km_node *n,
		      const struct km_tool *t, uint32_t end)
{
	const struct km_size *size = km_trait(&t->traits, KM_A_SIZES)
					     ->sizes.v[end];
	int64_t nm = km_trait(&t->traits, KM_A_OPENINGS)->spans.v[end].nm;
	int64_t off = nm - size->nominal_nm;
	char fact[FACT], other[FACT];

	if (!nm || !size->nominal_nm || size->opening.basis == KM_BASIS_NONE ||
	    is_spread(t, end))
		return;
	if (off <= OPENING_OFF_NM && off >= -OPENING_OFF_NM)
		return;
	snprintf(fact, sizeof fact, "openings: %lld.%02lld mm",
		 (long long)(nm / KM_MM(1)),
		 (long long)(nm % KM_MM(1) / (KM_MM(1) / 100)));
	snprintf(other, sizeof other, "sizes: %s", size->text);
	say(b, node_of(n, "openings"), fact, other,
	    "the two are more than 2 mm apart: see whether the letters of the "
	    "size are right, and the order of the ends");
}

static void check_jaws(struct km_bind *b, const struct km_node *n,
		       const struct km_tool *t)
{
	uint32_t sizes = km_trait(&t->traits, KM_A_SIZES)->sizes.n;
	uint32_t openings = km_trait(&t->traits, KM_A_OPENINGS)->spans.n;
	char fact[FACT], other[FACT];
	uint32_t i;

	/* fewer: the other end was not measured */
	if (openings > sizes) {
		snprintf(fact, sizeof fact, "openings: %u of them",
			 (unsigned)openings);
		snprintf(other, sizeof other, "sizes: %u of them",
			 (unsigned)sizes);
		say(b, node_of(n, "openings"), fact, other,
		    "both go by the ends of the tool: write unknown for a "
		    "size that is not struck");
		return;
	}
	for (i = 0; i < openings; i++)
		check_jaw(b, n, t, i);
}

void km_tool_clashes(struct km_bind *b, const struct km_node *n,
		     const struct km_tool *t)
{
	static const uint32_t both = (uint32_t)1 << KM_A_SIZES |
				     (uint32_t)1 << KM_A_OPENINGS;
	const union km_value *v = km_trait(&t->traits, KM_A_LENGTH);
	struct km_diag *one;

	if (t->more)
		check_more(b, n, t);
	if (t->condition)
		check_condition(b, n, t);
	if ((t->traits.has & both) == both)
		check_jaws(b, n, t);
	if (!v || (v->span.nm >= SHORT_NM && v->span.nm <= LONG_NM))
		return;
	n = node_of(n, "length");
	one = KM_SAY(b, n, UNLIKELY_LENGTH,
		     n->type == KM_NODE_SCALAR ? km_clip(b, n) : "this");
	KM_HINT(b, one, "check the unit: tools are 5 mm to 3 m long");
}
