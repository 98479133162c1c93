/* SPDX-License-Identifier: MIT */
/*
 * load - files into records.
 *
 * A run takes any number of files in any order; a file says what it is.  All
 * mistakes of all files are reported in one call; nothing is returned when
 * there is an error among them.
 */
#ifndef KITMUSTER_LOAD_H
#define KITMUSTER_LOAD_H

#include "kitmuster/diag.h"
#include "kitmuster/model.h"
#include "kitmuster/status.h"

enum km_input_form { KM_INPUT_BY_NAME, KM_INPUT_YAML, KM_INPUT_CSV };

/*
 * Where the bytes of one input come from.  read() answers the number of bytes
 * put into buf, 0 at the end, -1 on failure with errno set; it is called
 * again after EINTR.
 */
struct km_input {
	const char *name;	/* for messages and km_place; kept by pointer
				 * only until km_load() returns: it is copied */
	enum km_input_form form;	/* BY_NAME: CSV if name ends in .csv */
	ptrdiff_t (*read)(void *ctx, void *buf, size_t n);
	void *ctx;
};

struct km_load {
	struct km_arena *mem;		/* owns all below */
	struct km_kit **kits;		uint32_t n_kits;
	struct km_tools bench;
	bool has_bench;			/* a bench record was read, if empty */
	struct km_prices *prices;	/* NULL: none; several files are joined */
	struct km_workshop *workshop;
	struct km_rubric *rubric;
	struct km_machine *machines;	uint32_t n_machines;
	struct km_decision *decisions;	uint32_t n_decisions;
	const char *currency;		/* of a run in which only sums name
					 * one; else NULL */
	const char **files;		uint32_t n_files;
	struct km_limits limits;
};

/*
 * Read, check and link the inputs.
 *
 * in, n     the inputs, n >= 1
 * lim       NULL means the defaults
 * d         gets every mistake found, also the warnings of a good load
 * out       untouched unless KM_OK is returned
 * errors    KM_EINPUT: messages of severity KM_ERROR are in d; KM_EIO: an
 *           input could not be read (its message is in d as well); KM_ENOMEM
 */
enum km_status km_load(const struct km_input *in, size_t n,
		       const struct km_limits *lim, struct km_diags *d,
		       struct km_load **out);
void km_load_free(struct km_load *l);

#endif
