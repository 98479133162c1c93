/* SPDX-License-Identifier: MIT */
/*
 * Kinds and drives by their names, and the table of words against the rows
 * that it is derived from.  Run with --words it prints what
 * src/trade/words.def should hold.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/finish.h"
#include "trade/kind.h"
#include "trade/words.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

/* ------------------------------------------------------------------ */
/* The words as the rows have them                                     */

struct entry { char word[KM_WORD_ROOM]; const char *id; };

struct list { struct entry v[2000]; size_t n; };

static void add_words(struct list *l, const char *p, const char *id)
{
	while (*p) {
		size_t n = strcspn(p, "|");

		assert_true(l->n < LENGTH(l->v));
		assert_true(km_word_fold((struct km_slice){ p, n },
					 l->v[l->n].word));
		l->v[l->n++].id = id;
		p += n + (p[n] == '|');
	}
}

static int by_word(const void *a, const void *b)
{
	return strcmp(((const struct entry *)a)->word,
		      ((const struct entry *)b)->word);
}

/* Sort and drop a word that its own row says twice. */
static void settle(struct list *l)
{
	size_t n = 0;

	qsort(l->v, l->n, sizeof *l->v, by_word);
	for (size_t i = 0; i < l->n; i++)
		if (!n || strcmp(l->v[n - 1].word, l->v[i].word)
		    || strcmp(l->v[n - 1].id, l->v[i].id))
			l->v[n++] = l->v[i];
	l->n = n;
}

