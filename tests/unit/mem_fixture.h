/* SPDX-License-Identifier: MIT */
/*
 * mem_fixture - an arena a test, and nothing else.
 */
#ifndef KM_TESTS_MEM_FIXTURE_H
#define KM_TESTS_MEM_FIXTURE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/arena.h"

static struct km_arena *mem;

static inline int set_up(void **state)
{
	(void)state;
	mem = km_arena_new(NULL);
	return mem ? 0 : -1;
}

static inline int tear_down(void **state)
{
	(void)state;
	km_arena_free(mem);
	return 0;
}

#endif
