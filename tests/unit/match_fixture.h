/* SPDX-License-Identifier: MIT */
/*
 * match_fixture - slots and tools as literals, for the tests of matching.
 *
 * Everything belongs to one arena, made by the group's setup and freed by its
 * teardown.
 */
#ifndef KM_TESTS_MATCH_FIXTURE_H
#define KM_TESTS_MATCH_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "base/arena.h"
#include "match/compare.h"
#include "trade/colour.h"
#include "trade/finish.h"
#include "trade/kind.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define UM(n) ((int64_t)(n) * 1000)	/* micrometres in nm */

static struct km_arena *mem;
static struct km_size_book book;

static inline int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	return mem && km_size_book_init(&book, mem) ? 0 : -1;
}

static inline int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

/* A slot and a thing, with room for what the thing records. */
struct pair {
	struct km_kit kit;
	struct km_slot slot;
	struct km_tool tool;
	struct km_condition condition;
	union km_value values[KM_ATTRS];
	struct km_thing thing;
	struct km_rules rules;
};

/* ------------------------------------------------------------------ */
/* Values                                                              */

static inline union km_value kind_of(const char *name)
{
	union km_value v = { .kind = km_kind_find(km_slice_of(name)) };

	assert_non_null(v.kind);
	return v;
}

static inline const struct km_size *size_of(const char *text, const char *drive)
{
	struct km_size_rules rules = {
		km_drive_find(km_slice_of(drive)), false, KM_UNIT_NONE };
	struct km_size *s = km_arena_alloc(mem, 1, sizeof *s);

	assert_non_null(s);
	if (km_size_parse(km_slice_of(text), &rules, mem, s) != KM_SIZE_OK)
		fail_msg("size %s is not read", text);
	return s;
}

/* Sizes of one drive; the second may be NULL. */
static inline union km_value sizes_of(const char *drive, const char *a, const char *b)
{
	const struct km_size **v = km_arena_alloc(mem, 2, sizeof *v);
	union km_value out;

	assert_non_null(v);
	v[0] = size_of(a, drive);
	v[1] = b ? size_of(b, drive) : NULL;
	out.sizes.v = v;
	out.sizes.n = b ? 2 : 1;
	return out;
}

static inline union km_value hexagons(const char *a, const char *b)
{
	return sizes_of("hexagon", a, b);
}

static inline struct km_span span_um(int64_t um, int32_t minus_um, int32_t plus_um)
{
	return (struct km_span){ UM(um), minus_um * 1000, plus_um * 1000 };
}

/* A length of so many micrometres, with what it may be less and more. */
static inline union km_value length_um(int64_t um, int32_t minus_um, int32_t plus_um)
{
	return (union km_value){ .span = span_um(um, minus_um, plus_um) };
}

/* Openings in hundredths of a millimetre, read to the hundredth; b 0: none. */
static inline union km_value openings(int a, int b)
{
	struct km_span *v = km_arena_alloc(mem, 2, sizeof *v);
	union km_value out;

	assert_non_null(v);
	v[0] = span_um(a * 10, 5, 5);
	v[1] = span_um(b * 10, 5, 5);
	out.spans.v = v;
	out.spans.n = b ? 2 : 1;
	return out;
}

static inline union km_value text_of(const char *text)
{
	return (union km_value){ .text = text };
}

static inline union km_value finish_of(const char *body, const char *faces)
{
	union km_value v = { .text = NULL };

	v.finish.body = body ? km_finish_find(km_slice_of(body)) : NULL;
	v.finish.faces = faces ? km_finish_find(km_slice_of(faces)) : NULL;
	assert_true(!body == !v.finish.body && !faces == !v.finish.faces);
	return v;
}

static inline union km_value rgb(uint32_t code)
{
	union km_value v = { .text = NULL };

	v.colour.word = NULL;
	v.colour.rgb = code;
	return v;
}

static inline union km_value material_of(const char *name)
{
	union km_value v = { .material = km_material_find(km_slice_of(name)) };

	assert_non_null(v.material);
	return v;
}

static inline union km_value made(enum km_made m)
{
	return (union km_value){ .made = m };
}

