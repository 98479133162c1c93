/* SPDX-License-Identifier: MIT */
/*
 * sRGB colours as CIE L*a*b* (2 degree observer, D65, x = 0.3127,
 * y = 0.3290 taken exactly).
 *
 * SOURCE   [srgb-lab-libraries] two general colour libraries, culori 4.0.2
 *          and colorjs.io 0.7.1, and a derivation from the primaries of
 *          IEC 61966-2-1, which agree on all 52 to 1e-12; four decimals
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "trade/colour.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

static const struct { uint32_t rgb; struct km_lab lab; } colours[] = {
	{ 0x000000, { 0.0000, 0.0000, 0.0000 } },
	{ 0x010101, { 0.2742, 0.0000, 0.0000 } },
	{ 0x0a0a0a, { 2.7417, 0.0000, 0.0000 } },
	{ 0x0b0b0b, { 3.0229, 0.0000, 0.0000 } },
	{ 0x151515, { 6.7738, 0.0000, 0.0000 } },
	{ 0x161616, { 7.2473, 0.0000, 0.0000 } },
	{ 0x171717, { 7.7396, 0.0000, 0.0000 } },
	{ 0x1a1a1a, { 9.2632, 0.0000, 0.0000 } },
	{ 0x333333, { 21.2467, 0.0000, 0.0000 } },
	{ 0x555555, { 36.1459, 0.0000, 0.0000 } },
	{ 0x777777, { 50.0344, 0.0000, 0.0000 } },
	{ 0x808080, { 53.5850, 0.0000, 0.0000 } },
	{ 0x999999, { 63.2226, 0.0000, 0.0000 } },
	{ 0xc0c0c0, { 77.7044, 0.0000, 0.0000 } },
	{ 0xcccccc, { 82.0458, 0.0000, 0.0000 } },
	{ 0xe0e0e0, { 89.1773, 0.0000, 0.0000 } },
	{ 0xfefefe, { 99.6549, 0.0000, 0.0000 } },
	{ 0xffffff, { 100.0000, 0.0000, 0.0000 } },
	{ 0xff0000, { 53.2371, 80.0901, 67.2033 } },
	{ 0x00ff00, { 87.7355, -86.1816, 83.1866 } },
	{ 0x0000ff, { 32.3009, 79.1953, -107.8555 } },
	{ 0xffff00, { 97.1386, -21.5600, 94.4838 } },
	{ 0x00ffff, { 91.1148, -48.0789, -14.1290 } },
	{ 0xff00ff, { 60.3227, 98.2374, -60.8289 } },
	{ 0x010000, { 0.0583, 0.2615, 0.0921 } },
	{ 0x000100, { 0.1961, -0.4006, 0.2863 } },
	{ 0x000001, { 0.0198, 0.1391, -0.3785 } },
	{ 0x800000, { 25.5333, 48.0437, 38.0557 } },
	{ 0x008000, { 46.2279, -51.6978, 49.9012 } },
	{ 0x000080, { 12.9743, 47.5069, -64.6993 } },
	{ 0xc41e3a, { 42.7208, 62.8903, 28.4830 } },
	{ 0xb22222, { 39.1154, 55.9145, 37.6470 } },
	{ 0x8b0000, { 28.0874, 50.9982, 41.2894 } },
	{ 0xff8c00, { 69.4832, 36.8199, 75.4896 } },
	{ 0xffbf00, { 81.0292, 10.3787, 83.0341 } },
	{ 0xd4a017, { 68.8973, 8.3709, 69.1182 } },
	{ 0xffd700, { 86.9295, -1.9302, 87.1368 } },
	{ 0xf0e130, { 88.2519, -12.5066, 80.1000 } },
	{ 0x556b2f, { 42.2338, -18.8294, 30.5999 } },
	{ 0x2e8b57, { 51.5345, -39.7135, 20.0540 } },
	{ 0x006b3c, { 39.3116, -38.5210, 19.0621 } },
	{ 0x4682b4, { 52.4666, -4.0715, -32.1909 } },
	{ 0x1f3a5f, { 24.1402, 2.9543, -25.0728 } },
	{ 0x3b2f2f, { 20.7050, 5.4484, 2.0524 } },
	{ 0x5c4033, { 29.8655, 10.3230, 12.7932 } },
	{ 0x8b4513, { 37.4684, 26.4391, 40.9842 } },
	{ 0xd2b48c, { 74.9751, 5.0183, 24.4281 } },
	{ 0xf5f5dc, { 95.9489, -4.1940, 12.0492 } },
	{ 0x708090, { 52.8360, -2.1411, -10.5708 } },
	{ 0x2f4f4f, { 31.2556, -11.7180, -3.7231 } },
	{ 0x4b0082, { 20.4700, 51.6892, -53.3127 } },
	{ 0xffc0cb, { 83.5857, 24.1417, 3.3247 } },
};

static void every_colour_is_met_to_a_thousandth(void **state)
{
	(void)state;
	assert_int_equal(LENGTH(colours), 52);
	for (size_t i = 0; i < LENGTH(colours); i++) {
		struct km_lab got = km_colour_lab(colours[i].rgb);
		struct km_lab want = colours[i].lab;

		assert_true(fabs(got.L - want.L) < 0.001);
		assert_true(fabs(got.a - want.a) < 0.001);
		assert_true(fabs(got.b - want.b) < 0.001);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_colour_is_met_to_a_thousandth),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
