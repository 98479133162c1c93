/* SPDX-License-Identifier: MIT */
/* What a message advises, and where it points.  The advice repeats what the
 * user wrote, so the expected texts follow from the inputs beside them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "kitmuster/diag.h"
#include "tests/unit/feed.h"

#define KIT "kit: {id: k, slots: [{id: S-1, tool: jack}]}\n"

static const struct { const char *text, *id, *hint; } rows[] = {
	{ "bench: [{tool: screwdriver, sizes: [5.5 mm]}]\n", "bad-size",
	  "a slotted tip has two figures, thickness by width: write "
	  "0.8 x 5.5 mm" },
	{ "bench: [{tool: ring spanner, sizes: [1/4 W x 5/16 W]}]\n",
	  "size-pair", "write one entry an end: [1/4 W, 5/16 W]" },
	{ "bench: [{tool: ring spanner, sizes: [1/4 x 5/16 W]}]\n",
	  "size-pair", "write one entry an end: [1/4 W, 5/16 W]" },
	{ "bench: [{tool: ring spanner, sizes: 10x12}]\n", "size-pair",
	  "write one entry an end: [10 mm, 12 mm]" },
	{ "bench: [{tool: jack, length: 13,34 mm}]\n", "stray-comma",
	  "write a point: 13.34 mm" },
	{ "bench: [{tool: jack, note: old, and rusty}]\n", "stray-comma",
	  "quote the value if the comma belongs to it" },
	{ "slots: [{id: S-1, tool: jack}]\n", "unknown-key",
	  "indent it under 'kit'" },
	{ "offers: []\n", "unknown-key", "indent it under 'prices'" },
	{ "came_with: serial 1\n", "unknown-key",
	  "indent it under an entry of 'bench'" },
	{ "kits: {id: k}\n", "unknown-key", "did you mean 'kit'?" },
	{ KIT "bench: [{tool: jack, pin: k/S-2}]\n", "no-such-slot",
	  "did you mean 'k/S-1'?" },
	{ KIT "bench: [{tool: jack, count: 2, pin: k/S-1}]\n", "pinned-twice",
	  "take one of the pins out, or give the slot a 'count' of 2" },
};

static void a_hint_says_what_to_write(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct feed f = { .bytes = rows[i].text,
				  .n = strlen(rows[i].text) };
		struct km_input in = feed_input(&f);
		struct km_diags *d = km_diags_new(NULL);
		const struct km_diag *one;
		struct km_load *l;

		assert_int_equal(km_load(&in, 1, NULL, d, &l), KM_EINPUT);
		if (km_diags_size(d) != 1)
			fail_msg("row %zu: %zu messages", i, km_diags_size(d));
		one = km_diags_at(d, 0);
		assert_string_equal(km_msg_id(one->msg), rows[i].id);
		assert_non_null(one->hint);
		assert_string_equal(one->hint, rows[i].hint);
		km_diags_free(d);
	}
}

static void two_pins_name_both_places(void **state)
{
	static const char text[] = KIT
		"bench:\n"
		"  - {id: B, tool: jack, pin: k/S-1}\n"
		"  - {id: A, tool: jack, pin: K/s-1}\n";
	struct feed f = { .bytes = text, .n = sizeof text - 1 };
	struct km_input in = feed_input(&f);
	struct km_diags *d = km_diags_new(NULL);
	struct km_load *l;

	(void)state;
	assert_int_equal(km_load(&in, 1, NULL, d, &l), KM_EINPUT);
	assert_int_equal(km_diags_size(d), 1);
	assert_int_equal(km_diags_at(d, 0)->at.line, 4);
	assert_int_equal(km_diags_at(d, 0)->other.line, 3);
	km_diags_free(d);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_hint_says_what_to_write),
		cmocka_unit_test(two_pins_name_both_places),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
