/* SPDX-License-Identifier: MIT */
/* The rows that slot, tool and offer share, in the order of enum km_attr. */
#include "read/attr.h"

#define ROW(a, key_, was_, shape_, example_, doc_)                             \
	[a] = { .key = key_, .was = was_, .type = KM_T_ATTR, .attr = a,        \
		.shape = shape_, .example = example_, .doc = doc_ }

const struct km_field km_attr_fields[] = {
	ROW(KM_A_TOOL, "tool", NULL, "a kind of tool",
	    "double open-ended spanner", "What kind of tool it is."),
	ROW(KM_A_DRIVE, "drive", NULL, "a fastener form, or one an end",
	    "hexagon", "The fastener that it fits; by default the kind's."),
	ROW(KM_A_SIZES, "sizes", "size", "sizes, one an end",
	    "[1/4 W, 5/16 W]", "The sizes as marked, one entry an end."),
	ROW(KM_A_OPENINGS, "openings", "opening", "lengths, one an end",
	    "[13.50 mm, 15.59 mm]",
	    "The jaws as measured, in the order of the sizes."),
	ROW(KM_A_LENGTH, "length", NULL, "a length", "148 mm",
	    "The length overall."),
	ROW(KM_A_THICKNESS, "thickness", NULL, "a length", "5.5 mm",
	    "The thickness of the head."),
	ROW(KM_A_WIDTH, "width", NULL, "a length", "31 mm",
	    "The greatest width of the head."),
	ROW(KM_A_ANGLE, "angle", NULL, "an angle", "15 deg",
	    "The angle of the jaws to the shank."),
	ROW(KM_A_BAR, "bar", NULL, "a length", "8 mm",
	    "The diameter of a bar."),
	ROW(KM_A_HOLE, "hole", NULL, "a length", "8.5 mm",
	    "The diameter of the cross hole."),
	ROW(KM_A_BLADE, "blade", NULL, "a length", "100 mm",
	    "The length of the blade from handle to tip."),
	ROW(KM_A_JAW, "jaw", NULL, "a length", "32 mm",
	    "The jaw from joint to tip, or its greatest opening."),
	ROW(KM_A_HOOK, "hook", NULL, "a length", "4 mm",
	    "The radial length of a hook or pin."),
	ROW(KM_A_DEPTH, "depth", NULL, "a length", "60 mm",
	    "The depth inside a plug spanner or socket."),
	ROW(KM_A_FINISH, "finish", NULL, "a finish, or one of body and faces",
	    "black oxide", "The surface finish."),
	ROW(KM_A_HANDLE_COLOUR, "handle_colour", "handle_color",
	    "a colour word or \"#rrggbb\"", "green",
	    "The colour of the handle."),
	ROW(KM_A_HANDLE_MATERIAL, "handle_material", NULL,
	    "a handle material", "wood", "What the handle is made of."),
	ROW(KM_A_MARK, "mark", NULL, "text, none or illegible", "LARKMOOR",
	    "What is struck, raised or etched on it, sizes apart."),
	ROW(KM_A_MADE, "made", NULL, "original, period or reproduction",
	    "original", "Whether it is an original, another of the period or "
	    "a reproduction."),
	ROW(KM_A_PART, "part", NULL, "a part number", "54-701",
	    "The maker's part number."),
	[KM_ATTRS] = { .type = KM_T_END }
};
