/* SPDX-License-Identifier: MIT */
/*
 * messages - the one list of message ids.  X(enumerator, severity, id, text):
 * the id lasts for ever and has a heading in docs/diagnostics.md and a case
 * in tests/bad; the text is a printf format in lower case without full stop.
 */
#ifndef KITMUSTER_MESSAGES_H
#define KITMUSTER_MESSAGES_H

#define KM_MESSAGES(X)                                                         \
	X(UNKNOWN_KEY, ERROR, "unknown-key", "no such key in a %s: '%s'")      \
	X(DUPLICATE_KEY, ERROR, "duplicate-key", "key '%s' stands twice")

#endif
