/* SPDX-License-Identifier: MIT */
#include "plan/charge.h"

#include "base/num.h"

bool km_money3_add(struct km_money3 a, struct km_money3 b,
		   struct km_money3 *sum)
{
	return km_add(a.low, b.low, &sum->low) &&
	       km_add(a.likely, b.likely, &sum->likely) &&
	       km_add(a.high, b.high, &sum->high);
}

/* ------------------------------------------------------------------ */
/* One column                                                          */

static bool lot(int64_t minimum, int64_t piece, int64_t n, int64_t *out)
{
	int64_t pieces;

	if (!km_mul(piece, n, &pieces))
		return false;
	*out = n > 0 && minimum > pieces ? minimum : pieces;
	return true;
}

static bool more_of_lot(int64_t minimum, int64_t piece, int64_t committed,
			int64_t n, int64_t *out)
{
	int64_t all, before, count;

	return km_add(committed, n, &count) &&
	       lot(minimum, piece, count, &all) &&
	       lot(minimum, piece, committed, &before) &&
	       km_sub(all, before, out);
}

static bool load(int64_t fixed, int64_t piece, int64_t in_a_load, int64_t n,
		 int64_t *out)
{
	int64_t loads = n > 0, tanks, pieces;

	if (in_a_load > 0)
		loads = n / in_a_load + (n % in_a_load > 0);
	return km_mul(fixed, loads, &tanks) && km_mul(piece, n, &pieces) &&
	       km_add(tanks, pieces, out);
}

static bool column(const struct km_charge *c, int64_t fixed, int64_t piece,
		   int64_t n, int64_t *out)
{
	switch (c->kind) {
	case KM_CHARGE_LOT:
		return more_of_lot(fixed, piece, c->committed, n, out);
	case KM_CHARGE_LOAD:
		return load(fixed, piece, c->load_pieces, n, out);
	case KM_CHARGE_PARCEL:
	case KM_CHARGE_JOB_LOT:
		break;
	}
	*out = n > 0 ? fixed : 0;
	return true;
}

enum km_status km_charge_pieces(const struct km_charge *c, int64_t n,
				struct km_money3 *out)
{
	struct km_money3 m;

	if (n < 0 || !column(c, c->fixed.low, c->piece.low, n, &m.low) ||
	    !column(c, c->fixed.likely, c->piece.likely, n, &m.likely) ||
	    !column(c, c->fixed.high, c->piece.high, n, &m.high))
		return KM_ERANGE;
	*out = m;
	return KM_OK;
}

int64_t km_charge_ride_free(const struct km_charge *c, int64_t n)
{
	int64_t all, fits;

	if (c->kind == KM_CHARGE_LOT) {
		if (c->piece.likely <= 0)
			return -1;
		if (!km_add(n, c->committed, &all) || all <= 0)
			return 0;
		fits = c->fixed.likely / c->piece.likely;
		return fits > all ? fits - all : 0;
	}
	if (c->piece.likely > 0 || n <= 0)
		return 0;
	if (c->kind != KM_CHARGE_LOAD || c->load_pieces <= 0)
		return -1;
	return (c->load_pieces - n % c->load_pieces) % c->load_pieces;
}

static bool parcel(const struct km_charge *c, int64_t postage, int64_t goods,
		   int64_t *out)
{
	int64_t short_by = c->minimum_order > goods ?
			   c->minimum_order - goods : 0;
	bool free = c->free_over >= 0 && goods + short_by >= c->free_over;

	return km_add(short_by, free ? 0 : postage, out);
}

enum km_status km_charge_parcel(const struct km_charge *c,
				struct km_money3 goods, struct km_money3 *out)
{
	struct km_money3 m;

	if (goods.low < 0 || !parcel(c, c->fixed.low, goods.low, &m.low) ||
	    !parcel(c, c->fixed.likely, goods.likely, &m.likely) ||
	    !parcel(c, c->fixed.high, goods.high, &m.high))
		return KM_ERANGE;
	*out = m;
	return KM_OK;
}

bool km_charge_is_minimum(const struct km_charge *c)
{
	return c->kind == KM_CHARGE_LOT &&
	       !(c->process && (c->process->id == KM_PROCESS_BAKE_RELIEF ||
				c->process->id == KM_PROCESS_BAKE_STRESS));
}

enum km_status km_charge_three_highest(const int64_t *minimums, size_t n,
				       int64_t *out)
{
	int64_t top[3] = { 0, 0, 0 }, sum;

	for (size_t i = 0; i < n; i++) {
		int64_t v = minimums[i];

		for (int k = 0; k < 3; k++) {
			if (v > top[k]) {
				int64_t lower = top[k];

				top[k] = v;
				v = lower;
			}
		}
	}
	if (!km_add(top[0], top[1], &sum) || !km_add(sum, top[2], &sum))
		return KM_ERANGE;
	*out = sum;
	return KM_OK;
}

bool km_ceiling(int64_t ready, int64_t work, int64_t *most)
{
	if (work < 0 || ready < work)
		return false;
	*most = ready - work;
	return *most > 0;
}
