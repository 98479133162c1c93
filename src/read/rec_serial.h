/* SPDX-License-Identifier: MIT */
/* rec_serial - serial numbers: those of a kit, and that of a machine. */
#ifndef KM_READ_REC_SERIAL_H
#define KM_READ_REC_SERIAL_H

#include "read/bind.h"

km_own_fn km_own_serials;	/* struct km_serials at f->at */
km_own_fn km_own_serial;	/* of a struct km_machine */

#endif