#define THREE(name, american, aliases, id) \
	add_words(l, name, #id); add_words(l, american, #id); \
	add_words(l, aliases, #id);

static void kind_list(struct list *l)
{
	l->n = 0;
#define KIND(id, name, american, aliases, ...) THREE(name, american, aliases, id)
#include "data/kinds.def"
#undef KIND
	settle(l);
}

static void drive_list(struct list *l)
{
	l->n = 0;
#define DRIVE(id, name, aliases, source) THREE(name, "", aliases, id)
#include "data/drives.def"
#undef DRIVE
	settle(l);
}

static void finish_list(struct list *l)
{
	l->n = 0;
#define FINISH(id, name, aliases, ...) THREE(name, "", aliases, id)
#include "data/finishes.def"
#undef FINISH
	settle(l);
}

static void material_list(struct list *l)
{
	l->n = 0;
#define MATERIAL(id, name, aliases, ...) THREE(name, "", aliases, id)
#include "data/materials.def"
#undef MATERIAL
	settle(l);
}

static struct list rows;	/* too big for the stack */

static void print_words(void)
{
	static const struct {
		const char *macro;
		void (*fill)(struct list *);
	} parts[] = {
		{ "KIND_WORD", kind_list }, { "DRIVE_WORD", drive_list },
		{ "FINISH_WORD", finish_list }, { "MATERIAL_WORD", material_list },
	};

	puts("/* SPDX-License-Identifier: MIT */\n"
	     "/*\n"
	     " * Derived: what tests/unit/test_kind --words prints.  The words of\n"
	     " * data/kinds.def, drives.def, finishes.def and materials.def, folded\n"
	     " * and sorted, each with the id of its row.\n"
	     " */");
	for (size_t i = 0; i < LENGTH(parts); i++)
		printf("#ifndef %s\n#define %s(word, id)\n#endif\n",
		       parts[i].macro, parts[i].macro);
	for (size_t i = 0; i < LENGTH(parts); i++) {
		putchar('\n');
		parts[i].fill(&rows);
		for (size_t k = 0; k < rows.n; k++)
			printf("%s(\"%s\", %s)\n", parts[i].macro,
			       rows.v[k].word, rows.v[k].id);
	}
	putchar('\n');
	for (size_t i = 0; i < LENGTH(parts); i++)
		printf("#undef %s\n", parts[i].macro);
}

/* ------------------------------------------------------------------ */
/* The table against the rows                                          */

struct pair { const char *word, *id; };

static const struct pair kind_pairs[] = {
#define KIND_WORD(word, id) { word, #id },
#include "trade/words.def"
};
static const struct pair drive_pairs[] = {
#define DRIVE_WORD(word, id) { word, #id },
#include "trade/words.def"
};
static const struct pair finish_pairs[] = {
#define FINISH_WORD(word, id) { word, #id },
#include "trade/words.def"
};
static const struct pair material_pairs[] = {
#define MATERIAL_WORD(word, id) { word, #id },
#include "trade/words.def"
};

static void same_list(const struct pair *table, size_t n)
{
	for (size_t i = 0; i < n && i < rows.n; i++) {
		assert_string_equal(table[i].word, rows.v[i].word);
		assert_string_equal(table[i].id, rows.v[i].id);
		/* no word names two rows */
		if (i)
			assert_true(strcmp(table[i - 1].word,
					   table[i].word) < 0);
	}
	assert_int_equal(n, rows.n);
}

static void the_table_of_words_is_what_the_rows_say(void **state)
{
	(void)state;
	kind_list(&rows);
	same_list(kind_pairs, LENGTH(kind_pairs));
	drive_list(&rows);
	same_list(drive_pairs, LENGTH(drive_pairs));
	finish_list(&rows);
	same_list(finish_pairs, LENGTH(finish_pairs));
	material_list(&rows);
	same_list(material_pairs, LENGTH(material_pairs));
}

/* ------------------------------------------------------------------ */
/* Looking up                                                          */

static const struct km_kind *kind(const char *word)
{
	return km_kind_find(km_slice_of(word));
}

static void british_and_american_names_are_one_kind(void **state)
{
	/* common practice, no source: the pairs of names of the trade */
	static const struct { const char *british, *american; } names[] = {
		{ "double open-ended spanner", "double open-end wrench" },
		{ "ring spanner", "box wrench" },
		{ "combination spanner", "combination wrench" },
		{ "box spanner", "tubular socket wrench" },
		{ "plug spanner", "spark plug wrench" },
		{ "adjustable spanner", "adjustable wrench" },
		{ "tyre lever", "tire iron" },
		{ "feeler gauge", "thickness gage" },
	};

	(void)state;
	for (size_t i = 0; i < LENGTH(names); i++) {
		assert_non_null(kind(names[i].british));
		assert_ptr_equal(kind(names[i].british),
				 kind(names[i].american));
		assert_string_equal(kind(names[i].american)->name,
				    names[i].british);
	}
}

static void words_fold_blanks_hyphens_and_case(void **state)
{
	(void)state;
	assert_ptr_equal(kind("Double_Open-Ended  SPANNER"),
			 kind("double open ended spanner"));
	assert_int_equal(kind("double open ended spanner")->id,
			 KM_KIND_OPEN_DOUBLE);
	assert_int_equal(kind("C-spanner")->id, KM_KIND_HOOK_SPANNER);
	assert_null(kind("doubleopenendedspanner"));
	assert_null(kind("left-handed frobnicator"));
	assert_null(kind(""));
}

static void a_word_that_is_too_long_is_no_kind(void **state)
{
	char word[400];

	(void)state;
	memset(word, 'a', sizeof word - 1);
	word[sizeof word - 1] = '\0';
	assert_null(kind(word));
}

static void spanner_alone_says_too_little(void **state)
{
	/* "spanner" alone means another tool in America [navedtra-14003] */
	(void)state;
	assert_null(kind("spanner"));
	assert_null(kind("wrench"));
	assert_true(km_kind_is_vague(km_slice_of(" Spanner ")));
	assert_true(km_kind_is_vague(km_slice_of("WRENCH")));
	assert_false(km_kind_is_vague(km_slice_of("ring spanner")));
}

static void a_kind_knows_its_drive_and_what_tells_it_apart(void **state)
{
	const struct km_kind *k = kind("double open-ended spanner");

	(void)state;
	assert_int_equal(k->drive->id, KM_DRIVE_HEXAGON);
	assert_int_equal(k->ends, 2);
	assert_true(k->sized);
	assert_true(km_kind_identify(k) & 1u << KM_A_SIZES);
	assert_true(km_kind_identify(k) & 1u << KM_A_LENGTH);
	assert_false(km_kind_identify(k) & 1u << KM_A_HANDLE_COLOUR);
	assert_int_equal(kind("plug spanner")->drive->id, KM_DRIVE_PLUG);
	assert_false(kind("tyre lever")->sized);
	assert_true(kind("tyre lever")->own_length);
}

/* Every word of `identify` is an attribute: as many bits as words. */
static void every_identifying_word_is_known(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(km_kinds); i++) {
		const char *p = km_kinds[i].identify;
		int words = *p != '\0';

		for (; *p; p++)
			words += *p == '|';
		assert_int_equal(__builtin_popcount(
			km_kind_identify(&km_kinds[i])), words);
		assert_int_equal(km_kinds[i].id, (int)i + 1);
	}
}

static void drives_are_found_by_alias(void **state)
{
	(void)state;
	assert_int_equal(km_drive_find(km_slice_of("hex socket"))->id,
			 KM_DRIVE_HEX_SOCKET);
	assert_int_equal(km_drive_find(km_slice_of("Phillips"))->id,
			 KM_DRIVE_CROSS);
	assert_int_equal(km_drive_find(km_slice_of("none"))->id,
			 KM_DRIVE_NONE);
	assert_null(km_drive_find(km_slice_of("star")));
}

int main(int argc, char **argv)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(the_table_of_words_is_what_the_rows_say),
		cmocka_unit_test(british_and_american_names_are_one_kind),
		cmocka_unit_test(words_fold_blanks_hyphens_and_case),
		cmocka_unit_test(a_word_that_is_too_long_is_no_kind),
		cmocka_unit_test(spanner_alone_says_too_little),
		cmocka_unit_test(a_kind_knows_its_drive_and_what_tells_it_apart),
		cmocka_unit_test(every_identifying_word_is_known),
		cmocka_unit_test(drives_are_found_by_alias),
	};

	if (argc > 1 && !strcmp(argv[1], "--words")) {
		print_words();
		return 0;
	}
	return cmocka_run_group_tests(tests, NULL, NULL);
}
