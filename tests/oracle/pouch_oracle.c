/* SPDX-License-Identifier: MIT */
/*
 * Bundles for pouch.py: with the argument `serve`, lines
 * "ROOM STEPS N W T W T ..." in (micrometres), lines
 * "FITS WHOLE PERIMETER THICK ACROSS STACKS" out.  Alone it only sees that a
 * single block has its own girth.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "trade/pouchfit.h"

static int alone(void)
{
	struct km_section one = { 30000, 4000 };
	struct km_bundle b;

	/* 2 x (30 + 4) mm */
	return km_bundle_best(&one, 1, 68000, 0, &b) && b.fits &&
	       b.perimeter_um == 68000 ? 0 : 1;
}

static int answer(void)
{
	struct km_section v[KM_BUNDLE_TOOLS];
	struct km_bundle b;
	uint64_t steps;
	int64_t room;
	uint32_t n;

	if (scanf("%" SCNd64 " %" SCNu64 " %" SCNu32, &room, &steps, &n) != 3)
		return 1;
	for (uint32_t i = 0; i < n; i++)
		if (n > KM_BUNDLE_TOOLS ||
		    scanf("%" SCNd64 " %" SCNd64, &v[i].width_um,
			  &v[i].thick_um) != 2)
			return 2;
	if (!km_bundle_best(v, n, room, steps, &b))
		return 2;
	printf("%d %d %" PRId64 " %" PRId64 " %" PRId64 " %" PRIu32 "\n",
	       b.fits, b.whole, b.perimeter_um, b.thick_um, b.across_um,
	       b.stacks);
	return fflush(stdout) ? 2 : 0;
}

int main(int argc, char **argv)
{
	int status = 0;

	if (argc < 2 || strcmp(argv[1], "serve") != 0)
		return alone();
	while (status == 0)
		status = answer();
	return status == 1 ? 0 : status;
}
