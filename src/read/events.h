/* SPDX-License-Identifier: MIT */
/*
 * events - the checked stream of YAML events of one input; the only file
 * that includes yaml.h.
 *
 * Anchors, aliases, tags, a second document and too deep nesting end the
 * stream here, so that nobody behind it meets them.
 *
 * Owner    everything belongs to the arena given to km_events_open(), but
 *          libyaml has memory of its own: km_events_close() gives it back.
 * Errors   said in the messages; then every later call fails as well.
 */
#ifndef KM_READ_EVENTS_H
#define KM_READ_EVENTS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "kitmuster/diag.h"
#include "kitmuster/load.h"

enum km_event_type {
	KM_EV_FILE,		/* the file begins */
	KM_EV_DOCUMENT,		/* its document begins */
	KM_EV_SCALAR, KM_EV_LIST, KM_EV_MAP,
	KM_EV_CLOSE,		/* the innermost list or map ends */
	KM_EV_DOCUMENT_END,
	KM_EV_FILE_END
};

enum km_event_quote { KM_EV_BARE, KM_EV_SINGLE, KM_EV_DOUBLE, KM_EV_BLOCK };

struct km_event {
	enum km_event_type type;
	enum km_event_quote quote;	/* scalars */
	uint32_t line, column;		/* from 1, in characters */
	const char *text;	/* scalars: n bytes, valid until the next */
	size_t n;
};

struct km_events;

/* lim NULL means the defaults; in must stay until km_events_close(). */
enum km_status km_events_open(struct km_arena *mem, const struct km_input *in,
			      const struct km_limits *lim, struct km_diags *d,
			      struct km_events **out);

/* The next event into *ev, which still holds the one before; false: see
 * km_events_status(). */
bool km_events_next(struct km_events *e, struct km_event *ev);
/* Past the value that begins with the next event. */
bool km_events_skip(struct km_events *e, struct km_event *ev);
/* KM_OK; KM_EINPUT or KM_EIO, which have been said; KM_ENOMEM. */
enum km_status km_events_status(const struct km_events *e);

/* Say that the event cannot be read, hint NULL or not, and end the stream.
 * Answers false. */
bool km_events_refuse(struct km_events *e, const struct km_event *ev,
		      enum km_msg m, const char *hint);
/* End the stream with a status.  Answers false. */
bool km_events_fail(struct km_events *e, enum km_status status);
/* Lists and maps that are open. */
uint32_t km_events_depth(const struct km_events *e);
/* Is the innermost of them a map in { }? */
bool km_events_in_braces(const struct km_events *e);

void km_events_close(struct km_events *e);

#endif
