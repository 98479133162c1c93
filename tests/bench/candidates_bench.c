/* SPDX-License-Identifier: MIT */
/*
 * candidates_bench - time km_candidates_find on a bench made up in memory.
 *
 * usage: candidates_bench [TOOLS [KITS]]; 100000 and 20 by default, 12 slots a
 * kit.  Prints "tools kits candidates-kept bytes best-CPU-seconds".
 */
#define _POSIX_C_SOURCE 200809L

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "match/candidates.h"
#include "trade/finish.h"
#include "trade/kind.h"

#define REPEATS 5
#define SLOTS 12
#define COUNT(a) (sizeof(a) / sizeof *(a))

static struct km_arena *mem;
static uint32_t seed = 1;

static uint32_t draw(uint32_t n)
{
	seed = seed * 1664525u + 1013904223u;
	return (seed >> 8) % n;
}

static void *room(size_t n, size_t size)
{
	void *p = km_arena_alloc(mem, n, size);

	if (!p)
		exit(3);
	return p;
}

static const char *const kinds[] = {
	"double open-ended spanner", "double open-ended spanner",
	"double open-ended spanner", "ring spanner", "screwdriver",
	"combination pliers", "tyre lever", "plug spanner",
	"adjustable spanner", "tommy bar", "box spanner", "hammer",
	"side cutters", "punch", "chisel", "hexagon key",
};
#define SLOT_KINDS 12			/* the rest no kit wants */

static const char *const hexagons[] = {
	"7 mm", "8 mm", "9 mm", "10 mm", "11 mm", "12 mm", "13 mm", "14 mm",
	"17 mm", "19 mm", "22 mm", "24 mm", "7/16 AF", "1/2 AF", "9/16 AF",
	"3/4 AF", "1/4 W", "5/16 W", "3/8 W", "5/16 BS", "3/8 BS",
};
static const char *const tips[] = { "0.6 x 4 mm", "0.8 x 5.5 mm",
				    "1.0 x 6.5 mm", "1.2 x 8 mm" };
static const char *const plugs[] = { "21 mm", "16 mm", "26 mm" };
static const char *const words[] = { "LARKMOOR", "LM", "BRANKEL 4", "OTHER" };
static const char *const finishes[] = { "black oxide", "nickel", "zinc clear",
					"forged" };

static struct km_size *parse_all(const char *const *text, size_t n,
				 enum km_drive_id drive)
{
	struct km_size_rules rules = { &km_drives[drive], false,
				       KM_UNIT_NONE };
	struct km_size *v = room(n, sizeof *v);

	for (size_t i = 0; i < n; i++)
		if (km_size_parse(km_slice_of(text[i]), &rules, mem, &v[i]) !=
		    KM_SIZE_OK)
			exit(2);
	return v;
}

static struct km_size *hex_sizes, *tip_sizes, *plug_sizes;

static const struct km_size *some_size(const struct km_kind *k)
{
	if (k->drive->id == KM_DRIVE_SLOTTED)
		return &tip_sizes[draw(COUNT(tips))];
	if (k->drive->id == KM_DRIVE_PLUG)
		return &plug_sizes[draw(COUNT(plugs))];
	return &hex_sizes[draw(COUNT(hexagons))];
}

/* Each list once, as the reader keeps them. */
static const struct km_size *const *list_of(const struct km_size *a,
					    const struct km_size *b)
{
	static const struct km_size **kept[COUNT(hexagons) * COUNT(hexagons) +
					   2 * COUNT(tips) * COUNT(tips) +
					   2 * COUNT(plugs) * COUNT(plugs)];
	size_t i = 0;

	for (; kept[i]; i++)
		if (kept[i][0] == a && kept[i][1] == b)
			return kept[i];
	kept[i] = room(2, sizeof(*kept[i]));
	kept[i][0] = a;
	kept[i][1] = b;
	return kept[i];
}

static union km_value some_sizes(const struct km_kind *k)
{
	const struct km_size *a = some_size(k), *b = some_size(k);
	union km_value out;

	out.sizes.v = list_of(a, b);
	out.sizes.n = k->ends > 1 ? 2 : 1;
	return out;
}

static union km_value some_openings(const union km_value *sizes)
{
	struct km_span *v = room(2, sizeof *v);
	union km_value out;

	for (uint32_t i = 0; i < sizes->sizes.n; i++)
		v[i] = (struct km_span){
			sizes->sizes.v[i]->nominal_nm + 100000 +
				(int64_t)draw(20) * 10000, 5000, 5000 };
	out.spans.v = v;
	out.spans.n = sizes->sizes.n;
	return out;
}

static union km_value some_finish(void)
{
	union km_value v = { .text = NULL };

	v.finish.body = km_finish_find(
		km_slice_of(finishes[draw(COUNT(finishes))]));
	return v;
}

static void want(struct km_slot *s, enum km_attr a, union km_value v)
{
	union km_value *one = room(1, sizeof *one);

	*one = v;
	s->want[a].state = KM_WANT_ANY_OF;
	s->want[a].n = 1;
	s->want[a].any = one;
}

static void make_slot(struct km_slot *s, const struct km_kind *k)
{
	union km_value kind = { .kind = k };
	union km_value length = { .span = { (int64_t)(120 + draw(80)) *
					    1000000, 3000000, 3000000 } };
	union km_value mark = { .text = words[draw(2)] };

	want(s, KM_A_TOOL, kind);
	if (k->sized)
		want(s, KM_A_SIZES, some_sizes(k));
	want(s, KM_A_LENGTH, length);
	want(s, KM_A_MARK, mark);
	want(s, KM_A_FINISH, some_finish());
}

