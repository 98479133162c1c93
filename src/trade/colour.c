/* SPDX-License-Identifier: MIT */
#include "trade/colour.h"

#include <math.h>
#include <string.h>

#define LENGTH(a) (sizeof(a) / sizeof *(a))
#define PI 3.14159265358979323846

/* ------------------------------------------------------------------ */
/* Words                                                               */

bool km_colour_find(struct km_slice word, uint32_t *rgb)
{
	static const struct { const char *name; uint32_t rgb; } colours[] = {
#define COLOUR(name, rgb, source) { name, rgb },
#include "data/colours.def"
#undef COLOUR
	};
	char name[32];
	size_t low = 0, high = LENGTH(colours);

	if (!word.n || word.n >= sizeof name)
		return false;
	for (size_t i = 0; i < word.n; i++) {
		char c = word.p[i];

		name[i] = c >= 'A' && c <= 'Z' ? (char)(c + 'a' - 'A') : c;
	}
	name[word.n] = '\0';
	while (low < high) {		/* the list is in order of names */
		size_t mid = low + (high - low) / 2;
		int c = strcmp(name, colours[mid].name);

		if (!c) {
			*rgb = colours[mid].rgb;
			return true;
		}
		if (c < 0)
			high = mid;
		else
			low = mid + 1;
	}
	return false;
}

static int hex_digit(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	if (c >= 'A' && c <= 'F')
		return c - 'A' + 10;
	return -1;
}

bool km_colour_hex(struct km_slice text, uint32_t *rgb)
{
	uint32_t v = 0;
	bool brief = text.n == 4;	/* "#c71" is "#cc7711" */

	if ((text.n != 7 && !brief) || text.p[0] != '#')
		return false;
	for (size_t i = 1; i < text.n; i++) {
		int d = hex_digit(text.p[i]);

		if (d < 0)
			return false;
		v = v * 16 + (uint32_t)d;
		if (brief)
			v = v * 16 + (uint32_t)d;
	}
	*rgb = v;
	return true;
}

/* ------------------------------------------------------------------ */
/* sRGB to L*a*b*                                                      */

/* [iec-61966-2-1] the decoding of one channel, 0 to 255, to linear light. */
static double linear(uint32_t channel)
{
	double v = (double)channel / 255.0;

	return v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4);
}

/* [cie-15] the cube root with its straight piece near black. */
static double lightness(double t)
{
	return t > 216.0 / 24389.0 ? cbrt(t)
				   : (24389.0 / 27.0 * t + 16.0) / 116.0;
}

struct km_lab km_colour_lab(uint32_t rgb)
{
	/* The rows follow from the primaries (0.64, 0.33), (0.30, 0.60),
	 * (0.15, 0.06) and the white (0.3127, 0.3290) of [iec-61966-2-1],
	 * unrounded: the inverse of the primaries, scaled so that equal
	 * parts give the white. */
	static const double row[3][3] = {
		{ 506752.0 / 1228815.0, 87881.0 / 245763.0, 12673.0 / 70218.0 },
		{ 87098.0 / 409605.0, 175762.0 / 245763.0, 12673.0 / 175545.0 },
		{ 7918.0 / 409605.0, 87881.0 / 737289.0, 1001167.0 / 1053270.0 }
	};
	static const double white[3] = {
		0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290
	};
	double light[3] = {
		linear(rgb >> 16 & 255), linear(rgb >> 8 & 255), linear(rgb & 255)
	};
	double f[3];

	for (int i = 0; i < 3; i++)
		f[i] = lightness((row[i][0] * light[0] + row[i][1] * light[1]
				  + row[i][2] * light[2]) / white[i]);
	return (struct km_lab){ 116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]),
				200.0 * (f[1] - f[2]) };
}

/* ------------------------------------------------------------------ */
/* CIEDE2000                                                           */

static double radians(double degrees)
{
	return degrees * (PI / 180.0);
}

static double pow7(double x)
{
	double x3 = x * x * x;

	return x3 * x3 * x;
}

/* A hue angle in degrees, 0 to 360; that of a neutral colour is 0. */
static double hue(double a, double b)
{
	double h;

	if (a == 0.0 && b == 0.0)
		return 0.0;
	h = atan2(b, a) * (180.0 / PI);
	return h < 0.0 ? h + 360.0 : h;
}

/* Two colours as chroma and hue after the step that stretches a*. */
struct polar { double c1, c2, h1, h2; };

static struct polar polar_of(struct km_lab x, struct km_lab y)
{
	double mean = (hypot(x.a, x.b) + hypot(y.a, y.b)) / 2.0;
	double g = 0.5 * (1.0 - sqrt(pow7(mean) / (pow7(mean) + pow7(25.0))));
	double a1 = (1.0 + g) * x.a, a2 = (1.0 + g) * y.a;

	return (struct polar){ hypot(a1, x.b), hypot(a2, y.b),
			       hue(a1, x.b), hue(a2, y.b) };
}

/* Hues that differ by exactly half a turn belong to the first branch; as
 * rounding would pick one, there is a little slack [sharma-2005, pairs 9 to
 * 15]. */
#define HALF_TURN (180.0 + 1e-9)

static double hue_difference(const struct polar *p)
{
	double d = p->h2 - p->h1;

	if (p->c1 * p->c2 == 0.0)
		return 0.0;
	if (d > HALF_TURN)
		return d - 360.0;
	return d < -HALF_TURN ? d + 360.0 : d;
}

static double hue_mean(const struct polar *p)
{
	double sum = p->h1 + p->h2;

	if (p->c1 * p->c2 == 0.0)
		return sum;		/* the sum, not its half */
	if (fabs(p->h1 - p->h2) <= HALF_TURN)
		return sum / 2.0;
	return sum < 360.0 ? (sum + 360.0) / 2.0 : (sum - 360.0) / 2.0;
}

double km_ciede2000(struct km_lab x, struct km_lab y)
{
	struct polar p = polar_of(x, y);
	double dl = y.L - x.L, dc = p.c2 - p.c1;
	double dh = 2.0 * sqrt(p.c1 * p.c2)
		    * sin(radians(hue_difference(&p) / 2.0));
	double l = (x.L + y.L) / 2.0 - 50.0, c = (p.c1 + p.c2) / 2.0;
	double h = hue_mean(&p);
	double t = 1.0 - 0.17 * cos(radians(h - 30.0))
		   + 0.24 * cos(radians(2.0 * h))
		   + 0.32 * cos(radians(3.0 * h + 6.0))
		   - 0.20 * cos(radians(4.0 * h - 63.0));
	double bend = (h - 275.0) / 25.0;
	double turn = 60.0 * exp(-(bend * bend));	/* twice 30 degrees */
	double rc = 2.0 * sqrt(pow7(c) / (pow7(c) + pow7(25.0)));
	double sl = dl / (1.0 + 0.015 * l * l / sqrt(20.0 + l * l));
	double sc = dc / (1.0 + 0.045 * c);
	double sh = dh / (1.0 + 0.015 * c * t);

	return sqrt(sl * sl + sc * sc + sh * sh
		    - sin(radians(turn)) * rc * sc * sh);
}

int32_t km_colour_difference(uint32_t rgb_a, uint32_t rgb_b)
{
	double d = km_ciede2000(km_colour_lab(rgb_a), km_colour_lab(rgb_b));

	return (int32_t)lround(d * 1000.0);
}
