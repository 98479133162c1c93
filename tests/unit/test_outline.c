/* SPDX-License-Identifier: MIT */
/*
 * Drawings at true size: the figures on the page are millimetres, so that
 * they can be checked without a printer.  SOURCE css-values-3, section 6.2:
 * mm is an absolute unit; the rest is worked beside its check.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "feed.h"
#include "kitmuster/audit.h"
#include "kitmuster/report.h"
#include "report/outline.h"

struct sheet {
	struct km_diags *d;
	struct km_load *load;
	struct km_audit *audit;
	char text[131072];
	size_t n;
};

static struct sheet sheet;

static bool keep(void *ctx, const char *text, size_t n)
{
	struct sheet *s = ctx;

	if (s->n + n >= sizeof s->text)
		return false;
	memcpy(s->text + s->n, text, n);
	s->n += n;
	s->text[s->n] = '\0';
	return true;
}

static void draw(const char *yaml, enum km_sheet which, enum km_format f,
		 enum km_paper_size paper)
{
	struct feed feed = { .bytes = yaml, .n = strlen(yaml) };
	struct km_input in = feed_input(&feed);
	struct km_report_options o = { .paper = paper };
	struct km_sink to = { keep, &sheet };

	sheet.n = 0;
	sheet.d = km_diags_new(NULL);
	assert_non_null(sheet.d);
	assert_int_equal(km_load(&in, 1, NULL, sheet.d, &sheet.load), KM_OK);
	assert_int_equal(km_audit_run(sheet.load, NULL, sheet.d,
				      &sheet.audit), KM_OK);
	assert_int_equal(km_report(sheet.audit, which, f, &o, &to), KM_OK);
}

static int release(void **state)
{
	(void)state;
	km_audit_free(sheet.audit);
	km_load_free(sheet.load);
	km_diags_free(sheet.d);
	memset(&sheet, 0, sizeof sheet);
	return 0;
}

static void has(const char *text)
{
	if (!strstr(sheet.text, text))
		fail_msg("no '%s' in:\n%.3000s", text, sheet.text);
}

static void lacks(const char *text)
{
	if (strstr(sheet.text, text))
		fail_msg("'%s' is in the sheet", text);
}

static int times(const char *text)
{
	int n = 0;

	for (const char *p = sheet.text; (p = strstr(p, text)); p++)
		n++;
	return n;
}

#define KIT(slots) "kit:\n  id: k\n  title: Garnock 3\n  slots:\n" slots
#define BAR "    - {id: S-01, tool: tommy bar, bar: 10 mm, length: 125 mm}\n"

static void a_page_is_as_large_as_the_paper(void **state)
{
	(void)state;
	draw(KIT(BAR), KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	has("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\"");
	lacks("transform");
	release(NULL);
	draw(KIT(BAR), KM_SHEET_OUTLINE, KM_FORMAT_HTML, KM_PAPER_LETTER);
	has("@page paper{size:215.9mm 279.4mm;margin:0}");
	has("width=\"215.9mm\" height=\"279.4mm\" viewBox=\"0 0 215.9 279.4\"");
	has("<html lang=\"en-GB\">");
	has("default-src 'none'");
	has("role=\"img\"");
	lacks("<script");
	lacks("http-equiv=\"refresh");
	/* one name of a namespace, nothing that is fetched */
	assert_int_equal(times("http"), 1 + times("http-equiv"));
}