static void make_kit(struct km_kit *kit)
{
	kit->slots = room(SLOTS, sizeof *kit->slots);
	kit->n_slots = SLOTS;
	kit->limits = (struct km_kit_limits){ -1, -1, -1, -1, -1, -1 };
	for (uint32_t i = 0; i < SLOTS; i++) {
		struct km_slot *s = &kit->slots[i];

		s->id = "S";
		s->kit = kit;
		s->index = i;
		s->count = 1;
		s->durable = true;
		make_slot(s, km_kind_find(km_slice_of(kinds[i % SLOT_KINDS])));
	}
}

/* A third marked, a third measured, a third both; nine in ten with a length,
 * a mark, a finish and a condition. */
static void make_tool(struct km_tool *t, size_t number,
		      const struct km_condition *conditions)
{
	const struct km_kind *k =
		km_kind_find(km_slice_of(kinds[draw(COUNT(kinds))]));
	union km_value *v = room(6, sizeof *v);
	union km_value sizes = some_sizes(k);
	uint32_t how = k->sized ? draw(3) : 3;
	char *id = room(1, 24);
	uint32_t n = 0;

	snprintf(id, 24, "T-%zu", number);
	*t = (struct km_tool){ .id = id, .traits = { .v = v } };
#define HAVE(attr, value) \
	do { t->traits.has |= (uint32_t)1 << (attr); v[n++] = (value); } while (0)
	HAVE(KM_A_TOOL, (union km_value){ .kind = k });
	if (how == 0 || how == 2)
		HAVE(KM_A_SIZES, sizes);
	if (how == 1 || how == 2)
		HAVE(KM_A_OPENINGS, some_openings(&sizes));
	if (draw(10))
		HAVE(KM_A_LENGTH, ((union km_value){ .span = {
			(int64_t)(120 + draw(80)) * 1000000, 500000,
			500000 } }));
	if (draw(10))
		HAVE(KM_A_FINISH, some_finish());
	if (draw(10))
		HAVE(KM_A_MARK, ((union km_value){
			.text = words[draw(COUNT(words))] }));
#undef HAVE
	if (draw(10))
		t->condition = &conditions[draw(4)];
}

static void make_bench(struct km_tools *bench, size_t n)
{
	struct km_condition *c = room(4, sizeof *c);

	for (int i = 0; i < 4; i++)
		c[i] = (struct km_condition){
			.rust = (int8_t)(i - 1), .rust_share = -1,
			.pits = (enum km_pits)i, .pit_nm = -1,
			.plate_left = i ? 6000 + 1000 * i : -1,
			.paint_left = -1, .damage_none = i > 1,
			.ground = -1, .lead_paint = -1 };
	bench->n = n;
	bench->block = room(n / KM_TOOL_BLOCK + 1, sizeof(*bench->block));
	for (size_t i = 0; i <= n / KM_TOOL_BLOCK; i++)
		bench->block[i] = room(KM_TOOL_BLOCK, sizeof(**bench->block));
	for (size_t i = 0; i < n; i++)
		make_tool(km_tool_at(bench, i), i, c);
}

static double seconds(void)
{
	struct timespec t;

	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

int main(int argc, char **argv)
{
	size_t tools = argc > 1 ? strtoul(argv[1], NULL, 10) : 100000;
	uint32_t kits = argc > 2 ? (uint32_t)strtoul(argv[2], NULL, 10) : 20;
	struct km_size_book book;
	struct km_party *parties;
	struct km_tools bench;
	size_t bytes = 0, kept = 0;
	double best = 1e9;

	mem = km_arena_new(NULL);
	if (!mem || !km_size_book_init(&book, mem))
		return 3;
	hex_sizes = parse_all(hexagons, COUNT(hexagons), KM_DRIVE_HEXAGON);
	tip_sizes = parse_all(tips, COUNT(tips), KM_DRIVE_SLOTTED);
	plug_sizes = parse_all(plugs, COUNT(plugs), KM_DRIVE_PLUG);
	parties = room(kits, sizeof *parties);
	for (uint32_t i = 0; i < kits; i++) {
		struct km_kit *kit = room(1, sizeof *kit);

		make_kit(kit);
		parties[i].kit = kit;
		km_rules_init(&parties[i].rules, kit, KM_AS_DELIVERED);
		parties[i].rules.book = &book;
	}
	make_bench(&bench, tools);
	for (int i = 0; i < REPEATS; i++) {
		struct km_arena *own = km_arena_new(NULL);
		struct km_candidates *of = NULL;
		double start = seconds(), took;
		size_t n = 0;

		if (!own || km_candidates_find(own, NULL, parties, kits,
					       &bench, NULL, &of, &n) != KM_OK)
			return 3;
		took = seconds() - start;
		best = took < best ? took : best;
		bytes = km_arena_bytes(own);
		kept = 0;
		for (size_t k = 0; k < n; k++)
			kept += of[k].n;
		km_arena_free(own);
	}
	printf("%zu %u %zu %zu %.4f\n", tools, (unsigned)kits, kept, bytes,
	       best);
	km_arena_free(mem);
	return 0;
}
