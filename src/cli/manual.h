/* SPDX-License-Identifier: MIT */
/*
 * manual - what a shell and a reader of manuals ask for, made from the tables
 * of commands, options and sheets.
 */
#ifndef KM_CLI_MANUAL_H
#define KM_CLI_MANUAL_H

#include "base/buf.h"

/* kitmuster(1).  source   [mdoc-7] */
void km_manual(struct km_buf *b);

/* Completions for a shell. */
void km_completion_bash(struct km_buf *b);
void km_completion_zsh(struct km_buf *b);
void km_completion_fish(struct km_buf *b);

#endif
