/* SPDX-License-Identifier: MIT */
/*
 * schema - what files may hold, made from the tables that read them.
 */
#ifndef KITMUSTER_SCHEMA_H
#define KITMUSTER_SCHEMA_H

#include "kitmuster/report.h"

enum km_schema_form {
	KM_SCHEMA_JSON,		/* JSON Schema, draft 7 [json-schema] */
	KM_SCHEMA_MARKDOWN,	/* a reference to read */
	KM_SCHEMA_MDOC		/* a manual page of all records [mdoc-7] */
};

/* The names of records, in order; NULL past the last: "kit", "slot" ... */
const char *km_schema_record(size_t i);

/*
 * What a file, or one record, may hold.
 *
 * record    one of the names; NULL: a whole file
 * errors    KM_EINPUT: there is no such record; KM_ENOMEM; KM_EIO: the sink
 *           refused
 */
enum km_status km_schema(const char *record, enum km_schema_form form,
			 const struct km_sink *to);

/* The records that a starter file can be had of; NULL past the last. */
const char *km_starter_record(size_t i);
/* A file to begin with: loads as it is, the rest commented out.  Errors as
 * above. */
enum km_status km_starter(const char *record, const struct km_sink *to);

#endif