/* ------------------------------------------------------------------ */
/* Pairs                                                               */

/* One more value that the slot may have. */
static inline void want(struct pair *p, enum km_attr a, union km_value v)
{
	struct km_want *w = &p->slot.want[a];
	union km_value *any = km_arena_alloc(mem, w->n + 1, sizeof *any);

	assert_non_null(any);
	if (w->n)
		memcpy(any, w->any, w->n * sizeof *any);
	any[w->n++] = v;
	w->any = any;
	w->state = KM_WANT_ANY_OF;
}

static inline void want_none(struct pair *p, enum km_attr a)
{
	p->slot.want[a].state = KM_WANT_NONE;
	p->slot.want[a].or_none = true;
}

static inline void sure(struct pair *p, enum km_attr a, enum km_certainty c)
{
	p->slot.want[a].own_certainty = true;
	p->slot.want[a].certainty = c;
}

static inline void have(struct pair *p, enum km_attr a, union km_value v)
{
	struct km_traits *t = &p->tool.traits;
	uint32_t bit = (uint32_t)1 << a;
	int at = __builtin_popcount(t->has & (bit - 1));
	int n = __builtin_popcount(t->has);

	if (!(t->has & bit))
		memmove(&p->values[at + 1], &p->values[at],
			(size_t)(n - at) * sizeof v);
	p->values[at] = v;
	t->has |= bit;
	t->none &= ~bit;
	t->unread &= ~bit;
	t->v = p->values;
}

static inline void have_none(struct pair *p, enum km_attr a)
{
	p->tool.traits.none |= (uint32_t)1 << a;
}

static inline void have_unread(struct pair *p, enum km_attr a)
{
	p->tool.traits.unread |= (uint32_t)1 << a;
}

/* Nothing of the condition is recorded yet. */
static inline struct km_condition blank_condition(void)
{
	return (struct km_condition){
		.rust = -1, .rust_share = -1, .pit_nm = -1,
		.mark_depth_nm = -1, .plate_left = -1, .paint_left = -1,
		.ground = -1, .lead_paint = -1 };
}

/* A slot that wants a kind and a tool of that kind, sound all over. */
static inline void begin(struct pair *p, const char *kind)
{
	*p = (struct pair){
		.kit = { .limits = { -1, -1, -1, -1, -1, -1 } },
		.slot = { .id = "S-01", .count = 1, .durable = true,
			  .exists = KM_CERTAIN, .points = -1 },
		.tool = { .id = "T-001" },
	};
	p->slot.kit = &p->kit;
	p->condition = blank_condition();
	p->condition.rust = 0;
	p->condition.pits = KM_PITS_NONE;
	p->condition.damage_none = true;
	p->tool.condition = &p->condition;
	want(p, KM_A_TOOL, kind_of(kind));
	have(p, KM_A_TOOL, kind_of(kind));
}

static inline struct km_match compare(struct pair *p, enum km_standard s)
{
	const struct km_supersession *chain = p->rules.superseded;
	uint32_t n = p->rules.n_superseded;
	struct km_match m;

	km_rules_init(&p->rules, &p->kit, s);
	p->rules.book = &book;
	p->rules.superseded = chain;
	p->rules.n_superseded = n;
	p->thing.traits = &p->tool.traits;
	p->thing.condition = p->tool.condition;
	p->thing.tool = &p->tool;
	km_compare(&p->rules, &p->slot, &p->thing, &m);
	return m;
}

static inline bool is_candidate(struct pair *p)
{
	compare(p, KM_AS_DELIVERED);
	return km_compare_is_candidate(&p->rules, &p->slot, &p->thing);
}

/* What an aspect came to. */
#define assert_aspect(m, aspect, want_finding, want_letter) do { \
	assert_int_equal((m).on[aspect].finding, want_finding); \
	assert_int_equal((m).on[aspect].letter, want_letter); \
} while (0)

#define assert_verdict(m, want_verdict, want_headline) do { \
	assert_int_equal((m).verdict, want_verdict); \
	assert_int_equal((m).headline, want_headline); \
} while (0)

#endif
