/* SPDX-License-Identifier: MIT */
/* rec_slot - how the kit reads its slots. */
#ifndef KM_READ_REC_SLOT_H
#define KM_READ_REC_SLOT_H

#include "read/bind.h"

km_own_fn km_own_every_slot, km_own_slots;

#endif
