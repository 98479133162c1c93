/* SPDX-License-Identifier: MIT */
/*
 * typical - what a tool of a kind and size mostly measures, for a drawing of
 * what nobody has measured.  Never evidence, and always said to be typical.
 *
 * Units    micrometres; -1: the tables do not say
 * source   data/head_width.def (its rules), lengths.def, hex_key.def,
 *          pliers.def, slotted.def, cross.def, hook.def, box.def,
 *          tommy_bar.def, tyre_lever.def, adjustable.def
 */
#ifndef KM_TRADE_TYPICAL_H
#define KM_TRADE_TYPICAL_H

#include <stdint.h>

#include "trade/kind.h"
#include "trade/size.h"

/* The greatest width of a head: 2.1 s + 7 mm of an open end, 1.5 s + 3 mm of
 * a ring. */
int64_t km_typical_open_head(int64_t s_um);
int64_t km_typical_ring_head(int64_t s_um);

/* Of the listed row nearest in size. */
struct km_typical {
	int64_t length, thick;		/* overall; of the head */
	int64_t short_arm;		/* of a hexagon key */
	int64_t blade, shank;		/* of a driver */
	int64_t jaw, head, tip;		/* of pliers: joint to tip; widths */
	int64_t wall;			/* of a box spanner */
	int64_t width;			/* of a lever, at the tip */
};

/*
 * kind         which table
 * sizes, n     as wanted, n may be 0
 * length_um    recorded; -1: not known.  Pliers go by it.
 */
struct km_typical km_typical_of(enum km_kind_id kind,
				const struct km_size *const *sizes, uint32_t n,
				int64_t length_um);

#endif
