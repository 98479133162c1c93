/* SPDX-License-Identifier: MIT */
/*
 * gauge - the question of the bench, without any file.
 */
#include <string.h>

#include "cli/cmds.h"
#include "trade/gauge.h"
#include "unit/length.h"

/* What is wrong with a text that is neither a size nor a length. */
static const char *const faults[KM_SIZE_FAULTS] = {
	[KM_SIZE_EMPTY] = "nothing is asked",
	[KM_SIZE_NO_NUMBER] = "no size and no length; write 13 mm, 7/16 AF, "
			      "1/4 W, 2 BA or 12.72 mm",
	[KM_SIZE_BARE_FRACTION] = "write AF, W or BS behind it; "
				  "a measure in inches as 0.525 in",
	[KM_SIZE_BARE_CROSS] = "no opening of a spanner",
	[KM_SIZE_NO_UNIT] = "millimetres or inches? write the unit",
	[KM_SIZE_LETTERS] = "letters of no system that is known",
	[KM_SIZE_NOT_LISTED] = "the system has no such size",
	[KM_SIZE_WRONG_FORM] = "no opening of a spanner",
	[KM_SIZE_PAIR] = "two sizes; ask for one at a time",
	[KM_SIZE_TWO_JAWS] = "two names that are not one jaw",
	[KM_SIZE_COMMA] = "write the decimals with a point",
	[KM_SIZE_RANGE] = "no opening of any spanner",
	[KM_SIZE_TRAILING] = "something stands behind the size",
	[KM_SIZE_TOO_MANY] = "ask for one size at a time",
};

/* A measure has a decimal point, or is a length that is no size. */
static enum km_status answer(struct km_slice text,
			     const struct km_size_book *book,
			     struct km_arena *mem, struct km_gauge *out,
			     enum km_size_fault *fault)
{
	const struct km_length_rules lengths = { .bare = KM_UNIT_NONE };
	const struct km_size_rules sizes = { .bare = KM_UNIT_NONE };
	struct km_size *size = km_arena_alloc(mem, 1, sizeof *size);
	struct km_span reading;
	bool is_length = km_reading_parse(text, &lengths, &reading) ==
			 KM_LENGTH_OK;

	if (!size)
		return KM_ENOMEM;
	if (is_length && memchr(text.p, '.', text.n))
		return km_gauge_length(reading, book, mem, out);
	*fault = km_size_parse(text, &sizes, mem, size);
	if (*fault == KM_SIZE_NO_MEMORY)
		return KM_ENOMEM;
	if (*fault == KM_SIZE_OK && size->opening.basis != KM_BASIS_NONE)
		return km_gauge_size(size, book, mem, out);
	if (is_length)
		return km_gauge_length(reading, book, mem, out);
	if (*fault == KM_SIZE_OK)
		*fault = KM_SIZE_WRONG_FORM;
	return KM_EINPUT;
}

static bool add(void *buf, const char *text, size_t n)
{
	km_buf_add(buf, text, n);
	return !km_buf_failed(buf);
}

static enum km_exit answer_one(struct km_cli *c, const char *asked,
			       const struct km_size_book *book,
			       enum km_format format, struct km_buf *page)
{
	struct km_report_options paper = km_paper(c);
	struct km_sink to = { add, page };
	enum km_size_fault fault = KM_SIZE_NO_NUMBER;
	struct km_gauge g;
	enum km_status st;

	memset(&g, 0, sizeof g);
	st = answer(km_slice_trim(km_slice_of(asked)), book, c->mem, &g, &fault);
	if (st == KM_ERANGE || st == KM_EINPUT) {
		if (st == KM_ERANGE)
			fault = KM_SIZE_RANGE;
		km_say("'%s': %s", asked,
		       faults[fault] ? faults[fault] : "no opening of a spanner");
		return KM_EXIT_WRONG;
	}
	if (st == KM_OK)
		st = km_report_gauge(&g, format, &paper, &to);
	return km_cli_exit(st == KM_EIO ? KM_ENOMEM : st, NULL);
}

static enum km_exit print(struct km_cli *c, const struct km_buf *page)
{
	struct km_output out;
	enum km_exit e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT],
					NULL, c->mem);

	if (e != KM_EXIT_GOOD)
		return e;
	km_output_write(&out, page->text, page->len);
	return km_output_close(&out);
}

static bool choose(struct km_cli *c, enum km_format *format)
{
	if (!km_choose_format(c, format) || !km_choose_colour(c))
		return false;
	if (*format != KM_FORMAT_TEXT && *format != KM_FORMAT_JSON) {
		km_say("gauge has no format '%s'; it has text, json",
		       km_format_word(*format));
		return false;
	}
	if (*format == KM_FORMAT_JSON && c->n_operands > 1) {
		km_say("in json, ask for one size or length a run");
		return false;
	}
	return true;
}

/* Nothing is printed unless everything that is asked has an answer. */
enum km_exit km_cmd_gauge(struct km_cli *c)
{
	struct km_size_book book;
	enum km_format format;
	enum km_exit e = KM_EXIT_GOOD;
	struct km_buf page;

	if (!choose(c, &format))
		return KM_EXIT_WRONG;
	if (!km_size_book_init(&book, c->mem))
		return km_cli_exit(KM_ENOMEM, NULL);
	km_buf_init(&page, c->mem);
	for (uint32_t i = 0; i < c->n_operands && e == KM_EXIT_GOOD; i++) {
		if (i > 0)
			km_buf_char(&page, '\n');
		e = answer_one(c, c->operands[i], &book, format, &page);
	}
	return e == KM_EXIT_GOOD ? print(c, &page) : e;
}
