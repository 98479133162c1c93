/* SPDX-License-Identifier: MIT */
/*
 * load_fixture - one file loaded from a text.
 */
#ifndef KM_TESTS_LOAD_FIXTURE_H
#define KM_TESTS_LOAD_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "tests/unit/feed.h"

/* The load of a text that has so many messages. */
static inline struct km_load *load_text(const char *text, size_t messages)
{
	struct km_diags *d = km_diags_new(NULL);
	struct feed feed = { .bytes = text, .n = strlen(text) };
	struct km_input in = feed_input(&feed);
	struct km_load *l = NULL;
	size_t i;

	km_load(&in, 1, NULL, d, &l);
	km_diags_sort(d);
	if (km_diags_size(d) != messages)
		for (i = 0; i < km_diags_size(d); i++)
			print_error("%u: %s\n", km_diags_at(d, i)->at.line,
				    km_diags_at(d, i)->text);
	assert_int_equal(km_diags_size(d), messages);
	km_diags_free(d);
	assert_non_null(l);
	return l;
}

#endif
