/* SPDX-License-Identifier: MIT */
/* clash - what is said of one tool and cannot all be so. */
#ifndef KM_READ_CLASH_H
#define KM_READ_CLASH_H

#include "read/bind.h"

/* Warn of records of a tool that contradict each other, and of a length that
 * no hand tool has; n is the item that the tool was read from. */
void km_tool_clashes(struct km_bind *b, const struct km_node *n,
		     const struct km_tool *t);

#endif
