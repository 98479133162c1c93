/* SPDX-License-Identifier: MIT */
/*
 * run_fixture - files from texts, loaded and audited.
 */
#ifndef KM_TESTS_RUN_FIXTURE_H
#define KM_TESTS_RUN_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "kitmuster/audit.h"
#include "tests/unit/feed.h"

#define RUN_TEXTS_MOST 3

struct run {
	struct km_diags *d;
	struct km_load *load;
	struct km_audit *audit;		/* NULL unless KM_OK was answered */
	const struct km_pouch_audit *p;	/* of its first kit */
};

/* The texts load; fault is for the audit, and may be NULL. */
static inline enum km_status run_texts(struct run *r, const char *const *texts,
				       size_t n, const struct km_options *o,
				       struct km_fault *fault)
{
	struct feed f[RUN_TEXTS_MOST];
	struct km_input in[RUN_TEXTS_MOST];
	enum km_status st;

	assert_true(n <= RUN_TEXTS_MOST);
	for (size_t i = 0; i < n; i++) {
		f[i] = (struct feed){ .bytes = texts[i],
				      .n = strlen(texts[i]) };
		in[i] = feed_input(&f[i]);
	}
	memset(r, 0, sizeof *r);
	r->d = km_diags_new(NULL);
	assert_non_null(r->d);
	assert_int_equal(km_load(in, n, NULL, r->d, &r->load), KM_OK);
	r->load->limits.fault = fault;
	st = km_audit_run(r->load, o, r->d, &r->audit);
	if (st == KM_OK)
		r->p = r->audit->kits[0].pouch;
	return st;
}

static inline void run_done(struct run *r)
{
	km_audit_free(r->audit);
	km_load_free(r->load);
	km_diags_free(r->d);
	memset(r, 0, sizeof *r);
}

#endif
