/* SPDX-License-Identifier: MIT */
#include "trade/rust.h"

#include <stddef.h>

struct band { int grade; int32_t low, high; };

#define LENGTH(a) (sizeof(a) / sizeof *(a))

/* Pictures by their nominal area, Ri 0 first. */
static const struct band pictures[] = {
#define RUST(ri, low, high, source) { ri, low, high },
#include "data/rust.def"
#undef RUST
};

static const struct band ratings[] = {
#define RATING(rp, over, upto, source) { rp, over, upto },
#include "data/ratings.def"
#undef RATING
};

static const struct band d610[] = {
#define D610(grade, over, upto, source) { grade, over, upto },
#include "data/d610.def"
#undef D610
};

/* The first band whose upper end is not below the area, or the last. */
static int grade_of(const struct band *b, size_t n, int32_t area)
{
	size_t i = 0;

	while (i + 1 < n && area > b[i].high)
		i++;
	return b[i].grade;
}

int km_rust_degree(int32_t area)
{
	return grade_of(pictures, LENGTH(pictures), area);
}

int32_t km_rust_area(int ri)
{
	for (size_t i = 0; i < LENGTH(pictures); i++)
		if (pictures[i].grade == ri)
			return (pictures[i].low + pictures[i].high) / 2;
	return 0;
}

int km_rating_of(int32_t area)
{
	return grade_of(ratings, LENGTH(ratings), area);
}

int km_d610_of(int32_t area)
{
	return grade_of(d610, LENGTH(d610), area);
}
