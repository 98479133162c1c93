/* SPDX-License-Identifier: MIT */
/*
 * import - lists of tools as people keep them, written as a bench.
 *
 * A list is a table (its first row names the columns), notes (one tool a line)
 * or a bench in YAML.  A row that cannot be read is refused by place and
 * reason, and the rest is read; nothing is guessed.  docs/import.md says how.
 */
#ifndef KITMUSTER_IMPORT_H
#define KITMUSTER_IMPORT_H

#include "kitmuster/load.h"
#include "kitmuster/report.h"

enum km_list_form {
	KM_LIST_BY_NAME,	/* .yaml, .yml; .txt, .notes; else a table */
	KM_LIST_TABLE, KM_LIST_NOTES, KM_LIST_YAML
};
enum km_list_unit { KM_LIST_NO_UNIT, KM_LIST_MM, KM_LIST_IN };

struct km_import_options {
	enum km_list_unit unit;	/* of figures without one */
	bool csv;		/* write a table, not YAML */
	enum km_list_form form;	/* of an input named <stdin> */
};

struct km_import_counts {
	uint64_t rows, read, refused;
	uint64_t tools;		/* written: a row may be several */
	uint64_t words;		/* that no table of the trade lists */
};

/*
 * Read n lists and write one bench.
 *
 * d         gets a message of severity KM_ERROR for each row refused, and
 *           warnings; make it with a per_rule large enough to keep them all
 * to        NULL: write nothing
 * counts    always filled
 * errors    KM_EINPUT: a whole list cannot be read, and nothing is written;
 *           KM_EIO, KM_ENOMEM.  Rows that were refused are no error.
 */
enum km_status km_import(const struct km_input *in, size_t n,
			 const struct km_import_options *o,
			 const struct km_limits *lim, struct km_diags *d,
			 const struct km_sink *to,
			 struct km_import_counts *counts);

#endif
