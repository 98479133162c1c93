/* SPDX-License-Identifier: MIT */
/*
 * kitmuster - all of the library in one include.
 *
 * Whatever the tool can do, a program can do through these headers: load files
 * (load.h), audit them (audit.h), and write sheets (report.h).  The library
 * never prints, never exits, and keeps nothing between calls.
 */
#ifndef KITMUSTER_KITMUSTER_H
#define KITMUSTER_KITMUSTER_H

#include "kitmuster/audit.h"
#include "kitmuster/changes.h"
#include "kitmuster/diag.h"
#include "kitmuster/import.h"
#include "kitmuster/kits.h"
#include "kitmuster/load.h"
#include "kitmuster/model.h"
#include "kitmuster/questions.h"
#include "kitmuster/report.h"
#include "kitmuster/schema.h"
#include "kitmuster/status.h"

#endif