static void both_bars_are_100_mm(void **state)
{
	(void)state;
	draw(KIT(BAR), KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	has("width=\"100\" height=\"0.6\"/>");
	has("width=\"0.6\" height=\"100\"/>");
	has("print at 100 %, this bar must measure 100 mm (+-0.5)");
}

/* The numbers of the n-th path that is (not) dashed. */
static size_t path(int n, bool dashed, double *v, size_t most)
{
	const char *p = sheet.text, *d;
	size_t k = 0;

	for (;; n--) {
		bool is;

		do {
			p = strstr(p + 1, "<path");
			if (!p)
				fail_msg("too few paths");
			d = strstr(p, " d=\"") + 4;
			is = strncmp(p + 5, " stroke-dasharray", 17) == 0;
		} while (is != dashed || strncmp(p, "<path fill", 10) == 0);
		if (n == 0)
			break;
	}
	while (*d != '"' && k < most) {
		char *end;
		double x = strtod(d, &end);

		if (end == d) {
			d++;
			continue;
		}
		v[k++] = x;
		d = end;
	}
	return k;
}

static void near(double got, double want)
{
	if (fabs(got - want) > 0.0021)
		fail_msg("%.4f instead of %.4f", got, want);
}

static void a_bar_is_drawn_as_long_and_thick_as_it_is(void **state)
{
	double v[8];

	(void)state;
	draw(KIT(BAR), KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	assert_int_equal(path(0, false, v, 8), 8);
	near(v[2] - v[0], 125);
	near(v[5] - v[3], 10);
}

static void a_jaw_is_drawn_as_wide_as_it_is(void **state)
{
	double v[12];

	(void)state;
	draw(KIT("    - {id: S-01, tool: double open-ended spanner, "
		 "sizes: [8 mm, 10 mm], length: 120 mm, width: 24 mm, "
		 "angle: 0 deg}\n"),
	     KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	/* path 0 is the left head, 1 its jaw: from tip to tip, straight out */
	assert_int_equal(path(1, false, v, 12), 12);
	near(fabs(v[1] - v[11]), 8);
	near(v[0], 10);			/* the tips end where the tool does */
	near(v[10], 10);
	/* the flats reach s tan(30) / 2 = 8 x 0.57735 / 2 = 2.309 behind the
	 * middle, which lies sqrt(12^2 - 4^2) = 11.314 from the tips */
	near(v[2], 10 + 11.314 + 2.312);
	assert_int_equal(path(3, false, v, 12), 12);
	near(fabs(v[11] - v[1]), 10);
	near(v[0], 130);
}

static void a_jaw_at_15_degrees(void **state)
{
	double v[12], across, along;

	(void)state;
	draw(KIT("    - {id: S-01, tool: double open-ended spanner, "
		 "sizes: [8 mm, 10 mm], length: 120 mm, width: 24 mm}\n"),
	     KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	has("jaw angle 15 degrees (assumed)");
	assert_int_equal(path(1, false, v, 12), 12);
	across = hypot(v[10] - v[0], v[11] - v[1]);
	near(across, 8);
	along = atan2(v[3] - v[1], v[2] - v[0]) * 180 / acos(-1.0);
	assert_true(fabs(along - 15) < 0.02);
	/* the nearer tip ends where the tool does */
	near(fmin(v[0], v[10]), 10);
}

static void what_is_not_recorded_is_dashed_and_said(void **state)
{
	double v[12];

	(void)state;
	draw(KIT("    - {id: S-01, tool: ring spanner, sizes: [10 mm, 13 mm], "
		 "length: 100 mm}\n"),
	     KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	/* rings by the rule 1.5 s + 3: 18 and 22.5 mm */
	has("left head 18 mm (typical); right head 22.5 mm (typical)");
	lacks("jaw angle");
	(void)path(0, true, v, 12);
	/* the hexagon itself is known: corners 10 / sqrt(3) from its middle,
	 * 9 mm from the end of the tool */
	assert_int_equal(path(0, false, v, 12), 12);
	near(v[0], 10 + 9 + 5.774);
}

/* Length and width are recorded: the two faces, 90 mm apart, and the end where
 * both meet are solid; what lies between is habit, 4 lines above, 4 below and
 * the end of the handle. */
static void a_sketch_is_solid_at_its_extents_only(void **state)
{
	double top[4], low[4], end[4];

	(void)state;
	draw(KIT("    - {id: S-01, tool: hammer, length: 170 mm, "
		 "width: 90 mm}\n"), KM_SHEET_OUTLINE, KM_FORMAT_SVG,
	     KM_PAPER_A4);
	assert_int_equal(path(0, false, top, 4), 4);
	assert_int_equal(path(1, false, low, 4), 4);
	assert_int_equal(path(2, false, end, 4), 4);
	near(low[1] - top[1], 90);
	near(top[3], top[1]);
	near(end[3] - end[1], 90);
	near(end[0], 10);
	near(end[2], 10);
	assert_int_equal(times("stroke-dasharray"), 4 + 4 + 1);
	has("length 170 mm; width 90 mm");
	lacks("assumed)");
}

static void a_kind_without_a_shape_is_a_dashed_bar(void **state)
{
	double v[8];

	(void)state;
	draw(KIT("    - {id: S-01, tool: starting handle, length: 150 mm, "
		 "width: 100 mm}\n"), KM_SHEET_OUTLINE, KM_FORMAT_SVG,
	     KM_PAPER_A4);
	has("length 150 mm; width 100 mm; shape not drawn: a bar of that "
	    "length and width");
	assert_int_equal(path(0, true, v, 8), 8);
	near(v[2] - v[0], 150);
	near(v[5] - v[3], 100);
	release(NULL);
	draw(KIT("    - {id: S-01, tool: hammer, length: 150 mm}\n"),
	     KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	has("length 150 mm; shape not drawn: a bar of that length");
	lacks("and width");
	/* the box; the line that measures it is solid */
	assert_int_equal(times("stroke-dasharray"), 1);
}

static void an_adjustable_spanner_opens_as_recorded(void **state)
{
	double one[4], other[4];

	(void)state;
	draw(KIT("    - {id: S-01, tool: adjustable spanner, length: 155 mm, "
		 "jaw: 19 mm}\n"), KM_SHEET_OUTLINE, KM_FORMAT_SVG,
	     KM_PAPER_A4);
	assert_int_equal(path(0, false, one, 4), 4);
	assert_int_equal(path(1, false, other, 4), 4);
	near(other[1] - one[1], 19);
}

/* SOURCE wcag-2.2, 1.1.1: a drawing has a name, a description, and here all
 * of it in words. */
static void the_drawing_says_itself_in_words(void **state)
{
	(void)state;
	draw(KIT(BAR), KM_SHEET_OUTLINE, KM_FORMAT_HTML, KM_PAPER_A4);
	has("role=\"img\" aria-labelledby=\"outline-t1 outline-d1\"");
	has("<title id=\"outline-t1\">Garnock 3, page 1 of 1</title>");
	has("<desc id=\"outline-d1\">Solid lines are");
	has("<th scope=\"row\" class=\"i\">S-01</th>");
	has("<td data-head=\"length, mm\" class=\"n\">125</td>");
	has("</svg> gap</td><td data-head=\"tool and size\">tommy bar</td>");
}

static void a_tool_without_a_length_is_not_drawn(void **state)
{
	(void)state;
	draw(KIT("    - {id: S-01, tool: bulb}\n"), KM_SHEET_OUTLINE,
	     KM_FORMAT_SVG, KM_PAPER_A4);
	has("not drawn: the kit states no length");
}

static void a_long_tool_comes_in_parts(void **state)
{
	(void)state;
	/* 180 mm to a part, 10 of them shared: 170 + 170 + 60 */
	draw(KIT("    - {id: S-01, tool: tyre lever, length: 400 mm}\n"),
	     KM_SHEET_OUTLINE, KM_FORMAT_SVG, KM_PAPER_A4);
	has("part 3 of 3");
	lacks("part 4");
	has("viewBox=\"0 0 180 ");
	has("viewBox=\"170 0 180 ");
	has("viewBox=\"340 0 180 ");
	/* the mark of the first seam, 175 mm from the end, in every part */
	assert_int_equal(times("M172.5 2.6L177.5 2.6"), 3);
}

static void hostile_text_and_owners_stay_out(void **state)
{
	(void)state;
	draw("machine: {serial: 5, owner: Mrs Privet, kit: k}\n"
	     "kit:\n  id: k\n  title: \"<b>&]]>\"\n  slots:\n" BAR,
	     KM_SHEET_OUTLINE, KM_FORMAT_HTML, KM_PAPER_A4);
	has("&lt;b&gt;&amp;]]&gt;");
	lacks("<b>");
	lacks("Privet");
}

static void a_strip_of_the_jaws_wanted(void **state)
{
	double v[8];

	(void)state;
	draw(KIT("    - {id: S-02, tool: double open-ended spanner, "
		 "sizes: [13 mm, 10 mm]}\n"
		 "    - {id: S-01, tool: single open-ended spanner, "
		 "sizes: [10 mm]}\n"),
	     KM_SHEET_SIZE_STRIP, KM_FORMAT_SVG, KM_PAPER_A4);
	/* SOURCE gbt-4390-1995: 10 mm has 10.04 to 10.19 */
	assert_int_equal(path(0, false, v, 8), 8);
	near(v[2] - v[0], 10.04);
	assert_int_equal(path(1, false, v, 8), 8);
	near(v[2] - v[0], 10.19);
	/* 10.04 / 25.4 = 0.39528, 10.19 / 25.4 = 0.40118 */
	has("least 10.04 mm (0.3953 in), most 10.19 mm (0.4012 in)");
	has("for S-02, S-01");
	assert_true(strstr(sheet.text, ">10 mm<") <
		    strstr(sheet.text, ">13 mm<"));
	release(NULL);
	draw(KIT(BAR), KM_SHEET_SIZE_STRIP, KM_FORMAT_SVG, KM_PAPER_A4);
	has("No jaw is wanted.");
}

static void a_measured_bar_gives_the_percentage(void **state)
{
	(void)state;
	/* 100 x 100 / 98.5 = 101.52; / 93.5 = 106.95; / 101 = 99.01 */
	assert_int_equal(km_reprint_tenths(98500000), 1015);
	assert_int_equal(km_reprint_tenths(93500000), 1070);
	assert_int_equal(km_reprint_tenths(101000000), 990);
	assert_int_equal(km_reprint_tenths(100000000), 1000);
	assert_int_equal(km_reprint_tenths(0), 0);
	assert_int_equal(km_reprint_tenths(500000000), 0);
}

static void lines_break_at_blanks(void **state)
{
	(void)state;
	assert_int_equal(km_page_lines(NULL, "", 10, 0, 0, 0, 0), 0);
	assert_int_equal(km_page_lines(NULL, "one", 10, 0, 0, 0, 0), 1);
	assert_int_equal(km_page_lines(NULL, "one two three", 8, 0, 0, 0, 0),
			 2);
	assert_int_equal(km_page_lines(NULL, "onetwothree", 4, 0, 0, 0, 0), 3);
	/* six letters of two bytes each: never cut inside one */
	assert_int_equal(km_page_lines(NULL, "\xc3\xa4\xc3\xa4\xc3\xa4"
				       "\xc3\xa4\xc3\xa4\xc3\xa4", 5, 0, 0, 0,
				       0), 3);
}

#define T(f) cmocka_unit_test_teardown(f, release)

int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_page_is_as_large_as_the_paper),
		T(both_bars_are_100_mm),
		T(a_bar_is_drawn_as_long_and_thick_as_it_is),
		T(a_jaw_is_drawn_as_wide_as_it_is),
		T(a_jaw_at_15_degrees),
		T(what_is_not_recorded_is_dashed_and_said),
		T(a_sketch_is_solid_at_its_extents_only),
		T(a_kind_without_a_shape_is_a_dashed_bar),
		T(an_adjustable_spanner_opens_as_recorded),
		T(the_drawing_says_itself_in_words),
		T(a_tool_without_a_length_is_not_drawn),
		T(a_long_tool_comes_in_parts),
		T(hostile_text_and_owners_stay_out),
		T(a_strip_of_the_jaws_wanted),
		cmocka_unit_test(a_measured_bar_gives_the_percentage),
		cmocka_unit_test(lines_break_at_blanks),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
